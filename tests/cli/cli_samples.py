"""A body sheet, and the command line run inside this process."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

import pytest

from blockwright.cli.main import run

# Invented, of middling proportions; centimetres.
GOOD = {
    "upper_arm_girth": 29,
    "wrist_girth": 16,
    "outer_arm_length": 58.5,
    "upper_arm_length": 33,
    "front_armhole_length": 22,
    "back_armhole_length": 23,
}


def sheet(**changes: object) -> str:
    """A body sheet with some measurements changed, or left out with None; text is quoted."""
    values = {**GOOD, **changes}
    lines = [f"{name} = {value}" for name, value in values.items() if value is not None]
    return "\n".join(['name = "Ada"', 'units = "cm"', "[measurements]", *lines, ""])


@dataclass(frozen=True)
class Result:
    code: int
    out: str
    err: str


class Workroom:
    """An empty folder to work in, with `ada.toml` in it."""

    def __init__(self, folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
        self.folder = folder
        self.capsys = capsys
        (folder / "ada.toml").write_text(sheet(), encoding="utf-8")

    def run(self, *arguments: str) -> Result:
        self.capsys.readouterr()
        code = run(list(arguments))
        captured = self.capsys.readouterr()
        return Result(code, captured.out, captured.err)

    def contents(self) -> dict[str, bytes | None]:
        """Every file with its bytes and every folder."""
        return {
            str(path.relative_to(self.folder)): None if path.is_dir() else path.read_bytes()
            for path in self.folder.rglob("*")
        }

    def refused(self, *arguments: str) -> list[str]:
        """Run something that must be refused as wrong input; the lines on stderr."""
        before = self.contents()
        result = self.run(*arguments)
        assert result.code == 2, result
        assert result.out == ""
        lines = result.err.splitlines()
        assert lines
        for line in lines:
            assert line.startswith("blockwright: "), line
            assert len(line) < 500, line
            assert line == line.strip()
        assert "Traceback" not in result.err
        assert self.contents() == before
        return lines
