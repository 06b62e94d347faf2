"""Broken and hostile files: one clear line that says where, or a clean reading; soon, and small."""

from __future__ import annotations

import functools
import io
import math
import random
import re
import resource
import time

import ezdxf
import pytest
from drawing_samples import written
from ezdxf import recover

from blockwright import InputError
from blockwright.formats import dxf, dxf_r12, exchange
from blockwright.formats.dxf_reading import shapes
from blockwright.formats.dxf_reading.drawing import ReadDrawing, read_drawing

WHERE = "stranger.dxf"
WRITERS = {"plain": dxf, "r12": dxf_r12, "exchange": exchange}
# Seconds for one file (ezdxf takes three for two million lines on a slow machine), and how much the
# process may grow over all of them, kB.
SOON, GROWN = 6.0, 400_000


@functools.cache
def good(kind: str) -> bytes:
    return WRITERS[kind].write(written("skirt.straight", finished=True))


def outcome(data: bytes) -> ReadDrawing | str:
    """What is read, or the one line that says why not; whatever else comes out is a failure."""
    began = time.process_time()
    try:
        return read_drawing(data, WHERE)
    except InputError as error:
        message = str(error)
        assert message.startswith(WHERE), message
        assert message.isprintable(), message
        assert len(message) < 700, message
        return message
    finally:
        assert time.process_time() - began < SOON


def refused(data: bytes, words: str) -> None:
    message = outcome(data)
    assert isinstance(message, str), "it was read"
    assert re.search(words, message), message


# -- files by hand ---------------------------------------------------------------------------


def entity(kind: str, layer: str = "1", **pairs: object) -> str:
    return f"0\n{kind}\n8\n{layer}\n" + "".join(f"{code[1:]}\n{v}\n" for code, v in pairs.items())


def pairs(*values: object) -> str:
    both = zip(values[::2], values[1::2], strict=True)
    return "".join(f"{code}\n{value}\n" for code, value in both)


def poly(points, layer: str = "1", closed: int = 1) -> str:
    vertices = "".join(entity("VERTEX", layer, _10=x, _20=y) for x, y in points)
    return entity("POLYLINE", layer, _66=1, _70=closed) + vertices + "0\nSEQEND\n"


def block(inside: str, name: str = "A") -> str:
    return f"0\nBLOCK\n8\n0\n2\n{name}\n10\n0\n20\n0\n{inside}0\nENDBLK\n"


def file(blocks: str = "", entities: str = "", header: str = "") -> bytes:
    text = f"0\nSECTION\n2\nHEADER\n{header}0\nENDSEC\n" if header else ""
    text += f"0\nSECTION\n2\nBLOCKS\n{blocks}0\nENDSEC\n"
    text += f"0\nSECTION\n2\nENTITIES\n{entities}0\nENDSEC\n0\nEOF\n"
    return text.encode()


SQUARE = [(0, 0), (200, 0), (200, 100), (0, 100)]
PIECE = poly(SQUARE)
TEXT = entity("TEXT", _10=0, _20=0, _40=3, _1="PIECE NAME: {}")


def circle(count: int, radius: float = 2000.0) -> list[tuple[float, float]]:
    angles = (math.tau * i / count for i in range(count))
    return [(round(radius * math.cos(a), 4), round(radius * math.sin(a), 4)) for a in angles]


