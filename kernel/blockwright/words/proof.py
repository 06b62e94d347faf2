"""The proof: every promise of a pattern, measured on its pieces, as data and as a table."""

from __future__ import annotations

import html
import math
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field

from blockwright.body.body_model import Doubt, doubts, holds_for
from blockwright.body.lengths import Unit, format_length
from blockwright.pattern.measure import measured
from blockwright.pattern.pattern import GivenUp, Pattern
from blockwright.pattern.piece import labelled
from blockwright.pattern.promises.unsewn import Unsewn
from blockwright.pattern.record import Estimate, Solved, Source
from blockwright.pattern.ref import Ref
from blockwright.pattern.results import Reason, Result, Value
from blockwright.pattern.unasked.openings import Opening
from blockwright.pattern.unasked.sewings import offered_edges
from blockwright.words.catalogue import say
from blockwright.words.doubted import doubted

HEAD = ("", "promise", "wanted", "measured", "off")
OF_PIECES = ("outline", "dart-legs")
"""Kinds of results of a drawing of which nothing is promised."""
SAID, FAR_OFF = 5.0, 15.0
"""Millimetres off the sheet from which a length is said, and from which the verdict says it."""
# A notebook's own style has numbers in mind; white on rust reads on a white page and a dark one.
LEFT = ' style="text-align:left"'
BROKEN_ROW = ' class="broken" style="background:#bb592f;color:#ffffff;font-weight:bold"'


