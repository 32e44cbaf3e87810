"""How far along a piece is, and what it will take in all."""

from __future__ import annotations

from math import sqrt

from yarnchat.fabric.shapes import SHAPES
from yarnchat.queries import EVENLY, FROM_ITS_CENTRE, NARROWING

FROM_A_POINT = (*(name for name, shape in SHAPES.items() if shape.from_a_point), FROM_ITS_CENTRE)
"""How a piece grows of which the rows get longer evenly, from nothing on."""


def fraction_done(shape: str, done: float, total: float) -> float:
    """Part of the area that is knitted after so many rows of all; 1 is finished.

    ValueError for a shape we do not have, or rows not above zero or more than all.
    """
    if not 0 < done <= total:
        raise ValueError("Rows done must be above zero and no more than the rows in all.")
    part = done / total
    if shape == NARROWING:
        return 1 - (1 - part) ** 2
    return part**2 if _grows_squared(shape) else part


def total_need(used: float, fraction: float) -> float:
    """What the whole piece takes, in the unit of ``used``; ValueError where the fraction is not in 0 to 1."""
    if not 0 < fraction <= 1:
        raise ValueError("The fraction done must be above zero and no more than one.")
    return used / fraction


def half_way_row(shape: str, total: float) -> float:
    """The row at which half the yarn is left, of so many rows in all, not rounded."""
    if shape == NARROWING:
        return total * (1 - sqrt(0.5))
    return total * (sqrt(0.5) if _grows_squared(shape) else 0.5)


def _grows_squared(shape: str) -> bool:
    if shape not in (EVENLY, *FROM_A_POINT):
        raise ValueError(f"There is no rule for how a {shape} grows.")
    return shape in FROM_A_POINT
