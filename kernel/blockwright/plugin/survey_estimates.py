"""What a body of the survey lacks for some blocks, and how to have it estimated."""

from __future__ import annotations

from collections.abc import Sequence

from blockwright.body import survey
from blockwright.body.sheet import BodySheet
from blockwright.plugin.block import Block, Field, OptionalField


def completed(blocks: Sequence[type[Block]], sheet: BodySheet) -> str:
    """What to type for a body of the survey that has not all that these blocks need.

    Nothing for one that has, and for a sheet that is not of the survey.
    """
    lacking = [name for name in to_estimate(blocks) if name not in sheet.values]
    if not lacking or not sheet.where.startswith(f"{survey.NAME}:"):
        return ""
    if never := [name for name in lacking if name not in survey.ESTIMATES]:
        return f"The survey cannot estimate {' and '.join(never)}: write a body sheet, --body FILE"
    return f"To have what it lacks estimated: --body {'+'.join([sheet.where, *lacking])}"


def to_estimate(blocks: Sequence[type[Block]]) -> list[str]:
    """What the blocks need and the survey has not, after the blocks' own rules."""
    found: list[str] = []
    for asked in drafted_from(blocks):
        ways = [rule.needs for rule in asked.estimates]
        if asked.name in survey.MEASURED or any(set(n) <= survey.MEASURED for n in ways):
            continue
        possible = [n for n in ways if set(n) <= survey.MEASURED | survey.ESTIMATES.keys()]
        needed = min(possible, key=len, default=(asked.name,))
        found += [name for name in needed if name not in survey.MEASURED]
    return list(dict.fromkeys(found))


def drafted_from(blocks: Sequence[type[Block]]) -> list[Field]:
    """The measurements that these blocks need and do not take from each other."""
    offered = {name for block in blocks for name in block.offers}
    fields = (field for block in blocks for field in block.measurements())
    return [f for f in fields if f.taken not in offered and not isinstance(f, OptionalField)]
