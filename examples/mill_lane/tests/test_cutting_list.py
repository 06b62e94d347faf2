"""The cutting list, measured on a piece whose sizes a ruler gives."""

from __future__ import annotations

import csv

import pytest

from blockwright import Document, Draft, Edge, Finish, Point, Unit, finish_all, line, load, prove

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
