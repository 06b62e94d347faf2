"""What trousers are drafted from, and what may be chosen: measurements and options."""

from __future__ import annotations

from blockwright import (
    Block,
    Rule,
    auto_count_option,
    auto_length_option,
    length_option,
    measurement,
    optional_measurement,
    ratio_option,
)


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
            needs=("outside_leg_length", "inside_leg_height"),
            find=lambda outside, inside: outside - inside,
            says="outside leg length less inside leg height (published rule)",
        ),
    )
    waist_to_hip = measurement(
        "waist_to_hip",
        estimate=(
            Rule(
                needs=("body_rise", "hip_girth"),
                find=lambda rise, hip: rise - hip / 12.0,
                says="body rise less a twelfth of hip girth (published rule for the seat line)",
            ),
            Rule(
                needs=("outside_leg_length", "inside_leg_height", "hip_girth"),
                find=lambda outside, inside, hip: outside - inside - hip / 12.0,
                says="outside leg length less inside leg height and a twelfth of hip girth "
                "(published rules)",
            ),
        ),
    )
    total_crotch = measurement(
        "total_crotch_length",
        estimate=(
            Rule(
                needs=("body_rise", "hip_girth"),
                find=lambda rise, hip: rise + 0.41 * hip,
                says="body rise and 0.41 of hip girth (fitted to the US Army survey of 2012, "
                "within 5 cm for 19 bodies in 20)",
            ),
            Rule(
                needs=("outside_leg_length", "inside_leg_height", "hip_girth"),
                find=lambda outside, inside, hip: outside - inside + 0.41 * hip,
                says="outside leg length less inside leg height, and 0.41 of hip girth (fitted to "
                "the US Army survey of 2012, within 5 cm for 19 bodies in 20)",
            ),
        ),
    )
    thigh = measurement(
        "thigh_girth",
        estimate=Rule(
            needs=("hip_girth",),
            find=lambda hip: 0.61 * hip,
            says="0.61 of hip girth (mean of the US Army survey of 2012)",
        ),
    )
    knee_girth = measurement(
        "knee_girth",
        estimate=Rule(
            needs=("hip_girth",),
            find=lambda hip: 0.395 * hip,
            says="0.395 of hip girth (mean of the US Army survey of 2012)",
        ),
    )
    knee_height = measurement(
        "knee_height",
        estimate=(
            Rule(
                needs=("inside_leg_height",),
                find=lambda inside: inside / 2.0 + 50.0,
                says="half of inside leg height and 5 cm (published rule)",
            ),
            Rule(
                needs=("outside_leg_length", "body_rise"),
                find=lambda outside, rise: (outside - rise) / 2.0 + 50.0,
                says="half of outside leg length less body rise, and 5 cm (published rule)",
            ),
        ),
    )

    ankle = measurement(
        "ankle_girth",
        estimate=(
            Rule(
                needs=("knee_girth",),
                find=lambda knee: 0.55 * knee,
                says="0.55 of knee girth (mean of the US Army survey of 2012)",
            ),
            Rule(
                needs=("hip_girth",),
                find=lambda hip: 0.22 * hip,
                says="0.22 of hip girth (mean of the US Army survey of 2012)",
            ),
        ),
    )
    inside_leg = optional_measurement("inside_leg_height")

    # -- widths ------------------------------------------------------------------------------

    waist_ease = length_option(
        "1 cm", low="0 cm", high="8 cm", says="finished waist over the waist girth"
    )
    front_waist = auto_length_option(
        auto="a quarter of waist girth and waist ease, more for a large waist",
        low="8 cm", high="70 cm",
        says="front waist from centre to side, darts closed; the back takes the rest",
    )  # fmt: skip
    hip_ease = auto_length_option(
        auto="5 cm; it results when front_hip and back_hip are both given",
        low="0 cm", high="20 cm", says="finished width at the hip line over the hip girth",
    )  # fmt: skip
    hip_shift = length_option(
        "1 cm", low="-1 cm", high="4 cm",
        says="how much a quarter of the hip is more than that at the back, less at the front",
    )  # fmt: skip
    front_hip = auto_length_option(
        auto="a quarter of hip girth and hip ease, less hip shift", low="12 cm", high="75 cm",
        says="front hip line from the upright of the fork to the side",
    )  # fmt: skip
    back_hip = auto_length_option(
        auto="so that the cloth across the hip line is hip girth and hip ease",
        low="12 cm", high="75 cm", says="back hip line from the upright of the fork to the side",
    )  # fmt: skip
    thigh_ease = length_option(
        "2.5 cm", low="0 cm", high="30 cm",
        says="least that a leg is wider than the thigh girth, just below the fork",
    )  # fmt: skip
    knee_width = auto_length_option(
        auto="half of thigh girth and knee girth, and 2.5 cm", low="20 cm", high="120 cm",
        says="finished leg at the knee",
    )  # fmt: skip
    hem_width = auto_length_option(
        auto="knee width less 5.2 cm", low="15 cm", high="120 cm", says="finished leg at the hem"
    )
    back_wider = length_option(
        "1 cm", low="0 cm", high="4 cm",
        says="how much the back is wider than the front on each side, at knee and hem",
    )  # fmt: skip

    # -- lengths -----------------------------------------------------------------------------

    leg_length = auto_length_option(
        auto="outside leg length", low="40 cm", high="165 cm", says="waist to hem along the crease"
    )
    crotch_ease = auto_length_option(
        auto="2.5 cm with a back rise of 2 cm, more with more", low="0 cm", high="10 cm",
        says="crotch depth over the body rise",
    )  # fmt: skip
    crotch_depth = auto_length_option(
        auto="body rise and crotch ease", low="10 cm", high="60 cm", says="waist to crotch line"
    )

    # -- fork and seat -----------------------------------------------------------------------

    seat_ease = auto_length_option(
        auto="1 cm; it results when back_fork and back_rise are both given",
        low="-10 cm", high="10 cm", says="seat seam over the total crotch length",
    )  # fmt: skip
    crease_to_fork = auto_length_option(
        auto="a twelfth of hip girth and 1.5 cm", low="4 cm", high="25 cm",
        says="crease to the upright of the front fork; the back one stands a quarter nearer",
    )  # fmt: skip
    front_fork = auto_length_option(
        auto="a sixteenth of hip girth and 0.5 cm with a back rise of 2 cm, more with more",
        low="2 cm", high="20 cm",
        says="front fork beyond its upright",
    )  # fmt: skip
    back_fork = auto_length_option(
        auto="one and a half front forks and what the back upright stands nearer the crease; "
        "so with a back rise of 2 cm, more with more",
        low="5 cm", high="40 cm", says="back fork beyond its upright",
    )  # fmt: skip
    back_rise = auto_length_option(
        auto="solved for the seat ease; 2 cm if back_fork is solved", low="0 cm", high="12 cm",
        says="centre back above the waist line",
    )  # fmt: skip
    seat_slant = auto_length_option(
        auto="so that the waist, square to it, falls to the waist line at the side",
        low="0 cm", high="12 cm",
        says="how far the centre back leans to the side at the top",
    )  # fmt: skip
    seat_curve_from = ratio_option(
        0.5, low=0.25, high=0.75,
        says="where the back crotch curve begins, as a share of the depth up from the crotch line; "
        "kept between 1 and 1.3 times the back fork",
    )  # fmt: skip
    front_rise = auto_length_option(
        auto="0 cm with a back rise of 2 cm, more with more", low="-5 cm", high="6 cm",
        says="centre front above the waist line; negative: dropped",
    )  # fmt: skip
    front_in = auto_length_option(
        auto="0.15 of what the front waist is narrower than the front hip",
        low="-4 cm", high="4 cm", says="how far the centre front leans to the side at the top",
    )  # fmt: skip
    front_curve = auto_length_option(
        auto="no mark there: one fair curve from seat to seat", low="1 cm", high="15 cm",
        says="front crotch curve from the corner of the fork, on the 45 degree line",
    )  # fmt: skip
    back_curve = auto_length_option(
        auto="no mark there: one fair curve from seat to seat", low="1 cm", high="20 cm",
        says="back crotch curve from the corner of the fork, on the 45 degree line",
    )  # fmt: skip

    # -- inside leg --------------------------------------------------------------------------

    inside_leg_stretch = auto_length_option(
        auto="0.5 cm; it results when back_drop is given", low="-5 mm", high="2 cm",
        says="how much the back inside leg is stretched on to the front one above the knee",
    )  # fmt: skip
    back_drop = auto_length_option(
        auto="solved for the inside leg stretch", low="0 cm", high="6 cm",
        says="tip of the back fork below the crotch line",
    )  # fmt: skip
    front_hollow = auto_length_option(
        auto="straight at the fork, turning more and more into the leg below the knee",
        low="0 cm", high="3 cm",
        says="front inside leg curved in half way to the knee",
    )  # fmt: skip
    back_hollow = auto_length_option(
        auto="straight at the fork, turning more and more into the leg below the knee",
        low="0 cm", high="3 cm",
        says="back inside leg curved in half way to the knee",
    )  # fmt: skip

    # -- darts -------------------------------------------------------------------------------

    front_darts = auto_count_option(
        auto="by what there is to take in", low=0, high=2, says="darts in each front"
    )
    back_darts = auto_count_option(
        auto="by what there is to take in", low=0, high=2, says="darts in each back"
    )
    front_dart_intake = auto_length_option(
        auto="a share of what the front waist is narrower than its hip", low="3 mm", high="5 cm",
        says="intake of each front dart",
    )  # fmt: skip
    back_dart_intake = auto_length_option(
        auto="a share of what the back waist is narrower than its hip", low="3 mm", high="5 cm",
        says="intake of each back dart",
    )  # fmt: skip
    front_dart_length = auto_length_option(
        auto="0.485 of the way to the hip line", low="3 cm", high="20 cm",
        says="length of the front darts",
    )  # fmt: skip
    back_dart_length = auto_length_option(
        auto="0.6 of the way to the hip line", low="3 cm", high="20 cm",
        says="length of the back darts",
    )  # fmt: skip
