"""Which mass and which length told together are one put-up."""

from __future__ import annotations

import itertools
from dataclasses import replace

from yarnchat.language.lexicon import word_list
from yarnchat.language.phrases import Phrase
from yarnchat.language.sentence import Sentence
from yarnchat.language.skein_limits import (
    BALL_FROM_M,
    BALL_G,
    CONE_G,
    CONE_M_PER_G,
    GRIST_M,
    HANK_M,
    LACE_M,
    SHORTEST_M,
    WELL_OVER,
    WELL_UNDER,
    ball,
    usual_mass,
)
from yarnchat.quantity import LENGTHS, Quantity
from yarnchat.queries import PutUp, Series

_OF_A_LABEL = frozenset({"length", "mass", "putup", "dual"})


def mass_beside_length(sentence: Sentence) -> None:
    """``3.5 oz, 240 yd``: a mass and a length side by side are one put-up where they can be."""
    after = [*sentence.phrases[2:], None]
    for one, two, three in zip(sentence.phrases, sentence.phrases[1:], after, strict=False):
        if one.kind not in _OF_A_LABEL or two.kind not in _OF_A_LABEL or _needed_of_it(sentence, one, three):
            continue
        between = _kinds_between(sentence, one, two)
        if between not in _BESIDE and _says_is(sentence, one, two):
            between = ["HOLD"]
        if {"used", "left"} & (one.flags | two.flags):
            continue  # 60 g left of a 100 g skein, 240 yds
        if one.kind == "mass" and (sentence.lower_at(one.first - 1) in _OF_ALL or _in_all(sentence, one)):
            continue  # all 100 g, 1300 m of DK
        if two.kind == "mass" and "now" in (sentence.lower_at(two.last), sentence.lower_at(one.last)):
            continue  # my 50 g ball, 120 m, weighs 32 g now
        if between in _BESIDE and _completed(one, two):
            continue
        if between not in _BESIDE or _dual_pair(one, two) or {one.kind, two.kind} != {"length", "mass"}:
            continue
        length, mass = (one.value, two.value) if one.kind == "length" else (two.value, one.value)
        if len(length.values) > 1 or len(mass.values) > 1 or not length.values[0] or not mass.values[0]:
            continue
        metres = length.first().to("m").value
        grams = mass.first().to("g").value
        usual = usual_mass(mass.first()) and BALL_FROM_M <= metres <= LACE_M
        if usual or (grams <= BALL_G and ball(metres, grams)) or _of_a_cone(sentence, one, length, mass):
            one.kind, one.value = (
                "putup",
                PutUp(length.first(), mass.first()),
            )
            one.last, two.kind = two.last, "joined"
    sentence.phrases[:] = [phrase for phrase in sentence.phrases if phrase.kind != "joined"]


def _needed_of_it(sentence: Sentence, one: Phrase, three: Phrase | None) -> bool:
    """``need 900 m; 50 g balls, 125 m``: a length said to be needed, where the skein's own is told behind its mass."""
    if one.kind != "length" or three is None or three.kind != "length" or len(one.value.values) != 1:
        return False
    led = any(cue.kind in ("pattern.verb", "need.before") and cue.last == one.first for cue in sentence.cues)
    return led and three.value.largest().to("m").value <= WELL_UNDER * one.value.first().to("m").value


def _of_a_cone(sentence: Sentence, one: Phrase, length: Series, mass: Series) -> bool:
    """``Cone label: 1 kg, 2,900 m``: said to be of a cone, and as long as a cone of that mass may be."""
    said = any(token.lower in word_list("cones") for token in sentence.tokens[: one.first])
    return said and mass.first().to("g").value >= CONE_G and _fits_a_skein(length.first(), mass.first())


_OF_ALL = frozenset({"all", "both", "each"})


def _in_all(sentence: Sentence, mass: Phrase) -> bool:
    """``10 balls of 50 g, 500 g``: what all the skeins told before weigh together, and so none of them."""
    counts = [p for p in sentence.phrases if p.kind == "count" and p.last <= mass.first and len(p.value.values) == 1]
    weighed = [p for p in sentence.phrases if p.kind == "putup" and p.last <= mass.first and p.value.mass]
    if len(mass.value.values) != 1 or not counts or not weighed:
        return False
    many: float = counts[-1].value.values[0]
    grams: float = many * weighed[-1].value.mass.to("g").value
    return many > 1 and abs(float(mass.value.first().to("g").value) - grams) < 1


