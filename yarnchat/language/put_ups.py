"""Which length or mass is one skein's worth."""

from __future__ import annotations

import itertools
import re

from yarnchat.language.amounts import AMOUNTS
from yarnchat.language.lexicon import word_list
from yarnchat.language.phrases import Phrase
from yarnchat.language.sentence import Sentence
from yarnchat.language.skein_limits import HANK_M, LACE_M, WELL_UNDER, usual_mass
from yarnchat.quantity import LENGTHS
from yarnchat.queries import PutUp, Series

PER = frozenset({"PER", "EACH", "ARTICLE", "THE", "IN", "TO", "ON"})
"""The kinds of words between an amount and the one skein it is of."""

ENDS_A_LINK = frozenset({"COMMA", "STOP", "NEWLINE", "SEMI", "NUM", "FOR"})
"""The kinds past which no skein is looked for."""

_LINKS = frozenset({"HOLD", "OF", "WITH", "AT", "EQ"})

_PER_SKEIN_BEFORE = PER | {"OF", "WORD", "FOR", "RPAR", "HOLD"}

_PER_WORDS = frozenset({"this", "that", "my", "one", "single", "every", "in", "on", "to", "it", "whole", "full", "the"})


def one_skeins_worth(sentence: Sentence) -> None:
    """Lengths and masses that are said to be of one skein made put-ups."""
    for phrase in sentence.phrases:
        if phrase.kind == "putup" and _asked_in_skeins(sentence, phrase):
            amount = phrase.value.length or phrase.value.mass
            phrase.kind = "length" if phrase.value.length else "mass"
            phrase.value = Series((amount.value,), amount.unit)
            phrase.first += 2
            continue
        if phrase.kind == "dual" and _in_brackets_of_a_skein(sentence, phrase):
            first, other = (series.first() for series in phrase.value)
            phrase.kind, phrase.value = "putup", PutUp(length=first, other_length=other)
        if phrase.kind == "length" and _for_a_price(sentence, phrase):
            to_put_up(phrase)
        if phrase.kind == "mass" and (_weighed_in_brackets(sentence, phrase) or _priced_by(sentence, phrase)):
            to_put_up(phrase)
        if phrase.flags & {"alike", "amount"}:
            continue
        if phrase.kind in ("length", "mass") and len(phrase.value.values) == 1 and _per_skein(sentence, phrase):
            to_put_up(phrase)
            phrase.last += sentence.lower_at(phrase.last) in ("one", "ones")


def _asked_in_skeins(sentence: Sentence, phrase: Phrase) -> bool:
    """``how many skeins is 1500 g of it``: what is asked for in skeins, and no skein's own."""
    kinds = [sentence.kind_at(at) for at in (phrase.first, phrase.first + 1)]
    lone = bool(phrase.value.length) != bool(phrase.value.mass) and not (
        phrase.value.other_length or phrase.value.other_mass
    )
    asked = sentence.lower_at(phrase.first - 1) == "many" and sentence.lower_at(phrase.first + 1) in ("is", "are")
    return asked and lone and kinds == ["SKEIN", "HOLD"]


def one_of_a_label(sentence: Sentence) -> None:
    """``one ball 100 g is 110 m``: the one skein that a label is told of, where she does not say that she has it."""
    for one, label in itertools.pairwise(sentence.phrases):
        said = one.kind == "count" and label.kind == "putup" and one.last == label.first and one.value.values == (1.0,)
        is_so = any(sentence.kind_at(at) in ("HOLD", "EQ") for at in range(label.first, label.last))
        had = any(cue.kind.startswith(("have.", "used.")) and cue.last == one.first for cue in sentence.cues)
        if said and is_so and not had:
            one.kind = "one"


def _in_brackets_of_a_skein(sentence: Sentence, phrase: Phrase) -> bool:
    """``1 hank (437 yd/400 m)``: one length told twice, in brackets right behind a skein."""
    behind = [sentence.kind_at(phrase.first - 2), sentence.kind_at(phrase.first - 1), sentence.kind_at(phrase.last)]
    lengths = all(series.unit in LENGTHS and len(series.values) == 1 for series in phrase.value)
    return behind == ["SKEIN", "LPAR", "RPAR"] and len(phrase.value) == 2 and lengths


