"""Convert: exact units, needles of published tables, gauges and yarn numbers."""

from __future__ import annotations

import pytest

from yarnchat.abilities.convert import ABILITY
from yarnchat.quantity import Quantity
from yarnchat.queries import Gauge, Measured, Needle, PutUp, Query, Yarn
from yarnchat.refusals import Refusal

from .asking import ask, plain

# Yard, inch: 1959 agreement. Ounce, pound: NIST SP 811. Yarn numbers: ASTM D2260. Worked out in each row.
VALUES = [
    pytest.param(Measured(amount=Quantity(250, "yd")), 250 * 0.9144, "m", id="250 x 0.9144 = 228.6"),
    pytest.param(Measured(amount=Quantity(200, "m")), 218.722659667, "yd", id="200 / 0.9144 = 218.7227"),
    pytest.param(Measured(amount=Quantity(4, "oz"), into="g"), 113.3980925, "g", id="4 x 28.349523125"),
    pytest.param(Measured(amount=Quantity(1.75, "oz"), into="g"), 49.61166546875, "g", id="1.75 x 28.349523125"),
    pytest.param(Measured(amount=Quantity(50, "g")), 1.76369809748, "oz", id="50 / 28.349523125"),
    pytest.param(Measured(amount=Quantity(38, "in")), 96.52, "cm", id="38 x 2.54"),
    pytest.param(Measured(amount=Quantity(1, "lb"), into="g"), 453.59237, "g", id="1 lb"),
    pytest.param(Measured(amount=Quantity(1, "lb"), into="oz"), 16.0, "oz", id="16 oz in 1 lb"),
    pytest.param(Measured(gauge=Gauge(22, Quantity(4, "in"))), 21.6535433071, "sts to 10 cm", id="22 x 10 / 10.16"),
    pytest.param(Measured(gauge=Gauge(22, Quantity(10, "cm"))), 22.352, "sts to 4 in", id="22 x 10.16 / 10"),
    pytest.param(Measured(gauge=Gauge(5.5, Quantity(1, "in")), into="4 in"), 22.0, "sts to 4 in", id="5.5 x 4"),
    pytest.param(Measured(gauge=Gauge(22, Quantity(4, "in")), into="1 in"), 5.5, "sts to 1 in", id="22 / 4"),
    pytest.param(Measured(gauge=Gauge(26, Quantity(4, "in")), into="in"), 6.5, "sts to 1 in", id="26 / 4"),
    pytest.param(Measured(gauge=Gauge(24, Quantity(10, "cm")), into="in"), 6.096, "sts to 1 in", id="24 x 2.54 / 10"),
    pytest.param(
        Measured(gauge=Gauge(22, Quantity(10, "cm")), amount=Quantity(40, "cm")),
        88.0,
        "sts",
        id="22 sts per 10 cm over 40 cm: 88 sts (a hand-knitting textbook, ch. 3)",
    ),
    pytest.param(
        Measured(gauge=Gauge(20, Quantity(4, "in")), amount=Quantity(50.8, "cm")),
        100.0,
        "sts",
        id="50.8 cm = 20 in, 5 sts to 1 in",
    ),
    pytest.param(Measured(gauge=Gauge(22, Quantity(10, "cm")), count=(88, "sts")), 40.0, "cm", id="88 / 22 x 10"),
    pytest.param(
        Measured(gauge=Gauge(22, Quantity(10, "cm")), count=(88, "sts"), into="in"),
        15.7480314961,
        "in",
        id="88 / 22 x 10 / 2.54",
    ),
    pytest.param(Measured(count=(20, "tex"), into="Nm"), 50.0, "Nm", id="1000 / 20 (GATE Textile 1992 Q2)"),
    pytest.param(Measured(count=(20, "tex"), into="denier"), 180.0, "denier", id="9 x 20 (GATE Textile 1992 Q2)"),
    pytest.param(Measured(count=(20, "tex")), 5000.0, "m/100 g", id="100,000 / 20"),
    pytest.param(Measured(count=(400, "m/100 g")), 437.445319335, "yd/100 g", id="400 / 0.9144"),
    pytest.param(Measured(count=(420, "yd/100 g")), 384.048, "m/100 g", id="420 x 0.9144"),
    pytest.param(Measured(count=(1, "Nm"), into="yd/lb"), 496.054648, "yd/lb", id="496.055 yd/lb (ASTM D2260 Table 1)"),
    pytest.param(
        Measured(count=(1, "Nm"), into="worsted count"),
        0.8858118712,
        "worsted count",
        id="0.885812 (ASTM D2260 Table 1)",
    ),
]


