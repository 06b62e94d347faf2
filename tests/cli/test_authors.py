"""A package that `new` writes is whole and passes; what it cannot write is one clear line."""

from __future__ import annotations

import errno
import os
import shutil
import subprocess
import sys
import tomllib
from collections.abc import Iterator
from pathlib import Path

import pytest
from cli_samples import Workroom

from blockwright import API_VERSION
from blockwright.cli.new import FILES

NAME, MODULE = "collar-stand", "collar_stand"


@pytest.fixture(scope="module")
def package(tmp_path_factory: pytest.TempPathFactory) -> Path:
    from blockwright.cli.main import run

    out = tmp_path_factory.mktemp("author")
    assert run(["new", NAME, "--out", str(out)]) == 0
    return out / NAME


def ran(folder: Path, *arguments: str) -> subprocess.CompletedProcess[str]:
    """Run a module of Python in a folder, its sources on the path."""
    return subprocess.run(
        [sys.executable, "-m", *arguments],
        cwd=folder, capture_output=True, text=True, check=False,
        env={**os.environ, "PYTHONPATH": str(folder / "src"), "PYTHONDONTWRITEBYTECODE": "1"},
    )  # fmt: skip


def program(folder: Path, *arguments: str) -> None:
    """Run a module of Python in a folder; it must be pleased."""
    done = ran(folder, *arguments)
    assert done.returncode == 0, done.stdout + done.stderr


def test_new_writes_a_package_and_says_what_to_do(workroom: Workroom) -> None:
    result = workroom.run("new", NAME)
    assert (result.code, result.err) == (0, "")
    written = [place.format(module=MODULE) for place in FILES.values()]
    lines = result.out.splitlines()
    assert lines[: len(written)] == [f"wrote {Path(NAME, place)}" for place in written]
    assert f"  blockwright draft {NAME}.plain --body survey:female-17" in lines
    assert lines[-1] == (
        f"Then change src/{MODULE}/block.py; the name of its class, its key and the first line of "
        f"its docstring stand in src/{MODULE}/__init__.py too, and nowhere else."
    )
    there = {p for p in (workroom.folder / NAME).rglob("*") if p.is_file()}
    assert there == {workroom.folder / NAME / place for place in written}
    assert "$" not in "".join(path.read_text(encoding="utf-8") for path in there)


def test_its_settings_name_its_plugin(package: Path) -> None:
    settings = tomllib.loads((package / "pyproject.toml").read_text(encoding="utf-8"))
    assert settings["project"]["name"] == NAME
    assert settings["project"]["entry-points"] == {"blockwright": {NAME: MODULE}}
    source = (package / "src" / MODULE / "__init__.py").read_text(encoding="utf-8")
    assert f'blockwright_api = "{API_VERSION}"' in source
    assert (package / "src" / MODULE / "py.typed").exists()


def test_its_tests_pass(package: Path) -> None:
    program(package, "pytest", "-q", "-p", "no:cacheprovider")


# What somebody makes of the block, in the places that the last line of `new` names.
RENAMED = {
    "CollarStand": "Bow",
    f"{NAME}.plain": "bow.tied",
    "Collar stand: a tube from waist to hem": "Bow: two ends to be tied",
}


@pytest.fixture
def renamed(package: Path, tmp_path: Path) -> Path:
    """The package with another name for the class, the key and the sentence."""
    copy = tmp_path / NAME
    shutil.copytree(package, copy)
    for place in ("block.py", "__init__.py"):
        source = (copy / "src" / MODULE / place).read_text(encoding="utf-8")
        for was, becomes in RENAMED.items():
            assert source.count(was) == 1, was
            source = source.replace(was, becomes)
        (copy / "src" / MODULE / place).write_text(source, encoding="utf-8")
    return copy


def test_it_is_renamed_where_it_says_and_nowhere_else(renamed: Path) -> None:
    for path in renamed.rglob("*.*"):
        text = path.read_text(encoding="utf-8") if path.is_file() else ""
        assert not any(was in text for was in RENAMED), path
    program(renamed, "pytest", "-q", "-p", "no:cacheprovider")


def test_its_tests_tell_what_was_renamed_in_one_place(renamed: Path) -> None:
    block = renamed / "src" / MODULE / "block.py"
    block.write_text(block.read_text(encoding="utf-8").replace("class Bow(", "class Tie("), "utf-8")
    done = ran(renamed, "pytest", "-q", "-p", "no:cacheprovider")
    assert done.returncode != 0
    wanted = f"{MODULE}.block has no 'Bow'; it has Tie; write where its class is"
    assert f"block 'bow.tied': {wanted}" in done.stdout


def test_every_command_of_its_readme_fits_any_block(package: Path, workroom: Workroom) -> None:
    """None names a body: `try` finds one that has all the block needs."""
    readme = (package / "README.md").read_text(encoding="utf-8")
    assert "survey:" not in readme
    block = package / "src" / MODULE / "block.py"
    source = block.read_text(encoding="utf-8").replace("hip_girth", "head_girth")
    (workroom.folder / "hat.py").write_text(source, encoding="utf-8")
    result = workroom.run("try", "hat.py")
    assert (result.code, result.err) == (0, "")
    assert "drafted for survey:male-621+head_girth; for another with --body" in result.out


def test_ruff_is_pleased(package: Path) -> None:
    program(package, "ruff", "check", "--no-cache", "--extend-select", "I", ".")
    program(package, "ruff", "format", "--no-cache", "--check", ".")


