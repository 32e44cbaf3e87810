"""Piece: yarn for a shape of given size, or how long a straight piece so much yarn makes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import pi

from yarnchat.abilities.base import Ability, Context, Draft, Frame, Talk
from yarnchat.abilities.buying import ESTIMATES, ONE_LOT, Basket, basket, headline, in_unit, steps
from yarnchat.abilities.conversion_ratio import label_doubts
from yarnchat.abilities.known_densities import density, density_of_the_swatch, short_source
from yarnchat.abilities.needs import Estimate, exactly, needs
from yarnchat.abilities.remembered import Memory, memory
from yarnchat.abilities.sanity import positive, sane, total
from yarnchat.abilities.swatch_scaled import by_its_mass
from yarnchat.answers import Amount
from yarnchat.fabric.densities import Density
from yarnchat.fabric.ratios import MODEL_DEFAULT, MODEL_GAUGE
from yarnchat.fabric.shapes import SHAPES, SWATCH_ALLOWANCE, area, measures_of, reach, rib_factor, yarn_length
from yarnchat.fabric.uncertainty import combined, expanded
from yarnchat.knowledge.classes import name_caution, weight_class
from yarnchat.knowledge.ribs import ribs
from yarnchat.quantity import IMPERIAL, LENGTHS, Quantity, factor, number, to_figures
from yarnchat.queries import Holding, Piece, PutUp, Query, Swatch, Yarn
from yarnchat.refusals import Refusal, refused, unclear

ACROSS = {"radius": 2, "circumference": 1 / pi}
"""Diameters of a circle in another of its measures."""

LARGEST = Quantity(100, "m")
"""A measure beyond any hand-knit (common practice, no source)."""

OUT_OF_ROUND = 0.1
"""A half circle's depth may miss half its width by this share (common practice, no source)."""

EXAMPLE = "Type for example: a scarf 8 by 70 in in worsted, 210 yd a skein."


@dataclass(frozen=True, slots=True)
class Fabric:
    """Yarn per area, cm per cm² and all strands, its relative uncertainty, and how it came about."""

    density: float
    u: float
    working: tuple[str, ...]
    default: bool

    def metres(self, square_cm: float) -> Estimate:
        """Yarn in m for an area, with its range."""
        value = yarn_length(self.density, square_cm)
        half = value * expanded(self.u)
        return Estimate(value, max(value - half, 0), value + half)


@dataclass(frozen=True, slots=True)
class Takes:
    """What a piece takes: the yarn it is knit in, its area, and lengths in ``unit`` with a swatch on top."""

    yarn: Yarn
    area: Amount
    piece: Estimate
    swatch: Estimate
    unit: str
    fabric: Fabric
    shape: str
    working: tuple[str, ...]

    @property
    def whole(self) -> Estimate:
        """The piece and the swatch before it."""
        return self.piece.plus(self.swatch)


def answer(query: Query, context: Context) -> Draft:
    """Yarn for a piece; or where a side is missing and yarn was said, the length of the piece."""
    sane(query)
    piece = _told(query)
    known = memory(context)
    yarn = _yarn(query, known)
    shape = _shape(piece)
    measures = _measures(piece, shape)
    missing = _missing(shape, measures)
    if not missing:
        return _by_the_swatch(query, known, yarn) or _needed(query, known, takes(query, known))
    held = _held(query, yarn)
    across = SHAPES[shape].across
    if held and missing == ["height"] and across in measures:
        return _reached(held, measures[across], _fabric(yarn, piece, known, query.swatch), yarn)
    if held and not measures and SHAPES[shape].of_area:
        return _largest(held, shape, _fabric(yarn, piece, known, query.swatch), yarn)
    raise _measure_missing(shape, missing)


