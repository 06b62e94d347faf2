"""Draft a block from a body sheet and settings."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from blockwright.body.measurements import lookup
from blockwright.body.sheet import BodySheet
from blockwright.errors import GeometryError, InputError, InputErrors
from blockwright.pattern.draft import Draft
from blockwright.pattern.pattern import Estimate, Pattern
from blockwright.plugin.block import Block
from blockwright.plugin.option import Setting
from blockwright.spelling import did_you_mean


def draft(
    block: type[Block], sheet: BodySheet, settings: Mapping[str, Setting] | None = None
) -> Pattern:
    """Draft a block for the body on a sheet; `settings` are options by name.

    Lengths without a unit take the sheet's.  Raises InputErrors for every missing measurement
    and wrong setting at once, InputError when no pattern can be drawn from these values.
    """
    faults: list[str] = []
    options = _options(block, sheet, settings or {}, faults)
    values, estimates = _measurements(block, sheet, faults)
    if faults:
        raise InputErrors(faults)
    table = Draft(block.key, block.title, sheet.units)
    try:
        block({**values, **options}).draft(table)
    except GeometryError as error:
        used = ", ".join(values)
        raise InputError(
            f"{block.key}: cannot be drawn from these values: {error}; check {used} and the options"
        ) from error
    return table.pattern(estimates=estimates, measurements=values, options=options, body=sheet.name)


def _options(
    block: type[Block], sheet: BodySheet, settings: Mapping[str, Setting], faults: list[str]
) -> dict[str, Any]:
    options = {option.name: option for option in block.options()}
    values = {name: option.default for name, option in options.items()}
    for name, setting in settings.items():
        if name not in options:
            hint = did_you_mean(name, options) or f"; it has {', '.join(options) or 'none'}"
            faults.append(f"{block.key} has no option {name!r}{hint}")
            continue
        try:
            values[name] = options[name].parse(setting, sheet.units)
        except InputError as error:
            faults.append(str(error))
    return values


def _measurements(
    block: type[Block], sheet: BodySheet, faults: list[str]
) -> tuple[dict[str, float], list[Estimate]]:
    values: dict[str, float] = {}
    estimates: list[Estimate] = []
    for field in block.measurements():
        if field.name in sheet.values:
            values[field.name] = sheet.values[field.name]
            continue
        lacking = [[n for n in rule.needs if n not in sheet.values] for rule in field.estimates]
        if [] in lacking:
            rule = field.estimates[lacking.index([])]
            value = rule.find(*(sheet.values[name] for name in rule.needs))
            values[field.name] = value
            estimates.append(Estimate(field.name, value, rule.says))
        else:
            fewest: list[str] = min(lacking, key=len, default=[])
            instead = f", or {' and '.join(fewest)} to estimate it from" if fewest else ""
            faults.append(_missing(block, sheet, field.name, instead))
    return values, estimates


def _missing(block: type[Block], sheet: BodySheet, name: str, instead: str) -> str:
    return f"{sheet.where}: {block.key} needs {name}{instead}: {lookup(name).how}"