def _weighed_in_brackets(sentence: Sentence, phrase: Phrase) -> bool:
    """``11 balls (50 g) Double Knitting``: what each of the balls counted weighs, in brackets behind them."""
    around = [sentence.kind_at(at) for at in (phrase.first - 2, phrase.first - 1, phrase.last)]
    counted = [other for other in sentence.phrases if other.kind == "count" and other.last == phrase.first - 1]
    if not counted or around != ["SKEIN", "LPAR", "RPAR"] or not _usual_mass(phrase):
        return False
    return not _weighed_together(sentence, counted[0], phrase)


def _weighed_together(sentence: Sentence, count: Phrase, mass: Phrase) -> bool:
    """``50 g / 120 m … 2 balls (100 g)``: what they weigh together, by their label; in a check by any other."""
    if len(count.value.values) != 1 or count.value.values[0] <= 1:
        return False
    grams = mass.value.first().to("g").value
    labels = [p.value for p in sentence.phrases if p.kind == "putup" and p.value.length and p.value.mass]
    each = {label.mass.to("g").value for label in labels if label.mass is not None}
    return count.value.values[0] * min(each, default=0.0) == grams or (
        sentence.said("ask.check") and bool(each) and grams not in each
    )


def _priced_by(sentence: Sentence, phrase: Phrase) -> bool:
    """``6.90 € per 50 g``: the mass a price is told for, where skeins may weigh so much."""
    per = sentence.kind_at(phrase.first - 1) in ("PER", "SLASH", "FOR")
    priced = any(other.kind == "price" and other.last == phrase.first - 1 for other in sentence.phrases)
    return per and priced and _usual_mass(phrase)


def to_put_up(phrase: Phrase) -> None:
    amount = phrase.value.first()
    phrase.kind, phrase.value = (
        "putup",
        PutUp(length=amount) if phrase.kind == "length" else PutUp(mass=amount),
    )


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
        short = phrase.value.first().to("m").value <= HANK_M
        others = any(p is not phrase and p.kind == "length" for p in sentence.phrases)
        offered = gap == ["for"] and (others or short)
        if offered and phrase.last <= price.first:
            return True  # 200 m for £9
        beside = price.last + 1 == phrase.first and sentence.kind_at(price.last) == "COMMA"
        if beside and each and short and any(p.kind == "length" and p.last <= price.first for p in sentence.phrases):
            return True  # 1310 yd of worsted; it's $24 a skein, 250 yds
        if told and each and phrase.last <= price.first and set(gap) <= {"at", "for", ",", "and", "costs", "cost"}:
            return len(gap) <= 2
    return False


def _has_its_own(sentence: Sentence, price: Phrase) -> bool:
    """``DK 225 m at €7 and aran 170 m at €6 for 1000 m``: a price with a length before it asks for none after it."""
    before = [phrase for phrase in sentence.phrases if phrase.last in (price.first - 1, price.first)]
    of_length = bool(before) and before[0].kind in ("length", "putup")
    joined = before and (before[0].last == price.first or sentence.kind_at(price.first - 1) == "AT")
    return bool(of_length and joined) and sentence.said("ask.compare")


def skein_near(sentence: Sentence, at: int, reach: int) -> bool:
    """Whether a skein is named at a token or up to ``reach`` after it, with only small words before it."""
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
        or _each_of_so_much(sentence, phrase)
        or _behind_its_price(sentence, phrase)
        or _of_whole_ones(sentence, phrase)
        or _all_alike(sentence, phrase)
        or _sold_by(sentence, phrase)
        or _length_of_a_yarn(sentence, phrase)
        or _each_skein(sentence, phrase)
        or (phrase.kind == "length" and _bracketed_label(sentence, phrase))
    ):
        return True
    ahead = _by_skein_ahead(sentence, phrase)
    return _by_skein_before(sentence, phrase) if ahead is None else ahead


def _each_of_so_much(sentence: Sentence, phrase: Phrase) -> bool:
    """``15 balls of 4 ply, each of 170 metres``: on each of the skeins told before it."""
    kinds = [sentence.kind_at(at) for at in range(phrase.first - 2, phrase.first)]
    clause = range(max(0, phrase.first - _A_CLAUSE), phrase.first)
    said = any(sentence.kind_at(at) == "SKEIN" for at in clause)
    said = said or any(p.kind == "count" and p.first in clause for p in sentence.phrases)  # five left, each of 180 yds
    return said and kinds[0] == "EACH" and kinds[1] in ("OF", "WITH", "HOLD", "AT")


_A_CLAUSE = 9


