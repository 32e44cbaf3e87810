"""Numbers of skeins: with the word far off or left out, in parts, of a whole, or one alone."""

from __future__ import annotations

import itertools
from dataclasses import replace

from yarnchat.language.amounts import AMOUNTS
from yarnchat.language.labels import names_a_shade
from yarnchat.language.lexicon import load, made_several, word_list
from yarnchat.language.phrases import Phrase
from yarnchat.language.put_ups import ENDS_A_LINK, PER, skein_near, to_put_up
from yarnchat.language.sentence import Sentence
from yarnchat.language.skein_limits import ball
from yarnchat.quantity import Quantity
from yarnchat.queries import PutUp, Series

MOST_SKEINS = 60
"""A number without a unit up to this may be one of skeins."""


def parts_of_skeins(sentence: Sentence) -> None:
    """``¾ of a 100 g ball``, ``15 of the 50 g balls``: a number of the put-up it stands before."""
    for one, two in zip(sentence.phrases, sentence.phrases[1:], strict=False):
        gap = [sentence.kind_at(i) for i in range(one.last, two.first)]
        if (
            one.kind in ("num", "fraction")
            and two.kind == "putup"
            and gap in (["OF", "ARTICLE"], ["OF", "THE"], ["OF"])
        ):
            value = one.value.values[0] if one.kind == "num" else one.value
            of_the = gap == ["OF", "THE"] or two.value.length is None
            if 0 < value < 1 or (one.kind == "num" and 1 < value <= MOST_SKEINS and of_the):
                one.kind, one.value = "count", Series((value,), "skein")
    for one in sentence.phrases:
        behind = [sentence.kind_at(at) for at in range(one.last, one.last + 3)]
        if one.kind == "num" and 0 < one.value.values[0] < 1 and behind == ["OF", "ARTICLE", "SKEIN"]:
            one.kind, one.value = "count", Series(one.value.values, "skein")  # ⅔ of a skein left


def skein_without_a_unit(sentence: Sentence) -> None:
    """``550 yards, in worsted how many at 220?``: what is on a skein, in the unit of the only length."""
    lengths = [phrase for phrase in sentence.phrases if phrase.kind == "length"]
    if len(lengths) != 1 or any(phrase.kind in ("putup", "count", "times") for phrase in sentence.phrases):
        return
    for phrase in sentence.phrases:
        lone = _lone_length(phrase)
        behind = [sentence.kind_at(on) for on in range(phrase.last, phrase.last + 3)]
        ends = sentence.kind_at(phrase.last) in ("", "STOP", "COMMA") or sentence.kind_at(phrase.last + 1) == "SKEIN"
        at = ends and sentence.kind_at(phrase.first - 1) == "AT"
        to_the = behind[0] in PER and "SKEIN" in (behind[1], behind[2] if behind[1] in PER else "")
        at = at or (ends and sentence.kind_at(phrase.first - 1) == "SKEIN")  # need 1340 yds, skeins 210
        lead = [sentence.kind_at(on) for on in range(phrase.first - 2, phrase.first)]
        at = at or (lead == ["SKEIN", "HOLD"] and (ends or behind[0] in ("IN", "ON")))  # balls that have 140 in them
        if lone and (at or to_the) and phrase.first > lengths[0].first:
            unit = _unit_before(sentence, phrase) or lengths[0].value.unit
            phrase.kind, phrase.value = "putup", PutUp(length=Quantity(phrase.value.values[0], unit))


def by_the_ball(sentence: Sentence) -> None:
    """``theirs has 120 m on it, mine 125 a ball``, ``2 skeins at 437``: a skein's length, in the only unit told."""
    for phrase in sentence.phrases:
        if not _lone_length(phrase) or phrase.value.values[0] < _HARDLY_GRAMS:
            continue
        units = _units_told(sentence)
        behind = [sentence.kind_at(at) for at in (phrase.last, phrase.last + 1)]
        to_a_ball = behind[0] in PER and behind[1] == "SKEIN"
        if len(units) == 1 and (to_a_ball or _at_the_skein(sentence, phrase)):
            phrase.kind, phrase.value = "putup", PutUp(length=Quantity(phrase.value.values[0], units.pop()))
            phrase.last += 2 if to_a_ball else 0


def skeins_of_several_lengths(sentence: Sentence) -> None:
    """``1150 yds, in skeins of 190, 210 and 220``: what is on a skein of each of several, beside a longer length."""
    if sentence.said("ask.enough", "have.before"):
        return
    needed = [p for p in sentence.phrases if p.kind == "length" and len(p.value.values) == 1]
    units = {phrase.value.unit for phrase in needed}
    for several in [phrase for phrase in sentence.phrases if phrase.kind in ("nums", "length")]:
        of = [sentence.kind_at(at) for at in (several.first - 2, several.first - 1)] == ["SKEIN", "OF"]
        listed = {sentence.kind_at(at) for at in range(several.first, several.last)} <= _LISTED
        places = [at for at in range(several.first, several.last) if sentence.kind_at(at) == "NUM"]
        values, unit = several.value.values, several.value.unit or next(iter(units), "")
        if not (of and listed and len(units) == 1 and len(values) == len(places) > 1):
            continue
        if not all(_HARDLY_GRAMS <= value < needed[0].value.values[0] for value in values):
            continue
        told = zip(places, values, strict=True)
        sentence.phrases.remove(several)
        sentence.phrases += [Phrase("putup", at, at + 1, PutUp(length=Quantity(value, unit))) for at, value in told]
        sentence.phrases.sort(key=lambda phrase: phrase.first)
        sentence.mark("ask.compare")
        weights = [phrase for phrase in sentence.phrases if phrase.kind == "weight"]
        if len(weights) == 1 and weights[0].last <= several.first:
            sentence.mark("pattern.after", weights[0].last, weights[0].last + 1)  # 1150 yds in worsted
        return


