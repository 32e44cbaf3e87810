"""A question's text to what it says: every step in order, and the query made of what they found."""

from __future__ import annotations

import itertools
import re
from dataclasses import replace
from math import isclose

from yarnchat.knowledge.classes import weight_class
from yarnchat.language import pieces, progress
from yarnchat.language.accounting import account
from yarnchat.language.amounts import Amounts, of_a_pattern, sort_amounts
from yarnchat.language.candidates import mark_candidates
from yarnchat.language.checking import ask_whether
from yarnchat.language.colours import colours, share_the_unit
from yarnchat.language.conversions import wanted_rate
from yarnchat.language.denied import denied_amounts, guessed_needs
from yarnchat.language.doubts import colours_counted, unknown_weight, unsettled
from yarnchat.language.groups import Group, gather, negated_yarns
from yarnchat.language.inferred import infer
from yarnchat.language.joining import join_phrases
from yarnchat.language.lexicon import word_list
from yarnchat.language.lots import (
    Lots,
    drop_spare_lengths,
    hers_is_so_long,
    hers_on_a_skein,
    lesser_is_a_skeins,
    lots_of,
    on_each_she_has,
    skein_lengths,
)
from yarnchat.language.names import mark_names
from yarnchat.language.phrases import Phrase, first_of
from yarnchat.language.reading import Reading
from yarnchat.language.repair import Doubt, repaired
from yarnchat.language.scan import NO_NAMES, Names
from yarnchat.language.sentence import Sentence, lay_out
from yarnchat.language.sides import Sides, assign
from yarnchat.language.special import special
from yarnchat.language.tables import in_lists
from yarnchat.language.told import Told, holdings, in_hand, times_told, yarns_told
from yarnchat.language.wishes import (
    blend,
    chest_sizes,
    double_named,
    figure_wanted,
    one_label,
    pick_by_name,
    picked_again,
    size_names,
    size_picked,
    sizes_picked,
    spares,
    topic,
)
from yarnchat.language.yarns import merged_put_up
from yarnchat.quantity import Quantity
from yarnchat.queries import PutUp, Query, Yarn
from yarnchat.refusals import Refusal, not_understood

MAX_CHARACTERS = 8000
MAX_PHRASES = 200
"""How many amounts, sizes, weights and names are sorted at a time: ten times what a long materials line holds."""


def read(text: str, names: Names = NO_NAMES) -> Reading:
    """The slots a text fills, its cues, and what was left over; never raises for anything typed."""
    if len(text) > MAX_CHARACTERS:
        return _declined(
            not_understood(
                f"That is {len(text):,} characters; I read up to {MAX_CHARACTERS:,} at a time. "
                "Paste the materials line alone."
            )
        )
    sentence, notes, doubtful = prepared(text, names)
    if len(sentence.phrases) > MAX_PHRASES:
        return _declined(
            not_understood(
                f"That tells {len(sentence.phrases):,} amounts and names; I read up to {MAX_PHRASES} at a time. "
                "Paste the materials line alone."
            )
        )
    reading = _fill(sentence)
    if doubtful and reading.refusal is None:
        reading.refusal = unknown_weight(doubtful)
    reading.notes = [*notes, *(note for phrase in sentence.phrases for note in phrase.notes), *reading.notes]
    return reading


def prepared(text: str, names: Names = NO_NAMES) -> tuple[Sentence, list[str], Doubt | None]:
    """The sentence before anything is sorted, what was put right in it, and a word that may be a weight misspelt.

    More phrases than are sorted at a time are left as they stand.
    """
    sentence, notes, doubtful = repaired(lay_out(in_lists(text), names), names)
    if len(sentence.phrases) > MAX_PHRASES:
        return sentence, notes, doubtful
    mark_names(sentence)
    mark_candidates(sentence)
    join_phrases(sentence)
    share_the_unit(sentence)
    ask_whether(sentence)
    return sentence, notes, doubtful


def _declined(refusal: Refusal) -> Reading:
    return Reading(Query(), frozenset(), refusal=refusal)


