"""Numbers in words, made numbers where what follows can be counted: ``two and a half balls``, ``the 2nd size``."""

from __future__ import annotations

from yarnchat.language.lexicon import load, made_several, word_list
from yarnchat.language.tokens import UNIT_KINDS, Token, kind_at, lower_at, lowers


def number_words(tokens: list[Token]) -> list[Token]:
    """Numbers in words made NUM tokens, where a unit or another number follows; elsewhere they are only words."""
    numbers: dict[str, float] = load("words.toml")["numbers"]
    parts: dict[str, float] = load("words.toml")["parts"]
    out: list[Token] = []
    at = 0
    while at < len(tokens):
        token = tokens[at]
        begins = token.kind in ("NUM", "ARTICLE") or token.lower in numbers or token.lower in parts
        found = (_half(tokens, at, numbers, parts) or _spelt(tokens, at, numbers, parts)) if begins else None
        if found:
            value, end = found
            first, last = token, tokens[end - 1]
            words = " ".join(part.text for part in tokens[at:end])
            if out and out[-1].lower in ("minus", "negative"):
                value, first = -value, out.pop()
            out.append(Token("NUM", words, first.start, last.end, readings=((value,),), note=words))
            at = end
        else:
            out.append(token)
            at += 1
    return out


def _listed(tokens: list[Token]) -> bool:
    """Whether numbers stand in a list over sizes: ``6 (6, 7, 8)``."""
    kinds = [token.kind for token in tokens]
    commas = any(kinds[at : at + 3] == ["NUM", "COMMA", "NUM"] for at in range(len(kinds)))
    return commas or any(kinds[at : at + 4] == ["NUM", "SLASH", "NUM", "SLASH"] for at in range(len(kinds)))


_ENDINGS = frozenset({"st", "nd", "rd", "th"})


def ordinals(tokens: list[Token]) -> list[Token]:
    """``the 2nd size``: the number of a size; ``21st`` elsewhere may be stitches, and ``5th`` a birthday."""
    out: list[Token] = []
    for at, token in enumerate(tokens):
        if token.lower not in _ENDINGS:
            out.append(token)
            continue
        number = out[-1] if out else None
        ending = token.lower != "st" or (number and number.text == "1")
        sized = at + 1 < len(tokens) and tokens[at + 1].lower in ("size", "one")
        sized = sized or (at > 1 and tokens[at - 2].kind == "THE" and _listed(tokens))
        whole = number and number.kind == "NUM" and number.text.isdecimal() and number.end == token.start
        if number and whole and ending and sized:
            out[-1] = Token("ORDINAL", number.text + token.text, number.start, token.end, value=int(number.text))
        else:
            out.append(token)
    return out


_MULTIPLES = frozenset({"hundred", "thousand", "dozen"})


def _half(tokens: list[Token], at: int, numbers: dict[str, float], parts: dict[str, float]) -> tuple[float, int] | None:
    """``2 and a half``, ``half a``, ``half of a``, ``a quarter of a`` before a unit."""
    token = tokens[at]
    if token.kind == "NUM" and lowers(tokens, at + 1, 3)[:2] == ["and", "a"] and at + 3 < len(tokens):
        part = parts.get(tokens[at + 3].lower)
        if part and token.readings:
            value = token.readings[0][0] + part
            times = [numbers[word] for word in lowers(tokens, at + 4, 1) if word in _MULTIPLES]
            return (value * times[0], at + 5) if times else (value, at + 4)
    several = numbers.get(token.lower, 1.0) if lower_at(tokens, at + 1) in parts else 1.0
    led = token.kind == "ARTICLE" or several > 1
    begin = at + 1 if led and at + 1 < len(tokens) else at
    part = parts.get(tokens[begin].lower)
    if part is None or tokens[begin].kind not in ("WORD", "HALF", "ORDINAL"):
        return None
    part *= several  # three quarters of a skein
    end = begin + 1
    if end < len(tokens) and tokens[end].lower == "of":
        end += 1
    if end < len(tokens) and tokens[end].kind in ("ARTICLE", "THE"):
        end += 1
    if end == begin + 1 and begin == at and tokens[begin].kind != "HALF":
        return None
    if end < len(tokens) and tokens[end].lower in _MULTIPLES:
        return part * numbers[tokens[end].lower], end + 1
    if end >= len(tokens):
        return None
    wound = tokens[end].kind == "NUM" and any(token.kind == "SKEIN" for token in tokens[end + 1 : end + 6])
    return (part, end) if tokens[end].kind in ("SKEIN", "MASS", "LEN") or wound else None


