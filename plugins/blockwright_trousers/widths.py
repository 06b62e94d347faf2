"""Finished widths and lengths: what was asked for, or the usual where nothing was."""

from __future__ import annotations

from blockwright_trousers.body import TrousersBody

# Eases where none is asked for, mm.
USUAL_HIP_EASE, USUAL_SEAT_EASE, USUAL_STRETCH = 50.0, 10.0, 5.0
# Knee and hem, mm; 1.3 cm each side of both halves between them, as published.
KNEE_EASE = 25.0
KNEE_OVER_HEM = 52.0


class Widths(TrousersBody):
    """All that depends on measurements and options only."""

    @property
    def hip_quarter(self) -> float:
        """A quarter of the finished hip."""
        return (self.hip + (USUAL_HIP_EASE if self.hip_ease is None else self.hip_ease)) / 4.0

    @property
    def front_net(self) -> float:
        """Front waist, darts closed."""
        quarter = (self.waist + self.waist_ease) / 4.0
        return quarter if self.front_waist is None else self.front_waist

    @property
    def back_net(self) -> float:
        """Back waist, darts closed."""
        return (self.waist + self.waist_ease) / 2.0 - self.front_net

    @property
    def knee_around(self) -> float:
        """Finished width at the knee."""
        usual = (self.thigh + self.knee_girth) / 2.0 + KNEE_EASE
        return usual if self.knee_width is None else self.knee_width

    @property
    def hem_around(self) -> float:
        """Finished width at the hem."""
        return self.knee_around - KNEE_OVER_HEM if self.hem_width is None else self.hem_width

    @property
    def length(self) -> float:
        """Waist to hem along the crease."""
        return self.outside_leg if self.leg_length is None else self.leg_length

    @property
    def inside(self) -> float:
        """Inside leg to the floor: as measured, or the outside one less the rise."""
        return self.outside_leg - self.rise if self.inside_leg is None else self.inside_leg
