"""The bodices against published drafts and ease ranges; the source is named beside each.

What is published differs from draft to draft by more than it says how fine it is, so each margin
is argued where it stands: mostly what one size (4 cm of bust, EN 13402-3) changes in that draft.
"""

from __future__ import annotations

import math
from itertools import pairwise
from statistics import median

import pytest
from bodice_samples import (
    ARM,
    BODY,
    INCH,
    WOMEN,
    curve,
    dart,
    drafted,
    intake,
    mark,
    opening,
    width_at,
    without,
)

from blockwright import InputError, distance
from blockwright_bodice.easy import EasyBodice
from blockwright_bodice.fitted import FittedBodice
from blockwright_sleeve.fitted import FittedSleeve

# The eases of the Japanese textbook block: half widths B/2 + 6 and W/2 + 3 cm (from memory).
TEXTBOOK = {"bust_ease": "12 cm", "waist_ease": "6 cm"}


@pytest.fixture(scope="module")
def textbook():
    pattern, proof = drafted(FittedBodice, BODY, **TEXTBOOK)
    assert proof.held
    return pattern


@pytest.fixture(scope="module")
def fitted():
    pattern, proof = drafted(FittedBodice, BODY)
    assert proof.held
    return pattern


def scye_depth(pattern) -> float:
    """Back neck point, which is the origin, down to the underarm."""
    return -curve(pattern, "back armhole").start.y


def depth_below_tip(pattern, side: str) -> float:
    armhole = curve(pattern, f"{side} armhole")
    return abs(armhole.start.y - armhole.end.y)


def armhole_width(pattern) -> float:
    """Half the bust line less what lies before and behind the arm, mm."""
    half = (pattern.measurements["bust_girth"] + pattern.options["bust_ease"]) / 2.0
    return half - mark(pattern, "across back").x + mark(pattern, "across front").x


# -- depth of the armhole ----------------------------------------------------------------------


def test_scye_depth_is_a_twelfth_of_the_bust_and_13_7(textbook) -> None:
    """B/12 + 13.7 cm, 20.6 at bust 83: a Japanese textbook block, from memory.  Within what a
    size changes there, 40/12 = 3.3 mm."""
    assert scye_depth(textbook) == pytest.approx(206.2, abs=40.0 / 12.0)


def test_scye_depth_is_a_quarter_of_the_arm_and_14(textbook) -> None:
    """Arm girth / 4 + 14 cm: US patent 4,899,448; 20.5 for an arm of 26.  Within what an
    ordinary 2 cm of arm changes there, 5 mm."""
    assert scye_depth(textbook) == pytest.approx(205.0, abs=5.0)


def test_scye_depth_is_a_sixth_of_the_bust_and_6() -> None:
    """bust/6 + 6 cm, 20.67 at bust 88: Sewing Lab Milano, lesson 3.  Within what a size changes
    there, 40/6 = 6.7 mm; the arm is the table's for that bust, 27.3 (from memory)."""
    pattern, _ = drafted(FittedBodice, without(bust_girth=880.0, upper_arm_girth=273.0))
    assert scye_depth(pattern) == pytest.approx(206.7, abs=40.0 / 6.0)


def test_scye_depth_of_real_women_lies_between_two_published_ones() -> None:
    """The patent's and the textbook's, above, on every tenth woman of the survey, where they are
    up to several centimetres apart; a millimetre for rounding."""
    apart = []
    for values in WOMEN[::10]:
        pattern, _ = drafted(FittedBodice, values)
        published = sorted(
            (values["bust_girth"] / 12.0 + 137.0, values["upper_arm_girth"] / 4.0 + 140.0)
        )
        assert published[0] - 1.0 <= scye_depth(pattern) <= published[1] + 1.0
        apart.append(published[1] - published[0])
    assert max(apart) > 5.0


def test_a_measured_scye_depth_is_5_mm_deeper() -> None:
    """Scye depth + 0.5 cm: a close-fitting block, from memory."""
    pattern, _ = drafted(FittedBodice, without(scye_depth=200.0))
    assert scye_depth(pattern) == pytest.approx(205.0, abs=0.1)


