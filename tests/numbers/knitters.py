"""Simulated knitters: how often the true ratio of two yarns lies inside the range shown for their swatches.

A yarn per area is drawn for each yarn, swatches are knitted of it, and measured as engine and guide have it: a mass
rounded to the scale's last digit, each side off by at most 1/8 in or 3 mm, all errors rectangular (GUM 4.3.7).
``python -m tests.numbers.knitters`` prints a table.
"""

from __future__ import annotations

import math
import random
from dataclasses import dataclass, replace

from yarnchat.fabric.densities import Density
from yarnchat.fabric.ratios import ratio
from yarnchat.fabric.swatches import SIDE_HALF_CM, SIDE_HALF_INCH_CM, WorkedSwatch, mean_density, worked

DRAWS = 2000
CM_PER_INCH = 2.54
SMALLEST, LARGEST = 4.0, 10.0
"""Sides of a swatch, in inches."""
YARNS = ((800, 17.0), (400, 15.0), (300, 13.0), (240, 11.5), (180, 9.7), (100, 7.0))
"""m per 100 g, and cm of yarn per cm² about which a knitter's own is drawn: lace to bulky, from memory."""


@dataclass(frozen=True, slots=True)
class Bench:
    """How swatches are made and measured: the scale's last digit in g, the ruler, how many of each yarn.

    ``uneven``: relative standard deviation of yarn per area from one swatch of a yarn to the next.
    """

    step: float
    inches: bool
    swatches: int
    uneven: float = 0.0


def coverage(bench: Bench, draws: int = DRAWS, seed: int = 1) -> float:
    """The share of draws in which the true ratio lies inside the range shown."""
    chance = random.Random(seed)
    return sum(_inside(bench, chance) for _ in range(draws)) / draws


def mixed(draws: int = DRAWS, seed: int = 1) -> float:
    """The same share with scale, ruler and one to four swatches a yarn drawn anew each time."""
    chance = random.Random(seed)
    inside = 0
    for _ in range(draws):
        bench = Bench(chance.choice((1.0, 0.1)), chance.random() < 0.5, chance.randint(1, 4))
        inside += _inside(bench, chance)
    return inside / draws


def _inside(bench: Bench, chance: random.Random) -> bool:
    sides = [(grist, middle * chance.uniform(0.8, 1.2)) for grist, middle in chance.sample(YARNS, 2)]
    (_, pattern), (_, yarn) = sides
    shown = ratio(*(_known(grist, density, bench, chance) for grist, density in sides))
    return shown.low <= yarn / pattern <= shown.high


def _known(grist: float, density: float, bench: Bench, chance: random.Random) -> Density:
    """What the swatches of one yarn say of its yarn per area."""
    swatches = [_measured(grist, density, bench, chance) for _ in range(bench.swatches)]
    return mean_density(swatches, "swatches")


def _measured(grist: float, density: float, bench: Bench, chance: random.Random) -> WorkedSwatch:
    """One swatch knitted, weighed and measured."""
    half = SIDE_HALF_INCH_CM if bench.inches else SIDE_HALF_CM
    width, height = (chance.uniform(SMALLEST, LARGEST) * CM_PER_INCH for _ in range(2))
    own = density * math.exp(chance.gauss(0, bench.uneven))
    grams = own * width * height / grist
    read = max(round(grams / bench.step), 1) * bench.step
    return worked(
        read,
        bench.step,
        width + chance.uniform(-half, half),
        height + chance.uniform(-half, half),
        grist,
        side_half=half,
    )


def table(draws: int = DRAWS) -> str:
    """Coverage for each scale, ruler and number of swatches: of even knitters and of uneven ones."""
    lines = ["scale  ruler   swatches  as shown  uneven by 3 %"]
    for step in (1.0, 0.1):
        for inches in (True, False):
            for count in (1, 2, 3, 4):
                bench = Bench(step, inches, count)
                even, uneven = (coverage(each, draws) for each in (bench, replace(bench, uneven=0.03)))
                ruler = "1/8 in" if inches else "3 mm"
                lines.append(f"{step:<5g}  {ruler:6}  {count:8}  {even:8.1%}  {uneven:13.1%}")
    lines.append(f"all of these drawn at random, even: {mixed(draws):.1%}")
    return "\n".join(lines)


if __name__ == "__main__":
    print(table())
