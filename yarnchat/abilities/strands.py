"""Strands: what yarns held together come to, and how many strands of one make another weight."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from statistics import fmean

from yarnchat.abilities import buying, sanity
from yarnchat.abilities.base import Ability, Context, Draft, Frame, Talk
from yarnchat.abilities.clues import metres_per_100_g
from yarnchat.abilities.known_densities import called
from yarnchat.abilities.needs import needs
from yarnchat.abilities.remembered import memory
from yarnchat.answers import Amount, Part
from yarnchat.fabric.grist import convert
from yarnchat.fabric.identify import by_grist
from yarnchat.fabric.strands import combined_grist
from yarnchat.knowledge.classes import weight_class
from yarnchat.quantity import number
from yarnchat.queries import Query, Yarn
from yarnchat.refusals import unclear

EXAMPLE = "Type for example: two strands of 400 m/100 g fingering together, or: how many strands of lace make a DK?"
SWATCH = "Published tables overlap and yarns differ: swatch with the strands held together."
PER_4_IN = "sts to 4 in"


@dataclass(frozen=True, slots=True)
class Strand:
    """A yarn held with others: how often, its length per mass in m/100 g, and where that came from."""

    name: str
    count: int
    grist: float
    source: str


def answer(query: Query, context: Context) -> Draft:
    """The combined length per mass, its classes and expected gauge; or how many strands make a weight."""
    sanity.sane(query)
    known = memory(context)
    yarns = [known.complete(yarn) for yarn in _said(query)]
    if not yarns:
        raise unclear(f"Which yarns are held together? {EXAMPLE}")
    if len(query.yarns) > 1 and query.colours and query.pattern.weight_class:
        one, other = (called(yarn) or str(yarn) for yarn in query.yarns[:2])
        raise unclear(
            f"Held together, {one} and {other} are one thick yarn, and each takes its whole length. "
            f"Ask what they make, as in: {one} and {other} held together; "
            f"or for each alone, as in: how many skeins of {one} for 1100 m?"
        )
    if len(yarns) == 1 and (yarns[0].strands or 1) == 1:
        raise unclear(f"How many strands, or to make which weight? {EXAMPLE}")
    if len(yarns) == 2 and _one_to_make_the_other(query, yarns):
        target, strand = yarns if query.pattern != Yarn() else reversed(yarns)
        return _how_many(strand, target, _rate(query))
    return _together(yarns, query)


def _said(query: Query) -> tuple[Yarn, ...]:
    """The yarns that may be held together; a pattern's weight beside counted strands is not one of them."""
    pattern = query.pattern
    if pattern == Yarn():
        return query.yarns
    counted = any((yarn.strands or 1) > 1 for yarn in query.yarns)
    if counted and pattern.strands is None:
        if pattern.put_up:
            raise unclear(f"Is {called(pattern) or pattern.put_up} held with them too? Say how many strands of it.")
        return query.yarns
    return (pattern, *query.yarns)


def _one_to_make_the_other(query: Query, yarns: Sequence[Yarn]) -> bool:
    """Whether strands of one are to make the other; a Refusal where they may as well be held together."""
    labelled = all(yarn.put_up for yarn in yarns)
    beside = labelled and query.pattern == Yarn()
    if query.want == "strands" or ({yarn.strands for yarn in yarns} == {1, None} and not beside):
        return True
    if labelled or any(yarn.strands for yarn in yarns):
        return False
    one, other = (called(yarn) or str(yarn) for yarn in yarns)
    raise unclear(
        f"Are {one} and {other} held together, or is one to be made of the other? "
        f"Type for example: 2 strands of {one} together, or: how many strands of {other} make {one}?"
    )


