"""Standard uncertainties and how they combine (GUM, JCGM 100:2008)."""

from __future__ import annotations

from math import hypot, sqrt


def rectangular(half_width: float) -> float:
    """Standard uncertainty of a value known only to lie within ± half_width (GUM 4.3.7)."""
    return half_width / sqrt(3)


def combined(*terms: float) -> float:
    """Independent terms added in quadrature: relative ones of a product or quotient (GUM 5.1.6)."""
    return hypot(*terms)


def expanded(u: float, k: float = 2) -> float:
    """Half-width of the range shown: k = 2 is about 95 % (GUM 6.3.3)."""
    return k * u
