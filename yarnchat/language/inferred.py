"""What follows from what is said: two prices are compared, a weak word asks for a check, ``2 more balls`` is hers."""

from __future__ import annotations

import itertools

from yarnchat.language.colours import certain_labels
from yarnchat.language.denied import denied_before
from yarnchat.language.lexicon import word_list
from yarnchat.language.sentence import Cue, Sentence


def infer(sentence: Sentence) -> None:
    """The cues that follow from others: a weak word for a check where nothing else is asked, ``2 more balls``, …"""
    other = sentence.said("ask.how_many", "ask.skeins", "ask.enough", "ask.identify")
    weights = {phrase.value[0] for phrase in sentence.phrases if phrase.kind == "weight"}
    pieces = {phrase.value for phrase in sentence.phrases if phrase.kind == "dim"}
    gauges = {phrase.value.stitches for phrase in sentence.phrases if phrase.kind == "gauge"}
    if sentence.said("check.weak") and not other and all(len(told) < 2 for told in (weights, pieces, gauges)):
        sentence.mark("ask.check")
    prices = [phrase for phrase in sentence.phrases if phrase.kind == "price"]
    if len(prices) > 1 and any(sentence.kind_at(at) == "OR" for at in range(prices[0].last, prices[-1].first)):
        sentence.mark("ask.compare")
    if _asks_of_a_weight(sentence):
        sentence.mark("ask.identify")
    _near_enough(sentence)
    _uses_what_is_counted(sentence)
    if _asks_what_is_over(sentence) or _asks_if_it_fits(sentence):
        sentence.mark("ask.enough")
    if sentence.said("ask.enough") and _wants_enough(sentence):
        sentence.unsay("ask.enough")
        sentence.mark("ask.skeins")
    if sentence.said("ask.enough") and _only_sizes(sentence):
        sentence.unsay("ask.enough")
        sentence.mark("ask.check")
    if sentence.said("ask.check") and _nothing_told_twice(sentence):
        sentence.unsay("ask.check")
    others = (_of_a_size_in_another, _asks_what_another_takes)
    sentence.unsay_where(lambda cue: cue.kind == "ask.check" and any(asks(sentence, cue) for asks in others))
    if sentence.said("have.advised") and sentence.said("ask.check", "check.weak") and _advised_so_many(sentence):
        sentence.unsay("ask.check")
        sentence.mark("ask.enough")
    if sentence.said("ask.enough") and _list_against_list(sentence):
        sentence.unsay("ask.enough")
        sentence.mark("ask.check")
    if _nothing_asked_enough(sentence):
        sentence.unsay("ask.enough")
    _asked_besides(sentence)
    counted = [phrase for phrase in sentence.phrases if phrase.kind in ("count", "num")]
    if any("more" in sentence.lower_at(at).split() for p in counted for at in range(p.first, p.last + 1)):
        sentence.mark("have.more")
    for step in _LATER:
        step(sentence)


def _near_enough(sentence: Sentence) -> None:
    """``how many yards, near enough?``: set off by a comma, it asks for no more than a round figure."""

    def set_off(cue: Cue) -> bool:
        enough = cue.kind == "ask.enough" and sentence.lower_at(cue.first) == "enough"
        near = sentence.lower_at(cue.first - 1) in ("near", "nearly", "close")
        return enough and near and sentence.kind_at(cue.first - 2) == "COMMA"

    sentence.unsay_where(set_off)


def _uses_what_is_counted(sentence: Sentence) -> None:
    """``can I use 2 skeins of worsted?`` tells what she has, and ``can I use 230 yd DK`` what is on a skein."""
    counted = {phrase.first for phrase in sentence.phrases if phrase.kind in ("count", "times")}

    def of_no_skeins(cue: Cue) -> bool:
        used = sentence.lower_at(cue.first) in ("can", "could") and sentence.lower_at(cue.last - 1) == "use"
        return cue.kind == "have.before" and used and cue.last not in counted

    sentence.unsay_where(of_no_skeins)


