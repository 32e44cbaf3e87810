"""What is told of yarns: the groups of each side put together, and what she has and has used."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace

from yarnchat.knowledge.classes import weight_class
from yarnchat.language.amounts import Amounts, once_only
from yarnchat.language.groups import Group
from yarnchat.language.lexicon import word_list
from yarnchat.language.lots import Lots, of_a_thing
from yarnchat.language.made import asked_of_each
from yarnchat.language.names import class_hint
from yarnchat.language.phrases import Phrase
from yarnchat.language.sentence import Sentence
from yarnchat.language.sides import PATTERN, YARN, Sides
from yarnchat.language.skein_limits import HANK_M, may_be_a_skeins
from yarnchat.language.yarns import merge_yarns, yarn_of
from yarnchat.quantity import Quantity
from yarnchat.queries import Holding, PutUp, Yarn
from yarnchat.refusals import Refusal, unclear

_NONE_TOLD = Yarn()
"""A yarn of which nothing is told."""


def times_told(told: Told, amounts: Amounts, lots: Lots) -> tuple[Told, list[str]]:
    """The pattern's yarn with the put-up of a ``6 x 50 g``, and a note where a label's length went into it."""
    label = told.pattern.put_up
    pattern = _with_times(told.pattern, [lots.put_ups[id(p)] for p in amounts.need if id(p) in lots.put_ups])
    shared = label and label.mass and pattern.put_up != label
    notes = [f"read {pattern.put_up} from the label, {label}"] if shared else []
    return Told(pattern, told.yarns, told.owners, told.refusal), notes


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


@dataclass(frozen=True, slots=True)
class Told:
    """The yarns of a question: the pattern's, and those to knit with."""

    pattern: Yarn
    yarns: list[Yarn]
    owners: dict[int, Yarn]
    """The yarn each amount is said beside, by the identity of its phrase."""
    refusal: Refusal | None = None
    """Where one yarn is told two ways."""


def yarns_told(sentence: Sentence, given: Sides) -> Told:
    """The yarns of the groups of each side, those of one yarn put together."""
    _part_gauges(sentence, given)
    yarn_of_group = {group: _yarn_told(group) for group in given.groups}
    pattern, refusal = _pattern_told(sentence, [yarn_of_group[group] for group in given.of(PATTERN)])
    yarns = _wanted_told(given, yarn_of_group)
    refusal = refusal or _wound_twice(sentence, given, pattern, yarns)
    yarns = [yarn for yarn in _shared_class(pattern, yarns, given.several) if yarn != _NONE_TOLD]
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
    pattern = _NONE_TOLD
    for told in sayings:
        both = merge_yarns(pattern, told)
        if both is None and not sentence.said("ask.check"):
            refusal = refusal or _two_things(pattern, told)
        pattern = both or pattern.filled_from(told)
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
    if wound[0].name and pattern.name and wound[0].name.casefold() != pattern.name.casefold():
        return None  # balls of Merrow DK (50 g, 120 m) for 600 g of Tarn DK (50 g, 105 m)
    labelled = [g for g in given.groups if "putup" in g.features and g.features.keys() & {"weight", "name"}]
    both = sentence.said(*_OF_THE_PATTERN) and sentence.said("yarn.have", "yarn.use")
    needed = any(group.has_need for group in given.of(PATTERN))
    asked_of = (pattern.name or needed) and not wound[0].name and sentence.said("yarn.of")  # how many skeins of a 4 ply
    if len(labelled) > 1 and given.margin > _CLEARLY and (both or asked_of):
        return None  # original yarn: DK, 240 m per 100 g; the one in my basket is DK too, 105 m on 50 g
    same_class = wound[0].weight_class is not None and wound[0].weight_class == pattern.weight_class
    if not same_class and not (wound[0] == Yarn(put_up=wound[0].put_up) and _THE_SAME.search(sentence.text)):
        return None
    return _two_things(replace(pattern, class_as_said=None), replace(wound[0], class_as_said=None))


_OF_THE_PATTERN = ("pattern.noun", "pattern.label", "pattern.in", "pattern.after")
_CLEARLY = 2.0
"""By so much the reading of the sides must be the best, for two labels of one weight to be of two yarns."""


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
    if not several or len(yarns) < 3:
        return yarns
    loose = [yarn for yarn in yarns if yarn.put_up and yarn == Yarn(put_up=PutUp(mass=yarn.put_up.mass))]
    if len(loose) != 1:
        return yarns
    return [merge_yarns(yarn, loose[0]) or yarn for yarn in yarns if yarn is not loose[0]]


