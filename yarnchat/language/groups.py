"""Neighbouring phrases that tell of one yarn, gathered into groups with the amounts said beside them."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import Any

from yarnchat.language.lexicon import load, word_list
from yarnchat.language.names import class_hint
from yarnchat.language.phrases import Phrase
from yarnchat.language.sentence import Cue, Sentence
from yarnchat.language.skein_limits import HANK_M, WELL_UNDER
from yarnchat.language.yarns import compatible, merge_feature

_FEATURES = frozenset({"weight", "name", "putup", "gauge", "strands", "needle", "wpi", "price"})


@dataclass(slots=True, eq=False)
class Group:
    """Neighbouring phrases that tell of one yarn, with the amounts said beside them."""

    first: int
    last: int
    features: dict[str, Any] = field(default_factory=dict)
    amounts: list[Phrase] = field(default_factory=list)
    owned: bool = False
    """Whether an amount she has or has used stands in it."""
    wound: bool = False
    """Whether its length is told of her yarn beside a longer one, and so is on a skein of it."""
    phrases: list[Phrase] = field(default_factory=list)

    @property
    def called(self) -> str:
        """The weight class or the name, as it was said."""
        return str(self.features["weight"][1] if "weight" in self.features else self.features.get("name", ""))

    @property
    def lonely(self) -> bool:
        """Whether it tells a gauge or strands and not of which yarn."""
        return bool(self.features) and not self.features.keys() & {"weight", "name", "putup"} and not self.amounts

    @property
    def only_need(self) -> bool:
        """Whether nothing but an amount that is needed stands in it."""
        return self.has_need and not self.features

    @property
    def has_need(self) -> bool:
        """Whether a length or mass the pattern needs stands in it."""
        told = any(phrase.kind in ("length", "named", "mass", "dual") for phrase in self.amounts)
        return told and not self.owned and not self.wound

    @property
    def has_count(self) -> bool:
        """Whether a number of skeins stands in it."""
        return not self.owned and any(phrase.kind in ("count", "times") for phrase in self.amounts)

    @property
    def weight(self) -> tuple[str, ...] | None:
        """The weight class or classes said outright."""
        value = self.features.get("weight")
        if value is None and (name := self.features.get("name")) and (hint := class_hint(name)):
            return (hint,)
        return value[0] if value else None


SAYS_PATTERN = frozenset({"pattern.noun", "pattern.label", "pattern.in"})
"""The cues that say of a yarn that it is the pattern's, right before it or behind it."""


def weights() -> dict[str, float]:
    """The weights of grammar/roles.toml."""
    found: dict[str, float] = load("roles.toml")["groups"]
    return found


def gather(sentence: Sentence, needs: Iterable[Phrase], owned: Iterable[Phrase]) -> list[Group]:
    """The groups of a question; ``needs`` are the pattern's amounts, ``owned`` what she has or has used."""
    mine = {id(phrase) for phrase in owned}
    needed = {id(phrase) for phrase in needs} | mine
    breakers = _breakers(sentence)
    negated = {id(phrase) for phrase in negated_yarns(sentence)}
    groups: list[Group] = []
    group: Group | None = None
    for index, phrase in enumerate(sentence.phrases):
        kind = phrase.kind
        if (kind not in _FEATURES and id(phrase) not in needed) or id(phrase) in negated:
            continue
        if group and not _joins(group, phrase, sentence, breakers):
            group = None
        if group and (
            _opens_its_own(group, sentence, index)
            or _held_instead(groups, sentence, index)
            or _label_of_the_other(groups, sentence, phrase)
        ):
            group = None
        if group is None:
            group = Group(phrase.first, phrase.last)
            groups.append(group)
        group.owned = group.owned or id(phrase) in mine
        _add(group, phrase, id(phrase) in needed)
    _of_one_name(groups)
    for group in groups:
        group.wound = _wound_on_hers(sentence, groups, group)
    return groups


