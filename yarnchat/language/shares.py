"""A share of an amount that is told right behind it: 60% of 1200 yd, half of 1250 yd, 40% of a skein."""

from __future__ import annotations

from dataclasses import replace

from yarnchat.language.colours import certain_labels
from yarnchat.language.lexicon import load, word_list
from yarnchat.language.phrases import Phrase
from yarnchat.language.sentence import Sentence
from yarnchat.queries import Series


def shares_of_amounts(sentence: Sentence) -> None:
    """``60% of 1200 yd``, ``a third of 900 m``: so much of the length; ``40% of a 100 g skein``: so much of a skein.

    Of several shares, of those of colours and of what is done of the work nothing is taken.
    """
    found = [(phrase, *told) for phrase in sentence.phrases if (told := _share_before(sentence, phrase))]
    if len(found) != 1 or certain_labels(sentence) or _shares_told(sentence) > 1:
        return
    [(phrase, share, first)] = found
    said = " ".join(token.text for token in sentence.tokens[first : phrase.last])
    told = next((other for other in sentence.phrases if other.first == first), None)
    if phrase.kind == "putup" and told is not None:
        told.kind, told.value = "count", Series((share,), "skein")
    elif phrase.kind in ("length", "mass") and not _of_the_work(sentence, first):
        phrase.value = replace(phrase.value, values=tuple(share * value for value in phrase.value.values))
        phrase.notes = (*phrase.notes, f"{said}: {phrase.value}")
        phrase.first = first
        if told is not None:
            sentence.phrases.remove(told)


def _shares_told(sentence: Sentence) -> int:
    """How many shares a text tells: two of ``half of it in DK and half in sport``, or of ``60% …, the rest``."""
    parts = load("words.toml")["parts"].keys() | word_list("other_shares")
    return sum(token.lower in parts or token.kind == "PERCENT" for token in sentence.tokens)


def _share_before(sentence: Sentence, phrase: Phrase) -> tuple[float, int] | None:
    """The share that is told of an amount right before it, and where it begins."""
    of = phrase.first - 1 - (sentence.kind_at(phrase.first - 1) in ("THE", "ARTICLE"))
    if phrase.kind not in ("length", "mass", "putup") or sentence.kind_at(of) != "OF":
        return None
    told = next((other for other in sentence.phrases if other.last == of), None)
    if told and told.kind == "percent" and 0 < told.value < _WHOLE:
        return told.value / _WHOLE, told.first
    part = load("words.toml")["parts"].get(sentence.lower_at(of - 1))
    if told or part is None or phrase.kind == "putup":
        return None
    several = load("words.toml")["numbers"].get(sentence.lower_at(of - 2))
    led = several is not None or sentence.kind_at(of - 2) == "ARTICLE"
    return part * (several or 1), of - 1 - led


_WHOLE = 100


def _of_the_work(sentence: Sentence, at: int) -> bool:
    """``I've done 60% of the 1200 yd``: a share of what is knitted, after a word for working it."""
    lead = {sentence.lower_at(before) for before in range(at - 3, at)}
    return bool(lead & (word_list("done") | word_list("working") | {"used"}))
