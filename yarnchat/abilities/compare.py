"""Compare: what several candidate yarns come to for one pattern, which is cheapest, which wastes least."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import reduce
from math import isclose

from yarnchat.abilities import buying, plans, prices, sanity
from yarnchat.abilities.base import Ability, Context, Draft, Frame, Talk
from yarnchat.abilities.conversion_ratio import ask_pattern
from yarnchat.abilities.known_densities import called
from yarnchat.abilities.needs import Estimate, needs
from yarnchat.abilities.plans import Plan
from yarnchat.abilities.remembered import memory
from yarnchat.answers import Amount, Figures, Part
from yarnchat.fabric.skeins import left_over
from yarnchat.quantity import number, to_figures
from yarnchat.queries import Price, Query, Yarn
from yarnchat.refusals import unclear

MOST = 6
EXAMPLE = "Type for example: compare DK at 230 yd a skein with sport at 325 yd a skein for 1200 yd of worsted."


@dataclass(frozen=True, slots=True)
class Total:
    """What one yarn comes to in one size, all colours together; counts only where its put-up is known."""

    name: str
    unit: str
    length: Estimate
    mass: Amount | None
    skeins: int | None = None
    spare: int = 0
    left_over: float = 0.0
    cost: Price | None = None

    def figures(self) -> Figures:
        """The figures of this candidate."""
        found: Figures = {"length": self.length.figure(self.unit)}
        if self.skeins is not None:
            left = Amount(value=self.left_over, unit=self.unit)
            found |= {"skeins": self.skeins, "spare": self.spare, "left_over": left}
        if self.mass:
            found["mass"] = self.mass
        if self.cost:
            found["cost"] = Amount(value=self.cost.value, unit=self.cost.sign)
        return found

    def said(self) -> str:
        """In a few words: ``DK: 1,500 yd, 7 skeins and 1 spare, $96.00``."""
        parts = [f"{number(self.length.value)} {self.unit}"]
        if self.skeins is not None:
            parts.append(f"{buying.skeins_said(self.skeins)}{buying.and_spares(self.spare)}")
            parts.append(f"{number(self.left_over)} {self.unit} over")
        if self.cost:
            parts.append(str(self.cost))
        return f"{self.name}: {', '.join(parts)}"


def answer(query: Query, context: Context) -> Draft:
    """Every candidate's length, skeins, spare, mass, cost and what is left over, for every size."""
    sanity.sane(query)
    if not 2 <= len(query.yarns) <= MOST:
        raise unclear(f"Which yarns should be compared? Name 2 to {MOST}. {EXAMPLE}")
    known = memory(context)
    pattern = known.complete(query.pattern)
    if not query.colours and pattern == Yarn() and all(yarn.price and yarn.put_up for yarn in query.yarns):
        priced = [known.complete(yarn) for yarn in query.yarns]
        return prices.draft(priced, names(priced))
    need = needs(query)
    yarns = [known.complete(yarn) for yarn in query.yarns]
    classes = {yarn.weight_class for yarn in yarns}
    unsaid = [yarn for yarn in yarns if not (yarn.weight_class or yarn.gauge or yarn.strands)]
    if unsaid and classes - {None, pattern.weight_class} and not query.same_gauge:
        raise unclear(f"What weight or gauge is the yarn “{unsaid[0]}”? {EXAMPLE}")
    if not (pattern.weight_class or pattern.gauge or query.same_gauge) and len(classes) > 1:
        raise unclear(ask_pattern(pattern))
    called_so = names(yarns)
    made = [plans.plan(query, yarn, need, known) for yarn in yarns]
    totals = [
        [_total(name, plan, place) for place in range(max(len(need.sizes), 1))]
        for name, plan in zip(called_so, made, strict=True)
    ]
    draft = Draft(working=_working(made, totals, need.sizes), cautions=_cautions(made))
    for name, row in zip(called_so, totals, strict=True):
        sizes = [Part(name=size, figures=total.figures()) for size, total in zip(need.sizes, row, strict=False)]
        draft.yarns.append(Part(name=name, figures={} if sizes else row[0].figures(), sizes=sizes))
    last = [row[-1] for row in totals]
    draft.headline = _headline(last, need.sizes[-1] if need.sizes else "")
    return draft


def names(yarns: Sequence[Yarn]) -> list[str]:
    """A name for each, with its put-up or its place where two would be called the same."""
    plain = [called(yarn) or str(yarn.put_up or "") or f"yarn {place}" for place, yarn in enumerate(yarns, 1)]
    fuller = [
        f"{name}, {yarn.put_up}" if plain.count(name) > 1 and yarn.put_up and called(yarn) else name
        for name, yarn in zip(plain, yarns, strict=True)
    ]
    return [f"{name} ({place})" if fuller.count(name) > 1 else name for place, name in enumerate(fuller, 1)]


