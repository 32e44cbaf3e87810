"""Measure: length = mass × put-up length / put-up mass, by hand."""

from __future__ import annotations

from dataclasses import replace

import pytest

from yarnchat.abilities.measure import ABILITY
from yarnchat.quantity import Quantity
from yarnchat.queries import Measured, PutUp, Query, Yarn

from .asking import ask
from .yarns import BULKY, SPORT, Expected, declined, held, hold, need, wound

YD_420 = Yarn(put_up=wound("420 yd", "100 g"))
M_420 = Yarn(put_up=wound("420 m", "100 g"))
M_115 = Yarn(put_up=wound("115 m", "50 g"))

SINGLE = [
    pytest.param(Query(stash=(held(37, "g", YD_420),)), {"length": (155.4, "yd")}, id="37 x 4.2 = 155.4"),
    pytest.param(
        Query(stash=(held(2, "oz", Yarn(put_up=wound("230 yd", "100 g"))),)),
        {"length": (130.407806, "yd")},
        id="2 x 28.349523125 x 2.3 = 130.4078",
    ),
    pytest.param(
        Query(stash=(held(12, "g"), held(18, "g"), held(9, "g")), yarns=(Yarn(put_up=wound("200 m", "50 g")),)),
        {"length": (156, "m")},
        id="39 g x 4 = 156",
    ),
    pytest.param(Query(stash=(held(3.5, "skein", M_115),)), {"length": (402.5, "m")}, id="3.5 x 115 = 402.5"),
    pytest.param(Query(stash=(held(3.5, "skein", M_115),), want="mass"), {"mass": (175, "g")}, id="3.5 x 50 = 175"),
    pytest.param(
        Query(colours=(need(5, unit="skein"),), pattern=Yarn(put_up=PutUp(mass=Quantity(50, "g"))), want="oz"),
        {"mass": (8.818490, "oz")},
        id="5 x 50 = 250 g / 28.349523125 = 8.81849",
    ),
    pytest.param(
        Query(colours=(need(10, unit="g"),), pattern=Yarn(put_up=wound("220 yd", "100 g")), want="ft"),
        {"length": (66, "ft")},
        id="10 x 2.2 = 22 yd, 66 ft",
    ),
    pytest.param(Query(used=(held(72, "g", M_420),)), {"length": (302.4, "m")}, id="72 x 4.2 = 302.4"),
    pytest.param(
        Query(stash=(held(180, "yd", Yarn(put_up=wound("231 yd", "100 g"))),)),
        {"mass": (77.922078, "g")},
        id="180/2.31 = 77.922",
    ),
    pytest.param(
        Query(stash=(held(180, "yd", Yarn(put_up=wound("231 yd", "100 g"))),), want="oz"),
        {"mass": (2.748620, "oz")},
        id="77.922078/28.349523125 = 2.74862",
    ),
    pytest.param(
        Query(colours=(need(142, unit="g"),), pattern=Yarn(put_up=wound("800 m", "100 g")), want="yd"),
        {"length": (1242.344707, "yd")},
        id="142 x 8 = 1136 m / 0.9144 = 1242.345",
    ),
    pytest.param(
        Query(colours=(need(1000, unit="m"),), pattern=Yarn(put_up=wound("480 m", "100 g"))),
        {"mass": (208.333333, "g")},
        id="1000/4.8 = 208.333",
    ),
    pytest.param(
        Query(colours=(need(72, unit="g"),), pattern=M_420, want="mass"),
        {"length": (302.4, "m")},
        id="a mass asked of a mass: its length, 72 x 4.2",
    ),
    pytest.param(
        Query(colours=(need(350, unit="g"),), pattern=Yarn(put_up=wound("165 m", "100 g")), want="oz"),
        {"mass": (12.345887, "oz")},
        id="350 / 28.349523 = 12.345887, whatever its length",
    ),
    pytest.param(
        Query(colours=(need(7, unit="skein"),), pattern=Yarn(put_up=wound("218 yd"))),
        {"length": (1526, "yd")},
        id="7 x 218 = 1526",
    ),
    pytest.param(
        Query(measured=Measured(amount=Quantity(88, "g")), yarns=(Yarn(put_up=wound("215 m", "100 g")),)),
        {"length": (189.2, "m")},
        id="88 x 2.15 = 189.2",
    ),
]


@pytest.mark.parametrize(("query", "expected"), SINGLE)
def test_single(query: Query, expected: Expected) -> None:
    draft = ask(ABILITY, query)
    hold(draft.figures, expected)
    assert set(draft.figures) == set(expected)


def test_sizes_by_mass() -> None:
    draft = ask(ABILITY, Query(colours=(need(62, 74, 88, unit="g"),), sizes=("S", "M", "L"), pattern=M_420))
    # x 4.2
    for part, name, length in zip(draft.sizes, "SML", (260.4, 310.8, 369.6), strict=True):
        assert part.name == name
        hold(part.figures, {"length": (length, "m")})


def test_sizes_by_length() -> None:
    draft = ask(ABILITY, Query(colours=(need(820, 900, unit="yd"),), pattern=YD_420, want="mass"))
    # /4.2
    for part, mass in zip(draft.sizes, (195.238095, 214.285714), strict=True):
        hold(part.figures, {"mass": (mass, "g")})


def test_colours() -> None:
    draft = ask(ABILITY, Query(colours=(need(240, unit="g", name="MC"), need(60, unit="g", name="CC")), pattern=M_115))
    # x 2.3: 552, 138
    for part, length in zip(draft.colours, (552, 138), strict=True):
        hold(part.figures, {"length": (length, "m")})


UNCLEAR = [
    (Query(stash=(held(65, "g"),)), "length per mass is missing"),
    (Query(stash=(held(65, "g", Yarn(put_up=wound("100 m"))),)), "length per mass is missing"),
    (Query(stash=(held(2, "skein"),)), "put-up"),
    (Query(colours=(need(65, unit="g"),)), "put-up"),
    (Query(yarns=(YD_420,)), "How much of what yarn"),
    (
        Query(stash=(held(900, "m", SPORT),), pattern=replace(BULKY, put_up=wound("60 m", "50 g"))),
        "length per mass is missing",
    ),
    (Query(stash=(held(65, "g", M_420),), used=(held(20, "g", M_420),)), "have used"),
    (
        Query(used=(held(2.5, "skein", Yarn(put_up=wound("130 yd"))),), yarns=(Yarn(put_up=wound("210 yd")),)),
        "which label",
    ),
]


@pytest.mark.parametrize(("query", "words"), UNCLEAR)
def test_what_is_missing_is_asked_for(query: Query, words: str) -> None:
    refusal = declined(ABILITY, query)
    assert refusal.status == "unclear"
    assert words in refusal.sentence


def test_skein_of_no_mass_is_refused() -> None:
    query = Query(stash=(held(65, "g", replace(M_420, put_up=wound("210 yd", "0 g"))),))
    assert declined(ABILITY, query).status == "refused"


def test_skeins_of_skeins_are_asked_about() -> None:
    query = Query(colours=(need(7, unit="skein"),), pattern=Yarn(put_up=wound("218 yd")), want="skeins")
    assert "already" in declined(ABILITY, query).sentence
