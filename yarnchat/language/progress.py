"""Work under way: rows, lengths or parts of the whole that are done."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise
from math import isclose

from yarnchat.language.lexicon import load, shape_cue, word_list
from yarnchat.language.phrases import Phrase, Taken, first_of
from yarnchat.language.sentence import Cue, Sentence
from yarnchat.quantity import Quantity
from yarnchat.queries import EVENLY, FROM_ITS_CENTRE, NARROWING, NOTHING_TOLD, Progress, Query


def progress_told(sentence: Sentence, query: Query, phrases: list[Phrase]) -> tuple[Query, Taken]:
    """How far along: ``row 60 of 140``, ``40 % done``, ``half way``; not where a percent and a fraction differ."""
    rows = [phrase for phrase in phrases if phrase.kind == "rows"]
    if (
        query.progress
        or query.swatch
        or query.grading
        or query.piece
        or not (rows or sentence.said("ask.progress", "progress.weak") or _says_how_far(sentence, phrases))
        or (sentence.said("progress.outline") and _growing(sentence) == EVENLY)
    ):
        return query, []
    percent = _percent_done(sentence, phrases)
    spoken = _spoken_fraction(sentence)
    if percent and spoken is not None and abs(percent[0] - spoken) > 0.02:
        return query, []
    progress, taken = _by_rows(sentence, rows, phrases) if rows else _by_fraction(sentence, phrases, percent, spoken)
    if progress == Progress():
        return query, []
    return replace(query, progress=replace(progress, shape=_growing(sentence))), taken


def _says_how_far(sentence: Sentence, phrases: list[Phrase]) -> bool:
    """``down to 160 g at 65%: will I make it?``, ``knit half my hat on 30 g``: the part done, by no word for it."""
    percents = [phrase for phrase in phrases if phrase.kind == "percent"]
    at_it = [phrase for phrase in percents if sentence.lower_at(phrase.first - 1) == "at"]
    if sentence.said("ask.enough") and any(_says_done(sentence, phrase) for phrase in at_it):
        return True
    halves = [at for at, token in enumerate(sentence.tokens) if token.lower == "half"]
    worked = (at for at in halves if sentence.lower_at(at - 1) in word_list("working"))
    return any(
        {"my", "the", "a", "this", "it"} & {sentence.lower_at(at + 1), sentence.lower_at(at + 2)} for at in worked
    )


_OF_THE_WHOLE = frozenset({"of", "out", "into", "the", "a", "an", "my", "its", "total", "whole", "full", "planned"})


def length_done(sentence: Sentence, query: Query, phrases: list[Phrase]) -> tuple[Query, Taken]:
    """``knit 55 cm of a 160 cm scarf``: how far along by length; a shape that widens goes with the square of it."""
    if not sentence.said("ask.progress", "progress.weak", "used.before", "used.after") or query != NOTHING_TOLD:
        return query, []
    for done, whole in pairwise(phrases):
        if sentence.lower_at(whole.last) in word_list("garment_parts") and not _said_once_more(sentence, whole.last):
            continue  # a sleeve is not the whole of it, unless it is what is asked about
        one, two = _as_measures(sentence, done, whole)
        if {one.kind, two.kind} != {"small"}:
            continue
        part = _part_of_length(sentence, one, two)
        if part is not None and 0 < part <= 1:
            return replace(query, progress=Progress(_of_the_area(_growing(sentence), part))), [done, whole]
    return query, []


def _as_far_as(sentence: Sentence, one: Phrase, two: Phrase) -> bool:
    """``1.2 m so far, want 1.8 m``: how long it is by now, and how long it is to be."""
    now = any(
        cue.kind in ("used.after", "since.now_after", "ask.progress") and 0 <= cue.first - one.last <= 1
        for cue in sentence.cues
    )
    return now and any(cue.kind == "progress.goal" and cue.last == two.first for cue in sentence.cues)


def _as_measures(sentence: Sentence, one: Phrase, two: Phrase) -> tuple[Phrase, Phrase]:
    """``18 in of the 24``, ``1.2 m so far, want 1.8``: how long the work is, in m too, and a bare number behind it."""
    if one.kind == "length" and len(one.value.values) == 1 and _as_far_as(sentence, one, two):
        one = replace(one, kind="small", value=one.value.first())
        if two.kind == "length" and len(two.value.values) == 1:
            two = replace(two, kind="small", value=two.value.first())
    if one.kind == "small" and two.kind == "num" and len(two.value.values) == 1:
        two = replace(two, kind="small", value=Quantity(two.value.values[0], one.value.unit))
    return one, two


def _said_once_more(sentence: Sentence, at: int) -> bool:
    """``knit 14 inches of a 22 inch body …, enough for the body?``: whether a part is named again after a place."""
    return any(token.lower == sentence.lower_at(at) for token in sentence.tokens[at + 1 :])


def _part_of_length(sentence: Sentence, one: Phrase, two: Phrase) -> float | None:
    """The part done, of a length done or to go and the whole, or of the one done and the one to go."""
    first: float = one.value.to(two.value.unit).value
    second: float = two.value.value
    between = {sentence.lower_at(at) for at in range(one.last, two.first)}
    to_go = _still_to_knit(sentence, one.first, one.last)
    if _as_far_as(sentence, one, two):
        return first / second if second else None
    if _still_to_knit(sentence, two.first, two.last):
        return first / (first + second) if first and _says_worked(sentence, one) else None
    if to_go and second and between & {"of", "into", "end of"}:
        return 1 - first / second
    return first / second if second and {"of", "into"} & between and between <= _OF_THE_WHOLE else None


def _by_rows(sentence: Sentence, rows: list[Phrase], phrases: list[Phrase]) -> tuple[Progress, Taken]:
    """``row 60 of 140``, ``60 rows, 80 to go``: the rows done and those in all, where the larger number is all."""
    told: dict[str, float] = {}
    taken: Taken = []
    bare = [p for p in phrases if p.kind == "num" and len(p.value.values) == 1 and p.value.values[0] > _FEW]
    bare = [phrase for phrase in bare if sentence.lower_at(phrase.first - 1) != "not"]  # it's 80 rows, not 90
    ordered = next((phrase for phrase in rows if phrase.value[1]), None)
    if ordered:
        told["done"], told["total"] = ordered.value
        taken.append(ordered)
    for phrase in (*rows, *bare):
        role = _row_role(sentence, phrase, told)
        if role is None:
            continue
        count = phrase.value[0] if phrase.kind == "rows" else phrase.value.values[0]
        told[role] = told.get(role, 0) + count
        taken.append(phrase)
    done, total, to_go = (told.get(role) for role in ("done", "total", "to go"))
    if to_go and total is None and done is not None:
        total = done + to_go
    elif to_go and done is None and total is not None:
        done = total - to_go
    elif to_go and done is not None and total is not None and not ordered and total != done + to_go:
        return Progress(), []
    if done and total and not ordered:
        done, total = min(done, total), max(done, total)
        if _more_than_all(sentence, taken):
            done, total = total, done
    return Progress(rows_done=done, rows_total=total), taken


def _more_than_all(sentence: Sentence, taken: Taken) -> bool:
    """``220 rows out of 180``, ``of 200 rows I've done 260``: what is done is told as such, though it cannot be."""
    first, second = sorted(taken, key=lambda phrase: phrase.first)[:2]
    between = [sentence.lower_at(at) for at in range(first.last, second.first)]
    told = [phrase.value[0] if phrase.kind == "rows" else phrase.value.values[0] for phrase in (first, second)]
    of_all = sentence.kind_at(first.first - 1) == "OF" or _says_total(sentence, first)
    behind = {sentence.lower_at(at) for at in range(second.last, second.last + 3)}
    if of_all and _says_worked(sentence, second) and not behind & {"total", "all", "altogether"}:
        return bool(told[1] > told[0])
    out_of = {"out", "of"} & set(between) and "which" not in between
    return bool(out_of) and len(between) <= _A_FEW_WORDS and told[0] > told[1]


