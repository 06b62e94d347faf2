"""A block in a file is drawn and told of at once, whatever is wrong with it."""

from __future__ import annotations

import json
import subprocess
import sys
import time

import pytest
from author_samples import APRON, BRIM, CROWN, apron, line_of
from cli_samples import Result, Workroom

from blockwright.cli import authors

MIDDLING = "male-621"  # whom the survey's middle girths are nearest to, among all
TWO = APRON + (
    '\n\nclass Bib(Apron):\n    """Bib: an apron for cooks."""\n\n    key = "bib.plain"\n'
    '    title = "Bib"\n\n\nclass Cook(Apron):\n    """Cook: longer."""\n\n    key = "cook.plain"\n'
    '    title = "Cook"\n'
)


@pytest.fixture
def desk(workroom: Workroom, monkeypatch) -> Workroom:
    """A workroom whose `try` soon has enough of a block that does not end."""
    monkeypatch.setattr(authors, "FILE_LIMIT", 4.0)
    (workroom.folder / "eve.toml").write_text(
        'name = "Eve"\nunits = "in"\n[measurements]\nwaist_girth = 28\n', encoding="utf-8"
    )
    return workroom


def tried(room: Workroom, source: str | bytes, *arguments: str) -> Result:
    data = source if isinstance(source, bytes) else source.encode()
    (room.folder / "my_block.py").write_bytes(data)
    return room.run("try", "my_block.py", "--out", "out", *arguments)


def written(room: Workroom) -> list[str]:
    out = room.folder / "out"
    return sorted(path.name for path in out.iterdir()) if out.exists() else []


def told(room: Workroom, source: str | bytes, *arguments: str, code: int = 3) -> str:
    """The one line of a run that fails, prints nothing else and writes nothing."""
    result = tried(room, source, *arguments)
    assert (result.code, result.out) == (code, ""), result
    (line,) = result.err.splitlines()
    assert written(room) == []
    return line


def test_a_block_is_drawn_for_a_middling_body(desk: Workroom) -> None:
    result = tried(desk, APRON)
    assert (result.code, result.err) == (0, "")
    assert "apron.plain: all 11 promises held\n" in result.out
    assert written(desk) == [f"{MIDDLING}-apron.plain.svg"]
    picture = (desk.folder / "out" / written(desk)[0]).read_text(encoding="utf-8")
    assert "UNPROVED" not in picture


@pytest.mark.parametrize(("body", "name"), [("eve.toml", "eve"), ("survey:female-17", "female-17")])
def test_a_body_of_ones_own(desk: Workroom, body: str, name: str) -> None:
    assert tried(desk, APRON, "--body", body).code == 0
    assert written(desk) == [f"{name}-apron.plain.svg"]


def test_options_are_set_in_the_sheets_unit(desk: Workroom) -> None:
    result = tried(
        desk, APRON, "--body", "eve.toml", "--set", "length=20", "--set", "ease=1cm",
        "--format", "json", "--finish", "usual",
    )  # fmt: skip
    assert result.code == 0
    values = json.loads((desk.folder / "out" / "eve-apron.plain.json").read_text("utf-8"))
    assert values["pattern"]["options"] == {"ease": 10.0, "length": pytest.approx(20 * 25.4)}
    assert values["finished"] != []


@pytest.mark.parametrize(("key", "title"), [("bib.plain", "Bib"), ("cook.plain", "Cook")])
def test_one_of_several_blocks(desk: Workroom, key: str, title: str) -> None:
    """The apron is the base of both, and so no block of its own."""
    assert tried(desk, TWO, "--block", key).code == 0
    assert written(desk) == [f"{MIDDLING}-{key}.svg"]


def test_a_file_is_run_each_time_and_hides_no_module(desk: Workroom) -> None:
    (desk.folder / "json.py").write_text(APRON, encoding="utf-8")
    assert desk.run("try", "json.py", "--out", "out", "--format", "json").code == 0
    (desk.folder / "json.py").write_text(apron(('"Apron"', '"Pinny"')), encoding="utf-8")
    assert desk.run("try", "json.py", "--out", "out", "--format", "json").code == 0
    values = json.loads((desk.folder / "out" / f"{MIDDLING}-apron.plain.json").read_text("utf-8"))
    assert values["pattern"]["title"] == "Pinny"


