"""Why a reading cannot be answered: contradictions, two things at once, another craft or topic."""

from __future__ import annotations

import itertools

from yarnchat.language.amounts import Amounts
from yarnchat.language.clean import printable
from yarnchat.language.colours import certain_labels, joined_before, joined_behind
from yarnchat.language.contradictions import (
    contradiction,
    denied_weight,
    doubled,
    doubled_length,
    doubled_with,
    held_along,
    held_nameless,
    held_untold,
    held_with,
    lace_or_lace,
    length_as_held,
)
from yarnchat.language.denied import denied_before, done_all_the_same
from yarnchat.language.lexicon import load, made_several, word_list
from yarnchat.language.phrases import Phrase
from yarnchat.language.progress import part_of_a_part
from yarnchat.language.repair import Doubt
from yarnchat.language.sentence import Sentence
from yarnchat.language.sides import YARN, Sides
from yarnchat.language.stitch_counts import gauges_apart, gauges_equated, over_what
from yarnchat.language.wishes import sizes_meant
from yarnchat.language.yarns import compatible
from yarnchat.queries import AND_SIZE, Query
from yarnchat.refusals import Refusal, not_understood, unclear


def unknown_weight(doubtful: Doubt) -> Refusal:
    """A word where a weight should stand, that may be a slip for one."""
    word, guess, question = doubtful
    near = f" Did you mean {guess}?" if guess else " Which weight class is it?"
    return unclear(f"I don't know “{word}” as a weight of yarn.{near}", word, suggestions=(question,) if guess else ())


def _count_asked_for(sentence: Sentence) -> Refusal | None:
    """``how many 200 200 yd skeins``: a count where the count is what is asked for."""
    asked = _many_asked(sentence)
    for phrase in sentence.phrases:
        if phrase.first in asked and phrase.kind in ("times", "count"):
            count = f"{(phrase.value[0] if phrase.kind == 'times' else phrase.value).values[0]:g}"
            return unclear(f"I can't tell what “{count}” stands for, where how many is asked.", count)
    return None


def _things_asked_for(sentence: Sentence, query: Query) -> Refusal | None:
    """``rows take 2.5 m, how many rows``, ``how many 12 yd squares from a skein``: what no ability works out."""
    if query.measured or not (query.stash or query.colours or query.piece):
        return None
    lengths = {phrase.first: phrase.last for phrase in sentence.phrases if phrase.kind == "length"}
    for at in _many_asked(sentence):
        place = lengths.get(at, at)
        while sentence.kind_at(place) in ("NUM", "SHORT", "DASH", "X") or sentence.lower_at(place) == "more":
            place += 1
        things = sentence.lower_at(place)
        made = things in made_several() or (things.endswith("s") and things in word_list("parts_of_work"))
        if sentence.kind_at(place) == "ROWS" or made:
            return unclear(
                f"How many {printable(things)} that makes I can't tell. Ask how long the yarn is, "
                "or whether it is enough."
            )
    return None


def _many_asked(sentence: Sentence) -> list[int]:
    """The places right behind each ``how many``."""
    tokens = enumerate(sentence.tokens)
    return [at + 1 for at, token in tokens if token.lower == "many" and sentence.lower_at(at - 1) == "how"]


def _counts_asked_for(sentence: Sentence, query: Query) -> Refusal | None:
    """``how many rows at 5 sts to 1 in``, ``how many stitches to cast on``, ``how many yards in a skein of DK``."""
    converted = query.measured.gauge if query.measured else None
    rows = query.progress or query.piece or (converted and converted.rows)
    rows = rows or any(p.kind == "rowgauge" or (p.kind == "gauge" and p.value.rows) for p in sentence.phrases)
    labelled = any(phrase.kind == "putup" for phrase in sentence.phrases)
    for at in _many_asked(sentence):
        ahead = range(at + 1, at + _A_QUESTION)
        if sentence.kind_at(at) == "ROWS" and not rows:
            return unclear("How many rows that is only a swatch tells. I work out yarn, and not rows.", "how many rows")
        if sentence.kind_at(at) == "STS" and any(sentence.lower_at(on) in word_list("casting_verbs") for on in ahead):
            return unclear(
                "How many stitches to cast on your pattern tells, or the gauge of a swatch. I work out yarn.",
                "how many stitches",
            )
        of_a_skein = any(sentence.kind_at(on) == "SKEIN" for on in range(at + 1, at + _OF_A_SKEIN))
        if sentence.kind_at(at) in ("LEN", "MASS") and of_a_skein and sentence.said("ask.convert") and not labelled:
            return unclear(
                "What is on a skein differs widely within one weight: its label tells. "
                "Type for example: how many skeins of 230 yd for 1000 yd?",
                sentence.lower_at(at),
            )
    return None


_A_QUESTION = 8
_OF_A_SKEIN = 4


def _budget(sentence: Sentence) -> Refusal | None:
    """``£45 budget``: what there is to spend is no price of a skein."""
    prices = [phrase for phrase in sentence.phrases if phrase.kind == "price"]
    told = [
        price
        for price in prices
        for cue in sentence.cues
        if cue.kind == "price.budget" and (0 <= cue.first - price.last <= 1 or 0 <= price.first - cue.last <= 2)
    ]
    if not told:
        return None
    said = str(told[0].value)
    return unclear(
        f"I reckon what yarn costs, and not what {said} will buy or take off. Ask without it: what does it come to?",
        said,
    )