def _by_the_swatch(query: Query, known: Memory, yarn: Yarn) -> Draft | None:
    """The mass of a piece by that of its swatch, where nothing says how long the yarn is and no length is asked."""
    swatch, piece = query.swatch, _told(query)
    lengthy = query.want in LENGTHS or query.want == "length"
    if swatch is None or lengthy or density_of_the_swatch(swatch, yarn, known) or piece.texture or piece.extra_percent:
        return None
    measures = _measures(piece, _shape(piece))
    square_cm = _square_cm(piece, measures)
    inches = next(iter(measures.values())).unit in IMPERIAL
    return by_its_mass(swatch, square_cm, _area(square_cm, inches), yarn, known.spares_for(query))


def _square_cm(piece: Piece, measures: dict[str, Quantity]) -> float:
    """The area of all that is knitted, in cm²."""
    return piece.count * area(piece.shape, {name: measure.to("cm").value for name, measure in measures.items()})


def takes(query: Query, known: Memory) -> Takes:
    """What the piece of a question takes; a Refusal where a measure of it, or its yarn, is not said."""
    piece = _told(query)
    yarn = _yarn(query, known)
    shape = _shape(piece)
    measures = _measures(piece, shape)
    if missing := _missing(shape, measures):
        raise _measure_missing(shape, missing)
    fabric = _fabric(yarn, piece, known, query.swatch)
    first = measures[SHAPES[shape].measures[0]]
    square_cm = _square_cm(piece, measures)
    inches = first.unit in IMPERIAL
    unit = in_unit(_unit(yarn.put_up, inches), query.want)
    rate = factor("m", unit)
    whole, swatch = (fabric.metres(size).times(rate) for size in (square_cm, SWATCH_ALLOWANCE))
    said = _area(square_cm, inches)
    sides = ", ".join(f"{_plain(name)} {measure}" for name, measure in measures.items())
    times = f"{piece.count} times " if piece.count > 1 else ""
    both = whole.plus(swatch)
    working = (
        f"{times}{shape}, {sides}: {number(said.value)} {said.unit.replace('^2', '²')}",
        *fabric.working,
        f"piece {to_figures(fabric.density, 4)} cm of yarn per cm² × area = {number(whole.value)} {unit}",
        f"swatch allowance 4 × 4 in: {number(swatch.value)} {unit}, with the piece {number(both.value)} {unit}",
    )
    return Takes(yarn, said, whole, swatch, unit, fabric, shape, working)


def _told(query: Query) -> Piece:
    if not query.piece:
        raise unclear(f"What shape and size is the piece? {EXAMPLE}")
    return query.piece


def _missing(shape: str, measures: dict[str, Quantity]) -> list[str]:
    return [name for name in SHAPES[shape].measures if name not in measures]


def _measure_missing(shape: str, missing: list[str]) -> Refusal:
    return unclear(f"What is the {' and '.join(_plain(name) for name in missing)} of the {shape}? {_like(shape)}")


def _like(shape: str) -> str:
    """How a piece of that shape is asked about."""
    known = SHAPES[shape]
    sizes = (f"{_plain(name)} {size:g} cm" for name, size in zip(known.measures, known.example, strict=True))
    return f"Type for example: how much DK for a {shape}, {', '.join(sizes)}?"


def _plain(name: str) -> str:
    return name.replace("_", " ")


def _yarn(query: Query, known: Memory) -> Yarn:
    """The yarn it is knit in, with what is remembered of it."""
    swatched = [query.swatch.yarn] if query.swatch else []
    yarns = (*query.yarns, query.pattern, *(held.yarn for held in query.stash), *swatched)
    said = [yarn for yarn in yarns if str(yarn)]
    if len(query.yarns) > 1:
        raise unclear("In which of those yarns? Type for example: a scarf 8 by 70 in in worsted.")
    return _wound_as(known.complete(said[0]), said[1:]) if said else Yarn()


