"""Words whose kind depends on their neighbours: inches or in, metres or medium, double, US, x."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass

from yarnchat.language.lexicon import word_list
from yarnchat.language.tokens import UNIT_KINDS, Token

_AFTER_IN = frozenset(
    {
        "",
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


_NOTHING = Token("", "", 0, 0)
"""What stands before the first token, and after the last."""


@dataclass(frozen=True, slots=True)
class _Place:
    """A token, and what stands around it."""

    tokens: list[Token]
    at: int

    @property
    def token(self) -> Token:
        """The token to be settled."""
        return self.tokens[self.at]

    @property
    def before(self) -> Token:
        """The one right before it."""
        return self.tokens[self.at - 1] if self.at else _NOTHING

    @property
    def after(self) -> Token:
        """The one right after it."""
        return self.ahead(1)

    def ahead(self, by: int) -> Token:
        """The one so many further on."""
        return self.tokens[self.at + by] if self.at + by < len(self.tokens) else _NOTHING

    def behind(self, by: int) -> Token:
        """The one so many before it."""
        return self.tokens[self.at - by] if self.at >= by else _NOTHING


def settle(tokens: list[Token]) -> None:
    """Give every such token the kind it has here."""
    for at, token in enumerate(tokens):
        step = _BY_WORD.get(token.lower) or _BY_KIND.get(token.kind)
        if step:
            step(_Place(tokens, at))


def _settle_quote(place: _Place) -> None:
    """``12"``, ``12''``, ``6'``: inches or feet, right behind a number."""
    token = place.token
    if place.before.kind != "NUM" or place.before.end != token.start:
        return
    if token.text == "'":
        doubled = place.after.text == "'" and place.after.start == token.end
        if not doubled and _feet(place.tokens, place.at):
            token.kind, token.value = "SHORT", "ft"
        if not doubled:
            return
        place.after.kind = "SPENT"
    token.kind, token.value = "SHORT", "in"


def _settle_sock(place: _Place) -> None:
    """``my sock took 38 g``: a sock, and no weight of yarn."""
    if place.token.kind == "CLASS" and place.after.lower in word_list("took"):
        place.token.kind, place.token.value = "WORD", None


def _settle_person(place: _Place) -> None:
    """``a cardigan for the baby``, ``baby is asleep``, ``a new baby``: who it is for, and no weight of yarn."""
    noun = place.after.kind in ("SKEIN", "WEIGHT", "PLY") or place.after.lower in word_list("yarn_nouns")
    if place.token.kind != "CLASS" or noun:
        return
    owned = place.before.lower in word_list("whose") or place.before.lower.endswith("'s")
    whose = owned and place.behind(2).kind not in ("IN", "OF", "WITH")
    begins = place.before.kind in ("", "STOP", "NEWLINE") or place.before.text in ("?", "!")
    born = place.before.lower in word_list("before_a_person") or place.after.lower in word_list("behind_a_person")
    if whose or born or (begins and place.after.lower in ("is", "was", "has", "woke")):
        place.token.kind, place.token.value = "WORD", None


def _settle_tilde(place: _Place) -> None:
    """``50 g ~ 75 m``."""
    if place.before.kind in UNIT_KINDS:
        place.token.kind = "EQ"


def _settle_pounds(place: _Place) -> None:
    """``they cost 8 pounds each``: money, where it is spoken of, or where what a skein weighs is told in grams."""
    if place.before.kind != "NUM" or place.after.kind in ("OF", "NUM") or place.after.lower == "weight":
        return
    others = [token for token in place.tokens if token is not place.token]
    spoken = any(token.kind == "PRICE" or token.lower in word_list("money") for token in others)
    weighed = any(token.kind == "MASS" and token.value != "lb" for token in others)
    each = place.after.kind in ("EACH", "ARTICLE", "PER", "SLASH")
    if spoken or (weighed and each):
        place.token.kind, place.token.value = "CUR", "£"


