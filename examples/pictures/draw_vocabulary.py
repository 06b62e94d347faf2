"""Draws the pictures of the drafting vocabulary: look at each before committing it.

    python examples/pictures/draw_vocabulary.py

What is given is drawn in ink, what the verb makes of it in teal, and help lines are dashed.
"""

from __future__ import annotations

import html
import math
from collections.abc import Iterable
from pathlib import Path

from blockwright import (
    Affine,
    Curve,
    Dart,
    Edge,
    Part,
    Pattern,
    Piece,
    Point,
    arc,
    arc_between,
    fair_curve,
    line,
    move_dart,
    on_line,
    parallel,
    points_on_line,
    polyline,
    roof_between,
    spread,
    true_line,
)

HERE = Path(__file__).parent / "vocabulary"
WIDE, LETTERS, HEAD, ARM = 300.0, 11.0, 8.0, 4.0
INK, TEAL, GREY, RUST, PAPER, CLOTH = (
    "#2b3440", "#0f6b62", "#7d8794", "#a4481c", "#ffffff", "#eef2f1",
)  # fmt: skip
LOOKS = {
    "given": f'stroke="{INK}" stroke-width="1.5"',
    "made": f'stroke="{TEAL}" stroke-width="2.4"',
    "help": f'stroke="{GREY}" stroke-width="1" stroke-dasharray="4 3"',
    "mark": f'stroke="{RUST}" stroke-width="1.6"',
}
COLOURS = {"given": INK, "made": TEAL, "help": "#56606d", "mark": RUST}


class Picture:
    """A picture 300 pixels wide of the paper between two corners, mm; y is turned to run down."""

    def __init__(self, title: str, low: tuple[float, float], high: tuple[float, float]) -> None:
        self._left, self._top = low[0], high[1]
        self._scale = WIDE / (high[0] - low[0])
        tall = (high[1] - low[1]) * self._scale
        self._parts = [
            f'<svg xmlns="http://www.w3.org/2000/svg" width="{WIDE:g}" height="{tall:.0f}" '
            f'viewBox="0 0 {WIDE:g} {tall:.0f}" fill="none" stroke-linecap="round" '
            f'stroke-linejoin="round" font-family="Helvetica,Arial,sans-serif" '
            f'font-size="{LETTERS:g}">',
            f"<title>{html.escape(title)}</title>",
            f'<rect width="{WIDE:g}" height="{tall:.0f}" fill="{PAPER}"/>',
        ]

    def svg(self) -> bytes:
        return "\n".join([*self._parts, "</svg>", ""]).encode()

    def _at(self, place: Iterable[float]) -> str:
        x, y = place
        return f"{(x - self._left) * self._scale:.2f} {(self._top - y) * self._scale:.2f}"

    def _path(self, curves: Iterable[Curve]) -> str:
        parts: list[str] = []
        for curve in curves:
            parts += [] if parts else [f"M{self._at(curve.start)}"]
            parts += [f"C{self._at(b)} {self._at(c)} {self._at(d)}" for _, b, c, d in curve.control]
        return " ".join(parts)

    def draw(self, look: str, *curves: Curve) -> None:
        for curve in curves:
            self._parts.append(f'<path d="{self._path([curve])}" {LOOKS[look]}/>')

    def cloth(self, outline: Iterable[Curve]) -> None:
        """A closed outline, filled."""
        self._parts.append(f'<path d="{self._path(outline)} Z" fill="{CLOTH}" {LOOKS["given"]}/>')

    def piece(self, piece: Piece) -> None:
        """A piece with the legs of its darts."""
        self.cloth(edge.curve for edge in piece.edges)
        for dart in piece.darts:
            start, end = piece.dart_legs(dart)
            self.rule("given", start, dart.apex, end)

    def rule(self, look: str, *points: Point) -> None:
        self.draw(look, polyline(points))

    def cross(self, *places: Point) -> None:
        arm = ARM / self._scale
        for at in places:
            self.rule("mark", at - Point(arm, 0.0), at + Point(arm, 0.0))
            self.rule("mark", at - Point(0.0, arm), at + Point(0.0, arm))

    def head(self, look: str, tip: Point, way: Point) -> None:
        """An arrow head that ends at a place, going that way."""
        back = way.unit() * (-HEAD / self._scale)
        self.rule(look, tip + back.turned(0.4), tip, tip + back.turned(-0.4))

    def arrow(self, look: str, a: Point, b: Point) -> None:
        self.rule(look, a, b)
        self.head(look, b, b - a)

    def along(self, look: str, curve: Curve, share: float = 0.5) -> None:
        """An arrow head on a curve, the way it is travelled."""
        at = share * curve.length
        self.head(look, curve.point_at(at), curve.tangent_at(at))

    def say(
        self, look: str, words: str, at: Point, right: float = 0.0, up: float = 0.0, *,
        anchor: str = "middle",
    ) -> None:  # fmt: skip
        """Words so many pixels from a place, on a thin ground of paper."""
        place = at + Point(right, up - 0.35 * LETTERS) / self._scale
        x, y = self._at(place).split()
        where = f'x="{x}" y="{y}" text-anchor="{anchor}"'
        # The ground first, as words of its own: not every viewer lays a stroke under its filling.
        self._parts += [
            f'<text {where} stroke="{PAPER}" stroke-width="3">{html.escape(words)}</text>',
            f'<text {where} fill="{COLOURS[look]}">{html.escape(words)}</text>',
        ]


