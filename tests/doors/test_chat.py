"""The conversation in a real pseudo-terminal, typed at as a person would."""

from __future__ import annotations

import os
import pty
import re
import signal
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from running import command, environment

from yarnchat.notebook import Notebook
from yarnchat.queries import Yarn

if sys.platform == "win32":
    pytest.skip("pseudo-terminals are for POSIX systems", allow_module_level=True)

import pexpect  # type: ignore[import-untyped]

PROMPT = "yarn>"
CTRL_C, CTRL_D, CTRL_R, UP, TAB, ALT_ENTER = "\x03", "\x04", "\x12", "\x1b[A", "\t", "\x1b\r"
Talk = Callable[..., pexpect.spawn]


def _hears_ctrl_c() -> None:
    """A job in the background of a shell is deaf to Ctrl-C, and its children are; these are not."""
    signal.signal(signal.SIGINT, signal.SIG_DFL)


@pytest.fixture
def talk(tmp_path: Path) -> Iterator[Talk]:
    """Begin a conversation; every one still running at the end is closed."""
    running: list[pexpect.spawn] = []

    def begin(**changed: str) -> pexpect.spawn:
        kept = {"YARNCHAT_HISTORY": str(tmp_path / "history"), "YARNCHAT_NOTEBOOK": str(tmp_path / "notebook")}
        env = environment(**{**kept, "TERM": "xterm", **changed})
        child = pexpect.spawn(
            sys.executable,
            ["-m", "stand_in"],
            env=env,
            encoding="utf-8",
            dimensions=(24, 80),
            timeout=20,
            preexec_fn=_hears_ctrl_c,
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


def test_ctrl_c_does_not_wait_for_the_engine(talk: Talk, tmp_path: Path) -> None:
    gate = tmp_path / "gate"
    child = talk(STAND_IN_GATE=str(gate))
    child.send("early\r")
    child.expect_exact("\x1b[?2004l")
    time.sleep(0.3)  # the terminal is out of the prompt's hands before the key that drops the question
    child.send(CTRL_C)
    child.expect_exact("Stopped.")
    gate.touch()
    child.expect_exact(PROMPT)
    child.send("kept\r")
    child.expect_exact("Heard 'kept'")
    leave(child)


def test_the_line_below_says_how_the_question_reads(talk: Talk) -> None:
    child = talk()
    child.send("1200 yd worsted pattern in ")
    child.expect_exact("I read: pattern: 1,200 yd of worsted")
    child.expect_exact("In which yarn?")
    child.send(f"dk\r{CTRL_D}")
    child.expect_exact("Heard '1200 yd worsted pattern in dk'")


def test_the_line_below_is_empty_until_the_engine_is_there(talk: Talk, tmp_path: Path) -> None:
    gate = tmp_path / "gate"
    child = talk(STAND_IN_GATE=str(gate))
    child.send("1200 yd worsted")
    with pytest.raises(pexpect.TIMEOUT):
        child.expect_exact("I read", timeout=1.5)
    gate.touch()
    child.expect_exact("I read: pattern: 1,200 yd of worsted")
    child.send(f"\r{CTRL_D}")


def test_what_was_asked_before_is_not_missing_again(talk: Talk) -> None:
    child = talk()
    child.send("in dk")
    child.expect_exact("How much does the pattern take?")
    child.send("\r")
    child.expect_exact("Heard 'in dk'")
    child.expect_exact(PROMPT)
    child.send("in aran")
    child.expect_exact("I read: yarn: aran")
    child.send(f"\r{CTRL_D}")
    child.expect(pexpect.EOF)
    assert "How much" not in (child.before or "")


@pytest.mark.parametrize("changed", [{}, {"NO_COLOR": "1"}])
def test_roles_are_not_told_by_colour_alone(talk: Talk, changed: dict[str, str]) -> None:
    child = talk(**changed)
    child.send("1200 yd worsted of Sea Moss")
    child.expect_exact("I read")
    child.expect(re.compile("Sea Moss"))
    child.send(f"\r{CTRL_D}")
    child.expect_exact("Heard")
    drawn = child.before or ""
    assert re.search(r"\x1b\[[0-9;]*\b1m1200 yd", drawn)
    assert re.search(r"\x1b\[[0-9;]*\b4(;[0-9;]*)?mworsted", drawn)
    assert re.search(r"\x1b\[[0-9;]*\b1;4mSea Moss", drawn)


def test_enter_takes_no_word_that_was_not_chosen(talk: Talk) -> None:
    child = talk()
    child.send("1200 yd in ")
    child.expect_exact("In which yarn?")
    child.send(TAB)
    child.expect_exact("fingering")
    child.send("\r")
    child.expect_exact("Heard '1200 yd in'")
    leave(child)


def test_tab_chooses_a_word_and_enter_keeps_it(talk: Talk) -> None:
    child = talk()
    child.send("1200 yd in ")
    child.expect_exact("In which yarn?")
    child.send(TAB)
    child.expect_exact("fingering")
    child.send(f"{TAB}{TAB}\r, please\r")
    child.expect_exact("Heard '1200 yd in fingering, please'")
    leave(child)


def test_her_own_names_are_offered(talk: Talk, tmp_path: Path) -> None:
    Notebook(tmp_path / "notebook").remember_yarn(Yarn(name="Dunnock Tweed", weight_class="dk"))
    child = talk()
    child.send("1200 yd in ")
    child.expect_exact("In which yarn?")
    child.send(f"Dun{TAB}")
    child.expect_exact("nock Tweed")
    child.send("\r")
    child.expect_exact("Heard '1200 yd in Dunnock Tweed'")
    leave(child)


def test_an_earlier_question_is_found_again(talk: Talk) -> None:
    child = talk()
    for question in ("first of Moss", "second", "third"):
        child.send(f"{question}\r")
        child.expect_exact(f"Heard '{question}'")
    child.send(f"{CTRL_R}moss\r")
    child.send("\r")
    child.expect_exact("Heard 'first of Moss'")
    leave(child)


def test_closing_the_terminal_ends_the_talk_and_keeps_the_history(tmp_path: Path) -> None:
    env = environment(YARNCHAT_HISTORY=str(tmp_path / "history"), TERM="xterm")
    ours, theirs = pty.openpty()  # its size is 0 by 0, as with a terminal that does not know
    with subprocess.Popen(command(), env=env, preexec_fn=lambda: os.login_tty(theirs)) as child:
        os.close(theirs)
        for shown, typed in ((PROMPT, "kept\r"), ("Heard 'kept'", "half a quest"), ("half a quest", "")):
            written = b""
            while shown.encode() not in written:
                written += os.read(ours, 4096)
            os.write(ours, typed.encode())
        os.close(ours)
        assert child.wait(timeout=20) in (0, -signal.SIGHUP)
    assert "+kept" in (tmp_path / "history").read_text()


def test_a_resize_keeps_the_half_typed_question(talk: Talk) -> None:
    child = talk()
    child.send("1200 yd worsted pattern in ")
    child.expect_exact("In which yarn?")
    child.setwinsize(24, 40)
    child.expect_exact("I read: pattern: 1,20...")
    child.setwinsize(24, 200)
    child.expect_exact("of worsted")
    child.send("dk\r")
    child.expect_exact("Heard '1200 yd worsted pattern in dk'")
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
