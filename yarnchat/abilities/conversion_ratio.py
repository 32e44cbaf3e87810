"""How many metres of one yarn replace a metre of another: yarns per area divided, and the cautions beside that."""

from __future__ import annotations

from dataclasses import dataclass

from yarnchat.abilities import agreement
from yarnchat.abilities.clues import metres_per_100_g
from yarnchat.abilities.known_densities import called, density, offsets, short_source
from yarnchat.abilities.remembered import Memory
from yarnchat.answers import Ratio
from yarnchat.fabric.densities import Density, beside_swatch
from yarnchat.fabric.grist import tex_of
from yarnchat.fabric.identify import by_grist
from yarnchat.fabric.loops import loop_length, stitch_density
from yarnchat.fabric.ratios import SAME_GAUGE, ratio
from yarnchat.fabric.strands import USUAL_TIGHTNESS, tightness, tightness_word
from yarnchat.knowledge.classes import name_caution, pair_caution, weight_class
from yarnchat.quantity import number, to_figures
from yarnchat.queries import Gauge, Yarn
from yarnchat.refusals import unclear

CLEARLY = 2
"""Classes apart from which on a label belongs clearly to another weight (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Conversion:
    """How a length in one yarn becomes one in another: the ratio a strand, and the strands of both sides."""

    ratio: Ratio
    held: int
    """Strands of the new yarn held together."""
    shown: int
    """Strands of its yarn that the pattern holds together."""
    working: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()

    @property
    def factor(self) -> float:
        """New yarn in all over the pattern's yarn in all."""
        return self.ratio.value * self.held / self.shown

    @property
    def low(self) -> float:
        """The low end of ``factor``."""
        return self.ratio.low * self.held / self.shown

    @property
    def high(self) -> float:
        """The high end of ``factor``."""
        return self.ratio.high * self.held / self.shown


def conversion(pattern: Yarn, yarn: Yarn, same_gauge: bool, known: Memory) -> Conversion:
    """What turns the pattern's length into the yarn's; a Refusal that asks for a missing weight or gauge.

    Ratio 1 without a word where one yarn is told, or nothing of how either is knitted. Else the first that applies:
    same gauge (or one class and no gauge), a gauge given, her swatches, the classes.
    """
    held, shown = yarn.strands or 1, pattern.strands or 1
    weight_known = _weight_known(pattern, known) or _weight_known(yarn, known)
    if pattern == yarn or not (weight_known or same_gauge):
        return Conversion(SAME_GAUGE, held, shown)
    if same_gauge:
        _same_gauge_agrees(pattern, yarn)
    why = _KEPT if same_gauge else _kept(pattern, yarn, known)
    if why:
        _strands_can_match(pattern, yarn)
        cautions = (*_assumed(pattern, yarn, same_gauge), *_cautions(pattern, yarn, kept=True))
        return Conversion(SAME_GAUGE, held, shown, (why,), cautions)
    theirs, hers = _pair(pattern, yarn, known)
    found = ratio(theirs, hers)
    working = (
        f"pattern, {short_source(theirs)}",
        f"yours, {short_source(hers)}",
        f"ratio: {to_figures(hers.value, 4)} / {to_figures(theirs.value, 4)} cm/cm² = {_said(found)}",
    )
    return Conversion(found, held, shown, working, _cautions(pattern, yarn, kept=False))


def _strands_can_match(pattern: Yarn, yarn: Yarn) -> None:
    """A Refusal where more strands of the thicker yarn are to knit to the gauge of fewer of the thinner one."""
    if not (pattern.weight_class and yarn.weight_class) or (pattern.gauge and yarn.gauge):
        return
    more, fewer = sorted((pattern, yarn), key=lambda side: -(side.strands or 1))
    if (more.strands or 1) == (fewer.strands or 1):
        return
    thicker, thinner = weight_class(more.weight_class or ""), weight_class(fewer.weight_class or "")
    if thicker.mid_gauge < thinner.mid_gauge:
        raise unclear(
            f"{_strands(more.strands or 1)} told of {thicker.label}, which is thicker than {thinner.label} by itself: "
            "they cannot knit to one gauge. Which yarn is held together? Type for example: 900 yd worsted pattern in "
            "fingering held double, same gauge, 420 yd/100 g."
        )


_KEPT = "ratio 1: the pattern's gauge is kept, so length carries over"


