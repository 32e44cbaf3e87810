"""A weight class told by its number: a yarn symbol with a 3 on it, number 4 yarn, medium (4)."""

from __future__ import annotations

from yarnchat.knowledge.classes import WeightClass, class_by_number, classes_named
from yarnchat.language.lexicon import load, word_list
from yarnchat.language.phrases import Phrase
from yarnchat.language.sentence import Sentence


def in_a_symbol(sentence: Sentence) -> None:
    """``a yarn symbol with a 3 on it``, ``number 4 yarn``: the number of a weight class, as labels print it."""
    if all(phrase.kind != "num" for phrase in sentence.phrases):
        return
    for phrase in sentence.phrases:
        if phrase.kind == "num" and _numbers_a_yarn(sentence, phrase):
            _to_class(phrase)
    printed = word_list("symbols")
    symbols = [at for at, token in enumerate(sentence.tokens) if token.lower in printed]
    for phrase in sentence.phrases if symbols else ():
        if phrase.kind != "num":
            continue
        if not any(abs(at - phrase.first) <= 5 and not sentence.parted(*sorted((at, phrase.first))) for at in symbols):
            continue
        _to_class(phrase)
    if symbols:
        _another_by_its_number(sentence)


def _another_by_its_number(sentence: Sentence) -> None:
    """``a number 5 yarn symbol … the shop mostly stocks number 4``: beside one told by its symbol, another."""
    if not any(phrase.kind == "weight" and phrase.value[1].startswith("class ") for phrase in sentence.phrases):
        return
    for phrase in sentence.phrases:
        if phrase.kind == "num" and sentence.lower_at(phrase.first - 1) in ("number", "#", "no"):
            _to_class(phrase)


def _numbers_a_yarn(sentence: Sentence, phrase: Phrase) -> bool:
    """``number 4 yarn``, ``#4 pattern``, ``level 3 yarn``, ``mine is #3 at 250 yd/100g``: of a class by its number."""
    mark = phrase.first - 1
    if sentence.kind_at(mark) != "HASH" and sentence.lower_at(mark) != "level":
        return False
    led = sentence.lower_at(mark - 1) in word_list("leads_to_yarn") or sentence.kind_at(mark - 1) == "ARTICLE"
    of_hers = sentence.lower_at(mark) == "#" and led
    behind = (other for other in sentence.phrases if 0 <= other.first - phrase.last <= 1)
    labelled = any(other.kind in ("putup", "length", "weight") for other in behind)  # a #4, 200 yds a skein
    return sentence.lower_at(phrase.last) in word_list("numbered_yarns") or (of_hers and labelled)


def numbered_weight(sentence: Sentence) -> None:
    """``medium (4) yarn``, ``DK #3``, ``light 3``: the number of a weight class beside its name."""
    everyday = load("words.toml")["everyday"]["names"]
    weights = {phrase.last: phrase for phrase in sentence.phrases if phrase.kind == "weight"}
    for phrase in [phrase for phrase in sentence.phrases if phrase.kind == "num"]:
        bracketed = sentence.kind_at(phrase.first) == "LPAR" or sentence.kind_at(phrase.first - 1) == "LPAR"
        at = phrase.first - 1 - (bracketed and sentence.kind_at(phrase.first) != "LPAR")
        found = _class_of(phrase)
        if found is None:
            continue
        named = weights.get(at + 1)
        if named is not None and bracketed and found.key in named.value[0]:
            named.last = phrase.last
            sentence.phrases.remove(phrase)
        elif sentence.lower_at(at) in everyday and found in classes_named(sentence.lower_at(at)):
            phrase.kind, phrase.value, phrase.first = "weight", ((found.key,), sentence.lower_at(at)), at


def _to_class(phrase: Phrase) -> None:
    """A lone number made the weight class of that number, where there is one."""
    if found := _class_of(phrase):
        phrase.kind, phrase.value = "weight", ((found.key,), f"class {phrase.value.values[0]:g}")


def _class_of(phrase: Phrase) -> WeightClass | None:
    """The weight class of a lone number, or None."""
    number = phrase.value.values[0]
    return class_by_number(int(number)) if len(phrase.value.values) == 1 and number in range(8) else None
