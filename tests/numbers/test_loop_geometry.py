"""Plain fabric: loops, rows and yarn per area against published worked examples."""

from math import pi

import pytest
from hypothesis import given
from hypothesis import strategies as st

from yarnchat.fabric import grist, loops
from yarnchat.quantity import factor


def test_worked_example_of_relaxed_plain_fabric() -> None:
    # GATE Textile 2015 Q54: kc 5.5, kw 4.2, l 0.5 cm gives 92.4 loops/cm², 11.0 and 8.4 per cm, 4620 m
    # per m².
    assert loops.loop_length(92.4) == pytest.approx(0.5, rel=1e-12)
    assert loops.rows_of(8.4) == pytest.approx(11.0, rel=1e-12)
    assert loops.stitch_density(8.4) == pytest.approx(92.4, rel=1e-12)
    assert loops.metres_per_square_metre(loops.yarn_per_area(92.4)) == pytest.approx(4620, rel=1e-12)


def test_constants() -> None:
    # GATE Textile 2015 Q54, and D. L. Munden, J. Textile Inst. 50 (1959) T448 (dry relaxed, from memory).
    assert pytest.approx(23.1) == loops.KS
    assert loops.KS_PLAUSIBLE[0] < 19.0 < loops.KS < loops.KS_PLAUSIBLE[1]


def test_circular_machine() -> None:
    # GATE question: 26 in, 20 needles an inch, 120 feeders, 30 rpm, l 3 mm: 17,643 m/min; at 30 tex
    # 529.3 g/min and 31.8 kg/h.
    metres = pi * 26 * 20 * 120 * 30 * 3 * factor("mm", "m")
    grams = metres / grist.from_tex(30, "m/100 g") * 100
    assert metres == pytest.approx(17_643, abs=1)
    assert grams == pytest.approx(529.3, abs=0.05)
    assert grams * 60 * factor("g", "kg") == pytest.approx(31.8, abs=0.05)


def test_yarn_of_counted_loops() -> None:
    # apparel-merchandising.com, 2011-08: 203,400 loops × 4 mm × 26 × 60 is 1,269,216 m, printed as
    # 1,388,015 yd.
    metres = 203_400 * 4 * factor("mm", "m") * 26 * 60
    assert metres == pytest.approx(1_269_216, rel=1e-12)
    assert metres * factor("m", "yd") == pytest.approx(1_388_015, abs=20)


def test_fabric_mass() -> None:
    # Texcoms, Textile Technical Handbook, 2023, p. 147: g/m² = loops/cm² · l(mm) · tex / 100; at 92.4, 5
    # mm, 30 tex that is 138.6.
    metres = loops.metres_per_square_metre(loops.yarn_per_area(92.4))
    assert metres / grist.from_tex(30, "m/100 g") * 100 == pytest.approx(138.6, rel=1e-12)


def test_rows_to_stitches_of_a_real_pattern() -> None:
    # A services pattern of the 1940s: 13 sts to 2 in and 9 rows to 1 in, 1.385 rows a stitch; ours
    # within 6 %.
    printed = 9 / (13 / 2)
    assert printed == pytest.approx(1.385, abs=0.001)
    assert loops.rows_of(1) == pytest.approx(printed, rel=0.06)


def test_yards_per_square_inch() -> None:
    # By hand: 1 cm/cm² is 2.54² cm of yarn per in², 6.4516 / 91.44 = 0.0705556 yd.
    assert loops.yards_per_square_inch(1) == pytest.approx(0.0705556, abs=5e-8)


@given(st.floats(0.3, 20))
def test_without_rows_yarn_goes_with_the_wales_alone(wales: float) -> None:
    # Munden 1959: yarn per area is kc·w where only the wales w are known.
    assert loops.yarn_per_area(loops.stitch_density(wales)) == pytest.approx(5.5 * wales, rel=1e-12)


@given(st.floats(0.1, 100), st.floats(15, 30))
def test_loop_length_density_and_ks_agree(density: float, ks: float) -> None:
    length = loops.loop_length(density, ks)
    yarn = loops.yarn_per_area(density, ks)
    assert ks / length**2 == pytest.approx(density, rel=1e-12)
    assert yarn == pytest.approx(density * length, rel=1e-12)
    assert loops.observed_loop_length(density, yarn) == pytest.approx(length, rel=1e-12)
    assert loops.observed_ks(density, yarn) == pytest.approx(ks, rel=1e-12)


@pytest.mark.parametrize(("ks", "fits"), [(14.9, False), (15, True), (23.1, True), (30, True), (30.1, False)])
def test_plausible_ks(ks: float, fits: bool) -> None:
    # Limits: common practice, no source.
    assert loops.plausible(ks) is fits


@pytest.mark.parametrize(("stitches", "rows"), [(0, None), (-1, None), (2, 0), (float("nan"), None)])
def test_counts_must_be_above_zero(stitches: float, rows: float | None) -> None:
    with pytest.raises(ValueError, match="above zero"):
        loops.stitch_density(stitches, rows)
