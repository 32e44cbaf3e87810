"""A report as CSV (RFC 4180), one figure a row, so that every report has the same columns."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Iterator

from yarnchat.answers import Amount, Answer, Figure, Figures, Item, Part, Ratio, RatioRow
from yarnchat.language.clean import printable
from yarnchat.views.report import Entry, Heading, sentence

COLUMNS = (
    "heading", "question", "asked", "status", "ability", "colour", "size", "yarn",
    "figure", "value", "low", "high", "unit", "basis", "from", "to", "swatches",
)  # fmt: skip

_Cells = dict[str, object]


def render(report: Iterable[Entry]) -> Iterator[str]:
    """A report as CSV, one piece an entry; values are not rounded.

    ``question`` counts from 1. A question without figures has one row, its sentence in ``value``. A text cell
    that a spreadsheet would take for a formula begins with an apostrophe.
    """
    yield _lines([dict(zip(COLUMNS, COLUMNS, strict=True))])
    heading, question = "", 0
    for entry in report:
        if isinstance(entry, Heading):
            heading = entry.text
            continue
        question += 1
        answer = entry.answer
        about = {
            "heading": heading,
            "question": question,
            "asked": answer.asked,
            "status": answer.status,
            "ability": answer.ability or "",
        }
        rows = list(_answer_rows(answer)) or [{"figure": "sentence", "value": sentence(answer)}]
        yield _lines([about | row for row in rows])


def _answer_rows(answer: Answer) -> Iterator[_Cells]:
    yield from _rows(answer.figures, {})
    for kind, parts in (("size", answer.sizes), ("colour", answer.colours), ("yarn", answer.yarns)):
        for part in parts:
            yield from _part_rows(kind, part)
    for finding in answer.findings:
        yield {"figure": finding.level, "value": finding.text}


def _part_rows(kind: str, part: Part) -> Iterator[_Cells]:
    named: _Cells = {kind: part.name}
    yield from _rows(part.figures, named)
    for size in part.sizes:
        yield from _rows(size.figures, named | {"size": size.name})


def _rows(figures: Figures, named: _Cells) -> Iterator[_Cells]:
    """One row a figure, and one an entry where a figure is a list."""
    for name, figure in figures.items():
        for entry in figure if isinstance(figure, list) else [figure]:
            yield named | {"figure": name} | _cells(entry)


def _cells(figure: Figure | RatioRow | Item) -> _Cells:
    """A figure as the cells of a row, by column."""
    match figure:
        case bool():
            return {"value": "yes" if figure else "no"}
        case Amount():
            return {"value": figure.value, "low": figure.low, "high": figure.high, "unit": figure.unit}
        case Ratio():
            return {"value": figure.value, "low": figure.low, "high": figure.high, "basis": figure.basis}
        case RatioRow():
            pair = {"figure": f"ratio from {figure.from_} to {figure.to}"}
            return pair | {
                "value": figure.value,
                "low": figure.low,
                "high": figure.high,
                "basis": figure.basis,
                "from": figure.from_,
                "to": figure.to,
                "swatches": "; ".join(figure.swatches),
            }
        case Item():
            return {"figure": f"{figure.kind} {figure.name}", "value": figure.text}
    return {"value": figure}


def _lines(rows: Iterable[_Cells]) -> str:
    written = io.StringIO()
    csv.writer(written).writerows([_cell(row.get(column)) for column in COLUMNS] for row in rows)
    return written.getvalue()


def _cell(value: object) -> object:
    """A cell as it is written: numbers in full, text on one line, never a formula."""
    if not isinstance(value, str):
        return value
    text = printable(value)
    return f"'{text}" if text.startswith(("=", "+", "-", "@")) else text
