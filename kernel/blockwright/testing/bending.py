"""Bend the edges that a block draws, a little and each in its own way, while it drafts."""

from __future__ import annotations

import math
import random
import sys
from collections.abc import Callable, Iterator
from contextlib import ExitStack, contextmanager
from functools import wraps
from typing import Any

from blockwright.curves._numpy import np
from blockwright.curves.curve import Curve
from blockwright.curves.fair import FairSpline
from blockwright.errors import GeometryError
from blockwright.pattern.table.draft import Draft
from blockwright.pattern.truing import LaidLine

KERNEL = "blockwright"
"""The package whose public names plugins import."""
MAKERS = (
    *("arc", "arc_between", "arc_through", "fair_curve", "join", "line", "parallel", "polyline"),
    "true_line",
)
"""Public functions that make a curve."""
SOLVERS = ("solve", "solve_many")
"""Public functions that try drawings which are not kept."""
# A curve is bent by this share of its length at most, and by no less than LEAST mm, so that the
# length of a short straight line changes by more than the tenth of a millimetre it is held to.  A
# very short one is bent by the share SHORT.
LEAST, SHORT = 2.5, 0.12
# A chord shorter than this share of the curve has no direction to bend away from.
CLOSED = 0.2
# The angle between the way a curve is bent and the square of its chord, radians.
ASKEW = 0.4


class Bend:
    """One way to bend everything that is drawn: the same `seed` and `share` bend alike."""

    def __init__(self, seed: int, share: float) -> None:
        self._seed, self._share = seed, share
        self._chance = random.Random(seed)
        self._trying = 0

    @contextmanager
    def drawing(self) -> Iterator[None]:
        """While a block is drafted within, what it draws is bent, and no check of its own refuses.

        Nothing is bent while a value is solved for: what is tried then is not drawn.
        """
        with ExitStack() as undo:
            kernel = sys.modules[KERNEL]
            for name in (*MAKERS, *SOLVERS):
                was = getattr(kernel, name)  # loads it, so that it is found below
                new = self._bending(was) if name in MAKERS else self._still(was)
                for space in _plugin_modules():
                    for each in [key for key, value in space.items() if value is was]:
                        _put(undo, space, each, new)
            for name in SOLVERS:
                _set(undo, Draft, name, self._still(getattr(Draft, name)))
            for name in ("require", "within"):
                _set(undo, Draft, name, lambda *_, **__: None)
            self._bend_splines(undo)
            yield

    def curve(self, curve: Curve, chance: random.Random | None = None) -> Curve:
        """A curve from the same start to the same end, with another length and other tangents."""
        chance = chance or self._chance
        flat = curve.control.reshape(-1, 2)
        steps = np.hypot(*np.diff(flat, axis=0).T)
        along = np.concatenate([[0.0], np.cumsum(steps)])
        whole = float(along[-1])
        chord = flat[-1] - flat[0]
        if math.hypot(*chord) < CLOSED * whole:
            chord = np.array([1.0, 0.0])
        # Askew, since the ends of half a circle run straight away from its chord.
        askew = math.atan2(*chord[::-1]) + math.pi / 2.0 + chance.choice((-1.0, 1.0)) * ASKEW
        aside = np.array([math.cos(askew), math.sin(askew)])
        size = max(self._share * whole, min(LEAST, SHORT * whole))
        once, twice = (chance.choice((-1.0, 1.0)) * chance.uniform(0.8, 1.2) for _ in range(2))
        at = math.pi * along / whole
        # Half as steep, so that neither end keeps its direction.
        wave = size * (once * np.sin(at) + 0.25 * twice * np.sin(2.0 * at))
        wave[0] = wave[-1] = 0.0
        try:
            return Curve((flat + wave[:, None] * aside).reshape(-1, 4, 2))
        except GeometryError:
            return curve

    def _bent(self, made: Any) -> Any:
        if isinstance(made, tuple):
            return tuple(self._bent(each) for each in made)
        return self.curve(made) if isinstance(made, Curve) else made

    def _bending(self, maker: Callable[..., Any]) -> Callable[..., Any]:
        @wraps(maker)
        def bending(*given: Any, **named: Any) -> Any:
            made = maker(*given, **named)
            return made if self._trying else self._bent(made)

        return bending

    def _still(self, solver: Callable[..., Any]) -> Callable[..., Any]:
        @wraps(solver)
        def still(*given: Any, **named: Any) -> Any:
            self._trying += 1
            try:
                return solver(*given, **named)
            finally:
                self._trying -= 1

        return still

    def _bend_splines(self, undo: ExitStack) -> None:
        """A spline is drawn bent, and is as long as it is drawn."""
        curve, between = FairSpline.curve, FairSpline.between
        length, laid_length = FairSpline.length, LaidLine.length

        def bent(spline: FairSpline, made: Curve, *part: int) -> Curve:
            chance = random.Random(repr((self._seed, spline.points, part)))
            return made if self._trying else self.curve(made, chance)

        def spline_length(spline: FairSpline) -> float:
            return length.fget(spline) if self._trying else spline.curve().length  # type: ignore[attr-defined]

        def line_length(laid: LaidLine) -> float:
            if self._trying:
                return laid_length.fget(laid)  # type: ignore[attr-defined, no-any-return]
            return math.fsum(each.length for each in laid.curves())

        _set(undo, FairSpline, "curve", lambda spline: bent(spline, curve(spline)))
        _set(
            undo, FairSpline, "between",
            lambda spline, first, last: bent(spline, between(spline, first, last), first, last),
        )  # fmt: skip
        _set(undo, FairSpline, "length", property(spline_length))
        _set(undo, LaidLine, "length", property(line_length))


def _plugin_modules() -> Iterator[dict[str, Any]]:
    """The names of every module but the kernel's own; those of its public package are among them.

    The kernel measures with the same functions, and what measures is not bent.
    """
    for name, module in list(sys.modules.items()):
        if not name.startswith(f"{KERNEL}.") and hasattr(module, "__dict__"):
            yield vars(module)


def _put(undo: ExitStack, space: dict[str, Any], name: str, new: object) -> None:
    undo.callback(space.__setitem__, name, space[name])
    space[name] = new


def _set(undo: ExitStack, kind: type, name: str, new: object) -> None:
    undo.callback(setattr, kind, name, vars(kind)[name])
    setattr(kind, name, new)