@pytest.mark.parametrize(("measured", "value", "unit"), VALUES)
def test_value_and_unit(measured: Measured, value: float, unit: str) -> None:
    draft = ask(ABILITY, Query(measured=measured))
    assert draft.figures["value"] == pytest.approx(value, rel=1e-8)
    assert draft.figures["unit"] == unit


# US and UK sizes where charts agree (sources.md, Needles); US 000 = 1.5 mm: Craft Yarn Council, class 0.
NEEDLES = [
    (Needle("8", "us"), {"mm": (5.0, "mm"), "us": "8", "uk": "6"}),
    (Needle("8", "uk"), {"mm": (4.0, "mm"), "us": "6", "uk": "8"}),
    (Needle("000", "uk"), {"mm": (10.0, "mm"), "us": "15", "uk": "000"}),
    (Needle("10.5", "us"), {"mm": (6.5, "mm"), "us": "10.5", "uk": "3"}),
    (Needle("3.5", "mm"), {"mm": (3.5, "mm"), "us": "4"}),
    (Needle("7", "mm"), {"mm": (7.0, "mm"), "uk": "2"}),
    (Needle("000", "us"), {"mm": (1.5, "mm"), "us": "000"}),
]


@pytest.mark.parametrize(("needle", "sizes"), NEEDLES)
def test_needle(needle: Needle, sizes: dict[str, object]) -> None:
    draft = ask(ABILITY, Query(measured=Measured(needle=needle)))
    assert {name: plain(figure) for name, figure in draft.figures.items()} == sizes


def test_a_length_in_mm_with_a_needle_system_is_a_needle() -> None:
    draft = ask(ABILITY, Query(measured=Measured(amount=Quantity(4.5, "mm"), into="us")))
    assert draft.figures["us"] == "7"


def test_a_bare_length_in_mm_that_is_sold_as_a_needle_is_one() -> None:
    assert ask(ABILITY, Query(measured=Measured(amount=Quantity(4.5, "mm")))).figures["uk"] == "7"
    # 200 mm is no needle: 200 / 25.4 = 7.874 in
    assert ask(ABILITY, Query(measured=Measured(amount=Quantity(200, "mm")))).figures["unit"] == "in"


def test_tables_that_disagree_are_both_shown() -> None:
    draft = ask(ABILITY, Query(measured=Measured(needle=Needle("17", "us"))))
    shown = " ".join([draft.headline, *draft.cautions])
    assert "12 mm" in shown
    assert "12.75 mm" in shown


def test_a_label_goes_to_the_other_unit_of_length_per_100_g() -> None:
    # 115 m in 50 g = 230 m in 100 g = 230 / 0.9144 yd
    label = Yarn(put_up=PutUp(Quantity(115, "m"), Quantity(50, "g")))
    draft = ask(ABILITY, Query(yarns=(label,)))
    assert draft.figures["value"] == pytest.approx(251.5310586, rel=1e-8)
    assert draft.figures["unit"] == "yd/100 g"


def test_rows_go_with_the_stitches() -> None:
    # 30 rows x 10 / 10.16 = 29.5276
    draft = ask(ABILITY, Query(measured=Measured(gauge=Gauge(22, Quantity(4, "in"), rows=30))))
    assert draft.figures["rows"] == pytest.approx(29.5275590551)


@pytest.mark.parametrize(
    ("measured", "status", "says"),
    [
        (Measured(amount=Quantity(0, "yd")), "refused", "more than zero"),
        (Measured(amount=Quantity(100, "g"), into="yd"), "unclear", "depends on the yarn"),
        (Measured(needle=Needle("8")), "unclear", "US 8 is 5 mm, old UK 8 is 4 mm"),
        (Measured(needle=Needle("4.7", "mm")), "unclear", "nearest"),
        (Measured(needle=Needle("77", "us")), "unclear", "No needle table has US 77"),
        (Measured(count=(30, "tex"), into="g"), "unclear", "cannot be put in g"),
        (Measured(gauge=Gauge(22, Quantity(10, "cm")), amount=Quantity(40, "g")), "unclear", "width"),
        (Measured(), "unclear", "What should be converted?"),
    ],
)
def test_what_cannot_be_converted_is_said(measured: Measured, status: str, says: str) -> None:
    with pytest.raises(Refusal) as refusal:
        ask(ABILITY, Query(measured=measured))
    assert refusal.value.status == status
    assert says in refusal.value.sentence
