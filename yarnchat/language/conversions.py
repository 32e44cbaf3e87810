"""Conversions: one amount, needle, gauge or yarn number, and the unit asked for."""

from __future__ import annotations

import re
from dataclasses import replace
from itertools import pairwise

from yarnchat.language.lexicon import units_asked_for, word_list
from yarnchat.language.phrases import Phrase, Taken, first_of
from yarnchat.language.sentence import Sentence
from yarnchat.quantity import LENGTHS, MASSES, Quantity
from yarnchat.queries import NOTHING_TOLD, Measured, Needle, PutUp, Query

_ASKED = re.compile(
    r"\b(?:in|into|to|as|how many|wants|what(?:'s| is)? (?:that|it|this) in|over|per|give me)\s+(?:the\s+)?(?P<unit>"
    r"(?:m|metres|meters|yds?|yards)\s*(?:/|per|in)\s*(?:an?\s+|the\s+)?"
    r"(?:100\s*g(?:rams?)?\b(?!\s+of\b)|50\s*g(?:rams?)?\b(?!\s+of\b)|lb\b|pound|oz\b|ounce|kg\b)"
    r"|yards? to the (?:pound|ounce)|ypp\b|"
    + "|".join(sorted(units_asked_for(), key=len, reverse=True))
    + r")\b(?!\s*(?:pattern|yarn|weight))",
    re.IGNORECASE,
)

_OPENS_ASKING = re.compile(
    r"(?:^|[.;:,!?]\s+)(?P<unit>grams|ounces|metres|meters|yards)(?=(?: for [^.?!;]+)?\?)", re.IGNORECASE
)

_SYSTEM = re.compile(
    r"\b(?P<unit>mm|us|uk)\b\s*(?:size|sizes|needle|needles|number|equivalent)?\s*(?:\?|$|please|pls|for|is|would)",
    re.IGNORECASE,
)

_WHAT_SYSTEM = re.compile(
    r"\b(?:(?:what|which)\s+|the\s+(?=\w+\s+(?:number|size|needle|equivalent)\b))"
    r"(?P<unit>mm|us|uk|american|english|british)\b",
    re.IGNORECASE,
)

_SYSTEM_WHAT = re.compile(r"\b(?P<unit>mm|us|uk)\s+(?:what|which)\b", re.IGNORECASE)

_AS_CALLED_THERE = re.compile(
    r"\bwould\s+(?:an?\s+|the\s+)?(?P<unit>american|english|british)s?\s+(?:call|say|use)\b", re.IGNORECASE
)

_SYSTEM_OF = re.compile(
    r"\b(?P<unit>tex|nm|nec|denier|ypp|metric count|cotton count|worsted count)\s+of\b", re.IGNORECASE
)

_GRIST_WANTED = re.compile(
    r"(?P<length>m|yd|yard)\w*\s*(?:/|per|to the|in)\s*(?:an?\s+|the\s+)?(?P<mass>100\s*g|50\s*g|lb|pound|oz|ounce|kg)",
    re.IGNORECASE,
)

Conversion = tuple[Measured, Taken]


def conversion_told(sentence: Sentence, query: Query, phrases: list[Phrase]) -> tuple[Query, Taken]:
    """Something to convert, where nothing else is asked: one amount, needle, gauge or yarn number."""
    if sentence.said("ask.strands") or query != NOTHING_TOLD:
        return query, []
    into = _into(sentence, phrases)
    if not phrases:
        return (replace(query, measured=Measured(_one_of_a_unit(sentence), into=into)) if into else query), []
    wanted = wanted_rate(sentence, phrases)
    found = _to_convert(sentence, [phrase for phrase in phrases if phrase not in wanted], wanted, into)
    return (replace(query, measured=found[0]), found[1]) if found else (query, [])


def _one_of_a_unit(sentence: Sentence) -> Quantity | None:
    """``how many grams in a pound``: one of the unit that stands there without a number."""
    for at, token in enumerate(sentence.tokens):
        led = sentence.kind_at(at - 1) == "ARTICLE" and sentence.kind_at(at - 2) in ("IN", "HOLD")
        if led and token.kind in ("LEN", "MASS", "SHORT"):
            return Quantity(1.0, str(token.value))
    return None