def _enough_of_each(sentence: Sentence) -> Refusal | None:
    """``I've 200 m of red and 180 m of blue. It wants 190 m of each. Enough?``: a question for each of them."""
    told = [p for p in sentence.phrases if p.kind == "length" or (p.kind == "putup" and not p.value.mass)]
    each = any(token.lower == "of each" for token in sentence.tokens)
    if not (each and sentence.said("ask.enough") and sentence.said("have.before")) or len(told) <= _OF_ONE:
        return None
    return unclear("Ask of one colour at a time: what you have of it, and what it takes.")


_OF_ONE = 2
"""What she has and what is needed."""


def _one_of_them_alone(sentence: Sentence) -> Refusal | None:
    """``I have 600 yds of fingering and 200 yds of sport. Would the fingering alone do?``: of two lots, one."""
    weights = [phrase for phrase in sentence.phrases if phrase.kind in ("weight", "name")]
    alone = any(sentence.lower_at(phrase.last) == "alone" for phrase in weights)
    told = {phrase.value for phrase in weights}
    if not (alone and sentence.said("ask.enough") and len(told) > 1):
        return None
    return unclear("Ask of that one alone: how much of it you have, and what the pattern takes.")


def _cost_of_some(sentence: Sentence, query: Query) -> Refusal | None:
    """``£14 a skein, used 62 g: worth?``, ``what did the yarn in the hat cost?``: of a part of a skein."""
    asked = sentence.said("ask.cost") and bool(query.amounts) and not query.stash
    past = any(token.lower == "did" for token in sentence.tokens)
    if not asked or not (past or sentence.said("used.before")) or sentence.said("pattern.noun", "pattern.verb"):
        return None
    swapped = len({yarn.weight_class for yarn in query.both_sides if yarn.weight_class}) > 1
    if swapped or all(series.unit == "skein" for series in query.amounts):
        return None
    return unclear("What a part of a skein is worth I do not reckon: yarn is bought in whole skeins.")


def unsettled(sentence: Sentence, query: Query, given: Sides, amounts: Amounts) -> Refusal | None:
    """What no reading settles: amounts that are not one whole, sayings against each other, another subject."""
    return (
        _count_asked_for(sentence)
        or _things_asked_for(sentence, query)
        or _counts_asked_for(sentence, query)
        or lace_or_lace(sentence, query)
        or _needle_besides(sentence, query)
        or held_along(sentence, query)
        or held_with(sentence, query)
        or held_untold(sentence, query)
        or held_nameless(sentence, query)
        or doubled_length(sentence, query)
        or length_as_held(sentence, query)
        or doubled_with(sentence)
        or denied_weight(sentence, query)
        or _budget(sentence)
        or _cost_of_some(sentence, query)
        or _enough_of_each(sentence)
        or _one_of_them_alone(sentence)
        or _each_thing(sentence, query, amounts)
        or doubled(sentence)
        or _either_lot(sentence)
        or _one_of_the_compared(sentence, query)
        or _someone_elses(sentence)
        or _skeins_or_hers(sentence, query, amounts)
        or _counted_of_hers(sentence, query, given, amounts)
        or _hers_denied(sentence, amounts)
        or _needle_change(sentence)
        or gauges_apart(sentence)
        or gauges_equated(sentence)
        or over_what(sentence)
        or _held_all_the_same(sentence)
        or _scaled(sentence, query)
        or _offered(sentence)
        or _part_done(sentence, query)
        or _part_held(sentence, query)
        or _several_for_a_price(sentence)
        or _cheaper_by_number(sentence)
        or _mass_of_some_wool(sentence, amounts)
        or _two_sizes_named(sentence, query)
        or _which_size(sentence, query)
        or contradiction(sentence, given)
        or _colour_left_out(sentence, query)
        or _elsewhere(sentence)
    )


def _either_lot(sentence: Sentence) -> Refusal | None:
    """``8 balls of 150 yards or 5 skeins of 220``: two lots to choose between; one is asked about at a time."""
    lots = [
        (one.first, two.last)
        for one, two in itertools.pairwise(sentence.phrases)
        if one.kind == "count" and two.kind == "putup" and two.first - one.last <= 1
    ]
    for (_, end), (begin, _) in itertools.pairwise(lots):
        either = any(sentence.kind_at(at) == "OR" for at in range(end, begin)) or sentence.said("ask.compare")
        if begin - end <= _SO_NEAR and either:
            return unclear(
                "I read two lots to choose between. Ask whether one of them is enough, or compare the two by what is "
                "on a skein: compare for 1000 yd: 150 yd a skein or 220 yd a skein."
            )
    return None


_SO_NEAR = 3


def _one_of_the_compared(sentence: Sentence, query: Query) -> Refusal | None:
    """``brand A is 220 yd at $12, B is 190 yd at $9.50, which costs less?``, with one of them read as the pattern's."""
    prices = sum(token.kind == "CUR" for token in sentence.tokens)
    if not sentence.said("ask.compare") or prices < len(query.both_sides) or len(query.yarns) != 1:
        return None
    if query.pattern.put_up is None or query.yarns[0].put_up is None:
        return None
    return unclear(
        "Two yarns to choose between, and I could not tell them from the pattern's. Type for example: compare for "
        "1200 yd of DK: 230 yd a skein at £6 or 260 yd a skein at £7."
    )


