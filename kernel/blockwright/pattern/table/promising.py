"""What a block promises of its pieces: the promises of the drafting table."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

from blockwright.curves.point import Point, PointLike, as_point
from blockwright.errors import PatternError
from blockwright.pattern.pattern import Promise
from blockwright.pattern.piece import Edge, Piece, Way, missing
from blockwright.pattern.promises.corner import CornerAngle as CornerPromise
from blockwright.pattern.promises.girth import Across, FinishedLength, Girth
from blockwright.pattern.promises.level import Level
from blockwright.pattern.promises.seam import Seam, Stretch
from blockwright.pattern.promises.shape import EdgeShape as Shape
from blockwright.pattern.promises.through import Through
from blockwright.pattern.promises.twin import Twin
from blockwright.pattern.promises.unsewn import HOW, How, Unsewn
from blockwright.pattern.ref import Mark, Ref
from blockwright.pattern.results import Range
from blockwright.pattern.table.amounts import amount, ease_range
from blockwright.pattern.table.balancing import balanced
from blockwright.pattern.table.resolve import Corner, Resolver, Spanned
from blockwright.pattern.walk import Step
from blockwright.spelling import what_is


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
        stretches: Stretch | Iterable[Stretch] = (),
        last: float | Range | None = None,
        shaped: bool = False,
        over: bool = False,
    ) -> None:
        """Promise that run `a` is sewn to run `b`, both walked from the same end.

        A run is an edge (or its name), `-edge` for one walked backwards, a `Given` or `Taken`
        length, or several in order: darts between them are closed, and a run may go on over a
        promised seam, on another piece or another copy of this one.  "-side" is the edge "side"
        walked backwards.  `a` is longer by `ease` mm, one number or a range, held to 0.1 mm.
        `stretches` are the notches that must meet, in order, with the ease up to each; `last` is
        the ease after the last.  `shaped` states that the sides bend differently on purpose, as a
        cap and its armhole or the two sides of a princess seam do.  `over` states that it is sewn
        over a seam that is there already, as a folded binding is.  The proof prints both.

        It breaks, too, at a notch that a run has not, or that has other ticks.  It breaks for
        copies that cannot come together: of a piece cut once that is sewn twice, or of pieces that
        would have to be mirrored and are not.  Raises PatternError for an ease that is no number or
        range, or a range upside down; the proof does for edges that do not follow one another.

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
        said = f"of seam {name!r}"
        runs = self._ref.run(a), self._ref.run(b)
        if not all(runs):
            raise PatternError(f"a side {said} is empty; give an edge, or several in order")
        rest = None if last is None else ease_range(f"last {said}", last)
        self._promises.append(
            Seam(
                self._ref(name),
                *runs,
                ease_range(f"ease {said}", ease),
                _stretches(said, stretches),
                rest,
                shaped,
                over,
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
            >>> d.unsewn(neck, "left open")
            >>> prove(d.pattern()).held
            True
        """
        self._promises.append(Twin(self._ref(name), self._ref(edge)))

    def balance(self, seam: str, *, every: float = 400.0) -> None:
        """Put matching notches on both sides of a promised seam, none further apart than `every`.

        `seam` is the name of a seam that is promised already, and `every` is in mm.  Each stretch
        between the notches that the seam names is parted into equal shares, on one side as on the
        other, so its ease is spread evenly.  The seam then promises each share, to 0.1 mm.  The
        notches are called 'SEAM balance 1' and so on.  One is left out within 15 mm of an end of an
        edge, of a dart or of another notch.  40 cm is common practice, no source.

        Raises PatternError if no seam of that name is promised, if `every` is not more than 30 mm,
        and if a side of the seam is not drawn here or goes over an edge more than once.

        Example:
            >>> from blockwright import Draft, Edge, Point, line, prove
            >>> at = [Point(0, 0), Point(200, 0), Point(200, 900), Point(0, 900), Point(0, 0)]
            >>> sides = [("hem", "hem"), ("right", "seam"), ("top", "hem"), ("left", "seam")]
            >>> ends = zip(sides, at, at[1:])
            >>> edges = [Edge(name, line(a, b), role) for (name, role), a, b in ends]
            >>> d = Draft("test.panel", "Panel")
            >>> panel = d.piece("panel", edges, cut=4)
            >>> d.seam("side", edges[1], -edges[3])
            >>> d.balance("side")
            >>> notches = d.pattern().pieces[0].notches
            >>> [(n.name, n.edge, round(n.along)) for n in notches[:2]]
            [('side balance 1', 'right', 300), ('side balance 1', 'left', 600)]
            >>> prove(d.pattern()).held
            True
        """
        promised = {each.name: i for i, each in enumerate(self._promises) if type(each) is Seam}
        if seam not in promised:
            raise missing(f"{self._ref.block}, so far,", "seam", seam, [*promised])
        i = promised[seam]
        owners = {
            self._ref(edge): replace(piece, block=self._ref.block)
            for piece in self._pieces.values()
            for edge in piece.edges
        }
        promise = self._promises[i]
        assert isinstance(promise, Seam)
        self._promises[i], notched = balanced(promise, owners, every)
        self._pieces |= {piece.name: replace(piece, block="") for piece in notched}

    def unsewn(self, edges: Step | Iterable[Step], how: How) -> None:
        """State that nothing is sewn to these edges: they are 'bound', 'faced' or 'left open'.

        Every other edge of role 'seam', 'armhole', 'neck' or 'waist' needs a partner: a seam, a
        twin, or a block that takes it.  A block may still take an edge that is stated here, and a
        seam may sew some of its copies.  Raises PatternError for any other word, and for a fold.

        Example:
            >>> from blockwright import Draft, Edge, Point, line, polyline
            >>> waist = Edge("waist", line(Point(200, 300), Point(0, 300)), "waist")
            >>> d = Draft("test.apron", "Apron")
            >>> rest = Edge("hem", polyline([Point(0, 300), Point(0, 0), Point(200, 300)]), "hem")
            >>> _ = d.piece("apron", [waist, rest])
            >>> d.unsewn(waist, "bound")
            >>> d.pattern().promises[0].how
            'bound'
        """
        if how not in HOW:
            raise PatternError(f"an unsewn edge is {how!r}; say one of {', '.join(HOW)}")
        for step in self._ref.run(edges):
            if not isinstance(step, Way):
                raise PatternError(f"{what_is(step)} is no edge; give an edge or its name")
            drawn = (edge for piece in self._pieces.values() for edge in piece.edges)
            if any(edge.name == step.edge.name and edge.role == "fold" for edge in drawn):
                raise PatternError(
                    f"edge {step.edge.name!r} is a fold, so it cannot be {how}; change its role"
                )
            self._promises.append(Unsewn(step.edge, step.edge, how))

    def corner(self, name: str, *corners: Corner, angle: float | Range = 180.0) -> None:
        """Promise that corners coming together when sewn add up to `angle` degrees.

        An angle that is neither smooth (180) nor square (90) is printed in the proof as stated; it
        may be a range, (least, greatest).

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
        wanted = ease_range(f"angle of corner {name!r}", angle, "degrees")
        self._promises.append(CornerPromise(self._ref(name), joints, wanted))

    def level(self, name: str, edge: Edge | str, at: PointLike, *, within: float) -> None:
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
        mark = as_point(at, f"level {name!r}: at")
        place = Point(mark.x, mark.y)  # bare, where it is a mark
        within = amount(f"within of level {name!r}", within, "degrees")
        self._promises.append(Level(self._ref(name), self._ref(edge), place, within))

    def through(
        self, name: str, edge: Edge | str, marks: Mark | str | Iterable[Mark | str]
    ) -> None:
        """Promise that an edge passes through its marks, one or more, within 0.01 mm.

        They are marks of the draft (`mark`, `keep`), or their names.  Raises PatternError where
        there is none, and for a place that is no mark; the proof does for a mark that is not on
        the draft.

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
        kept = (marks,) if isinstance(marks, Point | str) else tuple(marks)
        if not kept:
            raise PatternError(f"through {name!r} names no mark; give one or more")
        for mark in kept:
            if not isinstance(mark, Mark | str):
                raise PatternError(
                    f"through {name!r}: {what_is(mark)} is no mark; put it on the draft with "
                    "d.mark(name, at, rule) and give that"
                )
        refs = tuple(self._ref(mark if isinstance(mark, str) else mark.name) for mark in kept)
        self._promises.append(Through(self._ref(name), self._ref(edge), refs))

    def shape(
        self, name: str, edge: Edge | str, *, bends: int, toward: PointLike | None = None
    ) -> None:
        """Promise that an edge changes from hollow to full `bends` times.

        Counted either way, at twelve places on each of its pieces.  With `toward`, a direction
        of any length, that it never runs against that direction either, turning from it by more
        than 90 degrees: no hook, no overhang.  Raises PatternError for a direction of no length.

        Example:
            >>> from blockwright import Draft, Edge, Point, fair_curve, polyline, prove
            >>> marks = [Point(0, 0), Point(50, -10), Point(150, 10), Point(200, 0)]
            >>> hem = Edge("hem", fair_curve(marks), "hem")
            >>> rest = Edge("rest", polyline([Point(200, 0), Point(200, 300), Point(0, 0)]), "hem")
            >>> d = Draft("test.wedge", "Wedge")
            >>> grain = (Point(180, 20), Point(180, 250))
            >>> wedge = d.piece("wedge", [hem, rest], grain=grain, label_at=Point(150, 80))
            >>> d.shape("hem", hem, bends=1, toward=Point(1, 0))
            >>> prove(d.pattern()).held
            True
        """
        if type(bends) is not int or bends < 0:
            raise PatternError(f"bends of shape {name!r} is {bends!r}; give a whole number from 0")
        way = None if toward is None else _way(name, as_point(toward, f"shape {name!r}: toward"))
        self._promises.append(Shape(self._ref(name), self._ref(edge), bends, way))

    def girth(
        self,
        name: str,
        *,
        body: float,
        ease: float | Range,
        runs: Step | Iterable[Step | Sequence[Step]] = (),
        spans: Spanned | Iterable[Spanned] = (),
        levels: Across | Iterable[Across] = (),
        times: int = 1,
        asked: bool = True,
    ) -> None:
        """Promise a finished width: `body` plus `ease`, mm; the ease one number or a range.

        It is measured over runs of edges (as in `seam`), spans (from one corner, as in `corner`, to
        another in a straight line) and levels across pieces (`Across`), all added up and
        counted `times` times (2 where half a body is drawn).  One run, span or level needs no
        list.  Held to 0.1 mm; 'not found' when
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
        runs: Step | Iterable[Step | Sequence[Step]] = (),
        spans: Spanned | Iterable[Spanned] = (),
        levels: Across | Iterable[Across] = (),
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
        runs: Step | Iterable[Step | Sequence[Step]], spans: Spanned | Iterable[Spanned],
        levels: Across | Iterable[Across], times: int, asked: bool,
    ) -> None:  # fmt: skip
        word, what = ("girth", "body") if kind is Girth else ("measure", "length")
        said = f"of {word} {name!r}"
        if type(times) is not int or times < 1:
            raise PatternError(f"times {said} is {times!r}; give a whole number from 1")
        self._promises.append(
            kind(
                self._ref(name), amount(f"{what} {said}", body), ease_range(f"ease {said}", ease),
                self._ref.runs(runs), self._ref.spans(spans), self._ref.levels(levels),
                times, asked,
            )
        )  # fmt: skip


def _stretches(said: str, stretches: Stretch | Iterable[Stretch]) -> tuple[Stretch, ...]:
    every = (stretches,) if isinstance(stretches, Stretch) else tuple(stretches)
    for each in every:
        if not isinstance(each, Stretch):
            raise PatternError(f"a stretch {said} is {what_is(each)}; give Stretch(notch, ease)")
    return tuple(
        Stretch(each.to, ease_range(f"ease {said} up to {each.to!r}", each.ease)) for each in every
    )


def _way(name: str, toward: Point) -> Point:
    if not 0.0 < abs(toward) < float("inf"):
        raise PatternError(
            f"shape {name!r} is toward ({toward.x:g}, {toward.y:g}), which points nowhere; "
            "give a direction"
        )
    return Point(toward.x, toward.y)  # bare, where it is a mark
