"""The edges of an outline that cross."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Sequence
from itertools import accumulate

from blockwright.curves.intersect import Crossing
from blockwright.pattern.piece import Edge


def crossed_edges(edges: Sequence[Edge], crossing: Crossing) -> tuple[Edge, Edge]:
    """The two edges of an outline on which one of its `self_crossings` lies."""
    ends = list(accumulate(edge.curve.length for edge in edges))
    first, second = (
        edges[min(bisect_left(ends, along), len(edges) - 1)]
        for along in (crossing.along_a, crossing.along_b)
    )
    return first, second