def stitches_across(sentence: Sentence, query: Query, phrases: list[Phrase]) -> tuple[Query, Taken]:
    """``how wide are 110 sts at 22 sts to 10 cm?``, ``cast on 40 sts at 5 sts per inch``: stitches, and a gauge.

    The width they make is asked for, or is that of the piece whose length stands beside it.
    """
    gauges = [phrase for phrase in phrases if phrase.kind == "gauge"]
    counted = next((p for p in gauges if "bare" in p.flags and not p.value.rows and _on_the_needle(sentence, p)), None)
    whole = [phrase for phrase in gauges if "bare" not in phrase.flags]
    if counted is None or len(gauges) != 2 or len(whole) != 1 or sentence.said("ask.check") or query != NOTHING_TOLD:
        return query, []
    [gauge] = whole
    stitches, over = counted.value.stitches, gauge.value.over
    others = {phrase.kind for phrase in phrases if phrase not in gauges}
    if others & {"small", "dim"}:
        width = Quantity(stitches / gauge.value.stitches * over.value, over.unit)
        counted.kind, counted.value = "small", width
        counted.notes = (*counted.notes, f"{stitches:g} sts at {gauge.value}: {width}")
        return query, []
    if others & {"length", "mass", "count", "times", "putup"}:
        return query, []
    measured = Measured(count=(stitches, "sts"), gauge=gauge.value, into=_into(sentence, phrases))
    return replace(query, measured=measured), [counted, gauge]


def _on_the_needle(sentence: Sentence, stitches: Phrase) -> bool:
    """Whether a number of stitches is no gauge: cast on, ``at`` a gauge, or asked after in inches or cm."""
    lead = [sentence.lower_at(at) for at in range(stitches.first - 2, stitches.first)]
    cast_on = lead == ["cast", "on"] or lead[1] in word_list("casting")
    at_a_gauge = sentence.kind_at(stitches.last) == "AT" and sentence.kind_at(stitches.last + 1) == "NUM"
    asks_how_wide = any(
        [sentence.lower_at(at - 2), sentence.lower_at(at - 1)] == ["how", "many"] or sentence.lower_at(at - 1) == "how"
        for at, token in enumerate(sentence.tokens)
        if token.kind in ("SHORT", "WIDE")
    )
    return cast_on or at_a_gauge or asks_how_wide


def _to_convert(sentence: Sentence, phrases: list[Phrase], wanted: Taken, into: str | None) -> Conversion | None:
    """What is to be converted and the phrases that say it, of these kinds in this order; None where nothing is."""
    kinds = {phrase.kind for phrase in phrases}
    needles = any(
        phrase.kind == "needle" or (phrase.kind == "small" and phrase.value.unit == "mm") for phrase in phrases
    )
    if needles and "gauge" in kinds and sentence.said("ask.identify"):
        return None  # 24 sts to 10 cm on 4 mm, what is it
    if grist := first_of(phrases, "grist"):
        return Measured(count=grist.value, into=into), [grist]
    if needle := _needle_to_convert(sentence, phrases, into):
        return needle
    if again := _over_another_length(sentence, phrases):
        return again
    if not sentence.said("ask.convert", "ask.grams", "ask.measure", "ask.how_many") and into is None:
        return None
    rated = _rated(phrases)
    plain = not kinds & {"length", "count", "mass", "weight", "times"}
    if rated and into and ("/" in into or into in _SYSTEMS) and plain:
        return Measured(count=yarn_number(rated.value), into=into), [rated, *wanted]
    gauge = first_of(phrases, "gauge")
    if sum(phrase.kind == "gauge" for phrase in phrases) > 1:
        return None
    if gauge and not kinds & {"length", "mass", "count", "putup", "weight"}:
        return _gauge_to_convert(sentence, gauge, phrases, into)
    return _amount_to_convert(sentence, phrases, into)