def _fill(sentence: Sentence) -> Reading:
    """Every slot of a question, step by step: what a step takes is out of the way of the next."""
    infer(sentence)
    query, taken = special(sentence)
    phrases = sentence.phrases
    denied = denied_amounts(sentence, taken)
    gone = _set_aside(sentence, [*taken, *denied])
    amounts = sort_amounts(sentence, underway=query.progress is not None or sentence.said("ask.progress"))
    lots = lots_of(amounts)
    either = _read_as_labels(sentence, amounts)
    given = _given(sentence, amounts)
    told = in_hand(sentence, given, yarns_told(sentence, given), amounts)
    of_pattern = sentence.said("pattern.noun", "pattern.label")
    needed = any(sentence.lower_at(phrase.first - 1) in ("need", "needs") for phrase in amounts.need)
    if query.progress and len(amounts.need) == 1 and not amounts.used and not of_pattern and not needed:
        amounts.used, amounts.need = amounts.need, []
    if query.grading and len(amounts.have) == 1 and not amounts.need:
        amounts.need, amounts.have = amounts.have, []  # we have 980 m from the sample in the 100 cm size
    told, notes = times_told(told, amounts, lots)
    used = [*gone, *either, *amounts.all]
    used += [phrase for phrase in sentence.phrases if phrase.kind in _OF_A_YARN]
    query = _with_slots(sentence, query, amounts, lots, told, used)
    used = [phrase for phrase in used if phrase in taken or _in_a_slot(phrase, query)]
    miscounted = colours_counted(sentence, [colour.name for colour in query.colours if colour.name], used)
    refusal = told.refusal or miscounted or unsettled(sentence, query, given, amounts)
    numbers = account(sentence, phrases, used)
    part = progress.spoken_part(sentence) if query.progress is None and (query.colours or query.piece) else None
    reading = Reading(
        query,
        sentence.cue_kinds(),
        notes=notes,
        aside=[*(f"not {sentence.words(phrase)}" for phrase in denied), *numbers.aside],
        unused=[*numbers.unused, *([part] if part else [])],
        measures_aside=numbers.measures,
        refusal=refusal,
        unknown=numbers.unknown,
        of_yarn=_of_yarn(sentence),
        firm_need=any(_firm(sentence, phrase) for phrase in amounts.need),
        not_lengths=tuple(length for phrase in denied if (length := _length_of(phrase))),
    )
    _lone_things(sentence, reading)
    return reading


def _length_of(phrase: Phrase) -> Quantity | None:
    """The one length a phrase tells, a skein's among them."""
    if phrase.kind == "putup":
        found: Quantity | None = phrase.value.length
        return found
    return phrase.value.first() if phrase.kind == "length" and len(phrase.value.values) == 1 else None


def _set_aside(sentence: Sentence, gone: list[Phrase]) -> list[Phrase]:
    """``gone`` and what is guessed or wanted, all of it out of the way of what is told; the phrases left stay."""
    guessed = guessed_needs(sentence)
    if guessed:
        sentence.mark("ask.how_many")
    rated = wanted_rate(sentence, sentence.phrases) if sentence.said("ask.strands") else []
    gone = [*gone, *guessed, *rated]
    sentence.phrases = [phrase for phrase in sentence.phrases if phrase not in gone]
    return gone


def _read_as_labels(sentence: Sentence, amounts: Amounts) -> list[Phrase]:
    """Turns amounts that are a skein's into labels; the phrases that tell of a yarn by either of two classes."""
    skein_lengths(sentence, amounts.need)
    hers_on_a_skein(sentence, amounts)
    on_each_she_has(sentence, amounts)
    hers_is_so_long(sentence, amounts)
    lesser_is_a_skeins(sentence, amounts)
    return _either_class(sentence, amounts)


