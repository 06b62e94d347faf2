"""The finish sheet: what it says is done, and what is wrong in it is told by line."""

from __future__ import annotations

import pytest

from blockwright import InputErrors, Unit
from blockwright.errors import InputError
from blockwright.pattern.finishing.finish import Finish
from blockwright.pattern.finishing.finish_sheet import parse_finish, with_allowances

SHEET = """
units = "in"
[allowances]
seam = "5/8"
hem = "4 cm"
[edges]
"centre back" = 1
[corners]
bevel = 2
[notches]
kind = "V"
depth = "6 mm"
clear = "1/8"
[drills]
diameter = "2 mm"
[pieces]
opened = true
nap = "one"
"""


def test_everything_it_says() -> None:
    how = parse_finish(SHEET)
    assert how.roles == pytest.approx({"seam": 15.875, "hem": 40.0})
    assert how.edges == pytest.approx({"centre back": 25.4})
    assert (how.bevel, how.notch, how.notch_depth) == (pytest.approx(50.8), "V", 6.0)
    assert (how.notch_clear, how.drill_diameter) == (pytest.approx(3.175), 2.0)
    assert (how.opened, how.nap) == (True, "one")
    assert parse_finish("") == Finish()


WRONG = {
    "unit": ('units = "ell"', ("fs.toml:1", "units", '"cm"')),
    "no such table": ("[alowances]\nseam = 1", ("fs.toml:1", "did you mean allowances")),
    "no table": ("allowances = 3", ("allowances", "no such table")),
    "role": ("[allowances]\nseem = 1", ("fs.toml:2", "did you mean seam")),
    "fold": ("[allowances]\nfold = 1", ("fs.toml:2", "no such entry")),
    "no length": ('[allowances]\nseam = "wide"', ("fs.toml:2", "seam")),
    "far too wide": ("[allowances]\nhem = 400", ("fs.toml:2", "0.0 cm to 30.0 cm")),
    "negative": ("[edges]\nx = -1", ("fs.toml:2", "0.0 cm to 30.0 cm")),
    "kind of notch": ('[notches]\nkind = "W"', ("fs.toml:2", "slit, V, T")),
    "entry": ("[notches]\ndeep = 1", ("fs.toml:2", "depth")),
    "yes": ('[pieces]\nopened = "yes"', ("fs.toml:2", "true or false")),
    "not TOML": ("[allowances\nseam = 1", ("fs.toml", "not valid TOML")),
}


@pytest.mark.parametrize("case", WRONG)
def test_what_is_wrong(case: str) -> None:
    text, words = WRONG[case]
    with pytest.raises(InputError) as told:
        parse_finish(text, where="fs.toml")
    for word in words:
        assert word in str(told.value), str(told.value)


def test_every_fault_at_once() -> None:
    with pytest.raises(InputErrors) as told:
        parse_finish("[allowances]\nseem = 1\nhem = 900\n[corner]\nbevel = 1")
    assert len(str(told.value).splitlines()) == 3


def test_allowances_of_the_command_line_come_last() -> None:
    how = with_allowances(parse_finish(SHEET), {"hem": "2", "neck": "7 mm"}, Unit.CM)
    assert how.roles == pytest.approx({"seam": 15.875, "hem": 20.0, "neck": 7.0})
    with pytest.raises(InputError, match="sleam_allowance: no such entry; did you mean seam"):
        with_allowances(Finish(), {"sleam": "2"}, Unit.CM)
