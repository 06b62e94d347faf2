"""Mill Lane for Blockwright: an invented workroom's cutting list and size chart."""

from __future__ import annotations

from blockwright import BodySource, Format, hookimpl, later

blockwright_api = "2.0"


@hookimpl
def blockwright_formats() -> list[Format]:
    """The cutting list.

    It has no `echo`: an echo gives the outlines that are in a file, to be compared with the pieces,
    and there are none in a list.
    """
    return [
        Format(
            "cutting-list",
            ".csv",
            "a line a piece: how often cut, its size and area; lengths in the sheet's unit",
            later("mill_lane.cutting_list:write"),
        )
    ]


@hookimpl
def blockwright_bodies() -> list[BodySource]:
    """The size chart."""
    return [
        BodySource(
            "mill-lane",
            "sizes 34 to 46 of the Mill Lane workroom, invented",
            later("mill_lane.sizes:names"),
            later("mill_lane.sizes:body"),
        )
    ]
