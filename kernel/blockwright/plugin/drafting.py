"""Draft blocks from a body sheet and settings, each after the blocks that it takes lengths from."""

from __future__ import annotations

import re
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from blockwright.body.lengths import Unit, format_length
from blockwright.body.sheet import BodySheet
from blockwright.errors import (
    GeometryError,
    InputError,
    InputErrors,
    NoSolutionError,
    PatternError,
)
from blockwright.pattern.pattern import Pattern, together
from blockwright.pattern.piece import ROLES, Taken
from blockwright.pattern.record import Estimate, Source
from blockwright.pattern.table.draft import Draft
from blockwright.pattern.table.requirements import InForce
from blockwright.pattern.walk import offered
from blockwright.plugin.block import Block, Field, OptionalField
from blockwright.plugin.guess import Guess, guessed, on_the_sheet
from blockwright.plugin.option import LengthOption, Setting, written
from blockwright.plugin.traceback_line import author_line
from blockwright.spelling import did_you_mean, nearest_to

Settings = Mapping[str, Setting]


def draft(
    block: type[Block] | Sequence[type[Block]],
    sheet: BodySheet,
    settings: Settings | None = None,
    *,
    beside: Pattern | None = None,
) -> Pattern:
    """Draft a block, or a set of blocks, for the body on a sheet.

    `settings` are options by name; in a set, an option that more than one block has is written
    'sleeve.fitted.bicep_ease'.  Lengths without a unit take the sheet's.  In a set each block is
    drafted after those it takes from, and its labels begin with the block's word.  `beside` is an
    existing pattern: the blocks take from it what it offers, and are added to it.
    Raises InputErrors for every missing measurement and wrong setting at once; InputError when
    no pattern can be drawn from these values, or blocks do not go together; PatternError for a
    mistake of a block's author, and whatever else a block's own code raises.

    Example:
        >>> from blockwright import BodySheet, draft, load
        >>> values = {"waist_girth": 70, "hip_girth": 96, "waist_to_hip": 20}
        >>> body = BodySheet.from_values(values, units="cm", name="Trial")
        >>> skirt = draft(load().block("skirt.circle"), body, {"length": "55 cm", "panels": 2})
        >>> skirt.options["length"], [piece.cut for piece in skirt.pieces]
        (550.0, [2])
    """
    blocks = in_order([block] if isinstance(block, type) else block)
    if not blocks:
        raise InputError.coded("drafting.no-block")
    faults: list[InputError] = []
    shared = _shared_out(blocks, settings or {}, faults)
    if beside:
        _check_beside(blocks, beside, sheet)
    taken = [*offered(beside).values()] if beside else []
    there_offered = [each.name for each in taken]
    plans: list[_Plan] = []
    for each in blocks:
        before = {guess.estimate.name: guess for plan in plans for guess in plan.guesses}
        plans.append(_plan(each, blocks, there_offered, sheet, shared[each.key], before, faults))
    if faults:
        raise InputErrors({str(fault): fault for fault in faults}.values())
    there = [origin.key for origin in beside.origins] if beside else []
    words = _words([*there, *(each.key for each in blocks)])
    patterns = [_relabelled(beside, words)] if beside else []
    for plan in plans:
        others = _others(plan.block, blocks, beside)
        try:
            table = Draft(
                plan.block.key, plan.block.title, sheet.units, word=words[plan.block.key],
                takes=plan.block.taken_runs(), offers=plan.block.offers, taken=taken,
                in_force=_in_force(plan, taken, sheet.units),
            )  # fmt: skip
            patterns.append(_drafted(plan, table, sheet, beside=others))
            taken += _offers(plan.block, table).values()
        except Exception as error:
            if len(words) > 1:
                error.add_note(f"in block {plan.block.key!r}")
            raise
    return together(patterns)


def _check_beside(blocks: Sequence[type[Block]], beside: Pattern, sheet: BodySheet) -> None:
    """Raises InputError for a block that is in the pattern, or a pattern of another body."""
    there = [origin.key for origin in beside.origins]
    for block in blocks:
        if block.key in there:
            raise InputError.coded("drafting.already-there", block=block.key)
    if beside.body and sheet.name and beside.body != sheet.name:
        raise InputError.coded("drafting.other-body", beside=beside.body, sheet=sheet.name)


