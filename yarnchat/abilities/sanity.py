"""What cannot be true of yarn: amounts, put-ups, gauges, strands and prices beyond any hand-knitting."""

from __future__ import annotations

from math import isfinite

from yarnchat.quantity import Quantity, is_length, number
from yarnchat.queries import Colour, Gauge, Holding, Price, PutUp, Query, Yarn
from yarnchat.refusals import refused

# The limits are common practice, no source: far beyond any yarn or pattern, near enough to catch a slip.
LENGTH = (Quantity(1, "yd"), Quantity(200_000, "yd"))
SKEIN_LENGTH = (Quantity(1, "m"), Quantity(20_000, "m"))
SKEIN_MASS = (Quantity(1, "g"), Quantity(5, "kg"))
GAUGE = (0.5, 100.0)
"""Stitches or rows to 10 cm."""
STRANDS = 20
PRICE = 10_000
"""Outside these nothing of hand-knitting lies: a slip of the finger (common practice, no source)."""


def sane(query: Query) -> None:
    """A Refusal naming the first amount in the question that cannot be true."""
    swatched = (query.swatch.yarn,) if query.swatch else ()
    held = (*query.stash, *query.used)
    for said in (*query.both_sides, *swatched, *(holding.yarn for holding in held)):
        yarn(said)
    for asked in query.colours:
        colour(asked)
    for holding in held:
        held_amount(holding)


def yarn(said: Yarn) -> None:
    """A Refusal where the put-up, gauge, wraps, strands or price of a yarn cannot be true."""
    if said.put_up:
        put_up(said.put_up)
    for counted in (said.gauge, said.other_gauge):
        if counted:
            gauge(counted)
    if said.wpi is not None:
        positive(said.wpi, "wraps per inch")
    if said.strands is not None and not 1 <= said.strands <= STRANDS:
        raise refused(
            f"{said.strands} strands held together cannot be: between 1 and {STRANDS} can. "
            "Type for example: two strands of fingering held together."
        )
    if said.price:
        price(said.price)


def put_up(label: PutUp) -> None:
    """A Refusal where a skein's length or mass cannot be true."""
    for length in (label.length, label.other_length):
        if length:
            _between(length, SKEIN_LENGTH, "A skein")
    for mass in (label.mass, label.other_mass):
        if mass:
            _between(mass, SKEIN_MASS, "A skein")


def gauge(counted: Gauge) -> None:
    """A Refusal where a gauge is not between half a stitch and 100 to 10 cm."""
    positive(counted.over.value, counted.over.unit)
    low, high = GAUGE
    for count, what in ((counted.stitches, "sts"), (counted.rows, "rows")):
        if count is None:
            continue
        to_10_cm = count * 10 / counted.over.to("cm").value
        if not low <= to_10_cm <= high:
            raise refused(
                f"{number(count)} {what} to {counted.over} cannot be: "
                f"between {number(low)} and {number(high)} {what} to 10 cm can."
            )


def price(said: Price) -> None:
    """A Refusal where a skein costs nothing or more than any skein."""
    if not 0 < said.value <= PRICE:
        raise refused(f"A skein at {said} cannot be: between 0 and {PRICE:,} can.")


def colour(asked: Colour) -> None:
    """A Refusal where an amount of a colour is not above zero, or is a length beyond any pattern."""
    for series in asked.amounts:
        for amount in series.quantities():
            positive(amount.value, "skeins" if series.unit == "skein" else series.unit)
            if series.unit != "skein" and is_length(series.unit):
                total(amount)


def held_amount(holding: Holding) -> None:
    """A Refusal where she has, or has used, none of a yarn."""
    positive(holding.amount, "skeins" if holding.unit == "skein" else holding.unit)


def total(length: Quantity) -> None:
    """A Refusal where the yarn for a whole project is under a yard or over 200,000."""
    _between(length, LENGTH, "A project")


def positive(value: float, what: str) -> None:
    """A Refusal where a value is not a number above zero."""
    if not (isfinite(value) and value > 0):
        raise refused(f"{number(value)} {what} cannot be: it must be more than zero.")


def _between(amount: Quantity, limits: tuple[Quantity, Quantity], what: str) -> None:
    low, high = limits
    if not low.value <= amount.to(low.unit).value <= high.to(low.unit).value:
        raise refused(f"{what} of {amount} cannot be: between {low} and {high} can.")
