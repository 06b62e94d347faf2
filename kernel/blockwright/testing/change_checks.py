"""Checks of what changes a draft: a measurement, an option; and what does not: unit, repetition."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace

from blockwright.body import survey
from blockwright.body.lengths import Unit
from blockwright.body.sheet import BodySheet
from blockwright.errors import GeometryError, InputError
from blockwright.pattern.results import Result
from blockwright.plugin.block import Field, OptionalField
from blockwright.plugin.option import Option
from blockwright.testing.bodies import Body, few
from blockwright.testing.check import Complaints, check
from blockwright.testing.declaration_checks import ends
from blockwright.testing.draft_checks import missed, placing
from blockwright.testing.trial import Trial, TrialOutcome, outcome_differs

SAME = 1e-9
"""Millimetres by which two drafts of the same input may differ."""
ROUNDED = 1e-6
"""Millimetres lost when a length is written in another unit and read again."""
ENOUGH = 3
"""Bodies on which the ends of options are tried."""
STEP = 5.0
"""Millimetres by which a measurement changes when something must change."""


def with_pieces(trials: Sequence[Trial]) -> list[Trial]:
    """Those with a piece; other checks report the others."""
    return [trial for trial in trials if trial.pieces]


def settled(trial: Trial) -> Trial | None:
    """The trial drafted twice in a row, so that nothing of another body is left in it.

    None when the two drafts differ: `repeatable` and `stateless` report that.
    """
    fresh = replace(trial)
    fresh.draft()
    return None if outcome_differs(fresh.outcome, fresh.draft(), within=SAME) else fresh


def given(trial: Trial) -> list[Field]:
    """Measurements of the block that this body's sheet gives, and no block beside it."""
    offered = {name for block in trial.blocks[:-1] for name in block.offers}
    return [
        field
        for field in trial.block.measurements()
        if field.name in trial.body.sheet.values and field.taken not in offered
    ]


@check("repeatable", on="few")
def repeatable(trials: Sequence[Trial]) -> Complaints:
    """The same body and options give the same draft every time."""
    for trial in trials:
        trial.draft()  # so that what another body left behind is left to the next check
        if found := outcome_differs(trial.draft(), trial.draft(), within=SAME):
            yield (
                f"{trial.body.name}: drafted twice: {found}; draft from measurements and options "
                "alone, with no chance in it"
            )
            return


@check("stateless", on="few")
def stateless(trials: Sequence[Trial]) -> Complaints:
    """It keeps nothing between drafts: a draft for another body makes no difference."""
    for trial, other in zip(trials, [*trials[1:], trials[0]], strict=True):
        before = trial.draft()
        other.draft()
        if found := outcome_differs(before, trial.draft(), within=SAME):
            if repeatable.complaints([trial]):
                return  # which says it already
            yield (
                f"{trial.body.name}: after a draft for {other.body.name}: {found}; keep nothing "
                "in the module or the class, only in variables of draft"
            )
            return


@check("same-in-any-unit", on="few")
def same_in_any_unit(trials: Sequence[Trial]) -> Complaints:
    """A body written in cm, mm or inches gives the same draft."""
    for trial in with_pieces(trials):
        values = trial.body.sheet.values
        for unit, size in ((Unit.CM, 10.0), (Unit.IN, 25.4)):
            sheet = BodySheet.from_values(
                {name: value / size for name, value in values.items()},
                units=unit,
                name=trial.body.sheet.name,
            )
            if not outcome_differs(trial.outcome, trial.draft(sheet), within=ROUNDED):
                continue
            if not (fresh := settled(trial)):
                return
            if found := outcome_differs(fresh.outcome, fresh.draft(sheet), within=ROUNDED):
                yield (
                    f"{trial.body.name} in {unit}: {found}; lengths in a block are millimetres, "
                    "whatever the sheet's unit: d.unit is for words only"
                )
                return


@check("measurements-are-used", on="few")
def measurements_used(trials: Sequence[Trial]) -> Complaints:
    """Every measurement that it declares changes the draft, at least with some options.

    For a block beside others it is enough that it does when the block is drafted alone.
    """
    unused = _unused(trials) if with_pieces(trials) else set()
    if unused and with_pieces(alone := _alone(trials)):
        unused &= _unused(alone)
    for name in sorted(unused):
        yield f"measurement {name} changes nothing; use it in draft, or do not ask for it"


def _alone(trials: Sequence[Trial]) -> list[Trial]:
    """The block drafted without the others; nothing when there are no others."""
    first = trials[0]
    if len(first.blocks) == 1:
        return []
    bodies = few([first.block])
    return [Trial((first.block,), body) for body in bodies]


