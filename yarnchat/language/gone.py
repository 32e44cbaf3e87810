"""Skeins that are there no more, or are no longer whole: given away, used, promised, half of them wound off."""

from __future__ import annotations

from dataclasses import replace

from yarnchat.language.counts import may_be_skeins
from yarnchat.language.lexicon import load, word_list
from yarnchat.language.phrases import Phrase
from yarnchat.language.sentence import Cue, Sentence
from yarnchat.queries import Series


def some_were_given(sentence: Sentence) -> None:
    """``5 skeins but gave one to my sister``, ``6 balls and used 2 of them``, ``all but one of the 5``: so many less.

    Only where it is asked whether the rest is enough; of work under way what is used is told, and not taken off.
    A number of which it is open whether it is what there was or what is left is nothing that could be used.
    """
    other = any(phrase.kind in ("rows", "percent", "fraction") for phrase in sentence.phrases)
    needed = any(phrase.kind in ("length", "mass", "named") for phrase in sentence.phrases)
    if not sentence.said("ask.enough") or sentence.said("ask.progress") or other or not needed:
        return
    of_the_pattern = {cue.last for cue in sentence.cues if cue.kind == "pattern.noun"}
    for cue in (cue for cue in sentence.cues if cue.kind == "have.given" and cue.first not in of_the_pattern):
        said = next((p for p in sentence.phrases if p.first == cue.last and p.kind in ("num", "count")), None)
        counts = [p for p in sentence.phrases if p.kind == "count" and p is not said and len(p.value.values) == 1]
        gone = _so_many(sentence, said, cue.last)
        if len(counts) != 1 or not 0 < gone < counts[0].value.values[0] or not _by_her(sentence, cue):
            continue
        if _what_is_left(sentence, counts[0]) and said is not None:
            said.kind = "one"  # I used 2 for a hat and have 8 left
            continue
        if not _what_there_was(sentence, counts[0], cue):
            counts[0].kind = "open"
            continue
        _take_off(counts[0], gone)
        if said is not None:
            said.kind = "one"
        elif sentence.kind_at(cue.last) == "ARTICLE":
            sentence.phrases.append(Phrase("one", cue.last, cue.last + 2, Series((gone,), "skein")))
    sentence.phrases.sort(key=lambda phrase: phrase.first)


def half_of_one_gone(sentence: Sentence) -> None:
    """``5 balls, but used half of one for a swatch``, ``half of one is gone``: half a skein less."""
    halves = [at for at, token in enumerate(sentence.tokens) if token.lower == "half"]
    halves = [at for at in halves if [sentence.lower_at(at + 1), sentence.lower_at(at + 2)] == ["of", "one"]]
    if len(halves) != 1 or not sentence.said("ask.enough"):
        return
    [at] = halves
    away = any(cue.kind == "have.given" and cue.last == at for cue in sentence.cues)
    away = away or any(cue.kind in ("have.gone", "used.after") and at < cue.first <= at + 4 for cue in sentence.cues)
    count = sentence.last_before(at, "count")
    if not away or count is None or len(count.value.values) != 1 or count.value.values[0] <= 1:
        return
    _take_off(count, 0.5)
    sentence.unsay_where(
        lambda cue: cue.kind in ("have.gone", "have.given", "have.part") and at - 3 <= cue.first <= at + 4
    )
    sentence.phrases.append(Phrase("one", at, at + 3, Series((0.5,), "skein")))
    sentence.phrases.sort(key=lambda phrase: phrase.first)


def left_of_so_many(sentence: Sentence) -> None:
    """``80 g and 65 g left of two 100 g skeins``: the skeins of which something is left, and none besides."""
    weighed = next((phrase.last for phrase in sentence.phrases if phrase.kind == "mass"), None)
    for phrase in sentence.phrases if weighed is not None else ():
        if phrase.kind not in ("count", "times") or weighed is None or phrase.first <= weighed:
            continue
        *left, of = (sentence.lower_at(at) for at in range(phrase.first - 3, phrase.first))
        if of in ("of", "from") and {"left", "remaining"} & set(left):
            phrase.kind, phrase.value = ("putup", phrase.value[1]) if phrase.kind == "times" else ("one", phrase.value)


