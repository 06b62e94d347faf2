"""When two places, or two directions, are one: the tolerances of curves."""

from __future__ import annotations

# Curves this near, mm, meet: a thousandth of what any cutter resolves.
MEETS = 1e-6
# Places this near, mm, are one place.  Coordinates are rounded to about 1e-13 of a pattern's size.
ONE_PLACE = 1e-9
# Directions that differ by less than this, radians, are one direction: over ten metres they part by
# a hundredth of a millimetre.  The rounding in a joined curve is a thousand times less.
SMOOTH = 1e-6
# Two halves of one cubic lie on it to this, mm: the rounding of cuts and turns.
UNCUT = 1e-8
# A parallel is this accurate, mm: a tenth of what scissors can follow.
PARALLEL = 1e-3
