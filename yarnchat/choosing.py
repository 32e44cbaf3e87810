"""Which ability a question means: every ability's frames held against its slots and cues, the highest rank wins."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache

from yarnchat.abilities import abilities
from yarnchat.abilities.base import Ability, Frame, Talk
from yarnchat.queries import Query


def choose(query: Query, cues: Iterable[str]) -> tuple[Ability, int] | None:
    """The ability meant and the rank of its frame, or None."""
    slots = query.slots()
    asked = {cue.removeprefix("ask.") for cue in cues}
    return next(((ability, rank) for rank, condition, ability in _by_rank() if condition.holds(slots, asked)), None)


def talk_of(query: Query) -> Talk:
    """How the ability a query was answered by stands in a conversation; as most do where none has yet."""
    ability = abilities().get(query.ability)
    return ability.talk if ability else Talk()


@dataclass(frozen=True, slots=True)
class Condition:
    """What a frame asks of a question, in sets."""

    cues: frozenset[str]
    without: frozenset[str]
    slots: tuple[frozenset[str], ...]
    """Of each set, one must be filled."""

    def holds(self, slots: frozenset[str], cues: set[str]) -> bool:
        """Whether a question with these slots filled and these cues said is one of the frame's."""
        if self.cues and self.cues.isdisjoint(cues):
            return False
        if not (self.without.isdisjoint(slots) and self.without.isdisjoint(cues)):
            return False
        return not any(map(slots.isdisjoint, self.slots))


@cache
def condition(frame: Frame) -> Condition:
    """A frame's condition."""
    slots = tuple(frozenset(either.split("|")) for either in frame.slots)
    return Condition(frozenset(frame.cues), frozenset(frame.without), slots)


@cache
def _by_rank() -> tuple[tuple[int, Condition, Ability], ...]:
    """Every frame's rank and condition with its ability, the highest rank first."""
    every = [(frame.rank, condition(frame), ability) for ability in abilities().values() for frame in ability.frames]
    return tuple(sorted(every, key=lambda row: -row[0]))
