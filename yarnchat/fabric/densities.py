"""Yarn length per fabric area, how far it is known, and what it rests on."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cache
from math import exp, log
from typing import TYPE_CHECKING

from yarnchat.fabric.loops import stitch_density, yarn_per_area
from yarnchat.fabric.uncertainty import combined, rectangular
from yarnchat.knowledge.classes import weight_class
from yarnchat.quantity import factor, number
from yarnchat.queries import Gauge

if TYPE_CHECKING:
    from yarnchat.answers import Basis

HALF_A_STITCH = 0.5
"""What a count of stitches is known to (common practice, no source)."""
_CM_PER_4_INCHES = 4 * factor("in", "cm")


@dataclass(frozen=True, slots=True)
class Density:
    """D in cm of yarn per cm² of fabric, its relative standard uncertainty, and where it came from."""

    value: float
    u: float
    basis: Basis
    rows_given: bool
    source: str


Offset = tuple[Density, Density]
"""A class she has swatched: her D and the default D of that class."""


def density_of_gauge(gauge: Gauge) -> Density:
    """D of a gauge somebody counted; ValueError where a count or the length is not above zero.

    Each count is known to half a stitch over the length it was counted on, and a range such as
    18–20 to its half-width besides. Without rows D is proportional to the stitches; with rows to
    the root of stitches times rows, so that each count's relative uncertainty halves.
    """
    over = gauge.over.value * factor(gauge.over.unit, "cm")
    if not (gauge.stitches > 0 and over > 0 and (gauge.rows is None or gauge.rows > 0)):
        raise ValueError("A gauge needs stitches, rows and a length above zero.")
    rows_per_cm = None if gauge.rows is None else gauge.rows / over
    value = yarn_per_area(stitch_density(gauge.stitches / over, rows_per_cm))
    u = _count_u(gauge.stitches, gauge.spread)
    if gauge.rows is not None:
        u = combined(u / 2, _count_u(gauge.rows, gauge.rows_spread) / 2)
    return Density(value, u, "gauge", gauge.rows is not None, str(gauge))


@cache
def density_of_class(key: str) -> Density:
    """D at the middle of a class's gauge range, known to half that range; KeyError for an unknown class."""
    named = weight_class(key)
    half_range = (named.gauge_high - named.gauge_low) / 2
    value = yarn_per_area(stitch_density(named.mid_gauge / _CM_PER_4_INCHES))
    middle = f"{number(named.mid_gauge)} sts to 4 in, middle of {named.gauge_low:g}–{named.gauge_high:g}"
    u = rectangular(half_range) / named.mid_gauge
    return Density(value, u, "default", False, f"{named.label}: {middle} ({named.gauge_source})")


def shift_by_knitter(default: Density, offsets: Sequence[Offset]) -> Density:
    """A class default as she would knit it: times the geometric mean of her D over the default D.

    With no offsets the default is returned as it is. The uncertainty takes every term as
    independent, which errs wide.
    """
    if not offsets:
        return default
    count = len(offsets)
    shift = exp(sum(log(hers.value / usual.value) for hers, usual in offsets) / count)
    shift_u = combined(*(u for hers, usual in offsets for u in (hers.u, usual.u))) / count
    classes = "1 class" if count == 1 else f"{count} classes"
    source = f"{default.source}, × {number(shift)} as you knit ({classes} swatched)"
    return replace(default, value=default.value * shift, u=combined(default.u, shift_u), source=source)


def beside_swatch(swatch: Density, offsets: Sequence[Offset], default: Density) -> tuple[Density, Density]:
    """What to compare where one side is her swatch and the other a class default, in that order.

    ``offsets`` are the classes she has swatched, the swatch's own among them. With one class
    swatched her shift cancels and both sides are class defaults: a single swatch says how she
    knits, not how two yarns compare.
    """
    if len(offsets) == 1:
        [(_, usual)] = offsets
        return usual, default
    return swatch, shift_by_knitter(default, offsets)


def _count_u(count: float, spread: float) -> float:
    """Relative standard uncertainty of a counted gauge: half a stitch, and the half-width of a range."""
    return combined(rectangular(HALF_A_STITCH), rectangular(spread)) / count
