"""What is refused by name: slips of the tape, what contradicts itself, what nobody could sew.

The limits of shape lie round what the published drafts of the tests and the bodies of the US Army
survey of 2012 come to, which is said beside each; how far beyond is common practice, no source.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass

from blockwright import (
    Draft,
    FairSpline,
    GeometryError,
    InputError,
    LengthOption,
    Piece,
    Point,
    distance,
)
from blockwright_trousers.draw import HipLine, Levels
from blockwright_trousers.fork import Crotch, Fork
from blockwright_trousers.half import BACK, FRONT, Leg, at_level, bends, curving, ways
from blockwright_trousers.seat import USUAL_RISE, Rise, Seat
from blockwright_trousers.waist import Closed, Sewn

# Knee and hem, mm; 1.3 cm each side of both halves between them, as published.
KNEE_EASE = 25.0
KNEE_OVER_HEM = 52.0
# Heel and instep pass at four thirds of the ankle girth; common practice, no source.
HEM_OVER_ANKLE = 4.0 / 3.0
# Hips under nine tenths of the waist, more than so far below the crotch line, or a knee nearer to
# it, are slips of the tape; mm.
LEAST_HIP = 0.9
LOWEST_HIP = 50.0
LEAST_THIGH = 50.0
# A leg wider than the thigh by so much is a skirt; mm.
MOST_THIGH_EASE = 400.0
# A rise taken sitting is some 3 cm more than the difference of the two legs, standing, and an
# outside leg goes over the hip: they may disagree by so much, mm.  Common practice, no source.
MOST_DISAGREEING = 50.0
# A leg leans out so much at most below the knee, and under the fork, degrees: more is a flared
# block.
WIDEST_FLARE, WIDEST_THIGH = 15.0, 5.0

Range = tuple[float, float]
# Shares of the front in hip (survey 0.48 to 0.49, published 0.47 and 0.48) and waist (survey 0.50
# to 0.56).
FRONT_OF_HIP: Range = (0.42, 0.54)
FRONT_OF_WAIST: Range = (0.40, 0.62)
# Share of the front in the leg below the fork (survey 0.43 to 0.47): the back is not narrower.
FRONT_OF_THIGH: Range = (0.40, 0.50)
# Back fork to front fork (survey 1.8 to 2.0, published 1.9 and 2.0), and both to the hip girth
# (survey 0.17 to 0.25, published 0.19 and 0.25).
BACK_TO_FRONT_FORK: Range = (1.2, 2.6)
FORKS_OF_HIP: Range = (0.15, 0.30)
# Off the middle between side and fork, of that width, the crease lies so far to the side at most;
# it lies in the middle on both published fronts (survey: front 0.03, back 0.12).
CREASE_OFF: dict[str, Range] = {"front": (-0.12, 0.15), "back": (-0.12, 0.22)}
# Slope of the waist from the side up to the centre, degrees (survey: front -2.6 to 4.5, back 0 to
# 18.8, two bodies over 18; a published seat slope is 15).
SLOPES: dict[str, Range] = {"front": (-8.0, 8.0), "back": (-2.0, 18.0)}
# Corners at the tips of the forks, degrees (survey 73 to 107); sewn they make 180.
TIPS: Range = (70.0, 110.0)
# The inside leg leans out to the fork by so much at most, degrees (survey 37).
WIDEST_LEAN = 45.0
# A side seam leans in or out by so much at most above the knee, degrees (survey 35).
WIDEST_SIDE = 40.0
# How much more one side seam leans in, hip to waist, than the other, degrees (survey -16 to 13).
SIDES_APART: Range = (-17.0, 17.0)

# A value this little beyond a limit is on it: above rounding, below anything seen.
ROUNDING = 1e-6

# By how much a curved seam, or one that leans, is longer at most than the leg it runs down, mm
# (survey 18).
LONGER_THAN_PLUMB = 50.0

# What results from what, when all of it is given.
RESULTS: dict[str, tuple[str, ...]] = {
    "crotch_ease": ("crotch_depth",),
    "seat_ease": ("back_fork", "back_rise"),
    "hip_ease": ("front_hip", "back_hip"),
    "inside_leg_stretch": ("back_drop",),
}

# A message names no more than the first so many measurements, and options that are not given.
MOST_MEASURED, MOST_OPTIONS = 5, 4

Names = tuple[str, ...]
FORKS: Names = ("front_fork", "back_fork", "back_rise", "crease_to_fork")
DEPTHS: Names = ("crotch_depth", "crotch_ease")
SEAT: Names = ("seat_ease", *DEPTHS, *FORKS, "seat_slant", "seat_curve_from", "front_rise")
CURVES: Names = ("front_curve", "back_curve", "front_in")
LEGS: Names = ("knee_width", "hem_width", "back_wider", "leg_length")
INSIDE: Names = ("front_hollow", "back_hollow", "back_drop", "inside_leg_stretch", *LEGS)
HIPS: Names = ("front_hip", "back_hip", "hip_ease", "hip_shift")
WAISTS: Names = ("front_waist", "waist_ease", "front_in", "seat_slant", "back_rise", "front_rise")
DARTS: Names = tuple(
    f"{half}_{what}"
    for half in ("front", "back")
    for what in ("darts", "dart_intake", "dart_length")
)
OF_SEAT: Names = ("total_crotch_length", "body_rise", "hip_girth")
OF_LEG: Names = ("thigh_girth", "knee_girth", "knee_height", "outside_leg_length", "body_rise")
OF_WAIST: Names = ("waist_girth", "hip_girth", "waist_to_hip")


@dataclass(frozen=True, slots=True)
class Look:
    """One thing looked at: what it is, what was found, and between what it may lie.

    Lengths, mm, or angles, degrees; `options` and `measurements` are what it hangs on.
    """

    says: str
    found: float
    allowed: Range
    options: Names
    measurements: Names
    angle: bool = False

    @property
    def passed(self) -> bool:
        """Whether it lies where it may."""
        low, high = self.allowed
        return low - ROUNDING <= self.found <= high + ROUNDING


class Checked(Seat):
    """Trousers that refuse, by name, what cannot be drawn, worn or sewn."""

    # -- messages ----------------------------------------------------------------------------

    def advice(self, d: Draft, options: Sequence[str], measurements: Sequence[str]) -> str:
        """What to do: about the options that are given, else the first few, and measurements."""
        declared = {option.name: option for option in self.options()}
        given = [
            f"{name} ({declared[name].shown(self.values[name], d.unit)})"
            for name in dict.fromkeys(options)
            if self.values[name] != declared[name].default
        ]
        first = list(dict.fromkeys(measurements))[:MOST_MEASURED]
        measured = [f"{name} ({d.say(self.values[name])})" for name in first]
        again = f"measure {_listed(measured, 'and')} again"
        if given:
            return f"give {_listed(given, 'or')} another value, or leave it out; or {again}"
        return f"{again}, or set {_listed(list(dict.fromkeys(options))[:MOST_OPTIONS], 'or')}"

    def refusal(
        self, d: Draft, says: str, options: Sequence[str], measurements: Sequence[str]
    ) -> InputError:
        """One line: what is wrong, what it hangs on, what to do."""
        return InputError(f"{self.key}: {says}; {self.advice(d, options, measurements)}")

    @contextmanager
    def drawing(
        self, d: Draft, what: str, options: Sequence[str], measurements: Sequence[str]
    ) -> Iterator[None]:
        """Where nothing can be drawn, say what and what it hangs on."""
        try:
            yield
        except GeometryError as error:
            says = f"{what} cannot be drawn from these values"
            raise self.refusal(d, says, options, measurements) from error

    def look(self, d: Draft, looks: Sequence[Look]) -> None:
        """Refuse the first that lies outside what it may."""
        for each in looks:
            if not each.passed:
                found, low, high = (
                    f"{value:.0f}°" if each.angle else d.say(value)
                    for value in (each.found, *each.allowed)
                )
                between = f"{low} to {high}" if math.isfinite(each.allowed[0]) else f"up to {high}"
                fault = f"{each.says} is {found}; it may be {between}"
                raise self.refusal(d, fault, each.options, each.measurements)

    # -- before anything is drawn ------------------------------------------------------------

    @property
    def knee_around(self) -> float:
        """Finished width at the knee."""
        usual = (self.thigh + self.knee_girth) / 2.0 + KNEE_EASE
        return usual if self.knee_width is None else self.knee_width

    @property
    def hem_around(self) -> float:
        """Finished width at the hem."""
        return self.knee_around - KNEE_OVER_HEM if self.hem_width is None else self.hem_width

    @property
    def inside(self) -> float:
        """Inside leg to the floor: as measured, or the outside one less the rise."""
        return self.outside_leg - self.rise if self.inside_leg is None else self.inside_leg

    def check(self, d: Draft) -> None:
        """Refuse what contradicts itself before anything is drawn."""
        if 4.0 * self.hip_quarter < LEAST_HIP * self.waist:
            raise InputError(
                f"{self.key}: hip_girth {d.say(self.hip)} with its ease is less than nine tenths "
                f"of waist_girth {d.say(self.waist)}; measure both again, or set hip_ease"
            )
        for result, given in RESULTS.items():
            if all(self.values[name] is not None for name in (result, *given)):
                raise InputError(
                    f"{self.key}: {result} results from {' and '.join(given)}; leave one out"
                )
        self._check_rise(d)
        at = self.levels(Rise(USUAL_RISE))
        self._check_result(d, Seat.crotch_ease, -at.crotch - self.rise)
        self.check_levels(d, at)
        self._check_knee(d, at)
        self._check_hem(d, at)
        half = self.front_net + self.back_net
        options: Names = ("front_waist", "waist_ease")
        says = f"the front waist, of {d.say(half)} with the back,"
        look = Look(says, self.front_net, _times(half, FRONT_OF_WAIST), options, ("waist_girth",))
        self.look(d, [look])

    def _check_rise(self, d: Draft) -> None:
        """Refuse legs and rise that do not agree."""
        if self.inside_leg is None:
            return
        legs = self.outside_leg - self.inside_leg
        if abs(legs - self.rise) > MOST_DISAGREEING:
            raise InputError(
                f"{self.key}: outside_leg_length {d.say(self.outside_leg)} less inside_leg_height "
                f"{d.say(self.inside_leg)} is {d.say(legs)}, and body_rise is {d.say(self.rise)}; "
                f"they may differ by {d.say(MOST_DISAGREEING)}: measure all three again"
            )

    def check_levels(self, d: Draft, at: Levels) -> None:
        """Refuse lines in an order no body has."""
        if self.waist_to_hip > LOWEST_HIP - at.crotch:
            says = (
                f"the hips lie more than {d.say(LOWEST_HIP)} below the crotch line at "
                f"{d.say(-at.crotch)}"
            )
            raise self.refusal(d, says, DEPTHS, ("waist_to_hip", "body_rise"))
        if not at.hem < at.knee < at.crotch - LEAST_THIGH:
            says = (
                f"the knee at {d.say(-at.knee)} below the waist (outside_leg_length less "
                f"knee_height) is not between the crotch line at {d.say(-at.crotch)} and the hem "
                f"at {d.say(-at.hem)}"
            )
            measurements = ("knee_height", "outside_leg_length", "body_rise")
            raise self.refusal(d, says, ("leg_length", *DEPTHS), measurements)

    def _check_knee(self, d: Draft, at: Levels) -> None:
        """Refuse a knee narrower than the body's, or wider than the leg above it."""
        if self.knee_around < self.knee_girth and self.knee_width is None:
            raise InputError(
                f"{self.key}: thigh_girth {d.say(self.thigh)} and knee_girth "
                f"{d.say(self.knee_girth)} make the knee {d.say(self.knee_around)} wide, less than "
                "knee_girth; measure both again, or set knee_width"
            )
        if self.knee_around < self.knee_girth:
            raise InputError(
                f"{self.key}: a knee_width of {d.say(self.knee_around)} is less than knee_girth "
                f"{d.say(self.knee_girth)}; give a wider one, or leave it out"
            )
        widest = 4.0 * (self.upright + self.usual_fork + _spread(at.crotch - at.knee, WIDEST_THIGH))
        if self.knee_around > widest:
            says = (
                f"a knee_width of {d.say(self.knee_around)} is wider than the leg at its fork; it "
                f"may be {d.say(widest)}"
            )
            options = ("knee_width", "crease_to_fork", "front_fork")
            raise self.refusal(d, says, options, ("hip_girth", "thigh_girth", "knee_girth"))

    def _check_hem(self, d: Draft, at: Levels) -> None:
        """Refuse a hem the foot cannot pass, or one that flares or tapers like a funnel."""
        least = HEM_OVER_ANKLE * self.ankle
        width = f"hem_width {d.say(self.hem_around)}"
        if self.hem_width is None:
            width += f" (knee_width less {d.say(KNEE_OVER_HEM)})"
        if self.hem_around < least:
            raise InputError(
                f"{self.key}: the foot does not pass through {width}: with ankle_girth "
                f"{d.say(self.ankle)} it needs {d.say(least)}, four thirds of it; give a wider "
                "hem_width, or measure ankle_girth again"
            )
        more = 4.0 * _spread(at.knee - at.hem, WIDEST_FLARE)
        if abs(self.hem_around - self.knee_around) > more:
            low, high = max(self.knee_around - more, least), self.knee_around + more
            shin = d.say(at.knee - at.hem)
            says = (
                f"{width} against a knee_width of {d.say(self.knee_around)}, {shin} above, leans "
                f"by more than {WIDEST_FLARE:.0f}°; it may be {d.say(low)} to {d.say(high)}"
            )
            raise self.refusal(d, says, ("hem_width", "knee_width", "leg_length"), OF_LEG)

    # -- when a part is found ----------------------------------------------------------------

    def check_fork(self, d: Draft, fork: Fork) -> None:
        """Refuse forks, seat and inside legs that nobody could sew."""
        front, back = _fork_width(fork.front), _fork_width(fork.back)
        curved = fork.curved
        options = (*FORKS, "seat_ease", *DEPTHS)
        looks = [
            Look(f"the back fork beside a front fork of {d.say(front)}", back,
                 _times(front, BACK_TO_FRONT_FORK), options, OF_SEAT),
            Look("the length of both forks", front + back, _times(self.hip, FORKS_OF_HIP),
                 options, OF_SEAT),
            Look("the slope of the back waist from side to centre", _slope(fork.back),
                 SLOPES["back"], ("seat_slant", *options), OF_SEAT, angle=True),
            Look("the slope of the front waist from side to centre", _slope(fork.front),
                 SLOPES["front"], ("front_in", "front_rise"), OF_WAIST, angle=True),
        ]  # fmt: skip
        legs = ((FRONT, fork.front_leg), (BACK, fork.back_leg))
        for half, leg in legs:
            lean = max(math.degrees(math.atan2(-half.reach(way), -way.y)) for way in ways(leg))
            looks.append(
                Look(f"the lean of the {half.name} inside leg below the fork", lean,
                     (-math.inf, WIDEST_LEAN), (f"{half.name}_hollow", *INSIDE, *options),
                     (*OF_SEAT, *OF_LEG), angle=True)
            )  # fmt: skip
        looks.append(
            Look("the corner at the tip of the front fork", _tip(fork, curved), TIPS,
                 (*CURVES, *INSIDE, *options), (*OF_SEAT, *OF_LEG), angle=True)
        )  # fmt: skip
        self.look(d, looks)
        self._check_bends(d, fork, curved)

    def _check_bends(self, d: Draft, fork: Fork, curved: FairSpline) -> None:
        """Refuse inside legs and crotch curves that are not hollow throughout."""
        seat = curving(curved)
        parted = 2 * len(fork.front.mark) + 2
        for half, leg, crotch in (
            ("front", fork.front_leg, seat[:parted]),
            ("back", fork.back_leg, seat[parted:]),
        ):
            for what, turning, options, measurements in (
                ("inside leg", curving(leg), (f"{half}_hollow", *INSIDE, *FORKS), OF_LEG),
                ("crotch curve", crotch, (*CURVES, *SEAT, *INSIDE), OF_SEAT),
            ):
                if bends(turning):
                    says = f"the {half} {what} would change from hollow to full"
                    raise self.refusal(d, says, options, measurements)
        if bends(seat):
            says = "the crotch curve would change from hollow to full at the fork"
            raise self.refusal(d, says, (*SEAT, *INSIDE), OF_SEAT)

    def check_hips(self, d: Draft, fork: Fork, hips: tuple[HipLine, HipLine]) -> None:
        """Refuse a front or back that takes too much of the hip, and a crease at one side."""
        cloth = hips[0].cloth + hips[1].cloth
        says = f"the front at the hip line, of {d.say(cloth)} with the back,"
        allowed = _times(cloth, FRONT_OF_HIP)
        looks = [Look(says, hips[0].cloth, allowed, (*HIPS, *FORKS), ("hip_girth",))]
        for hip, crotch in zip(hips, (fork.front, fork.back), strict=True):
            half = crotch.half
            inner, outer = half.reach(crotch.tip), -half.reach(hip.side)
            says = f"the {half.name} crease, toward the side from the middle of hip and fork,"
            allowed = _times(inner + outer, CREASE_OFF[half.name])
            off = (inner - outer) / 2.0
            looks.append(Look(says, off, allowed, (*FORKS, *HIPS), ("hip_girth",)))
        self.look(d, looks)

    def check_sides(self, d: Draft, sewn: Sewn) -> None:
        """Refuse side seams that do not lie on each other, and darts below the hip line."""
        apart = _lean_in(sewn.front) - _lean_in(sewn.back)
        says = "how much more the front side seam leans in above the hip than the back one"
        options = (*WAISTS, *HIPS, *DARTS)
        looks = [Look(says, apart, SIDES_APART, options, OF_WAIST, angle=True)]
        for closed in (sewn.front, sewn.back):
            half = closed.top.half
            lean = max(
                abs(math.degrees(math.atan2(way.x, -way.y))) for way in ways(closed.side_seam)
            )
            says = f"the lean of the {half.name} side seam above the knee"
            allowed = (0.0, WIDEST_SIDE)
            looks.append(Look(says, lean, allowed, (*options, *LEGS), OF_WAIST, angle=True))
        self.look(d, looks)
        for closed in (sewn.front, sewn.back):
            if min((apex.y for apex in closed.apexes), default=0.0) < closed.top.hip.y:
                name = closed.top.half.name
                options = (f"{name}_dart_length", f"{name}_darts", *WAISTS)
                says = f"a {name} dart ends below the hip line"
                raise self.refusal(d, says, options, OF_WAIST)

    def check_lengths(self, d: Draft, at: Levels, leg: Leg, fork: Fork, sewn: Sewn) -> None:
        """Refuse seams that wander; `leg`: the front one."""
        lower = distance(leg.place("knee", 1.0), leg.place("hem", 1.0))
        for name, upper, plumb in (
            ("side seam", sewn.front.side_seam.length, -at.hem),
            ("inside leg", fork.front_leg.length, at.crotch - at.hem),
        ):
            says = f"how much longer the {name} is than the leg it runs down"
            options = (*HIPS, *WAISTS, *FORKS, *INSIDE)
            allowed = (0.0, LONGER_THAN_PLUMB)
            self.look(d, [Look(says, upper + lower - plumb, allowed, options, OF_LEG)])

    def check_results(
        self, d: Draft, fork: Fork, seat: float, hips: tuple[HipLine, HipLine]
    ) -> None:
        """Refuse what results from options given if it could not have been asked for.

        `seat`: length of the seat seam, mm.
        """
        found: tuple[tuple[LengthOption[float | None], float], ...] = (
            (Seat.seat_ease, seat - self.total_crotch),
            (Seat.hip_ease, 2.0 * (hips[0].cloth + hips[1].cloth) - self.hip),
            (Seat.inside_leg_stretch, fork.stretch),
        )
        for option, value in found:
            self._check_result(d, option, value)

    def _check_result(self, d: Draft, option: LengthOption[float | None], value: float) -> None:
        given = RESULTS[option.name]
        if any(self.values[name] is None for name in given) or option.low <= value <= option.high:
            return
        make = "make" if len(given) > 1 else "makes"
        raise InputError(
            f"{self.key}: {' and '.join(given)} as given {make} {option.name} {d.say(value)}; it "
            f"may be {d.say(option.low)} to {d.say(option.high)}: give other values, or leave "
            f"{given[-1]} out"
        )

    def check_thigh(self, d: Draft, front: float, back: float) -> None:
        """Refuse a leg too narrow or too wide for the thigh, or with more of it in front."""
        if front + back < self.thigh + self.thigh_ease:
            raise InputError(
                f"{self.key}: the leg is {d.say(front + back)} wide below the fork, less than "
                f"thigh_girth {d.say(self.thigh)} and thigh_ease {d.say(self.thigh_ease)}; measure "
                "thigh_girth and hip_girth again, or set hip_ease or thigh_ease"
            )
        if front + back > self.thigh + MOST_THIGH_EASE:
            says = (
                f"the leg is {d.say(front + back)} wide below the fork, more than "
                f"{d.say(MOST_THIGH_EASE)} over the thigh"
            )
            raise self.refusal(d, says, (*HIPS, *FORKS), ("thigh_girth", "hip_girth"))
        says = f"the front below the fork, of {d.say(front + back)} with the back,"
        allowed = _times(front + back, FRONT_OF_THIGH)
        self.look(d, [Look(says, front, allowed, (*FORKS, *HIPS, *INSIDE), OF_SEAT)])


