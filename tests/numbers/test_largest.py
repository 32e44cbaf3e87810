"""Shapes from their area: the measures of so many cm² have that area again (geometry)."""

from __future__ import annotations

import pytest

from yarnchat.fabric.shapes import SHAPES, area, measures_of


@pytest.mark.parametrize("shape", sorted(name for name, shape in SHAPES.items() if shape.of_area))
def test_measures_of_an_area_have_that_area(shape: str) -> None:
    """A way there and back again, for a small piece and a large one."""
    for square_cm in (100.0, 12_345.0):
        assert area(shape, measures_of(shape, square_cm)) == pytest.approx(square_cm)


def test_by_hand() -> None:
    """A square of 900 cm² is 30 cm wide; a triangle of 900 cm² is 60 cm by 30 cm."""
    assert measures_of("square", 900) == pytest.approx({"width": 30})
    assert measures_of("triangle", 900) == pytest.approx({"width": 60, "height": 30})


def test_of_a_hat_the_area_says_too_little() -> None:
    """Nothing tells how high a hat is from its area."""
    with pytest.raises(KeyError):
        measures_of("hat", 900)