def _lone_things(sentence: Sentence, reading: Reading) -> None:
    """What is said alone and may change the question before: a number, a measure, a colour, ``it``."""
    reading.it_is_said = bool(_OF_IT.search(sentence.text))
    reading.every_size = sentence.said("ask.per_size")
    reading.colour = one_label(sentence)
    beside = {cue.first for cue in sentence.cues if cue.kind == "harmless.noun"}
    things = {cue.first for cue in sentence.cues if cue.kind == "pattern.thing" or cue.kind.startswith("shape.")}
    number = next((phrase for phrase in sentence.phrases if _lone_number(phrase)), None)
    parted = number is not None and sentence.lower_at(number.last) in word_list("parts_of_one")
    if number and (number.last in beside | things or parted):
        reading.beside_a_thing = number.value.values[0]  # I've been knitting for 20 years
    if number and number.last not in beside and not parted:
        reading.bare_count, reading.bare_said = number.value.values[0], sentence.words(number)
    reading.instead = _instead(sentence)
    reading.lone_unit = _lone_unit(sentence)
    denied = (phrase for phrase in negated_yarns(sentence) if phrase.kind == "weight")
    reading.not_weights = tuple(key for phrase in denied for key in phrase.value[0])
    reading.bare_gauge = any(phrase.kind == "gauge" and "bare" in phrase.flags for phrase in sentence.phrases)
    small, dim = first_of(sentence.phrases, "small"), first_of(sentence.phrases, "dim")
    reading.measured = pieces.measures_named(sentence)
    reading.many = pieces.how_many(sentence)
    reading.small = small.value if small else None
    reading.dim = dim.value if dim else None


def _lone_unit(sentence: Sentence) -> str:
    """``metres, silly me``: the one unit of a short text that tells nothing else; "" for any other."""
    units = [token for token in sentence.tokens if token.kind in ("LEN", "MASS")]
    numbers = any(token.kind == "NUM" for token in sentence.tokens)
    if len(units) != 1 or numbers or sentence.phrases or len(sentence.tokens) > _A_SHORT_TEXT:
        return ""
    return "" if any(kind.startswith("ask.") for kind in sentence.cue_kinds()) else units[0].text


def _instead(sentence: Sentence) -> tuple[float, float] | None:
    """The new number and the old one of ``150 rows, not 140``, ``not 69, 96``: the only two numbers of a short text."""
    numbers = [at for at, token in enumerate(sentence.tokens) if token.kind == "NUM"]
    if len(numbers) != 2 or len(sentence.tokens) > _A_SHORT_TEXT:
        return None
    denied = [at for at in numbers if sentence.lower_at(at - 1) == "not"]
    values = {at: sentence.tokens[at].readings for at in numbers}
    if len(denied) != 1 or any(not read or len(read[0]) != 1 for read in values.values()):
        return None
    [old] = denied
    new = next(at for at in numbers if at != old)
    return values[new][0][0], values[old][0][0]


_A_SHORT_TEXT = 12


_OF_A_YARN = frozenset(
    {"made", "not_meant", "weight", "putup", "gauge", "strands", "needle", "wpi", "price", "name", "one", "cost"}
)
"""The kinds of phrases that always have their place, with one yarn or the other."""


def _in_a_slot(phrase: Phrase, query: Query) -> bool:
    """Whether a label, a gauge or wraps are in the query: of two that differ, in a line to check, one alone is kept."""
    swatched = [query.swatch.yarn] if query.swatch else []
    owned = [held.yarn for held in (*query.stash, *query.used)]
    yarns = [*query.both_sides, *owned, *swatched]
    if phrase.kind == "wpi":
        return any(yarn.wpi == phrase.value for yarn in yarns)
    if phrase.kind == "gauge" and not swatched:
        gauges = [gauge for yarn in yarns for gauge in (yarn.gauge, yarn.other_gauge) if gauge]
        return any(gauge.stitches == phrase.value.stitches for gauge in gauges)
    if phrase.kind != "putup":
        return True
    labels = [yarn.put_up for yarn in yarns] + [colour.put_up for colour in query.colours]
    return any(_tells_the_same(label, phrase.value) for label in labels if label)


def _tells_the_same(one: PutUp, two: PutUp) -> bool:
    """Whether two labels go together, or are the same yarn by another mass: 230 m/100 g, 115 m/50 g."""
    if merged_put_up(one, two):
        return True
    if not (one.length and one.mass and two.length and two.mass):
        return False
    share = one.length.to(two.length.unit).value * two.mass.to(one.mass.unit).value
    return isclose(share, two.length.value * one.mass.value)


_OF_IT = re.compile(
    r"\b(?:(?:of|in|with|from) (?:it|that|this one|that one|this)"
    r"|(?:is|are|will|would) (?:it|that|this|they|those|these))\b",
    re.IGNORECASE,
)


def _lone_number(phrase: Phrase) -> bool:
    return phrase.kind == "num" and len(phrase.value.values) == 1


