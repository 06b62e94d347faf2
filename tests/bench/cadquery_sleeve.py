"""The honest alternative: the same fitted sleeve scripted on a CAD kernel.

What a good scripter would write with cadquery and scipy: OCCT interpolation for curves, its edge
lengths asked of the kernel at each trial, Brent's method for the cap height and the wrist within
the same brackets as the plugin (any body must do), and the same checks by hand on the wire.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import cadquery as cq
from cadquery import Edge, Vector, Wire
from OCP.BRepAlgoAPI import BRepAlgoAPI_Check
from OCP.BRepExtrema import BRepExtrema_DistShapeShape
from scipy.optimize import brentq

FRONT = (0.130, 0.033, -0.087)
BACK = (0.109, 0.033, -0.065)


@dataclass
class Body:
    bicep: float
    wrist: float
    length: float
    elbow: float
    front: float
    back: float
    ease: float
    dart: float


def cap(body: Body, height: float, lean: float) -> tuple[Edge, list[Vector]]:
    half, across = body.bicep / 2, (body.back - body.front) / 2
    crown = Vector(across * math.sqrt(1 + height**2 / (half**2 - across**2)), height)
    ends = Vector(half, 0), Vector(-half, 0)
    marks = [ends[0]]
    for end, shares, side in ((ends[0], FRONT, 1), (ends[1], BACK, -1)):
        guide = end - crown
        square = Vector(-guide.y, guide.x).normalized() * side
        half_marks = [
            crown + guide * q + square * (s * height)
            for q, s in zip((0.25, 0.5, 0.75), shares, strict=True)
        ]
        marks += [*reversed(half_marks), crown] if side > 0 else half_marks
    marks.append(ends[1])
    tangents = [Vector(-math.cos(lean), math.sin(lean)), Vector(-math.cos(lean), -math.sin(lean))]
    return Edge.makeSpline(marks, tangents=tangents, scale=False), marks


def lean_of(body: Body, height: float) -> float:
    drop = body.length - height - body.dart / 2
    return brentq(
        lambda t: body.bicep * (t / math.tan(t) if t else 1.0) - 2 * t * drop - body.wrist,
        -1.4,
        1.4,
    )


def arm(body: Body, height: float, lean: float, seam: float, outward: float):
    upper = (body.elbow - height) / math.cos(lean)
    down = Vector(-math.sin(lean), -math.cos(lean))
    under = Vector(body.bicep / 2, 0)
    step = seam * math.sin(outward / 2) / (outward / 2)
    front = Edge.makeTangentArc(under, down, under + _turn(down, outward / 2) * step)
    closed = front.mirror("YZ")
    share = upper / seam
    top = closed.trim(*_trim(closed, 0.0, share))
    low = closed.trim(*_trim(closed, share, 1.0))
    elbow = top.positionAt(1.0)
    leg = -0.6 * elbow.x
    apex = elbow + Vector(leg, 0)
    angle = 2 * math.asin(body.dart / 2 / leg)
    low = low.rotate(apex, apex + Vector(0, 0, 1), math.degrees(angle))
    ends = low.positionAt(1.0), front.positionAt(1.0)
    tilt = (angle - 2 * outward) / 2 + lean
    chord = (ends[1] - ends[0]).normalized()
    hem = Edge.makeTangentArc(ends[0], _turn(chord, tilt), ends[1])
    return front, top, low, hem, apex


def bend(body: Body, height: float, lean: float, seam: float) -> float:
    """The swing outward that makes the wrist as wide as asked, on seams of that length."""
    return brentq(
        lambda o: arm(body, height, lean, seam, o)[3].Length() - body.wrist, -0.5, 0.5, xtol=1e-8
    )


def middle(body: Body, height: float, crown: Vector, lean: float, seam: float) -> float:
    """From the crown over the middle of the elbow to the middle of the hem."""
    _, top, _, hem, _ = arm(body, height, lean, seam, bend(body, height, lean, seam))
    elbow = Vector(0, top.positionAt(1.0).y)
    return (crown - elbow).Length + (hem.positionAt(0.5) - elbow).Length


def roof(apex: Vector, low: Edge, other: Vector) -> list[Edge]:
    """The dart's mouth, folded on to the lower seam: two mirrored stretches of it."""
    leg = low.positionAt(0.0)
    a, b = leg - apex, other - apex
    half = math.atan2(a.x * b.y - a.y * b.x, a.dot(b)) / 2.0
    ray = Edge.makeLine(apex, apex + _turn(a, -half) * 4.0)
    met = BRepExtrema_DistShapeShape(low.wrapped, ray.wrapped).PointOnShape1(1)
    stretch = low.trim(low.paramAt(0.0), low.paramAt(Vector(met)))
    first = stretch.mirror(Vector(-a.y, a.x), apex)
    fold = _turn(a, half)
    return [first.mirror(Vector(-fold.y, fold.x), apex), first]


