"""While a question is typed: how it reads so far, what it lacks, and which stretch plays which role."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Literal

from yarnchat.abilities.base import Context
from yarnchat.choosing import choose
from yarnchat.language.clean import printable
from yarnchat.language.names import mark_names
from yarnchat.language.reader import read
from yarnchat.language.reading import Reading
from yarnchat.language.sentence import lay_out
from yarnchat.notebook import NotebookError
from yarnchat.queries import Query
from yarnchat.refusals import Refusal

LONGEST = 1000
"""Of a longer text, a pasted one, nothing is shown: to read it at every key would be felt."""

Role = Literal["quantity", "class", "name"]

_ROLES: dict[str, Role] = {"weight": "class", "name": "name"}
_QUANTITIES = frozenset(
    {
        *("length", "mass", "count", "times", "dual", "named", "putup", "gauge", "rows"),
        *("dim", "needle", "strands", "wpi", "price", "percent", "grist"),
    }
)  # fmt: skip
_IN_WHICH_YARN = "In which yarn?"


@dataclass(frozen=True, slots=True)
class LiveReading:
    """A question half typed, in the program's words, and what it lacks, as a question; each may be ""."""

    text: str = ""
    missing: str = ""


@dataclass(frozen=True, slots=True)
class Span:
    """A stretch of the text, ``start`` up to ``end``, and what it is."""

    start: int
    end: int
    role: Role


def reading_so_far(text: str, context: Context, continuing: bool = False) -> LiveReading:
    """How a text reads, and what the answer would ask for; never raises for anything typed.

    ``context`` lends what is remembered; nothing is written. ``continuing``: there is a question before that this
    one may lean on, so that what it leaves out may be taken from there.
    """
    if len(text) > LONGEST or not text.strip():
        return LiveReading()
    reading = read(text)
    said = "" if reading.query == Query() else printable(str(reading.query))
    return LiveReading(said, printable(_missing(reading, context, continuing)))


def spans(text: str) -> tuple[Span, ...]:
    """The quantities, weight classes and yarn names of a text, in order, none overlapping."""
    if len(text) > LONGEST:
        return ()
    sentence = lay_out(text)
    mark_names(sentence)
    found = []
    for phrase in sentence.phrases:
        role = "quantity" if phrase.kind in _QUANTITIES else _ROLES.get(phrase.kind)
        if role:
            first, last = sentence.tokens[phrase.first], sentence.tokens[phrase.last - 1]
            found.append(Span(first.start, last.end, role))
    return tuple(found)


def shortened(live: LiveReading, width: int) -> tuple[str, str]:
    """Both parts cut to one line of that many columns; what is missing keeps its room first."""
    missing = _cut(live.missing, width)
    if not live.text:
        return "", missing
    room = width - len(missing) - len("I read: ") - (2 if missing else 0)
    said = _cut(live.text, room)
    return (f"I read: {said}" if said else ""), missing


def _missing(reading: Reading, context: Context, continuing: bool) -> str:
    """What a half-typed question still lacks, in a few words; "" where it lacks nothing."""
    if reading.refusal:
        return _first_sentence(reading.refusal)
    if reading.unused:
        return f"What does “{reading.unused[0]}” stand for?"
    query = reading.query
    slots = query.slots()
    chosen = choose(query, reading.cues)
    if continuing and "need" not in slots:
        return ""
    if chosen is None:
        return _unasked(slots)
    ability, _ = chosen
    if ability.talk.writes:
        return ""
    try:
        ability.answer(query, context)
    except Refusal as refusal:
        return _first_sentence(refusal)
    except NotebookError:
        return ""
    return ""


def _unasked(slots: frozenset[str]) -> str:
    """What a text lacks that no ability takes up yet."""
    if "need" in slots:
        return "What do you want to know of it?" if "yarn" in slots else _IN_WHICH_YARN
    if "yarn" in slots or any(slot.startswith("pattern.") for slot in slots):
        return "How much does the pattern take?"
    return ""


def _first_sentence(refusal: Refusal) -> str:
    return re.split(r"(?<=[.?!])\s", refusal.sentence, maxsplit=1)[0]


def _cut(text: str, room: int) -> str:
    if len(text) <= room:
        return text
    return f"{text[: room - 3].rstrip()}..." if room > 3 else ""
