"""Every example an ability gives in its help is answered, and by that ability."""

from __future__ import annotations

import pytest

from yarnchat import Assistant
from yarnchat.abilities import abilities

EXAMPLES = [(name, example) for name, ability in abilities().items() for example in ability.examples]
AWAITED: frozenset[str] = frozenset(
    {
        "my 40 in sweater took 6 skeins of 200 yd; how many for 36 in and 44 in?",
        "what gauge is aran?",
        "I have used 3 of 5 skeins, 210 yd each, and am 120 of 240 rows in: will it do?",
        "650 g of yarn, in 100 g hanks?",
    }
)
"""Examples that are not read yet."""


@pytest.mark.parametrize(
    ("ability", "example"),
    [
        pytest.param(*row, marks=pytest.mark.xfail(strict=True, reason="not read yet")) if row[1] in AWAITED else row
        for row in EXAMPLES
        if row[0] != "notebook"
    ],
)
def test_example(ability: str, example: str) -> None:
    answer = Assistant(notebook=":memory:").ask(example)
    assert (answer.status, answer.ability) == ("answered", ability), answer.headline


def test_examples_of_the_notebook() -> None:
    """In one conversation, since what is forgotten must have been remembered."""
    assistant = Assistant(notebook=":memory:")
    for example in abilities()["notebook"].examples:
        answer = assistant.ask(example)
        assert (answer.status, answer.ability) == ("answered", "notebook"), answer.headline


def test_help_is_about_what_was_asked() -> None:
    asked = ("what can I ask?", "help sizes", "help sources")
    told = [Assistant(notebook=":memory:").ask(question).working for question in asked]
    assert told[0] != told[1]
    assert told[1] != told[2]
