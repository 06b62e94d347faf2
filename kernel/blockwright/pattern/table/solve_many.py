"""Find several free values at once that make as many amounts what they must be."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING

from blockwright.curves._numpy import np
from blockwright.errors import GeometryError
from blockwright.pattern.table.solve import SETTLED

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Row = NDArray[np.float64]

# A smooth draft settles in some ten rounds; one that has not by then is not going to.
MOST_ROUNDS = 100
# A step that brings nothing nearer is halved so often.
MOST_HALVINGS = 10
# A value is tried this much off to see how the amounts change with it: as a share of it, or mm.
NUDGE = 1e-5


class Apart(GeometryError):  # noqa: N818  (what was found, not only that there is no answer)
    """No values were found that give every target; `nearest` came nearest, and gave `gave`.

    Both are empty where nothing could be drawn from the start; `why` is what was raised there.
    """

    def __init__(
        self, nearest: Sequence[float] = (), gave: Sequence[float] = (), why: str = ""
    ) -> None:
        self.nearest, self.gave, self.why = tuple(nearest), tuple(gave), why
        off = f"the nearest found give {', '.join(f'{value:.4g}' for value in self.gave)}"
        super().__init__(f"no values come together: {off if gave else why}")


def solve_many(
    measure: Callable[[tuple[float, ...]], Sequence[float]],
    target: Sequence[float],
    start: Sequence[float],
    *,
    rates: Sequence[float] | None = None,
    settled: float = SETTLED,
) -> tuple[float, ...]:
    """Values, as many as targets, that the measure of is within 1e-5 of every target.

    `start` is a guess at all of them.  `rates`: how fast each amount grows with the value in the
    same place, where they hardly hang on the others; when not given it is found by trying each
    value a little off.  Every step is learnt from, and halved while it brings nothing nearer or
    the draft cannot be drawn there (GeometryError).  `settled` is a wider tolerance, for a first
    look.  Values and amounts are in units of your own; the tolerance is meant for mm.

    Raises Apart, a GeometryError with the nearest values and what they gave.
    Source: C. G. Broyden, *A class of methods for solving nonlinear simultaneous equations*,
    Mathematics of Computation 19 (1965) 577-593.

    Example:
        >>> from blockwright import solve_many
        >>> def area_and_edge(sides):
        ...     return sides[0] * sides[1], 2.0 * sum(sides)
        >>> [round(side, 3) for side in solve_many(area_and_edge, (1200.0, 160.0), (10.0, 50.0))]
        [20.0, 60.0]
    """
    wanted = np.array(target, dtype=float)
    at = np.array(start, dtype=float)

    def short(values: Row) -> Row | None:
        """What the amounts fall short by; None where nothing can be drawn."""
        try:
            left = wanted - np.array(measure(tuple(values.tolist())), dtype=float)
        except GeometryError as error:
            why[:] = [str(error)]
            return None
        return left if np.isfinite(left).all() else None

    why: list[str] = [""]
    left = short(at)
    if left is None:
        raise Apart(why=why[0])
    slopes: Row | None = None if rates is None else np.diag(np.array(rates, dtype=float))
    for _ in range(MOST_ROUNDS):
        if np.abs(left).max() <= settled:
            return tuple(at.tolist())
        moved = None if slopes is None else _step(short, at, left, slopes)
        if moved is None:  # what is known of the slopes leads nowhere: look at them from here
            slopes = _slopes(short, at, left)
            moved = None if slopes is None else _step(short, at, left, slopes)
        if moved is None or slopes is None:
            break
        step, new = moved
        slopes = slopes + np.outer(left - new - slopes.dot(step), step) / step.dot(step)
        at, left = at + step, new
    raise Apart(at.tolist(), (wanted - left).tolist())


def _slopes(short: Callable[[Row], Row | None], at: Row, left: Row) -> Row | None:
    """How the amounts change with each value; None where that cannot be seen."""
    columns = []
    for i, value in enumerate(at.tolist()):
        for nudge in (NUDGE * max(abs(value), 1.0), -NUDGE * max(abs(value), 1.0)):
            tried = at.copy()
            tried[i] += nudge
            new = short(tried)
            if new is not None:
                columns.append((left - new) / nudge)
                break
        else:
            return None
    return np.column_stack(columns)


def _step(
    short: Callable[[Row], Row | None], at: Row, left: Row, slopes: Row
) -> tuple[Row, Row] | None:
    """A step that brings the amounts nearer, and what they fall short by then; None for none."""
    try:
        step = np.linalg.solve(slopes, left).astype(np.float64)
    except np.linalg.LinAlgError:
        return None
    for _ in range(MOST_HALVINGS):
        new = short(at + step)
        if new is not None and new.dot(new) < left.dot(left) and step.any():
            return step, new
        step = step / 2.0
    return None
