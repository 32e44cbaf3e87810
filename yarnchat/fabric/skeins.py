"""Whole skeins, the spare, and how many would cover the high end of the range."""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil, isfinite

ROUNDING_NOISE = 1e-9


@dataclass(frozen=True, slots=True)
class Purchase:
    """What to buy; ``covers_high``: skeins for the high end where skeins and spare do not reach it."""

    skeins: int
    spare: int
    covers_high: int | None = None

    @property
    def total(self) -> int:
        """Skeins and spare together."""
        return self.skeins + self.spare


def whole_skeins(length: float, per_skein: float) -> int:
    """Skeins that hold a length, both in one unit: 7.1 is 8, and 10 with rounding noise on it is 10.

    ValueError where a skein holds nothing or the length is negative or not a number.
    """
    if not (isfinite(length) and isfinite(per_skein) and length >= 0 and per_skein > 0):
        raise ValueError("Whole skeins need a length of zero or more and a skein that holds some.")
    return ceil(length / per_skein * (1 - ROUNDING_NOISE)) or int(length > 0)


def left_over(length: float, per_skein: float, skeins: int) -> float:
    """What so many skeins hold over a length, all in one unit; rounding noise is nothing left over."""
    over = skeins * per_skein - length
    return 0.0 if abs(over) < ROUNDING_NOISE * length else over


def purchase(length: float, high: float, per_skein: float, main_colour: bool = True, spares: int = 1) -> Purchase:
    """What to buy for a length whose range ends at ``high``, all in one unit.

    The main colour always has its spares. A contrast colour has one only where its high end exceeds
    what rounding up already buys.
    """
    skeins = whole_skeins(length, per_skein)
    at_high_end = whole_skeins(high, per_skein)
    contrast_spare = min(spares, 1) if at_high_end > skeins else 0
    spare = spares if main_colour else contrast_spare
    covers_high = at_high_end if at_high_end > skeins + spare else None
    return Purchase(skeins, spare, covers_high)