@dataclass(frozen=True, slots=True)
class Proof:
    """All results of one pattern: what each promise wanted and what was measured.

    `prove` makes it.  See `Result`; `solved`, `estimates`, `sources` and `given_up` are those of
    the pattern.  `stated` is what the block says that a sewer would not expect: an angle, a shaped
    seam, an unsewn edge.  `openings` are where the sewn garment is open, and how wide.  `doubts`
    are the measurements that hardly go with the others of the sheet, and `unused` those that no
    block used.  `judged` is False for a body unlike all that the body model knows.  `labels` are
    the words that a set puts before the names of each block, by
    its key, and `words` those of promise kinds that a plugin added.

    Example:
        >>> from blockwright import Draft, Edge, Point, line, polyline, prove
        >>> hem = Edge("hem", line(Point(0, 0), Point(200, 0)), "hem")
        >>> rest = Edge("rest", polyline([Point(200, 0), Point(200, 300), Point(0, 0)]), "hem")
        >>> d, grain = Draft("test.wedge", "Wedge"), (Point(180, 20), Point(180, 250))
        >>> wedge = d.piece("wedge", [hem, rest], grain=grain, label_at=Point(150, 80))
        >>> d.girth("hem", runs=[hem], body=180.0, ease=25.0)
        >>> proof = prove(d.pattern())
        >>> proof.held, [(each.subject.name, round(each.miss, 1)) for each in proof.broken]
        (False, [('hem', 5.0)])
    """

    block: str
    results: tuple[Result, ...]
    solved: tuple[Solved, ...] = ()
    estimates: tuple[Estimate, ...] = ()
    sources: tuple[Source, ...] = ()
    given_up: tuple[GivenUp, ...] = ()
    stated: tuple[Reason, ...] = ()
    openings: tuple[Opening, ...] = ()
    doubts: tuple[Doubt, ...] = ()
    unused: tuple[str, ...] = ()
    judged: bool = True
    labels: Mapping[str, str] = field(default_factory=dict)
    words: Mapping[str, str] = field(default_factory=dict)

    @property
    def held(self) -> bool:
        """True when there is at least one result and every one held, warnings left aside."""
        return bool(self.results) and not self.broken

    @property
    def broken(self) -> tuple[Result, ...]:
        """The results that did not hold, warnings left aside."""
        return tuple(each for each in self.results if not each.held and not each.warning)

    @property
    def warnings(self) -> tuple[Result, ...]:
        """What no promise covers and a sewer would ask about: a kink, or sides that differ."""
        return tuple(each for each in self.results if not each.held and each.warning)

    def label(self, ref: Ref) -> str:
        """A name as people read it: in a set the block's word goes before it."""
        return labelled(self.labels.get(ref.block, ""), ref.name)

    def say(self, result: Result) -> str:
        """What a result is of, as its row in the table says it: 'seam: side'."""
        values = {**result.values, "subject": result.subject}
        return say(result.code, values, self.label, self.words)

    def why(self, reason: Reason | None) -> str:
        """A reason in words; nothing for none."""
        return say(reason.code, reason.values, self.label, self.words) if reason else ""

    def wanted(self, result: Result, unit: Unit) -> str:
        """What was wanted, in the maker's unit."""
        low, high = result.wanted
        said = _value(result, low, unit)
        if high == math.inf:
            return f"{said} or more"
        return said if high == low else f"{said} to {_value(result, high, unit)}"

    def measured(self, result: Result, unit: Unit) -> str:
        """What was measured, in the maker's unit."""
        return _value(result, result.measured, unit)

    def off(self, result: Result) -> str:
        """By how much it is off, and why or what to do; nothing of what held."""
        if result.held:
            return ""
        by = "" if math.isinf(result.miss) else _miss(result)
        return "; ".join(filter(None, [by, self.why(result.why)]))

    def text(self, unit: Unit) -> str:
        """The proof as a table in the maker's unit."""
        rows = [HEAD, *(self._row(result, unit) for result in self.results)]
        widths = [max(len(row[i]) for row in rows) for i in range(5)]
        lines = [
            "  ".join(cell.ljust(width) for cell, width in zip(row, widths, strict=True)).rstrip()
            for row in rows
        ]
        return "\n".join([*lines, *self._found(unit), self._verdict()])

    def _row(self, result: Result, unit: Unit) -> tuple[str, ...]:
        """The cells of a result, in the order of HEAD."""
        mark = "held" if result.held else "look" if result.warning else "BROKEN"
        wanted, measured = self.wanted(result, unit), self.measured(result, unit)
        return mark, self.say(result), wanted, measured, self.off(result)

    def _found(self, unit: Unit) -> list[str]:
        """What was solved, taken from another block, estimated and given up, a line each."""
        lines = [
            f"solved: {self.label(Ref(s.block, s.name))} {format_length(s.value, unit)}"
            f"{_measured(s, unit)}, so that {s.so_that}"
            for s in self.solved
        ]
        lines += [_taken(source, unit) for source in self.sources]
        # Two blocks of a set may ask for the same.
        lines += dict.fromkeys(
            f"estimated: {e.name} {format_length(e.value, unit)}, {e.rule}{_range(e, unit)}"
            for e in self.estimates
        )
        lines += [self._opening(each, unit) for each in self.openings]
        lines += [f"stated: {self.why(each)}" for each in self.stated]
        lines += [
            f"given up: {each.promise.kind} {self.label(each.promise.ref)}, {self.why(each.why)}"
            for each in self.given_up
        ]
        if self.unused:
            lines.append(f"not used: {', '.join(self.unused)}")
        if not self.judged:
            lines.append(say("measurement.not-judged", {}, self.label, {}))
        lines += [doubted(each, unit) for each in self.doubts]
        return lines

    def _opening(self, opening: Opening, unit: Unit) -> str:
        edges = " and ".join(repr(self.label(edge)) for edge in opening.edges)
        round_it = f"{edges}, {format_length(opening.length, unit)} round"
        if opening.times == 1:
            return f"opening: {round_it}"
        return f"{opening.times} openings: {round_it} each"

    def _verdict(self) -> str:
        looks = len(self.warnings)
        count = len(self.results) - looks
        look = f"; look at {looks} more" if looks else ""
        for solved in self.solved:
            if abs(solved.off) > FAR_OFF:
                look += f"; {self.label(Ref(solved.block, solved.name))} is not as measured"
        if self.doubts:
            look += f"; measure {' and '.join(each.name for each in self.doubts)} again"
        if self.held and all(each.kind in OF_PIECES for each in self.results):
            return f"{self.block}: all {count} checks of its pieces held; no seam is promised"
        if self.held:
            return f"{self.block}: all {count} promises held{look}"
        return f"{self.block}: UNPROVED, {len(self.broken)} of {count} promises broken{look}"

    def _repr_html_(self) -> str:
        """The proof as a notebook shows it: a table in centimetres, what is broken on colour."""
        verdict = html.escape(self._verdict())
        rows = [_html_row(HEAD, "th")]
        for result in self.results:
            marked = "" if result.held else BROKEN_ROW
            rows.append(_html_row(self._row(result, Unit.CM), "td", marked))
        found = "".join(f"<li>{html.escape(line)}</li>" for line in self._found(Unit.CM))
        listed = f"<ul>{found}</ul>" if found else ""
        return "\n".join(
            ["<table>", f"<caption>{verdict}</caption>", *rows, f"</table>{listed}"],
        )

    def to_json(self) -> dict[str, object]:
        """The proof as plain values; lengths in mm, angles in degrees."""
        return {
            "block": self.block,
            "held": self.held,
            "results": [
                {
                    "code": r.code,
                    "subject": _plain(r.subject),
                    "quantity": r.quantity,
                    "wanted": [_finite(each) for each in r.wanted],
                    "measured": _finite(r.measured),
                    "tolerance": r.tolerance,
                    "held": r.held,
                    "warning": r.warning,
                    "values": {name: _plain(value) for name, value in r.values.items()},
                    "why": None if r.held else _reason(r.why),
                }
                for r in self.results
            ],
            "stated": [_reason(each) for each in self.stated],
            "doubts": [
                {"name": d.name, "value": d.value, "low": d.low, "high": d.high, "was": d.was}
                for d in self.doubts
            ],
            "unused": list(self.unused),
            "judged": self.judged,
            "openings": [
                {"edges": _plain(o.edges), "round": o.length, "times": o.times}
                for o in self.openings
            ],
            "given_up": [
                {
                    "kind": each.promise.kind,
                    "subject": _plain(each.promise.ref),
                    "why": _reason(each.why),
                }
                for each in self.given_up
            ],
            "solved": [
                {"name": s.name, "value": s.value, "so_that": s.so_that, "measured": s.measured}
                for s in self.solved
            ],
            "estimates": [
                {
                    "name": e.name,
                    "value": e.value,
                    "rule": e.rule,
                    "low": e.low,
                    "high": e.high,
                }
                for e in self.estimates
            ],
            "taken": [{"name": s.name, "value": s.value, "says": s.says} for s in self.sources],
        }