def _kinds_between(sentence: Sentence, one: Phrase, two: Phrase) -> list[str]:
    """The kinds of the words between two phrases, without one that says about how much: ``40 g, approx. 100 m``."""
    between = [at for at in range(one.last, two.first) if sentence.lower_at(at) not in word_list("about")]
    if between and sentence.lower_at(between[-1]) == "." and len(between) < two.first - one.last:
        between.pop()
    return [sentence.kind_at(at) for at in between]


def length_then_label(sentence: Sentence) -> None:
    """``1400 yards, 100 g 220 yards``: of two lengths around a mass the lesser is the skein's, the other the need."""
    for at, (one, two) in enumerate(itertools.pairwise(sentence.phrases)):
        gap = [sentence.kind_at(i) for i in range(one.last, two.first)]
        if one.kind != "putup" or two.kind != "length" or gap not in ([], ["EQ"], ["AND"], ["HOLD"], ["OF"], ["WITH"]):
            continue
        label, kinds = one.value, [sentence.kind_at(i) for i in range(one.first, one.last)]
        led = kinds[:2] == ["NUM", "LEN"] and kinds[-2:] == ["NUM", "MASS"] and len(two.value.values) == 1
        own = two.value.first()
        if not led or label.other_length or own.value <= 0:
            continue
        if label.length.to("m").value < WELL_OVER * own.to("m").value:
            continue
        need = Phrase("length", one.first, one.first + 2, Series((label.length.value,), label.length.unit))
        two.kind, two.value, two.first = "putup", PutUp(own, label.mass), one.last - 2
        sentence.phrases[at] = need


def _says_is(sentence: Sentence, one: Phrase, two: Phrase) -> bool:
    """``if 100 g of the stuff are 218 yards``: only small words and one that says is between."""
    gap = [sentence.tokens[i] for i in range(one.last, two.first)]
    kinds = {token.kind for token in gap}
    says = any(token.kind == "EQUALS" or token.lower in word_list("holds") for token in gap)
    if len(gap) <= 3 and kinds <= {"WORD", "WITH"} and "WITH" in kinds and "putup" in (one.kind, two.kind):
        return True  # an 8 oz giant with 490 yards on it
    return len(gap) <= 5 and says and kinds <= {"HOLD", "EQUALS", "OF", "THE", "ARTICLE", "WORD", "RPAR"}


def length_of_each(sentence: Sentence) -> None:
    """``13 x 50 g [109 m/119 yd]``: what is on each of so many skeins of that mass, in brackets behind them."""
    for at, times in enumerate(sentence.phrases):
        later = [phrase for phrase in sentence.phrases[at + 1 : at + 4] if phrase.kind not in ("weight", "name")][:1]
        if times.kind != "times" or not later:
            continue
        [length] = later
        begin = sentence.phrases[sentence.phrases.index(length) - 1].last
        gap = [sentence.kind_at(on) for on in range(begin, length.first)]
        if times.kind != "times" or times.value[1].length or gap != ["LPAR"] or length.kind not in ("length", "dual"):
            continue
        told = length.value if length.kind == "dual" else (length.value,)
        if any(len(series.values) > 1 or series.unit not in LENGTHS for series in told):
            continue
        long, *again = (series.first() for series in told)
        wound = replace(times.value[1], length=long, other_length=again[0] if again else None)
        times.value, length.kind, length.value = (times.value[0], wound), "putup", wound


