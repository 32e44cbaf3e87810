"""Work under way: rows, lengths or parts of the whole that are done."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

from yarnchat.language.lexicon import load, word_list
from yarnchat.language.phrases import Phrase, Taken, first_of
from yarnchat.language.sentence import Sentence
from yarnchat.queries import NOTHING_TOLD, Progress, Query


def progress_told(sentence: Sentence, query: Query, phrases: list[Phrase]) -> tuple[Query, Taken]:
    """How far along: ``row 60 of 140``, ``40 % done``, ``half way``; not where a percent and a fraction differ."""
    rows = [phrase for phrase in phrases if phrase.kind == "rows"]
    if (
        query.progress
        or query.swatch
        or query.grading
        or query.piece
        or not (rows or sentence.said("ask.progress", "progress.weak"))
    ):
        return query, []
    percent = next((p for p in phrases if p.kind == "percent" and _says_done(sentence, p)), None)
    percent = percent or _to_go(sentence, phrases)
    spoken = _spoken_fraction(sentence)
    if percent and spoken is not None and abs(percent.value / 100 - spoken) > 0.02:
        return query, []
    progress, taken = _by_rows(sentence, rows, phrases) if rows else _by_fraction(sentence, phrases, percent, spoken)
    if progress == Progress():
        return query, []
    return replace(query, progress=replace(progress, shape=_growing(sentence))), taken


_OF_THE_WHOLE = frozenset({"of", "out", "into", "the", "a", "an", "my", "its", "total", "whole", "full", "planned"})


def length_done(sentence: Sentence, query: Query, phrases: list[Phrase]) -> tuple[Query, Taken]:
    """``knit 55 cm of a 160 cm scarf``: how far along by length; a shape that widens goes with the square of it."""
    if not sentence.said("ask.progress", "progress.weak", "used.before", "used.after") or query != NOTHING_TOLD:
        return query, []
    for done, whole in pairwise(phrases):
        between = {sentence.lower_at(at) for at in range(done.last, whole.first)}
        if {done.kind, whole.kind} != {"small"} or not {"of", "into"} & between or not between <= _OF_THE_WHOLE:
            continue
        if sentence.lower_at(whole.last) in word_list("garment_parts"):
            continue  # a sleeve is not the whole of it
        part = done.value.to(whole.value.unit).value / whole.value.value if whole.value.value else 0.0
        if 0 < part <= 1:
            return replace(query, progress=Progress(part if _growing(sentence) == "straight" else part**2)), [
                done,
                whole,
            ]
    return query, []


def _by_rows(sentence: Sentence, rows: list[Phrase], phrases: list[Phrase]) -> tuple[Progress, Taken]:
    """``row 60 of 140``, ``60 rows, 80 to go``: the rows done and those in all, where the larger number is all."""
    done: float | None = None
    total: float | None = None
    to_go = 0.0
    ordered = False
    taken: Taken = []
    for phrase in rows:
        count, of = phrase.value
        if of is None and _says_more(sentence, phrase):
            to_go += count
        elif done is not None and total is not None:
            continue
        elif of:
            done, total, ordered = count, of, True
        elif done is None and not _says_total(sentence, phrase):
            done = count
        else:
            total = count
        taken.append(phrase)
    bare = [p for p in phrases if p.kind == "num" and len(p.value.values) == 1 and p.value.values[0] > 4]
    if done is not None and total is None:
        if to_go:
            total = done + to_go
        elif bare:
            total = bare[0].value.values[0]
            taken.append(bare[0])
    elif done is None and bare and (total or to_go):  # 240 rows in all, I've knitted 96; 40 rows to go out of 120
        number = bare[0].value.values[0]
        done, total = (number, total) if total else (number - to_go, number)
        taken.append(bare[0])
    if done and total and done > total and not ordered:
        done, total = total, done
    return Progress(rows_done=done, rows_total=total), taken


def _by_fraction(
    sentence: Sentence, phrases: list[Phrase], percent: Phrase | None, spoken: float | None
) -> tuple[Progress, Taken]:
    """The part done: of a percent, of words (``half way``), or of ``2/3 of the shawl``, in that order."""
    if percent and 0 <= percent.value <= 100:
        return Progress(percent.value / 100), [percent]
    if spoken is not None:
        return Progress(spoken), []
    for phrase in phrases:
        of_the_way = sentence.lower_at(phrase.last) == "of" and sentence.lower_at(phrase.last + 2) == "way"
        if phrase.kind == "num" and 0 < phrase.value.values[0] < 1 and (of_the_way or _part_made(sentence, phrase)):
            return Progress(phrase.value.values[0]), [phrase]
    fraction = first_of(phrases, "fraction")
    return (Progress(fraction.value), [fraction]) if fraction else (Progress(), [])


def _growing(sentence: Sentence) -> str:
    """How the piece grows as it is knitted: evenly, or with the square of its rows."""
    squared = (shape for shape, taken in load("shapes.toml").items() if taken.get("from_a_point"))
    return next((shape for shape in squared if sentence.said(f"shape.{shape.replace(' ', '_')}")), "straight")


def _to_go(sentence: Sentence, phrases: list[Phrase]) -> Phrase | None:
    """``30% to go``, ``a percent left``: what is done is the rest."""
    for phrase in phrases:
        after = [sentence.lower_at(phrase.last), sentence.lower_at(phrase.last + 1)]
        if phrase.kind == "percent" and (after == ["to", "go"] or after[0] in ("left", "remaining")):
            phrase.value = 100 - phrase.value
            return phrase
    return None


def _says_done(sentence: Sentence, phrase: Phrase) -> bool:
    """``60 % done``, ``40% of the blanket done``: a percent of the work, not of the fibre."""
    near = range(phrase.last, phrase.last + 6)
    around = {sentence.lower_at(i) for i in near if not sentence.parted(phrase.last, i)}
    of_it = sentence.kind_at(phrase.last) == "OF" and any(
        cue.kind == "pattern.thing" and cue.first == phrase.last + 2 for cue in sentence.cues
    )  # used 2.5 balls, and that is 60% of the cardigan
    said = {sentence.lower_at(phrase.first - 1)} & {"at", "done"}
    at_it = bool(said) and sentence.kind_at(phrase.last) in _CLOSES
    if at_it and sentence.said("used.before", "used.after", "ask.progress"):
        return True  # used 100 g, at 25%
    return bool(around & word_list("done")) or _part_made(sentence, phrase) or (of_it and sentence.said("used.before"))


_CLOSES = frozenset({"", "STOP", "COMMA", "AND", "SEMI"})


def _part_made(sentence: Sentence, phrase: Phrase) -> bool:
    """``knit 2/3 of the shawl``, ``done 45% of it``: a part of the work, after a word for working it."""
    lead = {sentence.lower_at(i) for i in range(max(0, phrase.first - 2), phrase.first)}
    of_it = sentence.kind_at(phrase.last) == "OF" and sentence.lower_at(phrase.last + 1) in word_list("the_work")
    return of_it and bool(lead & (word_list("done") | word_list("working")))


def _says_more(sentence: Sentence, phrase: Phrase) -> bool:
    """``50 rows to go``, ``10 rows more``: rows still to knit."""
    after = [sentence.lower_at(i) for i in range(phrase.last, phrase.last + 2)]
    if after == ["to", "go"] or sentence.lower_at(phrase.first - 1) == "another":
        return True
    return after[0] in ("left", "more", "remaining", "still")


def _says_total(sentence: Sentence, phrase: Phrase) -> bool:
    around = {
        sentence.lower_at(i) for i in (*range(phrase.first - 4, phrase.first), *range(phrase.last, phrase.last + 3))
    }
    if {sentence.lower_at(i) for i in range(phrase.first - 3, phrase.first)} & {"stop", "stopped", "end", "finish"}:
        return True  # what if I stop at 250 rows
    if "out" in (sentence.lower_at(i) for i in range(phrase.last, phrase.last + 2)):
        return False  # 90 rows done out of 240
    return bool(around & {"total", "all", "altogether", "out", "has", "whole", "full"})


_HALFWAY = frozenset({"half way", "halfway", "half done", "midway", "mid way"})

_SPOKEN = {
    **dict.fromkeys(_HALFWAY, 0.5),
    "half": 0.5,
    "third": 1 / 3,
    "quarter": 0.25,
    "fifth": 0.2,
    "quarters": 0.25,
    "thirds": 1 / 3,
    "fifths": 0.2,
    "tenths": 0.1,
}

_MANIFOLD = frozenset({"twice", "thrice"})

_HOW_MUCH = frozenset({"amount", "length", "yardage", "meterage", "metreage", "quantity", "number"})

_TOPS = {"a": 1, "one": 1, "two": 2, "three": 3, "four": 4}

_MULTIPLES = frozenset({"double the", "triple the", "double", "triple"})

_PARTS = _MANIFOLD | _MULTIPLES | set(_SPOKEN)


def spoken_part(sentence: Sentence) -> str | None:
    """A part in words that no amount took, as in ``the sleeves take a quarter of it``; None where there is none."""
    covered = {index for phrase in sentence.phrases for index in range(phrase.first, phrase.last)}
    for at, token in enumerate(sentence.tokens):
        if token.lower not in _PARTS:
            continue
        after, later = sentence.lower_at(at + 1), sentence.lower_at(at + 2)
        times = token.lower in _MANIFOLD and after in ("as", "the", "that", "what", "this")
        many = token.lower in _MULTIPLES and {after, later} & _HOW_MUCH
        if (times and later not in ("price", "cost")) or many:
            return f"{token.text} {after}"
        if at in covered or token.lower not in _SPOKEN or token.lower in _HALFWAY:
            continue
        ends = token.lower != "half" and sentence.kind_at(at + 1) in ("COMMA", "")
        nth = [sentence.kind_at(i) for i in range(at - 3, at)] == ["MASS", "OF", "ARTICLE"]  # 35 g of a third
        if (
            not nth
            and (after in ("of", "as", "the", "it") or ends)
            and later not in ("term", "hour", "price", "time", "way")
        ):
            return " ".join(t.text for t in sentence.tokens[max(0, at - 1) : at + 2])
    return None


def _spoken_fraction(sentence: Sentence) -> float | None:
    """A fraction in words that no amount took: ``two thirds done``, ``half way``, ``three quarters through``."""
    covered = {index for phrase in sentence.phrases for index in range(phrase.first, phrase.last)}
    for at, token in enumerate(sentence.tokens):
        if at in covered or token.lower not in _SPOKEN or sentence.lower_at(at + 1) in ("circle", "as", "round"):
            continue
        if sentence.lower_at(at - 1) in word_list("garment_parts"):
            continue  # body half done
        if sentence.kind_at(at + 1) == "DASH" and sentence.lower_at(at + 2) in ("used", "empty", "full", "eaten"):
            continue  # the half-used cake
        before = sentence.lower_at(at - 1) if sentence.kind_at(at - 1) != "DASH" else sentence.lower_at(at - 2)
        return _TOPS.get(before, 1) * _SPOKEN[token.lower]
    return None
