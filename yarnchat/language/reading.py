"""What a question turned out to say: a query without its ability, and what is to be said of how it was read."""

from __future__ import annotations

from dataclasses import dataclass, field

from yarnchat.queries import Query
from yarnchat.refusals import Refusal


@dataclass(slots=True)
class Reading:
    """The slots a text fills, the cues it holds, and what of it was not used."""

    query: Query
    cues: frozenset[str]
    notes: list[str] = field(default_factory=list)
    unused: list[str] = field(default_factory=list)
    """Numbers that found no place, as typed."""
    refusal: Refusal | None = None
    """Where the text contradicts itself, names two things at once or speaks of something else."""
    words: int = 0
    """How many words of the text said something: known words, numbers and names."""
    unknown: list[str] = field(default_factory=list)
    """Words that are in no vocabulary, as typed."""
    bare_count: float | None = None
    """A lone number with nothing said of it, such as ``what if I only had 6``."""