def test_easy_armhole_is_2_5_cm_deeper() -> None:
    """Armhole depth ease 2.5 cm: Sewing Lab Milano, lesson 3."""
    pattern, _ = drafted(EasyBodice, without(scye_depth=200.0))
    assert scye_depth(pattern) == pytest.approx(225.0, abs=0.1)


def test_front_armhole_is_an_inch_shallower(fitted) -> None:
    """Armhole depths 7 5/8 in back, 6 5/8 front: worked misses' example, retroglam.wordpress.com
    (basic sleeve), arm 11 1/2.  Ours is 3 cm shallower; a quarter inch for its rounding to whole
    inches.  The depths, for its bust of 34 and its arm, are within half an inch of it: a size
    changes ours by no more than a third of that, and the slope of its shoulder is not told."""
    assert depth_below_tip(fitted, "back") - depth_below_tip(fitted, "front") == pytest.approx(
        INCH, abs=INCH / 4.0
    )
    example = without(bust_girth=34.0 * INCH, upper_arm_girth=11.5 * INCH)
    pattern, _ = drafted(FittedBodice, example)
    assert depth_below_tip(pattern, "back") == pytest.approx(7.625 * INCH, abs=INCH / 2.0)
    assert depth_below_tip(pattern, "front") == pytest.approx(6.625 * INCH, abs=INCH / 2.0)


# -- widths ------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("ease", "half"),
    [
        # Bust ease 8 on bust 88, half width 48: Sewing Lab Milano, lesson 3.
        ("8 cm", 480.0),
        # bust/2 + 5: a close-fitting block; B/2 + 6: a Japanese textbook block; from memory.
        ("10 cm", 490.0),
        ("12 cm", 500.0),
        # chest/4 + 1 1/2 in a quarter: classroom draft, artvani-vani.blogspot.com.
        ("6 in", 440.0 + 3.0 * INCH),
    ],
)
def test_half_width_at_the_bust(ease: str, half: float) -> None:
    """Measured level through the bust point on outlines of straight lines, not by the proof."""
    pattern, _ = drafted(
        FittedBodice, without(bust_girth=880.0), bust_ease=ease, bust_dart="shoulder"
    )
    height = mark(pattern, "bust point").y
    found = sum(width_at(pattern.piece(name), height) for name in ("back", "front"))
    assert found == pytest.approx(half, abs=0.1)


def test_default_ease_is_the_lesson_s() -> None:
    """Bust ease 8 cm fitted: Sewing Lab Milano, lesson 3; also within NMSU C-228's 3 to 4 in."""
    assert FittedBodice.bust_ease.default == 80.0
    assert 3.0 * INCH <= FittedBodice.bust_ease.default <= 4.0 * INCH


def test_easy_ease_lies_between_fitted_and_loose() -> None:
    """Bust ease 8 cm fitted and 16 loose: Sewing Lab Milano, lesson 3; loose 10 to 20 cm:
    myhandmadewardrobepatterns.com."""
    assert 80.0 < EasyBodice.chest_ease.default < 160.0
    assert 100.0 <= EasyBodice.chest_ease.default <= 200.0


def test_waist_ease_is_over_the_least() -> None:
    """Waist 2 cm at the least: myhandmadewardrobepatterns.com.  A dress waist of 3/4 to 1 in
    (cwu.edu costume notes) is closer than our block, 0.6 of the bust ease (Sewing Lab Milano,
    lesson 3) 8 mm wider."""
    ease = FittedBodice.waist_ease.default
    assert ease >= 20.0
    assert 1.0 * INCH < ease < 0.6 * FittedBodice.bust_ease.default


def test_widths_across(textbook) -> None:
    """Back width B/8 + 7.4 and front width B/8 + 6.2 cm: a Japanese textbook block, from memory,
    17.8 and 16.6 at bust 83.  Ours has a tenth of the ease, 12 mm, over it in the back and agrees
    with the shoulder too; within 6 mm, a size and a little more (40/8 = 5)."""
    assert mark(textbook, "across back").x == pytest.approx(830.0 / 8.0 + 74.0, abs=6.0)
    assert -mark(textbook, "across front").x == pytest.approx(830.0 / 8.0 + 62.0, abs=6.0)
    # On the armhole itself, not only where the mark says.
    for name, side in (("across back", "back"), ("across front", "front")):
        at = mark(textbook, name)
        armhole = curve(textbook, f"{side} armhole")
        places = armhole.points_at([armhole.length * i / 400.0 for i in range(401)])
        assert min(math.dist(place, at) for place in places) < 0.5


