"""What a check could not hold against anything, and the figure it lacked for it."""

from __future__ import annotations

from yarnchat.abilities.agreement import Report
from yarnchat.queries import Colour, PutUp, Query, Yarn


def note(query: Query, yarns: list[Yarn], label: PutUp | None, report: Report) -> None:
    """Every comparison that has one of its two sides, with what the other would have been."""
    for colour in query.colours:
        _amounts(colour, colour.put_up or label, report)
    for yarn in yarns:
        _against_class(yarn, report)
        if yarn.needle and not (yarn.other_needle and yarn.other_needle.system != yarn.needle.system):
            report.missed.append("the needle against another system (only one)")


def _amounts(colour: Colour, label: PutUp | None, report: Report) -> None:
    """Skeins against length takes the skeins, the length and what is on a skein."""
    units = {series.unit for series in colour.amounts}
    by_mass = bool(units & {"g", "oz", "lb", "kg"}) and not units & {"yd", "m"}
    told = {
        "skeins": "skein" in units,
        "mass" if by_mass else "length": bool(units - {"skein"}),
        "put-up": bool(label and (label.mass if by_mass else label.length)),
    }
    lacking = [f"no {what}" for what, said in told.items() if not said]
    if lacking and (told["skeins"] or len(lacking) == 1):
        of = f"{colour.name}: " if colour.name else ""
        report.missed.append(f"{of}skeins against {'mass' if by_mass else 'length'} ({', '.join(lacking)})")


def _against_class(yarn: Yarn, report: Report) -> None:
    """Gauge and length per mass are held against a class."""
    wound = yarn.put_up and yarn.put_up.length and yarn.put_up.mass
    if yarn.gauge and not yarn.weight_class:
        report.missed.append("gauge against the weight class (no weight class)")
    elif yarn.weight_class and not yarn.gauge:
        report.missed.append("gauge against the weight class (no gauge)")
    if wound and not yarn.weight_class:
        report.missed.append("length per mass against the weight class (no weight class)")
    elif yarn.weight_class and not wound:
        report.missed.append("length per mass against the weight class (no put-up)")
