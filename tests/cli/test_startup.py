"""What each command may not load: nobody waits for a library that is not used."""

from __future__ import annotations

import subprocess
import sys

import pytest
from cli_samples import sheet

# A module inside each that is there only once the library has really been loaded (numpy itself
# is a stand-in until it is first used).
HEAVY = {
    "numpy": "numpy._core",
    "ezdxf": "ezdxf",
    "scipy": "scipy",
    "cadquery": "cadquery",
    "shapely": "shapely",
}
DRAFT = ("draft", "sleeve.fitted", "--body", "ada.toml", "--format")

_RUN = """
import sys
from blockwright.cli.main import run
code = run(sys.argv[1:])
print("loaded:", *sorted(sys.modules), file=sys.stderr)
sys.exit(code)
"""


def loaded(folder, *arguments: str) -> set[str]:
    """Names of HEAVY that a command loads."""
    (folder / "ada.toml").write_text(sheet(), encoding="utf-8")
    done = subprocess.run(
        [sys.executable, "-c", _RUN, *arguments],
        cwd=folder,
        capture_output=True,
        check=True,
        text=True,
    )
    modules = done.stderr.partition("loaded: ")[2].split()
    return {name for name, inner in HEAVY.items() if inner in modules}


@pytest.mark.parametrize(
    "arguments",
    [
        ("--help",),
        ("--version",),
        ("blocks",),
        ("blocks", "sleeve.fitted"),
        ("measurements",),
        ("plugins",),
        ("formats",),
        ("draft", "--help"),
    ],
)
def test_what_only_tells_loads_nothing(tmp_path, arguments: tuple[str, ...]) -> None:
    assert loaded(tmp_path, *arguments) == set()


@pytest.mark.parametrize(
    ("form", "allowed"), [("svg", {"numpy"}), ("json", {"numpy"}), ("dxf", {"numpy", "ezdxf"})]
)
def test_a_draft_loads_what_its_format_needs(tmp_path, form: str, allowed: set[str]) -> None:
    """All that is allowed is loaded, which shows that the names to look for are right."""
    assert loaded(tmp_path, *DRAFT, form) == allowed