# -- what the pictures are of ----------------------------------------------------------------

TIP = Point(100.0, 110.0)
BEFORE = line(Point(200.0, 240.0), Point(125.0, 236.0))
AFTER = line(Point(75.0, 236.0), Point(0.0, 240.0))


def ends(curve: Curve) -> tuple[Point, Point]:
    return curve.start, curve.end


def panel() -> Piece:
    """A panel with a waist dart that is wide enough to be seen."""
    mouth = Edge("waist dart mouth", roof_between(TIP, BEFORE, AFTER, "end"), "dart")
    edges = (
        Edge("hem", line(Point(0.0, 0.0), Point(200.0, 0.0)), "hem"),
        Edge("side", line(Point(200.0, 0.0), BEFORE.start)),
        Edge("waist", BEFORE, "waist"),
        mouth,
        Edge("waist", AFTER, "waist"),
        Edge("centre", line(AFTER.end, Point(0.0, 0.0)), "fold"),
    )
    dart = Dart("waist dart", TIP, mouth.name, "end", "pressed to the centre")
    return Piece("panel", edges, (Point(40.0, 20.0), Point(40.0, 100.0)), TIP, darts=(dart,))


def whole() -> Pattern:
    """A pattern of that panel alone."""
    return Pattern("example.panel", "Panel", (panel(),))


def points_where_lines_meet_a_curve() -> Picture:
    """A line divided into four, and where the lines ruled up from there meet a curve."""
    picture = Picture("on_line and points_on_line", (-12, -20), (172, 110))
    a, b, top = Point(0.0, 0.0), Point(160.0, 0.0), Point(0.0, 100.0)
    curve = fair_curve([Point(0.0, 34.0), Point(58.0, 88.0), Point(160.0, 62.0)])
    picture.rule("given", a, b)
    picture.draw("given", curve)
    for i in range(5):
        at = a.between(b, i / 4)
        picture.rule("given", at - Point(0.0, 3.0), at + Point(0.0, 3.0))
        if i in (1, 2, 3):
            picture.rule("help", at, at + top)
            picture.cross(*points_on_line([curve], at, at + top))
            (along,) = on_line(curve, at, at + top)
            anchor, right = ("end", -5.0) if i == 1 else ("start", 5.0)
            picture.say("made", f"{along:.1f}", curve.point_at(along), right, 10.0, anchor=anchor)
    picture.say("given", "four equal parts", a.between(b), 0.0, -15.0)
    picture.say("made", "mm along", curve.start, 0.0, -13.0, anchor="start")
    return picture


def a_fair_curve() -> Picture:
    """Through every mark, setting out and arriving in the directions given."""
    picture = Picture("fair_curve", (-32, -22), (182, 128))
    marks = [Point(0.0, 110.0), Point(26.0, 52.0), Point(82.0, 12.0), Point(150.0, 0.0)]
    start, end = Point(0.0, -1.0), Point(1.0, 0.0)
    picture.arrow("help", marks[0], marks[0] + start * 34.0)
    picture.arrow("help", marks[-1] - end * 34.0, marks[-1])
    picture.draw("made", fair_curve(marks, start, end))
    picture.cross(*marks)
    picture.say("help", "start", marks[0], -6.0, -24.0, anchor="end")
    picture.say("help", "end", marks[-1], -24.0, -13.0)
    picture.say("mark", "marks", marks[2], 12.0, 14.0, anchor="start")
    return picture


def an_arc_between() -> Picture:
    """From a to b, turning to the left by so much between its ends."""
    picture = Picture("arc_between", (-22, -96), (172, 18))
    a, b, turn = Point(0.0, 0.0), Point(150.0, 0.0), math.radians(80.0)
    bow = arc_between(a, b, turn)
    meet = a + bow.start_tangent * (75.0 / math.cos(turn / 2.0))
    ahead = meet + bow.start_tangent * 40.0
    picture.rule("help", a, meet, ahead)
    picture.rule("help", meet, b)
    picture.rule("help", a, b)
    picture.draw("help", arc(meet, 22.0, bow.start_tangent.angle, bow.end_tangent.angle))
    picture.draw("made", bow)
    picture.along("made", bow)
    picture.cross(a, b)
    picture.say("given", "a", a, -9.0, 6.0)
    picture.say("given", "b", b, 9.0, 6.0)
    picture.say("given", "turn", meet, 52.0, 0.0)
    return picture