def _by_her(sentence: Sentence, cue: Cue) -> bool:
    """Whether it is she who gave them away, and of these: not a friend, nor another time."""
    opens = _who(sentence, cue)
    before = sentence.lower_at(cue.first - 1)
    clause = [at for at in range(max(0, cue.first - _A_CLAUSE), cue.first) if not sentence.parted(at, cue.first)]
    another_time = "last" in {sentence.lower_at(at) for at in clause}
    eaten = sentence.lower_at(cue.first) in word_list("whose") | {"the", "moths"}  # the moths ate one
    return not another_time and (eaten or opens in ("i", "we", "all") or before in word_list("before_giving"))


def _what_is_left(sentence: Sentence, count: Phrase) -> bool:
    """``have 8 skeins left``: a count said to be what is still there."""
    behind = {sentence.lower_at(at) for at in range(count.last, count.last + 2)}
    return bool(behind & word_list("still_there"))


def _what_there_was(sentence: Sentence, count: Phrase, cue: Cue) -> bool:
    """Whether a count is told before some of it is gone, as of it, or as what she had: and not as what is left."""
    before = count.last <= cue.first
    end = min(cue.first, count.last + _A_CLAUSE) if before else count.last + _A_CLAUSE
    behind = {sentence.lower_at(at) for at in range(count.last, end) if not sentence.parted(count.last, at)}
    lead = {sentence.lower_at(at) for at in range(count.first - 2, count.first)}
    if "put right" in count.flags:
        return False  # 6 balls, well, 4 really, I gave two away
    if "of" in lead:
        return True
    return not behind & word_list("still_there") and not lead & {"still", "now"} and (before or "had" in lead)


_A_CLAUSE = 7


def _so_many(sentence: Sentence, said: Phrase | None, at: int) -> float:
    """The number of skeins told at a place, in digits or as a word, where nothing else is counted; else 0."""
    if [sentence.kind_at(at), sentence.kind_at(at + 1)] == ["ARTICLE", "SKEIN"]:
        return 1.0
    end = said.last if said else at + 1
    of_what = sentence.kind_at(end) == "OF" and sentence.lower_at(end + 1) not in word_list("them_all")
    if of_what:
        return 0.0  # lost 2 of my needles
    closes = sentence.kind_at(end) in _CLOSES or sentence.lower_at(end) in word_list("given_where")
    if not closes or (said is not None and len(said.value.values) != 1):
        return 0.0
    return float(said.value.values[0] if said else load("words.toml")["numbers"].get(sentence.lower_at(at), 0))


_CLOSES = frozenset({"", "STOP", "COMMA", "SEMI", "AND", "OF", "AT", "ON", "TO", "FOR", "IN", "RPAR"})


def _take_off(count: Phrase, gone: float) -> None:
    """So many skeins less than a count tells, and a note of it."""
    all_of_them = count.value.values[0]
    count.value = replace(count.value, values=(all_of_them - gone,))
    count.notes = (*count.notes, f"{all_of_them:g} skeins less {gone:g}: {all_of_them - gone:g}")


def some_are_half(sentence: Sentence) -> None:
    """``5 skeins, two of them are only half full``: half of so many less."""
    for at in [at for at, token in enumerate(sentence.tokens) if token.kind == "HALF"]:
        some = next((p for p in sentence.phrases if p.kind in ("num", "count") and 2 < at - p.last <= _A_FEW), None)
        if not some or not _of_several(sentence, some) or len(some.value.values) != 1 or sentence.parted(some.last, at):
            continue
        count = sentence.last_before(some.first, "count")
        if count and len(count.value.values) == 1 and some.value.values[0] <= count.value.values[0]:
            _take_off(count, some.value.values[0] / 2)
            some.kind, some.last = "one", at + 1


_A_FEW = 5
_SEVERAL = frozenset({"them", "these", "those", "which"})


