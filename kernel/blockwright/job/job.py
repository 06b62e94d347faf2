"""A job: blocks and a body in, a proved pattern and its files out."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from blockwright.errors import BlockwrightError, InputError, InputErrors, PatternError
from blockwright.job.answerable import TELL, answerable
from blockwright.job.files import file_stem, write_all
from blockwright.job.write import Output, chosen_outputs, file_contents

if TYPE_CHECKING:
    from blockwright.body.sheet import BodySheet
    from blockwright.pattern.finishing.finish import Finish
    from blockwright.pattern.pattern import Lineage, Pattern
    from blockwright.plugin.block import Block
    from blockwright.plugin.format import Document
    from blockwright.plugin.host import Host
    from blockwright.plugin.option import Setting
    from blockwright.words.proof import Proof

    Change = Callable[[Pattern], tuple[Pattern, Lineage]]

A_DAY = 86_400.0
"""Seconds: nobody waits longer for a block, and a clock cannot wait for ever."""


@dataclass(frozen=True, slots=True)
class Job:
    """What to draft, for whom, and what to write of it.  `run` does it.

    `blocks` are keys, 'FILE.py:KEY' for one that is not installed, or Block classes, drafted as
    one set; `body` is a sheet, the path of one, or
    a body that a plugin offers, 'SOURCE:BODY'.  `options` are those of the blocks, by name, as in
    `draft`, and the seam allowances ('hem_allowance').  `changes` are made to the pattern in
    order; each takes a pattern and returns it changed, with its lineage.  `finish` is a `Finish`,
    the path of a finish sheet, or 'usual'.  `unfold` opens every piece on the fold out, finished or
    not.  `stamp` is printed on every piece, with the version of its block; 'today' is the day.
    `outputs` are names of formats, or `Output` values with the format's options.  The files' bytes
    are in the outcome, or with a `folder` the files are written there; `name` is their name without
    the ending.  With `unproved` they are written even when a promise is broken, and say so.  With a
    `limit`, seconds, the work is done in a process of its own, which is killed when one block, body
    or format takes longer.  `only` are the plugins to load, all when not given.  With `aloud` all
    that the blocks and changes print goes to stderr as it comes; else a warning tells the first
    line of it.

    Example:
        >>> from blockwright import Job, run
        >>> job = Job(blocks=("skirt.circle",), body="survey:female-17", outputs=("svg",))
        >>> outcome = run(job)
        >>> outcome.held, list(outcome.files)
        (True, ['female-17-skirt.circle.svg'])
    """

    blocks: Sequence[str | type[Block]]
    body: BodySheet | Path | str
    options: Mapping[str, Setting] = field(default_factory=dict)
    changes: Sequence[Change] = ()
    finish: Finish | Path | str | None = None
    outputs: Sequence[str | Output] = ()
    folder: Path | str | None = None
    name: str | None = None
    unfold: bool = False
    stamp: str = ""
    unproved: bool = False
    limit: float | None = None
    only: Sequence[str] | None = None
    aloud: bool = False


@dataclass(frozen=True, slots=True)
class Outcome:
    """What came of a job.  It travels between processes.

    `document` is the pattern with its proof and its finished pieces, None when none was drafted.
    `files` are the bytes of each file by its name, or `paths` where they were written.  `warnings`
    tell what somebody should know, `faults` why there is no pattern or no file: InputError for
    what was asked, PluginError for a plugin that failed.

    Example:
        >>> from blockwright import Job, run
        >>> outcome = run(Job(blocks=("skirt.round",), body="survey:female-17"))
        >>> print(outcome.faults[0])
        no block 'skirt.round'; did you mean skirt.gored?; see: blockwright blocks
    """

    document: Document | None = field(default=None, repr=False)
    files: Mapping[str, bytes] = field(default_factory=dict, repr=False)
    paths: tuple[Path, ...] = ()
    warnings: tuple[str, ...] = ()
    faults: tuple[BlockwrightError, ...] = ()

    @property
    def pattern(self) -> Pattern | None:
        """The pattern, as it was drafted and changed."""
        return self.document.pattern if self.document else None

    @property
    def proof(self) -> Proof | None:
        """The proof of the pattern."""
        return self.document.proof if self.document else None

    @property
    def held(self) -> bool:
        """Whether there is a pattern, every promise holds, and nothing failed."""
        return self.proof is not None and self.proof.held and not self.faults


def run(job: Job, host: Host | None = None) -> Outcome:
    """Do a job.  What goes wrong is in the outcome's `faults`; only a programming error is raised.

    `host` has plugins that are loaded already; whoever loaded it tells its faults.  The process of
    a job with a limit loads its own.

    Example:
        >>> from blockwright import BodySheet, Job, run
        >>> values = {"waist_girth": 70, "hip_girth": 96, "waist_to_hip": 20}
        >>> body = BodySheet.from_values(values, units="cm", name="Trial")
        >>> outcome = run(Job(blocks=("skirt.circle",), body=body, outputs=("svg", "json")))
        >>> outcome.files["trial-skirt.circle.svg"].startswith(b"<?xml")
        True
    """
    if job.limit is None:
        outcome = _done(job, host, lambda at: None)
    else:
        outcome = _within_limit(job, job.limit)
        told = host.faults if host else ()
        new = tuple(line for line in outcome.warnings if line not in told)
        outcome = replace(outcome, warnings=new)
    return written(outcome, job.folder)


def written(outcome: Outcome, folder: Path | str | None) -> Outcome:
    """The outcome with its files in the folder, all or none; as it is when there is no folder."""
    if folder is None or not outcome.files:
        return outcome
    try:
        paths = write_all(Path(folder), outcome.files)
    except InputError as error:
        return replace(outcome, files={}, faults=(*outcome.faults, error))
    return replace(outcome, files={}, paths=tuple(paths))


def _within_limit(job: Job, seconds: float) -> Outcome:
    if not 0.0 < seconds <= A_DAY:
        error = InputError.coded("job.limit", seconds=seconds, most=A_DAY)
        return Outcome(faults=(error,))
    from blockwright.job.child import in_child

    try:
        return in_child(partial(_done, job, None), seconds)
    except BlockwrightError as error:
        return Outcome(faults=(error,))


def _done(job: Job, host: Host | None, tell: Callable[[str], None]) -> Outcome:
    """The job's outcome, no file written; `tell` is told who is at work."""
    warnings: list[str] = []
    document: Document | None = None
    files: dict[str, bytes] = {}
    faults: tuple[BlockwrightError, ...] = ()
    try:
        if host is None:
            host = _loaded(job, tell, warnings.append)
        outputs = chosen_outputs(host, job.outputs)
        document, stem = _drafted(job, host, tell, warnings.append)
        if document.proof.held or job.unproved:
            files = file_contents(host, document, outputs, stem, warnings.append, tell)
    except BlockwrightError as error:
        faults = faults_of(error)
    return Outcome(document, files, (), tuple(warnings), faults)


