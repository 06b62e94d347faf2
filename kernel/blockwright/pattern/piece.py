"""Pieces of a block: outlines of named edges, with darts, notches, grain and guide lines."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Literal, TypeVar, get_args

from blockwright.curves.affine import Affine
from blockwright.curves.curve import Curve
from blockwright.curves.point import Point, PointLike, as_point, distance
from blockwright.errors import PatternError
from blockwright.pattern import tolerance
from blockwright.pattern.ref import Ref
from blockwright.pattern.shown import Shown
from blockwright.spelling import did_you_mean, what_is

Role = Literal["seam", "armhole", "neck", "waist", "hem", "fold", "dart"]
"""What an edge is.  The edge of role 'dart' is the mouth of a dart, folded away when sewn."""
ROLES: tuple[str, ...] = get_args(Role)


def labelled(word: str, name: str) -> str:
    """A name as people read it: after the word of its block, unless it is that word."""
    return name if not word or name == word else f"{word} {name}"


def missing(where: str, what: str, name: str, known: Sequence[str]) -> PatternError:
    """The error for a name that is not there.  It gives the nearest name, then all names."""
    near = did_you_mean(name, known)
    has = "It has" if near else "it has"
    return PatternError(
        f"{where} has no {what} {name!r}{near or ';'} {has} {', '.join(map(repr, known)) or 'none'}"
    )


@dataclass(frozen=True, slots=True)
class Edge:
    """A named edge of a piece's outline.  It runs counter-clockwise round the piece.

    Promises speak of edges by name, so a name is unique in a block.  An edge with a dart in it is
    two stretches of the same name, with the mouth of the dart between them.  `-edge` is the edge
    walked backwards.  `role` decides allowance and corners: 'seam', 'armhole', 'neck', 'waist',
    'hem', 'fold', or 'dart' for the mouth of a dart.  `Draft.piece` checks the role.

    Example:
        >>> from blockwright import Edge, Point, line
        >>> side = Edge("side", line(Point(200, 0), Point(200, 300)))
        >>> round(side.curve.length, 1), side.role, (-side).forward
        (300.0, 'seam', False)
    """

    name: str
    curve: Curve
    role: Role = "seam"

    def __neg__(self) -> Way:
        return Way(Ref("", self.name), forward=False)

    def __pos__(self) -> Way:
        return Way(Ref("", self.name), forward=True)


@dataclass(frozen=True, slots=True)
class Way:
    """An edge with all its stretches, and the way it is walked.

    An edge with no block belongs to the block that speaks of it.

    Example:
        >>> from blockwright import Ref, Way
        >>> side = Way(Ref("skirt.plain", "side"))
        >>> (-side).forward, -(-side) == side
        (False, True)
    """

    edge: Ref
    forward: bool = True

    def __neg__(self) -> Way:
        return Way(self.edge, not self.forward)


@dataclass(frozen=True, slots=True)
class Given:
    """A known length, for a seam whose other side is not drafted here.

    It stands for a run of edges in `Draft.seam`.  `length` is in mm.  `notches` gives the distance
    of each notch from the start, mm, as the seam is walked.  The proof prints its `name`.

    Example:
        >>> from blockwright import Given
        >>> armhole = Given("front armhole", 212.0, {"front notch": 95.0})
        >>> armhole.length - armhole.notches["front notch"]
        117.0
    """

    name: str
    length: float
    notches: Mapping[str, float] = field(default_factory=dict)

    def __neg__(self) -> Given:
        return replace(self, notches=_turned(self.notches, self.length))


def _turned(notches: Mapping[str, float], length: float) -> dict[str, float]:
    """The same notches from the other end."""
    return {name: length - along for name, along in notches.items()}


Run = tuple[Way | Given, ...]
"""Edges and given lengths, walked one after the other."""


def edge_name(edge: Edge | str) -> str:
    """The name of an edge that is given as an edge or by name.  Raises PatternError otherwise."""
    if isinstance(edge, Edge | str):
        return edge if isinstance(edge, str) else edge.name
    raise PatternError(f"{what_is(edge)} is no edge; give an edge or its name")


@dataclass(frozen=True, slots=True)
class Taken:
    """A run of edges of another block that this block is sewn to, measured on that block.

    `length` is in mm along `run`.  `notches` gives the distance of each notch from its start, mm.
    `block` is the key of the other block.  `Draft.offers` makes it, `Draft.taken` hands it out and
    `Draft.seam` takes it as a run.  With a minus before it, it is walked from its other end.

    Example:
        >>> from blockwright import Draft, Edge, Point, line, polyline
        >>> armhole = Edge("armhole", line(Point(200, 0), Point(200, 300)), "armhole")
        >>> rest = Edge("rest", polyline([Point(200, 300), Point(0, 0), Point(200, 0)]))
        >>> d, grain = Draft("test.bodice", "Bodice"), (Point(180, 20), Point(180, 250))
        >>> front = d.piece("front", [armhole, rest], grain=grain, label_at=Point(150, 80))
        >>> d.offer("armhole", -armhole)
        >>> sleeve = Draft("test.sleeve", "Sleeve", taken=d.offers())
        >>> taken = sleeve.taken("armhole")
        >>> round(taken.length, 1), taken.block
        (300.0, 'test.bodice')
    """

    name: str
    run: Run
    length: float
    notches: Mapping[str, float]
    block: str

    def __neg__(self) -> Taken:
        run = tuple(-step for step in reversed(self.run))
        return replace(self, run=run, notches=_turned(self.notches, self.length))


@dataclass(frozen=True, slots=True, init=False)
class Notch:
    """A mark on an edge, `along` mm from the start of the edge with its darts closed.

    The edge is given by its name or as the edge itself; its name is kept.  It has `count` ticks
    side by side.  Seams name it in their stretches.  `Draft.piece` checks that it lies on the edge.
    Raises PatternError for what is no edge.

    Example:
        >>> from blockwright import Edge, Notch, Point, line
        >>> side = Edge("side", line(Point(200, 0), Point(200, 300)))
        >>> knee = Notch("knee", side, 120.0)
        >>> round(side.curve.point_at(knee.along).y, 1)
        120.0
    """

    name: str
    edge: str
    along: float
    count: int

    def __init__(self, name: str, edge: Edge | str, along: float, count: int = 1) -> None:
        _fill(self, name=name, edge=edge_name(edge), along=along, count=count)


@dataclass(frozen=True, slots=True, init=False)
class Dart:
    """Cloth that is folded away, from a mouth on the outline to the apex.

    `mouth` is the edge of role 'dart' between the two legs, or its name, which is kept.  Its ends
    are the outer ends of the legs.  `pressed` says over which leg the fold is laid: the one at the
    'start' or at the 'end' of the mouth.  `says` tells that in words for the label, such as
    'pressed down'.  `apex` is in mm.  Raises PatternError for what is no place or no edge.

    Example:
        >>> from blockwright import Dart, Edge, Piece, Point, distance, polyline
        >>> tip, a, b = Point(100, 200), Point(110, 300), Point(90, 300)
        >>> mouth = Edge("mouth", polyline([a, b]), "dart")
        >>> rest = Edge("rest", polyline([b, Point(0, 300), Point(0, 0), Point(200, 300), a]))
        >>> dart = Dart("waist dart", tip, "mouth", "end", "pressed to the centre")
        >>> grain, label_at = (Point(50, 100), Point(50, 250)), Point(80, 250)
        >>> front = Piece("front", (mouth, rest), grain, label_at, darts=(dart,))
        >>> [round(distance(tip, leg), 2) for leg in front.dart_legs(dart)]
        [100.5, 100.5]
    """

    name: str
    apex: Point
    mouth: str
    pressed: Literal["start", "end"]
    says: str

    def __init__(
        self,
        name: str,
        apex: PointLike,
        mouth: Edge | str,
        pressed: Literal["start", "end"],
        says: str,
    ) -> None:
        place = as_point(apex, f"the apex of dart {name!r}")
        _fill(self, name=name, apex=place, mouth=edge_name(mouth), pressed=pressed, says=says)


_Named = TypeVar("_Named", Notch, Dart)


@dataclass(frozen=True, slots=True)
class Guide:
    """A line inside the piece that guides the maker and is not cut, such as a bicep line.

    Example:
        >>> from blockwright import Guide, Point, line
        >>> bicep = Guide("bicep line", line(Point(0, 300), Point(320, 300)))
        >>> round(bicep.curve.length, 1)
        320.0
    """

    name: str
    curve: Curve


@dataclass(frozen=True, slots=True, init=False)
class Note:
    """A few words inside the piece, such as 'front'.  Their middle is at `at`, mm.

    Raises PatternError for what is no place.

    Example:
        >>> from blockwright import Note, Point
        >>> Note(Point(250, 120), "front").words
        'front'
    """

    at: Point
    words: str

    def __init__(self, at: PointLike, words: str) -> None:
        _fill(self, at=as_point(at, "the place of a note"), words=words)


def _fill(value: object, **fields: object) -> None:
    """Set the fields of a frozen value that is being made."""
    for name, given in fields.items():
        object.__setattr__(value, name, given)


@dataclass(frozen=True, slots=True)
class Piece(Shown):
    """One piece of cloth, without seam allowance.

    `edges` run counter-clockwise and close.  `grain` is a line along the lengthwise thread, from
    its lower to its upper end.  `label_at` is the middle of the label.  `cut` pieces of cloth are
    cut.  With `mirrored`, half of them are cut the other way up.  Places are in mm, y up.  `name`
    is the name of the piece in the block of key `block`.  In a set, labels have `word` before the
    name.  Nothing is checked here: `Draft.piece` checks the names and the proof the outline.

    Example:
        >>> from blockwright import Edge, Piece, Point, polyline, signed_area
        >>> hem = Edge("hem", polyline([Point(0, 0), Point(200, 0)]), "hem")
        >>> rest = Edge("rest", polyline([Point(200, 0), Point(200, 300), Point(0, 0)]))
        >>> grain, label_at = (Point(180, 20), Point(180, 250)), Point(150, 80)
        >>> gusset = Piece("gusset", (hem, rest), grain, label_at, cut=2, mirrored=True)
        >>> gusset.after("hem").name, gusset.edge("hem").role
        ('rest', 'hem')
        >>> round(signed_area([edge.curve for edge in gusset.edges]) / 100.0, 1)
        300.0
    """

    name: str
    edges: tuple[Edge, ...]
    grain: tuple[Point, Point]
    label_at: Point
    cut: int = 1
    mirrored: bool = False
    darts: tuple[Dart, ...] = ()
    notches: tuple[Notch, ...] = ()
    guides: tuple[Guide, ...] = ()
    notes: tuple[Note, ...] = ()
    block: str = ""
    word: str = ""
    longer_grain: tuple[Point, Point] | None = None
    """The grain as it was drawn, where a change left room for only a part of it."""

    @property
    def ref(self) -> Ref:
        """Its identity."""
        return Ref(self.block, self.name)

    @property
    def label(self) -> str:
        """The name that people read.  In a set the block's word comes before it."""
        return labelled(self.word, self.name)

    def edge(self, name: str) -> Edge:
        """The edge of that name.  Raises PatternError if there is none or a dart parts it."""
        found = [edge for edge in self.edges if edge.name == name]
        if len(found) == 1:
            return found[0]
        if found:
            raise PatternError(
                f"edge {name!r} of piece {self.name!r} is {len(found)} stretches with darts "
                "between them; ask for its stretches"
            )
        raise missing(f"piece {self.name!r}", "edge", name, self.edge_names())

    def edge_names(self) -> list[str]:
        """The names of the edges, each once, in the order of the outline."""
        return list(dict.fromkeys(edge.name for edge in self.edges))

    def stretches(self, name: str) -> tuple[Edge, ...]:
        """The stretches of an edge in outline order.  Raises PatternError as `places_of`."""
        return tuple(self.edges[i] for i in self.places_of(name))

    def places_of(self, name: str) -> list[int]:
        """The numbers in `edges` of the stretches of an edge, in outline order.

        Raises PatternError if there is no such edge.
        """
        places = [i for i, edge in enumerate(self.edges) if edge.name == name]
        if not places:
            raise missing(f"piece {self.name!r}", "edge", name, self.edge_names())
        if len(places) > 1:
            # The first stretch is the one with no dart before it.  The list may begin after it.
            starts = [
                (i - places[n - 1]) % len(self.edges) != 2 or self.edges[i - 1].role != "dart"
                for n, i in enumerate(places)
            ]
            first = starts.index(True) if True in starts else 0
            places = places[first:] + places[:first]
        return places

    def length(self, name: str) -> float:
        """Length of an edge with its darts closed, mm."""
        return sum(edge.curve.length for edge in self.stretches(name))

    def place(self, name: str, along: float) -> tuple[int, float]:
        """The number in `edges` of the stretch that a place is on, and the distance along it, mm.

        A place at a dart is at the end of the stretch before the dart.  A place past an end of the
        edge is as far past the end of its stretch.
        """
        places = self.places_of(name)
        for i in places[:-1]:
            long = self.edges[i].curve.length
            if along <= long + tolerance.ROUNDED:
                return i, min(along, long)
            along -= long
        return places[-1], along

    def notch(self, name: str) -> Notch:
        """The notch of that name.  Raises PatternError if there is none."""
        return self._named("notch", self.notches, name)

    def notch_at(self, notch: Notch) -> tuple[Curve, float]:
        """The stretch that a notch lies on, and its distance along it, mm."""
        i, along = self.place(notch.edge, notch.along)
        return self.edges[i].curve, along

    def moved(self, lay: Affine) -> Piece:
        """The piece turned and moved with everything on it.

        Raises PatternError for a map that mirrors: the outline would run clockwise.
        """
        if not lay.a * lay.d - lay.b * lay.c > 0.0:
            raise PatternError(
                f"piece {self.name!r} cannot be mirrored: its edges would run clockwise; to cut "
                "pairs draw one with cut=2, mirrored=True, and to cut both halves as one piece "
                "give the middle edge role 'fold'"
            )
        low, high = self.grain
        return replace(
            self,
            edges=tuple(replace(edge, curve=edge.curve.moved(lay)) for edge in self.edges),
            grain=(lay(low), lay(high)),
            longer_grain=self.longer_grain
            and (lay(self.longer_grain[0]), lay(self.longer_grain[1])),
            label_at=lay(self.label_at),
            darts=tuple(replace(dart, apex=lay(dart.apex)) for dart in self.darts),
            guides=tuple(replace(guide, curve=guide.curve.moved(lay)) for guide in self.guides),
            notes=tuple(replace(note, at=lay(note.at)) for note in self.notes),
        )

    def before(self, edge: str) -> Edge:
        """The edge or mouth that the outline runs along before this edge."""
        return self.edges[self.places_of(edge)[0] - 1]

    def after(self, edge: str) -> Edge:
        """The edge or mouth that the outline runs along after this edge."""
        return self.edges[(self.places_of(edge)[-1] + 1) % len(self.edges)]

    def widest_gap(self) -> tuple[Edge, Edge, float]:
        """The two neighbours with the widest gap between them, and that gap, mm."""
        pairs = zip(self.edges, self.edges[1:] + self.edges[:1], strict=True)
        apart = [(a, b, distance(a.curve.end, b.curve.start)) for a, b in pairs]
        return max(apart, key=lambda gap: gap[2])

    def dart(self, name: str) -> Dart:
        """The dart of that name.  Raises PatternError if there is none."""
        return self._named("dart", self.darts, name)

    def _named(self, what: str, parts: Sequence[_Named], name: str) -> _Named:
        for part in parts:
            if part.name == name:
                return part
        raise missing(f"piece {self.name!r}", what, name, [part.name for part in parts])

    def dart_between(self, first: str, second: str) -> Dart | None:
        """The dart whose mouth follows the first edge and precedes the second, if there is one."""
        for dart in self.darts:
            if self.before(dart.mouth).name == first and self.after(dart.mouth).name == second:
                return dart
        return None

    def darts_on(self, edge: str) -> tuple[Dart, ...]:
        """The darts in an edge, in outline order."""
        mouths = {dart.mouth: dart for dart in self.darts}
        count = len(self.edges)
        after = (self.edges[(i + 1) % count].name for i in self.places_of(edge)[:-1])
        return tuple(mouths[name] for name in after if name in mouths)

    def dart_legs(self, dart: Dart) -> tuple[Point, Point]:
        """The outer ends of the legs, where the edges on either side of the mouth end."""
        return self.before(dart.mouth).curve.end, self.after(dart.mouth).curve.start
