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


def taken_from(sentence: Sentence) -> None:
    """``1200 yd - 150 yd worsted``, ``1200 yd minus 150 yd``: taken from the length before, or what is on a skein.

    Which of them is open, so the second is nothing that could be used, and is asked about.
    """
    for one, two in itertools.pairwise(sentence.phrases):
        gap = [sentence.lower_at(at) for at in range(one.last, two.first)]
        minus = gap in (["-"], ["minus"], ["less"]) and sentence.kind_at(two.last) not in ("COMMA", "")
        if minus and one.kind == two.kind == "length" and one.value.values[0] > two.value.values[0]:
            two.kind = "open"
