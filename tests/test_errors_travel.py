"""Every error comes through a pickle, and out of another process, as it was raised."""

from __future__ import annotations

import importlib
import math
import pickle
import pkgutil
from collections.abc import Callable, Iterator
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass
from functools import partial
from pathlib import Path

import pytest

import blockwright
from blockwright import (
    BlockwrightError,
    BodySheet,
    GeometryError,
    InputError,
    InputErrors,
    NoSolutionError,
    PatternError,
    PluginError,
    Point,
    Reason,
    Ref,
    Unit,
    draft,
    from_document,
    load_sheet,
    parse_length,
    polyline,
    solve,
)
from blockwright.pattern.table.solve import Unreachable
from blockwright.pattern.walk import NoRunError
from blockwright_bodice.fitted import FittedBodice
from blockwright_sleeve.fitted import FittedSleeve
from elsewhere import another_process, raised, raised_by

PROTOCOLS = range(pickle.HIGHEST_PROTOCOL + 1)
WHY = Reason(
    "run.apart", {"before": Ref("skirt.plain", "side"), "after": Ref("skirt.plain", "hem")}
)
MADE: dict[str, Callable[[], BaseException]] = {
    "InputErrors": lambda: InputErrors(["a.toml: one", "a.toml: two"]),
    "Unreachable": lambda: Unreachable(20.0, 80.0, "the curve crosses itself"),
    "NoRunError": lambda: NoRunError("'hem' does not follow 'side'", WHY),
}
"""How those are made that are not made of a message."""


def below(kind: type[BaseException]) -> Iterator[type[BaseException]]:
    for each in kind.__subclasses__():
        yield each
        yield from below(each)


def every_error() -> list[type[BaseException]]:
    """Every kind of error in the kernel, but those that a function makes for itself."""
    for module in pkgutil.walk_packages(blockwright.__path__, "blockwright."):
        importlib.import_module(module.name)
    found = {
        each
        for each in below(BaseException)
        if each.__module__.partition(".")[0] == "blockwright"
        and "<locals>" not in each.__qualname__
    }
    return sorted(found, key=lambda each: (each.__module__, each.__qualname__))


ERRORS = every_error()


def made(kind: type[BaseException]) -> BaseException:
    """An error of this kind, with notes."""
    make = MADE.get(kind.__name__)
    error = make() if make else kind(f"{kind.__name__}: the waist of 70 cm, “as measured”")
    error.add_note("in block 'skirt.plain'")
    error.add_note("on survey:female-17")
    return error


def same(one: BaseException, other: BaseException) -> None:
    """The same kind, words and values; repr has nan like nan."""
    assert type(other) is type(one)
    assert str(other) == str(one)
    assert repr(other.args) == repr(one.args)
    assert repr(other.__dict__) == repr(one.__dict__)
    assert {name: type(value) for name, value in other.__dict__.items()} == {
        name: type(value) for name, value in one.__dict__.items()
    }


@pytest.fixture(scope="module")
def elsewhere() -> Iterator[ProcessPoolExecutor]:
    with another_process() as pool:
        yield pool


def test_the_kinds_are_found() -> None:
    """A kind in each corner of the kernel; the others are found in the same way."""
    names = {f"{each.__module__}.{each.__qualname__}" for each in ERRORS}
    assert names >= {
        "blockwright.curves.subdivision.TooManyError",
        "blockwright.errors.BlockwrightError",
        "blockwright.errors.InputErrors",
        "blockwright.formats.dxf_reading.piece.Unlike",
        "blockwright.pattern.table.solve.Unreachable",
        "blockwright.pattern.walk.NoRunError",
        "blockwright.job.child.StoppedError",
    }
    assert {each.__name__ for each in ERRORS} >= MADE.keys()


@pytest.mark.parametrize("protocol", PROTOCOLS)
@pytest.mark.parametrize("kind", ERRORS, ids=lambda kind: kind.__name__)
def test_through_a_pickle(kind: type[BaseException], protocol: int) -> None:
    error = made(kind)
    again = pickle.loads(pickle.dumps(error, protocol))
    same(error, again)
    assert again.__notes__ == ["in block 'skirt.plain'", "on survey:female-17"]


