"""Measure: the length of a mass of yarn, or the mass of a length, by its put-up."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from yarnchat.abilities import buying, sanity
from yarnchat.abilities.base import EVERYTHING, Ability, Context, Draft, Frame, Talk
from yarnchat.abilities.needs import ROUNDED_UP, Needs, masses, needs
from yarnchat.abilities.remembered import Memory, memory
from yarnchat.answers import Amount, Figures, Part
from yarnchat.quantity import LENGTHS, MASSES, Quantity, is_length, number
from yarnchat.queries import Holding, PutUp, Query, Series, Yarn
from yarnchat.refusals import refused, unclear

EXAMPLE = "Type for example: how long is 37 g of a yarn of 420 yd/100 g?"
SAME_YARN = "By the label: a skein may hold a few percent more or less."


@dataclass(frozen=True, slots=True)
class Wanted:
    """What is asked for: a length or a mass, and its unit where one was said."""

    kind: str
    """"length", "mass", or "" for the other of what was given."""
    unit: str | None = None


def answer(query: Query, context: Context) -> Draft:
    """Length from mass, or mass from length: of what was held, else of each size of the pattern."""
    sanity.sane(query)
    known = memory(context)
    wanted = _wanted(query.want)
    held = _held(query)
    if query.rest:
        return _rest_of(held, query, wanted, known)
    if held:
        return _of_holdings(held, query, wanted, known)
    if any(colour.amounts for colour in query.colours):
        return _of_pattern(query, wanted, known)
    raise unclear(f"How much of what yarn? {EXAMPLE}")


def convert(amount: Quantity, label: PutUp, unit: str) -> Quantity:
    """A length as a mass or a mass as a length by a label that gives both, or a plain change of unit."""
    if is_length(amount.unit) == is_length(unit):
        return amount.to(unit)
    assert label.length
    assert label.mass
    given, other = (label.length, label.mass) if is_length(amount.unit) else (label.mass, label.length)
    return Quantity(amount.value * other.to(unit).value / given.to(amount.unit).value, unit)


def _wanted(want: str | None) -> Wanted:
    if want in LENGTHS or want == "length":
        return Wanted("length", want if want in LENGTHS else None)
    if want in MASSES or want == "mass":
        return Wanted("mass", want if want in MASSES else None)
    return Wanted("")


def _held(query: Query) -> tuple[Holding, ...]:
    """What was weighed, measured or counted; a bare amount to convert counts too."""
    if query.stash and query.used:
        raise unclear("Measure what you have, or what you have used? Ask for one of them.")
    if query.stash or query.used:
        return query.stash or query.used
    if query.measured and query.measured.amount:
        amount = query.measured.amount
        sanity.positive(amount.value, amount.unit)
        return (Holding(amount.value, amount.unit),)
    return ()


def _label(yarns: Sequence[Yarn], known: Memory) -> PutUp | None:
    """The first put-up said or remembered of these yarns."""
    labels = list(dict.fromkeys(label for yarn in yarns if (label := known.complete(yarn).put_up)))
    if len(labels) > 1:
        raise unclear(f"By which label, {' or '.join(str(label) for label in labels)}? {EXAMPLE}")
    found = labels[0] if labels else None
    buying.sound_label(found)
    if found:
        sanity.put_up(found)
    return found


def _maybe_one_yarn(yarn: Yarn, others: Sequence[Yarn]) -> list[Yarn]:
    """A yarn with those beside it that are not of another weight."""
    classes = (None, yarn.weight_class) if yarn.weight_class else None
    return [yarn, *(other for other in others if classes is None or other.weight_class in classes)]


def _of_holdings(held: Sequence[Holding], query: Query, wanted: Wanted, known: Memory) -> Draft:
    """So much of one or several yarns in the measure wanted, and the sum of it."""
    draft = Draft(cautions=[SAME_YARN])
    total: Quantity | None = None
    for holding in held:
        others = () if len(held) > 1 and _wound(holding) else (*query.yarns, query.pattern)
        label = _label(_maybe_one_yarn(holding.yarn, others), known)
        amount = _amount(holding, label, wanted)
        unit = total.unit if total else _unit(amount, holding.unit == "skein", label, wanted)
        _ask_for_label(holding, amount, label, unit)
        found = convert(amount, label or PutUp(), unit)
        draft.working.append(_step(holding, amount, label, found))
        total = Quantity(total.value + found.value, unit) if total else found
    assert total
    if len(held) > 1:
        draft.working.append(f"{total} in all")
    draft.headline = f"{' and '.join(_said(holding) for holding in held)} {_is(held)} {total}."
    draft.figures[_kind(total.unit)] = Amount(value=total.value, unit=total.unit)
    return draft


def _wound(holding: Holding) -> bool:
    """Whether a number of skeins is told with the length on one of them."""
    put_up = holding.yarn.put_up
    return holding.unit == "skein" and put_up is not None and put_up.length is not None


def _rest_of(held: Sequence[Holding], query: Query, wanted: Wanted, known: Memory) -> Draft:
    """What is left of one skein where it is told how much is used, or the reverse: the whole less the part told."""
    label = _label((*query.both_sides, *(holding.yarn for holding in held)), known)
    part = Quantity(held[0].amount, held[0].unit)
    whole = label and (label.length if is_length(part.unit) else label.mass)
    if not label or not whole:
        raise unclear(f"What is on one skein? Its put-up is missing. {EXAMPLE}")
    sanity.positive(part.value, part.unit)
    rest = Quantity(whole.to(part.unit).value - part.value, part.unit)
    if rest.value < 0:
        raise refused(f"{part} is more than the {whole} of one skein. Say how many skeins there were.")
    told = "left" if query.rest == "used" else "used"
    other = label.length if wanted.kind == "length" or not is_length(part.unit) else label.mass
    unit = wanted.unit or (other or part).unit
    found = convert(rest, label, unit)
    working = [f"{whole} on a skein − {part} {told} = {rest} {query.rest}"]
    if found != rest:
        working.append(_step(Holding(rest.value, rest.unit), rest, label, found))
    said = f"{found} ({rest})" if found.unit != rest.unit else f"{found}"
    return Draft(
        headline=f"{said} {query.rest}.",
        figures={_kind(found.unit): Amount(value=found.value, unit=found.unit)},
        working=working,
        cautions=[SAME_YARN],
    )


def _amount(holding: Holding, label: PutUp | None, wanted: Wanted) -> Quantity:
    """A holding as a length or a mass; skeins as what is asked for, else their length."""
    if holding.unit != "skein":
        return Quantity(holding.amount, holding.unit)
    each = label and (label.mass if wanted.kind == "mass" else label.length or label.mass)
    if not each or not label or not label.per_skein:
        raise unclear(f"What is on one skein? Its put-up is missing. {EXAMPLE}")
    return Quantity(holding.amount * each.value, each.unit)


def _unit(amount: Quantity, skeins: bool, label: PutUp | None, wanted: Wanted) -> str:
    """As asked, else the label's unit, of the kind asked for, else of the kind not given."""
    if wanted.unit:
        return wanted.unit
    length = label.length.unit if label and label.length else "m"
    mass = label.mass.unit if label and label.mass else "g"
    if wanted.kind and (skeins or wanted.kind != _kind(amount.unit)):
        return length if wanted.kind == "length" else mass
    return mass if is_length(amount.unit) and not skeins else length


