"""Short ways to say a yarn, a need and a holding, and to hold a draft's figures to a row of a table."""

from __future__ import annotations

from collections.abc import Mapping

import pytest

from yarnchat.abilities.base import Ability, Draft
from yarnchat.answers import Amount, Figures
from yarnchat.quantity import Quantity
from yarnchat.queries import Colour, Gauge, Holding, PutUp, Query, Series, Yarn
from yarnchat.refusals import Refusal

from .asking import ask

WORSTED = Yarn(weight_class="worsted", class_as_said="worsted")
ARAN = Yarn(weight_class="worsted", class_as_said="aran")
DK = Yarn(weight_class="dk", class_as_said="DK")
SPORT = Yarn(weight_class="sport", class_as_said="sport")
FINGERING = Yarn(weight_class="fingering", class_as_said="fingering")
BULKY = Yarn(weight_class="bulky", class_as_said="bulky")
LACE = Yarn(weight_class="lace", class_as_said="lace")

Expected = Mapping[str, object]


def quantity(said: str) -> Quantity:
    """``"210 yd"`` as a quantity."""
    value, unit = said.split()
    return Quantity(float(value), unit)


def wound(length: str | None = None, mass: str | None = None) -> PutUp:
    """A put-up from ``"210 yd"`` and ``"100 g"``."""
    return PutUp(quantity(length) if length else None, quantity(mass) if mass else None)


def need(*values: float, unit: str, name: str = "") -> Colour:
    """What one colour takes, a value a size."""
    return Colour(name, (Series(tuple(float(value) for value in values), unit),))


def held(amount: float, unit: str, yarn: Yarn = Yarn()) -> Holding:  # noqa: B008 - a frozen default
    """So much of a yarn."""
    return Holding(amount, unit, yarn)


def sts(count: float, over: str = "10 cm", rows: float | None = None) -> Gauge:
    """A gauge from ``22`` and ``"10 cm"``."""
    return Gauge(count, quantity(over), rows)


def hold(figures: Figures, expected: Expected) -> None:
    """Hold figures to those expected; an amount is (value, unit), or (value, low, high, unit)."""
    for name, wanted in expected.items():
        found = figures[name]
        if isinstance(found, Amount):
            assert isinstance(wanted, tuple), name
            values = [found.value] if len(wanted) == 2 else [found.value, found.low, found.high]
            assert values == pytest.approx(list(wanted[:-1]), rel=1e-5), name
            assert found.unit == wanted[-1], name
        elif isinstance(wanted, float):
            assert getattr(found, "value", found) == pytest.approx(wanted, rel=1e-5), name
        else:
            assert found == wanted, name


def declined(ability: Ability, query: Query) -> Refusal:
    """The refusal that a query meets."""
    with pytest.raises(Refusal) as caught:
        ask(ability, query)
    return caught.value


def everything(draft: Draft) -> str:
    """All words of a draft."""
    return "\n".join([draft.headline, *draft.working, *draft.cautions])
