"""One of several colours asked for, or its amount put right."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import Any

from yarnchat.language.reading import Reading
from yarnchat.queries import Query, Yarn


def of_one_colour(before: Query, now: Query, reading: Reading) -> dict[str, Any]:
    """``and the contrast colour?``, ``CC 250``: the one colour asked for, or its amount put right, in its unit."""
    if len(before.colours) > 1 and len(now.colours) == 1 and not now.colours[0].name:
        return _other_colour(before, now, reading)
    if now.colours or len(before.colours) < 2:
        return {"only": None} if now.colours else {}
    meant = [
        colour for colour in before.colours if reading.colour and _plainly(colour.name) == _plainly(reading.colour)
    ]
    if len(meant) != 1:
        return {}
    [colour] = meant
    amounts = colour.amounts
    other_yarn = bool(now.yarns) or now.pattern != Yarn()
    if other_yarn or reading.bare_count is None or len(amounts) != 1 or len(amounts[0].values) != 1:
        return {"only": colour.name}
    told = replace(colour, amounts=(replace(amounts[0], values=(reading.bare_count,), low=None),))
    return {"colours": tuple(told if other is colour else other for other in before.colours), "only": None}


def _other_colour(before: Query, now: Query, reading: Reading) -> dict[str, Any]:
    """``what if red were 450 yds``: the amount of one of the colours told before, put in its place."""
    said = _plainly(reading.colour) if reading.colour else None
    amounts = now.colours[0].amounts
    if said is None or all(_plainly(colour.name) != said for colour in before.colours):
        return {"only": None}
    told = (replace(colour, amounts=amounts) if _plainly(colour.name) == said else colour for colour in before.colours)
    return {"colours": tuple(told), "only": None}


def _plainly(label: str) -> str:
    """A colour's label without the many ways to write it: ``the contrast colour`` is CC, ``main shade`` is MC."""
    said = re.sub(r"\b(?:the|colou?r|shade|yarn|col)\b|[^a-z0-9]", "", label.lower())
    return re.sub(r"^(?:contrasting|contrast)", "cc", re.sub(r"^main", "mc", said))
