"""Figures in words: their order, their labels, and each value rounded once, for a person."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator

from yarnchat.answers import Amount, Basis, Figure, Figures, Item, Ratio, RatioRow
from yarnchat.language.clean import printable
from yarnchat.quantity import number

ORDER = (
    "enough", "skeins", "spare", "length", "mass", "cost", "price", "have", "need", "used", "left_over",
    "short", "fraction", "area", "length_per_area", "length_per_stitch", "weight_class", "gauge", "grist",
    "value", "mm", "us", "uk", "ratio",
)  # fmt: skip

ROUNDED = "Numbers are rounded; skeins are counted before rounding."

BASIS: dict[Basis, str] = {
    "same gauge": "same gauge",
    "gauge": "from the gauges",
    "swatch": "from your swatches",
    "default": "from the weight classes",
}

_MONEY = frozenset({"cost", "price"})
_LABELS = {"mm": "needle", "us": "US", "uk": "UK", "short": "short by"}


def ordered(names: Iterable[str]) -> list[str]:
    """Names of figures, each once, in the order in which they are shown; names we do not know last."""
    seen = dict.fromkeys(names)
    return [name for name in ORDER if name in seen] + [name for name in seen if name not in ORDER]


def label(name: str) -> str:
    """The words a person reads for the name of a figure."""
    return _LABELS.get(name) or printable(name.replace("_", " "))


def listed(figures: Figures) -> list[tuple[str, str]]:
    """Label and wording of each figure that is one value; a bare ``value`` takes its unit along."""
    unit = figures.get("unit")
    shown = {name: figure for name, figure in figures.items() if not _is_table(figure)}
    if isinstance(unit, str) and isinstance(value := figures.get("value"), int | float):
        shown["value"] = Amount(value=value, unit=unit)
        del shown["unit"]
    return [(label(name), said(name, shown[name])) for name in ordered(shown)]


def said(name: str, figure: Figure) -> str:
    """One figure in words: ``yes``, ``5``, or ``about 1,967 yd (1,520–2,414)`` where it is no exact one."""
    match figure:
        case bool():
            return "yes" if figure else "no"
        case Amount():
            estimate = is_rounded(name, figure) or figure.low is not None
            about = "about " if estimate else ""
            between = _between(figure.low, figure.high)
            return printable(about + with_unit(name, figure) + (f" ({between})" if between else ""))
        case Ratio():
            between = "" if figure.basis == "same gauge" else f" ({_between(figure.low, figure.high)})"
            return f"{bare(name, figure)}{between}, {BASIS[figure.basis]}"
        case list():
            return ", ".join(printable(str(entry)) for entry in figure)
        case int() | float():
            return ("about " if is_rounded(name, figure) else "") + bare(name, figure)
    return bare(name, figure)


def bare(name: str, figure: Figure) -> str:
    """One figure as a cell: no unit, no range, no "about"."""
    match figure:
        case bool():
            return "yes" if figure else "no"
        case Amount() if name in _MONEY:
            return f"{figure.value:,.2f}"
        case Amount() | Ratio():
            return number(figure.value)
        case int():
            return f"{figure:,}"
        case float():
            return f"{number(figure * 100)} %" if name == "fraction" else number(figure)
        case list():
            return ", ".join(printable(str(entry)) for entry in figure)
    return printable(figure)


def with_unit(name: str, amount: Amount) -> str:
    """An amount and its unit: ``£72.50``, ``72.50 EUR``, ``1,967 yd``."""
    text, unit = bare(name, amount), printable(amount.unit)
    unit = "skeins" if unit == "skein" and text != "1" else unit
    return f"{unit}{text}" if name in _MONEY and len(unit) == 1 else f"{text} {unit}".strip()


def range_of(figure: Figure | None) -> str:
    """The range of an estimate, ``1,520–2,414``, or nothing."""
    if isinstance(figure, Amount) or (isinstance(figure, Ratio) and figure.basis != "same gauge"):
        return _between(figure.low, figure.high)
    return ""


def is_rounded(name: str, figure: Figure) -> bool:
    """Whether rounding for a person changes the value (by more than floating point noise)."""
    value = figure.value if isinstance(figure, Amount | Ratio) else figure
    if not isinstance(value, float) or not math.isfinite(value):
        return False
    shown = float(bare(name, figure).removesuffix(" %").replace(",", ""))
    return not math.isclose(shown / 100 if name == "fraction" else shown, value, rel_tol=1e-9, abs_tol=1e-12)


def ratio_rows(figures: Figures) -> list[RatioRow]:
    """The rows of the ratio table, if the figures hold one."""
    return [row for row in _rows(figures) if isinstance(row, RatioRow)]


def items(figures: Figures) -> list[Item]:
    """What the notebook holds, if the figures say."""
    return [item for item in _rows(figures) if isinstance(item, Item)]


def _rows(figures: Figures) -> Iterator[object]:
    for figure in figures.values():
        if isinstance(figure, list):
            yield from figure


def _is_table(figure: Figure) -> bool:
    return isinstance(figure, list) and (not figure or isinstance(figure[0], RatioRow | Item))


def _between(low: float | None, high: float | None) -> str:
    if low is None or high is None:
        return ""
    return f"{number(low)}–{number(high)}"
