"""Hard templates to trace round, to cut from board or to print: plates as STEP and STL, mm.

Every piece is a plate of the thickness asked for, lying on the XY plane where it lies on the
sheet: its cut line, or the outline as sewn when it has no allowances.  Notches are cut out of
the edge, so that a pencil finds them, and drill holes go through.
"""

from __future__ import annotations

import io
import math
from collections.abc import Iterable, Iterator, Sequence
from typing import TYPE_CHECKING, Any

from blockwright.curves._numpy import np
from blockwright.curves.affine import Affine
from blockwright.curves.curve import Curve
from blockwright.curves.point import Point
from blockwright.curves.primitives import polyline
from blockwright.errors import GeometryError, InputError
from blockwright.formats import cad, layout
from blockwright.formats.folds import refuse_folds
from blockwright.formats.labels import piece_name
from blockwright.formats.options import FacetedPlate, Plate
from blockwright.plugin.format import Document

if TYPE_CHECKING:
    import cadquery as cq

    from blockwright.pattern.finishing.cut_marks import CutNotch
    from blockwright.pattern.finishing.finish import FinishedPiece

# A slit is so wide, mm: a sharp pencil goes in.
SLIT = 1.0
# What is cut out of the edge reaches so far past it, mm, that no skin is left on a curved edge.
PAST_EDGE = 1.0
# A V reaches past its mouth by this share of its depth, its sides running straight on.
PAST_MOUTH = 0.4
# Corners of a curve in STL turn by no more than this, radians: a drill hole stays round.
MOST_TURN = math.radians(20.0)
# A file says when it was made; ours says the same every time.
STAMP = "1970-01-01T00:00:00"
# Names of plates in STEP are cut at so many letters.
LONGEST = 60
STL_HEAD = 80


def step(document: Document) -> bytes:
    """The plates as STEP, each a part of its own with the piece's name in plain capitals.

    Raises InputError for a thickness of nothing, a piece on the fold, a piece whose outline does
    not close, notches that cut a plate apart, and when cadquery is not there.
    """
    plates = _plates(document, "step")
    from OCP.Interface import Interface_Static
    from OCP.STEPControl import STEPControl_StepModelType, STEPControl_Writer

    writer = STEPControl_Writer()
    # Settings of the whole process, so they are given every time.
    Interface_Static.SetIVal_s("write.surfacecurve.mode", 0)
    Interface_Static.SetIVal_s("write.precision.mode", 0)
    Interface_Static.SetCVal_s("xstep.cascade.unit", "MM")
    Interface_Static.SetCVal_s("write.step.unit", "MM")
    for _, plate in plates:
        writer.Transfer(plate.wrapped, STEPControl_StepModelType.STEPControl_AsIs)
    _name(writer, plates, _says(document))
    stream = io.BytesIO()
    writer.WriteStream(stream)
    return stream.getvalue()


def stl(document: Document) -> bytes:
    """The plates as binary STL, within `FacetedPlate.flat` of the true curves.

    Raises InputError as `step` does, and for a `flat` that is not more than 0.
    """
    flat = FacetedPlate(document.options).flat
    if not flat > 0.0:
        raise InputError.coded("format.flat", format="stl", flat=flat)
    facets = np.concatenate([_facets(plate, flat) for _, plate in _plates(document, "stl")])
    first, second, third = facets[:, 0], facets[:, 1], facets[:, 2]
    normal = np.cross(second - first, third - first)
    long = np.linalg.norm(normal, axis=1, keepdims=True)
    rows = np.zeros(len(facets), dtype=[("normal", "<f4", 3), ("at", "<f4", (3, 3)), ("", "<u2")])
    rows["normal"] = np.divide(normal, long, out=np.zeros_like(normal), where=long > 0.0)
    rows["at"] = facets
    head = _says(document).encode("ascii").ljust(STL_HEAD)
    return head + len(facets).to_bytes(4, "little") + rows.tobytes()


# -- plates ----------------------------------------------------------------------------------


def _plates(document: Document, form: str) -> list[tuple[str, cq.Solid]]:
    """A name and a plate for each piece, lying as on the sheet."""
    thickness = Plate(document.options).thickness
    if not 0.0 < thickness < math.inf:
        raise InputError.coded("format.thickness", format=form, thickness=thickness)
    refuse_folds(document, form)
    finished: Sequence[FinishedPiece | None] = document.finished
    placed = layout.lay_out(document, words=False).placed
    plates = []
    for number, (each, own) in enumerate(
        zip(placed, finished or [None] * len(placed), strict=True), start=1
    ):
        try:
            plates.append((_plain(number, piece_name(each.piece)), _plate(each, own, thickness)))
        except GeometryError as error:
            raise InputError.coded(
                "template.no-plate", form=form, piece=each.piece.label, why=error
            ) from error
    return plates