# What was typed, the file, and words of the one line.
TYPED: dict[str, tuple[tuple[str, ...], str | bytes, tuple[str, ...]]] = {
    "which of two": ((), TWO, ("2 blocks", "--block", "bib.plain, cook.plain")),
    "none of two": (
        ("--block", "bib.plan"),
        TWO,
        ("has no block 'bib.plan'", "bib.plain, cook.plain"),
    ),
    "not that one": (("--block", "bib"), APRON, ("has no block 'bib'", "apron.plain")),
    "no block": ((), "x = 1\n", ("my_block.py: defines no block", "Block as its base")),
    "empty": ((), "", ("my_block.py: defines no block",)),
    "unknown option": (("--set", "leng=30cm"), APRON, ("'leng'", "did you mean length?")),
    "out of range": (("--set", "length=30mm"), APRON, ("option length", "200.0 mm to 900.0 mm")),
    "unknown format": (("--format", "png"), APRON, ("no format 'png'", "svg")),
    "no such body": (("--body", "survey:famale-1"), APRON, ("did you mean female-",)),
    "no such sheet": (("--body", "eva.toml"), APRON, ("eva.toml", "no such file")),
    "body without it": (("--body", "ada.toml"), APRON, ("ada.toml", "needs waist_girth")),
}


@pytest.mark.parametrize("case", TYPED)
def test_what_is_typed_wrong(desk: Workroom, case: str) -> None:
    arguments, source, words = TYPED[case]
    line = told(desk, source, *arguments, code=2)
    for word in words:
        assert word in line, line


@pytest.mark.parametrize(
    ("name", "words"),
    [
        ("nobody.py", ("nobody.py: no such file",)),
        ("folder.py", ("folder.py: is no file",)),
        ("ada.toml", ("ada.toml: is no Python file", "ends in .py")),
    ],
)
def test_what_is_no_python_file(desk: Workroom, name: str, words: tuple[str, ...]) -> None:
    (desk.folder / "folder.py").mkdir()
    (line,) = desk.refused("try", name)
    for word in words:
        assert word in line


