"""A small pattern that has at least one of everything a pattern can have."""

from __future__ import annotations

import math
from dataclasses import replace

from blockwright import (
    Across,
    Dart,
    Draft,
    Edge,
    Given,
    GivenUp,
    Guide,
    Notch,
    Note,
    Pattern,
    Point,
    Reason,
    Ref,
    Stretch,
    line,
    polyline,
)
from blockwright.pattern.record import Change, Estimate, Source

BLOCK = "test.panel"


def every_part() -> Pattern:
    """A panel with a dart in its side, and a promise of every kind; all that is measured holds."""
    d = Draft(BLOCK, "Panel", word="panel")
    hem = Edge("hem", line(Point(0, 0), Point(200, 0)), "hem")
    lower = Edge("side", line(Point(200, 0), Point(200, 145)))
    mouth = Edge("side dart mouth", polyline([Point(200, 145), Point(200, 155)]), "dart")
    upper = Edge("side", line(Point(200, 155), Point(200, 300)))
    waist = Edge("waist", line(Point(200, 300), Point(0, 300)), "waist")
    centre = Edge("centre", line(Point(0, 300), Point(0, 0)))
    dart = Dart("side dart", Point(100, 150), "side dart mouth", "end", "pressed down")
    panel = d.piece(
        "front", [hem, lower, mouth, upper, waist, centre],
        grain=(Point(50, 50), Point(50, 250)), label_at=Point(80, 200), cut=2, mirrored=True,
        darts=[dart], notches=[Notch("hip", "side", 60.0, 2)],
        guides=[Guide("hip line", line(Point(0, 60), Point(200, 60)))],
        notes=[Note(Point(60, 100), "front")],
    )  # fmt: skip
    middle = d.mark("middle", Point(100, 0), "half way along the hem", piece="front")
    d.solve(
        "depth", lambda x: 2 * x, target=120.0, low=10.0, high=100.0,
        so_that="the hip is where it is", goal="hip", advice="no other",
    )  # fmt: skip
    partner = Given("side of the back", 290.0, {"hip": 60.0})
    d.seam("side", "side", partner, stretches=[Stretch("hip", (-1.0, 1.0))], last=(-1.0, math.inf))
    d.twin("centre seam", centre)
    d.corner("hem at the centre", (centre, hem), angle=90.0)
    d.corner("side over the dart", dart, angle=180.0 + 2.0 * math.degrees(math.atan(0.05)))
    d.girth(
        "hip", body=700.0, ease=(100.0, math.inf), runs=[hem],
        spans=[((hem, "side"), (centre, hem))],
        levels=[Across("front", line(Point(0, 60), Point(200, 60)), 2)], asked=False,
    )  # fmt: skip
    d.shape("hem", hem, bends=0, toward=Point(1, 0))
    d.shape("waist", waist, bends=0)
    d.through("hem", hem, [middle])
    d.level("hem", hem, Point(100, 0), within=1.0)
    d.measure("hem length", length=200.0, runs=[hem])
    d.unsewn(waist, "left open")
    d.offer("side", -upper)
    pattern = d.pattern(
        estimates=[Estimate("waist_to_hip", 200.0, "a rule", BLOCK)],
        measurements={"hip_girth": 700.0}, body="Zoë",
        options={"ease": 40.0, "darts": 1, "fly": "left", "pockets": True, "yoke": None},
        sources=[Source("side", 290.0, "from the back"), Source("yoke", None, "nobody offers it")],
        allowances={"hem": 40.0}, version="3", eases={"hip": 40.0}, chosen={"fly": "left"},
        unused={"wrist_girth": 160.0},
    )  # fmt: skip
    lost = next(promise for promise in pattern.promises if promise.kind == "level")
    why = {
        "edge": Ref(BLOCK, "hem"), "often": 2, "by": 0.5, "says": "so",
        "there": ("a", Ref(BLOCK, "side")),
    }  # fmt: skip
    front = replace(panel, block=BLOCK, word="panel", longer_grain=(Point(50, 40), Point(50, 260)))
    return replace(
        pattern,
        pieces=(front,),
        given_up=(GivenUp(replace(lost, turned=3.0), Reason("turned", why), 2),),
        changes=(Change("move_dart", {"piece": "front", "along": 145.0, "share": 1}),),
    )
