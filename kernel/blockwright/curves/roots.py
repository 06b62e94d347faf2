"""Roots of many polynomials at once: for the nearest place on a curve and its sharpest bend."""

from __future__ import annotations

from functools import cache
from math import comb

from blockwright.curves._numpy import np

# The centres c of the substitution below.  They lie outside 0..1.  There are three, because the
# polynomial must not be zero at its centre.
PIVOTS = (-1.0, 2.0, -0.375)


def roots(coefficients: np.ndarray) -> np.ndarray:
    """Candidates (n, k) for the roots in 0..1 of n polynomials of degree k, given as (n, k + 1).

    Coefficients run from the constant upwards.  Leading ones may be zero.  The candidates contain
    every simple root in 0..1 to about 1e-9, and every double root to half as many digits.  Some
    candidates are no roots: they are real parts of complex roots, or roots outside that are clipped
    to 0 or 1.  The caller tests them.  A polynomial that is zero everywhere gives zeros.

    Method: the eigenvalues of the companion matrix of p(c + 1/x).  Its leading coefficient is p(c),
    so a polynomial of a lower degree, as of a straight piece, does no harm.
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
    """The products of polynomials with their coefficients in the last axis."""
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
