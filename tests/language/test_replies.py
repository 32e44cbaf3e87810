"""What is said to a question asked back: the put-up that was missing, and what is not that, figures worked by hand.

Between two weights of which no gauge is told, lengths are as the middles of their gauges (the standard of weights,
stitches to 4 in): worsted 16-20, so 18, DK 21-24, so 22.5; from worsted to DK 22.5 / 18 = 1.25. 210 yd are
210 x 0.9144 = 192.024 m. Skeins are whole, and always enough.
"""

from __future__ import annotations

import pytest

from yarnchat import Answer, Assistant

PATTERN = "the pattern takes 8 balls of worsted: how many in DK, 225 m/100 g?"
YARN = "1000 m of worsted: how many skeins of DK?"
STASH = "I have 6 skeins of DK: is that enough for 1000 m of worsted?"
ARAN = "how many skeins of aran for 1100 m?"
NO_SKEINS = "1000 m of worsted in DK"


def said(*texts: str) -> Answer:
    """The answer to the last text of a conversation."""
    assistant = Assistant(notebook=":memory:")
    *_, answer = [assistant.ask(text) for text in texts]
    return answer


def plain(answer: Answer) -> dict[str, object]:
    """Its figures as ``850 m``, ``4``, ``False``, rounded to a tenth."""
    values = {name: (getattr(row, "value", row), getattr(row, "unit", "")) for name, row in answer.figures.items()}
    return {
        name: f"{round(value, 1):g} {unit}" if unit and isinstance(value, float) else value
        for name, (value, unit) in values.items()
    }


@pytest.mark.parametrize(("text", "asks"), [(PATTERN, "the pattern's yarn"), (YARN, "DK"), (STASH, "6 skeins")])
def test_what_is_missing_is_asked_for(text: str, asks: str) -> None:
    answer = said(text)
    assert answer.status == "unclear"
    assert asks in (answer.asks or "")
    assert "put-up" in (answer.asks or "")


def test_a_length_alone_is_answered_without_skeins() -> None:
    # 1000 x 1.25
    answer = said(NO_SKEINS)
    assert (answer.status, plain(answer)["length"]) == ("answered", "1250 m")
    assert "skeins" not in answer.figures


PUT_UPS = [
    # 8 x 85 = 680, x 1.25 = 850; / 225 = 3.8
    (PATTERN, "50 g/85 m", {"length": "850 m", "skeins": 4}),
    # 8 x 210 = 1680, x 1.25 = 2100 yd, 1920.2 m; / 225 = 8.5
    (PATTERN, "210 yds", {"length": "2100 yd", "skeins": 9}),
    # in m, as the one length told: 8 x 210 = 1680, x 1.25 = 2100; / 225 = 9.3
    (PATTERN, "210", {"length": "2100 m", "skeins": 10}),
    # 1000 x 1.25 = 1250; / 85 = 14.7; 1250 x 50 / 85 = 735.3 g
    (YARN, "50 g/85 m", {"length": "1250 m", "skeins": 15, "mass": "735.3 g"}),
    # 1250 / 192.024 = 6.5
    (YARN, "210 yds", {"length": "1250 m", "skeins": 7}),
    # 1250 / 210 = 5.95
    (YARN, "210", {"length": "1250 m", "skeins": 6}),
    # 6 x 85 = 510; 1250 - 510 = 740; / 85 = 8.7
    (STASH, "50 g/85 m", {"enough": False, "have": "510 m", "need": "1250 m", "short": "740 m", "skeins": 9}),
    # 6 x 192.024 = 1152.144; 1250 - 1152.144 = 97.856; one more skein
    (STASH, "210 yds", {"enough": False, "have": "1152.1 m", "short": "97.9 m", "skeins": 1}),
    # 6 x 210 = 1260; 1260 - 1250 = 10
    (STASH, "210", {"enough": True, "have": "1260 m", "left_over": "10 m"}),
    # 1250 / 160 = 7.8
    (NO_SKEINS, "160 m", {"length": "1250 m", "skeins": 8}),
    # 1250 / 85 = 14.7
    (NO_SKEINS, "50 g/85 m", {"length": "1250 m", "skeins": 15}),
    # half of the need may be on a skein: 1250 / 500 = 2.5
    (YARN, "500 m", {"length": "1250 m", "skeins": 3}),
    # the pattern's weight beside: aran (as worsted) of DK, 1100 x 18 / 22.5 = 880; / 85 = 10.4
    (ARAN, "85 m. Oh and the pattern is in DK", {"length": "880 m", "skeins": 11}),
    (ARAN, "the pattern was written for DK, and the balls are 50 g/85 m", {"length": "880 m", "skeins": 11}),
]


