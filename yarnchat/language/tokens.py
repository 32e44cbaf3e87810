"""Tokens: the pieces of a text, and what stands at a place among them."""

from __future__ import annotations

from dataclasses import dataclass, field

from yarnchat.language.lexicon import Value

UNIT_KINDS = frozenset(
    {"LEN", "SHORT", "MASS", "SKEIN", "STRAND", "STRANDED", "STS", "ROWS", "PLY", "WPI", "CUR", "PERCENT"}
)
"""The kinds of tokens that can be counted."""


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
    """The text in small letters, ligatures taken apart."""

    def __post_init__(self) -> None:
        self.lower = in_small(self.text)


_LIGATURES = str.maketrans({"\ufb00": "ff", "\ufb01": "fi", "\ufb02": "fl", "\ufb03": "ffi", "\ufb04": "ffl"})
"""Two or three letters printed as one, as text out of a PDF has them."""


def in_small(text: str) -> str:
    """A text in small letters, its ligatures taken apart."""
    return text.lower() if text.isascii() else text.lower().translate(_LIGATURES)


def lowers(tokens: list[Token], at: int, count: int) -> list[str]:
    """So many tokens' texts in lower case, fewer at the end."""
    return [token.lower for token in tokens[at : at + count]]


def lower_at(tokens: list[Token], at: int) -> str:
    """A token's text in lower case, or "" past the end."""
    return tokens[at].lower if at < len(tokens) else ""


def kind_at(tokens: list[Token], at: int) -> str:
    """A token's kind, or "" past the end."""
    return tokens[at].kind if at < len(tokens) else ""