def in_hand(sentence: Sentence, given: Sides, told: Told, amounts: Amounts) -> Told:
    """The yarns with what was said beside the pattern and is of the yarn in hand, or the other way round."""
    _own_side(sentence, given, amounts)
    pattern, yarns = told.pattern, _length_on_its_skein(sentence, given, told, amounts)
    pattern, yarns = _strands_of_the_only_yarn(pattern, yarns)
    pattern, yarns = _strands_of_the_finer(sentence, pattern, yarns)
    pattern, yarns = _strands_that_make_it(sentence, pattern, yarns)
    yarns = _held_alike(pattern, yarns)
    pattern = _without_its_price(given, pattern, yarns)
    pattern, yarns = _put_up_after_the_need(sentence, given, pattern, yarns, amounts)
    pattern, yarns = _one_yarn(pattern, yarns, amounts, given.several)
    of_one = all("of several" not in phrase.flags for phrase in sentence.phrases if phrase.kind == "price")
    if sentence.said("ask.cost") and of_one:
        pattern, yarns = _bought_as_counted(sentence, pattern, yarns, amounts)
    return Told(pattern, yarns, told.owners, told.refusal)


def _strands_of_the_only_yarn(pattern: Yarn, yarns: list[Yarn]) -> tuple[Yarn, list[Yarn]]:
    """Strands said of no yarn by name are of the only yarn there is: the one to knit with."""
    nameless = not (pattern.weight_class or pattern.name or pattern.put_up)
    if not pattern.strands or not nameless or len(yarns) != 1 or yarns[0].strands not in (None, pattern.strands):
        return pattern, yarns
    return replace(pattern, strands=None), [replace(yarns[0], strands=pattern.strands)]


def _strands_of_the_finer(sentence: Sentence, pattern: Yarn, yarns: list[Yarn]) -> tuple[Yarn, list[Yarn]]:
    """``fingering for a worsted sweater held double``: strands told of neither yarn are of the finer one."""
    if len(yarns) != 1 or yarns[0].strands or (pattern.strands or 1) < 2:
        return pattern, yarns
    told = [phrase for phrase in sentence.phrases if phrase.kind == "strands"]
    classes = (pattern.weight_class, yarns[0].weight_class)
    apart = sentence.said("same.gauge") and not _beside_its_weight(sentence, told, classes[0])
    if len(told) != 1 or not (apart or _of_neither(sentence, told[0])) or not classes[0] or not classes[1]:
        return pattern, yarns
    if classes[0] == classes[1]:
        return pattern, yarns
    coarser, finer = (weight_class(key).mid_gauge for key in classes if key)
    if finer <= coarser:
        return pattern, yarns
    return replace(pattern, strands=None), [replace(yarns[0], strands=pattern.strands)]


def _beside_its_weight(sentence: Sentence, told: list[Phrase], key: str | None) -> bool:
    """``worsted held double``, ``two strands of worsted``: whether strands are told right beside a weight."""
    of_it = [phrase for phrase in sentence.phrases if phrase.kind == "weight" and key in phrase.value[0]]
    gaps = (max(one.first - two.last, two.first - one.last) for one in told for two in of_it)
    return any(gap <= _A_WORD_OR_TWO for gap in gaps)


def _strands_that_make_it(sentence: Sentence, pattern: Yarn, yarns: list[Yarn]) -> tuple[Yarn, list[Yarn]]:
    """``50 g/200 m, doubled it makes DK; the DK pattern takes 900 m``: strands that make the pattern's weight."""
    likes = [cue.last for cue in sentence.cues if cue.kind == "strands.like"]
    weights = [phrase for phrase in sentence.phrases if phrase.kind == "weight"]
    made = {key for p in weights for key in p.value[0] if any(0 <= p.first - end <= _A_WORD_OR_TWO for end in likes)}
    several = (pattern.strands or 1) > 1 and pattern.weight_class in made
    if not several or len(yarns) > 1 or (yarns and (yarns[0].strands or yarns[0].weight_class in made)):
        return pattern, yarns
    if yarns:
        return replace(pattern, strands=None), [replace(yarns[0], strands=pattern.strands)]
    hers = Yarn(put_up=pattern.put_up, price=pattern.price, strands=pattern.strands)
    return (replace(pattern, put_up=None, price=None, strands=None), [hers]) if hers.put_up else (pattern, yarns)


