"""Skeins: how many whole skeins a length or a mass comes to, with a spare."""

from __future__ import annotations

from dataclasses import replace

from yarnchat.abilities import buying, plans, sanity
from yarnchat.abilities.base import Ability, Context, Draft, Frame, Talk
from yarnchat.abilities.needs import Needs, masses, needs
from yarnchat.abilities.remembered import memory
from yarnchat.answers import Amount
from yarnchat.fabric.skeins import whole_skeins
from yarnchat.quantity import Quantity, is_length, number
from yarnchat.queries import Price, PutUp, Query, Yarn
from yarnchat.refusals import unclear

BY_MASS = "Counted by mass, which holds for the pattern's own yarn: another yarn needs its length."


def answer(query: Query, context: Context) -> Draft:
    """Whole skeins and a spare, by length where the put-up has one, else by mass."""
    sanity.sane(query)
    known = memory(context)
    yarn = known.complete(_yarn(query))
    count = _told_count(query)
    if count is not None and not query.pattern.weight_class and (yarn.price or count % 1):
        return _of_a_count(count, yarn, query.spares or 0)
    by_mass = masses(query)
    length = yarn.put_up and yarn.put_up.length
    need = by_mass if by_mass and not length else _lengths(query, yarn)
    buying.ask_for_put_up(yarn, "skeins", need.unit)
    made = plans.plan(query, yarn, need, known)
    buying.ask_for_put_up(made.yarn, query.want, made.unit)
    draft = Draft()
    plans.fill(draft, made, with_ratio=made.converted.ratio.basis != "same gauge")
    if need is by_mass:
        draft.cautions.append(BY_MASS)
    return draft


def _told_count(query: Query) -> float | None:
    """The number of skeins, where that is all that is told of the need."""
    amounts = query.amounts
    alone = len(amounts) == 1 and amounts[0].unit == "skein" and len(amounts[0].values) == 1
    return amounts[0].values[0] if alone else None


def _of_a_count(count: float, yarn: Yarn, spares: int) -> Draft:
    """``what do 9 skeins at £6 cost``, ``I need 7.2 skeins``: so many whole skeins, spares where asked, their price."""
    whole = whole_skeins(count, 1)
    bought = f"{buying.count_said(whole)}{buying.and_spares(spares)}"
    draft = Draft(f"Buy {bought}.", {"skeins": whole, "spare": spares})
    one = yarn.put_up.length if yarn.put_up and whole == count else None
    length = Quantity(count * one.value, one.unit) if one else None
    if length:
        draft.figures["length"] = Amount(value=length.value, unit=length.unit)
        draft.working.append(f"{buying.count_said(whole)} × {one} = {length}")
    if whole != count:
        draft.working.append(f"{number(count)} skeins: {buying.count_said(whole)}, always rounded up")
    if yarn.price:
        cost = Price(yarn.price.value * (whole + spares), yarn.price.sign)
        draft.headline = f"{bought}{f', {length}' if length else ''}: {cost}."
        draft.figures["cost"] = Amount(value=cost.value, unit=cost.sign)
        draft.working.append(f"{bought} × {yarn.price} = {cost}")
    if not spares:
        draft.cautions.append("No spare is counted here: one more of the same dye lot is a good thing to have.")
    return draft


def _lengths(query: Query, yarn: Yarn) -> Needs:
    """The need as lengths; a Refusal first where there is no need, or no put-up to count it in."""
    if not any(colour.amounts for colour in query.colours):
        raise unclear("Skeins for how much? Type for example: how many 210 yd skeins for 1200 yd?")
    picked = query.pick is not None and query.pattern.put_up  # how many in size 3: those of the list, and their length
    if not (query.yarns or picked or yarn.price) and all(row.unit == "skein" for row in query.amounts):
        raise unclear("That is in skeins already. In which yarn? Type for example: in DK, 230 yd a skein.")
    if not yarn.put_up:
        buying.ask_for_put_up(yarn, "skeins", "m")
    return needs(_weighed_by_its_own_label(query, yarn))


