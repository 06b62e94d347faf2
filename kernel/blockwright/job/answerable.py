"""A plugin's code at work: it is named, what it prints is kept, what it raises is told."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import TypeVar

from blockwright.errors import InputError, PatternError, PluginError, message_of, one_line
from blockwright.plugin.capture import told_apart
from blockwright.plugin.traceback_line import author_line, newer_name

T = TypeVar("T")
TELL = "; tell its author"
"""What somebody can do about a plugin that is not their own."""


@contextmanager
def answerable(
    who: str,
    warn: Callable[[str], None],
    do: str = TELL,
    tell: Callable[[str], None] | None = None,
    *,
    aloud: bool = False,
) -> Iterator[None]:
    """Make a PluginError that names `who` of anything that a plugin's own code raises within.

    `warn` is told what the code prints or warns of; `do` ends the error's message; `tell` is told
    who is at work; with `aloud` all that the code prints goes to stderr.  An InputError with a
    message passes: it is for whoever gave the input.
    """
    if tell:
        tell(who)
    with told_apart(lambda says: warn(f"{who} {says}"), aloud=aloud):
        try:
            yield
        except InputError as error:
            if message_of(error):
                raise
            raise PluginError(f"{who} refuses and does not say why{do}") from error
        except PluginError as error:
            named = str(error) if who in str(error) else f"{who}: {error}"
            raise PluginError(f"{named}{do}") from error
        except KeyboardInterrupt as error:
            raise KeyboardInterrupt(f"stopped in {who}") from error
        except BaseException as error:
            reason = message_of(error) if isinstance(error, PatternError) else one_line(error)
            raise PluginError(
                f"{who} failed: {reason}{author_line(error)}{_where(error)}{newer_name(error)}{do}"
            ) from error


def given(kind: type[T], made: object, by: str = "") -> T:
    """What a plugin's function returned.  Raises PatternError unless it is of that kind."""
    if not isinstance(made, kind):
        raise PatternError(f"{by} gave {type(made).__name__}, not {kind.__name__}".lstrip())
    return made


def _where(error: BaseException) -> str:
    """Which of several blocks it was, as far as it is noted."""
    return "".join(f", {note}" for note in getattr(error, "__notes__", ()) if note[:3] == "in ")
