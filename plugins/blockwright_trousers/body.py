"""What trousers are drafted from, and what may be chosen: measurements and options."""

from __future__ import annotations

from collections.abc import Callable

from blockwright import (
    Block,
    LengthOption,
    Rule,
    auto_count_option,
    auto_length_option,
    length_option,
    measurement,
    optional_measurement,
    ratio_option,
)

Range = tuple[float, float]

# Eases where none is asked for, mm.
USUAL_HIP_EASE, USUAL_SEAT_EASE, USUAL_STRETCH = 50.0, 10.0, 5.0
# Knee and hem, mm; 1.3 cm each side of both halves between them, as published.
KNEE_EASE = 25.0
KNEE_OVER_HEM = 52.0
# Options that result from others, when all of those are given.
RESULTS: dict[str, tuple[str, ...]] = {
    "crotch_ease": ("crotch_depth",),
    "seat_ease": ("back_fork", "back_rise"),
    "hip_ease": ("front_hip", "back_hip"),
    "inside_leg_stretch": ("back_drop",),
}
# What is said of several estimates and options.
HOLLOW = "straight at the fork, turning more and more into the leg below the knee"
BY_NEED = "by what there is to take in"
FITTED = "fitted to the US Army survey of 2012, within 5 cm for 19 bodies in 20"


def _share(of: str, share: float) -> Rule:
    """A girth estimated as a share of another."""
    says = f"{share:g} of {of.replace('_', ' ')} (mean of the US Army survey of 2012)"
    return Rule((of,), lambda girth: share * girth, says)


def _from_rise(
    find: Callable[[float, float], float], says: str, says_of_legs: str
) -> tuple[Rule, Rule]:
    """A length estimated from rise and hip, or from both legs, whose difference is the rise."""
    return (
        Rule(("body_rise", "hip_girth"), find, says),
        Rule(
            ("outside_leg_length", "inside_leg_height", "hip_girth"),
            lambda outside, inside, hip: find(outside - inside, hip),
            says_of_legs,
        ),
    )


def _auto(low: str, high: str, says: str, auto: str) -> LengthOption[float | None]:
    """A length that may be set from `low` to `high`; `auto` is what it is when it is not."""
    return auto_length_option(auto=auto, low=low, high=high, says=says)


