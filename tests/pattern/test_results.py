"""Results, reasons and proofs are data: sentences are made of them in one package, and only there.

Looked at in the source of the kernel, by what it imports, formats, takes apart and makes; every
look is first shown a made-up module that it must object to.
"""

from __future__ import annotations

import re

import pytest
from code_reading import Made, Source, UnclearError, gaps, kernel

from blockwright import Proof, Reason, Ref, Result
from blockwright.words.catalogue import words_of

WORDS = words_of("results")
MODULES = kernel()
OUTSIDE = [module for module in MODULES if not module.in_words]
CODE = re.compile(r"[a-z-]+(\.[a-z-]+)*")
NO_RESULTS = {"pattern/table/solving.py possible.why", "pattern/table/solving.py apart.why"}
"""Of other classes, though it is called as a result's is: what errors of the solvers say."""
DRAWINGS = "formats/dxf_reading/"
"""Where a code is the number before a value in a drawing file."""

MADE = [made for module in MODULES for made in module.made()]


def source(text: str, where: str = "pattern/made_up.py") -> Source:
    return Source(where, text)


def test_the_kernel_is_looked_at_whole() -> None:
    looked = {module.where for module in MODULES}
    assert {
        "words/catalogue.py",
        "pattern/promises/seam.py",
        "cli/main.py",
        "__init__.py",
    } <= looked
    assert len(OUTSIDE) == len(MODULES) - sum(name.startswith("words/") for name in looked)
    assert len(MADE) > 40


# -- who knows the words ---------------------------------------------------------------------------


@pytest.mark.parametrize(
    "text",
    [
        "from blockwright.words.catalogue import words_of",
        "from blockwright.words import catalogue as c",
        "from blockwright.words.catalogue import label, say",
        "import blockwright.words.catalogue",
        "import blockwright.words.catalogue as catalogue",
        "from ..words.catalogue import say",
        "from ..words import catalogue",
        "def f():\n    from blockwright.words.catalogue import say\n",
        "HOMES = {'say': 'blockwright.words.catalogue'}",
        "import_module('blockwright.words.catalogue:say')",
    ],
)
def test_an_import_of_the_words_is_seen(text: str) -> None:
    assert len([*source(text).imports_of_the_catalogue()]) == 1


@pytest.mark.parametrize(
    "text",
    [
        "from blockwright.words.proof import Proof",
        "from blockwright.formats.text_placement import Words",
        "from blockwright.words.catalogue import label",
        "from . import catalogue",
        "'the words of blockwright.words.catalogue'",
    ],
)
def test_no_other_import_is_taken_for_one(text: str) -> None:
    assert not [*source(text).imports_of_the_catalogue()]


def test_nobody_else_knows_the_words() -> None:
    """But errors, which turn their own codes into words, and a note, which is text."""
    knowing = {module.where for module in OUTSIDE if [*module.imports_of_the_catalogue()]}
    assert knowing == {"errors.py", "job/elsewhere.py"}
    inside = [module for module in MODULES if module.in_words]
    assert any([*module.imports_of_the_catalogue()] for module in inside)


# -- who makes sentences ---------------------------------------------------------------------------


@pytest.mark.parametrize(
    "text",
    [
        "f'{result.measured:.1f} mm'",
        "f'{result.miss}'",
        "f'{result.wanted[0]} to {high}'",
        "f'{each.why.code}'",
        "f'{round(broken[0].measured, 1)} mm'",
        "f'{value:{result.miss}}'",
        "'{} mm'.format(result.measured)",
        "'{far} mm'.format(far=result.miss)",
    ],
)
def test_a_number_of_a_result_in_a_sentence_is_seen(text: str) -> None:
    assert len([*source(f"said = {text}").numbers_in_sentences()]) == 1


@pytest.mark.parametrize(
    "text", ["f'{proof.why(result.code)}'", "f'{proof.wanted(r, unit)}'", "low, high = r.wanted"]
)
def test_what_a_proof_says_may_stand_in_a_sentence(text: str) -> None:
    assert not [*source(text).numbers_in_sentences()]


def test_nobody_else_writes_numbers_of_results_into_sentences() -> None:
    assert {told for module in OUTSIDE for told in module.numbers_in_sentences()} == NO_RESULTS


