"""Skeins that are no longer whole, each told by what is left on it: a part ball weighing 31 g, 63 g of a third hank."""

from __future__ import annotations

from yarnchat.language.lexicon import load, word_list
from yarnchat.language.phrases import Phrase
from yarnchat.language.sentence import Sentence
from yarnchat.queries import Series


def opened_skeins(sentence: Sentence) -> None:
    """``plus a part ball weighing 31 g``, ``a 64 g part skein``, ``2 hanks and 63 g of a third``: an amount of hers."""
    for phrase in sentence.phrases:
        amount = _one_amount(phrase)
        if amount is None:
            continue
        first = _where_it_opens(sentence, phrase)
        if first is None or _used(sentence, first) or _as_labelled(sentence, phrase, amount):
            continue
        phrase.kind = "mass" if phrase.kind == "mass" or _weighed(phrase) else "length"
        phrase.value, phrase.first, phrase.flags = amount, first, frozenset({"amount", "hers"})
    for phrase in [p for p in sentence.phrases if p.kind in ("mass", "length")]:
        if _of_one_more(sentence, phrase):
            phrase.last, phrase.flags = phrase.last + _OF_A_THIRD, frozenset({"amount", "hers"})


def _one_amount(phrase: Phrase) -> Series | None:
    """The one mass or length that a phrase tells, of a skein or by itself."""
    if phrase.kind in ("mass", "length") and len(phrase.value.values) == 1:
        told: Series = phrase.value
        return told
    if phrase.kind != "putup" or (phrase.value.length and phrase.value.mass):
        return None
    one = phrase.value.mass or phrase.value.length
    return Series((one.value,), one.unit)


def _used(sentence: Sentence, at: int) -> bool:
    """``used a part ball of 31 g``: gone, and not there."""
    return any(cue.kind == "used.before" and 0 <= at - cue.last <= 1 for cue in sentence.cues)


def _as_labelled(sentence: Sentence, phrase: Phrase, amount: Series) -> bool:
    """``a started ball of 50 g, 120 m/50 g``: what it weighed when it was whole, or one amount told in two units."""
    labels = [p.value.mass for p in sentence.phrases if p.kind == "putup" and p is not phrase and p.value.mass]
    whole = any(amount.unit == mass.unit and amount.values[0] == mass.value for mass in labels)
    again = sentence.kind_at(phrase.last) == "LPAR" and sentence.kind_at(phrase.last + 2) in ("MASS", "LEN")
    return whole or again


def _weighed(phrase: Phrase) -> bool:
    return phrase.kind == "putup" and phrase.value.mass is not None


def _where_it_opens(sentence: Sentence, phrase: Phrase) -> int | None:
    """Where the words begin that call a skein opened, before an amount or behind it; None where none do."""
    if sentence.lower_at(phrase.last) in word_list("opened") and _one_skein(sentence, phrase.last + 1):
        return phrase.first
    number = next(at for at in range(phrase.first, phrase.last) if sentence.kind_at(at) in ("NUM", "ARTICLE"))
    at = number - 1
    while sentence.kind_at(at) in _LINKS or sentence.lower_at(at) in word_list("weighing"):
        at -= 1
    if not _one_skein(sentence, at) and sentence.lower_at(at) != "one":
        return None
    at -= 1
    while sentence.lower_at(at) in word_list("opened_beside") or sentence.kind_at(at) == "DASH":
        at -= 1
    return at if sentence.lower_at(at) in word_list("opened") else None


def _one_skein(sentence: Sentence, at: int) -> bool:
    """Whether one skein is named at a place, and not several of them."""
    return sentence.kind_at(at) == "SKEIN" and not sentence.lower_at(at).endswith("s")


_LINKS = frozenset({"HOLD", "OF", "COMMA", "AT", "WITH", "LPAR", "COLON", "DASH"})
_OF_A_THIRD = 3


def _of_one_more(sentence: Sentence, phrase: Phrase) -> bool:
    """``2 whole hanks plus 63 g of a third``: of the skein that comes next behind those counted."""
    counted = sentence.last_before(phrase.first, "count")
    behind = [sentence.kind_at(at) for at in range(phrase.last, phrase.last + _OF_A_THIRD)]
    if counted is None or len(counted.value.values) != 1 or behind != ["OF", "ARTICLE", "ORDINAL"]:
        return False
    place = load("words.toml")["ordinals"].get(sentence.lower_at(phrase.last + 2))
    return bool(place == counted.value.values[0] + 1)
