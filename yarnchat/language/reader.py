"""The reader: a text to the slots it fills. What is asked of them is for the abilities to say."""

from __future__ import annotations

import itertools
import re
from dataclasses import dataclass, replace

from yarnchat.knowledge.classes import ambiguous_names
from yarnchat.language import frames
from yarnchat.language.accounting import account
from yarnchat.language.amounts import Amounts, join_put_ups, sort_amounts
from yarnchat.language.candidates import mark_candidates
from yarnchat.language.checking import ask_whether
from yarnchat.language.colours import certain_labels, colours, share_the_unit
from yarnchat.language.lexicon import load, word_list
from yarnchat.language.names import class_hint, mark_names
from yarnchat.language.phrases import Phrase
from yarnchat.language.reading import ASIDE, Reading
from yarnchat.language.repair import Doubt, repaired
from yarnchat.language.scan import NO_NAMES, Names
from yarnchat.language.sentence import Sentence, lay_out
from yarnchat.language.sides import PATTERN, YARN, Group, Sides, assign, gather, merge_yarns, weights, yarn_of
from yarnchat.quantity import Quantity
from yarnchat.queries import Colour, Holding, PutUp, Query, Series, Yarn
from yarnchat.refusals import Refusal, not_understood, unclear

MAX_CHARACTERS = 8000


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
    reading = _fill(sentence)
    if doubtful and reading.refusal is None:
        reading.refusal = _unknown_weight(doubtful)
    reading.notes = [*notes, *(note for phrase in sentence.phrases for note in phrase.notes), *reading.notes]
    return reading


def prepared(text: str, names: Names = NO_NAMES) -> tuple[Sentence, list[str], Doubt | None]:
    """The sentence before anything is sorted, what was put right in it, and a word that may be a weight misspelt."""
    sentence, notes, doubtful = repaired(lay_out(text, names), names)
    mark_names(sentence)
    mark_candidates(sentence)
    join_put_ups(sentence)
    share_the_unit(sentence)
    ask_whether(sentence)
    return sentence, notes, doubtful


def _unknown_weight(doubtful: Doubt) -> Refusal:
    """A word where a weight should stand, that may be a slip for one."""
    word, guess, question = doubtful
    near = f" Did you mean {guess}?" if guess else " Which weight class is it?"
    return unclear(f"I don't know “{word}” as a weight of yarn.{near}", word, suggestions=(question,) if guess else ())


def _declined(refusal: Refusal) -> Reading:
    return Reading(Query(), frozenset(), refusal=refusal)


def _fill(sentence: Sentence) -> Reading:
    """Every slot of a question, step by step: what a step takes is out of the way of the next."""
    _infer(sentence)
    query, taken = frames.special(sentence)
    phrases = sentence.phrases
    denied = _denied(sentence, taken)
    guessed = _guessed(sentence)
    if guessed:
        sentence.mark("ask.how_many")
    sentence.phrases = [phrase for phrase in phrases if phrase not in (*taken, *denied, *guessed)]
    amounts = sort_amounts(sentence, underway=query.progress is not None or sentence.said("ask.progress"))
    lots = _lots(amounts)
    _skein_lengths(sentence, amounts.need)
    either = _either_class(sentence, amounts)
    given = _given(sentence, amounts)
    told = _in_hand(sentence, given, _told(sentence, given), amounts)
    of_pattern = sentence.said("pattern.noun", "pattern.label")
    if query.progress and len(amounts.need) == 1 and not amounts.used and not of_pattern:
        amounts.used, amounts.need = amounts.need, []
    told, notes = _times_told(told, amounts, lots)
    used = [*taken, *denied, *guessed, *either, *(p for p in sentence.phrases if p.kind in _OF_A_YARN), *amounts.all]
    query = _with_slots(sentence, query, amounts, lots, told, used)
    miscounted = _colours_counted(sentence, [colour.name for colour in query.colours if colour.name], used)
    refusal = told.refusal or miscounted or _unsettled(sentence, query, given, amounts)
    numbers = account(sentence, phrases, used)
    aside = [*(f"not {sentence.words(phrase)}" for phrase in denied), *numbers.aside]
    part = frames.spoken_part(sentence) if query.progress is None and query.colours else None
    return Reading(
        query,
        sentence.cue_kinds(),
        notes=[*notes, *([f"{ASIDE}{', '.join(aside)}"] if aside else [])],
        unused=[*numbers.unused, *([part] if part else [])],
        refusal=refusal,
        unknown=numbers.unknown,
        of_yarn=_of_yarn(sentence),
        firm_need=any(_firm(sentence, phrase) for phrase in amounts.need),
        it_is_said=bool(_OF_IT.search(sentence.text)),
        bare_count=next((p.value.values[0] for p in sentence.phrases if _lone_number(p)), None),
        bare_said=next((sentence.words(p) for p in sentence.phrases if _lone_number(p)), ""),
        colour=_one_label(sentence),
        small=next((p.value for p in sentence.phrases if p.kind == "small"), None),
        dim=next((p.value for p in sentence.phrases if p.kind == "dim"), None),
    )


def _infer(sentence: Sentence) -> None:
    """The cues that follow from others: a weak word for a check where nothing else is asked, ``2 more balls``."""
    if sentence.said("check.weak") and not sentence.said("ask.how_many", "ask.skeins", "ask.enough"):
        sentence.mark("ask.check")
    counted = [phrase for phrase in sentence.phrases if phrase.kind == "count"]
    if any("more" in sentence.lower_at(at).split() for p in counted for at in range(p.first, p.last + 1)):
        sentence.mark("have.more")