def _given(sentence: Sentence, amounts: Amounts) -> Sides:
    """What is said of yarns in groups, and the side of each."""
    groups = gather(sentence, amounts.need, amounts.have + amounts.used)
    drop_spare_lengths(sentence, groups, amounts.need)
    return assign(sentence, groups, several=_several(sentence, groups))


def _with_slots(
    sentence: Sentence, query: Query, amounts: Amounts, lots: Lots, told: Told, used: list[Phrase]
) -> Query:
    """The query with the slots its frames left open; ``used`` grows by the phrases that sizes and spares take."""
    pattern, yarns = told.pattern, tuple(told.yarns)
    extra = None if query.piece else pieces.extra_percent(sentence, sentence.phrases)
    used += [extra] if extra else []
    parted = colours(sentence, amounts.need, lots.series)
    by_chest = chest_sizes(sentence, parted, used)
    names = query.sizes or size_names(sentence, used) or by_chest
    pick = query.pick or double_named(sentence, names, used) or sizes_picked(sentence, parted, used)
    pick = pick or size_picked(sentence, used)
    query = replace(
        query,
        pattern=pattern if query.swatch is None else query.pattern,
        yarns=yarns,
        colours=tuple(parted),
        stash=query.stash or holdings(sentence, amounts.have, lots, told, left=bool(amounts.used)),
        used=query.used or holdings(sentence, amounts.used, lots, told),
        same_gauge=query.same_gauge or _same_gauge(sentence) or _at_its_gauge(sentence, pattern),
        sizes=names,
        pick=picked_again(sentence, names, pick, used) or pick_by_name(sentence, names, used),
        want=query.want or figure_wanted(sentence),
        topic=topic(sentence),
        spares=spares(sentence, used),
        extra=extra.value if extra else None,
        blend=blend(sentence, used) if sentence.said("ask.check") else (),
    )
    several = any(phrase.kind == "strands" and phrase.value > 1 for phrase in sentence.phrases)
    to_make = sentence.said("strands.like") and not sentence.said("pattern.noun", "pattern.in")  # make a DK pattern
    likened = to_make or (several and sentence.said("strands.asked"))
    likened = likened or sentence.said("ask.strand_count")  # how many strands of lace for DK
    if (sentence.said("ask.strands") or likened) and not amounts.need:
        return _held_together(sentence, query, likened=likened)
    return query


def _held_together(sentence: Sentence, query: Query, *, likened: bool) -> Query:
    """Every yarn told is held with the others; but not the DK of ``do two strands of lace make DK?``, ``replace DK?``.

    ``likened``: whether strands are said to make another yarn.
    """
    told = [yarn for yarn in query.both_sides if yarn != Yarn()]
    held = [yarn for yarn in told if (yarn.strands or 1) > 1]
    if likened and not held and query.want == "strands" and all(yarn.weight_class for yarn in told):
        finer = sorted(told, key=lambda yarn: -weight_class(yarn.weight_class or "").mid_gauge)[:1]
        held = [yarn for yarn in told if yarn.weight_class in _made_into(sentence)] or finer
    rest = [yarn for yarn in told if yarn not in held]
    if len(held) == len(rest) == 1 and not rest[0].put_up and (likened or _given_up(sentence, rest[0])):
        return replace(query, pattern=rest[0], yarns=(held[0],))
    if not held and not likened and len(told) > 1 and any(token.lower == "together" for token in sentence.tokens):
        told = [replace(yarn, strands=1) for yarn in told]  # holding lace and DK together
    return replace(query, pattern=Yarn(), yarns=tuple(told))


def _made_into(sentence: Sentence) -> set[str]:
    """``strands of worsted to make lace``: the weights told before the words for what strands make."""
    make = next((cue.first for cue in sentence.cues if cue.kind == "strands.like"), 0)
    return {key for p in sentence.phrases if p.kind == "weight" and p.last <= make for key in p.value[0]}


def _given_up(sentence: Sentence, yarn: Yarn) -> bool:
    """``can two strands of DK replace bulky?``, ``substitute two strands for worsted``: what strands stand for."""
    starts = [
        phrase.first for phrase in sentence.phrases if phrase.kind == "weight" and yarn.weight_class in phrase.value[0]
    ]
    over = {"pattern.over", "exchange.replace", "exchange.old_for", "exchange.in_for"}
    over |= {"exchange.for"} if sentence.said("exchange.new_for") else set()
    return any(cue.kind in over and 0 <= start - cue.last <= 1 for cue in sentence.cues for start in starts)


