"""Draws the golden drawings and the README's pictures again: look at each before committing it.

python tests/golden/redraw.py
"""

from __future__ import annotations

import io
from dataclasses import replace
from pathlib import Path

from blockwright import Document, draft, finish_all, load, load_finish, load_sheet, prove

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


FINISHED = ("nora", "skirt.straight")
FINISH = ROOT / "examples" / "finish.toml"
TILED = ("nora", "bodice.fitted+sleeve.fitted")


def drafted(person: str, blocks: str) -> Document:
    """A set of blocks for a person of the workroom."""
    sheet = load_sheet(WORKROOM / f"{person}.toml")
    pattern = draft([load().block(key) for key in blocks.split("+")], sheet)
    return Document(pattern, prove(pattern), sheet.units)


def draw(person: str, blocks: str) -> bytes:
    """Its SVG."""
    return load().format("svg").write(drafted(person, blocks))


def draw_finished(person: str, blocks: str) -> bytes:
    """Its SVG with the workroom's allowances."""
    document = drafted(person, blocks)
    cut = finish_all(document.pattern, load_finish(FINISH))
    return load().format("svg").write(replace(document, finished=cut))


def draw_map(person: str, blocks: str) -> bytes:
    """The first page of its tiles, as a picture."""
    import pypdfium2

    data = load().format("tiles").write(drafted(person, blocks))
    page = pypdfium2.PdfDocument(data)[0].render(scale=1.2).to_pil()
    stream = io.BytesIO()
    page.quantize(16).save(stream, "PNG", optimize=True)
    return stream.getvalue()


def golden(person: str, blocks: str) -> Path:
    """Where the golden drawing is kept."""
    return HERE / f"{person}-{blocks}.svg"


def picture(blocks: str) -> Path:
    """Where the README's picture is kept."""
    return PICTURES / f"{blocks}.svg"


def finished_picture() -> Path:
    """Where the README's picture of finished pieces is kept."""
    return PICTURES / f"{FINISHED[1]}.finished.svg"


def map_picture() -> Path:
    """Where the README's picture of a map of tiles is kept."""
    return PICTURES / "tiles.png"


def main() -> None:
    drawings = {golden(*each): draw(*each) for each in DRAWN}
    drawings |= {picture(blocks): draw(who, blocks) for who, blocks in PICTURED}
    drawings[finished_picture()] = draw_finished(*FINISHED)
    drawings[map_picture()] = draw_map(*TILED)
    for path, data in drawings.items():
        same = path.exists() and path.read_bytes() == data
        path.write_bytes(data)
        print("same " if same else "drawn", path.relative_to(ROOT))


if __name__ == "__main__":
    main()
