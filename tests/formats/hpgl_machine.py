"""A small machine that obeys HP-GL, strictly: what it does not know is an error."""

from __future__ import annotations

import re
from dataclasses import dataclass, field

UNIT = 0.025
_INSTRUCTION = re.compile(r"(?P<name>[A-Z]{2})(?P<numbers>(-?\d+(,-?\d+)*)?);\n?")

Place = tuple[float, float]


@dataclass
class Drawn:
    """Polylines by pen, mm, in the order drawn; pens in the order taken; travel with pen up, mm."""

    lines: dict[int, list[list[Place]]] = field(default_factory=dict)
    pens: list[int] = field(default_factory=list)
    travel: float = 0.0

    def of(self, pen: int) -> list[list[Place]]:
        return self.lines.get(pen, [])

    @property
    def every(self) -> list[list[Place]]:
        return [line for lines in self.lines.values() for line in lines]


def run(data: bytes) -> Drawn:
    """What the machine draws; AssertionError for anything that is not right."""
    text = data.decode("ascii")
    drawn = Drawn()
    pen, down, at, begun = 0, False, (0.0, 0.0), False
    place = 0
    while place < len(text):
        found = _INSTRUCTION.match(text, place)
        assert found, f"not an instruction: {text[place : place + 20]!r}"
        place = found.end()
        name = found["name"]
        numbers = [int(n) for n in found["numbers"].split(",")] if found["numbers"] else []
        if name == "IN":
            assert not begun, "initialised again"
            assert not numbers
            begun = True
            continue
        assert begun, f"{name} before IN"
        if name == "SP":
            (new,) = numbers
            assert 0 <= new <= 8, f"no pen {new}"
            assert not down, "pen changed while it is down"
            pen = new
            drawn.pens.append(pen)
        elif name in ("PU", "PD"):
            assert len(numbers) % 2 == 0, f"a lone coordinate in {found[0]!r}"
            assert len(found[0]) < 1024, "an instruction too long for a small buffer"
            down = name == "PD"
            for x, y in zip(numbers[::2], numbers[1::2], strict=True):
                to = (x * UNIT, y * UNIT)
                if down:
                    assert pen, "drawn with no pen"
                    _draw(drawn, pen, at, to)
                else:
                    drawn.travel += ((to[0] - at[0]) ** 2 + (to[1] - at[1]) ** 2) ** 0.5
                    drawn.lines.setdefault(pen, []).append([])
                at = to
        elif name == "PA":
            assert not numbers
        else:
            raise AssertionError(f"unknown instruction {name}")
    assert not down, "the pen is left down"
    assert pen == 0, "the pen is not put away"
    drawn.lines = {
        pen: kept
        for pen, lines in drawn.lines.items()
        if (kept := [line for line in lines if line])
    }
    return drawn


def _draw(drawn: Drawn, pen: int, at: Place, to: Place) -> None:
    """On with the line that ends here, or a new one."""
    lines = drawn.lines.setdefault(pen, [])
    if not lines or not lines[-1]:
        lines[-1:] = [[at]]
    lines[-1].append(to)
