"""What became of every number: used, harmless, or left over; a number left over is never an answer."""

from __future__ import annotations

import re
from bisect import bisect_left, bisect_right
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from yarnchat.language.amounts import of_notions
from yarnchat.language.colours import certain_labels
from yarnchat.language.labels import numbers_a_shade
from yarnchat.language.lexicon import load, vocabulary, word_list
from yarnchat.language.phrases import Phrase
from yarnchat.language.scan import shouting
from yarnchat.language.sentence import Sentence
from yarnchat.language.stitch_counts import COUNTED
from yarnchat.language.tokens import Token

_MEASURES = frozenset({"small", "smalls", "dim", "nums", "num"})
_MEASURED = frozenset({"small", "dim"})
_OF_SIZES = frozenset({"num", "nums", "small", "smalls", "fraction", "rows"})
_NUMBERS = frozenset({"NUM", "LONGNUM", "ODDNUM", "ODDWORD", "NAN"})

MOST_ASIDE = 4


@dataclass(frozen=True, slots=True)
class Account:
    """Numbers that found no place, numbers left aside, and words nobody knows."""

    unused: list[str]
    aside: list[str]
    unknown: list[str]
    measures: list[str]
    """The measures of a garment among those left aside, as typed."""


def account(sentence: Sentence, phrases: Sequence[Phrase], used: Sequence[Phrase]) -> Account:
    """What became of the numbers and words of a text, of whose phrases some were used."""
    spent = {index for phrase in used for index in range(phrase.first, phrase.last)} | _in_labels(sentence)
    harmless = _harmless(sentence, phrases, measured=any(phrase.kind in _MEASURED for phrase in used)) - spent
    spent |= harmless
    spent |= _percents_again(phrases, used)
    unused: list[str] = []
    for phrase in phrases:
        numbers = [i for i in range(phrase.first, phrase.last) if sentence.tokens[i].kind in _NUMBERS]
        if numbers and not spent.intersection(numbers):
            unused.append(sentence.words(phrase))
            spent.update(range(phrase.first, phrase.last))
    unused += [token.text[:40] for i, token in enumerate(sentence.tokens) if token.kind in _NUMBERS and i not in spent]
    unused += _spelt_out(sentence, spent) + _some_of_those_told(sentence, phrases, spent) + _unknown_money(sentence)
    known = spent.union(*(range(cue.first, cue.last) for cue in sentence.cues))
    words = ((i, token.text) for i, token in enumerate(sentence.tokens) if token.kind == "WORD")
    unknown = [text for i, text in words if i not in known and text[0].isalpha()]
    measures = [sentence.words(p) for p in phrases if p.kind in (*_MEASURED, "smalls") and p.first in harmless]
    return Account(unused, _named(sentence, harmless), unknown, measures)


def _percents_again(phrases: Sequence[Phrase], used: Sequence[Phrase]) -> set[int]:
    """The tokens of percents that are told once more: ``sixty percent of the way (60% by the rows)``."""
    told = {phrase.value for phrase in used if phrase.kind == "percent"}
    again = [phrase for phrase in phrases if phrase.kind == "percent" and phrase.value in told]
    return {at for phrase in again for at in range(phrase.first, phrase.last)}


_MANY = 11
"""From here on a number in words is hardly a manner of speaking (common practice, no source)."""


def _spelt_out(sentence: Sentence, spent: set[int]) -> list[str]:
    """``twenty-six pupils``: a number in words that counts what nobody here knows, where it is no small one."""
    numbers: dict[str, float] = load("words.toml")["numbers"]
    harmless = {cue.first for cue in sentence.cues if cue.kind == "harmless.noun"}
    found = []
    for at, token in enumerate(sentence.tokens):
        if token.kind != "WORD" or at in spent or numbers.get(token.lower, 0) < _MANY or token.lower == "hundred":
            continue
        end = at + 3 if sentence.kind_at(at + 1) == "DASH" and sentence.lower_at(at + 2) in numbers else at + 1
        if end not in harmless and sentence.kind_at(end) == "WORD" and sentence.lower_at(end) not in numbers:
            found.append("".join(t.text for t in sentence.tokens[at:end]))
    return found


