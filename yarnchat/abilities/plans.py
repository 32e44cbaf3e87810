"""From a question to what to buy of one yarn: need, conversion, and a basket for every colour and size."""

from __future__ import annotations

import functools
import re
from collections.abc import Sequence
from dataclasses import dataclass

from yarnchat.abilities import buying, sanity
from yarnchat.abilities.base import Draft
from yarnchat.abilities.buying import ESTIMATES, Basket
from yarnchat.abilities.conversion_ratio import Conversion, conversion
from yarnchat.abilities.known_densities import called
from yarnchat.abilities.needs import Estimate, Needs
from yarnchat.abilities.remembered import Memory
from yarnchat.answers import Amount, Figures, Part
from yarnchat.quantity import Quantity, factor, is_length, number, to_figures
from yarnchat.queries import Price, Query, Yarn, size_list
from yarnchat.refusals import unclear

MOST_CAUTIONS = 4
NEEDLE = "The needle size does not enter: gauge, or else the weight class, does."
TRUSTED = "This trusts the pattern's amount: knit, wash and block a swatch first."


_CONTRAST = re.compile(r"CC|contrast|accent", re.IGNORECASE)
"""How a colour that is not the main one is called."""


def _main_colour(names: list[str]) -> int | None:
    """The place of the main colour: the first that is not called a contrast; a contrast alone is none."""
    plain = (place for place, name in enumerate(names) if not _CONTRAST.match(name))
    return next(plain, 0 if len(names) > 1 else None)


@dataclass(frozen=True, slots=True)
class Plan:
    """What one yarn comes to: ``baskets`` by colour, then by size, all lengths in ``unit``."""

    yarn: Yarn
    need: Needs
    converted: Conversion
    unit: str
    baskets: tuple[tuple[Basket, ...], ...]
    known: Memory
    needle_said: bool = False
    unused_label: tuple[str, ...] = ()
    """A word about a put-up that was taken as the pattern's and nothing was counted with; empty for none."""

    @property
    def first(self) -> Basket:
        """The basket of the first colour and size."""
        return self.baskets[0][0]

    @property
    def single(self) -> Basket | None:
        """The one basket where there is one colour and one size."""
        return self.first if self.need.single else None


def plan(query: Query, yarn: Yarn, need: Needs, known: Memory) -> Plan:
    """A whole plan for one yarn; a Refusal where something is missing or cannot be true."""
    pattern, yarn = known.complete(query.pattern), known.complete(yarn)
    for side in (pattern, yarn):
        sanity.yarn(side)
        buying.sound_label(side.put_up)
    converted = conversion(pattern, yarn, query.same_gauge, known)
    if not is_length(need.unit) and converted.ratio.basis != "same gauge":
        raise unclear(
            "Mass does not carry over to another weight: the put-up of the pattern's yarn is missing. "
            "Type for example: the pattern's yarn is 50 g/120 m."
        )
    unit = buying.in_unit(need.unit, query.want)
    mass_unit = buying.mass_unit(query.want)
    spares = known.spares_for(query)
    rows: list[tuple[Basket, ...]] = []
    main = _main_colour([colour.name for colour in need.colours])
    for place, colour in enumerate(need.colours):
        amounts = [converted_to(size, need.unit, unit, converted) for size in colour.sizes]
        rows.append(tuple(buying.basket(each, unit, yarn, spares, place == main, mass_unit) for each in amounts))
    needle_said = bool(pattern.needle or yarn.needle)
    return Plan(yarn, need, converted, unit, tuple(rows), known, needle_said, _unused_label(pattern, yarn, need))


def converted_to(need: Estimate, unit: str, into: str, converted: Conversion) -> Estimate:
    """A need of the pattern's yarn as an amount of the new one; a Refusal for a length beyond any project."""
    amount = need.times(converted.factor, converted.low, converted.high).times(factor(unit, into))
    if is_length(into):
        sanity.total(Quantity(amount.value, into))
    return amount


def _unused_label(pattern: Yarn, yarn: Yarn, need: Needs) -> tuple[str, ...]:
    """A word about a put-up taken as the pattern's, where lengths did not need it and hers is unsaid."""
    if yarn.put_up or not pattern.put_up or need.working:
        return ()
    return (f"{pattern.put_up} was taken as the pattern's yarn; if it is yours, say so to have skeins counted.",)


