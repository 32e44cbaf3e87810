"""Text that takes long to make, kept in the user's cache folder, read back while what it is made from is the same."""

from __future__ import annotations

import contextlib
import hashlib
import os
from collections.abc import Callable
from pathlib import Path


def kept(name: str, made_from: bytes, make: Callable[[], str]) -> str:
    """The text ``make`` gives, from the cache folder where it was kept before.

    ``made_from``: all the text depends on. A file is used only if its first line is the digest of this and of the
    text below it: what is old, cut short or altered is made again. Where nothing can be kept, it is made each time.
    """
    path = _folder() / name
    stamp, text = "", ""
    with contextlib.suppress(OSError, UnicodeError):
        stamp, _, text = path.read_text(encoding="utf-8").partition("\n")
    if stamp == _digest(made_from, text):
        return text
    text = make()
    with contextlib.suppress(OSError):
        _write(path, f"{_digest(made_from, text)}\n{text}")
    return text


def _digest(made_from: bytes, text: str) -> str:
    return hashlib.sha256(made_from + b"\0" + text.encode("utf-8")).hexdigest()


def _folder() -> Path:
    """YARNCHAT_CACHE, or the platform's folder for what a program can make again (XDG Base Directory on a Unix)."""
    if chosen := os.environ.get("YARNCHAT_CACHE"):
        return Path(chosen)
    if os.name == "posix":
        return Path(os.environ.get("XDG_CACHE_HOME") or Path("~/.cache").expanduser()) / "yarnchat"
    from platformdirs import user_cache_path

    return user_cache_path("yarnchat", appauthor=False)


def _write(path: Path, text: str) -> None:
    """Whole or not at all: written beside its place and moved there."""
    path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
    beside = path.with_name(f"{path.name}.{os.getpid()}")
    try:
        beside.write_text(text, encoding="utf-8")
        beside.replace(path)
    except OSError:
        beside.unlink(missing_ok=True)
        raise
