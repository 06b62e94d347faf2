"""The new command: a small installable package with one block, ready to be changed."""

from __future__ import annotations

import keyword
import os
import re

import click

from blockwright.errors import InputError

NAME = re.compile(r"[a-z][a-z0-9]*(-[a-z0-9]+)*")
TEMPLATES = "new_package"
FILES = {
    "pyproject.toml": "pyproject.toml",
    "README.md": "README.md",
    "module.py": "src/{module}/__init__.py",
    "block.py": "src/{module}/block.py",
    "py.typed": "src/{module}/py.typed",
    "test_block.py": "tests/test_block.py",
}
"""Template, and where in the package it goes."""
TEST = "test_block"
"""The module of its test."""


@click.command()
@click.argument("name")
@click.option("--out", default=".", metavar="DIR", show_default=True, help="Folder to make it in.")
def new(name: str, out: str) -> None:
    """Write a small package with one block, ready to be changed.

    It has the block, its test and a README, and passes at once.

    NAME is small letters, digits and hyphens: the garment or piece, such as apron or collar-stand.
    """
    from importlib.resources import files
    from pathlib import Path
    from string import Template

    from blockwright.body.lengths import quoted
    from blockwright.job.files import LONGEST, write_all
    from blockwright.plugin.api import API_VERSION

    module = name.replace("-", "_")
    if not NAME.fullmatch(name) or len(name) > LONGEST or keyword.iskeyword(module):
        raise InputError.coded("new.name", name=quoted(name), most=LONGEST)
    if _installed(module) or module == TEST:
        raise InputError.coded("new.module", name=name, module=module)
    if whose := _taken(name):
        raise InputError.coded("new.taken", name=name, whose=whose)
    if not out:
        raise InputError.coded("cli.no-folder")
    folder = Path(out, name)
    if os.path.lexists(folder):
        raise InputError.coded("new.there", folder=str(folder))
    words = {
        "name": name,
        "module": module,
        "title": name.replace("-", " ").capitalize(),
        "class_name": _class_name(name),
        "api": API_VERSION,
    }
    source = files("blockwright.cli") / TEMPLATES
    contents = {
        place.format(**words): Template((source / f"{template}.txt").read_text("utf-8"))
        .substitute(words)
        .encode()
        for template, place in FILES.items()
    }
    for path in write_all(folder, contents):
        click.echo(f"wrote {path}")
    click.echo(
        f"\nNow, in {folder}:\n"
        "  pip install -e '.[test]'\n"
        "  pytest\n"
        f"  blockwright draft {name}.plain --body survey:female-17\n"
        f"Then change src/{module}/block.py; the name of its class, its key and the first line of "
        f"its docstring stand in src/{module}/__init__.py too, and nowhere else."
    )


def _class_name(name: str) -> str:
    """The name of the class: none that Python, or what it is drawn with, has already."""
    import blockwright

    called = "".join(word.capitalize() for word in name.split("-"))
    taken = keyword.iskeyword(called) or called in dir(blockwright)
    return f"{called}Block" if taken else called


def _taken(name: str) -> str:
    """The plugin that has the name, of which a second would be refused; nothing if none has."""
    from importlib.metadata import entry_points

    from blockwright.plugin.api import PROJECT
    from blockwright.plugin.plugin import Plugin, origin

    for entry in entry_points(group=PROJECT):
        if entry.name == name:
            return str(Plugin(name, *origin(entry.dist)))
    return ""


def _installed(module: str) -> bool:
    """Whether a module of that name would hide the new one; a folder of that name does not."""
    from importlib.util import find_spec

    try:
        spec = find_spec(module)
    except ValueError:  # one that somebody made by hand
        return True
    return spec is not None and spec.origin is not None
