"""Weights that only say what kind of thing is knitted: a lace shawl of fingering, an aran sweater of DK."""

from __future__ import annotations

from yarnchat.language.lexicon import word_list
from yarnchat.language.phrases import Phrase
from yarnchat.language.sentence import Sentence


def kinds_of_garments(sentence: Sentence) -> None:
    """``a lace shawl, 900 yd of fingering, in DK``: where three weights are told, the one before the thing is none.

    The pattern's is the one that an amount is told of.
    """
    weights = [phrase for phrase in sentence.phrases if phrase.kind == "weight"]
    cues = [cue for cue in sentence.cues if cue.kind in ("pattern.thing", "pattern.noun")]
    things = {at for cue in cues for at in range(cue.first, cue.last)}
    if len({phrase.value[0] for phrase in weights}) < _THREE or sentence.said("ask.compare", "ask.check"):
        return
    for phrase in weights:
        describes = sentence.lower_at(phrase.first) in word_list("garment_kinds")
        before_a_thing = phrase.last in things or (
            sentence.kind_at(phrase.last) == "WORD" and phrase.last + 1 in things
        )
        if describes and before_a_thing and any(_needed_of(sentence, p) for p in weights if p.first > phrase.last):
            phrase.kind = "not_meant"
            return


_THREE = 3


def _needed_of(sentence: Sentence, weight: Phrase) -> bool:
    """Whether an amount is told right before a weight: ``900 yd of fingering``, ``180 yd worsted``."""
    end = weight.first - (sentence.kind_at(weight.first - 1) == "OF")
    return any(phrase.kind == "length" and phrase.last == end for phrase in sentence.phrases)
