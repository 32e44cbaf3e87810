"""Scripts: ten thousand questions in one report, by time and by memory."""

from __future__ import annotations

import itertools
import subprocess
from collections.abc import Iterator
from pathlib import Path

from .measuring import PYTHON, ROOT, YARNCHAT, Figure, alone, folder
from .questions import answered

MANY, FEW = 10_000, 100


def figures() -> Iterator[Figure]:
    """Questions a second, the start left out, and the peak of memory beside that of a short script."""
    with folder() as place:
        _run(place / "warm", FEW)
        short, small = _run(place / "few", FEW)
        long, large = _run(place / "many", MANY)
    yield Figure("questions a second", (MANY - FEW) / (long - short), "", 1000, f"{long:.1f} s in all", at_least=True)
    yield Figure("peak memory beside a short script", large / small, "x", 1.2, f"{large:.0f} MB / {small:.0f} MB")


_PEAK = """
import resource, subprocess, sys, time
begun = time.perf_counter()
subprocess.run(sys.argv[1:], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
print(time.perf_counter() - begun, resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss / 1024)
"""
"""Runs a program from a small one: Linux counts what the parent held at the fork as the child's own peak."""


def _run(path: Path, count: int) -> tuple[float, float]:
    """Seconds and peak megabytes of a script of so many questions."""
    path.write_text("\n".join(itertools.islice(itertools.cycle(answered()), count)), encoding="utf-8")
    command = [*PYTHON, "-c", _PEAK, *YARNCHAT, "run", str(path)]
    told = subprocess.run(command, env=alone(), cwd=ROOT, capture_output=True, text=True, check=True).stdout
    seconds, peak = map(float, told.split())
    return seconds, peak
