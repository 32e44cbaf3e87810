"""Asking one ability a query, without the language in front of it."""

from __future__ import annotations

from yarnchat.abilities.base import Ability, Context, Draft
from yarnchat.answers import Figure
from yarnchat.notebook import Notebook
from yarnchat.queries import Query


def context(where: str = ":memory:") -> Context:
    """A context with a notebook of its own."""
    return Context(lambda: Notebook(where))


def ask(ability: Ability, query: Query) -> Draft:
    """What the ability works out with an empty notebook."""
    return ability.answer(query, context())


def plain(figure: Figure) -> object:
    """A figure as JSON has it: an Amount as its value and unit."""
    return (figure.value, figure.unit) if hasattr(figure, "unit") and hasattr(figure, "value") else figure