@pytest.mark.parametrize(
    ("data", "words"),
    [
        (b"", "is empty"),
        (b" \r\n\n", "is empty"),
        (b"hello", r'Invalid group code "hello" at line 1'),
        (b"%PDF-1.7\n1 0 obj\n", 'Invalid group code "%PDF-1.7 " at line 1'),
        (b"<svg/>\n", 'Invalid group code "<svg/> " at line 1'),
        (b"PK\x03\x04" + bytes(range(1, 256)) * 40, "group code"),
        (b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR", "is not plain text"),
        (b"AutoCAD Binary DXF\r\n\x1a\0\0", "is a binary DXF"),
        (b"AC1015\0\0\0\0", "is a DWG"),
        (file(block(PIECE)).decode().encode("utf-16"), "UTF-16"),
        (file(block(PIECE)).decode().encode("utf-16-be"), "UTF-16"),
        (b"0\n" + b"A" * 3_000_000, "begins with a section"),
        (b"\n" * 3_000_000, "is empty"),
        (b"9" * 3_000_000, "Invalid group code"),
        (b"0\nSECTION\n" * 300_000, "it was cut short"),
        (b"0\nSECTION\n" * 300_000 + b"0\nEOF\n", "no ENDSEC before"),
        (b"0\nEOF\n", "begins with a section"),
        (b"1\nhello\n0\nEOF\n", "a DXF begins with a section"),
        (b"0\nLINE\n0\nEOF\n", "a DXF begins with a section"),
        (b"0\nSECTION\n2\nHEADER\n0\nENDSEC\n0\nLINE\n0\nEOF\n"
         , "'LINE' on layer '' stands outside every section"),
        (b"0\nSECTION\n2\nBLOCKS\n0\nEOF\n", "no ENDSEC before EOF"),
        (b"0\nSECTION\n2\nBLOCKS\n0\nENDSEC\n", "ends without EOF"),
        (b"0\nSECTION\n2\nHEADER\n0\nENDSEC\n0\nENDSEC\n0\nEOF\n", "ENDSEC closes no section"),
        (file("0\nBLOCK\n2\nA\n"), "block 'A' has no ENDBLK"),
        (file("0\nENDBLK\n"), "ENDBLK closes no block"),
        (file("0\nLINE\n"), "'LINE' on layer '' stands between blocks"),
        (file(block("0\nBLOCK\n2\nB\n")), "a block begins inside block 'A'"),
        (file(block(poly(SQUARE).replace("0\nSEQEND\n", "")))
         , "'POLYLINE' on layer '1' has no SEQEND"),
        (file(block(entity("VERTEX", _10=0, _20=0)))
         , "'VERTEX' on layer '1' belongs to no POLYLINE"),
        (file(block(PIECE.replace("200", "NaN"))), "nan is no length"),
        (file(block(PIECE.replace("200", "-inf"))), "-inf is no length"),
        (file(block(PIECE.replace("200", "1e300"))), "1e\\+300 is no length"),
        (file(block(PIECE.replace("200", "1e999"))), "inf is no length"),
        (file(block(PIECE.replace("200", "99999999"))), "1e\\+08 is no length"),
        (file(block(PIECE.replace("200", "12,5"))), "Invalid floating point values near line"),
        (file(block(PIECE.replace("200", "2_0"))), "'2_0' is not a number"),
        (file(block(PIECE.replace("200", ""))), "Invalid floating point values near line"),
        (file(block(PIECE.replace("200", "0x1F"))), "Invalid floating point values near line"),
        (file(block(PIECE.replace("10\n200\n", ""))), "'VERTEX' on layer '1' has no place"),
        (file(block(PIECE), header=pairs(9, "$INSUNITS", 70, 6)).replace(b"200", b"99999")
         , "more than 100 m away"),
        (file(block(PIECE), header=pairs(9, "$INSUNITS", 70, 3)), "INSUNITS. is number 3"),
        (file(block(PIECE), header=pairs(9, "$INSUNITS", 70, -4)), "is number -4"),
        (file(block(PIECE), header=pairs(9, "$INSUNITS", 70, 1.5)), "not a whole number"),
        (file(block(PIECE), entity("TEXT", _10=0, _20=0, _1="UNITS: FURLONGS")), "'FURLONGS'"),
        (file(block(entity("LWPOLYLINE", _90=-4, _10=1, _20=2))), "has -4 vertices and has 1"),
        (file(block(entity("LWPOLYLINE", _90=4, _10=1)))
         , "Missing required y coordinate near line"),
        (file(block(entity("SPLINE", _71=3, _73=-7))), "has -7 control points and has 0"),
        (file(block(entity("SPLINE", _71=3, _72=9, _73=0))), "has 9 knots and has 0"),
        (file(block(entity("SPLINE", _71=3) + pairs(10, 1, 20, 1) * 4 + "40\n1\n" * 5)), "5 knots"),
        (file(block(entity("SPLINE", _71=3) + "".join(pairs(10, i, 20, i) for i in range(4))
                    + "".join(pairs(40, 9 - i) for i in range(8)))), "run backwards"),
        (file(block(entity("CIRCLE", _10=0, _20=0, _40=-3))), "has a radius of -3"),
        (file(block(entity("ARC", _10=0, _20=0))), "has a radius of 0"),
        (file(block(entity("LINE", _10=0, _20=0))), "'LINE' on layer '1' has no place"),
        (file(block(entity("LWPOLYLINE", _10=0, _20=0, _42=1e5) + pairs(10, 9, 20, 9))), "bulge"),
        (file(block(PIECE.replace("70\n1", "70\n1.5"))), "not a whole number"),
        (file(block(PIECE)).replace(b"\n10\n", b"\n99999\n", 1), "99999 is no group code"),
        (file(block(PIECE)).replace(b"\n8\n", b"\n\n", 1), 'Invalid group code " " at line'),
        (file(block(PIECE, "A")).replace(b"0\nEOF\n", b""), "cut short"),
        (file(block(entity("TEXT", _10=0, _20=0, _1="x"))), "has no piece"),
        (file(block(poly(SQUARE, "99"))), "has no piece: none of its 1 blocks"),
        (file(block(poly(SQUARE, closed=0))), "block 'A': its boundary does not close"),
        (file(block(poly([(0, 0)] * 9))), "has no piece"),
        (file(block(poly([(0, 0), (9, 9), (0, 0), (9, 9)]))), "does not close"),
        (file(block(poly([(0, 0), (10, 10), (10, 0), (0, 10)]))), "does not close"),
    ],
)  # fmt: skip
def test_what_is_broken_is_refused_in_one_line(data: bytes, words: str) -> None:
    refused(data, words)


@pytest.mark.parametrize(
    ("data", "words"),
    [
        (lambda: file(block(PIECE + entity("VERTEX", _10=1.25, _20=2) * 1_000_000)), "MB; 10 MB"),
        (lambda: file(block(PIECE + entity("LINE", "7", _10=0, _20=0, _11=9, _21=9) * 20_001)),
         "more than 20000 lines"),
        (lambda: file(block(poly([(i % 9, i) for i in range(120_000)]))), "has 120000 vertices"),
        (lambda: file(block(entity("LWPOLYLINE") + "".join(
            pairs(10, i % 9, 20, i % 7) for i in range(150_000)))), "150000 vertices or more"),
        (lambda: file(block(poly([(random.Random(i).random(), i % 99) for i in range(50_000)]))),
         "more than 5000 turn points and corners"),
        (lambda: file(block(PIECE) * 501), "has 501 pieces; 500 are read"),
        (lambda: file(block(PIECE + entity("POINT", "2", _10=0, _20=0) * 5001)), "5001 points of"),
        (lambda: file(block(PIECE + entity("POINT", "4", _10=0, _20=0) * 1001)), "1001 points of"),
        (lambda: file(block(poly(circle(20_000)) + entity("POINT", "4", _10=2000, _20=0) * 900)),
         "900 marks on lines of"),
        (lambda: file(block(PIECE + entity("LINE", "8", _10=0, _20=0, _11=9, _21=9) * 5001)),
         "more than 5000"),
        (lambda: file(block(PIECE + entity("TEXT", "15", _10=0, _20=0, _1="x") * 70_000)),
         "more than 60000 lines, points and texts"),
        (lambda: file(block(PIECE + "".join(entity(f"ODD{i}") for i in range(2000)))),
         "more than 1000 kinds"),
        (lambda: file(block(entity("ARC", _10=0, _20=0, _40=9, _50=0, _51=9) * 5001)), "5000 arcs"),
    ],
)  # fmt: skip
def test_what_is_too_large_is_refused_soon(data, words: str) -> None:
    refused(data(), words)


@pytest.mark.parametrize(
    ("blocks", "words"),
    [
        (block(PIECE + entity("INSERT", _2="A", _10=0, _20=0)), "a block in a block"),
        ("".join(block(PIECE + entity("INSERT", _2=f"B{i + 1}", _10=0, _20=0), f"B{i}")
                 for i in range(200)), "INSERT on layer '1' (a block in a block): 199"),
        (block(PIECE) + block(PIECE), ""),
        (block(PIECE + entity("3DSOLID")), "3DSOLID on layer '1': 1"),
        (block(PIECE + entity("3DFACE<\u202e>")), "Entity "),
        (block(PIECE + entity("LINE", "5", _10=0, _20=0, _11=9, _21=9)), "LINE on layer '5': 1"),
        (block(PIECE + entity("POLYLINE", "8", _66=1, _70=64) + "0\nSEQEND\n"), "a mesh"),
        (block(PIECE + entity("LWPOLYLINE", "8", _90=0)), "no length"),
        (block(PIECE + entity("SPLINE", "8", _71=4)), "a degree above three"),
        (block(PIECE + entity("LINE", "8", _10=0, _20=0, _11=9, _21=9, _67=1)), "paper"),
        (block(PIECE + entity("INSERT", "9", _2="B", _10=0, _20=0, _41=0)), "scaled to nothing"),
        (block(PIECE + "".join(entity("X", f"L{i}") for i in range(300))), "and 2"),
        (block(PIECE + entity("POINT", "4", _10=100, _20=50, _50=370)), "off its line"),
        (block(PIECE + entity("POINT", "2", _10=55, _20=55)), "on no vertex"),
        (block(PIECE + poly([(10, 10), (20, 10), (20, 20)], "14", 0)), "sew lines do not close"),
        (block(PIECE + TEXT.format("x").replace("PIECE NAME: x", "QUANTITY: -3")), "quantity '-3'"),
        (block(PIECE + TEXT.format("x").replace("PIECE NAME: x", "QUANTITY: 99999999999")),
         "quantity"),
        (block(PIECE + poly(SQUARE, "1")), "1 more closed lines"),
        (block(poly([*SQUARE, (0, 0), (0, 0)])), ""),
        (block(poly(SQUARE[::-1])), ""),
        (block(poly([(0, 0), (200, 0), (200, 0.001), (200, 100), (0, 100)])), ""),
    ],
)  # fmt: skip
def test_what_is_only_odd_is_read_and_told(blocks: str, words: str) -> None:
    found = outcome(file(blocks))
    assert isinstance(found, ReadDrawing), found
    assert words in "\n".join(found.not_understood)
    assert len(found.not_understood) <= 101
    names = [piece.name for piece in found.pieces]
    assert len(set(names)) == len(names)
    for piece in found.pieces:
        assert sum(edge.curve.length for edge in piece.edges) == pytest.approx(600.0, abs=0.01)


@pytest.mark.parametrize(
    ("inner", "words"),
    [
        # Two references to the next in each of twenty blocks: a million of the last.
        ("".join(block(entity("INSERT", "8", _2=f"B{i + 1}", _10=0, _20=0) * 2, f"B{i}")
                 for i in range(20)), "deeper than 8 blocks"),
        ("".join(block(entity("INSERT", "8", _2=f"B{i + 1}", _10=0, _20=0) * 40, f"B{i}")
                 for i in range(5)), "more than 60000 lines, points and texts"),
        (block(poly([(i % 9, i) for i in range(9000)], "8"), "B1")
         + block(entity("INSERT", "8", _2="B1", _10=0, _20=0) * 900, "B0"), "vertices or more"),
        (block(entity("ARC", "8", _10=0, _20=0, _40=9, _50=0, _51=90) * 99, "B1")
         + block(entity("INSERT", "8", _2="B1", _10=0, _20=0) * 900, "B0"),
         "more than 5000 arcs"),
        (block(entity("INSERT", "8", _2="B0", _10=0, _20=0), "B0"), "a block in itself"),
        (block(entity("INSERT", "8", _2="B1", _10=0, _20=0), "B0")
         + block(entity("INSERT", "8", _2="b0", _10=0, _20=0), "B1"), "a block in itself"),
        ("".join(block(entity("INSERT", "8", _2=f"B{i + 1}", _10=0, _20=0, _41=1e-5, _42=1e-5),
                       f"B{i}") for i in range(7))
         + block(entity("CIRCLE", "8", _10=0, _20=0, _40=9), "B7"),
         "CIRCLE on layer '8' (it has no length): 1"),
        ("".join(block(entity("INSERT", "8", _2=f"B{i + 1}", _10=0, _20=0, _41=1e5), f"B{i}")
                 for i in range(7)) + block(entity("CIRCLE", "8", _10=9, _20=0, _40=9), "B7"),
         "more than 100 m away"),
    ],
)  # fmt: skip
def test_blocks_in_blocks_end_soon(inner: str, words: str) -> None:
    outer = block(PIECE + entity("INSERT", "8", _2="B0", _10=0, _20=0))
    found = outcome(file(outer + inner))
    told = found if isinstance(found, str) else "\n".join(found.not_understood)
    assert words in told


@pytest.mark.parametrize("places", [[(0, 0)], [(0, 0)] * 9, [(0, 0), (5, 5)], [(0, 0), (1e5, 1e5)],
                                    [(i % 2, 0) for i in range(5001)]])  # fmt: skip
def test_fit_points_of_every_kind(places: list[tuple[float, float]]) -> None:
    fit = "".join(pairs(11, x, 21, y) for x, y in places)
    outcome(file(block(PIECE + entity("SPLINE", "8", _71=3) + fit)))
    outcome(file(block(PIECE + entity("SPLINE", "8", _71=3, _12=0, _22=0, _13=0, _23=0) + fit)))


@pytest.mark.parametrize("more", [{"_11": 0, "_21": 0}, {"_11": 5, "_21": 5, "_40": 0},
                                  {"_11": 5, "_21": 5, "_40": -2}, {"_11": 5, "_21": 5, "_41": 1e5},
                                  {"_11": 5}])  # fmt: skip
def test_ellipses_of_every_kind(more: dict[str, float]) -> None:
    outcome(file(block(PIECE + entity("ELLIPSE", "8", _10=0, _20=0, **more))))


NAMES = [
    "a/b\\c:*?", "'\"`", "🧵🪡", "x" * 300, "..", "../../etc", "con", "", "   ", "a\tb", "%s%n",
    "{0}", "<b>&amp;</b>", "\\U+03BB", "\\U+D800", "王芳", "Ärmel", "\u202egnp", "a%%db", "$(x)",
    "-rf", "*Model_Space",
]  # fmt: skip


@pytest.mark.parametrize("name", NAMES)
def test_names_are_made_safe_and_differ(name: str) -> None:
    found = outcome(file(block(PIECE + TEXT.format(name), name) * 3))
    assert isinstance(found, ReadDrawing), found
    names = [piece.name for piece in found.pieces]
    assert len(set(names)) == 3
    for each in names:
        assert 0 < len(each) <= 70
        assert each.isprintable()
        assert not set(each) & set("/\\:*?\"'<>|`$%{}&\0")
        assert each.strip(" .") == each
    edges = [edge.name for piece in found.pieces for edge in piece.edges]
    assert len(set(edges)) == len(edges) == 12
    assert "".join(text for texts in found.words.values() for text in texts).encode()
    # Layers are read with any name.
    assert isinstance(
        outcome(file(block(PIECE + poly(SQUARE, name.strip() or "odd")))), ReadDrawing
    )


def test_letters_in_another_encoding_do_not_stop_it() -> None:
    data = file(block(PIECE + TEXT.format("Ärmel"))).decode().encode("cp1252")
    found = outcome(data)
    assert isinstance(found, ReadDrawing)
    assert found.pieces[0].name == "Ärmel"
    assert isinstance(outcome(b"\xef\xbb\xbf" + file(block(PIECE))), ReadDrawing)
    assert isinstance(outcome(data.replace(b"\xc4", b"\x81\xff")), ReadDrawing)


def test_a_comment_and_what_follows_the_end_are_no_matter() -> None:
    data = b"999\nwritten by a stranger\n" + file(block(PIECE)) + b"\n\n   \x1a"
    assert isinstance(outcome(data), ReadDrawing)


# -- good files made bad ---------------------------------------------------------------------


@pytest.mark.parametrize("kind", WRITERS)
def test_cut_short_anywhere(kind: str) -> None:
    data = good(kind)
    assert isinstance(outcome(data), ReadDrawing)
    random_places = random.Random(5).sample(range(1, len(data) - 4), 40)
    for place in [*range(1, 12), *random_places, len(data) - 6, len(data) - 4]:
        refused(data[:place].rstrip() or b"0", "it was cut short|no DXF, or a damaged one")


@pytest.mark.parametrize("kind", WRITERS)
@pytest.mark.parametrize(
    "line",
    [b"", b"NaN", b"-1", b"1e9", b"\xff\xfe", b"0", b"ENDSEC", b"SECTION", b"EOF", b"x" * 999],
)
def test_a_line_spoilt_anywhere(kind: str, line: bytes) -> None:
    """Whatever line is spoilt, it is read or refused in one line; never a traceback."""
    lines = good(kind).splitlines()
    choice = random.Random(line + kind.encode())
    for _ in range(6):
        spoilt = list(lines)
        spoilt[choice.randrange(len(lines))] = line
        outcome(b"\n".join(spoilt))


@pytest.mark.parametrize("kind", WRITERS)
@pytest.mark.parametrize("how", ["dropped", "doubled", "swapped", "moved", "bytes"])
def test_lines_dropped_doubled_and_swapped(kind: str, how: str) -> None:
    choice = random.Random(how + kind)
    for _ in range(6):
        outcome(b"\n".join(changed(good(kind).splitlines(), how, choice)))


def changed(lines: list[bytes], how: str, choice: random.Random) -> list[bytes]:
    i, j = sorted(choice.sample(range(len(lines)), 2))
    many = choice.randrange(1, 30)
    if how == "dropped":
        return lines[:i] + lines[i + many :]
    if how == "doubled":
        return lines[: i + many] + lines[i:]
    if how == "swapped":
        return [*lines[:i], lines[j], *lines[i + 1 : j], lines[i], *lines[j + 1 :]]
    if how == "moved":
        return lines[i:j] + lines[:i] + lines[j:]
    return [
        bytes(choice.randrange(1, 256) if choice.random() < 1e-3 else b for b in line)
        for line in lines
    ]


def test_all_this_takes_little_memory() -> None:
    """Run last: what the largest files that are read at all have added to the process."""
    outcome(file(block(PIECE)))
    before = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    found = outcome(file(block(poly(circle(95_000)))))
    assert isinstance(found, ReadDrawing)
    assert found.pieces[0].edges[0].curve.length == pytest.approx(math.tau * 2000.0, abs=0.1)
    refused(b"0\nSECTION\n2\nHEADER\n" + b"9\n$A\n1\nx\n" * 900_000, "more than 2000000 lines")
    assert resource.getrusage(resource.RUSAGE_SELF).ru_maxrss - before < GROWN


def test_the_limits_leave_room_for_what_people_make() -> None:
    """A style of 20 pieces in 12 sizes, finely digitised."""
    pieces = "".join(
        block(poly(circle(160)) + TEXT.format(f"P{i % 20}"), f"P{i}") for i in range(240)
    )
    found = outcome(file(pieces))
    assert isinstance(found, ReadDrawing)
    assert len(found.pieces) == 240
    assert shapes.MOST_VERTICES >= 2 * 240 * 160


def test_our_files_are_good_to_a_strict_reader_too() -> None:
    for kind in ("r12", "exchange"):
        document, audit = recover.read(io.BytesIO(good(kind)))
        assert not audit.has_errors
        assert not audit.has_fixes
        assert document.dxfversion == ezdxf.DXF12
