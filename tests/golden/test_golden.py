"""Golden answers: what the assistant says of each question is what was worked by hand, and the working holds."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path
from typing import Any

import pytest

from yarnchat import Answer, Assistant
from yarnchat.answers import Amount, Figure, Part, Ratio

from .worked import step

FOLDER = Path(__file__).parent.parent.parent / "fixtures" / "golden"
PRECISION = 1e-5
"""Relative: figures worked by hand carry seven figures or more."""

Golden = Mapping[str, Any]


def golden() -> list[Golden]:
    """Every golden answer."""
    files = sorted(FOLDER.glob("*.toml"))
    return [row for path in files for row in tomllib.loads(path.read_text(encoding="utf-8"))["answers"]]


def figures_of(part: Golden) -> dict[str, Any]:
    """The figures of a size or colour: all it says but its name and its own sizes."""
    return {name: value for name, value in part.items() if name not in ("name", "sizes")}


def every_figure(row: Golden) -> Iterator[float]:
    """Each figure of a golden answer, its sizes' and colours' too."""
    parts = [*row.get("sizes", []), *row.get("colours", [])]
    parts += [size for colour in row.get("colours", []) for size in colour.get("sizes", [])]
    for figures in (row.get("figures", {}), *map(figures_of, parts)):
        for value in figures.values():
            if not isinstance(value, bool):
                yield value[0] if isinstance(value, list) else value


def test_there_are_enough_and_none_twice() -> None:
    questions = [(before(row), row["question"]) for row in golden()]
    assert len(set(questions)) == len(questions) >= 30


@pytest.mark.parametrize("row", golden(), ids=lambda row: str(row["question"]))
def test_working(row: Golden) -> None:
    """Every step comes to what is written, and every figure is the result of a step."""
    steps = [step(written) for written in row["worked"]]
    for comes_to, written in steps:
        assert comes_to == pytest.approx(written, rel=PRECISION)
    results = {written for _, written in steps}
    assert set(every_figure(row)) <= results


def marked(row: Golden) -> object:
    """A row that says what it waits for must fail until that is mended."""
    return pytest.param(row, marks=pytest.mark.xfail(strict=True, reason=row["awaits"])) if "awaits" in row else row


@pytest.mark.parametrize("row", [marked(row) for row in golden()], ids=lambda row: str(row["question"]))
def test_answer(row: Golden) -> None:
    answer = asked(row)
    assert answer.status == "answered", answer.headline
    hold_figures(row.get("figures", {}), answer.figures)
    hold_parts(row.get("sizes", []), answer.sizes)
    hold_parts(row.get("colours", []), answer.colours)


def asked(row: Golden) -> Answer:
    """The answer to a row's question, asked after what came before it."""
    assistant = Assistant(notebook=":memory:")
    for text in before(row):
        assistant.ask(text)
    return assistant.ask(row["question"])


def before(row: Golden) -> tuple[str, ...]:
    """What was said before a row's question: nothing, one text or several."""
    said = row.get("before", ())
    return (said,) if isinstance(said, str) else tuple(said)


def hold_parts(wanted: Sequence[Golden], parts: Sequence[Part]) -> None:
    """Hold sizes or colours to those wanted, in order."""
    assert len(parts) == len(wanted)
    for part, one in zip(parts, wanted, strict=True):
        assert "name" not in one or part.name == one["name"]
        hold_figures(figures_of(one), part.figures)
        hold_parts(one.get("sizes", []), part.sizes)


def hold_figures(wanted: Mapping[str, Any], figures: Mapping[str, Figure]) -> None:
    """Hold figures to those wanted: ``[value, unit]`` or a number."""
    for name, value in wanted.items():
        figure = figures[name]
        if isinstance(value, list):
            assert isinstance(figure, Amount), name
            assert figure.value == pytest.approx(value[0], rel=PRECISION), name
            assert figure.unit == value[1], name
        elif isinstance(figure, Ratio):
            assert figure.value == pytest.approx(value, rel=PRECISION), name
        else:
            assert figure == value, name
