"""What she tells of her stash is kept, and a question whether it is enough finds it by the yarn's name."""

from __future__ import annotations

import pytest

from yarnchat import Answer, Assistant
from yarnchat.answers import Amount

LABEL = "remember Cobbler Sock, fingering, 400 m per 100 g"


def after(*said: str) -> Assistant:
    assistant = Assistant(notebook=":memory:")
    for text in said:
        assert assistant.ask(text).status == "answered", text
    return assistant


@pytest.mark.parametrize(
    "told",
    [
        "I have 3 skeins of Cobbler Sock in my stash",
        "stash: 3 skeins of Cobbler Sock",
        "3 skeins of Cobbler Sock in the stash",
        "remember I have 3 skeins of Cobbler Sock",
    ],
)
def test_told_of_the_stash(told: str) -> None:
    assistant = after(LABEL, told)
    assert "3 skeins of Cobbler Sock" in str(assistant.ask("show stash").figures)


def test_more_of_it_is_added() -> None:
    # 3 + 2 = 5 skeins; 5 x 100 g + 50 g = 550 g
    assistant = after(LABEL, "stash: 3 skeins of Cobbler Sock", "add 2 skeins of Cobbler Sock to my stash")
    assert "5 skeins" in str(assistant.ask("show stash").figures)
    assert "550 g" in assistant.ask("I have another 50 g of Cobbler Sock in my stash").headline


@pytest.mark.parametrize("aside", ["put aside in my stash", "put by in the stash", "put away in my stash"])
def test_what_is_put_aside_is_all_there_is(aside: str) -> None:
    assistant = after(LABEL, "stash: 3 skeins of Cobbler Sock", f"I have 4 skeins of Cobbler Sock {aside}")
    assert "4 skeins" in str(assistant.ask("show stash").figures)


def test_a_question_beside_it_is_answered() -> None:
    answer = after(LABEL).ask("I have 3 skeins of Cobbler Sock in my stash, is it enough for 1000 m of fingering?")
    assert (answer.ability, answer.figures["enough"]) == ("enough", True)


def have_and_need(answer: Answer) -> tuple[float, float]:
    have, need = answer.figures["have"], answer.figures["need"]
    assert isinstance(have, Amount)
    assert isinstance(need, Amount)
    return have.value, need.value


@pytest.mark.parametrize(
    ("question", "enough", "need"),
    [
        # 3 skeins × 400 m = 1200 m; one weight, so length carries over
        ("do I have enough Cobbler Sock for 700 m?", True, 700),
        ("is my Cobbler Sock enough for a 1250 m fingering shawl?", False, 1250),
        # 29.5 / 22.5 = 1.311111: 800 m of DK are 1048.89 m of fingering, 1000 m are 1311.11 m
        ("do I have enough Cobbler Sock for 800 m of DK?", True, 1048.889),
        ("do I have enough Cobbler Sock for 1000 m of DK?", False, 1311.111),
    ],
)
def test_enough_of_what_is_kept(question: str, enough: bool, need: float) -> None:
    answer = after(LABEL, "stash: 3 skeins of Cobbler Sock").ask(question)
    assert answer.figures["enough"] is enough
    assert have_and_need(answer) == pytest.approx((1200, need), rel=1e-5)
    assert any(step.startswith("from your notebook: 3 skeins") for step in answer.working)


def test_nothing_kept_of_it_is_asked_about() -> None:
    answer = after(LABEL).ask("do I have enough Cobbler Sock for 700 m?")
    assert answer.status == "unclear"
    assert "How much have you" in (answer.asks or "")