def _settle_year(place: _Place) -> None:
    """``pattern (1962), 620 yds``, ``a 1950s leaflet``, ``late 40s``: a year in brackets or a decade, and no amount."""
    text, after = place.token.text, place.after
    decade = after.lower == "s" and after.start == place.token.end
    if not _YEAR.fullmatch(text) and not (decade and _DECADE.fullmatch(text)):
        return
    alone = place.before.kind == "LPAR" and after.kind == "RPAR"
    listed = place.behind(2).kind == "NUM" or place.ahead(2).kind in UNIT_KINDS or place.ahead(2).kind == "LPAR"
    if decade or (alone and not listed):
        place.token.kind = "WORD"


_YEAR = re.compile(r"1[89][0-9]{2}|20[0-4][0-9]")
_DECADE = re.compile(r"[2-9]0")


def _settle_pence(place: _Place) -> None:
    """``99p a ball``: money, right behind its number and before what it buys, or the end."""
    buys = place.after.kind in ("EACH", "ARTICLE", "PER", "SLASH", "", "STOP", "COMMA")
    if place.before.kind == "NUM" and place.before.end == place.token.start and buys:
        place.token.kind, place.token.value = "CUR", "p"


def _settle_age(place: _Place) -> None:
    """``sizes 2 years (4, 6, 8)``: what the first age of a list is counted in says nothing that the rest does not."""
    listed = [place.ahead(by).kind for by in (1, 2, 3)]
    sized = place.behind(2).kind in ("SIZE", "SIZES") or place.behind(3).kind in ("SIZE", "SIZES")
    if place.before.kind == "NUM" and sized and listed[:2] == ["LPAR", "NUM"] and listed[2] in _AMONG_AGES:
        place.token.kind = "SPENT"


_AMONG_AGES = frozenset({"COMMA", "SEMI", "SLASH", "COLON", "DASH", "RPAR"})


def _settle_same(place: _Place) -> None:
    """``over the same 4 inches``."""
    if place.before.kind == "THE" and place.after.kind == "NUM":
        place.token.kind = "SAME"


def _settle_ball(place: _Place) -> None:
    """``5 🧶`` are skeins; by itself the sign is an ornament."""
    if place.before.kind not in ("NUM", "EACH", "PER", "SLASH", "ARTICLE"):
        place.token.kind = "SIGN"


def _settle_x(place: _Place) -> None:
    """``8 x 10``, ``3 balls x 50 g``."""
    if place.before.kind in ("NUM", "SHORT", "LEN", "STS", "SKEIN", "RPAR") and place.after.kind == "NUM":
        place.token.kind, place.token.value = "X", None


def _settle_us(place: _Place) -> None:
    """``us`` in small letters is mostly a pronoun."""
    if place.token.text.islower() and not _is_system(place.tokens, place.at):
        place.token.kind = "WORD"


def _settle_hash(place: _Place) -> None:
    """``#.8`` drops its full stop; a ``#`` before no number is a word."""
    if place.after.text == "." and place.ahead(2).kind == "NUM":
        place.after.kind = "SPENT"
    elif place.after.kind != "NUM":
        place.token.kind = "WORD"


def _settle_nan(place: _Place) -> None:
    """``nan`` is a grandmother where no unit follows."""
    if place.token.text != "NaN" and place.after.kind not in UNIT_KINDS:
        place.token.kind = "WORD"


def _settle_strands(place: _Place) -> None:
    """``double``, ``doubled``, ``triple``: strands held together, where it is no name and is not denied."""
    token, before, after = place.token, place.before, place.after
    denied = before.lower in ("nothing", "not", "never", "no")
    a_thing = before.kind == "ARTICLE" and after.kind in ("", "COMMA")  # a pram size, and a double, 160 x 200 cm
    named = token.text.istitle() and after.kind == "WORD" and after.text.istitle()  # a yarn called Double Lacewing
    so_much = after.lower == "that" and token.lower == "double"  # double that: twice as much
    if token.kind == "WORD" and not (denied or a_thing or named or so_much):
        token.kind, token.value = "STRANDED", 3 if token.lower == "triple" else 2


def _feet(tokens: list[Token], at: int) -> bool:
    """Whether the prime after a number is feet: ``5'6"``, ``6' long``."""
    texts = [token.lower for token in tokens[at + 1 : at + 3]]
    inches = len(texts) == 2 and tokens[at + 1].kind == "NUM" and texts[1] in ('"', "''", "in", "inches", "ins")
    return inches or texts[:1] in (["wide"], ["long"], ["tall"], ["high"], ["deep"], ["across"], ["x"], ["by"])