def _of_neither(sentence: Sentence, strands: Phrase) -> bool:
    """Whether strands are told behind the thing itself, with a condition, or as a heading: ``Held double: …``."""
    things = {cue.last for cue in sentence.cues if cue.kind == "pattern.thing"}
    behind = strands.first in things and sentence.kind_at(strands.first) == "STRANDED"
    lead = {sentence.lower_at(at) for at in range(strands.first - _A_WORD_OR_TWO, strands.first)}
    heads = strands.first == 0 and sentence.kind_at(strands.last) in ("COLON", "COMMA", "DASH")
    return behind or heads or bool(lead & word_list("conditions"))


_A_WORD_OR_TWO = 2


def _without_its_price(given: Sides, pattern: Yarn, yarns: list[Yarn]) -> Yarn:
    """``12 balls of aran at £9; the cheap one is DK at £3``: only what is bought is paid for, and that is said."""
    paid = len(yarns) == 1 and yarns[0].price is not None and yarns[0].put_up is not None
    if not paid or not pattern.put_up or not pattern.price:
        return pattern
    for phrase in (phrase for group in given.of(PATTERN) for phrase in group.phrases if phrase.kind == "price"):
        phrase.kind = "cost"
        phrase.notes = (*phrase.notes, f"{phrase.value} a skein is not paid: left aside")
    return replace(pattern, price=None)


def _held_alike(pattern: Yarn, yarns: list[Yarn]) -> list[Yarn]:
    """``DK held double, 1800 m; how many balls of the same DK?``: one weight is held alike."""
    if len(yarns) != 1 or yarns[0].strands or (pattern.strands or 1) < 2:
        return yarns
    alike = pattern.weight_class is not None and yarns[0].weight_class == pattern.weight_class
    return [replace(yarns[0], strands=pattern.strands)] if alike else yarns


