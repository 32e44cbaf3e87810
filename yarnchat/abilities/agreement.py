"""Whether two statements of one fact agree: what check compares, naming both figures and the tolerance."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from math import isclose

from yarnchat.answers import Finding, Level
from yarnchat.fabric.densities import HALF_A_STITCH
from yarnchat.knowledge import needles
from yarnchat.knowledge.classes import Span, WeightClass, weight_class
from yarnchat.quantity import Quantity, number
from yarnchat.queries import Gauge, Needle, PutUp, Yarn

LABEL_ROUNDS = 0.015
"""Labels round: two figures for one thing may differ by this share (common practice, no source)."""
ERROR = 0.03
"""From this share on, two figures for one thing are no longer rounding (common practice, no source)."""
GRIST_SLACK = 0.2
"""Yarns are sold this far beyond the edges of the tables of grist, which differ too (common practice, no source)."""
STITCH = 1.0
"""A gauge may lie this many stitches to 4 in outside its class's range (common practice, no source)."""
WRAP = 1.0
"""Wraps per inch are counted to the whole wrap (common practice, no source)."""


@dataclass(slots=True)
class Report:
    """What was found, and what was held against what."""

    findings: list[Finding] = field(default_factory=list)
    compared: list[str] = field(default_factory=list)
    missed: list[str] = field(default_factory=list)
    """What could not be held against anything, with the figure that lacks."""
    remarks: list[str] = field(default_factory=list)
    """What is worth knowing and no sign of a slip."""

    def found(self, level: Level, text: str) -> None:
        """Add a finding."""
        self.findings.append(Finding(level=level, text=text))


def percent(share: float, digits: int = 1) -> str:
    """A share in percent, ``16.2 %``."""
    return f"{share * 100:.{digits}f} %"


def yarn(said: Yarn, report: Report) -> None:
    """Everything one yarn's label or line says of itself."""
    if said.put_up:
        put_up(said.put_up, report)
    if said.gauge and said.other_gauge:
        gauges(said.gauge, said.other_gauge, report)
    if said.needle and said.other_needle:
        same_needle(said.needle, said.other_needle, report)
    if said.weight_class:
        against_class(said, weight_class(said.weight_class), report)


def put_up(label: PutUp, report: Report) -> None:
    """Length against length and mass against mass, where a label gives each twice."""
    if label.length and label.other_length:
        report.compared.append("length in yards against length in metres")
        duals(label.length, label.other_length, report)
    if label.mass and label.other_mass:
        report.compared.append("ounces against grams")
        duals(label.mass, label.other_mass, report)


def lengths_of_one(yarns: Sequence[Yarn], report: Report) -> None:
    """One yarn's skein told in two lengths: ``50 g / 120 m per ball … 9 balls (130 m each)``."""
    labels = [yarn.put_up for yarn in yarns if yarn.put_up and yarn.put_up.length]
    alone = any(yarn == Yarn(put_up=yarn.put_up) for yarn in yarns)
    if len(labels) != 2 or len(yarns) != 2 or not alone:
        return
    one, other = labels
    masses = one.mass and other.mass and one.mass != other.mass
    if masses or one.length is None or other.length is None:
        return
    report.compared.append("the length of a skein against the same told again")
    if not isclose(one.length.to("m").value, other.length.to("m").value, rel_tol=LABEL_ROUNDS):
        report.found("error", f"A skein is {one.length} and {other.length}: it cannot be both.")


def rates(yarns: Sequence[Yarn], report: Report) -> None:
    """``50 g = 125 m, 400 g = 1250 m``: two masses of what may be one yarn, each with its length."""
    labels = [said.put_up for said in yarns if said.put_up and said.put_up.length and said.put_up.mass]
    classes = {said.weight_class for said in yarns if said.weight_class}
    names = {said.name for said in yarns if said.name}
    if len(labels) != 2 or len(classes) > 1 or len(names) > 1:
        return
    (per, of), (length, mass) = ((label.length, label.mass) for label in labels)
    if not (per and of and length and mass) or not (of.value and mass.value and per.value):
        return
    expected = Quantity(per.value * mass.to(of.unit).value / of.value, per.unit).to(length.unit)
    share = abs(length.value / expected.value - 1)
    report.compared.append("length per mass against length per mass")
    if share > LABEL_ROUNDS:
        report.found(
            "error" if share > ERROR else "doubt",
            f"{mass} at {labels[0]} is {expected}, not {length} "
            f"({percent(share)} apart; {percent(LABEL_ROUNDS)} passes).",
        )


