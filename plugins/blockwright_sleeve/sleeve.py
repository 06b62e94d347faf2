"""The solved cap: of bicep width, cap height and cap ease two are kept, the third is found."""

from __future__ import annotations

import math
from abc import abstractmethod
from contextlib import suppress
from functools import cache

from blockwright import Draft, GeometryError, InputError
from blockwright_sleeve.body import SleeveBody
from blockwright_sleeve.cap import Cap, CapPlan
from blockwright_sleeve.limits import (
    FLATTEST,
    HALVES,
    HIGHEST,
    MOST_OF_LENGTH,
    check_below,
    check_given,
    check_marks,
    check_plan,
    fitting,
    heights_for,
)


class Sleeve(SleeveBody):
    """Common ground of the sleeves: the solved cap."""

    def plan(self, d: Draft) -> CapPlan:
        """Of bicep width, cap height and cap ease keep two and solve the third."""
        plan = self._found(d)
        check_marks(d, self, plan.cap, self._cap_with)
        return plan

    def _found(self, d: Draft) -> CapPlan:
        """The plan before its marks are looked at."""
        check_given(d, self)
        plan = self._agreed(d, self.usual_cap_ease if self.cap_ease is None else self.cap_ease)
        check_plan(d, self, plan)
        return plan

    def _cap_with(self, name: str, value: float | None) -> Cap | None:
        """The cap with one option set otherwise, on a table of its own; None for no cap."""
        other = type(self)({**self.values, name: value})
        with suppress(InputError, GeometryError):
            return other._found(Draft(self.key, self.title)).cap
        return None

    def _agreed(self, d: Draft, ease: float) -> CapPlan:
        """The plan for what is given; `ease`: the one asked for, or the usual one."""
        bicep, height = self.given_bicep, self.cap_height
        if height is None:
            return self.undecided(d, ease) if bicep is None else self.solve_height(d, bicep, ease)
        if bicep is None and self.cap_ease is None:
            return self.from_height(d, height, ease)
        if bicep is None:
            return self.solve_bicep(d, height, ease)
        return self.solve_ease(d, bicep, height)

    @abstractmethod
    def undecided(self, d: Draft, ease: float) -> CapPlan:
        """The plan where neither bicep nor cap height is given; each sleeve has its own rule."""

    @abstractmethod
    def from_height(self, d: Draft, height: float, ease: float) -> CapPlan:
        """The plan where only a cap height is given; each sleeve has its own rule."""

    def solve_height(self, d: Draft, bicep: float, ease: float) -> CapPlan:
        """The height that bicep and ease leave."""
        cap = cache(lambda height: self.cap(bicep, height, ease))
        hangs = ["bicep_ease", "upper_arm_girth"] if self.bicep_width is None else ["bicep_width"]
        height = d.solve(
            "cap height", lambda height: cap(height).spline.length, target=self.armhole + ease,
            low=FLATTEST * bicep, high=min(HIGHEST * bicep, MOST_OF_LENGTH * self.length),
            near=_likely_height(bicep, self.armhole + ease, self._likely_lean(bicep)),
            so_that="the cap is the armhole and its ease", goal="cap ease", offset=self.armhole,
            check=("cap_ease", "sleeve_length", *hangs, *HALVES, "outer_arm_length"),
        )  # fmt: skip
        return CapPlan(bicep, height, ease, cap(height), "cap height")

    def solve_bicep(self, d: Draft, height: float, ease: float) -> CapPlan:
        """The bicep that height and ease leave."""
        check_below(d, self, height)
        cap = cache(lambda bicep: self.cap(bicep, height, ease))
        bicep = d.solve(
            "bicep width", lambda bicep: cap(bicep).spline.length, target=self.armhole + ease,
            low=height / HIGHEST, high=height / FLATTEST,
            near=_likely_bicep(height, self.armhole + ease),
            so_that="the cap is the armhole and its ease", goal="cap ease", offset=self.armhole,
            check=("cap_height", "cap_ease"), advice=lambda: f"give {heights_for(d, self, ease)}",
        )  # fmt: skip
        return CapPlan(bicep, height, ease, cap(bicep), "bicep width")

    def solve_ease(self, d: Draft, bicep: float, height: float) -> CapPlan:
        """The ease that bicep and height leave; unevenly shared, it moves the crown a little."""
        check_below(d, self, height)
        cap = cache(lambda ease: self.cap(bicep, height, ease))
        allowed = type(self).cap_ease
        about = cap(self.usual_cap_ease).spline.length - self.armhole
        d.require(
            allowed.low <= about <= allowed.high,
            f"a cap_height of {d.say(height)} on a bicep width of {d.say(bicep)} gives a cap ease "
            f"of {d.say(about)}, where {d.say(allowed.low)} to {d.say(allowed.high)} can be sewn "
            f"into an armhole of {d.say(self.armhole)}",
            check=("cap_height", "bicep_width", "bicep_ease", "upper_arm_girth"),
            do=lambda: f"give {fitting(d, self, bicep, height)}",
        )
        ease = d.solve(
            "cap ease", lambda ease: cap(ease).spline.length - ease, target=self.armhole,
            low=allowed.low, high=allowed.high, near=(about, -1.0),
            so_that="the cap is as high as asked", goal="armhole",
            check=("cap_height", "bicep_width"),
        )  # fmt: skip
        return CapPlan(bicep, height, ease, cap(ease), "cap ease")

    def _likely_lean(self, bicep: float) -> float:
        """About how far the seams lean; between halves of a radian, as a guess may be."""
        fall = 2.0 * max(self.length - 0.4 * bicep, 0.2 * bicep)
        return min(max((bicep - self.hem_width(bicep)) / fall, -0.5), 0.5)


def _likely_height(bicep: float, cap: float, lean: float) -> tuple[float, float]:
    """A cap height to start from, and how fast the cap grows with it.

    On the usual marks the curve is longer than its guides by some 0.116 of the square of the
    sine of their slope, less where the underarm seams lean; that makes a quadratic in the guide.
    """
    half, excess = bicep / 2.0, 0.1155 * (1.0 - lean)
    guide = cap / 4.0 + math.sqrt(cap * cap / 16.0 + (1.0 + excess) * excess * half * half)
    guide /= 1.0 + excess
    height = math.sqrt(max(guide * guide - half * half, 0.0))
    sine = height / guide
    return height, 2.0 * (sine + excess * sine * (2.0 - sine * sine))


def _likely_bicep(height: float, cap: float) -> tuple[float, float]:
    """A bicep width to start from, and how fast the cap grows with it; see `_likely_height`."""
    sine = min(2.0 * height / cap, 1.0)
    for _ in range(2):
        guide = cap / 2.0 / (1.0 + 0.1155 * sine * sine)
        sine = min(height / guide, 1.0)
    cosine = math.sqrt(1.0 - sine * sine)
    return 2.0 * guide * cosine, cosine * (1.0 - 0.1155 * sine * sine)
