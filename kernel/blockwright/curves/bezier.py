"""Cubic Bézier pieces as arrays: control points (n, 4, 2), parameters 0..1."""

from __future__ import annotations

from functools import cache

from blockwright.curves._numpy import np
from blockwright.curves.spiral import gauss
from blockwright.errors import GeometryError

# An interval is integrated well if a rule over it and rules over both halves agree to this share of
# the whole curve.  The sum of the halves is then far better.
QUADRATURE_AGREES = 1e-11
# A piece that nearly stops at its very end can turn between the last node and the end, where no
# rule sees it.  Then the speed at some node is below this share of the greatest speed.
SLOW = 0.05
# Halving comes to 2^-40 of a piece near a cusp, where the speed falls to zero.
DEEPEST = 40


def evaluate(control: np.ndarray, t: np.ndarray) -> np.ndarray:
    """The points (m, 2) of pieces `control` (m, 4, 2), each at its parameter of `t` (m,)."""
    t = t[:, None]
    s = 1.0 - t
    return np.asarray(
        s * s * s * control[:, 0]
        + 3.0 * s * s * t * control[:, 1]
        + 3.0 * s * t * t * control[:, 2]
        + t * t * t * control[:, 3]
    )


def points_at(control: np.ndarray, shares: np.ndarray) -> np.ndarray:
    """The points (n * m, 2) of every piece (n, 4, 2) at the same parameters (m,), in order."""
    t, s = shares, 1.0 - shares
    basis = np.stack([s * s * s, 3.0 * s * s * t, 3.0 * s * t * t, t * t * t], axis=1)
    return np.asarray((basis @ control).reshape(-1, 2))


def derivative(control: np.ndarray, t: np.ndarray) -> np.ndarray:
    """The first derivatives (m, 2) by the parameter."""
    step = np.diff(control, axis=1)
    t = t[:, None]
    s = 1.0 - t
    return np.asarray(3.0 * (s * s * step[:, 0] + 2.0 * s * t * step[:, 1] + t * t * step[:, 2]))


def second_derivative(control: np.ndarray, t: np.ndarray) -> np.ndarray:
    """The second derivatives (m, 2) by the parameter."""
    bend = np.diff(control, n=2, axis=1)
    t = t[:, None]
    return np.asarray(6.0 * ((1.0 - t) * bend[:, 0] + t * bend[:, 1]))


