"""A table with a size in each line, written as the lists a materials line has: ``Sizes: S, M``, ``950 (1080) yds``.

One with a colour in each line is written as ``A Chalk: 3 skeins``.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

from yarnchat.language.labels import LABEL
from yarnchat.language.lexicon import split_words, vocabulary, word_list

_AMOUNTS = frozenset({"LEN", "MASS", "SKEIN"})
_FEWEST_ROWS = 2
_CELL = re.compile(r"(?P<number>[0-9][0-9.,]*)[ ]?(?P<unit>[a-z\"]*)", re.IGNORECASE)
_RULE = re.compile(r"[-:=+ ]*")
_UNIT_OF_ALL = re.compile(r"\([ ]?(?P<unit>[a-z]+) of\b|\bin (?P<other>[a-z]+)\)", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class _Column:
    """What stands under one heading: its numbers, their unit and the kind of that."""

    heading: str
    numbers: tuple[str, ...]
    unit: str

    @property
    def kind(self) -> str:
        """What its unit measures, as a kind of token."""
        return _kind(self.unit)

    @property
    def listed(self) -> str:
        """``950 (1080, 1210) yds``."""
        first, *others = self.numbers
        return f"{first} ({', '.join(others)}) {self.unit}".strip()


def in_lists(text: str) -> str:
    """The text with every table of sizes or colours, one a line, written as lists; all else as it is.

    ``Size  Chest  Yarn (yds)``, ``S  36 in  950``, ``M  40 in  1080``: cells between tabs, bars, two blanks or commas.
    """
    lines = text.split("\n")
    if len(lines) <= _FEWEST_ROWS:
        return text
    out: list[str] = []
    at = 0
    while at < len(lines):
        if end := _end_of_colours(lines, at):
            out += _a_colour_a_line([_cells(line) for line in lines[at:end] if not _ruled(line)])
            at = end
            continue
        end = _end_of_table(lines, at) or at + 1
        rows = [_cells(line) for line in lines[at:end] if not _ruled(line)]
        listed = _as_lists(rows, "\n".join((*lines[:at], *lines[end:]))) if len(rows) > _FEWEST_ROWS else []
        out += listed or lines[at:end]
        at = end
    return "\n".join(out)


def _end_of_table(lines: Sequence[str], at: int) -> int:
    """Where the table ends of which the heading stands in this line, or 0: all rows are as long, and of numbers."""
    heading = _cells(lines[at])
    if len(heading) < 2 or _kind(heading[0]) not in ("SIZE", "SIZES") or any(_CELL.match(cell) for cell in heading):
        return 0
    if sum(cell in ("S", "M", "L") or _kind(cell) in ("SIZENAME", "SIZEWORD") for cell in heading) > 1:
        return 0  # | Size | S | M | L |: a row for each colour
    end, rows = at + 1, []
    while end < len(lines):
        row = _cells(lines[end])
        if not _ruled(lines[end]) or not lines[end].strip():
            if len(row) != len(heading) or not all(_CELL.fullmatch(cell) for cell in row[1:]):
                break
            rows.append(row[0].casefold())
        end += 1
    return end if len(rows) >= _FEWEST_ROWS and len(set(rows)) == len(rows) else 0


def _ruled(line: str) -> bool:
    """Whether a line is empty, or only rules a table off."""
    return bool(_RULE.fullmatch(line.replace("|", "")))


def _end_of_colours(lines: Sequence[str], at: int) -> int:
    """Where the table ends of which the heading stands in this line, or 0: a colour a line, and last what it takes."""
    heading = _cells(lines[at])
    if "|" not in lines[at] and "\t" not in lines[at]:
        return 0
    unit = _kind(heading[-1])
    if len(heading) < 2 or heading[0].casefold() not in word_list("colour_headings") or unit not in _AMOUNTS:
        return 0
    end = at + 1
    while end < len(lines) and lines[end].strip():
        row = _cells(lines[end])
        if not _ruled(lines[end]) and (len(row) != len(heading) or not _CELL.fullmatch(row[-1])):
            break
        end += 1
    return end if sum(not _ruled(line) for line in lines[at + 1 : end]) >= _FEWEST_ROWS else 0


def _a_colour_a_line(rows: list[list[str]]) -> list[str]:
    """``A Chalk: 3 skeins``, of the row ``A | Chalk | 3`` under ``Skeins``; a row of the total is none of a colour."""
    heading, *rest = rows
    body = [row for row in rest if row[0].casefold() not in word_list("totals")]
    return [f"{' '.join(row[:-1])}: {row[-1]} {heading[-1].lower()}" for row in body]


def _cells(line: str) -> list[str]:
    """The cells of a row, parted by tabs, else by bars, by two blanks or more, or by commas."""
    if "\t" in line:
        parts = line.split("\t")
    elif "|" in line:
        parts = line.strip(" |").split("|")
    elif "  " in line.strip():
        parts = re.split(r"[ ]{2,}", line.strip())
    else:
        parts = line.split(",")
    return [part.strip() for part in parts]


def _as_lists(rows: list[list[str]], rest: str) -> list[str]:
    """A line for the sizes, and one for each column of a table, or none where no column tells how much yarn it takes.

    ``rest``: the text around the table.
    """
    heading, *body = rows
    columns = [_column(name, [row[at] for row in body], rest) for at, name in enumerate(heading) if at]
    amounts = [column for column in columns if column.kind in _AMOUNTS]
    if not amounts:
        return []
    alike = len({column.unit for column in amounts}) < len(amounts)
    lines = [f"Sizes: {', '.join(row[0] for row in body)}"]
    for column in columns:
        named = column not in amounts or alike or LABEL.fullmatch(column.heading)
        lines.append(f"{column.heading}: {column.listed}" if named and column.heading else column.listed)
    return lines


def _column(heading: str, cells: list[str], rest: str) -> _Column:
    """A column with its unit: said with its numbers, in its heading, or, of a colour, for the whole table."""
    found = [match for cell in cells if (match := _CELL.fullmatch(cell))]
    said = {match["unit"] for match in found if match["unit"]}
    words = [word for word in re.findall(r"[a-z]+|\"", heading, re.IGNORECASE) if _kind(word) in (*_AMOUNTS, "SHORT")]
    unit = said.pop() if len(said) == 1 else words[-1] if words else ""
    said_there = rf"[ ]*\([ ]*{re.escape(unit)}[ ]*\)|[ ]*\b{re.escape(unit)}\b"
    name = re.sub(said_there, "", heading).strip() if words and unit else heading
    if not unit and LABEL.fullmatch(heading) and (caption := _UNIT_OF_ALL.search(rest)):
        told = caption["unit"] or caption["other"]
        unit = told if _kind(told) in _AMOUNTS else ""
    return _Column(name, tuple(_THOUSANDS.sub("", match["number"]) for match in found), unit)


_THOUSANDS = re.compile(r",(?=[0-9]{3}(?![0-9]))")


def _kind(word: str) -> str:
    """The kind of token that a word alone is: LEN of ``yds``, SIZE of ``Size``; "" where it has none."""
    if word.lower() in ("in", '"'):
        return "SHORT"
    words = split_words(word)
    return next((entry.kind for entry in vocabulary().get(words[0], ()) if entry.words == words), "") if words else ""
