"""A report of any number of questions holds one answer at a time, in every form."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from weakref import ref

import pytest
from samples import COLOURS

from yarnchat.answers import Answer
from yarnchat.views import markdown, page, records, tables
from yarnchat.views.report import Asked, Entry
from yarnchat.views.text import render_report

QUESTIONS = 200


@pytest.mark.parametrize("render", [render_report, markdown.render, tables.render, records.render, page.render])
def test_answers_are_let_go_of(render: Callable[[Iterable[Entry]], Iterator[str]]) -> None:
    made: list[ref[Answer]] = []
    most = 0

    def answered() -> Iterator[Entry]:
        for _ in range(QUESTIONS):
            answer = COLOURS.model_copy(deep=True)
            made.append(ref(answer))
            yield Asked(answer)

    for _ in render(answered()):
        most = max(most, sum(answer() is not None for answer in made))
    assert len(made) == QUESTIONS
    assert 0 < most <= 2
