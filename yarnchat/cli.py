"""The command: its arguments, questions from the line, stdin or a script, and its exit codes."""

from __future__ import annotations

import gc
import io
import os
import sys

from yarnchat import __version__

TYPE_CHECKING = False
"""As in typing; that module, like all others here, is loaded by what needs it: --version needs none."""
if TYPE_CHECKING:
    import argparse
    from collections.abc import Iterator, Sequence

    from yarnchat.answers import Answer
    from yarnchat.assistant import Assistant
    from yarnchat.script import Line
    from yarnchat.views.report import Entry

ANSWERED, NOT_ANSWERED, USAGE = 0, 1, 2
STOPPED, PIPE_CLOSED = 130, 141
"""What a shell reports after Ctrl-C, and after a reader that left: 128 and the number of the signal."""

_VIEWS = {"markdown": "markdown", "csv": "tables", "json": "records", "html": "page"}
FORMATS = ("text", *_VIEWS)

_USAGE = """yarnchat [options]               talk (with no terminal: questions from stdin, as a script)
       yarnchat [options] QUESTION…     one question; quotes are needed only for what the shell would take
       yarnchat [options] -             one question of any number of lines from stdin
       yarnchat [options] run FILE      a script of questions; more in: yarnchat run --help
       yarnchat [options] ratios [WEIGHT [to WEIGHT]]
                                        the table of ratios, yours beside the standard's, to print"""
_AFTER = """for example:
  yarnchat "1200 yd worsted pattern in 420 yd/100 g fingering?"
  yarnchat "6 (7, 8) skeins of sport, 300 yd each, in DK at 230 yd a skein"
  yarnchat "I have 6 skeins of DK, 230 yd each: enough for 1200 yd of worsted?"
  yarnchat "what weight is 22 sts to 4 in?"
  yarnchat ratios DK --as markdown
  yarnchat help                  what can be asked
  yarnchat help sizes            how sizes are written; also: sources, sure, units, spare, why

environment:
  YARNCHAT_NOTEBOOK   the notebook to use where --notebook is not given
  YARNCHAT_HISTORY    the file that keeps the questions of your conversations
  YARNCHAT_CACHE      the folder for what is made once from the grammar and may be deleted
  NO_COLOR            no colours; quantities, weights and names stay bold or underlined

exit status: 0 answered, 1 a question was not answered, 2 the command or a file is at fault"""
_RUN_USAGE = """yarnchat [options] run FILE      FILE may be - for stdin"""
_RUN_AFTER = """a script is one conversation, one question a line:

  = Cardigan for the shop window
  # a line for yourself, not in the report
  900 (1000, 1100) m of DK
    in aran, 50 g/80 m balls at £4.50?
  and in chunky, 100 g/100 m?

  = Hat
  how many 210 yd skeins for 380 yd?

  "= Text" is a heading of the report, an indented line goes on with the one above it, "#" and a blank
  begin a comment. A question may lean on the one before it. One that gets no answer is named on stderr
  with its line, and the others are answered all the same.

for example:
  yarnchat run shopping.yarn
  yarnchat run shopping.yarn --as html --out shopping.html
  yarnchat run shopping.yarn --as csv > shopping.csv

formats: text, markdown (a page of tables), csv (a row for each size and colour), json (every answer with
all its figures), html (one page for a telephone or one sheet of paper)

exit status: 0 all answered, 1 a question was not answered, 2 the command or a file is at fault"""
_RATIOS = "show me the ratio table"
"""What ``yarnchat ratios`` asks; with a weight after it the words are a question as they stand."""
_VALUED = frozenset({"--notebook", "--as", "--out"})
_LONG = 200
"""From so many questions on, progress is shown."""


class Options:
    """What the options say."""

    json: bool = False
    notebook: str | None = None
    format: str | None = None
    out: str | None = None


class CommandError(Exception):
    """What is wrong with the command or a file, as a plain sentence."""


def main(arguments: Sequence[str] | None = None) -> int:
    """Run the command and return its exit status."""
    try:
        _prepare_streams()
        status = _run(list(sys.argv[1:] if arguments is None else arguments))
        sys.stdout.flush()
    except CommandError as fault:
        return _complain(str(fault))
    except KeyboardInterrupt:
        return STOPPED
    except BrokenPipeError:
        return _reader_left()
    except OSError as error:
        return _complain(f"The answer could not be written: {error.strerror or error}.")
    return status


