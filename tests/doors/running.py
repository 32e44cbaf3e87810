"""Running the command as a person or another program would: in a process of its own."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

HERE = Path(__file__).parent
ROOT = HERE.parent.parent


def environment(**changed: str) -> dict[str, str]:
    """This process's environment, with our folders importable and nothing of the user's that would show."""
    kept = {name: value for name, value in os.environ.items() if not name.startswith(("YARNCHAT", "COLUMNS", "LINES"))}
    return kept | {"PYTHONPATH": f"{ROOT}{os.pathsep}{HERE}", "PYTHONIOENCODING": "utf-8"} | changed


def command(*arguments: str) -> list[str]:
    """The command on top of the stand-in."""
    return [sys.executable, "-m", "stand_in", *arguments]


def yarnchat(
    *arguments: str, stdin: str | bytes = b"", cwd: Path | None = None, **changed: str
) -> subprocess.CompletedProcess[str]:
    """Run the command on top of the stand-in; what it writes is read as UTF-8."""
    given = stdin.encode() if isinstance(stdin, str) else stdin
    ran = subprocess.run(
        command(*arguments),
        input=given,
        capture_output=True,
        cwd=cwd,
        env=environment(**changed),
        check=False,
    )
    return subprocess.CompletedProcess(ran.args, ran.returncode, ran.stdout.decode("utf-8"), ran.stderr.decode("utf-8"))
