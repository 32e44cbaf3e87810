"""Misspelt trade words read as their nearest, and said so; where two are near, neither."""

from __future__ import annotations

from functools import cache

from yarnchat.language.lexicon import load, vocabulary
from yarnchat.language.sentence import Sentence, lay_out

MIN_LETTERS = 5
MAX_LETTERS = 24
_REPAIRED = ("CLASS", "SKEIN", "LEN", "MASS", "STS", "GAUGE", "NEEDLE", "STRAND")


def repaired(sentence: Sentence) -> tuple[Sentence, list[str]]:
    """The question with misspelt trade words put right, and a note for each."""
    notes: list[str] = []
    text = sentence.text
    for at, token in reversed(list(enumerate(sentence.tokens))):
        if token.kind != "WORD" or not MIN_LETTERS <= len(token.text) <= MAX_LETTERS or token.lower in _known():
            continue
        near = _nearest(token.lower)
        if near is None or (vocabulary()[near][0].kind in ("LEN", "MASS") and sentence.kind_at(at - 1) != "NUM"):
            continue
        notes.insert(0, f"read “{token.text}” as {near}")
        text = text[: token.start] + near + text[token.end :]
    return (lay_out(text), notes) if notes else (sentence, [])


@cache
def _known() -> frozenset[str]:
    words = {
        word for rows in load("cues.toml").values() for says in rows.values() for say in says for word in say.split()
    }
    return frozenset(
        words | set(load("repair.toml")["never"]) | set(load("openers.toml")["openers"]) | set(vocabulary())
    )


@cache
def _targets() -> tuple[str, ...]:
    return tuple(
        word
        for word, rows in vocabulary().items()
        if len(word) >= MIN_LETTERS and any(r.kind in _REPAIRED and len(r.words) == 1 for r in rows)
    )


def _nearest(word: str) -> str | None:
    """The one trade word a single edit away (or two letters swapped), same first letter; None where none or several."""
    from rapidfuzz.distance import OSA

    near = [target for target in _targets() if target[0] == word[0] and OSA.distance(word, target, score_cutoff=1) <= 1]
    kinds = {(vocabulary()[target][0].kind, vocabulary()[target][0].value) for target in near}
    if not near:
        return None
    if len({(kind, value) if kind in ("CLASS", "LEN", "MASS") else kind for kind, value in kinds}) > 1:
        return None
    return near[0]