_OF_A_YARN = frozenset({"made", "weight", "putup", "gauge", "strands", "needle", "wpi", "price", "name", "one"})
"""The kinds of phrases that always have their place, with one yarn or the other."""
_OF_IT = re.compile(r"\b(?:of|in|with|from) (?:it|that|this one|that one|this)\b", re.IGNORECASE)


def _lone_number(phrase: Phrase) -> bool:
    return phrase.kind == "num" and len(phrase.value.values) == 1


def _given(sentence: Sentence, amounts: Amounts) -> Sides:
    """What is said of yarns in groups, and the side of each."""
    groups = gather(sentence, amounts.need, amounts.have + amounts.used)
    _drop_spare_lengths(groups, amounts.need)
    return assign(sentence, groups, several=_several(sentence, groups))


def _with_slots(
    sentence: Sentence, query: Query, amounts: Amounts, lots: Lots, told: Told, used: list[Phrase]
) -> Query:
    """The query with the slots its frames left open; ``used`` grows by the phrases that sizes and spares take."""
    pattern, yarns = told.pattern, tuple(told.yarns)
    extra = None if query.piece else frames.extra_percent(sentence, sentence.phrases)
    used += [extra] if extra else []
    parted = colours(sentence, amounts.need, lots.series)
    by_chest = _chest_sizes(sentence, parted, used)
    query = replace(
        query,
        pattern=pattern if query.swatch is None else query.pattern,
        yarns=yarns,
        colours=tuple(parted),
        stash=query.stash or _holdings(amounts.have, lots, told, sentence if amounts.used else None),
        used=query.used or _holdings(amounts.used, lots, told),
        same_gauge=query.same_gauge or _same_gauge(sentence),
        sizes=query.sizes or _size_names(sentence, used) or by_chest,
        pick=query.pick or _pick(sentence, used) or _pick_by_chest(sentence, by_chest, used),
        want=query.want or _want(sentence),
        topic=_topic(sentence),
        spares=_spares(sentence, used),
        extra=extra.value if extra else None,
        blend=_blend(sentence, used) if sentence.said("ask.check") else (),
    )
    if sentence.said("ask.strands") and not amounts.need and pattern != Yarn():
        return replace(query, pattern=Yarn(), yarns=(pattern, *yarns))
    return query


def _denied(sentence: Sentence, taken: list[Phrase]) -> list[Phrase]:
    """Amounts said not to be so beside one of their kind that is: ``not 900 yards, 1900 yards``."""
    told = [p for p in sentence.phrases if p not in taken and p.kind in ("length", "mass", "count", "gauge", "putup")]
    denied = [phrase for phrase in told if sentence.lower_at(phrase.first - 1) == "not"]
    denied += _put_right(sentence, told)
    return [phrase for phrase in denied if any(p.kind == phrase.kind and p not in denied for p in told)]


def _put_right(sentence: Sentence, told: list[Phrase]) -> list[Phrase]:
    """``5 balls, no 6 balls``, ``900 yd, sorry, 950``: an amount taken back in the same breath."""
    taken_back: list[Phrase] = []
    for one, two in itertools.pairwise(sentence.phrases):
        if one not in told or one.kind not in ("length", "mass", "count") or two.kind not in (one.kind, "num"):
            continue
        gap = {sentence.lower_at(at) for at in range(one.last, two.first)} - {",", "-", ".", ":", "…"}
        if not gap & word_list("taking_back") or not gap <= word_list("taking_back") | word_list("taking_back_with"):
            continue
        if two.kind == "num":
            two.kind, two.value = one.kind, replace(two.value, unit=one.value.unit)
            told.append(two)
        taken_back.append(one)
    return taken_back


def _count_asked_for(sentence: Sentence) -> Refusal | None:
    """``how many 200 200 yd skeins``: a count where the count is what is asked for."""
    for phrase in sentence.phrases:
        asked = [sentence.lower_at(phrase.first - 2), sentence.lower_at(phrase.first - 1)] == ["how", "many"]
        if asked and phrase.kind in ("times", "count"):
            count = f"{(phrase.value[0] if phrase.kind == 'times' else phrase.value).values[0]:g}"
            return unclear(f"I can't tell what “{count}” stands for, where how many is asked.", count)
    return None


def _held_along(sentence: Sentence, query: Query) -> Refusal | None:
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


def _guessed(sentence: Sentence) -> list[Phrase]:
    """``1 ball or more?``, ``five skeins or six?``: counts that are guesses at the answer, and not what she has."""
    needed = any(phrase.kind in ("length", "mass", "named", "dual") for phrase in sentence.phrases)
    if sentence.said("have.before") or not needed:
        return []
    for count, other in itertools.zip_longest(sentence.phrases, sentence.phrases[1:]):
        if count.kind != "count" or len(count.value.values) != 1:
            continue
        if any(sentence.kind_at(at) == "OR" for at in range(count.first, count.last)):
            return [count]
        if sentence.kind_at(count.last) != "OR":
            continue
        if other and other.first == count.last + 1 and other.kind in ("num", "count"):
            return [count, other]
        if sentence.lower_at(count.last + 1) in {"more", "fewer", "less", *load("words.toml")["numbers"]}:
            return [count]
    return []


_TRADE = frozenset(
    {"CLASS", "SKEIN", "STS", "NEEDLE", "WPI", "STRAND", "STRANDED", "LEN", "GAUGE", "NAME", "GRIST", "PLY"}
)


def _of_yarn(sentence: Sentence) -> bool:
    return sentence.said("trade.word") or any(token.kind in _TRADE for token in sentence.tokens)


