"""Whether a swatch can be plain fabric: what is said where its yarn is far from its gauge or from its weight class."""

from __future__ import annotations

from yarnchat.abilities.agreement import percent
from yarnchat.fabric.densities import density_of_class
from yarnchat.fabric.loops import KS_PLAUSIBLE
from yarnchat.fabric.swatches import WorkedSwatch
from yarnchat.knowledge.classes import weight_class
from yarnchat.quantity import number, to_figures

FAR = 3
"""So many times more, or less, than the class takes at its middle gauge (common practice, no source)."""


def doubts(found: WorkedSwatch, key: str | None) -> list[str]:
    """What speaks against the measures of a swatch: by its own gauge, else by the class it is of."""
    said = _by_gauge(found) or _by_class(found, key)
    return [said] if said else []


def _by_gauge(found: WorkedSwatch) -> str | None:
    if found.plausible or found.ks is None:
        return None
    low, high = KS_PLAUSIBLE
    too = "more" if found.ks > high else "less"
    return (
        f"ks = {to_figures(found.ks)} is outside {low:g}–{high:g}: {too} yarn than plain fabric of that gauge holds. "
        f"A measurement is probably off, likeliest the {_culprit(found)}; rib or cable would do that too."
    )


def _by_class(found: WorkedSwatch, key: str | None) -> str | None:
    share = found.density / density_of_class(key).value if key else 1
    if key is None or 1 / FAR <= share <= FAR:
        return None
    times = f"{number(share)} times" if share > 1 else f"{percent(share, 0)} of"
    return (
        f"That is {times} what {weight_class(key).label} takes at its middle gauge. "
        "A measurement is probably off, likeliest the mass, or the yarn is of another weight."
    )


def _culprit(found: WorkedSwatch) -> str:
    """The measurement known least well."""
    return "mass" if found.weakest.name == "scale" else found.weakest.name