def fill(draft: Draft, made: Plan, with_ratio: bool) -> None:
    """Put a plan's figures, sizes, colours, working and cautions into a draft, and its headline."""
    common: Figures = {"ratio": made.converted.ratio} if with_ratio else {}
    draft.figures |= common
    named = called(made.yarn)
    sizes = made.need.sizes
    if made.single:
        draft.figures |= made.single.figures()
        draft.headline = buying.headline(made.single, named)
    elif len(made.baskets) == 1:
        draft.sizes = _parts(sizes, made.baskets[0], common)
        draft.headline = buying.headline_of_several(list(zip(sizes, made.baskets[0], strict=True)), named)
    else:
        for colour, row in zip(made.need.colours, made.baskets, strict=True):
            if sizes:
                draft.colours.append(Part(name=colour.name, sizes=_parts(sizes, row, common)))
            else:
                draft.colours.append(Part(name=colour.name, figures=common | row[0].figures()))
        colours = [colour.name for colour in made.need.colours]
        firsts = [row[0] for row in made.baskets]
        draft.headline = buying.headline_of_several(list(zip(colours, firsts, strict=True)), named)
        if sizes:
            draft.headline = _over_sizes(colours, sizes, made.baskets)
    draft.working += working(made)
    if made.need.colours[1:] and not sizes:
        _add_up_costs(draft, [row[0].cost for row in made.baskets])
    draft.cautions += cautions(made)


def _add_up_costs(draft: Draft, costs: Sequence[Price | None]) -> None:
    """What the colours cost together, where each has a price."""
    told = [cost for cost in costs if cost]
    if len(told) < len(costs):
        return
    whole = Price(sum(cost.value for cost in told), told[0].sign)
    draft.figures["cost"] = Amount(value=whole.value, unit=whole.sign)
    draft.headline = f"{draft.headline.removesuffix('.')}; {whole} in all."
    draft.working.append(f"{' + '.join(map(str, told))} = {whole} in all")


def add_up(draft: Draft, made: Plan) -> None:
    """The length of all colours together, and the skeins to buy for them, into the figures and the working of a draft.

    Nothing where there are several sizes, of which one alone is knitted.
    """
    firsts = [row[0] for row in made.baskets]
    if made.need.sizes or len(firsts) < 2:
        return
    amounts = [found.amount for found in firsts]
    whole = functools.reduce(Estimate.plus, amounts)
    draft.figures["length" if is_length(made.unit) else "mass"] = whole.figure(made.unit)
    bought = [found.bought for found in firsts if found.bought]
    skeins = ""
    if len(bought) == len(firsts):
        count, spares = sum(each.skeins for each in bought), sum(each.spare for each in bought)
        draft.figures |= {"skeins": count, "spare": spares}
        skeins = f": {buying.skeins_said(count)}{buying.and_spares(spares)}"
    draft.working.append(
        f"{' + '.join(number(each.value) for each in amounts)} = {whole.said(made.unit)} in all{skeins}"
    )


def _over_sizes(colours: list[str], sizes: tuple[str, ...], rows: Sequence[Sequence[Basket]]) -> str:
    """The headline of colours in several sizes: the skeins of each colour, size by size."""
    names = [name.removeprefix("size ") for name in sizes]
    over = f"{'sizes ' if names != list(sizes) else ''}{names[0]} ({', '.join(names[1:])})"
    told = [
        f"{colour} {size_list(tuple(float(found.bought.skeins) for found in row if found.bought))}"
        for colour, row in zip(colours, rows, strict=True)
        if all(found.bought for found in row)
    ]
    return (
        f"Buy skeins, for {over}: {'; '.join(told)}. Spares are below."
        if told
        else f"For {over}, each colour is below."
    )


def working(made: Plan) -> list[str]:
    """Each step to the plan, with its numbers; the last steps are those of the first colour and size."""
    lines = [*made.need.working, *conversion_steps(made)]
    which = [name for name in (made.need.colours[0].name, *made.need.sizes[:1]) if name]
    last = buying.steps(made.first, made.yarn)
    if which and not made.single:
        last = [f"{', '.join(which)}: {line}" for line in last]
    return lines + last


def conversion_steps(made: Plan) -> list[str]:
    """Both sides, their ratio, and the first length worked out on its line; nothing where no yarn changes."""
    converted = made.converted
    if not converted.working:
        return []
    need = made.need.colours[0].sizes[0]
    terms = f"{number(need.value)} {made.need.unit}"
    if converted.shown > 1:
        terms += f" / {converted.shown} strands"
    terms += f" × {to_figures(converted.ratio.value)}"
    if converted.held > 1:
        terms += f" × {converted.held} strands"
    *sides, ratio = converted.working
    return [*sides, f"{ratio}; {terms} = {number(made.first.amount.value)} {made.unit}"]


def cautions(made: Plan, buying_more: bool = True) -> list[str]:
    """The dye lot and the swatch always, then what applies to these yarns."""
    always = [TRUSTED if made.first.amount.exact else ESTIMATES]
    if buying_more and any(basket.bought for row in made.baskets for basket in row):
        always.insert(0, buying.ONE_LOT)
    trouble = [made.known.trouble] if made.known.trouble else []
    needle = [NEEDLE] if made.needle_said else []
    return [*always, *trouble, *made.unused_label, *made.converted.cautions, *needle][:MOST_CAUTIONS]


def _parts(names: tuple[str, ...], row: tuple[Basket, ...], common: Figures) -> list[Part]:
    return [Part(name=name, figures=common | found.figures()) for name, found in zip(names, row, strict=True)]
