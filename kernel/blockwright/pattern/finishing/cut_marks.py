"""What is cut or drilled into a finished piece beside its outline."""

from __future__ import annotations

from typing import Literal, NamedTuple

from blockwright.curves.point import Point

NotchKind = Literal["slit", "V", "T"]


class NotchStyle(NamedTuple):
    """How notches are cut: their kind and size, and how near they may be to a corner, mm."""

    kind: NotchKind
    depth: float
    width: float
    clear: float


class CutNotch(NamedTuple):
    """A notch on the cut line: its place, its direction inward (a unit step) and its size."""

    name: str
    at: Point
    inward: Point
    kind: NotchKind
    depth: float
    width: float


class Drill(NamedTuple):
    """A hole that marks the point of a dart.  It lies inside the dart."""

    name: str
    at: Point
    diameter: float