def test_shoulder_is_as_long_as_the_textbook_draws_it(textbook) -> None:
    """12.42 cm at bust 83 (see the body): it and both widths are kept within 3 mm at once."""
    assert curve(textbook, "front shoulder").length == pytest.approx(124.2, abs=3.0)


def test_armhole_is_as_wide_as_a_quarter_of_the_arm_and_4(fitted) -> None:
    """Arm girth / 4 + 4 cm: US patent 4,899,448; 10.5 for an arm of 26.  Within what an ordinary
    2 cm of arm changes there, 5 mm, on our own ease."""
    assert armhole_width(fitted) == pytest.approx(105.0, abs=5.0)


def test_armhole_is_as_wide_as_the_textbook_s(textbook) -> None:
    """B/2 + 6 less both widths, B/4 - 7.6: 13.15 cm at bust 83, from memory.  Ours has 12 mm of
    the ease in the back width, which that block has not; within a size more, 10 mm."""
    assert armhole_width(textbook) == pytest.approx(131.5 - 6.0, abs=10.0)


def test_most_of_the_ease_goes_to_the_armhole() -> None:
    """20 % of the ease to the back, 80 % to the armhole, none to the front: Sewing Lab Milano,
    lesson 3.  The finished shoulder hides part of the back's; within a tenth of the ease."""
    bare, eased = (drafted(FittedBodice, BODY, bust_ease=e)[0] for e in ("6 cm", "14 cm"))
    more = armhole_width(eased) - armhole_width(bare)
    assert more == pytest.approx(0.8 * 40.0, abs=4.0)
    front = mark(bare, "across front").x - mark(eased, "across front").x
    back = mark(eased, "across back").x - mark(bare, "across back").x
    assert 0.0 < back < 0.2 * 40.0
    assert abs(front) < 4.0


# -- neck and shoulder -------------------------------------------------------------------------


def test_neck_widths(textbook) -> None:
    """Front B/24 + 3.4 cm, back 2 mm more: a Japanese textbook block, from memory; neck/5 - 0.7
    and - 0.2: a close-fitting block, from memory.  Ours lies between in front."""
    back, front = curve(textbook, "back neck").start, curve(textbook, "front neck").end
    assert back.x == pytest.approx(830.0 / 24.0 + 36.0, abs=0.5)
    assert back.x == pytest.approx(363.0 / 5.0 - 2.0, abs=0.1)
    assert -front.x == pytest.approx(830.0 / 24.0 + 34.0, abs=0.5)
    assert 363.0 / 5.0 - 7.0 <= -front.x <= 363.0 / 5.0 - 2.0


def test_front_neck_depth(textbook) -> None:
    """B/24 + 3.9 cm, 7.36 at bust 83, and neck/5 - 0.2, 7.06: two textbook blocks, from memory.
    Ours is what the neck girth leaves; within 10 mm, 9 mm of half a neck line, whose ease these
    drafts do not tell."""
    neck = curve(textbook, "front neck")
    depth = neck.end.y - neck.start.y
    assert depth == pytest.approx(830.0 / 24.0 + 39.0, abs=10.0)
    assert depth == pytest.approx(363.0 / 5.0 - 2.0, abs=10.0)


def test_back_neck_rises_an_inch(textbook) -> None:
    """Back neck 3 in wide raised 1: Rosenfeld, First Foundation Lines (wikisource), size 36; a
    third of its width, as ours."""
    neck = curve(textbook, "back neck").start
    assert neck.y / neck.x == pytest.approx(1.0 / 3.0, abs=0.01)
    assert neck.y == pytest.approx(INCH, abs=0.1 * INCH)


def test_shoulders_fall_22_and_18_degrees(textbook) -> None:
    """Front 22, back 18: a Japanese textbook block, from memory."""
    for side, fall in (("front", 22.0), ("back", 18.0)):
        neck = curve(textbook, f"{side} neck")
        armhole = curve(textbook, f"{side} armhole")
        at_neck, tip = (neck.end, armhole.start) if side == "front" else (neck.start, armhole.end)
        found = math.degrees(math.atan2(at_neck.y - tip.y, abs(tip.x - at_neck.x)))
        assert found == pytest.approx(fall, abs=0.1)


