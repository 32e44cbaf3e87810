"""What the file holds, read back as entries; every look by name goes through an index."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from typing import TYPE_CHECKING, TypeVar

from yarnchat.notebook import journal, settings, transfer
from yarnchat.notebook.entries import Stored, StoredHolding, StoredSwatch, StoredYarn, updated
from yarnchat.notebook.names import LONGEST, key
from yarnchat.notebook.rows import Cell, from_row
from yarnchat.queries import Yarn

if TYPE_CHECKING:
    from sqlite3 import Connection

Kind_ = TypeVar("Kind_", StoredYarn, StoredSwatch, StoredHolding)

FIND = "SELECT * FROM entry WHERE name_key = ? ORDER BY id"
ALIKE = "SELECT count(*) FROM entry WHERE name_key >= ? AND name_key < ? AND kind = 'swatch'"
OF_YARN = "SELECT * FROM entry WHERE yarn_key = ? AND kind = ? ORDER BY id"

_NUMBERED = " swatch 1000000"
_LAST = "\U0010ffff"


class UnreadableError(Exception):
    """A row that makes no sense."""


def entry(connection: Connection, number: Cell) -> Stored:
    """The entry of that id."""
    row = journal.read(connection, "entry", number)
    if row is None:
        raise UnreadableError("an entry is missing")
    return _entry(row)


def every(connection: Connection, kind: type[Kind_]) -> tuple[Kind_, ...]:
    """All entries of a kind, in the order they came."""
    return _of(kind, connection.execute("SELECT * FROM entry WHERE kind = ? ORDER BY id", (kind.kind,)))


def found(connection: Connection, name: str) -> list[Stored]:
    """The entries of that name."""
    return [_entry(row) for row in connection.execute(FIND, (key(name),))]


def only(connection: Connection, name: str, kind: type[Kind_]) -> Kind_ | None:
    """The one entry of that name and kind, or None."""
    return next((known for known in found(connection, name) if isinstance(known, kind)), None)


def of_yarn(connection: Connection, yarn: str, kind: type[Kind_]) -> tuple[Kind_, ...]:
    """The swatches, or the stash, of the yarn of that name."""
    return _of(kind, connection.execute(OF_YARN, (key(yarn), kind.kind)))


def names(connection: Connection) -> dict[str, str]:
    """Every name once by its key, in the order they came; that of a yarn that is only swatched or in the stash too."""
    spelled: dict[str, str] = {}
    for row in connection.execute("SELECT name_key, name, yarn_key, yarn_name FROM entry ORDER BY id"):
        spelled.setdefault(row["name_key"], row["name"])
        if row["yarn_key"]:
            spelled.setdefault(row["yarn_key"], row["yarn_name"])
    return spelled


def whole(connection: Connection) -> transfer.Export:
    """Everything, as it is exported."""
    return transfer.Export(
        settings=settings.load(connection),
        yarns=every(connection, StoredYarn),
        swatches=every(connection, StoredSwatch),
        stash=every(connection, StoredHolding),
    )


def stash(connection: Connection) -> tuple[StoredHolding, ...]:
    """All that is in the stash, each holding filled in."""
    filled_in = (filled(connection, holding) for holding in every(connection, StoredHolding))
    return tuple(holding for holding in filled_in if isinstance(holding, StoredHolding))


def filled(connection: Connection, holding: Stored) -> Stored:
    """A holding with its yarn named; what it does not say of it is taken from the remembered yarn."""
    if not isinstance(holding, StoredHolding):
        return holding
    name = holding.yarn.name or holding.name
    known = only(connection, name, StoredYarn)
    return replace(holding, yarn=updated(known.yarn if known else Yarn(name=name), holding.yarn))


def numbered(connection: Connection, yarn: Yarn) -> str:
    """A free name for a swatch: "Dunnock DK swatch", then "Dunnock DK swatch 2", …"""
    base = yarn.name or yarn.class_as_said or yarn.weight_class or ""
    start = key(f"{base[: LONGEST - len(_NUMBERED)]} swatch")
    count = connection.execute(ALIKE, (start, start + _LAST)).fetchone()[0]
    for number in range(count + 1, count + 1_000_000):
        tail = "swatch" if number == 1 else f"swatch {number}"
        name = f"{base[: LONGEST - len(_NUMBERED)]} {tail}".strip()
        if only(connection, name, StoredSwatch) is None:
            return name
    raise UnreadableError("no swatch name is free")


def _of(kind: type[Kind_], rows: Iterable[Mapping[str, Cell]]) -> tuple[Kind_, ...]:
    entries = map(_entry, rows)
    return tuple(known for known in entries if isinstance(known, kind))


def _entry(row: Mapping[str, Cell]) -> Stored:
    try:
        return from_row(row)
    except (ValueError, TypeError) as error:
        raise UnreadableError(f"an entry makes no sense: {error}") from error
