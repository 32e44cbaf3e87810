"""Uncertainty against the worked examples of the guides."""

from math import erf, sqrt
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from uncertainties import ufloat  # type: ignore[import-untyped]

from yarnchat.fabric.ratios import ratio
from yarnchat.fabric.swatches import SIDE_HALF_INCH_CM, mean_density, worked
from yarnchat.fabric.uncertainty import combined, expanded, rectangular


def test_rectangular() -> None:
    # GUM 4.3.7, thermal expansion of copper: a = 0.40 gives u = 0.23.
    assert rectangular(0.40) == pytest.approx(0.23, abs=0.005)


def test_quotient_of_a_calibration_standard() -> None:
    # EURACHEM/CITAC QUAM 2012, example A1: c = 1000·m·P / V, unrounded by the New Zealand measurement
    # standards laboratory: 1002.7 mg/L, u 0.835199.
    mass, purity, volume = 100.28, 0.9999, 100.0
    concentration = 1000 * mass * purity / volume
    flask = combined(0.1 / sqrt(6), 0.02, rectangular(0.084))
    u = concentration * combined(0.05 / mass, rectangular(0.0001) / purity, flask / volume)
    assert concentration == pytest.approx(1002.7, abs=0.05)
    assert u == pytest.approx(0.835199, abs=1e-6)


def test_coverage_of_k_2() -> None:
    # NIST TN 1297: k = 2 covers 95.45 % of a normal distribution.
    k = expanded(1)
    assert 100 * erf(k / sqrt(2)) == pytest.approx(95.45, abs=0.005)


def test_other_coverage() -> None:
    assert expanded(0.5, k=3) == 1.5


# The uncertainties package carries first-order uncertainty through arithmetic of its own: an independent reference.


def swatched(grams: float, step: float, width: float, height: float, half: float) -> Any:
    """Yarn per area in cm per cm², as the package has it, of a yarn of 250 m per 100 g."""
    mass = ufloat(grams, step / 2 / sqrt(3))
    return mass * 250 / (ufloat(width, half / sqrt(3)) * ufloat(height, half / sqrt(3)))


MASSES = st.floats(3, 40)
SIDES = st.floats(10, 26)


@given(MASSES, SIDES, SIDES)
def test_a_swatch_against_an_independent_reference(grams: float, width: float, height: float) -> None:
    found = worked(grams, 0.1, width, height, 250, side_half=SIDE_HALF_INCH_CM)
    reference = swatched(grams, 0.1, width, height, 2.54 / 8)
    assert found.density == pytest.approx(reference.nominal_value, rel=1e-9)
    assert found.u * found.density == pytest.approx(reference.std_dev, rel=1e-9)


@given(MASSES, MASSES, SIDES)
def test_a_mean_and_a_ratio_against_an_independent_reference(one: float, other: float, side: float) -> None:
    pair = [worked(one, 1, side, side, 250), worked(one, 1, side, 11, 250)]
    theirs, hers = mean_density(pair, "two"), mean_density([worked(other, 0.1, 12, side, 250)], "one")
    mean = (swatched(one, 1, side, side, 0.3) + swatched(one, 1, side, 11, 0.3)) / 2
    first, second = (swatch.density for swatch in pair)
    spread = abs(first - second) / sqrt(2) / sqrt(2)
    if spread > mean.std_dev:  # only what their measuring does not explain comes on top
        mean += ufloat(0, sqrt(spread**2 - mean.std_dev**2))
    reference = swatched(other, 0.1, 12, side, 0.3) / mean
    found = ratio(theirs, hers)
    assert found.value == pytest.approx(reference.nominal_value, rel=1e-9)
    assert found.high - found.value == pytest.approx(2 * reference.std_dev, rel=1e-9)


def test_the_guides_copper_and_standard_against_the_same_reference() -> None:
    # GUM 4.3.7 and QUAM 2012 A1, as above.
    flask = ufloat(100, combined(0.1 / sqrt(6), 0.02, rectangular(0.084)))
    found = 1000 * ufloat(100.28, 0.05) * ufloat(0.9999, rectangular(0.0001)) / flask
    assert found.std_dev == pytest.approx(0.835199, abs=1e-6)
