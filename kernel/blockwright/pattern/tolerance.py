"""How near is held: every tolerance of the proof, once."""

from __future__ import annotations

# A tenth of a millimetre on any length: under a sixth of what production makers match to
# (0.03 in, a published shop figure), and far under what a needle can follow.
LENGTH = 0.1
# Half a degree on any corner: 0.9 mm over a hand's breadth of 10 cm.
ANGLE = 0.5
# A curve is said to pass its marks when it is nearer than a pencil line is thick by ten times.
ON_CURVE = 0.01
# An outline is closed when its edges meet to this; more is a gap the cutter would see as a line.
CLOSED = 1e-3
