"""What only a check needs read: things said twice, a chest beside each length, stitches cast on, totals after an =."""

from __future__ import annotations

import re
from dataclasses import replace
from itertools import pairwise

from yarnchat.language.lexicon import word_list
from yarnchat.language.phrases import Phrase, Taken
from yarnchat.language.sentence import Sentence
from yarnchat.queries import Grading, Needle, Query, Series, Twice

_SAME_AS = frozenset({"SLASH", "LPAR", "RPAR", "EQ", "EQUALS", "DASH", "COMMA"})
_BESIDE_CHEST = frozenset({"CHEST", "COLON", "DASH", "EQ", "HOLD", "SIZE"})
_OPENS = re.compile(r"^\s*(?:is|are|does)\b", re.IGNORECASE)


def ask_whether(sentence: Sentence) -> None:
    """``is 4 mm a US 5?``: one size in two systems, or one amount in two units, held against each other."""
    if _one_needle_as_another(sentence) or _one_gauge_as_another(sentence):
        sentence.mark("ask.check")
    if not _OPENS.match(sentence.text) or sentence.cue_kinds() & {"ask.enough", "ask.compare"}:
        return
    if len(sentence.phrases) == 1 and sentence.phrases[0].kind == "dual":
        sentence.mark("ask.check")
    if len(sentence.phrases) != 2:
        return
    one, two = sentence.phrases
    gap = {sentence.lower_at(at) for at in range(one.last, two.first)}
    small, needle = (one, two) if one.kind == "small" else (two, one)
    if needle.kind != "needle" or not gap <= word_list("same_as"):
        return
    if small.kind == "small" and small.value.unit == "mm":
        small.kind, small.value = "needle", Needle(f"{small.value.value:g}", "mm")
    if small.kind == "needle":
        sentence.mark("ask.check")


def _one_needle_as_another(sentence: Sentence) -> bool:
    """``UK 6 = US 8?``, ``US 8 or 5 mm, same?``: two needles that may be one."""
    if [phrase.kind for phrase in sentence.phrases] != ["needle", "needle"]:
        return False
    one, two = sentence.phrases
    gap = [sentence.kind_at(at) for at in range(one.last, two.first)]
    same = any(sentence.lower_at(at) == "same" for at in range(two.last, two.last + 3))
    alone = one.first == 0 and sentence.kind_at(two.last) in ("", "STOP")
    equal = gap in (["EQ"], ["EQUALS"]) and alone
    return one.value.system != two.value.system and (equal or (gap == ["OR"] and same))


def _one_gauge_as_another(sentence: Sentence) -> bool:
    """``is 22 sts over 4 in the same as 22 sts over 10 cm?``: two gauges that may be one."""
    if [phrase.kind for phrase in sentence.phrases] != ["gauge", "gauge"] or not sentence.text.rstrip().endswith("?"):
        return False
    one, two = sentence.phrases
    gap = {sentence.lower_at(at) for at in range(one.last, two.first)}
    asks = bool(_OPENS.match(sentence.text)) or not gap.isdisjoint(("is", "are"))
    return asks and not gap.isdisjoint(("same", "equal", "equals"))


def said_twice(sentence: Sentence, query: Query, phrases: Taken) -> tuple[Query, Taken]:
    """Everything of a line to be checked that no other question needs."""
    if not sentence.said("ask.check"):
        return query, []
    _totals(sentence, phrases)
    _of_the_strands(sentence, phrases)
    taken = _sizes_by_chest(sentence, phrases)
    left = [phrase for phrase in phrases if phrase not in taken]
    measures = _measures(sentence, left)
    classes = _classes(sentence, left)
    cast_on = _cast_on(sentence, left)
    needles = _needles(sentence, left)
    seconds = [two for _, two in measures]
    chests = [phrase for phrase in left if phrase.kind == "smalls" and _of_chests(sentence, phrase)]
    if chests and chests[0] not in seconds:
        query = replace(query, grading=Grading(chests=chests[0].value.quantities()))
        taken.append(chests[0])
    twice = Twice(
        tuple((_series(one), _series(two)) for one, two in measures),
        tuple((phrase.value[0][0], phrase.value[1]) for phrase in classes),
        tuple((one.value, two.value) for one, two in needles),
        cast_on[0].value.stitches if cast_on else None,
        cast_on[1].value if len(cast_on) > 1 else None,
    )
    taken += [phrase for pair in (*measures, *needles) for phrase in pair if phrase not in taken] + cast_on
    if _OPENS.match(sentence.text) and phrases and phrases[0].first == 1:
        query = replace(query, want="whether")
    return (replace(query, twice=twice) if twice != Twice() else query), taken


def _sizes_by_chest(sentence: Sentence, phrases: Taken) -> Taken:
    """``38" chest 1050 yds, 42" chest 1000 yds``: one length in several sizes, each named by its chest."""
    pairs = [
        (one, two)
        for one, two in pairwise(phrases)
        if one.kind == "small"
        and two.kind in ("length", "count", "mass")
        and len(two.value.values) == 1
        and {sentence.kind_at(at) for at in range(one.last, two.first)} <= _BESIDE_CHEST
    ]
    units = {(chest.value.unit, amount.value.unit) for chest, amount in pairs}
    if len(pairs) < 2 or len(units) > 1:
        return []
    chests, amounts = [chest for chest, _ in pairs], [amount for _, amount in pairs]
    values = tuple(amount.value.values[0] for amount in amounts)
    names = tuple(str(chest.value) for chest in chests)
    amounts[0].kind, amounts[0].value = "named", (names, Series(values, amounts[0].value.unit))
    return [*chests, *amounts[1:]]


