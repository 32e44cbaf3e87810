"""A script: a text file of questions for one conversation, told apart line by line.

One question a line; an indented line continues the one above, a blank line ends it. ``= Text`` is a heading
kept in the report. A line that begins with ``#`` is a comment, unless a digit follows: ``#4 weight`` is a
question.
"""

from __future__ import annotations

import os
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from pathlib import Path


class ScriptError(Exception):
    """A script that cannot be read, as a plain sentence."""


@dataclass(slots=True)
class Line:
    """A heading or a question of a script, and the number of the line where it begins, counted from 1."""

    number: int
    text: str
    is_heading: bool = False


@dataclass(slots=True)
class _Question:
    number: int
    lines: list[str] = field(default_factory=list)


def read(path: Path) -> str:
    """The text of a script file; ScriptError where there is none."""
    try:
        return decode(path.read_bytes(), str(path))
    except FileNotFoundError:
        raise ScriptError(f"There is no file {path}.") from None
    except IsADirectoryError:
        raise ScriptError(f"{path} is a folder; name a file of questions.") from None
    except OSError as error:
        raise ScriptError(f"{path} cannot be read: {error.strerror}.") from None


def decode(data: bytes, name: str) -> str:
    """Bytes as text; ScriptError where they are no UTF-8 text, or hold what no question can."""
    if b"\0" in data:
        raise ScriptError(f"{name} is not a text file; questions are plain text in UTF-8.")
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        raise ScriptError(f"{name}, line {line}, is not UTF-8 text; save it as UTF-8.") from None


def lines(text: str) -> Iterator[Line]:
    """Headings and questions of a script in order; the lines of one question are joined by line ends."""
    asked: _Question | None = None
    for number, line in enumerate(text.replace("\r\n", "\n").replace("\r", "\n").split("\n"), start=1):
        said = line.strip()
        if _is_comment(said):
            continue
        if asked and said and line[0].isspace():
            asked.lines.append(said)
            continue
        if asked:
            yield Line(asked.number, "\n".join(asked.lines))
            asked = None
        if said.startswith("= "):
            yield Line(number, said[2:].strip(), is_heading=True)
        elif said:
            asked = _Question(number, [said])
    if asked:
        yield Line(asked.number, "\n".join(asked.lines))


def write_whole(path: Path, pieces: Iterable[str], script: Path) -> None:
    """Write a report in UTF-8, whole or not at all; ScriptError where it cannot be written there."""
    target = path.resolve()
    if target.exists() and not target.is_file():
        raise ScriptError(f"{path} is not an ordinary file; name another for the report.")
    if target == script.resolve():
        raise ScriptError(f"{path} is the script itself; name another file for the report.")
    part = target.with_name(f".{target.name}.{os.getpid()}.part")
    try:
        with part.open("x", encoding="utf-8", newline="") as file:
            for piece in pieces:
                file.write(piece)
            file.flush()
            os.fsync(file.fileno())
        if target.exists():
            part.chmod(target.stat().st_mode & 0o7777)
        part.replace(target)
    except OSError as error:
        raise ScriptError(f"The report could not be written to {path}: {error.strerror}.") from None
    finally:
        part.unlink(missing_ok=True)


def _is_comment(said: str) -> bool:
    return said.startswith("#") and not said[1:2].isdigit()
