"""Identify: the weight classes a yarn may be, from its gauge, length per mass, wraps per inch and needle."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from math import isclose

from yarnchat.abilities.base import Ability, Context, Draft, Frame
from yarnchat.answers import Amount
from yarnchat.fabric import grist, identify, loops, strands
from yarnchat.fabric.identify import Candidate
from yarnchat.knowledge import needles
from yarnchat.knowledge.classes import WeightClass, name_caution, weight_class
from yarnchat.quantity import Quantity, number
from yarnchat.queries import Gauge, Measured, Needle, PutUp, Query, Yarn
from yarnchat.refusals import refused, unclear

PER_4_IN = "sts to 4 in"


@dataclass(frozen=True, slots=True)
class Clue:
    """One thing known of the yarn, in words, and the classes it allows, nearest first."""

    said: str
    candidates: list[Candidate]

    @property
    def keys(self) -> list[str]:
        """The keys of those classes."""
        return [candidate.weight_class.key for candidate in self.candidates]


def answer(query: Query, _context: Context) -> Draft:
    """The classes that fit every clue; where no class does, those that fit most, with a caution."""
    yarn = _known(query)
    clues = _clues(yarn)
    if not clues:
        return _class_named(query)
    keys, agreed = _together(clues)
    labels = [weight_class(key).label for key in keys]
    draft = Draft(f"{_headline(labels, agreed)}, by {_listed(clue.said for clue in clues)}.")
    draft.figures["weight_class"] = labels
    draft.figures["gauge"] = _gauge(yarn.gauge, weight_class(keys[0]))
    draft.working = [
        f"{clue.said}: {candidate.reason}"
        for clue in clues
        for candidate in clue.candidates
        if candidate.weight_class.key in keys
    ][:6]
    if not agreed:
        each = "; ".join(f"{clue.said}: {_listed(_labels(clue.keys), 'or')}" for clue in clues)
        draft.cautions.append(f"The clues do not agree ({each}): check them, the gauge you get counts most.")
    elif len(keys) > 1:
        draft.cautions.append("The published ranges overlap here: knit a swatch to choose between them.")
    if "lace" in keys:
        draft.cautions.append(weight_class("lace").caution or "")
    _tightness(yarn, draft)
    return draft


def _known(query: Query) -> Yarn:
    """Everything said of the yarn, whichever side it was put on: the first gauge, put-up, wpi, needle."""
    measured = query.measured or Measured()
    swatched = [query.swatch.yarn] if query.swatch else []
    yarns = [*query.yarns, query.pattern, *(held.yarn for held in (*query.stash, *query.used)), *swatched]
    return Yarn(
        put_up=next((yarn.put_up for yarn in yarns if _rated(yarn.put_up)), None) or _counted(measured),
        gauge=next((yarn.gauge for yarn in yarns if yarn.gauge), measured.gauge),
        needle=next((yarn.needle for yarn in yarns if yarn.needle), measured.needle),
        wpi=next((yarn.wpi for yarn in yarns if yarn.wpi is not None), None),
    )


def _rated(put_up: PutUp | None) -> bool:
    """Whether a put-up says how long a mass of it is."""
    return bool(put_up and put_up.length and put_up.mass)


def _counted(measured: Measured) -> PutUp | None:
    """A yarn number as the length of 100 g."""
    if measured.count is None:
        return None
    value, system = measured.count
    _positive(value, "A yarn number")
    try:
        metres = grist.convert(value, system.removesuffix(" count"), "m/100 g")
    except KeyError:
        return None
    return PutUp(Quantity(metres, "m"), Quantity(100, "g"))


def _positive(value: float, what: str) -> None:
    if value <= 0:
        raise refused(f"{what} of {number(value)} cannot be: it must be more than zero.")


def _clues(yarn: Yarn) -> list[Clue]:
    """What each measure says, the surest first."""
    clues = []
    if yarn.gauge:
        stitches = _to_4_in(yarn.gauge)
        said = str(yarn.gauge)
        if not isclose(stitches, yarn.gauge.stitches, rel_tol=1e-9):
            said = f"{said} ({number(stitches)} to 4 in)"
        clues.append(Clue(said, _by_gauge(yarn.gauge)))
    metres = _metres(yarn.put_up)
    if metres:
        clues.append(Clue(f"{number(metres)} m/100 g", identify.by_grist(metres)))
    if yarn.wpi is not None:
        _positive(yarn.wpi, "A number of wraps")
        clues.append(Clue(f"{number(yarn.wpi)} wraps per inch", identify.by_wpi(yarn.wpi)))
    if yarn.needle:
        millimetres = _millimetres(yarn.needle)
        said = _needle_said(yarn.needle, millimetres)
        clues.append(Clue(said, identify.by_needle(millimetres)))
    return clues


def _to_4_in(gauge: Gauge) -> float:
    """Stitches to 4 in; over 10 cm they are taken as they are, as labels do, since classes are in whole stitches."""
    _positive(gauge.stitches, "A gauge")
    _positive(gauge.over.value, "A length")
    if gauge.over == Quantity(10, "cm"):
        return gauge.stitches
    return gauge.stitches * Quantity(4, "in").to(gauge.over.unit).value / gauge.over.value


def _by_gauge(gauge: Gauge) -> list[Candidate]:
    """Classes at the middle of the gauge, and where a range was given at its ends."""
    middle = _to_4_in(gauge)
    half = gauge.spread * middle / gauge.stitches
    found = identify.by_gauge(middle)
    if half and half < middle:
        found += identify.by_gauge(middle - half) + identify.by_gauge(middle + half)
    return list({candidate.weight_class.key: candidate for candidate in reversed(found)}.values())[::-1]


def _metres(put_up: PutUp | None) -> float | None:
    """m per 100 g of a put-up."""
    if not put_up or not put_up.length or not put_up.mass:
        return None
    _positive(put_up.length.value, "A length")
    _positive(put_up.mass.value, "A mass")
    return put_up.length.to("m").value * 100 / put_up.mass.to("g").value


def _millimetres(needle: Needle) -> float:
    """The needle in mm; a Refusal where its system is not said or no table has it."""
    if needle.system == "mm":
        millimetres = float(needle.size)
        _positive(millimetres, "A needle")
        return millimetres
    if not needle.system:
        raise unclear(
            f"Is size {needle.size} a US or an old UK needle? Type for example: US {needle.size} needle, what weight."
        )
    rows = needles.by_us(needle.size) if needle.system == "us" else needles.by_uk(needle.size)
    if not rows:
        raise unclear(f"No needle table has {needle}. Type for example: US 8 needle, what weight.")
    return rows[0].mm


def _needle_said(needle: Needle, millimetres: float) -> str:
    return str(needle) if needle.system == "mm" else f"{needle} ({millimetres:g} mm)"


def _together(clues: list[Clue]) -> tuple[list[str], bool]:
    """The keys every clue allows, nearest first by the surest clue; else those most clues allow, and False."""
    order = list(dict.fromkeys(key for clue in clues for key in clue.keys))
    votes = {key: sum(key in clue.keys for clue in clues) for key in order}
    most = max(votes.values())
    return [key for key in order if votes[key] == most], most == len(clues)


def _headline(labels: list[str], agreed: bool) -> str:
    if len(labels) == 1:
        return f"{labels[0]} weight" if agreed else f"Probably {labels[0]} weight"
    return f"{'both ' if len(labels) == 2 and agreed else ''}{_listed(labels, 'and' if agreed else 'or')}"


def _listed(words: Iterable[str], last: str = "and") -> str:
    """Words in a row: a, b and c."""
    *others, final = words
    return f"{', '.join(others)} {last} {final}" if others else final


def _labels(keys: list[str]) -> list[str]:
    return [weight_class(key).label for key in keys]


def _gauge(given: Gauge | None, named: WeightClass) -> Amount:
    """The gauge given, or the class's with its range."""
    if given:
        return Amount(value=_to_4_in(given), unit=PER_4_IN)
    return Amount(value=named.mid_gauge, unit=PER_4_IN, low=named.gauge_low, high=named.gauge_high)


