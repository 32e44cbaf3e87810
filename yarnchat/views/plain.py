"""Text for a terminal: its width in cells, wrapping, and what to write where an encoding lacks a sign."""

from __future__ import annotations

import codecs
import re
import unicodedata
from functools import cache

NARROWEST, WIDEST = 40, 200

_INSTEAD = {
    "–": "-", "—": "-", "−": "-", "×": "x", "÷": "/", "·": "-", "…": "...", "→": "->", "≈": "about",
    "±": "+/-", "‘": "'", "’": "'", "“": '"', "”": '"', "′": "'", "″": '"', "⁄": "/", "√": "sqrt ",
    "½": "1/2", "¼": "1/4", "¾": "3/4", "⅓": "1/3", "⅔": "2/3", "⅛": "1/8", "²": "^2", "³": "^3",
    "£": "GBP ", "€": "EUR ", "¥": "JPY ", "≤": "<=", "≥": ">=", "\u00a0": " ",
}  # fmt: skip


_ODD = re.compile("[^\\u0000-\\u02ff\\u2000-\\u206f\\u2190-\\u22ff]")
"""Signs outside the blocks in which every sign takes one column: Latin, punctuation, arrows and mathematics."""


def cells(text: str) -> int:
    """How many columns of a terminal the text takes: two where wide or full-width (Unicode Annex 11)."""
    return len(text) if _one_each(text) else sum(_cells_of(char) for char in text)


def _one_each(text: str) -> bool:
    """Whether every sign takes one column, as far as its block tells."""
    return text.isascii() or not _ODD.search(text)


def pad(text: str, width: int, right: bool = False) -> str:
    """The text with blanks up to ``width`` columns, set left or right."""
    blanks = " " * (width - cells(text))
    return blanks + text if right else text + blanks


def wrap(text: str, width: int, first: str = "", rest: str = "") -> list[str]:
    """Lines of at most ``width`` columns, opened by ``first``, then ``rest``; a word too long is cut."""
    plain = _one_each(text)
    if cells(first) + (len(text) if plain else cells(text)) <= width:
        return [first + text]
    lines: list[str] = []
    line, used, indent, empty = first, cells(first), cells(rest), True
    for word in text.split(" "):
        wide = len(word) if plain else cells(word)
        if not empty and used + 1 + wide > width:
            lines.append(line)
            line, used, empty = rest, indent, True
        if not empty:
            line, used = line + " ", used + 1
        while used + wide > width:
            taken = _fitting(word, width - used)
            lines.append(line + word[:taken])
            line, used, word = rest, indent, word[taken:]
            wide = cells(word)
        line, used, empty = line + word, used + wide, False
    return [*lines, line]


def clamp(width: int) -> int:
    """A width the views can fill, whatever a terminal says."""
    return min(max(width, NARROWEST), WIDEST)


def register_fallback() -> str:
    """The name of an encoding error handler that writes a plain spelling, or "?"."""
    codecs.register_error("yarnchat-plain", _plain_spelling)
    return "yarnchat-plain"


def _plain_spelling(error: UnicodeError) -> tuple[str, int]:
    if not isinstance(error, UnicodeEncodeError):
        raise error
    return "".join(_spelt(char) for char in error.object[error.start : error.end]), error.end


def _spelt(char: str) -> str:
    if char in _INSTEAD:
        return _INSTEAD[char]
    bare = unicodedata.normalize("NFKD", char)[0]
    return bare if bare.isascii() else "?"


@cache
def _cells_of(char: str) -> int:
    if unicodedata.combining(char):
        return 0
    return 2 if unicodedata.east_asian_width(char) in "WF" else 1


def _fitting(word: str, room: int) -> int:
    """How many characters of a word fit, at least one."""
    used = 0
    for index, char in enumerate(word):
        used += _cells_of(char)
        if used > room:
            return max(index, 1)
    return len(word)
