"""Progress: mid-project, whether what is left will do: total = used / fraction done."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from yarnchat.abilities.agreement import percent
from yarnchat.abilities.base import EVERYTHING, Ability, Context, Draft, Frame, Talk
from yarnchat.abilities.buying import ONE_LOT, skeins_said
from yarnchat.abilities.needs import needs
from yarnchat.abilities.remembered import memory
from yarnchat.abilities.sanity import positive, sane
from yarnchat.answers import Amount
from yarnchat.fabric.progress import FROM_A_POINT, fraction_done, half_way_row, total_need
from yarnchat.fabric.skeins import ROUNDING_NOISE, whole_skeins
from yarnchat.quantity import MASSES, Quantity, factor, is_length, number, to_figures
from yarnchat.queries import EVENLY, FROM_ITS_CENTRE, NARROWING, Holding, Progress, PutUp, Query, Yarn
from yarnchat.refusals import refused, unclear

AMISS = 0.03
"""What is used and what is left may miss what there was by this share of it (common practice, no source)."""
CLOSE = 0.1
"""Left over, as a share of what is left, below which it is close (common practice, no source)."""

EXAMPLE = "Type for example: I have used 3 of 5 skeins, 210 yd each, and am 120 of 240 rows in."


@dataclass(frozen=True, slots=True)
class Measure:
    """The one unit a project is counted in, and what a skein of the yarn holds where that is known."""

    unit: str
    label: PutUp | None

    def of(self, holding: Holding) -> float:
        """A holding in that unit; a Refusal where the label does not say enough."""
        if holding.unit == self.unit:
            return holding.amount
        label = holding.yarn.put_up or self.label
        if holding.unit == "skein":
            return holding.amount * self._skein(label)
        if self.unit != "skein" and is_length(holding.unit) == is_length(self.unit):
            return holding.amount * factor(holding.unit, self.unit)
        skein = _held(label, holding.unit)
        if skein is None:
            raise unclear(_ask_put_up(label))
        return holding.amount / skein * self._skein(label)

    def _skein(self, label: PutUp | None) -> float:
        """What one skein is in that unit."""
        held = 1.0 if self.unit == "skein" else _held(label, self.unit)
        if held is None:
            raise unclear(_ask_put_up(label))
        return held

    @property
    def skein(self) -> float | None:
        """What one skein is in that unit, None where it cannot be known."""
        return 1.0 if self.unit == "skein" else _held(self.label, self.unit)

    def amount(self, value: float) -> Amount:
        """A figure in that unit."""
        return Amount(value=value, unit=self.unit)

    def said(self, value: float) -> str:
        """An amount in words."""
        said = number(value)
        return f"{said} {'skein' if said == '1' else 'skeins'}" if self.unit == "skein" else f"{said} {self.unit}"


def answer(query: Query, context: Context) -> Draft:
    """The whole need from what is used so far, against what is left."""
    sane(query)
    progress = query.progress
    if not progress:
        raise unclear(f"How far along is it? {EXAMPLE}")
    fraction, step = _fraction(progress)
    query = _completed(query, context)
    pattern = needs(query).single if query.colours else None
    measure = _measure(query)
    used, need, steps = _used_and_need(query, fraction, measure, pattern.value if pattern else None)
    draft = Draft(figures={"fraction": fraction, "need": measure.amount(need), "used": measure.amount(used)})
    draft.working = [step, *steps]
    _told_apart(query, measure, used, need - used)
    _verdict(draft, fraction, need - used, _left(query, measure, used), measure)
    _half_way(draft, progress)
    draft.cautions.append("This takes the rest to be knit as it went so far; edgings and finishing come on top.")
    return draft


def _completed(query: Query, context: Context) -> Query:
    """The query with what the notebook knows of its yarns, where one of them is named."""
    named = any(yarn.name for yarn in (*query.both_sides, *(held.yarn for held in (*query.used, *query.stash))))
    if not named:
        return query
    known = memory(context)
    return replace(
        query,
        pattern=known.complete(query.pattern),
        yarns=tuple(known.complete(yarn) for yarn in query.yarns),
        used=tuple(replace(held, yarn=known.complete(held.yarn)) for held in query.used),
        stash=tuple(replace(held, yarn=known.complete(held.yarn)) for held in query.stash),
    )


def _fraction(progress: Progress) -> tuple[float, str]:
    """The part that is done, and how that was worked out."""
    if progress.fraction is not None:
        if not 0 < progress.fraction <= 1:
            raise refused(f"{percent(progress.fraction, 0)} done cannot be: it must be more than 0 and at most 100 %.")
        return progress.fraction, f"{to_figures(progress.fraction)} of it is done, as you say"
    done, total = progress.rows_done, progress.rows_total
    if done is None or total is None:
        raise unclear(f"How many rows are done, of how many? {EXAMPLE}")
    positive(done, "rows done")
    positive(total, "rows")
    if done > total:
        raise refused(f"{number(done)} of {number(total)} rows cannot be: more is done than there is.")
    if progress.shape not in (EVENLY, NARROWING, *FROM_A_POINT):
        raise unclear(f"How does a {progress.shape} grow? Type for example: straight, or a triangle from its point.")
    fraction = fraction_done(progress.shape, done, total)
    rows = f"{number(done)} / {number(total)} rows"
    if progress.shape == EVENLY:
        return fraction, f"{rows} = {to_figures(fraction)} done"
    if progress.shape == NARROWING:
        return fraction, f"1 − (1 − {rows})² = {to_figures(fraction)} done: it narrows to a point"
    grown = progress.shape if progress.shape == FROM_ITS_CENTRE else f"{progress.shape} from its point or centre"
    return fraction, f"({rows})² = {to_figures(fraction)} done: a {grown}"


def _yarns(query: Query) -> Iterable[Yarn]:
    yield from (held.yarn for held in (*query.used, *query.stash))
    yield from (*query.yarns, query.pattern)


def _measure(query: Query) -> Measure:
    """The pattern's unit where it says one, else that of what was used; skeins as length where known."""
    label = next((yarn.put_up for yarn in _yarns(query) if yarn.put_up), None)
    said = [series.unit for series in query.amounts]
    if said:
        return Measure(needs(query).unit, label)
    holdings = (*query.used, *query.stash)
    if not holdings:
        raise unclear(f"How much yarn is used so far? {EXAMPLE}")
    if query.want in ("mass", *MASSES) and label and label.mass:
        return Measure(label.mass.unit if query.want == "mass" else query.want, label)
    units = [held.unit for held in holdings]
    plain = next((unit for unit in units if unit != "skein"), None)
    if plain:
        return Measure(plain, label)
    return Measure(label.length.unit if label and label.length else "skein", label)


