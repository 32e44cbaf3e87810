"""The command in a process of its own: doors, exit status, and every stream that is not a plain terminal."""

from __future__ import annotations

import json
import signal
import subprocess
import sys
import tomllib
from collections.abc import Iterator
from pathlib import Path

import pytest
from running import ROOT, command, environment, yarnchat

from yarnchat import __version__


def test_words_are_one_question() -> None:
    ran = yarnchat("500", "yd", "->", "dk", "-5")
    assert (ran.returncode, ran.stdout, ran.stderr) == (0, "Heard '500 yd -> dk -5'\n", "")


def test_a_question_without_an_answer_exits_1() -> None:
    ran = yarnchat("unclear")
    assert (ran.returncode, ran.stdout, ran.stderr) == (1, "Which yarn?\n", "")


@pytest.mark.parametrize("arguments", [("--json", "500 yd"), ("500", "yd", "--json")])
def test_json_is_one_object(arguments: tuple[str, ...]) -> None:
    answer = json.loads(yarnchat(*arguments).stdout)
    assert answer["asked"] == "500 yd"
    assert answer["status"] == "answered"
    assert "headline" not in answer


def test_json_holds_no_sign_that_steers_a_terminal() -> None:
    out = yarnchat("--json", "-", stdin="\x1b[31m \u202e \u009b £").stdout
    assert out.isascii()
    assert out.replace("\n", "").isprintable()
    assert json.loads(out)["asked"] == "\x1b[31m \u202e \u009b £"


def test_stdin_is_one_question_of_many_lines() -> None:
    ran = yarnchat("-", stdin="Yarn: 6 skeins\n\n\u00bd of it\n")
    assert ran.stdout == "Heard 'Yarn: 6 skeins\\n\\n½ of it'\n"


def test_without_a_terminal_stdin_is_a_script() -> None:
    ran = yarnchat(stdin="count\n\ncount\n")
    assert ran.stdout == "Asked: count\nQuestion 1\n\nAsked: count\nQuestion 2\n"
    assert ran.returncode == 0


def test_the_notebook_is_passed_on() -> None:
    assert yarnchat("--notebook", "a.db", "notebook").stdout == "Notebook a.db\n"
    assert yarnchat("notebook").stdout == "Notebook None\n"


def test_a_script_runs_on_and_names_what_got_no_answer(tmp_path: Path) -> None:
    (tmp_path / "q.txt").write_text("= Socks\ncount\n\n# note\nunclear of\n  two lines\ncount\n")
    ran = yarnchat("run", "q.txt", cwd=tmp_path)
    assert ran.returncode == 1
    assert ran.stderr == "q.txt:5: Which yarn?\n"
    assert ran.stdout.split("\n\n") == [
        "Socks\n=====",
        "Asked: count\nQuestion 1",
        "Asked: unclear of\n       two lines\nWhich yarn?",
        "Asked: count\nQuestion 3\n",
    ]


@pytest.mark.parametrize(
    ("form", "beginning"),
    [
        ("text", "Asked: "),
        ("markdown", "## "),
        ("csv", "heading,"),
        ("json", "[\n{"),
        ("html", "<!doctype html>"),
    ],
)
def test_a_report_in_every_form_on_stdout_and_in_a_file(form: str, beginning: str, tmp_path: Path) -> None:
    (tmp_path / "q.txt").write_text("count\n")
    shown = yarnchat("run", "q.txt", "--as", form, cwd=tmp_path)
    kept = yarnchat("run", "q.txt", "--as", form, "--out", "out", cwd=tmp_path)
    assert shown.stdout.startswith(beginning)
    assert kept.stdout == ""
    assert (tmp_path / "out").read_bytes().replace(b"\r\n", b"\n").decode() == shown.stdout.replace("\r\n", "\n")
    assert shown.returncode == kept.returncode == 0


def test_run_from_stdin_in_json() -> None:
    ran = yarnchat("--json", "run", "-", stdin="= Top\ncount\nunclear\n")
    assert [entry.get("heading") or entry["status"] for entry in json.loads(ran.stdout)] == [
        "Top", "answered", "unclear",
    ]  # fmt: skip
    assert ran.stderr == "stdin:3: Which yarn?\n"


@pytest.mark.parametrize(
    ("arguments", "sentence"),
    [
        (("run",), "Say which file to run"),
        (("run", "none.txt"), 'There is no file none.txt. To ask it as a question: yarnchat "run none.txt"'),
        (("run", "."), ". is a folder; name a file of questions."),
        (("run", "binary"), "binary is not a text file"),
        (("run", "latin"), "latin, line 1, is not UTF-8 text"),
        (("run", "a\x1b[31m\n\u202e"), "There is no file a "),
        (("run", "empty"), "There is no question in empty."),
        (("run", "q.txt", "q.txt"), "One file at a time"),
        (("run", "q.txt", "--out", "q.txt"), "q.txt is the script itself"),
        (("run", "q.txt", "--out", "no/such"), "could not be written to no/such"),
        (("run", "q.txt", "--json", "--as", "csv"), "ask for two forms"),
        (("--as", "csv", "500 yd"), "--as and --out go with run FILE,"),
        (("--as", "pdf", "run", "q.txt"), "invalid choice"),
        (("--colour", "500 yd"), "unrecognized arguments: --colour"),
        (("--notebook",), "expected one argument"),
        (("-", "--as", "csv"), "--as and --out go with run FILE,"),
    ],
)
def test_a_fault_is_a_sentence_and_exits_2(arguments: tuple[str, ...], sentence: str, tmp_path: Path) -> None:
    (tmp_path / "q.txt").write_text("count")
    (tmp_path / "binary").write_bytes(b"\x7fELF\0\0")
    (tmp_path / "latin").write_bytes(b"\xa35 a ball")
    (tmp_path / "empty").write_text("# only this\n= and this\n")
    ran = yarnchat(*arguments, cwd=tmp_path)
    assert ran.returncode == 2
    assert sentence in ran.stderr
    assert ran.stdout == ""
    assert "Traceback" not in ran.stderr
    assert ran.stderr.replace("\n", "").isprintable()