def _run(arguments: list[str]) -> int:
    """What the arguments ask for, done; the exit code."""
    options, words = _split(arguments)
    asked = Options()
    if options:
        _parser(of_run=words[:1] == ["run"] and len(words) < 3).parse_args(options, asked)
    if _is_run(words):
        return _run_script(asked, words[1])
    if words[:1] == ["ratios"] and not asked.out:
        return _ask_once(asked, " ".join(words) if len(words) > 1 else _RATIOS)
    if asked.format or asked.out:
        raise CommandError("--as and --out go with run FILE, --as with ratios too.")
    if words == ["-"]:
        return _ask_once(asked, _stdin().strip())
    if words:
        return _ask_once(asked, " ".join(words))
    if sys.stdin and sys.stdin.isatty() and sys.stdout.isatty() and not asked.json:
        from yarnchat.chat import talk

        return talk(asked.notebook)
    return _run_script(asked, "-")


def _split(arguments: list[str]) -> tuple[list[str], list[str]]:
    """Options and the words of the question: ``--json`` is an option anywhere; ``->``, ``-5`` are words."""
    options: list[str] = []
    words: list[str] = []
    left = iter(arguments)
    for argument in left:
        if argument == "--":
            words += left
        elif argument in _VALUED:
            options += [argument, *([value] if (value := next(left, None)) is not None else [])]
        elif argument == "-h" or argument.startswith("--"):
            options.append(argument)
        else:
            words.append(argument)
    return options, words


def _is_run(words: list[str]) -> bool:
    """Whether ``run`` is the command, with one word after it; with more it begins a question."""
    if words[:1] != ["run"]:
        return False
    from pathlib import Path

    if len(words) == 1:
        raise CommandError("Say which file to run: yarnchat run FILE.")
    if len(words) > 2 and Path(words[1]).is_file():
        raise CommandError("One file at a time: yarnchat run FILE.")
    return len(words) == 2


def _parser(of_run: bool) -> argparse.ArgumentParser:
    """The parser of the options of a run of a script, or of everything else: for its help and its errors."""
    import argparse

    parser = argparse.ArgumentParser(
        prog="yarnchat",
        usage=_RUN_USAGE if of_run else _USAGE,
        description="Answer a script of questions in one report."
        if of_run
        else "How much yarn to buy when you swap the yarn of a pattern, with the working.",
        epilog=_RUN_AFTER if of_run else _AFTER,
        formatter_class=lambda prog: argparse.RawDescriptionHelpFormatter(prog, width=_width() - 2),
        allow_abbrev=False,
    )
    parser.add_argument("--json", action="store_true", help="answer in JSON")
    parser.add_argument("--notebook", metavar="PATH", help="use this notebook instead of your own")
    parser.add_argument(
        "--as",
        dest="format",
        choices=FORMATS,
        metavar="FORMAT",
        help=f"run, ratios: {', '.join(FORMATS)} (default text)",
    )
    parser.add_argument("--out", metavar="FILE", help="run: write the report here, whole or not at all")
    parser.add_argument("--version", action="version", version=f"yarnchat {__version__}")
    return parser


def _ask_once(asked: Options, question: str) -> int:
    """Answer one question on stdout. It is over before sweeping for garbage would pay for itself."""
    if any("\ud800" <= char <= "\udfff" for char in question):
        raise CommandError("That question is not UTF-8 text.")
    _one_form(asked)
    sweeping = gc.isenabled()
    gc.disable()
    try:
        answer = _assistant(asked).ask(question)
        _tell(answer, asked)
    finally:
        if sweeping:
            gc.freeze()  # nor at the end of the program
            gc.enable()
    return ANSWERED if answer.status == "answered" else NOT_ANSWERED


def _tell(answer: Answer, asked: Options) -> None:
    """The answer on stdout in the form asked for; only that view is loaded."""
    if asked.json:
        from yarnchat.views.records import render_answer

        print(render_answer(answer))
    elif asked.format not in (None, "text"):
        from yarnchat.views.report import Asked

        sys.stdout.writelines(_rendered(iter([Asked(answer)]), asked.format))
    else:
        from yarnchat.views.text import render

        print(render(answer, _width()))


def _one_form(asked: Options) -> None:
    if asked.json and asked.format not in (None, "json"):
        raise CommandError(f"--json and --as {asked.format} ask for two forms of one report.")


