"""Amounts with units: our short unit list, its exact sizes, and how a number is printed."""

from __future__ import annotations

from dataclasses import dataclass

# Yard and inch: 1959 agreement. Ounce and pound: NIST SP 811, Appendix B.
_IN_METRES = {"yd": 0.9144, "m": 1.0, "in": 0.0254, "cm": 0.01, "mm": 0.001, "ft": 0.3048, "km": 1000.0}
_IN_GRAMS = {"g": 1.0, "kg": 1000.0, "oz": 28.349523125, "lb": 453.59237}

LENGTHS = tuple(_IN_METRES)
IMPERIAL = ("in", "ft", "yd")
"""The lengths among them that are no metric ones."""
MASSES = tuple(_IN_GRAMS)


@dataclass(frozen=True, slots=True)
class Quantity:
    """A value in one of our units, for example ``Quantity(420, "yd")``."""

    value: float
    unit: str

    def to(self, unit: str) -> Quantity:
        """The same amount in another unit of the same kind."""
        return self if unit == self.unit else Quantity(self.value * factor(self.unit, unit), unit)

    def __str__(self) -> str:
        return f"{number(self.value)} {self.unit}"


def factor(unit: str, into: str) -> float:
    """How many ``into`` make one ``unit``: ValueError for a length and a mass, KeyError for a unit we do not have."""
    sizes = _IN_METRES if is_length(unit) else _IN_GRAMS
    if unit == into:
        return 1.0
    if is_length(into) != is_length(unit):
        raise ValueError(f"{unit} and {into} measure different things")
    return sizes[unit] / sizes[into]


def is_length(unit: str) -> bool:
    """Whether a unit of our list measures length; KeyError for a unit we do not have."""
    if unit in _IN_METRES:
        return True
    if unit not in _IN_GRAMS:
        raise KeyError(unit)
    return False


def number(value: float) -> str:
    """A number as a person reads it: whole from 100 up, with thousands commas; at most 3 figures below."""
    if abs(value) >= 100:
        return f"{value:,.0f}"
    digits = 1 if abs(value) >= 10 else 2
    text = f"{value:.{digits}f}"
    if float(text) == 0 and value:
        return f"{value:.2g}"
    return text.rstrip("0").rstrip(".")


def to_figures(value: float, count: int = 3) -> str:
    """A ratio or a rate in the working, to so many significant figures."""
    return f"{value:.{count}g}"