def _firm(sentence: Sentence, phrase: Phrase) -> bool:
    """Whether a length is plainly a need: said to be needed, or ``of`` a yarn."""
    if phrase.kind != "length":
        return False
    return sentence.kind_at(phrase.last) == "OF" or sentence.lower_at(phrase.first - 1) in word_list("needing")


def _either_class(sentence: Sentence, amounts: Amounts) -> list[Phrase]:
    """``is that DK or sport?``: two classes asked about, of a yarn nobody buys for; they are taken out of the way."""
    if any(phrase.kind in ("length", "count", "times", "named", "dual") for phrase in (*amounts.need, *amounts.have)):
        return []
    weights_said = [phrase for phrase in sentence.phrases if phrase.kind == "weight"]
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


def _same_gauge(sentence: Sentence) -> bool:
    """Whether the gauge is said to be kept; ``the pattern gauge is 18 sts`` only gives it."""
    starts = [phrase.first for phrase in sentence.phrases if phrase.kind == "gauge"]
    said = [cue for cue in sentence.cues if cue.kind == "same.gauge"]
    return any(not any(-2 <= start - cue.last <= 3 for start in starts) for cue in said)


def _several(sentence: Sentence, groups: list[Group]) -> bool:
    """Whether candidates are weighed against each other: three put-ups, or two of different weights with or between."""
    if sentence.said("ask.compare"):
        return True
    wound = [group for group in groups if "putup" in group.features and not group.has_need]
    if len(wound) > 2:
        return True
    if len(wound) < 2 or wound[0].weight == wound[1].weight or any(group.has_count for group in wound):
        return False
    between = range(wound[0].first, wound[1].last)
    asked = [cue.first for cue in sentence.cues if cue.kind == "ask.how_many"]
    each = any(at < wound[0].first for at in asked) and any(wound[0].last <= at < wound[1].first for at in asked)
    return each or any(sentence.kind_at(i) == "OR" for i in between)


@dataclass(frozen=True, slots=True)
class Lots:
    """How much each amount is, by the identity of its phrase."""

    series: dict[int, tuple[Series, ...]]
    put_ups: dict[int, PutUp]
    """The put-up that a ``5 x 100 g`` says besides."""


def _lots(amounts: Amounts) -> Lots:
    """The series each amount says, and its put-up where it says one."""
    lots = Lots({}, {})
    for phrase in amounts.all:
        if phrase.kind == "times":
            series, lots.put_ups[id(phrase)] = phrase.value
            lots.series[id(phrase)] = (series,)
        elif phrase.kind == "dual":
            lots.series[id(phrase)] = tuple(phrase.value)
        elif phrase.kind == "named":
            lots.series[id(phrase)] = (phrase.value[1],)
        else:
            lots.series[id(phrase)] = (phrase.value,)
    return lots


def _times_told(told: Told, amounts: Amounts, lots: Lots) -> tuple[Told, list[str]]:
    """The pattern's yarn with the put-up of a ``6 x 50 g``, and a note where a label's length went into it."""
    label = told.pattern.put_up
    pattern = _with_times(told.pattern, [lots.put_ups[id(p)] for p in amounts.need if id(p) in lots.put_ups])
    shared = label and label.mass and pattern.put_up != label
    return replace(told, pattern=pattern), [f"read {pattern.put_up} from the label, {label}"] if shared else []


def _with_times(pattern: Yarn, put_ups: list[PutUp]) -> Yarn:
    """The pattern's yarn with the put-up of a ``6 x 50 g``; a label of another mass gives the length of those 50 g."""
    for put_up in put_ups[:1]:
        merged = merge_yarns(pattern, Yarn(put_up=put_up))
        if merged:
            return merged
        label = pattern.put_up
        if label and label.length and label.mass and label.mass.value and put_up.mass and not put_up.length:
            share = put_up.mass.to(label.mass.unit).value / label.mass.value
            wound = PutUp(Quantity(label.length.value * share, label.length.unit), put_up.mass)
            return replace(pattern, put_up=wound)
    return pattern


def _drop_spare_lengths(groups: list[Group], needs: list[Phrase]) -> None:
    """Of two bare lengths the smaller is a skein's where its group tells of a yarn without one: ``in DK, 250 yd``."""
    lengths = [phrase for phrase in needs if phrase.kind == "length" and len(phrase.value.values) == 1]
    if len(lengths) < 2 or any(phrase.kind in ("count", "named", "times") for phrase in needs):
        return
    for group in groups:
        bare = [phrase for phrase in group.amounts if phrase in lengths]
        others = [phrase for phrase in lengths if phrase not in bare]
        if len(bare) != 1 or not others or "putup" in group.features or not group.features.keys() & {"weight", "name"}:
            continue
        own = Quantity(bare[0].value.values[0], bare[0].value.unit)
        biggest = max(Quantity(p.value.values[0], p.value.unit).to(own.unit).value for p in others)
        weight = next((p for p in group.phrases if p.kind in ("weight", "name")), bare[0])
        if weight.first < bare[0].first and own.value < 0.8 * biggest and own.to("m").value <= 1000:
            bare[0].kind, bare[0].value = "putup", PutUp(length=own)
            group.features["putup"] = bare[0].value
            group.amounts.remove(bare[0])
            needs.remove(bare[0])
            lengths.remove(bare[0])
            return


@dataclass(frozen=True, slots=True)
class Told:
    """The yarns of a question: the pattern's, and those to knit with."""

    pattern: Yarn
    yarns: list[Yarn]
    owners: dict[int, Yarn]
    """The yarn each amount is said beside, by the identity of its phrase."""
    refusal: Refusal | None = None
    """Where one yarn is told two ways."""