def _needle_to_convert(sentence: Sentence, phrases: list[Phrase], into: str | None) -> Conversion | None:
    """The last needle, where no yarn is spoken of."""
    needles = [phrase for phrase in phrases if phrase.kind == "needle"]
    others = {phrase.kind for phrase in phrases} & {"length", "mass", "count", "putup", "weight", "name", "times"}
    asked = (into or sentence.said("ask.convert")) and not sentence.said("ask.identify")
    if not needles or others or not asked:
        return None
    for one, two in pairwise(needles):
        if {sentence.kind_at(at) for at in range(one.last, two.first)} in ({"AND"}, {"OR"}):
            one.kind = "other needle"  # US 8 and US 9 in mm: one is worked out, so the other is asked about
    for one, two in pairwise(phrases):
        gap = {sentence.kind_at(at) for at in range(one.last, two.first)}
        listed = two.kind in ("num", "nums", "smalls") and bool(gap) and gap <= {"COMMA", "AND", "OR"}
        if listed and one.kind in ("needle", "other needle"):
            two.kind = "other needle"  # US 10.5, 11 and 13 in mm
    return Measured(needle=needles[-1].value, into=into), [needles[-1]]


def _gauge_to_convert(sentence: Sentence, gauge: Phrase, phrases: list[Phrase], into: str | None) -> Conversion | None:
    """A gauge over another length, or the stitches of a width at it."""
    smalls = [phrase for phrase in phrases if phrase.kind == "small"]
    leads = ("over", "to", "per", "in", "into")
    led = [phrase for phrase in smalls if sentence.lower_at(phrase.first - 1) in leads][:1]
    over = f"{led[0].value.value:g} {led[0].value.unit}" if led else None
    if smalls and not over:
        return Measured(amount=smalls[0].value, gauge=gauge.value), [gauge, smalls[0]]
    if over is None and into is None and _what_it_is(sentence, gauge):
        sentence.mark("ask.identify")
        return None
    if over or into in ("cm", "in") or (sentence.said("ask.convert") and not sentence.said("ask.identify")):
        return Measured(gauge=gauge.value, into=over or into), [gauge, *led]
    return None


def _what_it_is(sentence: Sentence, gauge: Phrase) -> bool:
    """``what's 22 sts to 4 in?``: whether no more is asked of a gauge than what it is: which weight, that is."""
    asked = [cue for cue in sentence.cues if cue.kind == "ask.convert"]
    return [cue.last for cue in asked] == [gauge.first] and sentence.lower_at(asked[0].first).startswith("what")


def _over_another_length(sentence: Sentence, phrases: list[Phrase]) -> Conversion | None:
    """``18 sts per 10 cm to 4 inches``, ``13 sts in 2 inches, how many in 4?``: a gauge told whole, a length for it."""
    if again := _how_many_in(sentence, phrases):
        return again
    if [phrase.kind for phrase in phrases] != ["gauge", "small"] or "bare" in phrases[0].flags:
        return None
    gauge, small = phrases
    between = [sentence.kind_at(at) for at in range(gauge.last, small.first)]
    led = bool(between) and between[-1] in ("TO", "PER", "OVER", "IN", "ARROW")
    pointed = between[:1] == ["TO"] or any(
        cue.kind == "yarn.arrow" and cue.first in range(gauge.last, small.first) for cue in sentence.cues
    )
    pointed = pointed or (between in (["IN"], ["OVER"]) and sentence.lower_at(small.last) == "?")
    if not led or not pointed:
        return None
    return Measured(gauge=gauge.value, into=f"{small.value.value:g} {small.value.unit}"), [gauge, small]


def _how_many_in(sentence: Sentence, phrases: list[Phrase]) -> Conversion | None:
    """``13 stitches in 2 inches. How many in 4?``: the stitches over so many of the unit they were counted over."""
    if [phrase.kind for phrase in phrases] != ["gauge", "num"] or "bare" in phrases[0].flags:
        return None
    gauge, number = phrases
    asks = number.first - 2 - (sentence.kind_at(number.first - 2) == "STS")
    asked = sentence.lower_at(asks) == "many" and sentence.kind_at(number.first - 1) in ("IN", "OVER", "TO", "PER")
    ends = sentence.kind_at(number.last) in ("", "STOP")
    if not asked or not ends or len(number.value.values) != 1:
        return None
    into = f"{number.value.values[0]:g} {gauge.value.over.unit}"
    return Measured(gauge=gauge.value, into=into), [gauge, number]