LINE = "width = (self.waist + self.ease) / 2"
# What is wrong with the file; words of the one line, and words that are on the line it names.
FAULTY: dict[str, tuple[str | bytes, tuple[str, ...], str]] = {
    "bracket": (
        apron((LINE, LINE.replace(")", ""))),
        ("my_block.py cannot be run: SyntaxError: '(' was never closed", "my_block.py, line {}"),
        "width = (self.waist",
    ),
    "indent": (
        apron((f"        {LINE}", f"      {LINE}")),
        ("my_block.py cannot be run: IndentationError", "my_block.py, line {}"),
        "bottom_left, bottom_right = Point",
    ),
    "binary": (bytes(range(256)), ("my_block.py cannot be run: ",), ""),
    "raises": (
        apron(("class Apron", "1 / 0\nclass Apron")),
        ("my_block.py cannot be run: ZeroDivisionError", "my_block.py:{})"),
        "1 / 0",
    ),
    "leaves": ("exit(3)\n", ("my_block.py cannot be run: SystemExit: 3",), "exit"),
    "misspelt import": (
        apron(("import Block,", "import Blok,")),
        ("cannot import name 'Blok'", "my_block.py:{})", "did you mean Block?"),
        "Blok",
    ),
    "no key": (
        apron(('    key = "apron.plain"\n', "")),
        ("my_block.py: Apron has no key; write key = '...' in the class",),
        "",
    ),
    "no draft": (
        apron(("def draft(self, d)", "def darft(self, d)")),
        ("my_block.py: Apron has no draft method; write one",),
        "",
    ),
    "draft of nothing": (
        apron(("def draft(self, d)", "def draft(self)")),
        ("my_block.py: Apron.draft(self) is given a drafting table; write def draft(self, d)",),
        "",
    ),
    "misspelt attribute": (
        apron((LINE, LINE.replace("waist", "wast"))),
        ("block 'apron.plain' of my_block.py failed: AttributeError", "'wast'", "my_block.py:{})"),
        "self.wast",
    ),
    "misspelt role": (
        apron(('bottom_right), "hem")', 'bottom_right), "hme")')),
        ("edge 'hem' has role 'hme'; there are seam, ", "my_block.py:{})"),
        "d.piece(",
    ),
    "in a library": (
        apron((LINE, f"{LINE}; __import__('json').loads('[')")),
        ("JSONDecodeError", "my_block.py:{})"),
        "json",
    ),
    "no piece": (
        apron((LINE, "return")),
        ("block 'apron.plain' of my_block.py failed: no piece was drawn; call d.piece(...)",),
        "",
    ),
    "rule of another name": (
        apron(
            ("import Block,", "import Block, Rule,"),
            (
                'measurement("waist_girth")',
                'measurement("waist_girth", estimate=Rule(("hip_grth",), float, "the hip"))',
            ),
        ),
        ("hip_grth: no such measurement; did you mean hip_girth?", "my_block.py:{})"),
        "hip_grth",
    ),
    "allowance of no role": (
        apron(('    title = "Apron"', '    title = "Apron"\n    allowances = {"hme": "4 cm"}')),
        ("its allowance for 'hme': no such role; did you mean hem?",),
        "",
    ),
    "allowance without a unit": (
        apron(('    title = "Apron"', '    title = "Apron"\n    allowances = {"hem": "4"}')),
        ("its allowance for hem: '4' has no unit", "'4 cm'"),
        "",
    ),
}


@pytest.mark.parametrize("case", FAULTY)
def test_what_is_wrong_with_the_file(desk: Workroom, case: str) -> None:
    source, words, at = FAULTY[case]
    line = told(desk, source)
    number = line_of(source, at) if at and isinstance(source, str) else 0
    for word in words:
        assert word.format(number) in line, line
    assert "tell its author" not in line  # who is reading it


@pytest.mark.parametrize(
    ("rule", "gave"), [("lambda hip: None", "None"), ("lambda hip: hip * float('nan')", "nan")]
)
def test_a_rule_that_gives_no_length(desk: Workroom, rule: str, gave: str) -> None:
    (desk.folder / "hip.toml").write_text('units = "cm"\n[measurements]\nhip_girth = 96\n', "utf-8")
    estimate = f'"waist_girth", estimate=Rule(("hip_girth",), {rule}, "from the hip")'
    source = apron(("import Block,", "import Block, Rule,"), ('"waist_girth"', estimate))
    line = told(desk, source, "--body", "hip.toml")
    assert f"the rule for waist_girth (from the hip) gave {gave}; give a length in mm" in line


@pytest.mark.parametrize(
    ("source", "what"),
    [
        (apron((LINE, "while True: pass")), "block 'apron.plain' of my_block.py"),
        ("while True:\n    pass\n", "my_block.py"),
    ],
    ids=["draft", "file"],
)
def test_what_does_not_end_is_stopped(desk: Workroom, source: str, what: str) -> None:
    begin = time.perf_counter()
    line = told(desk, source)
    assert time.perf_counter() - begin < 12.0
    assert line == (
        f"blockwright: {what} took longer than 4 s and was stopped; look for a loop that does "
        "not end"
    )


def test_what_it_prints_is_told_apart(desk: Workroom) -> None:
    result = tried(desk, apron((LINE, f"{LINE}; print('width', width)")))
    assert result.code == 0
    assert result.out.startswith("      promise")
    (line,) = result.err.splitlines()
    assert line.startswith("blockwright: block 'apron.plain' of my_block.py printed 'width ")


START = "from blockwright.cli.main import main; main()"