def _wound_on_hers(sentence: Sentence, groups: list[Group], group: Group) -> bool:
    """``My yarn is 5.5 sts to the inch, 215 yards``: a length told of her yarn where a much longer one is needed."""
    [*lengths] = (phrase for phrase in group.amounts if phrase.kind == "length")
    if len(lengths) != 1 or len(lengths[0].value.values) != 1 or not group.features.keys() & {"weight", "gauge"}:
        return False
    others = (p for other in groups if other is not group for p in other.amounts if p.kind == "length")
    longest = max((phrase.value.largest().to("m").value for phrase in others), default=0.0)
    metres = lengths[0].value.first().to("m").value
    if metres > min(HANK_M, WELL_UNDER * longest):
        return False
    hers = [cue for cue in sentence.cues if cue.kind in ("yarn.have", "yarn.use") and cue.last <= group.first]
    near = (cue for cue in hers if group.first - cue.last <= _A_FEW and not sentence.parted(cue.last, group.first))
    return any(not any(cue.last <= other.first < group.first for other in groups) for cue in near)


def _of_one_name(groups: list[Group]) -> None:
    """``"Old Aran Road" is a fingering. … How many of Old Aran Road?``: a name is of the weight it was told with."""
    named = [group.features for group in groups if {"name", "weight"} <= group.features.keys()]
    told = {features["name"]: features["weight"] for features in named}
    for group in groups:
        if group.features.get("name") in told:
            group.features.setdefault("weight", told[group.features["name"]])


_DENIED = frozenset({"weight", "name", "strands"})


_MEANT = frozenset({"meant", "mean"})


def negated_yarns(sentence: Sentence) -> list[Phrase]:
    """Weights, names and strands said not to be meant: ``the pattern is sport, not fingering``."""
    ends = {cue.last for cue in sentence.cues if cue.kind == "negation.before"}
    meant = [
        cue.first for cue in sentence.cues if cue.kind == "follow.no" and sentence.lower_at(cue.last - 1) in _MEANT
    ]
    for at in range(1, len(sentence.tokens)):
        if sentence.lower_at(at - 1) in word_list("put_down") and any(at < said for said in meant):
            ends.add(at)  # I said DK but I meant sport
    ends |= {cue.last for cue in sentence.cues if cue.kind == "negation.habit" and _turned_from(sentence, cue)}
    denied = [phrase for phrase in sentence.phrases if phrase.kind in _DENIED and phrase.first in ends]
    return [phrase for phrase in denied if not _wanted_all_the_same(sentence, phrase)]


def _turned_from(sentence: Sentence, habit: Cue) -> bool:
    """``I usually knit with fingering but this pattern is worsted``: whether another weight is turned to behind it."""
    turns = (at for at in range(habit.last, len(sentence.tokens)) if sentence.lower_at(at) in word_list("turns"))
    at = next(turns, None)
    told = at is not None and not sentence.parted(habit.last, at)
    return told and any(phrase.kind == "weight" and at is not None and phrase.first > at for phrase in sentence.phrases)


def _wanted_all_the_same(sentence: Sentence, phrase: Phrase) -> bool:
    """``I hate DK but the pattern wants 1000 yd of it``, ``I won't use the bulky it was written for``."""
    if any(cue.kind in _OF_A_PATTERN and 0 <= cue.first - phrase.last <= 1 for cue in sentence.cues):
        return True
    takes = [cue.last for cue in sentence.cues if cue.kind == "pattern.verb" and cue.first >= phrase.last]
    of_it = [
        at
        for at, token in enumerate(sentence.tokens)
        if token.kind == "OF" and sentence.lower_at(at + 1) == "it" and not sentence.parted(phrase.last, at)
    ]
    return bool(takes and of_it) and takes[0] <= of_it[0]


_OF_A_PATTERN = frozenset({"pattern.after", "pattern.verb"})


def _opens_its_own(group: Group, sentence: Sentence, index: int) -> bool:
    """Whether a phrase is of the yarn that follows it, or of one of its own, and not of the one before it."""
    phrase = sentence.phrases[index]
    after = sentence.phrases[index + 1] if index + 1 < len(sentence.phrases) else None
    if "letter" in phrase.flags:
        return True  # A 100 g/200 yd, B 50 g/115 yd
    if sentence.said("ask.compare") and (_is_compared(group, sentence, phrase) or _candidate(group, sentence, index)):
        return True
    if _wound_otherwise(group, phrase) or (phrase.kind == "weight" and _of_another_name(group, sentence, phrase)):
        return True
    if phrase.kind == "weight" and group.only_need and _turned_to(sentence, phrase):
        return True
    if _runs_to(group, sentence, index):
        return True
    if sentence.said("ask.strands") and phrase.kind == "weight" and _held_beside(group, sentence, phrase):
        return True
    apart = phrase.kind == "weight" and "weight" not in group.features and phrase.first > group.last
    of_the_pattern = (phrase.kind in ("length", "dual") or apart) and group.features
    if of_the_pattern and any(cue.kind in SAYS_PATTERN and cue.first == phrase.last for cue in sentence.cues):
        return True  # mine is 20 sts to 10 cm, 1000 yd pattern
    return after is not None and (
        _has_its_own_label(group, sentence, index) or _is_of_the_next(group, sentence, phrase, after)
    )


