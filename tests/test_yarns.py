"""Two tellings of one yarn put together: what one lacks is the other's, and what was told is kept."""

from __future__ import annotations

from dataclasses import fields

import pytest

from yarnchat.language.yarns import merge_yarns
from yarnchat.quantity import Quantity
from yarnchat.queries import Gauge, Needle, Price, PutUp, Yarn

GAUGE, OTHER_GAUGE = Gauge(22, Quantity(4, "in")), Gauge(21.5, Quantity(10, "cm"))
US, MM = Needle("8", "us"), Needle("5", "mm")
FULL = Yarn(
    name="Plover",
    weight_class="dk",
    class_as_said="DK",
    put_up=PutUp(Quantity(225, "m"), Quantity(100, "g")),
    gauge=GAUGE,
    needle=US,
    wpi=11,
    strands=2,
    price=Price(7, "£"),
    fibre="wool",
    other_gauge=OTHER_GAUGE,
    other_needle=MM,
)


def test_everything_was_told() -> None:
    assert [row.name for row in fields(Yarn) if getattr(FULL, row.name) is None] == []


@pytest.mark.parametrize("slot", [row.name for row in fields(Yarn)])
def test_no_slot_is_lost_whichever_told_it(slot: str) -> None:
    told = Yarn(**{slot: getattr(FULL, slot)})
    assert Yarn().filled_from(told) == told.filled_from(Yarn()) == told
    assert merge_yarns(Yarn(), told) == merge_yarns(told, Yarn()) == told


def test_what_was_told_first_is_kept() -> None:
    assert FULL.filled_from(Yarn(name="Dunlin", price=Price(9, "£"), fibre="alpaca")) == FULL


@pytest.mark.parametrize(
    ("one", "two", "together"),
    [
        (Yarn(needle=US), Yarn(needle=US, other_needle=MM), Yarn(needle=US, other_needle=MM)),
        (Yarn(), Yarn(needle=US, other_needle=MM), Yarn(needle=US, other_needle=MM)),
        # 5 mm is no second saying of a US 7
        (Yarn(needle=Needle("7", "us")), Yarn(needle=US, other_needle=MM), Yarn(needle=Needle("7", "us"))),
        (Yarn(gauge=OTHER_GAUGE), Yarn(gauge=GAUGE, other_gauge=OTHER_GAUGE), Yarn(gauge=OTHER_GAUGE)),
    ],
)
def test_a_second_saying_goes_with_its_first(one: Yarn, two: Yarn, together: Yarn) -> None:
    assert one.filled_from(two) == together
