"""What each length, mass and count is: needed, owned, used, or one skein's worth."""

from __future__ import annotations

import itertools
from dataclasses import dataclass, field, replace

from yarnchat.language.lexicon import word_list
from yarnchat.language.phrases import Phrase
from yarnchat.language.sentence import Cue, Sentence
from yarnchat.quantity import LENGTHS, Quantity
from yarnchat.queries import Needle, PutUp, Series

NEED, HAVE, USED = "need", "have", "used"
AMOUNTS = frozenset({"length", "mass", "count", "times", "named", "dual"})
_LINKS = frozenset({"HOLD", "OF", "WITH", "AT", "EQ"})
_PER = frozenset({"PER", "EACH", "ARTICLE", "THE", "IN", "TO", "ON"})
_PER_SKEIN_BEFORE = _PER | {"OF", "WORD", "FOR", "RPAR", "HOLD"}
_ENDS_A_LINK = frozenset({"COMMA", "STOP", "NEWLINE", "SEMI", "NUM", "FOR"})
_PER_WORDS = frozenset({"this", "that", "my", "one", "single", "every", "in", "on", "to", "it", "whole", "full", "the"})

_MOST_SKEINS = 60
"""A number without a unit up to this may be one of skeins."""


@dataclass(slots=True)
class Amounts:
    """The amounts of a question by what they are."""

    need: list[Phrase] = field(default_factory=list)
    have: list[Phrase] = field(default_factory=list)
    used: list[Phrase] = field(default_factory=list)

    @property
    def all(self) -> list[Phrase]:
        """Every amount: those needed, those she has, those used."""
        return [*self.need, *self.have, *self.used]


def join_put_ups(sentence: Sentence) -> None:
    """Lengths and masses that are one skein's worth made put-ups; counts split over other words made counts."""
    _needle_sizes(sentence)
    _gauge_likewise(sentence)
    _named_in_words(sentence)
    _skein_without_a_unit(sentence)
    _several_made(sentence)
    _asked_in_skeins(sentence)
    _counts(sentence)
    _so_many_of(sentence)
    _of_these(sentence)
    _and_a_half(sentence)
    _one_skein(sentence)
    for phrase in sentence.phrases:
        if phrase.kind == "dual" and _in_brackets_of_a_skein(sentence, phrase):
            first, other = (Quantity(series.values[0], series.unit) for series in phrase.value)
            phrase.kind, phrase.value = "putup", PutUp(length=first, other_length=other)
        if phrase.kind == "length" and _for_a_price(sentence, phrase):
            _to_put_up(phrase)
        if phrase.kind in ("length", "mass") and len(phrase.value.values) == 1 and _per_skein(sentence, phrase):
            _to_put_up(phrase)
    _pairs(sentence)
    _one_of_them(sentence)
    _sum_of_parts(sentence)
    _across_a_yarn(sentence)
    _whole_cones(sentence)
    _parts_of_skeins(sentence)
    _listed_yarns(sentence)


def _in_brackets_of_a_skein(sentence: Sentence, phrase: Phrase) -> bool:
    """``1 hank (437 yd/400 m)``: one length told twice, in brackets right behind a skein."""
    behind = [sentence.kind_at(phrase.first - 2), sentence.kind_at(phrase.first - 1), sentence.kind_at(phrase.last)]
    lengths = all(series.unit in LENGTHS and len(series.values) == 1 for series in phrase.value)
    return behind == ["SKEIN", "LPAR", "RPAR"] and len(phrase.value) == 2 and lengths


def _parts_of_skeins(sentence: Sentence) -> None:
    """``¾ of a 100 g ball``, ``15 of the 50 g balls``: a number of the put-up it stands before."""
    for one, two in zip(sentence.phrases, sentence.phrases[1:], strict=False):
        gap = [sentence.kind_at(i) for i in range(one.last, two.first)]
        if (
            one.kind in ("num", "fraction")
            and two.kind == "putup"
            and gap in (["OF", "ARTICLE"], ["OF", "THE"], ["OF"])
        ):
            value = one.value.values[0] if one.kind == "num" else one.value
            if 0 < value < 1 or (one.kind == "num" and 1 < value <= _MOST_SKEINS and two.value.length is None):
                one.kind, one.value = "count", Series((value,), "skein")


def _whole_cones(sentence: Sentence) -> None:
    """``a 1.2 kg cone at 550 m per 100 g``: where a whole put-up is said, another mass of a skein is an amount."""
    for one, two in zip(sentence.phrases, sentence.phrases[1:], strict=False):
        if (
            one.kind == "putup"
            and two.kind == "putup"
            and one.value.length is None
            and two.value.length
            and two.value.mass
        ):
            grams = one.value.mass.to("g").value
            if grams != two.value.mass.to("g").value:
                one.kind, one.value = "mass", Series((one.value.mass.value,), one.value.mass.unit)


def _listed_yarns(sentence: Sentence) -> None:
    """``4 ply 400 m, sport 320 m, DK 230 m``: several yarns each with its length a skein."""
    pairs = [
        two
        for one, two in zip(sentence.phrases, sentence.phrases[1:], strict=False)
        if one.kind in ("weight", "name")
        and two.kind == "length"
        and two.first == one.last
        and len(two.value.values) == 1
    ]
    if len(pairs) > 1 and all(Quantity(p.value.values[0], p.value.unit).to("m").value <= 1000 for p in pairs):
        for phrase in pairs:
            _to_put_up(phrase)


