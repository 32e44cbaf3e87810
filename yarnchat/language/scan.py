"""Clean text to tokens: numbers with every reading they have, known words by kind, names whole."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable, Iterator
from functools import cache

from yarnchat.language.lexicon import Entry, Table, load, split_words, vocabulary, word_list
from yarnchat.language.number_words import number_words, ordinals
from yarnchat.language.numerals import NUMERAL, PART, numeral
from yarnchat.language.settling import settle
from yarnchat.language.tokens import UNIT_KINDS, Token, in_small, lower_at

_PIECE = re.compile(
    rf"""
    [^\S\n]*+
  (?:
    (?P<dotted>(?<![^\W_])(?:[A-Za-z]\.){{2,}})
  | (?P<word>(?:cm|in|mm)(?=x[0-9])|(?!{PART})[^\W\d_]+(?:'[^\W\d_]+)*)
  | {NUMERAL}
  | (?P<has>(?<=[^\W\d_])'[sS](?![^\W\d_]))
  | (?P<sign>.)
  )
    """,
    re.VERBOSE | re.DOTALL,
)
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
    "≈": "EQ",
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


class Names:
    """Names of yarns she remembers, laid out for looking up: made once for as long as they stay."""

    def __init__(self, names: Iterable[str] = ()) -> None:
        self.by_first_word: Table = {}
        for name in names:
            if words := split_words(name):
                self.by_first_word.setdefault(words[0], []).append(Entry(words, "NAME", name))
        for rows in self.by_first_word.values():
            rows.sort(key=lambda entry: -len(entry.words))


NO_NAMES = Names()


def scan(text: str, names: Names = NO_NAMES) -> list[Token]:
    """Tokens of a clean text, in order; all but white space is in one."""
    tokens = _without_about(_pieces(text))
    tokens = _names(tokens, text, names.by_first_word)
    tokens = _known(tokens, vocabulary())
    tokens = ordinals(number_words(tokens))
    settle(tokens)
    return _whole_signs(tokens)


_LINKS = frozenset({"=", "/", "(", "[", ":"})


def _without_about(tokens: list[Token]) -> list[Token]:
    """``50 g = approx. 150 m``: about, between a sign and its number, made a part of the sign."""
    out: list[Token] = []
    at = 0
    while at < len(tokens):
        end = at + 1
        if out and out[-1].text in _LINKS and tokens[at].lower in word_list("about"):
            end += lower_at(tokens, end) == "."
            if end < len(tokens) and tokens[end].kind == "NUM":
                out[-1].end = tokens[end - 1].end
                at = end
                continue
        out.append(tokens[at])
        at += 1
    return out


def _whole_signs(tokens: list[Token]) -> list[Token]:
    """Signs that settling has taken into the token before them made a part of it: the second prime of ``4''``."""
    if all(token.kind != "SPENT" for token in tokens):
        return tokens
    out: list[Token] = []
    for token in tokens:
        if token.kind == "SPENT" and out:
            out[-1].text, out[-1].end = out[-1].text + token.text, token.end
            out[-1].lower = in_small(out[-1].text)
        else:
            out.append(token)
    return out


def _pieces(text: str) -> list[Token]:
    """A text cut into words, signs and numbers: every number has all the readings it could have."""
    tokens: list[Token] = []
    at = 0
    while found := _PIECE.match(text, at):
        kind = found.lastgroup or ""
        start, at = found.span(kind)
        shown = text[start:at]
        match kind:
            case "word" if shown.lower() == "ish" and _behind_a_number(tokens, start):
                del tokens[len(tokens) - (tokens[-1].kind == "DASH") :]
            case "word":
                tokens += _word(shown, start, at)
            case "sign":
                parts = shown in "·•" and tokens and tokens[-1].kind != "NEWLINE"  # 50 g · 85 m
                tokens.append(Token("COMMA" if parts else _SIGNS.get(shown) or _sign(shown), shown, start, at))
            case "dotted":  # y.d.s.
                tokens.append(Token("WORD", shown.replace(".", ""), start, at))
            case "has":  # the worsted's 210 yds a skein
                tokens.append(Token("HOLD", shown, start, at))
            case _:
                at = _add_number(tokens, numeral(found), text)
    return _unbroken(tokens)


def _behind_a_number(tokens: list[Token], start: int) -> bool:
    """Whether a number ends right before a place, or before a hyphen there: ``1200ish``, ``1200-ish``."""
    [*lead] = tokens[-2:]
    glued = bool(lead) and lead[-1].end == start
    if glued and lead[-1].kind == "DASH" and len(lead) == 2:
        return lead[0].kind == "NUM" and lead[0].end == lead[1].start
    return glued and lead[-1].kind == "NUM"


def _add_number(tokens: list[Token], number: Token, text: str) -> int:
    """Put a number behind the tokens, with its minus, or into the word it is glued to; where it ends."""
    if number.kind == "NUM" and _negative(tokens, number, text):
        number.readings = tuple(tuple(-value for value in reading) for reading in number.readings)
        number.text, number.start = "-" + number.text, tokens.pop().start
    if number.kind == "NUM" and tokens and _glued(tokens[-1], number):
        tokens[-1].text += number.text  # m1, k2tog, CC1: a number inside a word counts nothing
        tokens[-1].lower = in_small(tokens[-1].text)
        tokens[-1].end = number.end
    else:
        tokens.append(number)
    return number.end


def _word(shown: str, at: int, end: int) -> list[Token]:
    """A word; where it ends in ``'s`` and is a weight or a yarn, that says is or has: ``my aran's 80 m``."""
    if shown.isdigit():  # circled digits and the like: nobody can be sure of them
        return [Token("ODDNUM", shown, at, end)]
    if not shown.isascii() and len({_script(char) for char in shown if char.isalpha()} & _LOOKALIKES) > 1:
        return [Token("ODDWORD", shown, at, end)]
    owner = shown[:-2].lower() if shown.endswith(("'s", "'S")) else ""
    if owner and (owner in vocabulary() or owner in ("yarn", "wool", "one")):
        return [Token("WORD", shown[:-2], at, end - 2), Token("HOLD", shown[-2:], end - 2, end)]
    return [Token("WORD", shown, at, end)]


_LOOKALIKES = frozenset({"LATIN", "CYRILLIC", "GREEK"})
"""Scripts whose letters look alike: a word of two of them is not what it seems."""


@cache
def _script(letter: str) -> str:
    """The script of a letter."""
    return unicodedata.name(letter, "").split(" ")[0]


_LEFT_BEHIND = re.compile(r"[ ]?[a-z]+[ ](?:left|remaining|remain)\b", re.IGNORECASE)
"""Behind a colon a dash opens a list, and is a minus before what is left: ``balance: -35 g left``."""
_BEFORE_A_MINUS = frozenset({"i", "i've", "ive", "have", "got", "left", "need", "needs", "takes", "wants", "there's"})
"""Words with a capital behind which a dash is no list's: ``I've -200 yds``."""


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
        before.end < sign.start
        and before.kind not in ("NUM", "NEWLINE", "RPAR", "NAME", "SIGN")
        and (before.kind != "COLON" or bool(_LEFT_BEHIND.match(text, number.end)))
    )
    if not apart or before is None or before.kind != "WORD" or before.lower in _BEFORE_A_MINUS:
        return apart
    return before.text[0].islower() or (before.text.isupper() and text.isupper())  # Clover -3 balls, in a list


def _glued(word: Token, number: Token) -> bool:
    return word.kind == "WORD" and word.end == number.start and word.lower not in word_list("before_digits")


_MAY_BREAK = frozenset({"LPAR", "RPAR", "DASH", "NEWLINE", "STOP"})
"""The kinds of tokens that break what belongs together, or say whether others do."""


def _unbroken(tokens: list[Token]) -> list[Token]:
    """Line breaks inside brackets or between a number and its unit are blanks; ``231-yard`` is 231 yard."""
    out: list[Token] = []
    depth = 0
    for at, token in enumerate(tokens):
        if token.kind not in _MAY_BREAK:
            out.append(token)
            continue
        depth = max(0, depth + (token.kind == "LPAR") - (token.kind == "RPAR"))
        before = out[-1] if out else None
        after = tokens[at + 1] if at + 1 < len(tokens) else None
        glued = before and after and token.kind == "DASH" and before.end == token.start and token.end == after.start
        if (glued or token.kind == "NEWLINE") and before and before.kind == "NUM" and after and _is_unit(after):
            continue
        if token.text == "." and before and before.end == token.start and _shortened(before, tokens, at):
            continue
        if token.kind == "NEWLINE" and depth and any(t.kind == "RPAR" for t in tokens[at : at + 30]):
            continue
        out.append(token)
    return out


def _shortened(word: Token, tokens: list[Token], at: int) -> bool:
    """Whether a full stop only shortens the word before it: ``7 sts. and 9 rows``, ``abt. 400 yds. the hank``."""
    after = tokens[at + 1] if at + 1 < len(tokens) else None
    if after is None or word.lower not in word_list("shortened"):
        return False
    if after.kind == "NUM":
        return word.lower not in ("in", "m", "g")
    if after.kind in ("LPAR", "RPAR", "SLASH", "EQ", "COMMA") or after.text == '"':
        return True
    if not (after.text.islower() or (after.text.isupper() and word.text.isupper())):
        return False
    if after.lower in ("a", "the"):
        ends = lower_at(tokens, at + 3) in _ENDS_A_RATE or after.lower == "a"
        return at + 2 < len(tokens) and _is_skein(tokens[at + 2]) and ends
    if after.lower == "in":  # 1200 m. in my stash is …
        return lower_at(tokens, at + 2) in word_list("measured_in")
    goes_on = after.lower in ("per", "to", "and", "x", "each", "over", "of")
    of_a_skein = word.lower in word_list("short_masses") and _is_skein(after)
    return goes_on or (of_a_skein and lower_at(tokens, at + 2) not in word_list("holds"))  # 430 g. balls are 50 g


_ENDS_A_RATE = frozenset({"", ".", ",", ";", ")", "?", "\n", "and", "or", "so"})
"""What follows a skein where a rate ends with it: ``400 yds. the hank``, not ``… 870 yds. the skein in my hand is``."""


def _is_skein(token: Token) -> bool:
    return any(entry.kind == "SKEIN" and len(entry.words) == 1 for entry in vocabulary().get(token.lower, ()))


def _is_unit(token: Token) -> bool:
    return any(entry.kind in UNIT_KINDS and len(entry.words) == 1 for entry in vocabulary().get(token.lower, ()))


def _sign(char: str) -> str:
    """Circled and other odd digits are numbers nobody can be sure of; footnote marks are not."""
    return "ODDNUM" if char.isdigit() and char not in "¹²³⁰⁴⁵⁶⁷⁸⁹" else "SIGN"


# names ---------------------------------------------------------------------------------------------------------

_COLOUR_LABEL = re.compile(r"(?:mc|cc|c)\d?")
_INSIDE_NAMES = frozenset({"of", "the", "and", "de", "no"})


def _names(tokens: list[Token], text: str, known: Table) -> list[Token]:
    """Names she remembers, quoted names, and two or more capitalised words of which one is in no vocabulary."""
    shouted = shouting(text)
    out: list[Token] = []
    at = 0
    while at < len(tokens):
        token = tokens[at]
        remembered = match(tokens, at, known) if known and token.lower in known else None
        if remembered:
            entry, end = remembered
            last = tokens[end - 1].end
            out.append(Token("NAME", text[token.start : last], token.start, last, entry.value))
            at = end
        elif token.text == '"' and (end := _quoted_end(tokens, at)):
            inner = tokens[at + 1 : end - 1]
            out.append(_name(text, token.start, tokens[end - 1].end, inner[0].start, inner[-1].end))
            at = end
        elif not shouted and _capital(token) and (end := _capitals_end(tokens, at, text)):
            out.append(_name(text, token.start, tokens[end - 1].end, token.start, tokens[end - 1].end))
            at = end
        else:
            out.append(token)
            at += 1
    return out


def _name(text: str, start: int, end: int, inner: int, inner_end: int) -> Token:
    return Token("NAME", text[start:end], start, end, text[inner:inner_end])


def shouting(text: str) -> bool:
    """Whether most of a text is in capitals, so that they say nothing of a name."""
    letters = list(filter(str.isalpha, text))
    return bool(letters) and sum(map(str.isupper, letters)) > 0.6 * len(letters)


def _quoted_end(tokens: list[Token], at: int) -> int:
    """The end of a short quoted name that starts here, or 0. A quote right after a digit is inches."""
    if at and tokens[at - 1].kind == "NUM" and tokens[at - 1].end == tokens[at].start:
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
    """Where a name of capitalised words that begins here ends: two at least, one in no vocabulary; 0 for none."""
    first = tokens[at]
    if first.lower in word_list("titles") or _COLOUR_LABEL.fullmatch(first.lower):  # Mr Dunmore, CC1 Kelp
        return 0
    if (first.lower in _openers() and not _doubled_name(tokens, at)) or len(first.text) < 2:
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
    if any(word.lower in word_list("printed") for word in words):
        return 0  # TARNWICK LEAFLET 2217
    while words and words[-1].lower in _openers():
        last -= 1
        words.pop()
    if len(words) < 2:
        return 0
    return _with_number(tokens, last, text)


def _doubled_name(tokens: list[Token], at: int) -> bool:
    """``in Double Dutchess Fingering``: the double of a name, before a word with a capital that nobody knows."""
    after = tokens[at + 1] if at + 1 < len(tokens) else None
    unknown = after is not None and _capital(after) and after.lower not in vocabulary()
    return tokens[at].lower in ("double", "triple") and unknown


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


@cache
def _openers() -> frozenset[str]:
    """Words that open a sentence or a label with a capital and are no part of a name."""
    return frozenset(load("openers.toml")["openers"])


# known words ---------------------------------------------------------------------------------------------------


def match(tokens: list[Token], at: int, table: Table) -> tuple[Entry, int] | None:
    """The longest entry of the table whose words stand at this token, hyphens passed over, and where it ends."""
    return next(_matches(tokens, at, table), None)


def _matches(tokens: list[Token], at: int, table: Table) -> Iterator[tuple[Entry, int]]:
    """Every entry whose words stand at this token with where it ends, the longest first."""
    for entry in table.get(tokens[at].lower, ()):
        end = at + 1
        for word in entry.words[1:]:
            while end < len(tokens) and tokens[end].kind == "DASH":
                end += 1
            if end >= len(tokens) or tokens[end].lower != word or tokens[end].kind == "NEWLINE":
                break
            end += 1
        else:
            yield entry, end


def _meant(tokens: list[Token], at: int, table: Table) -> tuple[Entry, int] | None:
    """The longest entry that stands here, but for a thing that is none: the ``a sock`` of ``a sock yarn``."""
    found = _matches(tokens, at, table)
    return next((one for one in found if one[0].kind != "THING" or _is_a_thing(tokens, one[1], table)), None)


def _is_a_thing(tokens: list[Token], end: int, table: Table) -> bool:
    """Whether words of a thing speak of it, and not of a weight: not in ``a sock yarn``, ``a sport of 50 g``."""
    last = match(tokens, end - 1, table)
    if last is not None and last[0].kind == "CLASS" and lower_at(tokens, last[1]) in word_list("yarn_nouns"):
        return False
    return not (lower_at(tokens, end - 1) == "of" and end < len(tokens) and tokens[end].kind == "NUM")


def _known(tokens: list[Token], table: Table) -> list[Token]:
    """Words of the vocabulary given their kind, the longest spelling first; those of several words made one token."""
    out: list[Token] = []
    at = 0
    while at < len(tokens):
        token = tokens[at]
        if token.lower not in table or token.kind == "NAME":
            out.append(token)
            at += 1
            continue
        found = _meant(tokens, at, table)
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
            if last is token:
                token.kind, token.value = entry.kind, entry.value
                out.append(token)
            else:
                out.append(Token(entry.kind, _joined(tokens[at:end]), token.start, last.end, entry.value))
            at = end
        else:
            out.append(token)
            at += 1
    return out


def _joined(tokens: list[Token]) -> str:
    """The text of several tokens, with blanks between them where they stand apart."""
    touching = tokens[-1].end - tokens[0].start == sum(len(token.text) for token in tokens)
    return ("" if touching else " ").join(token.text for token in tokens)
