"""Where in a plugin's own code something went wrong."""

from __future__ import annotations

import importlib
import os
import re
import sys
from pathlib import Path

import pluggy

from blockwright.errors import BlockwrightError, message_of
from blockwright.plugin.hookspecs import API_VERSION, PROJECT
from blockwright.spelling import did_you_mean

KERNEL = str(Path(__file__).parents[1]) + os.sep
IMPORTING = ("<frozen", str(Path(importlib.__file__).parent) + os.sep)
"""Where Python itself is when it imports."""
BETWEEN = (KERNEL, *IMPORTING, str(Path(pluggy.__file__).parent) + os.sep, "<string>")
"""What is no plugin's: ours, what calls it for us, functions that Python makes of a dataclass."""
NOT_THERE = re.compile(r"name '(\w+)' from '([\w.]+)'|module '([\w.]+)' has no public name '(\w+)'")
"""What Python says of a name that a module has not, and what a package of ours says."""


def author_line(error: BaseException) -> str:
    """File and line, in brackets, of the innermost call in the plugin; else the innermost of all.

    A plugin's author can change the call, not what it calls: neither the kernel nor a library.
    Nothing when it was never raised, when the kernel alone raised it on purpose, or when what was
    to be imported is not there.
    """
    places = []
    at = error.__traceback__
    while at:
        places.append((at.tb_frame.f_code.co_filename, at.tb_lineno))
        at = at.tb_next
    others = [place for place in places if not place[0].startswith(BETWEEN)]
    if others:
        # The first that is not ours is the plugin's; what lies beside that file is too.
        home = Path(others[0][0]).parent
        innermost = [place for place in others if Path(place[0]).is_relative_to(home)][-1:]
    else:
        # A call from the kernel that the plugin's function cannot take leaves no line of its own.
        innermost = [] if isinstance(error, BlockwrightError) else places[-1:]
    if not innermost or innermost[0][0].startswith(IMPORTING):
        return ""
    return " ({}:{})".format(*innermost[0])


def newer_name(error: BaseException) -> str:
    """What to do about a public name that is not there; nothing for any other error."""
    said = NOT_THERE.search(message_of(error))
    name, module = (said[1] or said[4], said[2] or said[3]) if said else ("", "")
    if isinstance(error, ImportError):
        module = error.name or module
    elif not (isinstance(error, AttributeError) and said):
        return ""
    if module.partition(".")[0] != PROJECT:
        return ""
    near = did_you_mean(name, getattr(sys.modules.get(module), "__all__", ()))
    return (
        f"{near}{' if not,' if near else ';'} it may be of a newer plugin API than this "
        f"blockwright's {API_VERSION}: update blockwright"
    )