_CROSSED = [["NUM", by, "NUM"] for by in ("X", "BY")]
_GAUGED = [[kind, over, "NUM"] for kind in ("STS", "ROWS") for over in ("OVER", "TO", "PER", "SLASH", "IN", "EQ")]
_GAUGED.append(["NUM", "STS", "NUM"])


def _settle_in(place: _Place) -> None:
    """``in`` is inches glued to a number, after ``/`` or per, where a measure must end or is begun before it."""
    before, after = place.before, place.after
    kinds = [place.behind(by).kind for by in (3, 2, 1)]
    glued = before.kind == "NUM" and before.end == place.token.start
    rated = before.kind in ("SLASH", "PER")
    measuring = kinds in _GAUGED or (kinds in _CROSSED and after.kind not in _A_YARN)
    listed = [place.behind(by) for by in (4, 3, 2, 1)]  # for the 40 in and 44 in I have only …
    listed_inches = [token.kind for token in listed] == ["NUM", "SHORT", "AND", "NUM"] and listed[1].value == "in"
    follows = after.kind in _AFTER_IN or after.lower in _OF_A_SIZE or listed_inches
    ends = follows or after.lower in word_list("garments") or after.lower in word_list("in_before")
    if glued or rated or measuring or (before.kind in ("NUM", "RPAR") and ends):
        place.token.kind, place.token.value = "SHORT", "in"


_A_YARN = frozenset({"CLASS", "NAME", "NUM", "ARTICLE", "THE", *UNIT_KINDS})
"""What comes after ``8 x 10 in`` where those 8 x 10 may be in a yarn, and not in inches."""
_OF_A_SIZE = frozenset(
    [
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
        "x",
    ]
)


def _one_of_several(tokens: list[Token], word: Token) -> bool:
    """Whether ``small`` or ``medium`` stands among other sizes: in capitals, or each with a number near it."""
    counted = [t for i, t in enumerate(tokens) if t.kind in ("SIZEWORD", "SZ") and _number_near(tokens, i)]
    others = sum(other.kind == "SIZEWORD" or (other.kind == "SZ" and len(other.text) > 2) for other in tokens)
    return (others > 2 and word.text[0].isupper()) or (len(counted) > 2 and word in counted)


def _number_near(tokens: list[Token], at: int) -> bool:
    """Whether a number comes within two tokens: ``medium 790``, ``Small needs 720``."""
    return any(token.kind == "NUM" for token in tokens[at + 1 : at + 3])


_BETWEEN_SIZES = frozenset({"LPAR", "COMMA", "SLASH", "DASH", "COLON", "RPAR", "SZ", "SEMI", "AND"})


def _settle_size(place: _Place) -> None:
    """A lone capital S, M or L is a size; m after a number is metres unless sizes stand around it."""
    token = place.token
    if token.kind == "LEN":
        sized = _settle_m(place)
    elif token.kind == "SIZEWORD":
        sized = _among_sizes(place) or _in_a_list(place) or _one_of_several(place.tokens, token)
        sized = sized or place.after.kind == "SIZE"
        token.kind, token.value = "WORD", None
    elif token.text in ("s", "l"):
        sized = _in_a_list(place)
    else:
        capital = token.text in ("S", "L") and place.before.lower not in ("'", *word_list("shades"))
        sized = capital or token.kind == "SIZENAME" or _among_sizes(place) or _in_a_list(place)
    if sized:
        token.kind, token.value = "SZ", token.text


def _settle_letter(place: _Place) -> None:
    """``Size A (B: C: D)``, ``Sizes I (II, III)``, and ``the C`` after: names of sizes, where their word leads."""
    if not place.token.text.isupper():
        return
    named = {token.text for token in place.tokens[: place.at] if token.kind == "SZ"}
    led = place.before.kind in ("SIZE", "SIZES") or (place.before.kind == "COLON" and place.behind(2).kind == "SIZES")
    listed = led and place.after.kind in ("LPAR", "COMMA", "SLASH", "COLON", "DASH")
    in_list = place.token.text != "I" and _in_a_list(place)
    goes_on = not named.isdisjoint("AI") and (in_list or place.before.kind in ("THE", "SIZE"))
    if listed or goes_on or _first_of_letters(place):
        place.token.kind, place.token.value = "SZ", place.token.text