@pytest.mark.parametrize(
    "text",
    [
        "proof.text(unit).splitlines()",
        "proof.say(result).startswith('seam')",
        "proof.say(result).removesuffix(' closes')",
        "kind, _, name = proof.say(result).partition(': ')",
        "said = proof.why(reason)\nat = said.find('cut')",
        "def f(proof):\n    said = proof.say(result)\n    return said.split(': ')[0]\n",
        "if (said := proof.say(result)).endswith('closes'):\n    pass\n",
        "held = 'BROKEN' not in proof.text(unit)",
        "first = proof.say(result)[:4]",
    ],
)
def test_a_sentence_taken_apart_is_seen(text: str) -> None:
    assert [*source(text).sentences_taken_apart()]


@pytest.mark.parametrize(
    "text",
    [
        "result.code.partition('.')",
        "echo(proof.text(unit))",
        "lines = [proof.say(result)]\nlines.index(wanted)",
        "def f():\n    said = proof.say(result)\ndef g(said):\n    return said.split()\n",
    ],
)
def test_other_texts_may_be_taken_apart(text: str) -> None:
    assert not [*source(text).sentences_taken_apart()]


def test_nobody_else_takes_sentences_apart() -> None:
    assert [told for module in OUTSIDE for told in module.sentences_taken_apart()] == []


# -- codes -----------------------------------------------------------------------------------------

IMPORT = "from blockwright.pattern.results import Reason, Result\n"


@pytest.mark.parametrize(
    ("text", "codes"),
    [
        ("Reason('gone')", {"gone"}),
        ("Reason(code='gone', values={})", {"gone"}),
        ("Result('seam' if whole else 'seam.stretch', ref)", {"seam", "seam.stretch"}),
        ("MORE = 'copies.more'\nReason(MORE)", {"copies.more"}),
        (
            "def f(fits):\n    code = 'twin' if fits else 'twice'\n    Reason(code)\n",
            {"twin", "twice"},
        ),
        (
            "class Seam:\n"
            "    def measure(self):\n"
            "        return self._result('seam', 1), self._result(code='seam.stretch', low=2)\n"
            "    def _result(self, code, low):\n"
            "        return Result(code, low)\n",
            {"seam", "seam.stretch"},
        ),
        (
            "def f():\n"
            "    counts = [('a', 1), ('b', 2)]\n"
            "    counts.append(('c', 3))\n"
            "    return [Result(code, found) for code, found in counts]\n",
            {"a", "b", "c"},
        ),
        ("def f():\n    for code in ('a', 'b'):\n        Reason(code)\n", {"a", "b"}),
    ],
)
def test_the_codes_of_what_is_made_are_found(text: str, codes: set[str]) -> None:
    assert {code for made in source(IMPORT + text).made() for code in made.codes} == codes


@pytest.mark.parametrize(
    "text",
    [
        "Reason(other.code)",
        "Reason(f'seam.{name}')",
        "def f(code):\n    return Reason(code)\n",
        "Result(*given)",
    ],
)
def test_a_code_that_cannot_be_told_is_no_code(text: str) -> None:
    with pytest.raises(UnclearError, match=r"pattern/made_up\.py"):
        list(source(IMPORT + text).made())


def test_results_of_others_are_not_these() -> None:
    assert not [*source("from elsewhere import Result\nResult('Any thing')").made()]


def faults(made: Made) -> list[str]:
    """What is wrong with the codes of a result or a reason that is made."""
    told = [f"{code!r} is no code" for code in made.codes if not CODE.fullmatch(code)]
    told += [f"{code!r} has no words" for code in made.codes if code not in WORDS]
    for code in made.codes & WORDS.keys():
        lacks = gaps(WORDS[code]) - {"subject"} - (made.values or set())
        if made.values is not None and lacks:
            told.append(f"the words of {code!r} want {sorted(lacks)}")
    return told


def test_faults_of_codes_are_seen() -> None:
    made = source(
        IMPORT + "Reason('Gone')\nReason('gone.where')\nResult('')\nReason('turned', {'piece': 1})"
    ).made()
    assert [told for each in made for told in faults(each)] == [
        "'Gone' is no code", "'Gone' has no words", "'gone.where' has no words", "'' is no code",
        "'' has no words", "the words of 'turned' want ['edge']",
    ]  # fmt: skip


