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

    ``headline`` is what a person reads first; it says nothing the figures do not, so JSON leaves it out.
    """

    asked: str
    status: Status
    ability: str | None = None
    reading: str = ""
    figures: Figures = {}
    sizes: list[Part] = []
    colours: list[Part] = []
    yarns: list[Part] = []
    findings: list[Finding] = []
    working: list[str] = []
    cautions: list[str] = []
    unused: list[str] = []
    asks: str | None = None
    suggestions: list[str] = []
    headline: str = Field("", exclude=True)
