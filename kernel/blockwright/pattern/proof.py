"""The proof: every promise of a pattern, measured on its pieces."""

from __future__ import annotations

import html
import math
from collections.abc import Iterable
from dataclasses import dataclass

from blockwright.body.lengths import Unit, format_length
from blockwright.errors import PatternError
from blockwright.pattern.finding import Finding
from blockwright.pattern.pattern import Estimate, Pattern, Promise, Solved, Source

HEAD = ("", "promise", "wanted", "measured", "off")
# A notebook's own style has numbers in mind; white on rust reads on a white page and a dark one.
LEFT = ' style="text-align:left"'
BROKEN_ROW = ' class="broken" style="background:#bb592f;color:#ffffff;font-weight:bold"'


@dataclass(frozen=True, slots=True)
class Proof:
    """All findings of one pattern: what each promise wanted and what was measured.

    `prove` makes it.  A finding has `kind`, `name`, what was wanted from `low` to `high`, and what
    was `measured`: mm, degrees or a count, nan where there was nothing to measure.  `solved`,
    `estimates` and `sources` are those of the pattern.

    Example:
        >>> from blockwright import Draft, Edge, Point, line, polyline, prove
        >>> hem = Edge("hem", line(Point(0, 0), Point(200, 0)), "hem")
        >>> rest = Edge("rest", polyline([Point(200, 0), Point(200, 300), Point(0, 0)]))
        >>> d, grain = Draft("test.wedge", "Wedge"), (Point(180, 20), Point(180, 250))
        >>> wedge = d.piece("wedge", [hem, rest], grain=grain, label_at=Point(150, 80))
        >>> d.girth("hem", runs=[hem], body=180.0, ease=25.0)
        >>> proof = prove(d.pattern())
        >>> proof.held, [(each.name, round(each.miss, 1)) for each in proof.broken]
        (False, [('hem', 5.0)])
    """

    block: str
    findings: tuple[Finding, ...]
    solved: tuple[Solved, ...] = ()
    estimates: tuple[Estimate, ...] = ()
    sources: tuple[Source, ...] = ()

    @property
    def held(self) -> bool:
        """True when there is at least one finding and every one held."""
        return bool(self.findings) and all(finding.held for finding in self.findings)

    @property
    def broken(self) -> tuple[Finding, ...]:
        """The findings that did not hold."""
        return tuple(finding for finding in self.findings if not finding.held)

    def text(self, unit: Unit) -> str:
        """The proof as a table in the maker's unit."""
        rows = [HEAD, *(_row(finding, unit) for finding in self.findings)]
        widths = [max(len(row[i]) for row in rows) for i in range(5)]
        lines = [
            "  ".join(cell.ljust(width) for cell, width in zip(row, widths, strict=True)).rstrip()
            for row in rows
        ]
        return "\n".join([*lines, *self._found(unit), self._verdict()])

    def _found(self, unit: Unit) -> list[str]:
        """What was solved, taken from another block and estimated, a line each."""
        lines = [
            f"solved: {s.name} {format_length(s.value, unit)}, so that {s.so_that}"
            for s in self.solved
        ]
        lines += [_taken(source, unit) for source in self.sources]
        # Two blocks of a set may ask for the same.
        lines += dict.fromkeys(
            f"estimated: {e.name} {format_length(e.value, unit)}, {e.rule}" for e in self.estimates
        )
        return lines

    def _verdict(self) -> str:
        count = len(self.findings)
        if self.held:
            return f"{self.block}: all {count} promises held"
        return f"{self.block}: UNPROVED, {len(self.broken)} of {count} promises broken"

    def _repr_html_(self) -> str:
        """The proof as a notebook shows it: a table in centimetres, what is broken on colour."""
        verdict = html.escape(self._verdict())
        rows = [_html_row(HEAD, "th")]
        for finding in self.findings:
            marked = "" if finding.held else BROKEN_ROW
            rows.append(_html_row(_row(finding, Unit.CM), "td", marked))
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
            "findings": [
                {
                    "kind": f.kind,
                    "name": f.name,
                    "quantity": f.quantity,
                    "wanted": [_finite(f.low), _finite(f.high)],
                    "measured": _finite(f.measured),
                    "tolerance": f.tolerance,
                    "held": f.held,
                    "note": "" if f.held else f.note,
                }
                for f in self.findings
            ],
            "solved": [
                {"name": s.name, "value": s.value, "so_that": s.so_that} for s in self.solved
            ],
            "estimates": [
                {"name": e.name, "value": e.value, "rule": e.rule} for e in self.estimates
            ],
            "taken": [{"name": s.name, "value": s.value, "says": s.says} for s in self.sources],
        }


