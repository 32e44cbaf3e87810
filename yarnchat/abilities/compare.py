"""Compare: what several candidate yarns come to for one pattern, which is cheapest, which wastes least."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import reduce
from math import isclose

from yarnchat.abilities import buying, plans, sanity
from yarnchat.abilities.base import Ability, Context, Draft, Frame
from yarnchat.abilities.densities import ask_pattern, called
from yarnchat.abilities.needs import Estimate, needs
from yarnchat.abilities.plans import Plan
from yarnchat.abilities.remembered import memory
from yarnchat.answers import Amount, Figures, Part
from yarnchat.quantity import number
from yarnchat.queries import Price, Query, Yarn
from yarnchat.refusals import unclear

MOST = 6
EXAMPLE = (
    "Type for example: compare DK at 230 yd a skein with sport at 325 yd a skein for 1200 yd of worsted."
)


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
        found: Figures = {"length": self.length.amount(self.unit)}
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
            parts.append(
                f"{buying.skeins_said(self.skeins)}{f' and {self.spare} spare' if self.spare else ''}"
            )
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
    need = needs(query)
    yarns = [known.complete(yarn) for yarn in query.yarns]
    classes = {yarn.weight_class for yarn in yarns}
    if not (pattern.weight_class or pattern.gauge or query.same_gauge) and len(classes) > 1:
        raise unclear(ask_pattern(pattern))
    names = _names(yarns)
    made = [plans.plan(query, yarn, need, known) for yarn in yarns]
    totals = [
        [_total(name, plan, place) for place in range(max(len(need.sizes), 1))]
        for name, plan in zip(names, made, strict=True)
    ]
    draft = Draft(working=_working(made, totals, need.sizes), cautions=_cautions(made))
    for name, row in zip(names, totals, strict=True):
        sizes = [
            Part(name=size, figures=total.figures()) for size, total in zip(need.sizes, row, strict=False)
        ]
        draft.yarns.append(Part(name=name, figures={} if sizes else row[0].figures(), sizes=sizes))
    last = [row[-1] for row in totals]
    draft.headline = _headline(last, need.sizes[-1] if need.sizes else "")
    return draft


def _names(yarns: Sequence[Yarn]) -> list[str]:
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
        sum(buy.skeins * each.to(made.unit).value - basket.amount.value for basket, buy, each in counted),
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
    return Estimate(value, low, high).amount(known[0].unit)


def _headline(totals: Sequence[Total], size: str) -> str:
    """Which candidate is cheapest and which wastes least, else which takes fewest skeins or least length."""
    parts: list[str] = []
    signs = {total.cost.sign for total in totals if total.cost}
    if all(total.cost for total in totals) and len(signs) == 1:
        parts.append(
            _least(
                totals,
                lambda total: total.cost.value if total.cost else 0.0,
                "is cheapest",
                lambda total: str(total.cost),
            )
        )
    if all(total.skeins is not None for total in totals):
        if not parts:
            parts.append(
                _least(
                    totals,
                    lambda total: total.skeins or 0,
                    "takes the fewest skeins",
                    lambda total: str(total.skeins),
                )
            )
        parts.append(
            _least(
                totals,
                lambda total: total.left_over,
                "wastes least",
                lambda total: f"{number(total.left_over)} {total.unit} over",
            )
        )
    if not parts:
        parts.append(
            _least(
                totals,
                lambda total: total.length.value,
                "takes the least length",
                lambda total: f"{number(total.length.value)} {total.unit}",
            )
        )
    of_size = f" (in {size})" if size else ""
    return f"{'; '.join(parts)}{of_size}."


def _least(
    totals: Sequence[Total], value: Callable[[Total], float], words: str, said: Callable[[Total], str]
) -> str:
    """The candidate with the least of something, or that all, or several, are alike."""
    least = min(value(total) for total in totals)
    best = [total for total in totals if isclose(value(total), least, rel_tol=1e-9, abs_tol=1e-9)]
    names = " and ".join(total.name for total in best)
    if len(best) == 1:
        return f"{names} {words} ({said(best[0])})"
    return f"{names} tie: each {words} ({said(best[0])})"


def _working(made: Sequence[Plan], totals: Sequence[Sequence[Total]], sizes: Sequence[str]) -> list[str]:
    """The need, then one line a candidate: its ratio and what it comes to (in the first size)."""
    which = f"{sizes[0]}, " if sizes else ""
    lines = list(made[0].need.working)
    for plan, row in zip(made, totals, strict=True):
        lines.append(f"{which}{row[0].said()} (ratio {plan.converted.ratio.value:.3g})")
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
        Frame(70, slots=("several_yarns", "need")),
        Frame(70, slots=("several_yarns",), cues=("compare",), without=("need.count",)),
    ),
    uses=frozenset(
        {
            *(f"pattern.{slot}" for slot in ("name", "weight_class", "put_up", "gauge", "strands", "needle")),
            *(
                f"yarn.{slot}"
                for slot in ("name", "weight_class", "put_up", "gauge", "strands", "needle", "price")
            ),
            *("need", "sizes", "pick", "same_gauge", "spares", "want"),
        }
    ),
    answer=answer,
)