def _behind_its_price(sentence: Sentence, phrase: Phrase) -> bool:
    """``skeins are $24 each, 420 yds, and I need 1250``: a length behind what one skein costs, beside a longer one."""
    priced = [p for p in sentence.phrases if p.kind == "price" and 0 < phrase.first - p.last <= _IT_HAS]
    of_one = any(
        sentence.kind_at(at) in ("EACH", "SKEIN") for p in priced for at in range(p.first - _A_SKEIN_IS, p.last)
    )
    gap = {sentence.kind_at(at) for p in priced for at in range(p.last, phrase.first)}
    if phrase.kind != "length" or not of_one or not gap <= {"COMMA", "AND", "LPAR", "HOLD", "WITH", "WORD"}:
        return False
    if "WORD" in gap and "HOLD" not in gap:
        return False
    own = phrase.value.first().to("m").value
    others = [p for p in sentence.phrases if p.kind == "length" and p is not phrase]
    return own <= LACE_M and any(own < WELL_UNDER * p.value.largest().to("m").value for p in others)


_IT_HAS = 3
"""``€6.90 and it has 100 m``: so many words may stand between what a skein costs and its length."""
_A_SKEIN_IS = 2
"""``one ball is €6.90``: so many between the skein and what it costs."""


def _of_whole_ones(sentence: Sentence, phrase: Phrase) -> bool:
    """``whole ones being 210 yd``, ``a full one has 120 m``: what is told of whole skeins."""
    after = [sentence.lower_at(at) for at in range(phrase.last, phrase.last + 4)]
    if after[0] == "when" and (after[1] in word_list("whole") or after[3] in word_list("whole")):
        return True  # half a skein, 400 m when it was whole
    told = sentence.kind_at(phrase.first - 1) in ("HOLD", "COLON", "EQ")
    whole = sentence.lower_at(phrase.first - 2) in ("one", "ones") or sentence.kind_at(phrase.first - 2) == "SKEIN"
    return told and whole and sentence.lower_at(phrase.first - 3) in word_list("whole")


def _sold_by(sentence: Sentence, phrase: Phrase) -> bool:
    """``sold by the 50 g``, ``it's sold as 150 g``."""
    lead = [sentence.lower_at(at) for at in (phrase.first - 2, phrase.first - 1)]
    return lead in (["by", "the"], ["sold", "as"], ["sold", "in"]) and phrase.kind == "mass"


def _all_alike(sentence: Sentence, phrase: Phrase) -> bool:
    """``five balls gone, four more in the bag, all 50g``, ``3 balls and 5, all 105 m``: each of the balls told of."""
    if sentence.lower_at(phrase.first - 1) != "all":
        return False
    counted = any(p.kind == "count" and p.last <= phrase.first for p in sentence.phrases)
    alone = sentence.kind_at(phrase.last) in {"", "STOP", "COMMA", "RPAR", "NEWLINE"}
    if phrase.kind == "length":
        others = any(p.kind == "length" and p is not phrase for p in sentence.phrases)
        return (
            counted
            and alone
            and others
            and sentence.kind_at(phrase.first - 2) == "COMMA"
            and not _hardly_a_skein(phrase)
        )
    return counted and alone and _usual_mass(phrase)


def _usual_mass(phrase: Phrase) -> bool:
    return len(phrase.value.values) == 1 and usual_mass(phrase.value.first())


def _each_of_them(sentence: Sentence, phrase: Phrase) -> bool:
    """``each with 210 m``, ``each of them 50 g``, ``the 210 m ones``."""
    lead = [sentence.lower_at(i) for i in range(phrase.first - 3, phrase.first)]
    held = sentence.kind_at(phrase.first - 1) == "HOLD"
    return (
        lead[1:] in (["each", "with"], ["each", "one"])
        or (lead[:2] == ["each", "of"] and (lead[2] in _THEM or held))
        or ([sentence.lower_at(phrase.first - 4), lead[0]] == ["each", "of"] and lead[1] in _THEM and held)
        or (lead[1:2] == ["of each"] and held)
        or (sentence.lower_at(phrase.last) in ("ones", "one") and not _hardly_a_skein(phrase))
        or (lead[1:] == ["of", "the"] and sentence.lower_at(phrase.last) in word_list("kinds_of_yarn"))
        or (lead[2] == "the" and sentence.lower_at(phrase.last) == "ones")
    )


def _in_a_pattern(sentence: Sentence, phrase: Phrase) -> bool:
    """``a chunky pattern with 720 m in it``: what the pattern takes."""
    near = range(phrase.first - 2, phrase.first)
    return any(cue.kind == "pattern.noun" and cue.last - 1 in near for cue in sentence.cues)


