"""Conversion ratios: the trade's rules of thumb lie inside our ranges; uncertainties worked by hand."""

from math import sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from yarnchat.answers import Basis
from yarnchat.fabric import swatches
from yarnchat.fabric.densities import (
    Density,
    beside_swatch,
    density_of_class,
    density_of_gauge,
    shift_by_knitter,
)
from yarnchat.fabric.ratios import SAME_GAUGE, model_u, ratio
from yarnchat.fabric.skeins import purchase
from yarnchat.knowledge.classes import classes
from yarnchat.quantity import Quantity
from yarnchat.queries import Gauge

# Rules of thumb for the length when one class replaces another: common practice, no source.
RULES = [
    ("fingering", "sport", 0.85),
    ("fingering", "worsted", 0.60),
    ("fingering", "bulky", 0.50),
    ("sport", "fingering", 1.25),
    ("sport", "worsted", 0.75),
    ("sport", "bulky", 0.65),
    ("worsted", "fingering", 1.65),
    ("worsted", "sport", 1.35),
    ("worsted", "bulky", 0.85),
    ("bulky", "fingering", 2.00),
    ("bulky", "sport", 1.60),
    ("bulky", "worsted", 1.20),
    # less surely
    ("dk", "fingering", 1.45),
    ("dk", "sport", 1.20),
    ("dk", "worsted", 0.90),
]
# Usual put-ups of a class, yd to 100 g: common practice, no source.
PUT_UPS = {
    "fingering": (400, 420, 463),
    "sport": (310, 330),
    "dk": (230, 250),
    "worsted": (200, 210, 230),
    "bulky": (106, 120, 137),
}
PATTERN = 1000


@pytest.mark.parametrize(("pattern", "yarn", "rule"), RULES)
def test_rule_of_thumb_lies_inside_the_range(pattern: str, yarn: str, rule: float) -> None:
    ours = ratio(density_of_class(pattern), density_of_class(yarn))
    assert ours.low <= rule <= ours.high


@pytest.mark.parametrize(
    ("pattern", "yarn", "rule", "put_up"), [(*row, put_up) for row in RULES for put_up in PUT_UPS[row[1]]]
)
def test_skeins_and_spare_cover_the_rule_of_thumb(pattern: str, yarn: str, rule: float, put_up: float) -> None:
    ours = ratio(density_of_class(pattern), density_of_class(yarn))
    bought = purchase(PATTERN * ours.value, PATTERN * ours.high, put_up)
    assert bought.total * put_up >= PATTERN * rule


def test_the_least_certain_rule_is_missed_by_little() -> None:
    """DK to bulky, 0.75 (common practice, no source): our range ends at 0.731.

    By hand: 13.5 / 22.5 = 0.6; u² = (1.5/√3/22.5)² + (1.5/√3/13.5)² + 0.08² = 0.0119965; high 0.6 × 1.219057.
    """
    ours = ratio(density_of_class("dk"), density_of_class("bulky"))
    assert ours.high == pytest.approx(0.731434, abs=5e-6)
    assert 0.75 - ours.high == pytest.approx(0.0186, abs=5e-5)
    # 600 yd at 126 yd a skein are 4.8, so 5 and a spare: 756 yd. At 120 yd 5 and a spare are 720 yd, 30
    # short.
    assert purchase(600, 1000 * ours.high, 126).total * 126 == 756
    assert purchase(600, 1000 * ours.high, 120).total * 120 == 720


def test_class_against_class_by_hand() -> None:
    # 29.5 / 18; u² = (2/√3/18)² + (2.5/√3/29.5)² + 0.08² = 0.0041152 + 0.0023940 + 0.0064, u = 0.113619.
    ours = ratio(density_of_class("worsted"), density_of_class("fingering"))
    assert ours.value == pytest.approx(1.638889, abs=5e-7)
    assert ours.low == pytest.approx(1.638889 * (1 - 0.227238), abs=5e-6)
    assert ours.high == pytest.approx(1.638889 * (1 + 0.227238), abs=5e-6)
    assert ours.basis == "default"


def test_density_of_a_class_by_hand() -> None:
    # DK: 22.5 sts to 4 in are 2.214567 per cm; × 5.5 (GATE Textile 2015 Q54) = 12.180118 cm/cm².
    found = density_of_class("dk")
    assert found.value == pytest.approx(12.180118, abs=5e-7)
    assert found.u == pytest.approx(1.5 / sqrt(3) / 22.5)
    assert found.source == "DK: 22.5 sts to 4 in, middle of 21–24 (Craft Yarn Council)"


