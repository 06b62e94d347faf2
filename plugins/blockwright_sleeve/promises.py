"""What every sleeve promises: its cap, its length and its hem."""

from __future__ import annotations

from blockwright import Across, Curve, Draft, Edge, Given, Mark, Point, Stretch
from blockwright_sleeve.armhole import armhole_sides
from blockwright_sleeve.body import USUAL_BICEP_EASE, SleeveBody
from blockwright_sleeve.cap import CROWN
from blockwright_sleeve.limits import LEVEL_AT_CROWN, cap_heights
from blockwright_sleeve.plan import CapPlan


def promise_cap(d: Draft, sleeve: SleeveBody, plan: CapPlan, cap: Edge, marks: list[Mark]) -> None:
    """The cap passes its marks, is level at the crown and fits the armhole."""
    front, back = armhole_sides(d, sleeve)
    d.through("cap through its marks", cap, marks)
    d.level("cap over the crown", cap, marks[CROWN], within=LEVEL_AT_CROWN)
    ease = _cap_ease(sleeve, plan)
    share = sleeve.front_ease_share
    d.shape("cap hollow, full, hollow", cap, bends=2, toward=Point(-1.0, 0.0))
    d.seam(
        "cap to armhole",
        cap,
        [front, Given("shoulder seam", 0.0, {"crown notch": 0.0}), back],
        ease=ease,
        stretches=[
            Stretch("front notch", (0.0, 0.0)),
            Stretch("crown notch", (share * ease[0], share * ease[1])),
            Stretch("back notch", ((1.0 - share) * ease[0], (1.0 - share) * ease[1])),
        ],
        last=0.0,
    )
    d.girth(
        "upper arm",
        body=sleeve.upper_arm,
        ease=_bicep_ease(sleeve, plan),
        spans=[((cap.name, "back underarm"), ("front underarm", cap.name))],
    )


def _cap_ease(sleeve: SleeveBody, plan: CapPlan) -> tuple[float, float]:
    """The cap ease asked for, or the usual one; one that was found, all that could be asked for."""
    if plan.found == "cap ease":
        return type(sleeve).cap_ease.low, type(sleeve).cap_ease.high
    ease = sleeve.usual_cap_ease if sleeve.cap_ease is None else sleeve.cap_ease
    return ease, ease


def _bicep_ease(sleeve: SleeveBody, plan: CapPlan) -> tuple[float, float]:
    """The bicep's ease over the arm, likewise; one the block chose is no less than usual."""
    if plan.found != "bicep width":
        given = sleeve.usual_bicep if sleeve.given_bicep is None else sleeve.given_bicep
        return given - sleeve.upper_arm, given - sleeve.upper_arm
    if sleeve.cap_height is None:
        return USUAL_BICEP_EASE, type(sleeve).bicep_ease.high
    return 0.0, type(sleeve).bicep_width.high - sleeve.upper_arm


def promise_length(
    d: Draft, sleeve: SleeveBody, plan: CapPlan, middle: Curve, front: Edge, seam: float
) -> None:
    """The sleeve is as long as asked, and its underarm is so much shorter as a cap is high.

    `middle`: from the crown to the hem; `front`: the underarm seam, `seam` mm long.
    """
    d.girth("length", body=sleeve.length, ease=0.0, levels=[Across("sleeve", middle)])
    flat, steep = cap_heights(sleeve.armhole)
    d.girth(
        "underarm seam, a cap shorter", body=seam + plan.height, ease=(-steep, -flat),
        runs=[front],
    )  # fmt: skip


def promise_hem(d: Draft, sleeve: SleeveBody, name: str, width: float, hem: Edge) -> None:
    """The hem is as wide as asked, and the hand passes it where it does not open."""
    d.girth(name, body=sleeve.wrist, ease=width - sleeve.wrist, runs=[hem])
    if not sleeve.opens and sleeve.hand is not None:
        widest = type(sleeve).bicep_width.high
        d.girth(f"{name} over the hand", body=sleeve.hand, ease=(0.0, widest), runs=[hem])
