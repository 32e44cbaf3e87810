"""What only a choice between yarns needs read: letters that name them, bare prices, a name right before its ply."""

from __future__ import annotations

import re

from yarnchat.language.lexicon import load, vocabulary, word_list
from yarnchat.language.phrases import Phrase
from yarnchat.language.sentence import Sentence
from yarnchat.queries import Price

_CAPITAL = re.compile(r"[^A-Za-z]*[A-Z]")
_LETTER = re.compile(r"[A-F]$")


def mark_candidates(sentence: Sentence) -> None:
    """The names and prices of candidates made phrases."""
    _before_a_ply(sentence)
    if len(_lettered(sentence)) > 1 and not any(p.kind in ("count", "times") for p in sentence.phrases):
        sentence.mark("ask.compare")
    if sentence.said("ask.compare"):
        _letters(sentence)
        _single_names(sentence)
        _bare_prices(sentence)


def _before_a_ply(sentence: Sentence) -> None:
    """``Wirrimbla 8 Ply``: a word nobody knows with a capital, right before a weight that has one too."""
    found = []
    for phrase in sentence.phrases:
        at = phrase.first - 1
        capital = phrase.kind == "weight" and bool(_CAPITAL.match(sentence.words(phrase)))
        capital = capital or (phrase.kind == "weight" and sentence.said("ask.compare"))  # Heron DK and Plover worsted
        if not capital or not _names_one(sentence, at):
            continue
        if not any(cue.first <= at < cue.last for cue in sentence.cues):
            found.append(Phrase("name", at, phrase.first, sentence.tokens[at].text))
    sentence.phrases += found
    sentence.phrases.sort(key=lambda phrase: phrase.first)


def _letters(sentence: Sentence) -> None:
    """``A 100g/200yd at £11, B 50g/115yd at £6.20``: letters, each before a put-up of its own."""
    found = _lettered(sentence)
    if len(found) < 2:
        return
    sentence.phrases += [Phrase("name", at, at + 1, said, flags=frozenset({"letter"})) for said, at in found.items()]
    sentence.phrases.sort(key=lambda phrase: phrase.first)


def _lettered(sentence: Sentence) -> dict[str, int]:
    """The letters that stand before a put-up, no colour's, each with its place."""
    starts = {phrase.first for phrase in sentence.phrases if phrase.kind == "putup"}
    return {
        token.text: at
        for at, token in enumerate(sentence.tokens)
        if _LETTER.match(token.text)
        and sentence.lower_at(at - 1) not in word_list("colour_nouns")
        and (at + 1 in starts or (at + 2 in starts and sentence.kind_at(at + 1) in ("COLON", "EQ", "DASH", "RPAR")))
    }


def _single_names(sentence: Sentence) -> None:
    """``Tansy 50g/90m or Oldmere 100g/200m``: words nobody knows with a capital, each before a put-up of its own.

    Those whose names were seen before, as ``Fennel Lane`` is by its two capitals, may stand beside them.
    """
    wound = [phrase for phrase in sentence.phrases if phrase.kind == "putup" and phrase.value.length]
    wound = wound or _in_brackets(sentence) or _priced(sentence)
    before = [_where_its_name_ends(sentence, phrase) for phrase in wound]
    seen = {phrase.last - 1 for phrase in sentence.phrases if phrase.kind == "name"}
    named = [at for at in before if at not in seen and _names_one(sentence, at)]
    if len(wound) < 2 or not named or any(at not in seen and at not in named for at in before):
        return
    sentence.phrases += [Phrase("name", at, at + 1, sentence.tokens[at].text) for at in named]
    sentence.phrases.sort(key=lambda phrase: phrase.first)


def _where_its_name_ends(sentence: Sentence, wound: Phrase) -> int:
    """The token before a put-up that a name would end with: ``Tansy (50 g``, ``Tansy is 120 m``."""
    return wound.first - 1 - (sentence.kind_at(wound.first - 1) in ("LPAR", "HOLD"))


def _in_brackets(sentence: Sentence) -> list[Phrase]:
    """``Cobble (50 g, 90 m), Lintel (100 g, 175 m)``: masses that open a bracket."""
    return [p for p in sentence.phrases if p.kind in ("mass", "length") and sentence.kind_at(p.first - 1) == "LPAR"]


def _priced(sentence: Sentence) -> list[Phrase]:
    """``Tansy is 120 m at £4.50``: lengths right before a price."""
    prices = {phrase.first for phrase in sentence.phrases if phrase.kind == "price"}
    return [p for p in sentence.phrases if p.kind == "length" and prices & {p.last, p.last + 1}]


def _names_one(sentence: Sentence, at: int) -> bool:
    """Whether a word may be the name of a yarn by itself: a capital, and in no vocabulary."""
    token = sentence.tokens[at] if at >= 0 else None
    if token is None or token.kind != "WORD" or not token.text[0].isupper() or len(token.text) < _A_NAME:
        return False
    return token.lower not in load("openers.toml")["openers"] and token.lower not in vocabulary()


_A_NAME = 3


def _bare_prices(sentence: Sentence) -> None:
    """``50g/125m at 4.95``: a number after a put-up and a word for what it costs, where every put-up has one."""
    wound = [phrase for phrase in sentence.phrases if phrase.kind == "putup"]
    ends = {phrase.last + 1 for phrase in wound if sentence.lower_at(phrase.last) in word_list("costing")}
    bare = [phrase for phrase in sentence.phrases if phrase.kind == "num" and phrase.first in ends]
    if len(wound) < 2 or len(bare) != len(wound):
        return
    for phrase in bare:
        if len(phrase.value.values) == 1:
            phrase.kind, phrase.value = "price", Price(phrase.value.values[0], "")
