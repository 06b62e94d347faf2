"""What a block promises of its pieces: the promises of the drafting table."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

from blockwright.curves.point import Point
from blockwright.errors import PatternError
from blockwright.pattern.pattern import Promise
from blockwright.pattern.piece import Edge, Piece
from blockwright.pattern.promises.corner import CornerAngle as CornerPromise
from blockwright.pattern.promises.girth import Across, FinishedLength, Girth, Span
from blockwright.pattern.promises.level import Level
from blockwright.pattern.promises.seam import Seam, Stretch
from blockwright.pattern.promises.shape import EdgeShape as Shape
from blockwright.pattern.promises.through import Through
from blockwright.pattern.promises.twin import Twin
from blockwright.pattern.ref import Mark, Ref
from blockwright.pattern.results import Range
from blockwright.pattern.table.resolve import Corner, Resolver
from blockwright.pattern.walk import Step


class Promising:
    """The part of `Draft` that writes promises down; authors meet it there."""

    def __init__(self, block: str) -> None:
        """`block` is the key of the block that promises."""
        self._pieces: dict[str, Piece] = {}
        self._ref = Resolver(block, lambda: self._pieces)
        self._promises: list[Promise] = []

    def ref(self, name: Edge | str) -> Ref:
        """The identity of an edge, or of anything else of this block by its name.

        For a `Promise` of a kind of your own.

        Example:
            >>> from blockwright import Draft
            >>> Draft("test.hood", "Hood").ref("crown seam")
            Ref(block='test.hood', name='crown seam')
        """
        return self._ref(name)

    def promise(self, promise: Promise) -> None:
        """Promise what a kind of your own says.  Raises PatternError for what is no promise.

        Example:
            >>> from blockwright import Draft, PatternError
            >>> try:
            ...     Draft("test.hood", "Hood").promise("it fits")
            ... except PatternError as error:
            ...     print(error)
            'it fits' is no promise; give a value whose class has Promise as its base
        """
        if not isinstance(promise, Promise):
            raise PatternError(
                f"{promise!r} is no promise; give a value whose class has Promise as its base"
            )
        self._promises.append(promise)

    def seam(
        self,
        name: str,
        a: Step | Sequence[Step],
        b: Step | Sequence[Step],
        *,
        ease: float | Range = 0.0,
        stretches: Iterable[Stretch] = (),
        last: float | Range | None = None,
    ) -> None:
        """Promise that run `a` is sewn to run `b`, both walked from the same end.

        A run is an edge (or its name), `-edge` for one walked backwards, a `Given` or `Taken`
        length, or several in order: darts between them are closed, and a run may go on over a
        promised seam, on another piece or another copy of this one.  `a` is longer by `ease` mm,
        one number or a range, `math.inf` for no end of it, held to 0.1 mm.  `stretches` are the
        notches that must meet, in order, with the ease up to each; `last` is the ease after the
        last.  What breaks it, too: a notch that a run has not, or has other ticks; and copies
        that cannot come together, of a piece cut once that is sewn twice, or of pieces that would
        have to be mirrored and are not.  Raises PatternError for a range upside down; the proof
        does for edges that do not follow one another.

        Example:
            >>> from blockwright import Draft, Edge, Given, Point, line, polyline, prove
            >>> cap = Edge("cap", line(Point(440, 0), Point(0, 0)))
            >>> rest = Edge("rest", polyline([Point(0, 0), Point(220, -200), Point(440, 0)]))
            >>> d = Draft("test.sleeve", "Sleeve")
            >>> grain = (Point(220, -150), Point(220, -20))
            >>> sleeve = d.piece("sleeve", [cap, rest], grain=grain, label_at=Point(200, -80))
            >>> d.seam("cap to armhole", cap, Given("armhole", 415.0), ease=(20.0, 30.0))
            >>> round(prove(d.pattern()).results[-1].measured, 1)
            25.0
        """
        rest = None if last is None else _range(last)
        self._promises.append(
            Seam(
                self._ref(name),
                self._ref.run(a),
                self._ref.run(b),
                _range(ease),
                tuple(stretches),
                rest,
            )
        )

    def twin(self, name: str, edge: Edge | str) -> None:
        """Promise that an edge is sewn to the same edge of the other copy of its piece.

        A centre seam of a piece cut twice: the piece is cut in mirrored pairs, or on the fold.
        How the seam's ends run on is promised with `corner`: 90 degrees on one copy are a smooth
        line over both.

        Example:
            >>> from blockwright import Draft, Edge, Point, line, polyline, prove
            >>> d = Draft("test.hood", "Hood")
            >>> face = Edge("face", line(Point(0, 0), Point(0, 300)), "hem")
            >>> crown = Edge("crown", polyline([Point(0, 300), Point(-250, 300), Point(-250, 0)]))
            >>> neck = Edge("neck", line(Point(-250, 0), Point(0, 0)), "neck")
            >>> grain = (Point(-100, 50), Point(-100, 250))
            >>> _ = d.piece(
            ...     "hood", [face, crown, neck], grain=grain, label_at=Point(-60, 150),
            ...     cut=2, mirrored=True,
            ... )
            >>> d.twin("crown seam", crown)
            >>> prove(d.pattern()).held
            True
        """
        self._promises.append(Twin(self._ref(name), self._ref(edge)))

    def corner(self, name: str, *corners: Corner, angle: float = 180.0) -> None:
        """Promise that corners coming together when sewn add up to `angle` degrees.

        Each is two edges, or their names, in the order of the outline, with or without a dart
        between them, which is closed first; or a dart that is in an edge, drawn already.  Its
        angle is measured inside the piece.  Held to half
        a degree: 180 runs on smoothly, 90 is square to a fold.  Six copies that meet in a point
        are one corner six times, 360 in all.  Edges that do not follow each other, and a corner
        named more often than it is cut, are 'not found'.

        Example:
            >>> from blockwright import Draft, Edge, Point, line, polyline, prove
            >>> hem = Edge("hem", line(Point(0, 0), Point(200, 0)), "hem")
            >>> rest = Edge("rest", polyline([Point(200, 0), Point(200, 300), Point(0, 0)]))
            >>> d = Draft("test.wedge", "Wedge")
            >>> grain = (Point(180, 20), Point(180, 250))
            >>> wedge = d.piece("wedge", [hem, rest], grain=grain, label_at=Point(150, 80))
            >>> d.corner("hem at the side", ("hem", "rest"), angle=90.0)
            >>> round(prove(d.pattern()).results[-1].measured, 1)
            90.0
        """
        joints = tuple(self._ref.joint(corner) for corner in corners)
        self._promises.append(CornerPromise(self._ref(name), joints, angle))

    def level(self, name: str, edge: Edge | str, at: Point, *, within: float) -> None:
        """Promise that an edge is level (square to the grain) at a place, `within` degrees.

        It is looked at where it is nearest to `at`; either way along it will do.

        Example:
            >>> from blockwright import Draft, Edge, Point, line, polyline, prove
            >>> hem = Edge("hem", line(Point(0, 0), Point(200, 4)), "hem")
            >>> rest = Edge("rest", polyline([Point(200, 4), Point(200, 300), Point(0, 0)]))
            >>> d = Draft("test.wedge", "Wedge")
            >>> grain = (Point(180, 20), Point(180, 250))
            >>> wedge = d.piece("wedge", [hem, rest], grain=grain, label_at=Point(150, 80))
            >>> d.level("hem", hem, Point(100, 0), within=2.0)
            >>> round(prove(d.pattern()).results[-1].measured, 2)
            1.15
        """
        place = Point(at.x, at.y)  # bare, where it is a mark
        self._promises.append(Level(self._ref(name), self._ref(edge), place, within))

    def through(self, name: str, edge: Edge | str, marks: Iterable[Mark]) -> None:
        """Promise that an edge passes through its marks, one or more, within 0.01 mm.

        They are marks of the draft (`mark`, `keep`).  Raises PatternError where there is none; the
        proof does for one that is not on the draft.

        Example:
            >>> from blockwright import Draft, Edge, Point, fair_curve, polyline, prove
            >>> d = Draft("test.wedge", "Wedge")
            >>> dip = d.mark("dip", Point(100, -5), "half way along the hem, 5 mm down")
            >>> hem = Edge("hem", fair_curve([Point(0, 0), dip, Point(200, 0)]), "hem")
            >>> rest = Edge("rest", polyline([Point(200, 0), Point(200, 300), Point(0, 0)]))
            >>> grain = (Point(180, 20), Point(180, 250))
            >>> wedge = d.piece("wedge", [hem, rest], grain=grain, label_at=Point(150, 80))
            >>> d.through("hem", hem, [dip])
            >>> round(prove(d.pattern()).results[-1].measured, 3)
            0.0
        """
        kept = tuple(marks)
        if not kept:
            raise PatternError(f"through {name!r} names no mark; give one or more")
        refs = tuple(self._ref(mark.name) for mark in kept)
        self._promises.append(Through(self._ref(name), self._ref(edge), refs))

    def shape(
        self, name: str, edge: Edge | str, *, bends: int, toward: Point | None = None
    ) -> None:
        """Promise that an edge changes from hollow to full `bends` times.

        Counted either way, at twelve places on each of its pieces.  With `toward`, a direction
        of any length, that it never runs against that direction either, turning from it by more
        than 90 degrees: no hook, no overhang.  Raises PatternError for a direction of no length.

        Example:
            >>> from blockwright import Draft, Edge, Point, fair_curve, polyline, prove
            >>> marks = [Point(0, 0), Point(50, -10), Point(150, 10), Point(200, 0)]
            >>> hem = Edge("hem", fair_curve(marks), "hem")
            >>> rest = Edge("rest", polyline([Point(200, 0), Point(200, 300), Point(0, 0)]))
            >>> d = Draft("test.wedge", "Wedge")
            >>> grain = (Point(180, 20), Point(180, 250))
            >>> wedge = d.piece("wedge", [hem, rest], grain=grain, label_at=Point(150, 80))
            >>> d.shape("hem", hem, bends=1, toward=Point(1, 0))
            >>> prove(d.pattern()).held
            True
        """
        if toward is not None and not 0.0 < abs(toward) < math.inf:
            raise PatternError(
                f"shape {name!r} is toward ({toward.x:g}, {toward.y:g}), which points nowhere; "
                "give a direction"
            )
        self._promises.append(
            Shape(self._ref(name), self._ref(edge), bends, toward and Point(toward.x, toward.y))
        )

    def girth(
        self,
        name: str,
        *,
        body: float,
        ease: float | Range,
        runs: Iterable[Step | Sequence[Step]] = (),
        spans: Iterable[tuple[Corner, Corner]] = (),
        levels: Iterable[Across] = (),
        times: int = 1,
        asked: bool = True,
    ) -> None:
        """Promise a finished width: `body` plus `ease`, mm; the ease one number or a range.

        It is measured over runs of edges (as in `seam`), spans (from one corner, as in `corner`, to
        another in a straight line) and levels across pieces (`Across`), all added up and
        counted `times` times (2 where half a body is drawn).  Held to 0.1 mm; 'not found' when
        it counts a piece more often than it is cut, a piece on a fold being two halves.  `asked`:
        it is what the maker asked for, and grows where a change lets in cloth; give False for what
        the body needs, which never moves.

        Example:
            >>> from blockwright import Draft, Edge, Point, line, polyline, prove
            >>> hem = Edge("hem", line(Point(0, 0), Point(240, 0)), "hem")
            >>> rest = Edge("rest", polyline([Point(240, 0), Point(240, 300), Point(0, 0)]))
            >>> d = Draft("test.wedge", "Wedge")
            >>> grain = (Point(220, 20), Point(220, 250))
            >>> wedge = d.piece("wedge", [hem, rest], grain=grain, label_at=Point(180, 80), cut=4)
            >>> d.girth("hip", runs=[hem], body=920.0, ease=40.0, times=4)
            >>> round(prove(d.pattern()).results[-1].measured, 1)
            960.0
        """
        self._size(Girth, name, body, ease, runs, spans, levels, times, asked)

    def measure(
        self,
        name: str,
        *,
        length: float,
        ease: float | Range = 0.0,
        runs: Iterable[Step | Sequence[Step]] = (),
        spans: Iterable[tuple[Corner, Corner]] = (),
        levels: Iterable[Across] = (),
        times: int = 1,
        asked: bool = True,
    ) -> None:
        """Promise a finished length that goes round nothing: `length` plus `ease`, mm.

        A sleeve length, a centre back.  The rest is as in `girth`, which is for widths round the
        body; a proof says 'length' where it says 'girth' there.

        Example:
            >>> from blockwright import Draft, Edge, Point, line, polyline, prove
            >>> side = Edge("side", line(Point(240, 0), Point(240, 300)))
            >>> rest = Edge("rest", polyline([Point(240, 300), Point(0, 0), Point(240, 0)]))
            >>> d = Draft("test.wedge", "Wedge")
            >>> wedge = d.piece("wedge", [side, rest])
            >>> d.measure("side length", length=300.0, runs=[side])
            >>> proof = prove(d.pattern())
            >>> proof.say(proof.results[-1]), round(proof.results[-1].measured, 1)
            ('measure: side length', 300.0)
        """
        self._size(FinishedLength, name, length, ease, runs, spans, levels, times, asked)

    def _size(
        self, kind: type[Girth], name: str, body: float, ease: float | Range,
        runs: Iterable[Step | Sequence[Step]], spans: Iterable[tuple[Corner, Corner]],
        levels: Iterable[Across], times: int, asked: bool,
    ) -> None:  # fmt: skip
        self._promises.append(
            kind(
                self._ref(name), body, _range(ease),
                tuple(self._ref.run(each) for each in runs),
                tuple(Span(self._ref.joint(a), self._ref.joint(b)) for a, b in spans),
                self._ref.levels(levels), times, asked,
            )
        )  # fmt: skip


def _range(ease: float | Range) -> Range:
    low, high = ease if isinstance(ease, tuple) else (ease, ease)
    if not low <= high:
        raise PatternError(f"ease ({low:g}, {high:g}) is upside down; write the least first")
    return low, high
