"""--set NAME=VALUE."""

from __future__ import annotations

from blockwright.errors import InputError


def pairs(settings: tuple[str, ...]) -> dict[str, str]:
    """The value of each name.  Raises InputError for one that is not NAME=VALUE, or set twice."""
    found: dict[str, str] = {}
    for setting in settings:
        name, equals, value = (part.strip() for part in setting.partition("="))
        if not (name and equals and value):
            raise InputError.coded("cli.no-pair", setting=setting)
        if name in found:
            raise InputError.coded("cli.set-twice", name=name)
        found[name] = value
    return found