def _held_beside(group: Group, sentence: Sentence, weight: Phrase) -> bool:
    """``Hexley Fingering, 400 m/100 g, held with a silk lace``: another yarn, behind one whose label is told."""
    before = [sentence.kind_at(at) for at in range(group.last, weight.first)]
    return "putup" in group.features and "WITH" in before


def _of_another_name(group: Group, sentence: Sentence, weight: Phrase) -> bool:
    """``Whinchat Worsted, 190 m/100 g, but the tunic is a sport weight``: another weight than that of the name told."""
    hint = class_hint(str(group.features["name"])) if "name" in group.features else None
    turned = any(sentence.lower_at(at) in word_list("turns") for at in range(group.last, weight.first))
    turned = turned or bool(group.features.keys() & {"putup", "price"})
    return turned and hint is not None and hint not in weight.value[0]


def _wound_otherwise(group: Group, phrase: Phrase) -> bool:
    """``10 x 50 g (120 m) balls in 100 g (230 m) skeins``: skeins and a label, or the reverse, told with two labels."""
    counted = [other.value[1] for other in group.phrases if other.kind == "times"]
    if phrase.kind == "times":
        told, label = [group.features["putup"]] if "putup" in group.features else [], phrase.value[1]
    elif phrase.kind == "putup":
        told, label = counted, phrase.value
    else:
        return False
    whole = [other for other in told if other.length and other.mass]
    return bool(label.length and label.mass) and any(not compatible("putup", other, label) for other in whole)


def _turned_to(sentence: Sentence, phrase: Phrase) -> bool:
    """``for super bulky and takes 160 yds, but bulky is all they have``: a weight after but, where one was told."""
    before = [other.last for other in sentence.phrases if other.last <= phrase.first]
    earlier = any(other.kind == "weight" and other.last <= phrase.first for other in sentence.phrases)
    return earlier and any(sentence.lower_at(at) in word_list("turns") for at in range(before[-1], phrase.first))


def _runs_to(group: Group, sentence: Sentence, index: int) -> bool:
    """``takes 1300 yds, the lace has 875 yds a hank``: a weight behind a need, of which a label is told."""
    phrase, *later = sentence.phrases[index : index + 2]
    if phrase.kind != "weight" or not group.only_need or not later or later[0].kind != "putup":
        return False
    led = _between(sentence, group.last, phrase.first)[-2:] == ["COMMA", "THE"]
    return led and _between(sentence, phrase.last, later[0].first) == ["HOLD"]


def _is_compared(group: Group, sentence: Sentence, phrase: Phrase) -> bool:
    """Whether a phrase begins another of several yarns that are compared."""
    before = sentence.kind_at(phrase.first - 1)
    if phrase.kind in ("putup", "weight") and before == "COLON" and group.has_need:
        return True  # for 900 m of DK: 50 g/120 m at £4 or 100 g/230 m at £7.50
    if phrase.kind == "putup" and group.has_need and "COLON" in _between(sentence, group.last, phrase.first):
        return sum(other.kind == "price" for other in sentence.phrases) > 1  # of 900 m: the plain one 50 g/118 m at £5
    if phrase.kind == "weight" and before in ("WITH", "OR", "AND") and "putup" in group.features:
        return True  # compare DK 50 g/120 m with DK 100 g/250 m
    listed = phrase.kind == "name" and before in ("COLON", "COMMA", "NEWLINE")
    return listed and bool(
        group.features.keys() & {"weight", "putup"} or group.has_need
    )  # compare for 900 m of DK: Swift DK, …