def _to_put_up(phrase: Phrase) -> None:
    amount = Quantity(phrase.value.values[0], phrase.value.unit)
    phrase.kind, phrase.value = (
        "putup",
        PutUp(length=amount) if phrase.kind == "length" else PutUp(mass=amount),
    )


def _skein_without_a_unit(sentence: Sentence) -> None:
    """``550 yards, in worsted how many at 220?``: what is on a skein, in the unit of the only length."""
    lengths = [phrase for phrase in sentence.phrases if phrase.kind == "length"]
    if len(lengths) != 1 or any(phrase.kind in ("putup", "count", "times") for phrase in sentence.phrases):
        return
    for phrase in sentence.phrases:
        lone = phrase.kind == "num" and len(phrase.value.values) == 1 and 40 <= phrase.value.values[0] <= 1000
        ends = sentence.kind_at(phrase.last) in ("", "STOP", "COMMA") or sentence.kind_at(phrase.last + 1) == "SKEIN"
        if lone and ends and sentence.kind_at(phrase.first - 1) == "AT" and phrase.first > lengths[0].first:
            phrase.kind = "putup"
            phrase.value = PutUp(length=Quantity(phrase.value.values[0], lengths[0].value.unit))


def _named_in_words(sentence: Sentence) -> None:
    """``small needs 720 m, medium 790 m and large 870 m``: a length for each size, its name before it."""
    lengths = [p for p in sentence.phrases if p.kind == "length" and len(p.value.values) == 1]
    pairs = [(at, length) for length in lengths if (at := _size_before(sentence, length)) is not None]
    names = tuple(sentence.tokens[at].text for at, _ in pairs)
    units = {length.value.unit for _, length in pairs}
    if len(pairs) < 2 or len(units) > 1 or len(set(names)) < len(pairs):
        return
    for (_, before), (after, _) in itertools.pairwise(pairs):
        if {sentence.kind_at(at) for at in range(before.last, after)} - {"COMMA", "AND", "SEMI"}:
            return
    (first, _), (_, final) = pairs[0], pairs[-1]
    series = Series(tuple(length.value.values[0] for _, length in pairs), units.pop())
    kept = [phrase for phrase in sentence.phrases if not first <= phrase.first < final.last]
    whole = Phrase("named", first, final.last, (names, series))
    sentence.phrases[:] = sorted([*kept, whole], key=lambda phrase: phrase.first)


def _size_before(sentence: Sentence, length: Phrase) -> int | None:
    """Where the size stands that a length is told for, with two words between at most."""
    for at in range(length.first - 1, max(length.first - 4, -1), -1):
        kind = sentence.kind_at(at)
        if kind == "SZ":
            return at
        if kind not in ("WORD", "HOLD", "COLON", "DASH"):
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
        if lead & {"mine", "ours"} and abs(stitches - gauge.value.stitches) <= gauge.value.stitches / 2:
            phrase.kind, phrase.value = "gauge", replace(gauge.value, stitches=stitches, rows=None)


def _several_made(sentence: Sentence) -> None:
    """``3 hats, each 120 yd``, ``one pair takes 400 m and I want 3 pairs``: so many times the amount of one."""
    for number in sentence.phrases:
        thing = sentence.lower_at(number.last)
        if number.kind != "num" or len(number.value.values) != 1 or thing not in word_list("made_several"):
            continue
        many = number.value.values[0]
        one = next((p for p in sentence.phrases if _of_one(sentence, p, thing)), None)
        if one is None or many != int(many) or not 1 < many <= 50:
            continue
        amount = one.value.length if one.kind == "putup" else None
        series = Series((amount.value,), amount.unit) if amount else one.value
        one.kind = "length" if series.unit in LENGTHS else "mass"
        one.value = replace(series, values=(many * series.values[0],))
        one.notes = (
            *one.notes,
            f"{many:g} {thing} × {_said(series)}",
        )
        number.kind = "made"


def _said(series: Series) -> str:
    """A single amount in words: ``120 yd``."""
    return str(Quantity(series.values[0], series.unit))


def _of_one(sentence: Sentence, phrase: Phrase, things: str) -> bool:
    """Whether an amount is that of one of several things: said to be each, or after ``a hat takes``."""
    label = phrase.kind == "putup" and phrase.value.length and not phrase.value.mass
    if not label and (phrase.kind not in ("length", "mass") or len(phrase.value.values) != 1):
        return False
    inside = {sentence.kind_at(at) for at in range(phrase.first, phrase.last)}
    before = {sentence.lower_at(at) for at in range(phrase.first - 3, phrase.first)}
    after = sentence.lower_at(phrase.last)
    inside |= {sentence.kind_at(at) for at in (*range(phrase.first - 4, phrase.first), phrase.last)}
    if "SKEIN" in inside:
        return False
    if "EACH" in inside or "each" in before or after in ("each", "apiece"):
        return True
    lead = [word for at in range(max(0, phrase.first - 8), phrase.first) for word in sentence.lower_at(at).split()]
    one = things.removesuffix("s")
    return not label and one in lead and bool({"a", "one", "single", "each", "per"} & set(lead[: lead.index(one)]))


def _asked_in_skeins(sentence: Sentence) -> None:
    """``how many balls is 1150 m``: the length is what is needed, not what is on a ball."""
    for phrase in sentence.phrases:
        asked = sentence.lower_at(phrase.first - 1) == "many" and sentence.kind_at(phrase.first) == "SKEIN"
        if phrase.kind == "putup" and asked and sentence.kind_at(phrase.first + 1) == "HOLD" and not phrase.value.mass:
            phrase.kind, phrase.first = "length", phrase.first + 2
            phrase.value = Series((phrase.value.length.value,), phrase.value.length.unit)


