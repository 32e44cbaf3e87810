"""Numbers without a unit, where the unit of the only length, or a heading, says what they are."""

from __future__ import annotations

from dataclasses import replace

from yarnchat.language.counts import (
    MOST_SKEINS,
    YARDAGE,
)
from yarnchat.language.denied import like_the_pattern
from yarnchat.language.lexicon import word_list
from yarnchat.language.phrases import Phrase
from yarnchat.language.sentence import Sentence


def gauge_likewise(sentence: Sentence) -> None:
    """``the pattern gauge is 18 and mine is 20``: a lone number for her gauge, over what the other is counted on."""
    gauge = next((phrase for phrase in sentence.phrases if phrase.kind == "gauge"), None)
    for phrase in sentence.phrases:
        if gauge is None or phrase.kind != "num" or len(phrase.value.values) != 1:
            continue
        lead = {sentence.lower_at(at) for at in range(phrase.first - 3, phrase.first)}
        stitches = phrase.value.values[0]
        knits = sentence.lower_at(phrase.first - 1) in word_list("knits_at") and not lead & {"i've", "have", "we've"}
        before = [sentence.lower_at(at) for at in range(phrase.first - 2, phrase.first)]
        instead = before in (["instead", "of"], ["rather", "than"])
        does = any(cue.kind == "gauge.does" and cue.last == phrase.first for cue in sentence.cues)
        named = before[-1] in word_list("theirs_is")
        theirs = named or (before[-1] in ("says", "wants", "is", "has", "gets") and lead & word_list("theirs"))
        likened = before[-1] == "not" and like_the_pattern(sentence, phrase)
        near = abs(stitches - gauge.value.stitches) <= gauge.value.stitches / 2
        ends = sentence.kind_at(phrase.last) in ("", "STOP", "COMMA", "AND", "SEMI", "LPAR")
        ends = ends or sentence.lower_at(phrase.last) in word_list("turns") | word_list("follows")
        if near and (knits or instead or likened or lead & {"mine", "ours"} or (ends and (does or theirs))):
            phrase.kind, phrase.value = "gauge", replace(gauge.value, stitches=stitches, rows=None)


def so_many_of_them(sentence: Sentence) -> None:
    """``the pattern's in yards, 1260 of them``, ``metres on the band, 125 of them to the ball``: in the unit named."""
    inside = {at for phrase in sentence.phrases for at in range(phrase.first, phrase.last)}
    for phrase in sentence.phrases:
        of_them = [sentence.lower_at(at) for at in (phrase.last, phrase.last + 1)] in (["of", "them"], ["of", "those"])
        if phrase.kind != "num" or len(phrase.value.values) != 1 or phrase.value.values[0] < _LEAST or not of_them:
            continue
        lead = [at for at in range(phrase.first - 1, -1, -1) if sentence.lower_at(at - 1) != "not"][:_A_CLAUSE]
        named = next((at for at in lead if sentence.kind_at(at) in ("LEN", "SKEIN", "SHORT", "STOP")), None)
        asked = named is not None and sentence.lower_at(named - 1) == "many"
        if named is not None and sentence.kind_at(named) == "LEN" and named not in inside and not asked:
            unit = str(sentence.tokens[named].value)
            phrase.kind, phrase.value, phrase.last = "length", replace(phrase.value, unit=unit), phrase.last + 2


_A_CLAUSE = 9
"""So many words before a number its unit may be named."""
_LEAST = 20
"""Fewer of them are rather skeins (common practice, no source)."""