_FEW = 4
"""A bare number up to this is hardly one of rows."""


def _row_role(sentence: Sentence, phrase: Phrase, told: dict[str, float]) -> str | None:
    """What a number of rows, or a bare one beside it, is: ``done``, ``total`` or ``to go``; None where it is none."""
    to_go = _still_to_knit(sentence, phrase.first, phrase.last)
    if phrase.kind == "rows" and phrase.value[1]:
        return None
    if phrase.kind == "rows":
        to_go = to_go or not {"more", "further"}.isdisjoint(sentence.words(phrase).lower().split())
        if to_go:
            return "to go"
        role = "total" if "done" in told or _says_total(sentence, phrase) else "done"
        reached = _says_worked(sentence, phrase) or sentence.lower_at(phrase.first - 1) in ("at", "on")
        if role in told and set(told) == {"total"} and reached:
            return "done"  # 250 rows, has done 120 rows; I'm at row 60
        return role if role not in told else None
    if len(told) != 1:
        return None
    if to_go and "to go" not in told:
        return "to go"
    return "done" if "total" in told or ("to go" in told and _says_worked(sentence, phrase)) else "total"


def _says_worked(sentence: Sentence, phrase: Phrase) -> bool:
    """``I've knitted 96``, ``110 done``: a bare number told of what is done."""
    around = (*range(phrase.first - 2, phrase.first), phrase.last)
    return bool({sentence.lower_at(i) for i in around} & (word_list("done") | word_list("working")))


