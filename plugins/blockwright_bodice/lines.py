"""Lines over the shoulder: the neck and the armhole, drawn as sewn and cut apart."""

from __future__ import annotations

from blockwright import Affine, Draft, Edge, LaidLine, Notch, Part, Point, fair_curve, lay_line
from blockwright_bodice.bodice import WHOLE_BODY, Bodice
from blockwright_bodice.half import TO_LEFT, Half, hollow
from blockwright_bodice.shoulder import Shoulder

# The back neck rises at the shoulder this many times as steeply as on the way from the nape; at
# three times it would leave the nape quite straight.
FLAT_NAPE = 2.7


def neck_line(d: Draft, bodice: Bodice, front: Shoulder, back: Shoulder) -> tuple[Edge, Edge]:
    """Front and back neck: one fair line over the shoulder, as long as the neck asks.

    The front one runs from the centre front to the shoulder, the back one on to the nape.
    """
    lay = Affine.laying(front.neck, front.tip, back.neck, back.beside_neck)
    nape = d.mark("back neck point", Point(0.0, 0.0), "start of the draft", piece="back")
    # A back neck is nearly flat at the nape and rises more and more to the shoulder; the middle
    # of such a line is the mark that keeps the whole one so.
    rising = Point(-1.0, 0.0).turned(FLAT_NAPE * back.neck.angle)
    flat = fair_curve([back.neck, nape], rising, TO_LEFT)
    middle = flat.point_at(flat.length / 2.0)

    def laid(depth: float) -> LaidLine:
        pit = Point(0.0, front.neck.y - depth)
        parts = [Part((pit, front.neck), lay), Part((back.neck, middle, nape))]
        return lay_line(parts, lay.way(TO_LEFT), TO_LEFT)

    target = (bodice.neck_base + bodice.neck_ease) / WHOLE_BODY
    depth = d.solve(
        "front neck depth",
        lambda depth: laid(depth).length,
        target=target,
        low=0.4 * bodice.neck_width,
        high=3.0 * bodice.neck_width,
        # A neck line is a little longer than half round a circle of the neck width.
        near=(target - 1.5 * bodice.neck_width, 0.9),
        so_that="the neck line is the neck base girth and its ease",
        goal="half neck line",
        advice="check neck_base_girth, or set neck_ease",
    )
    front_neck, back_neck = laid(depth).curves()
    d.mark("front neck point", front_neck.start, "front neck depth below the side neck point",
           piece="front")  # fmt: skip
    return Edge("front neck", front_neck, "neck"), Edge("back neck", back_neck, "neck")


def armhole_line(front: Half, back: Half) -> tuple[Edge, Edge]:
    """Front and back armhole: one fair line over the shoulder, square to both side seams.

    The back one runs up from the underarm, the front one down to it.
    """
    over, under = front.shoulder, back.shoulder
    lay = Affine.laying(over.tip, over.neck, under.tip, under.beside_tip)
    parts = [
        Part((back.underarm, *reversed(hollow(back)), back.across, under.tip)),
        Part((over.tip, front.across, *hollow(front), front.underarm), lay),
    ]
    up, down = lay_line(parts, -back.side.left(), lay.way(-front.side.left())).curves()
    return Edge("front armhole", down, "armhole"), Edge("back armhole", up, "armhole")


def armhole_notches(bodice: Bodice, front: Edge, back: Edge) -> tuple[Notch, Notch]:
    """The notches of the armhole: one on the front, two side by side on the back."""
    up_front, up_back = (bodice.armhole_notch * edge.curve.length for edge in (front, back))
    return (
        Notch("front notch", front.name, front.curve.length - up_front),
        Notch("back notch", back.name, up_back, count=2),
    )