def _ask_for_label(holding: Holding, amount: Quantity, label: PutUp | None, unit: str) -> None:
    """A Refusal where a mass must become a length, or the reverse, and no label says how."""
    if is_length(amount.unit) == is_length(unit) or (label and label.length and label.mass):
        return
    raise unclear(f"{_said(holding)} of what yarn? Its length per mass is missing. {EXAMPLE}")


def _said(holding: Holding) -> str:
    if holding.unit == "skein":
        return buying.count_said(holding.amount)
    return f"{number(holding.amount)} {holding.unit}"


def _is(held: Sequence[Holding]) -> str:
    return "is" if len(held) == 1 and (held[0].unit != "skein" or held[0].amount <= 1) else "are"


def _kind(unit: str) -> str:
    return "length" if is_length(unit) else "mass"


def _step(holding: Holding, amount: Quantity, label: PutUp | None, found: Quantity) -> str:
    terms = _said(holding)
    if label and holding.unit == "skein":
        terms += f" × {label.length if is_length(amount.unit) else label.mass}"
    if label and is_length(amount.unit) != is_length(found.unit):
        top, bottom = (label.mass, label.length) if is_length(amount.unit) else (label.length, label.mass)
        terms += f" × {top} / {bottom}"
    return f"{terms} = {found}"