def _someone_elses(sentence: Sentence) -> Refusal | None:
    """``my friend has 6 balls and I have 4``: whether the other's count too is asked."""
    counts = [phrase for phrase in sentence.phrases if phrase.kind in ("count", "num")]
    theirs = [p for p in counts if sentence.lower_at(p.first - 1) in ("has", "had") and _of_a_person(sentence, p)]
    mine = [p for p in counts if [sentence.lower_at(at) for at in (p.first - 2, p.first - 1)] == ["i", "have"]]
    if not theirs or not mine:
        return None
    said = sentence.words(theirs[0])
    return unclear(
        f"Do the {said} that are not yours count too? Leave them out, or say how many there are in all.", said
    )


def _skeins_or_hers(sentence: Sentence, query: Query, amounts: Amounts) -> Refusal | None:
    """``a 1100 yd pattern, with my worsted 200 yds``: a short length beside a yarn of hers, of one skein or of all."""
    if sentence.said("ask.enough") or len(amounts.have) != 1 or not query.yarns or query.yarns[0].put_up:
        return None
    [mine] = amounts.have
    needs = [phrase.value.largest().to("m").value for phrase in amounts.need if phrase.kind == "length"]
    if mine.kind != "length" or sentence.kind_at(mine.first - 1) not in ("CLASS", "NAME") or not needs:
        return None
    if mine.value.largest().to("m").value > max(needs) / _HARDLY_ALL:
        return None
    said = sentence.words(mine)
    return unclear(f"Is {said} the length of one skein, or all that you have? Type for example: {said} a skein.", said)


_HARDLY_ALL = 3
"""What is under so small a part of the need is hardly all that she has (common practice, no source)."""


def _counted_of_hers(sentence: Sentence, query: Query, given: Sides, amounts: Amounts) -> Refusal | None:
    """``7 skeins of lace … one strand of worsted``, with the lace read as hers: the skeins would be the pattern's."""
    if not query.pattern.weight_class or sentence.said("ask.check", "ask.compare"):
        return None
    for group in given.of(YARN):
        called = max((p.first for p in group.phrases if p.kind in ("weight", "name")), default=0)
        counted = [p for p in group.amounts if p in amounts.need and p.kind in ("count", "times") and p.first < called]
        if counted and group.weight and query.pattern.weight_class not in group.weight:
            told = sentence.words(counted[0])
            return unclear(
                f"Is {told} what the pattern takes of {query.pattern}, or of {group.called}? "
                "Say which of the two yarns the pattern is written for.",
                told,
            )
    return None


def _hers_denied(sentence: Sentence, amounts: Amounts) -> Refusal | None:
    """``I don't have 6 balls``, and nothing that she has instead."""
    owning = {cue.first for cue in sentence.cues if cue.kind == "have.before"}
    for phrase in amounts.have:
        lead = range(phrase.first - 2 * _A_WORD_OR_TWO, phrase.first)
        has_not = any(
            sentence.lower_at(at) in word_list("denying") and (at + 1 in owning or sentence.lower_at(at + 1) in _OWN)
            for at in lead
        )
        once = any(
            cue.kind == "negation.once" and cue.last == phrase.first and sentence.lower_at(cue.first) != "if"
            for cue in sentence.cues
        )  # I used to have 8 balls
        if once or (has_not and denied_before(sentence, phrase.first)):
            said = sentence.words(phrase)
            return unclear(f"“{said}”: you say you haven't got that. What do you have?", said)
    return None


_OWN = frozenset({"have", "got", "own"})
_A_WORD_OR_TWO = 2


def _needle_change(sentence: Sentence) -> Refusal | None:
    """``do I go up or down a needle?``: only a swatch on another needle tells."""
    if not sentence.said("ask.needle_change"):
        return None
    return unclear(
        "Which needle gives a gauge only a swatch tells: with more stitches than the pattern's try a larger needle, "
        "with fewer a smaller one. I work out yarn: type for example: 1000 yd pattern at 22 sts, I get 24."
    )


def _held_all_the_same(sentence: Sentence) -> Refusal | None:
    """``the pattern doesn't hold it double but I will``: the strands of each side are asked for."""
    for phrase in (phrase for phrase in sentence.phrases if phrase.kind == "strands" and phrase.value > 1):
        if denied_before(sentence, phrase.first) and done_all_the_same(sentence, phrase.last):
            said = sentence.words(phrase)
            return unclear(f"“{said}”: which yarn is? Type for example: 800 yd of DK in fingering held double.", said)
    return None


