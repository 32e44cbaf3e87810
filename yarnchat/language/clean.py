"""Typed or pasted text made plain, character for character, so that every span still points at what was typed."""

from __future__ import annotations

import re
import unicodedata
from functools import cache

NO_BREAK = "\u00a0"
"""What no-break, narrow and thin spaces become: between digits it groups thousands, elsewhere it is a space."""

_ANSI = re.compile(r"\x1b(?:\[[0-?]*[ -/]*[@-~]|\][^\x07\x1b]*(?:\x07|\x1b\\)?|.)?")
_INVISIBLE = re.compile("[\u00ad\u200b\u2060\ufeff]")
_PAIRS = {
    "‐‑‒–—―−﹘": "-",
    "'‘’‚‛ʼʹ′`´": "'",
    "“”„‟″‶〃": '"',
    "×✕✖⨯": "x",
    "⁄∕": "/",
    "{": "(",
    "}": ")",
    "\u00a0\u202f\u2009\u2008\u2007\u2006": NO_BREAK,
    "、": ",",
    "：": ":",
    "→⇒➔➜➡⟶": "\u2192",
}
_TABLE = {ord(char): plain for chars, plain in _PAIRS.items() for char in chars}
_TABLE |= {code: chr(code - 0xFEE0) for code in range(0xFF01, 0xFF5F)}


def clean(text: str) -> str:
    """The same text, same length: dashes, quotes, odd spaces and full-width letters plain, marks and controls blank.

    A row of a table (cells between tabs or bars) is written as a list with its heading: ``Size: S/M/L``.
    """
    if "\t" in text or "|" in text:
        text = _ROW.sub(_listed, text)
    if "   " in text:
        text = _COLUMNS.sub(_columns_listed, text)
    text = _RUN.sub(_run_listed, text)
    text = _UNIT_FIRST.sub(r"\g<number> \g<unit>", text)
    text = _PASTED.sub(_blanked, text)
    text = _JOINED_GAUGE.sub(lambda found: found.group().replace("-", " "), text)
    if not _bare(text):
        text = _ANSI.sub(lambda found: " " * len(found.group()), text).translate(_TABLE)
    return text if _bare(text) else "".join(_plain(char) for char in text)


_ROW = re.compile(r"^[ ]*\|(?:[^|\n]*\|){3,}[ ]*$|^[^\t\n]+(?:\t[^\t\n]+){2,}$", re.MULTILINE)


def _listed(row: re.Match[str]) -> str:
    """The row with a colon after its first cell and slashes between the others, as long as it was."""
    text = row.group()
    mark = "\t" if "\t" in text else "|"
    places = [at for at, char in enumerate(text) if char == mark]
    outer = {places[0], places[-1]} if mark == "|" else set()
    inner = [at for at in places if at not in outer]
    signs = dict.fromkeys(outer, " ") | dict.fromkeys(inner, "/") | {inner[0]: ":"}
    return "".join(signs.get(at, char) for at, char in enumerate(text))


_COLUMNS = re.compile(r"(?<=[^\s0-9])[ ]{2,}[0-9][0-9.,]*(?:[ ]{2,}[0-9][0-9.,]*){2,}[ ]*$", re.MULTILINE)
"""Numbers in columns at the end of a line, two blanks or more between them."""


_RUN = re.compile(
    r"(?<![0-9.,/-])(?<![0-9] )[0-9]{1,4}(?: [0-9]{1,4})+ (?:and )?[0-9]{1,4}"
    r"(?= (?:yards|yds|yd|metres|meters|m|g|grams|skeins|balls|hanks)\b)",
    re.IGNORECASE,
)
"""Three numbers or more with a blank between them, or ``and`` before the last: ``900 1000 and 1150 yards``."""


_UNIT_FIRST = re.compile(
    r"(?<![0-9)] )(?<![0-9)\w])(?P<unit>gr|mt) "
    r"(?P<number>[0-9]+(?: ?\([0-9]+(?: ?[-–,:/] ?[0-9]+)*\))?)"
    r"(?![0-9.,]*[0-9])(?! ?(?:gr|mt|g|m|cm|mm)\b)"
)
"""A unit before its number, as Italian leaflets have it: ``gr 50 = mt 120``, ``gr 350 (400 - 450)``."""


_JOINED_GAUGE = re.compile(r"\b[0-9.]+-st(?:s|itch|itches)?-(?:to|per)-(?:the-|an-)?inch\b", re.IGNORECASE)
"""A gauge in one word: ``5-st-to-the-inch``."""


def _run_listed(run: re.Match[str]) -> str:
    """The numbers with slashes between them, where each is no smaller than the one before and none is far off."""
    values = [int(number) for number in run.group().split() if number.isdecimal()]
    grows = values == sorted(values) and values[0] > 0 and values[-1] <= 5 * values[0]
    return _GAP.sub(lambda gap: "/".ljust(len(gap.group())), run.group()) if grows else run.group()


_GAP = re.compile(r" (?:and )?")


def _columns_listed(row: re.Match[str]) -> str:
    """Numbers in columns with a colon before them and slashes between, as long as they were: ``8   9   10``."""
    text = row.group()
    parts = re.sub(r"(?<=[0-9]) (?= *[0-9])", "/", text)
    return parts.replace(" ", ":", 1)


_PASTED = re.compile(
    r"</?(?:b|i|u|p|a|br|em|strong|span|div|ul|ol|li|td|tr|th|table|h[1-6]|font|small)(?: ?/)?>"
    r"|^[ ]*>+(?=[ ])"
    r"|(?<=\S )\.{5,}(?= )|(?<=\w)\.{5,}(?=[ ]?\w)",
    re.MULTILINE | re.IGNORECASE,
)
"""What pasting leaves of other programs: tags, marks of a quoted letter, dots that lead to a column."""


def _blanked(mark: re.Match[str]) -> str:
    """As many blanks; leading dots are a colon."""
    text = mark.group()
    return ":" + " " * (len(text) - 1) if text.startswith(".") else " " * len(text)


def _bare(text: str) -> bool:
    """Whether all of it is plain ASCII that shows."""
    return text.isascii() and text.isprintable()


_OUTSIDE = re.compile(r"[^ -~–×²³½¼¾·…“”‘’£€±≤≥]")
"""Anything but plain ASCII and the signs our own sentences use."""


def printable(text: str) -> str:
    """Text from outside, safe to print: no control or direction characters, runs of white space as one blank."""
    if _bare(text) or not _OUTSIDE.search(text):
        return (re.sub(r" +", " ", text) if "  " in text else text).strip()
    shown = _ANSI.sub("", text)
    kept = (" " if char.isspace() else char for char in shown if _harmless(char))
    return re.sub(r" +", " ", "".join(kept)).strip()


def _plain(char: str) -> str:
    if char in ("\n", NO_BREAK):
        return char
    if char.isdecimal() and not char.isascii():
        return str(unicodedata.decimal(char))
    if char.isspace() or _INVISIBLE.match(char) or not _harmless(char):
        return " "
    return char


@cache
def _harmless(char: str) -> bool:
    if char.isspace():
        return True
    return unicodedata.category(char) not in ("Cc", "Cf", "Cs", "Co", "Cn", "Me", "Mn")
