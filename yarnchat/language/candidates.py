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
    if sentence.said("ask.compare"):
        _letters(sentence)
        _bare_prices(sentence)


def _before_a_ply(sentence: Sentence) -> None:
    """``Wirrimbla 8 Ply``: a word nobody knows with a capital, right before a weight that has one too."""
    found = []
    for phrase in sentence.phrases:
        word = sentence.tokens[phrase.first - 1] if phrase.first else None
        capital = phrase.kind == "weight" and bool(_CAPITAL.match(sentence.words(phrase)))
        if not word or not capital or word.kind != "WORD" or not word.text[0].isupper() or len(word.text) < 3:
            continue
        if word.lower in load("openers.toml")["openers"] or word.lower in vocabulary():
            continue
        if not any(cue.first <= phrase.first - 1 < cue.last for cue in sentence.cues):
            found.append(Phrase("name", phrase.first - 1, phrase.first, word.text))
    sentence.phrases += found
    sentence.phrases.sort(key=lambda phrase: phrase.first)


def _letters(sentence: Sentence) -> None:
    """``A 100g/200yd at £11, B 50g/115yd at £6.20``: letters, each before a put-up of its own."""
    starts = {phrase.first for phrase in sentence.phrases if phrase.kind == "putup"}
    found = [
        Phrase("name", at, at + 1, token.text, flags=frozenset({"letter"}))
        for at, token in enumerate(sentence.tokens)
        if _LETTER.match(token.text)
        and sentence.lower_at(at - 1) not in word_list("colour_nouns")
        and (at + 1 in starts or (at + 2 in starts and sentence.kind_at(at + 1) in ("COLON", "EQ", "DASH", "RPAR")))
    ]
    if len({phrase.value for phrase in found}) < 2:
        return
    sentence.phrases += found
    sentence.phrases.sort(key=lambda phrase: phrase.first)


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
