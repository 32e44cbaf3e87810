"""So much of one thing, or of one colour, and how many of it are made."""

from __future__ import annotations

import itertools
import re
from dataclasses import replace

from yarnchat.language.labels import LABEL
from yarnchat.language.lexicon import load, made_several, word_list
from yarnchat.language.phrases import Phrase
from yarnchat.language.sentence import Sentence
from yarnchat.quantity import LENGTHS
from yarnchat.queries import Series


def several_made(sentence: Sentence) -> None:
    """``3 hats, each 120 yd``, ``one pair takes 400 m and I want 3 pairs``: so many times the amount of one."""
    for number in sentence.phrases:
        place = number.last + _described(sentence, number.last)
        thing = _thing_counted(sentence, place)
        if number.kind != "num" or len(number.value.values) != 1:
            continue
        things = _is_made(thing) or _singular(thing) in word_list("people")
        one = _at_so_much(sentence, place) if things else None
        one = one or next((p for p in sentence.phrases if things and _of_one(sentence, p, thing)), None)
        if one is None and things and sentence.kind_at(place + 1) == "EACH":
            one = _lone_need(sentence)  # 8 kids each want a hat taking 95 m
        if one is None and thing == "us" and _one_apiece(sentence):
            one, thing = _one_things_need(sentence) or _lone_need(sentence), "of us"
        if one is None and (_of_them(sentence, number) or (thing == "pairs" and _told_of_a_pair(sentence))):
            one, thing = _lone_need(sentence), thing if thing == "pairs" else "of them"
        if one is None and thing == "pairs" and (one := _single_of_a_pair(sentence)):
            number.kind = "made"
            _times(one, 2 * number.value.values[0], f"{2 * number.value.values[0]:g} of them")
            continue
        if one is None and _of_them(sentence, number):
            one = _skeins_of_one(sentence)
        if one is None and _for_so_many(sentence, number):
            one, thing = _one_things_need(sentence), "of them"
        many = number.value.values[0]
        if one is None or many != int(many) or not 1 < many <= _MOST_MADE:
            continue
        _times(one, many, f"{many:g} {thing}")
        number.kind = "made"


_MOST_MADE = 300
"""No blanket has more squares (common practice, no source)."""


def _is_made(thing: str) -> bool:
    return thing in made_several() or thing.removesuffix("s") in word_list("of_a_pair")


def _singular(things: str) -> str:
    """One of the things made, or of the people they are for: hat of hats, child of children."""
    return str(load("words.toml")["singulars"].get(things) or things.removesuffix("s"))


def _one_apiece(sentence: Sentence) -> bool:
    """``seven of us, a hat apiece``: whether every one has, or makes, one."""
    return any(token.kind == "EACH" or token.lower in ("apiece", "every") for token in sentence.tokens)


def _thing_counted(sentence: Sentence, at: int) -> str:
    """What a number counts that ends at a place: the hats of ``4 hats`` and of ``4 of the hats``, us of ``7 of us``."""
    if [sentence.kind_at(at), sentence.lower_at(at + 1)] == ["OF", "us"]:
        return "us"
    of_the = sentence.kind_at(at) == "OF" and sentence.lower_at(at + 1) in word_list("whose")
    return sentence.lower_at(at + 2 if of_the else at)


def both_made(sentence: Sentence) -> None:
    """``both hats take 150 yd each``: twice the amount of one."""
    for at, token in enumerate(sentence.tokens):
        thing = sentence.lower_at(at + 1)
        if token.lower == "both" and thing in made_several():
            one = next((phrase for phrase in sentence.phrases if _of_one(sentence, phrase, thing)), None)
            if one is not None:
                _times(one, 2, f"2 {thing}")


def _described(sentence: Sentence, at: int) -> bool:
    """``2 adult jumpers``: whether a plain word stands before the things a number counts."""
    plain = sentence.kind_at(at) == "WORD" and not _is_made(sentence.lower_at(at))
    return plain and sentence.lower_at(at + 1) in made_several()


