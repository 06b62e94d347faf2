"""Names of the layers in DXF files: those of our drawings, and those of exchange files.

The numbers of exchange files after ASTM D6673 are all from memory, see `exchange`.  Writers take
names from here, and so does the reader of other people's files.  What checks a file that was
written does not: it has names of its own, in `dxf_read`.
"""

from __future__ import annotations

from blockwright.formats import line_styles

NAMES = {role: role.upper().replace("-", "_") for role in (*line_styles.STROKES, "text")}
"""The layer of each role in our own drawings: OUTLINE, FOLD, SEW, NOTCH, TEST_BAR, TEXT..."""

# The layers of exchange files.
BOUNDARY, TURN, CURVE, NOTCH = "1", "2", "3", "4"
GRADE, MIRROR, GRAIN, INNER = "5", "6", "7", "8"
CUTOUT, DRILL, SEW, WORDS = "11", "13", "14", "15"
NOTCH_T, NOTCH_CASTLE, NOTCH_CHECK, NOTCH_U = "80", "81", "82", "83"
USED = (BOUNDARY, TURN, CURVE, NOTCH, MIRROR, GRAIN, INNER, DRILL, SEW, WORDS, NOTCH_T)
# A notch's depth stands as the height of its point and as its thickness: memory has it as one or
# the other.  Its angle, in degrees, is the way it goes in.
DEPTH, ANGLE = 39, 50
