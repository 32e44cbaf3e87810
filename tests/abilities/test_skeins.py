"""Skeins: whole skeins by hand, always rounded up, by length and by mass."""

from __future__ import annotations

from dataclasses import replace

import pytest

from yarnchat.abilities.skeins import ABILITY
from yarnchat.quantity import Quantity
from yarnchat.queries import Colour, Price, PutUp, Query, Series, Yarn

from .asking import ask
from .yarns import BULKY, DK, SPORT, WORSTED, Expected, declined, everything, hold, need, wound


def count(colour: Colour, *labels: str | None, yarn: Yarn = Yarn()) -> Query:  # noqa: B008 - a frozen default
    return Query(colours=(colour,), yarns=(replace(yarn, put_up=wound(*labels)),))


SINGLE = [
    pytest.param(
        count(need(1430, unit="yd"), "200 yd"),
        {"length": (1430, "yd"), "skeins": 8, "spare": 1},
        id="1430/200 = 7.15 -> 8",
    ),
    pytest.param(
        count(need(1500, unit="m"), "50 m", "25 g"),
        {"skeins": 30, "mass": (750, "g")},
        id="1500/50 = 30, not 31; 30 x 25 = 750 g",
    ),
    pytest.param(
        count(need(1750, unit="yd"), "437 yd"),
        {"skeins": 5},
        id="1750/437 = 4.005 -> 5",
    ),
    pytest.param(
        count(need(900, unit="yd"), "280 m", "100 g"),
        {"length": (900, "yd"), "skeins": 3, "mass": (293.9143, "g")},
        id="900 yd = 822.96 m; /280 = 2.94 -> 3; 822.96/2.8 = 293.914 g",
    ),
    pytest.param(
        count(need(22, unit="oz"), None, "50 g"),
        {"mass": (22, "oz"), "skeins": 13, "spare": 1},
        id="22 x 28.349523 = 623.69 g; /50 = 12.47 -> 13",
    ),
    pytest.param(
        count(need(800, unit="g"), "120 m", "50 g"),
        {"length": (1920, "m"), "skeins": 16},
        id="800 g x 120/50 = 1920 m; /120 = 16",
    ),
    pytest.param(
        replace(count(need(1250, unit="m"), "115 m", "50 g"), spares=0),
        {"skeins": 11, "spare": 0},
        id="1250/115 = 10.87 -> 11, no spare asked for",
    ),
    pytest.param(
        Query(colours=(need(1500, unit="m"),), yarns=(Yarn(put_up=wound("120 m"), price=Price(4.95, "€")),)),
        {"skeins": 13, "cost": (69.3, "€")},
        id="1500/120 = 12.5 -> 13; 14 x 4.95 = 69.30",
    ),
    pytest.param(
        Query(pattern=replace(DK, put_up=wound("231 yd", "100 g")), colours=(need(1450, unit="yd"),)),
        {"skeins": 7, "spare": 1},
        id="the pattern's own yarn: 1450/231 = 6.28 -> 7",
    ),
    pytest.param(
        Query(
            pattern=Yarn(put_up=wound("231 yd")),
            colours=(need(6, unit="skein"),),
            yarns=(Yarn(put_up=wound("200 yd")),),
        ),
        {"length": (1386, 1155, 1386, "yd"), "skeins": 7, "spare": 1},
        id="6 x 231 = 1386; /200 = 6.93 -> 7; low end 5 x 231 = 1155",
    ),
]


@pytest.mark.parametrize(("query", "expected"), SINGLE)
def test_single(query: Query, expected: Expected) -> None:
    hold(ask(ABILITY, query).figures, expected)


def test_sizes() -> None:
    query = replace(count(need(880, 970, 1070, 1180, unit="yd"), "231 yd"))
    # /231: 3.81 -> 4, 4.20 -> 5, 4.63 -> 5, 5.11 -> 6
    assert [part.figures["skeins"] for part in ask(ABILITY, query).sizes] == [4, 5, 5, 6]


def test_picked_size_answers_as_one() -> None:
    query = replace(count(need(1050, 1150, 1260, 1390, unit="yd"), "200 yd"), pick="3")
    draft = ask(ABILITY, query)
    # 1260/200 = 6.3 -> 7
    hold(draft.figures, {"length": (1260, "yd"), "skeins": 7})
    assert not draft.sizes


def test_some_of_the_sizes() -> None:
    query = replace(count(need(1050, 1150, 1260, 1390, unit="yd"), "200 yd"), pick="2nd and 4th")
    # 1150/200 = 5.75 -> 6; 1390/200 = 6.95 -> 7
    assert [(part.name, part.figures["skeins"]) for part in ask(ABILITY, query).sizes] == [("size 2", 6), ("size 4", 7)]


def test_what_colours_cost_together() -> None:
    colours = (replace(need(700, unit="m"), name="MC"), replace(need(220, unit="m"), name="CC"))
    yarn = Yarn(put_up=wound("115 m", "50 g"), price=Price(4.2, "£"))
    draft = ask(ABILITY, Query(colours=colours, yarns=(yarn,)))
    # 700/115 = 6.09 -> 7 and a spare, 33.60; 220/115 = 1.91 -> 2, 8.40
    hold(draft.figures, {"cost": (42.0, "£")})
    assert "£42.00 in all" in draft.headline


