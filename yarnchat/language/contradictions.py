"""Sayings of yarns that cannot both be meant, or of which it is open whose yarn they are of."""

from __future__ import annotations

import itertools

from yarnchat.knowledge.classes import ambiguous_names
from yarnchat.language.groups import negated_yarns, weights
from yarnchat.language.lexicon import word_list
from yarnchat.language.phrases import Phrase
from yarnchat.language.sentence import Sentence
from yarnchat.language.sides import Sides
from yarnchat.quantity import MASSES
from yarnchat.queries import Query, Yarn
from yarnchat.refusals import Refusal, unclear


def lace_or_lace(sentence: Sentence, query: Query) -> Refusal | None:
    """``Lace pattern, 1150 yds, in fingering``: a weight or a stitch, where no other weight is the pattern's."""
    said = any(token.kind == "THING" and token.lower == "lace pattern" for token in sentence.tokens)
    yarn = query.yarns[0] if len(query.yarns) == 1 else None
    if not said or not query.colours or yarn is None or not yarn.weight_class or query.pattern != Yarn():
        return None
    return unclear("Is “lace pattern” the weight of its yarn, or the stitch? Type for example: 1150 yd of lace weight.")


def held_along(sentence: Sentence, query: Query) -> Refusal | None:
    """``8 balls of sport with a strand of lace held together``: beside the pattern's yarn, and not instead of it."""
    if not sentence.said("ask.strands") or not query.colours or len(query.yarns) != 1:
        return None
    yarn, pattern = query.yarns[0], query.pattern
    if (
        (yarn.strands or 1) > 1
        or (pattern.strands or 1) > 1
        or not pattern.weight_class
        or yarn.weight_class in (None, pattern.weight_class)
    ):
        return None
    return unclear(
        f"Is {yarn.class_as_said or yarn.name} held along with {pattern.class_as_said or pattern.name}, or knit "
        "instead of it? Held along, it takes the same length: ask how many skeins of it alone, for that length."
    )


def held_with(sentence: Sentence, query: Query) -> Refusal | None:
    """``fingering 420 m/100 g and mohair 210 m/25 g held together, 900 m pattern``: two yarns as one."""
    labels = {p.value for p in sentence.phrases if p.kind == "putup" and p.value.length and p.value.mass}
    if len(labels) < 2 or not query.colours or len(query.yarns) > 1 or not _together(sentence):
        return None
    return unclear(
        "Held together, two yarns are one thick yarn, and each of them takes its whole length. "
        "Ask for each alone, as in: how many skeins of 420 m/100 g for 900 m?"
    )


def held_untold(sentence: Sentence, query: Query) -> Refusal | None:
    """``hold the sock yarn with itself``, ``the two held together give DK``: strands of which no yarn is told to be."""
    strands = any(p.kind == "strands" or (p.kind == "not_meant" and isinstance(p.value, int)) for p in sentence.phrases)
    if strands or not query.colours or any((yarn.strands or 1) > 1 for yarn in query.both_sides):
        return None
    holding = [at for at, token in enumerate(sentence.tokens) if token.lower in ("hold", "holding", "held")]
    close = (sentence.lower_at(on) for at in holding for on in range(at, at + _A_FEW + 2))
    if not holding or not (_together(sentence) or not {"together", "itself"}.isdisjoint(close)):
        return None
    return unclear(
        "How many strands of which yarn are held together? Of two yarns held together I work out one at a time. "
        "Type for example: 900 m of aran in DK held double."
    )


def held_nameless(sentence: Sentence, query: Query) -> Refusal | None:
    """``two held together get 18 sts; 900 m of aran in DK``: strands with what they make, and no yarn they are of."""
    pattern, yarn = query.pattern, query.yarns[0] if len(query.yarns) == 1 else None
    if yarn is None or (pattern.strands or 1) < _OF_BOTH or (yarn.strands or 1) > 1 or not query.colours:
        return None
    likes = [cue for cue in sentence.cues if cue.kind == "strands.like"]
    for strands in (phrase for phrase in sentence.phrases if phrase.kind == "strands" and phrase.value > 1):
        makes = any(-1 <= cue.first - strands.last <= 0 for cue in likes)
        beside = {sentence.kind_at(at) for at in (strands.first - 1, strands.first - 2, strands.last)}
        if makes and not beside & {"CLASS", "NAME"}:
            return unclear(
                "Which yarn is held together, the pattern's or the one to knit with? "
                "Type for example: 900 m of aran in DK held double.",
                sentence.words(strands),
            )
    return None


