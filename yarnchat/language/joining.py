"""Phrases put together before anything is sorted: put-ups, counts, sums and what was said in a roundabout way."""

from __future__ import annotations

import itertools
from dataclasses import replace

from yarnchat.language.class_numbers import in_a_symbol, numbered_weight
from yarnchat.language.counts import (
    YARDAGE,
    added_up,
    and_a_half,
    asked_in_skeins,
    by_the_ball,
    each_weighed,
    listed_skeins,
    of_these,
    one_beside_others,
    one_besides,
    one_of_them,
    one_skein,
    parts_of_skeins,
    scattered_counts,
    skein_without_a_unit,
    skeins_of_several_lengths,
    so_many_of,
    so_many_of_each,
    so_many_used,
    spare_skeins,
    what_is_left,
    will_so_many_do,
)
from yarnchat.language.denied import strands_denied
from yarnchat.language.garment_words import kinds_of_garments
from yarnchat.language.gone import (
    half_of_one_gone,
    left_of_so_many,
    one_is_half,
    some_are_gone,
    some_are_half,
    some_were_given,
    told_of_some,
)
from yarnchat.language.lexicon import word_list
from yarnchat.language.made import (
    a_pair,
    both_made,
    colours_alike,
    made_twice,
    several_made,
    sum_of_parts,
)
from yarnchat.language.mass_and_length import (
    across_a_count,
    across_a_yarn,
    length_of_each,
    length_then_label,
    mass_beside_length,
)
from yarnchat.language.needle_sizes import needle_sizes
from yarnchat.language.opened import opened_skeins
from yarnchat.language.phrases import Phrase
from yarnchat.language.pricing import bare_price, besides_the_yarn, for_several, once_cost, priced_by_mass, taken_off
from yarnchat.language.put_ups import one_of_a_label, one_skeins_worth, priced_lengths, put_up_named, to_put_up
from yarnchat.language.sentence import Sentence
from yarnchat.language.shares import share_of_hers, shares_of_amounts
from yarnchat.language.size_amounts import named_behind, named_in_words, numbered_sizes, one_for_each_size
from yarnchat.language.skein_limits import SKEIN_M
from yarnchat.language.sums import added_behind, length_of_all, taken_from
from yarnchat.language.taken_back import take_back
from yarnchat.language.unitless import (
    gauge_likewise,
    headed_yardage,
    hers_without_a_unit,
    need_without_a_unit,
    so_many_of_them,
)
from yarnchat.quantity import IMPERIAL, Quantity
from yarnchat.queries import PutUp, Series


def join_phrases(sentence: Sentence) -> None:
    """Lengths and masses that are one skein's worth made put-ups; counts split over other words made counts."""
    for step in _STEPS:
        step(sentence)


def _whole_cones(sentence: Sentence) -> None:
    """``a 1.2 kg cone at 550 m per 100 g``: where a whole put-up is said, another mass of a skein is an amount.

    What several weigh each is their put-up: ``2 cones, 250 g each, 300 m per 100 g``.
    """
    told = [phrase for phrase in sentence.phrases if phrase.kind not in ("weight", "name")]
    for one, two in itertools.pairwise(told):
        wound = _mass_of_one(one)
        if wound is None or two.kind != "putup" or not (two.value.length and two.value.mass and two.value.mass.value):
            continue
        grams, rated = wound.to("g").value, two.value.mass.to("g").value
        count = one.value[0].values[0] if one.kind == "times" and len(one.value[0].values) == 1 else 0
        if count > 1 and count * grams == rated:  # 12 x 50 g balls, 125 m per ball, 600 g
            two.value = replace(two.value, mass=wound)
            two.notes = (*two.notes, f"{count:g} × {wound} is {rated:g} g in all")
            continue
        told_of_one = _plural(sentence, one) or _each_of_several(sentence, one) or _what_one_weighs(sentence, one)
        if grams != rated and (one.kind == "times" or told_of_one):
            length = Quantity(two.value.length.value * grams / rated, two.value.length.unit)
            two.notes = (*two.notes, f"{wound} at {two.value} is {length}")
            two.value = PutUp(length, wound)
            one.kind = "one" if one.kind == "putup" else one.kind
        elif grams != rated:
            one.kind, one.value = "mass", Series((wound.value,), wound.unit)


