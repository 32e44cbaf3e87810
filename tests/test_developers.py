"""DEVELOPERS.md: the ability that it shows in full can be made of its text, and works."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

import pytest

from yarnchat.abilities.base import Ability, Context
from yarnchat.answers import Amount
from yarnchat.notebook import Notebook
from yarnchat.queries import Colour, Query, Series
from yarnchat.refusals import Refusal

PAGE = Path(__file__).parent.parent / "DEVELOPERS.md"


@pytest.fixture
def shown() -> Ability:
    """The ability of the page's only Python block."""
    [block] = re.findall(r"```python\n(.*?)```", PAGE.read_text(encoding="utf-8"), re.DOTALL)
    made: dict[str, Any] = {}
    exec(compile(block, PAGE.name, "exec"), made)
    ability = made["ABILITY"]
    assert isinstance(ability, Ability)
    return ability


def asked(ability: Ability, *amounts: Series) -> dict[str, Any]:
    """Its figures for these amounts."""
    context = Context(lambda: Notebook(":memory:"))
    return ability.answer(Query(colours=(Colour("", amounts),)), context).figures


def test_the_ability_shown_works(shown: Ability) -> None:
    assert asked(shown, Series((12,), "skein"), Series((1440,), "m")) == {"length": Amount(value=120, unit="m")}


def test_the_ability_shown_asks(shown: Ability) -> None:
    with pytest.raises(Refusal, match="Which skeins"):
        asked(shown, Series((12,), "skein"))
