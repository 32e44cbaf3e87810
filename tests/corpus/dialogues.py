"""The corpus: conversations by group of phrasing, each turn a text and what is expected of its answer."""

from __future__ import annotations

import json
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path

from yarnchat import Assistant

from .judge import Json, misses

FOLDER = Path(__file__).parent.parent.parent / "fixtures" / "corpus"
KNOWN_MISSES = FOLDER / "known_misses.txt"
"""Ids of seen dialogues that must still fail, one a line."""


@dataclass(frozen=True, slots=True)
class Dialogue:
    """One conversation from its start, with an empty notebook."""

    name: str
    turns: tuple[Json, ...]


@dataclass(slots=True)
class Outcome:
    """How a dialogue went: it stops at the first turn that misses."""

    name: str
    said: str = ""
    missed: list[str] = field(default_factory=list)
    wrong: bool = False
    """Whether the turn that missed was answered all the same, with figures that are not those expected."""
    crash: str | None = None

    @property
    def passed(self) -> bool:
        """Whether every turn met what was expected of it."""
        return not self.missed and self.crash is None

    def __str__(self) -> str:
        fault = self.crash or "; ".join(self.missed)
        return f"{self.name}: {self.said[:200]!r}\n    {fault[:400]}"


def groups(kind: str) -> list[str]:
    """The names of the groups of ``seen`` or ``unseen`` dialogues."""
    return sorted(path.stem for path in (FOLDER / kind).glob("*.jsonl"))


def dialogues(kind: str, group: str) -> list[Dialogue]:
    """The dialogues of one group."""
    lines = (FOLDER / kind / f"{group}.jsonl").read_text(encoding="utf-8").splitlines()
    return [Dialogue(row["id"], tuple(row["turns"])) for row in map(json.loads, filter(str.strip, lines))]


@cache
def outcomes(kind: str, group: str) -> tuple[Outcome, ...]:
    """How every dialogue of a group went."""
    return tuple(held(dialogue) for dialogue in dialogues(kind, group))


def held(dialogue: Dialogue) -> Outcome:
    """How one dialogue goes with the real assistant."""
    assistant = Assistant(notebook=":memory:")
    for turn in dialogue.turns:
        said = text_of(turn)
        try:
            answer = assistant.ask(said).model_dump(mode="json")
        except Exception as error:
            return Outcome(dialogue.name, said, crash=f"{type(error).__name__}: {error}")
        if missed := misses(turn["expect"], answer):
            unsaid = all(miss.startswith("does not mention") for miss in missed)
            return Outcome(dialogue.name, said, missed, answer["status"] == "answered" and not unsaid)
    return Outcome(dialogue.name)


def text_of(turn: Json) -> str:
    """What is typed: ``say``, or the piece and the number of times of ``repeat``."""
    if "repeat" in turn:
        piece, times = turn["repeat"]
        return str(piece * times)
    return str(turn["say"])


def known_misses() -> set[str]:
    """The ids that must still fail."""
    lines = KNOWN_MISSES.read_text(encoding="utf-8").splitlines()
    return {line.strip() for line in lines if line.strip() and not line.startswith("#")}
