"""Both doors of the conformance kit: `conformance` in pytest, `check_block` everywhere else."""

from __future__ import annotations

import pytest
from broken_blocks import Endless, HemBeginsElsewhere, RefusesMany, Tube
from kit_samples import (
    REASON,
    Band,
    BandOnItsOwn,
    EndlessAtAnEnd,
    EndlessForOne,
    IdleBand,
    Known,
    Lining,
    Mended,
    Misspelt,
    NotchedWaisted,
    OptionOfNoUse,
    Sash,
    SashOfTwoRules,
    Waisted,
    with_traits,
)

from blockwright import Block, InputError, Traits, blocks_in, load
from blockwright.testing.bodies import FEW, Body, few, many
from blockwright.testing.pytest_plugin import conformance
from blockwright.testing.run import CHECKS, CheckResult, Report, at_once, check_block
from blockwright.testing.trial import Trial, TrialOutcome

pytest_plugins = "pytester"

BODIES = 3
ON_BODY = [name for name, check in CHECKS.items() if check.on == "body"]
AT_ONCE = len(CHECKS) - len(ON_BODY)
FILE = """
from broken_blocks import *
from kit_samples import *
from blockwright.testing import conformance
test_it = conformance({})
"""


def failed(report: Report) -> list[str]:
    return [result.check for result in report.results if result.status == "failed"]


@pytest.fixture
def run(pytester, monkeypatch):
    """Run a test file of one line, in this process, and give what pytest says of it."""
    monkeypatch.setenv("PYTHONDONTWRITEBYTECODE", "1")

    def run_file(call: str, *options: str):
        pytester.makepyfile(FILE.format(call))
        return pytester.runpytest_inprocess("-p", "no:cacheprovider", "-p", "no:xdist", *options)

    return run_file


@pytest.fixture
def three_of_the_few(monkeypatch):
    """The slow checks look at a middling body and two extreme ones, not at a dozen."""
    for module in ("run", "bodies", "change_checks"):
        monkeypatch.setattr(f"blockwright.testing.{module}.few", lambda blocks: few(blocks)[:3])


# -- pytest --------------------------------------------------------------------------------------


def test_one_line_is_a_test_for_every_check_and_body(run) -> None:
    result = run("Tube", "--collect-only", "-q", "--blockwright-bodies", f"{BODIES}")
    ids = [line for line in result.outlines if "::" in line]
    assert len(ids) == AT_ONCE + BODIES * len(ON_BODY)
    assert len(set(ids)) == len(ids)
    bodies = [body.name for body in many([Tube], BODIES)]
    at = "test_one_line_is_a_test_for_every_check_and_body.py::test_it"
    assert [each for each in ids if "outline-closes" in each] == [
        f"{at}[tube.plain-outline-closes-{body}]" for body in bodies
    ]
    assert f"{at}[tube.plain-repeatable]" in ids


def test_a_dozen_bodies_when_not_told_otherwise(run) -> None:
    result = run("Tube", "--collect-only", "-q")
    ids = [line for line in result.outlines if "::" in line]
    assert len(ids) == AT_ONCE + FEW * len(ON_BODY)


@pytest.mark.usefixtures("three_of_the_few")
def test_a_good_block_passes(run) -> None:
    result = run("Tube", "--blockwright-bodies", f"{BODIES}")
    result.assert_outcomes(passed=AT_ONCE + BODIES * len(ON_BODY))


def test_a_failing_check_fails_with_its_message_and_nothing_round_it(run) -> None:
    call = "HemBeginsElsewhere, checks=['outline-closes', 'drafts']"
    result = run(call, "--blockwright-bodies=2", "--tb=long")
    result.assert_outcomes(failed=2, passed=2)
    message = "piece 'panel' does not close: edge 'left' ends 3.000 mm from where 'hem' begins*"
    result.stdout.fnmatch_lines(["*tube.plain-outline-closes-survey:female-*", message])
    result.stdout.no_fnmatch_line("*pytest_plugin.py*")