def _unknown_money(sentence: Sentence) -> list[str]:
    """``R68 a ball``: a number with letters glued before it, where what a skein costs would stand."""
    found = []
    for at, token in enumerate(sentence.tokens):
        each = sentence.kind_at(at + 1) in ("ARTICLE", "PER", "SLASH") and sentence.kind_at(at + 2) == "SKEIN"
        if token.kind == "WORD" and (each or sentence.kind_at(at + 1) == "EACH") and _GLUED.fullmatch(token.text):
            found.append(token.text)
    return found


_GLUED = re.compile(r"[^\W\d_]{1,3}[0-9]+(?:[.,][0-9]+)?")


def _some_of_those_told(sentence: Sentence, phrases: Sequence[Phrase], spent: set[int]) -> list[str]:
    """``10 balls but two are for my sister``, ``lost one on the bus``: a small number in words, of those before."""
    numbers: dict[str, float] = load("words.toml")["numbers"]
    counted = (phrase.last for phrase in phrases if phrase.kind in ("count", "times"))
    begin = min(counted, default=len(sentence.tokens))
    found = []
    for at, token in enumerate(sentence.tokens[begin:], begin):
        few = token.kind == "WORD" and 0 < numbers.get(token.lower, 0) < _MANY and at not in spent
        near = {sentence.lower_at(on) for on in range(at - 1, at + _NEAR) if on >= begin}
        parted = sentence.said("ask.enough") and bool(near & word_list("parting_with"))
        if few and parted:
            found.append(token.text)
        elif few and token.lower != "one" and sentence.lower_at(at + 1) in ("are", "were"):
            found.append(f"{token.text} {sentence.lower_at(at + 1)}")
    return found


_NEAR = 4
"""Of so many words behind a number one may say that so many are gone."""


def _in_labels(sentence: Sentence) -> set[int]:
    """The tokens of the labels of colours: the 2 of ``contrast 2`` counts nothing."""
    starts = [token.start for token in sentence.tokens]
    spans = ((bisect_left(starts, x.start), bisect_left(starts, x.end)) for x in certain_labels(sentence))
    return {at for first, last in spans for at in range(first, last)}


def _named(sentence: Sentence, indices: set[int]) -> list[str]:
    """Numbers with the word before or after them that says what they count; of many, the first few."""
    said: list[str] = []
    sizes = {cue.last for cue in sentence.cues if cue.kind == "measure.chest"}
    for at in sorted(indices):
        if sentence.tokens[at].kind not in _NUMBERS:
            continue
        lead, after = (sentence.tokens[i] if 0 <= i < len(sentence.tokens) else None for i in (at - 1, at + 1))
        number = sentence.tokens[at].text
        if after and after.text == "%":
            said.append(f"{number}%")
        elif lead and at in sizes:
            said.append(f"{lead.text} {number}")  # bust 40 takes 1350 yds
        elif after and after.text.isalpha() and after.kind not in ("AND", "OR", "TO"):
            said.append(f"{number} {after.text}")
        elif lead and lead.kind == "WORD" and lead.text.isalpha():
            said.append(f"{lead.text} {number}")
        else:
            said.append(number)
    return [*said[:MOST_ASIDE], *(["…"] if len(said) > MOST_ASIDE else [])]


def _harmless(sentence: Sentence, phrases: Sequence[Phrase], *, measured: bool) -> set[int]:
    """Numbers of things that say nothing of the yarn: percents of fibre, needles, pages, buttons, chest measures.

    Where a measure was used (``measured``) a bare number beside it is one that was not understood.
    """
    others = list(_of_other_things(sentence, phrases))
    if measured:
        others = [
            p for p in others if p.kind not in ("num", "dim", "small") or (p.kind == "num" and _numbered(sentence, p))
        ]
    if len(_sizes_in_passing(sentence, others)) > 1:
        others = [phrase for phrase in others if phrase.kind != "num"]
    out = {index for phrase in others for index in range(phrase.first, phrase.last)}
    inside = {
        index
        for phrase in phrases
        if phrase.kind not in ("num", "needle")
        for index in range(phrase.first, phrase.last)
    }
    out.update(
        at
        for at, token in enumerate(sentence.tokens)
        if token.kind in _NUMBERS
        and at not in inside
        and (numbers_a_shade(sentence, at) or _ends_a_colour(sentence, at) or _opens_a_colour(sentence, at))
    )
    return out


