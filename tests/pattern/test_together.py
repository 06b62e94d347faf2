"""Patterns of a set put together into one."""

from __future__ import annotations

from blockwright import Draft, GivenUp, Pattern, Point, Reason, line
from blockwright.pattern.pattern import together
from blockwright.pattern.piece import Edge
from blockwright.pattern.promises.twin import Twin


def drafted(key: str, *, given_up: int) -> Pattern:
    """A triangle with three promises; those with the last numbers are given up."""
    at = [Point(0, 0), Point(100, 0), Point(0, 100), Point(0, 0)]
    d = Draft(key, key)
    edges = [Edge(f"{i}", line(*at[i : i + 2])) for i in range(3)]
    d.piece("piece", edges, cut=2, mirrored=True)
    for edge in edges:
        d.twin(f"twin {edge.name}", edge)
    pattern = d.pattern()
    kept = pattern.promises[: 3 - given_up]
    gone = pattern.promises[3 - given_up :]
    places = range(3 - given_up, 3)
    return Pattern(
        key, key, pattern.pieces, kept, origins=pattern.origins,
        given_up=tuple(GivenUp(p, Reason("gone"), i) for i, p in zip(places, gone, strict=True)),
    )  # fmt: skip


def test_what_is_given_up_keeps_its_place_among_the_promises_of_all() -> None:
    whole = together([
        drafted("a.one", given_up=1), drafted("b.one", given_up=0), drafted("c.one", given_up=2),
    ])  # fmt: skip
    found = {each.place: each.promise for each in whole.given_up}
    assert [*found] == [2, 7, 8]
    kept = iter(whole.promises)
    order = [found[i] if i in found else next(kept) for i in range(9)]
    assert all(isinstance(each, Twin) for each in order)
    assert [each.ref.block for each in order] == ["a.one"] * 3 + ["b.one"] * 3 + ["c.one"] * 3
    assert [each.name for each in order] == ["twin 0", "twin 1", "twin 2"] * 3
