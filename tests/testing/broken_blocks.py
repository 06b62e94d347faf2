"""A good small block, and for every check of the kit the same block with one mistake in it.

Each mistake is one that an author makes; the block that has it fails that check and no other.
"""

from __future__ import annotations

import os
import random
import socket
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path
from typing import Any

from blockwright import (
    Affine,
    Block,
    Dart,
    Draft,
    Edge,
    Guide,
    InputError,
    Notch,
    Note,
    Point,
    Rule,
    Stretch,
    Traits,
    Unit,
    fair_curve,
    length_option,
    line,
    measurement,
    polyline,
    roof_between,
)

# Common practice, no source: a dart in the middle, and the hip so far below the top, mm.
INTAKE, HIP_LEVEL = 20.0, 180.0


class Tube(Block):
    """Tube skirt from the top hip down, one panel cut twice."""

    key = "tube.plain"
    title = "Tube skirt"
    traits = Traits(wearers="women")

    hip = measurement("hip_girth")
    top = measurement(
        "top_hip_girth",
        estimate=Rule(
            ("waist_girth", "hip_girth"),
            lambda waist, hip: (waist + hip) / 2.0,
            "half way between waist and hip; common practice, no source",
        ),
    )
    ease = length_option("4 cm", low="2 cm", high="12 cm", says="finished width over the body")
    depth = length_option("45 cm", low="30 cm", high="60 cm", says="top edge to hem")
    dart = length_option("9 cm", low="6 cm", high="12 cm", says="length of the dart")

    def draft(self, d: Draft) -> None:
        """Half of the tube, its middle on x = 0."""
        edges = self.edges(d)
        self.panel(d, edges)
        self.promises(d, edges)

    @property
    def bottom(self) -> float:
        """Half the width of the panel at the hip and below."""
        return (self.hip + self.ease) / 4.0

    @property
    def above(self) -> float:
        """Half the width of the panel at its top, dart and all."""
        return (self.top + self.ease) / 4.0 + INTAKE / 2.0

    @property
    def apex(self) -> Point:
        """The point of the dart."""
        return Point(0.0, self.depth - self.dart)

    def edges(self, d: Draft) -> dict[str, Edge]:
        """Counter-clockwise from the hem, each by its name, the top with the dart in it by two."""
        low, high, half = self.bottom, self.above, INTAKE / 2.0
        right = line(Point(high, self.depth), Point(half, self.depth))
        left = line(Point(-half, self.depth), Point(-high, self.depth))
        mouth = roof_between(self.apex, right, left, "end")
        return {
            "hem": Edge("hem", line(Point(-low, 0.0), Point(low, 0.0)), "hem"),
            "right": Edge("right", self.side(1.0)),
            "top": Edge("top", right, "waist"),
            "mouth": Edge("mouth", mouth, "dart"),
            "rest of the top": Edge("top", left, "waist"),
            "left": Edge("left", self.side(-1.0).reversed()),
        }

    def side(self, way: float) -> Any:
        """The side to the right (1) or the left (-1), from the hem up: straight to the hip."""
        marks = [
            Point(way * self.bottom, 0.0),
            Point(way * self.bottom, self.depth - HIP_LEVEL),
            Point(way * self.above, self.depth),
        ]
        return fair_curve(marks, start=Point(0.0, 1.0))

    def panel(self, d: Draft, edges: dict[str, Edge], **other: Any) -> None:
        """The piece, with what else a mistake gives it."""
        given = {
            "cut": 2,
            "grain": (Point(60.0, 40.0), Point(60.0, self.depth - 40.0)),
            "label_at": Point(0.0, self.depth / 3.0),
            "darts": [Dart("waist dart", self.apex, "mouth", "end", "pressed to the left")],
            "notches": [Notch("hip", "right", self.depth - HIP_LEVEL)],
        }
        d.piece("panel", [*edges.values()], **{**given, **other})

    def promises(self, d: Draft, edges: dict[str, Edge]) -> None:
        """Two equal side seams; hip, top and the hem over a seam."""
        d.seam("side seam", edges["right"], -edges["left"])
        self.girths(d, edges)
        self.tops(d)

    def tops(self, d: Draft) -> None:
        """The top is left open; its line rises over the dart and dips where the sides lean in."""
        dart = Dart("waist dart", self.apex, "mouth", "end", "pressed to the left")
        d.corner("top over the dart", dart, angle=(160.0, 210.0))
        d.corner("top over a side seam", ("right", "top"), ("top", "left"), angle=(160.0, 210.0))
        d.unsewn("top", "left open")

    def girths(self, d: Draft, edges: dict[str, Edge]) -> None:
        """All but the seam."""
        d.girth("hip", runs=[edges["hem"]], times=2, body=self.hip, ease=self.ease)
        d.girth("top hip", runs=[edges["top"]], times=2, body=self.top, ease=self.ease)
        d.corner("hem over a side seam", ("left", "hem"), ("hem", "right"))


