"""Check: planted slips are found, clean lines pass with one note."""

from __future__ import annotations

import pytest

from yarnchat.abilities.check import ABILITY
from yarnchat.quantity import Quantity
from yarnchat.queries import Colour, Gauge, Grading, Holding, Measured, Needle, PutUp, Query, Series, Yarn
from yarnchat.refusals import Refusal

from .asking import ask


def label(
    length: float,
    unit: str = "yd",
    other: float | None = None,
    grams: float | None = 100,
    ounces: float | None = None,
) -> PutUp:
    twin = {"yd": "m", "m": "yd"}[unit]
    return PutUp(
        Quantity(length, unit),
        Quantity(grams, "g") if grams else None,
        Quantity(other, twin) if other else None,
        Quantity(ounces, "oz") if ounces else None,
    )


def needs(*amounts: Series) -> tuple[Colour, ...]:
    return (Colour("", amounts),)


def skeins(*values: float) -> Series:
    return Series(values, "skein")


def yards(*values: float) -> Series:
    return Series(values, "yd")


IN_4, CM_10 = Quantity(4, "in"), Quantity(10, "cm")
SIZES = ("S", "M", "L", "XL")

CLEAN = [
    pytest.param(Query(pattern=Yarn(put_up=label(231, other=211, ounces=3.5))), id="231 yd = 211.2 m; 3.5 oz = 99.2 g"),
    pytest.param(Query(pattern=Yarn(weight_class="worsted", put_up=label(220, other=201))), id="220 yd = 201.2 m"),
    pytest.param(
        Query(pattern=Yarn(put_up=label(131, other=120, grams=50, ounces=1.75))), id="1.75 oz = 49.6 g, 0.8 %"
    ),
    pytest.param(
        Query(pattern=Yarn(put_up=label(131, other=120, grams=50, ounces=1.8))),
        id="1.8 is 1.75 to 1.85 oz: 49.6 to 52.4 g",
    ),
    pytest.param(
        Query(
            pattern=Yarn(put_up=label(231)),
            colours=needs(skeins(5, 5, 6, 7, 8), yards(1100, 1150, 1300, 1500, 1750)),
        ),
        id="5 x 231 = 1155, 1155, 1386, 1617, 1848: each covers",
    ),
    pytest.param(Query(colours=needs(Series((720, 800, 880, 960, 1040), "m"))), id="720 to 1040 rises"),
    pytest.param(Query(pattern=Yarn(weight_class="worsted", gauge=Gauge(18, IN_4))), id="18 in 16-20"),
    pytest.param(Query(pattern=Yarn(weight_class="dk", gauge=Gauge(25, IN_4))), id="25 is 1 over 21-24"),
    pytest.param(
        Query(pattern=Yarn(weight_class="fingering", put_up=label(400))),
        id="400 yd = 366 m: over 0.9 x 383 = 345",
    ),
    pytest.param(Query(pattern=Yarn(needle=Needle("8", "us"), other_needle=Needle("5", "mm"))), id="US 8 = 5 mm"),
    pytest.param(
        Query(pattern=Yarn(needle=Needle("6", "us")), measured=Measured(needle=Needle("4", "mm"))),
        id="US 6 = 4 mm, said beside",
    ),
    pytest.param(Query(pattern=Yarn(gauge=Gauge(22, IN_4), other_gauge=Gauge(22, CM_10))), id="usual: 4 in / 10 cm"),
    pytest.param(
        Query(pattern=Yarn(gauge=Gauge(30, IN_4), other_gauge=Gauge(29.5, CM_10))),
        id="30 x 10 / 10.16 = 29.5",
    ),
    pytest.param(
        Query(
            sizes=SIZES,
            colours=needs(skeins(6, 7, 8, 9)),
            pattern=Yarn(weight_class="dk", put_up=label(112, "m", grams=50)),
        ),
        id="four and four; 224 m/100 g in 182-300",
    ),
    pytest.param(Query(pattern=Yarn(put_up=label(310)), colours=needs(skeins(3), yards(930))), id="3 x 310 = 930"),
    pytest.param(
        Query(pattern=Yarn(put_up=label(231)), colours=needs(skeins(7), yards(1620))),
        id="1617 is 0.2 % under about 1620",
    ),
]