def _needle_sizes(sentence: Sentence) -> None:
    """A millimetre size beside a needle size is that needle told again: ``US 8 (5 mm)``, ``4 mm (old UK 10)``."""
    for one, two in zip(sentence.phrases, sentence.phrases[1:], strict=False):
        between = {sentence.kind_at(i) for i in range(one.last, two.first)}
        if {one.kind, two.kind} != {"needle", "small"} or not between <= {
            "LPAR",
            "SLASH",
            "EQ",
            "COMMA",
            "OR",
            "DASH",
        }:
            continue
        small = one if one.kind == "small" else two
        if small.value.unit == "mm":
            small.kind, small.value = "needle", Needle(f"{small.value.value:g}", "mm")
    if any(phrase.kind == "needle" for phrase in sentence.phrases):
        return
    for phrase in sentence.phrases:  # 4 mm on the needle picture
        near = range(max(0, phrase.first - 5), min(len(sentence.tokens), phrase.last + 6))
        if phrase.kind == "small" and phrase.value.unit == "mm" and any(sentence.kind_at(i) == "NEEDLE" for i in near):
            phrase.kind, phrase.value = "needle", Needle(f"{phrase.value.value:g}", "mm")


def _for_a_price(sentence: Sentence, phrase: Phrase) -> bool:
    """``€9 for 328 yds``, ``is 220 yds at $12 a skein``: what a skein costs and what is on it."""
    if len(phrase.value.values) != 1:
        return False
    told = sentence.lower_at(phrase.first - 1) in word_list("holds") or sentence.kind_at(phrase.first - 1) == "HOLD"
    for price in sentence.phrases:
        if price.kind != "price":
            continue
        if price.last <= phrase.first <= price.last + 1 and sentence.kind_at(price.last) in ("FOR", "PER"):
            return not _has_its_own(sentence, price)
        gap = [sentence.lower_at(at) for at in range(phrase.last, price.first)]
        each = sentence.kind_at(price.last - 1) in ("SKEIN", "EACH")
        offered = gap == ["for"] and any(p is not phrase and p.kind == "length" for p in sentence.phrases)
        if offered and phrase.last <= price.first:
            return True  # 200 m for £9
        if told and each and phrase.last <= price.first and set(gap) <= {"at", "for", ",", "and", "costs", "cost"}:
            return len(gap) <= 2
    return False


def _has_its_own(sentence: Sentence, price: Phrase) -> bool:
    """``DK 225 m at €7 and aran 170 m at €6 for 1000 m``: a price with a length before it asks for none after it."""
    before = [phrase for phrase in sentence.phrases if phrase.last == price.first - 1]
    of_length = bool(before) and before[0].kind in ("length", "putup")
    return of_length and sentence.kind_at(price.first - 1) == "AT" and sentence.said("ask.compare")


def _counts(sentence: Sentence) -> None:
    """``three 50 g balls``, ``two worsted skeins``, ``3 of the 100 g skeins``: the number counts skeins."""
    for index, phrase in enumerate(sentence.phrases):
        if phrase.kind not in ("num", "nums"):
            continue
        after = sentence.phrases[index + 1] if index + 1 < len(sentence.phrases) else None
        if (
            after
            and after.first == phrase.last
            and (after.kind == "putup" or (after.kind == "mass" and _skein_near(sentence, after.last, 3)))
        ):
            phrase.kind, phrase.value = "count", Series(phrase.value.values, "skein", phrase.value.low)
            continue
        if after and after.kind == "putup" and phrase.value.values[0] in _numbers_of(after.value):
            continue  # 200 200 yd skeins: one of the two is a slip
        if _headed_by_skeins(sentence, phrase) or _said_to_be_needed(sentence, phrase):
            phrase.kind, phrase.value = "count", Series(phrase.value.values, "skein", phrase.value.low)
            continue
        begun = index > 0 and sentence.phrases[index - 1].last == phrase.first
        if (
            after
            and not begun
            and after.kind in ("putup", "length")
            and sentence.kind_at(phrase.last) in ("AT", "OF")
            and after.first == phrase.last + 1
            and len(phrase.value.values) == 1
            and phrase.value.values[0] <= _MOST_SKEINS
        ):
            phrase.kind, phrase.value = "count", Series(phrase.value.values, "skein", phrase.value.low)
            if after.kind == "length":
                _to_put_up(after)
            continue
        end = phrase.last
        for other in sentence.phrases[index + 1 : index + 3]:
            if other.first == end and other.kind in ("weight", "name", "strands"):
                end = other.last
        if end > phrase.last and _skein_near(sentence, end, 1):
            phrase.kind, phrase.value = "count", Series(phrase.value.values, "skein", phrase.value.low)
        elif end == phrase.last and sentence.kind_at(end) in ("WORD", "OF") and _skein_near(sentence, end, 3):
            phrase.kind, phrase.value = "count", Series(phrase.value.values, "skein", phrase.value.low)