_LISTED = frozenset({"NUM", "COMMA", "AND", "OR", "LEN"})


def _units_told(sentence: Sentence) -> set[str]:
    """The units of all lengths of a text, those on skeins among them."""
    units = {phrase.value.unit for phrase in sentence.phrases if phrase.kind == "length"}
    wound = [phrase.value.length for phrase in sentence.phrases if phrase.kind == "putup"]
    return units | {length.unit for length in wound if length}


def _at_the_skein(sentence: Sentence, phrase: Phrase) -> bool:
    """``2 skeins at 437``, ``a sport at 325``, ``skeins of 220``: what is on a skein, said right behind it."""
    lead = sentence.kind_at(phrase.first - 1)
    ends = sentence.kind_at(phrase.last) not in ("STS", "GAUGE", "ROWS", "PER", "NUM")
    yarn = sentence.kind_at(phrase.first - 2)
    return ends and ((lead == "AT" and yarn in ("SKEIN", "CLASS")) or (lead == "OF" and yarn == "SKEIN"))


def _lone_length(phrase: Phrase) -> bool:
    """Whether a phrase is one bare number that may be the length of a skein."""
    return phrase.kind == "num" and len(phrase.value.values) == 1 and 40 <= phrase.value.values[0] <= 1000


_HARDLY_GRAMS = 60
"""Fewer of a skein without a unit may be its grams, or its price (common practice, no source)."""


def _unit_before(sentence: Sentence, phrase: Phrase) -> str | None:
    """``what they've got is yardage, 230 a skein``: the unit that is named for it beforehand."""
    lead = (sentence.lower_at(at) for at in range(phrase.first - 1, phrase.first - 4, -1))
    return next((YARDAGE[word] for word in lead if word in YARDAGE), None)


YARDAGE = {
    **dict.fromkeys(("yardage", "yards", "yds"), "yd"),
    **dict.fromkeys(("meterage", "metreage", "metrage", "metres", "meters"), "m"),
}
"""The unit that each of these words says of the number after it."""


def asked_in_skeins(sentence: Sentence) -> None:
    """``how many balls is 1150 m``: the length is what is needed, not what is on a ball."""
    for phrase in sentence.phrases:
        asked = sentence.lower_at(phrase.first - 1) == "many" and sentence.kind_at(phrase.first) == "SKEIN"
        if phrase.kind == "putup" and asked and sentence.kind_at(phrase.first + 1) == "HOLD" and not phrase.value.mass:
            phrase.kind, phrase.first = "length", phrase.first + 2
            phrase.value = Series((phrase.value.length.value,), phrase.value.length.unit)


def scattered_counts(sentence: Sentence) -> None:
    """``three 50 g balls``, ``two worsted skeins``, ``3 of the 100 g skeins``: the number counts skeins."""
    for index, phrase in enumerate(sentence.phrases):
        if phrase.kind not in ("num", "nums") or names_a_shade(sentence, phrase.first):
            continue
        label = _label_it_counts(sentence, index)
        if label or _counts_skeins(sentence, index):
            phrase.kind, phrase.value = "count", Series(phrase.value.values, "skein", phrase.value.low)
        if label and label.kind == "length":
            to_put_up(label)


def listed_skeins(sentence: Sentence) -> None:
    """``Aran 100 g balls (160 m) 7 (7: 8: 8: 9)``, ``50 g balls (100 m): 8/9/10``: a list behind a label of balls.

    Where nothing else is told of how much there is to be.
    """
    if any(phrase.kind in AMOUNTS for phrase in sentence.phrases):
        return
    for label, listed in itertools.pairwise(sentence.phrases):
        gap = [sentence.kind_at(at) for at in range(label.last, listed.first)]
        if gap[:1] == ["BAR"] and gap[1:] == ["SKEIN"]:
            gap = []  # 50 g : 160 m | balls 7 - 8 - 9 - 11
        if label.kind != "putup" or listed.kind != "nums" or not set(gap) <= {"COLON", "COMMA", "DASH", "RPAR"}:
            continue
        if max(listed.value.values) <= MOST_SKEINS and not listed.value.low:
            listed.kind, listed.value = "count", replace(listed.value, unit="skein")


