"""Yarn for other sizes from one knitted sample."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Grade:
    """What the sample's yarn length is multiplied by, with its range."""

    value: float
    low: float
    high: float


def grade(chest1: float, length1: float | None, chest2: float, length2: float | None) -> Grade:
    """From the sample (1) to another size (2); chests in one unit, lengths in one unit.

    With both lengths the area scales as chest × length. With chests alone it lies between c and c²,
    c being their ratio, and c^1.5 is the estimate. ValueError where a measure is not above zero or
    only one length is given.
    """
    if (length1 is None) != (length2 is None):
        raise ValueError("Give the length of both sizes, or of neither.")
    if not (chest1 > 0 and chest2 > 0):
        raise ValueError("A chest must be above zero.")
    c = chest2 / chest1
    if length1 is None or length2 is None:
        return Grade(c**1.5, min(c, c**2), max(c, c**2))
    if not (length1 > 0 and length2 > 0):
        raise ValueError("A length must be above zero.")
    exact = c * length2 / length1
    return Grade(exact, exact, exact)
