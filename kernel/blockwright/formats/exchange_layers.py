"""What stands where in exchange files after ASTM D6673: all from memory, see `exchange`."""

from __future__ import annotations

# The layers.
BOUNDARY, TURN, CURVE, NOTCH = "1", "2", "3", "4"
GRADE, MIRROR, GRAIN, INNER = "5", "6", "7", "8"
CUTOUT, DRILL, SEW, WORDS = "11", "13", "14", "15"
NOTCH_T, NOTCH_CASTLE, NOTCH_CHECK, NOTCH_U = "80", "81", "82", "83"
USED = (BOUNDARY, TURN, CURVE, NOTCH, MIRROR, GRAIN, INNER, DRILL, SEW, WORDS, NOTCH_T)
# A notch's depth stands as the height of its point and as its thickness: memory has it as one or
# the other.  Its angle, in degrees, is the way it goes in.
DEPTH, ANGLE = 39, 50
