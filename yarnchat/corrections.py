"""A number put right: ``150 rows, not 140`` changes the one place of the question before that holds 140."""

from __future__ import annotations

from dataclasses import fields, is_dataclass, replace
from math import isclose
from typing import Any

from yarnchat.queries import Query
from yarnchat.refusals import unclear

Place = tuple[str, ...]
"""Where a number stands in a question: the names of the fields that lead to it."""

_NO_PLACES = frozenset(
    {"ability", "want", "topic", "only", "note", "name", "class_as_said", "weight_class", "rest", "unit"}
)
_OF_A_YARN = frozenset({"yarns", "stash", "used"})
"""A yarn told once may stand under each of these."""


def corrected(before: Query, old: float, new: float) -> Query | None:
    """The question with ``new`` where ``old`` stood; None where it stood nowhere, a Refusal where it stood twice."""
    places: set[Place] = set()
    query: Query = _exchanged(before, old, new, (), places)
    if len(places) > 1:
        raise unclear(f"{old:g} stands for two things in the question before. Ask it whole, with {new:g}.", f"{old:g}")
    return query if places else None


def _exchanged(value: Any, old: float, new: float, path: Place, places: set[Place]) -> Any:
    """The same value with the number exchanged, and every place where it was."""
    if is_dataclass(value) and not isinstance(value, type):
        inside = {
            row.name: getattr(value, row.name) for row in fields(value) if row.init and row.name not in _NO_PLACES
        }
        changed = {name: _exchanged(one, old, new, (*path, name), places) for name, one in inside.items()}
        differing = {name: one for name, one in changed.items() if one != inside[name]}
        return replace(value, **differing) if differing else value
    if isinstance(value, tuple):
        return tuple(_exchanged(one, old, new, path, places) for one in value)
    if isinstance(value, bool) or value is None:
        return value
    if isinstance(value, int | float) and isclose(value, old):
        places.add(_place(path))
        return type(value)(new)
    if isinstance(value, str) and value == f"{old:g}":
        places.add(_place(path))
        return f"{new:g}"
    return value


def _place(path: Place) -> Place:
    """The place, where a yarn that is had is the one to knit with."""
    if path[0] not in _OF_A_YARN or "put_up" not in path:
        return path
    return ("yarns", *(name for name in path[1:] if name != "yarn"))
