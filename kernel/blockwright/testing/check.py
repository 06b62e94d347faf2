"""A check of the conformance kit: its name, what it looks at, how it is run."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import Literal

from blockwright.plugin.block import Block
from blockwright.testing.trial import Trial, Tried

Complaints = Iterator[str]
"""What is wrong, each with what to change; nothing when the check is passed."""
Looked = type[Block] | Trial | Sequence[Trial] | Sequence[Tried]
On = Literal["block", "few", "all", "body"]
"""What a check looks at: the class; the few bodies together; all together; every body by itself."""


@dataclass(frozen=True)
class Check:
    """One promise that every block makes: `name`, and in `says` what is promised.

    `on` is what it looks at: the class ('block'), a dozen bodies together ('few'), all of them
    ('all'), or every body by itself ('body').  `blockwright check --list` tells them all.

    Example:
        >>> from blockwright import load
        >>> from blockwright.testing import CHECKS
        >>> check = CHECKS["block-is-named"]
        >>> check.on, check.complaints(load().block("skirt.circle"))
        ('block', [])
    """

    name: str
    says: str
    on: On
    run: Callable[..., Complaints]

    def complaints(self, what: Looked) -> list[str]:
        """What is wrong with the class, the trials or the trial, as `on` asks."""
        return list(self.run(what))


def check(name: str, on: On) -> Callable[[Callable[..., Complaints]], Check]:
    """Make a check of a function: the first line of its docstring is what is promised."""

    def made(run: Callable[..., Complaints]) -> Check:
        return Check(name, (run.__doc__ or "").splitlines()[0].rstrip("."), on, run)

    return made