def _at_so_much(sentence: Sentence, at: int) -> Phrase | None:
    """``4 hats at 95 yd``: what each of the things told at a place takes, said right behind them."""
    behind = (p for p in sentence.phrases if p.first == at + 2 and p.kind in ("length", "mass"))
    one = next(behind, None)
    told = one is not None and sentence.kind_at(at + 1) == "AT" and len(one.value.values) == 1
    return one if told else None


def _times(one: Phrase, many: float, said: str) -> None:
    """The amount of one thing made that of so many."""
    amount = one.value.length if one.kind == "putup" else None
    series = Series((amount.value,), amount.unit) if amount else one.value
    one.kind = "length" if series.unit in LENGTHS else "count" if series.unit == "skein" else "mass"
    one.value = replace(series, values=(many * series.values[0],))
    one.notes = (*one.notes, f"{said} × {series}")


def _of_them(sentence: Sentence, number: Phrase) -> bool:
    """``I'm making two of them``, ``and I want to make 3``, ``400 m times two``: a number of the thing itself.

    So is that of ``each square takes 14 g and there are 48``.
    """
    after = [sentence.lower_at(at) for at in range(number.last, number.last + 2)]
    ends = sentence.kind_at(number.last) in ("", "STOP", "COMMA", "AND") or after in (["of", "them"], ["of", "it"])
    before = sentence.lower_at(number.first - 1)
    there_are = [sentence.lower_at(number.first - 2), before] == ["there", "are"]
    of_each = any(sentence.kind_at(at) in ("EACH", "PER") for at in range(number.first))
    return ends and (before == "times" or before in word_list("working") or (there_are and of_each))


def _told_of_a_pair(sentence: Sentence) -> bool:
    """``mittens take 150 yds``: what is worn in pairs, whose amount is that of a pair."""
    plurals = {f"{thing}s" for thing in word_list("of_a_pair")}
    takes = {cue.first for cue in sentence.cues if cue.kind == "pattern.verb"}
    return any(token.lower in plurals and at + 1 in takes for at, token in enumerate(sentence.tokens))


def _for_so_many(sentence: Sentence, number: Phrase) -> bool:
    """``a hat takes 200 m, how much for two?``."""
    ends = sentence.kind_at(number.last) in ("", "STOP")
    return ends and sentence.kind_at(number.first - 1) == "FOR"


def _one_things_need(sentence: Sentence) -> Phrase | None:
    """The amount that ``a hat takes``, whatever the thing."""
    things = [*made_several(), *(f"{thing}s" for thing in word_list("of_a_pair"))]
    words = {word for token in sentence.tokens for word in token.lower.split()}
    said = [thing for thing in things if thing.removesuffix("s") in words]
    return next((p for p in sentence.phrases if any(_of_one(sentence, p, thing) for thing in said)), None)


def a_pair(sentence: Sentence) -> None:
    """``one sock takes 190 m. I need a pair``: twice the amount of one."""
    pairs = [at for at, token in enumerate(sentence.tokens) if token.lower in ("pair", "both", "a pair")]
    one = _one_things_need(sentence) if pairs else None
    before = range(max(0, one.first - _LEAD), one.first) if one else range(0)
    lead = {word for at in before for word in sentence.lower_at(at).split()}
    if one and lead & word_list("of_a_pair") and not lead & {"pair"}:
        _times(one, 2, "a pair: 2")


_LEAD = 8


def _single_of_a_pair(sentence: Sentence) -> Phrase | None:
    """The amount of ``a single mitten takes 70 yd``, where pairs of them are made."""
    one = _one_things_need(sentence)
    lead = (
        {word for at in range(max(0, one.first - _LEAD), one.first) for word in sentence.lower_at(at).split()}
        if one
        else set()
    )
    return one if lead & word_list("of_a_pair") and not lead & {"pair", "pairs"} else None


