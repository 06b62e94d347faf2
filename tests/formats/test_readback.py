"""Every written file is read again and compared before it is kept; a wrong or half one is not."""

from __future__ import annotations

import errno
import inspect
import re
from dataclasses import replace
from functools import cache
from itertools import product
from pathlib import Path

import pytest

from blockwright import (
    Document,
    Edge,
    Finish,
    InputError,
    Unit,
    draft,
    finish_all,
    load,
    load_sheet,
    prove,
)
from blockwright.formats import (
    dxf,
    dxf_layers,
    dxf_r12,
    dxf_read,
    exchange,
    hpgl,
    hpgl_read,
    line_styles,
    pdf,
    pdf_read,
    svg_read,
    template_read,
)
from blockwright.formats.readback import differences
from blockwright.job.files import write_all
from parts import thinned

SHEET = Path(__file__).parents[2] / "examples" / "workroom" / "nora.toml"
SET = ("bodice.fitted", "sleeve.fitted")
READ_AGAIN = ("svg", "json", "pdf", "tiles", "hpgl", "step", "stl", "dxf", "dxf-r12", "d6673")


# These cannot tell a fold from a cut: they take pieces opened out.
NO_FOLD = ("hpgl", "step", "stl")


def document(finished: bool = False, shorter: bool = False, name: str = "svg") -> Document:
    """A set for a format; `shorter`: a copy of it with a hem a millimetre higher."""
    return made(finished, shorter, name in NO_FOLD)


@cache
def made(finished: bool, shorter: bool, opened: bool) -> Document:
    host, sheet = load(), load_sheet(SHEET)
    pattern = draft([host.block(key) for key in SET], sheet)
    whole = Document(pattern, prove(pattern), sheet.units, opened=opened)
    if shorter:
        piece = pattern.piece("sleeve")
        edges = tuple(
            Edge(e.name, _lifted(e.curve), e.role) if e.name == "wrist" else e for e in piece.edges
        )
        whole = replace(whole, pattern=pattern.with_piece(replace(piece, edges=edges)))
    if finished:
        whole = replace(whole, finished=finish_all(pattern, Finish(opened=opened)))
    return whole


def _lifted(curve):
    from blockwright import Curve

    control = curve.control.copy()
    control[:, 1:3, 1] += 3.0
    return Curve(control)


def test_every_format_with_lines_is_read_again() -> None:
    formats = load().formats
    assert set(formats) == set(READ_AGAIN)
    assert all(formats[name].echo for name in READ_AGAIN)


@pytest.mark.parametrize(("name", "finished"), thinned(product(READ_AGAIN, (False, True))))
def test_a_true_file_is_kept(name: str, finished: bool) -> None:
    form, whole = load().format(name), document(finished, name=name)
    assert differences(form, whole, form.write(whole)) == []


@pytest.mark.parametrize("name", [name for name in READ_AGAIN if name not in ("step", "stl")])
def test_a_file_of_another_shape_is_told(name: str) -> None:
    form = load().format(name)
    found = differences(form, document(name=name), form.write(document(shorter=True, name=name)))
    assert any("outline has the" in line for line in found)


@pytest.mark.parametrize("name", ["step", "stl"])
def test_plates_of_another_thickness_are_told(name: str) -> None:
    form, whole = load().format(name), document(name=name)
    thin = replace(whole, options={"thickness": 2.0})
    assert "plates of" in differences(form, whole, form.write(thin))[0]