def _by_fraction(
    sentence: Sentence, phrases: list[Phrase], percent: tuple[float, Taken] | None, spoken: float | None
) -> tuple[Progress, Taken]:
    """The part done: of a percent, of words (``half way``), or of ``2/3 of the shawl``, in that order."""
    if percent and 0 <= percent[0] <= 1:
        return Progress(percent[0]), percent[1]
    if spoken is not None:
        return Progress(spoken), []
    for phrase in phrases:
        part = phrase.value.values[0] if phrase.kind == "num" else 0
        if not 0 < part < 1:
            continue
        done = _done(sentence, phrase, part)
        of_the_way = sentence.lower_at(phrase.last) == "of" and sentence.lower_at(phrase.last + 2) == "way"
        told = sentence.lower_at(phrase.last) in ("done", "through", "finished", "knitted", "complete")
        if done != part or told or of_the_way or _part_made(sentence, phrase):
            return Progress(done), [phrase]
    fraction = first_of(phrases, "fraction")
    if fraction:
        return Progress(_done(sentence, fraction, fraction.value)), [fraction]
    return _by_parts(sentence, phrases)


def _by_parts(sentence: Sentence, phrases: list[Phrase]) -> tuple[Progress, Taken]:
    """``7 of 20 squares``, ``5 out of the 12 repeats``: parts of the work that are alike, some of them done.

    The whole may be told before: ``a blanket of 8 equal panels, 5 panels done``.
    """
    numbers = [phrase for phrase in phrases if phrase.kind == "num" and len(phrase.value.values) == 1]
    for one, two in pairwise(numbers):
        alike = [_parts_counted(sentence, phrase.last) for phrase in (one, two)]
        ends = [sentence.lower_at(at + 1) in word_list("done") for _, at in alike]
        if alike[0][0] and alike[0][0] == alike[1][0] and ends == [False, True]:
            part = two.value.values[0] / one.value.values[0] if one.value.values[0] else 0
            return (Progress(part), [one, two]) if 0 < part <= 1 else (Progress(), [])
    for done, whole in pairwise(numbers):
        between = {sentence.lower_at(at) for at in range(done.last, whole.first)}
        parts = {sentence.lower_at(done.last), sentence.lower_at(whole.last)} & word_list("parts_of_work")
        part, of = done.value.values[0], whole.value.values[0]
        if parts and "of" in between and between <= _OF_THE_WHOLE | word_list("parts_of_work") and 0 < part <= of:
            return Progress(_done(sentence, whole, _done(sentence, done, part / of))), [done, whole]
    return Progress(), []


def _parts_counted(sentence: Sentence, at: int) -> tuple[str, int]:
    """The panels of ``8 panels`` and of ``8 equal panels``, and where the word stands; "" where no part is counted."""
    for place in (at, at + 1):
        if sentence.lower_at(place) in word_list("parts_of_work"):
            return sentence.lower_at(place).removesuffix("s"), place
    return "", at


def _done(sentence: Sentence, phrase: Phrase, part: float) -> float:
    """The part that is done, where a part is told of what is done or of what is left."""
    return 1 - part if _still_to_knit(sentence, phrase.first, phrase.last) else part


def _growing(sentence: Sentence) -> str:
    """How the piece grows as it is knitted: evenly, with the square of its rows, or the reverse of that."""
    shapes = {shape: taken for shape, taken in load("shapes.toml").items() if sentence.said(shape_cue(shape))}
    may_narrow = any(taken.get("may_narrow") for taken in shapes.values())
    if sentence.said("progress.narrowing") or (may_narrow and sentence.said("progress.decreasing")):
        return NARROWING
    growing = FROM_ITS_CENTRE if sentence.said("progress.from_centre") else EVENLY
    return next((shape for shape, taken in shapes.items() if taken.get("from_a_point")), growing)


def _of_the_area(growing: str, part: float) -> float:
    """The part of the area that a part of the length is, as the piece grows."""
    if growing == EVENLY:
        return part
    return 1 - (1 - part) ** 2 if growing == NARROWING else part**2


