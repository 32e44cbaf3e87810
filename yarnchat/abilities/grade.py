"""Grade: yarn for other sizes from one size that was knitted or is known."""

from __future__ import annotations

from dataclasses import dataclass, replace

from yarnchat.abilities.base import Ability, Context, Draft, Frame, Talk
from yarnchat.abilities.buying import ONE_LOT, and_spares, basket, headline_of_several, in_unit
from yarnchat.abilities.needs import Estimate, Need, Needs, counts, masses, needs
from yarnchat.abilities.remembered import memory
from yarnchat.abilities.sanity import positive, sane, total
from yarnchat.answers import Figures, Part
from yarnchat.fabric import sizes
from yarnchat.fabric.skeins import whole_skeins
from yarnchat.quantity import Quantity, is_length, number
from yarnchat.queries import Colour, Grading, Query, Series, Yarn
from yarnchat.refusals import refused, unclear

EXAMPLE = "Type for example: the 38 in took 1050 yd; what do 34 in and 42 in take?"
SKEIN = "skein"
"""The unit of an amount told as a number of skeins, whatever is on them."""
TIMES_LARGER = 4.0
"""Chests further apart than this are not sizes of one pattern (common practice, no source)."""


TIMES_THE_AREA = 50.0
"""Flat pieces further apart than this are not scaled from each other (common practice, no source)."""
PIECES = "Type for example: a blanket 60 x 80 cm took 310 m; how much for 90 x 120 cm?"
ONE_MEASURE = {"rectangle": 1}
"""The power of the one measure that differs: a scarf gets longer at the same width; other shapes grow both ways."""


@dataclass(frozen=True, slots=True)
class Size:
    """One size asked for: its name and what the sample's yarn is multiplied by."""

    name: str
    factor: sizes.Grade
    step: str


def answer(query: Query, context: Context) -> Draft:
    """One yarn length a size: by chest × length, else between chest and chest squared."""
    sane(query)
    grading = query.grading
    if not grading or not grading.chests:
        raise unclear(f"Which sizes? Their chests are missing. {EXAMPLE}")
    if not grading.sample_chest:
        raise unclear(f"What is the chest of the size that is known? {EXAMPLE}")
    known = memory(context)
    yarn = known.complete(_yarn(query))
    one = replace(query, pattern=yarn, colours=_known(query), sizes=(), pick=None)
    sample = masses(one) if not (yarn.put_up and yarn.put_up.length) else None
    counted = yarn.put_up is None and yarn.price is None and query.want in (None, "skeins")
    sample = sample or (counts(one) if counted else None) or needs(one)
    if sample.sizes:
        raise unclear(f"Which one of the sizes took that much? {EXAMPLE}")
    asked = _sizes(grading, grading.sample_chest)
    spares = known.spares_for(query)
    return _draft(query, sample, asked, yarn, spares)


def _known(query: Query) -> tuple[Colour, ...]:
    """What the sample took: as a need, else as what was used for it."""
    if query.colours:
        return query.colours
    if len(query.used) > 1:
        raise unclear(f"Which of those amounts did the size that is known take? {EXAMPLE}")
    return tuple(Colour("", (Series((held.amount,), held.unit),)) for held in query.used)


def _yarn(query: Query) -> Yarn:
    """The yarn of the sample; other sizes are knit in the same."""
    pattern = query.pattern
    if not query.yarns:
        held = [held.yarn for held in query.used if held.yarn.put_up]
        return held[0] if held and not pattern.put_up else pattern
    yarn = query.yarns[0]
    other = yarn.weight_class and pattern.weight_class and yarn.weight_class != pattern.weight_class
    if len(query.yarns) > 1 or other:
        raise unclear(
            "Other sizes and another yarn are two questions: ask for the sizes first, then swap the yarn. " + EXAMPLE
        )
    return yarn


def _sizes(grading: Grading, chest: Quantity) -> list[Size]:
    """What each size takes of the sample."""
    if grading.lengths and (len(grading.lengths) != len(grading.chests) or not grading.sample_length):
        raise unclear(f"Give the length of every size and of the one that is known, or of none. {EXAMPLE}")
    measures = (chest, grading.sample_length, *grading.chests, *grading.lengths)
    for measure in measures:
        if measure:
            positive(measure.value, measure.unit)
    if grading.piece:
        return _pieces(grading, chest)
    lengths = grading.lengths or (None,) * len(grading.chests)
    return [_size(chest, grading.sample_length, *size) for size in zip(grading.chests, lengths, strict=True)]


def _pieces(grading: Grading, side: Quantity) -> list[Size]:
    """Flat pieces: by width × length, or by the one measure that differs."""
    if grading.sample_length and not grading.lengths:
        raise unclear(f"What are both sides of the other piece? {PIECES}")
    power = ONE_MEASURE.get(grading.piece, 2)
    found = []
    for place, other in enumerate(grading.chests):
        ratio = other.to(side.unit).value / side.value
        name, step = str(other), f"({other} / {side})" + (f"^{power}" if power > 1 else "")
        if grading.lengths and grading.sample_length:
            long = grading.lengths[place]
            ratio *= long.to(grading.sample_length.unit).value / grading.sample_length.value
            name = f"{number(other.value)} × {long}" if other.unit == long.unit else f"{other} × {long}"
            step = f"{other} × {long} / ({side} × {grading.sample_length})"
        else:
            ratio **= power
        if not 1 / TIMES_THE_AREA <= ratio <= TIMES_THE_AREA:
            raise refused(f"{name} is too far from the piece that is known to be worked out from it.")
        found.append(Size(name, sizes.Grade(ratio, ratio, ratio), f"{name}: {step} = × {ratio:.3f}"))
    return found