def _label_it_counts(sentence: Sentence, index: int) -> Phrase | None:
    """``12 at 210 yd``, ``3 of 115 m``: what is on each of the few that the number before it counts."""
    phrase, *later = sentence.phrases[index : index + 2]
    if not later or later[0].kind not in ("putup", "length") or later[0].first != phrase.last + 1:
        return None
    begun = index > 0 and sentence.phrases[index - 1].last == phrase.first
    least = 1 if later[0].kind == "length" else 0  # 1/3 of 900 yd
    few = len(phrase.value.values) == 1 and least <= phrase.value.values[0] <= MOST_SKEINS
    joined = sentence.kind_at(phrase.last) in ("AT", "OF")
    twice = later[0].kind == "putup" and phrase.value.values[0] in _numbers_of(later[0].value)
    return later[0] if few and joined and not begun and not twice else None


def _counts_skeins(sentence: Sentence, index: int) -> bool:
    """Whether a number stands before skeins, or before what tells of them."""
    phrase, *later = sentence.phrases[index : index + 3]
    after = later[0] if later else None
    of_skeins = after is not None and (
        after.kind == "putup" or (after.kind == "mass" and skein_near(sentence, after.last, 3))
    )
    if after and of_skeins and after.first - phrase.last == (sentence.lower_at(phrase.last) in word_list("whole")):
        return True
    if after and after.kind == "putup" and phrase.value.values[0] in _numbers_of(after.value):
        return False  # 200 200 yd skeins: one of the two is a slip
    if _headed_by_skeins(sentence, phrase) or _said_to_be_needed(sentence, phrase):
        return True
    end = phrase.last
    for other in later:
        if other.first == end and other.kind in ("weight", "name", "strands"):
            end = other.last
    if end > phrase.last and skein_near(sentence, end, 1):
        return True
    if any(cue.first == end and cue.kind.startswith("ask.") for cue in sentence.cues):
        return False  # 17 how many skeins
    return end == phrase.last and sentence.kind_at(end) in ("WORD", "OF") and skein_near(sentence, end, 3)


def _said_to_be_needed(sentence: Sentence, phrase: Phrase) -> bool:
    """``it has 220 yd a skein and you need 6``: skeins, where one's length is told and no amount is."""
    if phrase.kind != "num" or not may_be_skeins(phrase):
        return False
    if sentence.lower_at(phrase.last) == "cost" and any(p.kind == "price" for p in sentence.phrases):
        return True  # 5 skeins for $60, how much would 7 cost
    after = sentence.kind_at(phrase.last)
    if after not in ("STOP", "SEMI", "COMMA", "RPAR", "AND", "") and sentence.lower_at(phrase.last) != "of":
        return False
    asked = any(cue.last == phrase.first and cue.kind in ("need.before", "pattern.verb") for cue in sentence.cues)
    if not asked and sentence.lower_at(phrase.first - 1) not in word_list("buying"):
        return False
    wound = any(
        p.first < phrase.first and (p.kind == "price" or (p.kind == "putup" and p.value.length))
        for p in sentence.phrases
    )
    return wound and not any(p.kind in AMOUNTS and p.kind != "putup" for p in sentence.phrases)


def _long_too(sentence: Sentence, mass: Phrase) -> bool:
    """``2 oz left of a 4 oz hank that had 280 yd in it``, ``of a 50 g ball, 125 m``: what is behind it is one label."""
    after = [phrase for phrase in sentence.phrases if phrase.first >= mass.last][:1]
    words = {sentence.lower_at(at) for phrase in after for at in range(mass.last, phrase.first)}
    if not after or after[0].kind != "length":
        return False
    joins = words & (word_list("holds") | {"with", "of"})
    return (bool(joins) and words <= _LABELLING | word_list("holds")) or _set_off(sentence, mass, after[0])


_LABELLING = frozenset({"with", "of", "that", "which"})


def _set_off(sentence: Sentence, mass: Phrase, length: Phrase) -> bool:
    """``50 g ball, 125 m``, ``100 g skein (400 m)``: a length that such a skein may have, and nothing said of it."""
    gap = [sentence.kind_at(at) for at in range(mass.last, length.first)]
    ends = sentence.kind_at(length.last) in ("", "STOP", "COMMA", "SEMI", "RPAR", "AND", "NEWLINE")
    wound = mass.value.mass if mass.kind == "putup" else mass.value.first()
    alone = gap in (["COMMA"], ["LPAR"]) and ends and len(length.value.values) == 1
    return alone and wound is not None and ball(length.value.first().to("m").value, wound.to("g").value)


def _mass_alone(phrase: Phrase) -> Quantity | None:
    """What a skein weighs, where a put-up tells that and no length."""
    mass: Quantity | None = phrase.value.mass if phrase.kind == "putup" and phrase.value.length is None else None
    return mass


def _left_of(one: Phrase, two: Phrase, between: set[str]) -> bool:
    """``40 g left of a 100 g ball``: the rest of it is what is used."""
    says = "of" in between and between & {"left", "remaining"}
    if not says or not between <= {"left", "remaining", "of", "out", "a", "an", "the", "my", "one"}:
        return False
    whole = _mass_alone(two)
    if whole is None or len(one.value.values) != 1:
        return False
    rest = whole.to(one.value.unit).value - one.value.values[0]
    if rest <= 0:
        return False
    one.flags = frozenset({"left"})
    two.kind, two.value, two.flags = "mass", Series((rest,), one.value.unit), frozenset({"used"})
    return True