def _weighed_and_measured(sentence: Sentence) -> None:
    """``3 x 50 g (3 x 180 m)``: the same skeins, told by what each weighs and by how long each is."""
    for one, two in itertools.pairwise(sentence.phrases):
        if one.kind != "times" or two.kind != "times" or sentence.kind_at(two.first - 1) != "LPAR":
            continue
        (count, weighed), (again, measured) = one.value, two.value
        if count == again and weighed == PutUp(mass=weighed.mass) and measured == PutUp(measured.length):
            one.value, two.kind, two.value = (count, replace(weighed, length=measured.length)), "one", count


def _mass_of_one(phrase: Phrase) -> Quantity | None:
    """The mass of one skein that a phrase tells without a length: ``250 g cones``, ``3 x 200 g``."""
    put_up = phrase.value[1] if phrase.kind == "times" else phrase.value if phrase.kind == "putup" else None
    return put_up.mass if put_up and put_up.length is None else None


def _each_of_several(sentence: Sentence, phrase: Phrase) -> bool:
    """``2 cones, 250 g each``."""
    each = any(sentence.kind_at(at) == "EACH" for at in range(phrase.first, phrase.last))
    return each and any(other.kind == "count" and other.last <= phrase.first for other in sentence.phrases)


def _what_one_weighs(sentence: Sentence, phrase: Phrase) -> bool:
    """``how many skeins if 1 skein is 50 g and 100 g is 230 yds``: what each of those asked for weighs."""
    skein = phrase.first if sentence.kind_at(phrase.first) == "SKEIN" else phrase.first - 2
    said = sentence.kind_at(skein) == "SKEIN" and sentence.kind_at(skein + 1) in ("HOLD", "EQ")
    return said and sentence.said("ask.skeins")


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


_SNIPPET_M, _SNIPPET_G = 60, 60
"""A piece of yarn cut off and weighed is no longer and no heavier than this (common practice, no source)."""
_OF_A_LABEL = 100
_A_CLAUSE = 9
"""How many words may stand between a piece of yarn and what it weighs."""


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
    if len(words) > _A_CLAUSE or not set(words) & word_list("weighing") or sentence.parted(one.last, two.first):
        return None
    length, mass = (
        (one.value.first(), two.value.first()) if one.kind == "length" else (two.value.first(), one.value.first())
    )
    small = 0 < length.to("m").value <= _SNIPPET_M and 0 < mass.to("g").value <= _SNIPPET_G
    return (length, mass) if small else None


def _strands_at_once(sentence: Sentence) -> None:
    """``running two worsteds at once``, ``hold two aran together``: so many strands of it held together."""
    for number, weight in itertools.pairwise(sentence.phrases):
        after = [sentence.lower_at(at) for at in range(weight.last, weight.last + 2)]
        beside = number.last == weight.first and number.kind in ("num", "count") and weight.kind == "weight"
        held = after == ["at", "once"] or after[0] == "together" or after == ["held", "together"]
        if beside and held and len(number.value.values) == 1 and number.value.values[0] in (2, 3, 4):
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


def _gauge_of_a_weight(sentence: Sentence) -> None:
    """``knit the DK at the aran gauge``, beside both weights: no third yarn, but the gauge of one of them."""
    weights = [phrase for phrase in sentence.phrases if phrase.kind == "weight"]
    for phrase in weights:
        led = sentence.kind_at(phrase.first - 1) in ("THE", "ARTICLE") and sentence.kind_at(phrase.first - 2) in (
            "AT",
            "TO",
        )
        others = {other.value[0] for other in weights if other is not phrase}
        if not led or sentence.kind_at(phrase.last) != "GAUGE":
            continue
        if phrase.value[0] in others and len(others) > 1:
            phrase.kind, phrase.flags = "not_meant", frozenset({"gauge"})
        elif len(weights) == _OF_BOTH and phrase.value[0] not in others and _several_strands(sentence):
            sentence.mark("pattern.after", phrase.last, phrase.last + 1)  # two DKs together at the chunky gauge
            sentence.mark("same.gauge")