def _of_pattern(query: Query, wanted: Wanted, known: Memory) -> Draft:
    """Every size and colour of the pattern in the kind of amount that it does not give."""
    label = _label(query.both_sides, known)
    series = query.amounts
    given = series[0].unit
    if query.want == "skeins" and given == "skein":
        raise unclear("That is in skeins already. In which yarn? Type for example: in DK, 230 yd a skein.")
    by_skein = given == "skein"
    as_asked = bool(wanted.unit) or (wanted.kind and (by_skein or wanted.kind != _kind(given)))
    as_mass = wanted.kind == "mass" if as_asked else not by_skein and is_length(given)
    asked = wanted.unit or ("" if wanted.kind == "mass" else given)
    if wanted.kind and asked and all(row.unit != "skein" and _kind(row.unit) == wanted.kind for row in series):
        need = needs(query)
        told = [[Quantity(size.value, need.unit) for size in colour.sizes] for colour in need.colours]
        found = [[convert(one, label, asked) if label else one.to(asked) for one in sizes] for sizes in told]
        return _shown(Draft(), need, found, asked)
    if by_skein and as_mass and label and label.mass and not label.length:
        return _skeins_weighed(query, label.mass, wanted)
    if not label or not label.length or not (label.mass or (given == "skein" and not as_mass)):
        raise unclear(f"{series[0]} of what yarn? Its put-up is missing. {EXAMPLE}")
    need = needs(replace(query, pattern=replace(query.pattern, put_up=label)))
    unit = wanted.unit or ((label.mass or label.length).unit if as_mass else need.unit)
    draft = Draft(cautions=[SAME_YARN], working=[line.removesuffix(ROUNDED_UP) for line in need.working])
    rows = [[convert(Quantity(size.value, need.unit), label, unit) for size in colour.sizes] for colour in need.colours]
    first = need.colours[0].sizes[0]
    step = f"{number(first.value)} {need.unit}"
    if as_mass:
        draft.working.append(f"{step} × {label.mass} / {label.length} = {rows[0][0]}")
    elif unit != need.unit:
        draft.working.append(f"{step} = {rows[0][0]}")
    return _shown(draft, need, rows, unit)


def _skeins_weighed(query: Query, each: Quantity, wanted: Wanted) -> Draft:
    """``what do 5 balls of 50 g weigh?``: so many times the mass of one."""
    colours = tuple(
        replace(
            colour,
            amounts=tuple(Series(tuple(n * each.value for n in row.values), each.unit) for row in colour.amounts),
        )
        for colour in query.colours
    )
    weighed = masses(replace(query, colours=colours))
    if weighed is None:
        raise unclear(f"How many skeins, and what does one weigh? {EXAMPLE}")
    unit = wanted.unit or each.unit
    rows = [[Quantity(size.value, each.unit).to(unit) for size in colour.sizes] for colour in weighed.colours]
    return _shown(Draft(working=[f"{query.amounts[0]} × {each} = {rows[0][0]}"]), weighed, rows, unit)


