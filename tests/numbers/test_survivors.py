"""Limits, defaults and wordings of the pure functions that small changes would slip past the other tables."""

import re
from collections.abc import Callable

import pytest

from yarnchat.fabric import grist, loops, progress, shapes, skeins, strands, swatches
from yarnchat.fabric.densities import Density, Offset, density_of_class, density_of_gauge, shift_by_knitter
from yarnchat.fabric.identify import Candidate, by_gauge, by_grist, by_needle, by_wpi
from yarnchat.fabric.ratios import ratio
from yarnchat.fabric.sizes import grade
from yarnchat.fabric.swatches import worked
from yarnchat.quantity import Quantity
from yarnchat.queries import Gauge


def _gauge(stitches: float, over: float, rows: float | None) -> Density:
    return density_of_gauge(Gauge(stitches, Quantity(over, "cm"), rows))


# stitches, cm, rows, D by hand: k_s = 23.1 and k_c = 5.5 (GATE Textile 2015 Q54)
SMALL_GAUGES = [
    (1, 1, 1, 4.806246),  # √(23.1 × 1 × 1)
    (0.5, 0.5, 0.5, 4.806246),  # the same gauge, half the length
    (1, 1, None, 5.5),  # 5.5 × 1
]


@pytest.mark.parametrize(("stitches", "over", "rows", "value"), SMALL_GAUGES)
def test_counts_and_lengths_of_one_or_less_are_a_gauge(
    stitches: float, over: float, rows: float | None, value: float
) -> None:
    assert _gauge(stitches, over, rows).value == pytest.approx(value, abs=1e-6)


@pytest.mark.parametrize(("stitches", "over", "rows"), [(0, 10, None), (0, 10, 28), (20, 0, None), (20, 10, 0)])
def test_a_gauge_of_nothing_is_named_a_gauge(stitches: float, over: float, rows: float | None) -> None:
    with pytest.raises(ValueError, match="A gauge needs stitches, rows and a length above zero"):
        _gauge(stitches, over, rows)


def test_a_class_has_no_rows() -> None:
    # The standard gives stitches to 4 in alone (Craft Yarn Council).
    assert not density_of_class("dk").rows_given


def _offset(hers: float) -> Offset:
    return Density(hers, 0.03, "swatch", False, ""), Density(10, 0.04, "default", False, "")


# her D over defaults of 10, and what the source says: 11 / 10 = 1.1; √(11 / 10 × 14.4 / 10) = √1.584 = 1.2586
SHIFTS = [
    ([11.0], "DK, × 1.1 as you knit (1 class swatched)"),
    ([11.0, 14.4], "DK, × 1.26 as you knit (2 classes swatched)"),
]


@pytest.mark.parametrize(("hers", "source"), SHIFTS)
def test_a_shift_says_how_many_classes_it_rests_on(hers: list[float], source: str) -> None:
    default = Density(9, 0.07, "default", False, "DK")
    assert shift_by_knitter(default, [_offset(value) for value in hers]).source == source


def test_a_range_does_not_go_below_zero() -> None:
    # u = √(0.6² + 0.05²) = 0.602080 beside a gauge (model 5 %): 1 - 2 × 0.602080 is below zero, so the low end is 0.
    unsure = Density(10, 0.6, "gauge", False, "")
    found = ratio(unsure, Density(10, 0, "gauge", False, ""))
    assert found.low == 0
    assert found.high == pytest.approx(1 + 2 * 0.602080, abs=2e-6)


@pytest.mark.parametrize("grams", [0, -1])
def test_a_put_up_has_a_mass(grams: float) -> None:
    with pytest.raises(ValueError, match="A put-up needs"):
        grist.tex_of(100, grams)


def test_put_ups_of_a_metre_and_of_a_gram() -> None:
    # 0.5 g of 0.5 m and 1 g of 1 m are both 1 g per m, 1000 tex (ISO 1144: g per km).
    assert grist.tex_of(0.5, 0.5) == grist.tex_of(1, 1) == 1000


SPIN_OFF = '"Yarn Standards", Spin-Off magazine'
# Ranges of classes.toml and their sources: Craft Yarn Council; Spin-Off; an encyclopaedia.
REASONS: list[tuple[Callable[[float], list[Candidate]], float, str]] = [
    (by_gauge, 18, "worsted is 16–20 sts to 4 in (Craft Yarn Council)"),
    (by_needle, 5, "worsted is 4.5–5.5 mm (Craft Yarn Council)"),
    (by_wpi, 10, f"worsted is 9–12 wpi (Craft Yarn Council (from memory)); 10–11 wpi ({SPIN_OFF})"),
    (by_grist, 150, f"worsted is 121–181 m/100 g ({SPIN_OFF}); 120–240 m/100 g (a general encyclopaedia)"),
    # 20.7 is 0.3 below DK's 21 and 0.7 above worsted's 20.
    (by_gauge, 20.7, "20.7 lies outside every range; nearest is 21 sts to 4 in, DK (Craft Yarn Council)"),
    # 1 mm is 0.5 below lace's 1.5.
    (by_needle, 1, "1 lies outside every range; nearest is 1.5 mm, lace (Craft Yarn Council)"),
]


