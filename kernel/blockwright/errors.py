"""The errors Blockwright raises: one root; each kind is also the matching builtin."""

from __future__ import annotations


class BlockwrightError(Exception):
    """Root of every error raised on purpose."""


class GeometryError(BlockwrightError, ValueError):
    """A curve or point that cannot exist or cannot be found as asked."""


class InputError(BlockwrightError, ValueError):
    """Something a person typed is wrong; the message says what, where and what to do."""


class InputErrors(InputError):  # noqa: N818  (several of them)
    """Several input errors found in one reading, one line each."""

    def __init__(self, lines: list[str]) -> None:
        self.lines = list(lines)
        super().__init__("\n".join(lines))


class NoSolutionError(InputError):
    """No value of the free quantity makes the promise true; says what range is possible."""


class PatternError(BlockwrightError, ValueError):
    """A block put its pattern together wrongly: a mistake of its author."""


class PluginError(BlockwrightError, RuntimeError):
    """A plugin failed; the message names plugin, distribution and hook."""