def _wound_as(yarn: Yarn, others: Sequence[Yarn]) -> Yarn:
    """``how many 50 g balls?``, of a yarn of which 380 m/100 g were told: what is on a ball of that mass."""
    mass = yarn.put_up.mass if yarn.put_up and not yarn.put_up.length else None
    rates = [other.put_up for other in others if other.put_up and other.put_up.length and other.put_up.mass]
    if mass is None or not rates or not rates[0].length or not rates[0].mass or not rates[0].mass.value:
        return yarn
    share = mass.to("g").value / rates[0].mass.to("g").value
    length = Quantity(rates[0].length.value * share, rates[0].length.unit)
    return replace(yarn.filled_from(others[0]), put_up=PutUp(length, mass))


def _shape(piece: Piece) -> str:
    if piece.shape not in SHAPES:
        raise unclear(f"What shape is a {piece.shape}? It can be {', '.join(SHAPES)}. {EXAMPLE}")
    return piece.shape


def _measures(piece: Piece, shape: str) -> dict[str, Quantity]:
    """The measures the shape needs, as far as they were said."""
    said = dict(piece.measures)
    for measure in said.values():
        positive(measure.value, measure.unit)
        if measure.to("m").value > LARGEST.value:
            raise refused(f"A piece of {measure} cannot be: no hand-knit is over {LARGEST}.")
    if shape == "half circle":
        _of_one_half_circle(said)
    for name, diameters in ACROSS.items():
        if name in said:
            said.setdefault("diameter", Quantity(said[name].value * diameters, said[name].unit))
    if across := said.get("diameter"):
        said.setdefault("circumference", Quantity(across.value * pi, across.unit))
    return {name: said[name] for name in SHAPES[shape].measures if name in said}


def _of_one_half_circle(said: dict[str, Quantity]) -> None:
    """A half circle is half as deep as it is wide; what is told otherwise is another shape."""
    wide, deep = said.get("diameter"), said.get("radius")
    if wide and deep and abs(2 * deep.to(wide.unit).value / wide.value - 1) > OUT_OF_ROUND:
        half = Quantity(wide.value / 2, wide.unit)
        raise unclear(
            f"A half circle {wide} wide is {half} deep, not {deep}. Is it a crescent? "
            f"Type for example: a crescent {number(wide.value)} {wide.unit} wide and "
            f"{number(deep.value)} {deep.unit} deep in DK."
        )


def _fabric(yarn: Yarn, piece: Piece, known: Memory, swatch: Swatch | None) -> Fabric:
    """Yarn per area from the swatch told, else the yarn's gauge, her swatches or its class; with strands and texture.

    A swatch was knit with its strands, and its mass is that of all of them.
    """
    found = density_of_the_swatch(swatch, yarn, known) if swatch else density(yarn, known)
    if found is None and swatch:
        raise unclear(
            "Of that swatch I need both sides, the mass, and the length per mass of its yarn. "
            "Type for example: my swatch of DK, 225 m per 100 g, is 15 by 15 cm and weighs 10.8 g."
        )
    if found is None:
        raise unclear("What weight or gauge is the yarn? Type for example: in worsted, or at 18 sts to 4 in.")
    value, working = found.value, [short_source(found)]
    strands = 1 if swatch else yarn.strands or 1
    if strands > 1:
        value *= strands
        working.append(f"{strands} strands held together: × {strands}")
    if piece.texture:
        if piece.texture not in ribs():
            raise unclear(
                f"How much more yarn does {piece.texture} take? Nobody has published that. "
                "Type for example: cables, 20 % more."
            )
        value *= rib_factor(piece.texture)
        rib = ribs()[piece.texture]
        working.append(f"{piece.texture} rib: × {rib.factor:g} ({rib.source})")
    if piece.extra_percent is not None:
        if not -50 <= piece.extra_percent <= 400:
            raise refused(f"{number(piece.extra_percent)} % more for a texture cannot be: between -50 and 400 can.")
        value *= 1 + piece.extra_percent / 100
        working.append(f"texture: {number(piece.extra_percent)} % more, as you say")
    return Fabric(value, combined(found.u, _model(found)), tuple(working), found.basis == "default")


def _model(found: Density) -> float:
    """What the model adds to a single side, as between two: nothing for her own swatch."""
    return {"default": MODEL_DEFAULT, "gauge": MODEL_GAUGE, "swatch": 0.0}[found.basis]


