"""Turn the bust dart of a bodice front: half of it to the neck, and prove what is left.

python examples/turn_a_dart.py
"""

from __future__ import annotations

from pathlib import Path

from blockwright import Draft, Unit, draft, load, load_sheet, move_dart, prove, shorten_dart

SHEET = Path(__file__).parent / "workroom" / "stand.toml"


def main() -> None:
    pattern = draft(load().block("bodice.fitted"), load_sheet(SHEET))
    front = pattern.piece("front")

    neck = front.edge("front neck").curve
    split = move_dart(
        front,
        "bust dart",
        "front neck",
        0.4 * neck.length,
        name="neck dart",
        pressed="start",
        says="pressed to the centre",
        parts=("front neck", "front neck upper"),
        share=0.5,
    )
    front = shorten_dart(split, "neck dart", 30.0)

    table = Draft("example.front", "Front with a neck dart", Unit.MM)
    table.add(front)
    print(prove(table.pattern()).text(Unit.MM))


if __name__ == "__main__":
    main()
