"""Draft a fitted sleeve for Ines of the invented workroom, print its proof, write SVG and DXF.

    python examples/draft_a_sleeve.py

Measure the test bars on the print before cutting good cloth.
"""

from __future__ import annotations

from pathlib import Path

from blockwright import Document, draft, load, load_sheet, prove

SHEET = Path(__file__).parent / "workroom" / "ines.toml"
OUT = Path("out")


def main() -> None:
    host = load()
    sheet = load_sheet(SHEET)

    # Options as on the command line; a bare number would take the sheet's unit.
    pattern = draft(host.block("sleeve.fitted"), sheet, {"cap_ease": "1 in", "wrist_ease": "2 in"})
    proof = prove(pattern)
    print(proof.text(sheet.units))
    if not proof.held:
        raise SystemExit("a promise is broken: nothing is written")

    cap = pattern.edge("cap").curve
    print(f"\nThe cap is {cap.length / 25.4:.2f} in long on the seam line.")

    OUT.mkdir(exist_ok=True)
    for name in ("svg", "dxf"):
        form = host.format(name)
        path = OUT / f"{sheet.name.lower()}-{pattern.block}{form.suffix}"
        path.write_bytes(form.write(Document(pattern, proof, sheet.units)))
        print(f"wrote {path}: {form.says}")


if __name__ == "__main__":
    main()
