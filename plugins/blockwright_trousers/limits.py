"""The limits of shape of trousers that somebody could sew, and what each part hangs on.

The limits lie round what the published drafts of the tests and the bodies of the US Army survey of
2012 come to, which is said beside each; how far beyond is common practice, no source.
"""

from __future__ import annotations

from blockwright_trousers.body import Range

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

# By how much a curved seam, or one that leans, is longer at most than the leg it runs down, mm
# (survey 18).
LONGER_THAN_PLUMB = 50.0
# A leg wider than the thigh by so much is a skirt; mm.
MOST_THIGH_EASE = 400.0


def shares_of(whole: float, shares: Range) -> Range:
    """Shares of a width or length."""
    low, high = shares
    return whole * low, whole * high


# -- what each part hangs on: options, and measurements, by name, for messages ------------------

Names = tuple[str, ...]
DEPTHS: Names = ("crotch_depth", "crotch_ease")
FORKS: Names = ("front_fork", "back_fork", "back_rise", "crease_to_fork")
HIPS: Names = ("front_hip", "back_hip", "hip_ease", "hip_shift")
LEGS: Names = ("knee_width", "hem_width", "back_wider", "leg_length")
INSIDE: Names = ("front_hollow", "back_hollow", "back_drop", "inside_leg_stretch", *LEGS)
OF_SEAT: Names = ("total_crotch_length", "body_rise", "hip_girth")
OF_LEG: Names = ("thigh_girth", "knee_girth", "knee_height", "outside_leg_length", "body_rise")
OF_WAIST: Names = ("waist_girth", "hip_girth", "waist_to_hip")
_SEAT: Names = ("seat_ease", *DEPTHS, *FORKS, "seat_slant", "seat_curve_from", "front_rise")
_CURVES: Names = ("front_curve", "back_curve", "front_in")
_WAISTS: Names = ("front_waist", "waist_ease", "front_in", "seat_slant", "back_rise", "front_rise")
_DARTS: Names = ("front_darts", "front_dart_intake", "front_dart_length",
                 "back_darts", "back_dart_intake", "back_dart_length")  # fmt: skip

FORK: Names = (*FORKS, "seat_ease", *DEPTHS, *OF_SEAT)
SEAT_SEAM: Names = ("crotch_ease", *_SEAT, *_CURVES, *INSIDE, *OF_SEAT, *OF_LEG)
CROTCH: Names = (*_CURVES, *_SEAT, *INSIDE, *OF_SEAT)
TIP: Names = (*_CURVES, *INSIDE, *FORK, *OF_LEG)
INSIDE_LEG: Names = (*INSIDE, *OF_LEG, *FORK)
THIGH: Names = (*INSIDE, *HIPS, *_SEAT, *OF_LEG)
HIP_LINE: Names = (*HIPS, *_SEAT, *_CURVES, *OF_WAIST)
WAIST: Names = (*_WAISTS, *HIPS, *_DARTS, *OF_WAIST)
LENGTHS: Names = (*HIPS, *_WAISTS, *FORKS, *INSIDE, *OF_LEG)
