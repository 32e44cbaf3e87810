"""What is shown while a question is typed: how it reads so far, what it lacks, and which stretch plays which role."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from yarnchat.abilities import abilities
from yarnchat.abilities.base import Context
from yarnchat.live import LONGEST, LiveReading, reading_so_far, shortened, spans
from yarnchat.notebook import Notebook, NotebookError
from yarnchat.queries import Yarn

QUESTION = "1200 yd worsted pattern in 420 yd/100 g fingering?"
BITS = st.sampled_from(
    [
        *("1200 yd", "worsted", "pattern", "in", "420 yd/100 g", "fingering", "5 (6, 7)", "skeins", "of", "DK", "½"),
        *("I have", "enough", "for", "swatch", "15 by 15 cm", "0", "-3 g", "how many", "US 8", "remember", "undo"),
        *("held double", "size 3", "M", "Dunnock Tweed", '"', "(", ")", "/", "\n", "22 sts to 4 in", "60 %", "hat"),
    ]
)  # fmt: skip
TYPED = st.one_of(st.text(max_size=60), st.lists(BITS, max_size=12).map(" ".join))


@pytest.fixture(scope="module")
def nothing_kept() -> Context:
    """An empty notebook."""
    return Context(lambda: Notebook(":memory:"))


def lacks(text: str, context: Context, continuing: bool = False) -> str:
    """What a text lacks."""
    return reading_so_far(text, context, continuing).missing


def test_the_question_grows_as_it_is_typed(nothing_kept: Context) -> None:
    assert reading_so_far("", nothing_kept) == LiveReading()
    assert reading_so_far(QUESTION[:23], nothing_kept) == LiveReading("pattern: 1,200 yd of worsted", "In which yarn?")
    assert reading_so_far(QUESTION[:30], nothing_kept) == LiveReading(
        "pattern: 1,200 yd of worsted", "What does “420” stand for?"
    )
    assert reading_so_far(QUESTION, nothing_kept) == LiveReading(
        "pattern: 1,200 yd of worsted; yarn: fingering, 420 yd/100 g"
    )


@pytest.mark.parametrize(
    ("text", "missing"),
    [
        ("hello there", ""),
        ("mine is DK", "How much does the pattern take?"),
        ("how many skeins for 1200 yd?", "How much is on one skein?"),
        ("is 5 skeins enough for 1200 yd?", "How much is 5 skeins?"),
        ("list my yarns", ""),
    ],
)
def test_what_is_missing(text: str, missing: str, nothing_kept: Context) -> None:
    assert lacks(text, nothing_kept) == missing


def test_a_follow_up_may_leave_out_what_was_said_before(nothing_kept: Context) -> None:
    assert lacks("and in DK?", nothing_kept) == "How much does the pattern take?"
    assert lacks("and in DK?", nothing_kept, continuing=True) == ""
    assert lacks("1200 yd of worsted", nothing_kept, continuing=True) == "In which yarn?"


def test_what_is_remembered_is_not_missing(nothing_kept: Context) -> None:
    text = "900 m of Dunnock Tweed in aran"
    assert lacks(text, nothing_kept)
    book = Notebook(":memory:")
    book.remember_yarn(Yarn(name="Dunnock Tweed", weight_class="dk"))
    assert lacks(text, Context(lambda: book)) == ""


def test_reading_ahead_writes_nothing() -> None:
    book = Notebook(":memory:")
    context = Context(lambda: book)
    for text in (example for ability in abilities().values() for example in ability.examples):
        reading_so_far(text, context)
    assert book.names() == ()
    assert book.settings() == Notebook(":memory:").settings()


def test_a_notebook_that_cannot_be_read_is_no_trouble() -> None:
    def broken() -> Notebook:
        raise NotebookError("It cannot be read.")

    assert lacks(QUESTION, Context(broken)) == ""


def test_a_long_paste_waits_until_it_is_asked(nothing_kept: Context) -> None:
    long = QUESTION + " " * LONGEST
    assert reading_so_far(long, nothing_kept) == LiveReading()
    assert spans(long) == ()


@pytest.mark.parametrize(
    ("text", "roles"),
    [
        (
            QUESTION,
            [("1200 yd", "quantity"), ("worsted", "class"), ("420 yd/100 g", "quantity"), ("fingering", "class")],
        ),
        ("Dunnock Tweed,\n22 sts to 4 in", [("Dunnock Tweed", "name"), ("22 sts to 4 in", "quantity")]),
        ("5½ skeins – “Sea Moss” ½", [("5½ skeins", "quantity"), ("“Sea Moss”", "name")]),
        ("what about 7", []),
        ("", []),
    ],
)
def test_roles(text: str, roles: list[tuple[str, str]]) -> None:
    assert [(text[span.start : span.end], span.role) for span in spans(text)] == roles


@given(TYPED)
def test_spans_stand_in_the_text_in_order(text: str) -> None:
    places = [place for span in spans(text) for place in (span.start, span.end)]
    assert places == sorted(places)
    assert all(0 <= place <= len(text) for place in places)


@given(TYPED, st.booleans())
def test_anything_half_typed_reads_without_trouble(nothing_kept: Context, text: str, continuing: bool) -> None:
    live = reading_so_far(text, nothing_kept, continuing)
    assert (live.text + live.missing).replace("\n", "?").isprintable()


@given(st.text("ab ", max_size=90), st.text("cd ", max_size=60), st.integers(10, 200))
def test_both_parts_fit_one_line(text: str, missing: str, width: int) -> None:
    said, lacking = shortened(LiveReading(text, missing), width)
    assert len(said) + len(lacking) + (2 if said and lacking else 0) <= width
    assert lacking == missing or len(missing) > width


def test_a_narrow_line_keeps_what_is_missing() -> None:
    live = LiveReading("pattern: 1,200 yd of worsted", "In which yarn?")
    assert shortened(live, 80) == ("I read: pattern: 1,200 yd of worsted", "In which yarn?")
    assert shortened(live, 40) == ("I read: pattern: 1,20...", "In which yarn?")
    assert shortened(live, 10) == ("", "In whic...")