def _rate(query: Query) -> str:
    """The unit of length per mass to answer in, as the first label has it: m/100 g, yd/100 g or yd/lb."""
    labels = [yarn.put_up for yarn in (*query.yarns, query.pattern) if yarn.put_up]
    if not labels or not labels[0].length or labels[0].length.unit != "yd":
        return "m/100 g"
    by_the_pound = labels[0].mass is not None and labels[0].mass.unit == "lb"
    return "yd/lb" if by_the_pound else "yd/100 g"


def _strand(yarn: Yarn) -> Strand:
    """A yarn's length per mass by its label, else the usual one of its class."""
    buying.sound_label(yarn.put_up)
    metres = metres_per_100_g(yarn.put_up)
    name = called(yarn) or "yarn"
    count = yarn.strands or 1
    if metres:
        return Strand(name, count, metres, str(yarn.put_up))
    if not yarn.weight_class:
        raise unclear(f"What weight, or what length per mass, is {called(yarn) or 'the yarn'}? {EXAMPLE}")
    usual = usual_grist(yarn.weight_class)
    return Strand(name, count, usual, f"{number(usual)} m/100 g, middle of the published tables for {name}")


def usual_grist(key: str) -> float:
    """m per 100 g in the middle of a class, the mean of the tables; a Refusal where none has the class."""
    spans = [span for span in weight_class(key).grist if span.low is not None and span.high is not None]
    spans = spans or list(weight_class(key).grist)
    if not spans:
        raise unclear(f"No table gives a length per mass for {weight_class(key).label}. {EXAMPLE}")
    return fmean(span.middle for span in spans)


def _together(yarns: Sequence[Yarn], query: Query) -> Draft:
    """Yarns held together: the length per mass of the whole, and the classes that has."""
    total = sum(yarn.strands or 1 for yarn in yarns)
    amounts = any(colour.amounts for colour in query.colours)
    if amounts and not any(yarn.weight_class or yarn.put_up for yarn in yarns):
        draft = Draft(cautions=[SWATCH])
        _length(draft, total, query)
        return draft
    strands = [_strand(yarn) for yarn in yarns]
    grist = combined_grist(strand.grist for strand in strands for _ in range(strand.count))
    draft = Draft(cautions=[SWATCH])
    terms = " + ".join(f"{strand.count}/{number(strand.grist)}" for strand in strands)
    draft.working = [f"{strand.count} × {strand.name}: {strand.source}" for strand in strands]
    draft.working.append(f"1 / ({terms}) = {number(grist)} m/100 g (their tex add up)")
    rate = _rate(query)
    labels = _describe(draft, grist, rate)
    said = f"{number(convert(grist, 'm/100 g', rate))} {rate}"
    draft.headline = f"{total} strands together are like one yarn of {said}: {' or '.join(labels)}."
    if query.pattern.weight_class and query.pattern not in yarns:
        wanted = weight_class(query.pattern.weight_class)
        stands = "can stand for" if wanted.label in labels else "hardly stand for"
        draft.headline += f" They {stands} {called(query.pattern)}."
    if amounts:
        _length(draft, total, query)
    return draft


def _describe(draft: Draft, grist: float, rate: str) -> list[str]:
    """Grist, classes and the gauge of the nearest class; the labels of the classes."""
    found = by_grist(grist)
    labels = [row.weight_class.label for row in found]
    nearest = found[0].weight_class
    draft.figures["grist"] = Amount(value=convert(grist, "m/100 g", rate), unit=rate)
    draft.figures["weight_class"] = labels
    draft.figures["gauge"] = Amount(
        value=nearest.mid_gauge, unit=PER_4_IN, low=nearest.gauge_low, high=nearest.gauge_high
    )
    draft.working.append(found[0].reason)
    draft.working.append(f"gauge to expect: {nearest.gauge} {PER_4_IN} ({nearest.label}, {nearest.gauge_source})")
    return labels