def _gauge(
    stitches: float,
    over: float = 4,
    unit: str = "in",
    rows: float | None = None,
    spread: float = 0,
    rows_spread: float = 0,
) -> Density:
    return density_of_gauge(Gauge(stitches, Quantity(over, unit), rows, spread, rows_spread))


# gauge, D in cm/cm² and relative u by hand; half a stitch is 0.5/√3 = 0.288675.
GAUGES = [
    (_gauge(20, 10, "cm"), 11.0, 0.0144338),  # 2 × 5.5; 0.288675 / 20
    (_gauge(20), 10.826772, 0.0144338),  # 20 / 10.16 × 5.5
    (_gauge(5, 1), 10.826772, 0.0577350),  # the same gauge counted over one inch: four times less sure
    (_gauge(19, spread=1), 10.285433, 0.0339735),  # 18-20: √(0.288675² + 0.577350²) / 19
    (_gauge(20, 10, "cm", rows=28), 11.373654, 0.0088688),  # √(23.1 × 5.6); ½ √(0.0144338² + 0.0103098²)
    (_gauge(20, 10, "cm", rows=28, rows_spread=1), 11.373654, 0.0135996),  # rows: 0.645497 / 28 = 0.0230535
]


@pytest.mark.parametrize(("found", "value", "u"), GAUGES)
def test_density_of_a_gauge_by_hand(found: Density, value: float, u: float) -> None:
    assert found.value == pytest.approx(value, abs=1e-6)
    assert found.u == pytest.approx(u, abs=1e-7)
    assert found.basis == "gauge"


def test_rows_are_remembered() -> None:
    assert _gauge(20, rows=28).rows_given
    assert not _gauge(20).rows_given


def test_the_length_counted_over_is_not_the_gauge() -> None:
    # A hand-knitting textbook, ch. 3: 22 sts per 10 cm are 88 over 40 cm.
    assert _gauge(88, 40, "cm").value == pytest.approx(_gauge(22, 10, "cm").value, rel=1e-12)


def test_four_inches_are_not_ten_centimetres() -> None:
    # 4 in are 10.16 cm (1959 agreement): 1.6 % apart.
    assert ratio(_gauge(22), _gauge(22, 10, "cm")).value == pytest.approx(1.016, rel=1e-12)


def test_gauge_against_gauge_by_hand() -> None:
    # 24 / 20; u² = (0.288675/20)² + (0.288675/24)² + 0.05² = 0.00285301, 2u = 0.106827.
    ours = ratio(_gauge(20), _gauge(24))
    assert ours.value == pytest.approx(1.2, rel=1e-12)
    assert ours.low == pytest.approx(1.2 * (1 - 0.106827), abs=2e-6)
    assert ours.high == pytest.approx(1.2 * (1 + 0.106827), abs=2e-6)
    assert ours.basis == "gauge"


# basis of the pattern, basis of the yarn; what the ratio says and what the model adds
BASES: list[tuple[Basis, Basis, Basis, float]] = [
    ("default", "default", "default", 0.08),
    ("default", "gauge", "gauge", 0.08),
    ("gauge", "default", "gauge", 0.08),
    ("gauge", "gauge", "gauge", 0.05),
    ("swatch", "default", "swatch", 0.08),
    ("gauge", "swatch", "swatch", 0.05),
    ("swatch", "swatch", "swatch", 0.0),
]


@pytest.mark.parametrize(("pattern", "yarn", "basis", "model"), BASES)
def test_what_a_ratio_rests_on(pattern: Basis, yarn: Basis, basis: Basis, model: float) -> None:
    sides = {
        "default": density_of_class("dk"),
        "gauge": _gauge(22),
        "swatch": Density(12, 0.03, "swatch", False, "a swatch"),
    }
    assert ratio(sides[pattern], sides[yarn]).basis == basis
    assert model_u(sides[pattern], sides[yarn]) == model


def test_same_gauge() -> None:
    assert (SAME_GAUGE.value, SAME_GAUGE.low, SAME_GAUGE.high, SAME_GAUGE.basis) == (1, 1, 1, "same gauge")


def _swatched(grams: float, width: float, height: float, grist: float) -> Density:
    return swatches.mean_density([swatches.worked(grams, 0.1, width, height, grist)], "her swatch")


