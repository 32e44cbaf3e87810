"""Prices: what several skeins cost together, a price by another mass, a percent off."""

from __future__ import annotations

import itertools
from dataclasses import replace

from yarnchat.language.lexicon import word_list
from yarnchat.language.phrases import Phrase
from yarnchat.language.sentence import Sentence
from yarnchat.queries import Price, PutUp, Series


def priced_by_mass(sentence: Sentence) -> None:
    """``€5.80 per 100 g, a hank is 150 g/480 m``: what a skein costs, where the price is that of another mass."""
    wound = [
        p for p in sentence.phrases if p.kind == "putup" and p.value.length and p.value.mass and p.value.mass.value
    ]
    for price, mass in itertools.pairwise(sentence.phrases):
        per = sentence.kind_at(mass.first - 1) in ("PER", "SLASH", "FOR") and mass.first == price.last + 1
        told = mass.value.mass if mass.kind == "putup" else mass.value.first() if mass.kind == "mass" else None
        if price.kind != "price" or not per or len(wound) != 1 or wound[0] is mass or not told or not told.value:
            continue
        if _of_one_so_heavy(sentence, price, wound[0]):
            rated, long = str(wound[0].value), wound[0].value.length
            long = replace(long, value=long.value * told.to("g").value / wound[0].value.mass.to("g").value)
            wound[0].value, mass.kind = PutUp(long, told), "one"
            wound[0].notes = (*wound[0].notes, f"{told} at {rated} is {long}")
            continue
        label = wound[0].value.mass
        each = replace(price.value, value=price.value.value * label.to("g").value / told.to("g").value)
        price.notes = (*price.notes, f"{price.value} for {told}: {each} for {label}")
        price.value, mass.kind = each, "one"


def _of_one_so_heavy(sentence: Sentence, price: Phrase, label: Phrase) -> bool:
    """``the cone is $60 for 500 g, 400 m per 100 g``: whether a price is of one skein that is so heavy."""
    skein = price.first - 1 if sentence.kind_at(price.first - 1) == "SKEIN" else price.first - 2
    linked = skein == price.first - 1 or sentence.kind_at(price.first - 1) in ("HOLD", "AT", "PRICE")
    linked = linked or sentence.lower_at(price.first - 1) in word_list("costs")
    one = sentence.kind_at(skein) == "SKEIN" and not sentence.lower_at(skein).endswith("s")
    of_a_skein = any(sentence.kind_at(at) == "SKEIN" for at in range(label.first - _A_SKEIN_IS, label.last + 1))
    return one and linked and sentence.kind_at(price.last) == "FOR" and not of_a_skein


_A_SKEIN_IS = 2


def besides_the_yarn(sentence: Sentence) -> None:
    """``the pattern cost me £6``, ``£4.50 shipping``: what something else costs is left aside, and said to be."""
    for price in [phrase for phrase in sentence.phrases if phrase.kind == "price"]:
        ends = [other.last for other in sentence.phrases if other.last <= price.first and other is not price]
        begin = max([*ends, price.first - _A_FEW_WORDS])
        lead = [sentence.lower_at(at) for at in range(begin, price.first) if not sentence.parted(at, price.first)]
        end = next((other.first for other in sentence.phrases if other.kind == "price" and other is not price), 0)
        turns = [at for at in range(price.last, end) if sentence.kind_at(at) in ("COMMA", "AND")]
        reach = range(price.last, min([price.last + 3, *turns]))  # $17.50, shipping is $6
        behind = {sentence.lower_at(at) for at in reach if not sentence.parted(price.last, at)}
        each = any(sentence.kind_at(at) in ("EACH", "SKEIN") for at in range(price.first, price.last + 1))
        of_pattern = "pattern" in lead and bool(set(lead) & word_list("costs"))
        other = word_list("besides_the_yarn")
        if not each and (of_pattern or other & set(lead) or other & behind):
            price.kind = "cost"
            price.notes = (*price.notes, f"{price.value} is not for the yarn: left aside")


_A_FEW_WORDS = 5
_LEAST_GAUGE = 10
"""A whole number from here on may be a gauge (common practice, no source)."""


def bare_price(sentence: Sentence) -> None:
    """``DK 50 g/130 m at 6.20, and the price?``: what a skein costs, behind its label, where that is asked.

    Not where the number may be a gauge: ``at 22, cost?``.
    """
    asked = sentence.said("ask.cost") or any(token.kind == "PRICE" for token in sentence.tokens)
    if not asked or any(phrase.kind in ("price", "cost") for phrase in sentence.phrases):
        return
    for label, number in itertools.pairwise(sentence.phrases):
        beside = [sentence.lower_at(at) for at in range(label.last, number.first)]
        costs = len(beside) == 1 and beside[0] in word_list("costing")
        wound = label.kind == "putup" and label.value.length is not None
        ends = sentence.kind_at(number.last) in ("", "STOP", "COMMA", "AND", "EACH")
        lone = number.kind == "num" and len(number.value.values) == 1
        gauged = lone and number.value.values[0] == int(number.value.values[0]) >= _LEAST_GAUGE
        if lone and not gauged and costs and wound and ends:
            number.kind, number.value = "price", Price(number.value.values[0], "")
            sentence.mark("ask.cost")
            return


def for_several(sentence: Sentence) -> None:
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
                if other.kind == "count" and other.value.values == (1.0,):
                    other.kind = "one"
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
"""How many words may stand between several skeins and what they cost."""


def once_cost(sentence: Sentence) -> None:
    """``it was €8.25 and now it's €6.75 a ball``, ``reduced from £8 to £6``: what it cost before is left aside."""
    for one, two in itertools.pairwise(phrase for phrase in sentence.phrases if phrase.kind == "price"):
        between = {sentence.lower_at(at) for at in range(one.last, two.first)}
        before = {sentence.lower_at(at) for at in range(one.first - 2, one.first)}
        now = bool(before & _ONCE and "now" in between) or ("from" in before and "to" in between)
        if now and not sentence.parted(one.last, two.first):
            one.kind = "cost"
            one.notes = (*one.notes, f"{one.value} is what it cost before: left aside")


_ONCE = frozenset({"was", "were", "used"})


def taken_off(sentence: Sentence) -> None:
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
