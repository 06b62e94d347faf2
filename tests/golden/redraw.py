"""Draws the golden drawings and the README's pictures again: look at each before committing it.

python tests/golden/redraw.py
"""

from __future__ import annotations

from pathlib import Path

from blockwright import Document, draft, load, load_sheet, prove

HERE = Path(__file__).parent
ROOT = HERE.parent.parent
WORKROOM = ROOT / "examples" / "workroom"
PICTURES = ROOT / "examples" / "pictures"
# Who is drawn in what; several blocks with + between are one set.
DRAWN = (
    *((who, f"sleeve.{kind}") for who in ("ines", "nora", "stand", "tom")
      for kind in ("fitted", "straight")),
    ("nora", "bodice.fitted+sleeve.fitted"),
    ("ines", "bodice.fitted"),
    ("tom", "bodice.easy+sleeve.straight"),
    ("nora", "skirt.straight"),
    ("ines", "skirt.straight"),
    ("nora", "skirt.flared"),
    ("nora", "skirt.circle"),
    ("nora", "skirt.gored"),
    ("nora", "trousers.straight"),
    ("tom", "trousers.straight"),
)  # fmt: skip
PICTURED = (
    ("nora", "bodice.fitted+sleeve.fitted"),
    ("tom", "bodice.easy+sleeve.straight"),
    ("nora", "skirt.straight"),
    ("nora", "skirt.flared"),
    ("nora", "skirt.gored"),
    ("tom", "trousers.straight"),
)


def draw(person: str, blocks: str) -> bytes:
    """The SVG of a set of blocks for a person of the workroom."""
    host = load()
    sheet = load_sheet(WORKROOM / f"{person}.toml")
    pattern = draft([host.block(key) for key in blocks.split("+")], sheet)
    return host.format("svg").write(Document(pattern, prove(pattern), sheet.units))


def golden(person: str, blocks: str) -> Path:
    """Where the golden drawing is kept."""
    return HERE / f"{person}-{blocks}.svg"


def picture(blocks: str) -> Path:
    """Where the README's picture is kept."""
    return PICTURES / f"{blocks}.svg"


def main() -> None:
    drawings = {golden(*each): draw(*each) for each in DRAWN}
    drawings |= {picture(blocks): draw(who, blocks) for who, blocks in PICTURED}
    for path, data in drawings.items():
        same = path.exists() and path.read_bytes() == data
        path.write_bytes(data)
        print("same " if same else "drawn", path.relative_to(ROOT))


if __name__ == "__main__":
    main()
