"""Enough: what is held against what is needed, by hand, and how sure the verdict may be."""

from __future__ import annotations

from dataclasses import replace

import pytest

from yarnchat.abilities.enough import ABILITY
from yarnchat.queries import Query, Yarn

from .asking import ask
from .yarns import (
    ARAN,
    BULKY,
    DK,
    FINGERING,
    SPORT,
    WORSTED,
    Expected,
    declined,
    everything,
    held,
    hold,
    need,
    sts,
    wound,
)  # fmt: skip

ROWS = [
    pytest.param(
        Query(colours=(need(9, unit="skein"),), stash=(held(6, "skein"),)),
        {"enough": False, "have": (6, "skein"), "need": (9, "skein"), "short": (3, "skein"), "skeins": 3},
        id="9 - 6 = 3 skeins of one yarn",
    ),
    pytest.param(
        Query(colours=(need(480, unit="m"),), stash=(held(3, "skein", Yarn(put_up=wound("175 m", "50 g"))),)),
        {"enough": True, "have": (525, "m"), "need": (480, "m"), "left_over": (45, "m")},
        id="3 x 175 = 525, 45 over",
    ),
    pytest.param(
        Query(
            pattern=FINGERING,
            colours=(need(1500, unit="m"),),
            stash=(held(6, "skein", replace(ARAN, put_up=wound("110 m", "50 g"))),),
        ),
        # range: u 5/2/√3/29.5 = 4.893 %, 2/√3/18 = 6.415 %, model 8 %: twice 11.3616 % = 22.7232 %
        {
            "enough": False,
            "have": (660, "m"),
            "need": (915.2542, 707.2745, 1123.2339, "m"),
            "short": (255.2542, "m"),
            "skeins": 3,
        },
        id="1500 x 18/29.5 = 915.254, 6 x 110 = 660; 255.25/110 = 2.32 -> 3",
    ),
    pytest.param(
        Query(
            pattern=WORSTED,
            colours=(need(950, unit="yd"),),
            stash=(held(4.5, "skein", replace(WORSTED, put_up=wound("210 yd"))),),
        ),
        {"enough": False, "have": (945, "yd"), "need": (950, "yd"), "short": (5, "yd"), "skeins": 1},
        id="4.5 x 210 = 945, 5 short",
    ),
    pytest.param(
        Query(colours=(need(720, unit="m"),), stash=(held(8, "skein", Yarn(put_up=wound("90 m"))),)),
        {"enough": True, "have": (720, "m"), "left_over": (0, "m")},
        id="8 x 90 = 720, exactly enough",
    ),
    pytest.param(
        Query(colours=(need(720, unit="yd"),), stash=(held(5, "skein", Yarn(put_up=wound("125 m"))),)),
        {"enough": False, "have": (683.5083, "yd"), "short": (36.4917, "yd"), "skeins": 1},
        id="5 x 125 = 625 m / 0.9144 = 683.508 yd",
    ),
    pytest.param(
        Query(
            colours=(need(500, unit="m"),),
            stash=(held(4, "skein", Yarn(put_up=wound("120 m", "50 g"))), held(22, "g")),
        ),
        {"enough": True, "have": (532.8, "m"), "left_over": (32.8, "m")},
        id="4 x 120 + 22 x 120/50 = 480 + 52.8",
    ),
    pytest.param(
        Query(
            pattern=WORSTED,
            colours=(need(900, unit="m"),),
            stash=(
                held(6, "skein", replace(WORSTED, put_up=wound("85 m"))),
                held(2, "skein", replace(WORSTED, put_up=wound("130 m"))),
            ),
        ),
        {"enough": False, "have": (770, "m"), "short": (130, "m"), "skeins": 2},
        id="6 x 85 + 2 x 130 = 770; 130/85 = 1.53 -> 2 of the first put-up",
    ),
    pytest.param(
        Query(
            pattern=BULKY,
            colours=(need(600, unit="yd"),),
            stash=(held(340, "g", replace(WORSTED, put_up=wound("200 yd", "100 g"))),),
        ),
        {"enough": False, "have": (680, "yd"), "need": (800, 606.4697, 993.5303, "yd"), "short": (120, "yd")},
        id="340 x 2 = 680; 600 x 18/13.5 = 800; range ±24.1913 %",
    ),
    pytest.param(
        Query(
            pattern=BULKY,
            colours=(need(220, unit="yd"),),
            same_gauge=True,
            stash=(held(2, "skein", replace(DK, strands=2, put_up=wound("231 yd"))),),
        ),
        {"enough": True, "have": (462, "yd"), "need": (440, "yd"), "left_over": (22, "yd")},
        id="2 x 231 = 462; 220 x 2 strands = 440",
    ),
    pytest.param(
        Query(
            pattern=Yarn(gauge=sts(22)),
            colours=(need(1100, unit="m"),),
            stash=(held(5, "skein", Yarn(gauge=sts(25), put_up=wound("270 m"))),),
        ),
        {"enough": True, "have": (1350, "m"), "left_over": (100, "m")},
        id="1100 x 25/22 = 1250; 5 x 270 = 1350",
    ),
    pytest.param(
        Query(pattern=WORSTED, colours=(need(950, unit="yd"),), yarns=(DK,), stash=(held(1100, "yd"),)),
        {"enough": False, "have": (1100, "yd"), "short": (87.5, "yd")},
        id="950 x 22.5/18 = 1187.5, no put-up so no skeins",
    ),
    pytest.param(
        Query(colours=(need(300, unit="g"),), stash=(held(5, "skein", Yarn(put_up=wound(None, "50 g"))),)),
        {"enough": False, "have": (250, "g"), "need": (300, "g"), "short": (50, "g"), "skeins": 1},
        id="by mass alone: 5 x 50 = 250 g of 300 g",
    ),
]


