"""Every example an ability gives in its help is answered, and by that ability."""

from __future__ import annotations

import pytest

from yarnchat import Assistant
from yarnchat.abilities import abilities

EXAMPLES = [(name, example) for name, ability in abilities().items() for example in ability.examples]
AWAITED: frozenset[str] = frozenset({})
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