def doubled_length(sentence: Sentence, query: Query) -> Refusal | None:
    """``how many yards do I get from 4 skeins if I use it doubled?``: of the yarn, or of what is knitted with it."""
    several = any((yarn.strands or 1) > 1 for yarn in query.both_sides)
    weights = {yarn.weight_class for yarn in query.both_sides if yarn.weight_class}
    counted = any(series.unit == "skein" or series.unit in MASSES for series in query.amounts)
    counted = counted or any(held.unit == "skein" or held.unit in MASSES for held in query.stash)
    if not several or len(weights) > 1 or not counted or not sentence.said("ask.measure"):
        return None
    return unclear(
        "Held together, the yarn goes only so far: its length over the number of strands. "
        "Ask how long it is, and divide. Type for example: how many yards are 4 skeins of 400 yd?"
    )


def length_as_held(sentence: Sentence, query: Query) -> Refusal | None:
    """``it takes 900 m of DK doubled to make aran; my DK is 100 m``: whether that is the length of both strands."""
    yarn = query.yarns[0] if len(query.yarns) == 1 else None
    if yarn is None or (yarn.strands or 1) < 2 or query.pattern.weight_class in (None, yarn.weight_class):
        return None
    strands = [phrase.first for phrase in sentence.phrases if phrase.kind == "strands" and phrase.value > 1]
    for one, two in itertools.pairwise(sentence.phrases):
        of_it = one.kind == "length" and two.kind == "weight" and sentence.kind_at(one.last) == "OF"
        if of_it and yarn.weight_class in two.value[0] and any(0 <= at - two.last <= 1 for at in strands):
            said = sentence.text[sentence.tokens[one.first].start : sentence.tokens[two.last - 1].end]
            return unclear(
                f"“{said}”, held together: is that all strands in one length? Then ask for that length of it alone. "
                f"Type for example: how many skeins of {sentence.words(two)} for {sentence.words(one)}?",
                said,
            )
    return None


def doubled_with(sentence: Sentence) -> Refusal | None:
    """``DK held double with lace``: one strand of each, or two of the DK with lace in its place."""
    yarns = [phrase for phrase in sentence.phrases if phrase.kind in ("weight", "name")]
    for strands in (phrase for phrase in sentence.phrases if phrase.kind == "strands" and phrase.value > 1):
        before = strands.first - (sentence.kind_at(strands.first - 1) == "COMMA")
        one = next((yarn for yarn in yarns if yarn.last == before), None)
        two = next((yarn for yarn in yarns if 0 < yarn.first - strands.last <= _A_YARN_OFF), None)
        if one and two and sentence.kind_at(strands.last) == "WITH":
            first, second = sentence.words(one), sentence.words(two)
            return unclear(
                f"Is the {second} knitted along with the {first}, or in its place? "
                "Of two yarns held together I work out one at a time. "
                f"Type for example: 900 m of {first} in {second} held double.",
                sentence.words(strands),
            )
    return None


_A_YARN_OFF = 4
"""How far behind the strands a yarn may be told that is held with them, in words: ``with a mohair lace``."""
_A_LABEL_OFF = 13
"""How far a second yarn held along may be told behind the first and its label, in words."""


def _together(sentence: Sentence) -> bool:
    """``hold fingering with mohair``, ``held double with mohair``, ``fingering and mohair held together``."""
    words = [word for token in sentence.tokens for word in token.lower.split()]
    for at, word in enumerate(words):
        ahead, behind = words[at + 1 : at + _A_LABEL_OFF], words[max(0, at - 4) : at]
        if word in ("hold", "holding", "held") and {"with", "along"} & set(ahead):
            return not set(ahead[: ahead.index("with") if "with" in ahead else 0]) & word_list("not_along")
        if word in ("held", "together") and "and" in behind and not {"strands", "strand"} & set(behind):
            return True
    return False


def denied_weight(sentence: Sentence, query: Query) -> Refusal | None:
    """``aran, not dk. 1000 m``: whether the one that is not meant is the pattern's is asked."""
    denied = [phrase for phrase in negated_yarns(sentence) if phrase.kind == "weight"]
    kept = [p for p in sentence.phrases if p.kind == "weight" and p not in denied]
    if len(denied) != 1 or not query.colours or len({p.value[0] for p in kept}) != 1:
        return None
    if kept[0].value[0] == denied[0].value[0] or any(_of_the_pattern(sentence, p) for p in (*kept, *denied)):
        return None
    old, new = sentence.words(denied[0]), sentence.words(kept[0])
    return unclear(f"Is the pattern written for {old}? Type for example: {old} pattern in {new}.", old)


def _of_the_pattern(sentence: Sentence, phrase: Phrase) -> bool:
    """``the pattern is sport``: whether a weight is said to be the pattern's, right before it or behind it."""
    says = ("pattern.in", "pattern.noun", "pattern.label", "pattern.verb", "pattern.thing", "pattern.over")
    return any(
        cue.kind in says
        and (0 <= phrase.first - cue.last <= 2 or 0 <= cue.first - phrase.last <= 1)
        and not sentence.parted(min(cue.first, phrase.first), max(cue.first, phrase.first))
        for cue in sentence.cues
    )


