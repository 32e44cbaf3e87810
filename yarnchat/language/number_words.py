"""Numbers in words, made numbers where what follows can be counted: ``two and a half balls``, ``the 2nd size``."""

from __future__ import annotations

from dataclasses import dataclass

from yarnchat.language.composed import MULTIPLES, hundreds, number_run, total
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
        found = _read(tokens, at, numbers, parts) if begins else None
        if found:
            value, end = found
            first, last = token, tokens[end - 1]
            words = " ".join(part.text for part in tokens[at:end])
            if out and out[-1].lower in ("minus", "negative"):
                value, first = -value, out.pop()
            out.append(Token("NUM", words, first.start, last.end, readings=((value,),), note=words))
            at = end + _hyphened(tokens, end)
        elif begins and (end := _price_or_length(tokens, at, numbers)):
            words = " ".join(part.text for part in tokens[at:end])
            out.append(Token("ODDWORD", words, token.start, tokens[end - 1].end))
            at = end
        else:
            out.append(token)
            at += 1
    return out


def _read(tokens: list[Token], at: int, numbers: dict[str, float], parts: dict[str, float]) -> tuple[float, int] | None:
    """The number in words that begins here and where it ends; None where none does."""
    alone = _one(tokens, at) or _decimal(tokens, at, numbers)
    return alone or _half(tokens, at, numbers, parts) or _spelt(tokens, at, numbers, parts)


def _price_or_length(tokens: list[Token], at: int, numbers: dict[str, float]) -> int:
    """``four fifty a ball``: where words end that may be 4.50 or 450; 0 where they are no such."""
    words, end = number_run(tokens, at, numbers)
    return end if hundreds(words, numbers) else 0


def _hyphened(tokens: list[Token], at: int) -> bool:
    """``one-ounce balls``: whether a hyphen joins a number to its unit."""
    return kind_at(tokens, at) == "DASH" and kind_at(tokens, at + 1) in UNIT_KINDS


def _listed(tokens: list[Token]) -> bool:
    """Whether numbers stand in a list over sizes: ``6 (6, 7, 8)``."""
    kinds = [token.kind for token in tokens]
    commas = any(kinds[at : at + 3] == ["NUM", "COMMA", "NUM"] for at in range(len(kinds)))
    return commas or any(kinds[at : at + 4] == ["NUM", "SLASH", "NUM", "SLASH"] for at in range(len(kinds)))


A_FEW_WORDS = 6
"""A text no longer than this that ends with a place in a row asks for that one."""
_ENDINGS = frozenset({"st", "nd", "rd", "th"})


def ordinals(tokens: list[Token]) -> list[Token]:
    """``the 2nd size``, ``1st contrast``: a place; ``21st`` elsewhere may be stitches, and ``5th`` a birthday."""
    out: list[Token] = []
    for at, token in enumerate(tokens):
        if token.lower not in _ENDINGS:
            out.append(token)
            continue
        number = out[-1] if out else None
        ending = token.lower != "st" or (number and number.text == "1")
        sized = at + 1 < len(tokens) and tokens[at + 1].lower in word_list("in_places")
        alone = len(tokens) <= A_FEW_WORDS  # and the 4th?
        sized = sized or (at > 1 and tokens[at - 2].kind == "THE" and (alone or _listed(tokens)))
        whole = number and number.kind == "NUM" and number.text.isdecimal() and number.end == token.start
        if number and whole and ending and sized:
            out[-1] = Token("ORDINAL", number.text + token.text, number.start, token.end, value=int(number.text))
        else:
            out.append(token)
    return out


def _one(tokens: list[Token], at: int) -> tuple[float, int] | None:
    """``a pound of wool``, ``an ounce of the grey``: one of a mass."""
    kinds = [kind_at(tokens, on) for on in range(at, at + 3)]
    return (1.0, at + 1) if kinds == ["ARTICLE", "MASS", "OF"] else None


def _decimal(tokens: list[Token], at: int, numbers: dict[str, float]) -> tuple[float, int] | None:
    """``one point five``: a number with the digits that are said behind its point."""
    words, end = number_run(tokens, at, numbers)
    if not words or lower_at(tokens, end) != "point":
        return None
    digits: list[str] = []
    while (digit := numbers.get(lower_at(tokens, end + 1 + len(digits)), 10.0)) < 10:
        digits.append(f"{digit:.0f}")
    return (float(f"{total(words, numbers):.0f}.{''.join(digits)}"), end + 1 + len(digits)) if digits else None


