"""Enough: whether what she has will do, how sure that is, and how many more skeins to buy."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from yarnchat.abilities import buying, piece, plans, sanity
from yarnchat.abilities.base import Ability, Context, Draft, Frame, Talk
from yarnchat.abilities.known_densities import called
from yarnchat.abilities.needs import Estimate, Needs, exactly, masses, needs
from yarnchat.abilities.plans import Plan
from yarnchat.abilities.remembered import Memory, memory, same_name
from yarnchat.answers import Amount, Figures, Part
from yarnchat.fabric.skeins import ROUNDING_NOISE, whole_skeins
from yarnchat.notebook import NotebookError
from yarnchat.quantity import factor, is_length, number
from yarnchat.queries import Holding, Price, PutUp, Query, Yarn
from yarnchat.refusals import unclear

CLOSE = 0.05
"""Left over, as a share of the need, below which it is worth weighing (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Verdict:
    """What she has against one need, in one unit; ``more`` counts skeins to buy, None without a put-up."""

    have: float
    need: Estimate
    unit: str
    more: int | None = None
    more_for_high: int | None = None

    @property
    def enough(self) -> bool:
        """Whether it reaches the need itself."""
        return self.have >= self.need.value * (1 - ROUNDING_NOISE)

    @property
    def over(self) -> float:
        """Left over; negative where it is short."""
        return self.have - self.need.value

    def figures(self) -> Figures:
        """The figures of this verdict."""
        found: Figures = {
            "enough": self.enough,
            "have": Amount(value=self.have, unit=self.unit),
            "need": self.need.figure(self.unit),
        }
        gap = Amount(value=max(self.over, 0.0) if self.enough else -self.over, unit=self.unit)
        found["left_over" if self.enough else "short"] = gap
        if not self.enough and self.more is not None:
            found["skeins"] = self.more
        return found

    def sure(self) -> str:
        """How sure it is, from where the range lies."""
        if self.need.exact:
            return "Yes, enough" if self.enough else "No, not enough"
        if self.have >= self.need.high * (1 - ROUNDING_NOISE):
            return "Surely enough"
        if self.enough:
            return "Probably enough, but not surely"
        return "Probably not enough" if self.have >= self.need.low * (1 - ROUNDING_NOISE) else "Surely not enough"

    def said(self) -> str:
        """The verdict in one sentence."""
        amounts = f"you have {number(self.have)} {self.unit} and need {self.need.said(self.unit)}"
        if self.enough:
            end = (
                f"{number(max(self.over, 0.0))} {self.unit} left over"
                if self.over > self.have * ROUNDING_NOISE
                else "nothing left over"
            )
            risk = f"; its high end takes {buying.skeins_said(self.more_for_high)} more" if self.more_for_high else ""
            return f"{self.sure()}: {amounts}, {end}{risk}."
        buy = f": buy {self.more:,} more" if self.more else ""
        high = f" ({self.more_for_high:,} for the high end)" if (self.more_for_high or 0) > (self.more or 0) else ""
        return f"{self.sure()}: {amounts}, {number(-self.over)} {self.unit} short{buy}{high}."


def answer(query: Query, context: Context) -> Draft:
    """Whether the stash covers the pattern, for every size, or the piece."""
    return _for_the_piece(query, context) if query.piece else enough_of(query, context)


def _for_the_piece(query: Query, context: Context) -> Draft:
    """What she has against what a piece takes, with a swatch on top."""
    sanity.sane(query)
    known = memory(context)
    need = piece.takes(query, known)
    wanted = (*query.yarns, query.pattern, need.yarn)
    held = _held(replace(query, yarns=tuple(yarn for yarn in wanted if yarn != Yarn())[:1]), known)
    lengths = [held_in(holding, need.unit) for holding in held]
    steps = [_have_step(holding, length, need.unit) for holding, length in zip(held, lengths, strict=True)]
    found = verdict(sum(lengths), need.whole, need.unit, held[0].yarn.put_up)
    cautions = [buying.ESTIMATES, *([_close(found)] if _is_close(found) else [])]
    return Draft(found.said(), found.figures(), working=[*steps, *need.working], cautions=cautions)


def enough_of(query: Query, context: Context) -> Draft:
    """What she has against what the pattern takes in it."""
    sanity.sane(query)
    known = memory(context)
    query, kept = _from_the_notebook(query, context)
    if counted := _by_count(query):
        return counted
    held = _held(query, known)
    need = _need(query, held)
    if len(need.colours) > 1:
        raise unclear("Which colour is it that you have? Ask for one colour at a time.")
    yarn = held[0].yarn
    made = plans.plan(query, yarn, need, known)
    have = 0.0
    draft = Draft(working=kept)
    for holding in held:
        length = held_in(holding, made.unit)
        have += length
        draft.working.append(_have_step(holding, length, made.unit))
    if len(held) > 1:
        draft.working.append(f"you have {number(have)} {made.unit} in all")
    draft.working += _need_steps(made)
    verdicts = [verdict(have, found.amount, made.unit, made.yarn.put_up) for found in made.baskets[0]]
    _conclude(draft, verdicts, made, query)
    return draft


def _by_count(query: Query) -> Draft | None:
    """``need 9 balls, have 6``: skeins of a yarn of which nothing is told, and so of one; None where it is not that."""
    yarns = {*query.both_sides, *(held.yarn for held in query.stash)} - {Yarn()}
    told = query.amounts
    counted = len(told) == 1 and told[0].unit == "skein" and len(told[0].values) == 1 and told[0].low is None
    if yarns or not counted or not query.stash or any(held.unit != "skein" for held in query.stash):
        return None
    have = sum(held.amount for held in query.stash)
    need = exactly(told[0].values[0])
    more = whole_skeins(max(need.value - have, 0.0), 1.0)
    found = Verdict(have, need, "skein", more=more)
    rest = f"{number(found.over)} left over" if found.enough else f"{buying.skeins_said(more)} more to buy"
    headline = f"{found.sure()}: you have {buying.count_said(have)} and need {number(need.value)}, {rest}."
    return Draft(headline, found.figures(), cautions=["This takes all of them to be of one yarn, alike."])


def verdict(have: float, need: Estimate, unit: str, label: PutUp | None) -> Verdict:
    """What she has against a need, with the skeins still to buy where a put-up is known."""
    label = label.told_in(unit) if label else None
    each_said = (label.length if is_length(unit) else label.mass) if label and label.per_skein else None
    if not each_said:
        return Verdict(have, need, unit)
    each = each_said.to(unit).value
    more, more_for_high = (whole_skeins(max(end - have, 0.0), each) for end in (need.value, need.high))
    return Verdict(have, need, unit, more, more_for_high)


def held_in(holding: Holding, unit: str) -> float:
    """How much a holding is in ``unit``, a length or a mass; a Refusal where its put-up does not say."""
    label = (holding.yarn.put_up or PutUp()).told_in(unit)
    each = label.length if is_length(unit) else label.mass
    if holding.unit == "skein":
        if each and label.per_skein:
            return holding.amount * each.to(unit).value
    elif is_length(holding.unit) == is_length(unit):
        return holding.amount * factor(holding.unit, unit)
    elif label.length and label.mass:
        other = label.mass if is_length(unit) else label.length
        return holding.amount * (each or other).to(unit).value / other.to(holding.unit).value
    raise unclear(
        f"How much is {_amount(holding)}? The put-up of what you have is missing. "
        "Type for example: I have 6 skeins of 210 yd each, or: 340 g of a yarn of 200 yd/100 g.",
        missing="stash.put_up",
    )


def _from_the_notebook(query: Query, context: Context) -> tuple[Query, list[str]]:
    """The question with what the notebook keeps of its yarn, where she did not say how much she has; and where from."""
    if query.stash:
        return query, []
    names = [yarn.name for yarn in (*query.yarns, query.pattern) if yarn.name]
    try:
        kept = [row for row in context.notebook.stash() if any(same_name(row.name, name) for name in names)]
    except NotebookError:
        return query, []
    held = tuple(Holding(row.amount, row.unit, replace(row.yarn, name=row.name)) for row in kept)
    return replace(query, stash=held), [f"from your notebook: {holding}" for holding in held]


def _held(query: Query, known: Memory) -> list[Holding]:
    """What she has and all that is known of its yarn; a Refusal where none was said or weights differ."""
    if not query.stash:
        raise unclear(
            "How much have you, and of what? "
            "Type for example: I have 6 skeins of DK, 230 yd each; is that enough for 1200 yd of worsted?"
        )
    wanted = query.yarns[0] if query.yarns else Yarn()
    if len(query.yarns) > 1:
        raise unclear("Which yarn is it to be? Ask for one yarn at a time.")
    held = [replace(row, yarn=known.complete(_merged(row.yarn, wanted))) for row in query.stash]
    _ask_if_another(query.stash, wanted)
    labels = [row.yarn for row in held if row.yarn.put_up]
    told_apart = query.pattern.weight_class is not None and query.yarns
    if not labels and query.pattern.put_up and _nothing_said(held) and not told_apart:
        labels = [query.pattern]  # it asks for 11 balls of DK, 125 m; I have 4
    held = [replace(row, yarn=_merged(row.yarn, labels[0])) if labels else row for row in held]
    weights = {row.yarn.weight_class for row in held if row.yarn.weight_class}
    if len(weights) > 1:
        names = " and ".join(dict.fromkeys(called(row.yarn) for row in held))
        raise unclear(f"{names} are of different weights: ask for one of them at a time.")
    return held


def _ask_if_another(stash: Sequence[Holding], wanted: Yarn) -> None:
    """A Refusal where the yarn asked for is of another weight or put-up than all that she has."""
    for what in ("weight_class", "put_up", "gauge", "strands"):
        asked = getattr(wanted, what)
        had = [getattr(row.yarn, what) for row in stash]
        if asked and all(value and _at_odds(value, asked) for value in had):
            raise unclear(f"Is it {wanted}, or what you have, {stash[0].yarn}? Ask with one of them.", str(wanted))


def _at_odds(one: object, other: object) -> bool:
    """Whether two sayings cannot be of one yarn; put-ups are of one where what both tell is the same."""
    if isinstance(one, PutUp) and isinstance(other, PutUp):
        both = ((one.length, other.length), (one.mass, other.mass))
        told = [(a, b) for a, b in both if a and b]
        return not told or any(a != b for a, b in told)
    return one != other


def _nothing_said(held: Sequence[Holding]) -> bool:
    return all(not row.yarn.weight_class and not row.yarn.gauge and not row.yarn.name for row in held)


def _merged(yarn: Yarn, other: Yarn) -> Yarn:
    """A yarn with its gaps filled from another that is, or may be, the same."""
    if yarn.name and other.name and not same_name(yarn.name, other.name):
        return yarn
    if yarn.weight_class and other.weight_class and yarn.weight_class != other.weight_class:
        return yarn
    return yarn.filled_from(other)


def _need(query: Query, held: Sequence[Holding]) -> Needs:
    """What the pattern takes; a mass is of the yarn she has, where nothing was said of the pattern's."""
    by_mass = masses(query)
    if by_mass is None or (query.pattern.put_up and query.pattern.put_up.length):
        return needs(query)
    label = held[0].yarn.put_up
    if query.pattern == Yarn() and label and label.length and label.mass:
        return needs(replace(query, pattern=Yarn(put_up=label)))
    return by_mass


def _amount(holding: Holding) -> str:
    return buying.count_said(holding.amount) if holding.unit == "skein" else f"{number(holding.amount)} {holding.unit}"


def _have_step(holding: Holding, length: float, unit: str) -> str:
    label = holding.yarn.put_up or PutUp()
    said = f"{number(length)} {unit}"
    if holding.unit == "skein":
        return f"you have {_amount(holding)} × {label.length if is_length(unit) else label.mass} = {said}"
    if holding.unit == unit:
        return f"you have {said}"
    if is_length(holding.unit) == is_length(unit):
        return f"you have {_amount(holding)} = {said}"
    top, bottom = (label.length, label.mass) if is_length(unit) else (label.mass, label.length)
    return f"you have {_amount(holding)} × {top} / {bottom} = {said}"


def _need_steps(made: Plan) -> list[str]:
    if not made.converted.working and made.first.amount.exact:
        return [
            *made.need.working,
            "no conversion in it: this is exact as far as the pattern and the label are",
        ]
    return [*made.need.working, *plans.conversion_steps(made)]


def _conclude(draft: Draft, verdicts: Sequence[Verdict], made: Plan, query: Query) -> None:
    """Figures, headline and cautions; what more to buy costs where a price is told of either side."""
    draft.cautions = list(plans.cautions(made, buying_more=any(not row.enough for row in verdicts)))
    if made.need.sizes:
        draft.sizes = [
            Part(name=name, figures=row.figures()) for name, row in zip(made.need.sizes, verdicts, strict=True)
        ]
        fits = [name for name, row in zip(made.need.sizes, verdicts, strict=True) if row.enough]
        draft.headline = f"You have {number(verdicts[0].have)} {made.unit}: " + (
            f"enough for {', '.join(fits)}." if fits else "not enough for any size."
        )
        return
    [only] = verdicts
    draft.figures |= only.figures()
    draft.headline = only.said()
    price = made.yarn.price or query.pattern.price
    if price and only.more:
        cost = Price(price.value * only.more, price.sign)
        draft.figures["cost"] = Amount(value=cost.value, unit=cost.sign)
        draft.working.append(f"{buying.skeins_said(only.more)} more × {price} = {cost}")
    if _is_close(only):
        draft.cautions.insert(0, _close(only))


def _is_close(found: Verdict) -> bool:
    return found.enough and 0 <= found.over < CLOSE * found.need.value


def _close(found: Verdict) -> str:
    return f"That is close: {found.over / found.need.value:.0%} to spare. Weigh what you have."


ABILITY = Ability(
    name="enough",
    summary="Say whether what you have is enough, how sure that is, and what more to buy.",
    examples=(
        "I have 6 skeins of DK, 230 yd each: enough for 1200 yd of worsted?",
        "will three 50 g/175 m balls do for socks that take 480 m",
        "340 g of worsted, 200 yd/100 g, for a bulky pattern of 600 yd: am I short?",
    ),
    frames=(
        Frame(91, slots=("need", "stash"), cues=("enough",)),
        Frame(65, slots=("need", "stash")),
        Frame(86, slots=("need", "yarn.name|pattern.name"), cues=("enough",), without=("stash", "how_many", "skeins")),
        Frame(65, slots=("stash",), cues=("enough",)),
        Frame(92, slots=("piece", "stash"), cues=("enough",), without=("size.which",)),
        Frame(63, slots=("piece.sized", "stash"), without=("swatch",)),
        Frame(49, slots=("need",), cues=("enough",), without=("grams",)),
        Frame(22, cues=("enough",)),
    ),
    uses=frozenset(
        {
            *(
                f"{side}.{slot}"
                for side in ("pattern", "yarn")
                for slot in ("name", "weight_class", "put_up", "gauge", "strands", "needle", "price")
            ),
            *("need", "sizes", "pick", "stash", "same_gauge", "extra", "want", "piece", "swatch"),
        }
    ),
    answer=answer,
    talk=Talk(carries="ask.enough", starts=True, of_stash=True),
)
