"""The answer as text for a terminal, and a report as text."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from yarnchat.answers import Answer
from yarnchat.language.clean import printable
from yarnchat.views.bars import bars
from yarnchat.views.figures import ROUNDED, listed
from yarnchat.views.grid import Column, Grid, grids
from yarnchat.views.plain import cells, clamp, pad, wrap
from yarnchat.views.report import Entry, Heading, asks, cautions, sentence

_GAP = "  "
_SHORTEST_BAR, _LONGEST_BAR = 16, 40


def render(answer: Answer, width: int = 80) -> str:
    """The answer in lines of at most ``width`` columns (40 to 200), without a line end after the last.

    The headline, how the question was read, figures, working, cautions; for a question that got no figures,
    what is asked back, what was not used and what to type instead.
    """
    return "\n".join(_lines(answer, clamp(width)))


def render_report(report: Iterable[Entry], width: int = 80) -> Iterator[str]:
    """A report as text, one piece an entry."""
    width = clamp(width)
    before = ""
    for entry in report:
        if isinstance(entry, Heading):
            title = wrap(printable(entry.text), width)
            lines = [*title, "=" * max(cells(line) for line in title)]
        else:
            lines = [*_asked(entry.answer.asked, width), *_lines(entry.answer, width)]
        yield before + "\n".join(lines) + "\n"
        before = "\n"


def _lines(answer: Answer, width: int) -> list[str]:
    lines = wrap(sentence(answer), width)
    lines += _reading(answer.reading, width)
    lines += _figures(answer, width)
    lines += _listed("Working:", answer.working, width)
    lines += _listed("Found:", [f"{found.level}: {found.text}" for found in answer.findings], width)
    lines += _listed("Mind:", cautions(answer), width)
    if question := asks(answer):
        lines += wrap(question, width)
    if answer.unused:
        lines += wrap(", ".join(printable(unused) for unused in answer.unused), width, "Not used: ", _GAP)
    lines += _listed("You could ask:", answer.suggestions, width)
    return lines


def _reading(reading: str, width: int) -> list[str]:
    """How the question was read; a line of the reading stays a line."""
    said = [text for line in reading.split("\n") if (text := printable(line))]
    if not said:
        return []
    lines = wrap(said[0], width, "I read: ", " " * 8)
    for line in said[1:]:
        lines += wrap(line, width, " " * 8, " " * 10)
    return lines


def _figures(answer: Answer, width: int) -> list[str]:
    lines = []
    if single := listed(answer.figures):
        said = "; ".join(f"{label} {value}" for label, value in single)
        lines += wrap(said, width, "Figures: ", " " * 9)
    for grid in grids(answer):
        lines += ["", *_table(grid, width)]
        if grid.rounded:
            lines += wrap(ROUNDED, width, _GAP, _GAP)
        if grid.note:
            lines += wrap(grid.note, width, _GAP, _GAP * 2)
    return lines


def _table(grid: Grid, width: int) -> list[str]:
    """The grid as aligned columns where they fit, with bars where there is room; else one block a row."""
    widths = [max(cells(cell) for cell in (column.head, *column.cells)) for column in grid.columns]
    used = sum(widths) + len(_GAP) * len(widths)
    if used > width:
        return _groups(grid, width) if grid.grouped else _blocks(grid, width)
    room = min(width - used - len(_GAP), _LONGEST_BAR)
    drawn = bars(grid.spans, room) if grid.spans and room >= _SHORTEST_BAR else []
    heads = [pad(column.head, size, column.right) for column, size in zip(grid.columns, widths, strict=True)]
    lines = [(_GAP + _GAP.join([*heads, *([f"{grid.span_label}, from 0"] if any(drawn) else [])])).rstrip()]
    for index, row in enumerate(grid.rows()):
        shown = [pad(cell, size, column.right) for cell, size, column in zip(row, widths, grid.columns, strict=True)]
        lines.append((_GAP + _GAP.join([*shown, *drawn[index : index + 1]])).rstrip())
    return lines


def _groups(grid: Grid, width: int) -> list[str]:
    """The first column as a heading above its rows, closer columns, the last joined to the one before it."""
    groups, *columns = grid.columns
    if len(columns) > 4:
        basis, last = columns[-2:]
        joined = [" ".join(filter(None, pair)) for pair in zip(basis.cells, last.cells, strict=True)]
        columns = [*columns[:-2], Column(basis.head, joined)]
    sizes = [max(cells(cell) for cell in (column.head, *column.cells)) for column in columns]
    lines = _line([column.head for column in columns], columns, sizes, width)
    above = ""
    for group, *row in zip(groups.cells, *(column.cells for column in columns), strict=True):
        if group != above:
            lines += wrap(f"{groups.head} {group}", width)
            above = group
        lines += _line(row, columns, sizes, width)
    return lines


def _line(row: Sequence[str], columns: Sequence[Column], sizes: Sequence[int], width: int) -> list[str]:
    """One row in closer columns; the last cell goes on below itself where it does not fit."""
    *shown, last = row
    padded = [pad(cell, size, column.right) for cell, size, column in zip(shown, sizes, columns, strict=False)]
    opening = " " + " ".join([*padded, ""])
    return [line.rstrip() for line in wrap(last, width, opening, " " * cells(opening))]


def _blocks(grid: Grid, width: int) -> list[str]:
    """One block a row: its name, then a line a figure."""
    lines: list[str] = []
    carried = ""
    for row in grid.rows():
        carried = row[0] or carried
        name = ", ".join(part for part in (carried, *row[1 : grid.names]) if part)
        lines += wrap(name, width, _GAP, _GAP * 2)
        for column, cell in zip(grid.columns[grid.names :], row[grid.names :], strict=True):
            if cell:
                lines += wrap(f"{column.head}: {cell}", width, _GAP * 2, _GAP * 3)
    return lines


def _listed(title: str, entries: Iterable[str], width: int) -> list[str]:
    """A blank line, a title and one entry a line, each wrapped under itself; nothing where there are none."""
    said = [text for entry in entries if (text := printable(entry))]
    lines = [line for text in said for line in wrap(text, width, _GAP, _GAP * 2)]
    return ["", title, *lines] if lines else []


def _asked(asked: str, width: int) -> list[str]:
    lines = []
    for index, line in enumerate(filter(None, map(printable, asked.split("\n")))):
        lines += wrap(line, width, "Asked: " if index == 0 else " " * 7, " " * 7)
    return lines