def _amount_to_convert(sentence: Sentence, phrases: list[Phrase], into: str | None) -> Conversion | None:
    """The one length or mass there is; a size in mm asked for in needle sizes is a needle."""
    single = [phrase for phrase in phrases if phrase.kind in ("length", "mass", "small", "putup")]
    weighed = any(phrase.kind in ("weight", "name") for phrase in phrases)
    if weighed and len(single) == 2:
        return None  # is 1000 yds of worsted the same as 1000 yds of dk?
    if len(single) == 2 and single[0].kind == single[1].kind and single[0].value == single[1].value:
        told = _amount_of(single[0])
        return None if told is None or told.unit == into else (Measured(amount=told, into=into), single)
    if len(single) != 1:
        return None
    phrase = single[0]
    kinds = {other.kind for other in phrases}
    if phrase.kind == "putup":
        return _wound_to_convert(phrase, kinds, into)
    asked = bool(into) or sentence.said("ask.convert")
    if not asked or kinds & {"count", "times", "gauge", "price", "needle", "dim"}:
        return None
    if weighed and not _into_its_own_kind(phrases, phrase, into):
        return None
    if phrase.kind == "small" and into in ("us", "uk") and phrase.value.unit == "mm":
        return Measured(needle=Needle(f"{phrase.value.value:g}", "mm"), into=into), [phrase]
    if phrase.kind != "small" and (len(phrase.value.values) != 1 or phrase.value.low is not None):
        return None
    return Measured(amount=_amount_of(phrase), into=into), [phrase]


def _into_its_own_kind(phrases: list[Phrase], amount: Phrase, into: str | None) -> bool:
    """``20 oz of DK in grams``: an amount of one yarn in another unit of mass, or of length, whatever the yarn is."""
    yarns = sum(phrase.kind in ("weight", "name") for phrase in phrases)
    kinds = {"mass": MASSES, "length": LENGTHS}
    return yarns == 1 and amount.kind in kinds and into in kinds[amount.kind] and into != amount.value.unit


def _wound_to_convert(phrase: Phrase, kinds: set[str], into: str | None) -> Conversion | None:
    """A skein's length, or its mass, into a unit of the same."""
    wound = phrase.value
    if (
        wound.length
        and not wound.mass
        and into in LENGTHS
        and wound.length.unit != into
        and not kinds & {"weight", "count", "name"}
    ):
        return Measured(amount=wound.length, into=into), [phrase]
    if wound.mass and not wound.length and into in MASSES and wound.mass.unit != into and "count" not in kinds:
        return Measured(amount=wound.mass, into=into), [phrase]
    return None


def _amount_of(phrase: Phrase) -> Quantity | None:
    """The one length, mass or measure that a phrase tells; None where it tells several, or another thing."""
    if phrase.kind == "small":
        measure: Quantity = phrase.value
        return measure
    alone = phrase.kind in ("length", "mass") and len(phrase.value.values) == 1
    return phrase.value.first() if alone else None


def wanted_rate(sentence: Sentence, phrases: list[Phrase]) -> Taken:
    """The ``100 g`` of ``in metres per 100 g``: part of the unit asked for, no mass."""
    return [
        phrase
        for phrase in phrases
        if phrase.kind == "mass" and phrase.value.values[0] in (50.0, 100.0) and _rate_asked(sentence, phrase.first)
    ]


def _rate_asked(sentence: Sentence, at: int) -> bool:
    """Whether a unit of length without a number, or a word with one in it, is over the mass here: ``m per 100 g``."""
    over = at - 2 if sentence.lower_at(at - 1) == "the" and sentence.lower_at(at - 2) == "to" else at - 1
    rated = sentence.kind_at(over) in ("SLASH", "PER", "IN", "TO") and not _so_much_of_it(sentence, at, over)
    said = ("yardage", "metreage", "meterage", "what", "measure")
    unit = sentence.kind_at(over - 1) == "LEN" or sentence.lower_at(over - 1) in said
    numbered = any(sign.isdigit() for sign in sentence.lower_at(over - 2))  # 420, or abc420
    return rated and unit and sentence.kind_at(over - 2) != "NUM" and not numbered