@pytest.mark.parametrize(("identify", "value", "reason"), REASONS)
def test_whole_reason(identify: Callable[[float], list[Candidate]], value: float, reason: str) -> None:
    assert identify(value)[0].reason == reason


def test_as_near_in_as_many_tables_keeps_the_order_of_the_standard() -> None:
    # 20 wpi lies in one table of each: 2 above lace's "18 and more" (Spin-Off), 2 below the middle of fingering's
    # 14–30 (Craft Yarn Council, from memory).
    assert [candidate.weight_class.label for candidate in by_wpi(20)] == ["lace", "fingering"]


@pytest.mark.parametrize(("stitches", "rows"), [(0, 3), (-0.5, 3), (2, -0.5)])
def test_each_count_must_be_above_zero(stitches: float, rows: float) -> None:
    with pytest.raises(ValueError, match="above zero"):
        loops.stitch_density(stitches, rows)


@pytest.mark.parametrize(("ks", "fits"), [(14.99, False), (30.01, False)])
def test_plausible_ks_just_outside(ks: float, fits: bool) -> None:
    # Limits 15 and 30: common practice, no source.
    assert loops.plausible(ks) is fits


def test_a_finished_piece_took_what_it_used() -> None:
    # 300 yd for all of it are 300 yd.
    assert progress.total_need(300, 1) == 300


# Measures in metres, so that none is above 1, by hand: area (0.9 × 0.5) / (0.8 × 0.6) = 0.45 / 0.48; 0.9 / 0.8 = 1.125.
def test_sizes_in_metres() -> None:
    assert grade(0.8, 0.6, 0.9, 0.5).value == pytest.approx(0.9375, rel=1e-12)
    assert grade(0.8, None, 0.9, None).low == pytest.approx(1.125, rel=1e-12)


def test_the_other_chest_must_be_above_zero() -> None:
    with pytest.raises(ValueError, match="A chest must be above zero"):
        grade(38, None, 0, None)


def test_unless_told_a_purchase_is_of_the_main_colour_with_one_spare() -> None:
    # 900 / 250 = 3.6, so 4; the high end 1000 / 250 is just 4, where a contrast colour has no spare.
    assert skeins.purchase(900, 1000, 250) == skeins.Purchase(4, 1)


# Hand-knits lie around 9 to 12: common practice, no source.
@pytest.mark.parametrize(("k", "word"), [(8.999, "open"), (12.001, "dense")])
def test_tightness_just_outside_the_usual(k: float, word: str) -> None:
    assert strands.tightness_word(k) == word


# As in the other table of terms, 0.5/√3/6 = 4.8 %, 0.05/√3/6.2 = 0.5 %, 0.3/√3/10 = 1.7 %: what to say of the largest.
ADVICE = [
    (6, 1, 10, 12, "weigh a larger swatch, or on a scale with one more digit"),
    (6.2, 0.1, 10, 12, "measure a wider swatch"),
    (6.2, 0.1, 12, 10, "measure a longer swatch"),
]


@pytest.mark.parametrize(("grams", "step", "width", "height", "advice"), ADVICE)
def test_advice_for_the_largest_term(grams: float, step: float, width: float, height: float, advice: str) -> None:
    assert worked(grams, step, width, height, 400).weakest.advice == advice


def test_a_swatch_of_small_figures() -> None:
    # 0.5 g × 0.8 m / 100 g = 0.004 m = 0.4 cm; / (0.5 × 0.5) cm² = 1.6 cm/cm².
    found = worked(0.5, 0.1, 0.5, 0.5, 0.8)
    assert found.length == pytest.approx(0.004, rel=1e-12)
    assert found.density == pytest.approx(1.6, rel=1e-12)


def test_known_sides_stand_instead_of_the_half_width() -> None:
    # Width to 1 %, height to 2 %; scale 0.05/√3/10 = 0.0028868: u = √(0.01² + 0.02² + 0.0028868²) = 0.02254625.
    found = worked(10, 0.1, 15, 15, 225, side_us=(0.01, 0.02))
    assert [term.name for term in found.terms] == ["scale", "width", "height"]
    assert [term.u for term in found.terms[1:]] == [0.01, 0.02]
    assert found.u == pytest.approx(0.02254625, abs=5e-9)