def _size(chest: Quantity, length: Quantity | None, other: Quantity, other_length: Quantity | None) -> Size:
    ratio = other.to(chest.unit).value / chest.value
    if not 1 / TIMES_LARGER <= ratio <= TIMES_LARGER:
        raise refused(f"Chests of {chest} and {other} cannot be sizes of one pattern.")
    if length is None or other_length is None:
        found = sizes.grade(chest.value, None, other.to(chest.unit).value, None)
        ends = f"between {found.low:.3f} and {found.high:.3f}"
        step = f"{other}: ({other} / {chest})^1.5 = × {found.value:.3f}, {ends}"
    else:
        long = other_length.to(length.unit).value
        found = sizes.grade(chest.value, length.value, other.to(chest.unit).value, long)
        step = f"{other}: {other} × {other_length} / ({chest} × {length}) = × {found.value:.3f}"
    return Size(str(other), found, step)


def _draft(query: Query, sample: Needs, asked: list[Size], yarn: Yarn, spares: int) -> Draft:
    """The figures of every size asked, colour by colour, with the factors they come from."""
    unit = in_unit(sample.unit, query.want)
    parts = [
        Part(name=need.name, sizes=[_part(need, size, sample.unit, unit, yarn, spares) for size in asked])
        for need in sample.colours
    ]
    draft = Draft()
    if len(parts) == 1:
        draft.sizes = parts[0].sizes
        draft.figures = dict(draft.sizes[0].figures) if len(asked) == 1 else {}
    else:
        draft.colours = parts
    draft.headline = _headline(sample.colours[0], asked, sample.unit, unit, yarn, spares)
    draft.working = [*sample.working, *(size.step for size in asked)]
    if any(size.factor.low != size.factor.high for size in asked):
        draft.cautions.append(
            "With chests alone the range runs from chest to chest squared; give lengths to narrow it."
        )
    if yarn.put_up and yarn.put_up.length and is_length(unit):
        draft.cautions.append(ONE_LOT)
    draft.cautions.append(_estimates(query.grading))
    return draft


def _estimates(grading: Grading | None) -> str:
    if not grading or not grading.piece:
        return "Estimates: sleeves, ease and shaping may grade otherwise."
    if grading.lengths or grading.piece not in ONE_MEASURE:
        return "Estimates: by area, at the same gauge; a border or a fringe may take more or less."
    return "Estimates: at the same width and gauge; a border or a fringe may take more or less."


def _estimate(need: Need, size: Size, unit: str, into: str) -> Estimate:
    """What a size takes, in the unit wanted."""
    found = need.sizes[0].times(size.factor.value, size.factor.low, size.factor.high)
    return found.times(Quantity(1, unit).to(into).value)


def _part(need: Need, size: Size, unit: str, into: str, yarn: Yarn, spares: int) -> Part:
    found = _estimate(need, size, unit, into)
    if into == SKEIN:
        return Part(name=size.name, figures={"skeins": whole_skeins(found.value, 1), "spare": spares})
    if not is_length(into):
        figures: Figures = {"mass": found.figure(into)}
        return Part(name=size.name, figures=figures)
    total(Quantity(found.value, into))
    return Part(name=size.name, figures=basket(found, into, yarn, spares).figures())


def _headline(need: Need, asked: list[Size], unit: str, into: str, yarn: Yarn, spares: int) -> str:
    found = [(size.name, _estimate(need, size, unit, into)) for size in asked]
    if into == SKEIN:
        each = ", ".join(f"{name}: {whole_skeins(size.value, 1)}" for name, size in found)
        return f"Of the same yarn buy, in skeins,{and_spares(spares) or ' no spare'} for each besides: {each}."
    if not is_length(into) or not (yarn.put_up and yarn.put_up.length and yarn.put_up.per_skein):
        each = ", ".join(f"{name} about {number(size.value)} {into}" for name, size in found)
        return f"By the size that is known: {each}."
    return headline_of_several([(name, basket(size, into, yarn, spares)) for name, size in found], yarn.name or "")


ABILITY = Ability(
    name="grade",
    summary="Estimate the yarn for other sizes from one size.",
    examples=(
        'the 38" took 1050 yd: what do 34", 42" and 46" take?',
        "size 92 cm chest, 60 cm long, used 900 m; how much for 100 cm chest, 62 cm long?",
        "my 40 in sweater took 6 skeins of 200 yd; how many for 36 in and 44 in?",
    ),
    frames=(
        Frame(81, slots=("grading",), without=("progress",)),
        Frame(75, slots=("grading",)),
        Frame(20, cues=("grade",)),
    ),
    uses=frozenset({"grading", "need", "used", "pattern", "yarn", "sizes", "spares", "want", "several_colours"}),
    answer=answer,
    talk=Talk(carries="ask.grade", anew=True),
)
