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
_STASHED = {"skein": "skeins", "g": "grams"}

COLUMNS = (
    *("id", "kind", "name", "name_key", "since"),
    *("yarn_name", "yarn_key", "weight_class", "class_as_said"),
    *("length", "length_unit", "mass", "mass_unit"),
    *("other_length", "other_length_unit", "other_mass", "other_mass_unit", "per_skein"),
    *("gauge_stitches", "gauge_over", "gauge_over_unit", "gauge_rows", "gauge_spread", "gauge_rows_spread"),
    *("needle", "needle_system", "wpi", "strands"),
    *("swatch_mass", "swatch_mass_unit", "swatch_mass_step"),
    *("swatch_width", "swatch_width_unit", "swatch_height", "swatch_height_unit"),
    *("swatch_stitches", "swatch_rows"),
    *("skeins", "grams"),
    *("price", "price_sign", "fibre"),
    *("gauge_other_over", "gauge_other_over_unit"),
    *("other_gauge_stitches", "other_gauge_over", "other_gauge_over_unit", "other_gauge_rows"),
    *("other_gauge_spread", "other_gauge_rows_spread"),
    *("other_gauge_other_over", "other_gauge_other_over_unit"),
    *("other_needle", "other_needle_system"),
)


def to_row(entry: Stored) -> Row:
    """All columns of an entry, texts cleaned; NotebookError for a number or unit that cannot be kept.

    The id 0 stands for an entry that has none yet.
    """
    name = clean_name(entry.name)
    row: Row = dict.fromkeys(COLUMNS)
    row |= {"id": entry.id or None, "kind": entry.kind, "name": name, "name_key": key(name)}
    row["since"] = entry.since.isoformat()
    if isinstance(entry, StoredYarn):
        return row | _yarn_row(replace(entry.yarn, name=name))
    if isinstance(entry, StoredSwatch):
        return row | _yarn_row(entry.swatch.yarn) | _swatch_row(entry.swatch)
    if entry.unit not in _STASHED:
        raise NotebookError(f"The stash is kept in skeins or grams, not in {entry.unit}.")
    return row | _yarn_row(entry.yarn) | {_STASHED[entry.unit]: _number(entry.amount)}


def from_row(row: Mapping[str, Cell]) -> Stored:
    """The entry a row holds; ValueError, TypeError or KeyError where the row makes no sense."""
    number, name, since = int(_some(row["id"])), str(row["name"]), date.fromisoformat(str(row["since"]))
    yarn = _yarn(row)
    if row["kind"] == "yarn":
        return StoredYarn(number, name, since, yarn)
    if row["kind"] == "swatch":
        return StoredSwatch(number, name, since, _swatch(row, yarn))
    unit = "skein" if row["skeins"] is not None else "g"
    return StoredHolding(_some(row[_STASHED[unit]]), unit, yarn, id=number, name=name, since=since)


def _yarn_row(yarn: Yarn) -> Row:
    """The columns of a yarn, of which those that were told."""
    row: Row = {
        "weight_class": _text(yarn.weight_class),
        "class_as_said": _text(yarn.class_as_said),
        "wpi": _number(yarn.wpi),
        "strands": None if _number(yarn.strands) is None else yarn.strands,
        "fibre": _text(yarn.fibre),
    }
    if yarn.name is not None:
        name = clean_name(yarn.name)
        row |= {"yarn_name": name, "yarn_key": key(name)}
    if yarn.put_up is not None and replace(yarn.put_up, per_skein=True) != PutUp():
        row |= _put_up_row(yarn.put_up)
    for column, gauge in (("gauge", yarn.gauge), ("other_gauge", yarn.other_gauge)):
        row |= {} if gauge is None else _gauge_row(column, gauge)
    for column, needle in (("needle", yarn.needle), ("other_needle", yarn.other_needle)):
        row |= {} if needle is None else {column: _text(needle.size), f"{column}_system": _text(needle.system)}
    if yarn.price is not None:
        row |= {"price": _number(yarn.price.value), "price_sign": _text(yarn.price.sign)}
    return row


def _put_up_row(put_up: PutUp) -> Row:
    return {
        **_pair("length", put_up.length, LENGTHS),
        **_pair("mass", put_up.mass, MASSES),
        **_pair("other_length", put_up.other_length, LENGTHS),
        **_pair("other_mass", put_up.other_mass, MASSES),
        "per_skein": int(put_up.per_skein),
    }


def _gauge_row(column: str, gauge: Gauge) -> Row:
    return {
        f"{column}_stitches": _number(gauge.stitches),
        **_pair(f"{column}_over", gauge.over, LENGTHS),
        f"{column}_rows": _number(gauge.rows),
        f"{column}_spread": _number(gauge.spread),
        f"{column}_rows_spread": _number(gauge.rows_spread),
        **_pair(f"{column}_other_over", gauge.other_over, LENGTHS),
    }


def _swatch_row(swatch: Swatch) -> Row:
    return {
        **_pair("swatch_mass", swatch.mass, MASSES),
        "swatch_mass_step": _number(swatch.mass_step),
        **_pair("swatch_width", swatch.width, LENGTHS),
        **_pair("swatch_height", swatch.height, LENGTHS),
        "swatch_stitches": _number(swatch.stitches),
        "swatch_rows": _number(swatch.rows),
    }


def _yarn(row: Mapping[str, Cell]) -> Yarn:
    """The yarn in the columns of a row."""
    return Yarn(
        name=_word(row["yarn_name"]),
        weight_class=_word(row["weight_class"]),
        class_as_said=_word(row["class_as_said"]),
        put_up=_put_up(row),
        gauge=_gauge(row, "gauge"),
        needle=_needle(row, "needle"),
        wpi=_float(row["wpi"]),
        strands=None if row["strands"] is None else int(row["strands"]),
        price=None if row["price"] is None else Price(_some(row["price"]), str(row["price_sign"])),
        fibre=_word(row["fibre"]),
        other_gauge=_gauge(row, "other_gauge"),
        other_needle=_needle(row, "other_needle"),
    )


def _put_up(row: Mapping[str, Cell]) -> PutUp | None:
    if row["per_skein"] is None:
        return None
    return PutUp(
        _quantity(row, "length", LENGTHS),
        _quantity(row, "mass", MASSES),
        _quantity(row, "other_length", LENGTHS),
        _quantity(row, "other_mass", MASSES),
        bool(row["per_skein"]),
    )


def _gauge(row: Mapping[str, Cell], column: str) -> Gauge | None:
    over = _quantity(row, f"{column}_over", LENGTHS)
    if over is None:
        return None
    return Gauge(
        _some(row[f"{column}_stitches"]),
        over,
        _float(row[f"{column}_rows"]),
        _some(row[f"{column}_spread"]),
        _some(row[f"{column}_rows_spread"]),
        _quantity(row, f"{column}_other_over", LENGTHS),
    )


def _needle(row: Mapping[str, Cell], column: str) -> Needle | None:
    size = _word(row[column])
    return None if size is None else Needle(size, str(row[f"{column}_system"]))


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
        raise ValueError(f"{value!r} is no number")
    return float(value)


def _float(value: Cell) -> float | None:
    return None if value is None else _some(value)


def _word(value: Cell) -> str | None:
    return None if value is None else str(value)
