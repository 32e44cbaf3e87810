"""From a length to whole skeins, a spare, and what covers the high end."""

from math import inf, nan

import pytest
from hypothesis import given
from hypothesis import strategies as st

from yarnchat.fabric.skeins import Purchase, left_over, purchase, whole_skeins

# By hand: length, length per skein, skeins.
SKEINS = [
    (7.1, 1, 8),
    (10.000000001, 1, 10),
    (10.001, 1, 11),
    (0, 100, 0),
    (0.5, 100, 1),
    (840, 210, 4),
    (841, 210, 5),
    (0.1 + 0.2, 0.1, 3),
    (1966.6667, 420, 5),
    (720, 80, 9),
    (4200, 420, 10),
    (99_999.5, 1, 100_000),
]


@pytest.mark.parametrize(("length", "per_skein", "skeins"), SKEINS)
def test_always_rounded_up(length: float, per_skein: float, skeins: int) -> None:
    assert whole_skeins(length, per_skein) == skeins


# length, high, per skein, main colour, spares, and by hand the skeins, the spare and what covers the high end
PURCHASES = [
    (900, 1000, 250, True, 1, Purchase(4, 1)),  # 3.6 -> 4; high 4, covered
    (900, 1250, 250, True, 1, Purchase(4, 1)),  # high 5: skeins and spare are 5
    (900, 1251, 250, True, 1, Purchase(4, 1, 6)),  # high 5.004 -> 6
    (900, 1251, 250, True, 2, Purchase(4, 2)),  # two spares cover 6
    (900, 1251, 250, True, 0, Purchase(4, 0, 6)),
    (190, 190, 174, False, 1, Purchase(2, 0)),  # 1.09 -> 2, rounding buys 348
    (190, 348, 174, False, 1, Purchase(2, 0)),  # high 348 is just what rounding buys
    (190, 349, 174, False, 1, Purchase(2, 1)),  # high 2.006 -> 3: one spare
    (190, 523, 174, False, 1, Purchase(2, 1, 4)),  # high 3.006 -> 4
    (190, 349, 174, False, 2, Purchase(2, 1)),  # a contrast colour has one
    (190, 349, 174, False, 0, Purchase(2, 0, 3)),
]


@pytest.mark.parametrize(("length", "high", "per_skein", "main", "spares", "expected"), PURCHASES)
def test_what_to_buy(length: float, high: float, per_skein: float, main: bool, spares: int, expected: Purchase) -> None:
    assert purchase(length, high, per_skein, main, spares) == expected


def test_total_counts_the_spare() -> None:
    assert Purchase(4, 1, 6).total == 5


@given(st.floats(0, 1e6), st.floats(1, 1e4))
def test_skeins_hold_the_length_and_one_fewer_would_not(length: float, per_skein: float) -> None:
    skeins = whole_skeins(length, per_skein)
    assert skeins * per_skein >= length * (1 - 1e-8)
    assert (skeins - 1) * per_skein < length or skeins == 0


@given(st.integers(0, 10_000), st.floats(0.1, 5000))
def test_exactly_so_many_skeins_are_so_many(count: int, per_skein: float) -> None:
    assert whole_skeins(count * per_skein, per_skein) == count


@given(st.floats(1, 1e5), st.floats(1, 3), st.floats(1, 1e4), st.booleans(), st.integers(0, 3))
def test_high_end_is_covered_or_named(length: float, times: float, per_skein: float, main: bool, spares: int) -> None:
    bought = purchase(length, length * times, per_skein, main, spares)
    covering = bought.covers_high or bought.total
    assert covering == max(bought.total, whole_skeins(length * times, per_skein))


@pytest.mark.parametrize(("length", "per_skein"), [(-1, 100), (100, 0), (100, -5), (nan, 100), (inf, 100), (100, nan)])
def test_what_cannot_be_true(length: float, per_skein: float) -> None:
    with pytest.raises(ValueError, match="Whole skeins need"):
        whole_skeins(length, per_skein)


def test_what_is_left_over() -> None:
    """Subtraction; 1000 yd of which 0.8 is needed, in skeins of 200 yd, leaves nothing, not rounding noise."""
    assert left_over(950.0, 200.0, 5) == 50.0
    assert left_over(1000 * 18 / 22.5, 200.0, 4) == 0.0
    assert left_over(1050.0, 200.0, 5) == -50.0
