"""Documents of other formats and versions are told apart before anything in them is read."""

from __future__ import annotations

from typing import Any

import pytest

from blockwright import InputError, InputErrors, Pattern, as_document, from_document

NOT_ONE = "is not a blockwright pattern: format is "


@pytest.mark.parametrize(
    ("values", "says"),
    [
        ({}, f"{NOT_ONE}None"),
        ({"format": "a picture", "version": 2}, f"{NOT_ONE}'a picture'"),
        # Of the first version, which did not say its format.
        ({"version": 1, "units": "mm"}, "is of version 1 in 'mm'"),
        ({"format": "blockwright pattern", "version": 1, "units": "mm"}, "is of version 1 in 'mm'"),
        ({"format": "blockwright pattern", "version": 99, "units": "mm"}, "is of version 99 in"),
        ({"format": "blockwright pattern"}, "is of version None in None"),
    ],
)
def test_another_format_or_version_is_refused(values: dict[str, Any], says: str) -> None:
    with pytest.raises(InputError) as refused:
        from_document(values)
    assert str(refused.value).startswith(says)


def test_the_units_are_millimetres() -> None:
    from blockwright.pattern.document.document import FORMAT, UNITS, VERSION

    assert (FORMAT, UNITS) == ("blockwright pattern", "mm")
    inches = {"format": FORMAT, "version": VERSION, "units": "in"}
    with pytest.raises(InputError, match=f"is of version {VERSION} in 'in'.* in mm; draft it"):
        from_document(inches)


@pytest.mark.parametrize("kind", [None, 3, ["seam"]])
def test_a_promise_says_its_kind(kind: object) -> None:
    values = as_document(Pattern("test.wedge", "Wedge", ()))
    assert from_document(values) == Pattern("test.wedge", "Wedge", ())
    values["pattern"]["promises"] = [{"kind": kind}]
    with pytest.raises(InputErrors, match="does not say its kind"):
        from_document(values)
