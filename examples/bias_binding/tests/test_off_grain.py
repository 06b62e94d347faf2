"""The kind of promise: measured, carried through changes, written and read again."""

from __future__ import annotations

import json
import math
import os
import subprocess
import sys
from collections.abc import Callable
from concurrent.futures import ProcessPoolExecutor
from dataclasses import replace
from itertools import pairwise
from multiprocessing import get_context
from pathlib import Path

import pytest

from bias_binding.block import BoundPocket
from bias_binding.off_grain import OffGrain
from blockwright import (
    Affine,
    Became,
    BodySheet,
    Carried,
    Curve,
    Document,
    Draft,
    Edge,
    GivenUp,
    InputError,
    InputErrors,
    Lineage,
    Pattern,
    PatternError,
    Point,
    Proof,
    Reason,
    Ref,
    Unit,
    Way,
    arc_between,
    as_document,
    draft,
    from_document,
    join,
    line,
    load,
    move_dart,
    prove,
    spread,
    take_in,
)

SHEET = BodySheet.from_values({"hand_girth": 19.5}, units="cm", name="Invented hand")
STRIP = Ref("test.strip", "strip on the bias")
MOUTH = Ref("pocket.bound", "mouth on the bias")
LEAST, MOST = "off-grain.least", "off-grain.most"


def strip(
    lower: Curve | None = None, *, grain: float = 45.0, wanted: tuple[float, float] = (44.0, 46.0)
) -> Pattern:
    """A strip 200 mm long, its grain so many degrees from its length, its lower edge promised."""
    a, b, c, e = Point(0, 0), Point(200, 0), Point(200, 40), Point(0, 40)
    sides = ("end", b, c), ("upper", c, e), ("start", e, a)
    rest = [Edge(name, line(first, last), "hem") for name, first, last in sides]
    edges = [Edge("lower", lower or line(a, b), "hem"), *rest]
    step = Point.polar(10.0, math.radians(grain))
    d = Draft("test.strip", "Strip")
    d.piece("strip", edges, grain=(Point(100, 22) - step, Point(100, 22) + step))
    d.promise(OffGrain(d.ref("strip on the bias"), d.ref("lower"), wanted))
    return d.pattern()


def pocket() -> Pattern:
    return draft(BoundPocket, SHEET)


def angles(proof: Proof, name: str) -> tuple[float, float]:
    """Least and greatest angle that were measured of a promise."""
    found = {each.code: each.measured for each in proof.results if each.subject.name == name}
    assert found.keys() == {LEAST, MOST}
    return found[LEAST], found[MOST]


def off_grain(pattern: Pattern) -> dict[str, OffGrain]:
    promises = (each for each in pattern.promises if isinstance(each, OffGrain))
    return {promise.name: promise for promise in promises}


# -- measured ------------------------------------------------------------------------------


def test_a_strip_on_the_bias_holds() -> None:
    proof = prove(strip())
    assert proof.held
    least, most = proof.results[-2:]
    assert (least.code, most.code) == (LEAST, MOST)
    for result in (least, most):
        assert (result.subject, result.kind, result.quantity) == (STRIP, "off-grain", "angle")
        assert result.wanted == (44.0, 46.0)
        assert result.measured == pytest.approx(45.0, abs=1e-9)


@pytest.mark.parametrize(
    ("grain", "angle"),
    [(0.0, 0.0), (30.0, 30.0), (90.0, 90.0), (120.0, 60.0), (180.0, 0.0), (225.0, 45.0)],
)
def test_the_angle_is_to_either_side_of_the_grain(grain: float, angle: float) -> None:
    found = angles(prove(strip(grain=grain)), STRIP.name)
    assert found == pytest.approx((angle, angle), abs=1e-9)


def test_a_bare_angle_is_held_but_for_rounding() -> None:
    for turn in range(0, 360, 15):
        pattern = strip(grain=turn, wanted=(45.0, 45.0))
        assert prove(pattern).held == (turn % 90 == 45)
        assert not prove(strip(grain=turn + 1e-4, wanted=(45.0, 45.0))).held


def test_a_piece_turned_against_its_grain_breaks_it() -> None:
    pattern = pocket()
    piece = pattern.piece("binding")
    grain = piece.grain
    about = grain[0].between(grain[1])
    turned = piece.moved(Affine.turn(math.radians(5.0), about))
    assert prove(pattern.with_piece(turned)).held, "the grain is turned with it"

    proof = prove(pattern.with_piece(replace(turned, grain=grain)))
    names = ["outer edge on the bias", "inner edge on the bias"]
    assert [(each.code, each.subject.name) for each in proof.broken] == [
        (code, name) for name in names for code in (LEAST, MOST)
    ]
    for name in names:
        assert angles(proof, name) == pytest.approx((40.0, 40.0), abs=1e-9)
    assert [proof.off(each) for each in proof.broken] == ["4.00°"] * 4


