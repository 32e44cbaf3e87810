"""What each length, mass and count is: needed, owned or used."""

from __future__ import annotations

import bisect
import itertools
from dataclasses import dataclass, field

from yarnchat.language.labels import LABEL
from yarnchat.language.lexicon import load, word_list
from yarnchat.language.made import asked_of_each
from yarnchat.language.phrases import Phrase
from yarnchat.language.sentence import Cue, Sentence
from yarnchat.queries import Series

NEED, HAVE, USED = "need", "have", "used"

AMOUNTS = frozenset({"length", "mass", "count", "times", "named", "dual"})


@dataclass(slots=True)
class Amounts:
    """The amounts of a question by what they are."""

    need: list[Phrase] = field(default_factory=list)
    have: list[Phrase] = field(default_factory=list)
    used: list[Phrase] = field(default_factory=list)
    again: list[Phrase] = field(default_factory=list)
    """What she has said once more, as a question: ``I have one ball, 400 m. Does one ball do it?``."""

    @property
    def all(self) -> list[Phrase]:
        """Every amount: those needed, those she has, those used, those said again."""
        return [*self.need, *self.have, *self.used, *self.again]


def sort_amounts(sentence: Sentence, underway: bool = False) -> Amounts:
    """Every amount of the question given to what is needed, what she has or, where work is under way, has used."""
    if sentence.said("ask.check") and not sentence.said("ask.enough"):
        return Amounts(need=[phrase for phrase in sentence.phrases if phrase.kind in AMOUNTS])
    if underway:
        _of_what_there_was(sentence)
        _then_and_now(sentence)
    out = _by_their_words(sentence, underway)
    _pointed_back_to(sentence, out)
    if not underway:
        _left_of_all(sentence, out)
    if sentence.said("ask.measure") and not sentence.said("ask.skeins"):
        _sum_of_scraps(sentence, out)
    if _asks_the_total(sentence, out):
        out.have, out.need = [*out.have, *out.need], []
        sentence.mark("ask.measure")
    if sentence.said("ask.enough"):
        _joined_to_what_she_has(sentence, out)
        _counted_is_hers(out)
        once_only(sentence, out)
        return out
    if sentence.said("ask.cost") and not out.need and [phrase.kind for phrase in out.have] == ["count"]:
        out.have, out.need = [], out.have  # how much will 6 skeins cost?
    return out


def _by_their_words(sentence: Sentence, underway: bool) -> Amounts:
    """The amounts by what the words around each say of it."""
    out = Amounts()
    for phrase in sentence.phrases:
        if phrase.kind not in AMOUNTS or of_notions(sentence, phrase):
            continue
        scores = _scores(sentence, phrase, underway=underway, asked_enough=sentence.said("ask.enough"))
        role = max(scores, key=lambda name: scores[name])
        role = USED if "used" in phrase.flags else HAVE if phrase.flags & {"in all", "left", "hers"} else role
        if role == NEED and phrase.kind != "named" and _continues(sentence, phrase, out.have):
            role = HAVE
        if role == NEED and phrase.kind == "count" and _of_the_yarn_she_has(sentence, phrase):
            role = HAVE
        role = NEED if "needed" in phrase.flags else role
        getattr(out, role).append(phrase)
    return out


def _left_of_all(sentence: Sentence, out: Amounts) -> None:
    """``500 yds left of my 800 yds``, ``5 balls left of the 9 I bought``: what there was before is not hers besides."""
    for one, two in itertools.pairwise(list(out.have)):
        gap = {sentence.lower_at(at) for at in range(one.last, two.first)}
        left = (gap | {sentence.lower_at(two.last)}) & word_list("still_there")
        of_it = bool(gap & {"of", "from"}) and gap <= _OF_ALL | {"from", "original"} | word_list("still_there")
        if left and of_it and one.kind == two.kind and one.kind in AMOUNTS:
            out.have.remove(two)
            out.again.append(two)


