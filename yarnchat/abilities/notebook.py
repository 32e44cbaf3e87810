"""Notebook: remember, list, rename, forget, undo and settings; what is read back is what was stored."""

from __future__ import annotations

from collections.abc import Callable

from yarnchat.abilities.base import Ability, Context, Draft, Frame
from yarnchat.answers import Item
from yarnchat.notebook import Change, Notebook, NotebookError
from yarnchat.quantity import Quantity, is_length
from yarnchat.queries import Holding, Note, Query, Yarn
from yarnchat.refusals import Refusal, refused, unclear

KINDS = ("yarn", "swatch", "stash", "setting")
CONFIRMED = ("yes", "now", "sure")
"""What is said with an import to have it done after its preview."""


def answer(query: Query, context: Context) -> Draft:
    """Do what the note asks; a NotebookError is a refusal in its own plain sentence."""
    note = query.note or Note("list")
    act = VERBS.get(note.verb)
    if act is None:
        raise unclear(f"The notebook cannot {note.verb}. It can {', '.join(VERBS)}. Type for example: list my yarns.")
    try:
        return act(note, query, context.notebook)
    except NotebookError as error:
        raise refused(error.sentence) from None


def _done(change: Change) -> Draft:
    return Draft(change.sentence)