def test_an_edge_that_is_bent_breaks_it_at_both_ends_of_the_range() -> None:
    bent = arc_between(Point(0, 0), Point(200, 0), math.radians(20.0))
    proof = prove(strip(bent))
    assert angles(proof, STRIP.name) == pytest.approx((35.0, 55.0), abs=1e-6)
    assert [each.code for each in proof.broken] == [LEAST, MOST]


def test_a_short_bend_in_a_long_edge_is_seen() -> None:
    dent = [Point(100, 0), Point(100.4, -0.4), Point(100.8, 0)]
    corners = [Point(0, 0), *dent, Point(200, 0)]
    lower = join([line(a, b) for a, b in pairwise(corners)])
    assert angles(prove(strip(lower)), STRIP.name) == pytest.approx((0.0, 90.0), abs=1e-6)


def test_an_end_that_runs_out_is_seen() -> None:
    """Straight, and then on over 20 degrees of an arc to the side that the grain goes to."""
    turns = Point(150, 0), Point(150, 0) + Point.polar(50.0, math.radians(10.0))
    lower = join([line(Point(0, 0), turns[0]), arc_between(*turns, math.radians(20.0))])
    assert angles(prove(strip(lower)), STRIP.name) == pytest.approx((25.0, 45.0), abs=1e-6)


def test_rows_of_the_proof_are_in_its_own_words() -> None:
    text = prove(strip(grain=50.0)).text(Unit.CM)
    rows = [" ".join(row.split()) for row in text.splitlines()]
    assert [*rows[-4:-2], rows[-1]] == [  # the opening stands before the verdict
        "BROKEN off grain: strip on the bias: least 44.0° to 46.0° 50.0° 4.00°",
        "BROKEN off grain: strip on the bias: most 44.0° to 46.0° 50.0° 4.00°",
        f"test.strip: UNPROVED, 2 of {len(prove(strip()).results)} promises broken",
    ]


def test_an_edge_that_is_not_there_is_told_with_the_promise() -> None:
    d = Draft("test.strip", "Strip")
    d.promise(OffGrain(d.ref("strip on the bias"), d.ref("lover"), (44.0, 46.0)))
    with pytest.raises(PatternError, match=r"^off-grain 'strip on the bias': .*no edge 'lover'"):
        prove(d.pattern())


def test_in_a_set_rows_begin_with_the_word_of_the_block() -> None:
    sheet = load().bodies["survey"].sheet("female-17")
    blocks = [load().block("skirt.circle"), load().block("pocket.bound")]
    pattern = draft(blocks, sheet)
    proof = prove(pattern)
    assert proof.held
    ours = [each for each in proof.results if each.kind == "off-grain"]
    assert {each.subject.block for each in ours} == {"pocket.bound"}
    assert "off grain: pocket mouth on the bias: least" in map(proof.say, ours)


# -- carried -------------------------------------------------------------------------------


def opening(pattern: Pattern) -> float:
    """How far open the dart at the foot of the pocket is, degrees."""
    piece = pattern.piece("pocket")
    dart = piece.dart("foot dart")
    first, second = (leg - dart.apex for leg in piece.dart_legs(dart))
    angle = math.degrees(second.angle - first.angle)
    assert angle > 20.0
    return angle


def test_it_holds_on_the_side_that_a_dart_move_leaves() -> None:
    before = pocket()
    moved, _ = move_dart(
        before, "pocket", "foot dart", "right side", 60.0, pressed="start", says="pressed down"
    )
    assert off_grain(moved) == off_grain(before)
    assert moved.given_up == ()
    proof = prove(moved)
    assert angles(proof, MOUTH.name) == pytest.approx((45.0, 45.0), abs=1e-9)
    assert proof.held


def test_it_breaks_where_a_dart_move_turns_its_edge() -> None:
    """The part of the mouth beyond the new dart is turned by as much as the old one was open."""
    before = pocket()
    along = 0.4 * before.length("mouth")
    moved, _ = move_dart(
        before, "pocket", "foot dart", "mouth", along, pressed="end", says="pressed to the left"
    )
    assert off_grain(moved) == off_grain(before), "the same is promised"
    assert len(moved.stretches("mouth")) == 2
    proof = prove(moved)
    assert angles(proof, MOUTH.name) == pytest.approx((45.0, 45.0 + opening(before)))
    assert MOUTH in {each.subject for each in proof.broken}


