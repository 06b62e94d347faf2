"""The two sides of a seam as they lie sewn: how they bend, and which of them is hollow."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from itertools import accumulate
from typing import NamedTuple

from blockwright.curves import bezier
from blockwright.curves._numpy import np
from blockwright.curves.curve import directions
from blockwright.pattern.pattern import Pattern
from blockwright.pattern.piece import Given, Run, Way
from blockwright.pattern.promises.seam import Seam
from blockwright.pattern.ref import Ref
from blockwright.pattern.results import Reason, Result

MOST_UNLIKE = 20.0
"""Degrees by which the sides of a plain seam may lie apart in direction.

The sides of the bundled blocks stay under 8 on nearly all bodies of the survey; the trousers of one
man in a thousand reach 17.5.  A wave that the eye sees goes beyond 20.  Common practice, no source.
"""
HOLLOW = -0.02
"""A run this hollow goes round an opening: a bulge of a fiftieth of its chord squared."""
SAMPLES = 8
"""Places on each piece of a curve at which its direction is taken."""
PLACES = 33
"""Places along a seam at which its sides are compared."""


class _Stretch(NamedTuple):
    """A stretch of an edge: how far its places lie from its start, mm, and how far it has turned.

    Angles are in radians.  `spread` is the range of its directions.
    """

    along: np.ndarray
    turned: np.ndarray
    spread: float


_Stretches = Mapping[Ref, list[_Stretch]]


def sides(pattern: Pattern) -> Iterator[Result]:
    """A result for each seam whose sides do not lie on each other, or hang to the wrong side.

    The sides are alike if they lie on each other, as two side seams do, or beside each other with
    no cloth missing, as the edges of a straight cut do.
    """
    stretches = _stretches(pattern)
    for promise in pattern.promises:
        if promise.sewn is None or promise.sewn[0] == promise.sewn[1]:
            continue  # an edge and its twin are alike
        drawn = [run for run in promise.sewn if _is_drawn(run)]
        shaped = isinstance(promise, Seam) and promise.shaped
        if len(drawn) == 2 and not shaped and _may_differ(stretches, *drawn):
            angle = _unlike(*(_turning(stretches, run) for run in drawn))
            if angle > MOST_UNLIKE:
                yield Result(
                    "seam.bends", promise.ref, "angle", (0.0, MOST_UNLIKE), angle, 0.0,
                    why=Reason("seam.say-shaped"), warning=True,
                )  # fmt: skip
        at_armhole = any(_role(pattern, run) == "armhole" for run in drawn)
        # A cap is full where its armhole is hollow; both hollow is wrong.
        if at_armhole and max(_bulge(_turning(stretches, run)) for run in drawn) < HOLLOW:
            why = Reason("sewing.cap-full", {"piece": _piece(pattern, drawn[0])})
            yield Result("sewing.hangs", promise.ref, "count", (0.0, 0.0), 1.0, 0.0, why=why)


def _is_drawn(run: Run) -> bool:
    """Whether all of a run is drawn here.  Given lengths of nothing are left out."""
    return any(isinstance(step, Way) for step in run) and not any(
        isinstance(step, Given) and step.length for step in run
    )


def _piece(pattern: Pattern, run: Run) -> Ref:
    return next(pattern.owner(step.edge).ref for step in run if isinstance(step, Way))


def _role(pattern: Pattern, run: Run) -> str:
    return next((pattern.stretches(s.edge)[0].role for s in run if isinstance(s, Way)), "")


def _stretches(pattern: Pattern) -> _Stretches:
    """Every stretch of every edge.  All curves are taken together, which is quicker."""
    edges = [(Ref(piece.block, e.name), e) for piece in pattern.pieces for e in piece.edges]
    control = np.concatenate([edge.curve.control for _, edge in edges])
    pieces, t = bezier.sampled(control, np.linspace(0.0, 1.0, SAMPLES))
    ahead, points = directions(pieces, t), bezier.evaluate(pieces, t)
    angles = np.arctan2(ahead[:, 1], ahead[:, 0])
    ends = [*accumulate((SAMPLES * len(edge.curve.control) for _, edge in edges), initial=0)]
    starts = ends[:-1]
    steps = np.hypot(*np.diff(points, axis=0, prepend=points[:1]).T)
    turns = np.remainder(np.diff(angles, prepend=angles[:1]) + math.pi, math.tau) - math.pi
    steps[starts] = turns[starts] = 0.0  # what leads from one stretch to the next counts for none
    along, turned = np.cumsum(steps), np.cumsum(turns)
    spreads = np.maximum.reduceat(turned, starts) - np.minimum.reduceat(turned, starts)
    found: dict[Ref, list[_Stretch]] = {}
    for (ref, _), i, j, spread in zip(edges, starts, ends[1:], spreads.tolist(), strict=True):
        stretch = _Stretch(along[i:j] - along[i], turned[i:j] - turned[i], spread)
        found.setdefault(ref, []).append(stretch)
    return found


def _may_differ(stretches: _Stretches, a: Run, b: Run) -> bool:
    """Whether two sides turn by enough, both together, to be unlike."""
    ways = (step for step in (*a, *b) if isinstance(step, Way))
    turned = sum(each.spread for way in ways for each in stretches[way.edge])
    return turned > 2.0 * math.radians(MOST_UNLIKE)


def _turning(stretches: _Stretches, run: Run) -> np.ndarray:
    """The direction at equal shares of a run, radians, as one line without its corners.

    The run is turned and mirrored to have its cloth on the left.
    """
    along: list[np.ndarray] = []
    turned: list[np.ndarray] = []
    for step in run:
        if not isinstance(step, Way):
            continue
        every = stretches[step.edge]
        for stretch in every if step.forward else reversed(every):
            long, angle = stretch.along, stretch.turned
            if not step.forward:
                long, angle = long[-1] - long[::-1], angle[-1] - angle[::-1]
            if along:
                long, angle = long + along[-1][-1], angle + turned[-1][-1]
            along.append(long)
            turned.append(angle)
    shares = np.linspace(0.0, along[-1][-1], PLACES)
    return np.asarray(np.interp(shares, np.concatenate(along), np.concatenate(turned)))


def _unlike(one: np.ndarray, other: np.ndarray) -> float:
    """The greatest angle between two sides, degrees, best laid on or beside each other."""
    on_each_other, beside = np.ptp(one - other), np.ptp(one + other)
    return math.degrees(min(on_each_other, beside) / 2.0)


def _bulge(angle: np.ndarray) -> float:
    """The area between a run of these directions and its straight chord, over the chord squared.

    It is positive where the run is full, as a sleeve cap, and negative where it is hollow, as an
    armhole.  It is 0 if its ends are one place.
    """
    x, y = np.cumsum(np.cos(angle)), np.cumsum(np.sin(angle))
    chord = float((x[-1] - x[0]) ** 2 + (y[-1] - y[0]) ** 2)
    # The shoelace formula, closed by the straight line.  The cloth lies on the left.
    twice = float((x * np.roll(y, -1) - y * np.roll(x, -1)).sum())
    return twice / 2.0 / chord if chord > 1.0 else 0.0
