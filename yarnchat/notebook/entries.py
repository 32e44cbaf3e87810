"""What the notebook gives back: stored yarns, swatches and stash, the settings, and a change made."""

from __future__ import annotations

from dataclasses import dataclass, fields, replace
from datetime import date
from typing import ClassVar, Literal

from yarnchat.quantity import number
from yarnchat.queries import Holding, Swatch, Yarn

Kind = Literal["yarn", "swatch", "stash"]


@dataclass(frozen=True, slots=True)
class StoredYarn:
    """A remembered yarn; ``yarn.name`` is ``name``."""

    kind: ClassVar[Kind] = "yarn"
    id: int
    name: str
    since: date
    yarn: Yarn

    def __str__(self) -> str:
        return describe(self.yarn)


@dataclass(frozen=True, slots=True)
class StoredSwatch:
    """A remembered swatch; its own name is beside the name of its yarn."""

    kind: ClassVar[Kind] = "swatch"
    id: int
    name: str
    since: date
    swatch: Swatch

    def __str__(self) -> str:
        swatch = self.swatch
        size = " × ".join(str(side) for side in (swatch.width, swatch.height) if side is not None)
        counts = [
            f"{number(count)} {what}"
            for count, what in ((swatch.stitches, "sts"), (swatch.rows, "rows"))
            if count is not None
        ]
        parts = [describe(swatch.yarn), size, "" if swatch.mass is None else str(swatch.mass), *counts]
        return ", ".join(part for part in parts if part)


@dataclass(frozen=True, slots=True, kw_only=True)
class StoredHolding(Holding):
    """So much of a yarn in the stash; ``unit`` is skein or g."""

    kind: ClassVar[Kind] = "stash"
    id: int
    name: str
    since: date

    def __str__(self) -> str:
        unit = "g" if self.unit == "g" else "skein" if self.amount == 1 else "skeins"
        amount = f"{number(self.amount)} {unit}"
        facts = describe(self.yarn)
        return f"{amount} of {facts}" if facts else amount


Stored = StoredYarn | StoredSwatch | StoredHolding


@dataclass(frozen=True, slots=True)
class Settings:
    """The knitter's standing wishes; the defaults where she said nothing."""

    units: Literal["yd", "m"] | None = None
    spares: int = 1
    scale_step: float | None = None
    """The last digit of her kitchen scale, in grams."""


@dataclass(frozen=True, slots=True)
class Change:
    """What was done, as a sentence made from what the file then held, and the entries it concerns."""

    sentence: str
    entries: tuple[Stored, ...] = ()


_PAIRS = (("weight_class", "class_as_said"), ("gauge", "other_gauge"), ("needle", "other_needle"))


def updated(known: Yarn, said: Yarn) -> Yarn:
    """What was known, with what is said now in its place; a thing said in two ways goes together."""
    slots = {field.name: getattr(said, field.name) for field in fields(Yarn)}
    new = {slot: value for slot, value in slots.items() if value is not None}
    for pair in _PAIRS:
        if new.keys() & set(pair):
            new |= {slot: slots[slot] for slot in pair}
    return replace(known, **new)


def changed_alike(yarn: Yarn, old: Yarn, new: Yarn) -> Yarn:
    """A yarn with each thing that was as it was in the old one as it is in the new one."""
    alike = [field.name for field in fields(Yarn) if getattr(yarn, field.name) == getattr(old, field.name)]
    return replace(yarn, **{slot: getattr(new, slot) for slot in alike if getattr(old, slot) is not None})


def describe(yarn: Yarn) -> str:
    """All that is stored of a yarn, in plain words."""
    second = [f"also {again}" for again in (yarn.other_gauge, yarn.other_needle) if again is not None]
    return ", ".join(part for part in (str(yarn), *second, yarn.fibre) if part)


def label(entry: Stored) -> str:
    """An entry by kind and name, for a sentence."""
    return called(entry.kind, entry.name)


def called(kind: str, name: str) -> str:
    """A kind and a name, for a sentence."""
    return f"the {'stash of' if kind == 'stash' else kind} “{name}”"