@pytest.mark.parametrize("kind", ERRORS, ids=lambda kind: kind.__name__)
def test_out_of_another_process(kind: type[BaseException], elsewhere: ProcessPoolExecutor) -> None:
    error = made(kind)
    with pytest.raises(kind) as caught:
        elsewhere.submit(raised, error).result()
    same(error, caught.value)
    with pytest.raises(kind):  # the process is still there, and so is what raised it
        elsewhere.submit(raised, caught.value).result()


def test_values_of_their_own_are_kept(elsewhere: ProcessPoolExecutor) -> None:
    for error in (made(InputErrors), made(Unreachable), made(NoRunError), Unreachable(math.nan, 1)):
        with pytest.raises(type(error)) as caught:
            elsewhere.submit(raised, error).result()
        same(error, caught.value)
    lines = pickle.loads(pickle.dumps(made(InputErrors))).lines
    assert lines == ["a.toml: one", "a.toml: two"]
    reached = pickle.loads(pickle.dumps(made(Unreachable)))
    assert (reached.least, reached.most, reached.why) == (20.0, 80.0, "the curve crosses itself")
    assert pickle.loads(pickle.dumps(made(NoRunError))).why == WHY


# -- errors as they really come --------------------------------------------------------------


SET = (FittedBodice, FittedSleeve)
SHEET = load_sheet(Path(__file__).parents[1] / "examples" / "workroom" / "nora.toml")
REAL: dict[str, tuple[type[BaseException], Callable[[], object]]] = {
    "a length": (InputError, partial(parse_length, "34,3 cm", Unit.CM)),
    "a sheet": (
        InputErrors,
        partial(BodySheet.from_values, {"wast_girth": 7, "hip": 9}, units="cm"),
    ),
    "a line": (GeometryError, partial(polyline, [Point(0.0, 0.0)])),
    "options": (InputErrors, partial(draft, SET, SHEET, {"wrist_eas": "1 cm", "bust_dart": "no"})),
    "a document": (InputError, partial(from_document, {"format": "a song"})),
    "no value": (Unreachable, partial(solve, abs, -5.0, 1.0, 9.0)),
    "no cap": (InputError, partial(draft, SET, SHEET, {"cap_height": "29 cm"})),
}


@pytest.mark.parametrize("name", REAL)
def test_a_real_one(name: str, elsewhere: ProcessPoolExecutor) -> None:
    kind, make = REAL[name]
    with pytest.raises(kind) as here:
        raised_by(make)
    with pytest.raises(kind) as there:
        elsewhere.submit(raised_by, make).result()
    same(here.value, there.value)
    assert there.value.__notes__[-1] == "in another process"


# -- errors of others ------------------------------------------------------------------------


class TooShortError(PatternError):
    """As a plugin may make one: of values, the message last."""

    def __init__(self, edge: str, *, length: float) -> None:
        self.edge, self.length = edge, length
        super().__init__(f"{edge} is {length:g} mm")


@dataclass
class FieldsError(BlockwrightError):
    """As a plugin may make one: a dataclass."""

    edge: str
    length: float = 0.0


@pytest.mark.parametrize("protocol", PROTOCOLS)
def test_one_that_a_plugin_adds(protocol: int) -> None:
    for error in (TooShortError("hem", length=3.0), FieldsError("hem", 3.0)):
        again = pickle.loads(pickle.dumps(error, protocol))
        same(error, again)
        assert (again.edge, again.length) == ("hem", 3.0)


def test_it_is_still_the_builtin() -> None:
    """Who catches a ValueError catches one that travelled."""
    for kind, builtin in (
        (InputError, ValueError), (NoSolutionError, ValueError), (PluginError, RuntimeError),
    ):  # fmt: skip
        assert isinstance(pickle.loads(pickle.dumps(made(kind))), builtin)