def _asked_besides(sentence: Sentence) -> None:
    """What else is asked for: a choice between names, whether it is enough, strands, how big a piece gets."""
    if _either_name(sentence):
        sentence.mark("ask.compare")
    if sentence.said("size.which"):
        sentence.mark("ask.enough")
    if _held_with_each_other(sentence):
        sentence.unsay("ask.check")
        sentence.mark("ask.strands")
    if sentence.said("measure.chest") and sentence.said("measure.sleeve_length") and not _shaped(sentence):
        sentence.mark("shape.sweater")
    if _asks_how_long_it_gets(sentence):
        sentence.mark("ask.how_big")


def _gauge_not_kept(sentence: Sentence) -> None:
    """``not at the same gauge``, ``I won't get the pattern's gauge``, ``keeping the gauge isn't possible``."""
    kept = [cue for cue in sentence.cues if cue.kind in ("same.gauge", "gauge.both")]
    if any(_denied(sentence, cue) for cue in kept):
        sentence.unsay("same.gauge")
        sentence.unsay("gauge.both")
        sentence.mark("same.denied")


def _denied(sentence: Sentence, cue: Cue) -> bool:
    """Whether a word that denies stands in the clause before a cue, or right behind it."""
    return sentence.lower_at(cue.last) in word_list("denied_behind") or denied_before(sentence, cue.first)


def _or_another(sentence: Sentence) -> None:
    """``worsted (192 m/100 g): 5 (6, 6, 7) skeins, or DK (231 m/100 g)``: the other yarn, behind a pattern's line."""
    labels = [phrase for phrase in sentence.phrases if phrase.kind == "putup" and phrase.value.length]
    counted = [phrase for phrase in sentence.phrases if phrase.kind in ("count", "length", "mass")]
    if len(labels) != 2 or len(counted) != 1 or any(kind.startswith("yarn.") for kind in sentence.kinds - {"yarn.of"}):
        return
    for yarn, label in itertools.pairwise(sentence.phrases):
        led = sentence.kind_at(yarn.first - 1) == "OR" and sentence.kind_at(yarn.first - 2) == "COMMA"
        if yarn.kind in ("weight", "name") and label is labels[1] and led and counted[0].last <= yarn.first:
            sentence.mark("yarn.use", yarn.first - 1, yarn.first)
            return


def _shaped(sentence: Sentence) -> bool:
    """Whether a shape is said; a chest and a sleeve are a sweater's where none is."""
    return any(kind.startswith("shape.") for kind in sentence.kinds)


def _of_the_same_weight(sentence: Sentence) -> None:
    """``same weight of yarn``: no weight is asked for where it is said to be the same."""
    same = {at for cue in sentence.cues if cue.kind in ("same.class", "same.yarn") for at in range(cue.first, cue.last)}
    sentence.unsay_where(lambda cue: cue.kind == "ask.measure" and bool(same & set(range(cue.first, cue.last))))


def _of_an_amount(sentence: Sentence) -> None:
    """``and 4 skeins?``: the word for skeins of an amount told asks for no number of them."""
    told = {at for p in sentence.phrases if p.kind in ("count", "times") for at in range(p.first, p.last)}
    sentence.unsay_where(lambda cue: cue.kind == "ask.how_many" and cue.first in told)


def _asks_how_long_it_gets(sentence: Sentence) -> bool:
    """``how long can a 45 in wide blanket be``: the shape whose length is asked for, a little after the question."""
    for at in range(len(sentence.tokens)):
        asked = [sentence.lower_at(on) for on in range(at, at + 3)]
        led = asked[0] == "how" and asked[1] in ("long", "wide", "deep") and asked[2] in _MODALS
        shapes = (cue.first for cue in sentence.cues if cue.kind.startswith("shape."))
        if led and any(0 < first - at <= _A_QUESTION and not sentence.parted(at, first) for first in shapes):
            return True
    return False


_MODALS = frozenset({"can", "could", "will", "would", "should", "does"})
_A_QUESTION = 10
"""How many words on the shape may stand that is asked about."""