def _others(
    block: type[Block], blocks: Sequence[type[Block]], beside: Pattern | None
) -> list[str] | None:
    """The runs that others offer to a block; None when it is drafted alone."""
    others = [other for other in blocks if other is not block]
    runs = [name for other in others for name in other.offers]
    return [*runs, *(beside.offers if beside else ())] if others or beside else None


def _relabelled(pattern: Pattern, words: Mapping[str, str]) -> Pattern:
    """The pattern with the words of a set on its labels."""
    pieces = (replace(piece, word=words.get(piece.block, piece.word)) for piece in pattern.pieces)
    return replace(pattern, pieces=tuple(pieces))


def in_order(blocks: Sequence[type[Block]]) -> list[type[Block]]:
    """The blocks of a set, each after those it takes from, else in the given order.

    Raises InputError when one is given twice or two offer what another takes as a measurement,
    PatternError when blocks wait for each other.  Of two that offer another run, the block that
    takes it says whose it means.
    """
    givers: dict[str, list[type[Block]]] = {}
    measured = {field.taken for block in blocks for field in block.measurements()}
    for i, block in enumerate(blocks):
        if block in blocks[:i]:
            raise InputError.coded("drafting.given-twice", block=block.key)
        for name in block.offers:
            if name in givers and name in measured:
                raise InputError.coded(
                    "drafting.both-offer", block=givers[name][0].key, other=block.key, run=name
                )
            givers.setdefault(name, []).append(block)
    waiting, ordered = list(blocks), []
    while waiting:
        ready = [
            block
            for block in waiting
            if not any(giver in waiting and giver is not block
                       for name in block.taken_runs() for giver in givers.get(name, ()))
        ]  # fmt: skip
        if not ready:
            keys = ", ".join(block.key for block in waiting)
            raise PatternError(f"{keys} each take from another; one of them must be drafted first")
        ordered.append(ready[0])
        waiting.remove(ready[0])
    return ordered


def _words(keys: Sequence[str]) -> dict[str, str]:
    """What goes before the labels of each block: nothing if it is alone, else its family."""
    if len(keys) == 1:
        return {keys[0]: ""}
    families = [key.partition(".")[0] for key in keys]
    return {
        key: family if families.count(family) == 1 else key
        for key, family in zip(keys, families, strict=True)
    }


# -- options ---------------------------------------------------------------------------------


def _shared_out(
    blocks: Sequence[type[Block]], settings: Settings, faults: list[InputError]
) -> dict[str, dict[str, Setting]]:
    """The settings of each block, by its key."""
    has = {block.key: {option.name for option in block.options()} for block in blocks}
    shared: dict[str, dict[str, Setting]] = {key: {} for key in has}
    words = {word: key for key, word in _words([*has]).items()}
    for name, setting in settings.items():
        key, _, option = name.rpartition(".")
        key = words.get(key, key) if key else key
        owners = [key] if key in has else [k for k in has if name in has[k]]
        if len(owners) > 1:
            ways = " or ".join(f"{owner}.{name}" for owner in owners)
            faults.append(
                InputError.coded("drafting.whose-option", name=name, count=len(owners), ways=ways)
            )
        elif not owners or (key and option not in has[owners[0]]):
            faults.append(_no_option(name, option if key in has else name, has, key))
        elif (option if key else name) in shared[owners[0]]:
            faults.append(
                InputError.coded("drafting.set-twice", name=option or name, block=owners[0])
            )
        else:
            shared[owners[0]][option if key else name] = setting
    return shared


def _no_option(name: str, option: str, has: Mapping[str, set[str]], key: str) -> InputError:
    asked = {key: has[key]} if key in has else has
    known = list(dict.fromkeys(known for options in asked.values() for known in sorted(options)))
    values = {"name": name, "blocks": " and ".join(asked), "known": known}
    if near := nearest_to(option, known):
        return InputError.coded("drafting.misspelt-option", **values, near=near)
    return InputError.coded("drafting.unknown-option", **values)


def _options(
    block: type[Block], sheet: BodySheet, settings: Settings, faults: list[InputError]
) -> dict[str, Any]:
    options = {option.name: option for option in block.options()}
    values = {name: option.default for name, option in options.items()}
    for name, setting in settings.items():
        try:
            values[name] = options[name].parse(setting, sheet.units)
        except InputError as error:
            faults.append(error)
    return values


