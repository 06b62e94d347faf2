"""What is measured on a fair curve: by distance along it and on its control points alone.

Nothing here asks the solver; only `spans` does, for the claims about the spiral itself.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from curve_samples import Marks

from blockwright.curves import spiral
from blockwright.curves.affine import Affine
from blockwright.curves.curve import Curve, curvatures
from blockwright.curves.fair import fair_curve
from blockwright.curves.point import Point

# Samples of each piece of the chain, ends included.
T = np.linspace(0.0, 1.0, 9)
NODES, WEIGHTS = np.polynomial.legendre.leggauss(24)
NODES, WEIGHTS = (NODES + 1.0) / 2.0, WEIGHTS / 2.0


@dataclass(frozen=True)
class Fit:
    """Marks, the directions fixed at the ends, and the curve through them."""

    marks: Marks
    start: Point | None
    end: Point | None

    @cached_property
    def curve(self) -> Curve:
        return fair_curve(self.marks, self.start, self.end)

    @cached_property
    def spans(self) -> list[spiral.Span]:
        start, end = (None if d is None else d.angle for d in (self.start, self.end))
        return spiral.solve(self.marks, start, end)

    @cached_property
    def last_pieces(self) -> np.ndarray:
        """For each span the last piece of the chain that belongs to it: it ends on the mark."""
        ends = self.curve.control[:, 3]
        found, piece = [], 0
        for mark in self.marks[1:]:
            while tuple(ends[piece].tolist()) != mark:
                piece += 1
            found.append(piece)
            piece += 1
        return np.array(found)

    @cached_property
    def mark_distances(self) -> np.ndarray:
        """How far along the curve each mark lies."""
        ends = self.curve.along(self.last_pieces, np.ones(len(self.last_pieces)))
        return np.concatenate([[0.0], ends])

    @cached_property
    def largest_bend(self) -> float:
        return max(max(abs(span.start_curvature), abs(span.end_curvature)) for span in self.spans)

    # -- measures ------------------------------------------------------------------------------

    def off_the_marks(self) -> float:
        """Greatest distance of a mark from where the curve passes it, mm."""
        on = self.curve.points_at(self.mark_distances)
        return float(np.hypot(*(on - np.array(self.marks)).T).max())

    def tangent_jump(self) -> float:
        """Greatest break of direction between pieces of the chain, rad."""
        control = self.curve.control
        before, after = (control[:, 3] - control[:, 2])[:-1], (control[:, 1] - control[:, 0])[1:]
        cross = before[:, 0] * after[:, 1] - before[:, 1] * after[:, 0]
        return float(np.abs(np.arctan2(cross, (before * after).sum(axis=1))).max(initial=0.0))

    def off_the_tangents(self) -> float:
        """Greatest angle between the curve and a direction fixed at an end, rad."""
        pairs = ((self.start, self.curve.start_tangent), (self.end, self.curve.end_tangent))
        return max(
            abs(math.atan2(asked.cross(got), asked.dot(got))) if asked else 0.0
            for asked, got in pairs
        )

    def span_jump(self) -> float:
        """Greatest jump of curvature at a mark between spirals, as a share of the largest."""
        pairs = zip(self.spans, self.spans[1:], strict=False)
        return self._of_largest(
            max((abs(a.end_curvature - b.start_curvature) for a, b in pairs), default=0.0)
        )

    def chain_jump(self) -> float:
        """Greatest jump of curvature between pieces of the chain, as a share of the largest."""
        control = self.curve.control
        ends = curvatures(control, np.ones(len(control)))[:-1]
        starts = curvatures(control, np.zeros(len(control)))[1:]
        return self._of_largest(float(np.abs(ends - starts).max(initial=0.0)))

    def wobble(self) -> float:
        """Greatest difference between the chain's curvature and the straight run of curvature
        from mark to mark, as a share of the largest."""
        control = self.curve.control
        piece = np.repeat(np.arange(len(control)), len(T))
        t = np.tile(T, len(control))
        along = self.curve.along(piece, t)
        at = self.mark_distances
        span = np.searchsorted(self.last_pieces, piece)
        share = (along - at[span]) / (at[span + 1] - at[span])
        first = np.array([one.start_curvature for one in self.spans])[span]
        last = np.array([one.end_curvature for one in self.spans])[span]
        straight = first + (last - first) * share
        return self._of_largest(float(np.abs(curvatures(control[piece], t) - straight).max()))

    def _of_largest(self, bend: float) -> float:
        """A curvature as a share of the largest; on a straight line, as a share of its length."""
        return bend / self.largest_bend if self.largest_bend else bend * self.curve.length

    def off_the_spirals(self) -> float:
        """Greatest distance of the chain from the spirals, as a share of its span's length."""
        worst = 0.0
        share = np.linspace(0.05, 0.95, 7)
        for i, span in enumerate(self.spans):
            t = share[:, None] * NODES
            angle = (
                span.direction
                + span.alpha
                + t * (span.beta - span.alpha - span.shape + span.shape * t)
            )
            steps = np.stack([np.cos(angle) @ WEIGHTS, np.sin(angle) @ WEIGHTS], axis=1)
            truth = np.array(self.marks[i]) + span.length * share[:, None] * steps
            begin, end = self.mark_distances[i : i + 2]
            at = begin + (end - begin) * share
            off = across(self.curve, at, truth)
            worst = max(worst, float(off.max()) / span.length)
        return worst

    def strays(self, other: Curve) -> float:
        """Greatest distance, mm, of this curve from another that should be the same."""
        share = np.linspace(0.0, 1.0, 25 * len(self.marks))
        return float(
            across(
                self.curve, share * self.curve.length, other.points_at(share * other.length)
            ).max()
        )

    # -- the same marks laid otherwise -----------------------------------------------------------

    def moved(self, by: Affine) -> Fit:
        marks = [tuple(by(Point(*mark))) for mark in self.marks]
        still = by(Point(0.0, 0.0))
        start, end = (None if d is None else by(d) - still for d in (self.start, self.end))
        return Fit(marks, start, end)

    def reversed(self) -> Fit:
        start, end = (None if d is None else -d for d in (self.end, self.start))
        return Fit(self.marks[::-1], start, end)

    def with_mark_at(self, distance: float) -> Fit:
        """One more mark, put on the curve."""
        i = int(np.searchsorted(self.mark_distances, distance))
        mark = tuple(self.curve.point_at(distance))
        return Fit([*self.marks[:i], mark, *self.marks[i:]], self.start, self.end)


def across(curve: Curve, distances: np.ndarray, points: np.ndarray) -> np.ndarray:
    """Distances of points, square to the curve at places that should be theirs.

    Where a point lies `d` from its place, this is its distance from the curve but for d^2 times
    half the curvature.
    """
    off = points - curve.points_at(distances)
    tangent = curve.tangents_at(distances)
    return np.asarray(np.abs(tangent[:, 0] * off[:, 1] - tangent[:, 1] * off[:, 0]))


def control_gap(a: Curve, b: Curve) -> float:
    """Greatest distance between control points; endless if the pieces are not as many."""
    if a.control.shape != b.control.shape:
        return math.inf
    return float(np.abs(a.control - b.control).max())