def _pointed_back_to(sentence: Sentence, out: Amounts) -> None:
    """``66 g gone. I own 200 g in total, that 66 g included``: an amount of before that is only pointed to."""
    for phrases in (out.need, out.have):
        again = [
            phrase
            for phrase in phrases
            if sentence.lower_at(phrase.first - 1) in ("that", "those", "these")
            and any(_amount_of(p) == _amount_of(phrase) for p in out.used if p.last <= phrase.first)
        ]
        out.again += again
        phrases[:] = [phrase for phrase in phrases if phrase not in again]


def _counted_is_hers(out: Amounts) -> None:
    """``6 skeins, is that enough``: where nothing else is hers, skeins and masses are, and lengths are needed."""
    counted = [phrase for phrase in out.need if phrase.kind in ("count", "times", "mass")]
    alone = len(counted) == len(out.need)
    if out.have or (alone and len(out.need) > 1):
        return
    out.have, out.need = counted, [phrase for phrase in out.need if phrase not in counted]


def _weights() -> dict[str, float]:
    found: dict[str, float] = load("roles.toml")["amounts"]
    return found


def _scores(sentence: Sentence, phrase: Phrase, *, underway: bool, asked_enough: bool) -> dict[str, float]:
    """How likely an amount is to be needed, owned or used."""
    weight = _weights()
    need = _near(sentence, phrase, ("pattern.verb", "need.before"), ("need.after",))
    need += weight["length_is_need"] if phrase.kind in ("length", "named", "dual") else weight["other_is_need"]
    need += weight["of_a_pattern"] if of_a_pattern(sentence, phrase) else 0.0
    have = weight["have"] * _near(sentence, phrase, ("have.before",), ("have.after",))
    have += weight["counted_is_have"] if asked_enough and phrase.kind == "count" else 0.0
    have += weight["put_in_the_stash"] if _put_by(sentence, phrase) else 0.0
    have += weight["asked_enough_of"] if _asked_enough_of(sentence, phrase) else 0.0
    if not underway:
        return {NEED: need, HAVE: 0.0 if _on_a_label(sentence, phrase) else have, USED: 0.0}
    used = weight["used"] * _near(sentence, phrase, ("used.before", "progress.weak"), ("used.after",))
    return {NEED: need + weight["underway"], HAVE: have, USED: used + weight["used_underway"]}


def _on_a_label(sentence: Sentence, phrase: Phrase) -> bool:
    """``I have dk 230 yds, pattern 1000 yds, how many do I need``: a length behind a weight, where skeins are asked."""
    if phrase.kind != "length" or sentence.kind_at(phrase.first - 1) != "CLASS" or not sentence.said("ask.skeins"):
        return False
    lengths = [p.value.largest().to("m").value for p in sentence.phrases if p.kind == "length" and p is not phrase]
    return bool(lengths) and max(lengths) >= 2 * phrase.value.largest().to("m").value


def _put_by(sentence: Sentence, phrase: Phrase) -> bool:
    """``add 3 balls of it to my stash``: skeins, where a verb for keeping opens the text."""
    opens = any(cue.kind in ("verb.remember", "ask.more_stash") and cue.first == 0 for cue in sentence.cues)
    return opens and phrase.kind == "count" and sentence.said("ask.in_stash")


_A_FEW = 3
_REMAINS = frozenset({"left", "remains", "remaining", "but"})
_OF_ALL = frozenset({"of", "out", "my", "the", "a", "total"})


