"""Amounts that are not meant: denied, taken back or guessed at."""

from __future__ import annotations

import itertools
from dataclasses import replace

from yarnchat.language.lexicon import load, word_list
from yarnchat.language.phrases import Phrase
from yarnchat.language.sentence import Sentence


def denied_amounts(sentence: Sentence, taken: list[Phrase]) -> list[Phrase]:
    """Amounts said not to be so beside one of their kind that is: ``not 900 yards, 1900 yards``."""
    told = [p for p in sentence.phrases if p not in taken and p.kind in ("length", "mass", "count", "gauge", "putup")]
    denied = [phrase for phrase in told if _after_not(sentence, phrase)]
    denied += _put_right(sentence, told) + _once_so(sentence, told)
    return [phrase for phrase in denied if any(p.kind == phrase.kind and p not in denied for p in told)]


def _after_not(sentence: Sentence, phrase: Phrase) -> bool:
    """``not 900 yards``, ``not per 50 g``."""
    before, further = sentence.lower_at(phrase.first - 1), sentence.lower_at(phrase.first - 2)
    return before == "not" or (further == "not" and sentence.kind_at(phrase.first - 1) in ("PER", "TO", "FOR", "IN"))


def _once_so(sentence: Sentence, told: list[Phrase]) -> list[Phrase]:
    """``I thought I had 6 skeins but have 4``: what was so, or was thought to be, beside what she has."""
    once = {cue.last for cue in sentence.cues if cue.kind == "negation.once"}
    has = {cue.last for cue in sentence.cues if cue.kind == "have.before"}
    were = [phrase for phrase in told if phrase.first in once]
    are = {phrase.kind for phrase in told if phrase not in were and has & {phrase.first, phrase.first - 1}}
    return [phrase for phrase in were if phrase.kind in are]


def _put_right(sentence: Sentence, told: list[Phrase]) -> list[Phrase]:
    """``5 balls, no 6 balls``, ``900 yd, sorry, 950``: an amount taken back in the same breath."""
    taken_back: list[Phrase] = []
    for one, two in itertools.pairwise(sentence.phrases):
        if one not in told or one.kind not in ("length", "mass", "count") or two.kind not in (one.kind, "num"):
            continue
        gap = {sentence.lower_at(at) for at in range(one.last, two.first)} - {",", "-", ".", ":", "…"}
        if not gap & word_list("taking_back") or not gap <= word_list("taking_back") | word_list("taking_back_with"):
            continue
        if two.kind == "num":
            two.kind, two.value = one.kind, replace(two.value, unit=one.value.unit)
            told.append(two)
        taken_back.append(one)
    return taken_back


def guessed_needs(sentence: Sentence) -> list[Phrase]:
    """``1 ball or more?``, ``five skeins or six?``: counts that are guesses at the answer, and not what she has."""
    needed = any(phrase.kind in ("length", "mass", "named", "dual") for phrase in sentence.phrases)
    if sentence.said("have.before") or not needed:
        return []
    for count, other in itertools.zip_longest(sentence.phrases, sentence.phrases[1:]):
        if count.kind != "count" or len(count.value.values) != 1:
            continue
        if any(sentence.kind_at(at) == "OR" for at in range(count.first, count.last)):
            return [count]
        if sentence.kind_at(count.last) != "OR":
            continue
        if other and other.first == count.last + 1 and other.kind in ("num", "count"):
            return [count, other]
        if sentence.lower_at(count.last + 1) in {"more", "fewer", "less", *load("words.toml")["numbers"]}:
            return [count]
    return []


def denied_before(sentence: Sentence, at: int) -> bool:
    """Whether a word that denies stands in the clause before a place: ``I don't want to hold it double``."""
    for before in range(at - 1, max(-1, at - 1 - _A_CLAUSE), -1):
        if sentence.kind_at(before) in _CLAUSE_ENDS or sentence.lower_at(before) in word_list("turns"):
            return False
        if sentence.lower_at(before) in word_list("denying"):
            around = {sentence.lower_at(before - 1), sentence.lower_at(before + 1)}
            return not around & word_list("not_denying")
    return False


_A_CLAUSE = 5
_CLAUSE_ENDS = frozenset({"COMMA", "STOP", "SEMI", "COLON", "NEWLINE", "NUM"})


def strands_denied(sentence: Sentence) -> None:
    """``I don't want to hold it double``, ``decided against doubling``: held single, where no strands are told else."""
    told = [phrase for phrase in sentence.phrases if phrase.kind == "strands"]
    for phrase in told:
        if phrase.value > 1 and denied_before(sentence, phrase.first):
            phrase.kind, phrase.value = ("strands", 1) if len(told) == 1 else ("not_meant", phrase.value)