@pytest.mark.parametrize("query", CLEAN)
def test_a_clean_line_has_one_note_that_says_what_was_compared(query: Query) -> None:
    draft = ask(ABILITY, query)
    assert [finding.level for finding in draft.findings] == ["note"]
    assert draft.findings[0].text.startswith("Clean: ")
    assert draft.headline == "It agrees with itself."


FAULTS = [
    pytest.param(
        Query(pattern=Yarn(put_up=label(218, other=238))),
        "error",
        ["218 yd", "238 m", "more yards than metres", "swapped"],
        id="yards below metres",
    ),
    pytest.param(
        Query(pattern=Yarn(put_up=label(210, other=150))),
        "error",
        ["210 yd is 192 m", "150 m"],
        id="210 x 0.9144 = 192",
    ),
    pytest.param(
        Query(pattern=Yarn(put_up=label(220, other=205))),
        "doubt",
        ["220 yd is 201 m", "205 m"],
        id="201.2 / 205: 1.9 %",
    ),
    pytest.param(
        Query(pattern=Yarn(put_up=label(180, other=165, ounces=4))),
        "error",
        ["100 g is 3.53 oz", "4 oz"],
        id="4 oz = 113.4 g",
    ),
    pytest.param(
        Query(pattern=Yarn(put_up=label(180, grams=3.5, ounces=100))),
        "error",
        ["swapped"],
        id="ounces and grams swapped",
    ),
    pytest.param(
        Query(
            sizes=SIZES,
            pattern=Yarn(put_up=label(231)),
            colours=needs(skeins(5, 5, 6, 7), yards(1050, 1150, 1300, 1650)),
        ),
        "error",
        ["XL: 7 skeins × 231 yd = 1,617 yd", "33 yd short of 1,650 yd", "8 skeins"],
        id="7 x 231 = 1617 < 1650, 2 %",
    ),
    pytest.param(
        Query(pattern=Yarn(put_up=label(210)), colours=needs(skeins(5), yards(1060))),
        "doubt",
        ["10 yd short"],
        id="1050 < 1060, 0.9 %",
    ),
    pytest.param(
        Query(colours=needs(yards(980, 1080, 1190, 1130, 1420))),
        "doubt",
        ["size 4 has 1,130 yd", "size 3, the smaller, 1,190 yd"],
        id="1190 then 1130",
    ),
    pytest.param(Query(colours=needs(skeins(9, 10, 11, 10, 13))), "doubt", ["10 skeins", "11 skeins"], id="11 then 10"),
    pytest.param(
        Query(sizes=SIZES, colours=needs(yards(900, 1000, 1100))),
        "error",
        ["S, M, L, XL: 4", "900 (1,000, 1,100) yd: 3"],
        id="four names, three numbers",
    ),
    pytest.param(
        Query(colours=needs(skeins(5, 6, 7), yards(900, 1000, 1100, 1200))),
        "error",
        ["3", "4"],
        id="three counts, four lengths",
    ),
    pytest.param(
        Query(pattern=Yarn(weight_class="worsted", gauge=Gauge(30, IN_4))),
        "doubt",
        ["30 sts", "worsted, 16–20 sts"],
        id="30 over 21",
    ),
    pytest.param(
        Query(pattern=Yarn(weight_class="fingering", put_up=label(150, "m"))),
        "doubt",
        ["150 m/100 g", "too thick for fingering"],
        id="150 < 345",
    ),
    pytest.param(
        Query(pattern=Yarn(weight_class="bulky", put_up=label(400, "m"))),
        "doubt",
        ["400 m/100 g", "too thin for bulky"],
        id="400 > 143",
    ),
    pytest.param(
        Query(pattern=Yarn(needle=Needle("6", "us"), other_needle=Needle("5", "mm"))),
        "error",
        ["4 mm", "5 mm"],
        id="US 6 = 4 mm",
    ),
    pytest.param(
        Query(pattern=Yarn(gauge=Gauge(22, IN_4), other_gauge=Gauge(20, CM_10))),
        "doubt",
        ["21.7 sts to 10 cm", "not 20"],
        id="22 x 10 / 10.16 = 21.7",
    ),
    pytest.param(Query(pattern=Yarn(weight_class="worsted", wpi=18)), "doubt", ["18 wraps per inch"], id="18 over 13"),
    pytest.param(
        Query(pattern=Yarn(put_up=label(200, "m")), colours=needs(Series((800,), "m"), Series((500,), "g"))),
        "doubt",
        ["500 g is 1,000 m", "800 m"],
        id="500 g at 2 m/g",
    ),
    pytest.param(
        Query(grading=Grading(chests=(Quantity(92, "cm"), Quantity(90, "cm")))),
        "doubt",
        ["90 chest", "92 chest"],
        id="chest falls",
    ),
]