@dataclass(frozen=True)
class Broken:
    """A block with a mistake, and the words that tell its author what to change."""

    block: type[Block]
    words: tuple[str, ...]
    beside: tuple[type[Block], ...] = ()


BROKEN: dict[str, Broken] = {}
"""By the name of the check that it fails."""


def fails(
    name: str, *words: str, beside: tuple[type[Block], ...] = ()
) -> Callable[[type[Block]], type[Block]]:
    """Enter a block as the one that fails this check, with these words in what is said.

    It is drafted with those `beside` it.
    """

    def entered(block: type[Block]) -> type[Block]:
        assert name not in BROKEN, name
        BROKEN[name] = Broken(block, words, beside)
        return block

    return entered


def here(words: str) -> str:
    """Where in this file a line with these words is, as messages write it."""
    path = Path(__file__)
    lines = path.read_text(encoding="utf-8").splitlines()
    (at,) = (i for i, text in enumerate(lines, 1) if text.strip() == words)
    return f"{path}:{at}"


# -- what is declared ---------------------------------------------------------------------------


@fails("block-is-named", "CapitalKey.key 'Tube.Plain'", "lower-case words", "skirt.half-moon")
class CapitalKey(Tube):
    """Tube whose key is written as a title."""

    key = "Tube.Plain"


@fails("block-is-described", "docstring of OneWord begins 'Tube'", "one sentence, with a point")
class OneWord(Tube):
    """Tube"""


@fails("options-are-described", "option ease says ''", "write says='...'")
class OptionSaysNothing(Tube):
    """Tube whose author meant to say later what the ease is."""

    ease = length_option("4 cm", low="2 cm", high="12 cm", says="")


@fails("rules-are-described", "top_hip_girth from hip_girth says nothing", "in words")
class RuleSaysNothing(Tube):
    """Tube that does not say how the top hip is estimated."""

    top = measurement("top_hip_girth", estimate=Rule(("hip_girth",), lambda hip: 0.95 * hip, ""))


@fails("defaults-are-allowed", "option depth", "650", "from 300.0 mm to 600.0 mm")
class DefaultTooLong(Tube):
    """Tube that was made longer, but not the range of its length."""

    depth = length_option("65 cm", low="30 cm", high="60 cm", says="top edge to hem")


@fails("options-can-be-set", "option hem_allowance", "_allowance", "give it another")
class OptionLikeAnAllowance(Tube):
    """Tube with an option that --set takes for an allowance."""

    hem_allowance = length_option("3 cm", low="1 cm", high="5 cm", says="what is turned up")

    def panel(self, d: Draft, edges: dict[str, Edge], **other: Any) -> None:
        turned_up = Point(0.0, self.hem_allowance)
        guide = Guide("turned up to here", edges["hem"].curve.moved(Affine.move(turned_up)))
        super().panel(d, edges, guides=[guide])


# -- one draft ----------------------------------------------------------------------------------

USES_UNDECLARED = 'slack = self.values["thigh_girth"] - self.hip / 2.0'


@fails("drafts", "KeyError: 'thigh_girth'", here(USES_UNDECLARED), "refused with InputError")
class UsesWhatItDoesNotAskFor(Tube):
    """Tube that looks at a measurement it does not declare."""

    def draft(self, d: Draft) -> None:
        slack = self.values["thigh_girth"] - self.hip / 2.0
        d.found("slack", slack, "the thighs have room")
        super().draft(d)


@fails("has-pieces", "no piece was made", "d.piece(...)")
class ForgetsThePiece(Tube):
    """Tube that is drawn, edge by edge, and not put on the table."""

    def draft(self, d: Draft) -> None:
        d.mark("middle of the hem", self.edges(d)["hem"].curve.point_at(self.bottom), "half way")