def _of_what_there_was(sentence: Sentence) -> None:
    """``used 250 m of my 600 m``: the second amount is all there was."""
    for one, two in zip(sentence.phrases, sentence.phrases[1:], strict=False):
        gap = [sentence.lower_at(at) for at in range(one.last, two.first)]
        joins = "of" in gap and set(gap) - {"are", "is", "gone", "used", "already", "up", "so", "far"} <= _OF_ALL
        of_it = not {"from", "of"}.isdisjoint(gap) and set(gap) <= _FROM_A_SKEIN
        joins = joins or (_of_a_skein(two) and of_it)
        if joins and one.kind == "mass" and _of_a_skein(two):
            two.kind, two.value = "mass", Series((two.value.mass.value,), two.value.mass.unit)
        joins = joins or _summed(sentence, two)
        if joins and one.kind in AMOUNTS and one.kind == two.kind and not two.flags:
            two.flags = frozenset({"in all"})
            before = {sentence.lower_at(at) for at in range(one.first - _A_FEW, one.first)}
            if before & _REMAINS and not one.flags:
                one.flags = frozenset({"left"})  # what remains is 120 g of my 300 g
    counts = [phrase for phrase in sentence.phrases if phrase.kind == "count"]
    used = {cue.last for cue in sentence.cues if cue.kind == "used.before"}
    told = [phrase for phrase in sentence.phrases if phrase.kind in AMOUNTS]
    for phrase in told if len(told) > 1 else ():
        if _summed(sentence, phrase) and phrase.first not in used and not phrase.flags:
            alone = all(other is phrase or not _summed(sentence, other) for other in told)
            phrase.flags = frozenset({"in all"} if alone else ())  # four balls in total …, I've used one and a half
    if len(counts) == 1 and not counts[0].flags and _summed(sentence, counts[0]) and counts[0].first not in used:
        counts[0].flags = frozenset({"in all"})  # the first ball ended at row 64; three balls total


def _summed(sentence: Sentence, phrase: Phrase) -> bool:
    """``600 m in all``, ``three balls total``: whether an amount is told as that of everything there was.

    Not ``it needs 200 g in all``.
    """
    if any(cue.last == phrase.first for cue in sentence.cues if cue.kind in ("need.before", "pattern.verb")):
        return False
    said = [sentence.lower_at(at) for at in range(phrase.last, phrase.last + 3)]
    summed = {"total", "altogether"} & {said[0], said[2] if said[:2] == ["in", "it"] else ""}
    return bool(summed) or said[:2] in (["in", "total"], ["in", "all"])


def _then_and_now(sentence: Sentence) -> None:
    """``weighed 100 g at the start and 62 g now``, ``had 800 m, down to 250 m``: all there was, and what is left."""
    weighed = [phrase for phrase in sentence.phrases if _weighed(phrase)]
    starts = [phrase for phrase in weighed if _told(sentence, phrase, "start")]
    nows = [phrase for phrase in weighed if _told(sentence, phrase, "now") and phrase not in starts]
    if len(starts) == 1 and not nows and starts[0].kind == "putup" and sentence.said("used.before", "used.after"):
        starts[0].kind, starts[0].value, starts[0].flags = "mass", _as_series(starts[0]), frozenset({"in all"})
    starts = starts or _whole_skeins(sentence, weighed)
    if len(starts) != 1 or len(nows) != 1 or sentence.said("used.before", "used.after"):
        return
    start, now = starts[0], nows[0]
    was, left = _as_series(start), _as_series(now)
    if was.unit != left.unit or left.values[0] > was.values[0]:
        return
    start.kind = now.kind = start.kind if start.kind == "length" else "count" if was.unit == "skein" else "mass"
    start.value, start.flags = was, frozenset({"in all"})
    now.value, now.flags = left, frozenset({"left"})


def _whole_skeins(sentence: Sentence, weighed: list[Phrase]) -> list[Phrase]:
    """``100 g skein, 48 g left``, ``two 50 g skeins, 20 g left``: those in use, told by what a whole one weighs."""
    labels = [p for p in weighed if p.kind == "putup" and sentence.kind_at(p.last - 1) == "SKEIN"]
    counts = [phrase for phrase in weighed if phrase.kind == "count"]
    per = any(sentence.kind_at(at) in ("PER", "SLASH", "EACH") for p in labels for at in range(p.first, p.last))
    if len(labels) != 1 or len(weighed) != 2 + len(counts) or per:
        return []
    [label] = labels
    if not counts:
        return [] if sentence.lower_at(label.last - 1).endswith("s") else labels
    [count, *others] = counts
    if others or count.last != label.first:
        return []
    mass = label.value.mass
    count.kind, count.value = "mass", Series((count.value.values[0] * mass.value,), mass.unit)
    count.last = label.last
    sentence.phrases.remove(label)
    return [count]