def _so_much_of_it(sentence: Sentence, at: int, over: int) -> bool:
    """``how many yards in 50 g of 230 yd/100 g``, ``how many yards in 100 g?``: the mass whose length is asked for."""
    labelled = (rated := _rated(sentence.phrases)) is not None and rated.value.mass.unit in ("g", "oz")
    if labelled and sentence.kind_at(over) == "IN" and sentence.lower_at(over - 2) == "many":
        return True
    of_it = next((sentence.kind_at(on) for on in range(at, at + 3) if sentence.kind_at(on) not in ("NUM", "MASS")), "")
    return sentence.kind_at(over) == "IN" and of_it == "OF"


_SYSTEMS = frozenset({"tex", "denier", "Nm", "NeC", "worsted"})


def _rated(phrases: list[Phrase]) -> Phrase | None:
    return next(
        (p for p in phrases if p.kind == "putup" and p.value.length and p.value.mass and p.value.mass.value), None
    )


def yarn_number(put_up: PutUp) -> tuple[float, str]:
    """The length per mass of a label as a yarn number, in the units of the label: (220, "m/100 g")."""
    if put_up.length is None or put_up.mass is None:
        raise ValueError("a label without a length or a mass has no length per mass")
    if put_up.mass.unit == "lb":
        return put_up.length.to("yd").value / put_up.mass.value, "yd/lb"
    unit = put_up.length.unit if put_up.length.unit in ("yd", "m") else "m"
    return put_up.length.to(unit).value / put_up.mass.to("g").value * 100, f"{unit}/100 g"


def _into(sentence: Sentence, phrases: list[Phrase]) -> str | None:
    """The unit asked for, outside every phrase; that of the only amount told only where no other is said."""
    spans = [(sentence.tokens[p.first].start, sentence.tokens[p.last - 1].end) for p in phrases]
    found = [
        unit
        for pattern in (_ASKED, _SYSTEM, _WHAT_SYSTEM, _SYSTEM_WHAT, _AS_CALLED_THERE, _SYSTEM_OF)
        for match in pattern.finditer(sentence.text)
        if (unit := _unit_of(match, spans))
    ]
    told = {p.value.unit for p in phrases if p.kind in ("length", "mass", "small")}
    alone = [unit for match in _OPENS_ASKING.finditer(sentence.text) if (unit := _unit_of(match, spans))]
    found += [unit for unit in alone for kind in (LENGTHS, MASSES) if unit in kind and told <= set(kind) - {unit}]
    if any(p.kind == "length" for p in phrases):
        found = [unit for unit in found if unit not in ("mm", "us", "uk")]  # all in metric: 385 m. In yards?
    found = [unit for unit in found if unit not in told] or found or _system_told(sentence, phrases)
    return next((unit for unit in found if "/" in unit), found[0] if found else None)


def _system_told(sentence: Sentence, phrases: list[Phrase]) -> list[str]:
    """``3.5 mm, on a US set that's which number?``: the one needle system told, beside nothing but millimetres."""
    systems = sentence.needle_systems()
    millimetres = [phrase.kind for phrase in phrases] == ["small"] and phrases[0].value.unit == "mm"
    return sorted(systems) if millimetres and len(systems) == 1 else []


def _unit_of(found: re.Match[str], spans: list[tuple[int, int]]) -> str | None:
    """The unit one wording asks for; None where it stands inside a phrase."""
    start = found.start("unit")
    unit = found.group("unit").lower()
    rate = _GRIST_WANTED.match(unit)
    if any(left <= start < right and (not rate or left + 6 < start) for left, right in spans):
        return None
    if rate:
        length = "yd" if unit.startswith("y") else "m"
        mass = rate.group("mass").replace(" ", "").lower()
        return f"{length}/" + _RATED_BY.get(mass, "kg")
    if unit == "ypp":
        return "yd/lb"
    return units_asked_for().get(unit)


_RATED_BY = {"lb": "lb", "pound": "lb", "oz": "oz", "ounce": "oz", "100g": "100 g", "50g": "50 g"}
