"""The eight weight classes of the standard, the names knitters use for them, and the cautions of a name."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

from yarnchat.knowledge.tables import KnowledgeError, Row, read


@dataclass(frozen=True, slots=True)
class Span:
    """A published range; a limit of None is open ("30 and more")."""

    low: float | None
    high: float | None
    source: str

    def holds(self, value: float) -> bool:
        """Whether the value lies inside, limits included."""
        return (self.low is None or self.low <= value) and (self.high is None or value <= self.high)

    @property
    def middle(self) -> float:
        """The middle; of an open range its one limit."""
        limits = [limit for limit in (self.low, self.high) if limit is not None]
        return sum(limits) / len(limits)

    def __str__(self) -> str:
        if self.high is None:
            return f"{self.low:g} and more"
        return f"{self.high:g} and fewer" if self.low is None else f"{self.low:g}–{self.high:g}"


@dataclass(frozen=True, slots=True)
class WeightClass:
    """One class: stockinette stitches to 4 in, needles in mm and US, wraps per inch, grist in m/100 g."""

    number: int
    key: str
    label: str
    names: tuple[str, ...]
    gauge_low: float
    gauge_high: float
    gauge_open: bool
    """True for "6 and fewer", whose low end is only taken to have a middle."""
    gauge_source: str
    needle_mm_low: float
    needle_mm_high: float | None
    needle_us: str
    """US sizes as the standard prints them: "7–9", "17 and up"."""
    needle_source: str
    wpi: tuple[Span, ...]
    grist: tuple[Span, ...]
    caution: str | None = None

    @property
    def mid_gauge(self) -> float:
        """Stitches to 4 in at the middle of the class."""
        return (self.gauge_low + self.gauge_high) / 2

    @property
    def gauge(self) -> Span:
        """The gauge as a range, open below for "6 and fewer"."""
        return Span(None if self.gauge_open else self.gauge_low, self.gauge_high, self.gauge_source)

    @property
    def needle(self) -> Span:
        """The needle sizes in mm as a range."""
        return Span(self.needle_mm_low, self.needle_mm_high, self.needle_source)


@dataclass(frozen=True, slots=True)
class ClassTable:
    """Everything classes.toml says."""

    classes: tuple[WeightClass, ...]
    ambiguous: Mapping[str, tuple[str, ...]]
    cautions: Mapping[str, str]
    pairs: Mapping[frozenset[str], str]


def classes() -> tuple[WeightClass, ...]:
    """The classes, lace to jumbo; KnowledgeError where the file is wrong."""
    return _table().classes


def weight_class(key: str) -> WeightClass:
    """The class of that key, such as "super_bulky"; KeyError where there is none."""
    return _by_key()[key]


def class_by_number(number: int) -> WeightClass:
    """The class of that number in the standard, 0 to 7; KeyError where there is none."""
    found = [row for row in classes() if row.number == number]
    if not found:
        raise KeyError(f"The standard has classes 0 to 7, not {number}.")
    return found[0]


def classes_named(word: str) -> tuple[WeightClass, ...]:
    """The classes a knitter may mean by a name: none, one, or several where the name is ambiguous."""
    name = _plain(word)
    keys = _keys_by_name().get(name) or ambiguous_names().get(name) or ()
    return tuple(weight_class(key) for key in keys)


def ambiguous_names() -> Mapping[str, tuple[str, ...]]:
    """Names of more than one class, such as "baby", with the keys of their classes."""
    return _table().ambiguous


def name_caution(word: str) -> str | None:
    """What to say beside a name that published tables disagree about, else None."""
    return _table().cautions.get(_plain(word))


def pair_caution(one: str, other: str) -> str | None:
    """What to say where one name of a class is converted into another, such as worsted to aran."""
    return _table().pairs.get(frozenset({_plain(one), _plain(other)}))


def class_table(file: Row) -> ClassTable:
    """Read and check a whole table of classes; KnowledgeError, a plain sentence, where it is wrong."""
    file.only("class", "ambiguous", "caution", "pair")
    found = tuple(_weight_class(row) for row in file.rows("class"))
    _refuse_repeats(file, found)
    keys = {row.key for row in found}
    ambiguous: dict[str, tuple[str, ...]] = {}
    for row in file.rows("ambiguous"):
        row.only("words", "classes", "source")
        row.source()
        meant = row.texts("classes")
        if not keys.issuperset(meant):
            raise KnowledgeError(f"{row.where}: there is no class {min(set(meant) - keys)!r}.")
        ambiguous |= dict.fromkeys(_spellings(row), meant)
    pairs = {frozenset(row.texts("words")): _said(row) for row in file.rows("pair")}
    cautions = {name: _said(row) for row in file.rows("caution") for name in _spellings(row)}
    return ClassTable(found, ambiguous, cautions, pairs)


@cache
def _table() -> ClassTable:
    return class_table(read("classes.toml"))


@cache
def _by_key() -> Mapping[str, WeightClass]:
    return {row.key: row for row in classes()}


@cache
def _keys_by_name() -> Mapping[str, tuple[str, ...]]:
    return {name: (row.key,) for row in classes() for name in row.names}


def _weight_class(row: Row) -> WeightClass:
    """A weight class of its row in the table; KnowledgeError names the row and what is wrong with it."""
    row.only("number", "key", "label", "gauge", "needle", "names", "wpi", "grist", "caution")
    gauge, needle = row.row("gauge"), row.row("needle")
    gauge.only("low", "high", "and_fewer", "source")
    needle.only("mm_low", "mm_high", "us_low", "us_high", "source")
    number = row.cells.get("number")
    if not isinstance(number, int) or number not in range(8):
        raise KnowledgeError(f"{row.where}: number should be one of 0 to 7, not {number!r}.")
    low, high = gauge.number("low"), gauge.number("high")
    if low >= high:
        raise KnowledgeError(f"{gauge.where}: low should be below high.")
    names: list[str] = []
    for group in row.rows("names"):
        group.source()
        names += _spellings(group)
    us_high = needle.maybe_text("us_high")
    us_low = needle.text("us_low")
    return WeightClass(
        number=number,
        key=row.text("key"),
        label=row.text("label"),
        names=tuple(dict.fromkeys(names)),
        gauge_low=low,
        gauge_high=high,
        gauge_open=gauge.has("and_fewer"),
        gauge_source=gauge.source(),
        needle_mm_low=needle.number("mm_low"),
        needle_mm_high=needle.maybe_number("mm_high"),
        needle_us=f"{us_low}–{us_high}" if us_high else f"{us_low} and up",
        needle_source=needle.source(),
        wpi=tuple(_span(span) for span in row.rows("wpi")),
        grist=tuple(_span(span) for span in row.rows("grist")) if row.has("grist") else (),
        caution=_said(row.row("caution")) if row.has("caution") else None,
    )


def _span(row: Row) -> Span:
    row.only("low", "high", "source")
    low, high = row.maybe_number("low"), row.maybe_number("high")
    if low is None and high is None:
        raise KnowledgeError(f"{row.where}: a range needs a low or a high.")
    if low is not None and high is not None and low >= high:
        raise KnowledgeError(f"{row.where}: low should be below high.")
    return Span(low, high, row.source())


def _said(row: Row) -> str:
    row.only("words", "text", "source")
    row.source()
    return row.text("text")


def _spellings(row: Row) -> list[str]:
    """Every name of a row with its blanks kept, as hyphens, and closed up."""
    return [name.replace(" ", mark) for name in row.texts("words") for mark in (" ", "-", "")]


def _refuse_repeats(file: Row, found: tuple[WeightClass, ...]) -> None:
    if [row.number for row in found] != list(range(8)):
        raise KnowledgeError(f"{file.where}: the classes should be numbered 0 to 7, in that order.")
    owners: dict[str, str] = {}
    for row in found:
        for name in row.names:
            if owners.setdefault(name, row.key) != row.key:
                raise KnowledgeError(f"{file.where}: {name!r} names both {owners[name]} and {row.key}.")


def _plain(word: str) -> str:
    return " ".join(word.casefold().split())
