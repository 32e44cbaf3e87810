"""How much more yarn a rib takes than plain fabric of the same area."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

from yarnchat.knowledge.tables import KnowledgeError, Row, read


@dataclass(frozen=True, slots=True)
class Rib:
    """A rib such as "1x1", its factor over plain fabric at equal loop length, and the source."""

    key: str
    factor: float
    source: str


@cache
def ribs() -> Mapping[str, Rib]:
    """Every rib with a published factor, by key."""
    return rib_table(read("ribs.toml"))


def rib_table(file: Row) -> Mapping[str, Rib]:
    """Read and check a whole table of ribs; KnowledgeError, a plain sentence, where it is wrong."""
    file.only("rib")
    found: dict[str, Rib] = {}
    for row in file.rows("rib"):
        row.only("key", "factor", "source")
        rib = Rib(row.text("key"), row.number("factor"), row.source())
        if rib.key in found:
            raise KnowledgeError(f"{row.where}: {rib.key!r} is there twice.")
        found[rib.key] = rib
    return found
