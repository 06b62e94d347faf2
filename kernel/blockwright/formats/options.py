"""What may be chosen for the bundled formats."""

from __future__ import annotations

from blockwright.plugin.format import Flat, FormatOptions
from blockwright.plugin.option import auto_length_option, choice_option, length_option

PAPERS = ("a4", "a3", "letter", "tabloid")


class OnRoll(FormatOptions):
    """Of a drawing for a roll plotter."""

    roll = auto_length_option(
        auto="pieces side by side, as wide as they are",
        low="30 cm",
        high="250 cm",
        says="width of the paper, to pack the pieces on",
    )


class Tiled(FormatOptions):
    """Of a drawing in tiles."""

    paper = choice_option("a4", of=PAPERS, says="size of the tiles")
    overlap = length_option("15 mm", low="0 mm", high="60 mm", says="overlap of the tiles")


class Plate(FormatOptions):
    """Of hard templates."""

    thickness = length_option("3 mm", low="0.2 mm", high="50 mm", says="thickness of the plates")


class FacetedPlate(Plate, Flat):
    """Of hard templates whose edges are straight facets."""
