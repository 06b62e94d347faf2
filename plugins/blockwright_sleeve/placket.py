"""The placket: an opening at the back of the hem for the hand."""

from __future__ import annotations

from blockwright import Edge, Guide, Notch, line
from blockwright_sleeve.body import SleeveBody

# So far up from the hem, a quarter of the hem in from the back seam, mm.  Common practice, no
# source.
LENGTH, PLACE = 100.0, 0.25


def placket(sleeve: SleeveBody, hem: Edge, room: float) -> tuple[list[Notch], list[Guide]]:
    """Notch and line of the placket, square to the hem; none where it does not open.

    `hem` runs from the back seam; `room`: length of the seam it lies beside, mm.
    """
    if not sleeve.opens:
        return [], []
    along = PLACE * hem.curve.length
    foot, way = hem.curve.point_at(along), hem.curve.tangent_at(along).left()
    top = foot + way * min(LENGTH, room / 2.0)
    return [Notch("placket", hem.name, along)], [Guide("placket", line(foot, top))]
