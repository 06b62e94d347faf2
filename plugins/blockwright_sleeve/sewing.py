"""How a sleeve is sewn: its notches and placket, and what its cap, length and hem promise."""

from __future__ import annotations

import math
from collections.abc import Sequence

from blockwright import (
    Across,
    Curve,
    Dart,
    Draft,
    Edge,
    Given,
    Guide,
    Mark,
    Notch,
    PatternError,
    Point,
    Stretch,
    Taken,
    line,
)
from blockwright_sleeve.body import BACK, FRONT, USUAL_BICEP_EASE, SleeveBody
from blockwright_sleeve.cap import CROWN, CapPlan
from blockwright_sleeve.limits import LEVEL_AT_CROWN, Range, cap_heights

# A placket is so long, square to the hem, a quarter of the hem in from the back seam, mm.  Common
# practice, no source.
PLACKET_LENGTH, PLACKET_PLACE = 100.0, 0.25


# -- notches and placket -------------------------------------------------------------------------


def _armhole_sides(d: Draft, sleeve: SleeveBody) -> tuple[Given | Taken, Given | Taken]:
    """Front armhole from the underarm up, back one from the shoulder down, with their notches.

    They are the bodice's when it is drafted with the sleeve.
    """
    front, back = d.taken(FRONT), d.taken(BACK)
    up = sleeve.notch_height
    d.require(
        front is None or up == type(sleeve).notch_height.default,
        f"notch_height is set, but the notches are taken from {front and front.block}",
        check=["notch_height"], do="leave it out, or set that block's notches",
    )  # fmt: skip
    down = sleeve.back_armhole * (1.0 - up)
    return (
        front or Given(FRONT, sleeve.front_armhole, {"front notch": up * sleeve.front_armhole}),
        back or Given(BACK, sleeve.back_armhole, {"back notch": down}),
    )


def _cap_notches(d: Draft, sleeve: SleeveBody, plan: CapPlan, cap: Edge) -> list[Notch]:
    """Front, crown and double back notch, walked along the armhole with its ease."""
    before, behind = _armhole_sides(d, sleeve)
    try:
        front = before.notches["front notch"]
        back = behind.length - behind.notches["back notch"]
    except KeyError as missing:
        raise PatternError(
            f"the armhole taken from another block has no {missing}; it needs one"
        ) from None
    crown = sleeve.front_armhole + sleeve.front_ease_share * plan.ease
    return [
        Notch("front notch", cap.name, front),
        Notch("crown notch", cap.name, crown),
        Notch("back notch", cap.name, cap.curve.length - back, count=2),
    ]


def _placket(sleeve: SleeveBody, hem: Edge, room: float) -> tuple[list[Notch], list[Guide]]:
    """Notch and line of the placket that opens the hem for the hand; none where it stays closed.

    `hem` runs from the back seam; `room`: length of the seam it lies beside, mm.
    """
    if not sleeve.opens:
        return [], []
    along = PLACKET_PLACE * hem.curve.length
    foot, way = hem.curve.point_at(along), hem.curve.tangent_at(along).left()
    top = foot + way * min(PLACKET_LENGTH, room / 2.0)
    return [Notch("placket", hem.name, along)], [Guide("placket", line(foot, top))]


# -- the piece -----------------------------------------------------------------------------------


