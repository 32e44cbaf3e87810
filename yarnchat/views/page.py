"""A report as one HTML page for a phone in the shop: no scripts, nothing fetched, all text escaped."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from html import escape

from yarnchat.answers import Answer
from yarnchat.language.clean import printable
from yarnchat.views.figures import ROUNDED, listed
from yarnchat.views.grid import Grid, grids
from yarnchat.views.report import Entry, Heading, asks, cautions, sentence

_STYLE = """
:root { color-scheme: light dark; --ink: #1d1b18; --paper: #fffdf8; --rule: #c9c2b4; --soft: #665f52; }
@media (prefers-color-scheme: dark) {
  :root { --ink: #ece7dc; --paper: #1b1a17; --rule: #4c473d; --soft: #aaa292; }
}
* { box-sizing: border-box; }
body { margin: 0 auto; padding: 1rem; max-width: 60rem; background: var(--paper); color: var(--ink);
  font: 1rem/1.45 system-ui, sans-serif; overflow-wrap: anywhere; }
h1 { font-size: 1.3rem; margin: 1.6rem 0 .6rem; }
section { border-top: 1px solid var(--rule); padding: .8rem 0; break-inside: avoid; }
h2 { font-size: 1.1rem; margin: 0 0 .4rem; }
p { margin: .3rem 0; }
.asked, .read, .small { color: var(--soft); font-size: .9rem; white-space: pre-line; }
dl { display: grid; grid-template-columns: max-content 1fr; gap: .15rem .8rem; margin: .5rem 0; }
dt { color: var(--soft); }
dd { margin: 0; }
table { border-collapse: collapse; margin: .5rem 0; width: 100%; }
th, td { text-align: left; vertical-align: top; padding: .2rem .5rem .2rem 0;
  border-bottom: 1px solid var(--rule); }
.n { text-align: right; font-variant-numeric: tabular-nums; }
thead th, td.n { overflow-wrap: normal; }
tbody th { min-width: 4.5em; }
td.n { white-space: nowrap; }
ul { margin: .3rem 0; padding-left: 1.2rem; }
summary { cursor: pointer; padding: .3rem 0; }
@media screen and (max-width: 40rem) {
  thead { position: absolute; width: 1px; height: 1px; overflow: hidden; clip-path: inset(50%); }
  table, tbody { display: block; }
  tr { display: grid; grid-template-columns: repeat(2, minmax(0, 1fr)); gap: 0 1.2rem; padding: .4rem 0;
    border-bottom: 1px solid var(--rule); }
  th, td { border: 0; padding: .1rem 0; }
  th, td:not(.n) { grid-column: 1 / -1; }
  td { display: flex; justify-content: space-between; gap: .6rem; }
  td:empty, th:empty { display: none; }
  td::before { content: attr(data-of); color: var(--soft); white-space: normal; text-align: left; }
  td:not(.n)::before { flex: none; }
}
@media screen and (max-width: 22rem) {
  tr { grid-template-columns: minmax(0, 1fr); }
}
@media print {
  :root { --ink: #000; --paper: #fff; --rule: #999; --soft: #333; }
  @page { margin: 10mm; }
  body { padding: 0; font-size: 8pt; line-height: 1.25; max-width: none; }
  main { columns: 2; column-gap: 8mm; }
  h1 { font-size: 11pt; margin: 6pt 0 2pt; break-after: avoid; }
  h2 { font-size: 9pt; }
  section { padding: 3pt 0; }
  .read, .small { font-size: 7pt; }
  table { font-size: 7.5pt; }
  th, td { padding: 1pt 3pt 1pt 0; }
  p, dl, ul, table { margin: 1pt 0; }
  details, .asked { display: none; }
}
"""

_TOP = f"""<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'">
<title>What yarn to buy</title>
<style>{_STYLE}</style>
</head>
<body>
<main>
"""
_END = "</main>\n</body>\n</html>\n"


def render(report: Iterable[Entry]) -> Iterator[str]:
    """A report as one HTML page, one piece an entry."""
    yield _TOP
    for entry in report:
        if isinstance(entry, Heading):
            yield f"<h1>{_text(entry.text)}</h1>\n"
        else:
            yield "\n".join(["<section>", *_section(entry.answer), "</section>", ""])
    yield _END


def _section(answer: Answer) -> Iterator[str]:
    """One answer as HTML, line by line: what was asked, how it was read, figures, working, findings, cautions."""
    yield f"<h2>{_text(sentence(answer))}</h2>"
    yield f'<p class="asked">Asked: {_line_by_line(answer.asked)}</p>'
    if printable(answer.reading):
        yield f'<p class="read">I read: {_line_by_line(answer.reading)}</p>'
    if single := listed(answer.figures):
        yield "<dl>"
        yield from (f"<dt>{_text(label)}</dt><dd>{_text(value)}</dd>" for label, value in single)
        yield "</dl>"
    for grid in grids(answer):
        yield from _table(grid)
        if grid.rounded:
            yield f'<p class="small">{ROUNDED}</p>'
        if grid.note:
            yield f'<p class="small">{_text(grid.note)}</p>'
    if answer.findings:
        yield from _list([f"{found.level}: {found.text}" for found in answer.findings])
    if question := asks(answer):
        yield f"<p>{_text(question)}</p>"
    if answer.unused:
        yield f"<p>Not used: {', '.join(_text(unused) for unused in answer.unused)}</p>"
    for title, entries in (("Mind", cautions(answer)), ("You could ask", answer.suggestions)):
        if entries:
            yield f"<p>{title}:</p>"
            yield from _list(entries)
    if answer.working:
        yield "<details><summary>Working</summary>"
        yield from _list(answer.working)
        yield "</details>"


def _table(grid: Grid) -> Iterator[str]:
    """A table; on a narrow screen each row becomes a block whose cells name their column."""
    heads = "".join(f'<th scope="col"{_side(column.right)}>{_text(column.head)}</th>' for column in grid.columns)
    yield f"<table><thead><tr>{heads}</tr></thead><tbody>"
    for row in grid.rows():
        cells = []
        for index, (column, cell) in enumerate(zip(grid.columns, row, strict=True)):
            if index < grid.names:
                cells.append(f'<th scope="row">{_text(cell)}</th>')
            else:
                cells.append(f'<td data-of="{_text(column.head)}"{_side(column.right)}>{_text(cell)}</td>')
        yield f"<tr>{''.join(cells)}</tr>"
    yield "</tbody></table>"


def _side(right: bool) -> str:
    return ' class="n"' if right else ""


def _list(entries: Iterable[str]) -> Iterator[str]:
    yield "<ul>"
    yield from (f"<li>{_text(entry)}</li>" for entry in entries)
    yield "</ul>"


def _line_by_line(text: str) -> str:
    return "\n".join(said for line in text.split("\n") if (said := _text(line)))


def _text(text: str) -> str:
    return escape(printable(text))
