"""What taking in an export would do: worked out once, for the preview and for the deed."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from yarnchat.notebook import settings
from yarnchat.notebook.entries import Stored, label
from yarnchat.notebook.errors import NotebookError
from yarnchat.notebook.names import key
from yarnchat.notebook.rows import Cell, from_row, to_row
from yarnchat.notebook.transfer import Export

if TYPE_CHECKING:
    from yarnchat.notebook.journal import Ledger

_LARGEST_ID = 2**53


@dataclass(frozen=True, slots=True)
class Plan:
    """New entries, entries as they are and as they will be, how many are the same, settings to change and to stay."""

    added: tuple[Stored, ...]
    changed: tuple[tuple[Stored, Stored], ...]
    same: int
    settings: dict[str, str]
    stays: tuple[str, ...]
    """Her settings that the file says nothing of."""

    @property
    def idle(self) -> bool:
        """Whether carrying it out would change nothing."""
        return not (self.added or self.changed or self.settings)

    def sentences(self, incoming: Export) -> list[str]:
        """A sentence for each change, and one for all that stays."""
        said = [f"Adds {label(entry)}: {entry}." for entry in self.added]
        for old, new in self.changed:
            since = f", since {new.since}" if new.since != old.since else ""
            said.append(f"Changes {label(old)} from: {old}; to {label(new)}: {new}{since}.")
        said += [f"Sets: {settings.sentence(name, incoming.settings)}" for name in self.settings]
        if self.same:
            entries = "1 entry is" if self.same == 1 else f"{self.same} entries are"
            said.append(f"{entries} already as in the file.")
        return said or ["The file holds nothing to import."]


def plan(current: Export, incoming: Export) -> Plan:
    """Compare by kind and name. What the file does not hold stays; new entries keep their ids where free."""
    known = {(entry.kind, key(entry.name)): entry for entry in current.entries}
    taken = {entry.id for entry in current.entries}
    added: list[Stored] = []
    changed: list[tuple[Stored, Stored]] = []
    seen: set[tuple[str, str]] = set()
    for raw in incoming.entries:
        entry = _as_kept(raw)
        place = (entry.kind, key(entry.name))
        if place in seen:
            raise NotebookError(f"The file holds {label(entry)} twice. Nothing was changed: keep one.")
        seen.add(place)
        old = known.get(place)
        if old is None:
            free = 0 < entry.id <= _LARGEST_ID and entry.id not in taken
            taken.add(entry.id)
            added.append(entry if free else replace(entry, id=0))
        elif (new := replace(entry, id=old.id)) != old:
            changed.append((old, new))
    wanted = settings.values(incoming.settings)
    for name, value in wanted.items():
        settings.checked(name, value)
    held = settings.values(current.settings)
    differing = {name: value for name, value in wanted.items() if held.get(name) != value}
    stays = tuple(name for name in held if name not in wanted)
    return Plan(tuple(added), tuple(changed), len(seen) - len(added) - len(changed), differing, stays)


def carry_out(todo: Plan, ledger: Ledger) -> list[Cell]:
    """Write it all and give the ids; the transaction around makes it all or none."""
    for name, value in todo.settings.items():
        ledger.put("setting", {"name": name, "value": value})
    return [ledger.put("entry", to_row(entry)) for entry in (*(new for _, new in todo.changed), *todo.added)]


def _as_kept(entry: Stored) -> Stored:
    """The entry as the file would give it back: texts cleaned, numbers checked."""
    return replace(from_row({**to_row(entry), "id": 0}), id=entry.id)
