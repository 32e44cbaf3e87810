"""Texts nobody should have typed: every one gets an Answer that is safe to print, and none an exception."""

from __future__ import annotations

import json
from typing import get_args

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from yarnchat import Answer, Assistant
from yarnchat.answers import Status

from .safety import unsafe
from .texts import broken, questions, sentences

LIMIT = 8000
"""Characters of one question; what is longer is refused, and told so."""


def hold(answer: Answer, typed: str) -> None:
    """What is true of every answer to anything."""
    assert answer.asked == typed
    assert answer.status in get_args(Status)
    assert answer.headline
    assert answer.status == "answered" or answer.asks or answer.cautions
    assert unsafe(answer) == []
    json.dumps(answer.model_dump(mode="json"))


@given(st.text(st.characters()) | broken())
def test_any_text(text: str) -> None:
    hold(Assistant(notebook=":memory:").ask(text), text)


@given(sentences() | questions())
def test_any_words_of_the_trade(text: str) -> None:
    hold(Assistant(notebook=":memory:").ask(text), text)


@settings(max_examples=50)
@given(st.lists(questions() | broken(), min_size=2, max_size=5))
def test_any_conversation(texts: list[str]) -> None:
    """A text is read against what was said before, whatever that was."""
    assistant = Assistant(notebook=":memory:")
    for text in texts:
        hold(assistant.ask(text), text)


def test_a_slip_of_a_name_with_stray_characters() -> None:
    """What is proposed holds the text as it was typed, but for what steers a terminal."""
    assistant = Assistant(notebook=":memory:")
    assistant.ask("remember Hero Tweed, worsted, 180 m/100 g")
    typed = "Heron\udcff\x07\u202e Tweed in place of 1001 m of chunky"
    answer = assistant.ask(typed)
    hold(answer, typed)
    assert answer.suggestions == ["Hero Tweed in place of 1001 m of chunky"]


PIECES = (
    "1200 yd ", "9", "½ yd ", "(", "((", "1,", "DK ", "in ", "22 sts to 4 in ", "\x1b[", "\u202e", "a\n",
    "x ", "/", "'s ",
)  # fmt: skip


@pytest.mark.parametrize("piece", PIECES)
def test_as_long_as_may_be(piece: str) -> None:
    text = (piece * LIMIT)[:LIMIT]
    hold(Assistant(notebook=":memory:").ask(text), text)


@pytest.mark.parametrize("text", ["x" * (LIMIT + 1), "1200 yd worsted " * 100_000, "\x00" * 20_000])
def test_longer_is_refused_with_the_limit_named(text: str) -> None:
    answer = Assistant(notebook=":memory:").ask(text)
    hold(answer, text)
    assert answer.status in ("not_understood", "refused")
    assert "8,000" in answer.headline


@pytest.mark.parametrize("text", ["1 m\n" * 201, "1 " * 900, "A 60 m, " * 250])
def test_more_amounts_than_any_pattern_are_refused_with_the_limit_named(text: str) -> None:
    answer = Assistant(notebook=":memory:").ask(text)
    hold(answer, text)
    assert (answer.status, "up to 200 at a time" in answer.headline) == ("not_understood", True)


def test_a_long_table_of_sizes_is_read() -> None:
    rows = "\n".join(f"size {size}: {900 + size} m" for size in range(1, 60))
    text = f"{rows}\nin DK, 120 m a ball, the pattern is worsted"
    answer = Assistant(notebook=":memory:").ask(text)
    hold(answer, text)
    assert "at a time" not in answer.headline


@pytest.mark.parametrize(
    "text",
    [
        "", " ", "\n\n", "?", "nan yd of DK in aran", "inf m", "1e308 yd of DK in fingering at 400 yd",
        "0 yd of DK in fingering, 400 yd a skein",
        "900 m of DK in fingering, 0 m/100 g", "0 sts to 4 in, what weight?",
        "what is 400 m/0 g in m per 100 g", "-1200 yd of DK in fingering, 400 yd a skein",
        "22 sts to 0 in, what weight?", "0 wpi, what weight?", "how many 0 yd skeins for 1200 yd?",
        "row 40 of 0, used 3 balls",
        "a swatch of 0 x 0 in, 0 g of DK, 230 m/100 g", "a scarf 0 in by 60 in in DK",




        "0 strands of DK", "1/0 done, used 300 m",
        "999999999999 yd of DK in fingering at 400 yd",




        "9999999999999999999 yd of DK", "000000000000000000001200 yd of DK",
    ],
)  # fmt: skip
def test_nothing_nought_and_too_much(text: str) -> None:
    """None of these has figures to give that could be true."""
    answer = Assistant(notebook=":memory:").ask(text)
    hold(answer, text)
    assert answer.status != "answered" or answer.ability == "help"


@pytest.mark.parametrize(
    "before",
    ["900 yd of worsted in DK, 0 yd a skein", "0 yd of worsted in DK, 200 yd a skein", "0 skeins of 0 yd in DK, 0 m"],
)
@pytest.mark.parametrize("after", ["740 m", "and 0 yd", "the other has 170 yards", "at 0?"])
def test_after_nothing_at_all(before: str, after: str) -> None:
    """What follows a length of nought is read against it, and nothing is divided by it."""
    assistant = Assistant(notebook=":memory:")
    for text in (before, after):
        hold(assistant.ask(text), text)


@pytest.mark.parametrize(
    "text",
    [
        "Tension: 28 sts to 10 cm, 40 rows to 00 cm. Yarn: 400 m. A DK at 25 sts, 30 rows to 0 cm",
        "0 sts x 0 rows in 4 in, 900 yd in DK",
        "gauge 0 x 0 to 0 cm",
        "triangle 160 wide, n bulky 130 yd/0 cm deep, in a 4 ply which I knit at 26 sts to 10 cm. How many metres?",
        "pompoms take 24 m each of a chunky that is 999999 g per 120 m, so how many grams for a pompom",
    ],
)
def test_a_gauge_of_nothing(text: str) -> None:
    hold(Assistant(notebook=":memory:").ask(text), text)