def _sizes_in_passing(sentence: Sentence, others: Sequence[Phrase]) -> set[tuple[float, ...]]:
    """The lone numbers beside chests and sizes, where the text is one line: two of them may be what is asked about."""
    if not sentence.said("measure.chest") or any(token.kind == "NEWLINE" for token in sentence.tokens):
        return set()
    return {phrase.value.values for phrase in others if phrase.kind == "num"}


_OTHER_HEADINGS = frozenset({"markers", "notions", "buttons", "abbreviations"})


def _of_other_things(sentence: Sentence, phrases: Sequence[Phrase]) -> Iterator[Phrase]:
    """The phrases that say nothing of the yarn, by their kind and by what stands around them."""
    needles = [phrase for phrase in phrases if phrase.kind == "needle"]
    openings = [0, *(at + 1 for at, token in enumerate(sentence.tokens) if token.kind in ("NEWLINE", "STOP"))]
    words = {word for token in sentence.tokens for word in token.lower.split()}
    sized = bool(needles) or not words.isdisjoint(_OF_A_MEASURE | word_list("measure_lines"))
    amounts = any(phrase.kind in ("count", "times", "length", "named") for phrase in phrases)
    markers = _list_markers(sentence)
    for phrase in phrases:
        kind = phrase.kind
        if (
            kind in ("needle", "sizes", COUNTED)
            or (kind == "num" and phrase.first in markers)
            or (kind == "dim" and amounts)
            or (kind == "length" and of_notions(sentence, phrase))
            or (kind == "percent" and not _percent_of_yarn(sentence, phrase))
            or (
                sized
                and kind in _MEASURES
                and not _too_long(phrase)
                and not _of_the_work(sentence, phrase)
                and _on_measure_line(sentence, phrase, needles)
            )
            or (kind in ("num", "count", "gauge") and _heading(sentence, phrase.first) in _OTHER_HEADINGS)
            or (kind in ("num", "nums", "fraction", "rows") and _counts_nothing(sentence, phrase))
            or (kind in _OF_SIZES and not _too_long(phrase) and _of_age_or_size(sentence, phrase, openings))
            or (kind == "fraction" and _blend(sentence, phrase))
        ):
            yield phrase


def _list_markers(sentence: Sentence) -> set[int]:
    """``1. Yarn: …``, ``2. Needles: …``: the numbers of a numbered list, one a line from 1 on."""
    opens = [
        at for at in sentence.lines if sentence.kind_at(at) == "NUM" and sentence.kind_at(at + 1) in ("STOP", "RPAR")
    ]
    counted = [at for want, at in enumerate(opens, 1) if sentence.tokens[at].text == f"{want}"]
    return set(counted) if len(counted) == len(opens) > 1 else set()


def _too_long(phrase: Phrase) -> bool:
    """``body 700 yds and each sleeve 180``: a bare number that is no measure of a garment, in inches or in cm."""
    return phrase.kind == "num" and len(phrase.value.values) == 1 and phrase.value.values[0] > _LONGEST_MEASURE


def _of_the_work(sentence: Sentence, phrase: Phrase) -> bool:
    """``lengthen the body by 2 inches``, ``knit 14 inches of it``: a measure that what is asked depends on."""
    if phrase.kind != "small":
        return False
    before = [sentence.lower_at(at) for at in range(phrase.first - _A_CLAUSE, phrase.first)]
    after = sentence.lower_at(phrase.last)
    resized = bool(set(before) & word_list("resizing")) or after in word_list("more_or_less")
    worked = before[-1] in word_list("done") | word_list("working") and after in ("of", "done", "so far")
    return resized or worked


_A_CLAUSE = 6


_LONGEST_MEASURE = 160
"""No sleeve or chest is longer, in cm (common practice, no source)."""


def _of_age_or_size(sentence: Sentence, phrase: Phrase, openings: Sequence[int]) -> bool:
    """Numbers of a line that lists sizes or ages: ``SIZES 8/10 (12/14: 16/18)``, ``0-3 (3-6) months``."""
    opening = openings[bisect_right(openings, phrase.first) - 1]
    if sentence.kind_at(opening) == "SIZES" or (
        sentence.lower_at(opening) == "to" and sentence.lower_at(opening + 1) == "fit"
    ):
        return True
    ahead = range(phrase.last, min(phrase.last + 16, len(sentence.tokens)))
    for i in ahead:
        if sentence.lower_at(i) in word_list("ages"):
            return True
        if sentence.kind_at(i) not in ("NUM", "LPAR", "RPAR", "COMMA", "DASH", "SLASH", "COLON", "TO", "AND"):
            return False
    return False