def _skeins_of_one(sentence: Sentence) -> Phrase | None:
    """``4 skeins per adult jumper``: the only number of skeins, where it is told of one thing to knit."""
    counts = [p for p in sentence.phrases if p.kind == "count" and len(p.value.values) == 1]
    things = {cue.first for cue in sentence.cues if cue.kind == "pattern.thing"}
    if len(counts) != 1:
        return None
    [count] = counts
    link, thing = sentence.kind_at(count.last), not things.isdisjoint(range(count.last + 1, count.last + _A_THING))
    return count if link == "THING" or (link in ("PER", "ARTICLE", "EACH") and thing) else None


def _lone_need(sentence: Sentence) -> Phrase | None:
    """The one length or mass of a text that is no skein's, if there is one alone."""
    amounts = [p for p in sentence.phrases if p.kind in ("length", "mass") and len(p.value.values) == 1]
    return amounts[0] if len(amounts) == 1 else None


def made_twice(sentence: Sentence) -> None:
    """``knitting it twice, 420 m each``: so many times the amount that is said to be of each."""
    for at, token in enumerate(sentence.tokens):
        many = _TIMES.get(token.lower)
        if many is None:
            continue
        if one := _said_so_often(sentence, at):
            one.notes = (*one.notes, f"{token.lower}: {many:g} × {one.value.first()}")
            one.value = replace(one.value, values=(many * one.value.values[0],))
            continue
        lead = {sentence.lower_at(i) for i in range(at - 3, at)}
        if not lead & word_list("working") or not lead & word_list("the_work"):
            continue
        for phrase in sentence.phrases:
            inside = {sentence.kind_at(i) for i in range(phrase.first, phrase.last + 1)}
            near = {sentence.kind_at(i) for i in range(phrase.last, phrase.last + 3)}
            if phrase.kind == "length" and "EACH" in inside | near and len(phrase.value.values) == 1:
                phrase.notes = (*phrase.notes, f"{token.lower}: {many:g} × {phrase.value.first()}")
                phrase.value = replace(phrase.value, values=(many * phrase.value.values[0],))


_TIMES = {"twice": 2.0, "thrice": 3.0, "double": 2.0, "double the": 2.0, "triple": 3.0, "triple the": 3.0}


def _said_so_often(sentence: Sentence, at: int) -> Phrase | None:
    """The amount of ``double the 400 m``, or of ``need the 400 m vest twice``."""
    plain = [p for p in sentence.phrases if p.kind in ("length", "mass") and len(p.value.values) == 1]
    begin = at + 2 if sentence.kind_at(at + 1) == "THE" else at + 1
    ahead = next((phrase for phrase in plain if phrase.first == begin), None)
    if ahead and sentence.kind_at(at - 1) not in ("HOLD", "HELD") and sentence.lower_at(at - 1) not in _HELD:
        return ahead
    behind = next((phrase for phrase in reversed(plain) if 0 <= at - phrase.last <= _A_THING), None)
    joined = behind and all(sentence.kind_at(i) in ("WORD", "CLASS", "THE") for i in range(behind.last, at))
    often = sentence.lower_at(at) in ("twice", "thrice") and sentence.kind_at(at + 1) in (
        "",
        "STOP",
        "COMMA",
        "AND",
        "IN",
    )
    return behind if joined and often else None


_HELD = frozenset({"held", "hold", "holding", "knit", "knitted", "worked", "used", "yarn"})


_A_THING = 4