def _plate(placed: layout.Placed, own: FinishedPiece | None, thickness: float) -> cq.Solid:
    cadquery = cad.library()
    lay = Affine.move(placed.step)
    (_, outline), *_ = placed.lines
    whole = cad.face([curve.moved(lay) for curve in outline])
    notches = layout.notches(placed.piece, own)
    tools = [cad.face([curve.moved(lay)]) for notch in notches for curve in _notch(notch)]
    for drill in own.drills if own else ():
        # A circle, so that the hole is a cylinder, which a drilling machine knows.
        at, up = cadquery.Vector(*lay(drill.at), 0.0), cadquery.Vector(0.0, 0.0, 1.0)
        ring = cadquery.Wire.makeCircle(drill.diameter / 2.0, at, up)
        tools.append(cadquery.Face.makeFromWires(ring))
    left = whole.cut(*tools).Faces() if tools else [whole]
    if len(left) != 1:
        raise GeometryError(f"its notches and holes cut it into {len(left)}; make them smaller")
    up = cadquery.Vector(0.0, 0.0, thickness)
    return cadquery.Solid.extrudeLinear(left[0], up)  # type: ignore[no-any-return]


def _notch(notch: CutNotch) -> Iterator[Curve]:
    """Outlines of what a notch cuts out of a plate's edge, each closed."""
    foot, half = notch.at + notch.inward * notch.depth, notch.inward.left() * notch.width / 2.0
    if notch.kind == "V":
        mouth = 1.0 + PAST_MOUTH
        middle = foot.between(notch.at, mouth)
        yield _closed(foot, middle + half * mouth, middle - half * mouth)
    else:
        yield _slot(notch.at, foot)
    if notch.kind == "T":
        # The bar ends where the slot does, so that the notch is no deeper than asked for.
        up = notch.inward * -SLIT
        yield _closed(foot - half, foot + half, foot + half + up, foot - half + up)


def _slot(at: Point, foot: Point) -> Curve:
    """A slit from the edge to its foot, as wide as SLIT."""
    inward = (foot - at).unit()
    half, past = inward.left() * (SLIT / 2.0), at - inward * PAST_EDGE
    return _closed(foot - half, foot + half, past + half, past - half)


def _closed(*corners: Point) -> Curve:
    return polyline([*corners, corners[0]])


# -- names and facets ------------------------------------------------------------------------


def _plain(number: int, name: str) -> str:
    """A name of the letters that every reader takes; the number keeps two apart."""
    letters = [c if c.isascii() and c.isalnum() else "_" for c in name.upper()]
    return f"PIECE_{number}_{''.join(letters)[:LONGEST]}"


def _says(document: Document) -> str:
    proved = "" if document.proof.held else "UNPROVED, a promise is broken. "
    return f"{proved}Blockwright hard templates, 1 unit is 1 mm"


def _name(writer: Any, plates: Iterable[tuple[str, cq.Solid]], says: str) -> None:
    """Name parts and solids, and write a header without the time."""
    from OCP.APIHeaderSection import APIHeaderSection_MakeHeader
    from OCP.StepBasic import StepBasic_Product
    from OCP.STEPConstruct import STEPConstruct
    from OCP.TCollection import TCollection_HAsciiString as Text

    process = writer.WS().TransferWriter().FinderProcess()
    for name, plate in plates:
        STEPConstruct.FindEntity_s(process, plate.wrapped).SetName(Text(name))
    model = writer.Model()
    entities = (model.Value(i) for i in range(1, model.NbEntities() + 1))
    products = [entity for entity in entities if isinstance(entity, StepBasic_Product)]
    # The library numbers parts through all that a process writes.
    for (name, _), product in zip(plates, products, strict=True):
        product.SetId(Text(name))
        product.SetName(Text(name))
    header = APIHeaderSection_MakeHeader(model)
    header.SetTimeStamp(Text(STAMP))
    header.SetDescriptionValue(1, Text(says))
    header.SetName(Text("Hard templates"))
    header.SetAuthorValue(1, Text(""))
    header.SetOrganizationValue(1, Text(""))
    header.SetAuthorisation(Text(""))
    header.SetOriginatingSystem(Text("Blockwright"))


def _facets(plate: cq.Solid, flat: float) -> np.ndarray:
    """Triangles (n, 3, 3) of a plate, counter-clockwise seen from outside."""
    from OCP.BRepMesh import BRepMesh_IncrementalMesh

    # One after the other, for the same file every time.
    BRepMesh_IncrementalMesh(plate.wrapped, flat, False, MOST_TURN, False)
    places, corners = plate.tessellate(flat, MOST_TURN)
    at = np.array([place.toTuple() for place in places])
    return np.asarray(at[np.array(corners)])