def _weight_or_mass(sentence: Sentence) -> None:
    """``1.5 skeins at 230 yd/4 oz: what is the weight?`` asks for a mass, ``5 sts to the inch: …`` for a class.

    So does ``they're 100 g each, so what weight of wool is that?``, which tells nothing that a class shows by.
    """
    weights = [at for at, token in enumerate(sentence.tokens) if token.kind == "WEIGHT"]
    asked = [at for at in weights if _asked_for(sentence, at)]
    of_it = any(sentence.lower_at(at - 1) == "what" and sentence.kind_at(at + 1) == "OF" for at in weights)
    kinds = {phrase.kind for phrase in sentence.phrases}
    labels = [phrase.value for phrase in sentence.phrases if phrase.kind == "putup"]
    if sentence.said("ask.enough", "ask.skeins", "ask.check", "ask.strands"):
        return
    amounts, clues = kinds & {"length", "count", "times", "mass"}, kinds & {"gauge", "wpi", "grist", "needle"}
    weighed = asked and amounts and labels and any(label.mass for label in labels)
    weighed = weighed or (of_it and labels and all(label.mass and not label.length for label in labels))
    if weighed and not clues:
        sentence.unsay("ask.identify")
        sentence.mark("ask.measure")
        sentence.mark("ask.grams")
    elif asked and not amounts and (clues or labels):
        sentence.unsay("ask.convert")
        sentence.unsay("ask.measure")
        sentence.mark("ask.identify")


def _asked_for(sentence: Sentence, at: int) -> bool:
    """``what's the weight of it``, ``what is the weight?``."""
    lead = [sentence.lower_at(on) for on in range(at - 3, at)]
    asks = lead[1:] == ["what's", "the"] or lead == ["what", "is", "the"] or lead == ["what", "'s", "the"]
    return asks and sentence.lower_at(at) == "weight"


def _down_to_what_is_left(sentence: Sentence) -> None:
    """``2 balls down`` are used; ``I'm down to 350 m`` tells of what is left."""
    sentence.unsay_where(lambda cue: cue.kind == "used.after" and sentence.kind_at(cue.last) == "TO")


def _wants_colours(sentence: Sentence) -> None:
    """``I want MC 4 skeins and CC 2 skeins of worsted``: what the pattern takes by its colours, and no yarn of hers."""
    starts = {label.start for label in certain_labels(sentence)}
    led = {at for at, token in enumerate(sentence.tokens) if token.start in starts}
    sentence.unsay_where(lambda cue: cue.kind == "yarn.use" and cue.last in led)


def _of_the_question(sentence: Sentence) -> None:
    """``what would I be needing``: the verb of a question says nothing of what the pattern takes."""
    mine = ("i", "we", "you", "she", "he")

    def of_hers(cue: Cue) -> bool:
        led = [sentence.lower_at(cue.first - 2), sentence.lower_at(cue.first - 1)]
        return cue.kind == "pattern.verb" and led[1] == "be" and led[0] in mine

    sentence.unsay_where(of_hers)


def _wants_enough(sentence: Sentence) -> bool:
    """``she wants enough for a cardigan``: what is to be bought, where nothing is told that there is."""
    wanted = any(
        token.lower == "enough" and sentence.lower_at(at - 1) in ("want", "wants", "need", "needs", "buy", "get")
        for at, token in enumerate(sentence.tokens)
    )
    return wanted and not any(phrase.kind in ("count", "times") for phrase in sentence.phrases)


def _only_sizes(sentence: Sentence) -> bool:
    """``3.25 mm (US 4) ok?``: needles and a gauge, of which there may be enough of nothing."""
    kinds = [phrase.kind for phrase in sentence.phrases]
    return kinds.count("needle") > 1 and set(kinds) <= {"needle", "gauge", "weight", "name"}


def _list_against_list(sentence: Sentence) -> bool:
    """``are 8 (9, 10) balls enough for 940 (1050, 1250) m?``: skeins and a length for each size, of one yarn."""
    amounts = [p for p in sentence.phrases if p.kind in ("count", "times", "length", "mass", "named")]
    yarns = {str(phrase.value) for phrase in sentence.phrases if phrase.kind in ("weight", "name")}
    if [phrase.kind for phrase in amounts] != ["count", "length"] or len(yarns) > 1:
        return False
    counts, lengths = (phrase.value.values for phrase in amounts)
    return len(counts) == len(lengths) > 1


