"""What to buy for a length: whole skeins, the spare, the mass, the cost, and the sentences that say so."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from yarnchat.abilities import agreement
from yarnchat.abilities.needs import Estimate
from yarnchat.answers import Amount, Figures
from yarnchat.fabric.skeins import Purchase, purchase
from yarnchat.quantity import LENGTHS, MASSES, Quantity, is_length, number
from yarnchat.queries import Price, PutUp, Yarn
from yarnchat.refusals import unclear

UNITS = (*LENGTHS, *MASSES)
ESTIMATES = "These are estimates: knit, wash and block a swatch first."
ONE_LOT = "Buy everything of one dye lot, the spare included: another lot may not match."


@dataclass(frozen=True, slots=True)
class Basket:
    """What an amount comes to in a yarn: a length, or a mass where no length is known."""

    amount: Estimate
    unit: str
    each: Quantity | None = None
    """What is on one skein, as its label says it."""
    bought: Purchase | None = None
    mass: Amount | None = None
    cost: Price | None = None

    def figures(self) -> Figures:
        """Length (or mass), skeins, spare, mass and cost, as far as they are known."""
        found: Figures = {"length" if is_length(self.unit) else "mass": self.amount.figure(self.unit)}
        if self.bought:
            found |= {"skeins": self.bought.skeins, "spare": self.bought.spare}
        if self.mass:
            found["mass"] = self.mass
        if self.cost:
            found["cost"] = Amount(value=self.cost.value, unit=self.cost.sign)
        return found


def basket(
    amount: Estimate,
    unit: str,
    yarn: Yarn,
    spares: int,
    main_colour: bool = True,
    mass_unit: str | None = None,
) -> Basket:
    """What an amount in ``unit`` comes to; a contrast colour has a spare only where its high end needs it."""
    label = (yarn.put_up or PutUp()).told_in(unit)
    each = label.length if is_length(unit) else label.mass
    if not each:
        return Basket(amount, unit)
    per_skein = each.to(unit).value
    mass = None
    if label.mass and is_length(unit):
        weight = label.mass.to(mass_unit or label.mass.unit)
        mass = amount.times(weight.value / per_skein).figure(weight.unit)
    if not label.per_skein:
        return Basket(amount, unit, mass=mass)
    bought = purchase(amount.value, amount.high, per_skein, main_colour, spares)
    cost = Price(yarn.price.value * bought.total, yarn.price.sign) if yarn.price else None
    return Basket(amount, unit, each, bought, mass, cost)


def ask_for_put_up(yarn: Yarn, want: str | None, unit: str) -> None:
    """A Refusal where skeins or a cost are asked for and the put-up, in ``unit``, or the price is missing."""
    label = yarn.put_up or PutUp()
    whose = f" of {yarn.name or yarn.class_as_said}" if yarn.name or yarn.class_as_said else ""
    each = label.length if is_length(unit) else label.mass
    if want in ("skeins", "cost") and not (each and label.per_skein):
        raise unclear(
            f"How much is on one skein{whose}? Its put-up is missing. "
            "Type for example: 230 yd a skein, or: 50 g/120 m balls.",
            missing="yarn.put_up",
        )
    if want == "cost" and not yarn.price:
        raise unclear(f"What does one skein{whose} cost? Type for example: £6.50 a ball.")


def sound_label(label: PutUp | None) -> None:
    """A Refusal where a label gives its length or mass twice and the two cannot both be true."""
    if not label:
        return
    report = agreement.Report()
    agreement.put_up(label, report)
    wrong = [finding.text for finding in report.findings if finding.level == "error"]
    if wrong:
        raise unclear(f"{wrong[0]} Which of the two is right?")


def skeins_said(count: int) -> str:
    """``1 skein``, ``5 skeins``."""
    return f"{count:,} skein{'' if count == 1 else 's'}"


def count_said(count: float) -> str:
    """Skeins held, which need not be whole: ``4.5 skeins``."""
    return f"{number(count)} skein{'' if count == 1 else 's'}"


def and_spares(spares: int) -> str:
    """The spares in words, to stand behind the skeins: `` and 1 spare``, `` and 2 spares``, nothing for none."""
    return f" and {spares} spare{'' if spares == 1 else 's'}" if spares else ""


def spares_said(bought: Purchase) -> str:
    """Skeins and spares in words: ``5 skeins and 1 spare``."""
    return f"{skeins_said(bought.skeins)}{and_spares(bought.spare)}"


def cover(found: Basket) -> str:
    """Whether what is bought reaches the high end of the range."""
    if not found.bought or found.amount.exact:
        return ""
    if found.bought.covers_high is None:
        return f", which {skeins_said(found.bought.total)} cover{'s' if found.bought.total == 1 else ''}"
    return f", whose high end takes {skeins_said(found.bought.covers_high)}"


def headline(found: Basket, of: str, parts: str = "") -> str:
    """What to buy of a yarn, in one sentence; ``parts`` says what the length is made up of, where that is told."""
    of = f" of {of}" if of else ""
    length = parts or found.amount.said(found.unit)
    if not found.bought:
        return f"You need {length}{of}."
    lot = " of one dye lot" if found.bought.total > 1 else ""
    cost = f", {found.cost}" if found.cost else ""
    return f"Buy {spares_said(found.bought)}{lot}{cost}: {length}{of}{cover(found)}."


def headline_of_several(named: Sequence[tuple[str, Basket]], of: str) -> str:
    """What to buy for each size or colour, in one sentence."""
    of = f" of {of}" if of else ""
    first = named[0][1]
    if not first.bought:
        lengths = ", ".join(f"{name}: {number(found.amount.value)}" for name, found in named)
        return f"You need{of}, in {first.unit}: {lengths}."
    each = [f"{name}: {found.bought.skeins}" for name, found in named if found.bought]
    spares = {found.bought.spare for _, found in named if found.bought}
    if len(spares) == 1 and spares != {0}:
        return f"Buy skeins{of},{and_spares(spares.pop())} for each: {', '.join(each)}."
    each = [f"{name}: {found.bought.skeins}{and_spares(found.bought.spare)}" for name, found in named if found.bought]
    return f"Buy skeins{of}, each colour of one dye lot: {', '.join(each)}."


def steps(found: Basket, yarn: Yarn) -> list[str]:
    """How skeins, mass and cost came about, one line each."""
    amount = f"{number(found.amount.value)} {found.unit}"
    label = yarn.put_up
    lines: list[str] = []
    if found.bought and found.each:
        count = found.amount.value / found.each.to(found.unit).value
        spares = f",{and_spares(found.bought.spare)}" if found.bought.spare else ""
        each = _beside(found.each, found.unit)
        lines.append(f"{amount} / {each} a skein = {_close(count)}: {skeins_said(found.bought.skeins)}{spares}")
    if found.mass and label and label.length:
        length = _beside(label.length, found.unit)
        lines.append(f"{amount} × {label.mass} / {length} = {number(found.mass.value)} {found.mass.unit}")
    if found.cost and found.bought and yarn.price:
        lines.append(f"{skeins_said(found.bought.total)} × {yarn.price} = {found.cost}")
    return lines


def _beside(amount: Quantity, unit: str) -> str:
    """An amount, and in brackets what it is in the unit it is divided by, where that is another."""
    other = amount.unit != unit and is_length(amount.unit) == is_length(unit)
    return f"{amount} ({amount.to(unit)})" if other else str(amount)


def in_unit(unit: str, want: str | None) -> str:
    """The unit an amount is given in: the one asked for where it measures the same, else its own."""
    return want if want in UNITS and is_length(want) == is_length(unit) else unit


def mass_unit(want: str | None) -> str | None:
    """The unit a mass is asked for in, if any."""
    return want if want in MASSES else None


def _close(count: float) -> str:
    """A count with enough digits to show why it is rounded up."""
    digits = next((digits for digits in (2, 3, 4) if round(count, digits) != round(count)), 2)
    return f"{count:,.{digits}f}"
