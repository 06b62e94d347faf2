"""Where in a plugin's own code something went wrong."""

from __future__ import annotations

import importlib
import os
import re
import sys
from pathlib import Path
from types import ModuleType

import pluggy

from blockwright.errors import BlockwrightError, one_line
from blockwright.plugin.api import API_VERSION, PROJECT
from blockwright.spelling import did_you_mean

FAILED = (Exception, SystemExit)
"""What a plugin's code raises when it fails; a script that is imported may call exit()."""
KERNEL = str(Path(__file__).parents[1]) + os.sep
IMPORTING = ("<frozen", str(Path(importlib.__file__).parent) + os.sep)
"""Where Python itself is when it imports."""
BETWEEN = (KERNEL, *IMPORTING, str(Path(pluggy.__file__).parent) + os.sep, "<string>")
"""Code that is no plugin's: ours, what calls plugins for us, functions made by a dataclass."""


def failure(error: BaseException, do: str = "") -> str:
    """What a plugin's code raised, where, and what to do: `do` unless blockwright is too old."""
    return f"{one_line(error)}{author_line(error)}{newer_name(error) or do}"


def author_line(error: BaseException) -> str:
    """File and line, in brackets, of the innermost call in the plugin; else the innermost of all.

    The plugin's author can change that call, not the kernel or a library that it calls.  Nothing
    for an error that was never raised, that the kernel alone raised on purpose, or for an import
    that found nothing.
    """
    from traceback import walk_tb

    places = [(f.f_code.co_filename, line) for f, line in walk_tb(error.__traceback__)]
    others = [place for place in places if not place[0].startswith(BETWEEN)]
    if others:
        # The first that is not ours is the plugin's; so is every file in its folder.
        home = Path(others[0][0]).parent
        innermost = [place for place in others if Path(place[0]).is_relative_to(home)][-1:]
    else:
        # A call from the kernel that the plugin's function cannot take leaves no line of its own.
        innermost = [] if isinstance(error, BlockwrightError) else places[-1:]
    if not innermost or innermost[0][0].startswith(IMPORTING):
        return ""
    return " ({}:{})".format(*innermost[0])


def newer_name(error: BaseException) -> str:
    """What to do about a public name of ours that does not exist; nothing for any other error."""
    if isinstance(error, ImportError):
        asked = re.match(r"cannot import name '(\w+)'", str(error))  # Python 3.12: error.name_from
        module, name = error.name or "", asked[1] if asked else ""
    elif isinstance(error, AttributeError) and isinstance(error.obj, ModuleType):
        module, name = error.obj.__name__, error.name
    else:
        return ""
    if module.partition(".")[0] != PROJECT:
        return ""
    near = did_you_mean(name or "", getattr(sys.modules.get(module), "__all__", ()))
    return (
        f"{near}{' if not,' if near else ';'} it may be of a newer plugin API than this "
        f"blockwright's {API_VERSION}: update blockwright"
    )