def _first_of_letters(place: _Place) -> bool:
    """``A (B, C, D): 5 (6, 6, 7) skeins``: a list of letters from A on, those after it in brackets."""
    ahead = [place.ahead(by) for by in range(1, 5)]
    of_colours = place.before.lower in word_list("of_colours") | word_list("shades")
    return (
        not of_colours
        and place.token.text == "A"
        and ahead[0].kind == "LPAR"
        and [t.text for t in ahead[1::2]] == ["B", "C"]
    )


def _settle_m(place: _Place) -> bool:
    """Whether an m or M is a size and no metres."""
    capital = place.token.text == "M"
    follows_size = place.before.kind == "NUM" and place.behind(2).kind == "SZ"  # S 900 M 1000
    lone = place.before.kind not in ("NUM", "RPAR", "SLASH", "PER") or follows_size
    lone = lone and place.before.lower not in word_list("shades")  # main shade M
    rate = place.after.kind in ("SLASH", "PER") and (place.ahead(2).kind, place.ahead(3).kind) == ("NUM", "MASS")
    lone = lone and not rate  # WHAT'S THAT IN M/100 G
    listed = _in_a_list(place) and (capital or place.before.kind in ("LPAR", "COMMA", "SLASH"))
    return _among_sizes(place) or (capital and lone) or listed


def _among_sizes(place: _Place) -> bool:
    """``size M``, ``sizes: M``, ``the M size``."""
    headed = place.before.kind == "COLON" and place.behind(2).kind in ("SIZES", "SIZE")
    ahead = place.after.kind == "SIZE" and place.before.kind not in ("", "NUM")
    return place.before.kind in ("SIZE", "SIZES") or headed or ahead


def _in_a_list(place: _Place) -> bool:
    """Whether it stands in a list of which one before it is a size."""
    near = place.tokens[max(0, place.at - 4) : place.at]
    return place.before.kind in _BETWEEN_SIZES and any(other.kind == "SZ" for other in near)


_PRONOUN_BEFORE = frozenset({"tell", "give", "let", "lets", "show", "for", "to", "of", "with", "both", "made", "from"})


def _is_system(tokens: list[Token], at: int) -> bool:
    before = tokens[at - 1].lower if at else ""
    number_near = (at + 1 < len(tokens) and tokens[at + 1].kind in ("NUM", "SIZE", "HASH", "NEEDLE")) or (
        at > 0 and tokens[at - 1].kind == "NUM"
    )
    return (number_near and before not in _PRONOUN_BEFORE) or before in ("in", "to", "or", "and", "into")


_Step = Callable[[_Place], None]

_BY_WORD: dict[str, _Step] = {
    **dict.fromkeys(('"', "''", "'"), _settle_quote),
    **dict.fromkeys(("double", "doubled", "triple"), _settle_strands),
    **dict.fromkeys(("s", "m", "l"), _settle_size),
    **dict.fromkeys(("i", "ii", "iii", "iv", "v", "vi", *"abcdefgh"), _settle_letter),
    **dict.fromkeys(("pound", "pounds"), _settle_pounds),
    **dict.fromkeys(word_list("ages"), _settle_age),
    "in": _settle_in,
    "sock": _settle_sock,
    "baby": _settle_person,
    "~": _settle_tilde,
    "same": _settle_same,
    "x": _settle_x,
    "p": _settle_pence,
    "🧶": _settle_ball,
}
_BY_KIND: dict[str, _Step] = {
    **dict.fromkeys(("SIZENAME", "SIZEWORD"), _settle_size),
    "US": _settle_us,
    "HASH": _settle_hash,
    "NAN": _settle_nan,
    "NUM": _settle_year,
}
"""What settles a token, by its word or else by the kind the vocabulary gave it."""
