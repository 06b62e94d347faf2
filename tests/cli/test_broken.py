"""A broken promise: exit 1 and no file; a broken plugin: exit 3 and no traceback."""

from __future__ import annotations

import json

import pytest
from cli_samples import Workroom

BENT = '''
from dataclasses import replace
from blockwright import Curve, hookimpl
from blockwright_sleeve.fitted import FittedSleeve


class Bent(FittedSleeve):
    """A fitted sleeve whose cap is lifted a millimetre between its ends."""

    key = "test.bent"
    title = "Bent sleeve"

    def draft(self, d):
        finished = d.piece

        def bend(name, edges, **rest):
            return finished(name, [lifted(edge) for edge in edges], **rest)

        d.piece = bend
        super().draft(d)


def lifted(edge):
    if edge.name != "cap":
        return edge
    control = edge.curve.control.copy()
    control[:, :, 1] += 1.0
    control[0, 0, 1] -= 1.0
    control[-1, 3, 1] -= 1.0
    return replace(edge, curve=Curve(control))


@hookimpl
def blockwright_blocks():
    return [Bent]
'''

DRAFT = ("draft", "test.bent", "--body", "ada.toml", "--out", "out", "--format", "svg,dxf,json")


def test_nothing_is_written(workroom: Workroom, shelf) -> None:
    shelf.put("bent", BENT)
    before = workroom.contents()
    result = workroom.run(*DRAFT)
    assert result.code == 1
    assert "BROKEN" in result.out
    assert "through: cap through its marks" in result.out
    assert "test.bent: UNPROVED" in result.out
    assert "wrote" not in result.out
    (line,) = result.err.splitlines()
    assert line.startswith("blockwright: a promise is broken")
    assert "--unproved" in line
    assert workroom.contents() == before


def test_unproved_is_written_and_says_so(workroom: Workroom, shelf) -> None:
    shelf.put("bent", BENT)
    result = workroom.run(*DRAFT, "--unproved")
    assert (result.code, result.err) == (1, "")
    assert "BROKEN" in result.out
    out = workroom.folder / "out"
    names = {path.suffix: path for path in out.iterdir()}
    assert set(names) == {".svg", ".dxf", ".json"}
    assert ">UNPROVED<" in names[".svg"].read_text(encoding="utf-8")
    assert "\nUNPROVED\n" in names[".dxf"].read_text(encoding="cp1252")
    assert json.loads(names[".json"].read_text(encoding="utf-8"))["proof"]["held"] is False


@pytest.mark.parametrize("unproved", [(), ("--unproved",)])
def test_as_json(workroom: Workroom, shelf, unproved: tuple[str, ...]) -> None:
    shelf.put("bent", BENT)
    result = workroom.run(*DRAFT, "--json", *unproved)
    assert result.code == 1
    values = json.loads(result.out)
    assert values["proof"]["held"] is False
    assert len(values["files"]) == (3 if unproved else 0)


def test_unproved_does_not_mark_a_proved_draft(workroom: Workroom) -> None:
    result = workroom.run("draft", "sleeve.fitted", "--body", "ada.toml", "--unproved")
    assert result.code == 0
    for path in workroom.folder.glob("ada-*"):
        assert b"UNPROVED" not in path.read_bytes()


# What a block's own code may do wrong, and what must be said.
CRASHES = {
    "type error": ("len(7)", "TypeError: object of type 'int' has no len()"),
    "key error": ("{}['x']", "KeyError: 'x'"),
    "assertion": ("assert False, 'not\\nyet'", "AssertionError: not yet"),
    "exit": ("raise SystemExit(0)", "SystemExit: 0"),
    "unknown value": ("self.values['x']", "KeyError: 'x'"),
    "not implemented": ("raise NotImplementedError", "NotImplementedError"),
    "endless": ("self.draft(d)", "RecursionError"),
    "nothing drawn, edge unknown": (
        "d.girth('x', body=1.0, ease=0.0, runs=[__import__('blockwright').Edge("
        "'no edge', __import__('blockwright').line(__import__('blockwright').Point(0.0, 0.0), "
        "__import__('blockwright').Point(1.0, 0.0)))])",
        "girth 'x': test.half has no edge 'no edge'",
    ),
    "two marks": (
        "P = __import__('blockwright').Point; d.mark('a', P(0, 0), ''); d.mark('a', P(1, 0), '')",
        "two marks are called 'a'",
    ),
}


@pytest.mark.parametrize("case", CRASHES)
def test_a_block_that_fails(workroom: Workroom, shelf, case: str) -> None:
    from stub_distributions import block

    code, said = CRASHES[case]
    shelf.put("half-moons", block("test.half", draft=code), plugin="half", version="0.3")
    before = workroom.contents()
    result = workroom.run("draft", "test.half", "--body", "ada.toml", "--out", "out")
    assert result.code == 3
    assert result.out == ""
    (line,) = result.err.splitlines()
    start = "blockwright: block 'test.half' of plugin 'half' of half-moons 0.3 failed: "
    assert line.startswith(start + said), line
    assert "Traceback" not in line
    assert workroom.contents() == before


def test_where_a_block_failed_is_told(workroom: Workroom, shelf) -> None:
    from stub_distributions import block

    source = block("test.half", draft="len(7)")
    shelf.put("half", source)
    result = workroom.run("draft", "test.half", "--body", "ada.toml")
    number = source[: source.index("len(7)")].count("\n") + 1
    assert f"half.py:{number})" in result.err


@pytest.mark.parametrize(
    ("code", "said"),
    [
        ("document.colour", "AttributeError"),
        ("'text, not bytes'", "gave str, not bytes"),
        ("None", "gave NoneType, not bytes"),
        ("__import__('sys').exit(0)", "SystemExit"),
    ],
)
def test_a_format_that_fails(workroom: Workroom, shelf, code: str, said: str) -> None:
    source = (
        "from blockwright import Format, hookimpl\n@hookimpl\ndef blockwright_formats():\n"
        f"    return [Format('plt', '.plt', 'plotters', lambda document: {code})]\n"
    )
    shelf.put("plotters", source)
    before = workroom.contents()
    result = workroom.run(
        "draft", "sleeve.fitted", "--body", "ada.toml", "--out", "out", "--format", "svg,plt"
    )
    assert (result.code, result.out) == (3, "")
    (line,) = result.err.splitlines()
    assert "format 'plt' of plugin 'plotters' of plotters 1.0 failed: " in line
    assert said in line
    assert workroom.contents() == before


def test_two_formats_of_one_suffix(workroom: Workroom, shelf) -> None:
    source = (
        "from blockwright import Format, hookimpl\n@hookimpl\ndef blockwright_formats():\n"
        "    return [Format('svg2', '.svg', 'x', lambda document: b'')]\n"
    )
    shelf.put("plotters", source)
    lines = workroom.refused("draft", "sleeve.fitted", "--body", "ada.toml", "--format", "svg,svg2")
    assert "ada-sleeve.fitted.svg" in lines[0]