def _asks_of_a_weight(sentence: Sentence) -> bool:
    """``is 437 yd in 100 g fingering?``, ``28 sts to 4 in. What's that, fingering?``: what may be of a weight."""
    told = sorted(phrase.kind for phrase in sentence.phrases)
    weight = next((phrase for phrase in sentence.phrases if phrase.kind == "weight"), None)
    lead = [sentence.lower_at(at) for at in range(weight.first - 2, weight.first)] if weight else []
    pointed = lead[:1] == ["is"] and lead[1:] in (["that"], ["it"], ["this"])  # 50 g = 125 m, is that dk?
    opens = sentence.lower_at(0) in ("is", "are", "would", "does")
    named = lead in (["that", ","], ["it", ","], ["this", ","])
    asks = (opens or pointed or named) and sentence.text.rstrip().endswith("?")
    clue = told in (["putup", "weight"], ["gauge", "weight"])
    return asks and clue and not sentence.said("ask.enough", "ask.measure", "ask.how_many")


def _asks_how_many(sentence: Sentence) -> bool:
    """``how many would cover it?``: what is enough is asked for, and no skeins are told that might be."""
    if not sentence.said("ask.enough") or not sentence.said("ask.how_many", "ask.skeins"):
        return False
    counted = [phrase for phrase in sentence.phrases if phrase.kind in ("count", "times", "mass")]
    asks = [cue for cue in sentence.cues if cue.kind == "ask.how_many"]
    asked = [cue for cue in sentence.cues if cue.kind == "ask.enough" and sentence.lower_at(cue.first) == "cover"]
    covers = any(one.last <= two.first and not sentence.parted(one.last, two.first) for one in asks for two in asked)
    ends = {cue.first for cue in sentence.cues if cue.kind == "ask.enough"}
    asked_of = any(p.kind == "num" and not ends.isdisjoint((p.last, p.last + 1)) for p in sentence.phrases)
    told = bool(counted or asked_of) and not covers
    more = any(token.lower in ("more", "short", "left") for token in sentence.tokens)
    return not told and not more and not sentence.said("have.before", "have.after", "have.more", "ask.progress")


def _nothing_told_twice(sentence: Sentence) -> bool:
    """``quick sanity check, 1375 yards and 219 yards per skein, how many?``: nothing there is to agree."""
    told = [phrase for phrase in sentence.phrases if phrase.kind not in ("weight", "name", "price", "num")]
    gauges = [phrase for phrase in told if phrase.kind == "gauge"]
    told = [phrase for phrase in told if phrase not in gauges] if len(gauges) == _OF_EACH_SIDE else told
    plain = sorted(phrase.kind for phrase in told) == ["length", "putup"]
    asked = sentence.said("ask.how_many", "ask.skeins", "ask.cost")
    return asked and plain and all(p.kind == "length" or not p.value.other_length for p in told)


_OF_EACH_SIDE = 2


def _nothing_asked_enough(sentence: Sentence) -> bool:
    """Whether what sounds like asking if it is enough asks for something else."""
    others = (_asks_how_many, _asks_of_another, _asks_in_another, _asks_its_measure, _of_the_pattern_she_has)
    return sentence.said("ask.enough") and any(asks(sentence) for asks in others)


def _of_the_pattern_she_has(sentence: Sentence) -> bool:
    """``from the pattern I have on my desk: …``: a pattern, of which there is nothing to be enough of."""
    nouns = {cue.first for cue in sentence.cues if cue.kind == "pattern.noun"}
    asked = [cue for cue in sentence.cues if cue.kind == "ask.enough"]
    return all(nouns & set(range(cue.first, cue.last)) for cue in asked)


def _of_a_size_in_another(sentence: Sentence, cue: Cue) -> bool:
    """``I'm only proofing size III. In DK that's what?``: one size, of which the amount in another yarn is asked."""
    size = next((p for p in sentence.phrases if p.kind == "size" and p.first == cue.last), None)
    yarns = [p for p in sentence.phrases if p.kind in ("weight", "name")]
    led = {other.last for other in sentence.cues if other.kind == "yarn.in"}
    return size is not None and any(p.first >= size.last and p.first in led for p in yarns[1:])


