"""A refusal names what the maker set, when it does not name it already."""

from __future__ import annotations

import pytest

from blockwright import (
    Block,
    BodySheet,
    InputError,
    InputErrors,
    NoSolutionError,
    Point,
    Unit,
    arc,
    draft,
    length_option,
)

BODY = BodySheet.from_values({}, units=Unit.CM)


def refusing(error: InputError) -> type[Block]:
    class Refusing(Block):
        """Refuses everybody."""

        key = "test.refusing"
        title = "Refusing"
        ease = length_option("1 cm", low="0 cm", high="9 cm", says="ease")
        cap_ease = length_option("1 cm", low="0 cm", high="9 cm", says="ease of the cap")

        def draft(self, d) -> None:
            raise error

    return Refusing


@pytest.mark.parametrize("kind", [InputError, NoSolutionError])
def test_it_is_added_in_the_makers_unit(kind: type[InputError]) -> None:
    with pytest.raises(kind) as caught:
        draft(refusing(kind("hip_girth is too large")), BODY, {"ease": "25 mm", "cap_ease": 3})
    assert type(caught.value) is kind
    assert str(caught.value) == (
        "test.refusing: hip_girth is too large; or change what was set: ease 2.5 cm, "
        "cap_ease 3.0 cm"
    )


@pytest.mark.parametrize("settings", [{}, {"ease": "2 cm"}])
def test_a_refusal_that_names_it_or_where_nothing_was_set_stays(settings) -> None:
    with pytest.raises(InputError, match=r"^test\.refusing: set a smaller ease$"):
        draft(refusing(InputError("set a smaller ease")), BODY, settings)


def test_naming_one_of_several_that_were_set_is_enough() -> None:
    with pytest.raises(InputError, match=r"^test\.refusing: set a smaller ease$"):
        draft(refusing(InputError("set a smaller ease")), BODY, {"ease": "2 cm", "cap_ease": 3})


def test_part_of_another_name_is_not_its_name() -> None:
    with pytest.raises(
        InputError, match=r"^test\.refusing: set cap_ease; or change what was set: ease 2\.0 cm$"
    ):
        draft(refusing(InputError("set cap_ease")), BODY, {"ease": "2 cm"})


def test_one_that_says_nothing_is_told_all_the_same() -> None:
    with pytest.raises(InputError, match=r"^test\.refusing: refuses, and does not say why$"):
        draft(refusing(InputError()), BODY)


def test_the_block_is_named_once() -> None:
    with pytest.raises(InputError, match=r"^test\.refusing: too small$"):
        draft(refusing(InputError("test.refusing: too small")), BODY)


def test_several_lines_stay_lines() -> None:
    with pytest.raises(InputErrors) as caught:
        draft(refusing(InputErrors(["one", "two"])), BODY, {"ease": "2 cm"})
    assert caught.value.lines == ["one", "two"]


def test_what_cannot_be_drawn_is_told_with_the_author_s_line() -> None:
    class Turned(Block):
        """An arc in degrees."""

        key = "test.turned"
        title = "Turned"

        def draft(self, d) -> None:
            arc(Point(0.0, 0.0), 50.0, 0.0, 90.0)

    line = Turned.draft.__code__.co_firstlineno + 1
    with pytest.raises(InputError) as caught:
        draft(Turned, BODY)
    told = str(caught.value)
    assert "not 5156.6202; angles are in radians; check" in told
    assert told.endswith(f"({__file__}:{line})")
