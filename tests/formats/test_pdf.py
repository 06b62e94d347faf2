"""The PDF as one page, read back by pypdf and pypdfium2."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest
from format_samples import bent, document, two_pieces
from pdf_reader import MM, Path, count, pages, paths, place_of, render, size

from blockwright import Document, InputError
from blockwright.formats import layout, line_styles, pdf
from blockwright.pattern.finishing.finish import Finish, finish

ODD_NAME = 'Zoë </text> <b>&amp;</b> "O\'Hara" (a\\b) 王芳 🧵'
# The fonts that every reader has, by their published names.
STANDARD = {"/Helvetica", "/Helvetica-Bold", "/Symbol", "/ZapfDingbats"}
Writer = Callable[[Document], bytes]
WRITERS: list[Writer] = [pdf.write, pdf.write_tiles]


def finished(whole: Document) -> Document:
    return replace(whole, finished=tuple(finish(p, Finish()) for p in whole.pattern.pieces))


def lines_of(role: str, found: list[Path]) -> list[Path]:
    """Paths drawn with the pen of a role."""
    pen = line_styles.STROKES[role]
    return [
        path for path in found if abs(path.width - pen.width) < 1e-4 and path.dashes == pen.dashes
    ]


@pytest.mark.parametrize("whole", [document(), finished(document()), two_pieces(document())])
def test_page_and_outlines_have_their_true_size(whole: Document) -> None:
    sheet = layout.lay_out(whole)
    data = pdf.write(whole)
    (page,) = pages(data)
    assert size(page) == pytest.approx((sheet.width * MM, sheet.height * MM), abs=0.01)
    outlines = lines_of("outline", paths(page))
    for placed, path in zip(sheet.placed, outlines, strict=True):
        _, curves = placed.lines[0]
        assert path.length == pytest.approx(sum(c.length for c in curves), abs=0.01)
        assert path.curves == sum(
            len(c.control) for c in curves if not layout.is_straight(c)
        )  # curves are curves
        assert path.closed
        box = layout.bounds(curves)
        low = path.pieces.min(axis=(0, 1))
        assert low == pytest.approx([box[0] + placed.step.x, box[1] + placed.step.y], abs=1.0)
        # The first curve lies where the layout puts it.
        at = curves[0].start + placed.step
        assert path.pieces[0, 0] == pytest.approx([at.x, at.y], abs=1e-4)


def test_everything_of_the_layout_is_drawn_with_its_own_pen() -> None:
    whole = finished(document())
    sheet = layout.lay_out(whole)
    (placed,) = sheet.placed
    found = paths(pages(pdf.write(whole))[0])
    wanted = [role for role, _ in placed.lines] + [role for role, _, _ in placed.strokes]
    wanted += ["mark"] * 2 * len(placed.marks) + ["test-bar"] * len(sheet.bars)
    assert len(found) == len(wanted)
    for role in ("outline", "sew", "dart", "guide", "mark"):
        assert len(lines_of(role, found)) == wanted.count(role) > 0, role
    bars = sorted(path.length for path in lines_of("test-bar", found))
    assert bars[-2:] == pytest.approx([100.0, 101.6], abs=1e-3)


def test_words_stand_where_the_layout_puts_them() -> None:
    whole = document()
    sheet = layout.lay_out(whole)
    data = pdf.write(whole)
    (placed,) = sheet.placed
    checked = 0
    step = placed.step
    for words in placed.words:
        if words.angle:
            continue
        left, bottom, right, top = place_of(data, 0, words.line.text)
        at = words.at + step
        assert (left + right) / 2.0 == pytest.approx(at.x, abs=1.0), words.line.text
        assert bottom < at.y < top
        assert right - left <= words.line.width + 0.5
        checked += 1
    assert checked >= 6
    said = [line.strip() for line in pages(data)[0].extract_text().split("\n")]
    for words in (*placed.words, *sheet.words):
        assert words.line.text in said
    title = place_of(data, 0, "Measure both bars")
    assert title[0] == pytest.approx(layout.TITLE_AT, abs=1.0)


def test_a_page_larger_than_pdf_has_is_refused() -> None:
    whole = document()
    sheet = layout.lay_out(whole)
    assert size(pages(pdf.write_sheet(whole, replace(sheet, width=5080.0)))[0])[0] == pytest.approx(
        14400.0, abs=0.01
    )
    for wrong in (replace(sheet, width=5081.0), replace(sheet, height=6000.0)):
        with pytest.raises(InputError, match=r"5080 mm.*format tiles"):
            pdf.write_sheet(whole, wrong)


def test_a_gap_in_the_outline_is_drawn_as_a_gap() -> None:
    (whole,) = lines_of("outline", paths(pages(pdf.write(document()))[0]))
    (bare,) = lines_of("outline", paths(pages(pdf.write(bent(document())))[0]))
    assert whole.closed
    assert not bare.closed
    jumps = np.abs(bare.pieces[1:, 0] - bare.pieces[:-1, 3]).max(axis=1)
    assert sorted(jumps)[-1] == pytest.approx(1.0, abs=1e-3)
    assert len(bare.pieces) == len(whole.pieces)  # not one line more, to close it


@pytest.mark.parametrize("write", WRITERS)
def test_unproved_is_said_in_red_and_in_the_file(write: Writer) -> None:
    proved, broken = write(document()), write(bent(document()))
    assert "UNPROVED" not in "".join(page.extract_text() for page in pages(proved))
    page = pages(broken)[0]
    assert "UNPROVED" in page.extract_text()
    assert "UNPROVED" in page.pdf.metadata.subject
    fonts = {font.get_object()["/BaseFont"] for font in page["/Resources"]["/Font"].values()}
    assert "/Helvetica-Bold" in fonts


@pytest.mark.parametrize("write", WRITERS)
@pytest.mark.parametrize(
    "name",
    [
        ODD_NAME,
        "Maximiliane " * 25,
        "W" * 300,
        "a\x00b\ud800c\nd\x1f\u200e",
        "Ωλ – “x” €",
        "👗" * 300,
    ],
)
def test_odd_names_are_text_and_nothing_else(write: Writer, name: str) -> None:
    whole = finished(document(name=name))
    (piece,) = whole.pattern.pieces
    odd = replace(piece, name=name)
    pattern = replace(whole.pattern, pieces=(odd,), title=name)
    both = [whole, Document(pattern, whole.proof, whole.unit)]
    for each in both:
        data = write(each)
        read = pages(data)
        assert count(data) == len(read)
        for page in read:
            found = page["/Resources"]["/Font"].values()
            assert {font.get_object()["/BaseFont"] for font in found} <= STANDARD
        assert (render(data, 0, 2.0) < 128).any()
        assert (render(data, len(read) - 1, 2.0) < 128).any()


def test_letters_that_the_fonts_have_not_are_squares() -> None:
    for write in WRITERS:
        text = pages(write(document(name=ODD_NAME)))[0].extract_text()
        assert "for Zoë </text> <b>&amp;</b> \"O'Hara" in text
    whole = pages(pdf.write(document(name="a 王芳 λ é")))[0].extract_text()
    assert "for a ■■ λ é" in whole


@pytest.mark.parametrize("write", WRITERS)
def test_printers_are_asked_not_to_fit_the_page(write: Writer) -> None:
    root = pages(write(document()))[0].pdf.trailer["/Root"]
    assert root["/ViewerPreferences"]["/PrintScaling"] == "/None"


_WRITE = """
import sys
sys.path.insert(0, sys.argv[1])
from blockwright.formats import pdf
from format_samples import document
for write in (pdf.write, pdf.write_tiles):
    sys.stdout.buffer.write(write(document()))
"""


def test_the_same_bytes_every_time_and_in_every_process() -> None:
    whole = document()
    found = {b"".join(write(whole) for write in WRITERS) for _ in range(2)}
    for seed in ("0", "4711"):
        run = subprocess.run(
            [sys.executable, "-c", _WRITE, os.path.dirname(__file__)],
            env=os.environ | {"PYTHONHASHSEED": seed},
            capture_output=True,
            check=True,
        )
        found.add(run.stdout)
    assert len(found) == 1
    assert len(found.pop()) > 10_000
