"""Areas of shapes, ribs, and other sizes from one sample."""

from math import pi

import pytest
from hypothesis import given
from hypothesis import strategies as st

from yarnchat.fabric import shapes
from yarnchat.fabric.sizes import grade

# shape, measures in cm, area in cm² by plane geometry
AREAS = [
    ("rectangle", {"width": 50, "height": 150}, 7500),
    ("square", {"width": 20}, 400),
    ("triangle", {"width": 150, "height": 75}, 5625),
    ("circle", {"diameter": 100}, 2500 * pi),
    ("half circle", {"diameter": 100}, 1250 * pi),
    ("crescent", {"width": 100, "height": 40}, 1000 * pi),
    ("tube", {"circumference": 60, "height": 25}, 1500),
    ("hat", {"circumference": 54, "height": 22}, 1188),
    # 100 × 60 + 2 × 45 × (36 + 20) / 2 = 6000 + 2520
    (
        "sweater",
        {"chest": 100, "length": 60, "sleeve_length": 45, "upper_arm": 36, "wrist": 20},
        8520,
    ),
]


@pytest.mark.parametrize(("shape", "measures", "area"), AREAS)
def test_area(shape: str, measures: dict[str, float], area: float) -> None:
    assert shapes.area(shape, measures) == pytest.approx(area, rel=1e-12)


def test_every_shape_is_in_the_table() -> None:
    assert {shape for shape, *_ in AREAS} == set(shapes.SHAPES)


@pytest.mark.parametrize("shape", sorted(shapes.SHAPES))
def test_every_measure_is_needed_and_above_zero(shape: str) -> None:
    names = shapes.SHAPES[shape].measures
    for name in names:
        whole = dict.fromkeys(names, 10.0)
        with pytest.raises(ValueError, match="above zero"):
            shapes.area(shape, whole | {name: 0.0})
        del whole[name]
        with pytest.raises(KeyError):
            shapes.area(shape, whole)


@pytest.mark.parametrize("shape", sorted(shapes.SHAPES))
@given(size=st.floats(1, 500), times=st.floats(1.1, 10))
def test_area_grows_with_the_square(shape: str, size: float, times: float) -> None:
    names = shapes.SHAPES[shape].measures
    small, large = dict.fromkeys(names, size), dict.fromkeys(names, size * times)
    assert shapes.area(shape, large) == pytest.approx(shapes.area(shape, small) * times**2, rel=1e-9)


def test_unknown_shape() -> None:
    with pytest.raises(KeyError):
        shapes.area("sock", {"width": 10})


def test_swatch_allowance() -> None:
    # 4 × 4 in: 16 × 6.4516 cm² (1959 agreement).
    assert pytest.approx(103.2256, rel=1e-12) == shapes.SWATCH_ALLOWANCE


def test_yarn_for_an_area() -> None:
    # 7500 cm² at 10 cm/cm² are 75,000 cm.
    assert shapes.yarn_length(10, 7500) == 750


def test_reach_of_a_yarn() -> None:
    # 400 m = 40,000 cm; / (10 cm/cm² × 25 cm) = 160 cm.
    assert shapes.reach(400, 10, 25) == 160


@given(st.floats(1, 1e4), st.floats(1, 40), st.floats(1, 300))
def test_reach_is_the_reverse_of_yarn_length(yarn: float, density: float, width: float) -> None:
    area = shapes.rectangle(width, shapes.reach(yarn, density, width))
    assert shapes.yarn_length(density, area) == pytest.approx(yarn, rel=1e-9)


# Industry rule for finished cotton, at equal loop length.
@pytest.mark.parametrize(("texture", "factor"), [("1x1", 1.36), ("2x1", 1.57)])
def test_ribs(texture: str, factor: float) -> None:
    assert shapes.rib_factor(texture) == factor


def test_no_factor_where_nobody_published_one() -> None:
    with pytest.raises(KeyError):
        shapes.rib_factor("cables")


def test_chest_and_length() -> None:
    # (42 × 24) / (38 × 22) = 1008 / 836 = 1.205742; known exactly, so there is no range.
    found = grade(38, 22, 42, 24)
    assert found.value == pytest.approx(1.205742, abs=5e-7)
    assert found.low == found.value == found.high


# From a 38 in sample: c, then c^1.5 between c and c², by hand; the estimate rises and falls on either
# side of 1.
@pytest.mark.parametrize(
    ("chest", "value", "low", "high"),
    [(34, 0.846337, 0.800554, 0.894737), (42, 1.161980, 1.105263, 1.221607), (38, 1, 1, 1)],
)
def test_chest_alone(chest: float, value: float, low: float, high: float) -> None:
    found = grade(38, None, chest, None)
    assert (found.value, found.low, found.high) == pytest.approx((value, low, high), abs=1e-6)


@given(st.floats(20, 80), st.floats(20, 80))
def test_grading_there_and_back(one: float, other: float) -> None:
    there, back = grade(one, None, other, None), grade(other, None, one, None)
    assert there.value * back.value == pytest.approx(1, rel=1e-12)
    assert there.low * (1 - 1e-12) <= there.value <= there.high * (1 + 1e-12)


def test_one_length_is_never_dropped_silently() -> None:
    with pytest.raises(ValueError, match="both sizes"):
        grade(38, 22, 42, None)
    with pytest.raises(ValueError, match="both sizes"):
        grade(38, None, 42, 24)


@pytest.mark.parametrize("measures", [(0, None, 42, None), (38, None, -1, None), (38, 0, 42, 24), (38, 22, 42, 0)])
def test_sizes_must_be_above_zero(measures: tuple[float, float | None, float, float | None]) -> None:
    with pytest.raises(ValueError, match="above zero"):
        grade(*measures)
