"""Help: every ability has a line, every topic an answer, and an unknown one is said."""

from __future__ import annotations

import pytest

from yarnchat.abilities import abilities
from yarnchat.abilities.help import ABILITY
from yarnchat.abilities.topics import TOPICS
from yarnchat.queries import Query
from yarnchat.refusals import Refusal

from .asking import ask


def test_the_first_help_names_every_other_ability_with_a_question() -> None:
    lines = ask(ABILITY, Query()).working
    for name, ability in abilities().items():
        if name != "help":
            assert f"{name}: {ability.examples[0]}" in lines


@pytest.mark.parametrize("name", sorted(abilities()))
def test_an_ability_by_name_has_its_summary_and_examples(name: str) -> None:
    draft = ask(ABILITY, Query(topic=name.upper()))
    assert draft.headline == abilities()[name].summary
    examples = [line.removeprefix("try: ") for line in draft.working if line.startswith("try: ")]
    assert examples == list(abilities()[name].examples)


def test_every_name_of_a_topic_finds_it_and_no_two_share_one() -> None:
    names = [name for topic in TOPICS for name in topic.names]
    assert len(set(names)) == len(names)
    assert not set(names) & set(abilities())
    for topic in TOPICS:
        for name in topic.names:
            assert ask(ABILITY, Query(topic=f"{name}?")).headline == topic.headline


def test_how_sizes_are_written() -> None:
    draft = ask(ABILITY, Query(topic="how do I write sizes?"))
    assert "1000 (1100, 1250, 1400) yd" in draft.headline


def test_sources_name_the_standards() -> None:
    text = " ".join(ask(ABILITY, Query(topic="sources")).working)
    for source in ("Craft Yarn Council", "JCGM 100:2008", "ISO 2947", "NIST SP 811"):
        assert source in text


@pytest.mark.parametrize("want", ["why", "sure"])
def test_why_and_how_sure_are_topics(want: str) -> None:
    assert ask(ABILITY, Query(want=want)).working


def test_an_unknown_topic_is_said_with_the_known_ones() -> None:
    with pytest.raises(Refusal) as refusal:
        ask(ABILITY, Query(topic="crochet hooks"))
    assert refusal.value.status == "unclear"
    assert "crochet hooks" in refusal.value.sentence
    assert "sizes" in refusal.value.sentence
