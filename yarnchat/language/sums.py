"""Lengths that are added to the one told before, or may be taken from it."""

from __future__ import annotations

import itertools
from dataclasses import replace

from yarnchat.language.colours import certain_labels
from yarnchat.language.lexicon import word_list
from yarnchat.language.made import part_before
from yarnchat.language.sentence import Sentence


def added_behind(sentence: Sentence) -> None:
    """``1100 yd plus 80 yd for the collar``, ``1200 yd + 150 yd worsted``: two lengths that are added."""
    for one, two in itertools.pairwise(sentence.phrases):
        gap = {sentence.lower_at(at) for at in range(one.last, two.first)}
        plain = all(p.kind == "length" and len(p.value.values) == 1 and p.value.low is None for p in (one, two))
        if not plain or not gap & word_list("adding") or not gap <= word_list("adding") | {"and", "an", "a"}:
            continue
        if one.value.unit != two.value.unit or part_before(sentence, one) or certain_labels(sentence):
            continue
        said = f"{one.value} + {two.value}"
        one.value = replace(one.value, values=(one.value.values[0] + two.value.values[0],))
        one.notes = (*one.notes, f"{said} = {one.value}")
        two.kind = "one"
        return


def length_of_all(sentence: Sentence) -> None:
    """``2 skeins of fingering, about 800 yards altogether``: what the skeins told before it hold together.

    Where what is on each is told as well, the two are held against each other.
    """
    yarns = [phrase for phrase in sentence.phrases if phrase.kind in ("weight", "name")]
    labels = [phrase for phrase in sentence.phrases if phrase.kind == "putup" and phrase.value.length]
    if labels and len(yarns) <= len(labels):
        return
    told = [phrase for phrase in sentence.phrases if phrase.kind not in ("weight", "name")]
    totals = {cue.first for cue in sentence.cues if cue.kind == "price.total"}
    for count, length in itertools.pairwise(told if not sentence.said("ask.check") else []):
        single = count.kind == "count" and length.kind == "length" and len(length.value.values) == 1
        beside = length.last in totals and not sentence.parted(count.last, length.first)
        if not single or not beside or len(count.value.values) != 1:
            continue
        length.notes = (*length.notes, f"{count.value} are {length.value} in all")
        count.kind = "one"
        if sentence.phrases.index(length) == sentence.phrases.index(count) + 1:
            length.first = count.first
            sentence.phrases.remove(count)


def taken_from(sentence: Sentence) -> None:
    """``1200 yd - 150 yd worsted``, ``1200 yd minus 150 yd``: taken from the length before, or what is on a skein.

    Which of them is open, so the second is nothing that could be used, and is asked about.
    """
    for one, two in itertools.pairwise(sentence.phrases):
        gap = [sentence.lower_at(at) for at in range(one.last, two.first)]
        minus = gap in (["-"], ["minus"], ["less"]) and sentence.kind_at(two.last) not in ("COMMA", "")
        if minus and one.kind == two.kind == "length" and one.value.values[0] > two.value.values[0]:
            two.kind = "open"