@pytest.mark.parametrize(
    ("counted", "rows_given"), [([True], True), ([False], False), ([True, True], True), ([True, False], False)]
)
def test_a_mean_has_rows_where_every_swatch_has_a_gauge(counted: list[bool], rows_given: bool) -> None:
    swatched = [
        worked(10.8, 0.1, 15, 15, 225, sts_per_cm=2.2, rows_per_cm=3.0) if known else worked(10.8, 0.1, 15, 15, 225)
        for known in counted
    ]
    assert swatches.mean_density(swatched, "swatches").rows_given is rows_given


def test_two_swatches_have_a_spread() -> None:
    # D 10 and 12: mean 11, s = √2, s/√2/11 = 0.0909091. The sides are known exactly here; the scale, 0.05/√3 g on
    # 100 cm², leaves each D known to 0.0288675: √2 × 0.0288675 / 2 / 11 = 0.0018557, less than their spread shows.
    two = [worked(grams, 0.1, 10, 10, 100, side_half=0) for grams in (10, 12)]
    found = swatches.mean_density(two, "two swatches")
    assert found.value == pytest.approx(11, rel=1e-12)
    assert found.u == pytest.approx(0.0909091, abs=1e-7)


def test_two_swatches_that_agree_are_as_sure_as_their_measuring() -> None:
    # D 10 twice, each known to 0.0288675: √2 × 0.0288675 / 2 / 10 = 0.0020412; their spread is nought.
    two = [worked(10, 0.1, 10, 10, 100, side_half=0)] * 2
    assert swatches.mean_density(two, "two swatches").u == pytest.approx(0.0020412, abs=1e-7)


def test_no_swatch_is_named_so() -> None:
    with pytest.raises(ValueError, match="A mean needs at least one swatch"):
        swatches.mean_density([], "none")


# Rounding noise: 3 × 0.1 is 0.3 and 5.6e-17 more in binary fractions, 3 × 40000.1 is 120000.3 and 1.5e-11 less.
@pytest.mark.parametrize(("length", "each"), [(0.3, 0.1), (120000.3, 40000.1)])
def test_noise_of_rounding_is_nothing_left_over(length: float, each: float) -> None:
    assert 3 * each != length
    assert skeins.left_over(length, each, 3) == 0


def test_what_is_truly_left_over_is_kept_however_little() -> None:
    # 1.0005 mm of 1 mm leave 0.0005 mm.
    assert skeins.left_over(0.001, 0.0010005, 1) == pytest.approx(5e-7, rel=1e-9)


def test_any_length_at_all_takes_a_skein() -> None:
    # The least number there is, over 2, is nought in binary fractions, and would be no skein.
    assert skeins.whole_skeins(5e-324, 2) == 1


REFUSED: list[tuple[Callable[[], object], str]] = [
    (lambda: _gauge(0, 10, None), "A gauge needs stitches, rows and a length above zero."),
    (lambda: grist.tex_of(100, 0), "A put-up needs a length and a mass above zero."),
    (lambda: grist.convert(0, "tex", "Nm"), "A yarn number must be above zero."),
    (lambda: by_wpi(0), "A class needs a value above zero."),
    (lambda: loops.stitch_density(0, 3), "Stitches and rows per cm must be above zero."),
    (
        lambda: progress.fraction_done("straight", 0, 9),
        "Rows done must be above zero and no more than the rows in all.",
    ),
    (lambda: progress.total_need(9, 0), "The fraction done must be above zero and no more than one."),
    (lambda: progress.half_way_row("sock", 9), "There is no rule for how a sock grows."),
    (lambda: progress.half_way_row("tube", 9), "There is no rule for how a tube grows."),
    (lambda: shapes.area("square", {"width": 0}), "Every measure of a square must be above zero."),
    (lambda: grade(38, 60, 40, None), "Give the length of both sizes, or of neither."),
    (lambda: grade(0, None, 40, None), "A chest must be above zero."),
    (lambda: grade(38, 0, 40, 60), "A length must be above zero."),
    (lambda: worked(0, 0.1, 15, 15, 225), "A swatch needs a mass, two sides and a grist above zero."),
    (lambda: swatches.mean_density([], "none"), "A mean needs at least one swatch."),
    (lambda: skeins.whole_skeins(9, 0), "Whole skeins need a length of zero or more and a skein that holds some."),
]


@pytest.mark.parametrize(("work", "sentence"), REFUSED, ids=[sentence for _, sentence in REFUSED])
def test_what_cannot_be_is_refused_in_a_whole_sentence(work: Callable[[], object], sentence: str) -> None:
    with pytest.raises(ValueError, match=f"^{re.escape(sentence)}$"):
        work()