def _trim(edge: Edge, a: float, b: float) -> tuple[float, float]:
    return edge.paramAt(a), edge.paramAt(b)


def _turn(v: Vector, angle: float) -> Vector:
    return Vector(
        v.x * math.cos(angle) - v.y * math.sin(angle), v.x * math.sin(angle) + v.y * math.cos(angle)
    )


def draft(body: Body) -> tuple[Wire, dict[str, float]]:
    want = body.front + body.back + body.ease
    height = brentq(
        lambda h: cap(body, h, lean_of(body, h))[0].Length() - want,
        0.1 * body.bicep,
        0.7 * body.bicep,
        xtol=1e-7,
    )
    lean = lean_of(body, height)
    edge, marks = cap(body, height, lean)
    likely = (body.length - height) / math.cos(lean)
    seam = brentq(
        lambda s: middle(body, height, marks[4], lean, s) - body.length,
        likely - 2 * body.dart, likely + 2 * body.dart, xtol=1e-5,
    )  # fmt: skip
    outward = bend(body, height, lean, seam)
    front, top, low, hem, apex = arm(body, height, lean, seam, outward)
    mouth = roof(apex, low, top.positionAt(1.0))
    wire = Wire.assembleEdges([front, edge, top, *mouth, low, hem])
    face = cq.Face.makeFromWires(wire)
    start, end = top.positionAt(1.0) - apex, low.positionAt(0.0) - apex
    closing = math.atan2(end.x * start.y - end.y * start.x, start.dot(end))
    leaving = _turn(low.tangentAt(0.0), closing)
    found = {
        "area": face.Area(),
        "simple": float(BRepAlgoAPI_Check(face.wrapped).IsValid()),
        "over the dart": top.tangentAt(1.0).getAngle(leaving),
        "cap": edge.Length(),
        "wrist": hem.Length(),
        "underarm": front.Length() - top.Length() - low.Length(),
        "legs": (top.positionAt(1.0) - apex).Length - (low.positionAt(0.0) - apex).Length,
        "through": max(edge.distance(cq.Vertex.makeVertex(*m.toTuple())) for m in marks),
        "front corner": edge.tangentAt(0.0).getAngle(front.tangentAt(0.0)),
        "back corner": edge.tangentAt(1.0).getAngle(top.tangentAt(0.0)),
        "hem front": hem.tangentAt(1.0).getAngle(front.tangentAt(1.0)),
        "hem back": hem.tangentAt(0.0).getAngle(low.tangentAt(1.0)),
        "crown": edge.tangentAt(0.5).y,
        "closed": float(wire.IsClosed()),
        "valid": float(wire.isValid()),
    }
    for at in (0.33 * body.front, body.front + body.ease / 2, want - 0.33 * body.back):
        found[f"notch {at:.0f}"] = edge.positionAt(at / edge.Length()).x
    return wire, found
