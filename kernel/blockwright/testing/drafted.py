"""Checks of one draft: does it come about, is it proved, are its pieces sound?"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from blockwright.body.lengths import Unit
from blockwright.curves.chain import join
from blockwright.curves.make import line
from blockwright.errors import one_line
from blockwright.pattern.finding import Finding
from blockwright.pattern.pattern import Pattern
from blockwright.pattern.piece import Edge, Given, Piece
from blockwright.pattern.promise import Seam, Twin
from blockwright.pattern.proof import HEAD, Proof
from blockwright.plugin.blame import author_line
from blockwright.testing.check import Complaints, check
from blockwright.testing.trial import Trial, Tried

UNSEWN = ("hem", "fold", "dart")
"""Roles of edges that need be in no promise."""
CLOSES, CROSSES = " closes", " does not cross itself"
CLOCKWISE, DARTS = " does not run clockwise", ": darts inside, clear of each other"
"""How the proof calls these findings, after the name of the piece."""
UNSOUND = (CLOSES, CROSSES, CLOCKWISE)
GRAIN, LABEL = " has its grain inside", " has its label inside"
LONGER = 100.0
"""Millimetres: a promise that a seam this much longer does not break holds whatever is drawn."""


@check("drafts", on="body")
def drafts(trial: Trial) -> Complaints:
    """It drafts, or refuses with an InputError; nothing else is raised."""
    raised = trial.outcome.raised
    if raised is not None and not (trial.outcome.refused or trial.outcome.stopped):
        yield (
            f"{one_line(raised)}{author_line(raised)}; a body that cannot be drafted is refused "
            "with InputError, anything else is a mistake in the block"
        )


@check("has-pieces", on="body")
def has_pieces(trial: Trial) -> Complaints:
    """It makes a piece."""
    if trial.pattern and not trial.pieces:
        yield "no piece was made; call d.piece(...) with its edges"


@check("refuses-helpfully", on="body")
def refuses_helpfully(trial: Trial) -> Complaints:
    """What it refuses with names a measurement or an option to change."""
    if not trial.outcome.refused:
        return
    message = str(trial.outcome.raised)
    fields = [field for block in trial.blocks for field in block.measurements()]
    names = {field.name for field in fields}
    names |= {need for field in fields for rule in field.estimates for need in rule.needs}
    names |= {option.name for block in trial.blocks for option in block.options()}
    if not any(name in message for name in names):
        yield (
            f"refused with {message!r}, which names nothing that can be changed; name one of "
            f"{', '.join(sorted(names))}"
        )


@check("refuses-few", on="all")
def refuses_few(tried: Sequence[Tried]) -> Complaints:
    """It refuses no more real bodies than its traits allow, and those of blocks beside it."""
    real = [each for each in tried if each.body.real]
    refused = [each for each in real if each.refused]
    most = sum(block.traits.most_refused for block in tried[0].blocks)
    # One of a dozen is more than most shares: where some may be refused, one always may.
    if len(refused) > max(most * len(real), 1.0 if most else 0.0):
        yield (
            f"{len(refused)} of {len(real)} real bodies are refused, at most {most:.0%} may be; "
            f"the first: {refused[0].body.name}: {refused[0].refused}; find a better rule, or say "
            "in traits who it is for and how many it may refuse"
        )


@check("proof-holds", on="body")
def proof_holds(trial: Trial) -> Complaints:
    """Every promise the block declares holds on the finished pieces."""
    if trial.outcome.proof is None or any(_broken(trial, "outline", words) for words in UNSOUND):
        return  # widths and corners of such an outline mean nothing; other checks tell of it
    for finding in trial.outcome.proof.broken:
        if finding.kind not in ("outline", "dart legs"):
            do = "" if finding.note else "; mend the draft, or promise what is meant"
            yield f"{finding.kind} {finding.name!r}: {missed(finding)}{do}"


def missed(finding: Finding) -> str:
    """What a broken finding wanted and what was measured, as the proof says it, in mm."""
    head, row, *_ = Proof("", (finding,)).text(Unit.MM).splitlines()
    at = [head.index(column) for column in HEAD[2:]]
    wanted, measured, off = (
        row[start:end].strip() for start, end in zip(at, [*at[1:], None], strict=True)
    )
    if math.isnan(finding.measured):
        return "; ".join(filter(None, [f"wanted {wanted}, {measured}", off]))
    return f"wanted {wanted}, measured {measured}, off by {off}"


def placing(finding: Finding) -> str:
    """What to move when grain or label lie outside; nothing for any other finding."""
    if finding.kind == "outline" and finding.name.endswith(LABEL):
        return "move label_at to where it is inside however the piece is drawn"
    if finding.kind == "outline" and finding.name.endswith(GRAIN):
        return "move the ends of grain to where they are inside however the piece is drawn"
    return ""


def _broken(trial: Trial, kind: str, words: str) -> list[str]:
    """Names of the broken findings of a kind that the kernel made, with these words in them."""
    proof = trial.outcome.proof
    found = proof.broken if proof else ()
    return [f.name for f in found if f.kind == kind and words in f.name]


def _broken_pieces(trial: Trial, words: str) -> Iterator[str]:
    """The pieces whose outline does not keep to these words, and does not cross itself.

    Of one that crosses itself nobody can say which way it runs or what lies inside.
    """
    crossing = _broken(trial, "outline", CROSSES)
    for name in _broken(trial, "outline", words):
        piece = name.removesuffix(words)
        if f"{piece}{CROSSES}" not in crossing:
            yield piece


@check("outline-closes", on="body")
def outline_closes(trial: Trial) -> Complaints:
    """Every outline is closed: each edge ends where the next begins."""
    for name in _broken(trial, "outline", CLOSES):
        piece = name.removesuffix(CLOSES)
        if any(dart.endswith(f" of {piece}") for dart in _broken(trial, "dart legs", "")):
            continue  # a mouth meets no leg that is longer than the other: darts-close says so
        if trial.pattern:
            yield trial.pattern.piece(piece).open_ends()


@check("outline-is-simple", on="body")
def outline_is_simple(trial: Trial) -> Complaints:
    """No outline crosses itself."""
    for name in _broken(trial, "outline", CROSSES):
        yield f"piece {name.removesuffix(CROSSES)!r} crosses itself; look at its picture"


@check("outline-runs-counter-clockwise", on="body")
def counter_clockwise(trial: Trial) -> Complaints:
    """Every outline runs counter-clockwise, y up."""
    for piece in _broken_pieces(trial, CLOCKWISE):
        yield f"piece {piece!r} runs clockwise; give its edges in the other order"


@check("grain-is-inside", on="body")
def grain_inside(trial: Trial) -> Complaints:
    """The grain line lies inside its piece."""
    for piece in _broken_pieces(trial, GRAIN):
        yield f"the grain line of piece {piece!r} is outside it; move it in"


@check("label-is-inside", on="body")
def label_inside(trial: Trial) -> Complaints:
    """The middle of the label lies inside its piece."""
    for piece in _broken_pieces(trial, LABEL):
        yield f"label_at of piece {piece!r} is outside it; move it in"


@check("darts-close", on="body")
def darts_close(trial: Trial) -> Complaints:
    """Both legs of a dart are equally long, and darts lie inside their piece."""
    for name in _broken(trial, "dart legs", ""):
        yield f"dart {name}: does not close; put its point where both legs are equally long"
    for piece in _broken_pieces(trial, DARTS):
        yield f"a dart of piece {piece!r} is not inside it, or crosses another; move its point in"


@check("everything-has-a-name", on="body")
def everything_named(trial: Trial) -> Complaints:
    """Pieces, edges, darts, notches and marks have names that can be read and printed."""
    marks = trial.pattern.marks if trial.pattern else ()
    for piece in trial.pieces:
        named = (
            ("a piece", piece.name),
            *(("an edge", edge.name) for edge in piece.edges),
            *(("a dart", dart.name) for dart in piece.darts),
            *(("a notch", notch.name) for notch in piece.notches),
            *(("a guide", guide.name) for guide in piece.guides),
            *(("a mark", mark.name) for mark in marks),
        )
        for what, name in named:
            if not name.strip() or not name.isprintable():
                yield f"{what} of piece {piece.name!r} is called {name!r}; give it a word"


@check("seams-are-promised", on="body")
def seams_promised(trial: Trial) -> Complaints:
    """Every edge that is sewn is in a promised seam or girth, every other in some promise."""
    if trial.pattern is None:
        return
    sewn = set(_walked(trial.pattern.promises))
    looked_at = sewn | set(_named(trial.pattern.promises))
    for piece in trial.pieces:
        for edge in piece.edges:
            if edge.role in UNSEWN or edge.name in (sewn if edge.role == "seam" else looked_at):
                continue
            yield (
                f"edge {edge.name!r} of piece {piece.name!r} ({edge.role}) is in no promise; say "
                "what it is sewn to with d.seam, or with d.twin if it is its own other copy, or "
                "how long it is with d.girth; an edge that is not sewn has role 'hem' or 'fold'"
            )


def _walked(promises: Iterable[object]) -> Iterator[str]:
    """Names of edges whose length is promised, in a seam or a girth."""
    for promise in promises:
        runs = [*getattr(promise, "runs", ())]
        runs += [promise.a, promise.b] if isinstance(promise, Seam) else []
        if isinstance(promise, Twin):
            yield promise.edge
        yield from (step.edge for run in runs for step in run if not isinstance(step, Given))


def _named(promises: Iterable[object]) -> Iterator[str]:
    """Names of edges that are in another promise: a corner, a shape, a line through marks."""
    for promise in promises:
        joints = [*getattr(promise, "joints", ())]
        joints += [joint for span in getattr(promise, "spans", ()) for joint in span]
        yield from (name for joint in joints for name in joint)
        if edge := getattr(promise, "edge", ""):
            yield edge


@check("promises-can-break", on="few")
def promises_can_break(trials: Sequence[Trial]) -> Complaints:
    """Every promised seam breaks when any of its edges is made 10 cm longer."""
    for trial in trials:
        if trial.pattern is None or trial.outcome.proof is None or not trial.outcome.proof.held:
            continue
        for promise in trial.pattern.promises:
            if isinstance(promise, Seam):
                yield from _unbroken(trial.pattern, promise)
        return


def _unbroken(pattern: Pattern, seam: Seam) -> Complaints:
    names = [step.edge for run in (seam.a, seam.b) for step in run if not isinstance(step, Given)]
    if not names:
        yield f"seam {seam.name!r} has no edge in it; promise what is drawn"
    for name in names:
        piece = pattern.owner(name)
        longer = pattern.with_piece(_with_longer(piece, piece.edge(name)))
        if all(finding.held for finding in seam.measure(longer)):
            yield (
                f"seam {seam.name!r} still holds when its edge {name!r} is {LONGER:g} mm longer; "
                "promise the ease that is meant, not a range that holds anything"
            )


def _with_longer(piece: Piece, edge: Edge) -> Piece:
    """The piece with an edge so much longer, by a way out and back, that ends where it did."""
    end = edge.curve.end
    out = end + edge.curve.end_tangent * (LONGER / 2.0)
    grown = join([edge.curve, line(end, out), line(out, end)])
    edges = (replace(e, curve=grown) if e is edge else e for e in piece.edges)
    return replace(piece, edges=tuple(edges))
