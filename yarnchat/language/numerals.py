"""Numbers in digits: how they are spelt, and every way to read each."""

from __future__ import annotations

import re
from fractions import Fraction

from yarnchat.language.clean import NO_BREAK
from yarnchat.language.tokens import Token

MAX_DIGITS = 12
_MAX_CHARACTERS = 80

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
PART = f"[{''.join(_VULGAR)}]"
"""A fraction in one sign."""
_FRACTION = rf"(?:{PART}|(?<![0-9]/)(?:1|2|3|5|7|9|11|13|15)/(?:2|3|4|5|8|16)(?![0-9/.]))"
NUMERAL = rf"""
    (?P<mixed>[0-9]+(?:[ {NO_BREAK}]|-|\ ?&\ ?)?{_FRACTION})
  | (?P<part>{_FRACTION})
  | (?P<spaced>[0-9]{{1,3}}(?:[{NO_BREAK}'][0-9]{{3}})+(?![0-9])|[0-9]{{1,3}}\ 000(?![0-9]))
  | (?P<european>[0-9]{{1,3}}(?:\.[0-9]{{3}})+,[0-9]{{1,2}}(?![0-9,]))
  | (?P<commas>[0-9]+(?:,[0-9]+)+(?:\.[0-9]+)?)
  | (?P<dots>[0-9]+(?:\.[0-9]+){{2,}})
  | (?P<plain>[0-9]*\.[0-9]+|[0-9]+)
"""
"""One number, for a verbose pattern; the name of the group that matched says how it is spelt."""
_THOUSAND = re.compile(r"k(?![a-z])", re.IGNORECASE)


def numeral(found: re.Match[str]) -> Token:
    """The token of a match of ``NUMERAL``: LONGNUM where it is too long, ODDNUM where no reading is sure."""
    kind = found.lastgroup or ""
    text, shown, (at, end) = found.string, found[kind], found.span(kind)
    token = Token("NUM", shown, at, end)
    if len(shown) > MAX_DIGITS and (_longest_run(shown) > MAX_DIGITS or len(shown) > _MAX_CHARACTERS):
        return Token("LONGNUM", shown, at, end)
    if kind in ("mixed", "part"):
        token.readings = () if _glued_part(shown) else ((_mixed(shown),),)
    elif kind == "spaced":
        token.readings = ((float(re.sub(rf"[ {NO_BREAK}']", "", shown)),),)
    elif kind == "european":
        token.readings = ((float(shown.replace(".", "").replace(",", ".")),),)
    elif kind == "commas":
        token.readings = tuple(_commas(shown))
    elif kind == "dots":
        thousands = re.fullmatch(r"[0-9]{1,3}(?:\.[0-9]{3})+", shown)
        token.readings = ((float(shown.replace(".", "")),),) if thousands else ()
    else:
        token.readings = ((float(shown),),)
        if "." in shown and re.fullmatch(r"[1-9][0-9]{0,2}\.[0-9]{3}", shown):
            token.readings += ((float(shown.replace(".", "")),),)
    if not token.readings:
        token.kind = "ODDNUM"
    thousand = _THOUSAND.match(text, end)
    if thousand and kind == "plain":
        token.readings, token.end = ((float(shown) * 1000,),), thousand.end()
        token.text = text[at : token.end]
        token.lower = token.text.lower()
    return token


def _longest_run(shown: str) -> int:
    """How many digits stand together at most."""
    return max(len(run) for run in re.findall(r"[0-9]+", shown) or [""])


def _glued_part(shown: str) -> bool:
    """``21/2``: two and a half without its blank, or ten and a half; ``15/16`` can only be a part."""
    found = re.fullmatch(r"([0-9]+)([0-9])/([0-9]+)", shown)
    return bool(found and int(found[1] + found[2]) > int(found[3]) > int(found[2]))


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
