"""Real questions to measure by: those of the corpus, as people wrote them."""

from __future__ import annotations

import json
from collections.abc import Iterator
from typing import Any

from .measuring import ROOT

QUESTION = "1200 yd worsted pattern in 420 yd/100 g fingering?"


def conversations() -> list[list[str]]:
    """What is said in each conversation of the corpus, in order."""
    return [[turn["say"] for turn in turns] for turns in _turns()]


def answered() -> list[str]:
    """The questions of one line that stand alone, are answered, and leave the notebook as it is."""
    openings = (turns[0] for turns in _turns())
    return [
        turn["say"]
        for turn in openings
        if turn["expect"].get("status") == "answered"
        and turn["expect"].get("ability") not in ("notebook", "help", None)
        and "\n" not in turn["say"]
        and turn["say"][:1].isalnum()
    ]


def _turns() -> Iterator[list[dict[str, Any]]]:
    for path in sorted((ROOT / "fixtures" / "corpus" / "seen").glob("*.jsonl")):
        for line in path.read_text(encoding="utf-8").splitlines():
            turns = [turn for turn in json.loads(line)["turns"] if "say" in turn]
            if turns:
                yield turns