@fails("refuses-helpfully", "this body is too large'", "names nothing", "hip_girth", "depth")
class RefusesWithoutAName(Tube):
    """Tube that says of a giant that she is one, and not by what."""

    def draft(self, d: Draft) -> None:
        if self.hip > 1500.0:
            raise InputError("this body is too large")
        super().draft(d)


@fails("refuses-few", "real bodies are refused, at most 2% may be", "at most 95.0 cm", "traits")
class RefusesMany(Tube):
    """Tube whose author only ever looked at one size."""

    def draft(self, d: Draft) -> None:
        if self.hip > 950.0:
            raise InputError("hip_girth may be at most 95.0 cm")
        super().draft(d)


@fails("proof-holds", "girth: hip: wanted", "fix the draft, or promise what is meant")
class ForgetsTheEase(Tube):
    """Tube drawn without the ease that it promises."""

    @property
    def bottom(self) -> float:
        return self.hip / 4.0


@fails("outline-closes", "piece 'panel'", "edge 'left' ends 3.000 mm from where 'hem' begins")
class HemBeginsElsewhere(Tube):
    """Tube whose hem begins at a mark that was moved since."""

    def edges(self, d: Draft) -> dict[str, Edge]:
        hem = Edge("hem", line(Point(-self.bottom, 3.0), Point(self.bottom, 0.0)), "hem")
        return super().edges(d) | {"hem": hem}


@fails("outline-is-simple", "piece 'panel' crosses itself", "look at its picture")
class HipMarkOnTheWrongSide(Tube):
    """Tube with a minus too many: both sides go over to the other and come back."""

    def side(self, way: float) -> Any:
        marks = [
            Point(way * self.bottom, 0.0),
            Point(-way * self.bottom, self.depth - HIP_LEVEL),
            Point(way * self.above, self.depth),
        ]
        return polyline(marks)


@fails("outline-runs-counter-clockwise", "piece 'panel' runs clockwise", "in the other order")
class DrawsTheOtherHalf(Tube):
    """Tube drawn as it lies wrong side up: left is right, and its edges run clockwise."""

    def edges(self, d: Draft) -> dict[str, Edge]:
        over = Affine.mirror(Point(0.0, 0.0), Point(0.0, 1.0))
        edges = super().edges(d).items()
        return {key: replace(each, curve=each.curve.moved(over)) for key, each in edges}


@fails("grain-is-inside", "grain line of piece 'panel'", "move it in")
class GrainTooHigh(Tube):
    """Tube whose grain line was placed for a longer one."""

    def panel(self, d: Draft, edges: dict[str, Edge], **other: Any) -> None:
        super().panel(d, edges, grain=(Point(60.0, 200.0), Point(60.0, 700.0)))


@fails("label-is-inside", "label_at of piece 'panel'", "move it in")
class LabelAtHalfTheHip(Tube):
    """Tube whose label is put at half the hip, where half a panel is a quarter of it."""

    def panel(self, d: Draft, edges: dict[str, Edge], **other: Any) -> None:
        super().panel(d, edges, label_at=Point(self.hip / 2.0, self.depth / 2.0))


@fails("darts-close", "waist dart of panel", "both legs are equally long")
class DartLeans(Tube):
    """Tube whose dart was turned to the side by moving its point alone."""

    @property
    def apex(self) -> Point:
        return Point(8.0, self.depth - self.dart)


@fails("parts-are-named", "a guide of piece 'panel' is called ''", "give it a word")
class GuideWithoutAName(Tube):
    """Tube with a line that nobody named."""

    def panel(self, d: Draft, edges: dict[str, Edge], **other: Any) -> None:
        level = self.depth - HIP_LEVEL
        hip = Guide("", line(Point(-self.bottom, level), Point(self.bottom, level)))
        super().panel(d, edges, guides=[hip])


# -- what a change does -------------------------------------------------------------------------


@fails("promises-can-break", "seam 'side seam' still holds", "100 mm", "the ease that is meant")
class PromisesAnything(Tube):
    """Tube whose seam was made to hold by a range that holds anything."""

    def promises(self, d: Draft, edges: dict[str, Edge]) -> None:
        d.seam("side seam", edges["right"], -edges["left"], ease=(-500.0, 500.0))
        self.girths(d, edges)
        self.tops(d)