_NEAR = 4


def _percent_of_yarn(sentence: Sentence, phrase: Phrase) -> bool:
    """``20 % more``, ``less 10 %``, ``10 % off`` a price: a percent that changes what is needed or paid."""
    if sentence.lower_at(phrase.first - 1) in word_list("taking_off"):
        return True
    if {sentence.lower_at(at) for at in range(phrase.last, phrase.last + 3)} & word_list("taxes"):
        return True
    around = {sentence.lower_at(at) for at in range(max(0, phrase.first - _NEAR), phrase.last + _NEAR)}
    if around & word_list("in_it_already"):
        return False  # amounts include 10% extra
    priced = any(other.kind == "price" for other in sentence.phrases)
    if (priced and not around & word_list("fibres")) or around & word_list("tight_or_loose"):
        return True  # VAT's on top, 20 %; out by 10 %, too tight
    start, end = sentence.tokens[phrase.first].start, sentence.tokens[phrase.last - 1].end
    if any(
        label.start - 1 <= end <= label.start or start - 2 <= label.end <= start for label in certain_labels(sentence)
    ):
        return True  # 60% MC, 40% CC
    if sentence.lower_at(phrase.last) == "of" and sentence.lower_at(phrase.last + 1) in (
        "it",
        "the",
        "that",
        "this",
        "my",
        "them",
    ):
        return True
    return not _of_fibre(sentence, phrase)


def _of_fibre(sentence: Sentence, phrase: Phrase) -> bool:
    """``80% wool``, ``cotton 70%``, ``20% off this week``: what a yarn is made of, or a price that is not told."""
    percents = [other.value for other in sentence.phrases if other.kind == "percent"]
    before = {sentence.lower_at(at) for at in range(phrase.first - 2, phrase.first)}
    after = {sentence.lower_at(at) for at in range(phrase.last, phrase.last + 4)}
    blended = sum(percents) % 100 == 0 and (len(percents) > 1 or phrase.value == 100)
    taken_off = sentence.lower_at(phrase.last) in word_list("discounts") and not before & word_list("lessening")
    taken_off = taken_off and all(sentence.kind_at(at) != "GAUGE" for at in range(phrase.first - _NEAR, phrase.first))
    of_a_thing = before & word_list("charged") or sentence.lower_at(phrase.last) in word_list("charged")
    return blended or taken_off or bool(of_a_thing) or bool((before | after) & word_list("fibres"))


def _opens_a_colour(sentence: Sentence, at: int) -> bool:
    """A shade number before a capitalised word, alone between commas: ``Penhale DK, 18 Dawn, 50 g``."""
    word = sentence.tokens[at + 1] if at + 1 < len(sentence.tokens) else None
    named = word is not None and _titled(sentence, word)
    led = sentence.kind_at(at - 1) in ("COMMA", "COLON")  # Colour A: 412 Heron, 2 balls
    return named and led and sentence.kind_at(at + 2) in ("COMMA", "NEWLINE", "COLON")


def _titled(sentence: Sentence, token: Token) -> bool:
    """Whether a word has a capital that says something: not ``WRITES`` among capitals alone."""
    return token.kind in ("WORD", "NAME") and token.text[:1].isupper() and not shouting(sentence.text)


def _ends_a_colour(sentence: Sentence, at: int) -> bool:
    """A shade number after a capitalised word no vocabulary holds, where the line's label ends: ``CC - Bone 1004:``."""
    if sentence.kind_at(at) != "NUM":
        return False
    before, after = sentence.tokens[at - 1] if at else None, sentence.kind_at(at + 1)
    return (
        before is not None and _titled(sentence, before) and after in ("COLON", "DASH", "COMMA", "RPAR", "NEWLINE", "")
    )


_OF_A_MEASURE = frozenset({"sizes", "size"})


