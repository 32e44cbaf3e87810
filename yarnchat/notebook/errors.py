"""What can go wrong with the notebook's file, each as one plain sentence that says what to do."""

from __future__ import annotations

from pathlib import Path


class NotebookError(Exception):
    """Nothing was changed; ``sentence`` says what was wrong and what to do."""

    def __init__(self, sentence: str) -> None:
        super().__init__(sentence)
        self.sentence = sentence


class DamagedError(NotebookError):
    """The file cannot be read as a notebook; ``why`` is the short reason."""

    def __init__(self, where: Path | str, why: str) -> None:
        super().__init__(
            f"The notebook {where} is damaged ({why}). It was left as it is: put a good copy or an export "
            "in its place, or move it away to begin a new one."
        )
        self.why = why


def put_aside(where: Path, kept: Path, why: str) -> NotebookError:
    """A damaged file was moved out of the way, whole."""
    return NotebookError(
        f"The notebook {where} was damaged ({why}), so nothing was written. The damaged file is kept, "
        f"untouched, as {kept}; ask again to begin a new notebook."
    )


def newer(where: Path | str, version: int, known: int) -> NotebookError:
    """The file was written by a later program."""
    return NotebookError(
        f"The notebook {where} was written by a newer yarnchat (its version is {version}, this one knows "
        f"up to {known}). Nothing was changed: update yarnchat to use it."
    )


def foreign(where: Path | str) -> NotebookError:
    """A sound file of some other kind."""
    return NotebookError(
        f"{where} is not a yarnchat notebook. It was not touched: choose another file with YARNCHAT_NOTEBOOK."
    )


def translate(error: Exception, where: Path | str) -> NotebookError:
    """The sentence for an error of SQLite or of the file system."""
    code = getattr(error, "sqlite_errorname", None) or ""
    if isinstance(error, OSError):
        return _unwritable(where, error.strerror or str(error))
    if code.startswith(("SQLITE_CORRUPT", "SQLITE_NOTADB")) or "decode to UTF-8" in str(error):
        return DamagedError(where, str(error))
    if code.startswith(("SQLITE_BUSY", "SQLITE_LOCKED")):
        return NotebookError(
            f"Another program is busy with the notebook {where}, so nothing was changed. Try again shortly."
        )
    if code in ("SQLITE_FULL", "SQLITE_IOERR_WRITE", "SQLITE_IOERR_SHMSIZE"):
        return NotebookError(
            f"The notebook {where} cannot grow: the disk is full or a size limit was met. Nothing was "
            "changed: make room and ask again."
        )
    if code.startswith(("SQLITE_READONLY", "SQLITE_CANTOPEN", "SQLITE_PERM", "SQLITE_IOERR")):
        return _unwritable(where, str(error))
    return NotebookError(f"The notebook {where} cannot be used ({error}). Nothing was changed.")


def _unwritable(where: Path | str, why: str) -> NotebookError:
    return NotebookError(
        f"The notebook {where} cannot be opened or written ({why}). Nothing was changed: check the folder, "
        "or choose another file with YARNCHAT_NOTEBOOK."
    )