def _candidate(group: Group, sentence: Sentence, index: int) -> bool:
    """``for a 1200 m DK jumper, tarn dk 50 g/125 m or beck dk 100 g/260 m``: a yarn and its own label, of several."""
    phrase, behind = sentence.phrases[index], sentence.phrases[index + 1 : index + 3]
    if phrase.kind not in ("weight", "name") or sum(p.kind == "putup" for p in sentence.phrases) < _SEVERAL:
        return False
    label = next((other for other in behind if other.kind != "price"), None)
    if label is None or label.kind != "putup" or sentence.parted(phrase.last, label.first):
        return False
    near = behind[0].first - phrase.last <= _A_WORD
    apart = not {"WORD", "COMMA", "COLON"}.isdisjoint(_between(sentence, group.last, phrase.first))  # not of DK
    taken = "name" in group.features and "putup" not in group.features
    return near and not taken and ("putup" in group.features or (group.has_need and apart))


_SEVERAL, _A_WORD = 2, 1


def _told_before(group: Group, phrase: Phrase, sentence: Sentence) -> bool:
    """``sport instead of fingering: it asks for 1620 m, the sport runs 165 m``: a weight that another yarn has."""
    alone = phrase.kind == "weight" and group.only_need and sentence.commas_between(group.last, phrase.first) > 0
    earlier = (other for other in sentence.phrases if other.kind == "weight" and other.last <= group.first)
    return alone and any(other.value[0] == phrase.value[0] for other in earlier)


def _between(sentence: Sentence, first: int, last: int) -> list[str]:
    return [sentence.kind_at(at) for at in range(first, last)]


def _has_its_own_label(group: Group, sentence: Sentence, index: int) -> bool:
    """Whether a label follows that is another than the group's: ``12 balls of 50 g/90 m, 8 ply is 50 g/115 m``.

    An amount has the one told behind its weight: ``6 balls DK at 120 m, 4 balls DK at 115 m``.
    """
    phrase, after, *later = sentence.phrases[index : index + 3]
    amount = phrase.kind in ("count", "mass")
    of_it = amount and after.kind in ("weight", "name")
    of_it = of_it and set(_between(sentence, phrase.last, after.first)) <= {"OF", "WORD"}
    if of_it and later and not sentence.parted(phrase.first, later[0].first):
        after = later[0]
    if after.kind != "putup" or "putup" not in group.features:
        return False
    if amount:
        return bool(after.value != group.features["putup"])
    listed = sentence.kind_at(phrase.first - 1) in ("COLON", "COMMA", "NEWLINE")
    return phrase.kind == "weight" and listed and not compatible("putup", group.features["putup"], after.value)


def _is_of_the_next(group: Group, sentence: Sentence, phrase: Phrase, after: Phrase) -> bool:
    """``a bulky coat, in 230 yd skeins of aran``: a put-up or count right before another weight belongs to that one."""
    if phrase.kind == "price" and after.kind == "weight" and after.first == phrase.last:
        return sentence.kind_at(phrase.first - 1) == "ARTICLE" and "weight" in group.features  # for a £9 dk with 145 m
    between = [sentence.kind_at(at) for at in range(phrase.last, after.first)]
    told = group.features.get("weight") or group.features.get("name")
    if between not in ([], ["OF"], ["OF", "THE"]) or not told or "of the weight before" in phrase.flags:
        return False
    return (
        phrase.kind in ("putup", "count", "strands", "gauge", "length", "mass", "dual")
        and after.kind in ("weight", "name")
        and not (after.kind in group.features and compatible(after.kind, group.features[after.kind], after.value))
    )


def _held_instead(groups: list[Group], sentence: Sentence, index: int) -> bool:
    """``an aran jumper that takes 1240 m, but with two strands of 4 ply``: strands of another weight than needed."""
    strands, *later = sentence.phrases[index : index + 2]
    if strands.kind != "strands" or not later or later[0].kind != "weight" or len(groups) < 2:
        return False
    before, need = groups[-2:]
    other = before.weight and not set(before.weight) & set(later[0].value[0])
    return bool(other) and need.only_need and not sentence.parted(before.last, need.first)