def _put_up_after_the_need(
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
    price = yarns[0].price or pattern.price
    return replace(pattern, put_up=None, price=None), [replace(yarns[0], put_up=pattern.put_up, price=price)]


def _one_yarn(pattern: Yarn, yarns: list[Yarn], amounts: Amounts, several: bool) -> tuple[Yarn, list[Yarn]]:
    """Where nobody needs a length, or a skein's length and its mass stand apart, all that is said is of one yarn."""
    if len(yarns) != 1 or several or pattern == _NONE_TOLD:
        return pattern, yarns
    both = merge_yarns(pattern, yarns[0])
    if both is None or (pattern.gauge and yarns[0].gauge):
        return pattern, yarns
    if not amounts.need:
        return Yarn(), [both]
    if all(phrase.kind == "mass" for phrase in amounts.need):
        said = {yarn.class_as_said.casefold() for yarn in (pattern, yarns[0]) if yarn.class_as_said}
        return (both, []) if len(said) < 2 else (pattern, yarns)  # 9 oz of 3 ply; I use 4 ply, 180 m per 50 g
    wound, other = pattern.put_up, yarns[0].put_up
    halves = wound and other and yarns[0] == Yarn(put_up=other) and not (wound.length and other.length)
    return (both, []) if halves else (pattern, yarns)


def _bought_as_counted(
    sentence: Sentence, pattern: Yarn, yarns: list[Yarn], amounts: Amounts
) -> tuple[Yarn, list[Yarn]]:
    """``5 (6, 7) skeins of worsted, 210 yd/100 g at $14.50``: what is bought is the pattern's own yarn.

    ``7 skeins of DK at $19, 231 yds each: what does it cost?``: so many of it, where no pattern is spoken of.
    """
    counted = bool(amounts.need) and all(phrase.kind == "count" for phrase in amounts.need)
    both = merge_yarns(pattern, yarns[0]) if counted and len(yarns) == 1 else None
    if both is None or not both.put_up or not both.price:
        return pattern, yarns
    single = len(amounts.need) == 1 and len(amounts.need[0].value.values) == 1
    if single and not sentence.said("pattern.noun", "pattern.label", "pattern.verb", "pattern.thing"):
        return Yarn(), [both]
    return replace(both, price=None), [both]


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
                missing="yarn.weight_class" if slot == "class_as_said" else "",
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
    if moved and sentence.said("ask.enough"):
        once_only(sentence, amounts)


def _length_on_its_skein(sentence: Sentence, given: Sides, told: Told, amounts: Amounts) -> list[Yarn]:
    """``to worsted 220 yds``: a length beside the yarn to knit with, where the need is told apart, is its skein's.

    So it is where the need was told before, ``and for a DK pattern in fingering 420 yds?``, or is yet to be told:
    ``what I have: 4 skeins worsted, 210 yd``.
    """
    yarns, asked_enough = told.yarns, sentence.said("ask.enough")
    told_before = sentence.said("follow.again") and sentence.said("pattern.noun", "pattern.in")
    told_before = told_before and told.pattern.weight_class is not None
    for group in given.of(YARN):
        lone = [p for p in group.amounts if p in amounts.need and p.kind == "length" and len(p.value.values) == 1]
        others = [p for p in amounts.need if p not in group.amounts]
        if (
            len(lone) != 1
            or not (others or told_before or _counts_before(group, amounts, lone[0]))
            or _of_a_thing(sentence, lone[0], group)
            or "putup" in group.features
            or len(yarns) != 1
            or (asked_enough and not amounts.have)
            or asked_of_each(sentence)
            or yarns[0].put_up
            or not (group.weight or group.wound)
        ):
            continue
        length = lone[0].value.first()
        if may_be_a_skeins(length, yarns[0].weight_class, HANK_M):
            amounts.need.remove(lone[0])
            lone[0].kind, lone[0].value = "putup", PutUp(length=length)
            return [replace(yarns[0], put_up=lone[0].value)]
    return yarns


def _counts_before(group: Group, amounts: Amounts, length: Phrase) -> bool:
    """``4 skeins worsted, 210 yd``: whether skeins that she has stand before a length, of the same yarn."""
    return any(p.kind == "count" and p in amounts.have and p.first < length.first for p in group.amounts)


def _of_a_thing(sentence: Sentence, length: Phrase, group: Group) -> bool:
    """``600 yd worsted vest``, ``600 yd needed``, ``vest 600 yd``: told as needed by what is beside."""
    needed = (cue for cue in sentence.cues if cue.kind in ("pattern.thing", "pattern.verb", "pattern.after"))
    return of_a_thing(sentence, length) or any(length.last <= cue.first <= group.last for cue in needed)


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


def holdings(
    sentence: Sentence, phrases: list[Phrase], lots: Lots, told: Told, *, left: bool = False
) -> tuple[Holding, ...]:
    """Amounts as holdings, each of the yarn said beside it with all that is told of that yarn elsewhere.

    They may be what is ``left``: where the sentence does not say that they are all there was.
    """
    held = []
    for phrase in phrases:
        yarn = told.owners.get(id(phrase), _NONE_TOLD)
        if id(phrase) in lots.put_ups:
            yarn = merge_yarns(yarn, Yarn(put_up=lots.put_ups[id(phrase)])) or yarn
        yarn = _told_elsewhere(yarn, [told.pattern, *told.yarns])
        if yarn.put_up is None and told.pattern.put_up and _of_the_same(sentence, phrase):
            yarn = merge_yarns(yarn, told.pattern) or yarn
        said = _said_to_be_left(sentence, phrase)
        presumed = not said and not _there_was_in_all(sentence, phrase)
        over = said or (left and presumed)
        amounts = lots.series[id(phrase)]
        held += [Holding(series.values[0], series.unit, yarn, left=over, presumed=presumed) for series in amounts]
    return tuple(held)


def _of_the_same(sentence: Sentence, phrase: Phrase) -> bool:
    """``350 g of that same aran``, ``10 balls of it``: whether an amount is said to be of the yarn just told of."""
    ahead = [sentence.lower_at(at) for at in range(phrase.last, phrase.last + 4)]
    return "same" in ahead or (ahead[0] == "of" and ahead[1] in _IT)


_IT = frozenset({"it", "them", "this", "these", "that", "those"})


def _said_to_be_left(sentence: Sentence, phrase: Phrase) -> bool:
    """``have 140 g left``: of what was more."""
    if phrase.flags & {"in all", "used"}:
        return False
    if "left" in phrase.flags or sentence.lower_at(phrase.first - 1) == "remaining":
        return True
    after = [sentence.lower_at(at) for at in range(phrase.last, phrase.last + 3)]
    said = {word for at in range(phrase.first, phrase.last) for word in sentence.lower_at(at).split()}
    if "more" in said or after[0] == "more":
        return True  # used 2 balls, I have 3 more
    return after[0] in word_list("still_there") or (after[:2] == ["not", "yet"] and after[2] in ("touched", "used"))


def _there_was_in_all(sentence: Sentence, phrase: Phrase) -> bool:
    """``300 m in all``, ``I bought 300 m``, ``will 9 balls do``: what she has is said to be all there was."""
    if "in all" in phrase.flags:
        return True
    if sentence.lower_at(phrase.first - 1) in ("will", "would") and sentence.lower_at(phrase.last) in ("do", "be"):
        return True
    near = range(max(0, phrase.first - 4), min(len(sentence.tokens), phrase.last + 4))
    return any(
        sentence.lower_at(i) in word_list("in_all") and not sentence.parted(min(i, phrase.first), max(i, phrase.first))
        for i in near
    )
