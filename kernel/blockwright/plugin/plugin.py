"""One plugin: where it came from, what it offers, what went wrong."""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import lru_cache
from importlib.metadata import Distribution
from typing import Literal

Kind = Literal["blocks", "formats", "bodies", "promises"]
"""What a plugin can offer."""


@dataclass
class Plugin:
    """One entry point, filled in while it is loaded.

    `api`: the version of the plugin API it asks for, '' when it does not say; `hooks` those it
    answers; `blocks`, `formats`, `bodies` and `promises` what it offers, by key or name; `faults` a
    line each.
    """

    name: str
    distribution: str
    version: str
    api: str = ""
    hooks: list[str] = field(default_factory=list)
    blocks: list[str] = field(default_factory=list)
    formats: list[str] = field(default_factory=list)
    bodies: list[str] = field(default_factory=list)
    promises: list[str] = field(default_factory=list)
    faults: list[str] = field(default_factory=list)

    def __str__(self) -> str:
        return f"plugin {self.name!r} of {self.distribution} {self.version}".rstrip()


@lru_cache
def origin(distribution: Distribution | None) -> tuple[str, str]:
    """Name and version of a distribution; reading them takes a while."""
    if distribution is None:
        return "no distribution", ""
    found = distribution.metadata
    # Asking for one that is not there is deprecated; asking for all is not.
    names = found.get_all("Name", ["a distribution without a name"])
    return names[0], found.get_all("Version", [""])[0]
