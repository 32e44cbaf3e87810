"""Phrases put together before anything is sorted: put-ups, counts, sums and what was said in a roundabout way."""

from __future__ import annotations

import itertools
from dataclasses import replace

from yarnchat.knowledge.classes import class_by_number
from yarnchat.language.counts import (
    YARDAGE,
    added_up,
    and_a_half,
    asked_in_skeins,
    by_the_ball,
    each_weighed,
    listed_skeins,
    of_these,
    one_is_half,
    one_of_them,
    one_skein,
    parts_of_skeins,
    scattered_counts,
    skein_without_a_unit,
    so_many_of,
    so_many_used,
    some_are_gone,
    what_is_left,
)
from yarnchat.language.lexicon import load, made_several, word_list
from yarnchat.language.mass_and_length import across_a_yarn, length_of_each, length_then_label, mass_beside_length
from yarnchat.language.phrases import Phrase
from yarnchat.language.put_ups import one_skeins_worth, priced_lengths, put_up_named, to_put_up
from yarnchat.language.sentence import Sentence
from yarnchat.language.skein_limits import SKEIN_M
from yarnchat.quantity import LENGTHS, Quantity
from yarnchat.queries import Needle, PutUp, Series


def join_phrases(sentence: Sentence) -> None:
    """Lengths and masses that are one skein's worth made put-ups; counts split over other words made counts."""
    for step in _STEPS:
        step(sentence)


def _whole_cones(sentence: Sentence) -> None:
    """``a 1.2 kg cone at 550 m per 100 g``: where a whole put-up is said, another mass of a skein is an amount.

    What several weigh each is their put-up: ``2 cones, 250 g each, 300 m per 100 g``.
    """
    for one, two in itertools.pairwise(sentence.phrases):
        wound = _mass_of_one(one)
        if wound is None or two.kind != "putup" or not (two.value.length and two.value.mass and two.value.mass.value):
            continue
        grams, rated = wound.to("g").value, two.value.mass.to("g").value
        count = one.value[0].values[0] if one.kind == "times" and len(one.value[0].values) == 1 else 0
        if count > 1 and count * grams == rated:  # 12 x 50 g balls, 125 m per ball, 600 g
            two.value = replace(two.value, mass=wound)
            two.notes = (*two.notes, f"{count:g} × {wound} is {rated:g} g in all")
            continue
        if grams != rated and (one.kind == "times" or _plural(sentence, one) or _each_of_several(sentence, one)):
            length = Quantity(two.value.length.value * grams / rated, two.value.length.unit)
            two.notes = (*two.notes, f"{wound} at {two.value} is {length}")
            two.value = PutUp(length, wound)
            one.kind = "one" if one.kind == "putup" else one.kind
        elif grams != rated:
            one.kind, one.value = "mass", Series((wound.value,), wound.unit)


def _mass_of_one(phrase: Phrase) -> Quantity | None:
    """The mass of one skein that a phrase tells without a length: ``250 g cones``, ``3 x 200 g``."""
    put_up = phrase.value[1] if phrase.kind == "times" else phrase.value if phrase.kind == "putup" else None
    return put_up.mass if put_up and put_up.length is None else None


def _each_of_several(sentence: Sentence, phrase: Phrase) -> bool:
    """``2 cones, 250 g each``."""
    each = any(sentence.kind_at(at) == "EACH" for at in range(phrase.first, phrase.last))
    return each and any(other.kind == "count" and other.last <= phrase.first for other in sentence.phrases)


def _plural(sentence: Sentence, phrase: Phrase) -> bool:
    """``on 500 g cones``: whether skeins of that mass are spoken of, and not one of them."""
    said = [sentence.lower_at(at) for at in range(phrase.first, phrase.last) if sentence.kind_at(at) == "SKEIN"]
    return bool(said) and said[0].endswith("s")


