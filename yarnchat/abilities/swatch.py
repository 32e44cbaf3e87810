"""Swatch: yarn per area and per stitch of a blocked swatch, how sure, and what would narrow it most."""

from __future__ import annotations

from yarnchat.abilities.agreement import percent
from yarnchat.abilities.base import Ability, Context, Draft, Frame, Talk
from yarnchat.abilities.known_densities import measure
from yarnchat.abilities.remembered import Memory, memory
from yarnchat.abilities.sanity import positive, sane
from yarnchat.abilities.swatch_doubts import doubts
from yarnchat.abilities.swatch_sides import Sides, one_mass, sides_of
from yarnchat.answers import Amount
from yarnchat.fabric.densities import HALF_A_STITCH, density_of_class
from yarnchat.fabric.loops import KS, metres_per_square_metre, yards_per_square_inch
from yarnchat.fabric.swatches import WorkedSwatch, worked
from yarnchat.fabric.uncertainty import combined, expanded, rectangular
from yarnchat.knowledge.classes import weight_class
from yarnchat.quantity import IMPERIAL, Quantity, factor, number, to_figures
from yarnchat.queries import Gauge, PutUp, Query, Swatch, Yarn
from yarnchat.refusals import unclear

EXAMPLE = "Type for example: my swatch of DK, 225 m per 100 g, is 15 by 15 cm and weighs 10.8 g."


def answer(query: Query, context: Context) -> Draft:
    """A swatch's yarn per area, with its range from the scale and both sides."""
    sane(query)
    swatch = query.swatch
    if not swatch:
        raise unclear(f"What are the swatch's size and mass? {EXAMPLE}")
    one_mass(query)
    label, key = _yarn(query, swatch, context)
    mass, sides = _measures(swatch, query)
    inches = sides.inches
    gauge = _gauge(swatch, query.yarns)
    found = _worked(swatch, label, mass, sides, gauge)
    draft = Draft()
    _area_and_length(draft, found, label, inches, mass)
    if sides.counted and gauge:
        counts = f"{number(swatch.stitches or 0)} sts and {number(swatch.rows or 0)} rows"
        draft.working.insert(0, f"{counts} at {gauge} are {sides.width} × {sides.height}")
    _per_area(draft, found, inches)
    if gauge and found.loop_length:
        _per_stitch(draft, found, gauge, found.loop_length, inches)
    draft.cautions += doubts(found, key)
    if key:
        usual = density_of_class(key).value
        apart = found.density / usual - 1
        draft.working.append(
            f"{weight_class(key).label} at its middle gauge takes {_rate(usual, inches)}: "
            f"yours is {percent(abs(apart), 0)} {'more' if apart > 0 else 'less'}"
        )
    terms = ", ".join(f"{term.name} ±{percent(expanded(term.u))}" for term in found.terms)
    draft.working.append(f"sure to ±{percent(expanded(found.u), 0)}: {terms} (k = 2, JCGM 100:2008)")
    draft.cautions.append(f"To narrow the range most, {found.weakest.advice}.")
    draft.cautions.append("Wash and block a swatch before it is measured.")
    return draft


def _yarn(query: Query, swatch: Swatch, context: Context) -> tuple[PutUp, str | None]:
    """The put-up and class of the swatch's yarn, from the question, else from the notebook."""
    yarns = [yarn for yarn in (swatch.yarn, *query.yarns, query.pattern) if str(yarn)]
    if not any(yarn.put_up for yarn in yarns):
        known = memory(context)
        yarns = [known.complete(yarn) for yarn in yarns]
    label = next((yarn.put_up for yarn in yarns if yarn.put_up), None)
    if not label or not label.length or not label.mass:
        raise unclear(f"How long is the swatch's yarn for its mass? Its put-up is missing. {EXAMPLE}")
    return label, next((yarn.weight_class for yarn in yarns if yarn.weight_class), None)


def _measures(swatch: Swatch, query: Query) -> tuple[Quantity, Sides]:
    """Mass and sides; a Refusal naming what is missing."""
    sides = sides_of(swatch, _gauge(swatch, query.yarns))
    missing = ["mass"] if swatch.mass is None else []
    missing += [] if sides else [name for name in ("width", "height") if getattr(swatch, name) is None]
    if swatch.mass is None or sides is None:
        raise unclear(f"What is the swatch's {' and '.join(missing)}? {EXAMPLE}")
    for size in (swatch.mass, sides.width, sides.height):
        positive(size.value, size.unit)
    return swatch.mass, sides


def doubts_of(swatch: Swatch) -> list[str]:
    """What speaks against a swatch of which all is told: its mass, its sides and its yarn's label."""
    gauge, label = _gauge(swatch), swatch.yarn.put_up
    sides = sides_of(swatch, gauge)
    if not (swatch.mass and sides and label):
        return []
    return doubts(_worked(swatch, label, swatch.mass, sides, gauge), swatch.yarn.weight_class)


def in_short(swatch: Swatch, known: Memory) -> str:
    """A swatch's yarn per area and, where its stitches were counted over its own size, its gauge, for a list."""
    found, gauge = measure(swatch, known), _gauge(swatch)
    if found is None:
        return ""
    inches = swatch.width is not None and swatch.width.unit in IMPERIAL
    parts = [_rate(found.density, inches)]
    if gauge and swatch.stitches and swatch.width:
        parts.append(str(_over(gauge, Quantity(4, "in") if inches else Quantity(10, "cm"))))
    return ", ".join(parts)


