"""A block is checked by key or in its file: which checks, on whom, and how it went."""

from __future__ import annotations

import os

import pytest
from author_samples import APRON, BRIM, CROWN, apron
from cli_samples import Result, Workroom

from blockwright.testing.run import CHECKS

LINE = "width = (self.waist + self.ease) / 2"
SEAM = apron(("Point(width, self.length)\n", "Point(width, self.length + 5)\n"))


def checked(room: Workroom, source: str, *arguments: str) -> Result:
    (room.folder / "my_block.py").write_text(source, encoding="utf-8")
    return room.run("check", "my_block.py", "--bodies", "4", *arguments)


def test_a_good_block_passes_every_check(workroom: Workroom) -> None:
    result = checked(workroom, APRON)
    assert (result.code, result.err) == (0, "")
    *lines, last = result.out.splitlines()
    *lines, stated = lines
    assert [line.partition(":")[0] for line in lines] == [f"passed  {name}" for name in CHECKS]
    assert stated == "stated: nothing is sewn to 'waist': bound"
    assert last == (
        f"apron.plain: all {len(CHECKS)} checks passed; 4 bodies, 0 refused by name, 1 stated"
    )
    assert set(workroom.contents()) == {"my_block.py", "ada.toml"}


def test_a_failed_check_is_one_and_says_what_draws_it_again(workroom: Workroom) -> None:
    result = checked(workroom, SEAM, "--check", "proof-holds", "--check", "drafts")
    assert (result.code, result.err) == (1, "")
    lines = result.out.splitlines()
    assert lines[0].startswith("passed  drafts: ")
    assert lines[1].startswith("failed  proof-holds: ")
    assert "seam: side seam: wanted 0.0 mm, measured 5.0 mm, off by 5.000 mm; fix" in lines[2]
    assert "my_block.py --block apron.plain --body survey:" in lines[2]
    assert lines[-1] == "apron.plain: 2 checks, 1 failed; 4 bodies, 0 refused by name, 1 stated"


def test_what_draws_it_again_does(workroom: Workroom) -> None:
    result = checked(workroom, SEAM, "--check", "proof-holds")
    command = result.out.partition("[blockwright ")[2].partition("]")[0].split()
    assert command[0] == "try"
    again = workroom.run(*command, "--out", "out")
    assert again.code == 1
    assert "BROKEN  seam: side seam" in again.out


def test_known_failures_are_no_failures(workroom: Workroom) -> None:
    known = 'traits = Traits(known_failures={"proof-holds": "to be mended"})'
    source = SEAM.replace("import Block,", "import Block, Traits,").replace(
        '    title = "Apron"', f'    title = "Apron"\n    {known}'
    )
    result = checked(workroom, source, "--check", "proof-holds")
    assert (result.code, result.err) == (0, "")
    assert "known   proof-holds: " in result.out
    assert "          to be mended\n" in result.out
    result = checked(workroom, source.replace("+ 5", "+ 0"), "--check", "proof-holds")
    assert result.code == 1
    assert "take it off the list" in result.out


def test_an_installed_block_by_its_key(workroom: Workroom) -> None:
    result = workroom.run("check", "skirt.gored", "--check", "block-is-named")
    assert (result.code, result.err) == (0, "")
    assert "skirt.gored: all 1 checks passed; 100 bodies" in result.out


def test_several_blocks_and_one_that_fails(workroom: Workroom) -> None:
    (workroom.folder / "seam.py").write_text(SEAM, encoding="utf-8")
    result = checked(workroom, APRON, "seam.py", "skirt.gored", "--check", "proof-holds")
    assert (result.code, result.err) == (1, "")
    ends = [line.partition(";")[0] for line in result.out.splitlines() if " bodies, " in line]
    assert ends == [
        "apron.plain: all 1 checks passed",
        "apron.plain: 1 checks, 1 failed",
        "skirt.gored: all 1 checks passed",
    ]


def test_beside_what_it_is_sewn_to(workroom: Workroom) -> None:
    """The sleeve takes its armhole from the bodice, and needs none on the sheet."""
    result = workroom.run(
        "check", "sleeve.straight", "--beside", "bodice.easy", "--bodies", "4",
        "--check", "proof-holds", "--check", "refuses-few",
    )  # fmt: skip
    assert (result.code, result.err) == (0, "")
    assert "sleeve.straight: all 2 checks passed; 4 bodies, 0 refused by name" in result.out


@pytest.fixture
def hat(workroom: Workroom) -> Workroom:
    """A crown and a brim, each in a file and both in another."""
    for name, source in {"crown": CROWN, "brim": BRIM, "hat": CROWN + BRIM}.items():
        (workroom.folder / f"{name}.py").write_text(source, encoding="utf-8")
    return workroom


BRIEFLY = ("--bodies", "2", "--check", "proof-holds", "--check", "edges-are-sewn")


@pytest.mark.parametrize(
    ("what", "checked_ones"),
    [
        ("brim.py --beside crown.py", ["hat.brim"]),
        ("brim.py --beside skirt.gored --beside crown.py", ["hat.brim"]),
        ("hat.py --beside hat.py", ["hat.crown", "hat.brim"]),
    ],
)
def test_beside_what_is_in_a_file(hat: Workroom, what: str, checked_ones: list[str]) -> None:
    result = hat.run("check", *what.split(), *BRIEFLY)
    assert (result.code, result.err) == (0, "")
    told = [line.partition(":")[0] for line in result.out.splitlines() if " bodies, " in line]
    assert told == checked_ones