def _said_to_be_needed(sentence: Sentence, phrase: Phrase) -> bool:
    """``it has 220 yd a skein and you need 6``: skeins, where one's length is told and no amount is."""
    if phrase.kind != "num" or len(phrase.value.values) != 1 or not 0 < phrase.value.values[0] <= _MOST_SKEINS:
        return False
    wound = [p for p in sentence.phrases if p.kind == "putup" and p.value.length and p.first < phrase.first]
    if not wound or any(p.kind in AMOUNTS and p.kind != "putup" for p in sentence.phrases):
        return False
    asked = any(cue.last == phrase.first and cue.kind in ("need.before", "pattern.verb") for cue in sentence.cues)
    asked = asked or sentence.lower_at(phrase.first - 1) in word_list("buying")
    after = sentence.kind_at(phrase.last)
    return asked and (after in ("STOP", "SEMI", "COMMA", "RPAR", "AND", "") or sentence.lower_at(phrase.last) == "of")


def _left_of(one: Phrase, two: Phrase, between: set[str]) -> bool:
    """``40 g left of a 100 g ball``: the rest of it is what is used."""
    says = "of" in between and between & {"left", "remaining"}
    if not says or not between <= {"left", "remaining", "of", "out", "a", "an", "the", "my", "one"}:
        return False
    whole = two.value.mass if two.kind == "putup" and two.value.length is None else None
    if whole is None or len(one.value.values) != 1:
        return False
    rest = whole.to(one.value.unit).value - one.value.values[0]
    if rest <= 0:
        return False
    two.kind, two.value, two.flags = "mass", Series((rest,), one.value.unit), frozenset({"used"})
    return True


def _so_many_of(sentence: Sentence) -> None:
    """``I have used 3 of 5 skeins``: what is used, of what there was in all."""
    for one, two in itertools.pairwise(sentence.phrases):
        gap = [sentence.kind_at(i) for i in range(one.last, two.first)]
        words = {sentence.lower_at(i) for i in range(one.last, two.first)}
        of_all = "of" in words and words <= {"of", "out", "the", "my", "all"}
        if one.kind == "mass" and two.kind in ("mass", "putup") and _left_of(one, two, words):
            continue
        if one.kind == "count" and two.kind == "num" and of_all and len(one.value.values) == 1:
            if one.value.values[0] <= two.value.values[0] <= _MOST_SKEINS:  # 2.5 balls of 4 gone
                one.flags = frozenset({"used"})
                two.kind, two.value, two.flags = "count", Series(two.value.values, "skein"), frozenset({"in all"})
            continue
        if one.kind in ("length", "mass") and two.kind == "num" and of_all and len(one.value.values) == 1:
            if one.value.values[0] <= two.value.values[0]:  # 500 yds of my 800
                two.kind, two.value = one.kind, replace(two.value, unit=one.value.unit)
            continue
        if one.kind != "num" or two.kind != "count" or gap not in (["OF"], ["OF", "THE"], ["OF", "WORD"]):
            continue
        if len(one.value.values) == len(two.value.values) == 1 and one.value.values[0] <= two.value.values[0]:
            one.kind, one.value, one.flags = "count", Series(one.value.values, "skein"), frozenset({"used"})
            two.flags = frozenset({"in all"})


def _of_these(sentence: Sentence) -> None:
    """``could I get away with 6 of these?``: a number of the skeins told of beside it."""
    for phrase in sentence.phrases:
        if phrase.kind != "num" or len(phrase.value.values) != 1 or not 1 <= phrase.value.values[0] <= _MOST_SKEINS:
            continue
        pointed = sentence.kind_at(phrase.last) == "OF" and sentence.lower_at(phrase.last + 1) in word_list(
            "pointed_at"
        )
        if pointed and sentence.kind_at(phrase.last + 2) in _ENDS_A_LINK | {"", "HOLD", "RPAR"}:
            phrase.kind, phrase.value = "count", Series(phrase.value.values, "skein")


def _numbers_of(put_up: PutUp) -> tuple[float, ...]:
    return tuple(part.value for part in (put_up.length, put_up.mass) if part)


def _one_skein(sentence: Sentence) -> None:
    """``all I have is a skein``, ``I've got one big 150 g cake``: one of them, where what she has is told."""
    if not sentence.said("ask.enough") or any(phrase.kind in ("count", "mass") for phrase in sentence.phrases):
        return
    ends = {cue.last for cue in sentence.cues if cue.kind == "have.before"}
    starts = {phrase.first for phrase in sentence.phrases if _of_a_skein(sentence, phrase)}
    inside = {at for phrase in sentence.phrases for at in range(phrase.first, phrase.last)}
    for at in range(len(sentence.tokens) - 1):
        single = sentence.kind_at(at) == "ARTICLE" or sentence.lower_at(at) in word_list("just_one")
        lead = at
        while sentence.lower_at(lead - 1) in word_list("before_just_one"):
            lead -= 1
        if not single or at in inside or lead not in ends:
            continue
        noun = at + 1
        while sentence.lower_at(noun) in word_list("of_a_skein"):
            noun += 1
        if noun in starts or (sentence.kind_at(noun) == "SKEIN" and noun not in inside):
            last = noun if noun in starts else noun + 1
            sentence.phrases.append(Phrase("count", at, last, Series((1.0,), "skein")))
            sentence.phrases.sort(key=lambda phrase: phrase.first)
            return


def _of_a_skein(sentence: Sentence, phrase: Phrase) -> bool:
    """Whether a put-up is told with the skein itself: ``150 g cake``, not ``230 yd/100 g`` of a yarn at large."""
    return phrase.kind == "putup" and any(sentence.kind_at(at) == "SKEIN" for at in range(phrase.first, phrase.last))