def _listed_yarns(sentence: Sentence) -> None:
    """``4 ply 400 m, sport 320 m, DK 230 m``: several yarns each with its length a skein."""
    told = [
        (one, two)
        for one, two in zip(sentence.phrases, sentence.phrases[1:], strict=False)
        if one.kind in ("weight", "name") and two.kind == "length" and len(two.value.values) == 1
        if not _heads_a_pattern(sentence, one)
    ]
    pairs = [two for one, two in told if two.first == one.last]
    if len(pairs) < 2 and sentence.said("ask.compare"):  # Lambfold DK, 245 yds
        pairs = [two for one, two in told if [sentence.kind_at(at) for at in range(one.last, two.first)] == ["COMMA"]]
    if len(pairs) == 2 and {sentence.kind_at(at) for at in range(pairs[0].last, pairs[1].first)} & {
        "IN",
        "TO",
        "ARROW",
    }:
        return  # 3 ply 900 yd in 4 ply 200 yd
    metres = [phrase.value.first().to("m").value for phrase in pairs]
    if len(pairs) == 2 and max(metres) >= 2 * min(metres) and not sentence.said("ask.compare"):
        return  # dk 230 yds, pattern worsted 1000 yds
    if len(pairs) > 1 and max(metres) <= SKEIN_M:
        for phrase in pairs:
            to_put_up(phrase)


def _heads_a_pattern(sentence: Sentence, weight: Phrase) -> bool:
    """``shawl = fingering 700 yd``: a weight told of the thing that is knitted, right after it."""
    said = sentence.kind_at(weight.first - 1) in ("EQ", "COLON", "HOLD") and not sentence.said("ask.compare")
    return said and any(
        cue.kind in ("pattern.thing", "pattern.noun") and cue.last == weight.first - 1 for cue in sentence.cues
    )


def _named_in_words(sentence: Sentence) -> None:
    """``small needs 720 m, medium 790 and large 870``: a length for each size, its name before it, the unit once."""
    lengths = [p for p in sentence.phrases if p.kind == "length" and len(p.value.values) == 1]
    for number in [p for p in sentence.phrases if p.kind == "num" and len(p.value.values) == 1] if lengths else ():
        near = lengths[0].value.values[0] / 2 <= number.value.values[0] <= 2 * lengths[0].value.values[0]
        if near and _size_before(sentence, number) is not None and number.first > lengths[0].first:
            number.kind, number.value = "length", replace(number.value, unit=lengths[0].value.unit)
            lengths.append(number)
    pairs = [(at, length) for length in lengths if (at := _size_before(sentence, length)) is not None]
    names = tuple(sentence.tokens[at].text for at, _ in pairs)
    units = {length.value.unit for _, length in pairs}
    if len(pairs) < 2 or len(units) > 1 or len(set(names)) < len(pairs):
        return
    for (_, before), (after, _) in itertools.pairwise(pairs):
        if {sentence.kind_at(at) for at in range(before.last, after)} - {"COMMA", "AND", "SEMI", "THE"}:
            return
    (first, _), (_, final) = pairs[0], pairs[-1]
    series = Series(tuple(length.value.values[0] for _, length in pairs), units.pop())
    kept = [p for p in sentence.phrases if not first <= p.first < final.last and not first < p.last <= final.last]
    whole = Phrase("named", first, final.last, (names, series))
    for rank in ("size.first", "size.middle", "size.last"):
        sentence.unsay(rank)
    sentence.phrases[:] = sorted([*kept, whole], key=lambda phrase: phrase.first)


def _numbered_sizes(sentence: Sentence) -> None:
    """``Size 1: 400 yd``, ``Size 2: 460 yd``: an amount for each size, its number before it."""
    pairs = [
        (size, amount)
        for size, amount in itertools.pairwise(sentence.phrases)
        if size.kind == "size" and amount.kind in ("length", "mass", "count") and len(amount.value.values) == 1
        if {sentence.kind_at(at) for at in range(size.last, amount.first)} <= {"COLON", "DASH", "EQ", "COMMA"}
    ]
    names = tuple(str(size.value) for size, _ in pairs)
    units = {amount.value.unit for _, amount in pairs}
    if len(pairs) < 2 or len(units) > 1 or names != tuple(f"{place}" for place in range(1, len(pairs) + 1)):
        return
    (first, _), (_, final) = pairs[0], pairs[-1]
    whole = Phrase(
        "named", first.first, final.last, (names, Series(tuple(a.value.values[0] for _, a in pairs), units.pop()))
    )
    kept = [phrase for phrase in sentence.phrases if phrase.last <= first.first or phrase.first >= final.last]
    sentence.phrases[:] = sorted([*kept, whole], key=lambda phrase: phrase.first)


