"""Needles: a size in millimetres told beside another system, a size whose system stands elsewhere."""

from __future__ import annotations

import itertools
from dataclasses import replace

from yarnchat.language.phrases import Phrase
from yarnchat.language.sentence import Sentence
from yarnchat.quantity import Quantity
from yarnchat.queries import Needle

_SAYS_AGAIN = frozenset({"LPAR", "SLASH", "EQ", "COMMA", "OR", "DASH"})
"""What may stand between two sayings of one size."""


_LEADS = frozenset({"TO", "ARTICLE", "ON", "WITH", "THE"})
"""What stands right before the other needle."""


def needle_sizes(sentence: Sentence) -> None:
    """A millimetre size beside a needle size is that needle told again: ``US 8 (5 mm)``, ``4 mm (old UK 10)``."""
    _knitted_on(sentence)
    if not any(phrase.kind in ("needle", "small", "size", "num") for phrase in sentence.phrases):
        return
    for one, two in itertools.pairwise(sentence.phrases):
        if {one.kind, two.kind} != {"needle", "small"}:
            continue
        if not {sentence.kind_at(i) for i in range(one.last, two.first)} <= _SAYS_AGAIN:
            continue
        small = one if one.kind == "small" else two
        if small.value.unit == "mm":
            _to_needle(small)
    _of_one_system(sentence)
    if any(phrase.kind == "needle" for phrase in sentence.phrases):
        for phrase in sentence.phrases:  # sport on 3.5 mm needles, I'd go up to a 4 mm
            instead = [sentence.lower_at(at) for at in range(phrase.first - 2, phrase.first)] == ["instead", "of"]
            led = instead or sentence.kind_at(phrase.first - 1) in _LEADS
            if phrase.kind == "small" and phrase.value.unit == "mm" and led:
                _to_needle(phrase)
        return
    _numbered_needle(sentence)
    alone = [phrase.kind for phrase in sentence.phrases] == ["small"]
    if alone and sentence.said("ask.identify") and sentence.phrases[0].value.unit == "mm":
        _to_needle(sentence.phrases[0])  # they recommend 4 mm for it: thickness?
    for phrase in sentence.phrases:  # 4 mm on the needle picture
        near = range(max(0, phrase.first - 5), min(len(sentence.tokens), phrase.last + 6))
        beside = any(sentence.kind_at(i) == "NEEDLE" for i in near) or _line_of_its_own(sentence, phrase)
        if phrase.kind == "small" and phrase.value.unit == "mm" and beside:
            _to_needle(phrase)


def _knitted_on(sentence: Sentence) -> None:
    """``22 sts on 4mm``, ``20 sts on 5 mm needles over 10 cm``: a number of stitches, and the needle they are on."""
    for gauge in [phrase for phrase in sentence.phrases if phrase.kind == "gauge"]:
        on = next((at for at in range(gauge.first, gauge.last) if sentence.kind_at(at) == "ON"), None)
        if on is None or gauge.value.over.unit != "mm":
            continue
        end = gauge.last + (sentence.kind_at(gauge.last) == "NEEDLE")
        needle = Phrase("needle", on + 1, end, Needle(f"{gauge.value.over.value:g}", "mm"))
        led = sentence.kind_at(end) in ("OVER", "TO", "PER", "IN")
        over = next((p for p in sentence.phrases if led and p.kind == "small" and p.first == end + 1), None)
        gauge.value = replace(gauge.value, over=over.value if over else Quantity(4, "in"), other_over=None)
        gauge.last, gauge.flags = on, frozenset() if over else frozenset({"bare"})
        sentence.phrases.insert(sentence.phrases.index(gauge) + 1, needle)
        if over:
            needle.last = over.last
            sentence.phrases.remove(over)


def _line_of_its_own(sentence: Sentence, phrase: Phrase) -> bool:
    """Whether a label's line holds a size in millimetres and nothing else: that of its needle."""
    return sentence.kind_at(phrase.first - 1) == sentence.kind_at(phrase.last) == "NEWLINE"


def _to_needle(phrase: Phrase) -> None:
    """A measure in millimetres made a needle's size."""
    phrase.kind, phrase.value = "needle", Needle(f"{phrase.value.value:g}", "mm")


def _of_one_system(sentence: Sentence) -> None:
    """``No. 9 needles``, on ``an old UK gauge plate``: the only system told is that of a size told without one."""
    systems = sentence.needle_systems()
    sizes = [phrase for phrase in sentence.phrases if phrase.kind == "needle"]
    if len(systems) != 1 or len(sizes) != 1 or sizes[0].value.system:
        return
    at = sizes[0].first - 1
    minus = sentence.kind_at(at) == "DASH" and at > 0 and sentence.tokens[at].start > sentence.tokens[at - 1].end
    if not minus:
        sizes[0].value = replace(sizes[0].value, system=systems.pop())


def _speaks_of_needles(sentence: Sentence) -> bool:
    """Whether needles are named, or a size is told in millimetres: ``the old UK size, a 9. What's that in mm?``."""
    sized = any(token.kind == "SIZE" for token in sentence.tokens) and any(t.lower == "mm" for t in sentence.tokens)
    return sized or any(token.kind == "NEEDLE" for token in sentence.tokens)


def _numbered_needle(sentence: Sentence) -> None:
    """``a size 8, old UK numbering: how many mm?``: with nothing of a yarn said, such a size is a needle's."""
    systems = sentence.needle_systems(told=True) or sentence.needle_systems()
    alone = len(sentence.phrases) == 1 and sentence.phrases[0].kind == "size"
    stamped = len(sentence.phrases) == 1 and sentence.phrases[0].kind == "num" and _speaks_of_needles(sentence)
    if stamped and len(systems) == 1 and sentence.said("ask.convert"):
        number = sentence.phrases[0]  # gran's needles are stamped 00, old English size
        number.kind, number.value = "needle", Needle(sentence.words(number), systems.pop())
        return
    if alone and len(systems) == 1 and sentence.said("ask.convert") and not sentence.said("pattern.thing"):
        size = sentence.phrases[0]
        size.kind, size.value = "needle", Needle(str(size.value), systems.pop())
