"""DXF read strictly, one pair of lines after the other: entities, each fault by its line.

Read here and not by a library: those load a whole drawing before anyone can say that it is too
large, mend what they can without saying so, and no longer know on which line a fault stood.  This
stops at the first thing that is broken, and keeps one entity at a time.
"""

from __future__ import annotations

import io
import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import NamedTuple

from blockwright.body.lengths import quoted
from blockwright.curves.point import Point
from blockwright.errors import InputError

# A set in all its sizes has some tens of thousands of vertices and a few megabytes; this and the
# limits in `tags` keep reading under some two seconds and a few hundred megabytes.
MOST_BYTES, MOST_LINES = 10_000_000, 2_000_000
# DXF has about a hundred.
MOST_KINDS = 1_000
# Coordinates in whatever unit the file has; checked again in mm.
FARTHEST = 100_000.0
# A line of DXF has 2049 bytes at most (from memory); a little more is forgiven.
LONGEST_LINE = 10_000
_CODES = range(-5, 1072)
_ESCAPED = re.compile(r"\\U\+([0-9A-Fa-f]{4})")
_NUMBER = re.compile(
    rb"\s*[-+]?(\d+\.?\d*|\.\d+)([eEdD][-+]?\d+)?\s*|\s*[-+]?(nan|inf)\w*\s*", re.I
)


class Pair(NamedTuple):
    """A group code with its value and the line that stands on."""

    code: int
    value: bytes
    line: int


def check_text(data: bytes, where: str) -> None:
    """Refuse what is no text of DXF, or too large."""
    if not data.strip():
        raise InputError(f"{where}: is empty; give a DXF file")
    if len(data) > MOST_BYTES:
        raise InputError(
            f"{where}: has {len(data) / 1e6:.0f} MB; {MOST_BYTES // 10**6} MB are read: "
            "export fewer sizes or pieces at a time"
        )
    if data.startswith(b"AutoCAD Binary DXF"):
        raise InputError(f"{where}: is a binary DXF; save it as an ASCII one")
    if data.startswith(b"AC10"):
        raise InputError(f"{where}: is a DWG; save it as a DXF")
    if data.startswith((b"\xff\xfe", b"\xfe\xff")) or b"\0" in data:
        raise InputError(
            f"{where}: is not plain text, or is UTF-16; save it as an ASCII or UTF-8 DXF"
        )


def decoded(value: bytes) -> str:
    r"""Text of a file: UTF-8, or else Windows' Western letters; `\U+03BB` is a letter too."""
    try:
        text = value.decode("utf-8")
    except UnicodeDecodeError:
        text = value.decode("cp1252", "replace")
    return _ESCAPED.sub(_letter, text).strip()


def _letter(code: re.Match[str]) -> str:
    """The letter of a code; half a letter (a surrogate) is none."""
    letter = chr(int(code[1], 16))
    return "\ufffd" if "\ud800" <= letter <= "\udfff" else letter


def _pairs(data: bytes, where: str) -> Iterator[Pair]:
    """Every pair up to the end of the file, comments left out."""
    lines = io.BytesIO(data.removeprefix(b"\xef\xbb\xbf"))
    number = 0
    while head := lines.readline(LONGEST_LINE):
        number += 2
        value = lines.readline(LONGEST_LINE)
        try:
            code = int(head)
        except ValueError:
            code = 10**9
        if code not in _CODES:
            if not head.strip() and not data[lines.tell() - len(value) :].strip():
                break
            what = quoted(head[:60].strip().decode("ascii", "replace"))
            raise InputError(
                f"{where}:{number - 1}: {what} stands where a group code should, a whole number; "
                "this is no DXF, or a damaged one: export it again"
            )
        if not value or len(value) >= LONGEST_LINE:
            if value:
                why = f"this line has more than {LONGEST_LINE} letters; export the file again"
                raise InputError(f"{where}:{number}: {why}")
            break
        if number > MOST_LINES:
            raise InputError(
                f"{where}: has more than {MOST_LINES} lines; export fewer sizes or pieces at a time"
            )
        if code != 999:
            yield Pair(code, value.rstrip(b"\r\n"), number)
    raise InputError(
        f"{where}:{max(number, 1)}: the file ends here without EOF: it was cut short; "
        "export or copy it again"
    )


@dataclass(slots=True)
class Entity:
    """The pairs from a group code 0 to the next."""

    kind: str
    line: int
    where: str
    pairs: list[Pair] = field(default_factory=list)

    def wrong(self, why: str, line: int = 0) -> InputError:
        """An error that names the place."""
        return InputError(f"{self.where}:{line or self.line}: {why}; export the file again")

    def text(self, code: int) -> str:
        """The first text of that code, or none."""
        return next((decoded(pair.value) for pair in self.pairs if pair.code == code), "")

    def number(self, code: int, default: float = 0.0) -> float:
        """The first number of that code."""
        for pair in self.pairs:
            if pair.code == code:
                return self.value(pair)
        return default

    def whole(self, code: int, default: int = 0) -> int:
        """The first whole number of that code."""
        number = self.number(code, default)
        if number != int(number):
            raise self.wrong(f"group {code} of a {self.kind} is {number}, not a whole number")
        return int(number)

    def numbers(self, code: int) -> list[float]:
        """Every number of that code."""
        return [self.value(pair) for pair in self.pairs if pair.code == code]

    def has(self, code: int) -> bool:
        """Whether there is one of that code."""
        return any(pair.code == code for pair in self.pairs)

    def place(self, code: int = 10) -> Point:
        """Where it is."""
        if not self.has(code) or not self.has(code + 10):
            raise self.wrong(f"a {self.kind} has no place (groups {code} and {code + 10})")
        return Point(self.number(code), self.number(code + 10))

    def places(self) -> list[Point]:
        """Every place, each x with the y that follows it."""
        xs, ys = self.numbers(10), self.numbers(20)
        if len(xs) != len(ys):
            raise self.wrong(f"a {self.kind} has {len(xs)} x and {len(ys)} y")
        return [Point(x, y) for x, y in zip(xs, ys, strict=True)]

    def value(self, pair: Pair) -> float:
        """The number of a pair."""
        if not _NUMBER.fullmatch(pair.value):
            shown = quoted(pair.value[:60].decode("ascii", "replace"))
            raise self.wrong(f"{shown} is not a number", pair.line)
        number = float(pair.value.lower().replace(b"d", b"e"))
        if not abs(number) <= FARTHEST:
            shown = pair.value[:40].decode().strip()
            raise self.wrong(f"{shown} is no length or angle of a pattern", pair.line)
        return number


def entities(data: bytes, where: str) -> Iterator[Entity]:
    """Every entity up to EOF; what stands before the first is refused."""
    entity: Entity | None = None
    kinds: dict[bytes, str] = {}
    for pair in _pairs(data, where):
        if pair.code != 0:
            if entity is None:
                raise InputError(
                    f"{where}:{pair.line}: a DXF begins with a section, this does not; "
                    "give a DXF file"
                )
            entity.pairs.append(pair)
            continue
        if entity is not None:
            yield entity
        kind = kinds.get(pair.value)
        if kind is None:
            kind = kinds[pair.value] = decoded(pair.value).upper()
            if len(kinds) > MOST_KINDS:
                raise InputError(
                    f"{where}:{pair.line}: has more than {MOST_KINDS} kinds of entities; this is "
                    "no DXF, or a damaged one: export it again"
                )
        entity = Entity(kind, pair.line, where)
        if entity.kind == "EOF":
            yield entity
            return
