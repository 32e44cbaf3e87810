"""Grids: the parts of an answer (sizes, colours, candidate yarns) and its lists as rows of plain cells."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from yarnchat.answers import Amount, Answer, Basis, Figure, Figures, Part, Ratio
from yarnchat.language.clean import printable
from yarnchat.views import figures as words
from yarnchat.views.bars import Span

_BASIS: dict[Basis, str] = {"same gauge": "same gauge", "gauge": "gauge", "swatch": "swatch", "default": "class"}
"""What a ratio rests on, in a cell."""


@dataclass(frozen=True, slots=True)
class Column:
    """A heading and its cells, one a row; numbers stand right."""

    head: str
    cells: list[str]
    right: bool = False


@dataclass(frozen=True, slots=True)
class Grid:
    """Columns of equal length; the first ``names`` columns name the row.

    ``spans``: what a bar would show of each row, or nothing. ``rounded``: whether a number shown was rounded.
    ``note``: what the cells refer to, to stand below. ``grouped``: where the columns do not fit, the first is a
    heading above its rows, and the last is joined to the one before it.
    """

    columns: list[Column]
    names: int = 1
    spans: tuple[Span, ...] = ()
    span_label: str = ""
    rounded: bool = False
    note: str = ""
    grouped: bool = False

    def rows(self) -> Iterator[tuple[str, ...]]:
        """The cells, row by row."""
        return zip(*(column.cells for column in self.columns), strict=True)


def grids(answer: Answer) -> list[Grid]:
    """Every grid of an answer: parts by size, colour (and its sizes) or yarn; ratios; the notebook."""
    kinds = (("size", answer.sizes), ("colour", answer.colours), ("yarn", answer.yarns))
    made = [_of_parts(kind, parts, answer.figures) for kind, parts in kinds if parts and not _is_all(answer, parts)]
    return made + [grid for grid in (_of_ratios(answer), _of_items(answer)) if grid]


def _is_all(answer: Answer, parts: Sequence[Part]) -> bool:
    """Whether the one part there is has no other figures than the answer itself."""
    return len(parts) == 1 and bool(parts[0].figures) and parts[0].figures == answer.figures


def _of_parts(kind: str, parts: Sequence[Part], common: Figures) -> Grid:
    """One row a part; a part with sizes of its own has one row a size, its name on the first of them.

    A figure that is the same in every row as for the whole answer is not said again.
    """
    nested = any(part.sizes for part in parts)
    rows: list[tuple[str, str, Part]] = []
    for part in parts:
        inner = [(size.name, size) for size in part.sizes]
        if part.figures or not inner:
            inner.insert(0, ("", part))
        rows += [(part.name if index == 0 else "", name, row) for index, (name, row) in enumerate(inner)]
    columns = [Column(kind, [printable(name) for name, _, _ in rows])]
    if nested:
        columns.append(Column("size", [printable(size) for _, size, _ in rows]))
    names = len(columns)
    shown = [row for _, _, row in rows]
    for figure in words.ordered(name for row in shown for name in row.figures):
        values = [row.figures.get(figure) for row in shown]
        if any(value != common.get(figure) for value in values):
            columns += _columns(figure, values)
    spans, of = _spans(kind, shown)
    rounded = any(words.is_rounded(name, figure) for row in shown for name, figure in row.figures.items())
    return Grid(columns, names, spans, of, rounded)


def _columns(name: str, figures: list[Figure | None]) -> list[Column]:
    """The column of a figure, its unit in the heading where all rows share it, and one for its range."""
    head = words.label(name)
    amounts = [figure for figure in figures if isinstance(figure, Amount)]
    units = {amount.unit for amount in amounts}
    right = all(isinstance(figure, Amount | Ratio | int | float | None) for figure in figures)
    if len(units) == 1 and name != "cost":
        head += f" ({printable(units.pop())})"
        cells = ["" if figure is None else words.bare(name, figure) for figure in figures]
    else:
        cells = [_cell(name, figure) for figure in figures]
    made = [Column(head, cells, right)]
    if any(ranges := [words.range_of(figure) for figure in figures]):
        made.append(Column(f"{words.label(name)} range", ranges, True))
    return made


def _cell(name: str, figure: Figure | None) -> str:
    if figure is None:
        return ""
    return words.with_unit(name, figure) if isinstance(figure, Amount) else words.bare(name, figure)


def _spans(kind: str, rows: Sequence[Part]) -> tuple[tuple[Span, ...], str]:
    """What bars would compare: cost or length, where every row has it and in one unit; with its label."""
    for name in ("cost", "length", "need") if kind == "yarn" else ("length", "need"):
        amounts = [row.figures.get(name) for row in rows]
        found = [amount for amount in amounts if isinstance(amount, Amount)]
        if len(found) == len(rows) > 1 and len({amount.unit for amount in found}) == 1:
            return tuple(_span(amount) for amount in found), words.label(name)
    return (), ""


def _span(amount: Amount) -> Span:
    low = amount.value if amount.low is None else amount.low
    high = amount.value if amount.high is None else amount.high
    return Span(low, amount.value, high)


def _of_ratios(answer: Answer) -> Grid | None:
    """One row a ratio; swatches stand as numbers, and what the numbers mean below the table."""
    rows = words.ratio_rows(answer.figures)
    if not rows:
        return None
    columns = [
        Column("from", [printable(row.from_) for row in rows]),
        Column("to", [printable(row.to) for row in rows]),
        Column("ratio", [f"{row.value:.2f}" for row in rows], True),
        Column("range", [f"{row.low:.2f}–{row.high:.2f}" for row in rows], True),
        Column("basis", [_BASIS[row.basis] for row in rows]),
    ]
    names = list(dict.fromkeys(name for row in rows for name in row.swatches))
    if names:
        columns.append(Column("swatches", [_runs([names.index(name) + 1 for name in row.swatches]) for row in rows]))
    note = ", ".join(f"{index} {printable(name)}" for index, name in enumerate(names, start=1))
    return Grid(columns, names=2, note=f"Swatches: {note}" if note else "", grouped=True)


def _runs(numbers: list[int]) -> str:
    """Whole numbers in order, three and more in a row as a run: ``1, 2``, ``1–4, 7``."""
    runs: list[list[int]] = []
    for value in sorted(numbers):
        if runs and value == runs[-1][-1] + 1:
            runs[-1].append(value)
        else:
            runs.append([value])
    return ", ".join(f"{run[0]}–{run[-1]}" if len(run) > 2 else ", ".join(map(str, run)) for run in runs)


def _of_items(answer: Answer) -> Grid | None:
    found = words.items(answer.figures)
    if not found:
        return None
    return Grid(
        [
            Column("kind", [printable(item.kind) for item in found]),
            Column("name", [printable(item.name) for item in found]),
            Column("facts", [printable(item.text) for item in found]),
        ],
        names=2,
    )