@pytest.mark.parametrize(("query", "expected"), ROWS)
def test_rows(query: Query, expected: Expected) -> None:
    draft = ask(ABILITY, query)
    hold(draft.figures, expected)
    assert not (draft.figures["enough"] and "skeins" in draft.figures), "nothing to buy where it is enough"


VERDICTS = [
    # 1000 m of DK in worsted: 800 m, range ±21.906 %: 624.75-975.25
    (980, "Surely enough"),
    (970, "Probably enough, but not surely"),
    (800, "Probably enough, but not surely"),
    (790, "Probably not enough"),
    (620, "Surely not enough"),
]


@pytest.mark.parametrize(("have", "words"), VERDICTS)
def test_how_sure(have: float, words: str) -> None:
    query = Query(pattern=DK, colours=(need(1000, unit="m"),), stash=(held(have, "m", WORSTED),))
    draft = ask(ABILITY, query)
    assert draft.headline.startswith(words)
    assert draft.figures["enough"] is (have >= 800)


def test_no_conversion_is_said_to_be_exact() -> None:
    query = Query(colours=(need(1250, unit="yd"),), stash=(held(6, "skein", Yarn(put_up=wound("220 yd"))),))
    draft = ask(ABILITY, query)
    assert draft.headline.startswith("Yes, enough")
    assert "exact" in everything(draft)


def test_sizes() -> None:
    query = Query(
        pattern=DK,
        colours=(need(840, 920, 1010, unit="m"),),
        stash=(held(8, "skein", replace(DK, put_up=wound("115 m"))),),
    )
    # 8 x 115 = 920: enough for 840 and 920, 90 short for 1010
    parts = ask(ABILITY, query).sizes
    assert [part.figures["enough"] for part in parts] == [True, True, False]
    hold(parts[2].figures, {"short": (90, "m"), "skeins": 1})


UNCLEAR = [
    (Query(stash=(held(6, "skein"),)), "put-up|How much does the pattern"),
    (Query(colours=(need(900, unit="yd"),)), "How much have you"),
    (Query(colours=(need(900, unit="yd"),), stash=(held(6, "skein"),)), "put-up"),
    (
        Query(colours=(need(900, unit="m"),), stash=(held(500, "m", DK), held(500, "m", BULKY))),
        "different weights",
    ),
    (
        Query(colours=(need(9, unit="m", name="A"), need(9, unit="m", name="B")), stash=(held(50, "m"),)),
        "one colour",
    ),
    (
        Query(pattern=WORSTED, colours=(need(950, unit="yd"),), yarns=(SPORT,), stash=(held(1100, "yd", DK),)),
        "or what you have",
    ),
    (
        Query(
            colours=(need(380, unit="m"),),
            yarns=(Yarn(put_up=wound("365 m")),),
            stash=(held(1, "skein", Yarn(put_up=wound("400 m"))),),
        ),
        "or what you have",
    ),
]


@pytest.mark.parametrize(("query", "words"), UNCLEAR)
def test_what_is_missing_is_asked_for(query: Query, words: str) -> None:
    refusal = declined(ABILITY, query)
    assert refusal.status == "unclear"
    assert any(word in refusal.sentence for word in words.split("|"))


@pytest.mark.parametrize("amount", [0.0, -3.0, float("nan")])
def test_impossible_holdings_are_refused(amount: float) -> None:
    query = Query(colours=(need(300, unit="m"),), stash=(held(amount, "skein", Yarn(put_up=wound("125 m"))),))
    assert declined(ABILITY, query).status == "refused"