def _spelt(
    tokens: list[Token], at: int, numbers: dict[str, float], parts: dict[str, float]
) -> tuple[float, int] | None:
    """A number in words and where it ends, before what can be counted: ``twenty-five``, ``one and a half thousand``."""
    led = tokens[at].kind == "ARTICLE" and lower_at(tokens, at + 1) in ("hundred", "thousand", "dozen", "couple")
    begin = at + 1 if led else at
    words, end = _number_run(tokens, begin, numbers)
    if not words or (words == [1.0] and lower_at(tokens, end) == "stitch"):
        return None
    last = tokens[end - 1].lower
    if last == "pair":
        return None
    whole = _total(words)
    value, end = _and_a_part(tokens, end, whole, numbers, parts)
    if last == "dozen" and value != whole and words[-1] == 12:  # a dozen and a half
        value = whole + 12 * (value - whole)
    if last in ("couple", "dozen") and lower_at(tokens, end) == "of":
        end += 1
    while lower_at(tokens, end) in _BESIDE_A_NUMBER:
        end += 1
    return (value, end) if _can_count(tokens, begin, end, numbers, one=value == 1.0) else None


_SHORT = 6
"""So many words are all of a text in which a number may stand alone."""
_BESIDE_A_NUMBER = frozenset({"full", "whole", "more", "other", "complete", "new", "unopened", "untouched"})
"""Words between a number and what it counts: ``two more whole balls``."""


def _number_run(tokens: list[Token], at: int, numbers: dict[str, float]) -> tuple[list[float], int]:
    """The number words from here on and where they end, joined by hyphens and, from a hundred up, by ``and``."""
    words: list[float] = []
    end = at
    while end < len(tokens):
        word, kind = tokens[end].lower, tokens[end].kind
        if word in numbers and kind in ("WORD", "ORDINAL") and not (words and word in ("pair", "couple")):
            words.append(numbers[word])
        elif not words or lower_at(tokens, end + 1) not in numbers:
            break
        elif kind != "DASH" and not (word == "and" and words[-1] >= 100):
            break
        end += 1
    return words, end


def _and_a_part(
    tokens: list[Token], end: int, value: float, numbers: dict[str, float], parts: dict[str, float]
) -> tuple[float, int]:
    """The value and its end with ``and a half`` added, and then ``thousand`` or ``dozen`` times it."""
    ahead = lowers(tokens, end, 3)
    if ahead[:2] == ["and", "a"] and ahead[-1] in parts:
        value, end = value + parts[ahead[-1]], end + 3
    elif ahead[:2] == ["and", "half"]:
        value, end = value + 0.5, end + 2
    if value % 1 and (times := lower_at(tokens, end)) in _MULTIPLES:  # one and a half thousand
        value, end = value * numbers[times], end + 1
    return value, end


