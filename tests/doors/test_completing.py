"""Which words are offered at the cursor, and where nothing is."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from yarnchat.abilities import abilities
from yarnchat.completing import UNITS, next_words
from yarnchat.knowledge.classes import classes
from yarnchat.language.lexicon import vocabulary
from yarnchat.language.scan import scan

NAMES = ("Dunnock DK", "Moss", "Harbour Tweed")
CLASSES = [weight.label for weight in classes()]


def offered(before: str, names: tuple[str, ...] = ()) -> list[str]:
    """The lines that choosing each word would make."""
    return [before[: len(before) - word.typed] + word.text for word in next_words(before, names)]


def kinds(before: str) -> set[str]:
    """The kinds of words offered."""
    return {word.kind for word in next_words(before, NAMES)}


@pytest.mark.parametrize(
    ("before", "lines"),
    [
        ("  undo", []),
        ("1200 y", ["1200 yd", "1200 yards"]),
        ("100g", ["100grams"]),
        ("420 yd/100 ", ["420 yd/100 g", "420 yd/100 oz", "420 yd/100 lb"]),
        ("50 g/120 ", ["50 g/120 yd", "50 g/120 m"]),
        ("22 sts to 4 ", ["22 sts to 4 in", "22 sts to 4 cm"]),
        ("8 by 70 ", ["8 by 70 in", "8 by 70 cm"]),
        ("US 8 ", ["US 8 needles"]),
        ("5 (6, 7) sk", ["5 (6, 7) skeins"]),
        ("size 3 ", []),
        ("£4.50 ", []),
        ("22 sts to ", []),
        ("22 sts to 4 in ", []),
        ("I want to ", []),
        ("1200 yd wor", ["1200 yd worsted"]),
        ("in double k", ["in double knitting", "in double knit"]),
        ("skeins of yarn in super b", ["skeins of yarn in super bulky"]),
        ("in 420 yd/100 g fin", ["in 420 yd/100 g fingering", "in 420 yd/100 g fine"]),
        ("Yarn: DK\nin j", ["Yarn: DK\nin jumbo"]),
        ("hello the", []),
    ],
)
def test_what_is_offered(before: str, lines: list[str]) -> None:
    assert offered(before) == lines


@pytest.mark.parametrize(("before", "some"), [("how m", ["how many", "how much"]), ("SWA", ["swap", "swatch"])])
def test_openings_that_go_on_are_offered(before: str, some: list[str]) -> None:
    lines = offered(before)
    assert all(line.casefold().startswith(before.casefold()) for line in lines)
    assert set(some) <= set(lines) == {line for line in offered("") if line.casefold().startswith(before.casefold())}


@pytest.mark.parametrize("before", ["1200 yd worsted pattern in ", "swap it to ", "skeins of ", "put it into my "])
def test_every_class_and_every_name_can_follow(before: str) -> None:
    lines = offered(before, NAMES)
    assert lines == [before + word for word in [*CLASSES, "Dunnock DK", '"Moss"', "Harbour Tweed"]]


def test_names_alone_follow_forget() -> None:
    assert offered("forget ", NAMES) == ["forget Dunnock DK", 'forget "Moss"', "forget Harbour Tweed"]
    assert offered('forget "mo', NAMES) == ['forget "Moss"']


@pytest.mark.parametrize(
    ("before", "kind"),
    [("", "question"), ("1200 ", "unit"), ("1200 yd ", "weight"), ("forget ", "yours")],
)
def test_only_one_kind_of_word_can_stand_there(before: str, kind: str) -> None:
    assert kinds(before) == {kind}


def test_a_name_offered_is_read_as_a_name() -> None:
    for line in offered("in ", NAMES)[len(CLASSES) :]:
        assert [token.kind for token in scan(line)] == ["IN", "NAME"]


def test_every_opening_begins_an_example() -> None:
    examples = [example for ability in abilities().values() for example in ability.examples]
    openings = offered("")
    assert len(openings) > 10
    assert all(any(example.startswith(opening) for example in examples) for opening in openings)


def test_every_unit_offered_is_a_word_the_reader_knows() -> None:
    known = vocabulary()
    assert [word for unit in UNITS for word in unit if word not in known and word != "in"] == []


@given(st.text('in of to 1200yd/g"(), ', max_size=400), st.lists(st.text(max_size=20), max_size=3))
def test_any_text_before_the_cursor_will_do(before: str, names: list[str]) -> None:
    for word in next_words(before, names):
        assert 0 <= word.typed <= len(before)
