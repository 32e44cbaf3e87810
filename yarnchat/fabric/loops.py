"""Plain knitted fabric: the loop length alone fixes its stitches and its yarn.

D. L. Munden, J. Textile Inst. 50 (1959) T448: courses/cm = kc / l, wales/cm = kw / l, S = ks / l².
"""

from __future__ import annotations

from math import sqrt

from yarnchat.quantity import factor

KC = 5.5
"""Courses per cm times loop length in cm, fully relaxed (GATE Textile 2015, question 54)."""
KW = 4.2
"""Wales per cm times loop length in cm, fully relaxed (GATE Textile 2015, question 54)."""
KS = KC * KW
"""Stitches per cm² times the loop length squared, fully relaxed: 23.1; dry relaxed fabric has 19 (from memory)."""
KS_PLAUSIBLE = (15.0, 30.0)
"""Outside these a measurement is probably off (common practice, no source)."""

_CM_PER_INCH = factor("in", "cm")
_CM_PER_YARD = factor("yd", "cm")


def rows_of(sts_per_cm: float) -> float:
    """Rows per cm of relaxed plain fabric where only stitches per cm are known."""
    return sts_per_cm * KC / KW


def stitch_density(sts_per_cm: float, rows_per_cm: float | None = None) -> float:
    """S, stitches per cm²; ValueError where a count is not above zero."""
    rows = rows_of(sts_per_cm) if rows_per_cm is None else rows_per_cm
    if not (sts_per_cm > 0 and rows > 0):
        raise ValueError("Stitches and rows per cm must be above zero.")
    return sts_per_cm * rows


def loop_length(density: float, ks: float = KS) -> float:
    """l, yarn length per stitch in cm, of S stitches per cm²: S = ks / l² solved for l."""
    return sqrt(ks / density)


def yarn_per_area(density: float, ks: float = KS) -> float:
    """D, yarn length per fabric area in cm per cm², of S stitches per cm²."""
    return sqrt(ks * density)


def observed_loop_length(density: float, yarn_density: float) -> float:
    """l = D / S in cm, of a swatch whose yarn D (cm per cm²) and stitches S (per cm²) were both measured."""
    return yarn_density / density


def observed_ks(density: float, yarn_density: float) -> float:
    """ks = D² / S of a swatch whose yarn D (cm per cm²) and stitches S (per cm²) were both measured."""
    return yarn_density**2 / density


def plausible(ks: float) -> bool:
    """Whether an observed ks can be plain fabric; if not, a measurement is probably off."""
    low, high = KS_PLAUSIBLE
    return low <= ks <= high


def yards_per_square_inch(yarn_density: float) -> float:
    """D in yd per in², of D in cm per cm²."""
    return yarn_density * _CM_PER_INCH**2 / _CM_PER_YARD


def metres_per_square_metre(yarn_density: float) -> float:
    """D in m per m², of D in cm per cm²."""
    return yarn_density * 100
