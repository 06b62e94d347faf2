"""Published size charts as bodies: every size is drafted by every block.

Sources: EN 13402-3, from memory; ASTM D5585-11e1, Table 1.
"""

from __future__ import annotations

from itertools import pairwise

import pytest

from blockwright import InputError, Unit, draft, load, prove
from blockwright.body import charts
from parts import parts

SETS = (
    ("bodice.fitted", "sleeve.fitted"),
    ("bodice.easy", "sleeve.straight"),
    ("skirt.straight",),
    ("skirt.flared",),
    ("skirt.gored",),
    ("skirt.circle",),
    ("trousers.straight",),
)
# What is refused of 54 sizes, by block and size.
REFUSED = {
    ("trousers.straight", "women-76"),
    ("bodice.fitted", "women-146"),
    ("bodice.fitted", "women-152"),
}
SIZES = [(source, name) for source in charts.CHARTS for name in charts.names(source)]


def test_the_sizes_are_those_of_the_charts() -> None:
    assert len(SIZES) == 16 + 14 + 24
    values = charts.sheet("en13402", "women-88").values
    assert [values[f"{name}_girth"] for name in ("bust", "waist", "hip")] == [880, 720, 960]
    men = charts.sheet("en13402", "men-100").values
    assert (men["chest_girth"], men["waist_girth"]) == (1000, 880)
    twelve = charts.sheet("astm-d5585", "12")
    assert twelve.units is Unit.IN
    assert twelve.values["bust_girth"] == pytest.approx(38.75 * 25.4, abs=0.01)
    straight = charts.sheet("astm-d5585", "12-straight").values
    assert straight["waist_girth"] - twelve.values["waist_girth"] == pytest.approx(38.1, abs=0.02)


def test_every_bust_lies_in_the_class_that_is_published() -> None:
    """Class limits of EN 13402-3 (2005), cm, as a secondary page cites them."""
    limits = [*range(74, 103, 4), 107, 113, 119, 125, 131]
    classes = [*pairwise(limits)]
    busts = charts.EN_WOMEN.rows["bust_girth"][: len(classes)]
    assert len(classes) == 12
    for bust, (low, high) in zip(busts, classes, strict=True):
        assert low < bust < high


def test_what_a_chart_lacks_is_estimated_and_says_so() -> None:
    sheet = charts.sheet("en13402", "women-88")
    assert "bust_girth" not in sheet.estimates
    assert "by the body model; 80 of 100" in sheet.estimates["across_back_width"]
    assert "armscye_girth" not in sheet.values
    alone = charts.sheet("en13402", "women-88+armscye_girth")
    assert 360.0 < alone.values["armscye_girth"] < 440.0
    pattern = draft(load().block("skirt.straight"), sheet)
    assert {*pattern.unused} == {"bust_girth", "height"}


def test_a_size_there_is_not_is_refused_with_the_nearest() -> None:
    with pytest.raises(InputError, match="women-88"):
        load().bodies["en13402"].sheet("woman-88")


@pytest.mark.parametrize("part", parts(4))
@pytest.mark.parametrize("keys", SETS, ids="+".join)
def test_every_size_is_drafted_and_proved(keys: tuple[str, ...], part: int) -> None:
    blocks = [load().block(key) for key in keys]
    for source, name in SIZES[part::4]:
        sheet = charts.sheet(source, name)
        if (keys[0], name) in REFUSED:
            with pytest.raises(InputError):
                draft(blocks, sheet)
            continue
        proof = prove(draft(blocks, sheet))
        assert proof.held, (name, proof.broken)
        assert not proof.warnings, (name, proof.warnings)
        assert not proof.doubts, (name, proof.doubts)
