"""Tables with a size in each line: written as lists where they tell how much yarn each takes, else left as they are."""

from __future__ import annotations

import pytest

from yarnchat.language.reader import read
from yarnchat.language.tables import in_lists

TABLES = {
    "two blanks": (
        "Size    Chest   Yarn (yds)\nS       36 in   950\nM       40 in   1,080\nWeight: DK",
        "Sizes: S, M\nChest: 36 (40) in\n950 (1080) yds\nWeight: DK",
    ),
    "tabs, colours, their unit below": (
        "Size\tMC\tCC\nS\t5\t1\nM\t6\t1\n(balls of Kelderby DK, 50 g, 120 m)",
        "Sizes: S, M\nMC: 5 (6) balls\nCC: 1 (1) balls\n(balls of Kelderby DK, 50 g, 120 m)",
    ),
    "bars and a rule": (
        "| Size | Chest (in) | Metres |\n|---|---|---|\n| 34 | 36 | 870 |\n| 36 | 38 | 940 |",
        "Sizes: 34, 36\nChest: 36 (38) in\n870 (940) Metres",
    ),
    "a colour a line": (
        "| Colour | Shade | Skeins |\n|---|---|---|\n| A | Chalk | 3 |\n| B | Ink | 1 |\nAll Wick DK",
        "A Chalk: 3 skeins\nB Ink: 1 skeins\nAll Wick DK",
    ),
    "commas": ("size,balls\nXS,5\nS,5\nM,6", "Sizes: XS, S, M\n5 (5, 6) balls"),
}


@pytest.mark.parametrize(("table", "lists"), TABLES.values(), ids=TABLES)
def test_sizes_in_lines(table: str, lists: str) -> None:
    assert in_lists(table) == lists


@pytest.mark.parametrize(
    "text",
    [
        "Sizes: S, M, L\n5, 6, 7 balls\nWick DK",
        "| Size | S | M | L |\n| MC | 3 | 3 | 4 |\n| CC | 1 | 1 | 2 |",  # a row for each colour
        "Size  Needle\nS  4\nM  5",  # no yarn is told of
        "Size  Balls\nS  5\nS  6",  # one size twice
        "Size  Balls\nS  5\nM  six or so",
        "Size  Balls\nS  5",
        "in DK 230 yd, or\nin aran 170 yd?",
    ],
)
def test_all_else_stays(text: str) -> None:
    assert in_lists(text) == text


def test_a_table_is_read_as_its_lists() -> None:
    query = read("Size  Balls\nS  8\nM  9\nL  10\n\nWick DK, 50 g/120 m. M in aran, 90 m/50 g?").query
    assert query.sizes == ("S", "M", "L")
    assert query.pick == "M"
    assert [series.values for series in query.amounts] == [(8, 9, 10)]