def _one_for_each_size(sentence: Sentence) -> None:
    """``three sizes: 290 m, 340 m, 395 m``: as many lengths as sizes are said are one length for each."""
    lengths = [p for p in sentence.phrases if p.kind == "length" and len(p.value.values) == 1 and p.value.low is None]
    numbers = load("words.toml")["numbers"]
    counted = [numbers.get(sentence.lower_at(at - 1)) for at, t in enumerate(sentence.tokens) if t.kind == "SIZES"]
    if len(lengths) < 2 or len(lengths) not in counted:
        return
    gaps = ({sentence.kind_at(at) for at in range(a.last, b.first)} for a, b in itertools.pairwise(lengths))
    if any(gap - {"COMMA", "AND", "SEMI"} for gap in gaps) or len({p.value.unit for p in lengths}) > 1:
        return
    first, *others = lengths
    first.value, first.last = replace(first.value, values=tuple(p.value.values[0] for p in lengths)), others[-1].last
    sentence.phrases[:] = [phrase for phrase in sentence.phrases if phrase not in others]


def _size_before(sentence: Sentence, length: Phrase) -> int | None:
    """Where the size stands that a length is told for, with two words between at most."""
    for at in range(length.first - 1, max(length.first - 7, -1), -1):
        kind = sentence.kind_at(at)
        if (kind == "SZ" and at >= length.first - 3) or sentence.lower_at(at) in word_list("size_ranks"):
            return at
        if kind not in ("WORD", "HOLD", "COLON", "DASH", "OF", "THE", "SIZES", "SIZE"):
            return None
    return None


def _gauge_likewise(sentence: Sentence) -> None:
    """``the pattern gauge is 18 and mine is 20``: a lone number for her gauge, over what the other is counted on."""
    gauge = next((phrase for phrase in sentence.phrases if phrase.kind == "gauge"), None)
    for phrase in sentence.phrases:
        if gauge is None or phrase.kind != "num" or len(phrase.value.values) != 1:
            continue
        lead = {sentence.lower_at(at) for at in range(phrase.first - 3, phrase.first)}
        stitches = phrase.value.values[0]
        knits = sentence.lower_at(phrase.first - 1) in word_list("knits_at") and not lead & {"i've", "have", "we've"}
        before = [sentence.lower_at(at) for at in range(phrase.first - 2, phrase.first)]
        instead = before in (["instead", "of"], ["rather", "than"])
        does = any(cue.kind == "gauge.does" and cue.last == phrase.first for cue in sentence.cues)
        theirs = before[-1] in ("says", "wants", "is", "has", "gets") and lead & {"pattern", "book", "designer"}
        near = abs(stitches - gauge.value.stitches) <= gauge.value.stitches / 2
        ends = sentence.kind_at(phrase.last) in ("", "STOP", "COMMA", "AND", "SEMI", "LPAR")
        if near and (knits or instead or lead & {"mine", "ours"} or (ends and (does or theirs))):
            phrase.kind, phrase.value = "gauge", replace(gauge.value, stitches=stitches, rows=None)


_SNIPPET_M, _SNIPPET_G = 60, 60
"""A piece of yarn cut off and weighed is no longer and no heavier than this (common practice, no source)."""
_OF_A_LABEL = 100


def _snippet(sentence: Sentence) -> None:
    """``12 m off it weighs 3 g``: a piece of yarn weighed tells the length per mass, and is no skein."""
    for one, two in itertools.pairwise(sentence.phrases):
        told = _cut_and_weighed(sentence, one, two)
        if told is None:
            continue
        length, mass = told
        grams = mass.to("g").value
        rate = PutUp(
            Quantity(length.value * _OF_A_LABEL / grams, length.unit), Quantity(_OF_A_LABEL, "g"), per_skein=False
        )
        two.kind, two.value, one.kind = "putup", rate, "one" if one is not two else "putup"
        two.notes = (*two.notes, f"{length} weighs {mass}: {rate}")
        for ball in [phrase for phrase in sentence.phrases if phrase not in (one, two)]:
            whole = _mass_of_one(ball)
            if whole:
                ball.kind, ball.value = "mass", Series((whole.value,), whole.unit)
            if ball.kind == "mass":
                ball.flags = frozenset({"amount"})
        return