def _off(one: Phrase, two: Phrase, between: set[str], *, used: bool) -> bool:
    """``48 g gone off a 100 g hank``, ``used 60 g of a 120 g ball``: what is used, of a skein that was whole."""
    whole = _mass_alone(two)
    says = ("off" in between or (used and "of" in between)) and between <= {
        "gone",
        "used",
        "off",
        "of",
        "a",
        "an",
        "the",
        "my",
        "is",
        "are",
    }
    if not says or whole is None or len(one.value.values) != 1 or whole.unit != one.value.unit:
        return False
    if one.value.values[0] > whole.value:
        return False
    one.flags, two.flags = frozenset({"used"}), frozenset({"in all"})
    two.kind, two.value = "mass", Series((whole.value,), whole.unit)
    return True


def so_many_of(sentence: Sentence) -> None:
    """``I have used 3 of 5 skeins``: what is used, of what there was in all."""
    used = {cue.last for cue in sentence.cues if cue.kind == "used.before"}
    gone = {cue.first for cue in sentence.cues if cue.kind in ("used.after", "have.gone")}
    for one, two in itertools.pairwise(sentence.phrases):
        gap = [sentence.kind_at(i) for i in range(one.last, two.first)]
        words = {sentence.lower_at(i) for i in range(one.last, two.first)}
        of_all = "of" in words and words - word_list("used_up") <= {"of", "out", "the", "my", "all"}
        weighed = one.kind == "mass" and two.kind in ("mass", "putup")
        if weighed and _long_too(sentence, two):
            continue
        taken = one.first in used or two.last in gone or _knitted_on(sentence, one)
        words |= {"left"} if weighed and sentence.lower_at(two.last) in word_list("still_there") else set()
        if weighed and (_left_of(one, two, words) or _off(one, two, words, used=taken)):
            continue
        if one.kind == "count" and two.kind == "num" and of_all and len(one.value.values) == 1:
            if one.value.values[0] <= two.value.values[0] <= MOST_SKEINS:  # 2.5 balls of 4 gone
                one.flags = frozenset({"left" if _remain(sentence, one, two) else "used"})
                two.kind, two.value, two.flags = "count", Series(two.value.values, "skein"), frozenset({"in all"})
            continue
        left = bool(words & word_list("left_over")) and words - word_list("left_over") in _FROM_ALL
        if one.kind in ("length", "mass") and two.kind == "num" and (of_all or left) and len(one.value.values) == 1:
            _in_the_same_unit(one, two, left=left or sentence.lower_at(two.last) in word_list("still_there"))
            continue
        if (
            one.kind == "num"
            and one.first in used
            and two.kind in ("length", "mass")
            and of_all
            and len(two.value.values) == 1
        ):
            if len(one.value.values) == 1 and 1 <= one.value.values[0] <= two.value.values[0]:  # used 310 of 800 yds
                one.kind, one.value = two.kind, replace(one.value, unit=two.value.unit)
            continue
        if one.kind != "num" or two.kind != "count" or gap not in _OF_ALL:
            continue
        if len(one.value.values) == len(two.value.values) == 1 and one.value.values[0] <= two.value.values[0]:
            part = "left" if _remain(sentence, one, two) else "used"
            one.kind, one.value, one.flags = "count", Series(one.value.values, "skein"), frozenset({part})
            two.flags = frozenset({"in all"})


def _remain(sentence: Sentence, one: Phrase, two: Phrase) -> bool:
    """``4 of 7 balls left``, ``3 of 8 balls to go``, ``what's left: 2 of 5 balls``: what is there still, of all."""
    behind = [sentence.lower_at(at) for at in range(two.last, two.last + 2)]
    before = {sentence.lower_at(at) for at in range(one.first - _A_FEW, one.first)}
    left = word_list("still_there")
    return behind[0] in left or behind == ["to", "go"] or bool(before & left)


_A_FEW = 3


def so_many_of_each(sentence: Sentence) -> None:
    """``half a ball each of four DKs``, ``2 balls of each of 3 colours``: so many times what she has of one of them."""
    for count in sentence.phrases if sentence.said("ask.enough") else ():
        at = count.last + 2
        if count.kind != "count" or [sentence.kind_at(at - 2), sentence.kind_at(at - 1)] != ["EACH", "OF"]:
            continue
        number = next((p for p in sentence.phrases if p.first == at and p.kind == "num" and may_be_skeins(p)), None)
        many = number.value.values[0] if number else load("words.toml")["numbers"].get(sentence.lower_at(at), 0)
        if many > 1 and many == int(many) and len(count.value.values) == 1:
            one = count.value
            count.value = replace(one, values=(many * one.values[0],))
            count.notes = (*count.notes, f"{one} each of {many:g}: {count.value}")
            count.last = at if number is None else count.last
            if number:
                number.kind = "made"


