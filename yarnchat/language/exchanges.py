"""One yarn told in the place of another: substitute NEW for OLD, OLD replaced by NEW, a worsted pattern in DK."""

from __future__ import annotations

import itertools
from collections.abc import Iterator
from typing import NamedTuple

from yarnchat.language.groups import Group
from yarnchat.language.lexicon import word_list
from yarnchat.language.sentence import Cue, Sentence


class Exchange(NamedTuple):
    """Some yarns given up for another, or another for them."""

    first: list[Group]
    second: Group
    old_first: bool
    """Whether the ones named first are what is given up."""


def exchange_pull(group: Group, exchanges: list[Exchange]) -> float:
    """Substitute NEW for OLD, swap OLD for NEW, OLD replaced by NEW: +1 the pattern's yarn, -1 the new one."""
    for told in exchanges:
        if group in told.first:
            return 1.0 if told.old_first else -1.0
        if group is told.second:
            return -1.0 if told.old_first else 1.0
    return 0.0


def exchanges(sentence: Sentence, yarns: list[Group]) -> Iterator[Exchange]:
    """Each exchange told between the yarns of a text: by a wording between two, by their order, by a verb before."""
    yield from _by_a_wording_between(sentence, yarns)
    for held, other in itertools.pairwise(yarns):
        yield from _side_by_side(sentence, held, other)
    for verb in sentence.cues:
        longer = (cue for cue in sentence.cues if cue.kind in _EXCHANGES and cue.first == verb.first)
        if verb.kind in _EXCHANGES and not any(verb.last < cue.last for cue in longer):  # swap in, and not swap
            yield from _by_a_verb(sentence, yarns, verb)


def _by_a_wording_between(sentence: Sentence, yarns: list[Group]) -> Iterator[Exchange]:
    """``worsted replaced by DK``."""
    for says in (cue for cue in sentence.cues if cue.kind in _EXCHANGED):
        one = [group for group in yarns if group.last <= says.first and not sentence.parted(group.last, says.first)]
        new = _next_yarn(sentence, yarns, says)
        if one and new:
            yield Exchange(one[-1:], new, _EXCHANGED[says.kind])


def _side_by_side(sentence: Sentence, held: Group, other: Group) -> Iterator[Exchange]:
    """``I'm using aran, not DK``, ``dk to 4 ply``, ``double up fingering for 1100 yd of worsted``."""
    if not (held.weight and other.weight):
        return
    if [sentence.lower_at(at) for at in range(held.last, other.first)] == ["not"] and sentence.said("yarn.use"):
        yield Exchange([held], other, old_first=False)
    if sentence.said("exchange.prefer"):
        return
    between = [sentence.kind_at(at) for at in range(held.last, other.first)]
    if between == ["TO"] and not sentence.said("ask.compare"):
        yield Exchange([held], other, old_first=True)
    if sentence.parted(held.last, other.first):
        return
    if between[-1:] == ["FOR"] and "many" in [sentence.lower_at(at) for at in range(held.last, other.first)]:
        yield Exchange([held], other, old_first=False)  # DK 50 g/120 m, how many for 10 balls of aran
    made_of = between in (["FOR"], ["FOR", "ARTICLE"]) or _to_make(sentence, held.last, other.first)
    if _several_strands(held) and made_of:
        yield Exchange([held], other, old_first=False)
    if _several_strands(other) and any(c.kind == "strands.like" and c.last == held.first for c in sentence.cues):
        yield Exchange([other], held, old_first=False)  # to make aran I hold dk double


def _by_a_verb(sentence: Sentence, yarns: list[Group], verb: Cue) -> Iterator[Exchange]:
    """``substitute NEW for OLD``, ``swap OLD for NEW``: a verb, the first yarn, a word that joins, the second yarn."""
    for link in (cue for cue in sentence.cues if cue.kind in _JOINTS):
        if pair := _between_yarns(sentence, yarns, verb, link):
            if link.kind in _EXCHANGES[verb.kind]:
                yield Exchange(*pair, _EXCHANGES[verb.kind][link.kind])
            return  # only the first link joins the two


def _between_yarns(sentence: Sentence, yarns: list[Group], verb: Cue, link: Cue) -> tuple[list[Group], Group] | None:
    """The yarns between a verb and the word that joins, or those that it points back to, and the yarn after it."""
    one = [group for group in yarns if verb.last <= group.first and group.last <= link.first]
    if not one and True in _EXCHANGES[verb.kind].values() and _points_back(sentence, verb, link):
        one = [group for group in yarns if group.last <= verb.first]
    new = _next_yarn(sentence, yarns, link)
    return (one, new) if one and new and not sentence.parted(verb.last, link.first) else None


def _points_back(sentence: Sentence, verb: Cue, link: Cue) -> bool:
    """``swapping all of it for a sport``: what is given up was told before."""
    return any(sentence.lower_at(at) in word_list("given_up") for at in range(verb.last, link.first + 1))


def _several_strands(group: Group) -> bool:
    return int(group.features.get("strands") or 1) > 1


def _to_make(sentence: Sentence, left: int, right: int) -> bool:
    """``hold fingering double to make worsted``: whether strands before are said to make the yarn after."""
    return any(cue.kind == "strands.like" and left <= cue.first and right - cue.last <= 1 for cue in sentence.cues)


def _next_yarn(sentence: Sentence, yarns: list[Group], cue: Cue) -> Group | None:
    """The yarn named next after a cue, in its sentence, and before that turns to what there is instead."""
    found = next((g for g in yarns if g.first >= cue.last and not sentence.parted(cue.last, g.first)), None)
    turned = found and any(sentence.lower_at(at) in word_list("turns") for at in range(cue.last, found.first))
    return None if turned else found  # to buy 9 skeins of worsted for this coat but I want DK


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


def made_in_pull(sentence: Sentence, groups: list[Group], index: int) -> float:
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