def _cut_and_weighed(sentence: Sentence, one: Phrase, two: Phrase) -> tuple[Quantity, Quantity] | None:
    """The length and the mass of a piece of yarn, where words for weighing stand between them."""
    if {one.kind, two.kind} != {"length", "mass"} or len(one.value.values) > 1 or len(two.value.values) > 1:
        return None
    words = [sentence.lower_at(at) for at in range(one.last, two.first)]
    if len(words) > _AS_FAR or not set(words) & word_list("weighing") or sentence.parted(one.last, two.first):
        return None
    length, mass = (
        (one.value.first(), two.value.first()) if one.kind == "length" else (two.value.first(), one.value.first())
    )
    small = 0 < length.to("m").value <= _SNIPPET_M and 0 < mass.to("g").value <= _SNIPPET_G
    return (length, mass) if small else None


def _several_made(sentence: Sentence) -> None:
    """``3 hats, each 120 yd``, ``one pair takes 400 m and I want 3 pairs``: so many times the amount of one."""
    for number in sentence.phrases:
        thing = sentence.lower_at(number.last)
        if number.kind != "num" or len(number.value.values) != 1:
            continue
        things = thing in made_several() or thing.removesuffix("s") in word_list("of_a_pair")
        one = next((p for p in sentence.phrases if things and _of_one(sentence, p, thing)), None)
        if one is None and (_of_them(sentence, number) or (thing == "pairs" and _told_of_a_pair(sentence))):
            one, thing = _lone_need(sentence), thing if thing == "pairs" else "of them"
        if one is None and _for_so_many(sentence, number):
            one, thing = _one_things_need(sentence), "of them"
        many = number.value.values[0]
        if one is None or many != int(many) or not 1 < many <= 50:
            continue
        _times(one, many, f"{many:g} {thing}")
        number.kind = "made"


def _times(one: Phrase, many: float, said: str) -> None:
    """The amount of one thing made that of so many."""
    amount = one.value.length if one.kind == "putup" else None
    series = Series((amount.value,), amount.unit) if amount else one.value
    one.kind = "length" if series.unit in LENGTHS else "mass"
    one.value = replace(series, values=(many * series.values[0],))
    one.notes = (*one.notes, f"{said} × {series.first()}")


def _of_them(sentence: Sentence, number: Phrase) -> bool:
    """``I'm making two of them``, ``and I want to make 3``, ``400 m times two``: a number of the thing itself."""
    after = [sentence.lower_at(at) for at in range(number.last, number.last + 2)]
    ends = sentence.kind_at(number.last) in ("", "STOP", "COMMA", "AND") or after in (["of", "them"], ["of", "it"])
    before = sentence.lower_at(number.first - 1)
    return ends and (before == "times" or before in word_list("working"))


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


def _a_pair(sentence: Sentence) -> None:
    """``one sock takes 190 m. I need a pair``: twice the amount of one."""
    pairs = [at for at, token in enumerate(sentence.tokens) if token.lower in ("pair", "both", "a pair")]
    one = _one_things_need(sentence) if pairs else None
    before = range(max(0, one.first - _LEAD), one.first) if one else range(0)
    lead = {word for at in before for word in sentence.lower_at(at).split()}
    if one and lead & word_list("of_a_pair") and not lead & {"pair"}:
        _times(one, 2, "a pair: 2")


_LEAD = 8


def _lone_need(sentence: Sentence) -> Phrase | None:
    """The one length or mass of a text that is no skein's, if there is one alone."""
    amounts = [p for p in sentence.phrases if p.kind in ("length", "mass") and len(p.value.values) == 1]
    return amounts[0] if len(amounts) == 1 else None


def _made_twice(sentence: Sentence) -> None:
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


def _strands_at_once(sentence: Sentence) -> None:
    """``running two worsteds at once``: so many strands of it held together."""
    for number, weight in itertools.pairwise(sentence.phrases):
        after = [sentence.lower_at(at) for at in range(weight.last, weight.last + 2)]
        beside = number.last == weight.first and number.kind in ("num", "count") and weight.kind == "weight"
        if beside and len(number.value.values) == 1 and number.value.values[0] in (2, 3, 4) and after == ["at", "once"]:
            number.kind, number.value = "strands", int(number.value.values[0])