def _on_measure_line(sentence: Sentence, phrase: Phrase, needles: Sequence[Phrase]) -> bool:
    """A measure in a line or clause that speaks of the garment's or the needle's size."""
    number = sentence.sentence_of(phrase.first)
    line = {
        word
        for index in range(max(0, phrase.first - 13), min(len(sentence.tokens), phrase.first + 14))
        for token in (sentence.tokens[index],)
        if sentence.sentence_of(index) == number and index not in range(phrase.first, phrase.last)
        for word in token.lower.split()
    }
    after_needle = any(needle.last <= phrase.first <= needle.last + 2 for needle in needles)
    before_needle = any(phrase.last <= needle.first <= phrase.last + 2 for needle in needles)
    if phrase.kind == "num":
        after_needle, before_needle = False, _of_a_needle(sentence, phrase, needles)
        line = _words_beside(sentence, phrase)
    first = _heading(sentence, phrase.first)
    heading = next((word for word in first.split() if word in word_list("measure_lines")), first)
    return (
        after_needle
        or before_needle
        or bool(line & word_list("measure_lines"))
        or heading in word_list("measure_lines")
        or (phrase.kind in ("nums",) and heading in _OF_A_MEASURE)
    )


def _of_a_needle(sentence: Sentence, phrase: Phrase, needles: Sequence[Phrase]) -> bool:
    """``1 pair 5 mm needles``, ``stamped 9, an old UK 9``: a number of needles, or the size told again."""
    paired = sentence.lower_at(phrase.last) in ("pair", "pr", "set")
    near = paired and any(phrase.last < needle.first <= phrase.last + 4 for needle in needles)
    return near or any(needle.value.size == sentence.words(phrase) for needle in needles)


_BESIDE_A_NUMBER = 2
"""How near a word for a measure stands to a number without a unit that is such a measure."""


def _words_beside(sentence: Sentence, phrase: Phrase) -> set[str]:
    """The words right before and after a number, those of units aside."""
    near = (
        *range(phrase.first - _BESIDE_A_NUMBER, phrase.first),
        *range(phrase.last, phrase.last + _BESIDE_A_NUMBER),
    )
    return {sentence.lower_at(at) for at in near if sentence.kind_at(at) not in ("SHORT", "NUM")}


def _heading(sentence: Sentence, at: int) -> str:
    """The first word of the line a token stands in, or of the line above where that is a heading alone."""
    line = sentence.line_of(at)
    if line < at:
        return sentence.lower_at(line)
    return sentence.lower_at(sentence.line_of(line - 1)) if line else ""


def _numbered(sentence: Sentence, phrase: Phrase) -> bool:
    """``page 12``, ``issue 4``: a number right after a word for what it is the number of."""
    small_words = ("in", "at", "is", "i", "i'm", "since", "from", "number", "col")
    begin = phrase.first - 1 if _shortened(sentence, phrase.first - 1) else phrase.first
    return any(
        cue.kind == "harmless.before" and cue.last == begin and sentence.lower_at(cue.first) not in small_words
        for cue in sentence.cues
    )


def _shortened(sentence: Sentence, at: int) -> bool:
    """``Art. 4471``: whether a full stop that shortens a word stands here."""
    return sentence.lower_at(at) == "." and sentence.lower_at(at - 1) in ("art", "no", "p", "pg", "fig", "vol", "ref")


