"""A panel with a waist dart and all that it promises, and what is asked of it once changed."""

from __future__ import annotations

import math

from blockwright import (
    Across,
    BodySheet,
    Dart,
    Draft,
    Edge,
    Given,
    Guide,
    Notch,
    Pattern,
    Point,
    Result,
    Stretch,
    draft,
    line,
    load,
    move_dart,
    roof_between,
    signed_area,
)
from blockwright.pattern.dart import opening, sewn_outline
from promised import prove_promised as prove

WIDE, TALL, INTAKE, DEEP = 240.0, 300.0, 30.0, 120.0
LEVELS = {"high": 290.0, "middle": 200.0, "hip": 100.0}
"""Heights of levels across: near the mouth of the dart, just over its point, and below that."""
OPENS = 2.0 * math.atan(INTAKE / 2.0 / DEEP)


def folded(height: float, deep: float = DEEP) -> float:
    """Cloth of the dart at a level, mm, by similar triangles."""
    return INTAKE * max(height - (TALL - deep), 0.0) / deep


def level(height: float) -> list[Across]:
    return [Across("panel", line(Point(0.0, height), Point(WIDE, height)))]


def panel_pattern() -> Pattern:
    """A panel 240 by 300 with a waist dart in the middle of its top, and what it promises."""
    apex = Point(120.0, TALL - DEEP)
    right, left = Point(120.0 + INTAKE / 2, TALL), Point(120.0 - INTAKE / 2, TALL)
    inner = line(Point(WIDE, TALL), right)
    outer = line(left, Point(0.0, TALL))
    mouth = Edge("waist dart mouth", roof_between(apex, inner, outer, "end"), "dart")
    hem = Edge("hem", line(Point(0.0, 0.0), Point(WIDE, 0.0)), "hem")
    side = Edge("side", line(Point(WIDE, 0.0), Point(WIDE, TALL)))
    centre = Edge("centre", line(Point(0.0, TALL), Point(0.0, 0.0)), "fold")
    waist = Edge("waist", inner, "waist")
    d = Draft("test.panel", "Panel")
    dart = Dart("waist dart", apex, mouth.name, "end", "pressed to the centre")
    d.piece(
        "panel", [hem, side, waist, mouth, Edge("waist", outer, "waist"), centre],
        grain=(Point(60.0, 20.0), Point(60.0, 150.0)), label_at=Point(60.0, 80.0), darts=[dart],
        notches=[Notch("hip notch", "side", 100.0), Notch("hem notch", "hem", 200.0)],
        guides=[Guide("hip line", line(Point(0.0, 100.0), Point(WIDE, 100.0)))],
    )  # fmt: skip
    tape = Given("tape", TALL, {"hip notch": 100.0})
    d.seam("side", side, tape, stretches=[Stretch("hip notch", (0.0, 0.0))], last=0.0)
    d.girth("waist", runs=[waist], body=WIDE - INTAKE, ease=0.0)
    d.girth("hem", runs=[hem], body=WIDE, ease=0.0)
    for name, height in LEVELS.items():
        d.girth(name, levels=level(height), body=WIDE - folded(height), ease=0.0)
    # Two right angles, and the dart closed between them.
    d.corner("waist over the dart", dart, angle=180.0 + math.degrees(OPENS))
    d.corner("hem at the side", (hem, side), angle=90.0)
    d.corner("waist at the centre", (waist, centre), angle=90.0)
    d.level("hem near the side", hem, Point(220.0, 0.0), within=0.01)
    d.level("hem near the centre", hem, Point(20.0, 0.0), within=0.01)
    made = d.pattern()
    assert prove(made).held
    return made


def cloth(pattern: Pattern) -> float:
    """Area that shows when the darts are sewn."""
    return signed_area(sewn_outline(pattern.piece("panel")))


def angle(pattern: Pattern, name: str) -> float:
    piece = pattern.piece("panel")
    dart = piece.dart(name)
    return opening(dart.apex, *piece.dart_legs(dart))


def broken(pattern: Pattern) -> dict[str, Result]:
    """What broke, by the name of its promise, the whole seam before its stretches."""
    return {result.subject.name: result for result in reversed(prove(pattern).broken)}


def given_up(pattern: Pattern) -> dict[str, str]:
    """Why each promise was given up, by its name."""
    return {each.promise.name: each.why.code for each in pattern.given_up}


def check_proved(pattern: Pattern) -> None:
    """Every promise was kept, and holds."""
    proof = prove(pattern)
    assert proof.held, [(proof.say(each), proof.off(each)) for each in proof.broken]
    assert not pattern.given_up


def to_side(pattern: Pattern, share: float = 1.0) -> Pattern:
    return move_dart(
        pattern, "panel", "waist dart", "side", 220.0, name="side dart", pressed="start",
        says="pressed down", share=share,
    )[0]  # fmt: skip


def to_hem(pattern: Pattern) -> Pattern:
    return move_dart(
        pattern, "panel", "waist dart", "hem", 120.0, pressed="start", says="pressed to the centre"
    )[0]


def bodice() -> Pattern:
    values = {
        "bust_girth": 88, "waist_girth": 70, "neck_girth": 36, "shoulder_length": 12,
        "across_back_width": 34, "upper_arm_girth": 28, "back_neck_point_to_waist": 40,
        "bust_point_width": 18, "side_neck_point_to_bust_point": 26,
        "front_neck_point_to_waist": 34,
    }  # fmt: skip
    body = BodySheet.from_values(values, units="cm", name="Trial")
    return draft(load().block("bodice.fitted"), body)
