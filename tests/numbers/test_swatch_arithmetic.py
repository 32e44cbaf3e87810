"""Swatches worked by hand: yarn per area and per stitch, and how well each was measured (GUM 4.3.7)."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from yarnchat.fabric import swatches
from yarnchat.fabric.swatches import worked


def test_swatch_by_hand() -> None:
    # 15.4 g × 85 m / 50 g = 26.18 m; / (18 × 16) cm² = 9.090278 cm/cm². Scale 0.05/√3/15.4, sides
    # 0.3/√3/18 and /16.
    found = worked(15.4, 0.1, 18, 16, 170)
    assert found.area == 288
    assert found.length == pytest.approx(26.18, rel=1e-12)
    assert found.density == pytest.approx(9.090278, abs=5e-7)
    assert {term.name: term.u for term in found.terms} == pytest.approx(
        {"scale": 0.0018745, "width": 0.0096225, "height": 0.0108253}, abs=5e-8
    )
    assert found.u == pytest.approx(0.0146046, abs=2e-7)
    assert found.weakest.name == "height"


# grams, last digit, width, height, what would narrow it most: 0.5/√3/6 = 4.8 %, 0.05/√3/6.2 = 0.5 %,
# 0.3/√3/10 = 1.7 %
@pytest.mark.parametrize(
    ("grams", "step", "width", "height", "weakest"),
    [(6, 1, 10, 12, "scale"), (6.2, 0.1, 10, 12, "width"), (6.2, 0.1, 12, 10, "height")],
)
def test_what_would_narrow_it_most(grams: float, step: float, width: float, height: float, weakest: str) -> None:
    found = worked(grams, step, width, height, 400).weakest
    assert found.name == weakest
    assert found.advice


def test_sides_measured_in_inches() -> None:
    # ±1/8 in is ±0.3175 cm: 0.3175/√3/10.16 = 0.0180422.
    found = worked(6, 1, 10.16, 10.16, 400, side_half=swatches.SIDE_HALF_INCH_CM)
    assert found.terms[1].u == pytest.approx(0.0180422, abs=5e-8)
    assert pytest.approx(2.54 / 8) == swatches.SIDE_HALF_INCH_CM


def test_loop_length_and_ks_where_the_gauge_is_known() -> None:
    # DK, 22 sts and 30 rows to 10 cm: S 6.6; 10.8 g × 225 m/100 g over 15 × 15 cm: D 10.8; l = 10.8/6.6,
    # ks = 10.8²/6.6.
    found = worked(10.8, 0.1, 15, 15, 225, sts_per_cm=2.2, rows_per_cm=3.0)
    assert found.loop_length == pytest.approx(1.636364, abs=5e-7)
    assert found.ks == pytest.approx(17.672727, abs=5e-7)
    assert found.plausible


def test_rows_are_taken_from_the_stitches_where_nobody_counted_them() -> None:
    # S = 2.2² × 5.5 / 4.2 = 6.338095; ks = 10.8² / 6.338095 = 18.403 (GATE Textile 2015 Q54 for 5.5 and 4.2).
    assert worked(10.8, 0.1, 15, 15, 225, sts_per_cm=2.2).ks == pytest.approx(18.403005, abs=5e-6)


def test_without_a_gauge_there_is_no_loop_length() -> None:
    found = worked(10.8, 0.1, 15, 15, 225)
    assert (found.loop_length, found.ks, found.plausible) == (None, None, True)


@pytest.mark.parametrize(("grams", "fits"), [(10.8, True), (21.6, False), (5.4, False)])
def test_a_mass_twice_or_half_the_true_one_shows_in_ks(grams: float, fits: bool) -> None:
    # ks goes with the mass squared: 17.67, 70.69, 4.42 against 15-30.
    assert worked(grams, 0.1, 15, 15, 225, sts_per_cm=2.2, rows_per_cm=3.0).plausible is fits


def test_mean_of_several_by_hand() -> None:
    # D 10, 11, 12: mean 11, s 1, s/√3/11 = 0.0524864. Scale 0.05/√3 on 10, 11, 12 g over 1000 × 1 cm is
    # 0.0288675 g; the sides are known exactly here, so each D is known to 0.0288675: √3 × 0.0288675 / 3
    # / 11 = 0.0015152, which is in the spread already (GUM 4.3.10).
    three = [worked(grams, 0.1, 10, 10, 100, side_half=0) for grams in (10, 11, 12)]
    assert [swatch.density for swatch in three] == pytest.approx([10, 11, 12])
    found = swatches.mean_density(three, "three swatches")
    assert found.value == pytest.approx(11, rel=1e-12)
    assert found.u == pytest.approx(0.0524864, abs=1e-7)
    assert found.basis == "swatch"


def test_one_swatch_has_no_spread() -> None:
    one = worked(10.8, 0.1, 15, 15, 225)
    found = swatches.mean_density([one], "one swatch")
    assert found.value == one.density
    assert found.u == pytest.approx(one.u, rel=1e-12)


def test_no_swatch_has_no_mean() -> None:
    with pytest.raises(ValueError, match="at least one"):
        swatches.mean_density([], "none")


@given(st.floats(2, 50), st.floats(5, 40), st.floats(5, 40), st.floats(50, 800))
def test_yarn_of_the_area_is_the_yarn_of_the_swatch(grams: float, width: float, height: float, grist: float) -> None:
    found = worked(grams, 0.1, width, height, grist)
    assert found.density * found.area / 100 == pytest.approx(found.length, rel=1e-12)
    assert found.length / grist * 100 == pytest.approx(grams, rel=1e-12)


@given(st.floats(2, 50), st.floats(1.1, 5))
def test_a_larger_swatch_is_better_known(grams: float, times: float) -> None:
    # The same fabric: the area grows by times², the mass with it.
    small, large = worked(grams, 1, 10, 10, 400), worked(grams * times**2, 1, 10 * times, 10 * times, 400)
    assert large.density == pytest.approx(small.density, rel=1e-9)
    assert large.u < small.u


@pytest.mark.parametrize(
    ("grams", "width", "height", "grist"), [(0, 1, 1, 1), (1, 0, 1, 1), (1, 1, 0, 1), (1, 1, 1, 0)]
)
def test_every_measure_must_be_above_zero(grams: float, width: float, height: float, grist: float) -> None:
    with pytest.raises(ValueError, match="above zero"):
        worked(grams, 1, width, height, grist)