def _totals(sentence: Sentence, phrases: Taken) -> None:
    """``5 skeins = 500 g = 1000 m``: a length and a mass after so many skeins are those of all of them."""
    for one, two in pairwise(phrases):
        gap = [sentence.kind_at(at) for at in range(one.last, two.first)]
        wound = two.value if two.kind == "putup" else None
        if one.kind != "count" or wound is None or gap not in (["EQ"], ["EQUALS"]) or not (wound.length and wound.mass):
            continue
        if one.value.values != (1.0,) and len(one.value.values) == 1:
            two.kind = "dual"
            two.value = tuple(Series((amount.value,), amount.unit) for amount in (wound.mass, wound.length))


def _of_the_strands(sentence: Sentence, phrases: Taken) -> None:
    """``2 skeins for 900 m of double strand``: a length of the strands held together, which takes that for each."""
    for length, strands in pairwise(phrases):
        if (length.kind, strands.kind) != ("length", "strands") or strands.value < 2:
            continue
        of = [sentence.kind_at(at) for at in range(length.last, strands.first)]
        noun = sentence.kind_at(strands.last) == "STRAND" or sentence.lower_at(strands.last) in word_list("yarn_nouns")
        alone = sentence.kind_at(strands.last + noun) in ("", "STOP", "COMMA", "NEWLINE", "RPAR", "SEMI")
        if of in (["OF"], ["OF", "THE"]) and alone:
            told, every = str(length.value), tuple(value * strands.value for value in length.value.values)
            length.value = replace(length.value, values=every)
            length.notes = (*length.notes, f"{told} of {strands.value} strands: {length.value} of yarn")


def _measures(sentence: Sentence, phrases: Taken) -> list[tuple[Phrase, Phrase]]:
    """``90 (100, 110) cm / 35.5 (39.5, 43.5) in``: one measure, or a list of them, in centimetres and in inches."""
    found: list[tuple[Phrase, Phrase]] = []
    for one, two in pairwise(phrases):
        sizes = {one.kind, two.kind} <= {"small", "smalls"}
        if not sizes or {_series(one).unit, _series(two).unit} != {"cm", "in"}:
            continue
        gap = [sentence.kind_at(at) for at in range(one.last, two.first)]
        lists = one.kind == two.kind == "smalls"
        if len(gap) <= 1 and set(gap) <= (_SAME_AS if lists else _SAME_AS - {"COMMA"}):
            found.append((one, two))
    return found


def _classes(sentence: Sentence, phrases: Taken) -> Taken:
    """``DK, 8 ply, 10 ply``: names of a weight said one after another, of one yarn."""
    weights = [phrase for phrase in phrases if phrase.kind == "weight" and len(phrase.value[0]) == 1]
    beside = {
        id(phrase)
        for one, two in pairwise(weights)
        if {sentence.kind_at(at) for at in range(one.last, two.first)} <= _SAME_AS
        for phrase in (one, two)
    }
    return [phrase for phrase in weights if id(phrase) in beside]


def _needles(sentence: Sentence, phrases: Taken) -> list[tuple[Phrase, Phrase]]:
    """``US 4 (3.5 mm) and US 6 (4 mm)``, ``4 mm (UK 8, US 6)``: several needles, or one in three systems.

    Of one in two systems the yarn's line tells.
    """
    found: list[tuple[Phrase, Phrase]] = []
    for one, two in pairwise(phrases):
        gap = [sentence.kind_at(at) for at in range(one.last, two.first)]
        if one.kind != "needle" or two.kind != "needle" or len(gap) > 1:
            continue
        third = bool(found) and found[-1][1] is one
        first = found[-1][0] if third else one
        told_again = set(gap) <= {"LPAR", "SLASH", "EQ"} or (third and gap == ["COMMA"])
        if told_again and first.value.system != two.value.system != one.value.system:
            found.append((first, two))
    return found if len(found) > 1 else []


def _cast_on(sentence: Sentence, phrases: Taken) -> Taken:
    """``cast on 110 sts (20 in)``: stitches that are no gauge, and the width they make where it is said."""
    for at, phrase in enumerate(phrases):
        lead = [sentence.lower_at(i) for i in range(phrase.first - 2, phrase.first)]
        bare = phrase.kind == "gauge" and "bare" in phrase.flags
        if not bare or not (lead == ["cast", "on"] or lead[1] in word_list("casting")):
            continue
        after = phrases[at + 1] if at + 1 < len(phrases) else None
        wide = after if after and after.kind == "small" and after.first - phrase.last <= 2 else None
        return [phrase, wide] if wide else [phrase]
    return []


def _of_chests(sentence: Sentence, phrase: Phrase) -> bool:
    """``chest 34 (36, 38) in``, ``34 (36, 38) in bust``, ``to fit 81 (86, 91) cm``: whether a list is of chests."""
    near = (*range(max(0, phrase.first - 4), phrase.first), phrase.last)
    return any(sentence.kind_at(at) == "CHEST" for at in near) or sentence.lower_at(phrase.first - 1) == "fit"


def _series(phrase: Phrase) -> Series:
    """A measure, or a list of them, as a series."""
    if phrase.kind == "small":
        return Series((phrase.value.value,), phrase.value.unit)
    return Series(phrase.value.values, phrase.value.unit)
