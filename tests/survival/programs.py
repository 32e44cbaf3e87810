"""Real programs for the survival tests: started, killed, starved of disk or of the right to write."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from datetime import date
from functools import cache
from pathlib import Path

from yarnchat.notebook import Notebook
from yarnchat.quantity import Quantity
from yarnchat.queries import PutUp, Swatch, Yarn

ROOT = Path(__file__).parents[2]
DAY = date(2026, 3, 1)

DUNNOCK = Yarn("Dunnock DK", "dk", "DK", PutUp(Quantity(225, "m"), Quantity(100, "g")), fibre="wool")
MARRAM = Yarn("Marram Fingering", "fingering", put_up=PutUp(Quantity(400, "m"), Quantity(100, "g")))
SQUARE = Swatch(DUNNOCK, Quantity(10.8, "g"), 0.1, Quantity(15, "cm"), Quantity(15, "cm"))

PREAMBLE = """
import os, signal, sys
from yarnchat.notebook import Notebook, NotebookError
from yarnchat.queries import Yarn
where = sys.argv[1]
def die(*_ignored, **_named):
    os.kill(os.getpid(), signal.SIGKILL)
"""


def notebook(where: Path | str) -> Notebook:
    """A notebook whose day stands still."""
    return Notebook(where, today=lambda: DAY)


def start(code: str, where: Path, before: tuple[str, ...] = ()) -> subprocess.Popen[str]:
    """A program of its own, with ``where`` as its first argument."""
    command = [*before, sys.executable, "-c", PREAMBLE + code, str(where)]
    environment = {**os.environ, "PYTHONPATH": str(ROOT)}
    return subprocess.Popen(
        command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, env=environment, cwd=ROOT
    )


def run(code: str, where: Path, before: tuple[str, ...] = ()) -> tuple[int, list[str], str]:
    """Run a program to its end: exit code, lines printed, and what it said of errors."""
    program = start(code, where, before)
    said, errors = program.communicate(timeout=120)
    return program.returncode, said.splitlines(), errors


@cache
def own_mounts() -> bool:
    """Whether a program here may have mounts of its own."""
    if not sys.platform.startswith("linux") or shutil.which("unshare") is None:
        return False
    command = ["unshare", "-m", "mount", "-t", "tmpfs", "-o", "size=64k", "none", "/mnt"]
    return subprocess.run(command, capture_output=True, check=False).returncode == 0


def mounted(shell: str, folder: Path) -> tuple[str, ...]:
    """Run what follows after a shell line that mounts something on ``folder``, seen by that program alone."""
    return ("unshare", "-m", "sh", "-ec", f'folder="$1"; shift; {shell}; exec "$@"', "sh", str(folder))