def _tightness(yarn: Yarn, draft: Draft) -> None:
    """How dense the fabric is, where gauge and grist are both known."""
    metres = _metres(yarn.put_up)
    if not yarn.gauge or not metres:
        return
    over = yarn.gauge.over.to("cm").value
    rows = yarn.gauge.rows / over if yarn.gauge.rows else None
    loop = loops.loop_length(loops.stitch_density(yarn.gauge.stitches / over, rows))
    tex = grist.tex_of(metres, 100)
    factor = strands.tightness(tex, loop)
    word = strands.tightness_word(factor)
    draft.figures["tightness"] = word
    low, high = strands.USUAL_TIGHTNESS
    draft.working.append(
        f"tightness √{number(tex)} tex / {number(loop)} cm a stitch = {number(factor)}: {word} "
        f"(hand-knits {low:g} to {high:g}, common practice)"
    )
    if word != "usual":
        draft.cautions.append(f"At that gauge the fabric will be {word}: {_FEEL[word]}.")


_FEEL = {"open": "loose and see-through", "dense": "firm and stiff"}


def _class_named(query: Query) -> Draft:
    """What the standard says of a class that was only named."""
    yarns = [*query.yarns, query.pattern, *(held.yarn for held in query.stash)]
    named = [yarn for yarn in yarns if yarn.weight_class]
    if not named:
        raise unclear(
            "What is known of the yarn? A gauge, wraps per inch, length per mass or needle would do. "
            "Type for example: what weight is 22 sts to 4 in?"
        )
    found = weight_class(named[0].weight_class or "")
    said = named[0].class_as_said or found.label
    draft = Draft(f"{said} is class {found.number} of the standard, {found.label}: {found.gauge} {PER_4_IN}.")
    draft.figures["weight_class"] = [found.label]
    draft.figures["gauge"] = _gauge(None, found)
    draft.working = [
        f"gauge {found.gauge} {PER_4_IN} ({found.gauge_source})",
        f"needle {found.needle} mm, US {found.needle_us} ({found.needle_source})",
        *(f"{span} wraps per inch ({span.source})" for span in found.wpi),
        *(f"{span} m/100 g ({span.source})" for span in found.grist),
    ]
    draft.cautions = [caution for caution in (found.caution, name_caution(said)) if caution]
    return draft


ABILITY = Ability(
    name="identify",
    summary="Say what weight class a yarn is, from its gauge, length per mass, wraps per inch or needle.",
    examples=(
        "what weight is 22 sts to 4 in?",
        "no label: 11 wraps per inch, 200 m per 100 g, what is it?",
        "which weight goes with US 10 needles?",
        "what gauge is aran?",
    ),
    frames=(
        Frame(
            35,
            slots=(
                "yarn.gauge|pattern.gauge|stash.gauge|yarn.wpi|pattern.wpi|stash.wpi|yarn.needle|pattern.needle|"
                "stash.needle|yarn.put_up|pattern.put_up|stash.put_up|measured",
            ),
            cues=("identify",),
        ),
        Frame(34, slots=("yarn.weight_class|pattern.weight_class|stash.weight_class",), cues=("identify",)),
        Frame(33, slots=("yarn.wpi|pattern.wpi|stash.wpi",), without=("need",)),
        Frame(12, cues=("identify",)),
    ),
    uses=frozenset({"yarn", "pattern", "stash", "used", "swatch", "measured"}),
    answer=answer,
)
