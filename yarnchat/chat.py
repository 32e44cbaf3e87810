"""The conversation in a terminal: the one file that knows prompt_toolkit."""

from __future__ import annotations

import io
import os
import sys
from collections.abc import Callable, Iterator
from concurrent.futures import Future, ThreadPoolExecutor
from functools import cached_property
from pathlib import Path
from textwrap import fill
from typing import TYPE_CHECKING

from prompt_toolkit import PromptSession
from prompt_toolkit.completion import CompleteEvent, Completer, Completion
from prompt_toolkit.document import Document
from prompt_toolkit.enums import DEFAULT_BUFFER
from prompt_toolkit.filters import has_focus, is_done
from prompt_toolkit.formatted_text import StyleAndTextTuples
from prompt_toolkit.history import FileHistory, History, InMemoryHistory
from prompt_toolkit.key_binding import KeyBindings, KeyPressEvent
from prompt_toolkit.layout import ConditionalContainer, FormattedTextControl, HSplit, Window
from prompt_toolkit.lexers import Lexer
from prompt_toolkit.styles import Style
from prompt_toolkit.utils import is_dumb_terminal

if TYPE_CHECKING:
    from yarnchat.abilities.base import Context
    from yarnchat.assistant import Assistant
    from yarnchat.live import LiveReading, Span

PROMPT = "yarn> "
FAREWELLS = frozenset({"quit", "exit", "bye"})
_WELCOME = "Tell me the pattern's yarn and yours. Type help to see what can be asked."
_KEYS = "Enter asks, Tab offers words, Ctrl-R finds an earlier question, Ctrl-C drops the line, Ctrl-D leaves."
_STYLE = Style.from_dict(
    {
        "quantity": "ansigreen bold",
        "class": "ansimagenta underline",
        "name": "ansicyan bold underline",
        "missing": "bold",
    }
)
"""No role is told by its colour alone: bold, underlined, or both."""
_MENU_LINES = 6
_PATIENCE = 0.05
"""Seconds to wait for another program that writes in the notebook, while she types."""


def talk(notebook: str | None) -> int:
    """Ask and answer until Ctrl-D or a farewell; the engine loads while the first question is being typed."""
    os.environ.setdefault("PROMPT_TOOLKIT_NO_CPR", "1")
    with ThreadPoolExecutor(1) as behind:
        engine = _Engine(notebook, behind.submit(_load))
        print(fill(_WELCOME, _width()))
        if is_dumb_terminal():
            prompt: Callable[[], str] = _plain_prompt
        else:
            print(fill(_KEYS, _width()))
            prompt = _session(engine).prompt
        while (question := _next_question(prompt)) is not None:
            try:
                print(engine.answer(question), end="\n\n")
            except KeyboardInterrupt:
                print("Stopped.")
    return 0


class _Engine:
    """The engine behind the prompt: what it says of a question before and after it is asked."""

    def __init__(self, notebook: str | None, loading: Future[None]) -> None:
        self._notebook = notebook
        self.loading = loading
        self._shown: tuple[str, LiveReading, tuple[Span, ...]] | None = None

    @property
    def is_ready(self) -> bool:
        """Whether it is loaded; until then nothing is said of what she types."""
        return self.loading.done() and self.loading.exception() is None

    def answer(self, question: str) -> str:
        """The answer at the terminal's width; waits for the engine."""
        self.loading.result()
        from yarnchat.views.text import render

        answer = self._assistant.ask(question)
        self._shown = None
        return render(answer, _width())

    def so_far(self, text: str) -> tuple[LiveReading, tuple[Span, ...]]:
        """How a text reads and where its roles are; the last text is kept, for redraws ask again."""
        from yarnchat.live import reading_so_far, spans

        if self._shown is None or self._shown[0] != text:
            continuing = self._assistant.last is not None
            self._shown = text, reading_so_far(text, self._known, continuing), spans(text)
        return self._shown[1:]

    def names(self) -> tuple[str, ...]:
        """The names in her notebook; none where it cannot be read."""
        from yarnchat.notebook import NotebookError

        try:
            return self._known.notebook.names()
        except NotebookError:
            return ()

    @cached_property
    def _assistant(self) -> Assistant:
        from yarnchat.assistant import Assistant

        return Assistant(notebook=self._notebook)

    @cached_property
    def _known(self) -> Context:
        from yarnchat.abilities.base import Context
        from yarnchat.notebook import Notebook

        return Context(lambda: Notebook(self._notebook, patience=_PATIENCE))


