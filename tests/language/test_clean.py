"""Cleaning: one character for one, so that every span points at what was typed; marks and controls are blank."""

from __future__ import annotations

import unicodedata
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from yarnchat.language.clean import NO_BREAK, clean, printable
from yarnchat.language.scan import scan

from .texts import broken, sentences

ANY = st.text(st.characters())
CONTROLS = {"Cc", "Cf", "Cs", "Mn", "Me"}


@given(ANY | broken())
def test_the_length_is_kept(text: str) -> None:
    assert len(clean(text)) == len(text)


@given(ANY | broken())
def test_cleaning_is_done_once(text: str) -> None:
    assert clean(clean(text)) == clean(text)


@given(ANY | broken())
def test_no_mark_and_no_control_is_left(text: str) -> None:
    assert not {char for char in clean(text) if unicodedata.category(char) in CONTROLS} - {"\n"}


@given(ANY | broken())
def test_printable_text_has_one_line(text: str) -> None:
    assert not {char for char in printable(text) if unicodedata.category(char) in CONTROLS}
    assert printable(text) == " ".join(printable(text).split())


@pytest.mark.parametrize(
    ("typed", "plain"),
    [
        ("4½ in", "4½ in"),  # normal form KC would make it 41/2
        ("420 yd²", "420 yd²"),
        ("１２００ yd", "1200 yd"),
        ("18–20 sts", "18-20 sts"),
        ("4″ × 4″", '4" x 4"'),
        ("“Moth Lane”", '"Moth Lane"'),
        ("1\u202f200 m", f"1{NO_BREAK}200 m"),
        ("420\u200byd", "420 yd"),
        ("cafe\u0301", "cafe "),
        ("\x1b[31mred\x1b[0m", "     red    "),
        ("a\u202eb", "a b"),
        ("two\nlines\tand a tab", "two\nlines and a tab"),
        ("fingering → DK", "fingering → DK"),
        ("10⁄2", "10/2"),
    ],
)
def test_cleaned(typed: str, plain: str) -> None:
    assert clean(typed) == plain


@given(sentences() | broken() | ANY)
def test_spans_are_in_order_and_cover_every_letter_and_digit(text: str) -> None:
    plain = clean(text)
    spans = [(token.start, token.end) for token in scan(plain)]
    assert all(start < end for start, end in spans)
    assert all(before[1] <= after[0] for before, after in pairwise(spans))
    covered = {at for start, end in spans for at in range(start, end)}
    assert [char for at, char in enumerate(plain) if char.isalnum() and at not in covered] == []


@given(sentences())
def test_a_token_says_what_its_span_says(text: str) -> None:
    """Joined words keep one blank and a possessive stays apart: else the text of a token is the text of its span."""
    plain = clean(text)
    for token in scan(plain):
        said = "".join(token.text.split()).lower()
        spanned = "".join(plain[token.start : token.end].split()).lower()
        assert said.replace("-", "") == spanned.replace("-", "").replace(".", "") or said == spanned


@pytest.mark.parametrize(
    ("text", "typed"),
    [
        ("a ½ skein", ["½"]),
        ("１２００ yd\u200b, 4½ in", ["１２００", "4½"]),
        ("🧶 900 m", ["900"]),
        ("e\u0301e\u0301 210 yd", ["210"]),
    ],
)
def test_spans_point_at_what_was_typed(text: str, typed: list[str]) -> None:
    assert [text[token.start : token.end] for token in scan(clean(text)) if token.kind == "NUM"] == typed
