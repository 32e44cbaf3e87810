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
    spoken = next((other for other in sentence.phrases if other.first == first), None)
    if phrase.kind == "putup" and spoken is not None:
        spoken.kind, spoken.value = "count", Series((share,), "skein")
    elif phrase.kind in ("length", "mass") and not _of_the_work(sentence, first):
        phrase.value = replace(phrase.value, values=tuple(share * value for value in phrase.value.values))
        phrase.notes = (*phrase.notes, f"{said}: {phrase.value}")
        phrase.first = first
        if spoken is not None:
            sentence.phrases.remove(spoken)


def share_of_hers(sentence: Sentence) -> None:
    """``half my 5 skeins are left``, ``a third of my 6 balls is gone``: so many of them as that comes to.

    Where nothing says whether the share is left or gone, the number is nothing that could be used.
    """
    for count in [p for p in sentence.phrases if p.kind == "count" and len(p.value.values) == 1]:
        whose = sentence.lower_at(count.first - 1) in word_list("whose")
        of = count.first - 1 - whose
        told = _part_in_words(sentence, of - (sentence.kind_at(of) == "OF")) if whose else None
        if told is None:
            continue
        part, first = told
        said = " ".join(token.text for token in sentence.tokens[first : count.last])
        left = _is_left(sentence, first, count.last)
        if left is None:
            count.kind = "open"
            continue
        there = count.value.values[0] * (part if left else 1 - part)
        count.value, count.first, count.flags = replace(count.value, values=(there,)), first, frozenset({"left"})
        count.notes = (*count.notes, f"{said} {'left' if left else 'gone'}: {there:g}")


def _is_left(sentence: Sentence, first: int, last: int) -> bool | None:
    """Whether the words beside a share say that it is left, or that it is gone; None where they say neither."""
    clause = [at for at in range(last, last + _A_CLAUSE) if not sentence.parted(last, at)]
    behind = {sentence.lower_at(at) for at in clause}
    left = bool(behind & word_list("still_there"))
    gone = bool(behind & {"gone", "used"}) or any(c.kind == "have.given" and c.last == first for c in sentence.cues)
    return None if left == gone else left


_A_CLAUSE = 9


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
    if sentence.kind_at(phrase.last) == "HOLD":
        return None  # 20% of the 1000 yd is the border
    if told and told.kind == "percent" and 0 < told.value < _WHOLE:
        return told.value / _WHOLE, told.first
    if told and told.kind == "num" and 0 < told.value.values[0] < 1 and phrase.kind != "putup":
        return told.value.values[0], told.first
    return None if told or phrase.kind == "putup" else _part_in_words(sentence, of - 1)


def _part_in_words(sentence: Sentence, at: int) -> tuple[float, int] | None:
    """The share told in words that ends with the token at a place, and where it begins: ``two thirds``, ``half``."""
    part = load("words.toml")["parts"].get(sentence.lower_at(at))
    if part is None:
        return None
    several = load("words.toml")["numbers"].get(sentence.lower_at(at - 1))
    led = several is not None or sentence.kind_at(at - 1) == "ARTICLE"
    return part * (several or 1), at - led


_WHOLE = 100


def _of_the_work(sentence: Sentence, at: int) -> bool:
    """``I've done 60% of the 1200 yd``: a share of what is knitted, after a word for working it."""
    lead = {sentence.lower_at(before) for before in range(at - 3, at)}
    return bool(lead & (word_list("done") | word_list("working") | {"used"}))