def test_an_installed_block_beside_a_file_whose_edge_it_does_not_take(hat: Workroom) -> None:
    result = hat.run("check", "skirt.gored", "--beside", "crown.py", *BRIEFLY)
    assert (result.code, result.err) == (1, "")
    assert "passed  proof-holds: " in result.out
    assert "failed  edges-are-sewn: " in result.out
    assert "edge 'hat edge' is offered, and no block of the set takes it" in " ".join(
        result.out.split()
    )
    assert "skirt.gored: 2 checks, 1 failed; 2 bodies, 0 refused by name" in result.out


@pytest.mark.parametrize(
    ("what", "words"),
    [
        ("brim.py --beside crown.py --beside hat.py", "hat.crown is given twice; give it once"),
        ("brim.py --beside hat.py", "hat.brim is given twice; give it once"),
        ("brim.py --beside brim.py", "--beside brim.py: has no block but hat.brim itself; give"),
        ("brim.py --beside hat.crwn", "no block 'hat.crwn'"),
    ],
)
def test_what_cannot_stand_beside(hat: Workroom, what: str, words: str) -> None:
    (line,) = hat.refused("check", *what.split())
    assert words in line


def test_what_draws_it_again_beside_a_file_does(hat: Workroom) -> None:
    brim = BRIM.replace("wide, deep = self.head", "wide, deep = self.head + 5")
    (hat.folder / "brim.py").write_text(brim, encoding="utf-8")
    result = hat.run("check", "brim.py", "--beside", "crown.py", *BRIEFLY)
    assert result.code == 1
    command = result.out.partition("[blockwright ")[2].partition("]")[0].split()
    assert command[0] == "try"
    again = hat.run(*command, "--out", "out")
    assert again.code == 1
    assert "BROKEN  seam: hat.brim brim to crown" in again.out


def test_files_of_one_name_beside_each_other(hat: Workroom) -> None:
    """As the packages that `new` writes have them."""
    brim = BRIM.replace("wide, deep = self.head", "wide, deep = self.head + 5")
    for folder, source in {"a": CROWN, "b": brim}.items():
        (hat.folder / folder).mkdir()
        (hat.folder / folder / "block.py").write_text(source, encoding="utf-8")
    what = (os.path.join("b", "block.py"), "--beside", os.path.join("a", "block.py"))
    result = hat.run("check", *what, *BRIEFLY)
    assert result.code == 1
    command = result.out.partition("[blockwright ")[2].partition("]")[0].split()
    files = [word for word in command if word.endswith(".py")]
    assert [os.path.relpath(file, hat.folder) for file in files] == [what[0], what[2]]
    assert hat.run(*command, "--out", "out").code == 1


def test_the_checks_are_listed(workroom: Workroom) -> None:
    result = workroom.run("check", "--list")
    assert (result.code, result.err) == (0, "")
    assert result.out.splitlines() == [f"{name}: {check.says}" for name, check in CHECKS.items()]


def test_what_it_prints_is_not_among_the_results(workroom: Workroom) -> None:
    result = checked(workroom, apron((LINE, f"{LINE}; print('width')")), "--check", "stateless")
    assert result.code == 0
    assert result.out.startswith("passed  stateless: ")
    assert "width" not in result.out
    assert result.err == ""
    told = checked(workroom, apron((LINE, f"{LINE}; print('width')")), "--check", "no-output")
    assert told.code == 1
    assert "printed 'width'" in told.out


def test_what_is_wrong_with_the_file_is_told_before(workroom: Workroom) -> None:
    result = checked(workroom, apron((LINE, LINE.replace(")", ""))))
    assert (result.code, result.out) == (3, "")
    assert "my_block.py cannot be run: SyntaxError" in result.err


REFUSED: dict[str, tuple[tuple[str, ...], tuple[str, ...]]] = {
    "nothing": ((), ("check what?", "key of a block or a Python file")),
    "unknown check": (
        ("skirt.gored", "--check", "outline-close"),
        ("no check 'outline-close'; did you mean outline-closes?", "check --list"),
    ),
    "check like no other": (("skirt.gored", "--check", "zzz"), ("no check 'zzz'", "--list")),
    "unknown block": (("skirt.gord",), ("no block 'skirt.gord'; did you mean skirt.gored?",)),
    "no such file": (("nobody.py",), ("nobody.py: no such file",)),
    "unknown neighbour": (
        ("skirt.gored", "--beside", "bodice.esy"),
        ("no block 'bodice.esy'; did you mean bodice.easy?",),
    ),
    "no such file beside it": (
        ("skirt.gored", "--beside", "nobody.py"),
        ("nobody.py: no such file",),
    ),
    "beside itself": (
        ("sleeve.straight", "--beside", "sleeve.straight"),
        ("sleeve.straight is given twice",),
    ),
    "neighbours that do not agree": (
        ("sleeve.straight", "--beside", "bodice.easy", "--beside", "bodice.fitted"),
        ("bodice.easy and bodice.fitted both offer the front armhole",),
    ),
    "no body": (("skirt.gored", "--bodies", "0"), ("--bodies", "0")),
}


@pytest.mark.parametrize("case", REFUSED)
def test_what_is_typed_wrong(workroom: Workroom, case: str) -> None:
    arguments, words = REFUSED[case]
    (line,) = workroom.refused("check", *arguments)
    for word in words:
        assert word in line, line