def _told(sentence: Sentence, given: Sides) -> Told:
    """The yarns of the groups of each side, those of one yarn put together."""
    _part_gauges(sentence, given)
    yarn_of_group = {group: _yarn_told(group) for group in given.groups}
    pattern, refusal = _pattern_told(sentence, [yarn_of_group[group] for group in given.of(PATTERN)])
    yarns = _wanted_told(given, yarn_of_group)
    refusal = refusal or _wound_twice(sentence, given, pattern, yarns)
    yarns = [yarn for yarn in _shared_class(pattern, yarns, given.several) if yarn != Yarn()]
    yarns = _shared_mass(yarns, given.several)
    if len(yarns) > 1 and not given.several and not sentence.said("ask.check", "ask.strands"):
        refusal = refusal or _two_things(yarns[0], yarns[1])
    owners = {id(phrase): yarn_of_group[group] for group in given.groups for phrase in group.amounts}
    return Told(pattern, yarns, owners, refusal)


_I = frozenset({"i", "i'm", "i've", "i'd", "me", "my", "mine"})


def _part_gauges(sentence: Sentence, given: Sides) -> None:
    """``at 22 sts it takes 1310 yd, then at 19, which is where I'm at``: the second gauge is hers."""
    gauged = [at for at, group in enumerate(given.groups) if "gauge" in group.features]
    if len(gauged) != 2 or any(given.sides[at] != PATTERN for at in gauged):
        return
    first, second = (given.groups[at] for at in gauged)
    if first.features["gauge"] == second.features["gauge"] or second.called or second.amounts:
        return
    at = second.phrases[0].first
    near = {sentence.lower_at(i) for i in range(at - 8, second.phrases[-1].last + 8)}
    if near & _I and not {sentence.lower_at(i) for i in range(first.phrases[0].first - 3, first.phrases[0].first)} & _I:
        given.sides = tuple(YARN if i == gauged[1] else side for i, side in enumerate(given.sides))


def _pattern_told(sentence: Sentence, sayings: list[Yarn]) -> tuple[Yarn, Refusal | None]:
    """All that is said of the pattern's yarn, the first saying kept, and a refusal where a later one differs."""
    refusal: Refusal | None = None
    pattern = Yarn()
    for told in sayings:
        both = merge_yarns(pattern, told)
        if both is None and not sentence.said("ask.check"):
            refusal = refusal or _two_things(pattern, told)
        pattern = both or _filled_up(pattern, told)
    return pattern, refusal


def _wanted_told(given: Sides, yarn_of_group: dict[Group, Yarn]) -> list[Yarn]:
    """The yarns to knit with; of two candidates each keeps its own put-up, and one she has is told only if it fits."""
    yarns: list[Yarn] = []
    for group in given.of(YARN):
        told = yarn_of_group[group]
        if group.owned and yarns and not any(merge_yarns(other, told) for other in yarns):
            continue
        for index, other in enumerate(yarns):
            both = merge_yarns(other, told)
            if both and not (given.several and other.put_up and told.put_up and other.put_up != told.put_up):
                yarns[index] = both
                break
        else:
            yarns.append(told)
    return yarns


def _yarn_told(group: Group) -> Yarn:
    """The yarn of a group; a name that holds a class says its weight."""
    yarn = yarn_of(group.features)
    if yarn.weight_class is None and yarn.class_as_said is None and yarn.name and (hint := class_hint(yarn.name)):
        return replace(yarn, weight_class=hint)
    return yarn


_THE_SAME = re.compile(r"\bthe same (?:yarn|wool|weight|dk|aran|worsted|sock)\b", re.IGNORECASE)


def _wound_twice(sentence: Sentence, given: Sides, pattern: Yarn, yarns: list[Yarn]) -> Refusal | None:
    """One weight with two put-ups, where nothing says that they are two yarns."""
    if given.several or any(group.has_count for group in given.groups) or sentence.said("ask.check"):
        return None
    wound = [y for y in yarns if y.put_up and pattern.put_up and y.put_up.length and pattern.put_up.length]
    if not wound:
        return None
    same_class = wound[0].weight_class is not None and wound[0].weight_class == pattern.weight_class
    if not same_class and not (wound[0] == Yarn(put_up=wound[0].put_up) and _THE_SAME.search(sentence.text)):
        return None
    return _two_things(replace(pattern, class_as_said=None), replace(wound[0], class_as_said=None))


def _shared_class(pattern: Yarn, yarns: list[Yarn], several: bool) -> list[Yarn]:
    """Candidates of which nothing but put-ups is told are of the pattern's weight."""
    if (
        not several
        or not pattern.weight_class
        or any(y.weight_class or len(y.name or "") > 1 or y.gauge for y in yarns)
    ):
        return yarns
    same = Yarn(weight_class=pattern.weight_class, class_as_said=pattern.class_as_said)
    return [merge_yarns(yarn, same) or yarn for yarn in yarns]


def _shared_mass(yarns: list[Yarn], several: bool) -> list[Yarn]:
    """``all are 100 g balls``: a skein's mass said once for all the candidates."""
    loose = [yarn for yarn in yarns if yarn.put_up and yarn == Yarn(put_up=PutUp(mass=yarn.put_up.mass))]
    if not several or len(loose) != 1 or len(yarns) < 3:
        return yarns
    return [merge_yarns(yarn, loose[0]) or yarn for yarn in yarns if yarn is not loose[0]]


