"""The proof: every promise of a pattern, measured on its pieces."""

from __future__ import annotations

import math
from dataclasses import dataclass

from blockwright.body.lengths import Unit, format_length
from blockwright.pattern.finding import Finding
from blockwright.pattern.pattern import Estimate, Pattern, Solved, Source


@dataclass(frozen=True, slots=True)
class Proof:
    """All findings of one pattern."""

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
        rows = [("", "promise", "wanted", "measured", "off")]
        for f in self.findings:
            wanted = _value(f, f.low, unit)
            if f.high != f.low:
                wanted += f" to {_value(f, f.high, unit)}"
            mark = "held" if f.held else "BROKEN"
            rows.append((mark, f"{f.kind}: {f.name}", wanted, _value(f, f.measured, unit), _off(f)))
        widths = [max(len(row[i]) for row in rows) for i in range(5)]
        lines = [
            "  ".join(cell.ljust(width) for cell, width in zip(row, widths, strict=True)).rstrip()
            for row in rows
        ]
        lines += [
            f"solved: {s.name} {format_length(s.value, unit)}, so that {s.so_that}"
            for s in self.solved
        ]
        lines += [f"taken: {s.name} {format_length(s.value, unit)}, {s.says}" for s in self.sources]
        # Two blocks of a set may ask for the same.
        lines += dict.fromkeys(
            f"estimated: {e.name} {format_length(e.value, unit)}, {e.rule}" for e in self.estimates
        )
        count = len(self.findings)
        lines.append(
            f"{self.block}: all {count} promises held"
            if self.held
            else f"{self.block}: UNPROVED, {len(self.broken)} of {count} promises broken"
        )
        return "\n".join(lines)

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
    """Measure every promise of a pattern on its pieces as they now are."""
    findings = tuple(f for promise in pattern.promises for f in promise.measure(pattern))
    return Proof(pattern.block, findings, pattern.solved, pattern.estimates, pattern.sources)


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
    if finding.held:
        return ""
    if finding.quantity == "length":
        return f"{finding.miss:.3f} mm"
    return f"{finding.miss:.2f}°" if finding.quantity == "angle" else f"{finding.miss:.0f}"
