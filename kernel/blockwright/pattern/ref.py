"""The identity of a piece, an edge, a mark or a promise: its block and its own name there."""

from __future__ import annotations

from typing import NamedTuple


class Ref(NamedTuple):
    """What a promise speaks of: `block` is a key, `name` the thing's own name in that block.

    It is the same whether the block is drafted alone or in a set, whatever its darts, and it is
    kept through every change.  What is printed, the label, is another thing: see `Pattern.label`.

    Example:
        >>> from blockwright import Ref
        >>> Ref("bodice.fitted", "front side").name
        'front side'
    """

    block: str
    name: str
