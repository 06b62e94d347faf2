"""Checks of what a block declares; they look at its class alone."""

from __future__ import annotations

import inspect
from collections.abc import Sequence

from blockwright.body.lengths import Unit
from blockwright.errors import InputError
from blockwright.plugin.block import Block, block_fault
from blockwright.plugin.option import ALLOWANCE, Option
from blockwright.spelling import nearest_to
from blockwright.testing.check import Complaints, check
from blockwright.testing.trial import Trial


@check("block-is-named", on="block")
def is_named(block: type[Block]) -> Complaints:
    """It has a key, a title and all else that the host needs."""
    if fault := block_fault(block):
        yield fault


@check("block-is-described", on="block")
def is_described(block: type[Block]) -> Complaints:
    """Its docstring begins with a sentence that says what it is."""
    text = inspect.cleandoc(vars(block).get("__doc__") or "")
    first = text.splitlines()[0] if text else ""
    if not first:
        yield f"{block.__name__} has no docstring; say in one line what it is"
    elif not first.endswith((".", ":")) or len(first.split()) < 2:
        yield (
            f"the docstring of {block.__name__} begins {first!r}; make it one sentence, with a "
            "point"
        )


@check("options-are-described", on="block")
def options_described(block: type[Block]) -> Complaints:
    """Every option says in a few words what it is."""
    for option in block.options():
        if not option.says.strip() or "\n" in option.says:
            yield (
                f"option {option.name} says {option.says!r}; write says='...', one line of what "
                "it is"
            )
        if option.default is None and not option.auto.strip():
            yield f"option {option.name} has no default; write auto='...': how the block decides"


@check("rules-are-described", on="block")
def rules_described(block: type[Block]) -> Complaints:
    """Every rule that estimates a measurement says what it is, for proof and label."""
    for field in block.measurements():
        for rule in field.estimates:
            if not rule.says.strip():
                needs = ", ".join(rule.needs)
                yield f"the rule for {field.name} from {needs} says nothing; write it in words"


@check("defaults-are-allowed", on="block")
def defaults_allowed(block: type[Block]) -> Complaints:
    """Every option's default lies in its own range."""
    for option in block.options():
        if option.default is None:
            continue
        try:
            option.parse(option.default, Unit.MM)
        except InputError as error:
            yield f"the default is not allowed: {error}"


@check("options-can-be-set", on="block")
def options_settable(block: type[Block]) -> Complaints:
    """Every option has a name that the command line can set."""
    for option in block.options():
        if option.name.endswith(ALLOWANCE):
            yield (
                f"option {option.name}: names that end in {ALLOWANCE} set the allowances of a "
                "finish; give it another"
            )
        elif option.name.startswith("_"):
            yield f"option {option.name} begins with an underscore; give it a plain name"


@check("takes-are-offered", on="few")
def takes_offered(trials: Sequence[Trial]) -> Complaints:
    """What it takes from blocks beside it is offered there, by that name."""
    *beside, block = trials[0].blocks
    offered = [name for other in beside for name in other.offers]
    taken = block.taken_runs()
    spare = [name for name in offered if name not in taken]
    for name in taken if beside else ():
        near = nearest_to(name, spare)
        if name in offered or not (near or not any(each in offered for each in taken)):
            continue
        others = " and ".join(other.key for other in beside)
        has = ", ".join(map(repr, offered)) or "nothing"
        meant = f"; did you mean {near}?" if near else ""
        yield f"it takes {name!r}, which {others} does not offer{meant}; offered: {has}"


def ends(option: Option[object]) -> list[object]:
    """The settings at the ends of an option's range, or all its words."""
    if hasattr(option, "of"):
        return [word for word in option.of if word != option.default]
    ends = [getattr(option, name) for name in ("low", "high") if hasattr(option, name)]
    return [end for end in ends if end != option.default]
