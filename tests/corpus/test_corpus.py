"""Dialogues of every group of phrasing: seen ones pass or are known to miss, unseen ones are counted.

Unseen dialogues are never read while the language is fitted: of them only the share is reported, which says
how well wordings are read that nobody has tuned for.
"""

from __future__ import annotations

import pytest

from .conftest import RUN
from .dialogues import Outcome, dialogues, groups, known_misses, outcomes

SEEN = groups("seen")
UNSEEN = groups("unseen")


def ran(kind: str, group: str, config: pytest.Config) -> tuple[Outcome, ...]:
    """How a group went, kept for the summary."""
    went = outcomes(kind, group)
    config.stash[RUN].setdefault(kind, {})[group] = went
    return went


@pytest.mark.parametrize("group", SEEN)
def test_seen(group: str, pytestconfig: pytest.Config) -> None:
    """What passes must go on passing, what is known to miss must miss, else the list is out of date."""
    went = ran("seen", group, pytestconfig)
    known = known_misses()
    broken = [str(outcome) for outcome in went if not outcome.passed and outcome.name not in known]
    mended = [outcome.name for outcome in went if outcome.passed and outcome.name in known]
    assert not broken, "these must pass:\n" + "\n".join(broken)
    assert not mended, f"these pass now, take them out of known_misses.txt: {', '.join(mended)}"


@pytest.mark.parametrize("group", SEEN)
def test_no_seen_dialogue_crashes(group: str) -> None:
    crashed = [str(outcome) for outcome in outcomes("seen", group) if outcome.crash]
    assert not crashed, "\n".join(crashed)


@pytest.mark.parametrize("group", UNSEEN)
def test_no_unseen_dialogue_crashes(group: str, pytestconfig: pytest.Config) -> None:
    crashed = [outcome.name for outcome in ran("unseen", group, pytestconfig) if outcome.crash]
    assert not crashed


def test_known_misses_are_dialogues() -> None:
    every = {dialogue.name for group in SEEN for dialogue in dialogues("seen", group)}
    assert known_misses() <= every


def test_no_dialogue_is_told_twice() -> None:
    """No id twice, and no question twice as a first turn."""
    kinds = (("seen", SEEN), ("unseen", UNSEEN))
    every = [dialogue for kind, names in kinds for group in names for dialogue in dialogues(kind, group)]
    names = [dialogue.name for dialogue in every]
    assert len(names) == len(set(names))
    asked: dict[str, list[str]] = {}
    for dialogue in every:
        if "say" in dialogue.turns[0]:
            asked.setdefault(dialogue.turns[0]["say"], []).append(dialogue.name)
    twice = [told for told in asked.values() if len(told) > 1]  # names only: what is unseen is not shown
    assert twice == []
