"""Fit the body model to the survey: `python -m blockwright.body.fit_body_model` writes its file.

The logarithms of the measurements are taken as normal, for women and for men.  The survey took
some of them elsewhere than a tape for clothes does.  They are moved by a stated length, and spread
as far as that length is uncertain.  What the survey lacks follows from a rule, with a spread.
Every measurement is spread by what a tape is off.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Mapping
from pathlib import Path
from typing import NamedTuple

import numpy as np

from blockwright.body import survey
from blockwright.body.body_model import MODEL, WEARERS

KEPT_OUT = 15
"""Every so manieth row of the survey is kept out of the fit, to test the model on."""
TAPE = (2.0, 0.005)
"""What a tape is off (standard deviation): so many mm, and a share.  Common practice, no source."""
SAME_LEVEL = 0.03
"""Spread of a woman's chest girth, or a man's bust girth: the survey has one girth for both."""


class Moved(NamedTuple):
    """How much longer a tape for clothes finds a measurement, mm, and how sure that is."""

    women: float
    men: float
    spread: float
    says: str


class Spread(NamedTuple):
    """A rule for what the survey lacks, and the share by which bodies stray from it."""

    share: float
    find: Callable[[Mapping[str, float]], float] | None = None


_LEVEL = "the survey's waist is at the navel, some 3 cm below the waist of clothes (from memory)"
# From memory: the survey of 1988 took waist and back length at both levels.
MOVED: dict[str, Moved] = {
    "waist_girth": Moved(-60.0, -20.0, 25.0, _LEVEL),
    "back_neck_point_to_waist": Moved(-30.0, -30.0, 15.0, _LEVEL),
    "front_neck_point_to_waist": Moved(-15.0, -15.0, 20.0, f"taken seated; {_LEVEL}"),
    "outside_leg_length": Moved(55.0, 45.0, 20.0, f"taken straight, not over the hip; {_LEVEL}"),
    "waist_to_knee": Moved(50.0, 40.0, 20.0, _LEVEL),
    "waist_to_hip": Moved(50.0, 40.0, 20.0, f"taken straight; {_LEVEL}"),
    "body_rise": Moved(70.0, 50.0, 20.0, f"taken standing, to the crotch; {_LEVEL}"),
    "total_crotch_length": Moved(60.0, 50.0, 30.0, f"twice the difference; {_LEVEL}"),
    "back_crotch_length": Moved(30.0, 25.0, 25.0, _LEVEL),
    "hip_girth": Moved(0.0, 0.0, 30.0, "soldiers' hips vary less than others' (no source)"),
    "neck_girth": Moved(0.0, 0.0, 8.0, "just below the larynx; sheets differ (no source)"),
    "upper_arm_girth": Moved(-10.0, -15.0, 8.0, "taken flexed (common practice, no source)"),
    "forearm_girth": Moved(-5.0, -8.0, 6.0, "taken flexed (common practice, no source)"),
    "knee_girth": Moved(-25.0, -20.0, 15.0, "taken just above the knee (no source)"),
    "ankle_girth": Moved(20.0, 22.0, 12.0, "taken above the bones (no source)"),
    "upper_arm_length": Moved(0.0, 0.0, 12.0, "taken to the radiale (no source)"),
    "outer_arm_length": Moved(10.0, 10.0, 12.0, "taken with a straight arm (no source)"),
    "back_neck_point_to_wrist_length": Moved(-10.0, -10.0, 12.0, "sheets differ (no source)"),
    "inside_leg_height": Moved(0.0, 0.0, 8.0, "a tape in hand reaches less surely (no source)"),
}

INCH = 25.4
# The spreads are common practice, no source.
RULES: dict[str, Spread] = {
    "armscye_girth": Spread(0.06),
    "head_girth": Spread(0.03),
    "hand_girth": Spread(0.05),
    "elbow_girth": Spread(0.05),
    # The lines through the first and the last size of ASTM D5585-11e1, Table 1.
    "upper_chest_girth": Spread(
        0.035, lambda of: _through(of["bust_girth"], (31.125, 31.75), (46.0, 43.875))
    ),
    "under_bust_girth": Spread(
        0.06, lambda of: _through(of["bust_girth"], (31.125, 25.75), (46.0, 39.625))
    ),
    "top_hip_girth": Spread(0.05),
    "mid_thigh_girth": Spread(0.05),
    "across_back_shoulder_width": Spread(0.05),
    "across_front_width": Spread(0.06),
    "bust_point_width": Spread(0.08),
    "scye_depth": Spread(0.08),
    "side_neck_point_to_bust_point": Spread(0.07),
    "side_neck_point_to_waist": Spread(0.04),
    "underarm_length": Spread(0.05),
}


def _through(x: float, first: tuple[float, float], last: tuple[float, float]) -> float:
    """The line through two rows of a table in inches, at `x` mm."""
    share = (x / INCH - first[0]) / (last[0] - first[0])
    return INCH * (first[1] + share * (last[1] - first[1]))


def as_taped(row: survey.Row) -> dict[str, float]:
    """The measurements of a row as a tape for clothes would find them, and what rules add, mm."""
    values = survey.measured(row)
    for name, moved in MOVED.items():
        values[name] += moved.women if row["sex"] == "female" else moved.men
    for name, rule in RULES.items():
        values[name] = rule.find(values) if rule.find else survey.estimated(values, name)
    return values


def kept_out(rows: Iterable[survey.Row]) -> list[survey.Row]:
    """The rows that the model is tested on."""
    return [row for number, row in enumerate(rows) if number % KEPT_OUT == KEPT_OUT // 2]


def fitted(rows: Iterable[survey.Row], women: bool) -> tuple[np.ndarray, np.ndarray, list[str]]:
    """Mean (n,) and covariance (n, n) of the logarithms, and the names."""
    bodies = [as_taped(row) for row in rows]
    names = list(bodies[0])
    logs = np.log([[body[name] for name in names] for body in bodies])
    mean, covariance = logs.mean(axis=0), np.cov(logs.T)
    other = "chest_girth" if women else "bust_girth"
    for i, name in enumerate(names):
        size = math.exp(mean[i])
        spreads = [TAPE[0] / size + TAPE[1], RULES[name].share if name in RULES else 0.0]
        spreads += [MOVED[name].spread / size if name in MOVED else 0.0]
        spreads += [SAME_LEVEL if name == other else 0.0]
        covariance[i, i] += sum(spread * spread for spread in spreads)
    return mean, covariance, names


def model(rows: Iterable[survey.Row]) -> str:
    """The model as the file has it: of each measurement the mean and the covariances so far."""
    rows = list(rows)
    lines = [
        "# wearers, name, mean and lower half of the covariance of the logarithms of mm",
        "# Source: ANSUR II, NATICK/TR-15/007, 2014, as fit_body_model.py takes it",
    ]
    for wearers, sex in zip(WEARERS, ("female", "male"), strict=True):
        own = [row for row in rows if row["sex"] == sex]
        mean, covariance, names = fitted(own, women=sex == "female")
        for i, name in enumerate(names):
            spread = (f"{each:.7f}" for each in covariance[i, : i + 1])
            lines.append(",".join([wearers, name, f"{mean[i]:.5f}", *spread]))
    return "\n".join([*lines, ""])


def main() -> None:
    """Write the file of the model."""
    out = {id(row) for row in kept_out(survey.rows())}
    fitted_to = model(row for row in survey.rows() if id(row) not in out)
    Path(MODEL).write_text(fitted_to, encoding="utf-8")


if __name__ == "__main__":
    main()
