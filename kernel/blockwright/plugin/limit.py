"""A time limit on code that is not ours."""

from __future__ import annotations

import contextlib
import signal
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from types import FrameType

from blockwright.errors import PluginError

AGAIN = 0.05
"""Seconds between one call to stop and the next, for code that catches the first."""


class StoppedError(PluginError):
    """What ran within a `time_limit` took longer and was stopped."""


class TimeUp(BaseException):
    """Raised inside what takes too long: no Exception, so that few catch it."""


NOT_ITS_OWN = (KeyboardInterrupt, TimeUp)
"""What comes out of a stranger's code and is not raised by it: whoever calls it lets it through."""


@contextmanager
def time_limit(seconds: float | None, what: str) -> Iterator[None]:
    """Stop what runs within after so many seconds, with a StoppedError that names `what`.

    None means no limit.  It stops Python code, in whichever thread it runs, between two
    instructions, and a sleep or a wait of the main thread; one long call into a compiled library
    is stopped when it returns.
    """
    if seconds is None:
        yield
        return

    class MyTimeUp(TimeUp):
        """One of its own, so that a limit within this one does not take it for its."""

    main = threading.current_thread() is threading.main_thread()
    call, stop = (_by_signal if main and hasattr(signal, "pthread_kill") else _by_thread)(MyTimeUp)
    over = threading.Event()

    def watch() -> None:
        wait = seconds
        while not over.wait(wait):
            call()
            wait = AGAIN

    watcher = threading.Thread(target=watch, daemon=True)

    def settle() -> None:
        over.set()
        if watcher.ident is not None:
            watcher.join()
        stop()

    try:
        try:
            watcher.start()
            yield
        finally:
            settle()
    except MyTimeUp:
        settled = False
        while not settled:  # it may have come in the middle of that
            with suppress(MyTimeUp):
                settle()
                settled = True
        raise StoppedError(
            f"{what} took longer than {seconds:g} s and was stopped; look for a loop that does "
            "not end"
        ) from None


Ways = tuple[Callable[[], None], Callable[[], None]]
"""How another thread raises the error in this one; how this one sees to it that none comes now."""


def _by_signal(error: type[BaseException]) -> Ways:
    """By a signal, which only the main thread gets: it wakes from a sleep for it.

    It is one that nobody minds who does not ask for it, should it come late.
    """
    thread = threading.get_ident()
    called, stopped = threading.Event(), threading.Event()

    def hear(number: int, frame: FrameType | None) -> None:
        if called.is_set() and not stopped.is_set() and not _ours(frame):
            raise error
        if callable(before):  # that of a limit round this one
            before(number, frame)

    before = signal.signal(signal.SIGURG, hear)

    def call() -> None:
        called.set()
        signal.pthread_kill(thread, signal.SIGURG)

    def stop() -> None:
        stopped.set()
        signal.signal(signal.SIGURG, before)

    return call, stop


def _ours(frame: FrameType | None) -> bool:
    """Whether a limit is being begun or ended there, which nothing may come in the middle of."""
    if frame and frame.f_code.co_filename == contextlib.__file__:
        return True
    while frame and frame.f_code.co_filename != __file__:
        frame = frame.f_back
    return frame is not None


def _by_thread(error: type[BaseException]) -> Ways:
    """By the interpreter, between two instructions of any thread."""
    import ctypes

    thread = ctypes.c_ulong(threading.get_ident())

    def call() -> None:
        ctypes.pythonapi.PyThreadState_SetAsyncExc(thread, ctypes.py_object(error))

    def stop() -> None:
        # One that was called for and has not come yet comes here: it is never called back, which
        # would leave the interpreter looking for it for ever.
        for _ in range(2):
            pass

    return call, stop