def _weight_known(yarn: Yarn, known: Memory) -> bool:
    """Whether a gauge, a class, a swatch or several strands tell how this yarn is knitted."""
    return (yarn.strands or 1) > 1 or density(yarn, known) is not None


def _said(found: Ratio) -> str:
    return f"{to_figures(found.value)} ({found.low:.2f}–{found.high:.2f})"


def _pair(pattern: Yarn, yarn: Yarn, known: Memory) -> tuple[Density, Density]:
    """Both sides, a class default shifted by how she knits where the other side is her swatch."""
    theirs, hers = density(pattern, known), density(yarn, known)
    if theirs is None:
        raise unclear(ask_pattern(pattern))
    if hers is None:
        raise unclear(_ask_yarn(yarn))
    if (theirs.basis, hers.basis) == ("swatch", "default"):
        return beside_swatch(theirs, offsets(known), hers)
    if (theirs.basis, hers.basis) == ("default", "swatch"):
        hers, theirs = beside_swatch(hers, offsets(known), theirs)
    return theirs, hers


def _kept(pattern: Yarn, yarn: Yarn, known: Memory) -> str | None:
    """Why length carries over as it is, where nobody said so; None where a ratio must be found."""
    held, shown = yarn.strands or 1, pattern.strands or 1
    one_class = pattern.weight_class is not None and pattern.weight_class == yarn.weight_class
    if held > 1 or shown > 1:
        return _kept_strands(pattern, yarn, one_class)
    if one_class and not any(side.gauge and not _of_label(side, known) for side in (pattern, yarn)):
        return f"ratio 1: both are {weight_class(yarn.weight_class or '').label}, so length carries over"
    theirs, hers = density(pattern, known), density(yarn, known)
    if theirs and hers:
        return None
    if yarn.gauge:
        raise unclear(ask_pattern(pattern))
    for unsaid, said in ((yarn, pattern), (pattern, yarn)):
        if said.weight_class:
            _ask_if_another_weight(unsaid, said.weight_class)
    if yarn.name and not yarn.put_up:
        raise unclear(f"What weight is {yarn.name}? Type for example: it is DK, 230 yd a skein.", yarn.name)
    return "ratio 1: taken as knit to the pattern's gauge"


def _of_label(yarn: Yarn, known: Memory) -> bool:
    """Whether a yarn's gauge is no other than the one remembered of it: nobody gives one by that."""
    return known.complete(Yarn(name=yarn.name)).gauge == yarn.gauge


def _kept_strands(pattern: Yarn, yarn: Yarn, one_class: bool) -> str | None:
    """Why the strands of a side are taken to keep the pattern's gauge; None where gauges or a class tell the ratio.

    A Refusal where both are held alike and are of two weights: the class of neither is that of its strands.
    """
    held, shown = yarn.strands or 1, pattern.strands or 1
    if pattern.gauge and yarn.gauge:
        return None
    if yarn.gauge:
        if shown == 1 and pattern.weight_class:
            return None
        raise unclear(ask_pattern(pattern))
    if pattern.gauge and held == 1 and yarn.weight_class:
        return None
    if held == shown and not one_class and pattern.weight_class and yarn.weight_class:
        raise unclear(
            f"Both yarns are held {held} together and are of different weights, so their gauges are missing. "
            "Type for example: same gauge, or: the pattern has 18 sts to 4 in and I get 16."
        )
    return f"ratio 1 a strand: {_strands(held)} taken to match the pattern's gauge"


def _strands(count: int) -> str:
    return "1 strand is" if count == 1 else f"{count} strands together are"


def _same_gauge_agrees(pattern: Yarn, yarn: Yarn) -> None:
    """A Refusal where the same gauge was asked for and two different ones were given."""
    if not pattern.gauge or not yarn.gauge:
        return
    share = yarn.gauge.over.to(pattern.gauge.over.unit).value / pattern.gauge.over.value
    if abs(pattern.gauge.stitches * share - yarn.gauge.stitches) > 0.5 + pattern.gauge.spread + yarn.gauge.spread:
        raise unclear(
            f"Same gauge, or two? The pattern has {pattern.gauge} and yours is {yarn.gauge}. "
            "Type for example: I knit to the pattern's gauge.",
            str(yarn.gauge),
        )


