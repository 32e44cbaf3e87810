"""What changes nothing of a question changes no answer: a greeting, thanks, capitals, the question said first.

Every so many-th of the seen dialogues is said otherwise, and must still meet what is expected of it; small letters may
lose a name, so that they must only not be answered wrongly.
"""

from __future__ import annotations

import re
from collections.abc import Callable

import pytest

from yarnchat import Assistant

from .dialogues import Dialogue, dialogues, groups, known_misses, text_of
from .judge import misses

EVERY = 23
"""Of so many dialogues one is said otherwise: a prime, so that every kind of group has its share."""
NAMES_LOST = {"dale-trap-004": "Bulky Brothers is no bulky", "ware-desk-026": "Barrow Worsted, behind its mass"}
"""Dialogues that lean on the capitals of a name, each with the name; they are answered wrongly without them."""
_SENTENCE = re.compile(r"(?<=[.!?])\s+(?=[A-Z])")


def _sample() -> list[Dialogue]:
    every = [dialogue for group in groups("seen") for dialogue in dialogues("seen", group)]
    known = known_misses()
    return [dialogue for dialogue in every[::EVERY] if dialogue.name not in known]


def _question_first(text: str) -> str:
    """The last sentence said first, where it is the only question."""
    *told, asked = _SENTENCE.split(text)
    if "\n" in text or not 1 <= len(told) <= 2 or not asked.endswith("?") or any("?" in one for one in told):
        return text
    return " ".join([asked, *(one if one[-1] in ".!" else f"{one}." for one in told)])


def _asks_or(dialogue: Dialogue, text: str) -> str:
    """How a text misses what is expected of the dialogue's first turn; "" where it does not, or asks back."""
    answer = Assistant(notebook=":memory:").ask(text).model_dump(mode="json")
    missed = misses(dialogue.turns[0]["expect"], answer)
    wrong = [miss for miss in missed if " name " not in miss and not miss.startswith("does not mention")]
    return "; ".join(wrong) if answer["status"] == "answered" else ""


@pytest.mark.parametrize(
    "otherwise",
    [
        lambda text: f"Right then. {text}",
        lambda text: f"{text}{'' if text.rstrip()[-1] in '.?!' else '.'} Many thanks, Meg",
        _question_first,
        str.lower,
        str.upper,
    ],
    ids=["greeting", "thanks", "question first", "small letters", "capitals"],
)
def test_the_same_said_otherwise_is_answered_no_other_way(otherwise: Callable[[str], str]) -> None:
    said = [(dialogue, text_of(dialogue.turns[0])) for dialogue in _sample()]
    found = {d.name: _asks_or(d, otherwise(text)) for d, text in said if text.strip() and not _asks_or(d, text)}
    assert {name for name, miss in found.items() if miss} <= NAMES_LOST.keys()
