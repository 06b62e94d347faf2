"""The plugins among the examples are what a stranger's would be; CI installs and tests them."""

from __future__ import annotations

import ast
import tomllib
from pathlib import Path

import pytest

from blockwright import blocks_in
from blockwright.plugin.api import PROJECT
from blockwright.testing import check_block

EXAMPLES = Path(__file__).parent.parent / "examples"
PLUGINS = {
    "shirt_cuff": ["cuff.shirt"],
    "mill_lane": ["--body mill-lane:38", "cutting-list"],
    "bias_binding": ["pocket.bound"],
}
"""Each with what the commands in its README name."""


def test_these_are_all() -> None:
    assert {path.parent.name for path in EXAMPLES.glob("*/pyproject.toml")} == PLUGINS.keys()


@pytest.mark.parametrize("plugin", PLUGINS)
def test_it_imports_public_modules_alone(plugin: str) -> None:
    trees = [ast.parse(path.read_text("utf-8")) for path in EXAMPLES.glob(f"{plugin}/*/**/*.py")]
    nodes = [node for tree in trees for node in ast.walk(tree)]
    found = {node.module for node in nodes if isinstance(node, ast.ImportFrom)}
    found |= {alias.name for node in nodes if isinstance(node, ast.Import) for alias in node.names}
    ours = {name for name in found if name and name.startswith("blockwright")}
    assert "blockwright" in ours
    assert ours <= {"blockwright", "blockwright.testing"}


@pytest.mark.parametrize("plugin", PLUGINS)
def test_its_entry_point_and_readme_name_what_it_offers(plugin: str) -> None:
    project = tomllib.loads((EXAMPLES / plugin / "pyproject.toml").read_text("utf-8"))["project"]
    assert project["entry-points"] == {PROJECT: {project["name"]: plugin}}
    assert project["dependencies"] == ["blockwright"]
    readme = (EXAMPLES / plugin / "README.md").read_text("utf-8")
    commands = readme.split("```sh\n")[1].split("```")[0]
    assert [word for word in PLUGINS[plugin] if word not in commands] == []


def test_the_cuff_passes_the_conformance_kit() -> None:
    (cuff,) = blocks_in(EXAMPLES / "shirt_cuff" / "src" / "shirt_cuff" / "block.py")
    report = check_block(cuff, bodies=12)
    assert report.passed, report.text()
