"""Check: planted slips are found, clean lines pass with one note."""

from __future__ import annotations

from dataclasses import replace

import pytest

from yarnchat import Assistant
from yarnchat.abilities.base import Draft
from yarnchat.abilities.check import ABILITY
from yarnchat.quantity import Quantity
from yarnchat.queries import Colour, Gauge, Grading, Holding, Measured, Needle, PutUp, Query, Series, Twice, Yarn
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


def levels(draft: Draft) -> list[str]:
    """The levels of what was found amiss."""
    return [finding.level for finding in draft.findings if finding.level != "note"]


def notes(draft: Draft) -> list[str]:
    return [finding.text for finding in draft.findings if finding.level == "note"]


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
        id="400 yd = 366 m: over 0.8 x 383 = 306",
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
    assert levels(draft) == []
    assert draft.findings[0].text.startswith("Clean: ")
    assert draft.headline.startswith("It agrees with itself")
    assert draft.working == []


FAULTS = [
    pytest.param(
        Query(colours=(Colour("MC", (skeins(4),)), Colour("CC", (skeins(2),)), Colour("", (skeins(7),)))),
        "error",
        ["4 + 2 skeins are 6, not 7 skeins"],
        id="MC 4, CC 2; 7 in all",
    ),
    pytest.param(
        Query(
            pattern=Yarn(put_up=label(130, "m", grams=None)), yarns=(Yarn("Fenn DK", put_up=label(120, "m", grams=50)),)
        ),
        "error",
        ["A skein is 130 m and 120 m"],
        id="120 m a ball, and 130 m each",
    ),
    pytest.param(
        Query(
            pattern=Yarn(put_up=label(220, "m")),
            colours=(Colour("CC", (skeins(1), Series((230,), "m")), PutUp(mass=Quantity(100, "g"))),),
        ),
        "error",
        ["1 skein × 220 m = 220 m"],
        id="CC 1 x 100 g of 220 m/100 g, 230 m: 10 m short",
    ),
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
        id="150 < 306",
    ),
    pytest.param(
        Query(pattern=Yarn(weight_class="bulky", put_up=label(400, "m"))),
        "doubt",
        ["400 m/100 g", "too thin for bulky"],
        id="400 > 1.2 x 130 = 156",
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
    assert not draft.headline.startswith("It agrees")


def test_lace_knit_loose_is_a_note_not_a_doubt() -> None:
    draft = ask(ABILITY, Query(pattern=Yarn(weight_class="lace", gauge=Gauge(20, IN_4))))
    assert levels(draft) == []
    assert "looser" in draft.findings[0].text


@pytest.mark.parametrize(
    ("count", "length", "level"),
    # 230 yd of 231 yd skeins takes 1; 1300 yd takes 6
    [(1, 230, "Clean"), (3, 230, "doubt"), (8, 1300, "note"), (12, 1300, "doubt")],
)
def test_far_too_many_skeins(count: float, length: float, level: str) -> None:
    query = Query(pattern=Yarn(put_up=label(231)), colours=needs(skeins(count), yards(length)))
    finding = ask(ABILITY, query).findings[0]
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
    assert len(levels(ask(ABILITY, query))) == 3


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
    assert levels(ask(ABILITY, query)) == ["doubt", "error"]


def test_yarns_that_contradict_are_checked_apart() -> None:
    # 300 m/100 g is in 242-400; 120 m/100 g is in 81-130
    sport = Yarn(weight_class="sport", put_up=label(300, "m"))
    bulky = Yarn(weight_class="bulky", put_up=label(120, "m"))
    assert levels(ask(ABILITY, Query(yarns=(sport, bulky)))) == []


def test_two_needles_of_one_system_are_two_needles() -> None:
    query = Query(pattern=Yarn(needle=Needle("6", "us"), other_needle=Needle("8", "us"), put_up=label(231, other=211)))
    assert levels(ask(ABILITY, query)) == []


def test_skeins_read_as_a_holding_are_checked() -> None:
    # 3 x 210 = 630 < 900
    held = Holding(3, "skein", Yarn(put_up=label(210)))
    draft = ask(ABILITY, Query(stash=(held,), colours=needs(yards(900))))
    assert levels(draft) == ["error"]


CM, INCHES = Series((90, 100, 110), "cm"), Series((35.5, 39.5, 43.5), "in")


@pytest.mark.parametrize(
    ("twice", "level", "says"),
    [
        # 90 / 2.54 = 35.43, 100 / 2.54 = 39.37, 110 / 2.54 = 43.31
        (Twice(measures=((CM, INCHES),)), [], "centimetres against inches"),
        (Twice(measures=((CM, Series((35.5, 39.5, 46), "in")),)), ["error"], "110 cm is 43.3 in, not 46 in"),
        (Twice(measures=((CM, Series((35.5, 39.5), "in")),)), ["error"], "3; 35.5 (39.5) in: 2"),
        # 22 x 2.54 = 55.88: 57 is 0.44 in more, 58 is 0.83 in
        (Twice(measures=((Series((57,), "cm"), Series((22,), "in")),)), [], "centimetres against inches"),
        (Twice(measures=((Series((58,), "cm"), Series((22,), "in")),)), ["error"], "58 cm is 22.8 in, not 22 in"),
        (Twice(classes=(("dk", "DK"), ("dk", "8 ply"))), [], "the names of the weight"),
        (
            Twice(classes=(("dk", "DK"), ("dk", "8 ply"), ("worsted", "10 ply"))),
            ["doubt"],
            "DK and 8 ply are DK; 10 ply is worsted",
        ),
    ],
)
def test_what_is_said_twice_is_held_against_each_other(twice: Twice, level: list[str], says: str) -> None:
    draft = ask(ABILITY, Query(twice=twice))
    assert levels(draft) == level
    assert says in draft.findings[0].text


@pytest.mark.parametrize(
    ("width", "level"),
    # 110 sts / 22 x 4 in = 20 in = 50.8 cm
    [(None, []), (Quantity(20, "in"), []), (Quantity(51, "cm"), []), (Quantity(24, "in"), ["doubt"])],
)
def test_stitches_cast_on_are_no_gauge(width: Quantity | None, level: list[str]) -> None:
    draft = ask(ABILITY, Query(pattern=Yarn(gauge=Gauge(22, IN_4)), twice=Twice(cast_on=110, width=width)))
    assert levels(draft) == level
    assert width or "110 sts at 22 sts to 4 in are 20 in wide." in notes(draft)


def test_each_colour_is_held_against_its_own_put_up() -> None:
    # 4 x 200 = 800 >= 790; 1 x 50 = 50 >= 45, and 1 x 50 < 80
    main = Colour("MC", (skeins(3, 4), Series((560, 790), "m")), label(200, "m"))
    contrast = Colour("CC", (skeins(1, 1), Series((45, 80), "m")), label(50, "m"))
    draft = ask(ABILITY, Query(colours=(main, contrast), pattern=Yarn(put_up=label(200, "m"))))
    assert levels(draft) == ["error"]
    assert "CC: size 2: 1 skein × 50 m = 50 m, 30 m short of 80 m" in draft.findings[0].text


def test_sizes_that_are_numbers_rise() -> None:
    query = Query(sizes=("34", "36", "40", "38"), colours=needs(yards(900, 1000, 1100, 1200)))
    assert "Size 38 stands after 40: sizes rise." in [finding.text for finding in ask(ABILITY, query).findings]


@pytest.mark.parametrize(
    ("needle", "other", "says"),
    [
        (Needle("5.5", "mm"), Needle("8", "us"), "5.5 mm is US 9 and US 8 is 5 mm"),
        (Needle("7", "us"), Needle("4", "mm"), "US 7 is 4.5 mm and 4 mm is US 6"),
        (Needle("8", "uk"), Needle("8", "us"), "UK 8 is 4 mm and US 8 is 5 mm"),
        (Needle("4.1", "mm"), Needle("5", "us"), "4.1 mm is no US size"),
    ],
)
def test_a_wrong_needle_is_told_with_what_it_should_be(needle: Needle, other: Needle, says: str) -> None:
    draft = ask(ABILITY, Query(pattern=Yarn(needle=needle, other_needle=other)))
    assert says in draft.findings[0].text


def test_yes_or_no_is_answered_yes_or_no() -> None:
    four = Yarn(needle=Needle("4", "mm"), other_needle=Needle("5", "us"))
    assert ask(ABILITY, Query(pattern=four, want="whether")).headline.startswith("No. 4 mm is US 6")
    six = Yarn(needle=Needle("4", "mm"), other_needle=Needle("6", "us"))
    assert ask(ABILITY, Query(pattern=six, want="whether")).headline.startswith("Yes. ")


@pytest.mark.parametrize(
    ("query", "says"),
    [
        (Query(colours=needs(skeins(5, 6), yards(1000, 1200))), "skeins against length (no put-up)"),
        (Query(pattern=Yarn(put_up=label(231)), colours=needs(skeins(5, 6))), "skeins against length (no length)"),
        (Query(colours=needs(skeins(5, 6), Series((500, 600), "g"))), "skeins against mass (no put-up)"),
        (Query(pattern=Yarn(weight_class="dk", gauge=Gauge(22, IN_4))), "length per mass against the weight class"),
        (Query(pattern=Yarn(put_up=label(231, other=211))), "the weight class (no weight class)"),
    ],
)
def test_what_could_not_be_compared_is_said(query: Query, says: str) -> None:
    draft = ask(ABILITY, query)
    assert draft.headline == "It agrees with itself, as far as it can be checked."
    assert notes(draft)[-1].startswith("Not compared: ")
    assert says in notes(draft)[-1]


def test_one_skein_more_is_worth_a_word_and_no_doubt() -> None:
    # 950 / 219 = 4.3: 5; 1100 / 219 = 5.02: 6; 1280 / 219 = 5.8: 6 of the 7; 1450 / 219 = 6.6: 7 of the 8
    query = Query(pattern=Yarn(put_up=label(219)), colours=needs(skeins(5, 6, 7, 8), yards(950, 1100, 1280, 1450)))
    draft = ask(ABILITY, query)
    assert levels(draft) == []
    assert notes(draft)[0].startswith("Clean: ")
    assert "size 3: 7 skeins for 1,280 yd, 6 would do; size 4: 8 skeins for 1,450 yd, 7 would do" in notes(draft)[1]


def test_a_sock_yarn_of_four_ounces_is_no_slip() -> None:
    # 420 yd x 0.9144 / 115 g = 334 m/100 g, over 0.8 x 383 = 306; 300 m/100 g is not
    sock = Yarn(weight_class="fingering", put_up=label(420, grams=115))
    assert levels(ask(ABILITY, Query(pattern=sock))) == []
    assert levels(ask(ABILITY, Query(pattern=replace(sock, put_up=label(300, "m"))))) == ["doubt"]


ASKED = [
    ("check: chest 90 (100, 110) cm / 35.5 (39.5, 46) in", ["error"]),
    ("check: chest 90 (100, 110) cm / 35.5 (39.5, 43.5) in", []),
    # CC: 1 x 200 < 230
    ("check MC 3 (3, 4) skeins 200m, 560 (590, 790) m; CC 1 (1, 1) skein 200 m, 150 (180, 230) m", ["error"]),
    ("check MC 3 (3, 4) skeins 200m, 560 (590, 790) m; CC 1 (1, 2) skein 200 m, 150 (180, 230) m", []),
    ('check: gauge 22 sts and 30 rows to 4", sizes 34 (36, 40, 38)", 900 (1000, 1100, 1200) yds', ["doubt"]),
    # 75 + 20 + 10 = 105
    ("check: 4 (5, 5) balls Lintwick 4ply, 75% wool, 20% nylon, 10% alpaca, 400 m per 100 g", ["doubt"]),
    ("check: 250 yd = 273 m", ["error"]),
    ('check: 38" chest 1050 yds, 42" chest 1000 yds', ["doubt"]),
    ('check: 38" chest 1050 yds, 42" chest 1100 yds', []),
    # 500 g x 220 / 100 = 1100
    ("check: 100 g/220 m, 5 skeins = 500 g = 1000 m", ["doubt"]),
    ("check: 100 g/220 m, 5 skeins = 500 g = 1100 m", []),
    ("check: US 7 - 4mm", ["error"]),
    ("check: US 7 - 4.5mm", []),
    ("check: DK, 8 ply, 10 ply", ["doubt"]),
    ("is 4 mm a US 5?", ["error"]),
    ("is 4 mm a US 6?", []),
    ("check: gauge 22 sts to 4 in; cast on 110 sts", []),
    ("check: gauge 22 sts to 4 in; cast on 110 sts (24 in)", ["doubt"]),
    # 2 x 50 g is 100 g, and 3 x 50 g is not
    ("check: Lintwick DK 50 g / 120 m. MC 2 balls (100 g), CC 3 balls (100 g)", ["error"]),
    ("check: Lintwick DK 50 g / 120 m. MC 2 balls (100 g), CC 3 balls (150 g)", []),
    ("check: sizes 2 years (4, 6, 8). Lintwick DK 3 (4, 4) balls", ["error"]),
    # 2 x 900 = 1800
    ("check: Tolverne Lace 800 m/100 g held double, 2 skeins for 900 m of double strand", ["error"]),
    ("check: Tolverne Lace 800 m/100 g held double, 3 skeins for 900 m of double strand", []),
    ("is 22 sts over 4 in the same as 22 sts over 10 cm?", []),
    ("is 20 sts to 4 in the same as 24 sts to 4 in?", ["doubt"]),
    ("are 8 (9, 10) balls enough for 940 (1050, 1250) m of DK, 120 m a ball?", ["error"]),
    ("are 8 (9, 11) balls enough for 940 (1050, 1250) m of DK, 120 m a ball?", []),
    ("Is there a mistake in this one? 3 skeins Tolverne Sock, 420 yd / 115 g, 1,260 yd altogether", []),
]


@pytest.mark.parametrize(("text", "expected"), ASKED)
def test_a_line_as_typed(text: str, expected: list[str]) -> None:
    answer = Assistant(notebook=":memory:").ask(text)
    assert (answer.status, answer.ability) == ("answered", "check")
    assert [finding.level for finding in answer.findings if finding.level != "note"] == expected


def test_nothing_to_compare_asks() -> None:
    with pytest.raises(Refusal) as refusal:
        ask(ABILITY, Query(pattern=Yarn(weight_class="dk")))
    assert refusal.value.status == "unclear"
    assert "gauge against the weight class (no gauge)" in refusal.value.sentence


@pytest.mark.parametrize(
    ("line", "levels"),
    [
        ("6 skeins, 1260 yd in all, 210 yd a skein", []),  # 6 × 210 = 1260
        ("Selkie DK, 50 g/120 m, 7 (8, 9) balls, 860 (960, 1080) m", ["error"]),  # 7 × 120 = 840, 2.3 % under 860
    ],
)
def test_a_line_said_twice_that_asks_nothing_is_asked_about_and_then_checked(line: str, levels: list[str]) -> None:
    assistant = Assistant(notebook=":memory:")
    asked = assistant.ask(line)
    assert asked.status == "unclear"
    assert asked.asks is not None
    assert "Does it agree with itself?" in asked.asks
    checked = assistant.ask("check that")
    assert checked.ability == "check"
    assert [finding.level for finding in checked.findings if finding.level != "note"] == levels


def test_skeins_of_one_colour_and_a_length_of_another_are_no_line_said_twice() -> None:
    answer = Assistant(notebook=":memory:").ask("MC 300 m and CC 1 skein of DK, 120 m a ball")
    assert answer.ability == "skeins"
    assert [part.figures["skeins"] for part in answer.colours] == [3, 1]  # 300 / 120 = 2.5
