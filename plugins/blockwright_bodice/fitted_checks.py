"""What the fitted bodice refuses by name: a bust or waist dart that cannot be sewn."""

from __future__ import annotations

from blockwright import Draft, GeometryError, InputError
from blockwright_bodice.fitted_body import FittedBody
from blockwright_bodice.waist_dart import WaistDart

# A waist dart wider than this share of its length makes the waist scallop and will not press flat;
# common practice, no source.
WIDEST_DART = 0.45
# The bust point lies at least this far inside the front armhole, mm: room for the bust dart.
LEAST_BESIDE = 25.0


def check_bust_point(d: Draft, bodice: FittedBody, side: float) -> None:
    """InputError for a bust point too near the armhole; `side`: how far it is from there, mm."""
    if side < LEAST_BESIDE:
        most = bodice.bust_point_width - 2.0 * (LEAST_BESIDE - side)
        raise InputError(
            f"{bodice.key}: bust_point_width {d.say(bodice.bust_point_width)} leaves no room "
            f"beside the bust point under an across_front_width of {d.say(bodice.across_front)}: "
            f"{d.say(most)} or less would do; measure both again"
        )


def check_front(d: Draft, bodice: FittedBody, wanted: float, least: float, most: float) -> None:
    """InputError for a front that no bust dart makes as long as it is wanted over the bust.

    `wanted`: height of its underarm, mm; `least`, `most`: what the bust dart can make of it.
    """
    if least <= wanted <= most:
        return
    ends = (bodice.neck_to_waist + end - wanted for end in (least, most))
    shortest, longest = sorted(ends)
    raise InputError(
        f"{bodice.key}: side_neck_point_to_waist {d.say(bodice.neck_to_waist)} leaves no bust dart "
        f"that can be sewn: with back_neck_point_to_waist {d.say(bodice.back_waist)} about "
        f"{d.say(shortest)} to {d.say(longest)} would do; measure both again, or set "
        "shallower_front"
    )


def check_waist_dart(d: Draft, bodice: FittedBody, side: str, dart: WaistDart) -> None:
    """InputError for a waist dart too wide for its length."""
    most = WIDEST_DART * (dart.apex.y - dart.waist)
    if dart.intake > most:
        raise InputError(
            f"{bodice.key}: bust_girth {d.say(bodice.bust)} and waist_girth {d.say(bodice.waist)} "
            f"with their ease ask for a {side} waist dart of {d.say(dart.intake)}, too wide "
            f"for its length; {d.say(most)} would do: measure both again, or set bust_ease or "
            "waist_ease"
        )


def bust_dart_too_wide(
    d: Draft, bodice: FittedBody, seam: str, error: GeometryError, advice: str
) -> InputError:
    """The refusal of a bust dart that does not go into its seam."""
    return InputError(
        f"{bodice.key}: with side_neck_point_to_waist {d.say(bodice.neck_to_waist)} and "
        f"back_neck_point_to_waist {d.say(bodice.back_waist)} the bust dart does not go into "
        f"{seam}: {error}; measure them again, or {advice}"
    )
