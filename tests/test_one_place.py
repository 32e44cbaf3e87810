"""One place per fact: how an ability is asked stands in its own file; what all abilities share names no question."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path
from typing import get_args

import pytest

import yarnchat.quantity
from yarnchat.abilities import abilities
from yarnchat.abilities.base import Ability
from yarnchat.choosing import Trait, asking
from yarnchat.language.lexicon import load

PACKAGE = Path(yarnchat.quantity.__file__).parent
SHARED = sorted(path.name for path in PACKAGE.glob("*.py"))
THE_SECTION = {"choosing.py": ["ask."]}
"""choosing.py holds the name of the section of cues.toml that asks, once."""


def literals(source: str) -> Iterator[str]:
    """Every string of a file that is no docstring."""
    tree = ast.parse(source)
    told = {id(node.value) for node in ast.walk(tree) if isinstance(node, ast.Expr)}
    for node in ast.walk(tree):
        if isinstance(node, ast.Constant) and isinstance(node.value, str) and id(node) not in told:
            yield node.value


def questions_named(source: str) -> list[str]:
    """The cues of [ask] that a file names."""
    return [text for text in literals(source) if text.startswith("ask.")]


@pytest.mark.parametrize("path", SHARED)
def test_what_all_abilities_share_names_no_question(path: str) -> None:
    assert questions_named((PACKAGE / path).read_text(encoding="utf-8")) == THE_SECTION.get(path, [])


@pytest.mark.parametrize(
    ("line", "found"),
    [
        ('if "ask.enough" in cues: pass', ["ask.enough"]),
        ('owns = {"ask.compare", "follow.no"}', ["ask.compare"]),
        ('"""ask.enough is one."""', []),
    ],
)
def test_the_check_sees_a_question(line: str, found: list[str]) -> None:
    assert questions_named(line) == found


@pytest.mark.parametrize("name", abilities())
def test_an_ability_is_asked_by_cues_that_there_are(name: str) -> None:
    assert abilities()[name].cues() <= load("cues.toml")["ask"].keys()


@pytest.mark.parametrize("trait", get_args(Trait))
def test_the_questions_of_a_trait_are_those_of_no_other_ability(trait: Trait) -> None:
    """``how many`` asks for skeins and for a ratio alike, so it is no question that only a ratio answers anew."""
    askers: dict[str, list[Ability]] = {}
    for ability in abilities().values():
        for cue in ability.cues():
            askers.setdefault(f"ask.{cue}", []).append(ability)
    alone = {cue for cue, who in askers.items() if all(getattr(ability.talk, trait) for ability in who)}
    assert asking(trait) == alone
    assert alone, "no ability has this trait"


def test_a_cue_is_shared_by_one_with_a_trait_and_one_without() -> None:
    assert "how_many" in abilities()["ratios"].cues() & abilities()["skeins"].cues()
    assert (abilities()["ratios"].talk.anew, abilities()["skeins"].talk.anew) == (True, False)
    assert "ask.how_many" not in asking("anew")