_TRADE = frozenset(
    {"CLASS", "SKEIN", "STS", "NEEDLE", "WPI", "STRAND", "STRANDED", "LEN", "GAUGE", "NAME", "GRIST", "PLY"}
)


def _of_yarn(sentence: Sentence) -> bool:
    return sentence.said("trade.word") or any(token.kind in _TRADE for token in sentence.tokens)


def _firm(sentence: Sentence, phrase: Phrase) -> bool:
    """Whether an amount is plainly a need: said to be needed, told of a pattern, or a length ``of`` a yarn."""
    if phrase.kind not in ("length", "count"):
        return False
    links = sentence.kind_at(phrase.first - 1) in ("OF", "COMMA")
    patterns = {cue.last for cue in sentence.cues if cue.kind == "pattern.noun"}
    if of_a_pattern(sentence, phrase) or phrase.first - links in patterns:
        return True  # a 500 yd DK pattern, a DK pattern of 500 yd
    of_a_yarn = phrase.kind == "length" and sentence.kind_at(phrase.last) == "OF"
    things = {cue.last for cue in sentence.cues if cue.kind == "pattern.thing"}
    of_a_thing = sentence.kind_at(phrase.first - 1) == "HOLD" and phrase.first - 1 in things  # the cowl is 260 yards
    of_a_yarn = of_a_yarn or (sentence.kind_at(phrase.first - 1) == "OF" and phrase.first - 1 in things)
    return of_a_yarn or of_a_thing or sentence.lower_at(phrase.first - 1) in word_list("needing")


def _either_class(sentence: Sentence, amounts: Amounts) -> list[Phrase]:
    """``is that DK or sport?``: two classes asked about, of a yarn nobody buys for; they are taken out of the way."""
    if any(phrase.kind in ("length", "count", "times", "named", "dual") for phrase in (*amounts.need, *amounts.have)):
        return []
    weights_said = [phrase for phrase in sentence.phrases if phrase.kind == "weight"]
    if len({phrase.value for phrase in weights_said}) > _OF_A_PAIR:
        return []  # which takes more, a DK pattern in aran or in 4 ply
    for one, two in itertools.pairwise(weights_said):
        between = [sentence.kind_at(i) for i in range(one.last, two.first)]
        if (
            "OR" in between
            and len(between) <= 4
            and not any(p.kind == "putup" and one.last <= p.first < two.first for p in sentence.phrases)
        ):
            sentence.phrases = [phrase for phrase in sentence.phrases if phrase not in (one, two)]
            sentence.mark("ask.identify", one.first, two.last)
            return [one, two]
    return []


_OF_A_PAIR = 2


def _at_its_gauge(sentence: Sentence, pattern: Yarn) -> bool:
    """``knit the DK at the aran gauge``, of an aran pattern."""
    told = [phrase.value[0] for phrase in sentence.phrases if phrase.kind == "not_meant" and "gauge" in phrase.flags]
    return any(pattern.weight_class in classes for classes in told)


def _same_gauge(sentence: Sentence) -> bool:
    """Whether the gauge is said to be kept; ``the pattern gauge is 18 sts`` only gives it."""
    said = [cue for cue in sentence.cues if cue.kind == "same.gauge"]
    if _one_for_both(sentence):
        return True
    if not said:
        return False
    if any(sentence.lower_at(cue.first).startswith(("match", "hit", "meet")) for cue in said):
        return True  # whatever stands beside it, which is looked at later
    starts = [phrase.first for phrase in sentence.phrases if phrase.kind == "gauge"]
    ends = [phrase.last for phrase in sentence.phrases if phrase.kind == "gauge"]
    given = [any(-2 <= start - cue.last <= 3 for start in starts) for cue in said]
    named = [any(0 < cue.first - end <= 2 for end in ends) for cue in said]  # 22 to 4 in is the pattern's tension
    return not all(one or other for one, other in zip(given, named, strict=True))


