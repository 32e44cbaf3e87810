"""Uncertainty against the worked examples of the guides."""

from math import erf, sqrt

import pytest

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
