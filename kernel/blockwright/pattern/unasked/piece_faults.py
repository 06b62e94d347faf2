"""What a sewer would see on a piece by itself: its fold, corners in its edges, slivers, lines."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import accumulate

from blockwright.curves import bezier
from blockwright.curves._numpy import np
from blockwright.curves.chain import outside_by
from blockwright.curves.curve import directions
from blockwright.curves.point import distance
from blockwright.pattern import tolerance
from blockwright.pattern.dart import opening
from blockwright.pattern.piece import Dart, Edge, Piece
from blockwright.pattern.ref import Ref
from blockwright.pattern.results import Reason, Result, Value

GRAIN_ANGLES = 45.0
"""A fold lies along the grain, across it or on the true bias: at a multiple of this angle."""
SHARPEST = 10.0
"""Degrees: a sharper tip frays away under the needle.  Common practice, no source."""
NARROWEST = 6.0
"""Millimetres: a piece that is narrower all along cannot be sewn.  Common practice, no source."""
WIDEST_DART, SHORTEST_LEG = 75.0, 15.0
"""Degrees and mm: a dart that is wider or shorter makes no smooth point.

Common practice, no source.
"""
TIGHTEST = 4.0
"""Millimetres: no two layers are sewn along a curve of a smaller radius.

Common practice, no source.
"""
OFF_MOUTH = 2.0
"""Millimetres by which the mouth of a dart may lie off its place.  Common practice, no source."""
MOST_IN, MOST_OUT = 0.6, 1.5
"""Between these a mouth lies, in lengths of the leg: over slanting edges it is low or high."""
OUTSIDE = 0.5
"""Millimetres by which a line or a note may lie outside the cloth: half a pencil line."""
SAMPLES = 16
"""Places on each piece of an outline that are looked at."""
ON_A_LINE = 4
"""Places on each piece of a line inside that are looked at."""


@dataclass(frozen=True, slots=True)
class _Outline:
    """The outline of a piece, looked at once.

    `points` (n, 2) lie along it, mm.  `turns` are the turns, degrees, at the end of each piece of a
    curve, and `ends` the numbers of the pieces that end an edge.  `width` is the mean width, mm:
    the area over half the length of the outline.  `radii` are the smallest of each piece, mm.
    """

    points: np.ndarray
    turns: list[float]
    ends: list[int]
    width: float
    radii: list[float]


def piece_faults(pieces: Sequence[Piece]) -> Iterator[Result]:
    """The results of each piece.  Corners in edges and slivers are listed only where they are."""
    for piece, outline in zip(pieces, _looked_at(pieces), strict=True):
        for edge in piece.edges:
            if edge.role == "fold":
                yield from _fold(piece, edge, outline)
        yield from _folds(piece)
        yield from _mouths(piece)
        yield from _corners(piece, outline)
        if outline.width < NARROWEST:
            yield Result(
                "piece.narrow", piece.ref, "length", (NARROWEST, math.inf), outline.width, 0.0,
                warning=True,
            )  # fmt: skip
        if piece.guides or piece.notes:
            yield _lines(piece, outline)


def _looked_at(pieces: Sequence[Piece]) -> Iterator[_Outline]:
    """Each outline.  The curves of all pieces are taken together, which is quicker."""
    counts = [[len(edge.curve.control) for edge in piece.edges] for piece in pieces]
    control = np.concatenate([e.curve.control for piece in pieces for e in piece.edges])
    firsts = np.cumsum([0, *map(sum, counts)])
    after = np.arange(1, len(control) + 1)
    after[firsts[1:] - 1] = firsts[:-1]
    arriving = directions(control, np.ones(len(control)))
    leaving = directions(control, np.zeros(len(control)))[after]
    cross = arriving[:, 0] * leaving[:, 1] - arriving[:, 1] * leaving[:, 0]
    turns = np.degrees(np.arctan2(cross, (arriving * leaving).sum(axis=1)))
    points = bezier.points_at(control, np.arange(SAMPLES) / SAMPLES)
    starts = SAMPLES * firsts
    # The step that leads from one outline to the next counts for none.
    steps = np.diff(points, axis=0, append=points[:1])
    steps[starts[1:] - 1] = 0.0
    rise = points[:, 0] * steps[:, 1] - points[:, 1] * steps[:, 0]
    areas = np.add.reduceat(rise, starts[:-1]) + _closing(points, starts)
    lengths = np.add.reduceat(np.hypot(steps[:, 0], steps[:, 1]), starts[:-1])
    widths = (np.abs(areas) / lengths).tolist()
    flat = turns.tolist()
    radii = _radii(steps)
    for i, count in enumerate(counts):
        first, last = int(firsts[i]), int(firsts[i + 1])
        ends = [end - 1 for end in accumulate(count)]
        yield _Outline(
            points[SAMPLES * first : SAMPLES * last], flat[first:last], ends, widths[i],
            radii[first:last],
        )  # fmt: skip


def _radii(steps: np.ndarray) -> list[float]:
    """The smallest radius of each piece of a curve, from the steps between places on it, mm."""
    within = steps.reshape(-1, SAMPLES, 2)[:, :-1]
    one, other = within[:, :-1], within[:, 1:]
    cross = one[..., 0] * other[..., 1] - one[..., 1] * other[..., 0]
    turns = np.abs(np.arctan2(cross, (one * other).sum(axis=2)))
    long = np.hypot(other[..., 0], other[..., 1])
    found: list[float] = (long / np.maximum(turns, 1e-9)).min(axis=1).tolist()
    return found


def _closing(points: np.ndarray, starts: np.ndarray) -> np.ndarray:
    """Twice the area that the last step of each outline, back to its start, adds."""
    last, first = points[starts[1:] - 1], points[starts[:-1]]
    return np.asarray(last[:, 0] * first[:, 1] - last[:, 1] * first[:, 0])


def _fold(piece: Piece, fold: Edge, outline: _Outline) -> Iterator[Result]:
    """The fold is straight, the piece lies on one side of it, and it goes with the grain."""
    ref, start, end = Ref(piece.block, fold.name), fold.curve.start, fold.curve.end
    way = (end - start).unit()
    # The cloth lies on the left of its outline, so what lies on the right is beyond the fold.
    right = np.array([way.y, -way.x])
    off = np.abs((fold.curve.control.reshape(-1, 2) - [[*start]]) @ right).max()
    beyond = ((outline.points - [[*start]]) @ right).max()
    yield Result(
        "piece.fold-straight", ref, "length", (0.0, 0.0), max(float(off), float(beyond)),
        tolerance.LENGTH, {"piece": piece.ref}, Reason("piece.straighten-fold", {"edge": ref}),
    )  # fmt: skip
    low, high = piece.grain
    apart = math.degrees((end - start).angle - (high - low).angle)
    yield Result(
        "piece.fold-grain", ref, "angle", (0.0, 0.0), abs(math.remainder(apart, GRAIN_ANGLES)),
        tolerance.ANGLE, {"piece": piece.ref}, Reason("piece.turn-grain", {"edge": ref}),
    )  # fmt: skip


def _folds(piece: Piece) -> Iterator[Result]:
    """Two folds are square to each other, as in a quarter of a circle.  A result only if not.

    Cloth folded along two parallel lines opens out into no piece that lies flat.  No more than two
    folds can be square to each other.
    """
    folds = [edge for edge in piece.edges if edge.role == "fold"]
    if len(folds) < 2:
        return
    first, second = ((edge.curve.end - edge.curve.start).angle for edge in folds[:2])
    off = 90.0 - abs(math.degrees(math.remainder(second - first, math.pi)))
    if len(folds) > 2 or off > tolerance.ANGLE:
        names = tuple(Ref(piece.block, edge.name) for edge in folds)
        yield Result(
            "piece.folds", piece.ref, "count", (0.0, 0.0), float(len(folds) - 1), 0.0,
            why=Reason("piece.one-fold", {"folds": names}),
        )  # fmt: skip


def _mouths(piece: Piece) -> Iterator[Result]:
    """The mouth of a dart lies between its legs, about as far from its point as their ends are.

    What is cut out deeper is not caught in the seam, and what stands out does not lie under it.
    A result only if not.
    """
    for dart in piece.darts:
        start, end = piece.dart_legs(dart)
        leg, half = distance(dart.apex, start), abs(opening(dart.apex, start, end)) / 2.0
        yield from _size(piece, dart, leg, math.degrees(2.0 * half))
        middle = ((start - dart.apex).unit() + (end - dart.apex).unit()).unit()
        # The curve lies within its control points.
        off = piece.edge(dart.mouth).curve.control.reshape(-1, 2) - [[*dart.apex]]
        far = np.hypot(off[:, 0], off[:, 1])
        across = np.abs(off @ [-middle.y, middle.x]) - far * math.sin(half)
        low, high = MOST_IN * leg * math.cos(half), MOST_OUT * leg
        beyond = max(low - far.min(), far.max() - high, across.max())
        if beyond > OFF_MOUTH:
            yield Result(
                "piece.dart-mouth", Ref(piece.block, dart.name), "length", (0.0, 0.0),
                float(beyond), OFF_MOUTH, {"piece": piece.ref},
                Reason("piece.draw-mouth", {"mouth": Ref(piece.block, dart.mouth)}), warning=True,
            )  # fmt: skip


def _size(piece: Piece, dart: Dart, leg: float, angle: float) -> Iterator[Result]:
    """A dart can be sewn to a smooth point: it is long and narrow enough.  Else a result."""
    ref, why = Ref(piece.block, dart.name), Reason("piece.long-dart")
    values: dict[str, Value] = {"piece": piece.ref}
    if leg < SHORTEST_LEG:
        yield Result(
            "piece.dart-length", ref, "length", (SHORTEST_LEG, math.inf), leg, 0.0, values, why,
            warning=True,
        )  # fmt: skip
    if angle > WIDEST_DART:
        yield Result(
            "piece.dart-angle", ref, "angle", (0.0, WIDEST_DART), angle, 0.0, values, why,
            warning=True,
        )  # fmt: skip


def _corners(piece: Piece, outline: _Outline) -> Iterator[Result]:
    """Corners inside an edge that the eye sees, and tips that are too sharp."""
    begin, turns = 0, outline.turns
    for i, (edge, end) in enumerate(zip(piece.edges, outline.ends, strict=True)):
        inside, begin = turns[begin:end], end + 1
        after = piece.edges[(i + 1) % len(piece.edges)]
        if edge.role == "dart":
            continue
        ref = Ref(piece.block, edge.name)
        if (
            edge.role != "hem"
            and (radius := min(outline.radii[end - len(inside) : begin])) < TIGHTEST
        ):
            yield Result(
                "piece.tight", ref, "length", (TIGHTEST, math.inf), radius, 0.0,
                {"piece": piece.ref}, Reason("piece.draw-gentler"), warning=True,
            )  # fmt: skip
        if (sharpest := max(map(abs, inside), default=0.0)) > tolerance.SEEN_ANGLE:
            yield Result(
                "piece.corner-inside", ref, "angle", (0.0, 0.0), sharpest, tolerance.SEEN_ANGLE,
                {"piece": piece.ref}, Reason("piece.split-edge", {"edge": ref}), warning=True,
            )  # fmt: skip
        angle = 180.0 - turns[end]
        if after.role != "dart" and angle < SHARPEST:
            values: dict[str, Value] = {"piece": piece.ref, "second": Ref(piece.block, after.name)}
            yield Result(
                "piece.tip", Ref(piece.block, edge.name), "angle", (SHARPEST, 360.0), angle, 0.0,
                values, Reason("piece.blunt-tip"), warning=True,
            )  # fmt: skip


def _lines(piece: Piece, outline: _Outline) -> Result:
    """Guide lines and notes lie in the cloth."""
    names = [note.words for note in piece.notes]
    places = [np.array([[*note.at] for note in piece.notes]).reshape(-1, 2)]
    if piece.guides:
        control = np.concatenate([guide.curve.control for guide in piece.guides])
        places.append(bezier.points_at(control, np.linspace(0.0, 1.0, ON_A_LINE)))
        for guide in piece.guides:
            names += [guide.name] * (len(guide.curve.control) * ON_A_LINE)
    off = outside_by(outline.points, np.concatenate(places))
    out = dict.fromkeys(name for name, by in zip(names, off.tolist(), strict=True) if by > OUTSIDE)
    why = Reason("piece.move-lines", {"lines": tuple(out)})
    return Result("piece.lines", piece.ref, "count", (0.0, 0.0), float(len(out)), 0.0, why=why)
