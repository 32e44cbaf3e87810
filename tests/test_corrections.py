"""A number put in the place of another of the question before: queries by hand, no text read."""

from __future__ import annotations

import pytest

from yarnchat.corrections import corrected
from yarnchat.quantity import Quantity
from yarnchat.queries import Colour, Holding, Needle, Progress, PutUp, Query, Series, Yarn
from yarnchat.refusals import Refusal


def dk(metres: float) -> Yarn:
    """DK of so many metres a skein."""
    return Yarn(weight_class="dk", class_as_said="DK", put_up=PutUp(Quantity(metres, "m")))


BEFORE = Query(
    colours=(Colour("", (Series((1200.0,), "m"),)),),
    pattern=Yarn(weight_class="worsted", needle=Needle("7", "us")),
    yarns=(dk(115),),
    stash=(Holding(8, "skein", dk(115)),),
    progress=Progress(rows_done=60, rows_total=140),
)


def test_the_need() -> None:
    found = corrected(BEFORE, 1200, 1300)
    assert found
    assert found.amounts == (Series((1300.0,), "m"),)


def test_rows_and_no_others() -> None:
    found = corrected(BEFORE, 140, 150)
    assert found
    assert found.progress == Progress(rows_done=60, rows_total=150)


def test_the_yarn_to_knit_with_is_that_of_the_stash() -> None:
    found = corrected(BEFORE, 115, 120)
    assert found
    assert (found.yarns, found.stash) == ((dk(120),), (Holding(8, "skein", dk(120)),))


def test_a_size_that_is_written() -> None:
    found = corrected(BEFORE, 7, 8)
    assert found
    assert found.pattern.needle == Needle("8", "us")


def test_what_stood_nowhere() -> None:
    assert corrected(BEFORE, 99, 100) is None


def test_what_stood_for_two_things_is_asked() -> None:
    twice = Query(colours=BEFORE.colours, pattern=Yarn(put_up=PutUp(Quantity(115, "m"))), yarns=(dk(115),))
    with pytest.raises(Refusal, match="stands for two things"):
        corrected(twice, 115, 120)
