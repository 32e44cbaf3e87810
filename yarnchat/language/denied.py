"""Amounts that are not meant: denied, taken back or guessed at."""

from __future__ import annotations

import itertools
from dataclasses import replace

from yarnchat.language.lexicon import load, word_list
from yarnchat.language.phrases import Phrase
from yarnchat.language.sentence import Sentence


def denied_amounts(sentence: Sentence, taken: list[Phrase]) -> list[Phrase]:
    """Amounts said not to be so beside one of their kind that is: ``not 900 yards, 1900 yards``."""
    _left_out_of_more(sentence)
    told = [p for p in sentence.phrases if p not in taken and p.kind in _DENIED]
    denied = [phrase for phrase in told if _after_not(sentence, phrase)]
    denied += _once_so(sentence, told) + _only_so_many(sentence, told)
    kept = {kind for p in told if p not in denied for kind in _kinds_told(p)}
    return [phrase for phrase in denied if phrase.kind in kept]


def _left_out_of_more(sentence: Sentence) -> None:
    """``I have 8 balls. Forget 3 balls``: of more that was told, and so taken off or not, which is open."""
    left_out = {cue.last for cue in sentence.cues if cue.kind == "negation.left_out"}
    for phrase in [p for p in sentence.phrases if p.kind == "count" and p.first in left_out]:
        more = sentence.last_before(phrase.first, "count", "times")
        if more is not None:
            phrase.kind = "open"


_DENIED = ("length", "mass", "count", "times", "gauge", "putup")


def _kinds_told(phrase: Phrase) -> tuple[str, ...]:
    """What a phrase tells, by which another may be denied: a label tells a mass beside ``not 100 g``, or a length."""
    weighed = phrase.kind == "putup" and phrase.value.mass is not None
    wound = phrase.kind == "putup" and phrase.value.length is not None
    counted = phrase.kind == "times"  # 5 balls, 104 m each
    besides = (("mass", weighed), ("length", wound), ("count", counted))
    return (phrase.kind, *(kind for kind, told in besides if told))


def _only_so_many(sentence: Sentence, told: list[Phrase]) -> list[Phrase]:
    """``I don't have 6 skeins, only 5``, ``… I have 5``: the first is denied, and the second is of its unit."""
    denied: list[Phrase] = []
    for one, two in itertools.pairwise(sentence.phrases):
        gap = {sentence.lower_at(at) for at in range(one.last, two.first)}
        plain = one in told and one.kind in ("count", "length", "mass")
        plain = plain and bool({one.kind, "num"}.intersection(_kinds_told(two)))
        has = any(cue.kind == "have.before" and one.last <= cue.first < two.first for cue in sentence.cues)
        if not plain or not (gap & {"only", "just", "but"} or has) or not denied_before(sentence, one.first):
            continue
        if two.kind == "num":
            two.kind, two.value = one.kind, replace(two.value, unit=one.value.unit)
            told.append(two)
        denied.append(one)
    return denied


def like_the_pattern(sentence: Sentence, phrase: Phrase) -> bool:
    """``not 22 like the pattern``: what is not hers, and is the pattern's."""
    behind = [sentence.lower_at(at) for at in range(phrase.last, phrase.last + _A_FEW)]
    return behind[0] in ("like", "as") and not {"pattern", "pattern's", "book", "designer"}.isdisjoint(behind)


_A_FEW = 4


def _after_not(sentence: Sentence, phrase: Phrase) -> bool:
    """``not 900 yards``, ``don't count the 2 skeins``; not what is ``not 22 like the pattern``."""
    if like_the_pattern(sentence, phrase):
        return False
    if any(cue.kind == "negation.left_out" and cue.last == phrase.first for cue in sentence.cues):
        return True
    before, further = sentence.lower_at(phrase.first - 1), sentence.lower_at(phrase.first - 2)
    return before == "not" or (further == "not" and sentence.kind_at(phrase.first - 1) in ("PER", "TO", "FOR", "IN"))


def _once_so(sentence: Sentence, told: list[Phrase]) -> list[Phrase]:
    """``I thought I had 6 skeins but have 4``: what was so, or was thought to be, beside what she has."""
    once = {cue.last for cue in sentence.cues if cue.kind == "negation.once"}
    has = {cue.last for cue in sentence.cues if cue.kind == "have.before"}
    were = [phrase for phrase in told if phrase.first in once]
    are = {phrase.kind for phrase in told if phrase not in were and has & {phrase.first, phrase.first - 1}}
    return [phrase for phrase in were if phrase.kind in are]


def guessed_needs(sentence: Sentence) -> list[Phrase]:
    """``1 ball or more?``, ``five skeins or six?``: counts that are guesses at the answer, and not what she has."""
    needed = any(phrase.kind in ("length", "mass", "named", "dual") for phrase in sentence.phrases)
    if sentence.said("have.before") or not needed:
        return []
    for count, other in itertools.zip_longest(sentence.phrases, sentence.phrases[1:]):
        if count.kind != "count" or len(count.value.values) != 1:
            continue
        if [sentence.lower_at(at) for at in range(count.first - _A_FEW + 1, count.first)] == ["i", "make", "it"]:
            inside = {count.first - 1}  # I make it eleven balls: no question whether they will do
            sentence.unmark(inside)
            return [count]
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
    """Whether a word that denies stands in the clause before a place: ``I don't want to hold it double``.

    Not where the clause ends between, as in ``not enough DK, so held double``, or what is denied is another thing:
    ``I don't mind holding it double``, ``I don't want to lose the pattern's gauge``.
    """
    between: set[str] = set()
    turned = word_list("turns") | word_list("follows")
    for before in range(at - 1, max(-1, at - 1 - _A_CLAUSE), -1):
        word = sentence.lower_at(before)
        if sentence.kind_at(before) in _CLAUSE_ENDS or word in turned:
            return False
        if word in word_list("denying"):
            between.add(sentence.lower_at(before - 1))
            return between.isdisjoint(word_list("not_denying"))
        between.add(word)
    return False


_A_CLAUSE = 6
_CLAUSE_ENDS = frozenset({"COMMA", "STOP", "SEMI", "COLON", "NEWLINE", "NUM"})


def strands_denied(sentence: Sentence) -> None:
    """``I don't want to hold it double``, ``decided against doubling``: held single, where no strands are told else."""
    told = [phrase for phrase in sentence.phrases if phrase.kind == "strands"]
    for phrase in told:
        if phrase.value > 1 and denied_before(sentence, phrase.first) and not done_all_the_same(sentence, phrase.last):
            phrase.kind, phrase.value = ("strands", 1) if len(told) == 1 else ("not_meant", phrase.value)


def done_all_the_same(sentence: Sentence, end: int) -> bool:
    """``the pattern doesn't hold it double but I will``: what she does though another does not, told up to a place."""
    behind = [sentence.lower_at(at) for at in range(end, end + _A_FEW)]
    turned = [at for at, word in enumerate(behind) if word in word_list("turns")]
    return bool(turned) and behind[turned[0] + 1 : turned[0] + 2] in (["i"], ["i'll"], ["i'd"], ["we"], ["mine"])
