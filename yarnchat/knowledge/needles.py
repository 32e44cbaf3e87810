"""Needle sizes in mm, US and old UK numbers, with both readings where published charts differ."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from math import isclose

from yarnchat.knowledge.tables import KnowledgeError, Row, read


@dataclass(frozen=True, slots=True)
class Needle:
    """One row of the chart; sizes are strings, "0", "00" and "000" being three needles, and 10½ is "10.5"."""

    mm: float
    us: str | None
    uk: str | None
    source: str
    disputed: str | None = None
    """What charts disagree about, None where they agree."""


@dataclass(frozen=True, slots=True)
class NeedleTable:
    """Everything needles.toml says."""

    needles: tuple[Needle, ...]
    old_numbers: str


def needles() -> tuple[Needle, ...]:
    """Every row; KnowledgeError where the file is wrong."""
    return _table().needles


def by_us(size: str) -> list[Needle]:
    """The rows of a US size such as "8", "10.5" or "000": several where charts differ, none if unknown."""
    return [row for row in needles() if row.us == _plain(size)]


def by_uk(size: str) -> list[Needle]:
    """The rows of an old UK or Canadian size such as "8" or "000"; none where it is unknown."""
    return [row for row in needles() if row.uk == _plain(size)]


def by_mm(diameter: float) -> list[Needle]:
    """The rows of a diameter in mm: several where charts differ, none where no needle is sold in it."""
    return [row for row in needles() if isclose(row.mm, diameter, rel_tol=1e-6)]


def old_numbers() -> str:
    """What to say where a pattern may be older than today's numbers."""
    return _table().old_numbers


def needle_table(file: Row) -> NeedleTable:
    """Read and check a whole needle chart; KnowledgeError, a plain sentence, where it is wrong."""
    file.only("needle", "old_numbers")
    era = file.row("old_numbers")
    era.only("text", "source")
    era.source()
    found = tuple(_needle(row) for row in file.rows("needle"))
    for system in ("us", "uk"):
        _refuse_repeats(file, system, found)
    return NeedleTable(found, era.text("text"))


@cache
def _table() -> NeedleTable:
    return needle_table(read("needles.toml"))


def _needle(row: Row) -> Needle:
    row.only("mm", "us", "uk", "source", "disputed")
    us, uk = row.maybe_text("us"), row.maybe_text("uk")
    if us is None and uk is None:
        raise KnowledgeError(f"{row.where}: a needle needs a US or a UK size.")
    return Needle(row.number("mm"), us, uk, row.source(), row.maybe_text("disputed"))


def _refuse_repeats(file: Row, system: str, found: tuple[Needle, ...]) -> None:
    """A size with two diameters is refused unless every such row says that charts differ."""
    diameters: dict[str, float] = {}
    for row in found:
        size = row.us if system == "us" else row.uk
        if size and diameters.setdefault(size, row.mm) != row.mm and row.disputed is None:
            raise KnowledgeError(f"{file.where}: {system.upper()} {size} has two diameters, none disputed.")


def _plain(size: str) -> str:
    return size.strip().replace(" 1/2", ".5").replace(" ½", ".5").replace("½", ".5")
