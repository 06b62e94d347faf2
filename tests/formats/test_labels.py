"""What drawings carry in words comes out of the catalogue, and out of nothing else."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from drawing_samples import by_ezdxf, written

import blockwright
from blockwright.formats import dxf_r12, exchange, pdf, svg
from blockwright.words.catalogue import label, words_of

FORMATS = Path(blockwright.__file__).parent / "formats"


def test_every_code_is_used_and_none_is_made_up() -> None:
    source = "".join(path.read_text() for path in FORMATS.rglob("*.py"))
    assert set(re.findall(r"""["'](label\.[a-z-]+)["']""", source)) == words_of("labels").keys()


def test_a_code_that_is_not_there_is_told() -> None:
    with pytest.raises(KeyError):
        label("label.nothing")


def test_another_language_is_one_more_catalogue(monkeypatch) -> None:
    """With every word of the catalogue replaced no English word is left but names and rules."""
    whole = written("skirt.straight", finished=True)
    english = svg.write(whole).decode()
    drawn = {"label.fold-edge", "label.toile", "label.grain", "label.widths", "label.measure-bars"}
    assert all(re.split(r"{[^}]*}", words_of("labels")[code])[0] in english for code in drawn)
    for code in words_of("labels"):
        gaps = " ".join(re.findall(r"\{[^}]*\}", words_of("labels")[code]))
        monkeypatch.setitem(words_of("labels"), code, f"[{code} {gaps}]")
    other = svg.write(whole).decode()
    for code in (*drawn, "label.cut-fold", "label.proved", "label.sheet", "label.dart"):
        assert f"[{code} " in other, code
    for words in (", fold<", "allowances included", "promises held", "Measure both bars before "
                  "cutting good", "cut 1 on"):  # fmt: skip
        assert words not in other
    assert "[label.fold-edge " in "".join(e.dxf.text for b in by_ezdxf(dxf_r12.write(whole)).blocks
                                      for e in b.query("TEXT"))  # fmt: skip
    assert b"[label.with-allowances ]" in exchange.write(whole)
    assert pdf.write_tiles(whole)


def test_a_number_stays_with_its_unit() -> None:
    drawn = svg.write(written("bodice.fitted+sleeve.fitted", finished=True)).decode()
    words = re.findall(r">([^<>]+)</t", drawn)
    assert any("0.6 cm" in each for each in words)
    assert [each for each in words if re.match(r"(cm|mm|in)\b", each.strip())] == []