def test_a_known_failure_is_expected(run) -> None:
    call = "Known, checks=['outline-closes', 'drafts']"
    result = run(call, "-rx", "--blockwright-bodies=2")
    result.assert_outcomes(xfailed=1, passed=2)
    result.stdout.fnmatch_lines([f"XFAIL *tube.plain-outline-closes* - {REASON}"])


def test_a_known_failure_that_passes_is_a_failure(run) -> None:
    result = run("Mended, checks=['outline-closes', 'drafts']")
    result.assert_outcomes(failed=1, passed=FEW)
    result.stdout.fnmatch_lines([f"*XPASS(strict)* {REASON}"])


def test_some_checks_alone(run) -> None:
    result = run("Tube, checks=('outline-closes', 'block-is-named')", "--blockwright-bodies=2")
    result.assert_outcomes(passed=3)


@pytest.mark.parametrize("call", ["Tube, checks=['outline-close']", "Misspelt"])
def test_a_check_that_does_not_exist_is_told_in_one_line(run, call: str) -> None:
    result = run(call)
    result.assert_outcomes(errors=1)
    wanted = "test_it: no check 'outline-close'; did you mean outline-closes?*"
    assert len([line for line in result.outlines if line.startswith(wanted[:-1])]) == 1
    result.stdout.no_fnmatch_line("*Traceback*")
    result.stdout.no_fnmatch_line("*During handling*")


def test_no_bodies_are_refused(run) -> None:
    result = run("Tube", "--blockwright-bodies", "0")
    result.assert_outcomes(errors=1)
    result.stdout.fnmatch_lines(["test_it: a block cannot be tried on 0 bodies; give 1 or more"])


def test_a_block_without_a_key_is_only_named(run) -> None:
    result = run("CapitalKey")
    result.assert_outcomes(failed=1)
    result.stdout.fnmatch_lines(["*CapitalKey.key 'Tube.Plain' is not lower-case words*"])


def test_a_block_that_never_ends_fails_once_and_for_all(run) -> None:
    """The test that waited for it, and fast-enough; the others are skipped."""
    result = run("Endless", "--blockwright-bodies", "2")
    on_class = sum(check.on == "block" for check in CHECKS.values())
    undrafted = on_class + 1  # takes-are-offered asks the classes alone
    others = AT_ONCE + 2 * len(ON_BODY) - undrafted - 2
    result.assert_outcomes(failed=2, passed=undrafted, skipped=others)
    result.stdout.fnmatch_lines(
        [
            "*tube.endless-drafts-survey:*",
            "*tube.endless took longer than 1 s*",
            "*tube.endless-fast-enough*",
            "*tube.endless took longer than 1 s*",
        ]
    )


def test_several_blocks_and_one_beside_them(run) -> None:
    call = "Band, Lining, beside=[Waisted], checks=['proof-holds']"
    result = run(call, "--blockwright-bodies=2", "-v")
    result.assert_outcomes(passed=4)
    result.stdout.fnmatch_lines(
        ["*[[]band.plain-proof-holds-survey:*", "*[[]lining.plain-proof-holds-survey:*"]
    )


@pytest.mark.parametrize("what", ["tube.plain", Tube({}), dict, None])
def test_what_is_no_block_is_refused_where_it_is_written(what) -> None:
    with pytest.raises(InputError, match="is not a Block class"):
        conformance(what)


def test_one_beside_it_or_one_check_is_given_in_a_list() -> None:
    with pytest.raises(InputError, match=r"beside is Waisted; give a list, \[Waisted\]"):
        conformance(Band, beside=Waisted)
    with pytest.raises(InputError, match=r"checks is 'drafts'; give a list, \['drafts'\]"):
        conformance(Band, checks="drafts")


def test_nothing_to_try_is_refused() -> None:
    with pytest.raises(InputError, match="give one block or more"):
        conformance()


# -- everything else -----------------------------------------------------------------------------


STATED = (
    "corner 'top over the dart' is 160 to 210 degrees",
    "corner 'top over a side seam' is 160 to 210 degrees",
    "nothing is sewn to 'top': left open",
)
"""What the tube states of itself."""