def test_counted_skeins_cost_what_they_cost() -> None:
    yarn = Yarn(put_up=wound("231 yd"), price=Price(19, "$"))
    draft = ask(ABILITY, Query(colours=(need(7, unit="skein"),), yarns=(yarn,)))
    # 7 x 19 = 133; 7 x 231 = 1617
    hold(draft.figures, {"skeins": 7, "spare": 0, "cost": (133, "$"), "length": (1617, "yd")})


PICKS = [("first", 640), ("last", 810), ("M", 720), ("middle", 720), ("3", 810)]


@pytest.mark.parametrize(("pick", "length"), PICKS)
def test_size_picked_by_name_number_or_word(pick: str, length: float) -> None:
    query = replace(count(need(640, 720, 810, unit="m"), "115 m"), sizes=("S", "M", "L"), pick=pick)
    hold(ask(ABILITY, query).figures, {"length": (length, "m")})


def test_name_of_a_size_wins_over_its_number() -> None:
    query = replace(count(need(350, 420, 500, unit="yd"), "200 yd"), sizes=("2", "4", "6"), pick="2")
    hold(ask(ABILITY, query).figures, {"length": (350, "yd")})


def test_pure_length_has_no_range_and_no_ratio() -> None:
    draft = ask(ABILITY, count(need(1430, unit="yd"), "200 yd"))
    assert "ratio" not in draft.figures
    assert "range" not in draft.headline
    assert "dye lot" in everything(draft)


def test_two_weights_are_converted_all_the_same() -> None:
    query = Query(pattern=WORSTED, colours=(need(800, unit="m"),), yarns=(replace(BULKY, put_up=wound("100 m")),))
    # 13.5/18 = 0.75 x 800 = 600
    hold(ask(ABILITY, query).figures, {"length": (600, "m"), "skeins": 6, "ratio": 0.75})


UNCLEAR = [
    (Query(colours=(need(900, unit="m"),)), "put-up"),
    (Query(yarns=(Yarn(put_up=wound("210 yd")),)), "Skeins for how much"),
    (Query(pattern=replace(WORSTED, put_up=wound("210 yd")), colours=(need(5, unit="skein"),)), "already"),
    (count(need(900, unit="m"), None, "50 g"), "put-up"),
    (count(need(6, unit="skein"), "200 yd"), "put-up"),
    (
        Query(
            pattern=Yarn(put_up=wound("220 yd")),
            colours=(need(900, unit="yd"),),
            yarns=(Yarn(put_up=wound("400 yd")),),
        ),
        "220 yd or of 400 yd",
    ),
    (Query(colours=(need(900, unit="yd"),), yarns=(DK, SPORT)), "Several"),
    (
        Query(
            pattern=WORSTED,
            colours=(need(300, unit="g"),),
            yarns=(replace(BULKY, put_up=wound(None, "50 g")),),
        ),
        "Mass does not carry over",
    ),
    (
        Query(
            colours=(need(900, unit="yd"),),
            yarns=(Yarn(put_up=PutUp(Quantity(1800, "yd"), Quantity(1, "lb"), per_skein=False)),),
        ),
        "put-up",
    ),
    (
        Query(
            colours=(Colour("", (Series((640.0,), "m"), Series((220.0,), "m"))),),
            yarns=(Yarn(put_up=wound("70 m")),),
        ),
        "640 m and 220 m do not agree",
    ),
]


@pytest.mark.parametrize(("query", "words"), UNCLEAR)
def test_what_is_missing_is_asked_for(query: Query, words: str) -> None:
    refusal = declined(ABILITY, query)
    assert refusal.status == "unclear"
    assert words in refusal.sentence


@pytest.mark.parametrize("length", [0.0, -1.0, float("inf"), 300_000.0])
def test_impossible_lengths_are_refused(length: float) -> None:
    assert declined(ABILITY, count(need(length, unit="yd"), "200 yd")).status == "refused"


LENGTH_AND_SKEINS = [
    # 5 x 231 = 1155 holds 1100, 4 x 231 = 924 does not: rounded up, so the length counts
    (5, 1100, wound("231 yd"), 1100),
    # within 3 %: 3 x 310 = 930 against 955
    (3, 955, wound("310 yd"), 955),
    # no put-up: 1100 yd is longer than any one skein, so it is the length of all
    (5, 1100, None, 1100),
]


@pytest.mark.parametrize(("skeins", "length", "label", "counts"), LENGTH_AND_SKEINS)
def test_length_beside_skeins(skeins: float, length: float, label: PutUp | None, counts: float) -> None:
    amounts = (Series((float(skeins),), "skein"), Series((float(length),), "yd"))
    query = Query(
        pattern=replace(WORSTED, put_up=label),
        colours=(Colour("", amounts),),
        yarns=(replace(WORSTED, put_up=wound("200 yd")),),
    )
    hold(ask(ABILITY, query).figures, {"length": (counts, "yd")})


def test_mass_beside_a_length_must_make_the_class() -> None:
    def asked(grams: float) -> Query:
        amounts = (Series((1100.0,), "yd"), Series((grams,), "g"))
        return Query(pattern=DK, colours=(Colour("", amounts),), yarns=(replace(DK, put_up=wound("230 yd")),))

    # 1100 yd = 1005.84 m in 450 g is 223.5 m/100 g: DK (182-242); in 100 g it is 1006 m/100 g: lace
    hold(ask(ABILITY, asked(450)).figures, {"length": (1100, "yd"), "skeins": 5})
    assert "beside" in declined(ABILITY, asked(100)).sentence