def _percent_done(sentence: Sentence, phrases: list[Phrase]) -> tuple[float, Taken] | None:
    """The part done of a percent said to be done, or to be left (``30% to go``), and the phrases that say so."""
    parts: list[float] = []
    taken: Taken = []
    for phrase in phrases:
        if phrase.kind != "percent":
            continue
        part = _done(sentence, phrase, phrase.value / 100)
        as_told = part == phrase.value / 100
        if as_told and (not _says_done(sentence, phrase) or _of_another_part(sentence, phrase.first)):
            continue
        if not parts or isclose(part, parts[0]):
            parts.append(part)
            taken.append(phrase)
    return (parts[0], taken) if parts else None


def _still_to_knit(sentence: Sentence, first: int, last: int) -> bool:
    """``40 rows from the end``, ``a third of it left to knit``, ``another third``: told of what is not done yet."""
    for cue in sentence.cues:
        if cue.kind == "progress.another" and first - 1 <= cue.last <= first:
            return True
        if cue.kind == "progress.to_go" and first <= cue.first <= last + _A_FEW_WORDS:
            between = range(last, cue.first)
            other = {sentence.lower_at(at) for at in between} & (word_list("done") | word_list("yarns"))
            if not other and all(sentence.kind_at(at) in _PLAIN for at in between):
                return True
        if cue.kind == "progress.to_go" and _summed_up(sentence, cue, first):
            return True
    return False


def _summed_up(sentence: Sentence, cue: Cue, first: int) -> bool:
    """``both sleeves left to do, that's about a third``: a part of the work, of which what goes before tells."""
    between = {sentence.lower_at(at) for at in range(cue.last, first)}
    of_yarn = sentence.kind_at(cue.first - 1) in ("NUM", "SKEIN", "MASS", "LEN")
    sums_up = bool(between & word_list("summing_up"))
    return sums_up and not of_yarn and between <= word_list("summing_up") | word_list("summing_up_with")


def _of_another_part(sentence: Sentence, first: int) -> bool:
    """``the border is 20% of it, the centre took 640 g``: a part of the work, and not the one whose yarn is told."""
    at = first - 1
    while sentence.lower_at(at) in word_list("about"):
        at -= 1
    part = sentence.lower_at(at - 1)
    if sentence.kind_at(at) != "HOLD" or part not in word_list("garment_parts") | word_list("parts_of_a_garment"):
        return False
    took = (cue.first for cue in sentence.cues if cue.kind == "used.before")
    return not any(sentence.lower_at(begin - 1) == part for begin in took)


_A_FEW_WORDS = 4
_PLAIN = frozenset({"WORD", "OF", "ARTICLE", "THE", "IN", "ROWS", "HOLD"})


def _says_done(sentence: Sentence, phrase: Phrase) -> bool:
    """``60 % done``, ``40% of the blanket done``: a percent of the work, not of the fibre."""
    near = range(phrase.last, phrase.last + 6)
    around = {sentence.lower_at(i) for i in near if not sentence.parted(phrase.last, i)}
    of_it = sentence.kind_at(phrase.last) == "OF" and any(
        cue.kind == "pattern.thing" and cue.first == phrase.last + 2 for cue in sentence.cues
    )  # used 2.5 balls, and that is 60% of the cardigan
    said = {sentence.lower_at(phrase.first - 1)} & {"at", "done", "for"}
    at_it = bool(said) and (sentence.kind_at(phrase.last) in _CLOSES or sentence.lower_at(phrase.last) in _GOES_ON)
    if at_it and sentence.said("used.before", "used.after", "ask.progress", "since.now_before"):
        return True  # used 100 g, at 25%
    if sentence.kind_at(phrase.last) == "OF" and sentence.lower_at(phrase.last + 2) == "way":
        return True  # 40% of the way
    lead = {sentence.lower_at(at) for at in range(phrase.first - _A_FEW_WORDS, phrase.first)}
    worked = sentence.said("used.after") and bool(lead & (word_list("done") | word_list("working")))
    of_it = of_it and (sentence.said("used.before") or worked)  # finished the body (70% of the sweater), 5 balls gone
    return bool(around & word_list("done")) or _part_made(sentence, phrase) or of_it


_GOES_ON = frozenset({"having", "with"})

_CLOSES = frozenset({"", "STOP", "COMMA", "AND", "SEMI", "DASH"})


def _part_made(sentence: Sentence, phrase: Phrase) -> bool:
    """``knit 2/3 of the shawl``, ``done 45% of it``: a part of the work, after a word for working it."""
    lead = {sentence.lower_at(i) for i in range(max(0, phrase.first - 2), phrase.first)}
    of_it = sentence.kind_at(phrase.last) == "OF" and sentence.lower_at(phrase.last + 1) in word_list("the_work")
    return of_it and bool(lead & (word_list("done") | word_list("working")))


