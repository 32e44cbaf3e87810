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


FOLLOW_UPS = [
    # a unit told alone is that of the number left over: 1200 x 1.25
    (("1200 of worsted in DK", "yards, sorry"), "1500 yd"),
    # a length that was converted, and the weight it is of: 1750 x 0.9144 x 1.25
    (("convert 1750 yards to metres", "that's worsted, how much in DK?"), "2000.2 m"),
    # each in the other's place: 1000 / 1.25
    (("1000 yd worsted pattern in DK, 230 yd a skein", "no, the other way round"), "800 yd"),
    # the pattern of before in the yarn told now: 1300 x 1.25
    (("I have a worsted pattern", "it takes 1300 yds, and the yarn is a DK, 250 yds a skein"), "1625 yd"),
    # the pattern's weight told anew, and the need kept: from DK to fingering (29.5) 1000 x 29.5 / 22.5
    (("1000 yd worsted pattern in DK, 230 yd", "and a DK pattern in fingering, 420 yds?"), "1311.1 yd"),
    # a length of the pattern's is no skein's: 420 x 29.5 / 22.5
    (("1000 yd worsted pattern in DK, 230 yd", "and a DK pattern of 420 yds in fingering?"), "550.7 yd"),
    # large for L: 1120 x 1.25
    (("pattern in S (M, L): 900 (1000, 1120) yd of worsted. DK 240 yd", "what about large?"), "1400 yd"),
]


@pytest.mark.parametrize(("texts", "length"), FOLLOW_UPS)
def test_what_leans_on_the_question_before(texts: tuple[str, ...], length: str) -> None:
    answer = said(*texts)
    assert (answer.status, plain(answer)["length"]) == ("answered", length)


@pytest.mark.parametrize(
    "texts",
    [
        # with which of the two?
        ("what do I get if I hold a lace and a DK together", "and with a sport?"),
        # besides the two, or in their place?
        ("I've 3 balls of 115 m, need 550 m. Would 2 more do it?", "what about just 1 more"),
        # the 1200 would be lost
        ("1200 of worsted in DK 230 yd", "in metres?"),
        # which way round, with 420 yd of which?
        ("1000 yd worsted pattern in DK, 230 yd", "the other way around, 420 yds"),
        # one skein of several is another
        ("8 skeins of worsted, 210 yd a skein, how long?", "I found one with 230 in it"),
    ],
)
def test_what_may_be_meant_either_way_is_asked_about(texts: tuple[str, ...]) -> None:
    answer = said(*texts)
    assert (answer.status, answer.figures) == ("unclear", {})


def test_what_she_has_may_be_for_another_pattern() -> None:
    # 6 x 115 = 690; from aran (as worsted) to DK 500 x 1.25 = 625; 690 - 625 = 65
    figures = plain(
        said("6 balls of DK at 115 m, the pattern wants 650 m of DK. Enough?", "what about an aran one, 500 m")
    )
    assert (figures["have"], figures["need"], figures["left_over"]) == ("690 m", "625 m", "65 m")


def test_skeins_she_has_with_a_length_behind_are_wound_so() -> None:
    # 4 x 210 = 840; from DK to worsted 950 x 18 / 22.5 = 760; 840 - 760 = 80
    figures = plain(said("What I have: 4 skeins worsted, 210 yd", "What I want to make: 950 yd DK cardigan"))
    assert (figures["have"], figures["need"], figures["left_over"]) == ("840 yd", "760 yd", "80 yd")
