"""The notebook as one readable JSON file: written whole and read strictly."""

from __future__ import annotations

import json
import os
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, ClassVar, Literal

from yarnchat.notebook.entries import Settings, Stored, StoredHolding, StoredSwatch, StoredYarn
from yarnchat.notebook.errors import NotebookError

if TYPE_CHECKING:
    from pydantic import TypeAdapter

FORMAT: Literal["yarnchat notebook"] = "yarnchat notebook"
VERSION = 1


@dataclass(frozen=True, slots=True)
class Export:
    """The whole file. The change history stays in the notebook."""

    __pydantic_config__: ClassVar[dict[str, object]] = {"extra": "forbid", "allow_inf_nan": False}

    format: Literal["yarnchat notebook"] = FORMAT
    version: int = VERSION
    settings: Settings = field(default_factory=Settings)
    yarns: tuple[StoredYarn, ...] = ()
    swatches: tuple[StoredSwatch, ...] = ()
    stash: tuple[StoredHolding, ...] = ()

    @property
    def entries(self) -> tuple[Stored, ...]:
        """All entries, kind by kind."""
        return (*self.yarns, *self.swatches, *self.stash)


def write(path: Path, export: Export) -> None:
    """Write the file whole under another name, then put it in place; only an earlier export is replaced."""
    if path.exists() and not _is_export(path):
        raise NotebookError(f"{path} is already there and is no notebook export. Give another file name.")
    draft = path.with_name(f".{path.name}.{os.getpid()}.part")
    try:
        with draft.open("wb") as file:
            file.write(_adapter().dump_json(export, indent=2) + b"\n")
            file.flush()
            os.fsync(file.fileno())
        draft.replace(path)
    except OSError as error:
        raise NotebookError(
            f"The export {path} could not be written ({error.strerror or error}). The notebook is as it was: "
            "choose another place."
        ) from error
    finally:
        _discard(draft)


def read(path: Path) -> Export:
    """The file as an export; NotebookError, saying where, for anything else."""
    from pydantic import ValidationError

    try:
        text = path.read_text("utf-8-sig")
    except OSError as error:
        raise NotebookError(f"{path} cannot be read ({error.strerror or error}). Check the name.") from error
    except UnicodeDecodeError as error:
        raise NotebookError(f"{path} is not a notebook export: it is not text.") from error
    try:
        found = json.loads(text, object_pairs_hook=_once)
    except (ValueError, RecursionError) as error:
        raise NotebookError(f"{path} is not a whole JSON file ({error}). Nothing was changed.") from error
    if not isinstance(found, dict) or found.get("format") != FORMAT:
        raise NotebookError(f"{path} is not a notebook export. Nothing was changed.")
    version = found.get("version")
    if isinstance(version, int) and version > VERSION:
        raise NotebookError(
            f"{path} was exported by a newer yarnchat (its version is {version}, this one knows up to "
            f"{VERSION}). Nothing was changed: update yarnchat to import it."
        )
    try:
        return _adapter().validate_json(text, strict=True)
    except ValidationError as error:
        first = error.errors(include_url=False)[0]
        where = " → ".join(str(step) for step in first["loc"])
        raise NotebookError(
            f"{path} cannot be imported: at {where}: {first['msg']}. Nothing was changed: "
            "correct that and import again."
        ) from error


@cache
def _adapter() -> TypeAdapter[Export]:
    from pydantic import TypeAdapter

    return TypeAdapter(Export)


def _once(pairs: list[tuple[str, object]]) -> dict[str, object]:
    members = dict(pairs)
    if len(members) < len(pairs):
        names = [name for name, _ in pairs]
        twice = next(name for name in names if names.count(name) > 1)
        raise ValueError(f"{twice!r} is given twice in one place")
    return members


def _is_export(path: Path) -> bool:
    try:
        with path.open("rb") as file:
            return f'"format": "{FORMAT}"'.encode() in file.read(200)
    except OSError:
        return False


def _discard(draft: Path) -> None:
    try:
        draft.unlink(missing_ok=True)
    except OSError:
        return