def _needed(query: Query, known: Memory, need: Takes) -> Draft:
    """Area, length with the swatch allowance, and what to buy."""
    total(Quantity(need.whole.value, need.unit))
    bought = basket(need.whole, need.unit, need.yarn, known.spares_for(query))
    found = replace(bought, mass=basket(need.piece, need.unit, need.yarn, 0).mass)
    weighed = Basket(need.piece, need.unit, mass=found.mass)
    what = "the pieces" if query.piece and query.piece.count > 1 else "the piece"
    amounts = f"{need.piece.said(need.unit)}, for {what}, and {number(need.swatch.value)} {need.unit} for a swatch"
    draft = Draft(
        headline(found, need.yarn.name or "", amounts),
        {"area": need.area, **found.figures(), "length": need.piece.figure(need.unit)},
        working=[*need.working, *steps(replace(found, mass=None), need.yarn), *steps(weighed, need.yarn)],
    )
    _cautions(draft, need.yarn, need.fabric, found, SHAPES[need.shape].caution)
    return draft


def _unit(label: PutUp | None, inches: bool) -> str:
    """The label's unit of length, else that which goes with the measures."""
    if label and label.length:
        return label.length.unit
    return "yd" if inches else "m"


def _area(square_cm: float, inches: bool) -> Amount:
    if inches:
        return Amount(value=square_cm * factor("cm", "in") ** 2, unit="in^2")
    return Amount(value=square_cm, unit="cm^2")


def _cautions(draft: Draft, yarn: Yarn, fabric: Fabric, found: Basket | None = None, of_the_shape: str = "") -> None:
    if found and found.bought:
        draft.cautions.append(ONE_LOT)
    draft.cautions.append(ESTIMATES)
    if of_the_shape:
        draft.cautions.append(of_the_shape)
    if fabric.default and yarn.weight_class:
        words = [weight_class(yarn.weight_class).caution, name_caution(yarn.class_as_said or "")]
        draft.cautions += [text for text in words if text]
        draft.cautions += label_doubts(yarn)


def _held(query: Query, yarn: Yarn) -> tuple[Estimate, str] | None:
    """The yarn there is to knit with, as length and its unit; None where none was said."""
    if query.stash:
        unit = _unit(yarn.put_up, inches=False)
        lengths = [holding.unit for holding in query.stash if holding.unit in ("yd", "m")]
        unit = lengths[0] if lengths else unit
        return exactly(sum(_length(holding, yarn, unit) for holding in query.stash)), unit
    if query.colours:
        pattern = query.pattern if query.pattern.put_up else replace(query.pattern, put_up=yarn.put_up)
        need = needs(replace(query, pattern=pattern))
        if need.single is None:
            raise unclear("How much yarn is there in all? Type for example: how long a scarf 20 cm wide from 400 m.")
        return exactly(need.single.value), need.unit
    return None


def _length(holding: Holding, yarn: Yarn, unit: str) -> float:
    """A holding as length."""
    if holding.unit in ("yd", "m"):
        return holding.amount * factor(holding.unit, unit)
    label = holding.yarn.put_up or yarn.put_up
    if not label or not label.length or (holding.unit != "skein" and not label.mass):
        raise unclear("How long is the yarn on one skein? Type for example: 50 g/120 m balls.")
    skeins = holding.amount
    if holding.unit != "skein" and label.mass:
        skeins = holding.amount / label.mass.to(holding.unit).value
    return skeins * label.length.to(unit).value