def prove(pattern: Pattern) -> Proof:
    """Measure every promise of a pattern on its pieces, and what nobody promised but a sewer sees.

    A corner or a bend that no promise covers is a warning.

    Raises PatternError, with the promise it is of, where one names an edge or a piece that is not
    there.

    Example:
        >>> from blockwright import Draft, Edge, Point, polyline, prove
        >>> at = [Point(0, 0), Point(200, 0), Point(200, 300), Point(0, 300), Point(0, 0)]
        >>> d, grain = Draft("test.square", "Square"), (Point(50, 50), Point(50, 250))
        >>> edges, label_at = [Edge("square", polyline(at))], Point(100, 150)
        >>> square = d.piece("square", edges, grain=grain, label_at=label_at)
        >>> closes = prove(d.pattern()).results[0]
        >>> closes.code, round(closes.measured, 3), closes.held
        ('outline.closes', 0.0, True)
    """
    given_up = (each.promise for each in pattern.given_up)
    kinds = {type(promise) for promise in (*pattern.promises, *given_up)}
    found, taped = measured(pattern), _taped(pattern)
    return Proof(
        pattern.block,
        found.results,
        pattern.solved,
        pattern.estimates,
        pattern.sources,
        pattern.given_up,
        tuple(_stated(pattern)),
        found.openings,
        tuple(doubts(taped)),
        tuple(pattern.unused),
        holds_for(taped),
        {piece.block: piece.word for piece in pattern.pieces},
        {code: text for kind in kinds for code, text in kind.words.items()},
    )


