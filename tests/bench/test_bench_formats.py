"""Finishing a set and writing it in every format, each file read again and compared."""

from __future__ import annotations

import statistics
import time
from dataclasses import replace

import pytest
from pace import pace, pace_work

from blockwright import Document, Finish, draft, finish_all, load, load_sheet, prove
from blockwright.formats.readback import differences

SET = ("bodice.fitted", "sleeve.fitted")
USUAL = ("svg", "dxf", "tiles")
MOST_S = 1.0
ROUNDS = 3


def timed(function) -> tuple[float, object]:
    begin = time.perf_counter()
    made = function()
    return time.perf_counter() - begin, made


@pytest.mark.bench
def test_finishing_and_writing_a_set() -> None:
    host, sheet = load(), load_sheet("examples/workroom/nora.toml")
    pattern = draft([host.block(key) for key in SET], sheet)
    bare = Document(pattern, prove(pattern), sheet.units)
    took = {"finish": statistics.median(
        timed(lambda: finish_all(pattern, Finish()))[0] for _ in range(ROUNDS)
    )}  # fmt: skip
    # Opened out, as some formats cannot tell a fold from a cut.
    whole = replace(bare, finished=finish_all(pattern, Finish(opened=True)), opened=True)
    work = []
    for name, form in sorted(host.formats.items()):
        form.write(whole)  # what it needs is loaded
        times = []
        for _ in range(ROUNDS):
            work.append(pace_work())
            seconds, data = timed(lambda form=form: form.write(whole))
            again, found = timed(lambda form=form, data=data: differences(form, whole, data))
            assert found == []
            times.append((seconds, again))
        took[name], compared = (statistics.median(column) for column in zip(*times, strict=True))
        written, again_ms = took[name] * 1e3, compared * 1e3
        print(f"\n{name}: written in {written:.0f} ms, compared in {again_ms:.0f} ms", end="")
    together = took["finish"] + sum(took[name] for name in USUAL)
    print(
        f"\nfinish {took['finish'] * 1e3:.0f} ms; with {', '.join(USUAL)}: {together * 1e3:.0f} ms"
    )
    assert together <= MOST_S * pace(*work)