def test_two_swatches_compared() -> None:
    # DK 225 m/100 g, 15 × 15 cm, 10.8 g: 10.8; fingering 400 m/100 g, 12 × 14 cm, 6.4 g: 15.238095; 1.410935.
    ours = ratio(_swatched(10.8, 15, 15, 225), _swatched(6.4, 12, 14, 400))
    assert ours.value == pytest.approx(1.410935, abs=1e-6)
    assert ours.basis == "swatch"


def test_default_shifted_by_how_she_knits() -> None:
    # DK 11.5 g, 15 × 15 cm, 225 m/100 g: 11.5 / 12.180118 = 0.944162.
    # Fingering 7.4 g, 14 × 13 cm, 400 m/100 g: 16.263736 / 15.969488 = 1.018426.
    # Root of the product 0.980591; worsted 9.744094 × 0.980591 = 9.554968.
    hers = _swatched(11.5, 15, 15, 225)
    offsets = [
        (hers, density_of_class("dk")),
        (_swatched(7.4, 14, 13, 400), density_of_class("fingering")),
    ]
    shifted = shift_by_knitter(density_of_class("worsted"), offsets)
    assert shifted.value == pytest.approx(9.554968, abs=2e-5)
    assert shifted.basis == "default"
    assert shifted.u > density_of_class("worsted").u
    swatch_side, class_side = beside_swatch(hers, offsets, density_of_class("worsted"))
    ours = ratio(swatch_side, class_side)
    assert ours.value == pytest.approx(0.830867, abs=5e-6)
    assert ours.basis == "swatch"


def test_uncertainty_of_a_shift_by_hand() -> None:
    # Two classes, 3 and 4 %, 5 and 6 % known: √(0.0009 + 0.0016 + 0.0025 + 0.0036) / 2 = 0.046368; with
    # 7 %: 0.083964.
    def side(u: float) -> Density:
        return Density(10, u, "swatch", False, "")

    shifted = shift_by_knitter(
        Density(9, 0.07, "default", False, ""), [(side(0.03), side(0.04)), (side(0.05), side(0.06))]
    )
    assert shifted.value == pytest.approx(9, rel=1e-12)
    assert shifted.u == pytest.approx(0.083964, abs=1e-6)


def test_one_class_swatched_leaves_the_default_ratio() -> None:
    usual = density_of_class("dk")
    pair = beside_swatch(_swatched(11.5, 15, 15, 225), [(_swatched(11.5, 15, 15, 225), usual)], _worsted())
    assert ratio(*pair) == ratio(usual, _worsted())
    assert ratio(*pair).basis == "default"


def test_no_class_swatched_leaves_the_default() -> None:
    assert shift_by_knitter(_worsted(), []) == _worsted()


def _worsted() -> Density:
    return density_of_class("worsted")


keys = st.sampled_from([found.key for found in classes()])
counts = st.floats(2, 60)


@given(keys, keys)
def test_there_and_back_is_one(a: str, b: str) -> None:
    one, other = density_of_class(a), density_of_class(b)
    assert ratio(one, other).value * ratio(other, one).value == pytest.approx(1, rel=1e-12)


@given(keys, keys)
def test_range_holds_the_value_and_is_above_zero(a: str, b: str) -> None:
    found = ratio(density_of_class(a), density_of_class(b))
    assert 0 < found.low < found.value < found.high


@given(counts, counts)
def test_without_rows_the_ratio_is_that_of_the_stitch_gauges(a: float, b: float) -> None:
    assert ratio(_gauge(a), _gauge(b)).value == pytest.approx(b / a, rel=1e-12)


@given(counts, counts, st.floats(2, 80))
def test_with_equal_rows_the_ratio_is_the_root(a: float, b: float, rows: float) -> None:
    found = ratio(_gauge(a, rows=rows), _gauge(b, rows=rows))
    assert found.value == pytest.approx(sqrt(b / a), rel=1e-12)


@given(counts, st.floats(1.01, 3))
def test_finer_gauge_takes_more_yarn(stitches: float, times: float) -> None:
    assert _gauge(stitches * times).value > _gauge(stitches).value


@given(counts, st.floats(0.1, 5))
def test_a_range_is_less_sure_than_a_count(stitches: float, spread: float) -> None:
    assert _gauge(stitches, spread=spread).u > _gauge(stitches).u


@pytest.mark.parametrize(("stitches", "over", "rows"), [(0, 4, None), (-2, 4, None), (20, 0, None), (20, 4, 0)])
def test_gauge_must_be_above_zero(stitches: float, over: float, rows: float | None) -> None:
    with pytest.raises(ValueError, match="above zero"):
        _gauge(stitches, over, rows=rows)
