"""Bias binding for Blockwright: a kind of promise that others ship, and a pocket that makes it."""

from __future__ import annotations

from blockwright import BlockEntry, PromiseKind, hookimpl

blockwright_api = "4.0"


@hookimpl
def blockwright_promises() -> list[PromiseKind]:
    """The kind, imported when a draft that has one is read from a file."""
    return [PromiseKind("off-grain", "bias_binding.off_grain:OffGrain")]


@hookimpl
def blockwright_blocks() -> list[BlockEntry]:
    """The pocket, imported when it is drafted."""
    return [
        BlockEntry(
            "pocket.bound",
            "Patch pocket on the bias, full at its foot, with a bias strip to bind its mouth.",
            "bias_binding.block:BoundPocket",
        )
    ]
