"""Turn half of a bust dart to the neck, sew a sleeve to the bodice, and prove all of it again.

python examples/turn_a_dart.py
"""

from __future__ import annotations

from pathlib import Path

from blockwright import Unit, draft, load, load_sheet, move_dart, prove, shorten_dart

SHEET = Path(__file__).parent / "workroom" / "stand.toml"


def main() -> None:
    host, sheet = load(), load_sheet(SHEET)
    bodice = draft(host.block("bodice.fitted"), sheet)

    at = 0.4 * bodice.length("front neck")
    turned, _ = move_dart(
        bodice,
        "front",
        "bust dart",
        "front neck",
        at,
        name="neck dart",
        pressed="start",
        says="pressed to the centre",
        share=0.5,
    )
    turned, _ = shorten_dart(turned, "front", "neck dart", 30.0)

    # Every promise of the bodice is kept, and what it offers too: a sleeve is drafted to it.
    assert len(turned.promises) == len(bodice.promises)
    dressed = draft(host.block("sleeve.fitted"), sheet, beside=turned)
    proof = prove(dressed)
    assert proof.held, proof.text(Unit.MM)

    for change in dressed.changes:
        said = [f"{v:.1f} mm" if isinstance(v, float) else v for v in change.values.values()]
        print(f"{change.verb}: {', '.join(said)}")
    print(proof.text(Unit.MM))


if __name__ == "__main__":
    main()