def _doubled_up(sentence: Sentence) -> None:
    """``double the fingering``, ``doubling up my DK``: two strands of it, where no yardage is doubled."""
    for weight in [phrase for phrase in sentence.phrases if phrase.kind == "weight"]:
        at = weight.first - 1
        while at > 0 and (sentence.kind_at(at) in ("THE", "ARTICLE") or sentence.lower_at(at) in _WHOSE):
            at -= 1
        verb, *rest = sentence.lower_at(at).split() or [""]
        led = at < weight.first - 1 or "the" in rest
        if verb not in _DOUBLES or not led or sentence.lower_at(weight.last) in YARDAGE:
            continue
        told = next((phrase for phrase in sentence.phrases if phrase.kind == "strands" and phrase.last == at + 1), None)
        if told:
            told.last = weight.first
        else:
            sentence.phrases.append(Phrase("strands", at, weight.first, 2))
    sentence.phrases.sort(key=lambda phrase: phrase.first)


_WHOSE = frozenset({"my", "your", "our", "this", "that"})
_DOUBLES = frozenset({"double", "doubling"})


def _in_a_symbol(sentence: Sentence) -> None:
    """``a yarn symbol with a 3 on it``, ``number 4 yarn``: the number of a weight class, as labels print it."""
    if all(phrase.kind != "num" for phrase in sentence.phrases):
        return
    for phrase in sentence.phrases:
        numbered = phrase.kind == "num" and sentence.kind_at(phrase.first - 1) == "HASH"
        if numbered and sentence.lower_at(phrase.last) in word_list("numbered_yarns"):
            _to_class(phrase)
    printed = word_list("symbols")
    symbols = [at for at, token in enumerate(sentence.tokens) if token.lower in printed]
    for phrase in sentence.phrases if symbols else ():
        if phrase.kind != "num":
            continue
        if not any(abs(at - phrase.first) <= 5 and not sentence.parted(*sorted((at, phrase.first))) for at in symbols):
            continue
        _to_class(phrase)


def _to_class(phrase: Phrase) -> None:
    """A lone number made the weight class of that number, where there is one."""
    number = phrase.value.values[0]
    found = class_by_number(int(number)) if len(phrase.value.values) == 1 and number in range(8) else None
    if found:
        phrase.kind, phrase.value = "weight", ((found.key,), f"class {number:g}")


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
    if behind and things.removesuffix("s") in ahead:
        return True  # 22 m a pair
    lead = [word for at in range(max(0, phrase.first - 8), phrase.first) for word in sentence.lower_at(at).split()]
    one = things.removesuffix("s")
    return (
        not label
        and one in lead
        and bool({"a", "one", "single", "each", "every", "per", "my", "first"} & set(lead[: lead.index(one)]))
    )


_SAYS_AGAIN = frozenset({"LPAR", "SLASH", "EQ", "COMMA", "OR", "DASH"})
"""What may stand between two sayings of one size."""


_LEADS = frozenset({"TO", "ARTICLE", "ON", "WITH", "THE"})
"""What stands right before the other needle."""


def _needle_sizes(sentence: Sentence) -> None:
    """A millimetre size beside a needle size is that needle told again: ``US 8 (5 mm)``, ``4 mm (old UK 10)``."""
    if not any(phrase.kind in ("needle", "small", "size", "num") for phrase in sentence.phrases):
        return
    for one, two in itertools.pairwise(sentence.phrases):
        if {one.kind, two.kind} != {"needle", "small"}:
            continue
        if not {sentence.kind_at(i) for i in range(one.last, two.first)} <= _SAYS_AGAIN:
            continue
        small = one if one.kind == "small" else two
        if small.value.unit == "mm":
            _to_needle(small)
    _of_one_system(sentence)
    if any(phrase.kind == "needle" for phrase in sentence.phrases):
        for phrase in sentence.phrases:  # sport on 3.5 mm needles, I'd go up to a 4 mm
            if phrase.kind == "small" and phrase.value.unit == "mm" and sentence.kind_at(phrase.first - 1) in _LEADS:
                _to_needle(phrase)
        return
    _numbered_needle(sentence)
    alone = [phrase.kind for phrase in sentence.phrases] == ["small"]
    if alone and sentence.said("ask.identify") and sentence.phrases[0].value.unit == "mm":
        _to_needle(sentence.phrases[0])  # they recommend 4 mm for it: thickness?
    for phrase in sentence.phrases:  # 4 mm on the needle picture
        near = range(max(0, phrase.first - 5), min(len(sentence.tokens), phrase.last + 6))
        if phrase.kind == "small" and phrase.value.unit == "mm" and any(sentence.kind_at(i) == "NEEDLE" for i in near):
            _to_needle(phrase)


