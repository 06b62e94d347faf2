"""The reference made of the docstrings: every public name is in it, its example shown as code."""

from __future__ import annotations

import inspect
import re
import subprocess
import sys
from pathlib import Path

import pytest

import blockwright
import blockwright.testing

PACKAGES = (blockwright, blockwright.testing)
NO_EXAMPLE = {"API_VERSION", "CHECKS", "hookimpl"}
"""Constants, which the page shows by their values alone."""
SECTION = re.compile(r'<section id="(\w+)">(.*?)</section>', re.DOTALL)
PROMPT = '<span class="gp">&gt;&gt;&gt; </span>'


@pytest.fixture(scope="module")
def pages(tmp_path_factory: pytest.TempPathFactory) -> dict[str, str]:
    """The HTML of each package, made by the command that DEVELOPERS.md gives, warnings errors."""
    command = "pdoc blockwright blockwright.testing -o"
    root = Path(__file__).parent.parent
    assert command in (root / "DEVELOPERS.md").read_text(encoding="utf-8")
    out = tmp_path_factory.mktemp("reference")
    done = subprocess.run(
        [sys.executable, "-W", "error", "-m", *command.split(), str(out)],
        capture_output=True, text=True, check=False,
    )  # fmt: skip
    assert (done.returncode, done.stderr) == (0, "")
    names = {package.__name__: package.__name__.replace(".", "/") for package in PACKAGES}
    return {name: (out / f"{at}.html").read_text("utf-8") for name, at in names.items()}


@pytest.mark.parametrize("package", PACKAGES, ids=lambda package: package.__name__)
def test_every_public_name_has_a_section_with_its_example(package, pages: dict[str, str]) -> None:
    sections = dict(SECTION.findall(pages[package.__name__]))
    assert sorted(sections) == package.__all__
    shown = {name for name, html in sections.items() if PROMPT in html}
    alias = {"Result"} if package.__name__ == "blockwright.testing" else set()
    assert set(package.__all__) - shown == (NO_EXAMPLE | alias) & set(package.__all__)


def test_every_method_of_a_public_class_is_there(pages: dict[str, str]) -> None:
    """Those of a base class that is not public itself too; those of one that is are there."""
    public = {name: getattr(package, name) for package in PACKAGES for name in package.__all__}
    classes = [found for found in public.values() if inspect.isclass(found)]
    methods = {
        f"{found.__name__}.{name}"
        for found in classes
        for base in found.__mro__
        if base.__module__.startswith("blockwright") and (base is found or base not in classes)
        for name, value in vars(base).items()
        if inspect.isfunction(value) and not name.startswith("_")
    }
    assert {"Draft.seam", "Draft.piece", "Report.text"} <= methods
    assert [each for each in sorted(methods) if f'id="{each}"' not in "".join(pages.values())] == []
