"""Number words and the number they make; what is said of each is common usage, no source."""

from __future__ import annotations

import pytest

from yarnchat.language.sentence import lay_out

NUMBERS = [
    ("twenty-five metres", [25.0]),
    ("two hundred and fifty metres", [250.0]),
    ("twelve hundred and thirty yards", [1230.0]),
    ("two thousand one hundred metres", [2100.0]),
    # hundreds that are not said to be so, before a unit
    ("twelve fifty metres", [1250.0]),
    ("the balls are one twenty metres", [120.0]),
    ("twenty one fifty metres", [2150.0]),
    # two numbers, the first of skeins
    ("thirteen one-ounce balls", [13.0, 1.0]),
    ("eight two ounce hanks", [8.0, 2.0]),
    ("two fifty gram balls", [2.0, 50.0]),
    ("two twelve metre balls", [2.0, 12.0]),
    # dozens and couples
    ("two dozen balls", [24.0]),
    ("a dozen and a half balls", [18.0]),
    ("a couple of balls", [2.0]),
    ("a couple of hundred metres", [200.0]),
    ("seven of us", [7.0]),
    ("one point five skeins", [1.5]),
    ("five point two five mm", [5.25]),
]


@pytest.mark.parametrize(("text", "values"), NUMBERS)
def test_words_make_the_numbers_that_are_meant(text: str, values: list[float]) -> None:
    tokens = lay_out(text).tokens
    assert [token.readings[0][0] for token in tokens if token.kind == "NUM"] == values


@pytest.mark.parametrize("text", ["they are four fifty a ball", "it's six twenty each"])
def test_a_length_or_a_price_is_no_number(text: str) -> None:
    assert [token.kind for token in lay_out(text).tokens if token.kind in ("NUM", "ODDWORD")] == ["ODDWORD"]
