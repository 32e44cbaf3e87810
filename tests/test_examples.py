"""Every example an ability gives in its help is answered, and by that ability."""

from __future__ import annotations

import pytest

from yarnchat import Assistant
from yarnchat.abilities import abilities

EXAMPLES = [(name, example) for name, ability in abilities().items() for example in ability.examples]


@pytest.mark.parametrize(
    ("ability", "example"),
    [row for row in EXAMPLES if row[0] != "notebook"],
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
