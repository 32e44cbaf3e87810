"""Areas of what is knitted, in cm² of measures in cm, and the length that a yarn will reach."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from math import pi

from yarnchat.knowledge.ribs import ribs
from yarnchat.quantity import factor

SWATCH_ALLOWANCE = (4 * factor("in", "cm")) ** 2
"""A swatch of 4 × 4 in, in cm²."""


@dataclass(frozen=True, slots=True)
class Shape:
    """A shape: the measures it needs, by name and in order, and its area from them."""

    measures: tuple[str, ...]
    area: Callable[..., float]
    example: tuple[float, ...]
    """Measures of one, in cm, to show how it is asked about."""
    across: str | None = None
    """Of a straight piece, which more yarn makes longer: the measure that has to be known for that."""
    from_a_point: bool = False
    """Whether it is worked from a point or the centre, so that its area grows with the square of the rows."""
    caution: str = ""
    """What an answer says of the area, where it is that of a simpler shape."""
    of_area: Callable[[float], tuple[float, ...]] | None = None
    """Its measures, in cm and in order, where its area in cm² alone is known; ``proportions`` says what was taken."""
    proportions: str = ""


def rectangle(width: float, height: float) -> float:
    """Area of a scarf, a blanket, a plain panel."""
    return width * height


def square(width: float) -> float:
    """Area of a square."""
    return width**2


def triangle(width: float, height: float) -> float:
    """Area of a triangle, such as a shawl: its longest edge and its depth."""
    return width * height / 2


def circle(diameter: float) -> float:
    """Area of a circle."""
    return pi * diameter**2 / 4


def half_circle(diameter: float) -> float:
    """Area of a half circle of that straight edge."""
    return circle(diameter) / 2


def crescent(width: float, height: float) -> float:
    """Area of half an ellipse, for a crescent: from tip to tip and its depth."""
    return pi * width * height / 4


def tube(circumference: float, height: float) -> float:
    """Area of a cowl, a sleeve without shaping, a leg."""
    return circumference * height


def hat(circumference: float, height: float) -> float:
    """Area of a hat taken as a tube to its full height, which errs to more yarn."""
    return tube(circumference, height)


def sweater(chest: float, length: float, sleeve_length: float, upper_arm: float, wrist: float) -> float:
    """Area of a sweater from its schematic: a tube for the body and two tapered sleeves."""
    return chest * length + 2 * sleeve_length * (upper_arm + wrist) / 2


SHAPES: Mapping[str, Shape] = {
    "rectangle": Shape(
        ("width", "height"),
        rectangle,
        (20, 150),
        across="width",
        of_area=lambda cm2: (cm2**0.5, cm2**0.5),
        proportions="as wide as it is long",
    ),
    "square": Shape(("width",), square, (80,), of_area=lambda cm2: (cm2**0.5,)),
    "triangle": Shape(
        ("width", "height"),
        triangle,
        (150, 70),
        from_a_point=True,
        of_area=lambda cm2: (2 * cm2**0.5, cm2**0.5),
        proportions="twice as wide as it is deep",
    ),
    "circle": Shape(("diameter",), circle, (100,), from_a_point=True, of_area=lambda cm2: ((4 * cm2 / pi) ** 0.5,)),
    "half circle": Shape(
        ("diameter",), half_circle, (150,), from_a_point=True, of_area=lambda cm2: ((8 * cm2 / pi) ** 0.5,)
    ),
    "crescent": Shape(
        ("width", "height"),
        crescent,
        (150, 50),
        from_a_point=True,
        caution="A crescent is taken as half an ellipse of that width and depth; a hollow one takes less.",
    ),
    "tube": Shape(("circumference", "height"), tube, (60, 25), across="circumference"),
    "hat": Shape(
        ("circumference", "height"),
        hat,
        (50, 22),
        across="circumference",
        caution="A hat is taken as a tube to its full height, which errs to more yarn.",
    ),
    "sweater": Shape(("chest", "length", "sleeve_length", "upper_arm", "wrist"), sweater, (100, 60, 45, 34, 20)),
}


def area(shape: str, measures: Mapping[str, float]) -> float:
    """Area of a shape in cm², from measures in cm by name.

    KeyError for a shape we do not have or a measure that is missing, ValueError for one not above
    zero.
    """
    known = SHAPES[shape]
    values = [measures[name] for name in known.measures]
    if not all(value > 0 for value in values):
        raise ValueError(f"Every measure of a {shape} must be above zero.")
    return known.area(*values)


def measures_of(shape: str, square_cm: float) -> dict[str, float]:
    """Measures in cm, by name, of a shape of so many cm²; KeyError for a shape of which the area says too little."""
    known = SHAPES[shape]
    if known.of_area is None:
        raise KeyError(shape)
    return dict(zip(known.measures, known.of_area(square_cm), strict=True))


def yarn_length(yarn_density: float, area_cm2: float) -> float:
    """Yarn in m for an area in cm², of D in cm per cm²."""
    return yarn_density * area_cm2 / 100


def reach(yarn: float, yarn_density: float, width: float) -> float:
    """How long a straight piece gets, in cm: yarn in m, D in cm per cm², width in cm."""
    return yarn * 100 / (yarn_density * width)


def rib_factor(texture: str) -> float:
    """Yarn of a rib over yarn of plain fabric of the same area; KeyError for one with no published factor."""
    return ribs()[texture].factor
