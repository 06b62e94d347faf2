"""What a block says of itself to the conformance kit."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

Wearers = Literal["all", "women", "men"]


@dataclass(frozen=True, slots=True)
class Traits:
    """What the conformance kit may expect of a block; the defaults suit most.

    `wearers`: whose bodies it is tried on.  `most_refused`: the share of real bodies it may
    refuse, each with a message that names what to change.  `steadiness`: how far a point of the
    draft may move when one measurement changes, as a multiple of that change.  `steps`: why its
    pieces, edges or darts change in number as a body grows; empty when they never do.
    `seconds`: how long a draft and its proof may take.  `known_failures`: checks by name that it
    does not pass yet, each with the reason; one that passes after all is reported, so that the
    list stays true.

    Example:
        >>> from blockwright import Traits
        >>> traits = Traits(wearers="women", steps="a wide intake takes two darts")
        >>> traits.most_refused
        0.02
    """

    wearers: Wearers = "all"
    most_refused: float = 0.02
    steadiness: float = 20.0
    steps: str = ""
    seconds: float = 0.25
    known_failures: Mapping[str, str] = field(default_factory=dict)
