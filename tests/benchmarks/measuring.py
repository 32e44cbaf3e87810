"""Programs and calls timed side by side: taken in turn, so that a busy machine slows all of them alike."""

from __future__ import annotations

import os
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).parents[2]
PYTHON = [sys.executable]
YARNCHAT = [sys.executable, "-c", "import re, sys; from yarnchat.cli import main; sys.exit(main())"]
"""What the installed command does, wherever it is installed."""


@dataclass(frozen=True, slots=True)
class Figure:
    """One thing measured, the most it should be (the least where ``at_least``), and what it was made of."""

    what: str
    value: float
    unit: str
    goal: float
    detail: str = ""
    at_least: bool = False

    @property
    def met(self) -> bool:
        """Whether the goal is reached."""
        return self.value >= self.goal if self.at_least else self.value <= self.goal

    def __str__(self) -> str:
        sign = "≥" if self.at_least else "≤"
        mark = "met   " if self.met else "MISSED"
        return f"{mark} {self.what}: {self.value:,.3g} {self.unit} (goal {sign} {self.goal:,g})  {self.detail}"


def alone() -> dict[str, str]:
    """An environment with no notebook, history or setting of whoever runs this.

    The cache folder and compiled modules are kept from run to run, as they are where the program is installed.
    """
    folder = Path(tempfile.gettempdir()) / f"yarnchat-benchmarks-{os.getuid()}"
    own = {"NOTEBOOK": "none.sqlite", "HISTORY": "history", "CACHE": "cache"}
    kept = {name: value for name, value in os.environ.items() if not name.startswith(("YARNCHAT_", "PYTHON"))}
    ours = {f"YARNCHAT_{name}": str(folder / place) for name, place in own.items()}
    return {**kept, **ours, "PYTHONPYCACHEPREFIX": str(folder / "compiled"), "TERM": "xterm"}


def programs(commands: Mapping[str, Sequence[str]], rounds: int = 15) -> dict[str, float]:
    """The median seconds of each program, run in turn; the first round, which fills caches, is not counted."""
    return calls({name: _program(command) for name, command in commands.items()}, rounds)


def _program(command: Sequence[str]) -> Callable[[], object]:
    return lambda: subprocess.run(command, env=alone(), cwd=ROOT, stdout=subprocess.DEVNULL, check=True)


def calls(functions: Mapping[str, Callable[[], object]], rounds: int = 15) -> dict[str, float]:
    """The median seconds of each call, taken in turn; the first round is not counted."""
    taken: dict[str, list[float]] = {name: [] for name in functions}
    for counted in (False, *[True] * rounds):
        for name, function in functions.items():
            seconds = timed(function)
            if counted:
                taken[name].append(seconds)
    return {name: statistics.median(times) for name, times in taken.items()}


def timed(function: Callable[[], object]) -> float:
    """Seconds one call takes."""
    begun = time.perf_counter()
    function()
    return time.perf_counter() - begun


def beside(what: str, ours: float, theirs: float, goal: float) -> Figure:
    """Two times measured side by side, as a ratio."""
    return Figure(what, ours / theirs, "x", goal, f"{1000 * ours:.3g} ms / {1000 * theirs:.3g} ms")


@contextmanager
def folder() -> Iterator[Path]:
    """A folder for the time of one benchmark."""
    with tempfile.TemporaryDirectory() as name:
        yield Path(name)
