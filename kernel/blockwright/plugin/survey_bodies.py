"""The survey's bodies as a source that blocks can be drafted for: `--body survey:female-17`."""

from __future__ import annotations

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

blockwright_api = API_VERSION


@hookimpl
def blockwright_bodies() -> tuple[BodySource, ...]:
    """The survey."""
    return (SURVEY,)