def _weighed(phrase: Phrase) -> bool:
    """Whether a phrase tells one amount of yarn, a skein's own mass among them."""
    if phrase.kind == "putup":
        return phrase.value.mass is not None and phrase.value.length is None
    return phrase.kind in ("mass", "count", "length") and len(phrase.value.values) == 1


def _as_series(phrase: Phrase) -> Series:
    if phrase.kind == "putup":
        return Series((phrase.value.mass.value,), phrase.value.mass.unit)
    found: Series = phrase.value
    return found


def _joined_to_what_she_has(sentence: Sentence, out: Amounts) -> None:
    """``3 full balls and 20 g left over``: what is joined to what she has, she has too."""
    needed = {cue.last for cue in sentence.cues if cue.kind in ("need.before", "pattern.verb")}
    for phrase in [phrase for phrase in out.need if phrase.kind in ("count", "times", "mass")]:
        if phrase.first in needed:
            continue  # need 9 skeins and have 6
        after = next((held for held in out.have if _joins(sentence, phrase, held)), None)
        if after:
            out.need.remove(phrase)
            out.have.insert(out.have.index(after), phrase)


_A_WORD_OR_TWO = 2


def _joins(sentence: Sentence, one: Phrase, held: Phrase) -> bool:
    """``3 full balls and 20 g left``, ``2 balls, 210 m apiece, plus a part ball of 31 g``: one stash."""
    if "hers" in held.flags:
        joined = any(sentence.kind_at(at) == "AND" for at in range(one.last, held.first))
        return joined and not sentence.parted(one.last, held.first)
    return 0 <= held.first - one.last <= _A_WORD_OR_TWO and sentence.kind_at(one.last) == "AND"


def _told(sentence: Sentence, phrase: Phrase, when: str) -> bool:
    """Whether words for the start, or for now, stand right before an amount, within it or right after it."""
    after = any(
        cue.kind == f"since.{when}_after"
        and 0 <= cue.first - phrase.last <= 1
        and not sentence.parted(phrase.last, cue.first)
        for cue in sentence.cues
    )
    before = any(
        cue.kind == f"since.{when}_before" and -1 <= phrase.first - cue.last <= _A_WORD_OR_TWO for cue in sentence.cues
    )
    said = {sentence.lower_at(at) for at in range(phrase.first, phrase.last)}
    before = before or (when == "start" and phrase.kind == "putup" and bool(said & word_list("was")))
    opposite = f"since.{'now' if when == 'start' else 'start'}_after"
    turned = any(cue.kind == opposite and cue.first == phrase.last for cue in sentence.cues)
    return after or (before and not turned)


def of_a_pattern(sentence: Sentence, phrase: Phrase) -> bool:
    """``my 1000 m sport pattern``, ``a 650 m cowl``: an amount before what is knitted of it, a weight between."""
    things = {cue.first for cue in sentence.cues if cue.kind == "pattern.thing"}
    if phrase.kind == "length" and (phrase.last in things or sentence.lower_at(phrase.last) == "pair"):
        return sentence.kind_at(phrase.first - 1) == "ARTICLE"
    weight = next((p for p in sentence.phrases if p.kind == "weight" and p.first == phrase.last), None)
    return weight is not None and any(
        cue.kind in ("pattern.noun", "pattern.in") and cue.first == weight.last for cue in sentence.cues
    )


_FROM_A_SKEIN = frozenset({"gone", "used", "from", "of", "out", "a", "an", "one", "the", "my", "it"})


