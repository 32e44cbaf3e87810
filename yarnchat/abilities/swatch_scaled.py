"""A piece by what her swatch weighs: so many times its area, where nobody knows how long its yarn is for its mass."""

from __future__ import annotations

from yarnchat.abilities.base import Draft
from yarnchat.abilities.buying import ESTIMATES, ONE_LOT, basket, headline, steps
from yarnchat.abilities.needs import Estimate
from yarnchat.abilities.sanity import positive
from yarnchat.abilities.swatch_sides import sides_of
from yarnchat.answers import Amount
from yarnchat.fabric.shapes import SWATCH_ALLOWANCE
from yarnchat.fabric.uncertainty import combined, expanded, rectangular
from yarnchat.quantity import number, to_figures
from yarnchat.queries import Swatch, Yarn


def by_its_mass(swatch: Swatch, square_cm: float, said: Amount, yarn: Yarn, spares: int) -> Draft | None:
    """``a swatch of 15 x 15 cm takes 8 g, the blanket is 120 x 150 cm``: the mass of the piece, a swatch on top.

    ``said``: the piece's area, in the unit it is shown in. None where the swatch's mass or a side is not told.
    """
    sides = sides_of(swatch, yarn.gauge)
    if swatch.mass is None or sides is None:
        return None
    for measure in (swatch.mass, sides.width, sides.height):
        positive(measure.value, measure.unit)
    width, height = sides.cm
    u = combined(rectangular(swatch.mass_step / 2) / swatch.mass.value, sides.width_u, sides.height_u)
    rate, unit = swatch.mass.value / (width * height), swatch.mass.unit
    piece, allowance = (_estimate(rate * size, u) for size in (square_cm, SWATCH_ALLOWANCE))
    whole = piece.plus(allowance)
    found = basket(whole, unit, yarn, spares)
    amounts = f"{piece.said(unit)}, for the piece, and {number(allowance.value)} {unit} for a swatch"
    area = f"{number(said.value)} {said.unit.replace('^2', '²')}"
    times = f"{to_figures(square_cm / (width * height), 4)} times the swatch"
    return Draft(
        headline(found, yarn.name or "", amounts),
        {"area": said, **found.figures(), "mass": piece.figure(unit)},
        working=[
            f"your swatch: {swatch.mass} for {sides.width} × {sides.height}",
            f"piece {area}, {times}: {number(piece.value)} {unit}",
            f"swatch allowance 4 × 4 in: {number(allowance.value)} {unit}, with the piece {number(whole.value)} {unit}",
            *steps(found, yarn),
        ],
        cautions=[*([ONE_LOT] if found.bought else []), ESTIMATES],
    )


def _estimate(value: float, u: float) -> Estimate:
    half = value * expanded(u)
    return Estimate(value, max(value - half, 0), value + half)
