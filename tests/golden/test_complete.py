"""Every ability is whole: help, examples, dialogues of the corpus, and answers worked by hand."""

from __future__ import annotations

import json
from collections import Counter
from pathlib import Path

import pytest

from yarnchat import Assistant
from yarnchat.abilities import abilities

from .test_golden import asked, golden

SEEN = Path(__file__).parent.parent.parent / "fixtures" / "corpus" / "seen"
FEWEST_DIALOGUES = 9

NOT_BY_FIGURES = {
    "check": "findings in words; tests/abilities/test_check.py holds them",
    "compare": "figures of each yarn; tests/abilities/test_compare.py holds them",
    "help": "no figures",
    "identify": "names of classes; tests/abilities/test_identify.py holds them",
    "notebook": "no figures",
    "ratios": "a table; tests/abilities/test_ratios.py holds it",
}


def expected() -> Counter[str]:
    """How many turns of the corpus expect each ability."""
    lines = [line for path in sorted(SEEN.glob("*.jsonl")) for line in path.read_text(encoding="utf-8").splitlines()]
    turns = [turn["expect"] for line in lines for turn in json.loads(line)["turns"]]
    said = [each.get("ability") for turn in turns for each in (turn, *turn.get("any_of", []))]
    return Counter(name for name in said if isinstance(name, str))


@pytest.mark.parametrize("name", abilities())
def test_help_tells_of_it(name: str) -> None:
    ability = abilities()[name]
    assert ability.summary.endswith(".")
    assert len(ability.examples) >= 2
    assert ability.frames
    everything = Assistant(notebook=":memory:").ask("what can I ask?")
    assert any(step.startswith(f"{name}: {ability.examples[0]}") for step in everything.working) or name == "help"
    told = Assistant(notebook=":memory:").ask(f"help {name}")
    assert ability.summary in " ".join([told.headline, *told.working]) or name == "help"


@pytest.mark.parametrize("name", abilities())
def test_the_corpus_asks_it(name: str) -> None:
    assert expected()[name] >= FEWEST_DIALOGUES


def test_answers_are_worked_by_hand() -> None:
    worked = {asked(row).ability for row in golden() if "awaits" not in row}
    assert set(abilities()) == worked | NOT_BY_FIGURES.keys()
    assert not worked & NOT_BY_FIGURES.keys()