def _in_the_same_unit(one: Phrase, two: Phrase, *, left: bool) -> None:
    """``500 yds of my 800``, ``212 g of 300 remain``: the bare number is all there was, in the unit of the other."""
    if one.value.values[0] <= two.value.values[0]:
        two.kind, two.value = one.kind, replace(two.value, unit=one.value.unit)
        if left:
            one.flags, two.flags = frozenset({"left"}), frozenset({"in all"})


_FROM_ALL = ({"of"}, {"out", "of"}, {"from"}, {"of", "the"}, {"of", "my"}, {"out", "of", "the"}, {"out", "of", "my"})


def _knitted_on(sentence: Sentence, amount: Phrase) -> bool:
    """``knit half of it on 30 g of a 50 g ball``."""
    return sentence.lower_at(amount.first - 1) in ("on", "with") and any(
        token.lower == "done" or token.lower in word_list("working") for token in sentence.tokens[: amount.first]
    )


_OF_ALL = (["OF"], ["OF", "THE"], ["OF", "WORD"], ["WORD", "OF"], ["WORD", "OF", "THE"], ["WORD", "OF", "WORD"])


def of_these(sentence: Sentence) -> None:
    """``could I get away with 6 of these?``: a number of the skeins told of beside it."""
    of_yarn = any(token.kind == "SKEIN" for token in sentence.tokens) or any(
        phrase.kind in ("putup", "length", "mass") for phrase in sentence.phrases
    )
    sized = any(phrase.kind in ("dim", "small") for phrase in sentence.phrases)
    hers = (
        not sized and sentence.said("ask.enough") and sentence.said("have.before")
    )  # I've got 12 of those, enough for size 3?
    if not of_yarn and not hers:
        return  # a blanket 30 x 36 in, 4 of them
    for phrase in sentence.phrases:
        if phrase.kind != "num" or len(phrase.value.values) != 1 or not 1 <= phrase.value.values[0] <= MOST_SKEINS:
            continue
        noun = phrase.last + 1 + (sentence.kind_at(phrase.last + 1) == "THE")  # 11 of the same
        if sentence.kind_at(phrase.first - 1) == "COMMA" and sentence.lower_at(phrase.first - 2) in made_several():
            continue  # mittens, eight of them, 60 yds each
        pointed = sentence.kind_at(phrase.last) == "OF" and sentence.lower_at(noun) in word_list("pointed_at")
        ends = sentence.kind_at(noun + 1) in ENDS_A_LINK | {"", "HOLD", "RPAR"}
        ends = ends or sentence.lower_at(noun + 1) in word_list("still_there")
        if pointed and (ends or sentence.lower_at(noun + 1) in word_list("suffices")):
            phrase.kind, phrase.value = "count", Series(phrase.value.values, "skein")
            _of_those_before(sentence, phrase)


def _of_those_before(sentence: Sentence, some: Phrase) -> None:
    """``12 balls …, if I use only 10 of them``: the ones that are used, of those told before."""
    lead = {sentence.lower_at(at) for at in range(some.first - 3, some.first)}
    all_of_them = sentence.last_before(some.first, "count")
    if all_of_them is None or len(all_of_them.value.values) != 1 or not ("only" in lead and lead & word_list("using")):
        return
    if all_of_them.value.values[0] >= some.value.values[0]:
        some.notes = (*some.notes, f"{some.value.values[0]:g} of the {all_of_them.value.values[0]:g}")
        all_of_them.kind = "one"


def what_is_left(sentence: Sentence) -> None:
    """``three skeins used and one left``: a number of the skeins told of before it."""
    if all(phrase.kind != "num" for phrase in sentence.phrases):
        return
    told: set[tuple[float, ...]] = set()
    asking = {sentence.sentence_of(cue.first) for cue in sentence.cues if cue.kind == "ask.enough"}
    had = {cue.last for cue in sentence.cues if cue.kind == "have.before"}
    still_there = {cue.first for cue in sentence.cues if cue.kind == "have.after" and cue.last - cue.first > 1}
    wound = any(token.kind in ("EACH", "SKEIN") for token in sentence.tokens)
    for phrase in sentence.phrases:
        more = "more" in sentence.words(phrase).split() or sentence.lower_at(phrase.last) == "more"
        left = more or sentence.lower_at(phrase.last) in word_list("left_over") or phrase.last in still_there
        ends = sentence.kind_at(phrase.last) in ("", "STOP", "COMMA", "SEMI")
        in_all = sentence.lower_at(phrase.last) == "in" and sentence.lower_at(phrase.last + 1) in ("all", "total")
        owned = phrase.first in had and (ends or in_all)  # and I own 6
        owned = owned and (bool(told) or sentence.lower_at(phrase.first - 2) != "there")
        asked = phrase.kind == "num" and phrase.value.values in told  # would those five be enough
        of_those = sentence.kind_at(phrase.last) == "OF"
        asked = asked and (of_those or sentence.sentence_of(phrase.first) in asking)  # enough? Bus leaves in 5 minutes.
        asked = asked or bool(asking and sentence.lower_at(phrase.last) in word_list("asked_of_skeins"))  # is 7 enough
        asked = asked and not any(other.last == phrase.first for other in sentence.phrases)  # 8 balls of 90 m 3
        held = (told or wound) and (left or owned)
        if phrase.kind == "num" and may_be_skeins(phrase) and (held or asked):
            phrase.kind, phrase.value = "count", Series(phrase.value.values, "skein")
            phrase.flags |= frozenset() if held else {"asked of"}
        told |= {phrase.value.values} if phrase.kind == "count" else set()


