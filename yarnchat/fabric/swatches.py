"""What a blocked swatch says: its yarn per area and per stitch, and how well it was measured."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import hypot, sqrt
from statistics import fmean, stdev

from yarnchat.fabric.densities import Density
from yarnchat.fabric.loops import observed_ks, observed_loop_length, plausible, stitch_density
from yarnchat.fabric.uncertainty import combined, rectangular

SIDE_HALF_CM = 0.3
"""Half-width of a side measured in cm: ±3 mm (common practice, no source)."""
SIDE_HALF_INCH_CM = 0.3175
"""Half-width of a side measured in inches, in cm: ±1/8 in (common practice, no source)."""

_ADVICE = {
    "scale": "weigh a larger swatch, or on a scale with one more digit",
    "tape": "measure the yarn of a larger swatch",
    "width": "measure a wider swatch",
    "height": "measure a longer swatch",
}


@dataclass(frozen=True, slots=True)
class Term:
    """One source of doubt: "scale" or "tape", "width" or "height", and its relative standard uncertainty."""

    name: str
    u: float

    @property
    def advice(self) -> str:
        """What would make this term smaller."""
        return _ADVICE[self.name]


@dataclass(frozen=True, slots=True)
class WorkedSwatch:
    """A swatch worked out: area in cm², yarn in m, D in cm per cm²; with a gauge also l in cm and ks."""

    area: float
    length: float
    density: float
    terms: tuple[Term, ...]
    loop_length: float | None = None
    ks: float | None = None

    @property
    def u(self) -> float:
        """Relative standard uncertainty of D, all terms together."""
        return combined(*(term.u for term in self.terms))

    @property
    def weakest(self) -> Term:
        """The largest term: what would narrow the range most."""
        return max(self.terms, key=lambda term: term.u)

    @property
    def plausible(self) -> bool:
        """False where ks is not that of plain fabric: a measurement is probably off."""
        return self.ks is None or plausible(self.ks)


def worked(
    grams: float,
    grams_step: float,
    width: float,
    height: float,
    grist: float,
    side_half: float = SIDE_HALF_CM,
    sts_per_cm: float | None = None,
    rows_per_cm: float | None = None,
    side_us: tuple[float, float] | None = None,
) -> WorkedSwatch:
    """A swatch of so many grams, width × height in cm, of a yarn of ``grist`` m per 100 g.

    ``grams_step`` is the last digit given (1 for 6 g, 0.1 for 6.2 g) in grams; ``side_half`` the
    half-width of each side in cm; ``side_us`` stands instead where the relative standard uncertainties of width
    and height are known. ValueError where a measure is not above zero.
    """
    if not (grams > 0 and width > 0 and height > 0 and grist > 0):
        raise ValueError("A swatch needs a mass, two sides and a grist above zero.")
    area = width * height
    length = grams * grist / 100
    density = length * 100 / area
    terms = (
        Term("scale", rectangular(grams_step / 2) / grams),
        Term("width", side_us[0] if side_us else rectangular(side_half) / width),
        Term("height", side_us[1] if side_us else rectangular(side_half) / height),
    )
    if sts_per_cm is None:
        return WorkedSwatch(area, length, density, terms)
    stitches = stitch_density(sts_per_cm, rows_per_cm)
    return WorkedSwatch(
        area, length, density, terms, observed_loop_length(stitches, density), observed_ks(stitches, density)
    )


def measured_out(metres: float, step: float, width: float, height: float, side_us: tuple[float, float]) -> WorkedSwatch:
    """A swatch of which the yarn was measured: so many m, the last digit given ``step``, on width × height in cm.

    ``side_us``: the relative standard uncertainties of width and height. ValueError where a measure is not above zero.
    """
    if not (metres > 0 and width > 0 and height > 0):
        raise ValueError("A swatch needs a length of yarn and two sides above zero.")
    area = width * height
    terms = (
        Term("tape", rectangular(step / 2) / metres),
        Term("width", side_us[0]),
        Term("height", side_us[1]),
    )
    return WorkedSwatch(area, metres, metres * 100 / area, terms)


def mean_density(swatches: Sequence[WorkedSwatch], source: str) -> Density:
    """The mean D of one or several swatches of one yarn or class, as a Density on the basis "swatch".

    Several add the spread of their mean (s / √n) as far as their measuring does not explain it: the errors
    of measuring are in that spread already and count once (GUM 4.3.10), so the larger of both stands. ValueError
    for none.
    """
    if not swatches:
        raise ValueError("A mean needs at least one swatch.")
    count = len(swatches)
    mean = fmean(swatch.density for swatch in swatches)
    measuring = hypot(*(swatch.u * swatch.density for swatch in swatches)) / count / mean
    spread = stdev(swatch.density for swatch in swatches) / sqrt(count) / mean if count > 1 else 0.0
    rows_given = all(swatch.ks is not None for swatch in swatches)
    return Density(mean, max(measuring, spread), "swatch", rows_given, source)