def _one_for_both(sentence: Sentence) -> bool:
    """``both at 20 sts to 4 in``, ``I match the pattern's 20 sts``: the one gauge told is of both sides."""
    gauges = [phrase for phrase in sentence.phrases if phrase.kind == "gauge"]
    if len(gauges) != 1:
        return False
    [gauge] = gauges
    return any(
        cue.kind == "gauge.both"
        and (_joined(sentence, cue.last, gauge.first) or _joined(sentence, gauge.last, cue.first))
        and sentence.kind_at(cue.last) not in _THINGS
        for cue in sentence.cues
    )


def _joined(sentence: Sentence, left: int, right: int) -> bool:
    """Whether one place follows another, a sign or two between."""
    return left <= right and all(sentence.kind_at(at) in _SIGNS for at in range(left, right))


_SIGNS = frozenset({"COMMA", "COLON", "AT", "HOLD", "DASH", "EQ", "LPAR"})
_THINGS = frozenset({"WORD", "SIZES", "NEEDLE"})
"""What both may be of that are no yarns: both sizes, both needles."""


def _several(sentence: Sentence, groups: list[Group]) -> bool:
    """Whether candidates are weighed against each other: three put-ups, or two of different weights with or between."""
    if sentence.said("ask.compare"):
        return True
    wound = [group for group in groups if "putup" in group.features and not group.has_need]
    wound = [group for group in wound if not _only_completes(group, wound)]
    if len(wound) > 2:
        return True
    if len(wound) < 2 or wound[0].weight == wound[1].weight or any(group.has_count for group in wound):
        return False
    if _one_after_the_other(sentence, groups, wound):
        return True
    between = range(wound[0].first, wound[1].last)
    asked = [cue.first for cue in sentence.cues if cue.kind == "ask.how_many"]
    each = any(at < wound[0].first for at in asked) and any(wound[0].last <= at < wound[1].first for at in asked)
    either = each or any(sentence.kind_at(i) == "OR" for i in between)
    needed = any(group.has_need and group.weight for group in groups)  # a DK cardigan, 1000 m: how many of each?
    return either or (needed and sentence.said("follow.each") and bool(asked))


def _one_after_the_other(sentence: Sentence, groups: list[Group], wound: list[Group]) -> bool:
    """``900 m of aran, in DK 50 g/120 m, and chunky 100 g/130 m?``: two yarns and their labels, after the pattern's.

    ``950 yds of aran in a DK 240 yds, and what about a worsted 200 yds``: the second may be of the pattern's weight.
    """
    if sentence.said("ask.enough", "ask.check", "ask.strands", "have.before") or any(group.owned for group in groups):
        return False
    parts = word_list("garment_parts") | word_list("small_parts")
    if any(token.lower in parts for token in sentence.tokens):
        return False  # the body in DK, and chunky for the hem
    pattern = [group for group in groups if group.last <= wound[0].first and "putup" not in group.features]
    rivals = {wound[0].weight, wound[1].weight}
    third = any(group.weight and group.weight not in rivals for group in pattern)
    begin = wound[1].first - (sentence.kind_at(wound[1].first - 1) in ("ARTICLE", "THE"))
    asked = sentence.lower_at(begin - 1) in ("in", "about") and any(
        group.weight == wound[1].weight for group in pattern
    )
    held = any(phrase.kind == "strands" for phrase in sentence.phrases) or any(
        token.lower in word_list("combining") | {"together", "held", "hold", "along"} for token in sentence.tokens
    )
    between = [(sentence.kind_at(at), sentence.lower_at(at)) for at in range(wound[0].last, wound[1].first)]
    joined = any(kind == "AND" for kind, _ in between)
    joined = joined and all(kind in _LISTS_ON or word in word_list("asks_on") for kind, word in between)
    return any(group.has_need for group in pattern) and (third or asked) and joined and not held


_LISTS_ON = frozenset({"AND", "COMMA", "STOP", "SEMI", "NEWLINE", "IN", "FOR", "ARTICLE", "THE"})


def _only_completes(group: Group, wound: list[Group]) -> bool:
    """``fourteen 1 oz balls of 4 ply, … those had 100 yards in the ounce``: a put-up that another's is a part of."""
    own = group.features["putup"]
    others = (other.features["putup"] for other in wound if other is not group)
    return group.features.keys() == {"putup"} and any(
        other != own and merged_put_up(own, other) in (own, other) for other in others
    )