def added_up(sentence: Sentence) -> None:
    """``found another two, so 7 balls``: what comes to what was told before is in the number that follows from it."""
    if sentence.said("have.more") and _another_then_all(sentence):
        sentence.unsay("have.more")
    for one, two in itertools.pairwise(sentence.phrases):
        if one.kind not in ("num", "count") or two.kind not in ("num", "count") or len(two.value.values) > 1:
            continue
        gap = [sentence.lower_at(at) for at in range(one.last, two.first)]
        said = [*sentence.words(one).split(), sentence.lower_at(one.last)]
        more = sentence.lower_at(one.first - 1) in ("another", "extra") or "more" in said
        if not (more and {"so", "making", "makes"} & set(gap)):
            continue
        if two.value.values[0] > one.value.values[0]:
            one.kind = "one"
            sentence.unsay("have.more")


def _another_then_all(sentence: Sentence) -> bool:
    """``I turned up another one, 8 balls?``: one more, and then how many that makes."""
    for at in range(len(sentence.tokens) - 3):
        more = [sentence.lower_at(i) for i in range(at, at + 2)] in (["another", "one"], ["one", "more"])
        starts = (at + 3, at + 4)
        if (
            more
            and sentence.kind_at(at + 2) in ("COMMA", "WORD")
            and any(phrase.kind == "count" and phrase.first in starts for phrase in sentence.phrases)
        ):
            return True
    return False


def may_be_skeins(phrase: Phrase) -> bool:
    """Whether a lone number may be one of skeins."""
    return len(phrase.value.values) == 1 and 0 < phrase.value.values[0] <= MOST_SKEINS


def each_weighed(sentence: Sentence) -> None:
    """``3 odd balls, 22 g, 31 g and 45 g``: as many masses as balls are what each of them weighs."""
    for at, phrase in enumerate(sentence.phrases):
        if phrase.kind != "count" or len(phrase.value.values) != 1 or phrase.value.values[0] < 2:
            continue
        masses = list(itertools.takewhile(lambda other: other.kind == "mass", sentence.phrases[at + 1 :]))
        if len(masses) == phrase.value.values[0] and not sentence.parted(phrase.last, masses[-1].first):
            phrase.kind = "one"


def _numbers_of(put_up: PutUp) -> tuple[float, ...]:
    return tuple(part.value for part in (put_up.length, put_up.mass) if part)


def will_so_many_do(sentence: Sentence) -> None:
    """``would 5 balls of 120 m cover 640 m?``, ``will a 100 g skein make socks?``: skeins, and what they are to do."""
    if sentence.said("ask.how_many", "ask.skeins", "ask.enough", "ask.check"):
        return
    for at, token in enumerate(sentence.tokens):
        if token.lower not in word_list("will_it") or sentence.kind_at(at - 1) not in ("", "STOP", "NEWLINE", "COMMA"):
            continue
        counted = [
            p for p in sentence.phrases if p.kind in ("count", "times", "putup", "mass") and 0 < p.first - at <= 2
        ]
        verb = next(
            (i for i in range(at + 2, len(sentence.tokens)) if sentence.lower_at(i) in word_list("do_for_it")), 0
        )
        if counted and verb > counted[0].first and not sentence.parted(at, verb):
            sentence.mark("ask.enough")
            return


def one_skein(sentence: Sentence) -> None:
    """``all I have is a skein``, ``I've got one big 150 g cake``: one of them, where what she has is told."""
    others = (p for p in sentence.phrases if p.kind == "count" or (p.kind == "mass" and not _of_another(sentence, p)))
    if not sentence.said("ask.enough") or any(others):
        return
    ends = {cue.last for cue in sentence.cues if cue.kind == "have.before"}
    starts = {phrase.first for phrase in sentence.phrases if _of_a_skein(sentence, phrase)}
    starts -= {phrase.first for phrase in sentence.phrases if _weighed_alone(sentence, phrase)}
    told = (phrase for phrase in sentence.phrases if phrase.kind != "one")
    inside = {at for phrase in told for at in range(phrase.first, phrase.last)}
    for at in range(len(sentence.tokens) - 1):
        single = sentence.kind_at(at) == "ARTICLE" or sentence.lower_at(at) in word_list("just_one")
        lead = at
        while sentence.lower_at(lead - 1) in word_list("before_just_one") - {"is"}:
            lead -= 1
        asked = sentence.lower_at(lead - 1) in ("is", "will", "would", "does") and sentence.kind_at(lead - 2) in (
            "",
            "STOP",
        )
        asked = asked or (sentence.lower_at(at - 1) in word_list("will_it") and at == 1)
        asked = asked or (at == 0 and sentence.lower_at(at) == "one")  # One 100 g ball, 420 m. Enough for socks?
        if not single or at in inside or not (asked or not ends.isdisjoint(range(lead, at + 1))):
            continue
        noun = at + 1
        while sentence.lower_at(noun) in word_list("of_a_skein"):
            noun += 1
        pronoun = sentence.lower_at(at) == "one" and sentence.lower_at(at + 1) in word_list("already_there")
        pronoun = pronoun or (asked and sentence.lower_at(at) == "one" and sentence.lower_at(at + 1) == "do")
        if pronoun or noun in starts or (sentence.kind_at(noun) == "SKEIN" and noun not in inside):
            last = at + 1 if pronoun else noun if noun in starts else noun + 1
            sentence.phrases.append(Phrase("count", at, last, Series((1.0,), "skein")))
            sentence.phrases.sort(key=lambda phrase: phrase.first)
            return