def _shown(draft: Draft, need: Needs, rows: list[list[Quantity]], unit: str) -> Draft:
    """The draft with its figures: one amount, one for each size, or for each colour its sizes."""
    if len(rows) > 1:
        for colour, row in zip(need.colours, rows, strict=True):
            sizes = _parts(need.sizes, row)
            draft.colours.append(Part(name=colour.name, figures={} if sizes else _figures(row[0]), sizes=sizes))
        each = [
            f"{colour.name} {', '.join(number(found.value) for found in row)}"
            for colour, row in zip(need.colours, rows, strict=True)
        ]
        draft.headline = f"In {unit}: {'; '.join(each)}."
        if not need.sizes:
            total = Quantity(sum(found.value for row in rows for found in row), unit)
            draft.figures = _figures(total)
            draft.headline = f"In {unit}: {'; '.join(each)}; {total} in all."
    elif need.sizes:
        [row] = rows
        draft.sizes = _parts(need.sizes, row)
        each = [f"{name} {number(found.value)}" for name, found in zip(need.sizes, row, strict=True)]
        draft.headline = f"In {unit}: {', '.join(each)}."
    else:
        found = rows[0][0]
        draft.figures = _figures(found)
        draft.headline = f"That is {found}."
    return draft


def _parts(names: Sequence[str], row: list[Quantity]) -> list[Part]:
    return [Part(name=name, figures=_figures(found)) for name, found in zip(names, row, strict=False)]


def _figures(found: Quantity) -> Figures:
    return {_kind(found.unit): Amount(value=found.value, unit=found.unit)}


ANY_LABEL = "yarn.put_up|pattern.put_up|stash.put_up"

ABILITY = Ability(
    name="measure",
    summary="Tell the length of a mass of yarn, or the mass of a length, from its label.",
    examples=(
        "how long is 37 g of a 420 yd/100 g yarn?",
        "what does 180 yd of a 231 yd/100 g yarn weigh?",
        "62 (74, 88) g of sock, 420 m/100 g: metres per size?",
        "how many metres are three and a half balls of 50 g/115 m?",
    ),
    frames=(
        Frame(48, slots=("need", ANY_LABEL), cues=("measure",), without=("stash", "skeins")),
        Frame(48, slots=("stash|used|measured", ANY_LABEL), cues=("measure",), without=("need",)),
        Frame(
            52,
            slots=("need.length", "yarn.put_up", "want"),
            cues=("measure",),
            without=("stash", "skeins", "how_many", "yarn.weight_class", "yarn.name", "yarn.gauge", "pattern.put_up"),
        ),
        Frame(
            45,
            slots=("need.count", "pattern.put_up"),
            without=("need.length", "need.mass", "yarn", "stash", "stash.changed", "pattern.price"),
        ),
        Frame(82, slots=("rest",)),
        Frame(40, slots=("stash|used|need.mass|measured", ANY_LABEL), without=("several_yarns", "stash.changed")),
        Frame(40, slots=("stash|used|need|measured",), cues=("measure",)),
        Frame(
            41, slots=("need.length|need.mass", "several_sizes", "want"), cues=("convert",), without=("yarn", "piece")
        ),
    ),
    uses=frozenset(
        {
            *(f"pattern.{slot}" for slot in ("name", "weight_class", "put_up", "gauge", "needle")),
            *(f"yarn.{slot}" for slot in ("name", "weight_class", "put_up", "gauge", "needle")),
            *("need", "sizes", "pick", "stash", "used", "rest", "measured", "want"),
        }
    ),
    answer=answer,
    talk=Talk(
        carries="ask.measure",
        of_one_yarn=True,
        of_lengths=True,
        of_hers=True,
        heeds=EVERYTHING | {"measures left aside"},
    ),
)