def test_shoulder_slope_of_22_and_a_half_is_within_the_defaults_reach() -> None:
    """22 1/2 degrees each side: Hertzer (bitlit.ru, p. 42), and the mean of the FAA's; ours is
    20, from the textbook's 22 and 18.  Drops run from under 1 in to almost 4 (customshirt1.com),
    so 2 1/2 degrees, 5 mm at the tip, is near; and it can be asked for."""
    assert FittedBodice.shoulder_slope.default == pytest.approx(22.5, abs=2.5)
    pattern, proof = drafted(FittedBodice, BODY, shoulder_slope="22.5")
    assert proof.held
    front, back = curve(pattern, "front shoulder"), curve(pattern, "back armhole").end
    neck = curve(pattern, "back neck").start
    falls = [
        math.degrees(math.atan2(abs(b.y - a.y), abs(b.x - a.x)))
        for a, b in ((front.start, front.end), (neck, back))
    ]
    assert sum(falls) / 2.0 == pytest.approx(22.5, abs=0.1)


@pytest.mark.parametrize("block", [FittedBodice, EasyBodice])
def test_an_eased_back_shoulder_is_a_quarter_inch_longer(block) -> None:
    """Back shoulder 1/4 in longer than the front one, which is stretched to it: Woman's
    Encyclopaedia 4 (chestofbooks).  Ours is 6 mm, which shops call a quarter."""
    pattern, proof = drafted(block, BODY, back_shoulder="ease")
    assert proof.held
    longer = curve(pattern, "back shoulder").length - curve(pattern, "front shoulder").length
    assert longer == pytest.approx(INCH / 4.0, abs=0.5)


def test_back_shoulder_dart(textbook) -> None:
    """1 cm wide (a close-fitting block) and B/32 - 0.8, 1.79 cm (a Japanese textbook block), both
    from memory: ours lies between."""
    assert 10.0 <= intake(textbook, "shoulder dart") <= 830.0 / 32.0 - 8.0


# -- darts -------------------------------------------------------------------------------------


def test_bust_dart_angle(textbook) -> None:
    """(B/4 - 2.5) degrees, 18.25 at bust 83: a Japanese textbook block, from memory.  Ours is
    measured, not proportioned: within 4 degrees, 7 mm across it 10 cm from its point."""
    assert opening(textbook, "bust dart") == pytest.approx(83.0 / 4.0 - 2.5, abs=4.0)


def test_bust_dart_angle_on_real_women() -> None:
    """The same on every tenth woman, by the median, and on no one twice or half of it."""
    off = []
    for values in WOMEN[::10]:
        pattern, _ = drafted(FittedBodice, values)
        published = values["bust_girth"] / 40.0 - 2.5
        found = opening(pattern, "bust dart")
        assert published / 2.0 < found < 2.0 * published
        off.append(found - published)
    assert abs(median(off)) < 4.0


def test_bust_dart_takes_what_the_front_is_longer() -> None:
    """Side dart = front length over the bust less back length; 2 cm over a dart of 13 cm open it
    by 2 atan(1/13): thesewingcorner.blogspot.dk, 2012/10.  So 2 cm more of front length open ours
    by 2 atan(1 cm / the way to the side); within half a degree, since our side seam leans."""
    angles = []
    for longer in (420.0, 440.0):
        pattern, _ = drafted(FittedBodice, without(side_neck_point_to_waist=longer))
        angles.append(opening(pattern, "bust dart"))
    piece, found = dart(pattern, "bust dart")
    across = abs(piece.dart_legs(found)[1].x - found.apex.x)
    assert 100.0 < across < 140.0
    more = math.degrees(2.0 * math.atan(10.0 / across))
    assert angles[1] - angles[0] == pytest.approx(more, abs=0.5)


def test_front_is_as_high_over_the_bust_line(textbook) -> None:
    """B/5 + 8.3 cm from side neck point to bust line, 24.9 at bust 83: a Japanese textbook block,
    from memory.  Within what a size changes there, 8 mm."""
    neck = curve(textbook, "front neck").end
    assert neck.y - mark(textbook, "bust point").y == pytest.approx(249.0, abs=8.0)