def _used_and_need(
    query: Query, fraction: float, measure: Measure, pattern: float | None
) -> tuple[float, float, list[str]]:
    """What is used and the whole need: by what was used, else had less left, else by the pattern's need."""
    used = sum(measure.of(held) for held in query.used) if query.used else None
    if used is None:
        owned, left = _sums(query, measure)
        if owned is not None and left is not None:
            if left >= owned:
                raise refused(f"{measure.said(left)} left of {measure.said(owned)} cannot be: nothing would be used.")
            used = owned - left
    if used is not None:
        need = total_need(used, fraction)
        steps = [f"need {measure.said(used)} / {to_figures(fraction)} = {measure.said(need)} in all"]
        if pattern is not None:
            steps.append(f"the pattern says {measure.said(pattern)}; what you use counts more")
        return used, need, steps
    if pattern is None:
        raise unclear(f"How much yarn is used so far? {EXAMPLE}")
    if not query.stash:
        raise unclear(
            f"Is {measure.said(pattern)} what is used so far, or what the pattern takes in all? "
            f"Type for example: I have used {measure.said(pattern)}."
        )
    used = pattern * fraction
    return (
        used,
        pattern,
        [f"used {measure.said(pattern)} × {to_figures(fraction)} = {measure.said(used)}, by the pattern's need"],
    )


def _sums(query: Query, measure: Measure) -> tuple[float | None, float | None]:
    """What she had in all and what is left, each None where it was not said."""
    had = [measure.of(held) for held in query.stash if not held.left]
    left = [measure.of(held) for held in query.stash if held.left]
    return (sum(had) if had else None), (sum(left) if left else None)


