"""Whether a materials line's amounts agree: fibres of 100 %, enough skeins, length against mass."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import combinations

from yarnchat.abilities.agreement import ERROR, LABEL_ROUNDS, Report, duals, percent
from yarnchat.abilities.size_lists import rising
from yarnchat.answers import Level
from yarnchat.quantity import Quantity, is_length, number
from yarnchat.queries import Colour, PutUp, Series

ROUNDING = 1.0
"""The fibres of a blend may miss 100 % by so many percent (common practice, no source)."""
COVER = 0.005
"""A length said as "about" may pass what the skeins hold by this share (common practice, no source)."""
SPARE_SKEINS = 2.0
"""From so many skeins over the need on, rounding up does not explain them (common practice, no source)."""


def blend(parts: Sequence[float], report: Report) -> None:
    """Fibres that do not make up the whole yarn; percents on labels are rounded, so that 99 or 101 passes."""
    report.compared.append("the fibres against 100 %")
    total = sum(parts)
    if total > 100 + ROUNDING or (len(parts) > 1 and total < 100 - ROUNDING):
        said = " + ".join(f"{part:g} %" for part in parts)
        report.found("doubt", f"The fibres come to {total:g} %, not 100 %: {said} (1 % passes).")


def colour(said: Colour, label: PutUp | None, sizes: tuple[str, ...], report: Report) -> None:
    """All that is said of one colour: each list by itself, and every two of them against each other."""
    what = f"{said.name}: " if said.name else ""
    for series in said.amounts:
        rising(what, series.values, _plural(series.unit), sizes, report)
    for one, other in combinations(said.amounts, 2):
        if len(one.values) == len(other.values):
            _pair(what, one, other, label, sizes, report)


def total(colours: Sequence[Colour], report: Report) -> None:
    """``MC 4, CC 2 skeins; 7 skeins in all``: the amounts of the colours against one that is of none of them."""
    named = [said for said in colours if said.name]
    for whole in [series for said in colours if not said.name for series in said.amounts]:
        parts = [series for said in named for series in said.amounts if series.unit == whole.unit]
        if len(named) < 2 or len(parts) != len(named) or any(len(part.values) != len(whole.values) for part in parts):
            continue
        report.compared.append("the colours against the amount in all")
        for at, value in enumerate(whole.values):
            told = [part.values[at] for part in parts]
            if not math.isclose(sum(told), value, rel_tol=COVER):
                said = " + ".join(map(number, told))
                unit = _plural(whole.unit)
                report.found("error", f"{said} {unit} are {number(sum(told))}, not {number(value)} {unit}.")


def _pair(what: str, one: Series, other: Series, label: PutUp | None, sizes: tuple[str, ...], report: Report) -> None:
    """Two lists of one colour, size by size."""
    if "skein" in (one.unit, other.unit):
        skeins, need = (one, other) if one.unit == "skein" else (other, one)
        held = _held(label, need.unit)
        if held and need.unit != "skein":
            report.compared.append(f"skeins × put-up against the {'length' if is_length(need.unit) else 'mass'}")
            rows = _by_size(skeins, need, sizes)
            for name, count, wanted in rows:
                if _whole_skeins(need, held) and count != wanted / held.value:
                    _another_sum(f"{what}{name}", count, held, Quantity(wanted, need.unit), report)
                    continue
                _cover(f"{what}{name}", count, held, Quantity(wanted, need.unit), report)
            _one_more(what, rows, held, report)
        return
    if is_length(one.unit) == is_length(other.unit):
        if one.unit != other.unit:
            report.compared.append(
                "length in yards against length in metres" if is_length(one.unit) else "ounces against grams"
            )
            for _, first, second in _by_size(one, other, sizes):
                duals(Quantity(first, one.unit), Quantity(second, other.unit), report)
        return
    length, mass = (one, other) if is_length(one.unit) else (other, one)
    if label and label.length and label.mass and label.mass.value > 0:
        report.compared.append("length against mass by the label")
        each = label.mass.to(mass.unit).value
        rate = label.length.to(length.unit).value / each
        rounded = label.per_skein and len(mass.values) > 1 and all(value % each == 0 for value in mass.values)
        for name, long, heavy in _by_size(length, mass, sizes):
            if rounded:  # 300 (350, 400) g of 50 g balls: each is whole balls
                _cover(f"{what}{name}", heavy / each, label.length.to(length.unit), Quantity(long, length.unit), report)
                continue
            _by_label(f"{what}{name}", Quantity(long, length.unit), Quantity(heavy, mass.unit), rate, report)


def _whole_skeins(need: Series, held: Quantity) -> bool:
    """Whether a mass is told as what the skeins weigh together: 500 g of 50 g balls, and not 487 g knitted up."""
    return not is_length(need.unit) and all(value % held.value == 0 for value in need.values)


def _another_sum(what: str, skeins: float, held: Quantity, told: Quantity, report: Report) -> None:
    """``12 balls of 50 g (500 g in all)``: a mass of whole skeins that is not what so many weigh."""
    weighed, meant = Quantity(skeins * held.value, told.unit), _skeins(told.value / held.value)
    report.found("error", f"{what}{_skeins(skeins)} × {held} = {weighed}, not {told}, which is {meant}.")


def _held(label: PutUp | None, unit: str) -> Quantity | None:
    """What one skein holds, in the unit of the need."""
    if not label or not label.per_skein or unit == "skein":
        return None
    amount = label.length if is_length(unit) else label.mass
    return amount.to(unit) if amount and amount.value > 0 else None


def _by_size(one: Series, other: Series, sizes: tuple[str, ...]) -> list[tuple[str, float, float]]:
    """Both values of each size, with the words that name it."""
    names = [f"{name}: " for name in sizes] if len(sizes) == len(one.values) else []
    if not names:
        several = len(one.values) > 1
        names = [f"size {place}: " if several else "" for place in range(1, len(one.values) + 1)]
    return list(zip(names, one.values, other.values, strict=True))


def _cover(what: str, skeins: float, held: Quantity, need: Quantity, report: Report) -> None:
    """So many skeins must hold the length or mass, and not far more than it."""
    bought = Quantity(skeins * held.value, need.unit)
    short = 1 - bought.value / need.value if need.value > 0 else 0.0
    sum_ = f"{what}{_skeins(skeins)} × {held} = {bought}"
    least = _least(need, held)
    if short > COVER:
        level: Level = "error" if short > LABEL_ROUNDS else "doubt"
        missing = Quantity(need.value - bought.value, need.unit)
        report.found(
            level,
            f"{sum_}, {missing} short of {need} ({percent(COVER)} passes): {_skeins(least)} would cover it.",
        )
    elif skeins - least >= SPARE_SKEINS:
        report.found("doubt" if skeins >= 2 * least else "note", f"{sum_} for {need}: {_skeins(least)} would cover it.")


def _least(need: Quantity, held: Quantity) -> int:
    return math.ceil(need.value / held.value - 1e-9)


def _one_more(what: str, rows: Sequence[tuple[str, float, float]], held: Quantity, report: Report) -> None:
    """One skein over the need, as many patterns print it: worth a word, and no slip."""
    over = [(name, count, Quantity(need, held.unit)) for name, count, need in rows]
    over = [(name, count, need) for name, count, need in over if count - _least(need, held) == 1]
    if over:
        each = "; ".join(
            f"{name}{_skeins(count)} for {need}, {_least(need, held)} would do" for name, count, need in over
        )
        report.remarks.append(f"{what}{each}: rounding up and one more is usual.")


def _by_label(what: str, length: Quantity, mass: Quantity, rate: float, report: Report) -> None:
    """A length and a mass of one need, by the label's length per mass."""
    expected = Quantity(mass.value * rate, length.unit)
    share = abs(expected.value / length.value - 1) if length.value > 0 else 0.0
    if share > ERROR:
        report.found(
            "doubt",
            f"{what}{mass} is {expected} by the label, not {length} "
            f"({percent(share)} apart; {percent(ERROR, 0)} passes).",
        )


def _skeins(count: float) -> str:
    return f"{number(count)} {'skein' if count == 1 else 'skeins'}"


def _plural(unit: str) -> str:
    return "skeins" if unit == "skein" else unit