# -- measurements ----------------------------------------------------------------------------


@dataclass(frozen=True)
class _Plan:
    """One block with its values and options.

    `guesses` are the measurements that the sheet does not give.  `estimates` are those, and what
    the sheet itself only estimates.  `takes` are the measurements taken from other blocks.
    """

    block: type[Block]
    values: dict[str, float]
    guesses: list[Guess]
    options: dict[str, Any]
    asked: tuple[str, ...]
    estimates: list[Estimate]
    takes: list[Field]


def _plan(
    block: type[Block], blocks: Sequence[type[Block]], there: Sequence[str], sheet: BodySheet,
    settings: Settings, before: Mapping[str, Guess], faults: list[InputError],
) -> _Plan:  # fmt: skip
    offered = {name for other in blocks if other is not block for name in other.offers}
    offered.update(there)
    options = _options(block, sheet, settings, faults)
    values: dict[str, float] = {}
    guesses: list[Guess] = []
    estimates: list[Estimate] = []
    takes = []
    for field in block.measurements():
        if field.taken in offered:
            takes.append(field)
        elif field.name in sheet.values:
            values[field.name] = sheet.values[field.name]
            estimates += on_the_sheet(block, [field.name], sheet)
        elif not isinstance(field, OptionalField):
            try:
                guess = guessed(block, field, sheet, before.get(field.name))
            except InputError as fault:
                faults.append(fault)
                continue
            values[field.name] = guess.estimate.value
            guesses.append(guess)
            estimates += [*on_the_sheet(block, guess.needs, sheet), guess.estimate]
    return _Plan(block, values, guesses, options, tuple(settings), estimates, takes)


def _sources(
    plan: _Plan, table: Draft, sheet: BodySheet, *, beside: Sequence[str] | None
) -> list[Source]:
    """Where each length came from that this block can take from another."""
    found = []
    for field in plan.block.measurements():
        if not field.taken:
            continue
        if taken := table.taken(field.taken):
            says = f"walked on {taken.block}"
            if field.name in sheet.values:
                given = format_length(sheet.values[field.name], sheet.units)
                says += f"; the sheet's {given} is not used"
            found.append(Source(field.name, taken.length, says))
        elif field.name in sheet.values:
            says = f"from the sheet: no block drafted with {plan.block.key} offers it"
            found.append(Source(field.name, sheet.values[field.name], says))
    for name in plan.block.takes:
        if walked := table.walked(name):
            found += [Source(name, run.length, f"walked on {run.block}") for run in walked]
        elif beside is not None:
            says = f"no block drafted with {plan.block.key} offers it"
            found.append(Source(name, None, says + did_you_mean(name, beside)))
    return found


# -- drafting --------------------------------------------------------------------------------


def _in_force(plan: _Plan, taken: Sequence[Taken], unit: Unit) -> dict[str, InForce]:
    """What a block is drafted from, by name, as its refusals print it."""
    found = {}
    by_name = {each.name: each for each in taken}
    for field in plan.block.measurements():
        known = field.name in plan.values
        text = format_length(plan.values[field.name], unit) if known else ""
        found[field.name] = InForce("measurement", text)
    for guess in plan.guesses:
        text = format_length(guess.estimate.value, unit)
        found[guess.estimate.name] = InForce("estimated", f"{text} is estimated from {guess.of}")
    for field in plan.takes:
        if run := by_name.get(field.taken):
            text = f"{format_length(run.length, unit)} on {run.block}"
            found[field.name] = InForce("taken", text)
    for option in plan.block.options():
        value = plan.options[option.name]
        shown = option.shown(value, unit)
        found[option.name] = InForce("option", shown, value != option.default)
    return found