def _left(query: Query, measure: Measure, used: float) -> float | None:
    """What is left to knit with."""
    owned, left = _sums(query, measure)
    if left is not None:
        if owned is not None and query.used and abs(owned - used - left) > AMISS * owned:
            raise unclear(
                f"{measure.said(owned)} less {measure.said(used)} used is {measure.said(owned - used)}, "
                f"not {measure.said(left)} left. Which is right?"
            )
        return left
    if owned is None:
        return None
    if owned < used:
        raise unclear(
            f"{measure.said(used)} used of {measure.said(owned)}: is that what you had, or what is left? "
            f"Type for example: I have {measure.said(owned)} left."
        )
    return owned - used


def _told_apart(query: Query, measure: Measure, used: float, still: float) -> None:
    """Asks whether what she has is what is left or all there was, where it is not said and one would do alone."""
    if not query.used or len(query.stash) != 1 or not query.stash[0].presumed:
        return
    amount = measure.of(query.stash[0])
    if amount >= still * (1 - ROUNDING_NOISE) > amount - used >= 0:
        raise unclear(
            f"Is {measure.said(amount)} what is left, or all you had before {measure.said(used)} was used? "
            f"Type for example: {measure.said(amount)} left, or: I had {measure.said(amount)} in all.",
            missing="stash.left",
        )


def _verdict(draft: Draft, fraction: float, still: float, left: float | None, measure: Measure) -> None:
    """Whether what is left will do, and what to add where not."""
    each = measure.skein
    share = f"{percent(fraction, 0)} done"
    if left is None:
        more = f", {skeins_said(whole_skeins(still, each))} more" if each else ""
        draft.headline = f"{share}: {measure.said(still)} still to knit{more}."
        if each:
            draft.figures["skeins"] = whole_skeins(still, each)
        return
    enough = left >= still * (1 - ROUNDING_NOISE)
    draft.figures["enough"] = enough
    draft.working.append(f"still to knit {measure.said(still)}, left {measure.said(left)}")
    if enough:
        over = max(left - still, 0.0)
        draft.figures["left_over"] = measure.amount(over)
        draft.headline = f"It should be enough: {share}, about {measure.said(over)} left over."
        if left and over / left < CLOSE:
            draft.cautions.append("That is close: keep a skein of the same dye lot within reach.")
        return
    short = still - left
    draft.figures["short"] = measure.amount(short)
    add = ""
    if each:
        skeins = whole_skeins(short, each)
        draft.figures["skeins"] = skeins
        add = f": add {skeins_said(skeins)}"
    draft.headline = f"It will not be enough: {share}, about {measure.said(short)} short{add}."
    draft.cautions.append(ONE_LOT)


def _half_way(draft: Draft, progress: Progress) -> None:
    """The row at which half the yarn must be left."""
    if progress.rows_total is None:
        return
    row = half_way_row(progress.shape, progress.rows_total)
    draft.figures["half_way_row"] = row
    draft.working.append(f"half the yarn must be left at row {number(row)} of {number(progress.rows_total)}")


def _held(label: PutUp | None, unit: str) -> float | None:
    """One skein's length or mass in a unit."""
    if not label or not label.per_skein:
        return None
    held: Quantity | None = label.length if is_length(unit) else label.mass
    return held.to(unit).value if held else None


def _ask_put_up(label: PutUp | None) -> str:
    known = f" beside {label}" if label else ""
    return f"What does one skein hold{known}? Its length or mass is missing. Type for example: 50 g/120 m balls."


def _told_whole(query: Query, _: frozenset[str]) -> bool:
    """Whether what is used and how far that reached are both told; row 200 is no part of a whole that is not said."""
    so_far = query.progress
    return bool(query.used and so_far and (so_far.rows_total or so_far.rows_done is None))


ABILITY = Ability(
    name="progress",
    summary="Say mid-project whether the yarn will last, and how much the whole takes.",
    examples=(
        "I have used 3 of 5 skeins, 210 yd each, and am 120 of 240 rows in: will it do?",
        "60 % done with 150 g used and 90 g left, will I run out?",
        "triangle shawl from the point: 100 of 200 rows took 110 m, I have 300 m left",
    ),
    frames=(
        Frame(80, slots=("progress",)),
        Frame(79, slots=("used",), cues=("progress",), without=("grading", "piece")),
    ),
    uses=frozenset({"progress", "used", "stash", "need", "pattern", "yarn", "want"}),
    answer=answer,
    talk=Talk(
        alone=_told_whole,
        carries="ask.progress",
        heeds=EVERYTHING | {"measures left aside"},
    ),
)
