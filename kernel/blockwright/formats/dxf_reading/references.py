"""References to blocks: those that place a piece, and those that add shapes to one.

A reference may turn, scale and mirror its block, whether it stands in the drawing or in a block.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from blockwright.body.lengths import quoted
from blockwright.curves.affine import STAYS, Affine
from blockwright.formats.dxf_reading.piece import SourceFile
from blockwright.formats.dxf_reading.shapes import Bent, Drawing, Entity, Group, Put, Run, flip

# Blocks in blocks are followed so deep; no drawing of a pattern has more.
DEEPEST = 8
# References whose lengths are within this share of one another draw the same shape.
SAME_SHAPE = 6
# DXF's layer that stands for the layer of the reference (facts: the DXF reference, from memory).
OF_THE_REFERENCE = "0"


class References:
    """The references of a drawing, of whose blocks some are pieces."""

    def __init__(self, drawing: Drawing, pieces: Sequence[Group], source: SourceFile) -> None:
        self._drawing = drawing
        self._source = source
        self._named = {block.name.upper(): block for block in reversed(drawing.blocks)}
        self._pieces = {id(block) for block in pieces}
        self._opened = set(self._pieces)
        self._ways: dict[int, list[Affine]] = {}
        if id(drawing.space) not in self._pieces:
            self._follow(drawing.space, STAYS, ())

    def has_opened(self, block: Group) -> bool:
        """Whether the block is a piece, or its shapes were opened into one."""
        return id(block) in self._opened

    def ways_of(self, block: Group) -> list[Affine]:
        """How a piece is turned, scaled or mirrored, once for each shape that this gives.

        It is as its block has it where there is no reference to it.  Where it is moved to is left
        out.  References that only turn it differently are copies, which is noted.
        """
        shapes: dict[tuple[float, ...], Affine] = {}
        ways = self._ways.get(id(block), [STAYS])
        for way in ways:
            lengths = way.a**2 + way.c**2, way.b**2 + way.d**2, way.a * way.b + way.c * way.d
            key = (*(round(each, SAME_SHAPE) for each in lengths), float(flip(way) > 0.0))
            shapes.setdefault(key, replace(way, e=0.0, f=0.0))
        if len(shapes) < len(ways):
            self._source.notes[
                f"block {quoted(block.name)} is placed {len(ways)} times; each shape is read once"
            ] += 1
        return list(shapes.values())

    def opened(self, block: Group, above: tuple[Group, ...] = ()) -> Iterator[Entity]:
        """The shapes of a block with those of the blocks in it, which are no pieces."""
        for shape in block.shapes:
            if not isinstance(shape.form, Put):
                yield shape
            elif inner := self._inner(shape, shape.form, (*above, block)):
                if id(inner) in self._pieces:
                    self._source.leave_out(shape.kind, shape.layer, "a block in a block")
                    continue
                self._opened.add(id(inner))
                lay = _laid(inner, shape.form)
                for each in self.opened(inner, (*above, block)):
                    form = each.form
                    if isinstance(form, Run):
                        self._drawing.count(vertices=len(form.points))
                    elif isinstance(form, Bent):
                        self._drawing.count(arcs=len(form.curve.control))
                    self._drawing.count(entities=1)
                    layer = shape.layer if each.layer == OF_THE_REFERENCE else each.layer
                    yield each.moved(lay)._replace(layer=layer)

    def _follow(self, block: Group, lay: Affine, above: tuple[Group, ...]) -> None:
        """Find where pieces are placed, directly or in other blocks."""
        for shape in block.shapes:
            if isinstance(shape.form, Put) and (
                inner := self._inner(shape, shape.form, (*above, block))
            ):
                way = _laid(inner, shape.form).then(lay)
                if id(inner) in self._pieces:
                    self._ways.setdefault(id(inner), []).append(way)
                else:
                    self._follow(inner, way, (*above, block))

    def _inner(self, shape: Entity, form: Put, above: tuple[Group, ...]) -> Group | None:
        """The block of a reference; none, and noted, if it cannot be followed."""
        self._drawing.count(entities=1)
        inner = self._named.get(form.block.upper())
        why = ""
        if inner is None:
            why = "its block is not in the file"
        elif id(inner) not in self._pieces and (inner in above or len(above) > DEEPEST):
            why = f"a block in itself, or deeper than {DEEPEST} blocks"
        if why:
            self._source.leave_out(shape.kind, shape.layer, why)
            return None
        return inner


def _laid(inner: Group, form: Put) -> Affine:
    return Affine.move(-inner.base).then(form.lay)