def _one_of_them(sentence: Sentence) -> None:
    """``one skein of the chunky has 110 m``: the length of one is the put-up, and one is no count."""
    for count in sentence.phrases:
        if count.kind != "count" or count.value.values != (1.0,):
            continue
        if sentence.kind_at(count.first - 1) in _PER and any(
            p.kind == "putup" and p.last == count.first - 1 for p in sentence.phrases
        ):
            count.kind = "one"  # there is 150 m on one ball
            continue
        price = next((p for p in sentence.phrases if p.kind == "price" and 0 < p.first - count.last <= 5), None)
        if price and any(sentence.lower_at(at) in word_list("costs") for at in range(count.last, price.first)):
            count.kind = "one"  # one ball costs 45 kr
            continue
        ahead = range(count.last, min(count.last + 6, len(sentence.tokens)))
        says = [at for at in ahead if sentence.lower_at(at) in word_list("holds")]
        length = next((p for p in sentence.phrases if says and p.first == says[0] + 1), None)
        if length and length.kind in ("length", "putup") and not sentence.parted(count.last, length.first):
            if length.kind == "length":
                _to_put_up(length)
            count.kind = "one"


def _sum_of_parts(sentence: Sentence) -> None:
    """``body 600 m, sleeves 350 m``: lengths of different parts of a garment are one length, their sum."""
    parts: dict[str, Phrase] = {}
    lengths = [p for p in sentence.phrases if p.kind == "length" and len(p.value.values) == 1 and p.value.low is None]
    for phrase in lengths:
        lead = [sentence.lower_at(at) for at in range(max(0, phrase.first - 2), phrase.first)]
        words = [word for word in lead if word in word_list("garment_parts")]
        at = phrase.first - len(lead) + lead.index(words[-1]) if words else 0
        if not words or sentence.kind_at(at - 1) in ("EACH", "PER", "ARTICLE") or sentence.parted(at, phrase.first):
            return
        parts[words[-1]] = phrase
    units = {phrase.value.unit for phrase in lengths}
    if len(lengths) < 2 or len(parts) < len(lengths) or len(units) > 1:
        return
    first, *others = lengths
    said = " + ".join(f"{part} {phrase.value}" for part, phrase in parts.items())
    first.value = Series((sum(phrase.value.values[0] for phrase in lengths),), first.value.unit)
    first.notes = (*first.notes, f"{said} = {first.value}")
    for phrase in others:
        phrase.kind = "one"


def _and_a_half(sentence: Sentence) -> None:
    """``one skein and a half``."""
    for phrase in sentence.phrases:
        words = [sentence.lower_at(i) for i in range(phrase.last, phrase.last + 3)]
        if phrase.kind == "count" and words == ["and", "a", "half"] and len(phrase.value.values) == 1:
            phrase.value = Series((phrase.value.values[0] + 0.5,), "skein")
            phrase.last += 3


def _headed_by_skeins(sentence: Sentence, phrase: Phrase) -> bool:
    """``Skeins required: 6 [7, 7, 8]``: a heading that counts skeins."""
    if sentence.kind_at(phrase.first - 1) != "COLON":
        return False
    return any(sentence.kind_at(i) == "SKEIN" for i in range(max(0, phrase.first - 4), phrase.first - 1))


def _skein_near(sentence: Sentence, at: int, reach: int) -> bool:
    for index in range(at, min(at + reach + 1, len(sentence.tokens))):
        kind = sentence.tokens[index].kind
        if kind == "SKEIN":
            return True
        if kind not in ("WORD", "OF", "THE", "DASH", "WEIGHT", "OLD"):
            return False
    return False


def _per_skein(sentence: Sentence, phrase: Phrase) -> bool:
    """Whether it is said, or a skein stands near enough to say, that this is one skein's worth."""
    if (
        _each_of_them(sentence, phrase)
        or _length_of_a_yarn(sentence, phrase)
        or _each_skein(sentence, phrase)
        or (phrase.kind == "length" and _bracketed_label(sentence, phrase))
    ):
        return True
    ahead = _by_skein_ahead(sentence, phrase)
    return _by_skein_before(sentence, phrase) if ahead is None else ahead


def _each_of_them(sentence: Sentence, phrase: Phrase) -> bool:
    """``each with 210 m``, ``each of them 50 g``, ``the 210 m ones``."""
    lead = [sentence.lower_at(i) for i in range(phrase.first - 3, phrase.first)]
    return (
        lead[1:] in (["each", "with"], ["each", "one"])
        or (lead[0] == "each" and lead[1] == "of" and lead[2] in ("them", "these", "those", "which"))
        or (phrase.kind == "length" and sentence.lower_at(phrase.last) in ("ones", "one"))
    )


def _by_skein_ahead(sentence: Sentence, phrase: Phrase) -> bool | None:
    """``210 m per ball``, ``50 g in each``: whether the words after it say so; None where they say nothing of it."""
    metres = Quantity(phrase.value.values[0], phrase.value.unit).to("m").value if phrase.kind == "length" else 0.0
    linked = False
    for index in range(phrase.last, min(phrase.last + 4, len(sentence.tokens))):
        token = sentence.tokens[index]
        if token.kind == "SKEIN":
            return linked or index == phrase.last
        if linked and token.lower == "one":
            return True
        if token.kind in ("IN", "ON") and sentence.lower_at(index + 1) in ("it", "them", "each", "one", "every"):
            return True
        if token.kind in ("CLASS", "NAME") and metres <= 700 and sentence.kind_at(index + 1) == "SKEIN":
            return True
        if token.kind not in _PER_SKEIN_BEFORE or (token.kind == "WORD" and token.lower not in _PER_WORDS):
            return None
        linked = linked or token.kind in _PER or token.lower in ("every", "one", "this", "that")
    return None


