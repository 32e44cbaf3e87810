"""Substitute: lengths, skeins, spare, mass and cost by hand, from the standard's middle gauges.

Middles of the classes (Craft Yarn Council): lace 36.5, fingering 29.5, sport 24.5, DK 22.5, worsted 18,
bulky 13.5. Where no side gives rows the ratio of yarn per area is the ratio of the stitch gauges.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from yarnchat.abilities.substitute import ABILITY
from yarnchat.answers import Ratio
from yarnchat.quantity import Quantity
from yarnchat.queries import Colour, Price, Query, Series, Yarn

from .asking import ask
from .yarns import (
    ARAN,
    BULKY,
    DK,
    FINGERING,
    LACE,
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


def yards(amount: float, pattern: Yarn, yarn: Yarn) -> Query:
    return Query(pattern=pattern, colours=(need(amount, unit="yd"),), yarns=(yarn,))


def metres(amount: float, pattern: Yarn, yarn: Yarn) -> Query:
    return Query(pattern=pattern, colours=(need(amount, unit="m"),), yarns=(yarn,))


SINGLE = [
    pytest.param(
        metres(900, DK, replace(ARAN, put_up=wound("80 m", "50 g"), price=Price(4.5, "£"))),
        {
            "ratio": 0.8,
            "length": (720, 562.278, 877.722, "m"),
            "skeins": 9,
            "spare": 1,
            "mass": (450, 351.423, 548.577, "g"),
            "cost": (45, "£"),
        },
        # u: worsted 2/√3/18 = 6.415 %, DK 1.5/√3/22.5 = 3.849 %, model 8 %:
        # root of squares 10.953 %, twice 21.906 %
        id="18/22.5 = 0.8 x 900 = 720; /80 = 9; 720 x 50/80 = 450 g; 10 x 4.50 = 45; range ±21.906 %",
    ),
    pytest.param(
        yards(1200, WORSTED, replace(FINGERING, put_up=wound("420 yd", "100 g"))),
        {"ratio": 1.638889, "length": (1966.6667, "yd"), "skeins": 5, "spare": 1, "mass": (468.254, "g")},
        id="29.5/18 = 1.638889 x 1200 = 1966.67; /420 = 4.68 -> 5; 1966.67/4.2 = 468.254 g",
    ),
    pytest.param(
        metres(1100, DK, replace(DK, put_up=wound("240 yd", "3.5 oz"))),
        {"ratio": 1.0, "length": (1100, "m"), "skeins": 6, "spare": 1},
        id="one class, ratio 1; 240 yd = 219.456 m; 1100/219.456 = 5.01 -> 6",
    ),
    pytest.param(
        Query(
            pattern=replace(WORSTED, put_up=wound("181 yd", "100 g")),
            colours=(need(6, 7, 8, 9, unit="skein"),),
            pick="4",
            yarns=(replace(DK, put_up=wound("225 m", "100 g")),),
        ),
        # low: 8 x 181 x 1.25 x (1 - 0.219059) = 1413.50; high: 9 x 181 x 1.25 x 1.219059 = 2482.31
        {"length": (2036.25, 1413.503, 2482.309, "yd"), "skeins": 9, "spare": 1},
        id="9 x 181 = 1629 x 22.5/18 = 2036.25 yd = 1861.95 m; /225 = 8.28 -> 9; low end one skein lower",
    ),
    pytest.param(
        yards(1180, replace(DK), Yarn(gauge=sts(5, "1 in"), put_up=wound("200 yd"))),
        {"ratio": 0.888889, "length": (1048.8889, "yd"), "skeins": 6, "spare": 1},
        id="20 to 4 in over 22.5 = 0.888889 x 1180 = 1048.889; /200 = 5.24 -> 6",
    ),
    pytest.param(
        metres(
            1250,
            replace(SPORT, gauge=sts(25, rows=34)),
            replace(DK, gauge=sts(22), put_up=wound("225 m", "100 g")),
        ),
        # D = √(23.1 S): √(23.1 x 2.5 x 3.4) = 14.01250;
        # √(23.1 x 2.2 x 2.2 x 5.5/4.2) = 12.1; 12.1/14.0125 = 0.863515
        {"ratio": 0.863515, "length": (1079.394, "m"), "skeins": 5, "spare": 1},
        id="12.1/14.0125 = 0.863515 x 1250 = 1079.39; /225 = 4.80 -> 5",
    ),
    pytest.param(
        replace(
            metres(
                0,
                replace(LACE, strands=2, put_up=wound("800 m", "100 g")),
                replace(DK, put_up=wound("225 m")),
            ),
            colours=(need(6, unit="skein"),),
            same_gauge=True,
        ),
        {"ratio": 1.0, "length": (2400, 2000, 2400, "m"), "skeins": 11, "spare": 1},
        id="6 x 800 / 2 strands = 2400; /225 = 10.67 -> 11; low end 5 x 800 / 2",
    ),
    pytest.param(
        replace(
            yards(1050, WORSTED, replace(FINGERING, strands=2, put_up=wound("400 yd", "100 g"))),
            same_gauge=True,
        ),
        {"ratio": 1.0, "length": (2100, "yd"), "skeins": 6, "spare": 1},
        id="1050 x 2 strands = 2100; /400 = 5.25 -> 6",
    ),
    pytest.param(
        replace(
            yards(1300, replace(FINGERING, strands=2), replace(FINGERING, strands=2, put_up=wound("462 yd"))),
            same_gauge=True,
        ),
        {"length": (1300, "yd"), "skeins": 3, "spare": 1},
        id="1300 / 2 x 2 = 1300; /462 = 2.81 -> 3",
    ),
    pytest.param(
        yards(
            900,
            replace(WORSTED, gauge=sts(20, "4 in")),
            Yarn(strands=3, gauge=sts(20, "4 in"), put_up=wound("870 yd")),
        ),
        {"ratio": 1.0, "length": (2700, "yd"), "skeins": 4},
        id="20/20 = 1 x 900 x 3 strands = 2700; /870 = 3.10 -> 4",
    ),
    pytest.param(
        yards(500, WORSTED, DK),
        {"ratio": 1.25, "length": (625, "yd")},
        id="22.5/18 = 1.25 x 500 = 625, no put-up",
    ),
    pytest.param(
        Query(
            pattern=replace(SPORT, put_up=wound("310 yd", "100 g")),
            colours=(Colour("", (Series((3.0,), "skein"), Series((930.0,), "yd"))),),
            yarns=(replace(WORSTED, put_up=wound("218 yd", "100 g")),),
        ),
        {"length": (683.2653, "yd"), "skeins": 4, "spare": 1},
        id="3 x 310 = 930, said twice; 930 x 18/24.5 = 683.27; /218 = 3.13 -> 4",
    ),
    pytest.param(
        Query(
            pattern=replace(FINGERING, put_up=wound("420 m", "100 g")),
            colours=(need(62, unit="g"),),
            yarns=(replace(DK, put_up=wound("225 m", "100 g")),),
        ),
        {"length": (198.6102, "m"), "skeins": 1, "spare": 1},
        id="62 g x 4.2 = 260.4 m x 22.5/29.5 = 198.61; /225 = 0.88 -> 1",
    ),
    pytest.param(
        replace(yards(1200, WORSTED, replace(DK, put_up=wound("250 yd", "100 g"))), want="oz", spares=2),
        {"length": (1500, "yd"), "skeins": 6, "spare": 2, "mass": (21.16438, "oz")},
        id="1500/250 = 6, two spares asked for; 600 g / 28.349523 = 21.16438 oz",
    ),
    pytest.param(
        replace(yards(1000, WORSTED, DK), want="m"),
        {"length": (1143.0, "m")},
        id="1000 x 1.25 = 1250 yd x 0.9144 = 1143 m",
    ),
]


@pytest.mark.parametrize(("query", "expected"), SINGLE)
def test_single(query: Query, expected: Expected) -> None:
    draft = ask(ABILITY, query)
    hold(draft.figures, expected)
    assert not draft.sizes
    assert not draft.colours


def test_sizes_have_figures_each() -> None:
    query = Query(
        pattern=DK,
        colours=(need(840, 920, 1010, unit="m"),),
        sizes=("S", "M", "L"),
        yarns=(replace(ARAN, put_up=wound("82 m", "50 g")),),
    )
    draft = ask(ABILITY, query)
    # x 0.8: 672, 736, 808; /82 = 8.20 -> 9, 8.98 -> 9, 9.85 -> 10
    assert [part.name for part in draft.sizes] == ["S", "M", "L"]
    for part, length, skeins in zip(draft.sizes, (672, 736, 808), (9, 9, 10), strict=True):
        hold(part.figures, {"length": (length, "m"), "skeins": skeins, "spare": 1, "ratio": 0.8})
    assert "length" not in draft.figures


def test_colours_round_up_each_by_itself() -> None:
    query = Query(
        pattern=replace(BULKY, put_up=wound("120 m", "100 g")),
        colours=tuple(need(count, unit="skein", name=name) for name, count in (("MC", 5), ("A", 2), ("B", 1))),
        yarns=(replace(WORSTED, put_up=wound("180 m", "100 g")),),
    )
    draft = ask(ABILITY, query)
    # x 18/13.5 = 4/3: 800, 320, 160; /180 = 4.44 -> 5, 1.78 -> 2, 0.89 -> 1
    # high end ±24.191 % of 4/3: A 240 x 1.65588 = 397.4 takes 3 skeins, so A has a spare; B 198.7 takes 2
    for part, length, skeins in zip(draft.colours, (800, 320, 160), (5, 2, 1), strict=True):
        hold(part.figures, {"length": (length, "m"), "skeins": skeins, "spare": 1})


def test_contrast_colour_covered_by_rounding_has_no_spare() -> None:
    query = Query(
        pattern=DK,
        colours=(need(860, unit="yd", name="MC"), need(190, unit="yd", name="CC")),
        yarns=(replace(DK, put_up=wound("174 yd")),),
    )
    draft = ask(ABILITY, query)
    # one class: 860/174 = 4.94 -> 5; 190/174 = 1.09 -> 2, and 190 is exact
    hold(draft.colours[0].figures, {"skeins": 5, "spare": 1})
    hold(draft.colours[1].figures, {"skeins": 2, "spare": 0})


def test_colours_in_sizes_have_sizes_each() -> None:
    query = Query(
        pattern=replace(WORSTED, put_up=wound("231 yd", "100 g")),
        colours=(need(3, 4, 4, unit="skein", name="MC"), need(1, 1, 2, unit="skein", name="CC")),
        yarns=(replace(DK, put_up=wound("225 m", "100 g")),),
    )
    draft = ask(ABILITY, query)
    # MC 3 x 231 x 1.25 = 866.25; CC size 3: 2 x 231 x 1.25 = 577.5 yd = 528.066 m; /225 = 2.35 -> 3
    hold(draft.colours[0].sizes[0].figures, {"length": (866.25, "yd")})
    hold(draft.colours[1].sizes[2].figures, {"length": (577.5, "yd"), "skeins": 3})


def test_range_names_what_its_high_end_takes() -> None:
    draft = ask(ABILITY, metres(900, DK, replace(ARAN, put_up=wound("80 m", "50 g"))))
    # 877.7/80 = 10.97 -> 11, one more than 9 and 1 spare
    assert "whose high end takes 11 skeins" in draft.headline
    assert "9 skeins and 1 spare" in draft.headline


def test_basis_is_named() -> None:
    bases = [
        (metres(900, DK, DK), "same gauge"),
        (metres(900, DK, ARAN), "default"),
        (metres(900, DK, replace(ARAN, gauge=sts(18))), "gauge"),
    ]
    for query, basis in bases:
        ratio = ask(ABILITY, query).figures["ratio"]
        assert isinstance(ratio, Ratio)
        assert ratio.basis == basis


CAUTIONS = [
    (metres(1000, ARAN, replace(WORSTED, put_up=wound("200 m"))), "one class"),
    (
        metres(1000, replace(DK, class_as_said="4 ply", weight_class="fingering"), DK),
        "Tables disagree about 4 ply",
    ),
    (metres(1000, LACE, DK), "looser"),
    (metres(1000, DK, Yarn(put_up=wound("230 m", "100 g"))), "Taken to be knit to the gauge of DK"),
    (metres(1000, WORSTED, replace(FINGERING, strands=2)), "2 strands held together are taken to match"),
    (metres(1000, DK, replace(BULKY, put_up=wound("400 m", "100 g"))), "too thin for bulky"),
    # tex 500, S = 2.8 x 2.8 x 5.5/4.2 = 10.267, l = √(23.1/10.267) = 1.5 cm; √500/1.5 = 14.9 over 12
    (metres(1000, DK, Yarn(gauge=sts(28), put_up=wound("200 m", "100 g"))), "14.9"),
]


@pytest.mark.parametrize(("query", "words"), CAUTIONS)
def test_cautions_where_they_apply(query: Query, words: str) -> None:
    assert words in "\n".join(ask(ABILITY, query).cautions)


def test_dye_lot_and_swatch_are_always_said() -> None:
    draft = ask(ABILITY, metres(900, DK, replace(ARAN, put_up=wound("80 m", "50 g"))))
    assert "dye lot" in everything(draft)
    assert "swatch" in everything(draft)
    assert len(draft.cautions) == 2, "no caution that does not apply"


UNCLEAR = [
    (Query(pattern=DK, yarns=(WORSTED,)), "How much does the pattern take"),
    (Query(pattern=DK, colours=(need(900, unit="m"),)), "Which yarn"),
    (Query(pattern=WORSTED, colours=(need(6, unit="skein"),), yarns=(BULKY,)), "put-up"),
    (Query(pattern=WORSTED, colours=(need(300, unit="g"),), yarns=(BULKY,)), "put-up"),
    (replace(metres(900, DK, WORSTED), want="skeins"), "put-up"),
    (replace(metres(900, DK, replace(WORSTED, put_up=wound("200 m"))), want="cost"), "cost"),
    (metres(900, Yarn(name="Peatmoor"), replace(WORSTED, put_up=wound("200 m"))), "What weight or gauge"),
    (yards(900, SPORT, Yarn(put_up=wound("50 yd", "1 oz"))), "usual for worsted"),
    (Query(pattern=DK, colours=(need(900, unit="m"),), yarns=(DK, WORSTED)), "Several"),
    (
        replace(yards(900, replace(DK, gauge=sts(18, "4 in")), Yarn(gauge=sts(22, "4 in"))), same_gauge=True),
        "Same gauge",
    ),
    (
        Query(pattern=WORSTED, colours=(need(900, 1000, 1100, unit="yd"),), pick="5", yarns=(DK,)),
        "Which size is 5",
    ),
    (
        Query(pattern=WORSTED, colours=(need(4, 5, 5, 6, unit="yd"),), sizes=("1", "2", "3"), yarns=(DK,)),
        "3 sizes",
    ),
    (yards(900, replace(LACE, strands=2), replace(FINGERING, strands=2)), "gauges are missing"),
    (
        Query(
            pattern=replace(DK, put_up=wound("230 yd")),
            colours=(Colour("", (Series((3.0,), "skein"), Series((1100.0,), "yd"))),),
            yarns=(WORSTED,),
        ),
        "do not agree",
    ),
    (
        Query(
            pattern=DK,
            colours=(Colour("", (Series((5.0,), "skein"), Series((170.0,), "m"))),),
            yarns=(WORSTED,),
        ),
        "one skein, or of all",
    ),
    (
        yards(
            900,
            WORSTED,
            replace(WORSTED, put_up=replace(wound("260 yd", "100 g"), other_length=Quantity(150, "m"))),
        ),
        "Which of the two",
    ),
]


@pytest.mark.parametrize(("query", "words"), UNCLEAR)
def test_what_is_missing_is_asked_for(query: Query, words: str) -> None:
    refusal = declined(ABILITY, query)
    assert refusal.status == "unclear"
    assert words in refusal.sentence


REFUSED = [
    metres(0, DK, WORSTED),
    metres(-5, DK, WORSTED),
    metres(float("nan"), DK, WORSTED),
    yards(400_000, BULKY, replace(BULKY, put_up=wound("100 yd"))),
    metres(900, DK, replace(WORSTED, put_up=wound("0 m"))),
    metres(900, DK, replace(WORSTED, put_up=wound("25000 m"))),
    metres(900, DK, replace(WORSTED, put_up=wound("100 m", "0 g"))),
    metres(900, DK, replace(WORSTED, put_up=wound("100 m", "6 kg"))),
    metres(900, replace(DK, gauge=sts(2200, "4 in")), replace(DK, gauge=sts(22, "4 in"))),
    metres(900, DK, replace(FINGERING, strands=0)),
    metres(900, DK, replace(FINGERING, strands=21)),
    metres(900, DK, replace(DK, put_up=wound("100 m"), price=Price(20_000, "£"))),
]


@pytest.mark.parametrize("query", REFUSED)
def test_what_cannot_be_true_is_refused(query: Query) -> None:
    assert declined(ABILITY, query).status == "refused"


def test_stash_says_how_many_more() -> None:
    query = replace(yards(1200, WORSTED, replace(DK, put_up=wound("250 yd"))), stash=(held(3, "skein", DK),))
    draft = ask(ABILITY, query)
    # 1500/250 = 6 is the need; 3 x 250 = 750 held, 750 short: 3 more
    hold(draft.figures, {"skeins": 6})
    assert "buy 3 more" in draft.headline