def _label_of_the_other(groups: list[Group], sentence: Sentence, phrase: Phrase) -> bool:
    """``2 strands fingering, pattern 1100 yards worsted, 437 yd skeins``: a put-up after the need of the pattern."""
    if phrase.kind != "putup" or len(groups) < 2 or sentence.kind_at(phrase.first - 1) != "COMMA":
        return False
    hers, need = groups[-2:]
    led = any(cue.kind == "pattern.noun" and cue.last == need.first for cue in sentence.cues)
    apart = hers.weight and need.weight and not set(hers.weight) & set(need.weight)
    return bool(apart) and led and need.has_need and "putup" not in hers.features and not hers.amounts


def _breakers(sentence: Sentence) -> list[int]:
    """Where cues stand, as token indices in order, over which no group of one yarn reaches."""
    table = load("roles.toml")["cues"]
    starts = {phrase.first for phrase in sentence.phrases}
    strong = [
        cue.first
        for cue in sentence.cues
        if cue.kind in table
        and (table[cue.kind].get("right_reach") != 1 or cue.last in starts)
        and (
            table[cue.kind].get("breaks")
            or max(table[cue.kind]["left"], table[cue.kind]["right"]) >= weights()["breaks"]
        )
    ]
    if not any(cue.kind in ("exchange.new_for", "exchange.old_for", "exchange.replace") for cue in sentence.cues):
        return sorted(strong)
    return sorted(strong + [cue.first for cue in sentence.cues if cue.kind in ("exchange.for", "exchange.with")])


def _joins(group: Group, phrase: Phrase, sentence: Sentence, breakers: list[int]) -> bool:
    """Whether a phrase tells of the yarn of the group before it, and opens no group of its own."""
    gap = [sentence.kind_at(at) for at in range(group.last, phrase.first)]
    if gap in (["STOP"], ["NEWLINE"]) and phrase.kind == "putup":
        return _only_named(group, sentence)
    if sentence.parted(group.last, phrase.first):
        return False
    if _names_it(group, phrase, sentence) or _is_said_to_be(group, phrase, gap):
        return True
    if _told_before(group, phrase, sentence):
        return False
    label = phrase.kind in ("putup", "price") and phrase.kind not in group.features
    completes = label and (not group.amounts or group.has_count)
    completes = completes or (_other_half(group, phrase) and len(gap) <= _A_FEW)
    broken = any(group.last <= at < phrase.first for at in breakers)
    if broken and (not completes or "COLON" in gap):  # 113 m, DK, ours: 100 g
        return False
    if phrase.kind == "needle" or _priced_label(group, phrase, gap):
        return True
    if _of_another_weight(group, phrase, gap) or _of_the_patterns_weight(group, phrase, sentence):
        return False
    if phrase.kind in group.features:
        return compatible(phrase.kind, group.features[phrase.kind], phrase.value) and len(gap) <= _A_FEW
    if phrase.kind not in _FEATURES:
        return _amount_joins(group, phrase, sentence, gap)
    return len(gap) <= _SAME_CLAUSE


def _only_named(group: Group, sentence: Sentence) -> bool:
    """``in chunky. 130 m per 100 g ball``: whether a yarn was told by its weight or name, before a label alone."""
    of_the_pattern = any(cue.kind.startswith("pattern.") and cue.last == group.first for cue in sentence.cues)
    named = bool(group.features) and group.features.keys() <= {"weight", "name"}
    return named and not group.amounts and not of_the_pattern


def _other_half(group: Group, phrase: Phrase) -> bool:
    """``8 balls of 50 g DK with 115 m per ball``: the length that a skein's mass told before lacks."""
    told = group.features.get("putup")
    return phrase.kind == "putup" and told is not None and bool(told.length) != bool(phrase.value.length)


_A_FEW = 3
_SAME_CLAUSE = 8
"""How many words may stand between two features of one yarn."""


def _names_it(group: Group, phrase: Phrase, sentence: Sentence) -> bool:
    """``840 yards of DK``, ``6 skeins of my handspun DK``: the yarn an amount was told of."""
    if group.features or phrase.kind not in ("weight", "name"):
        return False
    of_it = sentence.kind_at(phrase.first - 1) == "OF" and phrase.first - group.last <= 6
    of_a_skein = group.last <= phrase.first - 2 and sentence.kind_at(phrase.first - 2) == "SKEIN"
    if of_it and of_a_skein:
        return False  # 1125 yards, and each skein of lace is 875
    return of_it or _of_hers(sentence, group.last, phrase.first)


