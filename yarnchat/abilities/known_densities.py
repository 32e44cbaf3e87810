"""What is known of a yarn's length per area: by a gauge, by her swatches, or by its class."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from yarnchat.abilities.clues import metres_per_100_g
from yarnchat.abilities.remembered import Memory, plain
from yarnchat.abilities.swatch_sides import sides_of
from yarnchat.fabric.densities import Density, Offset, density_of_class, density_of_gauge
from yarnchat.fabric.swatches import WorkedSwatch, mean_density, measured_out, worked
from yarnchat.fabric.uncertainty import expanded
from yarnchat.knowledge.classes import weight_class
from yarnchat.notebook import StoredSwatch
from yarnchat.quantity import Quantity, to_figures
from yarnchat.queries import Swatch, Yarn

MOST_NAMES = 3
"""Swatches named in a line; of more the line gives the number."""


def density(yarn: Yarn, known: Memory) -> Density | None:
    """Yarn per area by a gauge, her swatches of it, those of its class, its class: the first there is."""
    if yarn.gauge:
        return density_of_gauge(yarn.gauge)
    if (yarn.strands or 1) > 1:
        return None
    own = known.by_yarn.get(plain(yarn.name), []) if yarn.name else []
    key = ("yarn", plain(yarn.name))
    if key not in known.worked_out:
        known.worked_out[key] = density_of_swatches(own, known)
    return known.worked_out[key] or class_density(yarn.weight_class, known)


def class_density(key: str | None, known: Memory) -> Density | None:
    """Yarn per area of a class: her swatches of it, else its default; None for no class."""
    if key is None:
        return None
    return _hers(key, known) or density_of_class(key)


def _hers(key: str, known: Memory) -> Density | None:
    """The mean of her swatches in a class, worked out once."""
    at = ("class", key)
    if at not in known.worked_out:
        known.worked_out[at] = density_of_swatches(swatches_of(key, known), known)
    found: Density | None = known.worked_out[at]
    return found


def density_of_swatches(rows: Iterable[StoredSwatch], known: Memory) -> Density | None:
    """The mean of swatches that have a mass, two sides and a put-up; None where none has."""
    measured = [(row, found) for row in rows if (found := measure(row.swatch, known))]
    if not measured:
        return None
    names = ", ".join(row.name for row, _ in measured[:MOST_NAMES])
    if len(measured) > MOST_NAMES:
        names += f" and {len(measured) - MOST_NAMES} more"
    what = "swatch" if len(measured) == 1 else f"{len(measured)} swatches"
    mean = mean_density([found for _, found in measured], f"your {what} ({names})")
    return _with_rate(mean)


def density_of_the_swatch(swatch: Swatch, yarn: Yarn, known: Memory) -> Density | None:
    """Yarn per area of a swatch told in the question, whose yarn may be told beside it; None where it lacks a part."""
    found = measure(replace(swatch, yarn=swatch.yarn.filled_from(yarn)), known)
    return _with_rate(mean_density([found], "the swatch you tell of")) if found else None


def _with_rate(mean: Density) -> Density:
    rate = f"{to_figures(mean.value, 4)} cm of yarn per cm² ±{expanded(mean.u):.0%}"
    return replace(mean, source=f"{mean.source}, {rate}")


def offsets(known: Memory) -> list[Offset]:
    """Her yarn per area over the default, for every class she has swatched."""
    found: list[Offset] = []
    for key in sorted(known.by_class):
        hers = _hers(key, known)
        if hers:
            found.append((hers, density_of_class(key)))
    return found


def measure(swatch: Swatch, known: Memory) -> WorkedSwatch | None:
    """A swatch worked out by its yarn's length, or by its mass and label; None where neither, or no side, is said."""
    yarn = known.complete(swatch.yarn)
    grist = metres_per_100_g(yarn.put_up)
    sides = sides_of(swatch, yarn.gauge)
    if swatch.length and sides and min(swatch.length.value, sides.width.value, sides.height.value) > 0:
        step = Quantity(swatch.mass_step, swatch.length.unit).to("m").value
        return measured_out(swatch.length.to("m").value, step, *sides.cm, (sides.width_u, sides.height_u))
    if not (swatch.mass and sides and grist) or min(swatch.mass.value, sides.width.value, sides.height.value) <= 0:
        return None
    step = Quantity(swatch.mass_step, swatch.mass.unit).to("g").value
    width, height = sides.cm
    side_us = (sides.width_u, sides.height_u)
    return worked(swatch.mass.to("g").value, step, width, height, grist, side_us=side_us)


def called(yarn: Yarn) -> str:
    """A yarn in a few words: its name, else its class as said, else nothing."""
    return yarn.name or yarn.class_as_said or (weight_class(yarn.weight_class).label if yarn.weight_class else "")


def swatches_of(key: str, known: Memory) -> list[StoredSwatch]:
    """Her swatches in a class that can be worked out."""
    return [row for row in known.by_class.get(key, []) if measure(row.swatch, known)]


def short_source(found: Density) -> str:
    """Where a density came from, short enough for a line."""
    return found.source.replace(", Standard Yarn Weight System", "")
