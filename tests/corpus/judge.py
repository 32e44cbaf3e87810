"""Holds an answer, as JSON has it, to what a dialogue expects of it, and lists what misses."""

from __future__ import annotations

import json
import math
import unicodedata
from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from yarnchat.quantity import LENGTHS, MASSES, factor

Json = Mapping[str, Any]

TOLERANCE = 0.02
"""Relative, where an expectation names none: well inside the range of any estimate, outside any rounding."""


def misses(expected: Json, answer: Json) -> list[str]:
    """What of an expectation the answer does not meet.

    Of ``any_of`` one is enough; the misses are then those of the nearest.
    """
    if "any_of" in expected:
        common = {key: value for key, value in expected.items() if key != "any_of"}
        return min((misses({**common, **one}, answer) for one in expected["any_of"]), key=len)
    found = [
        *_one_of("status", expected, answer),
        *_one_of("ability", expected, answer),
        *figure_misses(expected.get("figures", {}), answer.get("figures", {})),
    ]
    for part in ("sizes", "colours", "yarns"):
        if part in expected:
            found += _part_misses(part, expected[part], answer.get(part, []))
    return found + _word_misses(expected, answer) + _finding_misses(expected, answer)


def figure_misses(expected: Json, figures: Json, where: str = "") -> list[str]:
    """The figures that are absent or differ, each as one line."""
    found = []
    for name, wanted in expected.items():
        given = figures.get(name)
        if given is None:
            found.append(f"{where}{name} missing, want {wanted}")
        elif not _meets(wanted, given):
            found.append(f"{where}{name} {given}, want {wanted}")
    return found


def _meets(wanted: Any, given: Any) -> bool:
    if isinstance(wanted, dict):
        return _quantity_meets(wanted, given)
    if isinstance(wanted, bool):
        return given is wanted
    if isinstance(wanted, int | float):
        value = given.get("value") if isinstance(given, dict) else given
        return _near(value, wanted, 1e-9 if isinstance(wanted, int) else TOLERANCE)
    if isinstance(wanted, list):
        shown = [str(one).lower() for one in (given if isinstance(given, list) else [given])]
        return all(any(str(one).lower() in text for text in shown) for one in wanted)
    return str(wanted).lower() in str(given).lower()


def _quantity_meets(wanted: Json, given: Any) -> bool:
    amount = given if isinstance(given, dict) else {"value": given}
    if "basis" in wanted and amount.get("basis") != wanted["basis"]:
        return False
    if not isinstance(wanted.get("value"), int | float):
        return True
    value = _in_unit(amount, wanted.get("unit"))
    return _near(value, wanted["value"], wanted.get("tol", TOLERANCE))


def _in_unit(amount: Json, wanted: str | None) -> Any:
    """The amount's value in the unit wanted; None where its unit is of another kind."""
    value, unit = amount.get("value"), _plain_unit(amount.get("unit"))
    wanted = _plain_unit(wanted)
    if not wanted or wanted == unit or value is None:
        return value
    same_kind = any(wanted in kind and unit in kind for kind in (LENGTHS, MASSES))
    return value * factor(unit, wanted) if same_kind else None


def _plain_unit(unit: object) -> str:
    return str(unit or "").replace("²", "^2").replace("**", "^").replace(" ", "")


def _near(value: Any, wanted: float, tolerance: float) -> bool:
    if isinstance(value, bool) or not isinstance(value, int | float):
        return False
    return math.isclose(value, wanted, rel_tol=tolerance, abs_tol=1e-9)


def _one_of(field: str, expected: Json, answer: Json) -> list[str]:
    wanted = expected.get(field)
    if not wanted:
        return []
    allowed = wanted if isinstance(wanted, list) else [wanted]
    return [] if answer.get(field) in allowed else [f"{field} {answer.get(field)}, want {wanted}"]


def _part_misses(part: str, expected: Sequence[Json], given: Sequence[Json]) -> list[str]:
    if len(given) != len(expected):
        return [f"{part}: {len(given)}, want {len(expected)}"]
    found = []
    for at, (wanted, one) in enumerate(zip(expected, given, strict=True)):
        if str(wanted.get("name", "")).lower() not in str(one.get("name")).lower():
            found.append(f"{part}[{at}] name {one.get('name')}, want {wanted['name']}")
        found += figure_misses(wanted.get("figures", {}), one.get("figures", {}), f"{part}[{at}].")
    return found


def _word_misses(expected: Json, answer: Json) -> list[str]:
    found = []
    said = {field: value for field, value in answer.items() if field != "asked"}
    everything = json.dumps(said, ensure_ascii=False).lower()
    unused = " ".join(map(str, answer.get("unused", []))).lower()
    if expected.get("asks") and not answer.get("asks"):
        found.append("asks nothing back")
    if wanted := expected.get("unused_any"):
        named = any(str(piece).lower() in unused for piece in wanted)
        found += [] if named else [f"unused {answer.get('unused')}, want one of {wanted}"]
    found += [
        f"does not mention {word!r}" for word in expected.get("mentions", []) if str(word).lower() not in everything
    ]
    if any(raw_controls(text) for text in texts(said)):
        found.append("a control or direction character came back")
    return found


def texts(value: Any) -> Iterator[str]:
    """Every text in a JSON value."""
    if isinstance(value, str):
        yield value
    elif isinstance(value, dict):
        for key, inner in value.items():
            yield str(key)
            yield from texts(inner)
    elif isinstance(value, list):
        for inner in value:
            yield from texts(inner)


def raw_controls(text: str) -> list[str]:
    """The control and direction characters of a text (Unicode's Cc, and its bidirectional formatting)."""
    directions = {"LRE", "RLE", "PDF", "LRO", "RLO", "LRI", "RLI", "FSI", "PDI"}
    return [
        char for char in text if unicodedata.category(char) == "Cc" or unicodedata.bidirectional(char) in directions
    ]


def _finding_misses(expected: Json, answer: Json) -> list[str]:
    wanted = expected.get("findings_level")
    if not wanted:
        return []
    levels = {finding["level"] for finding in answer.get("findings", [])}
    allowed = {"doubt": {"doubt", "error"}, "error": {"error"}}
    met = not levels & allowed["doubt"] if wanted == "none" else bool(levels & allowed[wanted])
    return [] if met else [f"findings {sorted(levels)}, want {wanted}"]