def duals(first: Quantity, second: Quantity, report: Report) -> None:
    """One amount in two units: silent within the rounding of a label."""
    expected = first.to(second.unit)
    share = abs(expected.value / second.value - 1)
    if share <= max(LABEL_ROUNDS, _rounding(first), _rounding(second)):
        return
    level: Level = "error" if share > ERROR else "doubt"
    swapped = abs(Quantity(first.value, second.unit).to(first.unit).value / second.value - 1) <= LABEL_ROUNDS
    text = (
        f"{first} / {second}: {first} is {expected}, not {second} "
        f"({percent(share)} apart; labels round, up to {percent(LABEL_ROUNDS)} passes)."
    )
    if {first.unit, second.unit} == {"yd", "m"}:
        yards, metres = (first, second) if first.unit == "yd" else (second, first)
        if yards.value < metres.value:
            level = "error"
            text = f"{text} A length always has more yards than metres."
    if swapped:
        other_way = f"{number(second.value)} {first.unit} / {number(first.value)} {second.unit}"
        text = f"{text} The two numbers look swapped: {other_way} agrees."
    report.found(level, text)


def _rounding(amount: Quantity) -> float:
    """Half the last decimal digit of a figure, as a share; 0 for a whole number."""
    decimals = len(f"{amount.value:.6f}".rstrip("0").partition(".")[2])
    return 0.5 * 10.0**-decimals / amount.value if decimals else 0.0


def gauges(first: Gauge, second: Gauge, report: Report) -> None:
    """A gauge over inches against the same gauge over centimetres, stitches and rows."""
    report.compared.append(f"gauge over {first.over} against gauge over {second.over}")
    rate = second.over.to(first.over.unit).value / first.over.value
    pairs = [("sts", first.stitches, second.stitches)]
    if first.rows and second.rows:
        pairs.append(("rows", first.rows, second.rows))
    for what, one, other in pairs:
        slack = HALF_A_STITCH + first.spread + second.spread
        usual = {str(first.over), str(second.over)} == {"4 in", "10 cm"}
        if usual and one == other:
            apart = f"{number(one)} {what} to {first.over} is {number(one * rate)} {what} to {second.over}"
            report.remarks.append(f"{apart}, {percent(abs(rate - 1))} apart: both are used in the trade.")
            continue
        if abs(one * rate - other) <= slack:
            continue
        told = f"{number(one)} {what} to {first.over}"
        rated = "" if first.over == second.over else f" is {number(one * rate)} {what} to {second.over}"
        report.found("doubt", f"{told}{rated}, not {number(other)} (more than half a stitch apart).")


def same_needle(first: Needle, second: Needle, report: Report) -> None:
    """One needle in two systems, by every published table; two of one system are two needles."""
    if first.system == second.system:
        return
    report.compared.append("needle in one system against needle in the other")
    ones, others = _millimetres(first), _millimetres(second)
    if not ones or not others:
        unknown = first if not ones else second
        report.found("doubt", f"{unknown} is in no needle table.")
    elif not ones & others:
        should = " and ".join(
            f"{_sized(needle)} is {_called(needle, other.system, sizes)}"
            for needle, other, sizes in ((first, second, ones), (second, first, others))
        )
        report.found("error", f"{should}: no table has {_sized(first)} and {_sized(second)} as one.")


def _millimetres(needle: Needle) -> set[float]:
    """Every diameter in mm that a table gives this needle."""
    if needle.system == "mm":
        return {round(float(needle.size), 3)}
    rows = [*needles.by_us(needle.size)] if needle.system != "uk" else []
    rows += needles.by_uk(needle.size) if needle.system != "us" else []
    return {round(row.mm, 3) for row in rows}


def _sized(needle: Needle) -> str:
    return str(needle).removesuffix(" needle")


