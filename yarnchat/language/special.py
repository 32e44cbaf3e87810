"""Questions of another make than pattern and yarn, each read by its own file, in their order."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

from yarnchat.language.checking import said_twice
from yarnchat.language.conversions import conversion_told, stitches_across, wanted_rate
from yarnchat.language.grading import graded, pieces_scaled
from yarnchat.language.lexicon import word_list
from yarnchat.language.notes import note_of
from yarnchat.language.phrases import Phrase, Taken
from yarnchat.language.pieces import piece_told
from yarnchat.language.progress import length_done, progress_told
from yarnchat.language.rests import rest_asked, rest_of_so_many, second_of_a_pair, used_of_hers
from yarnchat.language.sentence import Sentence
from yarnchat.language.stitch_counts import may_be_over, stitches_of_the_work
from yarnchat.language.swatches import swatch_told
from yarnchat.queries import NOTHING_TOLD, Query


def special(sentence: Sentence) -> tuple[Query, Taken]:
    """The slots such a question fills, and the phrases they took."""
    query = NOTHING_TOLD
    taken: Taken = []
    note = note_of(sentence)
    if note:
        query = replace(query, note=note)
    taken += wanted_rate(sentence, sentence.phrases)
    for step in _STEPS:
        query, more = step(sentence, query, [phrase for phrase in sentence.phrases if phrase not in taken])
        taken += more
    return query, taken


def _gauges(sentence: Sentence, query: Query, phrases: list[Phrase]) -> tuple[Query, Taken]:
    """Rows said apart from the stitches belong to the gauge beside them: ``22 sts to 4 in, 30 rows``."""
    taken: Taken = []
    for rows in [phrase for phrase in phrases if phrase.kind == "rowgauge"]:
        gauge = next((p for p in phrases if p.kind == "gauge" and p.value.rows is None), None)
        count, over = rows.value
        if gauge and over.value:
            per = gauge.value.over.to(over.unit).value / over.value
            gauge.value = replace(gauge.value, rows=count * per)
            taken.append(rows)
    for gauge, rows in pairwise(phrases):
        if gauge.kind == "gauge" and rows.kind == "rows" and _rows_of(sentence, gauge, rows):
            gauge.value = replace(gauge.value, rows=rows.value[0])
            taken.append(rows)
    return query, taken


def _rows_of(sentence: Sentence, gauge: Phrase, rows: Phrase) -> bool:
    """Whether a number of rows right behind a gauge is of it: not fewer than its stitches, nor twice as many."""
    joined = [sentence.kind_at(at) for at in range(gauge.last, rows.first)] in (["COMMA"], ["AND"], ["COMMA", "AND"])
    ends = sentence.kind_at(rows.last) in ("", "STOP", "COMMA", "COLON", "SEMI", "RPAR", "NEWLINE", "AND")
    count, in_all = rows.value
    alone = gauge.value.rows is None and in_all is None and sentence.kind_at(rows.first) == "NUM"
    near = gauge.value.stitches <= count < 2 * gauge.value.stitches
    return bool(joined and ends and alone and near and not sentence.said("ask.progress"))


def _extents(sentence: Sentence, query: Query, phrases: list[Phrase]) -> tuple[Query, Taken]:
    """``28 sts measure 12.5 cm``, ``in 5 cm I count 11 sts``; one told without its length is over that of the other."""
    taken: Taken = []
    gauges = [phrase for phrase in phrases if phrase.kind == "gauge"]
    if not gauges:
        return query, taken
    for small, gauge in pairwise(phrases):
        gap = {sentence.lower_at(at) for at in range(small.last, gauge.first)}
        counted = sentence.lower_at(small.last) in word_list("wide") or gap & word_list("counted_over")
        if (
            small.kind == "small"
            and counted
            and gauge.kind == "gauge"
            and "bare" in gauge.flags
            and not sentence.parted(small.last, gauge.first)
        ):
            gauge.value, gauge.flags = replace(gauge.value, over=small.value), frozenset()
            taken.append(small)
    for gauge, small in pairwise(phrases):
        if gauge.kind != "gauge" or "bare" not in gauge.flags or small.kind != "small":
            continue
        gap = {sentence.lower_at(at) for at in range(gauge.last, small.first)}
        wide = sentence.lower_at(small.last) in word_list("wide") and not sentence.parted(gauge.last, small.first)
        if gap & word_list("measuring") or wide:
            gauge.value, gauge.flags = replace(gauge.value, over=small.value), frozenset()
            taken.append(small)
    for small, again in pairwise(phrases):
        between = {sentence.kind_at(at) for at in range(small.last, again.first)}
        if (
            small in taken
            and again.kind == "small"
            and between <= {"LPAR", "SLASH", "OR", "EQ"}
            and _alike(small, again)
        ):
            taken.append(again)  # 13 sts make 4″ (10 cm)
    for small in (phrase for phrase in phrases if phrase.kind == "small" and phrase not in taken):
        if sentence.kind_at(small.first - 1) == "OVER" and sentence.lower_at(small.first - 2) == "both":
            taken.append(small)  # 22 sts where the pattern gets 20 (both over 10 cm)
            for gauge in (phrase for phrase in gauges if not _measured(sentence, phrase)):
                gauge.value, gauge.flags = replace(gauge.value, over=small.value), frozenset()
    told = {phrase.value.over for phrase in gauges if "bare" not in phrase.flags}
    for phrase in gauges:
        if "bare" in phrase.flags and len(told) == 1 and may_be_over(phrase.value.stitches, next(iter(told))):
            phrase.value = replace(phrase.value, over=next(iter(told)))
    return query, taken


def _alike(one: Phrase, two: Phrase) -> bool:
    """Whether two measures are the same, rounded: 4 in and 10 cm."""
    told: float = two.value.to("cm").value
    return abs(told / one.value.to("cm").value - 1) < _ROUNDED if told > 0 and one.value.value > 0 else False


_ROUNDED = 0.03
"""4 in and 10 cm differ by 1.6 %, 2 in and 5 cm as much, 6 in and 15 cm too."""


def _measured(sentence: Sentence, gauge: Phrase) -> bool:
    """Whether what it was counted over stands in the gauge itself."""
    return any(sentence.kind_at(at) == "SHORT" for at in range(gauge.first, gauge.last))


_STEPS = (
    _gauges,
    stitches_across,
    _extents,
    said_twice,
    stitches_of_the_work,
    pieces_scaled,
    swatch_told,
    length_done,
    rest_asked,
    rest_of_so_many,
    second_of_a_pair,
    graded,
    piece_told,
    progress_told,
    used_of_hers,
    conversion_told,
)
"""Each takes what is of its make, in this order, of the phrases that those before it left."""
