"""The file itself: opened when first needed, checked, brought up to date; the only user of sqlite3."""

from __future__ import annotations

import os
import threading
import weakref
from collections.abc import Iterator
from contextlib import closing, contextmanager, suppress
from pathlib import Path
from typing import TYPE_CHECKING

from yarnchat.notebook import errors
from yarnchat.notebook.schema import APPLICATION_ID, STEPS, VERSION

if TYPE_CHECKING:
    from sqlite3 import Connection

MEMORY = ":memory:"
_BESIDE = ("-wal", "-shm", "-journal")
_OURS = ("", ".db", ".sqlite", ".sqlite3")
_UNWRITABLE = ("SQLITE_READONLY", "SQLITE_CANTOPEN", "SQLITE_FULL", "SQLITE_IOERR")
_TRIES = 3
PATIENCE = 3.0  # seconds SQLite waits for another program, each try


class Store:
    """One notebook file, or a notebook in memory. Safe to share between threads."""

    def __init__(self, where: str | Path | None, patience: float = PATIENCE) -> None:
        self._where = where
        self._path: Path | str | None = None
        self._patience = patience
        self._lock = threading.RLock()
        self._connection: Connection | None = None
        self._finalizer: weakref.finalize[[], Store] | None = None
        self._opened: tuple[int, int] | None = None
        self._passing = False
        self._openings = 0
        self._writes = 0

    @property
    def where(self) -> Path | str:
        """The file's path, or ":memory:"."""
        if self._path is not None:
            return self._path
        where = self._where or os.environ.get("YARNCHAT_NOTEBOOK")
        if not where:
            from platformdirs import user_data_path

            where = user_data_path("yarnchat", appauthor=False) / "notebook.sqlite"
        self._path = MEMORY if where == MEMORY else Path(where).expanduser().absolute()
        return self._path

    @contextmanager
    def reading(self) -> Iterator[Connection | None]:
        """A steady view of the file; None where there is no file yet, and none is made."""
        with self._lock, self._translated():
            connection = self._open(create=False)
            if connection is None:
                yield None
                return
            try:
                connection.execute("BEGIN")
                self._same_version(connection)
                yield connection
            finally:
                _end(connection, "ROLLBACK")
                if self._passing:
                    self.close()

    @contextmanager
    def writing(self) -> Iterator[Connection]:
        """One transaction: all of it is on disk afterwards or, after an error, none of it. One inside is part of it."""
        with self._lock, self._kept_when_damaged():
            connection = self._open(create=True)
            assert connection is not None
            if connection.in_transaction:
                yield connection
                return
            self._begin(connection)
            try:
                self._same_version(connection)
                yield connection
                connection.execute("COMMIT")
                self._writes += 1
            except BaseException:
                _end(connection, "ROLLBACK")
                raise

    def stamp(self, connection: Connection) -> tuple[int, int, int] | None:
        """Changes whenever the file's contents may have; None where that cannot be known."""
        if self._passing:
            return None
        return self._openings, self._writes, _pragma(connection, "data_version")

    def close(self) -> None:
        """Let go of the file; the next use opens it again."""
        with self._lock:
            if self._finalizer is not None:
                self._finalizer()
            self._connection = self._finalizer = self._opened = None
            self._passing = False

    def _open(self, create: bool) -> Connection | None:
        """The open connection to the file that is there now; None where there is none and none is to be made."""
        where = self.where
        if isinstance(where, str):
            if self._connection is None:
                self._keep(_fresh(where, self._patience))
            return self._connection
        found = _identity(where)
        if self._connection is not None and (found != self._opened or (create and self._passing)):
            self.close()
        if self._connection is not None:
            return self._connection
        if found is None:
            if not create:
                return None
            self._create(where)
            found = _identity(where)
        self._opened = found
        if where.is_file() and where.stat().st_size == 0:
            raise errors.DamagedError(where, "it is empty")
        connection = self._connect(where, create)
        self._keep(connection)
        return connection

    def _keep(self, connection: Connection) -> None:
        self._connection = connection
        self._finalizer = weakref.finalize(self, connection.close)
        self._openings += 1

    def _connect(self, where: Path, create: bool) -> Connection:
        """A checked connection to a file, read-only where nothing can be written; sqlite3.Error where that fails."""
        import sqlite3

        try:
            # Looked at read-only first: closing a file opened for writing would already change a damaged one.
            hot = where.with_name(where.name + "-journal").exists()
            self._checked(where, "rw" if hot else "ro").close()
        except sqlite3.Error as error:
            code = getattr(error, "sqlite_errorname", None) or ""
            unwritable = code.startswith(_UNWRITABLE)
            wal = where.with_name(where.name + "-wal")
            if create or not unwritable or (wal.exists() and wal.stat().st_size):
                raise
            # Nothing can be made beside the file, not even SQLite's own; with no log there the file is whole.
            connection = self._checked(where, "ro&immutable=1")
            self._passing = True
        else:
            connection = _connect(f"{where.as_uri()}?mode=rw", self._patience)
        try:
            while _pragma(connection, "user_version") < VERSION:
                self._migrate(connection, where)
        except BaseException:
            connection.close()
            raise
        return connection

    def _checked(self, where: Path, mode: str) -> Connection:
        connection = _connect(f"{where.as_uri()}?mode={mode}", self._patience)
        try:
            _check(connection, where)
        except BaseException:
            connection.close()
            raise
        return connection

    def _same_version(self, connection: Connection) -> None:
        version = _pragma(connection, "user_version")
        if version != VERSION:
            raise errors.newer(self.where, version, VERSION)

    def _migrate(self, connection: Connection, where: Path) -> None:
        """One step up, with a copy of the file as it was; another program may have been quicker."""
        self._begin(connection)
        try:
            version = _pragma(connection, "user_version")
            if version < VERSION:
                _copy(where, version, self._patience)
                _step(connection, version)
            connection.execute("COMMIT")
        except BaseException:
            _end(connection, "ROLLBACK")
            raise

    def _begin(self, connection: Connection) -> None:
        import sqlite3

        for left in reversed(range(_TRIES)):
            try:
                connection.execute("BEGIN IMMEDIATE")
                return
            except sqlite3.OperationalError as error:
                if not error.sqlite_errorname.startswith("SQLITE_BUSY") or not left:
                    raise

    def _create(self, where: Path) -> None:
        """Make the file whole under another name, then link it in: no half-made notebook is ever seen."""
        where.parent.mkdir(parents=True, exist_ok=True)
        for tail in _BESIDE:
            stray = where.with_name(where.name + tail)
            if stray.exists() and not where.exists():
                stray.rename(_free(where, f"stray{tail}"))
        draft = where.with_name(f".{where.name}.{os.getpid()}.new")
        draft.unlink(missing_ok=True)
        try:
            _fresh(str(draft), self._patience).close()
            _onto_disk(draft)
            try:
                os.link(draft, where)
            except OSError:  # another program was quicker, or this file system has no links
                if not where.exists():
                    draft.rename(where)
        finally:
            for tail in ("", *_BESIDE):
                draft.with_name(draft.name + tail).unlink(missing_ok=True)

    @contextmanager
    def _translated(self) -> Iterator[None]:
        try:
            yield
        except Exception as error:
            import sqlite3

            if isinstance(error, sqlite3.Error | OSError):
                raise errors.translate(error, self.where) from error
            raise

    @contextmanager
    def _kept_when_damaged(self) -> Iterator[None]:
        """On damage met while writing: keep the file under another name, untouched."""
        try:
            with self._translated():
                yield
        except errors.DamagedError as error:
            where, opened = self.where, self._opened
            self.close()
            if isinstance(where, str) or where.suffix not in _OURS:
                raise
            with self._translated():
                if opened is not None and _identity(where) != opened:
                    raise
                kept = _free(where, "damaged")
                for tail in (*_BESIDE, ""):
                    with suppress(FileNotFoundError):
                        where.with_name(where.name + tail).rename(kept.with_name(kept.name + tail))
            raise errors.put_aside(where, kept, error.why) from error


