"""The same conversion of another thing."""

from __future__ import annotations

from dataclasses import replace

from yarnchat.language.conversions import yarn_number
from yarnchat.language.reading import Reading
from yarnchat.quantity import LENGTHS, MASSES, Quantity
from yarnchat.queries import Colour, Gauge, Measured, Needle, PutUp, Query, Series, Yarn


def another_needle(before: Query, now: Query) -> Needle | None:
    """``and 6 mm?``, after ``what weight goes on 4 mm needles?``: another needle, where nothing but one was told."""
    amount = now.measured.amount if now.measured else None
    if before.slots() - {"want"} != {"pattern.needle"} or now.slots() != {"measured"}:
        return None
    return Needle(f"{amount.value:g}", "mm") if amount and amount.unit == "mm" else None


def needed_as_converted(before: Query, reading: Reading) -> Query | None:
    """``that's worsted, how much in DK``, after ``convert 1750 yd to metres``: the length is what a pattern takes."""
    length = before.measured.amount if before.measured else None
    now = reading.query
    weights = now.pattern.only_a_weight and len(now.yarns) == 1 and now.yarns[0].weight_class
    alone = "both_weights" in now.slots() and not now.slots() & {"need", "stash", "used", "measured", "piece"}
    if not (length and before.measured and length.unit in _OF_YARN and weights and alone):
        return None
    told = length.to(before.measured.into) if before.measured.into in _OF_YARN else length
    need = (Colour("", (Series((told.value,), told.unit),)),)
    return replace(before, measured=None, colours=need, pattern=now.pattern, yarns=now.yarns, ability="")


_OF_YARN = ("m", "yd")
"""The units that a length of yarn is told in; 30 cm are none of it."""


def amount_told(measured: Measured) -> bool:
    """Whether it says what to convert, and not only into what."""
    return bool(measured.amount or measured.needle or measured.gauge or measured.count)


def converted_otherwise(before: Measured, now: Query, reading: Reading) -> Measured:
    """The same conversion of another thing: ``and 1.75 oz?``, ``and 4``, ``and 18 sts?``."""
    if not now.slots() and (alone := _of_a_lone_number(before, reading)):
        return alone
    if now.measured and (over := _counted_over(before, now.measured)):
        return over
    if before.needle and not before.needle.system and now.measured and now.measured.into in ("us", "uk"):
        return replace(before, needle=replace(before.needle, system=now.measured.into))  # it's a British one
    if now.measured and not amount_told(now.measured):
        return replace(before, into=now.measured.into)  # and in old UK?
    if now.measured:
        kinds = ("needle", "gauge", "count")
        alike = all(bool(getattr(now.measured, what)) == bool(getattr(before, what)) for what in kinds)
        into = now.measured.into or (before.into if alike else None)
        return replace(now.measured, into=into, gauge=_as_before(now.measured.gauge, before))
    amount = _other_amount(before, now)
    return replace(before, amount=amount) if amount else _of_a_yarn(before, now)


def _counted_over(before: Measured, now: Measured) -> Measured | None:
    """``and over 10 cm?``, after stitches over 4 in: the same gauge over another length."""
    over_another = before.gauge and before.into and before.into[0].isdigit()
    length = now.amount if now.amount and now.amount.unit in ("cm", "in") and not now.into else None
    return replace(before, into=str(length)) if over_another and length else None


def _of_a_lone_number(before: Measured, reading: Reading) -> Measured | None:
    """A number of which nothing is said, as the needle or the amount that was converted before."""
    if reading.small and before.needle and reading.small.unit == "mm":
        return replace(before, needle=Needle(f"{reading.small.value:g}", "mm"))
    if reading.small and before.amount and before.into:
        return replace(before, amount=reading.small)
    if reading.small and before.gauge and before.into and before.into[0].isdigit():
        return replace(before, into=str(reading.small))  # 23 sts over 10 cm, over 84 cm: and over 92 cm?
    bare = reading.bare_count
    if bare is None:
        return None
    if before.needle:
        return replace(before, needle=replace(before.needle, size=f"{bare:g}"))
    if before.gauge and before.amount is None:
        return replace(before, gauge=replace(before.gauge, stitches=bare, rows=None))
    return replace(before, amount=Quantity(bare, before.amount.unit)) if before.amount else None


def _other_amount(before: Measured, now: Query) -> Quantity | None:
    """The length or mass told now, whether it was read as needed, as owned or as a skein's mass."""
    series = [series for series in now.amounts if len(series.values) == 1 and series.unit != "skein"]
    held = [held for held in now.stash if held.unit != "skein"]
    if series:
        return series[0].first()
    if held:
        return Quantity(held[0].amount, held[0].unit)
    yarn = now.yarns[0] if now.yarns else now.pattern
    label = yarn.put_up
    if label is None or before.amount is None or yarn != Yarn(put_up=label):
        return None
    if label == PutUp(mass=label.mass) and before.amount.unit in MASSES:
        return label.mass  # and an 85 gram one
    return (
        label.length if label == PutUp(label.length) and before.amount.unit in LENGTHS else None
    )  # and a ball of 85 m


def _of_a_yarn(before: Measured, now: Query) -> Measured:
    """The needle, the gauge or the length per mass told now in the place of the one before."""
    yarn = now.yarns[0] if now.yarns else now.pattern
    metric = before.amount is not None and before.amount.unit == "mm"
    if yarn.needle and (before.needle or metric):
        into = None if before.into == yarn.needle.system else before.into
        return replace(before, needle=yarn.needle, amount=None, into=into)
    if yarn.gauge and before.gauge:
        return replace(before, gauge=_as_before(yarn.gauge, before))
    rated = yarn.put_up and yarn.put_up.length and yarn.put_up.mass and yarn.put_up.mass.value
    return replace(before, count=yarn_number(yarn.put_up)) if rated and yarn.put_up and before.count else before


def _as_before(gauge: Gauge | None, before: Measured) -> Gauge | None:
    """``and 18 sts?``: over what the ones before were counted, where they would be over what is asked for already."""
    if gauge and before.gauge and str(gauge.over) == before.into:
        return replace(gauge, over=before.gauge.over)
    return gauge
