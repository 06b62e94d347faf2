"""What each part of trousers hangs on: options and measurements by name, for messages."""

from __future__ import annotations

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