@pytest.mark.parametrize(
    ("slip", "code", "shown"),
    [
        ("; print('width', [1] * 40); print('and', 'more')", 0, [f"width {[1] * 40}", "and more"]),
        ("; print('one'); print('two'); 1 / 0", 3, ["one", "two"]),
        ("; print('one'); import os; os._exit(5)", 3, ["one"]),
    ],
)
def test_what_it_prints_is_shown_whole_even_if_it_fails(
    desk: Workroom, slip: str, code: int, shown: list[str]
) -> None:
    """A process of its own: what the block prints goes to the terminal as it comes."""
    source = "print('at import')\n" + apron((LINE, LINE + slip))
    (desk.folder / "my_block.py").write_text(source, encoding="utf-8")
    done = subprocess.run(
        [sys.executable, "-c", START, "try", "my_block.py", "--out", "out"],
        cwd=desk.folder, capture_output=True, text=True, check=False,
    )  # fmt: skip
    assert done.returncode == code
    printed = [line for line in done.stderr.splitlines() if not line.startswith("blockwright: ")]
    assert printed == ["at import", *shown]
    assert not set(printed) & set(done.stdout.splitlines())


def test_it_ends_with_whom_it_drew_for_and_what_comes_next(desk: Workroom) -> None:
    last = tried(desk, APRON).out.splitlines()[-2:]
    assert last == [
        f"drafted for survey:{MIDDLING}; for another with --body FILE or --body SOURCE:BODY",
        "next: blockwright check my_block.py --bodies 1000",
    ]
    lines = tried(desk, APRON, "--body", "eve.toml").out.splitlines()
    assert lines[-1] == last[-1]
    assert not any(line.startswith("drafted for") for line in lines)
    assert desk.run(*f"{last[-1].removeprefix('next: blockwright ')[:-3]}".split()).code == 0


# -- what the checks of one draft say --------------------------------------------------------------

NO_SEAM = apron(('        d.seam("side seam", right, -left)\n', ""))


NOTCHED = apron(
    (
        "from blockwright import Block, Edge, Point",
        "from blockwright import Block, Edge, Notch, Point",
    ),
    (" cut=2,\n", " cut=2, notches=[Notch('knee', 'left side', 1.0)],\n"),
)


def test_what_cannot_be_cut_is_told_at_once(desk: Workroom) -> None:
    result = tried(desk, NOTCHED)
    assert result.code == 1
    assert "apron.plain: all 11 promises held\n" in result.out
    (line,) = result.err.splitlines()
    assert "can-be-finished: " in line
    assert "knee is 1.0 mm from the end of left side, nearer than the 3.0 mm" in line
    assert line.endswith(" --finish usual]")


@pytest.mark.parametrize("body", [(), ("--body", "eve.toml")], ids=["middling", "Eve"])
def test_an_edge_in_no_promise_is_told_once(desk: Workroom, body: tuple[str, ...]) -> None:
    """By the printed proof alone."""
    result = tried(desk, NO_SEAM, *body)
    assert (result.code, result.err) == (1, "")
    assert "apron.plain: UNPROVED, 2 of 9 promises broken\n" in result.out
    assert result.out.splitlines()[-1] == (
        "next: fix this, then blockwright check my_block.py --bodies 1000"
    )
    broken = [line for line in result.out.splitlines() if line.startswith("BROKEN")]
    for side, line in zip(("right side", "left side"), broken, strict=True):
        assert line.startswith(f"BROKEN  sewing: {side} has a partner ")
        assert f"edge '{side}' (seam) of piece 'panel' is sewn to nothing; promise its" in line
    assert len(written(desk)) == 1


# The hem is rounded, with a corner below the side seam.
ROUNDED = apron(
    ("import Block,", "import Block, arc_through,"),
    ("line(bottom_left, bottom_right)", "arc_through(bottom_left, (width / 2, -60), bottom_right)"),
)


def test_what_only_warns_is_told_once(desk: Workroom) -> None:
    """By the printed proof, and the line that any proof with a warning has."""
    result = tried(desk, ROUNDED)
    assert result.code == 0
    assert "apron.plain: all 10 promises held; look at 1 more\n" in result.out
    where = "unpromised corner: where 'hem' and 'right side' and 'left side' meet"
    assert [line for line in result.out.splitlines() if line.startswith(f"look  {where}  ")]
    (line,) = result.err.splitlines()
    assert line.startswith(f"blockwright: look at {where}: ")


