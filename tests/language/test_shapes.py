"""Every shape whose area we know can be said, and measured in words, and is then worked out."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

import yarnchat
from yarnchat import Assistant
from yarnchat.abilities.piece import ACROSS
from yarnchat.fabric.shapes import SHAPES
from yarnchat.language.lexicon import load


def test_every_shape_has_words_and_measures() -> None:
    assert set(load("shapes.toml")) == set(SHAPES)
    assert {name.replace("_", " ") for name in load("cues.toml")["shape"]} == set(SHAPES)


@pytest.mark.parametrize("shape", SHAPES)
def test_measures_are_those_of_the_area(shape: str) -> None:
    taken = load("shapes.toml")[shape]
    across = set(ACROSS) if "diameter" in SHAPES[shape].measures else set()
    assert {*taken["in_order"], *taken["stands_for"].values()} <= {*SHAPES[shape].measures, *across}
    assert set(SHAPES[shape].measures) <= set(load("cues.toml")["measure"])


def test_how_a_shape_grows_is_told_alike_to_the_language_and_the_maths() -> None:
    told = {name for name, taken in load("shapes.toml").items() if taken.get("from_a_point")}
    assert told == {name for name, shape in SHAPES.items() if shape.from_a_point}
    assert all(shape.across in shape.measures for shape in SHAPES.values() if shape.across)


@pytest.mark.parametrize("shape", [name for name, shape in SHAPES.items() if shape.across])
def test_what_a_length_of_yarn_reaches_is_the_area_by_what_is_across(shape: str) -> None:
    """The piece ability divides by it, and that is right only where nothing else is in the area."""
    known = SHAPES[shape]
    told = dict(zip(known.measures, known.example, strict=True))
    assert set(told) == {known.across, "height"}
    across = told[known.across or ""]
    assert known.area(*known.example) == pytest.approx(across * told["height"])


NAMED_ELSEWHERE = {
    "language/pieces.py": {"square", "rectangle"},
    "abilities/grade.py": {"rectangle"},
    "abilities/piece.py": {"half circle"},
    "language/settling.py": {"square"},  # 15 cm square: no shape of a piece, but that it is as wide as long
    "language/progress.py": {"circle"},  # half circle: no half of it is done
}
"""The shapes that a file names beside the tables, for what only they have."""


def test_no_other_file_names_a_shape() -> None:
    package = Path(yarnchat.__file__).parent
    named = {
        path.relative_to(package).as_posix(): found
        for path in package.rglob("*.py")
        if (found := {*literals(path.read_text(encoding="utf-8"))} & set(SHAPES))
    }
    del named["fabric/shapes.py"]
    assert named == NAMED_ELSEWHERE


def literals(source: str) -> Iterator[str]:
    """The strings of a file."""
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.Constant) and isinstance(node.value, str):
            yield node.value


@pytest.mark.parametrize(
    ("text", "part"),
    [
        ("row 60 of 120 of a half circle shawl, 200 m used so far, 700 m left", 0.25),  # (60 / 120)²
        ("row 60 of 120 of a crescent shawl, 200 m used so far, 700 m left", 0.25),
        ("row 60 of 120 of a scarf, 200 m used so far, 700 m left", 0.5),
    ],
)
def test_what_is_done_of_a_shape(text: str, part: float) -> None:
    answer = Assistant(notebook=":memory:").ask(text)
    assert answer.figures["fraction"] == pytest.approx(part), answer.headline


def sized(shape: str) -> str:
    """The sizes of the shape's example in words: ``width 20 cm, height 150 cm``."""
    known = SHAPES[shape]
    named = zip(known.measures, known.example, strict=True)
    return ", ".join(f"{name.replace('_', ' ')} {size:g} cm" for name, size in named)


@pytest.mark.parametrize("shape", SHAPES)
def test_every_shape_is_said_and_measured_in_words(shape: str) -> None:
    figure = Assistant(notebook=":memory:").ask(f"how much DK for a {shape}, {sized(shape)}?").figures["area"]
    assert figure.value == pytest.approx(area(shape))  # type: ignore[union-attr]


PLURALS: dict[str, str] = {}
"""Plurals that no s alone makes: ``tea cosies``."""
HALVES = frozenset({"half circle"})
"""What begins with a word that is no plain one: how many there are is then read in digits alone."""


@pytest.mark.parametrize("shape", SHAPES)
@pytest.mark.parametrize("many", ["2", "three", ""])
def test_every_shape_has_its_plural(shape: str, many: str) -> None:
    """Several are worked out as several; where no number is told, one is."""
    plural = PLURALS.get(shape, f"{shape}s")
    count = {"2": 2, "three": 3, "": 1}[many]
    answer = Assistant(notebook=":memory:").ask(f"how much DK for {many} {plural}, {sized(shape)}?")
    if shape in HALVES and many == "three":
        assert answer.status == "unclear"
        assert "three" in (answer.asks or "")
        return
    assert answer.figures["area"].value == pytest.approx(count * area(shape))  # type: ignore[union-attr]