def _taped(pattern: Pattern) -> dict[str, float]:
    """What the sheet gives, mm: no estimate, and nothing that was walked on another block."""
    other = {e.name for e in pattern.estimates} | {s.name for s in pattern.sources}
    given = {name: mm for name, mm in pattern.measurements.items() if name not in other}
    return {**given, **pattern.unused}


def _stated(pattern: Pattern) -> Iterator[Reason]:
    """What the blocks state, with the unsewn edges of one kind in one line."""
    unsewn: dict[Value, tuple[Ref, ...]] = {}
    for promise in pattern.promises:
        reason = promise.stated(pattern)
        if isinstance(promise, Unsewn) and reason:
            unsewn[promise.how] = (*unsewn.get(promise.how, ()), promise.edge)
        elif reason:
            yield reason
    for how, edges in unsewn.items():
        yield Reason("stated.unsewn", {"edges": edges, "how": how})
    said = {edge for edges in unsewn.values() for edge in edges} | pattern.sewn_edges
    if offered := tuple(edge for edge in sorted(offered_edges(pattern)) if edge not in said):
        yield Reason("stated.offered", {"edges": offered})


def _html_row(cells: Iterable[str], tag: str, marked: str = "") -> str:
    filled = "".join(f"<{tag}{LEFT}>{html.escape(cell)}</{tag}>" for cell in cells)
    return f"<tr{marked}>{filled}</tr>"


def _taken(source: Source, unit: Unit) -> str:
    if source.value is None:
        return f"not taken: {source.name}, {source.says}"
    return f"taken: {source.name} {format_length(source.value, unit)}, {source.says}"


def _measured(solved: Solved, unit: Unit) -> str:
    """What the sheet has for a length, where more or less of it is drawn."""
    if solved.measured is None or abs(solved.off) <= SAID:
        return ""
    return f" and not {format_length(solved.measured, unit)} as measured"


def _range(estimate: Estimate, unit: Unit) -> str:
    """Between what lengths most bodies lie that have the other measurements of the sheet."""
    if estimate.low is None or estimate.high is None:
        return ""
    low, high = format_length(estimate.low, unit), format_length(estimate.high, unit)
    return f"; 80 of 100 such bodies have {low} to {high}"


def _finite(value: float) -> float | None:
    return value if math.isfinite(value) else None


def _plain(value: object) -> object:
    """A value as JSON has it."""
    if isinstance(value, Ref):
        return {"block": value.block, "name": value.name}
    return [_plain(each) for each in value] if isinstance(value, tuple) else value


def _reason(reason: Reason | None) -> dict[str, object] | None:
    if reason is None:
        return None
    return {
        "code": reason.code,
        "values": {name: _plain(value) for name, value in reason.values.items()},
    }


def _value(result: Result, value: float, unit: Unit) -> str:
    if math.isnan(value):
        return "not found"
    if result.quantity == "length":
        return _length(value, unit)
    return f"{value:.1f}°" if result.quantity == "angle" else f"{value:.0f}"


def _length(value: float, unit: Unit) -> str:
    """A length as fine as the proof's tolerance, unlike the 0.1 cm of other print."""
    if unit is Unit.CM and math.isfinite(value):
        return f"{value / 10.0 + 0.0:.2f} cm".replace("-0.00 cm", "0.00 cm")
    return format_length(value, unit, show_error=True)


def _miss(result: Result) -> str:
    if result.quantity == "length":
        return f"{result.miss:.3f} mm"
    return f"{result.miss:.2f}°" if result.quantity == "angle" else f"{result.miss:.0f}"