def test_what_the_class_lacks_is_told_at_once(desk: Workroom) -> None:
    result = tried(desk, apron(('says="waist to hem"', 'says=""')))
    assert result.code == 1
    assert "options-are-described: option length says ''; write says='...'" in result.err


def test_a_failure_that_is_known_is_not_told(desk: Workroom) -> None:
    known = 'traits = Traits(known_failures={"options-are-described": "to be mended"})'
    source = (
        apron(('says="waist to hem"', 'says=""'))
        .replace("import Block,", "import Block, Traits,")
        .replace('    title = "Apron"', f'    title = "Apron"\n    {known}')
    )
    result = tried(desk, source)
    assert (result.code, result.err) == (0, "")


def test_its_help_says_what_its_exit_code_means(desk: Workroom) -> None:
    told = " ".join(desk.run("try", "--help").out.split())
    assert "Exit 0 when every promise holds and no such check complains, 1 when not." in told


# -- beside what it is sewn to ---------------------------------------------------------------------


@pytest.mark.parametrize(
    ("own", "beside", "first"),
    [
        (BRIM, ("crown.py",), "hat.crown"),
        (CROWN + BRIM, ("my_block.py",), "hat.crown"),
        (CROWN + BRIM, ("hat.crown",), "hat.crown"),
        (BRIM, ("skirt.gored", "crown.py"), "skirt.gored+hat.crown"),
    ],
)
def test_beside_another_block(desk, own: str, beside: tuple[str, ...], first: str) -> None:
    (desk.folder / "crown.py").write_text(CROWN, encoding="utf-8")
    names = [word for name in beside for word in ("--beside", name)]
    result = tried(desk, own, "--block", "hat.brim", *names)
    assert (result.code, result.err) == (0, ""), result.err
    assert "seam: hat.brim brim to crown" in result.out
    assert "walked on hat.crown" in result.out
    whom = "female-23" if "skirt" in first else MIDDLING
    assert written(desk) == [f"{whom}-{first}+hat.brim.svg"]
    again = " ".join(names)
    assert result.out.splitlines()[-1] == (
        f"next: blockwright check my_block.py {again} --bodies 1000"
    )


def test_an_option_of_one_of_a_set(desk: Workroom) -> None:
    (desk.folder / "crown.py").write_text(CROWN, encoding="utf-8")
    result = tried(desk, BRIM, "--beside", "crown.py", "--set", "height=9cm", "--format", "json")
    assert result.code == 0
    values = json.loads((desk.folder / "out" / written(desk)[0]).read_text("utf-8"))
    assert values["pattern"]["options"] == {"hat.crown.height": 90.0, "hat.brim.depth": 60.0}


def test_what_is_amiss_beside_another_names_both(desk: Workroom) -> None:
    result = tried(desk, BRIM, "--beside", "skirt.gored")
    assert result.code == 1
    assert "walked on" not in result.out
    assert written(desk) == ["female-23-skirt.gored+hat.brim.svg"]
    assert result.err == (
        "blockwright: block 'hat.brim' of my_block.py beside skirt.gored: takes-are-offered: it "
        "takes 'crown edge', which skirt.gored does not offer; offered: nothing\n"
    )


def test_edges_of_a_set_that_nothing_is_sewn_to_are_named_with_their_block(desk: Workroom) -> None:
    (desk.folder / "crown.py").write_text(CROWN, encoding="utf-8")
    source = BRIM.replace('d.seam("brim to crown", -inner, taken)', "pass")
    result = tried(desk, source, "--beside", "crown.py")
    assert (result.code, result.err) == (1, "")
    offered, inner = [line for line in result.out.splitlines() if line.startswith("BROKEN")]
    assert "; edge 'hat.crown edge' is offered, and no block of the set takes it; " in offered
    assert "; edge 'hat.brim inner edge' (seam) of piece 'hat.brim brim' is sewn to " in inner


