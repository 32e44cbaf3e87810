"""Compare: each candidate's figures by hand, the cheapest and the least wasteful named."""

from __future__ import annotations

from dataclasses import replace

import pytest

from yarnchat.abilities.compare import ABILITY
from yarnchat.queries import Price, Query, Yarn

from .asking import ask
from .yarns import ARAN, BULKY, DK, FINGERING, SPORT, WORSTED, declined, everything, hold, need, wound

CANDIDATES = (
    replace(DK, put_up=wound("230 yd", "100 g"), price=Price(12, "$")),
    replace(FINGERING, put_up=wound("420 yd"), price=Price(22, "$")),
)
COAT = Query(pattern=WORSTED, colours=(need(1200, unit="yd"),), yarns=CANDIDATES)


def test_figures_of_each_candidate() -> None:
    dk, fingering = ask(ABILITY, COAT).yarns
    # DK 1200 x 22.5/18 = 1500; /230 = 6.52 -> 7; 7 x 230 - 1500 = 110; 8 x 12 = 96; 1500/2.3 = 652.174 g
    hold(
        dk.figures,
        {"length": (1500, "yd"), "skeins": 7, "spare": 1, "left_over": (110, "yd"), "cost": (96, "$")},
    )
    hold(dk.figures, {"mass": (652.17391, "g")})
    # fingering 1200 x 29.5/18 = 1966.667; /420 = 4.68 -> 5; 2100 - 1966.667 = 133.333; 6 x 22 = 132
    hold(fingering.figures, {"length": (1966.6667, "yd"), "skeins": 5, "left_over": (133.33333, "yd")})
    hold(fingering.figures, {"cost": (132, "$")})
    assert "mass" not in fingering.figures
    assert (dk.name, fingering.name) == ("DK", "fingering")


def test_headline_names_cheapest_and_least_wasteful() -> None:
    assert ask(ABILITY, COAT).headline == "Cheapest: DK ($96.00); least left over: DK (110 yd)."


def test_two_currencies_are_not_compared() -> None:
    yarns = (CANDIDATES[0], replace(CANDIDATES[1], price=Price(22, "£")))
    assert ask(ABILITY, replace(COAT, yarns=yarns)).headline.startswith("Fewest skeins: fingering (5)")


def test_one_class_in_two_put_ups() -> None:
    yarns = (replace(WORSTED, put_up=wound("220 yd")), replace(WORSTED, put_up=wound("197 yd")))
    draft = ask(ABILITY, Query(pattern=WORSTED, colours=(need(1300, unit="yd"),), yarns=yarns))
    # 1300/220 = 5.91 -> 6, 20 over; 1300/197 = 6.60 -> 7, 79 over
    assert [part.figures["skeins"] for part in draft.yarns] == [6, 7]
    assert [part.name for part in draft.yarns] == ["worsted, 220 yd a skein", "worsted, 197 yd a skein"]
    assert "20 yd" in draft.headline


def test_without_put_ups_the_least_yarn_is_named() -> None:
    draft = ask(ABILITY, Query(pattern=DK, colours=(need(900, unit="m"),), yarns=(ARAN, BULKY)))
    # 900 x 0.8 = 720, 900 x 0.6 = 540
    assert draft.headline == "Least yarn: bulky (540 m)."
    hold(draft.yarns[0].figures, {"length": (720, "m")})


def test_sizes_of_each_candidate() -> None:
    yarns = (replace(DK, put_up=wound("230 yd")), replace(SPORT, put_up=wound("325 yd")))
    query = Query(pattern=WORSTED, colours=(need(1000, 1100, unit="yd"),), sizes=("S", "M"), yarns=yarns)
    dk, sport = ask(ABILITY, query).yarns
    # DK 1250/230 = 5.43 -> 6, 1375/230 = 5.98 -> 6; sport 1361.11/325 = 4.19 -> 5, 1497.22/325 = 4.61 -> 5
    assert [(size.name, size.figures["skeins"]) for size in dk.sizes] == [("S", 6), ("M", 6)]
    hold(sport.sizes[1].figures, {"length": (1497.2222, "yd"), "skeins": 5})


def test_colours_are_rounded_up_apart_then_added() -> None:
    yarns = (
        replace(WORSTED, put_up=wound("200 yd", "100 g")),
        replace(WORSTED, put_up=wound("100 yd", "50 g")),
    )
    query = Query(
        pattern=WORSTED, colours=(need(450, unit="yd", name="A"), need(150, unit="yd", name="B")), yarns=yarns
    )
    first, second = ask(ABILITY, query).yarns
    # 450/200 -> 3, 150/200 -> 1: 4, 800 - 600 = 200 over; 450/100 -> 5, 150/100 -> 2: 7, 100 over
    hold(first.figures, {"length": (600, "yd"), "skeins": 4, "left_over": (200, "yd"), "mass": (300, "g")})
    hold(second.figures, {"skeins": 7, "left_over": (100, "yd")})


def test_dye_lot_is_said() -> None:
    assert "dye lot" in everything(ask(ABILITY, COAT))


UNCLEAR = [
    (replace(COAT, yarns=CANDIDATES[:1]), "Which yarns"),
    (replace(COAT, yarns=CANDIDATES * 4), "Which yarns"),
    (replace(COAT, colours=()), "How much does the pattern take"),
    (replace(COAT, pattern=Yarn()), "What weight or gauge is the pattern's yarn"),
    (replace(COAT, yarns=(BULKY, Yarn(put_up=wound("100 m")))), "What weight or gauge is the yarn"),
]


@pytest.mark.parametrize(("query", "words"), UNCLEAR)
def test_what_is_missing_is_asked_for(query: Query, words: str) -> None:
    refusal = declined(ABILITY, query)
    assert refusal.status == "unclear"
    assert words in refusal.sentence
