"""The bodies a block is tried on: real ones with the extremes among them, and made-up ones."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import cached_property
from itertools import islice

from blockwright.body import made_up_bodies, survey
from blockwright.body.sheet import BodySheet
from blockwright.errors import InputError
from blockwright.plugin.block import Block
from blockwright.plugin.survey_estimates import drafted_from, to_estimate
from blockwright.plugin.traits import Wearers

FEW = 12
"""Bodies that the slow checks look at."""
SEXES: dict[Wearers, str] = {"all": "", "women": "female-", "men": "male-"}
"""How the names of the bodies of these wearers begin."""
MADE_UP = 4
"""How many of the few are made up."""


@dataclass(frozen=True)
class Body:
    """A body by name, as `--body` takes it: 'survey:female-17'; `real` when it is a person's.

    The bodies are of ANSUR II (NATICK/TR-15/007, 2014); a made-up one is 'survey:made-' and more.
    Asking for the sheet of a name that is not there is a KeyError; one from elsewhere is `given`
    with its sheet.

    Example:
        >>> from blockwright.testing import Body
        >>> body = Body("survey:female-17")
        >>> body.real, round(body.sheet.values["waist_girth"])
        (True, 868)
    """

    name: str
    given: BodySheet | None = field(default=None, repr=False, compare=False)

    @property
    def real(self) -> bool:
        """Whether it was measured on a person."""
        return made_up_bodies.PREFIX not in self.name

    @cached_property
    def sheet(self) -> BodySheet:
        """What was measured, and what was estimated because a block needs it."""
        return self.given or survey.sheet(self.name.removeprefix(f"{survey.NAME}:"))


def few(blocks: Sequence[type[Block]]) -> list[Body]:
    """A dozen: a middling body, real ones with the least or most of a measurement, made-up ones."""
    wearers = _wearers(blocks)
    others = wearers[:: len(wearers) // FEW]
    real = dict.fromkeys([_middling(wearers), *_extremes(blocks), *others])
    made = islice(made_up_bodies.names(wearers), MADE_UP)
    return _bodies(blocks, [*list(real)[: FEW - MADE_UP], *made])


def many(blocks: Sequence[type[Block]], count: int) -> list[Body]:
    """So many: the few, then real ones from all over the survey, then made-up ones.

    InputError for less than one.
    """
    if count < 1:
        raise InputError.coded("check.no-bodies", count=count)
    first = [body.name.partition(":")[2].partition("+")[0] for body in few(blocks)]
    others = [name for name in _wearers(blocks) if name not in first]
    room = max(count - len(first), 0)
    step = max(len(others) / max(room, 1), 1.0)
    real = [others[int(i * step)] for i in range(min(room, int(len(others) / step)))]
    made = (name for name in made_up_bodies.names(_wearers(blocks)) if name not in first)
    return _bodies(blocks, [*first, *real, *islice(made, count)][:count])


def _bodies(blocks: Sequence[type[Block]], names: Sequence[str]) -> list[Body]:
    plus = "".join(f"+{name}" for name in to_estimate(blocks))
    return [Body(f"{survey.NAME}:{name}{plus}") for name in names]


def _wearers(blocks: Sequence[type[Block]]) -> list[str]:
    """Names of the real bodies that all of these blocks are for; InputError when there are none."""
    for block in blocks:
        if (wearers := block.traits.wearers) not in SEXES:
            raise InputError.coded(
                "check.unknown-wearers", block=block.key, wearers=wearers, known=[*SEXES]
            )
    sexes = tuple(SEXES[block.traits.wearers] for block in blocks)
    found = [name for name in survey.names() if all(name.startswith(sex) for sex in sexes)]
    if not found:
        keys = " and ".join(block.key for block in blocks)
        raise InputError.coded("check.nobody", blocks=keys)
    return found


def _middling(wearers: Sequence[str]) -> str:
    """The body whose girths come nearest to the middle ones."""

    def girths(name: str) -> tuple[float, ...]:
        values = survey.measured(survey.row(name))
        return tuple(values[girth] for girth in ("bust_girth", "waist_girth", "hip_girth"))

    every = {name: girths(name) for name in wearers}
    middle = [sorted(column)[len(every) // 2] for column in zip(*every.values(), strict=True)]
    return min(
        every,
        key=lambda name: sum(
            abs(mine - its) for mine, its in zip(every[name], middle, strict=True)
        ),
    )


def _extremes(blocks: Sequence[type[Block]]) -> list[str]:
    """Real bodies with the least and the most of what the last block is drafted from, in turn."""
    wearers = _wearers(blocks)
    values = {name: survey.measured(survey.row(name)) for name in wearers}
    wanted = [field.name for field in drafted_from(blocks) if field.name in survey.MEASURED]
    least = [min(wearers, key=lambda name: values[name][what]) for what in wanted]
    most = [max(wearers, key=lambda name: values[name][what]) for what in wanted]
    return [name for pair in zip(least, most, strict=True) for name in pair]