def a_parallel() -> Picture:
    """At a constant distance, to the left of travel; with a minus to the right."""
    picture = Picture("parallel", (-30, -30), (204, 100))
    curve = fair_curve([Point(0.0, 0.0), Point(56.0, 50.0), Point(122.0, 34.0), Point(172.0, 64.0)])
    left, right = parallel(curve, 18.0), parallel(curve, -18.0)
    picture.draw("made", left, right)
    picture.draw("given", curve)
    picture.along("given", curve, 0.97)
    at = 0.5 * curve.length
    across = curve.tangent_at(at).left() * 18.0
    picture.rule("help", curve.point_at(at) - across, curve.point_at(at) + across)
    picture.say("made", "18", curve.point_at(at) + across, 0.0, 11.0)
    picture.say("made", "-18", curve.point_at(at) - across, -2.0, -11.0)
    picture.say("given", "curve", curve.start, 2.0, -12.0)
    return picture


def a_piece() -> Picture:
    """Named edges, counter-clockwise round the cloth."""
    picture = Picture("Piece and Edge", (-50, -24), (200, 206))
    side = fair_curve([Point(160.0, 0.0), Point(160.0, 90.0), Point(136.0, 186.0)], Point(0.0, 1.0))
    waist = fair_curve([side.end, Point(0.0, 176.0)], end=Point(-1.0, 0.0))
    edges = (
        Edge("hem", line(Point(0.0, 0.0), side.start), "hem"),
        Edge("side", side),
        Edge("waist", waist, "waist"),
        Edge("centre", line(waist.end, Point(0.0, 0.0)), "fold"),
    )
    thread = (Point(46.0, 30.0), Point(46.0, 130.0))
    piece = Piece("front", edges, thread, Point(92.0, 70.0))
    picture.piece(piece)
    for edge in edges:
        picture.draw("made", edge.curve)
        picture.along("made", edge.curve, 0.55)
    picture.arrow("given", *thread)
    picture.arrow("given", *reversed(thread))
    picture.say("given", "grain", thread[1], 6.0, -40.0, anchor="start")
    picture.say("made", "hem", Point(80.0, 0.0), 0.0, -12.0)
    picture.say("made", "side", side.point_at(90.0), 9.0, 0.0, anchor="start")
    picture.say("made", "waist", waist.point_at(waist.length / 2.0), 0.0, 12.0)
    picture.say("made", "centre", Point(0.0, 88.0), -8.0, 0.0, anchor="end")
    return picture


def a_dart() -> Picture:
    """Its point, its legs, and the mouth cut so that it lies under the seam when pressed."""
    picture = Picture("Dart and roof_between", (-14, 88), (214, 276))
    piece = panel()
    picture.piece(piece)
    mouth = piece.edge("waist dart mouth").curve
    picture.draw("made", mouth)
    picture.rule("help", TIP, mouth.point_at(mouth.length / 2.0))
    for stretch in piece.stretches("waist"):
        picture.along("given", stretch.curve)
    picture.cross(TIP)
    picture.say("mark", "apex", TIP, 12.0, -6.0, anchor="start")
    picture.say("made", "mouth", mouth.point_at(mouth.length / 2.0), 0.0, 13.0)
    picture.say("given", "before", BEFORE.point_at(38.0), 0.0, 13.0)
    picture.say("given", "after", AFTER.point_at(38.0), 0.0, 13.0)
    picture.say("given", "leg", Point(113.0, 172.0), 9.0, 0.0, anchor="start")
    picture.say("given", "leg", Point(87.0, 172.0), -9.0, 0.0, anchor="end")
    return picture


def pair(title: str, after: Piece, made: Iterable[Curve]) -> Picture:
    """A panel before, and what became of it."""
    picture = Picture(title, (-18, -34), (542, 276))
    aside = Affine.move(Point(290.0, 0.0))
    picture.piece(panel())
    picture.rule("mark", *SLASH[title])
    picture.cross(TIP)
    picture.arrow("given", Point(222.0, 120.0), Point(258.0, 120.0))
    picture.piece(after.moved(aside))
    picture.draw("made", *(curve.moved(aside) for curve in made))
    picture.say("given", "before", Point(100.0, 0.0), 0.0, -11.0)
    picture.say("given", "after", Point(390.0, 0.0), 0.0, -11.0)
    return picture