def test_an_edge_that_is_turned_whole_has_another_angle() -> None:
    before = pocket()
    side = OffGrain(Ref("pocket.bound", "side"), Ref("pocket.bound", "right side"), (0.0, 90.0))
    before = replace(before, promises=(*before.promises, side))
    along = 0.4 * before.length("mouth")
    moved, _ = move_dart(
        before, "pocket", "foot dart", "mouth", along, pressed="end", says="pressed to the left"
    )
    (was, _), now = angles(prove(before), "side"), angles(prove(moved), "side")
    turned = was - opening(before)
    assert now == pytest.approx((turned, turned)), "toward the grain, as the mouth is away from it"


def test_a_dart_moved_there_and_back_holds_again() -> None:
    before = pocket()
    at = before.piece("pocket").stretches("foot")[0].curve.length
    there, _ = move_dart(
        before, "pocket", "foot dart", "mouth", 50.0, pressed="end", says="pressed to the left"
    )
    back, _ = move_dart(
        there, "pocket", "foot dart", "foot", at, pressed="end", says="pressed to the right"
    )
    assert not prove(there).held
    assert prove(back).held
    assert off_grain(back) == off_grain(before)


def test_other_changes_carry_it_too() -> None:
    before = pocket()
    wide, _ = spread(before, "pocket", "foot dart", "mouth", 50.0)
    in_side, _ = take_in(before, "pocket", "foot dart", "right side", 100.0)
    for changed in (wide, in_side):
        assert off_grain(changed) == off_grain(before)
    assert MOUTH in {each.subject for each in prove(wide).broken}
    assert MOUTH not in {each.subject for each in prove(in_side).broken}


def one(pattern: Pattern) -> OffGrain:
    (promise,) = off_grain(pattern).values()
    return promise


def test_it_goes_with_the_edge_that_its_edge_became() -> None:
    pattern = strip()
    other = Ref("test.strip", "upper")
    for way in (Way(other), -Way(other)):
        lineage = Lineage(pattern, edges={Ref("test.strip", "lower"): Became((way,))})
        assert one(pattern).carried(lineage) == Carried((replace(one(pattern), edge=other),))


def test_it_is_given_up_where_its_edge_is_gone() -> None:
    pattern = strip()
    edge = Ref("test.strip", "lower")
    why = Reason("off-grain.gone", {"edge": edge})
    lineage = Lineage(pattern, edges={edge: Became()})
    assert one(pattern).carried(lineage) == Carried((one(pattern),), why)


def test_why_its_edge_is_gone_is_kept() -> None:
    pattern, why = strip(), Reason("gone")
    lineage = Lineage(pattern, edges={Ref("test.strip", "lower"): Became(why=why)})
    assert one(pattern).carried(lineage) == Carried((one(pattern),), why)


def test_it_is_given_up_where_its_edge_is_several() -> None:
    pattern = strip()
    edge = Ref("test.strip", "lower")
    run = Way(Ref("test.strip", "upper")), Way(Ref("test.strip", "end"))
    why = Reason("off-grain.parted", {"edge": edge})
    lineage = Lineage(pattern, edges={edge: Became(run)})
    assert one(pattern).carried(lineage) == Carried((one(pattern),), why)


def given_up(code: str) -> Pattern:
    """A strip whose only promise of this kind was given up."""
    pattern = strip()
    why = Reason(code, {"edge": one(pattern).edge})
    return replace(pattern, promises=(), given_up=(GivenUp(one(pattern), why, 0),))


@pytest.mark.parametrize(
    ("code", "says"),
    [
        ("off-grain.gone", "'lower' is gone, so that nothing lies at its angle"),
        ("off-grain.parted", "'lower' is several edges now; promise the angle of each"),
    ],
)
def test_a_proof_says_why_it_was_given_up(code: str, says: str) -> None:
    text = prove(given_up(code)).text(Unit.CM)
    assert f"given up: off-grain strip on the bias, {says}" in text.splitlines()


# -- written and read again ----------------------------------------------------------------


def turned() -> Pattern:
    """A pocket whose dart was moved to its mouth, so that a promise is broken."""
    moved, _ = move_dart(
        pocket(), "pocket", "foot dart", "mouth", 50.0, pressed="end", says="pressed to the left"
    )
    return moved


PATTERNS: dict[str, Callable[[], Pattern]] = {
    "held": pocket,
    "broken": turned,
    "given up": lambda: given_up("off-grain.gone"),
    "no end": lambda: strip(wanted=(0.0, math.inf)),
}


@pytest.mark.parametrize("name", PATTERNS)
def test_it_is_written_and_read_again_equal(name: str) -> None:
    pattern = PATTERNS[name]()
    values = json.loads(json.dumps(as_document(pattern), allow_nan=False))
    for each in (values, as_document(pattern)):
        read = from_document(each, load().promise)
        assert read == pattern
        assert prove(read) == prove(pattern)


