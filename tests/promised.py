"""The proof of what is promised alone, for tests whose pieces are no whole garment."""

from __future__ import annotations

from dataclasses import replace

from blockwright import Pattern, Proof, prove

UNASKED = ("sewing", "piece")
"""Kinds of results that nobody promises; tests/pattern/test_unasked.py is about them."""


def prove_promised(pattern: Pattern) -> Proof:
    """The proof without what is measured unasked."""
    proof = prove(pattern)
    return replace(proof, results=tuple(r for r in proof.results if r.kind not in UNASKED))
