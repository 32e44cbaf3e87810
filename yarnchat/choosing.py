"""Which ability a question means: every ability's frames held against its slots and cues, the highest rank wins."""

from __future__ import annotations

from collections.abc import Iterable
from functools import cache

from yarnchat.abilities import abilities
from yarnchat.abilities.base import Ability, Frame
from yarnchat.queries import Query


def choose(query: Query, cues: Iterable[str]) -> tuple[Ability, int] | None:
    """The ability meant and the rank of its frame, or None."""
    slots = query.slots()
    asked = {cue.removeprefix("ask.") for cue in cues}
    return next(((ability, frame.rank) for frame, ability in _by_rank() if fits(frame, slots, asked)), None)


@cache
def _by_rank() -> tuple[tuple[Frame, Ability], ...]:
    """Every frame with its ability, the highest rank first."""
    every = [(frame, ability) for ability in abilities().values() for frame in ability.frames]
    return tuple(sorted(every, key=lambda pair: -pair[0].rank))


def fits(frame: Frame, slots: frozenset[str], cues: set[str]) -> bool:
    """Whether all conditions of a frame hold."""
    if frame.cues and not cues.intersection(frame.cues):
        return False
    if any(word in slots or word in cues for word in frame.without):
        return False
    return all(any(slot in slots for slot in either.split("|")) for either in frame.slots)
