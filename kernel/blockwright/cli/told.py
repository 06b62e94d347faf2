"""The outcome of a job told on the terminal."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from blockwright.cli.host import warn
from blockwright.errors import InputError

if TYPE_CHECKING:
    from blockwright.job.job import Outcome

BROKEN, WRONG_INPUT, FAILED = 1, 2, 3


def told(outcome: Outcome, *, as_json: bool = False, unproved: bool = False) -> int:
    """Print warnings, proof, files and faults; the exit code."""
    for line in outcome.warnings:
        warn(line)
    if outcome.document and not outcome.faults:
        _tell_proof(outcome, as_json)
        proof, unit = outcome.document.proof, outcome.document.unit
        for each in proof.warnings:
            wanted, found = proof.wanted(each, unit), proof.measured(each, unit)
            warn(f"look at {proof.say(each)}: {found}, usual is {wanted}")
    for fault in outcome.faults:
        for line in str(fault).splitlines():
            warn(line)
    if outcome.faults:
        wrong = all(isinstance(fault, InputError) for fault in outcome.faults)
        return WRONG_INPUT if wrong else FAILED
    if outcome.held:
        return 0
    if not unproved:
        warn("a promise is broken, nothing written; --unproved writes it all the same")
    return BROKEN


def _tell_proof(outcome: Outcome, as_json: bool) -> None:
    assert outcome.document
    if as_json:
        import json

        from blockwright.formats.json import as_values

        values = as_values(outcome.document) | {"files": [str(path) for path in outcome.paths]}
        click.echo(json.dumps(values, indent=1, allow_nan=False))
        return
    click.echo(outcome.document.proof.text(outcome.document.unit))
    for path in outcome.paths:
        click.echo(f"wrote {path}")
