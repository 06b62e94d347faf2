"""Roots of many polynomials at once, where a curve is nearest, or bends most."""

from __future__ import annotations

from functools import cache
from math import comb

from blockwright.curves._numpy import np

# Where the polynomials are turned inside out: a place outside 0..1 at which a given one is not
# zero.  Three, so that one that vanishes at the first is taken at another.
PIVOTS = (-1.0, 2.0, -0.375)


def roots(coefficients: np.ndarray) -> np.ndarray:
    """Candidates (n, k) for the roots in 0..1 of n polynomials of degree k, given (n, k + 1).

    Coefficients run from the constant upwards; leading ones may be zero.  Every root in 0..1 is
    among the candidates to about 1e-9 where it is simple (a double one to half the digits);
    some candidates are none: real parts of complex roots, and roots outside clipped to 0 or 1.
    The caller keeps the ones that serve.  A polynomial that is zero throughout gives 0s.

    Method: eigenvalues of the companion matrix of p(c + 1/x), whose leading coefficient is p(c):
    so a piece that is of lower degree than it could be, such as a straight one, does no harm.
    """
    count, terms = coefficients.shape
    degree = terms - 1
    shifted = np.stack([coefficients @ matrix for matrix in _shifts(degree)])
    best = np.abs(shifted[..., 0]).argmax(axis=0)
    rows = shifted[best, np.arange(count)]
    some = rows[:, 0] != 0.0
    out = np.zeros((count, degree))
    if not some.any():
        return out
    monic = rows[some, 1:] / rows[some, :1]
    companion = np.zeros((len(monic), degree, degree))
    companion[:, 0, :] = -monic
    companion[:, np.arange(1, degree), np.arange(degree - 1)] = 1.0
    x = np.linalg.eigvals(companion)
    finite = np.abs(x) > 1e-12
    t = np.array(PIVOTS)[best[some], None] + (1.0 / np.where(finite, x, 1.0)).real
    out[some] = np.clip(np.where(finite, t, 0.0), 0.0, 1.0)
    return out


def times(a: np.ndarray, b: np.ndarray) -> np.ndarray:
    """Products of polynomials, coefficients in the last axis."""
    out = np.zeros((*a.shape[:-1], a.shape[-1] + b.shape[-1] - 1))
    for i in range(b.shape[-1]):
        out[..., i : i + a.shape[-1]] += a * b[..., i : i + 1]
    return out


@cache
def _shifts(degree: int) -> list[np.ndarray]:
    """For each pivot c, the matrix that takes the coefficients of p(t) to those of p(c + y)."""
    return [
        np.array(
            [
                [comb(i, j) * pivot ** (i - j) if j <= i else 0.0 for j in range(degree + 1)]
                for i in range(degree + 1)
            ]
        )
        for pivot in PIVOTS
    ]