def _hardly_a_skein(phrase: Phrase) -> bool:
    """``and a 900 m one?``: longer than a hank, and so rather what a pattern takes."""
    return phrase.kind == "length" and bool(phrase.value.first().to("m").value > HANK_M)


_THEM = frozenset({"them", "these", "those", "which"})


def _by_skein_ahead(sentence: Sentence, phrase: Phrase) -> bool | None:
    """``210 m per ball``, ``50 g in each``: whether the words after it say so; None where they say nothing of it."""
    metres = phrase.value.first().to("m").value if phrase.kind == "length" else 0.0
    linked = False
    for index in range(phrase.last, min(phrase.last + 4, len(sentence.tokens))):
        token = sentence.tokens[index]
        if token.kind == "SKEIN":
            return linked or index == phrase.last
        if linked and token.lower == "one":
            return True
        if token.kind in ("IN", "ON") and sentence.lower_at(index + 1) in ("it", "them", "each", "one", "every"):
            used = sentence.kind_at(index - 1) == "HOLD"  # 200 m are in it already
            used = used or any(cue.kind == "used.before" and cue.last == phrase.first for cue in sentence.cues)
            return not used and not _in_a_pattern(sentence, phrase)
        if token.kind in ("CLASS", "NAME") and metres <= HANK_M and sentence.kind_at(index + 1) == "SKEIN":
            return True
        if token.kind not in _PER_SKEIN_BEFORE or (token.kind == "WORD" and token.lower not in _PER_WORDS):
            return None
        linked = linked or token.kind in PER or token.lower in ("every", "one", "this", "that")
    return None


def _by_skein_before(sentence: Sentence, phrase: Phrase) -> bool:
    """``a ball of 210 m``, ``balls of aran with 80 m``: whether a skein before it says so."""
    for index in range(phrase.first - 1, max(phrase.first - 7, -1), -1):
        kind = sentence.tokens[index].kind
        if kind in ENDS_A_LINK and not _in_a_price(sentence, index):
            return False  # but: each hank costs 28 dollars and has 420 yards
        covered = any(other.first <= index < other.last for other in sentence.phrases if other.kind != "price")
        if kind == "SKEIN" and index == phrase.first - 1 and phrase.kind == "length":
            return not covered and not _asks(sentence, index)
        if kind == "SKEIN":
            return _links_to_skein(sentence, phrase, index)
        if covered and kind not in ("CLASS", "NAME"):
            return False
    return False


def _in_a_price(sentence: Sentence, at: int) -> bool:
    return any(other.kind == "price" and other.first <= at < other.last for other in sentence.phrases)


def _asks(sentence: Sentence, at: int) -> bool:
    """Whether a token stands in a wording that asks: ``how many skeins``."""
    asked = any(cue.kind.startswith("ask.") and cue.first <= at < cue.last for cue in sentence.cues)
    return asked or (sentence.lower_at(at - 1) == "many" and sentence.lower_at(at + 1) in ("is", "are", "for", "in"))


def _each_skein(sentence: Sentence, phrase: Phrase) -> bool:
    """``9 balls, each 160 m``: each of the skeins spoken of, not of two jumpers; ``3 skeins 437 yd`` says no each."""
    before = range(max(0, phrase.first - 12), phrase.first)
    if sentence.kind_at(phrase.first - 1) == "EACH" and any(sentence.kind_at(i) == "SKEIN" for i in before):
        return True
    if phrase.kind != "length":
        return False
    counted = any(other.kind == "count" and other.last == phrase.first for other in sentence.phrases)
    return counted and any(other.kind == "length" and other is not phrase for other in sentence.phrases)


