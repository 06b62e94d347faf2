"""Checks of what a change does: to a measurement, an option, the unit; and of nothing changed."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from blockwright.body.lengths import Unit
from blockwright.body.sheet import BodySheet
from blockwright.errors import InputError
from blockwright.plugin.block import Field
from blockwright.plugin.option import Option
from blockwright.testing.alike import farthest_move, makeup
from blockwright.testing.check import Complaints, check
from blockwright.testing.declared import ends
from blockwright.testing.trial import Outcome, Trial, outcome_differs

SAME = 1e-9
"""Millimetres: drafts from the same input are the same to the last bits."""
ROUNDED = 1e-6
"""Millimetres: what is lost when a length is written in another unit and read again."""
NUDGE = 0.1
"""Millimetres by which a measurement changes when the draft must change as little."""
ENOUGH = 3
"""Bodies on which the ends of options are tried."""
STEP = 5.0
"""Millimetres by which a measurement changes when something must change."""


def _drafted(trials: Sequence[Trial]) -> Iterator[Trial]:
    return (trial for trial in trials if trial.pattern is not None)


def _given(trial: Trial) -> list[Field]:
    """Measurements of the block that this body's sheet gives."""
    return [f for f in trial.block.measurements() if f.name in trial.body.sheet.values]


@check("same-every-time", on="few")
def same_every_time(trials: Sequence[Trial]) -> Complaints:
    """The same body and options give the same draft, every time."""
    for trial in trials:
        if found := outcome_differs(trial.draft(), trial.draft(), within=SAME):
            yield (
                f"{trial.body.name}: drafted twice: {found}; draft from measurements and options "
                "alone, with no chance in it"
            )
            return


@check("keeps-nothing", on="few")
def keeps_nothing(trials: Sequence[Trial]) -> Complaints:
    """What was drafted before makes no difference: nothing is kept between drafts."""
    if same_every_time.complaints(trials):
        return  # which says it already
    for trial, other in zip(trials, [*trials[1:], trials[0]], strict=True):
        before = trial.draft()
        other.draft()
        if found := outcome_differs(before, trial.draft(), within=SAME):
            yield (
                f"{trial.body.name}: after a draft for {other.body.name}: {found}; keep nothing "
                "in the module or the class, only in variables of draft"
            )
            return


@check("same-in-any-unit", on="few")
def same_in_any_unit(trials: Sequence[Trial]) -> Complaints:
    """The same body written in cm, mm or inches gives the same draft."""
    for trial in _drafted(trials):
        values = trial.body.sheet.values
        for unit, size in ((Unit.CM, 10.0), (Unit.IN, 25.4)):
            sheet = BodySheet.from_values(
                {name: value / size for name, value in values.items()},
                units=unit,
                name=trial.body.sheet.name,
            )
            if found := outcome_differs(trial.outcome, trial.draft(sheet), within=ROUNDED):
                yield (
                    f"{trial.body.name} in {unit}: {found}; lengths in a block are millimetres, "
                    "whatever the sheet's unit: d.unit is for words only"
                )
                return


@check("measurements-are-used", on="few")
def measurements_used(trials: Sequence[Trial]) -> Complaints:
    """Every measurement it declares changes something, with some options at least."""
    unused = {field.name for trial in trials for field in _given(trial)}
    for settings in ({}, *_each_end(trials[0])):
        for trial in trials if not settings else trials[:1]:
            plain = trial.draft(settings=settings) if unused else trial.outcome
            unused -= {
                name
                for name in unused & trial.body.sheet.values.keys()
                for outcome in _nudged(trial, name, STEP, settings)
                if outcome_differs(plain, outcome, within=SAME)
            }
    for name in sorted(unused):
        yield f"measurement {name} changes nothing; use it in draft, or do not ask for it"


def _each_end(trial: Trial) -> Iterator[dict[str, str]]:
    for option in trial.block.options():
        for setting in _settings(option):
            yield {option.name: setting}


def _nudged(
    trial: Trial, name: str, by: float, settings: Mapping[str, str] | None = None
) -> Iterator[Outcome]:
    """Drafts with a measurement larger and smaller, where a sheet can say so."""
    for signed in (by, -by):
        try:
            sheet = trial.changed(name, signed)
        except InputError:  # no body has that; the sheet says so, not the block
            continue
        yield trial.draft(sheet, settings)


@check("options-are-used", on="few")
def options_used(trials: Sequence[Trial]) -> Complaints:
    """Every option it declares changes something at one of its ends."""
    for option in trials[0].block.options():
        if not any(
            outcome_differs(trial.outcome, trial.draft(settings={option.name: end}), within=SAME)
            for trial in _drafted(trials)
            for end in _settings(option)
        ):
            yield f"option {option.name} changes nothing; use it in draft, or take it out"


def _settings(option: Option[object]) -> list[str]:
    """The ends of an option's range as a maker would type them."""
    return [
        option.shown(end, Unit.MM) if isinstance(end, float) else f"{end}" for end in ends(option)
    ]


@check("options-work-at-their-ends", on="few")
def options_at_ends(trials: Sequence[Trial]) -> Complaints:
    """At both ends of its range an option gives a proved draft, or is refused by its name."""
    drafted = list(_drafted(trials))[:ENOUGH]
    for option in trials[0].block.options():
        for setting in _settings(option):
            faults = [_end_fault(option, trial, setting) for trial in drafted]
            if fault := next(filter(None, faults), ""):
                yield f"--set {option.name}={setting}: {fault}"


def _end_fault(option: Option[object], trial: Trial, setting: str) -> str:
    outcome = trial.draft(settings={option.name: setting})
    if outcome.refused and option.name in str(outcome.raised):
        return ""
    if outcome.proof is None:
        return (
            f"{outcome.raised}; refuse it with InputError that names {option.name}, or narrow "
            "its range to what can be drawn"
        )
    if outcome.proof.held:
        return ""
    return (
        f"{outcome.proof.broken[0].name!r} is broken; narrow the range to what can be drawn, or "
        "mend the draft"
    )


@check("changes-steadily", on="few")
def changes_steadily(trials: Sequence[Trial]) -> Complaints:
    """A tenth of a millimetre on a measurement moves no point by more than so many times that."""
    told: set[str] = set()
    for trial in _drafted(trials):
        traits = trial.block.traits
        for field in _given(trial):
            for outcome in _nudged(trial, field.name, NUDGE):
                fault = _jump(trial, outcome, traits.steadiness, bool(traits.steps))
                if fault and field.name not in told:
                    told.add(field.name)
                    yield f"{trial.body.name}: {NUDGE:g} mm of {field.name}: {fault}"


def _jump(trial: Trial, outcome: Outcome, most: float, steps: bool) -> str:
    if trial.pattern is None or outcome.pattern is None:
        return ""  # where bodies begin to be refused; refuses-few has its eye on that
    if makeup(trial.pattern) != makeup(outcome.pattern):
        return (
            ""
            if steps
            else "the pieces or edges are others; if they must be, say why in traits.steps"
        )
    move, where = farthest_move(trial.pattern, outcome.pattern)
    if move <= most * NUDGE:
        return ""
    return (
        f"{where} moves {move:.2f} mm, {move / NUDGE:.0f} times as much, and {most:g} times is the "
        "most; look for a jump between two rules, or say in traits.steadiness what is right"
    )