def _weighed_alone(sentence: Sentence, phrase: Phrase) -> bool:
    """``a 1 kg cone of chunky, 105 m/100 g``: what a skein weighs, beside the label of another mass: so much of it."""
    mass = _mass_alone(phrase)
    labels = (p.value for p in sentence.phrases if p.kind == "putup" and p.value.length and p.value.mass)
    return mass is not None and any(label.mass != mass for label in labels)


def one_beside_others(sentence: Sentence) -> None:
    """``one 100 g skein (400 m) and five 20 g minis``: one of a label, where others are counted beside it."""
    for one, count in itertools.pairwise(sentence.phrases):
        gap = {sentence.kind_at(at) for at in range(one.last, count.first)}
        said = one.kind == "putup" and _of_a_skein(sentence, one) and sentence.lower_at(one.first - 1) == "one"
        if said and count.kind == "count" and "AND" in gap <= {"AND", "COMMA", "RPAR"}:
            sentence.phrases.append(Phrase("count", one.first - 1, one.first, Series((1.0,), "skein")))
            sentence.phrases.sort(key=lambda phrase: phrase.first)
            return


def _of_another(sentence: Sentence, mass: Phrase) -> bool:
    """``30 g left of another``: what there is of a second skein, beside a whole one."""
    behind = {sentence.lower_at(at) for at in range(mass.last, mass.last + 4) if not sentence.parted(mass.last, at)}
    return "another" in behind and bool(behind & word_list("still_there"))


def _of_a_skein(sentence: Sentence, phrase: Phrase) -> bool:
    """Whether a put-up is told with the skein itself: ``150 g cake``, not ``230 yd/100 g`` of a yarn at large."""
    return phrase.kind == "putup" and any(sentence.kind_at(at) == "SKEIN" for at in range(phrase.first, phrase.last))


def one_of_them(sentence: Sentence) -> None:
    """``one skein of the chunky has 110 m``: the length of one is the put-up, and one is no count."""
    for count in sentence.phrases:
        if count.kind != "count" or count.value.values != (1.0,):
            continue
        if sentence.kind_at(count.first - 1) in PER and any(
            p.kind == "putup" and p.last == count.first - 1 for p in sentence.phrases
        ):
            count.kind = "one"  # there is 150 m on one ball
            continue
        price = next((p for p in sentence.phrases if p.kind == "price" and 0 < p.first - count.last <= 5), None)
        told = range(count.last, price.first) if price else range(0)
        says_so = any(sentence.lower_at(at) in word_list("costs") for at in told)
        if price and (says_so or {sentence.kind_at(at) for at in told} <= {"COMMA", "COLON", "SKEIN", "AT", "EQ"}):
            count.kind = "one"  # one ball costs 45 kr; one hank, 22 bucks
            continue
        ahead = range(count.last, min(count.last + 6, len(sentence.tokens)))
        says = [at for at in ahead if sentence.lower_at(at) in word_list("holds") or sentence.kind_at(at) == "EQ"]
        length = next((p for p in sentence.phrases if says and p.first == says[0] + 1), None)
        if length and length.kind in ("length", "putup") and not sentence.parted(count.last, length.first):
            if length.kind == "length":
                to_put_up(length)
            count.kind = "one"


def one_besides(sentence: Sentence) -> None:
    """``half a skein left plus a brand new one``, ``3 balls and another full one``: a whole skein more."""
    for at, token in enumerate(sentence.tokens):
        whole = sentence.lower_at(at - 1) in word_list("whole")
        if token.lower != "one" or not whole:
            continue
        count = sentence.last_before(at, "count")
        ends = sentence.kind_at(at + 1) in ("", "STOP", "COMMA", "SEMI", "AND", "RPAR")
        if not ends or count is None or len(count.value.values) != 1:
            continue
        between = {sentence.lower_at(on) for on in range(count.last, at)}
        if between & {"plus", "and", "+"} and between & {"a", "another"} and not sentence.parted(count.last, at):
            some = count.value.values[0]
            count.value = replace(count.value, values=(some + 1,))
            count.notes = (*count.notes, f"{some:g} skeins and a whole one: {some + 1:g}")
            return


