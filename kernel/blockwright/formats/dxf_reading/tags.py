"""The bytes of a DXF file as groups of tags, one for each entity, read by ezdxf.

ezdxf's own document is not used.  It holds a whole drawing before its size is known, and it leaves
out a block or a vertex that is damaged without saying so.  Here the first damaged place refuses the
file.
"""

from __future__ import annotations

import io
import re
from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING

from blockwright.errors import InputError, message_of

if TYPE_CHECKING:
    from ezdxf.lldxf.tags import Tags
    from ezdxf.lldxf.types import DXFTag

# A set in all its sizes has some tens of thousands of vertices and a few megabytes.  These limits
# and those in `shapes` keep reading under some four seconds and a few hundred megabytes.
MOST_BYTES, MOST_LINES = 10_000_000, 2_000_000
# DXF has about a hundred.
MOST_KINDS = 1_000
# A DXF has begun its first section within so many bytes, comments and all.
LARGEST_START = 1_000
# Letters of the file's own that a message repeats.
LONGEST_QUOTE = 60
_CODES = range(-5, 1072)
_CODE_PAGE = re.compile(rb"\$DWGCODEPAGE\s+3\s+(\w+)")


def entities(data: bytes, where: str) -> Iterator[Tags]:
    """The tags of each entity, from one group code 0 to the next; the last is EOF.

    `where` names the file in messages.  Raises InputError for what is not DXF, cut short or
    damaged; `check_text` comes first.
    """
    from ezdxf.lldxf.const import DXFError
    from ezdxf.lldxf.tagger import ascii_tags_loader, tag_compiler
    from ezdxf.lldxf.tags import group_tags

    kinds: set[str] = set()
    # Line endings of every system are taken.
    lines = io.StringIO(_decoded(data), newline=None)
    try:
        for tags in group_tags(tag_compiler(iter(_strict(ascii_tags_loader(lines))))):
            kinds.add(tags.dxftype())
            if len(kinds) > MOST_KINDS:
                raise InputError.coded("dxf.kinds", where=where, most=MOST_KINDS)
            yield tags
            if tags.dxftype() == "EOF":
                return
    except InputError:
        raise
    except (DXFError, ValueError, OverflowError) as error:
        why = message_of(error)[:LONGEST_QUOTE]
        raise InputError.coded("dxf.damaged", where=where, why=why) from None
    raise InputError.coded("dxf.cut-short", where=where)


def check_text(data: bytes, where: str) -> None:
    """Refuse what is no text of DXF, or too large."""
    if not data.strip():
        raise InputError.coded("dxf.empty", where=where)
    if len(data) > MOST_BYTES:
        size, most = len(data) / 1e6, MOST_BYTES // 10**6
        raise InputError.coded("dxf.bytes", where=where, size=size, most=most)
    if data.startswith(b"AutoCAD Binary DXF"):
        raise InputError.coded("dxf.binary", where=where)
    if data.startswith(b"AC10"):
        raise InputError.coded("dxf.dwg", where=where)
    if data.startswith((b"\xff\xfe", b"\xfe\xff")) or b"\0" in data:
        raise InputError.coded("dxf.not-text", where=where)
    if data.count(b"\n") > MOST_LINES:
        raise InputError.coded("dxf.lines", where=where, most=MOST_LINES)
    # Told before the entity that the file breaks off in.
    if b"SECTION" in data[:LARGEST_START] and b"EOF" not in data:
        raise InputError.coded("dxf.cut-short", where=where)


def _decoded(data: bytes) -> str:
    """The text of a file: UTF-8, or else in the code page that it names, or Windows' Western."""
    from ezdxf.tools.codepage import toencoding

    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError:
        named = _CODE_PAGE.search(data)
        return data.decode(toencoding(named[1].decode()) if named else "cp1252", "replace")


def _strict(tags: Iterable[DXFTag]) -> Iterator[DXFTag]:
    """The tags; ValueError for a group code that DXF has not, and for a number ezdxf would change.

    Python reads 2_0 as 20, and ezdxf 1.5 as 1 where a whole number belongs.
    """
    from ezdxf.lldxf.types import TYPE_TABLE

    for number, tag in enumerate(tags):
        kind = TYPE_TABLE.get(tag.code)
        if number == 0 and (tag.code, tag.value.strip()) != (0, "SECTION"):
            raise ValueError("a DXF begins with a section, and this does not")
        if tag.code not in _CODES:
            raise ValueError(f"{tag.code} is no group code")
        if kind in (int, float) and (
            "_" in tag.value or (kind is int and "." in tag.value and float(tag.value) % 1.0)
        ):
            what = "whole number" if kind is int else "number"
            raise ValueError(f"{tag.value[:20]!r} is not a {what}, in group {tag.code}")
        yield tag


def text_of(tags: Tags, code: int) -> str:
    r"""The first text of that code, or none; `\U+03BB` is a letter too, half a letter is not."""
    from ezdxf.lldxf.encoding import decode_dxf_unicode

    text = decode_dxf_unicode(str(tags.get_first_value(code, "")))
    return text.encode("utf-8", "replace").decode().strip()
