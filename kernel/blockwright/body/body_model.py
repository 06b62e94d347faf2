"""The body model: how the measurements of adults go together, and what that says of a sheet.

It has the mean and the covariance of the logarithms of the measurements, for women and for men.
`fit_body_model.py` fits them to the survey and says what is moved and what is added by rules.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from itertools import pairwise
from pathlib import Path
from typing import NamedTuple

from blockwright.curves._numpy import np

MODEL = Path(__file__).with_name("body_model.csv")
WEARERS = ("women", "men")
DOUBTED = 2.6
"""Standard deviations from what the other measurements let expect, beyond which one is doubted."""
USUAL = 2.0
"""Standard deviations on either side of the middle: 95 of 100 bodies lie between."""
EIGHTY = 1.2816
"""The same for 80 of 100 bodies."""
FEWEST = 3
"""So many measurements say something of each other."""
TAIL = 12.0
"""Degrees of freedom of the tails: the less usual the body, the wider what goes with it."""
BETTER = ("thigh_girth", "knee_height")
"""What the model estimates better than the rules of the trade, on bodies kept out of the fit.

Most other rules are of what the survey did not take, or took in another way.
"""
FAR_BETTER = 12.0
"""Twice the logarithm of 400: so many times likelier is a sheet one wearer's than the other's."""
FAR = 3.5
"""Standard deviations beyond which a measurement is none of an adult of the survey."""
MOST_FAR = 1.0 / 3.0
"""The share of such measurements from which the model says nothing of a body."""


@dataclass(frozen=True, slots=True)
class Doubt:
    """A measurement that hardly goes with the others, mm.

    With all others, `low` to `high` is usual.  `was` is what may have been meant, if a common slip
    of the pen explains it.
    """

    name: str
    value: float
    low: float
    high: float
    was: float | None


class Likely(NamedTuple):
    """A measurement as the others let expect it, mm: 80 of 100 such bodies lie in the range."""

    value: float
    low: float
    high: float


class _Fit(NamedTuple):
    """Mean (n,) and covariance (n, n) of logarithms."""

    mean: np.ndarray
    covariance: np.ndarray


class _Given(NamedTuple):
    """Some measurements of one body: `whole` is how unusual they are, `alone` each one's share."""

    precision: np.ndarray
    pull: np.ndarray
    alone: np.ndarray
    whole: float
    unlikely: float
    """Minus twice the logarithm of the density, but for the measurement that fits least."""


class _Expected(NamedTuple):
    """The logarithm of each measurement as the others let expect it, and the spread of that."""

    middle: np.ndarray
    spread: np.ndarray


@cache
def names() -> tuple[str, ...]:
    """The measurements that the model has."""
    return tuple(row[1] for row in _rows() if row[0] == WEARERS[0])


def doubts(values: Mapping[str, float]) -> list[Doubt]:
    """The measurements, mm by name, that hardly go with the others, the least likely first.

    None where there are too few, and none of a body that is unlike all adults of the survey, such
    as a child's: see `holds_for`.
    """
    known = _known(values)
    found: list[Doubt] = []
    while len(known) >= FEWEST and holds_for(known):
        logs = np.log([*known.values()])
        # A sheet does not say whose it is, so what goes with women or with men is not doubted.
        ways = [_expected(fit, _places([*known]), logs) for fit in _fits()]
        expected = min(ways, key=lambda way: np.max(_off(logs, way)))
        off = _off(logs, expected)
        worst = int(np.argmax(off))
        if off[worst] < DOUBTED:
            break
        name = [*known][worst]
        middle, reach = expected.middle[worst], USUAL * expected.spread[worst]
        low, high = math.exp(middle - reach), math.exp(middle + reach)
        found.append(Doubt(name, known[name], low, high, _meant(known.pop(name), low, high)))
    return found


def estimate(values: Mapping[str, float], name: str) -> Likely | None:
    """A measurement as those given let expect it, mm by name.

    It is weighed by how likely the sheet is a woman's or a man's, so it never jumps.  For a body
    unlike those of the survey the range is wider.  None if the model does not have it, or if fewer
    than three that it has are given.
    """
    known = {other: value for other, value in _known(values).items() if other != name}
    if name not in names() or len(known) < FEWEST:
        return None
    places, logs = _places([*known]), np.log([*known.values()])
    (place,) = _places([name])
    ways = [_missing(fit, places, logs, place) for fit in _fits()]
    middles, spreads, unlikely = np.array(ways).T
    weights = np.exp((unlikely.min() - unlikely) / 2.0)
    weights /= weights.sum()
    middle = float(weights @ middles)
    reach = EIGHTY * math.sqrt(weights @ (spreads**2 + (middles - middle) ** 2))
    return Likely(math.exp(middle), math.exp(middle - reach), math.exp(middle + reach))