def _in_hand(sentence: Sentence, given: Sides, told: Told, amounts: Amounts) -> Told:
    """The yarns with what was said beside the pattern and is of the yarn in hand, or the other way round."""
    _own_side(sentence, given, amounts)
    pattern, yarns = told.pattern, _length_in_hand(given, told.yarns, amounts)
    pattern, yarns = _strands_in_hand(pattern, yarns)
    pattern, yarns = _put_up_in_hand(sentence, given, pattern, yarns, amounts)
    pattern, yarns = _one_yarn(pattern, yarns, amounts, given.several)
    return replace(told, pattern=pattern, yarns=yarns)


def _strands_in_hand(pattern: Yarn, yarns: list[Yarn]) -> tuple[Yarn, list[Yarn]]:
    """Strands said of no yarn by name are of the only yarn there is: the one to knit with."""
    nameless = not (pattern.weight_class or pattern.name or pattern.put_up)
    if not pattern.strands or not nameless or len(yarns) != 1 or yarns[0].strands not in (None, pattern.strands):
        return pattern, yarns
    return replace(pattern, strands=None), [replace(yarns[0], strands=pattern.strands)]


def _put_up_in_hand(
    sentence: Sentence, given: Sides, pattern: Yarn, yarns: list[Yarn], amounts: Amounts
) -> tuple[Yarn, list[Yarn]]:
    """A put-up said after a length that is needed, and not in brackets behind a name, is that of the yarn in hand."""
    counted = any(phrase.kind in ("count", "times") for phrase in amounts.need)
    if counted or not pattern.put_up or len(yarns) != 1 or yarns[0].put_up:
        return pattern, yarns
    if not (yarns[0].weight_class or yarns[0].name or yarns[0].gauge):
        return pattern, yarns
    wound = [(group, p) for group in given.of(PATTERN) for p in group.phrases if p.kind == "putup"]
    group, put_up = wound[0] if wound else (None, None)
    if group is None or put_up is None:
        return pattern, yarns
    named = group.weight or "name" in group.features
    needed_before = any(p.kind in ("length", "dual") and p.last <= put_up.first for p in group.amounts)
    bracketed = sentence.kind_at(put_up.first - 1) == "LPAR" or sentence.kind_at(put_up.first) == "LPAR"
    if named and not (needed_before and not bracketed):
        return pattern, yarns
    return replace(pattern, put_up=None), [replace(yarns[0], put_up=pattern.put_up)]


def _one_yarn(pattern: Yarn, yarns: list[Yarn], amounts: Amounts, several: bool) -> tuple[Yarn, list[Yarn]]:
    """Where nobody needs a length, or a skein's length and its mass stand apart, all that is said is of one yarn."""
    if len(yarns) != 1 or several or pattern == Yarn():
        return pattern, yarns
    both = merge_yarns(pattern, yarns[0])
    wound, other = pattern.put_up, yarns[0].put_up
    halves = wound and other and yarns[0] == Yarn(put_up=other) and not (wound.length and other.length)
    if both and not amounts.need:
        return Yarn(), [both]
    if both and all(phrase.kind == "mass" for phrase in amounts.need):
        return both, []
    return (both, []) if both and halves else (pattern, yarns)


def _filled_up(one: Yarn, two: Yarn) -> Yarn:
    slots = ("name", "weight_class", "class_as_said", "put_up", "gauge", "needle", "strands", "wpi", "price")
    return replace(one, **{slot: getattr(two, slot) for slot in slots if getattr(one, slot) is None})


def _two_things(one: Yarn, two: Yarn) -> Refusal:
    """Two weights, gauges, put-ups or prices said where one yarn seems to be meant."""
    for slot, what in (
        ("class_as_said", "weight"),
        ("gauge", "gauge"),
        ("put_up", "put-up"),
        ("price", "price"),
        ("strands", "number of strands"),
        ("name", "name"),
    ):
        first, second = getattr(one, slot), getattr(two, slot)
        if first and second and first != second:
            return unclear(
                f"I read two of one thing, the {what} {first} and {second}. Which is it, and of which yarn? "
                "One yarn a sentence would settle it.",
                str(second),
            )
    return unclear(
        f"I can't tell whether {one} and {two} are one yarn. Say what each is: the pattern's, or the one to knit with.",
        str(two),
    )


def _own_side(sentence: Sentence, given: Sides, amounts: Amounts) -> None:
    """Skeins and grams of the yarn to knit with are what she has, where the pattern's need is told apart from them."""
    mine = {id(phrase) for group in given.of(YARN) for phrase in group.amounts}
    theirs = [phrase for phrase in amounts.need if id(phrase) not in mine]
    if sentence.said("ask.check") or not any(
        phrase.kind in ("length", "dual", "named", "count", "times") for phrase in theirs
    ):
        return
    moved = [phrase for phrase in amounts.need if id(phrase) in mine and phrase.kind in ("count", "mass", "times")]
    amounts.need = [phrase for phrase in amounts.need if phrase not in moved]
    amounts.have += moved


def _length_in_hand(given: Sides, yarns: list[Yarn], amounts: Amounts) -> list[Yarn]:
    """``to worsted 220 yds``: a length beside the yarn to knit with, where the need is told apart, is its skein's."""
    for group in given.of(YARN):
        lone = [p for p in group.amounts if p in amounts.need and p.kind == "length" and len(p.value.values) == 1]
        others = [p for p in amounts.need if p not in group.amounts]
        if (
            len(lone) != 1
            or not others
            or "putup" in group.features
            or len(yarns) != 1
            or yarns[0].put_up
            or not group.weight
        ):
            continue
        length = Quantity(lone[0].value.values[0], lone[0].value.unit)
        if length.to("m").value <= 700:
            amounts.need.remove(lone[0])
            lone[0].kind, lone[0].value = "putup", PutUp(length=length)
            return [replace(yarns[0], put_up=lone[0].value)]
    return yarns