def _of_several(sentence: Sentence, some: Phrase) -> bool:
    """``two of them``: whether a number is one of those told before it."""
    return sentence.lower_at(some.last) == "of" and sentence.lower_at(some.last + 1) in _SEVERAL


def some_are_gone(sentence: Sentence) -> None:
    """``8 balls, 2 of them are promised``, ``one is damaged``: so many less."""
    for cue in (cue for cue in sentence.cues if cue.kind == "have.gone"):
        some = next((p for p in reversed(sentence.phrases) if 0 <= cue.first - p.last <= _reach(sentence, p)), None)
        lone = some is not None and some.kind in ("num", "count") and may_be_skeins(some)
        told = lone or sentence.lower_at(cue.first - 1) == "one"
        if not told:
            _all_are_kept(sentence, cue)
            continue
        begin = some.first if some and lone else cue.first - 1
        gone: float = some.value.values[0] if some and lone else 1
        count = sentence.last_before(begin, "count")
        if count is None or len(count.value.values) != 1 or sentence.parted(count.last, cue.first):
            continue
        if gone < count.value.values[0]:
            _take_off(count, gone)
            if some and lone:
                some.kind = "one"


def _reach(sentence: Sentence, some: Phrase) -> int:
    """How far behind a number what becomes of so many may stand: further past ``2 of them are``."""
    are = sentence.lower_at(some.last + 2) in ("is", "are", "were")
    return 3 if are and _of_several(sentence, some) else 2


def told_of_some(sentence: Sentence) -> None:
    """``8 skeins, and 2 of them are blue``: what is said of some of the skeins told of is no skein more."""
    hers = {cue.last for cue in sentence.cues if cue.kind == "have.before"}
    for some in sentence.phrases:
        if some.kind != "count" or not _of_several(sentence, some) or some.first in hers:
            continue
        count = sentence.last_before(some.first, "count")
        if count and max(count.value.values) > max(some.value.values) and not sentence.parted(count.last, some.first):
            some.kind = "num"


def _all_are_kept(sentence: Sentence, cue: Cue) -> None:
    """``my sister has three balls but she's keeping them``: skeins that are nobody's to use."""
    count = sentence.last_before(cue.first, "count", "length", "mass")
    said = {sentence.lower_at(at) for at in range(cue.first, cue.last)}
    pointed = said & word_list("them_all")
    if said & word_list("keeping") and sentence.said("have.before") and _she_has(sentence):
        return  # I have 6 skeins, she's keeping them for me
    if count is not None and pointed and not sentence.parted(count.last, cue.first):
        count.kind = "one"
        count.notes = (*count.notes, f"{sentence.words(count)}: not counted")


def _she_has(sentence: Sentence) -> bool:
    """Whether it is she herself who has the skeins: ``I have 6``."""
    owners = [cue for cue in sentence.cues if cue.kind == "have.before"]
    return bool(owners) and _who(sentence, owners[0]) in ("i", "we")


def _who(sentence: Sentence, cue: Cue) -> str:
    """The first word of a cue, without what is joined to it: the i of ``i've got``."""
    return sentence.lower_at(cue.first).split("'")[0]


def one_is_half(sentence: Sentence) -> None:
    """``4 skeins but one is half used``: half a skein less."""
    for cue in sentence.cues:
        about = [at for at in range(cue.last - 1, cue.last + 2) if sentence.kind_at(at) == "HALF"]
        if cue.kind != "have.part" or not about:
            continue
        count = sentence.last_before(cue.first, "count")
        whole = count is not None and len(count.value.values) == 1 and count.value.values[0] % 1 == 0
        if count and whole and count.value.values[0] > 1 and not sentence.parted(count.last, cue.first):
            some = count.value.values[0]
            count.value = replace(count.value, values=(some - 0.5,))
            count.notes = (*count.notes, f"{some:g} skeins, one of them half: {some - 0.5:g}")
            sentence.phrases.append(Phrase("one", about[0], about[0] + 1, Series((0.5,), "skein")))
            for said in [p for p in sentence.phrases if p.kind == "count" and cue.first <= p.first < cue.last]:
                said.kind = "one"
    sentence.phrases.sort(key=lambda phrase: phrase.first)