def _of_one(sentence: Sentence, phrase: Phrase, things: str) -> bool:
    """Whether an amount is that of one of several things: said to be each, or after ``a hat takes``."""
    label = phrase.kind == "putup" and phrase.value.length and not phrase.value.mass
    if not label and (phrase.kind not in ("length", "mass") or len(phrase.value.values) != 1):
        return False
    inside = {sentence.kind_at(at) for at in range(phrase.first, phrase.last)}
    before = {sentence.lower_at(at) for at in range(phrase.first - 3, phrase.first)}
    after = sentence.lower_at(phrase.last)
    inside |= {sentence.kind_at(at) for at in (phrase.first - 1, phrase.last)}
    if "SKEIN" in inside:
        return False
    yarn = phrase.last + (sentence.kind_at(phrase.last) == "OF")
    each = sentence.kind_at(yarn) == "CLASS" and sentence.kind_at(yarn + 1) == "EACH"  # 1000 yards of worsted each
    led = sentence.lower_at(phrase.first - 1) == "each" or ("each" in before and not label)
    if each or "EACH" in inside or led or after in ("each", "apiece"):
        return True
    behind = sentence.kind_at(phrase.last) in ("ARTICLE", "PER") or sentence.kind_at(phrase.last - 1) == "ARTICLE"
    ahead = {sentence.lower_at(at) for at in (phrase.last, phrase.last + 1)}
    if behind and _singular(things) in ahead:
        return True  # 22 m a pair
    lead = [word for at in range(max(0, phrase.first - 8), phrase.first) for word in sentence.lower_at(at).split()]
    one = _singular(things)
    return (
        not label
        and one in lead
        and bool({"a", "one", "single", "each", "every", "per", "my", "first"} & set(lead[: lead.index(one)]))
    )


def sum_of_parts(sentence: Sentence) -> None:
    """``body 600 m, sleeves 350 m``, ``250 m for the hat and 300 m for the cowl``: what parts or things take, added.

    Not where each of them is asked for, or is of a colour of its own.
    """
    if asked_of_each(sentence) or _in_several_colours(sentence):
        return
    hers = {cue.last for cue in sentence.cues if cue.kind == "have.before"}
    _as_the_other_parts(sentence)
    for kind in ("length", "mass"):
        amounts = [p for p in sentence.phrases if p.kind == kind and len(p.value.values) == 1 and p.value.low is None]
        amounts = [phrase for phrase in amounts if phrase.first not in hers]
        if len(amounts) < 2:
            continue
        for phrase in amounts:
            _two_of_a_part(sentence, phrase)
        parts = [part_before(sentence, phrase) or _part_doubled(phrase) for phrase in amounts]
        parts = parts if all(parts) else [_part_behind(sentence, phrase) for phrase in amounts]
        parts = _described_apart(sentence, amounts) or parts
        named = [part for part in parts if part]
        amounts = [phrase for phrase, part in zip(amounts, parts, strict=True) if part]
        all_of_kind = len(amounts) == len(parts) or kind == "mass"  # what she has is told in grams beside them
        if len(amounts) < 2 or not all_of_kind or len(set(named)) < len(named):
            continue
        first, *others = amounts
        units = {phrase.value.unit for phrase in amounts}
        apart = sentence.parted(first.first, others[-1].first) and not _each_takes(sentence, amounts)
        if len(units) > 1 or apart or _of_two_weights(sentence, amounts):
            continue
        if any(sentence.kind_at(at) == "OR" for at in range(first.last, others[-1].first)):
            continue  # either a shawl (800 yd) or a sweater (1400 yd)
        said = " + ".join(f"{part} {phrase.value}" for part, phrase in zip(named, amounts, strict=True))
        first.value = Series((sum(phrase.value.values[0] for phrase in amounts),), first.value.unit)
        first.notes = (*first.notes, f"{said} = {first.value}")
        for phrase in others:
            phrase.kind = "one"


def _described_apart(sentence: Sentence, amounts: list[Phrase]) -> list[str | None]:
    """``adult hat 200 yds + child hat 120 yds``: things of one kind, each with a word of its own before it."""
    listed = things_listed(sentence)
    found = [
        f"{sentence.lower_at(at - 1)} {sentence.lower_at(at)}" for _, at in listed if sentence.kind_at(at - 1) == "WORD"
    ]
    alike = len({sentence.lower_at(at) for _, at in listed}) == 1
    plus = any(token.lower in word_list("adding") | {"and"} for token in sentence.tokens)
    told = [phrase for phrase, _ in listed if phrase in amounts]
    return [*found] if alike and plus and len(set(found)) == len(told) == len(amounts) else []