def _drafted(
    plan: _Plan, table: Draft, sheet: BodySheet, *, beside: Sequence[str] | None
) -> Pattern:
    values = dict(plan.values)
    for field in plan.takes:
        taken = table.taken(field.taken)
        if taken is None:
            raise PatternError(f"the block that offers the {field.taken!r} has not offered it")
        values[field.name] = taken.length
    try:
        plan.block({**values, **plan.options}).draft(table)
    except GeometryError as error:
        asked = _asked(plan, sheet)
        raise InputError.coded(
            "drafting.cannot-be-drawn-as-set" if asked else "drafting.cannot-be-drawn",
            block=plan.block.key, why=error, used=", ".join(values), asked=asked,
            at=author_line(error),
        ) from error  # fmt: skip
    except InputErrors:
        raise
    except InputError as error:
        refusal = _refusal(error, plan, sheet)
        if refusal is error:
            raise
        raise refusal from error
    needs = {name: sheet.values[name] for guess in plan.guesses for name in guess.needs}
    used = needs | values
    return table.pattern(
        estimates=plan.estimates,
        measurements=used,
        options=plan.options,
        body=sheet.name,
        sources=_sources(plan, table, sheet, beside=beside),
        allowances={role: _allowance(plan.block, role) for role in plan.block.allowances},
        version=plan.block.version,
        eases=_eases(plan),
        chosen=_chosen(plan, sheet.units),
        unused={
            name: value
            for name, value in sheet.values.items()
            if name not in used and name not in sheet.estimates
        },
    )


def _eases(plan: _Plan) -> dict[str, float]:
    """The lengths of the options that are called an ease, by what they are over."""
    eased = (option for option in plan.block.options() if isinstance(option, LengthOption))
    return {
        option.name.removesuffix("ease").rstrip("_"): plan.options[option.name]
        for option in eased
        if option.name.endswith("ease") and plan.options[option.name] is not None
    }


def _chosen(plan: _Plan, unit: Unit) -> dict[str, str]:
    """The options that differ from the usual, but for eases, as text in the maker's unit."""
    return {
        option.name: option.shown(plan.options[option.name], unit)
        for option in plan.block.options()
        if plan.options[option.name] != option.default
        and not (isinstance(option, LengthOption) and option.name.endswith("ease"))
    }


def _refusal(error: InputError, plan: _Plan, sheet: BodySheet) -> InputError:
    """A block's refusal with the block's name and what the maker set, where it lacks them."""
    if error.code == "drafting.both-offer":
        return error
    block, asked = plan.block.key, _asked(plan, sheet)
    kind = NoSolutionError if isinstance(error, NoSolutionError) else InputError
    refusal = error
    if not error.code and not str(error):
        refusal = kind.coded("drafting.refused-without-reason", block=block)
    elif not names_any(error, [block]):
        refusal = kind.coded("drafting.refused", block=block, why=error)
    if asked and not names_any(error, plan.asked):
        refusal = kind.coded("drafting.refused-as-set", block=block, why=refusal, asked=asked)
    return refusal


def names_any(refusal: object, names: Collection[str]) -> bool:
    """Whether a refusal names one of these: a block, a measurement or an option.

    A coded refusal has the name in its values.  What a block's author writes, in a refusal of the
    block or as advice, is text alone, so that text is searched.
    """
    if isinstance(refusal, InputErrors):
        refusal = refusal.faults
    elif isinstance(refusal, InputError):
        refusal = [*refusal.values.values()] if refusal.code else str(refusal)
    if isinstance(refusal, list | tuple):
        return any(names_any(each, names) for each in refusal)
    return isinstance(refusal, str) and any(
        re.search(rf"\b{re.escape(name)}\b", refusal) for name in names
    )


def _allowance(block: type[Block], role: str) -> float:
    if role not in ROLES:
        there = did_you_mean(role, ROLES) or f"; there are {', '.join(ROLES)}"
        raise PatternError(f"{block.key}: its allowance for {role!r}: no such role{there}")
    try:
        return written(block.allowances[role])
    except InputError as error:
        raise PatternError(f"{block.key}: its allowance for {role}: {error}") from None


def _asked(plan: _Plan, sheet: BodySheet) -> list[str]:
    """Each option that the maker set, with its value; a refusal may not know of it."""
    options = {option.name: option for option in plan.block.options()}
    return [f"{n} {options[n].shown(plan.options[n], sheet.units)}" for n in plan.asked]


def _offers(block: type[Block], table: Draft) -> dict[str, Taken]:
    offers = table.offers() if block.offers else {}
    missing = [name for name in block.offers if name not in offers]
    if missing:
        raise PatternError(f"{block.key} says it offers {missing[0]!r} and does not; call d.offer")
    return offers
