"""Which weight classes a yarn may be, nearest first, each with its reason.

A value inside published ranges lists every class that holds it: the most ranges first, then the
nearest middle. The standard's ranges are whole numbers and leave gaps: a value in a gap (20.5) or
beyond them all goes to the nearest limit, and a tie lists both.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from math import isclose

from yarnchat.knowledge.classes import Span, WeightClass, classes


@dataclass(frozen=True, slots=True)
class Candidate:
    """A class the yarn may be; ``inside`` is False where the value lies only near its range."""

    weight_class: WeightClass
    inside: bool
    reason: str


def by_gauge(sts_to_4_in: float) -> list[Candidate]:
    """Classes by stockinette stitches to 4 in; ValueError where not above zero."""
    return _nearest_first(sts_to_4_in, "sts to 4 in", lambda row: (row.gauge,))


def by_wpi(wraps: float) -> list[Candidate]:
    """Classes by wraps per inch; tables disagree, so several are usual; ValueError where not above zero."""
    return _nearest_first(wraps, "wpi", lambda row: row.wpi)


def by_grist(m_per_100_g: float) -> list[Candidate]:
    """Classes by m per 100 g; tables disagree, so several are usual; ValueError where not above zero."""
    return _nearest_first(m_per_100_g, "m/100 g", lambda row: row.grist)


def by_needle(mm: float) -> list[Candidate]:
    """Classes by the needle diameter in mm that a label recommends; ValueError where not above zero."""
    return _nearest_first(mm, "mm", lambda row: (row.needle,))


def _nearest_first(value: float, unit: str, spans_of: Callable[[WeightClass], Iterable[Span]]) -> list[Candidate]:
    """Classes whose spans hold a value above zero, most spans first; where none does, the nearest. ValueError else."""
    if not value > 0:
        raise ValueError("A class needs a value above zero.")
    inside: list[tuple[int, float, Candidate]] = []
    outside: list[tuple[float, Candidate]] = []
    for row in classes():
        holding = [span for span in spans_of(row) if span.holds(value)]
        if holding:
            middle = min(abs(value - span.middle) for span in holding)
            reasons = "; ".join(f"{span} {unit} ({span.source})" for span in holding)
            inside.append((-len(holding), middle, Candidate(row, True, f"{row.label} is {reasons}")))
        for span in spans_of(row):
            limit = min((x for x in (span.low, span.high) if x is not None), key=lambda x: abs(x - value))
            reason = f"{value:g} lies outside every range; nearest is {limit:g} {unit}, {row.label}"
            outside.append((abs(limit - value), Candidate(row, False, f"{reason} ({span.source})")))
    if inside:
        return [candidate for *_, candidate in sorted(inside, key=lambda found: found[:2])]
    nearest = min(distance for distance, _ in outside)
    tied = [candidate for distance, candidate in outside if isclose(distance, nearest, rel_tol=1e-9)]
    return list({candidate.weight_class.key: candidate for candidate in tied}.values())