def _of_a_skein(phrase: Phrase) -> bool:
    """``31 g gone from a 75 g skein``: a skein told by what it weighs and no more, which is all there was."""
    return phrase.kind == "putup" and phrase.value.mass is not None and phrase.value.length is None


def _asked_enough_of(sentence: Sentence, phrase: Phrase) -> bool:
    """``is 850 m of sport enough``: what is asked about is what she has."""
    verb = phrase.first - 1
    labelled = phrase.kind == "length" and sentence.kind_at(verb) == "CLASS"
    if labelled and sentence.said("ask.skeins", "ask.how_many"):
        return False  # will dk 230 yds do, and how many skeins
    if sentence.lower_at(verb) not in ("is", "are", "will", "would", "be", "do", "does", "can", "could"):
        return False
    of_pattern = (cue for cue in sentence.cues if cue.kind in ("pattern.thing", "pattern.noun", "pattern.in"))
    if any(cue.first < verb <= cue.last for cue in of_pattern):
        return False  # the hat is 180 m, the pattern is 1400 yd, do I have enough
    ahead = (
        cue
        for cue in sentence.cues
        if cue.kind == "ask.enough"
        and 0 <= cue.first - phrase.last <= 3
        and not sentence.parted(phrase.last, cue.first)
    )
    return any(sentence.lower_at(cue.first) in word_list("asked_of_skeins") for cue in ahead)


def once_only(sentence: Sentence, amounts: Amounts) -> None:
    """``I can get 7 skeins of DK. Would 7 be enough?``: what is told again in the question is not more of it."""
    again = [phrase for phrase in amounts.have if _said_again(sentence, phrase, amounts.have)]
    amounts.again += again
    amounts.have = [phrase for phrase in amounts.have if phrase not in again]


def _said_again(sentence: Sentence, phrase: Phrase, have: list[Phrase]) -> bool:
    """Whether this is in the sentence that asks whether it is enough, and the same amount is told in another one."""
    alike = [other for other in have if other is not phrase and _amount_of(other) == _amount_of(phrase)]
    if "asked of" in phrase.flags and any("asked of" not in other.flags for other in alike):
        return True  # they've five left, 180 yds each, do five cover it
    at = sentence.sentence_of(phrase.first)
    asks = any(cue.kind == "ask.enough" and sentence.sentence_of(cue.first) == at for cue in sentence.cues)
    return asks and any(sentence.sentence_of(other.first) != at for other in alike)


def _amount_of(phrase: Phrase) -> object:
    """What is told, without the label it is told with."""
    return phrase.value[0] if phrase.kind == "times" else phrase.value


def _sum_of_scraps(sentence: Sentence, out: Amounts) -> None:
    """``12 g, 18 g and 9 g``: several masses and nothing else are what there is; ``MC 320 g; CC1 85 g`` are not."""
    apart = len(LABEL.findall(sentence.text)) > 1 or asked_of_each(sentence)
    weighed = len(out.need) > 1 and all(p.kind == "mass" and len(p.value.values) == 1 for p in out.need)
    if weighed and not apart and not out.have:
        out.have, out.need = out.need, []


def _asks_the_total(sentence: Sentence, out: Amounts) -> bool:
    """``2 skeins of 400 yd and 3 of 230 yd, total?``: lots that are told with what is on a skein, and nothing else."""
    asked = any(word in word_list("totals") for token in sentence.tokens for word in token.lower.split())
    counted = [phrase for phrase in (*out.need, *out.have) if phrase.kind in ("count", "times")]
    told = sorted(phrase.kind for phrase in sentence.phrases if phrase.kind not in ("weight", "name", "times"))
    lots = len(counted) > 1 and len(counted) == len(out.all) and told.count("count") == told.count("putup")
    named = sentence.said("ask.enough", "ask.cost", "ask.check", "ask.skeins")
    return asked and lots and set(told) <= {"count", "putup"} and not named