def area(shape: str) -> float:
    """The area of the shape's example, by the formula that tests/numbers holds."""
    return SHAPES[shape].area(*SHAPES[shape].example)


@pytest.mark.parametrize(
    ("text", "area"),
    [
        ("how much DK for a scarf 20 cm wide and 150 cm long?", 20 * 150),
        ("how much DK for a scarf, width 20 cm, length 150 cm?", 20 * 150),
        ("how much DK for a square blanket of 80 cm?", 80 * 80),
        ("how much DK for a square blanket 100 by 120 cm?", 100 * 120),
        ("how much DK for a triangular shawl 150 cm across and 70 cm deep?", 150 * 70 / 2),
        ("how much DK for a round cushion 40 cm across?", 3.14159 * 20 * 20),
        # its radius is 120 / 2π = 19.0986 cm
        ("how much DK for a round cushion 120 cm around?", 3.14159 * 19.0986 * 19.0986),
        ("how much DK for a half circle shawl 150 cm wide?", 3.14159 * 75 * 75 / 2),
        ("how much DK for a half circle shawl with a radius of 75 cm?", 3.14159 * 75 * 75 / 2),
        # half an ellipse: π / 4 x 150 x 50
        ("how much DK for a crescent shawl 150 cm wide and 50 cm deep?", 3.14159 / 4 * 150 * 50),
        ("how much DK for a tea cosy 60 cm around and 25 high?", 60 * 25),
        ("how much DK for a hat 50 cm round and 22 cm tall?", 50 * 22),
        # as far around as its diameter times π
        ("how much DK for a cowl 30 cm in diameter and 25 cm tall?", 3.14159 * 30 * 25),
        ("how much DK for a hat 18 cm in diameter and 20 cm high?", 3.14159 * 18 * 20),
        ("how much DK for two scarves 20 by 150 cm?", 2 * 20 * 150),
        ("how much DK for two striped hats 50 cm round and 22 cm tall?", 2 * 50 * 22),
        ("how much DK for two cushion covers 45 by 45 cm?", 2 * 45 * 45),
        ("how much DK for two blankets 75 by 90 cm?", 2 * 75 * 90),
        ("how much DK for three curtains 75 x 150 cm?", 3 * 75 * 150),
        (
            "how much DK for a sweater, chest 100 cm, length 60 cm, sleeve length 45 cm, upper arm 34 cm, wrist 20 cm?",
            100 * 60 + 2 * 45 * (34 + 20) / 2,
        ),
    ],
)
def test_area_in_words(text: str, area: float) -> None:
    figure = Assistant(notebook=":memory:").ask(text).figures["area"]
    assert figure.unit == "cm^2"  # type: ignore[union-attr]
    assert figure.value == pytest.approx(area, rel=1e-4)  # type: ignore[union-attr]


def test_a_square_round_its_edge_is_asked_about() -> None:
    answer = Assistant(notebook=":memory:").ask("how much DK for a square blanket 120 cm around?")
    assert answer.status == "unclear"
    assert "width of the square" in (answer.asks or "")


@pytest.mark.parametrize(
    ("text", "asks"),
    [
        ("how much DK for a crescent shawl 150 cm wide?", "height of the crescent"),
        # 150 / 2 = 75
        ("how much DK for a half circle shawl 150 cm wide and 50 cm deep?", "is 75 cm deep, not 50 cm"),
    ],
)
def test_a_crescent_is_no_half_circle(text: str, asks: str) -> None:
    answer = Assistant(notebook=":memory:").ask(text)
    assert answer.status == "unclear"
    assert asks in (answer.asks or "")


@pytest.mark.parametrize(
    ("text", "asked"),
    [
        # around, or laid flat?
        ("how much DK for a beanie 20 cm wide and 22 cm tall?", "circumference"),
        # how many is a number, whatever the things are called
        ("how much DK for three gussets 75 x 150 cm?", "three"),
        ("how much DK for two pennants 5 by 20 cm?", "two"),
        ("how much DK for two square blankets 80 by 80 cm?", "two"),
        ("how much DK for two blanketts 75 x 90 cm?", "two"),
        ("how much DK for two circular rugs 50 cm in diameter?", "two"),
    ],
)
def test_what_may_be_meant_otherwise_is_asked(text: str, asked: str) -> None:
    answer = Assistant(notebook=":memory:").ask(text)
    assert answer.status == "unclear"
    assert asked in (answer.asks or "")
