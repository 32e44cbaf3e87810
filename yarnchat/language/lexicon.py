"""The vocabulary as look-up tables: words of grammar/*.toml and the names of weight classes, longest spelling first."""

from __future__ import annotations

import re
import tomllib
from dataclasses import dataclass, field
from functools import cache, lru_cache
from pathlib import Path
from typing import Any

from yarnchat.knowledge.classes import ambiguous_names, classes

Value = str | int | float | tuple[str, ...] | None

_WORD = re.compile(r"[^\W\d_]+(?:'[^\W\d_]+)*|\d+|[^\w\s]")
_EITHER = re.compile(r"\[([^\]]*)\]")
_STEM = re.compile(r"(\w+)~")


@dataclass(frozen=True, slots=True)
class Entry:
    """One spelling: its words, the kind of token or cue it makes, and what it stands for."""

    words: tuple[str, ...]
    kind: str
    value: Value


_NOUNS = ("weight", "yarn", "wool")

Table = dict[str, list[Entry]]


@dataclass(slots=True)
class Branch:
    """Entries by their words, one after the other: those that end here, and the branches of those that go on."""

    ends: list[Entry] = field(default_factory=list)
    after: dict[str, Branch] = field(default_factory=dict)
    gap: Branch | None = None
    """Those that go on after a ``*``: any one to three words."""


def grammar_file(name: str) -> Path:
    """A file of the grammar folder: beside the package in a checkout, inside it once installed."""
    here = Path(__file__).resolve().parent.parent
    inside = here / "grammar"
    return (inside if inside.is_dir() else here.parent / "grammar") / name


@cache
def load(name: str) -> dict[str, Any]:
    """A TOML file of the grammar folder."""
    return tomllib.loads(grammar_file(name).read_text(encoding="utf-8"))


def shape_cue(shape: str) -> str:
    """The kind of the cues that name a shape: ``shape.half_circle`` of "half circle"."""
    return f"shape.{shape.replace(' ', '_')}"


@cache
def word_list(name: str) -> frozenset[str]:
    """A plain list of words from grammar/words.toml."""
    return frozenset(load("words.toml")["lists"][name])


@cache
def made_several() -> frozenset[str]:
    """What a number of may be made: things of a shape, by the plurals of cues.toml, and others listed as such."""
    shapes = {say.split()[-1] for says in load("cues.toml")["shape"].values() for say in says}
    return word_list("made_several") | {word for word in shapes if word.endswith("s")}


@lru_cache(maxsize=4096)
def split_words(text: str) -> tuple[str, ...]:
    """The words, numbers and signs of a spelling, lower case; hyphens do not count."""
    if text.replace(" ", "").isalpha():
        return tuple(text.lower().split())
    return tuple(word for word in _WORD.findall(text.lower()) if word != "-")


@cache
def units_asked_for() -> dict[str, str]:
    """The unit or needle system of every spelling that may be asked for: ``in yards``, ``to oz``, ``us size``."""
    words = load("words.toml")
    spelt = {say: unit for units in words["units"].values() for unit, says in units.items() for say in says}
    return {**spelt, **words["into"]}


@cache
def vocabulary() -> Table:
    """Token kinds by first word, longest spelling first."""
    data = load("words.toml")
    entries = [Entry(split_words(word), kind, word) for kind, words in data["words"].items() for word in words]
    entries += [
        Entry(split_words(word), kind, unit)
        for kind, units in data["units"].items()
        for unit, words in units.items()
        for word in words
    ]
    entries += [Entry(split_words(word), "STRANDED", int(n)) for n, words in data["strands"].items() for word in words]
    entries += [Entry(split_words(word), "CUR", sign) for sign, words in data["currency"].items() for word in words]
    entries += [Entry((word,), "ORDINAL", n) for word, n in data["ordinals"].items()]
    everyday = set(data["everyday"]["names"])
    entries += [
        Entry(words, "CLASS", kind.key)
        for kind in classes()
        for name in kind.names
        for words in (
            [split_words(name)] if name not in everyday else [split_words(f"{name} {noun}") for noun in _NOUNS]
        )
    ]
    entries += [
        Entry((f"{name.replace(' ', '')}weight",), "CLASS", kind.key)  # laceweight, sportweight
        for kind in classes()
        for name in kind.names
        if name.isalpha()
    ]
    entries += [Entry((word,), "CLASS", key) for key, words in data["several_of_a_weight"].items() for word in words]
    entries += [Entry(split_words(name), "CLASS", tuple(keys)) for name, keys in ambiguous_names().items()]
    return _table(entries)


@cache
def cues() -> Branch:
    """Cues by their words; the kind of each is the row of grammar/cues.toml it stands in."""
    data = load("cues.toml")
    entries = []
    for kind, rows in data.items():
        for name, spellings in rows.items():
            said = (words for say in spellings for form in _inflected(say) for words in _as_scanned(form))
            entries += [Entry(words, f"{kind}.{name}", None) for words in said]
    root = Branch()
    for entry in entries:
        branch = root
        for word in entry.words:
            if word == "*":
                branch.gap = branch.gap or Branch()
                branch = branch.gap
                continue
            if word not in branch.after:
                branch.after[word] = Branch()
            branch = branch.after[word]
        branch.ends.append(entry)
    return root


def _as_scanned(words: tuple[str, ...]) -> list[tuple[str, ...]]:
    """The words as they are, and with each ``'s`` apart: a text parts it from some words and not from others."""
    parted = tuple(part for word in words for part in ((word[:-2], "'", "s") if word.endswith("'s") else (word,)))
    return [words, parted] if len(parted) > len(words) and all(parted) else [words]


def _inflected(say: str) -> list[tuple[str, ...]]:
    """The spellings one cue stands for: ``call~ for`` is call, calls, called and calling for; ``[a|b]`` is either."""
    if "[" not in say and "~" not in say:
        return [split_words(say)]
    if choice := _EITHER.search(say):
        parts = choice.group(1).split("|")
        return [w for part in parts for w in _inflected(say[: choice.start()] + part + say[choice.end() :])]
    if stem := _STEM.search(say):
        forms = _verb_forms(stem.group(1))
        return [w for form in forms for w in _inflected(say[: stem.start()] + form + say[stem.end() :])]
    return [split_words(say)]


_DOUBLED = re.compile(r"[^aeiou]*[aeiou][^aeiouwxy]")
"""A verb of one short syllable: swap, plan, step."""


def _verb_forms(stem: str) -> list[str]:
    """A verb as it is, and with -s, -ed and -ing, as English spells them."""
    if _DOUBLED.fullmatch(stem):
        return [stem, stem + "s", stem + stem[-1] + "ed", stem + stem[-1] + "ing"]
    if stem.endswith("e"):
        return [stem, stem + "s", stem + "d", stem[:-1] + "ing"]
    if stem.endswith(("s", "sh", "ch", "x")):
        return [stem, stem + "es", stem + "ed", stem + "ing"]
    return [stem, stem + "s", stem + "ed", stem + "ing"]


def _table(entries: list[Entry]) -> Table:
    table: Table = {}
    for entry in entries:
        if entry.words:
            table.setdefault(entry.words[0], []).append(entry)
    for rows in table.values():
        rows.sort(key=lambda entry: -len(entry.words))
    return table
