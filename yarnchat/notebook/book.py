"""The notebook's door: remember, look up, rename, forget, undo, export and import."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, TypeVar, cast

from yarnchat.notebook import journal, lookup, merge, settings, transfer
from yarnchat.notebook.entries import (
    Change,
    Settings,
    Stored,
    StoredHolding,
    StoredSwatch,
    StoredYarn,
    called,
    changed_alike,
    label,
    updated,
)
from yarnchat.notebook.errors import DamagedError, NotebookError
from yarnchat.notebook.names import LONGEST, clean_name, key
from yarnchat.notebook.rows import to_row
from yarnchat.notebook.store import PATIENCE, Store
from yarnchat.queries import Swatch, Yarn

if TYPE_CHECKING:
    from sqlite3 import Connection

_NEW = 0
_UNSET = Settings()
_NEAR = 80  # of 100, rapidfuzz's WRatio
_ODD = 8
"""So many unknown words of a text are looked at."""
_SHORTEST = 5
"""Letters a misspelt name has at least."""
_SHOWN = 5

_TAIL = re.compile(r" swatch(?: \d+)?")
"""What stands behind a yarn's name where a swatch is numbered after it."""

_Kept = TypeVar("_Kept")


class Notebook:
    """A knitter's notebook. Opens its file on first use, and makes one only when something is to be kept.

    Every method that touches the file raises NotebookError, a plain sentence, where it cannot be done; the
    file then holds what it held before.
    """

    def __init__(
        self,
        where: str | Path | None = None,
        today: Callable[[], date] = date.today,
        patience: float = PATIENCE,
    ) -> None:
        """A path, ":memory:", or None for the user's own: YARNCHAT_NOTEBOOK, else in the user data folder.

        ``patience`` is how many seconds a try waits for another program; there are three tries.
        """
        self._store = Store(where, patience)
        self._today = today
        self._kept: dict[str, object] = {}
        self._shared: journal.Ledger | None = None
        self._stamp: tuple[int, int, int] | None = None

    @property
    def where(self) -> str:
        """The file's path, or ":memory:"."""
        return str(self._store.where)

    def close(self) -> None:
        """Let go of the file; the next use opens it again. What is in memory is gone."""
        self._store.close()

    def together(self, deeds: Sequence[Callable[[], Change]]) -> list[Change]:
        """Several changes as one: undone at once, and none of them is made where one cannot be."""
        with self._writing() as (_, ledger):
            self._shared = ledger
            try:
                return [deed() for deed in deeds]
            finally:
                self._shared = None

    def remember_yarn(self, yarn: Yarn) -> Change:
        """Keep a yarn by its name. Of a known yarn, what is said now replaces what was said of it before.

        So it does in its swatches and its stash, where they were kept with what was said before.
        """
        name = clean_name(yarn.name)
        with self._writing() as (connection, ledger):
            known = lookup.only(connection, name, StoredYarn)
            if known is None:
                entry = StoredYarn(_NEW, name, self._today(), yarn)
            else:
                entry = replace(known, yarn=updated(known.yarn, replace(yarn, name=known.name)))
                _put_right(connection, ledger, known.yarn, entry.yarn)
            return _put(connection, ledger, entry, known)

    def remember_swatch(self, swatch: Swatch, name: str | None = None) -> Change:
        """Keep a swatch by a name of its own; without one it is numbered after its yarn."""
        with self._writing() as (connection, ledger):
            chosen = lookup.numbered(connection, swatch.yarn) if name is None else clean_name(name)
            known = lookup.only(connection, chosen, StoredSwatch)
            if known is None:
                entry = StoredSwatch(_NEW, chosen, self._today(), swatch)
            else:
                entry = replace(known, swatch=swatch)
            return _put(connection, ledger, entry, known)

    def stash_yarn(self, name: str, skeins: float | None, grams: float | None, yarn: Yarn | None) -> Change:
        """Keep how much of a yarn is there: in skeins or in grams. It replaces a former amount.

        Of its yarn only what the remembered one does not say is kept beside it.
        """
        amount, unit = (grams, "g") if skeins is None else (skeins, "skein")
        if amount is None or (skeins is not None and grams is not None):
            raise NotebookError("Say how much of it there is, either in skeins or in grams.")
        chosen = clean_name(name)
        with self._writing() as (connection, ledger):
            known = lookup.only(connection, chosen, StoredHolding)
            facts = updated(known.yarn if known else Yarn(), yarn or Yarn())
            if facts.name is not None and key(facts.name) == key(chosen):
                facts = replace(facts, name=None)
            if label_kept := lookup.only(connection, chosen, StoredYarn):
                facts = changed_alike(facts, label_kept.yarn, Yarn())
            number, since = (known.id, known.since) if known else (_NEW, self._today())
            spelled = known.name if known else chosen
            entry = StoredHolding(amount, unit, facts, id=number, name=spelled, since=since)
            return _put(connection, ledger, entry, known)

    def set(self, setting: str, value: str) -> Change:
        """Set "units" (yd, m), "spares" (skeins) or "scale_step" (grams); the value "default" unsets it."""
        kept = settings.checked(setting, value)
        with self._writing() as (connection, ledger):
            if kept is None:
                ledger.remove("setting", setting)
            else:
                ledger.put("setting", {"name": setting, "value": kept})
            sentence = settings.sentence(setting, settings.load(connection))
            return _closed(ledger, sentence if ledger.changed else f"Already so: {sentence}")

    def yarns(self) -> tuple[StoredYarn, ...]:
        """The remembered yarns, in the order they came."""
        with self._reading() as connection:
            if connection is None:
                return ()
            return self._cached(connection, "yarns", lambda: lookup.every(connection, StoredYarn))

    def swatches(self, of: str | None = None) -> tuple[StoredSwatch, ...]:
        """The remembered swatches, in the order they came; ``of`` picks those of one yarn."""
        with self._reading() as connection:
            if connection is None:
                return ()
            if of is not None:
                return lookup.of_yarn(connection, of, StoredSwatch)
            return self._cached(connection, "swatches", lambda: lookup.every(connection, StoredSwatch))

    def bearing(self) -> tuple[tuple[StoredYarn, ...], tuple[StoredSwatch, ...], Settings]:
        """What bears on a conversion, in one look at the file: the yarns, the swatches, the settings."""
        with self._reading() as connection:
            if connection is None:
                return (), (), _UNSET
            return (
                self._cached(connection, "yarns", lambda: lookup.every(connection, StoredYarn)),
                self._cached(connection, "swatches", lambda: lookup.every(connection, StoredSwatch)),
                self._cached(connection, "settings", lambda: settings.load(connection)),
            )

    def stash(self) -> tuple[StoredHolding, ...]:
        """What she has. A holding that says nothing of its yarn takes the remembered yarn of that name."""
        with self._reading() as connection:
            if connection is None:
                return ()
            return self._cached(connection, "stash", lambda: lookup.stash(connection))

    def settings(self) -> Settings:
        """The settings, defaults where nothing was set."""
        with self._reading() as connection:
            if connection is None:
                return _UNSET
            return self._cached(connection, "settings", lambda: settings.load(connection))

    def names(self) -> tuple[str, ...]:
        """Every name in the notebook once, in the order they came: words the reader should know.

        The same tuple again while nothing has changed.
        """
        with self._reading() as connection:
            if connection is None:
                return ()
            return self._cached(connection, "in order", lambda: tuple(self._names_of(connection).values()))

    def find(self, name: str) -> list[Stored]:
        """The entries of exactly that name, of any kind; case and spacing do not count."""
        with self._reading() as connection:
            if connection is None:
                return []
            return [lookup.filled(connection, entry) for entry in lookup.found(connection, name)]

    def near(self, name: str) -> list[str]:
        """Names like that one, the likest first; not the name itself."""
        known = self._names()
        if not known:
            return []
        from rapidfuzz import fuzz, process

        wanted = key(name)
        hits = process.extract(wanted, list(known), scorer=fuzz.WRatio, score_cutoff=_NEAR, limit=_SHOWN + 1)
        return [known[hit] for hit, *_ in hits if hit != wanted][:_SHOWN]

    def slip(self, text: str, unknown: Sequence[str]) -> tuple[str, str] | None:
        """A stretch of a text that is a name but for a letter or two, and that name; None where there is none.

        ``unknown``: the words of the text that mean nothing else; one of them is in the stretch.
        """
        known = self._names() if unknown else {}
        if not known:
            return None
        from rapidfuzz import process
        from rapidfuzz.distance import OSA

        words = [word.strip(".,;:!?()\"'") for word in key(text).split()]
        odd = {key(word) for word in unknown[:_ODD]}
        for stretch in _stretches(words, odd):
            hit = process.extractOne(stretch, list(known), scorer=OSA.distance, score_cutoff=1 + (len(stretch) > 7))
            if hit and hit[1] and hit[0][0] == stretch[0]:
                return stretch, known[hit[0]]
        return None

    def rename(self, old: str, new: str, kind: str | None = None) -> Change:
        """Give the entries of that name the new one; swatches and stash of a renamed yarn go with it.

        A swatch that is numbered after its yarn is then called after the new name.
        """
        name = clean_name(new)
        with self._writing() as (connection, ledger):
            entries = _known(connection, old, kind)
            taken = {entry.kind for entry in lookup.found(connection, name)}
            for entry in entries:
                if key(name) != key(old) and entry.kind in taken:
                    raise NotebookError(f"There is already {called(entry.kind, name)}. Choose another name.")
            for entry in entries:
                ledger.put("entry", to_row(replace(entry, name=name)))
            yarn = any(isinstance(entry, StoredYarn) for entry in entries)
            along = _rename_yarn(connection, ledger, old, name) if yarn else []
            stored = tuple(lookup.entry(connection, entry.id) for entry in entries)
            now = "; ".join(f"{label(entry)}: {entry}" for entry in stored)
            more = f" With it: {', '.join(along)}." if along else ""
            return _closed(ledger, f"Renamed “{entries[0].name}”; it is now {now}.{more}", stored)

    def forget(self, name: str, kind: str | None = None) -> Change:
        """Take an entry out; undo brings it back. Where kinds share the name, the kind has to be said."""
        with self._writing() as (connection, ledger):
            entries = _known(connection, name, kind)
            if len(entries) > 1:
                shared = " and ".join(label(entry) for entry in entries)
                raise NotebookError(f"There is {shared}: say which of them to forget.")
            (entry,) = entries
            ledger.remove("entry", entry.id)
            left = lookup.found(connection, name)
            still = f"{_capital(' and '.join(map(label, left)))} stays. " if left else ""
            return _closed(ledger, f"Forgot {label(entry)}: {entry}.", more=f"{still}Undo brings it back.")

    def undo(self) -> Change:
        """Take back the last change, whichever program made it; again for the one before."""
        with self._writing() as (connection, _):
            undone = journal.undo(connection)
            stored = tuple(lookup.entry(connection, number) for number in undone.restored)
            if len(stored) > _SHOWN:
                now = [f"{len(stored)} entries are as they were before."]
            else:
                now = [f"{_capital(label(entry))} is again: {entry}." for entry in stored]
            if undone.removed:
                entries = "1 entry is" if undone.removed == 1 else f"{undone.removed} entries are"
                now.append(f"{entries} no longer in the notebook.")
            held = settings.load(connection)
            now += [settings.sentence(name, held) for name in undone.settings]
            return Change(f"Undone: {undone.sentence} {' '.join(now)}", stored)

    def export(self, path: str | Path) -> Change:
        """Write everything to one JSON file; an earlier export of that name is replaced, no other file is."""
        with self._reading() as connection:
            export = transfer.Export() if connection is None else lookup.whole(connection)
        target = Path(path).expanduser()
        transfer.write(target, export)
        yarns, swatches = len(export.yarns), len(export.swatches)
        counts = f"{yarns} yarn{'s'[: yarns != 1]}, {swatches} swatch{'es'[: 2 * (swatches != 1)]}"
        counts += f", {len(export.stash)} in stash"
        return Change(f"Exported to {target}: {counts}.", export.entries)

    def preview_import(self, path: str | Path) -> tuple[list[str], list[str]]:
        """What importing that file would do, a sentence for each change, none where it would change nothing.

        Then a sentence for each setting of hers that stays, since the file has none.
        """
        incoming = transfer.read(Path(path).expanduser())
        with self._reading() as connection:
            held = transfer.Export() if connection is None else lookup.whole(connection)
        plan = merge.plan(held, incoming)
        stays = [
            f"Your own stays, the file has the usual: {settings.sentence(name, held.settings)}" for name in plan.stays
        ]
        return ([] if plan.idle else plan.sentences(incoming)), stays

    def import_(self, path: str | Path) -> Change:
        """Take a file in, all of it or none: new names are added, known ones replaced, others stay."""
        incoming = transfer.read(Path(path).expanduser())
        with self._writing() as (connection, ledger):
            plan = merge.plan(lookup.whole(connection), incoming)
            stored = tuple(lookup.entry(connection, number) for number in merge.carry_out(plan, ledger))
            counts = f"{len(plan.added)} added, {len(plan.changed)} changed, {plan.same} unchanged"
            now = [settings.sentence(name, incoming.settings) for name in plan.settings]
            return _closed(ledger, " ".join([f"Imported {path}: {counts}.", *now]), stored)

    @contextmanager
    def _reading(self) -> Iterator[Connection | None]:
        try:
            with self._store.reading() as connection:
                yield connection
        except lookup.UnreadableError as error:
            raise DamagedError(self.where, str(error)) from error

    @contextmanager
    def _writing(self) -> Iterator[tuple[Connection, journal.Ledger]]:
        try:
            with self._store.writing() as connection:
                yield connection, self._shared or journal.Ledger(connection, self._today())
        except lookup.UnreadableError as error:
            raise DamagedError(self.where, str(error)) from error

    def _names(self) -> dict[str, str]:
        with self._reading() as connection:
            return {} if connection is None else self._names_of(connection)

    def _names_of(self, connection: Connection) -> dict[str, str]:
        return self._cached(connection, "names", lambda: lookup.names(connection))

    def _cached(self, connection: Connection, what: str, load: Callable[[], _Kept]) -> _Kept:
        """Loaded once for as long as no program changes the file."""
        stamp = self._store.stamp(connection)
        if stamp is None or stamp != self._stamp:
            self._kept, self._stamp = {}, stamp
        if what not in self._kept:
            self._kept[what] = load()
        return cast("_Kept", self._kept[what])


