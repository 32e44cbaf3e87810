"""Reading a knowledge file: TOML rows, each with its source, and a plain sentence where a row is wrong."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from math import isfinite
from pathlib import Path


class KnowledgeError(ValueError):
    """A knowledge file is wrong; the message is one sentence naming the file, the row and the fault."""


@dataclass(frozen=True, slots=True)
class Row:
    """One table of a knowledge file; every reading method raises KnowledgeError where the value is wrong."""

    where: str
    """The file and the row, as a person would look for it: ``classes.toml, class 4``."""
    cells: Mapping[str, object]
    sources: Mapping[str, str]

    def only(self, *names: str) -> None:
        """Refuse any value that nobody reads."""
        for name in self.cells:
            if name not in names:
                raise KnowledgeError(f"{self.where}: nothing reads {name!r}.")

    def has(self, name: str) -> bool:
        """Whether the row has that value."""
        return name in self.cells

    def text(self, name: str) -> str:
        """A text that is not empty."""
        value = self._cell(name)
        if not isinstance(value, str) or not value.strip():
            raise KnowledgeError(f"{self.where}: {name} should be a text, not {value!r}.")
        return value

    def texts(self, name: str) -> tuple[str, ...]:
        """A list of texts, none of them twice."""
        values = self._cell(name)
        if not isinstance(values, list) or not values or not all(isinstance(text, str) for text in values):
            raise KnowledgeError(f"{self.where}: {name} should be a list of texts, not {values!r}.")
        if len(set(values)) < len(values):
            raise KnowledgeError(f"{self.where}: {name} holds a text twice.")
        return tuple(values)

    def number(self, name: str) -> float:
        """A finite number above zero."""
        value = self._cell(name)
        if isinstance(value, bool) or not isinstance(value, int | float) or not isfinite(value) or value <= 0:
            raise KnowledgeError(f"{self.where}: {name} should be a number above zero, not {value!r}.")
        return float(value)

    def maybe_text(self, name: str) -> str | None:
        """A text, or None where the row has none."""
        return self.text(name) if self.has(name) else None

    def maybe_number(self, name: str) -> float | None:
        """A finite number above zero, or None where the row has none."""
        return self.number(name) if self.has(name) else None

    def source(self) -> str:
        """The source of this row's values, written out."""
        key = self.text("source")
        if key not in self.sources:
            raise KnowledgeError(f"{self.where}: the source {key!r} is not among the file's sources.")
        return self.sources[key]

    def row(self, name: str) -> Row:
        """A table inside this one."""
        return self._inside(name, self._cell(name))

    def rows(self, name: str) -> tuple[Row, ...]:
        """A list of tables inside this one."""
        values = self._cell(name)
        if not isinstance(values, list) or not values:
            raise KnowledgeError(f"{self.where}: {name} should be a list of tables, not {values!r}.")
        return tuple(self._inside(f"{name} {place}", value) for place, value in enumerate(values, 1))

    def _cell(self, name: str) -> object:
        if name not in self.cells:
            raise KnowledgeError(f"{self.where}: {name} is missing.")
        return self.cells[name]

    def _inside(self, name: str, value: object) -> Row:
        if not isinstance(value, dict):
            raise KnowledgeError(f"{self.where}: {name} should be a table, not {value!r}.")
        return Row(f"{self.where}, {name}", value, self.sources)


def parse(text: str, file: str) -> Row:
    """The whole of a knowledge file; KnowledgeError where it is not TOML or names no sources."""
    try:
        cells = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise KnowledgeError(f"{file} is not TOML: {error}.") from error
    named = Row(file, cells, {}).row("sources")
    sources = {key: named.text(key) for key in named.cells}
    return Row(file, {name: value for name, value in cells.items() if name != "sources"}, sources)


def read(file: str) -> Row:
    """A knowledge file that lies beside this module."""
    return parse(Path(__file__).with_name(file).read_text(encoding="utf-8"), file)