_OF_BOTH = 2


def _several_strands(sentence: Sentence) -> bool:
    return any(phrase.kind == "strands" and phrase.value > 1 for phrase in sentence.phrases)


def _row_of_a_place(sentence: Sentence) -> None:
    """``in row 5 of the shop``, ``wound one round a ruler``: a row, and a round, that is not knitted."""
    for phrase in [phrase for phrase in sentence.phrases if phrase.kind == "rows" and phrase.value[1] is None]:
        around = sentence.lower_at(phrase.last - 1) == "round" and sentence.kind_at(phrase.last) in ("ARTICLE", "THE")
        if around and sentence.lower_at(phrase.first) == "one" and any(p.kind == "wpi" for p in sentence.phrases):
            phrase.kind, phrase.value = "one", Series((1.0,), "skein")
            continue
        place = phrase.last + 1 + (sentence.kind_at(phrase.last + 1) in ("THE", "ARTICLE"))
        if sentence.kind_at(phrase.last) == "OF" and sentence.lower_at(place) in word_list("places"):
            phrase.kind, phrase.value, phrase.first = "num", Series((phrase.value[0],), ""), phrase.last - 1


def _over_a_trade_length(sentence: Sentence) -> None:
    """``14 stitches, 10 cm``, ``tension square 10 cm, 28 stitches``: what a gauge is told over, past a comma."""
    for one, two in itertools.pairwise(sentence.phrases):
        gauge, over = (one, two) if one.kind == "gauge" else (two, one)
        beside = gauge.kind == "gauge" and "bare" in gauge.flags and over.kind == "small"
        next_to = sentence.kind_at(one.last) == "COMMA" and two.first == one.last + 1
        if beside and next_to and over.value in _TRADE_LENGTHS and sentence.said("ask.identify"):
            gauge.value = replace(gauge.value, over=over.value)
            gauge.flags, gauge.first, gauge.last = gauge.flags - {"bare"}, one.first, two.last
            sentence.phrases.remove(over)
            return


def _wraps_over_a_length(sentence: Sentence) -> None:
    """``20 wraps in 2 inches``: so many to the inch."""
    for number, small in itertools.pairwise(sentence.phrases):
        wraps = number.kind == "num" and sentence.lower_at(number.last) in word_list("wraps")
        links = [sentence.kind_at(at) for at in range(number.last + 1, small.first)]
        if not wraps or small.kind != "small" or not set(links) <= _OVER or not small.value.value:
            continue
        number.kind, number.last = "wpi", small.last
        number.value = number.value.values[0] / small.value.to("in").value
        sentence.phrases.remove(small)
        return


def _wraps_behind(sentence: Sentence) -> None:
    """``the wraps per inch come out at 17``, ``it wraps 8 to the inch``: the number a little behind them."""
    told = {phrase.value for phrase in sentence.phrases if phrase.kind == "wpi"}
    for phrase in sentence.phrases:
        if phrase.kind != "num" or len(phrase.value.values) != 1 or phrase.value.values[0] not in _WRAPS:
            continue
        kinds = [sentence.kind_at(at) for at in range(phrase.first - _A_VERB, phrase.first)]
        behind = "WPI" in kinds and set(kinds[kinds.index("WPI") + 1 :]) <= {"WORD", "AT", "TO", "ON", "HOLD"}
        if _wraps_to_the_inch(sentence, phrase) and told <= {phrase.value.values[0]}:
            phrase.kind, phrase.value, phrase.last = "wpi", phrase.value.values[0], phrase.last + _TO_THE_INCH
        elif behind and not told:
            phrase.kind, phrase.value = "wpi", phrase.value.values[0]
            return


