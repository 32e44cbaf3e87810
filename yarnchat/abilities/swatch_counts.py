"""Stitches and rows told beside a swatch's size: counted to 4 in, or over the swatch's own width and height."""

from __future__ import annotations

from dataclasses import replace

from yarnchat.abilities.known_densities import measure
from yarnchat.abilities.remembered import Memory
from yarnchat.fabric.loops import observed_ks, plausible, stitch_density
from yarnchat.quantity import Quantity, number, to_figures
from yarnchat.queries import Swatch


def counted(swatch: Swatch, known: Memory) -> tuple[Swatch, str | None]:
    """The swatch with its counts taken one way, and in words why, where they are not those to 4 in.

    They are the whole swatch's where plain fabric can have them so, and cannot have them to 4 in.
    """
    gauge, width, height = swatch.yarn.gauge, swatch.width, swatch.height
    if not (swatch.stitches and swatch.rows and gauge and width and height):
        return swatch, None
    as_gauge = replace(swatch, stitches=None, rows=None)
    found = measure(swatch, known)
    if found is None:
        return as_gauge, None
    to_gauge = observed_ks(_density(swatch, gauge.over, gauge.over), found.density)
    over_all = observed_ks(_density(swatch, width, height), found.density)
    if plausible(to_gauge) or not plausible(over_all):
        return as_gauge, None
    counts = f"{number(swatch.stitches)} sts and {number(swatch.rows)} rows"
    why = f"ks = {to_figures(over_all)}; to {gauge.over} it would be {to_figures(to_gauge)}"
    told = f"{counts} taken over the whole {width} × {height} ({why})"
    return replace(swatch, yarn=replace(swatch.yarn, gauge=None)), told


def _density(swatch: Swatch, width: Quantity, height: Quantity) -> float:
    """Stitches per cm² where the counts are those over so much."""
    return stitch_density((swatch.stitches or 0) / width.to("cm").value, (swatch.rows or 0) / height.to("cm").value)