def _total(name: str, made: Plan, place: int) -> Total:
    """All colours of one size together, each having been rounded up by itself."""
    found = [row[place] for row in made.baskets]
    length = reduce(Estimate.plus, (basket.amount for basket in found))
    total = Total(name, made.unit, length, _sum([basket.mass for basket in found]))
    bought = [(basket, basket.bought, basket.each) for basket in found]
    counted = [(basket, buy, each) for basket, buy, each in bought if buy and each]
    if len(counted) < len(found):
        return total
    costs = [basket.cost for basket in found if basket.cost]
    return Total(
        name,
        made.unit,
        length,
        total.mass,
        sum(buy.skeins for _, buy, _ in counted),
        sum(buy.spare for _, buy, _ in counted),
        sum(left_over(basket.amount.value, each.to(made.unit).value, buy.skeins) for basket, buy, each in counted),
        Price(sum(cost.value for cost in costs), costs[0].sign) if costs else None,
    )


def _sum(masses: Sequence[Amount | None]) -> Amount | None:
    """Masses of one yarn together, with their range; None where one is not known."""
    known = [mass for mass in masses if mass]
    if len(known) < len(masses):
        return None
    value = sum(mass.value for mass in known)
    low = sum(mass.value if mass.low is None else mass.low for mass in known)
    high = sum(mass.value if mass.high is None else mass.high for mass in known)
    return Estimate(value, low, high).figure(known[0].unit)


def _headline(totals: Sequence[Total], size: str) -> str:
    """Which is cheapest (or takes the fewest skeins) and which wastes least; else which takes least yarn."""
    counted = all(total.skeins is not None for total in totals)
    priced = all(total.cost for total in totals) and len({total.cost.sign for total in totals if total.cost}) == 1
    found: list[Winner] = []
    if priced:
        found.append(_least(totals, "cheapest", _cost, lambda total: str(total.cost)))
    elif counted:
        found.append(_least(totals, "fewest skeins", _skeins, lambda total: f"{total.skeins}"))
    if counted:
        found.append(
            _least(totals, "least left over", _left_over, lambda total: f"{number(total.left_over)} {total.unit}")
        )
    if not found:
        found.append(_least(totals, "least yarn", _length, lambda total: f"{number(total.length.value)} {total.unit}"))
    of_size = f" in {size}" if size else ""
    said = "; ".join(f"{winner.what}{of_size}: {winner.names} ({winner.said})" for winner in found)
    return f"{said[0].upper()}{said[1:]}."


@dataclass(frozen=True, slots=True)
class Winner:
    """Who has the least of what, with how much of it."""

    what: str
    names: str
    said: str


def _least(totals: Sequence[Total], what: str, value: Callable[[Total], float], said: Callable[[Total], str]) -> Winner:
    """The candidate with the least, or all that tie."""
    least = min(value(total) for total in totals)
    best = [total for total in totals if isclose(value(total), least, rel_tol=1e-9, abs_tol=1e-9)]
    return Winner(what, " and ".join(total.name for total in best), said(best[0]))


def _cost(total: Total) -> float:
    return total.cost.value if total.cost else 0.0


def _skeins(total: Total) -> float:
    return total.skeins or 0


def _left_over(total: Total) -> float:
    return total.left_over


def _length(total: Total) -> float:
    return total.length.value


def _working(made: Sequence[Plan], totals: Sequence[Sequence[Total]], sizes: Sequence[str]) -> list[str]:
    """The need, then one line a candidate: its ratio and what it comes to (in the first size)."""
    which = f"{sizes[0]}, " if sizes else ""
    lines = list(made[0].need.working)
    for plan, row in zip(made, totals, strict=True):
        lines.append(f"{which}{row[0].said()} (ratio {to_figures(plan.converted.ratio.value)})")
    return lines


def _cautions(made: Sequence[Plan]) -> list[str]:
    """The cautions of all candidates, each once."""
    found = [text for plan in made for text in plans.cautions(plan)]
    return list(dict.fromkeys(found))[: plans.MOST_CAUTIONS]


ABILITY = Ability(
    name="compare",
    summary="Set several yarns side by side for one pattern: length, skeins, cost and what is left over.",
    examples=(
        "1200 yd of worsted: DK at 230 yd for $12, or fingering at 420 yd for $22?",
        "which needs fewer balls for 900 m of DK: aran, 160 m a ball, or chunky, 100 m a ball?",
        "compare sport 300 yd/100 g with fingering 425 yd/100 g for 1250 yd of DK",
    ),
    frames=(
        Frame(70, slots=("several_yarns", "need", "yarn.weight_class|yarn.gauge|yarn.name|yarn.price")),
        Frame(70, slots=("several_yarns",), cues=("compare",)),
    ),
    uses=frozenset(
        {
            *(f"pattern.{slot}" for slot in ("name", "weight_class", "put_up", "gauge", "strands", "needle")),
            *(f"yarn.{slot}" for slot in ("name", "weight_class", "put_up", "gauge", "strands", "needle", "price")),
            *("need", "sizes", "pick", "same_gauge", "spares", "extra", "want"),
        }
    ),
    answer=answer,
    talk=Talk(carries="ask.compare", of_candidates=True, anew=True, again=True),
)