def _skein_lengths(sentence: Sentence, needs: list[Phrase]) -> None:
    """Beside a number of skeins whose put-up is unsaid, a length in brackets or of a skein's size is that put-up."""
    if sentence.said("ask.check") and len(needs) > 2:
        return
    counts = [
        phrase
        for phrase in needs
        if phrase.kind in ("count", "times") or (phrase.kind == "named" and phrase.value[1].unit == "skein")
    ]
    lengths = [phrase for phrase in needs if phrase.kind == "length" and len(phrase.value.values) == 1]
    number = sentence.sentence_of(counts[0].first) if counts else 0
    told = any(
        phrase.kind == "putup" and phrase.value.length and sentence.sentence_of(phrase.first) == number
        for phrase in sentence.phrases
    )
    if (
        not counts
        or len(lengths) != 1
        or told
        or sentence.parted(counts[0].last, lengths[0].first)
        or any(phrase.kind in ("length", "dual", "named") and phrase not in (*lengths, *counts) for phrase in needs)
    ):
        return
    length = lengths[0]
    own = Quantity(length.value.values[0], length.value.unit)
    bracketed = sentence.kind_at(length.first - 1) == "LPAR" or sentence.kind_at(length.first - 1) in (
        "AT",
        "OF",
        "X",
    )
    after_count = 0 <= length.first - counts[0].last <= 6 or bracketed
    if own.to("m").value <= (1000 if bracketed else 500) and after_count and not sentence.said("ask.enough"):
        length.kind, length.value = "putup", PutUp(length=own)
        needs.remove(length)


def _told_elsewhere(yarn: Yarn, yarns: list[Yarn]) -> Yarn:
    """A yarn she has with what is told of it apart from its amount; the wanted yarns are looked at first."""
    for other in reversed(yarns):
        named = bool(yarn.weight_class or yarn.name)
        alike = (yarn.weight_class, yarn.name) == (other.weight_class, other.name)
        wound = yarn.put_up and other.put_up and not named
        both = merge_yarns(yarn, other) if (named and alike) or wound else None
        if both:
            return both
    return yarn


def _holdings(phrases: list[Phrase], lots: Lots, told: Told, sentence: Sentence | None = None) -> tuple[Holding, ...]:
    """Amounts as holdings, each of the yarn said beside it with all that is told of that yarn elsewhere.

    With a ``sentence`` they are what is left, where it does not say that they are all there was.
    """
    held = []
    for phrase in phrases:
        yarn = told.owners.get(id(phrase), Yarn())
        if id(phrase) in lots.put_ups:
            yarn = merge_yarns(yarn, Yarn(put_up=lots.put_ups[id(phrase)])) or yarn
        yarn = _told_elsewhere(yarn, [told.pattern, *told.yarns])
        left = sentence is not None and _left_over(sentence, phrase)
        held += [Holding(series.values[0], series.unit, yarn, left=left) for series in lots.series[id(phrase)]]
    return tuple(held)


def _left_over(sentence: Sentence, phrase: Phrase) -> bool:
    """Whether what she has is what is left of it: all but ``300 m in all``, ``I bought 300 m``."""
    if "in all" in phrase.flags:
        return False
    near = range(max(0, phrase.first - 4), min(len(sentence.tokens), phrase.last + 4))
    return not any(
        sentence.lower_at(i) in word_list("in_all") and not sentence.parted(min(i, phrase.first), max(i, phrase.first))
        for i in near
    )


def _size_names(sentence: Sentence, used: list[Phrase]) -> tuple[str, ...]:
    for phrase in sentence.phrases:
        if phrase.kind == "named":
            return tuple(phrase.value[0])
        if phrase.kind == "sizes":
            used.append(phrase)
            return tuple(phrase.value)
    return ()


_SIZE_WORD = re.compile(
    r"\b(?:i'?m|i am|i take|i wear|she's|she is|he's|he is|for|just|only|make|knit|want)\s+(?:a|an|the)\s+"
    r"(?P<size>(?:extra\s+)?(?:small|large)|medium)\b(?!\s+(?:ball|skein|hank|weight|yarn|project|amount|quantity|one|shawl|blanket))",
    re.IGNORECASE,
)


def _pick(sentence: Sentence, used: list[Phrase]) -> str | None:
    for phrase in sentence.phrases:
        if phrase.kind == "size":
            used.append(phrase)
            return str(phrase.value)
    for at, token in enumerate(sentence.tokens):
        if (
            token.kind == "ORDINAL"
            and isinstance(token.value, int)
            and (
                sentence.lower_at(at + 1) in ("one", "size")
                or (
                    sentence.lower_at(at - 1) == "the"
                    and "size" in (sentence.lower_at(at - 3), sentence.lower_at(at - 4))
                )
            )
        ):
            return str(token.value)
    if sentence.said("size.middle"):
        return "middle"
    if worded := _SIZE_WORD.search(sentence.text):
        return str(load("words.toml")["size_words"][" ".join(worded.group("size").lower().split())])
    if sentence.said("size.last"):
        return "last"
    return "first" if sentence.said("size.first") else None


def _spares(sentence: Sentence, used: list[Phrase]) -> int | None:
    """The spares asked for: ``no spare``, ``2 spares``; None where nothing is said of them."""
    text = sentence.text.lower()
    if "spare" not in text:
        return None
    if any(re.search(rf"\b{re.escape(said)}\b", text) for said in load("words.toml")["spares"]["none"]):
        return 0
    for phrase in sentence.phrases:
        beside = {sentence.lower_at(phrase.last), sentence.lower_at(phrase.first - 1)} & {"spare", "spares"}
        if phrase.kind == "num" and beside and len(phrase.value.values) == 1:
            used.append(phrase)
            return int(phrase.value.values[0])
    numbers = load("words.toml")["numbers"]
    worded = re.search(rf"\b({'|'.join(numbers)}) spares?\b", text)
    return int(numbers[worded.group(1)]) if worded else None


