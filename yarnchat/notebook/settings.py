"""The settings: what each may be, how it is kept, and how it is said."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from yarnchat.notebook.entries import Settings
from yarnchat.notebook.errors import NotebookError
from yarnchat.notebook.names import clean
from yarnchat.quantity import number

if TYPE_CHECKING:
    from sqlite3 import Connection

NAMES = ("units", "spares", "scale_step")
DEFAULT = "default"
_MOST_SPARES = 100


def checked(setting: str, value: str) -> str | None:
    """The value as it is kept, None for "default"; NotebookError where it cannot be."""
    text = clean(value).casefold()
    if setting not in NAMES:
        raise NotebookError(f"There is no setting “{clean(setting)}”; there are {', '.join(NAMES)}.")
    if text == DEFAULT:
        return None
    if setting == "units":
        if text not in ("yd", "m"):
            raise NotebookError(f"Units are yd or m, not “{clean(value)}”.")
        return text
    if setting == "spares":
        if not (text.isascii() and text.isdigit() and len(text) < 10 and int(text) <= _MOST_SPARES):
            raise NotebookError(f"Spares are whole skeins, 0 to {_MOST_SPARES}, not “{clean(value)}”.")
        return str(int(text))
    return repr(_grams(text))


def load(connection: Connection) -> Settings:
    """The settings a file holds; a setting it does not hold has its default."""
    kept = {row["name"]: str(row["value"]) for row in connection.execute("SELECT name, value FROM setting")}
    units, step = kept.get("units"), kept.get("scale_step")
    return Settings(
        units="yd" if units == "yd" else "m" if units == "m" else None,
        spares=int(checked("spares", kept.get("spares", "1")) or 1),
        scale_step=None if step is None else _grams(step),
    )


def values(settings: Settings) -> dict[str, str]:
    """The settings that are not at their default, as they are kept."""
    kept = {}
    for name in NAMES:
        value = getattr(settings, name)
        if value != getattr(Settings(), name):
            kept[name] = repr(value) if isinstance(value, float) else str(value)
    return kept


def sentence(setting: str, settings: Settings) -> str:
    """One setting, in words."""
    if setting == "units":
        return f"Lengths are shown in {settings.units or 'the units of the question'}."
    if setting == "spares":
        return f"Spare skeins: {settings.spares}."
    if settings.scale_step is None:
        return "How finely your scale reads is not known."
    return f"Your scale reads to {number(settings.scale_step)} g."


def _grams(text: str) -> float:
    try:
        step = float(text)
    except ValueError:
        step = math.nan
    if not 0 < step <= 1000:
        raise NotebookError(f"The scale's last digit is a number of grams such as 0.1, not “{text}”.")
    return step
