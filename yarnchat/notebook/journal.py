"""Changes and their undoing: before a row is touched, its image is written down beside it."""

from __future__ import annotations

import json
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from yarnchat.notebook.errors import NotebookError
from yarnchat.notebook.rows import Cell, Row

if TYPE_CHECKING:
    from sqlite3 import Connection

_KEYS = {"entry": "id", "setting": "name"}


class Ledger:
    """One change under way, inside one transaction; nothing is journalled where nothing differs.

    Several deeds may be parts of it: each is closed with its own sentence.
    """

    def __init__(self, connection: Connection, today: date) -> None:
        self._connection = connection
        self._today = today
        self._change: int | None = None
        self._sentences: list[str] = []
        self.changed = False
        """Whether any row differs since the last sentence."""

    def put(self, place: str, row: Row) -> Cell:
        """Write a row over the one of its key; a row with no key gets a new one. Returns the key."""
        column = _KEYS[place]
        key = row[column]
        before = None if key is None else read(self._connection, place, key)
        if before == row:
            return key
        written = _write(self._connection, place, row)
        self._keep(place, written if key is None else key, before)
        return written if key is None else key

    def remove(self, place: str, key: Cell) -> None:
        """Take a row out."""
        before = read(self._connection, place, key)
        if before is not None:
            self._connection.execute(f"DELETE FROM {place} WHERE {_KEYS[place]} = ?", (key,))
            self._keep(place, key, before)

    def close(self, sentence: str) -> None:
        """Name the change by the sentences she was told."""
        self._sentences.append(sentence)
        self.changed = False
        self._connection.execute(
            "UPDATE change SET sentence = ? WHERE id = ?", (" ".join(self._sentences), self._change)
        )

    def _keep(self, place: str, key: Cell, before: Row | None) -> None:
        if self._change is None:
            made = self._connection.execute(
                "INSERT INTO change (made, sentence) VALUES (?, '')", (self._today.isoformat(),)
            )
            self._change = made.lastrowid
        self.changed = True
        image = None if before is None else json.dumps(before, ensure_ascii=False)
        self._connection.execute(
            "INSERT INTO before_image VALUES (?, ?, ?, ?) ON CONFLICT DO NOTHING",
            (self._change, place, str(key), image),
        )


@dataclass(frozen=True, slots=True)
class Undone:
    """A change taken back: its sentence, the entries restored, how many removed, the settings touched."""

    sentence: str
    restored: tuple[int, ...]
    removed: int
    settings: tuple[str, ...]


def undo(connection: Connection) -> Undone:
    """Put every row of the last change back as it was, and strike the change out."""
    last = connection.execute("SELECT id, sentence FROM change ORDER BY id DESC LIMIT 1").fetchone()
    if last is None:
        raise NotebookError("There is nothing to undo: the notebook is as it was at the start.")
    images = connection.execute(
        "SELECT place, row_key, image FROM before_image WHERE change_id = ? ORDER BY place, CAST(row_key AS INTEGER)",
        (last["id"],),
    ).fetchall()
    for place, key, _ in images:
        connection.execute(f"DELETE FROM {place} WHERE {_KEYS[place]} = ?", (key,))
    for place, _, image in images:
        if image is not None:
            _write(connection, place, _fitting(connection, place, image))
    connection.execute("DELETE FROM change WHERE id = ?", (last["id"],))
    entries = [(int(key), image) for place, key, image in images if place == "entry"]
    return Undone(
        sentence=last["sentence"],
        restored=tuple(number for number, image in entries if image is not None),
        removed=sum(image is None for _, image in entries),
        settings=tuple(key for place, key, _ in images if place == "setting"),
    )


def read(connection: Connection, place: str, key: Cell) -> Row | None:
    """The row of that key, or None."""
    row = connection.execute(f"SELECT * FROM {place} WHERE {_KEYS[place]} = ?", (key,)).fetchone()
    return None if row is None else dict(row)


def _write(connection: Connection, place: str, row: Row) -> int | None:
    """Insert or update by key."""
    updates = ", ".join(f"{column} = excluded.{column}" for column in row)
    return connection.execute(
        f"INSERT INTO {place} ({', '.join(row)}) VALUES ({', '.join('?' * len(row))}) "
        f"ON CONFLICT ({_KEYS[place]}) DO UPDATE SET {updates}",
        list(row.values()),
    ).lastrowid


def _fitting(connection: Connection, place: str, image: str) -> Row:
    """An image as a row of today's table: columns it no longer has are left out, new ones stay empty."""
    row = json.loads(image)
    known = [column["name"] for column in connection.execute(f"PRAGMA table_info({place})")]
    return {column: row[column] for column in known if column in row}
