"""Whose yarn is it: phrases gathered into groups, each given to the pattern or to the yarn wanted, scored together."""

from __future__ import annotations

import bisect
import itertools
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field, replace
from typing import Any

from yarnchat.language.lexicon import load, word_list
from yarnchat.language.names import class_hint
from yarnchat.language.phrases import Phrase
from yarnchat.language.sentence import Cue, Sentence
from yarnchat.language.skein_limits import HANK_M, WELL_UNDER
from yarnchat.queries import PutUp, Yarn

PATTERN, YARN = "pattern", "yarn"
MAX_GROUPS = 7
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


_SAYS_PATTERN = frozenset({"pattern.noun", "pattern.label", "pattern.in"})


@dataclass(slots=True)
class Sides:
    """The groups of a question with the side of each, and how much better that reading is than the next."""

    groups: list[Group]
    sides: tuple[str, ...]
    margin: float
    several: bool
    """Whether candidates are weighed against each other."""

    def of(self, side: str) -> list[Group]:
        """The groups of one side, in order."""
        return [group for group, given in zip(self.groups, self.sides, strict=True) if given == side]


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


def negated_yarns(sentence: Sentence) -> list[Phrase]:
    """Weights, names and strands said not to be meant: ``the pattern is sport, not fingering``."""
    ends = {cue.last for cue in sentence.cues if cue.kind == "negation.before"}
    return [phrase for phrase in sentence.phrases if phrase.kind in _DENIED and phrase.first in ends]


