"""The notebook: what a knitter asked to be remembered, in one SQLite file of her own."""

from yarnchat.notebook.book import Notebook
from yarnchat.notebook.entries import Change, Settings, Stored, StoredHolding, StoredSwatch, StoredYarn
from yarnchat.notebook.errors import NotebookError

__all__ = [
    "Change",
    "Notebook",
    "NotebookError",
    "Settings",
    "Stored",
    "StoredHolding",
    "StoredSwatch",
    "StoredYarn",
]