def _scaled(sentence: Sentence, query: Query) -> Refusal | None:
    """``a third longer``, ``same for the back``, ``knit this twice``: how much that makes is asked."""
    if not query.colours:
        return None
    said = [cue for cue in sentence.cues if cue.kind == "need.scaled"]
    spans = [(cue.first, cue.last) for cue in said]
    things = {cue.last for cue in sentence.cues if cue.kind == "pattern.thing"}
    for at, token in enumerate(sentence.tokens):
        looked = sentence.lower_at(at - 2) in word_list("looked_over")  # I measured it twice
        if token.lower in ("twice", "thrice") and sentence.lower_at(at - 1) in _IT and not looked:
            spans.append((at - 1, at + 1))
        elif at in things and [sentence.lower_at(on) for on in range(at, at + 3)] == ["and", "a", "half"]:
            spans.append((at - 1, at + 3))
    if not spans:
        return None
    told = {note.partition(":")[0] for phrase in sentence.phrases for note in phrase.notes}
    if "twice" in told or query.progress or sentence.said("ask.ratios"):
        return None
    first, last = spans[0]
    words = " ".join(token.text for token in sentence.tokens[max(first, 0) : last])
    return unclear(
        f"I can't tell how much “{words}” makes. Give the whole amount, or the weight, that it comes to.", words
    )


_IT = frozenset({"it", "this", "that", "them"})


def _offered(sentence: Sentence) -> Refusal | None:
    """``buy three get one free``, ``six skeins come to £51``: what one skein costs is asked."""
    prices = [phrase for phrase in sentence.phrases if phrase.kind == "price"]
    offer = next((cue for cue in sentence.cues if cue.kind == "price.offer"), None)
    settled = sentence.said("price.one") and any("of several" in price.flags for price in prices)
    if offer and prices and not settled:
        words = " ".join(token.text for token in sentence.tokens[offer.first : offer.last])
        return unclear(f"“{words}”: what does one skein come to? Type for example: £6.70 a skein.", words)
    for price in (price for price in prices if "of several" not in price.flags):
        counts = [p for p in sentence.phrases if p.kind == "count" and 0 < price.first - p.last <= _SO_NEAR]
        leads = any(c.kind == "price.comes_to" and c.last in (price.first, price.first - 1) for c in sentence.cues)
        beside = leads or any(c.kind == "price.total" and c.first == price.last for c in sentence.cues)
        alone = not any(sentence.kind_at(at) in ("SKEIN", "EACH") for at in range(price.first, price.last + 2))
        if counts and counts[0].value.values != (1.0,) and beside and alone:
            said = f"{sentence.words(counts[0])} … {sentence.words(price)}"
            return unclear(f"“{said}”: is that for all of them, or for one? Type the price of one.", said)
    return None


def _part_done(sentence: Sentence, query: Query) -> Refusal | None:
    """``two thirds up the front``: how much of the whole that is, is asked."""
    part = part_of_a_part(sentence, sentence.phrases) if query.progress and query.progress.rows_total is None else None
    if part is None:
        return None
    return unclear(
        f"“{part}”: how much of the whole is done? Type for example: half of it is done, and used 6 of 8 skeins.",
        part,
    )


def _several_for_a_price(sentence: Sentence) -> Refusal | None:
    """``three for £20``: what one costs is asked."""
    for price in (phrase for phrase in sentence.phrases if phrase.kind == "price"):
        number = sentence.lower_at(price.first - 2)
        if sentence.kind_at(price.first - 1) == "FOR" and load("words.toml")["numbers"].get(number, 0) > 1:
            said = f"{number} for {sentence.words(price)}"
            return unclear(f"“{said}”: what does one cost? Type for example: £6.70 a skein.", said)
    return None


def _cheaper_by_number(sentence: Sentence) -> Refusal | None:
    """``£5.20 each or £4.60 if I buy ten or more``: which of the prices is paid, is asked."""
    prices = [phrase for phrase in sentence.phrases if phrase.kind == "price"]
    if len(prices) < 2:
        return None
    for at in range(prices[0].last, len(sentence.tokens)):
        counted = sentence.kind_at(at) == "NUM" or sentence.lower_at(at) in load("words.toml")["numbers"]
        at_least = [sentence.lower_at(on) for on in range(at + 1, at + 4) if sentence.kind_at(on) != "SKEIN"][:2]
        if counted and at_least in (["or", "more"], ["or", "over"], ["or", "above"], ["and", "up"], ["and", "over"]):
            said = " or ".join(str(price.value) for price in prices)
            return unclear(f"{said} a skein, by how many are bought: ask with the price that you would pay.", said)
    return None


def _which_size(sentence: Sentence, query: Query) -> Refusal | None:
    """``M and L``, ``all but XL``, ``one size up from M``: more than one size named, or one told by another."""
    if sentence.said("ask.check") or query.grading or AND_SIZE in (query.pick or ""):
        return None
    named = sizes_meant(sentence)
    if len({str(phrase.value) for phrase in named}) > 1:
        said = " and ".join(dict.fromkeys(str(phrase.value) for phrase in named))
        return unclear(f"I read sizes {said}. Which one is it? Type for example: size {named[-1].value} only.", said)
    denied = sum(phrase.kind == "size" for phrase in sentence.phrases) > len(named)  # not size M but L
    for phrase in named if not denied else ():
        if sentence.lower_at(phrase.first - 1) in word_list("beside_a_size"):
            said = f"{sentence.lower_at(phrase.first - 1)} {sentence.words(phrase)}"
            return unclear(f"“{said}”: which size is that? Type its name, as in: size M only.", said)
    return None