def _opens_its_own(group: Group, sentence: Sentence, index: int) -> bool:
    """``a bulky coat, in 230 yd skeins of aran``: a put-up or count right before another weight belongs to that one."""
    phrase = sentence.phrases[index]
    after = sentence.phrases[index + 1] if index + 1 < len(sentence.phrases) else None
    if "letter" in phrase.flags:
        return True  # A 100 g/200 yd, B 50 g/115 yd
    if after is not None and phrase.kind == "price" and after.kind == "weight" and after.first == phrase.last:
        return sentence.kind_at(phrase.first - 1) == "ARTICLE" and "weight" in group.features  # for a £9 dk with 145 m
    listed = sentence.kind_at(phrase.first - 1) in ("COLON", "COMMA", "NEWLINE")
    colon = sentence.kind_at(phrase.first - 1) == "COLON"
    if colon and phrase.kind in ("putup", "weight") and group.has_need and sentence.said("ask.compare"):
        return True  # for 900 m of DK: 50 g/120 m at £4 or 100 g/230 m at £7.50
    beside = sentence.kind_at(phrase.first - 1) in ("WITH", "OR", "AND")
    if phrase.kind == "weight" and beside and "putup" in group.features and sentence.said("ask.compare"):
        return True  # compare DK 50 g/120 m with DK 100 g/250 m
    if phrase.kind == "name" and listed and sentence.said("ask.compare"):
        return "weight" in group.features or group.has_need  # compare for 900 m of DK: Swift DK, …
    if (
        phrase.kind in ("length", "dual")
        and group.features
        and any(cue.kind in _SAYS_PATTERN and cue.first == phrase.last for cue in sentence.cues)
    ):
        return True  # mine is 20 sts to 10 cm, 1000 yd pattern
    own_label = phrase.kind == "weight" and listed and after is not None and after.kind == "putup"
    if (
        own_label
        and "putup" in group.features
        and after
        and not _compatible("putup", group.features["putup"], after.value)
    ):
        return True  # 12 balls of 50 g/90 m, 8 ply is 50 g/115 m
    if after is not None and phrase.kind == "count" and after.kind == "putup" and "putup" in group.features:
        return bool(after.value != group.features["putup"])
    if after is None:
        return False
    between = [sentence.kind_at(at) for at in range(phrase.last, after.first)]
    if between not in ([], ["OF"], ["OF", "THE"]):
        return False
    told = group.features.get("weight") or group.features.get("name")
    return (
        bool(told)
        and "of the weight before" not in phrase.flags
        and phrase.kind in ("putup", "count", "strands", "gauge", "length", "mass", "dual")
        and after.kind in ("weight", "name")
        and not (after.kind in group.features and _compatible(after.kind, group.features[after.kind], after.value))
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
    if sentence.parted(group.last, phrase.first):
        return False
    if _names_it(group, phrase, sentence):
        return True
    label = phrase.kind in ("putup", "price") and phrase.kind not in group.features
    completes = label and (not group.amounts or group.has_count)
    completes = completes or (_other_half(group, phrase) and len(gap) <= _A_FEW)
    if not completes and any(group.last <= at < phrase.first for at in breakers):
        return False
    if phrase.kind == "needle" or _priced_label(group, phrase, gap):
        return True
    if _of_another_weight(group, phrase, gap):
        return False
    if phrase.kind in group.features:
        return _compatible(phrase.kind, group.features[phrase.kind], phrase.value) and len(gap) <= _A_FEW
    if phrase.kind not in _FEATURES:
        return _amount_joins(group, phrase, sentence, gap)
    return len(gap) <= _SAME_CLAUSE


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


def _compatible(kind: str, old: Any, new: Any) -> bool:
    if kind == "weight":
        return bool(set(old[0]) & set(new[0]))
    if kind == "putup":
        return merged_put_up(old, new) is not None
    return bool(old == new)


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


def merge_feature(kind: str, old: Any, new: Any) -> Any:
    """Two sayings of one feature made one."""
    if kind == "putup":
        return merged_put_up(old, new) or old
    if kind == "weight":
        both = tuple(key for key in old[0] if key in new[0])
        return (both or old[0], old[1])
    return old


def merged_put_up(one: PutUp, two: PutUp) -> PutUp | None:
    """A mass and a length said apart made one put-up; None where both say the same thing differently."""
    if one == two:
        return one
    length = one.length or two.length
    mass = one.mass or two.mass
    if (one.length and two.length and one.length != two.length) or (one.mass and two.mass and one.mass != two.mass):
        return None
    return PutUp(
        length,
        mass,
        one.other_length or two.other_length,
        one.other_mass or two.other_mass,
        (one if one.length is None else two).per_skein if bool(one.length) != bool(two.length) else one.per_skein,
    )


# sides ---------------------------------------------------------------------------------------------------------


def assign(sentence: Sentence, groups: list[Group], *, several: bool = False) -> Sides:
    """The likeliest side of every group. ``several``: candidates are compared, so one side may hold several yarns."""
    if not groups:
        return Sides([], (), 99.0, several)
    free = groups[:MAX_GROUPS]
    rows = load("roles.toml")["cues"]
    pulling = [(cue, rows[cue.kind]) for cue in sentence.cues if cue.kind in rows]
    yarns = [group for group in groups if group.features.keys() & {"weight", "name", "gauge", "putup"}]
    exchanges = list(_exchanges(sentence, yarns))
    pulls = [_pull(sentence, groups, index, pulling, exchanges) for index in range(len(free))]
    for index in _candidates(free) if several else ():
        pulls[index] -= weights()["candidate_is_yarn"]
    ties, wound, told = _ties(sentence, free, several), _only_put_up(free), _must_part(free)
    scored = []
    for sides in itertools.product((PATTERN, YARN), repeat=len(free)):
        score = sum(pull if side == PATTERN else -pull for pull, side in zip(pulls, sides, strict=True))
        score += sum(tie[sides[one], sides[two]] for one, two, tie in ties)
        if wound is not None and sides[wound] == PATTERN:
            score -= weights()["only_put_up"]
        if told is not None and len({sides[index] for index in told}) < 2:
            score += weights()["side_without_yarn"]
        scored.append((score, sides))
    scored.sort(key=lambda row: -row[0])
    best = scored[0]
    rest = next((score for score, sides in scored[1:] if _differs(free, best[1], sides)), best[0] - 99)
    return Sides(groups, best[1] + (YARN,) * (len(groups) - len(free)), best[0] - rest, several)


def _candidates(groups: list[Group]) -> list[int]:
    """The numbers of the groups that tell a yarn with its label and no need, where there are several."""
    labelled = [
        index
        for index, group in enumerate(groups)
        if "putup" in group.features and group.features.keys() & {"weight", "name"} and not group.has_need
    ]
    return labelled if len(labelled) > 1 else []


def _differs(groups: list[Group], one: tuple[str, ...], two: tuple[str, ...]) -> bool:
    """Whether two readings give a weight or a gauge to different sides."""
    gauges = sum("gauge" in group.features for group in groups) > 1
    telling = {"weight", "name", "gauge"} if gauges else {"weight", "name"}
    told = [i for i, group in enumerate(groups) if group.features.keys() & telling and not group.lonely]
    return any(one[i] != two[i] for i in told)


_Pulling = list[tuple[Cue, dict[str, Any]]]
"""The cues that say whose a yarn is, each with its row of grammar/roles.toml."""


def _pull(sentence: Sentence, groups: list[Group], index: int, pulling: _Pulling, exchanges: list[_Exchange]) -> float:
    """How strongly a group belongs to the pattern (positive) or to the yarn wanted (negative)."""
    weight = weights()
    group = groups[index]
    first = next((i for i, other in enumerate(groups) if other.features), 0)
    pull = weight["first_is_pattern"] if index == first else 0.0
    if group.owned:
        pull -= weight["owned_is_yarn"]
    if group.has_need:
        pull += weight["need_is_pattern"]
    if group.has_count:
        pull += weight["count_is_pattern"]
    if "putup" in group.features:
        wanting = any(other.has_count and "putup" not in other.features for other in groups)
        pull -= weight["put_up_is_yarn"] if not group.has_count and not wanting else 0.0
    if "price" in group.features:
        pull -= weight["price_is_yarn"]
    if group.features.keys() & {"gauge", "needle"} and _on_gauge_line(sentence, group.first):
        pull += weight["gauge_line_is_pattern"]
    if _at_its_gauge(sentence, group):
        pull -= weight["at_its_gauge"]
    if group.lonely and "strands" in group.features and _i_hold(sentence, group.first):
        pull -= weight["strands_of_hers"]
    pull += sum(_cue_pull(sentence, groups, index, cue, row) for cue, row in pulling)
    pull += _exchange_pull(group, exchanges) * weight["exchange"]
    return pull + _made_in_pull(sentence, groups, index) * weight["made_in"]


def _at_its_gauge(sentence: Sentence, group: Group) -> bool:
    """``a DK pattern at aran gauge``: a weight named for the gauge it is to be knitted at."""
    weight = next((phrase for phrase in group.phrases if phrase.kind == "weight"), None)
    named = weight is not None and sentence.kind_at(weight.first - 1) == "AT"
    return bool(weight and named and "GAUGE" in (sentence.kind_at(weight.last), sentence.kind_at(weight.last - 1)))


def _i_hold(sentence: Sentence, at: int) -> bool:
    """``I take the yarn double``: strands told as what she does herself, before the pattern is spoken of."""
    lead = range(max(0, at - 5), at)
    said = {sentence.lower_at(i) for i in lead if not sentence.parted(i, at)}
    mine = bool(said & _MINE) and not said & (word_list("not_asked") - _MINE)
    return mine and not any(cue.kind in _SAYS_PATTERN and at - 5 <= cue.first < at for cue in sentence.cues)


_MINE = frozenset({"i", "i'd", "i'll", "i'm", "we"})


def _on_gauge_line(sentence: Sentence, at: int) -> bool:
    """Whether a line of a pasted pattern opens with Gauge or Tension: the pattern's, unless she says it is hers."""
    begin = at
    while begin > 0 and sentence.tokens[begin - 1].kind != "NEWLINE":
        begin -= 1
    if begin == 0 or sentence.kind_at(begin) != "GAUGE":
        return False
    end = next((i for i in range(at, len(sentence.tokens)) if sentence.tokens[i].kind == "NEWLINE"), at)
    return not any(cue.kind == "yarn.have" and begin <= cue.first < end for cue in sentence.cues)


_HAS_IT = frozenset({"yarn.here", "yarn.have", "have.after"})


def _cue_pull(sentence: Sentence, groups: list[Group], index: int, cue: Cue, row: dict[str, Any]) -> float:
    """How strongly one cue gives a group to the pattern (positive) or to the yarn wanted (negative)."""
    group = groups[index]
    if _not_of_the_side(sentence, group, cue):
        return 0.0
    if cue.kind == "pattern.in" and any(other.last == cue.first and other.weight for other in groups):
        old, new = load("roles.toml")["pattern_in"]
        row = old if cue.first >= group.last else new
    sign = 1.0 if row["side"] == PATTERN else -1.0
    if cue.first < group.first:  # also where it ends within: how many | balls of 115 m DK
        strength, reach = row["right"], row.get("right_reach", 99)
        left, right = min(cue.last, group.first), group.first
    elif cue.first >= group.last:
        strength, reach = row["left"], row.get("left_reach", 99)
        left, right = group.last, cue.first
    else:
        inside = max(row["left"], row["right"]) * weights()["inside"]
        return float(sign * inside) if row["side"] == PATTERN or row["left"] else 0.0
    if not strength or right - left >= reach or sentence.parted(left, right):
        return 0.0
    if left == cue.last:
        crossed = index - bisect.bisect_left(groups, left, hi=index, key=lambda other: other.first)
    else:
        crossed = bisect.bisect_right(groups, right, lo=index + 1, key=lambda other: other.last) - index - 1
    weight = weights()
    strength *= weight["comma"] ** min(sentence.commas_between(left, right), 2) * weight["skip_group"] ** crossed
    if right - left > weight["near"]:
        strength *= weight["far"]
    return float(sign * strength)


def _not_of_the_side(sentence: Sentence, group: Group, cue: Cue) -> bool:
    """``my 1000 m sport pattern``, ``worked with two strands``: wordings that say nothing here of whose yarn it is."""
    if cue.kind == "yarn.have" and cue.last - cue.first == 1:
        says = _SAYS_PATTERN | ({"pattern.thing"} if sentence.lower_at(cue.first) == "my" else set())
        return any(c.kind in says and c.first == group.last for c in sentence.cues)  # my DK jumper
    if cue.kind == "pattern.over" and sentence.lower_at(cue.first) == "than" and sentence.said("ask.compare"):
        return True  # is this one cheaper than that
    if cue.kind == "pattern.over" and sentence.lower_at(cue.first) == "from" and cue.last <= group.first:
        return any(c.kind in _HAS_IT and c.first == group.last for c in sentence.cues)  # from the worsted I own
    if cue.kind == "yarn.in" and sentence.lower_at(cue.first) == "out" and cue.last <= group.first:
        into = [c.first - group.last for c in sentence.cues if c.kind == "yarn.in"]
        gone = any(c.kind == "pattern.over" and c.first <= cue.first < c.last for c in sentence.cues)
        return gone or not {0, 1}.isdisjoint(into)  # the shop is out of aran; out of worsted into DK
    if cue.kind == "yarn.of" and cue.last <= group.first:
        return sentence.lower_at(cue.last) in word_list("not_how_much_of")  # how much would 900 m of chunky be in DK
    if cue.kind == "yarn.version":
        return sentence.kind_at(cue.last) == "IN"  # a house-sock version in DK
    strands = group.lonely and "strands" in group.features
    return cue.kind in ("yarn.with", "yarn.in") and strands and cue.last == group.first


_Exchange = tuple[list[Group], Group, bool]
"""The groups named first, the one named after, and whether the first is what is given up."""


def _exchange_pull(group: Group, exchanges: list[_Exchange]) -> float:
    """Substitute NEW for OLD, swap OLD for NEW, OLD replaced by NEW: +1 the pattern's yarn, -1 the new one."""
    for one, other, old_first in exchanges:
        if group in one:
            return 1.0 if old_first else -1.0
        if group is other:
            return -1.0 if old_first else 1.0
    return 0.0


def _exchanges(sentence: Sentence, yarns: list[Group]) -> Iterator[_Exchange]:
    """Each exchange told between the yarns of a text."""
    for says in (cue for cue in sentence.cues if cue.kind in _EXCHANGED):
        one = [group for group in yarns if group.last <= says.first and not sentence.parted(group.last, says.first)]
        new = _next_yarn(sentence, yarns, says)
        if one and new:
            yield one[-1:], new, _EXCHANGED[says.kind]
    for held, other in itertools.pairwise(yarns):  # double up fingering for 1100 yd of worsted
        between = [sentence.kind_at(at) for at in range(held.last, other.first)]
        chosen = [sentence.lower_at(at) for at in range(held.last, other.first)] == ["not"]
        if chosen and held.weight and other.weight and sentence.said("yarn.use"):
            yield [held], other, False  # I'm using aran, not DK
        if sentence.said("exchange.prefer"):
            continue
        if between == ["TO"] and held.weight and other.weight and not sentence.said("ask.compare"):
            yield [held], other, True  # dk to 4 ply, 960 m
        if sentence.parted(held.last, other.first) or not (held.weight and other.weight):
            continue
        made_of = between in (["FOR"], ["FOR", "ARTICLE"]) or _to_make(sentence, held.last, other.first)
        if _several_strands(held) and made_of:
            yield [held], other, False
        if _several_strands(other) and any(c.kind == "strands.like" and c.last == held.first for c in sentence.cues):
            yield [other], held, False  # to make aran I hold dk double
    links = [cue for cue in sentence.cues if cue.kind in _JOINTS]
    for verb in sentence.cues:
        for joint, old_first in _EXCHANGES.get(verb.kind, {}).items():
            if any(verb.first == cue.first and verb.last < cue.last for cue in sentence.cues if cue.kind in _EXCHANGES):
                continue  # swap in, and not swap
            for link in links:
                one = [group for group in yarns if verb.last <= group.first and group.last <= link.first]
                new = _next_yarn(sentence, yarns, link)
                if one and new and not sentence.parted(verb.last, link.first):
                    if link.kind == joint:
                        yield one, new, old_first
                    break  # only the first link joins the two


def _several_strands(group: Group) -> bool:
    return int(group.features.get("strands") or 1) > 1


def _to_make(sentence: Sentence, left: int, right: int) -> bool:
    """``hold fingering double to make worsted``: whether strands before are said to make the yarn after."""
    return any(cue.kind == "strands.like" and left <= cue.first and right - cue.last <= 1 for cue in sentence.cues)


def _next_yarn(sentence: Sentence, yarns: list[Group], cue: Cue) -> Group | None:
    """The yarn named next after a cue, in its sentence."""
    return next((g for g in yarns if g.first >= cue.last and not sentence.parted(cue.last, g.first)), None)


_JOINTS = frozenset({"exchange.for", "exchange.with", "exchange.to"})
_EXCHANGES = {
    "exchange.new_for": {"exchange.for": False},
    "exchange.old_for": {"exchange.for": True},
    "exchange.replace": {"exchange.with": True},
    "exchange.prefer": {"exchange.to": False},
}
"""Verbs before the first yarn: the word before the second, and whether the first is what is given up."""
_EXCHANGED = {"exchange.by": True, "exchange.in_for": False}
"""Wordings between the two yarns, and whether the first is what is given up."""


def _made_in_pull(sentence: Sentence, groups: list[Group], index: int) -> float:
    """``knit a worsted sweater pattern in DK``: +1 for the weight the thing is of, -1 for the one it is made in."""
    group = groups[index]
    after = groups[index + 1] if index + 1 < len(groups) else None
    before = groups[index - 1] if index else None
    if after and _made_in(sentence, group, after):
        return 1.0
    return -1.0 if before and _made_in(sentence, before, group) else 0.0


def _made_in(sentence: Sentence, thing: Group, other: Group) -> bool:
    """Whether a weight with its garment or pattern is followed by another weight it is to be made in."""
    if not (thing.weight and other.weight) or sentence.parted(thing.last, other.first):
        return False
    if set(thing.weight) & set(other.weight) or sentence.commas_between(thing.last, other.first):
        return False
    between = [cue for cue in sentence.cues if thing.last <= cue.first and cue.last <= other.first]
    near = [cue for cue in between if other.first - cue.last <= _A_WORD_OR_TWO]
    joint = next((cue for cue in near if cue.kind in _MADE_WITH or sentence.lower_at(cue.first) == "from"), None)
    things = [cue for cue in between if cue.kind in _OF_A_PATTERN]
    theirs = any(cue.kind in _OF_A_PATTERN and cue.first == other.last for cue in sentence.cues)
    words = range(thing.last, joint.first) if joint else range(0)
    plain = all(sentence.kind_at(at) in ("WORD", "CLASS") for at in words)
    return joint is not None and bool(things) and plain and len(words) <= _A_THING and not theirs


_OF_A_PATTERN = frozenset({"pattern.thing", "pattern.noun", "pattern.in"})
_MADE_WITH = frozenset({"yarn.in", "yarn.with", "yarn.use", "pattern.in"})
_A_WORD_OR_TWO = 2
_A_THING = 4
"""How many words a garment and its pattern take: ``baby blanket pattern``."""


_Tie = tuple[int, int, dict[tuple[str, str], float]]
"""Two groups by their numbers, and how well each way of giving them to sides goes."""


def _ties(sentence: Sentence, groups: list[Group], several: bool) -> list[_Tie]:
    """How well any two groups go together; ``several`` yarns may be wanted."""
    ties = []
    for (i, one), (j, two) in itertools.combinations(enumerate(groups), 2):
        beside = _beside(sentence, one, two) if j == i + 1 else 0.0
        apart = _of_a_pair(one, two, together=False, rivals=False)
        pattern = beside + _of_a_pair(one, two, together=True, rivals=True, alike=not several)
        yarn = beside + _of_a_pair(one, two, together=True, rivals=False) if several else pattern
        if apart or pattern or yarn:
            sides = {(PATTERN, YARN): apart, (YARN, PATTERN): apart, (PATTERN, PATTERN): pattern, (YARN, YARN): yarn}
            ties.append((i, j, sides))
    return ties


def _of_a_pair(one: Group, two: Group, *, together: bool, rivals: bool, alike: bool = False) -> float:
    """One weight belongs to one side, two weights, gauges or put-ups to two, and so with two needs."""
    weight = weights()
    total = 0.0
    a, b = one.weight, two.weight
    if a and b and set(a) & set(b):
        total += weight["same_class_same_side"] if alike and _said_alike(one, two) else 0.0
    elif a and b and rivals:
        total += weight["two_classes_one_side"]
    if rivals:
        total += weight["two_classes_one_side"] / 2 * sum(_clash(kind, one, two) for kind in ("gauge", "putup"))
    if not together and one.has_need and two.has_need:
        total += weight["two_needs_apart"]
    return total


def _said_alike(one: Group, two: Group) -> bool:
    """Whether two groups of one weight call it the same, or one of them has it from a name alone."""
    if "weight" in one.features and "weight" in two.features:
        return one.called.casefold() == two.called.casefold()
    return True


def _clash(feature: str, one: Group, two: Group) -> bool:
    """Whether two groups tell one feature differently."""
    said = feature in one.features and feature in two.features
    return said and not _compatible(feature, one.features[feature], two.features[feature])


def _beside(sentence: Sentence, one: Group, two: Group) -> float:
    """Groups beside each other on one side: a lone gauge or strands, or a need, and the yarn beside it."""
    weight = weights()
    near = weight["comma"] ** min(sentence.commas_between(one.last, two.first), 2)
    parted = sentence.parted(one.last, two.first)
    if one.lonely or two.lonely:
        follows = weight["follows_its_neighbour"] if two.lonely else 0.0
        return follows if parted else weight["lonely_beside"] * near
    if two.features.keys() == {"putup"} and _told_of_it(sentence, two):
        return weight["of_it"]
    if one.only_need != two.only_need and not parted and two.first - one.last <= 5:
        return weight["need_beside"] * near
    return 0.0


def _told_of_it(sentence: Sentence, group: Group) -> bool:
    """``Its band reads 328 yd to 100 g``: a put-up told of the yarn just spoken of, as its sentence opens."""
    opening = sentence.stops[sentence.sentence_of(group.first) - 1] + 1 if sentence.sentence_of(group.first) else 0
    lead = range(max(opening, group.first - 6), group.first)
    return any(sentence.lower_at(at) in word_list("of_it") for at in lead)


def _only_put_up(groups: list[Group]) -> int | None:
    """Of several weights with one put-up among them, the number of that group: it is hardly the pattern's."""
    classed = [index for index, group in enumerate(groups) if group.weight and not group.has_count]
    wound = [index for index in classed if "putup" in groups[index].features]
    needed = any(group.has_need for group in groups)
    return wound[0] if len(classed) > 1 and len(wound) == 1 and needed else None


def _must_part(groups: list[Group]) -> list[int] | None:
    """The numbers of the groups that tell of a yarn where two weights are said: each side should have one."""
    if len({group.weight for group in groups if group.weight}) < 2:
        return None
    return [i for i, group in enumerate(groups) if group.features.keys() & {"weight", "gauge", "name", "putup"}]


# yarns ---------------------------------------------------------------------------------------------------------


def yarn_of(features: dict[str, Any]) -> Yarn:
    """The features of a group as a yarn."""
    weight: tuple[tuple[str, ...], str | None] = features.get("weight") or ((), None)
    keys, said = weight
    return Yarn(
        name=features.get("name"),
        weight_class=keys[0] if len(keys) == 1 else None,
        class_as_said=said,
        put_up=features.get("putup"),
        gauge=features.get("gauge"),
        needle=features.get("needle"),
        other_needle=features.get("other_needle"),
        wpi=features.get("wpi"),
        strands=features.get("strands"),
        price=features.get("price"),
    )


def merge_yarns(one: Yarn, two: Yarn) -> Yarn | None:
    """Two tellings of one yarn put together, or None where they contradict each other."""
    if one.weight_class and two.weight_class and one.weight_class != two.weight_class:
        return None
    if one.name and two.name and one.name.casefold() != two.name.casefold():
        return None
    put_up = one.put_up or two.put_up
    if one.put_up and two.put_up:
        put_up = merged_put_up(one.put_up, two.put_up)
        if put_up is None:
            return None
    for slot in ("gauge", "price", "strands", "wpi"):
        if getattr(one, slot) and getattr(two, slot) and getattr(one, slot) != getattr(two, slot):
            return None
    return replace(one.filled_from(two), put_up=put_up)
