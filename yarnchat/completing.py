"""Text before the cursor to the words that can stand next: openings, units, weight classes, her names."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import cache

from yarnchat.abilities import abilities
from yarnchat.knowledge.classes import WeightClass, classes
from yarnchat.language.scan import scan


@dataclass(frozen=True, slots=True)
class Word:
    """What may stand next, what it is, and how many characters before the cursor it takes the place of."""

    text: str
    kind: str
    typed: int = 0


_LOOKED_AT = 200
"""How many characters before the cursor matter."""

_Unit = tuple[str, ...]
_LENGTHS: tuple[_Unit, ...] = (("yd", "yards"), ("m", "metres", "meters"))
_MASSES: tuple[_Unit, ...] = (("g", "grams"), ("oz", "ounces"), ("lb", "pounds"))
_SIDES: tuple[_Unit, ...] = (("in", "inches"), ("cm",))
_COUNTS: tuple[_Unit, ...] = (("skeins",), ("balls",), ("hanks",))
_STITCHES: tuple[_Unit, ...] = (("sts", "stitches"), ("rows",))
_NEEDLES: tuple[_Unit, ...] = (("needles",),)
_ALONE = (*_LENGTHS, *_MASSES[:2], *_COUNTS, *_STITCHES, *_SIDES, ("mm",), ("wpi",), ("strands",))

UNITS = (*_ALONE, *_MASSES[2:], *_NEEDLES)
"""Every unit offered: how it is shown, and the other spellings that are offered once they are begun."""

_LETTERS = r"(?P<typed>[^\W\d_]*)$"
_AFTER_NUMBER = re.compile(rf"[0-9½¼¾⅓⅔⅛⅜⅝⅞][)\]}}]?\ ?{_LETTERS}")
# A number with what stands before it, and the units that can follow it there; the first that fits holds.
_BEFORE_NUMBER: tuple[tuple[str, tuple[_Unit, ...]], ...] = (
    (r"(?:[$£€#]\s*|\bsizes?\s+)[0-9.,/½¼¾]+", ()),
    (r"\b(?:us|uk)\s+[0-9.½¼¾ /]+", _NEEDLES),
    (r"\b(?:yds?|yards|m|met(?:re|er)s)\s*(?:/|per|to)\s*[0-9.,]+", _MASSES),
    (r"\b(?:g|grams|oz|ounces)\s*(?:/|=|per)\s*[0-9.,]+", _LENGTHS),
    (r"\b(?:sts?|stitches|rows)\s*(?:/|=|to|over|per|in)\s*[0-9.,½]+", _SIDES),
    (r"[0-9]\s*(?:in|cm)?\s*(?:x|×|by)\s*[0-9.,½]+", _SIDES),
    (r"", _ALONE),
)  # fmt: skip

_NAMELIKE = r"(?P<typed>\"?(?:[^\W\d_][^0-9,;:.?!()/\"]*)?)$"
_PUT_UP = r"[0-9][0-9.,]*\s*(?:yd|m|g|oz)s?(?:\s*/\s*[0-9.]+\s*(?:yd|m|g|oz)s?)?\s+(?:of\s+)?"
_PLACE = re.compile(
    r".*(?<![0-9])(?<![0-9]\ )\b(?:in|into|to|of|with|from)\s+(?:(?:my|some|a|an|the)\s+)?"
    rf"(?:{_PUT_UP})?{_NAMELIKE}",
    re.IGNORECASE,
)
_NO_PLACE = re.compile(
    r"(?:\b(?:want|like|how|need|have|going|plan|love|try|ought|used|sts?|stitch(?:es)?|rows?|over)\s+to"
    r"|\bhow\s+many\s+[a-z]+\s+in)\s+[^0-9]*$",
    re.IGNORECASE,
)
_AFTER_AMOUNT = re.compile(
    r"[0-9)\]}]\s?(?:yds?|yards|m|metres|meters|g|oz)\s+(?P<typed>(?:[^\W\d_][^0-9,;:.?!()/]*)?)$",
    re.IGNORECASE,
)
_KEPT = re.compile(rf"^\s*(?:forget|rename|delete|correct)\s+(?:(?:my|the)\s+)?{_NAMELIKE}", re.IGNORECASE)


def next_words(before: str, names: Sequence[str] = ()) -> list[Word]:
    """What can stand at the cursor, given the text before it; ``names`` are the notebook's. Often nothing."""
    line = before.rsplit("\n", 1)[-1][-_LOOKED_AT:]
    if kept := _KEPT.search(line):
        return list(_named(kept["typed"], names))
    if number := _AFTER_NUMBER.search(line):
        return list(_units(line[: number.start("typed")].rstrip(), number["typed"]))
    if (place := _PLACE.match(line)) and not _NO_PLACE.search(line):
        return [*_weights(place["typed"]), *_named(place["typed"], names)]
    if amount := _AFTER_AMOUNT.search(line):
        return list(_weights(amount["typed"]))
    return list(_openings(before.lstrip()))