def _mass_of_some_wool(sentence: Sentence, amounts: Amounts) -> Refusal | None:
    """``Materials: 4 oz of wool. How many balls of DK, 50 g/115 m?``: a mass of a yarn of which nothing is told."""
    asked = {cue.last for cue in sentence.cues if cue.kind == "yarn.of"}
    yarns = [p for p in sentence.phrases if p.kind == "weight" and p.first in asked]
    for mass in (phrase for phrase in amounts.need if phrase.kind == "mass"):
        wool = sentence.kind_at(mass.last) == "OF" and sentence.lower_at(mass.last + 1) in word_list("yarn_nouns")
        own = sentence.lower_at(mass.first - 1) in word_list("needing")
        if wool and not own and any(sentence.parted(mass.last, yarn.first) for yarn in yarns):
            said = f"{sentence.words(mass)} of {sentence.lower_at(mass.last + 1)}"
            return unclear(
                f"“{said}”: of which weight, and how long is it? A mass is no measure of another yarn. "
                "Type for example: the pattern takes 4 oz of worsted, 50 g/90 m.",
                said,
            )
    return None


def _two_sizes_named(sentence: Sentence, query: Query) -> Refusal | None:
    """``5 skeins for the small, how much for the large?``: other sizes are graded by their chests."""
    if not sentence.said("ask.grade") or query.grading:
        return None
    named = {token.lower for token in sentence.tokens if token.lower in ("small", "medium", "large")}
    amounts = query.amounts
    several = any(len(series.values) > 1 for series in amounts) or query.sizes
    if len(named) < 2 or several or not amounts:
        return None
    return unclear("I grade sizes by their chests. Type for example: the 34 in took 1100 yd; what does the 42 in take?")


def _of_a_person(sentence: Sentence, phrase: Phrase) -> bool:
    return sentence.lower_at(phrase.first - 2) in word_list("people")


def _needle_besides(sentence: Sentence, query: Query) -> Refusal | None:
    """``how many yds is 500 m and also what's a US 8 in mm``: a needle asked about beside something else."""
    if (query.measured and query.measured.needle) or not (query.colours or query.measured):
        return None
    asked = [cue.last for cue in sentence.cues if cue.kind == "ask.convert"]
    for phrase in sentence.phrases:
        small = sentence.kind_at(phrase.first - 1) in ("ARTICLE", "THE")
        if phrase.kind == "needle" and any(end in (phrase.first, phrase.first - small) for end in asked):
            said = sentence.words(phrase)
            return unclear(f"I read two questions, one of them about {said}. Ask the two apart.", said)
    return None


def _each_thing(sentence: Sentence, query: Query, amounts: Amounts) -> Refusal | None:
    """Amounts that are not one whole: ``210 m a sleeve``, ``100 m longer``, two sizes of skein, a range of a stash."""
    return (
        _two_skeins(sentence, amounts)
        or _label_of_the_counted(query, amounts)
        or _two_with_labels(sentence, amounts)
        or _several_of_hers(sentence, amounts)
        or _of_each_listed(sentence, amounts)
        or _used_twice(sentence, amounts)
        or _had_twice(sentence, query, amounts)
        or _counted_or_measured(sentence, query, amounts)
        or _need_of_another_weight(sentence, query, amounts)
        or _one_within_the_other(sentence, amounts)
        or _one_colour_or_two(sentence, amounts)
        or _both_of_a_pair(sentence, amounts)
        or _more_to_knit(sentence, amounts)
        or _label_of_a_part(sentence)
        or _of_each_strand(sentence)
        or next((asked for phrase in amounts.need if (asked := _not_the_whole(sentence, phrase))), None)
    )


def _label_of_the_counted(query: Query, amounts: Amounts) -> Refusal | None:
    """``8 x 50 g (82 m)`` and then ``130 m per 100 g``: two labels of the yarn the pattern counts."""
    told = query.pattern.put_up
    for phrase in amounts.need if told else ():
        label = phrase.value[1] if phrase.kind == "times" else None
        if told and label and label.length and not compatible("putup", label, told):
            return unclear(f"I read two put-ups of the pattern's yarn, {label} and {told}. Which is whose?", str(told))
    return None


def _two_skeins(sentence: Sentence, amounts: Amounts) -> Refusal | None:
    """``3 skeins of 200 m and 2 skeins of 150 m`` needed: which of the skeins counts on."""
    wound = [phrase for phrase in amounts.need if phrase.kind == "times"]
    if len({phrase.value[1] for phrase in wound}) < 2:
        return None
    said = " and ".join(sentence.words(phrase) for phrase in wound)
    return unclear(f"I read skeins of two sizes, {said}. Give the length in all, or one of them.", said)