def _wraps_to_the_inch(sentence: Sentence, number: Phrase) -> bool:
    """``it wraps 8 to the inch``."""
    behind = [sentence.kind_at(at) for at in range(number.last, number.last + 2)]
    inch = sentence.lower_at(number.last + 2) == "inch"
    wraps = sentence.lower_at(number.first - 1) in word_list("wraps")
    return wraps and inch and behind in (["TO", "THE"], ["TO", "ARTICLE"])


_TO_THE_INCH = 3
_WRAPS = range(3, 61)
"""Wraps to the inch of a yarn for knitting (common practice, no source)."""
_A_VERB = 5


def _measures_in_metres(sentence: Sentence) -> None:
    """``a scarf 2 m long, 25 cm wide``: a side of what is to be knitted, and no amount of yarn."""
    shaped = any(cue.kind.startswith("shape.") or cue.kind == "pattern.thing" for cue in sentence.cues)
    for phrase in sentence.phrases if shaped else ():
        if phrase.kind != "length" or len(phrase.value.values) > 1 or phrase.value.low is not None:
            continue
        if (
            sentence.lower_at(phrase.last) in word_list("sides")
            and 0 < phrase.value.first().to("m").value <= _LONGEST_SIDE_M
        ):
            unit = "in" if phrase.value.unit in IMPERIAL else "cm"
            phrase.kind, phrase.value = "small", phrase.value.first().to(unit)


_LONGEST_SIDE_M = 6
"""No scarf is longer, in m; a length of yarn said to be long mostly is (common practice, no source)."""


_OVER = frozenset({"IN", "OVER", "PER", "TO", "ON", "ARTICLE"})


_TRADE_LENGTHS = frozenset({Quantity(10, "cm"), Quantity(4, "in")})


_STEPS = (
    take_back,
    _row_of_a_place,
    needle_sizes,
    besides_the_yarn,
    gauge_likewise,
    _wraps_over_a_length,
    _wraps_behind,
    _measures_in_metres,
    headed_yardage,
    named_in_words,
    named_behind,
    numbered_sizes,
    one_for_each_size,
    in_a_symbol,
    so_many_of_them,
    skein_without_a_unit,
    need_without_a_unit,
    hers_without_a_unit,
    _snippet,
    colours_alike,
    several_made,
    both_made,
    made_twice,
    a_pair,
    _strands_at_once,
    _doubled_up,
    strands_denied,
    _gauge_of_a_weight,
    numbered_weight,
    kinds_of_garments,
    _over_a_trade_length,
    asked_in_skeins,
    scattered_counts,
    spare_skeins,
    half_of_one_gone,
    some_were_given,
    some_are_half,
    share_of_hers,
    so_many_of,
    so_many_of_each,
    so_many_used,
    of_these,
    what_is_left,
    added_up,
    and_a_half,
    some_are_gone,
    told_of_some,
    one_is_half,
    will_so_many_do,
    one_beside_others,
    one_skein,
    opened_skeins,
    put_up_named,
    priced_lengths,
    one_skeins_worth,
    skeins_of_several_lengths,
    by_the_ball,
    mass_beside_length,
    length_then_label,
    one_of_them,
    each_weighed,
    shares_of_amounts,
    added_behind,
    length_of_all,
    taken_from,
    sum_of_parts,
    length_of_each,
    across_a_yarn,
    across_a_count,
    listed_skeins,
    one_of_a_label,
    left_of_so_many,
    _weighed_and_measured,
    _whole_cones,
    parts_of_skeins,
    one_besides,
    _listed_yarns,
    priced_by_mass,
    bare_price,
    for_several,
    once_cost,
    taken_off,
)
"""What is put together, in this order: a step may lean on what those before it made."""
