"""The answer: one object that every view, report and script is made from."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import BaseModel, ConfigDict, Field

Status = Literal["answered", "unclear", "not_understood", "refused"]
Basis = Literal["same gauge", "gauge", "swatch", "default"]
"""What the yarn of a side, or a ratio of two, rests on; "same gauge" is of a ratio alone."""
Level = Literal["note", "doubt", "error"]


def _absent(value: object) -> bool:
    return value is None


Bound = Annotated[float | None, Field(exclude_if=_absent)]


class _Model(BaseModel):
    model_config = ConfigDict(extra="forbid", frozen=True, serialize_by_alias=True)


class Amount(_Model):
    """A quantity, not rounded; ``low`` and ``high`` where it is an estimate (k = 2, about 95 %)."""

    value: float
    unit: str
    low: Bound = None
    high: Bound = None


class Ratio(_Model):
    """Length in the new yarn over length in the pattern's, with its range and what it rests on."""

    value: float
    low: float
    high: float
    basis: Basis


class RatioRow(_Model):
    """One row of the ratio table; ``from_`` is printed as ``from``."""

    from_: str = Field(serialization_alias="from")
    to: str
    value: float
    low: float
    high: float
    basis: Basis
    swatches: list[str] = []


class Item(_Model):
    """Something the notebook holds, by kind and name, with its facts as one plain sentence."""

    kind: str
    name: str
    text: str


Figure = Amount | Ratio | bool | int | float | str | list[RatioRow] | list[Item] | list[str]
Figures = dict[str, Figure]


class Finding(_Model):
    """What a check found: a note is harmless, a doubt wants a look, an error cannot be true."""

    level: Level
    text: str


class Part(_Model):
    """One size, colour or candidate yarn; a colour in several sizes has its own ``sizes``."""

    name: str
    figures: Figures = {}
    sizes: list[Part] = []


class Answer(_Model):
    """The whole answer to one question.

    ``headline`` is what a person reads first; what it says of figures stands in them or in ``working``, and JSON leaves
    it out.
    """

    asked: str
    """The question as it was typed."""
    status: Status
    """answered; unclear, which asks for what is missing; not_understood; refused, where it cannot be true, or the
    notebook fails."""
    ability: str | None = None
    """What answered: substitute, skeins, enough, …; None where nothing did."""
    reading: str = ""
    """How the question was taken, in one sentence."""
    figures: Figures = {}
    """By name: a length, mass or area is an Amount with its unit, skeins and spare are whole numbers, and so on."""
    sizes: list[Part] = []
    """Figures of each size, where there are several; they stand here and not in ``figures``."""
    colours: list[Part] = []
    """Figures of each colour, where there are several."""
    yarns: list[Part] = []
    """Figures of each yarn, where several are compared."""
    findings: list[Finding] = []
    """What a check found."""
    working: list[str] = []
    """The arithmetic, step by step, with the source of each value; rounded where it is written."""
    cautions: list[str] = []
    """What to mind; where it is refused, why."""
    unused: list[str] = []
    """Pieces of the question that found no place: none of an answered one."""
    asks: str | None = None
    """What is asked back, where the status is unclear or not_understood."""
    suggestions: list[str] = []
    """Whole questions to ask instead."""
    headline: str = Field("", exclude=True)