def _two_labels(sentence: Sentence) -> Refusal | None:
    """``the label says 400 m in 100 g but also 250 m in 100 g``: two put-ups of one yarn."""
    labels = [phrase for phrase in sentence.phrases if phrase.kind == "putup"]
    for one, two in itertools.pairwise(labels):
        words = {sentence.lower_at(at) for at in range(one.last, two.first)}
        apart = one.value.mass == two.value.mass and one.value.length != two.value.length
        if apart and "also" in words and words <= {"but", "also", "and", "yet", ","}:
            return unclear(
                f"I read two labels of one yarn, {one.value} and {two.value}. Which is right?", str(two.value)
            )
    return None


def _two_needles(sentence: Sentence) -> Refusal | None:
    """``difference between US 2 and US 2.5``, ``4 mm instead of 5 mm``: one alone could be worked out."""
    needed = any(phrase.kind in ("length", "mass", "count", "times", "named") for phrase in sentence.phrases)
    if needed or sentence.said("ask.check"):
        return None
    told = [phrase for phrase in sentence.phrases if phrase.kind == "needle"]
    for one, two in itertools.combinations(told, 2):
        gap = {sentence.kind_at(at) for at in range(one.last, two.first)}
        apart = one.value.system != two.value.system and gap & {"AND", "OR"} and sentence.said("ask.identify")
        rivals = one.value.system == two.value.system and one.value.size != two.value.size
        if apart or rivals:
            said = str(two.value)
            return unclear(f"That is two needles, {one.value} and {said}. Ask for one at a time.", said)
    return None


def _matched_and_not(sentence: Sentence) -> str:
    """``22 sts to 10 cm; I match its gauge, at 18 sts to 10 cm``: two gauges where one is said to be kept; else ""."""
    gauges = (phrase for phrase in sentence.phrases if phrase.kind == "gauge")
    told = [phrase for phrase in gauges if phrase.value.stitches > 0 and phrase.value.over.value > 0]
    matched = [
        cue
        for cue in sentence.cues
        if cue.kind == "same.gauge"
        and (
            sentence.lower_at(cue.first) in word_list("matching")
            or sentence.lower_at(cue.last - 1).endswith("'s")
            or not {"same", "identical"}.isdisjoint(sentence.lower_at(at) for at in range(cue.first, cue.last))
        )
    ]
    beside = [
        p
        for cue in matched
        for p in told
        if 0 <= p.first - cue.last <= _A_FEW and not sentence.parted(cue.last, p.first)
    ]
    alike = any(sentence.lower_at(cue.first) == "same" for cue in matched)  # Same gauge as the pattern.
    if not beside and len(told) == _OF_BOTH and (alike or _gets_it(sentence)):
        beside = told[:1]  # I'm getting exactly the pattern's gauge: it is 18 sts to 4 in, mine is 22
    others = [p for p in told if beside and abs(_stitches_per_cm(p) / _stitches_per_cm(beside[0]) - 1) > _SAME_GAUGE]
    return f"{others[0].value} beside {beside[0].value}" if others else ""


def _gets_it(sentence: Sentence) -> bool:
    """``I'm getting exactly the pattern's gauge``: whether she says of herself that she has the gauge."""
    said = [cue for cue in sentence.cues if cue.kind in ("yarn.have", "gauge.does")]
    hers = [cue.last for cue in said if sentence.lower_at(cue.first) in ("i", "i'm", "im", "we", "we're")]
    kept = [cue.first for cue in sentence.cues if cue.kind == "same.gauge"]
    return any(0 <= first - last <= _A_FEW and not sentence.parted(last, first) for first in kept for last in hers)


def _stitches_per_cm(phrase: Phrase) -> float:
    return float(phrase.value.stitches / phrase.value.over.to("cm").value)


_OF_BOTH = 2
_SAME_GAUGE = 0.03
"""Counts to 4 in and to 10 cm differ by less than this."""
_A_WORD_OR_TWO = 2
_A_FEW = 4
"""How many words may stand between what says that a gauge is matched and the gauge."""


def contradiction(sentence: Sentence, given: Sides) -> Refusal | None:
    """What cannot be settled by reading: an ambiguous name, two weights of one yarn, two patterns in one sentence."""
    if ambiguous := _two_classes(sentence, given):
        return ambiguous
    if sentence.said("ask.strands"):
        return None
    return (
        _two_labels(sentence)
        or _two_needles(sentence)
        or _gauge_in_doubt(sentence)
        or _weight_unsaid(sentence)
        or _two_weights(sentence)
        or _two_patterns(given)
        or _two_needs(sentence, given)
    )


