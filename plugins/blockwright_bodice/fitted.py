"""The fitted bodice: front and back to the waist, shaped by bust, waist and shoulder darts."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from functools import cache

from blockwright import (
    Across,
    Affine,
    Curve,
    Dart,
    Draft,
    Edge,
    GeometryError,
    Guide,
    InputError,
    LaidLine,
    Notch,
    Part,
    Piece,
    Point,
    Rule,
    choice_option,
    distance,
    lay_line,
    length_option,
    line,
    measurement,
    move_dart,
    polyline,
    roof_between,
    solve,
)
from blockwright_bodice.bodice import (
    TO_RIGHT,
    WHOLE_BODY,
    Bodice,
    Half,
    half_way,
    scye_rule,
)
from blockwright_bodice.shoulder import Shoulder

# Of what the waist is narrower than the bust the side seams take this share, then the back darts
# and the front ones: the front has what a published block gives it (from memory: 29 % in front,
# 46 % about the side, 25 % in the back and at its centre); with one dart a quarter the back one
# takes some of the side's.
SIDE_SHARE, BACK_SHARE = 0.35, 0.36
# A narrower dart is not worth sewing: the side seam takes all.  Common practice, no source.
LEAST_DART = 8.0
# A fifth of the bust ease goes to the back width, the rest to the armhole; a published lesson.
EASE_TO_BACK = 0.2
TEN_CM = 100.0
PRESSED = "pressed to the centre"
WAISTS = {
    2: ("back waist", "front waist"),
    4: ("back waist", "back waist side", "front waist side", "front waist"),
}
# Between these angles, radians, a bust dart is worth sewing and can be pressed flat.
BUST_DART = (math.radians(3.0), math.radians(40.0))
# A waist dart wider than this share of its length makes the waist scallop and will not press flat;
# common practice, no source.
WIDEST_DART = 0.45
# The bust point lies at least this far inside the front armhole, mm: room for the bust dart.
LEAST_BESIDE = 25.0
# Where on the side seam the bust dart opens, from the underarm down, as a share of the seam.
SIDE_DART_AT = 0.3
# The back waist dart ends this far below the bust line, which is measured whole above it.
BELOW_BUST_LINE = 10.0
# Where on the shoulder, from the neck, a bust dart opens.
SHOULDER_DART_AT = 0.5


@dataclass(frozen=True, slots=True)
class Plan:
    """The frame of the bodice for one waist suppression; mm.

    The front is drawn twice: its side as it lies with the bust dart open at the side seam
    (`side`, below the dart), and turned up about the bust point as it lies with the dart closed
    (`front`, above it).
    """

    front: Half
    back: Half
    bust_point: Point
    dart_point: Point
    turn: Affine  # lays the open side on the closed one
    front_side: tuple[Point, Point]  # underarm and waist, dart open
    back_side: tuple[Point, Point]
    bust_dart: float  # radians
    back_dart: float
    front_dart: float


class FittedBodice(Bodice):
    """Women's front and back to the waist, with bust, waist and back shoulder darts."""

    key = "bodice.fitted"
    title = "Fitted bodice"
    girth_line = "bust line"

    bust = measurement("bust_girth")
    waist = measurement("waist_girth")
    scye_depth = measurement("scye_depth", estimate=scye_rule("bust_girth"))
    bust_point_width = measurement(
        "bust_point_width",
        estimate=Rule(
            ("bust_girth",), lambda bust: bust / 5.0 + 8.0,
            "a fifth of bust girth and 8 mm (common practice, no source)",
        ),
    )  # fmt: skip
    neck_to_bust = measurement(
        "side_neck_point_to_bust_point",
        estimate=Rule(
            ("bust_girth",), lambda bust: bust / 4.0 + 50.0,
            "a quarter of bust girth and 5 cm (common practice, no source)",
        ),
    )  # fmt: skip
    neck_to_waist = measurement(
        "side_neck_point_to_waist",
        estimate=Rule(
            ("back_neck_point_to_waist", "bust_girth"),
            lambda back, bust: back + bust * 7.0 / 60.0 - 53.0,
            "back neck point to waist and seven sixtieths of bust girth less 5.3 cm (from memory "
            "of a published block)",
        ),
    )  # fmt: skip

    bust_ease = length_option("8 cm", low="0 cm", high="30 cm", says="bust over the bust girth")
    waist_ease = length_option("4 cm", low="0 cm", high="30 cm", says="waist over the waist girth")
    scye_ease = length_option(
        "5 mm", low="0 cm", high="4 cm", says="armhole deeper than the scye depth"
    )
    bust_dart = choice_option(
        "side", of=("side", "shoulder"), says="seam that the bust dart opens at"
    )
    bust_dart_back = length_option(
        "25 mm",
        low="0 cm",
        high="6 cm",
        says="bust and waist darts end this far from the bust point",
    )
    # -- the frame ---------------------------------------------------------------------------

    def plan(self, d: Draft, suppression: float) -> Plan:
        """The frame when the half waist is so much narrower than the half underarm line.

        Raises InputError where the body leaves no room for a bust dart or an armhole.
        """
        self.check_depth(d, self.scye_depth, self.scye_ease)
        underarm = -(self.scye_depth + self.scye_ease)
        length = self.finished_shoulder(d, underarm)
        back_shoulder = self.back_shoulder_seam(length)
        bust_point, front_shoulder = self._upper_front(length)
        point = self._dart_point(bust_point, front_shoulder)
        share = self._side_share()
        at_side = suppression * share / 2.0
        # The bust is measured at the bust point; the side seam has leant in a little above it.
        leant = max(underarm - bust_point.y, 0.0) / (underarm + self.back_waist)
        half = (self.bust + self.bust_ease) / 2.0 + 2.0 * at_side * leant
        back_across = half_way(back_shoulder, underarm)
        front_underarm = (
            front_shoulder.tip.y - (back_shoulder.tip.y - underarm) + self.shallower_front
        )
        front_across = half_way(front_shoulder, front_underarm)
        across_back, across_front = back_across.x, -front_across.x
        beside = -point.x
        below = underarm - point.y

        def hollow(angle: float) -> float:
            """How far the armhole reaches past the across points, front and back alike."""
            cos, sin = math.cos(angle), math.sin(angle)
            reach = (half - across_back - beside) * cos - below * sin
            return (beside + reach - across_front) / (1.0 + cos)

        def rise(angle: float) -> float:
            side = half - across_back - hollow(angle) - beside
            return point.y + side * math.sin(angle) + below * math.cos(angle)

        self._check_bust_point(d, across_front + bust_point.x)
        self._check_front(d, front_underarm, rise(BUST_DART[0]), rise(BUST_DART[1]))
        angle = solve(rise, front_underarm, *BUST_DART, near=(0.35, 0.8 * (half / 2.0 - beside)))
        self.check_armhole(d, hollow(angle), "bust_girth", self.bust)
        width = across_back + hollow(angle)
        turn = Affine.turn(-angle, point)
        front_side = Point(width - half, underarm), Point(width - half + at_side, -self.back_waist)
        back_side = Point(width, underarm), Point(width - at_side, -self.back_waist)
        closed = turn(front_side[0])
        front = Half(
            front_shoulder, front_across, closed,
            turn.way(front_side[1] - front_side[0]).unit(),
        )  # fmt: skip
        back = Half(
            back_shoulder, back_across, back_side[0],
            (back_side[1] - back_side[0]).unit(),
        )  # fmt: skip
        darts = suppression * (1.0 - share)
        back_dart = darts * BACK_SHARE / (1.0 - SIDE_SHARE)
        return Plan(
            front, back, bust_point, point, turn, front_side, back_side, angle, back_dart,
            darts - back_dart,
        )  # fmt: skip

    def _check_bust_point(self, d: Draft, side: float) -> None:
        if side < LEAST_BESIDE:
            most = self.bust_point_width - 2.0 * (LEAST_BESIDE - side)
            raise InputError(
                f"{self.key}: bust_point_width {d.say(self.bust_point_width)} leaves no room "
                f"beside the bust point under an across_front_width of {d.say(self.across_front)}: "
                f"{d.say(most)} or less would do; measure both again"
            )

    def _check_waist_dart(self, d: Draft, side: str, dart: WaistDart) -> None:
        most = WIDEST_DART * (dart.apex.y - dart.waist)
        if dart.intake > most:
            raise InputError(
                f"{self.key}: bust_girth {d.say(self.bust)} and waist_girth {d.say(self.waist)} "
                f"with their ease ask for a {side} waist dart of {d.say(dart.intake)}, too wide "
                f"for its length; {d.say(most)} would do: measure both again, or set bust_ease or "
                "waist_ease"
            )

    def _check_front(self, d: Draft, wanted: float, least: float, most: float) -> None:
        if least <= wanted <= most:
            return
        ends = (self.neck_to_waist + end - wanted for end in (least, most))
        shortest, longest = sorted(ends)
        raise InputError(
            f"{self.key}: side_neck_point_to_waist {d.say(self.neck_to_waist)} leaves no bust dart "
            f"that can be sewn: with back_neck_point_to_waist {d.say(self.back_waist)} about "
            f"{d.say(shortest)} to {d.say(longest)} would do; measure both again, or set "
            "shallower_front"
        )

    def _side_share(self) -> float:
        """Share of the suppression taken at the side: all where darts would be too narrow."""
        narrower = (self.bust + self.bust_ease - self.waist - self.waist_ease) / 2.0
        narrowest = (1.0 - SIDE_SHARE - BACK_SHARE) * narrower
        return SIDE_SHARE if narrowest >= LEAST_DART else 1.0

    def _upper_front(self, length: float) -> tuple[Point, Shoulder]:
        """Bust point and front shoulder, from the waist up."""
        beside = self.bust_point_width / 2.0
        height = self.neck_to_waist - self.neck_to_bust - self.back_waist
        inward = beside - self.front_neck_width
        if not abs(inward) < self.neck_to_bust:
            raise GeometryError("the bust points are too far apart for the neck")
        rise = math.sqrt(self.neck_to_bust**2 - inward**2)
        return Point(-beside, height), self.front_shoulder_seam(length, height + rise)

    def _dart_point(self, bust_point: Point, shoulder: Shoulder) -> Point:
        """Where the bust dart ends: short of the bust point, on the way from where it opens."""
        if self.bust_dart == "side":
            return bust_point - Point(self.bust_dart_back, 0.0)
        opens = shoulder.neck.between(shoulder.tip, SHOULDER_DART_AT)
        return bust_point + (opens - bust_point).unit() * self.bust_dart_back

    # -- drafting ----------------------------------------------------------------------------

    @property
    def back_ease(self) -> float:
        """A share of the ease of half the body."""
        return EASE_TO_BACK * self.bust_ease / 2.0

    def draft(self, d: Draft) -> None:
        """Draw front and back."""
        plan = self._solved_plan(d)
        front_neck, back_neck = self.neck_line(d, plan.front.shoulder, plan.back.shoulder)
        front_armhole, back_armhole = self.armhole(plan.front, plan.back)
        front_notch, back_notch = self.notches(front_armhole, back_armhole)
        curves = self._waist(plan).curves()
        names = WAISTS[len(curves)]
        waists = [Edge(name, curve, "waist") for name, curve in zip(names, curves, strict=True)]
        half = len(waists) // 2
        back = self._back(plan, waists[:half], back_armhole, back_neck, back_notch)
        front = self._front(d, plan, waists[half:], front_armhole, front_neck, front_notch)
        d.add(back)
        d.add(front)
        self._mark(d, plan)
        self.promise_seams(d, front, back)
        self._promise_girths(d, plan, front, back)

    def _solved_plan(self, d: Draft) -> Plan:
        """The plan whose waist is as wide as asked."""
        plan = cache(lambda suppression: self.plan(d, suppression))
        narrower = (self.bust + self.bust_ease - self.waist - self.waist_ease) / 2.0
        suppression = d.solve(
            "waist suppression of half the body",
            lambda suppression: self._waist(plan(suppression)).length,
            target=(self.waist + self.waist_ease) / 2.0,
            low=narrower - 30.0,
            high=narrower + 60.0,
            near=(narrower, -1.0),
            so_that="the waist is the waist girth and its ease",
            goal="half waist",
            advice="check bust_girth, waist_girth and the lengths from the neck to bust and waist",
        )
        found = plan(suppression)
        if found.back_dart:
            self._check_waist_dart(d, "back", self._back_dart(found))
            self._check_waist_dart(d, "front", self._front_dart(found))
        tip = found.front.shoulder
        d.found(
            "finished shoulder", distance(tip.neck, tip.tip),
            "it agrees best with shoulder length, across back and across front, and the armhole "
            "is a clean curve",
        )  # fmt: skip
        d.found(
            "intake of the bust dart 10 cm from its point",
            2.0 * TEN_CM * math.sin(found.bust_dart / 2.0),
            "the front armhole is as much shallower than the back one as asked",
        )
        return found

    def _waist(self, plan: Plan) -> LaidLine:
        """The waist from centre back to centre front, over closed darts and side seam."""
        level = -self.back_waist
        nape, pit = Point(0.0, level), Point(0.0, level)
        (back_under, back_side), (front_under, front_side) = plan.back_side, plan.front_side
        if not plan.back_dart:
            lay = Affine.laying(front_side, front_under, back_side, back_under)
            parts = [Part((nape, back_side)), Part((front_side, pit), lay)]
            return lay_line(parts, TO_RIGHT, lay.way(TO_RIGHT))
        back, front = self._back_dart(plan), self._front_dart(plan)
        turned = back.closing
        lay = Affine.laying(front_side, front_under, turned(back_side), turned(back_under))
        last = front.closing.then(lay)
        parts = [
            Part((nape, back.start)),
            Part((back.end, back_side), turned),
            Part((front_side, front.start), lay),
            Part((front.end, pit), last),
        ]
        return lay_line(parts, TO_RIGHT, last.way(TO_RIGHT))

    def _back_dart(self, plan: Plan) -> WaistDart:
        apex = Point(plan.back.across.x / 2.0, self._bust_level(plan) - BELOW_BUST_LINE)
        return WaistDart(apex, -self.back_waist, plan.back_dart)

    def _front_dart(self, plan: Plan) -> WaistDart:
        # Not above the bust line either, which is measured whole.
        height = min(plan.bust_point.y - self.bust_dart_back, self._bust_level(plan))
        return WaistDart(Point(plan.bust_point.x, height), -self.back_waist, plan.front_dart)

    def _back(
        self, plan: Plan, waist: list[Edge], armhole: Edge, neck: Edge, notch: Notch
    ) -> Piece:
        bottom, darts = list(waist), []
        if len(waist) == 2:
            cut = self._back_dart(plan)
            mouth = Edge("back waist dart mouth", cut.roof(waist, "start"), "dart")
            bottom.insert(1, mouth)
            darts = [Dart("back waist dart", cut.apex, mouth.name, "start", PRESSED)]
        level = self._bust_level(plan)
        across = line(Point(0.0, level), _at_level(plan.back_side, level))
        return self.back_piece(bottom, plan.back, armhole, neck, notch, across, darts)

    def _front(
        self, d: Draft, plan: Plan, waist: list[Edge], armhole: Edge, neck: Edge, notch: Notch
    ) -> Piece:
        bottom, darts = list(waist), []
        if len(waist) == 2:
            cut = self._front_dart(plan)
            mouth = Edge("front waist dart mouth", cut.roof(waist, "end"), "dart")
            bottom.insert(1, mouth)
            darts = [Dart("front waist dart", cut.apex, mouth.name, "end", PRESSED)]
        under, low = plan.front_side
        lower_leg = under.between(low, SIDE_DART_AT)
        upper = Edge("front side upper", line(armhole.curve.end, plan.turn(lower_leg)))
        side = Edge("front side", line(lower_leg, low))
        try:
            roof = roof_between(plan.dart_point, upper.curve, side.curve, "end")
        except GeometryError as error:
            raise self._too_wide(d, "the side seam", error, "set shallower_front") from error
        mouth = Edge("bust dart mouth", roof, "dart")
        bust_dart = Dart("bust dart", plan.dart_point, mouth.name, "end", "pressed down")
        piece = self.front_piece(
            bottom, plan.front, armhole, neck, notch, self._closed_bust_line(plan),
            [upper, mouth, side], [*darts, bust_dart],
        )  # fmt: skip
        if self.bust_dart == "side":
            return piece
        shoulder = piece.edge("front shoulder")
        try:
            opened = move_dart(
                piece, "bust dart", shoulder.name, SHOULDER_DART_AT * shoulder.curve.length,
                name="bust dart", pressed="start", says=PRESSED,
                parts=(shoulder.name, "front shoulder outer"),
            )  # fmt: skip
        except GeometryError as error:
            seam = f"a shoulder_length of {d.say(self.shoulder_length)}"
            raise self._too_wide(d, seam, error, "set bust_dart to side") from error
        straight = line(Point(0.0, self._bust_level(plan)), self._front_at_bust(plan))
        return replace(opened, guides=(Guide(self.girth_line, straight),))

    def _too_wide(self, d: Draft, seam: str, error: GeometryError, advice: str) -> InputError:
        return InputError(
            f"{self.key}: with side_neck_point_to_waist {d.say(self.neck_to_waist)} and "
            f"back_neck_point_to_waist {d.say(self.back_waist)} the bust dart does not go into "
            f"{seam}: {error}; measure them again, or {advice}"
        )

    # -- the bust line -----------------------------------------------------------------------

    def _bust_level(self, plan: Plan) -> float:
        """Height of the bust line: at the bust point, or the underarm where that is lower."""
        return min(plan.bust_point.y, plan.back.underarm.y)

    def _front_at_bust(self, plan: Plan) -> Point:
        """Where the bust line meets the side seam with the bust dart open at the shoulder."""
        return _at_level(plan.front_side, self._bust_level(plan))

    def _closed_bust_line(self, plan: Plan) -> Curve:
        """The bust line of the front with the bust dart at the side: it goes over the dart."""
        level, at_side = self._bust_level(plan), self._front_at_bust(plan)
        point, leg = plan.dart_point, plan.front_side[0].between(plan.front_side[1], SIDE_DART_AT)
        start = Point(0.0, level)
        if level <= leg.y:  # it passes below the dart
            return line(start, at_side)
        if level == point.y:
            return polyline([start, point, plan.turn(at_side)])
        met = point.between(leg, (point.y - level) / (point.y - leg.y))
        return polyline([start, met, plan.turn(met), plan.turn(at_side)])

    # -- marks and promises ------------------------------------------------------------------

    def _mark(self, d: Draft, plan: Plan) -> None:
        front, back = plan.front, plan.back
        across = front.across
        if self.bust_dart == "shoulder":
            across = plan.turn.inverse()(across)
        for name, at, rule, piece in (
            ("bust point", plan.bust_point, "side neck point to bust point, half the width out",
             "front"),
            ("across front", across, "half the across front, half way down", "front"),
            ("across back", back.across, "half the across back and its ease, half way down",
             "back"),
        ):  # fmt: skip
            d.mark(name, at, rule, piece=piece)

    def _promise_girths(self, d: Draft, plan: Plan, front: Piece, back: Piece) -> None:
        d.girth(
            "bust", body=self.bust, ease=self.bust_ease, times=WHOLE_BODY,
            levels=[Across(piece.name, piece.guides[0].curve) for piece in (back, front)],
        )  # fmt: skip
        waist = [[edge for edge in piece.edges if edge.role == "waist"] for piece in (back, front)]
        d.girth("waist", body=self.waist, ease=self.waist_ease, times=WHOLE_BODY, runs=waist)
        if self.bust_dart == "side":
            self.promise_across(d, plan.front, plan.back)


@dataclass(frozen=True, slots=True)
class WaistDart:
    """A dart from a level waist straight up: its point, the waist's height, its intake."""

    apex: Point
    waist: float
    intake: float

    @property
    def start(self) -> Point:
        """Left end of its mouth."""
        return Point(self.apex.x - self.intake / 2.0, self.waist)

    @property
    def end(self) -> Point:
        """Right end of its mouth."""
        return Point(self.apex.x + self.intake / 2.0, self.waist)

    @property
    def closing(self) -> Affine:
        """Lays the right leg on the left one."""
        return Affine.turn(
            -2.0 * math.atan2(self.intake / 2.0, self.apex.y - self.waist), self.apex
        )

    def roof(self, waist: list[Edge], pressed: str) -> Curve:
        """Its mouth between two waist edges."""
        return roof_between(self.apex, waist[0].curve, waist[1].curve, pressed)


def _at_level(side: tuple[Point, Point], level: float) -> Point:
    """The place on a straight side seam at that height."""
    top, low = side
    return top.between(low, (top.y - level) / (top.y - low.y))
