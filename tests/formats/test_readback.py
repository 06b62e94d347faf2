"""Every written file is read again and compared before it is kept; a wrong or half one is not."""

from __future__ import annotations

import errno
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest

from blockwright import (
    Document,
    Edge,
    Finish,
    InputError,
    draft,
    finish_all,
    load,
    load_sheet,
    prove,
)
from blockwright.cli.files import write_all
from blockwright.formats.readback import differences

SHEET = Path(__file__).parents[2] / "examples" / "workroom" / "nora.toml"
SET = ("bodice.fitted", "sleeve.fitted")
READ_AGAIN = ("svg", "json", "pdf", "tiles", "hpgl", "step", "stl", "dxf", "dxf-r12", "d6673")


@cache
def document(finished: bool = False, shorter: bool = False) -> Document:
    """A set; `shorter`: a copy of it with a hem a millimetre higher."""
    host, sheet = load(), load_sheet(SHEET)
    pattern = draft([host.block(key) for key in SET], sheet)
    whole = Document(pattern, prove(pattern), sheet.units)
    if shorter:
        piece = pattern.piece("sleeve")
        edges = tuple(
            Edge(e.name, _lifted(e.curve), e.role) if e.name == "wrist" else e for e in piece.edges
        )
        whole = replace(whole, pattern=pattern.with_piece(replace(piece, edges=edges)))
    if finished:
        whole = replace(whole, finished=finish_all(pattern, Finish()))
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


@pytest.mark.parametrize("finished", [False, True])
@pytest.mark.parametrize("name", READ_AGAIN)
def test_a_true_file_is_kept(name: str, finished: bool) -> None:
    form, whole = load().format(name), document(finished)
    assert differences(form, whole, form.write(whole)) == []


@pytest.mark.parametrize("name", [name for name in READ_AGAIN if name not in ("step", "stl")])
def test_a_file_of_another_shape_is_told(name: str) -> None:
    form = load().format(name)
    found = differences(form, document(), form.write(document(shorter=True)))
    assert any("outline has the" in line for line in found)


@pytest.mark.parametrize("name", ["step", "stl"])
def test_plates_of_another_thickness_are_told(name: str) -> None:
    form, whole = load().format(name), document()
    thin = replace(whole, output=replace(whole.output, thickness=2.0))
    assert "plates of" in differences(form, whole, form.write(thin))[0]


@pytest.mark.parametrize("name", READ_AGAIN)
def test_half_a_file_is_told(name: str) -> None:
    form, whole = load().format(name), document()
    data = form.write(whole)
    try:
        found = differences(form, whole, data[: len(data) // 3])
    except InputError:
        return
    assert found


@pytest.mark.parametrize("kind", ["slit", "V", "T"])
@pytest.mark.parametrize("name", READ_AGAIN)
def test_every_kind_of_notch_is_read_again(name: str, kind: str) -> None:
    form, whole = load().format(name), document()
    how = Finish(notch=kind, roles={"seam": 15.0})
    finished = replace(whole, finished=finish_all(whole.pattern, how))
    assert differences(form, finished, form.write(finished)) == []


def test_notches_are_counted() -> None:
    form, whole = load().format("svg"), document()
    piece = whole.pattern.piece("sleeve")
    fewer = whole.pattern.with_piece(replace(piece, notches=piece.notches[1:]))
    found = differences(form, whole, form.write(replace(whole, pattern=fewer)))
    assert found == ["6 notches, not 7"]


# -- on the disk -----------------------------------------------------------------------------


def test_a_file_found_wrong_does_not_stay(tmp_path: Path) -> None:
    (tmp_path / "a.txt").write_bytes(b"older")

    def check(name: str, data: bytes) -> None:
        if name == "b.txt":
            raise InputError("b is wrong")

    with pytest.raises(InputError, match="b is wrong"):
        write_all(tmp_path, {"a.txt": b"newer", "b.txt": b"wrong"}, check)
    assert {p.name: p.read_bytes() for p in tmp_path.iterdir()} == {"a.txt": b"older"}


@pytest.mark.parametrize("stop", [KeyboardInterrupt, SystemExit])
def test_stopped_in_the_middle_nothing_half_written_stays(tmp_path: Path, stop) -> None:
    (tmp_path / "a.txt").write_bytes(b"older")

    def check(name: str, data: bytes) -> None:
        raise stop

    with pytest.raises(stop):
        write_all(tmp_path, {"a.txt": b"newer"}, check)
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
