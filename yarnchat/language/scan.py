"""Clean text to tokens: numbers with every reading they have, known words by kind, names whole."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from fractions import Fraction
from functools import lru_cache

from yarnchat.language.clean import NO_BREAK
from yarnchat.language.lexicon import Entry, Table, Value, load, split_words, vocabulary, word_list

MAX_DIGITS = 12


@dataclass(slots=True)
class Token:
    """A piece of the text: its kind for the grammar, its span, and what it stands for."""

    kind: str
    text: str
    start: int
    end: int
    value: Value = None
    readings: tuple[tuple[float, ...], ...] = field(default=())
    """For a number: each way to read it, surest first; several values where a comma may part a list."""
    note: str | None = None
    """For a number read in a way worth saying: how."""

    lower: str = field(init=False, compare=False, repr=False)
    """The text in small letters."""

    def __post_init__(self) -> None:
        self.lower = self.text.lower()


_VULGAR = {
    "½": (1, 2),
    "¼": (1, 4),
    "¾": (3, 4),
    "⅓": (1, 3),
    "⅔": (2, 3),
    "⅛": (1, 8),
    "⅜": (3, 8),
    "⅝": (5, 8),
    "⅞": (7, 8),
    "⅕": (1, 5),
}
_FRACTION = r"(?:[½¼¾⅓⅔⅛⅜⅝⅞⅕]|(?<![0-9]/)(?:1|2|3|5|7|9|11|13|15)/(?:2|3|4|5|8|16)(?![0-9/.]))"
_NUMERAL = re.compile(
    rf"""
    (?P<mixed>[0-9]+(?:[ {NO_BREAK}]|-|\ ?&\ ?)?{_FRACTION})
  | (?P<part>{_FRACTION})
  | (?P<spaced>[0-9]{{1,3}}(?:[{NO_BREAK}'][0-9]{{3}})+(?![0-9])|[0-9]{{1,3}}\ 000(?![0-9]))
  | (?P<commas>[0-9]+(?:,[0-9]+)+(?:\.[0-9]+)?)
  | (?P<dots>[0-9]+(?:\.[0-9]+){{2,}})
  | (?P<plain>[0-9]*\.[0-9]+|[0-9]+)
    """,
    re.VERBOSE,
)
_WORD = re.compile(r"(?:cm|in|mm)(?=x[0-9])|[^\W\d_]+(?:'[^\W\d_]+)*")
_DOTTED = re.compile(r"(?:[A-Za-z]\.){2,}")
_THOUSAND = re.compile(r"k(?![a-z])", re.IGNORECASE)
_SIGNS = {
    "(": "LPAR",
    "[": "LPAR",
    "{": "LPAR",
    ")": "RPAR",
    "]": "RPAR",
    "}": "RPAR",
    ",": "COMMA",
    ";": "SEMI",
    "/": "SLASH",
    "-": "DASH",
    "=": "EQ",
    ":": "COLON",
    "%": "PERCENT",
    "#": "HASH",
    "&": "AND",
    "+": "AND",
    "\u2192": "ARROW",
    ".": "STOP",
    "?": "STOP",
    "!": "STOP",
    "\n": "NEWLINE",
    "…": "STOP",
    "@": "AT",
    "~": "TILDE",
    "*": "STAR",
    "|": "BAR",
}
_UNIT_KINDS = frozenset(
    {"LEN", "SHORT", "MASS", "SKEIN", "STRAND", "STRANDED", "STS", "ROWS", "PLY", "WPI", "CUR", "PERCENT"}
)


def scan(text: str, names: tuple[str, ...] = ()) -> list[Token]:
    """Tokens of a clean text, in order; all but white space is in one. ``names``: yarns she remembers."""
    tokens = _raw(text)
    tokens = _names(tokens, text, _by_first_word(names))
    tokens = _known(tokens, vocabulary())
    tokens = _ordinals(_number_words(tokens))
    _settle(tokens)
    return tokens


def _raw(text: str) -> list[Token]:
    tokens: list[Token] = []
    at = 0
    while at < len(text):
        char = text[at]
        if char == " " or char == NO_BREAK or (char.isspace() and char != "\n"):
            at += 1
            continue
        token = (
            (_wordlike(text, at) if char.isalpha() else None)
            or _numeral(text, at)
            or _possessive(text, at)
            or _wordlike(text, at)
            or Token(_SIGNS.get(char, _sign(char)), char, at, at + 1)
        )
        if token.kind == "NUM" and _negative(tokens, token, text):
            token.readings = tuple(tuple(-value for value in reading) for reading in token.readings)
            token.text, token.start = "-" + token.text, tokens.pop().start
        if token.kind == "NUM" and tokens and _glued(tokens[-1], token):
            tokens[-1].text += token.text  # m1, k2tog, CC1: a number inside a word counts nothing
            tokens[-1].lower = tokens[-1].text.lower()
            tokens[-1].end = token.end
        else:
            tokens.append(token)
        at = token.end
    return _unbroken(tokens)


def _negative(tokens: list[Token], number: Token, text: str) -> bool:
    """Whether a minus stands right before the number and no range or list goes on there."""
    if not tokens or tokens[-1].kind not in ("DASH", "WORD"):
        return False
    sign = tokens[-1]
    if sign.kind == "WORD":
        return sign.lower in ("minus", "negative") and number.start - sign.end <= 1
    if sign.end != number.start or text[sign.start] != "-":
        return False
    before = tokens[-2] if len(tokens) > 1 else None
    apart = before is None or (
        before.end < sign.start and before.kind not in ("NUM", "NEWLINE", "COLON", "RPAR", "NAME", "SIGN")
    )
    return apart and not (
        before is not None and before.kind == "WORD" and before.text[0].isupper() and before.lower not in ("i",)
    )


def _glued(word: Token, number: Token) -> bool:
    return word.kind == "WORD" and word.end == number.start and word.lower not in word_list("before_digits")


def _unbroken(tokens: list[Token]) -> list[Token]:
    """Line breaks inside brackets or between a number and its unit are blanks; ``231-yard`` is 231 yard."""
    out: list[Token] = []
    depth = 0
    for at, token in enumerate(tokens):
        depth = max(0, depth + (token.kind == "LPAR") - (token.kind == "RPAR"))
        before = out[-1] if out else None
        after = tokens[at + 1] if at + 1 < len(tokens) else None
        glued = before and after and token.kind == "DASH" and before.end == token.start and token.end == after.start
        if (glued or token.kind == "NEWLINE") and before and before.kind == "NUM" and after and _is_unit(after):
            continue
        if token.text == "." and before and before.end == token.start and _shortened(before, after):
            continue
        if token.kind == "NEWLINE" and depth and any(t.kind == "RPAR" for t in tokens[at : at + 30]):
            continue
        out.append(token)
    return out


def _shortened(word: Token, after: Token | None) -> bool:
    """Whether a full stop only shortens the word before it: ``7 sts. and 9 rows``."""
    goes_on = after is not None and (
        after.kind in ("NUM", "LPAR", "SLASH", "EQ", "COMMA")
        or after.text in ("per", "to", "in", "and", "x", "each", "over", "a", "ball", "skein", "hank")
    )
    return (
        goes_on
        and word.lower in word_list("shortened")
        and not (
            word.lower in ("no", "in", "m", "g") and after is not None and after.kind == "NUM" and word.lower != "no"
        )
    )


def _is_unit(token: Token) -> bool:
    return any(entry.kind in _UNIT_KINDS and len(entry.words) == 1 for entry in vocabulary().get(token.lower, ()))


def _sign(char: str) -> str:
    """Circled and other odd digits are numbers nobody can be sure of; footnote marks are not."""
    return "ODDNUM" if char.isdigit() and char not in "¹²³⁰⁴⁵⁶⁷⁸⁹" else "SIGN"


def _possessive(text: str, at: int) -> Token | None:
    """The ``'s`` left of ``the worsted's 210 yds a skein``: it says is or has."""
    found = text[at : at + 2].lower() == "'s" and at and text[at - 1].isalpha() and not text[at + 2 : at + 3].isalpha()
    return Token("HOLD", text[at : at + 2], at, at + 2) if found else None


def _wordlike(text: str, at: int) -> Token | None:
    dotted = _DOTTED.match(text, at)
    if dotted and (at == 0 or not text[at - 1].isalnum()):
        return Token("WORD", dotted.group().replace(".", ""), at, dotted.end())
    word = _WORD.match(text, at)
    if not word:
        return None
    shown = word.group()
    if shown.isdigit():  # circled digits and the like: nobody can be sure of them
        return Token("ODDNUM", shown, at, word.end())
    owner = shown[:-2].lower()
    if shown[-2:].lower() == "'s" and (owner in vocabulary() or owner in ("yarn", "wool", "one")):  # my aran's 80 m
        return Token("WORD", shown[:-2], at, word.end() - 2)
    return Token("WORD", shown, at, word.end())


def _numeral(text: str, at: int) -> Token | None:
    found = _NUMERAL.match(text, at)
    if not found:
        return None
    shown, end = found.group(), found.end()
    kind = found.lastgroup or ""
    token = Token("NUM", shown, at, end)
    if max(len(run) for run in re.findall(r"[0-9]+", shown) or [""]) > MAX_DIGITS or len(shown) > 80:
        return Token("LONGNUM", shown, at, end)
    if kind in ("mixed", "part"):
        token.readings = ((_mixed(shown),),)
    elif kind == "spaced":
        token.readings = ((float(re.sub(rf"[ {NO_BREAK}']", "", shown)),),)
    elif kind == "commas":
        token.readings = tuple(_commas(shown))
    elif kind == "dots":
        thousands = re.fullmatch(r"[0-9]{1,3}(?:\.[0-9]{3})+", shown)
        token.readings = ((float(shown.replace(".", "")),),) if thousands else ()
    else:
        token.readings = ((float(shown),),)
        if re.fullmatch(r"[1-9][0-9]{0,2}\.[0-9]{3}", shown):
            token.readings += ((float(shown.replace(".", "")),),)
    if not token.readings:
        token.kind = "ODDNUM"
    thousand = _THOUSAND.match(text, end)
    if thousand and kind == "plain":
        token.readings, token.end = ((float(shown) * 1000,),), thousand.end()
        token.text = text[at : token.end]
        token.lower = token.text.lower()
    return token


def _mixed(shown: str) -> float:
    for sign, (top, bottom) in _VULGAR.items():
        if sign in shown:
            whole = re.sub(r"[^0-9]", "", shown.replace(sign, ""))
            return float((int(whole) if whole else 0) + Fraction(top, bottom))
    found = re.fullmatch(r"(?:([0-9]+)\D+)?([0-9]+)/([0-9]+)", shown)
    if not found:  # glued: 41/2 is no mixed number
        above, below = shown.split("/")
        return float(Fraction(int(above), int(below)))
    number, above, below = found.groups()
    return float(int(number or 0) + Fraction(int(above), int(below)))


def _commas(shown: str) -> list[tuple[float, ...]]:
    """Every way to read digits parted by commas: thousands first, then a decimal comma, then a list."""
    readings: list[tuple[float, ...]] = []
    if re.fullmatch(r"[0-9]{1,3}(?:,[0-9]{3})+(?:\.[0-9]+)?", shown):
        readings.append((float(shown.replace(",", "")),))
    elif re.fullmatch(r"[0-9]+,[0-9]{1,2}", shown):
        readings.append((float(shown.replace(",", ".")),))
    parts = shown.split(",")
    readings.append(tuple(float(part) for part in parts))
    paired = _paired_thousands(parts)
    if paired:
        readings.append(paired)
    return readings


def _paired_thousands(parts: list[str]) -> tuple[float, ...] | None:
    values: list[float] = []
    at = 0
    while at < len(parts):
        if at + 1 < len(parts) and len(parts[at]) <= 2 and re.fullmatch(r"[0-9]{3}", parts[at + 1]):
            values.append(float(parts[at] + parts[at + 1]))
            at += 2
        else:
            values.append(float(parts[at]))
            at += 1
    return tuple(values) if len(values) not in (1, len(parts)) else None


# names ---------------------------------------------------------------------------------------------------------

_INSIDE_NAMES = frozenset({"of", "the", "and", "de", "no"})


@lru_cache(maxsize=4)
def _by_first_word(names: tuple[str, ...]) -> Table:
    table: Table = {}
    for name in names:
        words = split_words(name)
        if words:
            table.setdefault(words[0], []).append(Entry(words, "NAME", name))
    for rows in table.values():
        rows.sort(key=lambda entry: -len(entry.words))
    return table


def _names(tokens: list[Token], text: str, known: Table) -> list[Token]:
    """Names she remembers, quoted names, and two or more capitalised words of which one is in no vocabulary."""
    shouted = _shouting(text)
    out: list[Token] = []
    at = 0
    while at < len(tokens):
        remembered = match(tokens, at, known) if known and tokens[at].lower in known else None
        if remembered:
            entry, end = remembered
            name = Token(
                "NAME", text[tokens[at].start : tokens[end - 1].end], tokens[at].start, tokens[end - 1].end, entry.value
            )
            out.append(name)
            at = end
            continue
        end = _quoted_end(tokens, at)
        if end:
            inner = tokens[at + 1 : end - 1]
            out.append(_name(text, tokens[at].start, tokens[end - 1].end, inner[0].start, inner[-1].end))
            at = end
            continue
        end = 0 if shouted else _capitals_end(tokens, at, text)
        if end:
            out.append(_name(text, tokens[at].start, tokens[end - 1].end, tokens[at].start, tokens[end - 1].end))
            at = end
            continue
        out.append(tokens[at])
        at += 1
    return out


def _name(text: str, start: int, end: int, inner: int, inner_end: int) -> Token:
    return Token("NAME", text[start:end], start, end, text[inner:inner_end])


def _shouting(text: str) -> bool:
    letters = [char for char in text if char.isalpha()]
    return bool(letters) and sum(char.isupper() for char in letters) > 0.6 * len(letters)


def _quoted_end(tokens: list[Token], at: int) -> int:
    """The end of a short quoted name that starts here, or 0. A quote right after a digit is inches."""
    if tokens[at].text not in ('"',) or (
        at and tokens[at - 1].kind == "NUM" and tokens[at - 1].end == tokens[at].start
    ):
        return 0
    for end in range(at + 2, min(at + 9, len(tokens))):
        if tokens[end].text == '"':
            inner = tokens[at + 1 : end]
            words = [token for token in inner if token.kind == "WORD"]
            titled = words and all(word.text[0].isupper() or word.lower in _INSIDE_NAMES for word in words)
            return end + 1 if titled and len(inner) <= 6 else 0
        if tokens[end].kind in ("NEWLINE", "STOP", "COLON"):
            return 0
    return 0


def _capitals_end(tokens: list[Token], at: int, text: str) -> int:
    first = tokens[at]
    if not _capital(first) or first.lower in _openers() or len(first.text) < 2:
        return 0
    end = at + 1
    last = at + 1
    while end < len(tokens) and end - at < 6 and tokens[end].start - tokens[end - 1].end <= 1:
        token = tokens[end]
        if _capital(token) and len(token.text) > 1:
            last = end + 1
        elif token.lower not in _INSIDE_NAMES or token.text == "\n":
            break
        end += 1
    words = [token for token in tokens[at:last] if token.kind == "WORD"]
    if len(words) < 2:
        return 0
    known = vocabulary()
    if all(word.lower in known or word.lower in _INSIDE_NAMES for word in words):
        return 0
    while words and words[-1].lower in _openers():
        last -= 1
        words.pop()
    if len(words) < 2:
        return 0
    return _with_number(tokens, last, text)


def _with_number(tokens: list[Token], end: int, text: str) -> int:
    """A name may end in a number of its own (Bulky Bear 12) where no unit or list follows it."""
    number = tokens[end] if end < len(tokens) else None
    if (
        not number
        or number.kind != "NUM"
        or not number.text.isdigit()
        or text[tokens[end - 1].end : number.start] != " "
    ):
        return end
    after = tokens[end + 1] if end + 1 < len(tokens) else None
    listed = [token.kind for token in tokens[end + 1 : end + 4]]
    if listed[:2] == ["LPAR", "NUM"] and listed[2:] in (["COMMA"], ["SLASH"], ["RPAR"], ["SEMI"]):
        return end  # Siskin Worsted 1 (1, 2, 2) skeins
    if (
        after is None
        or after.kind in ("STOP", "NEWLINE", "RPAR", "COLON")
        or (after.kind == "DASH" and after.start > number.end)
        or (after.kind in ("COMMA", "LPAR") and len(number.text) <= 2)
    ):
        return end + 1
    return end


def _capital(token: Token) -> bool:
    return token.kind == "WORD" and token.text[0].isupper()


def _openers() -> frozenset[str]:
    """Words that open a sentence or a label with a capital and are no part of a name."""
    return frozenset(load("openers.toml")["openers"])


# known words ---------------------------------------------------------------------------------------------------


def match(tokens: list[Token], at: int, table: Table) -> tuple[Entry, int] | None:
    """The longest entry of the table whose words stand at this token, hyphens passed over, and where it ends."""
    for entry in table.get(tokens[at].lower, ()):
        end = at + 1
        for word in entry.words[1:]:
            while end < len(tokens) and tokens[end].kind == "DASH":
                end += 1
            if end >= len(tokens) or tokens[end].lower != word or tokens[end].kind == "NEWLINE":
                break
            end += 1
        else:
            return entry, end
    return None


def _known(tokens: list[Token], table: Table) -> list[Token]:
    out: list[Token] = []
    at = 0
    while at < len(tokens):
        token = tokens[at]
        found = match(tokens, at, table) if token.kind not in ("NAME",) else None
        if found and (token.kind == "WORD" or len(found[0].words) > 1 or token.kind == "SIGN"):
            entry, end = found
            last = tokens[end - 1]
            if entry.words[0].isdigit() and (
                last.end - token.start > len(entry.value if isinstance(entry.value, str) else "")
                or (end < len(tokens) and tokens[end].kind == "NUM")
            ):
                out.append(token)
                at += 1
                continue
            whole = last.end - token.start == sum(len(t.text) for t in tokens[at:end])
            text = ("" if whole else " ").join(t.text for t in tokens[at:end])
            out.append(Token(entry.kind, text, token.start, last.end, entry.value))
            at = end
        else:
            out.append(token)
            at += 1
    return out


# number words --------------------------------------------------------------------------------------------------


def _number_words(tokens: list[Token]) -> list[Token]:
    """Numbers in words made NUM tokens, where a unit or another number follows; elsewhere they are only words."""
    numbers: dict[str, float] = load("words.toml")["numbers"]
    parts: dict[str, float] = load("words.toml")["parts"]
    out: list[Token] = []
    at = 0
    while at < len(tokens):
        found = _half(tokens, at, numbers, parts) or _spelt(tokens, at, numbers, parts)
        if found:
            value, end = found
            first, last = tokens[at], tokens[end - 1]
            words = " ".join(token.text for token in tokens[at:end])
            if out and out[-1].lower in ("minus", "negative"):
                value, first = -value, out.pop()
            out.append(Token("NUM", words, first.start, last.end, readings=((value,),), note=words))
            at = end
        else:
            out.append(tokens[at])
            at += 1
    return out


def _ordinals(tokens: list[Token]) -> list[Token]:
    """``the 2nd size``: the number of a size; ``21st`` elsewhere may be stitches, and ``5th`` a birthday."""
    out: list[Token] = []
    for at, token in enumerate(tokens):
        number = out[-1] if out else None
        ending = token.lower in ("nd", "rd", "th") or (token.lower == "st" and number and number.text == "1")
        sized = at + 1 < len(tokens) and tokens[at + 1].lower in ("size", "one")
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
    if token.kind == "NUM" and _lowers(tokens, at + 1, 3)[:2] == ["and", "a"] and at + 3 < len(tokens):
        part = parts.get(tokens[at + 3].lower)
        if part and token.readings:
            value = token.readings[0][0] + part
            times = [numbers[word] for word in _lowers(tokens, at + 4, 1) if word in _MULTIPLES]
            return (value * times[0], at + 5) if times else (value, at + 4)
    begin = at + 1 if token.kind == "ARTICLE" and at + 1 < len(tokens) else at
    part = parts.get(tokens[begin].lower)
    if part is None or tokens[begin].kind not in ("WORD", "HALF", "ORDINAL"):
        return None
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
    led = tokens[at].kind == "ARTICLE" and _lower_at(tokens, at + 1) in ("hundred", "thousand", "dozen", "couple")
    begin = at + 1 if led else at
    words, end = _number_run(tokens, begin, numbers)
    if not words or (words == [1.0] and _lower_at(tokens, end) == "stitch"):
        return None
    last = tokens[end - 1].lower
    if last == "pair":
        return None
    whole = _total(words)
    value, end = _and_a_part(tokens, end, whole, numbers, parts)
    if last == "dozen" and value != whole and words[-1] == 12:  # a dozen and a half
        value = whole + 12 * (value - whole)
    if last in ("couple", "dozen") and _lower_at(tokens, end) == "of":
        end += 1
    while _lower_at(tokens, end) in _BESIDE_A_NUMBER:
        end += 1
    return (value, end) if _can_count(tokens, begin, end, numbers, one=words == [1.0]) else None


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
        elif not words or _lower_at(tokens, end + 1) not in numbers:
            break
        elif kind != "DASH" and not (word == "and" and words[-1] >= 100):
            break
        end += 1
    return words, end


def _and_a_part(
    tokens: list[Token], end: int, value: float, numbers: dict[str, float], parts: dict[str, float]
) -> tuple[float, int]:
    """The value and its end with ``and a half`` added, and then ``thousand`` or ``dozen`` times it."""
    ahead = _lowers(tokens, end, 3)
    if ahead[:2] == ["and", "a"] and ahead[-1] in parts:
        value, end = value + parts[ahead[-1]], end + 3
    elif ahead[:2] == ["and", "half"]:
        value, end = value + 0.5, end + 2
    if value % 1 and (times := _lower_at(tokens, end)) in _MULTIPLES:  # one and a half thousand
        value, end = value * numbers[times], end + 1
    return value, end


def _can_count(tokens: list[Token], begin: int, end: int, numbers: dict[str, float], *, one: bool) -> bool:
    """Whether what follows a number in words can be counted; ``one`` is oftener a pronoun than a number."""
    kind, after = _kind_at(tokens, end), _kind_at(tokens, end + 1)
    before = tokens[begin - 1].lower.split()[-1:] if begin else []
    had = bool(word_list("had").intersection(before)) and not one
    if had and (kind in ("", "STOP", "COMMA") or _lower_at(tokens, end) in word_list("had_after")):
        return True  # if I've got two already
    if kind == "CLASS" and not one:  # two worsted balls, four DK skeins
        return after in ("SKEIN", "STRAND")
    return (
        kind in _UNIT_KINDS
        or (kind == "NUM" and not one)
        or (kind == "OF" and after == "NUM" and not one)  # and three of 230 yds
        or (kind == "DASH" and _lower_at(tokens, end + 1) == "ply")
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


def _lowers(tokens: list[Token], at: int, count: int) -> list[str]:
    return [token.lower for token in tokens[at : at + count]]


def _lower_at(tokens: list[Token], at: int) -> str:
    """A token's text in lower case, or "" past the end."""
    return tokens[at].lower if at < len(tokens) else ""


def _kind_at(tokens: list[Token], at: int) -> str:
    """A token's kind, or "" past the end."""
    return tokens[at].kind if at < len(tokens) else ""


# words whose kind depends on their neighbours ------------------------------------------------------------------

_SIZE_LETTERS = frozenset({"s", "m", "l"})
_AFTER_IN = frozenset(
    {
        "STOP",
        "NEWLINE",
        "COMMA",
        "RPAR",
        "X",
        "SQUARE",
        "SEMI",
        "EQ",
        "SLASH",
        "DASH",
        "LPAR",
        "WIDE",
        "LONG",
        "BY",
        "IN",
        "TO",
        "AND",
        "CHEST",
        "COLON",
    }
)


def _settle(tokens: list[Token]) -> None:
    for at, token in enumerate(tokens):
        before = tokens[at - 1] if at else None
        after = tokens[at + 1] if at + 1 < len(tokens) else None
        if token.text == '"' or token.text == "''" or (token.text == "'" and before and before.kind == "NUM"):
            _settle_quote(tokens, at, before)
        elif token.lower == "in":
            kinds = [earlier.kind for earlier in tokens[max(0, at - 3) : at]]
            _settle_in(token, before, after, measuring=kinds in _GAUGED or (kinds in _CROSSED and _no_yarn(after)))
        elif token.lower in ("x", "by") and (token.lower == "x"):
            if (
                before
                and after
                and (before.kind in ("NUM", "SHORT", "STS", "SKEIN", "RPAR") and after.kind in ("NUM",))
            ):
                token.kind, token.value = "X", None
        elif token.lower in ("s", "l") or token.lower in _SIZE_LETTERS or token.kind in ("SIZENAME", "SIZEWORD"):
            _settle_size(tokens, at, before, after)
        elif token.kind == "US" and token.text.islower() and not _is_system(tokens, at):
            token.kind = "WORD"
        elif (
            token.kind == "HASH"
            and after
            and after.text == "."
            and at + 2 < len(tokens)
            and tokens[at + 2].kind == "NUM"
        ):
            after.kind = "SPENT"
        elif token.kind == "HASH" and not (after and after.kind == "NUM"):
            token.kind = "WORD"
        elif token.kind == "NAN" and token.text != "NaN" and not (after and after.kind in _UNIT_KINDS):
            token.kind = "WORD"
        elif token.kind == "WORD" and token.lower in ("double", "doubled", "triple"):
            if before and before.lower in ("nothing", "not", "never", "no"):
                continue
            token.kind, token.value = "STRANDED", 3 if token.lower == "triple" else 2


def _settle_quote(tokens: list[Token], at: int, before: Token | None) -> None:
    token = tokens[at]
    if before and before.kind in ("NUM",) and before.end == token.start:
        if token.text == "'":
            doubled = at + 1 < len(tokens) and tokens[at + 1].text == "'" and tokens[at + 1].start == token.end
            if not doubled:
                return
            tokens[at + 1].kind = "SPENT"
        token.kind, token.value = "SHORT", "in"


_CROSSED = [["NUM", by, "NUM"] for by in ("X", "BY")]
_GAUGED = [[kind, over, "NUM"] for kind in ("STS", "ROWS") for over in ("OVER", "TO", "PER", "SLASH", "IN", "EQ")]


def _no_yarn(after: Token | None) -> bool:
    """Whether what comes after ``8 x 10 in`` is no yarn, class or unit that those 8 x 10 might be in."""
    return after is None or after.kind not in ("CLASS", "NAME", "NUM", "ARTICLE", "THE", *_UNIT_KINDS)


def _settle_in(token: Token, before: Token | None, after: Token | None, *, measuring: bool) -> None:
    """``in`` is inches glued to a number, after ``/`` or per, where a measure must end or is begun before it."""
    if not before:
        return
    glued = before.kind == "NUM" and before.end == token.start
    rated = before.kind in ("SLASH", "PER")
    ends = before.kind in ("NUM", "RPAR") and (
        after is None
        or after.kind in _AFTER_IN
        or after.lower == "x"
        or after.lower in word_list("garments")
        or after.lower in ("diameter", "around", "chest", "circumference", "in", "into", "wide", "long", "square")
        or after.lower in word_list("in_before")
    )
    if glued or rated or measuring or ends:
        token.kind, token.value = "SHORT", "in"


def _one_of_several(tokens: list[Token], word: Token) -> bool:
    """Whether ``small`` or ``medium`` stands among other sizes: in capitals, or each with a number near it."""
    counted = [t for i, t in enumerate(tokens) if t.kind in ("SIZEWORD", "SZ") and _number_near(tokens, i)]
    others = sum(other.kind == "SIZEWORD" or (other.kind == "SZ" and len(other.text) > 2) for other in tokens)
    return (others > 2 and word.text[0].isupper()) or (len(counted) > 2 and word in counted)


def _number_near(tokens: list[Token], at: int) -> bool:
    """Whether a number comes within two tokens: ``medium 790``, ``Small needs 720``."""
    return any(token.kind == "NUM" for token in tokens[at + 1 : at + 3])


def _settle_size(tokens: list[Token], at: int, before: Token | None, after: Token | None) -> None:
    """A lone capital S, M or L is a size; m after a number is metres unless sizes stand around it."""
    token = tokens[at]
    sized = before is not None and before.kind in ("SIZE", "SIZES")
    sized = sized or (
        before is not None and before.kind == "COLON" and at > 1 and tokens[at - 2].kind in ("SIZES", "SIZE")
    )
    sized = sized or (after is not None and after.kind in ("SIZE",) and before is not None and before.kind != "NUM")
    in_list = before is not None and before.kind in (
        "LPAR",
        "COMMA",
        "SLASH",
        "DASH",
        "RPAR",
        "SZ",
        "SEMI",
        "AND",
    )
    in_list = in_list and any(other.kind == "SZ" for other in tokens[max(0, at - 4) : at])
    if token.kind == "SIZEWORD":
        named = sized or in_list or (after is not None and after.kind == "SIZE") or _one_of_several(tokens, token)
        token.kind, token.value = ("SZ", token.text) if named else ("WORD", None)
        return
    if token.kind == "LEN":  # m
        follows_size = (
            at > 1 and before is not None and before.kind == "NUM" and tokens[at - 2].kind == "SZ" and token.text == "M"
        )
        lone = token.text == "M" and (
            before is None or before.kind not in ("NUM", "RPAR", "SLASH", "PER") or follows_size
        )
        listed = in_list and before is not None and before.kind in ("LPAR", "COMMA", "SLASH")
        if sized or lone or (in_list and token.text == "M") or listed:
            token.kind, token.value = "SZ", token.text
        return
    capital = token.text in ("S", "L")
    if token.text in ("s", "l") and not in_list:
        return
    if sized or in_list or token.kind == "SIZENAME" or (capital and not (before is not None and before.lower == "'")):
        token.kind, token.value = "SZ", token.text


_PRONOUN_BEFORE = frozenset({"tell", "give", "let", "lets", "show", "for", "to", "of", "with", "both", "made", "from"})


def _is_system(tokens: list[Token], at: int) -> bool:
    before = tokens[at - 1].lower if at else ""
    number_near = (at + 1 < len(tokens) and tokens[at + 1].kind in ("NUM", "SIZE", "HASH", "NEEDLE")) or (
        at > 0 and tokens[at - 1].kind == "NUM"
    )
    return (number_near and before not in _PRONOUN_BEFORE) or before in ("in", "to", "or", "and", "into")
