"""How far along a piece is: plane geometry of rows."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from yarnchat.fabric import progress
from yarnchat.queries import EVENLY, FROM_ITS_CENTRE, NARROWING

SHAPES = st.sampled_from([EVENLY, NARROWING, *progress.FROM_A_POINT])

# shape, rows done, rows in all, part of the area
DONE = [
    ("straight", 50, 200, 0.25),
    ("straight", 200, 200, 1),
    ("triangle", 50, 100, 0.25),
    ("triangle", 30, 100, 0.09),
    ("circle", 60, 100, 0.36),
    ("half circle", 100, 100, 1),
    (FROM_ITS_CENTRE, 30, 60, 0.25),
    (NARROWING, 50, 100, 0.75),  # what is left is a triangle of half the height: a quarter of it
    (NARROWING, 100, 100, 1),
]


@pytest.mark.parametrize(("shape", "done", "total", "part"), DONE)
def test_fraction_done(shape: str, done: float, total: float, part: float) -> None:
    assert progress.fraction_done(shape, done, total) == pytest.approx(part, rel=1e-12)


# 200 × √½ = 141.42, 200 × (1 − √½) = 58.58
@pytest.mark.parametrize(
    ("shape", "row"),
    [("straight", 100), ("triangle", 141.42), ("circle", 141.42), ("half circle", 141.42), (NARROWING, 58.58)],
)
def test_half_way_row(shape: str, row: float) -> None:
    assert progress.half_way_row(shape, 200) == pytest.approx(row, abs=0.005)


@given(SHAPES, st.floats(1, 1e4))
def test_half_way_row_leaves_half(shape: str, total: float) -> None:
    row = progress.half_way_row(shape, total)
    assert progress.fraction_done(shape, row, total) == pytest.approx(0.5, rel=1e-12)


@given(SHAPES, st.floats(0.01, 0.99), st.floats(1, 1e4))
def test_more_rows_are_more_done(shape: str, part: float, total: float) -> None:
    assert progress.fraction_done(shape, part * total, total) < progress.fraction_done(shape, total, total)


def test_total_need() -> None:
    # 300 yd for a quarter are 1,200 yd for the whole.
    assert progress.total_need(300, 0.25) == 1200


@pytest.mark.parametrize(("done", "total"), [(0, 100), (-5, 100), (101, 100), (5, 0), (float("nan"), 100)])
def test_rows_that_cannot_be(done: float, total: float) -> None:
    with pytest.raises(ValueError, match="Rows done"):
        progress.fraction_done("straight", done, total)


@pytest.mark.parametrize("fraction", [0, -0.5, 1.01, float("nan")])
def test_fractions_that_cannot_be(fraction: float) -> None:
    with pytest.raises(ValueError, match="fraction"):
        progress.total_need(300, fraction)


def test_unknown_shape() -> None:
    with pytest.raises(ValueError, match="no rule"):
        progress.fraction_done("sock", 1, 2)