def test_every_code_has_words_and_what_fills_them() -> None:
    assert [(made.where, told) for made in MADE for told in faults(made)] == []
    unknown = {made.where for made in MADE if made.values is None}
    # The values of a seam's results come by another function; those have their own test below.
    assert {where.partition(":")[0] for where in unknown} <= {"pattern/promises/seam.py"}


def test_no_words_are_left_over() -> None:
    used = {code for made in MADE for code in made.codes}
    assert WORDS.keys() - used == set()


def test_codes_that_are_looked_for_are_made() -> None:
    assert [*source("if each.code == 'outline.gone':\n    pass\n").codes_looked_for()]
    looked_for = {
        code
        for module in MODULES
        if not module.where.startswith(DRAWINGS)
        for code in module.codes_looked_for()
    }
    assert "outline.grain" in looked_for
    made = {code for made in MADE for code in made.codes}
    assert looked_for <= made | words_of("refusals").keys()


# -- words -----------------------------------------------------------------------------------------

SKIRT = "test.skirt"
SIDE, HEM, FRONT = (Ref(SKIRT, name) for name in ("side", "hem", "front"))
EDGE, PIECE, CUT = {"edge": SIDE}, {"piece": FRONT}, {"often": 2, "cut": 1}
APART = (
    "'skirt hem' does not follow 'skirt side': they neither meet nor is there a dart or a promised "
    "seam between them"
)
ASKED = (
    ("seam", SIDE, {}, "seam: skirt side"),
    (
        "seam.stretch", SIDE, {"since": "", "to": "hip notch"},
        "seam: skirt side: start to hip notch",
    ),
    (
        "seam.stretch", SIDE, {"since": "hip notch", "to": ""},
        "seam: skirt side: hip notch to end",
    ),
    ("seam.stretch", SIDE, {"since": "", "to": ""}, "seam: skirt side: start to end"),
    ("twin", SIDE, {}, "twin: skirt side: copies that are mirror images"),
    ("corner", SIDE, {}, "corner: skirt side"),
    ("level", HEM, {}, "level: skirt hem"),
    ("through", HEM, {}, "through: skirt hem"),
    ("shape.bends", HEM, {}, "shape: skirt hem: changes from hollow to full"),
    ("shape.turns-back", HEM, {}, "shape: skirt hem: turns back"),
    ("girth", HEM, {}, "girth: skirt hem"),
    ("length", HEM, {}, "measure: skirt hem"),
    ("outline.closes", FRONT, {}, "outline: skirt front closes"),
    ("outline.simple", FRONT, {}, "outline: skirt front does not cross itself"),
    ("outline.counter-clockwise", FRONT, {}, "outline: skirt front does not run clockwise"),
    ("outline.grain", FRONT, {}, "outline: skirt front has its grain inside"),
    ("outline.label", FRONT, {}, "outline: skirt front has its label inside"),
    ("outline.darts", FRONT, {}, "outline: skirt front: darts inside, clear of each other"),
    ("dart-legs", Ref(SKIRT, "waist dart"), PIECE, "dart legs: waist dart of skirt front"),
    ("seam.notch", SIDE, {"notch": "notch"}, 'seam: skirt side: notch notch meets itself'),
    ("seam.bends", SIDE, {}, 'seam: skirt side: the sides bend alike'),
    ("sewing.partner", SIDE, {}, 'sewing: skirt side has a partner'),
    ("sewing.twice", SIDE, {}, 'sewing: skirt side is sewn once'),
    ("sewing.copies", SIDE, {}, 'sewing: skirt side: as many copies of one side as of the other'),
    ("sewing.upside-down", SIDE, {}, 'sewing: skirt side: both pieces lie the same way up'),
    ("sewing.loose", SIDE, {}, 'sewing: piece skirt side is sewn to the rest of its block'),
    ("sewing.roles", SIDE, {}, 'sewing: skirt side: the roles of its edges go together'),
    ("sewing.crossed", SIDE, {}, 'sewing: skirt side: its seams are not crossed'),
    (
        "sewing.several-openings", SIDE, {"role": "waist"},
        "sewing: skirt side: all edges of role waist lie round one opening",
    ),
    ("sewing.shut", SIDE, {}, 'sewing: skirt side has an opening'),
    ("sewing.hangs", SIDE, {}, 'sewing: skirt side: the piece lies outside the opening'),
    ("sewing.dart-corner", SIDE, {"dart": "dart"}, 'unpromised corner: skirt side over dart'),
    ("piece.fold-straight", SIDE, {}, 'fold: skirt side is straight, with the piece on one side'),
    (
        "piece.fold-grain", SIDE, {},
        "fold: skirt side lies along, across or on the bias of the grain",
    ),
    ("piece.folds", SIDE, {}, 'piece skirt side: its folds can be laid'),
    (
        "piece.corner-inside", SIDE, {"piece": FRONT},
        "piece skirt front: skirt side has no corner inside",
    ),
    (
        "piece.tip", SIDE, {"piece": FRONT, "second": HEM},
        "piece skirt front: no sharp tip between skirt side and skirt hem",
    ),
    (
        "piece.dart-mouth", SIDE, {"piece": FRONT},
        "piece skirt front: the mouth of skirt side lies between its legs",
    ),
    (
        "piece.dart-length", SIDE, {"piece": FRONT},
        "piece skirt front: skirt side is long enough to sew",
    ),
    (
        "piece.dart-angle", SIDE, {"piece": FRONT},
        "piece skirt front: skirt side is narrow enough to sew to a smooth point",
    ),
    (
        "piece.tight", SIDE, {"piece": FRONT},
        "piece skirt front: skirt side bends gently enough to be sewn",
    ),
    ("piece.narrow", SIDE, {}, 'piece skirt side: wide enough to sew'),
    ("piece.lines", SIDE, {}, 'piece skirt side: lines and notes lie in the cloth'),
    ("piece.upside-down", SIDE, {}, 'piece skirt side: the hem lies below the armhole'),
)  # fmt: skip
"""Code, subject and values of a result, and what its row says in a set."""
REASONS = (
    ("run.apart", {"before": SIDE, "after": HEM}, APART),
    (
        "run.turned", {"before": SIDE, "after": HEM},
        f"{APART}; 'skirt side' follows 'skirt hem'",
    ),
    ("copies.more", EDGE | CUT, "2 of 'skirt side' are sewn and 1 is cut; cut more"),
    (
        "copies.as-drawn", EDGE,
        "no 'skirt side' is cut as drawn; cut mirrored pairs, or walk it the other way",
    ),
    (
        "copies.turned", EDGE,
        "no 'skirt side' is cut the other way up; cut mirrored pairs, or walk it the other way",
    ),
    ("count.edge", EDGE | CUT, "'skirt side' is counted 2 times and cut 1; check cut and times"),
    (
        "count.piece", PIECE | CUT,
        "piece 'skirt front' is counted 2 times and cut 1; check cut and times",
    ),
    (
        "count.corner", {"first": SIDE, "second": HEM} | CUT,
        "corner ('skirt side', 'skirt hem') is named 2 times and cut 1",
    ),
    (
        "notch.missing", {"notch": "hip", "run": ("side", "hem"), "there": ("knee", "calf")},
        "there is no notch 'hip' on 'side' and 'hem'; there is 'knee', 'calf'",
    ),
    (
        "notch.missing", {"notch": "hip", "run": ("side",), "there": ()},
        "there is no notch 'hip' on 'side'; there is none",
    ),
    (
        "notch.twice", {"notch": "hip", "run": ("side", "side")},
        "there are two 'hip' on 'side' and 'side'; promise each part by itself",
    ),
    (
        "notch.ticks", {"notch": "hip", "a": 2, "b": 1},
        "notch 'hip' is 2 on one side and 1 on the other; give both one count",
    ),
    ("twin.cut-more", {"cut": 1} | PIECE, "piece 'skirt front' is cut 1; cut=2 or more"),
    (
        "twin.not-mirrored", {"cut": 2} | PIECE,
        "piece 'skirt front' is cut 2; cut mirrored pairs, or give its fold the role 'fold'",
    ),
    (
        "corner.turned", {"first": SIDE, "second": HEM},
        "the outline runs from 'skirt hem' to 'skirt side'; write ('skirt hem', 'skirt side')",
    ),
    (
        "corner.apart", {"first": SIDE, "after": HEM} | PIECE,
        "after 'skirt side' comes 'skirt hem' on piece 'skirt front'",
    ),
    (
        "level.along-edge", PIECE,
        "the level across 'skirt front' runs along its edge; draw it clear of that",
    ),
    (
        "level.ends-in-cloth", {"past": 60.0} | PIECE,
        "the level across 'skirt front' ends in the cloth, over 60 mm from its edge; draw it from "
        "edge to edge",
    ),
    (
        "outline.open", {"before": SIDE, "after": HEM, "gap": 1.23456} | PIECE,
        "piece 'skirt front' does not close: edge 'skirt side' ends 1.235 mm from where "
        "'skirt hem' begins; let them share a point",
    ),
    (
        "outline.crosses", {"other": HEM, "x": 50.4, "y": -0.6} | EDGE,
        "'skirt side' crosses 'skirt hem' at (50, -1)",
    ),
    (
        "outline.crosses-itself", {"x": 50.4, "y": 24.6} | EDGE,
        "'skirt side' crosses itself at (50, 25)",
    ),
    ("outline.list-edges", {}, "list its edges counter-clockwise, y up"),
    ("outline.move-grain", {}, "move an end of grain"),
    ("outline.move-label", {}, "move label_at"),
    ("gone", {}, "what it speaks of is gone"),
    ("drawn-anew", EDGE, "'skirt side' was drawn anew"),
    ("turned", EDGE, "the cloth of 'skirt side' was turned against the grain"),
    ("sewing.once", {}, "sewing: every edge is sewn once"),
    (
        "sewing.corner", {"edges": (SIDE, HEM)},
        "unpromised corner: where 'skirt side' and 'skirt hem' meet",
    ),
    (
        "sewing.alone", {"edge": SIDE, "role": "seam", "piece": FRONT},
        "edge 'skirt side' (seam) of piece 'skirt front' is sewn to nothing; promise its "
        "seam or twin, or state with d.unsewn that it is bound, faced or left open",
    ),
    (
        "sewing.offered", {"edge": SIDE},
        "edge 'skirt side' is offered, and no block of the set takes it; take it, or "
        "state with d.unsewn that it is bound, faced or left open",
    ),
    (
        "sewing.several", {"edge": SIDE, "seams": (SIDE, HEM)},
        "'skirt side' is sewn in 'skirt side' and 'skirt hem'; give each seam an edge of "
        "its own, or cut more copies",
    ),
    (
        "sewing.unlike-copies", {"few": SIDE, "cut": 1, "many": HEM, "times": 2},
        "1 of 'skirt side' and 2 of 'skirt hem' are cut; cut as many of one side as "
        "of the other, or state with d.unsewn that the rest stays free",
    ),
    (
        "sewing.way-up", {"few": SIDE, "cut": 1, "many": HEM, "times": 2},
        "1 of 'skirt side' and 2 of 'skirt hem' are cut, but not as many of each the"
        " same way up; cut mirrored pairs of both, or of neither",
    ),
    (
        "sewing.turn-one", {"one": FRONT, "other": HEM},
        "the grain runs up in 'skirt front' where it runs down in 'skirt hem'; turn one "
        "piece, or walk one side of the seam from its other end",
    ),
    (
        "sewing.join", {"pieces": (SIDE, HEM), "garment": FRONT},
        "no seam joins 'skirt side' and 'skirt hem' to 'skirt front'; sew them together, "
        "or draft them as a block of their own",
    ),
    (
        "sewing.say-seam", {"one": SIDE, "other": HEM},
        "'skirt side' and 'skirt hem' are of roles that are never sewn together; sew each to its "
        "partner, or give both the role 'seam'",
    ),
    (
        "sewing.uncross", {"pieces": (FRONT, SIDE)},
        "some seams of 'skirt front' and 'skirt side' are crossed; check which end of each edge "
        "is sewn to which",
    ),
    (
        "sewing.one-body", {"edges": (SIDE, HEM)},
        "'skirt side' and 'skirt hem' lie round several openings, and a body has one neck and one "
        "waist; join the parts, or give the edges another role",
    ),
    (
        "sewing.open-one", {"pieces": (FRONT, SIDE)},
        "'skirt front' and 'skirt side' are sewn together all round; leave an edge open to get "
        "in or to turn it, and state it with d.unsewn",
    ),
    (
        "sewing.cap-full", {"piece": FRONT},
        "the edge of 'skirt front' is hollow where the armhole is hollow too; a cap is "
        "full",
    ),
    ("piece.turn", {"piece": FRONT}, "turn 'skirt front', or its grain"),
    (
        "piece.straighten-fold", {"edge": SIDE},
        "draw 'skirt side' as one straight line, and the piece on its left",
    ),
    (
        "piece.one-fold", {"folds": (SIDE, HEM)},
        "the folds are 'skirt side' and 'skirt hem'; a piece has one fold, or two that "
        "are square to each other",
    ),
    ("piece.turn-grain", {"edge": SIDE}, "turn the grain or 'skirt side'"),
    (
        "piece.split-edge", {"edge": SIDE},
        "make two edges of 'skirt side', so that the corner can be promised",
    ),
    (
        "piece.draw-mouth", {"mouth": SIDE},
        "draw 'skirt side' from leg to leg, as roof_between does",
    ),
    ("piece.long-dart", {}, "draw the dart longer or less wide"),
    ("piece.draw-gentler", {}, "draw it with gentler bends, or as several edges"),
    ("piece.blunt-tip", {}, 'blunt the tip, or promise its angle'),
    (
        "piece.move-lines", {"lines": ("hip line", "pocket")},
        "move 'hip line' and 'pocket' into the cloth",
    ),
    (
        "seam.say-shaped", {},
        "draw the sides alike, or state shaped=True if they are shaped on purpose",
    ),
    (
        "stated.angle", {"corner": SIDE, "low": 60.0},
        "corner 'skirt side' is 60 degrees, neither smooth nor square",
    ),
    (
        "stated.angle-range", {"corner": SIDE, "low": 60.0, "high": 75.0},
        "corner 'skirt side' is 60 to 75 degrees",
    ),
    ("stated.shaped", {"seam": SIDE}, "the sides of 'skirt side' bend differently on purpose"),
    (
        "stated.gathered", {"seam": SIDE, "share": 33.3},
        "'skirt side' gathers in 33 % of its longer side",
    ),
    (
        "stated.offered", {"edges": (SIDE, HEM)},
        "nothing is sewn to 'skirt side' and 'skirt hem', which other blocks may take",
    ),
    ("stated.over", {"seam": SIDE}, "'skirt side' is sewn over another seam"),
    (
        "stated.unsewn", {"edges": (SIDE, HEM), "how": "left open"},
        "nothing is sewn to 'skirt side' and 'skirt hem': left open",
    ),
)  # fmt: skip
"""Code and values of a reason, and what it says in a set."""
IN_A_SET = Proof(SKIRT, (), labels={SKIRT: "skirt"})


