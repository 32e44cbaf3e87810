"""Which ability a question means: every ability's frames held against its slots and cues, the highest rank wins."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache
from typing import Literal

from yarnchat.abilities import abilities
from yarnchat.abilities.base import Ability, Frame, Talk
from yarnchat.queries import Query

_ASK = "ask."
Trait = Literal["starts", "anew", "in_passing", "of_stash"]


def choose(query: Query, cues: Iterable[str]) -> tuple[Ability, int] | None:
    """The ability meant and the rank of its frame, or None."""
    slots = query.slots()
    said = {cue.removeprefix(_ASK) for cue in cues}
    return next(((ability, rank) for rank, condition, ability in _by_rank() if condition.holds(slots, said)), None)


def asked(cues: Iterable[str]) -> frozenset[str]:
    """Those of the cues that ask something: the ones of [ask]."""
    return frozenset(cue for cue in cues if cue.startswith(_ASK))


@cache
def asking(trait: Trait | None = None) -> frozenset[str]:
    """The cues that ask the question of an ability: of any, or only of such as have that trait in their talk."""
    theirs: set[str] = set()
    others: set[str] = set()
    for ability in abilities().values():
        (theirs if trait is None or getattr(ability.talk, trait) else others).update(ability.cues())
    return frozenset(f"{_ASK}{cue}" for cue in theirs - others)


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
    others = (ability.cues() for ability in abilities().values() if frame not in ability.frames)
    without = frozenset(frame.without).union(*(others if frame.unasked else ()))
    return Condition(frozenset(frame.cues), without, slots)


@cache
def _by_rank() -> tuple[tuple[int, Condition, Ability], ...]:
    """Every frame's rank and condition with its ability, the highest rank first."""
    every = [(frame.rank, condition(frame), ability) for ability in abilities().values() for frame in ability.frames]
    return tuple(sorted(every, key=lambda row: -row[0]))
