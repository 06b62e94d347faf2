"""What every sleeve here has in common: armhole, cap, and which of three values is solved."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from typing import ClassVar

from blockwright import (
    Across,
    Block,
    Curve,
    Draft,
    Edge,
    GeometryError,
    Given,
    Guide,
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
    choice_option,
    line,
    measurement,
    optional_measurement,
    ratio_option,
    solve,
)
from blockwright_sleeve.cap import (
    BACK_SHARES,
    CROWN,
    FRONT_SHARES,
    Cap,
    Half,
    Taper,
    crown_of,
    flared,
    lay_cap,
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
# Millimetres: two inches over the arm are the least that a published guide gives; see the tests.
USUAL_BICEP_EASE = 50.0
# How high a cap is, as a share of the armhole.  The steepest published is 6 in on 14 1/4, of a
# shell that fits close; the flattest a quarter, for work (see the tests).  Half of that is left for
# drop shoulders: flatter, it is a kimono's, and no cap (common practice, no source).
CAP_SHARES = (0.125, 0.42)
# A cap takes at most this share of the sleeve's length: something is left under it.
MOST_OF_LENGTH = 0.9
# Limits are printed so far inside, mm: what is printed does, however it is rounded.
PRINTED_INSIDE = 1.0
# A placket: so far up from the hem, a quarter of the hem in from the back seam, mm.  Common
# practice, no source.
PLACKET, PLACKET_PLACE = 100.0, 0.25
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


def _mark(side: str, place: str, share: float, low: str, high: str) -> LengthOption[float | None]:
    """The option of a cap mark; either end of its range draws on a body of the workroom."""
    way = "out from it" if share > 0 else "out from it; negative, as it usually is, in"
    return auto_length_option(
        auto=f"{abs(share):g} of the cap height" + (TAPERED if share < 0.0 else ""),
        low=low, high=high,
        says=f"{side} cap mark {place} of the way from crown to underarm: how far it lies off the "
        f"straight line between them, {way}",
    )  # fmt: skip


@dataclass(frozen=True, slots=True)
class CapPlan:
    """The three values that must agree, mm, the cap they give, and which of them was found."""

    bicep: float
    height: float
    ease: float
    cap: Cap
    found: str

    @property
    def crown(self) -> Point:
        """The crown of the cap."""
        return self.cap.places[CROWN]


class Sleeve(Block):
    """Common ground of the sleeves: measurements, options and the solved cap."""

    hem_option: ClassVar[str]
    """Which option sets the width of the hem."""
    usual_cap_ease: ClassVar[float]
    """Cap ease where the maker gives none, mm."""

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
    front_upper = _mark("front", "a quarter", FRONT_SHARES[0], "12 mm", "26 mm")
    front_middle = _mark("front", "half", FRONT_SHARES[1], "-2 mm", "24 mm")
    front_lower = _mark("front", "three quarters", FRONT_SHARES[2], "-28 mm", "-6 mm")
    back_upper = _mark("back", "a quarter", BACK_SHARES[0], "12 mm", "26 mm")
    back_middle = _mark("back", "half", BACK_SHARES[1], "0 mm", "16 mm")
    back_lower = _mark("back", "three quarters", BACK_SHARES[2], "-26 mm", "-4 mm")
    notch_height = ratio_option(
        0.33, low=0.15, high=0.5, says="share of each armhole half from underarm to its notch"
    )
    sleeve_length = auto_length_option(
        auto="outer arm length", low="10 cm", high="120 cm", says="crown to hem"
    )

    hand = optional_measurement("hand_girth")
    opening = choice_option(
        "none", of=("none", "placket"),
        says="how the hand passes the hem: it is wide enough, or a placket opens it at the back",
    )  # fmt: skip

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

    def taper(self, bicep: float, crown: Point) -> Taper:
        """The sleeve below a cap, so that it is as long as asked; each sleeve has its own way."""
        raise NotImplementedError

    def cap(self, bicep: float, height: float, ease: float) -> Cap:
        """The cap for these values."""
        longer_back = (
            self.back_armhole - self.front_armhole + (1 - 2 * self.front_ease_share) * ease
        )
        front = Half(self.front_upper, self.front_middle, self.front_lower)
        back = Half(self.back_upper, self.back_middle, self.back_lower)
        crown = crown_of(bicep, height, longer_back)
        return lay_cap(bicep, crown, self.taper(bicep, crown).lean, front, back)

    def plan(self, d: Draft) -> CapPlan:
        """Of bicep width, cap height and cap ease keep two and solve the third."""
        self._check_options()
        self._check_halves(d)
        bicep = self._given_bicep
        if bicep is not None:
            self._check_bicep(d, bicep, lambda: "give a wider bicep_width")
        plan = self._agreed(d, self.usual_cap_ease if self.cap_ease is None else self.cap_ease)
        self._check_bicep(d, plan.bicep, lambda: f"give {self._heights(d, plan.ease)}")
        self._check_loose(d, plan)
        self._check_share(d, plan)
        self._check_lean(d, plan)
        self._check_marks(d, plan.cap)
        return plan

    def _agreed(self, d: Draft, ease: float) -> CapPlan:
        """The plan for what is given; `ease`: the one asked for, or the usual one."""
        bicep, height = self._given_bicep, self.cap_height
        if height is None:
            return self.undecided(d, ease) if bicep is None else self.solve_height(d, bicep, ease)
        if bicep is None and self.cap_ease is None:
            return self.from_height(d, height, ease)
        if bicep is None:
            return self.solve_bicep(d, height, ease)
        return self.solve_ease(d, bicep, height)

    def undecided(self, d: Draft, ease: float) -> CapPlan:
        """The plan where neither bicep nor cap height is given; each sleeve has its own rule."""
        raise NotImplementedError

    def from_height(self, d: Draft, height: float, ease: float) -> CapPlan:
        """The plan where only a cap height is given; each sleeve has its own rule."""
        raise NotImplementedError

    @property
    def _given_bicep(self) -> float | None:
        """The bicep width that is given, itself or by its ease."""
        if self.bicep_ease is not None:
            return self.upper_arm + self.bicep_ease
        return self.bicep_width

    @property
    def usual_bicep(self) -> float:
        """Upper arm and its least ease."""
        return self.upper_arm + USUAL_BICEP_EASE

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

    def _check_bicep(self, d: Draft, bicep: float, advice: Callable[[], str]) -> None:
        if bicep < self.upper_arm:
            raise InputError(
                f"{self.key}: a bicep width of {d.say(bicep)} is less than upper_arm_girth "
                f"{d.say(self.upper_arm)}; {advice()}"
            )

    def check_below(self, d: Draft, height: float) -> None:
        """InputError for a cap that leaves no sleeve under it."""
        if height > MOST_OF_LENGTH * self.length:
            raise InputError(
                f"{self.key}: a cap height of {d.say(height)} leaves no sleeve under it where "
                f"sleeve_length is {d.say(self.length)}; give a sleeve_length of "
                f"{d.say(height / MOST_OF_LENGTH + PRINTED_INSIDE)} or more or a lower cap_height, "
                "or check outer_arm_length and the armhole"
            )

    def _check_loose(self, d: Draft, plan: CapPlan) -> None:
        """A bicep that the block found is no wider than a maker could ask for by its ease."""
        most = type(self).bicep_ease.high
        if plan.found != "bicep width" or self.cap_height is not None:
            return
        if plan.bicep > self.upper_arm + most:
            raise InputError(
                f"{self.key}: for an armhole of {d.say(self.armhole)} and its cap ease the bicep "
                f"width comes to {d.say(plan.bicep)}, more than {d.say(most)} over upper_arm_girth "
                f"{d.say(self.upper_arm)}; check that and the armhole, or set a higher cap_height "
                "or a bicep_width"
            )

    def _check_share(self, d: Draft, plan: CapPlan) -> None:
        """The cap is neither so flat nor so steep that it is none."""
        least, most = (share * self.armhole for share in CAP_SHARES)
        if least <= plan.height <= most:
            return
        flat = plan.height < least
        advice = f"set a {'narrower' if flat else 'wider'} bicep_width"
        if self._given_bicep is None and plan.found == "cap height":
            advice = f"check upper_arm_girth and the armhole, or {advice}"
        if self.cap_height is not None:
            advice = f"give a cap_height of {d.say(least)} to {d.say(most)}"
        raise InputError(
            f"{self.key}: a cap height of {d.say(plan.height)} is too {'flat' if flat else 'steep'}"
            f" for an armhole of {d.say(self.armhole)}, where {CAP_SHARES[0]:g} to "
            f"{CAP_SHARES[1]:g} of it, {d.say(least)} to {d.say(most)}, can be set in; {advice}"
        )

    def _heights(self, d: Draft, ease: float) -> str:
        """Which cap heights an ease can be had with, on a bicep no narrower than the arm."""
        least, most = (share * self.armhole for share in CAP_SHARES)
        span = _growing(
            lambda height: self.cap(self.upper_arm, height, ease).spline.length,
            (0.0, self.armhole + ease), (least, most),
        )  # fmt: skip
        return _say(d, "a cap_height", span) or "another cap_height or cap_ease"

    def _fitting(self, d: Draft, bicep: float, height: float) -> str:
        """Which cap heights go with this bicep, and which bicep widths with this height."""
        eases = type(self).cap_ease
        lengths = self.armhole + eases.low, self.armhole + eases.high
        shares = CAP_SHARES[0] * self.armhole, CAP_SHARES[1] * self.armhole
        heights = _growing(
            lambda tried: self.cap(bicep, tried, self.usual_cap_ease).spline.length,
            lengths, (max(shares[0], FLATTEST * bicep), min(shares[1], HIGHEST * bicep)),
        )  # fmt: skip
        biceps = _growing(
            lambda tried: self.cap(tried, height, self.usual_cap_ease).spline.length,
            lengths, (max(self.upper_arm, height / HIGHEST), height / FLATTEST),
        )  # fmt: skip
        if not shares[0] <= height <= shares[1]:
            biceps = None
        ways = [_say(d, "a cap_height", heights), _say(d, "a bicep_width", biceps)]
        return " or ".join(filter(None, ways)) or "another cap_height and bicep_width"

    def _likely_lean(self, bicep: float) -> float:
        """About how far the seams lean; between halves of a radian, as a guess may be."""
        fall = 2.0 * max(self.length - 0.4 * bicep, 0.2 * bicep)
        return min(max((bicep - self.hem_width(bicep)) / fall, -0.5), 0.5)

    def solve_height(self, d: Draft, bicep: float, ease: float) -> CapPlan:
        """The height that bicep and ease leave."""
        cap = cache(lambda height: self.cap(bicep, height, ease))
        of_arm, width = ("upper_arm_girth, ", "bicep_ease")
        if self.bicep_width is not None:
            of_arm, width = "", "bicep_width"
        height = d.solve(
            "cap height",
            lambda height: cap(height).spline.length,
            target=self.armhole + ease,
            low=FLATTEST * bicep,
            high=min(HIGHEST * bicep, MOST_OF_LENGTH * self.length),
            near=_likely_height(bicep, self.armhole + ease, self._likely_lean(bicep)),
            so_that="the cap is the armhole and its ease",
            goal="cap ease",
            offset=self.armhole,
            advice=f"armhole {d.say(self.armhole)} against bicep width {d.say(bicep)} and "
            f"sleeve length {d.say(self.length)}: check {of_arm}the armhole and "
            f"outer_arm_length on the sheet, or set {width}, cap_ease or sleeve_length",
        )
        return CapPlan(bicep, height, ease, cap(height), "cap height")

    def solve_bicep(self, d: Draft, height: float, ease: float) -> CapPlan:
        """The bicep that height and ease leave."""
        self.check_below(d, height)
        cap = cache(lambda bicep: self.cap(bicep, height, ease))
        target = self.armhole + ease
        try:
            bicep = solve(
                lambda bicep: cap(bicep).spline.length, target, height / HIGHEST, height / FLATTEST,
                near=_likely_bicep(height, target),
            )  # fmt: skip
        except GeometryError:
            raise InputError(
                f"{self.key}: no bicep width gives a cap height of {d.say(height)} with a cap ease "
                f"of {d.say(ease)} on an armhole of {d.say(self.armhole)}; give "
                f"{self._heights(d, ease)}"
            ) from None
        d.found("bicep width", bicep, "the cap is the armhole and its ease")
        return CapPlan(bicep, height, ease, cap(bicep), "bicep width")

    def solve_ease(self, d: Draft, bicep: float, height: float) -> CapPlan:
        """The ease that bicep and height leave; unevenly shared, it moves the crown a little."""
        self.check_below(d, height)
        cap = cache(lambda ease: self.cap(bicep, height, ease))
        allowed = type(self).cap_ease
        about = cap(self.usual_cap_ease).spline.length - self.armhole
        if not allowed.low <= about <= allowed.high:
            span = f"{d.say(allowed.low)} to {d.say(allowed.high)}"
            raise InputError(
                f"{self.key}: a cap_height of {d.say(height)} on a bicep width of {d.say(bicep)} "
                f"gives a cap ease of {d.say(about)}, where {span} can be sewn into an armhole of "
                f"{d.say(self.armhole)}; give {self._fitting(d, bicep, height)}"
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
        return CapPlan(bicep, height, ease, cap(ease), "cap ease")

    def _check_lean(self, d: Draft, plan: CapPlan) -> None:
        """Seams lean neither out so far nor in so far that the cap cannot end square to them.

        Where they flare, its ends dip below the bicep line; where they taper, it ends along a line
        that rises to the crown, and needs the crown above that.
        """
        hem, drop = self.hem_width(plan.bicep), self.length - plan.height
        # On a very short sleeve hardly any flare is left; a hem as wide as the bicep has none.
        widest = max(flared(plan.bicep, MOST_FLARE, drop), plan.bicep)
        if hem > widest:
            raise InputError(
                f"{self.key}: {self.hem_option} {d.say(hem)} flares the sleeve so far that the "
                "ends of its cap dip below the bicep line; give a "
                f"{self.hem_option} of {d.say(widest)} or less, or a longer sleeve_length"
            )
        slope = math.atan2(plan.height, plan.bicep / 2.0 + abs(plan.crown.x))
        if slope - self.taper(plan.bicep, plan.crown).lean < LEAST_RISE:
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
        ease = (plan.ease, plan.ease)
        if plan.found == "cap ease":
            ease = (allowed.low, allowed.high)
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
        width = (plan.bicep - self.upper_arm, plan.bicep - self.upper_arm)
        if plan.found == "bicep width":
            width = (0.0, type(self).bicep_width.high - self.upper_arm)
            if self.cap_height is None:
                width = (USUAL_BICEP_EASE, type(self).bicep_ease.high)
        d.girth(
            "upper arm",
            body=self.upper_arm,
            ease=width,
            spans=[((cap.name, "back underarm"), ("front underarm", cap.name))],
        )

    def promise_length(
        self, d: Draft, plan: CapPlan, middle: Curve, front: Edge, seam: float
    ) -> None:
        """The sleeve is as long as asked, and its underarm is so much shorter as a cap is high.

        `middle`: from the crown to the hem; `front`: the underarm seam, `seam` mm long.
        """
        d.girth("length", body=self.length, ease=0.0, levels=[Across("sleeve", middle)])
        flat, steep = (share * self.armhole for share in CAP_SHARES)
        d.girth(
            "underarm seam, a cap shorter", body=seam + plan.height, ease=(-steep, -flat),
            runs=[front],
        )  # fmt: skip

    # -- hem and opening -----------------------------------------------------------------------

    def check_hem(self, d: Draft, width: float) -> None:
        """InputError for a hem that does not go round the wrist, or over the hand."""
        if width < self.wrist:
            raise InputError(
                f"{self.key}: a {self.hem_option} of {d.say(width)} is less than wrist_girth "
                f"{d.say(self.wrist)}; give a wider one"
            )
        if not self.opens and self.hand is not None and width < self.hand:
            raise InputError(
                f"{self.key}: a hand of {d.say(self.hand)} (hand_girth) does not pass a "
                f"{self.hem_option} of {d.say(width)}; give a {self.hem_option} of "
                f"{d.say(self.hand)} or more, or set opening=placket"
            )

    def promise_hem(self, d: Draft, name: str, width: float, hem: Edge) -> None:
        """The hem is as wide as asked, and the hand passes it where it does not open."""
        d.girth(name, body=self.wrist, ease=width - self.wrist, runs=[hem])
        if not self.opens and self.hand is not None:
            widest = type(self).bicep_width.high
            d.girth(f"{name} over the hand", body=self.hand, ease=(0.0, widest), runs=[hem])

    @property
    def opens(self) -> bool:
        """Whether the hem opens for the hand."""
        return self.opening == "placket"

    def placket(self, hem: Edge, room: float) -> tuple[list[Notch], list[Guide]]:
        """Notch and line of the placket, square to the hem; none where it does not open.

        `hem` runs from the back seam; `room`: length of the seam it lies beside, mm.
        """
        if not self.opens:
            return [], []
        along = PLACKET_PLACE * hem.curve.length
        foot, way = hem.curve.point_at(along), hem.curve.tangent_at(along).left()
        top = foot + way * min(PLACKET, room / 2.0)
        return [Notch("placket", hem.name, along)], [Guide("placket", line(foot, top))]


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


def _likely_bicep(height: float, cap: float) -> tuple[float, float]:
    """A bicep width to start from, and how fast the cap grows with it; see `_likely_height`."""
    sine = min(2.0 * height / cap, 1.0)
    for _ in range(2):
        guide = cap / 2.0 / (1.0 + 0.1155 * sine * sine)
        sine = min(height / guide, 1.0)
    cosine = math.sqrt(1.0 - sine * sine)
    return 2.0 * guide * cosine, cosine * (1.0 - 0.1155 * sine * sine)


def _growing(
    measure: Callable[[float], float], wanted: tuple[float, float], within: tuple[float, float]
) -> tuple[float, float] | None:
    """Where in a range a growing measure lies between two values; None for nowhere, or unknown."""
    low, high = within
    if low >= high:
        return None
    ends = []
    try:
        at_low, at_high = measure(low), measure(high)
        if at_high < wanted[0] or at_low > wanted[1]:
            return None
        for value in wanted:
            if value <= at_low:
                ends.append(low)
            elif value >= at_high:
                ends.append(high)
            else:
                ends.append(solve(measure, value, low, high))
    except GeometryError:
        return None
    return ends[0], ends[1]


def _say(d: Draft, name: str, span: tuple[float, float] | None) -> str:
    """'a cap_height of 10 cm to 12 cm', printed so far inside that what is printed does."""
    if span is None or span[1] - span[0] < 2.0 * PRINTED_INSIDE:
        return ""
    return f"{name} of {d.say(span[0] + PRINTED_INSIDE)} to {d.say(span[1] - PRINTED_INSIDE)}"
