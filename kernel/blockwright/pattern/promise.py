"""What a block promises, and how each promise is measured on the finished pieces.

A promise holds names and wanted numbers only; what it finds comes from the pieces as they are,
never from the recipe that drew them.
"""

from __future__ import annotations

import math
from collections import Counter
from dataclasses import dataclass
from typing import ClassVar

from blockwright.curves import bezier
from blockwright.curves._numpy import np
from blockwright.curves.curve import Curve, curvatures, directions
from blockwright.curves.meet import nearest
from blockwright.curves.point import Point, distance
from blockwright.pattern import tolerance
from blockwright.pattern.across import width_across
from blockwright.pattern.copies import copies, why_not_counted, why_not_sewn
from blockwright.pattern.dart import closing
from blockwright.pattern.finding import Finding
from blockwright.pattern.mark import Mark
from blockwright.pattern.pattern import Pattern
from blockwright.pattern.piece import Piece, Run, Way
from blockwright.pattern.walk import NoRunError, Walk, said, walk

# Places on each piece at which an edge's curving is looked at; the curvature, 1/mm, under which it
# is straight (a radius of a hundred metres).
SAMPLES = 12
STRAIGHT = 1e-5

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

    @property
    def sewn(self) -> tuple[Run, Run]:
        """Both sides."""
        return self.a, self.b

    def measure(self, pattern: Pattern) -> tuple[Finding, ...]:
        """Ease of the whole, then of each stretch between notches, walked on both sides.

        Nothing is found where edges of a run do not follow one another, or no copies of the two
        come together as they are cut and walked.
        """
        try:
            a, b = walk(pattern, self.a), walk(pattern, self.b)
        except NoRunError as error:
            return (self._finding(self.name, self.ease, math.nan, str(error)),)
        apart = why_not_sewn(pattern, self.a, self.b)
        ease = math.nan if apart else a.length - b.length
        found = [self._finding(self.name, self.ease, ease, apart)]
        at_a = at_b = 0.0
        since = "start"
        for stretch in self.stretches:
            to_a, to_b = a.notches.get(stretch.to, math.nan), b.notches.get(stretch.to, math.nan)
            name = f"{self.name}: {since} to {stretch.to}"
            unlike = self._unlike(stretch.to, a, b)
            ease = math.nan if unlike else (to_a - at_a) - (to_b - at_b)
            found.append(self._finding(name, stretch.ease, ease, unlike))
            at_a, at_b, since = to_a, to_b, stretch.to
        if self.last is not None:
            rest = (a.length - at_a) - (b.length - at_b)
            found.append(self._finding(f"{self.name}: {since} to end", self.last, rest))
        return tuple(found)

    def _finding(self, name: str, ease: Range, measured: float, note: str = "") -> Finding:
        return Finding(self.kind, name, "length", *ease, measured, tolerance.LENGTH, note)

    def _unlike(self, notch: str, a: Walk, b: Walk) -> str:
        """Why notches of this name do not meet; nothing when they may."""
        for run, walked in ((self.a, a), (self.b, b)):
            if notch not in walked.notches:
                there = ", ".join(map(repr, walked.notches)) or "none"
                return f"there is no notch {notch!r} on {said(run)}; there is {there}"
            if notch in walked.twice:
                return f"there are two {notch!r} on {said(run)}; promise each part by itself"
        ticks = (a.ticks.get(notch), b.ticks.get(notch))
        if None not in ticks and len(set(ticks)) > 1:
            return (
                f"notch {notch!r} is {ticks[0]} on one side and {ticks[1]} on the other; "
                "give both one count"
            )
        return ""


@dataclass(frozen=True, slots=True)
class Twin:
    """An edge is sewn to the same edge of another copy of its piece: a centre seam.

    Two copies fit each other when one is the other way up: cut in mirrored pairs, or on the fold,
    which makes a piece its own mirror image.
    """

    kind: ClassVar[str] = "twin"
    name: str
    edge: str

    @property
    def sewn(self) -> tuple[Run, Run]:
        """The edge, and the same on the other copy."""
        return (Way(self.edge),), (Way(self.edge),)

    def measure(self, pattern: Pattern) -> tuple[Finding, ...]:
        """How many copies are cut that fit each other."""
        piece = pattern.owner(self.edge)
        fits = piece.mirrored or any(edge.role == "fold" for edge in piece.edges)
        copies = float(piece.cut if fits else 1)
        name = f"{self.name}: copies that are mirror images"
        note = f"piece {piece.name!r} is cut {piece.cut}; " + (
            "cut=2 or more" if fits else "cut mirrored pairs, or give its fold the role 'fold'"
        )
        return (Finding(self.kind, name, "count", 2.0, math.inf, copies, 0.0, note),)


@dataclass(frozen=True, slots=True)
class Corner:
    """Corners that come together when sewn add up to `angle` degrees; 180 runs on smoothly.

    Each joint is a corner of one piece; a dart in it is closed first.  One of several copies is
    named as often.
    """

    kind: ClassVar[str] = "corner"
    name: str
    joints: tuple[Joint, ...]
    angle: float = 180.0
    tolerance: float = tolerance.ANGLE

    def measure(self, pattern: Pattern) -> tuple[Finding, ...]:
        """The interior angles, summed."""
        total = sum(interior_angle(pattern, joint) for joint in self.joints)
        note = next(filter(None, (why_no_corner(pattern, joint) for joint in self.joints)), "")
        for joint, often in Counter(self.joints).items():
            piece = _joint_piece(pattern, joint)
            if (there := sum(copies(piece).values())) < often:
                total = math.nan
                note = note or f"corner {joint} is named {often} times and cut {there}"
        return (
            Finding(
                self.kind, self.name, "angle", self.angle, self.angle, total, self.tolerance, note
            ),
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
        """Finished width; wanted is body plus ease.

        Nothing is found where edges of a run do not follow one another, an edge or piece is
        counted more often than it is cut, or a level ends in the cloth.
        """
        width, note = 0.0, ""
        for run in self.runs:
            try:
                width += walk(pattern, run).length
            except NoRunError as error:
                note = str(error)
        for first, second in self.spans:
            width += distance(corner_point(pattern, first), corner_point(pattern, second))
        note = note or self._uncounted(pattern)
        for across in self.levels:
            found = width_across(pattern.piece(across.piece), across.level)
            width += across.times * found.width
            note = note or found.why
        low, high = self.ease
        return (
            Finding(
                self.kind, self.name, "length", self.body + low, self.body + high,
                math.nan if note else width * self.times, tolerance.LENGTH, note,
            ),
        )  # fmt: skip

    def _uncounted(self, pattern: Pattern) -> str:
        """Which edge or piece is counted more often than it is cut; nothing when none is."""
        pieces: Counter[str] = Counter()
        for across in self.levels:
            pieces[across.piece] += across.times * self.times
        return why_not_counted(pattern, self.runs * self.times, pieces)


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


def why_no_corner(pattern: Pattern, joint: Joint) -> str:
    """Why two edges make no corner, and what to write; nothing when they do."""
    first, second = joint
    piece = _joint_piece(pattern, joint)
    if not math.isnan(interior_angle(pattern, joint)):
        return ""
    if not math.isnan(interior_angle(pattern, (second, first))):
        return f"the outline runs from {second!r} to {first!r}; write ({second!r}, {first!r})"
    return f"after {first!r} comes {piece.after(first).name!r} on piece {piece.name!r}"
