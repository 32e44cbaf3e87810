"""What the notebook adds to a question: facts of a yarn by name, her swatches, her settings."""

from __future__ import annotations

from dataclasses import dataclass, field, fields, replace
from functools import cached_property
from operator import is_
from typing import Any

from yarnchat.abilities.base import Context
from yarnchat.notebook import NotebookError, Settings, StoredSwatch
from yarnchat.queries import Query, Yarn


@dataclass(frozen=True)
class Memory:
    """What is remembered; ``trouble`` says in a plain sentence why nothing could be read."""

    yarns: tuple[Yarn, ...] = ()
    swatches: tuple[StoredSwatch, ...] = ()
    settings: Settings = field(default_factory=Settings)
    trouble: str | None = None
    worked_out: dict[object, Any] = field(default_factory=dict, compare=False)
    """What was found from this memory: it is never changed, and neither is what follows from it."""

    @cached_property
    def _by_name(self) -> dict[str, Yarn]:
        """The first yarn of each name."""
        return {plain(yarn.name): yarn for yarn in reversed(self.labels) if yarn.name}

    @cached_property
    def by_class(self) -> dict[str, list[StoredSwatch]]:
        """The swatches of each weight class."""
        found: dict[str, list[StoredSwatch]] = {}
        for row in self.swatches:
            if key := self.complete(row.swatch.yarn).weight_class:
                found.setdefault(key, []).append(row)
        return found

    @cached_property
    def by_yarn(self) -> dict[str, list[StoredSwatch]]:
        """The swatches of each yarn, by its name."""
        found: dict[str, list[StoredSwatch]] = {}
        for row in self.swatches:
            if row.swatch.yarn.name:
                found.setdefault(plain(row.swatch.yarn.name), []).append(row)
        return found

    @cached_property
    def labels(self) -> tuple[Yarn, ...]:
        """Every yarn something is known of: those remembered, then those only swatched."""
        return self.yarns + tuple(row.swatch.yarn for row in self.swatches)

    def spares_for(self, query: Query) -> int:
        """How many spares to buy: as she says, else as she has set."""
        return self.settings.spares if query.spares is None else query.spares

    def complete(self, yarn: Yarn) -> Yarn:
        """A yarn with what was not said of it filled in from the remembered yarn of that name."""
        known = self._by_name.get(plain(yarn.name)) if yarn.name else None
        if known is None:
            return yarn
        unsaid = {slot.name for slot in fields(yarn) if getattr(yarn, slot.name) is None}
        if yarn.weight_class:
            unsaid -= {"class_as_said"}
        filled = replace(yarn, **{name: getattr(known, name) for name in unsaid})
        wound = known.put_up.wound_in(yarn.put_up) if known.put_up and yarn.put_up else None  # hanks of 100 g
        return replace(filled, put_up=wound or filled.put_up)


def memory(context: Context) -> Memory:
    """Everything remembered that bears on a conversion."""
    try:
        held = context.notebook.bearing()
    except NotebookError as error:
        return Memory(trouble=f"{error.sentence} Nothing remembered is used here.")
    if not (isinstance(context.seen, Memory) and all(map(is_, held, context.held))):
        rows, swatches, settings = held
        context.held, context.seen = held, Memory(tuple(row.yarn for row in rows), swatches, settings)
    return context.seen


def same_name(one: str | None, other: str | None) -> bool:
    """Whether two names are one, without case and with spaces collapsed; nothing is never a name."""
    return bool(one and other) and plain(one) == plain(other)


def plain(name: str | None) -> str:
    return " ".join((name or "").casefold().split())
