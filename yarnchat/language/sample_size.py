"""Which of several chests was knitted, by the names of the sizes: ``S 36 in, M 40 in. The M took 1250 yds``."""

from __future__ import annotations

from yarnchat.language.builders import place_told
from yarnchat.language.lexicon import word_list
from yarnchat.language.phrases import Phrase
from yarnchat.language.sentence import Sentence

_BETWEEN = frozenset({"COLON", "EQ", "HOLD", "CHEST", "LPAR", "DASH", "COMMA"})
"""What may stand between the name of a size and its chest: ``S: chest 36 in``, ``M (40 in)``."""


def sample_named(sentence: Sentence, phrases: list[Phrase], chests: list[Phrase], amount: Phrase) -> int | None:
    """The place, among all the chests, of the one whose name is told with the amount; None where none is so."""
    labels, places = _labels(sentence, phrases, chests)
    sizes = [phrase for phrase in phrases if phrase.kind == "size" and phrase.value.casefold() in labels]
    told = [phrase for phrase in sizes if places.isdisjoint(range(phrase.first, phrase.last))]
    at = sentence.sentence_of(amount.first)
    told = [p for p in told if sentence.sentence_of(p.first) == at or _of_a_sample(sentence, p)]
    names = {phrase.value.casefold() for phrase in told}
    return labels.index(names.pop()) if len(names) == 1 else None


def _of_a_sample(sentence: Sentence, size: Phrase) -> bool:
    """``The sample was a size 2.``: whether a word for what was knitted stands before a size."""
    lead = range(size.first - _A_FEW, size.first)
    return any(sentence.lower_at(at) in word_list("samples") for at in lead)


_A_FEW = 4


def named(phrases: list[Phrase]) -> list[Phrase]:
    """The sizes that are called by a name: ``the M``, not ``the 3rd size``."""
    return [phrase for phrase in phrases if phrase.kind == "size" and place_told(phrase.value) is None]


def _labels(sentence: Sentence, phrases: list[Phrase], chests: list[Phrase]) -> tuple[list[str], set[int]]:
    """The name of each chest, and the tokens those names are; no names where any chest has none."""
    if len(chests) == 1 and chests[0].kind == "smalls":
        listed = [p for p in phrases if p.kind == "sizes" and len(p.value) == len(chests[0].value.values)]
        return ([name.casefold() for name in listed[0].value], set()) if len(listed) == 1 else ([], set())
    places = [_label_before(sentence, chest) for chest in chests]
    if None in places:
        places = [_label_behind(sentence, chest) for chest in chests]
    if None in places:
        return [], set()
    at = {place for place in places if place is not None}
    return [sentence.lower_at(place) for place in places if place is not None], at


def _label_before(sentence: Sentence, chest: Phrase) -> int | None:
    """``S: chest 36 in``, ``M is 40 in``, ``Size 2: chest 40 in``: where the name of a size stands before its chest."""
    at = chest.first - 1
    while sentence.kind_at(at) in _BETWEEN:
        at -= 1
    numbered = sentence.kind_at(at) == "NUM" and sentence.kind_at(at - 1) == "SIZE"
    return at if sentence.kind_at(at) == "SZ" or numbered else None


def _label_behind(sentence: Sentence, chest: Phrase) -> int | None:
    """``36 in (S)``: where the name of a size stands in brackets behind its chest."""
    kinds = [sentence.kind_at(at) for at in range(chest.last, chest.last + 3)]
    return chest.last + 1 if kinds == ["LPAR", "SZ", "RPAR"] else None