def _called(needle: Needle, system: str, sizes: set[float]) -> str:
    """A needle in another system, ``US 9``; in mm where that system has no such size or was not said."""
    if needle.system != "mm" or system not in ("us", "uk"):
        return _choices(sizes)
    rows = [row for size in sorted(sizes) for row in needles.by_mm(size)]
    found = [row.us if system == "us" else row.uk for row in rows]
    named = [f"{system.upper()} {size}" for size in dict.fromkeys(found) if size]
    return " or ".join(named) or f"no {system.upper()} size"


def _choices(sizes: set[float]) -> str:
    return " or ".join(f"{size:g} mm" for size in sorted(sizes))


def against_class(said: Yarn, named: WeightClass, report: Report) -> None:
    """Gauge, grist and wraps per inch against the published ranges of the class."""
    if said.gauge:
        _gauge_against(said.gauge, named, report)
    if said.put_up and said.put_up.length and said.put_up.mass:
        _grist_against(said.put_up.length, said.put_up.mass, named, report)
    if said.wpi:
        _wraps_against(said.wpi, named, report)


def _gauge_against(gauge: Gauge, named: WeightClass, report: Report) -> None:
    report.compared.append("gauge against the weight class")
    stitches = gauge.stitches * Quantity(4, "in").to(gauge.over.unit).value / gauge.over.value
    slack = STITCH + gauge.spread
    below = not named.gauge_open and stitches < named.gauge_low - slack
    if not below and stitches <= named.gauge_high + slack:
        return
    level: Level = "note" if named.key == "lace" and below else "doubt"
    looser = "; lace is often knit far looser than its class" if level == "note" else ""
    report.found(
        level,
        f"{gauge} ({number(stitches)} to 4 in) is outside {named.label}, {named.gauge} "
        f"sts to 4 in ({named.gauge_source}; 1 st either side passes){looser}.",
    )


def _grist_against(length: Quantity, mass: Quantity, named: WeightClass, report: Report) -> None:
    """Holds the length per mass against the class that is named, with some slack beyond the published span."""
    published = _widest(named.grist)
    if published is None:
        return
    report.compared.append("length per mass against the weight class")
    metres = length.to("m").value * 100 / mass.to("g").value
    below = published.low is not None and metres < published.low * (1 - GRIST_SLACK)
    above = published.high is not None and metres > published.high * (1 + GRIST_SLACK)
    if below or above:
        report.found(
            "doubt",
            f"{length} / {mass} is {number(metres)} m/100 g: "
            f"too {'thick' if below else 'thin'} for {named.label}, "
            f"{published} m/100 g in the published tables ({percent(GRIST_SLACK, 0)} beyond them passes).",
        )


def _wraps_against(wpi: float, named: WeightClass, report: Report) -> None:
    published = _widest(named.wpi)
    if published is None:
        return
    report.compared.append("wraps per inch against the weight class")
    below = published.low is not None and wpi < published.low - WRAP
    if below or (published.high is not None and wpi > published.high + WRAP):
        report.found(
            "doubt",
            f"{number(wpi)} wraps per inch is outside {named.label}, {published} in the published tables "
            "(1 wrap either side passes).",
        )


def classes(said: tuple[tuple[str, str], ...], report: Report) -> None:
    """The names of one yarn's weight: all of one class."""
    if not said:
        return
    report.compared.append("the names of the weight")
    words: dict[str, list[str]] = {}
    for key, word in said:
        words.setdefault(weight_class(key).label, []).append(word)
    if len(words) > 1:
        each = "; ".join(
            f"{' and '.join(called)} {'are' if len(called) > 1 else 'is'} {label}" for label, called in words.items()
        )
        report.found("doubt", f"The weight has names of {len(words)} classes: {each}.")


def _widest(spans: tuple[Span, ...]) -> Span | None:
    """What any of the tables allows; None where no table has the class."""
    if not spans:
        return None
    lows, highs = [span.low for span in spans], [span.high for span in spans]
    low = None if None in lows else min(low for low in lows if low is not None)
    high = None if None in highs else max(high for high in highs if high is not None)
    return Span(low, high, " and ".join(dict.fromkeys(span.source for span in spans)))
