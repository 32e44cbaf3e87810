"""What a phrase's value is: every phrase of the seen dialogues against the table that tells its kind's type."""

from __future__ import annotations

import re
from functools import cache
from types import UnionType
from typing import Any, get_args, get_origin

import pytest

from yarnchat.language.phrases import Phrase
from yarnchat.language.reader import prepared
from yarnchat.quantity import Quantity
from yarnchat.queries import Gauge, Needle, Price, PutUp, Series

from .dialogues import dialogues, groups

TYPES = {kind.__name__: kind for kind in (Gauge, Needle, Price, PutUp, Quantity, Series, float, int, str, tuple)}
TABLE = {
    kind: eval(written, {**TYPES})
    for kinds, written in re.findall(r"^    ([a-z].*?)  +(\S.*)$", Phrase.__doc__ or "", re.MULTILINE)
    for kind in re.sub(r" \(.*\)", "", kinds).split(", ")
}


def is_of(value: Any, kind: Any) -> bool:
    """Whether a value is of a type, looked at as deep as the type goes; a whole number is no float here."""
    if isinstance(kind, UnionType):
        return any(is_of(value, one) for one in get_args(kind))
    if get_origin(kind) is not tuple:
        return type(value) is kind
    first, *others = get_args(kind)
    kinds = [first] * len(value) if others == [...] else [first, *others]
    return type(value) is tuple and len(value) == len(kinds) and all(map(is_of, value, kinds))


@cache
def met() -> list[Phrase]:
    """The phrases of all seen dialogues."""
    turns = [turn for group in groups("seen") for row in dialogues("seen", group) for turn in row.turns]
    return [phrase for turn in turns if "say" in turn for phrase in prepared(str(turn["say"]))[0].phrases]


def test_a_phrase_has_the_value_its_table_tells() -> None:
    assert {(p.kind, repr(p.value)) for p in met() if p.kind not in TABLE or not is_of(p.value, TABLE[p.kind])} == set()


def test_every_kind_of_the_table_is_met() -> None:
    assert {phrase.kind for phrase in met()} == set(TABLE)


@pytest.mark.parametrize(
    ("value", "kind", "so"),
    [
        ((1.0, None), tuple[float, float | None], True),
        ((1.0, "a"), tuple[float, float | None], False),
        ((("S", "M"), "a"), tuple[tuple[str, ...], str], True),
        ((("S", 1), "a"), tuple[tuple[str, ...], str], False),
        (("S",), tuple[str, str], False),
        (3, float, False),
    ],
)
def test_the_check_sees_a_value_of_another_type(value: Any, kind: Any, so: bool) -> None:
    assert is_of(value, kind) == so
