"""Units and yarn numbers against the standards that define them, and units against pint's own list."""

from itertools import product

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import constants  # type: ignore[import-untyped]

from yarnchat.fabric import grist
from yarnchat.knowledge.conversions import systems
from yarnchat.quantity import LENGTHS, MASSES, factor

# scipy.constants (CODATA): yard, foot and inch by the 1959 agreement, pound and ounce avoirdupois.
UNITS = [
    ("yd", "m", constants.yard),
    ("ft", "m", constants.foot),
    ("in", "m", constants.inch),
    ("in", "mm", 25.4),
    ("lb", "g", constants.pound * 1000),
    ("oz", "g", constants.oz * 1000),
    ("oz", "g", 28.349523125),  # NIST SP 811, Appendix B
    ("km", "m", constants.kilo),
    ("cm", "m", constants.centi),
]


@pytest.fixture(scope="module")
def registry() -> pint.UnitRegistry[float]:
    """Pint with the definitions it ships."""
    return pint.UnitRegistry()


@pytest.mark.parametrize(("unit", "into", "expected"), UNITS)
def test_unit_is_exact(unit: str, into: str, expected: float) -> None:
    assert factor(unit, into) == pytest.approx(expected, rel=1e-14)


@pytest.mark.parametrize(("unit", "into"), [*product(LENGTHS, repeat=2), *product(MASSES, repeat=2)])
def test_unit_is_that_of_a_general_library(registry: pint.UnitRegistry[float], unit: str, into: str) -> None:
    assert factor(unit, into) == pytest.approx(registry.Quantity(1.0, unit).m_as(into), rel=1e-14)


def test_ounce_per_square_yard() -> None:
    # Texcoms, Textile Technical Handbook, 2023, p. 147.
    assert factor("oz", "g") / factor("yd", "m") ** 2 == pytest.approx(33.906, abs=0.0005)


# value, system, in the other system, expected, tolerance, source
NUMBERS = [
    (20, "tex", "NeC", 29.5, 0.05, "GATE Textile 1992 Q2"),
    (20, "tex", "denier", 180, 1e-9, "GATE Textile 1992 Q2"),
    (20, "tex", "Nm", 50, 1e-9, "GATE Textile 1992 Q2"),
    (30, "tex", "NeC", 19.7, 0.05, "ASTM D2260"),
    (10, "NeC", "worsted", 15, 1e-9, "ASTM D2260"),
    (1, "Nm", "NeC", 0.590541, 5e-7, "ASTM D2260 Table 1"),
    (1, "Nm", "worsted", 0.885812, 5e-7, "ASTM D2260 Table 1"),
    (1, "Nm", "yd/lb", 496.055, 5e-4, "ASTM D2260 Table 1"),
    (1, "NeC", "tex", 590.5412, 5e-5, "exact from 840 yd per lb"),
    (1, "worsted", "tex", 885.8119, 5e-5, "exact from 560 yd per lb"),
    (1, "yd/lb", "tex", 496054.65, 5e-3, "exact from yard and pound"),
    (560, "yd/lb", "yd/oz", 35, 1e-9, "560 / 16"),
    (250, "m/100 g", "m/50 g", 125, 1e-9, "250 / 2"),
    (250, "yd/100 g", "yd/50 g", 125, 1e-9, "250 / 2"),
    (25, "tex", "m/100 g", 4000, 1e-9, "100,000 / 25"),
    (400, "m/100 g", "yd/lb", 1984.2186, 5e-5, "400 / 0.9144 / 100 × 453.59237"),
    (400, "m/100 g", "yd/100 g", 437.4453, 5e-5, "400 / 0.9144"),
]


@pytest.mark.parametrize(("value", "system", "into", "expected", "tolerance", "source"), NUMBERS)
def test_yarn_number(value: float, system: str, into: str, expected: float, tolerance: float, source: str) -> None:
    assert grist.convert(value, system, into) == pytest.approx(expected, abs=tolerance), source


def test_mean_of_equal_masses() -> None:
    # GATE Textile 2013 Q40: equal masses of 30 tex and 20 tex have a mean of 24 tex.
    mean = (grist.from_tex(30, "m/100 g") + grist.from_tex(20, "m/100 g")) / 2
    assert grist.to_tex(mean, "m/100 g") == pytest.approx(24, rel=1e-12)


def test_mass_of_a_counted_length() -> None:
    # apparel-merchandising.com, 2011-08: 1,388,015 yd of NeC 24 weigh 68.85 lb or 31.23 kg.
    kilograms = 1_388_015 * factor("yd", "km") * grist.to_tex(24, "NeC") / 1000
    assert kilograms == pytest.approx(31.23, abs=0.005)
    assert kilograms * factor("kg", "lb") == pytest.approx(68.85, abs=0.005)


def test_tex_of_a_put_up() -> None:
    # 420 yd/100 g: 100 g / (420 × 0.9144 m) × 1000 = 260.3841 tex, by hand.
    assert grist.tex_of(420 * 0.9144, 100) == pytest.approx(260.3841, abs=5e-5)


@given(st.sampled_from(sorted(systems())), st.floats(1e-3, 1e6))
def test_number_comes_back_from_tex(system: str, value: float) -> None:
    assert grist.from_tex(grist.to_tex(value, system), system) == pytest.approx(value, rel=1e-12)


@given(st.sampled_from(sorted(systems())), st.floats(1, 1e4), st.floats(1.001, 10))
def test_direct_numbers_grow_with_mass_and_indirect_ones_fall(system: str, tex: float, times: float) -> None:
    grows = grist.from_tex(tex * times, system) > grist.from_tex(tex, system)
    assert grows == (system in {"tex", "denier"})


@pytest.mark.parametrize("value", [0, -1, float("nan")])
def test_number_must_be_above_zero(value: float) -> None:
    with pytest.raises(ValueError, match="above zero"):
        grist.to_tex(value, "tex")
    with pytest.raises(ValueError, match="above zero"):
        grist.tex_of(value, 100)


def test_unknown_system() -> None:
    with pytest.raises(KeyError):
        grist.to_tex(1, "lea")