def test_a_report_tells_every_check() -> None:
    names = ["has-pieces", "drafts"]
    report = check_block(Tube, bodies=2, checks=names)
    results = (CheckResult("drafts", "passed"), CheckResult("has-pieces", "passed"))
    assert report == Report("tube.plain", results, 2, 0, STATED)
    assert report.passed
    assert report.text().splitlines() == [
        f"passed  drafts: {CHECKS['drafts'].says}",
        f"passed  has-pieces: {CHECKS['has-pieces'].says}",
        *(f"stated: {line}" for line in STATED),
        "tube.plain: all 2 checks passed; 2 bodies, 0 refused by name, 3 stated",
    ]


def test_a_report_shows_three_complaints_and_counts_the_others() -> None:
    report = check_block(HemBeginsElsewhere, bodies=5, checks=["drafts", "outline-closes"])
    assert not report.passed
    lines = report.text().splitlines()
    assert lines[1] == f"failed  outline-closes: {CHECKS['outline-closes'].says}"
    assert [line.strip()[:13] for line in lines[2:5]] == ["piece 'panel'"] * 3
    assert lines[5].strip() == "and 2 more"
    assert lines[6:9] == [f"stated: {line}" for line in STATED]
    assert lines[9] == "tube.plain: 2 checks, 1 failed; 5 bodies, 0 refused by name, 3 stated"


def test_names_of_checks_may_come_from_anything() -> None:
    report = check_block(Tube, bodies=1, checks=(name for name in ["drafts"]))
    assert [result.check for result in report.results] == ["drafts"]


def test_known_failures_pass_and_keep_their_reason() -> None:
    report = check_block(Known, bodies=2, checks=["outline-closes"])
    assert report.passed
    (result,) = report.results
    assert result.status == "known"
    assert result.complaints[0] == REASON
    assert "edge 'left' ends 3.000 mm" in result.complaints[1]
    assert report.text().splitlines()[0].startswith("known   outline-closes")


def test_a_known_failure_that_passes_is_told() -> None:
    report = check_block(Mended, bodies=2, checks=["outline-closes"])
    assert failed(report) == ["outline-closes"]
    assert report.results[0].complaints == (
        f"passes, though traits.known_failures says {REASON!r}; take it off the list",
    )


@pytest.mark.parametrize(
    ("block", "checks"), [(Tube, ["outline-close"]), (Misspelt, None), (Misspelt, ["drafts"])]
)
def test_a_check_that_does_not_exist(block: type[Tube], checks: list[str] | None) -> None:
    with pytest.raises(InputError, match=r"no check 'outline-close'; did you mean outline-closes"):
        check_block(block, bodies=1, checks=checks)


def test_no_bodies() -> None:
    with pytest.raises(InputError, match="cannot be tried on 0 bodies; give 1 or more"):
        check_block(Tube, bodies=0)


@pytest.mark.parametrize("what", ["tube.plain", Tube({})])
def test_what_is_no_block(what) -> None:
    with pytest.raises(InputError, match="is not a Block class"):
        check_block(what)


@pytest.mark.parametrize("block", [HemBeginsElsewhere, RefusesMany])
def test_two_processes_and_one_give_the_same_report_every_time(block: type[Tube]) -> None:
    names = [*ON_BODY, "refuses-few", "repeatable"]
    alone = check_block(block, bodies=20, checks=names, processes=1)
    assert alone.bodies == 20
    assert not alone.passed
    for processes in (2, 1, 2):
        assert check_block(block, bodies=20, checks=names, processes=processes) == alone


@pytest.mark.usefixtures("three_of_the_few")
def test_what_a_block_prints_is_kept_from_ours(capfd) -> None:
    from broken_blocks import PrintsWhatItFinds

    check_block(PrintsWhatItFinds, bodies=2)
    captured = capfd.readouterr()
    assert (captured.out, captured.err) == ("", "")


# -- loops that do not end -----------------------------------------------------------------------


