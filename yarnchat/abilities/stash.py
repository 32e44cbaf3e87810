"""The stash as it is told: amounts of one yarn put together, and what is to be kept of each."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from functools import partial

from yarnchat.abilities.base import Context
from yarnchat.abilities.remembered import memory, same_name
from yarnchat.notebook import Change
from yarnchat.quantity import Quantity, is_length
from yarnchat.queries import MORE, PART, Holding, Note, Query, Yarn
from yarnchat.refusals import unclear

EXAMPLE = "Type for example: I have 6 skeins of Dunnock DK in my stash."


def to_keep(note: Note, query: Query, context: Context) -> list[Callable[[], Change]]:
    """What keeps the amounts told; a Refusal where one of them cannot be kept, before anything is."""
    if query.colours:
        [series, *_] = query.colours[0].amounts
        raise unclear(
            f"Is {series} in your stash too? One yarn at a time: I have 6 skeins of Dunnock DK in my stash.",
            str(series),
        )
    told = _of_the_yarn(query)
    told = _without_part(told, context) if note.value == PART else _of_one(told)
    held = _together(told, context)
    if note.value == MORE:
        held = [_added(holding, context) for holding in held]
    return [_keep(holding, note, context) for holding in held]


def _of_the_yarn(query: Query) -> tuple[Holding, ...]:
    """An amount of no yarn is of the one that is named."""
    named = [yarn for yarn in (*query.yarns, query.pattern) if yarn.name]
    if len(query.stash) != 1 or len(named) != 1 or str(query.stash[0].yarn):
        return query.stash
    return (replace(query.stash[0], yarn=named[0]),)


def _of_one(holdings: tuple[Holding, ...]) -> tuple[Holding, ...]:
    """The amounts; a Refusal where one of no yarn stands beside those of a yarn: it may be a part of them."""
    loose = [holding for holding in holdings if not str(holding.yarn)]
    others = [holding for holding in holdings if str(holding.yarn)]
    if loose and others:
        raise unclear(
            f"Is {loose[0]} a part of {others[0]}, or there besides? Type for example: "
            f"I have 2 skeins of {others[0].yarn.name or 'Dunnock DK'} and {loose[0]} left over in my stash.",
            str(loose[0]),
        )
    return holdings


def _without_part(holdings: tuple[Holding, ...], context: Context) -> tuple[Holding, ...]:
    """``3 skeins, one of them 62 g``: two whole skeins, and what is left of the third."""
    whole = [holding for holding in holdings if holding.unit == "skein" and holding.amount > 1]
    parts = [holding for holding in holdings if holding.unit != "skein"]
    if len(whole) != 1 or len(parts) != 1:
        return _of_one(holdings)
    yarn = whole[0].yarn if str(whole[0].yarn) else parts[0].yarn
    skeins, part = replace(whole[0], amount=whole[0].amount - 1, yarn=yarn), replace(parts[0], yarn=yarn)
    one = replace(skeins, amount=1)
    if _grams(part, memory(context).complete(yarn)) >= _grams(one, memory(context).complete(yarn)):
        raise unclear(f"Can one of {whole[0]} be {parts[0]}? That is no less than a whole skein.", str(parts[0]))
    return skeins, part


def _together(holdings: tuple[Holding, ...], context: Context) -> list[Holding]:
    """Amounts of one yarn as one, in grams: whole skeins and what is left of another count by their mass."""
    alike: dict[str, list[Holding]] = {}
    for holding in holdings:
        alike.setdefault(str(holding.yarn), []).append(holding)
    return [
        same[0] if len(same) == 1 else _sum(same, memory(context).complete(same[0].yarn)) for same in alike.values()
    ]


def _sum(holdings: list[Holding], yarn: Yarn) -> Holding:
    """Several amounts of one yarn, in grams; a Refusal where a skein's mass or length is not known."""
    return replace(holdings[0], amount=sum(_grams(holding, yarn) for holding in holdings), unit="g")


def _grams(holding: Holding, yarn: Yarn) -> float:
    mass = yarn.put_up.mass if yarn.put_up else None
    length = yarn.put_up.length if yarn.put_up else None
    if holding.unit != "skein" and not is_length(holding.unit):
        return Quantity(holding.amount, holding.unit).to("g").value
    if mass and holding.unit == "skein":
        return holding.amount * mass.to("g").value
    if mass and length:
        return holding.amount / length.to(holding.unit).value * mass.to("g").value
    raise unclear(
        f"What does one skein of {yarn.name or 'the yarn'} weigh, and how long is it? "
        "Type for example: 225 m per 100 g."
    )


def _added(holding: Holding, context: Context) -> Holding:
    """An amount together with what is kept of that yarn, in its unit or in grams."""
    yarn = memory(context).complete(holding.yarn)
    kept = next((row for row in context.notebook.stash() if same_name(row.name, yarn.name)), None)
    if kept is None:
        return holding
    if kept.unit == holding.unit:
        return replace(holding, amount=kept.amount + holding.amount)
    return replace(holding, amount=_grams(kept, kept.yarn) + _grams(holding, yarn), unit="g")


def _keep(holding: Holding, note: Note, context: Context) -> Callable[[], Change]:
    """What keeps so much of a yarn, in skeins or grams; a Refusal where that cannot be told."""
    yarn = memory(context).complete(holding.yarn)
    name = note.name or yarn.name or yarn.class_as_said or yarn.weight_class
    if not name:
        raise unclear(f"Of which yarn? {EXAMPLE}")
    said = holding.yarn if str(holding.yarn) else None
    keep = partial(context.notebook.stash_yarn, name, yarn=said)
    if holding.unit == "skein":
        return partial(keep, skeins=holding.amount, grams=None)
    if not is_length(holding.unit):
        return partial(keep, skeins=None, grams=Quantity(holding.amount, holding.unit).to("g").value)
    if not yarn.put_up or not yarn.put_up.length:
        raise unclear(
            f"How long is one skein of {name}? The stash is kept in skeins or grams. Type for example: 225 m a skein."
        )
    return partial(keep, skeins=holding.amount / yarn.put_up.length.to(holding.unit).value, grams=None)