@fails("repeatable", "drafted twice", "the label of piece 'panel'", "no chance")
class LabelAnywhere(Tube):
    """Tube that puts its label where chance will, so that labels of a set do not overlap."""

    def panel(self, d: Draft, edges: dict[str, Edge], **other: Any) -> None:
        at = Point(random.uniform(-10.0, 10.0), self.depth / 3.0)
        super().panel(d, edges, label_at=at)


@fails("stateless", "after a draft for survey:", "notch 'hip'", "keep nothing in the module")
class KeepsTheLastBody(Tube):
    """Tube that begins from what was found for the body before."""

    before: float | None = None

    def panel(self, d: Draft, edges: dict[str, Edge], **other: Any) -> None:
        nearly = self.before or self.hip
        type(self).before = self.hip
        super().panel(d, edges, notches=[Notch("hip", "right", nearly / 5.0)])


@fails("same-in-any-unit", "in in: ", "the point of dart 'waist dart'", "d.unit is for words only")
class DartByTheInch(Tube):
    """Tube with a dart of three inches and a half for those who work in inches."""

    inches = False

    def draft(self, d: Draft) -> None:
        self.inches = d.unit is Unit.IN and self.dart == self.dart_as_declared
        super().draft(d)

    dart_as_declared = 90.0

    @property
    def apex(self) -> Point:
        return Point(0.0, self.depth - (88.9 if self.inches else self.dart))


@fails("measurements-are-used", "measurement height changes nothing", "do not ask for it")
class AsksForTheHeight(Tube):
    """Tube that asks for what it once was drafted from."""

    height = measurement("height")


@fails("options-are-used", "option flare changes nothing", "remove it")
class OptionOfNoUse(Tube):
    """Tube with an option for later."""

    flare = length_option("0 cm", low="0 cm", high="5 cm", says="wider at the hem")


@fails("options-work-at-their-ends", "dart 480.0mm", "panel: darts inside", "narrow the range")
class DartLongerThanTheTube(Tube):
    """Tube with a range that was copied from the length of the tube."""

    dart = length_option("9 cm", low="6 cm", high="48 cm", says="length of the dart")


@fails("changes-steadily", "hip_girth from 1019.86 to 1019.96 mm", "'waist dart'", "two rules")
class DartOfTwoRules(Tube):
    """Tube with a longer dart for a wide hip, from one millimetre to the next."""

    @property
    def apex(self) -> Point:
        longer = 15.0 if self.hip > 1019.95 else 0.0
        return Point(0.0, self.depth - self.dart - longer)


# -- how it behaves -----------------------------------------------------------------------------


READS = "Path(__file__).read_bytes()"


@fails("no-files", f"open ({here(READS)})", "put the values into the block or an option")
class ReadsATable(Tube):
    """Tube that looks something up in a file beside it."""

    def draft(self, d: Draft) -> None:
        Path(__file__).read_bytes()
        super().draft(d)


NAMES_HOST = "machine = socket.gethostname()"


@fails("no-network", f"socket.gethostname ({here(NAMES_HOST)})", "needs nothing from outside")
class NamesTheMachine(Tube):
    """Tube that writes on the piece which machine drew it."""

    def panel(self, d: Draft, edges: dict[str, Edge], **other: Any) -> None:
        machine = socket.gethostname()
        super().panel(d, edges, notes=[Note(Point(0.0, 60.0), machine)])


ASKS_TODAY = "today = date.today().isoformat()"


@fails("no-clock", f"today ({here(ASKS_TODAY)})", "remove it")
class WritesTheDate(Tube):
    """Tube that writes on the piece when it was drawn."""

    def panel(self, d: Draft, edges: dict[str, Edge], **other: Any) -> None:
        today = date.today().isoformat()
        super().panel(d, edges, notes=[Note(Point(0.0, 60.0), today)])


@fails("no-output", "printed 'hip ", "remove it")
class PrintsWhatItFinds(Tube):
    """Tube in which a print was left."""

    def draft(self, d: Draft) -> None:
        print("hip", self.hip)
        super().draft(d)


@fails("fast-enough", "tube.endless took longer than 1 s", "a loop that does not end")
class Endless(Tube):
    """Tube that nears the dart it wants by halves, and waits until it is there."""

    key = "tube.endless"
    traits = Traits(wearers="women", seconds=0.05)

    @property
    def apex(self) -> Point:
        step = self.dart
        while step != self.dart / 3.0:
            step = (step + self.dart) / 2.0
        return Point(0.0, self.depth - step)