def _is_said_to_be(group: Group, phrase: Phrase, gap: list[str]) -> bool:
    """``the "Two Rivers" I'd replace it with is a DK``: a weight said of a name, whatever stands between."""
    says = gap[-1:] == ["HOLD"] or gap[-2:] == ["HOLD", "ARTICLE"]
    return phrase.kind == "weight" and group.features.keys() == {"name"} and says and "COMMA" not in gap


def _priced_label(group: Group, phrase: Phrase, gap: list[str]) -> bool:
    """``$24 for a 437 yd skein``."""
    priced = "price" in group.features and "putup" not in group.features
    return phrase.kind == "putup" and priced and len(gap) <= 2


def _of_another_weight(group: Group, phrase: Phrase, gap: list[str]) -> bool:
    """A name of another weight than the group's, or a weight that is said after ``and``."""
    if phrase.kind == "name":
        return bool(group.weight and not set(group.weight) & {class_hint(phrase.value) or group.weight[0]})
    if phrase.kind != "weight":
        return False
    if not group.features:
        return "AND" in gap or "STOP" in gap
    return group.has_count and gap in (["COMMA", "AND", "THE"], ["AND", "THE"])  # 13 balls of 80 m, and the 8 ply


def _of_the_patterns_weight(group: Group, phrase: Phrase, sentence: Sentence) -> bool:
    """``Larkspur Aran, 160 m/100g, DK pattern 1000 m``: the weight of another yarn than the named one."""
    if phrase.kind != "weight" or not {"name", "putup"} <= group.features.keys() or not group.weight:
        return False
    says = SAYS_PATTERN | {"pattern.thing"}
    led = any(cue.kind in says and cue.first == phrase.last for cue in sentence.cues)
    return led and not set(group.weight) & set(phrase.value[0])


def _amount_joins(group: Group, phrase: Phrase, sentence: Sentence, gap: list[str]) -> bool:
    """Whether an amount is of the yarn of the group before it."""
    comma = bool(sentence.commas_between(group.last, phrase.first))
    hers = any(cue.kind == "yarn.have" and cue.last == group.first for cue in sentence.cues)
    if hers and group.features.keys() == {"gauge"} and comma and not _much_longer_before(sentence, phrase):
        return False  # I get 20 sts to 4 in, 1100 yds required
    if comma and any(cue.kind == "need.after" and cue.first == phrase.last for cue in sentence.cues):
        return False  # from DK to aran, 800 m in the pattern
    if ("AND" in gap and len(gap) > 1 and group.weight) or ("FOR" in gap and "price" in group.features):
        return False
    return not group.amounts or (len(gap) <= 4 and not set(gap) & {"WORD", "WITH", "FOR", "TO", "IN"})


def _much_longer_before(sentence: Sentence, phrase: Phrase) -> bool:
    """Whether a length is well under one that was told before it: ``1000 yards. Mine is 5.5 sts to the inch, 215``."""
    if phrase.kind != "length":
        return False
    told = (
        other.value.largest() for other in sentence.phrases if other.kind == "length" and other.last <= phrase.first
    )
    return any(phrase.value.largest().to("m").value < WELL_UNDER * length.to("m").value for length in told)


def _of_hers(sentence: Sentence, left: int, right: int) -> bool:
    """``840 yards of my handspun DK``: an amount of one yarn, whoever owns it."""
    owned = sentence.lower_at(left + 1) in word_list("whose")
    plain = all(sentence.kind_at(at) == "WORD" for at in range(left + 1, right))
    return sentence.kind_at(left) == "OF" and owned and plain and right - left <= 4


def _add(group: Group, phrase: Phrase, need: bool) -> None:
    group.last = phrase.last
    group.phrases.append(phrase)
    if need:
        group.amounts.append(phrase)
    elif phrase.kind == "needle" and "needle" in group.features:
        if phrase.value.system != group.features["needle"].system:
            group.features["other_needle"] = phrase.value
    elif phrase.kind in group.features:
        group.features[phrase.kind] = merge_feature(phrase.kind, group.features[phrase.kind], phrase.value)
    else:
        group.features[phrase.kind] = phrase.value