def thigh(piece: Piece, y: float) -> float:
    """Width of the leg of a half at a height below its fork, mm."""
    inside, side = (
        at_level(piece.edge(f"{piece.name} {seam}").curve, y) for seam in ("inside leg", "side")
    )
    return distance(inside, side)


def _listed(names: Sequence[str], last: str) -> str:
    """Names with commas between, and a word before the last."""
    *most, end = names
    return f"{', '.join(most)} {last} {end}" if most else end


def _times(whole: float, shares: Range) -> Range:
    low, high = shares
    return whole * low, whole * high


def _spread(drop: float, degrees: float) -> float:
    """How far a seam that leans so much goes out on its way down, mm."""
    return drop * math.tan(math.radians(degrees))


def _fork_width(crotch: Crotch) -> float:
    return crotch.half.reach(crotch.tip) - crotch.half.reach(crotch.start)


def _slope(crotch: Crotch) -> float:
    """How steeply the waist, square to the centre, falls to the side there, degrees."""
    square = crotch.square
    return math.degrees(math.atan2(-square.y, -crotch.half.reach(square)))


def _tip(fork: Fork, curved: FairSpline) -> float:
    """The corner at the tip of the front fork, degrees, for the curved part of the seat seam."""
    down = ways(curved)[2 * len(fork.front.mark) + 1]
    leg = ways(fork.front_leg)[0]
    return math.degrees(math.atan2((-down).cross(leg), (-down).dot(leg)))


def _lean_in(closed: Closed) -> float:
    """How much a side seam leans in from hip to waist, degrees."""
    half = closed.top.half
    up: Point = closed.side - closed.top.hip
    return math.degrees(math.atan2(half.reach(up), up.y))
