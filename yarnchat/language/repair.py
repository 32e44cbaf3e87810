"""Misspelt trade words read as their nearest, and said so; where two are near, neither."""

from __future__ import annotations

from functools import cache

from yarnchat.language.labels import LABEL
from yarnchat.language.lexicon import load, vocabulary
from yarnchat.language.notes import names_a_file
from yarnchat.language.scan import NO_NAMES, Names
from yarnchat.language.sentence import Sentence, lay_out

MIN_LETTERS = 5
LEAST_BEFORE_WEIGHT = 4
"""A word of so many letters that stands before ``weight`` may be a slip for a class, though too short to mend."""
MAX_LETTERS = 24
_REPAIRED = ("CLASS", "SKEIN", "LEN", "MASS", "STS", "GAUGE", "NEEDLE", "STRAND")


Doubt = tuple[str, str | None, str]
"""A word that seems to be a weight and is none we know, the nearest weight, and the question with that in it."""


def repaired(sentence: Sentence, names: Names = NO_NAMES) -> tuple[Sentence, list[str], Doubt | None]:
    """The question with misspelt trade words put right, a note for each, and the first word that leaves a doubt."""
    if names_a_file(sentence.text):  # to the letter
        return sentence, [], None
    doubt: Doubt | None = None
    notes: list[str] = []
    text, known = sentence.text, _known()
    for at, token in reversed(list(enumerate(sentence.tokens))):
        if token.kind != "WORD" or len(token.text) > MAX_LETTERS or token.lower in known:
            continue
        least = LEAST_BEFORE_WEIGHT if sentence.lower_at(at + 1) == "weight" else MIN_LETTERS
        near = load("repair.toml")["slips"].get(token.text)
        told = _told_of_a_length(sentence, at) or _short_for_a_weight(sentence, at)
        if len(token.text) < least and near is None and not told:
            continue
        if near is None and len(token.text) >= MIN_LETTERS:
            near = _nearest(token.lower) or _begins_a_weight(token.lower, sentence.lower_at(at + 1))
        if near is None and (told or _where_a_weight_stands(sentence, at)):
            guess = _guess(token.lower)
            if told or guess or sentence.lower_at(at + 1) == "weight":
                doubt = (token.text, guess, text[: token.start] + (guess or token.text) + text[token.end :])
        if near is None or (_is_unit(near) and sentence.kind_at(at - 1) != "NUM"):
            continue
        notes.insert(0, f"read “{token.text}” as {near}")
        text = text[: token.start] + near + text[token.end :]
    return (lay_out(text, names) if notes else sentence), notes, doubt


_BEFORE_A_WEIGHT = frozenset({"OF", "IN", "TO", "ARTICLE"})


def _where_a_weight_stands(sentence: Sentence, at: int) -> bool:
    """``balls of X (210 yd)``, ``X weight``, ``in X, 240 yd``: only a weight of yarn would stand there."""
    after = sentence.kind_at(at + 1)
    named = sentence.lower_at(at + 1) == "weight" and sentence.kind_at(at - 1) not in ("THE",)
    before = sentence.kind_at(at - 1) in _BEFORE_A_WEIGHT or sentence.lower_at(at - 1) in ("into", "called", "in")
    return named or (before and after in ("LPAR", "COMMA", "NUM", "STOP", "SKEIN", "WITH", "AT", ""))


def _told_of_a_length(sentence: Sentence, at: int) -> bool:
    """``1200 m of flurble in aran``, ``1200m dkk in aran``: a word between a length and the yarn wanted."""
    before = sentence.kind_at(at - 2) if sentence.kind_at(at - 1) == "OF" else sentence.kind_at(at - 1)
    named = (
        sentence.kind_at(at + 2) in ("CLASS", "ARTICLE") or sentence.lower_at(at + 2) in load("repair.toml")["slips"]
    )
    wanted = sentence.kind_at(at + 1) == "IN" and named
    return before == "LEN" and wanted


def _short_for_a_weight(sentence: Sentence, at: int) -> bool:
    """``knit in DL, 240 yd/100 g``: two or three capitals nobody knows, where a weight would stand before its label."""
    text = sentence.tokens[at].text
    short = 1 < len(text) < MIN_LETTERS and text.isalpha() and text.isupper() and not LABEL.match(text)
    stands = sentence.kind_at(at - 1) in ("IN", "TO") and sentence.kind_at(at + 1) in ("COMMA", "LPAR")
    return short and stands and sentence.kind_at(at + 2) == "NUM" and sentence.kind_at(at + 3) in ("LEN", "MASS")


def _is_unit(word: str) -> bool:
    return any(entry.kind in ("LEN", "MASS") for entry in vocabulary().get(word, [])[:1])


def _is_weight(word: str) -> bool:
    return any(entry.kind == "CLASS" and len(entry.words) == 1 for entry in vocabulary().get(word, []))


def _guess(word: str) -> str | None:
    """The weight class two edits away, if one is."""
    from rapidfuzz.distance import OSA

    if len(word) < 5:
        return None
    near = [t for t in _targets() if t[0] == word[0] and _is_weight(t) and OSA.distance(word, t, score_cutoff=2) <= 2]
    return near[0] if near else None


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
    of_the_trade = (
        word
        for word, rows in vocabulary().items()
        if len(word) >= MIN_LETTERS and any(r.kind in _REPAIRED and len(r.words) == 1 for r in rows)
    )
    return (*of_the_trade, *load("repair.toml")["worth"])


def _begins_a_weight(word: str, following: str) -> str | None:
    """``duble knitting``: the first word of a weight of two, a single edit away, where the second follows."""
    firsts = [first for first in _weights_of_two().get(following, ()) if first[0] == word[0]]
    if not firsts:
        return None
    from rapidfuzz.distance import OSA

    return next((first for first in firsts if OSA.distance(word, first, score_cutoff=1) <= 1), None)


@cache
def _weights_of_two() -> dict[str, tuple[str, ...]]:
    """The first words of weights of two words, by the second: double, by knitting."""
    pairs = [row.words for rows in vocabulary().values() for row in rows if row.kind == "CLASS" and len(row.words) == 2]
    return {last: tuple(first for first, second in pairs if second == last) for _, last in pairs}


def _nearest(word: str) -> str | None:
    """The one trade word a single edit away (or two letters swapped), same first letter; None where none or several."""
    from rapidfuzz.distance import OSA

    near = [target for target in _targets() if target[0] == word[0] and OSA.distance(word, target, score_cutoff=1) <= 1]
    kinds = {_what_it_is(target) for target in near}
    if not near:
        return None
    return near[0] if len(kinds) < 2 else None


def _what_it_is(word: str) -> tuple[str, object]:
    """What a word stands for: two that stand for the same are no doubt."""
    entry = next(iter(vocabulary().get(word, [])), None)
    if entry is None:
        return "word", word
    return entry.kind, entry.value if entry.kind in ("CLASS", "LEN", "MASS") else None
