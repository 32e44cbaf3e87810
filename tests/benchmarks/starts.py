"""Starts: a whole process beside the loading of the libraries it is made of."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from .measuring import PYTHON, ROOT, YARNCHAT, Figure, alone, beside, calls, programs
from .questions import QUESTION


def figures() -> Iterator[Figure]:
    """One question, ``--help``, ``--version`` and the prompt of a conversation."""
    times = programs(
        {
            "parts": [*PYTHON, "-c", "import lark, pint, pydantic"],
            "question": [*YARNCHAT, QUESTION],
            "argparse": [*PYTHON, "-c", "import argparse"],
            "--help": [*YARNCHAT, "--help"],
            "--version": [*YARNCHAT, "--version"],
        }
    )
    yield beside("one question beside its libraries", times["question"], times["parts"], 1.0)
    for option in ("--help", "--version"):
        yield beside(f"{option} beside argparse", times[option], times["argparse"], 1.5)
    times = calls(
        {
            "prompt": _until(YARNCHAT, "yarn>"),
            "library": _until([*PYTHON, "-c", "import prompt_toolkit; print('loaded')"], "loaded"),
        }
    )
    yield beside("prompt of a conversation beside prompt_toolkit", times["prompt"], times["library"], 1.15)


def _until(command: list[str], text: str) -> Callable[[], None]:
    """A program in a terminal of its own, until it has written a text."""
    import pexpect  # type: ignore[import-untyped]

    def run() -> None:
        child = pexpect.spawn(command[0], command[1:], env=alone(), cwd=str(ROOT), encoding="utf-8", timeout=20)
        child.delaybeforesend = child.delayafterclose = child.delayafterterminate = None
        child.expect_exact(text)
        child.close(force=True)

    return run