def _units(before: str, typed: str) -> Iterator[Word]:
    units = next(units for pattern, units in _BEFORE_NUMBER if re.search(rf"{pattern}[)\]}}]?$", before, re.I))
    for unit in units:
        offered = unit if typed else unit[:1]
        yield from (Word(word, "unit", len(typed)) for word in offered if _goes_on(word, typed))


def _weights(typed: str) -> Iterator[Word]:
    for weight in classes():
        yield from (Word(name, "weight", len(typed)) for name in _spellings(weight, typed))


def _spellings(weight: WeightClass, typed: str) -> Iterable[str]:
    """A class by its own name; by another of its names where that is begun."""
    if not typed:
        return (weight.label,)
    begun: dict[str, str] = {}
    for name in (weight.label, *weight.names):
        if _goes_on(name, typed) and "." not in name:
            begun.setdefault(name.casefold().replace("-", "").replace(" ", ""), name)
    return [name for name in begun.values() if not any(_cut_short(name, other) for other in begun.values())]


def _cut_short(name: str, other: str) -> bool:
    """Whether a name is the beginning of another's word: ``fing`` of ``fingering``, and not sport of sport weight."""
    return " " not in name and other.startswith(name) and other[len(name) :][:1].isalpha()


def _named(typed: str, names: Sequence[str]) -> Iterator[Word]:
    for name in names:
        if _goes_on(name, typed.removeprefix('"')):
            yield Word(_as_read(name), "yours", len(typed))


@cache
def _as_read(name: str) -> str:
    """A name as it must be typed to be taken for one: in quotes where its words alone do not show it."""
    if [token.kind for token in scan(f"in {name}")] == ["IN", "NAME"]:
        return name
    return f'"{name}"' if '"' not in name else name


def _openings(typed: str) -> Iterator[Word]:
    return (Word(opening, "question", len(typed)) for opening in _first_words() if _goes_on(opening, typed))


@cache
def _first_words() -> tuple[str, ...]:
    """How the abilities' examples begin: at most seven words, up to the first that is the knitter's own."""
    begun = (_beginning(example) for ability in abilities().values() for example in ability.examples)
    return tuple(sorted({words for words in begun if len(words) > 3}, key=str.casefold))


def _beginning(example: str) -> str:
    end = len(example)
    words = 0
    for token in scan(example):
        if token.kind in ("NUM", "CLASS", "NAME", "COMMA", "SIZENAME", "US", "UK") or words == 7:
            end = token.start
            break
        words += token.text[0].isalpha()
        if token.kind == "COLON":
            end = token.end
            break
    return example[:end].strip(" ?(")


def _goes_on(word: str, typed: str) -> bool:
    """Whether a word begins with what is typed and has more to it."""
    return word.casefold().startswith(typed.casefold()) and word.casefold() != typed.casefold()