@pytest.mark.usefixtures("three_of_the_few")
@pytest.mark.parametrize("processes", [1, 2])
def test_one_body_without_end_is_told_by_name(monkeypatch, processes: int) -> None:
    """It is none of the dozen that the slow checks look at."""
    bodies = many([EndlessForOne], 60)
    hips = [body.sheet.values["hip_girth"] for body in bodies]
    at = next(i for i in range(FEW, 60) if hips.count(hips[i]) == 1)
    monkeypatch.setattr(EndlessForOne, "endless_hip", hips[at])
    report = check_block(EndlessForOne, bodies=60, processes=processes)
    assert failed(report) == ["fast-enough"]
    (told,) = next(each.complaints for each in report.results if each.status == "failed")
    assert told.startswith(f"{bodies[at].name}: tube.endless-for-one took longer than 1 s")


@pytest.mark.usefixtures("three_of_the_few")
def test_an_option_without_end_is_told_with_its_setting() -> None:
    report = check_block(EndlessAtAnEnd, bodies=1)
    assert failed(report) == ["fast-enough"]
    (told,) = next(each.complaints for each in report.results if each.status == "failed")
    assert "--set depth=600.0mm: tube.endless-at-an-end took longer" in told


def test_a_block_without_end_passes_no_check_alone() -> None:
    report = check_block(Endless, bodies=1, checks=["drafts"])
    assert failed(report) == ["fast-enough"]
    assert not report.passed


# -- sets ------------------------------------------------------------------------------------------


@pytest.mark.usefixtures("three_of_the_few")
def test_a_bundled_sleeve_beside_its_bodice() -> None:
    host = load()
    bodice, sleeve = host.block("bodice.easy"), host.block("sleeve.straight")
    checks = [*ON_BODY, "promises-can-break", "options-are-used", "repeatable"]
    report = check_block(sleeve, beside=[bodice], bodies=20, checks=checks)
    assert report.passed, report.text()
    assert report.block == "sleeve.straight"
    assert len(report.results) == len(checks)
    assert report.refused < report.bodies


@pytest.mark.usefixtures("three_of_the_few")
def test_a_measurement_that_is_taken_from_the_other_block_is_not_called_unused() -> None:
    alone, sewn = check_block(Band, bodies=2), check_block(Band, beside=[Waisted], bodies=2)
    assert alone.passed, alone.text()
    assert sewn.passed, sewn.text()


@pytest.mark.usefixtures("three_of_the_few")
def test_an_option_that_both_blocks_have_is_looked_at_on_the_one_on_trial() -> None:
    report = check_block(Lining, beside=[OptionOfNoUse], bodies=1, checks=["options-are-used"])
    (result,) = report.results
    assert result.complaints == ("option flare changes nothing; use it in draft, or remove it",)


def test_the_commands_in_a_report_of_a_set_name_the_set() -> None:
    class Loose(Band):
        """Band that is longer than the top it is sewn to."""

        def draft(self, d) -> None:
            self.values = {**self.values, "waist_girth": self.long + 5.0}
            super().draft(d)

    report = check_block(Loose, beside=[Waisted], bodies=1, checks=["proof-holds"])
    (result,) = report.results
    assert "band to tube" in result.complaints[0]
    assert (
        f"[blockwright draft tube.waisted band.plain --body {few([Tube])[0].name}]"
        in (result.complaints[0])
    )


@pytest.mark.usefixtures("three_of_the_few")
def test_a_block_beside_is_not_what_is_judged() -> None:
    """The tube has a notch more on a wide hip, as its traits say; the sash has none."""
    names = ["changes-steadily"]
    assert check_block(NotchedWaisted, bodies=1, checks=names).passed
    beside = check_block(Sash, beside=[NotchedWaisted], bodies=1, checks=names)
    assert beside.passed, beside.text()


@pytest.mark.usefixtures("three_of_the_few")
def test_a_jump_of_its_own_is_told_beside_another() -> None:
    report = check_block(
        SashOfTwoRules, beside=[NotchedWaisted], bodies=1, checks=["changes-steadily"]
    )
    (told,) = report.results[0].complaints
    assert "hip_girth from 1019.86 to 1019.96 mm: edge 'front end' of piece 'band' moves" in told


