"""The answer and a report as JSON, in ASCII throughout, so that nothing in it can steer a terminal."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator

from yarnchat.answers import Answer
from yarnchat.views.report import Entry, Heading


def render(report: Iterable[Entry]) -> Iterator[str]:
    """A report as one JSON array, an entry a line: answers, and ``{"heading": …}`` for headings."""
    before = "[\n"
    for entry in report:
        record = {"heading": entry.text} if isinstance(entry, Heading) else entry.answer.model_dump(mode="json")
        yield before + json.dumps(record)
        before = ",\n"
    yield "[]\n" if before == "[\n" else "\n]\n"


def render_answer(answer: Answer) -> str:
    """One answer as a JSON object, indented for reading."""
    return json.dumps(answer.model_dump(mode="json"), indent=2)