def _put(connection: Connection, ledger: journal.Ledger, entry: Stored, known: Stored | None) -> Change:
    stored = lookup.filled(connection, lookup.entry(connection, ledger.put("entry", to_row(entry))))
    now = f"{label(stored)}: {_unnamed(connection, stored)}"
    if known is None:
        return _closed(ledger, f"Remembered {now}.", (stored,))
    if not ledger.changed:
        return Change(f"Already remembered {now}.", (stored,))
    return _closed(ledger, f"Updated {now}.", (stored,), f"Before, it was: {_unnamed(connection, known)}.")


def _unnamed(connection: Connection, entry: Stored) -> Stored:
    """An entry as it stands behind its own name: all that is known of a stash but the name of its yarn."""
    full = lookup.filled(connection, entry)
    if isinstance(full, StoredHolding) and key(full.yarn.name or "") == key(full.name):
        return replace(full, yarn=replace(full.yarn, name=None))
    return full


def _known(connection: Connection, name: str, kind: str | None = None) -> list[Stored]:
    entries = [entry for entry in lookup.found(connection, name) if kind in (None, entry.kind)]
    if not entries:
        what = "nothing" if kind is None else f"no {kind}"
        raise NotebookError(f"The notebook has {what} called “{clean_name(name)}”.")
    return entries


