"""The armhole a sleeve is set into, from the bodice or the sheet, and its notches."""

from __future__ import annotations

from blockwright import Draft, Edge, Given, InputError, Notch, PatternError, Taken
from blockwright_sleeve.body import BACK, FRONT, SleeveBody
from blockwright_sleeve.plan import CapPlan


def armhole_sides(d: Draft, sleeve: SleeveBody) -> tuple[Given | Taken, Given | Taken]:
    """Front armhole from the underarm up, back one from the shoulder down, with their notches.

    They are the bodice's when it is drafted with the sleeve.
    """
    front, back = d.taken(FRONT), d.taken(BACK)
    up = sleeve.notch_height
    if front and up != type(sleeve).notch_height.default:
        raise InputError(
            f"{sleeve.key}: notch_height is set, but the notches are taken from {front.block}; "
            "leave it out, or set that block's notches"
        )
    down = sleeve.back_armhole * (1.0 - up)
    return (
        front or Given(FRONT, sleeve.front_armhole, {"front notch": up * sleeve.front_armhole}),
        back or Given(BACK, sleeve.back_armhole, {"back notch": down}),
    )


def cap_notches(d: Draft, sleeve: SleeveBody, plan: CapPlan, cap: Edge) -> list[Notch]:
    """Front, crown and double back notch, walked along the armhole with its ease."""
    front, back = _notch_heights(d, sleeve)
    crown = sleeve.front_armhole + sleeve.front_ease_share * plan.ease
    return [
        Notch("front notch", cap.name, front),
        Notch("crown notch", cap.name, crown),
        Notch("back notch", cap.name, cap.curve.length - back, count=2),
    ]


def _notch_heights(d: Draft, sleeve: SleeveBody) -> tuple[float, float]:
    """Distances of the front and the back notch from the underarm."""
    front, back = armhole_sides(d, sleeve)
    try:
        return front.notches["front notch"], back.length - back.notches["back notch"]
    except KeyError as missing:
        raise PatternError(
            f"the armhole taken from another block has no {missing}; it needs one"
        ) from None
