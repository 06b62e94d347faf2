"""Measurements that a block needs and the sheet does not give: estimated, or asked for."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass, replace
from numbers import Real

from blockwright.body import body_model
from blockwright.body.measurements import lookup
from blockwright.body.sheet import BodySheet
from blockwright.errors import InputError, PatternError
from blockwright.pattern.record import Estimate
from blockwright.plugin.block import Block, Field, Rule

BY_MODEL = "by the body model, from all that the sheet gives (survey of 2012, NATICK/TR-15/007)"


@dataclass(frozen=True, slots=True)
class Guess:
    """An estimate, the measurements that its rule needs, and what a refusal says it comes from."""

    estimate: Estimate
    needs: tuple[str, ...]
    of: str


def guessed(block: type[Block], field: Field, sheet: BodySheet, before: Guess | None) -> Guess:
    """The estimate of a measurement: by the first rule whose needs the sheet has.

    The body model stands in for the rule where it is better.  `before` is the estimate of another
    block of the set, which goes first: a body has one estimate.  Raises InputError where nothing
    can be estimated, and PatternError where the rule gives no length.
    """
    if before and field.estimates:
        return replace(before, estimate=replace(before.estimate, block=block.key))
    for rule in field.estimates:
        if all(name in sheet.values for name in rule.needs):
            return _by_rule(block, field.name, rule, sheet)
    raise _missing(block, field, sheet)


def on_the_sheet(block: type[Block], names: Iterable[str], sheet: BodySheet) -> list[Estimate]:
    """The measurements among these that the sheet itself has only estimated."""
    return [
        Estimate(name, sheet.values[name], sheet.estimates[name], block.key)
        for name in names
        if name in sheet.estimates
    ]


def _by_rule(block: type[Block], name: str, rule: Rule, sheet: BodySheet) -> Guess:
    """What the rule gives, or the model where that is better, and how sure it is."""
    value: object = rule.find(*(sheet.values[need] for need in rule.needs))
    if not isinstance(value, Real) or not math.isfinite(value):
        raise PatternError(
            f"{block.key}: the rule for {name} ({rule.says}) gave {value!r}; give a length in mm"
        )
    likely = body_model.estimate(sheet.values, name)
    if likely and name in body_model.BETTER:
        estimate = Estimate(name, likely.value, BY_MODEL, block.key, likely.low, likely.high)
        return Guess(estimate, rule.needs, "all that the sheet gives")
    estimate = Estimate(name, float(value), rule.says, block.key)
    if likely:
        estimate = replace(estimate, low=likely.low, high=likely.high)
    return Guess(estimate, rule.needs, " and ".join(rule.needs))


def _missing(block: type[Block], field: Field, sheet: BodySheet) -> InputError:
    """That the measurement is missing, and what would do in its place."""
    lacking = [[n for n in rule.needs if n not in sheet.values] for rule in field.estimates]
    fewest: list[str] = min(lacking, key=len, default=[])
    ways: list[object] = [field.name]
    if fewest:
        ways.append(InputError.coded("drafting.or-estimate", names=" and ".join(fewest)))
    if field.taken:
        ways.append(InputError.coded("drafting.or-taken", run=field.taken))
    return InputError.coded(
        "drafting.missing-measurement", where=sheet.where, block=block.key, name=field.name,
        ways=ways, how=lookup(field.name).how,
    )  # fmt: skip
