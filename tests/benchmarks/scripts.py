"""Scripts: ten thousand questions in one report, by time and by memory."""

from __future__ import annotations

import itertools
import os
import subprocess
import time
from collections.abc import Iterator
from pathlib import Path

from .measuring import ROOT, YARNCHAT, Figure, alone, folder
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


def _run(path: Path, count: int) -> tuple[float, float]:
    """Seconds and peak megabytes of a script of so many questions."""
    path.write_text("\n".join(itertools.islice(itertools.cycle(answered()), count)), encoding="utf-8")
    with Path(os.devnull).open("w") as nowhere:
        begun = time.perf_counter()
        command = [*YARNCHAT, "run", str(path)]
        child = subprocess.Popen(command, env=alone(), cwd=ROOT, stdout=nowhere, stderr=nowhere)
        _, _, used = os.wait4(child.pid, 0)
        child.returncode = 0
        return time.perf_counter() - begun, used.ru_maxrss / 1024
