"""What both bodices have in common: neck, shoulders and armhole, and what they promise."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import ClassVar

from blockwright import (
    Across,
    Affine,
    Block,
    Curve,
    Dart,
    Draft,
    Edge,
    Guide,
    InputError,
    LaidLine,
    Notch,
    Part,
    Piece,
    Point,
    Rule,
    auto_length_option,
    choice_option,
    fair_curve,
    lay_line,
    length_option,
    line,
    measurement,
    optional_measurement,
    ratio_option,
    roof_between,
)
from blockwright_bodice.shoulder import Shoulder, darted_shoulder, plain_shoulder

# Side neck point over the back neck point, as a share of the back neck width; from memory of a
# published block.
NECK_RISE = 1.0 / 3.0
# The front neck is this much narrower than the back one; from memory of two published blocks.
NARROWER_FRONT_NECK = 2.0
# The front shoulder falls this much more than the mean and the back one as much less, degrees: the
# seam lies a little to the front of the shoulder's ridge.  From memory of a published block
# (22 and 18).
SEAM_FORWARD = 2.0
# A back shoulder eased on to the front one is a quarter inch longer; the tests name the source.
EASED_SHOULDER = 6.0
# Down towards the blade, square to the seam.  Common practice is 5 to 9 cm, no source.
SHOULDER_DART_LENGTH, USUAL_SHOULDER_DART = 75.0, 12.0
# The finished shoulder may come out so much shorter than the body's, mm, or longer by as much and
# the ease of the back: a roomy shoulder drops.
SHOULDER_EASE = 40.0
# An armhole is larger than the arm by less than this, mm.
ROOMIEST_ARMHOLE = 500.0
# A width across may come out so much narrower or wider than measured, with its ease, mm.
ACROSS_EASE = (-30.0, 40.0)
# The back neck rises at the shoulder this many times as steeply as on the way from the nape; at
# three times it would leave the nape quite straight.
FLAT_NAPE = 2.7
# Both pieces are cut on the fold, so widths are counted twice.
WHOLE_BODY = 2
TO_LEFT, TO_RIGHT = Point(-1.0, 0.0), Point(1.0, 0.0)
# Under this the armhole, seen from the side, is narrower than any arm, and at 22 mm it begins to
# wave; mm from the across points.
LEAST_HOLLOW = 25.0
# A side seam shorter than this leaves no bodice between armhole and waist, mm.
LEAST_SIDE = 50.0
# Limits are printed so far inside, mm: what is printed does, however it is rounded.
PRINTED_INSIDE = 1.0

NECK_BASE = Rule(
    needs=("neck_girth",),
    find=lambda neck: neck + 40.0,
    says="neck girth and 4 cm (difference of the medians of the 2012 US Army survey)",
)
ACROSS_FRONT = Rule(
    needs=("across_back_width",),
    find=lambda back: back - 20.0,
    says="across back width less 2 cm (from memory of published size tables)",
)


def scye_rule(girth: str) -> Rule:
    """Scye depth from a chest or bust girth and the upper arm."""
    said = girth.replace("_", " ")
    return Rule(
        needs=(girth, "upper_arm_girth"),
        find=lambda chest, arm: ((chest / 12.0 + 137.0) + (arm / 4.0 + 140.0)) / 2.0 - 5.0,
        says=f"mean of a twelfth of {said} and 13.7 cm (from memory), and a quarter of upper arm "
        "girth and 14 cm (US patent 4,899,448), less the 5 mm of ease in them",
    )


@dataclass(frozen=True, slots=True)
class Half:
    """Where the armhole of a front or back runs: its shoulder, half way down, its underarm.

    `side` is the way the side seam leaves the underarm, downward.
    """

    shoulder: Shoulder
    across: Point
    underarm: Point
    side: Point


class Bodice(Block):
    """Common ground of the bodices: measurements, options, neck and armhole.

    The back lies right of its centre line, back neck point at the origin; the front left of its
    own, so that the side seams face each other.
    """

    offers = ("front armhole", "back armhole")

    girth_line: ClassVar[str]
    """What the level line round the body is called."""

    neck_base = measurement("neck_base_girth", estimate=NECK_BASE)
    shoulder_length = measurement("shoulder_length")
    across_back = measurement("across_back_width")
    across_front = measurement("across_front_width", estimate=ACROSS_FRONT)
    back_waist = measurement("back_neck_point_to_waist")
    armscye = optional_measurement("armscye_girth")
    upper_arm = optional_measurement("upper_arm_girth")

    neck_ease = length_option(
        "1 cm",
        low="0 cm",
        high="10 cm",
        says="neck line over the neck base girth; it makes the front neck deeper",
    )
    shoulder_slope = ratio_option(
        20.0, low=8.0, high=32.0,
        says="fall of the shoulder, degrees; the front takes 2 more and the back 2 less",
    )  # fmt: skip
    back_shoulder = choice_option(
        "dart", of=("dart", "ease"),
        says="back shoulder shaped over the blade by a dart, or left 6 mm longer and eased in",
    )  # fmt: skip
    shoulder_dart = auto_length_option(
        auto="1.2 cm, where there is one",
        low="5 mm", high="25 mm", says="intake of the back shoulder dart",
    )  # fmt: skip
    shallower_front = length_option(
        "3 cm", low="-2 cm", high="6 cm", says="front armhole shallower than the back one"
    )
    armhole_notch = ratio_option(
        0.33, low=0.15, high=0.5, says="share of each armhole half from underarm to its notch"
    )

    # -- shoulders ---------------------------------------------------------------------------

    @property
    def neck_width(self) -> float:
        """Half width of the back neck: a fifth of the neck base less 2 mm (from memory)."""
        return self.neck_base / 5.0 - 2.0

    @property
    def back_ease(self) -> float:
        """Ease over half the across back; each bodice has its own rule."""
        raise NotImplementedError

    @property
    def front_neck_width(self) -> float:
        """Half width of the front neck."""
        return self.neck_width - NARROWER_FRONT_NECK

    def back_shoulder_seam(self, length: float) -> Shoulder:
        """The back shoulder that is so long when sewn, its dart open."""
        neck = Point(self.neck_width, self.neck_width * NECK_RISE)
        slope = math.radians(self.shoulder_slope - SEAM_FORWARD)
        if self.back_shoulder == "ease":
            if self.shoulder_dart is not None:
                raise InputError(
                    f"{self.key}: shoulder_dart is set, but the back shoulder is eased; leave it "
                    "out, or set back_shoulder=dart"
                )
            return plain_shoulder(neck, length + EASED_SHOULDER, -slope)
        intake = USUAL_SHOULDER_DART if self.shoulder_dart is None else self.shoulder_dart
        return darted_shoulder(neck, length, slope, intake, SHOULDER_DART_LENGTH)

    def front_shoulder_seam(self, length: float, height: float) -> Shoulder:
        """The front shoulder of that length from a side neck point at that height."""
        slope = math.radians(self.shoulder_slope + SEAM_FORWARD)
        return plain_shoulder(Point(-self.front_neck_width, height), length, math.pi + slope)

    def finished_shoulder(self, d: Draft, underarm: float) -> float:
        """Length of the finished shoulder.

        Shoulder length and the across widths each say where the armhole runs, and on a body they
        seldom agree.  The finished shoulder is the one that leaves the least squares of the three
        differences, so that the armhole is a clean curve; `promise_across` measures what that
        leaves of the widths.  `underarm`: its height, mm.
        Raises InputError where they disagree by more than a garment can hide.
        """
        wanted = self.across_back / 2.0 + self.back_ease, self.across_front / 2.0

        def across(length: float) -> tuple[float, float]:
            back = self.back_shoulder_seam(length)
            front = self.front_shoulder_seam(length, 0.0)
            down = back.tip.y - underarm - self.shallower_front
            return half_way(back, underarm).x, -half_way(front, front.tip.y - down).x

        here, further = across(self.shoulder_length), across(self.shoulder_length + 1.0)
        rates = [b - a for a, b in zip(here, further, strict=True)]
        short = [want - x for want, x in zip(wanted, here, strict=True)]
        pull = sum(rate * step for rate, step in zip(rates, short, strict=True))
        length = self.shoulder_length + pull / (1.0 + sum(rate * rate for rate in rates))
        names = "across_back_width", "across_front_width"
        for name, other, half, rate in zip(names, names[::-1], across(length), rates, strict=True):
            # Where one width is estimated from the other both change together.
            follows = rate * sum(rates) / (1.0 + sum(rate * rate for rate in rates))
            self._check_across(d, name, other, WHOLE_BODY * half, follows)
        if not -SHOULDER_EASE <= length - self.shoulder_length <= SHOULDER_EASE + self.back_ease:
            raise InputError(
                f"{self.key}: shoulder_length {d.say(self.shoulder_length)} does not go with "
                f"across_back_width {d.say(self.across_back)} and across_front_width "
                f"{d.say(self.across_front)}, which ask for {d.say(length)}; measure them again"
            )
        return length

    def _check_across(self, d: Draft, name: str, other: str, found: float, follows: float) -> None:
        """`follows`: how much of a change of the measured width the finished one takes on."""
        measured = self.values[name]
        narrower, wider = ACROSS_EASE
        if found - measured > wider:
            limit = measured + (found - wider - measured) / (1.0 - follows) + PRINTED_INSIDE
            would = f"{d.say(limit)} or more"
        elif found - measured < narrower:
            limit = measured + (found - narrower - measured) / (1.0 - follows) - PRINTED_INSIDE
            would = f"{d.say(limit)} or less"
        else:
            return
        raise InputError(
            f"{self.key}: {name} {d.say(measured)} does not go with {other} "
            f"{d.say(self.values[other])}, shoulder_length {d.say(self.shoulder_length)} and "
            f"neck_base_girth {d.say(self.neck_base)}: with these {would} would; measure them again"
        )

    def check_depth(self, d: Draft, scye_depth: float, scye_ease: float) -> None:
        """InputError when the armhole leaves no side seam above the waist."""
        deepest = self.back_waist - scye_ease - LEAST_SIDE
        if scye_depth > deepest:
            raise InputError(
                f"{self.key}: scye_depth {d.say(scye_depth)} is too deep for "
                f"back_neck_point_to_waist {d.say(self.back_waist)}: "
                f"{d.say(deepest - PRINTED_INSIDE)} or less would do; measure both again, or set "
                "scye_ease"
            )

    def check_armhole(self, d: Draft, hollow: float, name: str, girth: float) -> None:
        """InputError when the widths across leave the girth too little for the arm.

        `hollow`: how far the armhole reaches past the across points, front and back alike.
        """
        if hollow < LEAST_HOLLOW:
            short = 4.0 * (LEAST_HOLLOW - hollow) + PRINTED_INSIDE
            raise InputError(
                f"{self.key}: {name} {d.say(girth)} leaves no room for the arm beside "
                f"across_back_width {d.say(self.across_back)} and across_front_width "
                f"{d.say(self.across_front)}: with these it must be {d.say(girth + short)} or "
                "more; measure them again or give more ease"
            )

    def _promise_armhole(self, d: Draft, armhole: Sequence[Edge]) -> None:
        """The armhole goes round the root of the arm, where the sheet tells how much that is."""
        round_arm = sum(edge.curve.length for edge in armhole)
        for name, girth in (("armscye_girth", self.armscye), ("upper_arm_girth", self.upper_arm)):
            if girth is None:
                continue
            if round_arm < girth:
                # An armhole deeper by so much is longer by about twice that.
                deeper = (girth - round_arm) / 2.0
                raise InputError(
                    f"{self.key}: the armhole comes out {d.say(round_arm)}, less than {name} "
                    f"{d.say(girth)}; check scye_depth, across_back_width and {name}, or set "
                    f"scye_ease some {d.say(deeper)} higher"
                )
            says = name.removesuffix("_girth").replace("_", " ")
            d.girth(
                f"armhole round the {says}", body=girth, ease=(0.0, ROOMIEST_ARMHOLE), runs=armhole
            )

    def promise_across(self, d: Draft, front: Half, back: Half) -> None:
        """The widths half way down the armhole, beside the measured ones."""
        for name, piece, body, half in (
            ("across back", "back", self.across_back, back),
            ("across front", "front", self.across_front, front),
        ):
            level = line(Point(0.0, half.across.y), half.across)
            if half is front:
                level = level.reversed()
            d.girth(
                name, body=body, ease=ACROSS_EASE, levels=[Across(piece, level)], times=WHOLE_BODY
            )

    # -- lines over the shoulder ---------------------------------------------------------------

    def neck_line(self, d: Draft, front: Shoulder, back: Shoulder) -> tuple[Edge, Edge]:
        """Front and back neck: one fair line over the shoulder, as long as the neck asks.

        The front one runs from the centre front to the shoulder, the back one on to the nape.
        """
        lay = Affine.laying(front.neck, front.tip, back.neck, back.beside_neck)
        nape = d.mark("back neck point", Point(0.0, 0.0), "start of the draft", piece="back")
        # A back neck is nearly flat at the nape and rises more and more to the shoulder; the middle
        # of such a line is the mark that keeps the whole one so.
        rising = Point(-1.0, 0.0).turned(FLAT_NAPE * back.neck.angle)
        flat = fair_curve([back.neck, nape], rising, TO_LEFT)
        middle = flat.point_at(flat.length / 2.0)

        def laid(depth: float) -> LaidLine:
            pit = Point(0.0, front.neck.y - depth)
            parts = [Part((pit, front.neck), lay), Part((back.neck, middle, nape))]
            return lay_line(parts, lay.way(TO_LEFT), TO_LEFT)

        target = (self.neck_base + self.neck_ease) / WHOLE_BODY
        depth = d.solve(
            "front neck depth",
            lambda depth: laid(depth).length,
            target=target,
            low=0.4 * self.neck_width,
            high=3.0 * self.neck_width,
            # A neck line is a little longer than half round a circle of the neck width.
            near=(target - 1.5 * self.neck_width, 0.9),
            so_that="the neck line is the neck base girth and its ease",
            goal="half neck line",
            advice="check neck_base_girth, or set neck_ease",
        )
        front_neck, back_neck = laid(depth).curves()
        d.mark("front neck point", front_neck.start, "front neck depth below the side neck point",
               piece="front")  # fmt: skip
        return Edge("front neck", front_neck, "neck"), Edge("back neck", back_neck, "neck")

    def armhole(self, front: Half, back: Half) -> tuple[Edge, Edge]:
        """Front and back armhole: one fair line over the shoulder, square to both side seams.

        The back one runs up from the underarm, the front one down to it.
        """
        over, under = front.shoulder, back.shoulder
        lay = Affine.laying(over.tip, over.neck, under.tip, under.beside_tip)
        parts = [
            Part((back.underarm, *reversed(_hollow(back)), back.across, under.tip)),
            Part((over.tip, front.across, *_hollow(front), front.underarm), lay),
        ]
        up, down = lay_line(parts, -back.side.left(), lay.way(-front.side.left())).curves()
        return Edge("front armhole", down, "armhole"), Edge("back armhole", up, "armhole")

    def notches(self, front: Edge, back: Edge) -> tuple[Notch, Notch]:
        """The notches of the armhole: one on the front, two side by side on the back."""
        up_front, up_back = (self.armhole_notch * edge.curve.length for edge in (front, back))
        return (
            Notch("front notch", front.name, front.curve.length - up_front),
            Notch("back notch", back.name, up_back, count=2),
        )

    # -- pieces ------------------------------------------------------------------------------

    def back_piece(
        self, waist: Sequence[Edge], half: Half, armhole: Edge, neck: Edge, notch: Notch,
        across: Curve, darts: Sequence[Dart] = (),
    ) -> Piece:  # fmt: skip
        """The back, cut on the fold; `waist` with the mouths of its darts, in outline order."""
        shoulder, shoulder_darts = _back_shoulder_edges(half.shoulder)
        side = Edge("back side", line(waist[-1].curve.end, armhole.curve.start))
        middle = Edge("centre back", line(neck.curve.end, waist[0].curve.start), "fold")
        x, low = half.across.x, -self.back_waist
        return Piece(
            "back",
            (*waist, side, armhole, *shoulder, neck, middle),
            grain=(Point(x * 0.15, low * 0.92), Point(x * 0.15, low * 0.3)),
            label_at=Point(x * 0.55, low * 0.36),
            darts=(*darts, *shoulder_darts),
            notches=(notch,),
            guides=(Guide(self.girth_line, across),),
        )

    def front_piece(
        self, waist: Sequence[Edge], half: Half, armhole: Edge, neck: Edge, notch: Notch,
        across: Curve, side: Sequence[Edge], darts: Sequence[Dart] = (),
    ) -> Piece:  # fmt: skip
        """The front, cut on the fold; `waist` and `side` with the mouths of their darts."""
        middle = Edge("centre front", line(waist[-1].curve.end, neck.curve.start), "fold")
        shoulder = Edge("front shoulder", line(neck.curve.end, half.shoulder.tip))
        x, low = half.across.x, -self.back_waist
        return Piece(
            "front",
            (*waist, middle, neck, shoulder, armhole, *side),
            grain=(Point(x * 0.15, low * 0.92), Point(x * 0.15, low * 0.4)),
            label_at=Point(x * 0.5, low * 0.33),
            darts=tuple(darts),
            notches=(notch,),
            guides=(Guide(self.girth_line, across),),
        )

    # -- promises ----------------------------------------------------------------------------

    def promise_seams(self, d: Draft, front: Piece, back: Piece) -> None:
        """Every seam, and every line that runs on over one or over a dart, as sewn."""
        neck, armhole = _named(front, "front neck"), _named(front, "front armhole")
        neck += _named(back, "back neck")
        armhole += _named(back, "back armhole")
        over, under = _named(front, "front shoulder"), _named(back, "back shoulder")
        side, other = _named(front, "front side"), _named(back, "back side")
        waist = _named(back, "back waist"), _named(front, "front waist")
        eased = EASED_SHOULDER if self.back_shoulder == "ease" else 0.0
        d.girth(
            "finished shoulder", body=self.shoulder_length,
            ease=(-SHOULDER_EASE, SHOULDER_EASE + self.back_ease), runs=[over],
        )  # fmt: skip
        d.seam("shoulder", [-edge for edge in reversed(under)], over, ease=eased)
        d.seam("side", side, [-edge for edge in reversed(other)])
        for name, joints in (
            ("neck over the shoulder", ((neck[0], over[0]), (under[-1], neck[1]))),
            ("armhole over the shoulder", ((over[-1], armhole[0]), (armhole[1], under[0]))),
            ("armhole under the arm", ((armhole[0], side[0]), (other[-1], armhole[1]))),
            ("waist over the side seam", ((waist[0][-1], other[0]), (side[-1], waist[1][0]))),
        ):
            d.corner(name, *((a.name, b.name) for a, b in joints))
        for name, run in (
            ("front shoulder", over), ("back shoulder", under), ("side seam", side),
            ("back waist", waist[0]), ("front waist", waist[1]),
        ):  # fmt: skip
            for a, b in pairwise(run):
                d.corner(f"{name} over the dart", (a.name, b.name))
        for name, *joint in (
            ("neck at the centre front", "centre front", neck[0].name),
            ("neck at the centre back", neck[1].name, "centre back"),
            ("waist at the centre back", "centre back", waist[0][0].name),
            ("waist at the centre front", waist[1][-1].name, "centre front"),
        ):
            d.corner(f"{name}, square", (joint[0], joint[1]), angle=90.0)
        self._promise_armhole(d, armhole)
        middle = back.edge("centre back")
        d.girth("centre back", body=self.back_waist, ease=0.0, runs=[middle])
        d.offer("front armhole", -armhole[0])
        d.offer("back armhole", -armhole[1])
        for edge in (*neck, *armhole):
            d.shape(edge.name, edge, bends=0)
        d.girth("neck", body=self.neck_base, ease=self.neck_ease, runs=neck, times=WHOLE_BODY)


def _back_shoulder_edges(shoulder: Shoulder) -> tuple[list[Edge], list[Dart]]:
    """The back shoulder in outline order, tip to neck, with its dart if it has one."""
    dart = shoulder.dart
    if dart is None:
        return [Edge("back shoulder", line(shoulder.tip, shoulder.neck))], []
    outer, inner = line(shoulder.tip, dart.outer), line(dart.inner, shoulder.neck)
    edges = [
        Edge("back shoulder outer", outer),
        Edge("back shoulder dart mouth", roof_between(dart.apex, outer, inner, "end"), "dart"),
        Edge("back shoulder", inner),
    ]
    return edges, [Dart("shoulder dart", dart.apex, edges[1].name, "end", "pressed to the centre")]


def half_way(shoulder: Shoulder, underarm: float) -> Point:
    """The place on an armhole half way down from the tip of its shoulder to the underarm's height.

    An armhole leaves the shoulder square to it and is upright half way down; between, it leans as
    much as half of the shoulder's slope on average.
    """
    down = (shoulder.tip.y - underarm) / 2.0
    run = shoulder.tip - shoulder.beside_tip
    slope = math.atan2(-run.y, abs(run.x))
    inward = math.copysign(down * math.tan(slope / 2.0), run.x)
    return Point(shoulder.tip.x - inward, shoulder.tip.y - down)


def _hollow(half: Half) -> list[Point]:
    """Two places on a quarter of an ellipse from the across point down to the underarm.

    It leaves the one upright and meets the other square to the side seam, so that a narrow armhole
    stays round below and nearly straight above, as an arm is.
    """
    square = half.side.left()
    along = (half.across.x - half.underarm.x) / square.x
    corner = half.underarm + square * along
    down, out = corner - half.across, half.underarm - corner
    return [
        half.across + down * math.sin(turn) + out * (1.0 - math.cos(turn))
        for turn in (math.pi / 6.0, math.pi / 3.0)
    ]


def _named(piece: Piece, prefix: str) -> list[Edge]:
    """The edges that begin with those words, in outline order, without the mouths of darts."""
    return [edge for edge in piece.edges if edge.name.startswith(prefix) and edge.role != "dart"]
