"""The conversation in a real pseudo-terminal, typed at as a person would."""

from __future__ import annotations

import os
import re
import sys
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from running import environment

if sys.platform == "win32":
    pytest.skip("pseudo-terminals are for POSIX systems", allow_module_level=True)

import pexpect  # type: ignore[import-untyped]

PROMPT = "yarn>"
CTRL_C, CTRL_D, UP, ALT_ENTER = "\x03", "\x04", "\x1b[A", "\x1b\r"
Talk = Callable[..., pexpect.spawn]


@pytest.fixture
def talk(tmp_path: Path) -> Iterator[Talk]:
    """Begin a conversation; every one still running at the end is closed."""
    running: list[pexpect.spawn] = []

    def begin(**changed: str) -> pexpect.spawn:
        env = environment(**{"YARNCHAT_HISTORY": str(tmp_path / "history"), "TERM": "xterm", **changed})
        child = pexpect.spawn(
            sys.executable, ["-m", "stand_in"], env=env, encoding="utf-8", dimensions=(24, 80), timeout=6
        )
        running.append(child)
        child.expect_exact(PROMPT)
        return child

    yield begin
    for child in running:
        child.close(force=True)


def leave(child: pexpect.spawn) -> str:
    """Leave by Ctrl-D; what was still written."""
    child.expect_exact(PROMPT)
    child.send(CTRL_D)
    child.expect(pexpect.EOF)
    child.close()
    assert child.exitstatus == 0
    return child.before or ""


def test_a_question_and_its_answer(talk: Talk) -> None:
    child = talk()
    child.send("500 yd in dk\r")
    child.expect_exact("Heard '500 yd in dk'")
    child.send("count\r")
    child.expect_exact("Question 2")
    assert "Traceback" not in leave(child)


def test_the_prompt_comes_before_the_engine(talk: Talk, tmp_path: Path) -> None:
    gate = tmp_path / "gate"
    child = talk(STAND_IN_GATE=str(gate))
    child.send("early\r")
    with pytest.raises(pexpect.TIMEOUT):
        child.expect_exact("Heard 'early'", timeout=0.5)
    gate.touch()
    child.expect_exact("Heard 'early'")
    leave(child)


def test_a_paste_of_several_lines_is_one_question(talk: Talk) -> None:
    child = talk()
    child.send("\x1b[200~Yarn: 6 skeins\nGauge: 18 sts\n\x1b[201~")
    child.send("in dk\r")
    child.expect_exact(r"Heard 'Yarn: 6 skeins\nGauge: 18 sts\nin dk'")
    leave(child)


def test_alt_enter_begins_a_new_line(talk: Talk) -> None:
    child = talk()
    child.send(f"one{ALT_ENTER}two\r")
    child.expect_exact(r"Heard 'one\ntwo'")
    leave(child)


def test_ctrl_c_drops_the_line(talk: Talk) -> None:
    child = talk()
    child.send("dropped")
    child.expect_exact("dropped")
    child.send(CTRL_C)
    child.expect_exact(PROMPT)
    child.send("kept\r")
    child.expect_exact("Heard 'kept'")
    leave(child)


def test_ctrl_c_stops_an_answer_and_the_talk_goes_on(talk: Talk) -> None:
    child = talk()
    child.send("wait\r")
    child.expect_exact("waiting")
    child.send(CTRL_C)
    child.expect_exact("Stopped.")
    child.expect_exact(PROMPT)
    child.send("kept\r")
    child.expect_exact("Heard 'kept'")
    leave(child)


@pytest.mark.parametrize("word", ["quit", "exit", "Bye"])
def test_a_farewell_leaves(talk: Talk, word: str) -> None:
    child = talk()
    child.send(f"{word}\r")
    child.expect(pexpect.EOF)
    child.close()
    assert child.exitstatus == 0


def test_ctrl_d_leaves_at_once(talk: Talk) -> None:
    child = talk()
    child.send(CTRL_D)
    child.expect(pexpect.EOF)
    child.close()
    assert child.exitstatus == 0


def test_an_empty_line_asks_nothing(talk: Talk) -> None:
    child = talk()
    child.send("\r")
    child.expect_exact(PROMPT)
    child.send("count\r")
    child.expect_exact("Question 1")
    leave(child)


def test_answers_follow_the_width_of_the_terminal(talk: Talk) -> None:
    child = talk(COLUMNS="80")
    child.send("long\r")
    child.expect(r"((?:word ?){3,}\r\n)")
    assert len(child.match[1].strip()) > 60
    child.expect_exact(PROMPT)
    child.setwinsize(24, 44)
    child.send("long\r")
    child.expect(r"((?:word ?){3,}\r\n)")
    assert len(child.match[1].strip()) <= 44
    leave(child)


def test_history_lasts_from_one_talk_to_the_next(talk: Talk, tmp_path: Path) -> None:
    first = talk()
    first.send("\x1b[200~two\nlines\x1b[201~\r")
    first.expect_exact(r"Heard 'two\nlines'")
    leave(first)
    assert (tmp_path / "history").stat().st_mode & 0o077 == 0
    second = talk()
    second.send(f"{UP}\r")
    second.expect_exact(r"Heard 'two\nlines'")
    leave(second)


def test_without_a_place_for_history_the_talk_goes_on(talk: Talk, tmp_path: Path) -> None:
    child = talk(YARNCHAT_HISTORY=str(tmp_path))
    assert "Questions are not kept this time" in (child.before or "")
    child.send("kept\r")
    child.expect_exact("Heard 'kept'")
    leave(child)


def test_a_dumb_terminal_gets_plain_text(talk: Talk) -> None:
    child = talk(TERM="dumb")
    written = child.before or ""
    child.send("dropped")
    child.expect_exact("dropped")
    child.send(CTRL_C)
    child.expect_exact(PROMPT)
    child.send("plain\r")
    child.expect_exact("Heard 'plain'")
    written += child.before or ""
    assert "\x1b[" not in written + leave(child)


def test_no_colour_is_ever_written(talk: Talk) -> None:
    child = talk(NO_COLOR="1")
    written = child.before or ""
    child.send("plain\r")
    child.expect_exact("Heard 'plain'")
    written += child.before or ""
    assert not re.search(r"\x1b\[[0-9;]*(?:[34][0-9]|9[0-7])m", written + leave(child))


def test_bytes_that_are_no_text_do_not_end_the_talk(talk: Talk) -> None:
    child = talk()
    os.write(child.child_fd, b"500 \xff yd\r")
    child.expect_exact("Heard '500 ")
    leave(child)


@pytest.mark.parametrize(("questions", "shown"), [(199, False), (200, True)])
def test_a_long_script_shows_how_far_it_is(tmp_path: Path, questions: int, shown: bool) -> None:
    (tmp_path / "q.txt").write_text("count\n" * questions)
    line = ["-m", "stand_in", "run", "q.txt", "--out", "out"]
    child = pexpect.spawn(sys.executable, line, env=environment(), encoding="utf-8", cwd=str(tmp_path), timeout=20)
    child.expect(pexpect.EOF)
    child.close()
    assert child.exitstatus == 0
    assert ("150 of 200" in child.before) == shown
    assert (tmp_path / "out").read_text().count("Asked:") == questions