def _says_total(sentence: Sentence, phrase: Phrase) -> bool:
    """``200 rows in all``, ``if I stop at 250 rows``: whether a number of rows is told as that of the whole."""
    before = (at for at in range(phrase.first - 4, phrase.first) if not sentence.parted(at, phrase.first))
    around = {sentence.lower_at(i) for i in (*before, *range(phrase.last, phrase.last + 3))}
    lead = [sentence.lower_at(i) for i in range(phrase.first - 3, phrase.first)]
    if set(lead) & _ENDS or lead in (["go", "up", "to"], ["going", "up", "to"], ["only", "do", "to"]):
        return True  # what if I stop at 250 rows
    if "out" in (sentence.lower_at(i) for i in range(phrase.last, phrase.last + 2)):
        return False  # 90 rows done out of 240
    return bool(around & {"total", "all", "altogether", "out", "has", "whole", "full"})


_ENDS = frozenset({"stop", "stopped", "end", "end of", "finish"})

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
        in_colour = word_list("colours") & {after, later if after == "in" else ""}
        if in_colour:
            return f"{token.text} {after}"
        halved = token.lower == "half" and sentence.lower_at(at + 2) == "half"
        if halved and after not in word_list("fibres"):
            return f"half {after} half"
        if (
            not nth
            and (after in ("of", "as", "the", "it") or ends)
            and later not in ("term", "hour", "price", "time", "way")
        ):
            return " ".join(t.text for t in sentence.tokens[max(0, at - 1) : at + 2])
    return None


def part_of_a_part(sentence: Sentence, phrases: list[Phrase]) -> str | None:
    """``two thirds up the front``, ``half done with the sleeves``: how far along one part is, as it was said."""
    numbered = [p.last for p in phrases if p.kind in ("percent", "fraction", "num") and _is_a_share(p)]
    spoken = [at + 1 for at, token in enumerate(sentence.tokens) if token.lower in _SPOKEN]
    for begin in (*numbered, *spoken):
        for at in range(begin, min(begin + _A_CLAUSE, len(sentence.tokens))):
            if sentence.kind_at(at) not in (*_PLAIN, "TO", "WITH", "ON"):
                break
            if sentence.lower_at(at) in word_list("parts_of_a_garment") and sentence.lower_at(at - 1) != "of":
                return " ".join(token.text for token in sentence.tokens[begin - 1 : at + 1])
    return None


def _is_a_share(phrase: Phrase) -> bool:
    return phrase.kind != "num" or 0 < phrase.value.values[0] < 1


_A_CLAUSE = 7


def _of_a_skein(sentence: Sentence, at: int) -> bool:
    """``half of one for a swatch``, ``one is three quarters gone``: a part of one skein, and none of the work."""
    behind = [sentence.lower_at(on) for on in range(at + 1, at + 3)]
    before = [sentence.lower_at(on) for on in range(max(0, at - 5), at)]
    one_is = any(pair in (["one", "is"], ["them", "is"], ["one", "of"]) for pair in map(list, pairwise(before)))
    return behind == ["of", "one"] or (one_is and any(phrase.kind == "count" for phrase in sentence.phrases))


def _spoken_fraction(sentence: Sentence) -> float | None:
    """A fraction in words that no amount took: ``two thirds done``, ``half way``, ``three quarters through``."""
    covered = {index for phrase in sentence.phrases for index in range(phrase.first, phrase.last)}
    scaled = (cue for cue in sentence.cues if cue.kind == "need.scaled")
    covered |= {index for cue in scaled for index in range(cue.first, cue.last)}  # she's doing just half
    for at, token in enumerate(sentence.tokens):
        if at in covered or token.lower not in _SPOKEN or sentence.lower_at(at + 1) in ("circle", "as", "round"):
            continue
        if sentence.lower_at(at - 1) in word_list("garment_parts"):
            continue  # body half done
        if sentence.kind_at(at + 1) == "DASH" and sentence.lower_at(at + 2) in ("used", "empty", "full", "eaten"):
            continue  # the half-used cake
        if sentence.lower_at(at - 2) == "is" and sentence.lower_at(at - 1) in ("that", "this", "it"):
            continue  # is that half?
        if _of_a_skein(sentence, at):
            continue
        lead = at - 1 if sentence.kind_at(at - 1) != "DASH" else at - 2
        part = _TOPS.get(sentence.lower_at(lead), 1) * _SPOKEN[token.lower]
        first = lead if sentence.lower_at(lead) in _TOPS else at
        if _still_to_knit(sentence, first, at + 1):
            return 1 - part
        return None if _of_another_part(sentence, first) else part
    return None