def test_every_code_is_in_the_tables() -> None:
    assert {row[0] for row in (*ASKED, *REASONS)} == WORDS.keys()


@pytest.mark.parametrize(("code", "subject", "values", "says"), ASKED)
def test_what_a_result_is_of_is_said(code: str, subject: Ref, values: dict, says: str) -> None:
    assert gaps(WORDS[code]) == {"subject", *values}
    assert IN_A_SET.say(Result(code, subject, "length", (0.0, 0.0), 0.0, 0.1, values)) == says


@pytest.mark.parametrize(("code", "values", "says"), REASONS)
def test_a_reason_is_said(code: str, values: dict, says: str) -> None:
    assert gaps(WORDS[code]) == values.keys()
    assert IN_A_SET.why(Reason(code, values)) == says


def test_a_gap_that_nothing_fills_is_no_sentence() -> None:
    with pytest.raises(KeyError, match="edge"):
        IN_A_SET.why(Reason("turned"))


def test_a_code_without_words_is_told_as_it_is() -> None:
    assert IN_A_SET.why(Reason("other.kind", {"far": 3.0})) == "other.kind: far 3.0"
    added = Proof(
        SKIRT, (), labels={SKIRT: "skirt"}, words={"other.kind": "{edge} is {far:mm} off"}
    )
    assert added.why(Reason("other.kind", {"far": 3.0, "edge": SIDE})) == (
        "'skirt side' is 3.000 mm off"
    )