def and_a_half(sentence: Sentence) -> None:
    """``one skein and a half``, ``2 and 3/4 balls``, ``3 balls and a quarter of another``."""
    for whole, part in itertools.pairwise(list(sentence.phrases)):
        joined = [sentence.kind_at(at) for at in range(whole.last, part.first)] == ["AND"]
        if not joined or whole.kind != "num" or part.kind != "count" or not may_be_skeins(whole):
            continue
        if part.value.values[0] < 1 <= whole.value.values[0] == int(whole.value.values[0]):
            part.value = Series((whole.value.values[0] + part.value.values[0],), "skein")
            part.first = whole.first
            sentence.phrases.remove(whole)
    for phrase in sentence.phrases:
        if phrase.kind != "count" or len(phrase.value.values) != 1:
            continue
        at = phrase.last
        while sentence.kind_at(at) == "SKEIN" or sentence.lower_at(at) in word_list("whole"):
            at += 1
        at = next((p.last for p in sentence.phrases if p.first == at and p.kind == "putup"), at)
        words = [sentence.lower_at(i) for i in range(at, at + 4)]
        and_half = words[:3] == ["and", "a", "half"] or (words[:3] == ["and", "half", "of"] and words[3] != "it")
        if further := _part_of_one_more(sentence, at):
            more, end = further
            phrase.value, phrase.last = Series((phrase.value.values[0] + more,), "skein"), end
            sentence.phrases[:] = [p for p in sentence.phrases if p is phrase or not at <= p.first < end]
            _no_size(sentence, range(at, end))
        elif and_half:
            phrase.value = Series((phrase.value.values[0] + 0.5,), "skein")
            phrase.last = at + 3


def _no_size(sentence: Sentence, places: range) -> None:
    """Leaves no place in a row to pick a size by: the third and the last are skeins."""
    sentence.unsay_where(lambda cue: cue.kind.startswith("size.") and cue.first in places)
    for token in (sentence.tokens[at] for at in places):
        token.kind = "SPENT" if token.kind == "ORDINAL" else token.kind


def _part_of_one_more(sentence: Sentence, at: int) -> tuple[float, int] | None:
    """``2 balls and a third of the next``, ``… and two thirds of another``: the part that is told, and its end."""
    parts, numbers = load("words.toml")["parts"], load("words.toml")["numbers"]
    led = sentence.kind_at(at + 1) == "ARTICLE" or sentence.lower_at(at + 1) in numbers
    part, of = at + 1 + led, at + 2 + led
    whose = [sentence.lower_at(of + 1), sentence.lower_at(of + 2)]
    of_one_more = whose[0] in ("another", "the", "a", "one", "my") and (
        whose[0] == "another" or whose[1] in word_list("one_more") or sentence.kind_at(of + 2) == "ORDINAL"
    )
    told = sentence.kind_at(at) == "AND" and sentence.lower_at(part) in parts and sentence.kind_at(of) == "OF"
    if not told or not of_one_more:
        return None
    end = of + 2 + (whose[0] != "another")
    end += sentence.lower_at(end) in ("one", "ball", "skein", "hank")
    return numbers.get(sentence.lower_at(at + 1), 1) * parts[sentence.lower_at(part)], end


def spare_skeins(sentence: Sentence) -> None:
    """``2 spare skeins please``, ``plus 2 extra balls``: the spares to be bought, where nothing is said to be there."""
    if sentence.said("ask.enough", "have.before", "used.before", "used.after"):
        return
    more = word_list("spare_ones")
    for phrase in sentence.phrases:
        words = {sentence.lower_at(at) for at in range(phrase.first, phrase.last + 1)}
        if phrase.kind == "count" and len(phrase.value.values) == 1 and words & more:
            phrase.kind = "spares"


def so_many_used(sentence: Sentence) -> None:
    """``I've got 10 skeins. I've used 4``: a lone number used, where skeins are spoken of."""
    counted = [phrase for phrase in sentence.phrases if phrase.kind in ("count", "times")]
    used = {cue.last for cue in sentence.cues if cue.kind == "used.before"}
    for phrase in sentence.phrases if len(counted) == 1 and counted[0].kind == "count" else ():
        closes = sentence.kind_at(phrase.last) in ("", "STOP", "COMMA", "AND", "SEMI")
        lone = phrase.kind == "num" and phrase.first in used and closes and may_be_skeins(phrase)
        of_the_rest = sentence.lower_at(counted[0].last) in word_list("still_there")
        if lone and (of_the_rest or phrase.value.values[0] <= counted[0].value.values[0]):
            phrase.kind, phrase.value = "count", Series(phrase.value.values, "skein")
            phrase.flags = frozenset({"used"})


def _headed_by_skeins(sentence: Sentence, phrase: Phrase) -> bool:
    """``Skeins required: 6 [7, 7, 8]``, ``50 g/125 m qty 8``, ``(50 g/115 m) x 9``: said to be of skeins before it."""
    lead = sentence.lower_at(phrase.first - 1)
    if lead in word_list("quantity") or sentence.kind_at(phrase.first - 1) == "X":
        behind = range(phrase.first - 3, phrase.first)
        return any(other.kind == "putup" and other.last in behind for other in sentence.phrases)
    if sentence.kind_at(phrase.first - 1) != "COLON":
        return False
    return any(sentence.kind_at(i) == "SKEIN" for i in range(max(0, phrase.first - 4), phrase.first - 1))
