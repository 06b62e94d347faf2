"""How long a maker waits: whole processes from start to end, taken in turn, medians compared.

pytest -m bench -s tests/bench/test_bench_start.py
"""

from __future__ import annotations

import os
import statistics
import subprocess
import sys
import time
from pathlib import Path

import pytest
from pace import pace

pytestmark = pytest.mark.bench

ROUNDS = 15
SHEET = """
name = "Ada"  # invented
units = "cm"
[measurements]
upper_arm_girth = 29
wrist_girth = 16
outer_arm_length = 58.5
upper_arm_length = 33
front_armhole_length = 22
back_armhole_length = 23
"""
BLOCKWRIGHT = ("-c", "from blockwright.cli.main import main; main()")
DRAFT = (*BLOCKWRIGHT, "draft", "sleeve.fitted", "--body", "ada.toml", "--out", "out", "--format")
COMMANDS = {
    "python": ("-c", "pass"),
    "import click": ("-c", "import click"),
    "import numpy": ("-c", "import numpy"),
    "import numpy, ezdxf": ("-c", "import numpy, ezdxf"),
    "blockwright --help": (*BLOCKWRIGHT, "--help"),
    "blockwright blocks": (*BLOCKWRIGHT, "blocks"),
    "draft to SVG": (*DRAFT, "svg"),
    "draft to DXF": (*DRAFT, "dxf"),
}
# What is timed, beside what, and the most it is meant to take as a multiple of that.
LIMITS = (
    ("draft to SVG", "import numpy", 2.8),
    ("draft to DXF", "import numpy, ezdxf", 1.3),
)
# The limits of the asserts leave so much room for a machine that is busy unevenly.
ROOM = 1.15
SECONDS = (("blockwright --help", 0.15), ("blockwright blocks", 0.15))


@pytest.fixture(scope="module")
def medians(tmp_path_factory) -> dict[str, float]:
    """Median seconds of each command, run in turn so that a busy moment falls on all alike."""
    folder = tmp_path_factory.mktemp("start")
    (folder / "ada.toml").write_text(SHEET, encoding="utf-8")
    found: dict[str, list[float]] = {name: [] for name in COMMANDS}
    for turn in range(ROUNDS + 1):
        for name, command in COMMANDS.items():
            seconds = timed(command, folder)
            if turn:  # the first one compiles what is imported
                found[name].append(seconds)
    result = {name: statistics.median(times) for name, times in found.items()}
    print()
    for name, seconds in result.items():
        print(f"{name:22} {seconds:6.3f} s  {seconds / result['import numpy']:5.2f} x import numpy")
    for name, beside, most in LIMITS:
        ratio = result[name] / result[beside]
        print(f"{name} is {ratio:.2f} times {beside}; at most {most}")
    return result


def timed(command: tuple[str, ...], folder: Path) -> float:
    compiled = {k: v for k, v in os.environ.items() if k != "PYTHONDONTWRITEBYTECODE"}
    compiled["PYTHONPYCACHEPREFIX"] = str(folder / "compiled")
    begin = time.perf_counter()
    subprocess.run(
        [sys.executable, *command],
        cwd=folder,
        env=compiled,
        stdout=subprocess.DEVNULL,
        check=True,
    )
    return time.perf_counter() - begin


@pytest.mark.parametrize(("name", "most"), SECONDS)
def test_it_starts_at_once(medians, name: str, most: float) -> None:
    assert medians[name] < most * pace()


@pytest.mark.parametrize(("name", "beside", "most"), LIMITS)
def test_a_draft_takes_little_more_than_its_libraries(
    medians, name: str, beside: str, most: float
) -> None:
    assert medians[name] < ROOM * most * medians[beside]