def _connect(target: str, patience: float) -> Connection:
    import sqlite3

    connection = sqlite3.connect(
        target,
        timeout=patience,
        isolation_level=None,
        check_same_thread=False,
        uri=target.startswith("file:"),
    )
    connection.row_factory = sqlite3.Row
    for pragma in ("foreign_keys = ON", "synchronous = FULL", "trusted_schema = OFF"):
        connection.execute(f"PRAGMA {pragma}")
    return connection


def _fresh(target: str, patience: float) -> Connection:
    """A new, empty notebook of the newest version, of which nothing is surely on disk yet."""
    connection = _connect(target, patience)
    connection.execute("PRAGMA synchronous = OFF")
    connection.execute("BEGIN")
    for version in range(VERSION):
        _step(connection, version)
    connection.execute("COMMIT")
    connection.execute("PRAGMA journal_mode = WAL")
    connection.execute("PRAGMA synchronous = FULL")
    return connection


def _onto_disk(path: Path) -> None:
    """Wait until all of a file is on disk."""
    with path.open("r+b") as file:
        os.fsync(file.fileno())


def _step(connection: Connection, version: int) -> None:
    for statement in STEPS[version]:
        connection.execute(statement)
    connection.execute(f"PRAGMA user_version = {version + 1}")


def _check(connection: Connection, where: Path) -> None:
    version = _pragma(connection, "user_version")
    if _pragma(connection, "application_id") != APPLICATION_ID:
        raise errors.foreign(where)
    if version > VERSION:
        raise errors.newer(where, version, VERSION)
    size, log = where.stat().st_size, where.with_name(where.name + "-wal")
    if size % _pragma(connection, "page_size") and not (log.exists() and log.stat().st_size):
        raise errors.DamagedError(where, "its end is missing")
    verdict = str(connection.execute("PRAGMA integrity_check(1)").fetchone()[0])
    if verdict != "ok":
        raise errors.DamagedError(where, verdict.splitlines()[-1])


def _copy(where: Path, version: int, patience: float) -> None:
    """The file as others read it now, beside it; whole or not there."""
    kept = _free(where, f"version-{version}")
    draft = kept.with_name(kept.name + ".part")
    draft.unlink(missing_ok=True)
    with (
        closing(_connect(f"{where.as_uri()}?mode=ro", patience)) as source,
        closing(_connect(str(draft), patience)) as copy,
    ):
        source.backup(copy)
    draft.rename(kept)


def _free(where: Path, word: str) -> Path:
    """A name beside the file that nothing has yet: notebook.sqlite.damaged-1, -2, …"""
    count = 1
    while (path := where.with_name(f"{where.name}.{word}-{count}")).exists():
        count += 1
    return path


def _pragma(connection: Connection, name: str) -> int:
    return int(connection.execute(f"PRAGMA {name}").fetchone()[0])


def _identity(where: Path) -> tuple[int, int] | None:
    try:
        found = where.stat()
    except FileNotFoundError:
        return None
    return found.st_dev, found.st_ino


def _end(connection: Connection, how: str) -> None:
    import sqlite3

    with suppress(sqlite3.Error):
        if connection.in_transaction:
            connection.execute(how)
