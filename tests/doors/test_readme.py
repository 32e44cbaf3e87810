"""Every console block of the README, run with the real program: what it shows is what comes out.

A block whose command is ``yarnchat`` alone is a conversation: its lines after the prompt are typed in.
"""

from __future__ import annotations

import io
import os
import re
import subprocess
import sys
from dataclasses import dataclass, field
from pathlib import Path

import pexpect  # type: ignore[import-untyped]
import pytest
from running import ROOT

from yarnchat.chat import PROMPT

SKIPPED = (
    "git clone ", "cd ", "python -m venv ", "python3 -m venv ", ". .venv/", "source .venv/", "pip install ",
    "python -m pip install ", "python -m pytest",
)  # fmt: skip
"""Commands that set the project up or test it; they are named in the test's output, and not run."""


@dataclass
class Command:
    """A command of a console block, and what the README says it writes."""

    line: int
    text: str
    output: list[str] = field(default_factory=list)


def blocks(markdown: str) -> list[list[Command]]:
    """The commands of every ```console block; a line that ends in a backslash goes on in the next."""
    found: list[list[Command]] = []
    inside = False
    for number, line in enumerate(markdown.split("\n"), start=1):
        if line.startswith("```"):
            inside = line.strip() == "```console"
            if inside:
                found.append([])
        elif inside and line.startswith("$ "):
            found[-1].append(Command(number, line[2:]))
        elif inside and not found[-1]:
            raise ValueError(f"README.md:{number}: a console block begins with a command")
        elif inside and found[-1][-1].text.endswith("\\"):
            found[-1][-1].text += f"\n{line}"
        elif inside:
            found[-1][-1].output.append(line)
    return found


def test_blocks_are_told_apart() -> None:
    text = "a\n```console\n$ one \\\n  more\nout\n\nout\n$ two\n```\n```sh\n$ none\n```\n"
    assert blocks(text) == [[Command(3, "one \\\n  more", ["out", "", "out"]), Command(8, "two")]]
    with pytest.raises(ValueError, match=r"README.md:2"):
        blocks("```console\nno command\n```")


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """One folder for the whole README, with the program on the path and a notebook of its own."""
    made = tmp_path_factory.mktemp("readme")
    program = made / ".bin" / "yarnchat"
    program.parent.mkdir()
    program.write_text(f'#!/bin/sh\nexec "{sys.executable}" -m yarnchat "$@"\n')
    program.chmod(0o755)
    return made


def settings(folder: Path) -> dict[str, str]:
    """The environment of every command: the program on the path, a notebook and a history in the folder."""
    return os.environ | {
        "PATH": f"{folder / '.bin'}{os.pathsep}{os.environ['PATH']}",
        "PYTHONPATH": str(ROOT),
        "PYTHONIOENCODING": "utf-8",
        "YARNCHAT_NOTEBOOK": str(folder / ".notebook"),
        "YARNCHAT_HISTORY": str(folder / ".history"),
        "COLUMNS": "80",
    }


def run(command: str, folder: Path) -> str:
    """What a command writes, 80 columns wide, stdout and stderr together."""
    ran = subprocess.run(
        ["bash", "-c", command],
        cwd=folder,
        env=settings(folder),
        stdin=subprocess.DEVNULL,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        check=False,
    )
    return ran.stdout.decode("utf-8")


def converse(shown: list[str], folder: Path) -> str:
    """The conversation that comes of typing what stands after each prompt, on a terminal of lines only."""
    written = io.StringIO()
    env = settings(folder) | {"TERM": "dumb"}
    child = pexpect.spawn("yarnchat", env=env, cwd=str(folder), encoding="utf-8", dimensions=(24, 80), timeout=20)
    child.logfile_read = written
    for line in shown:
        if line.startswith(PROMPT):
            child.expect_exact(PROMPT)
            child.sendline(line.removeprefix(PROMPT))
    child.expect_exact(PROMPT)
    child.sendeof()
    child.expect(pexpect.EOF)
    child.close()
    return written.getvalue().replace("\r\n", "\n").rstrip().removesuffix(PROMPT.rstrip())


def test_a_conversation_is_typed_in(folder: Path) -> None:
    written = converse([f"{PROMPT}how many grams in a 4 oz hank?"], folder).split("\n")
    assert written[1] == f"{PROMPT}how many grams in a 4 oz hank?"
    assert "113 g" in written[2]  # 4 x 28.349523125 g (NIST SP 811, Appendix B) = 113.4 g


def test_readme(folder: Path) -> None:
    """In the README's order, since a later command may need what an earlier one has left."""
    commands = [command for block in blocks((ROOT / "README.md").read_text("utf-8")) for command in block]
    wrong = []
    ran = 0
    for command in commands:
        if command.text.startswith(SKIPPED):
            print(f"README.md:{command.line}: not run: {command.text}")
            continue
        ran += 1
        shown = "\n".join(command.output).rstrip("\n")
        talk = command.text == "yarnchat"
        written = converse(command.output, folder) if talk else run(command.text, folder)
        if (written := written.rstrip("\n")) != shown:
            wrong.append(f"README.md:{command.line}: $ {command.text}\n{written}\n--- the README shows\n{shown}")
    assert not wrong, "\n\n".join(wrong)
    assert ran, "the README shows no command of the program"


def test_readme_from_python(folder: Path) -> None:
    [program] = re.findall(r"```python\n(.*?)```", (ROOT / "README.md").read_text("utf-8"), re.DOTALL)
    command = [sys.executable, "-c", program]
    ran = subprocess.run(command, cwd=folder, env=settings(folder), capture_output=True, text=True, check=True)
    skeins, length = ran.stdout.splitlines()
    assert skeins == "5"  # 1200 yd × 29.5 / 18 = 1966.67 yd; / 420 yd = 4.68
    value, unit, low, high = length.split()
    assert (round(float(value), 2), unit) == (1966.67, "yd")
    assert float(low) < float(value) < float(high)
