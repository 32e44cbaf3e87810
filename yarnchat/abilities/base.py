"""What an ability is: its name, when it is meant, what it can use, how it works things out."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from functools import cached_property

from yarnchat.answers import Figure, Finding, Part
from yarnchat.notebook import Notebook
from yarnchat.queries import Query


@dataclass(frozen=True, slots=True)
class Frame:
    """One row of conditions: the question means this ability where all of them hold.

    ``slots``: names of ``Query.slots()`` that must be filled, ``"a|b"`` for either. ``cues``: one of these cues
    (grammar/cues.toml; ``section.name`` where they are not of [ask]) must have been said; empty for none needed.
    ``without``: slots or cues that rule it out.
    ``rank``: the highest matching frame of all abilities wins.
    """

    rank: int
    slots: tuple[str, ...] = ()
    cues: tuple[str, ...] = ()
    without: tuple[str, ...] = ()


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