def _two_with_labels(sentence: Sentence, amounts: Amounts) -> Refusal | None:
    """``5 balls of DK (50 g/120 m) and 2 balls of sport (50 g/150 m)``: two amounts joined, of one thing to knit.

    One of them was taken for what she has, though nothing says that there is any.
    """
    if sentence.said("have.before", "have.after", "have.more", "ask.enough", "ask.check"):
        return None
    told = [phrase for phrase in sentence.phrases if phrase in (*amounts.need, *amounts.have)]
    inside = {at for phrase in sentence.phrases for at in range(phrase.first, phrase.last)}
    for one, two in itertools.pairwise(told):
        gap = {sentence.kind_at(at) for at in range(one.last, two.first) if at not in inside}
        split = one in amounts.need and two in amounts.have and one.kind == two.kind
        if split and gap & {"AND", "NEWLINE"} and not gap & {"STOP", "OR", "TO", "FOR"}:
            said = f"{sentence.words(one)} and {sentence.words(two)}"
            return unclear(
                f"Does the pattern take {said}, or are the second what you have? If it takes both, ask for each alone, "
                "or label them: MC 5 balls, CC 2 balls.",
                said,
            )
    return None


def _several_of_hers(sentence: Sentence, amounts: Amounts) -> Refusal | None:
    """``I have 300 (350, 400) m``, ``I have 3-4 balls``: what she has is one amount."""
    for phrase in (*amounts.have, *amounts.used):
        if phrase.kind in ("length", "mass", "count") and (len(phrase.value.values) > 1 or phrase.value.low):
            said = sentence.words(phrase)
            return unclear(f"I read “{said}” as what you have, and that is one amount. Which is it?", said)
    return None


def _of_each_listed(sentence: Sentence, amounts: Amounts) -> Refusal | None:
    """``one ball each of red, blue and green``: how many there are of what is listed is asked."""
    for phrase in amounts.have:
        each = [sentence.kind_at(phrase.last), sentence.kind_at(phrase.last + 1)] == ["EACH", "OF"]
        if phrase.kind == "count" and each and sentence.kind_at(phrase.last + 2) != "CLASS":
            said = f"{sentence.words(phrase)} {sentence.lower_at(phrase.last)} of"
            return unclear(f"“{said}”: how many is that in all? Give the number of all you have.", said)
    return None


def _used_twice(sentence: Sentence, amounts: Amounts) -> Refusal | None:
    """``used 3 balls of 8 balls``: two amounts used and no ``and`` between them."""
    for one, two in itertools.pairwise(amounts.used):
        between = {sentence.kind_at(at) for at in range(one.last, two.first)}
        if "AND" not in between or _STARTS & {sentence.lower_at(at) for at in range(one.last, two.first)}:
            said = f"{sentence.words(one)} and {sentence.words(two)}"
            return unclear(f"I read {said} as used so far. Which of them is, and what is the other?", said)
    return None


_STARTS = frozenset({"started", "began", "start", "bought", "had"})


def _had_twice(sentence: Sentence, query: Query, amounts: Amounts) -> Refusal | None:
    """``5 skeins here … would the 5 skeins do``: two amounts of hers, and nothing that says the second is besides."""
    if query.progress:
        return None
    for one, two in itertools.pairwise(sorted(amounts.have, key=lambda phrase: phrase.first)):
        between = range(one.last, two.first)
        kinds = [sentence.kind_at(at) for at in between]
        words = {sentence.lower_at(at) for at in range(one.last, two.last + 1)}
        other = kinds[-1:] == ["HOLD"] and ("AND", "THE") in itertools.pairwise(kinds)
        other = other or not words.isdisjoint(word_list("of_a_vessel"))  # 63 g with the bowl on, and the bowl is 21 g
        other = other or sentence.lower_at(two.first - 1) in _SPENT or sentence.lower_at(two.last) == "went"
        joined = not _BESIDES.isdisjoint(kinds) and not other
        if between and not joined and word_list("on_top").isdisjoint(sentence.lower_at(at) for at in between):
            said, more = sentence.words(one), sentence.words(two)
            return unclear(
                f"Have you {said} and {more} besides, or is the one part of the other? "
                f"Type for example: I have {said} and {more}."
            )
    return None


def _counted_or_measured(sentence: Sentence, query: Query, amounts: Amounts) -> Refusal | None:
    """``the shawl takes 950 m. Gran sent 2 skeins. Enough?``: skeins read as needed, beside a length that is."""
    hers = [phrase.value for phrase in amounts.have if phrase.kind == "count"]
    counts = [phrase for phrase in amounts.need if phrase.kind == "count" and phrase.value not in hers]
    lengths = [phrase for phrase in amounts.need if phrase.kind == "length"]
    if not (sentence.said("ask.enough") and counts and lengths and query.stash) or query.pattern.put_up:
        return None
    said, length = sentence.words(counts[0]), sentence.words(lengths[0])
    return unclear(
        f"Are the {said} what you have, or what the pattern takes beside {length}? Type for example: I have {said}.",
        said,
    )


def _need_of_another_weight(sentence: Sentence, query: Query, amounts: Amounts) -> Refusal | None:
    """``can I swap 5 ply for 4 ply, pattern 1000 m of 4 ply``, with the 5 ply read as the pattern's."""
    weights = {phrase.first: phrase for phrase in sentence.phrases if phrase.kind == "weight"}
    for need in amounts.need if query.pattern.weight_class else ():
        told = weights.get(need.last + 1) if sentence.kind_at(need.last) == "OF" else None
        hers = any(yarn.weight_class in told.value[0] for yarn in query.yarns) if told else False
        if told and hers and query.pattern.weight_class not in told.value[0]:
            said = f"{sentence.words(need)} of {sentence.words(told)}"
            return unclear(
                f"Is the pattern in {sentence.words(told)}? Type for example: the pattern takes {said}.", said
            )
    return None


