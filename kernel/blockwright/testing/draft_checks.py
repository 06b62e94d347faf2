"""Checks of one draft: does it come about, is it proved, are its pieces sound?"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace

from blockwright.body.lengths import Unit
from blockwright.curves.chain import join
from blockwright.curves.primitives import line
from blockwright.errors import InputError, one_line
from blockwright.pattern.pattern import Pattern, Promise
from blockwright.pattern.piece import Edge, Given, Piece, Way
from blockwright.pattern.promises.girth import Girth
from blockwright.pattern.promises.seam import Seam
from blockwright.pattern.ref import Ref
from blockwright.pattern.results import Result
from blockwright.plugin.drafting import names_any
from blockwright.plugin.traceback_line import author_line
from blockwright.testing.check import Complaints, check
from blockwright.testing.trial import Trial, Tried
from blockwright.words.proof import Proof

UNSOUND = ("outline.closes", "outline.simple", "outline.counter-clockwise")
"""Results of an outline without which its widths and corners mean nothing."""
OWN_CHECKS = ("outline", "dart-legs", "sewing", "piece")
"""Kinds of results that have checks of their own."""
LONGER = 100.0
"""Millimetres by which an edge grows; a promise that holds even then holds for anything."""


@check("drafts", on="body")
def drafts(trial: Trial) -> Complaints:
    """It drafts, or refuses with an InputError; nothing else is raised."""
    raised = trial.outcome.raised
    if raised is not None and not trial.outcome.refused:
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
    """A refusal names a measurement or an option to change."""
    refusal = trial.outcome.raised
    if not isinstance(refusal, InputError):
        return
    fields = [field for block in trial.blocks for field in block.measurements()]
    names = {field.name for field in fields}
    names |= {need for field in fields for rule in field.estimates for need in rule.needs}
    names |= {option.name for block in trial.blocks for option in block.options()}
    if not names_any(refusal, names):
        yield (
            f"refused with {str(refusal)!r}, which names nothing that can be changed; name one of "
            f"{', '.join(sorted(names))}"
        )


@check("refuses-few", on="all")
def refuses_few(tried: Sequence[Tried]) -> Complaints:
    """It refuses no more real bodies than its traits and those of the blocks beside it allow.

    Whatever its traits allow, it drafts for one body at least.
    """
    real = [each for each in tried if each.body.real]
    refused = [each for each in real if each.refused]
    most = sum(block.traits.most_refused for block in tried[0].blocks)
    if all(each.refused for each in tried):
        yield (
            f"all {len(tried)} bodies are refused, so no draft was looked at; the first: "
            f"{tried[0].body.name}: {tried[0].refused}; draft for one of them at least"
        )
        return
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
    proof = trial.outcome.proof
    if proof is None or any(_broken(trial, code) for code in UNSOUND):
        return  # other checks tell of it
    for result in proof.broken:
        if result.kind not in OWN_CHECKS and result.code != "seam.notch":
            do = "" if result.why else "; fix the draft, or promise what is meant"
            yield f"{proof.say(result)}: {missed(proof, result)}{do}"


def missed(proof: Proof, result: Result) -> str:
    """What a broken result wanted and what was measured, in mm."""
    wanted, measured = proof.wanted(result, Unit.MM), proof.measured(result, Unit.MM)
    if math.isnan(result.measured):
        return "; ".join(filter(None, [f"wanted {wanted}, {measured}", proof.off(result)]))
    return f"wanted {wanted}, measured {measured}, off by {proof.off(result)}"


def placing(result: Result) -> str:
    """What to move when grain or label lies outside; nothing for any other result."""
    if result.code == "outline.label":
        return "move label_at to where it is inside however the piece is drawn"
    if result.code == "outline.grain":
        return "move the ends of grain to where they are inside however the piece is drawn"
    return ""


def _broken(trial: Trial, code: str) -> list[Result]:
    """The broken results of a code."""
    proof = trial.outcome.proof
    return [each for each in (proof.broken if proof else ()) if each.code == code]


def _broken_pieces(trial: Trial, code: str) -> Iterator[str]:
    """The pieces with a broken result of this code; those that cross themselves are left out.

    A piece that crosses itself has no direction and no inside.
    """
    crossing = [each.subject for each in _broken(trial, "outline.simple")]
    for result in _broken(trial, code):
        if result.subject not in crossing:
            yield _label(trial, result.subject)


def _label(trial: Trial, ref: Ref) -> str:
    return trial.pattern.label(ref) if trial.pattern else ref.name


@check("outline-closes", on="body")
def outline_closes(trial: Trial) -> Complaints:
    """Every outline is closed: each edge ends where the next begins."""
    proof = trial.outcome.proof
    open_legs = [each.values["piece"] for each in _broken(trial, "dart-legs")]
    for result in _broken(trial, "outline.closes"):
        # A mouth meets no leg that is longer than the other: darts-close tells of it.
        if proof and result.subject not in open_legs:
            yield proof.why(result.why)


@check("outline-is-simple", on="body")
def outline_is_simple(trial: Trial) -> Complaints:
    """No outline crosses itself."""
    for result in _broken(trial, "outline.simple"):
        yield f"piece {_label(trial, result.subject)!r} crosses itself; look at its picture"


@check("outline-runs-counter-clockwise", on="body")
def counter_clockwise(trial: Trial) -> Complaints:
    """Every outline runs counter-clockwise, y up."""
    for piece in _broken_pieces(trial, "outline.counter-clockwise"):
        yield f"piece {piece!r} runs clockwise; give its edges in the other order"


@check("grain-is-inside", on="body")
def grain_inside(trial: Trial) -> Complaints:
    """The grain line lies inside its piece."""
    for piece in _broken_pieces(trial, "outline.grain"):
        yield f"the grain line of piece {piece!r} is outside it; move it in"


@check("label-is-inside", on="body")
def label_inside(trial: Trial) -> Complaints:
    """The middle of the label lies inside its piece."""
    for piece in _broken_pieces(trial, "outline.label"):
        yield f"label_at of piece {piece!r} is outside it; move it in"


@check("darts-close", on="body")
def darts_close(trial: Trial) -> Complaints:
    """Both legs of a dart are equally long, and darts lie inside their piece."""
    for result in _broken(trial, "dart-legs"):
        piece = result.values["piece"]
        assert isinstance(piece, Ref)
        yield (
            f"dart {result.subject.name} of {_label(trial, piece)}: does not close; put its point "
            "where both legs are equally long"
        )
    for piece_label in _broken_pieces(trial, "outline.darts"):
        yield (
            f"a dart of piece {piece_label!r} is not inside it, or crosses another; move its "
            "point in"
        )


@check("parts-are-named", on="body")
def parts_named(trial: Trial) -> Complaints:
    """Pieces, edges, darts, notches, guides and marks have printable names."""
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


def _told(trial: Trial, code: str) -> Complaints:
    """What the proof says of the results of a code that do not hold, warnings among them."""
    if proof := trial.outcome.proof:
        for result in (*proof.broken, *proof.warnings):
            if result.code == code:
                yield f"{proof.say(result)}: {missed(proof, result)}"


@check("edges-are-sewn", on="body")
def edges_sewn(trial: Trial) -> Complaints:
    """Every edge that is to be sewn is sewn once, on as many copies as its partner has.

    Every garment has an opening, its necks and waists lie round one, and no seam leads through it.
    """
    yield from _told(trial, "sewing.partner")
    yield from _told(trial, "sewing.twice")
    yield from _told(trial, "sewing.copies")
    yield from _told(trial, "sewing.loose")
    yield from _told(trial, "sewing.shut")
    yield from _told(trial, "sewing.several-openings")
    yield from _told(trial, "sewing.crossed")
    yield from _told(trial, "sewing.roles")


@check("pieces-lie-right", on="body")
def pieces_lie_right(trial: Trial) -> Complaints:
    """Pieces lie the right way up, and a cap is full where its armhole is hollow."""
    yield from _told(trial, "sewing.upside-down")
    yield from _told(trial, "sewing.hangs")
    yield from _told(trial, "piece.upside-down")


@check("corners-run-on", on="body")
def corners_run_on(trial: Trial) -> Complaints:
    """Corners that come together when sewn are smooth, square, or of an angle that is stated."""
    yield from _told(trial, "sewing.corner")
    yield from _told(trial, "sewing.dart-corner")


@check("sides-bend-alike", on="body")
def sides_bend_alike(trial: Trial) -> Complaints:
    """The sides of a seam bend alike, unless it is stated to be shaped."""
    return _told(trial, "seam.bends")


@check("notches-meet", on="body")
def notches_meet(trial: Trial) -> Complaints:
    """Notches of one name meet when the seam is sewn."""
    return _told(trial, "seam.notch")


@check("folds-are-straight", on="body")
def folds_straight(trial: Trial) -> Complaints:
    """A fold is straight, goes with the grain and has its piece on one side."""
    yield from _told(trial, "piece.fold-straight")
    yield from _told(trial, "piece.fold-grain")
    yield from _told(trial, "piece.folds")


@check("edges-have-no-corner", on="body")
def edges_have_no_corner(trial: Trial) -> Complaints:
    """No edge has a corner inside it."""
    return _told(trial, "piece.corner-inside")


@check("pieces-can-be-sewn", on="body")
def pieces_can_be_sewn(trial: Trial) -> Complaints:
    """No piece ends in a sharp tip or is a sliver, and no dart is cut out."""
    yield from _told(trial, "piece.tip")
    yield from _told(trial, "piece.narrow")
    yield from _told(trial, "piece.dart-mouth")
    yield from _told(trial, "piece.dart-length")
    yield from _told(trial, "piece.dart-angle")
    yield from _told(trial, "piece.tight")


@check("lines-are-inside", on="body")
def lines_inside(trial: Trial) -> Complaints:
    """Guide lines and notes lie in the cloth of their piece."""
    return _told(trial, "piece.lines")


@check("promises-a-size", on="body")
def promises_size(trial: Trial) -> Complaints:
    """It promises a finished width or length, or a seam to what is drafted elsewhere."""
    if trial.pattern and trial.pieces and not any(map(_sizes, trial.pattern.promises)):
        yield (
            "no finished size is promised, so a draft of any size is proved; promise one with "
            "d.girth or d.measure"
        )


def _sizes(promise: Promise) -> bool:
    """Whether a promise holds the pattern to a size that is not its own."""
    if not promise.sewn:
        return isinstance(promise, Girth)
    steps = [step for run in promise.sewn for step in run]
    blocks = {step.edge.block for step in steps if isinstance(step, Way)}
    return len(blocks) > 1 or any(isinstance(step, Given) for step in steps)


@check("promises-can-break", on="few")
def promises_can_break(trials: Sequence[Trial]) -> Complaints:
    """Every promised seam breaks when any of its edges is made 10 cm longer."""
    for trial in trials:
        if trial.pattern is None or trial.outcome.proof is None or not trial.outcome.proof.held:
            continue
        for promise in trial.pattern.promises:
            if isinstance(promise, Seam):
                yield from unbroken(trial.pattern, promise)
        return


def unbroken(pattern: Pattern, seam: Seam) -> Complaints:
    """The edges of a seam whose length it does not hold."""
    edges = [step.edge for run in (seam.a, seam.b) for step in run if not isinstance(step, Given)]
    if not edges:
        yield f"seam {seam.name!r} has no edge in it; promise what is drawn"
    for edge in edges:
        piece = pattern.owner(edge)
        longer = pattern.with_piece(_with_longer(piece, piece.stretches(edge.name)[-1]))
        if all(result.held for result in seam.measure(longer)):
            yield (
                f"seam {seam.name!r} still holds when its edge {pattern.label(edge)!r} is "
                f"{LONGER:g} mm longer; promise the ease that is meant, not a range that holds "
                "anything"
            )


def _with_longer(piece: Piece, edge: Edge) -> Piece:
    """The piece with an edge longer by a way out and back; the edge still ends where it did."""
    end = edge.curve.end
    out = end + edge.curve.end_tangent * (LONGER / 2.0)
    grown = join([edge.curve, line(end, out), line(out, end)])
    edges = (replace(e, curve=grown) if e is edge else e for e in piece.edges)
    return replace(piece, edges=tuple(edges))
