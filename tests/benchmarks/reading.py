"""Reading: a question in a running conversation, from its text to its answer in words, and the line as it is typed."""

from __future__ import annotations

import statistics
from collections.abc import Iterator
from importlib.util import find_spec
from operator import itemgetter

from yarnchat import Assistant
from yarnchat.abilities.base import Context
from yarnchat.live import reading_so_far, spans
from yarnchat.notebook import Notebook
from yarnchat.views.text import render

from .measuring import Figure, beside, folder, timed
from .questions import answered, conversations


def figures() -> Iterator[Figure]:
    """Median and 99th percentile over the corpus, and our picking of amounts beside quantulum3's where installed."""
    with folder() as place:
        _all_of_it(str(place / "warm"))
        times = _all_of_it(str(place / "none"))
    milliseconds = sorted(1000 * seconds for seconds, _ in times)
    longest = max(times, key=itemgetter(0))[1]
    yield Figure("median", statistics.median(milliseconds), "ms", 1, f"{len(times):,} questions")
    yield Figure("p99", milliseconds[len(milliseconds) * 99 // 100], "ms", 5, f"longest: {longest[:60]!r}")
    keys = sorted(1000 * seconds for seconds in _key_by_key())
    yield Figure("a key, p99", keys[len(keys) * 99 // 100], "ms", 3, f"{len(keys):,} keys")
    if find_spec("quantulum3"):
        with folder() as place:
            ours, theirs = _beside_quantulum(str(place / "beside"))
        yield beside("questions answered beside quantulum3 picking their amounts", ours, theirs, 1.0)


def _all_of_it(notebook: str) -> list[tuple[float, str]]:
    """Seconds and question, each conversation with a notebook that does not exist yet."""
    times = []
    for number, said in enumerate(conversations()):
        assistant = Assistant(f"{notebook}-{number}")
        times += [(timed(lambda text=text, to=assistant: render(to.ask(text), 80)), text) for text in said]  # type: ignore[misc]
    return times


def _key_by_key() -> list[float]:
    """Seconds that the line below the prompt and its colours take, at each key of every thirtieth question."""
    context = Context(lambda: Notebook(":memory:"))
    typed = [question[:end] for question in answered()[::30] for end in range(1, len(question) + 1)]
    return [timed(lambda text=text: (reading_so_far(text, context), spans(text))) for text in typed]  # type: ignore[misc]


def _beside_quantulum(notebook: str) -> tuple[float, float]:
    """The seconds that questions take, from text to answer in words, and those quantulum3 takes over their amounts.

    Every third question that is answered, the two in turn.
    """
    from quantulum3 import parser  # type: ignore[import-not-found]

    ours = theirs = 0.0
    for number, text in enumerate(answered()[::3]):
        to = Assistant(f"{notebook}-{number}")
        ours += timed(lambda text=text, to=to: render(to.ask(text), 80))  # type: ignore[misc]
        theirs += timed(lambda text=text: parser.parse(text))  # type: ignore[misc]
    return ours, theirs