def _two_classes(sentence: Sentence, given: Sides) -> Refusal | None:
    """``baby``: a name used of more than one weight class, where nothing else told of the yarn settles it."""
    for phrase in sentence.phrases:
        if phrase.kind == "weight" and len(phrase.value[0]) > 1 and not _settled(phrase, given):
            said = phrase.value[1]
            either = " or ".join(ambiguous_names().get(said.lower(), phrase.value[0]))
            return unclear(
                f"“{said}” is used of more than one weight class: {either}. Which is it? "
                "A gauge or the yards per 100 g would settle it."
            )
    return None


def _gauge_in_doubt(sentence: Sentence) -> Refusal | None:
    """The pattern's gauge is matched and another told, or not matched and none told."""
    if gauges := _matched_and_not(sentence):
        return unclear(f"Do you match the pattern's gauge, or is it {gauges}? The two differ.")
    told = {phrase.value for phrase in sentence.phrases if phrase.kind == "gauge"}
    if sentence.said("same.denied") and len(told) < _OF_BOTH:
        return unclear("What gauge do you get? Type for example: I get 20 sts to 4 in.")
    return None


def _weight_unsaid(sentence: Sentence) -> Refusal | None:
    """``the pattern doesn't say the weight``; of her own yarn its gauge may say it."""
    hers = word_list("hers")
    unsaid = [cue for cue in sentence.cues if cue.kind == "unknown.weight"]
    if all(hers & {sentence.lower_at(at) for at in range(cue.last, cue.last + _A_WORD_OR_TWO)} for cue in unsaid):
        return None
    return unclear(
        "The pattern's weight is not said. Its weight class, its gauge or the yards per 100 g of its yarn would do."
    )


def _two_weights(sentence: Sentence) -> Refusal | None:
    """``worsted-fingering``, ``6 skeins of worsted fingering``: two weights of one yarn."""
    for one, two in itertools.pairwise(phrase for phrase in sentence.phrases if phrase.kind == "weight"):
        joined = [sentence.kind_at(i) for i in range(one.last, two.first)]
        if joined in ([], ["DASH"], ["SLASH"]) and not set(one.value[0]) & set(two.value[0]):
            return unclear(
                f"“{sentence.words(one)}” and “{sentence.words(two)}” are two weight classes. Which is it?",
                sentence.words(two),
            )
    return None


def _two_patterns(given: Sides) -> Refusal | None:
    """Two weights, and nothing that says which of them the pattern is written for."""
    told = [group for group in given.groups if group.weight]
    if given.margin >= weights()["close_call"] or len({group.weight for group in told}) < 2:
        return None
    first, second = [group.called for group in told][:2]
    return unclear(
        f"I can't tell which yarn the pattern is written for, {first} or {second}. "
        f"Type for example: {first} pattern in {second}."
    )


def _two_needs(sentence: Sentence, given: Sides) -> Refusal | None:
    """``sweater A: 1400 m aran. Sweater B: 1100 m chunky``: lengths of two weights, each of a thing of its own."""
    things = [cue.last for cue in sentence.cues if cue.kind in ("pattern.thing", "pattern.noun")]
    needs = [
        group
        for group in given.groups
        if group.weight
        and any(p.kind in ("length", "dual") for p in group.amounts)
        and any(0 <= group.first - end <= _A_FEW and not sentence.parted(end, group.first) for end in things)
    ]
    if len({group.weight for group in needs}) < 2 or sentence.said("ask.enough", "ask.check", "ask.compare"):
        return None
    return unclear("I read two patterns in one question. Ask for each alone, with its length and its weight.")


def doubled(sentence: Sentence) -> Refusal | None:
    """``50 g 100 g 200 m``: a mass with nothing between it and a label that gives another."""
    for one, two in itertools.pairwise(sentence.phrases):
        labelled = two.kind == "putup" and sentence.kind_at(two.first + 1) == "MASS"
        rated = one.kind == two.kind == "putup" and all(p.value.length and p.value.mass for p in (one, two))
        if rated and one.last == two.first and not sentence.said("ask.compare", "ask.check"):
            said = sentence.words(two)
            return unclear(f"I read two labels of one yarn, {sentence.words(one)} and {said}. Which is it?", said)
        if one.kind == "mass" and labelled and one.last == two.first and not one.flags & {"used", "left"}:
            said = sentence.words(one)
            return unclear(f"I can't tell what “{said}” stands for, beside {sentence.words(two)}.", said)
    return None


def _settled(phrase: Phrase, given: Sides) -> bool:
    return any(
        "weight" in group.features
        and group.features["weight"] is not phrase.value
        and set(group.features["weight"][0]) < set(phrase.value[0])
        for group in given.groups
        if phrase in group.phrases
    )
