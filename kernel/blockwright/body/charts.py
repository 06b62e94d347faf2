"""Published size charts as bodies.  What a chart does not give is estimated by the body model."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from blockwright.body import body_model
from blockwright.body.lengths import Unit, format_length
from blockwright.body.sheet import BodySheet

INCH = 25.4
DRAWN = "armscye_girth"
"""Not estimated unless asked for: the armhole of a bodice stands in for it."""
ESTIMATED = "by the body model; 80 of 100 such bodies have {low} to {high}"


@dataclass(frozen=True, slots=True)
class Chart:
    """A table of sizes: measurements in `unit` mm, a value a size, and measurements of every size.

    `says` has the source.
    """

    unit: float
    sizes: tuple[str, ...]
    rows: Mapping[str, tuple[float, ...]]
    every: Mapping[str, float]
    says: str

    def values(self, size: str) -> dict[str, float]:
        """The measurements of one of its sizes, mm."""
        at = self.sizes.index(size)
        own = {name: self.unit * sizes[at] for name, sizes in self.rows.items()}
        return own | {name: self.unit * value for name, value in self.every.items()}


def _chart(
    unit: float, first: str, rows: Mapping[str, tuple[float, ...]], every: Mapping[str, float],
    says: str, prefix: str = "",
) -> Chart:  # fmt: skip
    """A chart whose sizes are called after the row `first`."""
    sizes = tuple(f"{prefix}{size:g}" for size in rows[first])
    return Chart(unit, sizes, rows, every, says)


EN = "EN 13402-3, from memory; height {} cm"
# fmt: off
EN_WOMEN = _chart(10.0, "bust_girth", {
    "bust_girth": (76, 80, 84, 88, 92, 96, 100, 104, 110, 116, 122, 128, 134, 140, 146, 152),
    "waist_girth": (60, 64, 68, 72, 76, 80, 84, 88, 94, 100, 106, 112, 118, 124, 130, 136),
    "hip_girth": (84, 88, 92, 96, 100, 104, 108, 112, 117, 122, 127, 132, 137, 142, 147, 152),
}, {"height": 168}, EN.format(168), "women-")
EN_MEN = _chart(10.0, "chest_girth", {
    "chest_girth": (84, 88, 92, 96, 100, 104, 108, 112, 116, 120, 126, 132, 138, 144),
    "waist_girth": (72, 76, 80, 84, 88, 92, 96, 100, 104, 108, 114, 120, 126, 132),
}, {"height": 180}, EN.format(180), "men-")
_ASTM_ROWS: dict[str, tuple[float, ...]] = {
    "head_girth": (21.25, 21.25, 21.5, 21.5, 21.75, 21.75, 22, 22, 22.25, 22.25, 22.5, 22.5),
    "neck_base_girth": (
        13.25, 13.5, 13.75, 14, 14.25, 14.625, 14.875, 15.125, 15.5, 15.75, 16, 16.375,
    ),
    "neck_girth": (
        12.375, 12.625, 12.875, 13.125, 13.375, 13.625, 13.875, 14.25, 14.625, 15, 15.5, 16,
    ),
    "bust_girth": (
        31.125, 31.75, 33, 34.125, 35.25, 36.25, 37.25, 38.75, 40.375, 42.125, 44, 46,
    ),
    "under_bust_girth": (25.75, 26.5, 27.25, 28, 29, 30, 31, 32.5, 34, 35.75, 37.625, 39.625),
    "upper_chest_girth": (
        31.75, 32.25, 33.25, 34.125, 35, 35.875, 36.75, 38, 39.25, 40.625, 42.25, 43.875,
    ),
}
_WAIST = (23.875, 24.625, 25.375, 26.125, 27, 28, 29, 30.75, 32.5, 34.5, 36.75, 39)
_SIZES = ("00", "0", "2", "4", "6", "8", "10", "12", "14", "16", "18", "20")
ASTM = "ASTM D5585-11e1, Table 1, the {} waist"
# fmt: on
# The straight waist is an inch and a half larger at every size.
ASTM_CURVY = Chart(INCH, _SIZES, {**_ASTM_ROWS, "waist_girth": _WAIST}, {}, ASTM.format("curvy"))
ASTM_STRAIGHT = Chart(
    INCH,
    tuple(f"{size}-straight" for size in _SIZES),
    {**_ASTM_ROWS, "waist_girth": tuple(waist + 1.5 for waist in _WAIST)},
    {},
    ASTM.format("straight"),
)
CHARTS: Mapping[str, tuple[Chart, ...]] = {
    "en13402": (EN_WOMEN, EN_MEN),
    "astm-d5585": (ASTM_CURVY, ASTM_STRAIGHT),
}
"""The charts of each source, by its name."""


def names(source: str) -> list[str]:
    """The names of the sizes of a source, in order."""
    return [size for chart in CHARTS[source] for size in chart.sizes]


def sheet(source: str, name: str) -> BodySheet:
    """The sheet of a size, estimates in whole millimetres.  Raises KeyError for no such size.

    'women-88' has the rows of the chart, and estimates of what it lacks.  'women-88+armscye_girth'
    has that estimate as well, which a sleeve drafted alone needs.
    """
    size, *wanted = name.split("+")
    chart = next((chart for chart in CHARTS[source] if size in chart.sizes), None)
    if chart is None:
        raise KeyError(size)
    values = chart.values(size)
    guessed: dict[str, body_model.Likely] = {}
    for what in body_model.names():
        likely = body_model.estimate(values, what)
        if what not in values and likely and (what != DRAWN or what in wanted):
            guessed[what] = likely
    given = {what: f"{mm:.2f} mm" for what, mm in values.items()}
    given |= {what: f"{likely.value:.0f} mm" for what, likely in guessed.items()}
    units = Unit.IN if chart.unit == INCH else Unit.CM
    found = BodySheet.from_values(given, units=units, name=size, notes=chart.says)
    how = {
        what: ESTIMATED.format(
            low=format_length(likely.low, units), high=format_length(likely.high, units)
        )
        for what, likely in guessed.items()
    }
    return replace(found, where=f"{source}:{name}", estimates=how)