def _to_needle(phrase: Phrase) -> None:
    """A measure in millimetres made a needle's size."""
    phrase.kind, phrase.value = "needle", Needle(f"{phrase.value.value:g}", "mm")


def _of_one_system(sentence: Sentence) -> None:
    """``No. 9 needles``, on ``an old UK gauge plate``: the only system told is that of a size told without one."""
    systems = sentence.needle_systems()
    sizes = [phrase for phrase in sentence.phrases if phrase.kind == "needle"]
    if len(systems) != 1 or len(sizes) != 1 or sizes[0].value.system:
        return
    at = sizes[0].first - 1
    minus = sentence.kind_at(at) == "DASH" and at > 0 and sentence.tokens[at].start > sentence.tokens[at - 1].end
    if not minus:
        sizes[0].value = replace(sizes[0].value, system=systems.pop())


def _hers_without_a_unit(sentence: Sentence) -> None:
    """``the pattern wants 1000 yards and I have 900``: what she has, or has used, in the only unit of length told."""
    if not any(phrase.kind == "num" for phrase in sentence.phrases):
        return
    told = {phrase.value.unit for phrase in sentence.phrases if phrase.kind == "length"}
    verbs = {cue.last for cue in sentence.cues if cue.kind in ("have.before", "used.before")}
    had = {end for end in verbs if sentence.lower_at(end - 1) in ("have", "got", "used", "had", "only", "i've")}
    for phrase in sentence.phrases:
        ends = sentence.kind_at(phrase.last) in ("", "STOP", "COMMA", "AND", "SEMI")
        lone = phrase.kind == "num" and len(phrase.value.values) == 1 and phrase.first in had and ends
        if lone and len(told) == 1 and _LEAST_NEED <= phrase.value.values[0] <= _MOST_NEED:
            phrase.kind, phrase.value = "length", replace(phrase.value, unit=next(iter(told)))


def _need_without_a_unit(sentence: Sentence) -> None:
    """``150 yds a skein, and the sweater needs 1425``: what is needed, in the unit of the only length told."""
    bare = [phrase for phrase in sentence.phrases if phrase.kind in ("num", "nums")]
    if not bare:
        return
    told = {
        unit
        for phrase in sentence.phrases
        for unit in ([phrase.value.unit] if phrase.kind == "length" else _label_units(phrase))
    }
    ends = {cue.last for cue in sentence.cues if cue.kind in ("pattern.verb", "need.before")}
    closed = {"", "STOP", "COMMA", "NEWLINE"}
    needed = [phrase for phrase in bare if phrase.first in ends and sentence.kind_at(phrase.last) in closed]
    if len(told) != 1 or len(needed) != 1 or sum(phrase.kind == "length" for phrase in sentence.phrases) > 1:
        return
    [phrase] = needed
    if all(_LEAST_NEED <= value <= _MOST_NEED for value in phrase.value.values):
        phrase.kind, phrase.value = "length", replace(phrase.value, unit=told.pop())


_LEAST_NEED, _MOST_NEED = 100, 10_000
"""A number without a unit between these may be a length that is needed (common practice, no source)."""


def _label_units(phrase: Phrase) -> list[str]:
    return [phrase.value.length.unit] if phrase.kind == "putup" and phrase.value.length else []


def _headed_yardage(sentence: Sentence) -> None:
    """``Yardage 640 [720, 800]``: the heading says the unit."""
    for phrase in sentence.phrases:
        if phrase.kind != "nums" or sentence.kind_at(phrase.first - 1) not in ("COLON", "WORD", "DASH", "LEN", "RPAR"):
            continue
        reach = 5 if sentence.kind_at(phrase.first - 1) == "COLON" else 2
        lead = [sentence.lower_at(at) for at in range(phrase.first - 1, phrase.first - 1 - reach, -1)]
        lead = lead[: lead.index("\n")] if "\n" in lead else lead
        if unit := next((YARDAGE[word] for word in lead if word in YARDAGE), None):
            phrase.kind, phrase.value = "length", replace(phrase.value, unit=unit)


