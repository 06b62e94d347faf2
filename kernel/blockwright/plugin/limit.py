"""A time limit on code that is not ours."""

from __future__ import annotations

import threading
from collections.abc import Iterator
from contextlib import contextmanager, suppress

from blockwright.errors import PluginError

AGAIN = 0.05
"""Seconds between one call to stop and the next, for code that catches the first."""


class StoppedError(PluginError):
    """What ran within a `time_limit` took longer and was stopped."""


@contextmanager
def time_limit(seconds: float | None, what: str) -> Iterator[None]:
    """Stop what runs within after so many seconds, with a StoppedError that names `what`.

    None means no limit.  It stops Python code, in whichever thread it runs, between two
    instructions; one long call into a compiled library is stopped when it returns.
    """
    if seconds is None:
        yield
        return
    import ctypes

    class TimeUpError(BaseException):
        """Raised inside what takes too long: no Exception, so that few catch it.

        One of its own for every limit, so that a limit within this one does not take it for its.
        """

    thread = ctypes.c_ulong(threading.get_ident())
    over = threading.Event()

    def watch() -> None:
        wait = seconds
        while not over.wait(wait):
            ctypes.pythonapi.PyThreadState_SetAsyncExc(thread, ctypes.py_object(TimeUpError))
            wait = AGAIN

    watcher = threading.Thread(target=watch, daemon=True)

    def settle() -> None:
        over.set()
        if watcher.ident is not None:
            watcher.join()
        # One that was called for and has not come yet comes here: it is never called back, which
        # would leave the interpreter looking for it for ever.
        for _ in range(2):
            pass

    try:
        try:
            watcher.start()
            yield
        finally:
            settle()
    except TimeUpError:
        with suppress(TimeUpError):
            settle()
        raise StoppedError(
            f"{what} took longer than {seconds:g} s and was stopped; look for a loop that does "
            "not end"
        ) from None
