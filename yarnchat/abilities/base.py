"""What an ability is: its name, when it is meant, what it can use, how it works things out."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from functools import cached_property
from typing import Literal

from yarnchat.answers import Figure, Finding, Part
from yarnchat.notebook import Notebook
from yarnchat.queries import Query

WHOLE = 85
"""The rank from which on a frame's question is whole in itself."""


@dataclass(frozen=True, slots=True)
class Frame:
    """One row of conditions: the question means this ability where all of them hold.

    ``slots``: names of ``Query.slots()`` that must be filled, ``"a|b"`` for either. ``cues``: one of these cues
    (grammar/cues.toml; ``section.name`` where they are not of [ask]) must have been said; empty for none needed.
    ``without``: slots or cues that rule it out.
    ``rank``: the highest matching frame of all abilities wins; from ``WHOLE`` on, it never leans on another question.
    ``unasked``: no cue that asks another ability's question may have been said.
    """

    rank: int
    slots: tuple[str, ...] = ()
    cues: tuple[str, ...] = ()
    without: tuple[str, ...] = ()
    unasked: bool = False


@dataclass(slots=True)
class Draft:
    """What an ability works out; the assistant makes the Answer of it."""

    headline: str = ""
    figures: dict[str, Figure] = field(default_factory=dict)
    sizes: list[Part] = field(default_factory=list)
    colours: list[Part] = field(default_factory=list)
    yarns: list[Part] = field(default_factory=list)
    findings: list[Finding] = field(default_factory=list)
    working: list[str] = field(default_factory=list)
    cautions: list[str] = field(default_factory=list)
    proposes: str | None = None
    """The question that a plain yes asks next."""


@dataclass
class Context:
    """What is known beside the question: the knitter's own notebook, opened when first needed."""

    open_notebook: Callable[[], Notebook]
    held: tuple[object, ...] = (None, None, None)
    """What the notebook gave when ``seen`` was made; it gives the same objects again while nothing has changed."""
    seen: object = None
    """What abilities/remembered.py made of it."""

    @cached_property
    def notebook(self) -> Notebook:
        """The notebook; NotebookError, a plain sentence, where it cannot be read."""
        return self.open_notebook()


Heed = Literal["doubt", "doubtful number", "number left over", "measures left aside"]
"""What of a reading makes the assistant ask, not answer: a doubt, one about a number, a number with no place, sizes."""
EVERYTHING: frozenset[Heed] = frozenset({"doubt", "doubtful number", "number left over"})


def _never(_query: Query, _cues: frozenset[str]) -> bool:
    return False


@dataclass(frozen=True, slots=True)
class Talk:
    """How the questions of an ability stand in a conversation; by default as those of a pattern, a yarn, an amount."""

    off_thread: bool = False
    """Whether they leave the thread of the conversation as it was."""
    alone: Callable[[Query, frozenset[str]], bool] = _never
    """Whether one that could lean on the question before, by its query and cues, is plainly one of its own."""
    carries: str | None = None
    """The cue that a follow-up takes over where it asks nothing of its own; ``carries_to``: only one with this cue."""
    carries_to: str | None = None
    of_one_yarn: bool = False
    """Whether what is told next of a yarn, with no weight, name or gauge, is of the yarn of the pattern's length."""
    of_candidates: bool = False
    """Whether yarns are weighed against each other: one told next is one of them, or one more."""
    of_other_yarns: bool = False
    """Whether a yarn told next is another one, of which nothing said before holds, and ``it`` is the yarn found."""
    of_lengths: bool = False
    """Whether a length told next is the amount again, and never a skein's."""
    heeds: frozenset[Heed] = EVERYTHING
    counts: bool = True
    """Whether it can tell how many skeins; one that cannot asks for the amount where they are asked for."""
    starts: bool = False
    """Whether its cues ask a question of their own: none is carried over to them from before."""
    anew: bool = False
    """Whether its cues, where they change nothing in the question before, ask what the last answer was no answer to."""
    in_passing: bool = False
    """Whether its cues are said in passing as well, so that they alone ask nothing of the question before."""
    of_text: bool = False
    """Whether its cues alone ask of the text before as it stands: that is read again with them."""
    of_hers: bool = False
    """Whether the amount it was told is one she has: ``is that enough?`` asks of it."""
    of_stash: bool = False
    """Whether its cues ask something of what was told as the stash, and so lean on that."""
    again: bool = False
    """Whether the same question with nothing new is answered again."""
    writes: bool = False
    """Whether working an answer out changes the notebook: that is never done while it is still being typed."""


@dataclass(frozen=True, slots=True)
class Ability:
    """Everything there is to know of one ability, in one place.

    ``uses``: the slots it takes notice of, by name or by the part before the dot; a number in any other slot makes the
    assistant ask. ``answer`` raises a Refusal where something is missing or cannot be true.
    """

    name: str
    summary: str
    examples: tuple[str, ...]
    frames: tuple[Frame, ...]
    uses: frozenset[str]
    answer: Callable[[Query, Context], Draft]
    talk: Talk = Talk()
    asked_by: tuple[str, ...] = ()
    """Cues of [ask] that its question is asked with, though no frame needs them."""

    def cues(self) -> frozenset[str]:
        """The cues of [ask] that ask its question, without the section."""
        needed = {cue for frame in self.frames for cue in frame.cues if "." not in cue}
        return frozenset(needed.union(self.asked_by))
