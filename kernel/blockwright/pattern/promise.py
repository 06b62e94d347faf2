"""What a block promises, and how each promise is measured on the finished pieces.

A promise holds names and wanted numbers only; what it finds comes from the pieces as they are,
never from the recipe that drew them.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import ClassVar

from blockwright.curves import bezier
from blockwright.curves._numpy import np
from blockwright.curves.chain import inside, signed_area
from blockwright.curves.curve import Curve, curvatures, directions
from blockwright.curves.meet import nearest, self_crossings
from blockwright.curves.point import Point, distance
from blockwright.pattern import tolerance
from blockwright.pattern.across import sewn_outline, width_across
from blockwright.pattern.dart import closing
from blockwright.pattern.finding import Finding
from blockwright.pattern.mark import Mark
from blockwright.pattern.pattern import Pattern
from blockwright.pattern.piece import Piece
from blockwright.pattern.walk import Run, walk

# Places on each piece at which an edge's curving is looked at; the curvature, 1/mm, under which it
# is straight (a radius of a hundred metres).
SAMPLES = 12
STRAIGHT = 1e-5
# A grain line may run from edge to edge, so its ends are looked at this share of it inward.
NEAR_END = 0.02

Range = tuple[float, float]
Joint = tuple[str, str]
"""Two edges that follow each other on an outline, with or without a dart between them."""


@dataclass(frozen=True, slots=True)
class Stretch:
    """Part of a seam from the notch before (or its start) to this notch; ease a less b, mm.

    `to` is the name of the notch, which both runs have; `ease` the least and the greatest, mm.

    Example:
        >>> from blockwright import Draft, Edge, Given, Notch, Point, Stretch, line, polyline, prove
        >>> cap = Edge("cap", line(Point(440, 0), Point(0, 0)))
        >>> rest = Edge("rest", polyline([Point(0, 0), Point(220, -200), Point(440, 0)]))
        >>> d, at = Draft("test.sleeve", "Sleeve"), Point(220, -80)
        >>> notches, grain = [Notch("notch", "cap", 100.0)], (Point(220, -150), Point(220, -20))
        >>> sleeve = d.piece("sleeve", [cap, rest], grain=grain, label_at=at, notches=notches)
        >>> armhole = Given("armhole", 420.0, {"notch": 98.0})
        >>> d.seam("cap", cap, armhole, ease=20.0, stretches=[Stretch("notch", (0.0, 3.0))])
        >>> [(each.name, round(each.measured, 1)) for each in prove(d.pattern()).findings[-2:]]
        [('cap', 20.0), ('cap: start to notch', 2.0)]
    """

    to: str
    ease: Range


@dataclass(frozen=True, slots=True)
class Seam:
    """Two runs sewn together from their starts: `a` is longer than `b` by the ease.

    `stretches` names notches that both runs have, in order, with the ease allowed up to each;
    `last` is the ease from the last notch to the end.
    """

    kind: ClassVar[str] = "seam"
    name: str
    a: Run
    b: Run
    ease: Range = (0.0, 0.0)
    stretches: tuple[Stretch, ...] = ()
    last: Range | None = None

    def measure(self, pattern: Pattern) -> tuple[Finding, ...]:
        """Ease of the whole, then of each stretch between notches, walked on both sides."""
        a, b = walk(pattern, self.a), walk(pattern, self.b)
        found = [self._finding(self.name, self.ease, a.length - b.length)]
        at_a = at_b = 0.0
        since = "start"
        for stretch in self.stretches:
            to_a, to_b = a.notches.get(stretch.to, math.nan), b.notches.get(stretch.to, math.nan)
            name = f"{self.name}: {since} to {stretch.to}"
            found.append(self._finding(name, stretch.ease, (to_a - at_a) - (to_b - at_b)))
            at_a, at_b, since = to_a, to_b, stretch.to
        if self.last is not None:
            rest = (a.length - at_a) - (b.length - at_b)
            found.append(self._finding(f"{self.name}: {since} to end", self.last, rest))
        return tuple(found)

    def _finding(self, name: str, ease: Range, measured: float) -> Finding:
        return Finding(self.kind, name, "length", *ease, measured, tolerance.LENGTH)


@dataclass(frozen=True, slots=True)
class Twin:
    """An edge is sewn to the same edge of another copy of its piece: a centre seam.

    Two copies fit each other when one is the other way up: cut in mirrored pairs, or on the fold,
    which makes a piece its own mirror image.
    """

    kind: ClassVar[str] = "twin"
    name: str
    edge: str

    def measure(self, pattern: Pattern) -> tuple[Finding, ...]:
        """How many copies are cut that fit each other."""
        piece = pattern.owner(self.edge)
        fits = piece.mirrored or any(edge.role == "fold" for edge in piece.edges)
        copies = float(piece.cut if fits else 1)
        name = f"{self.name}: copies that are mirror images"
        return (Finding(self.kind, name, "count", 2.0, math.inf, copies, 0.0),)


@dataclass(frozen=True, slots=True)
class Corner:
    """Corners that come together when sewn add up to `angle` degrees; 180 runs on smoothly.

    Each joint is a corner of one piece; a dart in it is closed first.
    """

    kind: ClassVar[str] = "corner"
    name: str
    joints: tuple[Joint, ...]
    angle: float = 180.0
    tolerance: float = tolerance.ANGLE

    def measure(self, pattern: Pattern) -> tuple[Finding, ...]:
        """The interior angles, summed."""
        total = sum(interior_angle(pattern, joint) for joint in self.joints)
        return (
            Finding(self.kind, self.name, "angle", self.angle, self.angle, total, self.tolerance),
        )


@dataclass(frozen=True, slots=True)
class Level:
    """An edge runs square to the grain where it passes a place, within `within` degrees."""

    kind: ClassVar[str] = "level"
    name: str
    edge: str
    at: Point
    within: float

    def measure(self, pattern: Pattern) -> tuple[Finding, ...]:
        """Angle between the edge, at its point nearest the place, and the square of the grain."""
        piece = pattern.owner(self.edge)
        curve = piece.edge(self.edge).curve
        tangent = curve.tangent_at(nearest(curve, self.at).along)
        low, high = piece.grain
        across = (high - low).left()
        angle = math.degrees(math.atan2(across.cross(tangent), across.dot(tangent)))
        angle = math.remainder(angle, 180.0)
        return (Finding(self.kind, self.name, "angle", -self.within, self.within, angle, 0.0),)


@dataclass(frozen=True, slots=True)
class Through:
    """An edge passes through its marks."""

    kind: ClassVar[str] = "through"
    name: str
    edge: str
    marks: tuple[Mark, ...]

    def measure(self, pattern: Pattern) -> tuple[Finding, ...]:
        """The greatest distance of a mark from the edge."""
        curve = pattern.edge(self.edge).curve
        worst = max(nearest(curve, mark).distance for mark in self.marks)
        return (Finding(self.kind, self.name, "length", 0.0, 0.0, worst, tolerance.ON_CURVE),)


@dataclass(frozen=True, slots=True)
class Across:
    """A level drawn across a piece, by the piece's name; `times` how often the piece is worn.

    `level` lies on the flat piece, mm; in `Draft.girth` it is measured within the cloth, darts
    folded away, carried on straight past its ends to the edge, as far as 60 mm.

    Example:
        >>> from blockwright import Across, Draft, Edge, Point, line, polyline, prove
        >>> hem = Edge("hem", line(Point(0, 0), Point(200, 0)), "hem")
        >>> rest = Edge("rest", polyline([Point(200, 0), Point(200, 300), Point(0, 0)]))
        >>> d, grain = Draft("test.wedge", "Wedge"), (Point(180, 20), Point(180, 250))
        >>> wedge = d.piece("wedge", [hem, rest], grain=grain, label_at=Point(150, 80), cut=2)
        >>> level = Across("wedge", line(Point(120, 150), Point(180, 150)), times=2)
        >>> d.girth("middle", levels=[level], body=190.0, ease=10.0)
        >>> round(prove(d.pattern()).findings[-1].measured, 1)
        200.0
    """

    piece: str
    level: Curve
    times: int = 1


@dataclass(frozen=True, slots=True)
class Shape:
    """An edge changes from hollow to full `bends` times, and never runs against `toward`."""

    kind: ClassVar[str] = "shape"
    name: str
    edge: str
    bends: int
    toward: Point | None = None

    def measure(self, pattern: Pattern) -> tuple[Finding, ...]:
        """Changes of the side the edge curves to; the greatest angle to `toward`, degrees."""
        curve = pattern.edge(self.edge).curve
        pieces, at = bezier.sampled(curve.control, (np.arange(SAMPLES) + 0.5) / SAMPLES)
        curving = curvatures(pieces, at)
        side = np.sign(curving[np.abs(curving) > STRAIGHT])
        found = float((np.diff(side) != 0.0).sum())
        bends = float(self.bends)
        findings = [
            Finding(self.kind, f"{self.name}: changes from hollow to full",
                    "count", bends, bends, found, 0.0)
        ]  # fmt: skip
        if self.toward is not None:
            ahead = directions(*bezier.sampled(curve.control, np.linspace(0.0, 1.0, SAMPLES)))
            ahead = ahead @ np.array([*self.toward.unit()])
            widest = math.degrees(math.acos(min(max(float(ahead.min()), -1.0), 1.0)))
            findings.append(
                Finding(self.kind, f"{self.name}: turns back", "angle", 0.0, 90.0, widest, 0.0)
            )
        return tuple(findings)


@dataclass(frozen=True, slots=True)
class Girth:
    """The finished width at a level is the body's girth and the ease.

    Its widths are runs of edges, straight lines between two corners of a piece, or levels across
    pieces, darts folded away; the sum is taken `times` times (2 where half a body is drawn).
    """

    kind: ClassVar[str] = "girth"
    name: str
    body: float
    ease: Range
    runs: tuple[Run, ...] = ()
    spans: tuple[tuple[Joint, Joint], ...] = ()
    levels: tuple[Across, ...] = ()
    times: int = 1

    def measure(self, pattern: Pattern) -> tuple[Finding, ...]:
        """Finished width; wanted is body plus ease."""
        width = sum(walk(pattern, each).length for each in self.runs)
        for first, second in self.spans:
            width += distance(corner_point(pattern, first), corner_point(pattern, second))
        for across in self.levels:
            width += across.times * width_across(pattern.piece(across.piece), across.level)
        width *= self.times
        low, high = self.ease
        return (
            Finding(
                self.kind, self.name, "length",
                self.body + low, self.body + high, width, tolerance.LENGTH,
            ),
        )  # fmt: skip


@dataclass(frozen=True, slots=True)
class DartLegs:
    """Both legs of a dart are equally long, so that it closes."""

    kind: ClassVar[str] = "dart legs"
    name: str
    piece: str

    def measure(self, pattern: Pattern) -> tuple[Finding, ...]:
        """Difference of the legs, from the apex to where the edges at the mouth really end."""
        piece = pattern.piece(self.piece)
        dart = next(d for d in piece.darts if d.name == self.name)
        start, end = piece.dart_legs(dart)
        apart = distance(dart.apex, start) - distance(dart.apex, end)
        name = f"{self.name} of {self.piece}"
        return (Finding(self.kind, name, "length", 0.0, 0.0, apart, tolerance.LENGTH),)


@dataclass(frozen=True, slots=True)
class Outline:
    """A piece's outline closes, runs counter-clockwise and is simple; grain and label lie inside.

    Where it has darts, neither does the outline of the cloth left when they are sewn: every dart
    lies inside its piece and clear of the others.
    """

    kind: ClassVar[str] = "outline"
    name: str

    def measure(self, pattern: Pattern) -> tuple[Finding, ...]:
        """The widest gap between edges; crossings; what lies outside."""
        piece = pattern.piece(self.name)
        edges = [edge.curve for edge in piece.edges]
        _, _, gap = piece.widest_gap()
        closed = Finding(
            self.kind, f"{self.name} closes", "length", 0.0, 0.0, gap, tolerance.CLOSED
        )
        if not closed.held:
            return (closed,)
        turned = float(signed_area(edges) <= 0.0)
        low, high = piece.grain
        places = (low.between(high, NEAR_END), high.between(low, NEAR_END), piece.label_at)
        *grain, label = inside(edges, places)
        counts = (
            ("does not cross itself", float(len(self_crossings(edges)))),
            ("does not run clockwise", turned),
            ("has its grain inside", float(grain.count(False))),
            ("has its label inside", float(not label)),
        )
        simple = tuple(
            Finding(self.kind, f"{self.name} {what}", "count", 0.0, 0.0, found, 0.0)
            for what, found in counts
        )
        if not piece.darts:
            return (closed, *simple)
        # Darts may end at one point; that is where they come together, not where they cross.
        points = [dart.apex for dart in piece.darts]
        shared = [
            at for at in points if sum(distance(at, p) < tolerance.CLOSED for p in points) > 1
        ]
        astray = float(
            sum(
                all(distance(met.point, at) >= tolerance.CLOSED for at in shared)
                for met in self_crossings(sewn_outline(piece))
            )
        )
        darts = f"{self.name}: darts inside, clear of each other"
        return (closed, *simple, Finding(self.kind, darts, "count", 0.0, 0.0, astray, 0.0))


def _joint_piece(pattern: Pattern, joint: Joint) -> Piece:
    return pattern.owner(joint[0])


def corner_point(pattern: Pattern, joint: Joint) -> Point:
    """Where the first edge of a joint ends."""
    return pattern.edge(joint[0]).curve.end


def interior_angle(pattern: Pattern, joint: Joint) -> float:
    """Angle inside the piece between two edges that follow each other, degrees.

    A dart between them is closed: what follows it is turned about its apex on to the other leg.
    """
    piece = _joint_piece(pattern, joint)
    first, second = piece.edge(joint[0]), piece.edge(joint[1])
    arriving, leaving = first.curve.end_tangent, second.curve.start_tangent
    if dart := piece.dart_between(*joint):
        start, end = piece.dart_legs(dart)
        turn = closing(dart.apex, start, end)
        leaving = turn(leaving) - turn(Point(0.0, 0.0))
    elif piece.after(first.name) is not second:
        return math.nan
    return 180.0 - math.degrees(math.atan2(arriving.cross(leaving), arriving.dot(leaving)))
