"""How number words make one number: ``two hundred and fifty``, ``twelve fifty``; ``thirteen one-ounce`` is two."""

from __future__ import annotations

from yarnchat.language.tokens import Token, kind_at, lower_at

MULTIPLES = frozenset({"hundred", "thousand", "dozen"})
_PAIRS = frozenset({"pair", "couple"})
_TEN, _TWENTY = 10.0, 20.0


def number_run(tokens: list[Token], at: int, numbers: dict[str, float]) -> tuple[list[str], int]:
    """The number words from here on that make one number, and where they end.

    They are joined by hyphens and, from a hundred up, by ``and``.
    """
    words: list[str] = []
    end = at
    while end < len(tokens):
        word, kind = tokens[end].lower, tokens[end].kind
        if word in numbers and kind in ("WORD", "ORDINAL"):
            if not _goes_on(words, word, numbers):
                break
            words.append(word)
        elif not words or not (_joins(words[-1], tokens[end]) and _goes_on(words, lower_at(tokens, end + 1), numbers)):
            break
        end += 1
    begun = hundreds(words, numbers)
    if begun and (words[0] != "one" and _of_so_many_skeins(tokens, end)):
        return words[:begun], _end_of(tokens, at, begun, numbers)  # two fifty gram balls
    return words, end


def _joins(word: str, token: Token) -> bool:
    """``twenty-five``, ``two hundred and ten``, ``a couple of hundred``: what may stand behind a word and go on."""
    said = (token.lower, word) in {("and", "hundred"), ("and", "thousand"), ("of", "couple")}
    return token.kind == "DASH" or said


def _goes_on(words: list[str], word: str, numbers: dict[str, float]) -> bool:
    """Whether a word goes on with a number: a unit behind tens, tens behind what may be hundreds, a multiple."""
    if word not in numbers:
        return False
    if not words or word in MULTIPLES:
        return True
    if word in _PAIRS or words[-1] in (*_PAIRS, "dozen"):
        return False
    if words[-1] in MULTIPLES:
        return True
    if numbers[word] < _TEN:
        return numbers[words[-1]] >= _TWENTY and numbers[word] > 0
    return MULTIPLES.isdisjoint(words) and not hundreds(words, numbers)


def hundreds(words: list[str], numbers: dict[str, float]) -> int:
    """``twelve fifty``, ``one twenty``: how many of the words are so many hundreds, and not said to be; or 0."""
    if not MULTIPLES.isdisjoint(words):
        return 0
    return next((at for at in range(1, len(words)) if numbers[words[at]] >= _TEN), 0)


def _of_so_many_skeins(tokens: list[Token], at: int) -> bool:
    """``two fifty gram balls``: a unit and then skeins, which the first word counts."""
    at += kind_at(tokens, at) == "DASH"
    return kind_at(tokens, at) in ("MASS", "LEN") and kind_at(tokens, at + 1) == "SKEIN"


def _end_of(tokens: list[Token], at: int, count: int, numbers: dict[str, float]) -> int:
    """Where so many number words end."""
    end = at
    while count:
        count -= tokens[end].lower in numbers
        end += 1
    return end


def total(words: list[str], numbers: dict[str, float]) -> float:
    """The number that the words make."""
    begun = hundreds(words, numbers)
    if begun:
        return 100 * total(words[:begun], numbers) + total(words[begun:], numbers)
    whole = current = 0.0
    for word in words:
        if word not in MULTIPLES:
            current += numbers[word]
            continue
        current = (current or 1) * numbers[word]
        if word == "thousand":
            whole, current = whole + current, 0.0
    return whole + current