_SPENT = frozenset({"used", "spent", "lost"})
_BESIDES = frozenset({"AND", "COMMA", "SEMI", "NEWLINE", "PLUS"})


def _one_within_the_other(sentence: Sentence, amounts: Amounts) -> Refusal | None:
    """``437 g incl. buttons (12 g)``, ``600 g of which 60 g is contrast``: what is left of the whole is asked."""
    told = [p for p in sentence.phrases if p in amounts.all and p.kind in ("mass", "length", "count")]
    for one, two in itertools.pairwise(told):
        words = [sentence.lower_at(at) for at in range(one.last, two.first)]
        within = bool(word_list("within") & set(words)) or ("of", "which") in itertools.pairwise(words)
        if one.kind == two.kind and within and len(words) <= _A_CLAUSE:
            said = f"{sentence.words(one)}, {sentence.words(two)} of it"
            return unclear(f"I read “{said}”. How much is it without? Give the amount of the yarn alone.", said)
    return None


_A_CLAUSE = 6


def _one_colour_or_two(sentence: Sentence, amounts: Amounts) -> Refusal | None:
    """``1 skein + 1 skein``: of one colour, or one of each."""
    for one, two in itertools.pairwise(phrase for phrase in amounts.need if phrase.kind == "count"):
        gap = {sentence.lower_at(at) for at in range(one.last, two.first)}
        if gap & {"+", "plus"} and one.value == two.value:
            said = f"{sentence.words(one)} and {sentence.words(two)}"
            return unclear(f"Are {said} of one colour or of two? Type for example: MC 1 skein, CC 1 skein.", said)
    return None


def _more_to_knit(sentence: Sentence, amounts: Amounts) -> Refusal | None:
    """``first sleeve took 80 g, 150 g left, two more to knit``: what several parts take is asked."""
    made = any(" × " in note for phrase in sentence.phrases for note in phrase.notes)
    if made or not amounts.need or not amounts.have:
        return None
    parts = word_list("paired_parts") | word_list("garment_parts") | made_several()
    for at, token in enumerate(sentence.tokens):
        if token.kind != "WORD" or load("words.toml")["numbers"].get(token.lower, 0) < _SEVERAL:
            continue
        after, then = sentence.lower_at(at + 1), sentence.lower_at(at + 2)
        if after in parts or (after == "more" and (then in parts or then in ("", ",", ".", "?", "to"))):
            said = f"{token.text} {after}"
            return unclear(f"“{said}”: how much do they take in all? Give what all that is still to knit takes.", said)
    return None


_SEVERAL = 2


def _both_of_a_pair(sentence: Sentence, amounts: Amounts) -> Refusal | None:
    """``left 90 yd, right 90 yd``: as much of the one of a pair as of the other, and no length told twice."""
    pair = [
        phrase
        for phrase in amounts.need
        if phrase.kind == "length"
        and word_list("either_one") & {sentence.lower_at(at) for at in (phrase.first - 1, phrase.first - 2)}
    ]
    if len(pair) < 2 or pair[0].value != pair[1].value:
        return None
    said = f"{sentence.words(pair[0])} and {sentence.words(pair[1])}"
    return unclear(f"“{said}”: how much is that in all? Give the length for the pair.", said)


def _label_of_a_part(sentence: Sentence) -> Refusal | None:
    """``sleeves 210 m each``: what looks like a label is what a part of the garment takes."""
    for phrase in (phrase for phrase in sentence.phrases if phrase.kind == "putup"):
        each = any(sentence.kind_at(at) == "EACH" for at in range(phrase.first, phrase.last))
        if each and sentence.lower_at(phrase.first - 1) in word_list("garment_parts"):
            said = f"{sentence.lower_at(phrase.first - 1)} {sentence.words(phrase)}"
            return unclear(f"“{said}”: for one of them, or for all? Say how much all of it takes.", said)
    return None


def _of_each_strand(sentence: Sentence) -> Refusal | None:
    """``two strands of DK, 900 yd of each``: how much all the strands take is asked."""
    strands = [phrase.first for phrase in sentence.phrases if phrase.kind == "strands"]
    for phrase in (phrase for phrase in sentence.phrases if phrase.kind == "putup" and not phrase.value.mass):
        held = any(at < phrase.first and not sentence.parted(at, phrase.first) for at in strands)
        if held and sentence.lower_at(phrase.last - 1) == "of each":
            said = sentence.words(phrase)
            return unclear(f"“{said}”: how much is that in all? Give the length of all the strands together.", said)
    return None