@pytest.mark.parametrize(("question", "reply", "figures"), PUT_UPS)
def test_the_put_up_that_was_missing(question: str, reply: str, figures: dict[str, object]) -> None:
    answer = said(question, reply)
    assert answer.status == "answered"
    assert figures.items() <= plain(answer).items()


LENGTHS = [
    # over half of the need, so another need: 504 x 1.25 = 630
    (YARN, "504 m", "630 m"),
    # 600 x 1.25
    (YARN, "600 m", "750 m"),
    # no skein holds so much, be it under half of the need: 800 x 1.25
    ("2000 m of worsted: how many skeins of DK?", "800 m", "1000 m"),
    # a pattern's length is no skein's: 210 x 1.25
    (YARN, "210 m pattern", "262.5 m"),
    # put right: 900 x 1.25
    (YARN, "no, 900 m", "1125 m"),
    (YARN, "the pattern wants 210 m", "262.5 m"),
    # short as a skein's, and put right all the same: 400 x 1.25
    (YARN, "no, 400 m", "500 m"),
]


@pytest.mark.parametrize(("question", "reply", "length"), LENGTHS)
def test_a_length_that_is_another_need(question: str, reply: str, length: str) -> None:
    answer = said(question, reply)
    assert (answer.status, plain(answer)["length"]) == ("answered", length)
    assert "skeins" not in answer.figures


def test_a_correction_of_the_pattern_s_skeins_is_its_length() -> None:
    # 900 x 1.25 = 1125; / 225 = 5
    figures = plain(said(PATTERN, "no, 900 m"))
    assert (figures["length"], figures["skeins"]) == ("1125 m", 5)


@pytest.mark.parametrize(
    ("question", "reply"),
    [
        # 20 and more may be a skein's length
        (PATTERN, "15"),
        (YARN, "15"),
        (PATTERN, "£6"),
        # more than half of the need, and nothing new of the stash
        (STASH, "600 m"),
        (STASH, "no, 900 m"),
        # of the DK's skein, or all that is needed?
        (YARN, "210 m of worsted"),
        # the pattern's, and so many skeins of what she has
        ("I'm using 6 balls of DK, 115 m each", "the pattern wants 650 m"),
        # which of the two is it?
        (PATTERN, "50 g/85 m or 50 g/120 m"),
    ],
)
def test_what_is_no_put_up_is_not_taken_for_one(question: str, reply: str) -> None:
    answer = said(question, reply)
    assert (answer.status, answer.figures) == ("unclear", {})


PIECE_BY_PIECE = [
    # 950 m of aran (as worsted, 18 sts to 4 in) in chunky (bulky, 12-15, so 13.5): x 13.5 / 18 = 712.5; / 100 = 7.1
    (("I'm knitting a cardigan in aran.", "It takes 950 metres.", "I'd like to use chunky instead."), "712.5 m"),
    # 1000 x 1.25
    (("How much DK do I need?", "for 1000 yards of worsted"), "1250 yd"),
]


@pytest.mark.parametrize(("texts", "length"), PIECE_BY_PIECE)
def test_what_is_told_piece_by_piece_is_read_together_and_says_so(texts: tuple[str, ...], length: str) -> None:
    assistant = Assistant(notebook=":memory:")
    *first, answer = [assistant.ask(text) for text in texts]
    assert [one.status for one in first] == ["unclear"] * len(first)
    assert (answer.status, plain(answer)["length"]) == ("answered", length)
    assert "together with what you said before" in answer.reading or "from before: " in answer.reading


@pytest.mark.parametrize(
    "texts",
    [
        ("I have 250 g", "it takes 250 g in all"),  # a number told again may be a reply, or put right
        ("How much DK do I need?", "no, for 1000 yards of worsted"),
        ("How much DK do I need?", "for 1000 yards of worsted" + ", which I like" * 60),
        ("the pattern takes 900 m of aran", "the pattern takes 1000 m of sport"),  # two needs are two questions
    ],
)
def test_texts_that_may_not_belong_together_are_not_read_so(texts: tuple[str, ...]) -> None:
    assert "together with" not in said(*texts).reading
