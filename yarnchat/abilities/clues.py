"""What is known of a yarn nobody has named, as clues, and the weight classes that fit them."""

from __future__ import annotations

from dataclasses import dataclass, replace

from yarnchat.abilities.sanity import positive
from yarnchat.fabric import grist, identify
from yarnchat.fabric.identify import Candidate
from yarnchat.knowledge import needles
from yarnchat.quantity import IMPERIAL, LENGTHS, MASSES, Quantity, number
from yarnchat.queries import Gauge, Measured, Needle, PutUp, Query, Series, Swatch, Yarn
from yarnchat.refusals import unclear


@dataclass(frozen=True, slots=True)
class Clue:
    """One thing known of the yarn, in words, and the classes it allows, nearest first."""

    said: str
    candidates: list[Candidate]

    @property
    def keys(self) -> list[str]:
        """The keys of those classes."""
        return [candidate.weight_class.key for candidate in self.candidates]


def known(query: Query) -> Yarn:
    """Everything said of the yarn, whichever side it was put on: the first gauge, put-up, wpi, needle."""
    measured = query.measured or Measured()
    swatched = [_swatched(query.swatch)] if query.swatch else []
    yarns = [*query.yarns, query.pattern, *(held.yarn for held in (*query.stash, *query.used)), *swatched]
    return Yarn(
        put_up=next((yarn.put_up for yarn in yarns if _rated(yarn.put_up)), None)
        or _counted(measured)
        or _weighed(query.amounts),
        gauge=next((yarn.gauge for yarn in yarns if yarn.gauge), measured.gauge),
        needle=next((yarn.needle for yarn in yarns if yarn.needle), _needle(measured)),
        wpi=next((yarn.wpi for yarn in yarns if yarn.wpi is not None), None),
    )


def _swatched(swatch: Swatch) -> Yarn:
    """A swatch's yarn, with the gauge where its stitches were counted over its width."""
    if not swatch.stitches or not swatch.width:
        return swatch.yarn
    return replace(swatch.yarn, gauge=Gauge(swatch.stitches, swatch.width))


def _needle(measured: Measured) -> Needle | None:
    """A needle, or a bare length in mm; a Refusal for any other amount, which says nothing of a weight."""
    if measured.needle or not measured.amount:
        return measured.needle
    if measured.amount.unit != "mm":
        raise unclear(f"What is {measured.amount} of the yarn? Type for example: what weight is 200 m per 100 g?")
    return Needle(f"{measured.amount.value:g}", "mm")


def _rated(put_up: PutUp | None) -> bool:
    """Whether a put-up says how long a mass of it is."""
    return bool(put_up and put_up.length and put_up.mass)


def _counted(measured: Measured) -> PutUp | None:
    """A yarn number as the length of 100 g."""
    if measured.count is None:
        return None
    value, system = measured.count
    positive(value, system)
    try:
        metres = grist.convert(value, system.removesuffix(" count"), "m/100 g")
    except KeyError:
        return None
    return PutUp(Quantity(metres, "m"), Quantity(100, "g"))


def _weighed(amounts: tuple[Series, ...]) -> PutUp | None:
    """One length and one mass of the yarn: what was measured and weighed."""
    told = [Quantity(series.values[0], series.unit) for series in amounts if len(series.values) == 1]
    lengths = [amount for amount in told if amount.unit in LENGTHS]
    masses = [amount for amount in told if amount.unit in MASSES]
    if len(told) != len(amounts) or (len(lengths), len(masses)) != (1, 1):
        return None
    return PutUp(lengths[0], masses[0])


def clues_of(yarn: Yarn) -> list[Clue]:
    """What each measure says, the surest first."""
    clues = []
    if yarn.gauge:
        clues.append(_gauge_clue(yarn.gauge))
    metres = metres_per_100_g(yarn.put_up)
    if metres:
        clues.append(Clue(f"{number(metres)} m/100 g", identify.by_grist(metres)))
    if yarn.wpi is not None:
        positive(yarn.wpi, "wraps per inch")
        clues.append(Clue(f"{number(yarn.wpi)} wraps per inch", identify.by_wpi(yarn.wpi)))
    if yarn.needle:
        millimetres = _millimetres(yarn.needle)
        in_mm = "" if yarn.needle.system == "mm" else f" ({millimetres:g} mm)"
        clues.append(Clue(f"{yarn.needle}{in_mm}", identify.by_needle(millimetres)))
    return clues


def stitches_to_4_in(gauge: Gauge) -> float:
    """Stitches to 4 in, not rounded."""
    positive(gauge.stitches, "sts")
    positive(gauge.over.value, gauge.over.unit)
    return gauge.stitches * Quantity(4, "in").to(gauge.over.unit).value / gauge.over.value


def _gauge_clue(gauge: Gauge) -> Clue:
    """Classes at the middle of the gauge, then at the ends of its range.

    The standard counts whole stitches to 4 in: a gauge counted over centimetres is rounded to them.
    """
    stitches = stitches_to_4_in(gauge)
    said = str(gauge)
    if gauge.over.unit not in IMPERIAL:
        said = f"{said} ({number(stitches)} to 4 in)"
        stitches = max(round(stitches), 1)
    half = gauge.spread * stitches / gauge.stitches
    found = identify.by_gauge(stitches)
    if 0 < half < stitches:
        found += identify.by_gauge(stitches - half) + identify.by_gauge(stitches + half)
    unique: dict[str, Candidate] = {}
    for candidate in found:
        unique.setdefault(candidate.weight_class.key, candidate)
    return Clue(said, list(unique.values()))


def metres_per_100_g(put_up: PutUp | None) -> float | None:
    """m per 100 g of a put-up."""
    if not put_up or not put_up.length or not put_up.mass:
        return None
    positive(put_up.length.value, put_up.length.unit)
    positive(put_up.mass.value, put_up.mass.unit)
    return put_up.length.to("m").value * 100 / put_up.mass.to("g").value


def _millimetres(needle: Needle) -> float:
    """The needle in mm; a Refusal where its system is not said or no table has it."""
    if needle.system == "mm":
        millimetres = float(needle.size)
        positive(millimetres, "mm")
        return millimetres
    if not needle.system:
        raise unclear(
            f"Is size {needle.size} a US or an old UK needle? Type for example: US {needle.size} needle, what weight."
        )
    rows = needles.by_us(needle.size) if needle.system == "us" else needles.by_uk(needle.size)
    if not rows:
        raise unclear(f"No needle table has {needle}. Type for example: US 8 needle, what weight.")
    return rows[0].mm


def whole_question(query: Query, cues: frozenset[str]) -> bool:
    """Whether a conversion is told whole, what and into what; or which weight is asked for, and clues to it told.

    A needle or a gauge, of which a table has all the others, is whole by itself: ``what size needle is US 7?``
    """
    told = any(yarn.put_up or yarn.gauge or yarn.wpi for yarn in query.both_sides)
    if "ask.identify" in cues and told:
        return True
    measured = query.measured
    if measured is None:
        return False
    tabled = bool(measured.needle or measured.gauge) and "ask.convert" in cues and "follow.again" not in cues
    told = bool(measured.amount or measured.needle or measured.count or measured.gauge)
    return tabled or (told and measured.into is not None)


def fitting(clues: list[Clue]) -> tuple[list[str], bool]:
    """Keys that every clue allows, nearest first by the surest clue; else those most allow, and False."""
    order = list(dict.fromkeys(key for clue in clues for key in clue.keys))
    votes = {key: sum(key in clue.keys for clue in clues) for key in order}
    most = max(votes.values())
    return [key for key in order if votes[key] == most], most == len(clues)
