"""Where in a plugin's own code something went wrong."""

from __future__ import annotations

from pathlib import Path

KERNEL = str(Path(__file__).parents[1])


def author_line(error: BaseException) -> str:
    """File and line, in brackets, of the innermost call outside the kernel; else the innermost.

    A plugin's author can change the call, not what it calls.  Nothing when it was never raised.
    """
    places = []
    at = error.__traceback__
    while at:
        places.append((at.tb_frame.f_code.co_filename, at.tb_lineno))
        at = at.tb_next
    own = [place for place in places if not place[0].startswith((KERNEL, "<frozen"))]
    # The first of all is whoever called the plugin; a call from the kernel leaves none of its own.
    return " ({}:{})".format(*(own or places)[-1]) if places else ""
