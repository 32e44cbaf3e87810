"""Yarn-number systems: what length and mass each counts."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

from yarnchat.knowledge.tables import KnowledgeError, Row, read


@dataclass(frozen=True, slots=True)
class YarnNumber:
    """A system: ``direct`` numbers are grams per length, the others lengths of ``metres`` per ``grams``."""

    key: str
    label: str
    direct: bool
    metres: float
    grams: float
    source: str


@cache
def systems() -> Mapping[str, YarnNumber]:
    """Every system by key: tex, denier, Nm, NeC, worsted, yd/lb, yd/oz, and m or yd per 100 g or 50 g."""
    return system_table(read("conversions.toml"))


def system_table(file: Row) -> Mapping[str, YarnNumber]:
    """Read and check a whole table of systems; KnowledgeError, a plain sentence, where it is wrong."""
    file.only("system")
    found: dict[str, YarnNumber] = {}
    for row in file.rows("system"):
        row.only("key", "label", "kind", "metres", "grams", "source")
        key, kind = row.text("key"), row.text("kind")
        if key in found:
            raise KnowledgeError(f"{row.where}: {key!r} is there twice.")
        if kind not in ("direct", "indirect"):
            raise KnowledgeError(f"{row.where}: kind should be direct or indirect, not {kind!r}.")
        sizes = row.number("metres"), row.number("grams")
        found[key] = YarnNumber(key, row.text("label"), kind == "direct", *sizes, row.source())
    return found