_TOPIC = re.compile(
    r"^\W*(?:help(?: me)?(?: with| about| on)?|how (?:do|can|should) (?:i|you) "
    r"(?:write|type|ask(?: for| about)?|enter|say))"
    r"\s+(?:a |an |the |my )?(?P<topic>[a-z]+)\W*$",
    re.IGNORECASE,
)


def _one_label(sentence: Sentence) -> str:
    """The colour label of a text that holds one and no other."""
    names = {label.name for label in certain_labels(sentence)}
    return names.pop() if len(names) == 1 else ""


def _blend(sentence: Sentence, used: list[Phrase]) -> tuple[float, ...]:
    """``60% wool, 40% silk``: all percents, where one of them stands beside a fibre."""
    fibres = word_list("fibres") | word_list("fibre_words")
    parts = [phrase for phrase in sentence.phrases if phrase.kind == "percent"]
    if not any({sentence.lower_at(p.last), sentence.lower_at(p.first - 1)} & fibres for p in parts):
        return ()
    used += parts
    return tuple(part.value for part in parts)


def _topic(sentence: Sentence) -> str | None:
    """What help is asked about: ``help sizes``, ``how do I write a gauge``, ``sources``."""
    found = _TOPIC.search(sentence.text)
    if found:
        return found.group("topic").lower()
    return "sources" if sentence.said("ask.sources") else None


def _chest_sizes(sentence: Sentence, parted: list[Colour], used: list[Phrase]) -> tuple[str, ...]:
    """The chests of the sizes, as names, where there are as many as sizes of the need."""
    count = max((len(series.values) for colour in parted for series in colour.amounts), default=0)
    if count < 2:
        return ()
    for phrase in sentence.phrases:
        if phrase.kind in ("smalls", "nums") and len(phrase.value.values) == count:
            lead = range(max(0, phrase.first - 5), phrase.first)
            if any(
                sentence.kind_at(i) == "CHEST" or sentence.lower_at(i) in ("fit", "bust", "chest", "size", "sizes")
                for i in lead
            ):
                used.append(phrase)
                return tuple(f"{value:g}" for value in phrase.value.values)
        if phrase.kind == "nums" and len(phrase.value.values) == count and sentence.lower_at(phrase.last) in _AGES:
            used.append(phrase)
            return tuple(f"{value:g}" for value in phrase.value.values)
    return ()


_AGES = frozenset({"years", "yrs", "months", "mths"})


def _pick_by_chest(sentence: Sentence, names: tuple[str, ...], used: list[Phrase]) -> str | None:
    """``I'm making the 42 in``: a size named by its chest."""
    for phrase in sentence.phrases:
        if phrase in used or phrase.kind not in ("small", "num"):
            continue
        value = phrase.value.value if phrase.kind == "small" else phrase.value.values[0]
        if f"{value:g}" in names and sentence.kind_at(phrase.first - 1) in ("THE", "SIZE", "WORD", "FOR", "IN"):
            used.append(phrase)
            return f"{value:g}"
    return None


_WANTS = (
    ("ask.strand_count", "strands"),
    ("ask.why", "why"),
    ("ask.sure", "sure"),
    ("ask.cost", "cost"),
    ("ask.grams", "mass"),
    ("ask.skeins", "skeins"),
)


def _want(sentence: Sentence) -> str | None:
    priced = any(phrase.kind == "price" for phrase in sentence.phrases)
    said = [want for cue, want in _WANTS if sentence.said(cue)]
    if "cost" in said and not priced and len(said) > 1:
        said.remove("cost")
    if said and said[0] != "mass":
        return said[0]
    return _unit_asked(sentence) or (said[0] if said else None)


def _unit_asked(sentence: Sentence) -> str | None:
    """The unit of ``how many metres`` and ``… to yards?``."""
    for at, token in enumerate(sentence.tokens):
        if token.kind not in ("LEN", "MASS"):
            continue
        before = [sentence.lower_at(at - 2), sentence.lower_at(at - 1)]
        ends = sentence.kind_at(at + 1) in ("STOP", "") or sentence.lower_at(at + 1) == "please"
        if before == ["how", "many"] or (ends and before[1] in _INTO):
            return str(token.value)
    return None


_INTO = frozenset({"to", "into", "in", "as"})


# contradictions ------------------------------------------------------------------------------------------------


def _unsettled(sentence: Sentence, query: Query, given: Sides, amounts: Amounts) -> Refusal | None:
    """What no reading settles: amounts that are not one whole, sayings against each other, another subject."""
    return (
        _count_asked_for(sentence)
        or _held_along(sentence, query)
        or _each_thing(sentence, amounts)
        or _contradiction(sentence, given)
        or _elsewhere(sentence)
    )


