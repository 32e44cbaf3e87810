"""Compare: each candidate's figures by hand, the cheapest and the least wasteful named."""

from __future__ import annotations

from dataclasses import replace

import pytest

from yarnchat import Assistant
from yarnchat.abilities.compare import ABILITY
from yarnchat.language.reader import read
from yarnchat.quantity import Quantity
from yarnchat.queries import Price, PutUp, Query, Yarn

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


def test_without_a_pattern_prices_are_per_so_much() -> None:
    # 4.95 / 125 x 100 = 3.96; 9.50 / 230 x 100 = 4.1304
    small = Yarn(put_up=wound("125 m", "50 g"), price=Price(4.95, ""))
    large = Yarn(put_up=wound("230 m", "100 g"), price=Price(9.5, ""))
    draft = ask(ABILITY, Query(yarns=(small, large)))
    hold(draft.yarns[0].figures, {"price": (3.96, "per 100 m")})
    hold(draft.yarns[1].figures, {"price": (4.1304348, "per 100 m")})
    assert draft.headline == "125 m/50 g is cheaper. Per 100 m: 125 m/50 g 3.96, 230 m/100 g 4.13."


def test_skeins_of_no_told_length_go_by_their_mass() -> None:
    # 5 / 50 x 100 = 10; 9 / 100 x 100 = 9
    yarns = (
        Yarn(put_up=PutUp(mass=Quantity(50, "g")), price=Price(5, "£")),
        Yarn(put_up=wound("230 m", "100 g"), price=Price(9, "£")),
    )
    assert "Per 100 g: " in ask(ABILITY, Query(yarns=yarns)).headline
    assert declined(ABILITY, Query(yarns=(yarns[0], replace(yarns[1], price=Price(9, "$"))))).status == "unclear"


ASKED = [
    # 1100 / 200 = 5.5: 6 + 1 at 11 = 77; 1100 / 115 = 9.6: 10 + 1 at 6.20 = 68.20; 1100 / 390 = 2.8: 3 + 1 at 19 = 76
    (
        (
            "Three yarns to choose from for 1100 yd of worsted: A 100g/200yd at £11, B 50g/115yd at £6.20, "
            "C 200g/390yd at £19. Which is cheapest?"
        ),
        {"A": 6, "B": 10, "C": 3},
    ),
    # 1000 x 22.5/18 = 1250; / 225 = 5.6: 6; 1000 / 170 = 5.9: 6
    ("compare DK 225 m at €7 and aran 170 m at €6 for 1000 m of worsted", {"DK": 6, "aran": 6}),
    # 950 x 22.5/24.5 = 872.4, / 117.5 = 7.4: 8; 950 x 18/24.5 = 698.0, / 92.5 = 7.5: 8
    (
        (
            "The pattern takes 950 m of sport. How many balls will it be in Skarholt DK, 50 g / 117,5 m, and how many "
            "in Tangmark Worsted, 50 g / 92,5 m?"
        ),
        {"Skarholt DK": 8, "Tangmark Worsted": 8},
    ),
    # 1150 x 22.5/18 = 1437.5, / 100: 15; 1150 x 13.5/18 = 862.5, / 110 = 7.8: 8
    (
        (
            "1150 m of 10 ply. I'm choosing between Wirrimbla 8 Ply (50 g, 100 m) and Curlew Flat "
            "12 Ply (100 g, 110 m). How many balls of each?"
        ),
        {"Wirrimbla": 15, "Curlew Flat": 8},
    ),
]


@pytest.mark.parametrize(("text", "skeins"), ASKED)
def test_a_choice_as_typed(text: str, skeins: dict[str, int]) -> None:
    answer = Assistant(notebook=":memory:").ask(text)
    assert (answer.status, answer.ability) == ("answered", "compare")
    assert {yarn.name: yarn.figures["skeins"] for yarn in answer.yarns} == skeins


def test_a_bare_number_at_a_put_up_is_its_price() -> None:
    answer = Assistant(notebook=":memory:").ask("is 50g/125m at 4.95 cheaper than 100g/230m at 9.50?")
    assert [yarn.name for yarn in answer.yarns] == ["125 m/50 g", "230 m/100 g"]
    hold(answer.yarns[0].figures, {"price": (3.96, "per 100 m")})


@pytest.mark.parametrize(
    ("text", "name"),
    [
        ("1000 m of 4 ply in Nettlefold 5 Ply, 50 g/160 m?", "Nettlefold"),
        ("1000 m of 4 ply in Nettlefold 8 Ply, 50 g/110 m?", "Nettlefold"),
        ("1000 m of 4 ply in my 5 Ply, 50 g/160 m?", None),
        ("1000 m of 4 ply in Lovely 5 ply, 50 g/160 m?", None),
    ],
)
def test_a_word_with_a_capital_right_before_its_ply_is_a_name(text: str, name: str | None) -> None:
    [yarn] = read(text).query.yarns
    assert yarn.name == name
