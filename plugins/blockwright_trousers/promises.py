"""What straight trousers promise."""

from __future__ import annotations

from collections.abc import Sequence

from blockwright import Across, Draft, Piece, Point, Stretch, line
from blockwright_trousers import limits
from blockwright_trousers.body import USUAL_HIP_EASE, USUAL_SEAT_EASE, USUAL_STRETCH
from blockwright_trousers.leg import Half
from blockwright_trousers.pieces import Plan
from blockwright_trousers.seat import Seat

EVEN = (0.0, 0.0)
# Nothing between the waist and the hem turns more than 45 degrees to either side of the way from
# one to the other that it keeps, so no seam runs back or hooks under a fork.
FRONT_WAY, BACK_WAY = Point(-1.0, 1.0), Point(-1.0, -1.0)


def promise_seams(d: Draft, block: Seat, front: Piece, back: Piece) -> None:
    """Side and inside leg seams meet at their notches, the back inside leg stretched above."""
    stretch = block.asked(Seat.inside_leg_stretch, USUAL_STRETCH)
    notches = [Stretch("hip notch", EVEN), Stretch("side knee notch", EVEN)]
    d.seam("side", "front side", -back.edge("back side"), stretches=notches, last=0.0)
    notches = [Stretch("inside knee notch", EVEN)]
    inside = "front inside leg", -back.edge("back inside leg")
    d.seam("inside leg", *inside, ease=stretch, stretches=notches, last=stretch)
    d.twin("front crotch", "front crotch")
    d.twin("back crotch", "back crotch")


def promise_lines(d: Draft, front: Piece, back: Piece) -> None:
    """Seat, waist and hem run on smoothly when sewn; the crotch curves are hollow throughout."""
    fork = ("front inside leg", "front crotch"), ("back crotch", "back inside leg")
    d.corner("seat seam over the inside leg", *fork)
    d.corner("hem at the side", ("front side", "front hem"), ("back hem", "back side"))
    inside = ("front hem", "front inside leg"), ("back inside leg", "back hem")
    d.corner("hem at the inside leg", *inside)
    for piece, way in ((front, FRONT_WAY), (back, BACK_WAY)):
        for seam in (f"{piece.name} crotch", f"{piece.name} inside leg"):
            d.shape(seam, piece.edge(seam), bends=0, toward=way)
    behind, before = back.stretches("back waist")[-1], front.stretches("front waist")[-1]
    d.offer("back waist", -behind)  # from the centre back
    d.offer("front waist", -before)  # to the centre front
    d.unsewn(["back waist", "front waist"], "left open")
    d.corner("waist at the side", ("front waist", "front side"), ("back side", "back waist"))
    d.corner("waist at the centre front", ("front crotch", "front waist"), angle=90.0)
    d.corner("waist at the centre back", ("back waist", "back crotch"), angle=90.0)
    top = behind.curve.end
    d.level("waist slope at the centre back", "back waist", top, within=limits.SLOPES["back"][1])
    for dart in (*front.darts, *back.darts):
        d.corner(f"waist over the {dart.name}", dart)


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
    front_waist = limits.shares_of(half, limits.FRONT_OF_WAIST)
    _promise_between(d, "front waist", *front_waist, runs=waists[:1])
    hips = [_level(hip.crotch.half, hip.side, hip.inner) for hip in plan.hips]
    ease = block.asked(Seat.hip_ease, USUAL_HIP_EASE)
    d.girth("hip", body=block.hip, ease=ease, levels=hips, times=2)
    least, most = (
        (block.hip + extra) / 2.0 * share
        for extra, share in zip(ease, limits.FRONT_OF_HIP, strict=True)
    )
    _promise_between(d, "front hip", least, most, levels=hips[:1])
    y = plan.below_fork
    thighs = [
        _level(hip.crotch.half, Point(hip.side.x, y), Point(hip.crotch.tip.x, y))
        for hip in plan.hips
    ]
    roomy = (block.thigh_ease, limits.MOST_THIGH_EASE)
    d.girth("thigh", body=block.thigh, ease=roomy, levels=thighs)
    least, most = (front_thigh * (1.0 / share - 1.0) for share in limits.FRONT_OF_THIGH[::-1])
    _promise_between(d, "back thigh over front thigh", least, most, levels=thighs[1:])
    knees = [_level(leg.half, leg.place("knee", -1.0), leg.place("knee", 1.0)) for leg in plan.legs]
    ease_at = block.knee_around - block.knee_girth
    d.girth("knee", body=block.knee_girth, ease=ease_at, levels=knees)
    hems = [front.edge("front hem"), back.edge("back hem")]
    d.girth("hem", body=block.ankle, ease=block.hem_around - block.ankle, runs=hems)


def _level(half: Half, a: Point, b: Point) -> Across:
    """A level across a half from one place to another."""
    return Across(half.name, line(a, b))


def _promise_between(
    d: Draft, name: str, least: float, most: float,
    runs: Sequence[str] = (), levels: Sequence[Across] = (),
) -> None:  # fmt: skip
    """A width between two others, mm."""
    d.girth(name, body=least, ease=(0.0, most - least), runs=runs, levels=levels)


def promise_lengths(d: Draft, block: Seat, front: Piece, back: Piece) -> None:
    """Finished lengths along the body: seat, outside leg, inside leg."""
    crotches = [front.edge("front crotch"), back.edge("back crotch")]
    ease = block.asked(Seat.seat_ease, USUAL_SEAT_EASE)
    d.measure("seat seam", length=block.total_crotch, ease=ease, runs=crotches)
    longer = limits.LONGER_THAN_PLUMB
    outside = [front.edge("front side")]
    d.measure("outside leg length", length=block.length, ease=(0.0, longer), runs=outside)
    # The hem may lie higher or lower than the floor that legs are measured to, and the crotch
    # hangs lower than the body's.
    legs = block.outside_leg - block.inside
    least, most = _depths(block)
    ease, inside = (legs - most, legs - least + longer), [front.edge("front inside leg")]
    d.measure("inside leg length", length=block.length - legs, ease=ease, runs=inside)


def _depths(block: Seat) -> tuple[float, float]:
    """How deep the crotch line may lie under the waist, by what was asked for, mm."""
    if block.crotch_depth is not None:
        return block.crotch_depth, block.crotch_depth
    least, most = block.asked(Seat.crotch_ease)
    return block.rise + least, block.rise + most
