"""What straight trousers promise."""

from __future__ import annotations

from itertools import pairwise

from blockwright import Across, Draft, Edge, Piece, Point, Stretch, line

EVEN = (0.0, 0.0)


def promise_seams(d: Draft, front: Piece, back: Piece, stretch: float) -> None:
    """Side and inside leg seams meet at their notches; `stretch`: of the back inside leg, mm."""
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
    d.shape("front crotch", front.edge("front crotch"), bends=0)
    d.shape("back crotch", back.edge("back crotch"), bends=0)
    a, b = waist_edges(front), waist_edges(back)
    d.corner("waist at the side", (a[-1].name, "front side"), ("back side", b[0].name))
    d.corner("waist at the centre front", ("front crotch", a[0].name), angle=90.0)
    d.corner("waist at the centre back", (b[-1].name, "back crotch"), angle=90.0)
    for half, edges in (("front", a), ("back", b[::-1])):
        for i, (centre, side) in enumerate(pairwise(edges), start=1):
            which = f" {i}" if len(edges) > 2 else ""
            joint = (centre.name, side.name) if half == "front" else (side.name, centre.name)
            d.corner(f"waist over the {half} dart{which}", joint)


def waist_edges(piece: Piece) -> list[Edge]:
    """The edges of the waist, in outline order."""
    return [edge for edge in piece.edges if edge.role == "waist"]


def level(name: str, a: Point, b: Point, y: float | None = None) -> Across:
    """A level across a piece from one place to another, at a height between them if given."""
    return Across(name, line(a, b) if y is None else line(Point(a.x, y), Point(b.x, y)))