@pytest.mark.parametrize("name", PATTERNS)
def test_the_json_format_reads_it(name: str) -> None:
    pattern = PATTERNS[name]()
    form = load().format("json")
    assert form.read is not None
    data = form.write(Document(pattern, prove(pattern), Unit.IN))
    read = form.read(data, "strip.json")
    assert read.pattern is not None
    assert (read.pattern, read.unit) == (pattern, Unit.IN)
    assert form.write(Document(read.pattern, prove(read.pattern), Unit.IN)) == data


def test_its_values_are_plain() -> None:
    (values,) = as_document(strip())["pattern"]["promises"]
    assert values == {
        "kind": "off-grain",
        "ref": {"block": "test.strip", "name": "strip on the bias"},
        "edge": {"block": "test.strip", "name": "lower"},
        "angle": [44.0, 46.0],
    }


@pytest.mark.parametrize(
    ("wrong", "says"),
    [
        (
            {"edge": {"block": "test.strip", "name": "lover"}},
            "off-grain 'strip on the bias'.*lover",
        ),
        ({"angle": [44.0]}, "angle"),
        ({"angle": ["a lot", 46.0]}, r"angle\[0\]"),
        ({"slope": 45.0}, "slope"),
    ],
)
def test_what_is_wrong_in_a_file_is_told(wrong: dict[str, object], says: str) -> None:
    values = as_document(strip())
    values["pattern"]["promises"][0] |= wrong
    with pytest.raises(InputError, match=says):
        from_document(values, load().promise)


def test_without_the_package_the_kind_is_not_known() -> None:
    with pytest.raises(InputErrors, match="'off-grain'; install the plugin that has it"):
        from_document(as_document(strip()))


def run(*words: str, only: str = "") -> subprocess.CompletedProcess[str]:
    """The command line that was installed beside this Python."""
    command = [str(Path(sys.executable).with_name("blockwright")), *words]
    env = {**os.environ, "PYTHONUTF8": "1", "BLOCKWRIGHT_PLUGINS": only}
    return subprocess.run(
        command, capture_output=True, text=True, encoding="utf-8", env=env, check=False
    )


def written(pattern: Pattern, folder: Path) -> Path:
    """A pattern as JSON in a file."""
    path = folder / "pattern.json"
    path.write_bytes(load().format("json").write(Document(pattern, prove(pattern), Unit.CM)))
    return path


def test_the_command_line_converts_a_draft(tmp_path: Path) -> None:
    path = written(pocket(), tmp_path)
    done = run("convert", str(path), "--format", "svg,json", "--out", str(tmp_path / "out"))
    assert (done.returncode, done.stderr) == (0, "")
    assert "off grain: mouth on the bias: least" in done.stdout
    assert (tmp_path / "out" / "pattern.svg").stat().st_size > 0
    assert (tmp_path / "out" / "pattern.json").read_bytes() == path.read_bytes()


def test_the_command_line_tells_what_is_broken(tmp_path: Path) -> None:
    path = written(strip(grain=50.0), tmp_path)
    done = run("convert", str(path), "--format", "svg", "--out", str(tmp_path / "out"))
    assert done.returncode == 1
    rows = [line for line in done.stdout.splitlines() if line.startswith("BROKEN")]
    assert len(rows) == 2
    assert all("off grain: strip on the bias" in row for row in rows)


def test_the_command_line_tells_what_it_lacks(tmp_path: Path) -> None:
    path = written(pocket(), tmp_path)
    done = run(
        "convert", str(path), "--format", "svg", "--out", str(tmp_path / "out"), only="formats"
    )
    assert done.returncode == 2
    assert "no kind of promise is called 'off-grain'; install the plugin" in done.stderr
    assert "Traceback" not in done.stderr


# -- handed round --------------------------------------------------------------------------


def test_the_host_finds_nothing_wrong() -> None:
    host = load(only=["bias-binding"]).checked()
    assert host.faults == []
    assert host.promise("off-grain") is OffGrain
    assert host.block("pocket.bound") is BoundPocket


def test_it_travels_between_processes() -> None:
    """A process that knows nothing yet imports the kind when a pattern comes in."""
    pattern = turned()
    with ProcessPoolExecutor(1, mp_context=get_context("spawn")) as pool:
        drafted = pool.submit(draft, BoundPocket, SHEET).result()
        proof = pool.submit(prove, pattern).result()
    assert drafted == pocket()
    assert proof == prove(pattern)
    assert proof.text(Unit.CM) == prove(pattern).text(Unit.CM)
