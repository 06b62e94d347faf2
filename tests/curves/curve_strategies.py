"""Curves drawn at random, with near-coincident, near-straight and cusped ones on purpose."""

from __future__ import annotations

import numpy as np
from hypothesis import strategies as st

from blockwright.curves.curve import Curve
from blockwright.curves.point import Point

# The standard cusp: it stops at its middle.
CUSP = np.array([[0.0, 0.0], [100.0, 100.0], [0.0, 100.0], [100.0, 0.0]])

coordinates = st.integers(-200_000, 200_000).map(lambda n: n / 1000.0)
places = st.tuples(coordinates, coordinates)
points = places.map(lambda place: Point(*place))
tiny = st.sampled_from([0.0, 1e-12, 1e-9, 1e-6, 1e-3])


@st.composite
def control_points(draw: st.DrawFn) -> np.ndarray:
    """Four points of one piece, not all one."""
    kind = draw(st.sampled_from(["any", "any", "coincident", "straight", "cusp", "short"]))
    control = np.array([draw(places) for _ in range(4)])
    if kind == "coincident":
        i, j = draw(st.sampled_from([(0, 1), (2, 3), (1, 2), (0, 3)]))
        control[j] = control[i] + draw(tiny)
    elif kind == "straight":
        share = np.array([0.0, draw(st.floats(-0.5, 1.5)), draw(st.floats(-0.5, 1.5)), 1.0])
        control = control[0] + share[:, None] * (control[3] - control[0])
        control[1, 1] += draw(tiny)
        control[2, 0] -= draw(tiny)
    elif kind == "cusp":
        matrix = control[:2] / 100.0
        control = CUSP @ matrix + control[2]
        control[2, 0] += draw(tiny)
    elif kind == "short":
        control = control[0] + (control - control[0]) * 1e-6
    # Rounding of places 200 mm off is 3e-14 mm: smaller pieces have no nine digits to measure.
    return control if np.ptp(control, axis=0).max() > 5e-5 else CUSP.copy()


@st.composite
def curves(draw: st.DrawFn, pieces: int = 3) -> Curve:
    """A chain of one to a few pieces, each starting at the end of the last."""
    chain = [draw(control_points()) for _ in range(draw(st.integers(1, pieces)))]
    for i in range(1, len(chain)):
        chain[i] += chain[i - 1][3] - chain[i][0]
        chain[i][0] = chain[i - 1][3]
    return Curve(np.array(chain))