def _by_skein_before(sentence: Sentence, phrase: Phrase) -> bool:
    """``a ball of 210 m``, ``balls of aran with 80 m``: whether a skein before it says so."""
    for index in range(phrase.first - 1, max(phrase.first - 7, -1), -1):
        kind = sentence.tokens[index].kind
        covered = any(other.first <= index < other.last for other in sentence.phrases)
        if kind == "SKEIN" and index == phrase.first - 1 and phrase.kind == "length":
            return not covered and not _asks(sentence, index)
        if kind == "SKEIN":
            return _links_to_skein(sentence, phrase, index)
        if kind in _ENDS_A_LINK or (covered and kind not in ("CLASS", "NAME")):
            return False
    return False


def _asks(sentence: Sentence, at: int) -> bool:
    """Whether a token stands in a wording that asks: ``how many skeins``."""
    asked = any(cue.kind.startswith("ask.") and cue.first <= at < cue.last for cue in sentence.cues)
    return asked or (sentence.lower_at(at - 1) == "many" and sentence.lower_at(at + 1) in ("is", "are", "for", "in"))


def _each_skein(sentence: Sentence, phrase: Phrase) -> bool:
    """``9 balls, each 160 m``: each of the skeins spoken of, not of two jumpers; ``3 skeins 437 yd`` says no each."""
    spoken = any(sentence.kind_at(i) == "SKEIN" for i in range(max(0, phrase.first - 12), phrase.first))
    counted = any(other.kind == "count" and other.last == phrase.first for other in sentence.phrases)
    longer = any(other.kind == "length" and other is not phrase for other in sentence.phrases)
    return (spoken and sentence.kind_at(phrase.first - 1) == "EACH") or (counted and longer and phrase.kind == "length")


def _links_to_skein(sentence: Sentence, phrase: Phrase, skein: int) -> bool:
    """Whether the words between a skein and a length say that the length is on it."""
    if _asks(sentence, skein) and sentence.kind_at(skein + 1) != "OF":
        return False
    lead = sentence.kind_at(phrase.first - 1)
    if lead == "OF" or [sentence.kind_at(phrase.first - 2), lead] == ["OF", "ARTICLE"]:
        return skein == phrase.first - (2 if lead == "OF" else 3)
    return lead in _LINKS or any(sentence.kind_at(i) == "HOLD" for i in range(skein + 1, phrase.first))


def _bracketed_label(sentence: Sentence, phrase: Phrase) -> bool:
    """``Teasel 4 ply (185 m)``: in brackets right after a yarn or a skein, where another amount is needed."""
    if sentence.kind_at(phrase.first - 1) != "LPAR" or sentence.kind_at(phrase.last) not in (
        "RPAR",
        "SEMI",
        "COMMA",
        "SLASH",
    ):
        return False
    if sentence.kind_at(phrase.first - 2) not in ("CLASS", "NAME", "SKEIN", "PLY", "MASS", "WEIGHT"):
        return False
    metres = Quantity(phrase.value.values[0], phrase.value.unit).to("m").value
    return metres <= 700 and any(p is not phrase and p.kind in AMOUNTS for p in sentence.phrases)


def _length_of_a_yarn(sentence: Sentence, phrase: Phrase) -> bool:
    """``made in a 400 yd fingering``, ``skeins of the 210 yd worsted``: beside a longer length, a yarn's own."""
    with_it = sentence.kind_at(phrase.first - 1) in ("WITH", "HOLD", "AT") and sentence.kind_at(phrase.first - 2) in (
        "CLASS",
        "NAME",
        "WEIGHT",
    )
    if phrase.kind != "length" or not (with_it or sentence.kind_at(phrase.first - 1) in ("ARTICLE", "THE")):
        return False
    if not with_it and sentence.kind_at(phrase.last) not in ("CLASS", "NAME"):
        return False
    metres = Quantity(phrase.value.values[0], phrase.value.unit).to("m").value
    others = [p for p in sentence.phrases if p.kind == "length" and p is not phrase]
    longest = max((Quantity(max(p.value.values), p.value.unit).to("m").value for p in others), default=0.0)
    counted = any(p.kind in ("count", "times") for p in sentence.phrases) and (
        with_it or (not others and sentence.kind_at(phrase.first - 2) == "OF")
    )
    return metres <= 700 and (counted or metres < 0.8 * longest)


def _pairs(sentence: Sentence) -> None:
    """``3.5 oz, 240 yd``: a mass and a length side by side are one put-up where they can be."""
    for one, two in zip(sentence.phrases, sentence.phrases[1:], strict=False):
        between = [token.kind for token in sentence.tokens[one.last : two.first]]
        if between not in _BESIDE and _says_is(sentence, one, two):
            between = ["HOLD"]
        if one.kind == "mass" and sentence.lower_at(one.first - 1) in ("all", "both", "each"):
            continue  # all 100 g, 1300 m of DK
        if between in _BESIDE and _completed(one, two):
            continue
        if between not in _BESIDE or _dual_pair(one, two) or {one.kind, two.kind} != {"length", "mass"}:
            continue
        length, mass = (one.value, two.value) if one.kind == "length" else (two.value, one.value)
        if len(length.values) > 1 or len(mass.values) > 1 or not length.values[0] or not mass.values[0]:
            continue
        metres = Quantity(length.values[0], length.unit).to("m").value
        grams = Quantity(mass.values[0], mass.unit).to("g").value
        if (_usual(Quantity(mass.values[0], mass.unit)) and 20 <= metres <= 1500) or (
            grams <= 250 and 25 <= 100 * metres / grams <= 900 and metres <= 500
        ):
            one.kind, one.value = (
                "putup",
                PutUp(Quantity(length.values[0], length.unit), Quantity(mass.values[0], mass.unit)),
            )
            one.last, two.kind = two.last, "joined"
    sentence.phrases[:] = [phrase for phrase in sentence.phrases if phrase.kind != "joined"]


