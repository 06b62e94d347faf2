"""Draft a whole wardrobe for Nora of the invented workroom: one body sheet, one proof.

    python examples/draft_a_wardrobe.py

The sleeve takes its armhole from the bodice.  Measure the test bars on the print before cutting
good cloth.
"""

from __future__ import annotations

from pathlib import Path

from blockwright import Document, draft, load, load_sheet, prove

SHEET = Path(__file__).parent / "workroom" / "nora.toml"
OUT = Path("out")
WARDROBE = ("bodice.fitted", "sleeve.fitted", "skirt.straight", "trousers.straight")


def main() -> None:
    host = load()
    sheet = load_sheet(SHEET)
    blocks = [host.block(key) for key in WARDROBE]

    # An option that several of the blocks have is written with the block's key.
    settings = {"cap_ease": "2 cm", "skirt.straight.waist_ease": "15 mm"}
    pattern = draft(blocks, sheet, settings)
    proof = prove(pattern)
    for result in proof.results:
        if result.kind == "girth":
            print(f"{proof.label(result.subject)}: {result.measured / 10.0:.1f} cm")
    if not proof.held:
        raise SystemExit("a promise is broken: nothing is written")
    print(f"all {len(proof.results)} promises held")

    OUT.mkdir(exist_ok=True)
    form = host.format("svg")
    path = OUT / f"nora-wardrobe{form.suffix}"
    path.write_bytes(form.write(Document(pattern, proof, sheet.units)))
    print(f"wrote {path}")


if __name__ == "__main__":
    main()