class _Roles(Lexer):
    """Shows quantities, weight classes and names of yarns apart."""

    def __init__(self, engine: _Engine) -> None:
        self._engine = engine

    def lex_document(self, document: Document) -> Callable[[int], StyleAndTextTuples]:
        found = self._engine.so_far(document.text)[1]
        begins = [0]
        for line in document.lines:
            begins.append(begins[-1] + len(line) + 1)

        def line_of(number: int) -> StyleAndTextTuples:
            return list(_styled(document.lines[number], begins[number], found))

        return line_of


def _styled(line: str, begin: int, found: tuple[Span, ...]) -> Iterator[tuple[str, str]]:
    """A line in pieces, each with its style; ``begin`` is where it stands in the text of the spans."""
    at = 0
    for span in found:
        first, last = max(span.start - begin, at), min(span.end - begin, len(line))
        if first < last:
            yield "", line[at:first]
            yield f"class:{span.role}", line[first:last]
            at = last
    yield "", line[at:]


class _Words(Completer):
    """Offers what can stand at the cursor."""

    def __init__(self, engine: _Engine) -> None:
        self._engine = engine

    def get_completions(self, document: Document, complete_event: CompleteEvent) -> Iterator[Completion]:
        del complete_event
        from yarnchat.completing import next_words

        for word in next_words(document.text_before_cursor, self._engine.names()):
            yield Completion(word.text, -word.typed, display_meta=word.kind)


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


def _session(engine: _Engine) -> PromptSession[str]:
    """The prompt, with how the question reads so far in the line below it."""
    session: PromptSession[str] = PromptSession(
        PROMPT,
        history=_history(),
        key_bindings=_keys(),
        multiline=True,
        search_ignore_case=True,
        complete_while_typing=False,
        reserve_space_for_menu=_MENU_LINES,
        style=_STYLE,
    )

    def line_below() -> StyleAndTextTuples:
        return _line_below(engine, session.default_buffer.text)

    below = Window(FormattedTextControl(line_below), height=1, dont_extend_height=True)
    session.layout.container = HSplit([session.layout.container, ConditionalContainer(below, filter=~is_done)])

    def loaded(_: object) -> None:
        if engine.is_ready:
            session.lexer, session.completer = _Roles(engine), _Words(engine)
            session.app.invalidate()

    engine.loading.add_done_callback(loaded)
    return session


def _line_below(engine: _Engine, text: str) -> StyleAndTextTuples:
    if not engine.is_ready:
        return []
    from yarnchat.live import shortened

    said, missing = shortened(engine.so_far(text)[0], _width())
    return [("", f"{said}  " if said and missing else said), ("class:missing", missing)]


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

    @keys.add("enter", filter=has_focus(DEFAULT_BUFFER))
    def _(event: KeyPressEvent) -> None:
        buffer = event.current_buffer
        if buffer.complete_state and buffer.complete_state.current_completion:
            buffer.complete_state = None  # the word she chose is in the line already
        else:
            buffer.validate_and_handle()

    @keys.add("escape", "enter", filter=has_focus(DEFAULT_BUFFER))
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
    import yarnchat.completing
    import yarnchat.live  # noqa: F401
    from yarnchat.assistant import Assistant

    Assistant(notebook=":memory:").ask("100 g of 200 m/100 g, how many metres?")


def _width() -> int:
    """The terminal's width now, whatever COLUMNS said when it was opened; 80 where it does not know."""
    try:
        return os.get_terminal_size(sys.stdout.fileno()).columns or 80
    except OSError:
        return 80