def _in_several_colours(sentence: Sentence) -> bool:
    """``body 980 m in red, yoke 210 m in blue``, ``MC body 980 m, CC1 yoke 210 m``: whether parts differ in colour."""
    behind = [
        {sentence.lower_at(at) for at in range(phrase.last, phrase.last + 2)} & word_list("colours")
        for phrase in sentence.phrases
        if phrase.kind in ("length", "mass", "count")
    ]
    labels = {label.group().strip().casefold() for label in LABEL.finditer(sentence.text)}
    return len({frozenset(colours) for colours in behind if colours}) > 1 or len(labels) > 1


def _as_the_other_parts(sentence: Sentence) -> None:
    """``700 yds for the body, 320 for the sleeves``, ``sleeves 2 x 160 m``: a length, beside that of another part."""
    told = [phrase for phrase in sentence.phrases if phrase.kind == "length"]
    units = {phrase.value.unit for phrase in told if part_before(sentence, phrase) or _part_behind(sentence, phrase)}
    if len(units) != 1:
        return
    [unit] = units
    for phrase in sentence.phrases:
        if phrase.kind == "num" and _part_behind(sentence, phrase) and sentence.kind_at(phrase.last) == "FOR":
            phrase.kind, phrase.value = "length", replace(phrase.value, unit=unit)
        if phrase.kind == "times" and part_before(sentence, phrase) and not phrase.value[1].mass:
            each = phrase.value[1].length
            phrase.kind, phrase.value = "length", Series((phrase.value[0].values[0] * each.value,), each.unit)


def _each_takes(sentence: Sentence, amounts: list[Phrase]) -> bool:
    """``The body takes 600 yards. The sleeves take 350 yards.``: a verb for needing right before each amount."""
    verbs = {cue.last for cue in sentence.cues if cue.kind == "pattern.verb"}
    return all(phrase.first in verbs for phrase in amounts)


def _two_of_a_part(sentence: Sentence, phrase: Phrase) -> None:
    """``front 300 yd, sleeves 180 yd each``: of a part that comes in pairs both, where each is told."""
    part = sentence.lower_at(phrase.first - 1)
    each = "EACH" in {sentence.kind_at(at) for at in range(phrase.first, phrase.last + 1)}
    if each and not phrase.notes and part in word_list("paired_parts"):
        _times(phrase, 2, f"2 {part}")
    two = [sentence.lower_at(at) for at in range(phrase.first - _A_THING + 1, phrase.first)]
    if two[0] in ("two", "2") and two[1] in word_list("paired_parts") and two[2] == "at" and not phrase.notes:
        _times(phrase, 2, f"2 {two[1]}")  # two sleeves at 140 m
    for at in range(phrase.first - 1, max(0, phrase.first - _A_THING), -1):
        parts = f"{sentence.lower_at(at)}s"
        one = sentence.kind_at(at - 1) in ("EACH", "PER") or sentence.lower_at(at - 1) in ("each", "per", "every")
        if one and not phrase.notes and parts in word_list("paired_parts"):
            _times(phrase, 2, f"2 {parts}")


def _part_doubled(phrase: Phrase) -> str | None:
    """The part of which two are made, as ``each sleeve takes 180 yd`` was noted."""
    words = phrase.notes[-1].split() if phrase.notes else []
    return words[1] if words[:1] == ["2"] and words[1] in word_list("paired_parts") else None


def asked_of_each(sentence: Sentence) -> bool:
    """``hat 110 m, scarf 350 m: how many balls for each?``: whether what every one of several takes is asked."""
    return bool(_FOR_EACH.search(sentence.text))