@pytest.mark.parametrize("name", READ_AGAIN)
def test_half_a_file_is_told(name: str) -> None:
    form, whole = load().format(name), document(name=name)
    data = form.write(whole)
    try:
        found = differences(form, whole, data[: len(data) // 3])
    except InputError:
        return
    assert found


# A slit is what the files of the finished set above have.
@pytest.mark.parametrize(("name", "kind"), thinned(product(READ_AGAIN, "VT"), keep=3))
def test_every_kind_of_notch_is_read_again(name: str, kind: str) -> None:
    form, whole = load().format(name), document(name=name)
    how = Finish(notch=kind, roles={"seam": 15.0}, opened=name in NO_FOLD)
    finished = replace(whole, finished=finish_all(whole.pattern, how))
    assert differences(form, finished, form.write(finished)) == []


def test_notches_are_counted() -> None:
    form, whole = load().format("svg"), document()
    piece = whole.pattern.piece("sleeve")
    fewer = whole.pattern.with_piece(replace(piece, notches=piece.notches[1:]))
    found = differences(form, whole, form.write(replace(whole, pattern=fewer)))
    assert found == ["6 notches, not 7"]


# -- what a writer gets wrong is not got wrong by its check ----------------------------------------


def refused(name: str, whole: Document) -> bool:
    """Whether what is written is found to be untrue."""
    form = load().format(name)
    try:
        return bool(differences(form, whole, form.write(whole)))
    except InputError:
        return True


@pytest.mark.parametrize(
    ("name", "module", "constant", "wrong"),
    [
        # A plot drawn 1.6 % small, pages of an inch of 72.27 points and of one pen's width more.
        ("hpgl", hpgl, "UNIT", 0.0254),
        ("hpgl", hpgl, "CUT", 3),
        ("pdf", pdf, "POINTS", 72.27 / 25.4),
        ("tiles", pdf, "POINTS", 72.27 / 25.4),
        ("dxf", dxf, "MILLIMETRES", 5),
        ("dxf", dxf_layers, "NAMES", {"outline": "CUT"}),
        ("dxf", dxf_layers, "NAMES", {"notch": "NOTCHES"}),
        ("dxf", dxf_layers, "NAMES", {"fold": "FOLDS"}),
        ("dxf-r12", dxf_layers, "NAMES", {"outline": "CUT"}),
        ("dxf-r12", dxf_layers, "NAMES", {"notch": "DRILL"}),
        ("d6673", exchange, "BOUNDARY", "11"),
        ("d6673", exchange, "NOTCH", "13"),
        ("pdf", line_styles, "STROKES", {"outline": line_styles.Stroke(0.9, (), "#000000")}),
    ],
)
def test_a_writer_with_a_wrong_constant_is_told(
    name: str, module, constant: str, wrong: object, monkeypatch
) -> None:
    """With the constant changed in the writer alone the check refuses what it writes."""
    whole = document(finished=True, name=name)
    assert not refused(name, whole)
    if isinstance(wrong, dict):
        for role, value in wrong.items():
            monkeypatch.setitem(getattr(module, constant), role, value)
    else:
        monkeypatch.setattr(module, constant, wrong)
    assert refused(name, whole)


def test_an_exchange_file_in_inches_that_says_millimetres_is_told(monkeypatch) -> None:
    whole = replace(document(finished=True), unit=Unit.IN)
    assert not refused("d6673", whole)
    style = exchange._about_style
    monkeypatch.setattr(
        exchange, "_about_style", lambda d: [t.replace("ENGLISH", "METRIC") for t in style(d)]
    )
    assert refused("d6673", whole)


def test_a_block_with_the_name_of_another_piece_is_told(monkeypatch) -> None:
    names = dxf_r12.block_names
    monkeypatch.setattr(dxf_r12, "block_names", lambda pieces: names([*pieces][::-1]))
    assert refused("dxf-r12", document())


def test_an_svg_page_that_shows_its_units_larger_is_told() -> None:
    form, whole = load().format("svg"), document()
    data = form.write(whole)
    width = re.search(rb'width="([0-9.]+)mm"', data)
    larger = data.replace(width[0], b'width="%.3fmm"' % (float(width[1]) * 1.016), 1)
    assert differences(form, whole, larger)


def test_no_check_takes_a_constant_from_a_writer() -> None:
    """Looked up in what each check imports; the classes of curves and echoes are all they share."""
    for reader in (dxf_read, hpgl_read, pdf_read, svg_read, template_read):
        homes = re.findall(r"from blockwright\.formats(\S*) import", inspect.getsource(reader))
        assert set(homes) <= {".readback", ".dxf_reading.drawing"}, reader


# -- on the disk -----------------------------------------------------------------------------


def test_a_file_that_comes_back_otherwise_does_not_stay(tmp_path: Path, monkeypatch) -> None:
    (tmp_path / "a.txt").write_bytes(b"older")
    read = Path.read_bytes
    monkeypatch.setattr(
        Path, "read_bytes", lambda p: read(p)[1:] if ".b.txt" in p.name else read(p)
    )
    with pytest.raises(InputError, match=r"b\.txt does not come back"):
        write_all(tmp_path, {"a.txt": b"newer", "b.txt": b"newer"})
    monkeypatch.undo()
    assert {p.name: p.read_bytes() for p in tmp_path.iterdir()} == {"a.txt": b"older"}


@pytest.mark.parametrize("stop", [KeyboardInterrupt, SystemExit])
def test_stopped_in_the_middle_nothing_half_written_stays(
    tmp_path: Path, stop, monkeypatch
) -> None:
    (tmp_path / "a.txt").write_bytes(b"older")

    def stopped(path: Path) -> bytes:
        raise stop

    monkeypatch.setattr(Path, "read_bytes", stopped)
    with pytest.raises(stop):
        write_all(tmp_path, {"a.txt": b"newer"})
    monkeypatch.undo()
    assert {p.name: p.read_bytes() for p in tmp_path.iterdir()} == {"a.txt": b"older"}


def test_a_full_disk_leaves_the_older_file_whole(tmp_path: Path, monkeypatch) -> None:
    (tmp_path / "a.txt").write_bytes(b"older")
    opened = Path.open

    class Full:
        def __init__(self, file) -> None:
            self._file = file

        def __enter__(self):
            return self

        def __exit__(self, *_) -> None:
            self._file.close()

        def write(self, data: bytes) -> None:
            self._file.write(data[:1])
            raise OSError(errno.ENOSPC, "No space left on device")

    def full(path: Path, mode: str = "r", *more, **named):
        file = opened(path, mode, *more, **named)
        return Full(file) if "x" in mode else file

    monkeypatch.setattr(Path, "open", full)
    with pytest.raises(InputError, match="No space left"):
        write_all(tmp_path, {"a.txt": b"newer", "b.txt": b"new"})
    monkeypatch.undo()
    assert {p.name: p.read_bytes() for p in tmp_path.iterdir()} == {"a.txt": b"older"}
