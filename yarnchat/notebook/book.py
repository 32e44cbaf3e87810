"""The notebook's door: remember, look up, rename, forget, undo, export and import."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import fields, replace
from datetime import date
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, TypeVar

from yarnchat.notebook import journal, settings, transfer
from yarnchat.notebook.entries import (
    KINDS,
    Change,
    Settings,
    Stored,
    StoredHolding,
    StoredSwatch,
    StoredYarn,
    called,
    label,
)
from yarnchat.notebook.errors import DamagedError, NotebookError
from yarnchat.notebook.merge import Plan, plan
from yarnchat.notebook.names import LONGEST, clean_name, key
from yarnchat.notebook.rows import Cell, from_row, to_row
from yarnchat.notebook.store import Store
from yarnchat.queries import Swatch, Yarn

if TYPE_CHECKING:
    from sqlite3 import Connection

_NEW = 0  # the id of an entry that has none yet
_NEAR = 80  # of 100, rapidfuzz's WRatio
_SHOWN = 5

_Kind = TypeVar("_Kind", StoredYarn, StoredSwatch, StoredHolding)
_Kept = TypeVar("_Kept")


class Notebook:
    """A knitter's notebook. Opens its file on first use, and makes one only when something is to be kept.

    Every method that touches the file raises NotebookError, a plain sentence, where it cannot be done; the
    file then holds what it held before.
    """

    def __init__(self, where: str | Path | None = None, today: Callable[[], date] = date.today) -> None:
        """A path, ":memory:", or None for the user's own: $YARNCHAT_NOTEBOOK, else in the user data folder."""
        self._store = Store(where)
        self._today = today
        self._kept: dict[str, object] = {}
        self._stamp: tuple[int, int, int] | None = None

    @property
    def where(self) -> str:
        """The file's path, or ":memory:"."""
        return str(self._store.where)

    def close(self) -> None:
        """Let go of the file; the next use opens it again."""
        self._store.close()

    def remember_yarn(self, yarn: Yarn) -> Change:
        """Keep a yarn by its name. Of a known yarn, what is said now replaces what was said of it before."""
        name = clean_name(yarn.name)
        with self._writing() as (connection, ledger):
            known = _only(connection, name, StoredYarn)
            if known is None:
                entry = StoredYarn(_NEW, name, self._today(), yarn)
            else:
                entry = replace(known, name=name, yarn=_updated(known.yarn, yarn))
            return self._put(connection, ledger, entry, known)

    def remember_swatch(self, swatch: Swatch, name: str | None = None) -> Change:
        """Keep a swatch by a name of its own; without one it is numbered after its yarn."""
        with self._writing() as (connection, ledger):
            chosen = _numbered(connection, swatch.yarn) if name is None else clean_name(name)
            known = _only(connection, chosen, StoredSwatch)
            if known is None:
                entry = StoredSwatch(_NEW, chosen, self._today(), swatch)
            else:
                entry = replace(known, name=chosen, swatch=swatch)
            return self._put(connection, ledger, entry, known)

    def stash_yarn(self, name: str, skeins: float | None, grams: float | None, yarn: Yarn | None) -> Change:
        """Keep how much of a yarn is there: in skeins or in grams, one of the two."""
        if (skeins is None) == (grams is None):
            raise NotebookError("Say how much of it there is, either in skeins or in grams.")
        amount, unit = (grams, "g") if skeins is None else (skeins, "skein")
        assert amount is not None
        chosen = clean_name(name)
        with self._writing() as (connection, ledger):
            known = _only(connection, chosen, StoredHolding)
            facts = _updated(known.yarn if known else Yarn(), yarn or Yarn())
            since, number = (known.since, known.id) if known else (self._today(), _NEW)
            entry = StoredHolding(amount, unit, facts, id=number, name=chosen, since=since)
            return self._put(connection, ledger, entry, known)

    def set(self, setting: str, value: str) -> Change:
        """Set "units" (yd, m), "spares" (whole skeins) or "scale_step" (grams); the value "default" unsets it."""
        kept = settings.checked(setting, value)
        with self._writing() as (connection, ledger):
            if kept is None:
                ledger.remove("setting", setting)
            else:
                ledger.put("setting", {"name": setting, "value": kept})
            sentence = settings.sentence(setting, settings.load(connection))
            return _closed(ledger, sentence if ledger.changed else f"Already so: {sentence}")

    def yarns(self) -> tuple[StoredYarn, ...]:
        """The remembered yarns, in the order they came."""
        return self._listing(StoredYarn)

    def swatches(self, of: str | None = None) -> tuple[StoredSwatch, ...]:
        """The remembered swatches, in the order they came; ``of`` picks those of one yarn."""
        if of is None:
            return self._listing(StoredSwatch)
        with self._reading() as connection:
            found = () if connection is None else _of_yarn(connection, "swatch", key(of))
            return tuple(entry for entry in found if isinstance(entry, StoredSwatch))

    def stash(self) -> tuple[StoredHolding, ...]:
        """What she has. A holding that says nothing of its yarn takes the remembered yarn of that name."""
        with self._reading() as connection:
            if connection is None:
                return ()
            return self._cached(connection, "whole stash", partial(_whole_stash, connection))

    def settings(self) -> Settings:
        """The settings, defaults where nothing was set."""
        with self._reading() as connection:
            return Settings() if connection is None else settings.load(connection)

    def names(self) -> tuple[str, ...]:
        """Every name in the notebook once, in the order they came: words the reader should know."""
        with self._reading() as connection:
            return () if connection is None else tuple(self._names(connection).values())

    def find(self, name: str) -> list[Stored]:
        """The entries of exactly that name, of any kind; case and spacing do not count."""
        with self._reading() as connection:
            return [] if connection is None else _found(connection, name)

    def near(self, name: str) -> list[str]:
        """Names like that one, the likest first; not the name itself."""
        from rapidfuzz import fuzz, process

        with self._reading() as connection:
            known = {} if connection is None else self._names(connection)
        wanted = key(name)
        hits = process.extract(wanted, list(known), scorer=fuzz.WRatio, score_cutoff=_NEAR, limit=_SHOWN + 1)
        return [known[hit] for hit, *_ in hits if hit != wanted][:_SHOWN]

    def rename(self, old: str, new: str) -> Change:
        """Give every entry of that name the new one; swatches and stash of a renamed yarn go with it."""
        name = clean_name(new)
        with self._writing() as (connection, ledger):
            entries = self._known(connection, old)
            taken = {entry.kind for entry in _found(connection, name)}
            for entry in entries:
                if key(name) != key(old) and entry.kind in taken:
                    raise NotebookError(
                        f"There is already {called(entry.kind, name)}. Choose another name, or forget that one first."
                    )
            for entry in entries:
                ledger.put("entry", to_row(replace(entry, name=name)))
            for kind in KINDS if any(entry.kind == "yarn" for entry in entries) else ():
                for entry in _of_yarn(connection, kind, key(old)):
                    ledger.put("entry", to_row(_of(entry, name)))
            stored = tuple(_read(connection, entry.id) for entry in entries)
            now = "; ".join(f"{label(entry)}: {entry}" for entry in stored)
            return _closed(ledger, f"Renamed “{entries[0].name}”; it is now {now}.", stored)

    def forget(self, name: str, kind: str | None = None) -> Change:
        """Take an entry out; undo brings it back. Where several kinds share the name, the kind has to be said."""
        with self._writing() as (connection, ledger):
            entries = [entry for entry in self._known(connection, name, kind)]
            if len(entries) > 1:
                shared = " and ".join(label(entry) for entry in entries)
                raise NotebookError(f"There is {shared}: say which of them to forget.")
            (entry,) = entries
            ledger.remove("entry", entry.id)
            left = _found(connection, name)
            still = f" {_capital(label(left[0]))} is still there." if left else ""
            return _closed(ledger, f"Forgot {label(entry)} ({entry}).{still} Undo brings it back.")

    def undo(self) -> Change:
        """Take back the last change, whichever program made it; again for the one before."""
        with self._writing() as (connection, _):
            sentence, rows = journal.undo(connection)
            entries = [int(row) for place, row, there in rows if place == "entry" and there]
            gone = sum(place == "entry" and not there for place, _, there in rows)
            stored = tuple(_read(connection, number) for number in entries)
            now = [f"{_capital(label(entry))} is again {entry}." for entry in stored[:_SHOWN]]
            if len(stored) > _SHOWN:
                now = [f"{len(stored)} entries are as they were before."]
            if gone:
                now.append(f"{gone} {'entry is' if gone == 1 else 'entries are'} no longer in the notebook.")
            held = settings.load(connection)
            now += [settings.sentence(row, held) for place, row, _ in rows if place == "setting"]
            return Change(f"Undone: {sentence} {' '.join(now)}", stored)

    def export(self, path: str | Path) -> Change:
        """Write everything to one JSON file; an earlier export of that name is replaced, any other file is not."""
        with self._reading() as connection:
            export = transfer.Export() if connection is None else _whole(connection)
        target = Path(path).expanduser()
        transfer.write(target, export)
        counts = f"{len(export.yarns)} yarns, {len(export.swatches)} swatches, {len(export.stash)} in the stash"
        return Change(f"Exported to {target}: {counts}.", export.entries)

    def preview_import(self, path: str | Path) -> list[str]:
        """What importing that file would do, a sentence for each change; nothing is written."""
        incoming = transfer.read(Path(path).expanduser())
        with self._reading() as connection:
            return plan(transfer.Export() if connection is None else _whole(connection), incoming).sentences

    def import_(self, path: str | Path) -> Change:
        """Take a file in, all of it or none: new names are added, known ones replaced, others stay. One undo."""
        incoming = transfer.read(Path(path).expanduser())
        with self._writing() as (connection, ledger):
            todo = plan(_whole(connection), incoming)
            stored = _carried_out(connection, ledger, todo)
            counts = f"{len(todo.added)} added, {len(todo.changed)} changed, {todo.same} already as in the file"
            return _closed(ledger, f"Imported {path}: {counts}.", stored)

    def _put(
        self, connection: Connection, ledger: journal.Ledger, entry: Stored, known: Stored | None
    ) -> Change:
        number = ledger.put("entry", _row(entry))
        stored = _read(connection, number)
        now = f"{label(stored)}: {stored}"
        if known is None:
            return _closed(ledger, f"Remembered {now}.", (stored,))
        if not ledger.changed:
            return Change(f"Already remembered {now}.", (stored,))
        return _closed(ledger, f"Updated {now}. Before, it was: {known}.", (stored,))

    def _known(self, connection: Connection, name: str, kind: str | None = None) -> list[Stored]:
        entries = [entry for entry in _found(connection, name) if kind in (None, entry.kind)]
        if not entries:
            what = "a yarn, swatch or stash" if kind is None else f"a {kind}"
            raise NotebookError(f"The notebook has nothing called “{clean_name(name)}” as {what}.")
        return entries

    @contextmanager
    def _reading(self) -> Iterator[Connection | None]:
        with self._store.reading() as connection, self._sound():
            yield connection

    @contextmanager
    def _writing(self) -> Iterator[tuple[Connection, journal.Ledger]]:
        with self._store.writing() as connection, self._sound():
            yield connection, journal.Ledger(connection, self._today())

    @contextmanager
    def _sound(self) -> Iterator[None]:
        try:
            yield
        except _Unreadable as error:
            raise DamagedError(self.where, str(error)) from error

    def _listing(self, kind: type[_Kind]) -> tuple[_Kind, ...]:
        with self._reading() as connection:
            if connection is None:
                return ()
            return self._cached(connection, kind.kind, lambda: tuple(_all(connection, kind)))

    def _names(self, connection: Connection) -> Mapping[str, str]:
        query = "SELECT name_key, name FROM entry ORDER BY id DESC"
        return self._cached(
            connection, "names", lambda: dict(reversed({row[0]: row[1] for row in connection.execute(query)}.items()))
        )

    def _cached(self, connection: Connection, what: str, load: Callable[[], _Kept]) -> _Kept:
        """Loaded once for as long as no program changes the file."""
        stamp = self._store.stamp(connection)
        if stamp is None or stamp != self._stamp:
            self._kept, self._stamp = {}, stamp
        if what not in self._kept:
            self._kept[what] = load()
        kept: _Kept = self._kept[what]  # type: ignore[assignment]
        return kept
