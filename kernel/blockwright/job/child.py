"""Work done in a process of its own, which is killed when it takes too long."""

from __future__ import annotations

import multiprocessing
import os
import signal
import sys
import warnings
from collections.abc import Callable
from contextlib import suppress
from multiprocessing.connection import Connection
from multiprocessing.process import BaseProcess
from typing import Any, TypeVar

from blockwright.errors import PluginError, one_line

T = TypeVar("T")
Tell = Callable[[str], None]
"""Says what is done next, and by whom: it is named if it does not end, or ends the process."""


class StoppedError(PluginError):
    """Work took longer than its limit, or ended the process that did it.

    Example:
        >>> from blockwright import Job, StoppedError, run
        >>> body = "survey:female-17"
        >>> slow = Job(blocks=("skirt.gored",), body=body, limit=0.0001)
        >>> isinstance(run(slow).faults[0], StoppedError)
        True
    """


def in_child(work: Callable[[Tell], T], seconds: float) -> T:
    """What `work` returns, done in a child process; what it raises is raised here.

    `work` is given a function to say what it does next.  The child is killed when nothing is said
    and nothing returned for `seconds`, also in the middle of compiled code.  What `work` returns
    is pickled; where processes cannot be forked, `work` itself is too.  What the child changes,
    prints or imports does not reach this process.
    Raises StoppedError that names what was last said, when the child is killed or ends by itself.
    """
    how: Any = multiprocessing.get_context("fork" if sys.platform == "linux" else "spawn")
    here, there = how.Pipe(duplex=False)
    child = how.Process(target=_work, args=(work, there, here))
    with warnings.catch_warnings():
        # A fork keeps the blocks that a notebook defines.  Only one thread goes on in the child,
        # and it waits for none of the others.
        warnings.simplefilter("ignore", DeprecationWarning)
        child.start()
    there.close()
    at = "the work"
    try:
        while here.poll(seconds):
            kind, value = here.recv()
            if kind == "done":
                return value  # type: ignore[no-any-return]
            if kind == "raised":
                raise value
            at = value
        raise StoppedError(
            f"{at} took longer than {seconds:g} s and was stopped; look for a loop that does not "
            "end"
        )
    except EOFError:
        child.join()
        raise StoppedError(f"{at} ended its process ({ending(child)})") from None
    except KeyboardInterrupt:
        raise KeyboardInterrupt(f"stopped in {at}") from None
    finally:
        kill(child)
        here.close()


def _work(work: Callable[[Tell], Any], there: Connection, here: Connection) -> None:
    """Do the work in the child and send what comes of it."""
    here.close()
    with suppress(AttributeError, OSError):
        os.setsid()  # so that what the work starts is killed with it
    try:
        answer: tuple[str, object] = ("done", work(lambda at: there.send(("at", at))))
    except Exception as error:
        answer = ("raised", error)
    except BaseException as error:
        answer = ("raised", PluginError(f"the work ended with {one_line(error)}"))
    try:
        there.send(answer)
    except Exception as error:  # what it holds cannot be pickled
        there.send(("raised", PluginError(f"the result cannot be sent: {one_line(error)}")))


def kill(child: BaseProcess) -> None:
    """End the child and what it started."""
    if child.pid is not None and hasattr(os, "killpg"):
        with suppress(OSError):
            if os.getpgid(child.pid) == child.pid:
                os.killpg(child.pid, signal.SIGKILL)
    child.kill()
    child.join()


def ending(child: BaseProcess) -> str:
    """How a child ended, in words."""
    code = child.exitcode or 0
    if code >= 0:
        return f"exit code {code}"
    with suppress(ValueError):
        return f"signal {signal.Signals(-code).name}"
    return f"signal {-code}"
