"""Hard snippets: the phrases each holds, in order, none missing and none besides."""

from __future__ import annotations

import codecs
from pathlib import Path

import pytest

from .notation import expected, found

SNIPPETS = Path(__file__).parent.parent.parent / "fixtures" / "phrases.tsv"


def rows() -> list[tuple[str, str]]:
    """Text and phrases of each row, escapes put back."""
    lines = SNIPPETS.read_text(encoding="ascii").splitlines()
    pairs = [line.split("\t") for line in lines if not line.startswith("# ")]
    return [(codecs.decode(text, "unicode_escape"), phrases) for text, phrases in pairs]


def test_there_are_snippets() -> None:
    assert len({text for text, _ in rows()}) == len(rows()) >= 171


@pytest.mark.parametrize(("text", "phrases"), rows())
def test_phrases(text: str, phrases: str) -> None:
    assert found(text) == expected(phrases)
