"""Balance notches: matching notches at equal shares of the long stretches of a seam."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import accumulate

from blockwright.errors import PatternError
from blockwright.pattern import tolerance
from blockwright.pattern.pattern import Pattern
from blockwright.pattern.piece import Notch, Piece, Run, Way
from blockwright.pattern.promises.seam import Seam, Stretch
from blockwright.pattern.ref import Ref
from blockwright.pattern.results import Range
from blockwright.pattern.walk import walk

# A balance notch is left out this near, mm, to an end of an edge, a dart or another notch: there is
# something to match already, and two cuts side by side say something else.  Common practice, no
# source.
ROOM = 15.0


@dataclass(frozen=True, slots=True)
class _Part:
    """A stretch of a seam: where it begins and ends on both runs, mm, its ease and its notch."""

    a: tuple[float, float]
    b: tuple[float, float]
    ease: Range
    to: str


def balanced(seam: Seam, pieces: Mapping[Ref, Piece], every: float) -> tuple[Seam, list[Piece]]:
    """The seam with balance notches among its stretches, and the pieces that have the notches.

    `pieces` has the piece of every edge of the block.  No stretch stays longer than `every` mm,
    except where a notch is left out.  Both sides of a stretch are parted into equal shares, so its
    ease is spread evenly.

    Raises PatternError if `every` is not a length of more than twice ROOM, if a side of the seam is
    not drawn on this draft, or if it goes over an edge more than once.
    """
    if not 2.0 * ROOM < every < math.inf:
        raise PatternError(
            f"balance of seam {seam.name!r} every {every} mm; give a length over {2.0 * ROOM:g} mm"
        )
    edges = [step.edge for step in (*seam.a, *seam.b) if isinstance(step, Way)]
    if len(edges) < len(seam.a) + len(seam.b) or not all(edge in pieces for edge in edges):
        raise PatternError(
            f"seam {seam.name!r} has a side that is not drawn here, which cannot be notched; leave "
            "its balance out"
        )
    if len(set(edges)) < len(edges):
        raise PatternError(
            f"seam {seam.name!r} goes over an edge more than once, where one notch would stand for "
            "two places; leave its balance out"
        )
    whole = tuple({piece.name: piece for piece in pieces.values()}.values())
    pattern = Pattern(seam.ref.block, "", whole, (seam,))
    stretches: list[Stretch] = []
    added: list[Notch] = []
    for part in _parts(pattern, seam):
        count = max(1, math.ceil((part.a[1] - part.a[0]) / every - tolerance.ROUNDED))
        low, high = (end / count for end in part.ease)
        since = 0
        for i in range(1, count):
            since += 1
            name = f"{seam.name} balance {len(added) // 2 + 1}"
            both = [
                _notch(pattern, run, begin + (end - begin) * i / count, name)
                for run, (begin, end) in ((seam.a, part.a), (seam.b, part.b))
            ]
            if all(both):
                added += [notch for notch in both if notch]
                stretches.append(Stretch(name, (low * since, high * since)))
                since = 0
        since += 1
        stretches.append(Stretch(part.to, (low * since, high * since)))
    end = stretches.pop()
    last = end.ease if seam.last is not None else None
    changed = {notch.edge for notch in added}
    return replace(seam, stretches=tuple(stretches), last=last), [
        replace(
            piece,
            notches=(*piece.notches, *(n for n in added if n.edge in piece.edge_names())),
        )
        for piece in whole
        if changed & set(piece.edge_names())
    ]


def _parts(pattern: Pattern, seam: Seam) -> Iterator[_Part]:
    """The stretches that the seam has, the one after its last notch among them."""
    a, b = walk(pattern, seam.a), walk(pattern, seam.b)
    at_a = at_b = 0.0
    for stretch in seam.stretches:
        if stretch.to not in a.notches or stretch.to not in b.notches:
            raise PatternError(
                f"seam {seam.name!r} has no notch {stretch.to!r} on both sides; add it to the "
                "pieces before its balance"
            )
        ends = a.notches[stretch.to], b.notches[stretch.to]
        yield _Part((at_a, ends[0]), (at_b, ends[1]), stretch.ease, stretch.to)
        at_a, at_b = ends
    rest = seam.last
    if rest is None:
        low = math.fsum(stretch.ease[0] for stretch in seam.stretches)
        high = math.fsum(stretch.ease[1] for stretch in seam.stretches)
        rest = (seam.ease[0] - high, seam.ease[1] - low)
    yield _Part((at_a, a.length), (at_b, b.length), rest, "")


def _notch(pattern: Pattern, run: Run, at: float, name: str) -> Notch | None:
    """A notch at a distance along a run, mm.  None if there is no room for it."""
    for step in run:
        assert isinstance(step, Way)
        length = pattern.length(step.edge)
        if at > length:
            at -= length
            continue
        along = at if step.forward else length - at
        stretches = [edge.curve.length for edge in pattern.stretches(step.edge)]
        taken = [0.0, *accumulate(stretches), *_places(pattern, step.edge)]
        if min(abs(along - place) for place in taken) < ROOM:
            return None
        return Notch(name, step.edge.name, along)
    return None


def _places(pattern: Pattern, edge: Ref) -> Sequence[float]:
    return [notch.along for notch in pattern.notches_on(edge)]