def _not_the_whole(sentence: Sentence, phrase: Phrase) -> Refusal | None:
    """``210 m a sleeve``, ``100 m longer``, ``80 m each``: an amount of a part, or of one of several."""
    if phrase.kind not in ("length", "mass"):
        return None
    amount, more = sentence.words(phrase), sentence.lower_at(phrase.last)
    weighed = sentence.said("ask.grams") and not sentence.said("ask.enough", "ask.skeins")
    if more in word_list("more_or_less") and not weighed:
        said = f"{amount} {more}"
        return unclear(f"“{said}”: how much is that in all? Give the length for the whole piece.", said)
    if any(" × " in note for note in phrase.notes):
        return None  # 22 m a pair, and 6 pairs
    for at in range(phrase.first - _SO_NEAR, phrase.first):
        part = sentence.lower_at(at)
        if sentence.lower_at(at - 1) in ("each", "every", "per") and f"{part}s" in word_list("paired_parts"):
            said = f"{sentence.lower_at(at - 1)} {part} … {amount}"
            return unclear(f"“{said}”: how much is that in all? Give the length for the whole piece.", said)
    lead, thing = sentence.kind_at(phrase.last), sentence.lower_at(phrase.last + 1)
    if lead in ("PER", "FOR", "EACH", "ARTICLE") and "STRAND" in (
        sentence.kind_at(phrase.last + 1),
        sentence.kind_at(phrase.last + 2),
    ):
        said = f"{amount} {more} {thing}"
        return unclear(f"“{said}”: how much is that in all? Give the length of all the strands together.", said)
    if phrase.kind == "length" and lead == "PER" and thing in word_list("people"):
        said = f"{amount} {more} {thing}"
        return unclear(f"“{said}”: how much is that in all? Give the length for all of them.", said)
    if sentence.said("need.many") or lead == "EACH":
        said = f"{amount}{' each' if lead == 'EACH' else ''}"
        return unclear(f"“{said}”: for one of them, or for all? Say how many, and what one takes.", said)
    if phrase.kind == "length" and lead in ("ARTICLE", "PER", "THE", "EACH") and thing in word_list("things"):
        said = f"{amount} {more} {thing}"
        return unclear(f"“{said}”: how much is that in all? Give the length for the whole piece.", said)
    return None


def colours_counted(sentence: Sentence, named: list[str], used: list[Phrase]) -> Refusal | None:
    """``three colours``: the count is spoken for by as many amounts, and asked about where there are fewer or more."""
    each = any(token.kind == "EACH" for token in sentence.tokens)
    if len(named) < 2 and not each:
        return None
    for at, token in enumerate(sentence.tokens):
        said = load("words.toml")["numbers"].get(token.lower) if token.kind == "WORD" else None
        counted = next((p for p in sentence.phrases if p.kind == "num" and p.first == at and p.last == at + 1), None)
        if counted and len(counted.value.values) == 1:
            [said] = counted.value.values
        if said is None or (said == 1 and not named) or sentence.lower_at(at + 1) not in word_list("colour_nouns"):
            continue
        if not named:
            return unclear(
                f"You say {token.text} {sentence.lower_at(at + 1)}: tell what each takes by its name. "
                "Type for example: MC 300 m, CC1 300 m, CC2 300 m.",
                token.text,
            )
        if said != len(named):
            return unclear(
                f"You say {token.text} {sentence.lower_at(at + 1)}, and I read {len(named)}: {', '.join(named)}. "
                "How much does each colour take?",
                token.text,
            )
        if counted:
            used.append(counted)
    return None


def _part_held(sentence: Sentence, query: Query) -> Refusal | None:
    """``only the cuffs are held double``: strands of one part, of which nothing says how much it takes."""
    for phrase in sentence.phrases:
        if phrase.kind != "strands" or phrase.value < 2 or not query.colours:
            continue
        parts = (at for at, token in enumerate(sentence.tokens) if token.lower in word_list("small_parts"))
        own = sentence.sentence_of(phrase.first)
        part = next((at for at in parts if sentence.sentence_of(at) == own), None)
        if part is not None:
            word = printable(sentence.tokens[part].text)
            return unclear(
                f"Only the {word} held double: how much that takes I can't tell. "
                "Ask without it for the whole at one strand, or give the length of the part held double.",
                sentence.words(phrase),
            )
    return None


def _colour_left_out(sentence: Sentence, query: Query) -> Refusal | None:
    """``CC1 and CC2 2 balls``, ``1 ball each of CC1, CC2``: whether one joined to one told takes as much is asked."""
    named = {colour.name for colour in query.colours}
    found = certain_labels(sentence)
    for label in (label for label in found if label.name in named and len(named) > 1):
        joined = joined_before(sentence, label, found) + joined_behind(sentence, label, found)
        for other in (other for other in joined if other.name not in named):
            return unclear(
                f"How much does {other.name} take, as much as {label.name}, or is that for both? Type for example: "
                f"{other.name} 2 balls, {label.name} 2 balls.",
                other.name,
            )
    return None


def _elsewhere(sentence: Sentence) -> Refusal | None:
    """Another topic, or another craft: declined plainly."""
    if sentence.said("other.topic") and not any(
        token.kind in ("CLASS", "LEN", "STS", "NEEDLE") for token in sentence.tokens
    ):
        return not_understood("I only know yarn for hand-knitting. Ask me how much to buy, or type help.")
    crafts = [c for c in sentence.cues if c.kind == "other.craft" and sentence.kind_at(c.first) != "NAME"]
    if crafts and (sentence.phrases or not sentence.said("ask.help")):
        craft = crafts[0]
        word = " ".join(token.text for token in sentence.tokens[craft.first : craft.last])
        return not_understood(
            f"I only know hand-knitting. By “{word}” you speak of another fabric, whose yarn cannot be worked out "
            "from a knitted gauge.",
            word,
        )
    return None
