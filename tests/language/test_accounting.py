"""What became of every number of a sentence: it is in the query, it counts nothing of the yarn, or it is left over.

A number that is none of these would be a silent misread: an answer that takes no notice of something that was typed.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Iterator

import pytest
from hypothesis import given

from yarnchat.language.accounting import _harmless
from yarnchat.language.amounts import join_put_ups
from yarnchat.language.names import mark_names
from yarnchat.language.phrases import Phrase
from yarnchat.language.reader import read
from yarnchat.language.reading import Reading
from yarnchat.language.repair import repaired
from yarnchat.language.sentence import Sentence, lay_out

from .texts import sentences

NUMBERS = ("NUM", "LONGNUM", "ODDNUM", "NAN")


def figures(value: object) -> Iterator[float]:
    """Every number in a query or a part of one, those that are kept as text included."""
    if isinstance(value, bool) or value is None:
        return
    if isinstance(value, int | float):
        yield float(value)
    elif isinstance(value, str):
        yield from (float(word) for word in value.split() if word.replace(".", "", 1).isdecimal())
    elif isinstance(value, tuple | list):
        for one in value:
            yield from figures(one)
    elif dataclasses.is_dataclass(value):
        for field in dataclasses.fields(value):
            yield from figures(getattr(value, field.name))


def laid_out(text: str) -> Sentence:
    """The sentence as the reader sees it before it says who plays what."""
    sentence, _ = repaired(lay_out(text))
    mark_names(sentence)
    join_put_ups(sentence)
    return sentence


def unaccounted(text: str) -> list[str]:
    """The numbers of a text that nothing became of."""
    sentence, reading = laid_out(text), read(text)
    harmless = _harmless(sentence, sentence.phrases)
    return [
        sentence.tokens[at].text
        for at, token in enumerate(sentence.tokens)
        if token.kind in NUMBERS and at not in harmless and not _kept(sentence, at, reading)
    ]


def _kept(sentence: Sentence, at: int, reading: Reading) -> bool:
    phrase = _phrase_at(sentence, at)
    piece = sentence.words(phrase) if phrase else sentence.tokens[at].text
    if any(piece[:40] in left for left in reading.unused):
        return True
    said = set(figures(phrase.value)) if phrase else set()
    return bool(said) and said <= {*figures(reading.query), reading.bare_count}


def _phrase_at(sentence: Sentence, at: int) -> Phrase | None:
    return next((phrase for phrase in sentence.phrases if phrase.first <= at < phrase.last), None)


@given(sentences())
def test_every_number_is_accounted_for(text: str) -> None:
    reading = read(text)
    if reading.refusal is None:
        assert unaccounted(text) == []
