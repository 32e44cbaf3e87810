"""Yarns held together, and how tight a yarn is knitted."""

from __future__ import annotations

from collections.abc import Iterable
from math import sqrt

USUAL_TIGHTNESS = (9.0, 12.0)
"""Tightness factors of hand-knits, √tex per cm (common practice, no source)."""


def combined_grist(grists: Iterable[float]) -> float:
    """Grist of strands held together, in the unit of theirs (any length per mass): 1 / Σ(1 / grist); tex add up."""
    return 1 / sum(1 / grist for grist in grists)


def tightness(tex: float, loop_length: float) -> float:
    """K = √tex / l in √tex per cm, of the loop length in cm (Munden 1962)."""
    return sqrt(tex) / loop_length


def tightness_word(k: float) -> str:
    """The fabric in a word: "open" (flimsy) below the usual range, "dense" (stiff) above it, else "usual"."""
    low, high = USUAL_TIGHTNESS
    if k < low:
        return "open"
    return "dense" if k > high else "usual"