def _counts_nothing(sentence: Sentence, phrase: Phrase) -> bool:
    """Whether a number left over is of something that is no yarn, or is not meant: an age, a page, ``not 80``."""
    if sentence.lower_at(phrase.first - 1) == "not":
        return True  # 60 m balls, not 80
    who = {sentence.lower_at(at) for at in range(phrase.first - 4, phrase.first - 1)}
    verb = sentence.lower_at(phrase.first - 1)
    if phrase.kind == "num" and verb in ("is", "be", "turns", "turned", "turn") and who & word_list("people"):
        return True  # my daughter is 8, my grandson who'll be 6
    if phrase.kind == "num" and [sentence.lower_at(phrase.first - 2), verb] == ["i", "turned"]:
        return True
    if "for" in (sentence.lower_at(phrase.first - 1), sentence.lower_at(phrase.first - 2)):
        return False  # for my 3 kids: three of them?
    if sentence.lower_at(phrase.last) == "repeats" and _of_one_repeat(sentence, phrase):
        return False
    if _numbered(sentence, phrase) or _in_a_name(sentence, phrase) or _of_a_month(sentence, phrase):
        return True
    sized = [sentence.kind_at(at) for at in (phrase.last, phrase.last + 1)] == ["NUM", "SHORT"]
    for cue in sentence.cues:
        if cue.kind == "harmless.noun" and (
            cue.first == phrase.last + 2 * sized  # six 18 mm buttons
            or (cue.first == phrase.last + 1 and sentence.kind_at(phrase.last) in ("WORD", "DASH"))
        ):
            return True
    value = phrase.value.values[0] if phrase.kind in ("num",) else 0
    year = phrase.kind == "num" and 1900 <= value <= 2100 and value == int(value) and "," not in sentence.words(phrase)
    if year and sentence.lower_at(phrase.last) in word_list("printed"):
        return True  # a 1984 magazine
    if year and sentence.kind_at(phrase.first - 1) == "COMMA" and sentence.kind_at(phrase.last) in ("COLON", "COMMA"):
        return True  # UK pattern, 1972:
    return year and sentence.lower_at(phrase.first - 1) in (
        "in",
        "since",
        "from",
        "of",
        "the",
        "circa",
        "c",
        "year",
        "before",
        "after",
        "winter",
        "spring",
        "summer",
        "autumn",
    )


def _of_one_repeat(sentence: Sentence, phrase: Phrase) -> bool:
    """``every repeat takes 9 g, 14 repeats``: whether what one of them takes is told, so that their number counts."""
    told = any(token.lower == "repeat" for token in sentence.tokens)
    return told or sentence.kind_at(phrase.last + 1) == "AT"


def _of_a_month(sentence: Sentence, phrase: Phrase) -> bool:
    """``14 March``, ``on the 14th of March``, ``May 2nd``: a day of a month."""
    if phrase.kind != "num" or len(phrase.value.values) != 1 or not 1 <= phrase.value.values[0] <= _DAYS:
        return False
    behind = phrase.last + (sentence.lower_at(phrase.last) in ("st", "nd", "rd", "th"))
    behind += sentence.kind_at(behind) == "OF"
    return any(
        sentence.lower_at(at) in word_list("month_names") and sentence.tokens[at].text[0].isupper()
        for at in (behind, phrase.first - 1)
        if 0 <= at < len(sentence.tokens)
    )


_DAYS = 31


def _in_a_name(sentence: Sentence, phrase: Phrase) -> bool:
    """``Route 66 DK``, ``Number 9 Lane``, ``DK-4471``, ``Fern Pullover (1987)``: the number of a name or an article."""
    before = sentence.tokens[phrase.first - 1] if phrase.first else None
    if before is None or phrase.kind != "num":
        return False
    value, behind = phrase.value.values[0], sentence.kind_at(phrase.last)
    if before.kind == "DASH" and sentence.kind_at(phrase.first - 2) == "CLASS":
        return before.end == sentence.tokens[phrase.first].start and value >= _ARTICLE
    titled = _titled(sentence, before) and before.lower not in vocabulary()
    if sentence.kind_at(phrase.first) == "LPAR":
        return _A_YEAR[0] <= value <= _A_YEAR[1] and (titled or before.lower in word_list("garments"))
    opens = sentence.kind_at(phrase.first - 2) in ("", "STOP", "NEWLINE", "COLON") and before.kind != "NAME"
    before_a_class = behind == "CLASS" and sentence.kind_at(phrase.last + 1) != "SKEIN"
    numbered = before.text in ("Number", "No") and behind == "WORD" and sentence.tokens[phrase.last].text[0].isupper()
    return not opens and ((titled and before_a_class) or numbered)


_ARTICLE = 1000
"""From here on a number glued behind a weight is that of an article."""
_A_YEAR = (1900, 2100)


def _blend(sentence: Sentence, phrase: Phrase) -> bool:
    """``50/50 wool-silk``: parts of a blend, which add up to a hundred."""
    numbers = [
        token.readings[0][0]
        for token in sentence.tokens[phrase.first : phrase.last]
        if token.kind == "NUM" and token.readings
    ]
    return len(numbers) > 1 and sum(numbers) == 100