def test_a_question_may_begin_with_run() -> None:
    assert yarnchat("run", "out", "of", "yarn?").stdout == "Heard 'run out of yarn?'\n"
    assert yarnchat("run out").stdout == "Heard 'run out'\n"


@pytest.mark.parametrize("arguments", [("-",), (), ("run", "-")])
def test_stdin_that_is_no_text(arguments: tuple[str, ...]) -> None:
    ran = yarnchat(*arguments, stdin=b"500 yd at \xa35")
    assert (ran.returncode, ran.stdout) == (2, "")
    assert ran.stderr == "yarnchat: What came on stdin, line 1, is not UTF-8 text; save it as UTF-8.\n"


def test_an_argument_that_is_no_text() -> None:
    line = [*map(str.encode, command()), b"500 yd at \xa35"]
    ran = subprocess.run(line, capture_output=True, env=environment(PYTHONUTF8="1"), check=False)
    assert (ran.returncode, ran.stderr) == (2, b"yarnchat: That question is not UTF-8 text.\n")


def test_an_encoding_that_lacks_a_sign() -> None:
    assert yarnchat("signs", PYTHONIOENCODING="ascii").stdout == "1/2 x GBP 5 - ?\n"


def test_columns_set_the_width() -> None:
    lines = yarnchat("long", COLUMNS="50").stdout.split("\n")
    assert max(map(len, lines)) <= 50
    assert len(lines) > 3


def test_a_reader_that_leaves_is_left_quietly(tmp_path: Path) -> None:
    (tmp_path / "q.txt").write_text("long\n" * 5000)
    with subprocess.Popen(
        command("run", "q.txt"),
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        cwd=tmp_path,
        env=environment(),
    ) as running:
        assert running.stdout
        assert running.stderr
        running.stdout.readline()
        running.stdout.close()
        assert running.stderr.read() == b""
    assert running.returncode == 141


@pytest.fixture
def _interruptible() -> Iterator[None]:
    """The program started can be interrupted, also where the tests run with Ctrl-C ignored, as behind ``&``."""
    before = signal.signal(signal.SIGINT, signal.default_int_handler)
    yield
    signal.signal(signal.SIGINT, before)


@pytest.mark.usefixtures("_interruptible")
def test_ctrl_c_leaves_quietly_and_keeps_the_old_report(tmp_path: Path) -> None:
    (tmp_path / "q.txt").write_text("count\nwait\n")
    (tmp_path / "out").write_text("before")
    line = command("run", "q.txt", "--out", "out")
    with subprocess.Popen(
        line, stdout=subprocess.PIPE, stderr=subprocess.PIPE, cwd=tmp_path, env=environment()
    ) as running:
        assert running.stdout
        assert running.stderr
        assert running.stdout.readline() == b"waiting\n"
        running.send_signal(signal.SIGINT)
        assert running.stderr.read() == b""
    assert running.returncode == 130
    assert (tmp_path / "out").read_text() == "before"
    assert sorted(entry.name for entry in tmp_path.iterdir()) == ["out", "q.txt"]


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="this system has no /dev/full")
def test_a_full_disk_is_a_sentence() -> None:
    with Path("/dev/full").open("w") as full:
        ran = subprocess.run(command("count"), stdout=full, stderr=subprocess.PIPE, env=environment(), check=False)
    assert ran.returncode == 2
    assert ran.stderr == b"yarnchat: The answer could not be written: No space left on device.\n"


def test_closed_streams_do_not_end_in_a_traceback() -> None:
    line = " ".join(f"'{part}'" for part in command("unclear"))
    ran = subprocess.run(["bash", "-c", f"{line} >&- <&-"], capture_output=True, env=environment(), check=False)
    assert (ran.returncode, ran.stderr) == (1, b"")


def test_help_and_version_load_no_engine() -> None:
    plain = {name: value for name, value in environment().items() if not name.startswith("COVERAGE")}
    heavy = ("pydantic", "lark", "prompt_toolkit", "sqlite3", "importlib.metadata")
    for option in ("--help", "--version"):
        line = [sys.executable, "-X", "importtime", "-m", "yarnchat", option]
        ran = subprocess.run(line, capture_output=True, text=True, cwd=ROOT, check=True, env=plain)
        loaded = {row.rsplit("|", 1)[-1].strip() for row in ran.stderr.splitlines()}
        assert "argparse" in loaded
        assert not {name for name in loaded if name.startswith(heavy)}
        assert "yarnchat" in ran.stdout


def test_the_version_is_the_projects() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text())["project"]
    assert project["version"] == __version__
    assert yarnchat("--version").stdout == f"yarnchat {__version__}\n"
