"""The answer as JSON: the same fields whatever the status, figures by name and shape, nothing rounded."""

from __future__ import annotations

import json
import re
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from yarnchat import Assistant

FIELDS = {
    "asked", "status", "ability", "reading", "figures", "sizes", "colours", "yarns", "findings", "working", "cautions",
    "unused", "asks", "suggestions",
}  # fmt: skip
README = Path(__file__).parent.parent / "README.md"
MAIN = "1200 yd worsted pattern in 420 yd/100 g fingering?"
BY_STATUS = {
    "answered": MAIN,
    "unclear": "1200 yd worsted pattern in 420 yd/100 g fingering, 7?",
    "not_understood": "what time is the train to the harbour",
    "refused": "0 yd of worsted in fingering, 420 yd/100 g",
}

Json = dict[str, Any]
Shape = Callable[[object], bool]


def asked(text: str, *before: str) -> Json:
    """The answer as JSON has it, after what was said before."""
    assistant = Assistant(notebook=":memory:")
    for said in before:
        assistant.ask(said)
    return assistant.ask(text).model_dump(mode="json")


# fields --------------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("status", "question"), BY_STATUS.items())
def test_every_status_has_the_same_fields(status: str, question: str) -> None:
    answer = asked(question)
    assert answer["status"] == status
    assert set(answer) == FIELDS
    assert answer["asked"] == question
    lists = ("sizes", "colours", "yarns", "findings", "working", "cautions", "unused", "suggestions")
    assert all(isinstance(answer[name], list) for name in lists)
    assert isinstance(answer["figures"], dict)


@pytest.mark.parametrize("status", ["unclear", "not_understood", "refused"])
def test_without_an_answer_there_are_no_figures(status: str) -> None:
    answer = asked(BY_STATUS[status])
    assert answer["figures"] == {}
    assert answer["working"] == []
    assert bool(answer["asks"]) is (status != "refused")


def test_an_unclear_question_names_what_was_not_used() -> None:
    assert asked(BY_STATUS["unclear"])["unused"] == ["7"]


def test_what_was_not_understood_comes_with_questions_that_are() -> None:
    suggestions = asked(BY_STATUS["not_understood"])["suggestions"]
    assert suggestions
    assert [asked(question)["status"] for question in suggestions] == ["answered"] * len(suggestions)


def test_an_answer_asks_nothing_back() -> None:
    answer = asked(MAIN)
    assert answer["asks"] is None
    assert answer["suggestions"] == answer["unused"] == []
    assert answer["ability"] == "substitute"
    assert answer["working"]
    assert answer["cautions"]


# figures -------------------------------------------------------------------------------------------------------------


def is_amount(value: object) -> bool:
    """``{value, unit}``, with both ``low`` and ``high`` or neither."""
    return (
        isinstance(value, dict)
        and set(value) in ({"value", "unit"}, {"value", "unit", "low", "high"})
        and isinstance(value["value"], int | float)
        and isinstance(value["unit"], str)
        and value.get("low", value["value"]) <= value["value"] <= value.get("high", value["value"])
    )


def is_ratio(value: object) -> bool:
    """``{value, low, high, basis}``."""
    return (
        isinstance(value, dict)
        and set(value) == {"value", "low", "high", "basis"}
        and value["low"] <= value["value"] <= value["high"]
        and value["basis"] in ("same gauge", "gauge", "swatch", "default")
    )


def is_count(value: object) -> bool:
    """A whole number."""
    return isinstance(value, int) and not isinstance(value, bool)


def is_number(value: object) -> bool:
    """A number."""
    return isinstance(value, int | float) and not isinstance(value, bool)


def is_yes_or_no(value: object) -> bool:
    """True or false."""
    return isinstance(value, bool)


def is_text(value: object) -> bool:
    """Text."""
    return isinstance(value, str)


def are_names(value: object) -> bool:
    """One name or more."""
    return isinstance(value, list) and bool(value) and all(isinstance(name, str) for name in value)


def are_ratio_rows(value: object) -> bool:
    """``{from, to, value, low, high, basis}``, and the swatches a row rests on."""
    fields = {"from", "to", "value", "low", "high", "basis"}
    return isinstance(value, list) and bool(value) and all(fields <= set(row) <= fields | {"swatches"} for row in value)


def are_items(value: object) -> bool:
    """What the notebook holds."""
    return isinstance(value, list) and bool(value) and all(set(item) == {"kind", "name", "text"} for item in value)