_FOR_EACH = re.compile(
    r"\b(?:for|of|do|does|would|will)\s+each(?:\s+(?:one|of them|thing|take|need|colou?r|shade"
    r"|(?:do|should|shall|would)\s+(?:i|we)(?:\s+\w+){0,2}|to\s+(?:buy|get|order)))?\s*(?:[?.,]|$)"
    r"|\b(?:its|their) own (?:colou?r|shade)s?\b|\bcolou?r by colou?r\b",
    re.IGNORECASE,
)


def things_listed(sentence: Sentence) -> list[tuple[Phrase, int]]:
    """The amounts of a list that stand right behind a thing or a part of one, each with the place of that word."""
    amounts = [p for p in sentence.phrases if p.kind in ("length", "mass", "count") and p.first]
    return [(p, p.first - 1) for p in amounts if part_before(sentence, p) == sentence.lower_at(p.first - 1)]


def _of_two_weights(sentence: Sentence, amounts: list[Phrase]) -> bool:
    """``a hat at 180 yd of worsted plus a sweater at 1100 yd of DK``: what is not of one yarn."""
    near = range(amounts[0].first, amounts[-1].last + 6)  # 300 m for a hat in lace
    weights = [p for p in sentence.phrases if p.kind == "weight" and p.first in near]
    return len({p.value[0] for p in weights if not sentence.parted(amounts[-1].last, p.first)}) > 1


def part_before(sentence: Sentence, phrase: Phrase) -> str | None:
    """The part of a garment, or the thing, whose amount a phrase tells: it stands up to three words before it."""
    things = {at for cue in sentence.cues if cue.kind == "pattern.thing" for at in range(cue.first, cue.last)}
    for at in range(phrase.first - 1, max(-1, phrase.first - _A_THING), -1):
        word = sentence.lower_at(at)
        if sentence.kind_at(at) in ("STOP", "COMMA", "SEMI", "AND", "NUM"):
            return None
        if word in word_list("garment_parts") | made_several() or (at in things and word in word_list("garments")):
            each = sentence.kind_at(at - 1) in ("EACH", "PER", "ARTICLE") and word in word_list("garment_parts")
            return None if each else word
    return None


def _part_behind(sentence: Sentence, phrase: Phrase) -> str | None:
    """``250 m for the hat``, ``a 200 m hat``: the thing whose amount a phrase tells, right behind it."""
    at = phrase.last + (sentence.kind_at(phrase.last) == "FOR")
    at += sentence.kind_at(at) in ("THE", "ARTICLE") or sentence.lower_at(at) in word_list("whose")
    word = sentence.lower_at(at)
    return word if word in word_list("garment_parts") | word_list("garments") | made_several() else None


def colours_alike(sentence: Sentence) -> None:
    """``five contrast colours of 60 yd each``: so much of every one of so many colours."""
    for number, amount in itertools.pairwise(sentence.phrases):
        noun = number.last + (sentence.lower_at(number.last) in word_list("which_colours"))
        between = range(noun + 1, amount.first)
        if number.kind != "num" or sentence.lower_at(noun) not in word_list("several_colours"):
            continue
        each = any(sentence.kind_at(at) == "EACH" for at in (*between, *range(amount.first, amount.last + 1)))
        many, label = number.value.values[0], amount.value if amount.kind == "putup" else None
        told = label.length if label and not label.mass else None
        plain = told is not None or (amount.kind == "length" and len(amount.value.values) == 1)
        if not (each and plain and len(between) <= _A_THING) or many not in range(2, _MOST_COLOURS + 1):
            continue
        amount.kind, amount.flags = "length", frozenset({"alike"})
        amount.value = Series((told.value,), told.unit) if told else amount.value
        number.kind = "made"
        sentence.phrases += [replace(amount) for _ in range(int(many) - 1)]
        sentence.phrases.sort(key=lambda phrase: phrase.first)
        return


_MOST_COLOURS = 12
