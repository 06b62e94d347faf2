"""What a plugin's code does wrong, told under its name."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from typing import TypeVar, cast

import click

from blockwright.errors import InputError, PatternError, PluginError, message_of, one_line
from blockwright.plugin.blame import author_line, newer_name
from blockwright.plugin.limit import TimeUp, time_limit
from blockwright.plugin.quiet import told_apart

T = TypeVar("T")
TELL = "; tell its author"
"""What somebody can do about a plugin that is not their own."""


def given(kind: type[T], made: object, by: str = "") -> T:
    """What a function of a plugin gave, when it is of that kind; PatternError when it is not."""
    if not issubclass(type(made), kind):  # which no object can say of itself
        raise PatternError(f"{by} gave {type(made).__name__}, not {kind.__name__}".lstrip())
    return cast(T, made)


def _where(error: BaseException) -> str:
    """Which of several blocks it was, as far as it is noted."""
    return "".join(f", {note}" for note in getattr(error, "__notes__", ()) if note[:3] == "in ")


def _limit() -> float | None:
    """Seconds that whoever gave the command allows to anything that is not ours."""
    context = click.get_current_context(silent=True)
    seconds: float | None = context.params.get("limit") if context else None
    return seconds


@contextmanager
def answerable(what: str, seconds: float | None = None, do: str = TELL) -> Iterator[None]:
    """Make of anything that a plugin's own code raises a PluginError that names it.

    What it prints is kept from our output and told on stderr; after so many seconds, or those of
    the command's --limit, it is stopped.  `do` ends the message.
    """
    with told_apart(lambda says: click.echo(f"blockwright: {what} {says}", err=True)):
        try:
            with time_limit(_limit() if seconds is None else seconds, what):
                yield
        except InputError as error:
            if message_of(error):
                raise
            raise PluginError(f"{what} refuses and does not say why{do}") from error
        except PluginError as error:
            named = str(error) if what in str(error) else f"{what}: {error}"
            raise PluginError(f"{named}{do}") from error
        except KeyboardInterrupt as error:
            raise KeyboardInterrupt(f"stopped in {what}") from error
        except TimeUp:  # of a limit round this one
            raise
        except BaseException as error:
            reason = message_of(error) if isinstance(error, PatternError) else one_line(error)
            raise PluginError(
                f"{what} failed: {reason}{author_line(error)}{_where(error)}{newer_name(error)}{do}"
            ) from error