BOUGHT: dict[str, Shape] = {
    "ratio": is_ratio,
    "length": is_amount,
    "skeins": is_count,
    "spare": is_count,
    "mass": is_amount,
    "cost": is_amount,
}
CASES: list[tuple[str, str, dict[str, Shape]]] = [
    ("substitute", "swap 900 m of DK for aran, 50 g/80 m balls at £4.50", BOUGHT),
    (
        "skeins",
        "960 m, 50 g/120 m balls at £4.20: what do I buy?",
        {name: shape for name, shape in BOUGHT.items() if name != "ratio"},
    ),
    ("measure", "how long is 250 g of 230 m/100 g DK?", {"length": is_amount}),
    ("measure", "what do 600 m of a 230 m/100 g DK weigh?", {"mass": is_amount}),
    (
        "enough",
        "I have 6 skeins of DK, 230 yd each; is that enough for 1200 yd of worsted?",
        {"enough": is_yes_or_no, "have": is_amount, "need": is_amount, "short": is_amount, "skeins": is_count},
    ),
    (
        "enough",
        "I have 6 skeins of DK, 230 yd each; is that enough for 900 yd of DK?",
        {"enough": is_yes_or_no, "have": is_amount, "need": is_amount, "left_over": is_amount},
    ),
    (
        "progress",
        "triangle shawl from the point: 100 of 200 rows took 110 m, I have 300 m left",
        {"fraction": is_number, "need": is_amount, "used": is_amount, "enough": is_yes_or_no, "short": is_amount},
    ),
    (
        "swatch",
        "swatch in DK, 230 m/100 g: 10 x 10 cm, 22 sts and 30 rows, weighs 4.5 g",
        {"area": is_amount, "length": is_amount, "length_per_area": is_amount, "length_per_stitch": is_amount},
    ),
    ("ratios", "show me the ratio table", {"rows": are_ratio_rows}),
    (
        "piece",
        "a scarf 8 in by 60 in in worsted, 210 yd a skein",
        {"area": is_amount, "length": is_amount, "skeins": is_count},
    ),
    ("identify", "what weight is 22 sts to 4 in?", {"weight_class": are_names}),
    ("convert", "what is 400 yd in metres?", {"value": is_number, "unit": is_text}),
    ("convert", "what is a US 8 needle in mm?", {"mm": is_amount, "us": is_text, "uk": is_text}),
    ("strands", "what do two strands of fingering, 400 m/100 g, make held together?", {"weight_class": are_names}),
    ("notebook", "remember my yarn Harbour Lamp, DK, 230 m/100 g", {"items": are_items}),
]


@pytest.mark.parametrize(("ability", "question"), [(ability, question) for ability, question, _ in CASES])
def test_the_readme_names_every_figure(ability: str, question: str) -> None:
    told = re.search(rf"^\| `{ability}` \| (.*) \|$", README.read_text(encoding="utf-8"), re.MULTILINE)
    assert told
    assert set(asked(question)["figures"]) <= set(re.findall(r"`(\w+)`", told.group(1)))


@pytest.mark.parametrize(("ability", "question", "shapes"), CASES)
def test_figures(ability: str, question: str, shapes: dict[str, Shape]) -> None:
    answer = asked(question)
    assert (answer["status"], answer["ability"]) == ("answered", ability)
    assert set(shapes) <= set(answer["figures"])
    assert [name for name, shape in shapes.items() if not shape(answer["figures"][name])] == []


def test_values_are_not_rounded() -> None:
    """29.5 / 18 x 1200 yd; the mass by 100 g / 420 yd; uncertainty by the table of class gauges, k = 2."""
    figures = asked(MAIN)["figures"]
    assert figures["ratio"]["value"] == pytest.approx(29.5 / 18, rel=1e-12)
    assert figures["length"]["value"] == pytest.approx(1200 * 29.5 / 18, rel=1e-12)
    assert figures["mass"]["value"] == pytest.approx(1200 * 29.5 / 18 * 100 / 420, rel=1e-12)
    terms = ((20 - 16) / 2 / 18 / 3**0.5, (32 - 27) / 2 / 29.5 / 3**0.5, 0.08)
    spread = 2 * sum(term**2 for term in terms) ** 0.5
    assert figures["ratio"]["low"] == pytest.approx(29.5 / 18 * (1 - spread), rel=1e-9)
    assert figures["ratio"]["high"] == pytest.approx(29.5 / 18 * (1 + spread), rel=1e-9)


# parts ---------------------------------------------------------------------------------------------------------------


def test_several_sizes() -> None:
    answer = asked("850 (950, 1,050) yd of worsted in DK, 230 yd a skein")
    assert [set(part) for part in answer["sizes"]] == [{"name", "figures", "sizes"}] * 3
    assert all({"length", "skeins"} <= set(part["figures"]) for part in answer["sizes"])
    assert answer["colours"] == []


def test_colours_in_several_sizes_have_their_own() -> None:
    answer = asked("MC 800 (900, 1000) yd, CC 150 (170, 200) yd of worsted in DK, 230 yd a skein")
    assert [(part["name"], len(part["sizes"])) for part in answer["colours"]] == [("MC", 3), ("CC", 3)]
    assert answer["sizes"] == []


def test_one_size_picked_answers_as_a_single_question() -> None:
    answer = asked("850 (950, 1,050) yd of worsted in DK, 230 yd a skein, size 2")
    assert answer["sizes"] == []
    assert answer["figures"]["length"]["value"] == pytest.approx(950 * 22.5 / 18)


def test_candidates_are_yarns() -> None:
    answer = asked("compare DK at 230 yd a skein with sport at 325 yd a skein for 1200 yd of worsted")
    assert answer["ability"] == "compare"
    assert len(answer["yarns"]) == 2


def test_a_check_has_findings() -> None:
    answer = asked("check: 5 skeins of 220 yd, 1,500 yd in all")
    assert answer["ability"] == "check"
    assert {finding["level"] for finding in answer["findings"]} <= {"note", "doubt", "error"}
    assert answer["findings"]


# the doors -----------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("status", "question"), BY_STATUS.items())
def test_json_on_the_command_line_is_the_answer(status: str, question: str) -> None:
    command = [sys.executable, "-m", "yarnchat", "--notebook", ":memory:", "--json", question]
    ran = subprocess.run(command, capture_output=True, check=False)
    assert json.loads(ran.stdout.decode("utf-8")) == asked(question)
    assert ran.returncode == (0 if status == "answered" else 1)
