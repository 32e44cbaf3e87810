"""How much longer the yarn is when the same piece is knitted in another yarn."""

from __future__ import annotations

from yarnchat.answers import Basis, Ratio
from yarnchat.fabric.densities import Density
from yarnchat.fabric.uncertainty import combined, expanded

MODEL_DEFAULT = 0.08
"""Relative standard uncertainty of the model where a side is a class default (common practice, no source)."""
MODEL_GAUGE = 0.05
"""The same where a side is a gauge and none a class default (common practice, no source)."""
SAME_GAUGE = Ratio(value=1, low=1, high=1, basis="same gauge")
"""The pattern's gauge is kept: length carries over, mass does not."""


def ratio(pattern: Density, yarn: Density) -> Ratio:
    """D of the new yarn over D of the pattern's, with its range at k = 2 and what it rests on."""
    value = yarn.value / pattern.value
    spread = expanded(combined(pattern.u, yarn.u, model_u(pattern, yarn)))
    bases = {pattern.basis, yarn.basis}
    basis: Basis = "swatch" if "swatch" in bases else "gauge" if "gauge" in bases else "default"
    return Ratio(value=value, low=max(value * (1 - spread), 0), high=value * (1 + spread), basis=basis)


def model_u(pattern: Density, yarn: Density) -> float:
    """What the model itself adds: 8 % beside a class default, 5 % beside a gauge, none for two swatches."""
    bases = {pattern.basis, yarn.basis}
    if "default" in bases:
        return MODEL_DEFAULT
    return MODEL_GAUGE if "gauge" in bases else 0.0
