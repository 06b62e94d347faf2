"""A sleeve drawn by a wrong rule breaks a promise, though all of it agrees with itself."""

from __future__ import annotations

import pytest
from bending import told
from sleeve_samples import MIDDLING, drafted

from blockwright_sleeve.fitted import FittedSleeve
from blockwright_sleeve.sleeve import Sleeve
from blockwright_sleeve.straight import StraightSleeve

SOLVE_HEIGHT, SOLVE_BICEP = Sleeve.solve_height, Sleeve.solve_bicep


def bicep_too_wide(patch) -> None:
    patch.setattr(
        Sleeve, "solve_height", lambda self, d, bicep, ease: SOLVE_HEIGHT(self, d, bicep + 5, ease)
    )


def too_much_ease(patch) -> None:
    for name, solve in (("solve_height", SOLVE_HEIGHT), ("solve_bicep", SOLVE_BICEP)):
        patch.setattr(
            Sleeve, name, lambda self, d, given, ease, solve=solve: solve(self, d, given, ease + 4)
        )


@pytest.mark.parametrize(
    ("block", "settings", "bend", "wanted"),
    [
        (FittedSleeve, {}, bicep_too_wide, ("girth", "upper arm")),
        (FittedSleeve, {"bicep_ease": "6cm"}, bicep_too_wide, ("girth", "upper arm")),
        (StraightSleeve, {"bicep_width": "37cm"}, bicep_too_wide, ("girth", "upper arm")),
        (FittedSleeve, {}, too_much_ease, ("seam", "cap to armhole")),
        (FittedSleeve, {"cap_ease": "2cm"}, too_much_ease, ("seam", "cap to armhole")),
        (StraightSleeve, {}, too_much_ease, ("seam", "cap to armhole")),
    ],
)
def test_a_bent_rule_breaks_its_promise(monkeypatch, block, settings, bend, wanted) -> None:
    assert drafted(block, MIDDLING, **settings)[1].held
    bend(monkeypatch)
    broken = drafted(block, MIDDLING, **settings)[1].broken
    # A seam that is too long is too long between two of its notches as well.
    assert {(result.kind, result.subject.name) for result in broken} == {wanted}
    assert wanted in {told(result) for result in broken}
