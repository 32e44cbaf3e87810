"""What must never be in an answer: characters that steer a terminal or turn text about."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterator

from yarnchat import Answer

DIRECTIONS = frozenset({"LRE", "RLE", "PDF", "LRO", "RLO", "LRI", "RLI", "FSI", "PDI"})
"""Unicode's bidirectional formatting characters, by their class (Unicode Standard Annex 9)."""


def unsafe(answer: Answer) -> list[str]:
    """The texts of an answer, ``asked`` aside, that hold a control or direction character."""
    said = answer.model_dump(mode="json") | {"asked": "", "headline": answer.headline}
    return [text for text in texts(said) if any(_steers(char) for char in text)]


def texts(value: object) -> Iterator[str]:
    """Every text in a JSON value, keys included."""
    if isinstance(value, str):
        yield value
    elif isinstance(value, dict):
        for key, inner in value.items():
            yield str(key)
            yield from texts(inner)
    elif isinstance(value, list):
        for inner in value:
            yield from texts(inner)


def _steers(char: str) -> bool:
    return unicodedata.category(char) in ("Cc", "Cs") or unicodedata.bidirectional(char) in DIRECTIONS