def _unused(trials: Sequence[Trial]) -> set[str]:
    """Measurements that change nothing."""
    complete = [_with_optional(trial) for trial in trials]
    others = [full for full, trial in zip(complete, trials, strict=True) if full is not trial]
    unused = {field.name for trial in with_pieces(complete) for field in given(trial)}
    for settings in ({}, *_each_end(trials[0])):
        for trial in (*trials, *others) if not settings else complete[:1]:
            if not unused:
                break
            plain = trial.draft(settings=settings) if settings else trial.outcome
            unused -= {
                name
                for name in unused & trial.body.sheet.values.keys()
                for outcome in _nudged(trial, name, STEP, settings)
                if outcome_differs(plain, outcome, within=SAME)
            }
    return unused


def _with_optional(trial: Trial) -> Trial:
    """The same body with the optional measurements as well, estimated."""
    lacking = [
        field.name
        for field in trial.block.measurements()
        if isinstance(field, OptionalField)
        and field.name in survey.ESTIMATES
        and field.name not in trial.body.sheet.values
    ]
    if not lacking:
        return trial
    return replace(trial, body=Body("+".join([trial.body.name, *lacking])))


def _each_end(trial: Trial) -> Iterator[dict[str, str]]:
    for option in trial.block.options():
        for setting in _settings(option):
            yield {_set_by(trial, option): setting}


def _set_by(trial: Trial, option: Option[object]) -> str:
    """The name to set an option by; in a set another block may have an option of that name."""
    return option.name if len(trial.blocks) == 1 else f"{trial.block.key}.{option.name}"


def _nudged(
    trial: Trial, name: str, by: float, settings: Mapping[str, str] | None = None
) -> Iterator[TrialOutcome]:
    """Drafts with a measurement larger and smaller, where a sheet can say so."""
    for signed in (by, -by):
        try:
            sheet = trial.changed(name, signed)
        except InputError:  # no body has that; the sheet says so, not the block
            continue
        yield trial.draft(sheet, settings)


@check("options-are-used", on="few")
def options_used(trials: Sequence[Trial]) -> Complaints:
    """Every option that it declares changes the draft at an end of its range.

    For a block beside others it is enough that it does when the block is drafted alone.
    """
    drafted = with_pieces(trials)
    unused = _idle(drafted, trials[0].block.options()) if drafted else []
    if unused and (alone := with_pieces(_alone(trials))):
        unused = _idle(alone, unused)
    for option in unused:
        yield f"option {option.name} changes nothing; use it in draft, or remove it"


def _idle(drafted: Sequence[Trial], options: Iterable[Option[object]]) -> list[Option[object]]:
    """Those of the options that change nothing."""
    return [
        option
        for option in options
        if not any(
            outcome_differs(
                trial.outcome, trial.draft(settings={_set_by(trial, option): end}), within=SAME
            )
            for trial in drafted
            for end in _settings(option)
        )
    ]


def _settings(option: Option[object]) -> list[str]:
    """The ends of an option's range as a maker would type them."""
    return [
        option.shown(end, Unit.MM).replace(" ", "") if isinstance(end, float) else f"{end}"
        for end in ends(option)
    ]


@check("options-work-at-their-ends", on="few")
def options_at_ends(trials: Sequence[Trial]) -> Complaints:
    """At both ends of its range an option gives a proved draft or a refusal."""
    drafted = [trial for trial in with_pieces(trials) if trial.outcome.held][:ENOUGH]
    for option in trials[0].block.options():
        for setting in _settings(option):
            for trial in drafted:
                end = replace(trial, settings={_set_by(trial, option): setting})
                if fault := _end_fault(end, trial):
                    yield f"{option.name} {setting}: {fault} [{end.command()}]"
                    break


def _warnings(trial: Trial) -> tuple[Result, ...]:
    return trial.outcome.proof.warnings if trial.outcome.proof else ()


def _end_fault(end: Trial, usual: Trial) -> str:
    """What is wrong at an end of an option and right with its usual value."""
    outcome = end.outcome
    # `draft` refuses what cannot be drawn; the block did not foresee it.
    unforeseen = outcome.raised and isinstance(outcome.raised.__cause__, GeometryError)
    if outcome.refused and not unforeseen:
        return ""  # `draft` adds to a refusal what was set
    if outcome.proof is None:
        return (
            f"{outcome.raised}; refuse it with InputError, or narrow its range to what can be drawn"
        )
    if outcome.proof.held:
        usually = {outcome.proof.say(result) for result in _warnings(usual)}
        new = [each for each in outcome.proof.warnings if outcome.proof.say(each) not in usually]
        return f"{outcome.proof.say(new[0])}: {missed(outcome.proof, new[0])}" if new else ""
    misplaced = [each for each in outcome.proof.broken if placing(each)]
    broken = [each for each in outcome.proof.broken if each not in misplaced]
    if misplaced and not broken:  # the range is right
        return f"{outcome.proof.say(misplaced[0])!r} is broken; {placing(misplaced[0])}"
    what = f"{outcome.proof.say(broken[0])!r} is broken" if broken else "no piece is made"
    return f"{what}; narrow the range to what can be drawn, or fix the draft"