def _speaks_of_needles(sentence: Sentence) -> bool:
    return any(token.kind == "NEEDLE" for token in sentence.tokens)


def _numbered_needle(sentence: Sentence) -> None:
    """``a size 8, old UK numbering: how many mm?``: with nothing of a yarn said, such a size is a needle's."""
    systems = sentence.needle_systems()
    alone = len(sentence.phrases) == 1 and sentence.phrases[0].kind == "size"
    stamped = len(sentence.phrases) == 1 and sentence.phrases[0].kind == "num" and _speaks_of_needles(sentence)
    if stamped and len(systems) == 1 and sentence.said("ask.convert"):
        number = sentence.phrases[0]  # gran's needles are stamped 00, old English size
        number.kind, number.value = "needle", Needle(sentence.words(number), systems.pop())
        return
    if alone and len(systems) == 1 and sentence.said("ask.convert") and not sentence.said("pattern.thing"):
        size = sentence.phrases[0]
        size.kind, size.value = "needle", Needle(str(size.value), systems.pop())


def _sum_of_parts(sentence: Sentence) -> None:
    """``body 600 m, sleeves 350 m``, ``hat takes 90 g, the scarf 200 g``: what parts or things take, added."""
    for kind in ("length", "mass"):
        amounts = [p for p in sentence.phrases if p.kind == kind and len(p.value.values) == 1 and p.value.low is None]
        if len(amounts) < 2:
            continue
        parts = [_part_before(sentence, phrase) for phrase in amounts]
        named = [part for part in parts if part]
        amounts = [phrase for phrase, part in zip(amounts, parts, strict=True) if part]
        all_of_kind = len(amounts) == len(parts) or kind == "mass"  # what she has is told in grams beside them
        if len(amounts) < 2 or not all_of_kind or len(set(named)) < len(named):
            continue
        first, *others = amounts
        units = {phrase.value.unit for phrase in amounts}
        if len(units) > 1 or sentence.parted(first.first, others[-1].first) or _of_two_weights(sentence, amounts):
            continue
        said = " + ".join(f"{part} {phrase.value}" for part, phrase in zip(named, amounts, strict=True))
        first.value = Series((sum(phrase.value.values[0] for phrase in amounts),), first.value.unit)
        first.notes = (*first.notes, f"{said} = {first.value}")
        for phrase in others:
            phrase.kind = "one"


def _of_two_weights(sentence: Sentence, amounts: list[Phrase]) -> bool:
    """``a hat at 180 yd of worsted plus a sweater at 1100 yd of DK``: what is not of one yarn."""
    near = range(amounts[0].first, amounts[-1].last + 3)
    return len({p.value[0] for p in sentence.phrases if p.kind == "weight" and p.first in near}) > 1


def _part_before(sentence: Sentence, phrase: Phrase) -> str | None:
    """The part of a garment, or the thing, whose amount a phrase tells: it stands up to three words before it."""
    things = {at for cue in sentence.cues if cue.kind == "pattern.thing" for at in range(cue.first, cue.last)}
    for at in range(phrase.first - 1, max(-1, phrase.first - _A_THING), -1):
        word = sentence.lower_at(at)
        if sentence.kind_at(at) in ("STOP", "COMMA", "SEMI", "AND", "NUM"):
            return None
        if word in word_list("garment_parts") or (at in things and word in word_list("garments")):
            each = sentence.kind_at(at - 1) in ("EACH", "PER", "ARTICLE") and word in word_list("garment_parts")
            return None if each else word
    return None


def _colours_alike(sentence: Sentence) -> None:
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


def _priced_by_mass(sentence: Sentence) -> None:
    """``€5.80 per 100 g, a hank is 150 g/480 m``: what a skein costs, where the price is that of another mass."""
    wound = [
        p for p in sentence.phrases if p.kind == "putup" and p.value.length and p.value.mass and p.value.mass.value
    ]
    for price, mass in itertools.pairwise(sentence.phrases):
        per = sentence.kind_at(mass.first - 1) in ("PER", "SLASH", "FOR") and mass.first == price.last + 1
        told = mass.value.mass if mass.kind == "putup" else mass.value.first() if mass.kind == "mass" else None
        if price.kind != "price" or not per or len(wound) != 1 or wound[0] is mass or not told or not told.value:
            continue
        label = wound[0].value.mass
        each = replace(price.value, value=price.value.value * label.to("g").value / told.to("g").value)
        price.notes = (*price.notes, f"{price.value} for {told}: {each} for {label}")
        price.value, mass.kind = each, "one"


