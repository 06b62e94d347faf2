"""Mill Lane for Blockwright: an invented workroom's cutting list and size chart."""

from __future__ import annotations

from blockwright import BodySource, Format, FormatOptions, choice_option, hookimpl, lazy

SEPARATORS = {"comma": ",", "semicolon": ";", "tab": "\t"}

blockwright_api = "4.0"


class ListOptions(FormatOptions):
    """What may be chosen for a cutting list: --separator on the command line."""

    separator = choice_option("comma", of=tuple(SEPARATORS), says="what stands between columns")


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
            lazy("mill_lane.cutting_list:write"),
            options=ListOptions,
        )
    ]


@hookimpl
def blockwright_bodies() -> list[BodySource]:
    """The size chart."""
    return [
        BodySource(
            "mill-lane",
            "sizes 34 to 46 of the Mill Lane workroom, invented",
            lazy("mill_lane.sizes:names"),
            lazy("mill_lane.sizes:body"),
        )
    ]
