"""What every sleeve here has in common: armhole, cap, and which of three values is solved."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cache
from typing import ClassVar

from blockwright import (
    Block,
    Draft,
    Edge,
    Given,
    InputError,
    LengthOption,
    Mark,
    Notch,
    Note,
    PatternError,
    Point,
    Rule,
    Stretch,
    Taken,
    auto_length_option,
    measurement,
    ratio_option,
)
from blockwright_sleeve.cap import (
    BACK_SHARES,
    CROWN,
    FRONT_SHARES,
    Cap,
    Half,
    Taper,
    flared,
    lay_cap,
    taper,
)

# Radians: seams that lean outward more than 15 degrees make the ends of the cap dip by more than
# a millimetre or so, which is no longer a line that a bicep can be measured on.
MOST_FLARE = math.radians(15.0)
# Radians: how much steeper the guides of the cap are than the line square to a tapered seam, along
# which the cap ends.  With less than a degree nothing is left to hollow (measured on 8000 random
# bodies: the cap bends the wrong way under 0.6 of a degree, never over it).
LEAST_RISE = math.radians(1.0)
# A flatter cap than a tenth of the bicep is a straight edge; a higher one than this has guides
# over 52 degrees, on which the marks make it overhang where the armhole's halves are uneven.
FLATTEST, HIGHEST = 0.1, 0.65
# A smaller half of an armhole than a third of it leaves its half of the cap too steep to be drawn.
LEAST_HALF = 1.0 / 3.0
# Degrees: a slope of 1 mm over the 2 cm where the shoulder seam meets the cap.
LEVEL_AT_CROWN = 3.0
# Millimetres; an inch is the least that textbooks give, and the tests name which.
USUAL_CAP_EASE = 25.0
USUAL_BICEP_EASE = 50.0
# An armhole is cut this much larger than the armscye, its back half this much longer than its
# front one.  Common practice, no source.
ARMHOLE_EASE = 20.0
LONGER_BACK = 12.0
# What a bodice offers to its sleeve: front armhole from underarm to shoulder, back one from there.
FRONT, BACK = "front armhole", "back armhole"


def _armhole_half(other: str, share: float) -> tuple[Rule, Rule]:
    """What the measured half leaves of the armhole, or else a little more or less than half."""
    sign = "more" if share > 0 else "less"
    return (
        Rule(
            needs=("armscye_girth", other),
            find=lambda girth, measured: girth + ARMHOLE_EASE - measured,
            says=f"armscye girth and 2 cm ease, less {other} (common practice, no source)",
        ),
        Rule(
            needs=("armscye_girth",),
            find=lambda girth: (girth + ARMHOLE_EASE) / 2.0 + share * LONGER_BACK / 2.0,
            says="half of armscye girth and 2 cm ease, 6 mm "
            f"{sign} (back longer by 12 mm; common practice, no source)",
        ),
    )


# What the lower marks are shares of; see the cap.
TAPERED = ", or of the crown's height over the line square to a tapered underarm seam"


def _mark(side: str, place: str, share: float) -> LengthOption[float | None]:
    way = "out from it" if share > 0 else "out from it; negative, as it usually is, in"
    return auto_length_option(
        auto=f"{abs(share):g} of the cap height" + (TAPERED if share < 0.0 else ""),
        low="-5 cm" if share < 0 else "-1 cm",
        high="1 cm" if share < 0 else "6 cm",
        says=f"{side} cap mark {place} of the way from crown to underarm: how far it lies off the "
        f"straight line between them, {way}",
    )


@dataclass(frozen=True, slots=True)
class CapPlan:
    """The three values that must agree, mm, and the cap they give."""

    bicep: float
    height: float
    ease: float
    cap: Cap


class Sleeve(Block):
    """Common ground of the sleeves: measurements, options and the solved cap."""

    hem_option: ClassVar[str]
    """Which option sets the width of the hem."""

    upper_arm = measurement("upper_arm_girth")
    wrist = measurement("wrist_girth")
    arm_length = measurement("outer_arm_length")
    front_armhole = measurement(
        "front_armhole_length", estimate=_armhole_half("back_armhole_length", -1.0), taken=FRONT
    )
    back_armhole = measurement(
        "back_armhole_length", estimate=_armhole_half("front_armhole_length", 1.0), taken=BACK
    )

    bicep_ease = auto_length_option(
        auto="5 cm, unless the bicep width is given or solved",
        low="0 cm", high="20 cm", says="bicep width over the upper arm girth",
    )  # fmt: skip
    bicep_width = auto_length_option(
        auto="upper arm girth and bicep ease; solved when cap_height and cap_ease are given",
        low="10 cm", high="90 cm", says="width of the sleeve at the underarm",
    )  # fmt: skip
    cap_height = auto_length_option(
        auto="solved for the cap ease", low="2 cm", high="40 cm",
        says="height of the crown over the bicep line",
    )  # fmt: skip
    cap_ease = auto_length_option(
        auto="2.5 cm; solved when cap_height is given and cap_ease is not",
        low="0 cm", high="8 cm", says="cap longer than armhole, all of it above the notches",
    )  # fmt: skip
    front_ease_share = ratio_option(
        0.5, low=0.3, high=0.7, says="share of the cap ease that lies before the crown"
    )
    front_upper = _mark("front", "a quarter", FRONT_SHARES[0])
    front_middle = _mark("front", "half", FRONT_SHARES[1])
    front_lower = _mark("front", "three quarters", FRONT_SHARES[2])
    back_upper = _mark("back", "a quarter", BACK_SHARES[0])
    back_middle = _mark("back", "half", BACK_SHARES[1])
    back_lower = _mark("back", "three quarters", BACK_SHARES[2])
    notch_height = ratio_option(
        0.33, low=0.15, high=0.5, says="share of each armhole half from underarm to its notch"
    )
    sleeve_length = auto_length_option(
        auto="outer arm length", low="10 cm", high="120 cm", says="crown to hem"
    )

    # -- values ------------------------------------------------------------------------------

    @property
    def armhole(self) -> float:
        """Whole armhole on the seam line."""
        return self.front_armhole + self.back_armhole

    @property
    def length(self) -> float:
        """Crown to hem."""
        return self.arm_length if self.sleeve_length is None else self.sleeve_length

    def hem_width(self, bicep: float) -> float:
        """Width of the finished hem for a bicep width; each sleeve has its own rule."""
        raise NotImplementedError

    # -- the cap -----------------------------------------------------------------------------

    def taper(self, bicep: float, height: float) -> Taper:
        """The plain taper below a cap."""
        return taper(bicep, self.hem_width(bicep), self.length - height)

    def cap(self, bicep: float, height: float, ease: float) -> Cap:
        """The cap for these values."""
        longer_back = (
            self.back_armhole - self.front_armhole + (1 - 2 * self.front_ease_share) * ease
        )
        front = Half(self.front_upper, self.front_middle, self.front_lower)
        back = Half(self.back_upper, self.back_middle, self.back_lower)
        return lay_cap(bicep, height, longer_back, self.taper(bicep, height).lean, front, back)

    def plan(self, d: Draft) -> CapPlan:
        """Of bicep width, cap height and cap ease keep two and solve the third."""
        self._check_options()
        self._check_halves(d)
        bicep = self.bicep_width
        if bicep is None:
            eased = USUAL_BICEP_EASE if self.bicep_ease is None else self.bicep_ease
            bicep = self.upper_arm + eased
        ease = USUAL_CAP_EASE if self.cap_ease is None else self.cap_ease
        if not self._solves_bicep:
            self._check_bicep(d, bicep, "give a wider bicep_width")
        if self.cap_height is None:
            plan = self._solve_height(d, bicep, ease)
        elif self.cap_ease is None:
            plan = self._solve_ease(d, bicep, self.cap_height)
        else:
            plan = self._solve_bicep(d, self.cap_height, ease)
        self._check_bicep(d, plan.bicep, "give a lower cap_height")
        self._check_lean(d, plan)
        self._check_marks(d, plan.cap)
        return plan

    @property
    def _solves_bicep(self) -> bool:
        return self.cap_height is not None and self.cap_ease is not None

    @property
    def _solves_ease(self) -> bool:
        return self.cap_height is not None and self.cap_ease is None

    def _check_options(self) -> None:
        """No option is given that another one leaves without effect."""
        self.refuse_together("bicep_width", "bicep_ease")
        for width in ("bicep_width", "bicep_ease"):
            self.refuse_together(width, "cap_height", "cap_ease", then=" and it is solved")

    def refuse_together(self, *names: str, then: str = "") -> None:
        """InputError if all of these options are given; `then` says what leaving one out does."""
        if all(self.values[name] is not None for name in names):
            every = "both" if len(names) == 2 else "all"
            raise InputError(
                f"{self.key}: {', '.join(names[:-1])} and {names[-1]} are {every} given; "
                f"leave one out{then}"
            )

    def _check_halves(self, d: Draft) -> None:
        front, back = self.front_armhole, self.back_armhole
        if min(front, back) < LEAST_HALF * (front + back):
            raise InputError(
                f"{self.key}: front_armhole_length {d.say(front)} and back_armhole_length "
                f"{d.say(back)} are too unlike for one cap, which needs a third of the armhole on "
                "either side; check them and armscye_girth"
            )

    def _check_bicep(self, d: Draft, bicep: float, advice: str) -> None:
        if bicep < self.upper_arm:
            raise InputError(
                f"{self.key}: a bicep width of {d.say(bicep)} is less than upper_arm_girth "
                f"{d.say(self.upper_arm)}; {advice}"
            )

    def _likely_lean(self, bicep: float) -> float:
        """About how far the seams lean; between halves of a radian, as a guess may be."""
        fall = 2.0 * max(self.length - 0.4 * bicep, 0.2 * bicep)
        return min(max((bicep - self.hem_width(bicep)) / fall, -0.5), 0.5)

    def _solve_height(self, d: Draft, bicep: float, ease: float) -> CapPlan:
        cap = cache(lambda height: self.cap(bicep, height, ease))
        of_arm, width = ("upper_arm_girth, ", "bicep_ease")
        if self.bicep_width is not None:
            of_arm, width = "", "bicep_width"
        height = d.solve(
            "cap height",
            lambda height: cap(height).spline.length,
            target=self.armhole + ease,
            low=FLATTEST * bicep,
            high=min(HIGHEST * bicep, 0.9 * self.length),
            near=_likely_height(bicep, self.armhole + ease, self._likely_lean(bicep)),
            so_that="the cap is the armhole and its ease",
            goal="cap ease",
            offset=self.armhole,
            advice=f"armhole {d.say(self.armhole)} against bicep width {d.say(bicep)} and "
            f"sleeve length {d.say(self.length)}: check {of_arm}the armhole and "
            f"outer_arm_length on the sheet, or set {width}, cap_ease or sleeve_length",
        )
        return CapPlan(bicep, height, ease, cap(height))

    def _solve_bicep(self, d: Draft, height: float, ease: float) -> CapPlan:
        cap = cache(lambda bicep: self.cap(bicep, height, ease))
        bicep = d.solve(
            "bicep width",
            lambda bicep: cap(bicep).spline.length,
            target=self.armhole + ease,
            low=height / HIGHEST,
            high=height / FLATTEST,
            so_that="the cap is the armhole and its ease",
            goal="cap ease",
            offset=self.armhole,
            advice=f"armhole {d.say(self.armhole)}: set another cap_height or cap_ease",
        )
        return CapPlan(bicep, height, ease, cap(bicep))

    def _solve_ease(self, d: Draft, bicep: float, height: float) -> CapPlan:
        """The ease that bicep and height leave; unevenly shared, it moves the crown a little."""
        cap = cache(lambda ease: self.cap(bicep, height, ease))
        allowed = type(self).cap_ease
        about = cap(USUAL_CAP_EASE).spline.length - self.armhole
        if not allowed.low <= about <= allowed.high:
            span = f"{d.say(allowed.low)} to {d.say(allowed.high)}"
            raise InputError(
                f"{self.key}: this cap_height gives a cap ease of {d.say(about)}; give a "
                f"cap_height or bicep_width that makes it {span}"
            )
        ease = d.solve(
            "cap ease",
            lambda ease: cap(ease).spline.length - ease,
            target=self.armhole,
            low=allowed.low,
            high=allowed.high,
            near=(about, -1.0),
            so_that="the cap is as high as asked",
            goal="armhole",
            advice="set another cap_height or bicep_width",
        )
        return CapPlan(bicep, height, ease, cap(ease))

    def _check_lean(self, d: Draft, plan: CapPlan) -> None:
        """Seams lean neither out so far nor in so far that the cap cannot end square to them.

        Where they flare, its ends dip below the bicep line; where they taper, it ends along a line
        that rises to the crown, and needs the crown above that.
        """
        hem, drop = self.hem_width(plan.bicep), self.length - plan.height
        widest = flared(plan.bicep, MOST_FLARE, drop)
        if hem > widest:
            raise InputError(
                f"{self.key}: {self.hem_option} {d.say(hem)} flares the sleeve so far that the "
                "ends of its cap dip below the bicep line; give a "
                f"{self.hem_option} of {d.say(widest)} or less, or a longer sleeve_length"
            )
        slope = math.atan2(plan.height, plan.bicep / 2.0 + abs(plan.cap.places[CROWN].x))
        if slope - self.taper(plan.bicep, plan.height).lean < LEAST_RISE:
            raise InputError(
                f"{self.key}: from bicep width {d.say(plan.bicep)} to {self.hem_option} "
                f"{d.say(hem)} the sleeve tapers as steeply as its cap of {d.say(plan.height)} "
                "rises, which leaves the cap no hollow; give a wider "
                f"{self.hem_option}, a narrower bicep or a longer sleeve_length, or check "
                "upper_arm_girth, wrist_girth and outer_arm_length"
            )

    def _check_marks(self, d: Draft, cap: Cap) -> None:
        """Lower marks set by hand lie above the bicep line; the promise of shape tells the rest."""
        lower = (("front_lower", cap.places[1]), ("back_lower", cap.places[-2]))
        for name, place in lower:
            off = self.values[name]
            if off is not None and place.y <= 0.0:
                raise InputError(
                    f"{self.key}: {name} {d.say(off)} puts its mark {d.say(-place.y)} below the "
                    "bicep line, and the cap would hook under itself; give it nearer to zero"
                )

    # -- what every sleeve promises ------------------------------------------------------------

    def armhole_sides(self, d: Draft) -> tuple[Given | Taken, Given | Taken]:
        """Front armhole from the underarm up, back one from the shoulder down, with their notches.

        They are the bodice's when it is drafted with the sleeve.
        """
        front, back = d.taken(FRONT), d.taken(BACK)
        up = self.notch_height
        if front and up != type(self).notch_height.default:
            raise InputError(
                f"{self.key}: notch_height is set, but the notches are taken from {front.block}; "
                "leave it out, or set that block's notches"
            )
        down = self.back_armhole * (1.0 - up)
        return (
            front or Given(FRONT, self.front_armhole, {"front notch": up * self.front_armhole}),
            back or Given(BACK, self.back_armhole, {"back notch": down}),
        )

    def _notch_heights(self, d: Draft) -> tuple[float, float]:
        """Distances of the front and the back notch from the underarm."""
        front, back = self.armhole_sides(d)
        try:
            return front.notches["front notch"], back.length - back.notches["back notch"]
        except KeyError as missing:
            raise PatternError(
                f"the armhole taken from another block has no {missing}; it needs one"
            ) from None

    def cap_notches(self, d: Draft, plan: CapPlan, cap: Edge) -> list[Notch]:
        """Front, crown and double back notch, walked along the armhole with its ease."""
        front, back = self._notch_heights(d)
        crown = self.front_armhole + self.front_ease_share * plan.ease
        return [
            Notch("front notch", cap.name, front),
            Notch("crown notch", cap.name, crown),
            Notch("back notch", cap.name, cap.curve.length - back, count=2),
        ]

    def side_notes(self, plan: CapPlan) -> list[Note]:
        """'front' and 'back' above the bicep line."""
        at = Point(plan.bicep * 0.3, plan.height * 0.12)
        return [Note(at, "front"), Note(Point(-at.x, at.y), "back")]

    def promise_cap(self, d: Draft, plan: CapPlan, cap: Edge, marks: list[Mark]) -> None:
        """The cap passes its marks, is level at the crown and fits the armhole."""
        front, back = self.armhole_sides(d)
        d.through("cap through its marks", cap, marks)
        d.level("cap over the crown", cap, marks[CROWN], within=LEVEL_AT_CROWN)
        # An ease that was found is promised the range an ease may have, not itself.
        allowed = type(self).cap_ease
        ease = (allowed.low, allowed.high) if self._solves_ease else (plan.ease, plan.ease)
        share = self.front_ease_share
        d.shape("cap hollow, full, hollow", cap, bends=2, toward=Point(-1.0, 0.0))
        d.seam(
            "cap to armhole",
            cap,
            [front, Given("shoulder seam", 0.0, {"crown notch": 0.0}), back],
            ease=ease,
            stretches=[
                Stretch("front notch", (0.0, 0.0)),
                Stretch("crown notch", (share * ease[0], share * ease[1])),
                Stretch("back notch", ((1.0 - share) * ease[0], (1.0 - share) * ease[1])),
            ],
            last=0.0,
        )  # fmt: skip
        width = plan.bicep - self.upper_arm
        widest = type(self).bicep_width.high - self.upper_arm
        d.girth(
            "upper arm",
            body=self.upper_arm,
            ease=(0.0, widest) if self._solves_bicep else width,
            spans=[((cap.name, "back underarm"), ("front underarm", cap.name))],
        )


def _likely_height(bicep: float, cap: float, lean: float) -> tuple[float, float]:
    """A cap height to start from, and how fast the cap grows with it.

    On the usual marks the curve is longer than its guides by some 0.116 of the square of the
    sine of their slope, less where the underarm seams lean; that makes a quadratic in the guide.
    """
    half, excess = bicep / 2.0, 0.1155 * (1.0 - lean)
    guide = cap / 4.0 + math.sqrt(cap * cap / 16.0 + (1.0 + excess) * excess * half * half)
    guide /= 1.0 + excess
    height = math.sqrt(max(guide * guide - half * half, 0.0))
    sine = height / guide
    return height, 2.0 * (sine + excess * sine * (2.0 - sine * sine))
