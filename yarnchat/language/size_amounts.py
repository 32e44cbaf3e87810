"""An amount for each size, told in words or line by line."""

from __future__ import annotations

import itertools
from dataclasses import replace

from yarnchat.language.builders import place_told
from yarnchat.language.lexicon import load, word_list
from yarnchat.language.phrases import Phrase
from yarnchat.language.sentence import Sentence
from yarnchat.queries import Series


def named_in_words(sentence: Sentence) -> None:
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
    _unsay_ranks(sentence)
    sentence.phrases[:] = sorted([*kept, whole], key=lambda phrase: phrase.first)


def named_behind(sentence: Sentence) -> None:
    """``1300 yards in the small and 1500 in the large``, ``5 skeins for the 38 inch and 6 for the 42``: one a size.

    The unit is told once.
    """
    pairs = [(p, found) for p in sentence.phrases if (found := _size_behind(sentence, p))]
    pairs = [(amount, found) for amount, found in pairs if len(amount.value.values) == 1 and amount.value.low is None]
    if len(pairs) < 2 or pairs[0][0].kind == "num":
        return
    unit, kind = pairs[0][0].value.unit, pairs[0][0].kind
    names = tuple(name for _, (name, _) in pairs)
    alike = all(amount.kind == "num" or (amount.kind, amount.value.unit) == (kind, unit) for amount, _ in pairs)
    if not alike or len(set(names)) < len(names):
        return
    for (_, (_, end)), (amount, _) in itertools.pairwise(pairs):
        if {sentence.kind_at(at) for at in range(end, amount.first)} - {"COMMA", "AND", "SEMI"}:
            return
    first, final = pairs[0][0].first, pairs[-1][1][1]
    series = Series(tuple(amount.value.values[0] for amount, _ in pairs), unit)
    sentence.unmark(set(range(first, final)))
    kept = [phrase for phrase in sentence.phrases if phrase.first >= final or phrase.last <= first]
    sentence.phrases[:] = sorted(
        [*kept, Phrase("named", first, final, (names, series))], key=lambda phrase: phrase.first
    )


def _size_behind(sentence: Sentence, amount: Phrase) -> tuple[str, int] | None:
    """The size that ``1500 in the large``, ``6 for the 42`` are told for, as it is called, and where that ends."""
    if amount.kind not in ("length", "count", "num") or sentence.kind_at(amount.last) not in ("IN", "FOR"):
        return None
    at = amount.last + 1 + (sentence.kind_at(amount.last + 1) == "THE")
    if at == amount.last + 1:
        return None
    word = sentence.lower_at(at)
    name = load("words.toml")["size_words"].get(word)
    if name or sentence.kind_at(at) == "SZ":
        return name or sentence.tokens[at].text, at + 1
    chest = next((p for p in sentence.phrases if p.first == at and p.kind in ("small", "num")), None)
    if chest is None or amount.kind == "small":
        return None
    number = chest.value.value if chest.kind == "small" else chest.value.values[0]
    return f"{number:g}", chest.last


def _unsay_ranks(sentence: Sentence) -> None:
    """The first and the last of sizes told one by one pick none of them."""
    for rank in ("size.first", "size.middle", "size.last"):
        sentence.unsay(rank)


def numbered_sizes(sentence: Sentence) -> None:
    """``Size 1: 400 yd``, ``2nd size: 460 yd``, ``8 balls (size 1)``: an amount for each size, its number beside it."""
    pairs = _beside_its_number(sentence)
    names = tuple(str(place_told(size.value)) for size, _ in pairs)
    units = {amount.value.unit for _, amount in pairs}
    if len(pairs) < 2 or len(units) > 1 or names != tuple(f"{place}" for place in range(1, len(pairs) + 1)):
        return
    first, final = (sorted(pairs[at], key=lambda phrase: phrase.first)[at] for at in (0, -1))
    whole = Phrase(
        "named", first.first, final.last, (names, Series(tuple(a.value.values[0] for _, a in pairs), units.pop()))
    )
    kept = [phrase for phrase in sentence.phrases if phrase.last <= first.first or phrase.first >= final.last]
    _unsay_ranks(sentence)
    sentence.phrases[:] = sorted([*kept, whole], key=lambda phrase: phrase.first)


def _beside_its_number(sentence: Sentence) -> list[tuple[Phrase, Phrase]]:
    """The sizes told by their numbers, each with the amount right behind it, or right before it in every case."""
    beside = [
        (one, two)
        for one, two in itertools.pairwise(sentence.phrases)
        if {"size"} < {one.kind, two.kind} <= {"size", "length", "mass", "count"}
        if {sentence.kind_at(at) for at in range(one.last, two.first)} <= {"COLON", "DASH", "EQ", "COMMA", "LPAR"}
    ]
    led = [(one, two) for one, two in beside if one.kind == "size"]
    behind = [(two, one) for one, two in beside if two.kind == "size" and sentence.kind_at(two.first - 1) == "LPAR"]
    return [(size, amount) for size, amount in (led or behind) if len(amount.value.values) == 1]


def one_for_each_size(sentence: Sentence) -> None:
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