def add_sleeve(
    d: Draft, sleeve: SleeveBody, plan: CapPlan, marks: Sequence[Mark], edges: Sequence[Edge], *,
    grain_from: Point, label_at: Point, middle: Curve, seam: float,
    guides: Sequence[Guide] = (), darts: Sequence[Dart] = (),
) -> None:  # fmt: skip
    """Add the sleeve; promise that it fits armhole and arm, and is as long and wide as asked.

    `marks` are those of the cap; `edges` begin with hem, front underarm, cap and back underarm.
    `grain_from`: lower end of the grain; `middle`: from the crown to the hem; `seam`: length of
    the underarm seam, mm.
    """
    hem, front, cap, back = edges[:4]
    notches, slit = _placket(sleeve, hem, edges[-1].curve.length)
    d.piece(
        "sleeve", edges, grain=(grain_from, Point(plan.crown.x, plan.height * 0.6)),
        label_at=label_at, cut=2, mirrored=True, darts=darts,
        notches=[*_cap_notches(d, sleeve, plan, cap), *notches],
        guides=[Guide("bicep line", line(marks[-1], marks[0])), *guides, *slit],
        notes=plan.side_notes,
    )  # fmt: skip
    _promise_cap(d, sleeve, plan, cap, marks)
    d.seam("underarm", -front, back)
    d.corner("cap under the arm", (front.name, cap.name), (cap.name, back.name))
    for dart in darts:
        d.corner("back seam over the closed dart", dart)
    d.corner(f"{hem.name} at the underarm seam", (back.name, hem.name), (hem.name, front.name))
    # The hem is as wide as asked, and the hand passes it where it does not open.
    ease = sleeve.hem_width(plan.bicep) - sleeve.wrist
    d.girth(hem.name, body=sleeve.wrist, ease=ease, runs=[hem])
    if not sleeve.opens and sleeve.hand is not None:
        over = f"{hem.name} over the hand"
        d.girth(over, body=sleeve.hand, ease=(0.0, math.inf), runs=[hem], asked=False)
    d.measure("length", length=sleeve.length, levels=[Across("sleeve", middle)])
    # The underarm is shorter than the sleeve by a cap that can be set in.
    flat, steep = cap_heights(sleeve.armhole)
    d.measure(
        "underarm seam, a cap shorter", length=seam + plan.height, ease=(-steep, -flat),
        runs=[front],
    )  # fmt: skip


def _promise_cap(
    d: Draft, sleeve: SleeveBody, plan: CapPlan, cap: Edge, marks: Sequence[Mark]
) -> None:
    """The cap passes its marks, is level at the crown and fits the armhole."""
    front, back = _armhole_sides(d, sleeve)
    d.through("cap through its marks", cap, marks)
    d.level("cap over the crown", cap, marks[CROWN], within=LEVEL_AT_CROWN)
    ease = _cap_ease(sleeve, plan)
    share = sleeve.front_ease_share
    d.shape("cap hollow, full, hollow", cap, bends=2, toward=Point(-1.0, 0.0))
    d.seam(
        "cap to armhole", cap, [front, Given("shoulder seam", 0.0, {"crown notch": 0.0}), back],
        ease=ease,
        stretches=[
            Stretch("front notch", (0.0, 0.0)),
            Stretch("crown notch", (share * ease[0], share * ease[1])),
            Stretch("back notch", ((1.0 - share) * ease[0], (1.0 - share) * ease[1])),
        ],
        last=0.0,
        shaped=True,
    )  # fmt: skip
    d.girth(
        "upper arm", body=sleeve.upper_arm, ease=_bicep_ease(sleeve, plan),
        spans=[((cap.name, "back underarm"), ("front underarm", cap.name))],
    )  # fmt: skip


def _cap_ease(sleeve: SleeveBody, plan: CapPlan) -> Range:
    """The cap ease asked for, or the usual one; one that was found, all that could be asked for."""
    if plan.found == "cap ease":
        return type(sleeve).cap_ease.low, type(sleeve).cap_ease.high
    ease = sleeve.usual_cap_ease if sleeve.cap_ease is None else sleeve.cap_ease
    return ease, ease


def _bicep_ease(sleeve: SleeveBody, plan: CapPlan) -> Range:
    """The bicep's ease over the arm, likewise; one the block chose is no less than usual."""
    if plan.found != "bicep width":
        given = sleeve.usual_bicep if sleeve.given_bicep is None else sleeve.given_bicep
        return given - sleeve.upper_arm, given - sleeve.upper_arm
    if sleeve.cap_height is None:
        return USUAL_BICEP_EASE, type(sleeve).bicep_ease.high
    return 0.0, type(sleeve).bicep_width.high - sleeve.upper_arm
