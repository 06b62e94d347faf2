"""A source of bodies: a size chart, a survey, a client book."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import TYPE_CHECKING

from blockwright.errors import InputError, InputErrors, PatternError
from blockwright.spelling import nearest_to, what_is

if TYPE_CHECKING:
    from blockwright.body.sheet import BodySheet

SOURCE_NAME = re.compile(r"[a-z][a-z0-9-]+")
SHOWN = 12


@dataclass(frozen=True, slots=True)
class BodySource:
    """Bodies that a plugin offers by name, drafted with `--body SOURCE:BODY`.

    `name` is the source's, two small letters or more; `says` one line: what it is, where from.
    `names` gives the bodies' names, in order; `body` the sheet of one of them, as
    `BodySheet.from_values` makes it, and KeyError for a name it does not know.  Both are asked
    only when somebody uses the source.

    Example:
        >>> from blockwright import BodySheet, BodySource
        >>> waists = {"36": 68.0, "38": 72.0}
        >>> chart = BodySource(
        ...     "shop", "the shop's sizes, invented", lambda: waists,
        ...     lambda size: BodySheet.from_values(
        ...         {"waist_girth": waists[size]}, units="cm", name=f"size {size}"
        ...     ),
        ... )
        >>> chart.sheet("38").values["waist_girth"]
        720.0
    """

    name: str
    says: str
    names: Callable[[], Iterable[str]]
    body: Callable[[str], BodySheet]

    def sheet(self, body: str) -> BodySheet:
        """The sheet of a body; InputError with the nearest name when there is none.

        PatternError when what the source gives is no sheet; what else its function raises as it
        is, and an InputError with the body's name before it.
        """
        from blockwright.body.sheet import BodySheet

        try:
            found: object = self.body(body)
        except KeyError:
            known = self.known()
            if body in known:  # something else that it looked up was not there
                raise
        except InputErrors as error:
            raise InputErrors([self._wrong(body, fault) for fault in error.faults]) from error
        except InputError as error:
            raise self._wrong(body, error) from error
        else:
            if not isinstance(found, BodySheet):
                raise PatternError(
                    f"body gave {what_is(found)}, not a BodySheet; make it with "
                    "BodySheet.from_values"
                )
            return found
        if near := nearest_to(body, known):
            raise InputError.coded("source.misspelt-body", source=self.name, name=body, near=near)
        shown = [*known[:SHOWN], "…"] if len(known) > SHOWN else known
        raise InputError.coded("source.unknown-body", source=self.name, name=body, known=shown)

    def _wrong(self, body: str, why: InputError) -> InputError:
        return InputError.coded("source.wrong-sheet", source=self.name, body=body, why=why)

    def known(self) -> list[str]:
        """The names of its bodies; PatternError when they are no names."""
        found: object = self.names()
        if isinstance(found, str) or not isinstance(found, Iterable):
            raise PatternError(f"names gave {what_is(found)}; give a list of texts")
        names = list(found)
        for name in names:
            if not isinstance(name, str) or not name.isprintable():
                raise PatternError(f"names gave {name!r}; give texts of one line")
        return names