def likely_wearer(values: Mapping[str, float]) -> str:
    """'women' or 'men' if the measurements, mm by name, go far better with theirs; '' if not.

    Nothing is said of a body that is unlike all adults of the survey, and no sheet is a man's that
    has no chest girth, or a woman's that has no bust girth.
    """
    known = _known(values)
    if len(known) < FEWEST or not holds_for(known):
        return ""
    places, logs = _places([*known]), np.log([*known.values()])
    women, men = (_unlikely(fit, places, logs) for fit in _fits())
    found, of = ("women", "bust_girth") if women < men else ("men", "chest_girth")
    return found if abs(women - men) > FAR_BETTER and of in values else ""


def holds_for(values: Mapping[str, float]) -> bool:
    """Whether the model holds for a body: no more than a third of it is none of an adult.

    It holds for a sheet of too few measurements, which it says nothing of.
    """
    known = _known(values)
    if len(known) < FEWEST:
        return True
    places = _places([*known])
    logs = np.log([*known.values()])
    shares = [
        np.mean(np.abs(logs - fit.mean[places]) > FAR * np.sqrt(np.diag(fit.covariance)[places]))
        for fit in _fits()
    ]
    return bool(min(shares) <= MOST_FAR)


def _known(values: Mapping[str, float]) -> dict[str, float]:
    return {name: value for name, value in values.items() if name in names()}


def _unlikely(fit: _Fit, places: Sequence[int], logs: np.ndarray) -> float:
    """Minus twice the logarithm of the density of these measurements, but for a constant."""
    off, covariance = logs - fit.mean[places], fit.covariance[np.ix_(places, places)]
    return float(off @ np.linalg.solve(covariance, off) + np.linalg.slogdet(covariance)[1])


def _off(logs: np.ndarray, expected: _Expected) -> np.ndarray:
    """How many standard deviations each measurement lies from what is expected of it."""
    off: np.ndarray = np.abs(logs - expected.middle) / expected.spread
    return off


def _given(fit: _Fit, places: Sequence[int], logs: np.ndarray) -> _Given:
    """How these measurements lie among those of the wearers."""
    precision = np.linalg.inv(fit.covariance[np.ix_(places, places)])
    off = logs - fit.mean[places]
    pull = precision @ off
    # By how much each measurement makes the body less usual.
    alone = pull * pull / np.diag(precision)
    whole = float(off @ pull)
    unlikely = whole - float(alone.max()) - float(np.linalg.slogdet(precision)[1])
    return _Given(precision, pull, alone, whole, unlikely)


def _wider(unusual: float | np.ndarray, count: int) -> np.ndarray:
    """How much farther a body strays that is so unusual in `count` measurements, squared."""
    return np.asarray(np.maximum(1.0, (TAIL + unusual) / (TAIL + count)))


def _expected(fit: _Fit, places: Sequence[int], logs: np.ndarray) -> _Expected:
    """What is expected of each measurement, given the others."""
    given = _given(fit, places, logs)
    own = np.diag(given.precision)
    spread = np.sqrt(_wider(given.whole - given.alone, len(logs) - 1) / own)
    return _Expected(logs - given.pull / own, spread)


def _missing(
    fit: _Fit, places: Sequence[int], logs: np.ndarray, place: int
) -> tuple[float, float, float]:
    """The logarithm of a measurement that is missing, its spread, and how unlikely the others are.

    Of the others the one that fits least is left out.
    """
    given = _given(fit, places, logs)
    across = fit.covariance[place, places]
    middle = fit.mean[place] + across @ given.pull
    variance = fit.covariance[place, place] - across @ given.precision @ across
    spread = math.sqrt(variance * _wider(given.whole, len(logs)))
    return float(middle), spread, given.unlikely


def _meant(value: float, low: float, high: float) -> float | None:
    """What a common slip made this value of, mm, if that is usual: the nearest to the middle."""
    slips = [value + 100.0, value - 100.0, 2.0 * value, value / 2.0, 2.54 * value, value / 2.54]
    meant = [each for each in (*_swapped(value), *slips) if low <= each <= high]
    return min(meant, key=lambda each: abs(each - (low + high) / 2.0), default=None)


def _swapped(value: float) -> Iterator[float]:
    """The value with two digits next to each other swapped, written as centimetres."""
    digits = f"{round(value):d}"
    for i, (one, other) in enumerate(pairwise(digits)):
        if one != other:
            yield float(digits[:i] + other + one + digits[i + 2 :])


@cache
def _fits() -> tuple[_Fit, ...]:
    fits = []
    for wearers in WEARERS:
        rows = [row[2:] for row in _rows() if row[0] == wearers]
        lower = np.zeros((len(rows), len(rows)))
        for i, row in enumerate(rows):
            lower[i, : i + 1] = row[1:]
        mean = np.array([float(row[0]) for row in rows])
        fits.append(_Fit(mean, lower + lower.T - np.diag(np.diag(lower))))
    return tuple(fits)


@cache
def _rows() -> list[list[str]]:
    """The rows of the file: wearers, name, mean, and the covariance with each name up to it."""
    lines = MODEL.read_text(encoding="utf-8").splitlines()
    return [line.split(",") for line in lines if not line.startswith("#")]


def _places(known: Sequence[str]) -> list[int]:
    where = {name: place for place, name in enumerate(names())}
    return [where[name] for name in known]
