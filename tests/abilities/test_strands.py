"""Strands: combined grist = 1 / Σ(1/grist), by hand; classes by the published tables of length per mass."""

from __future__ import annotations

from dataclasses import replace

import pytest

from yarnchat.abilities.strands import ABILITY
from yarnchat.queries import Query, Yarn

from .asking import ask
from .yarns import DK, FINGERING, LACE, SPORT, WORSTED, Expected, declined, everything, hold, need, wound

TOGETHER = [
    pytest.param(
        Query(yarns=(replace(FINGERING, strands=2, put_up=wound("400 m", "100 g")),)),
        {
            "grist": (200, "m/100 g"),
            "weight_class": ["DK", "worsted"],
            "gauge": (22.5, 21, 24, "sts to 4 in"),
        },
        id="400/2 = 200: DK 182-242 (Spin-Off), worsted 120-240 (encyclopaedia)",
    ),
    pytest.param(
        Query(yarns=(replace(DK, put_up=wound("220 m", "100 g")), replace(LACE, put_up=wound("800 m", "100 g")))),
        {"grist": (172.5490, "m/100 g"), "weight_class": ["worsted"], "gauge": (18, 16, 20, "sts to 4 in")},
        id="1/(1/220 + 1/800) = 172.549",
    ),
    pytest.param(
        Query(yarns=(replace(FINGERING, strands=3, put_up=wound("420 m", "100 g")),)),
        {"grist": (140, "m/100 g"), "weight_class": ["worsted"]},
        id="420/3 = 140",
    ),
    pytest.param(
        Query(
            yarns=(
                replace(SPORT, strands=2, put_up=wound("165 m", "50 g")),
                replace(LACE, put_up=wound("700 m", "100 g")),
            )
        ),
        {"grist": (133.52601, "m/100 g")},
        id="1/(2/330 + 1/700) = 231000/1730 = 133.52601",
    ),
    pytest.param(
        Query(yarns=(Yarn(strands=2, put_up=wound("400 yd", "100 g")),)),
        {"grist": (200, "yd/100 g")},
        id="400/2 = 200 yd/100 g, in the label's unit",
    ),
    pytest.param(
        Query(yarns=(replace(DK, strands=2),)),
        {"grist": (120.5, "m/100 g"), "weight_class": ["bulky", "worsted"]},
        id="DK: middles 212 and 270 of both tables, mean 241; /2 = 120.5",
    ),
    pytest.param(
        Query(
            yarns=(replace(FINGERING, strands=2, put_up=wound("400 m", "100 g")),),
            colours=(need(900, unit="m"),),
        ),
        {"grist": (200, "m/100 g"), "length": (1800, "m")},
        id="900 x 2 = 1800",
    ),
]


@pytest.mark.parametrize(("query", "expected"), TOGETHER)
def test_together(query: Query, expected: Expected) -> None:
    hold(ask(ABILITY, query).figures, expected)


def test_pattern_and_yarn_with_labels_are_held_together() -> None:
    query = Query(
        pattern=replace(DK, put_up=wound("220 m", "100 g")),
        yarns=(replace(LACE, put_up=wound("800 m", "100 g")),),
    )
    # 1/(1/220 + 1/800) = 172.549
    hold(ask(ABILITY, query).figures, {"grist": (172.5490, "m/100 g")})


def test_weight_of_the_pattern_is_not_a_strand() -> None:
    query = Query(pattern=DK, yarns=(replace(FINGERING, strands=2, put_up=wound("400 m", "100 g")),))
    hold(ask(ABILITY, query).figures, {"grist": (200, "m/100 g")})


def test_length_alone_needs_no_weight() -> None:
    draft = ask(ABILITY, Query(pattern=Yarn(strands=2), colours=(need(150, unit="m"),)))
    assert set(draft.figures) == {"length"}
    hold(draft.figures, {"length": (300, "m")})


def test_length_for_every_size() -> None:
    draft = ask(ABILITY, Query(pattern=Yarn(strands=3), colours=(need(100, 150, unit="m"),)))
    for part, length in zip(draft.sizes, (300, 450), strict=True):
        hold(part.figures, {"length": (length, "m")})


def test_how_many_to_a_class_lists_all_that_fit() -> None:
    draft = ask(ABILITY, Query(yarns=(FINGERING,), pattern=WORSTED, want="strands"))
    # fingering: middles 433.5 and 440, mean 436.75; /2 = 218 lies in 120-240, /3 = 146 in 121-181,
    # /4 = 109 in neither
    assert draft.figures["strands"] == ["2", "3"]
    assert "2 strands: 437 / 2 = 218 m/100 g" in draft.working
    assert "3 strands: 437 / 3 = 146 m/100 g" in draft.working


HOW_MANY = [
    Query(
        yarns=(replace(LACE, put_up=wound("800 m", "100 g")),),
        pattern=Yarn(put_up=wound("200 m", "100 g"), strands=1),
    ),
    Query(
        yarns=(
            replace(LACE, put_up=wound("800 m", "100 g")),
            Yarn(strands=1, put_up=wound("200 m", "100 g")),
        ),
        want="strands",
    ),
]


@pytest.mark.parametrize("query", HOW_MANY)
def test_how_many_to_a_label(query: Query) -> None:
    # 800/200 = 4
    draft = ask(ABILITY, query)
    hold(draft.figures, {"strands": 4, "grist": (200, "m/100 g")})
    assert "4 strands" in draft.headline


def test_swatching_is_advised() -> None:
    assert "swatch" in everything(ask(ABILITY, Query(yarns=(replace(DK, strands=2),))))


UNCLEAR = [
    (Query(), "Which yarns"),
    (Query(yarns=(DK,)), "How many strands"),
    (Query(yarns=(Yarn(name="Peatmoor", strands=2),)), "What weight"),
    (Query(yarns=(LACE,), pattern=Yarn(name="Peatmoor"), want="strands"), "What weight"),
    (Query(yarns=(LACE,), pattern=DK), "held together, or"),
    (
        Query(yarns=(replace(FINGERING, strands=2),), pattern=replace(DK, put_up=wound("220 m", "100 g"))),
        "held with them too",
    ),
]


@pytest.mark.parametrize(("query", "words"), UNCLEAR)
def test_what_is_missing_is_asked_for(query: Query, words: str) -> None:
    refusal = declined(ABILITY, query)
    assert refusal.status == "unclear"
    assert words in refusal.sentence


def test_too_many_strands_are_refused() -> None:
    assert declined(ABILITY, Query(yarns=(replace(DK, strands=21),))).status == "refused"