def _says_is(sentence: Sentence, one: Phrase, two: Phrase) -> bool:
    """``if 100 g of the stuff are 218 yards``: only small words and one that says is between."""
    gap = [sentence.tokens[i] for i in range(one.last, two.first)]
    kinds = {token.kind for token in gap}
    says = any(token.kind == "EQUALS" or token.lower in word_list("holds") for token in gap)
    if len(gap) <= 3 and kinds <= {"WORD", "WITH"} and "WITH" in kinds and "putup" in (one.kind, two.kind):
        return True  # an 8 oz giant with 490 yards on it
    return len(gap) <= 5 and says and kinds <= {"HOLD", "EQUALS", "OF", "THE", "WORD", "RPAR"}


def _across_a_yarn(sentence: Sentence) -> None:
    """``50 g balls of aran, 80 m``: the length that completes a put-up, said after the yarn's name."""
    for one, yarn, two in zip(sentence.phrases, sentence.phrases[1:], sentence.phrases[2:], strict=False):
        if (
            one.kind == "times"
            and one.value[1].length is None
            and yarn.kind in ("weight", "name")
            and two.kind == "length"
        ):
            if two.first - yarn.last <= 1 and len(two.value.values) == 1:
                wound = replace(one.value[1], length=Quantity(two.value.values[0], two.value.unit))
                one.value, two.kind, two.value = (one.value[0], wound), "putup", wound
            continue
        if one.kind != "putup" or one.value.length or yarn.kind not in ("weight", "name") or two.kind != "length":
            continue
        gap = [sentence.kind_at(i) for i in (*range(one.last, yarn.first), *range(yarn.last, two.first))]
        if (
            set(gap) <= {"OF", "COMMA", "LPAR", "THE"}
            and len(two.value.values) == 1
            and not sentence.parted(one.last, two.first)
        ):
            metres = Quantity(two.value.values[0], two.value.unit).to("m").value
            grams = one.value.mass.to("g").value
            if grams and 25 <= 100 * metres / grams <= 900 and metres <= 500:
                two.kind, two.value = "putup", replace(one.value, length=Quantity(two.value.values[0], two.value.unit))


def _fits_a_skein(length: Quantity, mass: Quantity) -> bool:
    """Whether so much may be on a skein of that mass; a cone holds more than a ball."""
    metres, grams = length.to("m").value, mass.to("g").value
    return 10 <= metres <= (1500 if grams < 200 else 7.5 * grams)


def _completed(one: Phrase, two: Phrase) -> bool:
    """``the skein is 100 g and 210 yds``: what a put-up lacks, said right beside it."""
    put_up, other = (one, two) if one.kind == "putup" else (two, one)
    if put_up.kind != "putup" or other.kind not in ("length", "mass") or len(other.value.values) != 1:
        return False
    amount = Quantity(other.value.values[0], other.value.unit)
    if other.kind == "length" and put_up.value.length is None and _fits_a_skein(amount, put_up.value.mass):
        one.value = replace(put_up.value, length=amount)
    elif other.kind == "mass" and put_up.value.mass is None and _usual(amount):
        one.value = replace(put_up.value, mass=amount)
    else:
        return False
    one.kind, one.last, two.kind = "putup", two.last, "joined"
    return True