def _over(gauge: Gauge, over: Quantity) -> Gauge:
    """The same gauge over another length."""
    share = over.value / gauge.over.to(over.unit).value
    return Gauge(gauge.stitches * share, over, gauge.rows * share if gauge.rows else None)


def _gauge(swatch: Swatch, yarns: tuple[Yarn, ...] = ()) -> Gauge | None:
    """The swatch's gauge: its own stitches (and rows) counted over its whole size, else one that was said."""
    if swatch.stitches and swatch.width and swatch.height:
        rows = swatch.rows * swatch.width.to(swatch.height.unit).value / swatch.height.value if swatch.rows else None
        return Gauge(swatch.stitches, swatch.width, rows)
    return next((yarn.gauge for yarn in (swatch.yarn, *yarns) if yarn.gauge), None)


def _worked(swatch: Swatch, label: PutUp, mass: Quantity, sides: Sides, gauge: Gauge | None) -> WorkedSwatch:
    assert label.length
    assert label.mass
    over = gauge.over.to("cm").value if gauge else 1.0
    return worked(
        mass.to("g").value,
        swatch.mass_step * factor(mass.unit, "g"),
        sides.cm[0],
        sides.cm[1],
        label.length.to("m").value * 100 / label.mass.to("g").value,
        sts_per_cm=gauge.stitches / over if gauge else None,
        rows_per_cm=gauge.rows / over if gauge and gauge.rows else None,
        side_us=(sides.width_u, sides.height_u),
    )


def _area_and_length(draft: Draft, found: WorkedSwatch, label: PutUp, inches: bool, mass: Quantity) -> None:
    """What was knitted: the area, and the length of yarn by the label."""
    assert label.length
    scale, *sides = found.terms
    area = Quantity(found.area / factor("in", "cm") ** 2, "in") if inches else Quantity(found.area, "cm")
    draft.figures["area"] = _estimate(area.value, combined(*(side.u for side in sides)), f"{area.unit}^2")
    length = Quantity(found.length, "m").to(label.length.unit)
    draft.figures["length"] = _estimate(length.value, scale.u, length.unit)
    draft.figures["mass"] = Amount(value=mass.value, unit=mass.unit)
    draft.working = [
        f"area {number(area.value)} {area.unit}²",
        f"length {mass} × {label} = {length} (label)",
    ]


def _per_area(draft: Draft, found: WorkedSwatch, inches: bool) -> None:
    """D, in the units of the swatch."""
    convert, unit = (yards_per_square_inch, "yd/in^2") if inches else (metres_per_square_metre, "m/m^2")
    figure = _estimate(convert(found.density), found.u, unit)
    draft.figures["length_per_area"] = figure
    said = unit.replace("^2", "²")
    low, high = figure.low or 0.0, figure.high or 0.0
    draft.headline = (
        f"Your fabric takes {number(figure.value)} {said}, sure to ±{percent(expanded(found.u), 0)} "
        f"({number(low)}–{number(high)} {said})."
    )
    draft.working.append(f"length / area = {number(figure.value)} {said}")


def _per_stitch(draft: Draft, found: WorkedSwatch, gauge: Gauge, loop: float, inches: bool) -> None:
    """Yarn in a stitch, and ks."""
    counts = [rectangular(HALF_A_STITCH) / gauge.stitches]
    if gauge.rows:
        counts.append(rectangular(HALF_A_STITCH) / gauge.rows)
    unit = "in" if inches else "cm"
    per_stitch = _estimate(loop / factor(unit, "cm"), combined(found.u, *counts), unit)
    draft.figures["length_per_stitch"] = per_stitch
    assert found.ks is not None
    draft.working.append(
        f"a stitch takes {to_figures(per_stitch.value)} {unit} at {gauge}; "
        f"ks = {to_figures(found.ks)} (relaxed plain fabric {KS:.1f})"
    )


def _rate(density: float, inches: bool) -> str:
    if inches:
        return f"{number(yards_per_square_inch(density))} yd/in²"
    return f"{number(metres_per_square_metre(density))} m/m²"


def _estimate(value: float, u: float, unit: str) -> Amount:
    """A value with its range at k = 2."""
    half = value * expanded(u)
    return Amount(value=value, unit=unit, low=value - half, high=value + half)


ABILITY = Ability(
    name="swatch",
    summary="Work out the yarn per area and per stitch of a blocked swatch.",
    examples=(
        "my swatch of 225 m/100 g DK is 15 by 15 cm and weighs 10.8 g",
        "swatch 6 in by 6 in, 9 g, yarn 420 yd/100 g, 28 sts to 4 in: yards per square inch?",
        "yarn in a stitch of my swatch: 12 x 14 cm, 6.4 g, 400 m/100 g, 30 sts and 40 rows to 10 cm",
    ),
    frames=(
        Frame(85, slots=("swatch",)),
        Frame(84, cues=("swatch",), without=("need", "piece", "identify", "ratios", "note")),
    ),
    uses=frozenset({"swatch", "yarn", "pattern", "want"}),
    answer=answer,
    talk=Talk(alone=lambda query, _: bool(query.slots() - {"want"}) and not query.yarns, anew=True, in_passing=True),
)
