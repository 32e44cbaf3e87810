"""A report: what a script's views are made from, one entry at a time."""

from __future__ import annotations

from dataclasses import dataclass

from yarnchat.answers import Answer, Status
from yarnchat.language.clean import printable

_SAYS: dict[Status, str] = {
    "answered": "Answered.",
    "unclear": "Something is missing from that question.",
    "not_understood": "I could not read that.",
    "refused": "That cannot be true.",
}


@dataclass(frozen=True, slots=True)
class Heading:
    """A heading of the script, kept in the report."""

    text: str


@dataclass(frozen=True, slots=True)
class Asked:
    """One question of the script with its answer."""

    answer: Answer


Entry = Heading | Asked


def sentence(answer: Answer) -> str:
    """What a person reads first: the headline, else the question back, else what the status means."""
    return printable(answer.headline) or printable(answer.asks or "") or _SAYS[answer.status]


def cautions(answer: Answer) -> list[str]:
    """The cautions, but for one that ``sentence`` has said already."""
    said = sentence(answer)
    return [caution for caution in answer.cautions if printable(caution) != said]


def asks(answer: Answer) -> str:
    """The question back, where ``sentence`` has not said it already."""
    question = printable(answer.asks or "")
    return "" if not question or question == sentence(answer) else question
