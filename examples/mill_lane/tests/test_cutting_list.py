"""The cutting list, measured on a piece whose sizes a ruler gives."""

from __future__ import annotations

import csv
import subprocess
import sys
from pathlib import Path

import pytest

from blockwright import (
    Block,
    BodySheet,
    Document,
    Draft,
    Edge,
    Finish,
    Job,
    Output,
    Point,
    Unit,
    blocks_in,
    finish_all,
    line,
    load,
    prove,
    run,
)

BAND = '''"""A band, to be listed."""

from blockwright import Block, Edge, Point, line, measurement


class Band(Block):
    """A straight band as long as the waist."""

    key = "test.band"
    title = "Band"
    waist = measurement("waist_girth")

    def draft(self, d):
        """Draw a rectangle."""
        ends = [Point(0, 0), Point(self.waist, 0), Point(self.waist, 40), Point(0, 40), Point(0, 0)]
        names = ("lower", "right", "upper", "left")
        sides = zip(names, ends, ends[1:], strict=False)
        band = d.piece("band", [Edge(name, line(a, b), "hem") for name, a, b in sides])
        d.girth("waist", body=self.waist, ease=0.0, runs=[band.edge("lower")])
'''
WIDE, HIGH = 300.0, 200.0


def panel(
    unit: Unit, *, allowance: float | None = None, fold: bool = False, promised: float = WIDE
) -> Document:
    """A panel 300 mm wide and 200 mm high, its grain along its width."""
    low, right = Point(0, 0), Point(WIDE, 0)
    top, left = Point(WIDE, HIGH), Point(0, HIGH)
    sides = ("bottom", low, right), ("right", right, top), ("top", top, left), ("left", left, low)
    bottom, *others = (Edge(name, line(a, b)) for name, a, b in sides)
    edges = [Edge("bottom", bottom.curve, "fold") if fold else bottom, *others]
    d = Draft("test.panel", "Panel", unit)
    d.piece(
        "panel", edges, grain=(Point(50, 100), Point(250, 100)), label_at=Point(150, 150),
        cut=4, mirrored=True,
    )  # fmt: skip
    d.unsewn([edge for edge in edges if edge.role == "seam"], "left open")
    d.girth("width", body=promised, ease=0.0, runs=[edges[2]])
    pattern = d.pattern()
    cut = () if allowance is None else finish_all(pattern, Finish(roles={"seam": allowance}))
    return Document(pattern, prove(pattern), unit, cut)


def rows(document: Document) -> list[dict[str, str]]:
    text = load(only=["mill-lane"]).format("cutting-list").write(document).decode()
    return list(csv.DictReader(text.splitlines()))


def test_a_panel_as_it_is_sewn() -> None:
    assert rows(panel(Unit.CM)) == [
        {
            "piece": "panel",
            "cut": "4",
            "mirrored": "yes",
            "on the fold": "no",
            "allowances": "no",
            "proved": "yes",
            "grain cm": "20.00",
            "width cm": "20.00",
            "height cm": "30.00",
            "outline cm": "100.00",
            "area m2": "0.0600",
        }
    ]


def test_with_allowances_the_cut_line_is_measured() -> None:
    (row,) = rows(panel(Unit.CM, allowance=10.0))
    assert row["allowances"] == "yes"
    assert (row["width cm"], row["height cm"]) == ("22.00", "32.00")
    assert (row["outline cm"], row["area m2"]) == ("108.00", "0.0704")


@pytest.mark.parametrize(("unit", "height"), [(Unit.MM, "300.00"), (Unit.IN, "11.81")])
def test_lengths_are_in_the_sheets_unit(unit: Unit, height: str) -> None:
    (row,) = rows(panel(unit))
    assert row[f"height {unit}"] == height


def test_a_fold_and_a_broken_promise_are_told() -> None:
    (row,) = rows(panel(Unit.CM, fold=True, promised=WIDE + 1.0))
    assert (row["on the fold"], row["proved"]) == ("yes", "no")


# -- the separator, by both doors ------------------------------------------------------------------


@pytest.fixture
def band(tmp_path: Path) -> type[Block]:
    file = tmp_path / "band.py"
    file.write_text(BAND, encoding="utf-8")
    return blocks_in(file)[0]


SHEET = BodySheet.from_values({"waist_girth": 70}, units="cm", name="Trial")


@pytest.mark.parametrize(("chosen", "between"), [("semicolon", ";"), ("tab", "\t")])
def test_a_job_chooses_the_separator(band: type[Block], chosen: str, between: str) -> None:
    form = Output("cutting-list", {"separator": chosen})
    (data,) = run(Job((band,), SHEET, outputs=(form,))).files.values()
    head, row = data.decode().splitlines()
    assert head.split(between)[:2] == ["piece", "cut"]
    assert row.split(between)[:2] == ["band", "1"]


def test_a_separator_there_is_not_is_refused(band: type[Block]) -> None:
    form = Output("cutting-list", {"separator": "dot"})
    (fault,) = run(Job((band,), SHEET, outputs=(form,))).faults
    assert "comma, semicolon, tab" in str(fault)


def test_the_command_line_chooses_the_separator(tmp_path: Path) -> None:
    (tmp_path / "band.py").write_text(BAND, encoding="utf-8")
    (tmp_path / "trial.toml").write_text('units = "cm"\n[measurements]\nwaist_girth = 70\n')
    command = Path(sys.executable).with_name("blockwright")
    asked = "try band.py --body trial.toml --format cutting-list --separator semicolon"
    subprocess.run([command, *asked.split()], cwd=tmp_path, check=False)
    (written,) = tmp_path.glob("*.csv")
    assert written.read_text().startswith("piece;cut;")