@fails("can-be-finished", "piece panel: hip is 1.0 mm from the end of right", "move it")
class NotchInTheCorner(Tube):
    """Tube with a notch so near the hem that it would be cut off."""

    def panel(self, d: Draft, edges: dict[str, Edge], **other: Any) -> None:
        super().panel(d, edges, notches=[Notch("hip", "right", 1.0)])


SLOW = 0.03


class Slow(Tube):
    """Tube that ends, but not soon enough."""

    key = "tube.slow"
    traits = Traits(wearers="women", seconds=SLOW / 2.0)

    def draft(self, d: Draft) -> None:
        time.sleep(SLOW)
        super().draft(d)


# -- other ways to fail the same checks ----------------------------------------------------------

OTHERS: list[tuple[str, Broken]] = []
"""With the name of the check that it fails."""


def also_fails(name: str, *words: str) -> Callable[[type[Block]], type[Block]]:
    """Enter a block as another that fails this check and no other."""

    def entered(block: type[Block]) -> type[Block]:
        OTHERS.append((name, Broken(block, words)))
        return block

    return entered


@also_fails("darts-close", "a dart of piece 'panel' is not inside it", "move its point in")
class DartBeyondTheHem(Tube):
    """Tube whose dart begins at the hip line, and that of a longer tube."""

    @property
    def apex(self) -> Point:
        return Point(0.0, self.depth - self.dart - 400.0)


@also_fails("refuses-few", "bodies are refused, so no draft was looked at", "hip_girth")
class RefusesEverybody(Tube):
    """Tube with a comparison the wrong way round."""

    def draft(self, d: Draft) -> None:
        if self.hip < 3000.0:
            raise InputError("hip_girth is too large")
        super().draft(d)


class NotchForSome(Tube):
    """Tube with a notch more on a wide hip."""

    def panel(self, d: Draft, edges: dict[str, Edge], **other: Any) -> None:
        more = [Notch("knee", "right", 50.0)] if self.hip > 1019.95 else []
        super().panel(d, edges, notches=[Notch("hip", "right", self.depth - HIP_LEVEL), *more])


also_fails(
    "changes-steadily",
    "hip_girth from 1019.86 to 1019.96 mm: notch 'knee' on 'right' is in one of them only",
    "say why in traits.steps",
)(NotchForSome)


@also_fails("promises-can-break", "its edge 'left'", "the ease that is meant")
class PromisesHalf(Tube):
    """Tube whose seam may have any ease on the side that was not looked at."""

    def promises(self, d: Draft, edges: dict[str, Edge]) -> None:
        d.seam("side seam", edges["right"], -edges["left"], ease=(-500.0, 0.0))
        self.girths(d, edges)
        self.tops(d)


@also_fails("refuses-few", "1 of 8 real bodies", "at most 0% may be")
class RefusesOneAndMayNone(Tube):
    """Tube that says it refuses nobody."""

    traits = Traits(wearers="women", most_refused=0.0)

    def draft(self, d: Draft) -> None:
        if self.hip > 1250.0:
            raise InputError("hip_girth may be at most 125.0 cm")
        super().draft(d)


@also_fails("options-work-at-their-ends", "dart 60.0mm: float division by zero", "narrow")
class FailsAtAnEnd(Tube):
    """Tube that shares something out over what is left, where nothing is."""

    @property
    def apex(self) -> Point:
        share = 1.0 / (self.dart - 60.0)
        return Point(0.0, self.depth - self.dart - 0.0 * share)


@also_fails("options-work-at-their-ends", "dart 60.0mm: tube.plain: cannot be drawn", "narrow")
class CannotBeDrawnAtAnEnd(Tube):
    """Tube with a guide that has no length left where the dart is shortest."""

    def panel(self, d: Draft, edges: dict[str, Edge], **other: Any) -> None:
        below = line(self.apex, Point(0.0, self.depth - 60.0))
        super().panel(d, edges, guides=[Guide("below the dart", below)])