def sampled(control: np.ndarray, places: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Every piece repeated for each of the places (0..1), and the parameters of all."""
    return np.repeat(control, len(places), axis=0), np.tile(places, len(control))


def restrict(control: np.ndarray, t0: np.ndarray, t1: np.ndarray) -> np.ndarray:
    """The parts of pieces between the parameters t0 and t1, as pieces (m, 4, 2)."""
    start, end = evaluate(control, t0), evaluate(control, t1)
    third = ((t1 - t0) / 3.0)[:, None]
    return np.stack(
        [
            start,
            start + derivative(control, t0) * third,
            end - derivative(control, t1) * third,
            end,
        ],
        axis=1,
    )


@cache
def _speed_tables() -> tuple[np.ndarray, np.ndarray]:
    """The derivative basis at the nodes of an interval and of both halves, and the weights."""
    nodes, weights = gauss()
    t = np.concatenate([nodes, nodes / 2.0, 0.5 + nodes / 2.0])
    s = 1.0 - t
    basis = np.column_stack(
        [-3.0 * s * s, 3.0 * s * (s - 2.0 * t), 3.0 * t * (2.0 * s - t), 3.0 * t * t]
    )
    n = len(nodes)
    rules = np.zeros((3 * n, 3))
    rules[:n, 0] = weights
    rules[n : 2 * n, 1] = weights / 2.0
    rules[2 * n :, 2] = weights / 2.0
    return basis, rules


def arc_intervals(control: np.ndarray) -> tuple[np.ndarray, np.ndarray, np.ndarray, np.ndarray]:
    """The pieces in intervals on which Gauss's rule gives the length exactly.

    Returns the piece, the start and end parameters and the length of each interval, in order along
    the chain.  Smooth pieces stay whole.  A piece that nearly stops, as at a cusp, is halved
    towards that place.
    """
    basis, rules = _speed_tables()
    # Measured from their own starts, small pieces far from the origin do not suffer from rounding.
    control = control - control[:, :1]
    index = np.arange(len(control))
    t0, t1 = np.zeros(len(control)), np.ones(len(control))
    part = control
    done: list[tuple[np.ndarray, np.ndarray, np.ndarray, np.ndarray]] = []
    scale = 0.0
    for depth in range(DEEPEST + 1):
        velocity = basis @ part
        speeds = np.hypot(velocity[..., 0], velocity[..., 1])
        lengths = speeds @ rules
        halves = lengths[:, 1] + lengths[:, 2]
        scale = scale or float(halves.sum())
        if not np.isfinite(scale):
            raise GeometryError("the curve is too large to measure")
        # A part shorter than the room cannot spoil the agreement.
        room = QUADRATURE_AGREES * scale
        good = (np.abs(lengths[:, 0] - halves) <= room) | (halves <= room)
        slow = speeds.min(axis=1) < SLOW * speeds.max(axis=1)
        if slow.any():
            good[slow] &= ~_hides_a_turn(part[slow], QUADRATURE_AGREES * scale)
        if good.all() and not done:
            return index, t0, t1, halves
        if depth == DEEPEST:
            good[:] = True
        done.append((index[good], t0[good], t1[good], halves[good]))
        bad = ~good
        if not bad.any():
            break
        middle = (t0[bad] + t1[bad]) / 2.0
        index = np.repeat(index[bad], 2)
        t0, t1 = (
            np.column_stack([t0[bad], middle]).ravel(),
            np.column_stack([middle, t1[bad]]).ravel(),
        )
        part = restrict(control[index], t0, t1)
    joined = [np.concatenate(column) for column in zip(*done, strict=True)]
    order = np.lexsort((joined[1], joined[0]))
    index, t0, t1, halves = (column[order] for column in joined)
    return index, t0, t1, halves


def _hides_a_turn(control: np.ndarray, allowed: float) -> np.ndarray:
    """Pieces that turn so sharply near a stop that a smooth rule misses more than `allowed` mm.

    The velocity as a complex number is a quadratic.  Near a root z of it the speed is
    |velocity'(z)| times the distance to z.  A rule that does not see the distance h of the root
    from the real axis takes it for 0, and misses about h^2 |velocity'(z)| log(1/h).  A rule whose
    nodes all lie on one side of the root takes the speed beyond for negative, and misses the square
    of the way from there to the end.
    """
    step = 3.0 * (control[:, 1:] - control[:, :-1])
    d0, d1, d2 = (step[:, i, 0] + 1j * step[:, i, 1] for i in range(3))
    square, linear = d0 - 2.0 * d1 + d2, 2.0 * (d1 - d0)
    slope = np.sqrt(linear * linear - 4.0 * square * d0)
    # Take the sign that does not cancel.
    slope = np.where((linear.conj() * slope).real < 0.0, -slope, slope)
    q = -(linear + slope) / 2.0
    with np.errstate(divide="ignore", invalid="ignore"):
        root = np.stack([q / square, d0 / q])
    near = (np.abs(root.real - 0.5) < 0.55) & (np.abs(root.imag) < 0.05)
    # The logarithm stays below 30 for any h that matters.
    beyond = np.maximum(np.minimum(root.real, 1.0 - root.real), 0.0)
    missed = np.abs(slope) * (30.0 * root.imag**2 + beyond**2)
    return np.asarray((near & (missed > allowed)).any(axis=0))


def velocity(control: np.ndarray) -> np.ndarray:
    """The coefficients (3, 2, m, 1) of the velocity by rising powers of the parameter."""
    p0, p1, p2, p3 = control.transpose(1, 2, 0)[..., None]
    first = p1 - p0
    second = p2 - p1 - first
    return np.array([3.0 * first, 6.0 * second, 3.0 * (p3 - p2 - first - 2.0 * second)])


def speed(coefficients: np.ndarray, t: np.ndarray) -> np.ndarray:
    """The speeds (m, k) at parameters (m, k), of the coefficients from `velocity`."""
    c0, c1, c2 = coefficients
    x, y = c0 + t * (c1 + t * c2)
    return np.asarray(np.hypot(x, y))


def arc_length(coefficients: np.ndarray, t0: np.ndarray, t1: np.ndarray) -> np.ndarray:
    """The lengths (m,) from t0 to t1 of pieces with the coefficients from `velocity`.

    They are exact within an interval of `arc_intervals`.
    """
    nodes, weights = gauss()
    span = t1 - t0
    t = t0[:, None] + span[:, None] * nodes
    return np.asarray((speed(coefficients, t) @ weights) * span)


def split(piece: np.ndarray, t: float) -> tuple[np.ndarray, np.ndarray]:
    """Both parts of one piece (4, 2) cut at a parameter, by de Casteljau's construction."""
    a = piece[:-1] + (piece[1:] - piece[:-1]) * t
    b = a[:-1] + (a[1:] - a[:-1]) * t
    c = b[0] + (b[1] - b[0]) * t
    return np.array([piece[0], a[0], b[0], c]), np.array([c, b[1], a[2], piece[3]])


def halves(control: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """The first and the second halves of pieces, by the parameter."""
    p0, p1, p2, p3 = (control[:, i] for i in range(4))
    p01, p12, p23 = (p0 + p1) / 2.0, (p1 + p2) / 2.0, (p2 + p3) / 2.0
    p012, p123 = (p01 + p12) / 2.0, (p12 + p23) / 2.0
    middle = (p012 + p123) / 2.0
    return (np.stack([p0, p01, p012, middle], axis=1), np.stack([middle, p123, p23, p3], axis=1))


def power(control: np.ndarray) -> np.ndarray:
    """The coefficients (n, 2, 4) of x and y by rising powers of the parameter."""
    p0, p1, p2, p3 = (control[:, i] for i in range(4))
    return np.stack(
        [p0, 3.0 * (p1 - p0), 3.0 * (p0 - 2.0 * p1 + p2), p3 - p0 + 3.0 * (p1 - p2)], axis=2
    )