def _rename_yarn(connection: Connection, ledger: journal.Ledger, old: str, name: str) -> list[str]:
    """The yarn's new name in its swatches and stash; gives the swatches that are now called after it."""
    called_after: list[str] = []
    for kept in lookup.of_yarn(connection, old, StoredSwatch):
        yarn = replace(kept.swatch.yarn, name=name)
        own = _called_after(kept, name)
        if own is None or lookup.only(connection, own, StoredSwatch):
            own = kept.name
        elif key(own) != key(kept.name):
            called_after.append(called(kept.kind, own))
        ledger.put("entry", to_row(replace(kept, name=own, swatch=replace(kept.swatch, yarn=yarn))))
    for held in lookup.of_yarn(connection, old, StoredHolding):
        ledger.put("entry", to_row(replace(held, yarn=replace(held.yarn, name=name))))
    return called_after


def _called_after(kept: StoredSwatch, yarn: str) -> str | None:
    """What a swatch numbered after its yarn is called after a new name of the yarn; None for a name of its own."""
    before = kept.swatch.yarn.name or ""
    tail = kept.name[len(before) :]
    fits = kept.name.startswith(before) and _TAIL.fullmatch(tail) and len(yarn + tail) <= LONGEST
    return yarn + tail if fits else None


def _closed(ledger: journal.Ledger, done: str, entries: tuple[Stored, ...] = (), more: str = "") -> Change:
    """Journal what was done; what is said beside it concerns this moment only."""
    if ledger.changed:
        ledger.close(done)
    return Change(f"{done} {more}".strip(), entries)


def _put_right(connection: Connection, ledger: journal.Ledger, old: Yarn, new: Yarn) -> None:
    """Swatches and stash with the yarn's new label where they were kept with its old one."""
    for kept in lookup.of_yarn(connection, new.name or "", StoredSwatch):
        yarn = changed_alike(kept.swatch.yarn, old, new)
        ledger.put("entry", to_row(replace(kept, swatch=replace(kept.swatch, yarn=yarn))))
    held = lookup.only(connection, new.name or "", StoredHolding)
    if held:
        ledger.put("entry", to_row(replace(held, yarn=changed_alike(held.yarn, old, Yarn()))))


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def _stretches(words: list[str], odd: set[str]) -> Iterator[str]:
    """One to three words in a row with an odd one among them, the longest first, none of fewer than five letters."""
    for count in (3, 2, 1):
        for at in range(len(words) - count + 1):
            stretch = " ".join(words[at : at + count])
            if len(stretch) >= _SHORTEST and odd & set(words[at : at + count]):
                yield stretch