def _for_several(sentence: Sentence) -> None:
    """``5 skeins cost $60``, ``paid $60 for 5 skeins``: what all of them cost, made the price of one.

    Where the price of one is asked for, one is asked about; where a need is told beside, they are only an offer.
    """
    prices = [phrase for phrase in sentence.phrases if phrase.kind == "price"]
    lots = [(price, count) for price in prices if (count := _what_it_buys(sentence, price))]
    for price, count in lots:
        many = count.value.values[0]
        each = replace(price.value, value=price.value.value / many)
        price.notes = (*price.notes, f"{price.value} for {many:g} skeins: {each}")
        price.value, price.flags = each, frozenset({"of several"})
        others = [p for p in sentence.phrases if p.kind in ("length", "count", "times", "named") and p is not count]
        if len(lots) == 1 and sentence.said("price.one"):
            count.value = Series((1.0,), "skein")
            for other in others:
                other.kind = "one" if other.kind == "count" and other.value.values == (1.0,) else other.kind
        elif others or len(lots) > 1:
            count.kind = "one"


def _what_it_buys(sentence: Sentence, price: Phrase) -> Phrase | None:
    """The several skeins that a price is told to be of; None where it may be that of each."""
    if any(sentence.kind_at(at) in ("SKEIN", "EACH") for at in range(price.first, price.last + 1)):
        return None
    counts = [p for p in sentence.phrases if p.kind == "count" and len(p.value.values) == 1 and p.value.values[0] > 1]
    for count in counts:
        if count.first == price.last + 1 and sentence.kind_at(price.last) in ("FOR", "ON"):
            return count  # paid $60 for 5 skeins
        between = range(count.last, price.first)
        if not 0 < len(between) <= _AS_FAR or sentence.parted(count.last, price.first):
            continue
        told = [at for at in between if not _in_a_put_up(sentence, at)]
        words = {sentence.lower_at(at) for at in told}
        if words & word_list("sum_of") and words <= word_list("sum_of") | {"of", "(", ")"}:
            return count
    return None


def _in_a_put_up(sentence: Sentence, at: int) -> bool:
    return any(
        phrase.kind in ("putup", "weight", "name") and phrase.first <= at < phrase.last for phrase in sentence.phrases
    )


_AS_FAR = 9


def _taken_off(sentence: Sentence) -> None:
    """``$7.95 with 20% off``: the price with so much off."""
    prices = [phrase for phrase in sentence.phrases if phrase.kind == "price"]
    off = [p for p in sentence.phrases if p.kind == "percent" and sentence.lower_at(p.last) in word_list("price_off")]
    if len(prices) != 1 or len(off) != 1 or not 0 < off[0].value < 100:
        return
    [price], [percent] = prices, off
    reduced = replace(price.value, value=price.value.value * (1 - percent.value / 100))
    price.notes = (*price.notes, f"{price.value} with {percent.value:g} % off: {reduced}")
    price.value = reduced
    percent.kind, percent.value = "one", Series((percent.value,), "")


_STEPS = (
    _needle_sizes,
    _gauge_likewise,
    _headed_yardage,
    _named_in_words,
    _numbered_sizes,
    _one_for_each_size,
    skein_without_a_unit,
    _need_without_a_unit,
    _hers_without_a_unit,
    _snippet,
    _colours_alike,
    _several_made,
    _made_twice,
    _a_pair,
    _strands_at_once,
    _doubled_up,
    _in_a_symbol,
    asked_in_skeins,
    scattered_counts,
    so_many_of,
    so_many_used,
    of_these,
    what_is_left,
    added_up,
    and_a_half,
    some_are_gone,
    one_is_half,
    one_skein,
    put_up_named,
    priced_lengths,
    one_skeins_worth,
    by_the_ball,
    mass_beside_length,
    length_then_label,
    one_of_them,
    each_weighed,
    listed_skeins,
    _sum_of_parts,
    length_of_each,
    across_a_yarn,
    _whole_cones,
    parts_of_skeins,
    _listed_yarns,
    _priced_by_mass,
    _for_several,
    _taken_off,
)
"""What is put together, in this order: a step may lean on what those before it made."""