def test_waist_darts_take_the_textbook_s_total(textbook) -> None:
    """(B/2 + 6) - (W/2 + 3), 12.5 cm at 83 and 64, of which the front takes 14 + 15 %: a Japanese
    textbook block, from memory.  Ours take a little more, since a waist drawn square to its seams
    is longer than level: within 5 mm; the share of the front within 2 %."""
    total = next(s.value for s in textbook.solved if s.name.startswith("waist suppression"))
    assert total == pytest.approx(125.0, abs=5.0)
    assert intake(textbook, "front waist dart") / total == pytest.approx(0.29, abs=0.02)
    # What lies in the seam and the darts is that total, measured on the pieces.
    back = curve(textbook, "back side")
    upper, front = (edge.curve for edge in textbook.stretches("front side"))
    lean = abs(back.start.x - back.end.x)
    # The front's side is open below the dart: its whole lean is that of the lower part, longer.
    lean += abs(front.end.x - front.start.x) * (front.length + upper.length) / front.length
    darts = intake(textbook, "front waist dart") + intake(textbook, "back waist dart")
    assert darts + lean == pytest.approx(total, abs=0.5)


# -- with its sleeve ---------------------------------------------------------------------------


@pytest.fixture(scope="module")
def sets():
    made = []
    for values in (BODY | ARM, *WOMEN[::10]):
        try:
            made.append(drafted([FittedBodice, FittedSleeve], values)[0])
        except InputError:
            continue
    assert len(made) > 45
    return made


def armholes(pattern) -> tuple[float, float]:
    return tuple(curve(pattern, f"bodice {side} armhole").length for side in ("back", "front"))


def test_cap_ease_is_what_textbooks_give(sets) -> None:
    """Textbooks usually 1 to 1 1/2 in: madalynne.com (sleeve cap ease), a millimetre for the shop
    inch; at least 1/2 in, gathers from 1 in up: sewandso.wordpress.com."""
    for pattern in sets:
        ease = curve(pattern, "sleeve cap").length - sum(armholes(pattern))
        assert INCH - 1.0 <= ease <= 1.5 * INCH


def test_cap_height_is_a_quarter_to_a_third_of_the_armhole(sets) -> None:
    """4 in at an armhole of 16: School Sewing (chestofbooks); a third of it: men's shirt lesson,
    opensourcestitches.wordpress.com.  Ours is solved for the ease and lies between by the
    median."""
    shares = []
    for pattern in sets:
        (height,) = (s.value for s in pattern.solved if s.name == "cap height")
        shares.append(height / sum(armholes(pattern)))
    assert 1.0 / 4.0 < median(shares) < 1.0 / 3.0


def test_side_seam_begins_at_half_the_armhole(sets) -> None:
    """Top of the side seam at half the armhole: D. McCunn, patternmaking-classes.com; within
    5/8 in, a seam allowance (fitforartpatterns.com)."""
    for pattern in sets:
        back, front = armholes(pattern)
        assert front < back
        assert (back - front) / 2.0 < 5.0 / 8.0 * INCH


def test_notches_are_single_in_front_and_double_behind(sets) -> None:
    """natalieinstitches.com and rowena.typepad.com."""
    for pattern in sets[:3]:
        for side, count in (("front", 1), ("back", 2)):
            (notch,) = pattern.notches_on(f"bodice {side} armhole")
            assert notch.count == count


def test_neck_and_waist_are_square_to_the_fold(textbook) -> None:
    """Right angles at centre front and centre back: project-patterns.co.uk (all corners of a
    block square), measured 5 mm from the corner, where the neck has turned by under 5 degrees."""
    for side in ("back", "front"):
        piece = textbook.piece(side)
        (fold,) = [edge for edge in piece.edges if edge.role == "fold"]
        for first, second in pairwise([piece.before(fold.name), fold, piece.after(fold.name)]):
            a, b = first.curve, second.curve
            assert distance(a.end, b.start) < 1e-3
            before, after = a.end - a.point_at(a.length - 5.0), b.point_at(5.0) - b.start
            angle = math.degrees(math.atan2(before.cross(after), before.dot(after)))
            assert angle == pytest.approx(90.0, abs=5.0)