def _contradiction(sentence: Sentence, given: Sides) -> Refusal | None:
    """What cannot be settled by reading: an ambiguous name, two weights of one yarn, two patterns in one sentence."""
    weights_said = [phrase for phrase in sentence.phrases if phrase.kind == "weight"]
    for phrase in sentence.phrases:
        if phrase.kind == "weight" and len(phrase.value[0]) > 1 and not _settled(phrase, given):
            said = phrase.value[1]
            either = " or ".join(ambiguous_names().get(said.lower(), phrase.value[0]))
            return unclear(
                f"“{said}” is used of more than one weight class: {either}. Which is it? "
                "A gauge or the yards per 100 g would settle it."
            )
    if sentence.said("ask.strands"):
        return None
    if sentence.said("same.denied"):
        return unclear("What gauge do you get? Type for example: I get 20 sts to 4 in.")
    if sentence.said("unknown.weight"):
        return unclear(
            "The pattern's weight is not said. Its weight class, its gauge or the yards per 100 g of its yarn would do."
        )
    for one, two in itertools.pairwise(weights_said):
        joined = [sentence.kind_at(i) for i in range(one.last, two.first)]
        if joined in (["DASH"], ["SLASH"]) and not set(one.value[0]) & set(two.value[0]):
            return unclear(
                f"“{sentence.words(one)}” and “{sentence.words(two)}” are two weight classes. Which is it?",
                sentence.words(two),
            )
    if (
        not given.several
        and given.groups
        and given.margin < weights()["close_call"]
        and len({g.weight for g in given.groups if g.weight}) > 1
    ):
        first, second = [g.called for g in given.groups if g.weight][:2]
        return unclear(
            f"I can't tell which yarn the pattern is written for, {first} or {second}. "
            f"Type for example: {first} pattern in {second}."
        )
    return None


def _each_thing(sentence: Sentence, amounts: Amounts) -> Refusal | None:
    """Amounts that are not one whole: ``210 m a sleeve``, ``100 m longer``, two sizes of skein, a range of a stash."""
    wound = [phrase for phrase in amounts.need if phrase.kind == "times"]
    if len({phrase.value[1] for phrase in wound}) > 1:
        said = " and ".join(sentence.words(phrase) for phrase in wound)
        return unclear(f"I read skeins of two sizes, {said}. Give the length in all, or one of them.", said)
    for phrase in (*amounts.have, *amounts.used):
        if phrase.kind in ("length", "mass", "count") and (len(phrase.value.values) > 1 or phrase.value.low):
            said = sentence.words(phrase)
            return unclear(f"I read “{said}” as what you have, and that is one amount. Which is it?", said)
    for one, two in zip(amounts.used, amounts.used[1:], strict=False):
        gap = {sentence.kind_at(at) for at in range(one.last, two.first)}
        if "AND" not in gap:
            said = f"{sentence.words(one)} and {sentence.words(two)}"
            return unclear(f"I read {said} as used so far. Which of them is, and what is the other?", said)
    for one, two in itertools.pairwise(phrase for phrase in amounts.need if phrase.kind == "count"):
        gap = {sentence.lower_at(at) for at in range(one.last, two.first)}
        if gap & {"+", "plus"} and one.value == two.value:
            said = f"{sentence.words(one)} and {sentence.words(two)}"
            return unclear(f"Are {said} of one colour or of two? Type for example: MC 1 skein, CC 1 skein.", said)
    for phrase in amounts.need:
        more = sentence.lower_at(phrase.last)
        if more in word_list("more_or_less") and phrase.kind in ("length", "mass"):
            said = f"{sentence.words(phrase)} {more}"
            return unclear(f"“{said}”: how much is that in all? Give the length for the whole piece.", said)
        lead, thing = sentence.kind_at(phrase.last), sentence.lower_at(phrase.last + 1)
        if phrase.kind == "length" and lead in ("ARTICLE", "PER", "THE", "EACH") and thing in word_list("things"):
            said = f"{sentence.words(phrase)} {sentence.lower_at(phrase.last)} {thing}"
            return unclear(f"“{said}”: how much is that in all? Give the length for the whole piece.", said)
    return None


def _colours_counted(sentence: Sentence, named: list[str], used: list[Phrase]) -> Refusal | None:
    """``three colours``: the count is spoken for by as many amounts, and asked about where there are fewer or more."""
    if len(named) < 2:
        return None
    for at, token in enumerate(sentence.tokens):
        said = load("words.toml")["numbers"].get(token.lower) if token.kind == "WORD" else None
        counted = next((p for p in sentence.phrases if p.kind == "num" and p.first == at and p.last == at + 1), None)
        if counted and len(counted.value.values) == 1:
            [said] = counted.value.values
        if said is None or sentence.lower_at(at + 1) not in word_list("colour_nouns"):
            continue
        if said != len(named):
            return unclear(
                f"You say {token.text} {sentence.lower_at(at + 1)}, and I read {len(named)}: {', '.join(named)}. "
                "How much does each colour take?",
                token.text,
            )
        if counted:
            used.append(counted)
    return None


def _settled(phrase: Phrase, given: Sides) -> bool:
    return any(
        "weight" in group.features
        and group.features["weight"] is not phrase.value
        and set(group.features["weight"][0]) < set(phrase.value[0])
        for group in given.groups
        if phrase in group.phrases
    )


def _elsewhere(sentence: Sentence) -> Refusal | None:
    if sentence.said("other.topic") and not any(
        token.kind in ("CLASS", "LEN", "STS", "NEEDLE") for token in sentence.tokens
    ):
        return not_understood("I only know yarn for hand-knitting. Ask me how much to buy, or type help.")
    if sentence.said("other.craft") and (sentence.phrases or not sentence.said("ask.help")):
        craft = next(cue for cue in sentence.cues if cue.kind == "other.craft")
        word = " ".join(token.text for token in sentence.tokens[craft.first : craft.last])
        return not_understood(
            f"I only know hand-knitting. By “{word}” you speak of another fabric, whose yarn cannot be worked out "
            "from a knitted gauge.",
            word,
        )
    return None
