"""Length per mass of a yarn, from one yarn-number system into another, by way of tex (g per km)."""

from __future__ import annotations

from yarnchat.knowledge.conversions import YarnNumber, systems

_METRES_PER_KM = 1000


def to_tex(value: float, system: str) -> float:
    """Tex of a yarn number; KeyError for a system we do not have, ValueError for a number not above zero."""
    kind = _system(value, system)
    return value * _unit_tex(kind) if kind.direct else _unit_tex(kind) / value


def from_tex(tex: float, system: str) -> float:
    """Yarn number in a system, of a tex; KeyError and ValueError as for ``to_tex``."""
    kind = _system(tex, system)
    return tex / _unit_tex(kind) if kind.direct else _unit_tex(kind) / tex


def convert(value: float, system: str, into: str) -> float:
    """A yarn number in another system."""
    return from_tex(to_tex(value, system), into)


def tex_of(metres: float, grams: float) -> float:
    """Tex of a put-up; ValueError where a measure is not above zero."""
    if not (metres > 0 and grams > 0):
        raise ValueError("A put-up needs a length and a mass above zero.")
    return grams / metres * _METRES_PER_KM


def _system(value: float, system: str) -> YarnNumber:
    if not value > 0:
        raise ValueError("A yarn number must be above zero.")
    return systems()[system]


def _unit_tex(kind: YarnNumber) -> float:
    """Tex of the yarn whose number is 1."""
    return tex_of(kind.metres, kind.grams)
