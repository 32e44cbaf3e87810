"""What the command says of itself is true: every example it prints is asked of the real program."""

from __future__ import annotations

import os
import re
import shlex
import subprocess
import sys
from pathlib import Path

import pytest
from running import ROOT

from yarnchat.script import lines


@pytest.fixture(scope="module")
def notebook(tmp_path_factory: pytest.TempPathFactory) -> str:
    """A notebook nobody has written in."""
    return str(tmp_path_factory.mktemp("help") / "notebook")


def run(*arguments: str, notebook: str, stdin: str = "") -> subprocess.CompletedProcess[str]:
    """The real program, its output 110 columns wide."""
    env = os.environ | {
        "PYTHONPATH": str(ROOT), "PYTHONIOENCODING": "utf-8", "COLUMNS": "110", "YARNCHAT_NOTEBOOK": notebook,
    }  # fmt: skip
    program = [sys.executable, "-m", "yarnchat", *arguments]
    return subprocess.run(program, env=env, input=stdin, capture_output=True, encoding="utf-8", check=False)


def examples(text: str) -> list[list[str]]:
    """The arguments of every example command of a help text; what stands after several blanks is a remark."""
    return [shlex.split(re.split(r" {2,}", line.strip())[0])[1:] for line in re.findall(r"^  yarnchat .+$", text, re.M)]


def test_every_question_of_the_help_is_answered(notebook: str) -> None:
    asked = examples(run("--help", notebook=notebook).stdout)
    assert len(asked) >= 4
    for arguments in asked:
        ran = run(*arguments, notebook=notebook)
        assert (ran.returncode, ran.stderr) == (0, ""), arguments


def test_every_topic_the_help_names_is_one(notebook: str) -> None:
    found = re.search(r"also: ([a-z, ]+)$", run("--help", notebook=notebook).stdout, re.M)
    assert found
    for topic in found[1].split(", "):
        assert run("help", topic, notebook=notebook).returncode == 0, topic


def test_the_script_of_the_help_runs(notebook: str) -> None:
    text = run("run", "--help", notebook=notebook).stdout
    start, end = text.index("  = Cardigan"), text.index('  "= Text"')
    script = "\n".join(line.removeprefix("  ") for line in text[start:end].split("\n"))
    assert [line.is_heading for line in lines(script)] == [True, False, False, True, False]
    ran = run("run", "-", notebook=notebook, stdin=script)
    assert (ran.returncode, ran.stderr) == (0, "")
    # 900 m x 18/22.5 = 720 m; / 80 m = 9.  900 m x 13.5/22.5 = 540 m; / 100 m = 5.4.  380 yd / 210 yd = 1.8.
    assert re.search(r"size 1: 9\b", ran.stdout)
    assert re.search(r"size 1: 6\b", ran.stdout)
    assert "Buy 2 skeins" in ran.stdout


def test_the_commands_of_the_run_help_write_what_they_say(notebook: str, tmp_path: Path) -> None:
    (tmp_path / "shopping.yarn").write_text("how many 210 yd skeins for 380 yd?\n")
    for arguments in examples(run("run", "--help", notebook=notebook).stdout):
        words = [str(tmp_path / word) if word.startswith("shopping.") else word for word in arguments if word != ">"]
        if ">" in arguments:
            target = words.pop()
            ran = run(*words, notebook=notebook)
            assert ran.stdout.startswith("heading,"), target
        else:
            ran = run(*words, notebook=notebook)
        assert ran.returncode == 0, arguments
    assert (tmp_path / "shopping.html").read_text().startswith("<!doctype html>")


@pytest.mark.parametrize("arguments", [["--help"], ["run", "--help"], ["--help", "run"], ["run", "a.yarn", "-h"]])
def test_help_fits_a_wide_terminal_and_names_every_option(arguments: list[str], notebook: str) -> None:
    ran = run(*arguments, notebook=notebook)
    assert ran.returncode == 0
    assert max(map(len, ran.stdout.split("\n"))) <= 110
    for option in ("--json", "--notebook", "--as", "--out", "--version"):
        assert option in ran.stdout
    assert ("a script is one conversation" in ran.stdout) == ("run" in arguments)


@pytest.mark.parametrize(
    ("arguments", "holds"),
    [
        (["ratios"], "  lace         fingering     0.81"),
        (["ratios", "DK"], "  DK    worsted       0.80"),
        (["ratios", "DK", "to", "worsted", "--as", "markdown"], "| DK | worsted | 0.80 | 0.62–0.98 | class |"),
        (["ratios", "super", "bulky", "--as", "csv"], "ratio from super bulky to bulky,1.50000"),
    ],
)
def test_ratios_are_printed_in_the_form_asked_for(arguments: list[str], holds: str, notebook: str) -> None:
    # Craft Yarn Council, middles: 29.5/36.5 = 0.808, 18/22.5 = 0.8, 13.5/9 = 1.5.
    ran = run(*arguments, notebook=notebook)
    assert (ran.returncode, ran.stderr) == (0, "")
    assert holds in ran.stdout