@also_fails("options-work-at-their-ends", "depth 600.0mm: 'sewing: right has a partner' is")
class UnsewnAtAnEnd(Tube):
    """Tube that promises its side seam when it is short."""

    def promises(self, d: Draft, edges: dict[str, Edge]) -> None:
        if self.depth < 590.0:
            super().promises(d, edges)
        else:
            self.girths(d, edges)


@also_fails("options-work-at-their-ends", "depth 600.0mm: 'girth: hip' is broken", "fix the draft")
class BreaksAtAnEnd(Tube):
    """Tube that narrows when it is long, whatever it promises."""

    @property
    def bottom(self) -> float:
        return super().bottom - max(self.depth - 590.0, 0.0)


@also_fails(
    "options-work-at-their-ends",
    "depth 300.0mm: 'outline: panel has its label inside' is broken",
    "move label_at",
)
class LabelTooHighAtAnEnd(Tube):
    """Tube whose label lies so far above the hem as suits the usual length."""

    def panel(self, d: Draft, edges: dict[str, Edge], **other: Any) -> None:
        super().panel(d, edges, label_at=Point(50.0, 350.0))


@also_fails(
    "options-work-at-their-ends",
    "'outline: panel has its grain inside' is broken; move the ends",
)
class GrainTooHighAtAnEnd(Tube):
    """Tube whose grain line was placed for the usual length."""

    def panel(self, d: Draft, edges: dict[str, Edge], **other: Any) -> None:
        super().panel(d, edges, grain=(Point(60.0, 40.0), Point(60.0, 400.0)))


@also_fails("proof-holds", "twin: right to itself: copies", "wanted 2 or more, measured 1")
class TwinOfOne(Tube):
    """Tube sewn to a copy of itself that is not cut."""

    def promises(self, d: Draft, edges: dict[str, Edge]) -> None:
        d.twin("right to itself", edges["right"])
        d.unsewn("left", "left open")
        d.corner("top over the middle", ("right", "top"), angle=(60.0, 120.0))
        self.girths(d, edges)
        self.tops(d)


@also_fails("proof-holds", "seam: side seam: start to knee: wanted 0.0 mm, not found")
class NotchOnOneSide(Tube):
    """Tube with a stretch up to a notch that nobody made."""

    def promises(self, d: Draft, edges: dict[str, Edge]) -> None:
        stretches = [Stretch("knee", (0.0, 0.0))]
        d.seam("side seam", edges["right"], -edges["left"], stretches=stretches)
        self.girths(d, edges)
        self.tops(d)


@also_fails("options-work-at-their-ends", "depth 600.0mm: no piece is made")
class NothingAtAnEnd(Tube):
    """Tube that draws nothing when it is long."""

    def draft(self, d: Draft) -> None:
        if self.depth < 590.0:
            super().draft(d)


@also_fails("no-network", "subprocess.Popen (", "broken_blocks.py:")
class StartsAProgram(Tube):
    """Tube that asks another program, and reads what it says."""

    def draft(self, d: Draft) -> None:
        subprocess.run([sys.executable, "-S", "-c", ""], capture_output=True, check=True)
        super().draft(d)


@also_fails("no-network", "os.system (", "broken_blocks.py:")
class AsksTheShell(Tube):
    """Tube that asks the shell."""

    def draft(self, d: Draft) -> None:
        os.system("exit 0")
        super().draft(d)


@also_fails("no-files", "open (", "broken_blocks.py:")
class WritesATemporaryFile(Tube):
    """Tube that keeps something aside, on the disc."""

    def draft(self, d: Draft) -> None:
        with tempfile.NamedTemporaryFile() as file:
            file.write(b"hip")
        super().draft(d)


@also_fails("no-clock", "strftime (", "remove it")
class StampsTheYear(Tube):
    """Tube that writes the year on the piece."""

    def panel(self, d: Draft, edges: dict[str, Edge], **other: Any) -> None:
        super().panel(d, edges, notes=[Note(Point(0.0, 60.0), time.strftime("%Y"))])


@also_fails("no-clock", "perf_counter_ns (", "remove it")
class TimesItself(Tube):
    """Tube in which a stopwatch was left."""

    def draft(self, d: Draft) -> None:
        time.perf_counter_ns()
        super().draft(d)


@also_fails("no-output", "printed 'drafting'")
class WritesToTheTerminal(Tube):
    """Tube that says what it does, where errors are written."""

    def draft(self, d: Draft) -> None:
        sys.stderr.write("drafting\n")
        super().draft(d)