def faults_of(error: BlockwrightError) -> tuple[BlockwrightError, ...]:
    """Each fault that an error tells of."""
    return error.faults if isinstance(error, InputErrors) else (error,)


def _loaded(job: Job, tell: Callable[[str], None], warn: Callable[[str], None]) -> Host:
    from blockwright.plugin.host import load

    tell("loading plugins")
    host = load(only=job.only)
    for fault in host.faults:
        warn(fault)
    return host


def _drafted(
    job: Job, host: Host, tell: Callable[[str], None], warn: Callable[[str], None]
) -> tuple[Document, str]:
    """The document, and the name of its files."""
    from blockwright.body.body_model import doubts
    from blockwright.body.sheet import BodySheet
    from blockwright.job.elsewhere import edges_elsewhere
    from blockwright.job.load import blocks_of, body_of
    from blockwright.plugin.drafting import draft
    from blockwright.plugin.format import Document
    from blockwright.words.doubted import doubted
    from blockwright.words.proof import prove

    blocks = blocks_of(host, job.blocks, warn, tell)
    options, allowances = _allowances_apart(job.options)
    if isinstance(job.body, BodySheet):
        sheet, asked = job.body, job.body.name
    else:
        asked = str(job.body)
        sheet = body_of(host, asked, warn, tell)
    theirs = all(host.offers(block) for block in blocks)
    with answerable(_owner(host, blocks), warn, TELL if theirs else "", tell, aloud=job.aloud):
        try:
            pattern = draft(blocks, sheet, options)
        except InputErrors as error:
            raise _with_estimates(error, blocks, sheet) from error
        except InputError:
            for doubt in doubts(sheet.values):
                warn(doubted(doubt, sheet.units))
            raise
        for says in _worn_by_others(blocks, sheet):
            warn(says)
        document = Document(pattern, prove(pattern), sheet.units)
        if not pattern.pieces:
            raise PatternError("no piece was drawn; call d.piece(...) with its edges")
    for number, change in enumerate(job.changes, 1):
        with answerable(f"change {number}", warn, "", tell, aloud=job.aloud):
            pattern, _ = change(pattern)
    if job.changes:
        document = Document(pattern, prove(pattern), sheet.units)
    known = partial(edges_elsewhere, host, sheet, warn=warn)
    document = replace(document, stamp=stamped(job.stamp), opened=job.unfold)
    return finished(document, job.finish, allowances, known), file_stem(job.name, pattern, asked)