SLASH = {
    "move_dart": (TIP, Point(200.0, 150.0)),
    "spread": (TIP, Point(100.0, 0.0)),
}


def a_dart_moved() -> Picture:
    """Closed at the waist, opened as much at the side."""
    pattern, _ = move_dart(
        whole(), "panel", "waist dart", "side", 150.0, name="side dart", pressed="start",
        says="pressed down",
    )  # fmt: skip
    moved = pattern.piece("panel")
    (dart,) = moved.darts
    ends = moved.dart_legs(dart)
    legs = [line(ends[0], dart.apex), line(dart.apex, ends[1])]
    return pair("move_dart", moved, [*legs, moved.edge("side dart mouth").curve])


def a_dart_spread() -> Picture:
    """Closed at the waist, and the hem wider by as much."""
    pattern, _ = spread(whole(), "panel", "waist dart", "hem", 100.0)
    wide = pattern.piece("panel")
    return pair("spread", wide, [wide.edge("hem").curve])


def a_line_trued() -> Picture:
    """Drawn over the closed dart in one, then cut apart."""
    picture = Picture("true_line", (-34, 76), (516, 280))
    closing = Affine.laying(TIP, AFTER.start, TIP, BEFORE.end)
    aside = Affine.move(Point(290.0, 0.0))
    right, left = Point(200.0, TIP.y), Point(0.0, TIP.y)
    before, after = true_line([Part([*ends(BEFORE)]), Part([*ends(AFTER)], closing)])
    sewn = after.moved(closing)
    picture.cloth([before, sewn, polyline([sewn.end, closing(left), TIP, right])])
    picture.rule("given", BEFORE.end, TIP)
    picture.rule("help", *ends(BEFORE), sewn.end)
    picture.draw("made", before, sewn)
    picture.arrow("given", Point(222.0, 160.0), Point(258.0, 160.0))
    mouth = roof_between(TIP, before, after, "end")
    flat = [before, mouth, after, polyline([after.end, left, right])]
    picture.cloth(curve.moved(aside) for curve in flat)
    picture.rule("given", aside(BEFORE.end), aside(TIP), aside(AFTER.start))
    picture.draw("made", before.moved(aside), after.moved(aside))
    picture.say("given", "dart closed", Point(110.0, TIP.y), 0.0, -11.0)
    picture.say("given", "cut apart", aside(TIP), 0.0, -11.0)
    return picture


def a_seam_walked() -> Picture:
    """Both sides from the hem, so one of them backwards; notches meet."""
    picture = Picture("seam: both sides walked from the same end", (-40, -34), (340, 200))
    up, hip = Point(0.0, 1.0), 100.0
    front = fair_curve([Point(110.0, 0.0), Point(110.0, 90.0), Point(92.0, 180.0)], up)
    back = front.moved(Affine.mirror(Point(150.0, 0.0), Point(150.0, 1.0)))
    for side, hem, waist in (
        (front, Point(0.0, 0.0), Point(0.0, 172.0)),
        (back, Point(300.0, 0.0), Point(300.0, 172.0)),
    ):
        picture.cloth([side, polyline([side.end, waist, hem, side.start])])
        picture.draw("made", side)
        for share in (0.25, 0.8):
            picture.along("made", side, share)
    for along in (0.0, hip, front.length):
        picture.rule("help", front.point_at(along), back.point_at(along))
    for side, inward in ((front, 9.0), (back, -9.0)):
        foot = side.point_at(hip)
        picture.rule("mark", foot, foot + side.tangent_at(hip).left() * inward)
    picture.say("made", "front side", front.point_at(hip), -12.0, 0.0, anchor="end")
    picture.say("made", "-back side", back.point_at(hip), 12.0, 0.0, anchor="start")
    picture.say("mark", "notch", Point(150.0, hip), 0.0, 8.0)
    picture.say("help", "from the hem", Point(150.0, 0.0), 0.0, -12.0)
    return picture


PICTURES = {
    "on_line": points_where_lines_meet_a_curve,
    "fair_curve": a_fair_curve,
    "arc_between": an_arc_between,
    "parallel": a_parallel,
    "piece": a_piece,
    "dart": a_dart,
    "move_dart": a_dart_moved,
    "spread": a_dart_spread,
    "true_line": a_line_trued,
    "seam": a_seam_walked,
}
"""What draws each picture, by the name of its file."""


def main() -> None:
    HERE.mkdir(exist_ok=True)
    for name, drawn in PICTURES.items():
        path, data = HERE / f"{name}.svg", drawn().svg()
        same = path.exists() and path.read_bytes() == data
        path.write_bytes(data)
        print("same " if same else "drawn", path.name)


if __name__ == "__main__":
    main()