class TrousersBody(Block):
    """Measurements and options of trousers; lengths in mm.

    The construction and its defaults follow a published women's basic block and a published
    men's plain front draft; tests/trousers names both and rebuilds them.
    """

    waist = measurement("waist_girth")
    hip = measurement("hip_girth")
    outside_leg = measurement("outside_leg_length")
    rise = measurement(
        "body_rise",
        estimate=Rule(
            ("outside_leg_length", "inside_leg_height"), lambda outside, inside: outside - inside,
            "outside leg length less inside leg height (published rule)",
        ),
    )  # fmt: skip
    waist_to_hip = measurement(
        "waist_to_hip",
        estimate=_from_rise(
            lambda rise, hip: rise - hip / 12.0,
            "body rise less a twelfth of hip girth (published rule for the seat line)",
            "outside leg length less inside leg height and a twelfth of hip girth "
            "(published rules)",
        ),
    )
    total_crotch = measurement(
        "total_crotch_length",
        estimate=_from_rise(
            lambda rise, hip: rise + 0.41 * hip,
            f"body rise and 0.41 of hip girth ({FITTED})",
            f"outside leg length less inside leg height, and 0.41 of hip girth ({FITTED})",
        ),
    )
    thigh = measurement("thigh_girth", estimate=_share("hip_girth", 0.61))
    knee_girth = measurement("knee_girth", estimate=_share("hip_girth", 0.395))
    knee_height = measurement(
        "knee_height",
        estimate=(
            Rule(
                ("inside_leg_height",), lambda inside: inside / 2.0 + 50.0,
                "half of inside leg height and 5 cm (published rule)",
            ),
            Rule(
                ("outside_leg_length", "body_rise"),
                lambda outside, rise: (outside - rise) / 2.0 + 50.0,
                "half of outside leg length less body rise, and 5 cm (published rule)",
            ),
        ),
    )  # fmt: skip
    ankle = measurement(
        "ankle_girth", estimate=(_share("knee_girth", 0.55), _share("hip_girth", 0.22))
    )
    inside_leg = optional_measurement("inside_leg_height")

    # fmt: off
    # -- widths ------------------------------------------------------------------------------

    waist_ease = length_option("1 cm", low="0 cm", high="8 cm",
                               says="finished waist over the waist girth")
    front_waist = _auto("8 cm", "70 cm",
                        "front waist from centre to side, darts closed; the back takes the rest",
                        "a quarter of waist girth and waist ease, more for a large waist")
    hip_ease = _auto("0 cm", "20 cm", "finished width at the hip line over the hip girth",
                     "5 cm; it results when front_hip and back_hip are both given")
    hip_shift = length_option("1 cm", low="-1 cm", high="4 cm",
                              says="how much a quarter of the hip is more than that at the back, "
                              "less at the front")
    front_hip = _auto("12 cm", "75 cm", "front hip line from the upright of the fork to the side",
                      "a quarter of hip girth and hip ease, less hip shift")
    back_hip = _auto("12 cm", "75 cm", "back hip line from the upright of the fork to the side",
                     "so that the cloth across the hip line is hip girth and hip ease")
    thigh_ease = length_option("2.5 cm", low="0 cm", high="30 cm",
                               says="least that a leg is wider than the thigh girth, just below "
                               "the fork")
    knee_width = _auto("20 cm", "120 cm", "finished leg at the knee",
                       "half of thigh girth and knee girth, and 2.5 cm")
    hem_width = _auto("15 cm", "120 cm", "finished leg at the hem", "knee width less 5.2 cm")
    back_wider = length_option("1 cm", low="0 cm", high="4 cm",
                               says="how much the back is wider than the front on each side, at "
                               "knee and hem")

    # -- lengths -----------------------------------------------------------------------------

    leg_length = _auto("40 cm", "165 cm", "waist to hem along the crease", "outside leg length")
    crotch_ease = _auto("0 cm", "10 cm", "crotch depth over the body rise",
                        "2.5 cm with a back rise of 2 cm, more with more")
    crotch_depth = _auto("10 cm", "60 cm", "waist to crotch line", "body rise and crotch ease")

    # -- fork and seat -----------------------------------------------------------------------

    seat_ease = _auto("-10 cm", "10 cm", "seat seam over the total crotch length",
                      "1 cm; it results when back_fork and back_rise are both given")
    crease_to_fork = _auto("4 cm", "25 cm",
                           "crease to the upright of the front fork; the back one stands a quarter "
                           "nearer", "a twelfth of hip girth and 1.5 cm")
    front_fork = _auto("2 cm", "20 cm", "front fork beyond its upright",
                       "a sixteenth of hip girth and 0.5 cm with a back rise of 2 cm, more with "
                       "more")
    back_fork = _auto("5 cm", "40 cm", "back fork beyond its upright",
                      "one and a half front forks and what the back upright stands nearer the "
                      "crease; so with a back rise of 2 cm, more with more")
    back_rise = _auto("0 cm", "12 cm", "centre back above the waist line",
                      "solved for the seat ease; 2 cm if back_fork is solved")
    seat_slant = _auto("0 cm", "12 cm", "how far the centre back leans to the side at the top",
                       "so that the waist, square to it, falls to the waist line at the side")
    seat_curve_from = ratio_option(
        0.5, low=0.25, high=0.75,
        says="where the back crotch curve begins, as a share of the depth up from the crotch line; "
        "kept between 1 and 1.3 times the back fork",
    )  # fmt: skip
    front_rise = _auto("-5 cm", "6 cm", "centre front above the waist line; negative: dropped",
                       "0 cm with a back rise of 2 cm, more with more")
    front_in = _auto("-4 cm", "4 cm", "how far the centre front leans to the side at the top",
                     "0.15 of what the front waist is narrower than the front hip")
    front_curve = _auto("1 cm", "15 cm",
                        "front crotch curve from the corner of the fork, on the 45 degree line",
                        "no mark there: one fair curve from seat to seat")
    back_curve = _auto("1 cm", "20 cm",
                       "back crotch curve from the corner of the fork, on the 45 degree line",
                       "no mark there: one fair curve from seat to seat")

    # -- inside leg --------------------------------------------------------------------------

    inside_leg_stretch = _auto("-5 mm", "2 cm",
                               "how much the back inside leg is stretched on to the front one "
                               "above the knee", "0.5 cm; it results when back_drop is given")
    back_drop = _auto("0 cm", "6 cm", "tip of the back fork below the crotch line",
                      "solved for the inside leg stretch")
    front_hollow = _auto("0 cm", "3 cm", "front inside leg curved in half way to the knee", HOLLOW)
    back_hollow = _auto("0 cm", "3 cm", "back inside leg curved in half way to the knee", HOLLOW)

    # -- darts -------------------------------------------------------------------------------

    front_darts = auto_count_option(auto=BY_NEED, low=0, high=2, says="darts in each front")
    back_darts = auto_count_option(auto=BY_NEED, low=0, high=2, says="darts in each back")
    front_dart_intake = _auto("3 mm", "5 cm", "intake of each front dart",
                              "a share of what the front waist is narrower than its hip")
    back_dart_intake = _auto("3 mm", "5 cm", "intake of each back dart",
                             "a share of what the back waist is narrower than its hip")
    front_dart_length = _auto("3 cm", "20 cm", "length of the front darts",
                              "0.485 of the way to the hip line")
    back_dart_length = _auto("3 cm", "20 cm", "length of the back darts",
                             "0.6 of the way to the hip line")
    # fmt: on

    # -- finished widths and lengths: as asked for, else as usual -----------------------------

    @property
    def hip_quarter(self) -> float:
        """A quarter of the finished hip."""
        return (self.hip + (USUAL_HIP_EASE if self.hip_ease is None else self.hip_ease)) / 4.0

    @property
    def front_net(self) -> float:
        """Front waist, darts closed."""
        quarter = (self.waist + self.waist_ease) / 4.0
        return quarter if self.front_waist is None else self.front_waist

    @property
    def back_net(self) -> float:
        """Back waist, darts closed."""
        return (self.waist + self.waist_ease) / 2.0 - self.front_net

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
    def length(self) -> float:
        """Waist to hem along the crease."""
        return self.outside_leg if self.leg_length is None else self.leg_length

    @property
    def inside(self) -> float:
        """Inside leg to the floor: as measured, or the outside one less the rise."""
        return self.outside_leg - self.rise if self.inside_leg is None else self.inside_leg

    def results(self, option: LengthOption[float | None]) -> bool:
        """Whether the option results from others, which are all given."""
        return all(self.values[name] is not None for name in RESULTS[option.name])

    def asked(self, option: LengthOption[float | None], usual: float | None = None) -> Range:
        """The range an option of `RESULTS` may come to: its value, else the usual one.

        Where it results from others, or has no usual value, all that it could be set to.
        """
        value: float | None = self.values[option.name]
        if value is None and not self.results(option):
            value = usual
        return (option.low, option.high) if value is None else (value, value)
