"""Amounts with units: the one file that knows pint, with a short unit list of our own."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from pint import UnitRegistry

LENGTHS = ("yd", "m", "in", "cm", "mm", "ft", "km")
IMPERIAL = ("in", "ft", "yd")
"""The lengths among them that are no metric ones."""
MASSES = ("g", "kg", "oz", "lb")

# Yard and inch: 1959 agreement. Ounce and pound: NIST SP 811, Appendix B.
_DEFINITIONS = """
m = [length]
cm = 0.01 * m
mm = 0.001 * m
km = 1000 * m
in = 0.0254 * m
ft = 0.3048 * m
yd = 0.9144 * m
g = [mass]
kg = 1000 * g
oz = 28.349523125 * g
lb = 453.59237 * g
"""


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


@cache
def factor(unit: str, into: str) -> float:
    """How many ``into`` make one ``unit``; ValueError where one is a length and the other a mass."""
    if unit == into:
        return 1.0
    if is_length(unit) != is_length(into):
        raise ValueError(f"{unit} and {into} measure different things")
    return float(_registry().Quantity(1, unit).m_as(into))


def is_length(unit: str) -> bool:
    """Whether a unit of our list measures length; KeyError for a unit we do not have."""
    if unit not in LENGTHS and unit not in MASSES:
        raise KeyError(unit)
    return unit in LENGTHS


def number(value: float) -> str:
    """A number as a person reads it: whole from 100 up, with thousands commas; at most 3 figures below."""
    if abs(value) >= 100:
        return f"{value:,.0f}"
    digits = 1 if abs(value) >= 10 else 2
    text = f"{value:.{digits}f}"
    if float(text) == 0 and value:
        return f"{value:.2g}"
    return text.rstrip("0").rstrip(".")


@cache
def _registry() -> UnitRegistry[float]:
    import pint

    registry: pint.UnitRegistry[float] = pint.UnitRegistry(None)
    for line in _DEFINITIONS.strip().splitlines():
        registry.define(line)
    return registry