def prove(pattern: Pattern) -> Proof:
    """Measure every promise of a pattern on its pieces as they now are.

    Raises PatternError, with the promise it is of, where one names an edge or a piece that is not
    there, or edges that do not follow one another.

    Example:
        >>> from blockwright import Draft, Edge, Point, polyline, prove
        >>> at = [Point(0, 0), Point(200, 0), Point(200, 300), Point(0, 300), Point(0, 0)]
        >>> d, grain = Draft("test.square", "Square"), (Point(50, 50), Point(50, 250))
        >>> edges, label_at = [Edge("square", polyline(at))], Point(100, 150)
        >>> square = d.piece("square", edges, grain=grain, label_at=label_at)
        >>> closes = prove(d.pattern()).findings[0]
        >>> closes.name, round(closes.measured, 3), closes.held
        ('square closes', 0.0, True)
    """
    findings = tuple(f for promise in pattern.promises for f in _measured(promise, pattern))
    return Proof(pattern.block, findings, pattern.solved, pattern.estimates, pattern.sources)


def _measured(promise: Promise, pattern: Pattern) -> tuple[Finding, ...]:
    """What a promise finds; a slip in it is told with its name."""
    try:
        return promise.measure(pattern)
    except PatternError as error:
        raise PatternError(f"{promise.kind} {promise.name!r}: {error}") from error


def _row(finding: Finding, unit: Unit) -> tuple[str, ...]:
    """The cells of a finding, in the order of HEAD."""
    f = finding
    wanted = _value(f, f.low, unit)
    if f.high == math.inf:
        wanted += " or more"
    elif f.high != f.low:
        wanted += f" to {_value(f, f.high, unit)}"
    mark = "held" if f.held else "BROKEN"
    return mark, f"{f.kind}: {f.name}", wanted, _value(f, f.measured, unit), _off(f)


def _html_row(cells: Iterable[str], tag: str, marked: str = "") -> str:
    filled = "".join(f"<{tag}{LEFT}>{html.escape(cell)}</{tag}>" for cell in cells)
    return f"<tr{marked}>{filled}</tr>"


def _taken(source: Source, unit: Unit) -> str:
    if source.value is None:
        return f"not taken: {source.name}, {source.says}"
    return f"taken: {source.name} {format_length(source.value, unit)}, {source.says}"


def _finite(value: float) -> float | None:
    return value if math.isfinite(value) else None


def _value(finding: Finding, value: float, unit: Unit) -> str:
    if math.isnan(value):
        return "not found"
    if finding.quantity == "length":
        return _length(value, unit)
    return f"{value:.1f}°" if finding.quantity == "angle" else f"{value:.0f}"


def _length(value: float, unit: Unit) -> str:
    """A length as fine as the proof's tolerance, unlike the 0.1 cm of other print."""
    if unit is Unit.CM and math.isfinite(value):
        return f"{value / 10.0 + 0.0:.2f} cm".replace("-0.00 cm", "0.00 cm")
    return format_length(value, unit, show_error=True)


def _off(finding: Finding) -> str:
    """By how much it is off, and its note; nothing of what held."""
    if finding.held:
        return ""
    by = "" if math.isinf(finding.miss) else _miss(finding)
    return "; ".join(filter(None, [by, finding.note]))


def _miss(finding: Finding) -> str:
    if finding.quantity == "length":
        return f"{finding.miss:.3f} mm"
    return f"{finding.miss:.2f}°" if finding.quantity == "angle" else f"{finding.miss:.0f}"