def across_a_yarn(sentence: Sentence) -> None:
    """``50 g balls of aran, 80 m``: the length that completes a put-up, said after the yarn's name."""
    for one, yarn, two in zip(sentence.phrases, sentence.phrases[1:], sentence.phrases[2:], strict=False):
        if (
            one.kind == "times"
            and one.value[1].length is None
            and yarn.kind in ("weight", "name")
            and two.kind == "length"
        ):
            if two.first - yarn.last <= 1 and len(two.value.values) == 1:
                wound = replace(one.value[1], length=two.value.first())
                one.value, two.kind, two.value = (one.value[0], wound), "putup", wound
            continue
        if _so_much_of_it(sentence, one, yarn, two):
            mass = one.value.first()
            two.kind, two.value, one.kind = "putup", PutUp(two.value.first(), mass), "one"
            continue
        if _weighed_and_wound(sentence, one, yarn, two):
            two.kind, two.value, one.kind = "putup", replace(two.value, mass=one.value.first()), "one"
            continue
        if one.kind != "putup" or one.value.length or yarn.kind not in ("weight", "name") or two.kind != "length":
            continue
        between = (*range(one.last, yarn.first), *range(yarn.last, two.first))
        small = {"also", "too"} | word_list("yarn_nouns")
        gap = [sentence.kind_at(i) for i in between if sentence.lower_at(i) not in small]
        beside = set(gap) <= {"OF", "COMMA", "LPAR", "THE"} and not sentence.parted(one.last, two.first)
        if beside and len(two.value.values) == 1 and _wound_on(two.value.first(), one.value.mass):
            two.kind, two.value = "putup", replace(one.value, length=two.value.first())


def _wound_on(length: Quantity, mass: Quantity) -> bool:
    """``a 150 g cake of 4 ply, 600 m``: whether a ball, or a hank of a usual mass, may hold so much."""
    metres, grams = length.to("m").value, mass.to("g").value
    if ball(metres, grams):
        return True
    return usual_mass(mass) and metres <= HANK_M and GRIST_M[0] <= 100 * metres / grams <= GRIST_M[1]


def across_a_count(sentence: Sentence) -> None:
    """``4 oz skeins Barrow Worsted, 4 (5, 5) skeins, 210 yds each``: a skein's mass and its length, its yarn and number
    between them."""
    for one, yarn, count, two in zip(*(sentence.phrases[at:] for at in range(4)), strict=False):
        halves = one.kind == two.kind == "putup" and one.value.length is None and two.value.mass is None
        told = halves and yarn.kind in ("weight", "name") and count.kind == "count"
        if told and not sentence.parted(one.first, two.last - 1) and _fits_a_skein(two.value.length, one.value.mass):
            two.value, one.kind = replace(two.value, mass=one.value.mass), "one"
    for mass, count, label in zip(*(sentence.phrases[at:] for at in range(3)), strict=False):
        if _each_behind_a_count(sentence, mass, count, label):
            label.value, mass.kind = replace(label.value, mass=mass.value.first()), "one"


def _each_behind_a_count(sentence: Sentence, mass: Phrase, count: Phrase, label: Phrase) -> bool:
    """``Coolibah 4 ply 50 g: 8 (9, 10) balls, each 190 m``: a skein's mass behind its yarn, its length behind those."""
    if (mass.kind, count.kind, label.kind) != ("mass", "count", "putup") or len(mass.value.values) != 1:
        return False
    named = any(p.kind in ("weight", "name") and p.last == mass.first for p in sentence.phrases)
    before = [sentence.kind_at(at) for at in range(mass.last, count.first)]
    behind = {sentence.kind_at(at) for at in range(count.last, label.first)}
    near = before in (["COLON"], ["COMMA"], ["DASH"]) and behind <= {"COMMA", "LPAR", "EACH"}
    lacks = label.value.length is not None and label.value.mass is None
    return named and near and lacks and usual_mass(own := mass.value.first()) and _fits_a_skein(label.value.length, own)


def _so_much_of_it(sentence: Sentence, mass: Phrase, yarn: Phrase, length: Phrase) -> bool:
    """``100 g of the fingering = 400 m``: a mass of a yarn, and how long that is."""
    if (mass.kind, length.kind) != ("mass", "length") or yarn.kind not in ("weight", "name"):
        return False
    if len(mass.value.values) > 1 or len(length.value.values) > 1 or not mass.value.values[0]:
        return False
    of = [sentence.kind_at(at) for at in range(mass.last, yarn.first)]
    says = [sentence.kind_at(at) for at in range(yarn.last, length.first)]
    return of in (["OF"], ["OF", "THE"]) and says in (["EQ"], ["HOLD"])