_BESIDE: tuple[list[str], ...] = (
    ["COMMA"],
    ["LPAR"],
    [],
    ["AND"],
    ["HOLD"],
    ["DASH"],
    ["WITH"],
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
    lengths = [Quantity(s.values[0], s.unit) for s in series if s.unit in LENGTHS]
    masses = [Quantity(s.values[0], s.unit) for s in series if s.unit not in LENGTHS]
    if not lengths or not masses or lengths[0].to("m").value > 1500:
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


_USUAL_MASSES = {
    "g": frozenset({20.0, 25.0, 40.0, 50.0, 100.0, 115.0, 150.0, 200.0}),
    "oz": frozenset({1.0, 1.75, 2.0, 3.5, 4.0, 5.0, 6.0, 8.0}),
}


def _usual(mass: Quantity) -> bool:
    """Whether skeins of that mass are usual."""
    return mass.value in _USUAL_MASSES.get(mass.unit, ())


def sort_amounts(sentence: Sentence, underway: bool = False) -> Amounts:
    """Every amount of the question given to what is needed, what she has or, where work is under way, has used."""
    out = Amounts()
    asked_enough = sentence.said("ask.enough")
    if sentence.said("ask.check") and not asked_enough:
        out.need = [phrase for phrase in sentence.phrases if phrase.kind in AMOUNTS]
        return out
    if underway:
        _of_what_there_was(sentence)
    for phrase in sentence.phrases:
        if phrase.kind not in AMOUNTS or _on_notions_line(sentence, phrase):
            continue
        calm = 0.7 if underway else 0.0
        scores = {
            NEED: _near(sentence, phrase, ("pattern.verb", "need.before"), ())
            + (1.0 if phrase.kind in ("length", "named", "dual") else 0.6)
            - calm,
            HAVE: 1.3 * _near(sentence, phrase, ("have.before",), ("have.after",))
            + (0.3 if asked_enough and phrase.kind == "count" else 0.0),
            USED: 0.5 + 1.4 * _near(sentence, phrase, ("used.before", "progress.weak"), ("used.after",))
            if underway
            else 0.0,
        }
        if _asked_enough_of(sentence, phrase):
            scores[HAVE] += 1.5
        role = max(scores, key=lambda name: scores[name])
        role = USED if "used" in phrase.flags else HAVE if "in all" in phrase.flags else role
        if role == NEED and phrase.kind != "named" and _continues(sentence, phrase, out.have):
            role = HAVE
        getattr(out, role).append(phrase)
    if sentence.said("ask.measure") and not sentence.said("ask.skeins"):
        _sum_of_scraps(out)
    if asked_enough and not out.have and len(out.need) > 1:
        counted = [phrase for phrase in out.need if phrase.kind in ("count", "times", "mass")]
        owned = counted if len(counted) < len(out.need) else []
        out.have, out.need = owned, [phrase for phrase in out.need if phrase not in owned]
    elif asked_enough and not out.have and len(out.need) == 1 and out.need[0].kind in ("count", "mass", "times"):
        out.have, out.need = out.need, []
    return out


def _of_what_there_was(sentence: Sentence) -> None:
    """``used 250 m of my 600 m``: the second amount is all there was."""
    for one, two in zip(sentence.phrases, sentence.phrases[1:], strict=False):
        gap = [sentence.lower_at(at) for at in range(one.last, two.first)]
        joins = "of" in gap and set(gap) <= {"of", "out", "my", "the", "a", "total"}
        joins = joins or sentence.lower_at(two.last) in ("total", "altogether")
        if joins and one.kind in AMOUNTS and two.kind in AMOUNTS and one.kind == two.kind:
            two.flags = frozenset({"in all"})


def _asked_enough_of(sentence: Sentence, phrase: Phrase) -> bool:
    """``is 850 m of sport enough``: what is asked about is what she has."""
    if sentence.lower_at(phrase.first - 1) not in ("is", "are", "will", "would", "be"):
        return False
    ahead = (cue for cue in sentence.cues if cue.kind == "ask.enough" and 0 <= cue.first - phrase.last <= 3)
    return any(sentence.lower_at(cue.first) in ("enough", "sufficient", "plenty") for cue in ahead)


def _sum_of_scraps(out: Amounts) -> None:
    """``12 g, 18 g and 9 g``: several masses and nothing else are what there is."""
    if len(out.need) > 1 and not out.have and all(p.kind == "mass" and len(p.value.values) == 1 for p in out.need):
        out.have, out.need = out.need, []


def _on_notions_line(sentence: Sentence, phrase: Phrase) -> bool:
    """Ribbon and elastic are no yarn: ``Notions: 1 m of 3 mm ribbon``."""
    index = phrase.first
    while index > 0 and sentence.tokens[index - 1].kind != "NEWLINE":
        index -= 1
    return sentence.lower_at(index) in ("notions", "notion", "haberdashery", "extras") or sentence.lower_at(
        phrase.last + 1
    ) in ("ribbon", "elastic")


def _continues(sentence: Sentence, phrase: Phrase, have: list[Phrase]) -> bool:
    """``3 skeins of 400 m and 60 g of another``: what stands after an amount she has, joined by and or plus."""
    if not have or phrase.kind == "length":
        return False
    gap = range(have[-1].last, phrase.first)
    joined = any(sentence.kind_at(i) == "AND" or sentence.kind_at(i) == "COMMA" for i in gap)
    return joined and len(gap) <= 12 and not sentence.parted(have[-1].last, phrase.first)


def _near(sentence: Sentence, phrase: Phrase, before: tuple[str, ...], after: tuple[str, ...]) -> float:
    """How near a cue of these kinds stands: 1 beside it, less further off, 0 past a full stop or another amount."""
    best = 0.0
    ends = {other.last for other in sentence.phrases if other.kind in AMOUNTS}
    for cue in sentence.cues:
        if cue.kind in ("progress.weak", "used.before") and cue.first in ends and cue.first < phrase.first:
            continue  # 95 g used and 120 g to go
        if cue.kind in before and cue.last <= phrase.first and _clear(sentence, cue.last, phrase.first):
            best = max(best, _closeness(sentence, cue, cue.last, phrase.first))
        if cue.kind in after and cue.first >= phrase.last and _clear(sentence, phrase.last, cue.first):
            best = max(best, 1.7 if cue.first == phrase.last and sentence.lower_at(cue.first) == "left" else 0.0)
            best = max(best, _closeness(sentence, cue, phrase.last, cue.first))
    return best


def _clear(sentence: Sentence, left: int, right: int) -> bool:
    return not sentence.parted(left, right) and not any(
        other.kind in AMOUNTS and left <= other.first < right for other in sentence.phrases
    )


def _closeness(sentence: Sentence, cue: Cue, left: int, right: int) -> float:
    gap = right - left - sentence.commas_between(left, right)
    strength = 1.0 if cue.last - cue.first > 1 or gap <= 1 else 0.8
    return float(
        strength * (0.6 if sentence.commas_between(left, right) else 1.0) * max(0.0, 1.0 - 0.09 * max(0, gap - 1))
    )
