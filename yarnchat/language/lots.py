"""How much each amount is, and which bare length is one skein's."""

from __future__ import annotations

from dataclasses import dataclass

from yarnchat.language.amounts import Amounts
from yarnchat.language.colours import certain_labels, colour_words
from yarnchat.language.groups import Group
from yarnchat.language.lexicon import word_list
from yarnchat.language.made import asked_of_each
from yarnchat.language.phrases import Phrase
from yarnchat.language.sentence import Sentence
from yarnchat.language.skein_limits import BALL_M, HANK_M, SKEIN_M, WELL_UNDER
from yarnchat.queries import PutUp, Series


@dataclass(frozen=True, slots=True)
class Lots:
    """How much each amount is, by the identity of its phrase."""

    series: dict[int, tuple[Series, ...]]
    put_ups: dict[int, PutUp]
    """The put-up that a ``5 x 100 g`` says besides."""


def lots_of(amounts: Amounts) -> Lots:
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


def _coloured(sentence: Sentence, lengths: list[Phrase]) -> bool:
    """``blue 400 m, white 150 m``: whether each of several lengths stands right behind a colour."""
    ends = {label.end for label in colour_words(sentence.text)}
    return all(phrase.first > 0 and sentence.tokens[phrase.first - 1].end in ends for phrase in lengths)


def drop_spare_lengths(sentence: Sentence, groups: list[Group], needs: list[Phrase]) -> None:
    """Of two bare lengths the smaller is a skein's where its group tells of a yarn without one: ``in DK, 250 yd``."""
    lengths = [phrase for phrase in needs if phrase.kind == "length" and len(phrase.value.values) == 1]
    if len(lengths) < 2 or any(phrase.kind in ("count", "named", "times") for phrase in needs):
        return
    if _coloured(sentence, lengths) or asked_of_each(sentence):
        return
    for group in groups:
        bare = [phrase for phrase in group.amounts if phrase in lengths and not of_a_thing(sentence, phrase)]
        others = [phrase for phrase in lengths if phrase not in bare]
        if len(bare) != 1 or not others or "putup" in group.features or not group.features.keys() & {"weight", "name"}:
            continue
        own = bare[0].value.first()
        biggest = max(p.value.first().to(own.unit).value for p in others)
        weight = next((p for p in group.phrases if p.kind in ("weight", "name")), bare[0])
        if weight.first < bare[0].first and own.value < 0.8 * biggest and own.to("m").value <= SKEIN_M:
            bare[0].kind, bare[0].value = "putup", PutUp(length=own)
            group.features["putup"] = bare[0].value
            group.amounts.remove(bare[0])
            needs.remove(bare[0])
            lengths.remove(bare[0])
            return


def of_a_thing(sentence: Sentence, phrase: Phrase) -> bool:
    """``DK jacket 350 yds, sock yarn 420 yds``: a length right behind what is made is what that takes."""
    return any(cue.kind == "pattern.thing" and cue.last == phrase.first for cue in sentence.cues)


def skein_lengths(sentence: Sentence, needs: list[Phrase]) -> None:
    """Beside a number of skeins whose put-up is unsaid, a length in brackets or of a skein's size is that put-up."""
    if sentence.said("ask.check") and len(needs) > 2:
        return
    counts = [
        phrase
        for phrase in needs
        if phrase.kind in ("count", "times") or (phrase.kind == "named" and phrase.value[1].unit == "skein")
    ]
    number = sentence.sentence_of(counts[0].first) if counts else 0
    lengths = [phrase for phrase in needs if phrase.kind == "length" and len(phrase.value.values) == 1]
    # 5 skeins of dk, 230 yds. I plan on worsted, 200 yds: the second is of her yarn
    hers = [p for p in lengths if _behind_a_weight(sentence, p) and sentence.sentence_of(p.first) != number]
    lengths = [phrase for phrase in lengths if phrase not in hers]
    told = any(
        phrase.kind == "putup" and phrase.value.length and sentence.sentence_of(phrase.first) == number
        for phrase in sentence.phrases
    )
    if (
        not counts
        or len(lengths) != 1
        or told
        or sentence.parted(counts[0].last, lengths[0].first)
        or any(p.kind in ("length", "dual", "named") and p not in (*lengths, *counts, *hers) for p in needs)
    ):
        return
    length = lengths[0]
    own = length.value.first()
    bracketed = sentence.kind_at(length.first - 1) == "LPAR" or sentence.kind_at(length.first - 1) in (
        "AT",
        "OF",
        "X",
    )
    after_count = 0 <= length.first - counts[0].last <= 6 or bracketed
    if own.to("m").value <= (SKEIN_M if bracketed else BALL_M) and after_count and not sentence.said("ask.enough"):
        length.kind, length.value = "putup", PutUp(length=own)
        needs.remove(length)


def on_each_she_has(sentence: Sentence, amounts: Amounts) -> None:
    """``2¾ balls here, 120 m dk, and the hat needs 340 m``: a skein's length, beside skeins with no label."""
    counts = [phrase for phrase in amounts.have if phrase.kind == "count"]
    lengths = [phrase for phrase in amounts.need if phrase.kind == "length" and len(phrase.value.values) == 1]
    wound = any(phrase.kind in ("putup", "times") for phrase in sentence.phrases)
    if len(counts) != 1 or len(amounts.have) != 1 or len(lengths) != 2 or len(amounts.need) != 2 or wound:
        return
    lesser, greater = sorted(lengths, key=lambda phrase: phrase.value.first().to("m").value)
    needed = [_said_to_be_needed(sentence, phrase) for phrase in (lesser, greater)]
    if needed == [False, True] and lesser.value.first().to("m").value <= HANK_M:
        lesser.kind, lesser.value = "putup", PutUp(length=lesser.value.first())
        amounts.need.remove(lesser)


