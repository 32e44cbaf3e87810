"""The abilities, one file each; a file that holds an ABILITY is found by being here."""

from __future__ import annotations

import importlib
import pkgutil
from functools import cache
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from yarnchat.abilities.base import Ability


@cache
def abilities() -> dict[str, Ability]:
    """Every ability by name."""
    modules = (importlib.import_module(f"{__name__}.{found.name}") for found in pkgutil.iter_modules(__path__))
    found = [module.ABILITY for module in modules if hasattr(module, "ABILITY")]
    return {ability.name: ability for ability in found}