def _half(tokens: list[Token], at: int, numbers: dict[str, float], parts: dict[str, float]) -> tuple[float, int] | None:
    """``2 and a half``, ``half a``, ``half of a``, ``a quarter of a`` before a unit."""
    token = tokens[at]
    if token.kind == "NUM" and lowers(tokens, at + 1, 3)[:2] == ["and", "a"] and at + 3 < len(tokens):
        part = parts.get(tokens[at + 3].lower)
        if part and token.readings:
            value = token.readings[0][0] + part
            times = [numbers[word] for word in lowers(tokens, at + 4, 1) if word in MULTIPLES]
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
    if end < len(tokens) and tokens[end].lower in MULTIPLES:
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
    words, end = number_run(tokens, begin, numbers)
    if not words or (words == ["one"] and lower_at(tokens, end) == "stitch"):
        return None
    last = words[-1]
    if last == "pair" or (hundreds(words, numbers) and kind_at(tokens, end) in ("ARTICLE", "EACH", "PER")):
        return None
    whole = total(words, numbers)
    value, end = _and_a_part(tokens, end, whole, numbers, parts)
    if last == "dozen" and value != whole:  # a dozen and a half
        value = whole + 12 * (value - whole)
    if last in ("couple", "dozen") and lower_at(tokens, end) == "of":
        end += 1
    while lower_at(tokens, end) in _BESIDE_A_NUMBER:
        end += 1
    spelt = _Spelt(tokens, begin, end, numbers)
    if value % 1:
        return value, end  # six and a half is no pronoun
    read = (*_COUNTING, *(_COUNTING_SEVERAL if value != 1.0 else ()))
    return (value, end) if any(counts(spelt) for counts in read) else None


_SHORT = 6
"""So many words are all of a text in which a number may stand alone."""
_BESIDE_A_NUMBER = frozenset({"full", "whole", "more", "other", "complete", "new", "unopened", "untouched"})
"""Words between a number and what it counts: ``two more whole balls``."""


def _and_a_part(
    tokens: list[Token], end: int, value: float, numbers: dict[str, float], parts: dict[str, float]
) -> tuple[float, int]:
    """The value and its end with ``and a half`` added, and then ``thousand`` or ``dozen`` times it."""
    ahead = lowers(tokens, end, 3)
    if ahead[:2] == ["and", "a"] and ahead[-1] in parts:
        value, end = value + parts[ahead[-1]], end + 3
    elif ahead[:2] == ["and", "half"]:
        value, end = value + 0.5, end + 2
    elif ahead[:2] == ["and", "three"] and ahead[-1] in ("quarter", "quarters"):
        value, end = value + 0.75, end + 3
    if value % 1 and (times := lower_at(tokens, end)) in MULTIPLES:  # one and a half thousand
        value, end = value * numbers[times], end + 1
    return value, end


@dataclass(frozen=True, slots=True)
class _Spelt:
    """A number in words, ``tokens[begin:end]``, among what stands around it."""

    tokens: list[Token]
    begin: int
    end: int
    numbers: dict[str, float]

    def kind(self, ahead: int = 0) -> str:
        """The kind of the token right after it, or so many further on."""
        return kind_at(self.tokens, self.end + ahead)

    def word(self, ahead: int = 0) -> str:
        """The word right after it, or so many further on."""
        return lower_at(self.tokens, self.end + ahead)

    @property
    def before(self) -> str:
        """The word right before it."""
        return (self.tokens[self.begin - 1].lower.split() or [""])[-1] if self.begin else ""

    @property
    def last(self) -> str:
        """Its own last word: ``two more``."""
        return self.tokens[self.end - 1].lower

    def ends(self, *kinds: str) -> bool:
        """Whether the text, its sentence or a part of it ends here, or one of these kinds follows."""
        return self.kind() in ("", "STOP", "COMMA", *kinds)


def _of_a_size(spelt: _Spelt) -> bool:
    """``size one only``."""
    return bool(spelt.begin) and spelt.tokens[spelt.begin - 1].kind == "SIZE"


def _of_a_unit(spelt: _Spelt) -> bool:
    """``two skeins``, ``three ply``, ``four (five, six) skeins``."""
    hyphened = spelt.kind() == "DASH" and (spelt.word(1) == "ply" or spelt.kind(1) in UNIT_KINDS)
    listed = _bracketed_words(spelt.tokens, spelt.begin, spelt.end, spelt.numbers)
    return spelt.kind() in UNIT_KINDS or hyphened or listed


def _one_whole(spelt: _Spelt) -> bool:
    """``one full 100 g skein``."""
    whole = spelt.end > spelt.begin + 1 and spelt.last in _BESIDE_A_NUMBER
    return whole and spelt.kind() == "NUM" and "SKEIN" in (spelt.kind(1), spelt.kind(2))


def _more_or_left(spelt: _Spelt) -> bool:
    """``what if I buy one more``, ``three skeins used and one left``."""
    if spelt.last == "more" and len(spelt.tokens) <= _SHORT + 2:
        return True
    more = spelt.last in ("more", "other") or spelt.word() in word_list("left_over")
    return more and any(token.kind == "SKEIN" for token in spelt.tokens)


