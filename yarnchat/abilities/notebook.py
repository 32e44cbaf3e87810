"""Notebook: remember, list, rename, forget, undo and settings; what is said back is what was stored."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from functools import partial

from yarnchat.abilities.base import Ability, Context, Draft, Frame, Talk
from yarnchat.abilities.remembered import memory
from yarnchat.abilities.sanity import positive, sane
from yarnchat.abilities.stash import EXAMPLE as STASH_EXAMPLE
from yarnchat.abilities.stash import to_keep
from yarnchat.abilities.swatch import doubts_of, in_short
from yarnchat.abilities.swatch_sides import one_mass, sides_of
from yarnchat.answers import Item
from yarnchat.notebook import Change, Notebook, NotebookError, Settings, Stored, StoredSwatch
from yarnchat.quantity import number
from yarnchat.queries import Note, Query, Swatch, Yarn
from yarnchat.refusals import refused, unclear

SWATCH_EXAMPLE = "Type for example: remember my swatch: Dunnock DK, 225 m per 100 g, 15 by 15 cm, 10.8 g."
CONFIRMED = "yes"
"""The value of an import that is to be done, not only previewed."""


def answer(query: Query, context: Context) -> Draft:
    """Do what the note asks; what the notebook cannot do is refused in its own plain sentence."""
    note = query.note or Note("remember" if query.swatch or query.stash or query.yarns else "list")
    act = VERBS.get(note.verb)
    if act is None:
        raise unclear(f"A notebook cannot {note.verb}; it can {', '.join(VERBS)}. Type for example: list my yarns.")
    sane(query)
    try:
        return act(note, query, context)
    except NotebookError as error:
        raise refused(error.sentence) from None


def _remember(note: Note, query: Query, context: Context) -> Draft:
    """A swatch, a stash, a setting or yarns put into the notebook; a Refusal where none of them is told."""
    book = context.notebook
    if query.swatch and note.kind in (None, "swatch"):
        one_mass(query)
        swatch = _whole(query.swatch, note.name, context)
        return _doubted(_done(book.remember_swatch(swatch, note.name)), swatch)
    if query.stash and note.kind in (None, "stash"):
        return _done(*book.together(to_keep(note, query, context)))
    if note.setting:
        return _set(note, query, context)
    if note.kind == "swatch":
        raise unclear(f"Which swatch? {SWATCH_EXAMPLE}")
    if note.kind == "stash":
        raise unclear(f"What is in your stash? {STASH_EXAMPLE}")
    yarns = [yarn for yarn in (*query.yarns, query.pattern) if yarn != Yarn()]
    if not yarns:
        raise unclear(
            "What should be remembered? Type for example: remember Dunnock DK, 225 m per 100 g, 22 sts to 10 cm."
        )
    if len(yarns) == 1:
        [yarn] = yarns
        return _done(book.remember_yarn(replace(_named(yarn, note.name), fibre=note.fibre or yarn.fibre)))
    named = [_named(yarn, None) for yarn in yarns]
    return _done(*book.together([partial(book.remember_yarn, yarn) for yarn in named]))


def _named(yarn: Yarn, name: str | None) -> Yarn:
    if name or yarn.name:
        return replace(yarn, name=name or yarn.name)
    raise unclear(f"What is the yarn called ({yarn})? Type for example: remember Dunnock DK, {yarn}.")


def _whole(swatch: Swatch, name: str | None, context: Context) -> Swatch:
    """The swatch with what the notebook knows of its yarn; a Refusal where it could never be used.

    ``name``: what the swatch is called; a yarn without a name is called so too.
    """
    yarn = swatch.yarn if swatch.yarn.name else replace(swatch.yarn, name=name)
    yarn = memory(context).complete(yarn)
    sides = sides_of(swatch, yarn.gauge)
    if swatch.mass is None or sides is None:
        raise unclear(
            "A swatch needs its mass, and its width and height, or its stitches and rows with a gauge of both. "
            + SWATCH_EXAMPLE
        )
    for measure in (swatch.mass, sides.width, sides.height):
        positive(measure.value, measure.unit)
    if not (yarn.name or yarn.weight_class):
        raise unclear("Whose swatch is it? Its yarn or weight is missing. Type for example: my swatch of Dunnock DK.")
    if not (yarn.put_up and yarn.put_up.length and yarn.put_up.mass):
        raise unclear(
            f"How long is {yarn.name or 'the yarn'} for its mass? Its put-up is missing. "
            "Type for example: 225 m per 100 g."
        )
    return replace(swatch, yarn=yarn)


def _correct(note: Note, query: Query, context: Context) -> Draft:
    if query.swatch:
        return _correct_swatch(_swatch_meant(note, context.notebook), query.swatch, context)
    name = note.name or next((yarn.name for yarn in (*query.yarns, query.pattern) if yarn.name), None)
    if name:
        _known(name, note.verb, context.notebook)
    return _remember(note, query, context)


def _correct_swatch(kept: StoredSwatch, said: Swatch, context: Context) -> Draft:
    """The swatch with what is said of it now; the rest stays."""
    facts = {slot: value for slot in ("put_up", "gauge", "needle") if (value := getattr(said.yarn, slot))}
    swatch = replace(kept.swatch, yarn=replace(kept.swatch.yarn, **facts))
    if said.yarn.gauge:
        swatch = replace(swatch, stitches=None, rows=None)
    if said.mass:
        swatch = replace(swatch, mass=said.mass, mass_step=said.mass_step)
    if said.width and said.height:
        swatch = replace(swatch, width=said.width, height=said.height)
    swatch = _whole(swatch, None, context)
    return _doubted(_done(context.notebook.remember_swatch(swatch, kept.name)), swatch)


def _swatch_meant(note: Note, book: Notebook) -> StoredSwatch:
    """The swatch of that name, the only one of a yarn, or the one counted; a Refusal where it cannot be told."""
    name = note.name or ""
    own = [entry for said in (name, f"{name} swatch") for entry in book.find(said) if isinstance(entry, StoredSwatch)]
    of_yarn = book.swatches(name)
    if note.value and note.value.isdigit() and 0 < int(note.value) <= len(of_yarn):
        return of_yarn[int(note.value) - 1]
    if not note.value and (own or len(of_yarn) == 1):
        return (own or of_yarn)[0]
    if of_yarn:
        names = " and ".join(row.name for row in of_yarn)
        raise unclear(
            f"Which of the swatches of {name}? There is {names}. Type for example: {note.verb} {of_yarn[0].name}."
        )
    raise unclear(f"Your notebook has no swatch called {name}. Type for example: list my swatches.")


def _list(note: Note, _query: Query, context: Context) -> Draft:
    """Everything of a kind, or of every kind."""
    book = context.notebook
    wanted = (note.kind,) if note.kind else ("yarn", "swatch", "stash", "setting")
    entries: list[Stored] = []
    if "yarn" in wanted:
        entries += book.yarns()
    if "swatch" in wanted:
        entries += book.swatches()
    if "stash" in wanted:
        entries += book.stash()
    items = [*_listed(entries, context), *(_settings(book.settings()) if "setting" in wanted else ())]
    return _shown(items, f"Your notebook has {_counted(entries)}." if entries else _nothing(note.kind))


def _nothing(kind: str | None) -> str:
    if kind == "setting":
        return "These are your settings."
    what = {"yarn": "no yarns", "swatch": "no swatches", "stash": "no stash"}.get(
        kind or "", "no yarns, swatches or stash"
    )
    return f"Your notebook has {what} yet."


def _counted(entries: list[Stored]) -> str:
    """So many of each kind."""
    names = {
        "yarn": ("yarn", "yarns"),
        "swatch": ("swatch", "swatches"),
        "stash": ("stash yarn", "stash yarns"),
    }
    counts = [(sum(entry.kind == kind for entry in entries), words) for kind, words in names.items()]
    return ", ".join(f"{count} {words[count != 1]}" for count, words in counts if count)


def _shown(items: list[Item], headline: str) -> Draft:
    return Draft(headline, {"items": items})


def _listed(entries: list[Stored], context: Context) -> list[Item]:
    """Entries as they are kept, swatches with the yarn that their fabric takes."""
    known = memory(context)
    rates = [in_short(entry.swatch, known) if isinstance(entry, StoredSwatch) else "" for entry in entries]
    return [_item(entry, rate) for entry, rate in zip(entries, rates, strict=True)]


def _item(entry: Stored, besides: str = "") -> Item:
    told = ", ".join(part for part in (str(entry), besides) if part)
    return Item(kind=entry.kind, name=entry.name, text=f"{told} (since {entry.since.isoformat()})")


def _settings(settings: Settings) -> list[Item]:
    """The settings in words, defaults as well."""
    said = {
        "units": settings.units or "as each question has them",
        "spares": f"{settings.spares}",
        "scale_step": f"{number(settings.scale_step)} g" if settings.scale_step else "the last digit of each mass",
    }
    return [Item(kind="setting", name=name, text=text) for name, text in said.items()]


def _show(note: Note, query: Query, context: Context) -> Draft:
    name = note.name or next((yarn.name for yarn in query.yarns if yarn.name), None)
    if not name:
        return _list(note, query, context)
    of_yarn = [] if note.kind in ("yarn", "stash") else context.notebook.swatches(name)
    known = context.notebook.find(name) if of_yarn else _known(name, note.verb, context.notebook)
    found = [*(entry for entry in known if note.kind in (None, entry.kind)), *of_yarn]
    if not found:
        raise unclear(f"There is no {note.kind} called {name}. Type for example: show {name}.")
    entries = list({entry.id: entry for entry in found}.values())
    spelled = known[0].name if known else of_yarn[0].swatch.yarn.name
    return _shown(_listed(entries, context), f"Your notebook has {_counted(entries)} of {spelled}.")


def _known(name: str, verb: str, book: Notebook) -> list[Stored]:
    """The entries of that name; a Refusal with the near ones where there is none."""
    found = book.find(name)
    if not found:
        near = tuple(f"{verb} {like}" for like in book.near(name))
        meant = f" Did you mean {' or '.join(book.near(name))}?" if near else " Type for example: list my yarns."
        raise unclear(f"Your notebook has nothing called {name}.{meant}", suggestions=near)
    return found


def _rename(note: Note, _query: Query, context: Context) -> Draft:
    if not note.name or not note.new_name:
        raise unclear("Rename what to what? Type for example: rename Dunnock DK to Dunnock.")
    if note.kind == "swatch":
        kept = _swatch_meant(note, context.notebook)
        return _done(context.notebook.rename(kept.name, note.new_name, kept.kind))
    _known(note.name, note.verb, context.notebook)
    return _done(context.notebook.rename(note.name, note.new_name))


def _forget(note: Note, query: Query, context: Context) -> Draft:
    name = note.name or next((yarn.name for yarn in query.yarns if yarn.name), None)
    if note.setting:
        return _done(context.notebook.set(note.setting, "default"))
    if not name:
        raise unclear(
            "Forget what? One thing is forgotten at a time. Type for example: forget Dunnock DK. "
            "Undo takes back the last change."
        )
    if note.kind == "swatch":
        return _done(context.notebook.forget(_swatch_meant(note, context.notebook).name, note.kind))
    name = _of_yarn(name, context.notebook)
    _known(name, note.verb, context.notebook)
    return _done(context.notebook.forget(name, note.kind))


def _of_yarn(name: str, book: Notebook) -> str:
    """The name of an entry: as said, else that of the only swatch of a yarn so named."""
    if book.find(name):
        return name
    swatches = book.swatches(name)
    return swatches[0].name if len(swatches) == 1 else name


def _undo(note: Note, _query: Query, context: Context) -> Draft:
    """The last change taken back, or as many as asked for and there are."""
    undone = context.notebook.undo()
    if not note.value:
        return _done(undone)
    draft = Draft(undone.sentence)
    for _ in range(int(note.value) - 1):
        try:
            draft.headline += f" {context.notebook.undo().sentence}"
        except NotebookError as error:
            draft.cautions.append(error.sentence)
            break
    return draft


def _set(note: Note, query: Query, context: Context) -> Draft:
    setting = note.setting or ("spares" if query.spares is not None else None)
    value = note.value if note.value is not None else (str(query.spares) if query.spares is not None else None)
    if not setting or value is None:
        raise unclear("Set what? Type for example: set units m, set spares 2, or set scale step 0.1 g.")
    return _done(context.notebook.set(setting, value))


def _export(note: Note, _query: Query, context: Context) -> Draft:
    return _done(context.notebook.export(_path(note)))


def _import(note: Note, _query: Query, context: Context) -> Draft:
    """What a file would change; done only once it is confirmed."""
    path = _path(note)
    if note.value == CONFIRMED:
        return _done(context.notebook.import_(path))
    changes, stays = context.notebook.preview_import(path)
    if not changes:
        return Draft(f"Nothing in {path} is new: the notebook already holds it.", working=stays)
    shown = f'"{path}"' if " " in path else path
    asked = f"import my notebook from {shown}, yes"
    return Draft(
        f"Nothing is changed yet. To take it in, type yes, or: {asked}", working=[*changes, *stays], proposes=asked
    )


def _path(note: Note) -> str:
    if not note.name:
        way = "to" if note.verb == "export" else "from"
        raise unclear(f"Which file? Type for example: {note.verb} my notebook {way} notebook.json")
    return note.name


def _done(*changes: Change) -> Draft:
    """What was stored, read back."""
    stored = [entry for change in changes for entry in change.entries]
    draft = Draft(" ".join(change.sentence for change in changes))
    if stored:
        draft.figures["items"] = [_item(entry) for entry in stored]
    return draft


def _doubted(draft: Draft, swatch: Swatch) -> Draft:
    """What was kept, with what speaks against it."""
    draft.cautions += doubts_of(swatch)
    return draft


VERBS: dict[str, Callable[[Note, Query, Context], Draft]] = {
    "remember": _remember,
    "list": _list,
    "show": _show,
    "rename": _rename,
    "correct": _correct,
    "forget": _forget,
    "undo": _undo,
    "set": _set,
    "export": _export,
    "import": _import,
}

ABILITY = Ability(
    name="notebook",
    summary="Keep your yarns, swatches, stash and settings, and use them in later answers.",
    examples=(
        "remember Dunnock DK, 225 m per 100 g, 22 sts to 10 cm",
        "remember my swatch: Dunnock DK, 225 m per 100 g, 15 by 15 cm, 10.8 g",
        "list my yarns",
        "forget Dunnock DK",
        "undo",
    ),
    frames=(
        Frame(95, slots=("note",)),
        Frame(95, cues=("notebook",)),
        Frame(
            52,
            slots=("stash",),
            cues=("in_stash",),
            without=("need", "several_yarns", "pick", "more_stash"),
            unasked=True,
        ),
    ),
    uses=frozenset({"note", "yarn", "pattern", "swatch", "stash", "spares", "want"}),
    answer=answer,
    talk=Talk(
        off_thread=True,
        alone=lambda query, _: any(held.yarn.name for held in query.stash),
        anew=True,
        writes=True,
    ),
)
