"""Lengths: the time a text takes against how long it is, in families made to be slow."""

from __future__ import annotations

import statistics
from collections.abc import Iterator
from math import log

from yarnchat import Assistant
from yarnchat.language.reader import MAX_CHARACTERS
from yarnchat.views.text import render

from .measuring import Figure, calls

FAMILIES = {
    "digits": "9",
    "numbers": "1200 ",
    "parentheses": "(",
    "brackets": "1 (2, ",
    "commas": "1,2,",
    "words": "wool in dk or ",
    "put-ups": "420 yd/100 g ",
}
SIZES = [*(2**power for power in range(6, 13)), MAX_CHARACTERS]
SETTLED = 512
"""From so many characters on what every question costs no longer flattens the line."""


def figures() -> Iterator[Figure]:
    """The exponent of the growth of each family, and what a text over the limit takes."""
    for name, piece in FAMILIES.items():
        times = {size: _seconds((piece * size)[:size]) for size in SIZES}
        settled = {size: seconds for size, seconds in times.items() if size >= SETTLED}
        longest = f"{1000 * times[MAX_CHARACTERS]:.0f} ms for {MAX_CHARACTERS:,} characters"
        yield Figure(f"{name}, exponent", _exponent(settled), "", 1.1, f"{_exponent(times):.2f} from 64 on; {longest}")
    over = _seconds("420 yd/100 g " * 100_000)
    yield Figure("1,300,000 characters, refused", 1000 * over, "ms", 50)


def _seconds(text: str) -> float:
    return calls({"": lambda: render(Assistant(":memory:").ask(text), 80)}, rounds=3)[""]


def _exponent(times: dict[int, float]) -> float:
    """The slope of log time over log length (least squares)."""
    return statistics.linear_regression([log(size) for size in times], [log(s) for s in times.values()]).slope