def _run_script(asked: Options, name: str) -> int:
    """Answer every question of a script in one report; name each that got no answer on stderr."""
    from pathlib import Path

    from yarnchat import script

    _one_form(asked)
    try:
        text = _stdin() if name == "-" else script.read(Path(name))
    except script.ScriptError as error:
        hint = "" if Path(name).exists() or name == "-" else f' To ask it as a question: yarnchat "run {name}"'
        raise CommandError(f"{error}{hint}") from None
    lines = list(script.lines(text))
    if all(line.is_heading for line in lines):
        raise CommandError(f"There is no question in {_shown(name)}.")
    conversation = _Conversation(_assistant(asked), lines, _shown(name))
    report = _rendered(conversation.entries(), "json" if asked.json else asked.format or "text")
    if asked.out:
        from yarnchat.script import write_whole

        try:
            write_whole(Path(asked.out), report, script=Path(name))
        except script.ScriptError as error:
            raise CommandError(str(error)) from None
    else:
        for piece in report:
            sys.stdout.write(piece)
            sys.stdout.flush()
    return NOT_ANSWERED if conversation.unanswered else ANSWERED


class _Conversation:
    """The questions of a script put to one assistant, one after the other."""

    def __init__(self, assistant: Assistant, lines: list[Line], name: str) -> None:
        self._assistant = assistant
        self._lines = lines
        self._name = name
        self.unanswered = 0

    def entries(self) -> Iterator[Entry]:
        """Each heading, and each question with its answer as it is worked out."""
        from yarnchat.views.report import Asked, Heading, sentence

        shown = len(self._lines) >= _LONG and sys.stderr is not None and sys.stderr.isatty()
        for done, line in enumerate(self._lines):
            if shown and done % 50 == 0:
                print(f"\r{done:,} of {len(self._lines):,}", end="", file=sys.stderr, flush=True)
            if line.is_heading:
                yield Heading(line.text)
                continue
            answer = self._assistant.ask(line.text)
            if answer.status != "answered":
                self.unanswered += 1
                clear = "\r" if shown else ""
                print(f"{clear}{self._name}:{line.number}: {sentence(answer)}", file=sys.stderr)
            yield Asked(answer)
        if shown:
            print("\r" + " " * 40 + "\r", end="", file=sys.stderr, flush=True)


def _rendered(entries: Iterator[Entry], form: str) -> Iterator[str]:
    """The report in one of FORMATS; only that view is loaded."""
    if form == "text":
        from yarnchat.views.text import render_report

        return render_report(entries, _width())
    from importlib import import_module

    view = import_module(f"yarnchat.views.{_VIEWS[form]}")
    pieces: Iterator[str] = view.render(entries)
    return pieces


def _assistant(asked: Options) -> Assistant:
    from yarnchat.assistant import Assistant

    return Assistant(notebook=asked.notebook)


def _stdin() -> str:
    from yarnchat.script import ScriptError, decode

    try:
        return decode(sys.stdin.buffer.read() if sys.stdin else b"", "What came on stdin")
    except ScriptError as error:
        raise CommandError(str(error)) from None


def _shown(name: str) -> str:
    from yarnchat.language.clean import printable

    return "stdin" if name == "-" else printable(name)


def _width() -> int:
    """How wide the terminal is, as shutil has it, which loads five packers of files to say so."""
    told = os.environ.get("COLUMNS", "")
    if told.isdecimal() and int(told):
        return int(told)
    try:
        return os.get_terminal_size(sys.__stdout__.fileno()).columns or 80 if sys.__stdout__ else 80
    except (ValueError, OSError):
        return 80


def _prepare_streams() -> None:
    """Text that a terminal's encoding cannot show is spelt plainly instead of ending the program."""
    from yarnchat.views.plain import register_fallback

    for name in ("stdout", "stderr"):
        stream = getattr(sys, name)
        if stream is None:
            setattr(sys, name, io.StringIO())
        elif hasattr(stream, "reconfigure"):
            stream.reconfigure(errors=register_fallback())


def _complain(sentence: str) -> int:
    from yarnchat.language.clean import printable

    print(f"yarnchat: {printable(sentence)}", file=sys.stderr)
    return USAGE


def _reader_left() -> int:
    """Point stdout at nothing, so that Python's own last flush does not complain either."""
    os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
    return PIPE_CLOSED
