"""Entries as rows of the file and back: a quantity is a value column and a unit column."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import replace
from datetime import date

from yarnchat.notebook.entries import Stored, StoredHolding, StoredSwatch, StoredYarn
from yarnchat.notebook.errors import NotebookError
from yarnchat.notebook.names import LONGEST, clean, clean_name, key
from yarnchat.quantity import LENGTHS, MASSES, Quantity
from yarnchat.queries import Gauge, Needle, Price, PutUp, Swatch, Yarn

Cell = str | float | int | None
Row = dict[str, Cell]

_LARGEST = 1e15


def to_row(entry: Stored) -> Row:
    """All columns of an entry, texts cleaned; NotebookError for a number or unit that cannot be kept."""
    name = clean_name(entry.name)
    row: Row = {"id": entry.id, "kind": entry.kind, "name": name, "name_key": key(name)}
    row["since"] = entry.since.isoformat()
    if isinstance(entry, StoredYarn):
        row |= _yarn_row(replace(entry.yarn, name=name)) | _swatch_row(None) | _amount_row(None, None)
    elif isinstance(entry, StoredSwatch):
        row |= _yarn_row(entry.swatch.yarn) | _swatch_row(entry.swatch) | _amount_row(None, None)
    else:
        row |= _yarn_row(entry.yarn) | _swatch_row(None) | _amount_row(entry.amount, entry.unit)
    return row


def from_row(row: Mapping[str, Cell]) -> Stored:
    """The entry a row holds; ValueError, TypeError or KeyError where the row makes no sense."""
    number, name, since = int(_some(row["id"])), str(row["name"]), date.fromisoformat(str(row["since"]))
    yarn = _yarn(row)
    if row["kind"] == "yarn":
        return StoredYarn(number, name, since, yarn)
    if row["kind"] == "swatch":
        return StoredSwatch(number, name, since, _swatch(row, yarn))
    column, unit = ("skeins", "skein") if row["skeins"] is not None else ("grams", "g")
    return StoredHolding(_some(row[column]), unit, yarn, id=number, name=name, since=since)


def _yarn_row(yarn: Yarn) -> Row:
    name = None if yarn.name is None else clean_name(yarn.name)
    put_up, gauge = yarn.put_up, yarn.gauge
    if put_up == PutUp() or put_up == PutUp(per_skein=False):
        put_up = None
    return {
        "yarn_name": name,
        "yarn_key": None if name is None else key(name),
        "weight_class": _text(yarn.weight_class),
        "class_as_said": _text(yarn.class_as_said),
        **_pair("length", put_up and put_up.length, LENGTHS),
        **_pair("mass", put_up and put_up.mass, MASSES),
        **_pair("other_length", put_up and put_up.other_length, LENGTHS),
        **_pair("other_mass", put_up and put_up.other_mass, MASSES),
        "per_skein": None if put_up is None else int(put_up.per_skein),
        "gauge_stitches": _number(gauge and gauge.stitches),
        **_pair("gauge_over", gauge and gauge.over, LENGTHS),
        "gauge_rows": _number(gauge and gauge.rows),
        "gauge_spread": _number(gauge and gauge.spread),
        "gauge_rows_spread": _number(gauge and gauge.rows_spread),
        "needle": _text(yarn.needle and yarn.needle.size),
        "needle_system": _text(yarn.needle and yarn.needle.system),
        "wpi": _number(yarn.wpi),
        "strands": None if _number(yarn.strands) is None else yarn.strands,
        "price": _number(yarn.price and yarn.price.value),
        "price_sign": _text(yarn.price and yarn.price.sign),
        "fibre": _text(yarn.fibre),
    }


def _yarn(row: Mapping[str, Cell]) -> Yarn:
    gauge_over = _quantity(row, "gauge_over", LENGTHS)
    return Yarn(
        name=_word(row["yarn_name"]),
        weight_class=_word(row["weight_class"]),
        class_as_said=_word(row["class_as_said"]),
        put_up=None
        if row["per_skein"] is None
        else PutUp(
            _quantity(row, "length", LENGTHS),
            _quantity(row, "mass", MASSES),
            _quantity(row, "other_length", LENGTHS),
            _quantity(row, "other_mass", MASSES),
            bool(row["per_skein"]),
        ),
        gauge=None
        if gauge_over is None
        else Gauge(
            _some(row["gauge_stitches"]),
            gauge_over,
            _float(row["gauge_rows"]),
            _some(row["gauge_spread"]),
            _some(row["gauge_rows_spread"]),
        ),
        needle=None if row["needle"] is None else Needle(str(row["needle"]), str(row["needle_system"])),
        wpi=_float(row["wpi"]),
        strands=None if row["strands"] is None else int(row["strands"]),
        price=None if row["price"] is None else Price(_some(row["price"]), str(row["price_sign"])),
        fibre=_word(row["fibre"]),
    )


def _swatch_row(swatch: Swatch | None) -> Row:
    return {
        **_pair("swatch_mass", swatch and swatch.mass, MASSES),
        "swatch_mass_step": _number(swatch and swatch.mass_step),
        **_pair("swatch_width", swatch and swatch.width, LENGTHS),
        **_pair("swatch_height", swatch and swatch.height, LENGTHS),
        "swatch_stitches": _number(swatch and swatch.stitches),
        "swatch_rows": _number(swatch and swatch.rows),
    }


def _swatch(row: Mapping[str, Cell], yarn: Yarn) -> Swatch:
    return Swatch(
        yarn,
        _quantity(row, "swatch_mass", MASSES),
        _some(row["swatch_mass_step"]),
        _quantity(row, "swatch_width", LENGTHS),
        _quantity(row, "swatch_height", LENGTHS),
        _float(row["swatch_stitches"]),
        _float(row["swatch_rows"]),
    )


def _amount_row(amount: float | None, unit: str | None) -> Row:
    if unit not in (None, "skein", "g"):
        raise NotebookError(f"The stash is kept in skeins or grams, not in {unit}.")
    kept = _number(amount)
    return {"skeins": kept if unit == "skein" else None, "grams": kept if unit == "g" else None}


def _pair(column: str, quantity: Quantity | None, units: tuple[str, ...]) -> Row:
    if quantity is None:
        return {column: None, f"{column}_unit": None}
    if quantity.unit not in units:
        raise NotebookError(f"{quantity.unit} is not a unit that fits here; use one of {', '.join(units)}.")
    return {column: _number(quantity.value), f"{column}_unit": quantity.unit}


def _quantity(row: Mapping[str, Cell], column: str, units: tuple[str, ...]) -> Quantity | None:
    value, unit = row[column], row[f"{column}_unit"]
    if value is None and unit is None:
        return None
    if unit not in units:
        raise ValueError(f"{unit} is no unit")
    return Quantity(_some(value), str(unit))


def _number(value: float | None) -> float | None:
    if value is None:
        return None
    if not (math.isfinite(value) and abs(value) <= _LARGEST):
        raise NotebookError("That number is too large to keep, or is no number at all. Say it again.")
    return float(value)


def _text(value: str | None) -> str | None:
    text = None if value is None else clean(value)
    if text and len(text) > LONGEST:
        raise NotebookError(f"“{text[:20]}…” is too long to keep; use at most {LONGEST} characters.")
    return text


def _some(value: Cell) -> float:
    if not isinstance(value, int | float):
        raise ValueError(f"{value!r} is no number")  # noqa: TRY004
    return float(value)


def _float(value: Cell) -> float | None:
    return None if value is None else _some(value)


def _word(value: Cell) -> str | None:
    return None if value is None else str(value)