def _worn_by_others(blocks: Sequence[type[Block]], sheet: BodySheet) -> Iterator[str]:
    """What is told of a block that is drawn for women if the sheet is a man's, or for men."""
    from blockwright.body.body_model import likely_wearer
    from blockwright.words.doubted import worn_by_others

    wearer = likely_wearer(sheet.values)
    for block in blocks:
        meant = block.traits.wearers
        if wearer and meant not in ("all", wearer):
            yield worn_by_others(block.key, meant, wearer)


def _owner(host: Host, blocks: Sequence[type[Block]]) -> str:
    """Who answers for a draft of these blocks: their plugins, or the files they are in."""
    from blockwright.plugin.block_file import file_of

    owners = []
    for block in blocks:
        at = host.owner("blocks", block.key) if host.offers(block) else file_of(block)
        owners.append(f"block {block.key!r} of {at}" if at else f"block {block.key!r}")
    return " with ".join(dict.fromkeys(owners))


def _with_estimates(
    error: InputErrors, blocks: Sequence[type[Block]], sheet: BodySheet
) -> InputErrors:
    """The faults, and where one is about a body of the survey, how to have it completed."""
    from blockwright.plugin.survey_estimates import completed

    advice = completed(blocks, sheet)
    return InputErrors(
        InputError.coded("body.incomplete", why=fault, advice=advice)
        if advice and fault.code == "drafting.missing-measurement"
        else fault
        for fault in error.faults
    )


def _allowances_apart(
    options: Mapping[str, Setting],
) -> tuple[dict[str, Setting], dict[str, str]]:
    """The options of blocks, and the allowances by role."""
    from blockwright.plugin.option import ALLOWANCE

    ends = {name: name.endswith(ALLOWANCE) for name in options}
    return (
        {name: value for name, value in options.items() if not ends[name]},
        {name.removesuffix(ALLOWANCE): str(v) for name, v in options.items() if ends[name]},
    )


def stamped(stamp: str) -> str:
    """What a stamp prints: itself, or for 'today' the day by this machine's clock."""
    return date.today().isoformat() if stamp == "today" else " ".join(stamp.split())


def finished(
    document: Document,
    finish: Finish | Path | str | None,
    allowances: Mapping[str, str] | None = None,
    elsewhere: Callable[[Sequence[str]], Collection[str]] | None = None,
) -> Document:
    """The document with its pieces finished; as it is when neither finish nor allowance is given.

    `elsewhere` gives the edges of other blocks.  It is asked only where the sheet names edges that
    the pattern does not have.  Pieces on the fold are opened out where the document has them
    opened.

    Raises InputError for a finish sheet or an allowance that cannot be used.
    """
    if finish is None and not allowances:
        return document
    from blockwright.pattern.finishing.finish import Finish, finish_all, unknown_edges
    from blockwright.pattern.finishing.finish_sheet import load_finish, with_allowances

    if not isinstance(finish, Finish):
        finish = Finish() if finish in (None, "usual") else load_finish(str(finish))
    how = with_allowances(finish, allowances or {}, document.unit)
    strange = unknown_edges(document.pattern, how)
    others = elsewhere(strange) if strange and elsewhere else ()
    how = replace(how, opened=how.opened or document.opened)
    return replace(document, finished=finish_all(document.pattern, how, others))
