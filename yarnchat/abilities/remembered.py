"""What the notebook adds to a question: facts of a yarn by name, her swatches, her usual number of spares."""

from __future__ import annotations

from dataclasses import dataclass, fields, replace

from yarnchat.abilities.base import Context
from yarnchat.notebook import NotebookError, StoredSwatch
from yarnchat.queries import Yarn


@dataclass(frozen=True, slots=True)
class Memory:
    """What is remembered; ``trouble`` says in a plain sentence why nothing could be read."""

    yarns: tuple[Yarn, ...] = ()
    swatches: tuple[StoredSwatch, ...] = ()
    spares: int = 1
    trouble: str | None = None

    @property
    def labels(self) -> tuple[Yarn, ...]:
        """Every yarn something is known of: those remembered, then those only swatched."""
        return self.yarns + tuple(row.swatch.yarn for row in self.swatches)

    def complete(self, yarn: Yarn) -> Yarn:
        """A yarn with what was not said of it filled in from the remembered yarn of that name."""
        known = next((row for row in self.labels if same_name(row.name, yarn.name)), None)
        if known is None:
            return yarn
        unsaid = {slot.name for slot in fields(yarn) if getattr(yarn, slot.name) is None}
        if yarn.weight_class:
            unsaid -= {"class_as_said"}
        return replace(yarn, **{name: getattr(known, name) for name in unsaid})


def memory(context: Context) -> Memory:
    """Everything remembered that bears on a conversion."""
    try:
        book = context.notebook
        yarns = tuple(row.yarn for row in book.yarns())
        return Memory(yarns, tuple(book.swatches()), book.settings().spares)
    except NotebookError as error:
        return Memory(trouble=f"{error.sentence} Nothing remembered is used here.")


def same_name(one: str | None, other: str | None) -> bool:
    """Whether two names are one, without case and with spaces collapsed; nothing is never a name."""
    return bool(one and other) and _plain(one) == _plain(other)


def _plain(name: str | None) -> str:
    return " ".join((name or "").casefold().split())
