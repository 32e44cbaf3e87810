"""Names as people type them: cleaned for keeping, and folded for comparing."""

from __future__ import annotations

import unicodedata

from yarnchat.notebook.errors import NotebookError

LONGEST = 120
_JOINERS = "\u200c\u200d"
_UNSEEN = ("Cc", "Cf", "Cs", "Zl", "Zp")


def clean(text: str) -> str:
    """Text without control, direction or half characters, spaces collapsed, composed (Unicode NFC)."""
    spaced = "".join(" " if char.isspace() else char for char in text)
    seen = (char for char in spaced if char in _JOINERS or unicodedata.category(char) not in _UNSEEN)
    return unicodedata.normalize("NFC", " ".join("".join(seen).split()))


def clean_name(text: str | None) -> str:
    """A name to keep; NotebookError where nothing is left of it or it is longer than 120 characters."""
    name = clean(text or "")
    if not key(name):
        raise NotebookError("That needs a name: say what to call it, for example Dunnock DK.")
    if len(name) > LONGEST:
        raise NotebookError(f"That name has {len(name)} characters; the most is {LONGEST}. Shorten it.")
    return name


def key(name: str) -> str:
    """What two spellings of one name share: case and spacing do not count."""
    text = clean(name)
    for joiner in _JOINERS:
        text = text.replace(joiner, "")
    return " ".join(unicodedata.normalize("NFC", text.casefold()).split())