def _asks_what_another_takes(sentence: Sentence, check: Cue) -> bool:
    """``Proofing a book: 4 balls of Fell DK. What would it take in an aran, 170 m?``: of another yarn."""
    yarns = [p for p in sentence.phrases if p.kind in ("weight", "name")]
    led = {other.last for other in sentence.cues if other.kind == "yarn.in"}
    asked = yarns[-1] if len({str(yarn.value) for yarn in yarns}) > 1 and sentence.text.rstrip().endswith("?") else None
    if asked is None or not {asked.first, asked.first - (sentence.kind_at(asked.first - 1) == "ARTICLE")} & led:
        return False
    wound = any(p.kind == "putup" and 0 <= p.first - asked.last <= 1 for p in sentence.phrases)
    return wound and check.last <= yarns[0].first and sentence.said("pattern.verb", "ask.how_many", "ask.skeins")


def _advised_so_many(sentence: Sentence) -> bool:
    """``they've told me to get 8 balls of DK. Is that right?``: so many skeins, and one length that they are for."""
    counted = [p for p in sentence.phrases if p.kind in ("count", "times")]
    lengths = [p for p in sentence.phrases if p.kind == "length"]
    ends = {cue.last for cue in sentence.cues if cue.kind == "have.advised"}
    return len(counted) == len(lengths) == 1 and counted[0].first in ends


def _asks_in_another(sentence: Sentence) -> bool:
    """``6 (7, 8) balls of DK … can I knit this in aran?``: what it takes in another yarn, of which none is told."""
    asked = [cue for cue in sentence.cues if cue.kind == "ask.enough"]
    weights = {phrase.first for phrase in sentence.phrases if phrase.kind in ("weight", "name")}
    ends = {cue: cue.last + (sentence.lower_at(cue.last) in word_list("the_work")) for cue in asked}
    starts = {end: end + 1 + (sentence.kind_at(end + 1) == "ARTICLE") for end in ends.values()}
    led = [cue for cue, end in ends.items() if sentence.kind_at(end) == "IN" and starts[end] in weights]
    counted = [p for p in sentence.phrases if p.kind in ("count", "length", "mass", "times")]
    told = bool(counted) and all(p.last <= cue.first for p in counted for cue in led)
    return bool(led) and len(led) == len(asked) and told and not sentence.said("have.before", "have.after")


def _asks_of_another(sentence: Sentence) -> bool:
    """``1 skein of worsted. Will fingering do? How many yards``: another yarn, of which none is told to be there."""
    asked = [cue for cue in sentence.cues if cue.kind == "ask.enough"]
    yarns = [phrase for phrase in sentence.phrases if phrase.kind in ("weight", "name")]
    ends = {cue: cue.last + (sentence.kind_at(cue.last) == "ARTICLE") for cue in asked}
    of_it = [next((p for p in yarns if cue.first < p.first <= ends[cue]), None) for cue in asked]
    counted = [p for p in sentence.phrases if p.kind in ("count", "times", "mass")]
    hers = any(yarn is None or p.first >= yarn.first for p in counted for yarn in of_it)
    another = all(yarn is not None and yarn.value != yarns[0].value for yarn in of_it)
    return another and not hers and sentence.said("ask.how_many", "ask.measure", "ask.skeins")


def _asks_its_measure(sentence: Sentence) -> bool:
    """``37 g left of a 420 m/100 g skein: how much is that?``: what is weighed and its label, and no need."""
    told = sorted(phrase.kind for phrase in sentence.phrases if phrase.kind not in ("weight", "name"))
    asked = [cue for cue in sentence.cues if cue.kind == "ask.enough"]
    said = [{sentence.lower_at(at) for at in range(cue.first, cue.last)} for cue in asked]
    of_the_rest = all(words & {"left", "possible"} for words in said)
    return sentence.said("ask.measure") and told == ["mass", "putup"] and of_the_rest


def _asks_what_is_over(sentence: Sentence) -> bool:
    """``2 skeins of 420 yds. The shawl needs 780 yds. How much is left over?``: of skeins beside what is needed."""
    if not sentence.said("rest.left") or sentence.said("ask.enough", "ask.progress", "used.before", "used.after"):
        return False
    counted = [phrase for phrase in sentence.phrases if phrase.kind in ("count", "times")]
    verbs = {cue.last for cue in sentence.cues if cue.kind == "pattern.verb"}
    needed = [p for p in sentence.phrases if p.kind in ("length", "num") and p.first in verbs]
    return len(counted) == len(needed) == 1


