"""The conversation in a terminal: the one file that knows prompt_toolkit."""

from __future__ import annotations

import io
import os
import sys
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

from prompt_toolkit import PromptSession
from prompt_toolkit.history import FileHistory, History, InMemoryHistory
from prompt_toolkit.key_binding import KeyBindings, KeyPressEvent
from prompt_toolkit.utils import is_dumb_terminal

PROMPT = "yarn> "
FAREWELLS = frozenset({"quit", "exit", "bye"})
_WELCOME = "Tell me the pattern's yarn and yours. Enter asks, Ctrl-C drops the line, Ctrl-D leaves."


def talk(notebook: str | None) -> int:
    """Ask and answer until Ctrl-D or a farewell; the engine loads while the first question is being typed."""
    os.environ.setdefault("PROMPT_TOOLKIT_NO_CPR", "1")
    with ThreadPoolExecutor(1) as behind:
        loading = behind.submit(_load)
        print(_WELCOME)
        prompt = _plain_prompt if is_dumb_terminal() else _session().prompt
        question = _next_question(prompt)
        if question is None:
            return 0
        loading.result()
    from yarnchat.assistant import Assistant
    from yarnchat.views.text import render

    assistant = Assistant(notebook=notebook)
    while question is not None:
        try:
            print(render(assistant.ask(question), _width()), end="\n\n")
        except KeyboardInterrupt:
            print("Stopped.")
        question = _next_question(prompt)
    return 0


def history_path() -> Path:
    """Where questions are kept for the next conversation: YARNCHAT_HISTORY, or the user's state folder."""
    if named := os.environ.get("YARNCHAT_HISTORY"):
        return Path(named)
    import platformdirs

    return Path(platformdirs.user_state_dir("yarnchat")) / "history"


def _next_question(prompt: Callable[[], str]) -> str | None:
    """The next question with something in it; None when she leaves."""
    while True:
        try:
            typed = _sound(prompt()).strip()
        except KeyboardInterrupt:
            continue
        except EOFError:
            return None
        if typed.casefold() in FAREWELLS:
            return None
        if typed:
            return typed


def _session() -> PromptSession[str]:
    return PromptSession(
        PROMPT, history=_history(), key_bindings=_keys(), multiline=True, reserve_space_for_menu=0
    )


def _plain_prompt() -> str:
    """A line from a terminal that can only write lines; there is no history and no paste of several."""
    if isinstance(sys.stdin, io.TextIOWrapper):
        sys.stdin.reconfigure(errors="surrogateescape")
    try:
        return input(PROMPT)
    except (KeyboardInterrupt, EOFError):
        print()
        raise


def _sound(typed: str) -> str:
    """Typed text; bytes that are no UTF-8 become the replacement sign, which no question can use."""
    return typed.encode("utf-8", "surrogateescape").decode("utf-8", "replace")


def _keys() -> KeyBindings:
    """Enter asks, however many lines were pasted; Alt-Enter begins a new line."""
    keys = KeyBindings()

    @keys.add("enter")
    def _(event: KeyPressEvent) -> None:
        event.current_buffer.validate_and_handle()

    @keys.add("escape", "enter")
    def _(event: KeyPressEvent) -> None:
        event.current_buffer.newline()

    return keys


class _KeptHistory(FileHistory):
    """The history file, its owner's alone; a full disk loses the line, not the conversation."""

    def store_string(self, string: str) -> None:
        try:
            super().store_string(_sound(string))
        except OSError as error:
            print(f"That line is not kept in your history: {error.strerror}.", file=sys.stderr)


def _history() -> History:
    path = history_path()
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        os.close(os.open(path, os.O_RDWR | os.O_CREAT, 0o600))
    except OSError as error:
        print(f"Questions are not kept this time: {path}: {error.strerror}.", file=sys.stderr)
        return InMemoryHistory()
    return _KeptHistory(str(path))


def _load() -> None:
    """Import the engine and let it read one question, so that grammar and vocabulary are ready."""
    from yarnchat.assistant import Assistant

    Assistant(notebook=":memory:").ask("100 g of 200 m/100 g, how many metres?")


def _width() -> int:
    """The terminal's width now, whatever COLUMNS said when it was opened."""
    try:
        return os.get_terminal_size(sys.stdout.fileno()).columns
    except OSError:
        return 80