def hers_is_so_long(sentence: Sentence, amounts: Amounts) -> None:
    """``Pattern 1200 yds. My yarn is 220 yds``: beside a longer length, one told right behind her yarn is a skein's."""
    lengths = [phrase for phrase in amounts.need if phrase.kind == "length" and len(phrase.value.values) == 1]
    wound = any(phrase.kind == "putup" and phrase.value.length for phrase in sentence.phrases)
    ends = {cue.last for cue in sentence.cues if cue.kind == "yarn.have" and cue.last - cue.first > 1}
    hers = [phrase for phrase in lengths if phrase.first in ends]
    if len(lengths) != 2 or len(hers) != 1 or wound or sentence.said("ask.enough"):
        return
    own = hers[0].value.first().to("m").value
    if own <= HANK_M and any(own < WELL_UNDER * p.value.first().to("m").value for p in lengths):
        hers[0].kind, hers[0].value = "putup", PutUp(length=hers[0].value.first())
        amounts.need.remove(hers[0])


def _said_to_be_needed(sentence: Sentence, phrase: Phrase) -> bool:
    """Whether a verb for needing stands right before an amount, or a word for it right behind."""
    kinds = ("pattern.verb", "need.before")
    before = any(
        cue.kind in kinds and cue.last == phrase.first and sentence.lower_at(cue.first) not in word_list("small_words")
        for cue in sentence.cues
    )
    behind = any(cue.kind in ("need.after", "pattern.after") and cue.first == phrase.last for cue in sentence.cues)
    return before or behind


def lesser_is_a_skeins(sentence: Sentence, amounts: Amounts) -> None:
    """``substitute dk by aran, 1000 m, aran 160 m``: of two lengths and two weights, the one well under the other.

    It is what is on a skein of the weight beside it, where nothing says that it is needed or that there is so much.
    """
    needs = [phrase for phrase in amounts.need if phrase.kind == "length" and len(phrase.value.values) == 1]
    classes = {phrase.value[0] for phrase in sentence.phrases if phrase.kind == "weight"}
    things = sum(cue.kind == "pattern.thing" for cue in sentence.cues)
    others = len(amounts.need) > 2 or amounts.have or amounts.used
    asked = sentence.said("ask.check", "ask.enough", "ask.compare") or asked_of_each(sentence)
    if len(needs) != 2 or len(classes) != 2 or things > 1 or others or asked:
        return
    if certain_labels(sentence) or _coloured(sentence, needs):
        return
    lesser, greater = sorted(needs, key=lambda phrase: phrase.value.first().to("m").value)
    own, whole = lesser.value.first().to("m").value, greater.value.first().to("m").value
    beside = any(0 <= p.first - lesser.last <= 1 or 0 <= lesser.first - p.last <= 2 for p in _weights(sentence))
    needed = sentence.lower_at(lesser.first - 1) in word_list("needing")
    if not beside or needed or not _LEAST_M <= own <= min(HANK_M, whole / 2):
        return
    amounts.need.remove(lesser)
    lesser.kind, lesser.value = "putup", PutUp(length=lesser.value.first())
    if any(0 <= lesser.first - phrase.last <= 1 for phrase in _weights(sentence)):
        lesser.flags = frozenset({"of the weight before"})


_LEAST_M = 40
"""A skein of a weight that may be bought for a pattern is hardly shorter, in m (common practice, no source)."""


def _weights(sentence: Sentence) -> list[Phrase]:
    return [phrase for phrase in sentence.phrases if phrase.kind == "weight"]


def _behind_a_weight(sentence: Sentence, phrase: Phrase) -> bool:
    """``aran, 85 m``: a length right behind a weight."""
    at = phrase.first - 1 - (sentence.kind_at(phrase.first - 1) == "COMMA")
    return phrase.kind == "length" and sentence.kind_at(at) == "CLASS"


def hers_on_a_skein(sentence: Sentence, amounts: Amounts) -> None:
    """``9 balls at 100 m each, mine have 120 m``: beside skeins with their length, a length she has is one skein's."""
    counted = any(phrase.kind in ("count", "times") for phrase in amounts.need)
    wound = [phrase.value.length for phrase in sentence.phrases if phrase.kind == "putup" and phrase.value.length]
    ends = {cue.last for cue in sentence.cues if cue.kind == "yarn.have"}
    told = [*amounts.have, *(p for p in amounts.need if p.first in ends or _behind_a_weight(sentence, p))]
    hers = [phrase for phrase in told if phrase.kind == "length" and len(phrase.value.values) == 1]
    if not counted or len(wound) != 1 or len(hers) != 1 or len(told) != 1 or sentence.said("ask.enough"):
        return
    own = hers[0].value.first()
    left = sentence.lower_at(hers[0].last) in word_list("still_there")
    if not left and wound[0].value / 3 <= own.to(wound[0].unit).value <= wound[0].value * 3:
        hers[0].kind, hers[0].value = "putup", PutUp(length=own)
        (amounts.have if hers[0] in amounts.have else amounts.need).remove(hers[0])