IDLE = ["options-are-used", "measurements-are-used"]


@pytest.mark.usefixtures("three_of_the_few")
def test_what_is_for_the_block_alone_is_used() -> None:
    for beside in ([], [Waisted]):
        report = check_block(BandOnItsOwn, beside=beside, bodies=1, checks=IDLE)
        assert report.passed, report.text()


@pytest.mark.usefixtures("three_of_the_few")
def test_what_is_used_neither_alone_nor_beside_another_is_told() -> None:
    report = check_block(IdleBand, beside=[Waisted], bodies=1, checks=IDLE)
    assert [each for result in report.results for each in result.complaints] == [
        "measurement wrist_girth changes nothing; use it in draft, or do not ask for it",
        "option lap changes nothing; use it in draft, or remove it",
    ]


def test_a_set_may_take_as_long_and_refuse_as_many_as_its_blocks() -> None:
    class Choosy(Waisted):
        """Tube that is for narrow hips."""

        traits = Traits(wearers="women", most_refused=0.9, seconds=10.0)

        def draft(self, d) -> None:
            if self.hip > 950.0:
                raise InputError("hip_girth may be at most 95.0 cm")
            super().draft(d)

    names = ["refuses-few", "fast-enough"]
    hurried = with_traits(Band, seconds=1e-4)
    report = check_block(hurried, beside=[Choosy], bodies=FEW, checks=names)
    assert report.refused > 1
    assert report.passed, report.text()
    alone = check_block(hurried, bodies=FEW, checks=names)
    assert failed(alone) == ["fast-enough"]


# -- blocks in files -------------------------------------------------------------------------------


@pytest.fixture
def filed(tmp_path):
    """Two files: one with the tube and a band, one with another band."""
    one, other = tmp_path / "one.py", tmp_path / "other.py"
    one.write_text(
        "from kit_samples import Band, Waisted\n\n\n"
        "class Top(Waisted):\n    key = 'top.filed'\n\n\n"
        "class Low(Band):\n    key = 'low.filed'\n",
        encoding="utf-8",
    )
    other.write_text(
        "from kit_samples import Band\n\n\nclass Sole(Band):\n    key = 'sole.filed'\n",
        encoding="utf-8",
    )
    return one, other, *blocks_in(one), *blocks_in(other)


def test_the_command_that_draws_again_knows_files(filed) -> None:
    one, other, top, low, sole = filed
    body = Body("survey:female-17")

    def command(*blocks: type[Block]) -> str:
        return Trial(blocks, body, {"deep": "3cm"}).command()

    after = "--body survey:female-17 --set deep=3cm"
    assert command(top, low) == (
        f"blockwright try {one} --block low.filed --beside top.filed {after}"
    )
    assert (
        command(top, sole) == f"blockwright try {other} --block sole.filed --beside {one} {after}"
    )
    assert (
        command(top, Band) == f"blockwright try {one} --block top.filed --beside band.plain {after}"
    )
    assert command(Waisted, Band) == f"blockwright draft tube.waisted band.plain {after}"


def test_a_trial_that_was_drafted_is_not_drafted_again() -> None:
    outcome = TrialOutcome(raised=InputError("hip_girth is too large"))
    assert Trial((Tube,), Body("nobody"), drafted=outcome).outcome is outcome


def test_at_once_tells_with_the_name_of_the_check_and_not_what_is_known() -> None:
    import broken_sewing
    from broken_blocks import BROKEN

    assert broken_sewing.__name__  # it enters its blocks among the broken ones

    body = few([Tube])[0]
    for name in ("options-are-described", "label-is-inside", "can-be-finished"):
        block = BROKEN[name].block
        assert {line.partition(": ")[0] for line in at_once(Trial((block,), body))} == {name}
        known = with_traits(block, known_failures={name: REASON})
        assert at_once(Trial((known,), body)) == []
    printed = ("proof-holds", "outline-closes", "edges-are-sewn", "corners-run-on")
    for name in printed:
        assert at_once(Trial((BROKEN[name].block,), body)) == []
    assert at_once(Trial((Tube,), body)) == []