def _length(draft: Draft, total: int, query: Query) -> None:
    """All strands together, for an amount said as the length of the fabric's one thick strand."""
    need = needs(query)
    if len(need.colours) > 1:
        raise unclear("Which colour is it? Ask for one colour at a time.")
    lengths = [size.times(total) for size in need.colours[0].sizes]
    if need.sizes:
        draft.sizes = [
            Part(name=name, figures={"length": length.figure(need.unit)})
            for name, length in zip(need.sizes, lengths, strict=True)
        ]
    else:
        draft.figures["length"] = lengths[0].figure(need.unit)
    first = need.colours[0].sizes[0]
    one, every = (f"{number(value)} {need.unit}" for value in (first.value, lengths[0].value))
    draft.working.append(f"{one} × {total} strands = {every}")
    draft.headline = f"{draft.headline} {one} of it takes {every} of yarn in all.".strip()


def _how_many(yarn: Yarn, wanted: Yarn, rate: str) -> Draft:
    """Strands of one yarn that make another: by its length per mass, else all that its class allows."""
    strand = _strand(yarn)
    counts = _counts(strand, wanted)
    draft = Draft(cautions=[SWATCH], working=[f"{strand.name}: {strand.source}"])
    for count in counts:
        combined = f"{number(strand.grist)} / {count} = {number(strand.grist / count)} m/100 g"
        draft.working.append(f"{count} strand{'' if count == 1 else 's'}: {combined}")
    said = " or ".join(str(count) for count in counts)
    target = called(wanted) or str(wanted.put_up)
    draft.headline = f"{said} strand{'' if counts == [1] else 's'} of {strand.name} together make {target}."
    if len(counts) == 1:
        draft.figures["strands"] = counts[0]
        _describe(draft, strand.grist / counts[0], rate)
    else:
        draft.figures["strands"] = [str(count) for count in counts]
        draft.cautions.insert(0, f"{counts[0]} make a light {target}, {counts[-1]} a heavy one.")
    return draft


def _counts(strand: Strand, wanted: Yarn) -> list[int]:
    """How many strands come to a yarn: nearest to its label, else all that a table of its class holds."""
    metres = metres_per_100_g(wanted.put_up)
    if metres:
        return [max(1, round(strand.grist / metres))]
    if not wanted.weight_class:
        raise unclear(f"What weight are the strands to make? {EXAMPLE}")
    spans = weight_class(wanted.weight_class).grist
    every = range(1, sanity.STRANDS + 1)
    held = [count for count in every if any(span.holds(strand.grist / count) for span in spans)]
    usual = usual_grist(wanted.weight_class)
    if not held and strand.grist < usual:
        raise unclear(f"{strand.name} is thicker than {called(wanted)}: no number of its strands makes that. {EXAMPLE}")
    return held or [max(1, round(strand.grist / usual))]


def _all_labelled(query: Query, _cues: frozenset[str]) -> bool:
    """Whether several yarns are told, each with its label."""
    return len(query.yarns) > 1 and all(yarn.put_up for yarn in query.yarns)


ABILITY = Ability(
    name="strands",
    summary="Say what yarns held together come to, or how many strands make a weight.",
    examples=(
        "two strands of 400 m/100 g fingering together: what weight is that?",
        "a DK (220 m/100 g) and a lace (800 m/100 g) held together",
        "how many strands of fingering make an aran?",
    ),
    frames=(
        Frame(72, slots=("need", "several_yarns"), cues=("strands",), without=("compare",)),
        Frame(38, cues=("strands",)),
        Frame(38, slots=("yarn.strands",), without=("need", "stash", "used", "measured")),
        Frame(34, slots=("pattern.strands",), cues=("identify",), without=("need", "stash", "used", "measured")),
    ),
    uses=frozenset(
        {
            *("pattern.name", "pattern.weight_class", "pattern.put_up", "pattern.strands"),
            *("yarn.name", "yarn.weight_class", "yarn.put_up", "yarn.strands"),
            *("need", "sizes", "pick", "extra", "want"),
        }
    ),
    answer=answer,
    talk=Talk(alone=_all_labelled, carries="ask.strands", counts=False),
)
