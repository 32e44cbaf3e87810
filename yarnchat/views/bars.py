"""Bars of plain characters: a value, or a value within its range, on one scale that begins at nought."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Span:
    """A value with its low and high end, all in one unit; the three are equal where there is no range."""

    low: float
    value: float
    high: float


def bars(spans: Sequence[Span], width: int) -> list[str]:
    """One bar a span, ``width`` columns for the largest: ``####``, or ``  --o--`` where any has a range.

    Bars are blank where nothing can be drawn: nothing above nought, or a value that is no finite number.
    """
    numbers = [number for span in spans for number in (span.low, span.value, span.high)]
    top = max(numbers, default=0.0)
    if top <= 0 or not all(math.isfinite(number) for number in numbers):
        return ["" for _ in spans]
    ranged = any(span.low < span.high for span in spans)
    return [_ranged(span, top, width) if ranged else "#" * round(span.value / top * width) for span in spans]


def _ranged(span: Span, top: float, width: int) -> str:
    ends = (max(end, 0) / top * (width - 1) for end in (span.low, span.value, span.high))
    low, value, high = (round(end) for end in ends)
    return " " * low + "-" * (value - low) + "o" + "-" * (high - value)
