"""Yarns set side by side by what so much of each costs; compare calls it with no pattern and every price told."""

from __future__ import annotations

from collections.abc import Sequence
from math import isclose

from yarnchat.abilities.base import Draft
from yarnchat.answers import Amount, Part
from yarnchat.quantity import Quantity
from yarnchat.queries import Price, PutUp, Yarn
from yarnchat.refusals import unclear

THICKNESS = "A thicker yarn goes further by the metre: say what the pattern takes, to have them compared for it."


def draft(yarns: Sequence[Yarn], names: Sequence[str]) -> Draft:
    """What 100 m (or yd) of each costs, else 100 g of each; the cheapest first named."""
    signs = {yarn.price.sign for yarn in yarns if yarn.price}
    if len(signs) > 1:
        raise unclear("Those prices are in different currencies. Give them in one.")
    sold = [(yarn.put_up, yarn.price) for yarn in yarns if yarn.put_up and yarn.price]
    unit = _unit([label for label, _ in sold])
    rates = [_rate(label, price, unit) for label, price in sold]
    [sign] = signs
    made = Draft(_headline(names, rates, unit, sign))
    for name, rate, (label, price) in zip(names, rates, sold, strict=True):
        made.yarns.append(Part(name=name, figures={"price": Amount(value=rate, unit=f"{sign} per 100 {unit}".strip())}))
        held = _held(label, unit)
        made.working.append(f"{name}: {price} / {held} × 100 {unit} = {Price(rate, sign)}")
    if len({yarn.weight_class for yarn in yarns}) > 1:
        made.cautions.append(THICKNESS)
    return made


def _unit(labels: Sequence[PutUp]) -> str:
    """The unit every skein can be told in: that of the first length, else grams."""
    if all(label.length for label in labels):
        return labels[0].length.unit if labels[0].length else "m"
    masses = [label.mass for label in labels if label.mass]
    if len(masses) < len(labels):
        raise unclear("How much is on one skein of each? Type for example: 50 g/125 m at 4.95 or 100 g/230 m at 9.50?")
    return "g"


def _held(label: PutUp, unit: str) -> Quantity:
    """What is on one skein, in that unit."""
    amount = label.length if unit in ("yd", "m") else label.mass
    if amount is None or amount.value <= 0:
        raise unclear("How much is on one skein of each? Type for example: 50 g/125 m at 4.95 or 100 g/230 m at 9.50?")
    return amount.to(unit)


def _rate(label: PutUp, price: Price, unit: str) -> float:
    return price.value / _held(label, unit).value * 100


def _headline(names: Sequence[str], rates: Sequence[float], unit: str, sign: str) -> str:
    each = ", ".join(f"{name} {Price(rate, sign)}" for name, rate in zip(names, rates, strict=True))
    if isclose(min(rates), max(rates), rel_tol=1e-6):
        return f"They cost the same per 100 {unit}: {each}."
    least = min(range(len(rates)), key=lambda place: rates[place])
    return f"{names[least]} is {'cheaper' if len(names) == 2 else 'the cheapest'}. Per 100 {unit}: {each}."
