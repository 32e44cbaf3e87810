"""What is seldom asked, typed as it would be: each answer worked by hand, or the words that are asked back."""

from __future__ import annotations

from pathlib import Path

import pytest

from yarnchat import Assistant
from yarnchat.answers import Amount
from yarnchat.quantity import Quantity

# A conversation, the figure of its last answer, and its value by hand.
WORKED: list[tuple[list[str], str, float]] = [
    # 1000 m + 10 % = 1100 m, the same weight; 1100 / 100 = 11 balls
    (["1000 m of DK plus 10 % more, in DK, 100 m a ball"], "skeins", 11),
    # 2 skeins of 225 m are 450 m for 60 %: 450 / 0.6 = 750 m in all, 300 m to go, of which 100 m are there
    (["remember Dunnock DK, 225 m per 100 g", "used 2 skeins of Dunnock DK, 60 % done, 100 m left"], "short", 200),
    # 30 % to go is 70 % done: 300 / 0.7 = 428.571 g in all, 128.571 g to go, of which 120 g are there
    (["30% to go, used 300 g, 120 g left"], "short", 8.571429),
    # 30 of 120 rows: 100 / 0.25 = 400 m in all, 300 m to go, of which 250 m are there
    (["30 rows done, 90 rows to go, used 100 m, 250 m left"], "short", 50),
    # rows said apart belong to the gauge: 24 sts over 4 in are 24 × 10 / 10.16 = 23.622 over 10 cm
    (["22 sts to 4 in over 10 cm", "and 24 sts?"], "value", 23.62205),
]


@pytest.mark.parametrize(("said", "figure", "value"), WORKED, ids=lambda row: str(row))
def test_it_is_worked_out(said: list[str], figure: str, value: float) -> None:
    assistant = Assistant(notebook=":memory:")
    *_, answer = [assistant.ask(text) for text in said]
    assert answer.status == "answered", answer.headline
    found = answer.figures[figure]
    assert (found.value if isinstance(found, Amount) else found) == pytest.approx(value, rel=1e-5)


# A conversation, the status of its last answer, and what that says.
ASKED: list[tuple[list[str], str, str]] = [
    (["US 8 in mm", "and 250 yd?"], "unclear", "The US 8 needle or 250 yd? Ask for one at a time"),
    (["5 yd/lb in tex"], "unclear", "5 yd cannot be put in tex"),
    (["two strands of jumbo together, what weight?"], "unclear", "No table gives a length per mass for jumbo"),
    (["1200 yd of DK plus 900 % more in aran, 160 yd a skein"], "refused", "900 % more cannot be meant"),
    (["I have 4 balls of DK, how long a scarf 20 cm wide?"], "unclear", "How long is the yarn on one skein?"),
    (
        [
            "compare DK, 230 yd a skein with aran, 160 yd a skein for 1000 yd of DK",
            "I have 6 skeins, is it enough?",
        ],
        "unclear",
        "Which yarn is it to be?",
    ),
    (["swatch"], "unclear", "What are the swatch's size and mass?"),
    (["body half done, used 300 g, 100 g left"], "unclear", "How far along is it?"),
    (["used 2 balls of 4, 60% done, 100 g left"], "unclear", "What does one skein hold?"),
    (["all 100 g, 1300 m of DK, in lace"], "unclear", "What are the 100 g beside 1,300 m?"),
    (["200 200 yd skeins for 1200 yd"], "unclear", "Does it agree with itself?"),
    (["I have 5 balls, 120 m/50 g, enough for 4 balls?"], "unclear", "How much does the pattern take?"),
    (
        ['the 38" took 1050 yd of DK, what does the 42" take in aran, 160 yd a skein?'],
        "unclear",
        "Other sizes and another yarn are two questions",
    ),
    (
        ["a scarf 8 by 60 in in worsted, 210 yd a skein, cables take 500% more"],
        "refused",
        "500 % more for a texture cannot be",
    ),
    (
        ["remember Heron Tweed, DK, 225 m/100 g", "show swatch Heron Tweed"],
        "unclear",
        "There is no swatch called Heron Tweed",
    ),
]


@pytest.mark.parametrize(("said", "status", "sentence"), ASKED, ids=lambda row: str(row))
def test_it_is_asked_about(said: list[str], status: str, sentence: str) -> None:
    assistant = Assistant(notebook=":memory:")
    *_, answer = [assistant.ask(text) for text in said]
    assert answer.status == status
    assert sentence in answer.headline


def test_a_stash_told_in_metres_and_in_balls_is_kept_as_one_mass() -> None:
    # 300 m of 200 m/100 g are 150 g, two skeins of it 200 g.
    told = "I have 300 m of Plover DK, 200 m/100 g, and 2 balls of Plover DK in my stash"
    assert "350 g" in Assistant(notebook=":memory:").ask(told).headline


def test_the_same_price_is_said_to_be_the_same() -> None:
    # 4.95 / 125 and 9.90 / 250 are both 3.96 for 100 m.
    answer = Assistant(notebook=":memory:").ask("50 g/125 m at 4.95 or 100 g/250 m at 9.90, which is cheaper?")
    assert "They cost the same per 100 m" in answer.headline


def test_what_is_undone_says_what_was_before() -> None:
    assistant = Assistant(notebook=":memory:")
    assistant.ask("my scale reads to 0.1 g")
    assert "How finely your scale reads is not known." in assistant.ask("undo").headline


def test_points_that_part_thousands_are_no_decimal_ones() -> None:
    """1.234.567 m is more than any knit takes, and not 1.2 m."""
    answer = Assistant(notebook=":memory:").ask("1.234.567 m of DK in aran, 80 m/50 g")
    assert answer.status == "refused"


def test_rows_said_apart_are_of_the_gauge_beside_them() -> None:
    answer = Assistant(notebook=":memory:").ask("22 sts to 4 in, 30 rows to 4 in, what weight?")
    assert answer.figures["weight_class"] == ["DK"]  # 22 lies in DK's 21–24 (Craft Yarn Council)
    assert "22 sts and 30 rows to 4 in" in answer.reading


def test_what_is_used_counts_more_than_what_the_pattern_says() -> None:
    # 150 m for 60 % are 250 m in all, 100 m to go, of which 90 m are there; by the pattern 150 m would be to go.
    answer = Assistant(notebook=":memory:").ask("60 % done with 150 m used, 90 m left, pattern takes 300 m")
    assert answer.figures["short"] == Amount(value=10, unit="m")
    assert any("the pattern says 300 m; what you use counts more" in step for step in answer.working)


@pytest.mark.parametrize(
    ("question", "status"),
    [
        ("list my yarns", "refused"),
        ("ratios DK", "answered"),
        ("1200 yd of worsted in DK, 230 yd a skein", "answered"),
    ],
)
def test_a_damaged_notebook_is_said_and_keeps_nobody_from_an_answer(question: str, status: str, tmp_path: Path) -> None:
    damaged = tmp_path / "notebook"
    damaged.write_text("not a notebook")
    answer = Assistant(notebook=damaged).ask(question)
    assert answer.status == status
    assert any("is damaged" in caution for caution in answer.cautions)
    assert damaged.read_text() == "not a notebook"


def test_lengths_and_masses_are_not_each_other() -> None:
    with pytest.raises(ValueError, match="yd and g measure different things"):
        Quantity(1, "yd").to("g")
    with pytest.raises(KeyError):
        Quantity(1, "ell").to("m")
