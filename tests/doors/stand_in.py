"""A stand-in for the engine, to test the doors alone: `python -m stand_in` is `yarnchat` on top of it.

It answers "Heard …" and repeats the question; words at the head of a question make it do otherwise. Where the
environment names a gate (STAND_IN_GATE), the engine is not ready before that file exists.
"""

from __future__ import annotations

import os
import sys
import time
from pathlib import Path
from types import ModuleType

from yarnchat.answers import Answer
from yarnchat.queries import Query


class Assistant:
    """Answers without an engine; any question may lean on the one before."""

    def __init__(self, notebook: str | None = None) -> None:
        self.notebook = notebook
        self.asked = 0
        self.last: Query | None = None
        gate = os.environ.get("STAND_IN_GATE")
        while gate and not Path(gate).exists():
            time.sleep(0.01)

    def ask(self, text: str) -> Answer:
        self.asked += 1
        self.last = Query()
        word = text.split(" ")[0]
        if word == "unclear":
            return Answer(asked=text, status="unclear", headline="", asks="Which yarn?")
        if word == "wait":
            print("waiting", flush=True)
            time.sleep(60)
        said = {
            "notebook": f"Notebook {self.notebook}",
            "count": f"Question {self.asked}",
            "long": "word " * 30,
            "signs": "½ × £5 – 毛",
        }
        return Answer(asked=text, status="answered", headline=said.get(word, f"Heard {text!r}"))


def install() -> None:
    """Put the stand-in where the doors look for the engine."""
    module = ModuleType("yarnchat.assistant")
    module.Assistant = Assistant  # type: ignore[attr-defined]
    sys.modules["yarnchat.assistant"] = module


if __name__ == "__main__":
    from yarnchat.cli import main

    install()
    sys.exit(main())
