"""Words whose kind depends on their neighbours: inches or in, metres or medium, double, US, x."""

from __future__ import annotations

from yarnchat.language.lexicon import word_list
from yarnchat.language.tokens import UNIT_KINDS, Token

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
        "ON",
        "BY",
        "IN",
        "TO",
        "AND",
        "CHEST",
        "COLON",
    }
)


_UNSETTLED = frozenset({"in", "x", "same", "double", "doubled", "triple", *_SIZE_LETTERS})
"""The words without a kind of their own among them."""


def settle(tokens: list[Token]) -> None:
    """Give every such token the kind it has here."""
    for at, token in enumerate(tokens):
        if token.kind == "WORD" and token.lower not in _UNSETTLED:
            continue
        before = tokens[at - 1] if at else None
        after = tokens[at + 1] if at + 1 < len(tokens) else None
        if token.text == '"' or token.text == "''" or (token.text == "'" and before and before.kind == "NUM"):
            _settle_quote(tokens, at, before)
        elif token.lower == "in":
            kinds = [earlier.kind for earlier in tokens[max(0, at - 3) : at]]
            _settle_in(token, before, after, measuring=kinds in _GAUGED or (kinds in _CROSSED and _no_yarn(after)))
        elif token.kind == "CLASS" and token.lower == "sock" and after and after.lower in word_list("took"):
            token.kind, token.value = "WORD", None  # my sock took 38 g
        elif token.text == "~" and before and before.kind in UNIT_KINDS:
            token.kind = "EQ"  # 50 g ~ 75 m
        elif token.lower == "same":
            if before and after and before.kind == "THE" and after.kind == "NUM":
                token.kind = "SAME"  # over the same 4 inches
        elif token.lower == "x":
            if before and after and before.kind in ("NUM", "SHORT", "STS", "SKEIN", "RPAR") and after.kind == "NUM":
                token.kind, token.value = "X", None
        elif token.lower in _SIZE_LETTERS or token.kind in ("SIZENAME", "SIZEWORD"):
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
        elif token.kind == "NAN" and token.text != "NaN" and not (after and after.kind in UNIT_KINDS):
            token.kind = "WORD"
        elif token.kind == "WORD" and token.lower in ("double", "doubled", "triple"):
            if before and before.lower in ("nothing", "not", "never", "no"):
                continue
            if before and before.kind == "ARTICLE" and (after is None or after.kind == "COMMA"):
                continue  # a pram size, and a double, 160 x 200 cm
            if token.text.istitle() and after and after.kind == "WORD" and after.text.istitle():
                continue  # a yarn called Double Lacewing
            token.kind, token.value = "STRANDED", 3 if token.lower == "triple" else 2


def _settle_quote(tokens: list[Token], at: int, before: Token | None) -> None:
    token = tokens[at]
    if before and before.kind in ("NUM",) and before.end == token.start:
        if token.text == "'":
            doubled = at + 1 < len(tokens) and tokens[at + 1].text == "'" and tokens[at + 1].start == token.end
            if not doubled and _feet(tokens, at):
                token.kind, token.value = "SHORT", "ft"
            if not doubled:
                return
            tokens[at + 1].kind = "SPENT"
        token.kind, token.value = "SHORT", "in"


def _feet(tokens: list[Token], at: int) -> bool:
    """Whether the prime after a number is feet: ``5'6"``, ``6' long``."""
    texts = [token.lower for token in tokens[at + 1 : at + 3]]
    inches = len(texts) == 2 and tokens[at + 1].kind == "NUM" and texts[1] in ('"', "''", "in", "inches", "ins")
    return inches or texts[:1] in (["wide"], ["long"], ["tall"], ["high"], ["deep"], ["across"], ["x"], ["by"])


_CROSSED = [["NUM", by, "NUM"] for by in ("X", "BY")]
_GAUGED = [[kind, over, "NUM"] for kind in ("STS", "ROWS") for over in ("OVER", "TO", "PER", "SLASH", "IN", "EQ")]


def _no_yarn(after: Token | None) -> bool:
    """Whether what comes after ``8 x 10 in`` is no yarn, class or unit that those 8 x 10 might be in."""
    return after is None or after.kind not in ("CLASS", "NAME", "NUM", "ARTICLE", "THE", *UNIT_KINDS)


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
        or after.lower
        in (
            "diameter",
            "around",
            "sample",
            "size",
            "bust",
            "chest",
            "circumference",
            "in",
            "into",
            "wide",
            "long",
            "square",
            "across",
        )
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
