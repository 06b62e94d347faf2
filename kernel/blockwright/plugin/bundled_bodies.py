"""The bundled sources of bodies: the survey, and published size charts.

`--body survey:female-17`, `--body en13402:women-88`.
"""

from __future__ import annotations

from functools import partial

from blockwright.plugin.api import API_VERSION, hookimpl
from blockwright.plugin.bodies import BodySource
from blockwright.plugin.lazy import lazy

SURVEY = BodySource(
    "survey",
    "1,518 real bodies in mm (ANSUR II, 2014), to try blocks on; +head_girth after a name adds an "
    "estimate of what it did not take",
    lazy("blockwright.body.survey:names"),
    lazy("blockwright.body.survey:sheet"),
)
CHARTS = {
    "en13402": "sizes of EN 13402-3 by bust or chest in cm (from memory), such as women-88",
    "astm-d5585": "misses' sizes of ASTM D5585-11e1, such as 12, or 12-straight in the waist",
}
_names, _sheet = lazy("blockwright.body.charts:names"), lazy("blockwright.body.charts:sheet")

blockwright_api = API_VERSION


@hookimpl
def blockwright_bodies() -> list[BodySource]:
    """The survey, and a source for each chart; what a chart lacks is estimated."""
    lacks = "what the chart lacks is estimated by the body model"
    return [
        SURVEY,
        *(
            BodySource(name, f"{says}; {lacks}", partial(_names, name), partial(_sheet, name))
            for name, says in CHARTS.items()
        ),
    ]