def of_notions(sentence: Sentence, phrase: Phrase) -> bool:
    """Ribbon and elastic are no yarn: ``Notions: 1 m of 3 mm ribbon``."""
    index = sentence.line_of(phrase.first)
    behind = {sentence.lower_at(at) for at in range(phrase.last, phrase.last + 2)}
    return sentence.lower_at(index) in word_list("notions_headings") or bool(behind & word_list("notions"))


def _continues(sentence: Sentence, phrase: Phrase, have: list[Phrase]) -> bool:
    """``3 skeins of 400 m and 60 g of another``: what stands after an amount she has, joined by and or plus."""
    another = [sentence.lower_at(at) for at in range(phrase.last, phrase.last + 2)] == ["of", "another"]
    if not have or (phrase.kind == "length" and not (another or _as_much_besides(sentence, phrase, have[-1]))):
        return False
    gap = range(have[-1].last, phrase.first)
    if any(cue.kind in ("pattern.noun", "pattern.verb") and cue.first in gap for cue in sentence.cues):
        return False  # I have 250 g, the pattern uses 300 g
    joined = any(sentence.kind_at(i) == "AND" or sentence.kind_at(i) == "COMMA" for i in gap)
    beside = phrase.kind == "mass" and not gap  # 22 g 31 g
    return (joined or beside) and len(gap) <= 12 and not sentence.parted(have[-1].last, phrase.first)


def _as_much_besides(sentence: Sentence, length: Phrase, held: Phrase) -> bool:
    """``300 m of DK in red and 250 m of DK in blue; the throw takes 500 m``: lengths of one weight, and the need."""
    of = {
        id(one): two.value[0]
        for one, two in itertools.pairwise(sentence.phrases)
        if one.kind == "length" and two.kind == "weight" and sentence.kind_at(one.last) == "OF"
    }
    alike = id(length) in of and of[id(length)] == of.get(id(held))
    later = [p for p in sentence.phrases if p.kind == "length" and sentence.parted(length.last, p.first)]
    ends = {p.last for p in sentence.phrases if p.kind == "weight"}
    said = any(cue.kind in ("pattern.verb", "need.after") and cue.first in ends for cue in sentence.cues)
    return alike and bool(later) and not said and sentence.said("ask.enough")


def _of_the_yarn_she_has(sentence: Sentence, count: Phrase) -> bool:
    """``if I had the DK, 100 g/240 m, seven balls``: skeins of a yarn and its label, right behind a cue of owning."""
    at = count.first
    label = False
    while at > 0:
        phrase = next((p for p in sentence.phrases if p.last == at and p.kind in ("weight", "name", "putup")), None)
        if phrase is None and sentence.kind_at(at - 1) not in ("COMMA", "THE", "ARTICLE", "DASH", "LPAR", "RPAR"):
            break
        label = label or (phrase is not None and phrase.kind == "putup")
        at = phrase.first if phrase else at - 1
    return label and any(cue.kind == "have.before" and cue.last in (at, at + 1) for cue in sentence.cues)


def _near(sentence: Sentence, phrase: Phrase, before: tuple[str, ...], after: tuple[str, ...]) -> float:
    """How near a cue of these kinds stands: 1 beside it, less further off, 0 past a full stop or another amount."""
    best = 0.0
    if not sentence.said(*before, *after):
        return best
    ends = {other.last for other in sentence.phrases if other.kind in AMOUNTS or other.kind in ("percent", "putup")}
    starts = sorted(other.first for other in sentence.phrases if other.kind in AMOUNTS)
    for cue in sentence.cues:
        told = cue.kind in before and cue.last <= phrase.first and _clear(sentence, starts, cue.last, phrase.first)
        if told and not _of_another_amount(sentence, cue, phrase, ends):
            best = max(best, _closeness(sentence, cue, _past_a_weight(sentence, cue), phrase.first))
        if cue.kind in after and cue.first >= phrase.last and _clear(sentence, starts, phrase.last, cue.first):
            if cue.kind == "used.after" and cue.last in starts and cue.first > phrase.last:
                continue  # started with 400 g and used 260 g
            beside = cue.first == phrase.last and cue.kind == "have.after"
            plainly = beside and (sentence.lower_at(cue.first) == "left" or cue.last - cue.first >= _A_PLACE)
            best = max(best, _weights()["left"] if plainly else 0.0)
            best = max(best, _closeness(sentence, cue, phrase.last, cue.first))
    return best