def _links_to_skein(sentence: Sentence, phrase: Phrase, skein: int) -> bool:
    """Whether the words between a skein and a length say that the length is on it."""
    if _asks(sentence, skein) and sentence.kind_at(skein + 1) != "OF":
        return False
    lead = sentence.kind_at(phrase.first - 1)
    if lead == "OF" or [sentence.kind_at(phrase.first - 2), lead] == ["OF", "ARTICLE"]:
        of = phrase.first - (1 if lead == "OF" else 2)
        word = sentence.kind_at(of - 1) == "WORD" and phrase.kind == "mass"  # seven balls left of 50 g
        word = word or sentence.kind_at(of - 1) == "HOLD"  # the balls are of 50 g
        return skein == of - 1 or (word and skein == of - 2)
    bracketed = lead == "COLON" and sentence.kind_at(skein - 1) == "LPAR"  # 20 sts to 10 cm for mine (ball: 92 m)
    return bracketed or lead in _LINKS or any(sentence.kind_at(i) == "HOLD" for i in range(skein + 1, phrase.first))


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
    counted = any(other.kind == "count" and other.last == phrase.first - 1 for other in sentence.phrases)
    wound = any(p.kind == "putup" and p.value.length and p.last <= phrase.first for p in sentence.phrases)
    if counted and wound:
        return False  # 220 yd per skein. MC: 3 skeins (610 yd)
    metres = phrase.value.first().to("m").value
    of_skeins = [sentence.kind_at(at) for at in range(phrase.first - 4, phrase.first - 1)] == ["SKEIN", "OF", "CLASS"]
    longest = LACE_M if of_skeins else HANK_M  # skeins of lace (850 yds)
    return metres <= longest and any(p is not phrase and p.kind in AMOUNTS for p in sentence.phrases)


def _length_of_a_yarn(sentence: Sentence, phrase: Phrase) -> bool:
    """``a 400 yd fingering``, ``a DK of 250 yds``, ``skeins of the 210 yd worsted``: beside a longer one, its own."""
    links = {"WITH", "HOLD", "AT"} | ({"OF"} if sentence.kind_at(phrase.first - 3) == "ARTICLE" else set())
    with_it = sentence.kind_at(phrase.first - 1) in links and sentence.kind_at(phrase.first - 2) in (
        "CLASS",
        "NAME",
        "WEIGHT",
    )
    if phrase.kind == "length" and _of_a_count(sentence, phrase):
        return bool(phrase.value.first().to("m").value <= LACE_M)
    if phrase.kind != "length" or not (with_it or sentence.kind_at(phrase.first - 1) in ("ARTICLE", "THE")):
        return False
    if not with_it and sentence.kind_at(phrase.last) not in ("CLASS", "NAME"):
        return False
    if not with_it and _of_a_thing_to_knit(sentence, phrase):
        return False
    metres = phrase.value.first().to("m").value
    others = [p for p in sentence.phrases if p.kind == "length" and p is not phrase]
    longest = max((p.value.largest().to("m").value for p in others), default=0.0)
    counted = any(p.kind in ("count", "times") for p in sentence.phrases) and (
        with_it or (not others and sentence.kind_at(phrase.first - 2) == "OF")
    )
    return metres <= HANK_M and (counted or metres < WELL_UNDER * longest)


def _of_a_thing_to_knit(sentence: Sentence, length: Phrase) -> bool:
    """``for a 700 yd DK pattern``, ``a 400 m aran vest``: a length before a weight and what is knitted in it."""
    yarn = next((p for p in sentence.phrases if p.kind in ("weight", "name") and p.first == length.last), None)
    things = ("pattern.noun", "pattern.thing")
    return yarn is not None and any(cue.kind in things and cue.first == yarn.last for cue in sentence.cues)


def _of_a_count(sentence: Sentence, phrase: Phrase) -> bool:
    """``2 skeins of laceweight 800 m``, where another length is needed: what is on each of them."""
    kinds = [sentence.kind_at(at) for at in range(phrase.first - 2, phrase.first)]
    if kinds != ["OF", "CLASS"]:
        return False
    counted = any(other.kind == "count" and other.last == phrase.first - 2 for other in sentence.phrases)
    return counted and any(other.kind == "length" and other is not phrase for other in sentence.phrases)


def priced_lengths(sentence: Sentence) -> None:
    """``220 yd at $9 or 400 yd at $15``, ``100 g for $12 or 50 g for $7``: amounts with a price are a skein's."""
    pairs = [
        one
        for one, two in itertools.pairwise(sentence.phrases)
        if one.kind in ("length", "mass") and two.kind == "price" and len(one.value.values) == 1
        if {sentence.kind_at(at) for at in range(one.last, two.first)} <= {"AT", "COMMA", "FOR", "DASH", "LPAR"}
    ]
    if len(pairs) > 1:
        for phrase in pairs:
            to_put_up(phrase)


def _lead(sentence: Sentence, phrase: Phrase) -> str:
    """The few words before a phrase, run together."""
    return "".join(token.lower for token in sentence.tokens[max(0, phrase.first - 6) : phrase.first])