def _can_count(tokens: list[Token], begin: int, end: int, numbers: dict[str, float], *, one: bool) -> bool:
    """Whether what follows a number in words can be counted; ``one`` is oftener a pronoun than a number."""
    kind, after = kind_at(tokens, end), kind_at(tokens, end + 1)
    before = tokens[begin - 1].lower.split()[-1:] if begin else []
    if begin and tokens[begin - 1].kind == "SIZE":
        return True  # size one only
    if before and before[0] in word_list("taking_off") and not one:
        return True  # a dozen balls less two
    had = bool(word_list("had").intersection(before)) and not one
    if had and (kind in ("", "STOP", "COMMA") or lower_at(tokens, end) in word_list("had_after")):
        return True  # if I've got two already
    if len(tokens) <= _SHORT and not one and not any(token.kind == "NUM" for token in tokens):
        return True  # sorry, ten I meant
    if not one and lower_at(tokens, end) in made_several() | word_list("counted_of"):
        return True  # two scarves, would three be enough
    if not one and kind in ("WORD", "CLASS") and lower_at(tokens, end + 1) in made_several():
        return True  # two cushion covers
    working = bool(before) and before[0] in word_list("working") and not one
    if working and (kind in ("", "STOP", "COMMA", "AND") or lowers(tokens, end, 2) == ["of", "them"]):
        return True  # 300 yards, and I'm making two of them
    if before and before[0] == "times" and not one:
        return True  # 400 m times two
    if before and before[0] == "for" and kind in ("", "STOP") and not one:
        return True  # a hat takes 200 m, how much for two?
    each = any(token.kind == "EACH" for token in tokens) and not one
    if each and lower_at(tokens, end).removesuffix("s") in word_list("of_a_pair"):
        return True  # two sleeves take 150 m each
    whole = end > begin + 1 and lower_at(tokens, end - 1) in _BESIDE_A_NUMBER
    if one and whole and kind == "NUM" and "SKEIN" in (kind_at(tokens, end + 1), kind_at(tokens, end + 2)):
        return True  # one full 100 g skein
    at_last = kind in ("", "STOP", "COMMA") and kind_at(tokens, begin - 1) in ("AT", "HOLD") if begin else False
    if not one and at_last:
        return True  # mine comes out at eighteen
    if not one and after == "NUM" and kind in ("TO", "OVER", "OF", "IN", "PER"):
        return True  # twenty-two to 4 inches
    if not one and (kind, after, kind_at(tokens, end + 2)) == ("OF", "THE", "NUM"):
        return True  # four of the 115 m ones
    if tokens[end - 1].lower == "more" and len(tokens) <= _SHORT + 2:
        return True  # what if I buy one more
    more = tokens[end - 1].lower in ("more", "other")
    if (more or lower_at(tokens, end) in word_list("left_over")) and any(token.kind == "SKEIN" for token in tokens):
        return True  # three skeins used and one left
    if not one and kind in ("IN", "ON") and lower_at(tokens, end + 1) in ("em", "them", "each", "it"):
        return True  # balls that have a hundred and forty in them
    if kind == "CLASS" and not one:  # two worsted balls, four DK skeins
        return after in ("SKEIN", "STRAND") or lowers(tokens, end + 1, 2) == ["at", "once"]
    return (
        kind in UNIT_KINDS
        or (kind == "NUM" and not one)
        or (kind == "OF" and after == "NUM" and not one)  # and three of 230 yds
        or (kind == "DASH" and lower_at(tokens, end + 1) == "ply")
        or _bracketed_words(tokens, begin, end, numbers)
    )


def _bracketed_words(tokens: list[Token], start: int, end: int, numbers: dict[str, float]) -> bool:
    """Whether number words stand in a list over sizes: ``four (five, five, six) skeins``."""
    kinds = {"LPAR", "RPAR", "COMMA"}
    left, right = start, end
    while left > 0 and (tokens[left - 1].kind in {*kinds, "NUM"} or tokens[left - 1].lower in numbers):
        left -= 1
    while right < len(tokens) and (tokens[right].kind in {*kinds, "NUM"} or tokens[right].lower in numbers):
        right += 1
    around = {token.kind for token in tokens[left:right]}
    return kinds <= around


def _total(words: list[float]) -> float:
    total = current = 0.0
    for word in words:
        if word in (100.0, 12.0, 1000.0) and (word != 12.0 or current):
            current = (current or 1) * word
            if word == 1000.0:
                total, current = total + current, 0.0
        else:
            current += word
    return total + current
