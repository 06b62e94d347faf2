"""Documents of bundled blocks, bare and finished, for a person of the workroom."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from pathlib import Path

from blockwright import Document, Pattern, Proof, Unit, draft, load, load_sheet, prove
from blockwright.pattern.finishing.cut_marks import NotchKind
from blockwright.pattern.finishing.finish import Finish, FinishedPiece, finish

WORKROOM = Path(__file__).parents[2] / "examples" / "workroom"
EVERY = (
    "bodice.fitted+sleeve.fitted",
    "skirt.circle",
    "skirt.gored",
    "skirt.straight",
    "trousers.straight",
)
SET = EVERY[0]
NOTHING_CHOSEN: dict[str, object] = {}
# No plotter or reader ever sees a worse one.
NAME = "../a/b\\c'; \U0001f9f5 \u03bb\n\x00" + "x" * 300


@cache
def drafted(keys: str) -> tuple[Pattern, Proof, Unit]:
    host = load()
    sheet = load_sheet(WORKROOM / "ines.toml")
    pattern = draft([host.block(key) for key in keys.split("+")], sheet)
    return pattern, prove(pattern), sheet.units


@cache
def finished(keys: str, notch: NotchKind) -> tuple[FinishedPiece, ...]:
    how = Finish(notch=notch, opened=True)
    return tuple(finish(piece, how) for piece in drafted(keys)[0].pieces)


def workroom(keys: str, how: str = "slit", options: dict[str, object] = NOTHING_CHOSEN) -> Document:
    """Finished with the kind of notch that `how` says, or bare; pieces on the fold opened out."""
    pattern, proof, unit = drafted(keys)
    own = () if how == "bare" else finished(keys, how)
    return Document(pattern, proof, unit, own, options, opened=True)


def renamed(whole: Document, name: str = NAME) -> Document:
    """Every piece called by the same name and a number."""
    pieces = tuple(replace(p, name=f"{name}{i}") for i, p in enumerate(whole.pattern.pieces))
    own: list[FinishedPiece] = [
        replace(f, piece=replace(f.piece, name=p.name))
        for f, p in zip(whole.finished, pieces, strict=False)
    ]
    new = {p.name: q.name for p, q in zip(whole.pattern.pieces, pieces, strict=True)}
    marks = tuple(replace(m, piece=new.get(m.piece, "")) for m in whole.pattern.marks)
    pattern = replace(whole.pattern, pieces=pieces, marks=marks)
    return replace(whole, pattern=pattern, finished=tuple(own))
