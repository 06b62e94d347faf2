"""What straight trousers promise."""

from __future__ import annotations

from blockwright import Across, Draft, Piece, Point, Stretch, line
from blockwright_trousers.limits import (
    FRONT_OF_HIP,
    FRONT_OF_THIGH,
    FRONT_OF_WAIST,
    LONGER_THAN_PLUMB,
    MOST_THIGH_EASE,
    SLOPES,
)
from blockwright_trousers.plan import Plan
from blockwright_trousers.results import asked
from blockwright_trousers.seat import Seat
from blockwright_trousers.widths import USUAL_HIP_EASE, USUAL_SEAT_EASE, USUAL_STRETCH

EVEN = (0.0, 0.0)
# Nothing between the waist and the hem turns more than 45 degrees to either side of the way from
# one to the other that it keeps, so no seam runs back or hooks under a fork.
FRONT_WAY, BACK_WAY = Point(-1.0, 1.0), Point(-1.0, -1.0)


def promise_seams(d: Draft, block: Seat, front: Piece, back: Piece) -> None:
    """Side and inside leg seams meet at their notches, the back inside leg stretched above."""
    stretch = asked(block, Seat.inside_leg_stretch, USUAL_STRETCH)
    d.seam(
        "side",
        +front.edge("front side"),
        -back.edge("back side"),
        stretches=[Stretch("hip notch", EVEN), Stretch("side knee notch", EVEN)],
        last=0.0,
    )
    d.seam(
        "inside leg",
        +front.edge("front inside leg"),
        -back.edge("back inside leg"),
        ease=stretch,
        stretches=[Stretch("inside knee notch", EVEN)],
        last=stretch,
    )


def promise_lines(d: Draft, front: Piece, back: Piece) -> None:
    """Seat, waist and hem run on smoothly when sewn; the crotch curves are hollow throughout."""
    d.corner(
        "seat seam over the inside leg",
        ("front inside leg", "front crotch"),
        ("back crotch", "back inside leg"),
    )
    d.corner("hem at the side", ("front side", "front hem"), ("back hem", "back side"))
    d.corner(
        "hem at the inside leg",
        ("front hem", "front inside leg"),
        ("back inside leg", "back hem"),
    )
    for piece, way in ((front, FRONT_WAY), (back, BACK_WAY)):
        for seam in (f"{piece.name} crotch", f"{piece.name} inside leg"):
            d.shape(seam, piece.edge(seam), bends=0, toward=way)
    behind, before = back.stretches("back waist")[-1], front.stretches("front waist")[-1]
    d.offer("back waist", -behind)  # from the centre back
    d.offer("front waist", -before)  # to the centre front
    d.corner("waist at the side", ("front waist", "front side"), ("back side", "back waist"))
    d.corner("waist at the centre front", ("front crotch", "front waist"), angle=90.0)
    d.corner("waist at the centre back", ("back waist", "back crotch"), angle=90.0)
    top = behind.curve.end
    d.level("waist slope at the centre back", "back waist", top, within=SLOPES["back"][1])
    for dart in (*front.darts, *back.darts):
        d.corner(f"waist over the {dart.name}", dart)


def level(name: str, a: Point, b: Point, y: float | None = None) -> Across:
    """A level across a piece from one place to another, at a height between them if given."""
    return Across(name, line(a, b) if y is None else line(Point(a.x, y), Point(b.x, y)))


def promise_widths(
    d: Draft, block: Seat, plan: Plan, pieces: tuple[Piece, Piece], front_thigh: float
) -> None:
    """Finished widths round the body, and how front and back share them.

    `front_thigh`: width of the front below its fork, mm.
    """
    front, back = pieces
    waists = ("front waist", "back waist")
    d.girth("waist", body=block.waist, ease=block.waist_ease, runs=waists, times=2)
    half = (block.waist + block.waist_ease) / 2.0
    d.girth("front waist", body=half / 2.0, ease=_off(half, FRONT_OF_WAIST), runs=waists[:1])
    hips = [level(hip.crotch.half.name, hip.side, hip.inner) for hip in plan.hips]
    ease = asked(block, Seat.hip_ease, USUAL_HIP_EASE)
    d.girth("hip", body=block.hip, ease=ease, levels=hips, times=2)
    least, most = (
        (block.hip + extra) / 2.0 * share for extra, share in zip(ease, FRONT_OF_HIP, strict=True)
    )
    quarter = block.hip / 4.0
    d.girth("front hip", body=quarter, ease=(least - quarter, most - quarter), levels=hips[:1])
    thighs = [
        level(hip.crotch.half.name, hip.side, hip.crotch.tip, plan.below_fork) for hip in plan.hips
    ]
    roomy = (block.thigh_ease, MOST_THIGH_EASE)
    d.girth("thigh", body=block.thigh, ease=roomy, levels=thighs)
    least, most = (front_thigh * (1.0 / share - 2.0) for share in FRONT_OF_THIGH[::-1])
    d.girth("back thigh over front thigh", body=front_thigh, ease=(least, most), levels=thighs[1:])
    knees = [
        level(leg.half.name, leg.place("knee", -1.0), leg.place("knee", 1.0)) for leg in plan.legs
    ]
    ease_at = block.knee_around - block.knee_girth
    d.girth("knee", body=block.knee_girth, ease=ease_at, levels=knees)
    hems = [front.edge("front hem"), back.edge("back hem")]
    d.girth("hem", body=block.ankle, ease=block.hem_around - block.ankle, runs=hems)


def _off(whole: float, shares: tuple[float, float]) -> tuple[float, float]:
    """How far shares of a width are off the half of it, mm."""
    low, high = shares
    return whole * (low - 0.5), whole * (high - 0.5)


def promise_lengths(d: Draft, block: Seat, front: Piece, back: Piece) -> None:
    """Finished lengths along the body: seat, outside leg, inside leg."""
    crotches = [front.edge("front crotch"), back.edge("back crotch")]
    ease = asked(block, Seat.seat_ease, USUAL_SEAT_EASE)
    d.girth("seat seam", body=block.total_crotch, ease=ease, runs=crotches)
    d.girth(
        "outside leg length",
        body=block.length, ease=(0.0, LONGER_THAN_PLUMB), runs=[front.edge("front side")],
    )  # fmt: skip
    # The hem may lie higher or lower than the floor that legs are measured to, and the crotch
    # hangs lower than the body's.
    legs = block.outside_leg - block.inside
    least, most = _depths(block)
    d.girth(
        "inside leg length",
        body=block.length - legs, ease=(legs - most, legs - least + LONGER_THAN_PLUMB),
        runs=[front.edge("front inside leg")],
    )  # fmt: skip


def _depths(block: Seat) -> tuple[float, float]:
    """How deep the crotch line may lie under the waist, by what was asked for, mm."""
    if block.crotch_depth is not None:
        return block.crotch_depth, block.crotch_depth
    least, most = asked(block, Seat.crotch_ease)
    return block.rise + least, block.rise + most