def hers_without_a_unit(sentence: Sentence) -> None:
    """``the pattern wants 1000 yards and I have 900``, ``900 in my stash``: in the only unit of length told."""
    if not any(phrase.kind == "num" for phrase in sentence.phrases):
        return
    told = {phrase.value.unit for phrase in sentence.phrases if phrase.kind == "length"}
    verbs = {cue.last for cue in sentence.cues if cue.kind in ("have.before", "used.before")}
    had = {
        end for end in verbs if sentence.lower_at(end - 1) in ("have", "got", "used", "had", "only", "i've", "bought")
    }
    for phrase in sentence.phrases:
        ends = sentence.kind_at(phrase.last) in ("", "STOP", "COMMA", "AND", "SEMI")
        behind = any(cue.kind == "have.after" and cue.first == phrase.last for cue in sentence.cues)
        lone = phrase.kind == "num" and len(phrase.value.values) == 1 and ((phrase.first in had and ends) or behind)
        if phrase.kind == "num" and phrase.first in had and _skeins_already(sentence, phrase):
            phrase.kind, phrase.value = "count", replace(phrase.value, unit="skein")
        if lone and len(told) == 1 and _LEAST_NEED <= phrase.value.values[0] <= _MOST_NEED:
            phrase.kind, phrase.value = "length", replace(phrase.value, unit=next(iter(told)))


def _skeins_already(sentence: Sentence, phrase: Phrase) -> bool:
    """``250-yard skeins and I have three already``, ``used 3 balls, bought 5 and …``: a few, where skeins are told."""
    few = len(phrase.value.values) == 1 and 0 < phrase.value.values[0] <= MOST_SKEINS
    already = any(cue.kind == "have.after" and cue.first == phrase.last for cue in sentence.cues)
    counted = any(other.kind == "count" for other in sentence.phrases) and sentence.kind_at(phrase.last) == "AND"
    return few and (already or counted) and any(token.kind == "SKEIN" for token in sentence.tokens)


def need_without_a_unit(sentence: Sentence) -> None:
    """``150 yds a skein, and the sweater needs 1425``: what is needed, in the unit of the only length told."""
    bare = [phrase for phrase in sentence.phrases if phrase.kind in ("num", "nums")]
    if not bare:
        return
    told = {
        unit
        for phrase in sentence.phrases
        for unit in ([phrase.value.unit] if phrase.kind == "length" else _label_units(phrase))
    }
    ends = {cue.last for cue in sentence.cues if cue.kind in ("pattern.verb", "need.before")}
    closed = {"", "STOP", "COMMA", "NEWLINE"}
    needed = [phrase for phrase in bare if phrase.first in ends and sentence.kind_at(phrase.last) in closed]
    if len(told) != 1 or len(needed) != 1 or sum(phrase.kind == "length" for phrase in sentence.phrases) > 1:
        return
    [phrase] = needed
    if all(_LEAST_NEED <= value <= _MOST_NEED for value in phrase.value.values):
        phrase.kind, phrase.value = "length", replace(phrase.value, unit=told.pop())


_LEAST_NEED, _MOST_NEED = 100, 10_000
"""A number without a unit between these may be a length that is needed (common practice, no source)."""


def _label_units(phrase: Phrase) -> list[str]:
    return [phrase.value.length.unit] if phrase.kind == "putup" and phrase.value.length else []


def headed_yardage(sentence: Sentence) -> None:
    """``Yardage 640 [720, 800]``, ``grams used: 310, 350, 400``: the heading says the unit."""
    labels = {at for p in sentence.phrases if p.kind == "putup" for at in range(p.first, p.last)}
    for phrase in sentence.phrases:
        if phrase.kind != "nums" or sentence.kind_at(phrase.first - 1) not in ("COLON", "WORD", "DASH", "LEN", "RPAR"):
            continue
        reach = 5 if sentence.kind_at(phrase.first - 1) == "COLON" else 2
        ahead = range(phrase.first - 1, phrase.first - 1 - reach, -1)
        lead = [sentence.lower_at(at) for at in ahead if at not in labels]  # 210 yds/100 g: 5 (6, 7)
        lead = lead[: lead.index("\n")] if "\n" in lead else lead
        if unit := next((YARDAGE[word] for word in lead if word in YARDAGE), None):
            phrase.kind, phrase.value = "length", replace(phrase.value, unit=unit)
        elif "grams" in lead:
            phrase.kind, phrase.value = "mass", replace(phrase.value, unit="g")
