"""The sides of a swatch: measured, or from its stitches and rows by a gauge counted on the same fabric."""

from __future__ import annotations

from dataclasses import dataclass

from yarnchat.fabric.densities import HALF_A_STITCH
from yarnchat.fabric.swatches import SIDE_HALF_CM, SIDE_HALF_INCH_CM
from yarnchat.fabric.uncertainty import rectangular
from yarnchat.quantity import IMPERIAL, Quantity
from yarnchat.queries import Gauge, Query, Swatch
from yarnchat.refusals import unclear


@dataclass(frozen=True, slots=True)
class Sides:
    """Width and height as they are to be shown, and the relative standard uncertainty of each."""

    width: Quantity
    height: Quantity
    width_u: float
    height_u: float
    counted: bool = False

    @property
    def inches(self) -> bool:
        """Whether the sides are in inches, feet or yards."""
        return self.width.unit in IMPERIAL

    @property
    def cm(self) -> tuple[float, float]:
        """Width and height in cm."""
        return self.width.to("cm").value, self.height.to("cm").value


def sides_of(swatch: Swatch, gauge: Gauge | None = None) -> Sides | None:
    """The sides of a swatch; None where neither measures nor counts with a gauge of both tell them.

    A measured side is known to ±1/8 in or ±3 mm, a counted one as well as the gauge: half a stitch or row over the
    length it was counted on. ``gauge``: that of the question, where the swatch's yarn has none.
    """
    if swatch.width and swatch.height:
        half = SIDE_HALF_INCH_CM if swatch.width.unit in IMPERIAL else SIDE_HALF_CM
        width, height = swatch.width.to("cm").value, swatch.height.to("cm").value
        if min(width, height) <= 0:
            return Sides(swatch.width, swatch.height, 0.0, 0.0)
        return Sides(swatch.width, swatch.height, rectangular(half) / width, rectangular(half) / height)
    gauge = swatch.yarn.gauge or gauge
    if not (swatch.stitches and swatch.rows and gauge and gauge.rows):
        return None
    over = gauge.over
    return Sides(
        Quantity(swatch.stitches / gauge.stitches * over.value, over.unit),
        Quantity(swatch.rows / gauge.rows * over.value, over.unit),
        rectangular(HALF_A_STITCH) / gauge.stitches,
        rectangular(HALF_A_STITCH) / gauge.rows,
        counted=True,
    )


def one_mass(query: Query) -> None:
    """A Refusal where an amount stands beside the swatch's mass, so that nobody knows which of them it weighs."""
    beside = [str(series) for series in query.amounts]
    if query.swatch and beside:
        raise unclear(
            f"Is {query.swatch.mass} or {beside[0]} the swatch's mass? Type for example: the swatch weighs 7 g, or: "
            "the ball weighed 50 g before and 43 g after.",
            beside[0],
        )
