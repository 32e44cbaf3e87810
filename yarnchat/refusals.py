"""Every way of saying no: its status, the words it concerns, and the sentence that helps."""

from __future__ import annotations

from dataclasses import dataclass

from yarnchat.answers import Status


@dataclass(frozen=True)
class Refusal(Exception):  # noqa: N818 - not an error: a value an ability may raise to stop working
    """A question that gets no figures: why, and what to type instead."""

    status: Status
    sentence: str
    unused: tuple[str, ...] = ()
    suggestions: tuple[str, ...] = ()
    missing: str = ""
    """The slot that is asked for, where a reply may tell that alone: "pattern.put_up"."""


def unclear(sentence: str, *unused: str, suggestions: tuple[str, ...] = (), missing: str = "") -> Refusal:
    """Read in part; the sentence asks for what is missing."""
    return Refusal("unclear", sentence, unused, suggestions, missing)


def refused(sentence: str) -> Refusal:
    """Read, but it cannot be true."""
    return Refusal("refused", sentence)


def not_understood(sentence: str, *unused: str, suggestions: tuple[str, ...] = ()) -> Refusal:
    """Not read; the sentence names the piece that was not."""
    return Refusal("not_understood", sentence, unused, suggestions)