BESIDE: dict[str, tuple[tuple[str, ...], str]] = {
    "no such key": (("--beside", "skirt.gord"), "did you mean skirt.gored?"),
    "no such file": (("--beside", "crwn.py"), "crwn.py: no such file"),
    "nothing but itself": (("--beside", "my_block.py"), "has no block but hat.brim itself; give"),
    "itself": (("--beside", "hat.brim"), "hat.brim is given twice; give it once"),
    "twice": (("--beside", "skirt.gored", "--beside", "skirt.gored"), "is given twice"),
}


@pytest.mark.parametrize("case", BESIDE)
def test_what_cannot_stand_beside(desk: Workroom, case: str) -> None:
    arguments, words = BESIDE[case]
    assert words in told(desk, BRIM, *arguments, code=2)


# -- bodies that lack something --------------------------------------------------------------------


def test_a_body_of_the_survey_that_lacks_something_is_told_by_its_whole_name(desk) -> None:
    line = told(desk, CROWN, "--body", "survey:female-17", code=2)
    assert line == (
        "blockwright: survey:female-17: hat.crown needs head_girth: Round the head where it is "
        "largest, above the ears. To have what it lacks estimated: --body "
        "survey:female-17+head_girth"
    )
    result = tried(desk, CROWN, "--body", line.rpartition(" ")[2])
    assert (result.code, result.err) == (0, "")


def test_all_that_is_lacking_is_in_one_name(desk: Workroom) -> None:
    hand = '    hand = measurement("hand_girth")\n    height ='
    result = tried(desk, CROWN.replace("    height =", hand), "--body", "survey:female-17")
    assert result.code == 2
    whole = "To have what it lacks estimated: --body survey:female-17+head_girth+hand_girth"
    assert [line.endswith(whole) for line in result.err.splitlines()] == [True, True]
    result = tried(desk, CROWN, "--body", "survey:female-17", "--set", "height=1m")
    assert [line.endswith("+head_girth") for line in result.err.splitlines()] == [False, True]


def test_a_sheet_of_ones_own_is_told_of_no_estimate(desk: Workroom) -> None:
    assert told(desk, CROWN, "--body", "ada.toml", code=2).endswith("above the ears.")


def test_what_the_sheet_has_estimated_is_marked(desk: Workroom) -> None:
    """In the proof and on the label, as what a block's own rule estimates is."""
    result = tried(desk, CROWN, "--body", "survey:female-17+head_girth+hand_girth")
    assert (
        "\nestimated: head_girth 560.0 mm, 0.095 of the height and 40 cm: not taken" in result.out
    )
    assert "estimated: hand_girth" not in result.out  # which it is not drafted from
    (name,) = written(desk)
    label = (desk.folder / "out" / name).read_text(encoding="utf-8")
    assert ">estimated, not measured: head girth<" in label


def test_what_a_rule_is_from_is_marked_when_it_was_estimated(desk: Workroom) -> None:
    rule = 'estimate=Rule(("head_girth",), lambda head: head / 3, "a third of the head"))'
    source = CROWN.replace('"head_girth")', f'"hand_girth", {rule}').replace(
        "Block,", "Block, Rule,"
    )
    out = tried(desk, source, "--body", "survey:female-17+head_girth").out
    assert "\nestimated: hand_girth 186.7 mm, a third of the head" in out
    assert "\nestimated: head_girth 560.0 mm, 0.095 of the height" in out


def test_what_is_taken_from_another_block_is_not_marked(desk: Workroom) -> None:
    crown = CROWN.replace('"head_girth")', '"hip_girth")')
    (desk.folder / "crown.py").write_text(crown, encoding="utf-8")
    body = ("--body", "survey:female-17+head_girth")
    assert "estimated: head_girth" in tried(desk, BRIM, *body).out
    assert "estimated:" not in tried(desk, BRIM, "--beside", "crown.py", *body).out


# -- drawn all the same --------------------------------------------------------------------------