def test_mypy_is_pleased(package: Path, pytestconfig: pytest.Config, tmp_path: Path) -> None:
    cache = getattr(pytestconfig, "cache", None)  # reading all of ours takes a while, once
    kept = cache.mkdir("mypy-of-a-new-package") if cache else tmp_path
    program(package, "mypy", "--strict", "--cache-dir", str(kept), "src", "tests")


def test_its_block_is_checked_from_the_file(package: Path, workroom: Workroom) -> None:
    result = workroom.run("check", str(package / "src" / MODULE / "block.py"), "--bodies", "12")
    assert (result.code, result.err) == (0, "")
    assert f"{NAME}.plain: all " in result.out
    assert "0 refused" in result.out


@pytest.fixture
def installed(package: Path, shelf) -> Iterator[None]:
    """Its sources on the path, and what its settings say of its plugin."""
    shelf.put("collar-tools", "", points=f"{NAME} = {MODULE}")
    shelf.monkeypatch.syspath_prepend(str(package / "src"))
    yield
    for module in (MODULE, f"{MODULE}.block"):
        sys.modules.pop(module, None)


@pytest.mark.usefixtures("installed")
def test_it_is_drafted_once_it_is_installed(workroom: Workroom) -> None:
    result = workroom.run("plugins")
    assert (result.code, result.err) == (0, "")
    assert f"    blockwright_blocks: {NAME}.plain\n" in result.out
    result = workroom.run("draft", f"{NAME}.plain", "--body", "survey:female-17")
    assert (result.code, result.err) == (0, "")
    assert f"female-17-{NAME}.plain.svg" in workroom.contents()


BAD = {
    "Collar": ("'Collar'", "small letters", "collar-stand"),
    "collar stand": ("'collar stand'", "collar-stand"),
    "collar_stand": ("'collar_stand'", "hyphens between"),
    "collar--stand": ("'collar--stand'",),
    "-collar": ("'-collar'",),
    "3-collars": ("'3-collars'",),
    "collár": ("'collár'",),
    "": ("''", "small letters"),
    "../collar": ("'../collar'",),
    "a/b": ("'a/b'",),
    "class": ("'class'",),
    "c" * 300: ("40 at most",),
    "json": ("Python has a module json already", "give another name"),
    "blockwright": ("Python has a module blockwright already",),
    "test-block": ("Python has a module test_block already",),
    "skirt": ("plugin 'skirt' of blockwright ", "is called so; give another name"),
    "bodies": ("plugin 'bodies' of blockwright ",),
    "blockwright-sleeve": ("Python has a module blockwright_sleeve already",),
}


@pytest.mark.parametrize("name", BAD, ids=lambda name: name[:20] or "empty")
def test_a_bad_name(workroom: Workroom, name: str) -> None:
    (line,) = workroom.refused("new", "--", name)
    for words in BAD[name]:
        assert words in line, line


@pytest.mark.parametrize("name", ["none", "edge", "draft"])
def test_a_class_is_not_called_as_what_it_is_drawn_with(workroom: Workroom, name: str) -> None:
    assert workroom.run("new", name).code == 0
    file = workroom.folder / name / "src" / name / "block.py"
    assert f"class {name.capitalize()}Block(Block):" in file.read_text(encoding="utf-8")
    assert workroom.run("try", str(file)).code == 0


THERE = f"blockwright: {NAME} is there already; give another name or --out"


@pytest.mark.parametrize("there", ["folder", "file"])
def test_what_is_there_is_left_alone(workroom: Workroom, there: str) -> None:
    place = workroom.folder / NAME
    if there == "folder":
        place.mkdir()
        place /= "mine.txt"
    place.write_text("mine", encoding="utf-8")
    assert workroom.refused("new", NAME) == [THERE]


@pytest.mark.skipif(os.name == "nt", reason="not everybody may make a link there")
def test_a_link_to_nowhere_is_left_alone(workroom: Workroom) -> None:
    place = workroom.folder / NAME
    place.symlink_to("nowhere")
    result = workroom.run("new", NAME)
    assert (result.code, result.out, result.err) == (2, "", THERE + "\n")
    assert place.is_symlink()


@pytest.mark.parametrize(
    ("out", "words"),
    [
        ("", ("--out is empty",)),
        ("ada.toml", ("--out", "ada.toml", "choose another")),
        (os.path.join("ada.toml", "deep"), ("--out", "choose another")),
        ("x" * 300, ("--out", "long", "choose another")),
        ("a\0b", ("--out", "choose another")),
    ],
    ids=["empty", "a file", "under a file", "too long", "a zero letter"],
)
def test_an_out_that_cannot_be(workroom: Workroom, out: str, words: tuple[str, ...]) -> None:
    (line,) = workroom.refused("new", NAME, "--out", out)
    for word in words:
        assert word in line, line


@pytest.mark.parametrize("out", [".", os.path.join("deep", "er")])
@pytest.mark.parametrize("fails_at", [1, 3, len(FILES)])
def test_nothing_is_half_written(workroom, monkeypatch, out: str, fails_at: int) -> None:
    """Neither files nor folders stay behind when the disk is full."""
    before, opened, count = workroom.contents(), Path.open, 0

    def full(self: Path, mode: str = "r", *rest: object, **named: object):
        nonlocal count
        count += mode == "xb"
        if count == fails_at:
            raise OSError(errno.ENOSPC, "No space left on device")
        return opened(self, mode, *rest, **named)

    with monkeypatch.context() as patch:
        patch.setattr(Path, "open", full)
        result = workroom.run("new", NAME, "--out", out)
    assert (result.code, result.out) == (2, "")
    (line,) = result.err.splitlines()
    assert line.startswith("blockwright: cannot write to --out ")
    assert "No space left on device" in line
    assert workroom.contents() == before
    assert workroom.run("new", NAME, "--out", out).code == 0
