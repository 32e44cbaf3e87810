"""Whose yarn is it: each group given to the pattern or to the yarn wanted, all of them scored together."""

from __future__ import annotations

import bisect
import itertools
from dataclasses import dataclass
from typing import Any

from yarnchat.language.exchanges import Exchange, exchange_pull, exchanges, made_in_pull
from yarnchat.language.groups import SAYS_PATTERN, Group, weights
from yarnchat.language.lexicon import load, word_list
from yarnchat.language.sentence import Cue, Sentence
from yarnchat.language.yarns import compatible

PATTERN, YARN = "pattern", "yarn"
MAX_GROUPS = 7


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


def assign(sentence: Sentence, groups: list[Group], *, several: bool = False) -> Sides:
    """The likeliest side of every group. ``several``: candidates are compared, so one side may hold several yarns."""
    if not groups:
        return Sides([], (), 99.0, several)
    free = groups[:MAX_GROUPS]
    rows = load("roles.toml")["cues"]
    pulling = [(cue, rows[cue.kind]) for cue in sentence.cues if cue.kind in rows]
    yarns = [group for group in groups if group.features.keys() & {"weight", "name", "gauge", "putup"}]
    exchanged = list(exchanges(sentence, yarns))
    pulls = [_pull(sentence, groups, index, pulling, exchanged) for index in range(len(free))]
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


def _pull(sentence: Sentence, groups: list[Group], index: int, pulling: _Pulling, exchanged: list[Exchange]) -> float:
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
    pull += exchange_pull(group, exchanged) * weight["exchange"]
    return pull + made_in_pull(sentence, groups, index) * weight["made_in"]


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
    return mine and not any(cue.kind in SAYS_PATTERN and at - 5 <= cue.first < at for cue in sentence.cues)


_MINE = frozenset({"i", "i'd", "i'll", "i'm", "we"})


def _on_gauge_line(sentence: Sentence, at: int) -> bool:
    """Whether a line of a pasted pattern opens with Gauge or Tension: the pattern's, unless she says it is hers."""
    begin = sentence.line_of(at)
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
        says = SAYS_PATTERN | ({"pattern.thing"} if sentence.lower_at(cue.first) == "my" else set())
        return any(c.kind in says and c.first == group.last for c in sentence.cues)  # my DK jumper
    if cue.kind == "pattern.label" and group.first < cue.first < group.last:
        return sentence.kind_at(cue.first - 1) not in ("NEWLINE", "STOP")  # a DK version, yarn is 50 g/125 m
    if cue.kind == "pattern.in" and sentence.lower_at(cue.last) in word_list("writing_in"):
        return True  # someone's written in asking for it in DK
    if cue.kind == "pattern.verb" and [sentence.lower_at(cue.last), sentence.kind_at(cue.last + 1)] == ["it", "IN"]:
        return True
    if cue.kind == "pattern.verb" and cue.last < group.first:  # what would it take in DK
        return any((c.kind, c.first) == ("yarn.in", cue.last) and c.last >= group.first - 1 for c in sentence.cues)
    if cue.kind == "pattern.over" and sentence.lower_at(cue.first) == "than" and sentence.said("ask.compare"):
        return True  # is this one cheaper than that
    if cue.kind == "pattern.over" and sentence.lower_at(cue.first) == "from" and cue.last <= group.first:
        out_of_a_place = sentence.lower_at(cue.last + 1) in word_list("where_yarn_is")  # from your shelf I like this DK
        return out_of_a_place or any(c.kind in _HAS_IT and c.first == group.last for c in sentence.cues)
    if cue.kind == "yarn.in" and _thing_that_takes(sentence, group, cue):
        return True
    if cue.kind == "yarn.in" and sentence.lower_at(cue.first) == "out" and cue.last <= group.first:
        into = [c.first - group.last for c in sentence.cues if c.kind == "yarn.in"]
        gone = any(c.kind == "pattern.over" and c.first <= cue.first < c.last for c in sentence.cues)
        return gone or not {0, 1}.isdisjoint(into)  # the shop is out of aran; out of worsted into DK
    if cue.kind == "yarn.of" and cue.last <= group.first:
        return sentence.lower_at(cue.last) in word_list("not_how_much_of")  # how much would 900 m of chunky be in DK
    if cue.kind == "yarn.version":
        return sentence.kind_at(cue.last) == "IN"  # a house-sock version in DK
    strands = group.lonely and "strands" in group.features
    gauge = [c for c in sentence.cues if c.kind == "same.gauge" and c.first <= cue.first and cue.last <= c.last]
    if strands and gauge and cue.kind in SAYS_PATTERN:
        return True  # held double and at the pattern gauge
    return cue.kind in ("yarn.with", "yarn.in") and strands and cue.last == group.first


def _thing_that_takes(sentence: Sentence, group: Group, within: Cue) -> bool:
    """``a sweater in worsted needs 1300``: a weight between the thing and what it takes is the pattern's."""
    thing = any(c.kind == "pattern.thing" and c.last == within.first for c in sentence.cues)
    return thing and any(c.kind == "pattern.verb" and c.first == group.last for c in sentence.cues)


_Tie = tuple[int, int, dict[tuple[str, str], float]]
"""Two groups by their numbers, and how well each way of giving them to sides goes."""


def _ties(sentence: Sentence, groups: list[Group], several: bool) -> list[_Tie]:
    """How well any two groups go together; ``several`` yarns may be wanted."""
    ties = []
    for (i, one), (j, two) in itertools.combinations(enumerate(groups), 2):
        beside = _beside(sentence, one, two) if j == i + 1 else 0.0
        one_name = weights()["one_name"] if _called_alike(one, two) else 0.0
        apart = _of_a_pair(one, two, together=False, rivals=False) - one_name
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


def _called_alike(one: Group, two: Group) -> bool:
    """Whether two groups name the same yarn."""
    return "name" in one.features and one.features["name"] == two.features.get("name")


def _said_alike(one: Group, two: Group) -> bool:
    """Whether two groups of one weight call it the same, or one of them has it from a name alone."""
    if "weight" in one.features and "weight" in two.features:
        return one.called.casefold() == two.called.casefold()
    return True


def _clash(feature: str, one: Group, two: Group) -> bool:
    """Whether two groups tell one feature differently."""
    said = feature in one.features and feature in two.features
    return said and not compatible(feature, one.features[feature], two.features[feature])


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