def test_a_broken_promise_is_drawn_and_says_so(desk: Workroom) -> None:
    result = tried(desk, apron(("Point(width, self.length)\n", "Point(width, self.length + 5)\n")))
    assert (result.code, result.err) == (1, "")
    assert "BROKEN  seam: side seam" in result.out
    assert "apron.plain: UNPROVED, 2 of 11 promises broken\n" in result.out
    (name,) = written(desk)
    assert ">UNPROVED<" in (desk.folder / "out" / name).read_text(encoding="utf-8")


@pytest.mark.parametrize("form", ["svg", "dxf", "json", "pdf", "hpgl"])
def test_an_open_outline_is_drawn_and_told(desk: Workroom, form: str) -> None:
    source = apron(("line(top_left, bottom_left)", "line(top_left + Point(0, -3), bottom_left)"))
    result = tried(desk, source, "--format", form)
    assert result.code == 1
    (line,) = [row for row in result.out.splitlines() if row.startswith("BROKEN  outline")]
    assert "outline: panel closes" in line
    assert line.endswith(
        "piece 'panel' does not close: edge 'waist' ends 3.000 mm from where 'left side' begins; "
        "let them share a point"
    )
    assert len(written(desk)) == 1


# -- the five smallest slips of an author ----------------------------------------------------------

WRONG_ARGUMENT = (
    "from blockwright import hookimpl\n\n\n"
    "@hookimpl\ndef blockwright_blocks(host):\n    return []\n"
)
# The file; exit code; where it is told and what the line that tells it has; what it must name; and
# words that are on the line of the file whose number it gives.
SLIPS: dict[str, tuple[str, int, tuple[str, str], tuple[str, ...], str]] = {
    "a misspelt measurement": (
        apron(('"waist_girth"', '"wast_girth"')),
        3,
        ("err", "wast_girth"),
        ("wast_girth: no such measurement; did you mean waist_girth?", "my_block.py:{})"),
        "wast_girth",
    ),
    "a seam that does not fit": (
        apron(("Point(width, self.length)\n", "Point(width, self.length + 5)\n")),
        1,
        ("out", "BROKEN  seam"),
        ("BROKEN  seam: side seam ", " 0.0 mm ", " 5.0 mm "),
        "",
    ),
    "centimetres for millimetres": (
        apron((LINE, f"{LINE} / 10")),
        1,
        ("out", "BROKEN"),
        ("BROKEN  girth: waist ", " 925.0 mm ", " 92.5 mm "),
        "",
    ),
    "a length without its unit": (
        apron(('"50 cm"', '"50"')),
        3,
        ("err", "has no unit"),
        ("'50' has no unit; write it with one, such as '50 cm'", "my_block.py:{})"),
        'length_option("50"',
    ),
    "an outline that is open": (
        apron(("line(top_left, bottom_left)", "line(top_left + Point(0, -3), bottom_left)")),
        1,
        ("out", "piece 'panel'"),
        ("edge 'waist' ends 3.000 mm from where 'left side' begins; let them share a point",),
        "",
    ),
    "a hook with an argument": (
        WRONG_ARGUMENT,
        3,
        ("plugins", "fault"),
        (
            "blockwright_blocks(host)",
            "'host'",
            "the hooks are blockwright_blocks()",
        ),
        "",
    ),
}


@pytest.mark.parametrize("case", SLIPS)
def test_a_slip_is_told_in_one_message_that_names_it(desk, shelf, case: str) -> None:
    source, code, (where, which), words, at = SLIPS[case]
    if where == "plugins":
        shelf.put("my-block", source)
        result = desk.run("plugins")
    else:
        result = tried(desk, source)
    assert result.code == code
    lines = (result.err if where == "err" else result.out).splitlines()
    (line,) = [line for line in lines if which in line]
    number = line_of(source, at) if at else 0
    for word in words:
        assert word.format(number) in line, line
    assert "Traceback" not in result.err


def test_without_a_slip_it_is_proved(desk: Workroom) -> None:
    """So that each case above is told of its own slip."""
    assert tried(desk, APRON).code == 0
