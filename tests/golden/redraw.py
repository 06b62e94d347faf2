"""Draws the golden sleeves and the README's picture again: look at each before committing it.

python tests/golden/redraw.py
"""

from __future__ import annotations

from pathlib import Path

from blockwright import Document, draft, load, load_sheet, prove

HERE = Path(__file__).parent
ROOT = HERE.parent.parent
WORKROOM = ROOT / "examples" / "workroom"
PEOPLE = tuple(sorted(path.stem for path in WORKROOM.glob("*.toml")))
BLOCKS = ("sleeve.fitted", "sleeve.straight")
PICTURE = ROOT / "examples" / "pictures" / "sleeve.fitted.svg"
PICTURED = ("ines", "sleeve.fitted")


def draw(person: str, block: str) -> bytes:
    """The SVG of a block for a person of the workroom."""
    host = load()
    sheet = load_sheet(WORKROOM / f"{person}.toml")
    pattern = draft(host.block(block), sheet)
    return host.format("svg").write(Document(pattern, prove(pattern), sheet.units))


def golden(person: str, block: str) -> Path:
    """Where the golden drawing is kept."""
    return HERE / f"{person}-{block}.svg"


def main() -> None:
    drawings = {golden(p, b): draw(p, b) for p in PEOPLE for b in BLOCKS}
    drawings[PICTURE] = draw(*PICTURED)
    for path, data in drawings.items():
        same = path.exists() and path.read_bytes() == data
        path.write_bytes(data)
        print("same " if same else "drawn", path.relative_to(ROOT))


if __name__ == "__main__":
    main()