def _yarn(query: Query) -> Yarn:
    """The yarn whose skeins are counted: the one wanted, else the pattern's own."""
    if len(query.yarns) > 1:
        raise unclear(
            "Skeins of which yarn? Several were named. Type for example: how many 210 yd skeins of DK for 900 yd?"
        )
    if not query.yarns:
        return query.pattern
    wanted = query.yarns[0]
    labels = [label.length for label in (query.pattern.put_up, wanted.put_up) if label and label.length]
    lengths = [row.unit != "skein" and is_length(row.unit) for row in query.amounts]
    if len(set(labels)) > 1 and all(lengths) and not query.pattern.weight_class:
        raise unclear(f"Skeins of {' or of '.join(str(label) for label in labels)}? Ask with one of them.")
    return wanted if wanted.put_up else replace(wanted, put_up=_bought_as(query))


def _bought_as(query: Query) -> PutUp | None:
    """The pattern's put-up, where only one was said and the pattern's amount does not need it."""
    by_count = any(series.unit == "skein" for series in query.amounts)
    one_yarn = not query.pattern.weight_class or query.pattern.weight_class == query.yarns[0].weight_class
    return None if by_count or not one_yarn else query.pattern.put_up


def _weighed_by_its_own_label(query: Query, yarn: Yarn) -> Query:
    """A mass of the very yarn that is bought goes by its label, where the pattern's yarn has none."""
    by_count = any(series.unit == "skein" for series in query.amounts)
    if by_count or query.pattern != Yarn():
        return query
    return replace(query, pattern=Yarn(put_up=yarn.put_up))


ABILITY = Ability(
    name="skeins",
    summary="Count the whole skeins a length or a mass comes to, and the spare.",
    examples=(
        "how many 210 yd skeins for 1200 yd?",
        "960 m, 50 g/120 m balls at £4.20: what do I buy?",
        "650 g of yarn, in 100 g hanks?",
        "MC 860 yd and CC 190 yd, 174 yd a skein",
    ),
    frames=(
        Frame(45, slots=("need.length", "yarn.put_up|pattern.put_up"), without=("need.count", "measure")),
        Frame(45, slots=("need.length", "several_colours", "yarn.put_up|pattern.put_up"), without=("measure",)),
        Frame(45, slots=("need.mass", "yarn.put_up|pattern.put_up"), cues=("how_many", "cost")),
        Frame(45, slots=("need.count", "yarn.put_up"), without=("measure",)),
        Frame(43, slots=("by_mass",), without=("measure", "stash", "used")),
        Frame(
            49,
            slots=("need.count", "yarn.put_up|pattern.put_up", "yarn.price|pattern.price"),
            cues=("cost",),
            without=("stash", "enough"),
        ),
        Frame(45, slots=("need.count", "pattern.put_up", "pattern.price"), without=("measure", "yarn", "stash")),
        Frame(42, slots=("need.count", "yarn.price|pattern.price"), without=("yarn.weight_class", "stash")),
        Frame(44, slots=("need",), cues=("how_many", "cost"), without=("measure",)),
        Frame(
            46, slots=("need.count", "pick", "pattern.put_up"), cues=("how_many",), without=("yarn", "stash", "measure")
        ),
        Frame(46, slots=("need.length", "yarn.put_up|pattern.put_up"), cues=("skeins",), without=("stash",)),
    ),
    uses=frozenset(
        {
            *(f"pattern.{slot}" for slot in ("name", "weight_class", "put_up", "gauge", "strands", "needle", "price")),
            *(f"yarn.{slot}" for slot in ("name", "weight_class", "put_up", "gauge", "strands", "needle", "price")),
            *("need", "sizes", "pick", "same_gauge", "spares", "extra", "want"),
        }
    ),
    answer=answer,
    talk=Talk(carries="ask.how_many", of_one_yarn=True, starts=True),
)