_A_PLACE = 3
"""Words as many as these say where an amount is: ``1100 yd in my stash``."""


def _of_another_amount(sentence: Sentence, cue: Cue, phrase: Phrase, ends: set[int]) -> bool:
    """Whether a cue before an amount says something of the amount before it, or of a thing told between them."""
    if cue.kind in ("progress.weak", "used.before"):
        # 95 g used and 120 g to go; 80% done, bought 550 g
        return cue.first in ends or sentence.kind_at(cue.first - 1) == "PERCENT"
    if cue.kind != "have.before":
        return False
    if cue.first in ends and _closed_behind(sentence, cue):
        return True  # two skeins on the shelf, the shawl is 1100 yds
    if _has_a_thing(sentence, cue, phrase):
        return True  # I've got this cardi that's 11 balls
    return _labelled_between(sentence, cue.last, phrase.first)  # the pattern I have on my desk: Yarn: 5 (6, 7) skeins


def _labelled_between(sentence: Sentence, left: int, right: int) -> bool:
    """Whether a materials line begins between two places, with the word that labels it."""
    return any(cue.kind == "pattern.label" and left <= cue.first < right for cue in sentence.cues)


def _has_a_thing(sentence: Sentence, cue: Cue, phrase: Phrase) -> bool:
    """Whether what she has is a thing to knit, told right behind, and the amount after it is what that takes."""
    led = sentence.kind_at(cue.last) == "ARTICLE" or sentence.lower_at(cue.last) in word_list("the_work")
    return led and any(
        thing.kind == "pattern.thing"
        and 0 < thing.first - cue.last <= _A_WORD_OR_TWO
        and 0 <= phrase.first - thing.last <= _A_WORD_OR_TWO
        for thing in sentence.cues
    )


def _past_a_weight(sentence: Sentence, cue: Cue) -> int:
    """Where the words between a cue and an amount begin, the weight right behind the cue passed over.

    ``all I have is worsted, 850 yds``.
    """
    if cue.kind != "have.before" or sentence.said("ask.skeins", "ask.how_many"):
        return cue.last
    weight = next((p for p in sentence.phrases if p.kind == "weight" and p.first == cue.last), None)
    return weight.last + (sentence.kind_at(weight.last) == "COMMA") if weight else cue.last


def _closed_behind(sentence: Sentence, cue: Cue) -> bool:
    """Whether what tells where an amount is ends its clause, and says the same of what stands before it."""
    behind = any(
        other.kind == "have.after" and (other.first, other.last) == (cue.first, cue.last) for other in sentence.cues
    )
    return behind and sentence.kind_at(cue.last) in ("COMMA", "AND", "SEMI")


def _clear(sentence: Sentence, starts: list[int], left: int, right: int) -> bool:
    """Whether no sentence ends between two places and none of the amounts that start at ``starts`` does there."""
    at = bisect.bisect_left(starts, left)
    return (at == len(starts) or starts[at] >= right) and not sentence.parted(left, right)


def _closeness(sentence: Sentence, cue: Cue, left: int, right: int) -> float:
    gap = right - left - sentence.commas_between(left, right)
    weight = _weights()
    strength = 1.0 if cue.last - cue.first > 1 or gap <= 1 else weight["one_word_off"]
    strength *= weight["comma"] if sentence.commas_between(left, right) else 1.0
    return strength * max(0.0, 1.0 - weight["a_word"] * max(0, gap - 1))