def ask_pattern(pattern: Yarn) -> str:
    """The question for the weight of the pattern's yarn, with what its label suggests."""
    return (
        f"What weight or gauge is the pattern's yarn{_hint(pattern)}? "
        "Type for example: the pattern is in worsted, or: the pattern has 18 sts to 4 in."
    )


def _ask_yarn(yarn: Yarn) -> str:
    return f"What weight or gauge is your yarn{_hint(yarn)}? Type for example: it is DK, or: I get 22 sts to 4 in."


def _hint(yarn: Yarn) -> str:
    """What its length per mass suggests, in brackets, where a label gives one."""
    grist = metres_per_100_g(yarn.put_up)
    if grist is None:
        return ""
    names = " or ".join(row.weight_class.label for row in by_grist(grist))
    return f" ({yarn.put_up} is usual for {names})"


def _ask_if_another_weight(unsaid: Yarn, key: str) -> None:
    """A Refusal where the label of a yarn whose weight nobody said belongs clearly to another class."""
    grist = metres_per_100_g(unsaid.put_up)
    if grist is None:
        return
    number_said = weight_class(key).number
    likely = [row.weight_class for row in by_grist(grist)]
    if all(abs(row.number - number_said) >= CLEARLY for row in likely):
        names = " or ".join(row.label for row in likely)
        raise unclear(
            f"What weight is the yarn of {unsaid.put_up}? That is usual for {names}, "
            f"far from {weight_class(key).label}. "
            f"Type for example: it is {likely[0].label}, or: same gauge as the pattern."
        )


def _assumed(pattern: Yarn, yarn: Yarn, same_gauge: bool) -> list[str]:
    """What was taken for granted where length carries over and nobody said the gauge is kept."""
    if same_gauge:
        return []
    held, shown = yarn.strands or 1, pattern.strands or 1
    if held > 1 or shown > 1:
        one = "1 strand is" if held == 1 else f"{held} strands held together are"
        return [f"{one} taken to match the pattern's gauge: check with a swatch."]
    said = [side for side in (pattern, yarn) if side.weight_class or side.gauge]
    if len(said) != 1:
        return []
    gauge = called(said[0]) or said[0].gauge
    return [f"Taken to be knit to the gauge of {gauge}, as the pattern is; if not, say its weight."]


def _cautions(pattern: Yarn, yarn: Yarn, kept: bool) -> tuple[str, ...]:
    """Cautions about classes, labels and tightness, only where they apply."""
    found: list[str | None] = []
    words = [side.class_as_said for side in (pattern, yarn) if side.class_as_said]
    if len(words) == 2 and not (pattern.gauge and yarn.gauge):
        found.append(pair_caution(*words))
    for side, other in ((pattern, yarn), (yarn, pattern)):
        if side.weight_class and not side.gauge:
            if not kept and side.weight_class != other.weight_class:
                found.append(weight_class(side.weight_class).caution)
            found.append(name_caution(side.class_as_said or ""))
            found += label_doubts(side)
    found.append(_tightness(pattern, yarn, kept))
    return tuple(dict.fromkeys(text for text in found if text))


def label_doubts(yarn: Yarn) -> list[str]:
    """Where a label's length per mass is out of its class's range."""
    if not yarn.weight_class:
        return []
    report = agreement.Report()
    agreement.against_class(Yarn(put_up=yarn.put_up), weight_class(yarn.weight_class), report)
    return [finding.text for finding in report.findings]


def _tightness(pattern: Yarn, yarn: Yarn, kept: bool) -> str | None:
    """Whether the yarn will knit up stiff or flimsy, where the gauge it is to be knit at was given."""
    gauge = yarn.gauge or (pattern.gauge if kept else None)
    label = yarn.put_up
    if not gauge or not label or not label.length or not label.mass:
        return None
    tex = tex_of(label.length.to("m").value, label.mass.to("g").value) * (yarn.strands or 1)
    k = tightness(tex, loop_length(_stitch_density(gauge)))
    word = tightness_word(k)
    if word == "usual":
        return None
    low, high = USUAL_TIGHTNESS
    feel = "loose and flimsy" if word == "open" else "dense and stiff"
    return f"At {gauge} this yarn will be {feel}: tightness {k:.1f} √tex/cm, usual is {number(low)}–{number(high)}."


def _stitch_density(gauge: Gauge) -> float:
    over = gauge.over.to("cm").value
    return stitch_density(gauge.stitches / over, gauge.rows / over if gauge.rows else None)
