"""Stitches that are counted and are no gauge: those on the needle, and those that two gauges differ by."""

from __future__ import annotations

import itertools

from yarnchat.language.lexicon import word_list
from yarnchat.language.phrases import Phrase, Taken
from yarnchat.language.sentence import Sentence
from yarnchat.quantity import Quantity
from yarnchat.queries import Query
from yarnchat.refusals import Refusal, unclear

COUNTED = "stitches"
"""The kind of a phrase that counts stitches of the work, which say nothing of the yarn."""


def stitches_of_the_work(sentence: Sentence, query: Query, phrases: list[Phrase]) -> tuple[Query, Taken]:
    """``cast on 88 stitches``, ``64 sts around``, ``the back has 96 stitches``: on the needle, over no length told.

    A count that is over a length, as in ``cast on 30 sts, which is 6 in``, is a gauge.
    """
    for phrase in phrases:
        too_many = phrase.kind == "gauge" and phrase.value.stitches > _MOST_TO_4_IN  # cast on 220 sts, 340 rows
        if _bare(phrase) and (phrase.value.rows is None or too_many) and _on_the_needle(sentence, phrase):
            phrase.kind = COUNTED
    return query, []


def _bare(phrase: Phrase) -> bool:
    return phrase.kind == "gauge" and "bare" in phrase.flags


def _on_the_needle(sentence: Sentence, phrase: Phrase) -> bool:
    """Whether the words beside a count say that it is of the work, or it is more than any gauge has to 4 in."""
    if sentence.said("ask.swatch") or _knitted_at(sentence, phrase) or _beside_a_gauge(sentence, phrase):
        return False
    measures = {other.first for other in sentence.phrases if other.kind == "small"}
    before = any(cue.kind == "stitches.before" and 0 <= phrase.first - cue.last <= _A_WORD for cue in sentence.cues)
    after = any(
        cue.kind == "stitches.after" and cue.first == phrase.last and cue.last not in measures for cue in sentence.cues
    )
    of_a_gauge = any(token.kind == "GAUGE" for token in sentence.tokens)
    return before or after or (phrase.value.stitches > _MOST_TO_4_IN and not of_a_gauge)


def _beside_a_gauge(sentence: Sentence, phrase: Phrase) -> bool:
    """``pattern gauge 20 sts in the round, I get 22 around``: led by the word for it, or beside another like it."""
    led = any(sentence.kind_at(at) == "GAUGE" for at in range(phrase.first - _A_FEW, phrase.first))
    others = [p for p in sentence.phrases if p.kind == "gauge" and p is not phrase and not p.value.rows]
    stitches = phrase.value.stitches
    return led or any(abs(other.value.stitches - stitches) <= stitches / 2 for other in others)


_A_FEW = 3


def _knitted_at(sentence: Sentence, phrase: Phrase) -> bool:
    """``I get 20 sts in the round``, ``pattern at 18 sts``: a count told as a gauge."""
    lead = sentence.lower_at(phrase.first - 1)
    return lead in word_list("knits_at") or sentence.kind_at(phrase.first - 1) == "AT"


_A_WORD = 1
_MOST_TO_4_IN = 48
"""No hand-knit has more stitches to 4 in (common practice, no source): lace has 40 at most."""


def over_what(sentence: Sentence) -> Refusal | None:
    """``gauge 5.5``, ``I get 5 sts``: so few stitches, and no length told, may be to an inch or to four."""
    gauges = [phrase for phrase in sentence.phrases if phrase.kind == "gauge"]
    if len(gauges) != 1 or not _bare(gauges[0]) or gauges[0].value.stitches > _MOST_TO_AN_INCH:
        return None
    count = f"{gauges[0].value.stitches:g}"
    return unclear(f"Is that {count} sts to 1 in, or to 4 in? Type for example: {count} sts to 1 in.", count)


def gauges_equated(sentence: Sentence) -> Refusal | None:
    """``5 sts to the inch, that's 24 to 4 inches``: one gauge told as another that it is not."""
    for one, two in itertools.pairwise(p for p in sentence.phrases if p.kind == "gauge"):
        between = {sentence.lower_at(at) for at in range(one.last, two.first)}
        equated = between & word_list("equating") and between <= word_list("equating") | {",", "(", "-"}
        apart = abs(_to_an_inch(one) / _to_an_inch(two) - 1) > _ROUNDED if _to_an_inch(two) else False
        if equated and apart and not sentence.said("ask.check"):
            said = (str(one.value), str(two.value))
            return unclear(f"{said[0]} is not {said[1]}. Which of them is the gauge?", *said)
    return None


def _to_an_inch(gauge: Phrase) -> float:
    inches = gauge.value.over.to("in").value
    return float(gauge.value.stitches / inches) if inches else 0.0


_ROUNDED = 0.06
"""Between whole stitches to an inch and to 10 cm lies no more."""


def may_be_over(stitches: float, length: Quantity) -> bool:
    """Whether a hand-knit may have so many stitches over a length: not 20 to 1 in, beside ``5 sts per inch``."""
    inches = length.to("in").value
    return inches > 0 and stitches * _FOUR_IN / inches <= _MOST_TO_4_IN


_FOUR_IN = 4
_MOST_TO_AN_INCH = 8
"""Up to here a count without its length may be to an inch (common practice, no source)."""


def gauges_apart(sentence: Sentence) -> Refusal | None:
    """``2 stitches tighter than the pattern's``: by how much two gauges differ, and no gauge itself."""
    for phrase in sentence.phrases:
        small = _bare(phrase) and phrase.value.stitches <= _MOST_APART
        more = sentence.lower_at(phrase.last)
        if small and more in word_list("gauges_apart"):
            said = f"{sentence.words(phrase)} {more}"
            return unclear(f"“{said}”: which gauge is that? Type for example: I get 20 sts to 4 in.", said)
    return None


_MOST_APART = 6
"""So few stitches beside a word for more or less are no gauge (common practice, no source)."""