@pytest.mark.parametrize(("query", "level", "says"), FAULTS)
def test_a_slip_is_found_and_both_figures_named(query: Query, level: str, says: list[str]) -> None:
    draft = ask(ABILITY, query)
    texts = " ".join(finding.text for finding in draft.findings if finding.level == level)
    assert texts, draft.findings
    assert all(piece in texts for piece in says), texts
    assert draft.headline != "It agrees with itself."


def test_lace_knit_loose_is_a_note_not_a_doubt() -> None:
    draft = ask(ABILITY, Query(pattern=Yarn(weight_class="lace", gauge=Gauge(20, IN_4))))
    assert [finding.level for finding in draft.findings] == ["note"]
    assert "looser" in draft.findings[0].text


@pytest.mark.parametrize(
    ("count", "length", "level"),
    # 230 yd of 231 yd skeins takes 1; 1300 yd takes 6
    [(1, 230, "Clean"), (2, 230, "Clean"), (3, 230, "doubt"), (8, 1300, "note"), (12, 1300, "doubt")],
)
def test_far_too_many_skeins(count: float, length: float, level: str) -> None:
    query = Query(pattern=Yarn(put_up=label(231)), colours=needs(skeins(count), yards(length)))
    [finding] = ask(ABILITY, query).findings
    if level == "Clean":
        assert finding.text.startswith("Clean: ")
    else:
        assert finding.level == level
        assert "would cover it" in finding.text


def test_one_fault_hides_no_other() -> None:
    query = Query(
        pattern=Yarn(weight_class="bulky", put_up=label(218, other=238)),
        colours=needs(yards(900, 800)),
        sizes=("S", "M"),
    )
    assert len(ask(ABILITY, query).findings) == 3


def test_a_bare_length_in_mm_beside_a_needle_is_its_size() -> None:
    # US 6 is 4 mm
    query = Query(pattern=Yarn(needle=Needle("6", "us")), measured=Measured(amount=Quantity(5, "mm")))
    assert [finding.level for finding in ask(ABILITY, query).findings] == ["error"]


def test_pieces_of_one_line_are_one_yarn() -> None:
    # US 8 is 5 mm; 24 sts to 4 in is 23.6 to 10 cm
    query = Query(
        pattern=Yarn(needle=Needle("8", "us"), gauge=Gauge(24, IN_4)),
        yarns=(Yarn(name="Ebb DK", weight_class="dk", needle=Needle("4", "mm"), gauge=Gauge(21, CM_10)),),
    )
    assert [finding.level for finding in ask(ABILITY, query).findings] == ["doubt", "error"]


def test_yarns_that_contradict_are_checked_apart() -> None:
    # 300 m/100 g is in 242-400; 120 m/100 g is in 81-130
    sport = Yarn(weight_class="sport", put_up=label(300, "m"))
    bulky = Yarn(weight_class="bulky", put_up=label(120, "m"))
    assert [finding.level for finding in ask(ABILITY, Query(yarns=(sport, bulky))).findings] == ["note"]


def test_two_needles_of_one_system_are_two_needles() -> None:
    query = Query(pattern=Yarn(needle=Needle("6", "us"), other_needle=Needle("8", "us"), put_up=label(231, other=211)))
    assert [finding.level for finding in ask(ABILITY, query).findings] == ["note"]


def test_skeins_read_as_a_holding_are_checked() -> None:
    # 3 x 210 = 630 < 900
    held = Holding(3, "skein", Yarn(put_up=label(210)))
    draft = ask(ABILITY, Query(stash=(held,), colours=needs(yards(900))))
    assert [finding.level for finding in draft.findings] == ["error"]


def test_nothing_to_compare_asks() -> None:
    with pytest.raises(Refusal) as refusal:
        ask(ABILITY, Query(pattern=Yarn(weight_class="dk")))
    assert refusal.value.status == "unclear"