def _largest(held: tuple[Estimate, str], shape: str, fabric: Fabric, yarn: Yarn) -> Draft:
    """How large a piece of that shape so much yarn makes, a swatch taken off first."""
    length, unit = held
    metres = _after_the_swatch(length.value, unit, fabric)
    spread = expanded(fabric.u)
    square_cm = metres * 100 / fabric.density
    inches = unit in IMPERIAL
    side, rate = ("in", factor("cm", "in")) if inches else ("cm", 1.0)
    sizes = {name: size * rate for name, size in measures_of(shape, square_cm).items()}
    found = _with_range(_area(square_cm, inches), spread)
    told = " and ".join(f"{number(size)} {side} {_AS_SAID.get(name, name)}" for name, size in sizes.items())
    like = f", {SHAPES[shape].proportions}" if SHAPES[shape].proportions else ""
    draft = Draft(
        f"{number(length.value)} {unit} makes a {shape} of about {number(found.value)} {side}²: {told}{like}.",
        {"length": Amount(value=length.value, unit=unit), "area": found},
    )
    draft.working = [
        *fabric.working,
        f"swatch of 4 × 4 in first: {number(length.value - metres / factor(unit, 'm'))} {unit} off",
        f"{number(metres)} m / {to_figures(fabric.density, 4)} cm per cm² = {number(square_cm)} cm²",
    ]
    _cautions(draft, yarn, fabric)
    return draft


_AS_SAID = {"width": "wide", "height": "deep", "diameter": "across"}


def _with_range(amount: Amount, spread: float) -> Amount:
    """An amount that so much yarn makes, with the range of what the fabric may take."""
    high = amount.value / (1 - spread) if spread < 1 else None
    return Amount(value=amount.value, unit=amount.unit, low=amount.value / (1 + spread), high=high)


def _after_the_swatch(length: float, unit: str, fabric: Fabric) -> float:
    """What is left of a length when a swatch is knitted, in m; a Refusal where nothing is."""
    total(Quantity(length, unit))
    metres = length * factor(unit, "m")
    swatch = fabric.metres(SWATCH_ALLOWANCE).value
    if metres <= swatch:
        takes = f"{number(swatch / factor(unit, 'm'))} {unit}"
        raise refused(f"{number(length)} {unit} is no more than a swatch takes ({takes}).")
    return metres - swatch


def _reached(held: tuple[Estimate, str], width: Quantity, fabric: Fabric, yarn: Yarn) -> Draft:
    """How long a piece of that width gets, a swatch taken off first."""
    length, unit = held
    metres = _after_the_swatch(length.value, unit, fabric)
    swatch = length.value - metres / factor(unit, "m")
    side = "in" if width.unit in IMPERIAL else "cm"
    rate = factor("cm", side)
    value = reach(metres, fabric.density, width.to("cm").value) * rate
    long = _with_range(Amount(value=value, unit=side), expanded(fabric.u))
    draft = Draft(
        f"{number(length.value)} {unit} makes about {number(value)} {side} at {width} wide: "
        f"at least {number(long.low or 0)} {side} is safe to count on.",
        {"length": Amount(value=length.value, unit=unit), "reach": long},
    )
    rest = f"{number(metres / factor(unit, 'm'))} {unit}"
    draft.working = [
        *fabric.working,
        f"swatch of 4 × 4 in first: {number(swatch)} {unit} off",
        f"{rest} / ({to_figures(fabric.density, 4)} cm per cm² × {width}) = {number(value)} {side}",
    ]
    _cautions(draft, yarn, fabric)
    return draft


ABILITY = Ability(
    name="piece",
    summary="Say how much yarn a shape of given size takes, or how long a piece so much yarn makes.",
    examples=(
        "how much worsted for a scarf 8 by 70 in, 210 yd a skein?",
        "a triangle shawl 150 cm wide and 70 cm deep in fingering, 400 m/100 g",
        "how long a scarf 20 cm wide from 400 m of DK?",
        "how big a square blanket can I make from 1500 yd of worsted?",
    ),
    frames=(
        Frame(60, slots=("piece",)),
        Frame(88, slots=("piece", "swatch")),
        Frame(94, slots=("piece",), cues=("size.which", "how_big")),
    ),
    uses=frozenset({"piece", "swatch", "yarn", "pattern", "need", "stash", "spares", "want", "same_gauge"}),
    answer=answer,
    talk=Talk(in_passing=True),
    asked_by=("piece",),
)