def _asks_if_it_fits(sentence: Sentence) -> bool:
    """``does a 1400 yd shawl fit in 3 skeins?``, ``can I do a 1000 yd shawl with 4 skeins?``: a need, and skeins."""
    opens = sentence.lower_at(0) in _ASKS_YES_OR_NO and sentence.text.rstrip().endswith("?")
    if not opens or sentence.said("ask.how_many", "ask.skeins", "ask.measure", "ask.enough", "ask.compare"):
        return False
    lengths = [phrase for phrase in sentence.phrases if phrase.kind == "length"]
    counted = [phrase for phrase in sentence.phrases if phrase.kind in ("count", "times")]
    if len(lengths) != 1 or len(counted) != 1 or counted[0].first < lengths[0].last:
        return False
    things = (cue.first for cue in sentence.cues if cue.kind in ("pattern.thing", "pattern.noun"))
    between = range(lengths[0].last, counted[0].first)
    link = sentence.lower_at(counted[0].first - 1)
    return link in ("in", "with", "from", "of") and any(at in between for at in things)


_ASKS_YES_OR_NO = frozenset({"does", "do", "can", "could", "will", "would"})


def _either_name(sentence: Sentence) -> bool:
    """``Plover DK or Tern Sock for 900 m of DK?``: two yarns by name, one or the other."""
    names = [phrase for phrase in sentence.phrases if phrase.kind == "name"]
    return any(
        [sentence.kind_at(at) for at in range(one.last, two.first)] == ["OR"]
        for one, two in itertools.pairwise(names)
        if one.value != two.value
    )


def _held_with_each_other(sentence: Sentence) -> bool:
    """``if I hold a 400 m/100 g yarn and a 300 m/100 g yarn together``, ``combining lace and DK``: with no pattern."""
    holding = [at for at, token in enumerate(sentence.tokens) if token.lower in ("hold", "holding", "held")]
    if sentence.said("ask.identify") and any(sentence.lower_at(at + 1) == "with" for at in holding):
        kinds = [phrase.kind for phrase in sentence.phrases]
        return max(kinds.count("putup"), kinds.count("weight")) > 1 and not _NEEDED.intersection(kinds)
    together = [at for at, token in enumerate(sentence.tokens) if token.lower == "together"]
    if not holding or not together or sentence.parted(holding[0], together[-1]):
        holding = [at for at, token in enumerate(sentence.tokens) if token.lower in word_list("combining")]
    if not holding:
        return False
    between = [p for p in sentence.phrases if holding[0] < p.first and not sentence.parted(holding[0], p.first)]
    told = sum(p.kind == "weight" for p in between), sum(p.kind == "putup" for p in between)
    return max(told) > 1 and not _NEEDED.intersection(p.kind for p in sentence.phrases)


_NEEDED = frozenset({"length", "count", "times", "named"})


def _only_polite(sentence: Sentence) -> None:
    """``Hi, hope you can help. …``: a plea in a text that goes on asks for no help about this program."""
    if len(sentence.tokens) > _A_PLEA:
        sentence.unsay("ask.help_please")


_A_PLEA = 8


def _of_the_reader(sentence: Sentence) -> None:
    """``Reader's letter: she gets 22 sts in a DK``: she is the one who knits, and no designer."""
    reader = next((at for at, token in enumerate(sentence.tokens) if token.lower in word_list("readers")), None)
    hers = [
        cue
        for cue in sentence.cues
        if cue.kind == "pattern.verb" and sentence.lower_at(cue.first) in ("she", "he", "they")
    ]
    for cue in hers if reader is not None else ():
        if reader is not None and reader < cue.first:
            sentence.cues.remove(cue)
            sentence.mark("yarn.have", cue.first, cue.last)


_LATER = (
    _only_polite,
    _of_the_reader,
    _of_an_amount,
    _weight_or_mass,
    _or_another,
    _of_the_question,
    _wants_colours,
    _gauge_not_kept,
    _of_the_same_weight,
    _down_to_what_is_left,
)
"""Each adds or takes away cues, in this order."""
