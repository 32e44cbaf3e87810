"""What is taken back in the same breath: ``5 balls, no, 6``, ``of sport, sorry, I mean DK``."""

from __future__ import annotations

import itertools
from dataclasses import replace
from typing import Any

from yarnchat.language.lexicon import word_list
from yarnchat.language.phrases import Phrase
from yarnchat.language.sentence import Sentence
from yarnchat.quantity import LENGTHS, MASSES, Quantity

_AMOUNTS = frozenset({"length", "mass", "count"})
_TOLD_ONCE = _AMOUNTS | {"weight", "putup", "gauge", "price", "name"}
_FAR = 4
"""How many phrases before the one that puts it right a thing may be told: ``1200 yds DK, sorry, 1200 metres``."""
_LIKE = 2.0
"""A number without a unit is put right by one no more than so many times as large (common practice, no source)."""


def take_back(sentence: Sentence) -> None:
    """Leaves out what is put right by what follows it, and says so; the number that puts it right has its unit."""
    _denied_again(sentence)
    _units_put_right(sentence)
    for at in range(1, len(sentence.phrases)):
        two = sentence.phrases[at]
        if not _put_right_by(sentence, sentence.phrases[at - 1], two):
            continue
        before = reversed(sentence.phrases[max(0, at - _FAR) : at])
        one = next((phrase for phrase in before if _is_of(phrase, two)), None)
        if one is not None and one.kind not in (*_AMOUNTS, "num", "times") and not _plainly(sentence, two):
            continue
        if one is None or sentence.parted(one.last, sentence.phrases[at - 1].first):
            continue
        said = f"{sentence.words(two)}, and not {sentence.words(one)}"
        if one.kind == "times":
            one.value, two.kind = (two.value, one.value[1]), "one"  # three 50 g balls, no wait, 4 balls
            one.notes = (*one.notes, said)
            continue
        if two.kind == "num":
            two.kind, two.value = one.kind, replace(two.value, unit=one.value.unit)
        one.kind, two.notes, two.flags = "not_meant", (*two.notes, said), two.flags | {"put right"}


def _denied_again(sentence: Sentence) -> None:
    """``900 m of DK, no wait, not DK, aran``: what is told, said not to be so, and put right by what follows that."""
    for at, (denied, meant) in enumerate(itertools.pairwise(sentence.phrases)):
        gap = {sentence.lower_at(on) for on in range(denied.last, meant.first)}
        lead = [sentence.lower_at(on) for on in range(denied.first - _A_FEW - 1, denied.first)]
        if lead[-1] != "not" or word_list("taking_back").isdisjoint(lead) or not gap or not gap <= _BEFORE_THE_RIGHT:
            continue
        before = sentence.phrases[max(0, at - _FAR) : at]
        told = next((p for p in before if (p.kind, p.value) == (denied.kind, denied.value)), None)
        if told is not None and _is_of(told, meant):
            meant.notes = (*meant.notes, f"{sentence.words(meant)}, and not {sentence.words(told)}")
            told.kind = denied.kind = "not_meant"


def _units_put_right(sentence: Sentence) -> None:
    """``1200 yds, sorry, metres``, ``400 yards, I mean metres``: a unit alone that takes the one before back."""
    inside = {at for phrase in sentence.phrases for at in range(phrase.first, phrase.last)}
    for at, token in enumerate(sentence.tokens):
        one = next((p for p in reversed(sentence.phrases) if p.last <= at), None)
        if token.kind not in ("LEN", "MASS") or at in inside or one is None:
            continue
        words = {sentence.lower_at(on) for on in range(one.last, at)} - _MARKS
        takes = word_list("taking_back")
        if takes.isdisjoint(words) or not words <= takes | word_list("taking_back_with"):
            continue
        told = _in_another_unit(one, str(token.value))
        if told is not None:
            one.notes = (*one.notes, f"{token.text}, and not {sentence.words(one)}")
            one.value, one.last = told, at + 1


def _in_another_unit(phrase: Phrase, unit: str) -> Any:
    """What a phrase tells, the number as it is and the unit another; None where it has none of that kind."""
    kinds = LENGTHS if unit in LENGTHS else MASSES
    if phrase.kind in ("length", "mass", "count") and phrase.value.unit in kinds:
        return replace(phrase.value, unit=unit)
    side = "length" if unit in LENGTHS else "mass"
    wound = getattr(phrase.value, side) if phrase.kind == "putup" else None
    return replace(phrase.value, **{side: replace(wound, unit=unit)}) if wound else None


def _put_right_by(sentence: Sentence, one: Phrase, two: Phrase) -> bool:
    """Whether nothing stands between two phrases but words that take the first back."""
    gap = [sentence.lower_at(at) for at in range(one.last, two.first)]
    gap = gap[1:] if gap[:1] and gap[0] in _NOUNS else gap  # a fingering pattern, no I tell a lie, it's sport
    words = [word for word in gap if word not in _MARKS]
    takes = word_list("taking_back")
    if takes.isdisjoint(words) or not takes | word_list("taking_back_with") >= set(words):
        return False
    return two.kind != "num" or gap[-1] != "no"  # Peat no 24


def _plainly(sentence: Sentence, two: Phrase) -> bool:
    """Whether more than ``no`` or ``rather`` takes back a weight, a name or a label: ``sorry``, or a comma behind."""
    said = {sentence.lower_at(at) for at in range(two.first - _A_FEW, two.first)}
    return bool(said & word_list("taking_back") - _HARDLY) or sentence.lower_at(two.first - 1) in _MARKS


_A_FEW = 4
_NOUNS = frozenset({"pattern", "yarn", "wool", "one"})
_HARDLY = frozenset({"no", "nope", "rather", "well"})
_BEFORE_THE_RIGHT = frozenset({",", "-", "but", "it's", "its", "it", "'s", "is"})
_MARKS = frozenset({",", "-", ".", "..", "...", ":", ";", "…"})


def _is_of(one: Phrase, two: Phrase) -> bool:
    """Whether two phrases tell the same thing, so that the second may put the first right."""
    if one.kind == two.kind:
        return one.kind in _TOLD_ONCE and one.value != two.value
    if one.kind in _AMOUNTS and two.kind == "num":
        return len(one.value.values) == len(two.value.values)
    if one.kind == "times":
        return two.kind == "count"
    return one.kind == "num" and _alike(one, two)


def _alike(one: Phrase, two: Phrase) -> bool:
    """``my skeins are 200, no, 220 yds each``: a lone number of about the size of the amount that puts it right."""
    told: Quantity | None = (
        two.value.length if two.kind == "putup" else two.value.first() if two.kind in _AMOUNTS else None
    )
    lone = one.value.values[0] if len(one.value.values) == 1 else 0.0
    return told is not None and told.value > 0 and told.value / _LIKE <= lone <= told.value * _LIKE
