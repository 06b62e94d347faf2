"""Body measurements by their ISO 8559-1 names: how each is taken and between what limits it lies.

The names are the standard's English terms in snake_case.  `source` says how well a term is known.
The limits reach from a small child to the very largest adult.  A value outside them is a slip of
the pen or of the unit.  The limits are common practice, no source; the tests check them against the
US Army survey of 2012 (NATICK/TR-15/007, 2014) and ASTM D5585-11e1.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Literal

from blockwright.body.lengths import Length, Unit
from blockwright.errors import InputError
from blockwright.spelling import nearest_to


@dataclass(frozen=True, slots=True)
class Measurement:
    """One measurement: its name, how it is taken and between what limits it lies.

    `clause` is the clause of ISO 8559-1:2017, or None where it is not known.  `low` and `high` are
    the limits, mm.  `of` says what the tape lies on.
    """

    name: str
    term: str
    clause: str | None
    how: str
    source: str
    low: float
    high: float
    of: Literal["body", "garment"] = "body"


_ISO = "ISO 8559-1:2017, {}, after a secondary page"
_1989 = "ISO 8559:1989, as listed in a textbook; method from memory"
_EN = "EN 13402-1:2001, after secondary pages"
_ASTM = "a row of ASTM D5585-11e1, Table 1; method common practice, no source"
_TERM = "term of ISO 8559-1 from memory, clause not known; method common practice, no source"
_PRACTICE = "common practice, no source"

_Row = tuple[str, str, str, float, float, str]  # name, term, clause or source, low, high, how

# fmt: off
_ROWS: tuple[_Row, ...] = (
    ("head_girth", "Head girth", _1989, 380, 800,
     "Round the head where it is largest, above the ears."),
    ("neck_girth", "Neck girth", "5.3.2", 180, 750,
     "Round the neck just below the Adam's apple, square to the neck."),
    ("neck_base_girth", "Neck base girth", "5.3.3", 200, 850,
     "Round the base of the neck, over the back neck point and the front neck point."),
    ("chest_girth", "Chest girth", _EN, 400, 2200,
     "Level round the chest where it is largest, under the armpits and over the shoulder "
     "blades."),
    ("upper_chest_girth", "Upper-chest girth", _ASTM, 400, 2200,
     "Round the chest above the bust, close under the armpits."),
    ("bust_girth", "Bust girth", "5.3.4", 400, 2200,
     "Level round the body over the bust points, in the bra that will be worn."),
    ("under_bust_girth", "Under bust girth", "5.3.8", 380, 2100,
     "Level round the body just below the breasts."),
    ("waist_girth", "Waist girth", "5.3.10", 380, 2500,
     "Level round the waist, midway between the lowest ribs and the top of the hip bones."),
    ("top_hip_girth", "Top hip girth", "5.3.12", 380, 2500,
     "Level round the body, midway between waist and hip."),
    ("hip_girth", "Hip girth", "5.3.13", 400, 2500,
     "Level round the hips where the seat stands out most."),
    ("upper_arm_girth", "Upper-arm girth", "5.3.16", 110, 800,
     "Round the upper arm midway from shoulder point to elbow; for a sleeve take it where the "
     "arm is fullest, if that is more."),
    ("elbow_girth", "Elbow girth", _TERM, 110, 700,
     "Round the elbow over its point, the arm bent."),
    ("forearm_girth", "Forearm girth", _PRACTICE, 100, 600,
     "Round the forearm where it is fullest, below the elbow."),
    ("wrist_girth", "Wrist girth", "5.3.19", 80, 350,
     "Round the wrist over the bone on the side of the little finger."),
    ("hand_girth", "Hand girth", _1989, 100, 400,
     "Round the knuckles, thumb laid into the palm: what a closed cuff must pass."),
    ("armscye_girth", "Armscye girth", _TERM, 180, 1000,
     "Round the root of the arm, through the armpit and over the shoulder point."),
    ("thigh_girth", "Thigh girth", "5.3.20", 200, 1400,
     "Level round the thigh where it is fullest, just below the seat."),
    ("mid_thigh_girth", "Mid-thigh girth", "5.3.21", 180, 1200,
     "Level round the thigh, midway between crotch and knee."),
    ("knee_girth", "Knee girth", _TERM, 160, 900,
     "Round the knee over the middle of the kneecap."),
    ("calf_girth", "Calf girth", _TERM, 140, 850,
     "Level round the calf where it is fullest."),
    ("ankle_girth", "Ankle girth", _1989, 100, 600,
     "Round the ankle over the ankle bones."),
    ("shoulder_length", "Shoulder length", _TERM, 50, 250,
     "Side neck point to shoulder point, along the shoulder."),
    ("across_back_shoulder_width",
     "Across back shoulder width (through the back neck point)", "5.4.3", 180, 750,
     "Shoulder point to shoulder point, over the back neck point."),
    ("across_back_width", "Across back width", _TERM, 150, 800,
     "Armscye to armscye across the back, halfway down the armscye."),
    ("across_front_width", "Across front width", _TERM, 130, 800,
     "Armscye to armscye across the front, halfway down the armscye."),
    ("bust_point_width", "Bust point width", _TERM, 70, 500,
     "Bust point to bust point, straight across."),
    ("scye_depth", "Scye depth", _1989, 70, 400,
     "Back neck point straight down to the level of the armpits."),
    ("back_neck_point_to_waist", "Back neck point to waist", "5.4.5", 170, 750,
     "Back neck point down the middle of the back to the waist."),
    ("front_neck_point_to_waist", "Front neck point to waist", _TERM, 140, 800,
     "Front neck point down the middle of the front to the waist."),
    ("side_neck_point_to_bust_point", "Side neck point to bust point", _TERM, 100, 650,
     "Side neck point down to the bust point."),
    ("side_neck_point_to_waist", "Side neck point to waist", _1989, 170, 900,
     "Side neck point over the bust point and straight down to the waist."),
    ("upper_arm_length", "Upper arm length", _1989, 100, 550,
     "Shoulder point to elbow point, the arm a little bent."),
    ("outer_arm_length", "Outer arm length", "5.7.8", 180, 950,
     "Shoulder point over the elbow to the wrist bone, the arm a little bent."),
    ("underarm_length", "Underarm length", _1989, 130, 800,
     "Armpit to the wrist, along the inside of the arm."),
    ("back_neck_point_to_wrist_length", "Back neck point to wrist length", "5.4.17", 280, 1400,
     "Back neck point over shoulder point and elbow to the wrist bone."),
    ("waist_to_hip", "Waist to hip", _1989, 30, 450,
     "Waist to hip at the side, along the body."),
    ("waist_to_knee", "Waist to knee", _PRACTICE, 150, 900,
     "Waist to the middle of the kneecap, at the side."),
    ("outside_leg_length", "Outside leg length", _TERM, 280, 1600,
     "Waist at the side over the hip and straight down to the floor."),
    ("inside_leg_height", "Inside leg height", _TERM, 150, 1300,
     "Crotch straight down to the floor, feet a little apart."),
    ("body_rise", "Body rise", _1989, 80, 500,
     "Waist to the seat of a hard chair, at the side, sitting upright."),
    ("total_crotch_length", "Total crotch length", _TERM, 250, 1500,
     "Waist in front, between the legs, to the waist behind."),
    ("back_crotch_length", "Back crotch length", _PRACTICE, 120, 800,
     "The back part of the total crotch length: crotch to the waist behind."),
    ("knee_height", "Knee height", _1989, 120, 800,
     "Middle of the kneecap straight down to the floor."),
    ("height", "Height", _EN, 500, 2750,
     "Crown of the head to the floor, without shoes."),
)
# fmt: on

# fmt: off
_GARMENT_ROWS: tuple[_Row, ...] = (
    ("front_armhole_length", "Front armhole length", _PRACTICE, 70, 650,
     "On the garment: along the seam line of the front armhole, underarm seam to shoulder "
     "seam."),
    ("back_armhole_length", "Back armhole length", _PRACTICE, 70, 650,
     "On the garment: along the seam line of the back armhole, underarm seam to shoulder seam."),
)
# fmt: on


NEVER_LONGER: tuple[tuple[str, str], ...] = (
    ("waist_to_hip", "outside_leg_length"),
    ("waist_to_hip", "waist_to_knee"),
    ("waist_to_knee", "outside_leg_length"),
    ("inside_leg_height", "outside_leg_length"),
    ("body_rise", "outside_leg_length"),
    ("body_rise", "total_crotch_length"),
    ("back_crotch_length", "total_crotch_length"),
    ("knee_height", "inside_leg_height"),
    ("outside_leg_length", "height"),
    ("outer_arm_length", "height"),
    ("back_neck_point_to_waist", "height"),
    ("wrist_girth", "forearm_girth"),
    ("wrist_girth", "elbow_girth"),
    ("wrist_girth", "upper_arm_girth"),
    ("ankle_girth", "thigh_girth"),
    ("thigh_girth", "hip_girth"),
    ("mid_thigh_girth", "hip_girth"),
    ("upper_arm_girth", "bust_girth"),
    ("upper_arm_girth", "chest_girth"),
    ("armscye_girth", "bust_girth"),
    ("armscye_girth", "chest_girth"),
    ("upper_arm_length", "outer_arm_length"),
    ("underarm_length", "outer_arm_length"),
    ("outer_arm_length", "back_neck_point_to_wrist_length"),
    ("shoulder_length", "across_back_shoulder_width"),
    ("across_back_width", "bust_girth"),
    ("across_back_width", "chest_girth"),
    ("across_front_width", "bust_girth"),
    ("across_front_width", "chest_girth"),
    ("bust_point_width", "bust_girth"),
    ("scye_depth", "back_neck_point_to_waist"),
    ("side_neck_point_to_bust_point", "side_neck_point_to_waist"),
    ("front_neck_point_to_waist", "side_neck_point_to_waist"),
)
"""Pairs (shorter, longer).  On no body is the first longer than the second."""

NEVER_LONGER_THAN_BOTH: tuple[tuple[str, tuple[str, str]], ...] = (
    ("armscye_girth", ("front_armhole_length", "back_armhole_length")),
)
"""A shorter, and two that are longer together: an armhole goes round the root of the arm."""
SAME = 1e-6
"""Millimetres.  Lengths converted from the unit of a sheet are rounded by less than this."""

_TRADE_WORDS = {
    "arm_length": "outer_arm_length",
    "armhole": "armscye_girth",
    "armhole_girth": "armscye_girth",
    "back_length": "back_neck_point_to_waist",
    "back_waist_length": "back_neck_point_to_waist",
    "back_width": "across_back_width",
    "bicep": "upper_arm_girth",
    "bicep_girth": "upper_arm_girth",
    "chest": "chest_girth",
    "chest_width": "across_front_width",
    "crotch_depth": "body_rise",
    "crotch_length": "total_crotch_length",
    "front_length": "front_neck_point_to_waist",
    "front_waist_length": "front_neck_point_to_waist",
    "hip": "hip_girth",
    "hip_depth": "waist_to_hip",
    "inseam": "inside_leg_height",
    "inside_leg": "inside_leg_height",
    "inside_leg_length": "inside_leg_height",
    "nape_to_waist": "back_neck_point_to_waist",
    "neck": "neck_girth",
    "outseam": "outside_leg_length",
    "rise": "body_rise",
    "seat": "hip_girth",
    "seat_girth": "hip_girth",
    "shoulder": "shoulder_length",
    "shoulder_to_elbow": "upper_arm_length",
    "shoulder_width": "across_back_shoulder_width",
    "sleeve_length": "outer_arm_length",
    "stature": "height",
    "top_arm": "upper_arm_girth",
    "waist": "waist_girth",
    "wrist": "wrist_girth",
}


def _measurement(row: _Row, of: Literal["body", "garment"]) -> Measurement:
    name, term, known, low, high, how = row
    clause = known if known[0].isdigit() else None
    source = _ISO.format(clause) if clause else known
    return Measurement(name, term, clause, how, source, float(low), float(high), of)


_ALL: Mapping[str, Measurement] = MappingProxyType(
    {row[0]: _measurement(row, "body") for row in _ROWS}
    | {row[0]: _measurement(row, "garment") for row in _GARMENT_ROWS}
)


def measurements() -> Mapping[str, Measurement]:
    """Every measurement by name, from head to foot, then those of garments.  Read-only."""
    return _ALL


def lookup(name: str) -> Measurement:
    """The measurement of that name.  Raises InputError, with the nearest name, if there is none."""
    if name in _ALL:
        return _ALL[name]
    if close := nearest_name(name):
        raise InputError.coded("measurement.misspelt", name=shown_name(name), near=close)
    raise InputError.coded("measurement.unknown", name=shown_name(name))


def nearest_name(name: str) -> str | None:
    """The measurement that a misspelt name or another word of the trade most likely means."""
    plain = name.strip().lower().replace(" ", "_").replace("-", "_")
    plain = plain.replace("circumference", "girth")  # the same in a longer word
    if plain in _ALL:
        return plain
    if plain in _TRADE_WORDS:
        return _TRADE_WORDS[plain]
    if f"{plain}_girth" in _ALL:
        return f"{plain}_girth"
    return nearest_to(plain, _ALL)


def shown_name(name: str) -> str:
    """A name in a message.  It is quoted unless it is a plain word."""
    plain = name.isascii() and name.replace("_", "").replace("-", "").isalnum()
    return name if plain and len(name) <= 60 else repr(name[:60])


def impossible_pairs(values: Mapping[str, float]) -> list[tuple[str, tuple[str, ...]]]:
    """The contradictions in these values, mm: a name and the one or two it exceeds."""
    pairs = [(shorter, (longer,)) for shorter, longer in NEVER_LONGER]
    return [
        (shorter, longer)
        for shorter, longer in [*pairs, *NEVER_LONGER_THAN_BOTH]
        if {shorter, *longer} <= values.keys()
        and values[shorter] > sum(values[name] for name in longer) + SAME
    ]


def contradictions(values: Mapping[str, float], unit: Unit = Unit.CM) -> list[InputError]:
    """An error for each contradiction in these values, mm.  It prints lengths in `unit`."""
    found = []
    for shorter, longer in impossible_pairs(values):
        told: dict[str, object] = {"name": shorter, "length": Length(values[shorter], unit)}
        for what, name in zip(("longer", "other"), longer, strict=False):
            told |= {what: name, f"{what}_length": Length(values[name], unit)}
        code = "measurement.longer" if len(longer) == 1 else "measurement.longer-than-both"
        found.append(InputError.coded(code, **told))
    return found