def _weighed_and_wound(sentence: Sentence, mass: Phrase, yarn: Phrase, label: Phrase) -> bool:
    """``100 g DK at 240 m``: a usual mass right before a weight, and what is on one skein behind it."""
    kinds = (mass.kind, yarn.kind, label.kind)
    if kinds != ("mass", "weight", "putup") or mass.last != yarn.first or len(mass.value.values) > 1:
        return False
    says = [sentence.kind_at(at) for at in range(yarn.last, label.first)]
    told = sentence.kind_at(mass.first - 1) in ("", "COLON", "STOP", "COMMA", "NEWLINE", "ARTICLE", "IN", "THE")
    lacks = label.value.length and not label.value.mass
    return bool(lacks) and told and usual_mass(mass.value.first()) and says in (["AT"], ["WITH"], ["COMMA"])


def _fits_a_skein(length: Quantity, mass: Quantity) -> bool:
    """Whether so much may be on a skein of that mass; a cone holds more than a ball."""
    metres, grams = length.to("m").value, mass.to("g").value
    return SHORTEST_M <= metres <= (LACE_M if grams < CONE_G else CONE_M_PER_G * grams)


def _weighs(length: Quantity, mass: Quantity) -> bool:
    """Whether a skein of that length may weigh so much: a usual mass, or a cone's that fits."""
    return usual_mass(mass) or (mass.to("g").value >= CONE_G and _fits_a_skein(length, mass))


def _completed(one: Phrase, two: Phrase) -> bool:
    """``the skein is 100 g and 210 yds``: what a put-up lacks, said right beside it."""
    if one.kind == two.kind == "putup":
        return _halves(one, two)
    put_up, other = (one, two) if one.kind == "putup" else (two, one)
    if put_up.kind != "putup" or other.kind not in ("length", "mass") or len(other.value.values) != 1:
        return False
    amount = other.value.first()
    if other.kind == "length" and put_up.value.length is None and _fits_a_skein(amount, put_up.value.mass):
        one.value = replace(put_up.value, length=amount)
    elif other.kind == "mass" and put_up.value.mass is None and _weighs(put_up.value.length, amount):
        one.value = replace(put_up.value, mass=amount)
    else:
        return False
    one.kind, one.last, two.kind = "putup", two.last, "joined"
    return True


def _halves(one: Phrase, two: Phrase) -> bool:
    """``50 g balls with 98 m in each``: a skein's mass and its length, told apart."""
    mass, length = one.value.mass or two.value.mass, one.value.length or two.value.length
    long, heavy = one.value.length or None, one.value.mass or None
    apart = bool(long) != bool(two.value.length) and bool(heavy) != bool(two.value.mass)
    if not apart or not _fits_a_skein(length, mass):
        return False
    again = {"other_length": one.value.other_length or two.value.other_length}
    again |= {"other_mass": one.value.other_mass or two.value.other_mass}
    one.value, one.last, two.kind = replace(one.value, mass=mass, length=length, **again), two.last, "joined"
    return True


_BESIDE: tuple[list[str], ...] = (
    ["COMMA"],
    ["LPAR"],
    [],
    ["AND"],
    ["HOLD"],
    ["AND", "HOLD"],
    ["COMMA", "HOLD"],
    ["COMMA", "AND", "HOLD"],
    ["AND", "WITH"],
    ["COMMA", "WITH"],
    ["DASH"],
    ["WITH"],
    ["ON"],
    ["COMMA", "LPAR"],
    ["SEMI"],
)


def _dual_pair(one: Phrase, two: Phrase) -> bool:
    """``100 g, 250 yds / 273 m``: a dual length or mass beside the other makes a put-up that says it twice."""
    if "dual" not in (one.kind, two.kind) or not {one.kind, two.kind} <= {"dual", "length", "mass"}:
        return False
    series = [s for phrase in (one, two) for s in (phrase.value if phrase.kind == "dual" else (phrase.value,))]
    if any(len(s.values) > 1 for s in series):
        return False
    lengths = [s.first() for s in series if s.unit in LENGTHS]
    masses = [s.first() for s in series if s.unit not in LENGTHS]
    if not lengths or not masses or lengths[0].to("m").value > LACE_M:
        return False
    one.kind = "putup"
    one.value = PutUp(
        lengths[0],
        masses[0],
        lengths[1] if len(lengths) > 1 else None,
        masses[1] if len(masses) > 1 else None,
    )
    one.last, two.kind = two.last, "joined"
    return True
