"""Documents of every bundled block, bare and finished, and the R12 files of them read by others."""

from __future__ import annotations

import io
from functools import cache
from pathlib import Path

import ezdxf
import numpy as np
import pyogrio
import pyogrio.raw
import shapely
from ezdxf.document import Drawing

from blockwright import Curve, Document, Unit, draft, load, load_sheet, prove
from blockwright.pattern.finishing.finish import Finish, finish_all

WORKROOM = Path(__file__).parents[2] / "examples" / "workroom"
PEOPLE = {
    "bodice.fitted+sleeve.fitted": "nora",
    "skirt.straight": "ines",
    "skirt.flared": "nora",
    "skirt.circle": "ines",
    "skirt.gored": "nora",
    "trousers.straight": "tom",
    "bodice.easy+sleeve.straight": "tom",
}
SETS = tuple(PEOPLE)
EVERY = [(keys, finished) for keys in SETS for finished in (False, True)]


@cache
def written(
    keys: str, finished: bool = False, unit: Unit = Unit.CM, flat: float = 0.05
) -> Document:
    """A set for one of the workroom, with the usual allowances or bare."""
    host = load()
    sheet = load_sheet(WORKROOM / f"{PEOPLE[keys]}.toml")
    pattern = draft([host.block(key) for key in keys.split("+")], sheet)
    whole = finish_all(pattern, Finish()) if finished else ()
    return Document(pattern, prove(pattern), unit, whole, {"flat": flat})


def outlines(document: Document) -> list[list[Curve]]:
    """What is cut of each piece."""
    if document.finished:
        return [[edge.curve for edge in whole.cut] for whole in document.finished]
    return [[edge.curve for edge in piece.edges] for piece in document.pattern.pieces]


def ring(curves: list[Curve]) -> np.ndarray:
    """Points all but on the curves, closed."""
    chains = [curve.flatten(accuracy=1e-4) for curve in curves]
    return np.concatenate([*(chain[:-1] for chain in chains), chains[0][:1]])


def by_ezdxf(data: bytes) -> Drawing:
    """The drawing, nothing to mend in it."""
    drawing = ezdxf.read(io.StringIO(data.decode("ascii"), newline=None))
    audit = drawing.audit()
    assert not audit.errors, [error.message for error in audit.errors]
    assert not audit.fixes, [fix.message for fix in audit.fixes]
    return drawing


def by_gdal(data: bytes) -> list[tuple[str, shapely.Geometry]]:
    """Layer and geometry of everything on the sheet, blocks opened."""
    pyogrio.set_gdal_config_options({"DXF_MERGE_BLOCK_GEOMETRIES": "FALSE"})
    meta, _, shapes, columns = pyogrio.raw.read(data)
    layers = columns[list(meta["fields"]).index("Layer")]
    return list(zip(layers, shapely.from_wkb(shapes), strict=True))