def put_up_named(sentence: Sentence) -> None:
    """``the put-up is 250 yd``, ``225 yards, each skein``, ``they're 175 m``: a length that is called one skein's."""
    for phrase in sentence.phrases:
        if phrase.kind == "dual" and phrase.value[0].unit in LENGTHS and _LABEL_SAYS.search(_lead(sentence, phrase)):
            length, other = (series.first() for series in phrase.value)
            phrase.kind, phrase.value = "putup", PutUp(length=length, other_length=other)
        if phrase.kind not in ("length", "mass") or len(phrase.value.values) != 1:
            continue
        lead = _lead(sentence, phrase)
        called = bool(_PUT_UP.search(lead)) or _in_an_aside(sentence, phrase)
        called = called or (phrase.kind == "length" and bool(_LABEL_SAYS.search(lead) or _IN_ONE.search(lead)))
        behind = [sentence.kind_at(at) for at in range(phrase.last, phrase.last + 4)]
        called = called or _at_so_many(sentence, phrase) or _on_the_label(sentence, phrase)
        out_of_each = [sentence.lower_at(at) for at in range(phrase.last, phrase.last + 3)]
        called = called or out_of_each[:2] in (["out", "of each"], ["from", "each"], ["of each", ""])
        each = behind[:3] == ["COMMA", "EACH", "SKEIN"] and behind[3] in ("", "STOP", "NEWLINE")
        they = sentence.lower_at(phrase.first - 1) in ("they're", "theyre") or lead.endswith(("theyare", "theseare"))
        others = any(p is not phrase and p.kind in ("length", "num", "count") for p in sentence.phrases)
        if called or each or (they and others and phrase.kind == "length"):
            to_put_up(phrase)


def _on_the_label(sentence: Sentence, phrase: Phrase) -> bool:
    """``this worsted has 195 yards on the label``, ``170 m, says the ball band``, beside what is needed."""
    behind = [sentence.lower_at(at) for at in range(phrase.last, phrase.last + _ON_THE_BALL_BAND)]
    told = behind[0] == "on" or behind[:2] in ([",", "says"], [",", "said"])
    own = phrase.value.first().to("m").value if phrase.kind == "length" else 0.0
    longer = any(
        p.kind == "count" or (p.kind == "length" and p.value.largest().to("m").value > own)
        for p in sentence.phrases
        if p is not phrase
    )
    of_the_pattern = any(cue.kind == "pattern.noun" and 0 < phrase.first - cue.last <= _IT_HAS for cue in sentence.cues)
    return told and longer and not of_the_pattern and not word_list("bands").isdisjoint(behind)


_ON_THE_BALL_BAND = 5


def _at_so_many(sentence: Sentence, phrase: Phrase) -> bool:
    """``how many skeins for 1600 yards at 250 yards?``: the smaller length, after at."""
    lead = [sentence.kind_at(at) for at in (phrase.first - 2, phrase.first - 1)]
    if phrase.kind != "length" or lead not in (["LEN", "SLASH"], ["LEN", "AT"]):
        return False
    divided = lead[1] == "SLASH" and len(sentence.phrases) == 2 and not sentence.said("ask.check")
    asked = lead[1] == "AT" and sentence.said("ask.skeins") and all(p.kind != "putup" for p in sentence.phrases)
    return (divided or asked) and any(
        other.kind == "length" and other is not phrase and max(other.value.values) >= 2 * max(phrase.value.values)
        for other in sentence.phrases
    )


def _in_an_aside(sentence: Sentence, phrase: Phrase) -> bool:
    """``every ball, whatever the colour, holds 115 m``."""
    start = sentence.tokens[phrase.first].start
    return sentence.kind_at(phrase.first - 1) == "HOLD" and bool(
        _ASIDE.search(sentence.text[max(0, start - 80) : start])
    )


_ASIDE = re.compile(
    r"\b(?:every|each|a|one|the) (?:ball|skein|hank|cone|cake), [^,.;]{3,30}, (?:holds|has|is|gives|runs to) $",
    re.IGNORECASE,
)
_IN_ONE = re.compile(
    r"(?:in|on)(?:this|that|each|every|the|a|one)(?:one|ball|skein|hank|cone|cake)?(?:there's|thereis|thereare|is|are)$"
)
_LABEL_SAYS = re.compile(
    r"(?:ballband:?|(?<!pattern)(?:label|band|tag|wrapper|sleeve)(?:says|reads|gives|is|has)|(?:skein|ball|hank)(?:says|reads|gives))"
    r"(?:its|it's|about)?$"
)
_PUT_UP = re.compile(r"put-?ups?(?:is|are|was|being|=|:|of)?(?:actually|really|only|about|in|fact)*$")