def _after_a_verb(spelt: _Spelt) -> bool:
    """``if I've got two already``, ``I'm making two of them``, ``mine comes out at eighteen``, ``a dozen less two``."""
    if spelt.before in word_list("taking_off") or spelt.before == "times":
        return True
    if spelt.before in word_list("had") and (spelt.ends() or spelt.word() in word_list("had_after")):
        return True
    if spelt.before in word_list("working") and spelt.ends("AND"):
        return True
    if spelt.before in word_list("knits_at") and spelt.ends("AND"):
        return True  # and I get six
    if spelt.before == "for" and spelt.kind() in ("", "STOP"):
        return True  # a hat takes 200 m, how much for two?
    named = kind_at(spelt.tokens, spelt.begin - 1) in ("AT", "HOLD") if spelt.begin else False
    taken = spelt.word() in ("i", "we") and spelt.word(1) in word_list("taking")  # what if it's three I take
    return named and (spelt.ends() or taken)


def _alone(spelt: _Spelt) -> bool:
    """``sorry, ten I meant``, ``someone took one. with six then?``: in a short text with no other number."""
    if any(token.kind == "NUM" for token in spelt.tokens):
        return False
    ends = spelt.ends() or (spelt.word() == "then" and spelt.kind(1) in ("", "STOP"))
    closes = spelt.before in word_list("before_the_last") and ends and len(spelt.tokens) <= 2 * _SHORT
    return closes or len(spelt.tokens) <= _SHORT


def _of_several(spelt: _Spelt) -> bool:
    """``two of five stripes``, ``four of my seven skeins``: so many of another number."""
    of = 1 + (spelt.word(1) in word_list("whose") or spelt.word(1) == "the")
    if spelt.kind() == "OF" and (spelt.kind(of) == "NUM" or spelt.word(of) in spelt.numbers):
        return True
    some = spelt.begin - 2
    of_some = some >= 0 and (kind_at(spelt.tokens, some) == "NUM" or lower_at(spelt.tokens, some) in spelt.numbers)
    return of_some and spelt.before == "of" and spelt.word() in word_list("parts_of_work")


def _of_them(spelt: _Spelt) -> bool:
    """``four of those``, ``four of the 115 m ones``, ``two of them are promised``, ``seven of us``."""
    of_some = spelt.word(1) in (*word_list("pointed_at"), "it", "em", "us") or spelt.kind(1) in ("NUM", "THE")
    of_some = of_some or lowers(spelt.tokens, spelt.end + 1, 2) == ["'", "em"]  # eighteen of 'em
    return spelt.kind() == "OF" and of_some and spelt.before != "the"  # what do the two of them make


def _of_things(spelt: _Spelt) -> bool:
    """``two scarves``, ``two cushion covers``, ``would three be enough``, ``two sleeves take 150 m each``."""
    word = spelt.word()
    if word in made_several() | word_list("counted_of"):
        return True
    if spelt.kind() in ("WORD", "CLASS") and spelt.word(1) in made_several():
        return True
    each = any(token.kind == "EACH" or token.lower == "every" for token in spelt.tokens)
    return each and word.removesuffix("s") in word_list("of_a_pair") | word_list("people")


def _of_colours(spelt: _Spelt) -> bool:
    """``five contrast colours``, ``two CCs``, where so much of each is told."""
    noun = 1 if spelt.word() in word_list("which_colours") else 0
    each = any(token.kind == "EACH" for token in spelt.tokens)
    return each and spelt.word(noun) in word_list("several_colours")


def _of_a_rate(spelt: _Spelt) -> bool:
    """``twenty-two to 4 inches``, ``balls that have a hundred and forty in them``, ``three 50 g balls``."""
    if spelt.kind() == "NUM" or spelt.word() in spelt.numbers:
        return True  # three 50 g balls, thirteen one-ounce balls
    if spelt.kind(1) == "NUM" and spelt.kind() in ("TO", "OVER", "IN", "PER"):
        return True
    on_it = spelt.kind() in ("IN", "ON") and spelt.word(1) in ("em", "them", "each", "it")
    return on_it or (spelt.kind() == "ARTICLE" and spelt.kind(1) == "SKEIN")  # has a hundred and twenty a ball


def _of_a_weight(spelt: _Spelt) -> bool:
    """``two worsted balls``, ``two worsteds at once``, ``hold two aran together``."""
    behind = lowers(spelt.tokens, spelt.end + 1, 2)
    held = behind == ["at", "once"] or behind[:1] == ["together"] or behind == ["held", "together"]
    return spelt.kind() == "CLASS" and (spelt.kind(1) in ("SKEIN", "STRAND") or held)


def _used_or_gone(spelt: _Spelt) -> bool:
    """``but two and a half are already in the sleeves``."""
    return spelt.word() in ("are", "is", "were") and spelt.word(1) in word_list("used_or_gone")


_COUNTING = (_of_a_size, _of_a_unit, _one_whole, _more_or_left)
"""What may follow any number in words, so that it is read as one."""
_COUNTING_SEVERAL = (
    _after_a_verb,
    _alone,
    _of_several,
    _of_them,
    _of_things,
    _of_colours,
    _of_a_rate,
    _of_a_weight,
    _used_or_gone,
)
"""And what may follow all but one, which is oftener a pronoun."""


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
