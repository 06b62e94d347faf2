"""Every hook that a plugin can answer.

A plugin is a module, or an instance, that an entry point of the group `blockwright` names.  Hooks
take no arguments and are asked once, when the host loads.  An exception in a hook, or a wrong item
in its answer, is reported under the plugin's name; everything else works on.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

import pluggy

from blockwright.plugin.api import PROJECT

if TYPE_CHECKING:
    from blockwright.plugin.block import Block
    from blockwright.plugin.bodies import BodySource
    from blockwright.plugin.entries import BlockEntry, PromiseKind
    from blockwright.plugin.format import Format

hookspec = pluggy.HookspecMarker(PROJECT)


@hookspec
def blockwright_blocks() -> Iterable[type[Block] | BlockEntry]:  # type: ignore[empty-body]
    """Blocks this plugin offers: Block subclasses, or BlockEntry values that say where they are.

    A key that another plugin has is refused, naming both.

    Example:
        >>> from blockwright import BlockEntry, hookimpl
        >>> @hookimpl
        ... def blockwright_blocks():
        ...     at = "blockwright_skirt.gored:GoredSkirt"
        ...     return [BlockEntry("skirt.gored", "Gored skirt: four to twelve panels.", at)]
        >>> [entry.key for entry in blockwright_blocks()]
        ['skirt.gored']
    """


@hookspec
def blockwright_formats() -> Iterable[Format]:  # type: ignore[empty-body]
    """File formats this plugin offers: Format values, each by a name that no other has.

    Example:
        >>> from blockwright import Format, hookimpl
        >>> def write(document):
        ...     return "".join(f"{piece.name}\\n" for piece in document.pattern.pieces).encode()
        >>> @hookimpl
        ... def blockwright_formats():
        ...     return [Format("list", ".txt", "the pieces by name, for the cutting table", write)]
        >>> [form.name for form in blockwright_formats()]
        ['list']
    """


@hookspec
def blockwright_bodies() -> Iterable[BodySource]:  # type: ignore[empty-body]
    """Sources of bodies this plugin offers: size charts, surveys, client books.

    Example:
        >>> from blockwright import BodySheet, BodySource, hookimpl
        >>> def size(name):
        ...     values = {"waist_girth": {"S": 66, "M": 74}[name]}
        ...     return BodySheet.from_values(values, units="cm", name=name)
        >>> @hookimpl
        ... def blockwright_bodies():
        ...     return [BodySource("shop", "the shop's two sizes", lambda: ("S", "M"), size)]
        >>> [source.sheet("M").values["waist_girth"] for source in blockwright_bodies()]
        [740.0]
    """


@hookspec
def blockwright_promises() -> Iterable[PromiseKind]:  # type: ignore[empty-body]
    """Kinds of promise this plugin adds, each by a name that no other has.

    Example:
        >>> from blockwright import PromiseKind, hookimpl
        >>> @hookimpl
        ... def blockwright_promises():
        ...     return [PromiseKind("off-grain", "bias_binding.off_grain:OffGrain")]
        >>> [kind.name for kind in blockwright_promises()]
        ['off-grain']
    """
