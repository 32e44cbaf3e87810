"""A report as Markdown: CommonMark with pipe tables; every sign in it is literal text."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

from yarnchat.answers import Answer
from yarnchat.language.clean import printable
from yarnchat.views.figures import ROUNDED, listed
from yarnchat.views.grid import Grid, grids
from yarnchat.views.report import Entry, Heading, asks, cautions, sentence

_MARKS = re.compile(r"([\\`*_{}\[\]<>|~#&$])")
_LINE_START = re.compile(r"^(\d+)([.)])(?=\s|$)|^([-+=])")


def render(report: Iterable[Entry]) -> Iterator[str]:
    """A report as Markdown, one piece an entry."""
    before = ""
    for entry in report:
        blocks = [f"# {_text(entry.text)}"] if isinstance(entry, Heading) else _blocks(entry.answer)
        yield before + "\n\n".join(blocks) + "\n"
        before = "\n"


def _blocks(answer: Answer) -> Iterator[str]:
    """One answer as Markdown, block by block, in the order of the page."""
    yield f"## {_text(answer.asked)}"
    yield f"**{_text(sentence(answer))}**"
    if reading := [_text(line) for line in answer.reading.split("\n") if printable(line)]:
        yield "I read: " + "  \n".join(reading)
    if single := listed(answer.figures):
        yield _bullets(f"{label}: {value}" for label, value in single)
    for grid in grids(answer):
        yield _table(grid)
        if grid.rounded:
            yield ROUNDED
        if grid.note:
            yield _text(grid.note)
    found = [f"{finding.level}: {finding.text}" for finding in answer.findings]
    for title, entries in (("Working", answer.working), ("Found", found), ("Mind", cautions(answer))):
        if entries:
            yield f"{title}:"
            yield _bullets(entries)
    if question := asks(answer):
        yield _text(question)
    if answer.unused:
        yield "Not used: " + ", ".join(_text(unused) for unused in answer.unused)
    if answer.suggestions:
        yield "You could ask:"
        yield _bullets(answer.suggestions)


def _table(grid: Grid) -> str:
    heads = " | ".join(_text(column.head) for column in grid.columns)
    rules = " | ".join("---:" if column.right else "---" for column in grid.columns)
    rows = (" | ".join(_text(cell) for cell in row) for row in grid.rows())
    return "\n".join(f"| {row} |" for row in (heads, rules, *rows))


def _bullets(entries: Iterable[str]) -> str:
    return "\n".join(f"- {_text(entry)}" for entry in entries)


def _text(text: str) -> str:
    """Text on one line with nothing in it that Markdown would take for a mark."""
    escaped = _MARKS.sub(r"\\\1", printable(text))
    return _LINE_START.sub(lambda found: f"{found[1]}\\{found[2]}" if found[1] else f"\\{found[3]}", escaped)
