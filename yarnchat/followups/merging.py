"""A question laid over the last one: what it changes, and what is kept from before."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

from yarnchat.choosing import asking, talk_of
from yarnchat.followups.colours import of_one_colour
from yarnchat.followups.conversions import amount_told, another_needle, converted_otherwise, needed_as_converted
from yarnchat.followups.leaning import named_yarns, to_remember
from yarnchat.followups.lengths import length_is_another_need, mass_is_the_amount, small_length_is_put_up
from yarnchat.followups.lone_numbers import with_lone_number
from yarnchat.followups.pieces import other_pick, other_piece
from yarnchat.followups.stash import NOT_OF_HERS, adds_to_the_stash, hers_is_another, of_the_stash, stash_told
from yarnchat.followups.yarns import with_yarns
from yarnchat.language.counts import MOST_SKEINS
from yarnchat.language.reading import Reading
from yarnchat.quantity import LENGTHS, MASSES, Quantity
from yarnchat.queries import Colour, Holding, Query, Series, Yarn, slots_told


def merged(before: Query, reading: Reading) -> Query:
    """The last query with what this text says put in its place, slot by slot in the order of ``_STEPS``."""
    if to_remember(before, reading.query):
        return Query(
            note=reading.query.note, swatch=before.swatch, stash=before.stash, yarns=tuple(named_yarns(before))
        )
    before = needed_as_converted(before, reading) or _as_hers(before, reading)
    told = _Told(before, _now(before, reading), reading)
    query = before
    for step in _STEPS:
        query = step(query, told)
    own_gauge = any(yarn.gauge for yarn in told.now.both_sides)
    own_gauge = own_gauge or "same.own" in reading.cues  # and at the usual DK gauge?
    kept_gauge = told.now.same_gauge or (query.same_gauge and not own_gauge)
    return replace(query, same_gauge=kept_gauge, want=_wanted(before, told.now), note=None, topic=None)


def _wanted(before: Query, now: Query) -> str | None:
    """What is asked for now; ``and 9 balls?``, after how many yards 8 are: in the unit that was asked for before."""
    measured = talk_of(before).of_hers and before.want in (*LENGTHS, *MASSES)
    kinds = LENGTHS if before.want in LENGTHS else MASSES
    as_told = any(series.unit in kinds for series in now.amounts)  # 45 g in yards, and then: what of 350 m?
    return now.want or (before.want if measured and not as_told else None)


def _as_hers(before: Query, reading: Reading) -> Query:
    """``is that enough for a 400 m vest?``, after what so much of a yarn comes to: it is what she has."""
    asked = bool(reading.cues & asking("of_stash")) and reading.it_is_said and "need" in reading.query.slots()
    amounts = [series for series in before.amounts if len(series.values) == 1 and series.low is None]
    if not asked or before.stash or not talk_of(before).of_hers or len(amounts) != 1 or len(before.amounts) != 1:
        return before
    yarn = before.yarns[0] if before.yarns else before.pattern
    held = Holding(amounts[0].values[0], amounts[0].unit, yarn)
    return replace(before, colours=(), pattern=Yarn(), yarns=(yarn,), stash=(held,), ability="")


@dataclass(frozen=True, slots=True)
class _Told:
    """The question before, what this text says in its light, and how the text was read."""

    before: Query
    now: Query
    reading: Reading


def _with_need_and_yarns(query: Query, told: _Told) -> Query:
    """The need and the yarns that are told now."""
    if told.now.colours and told.now.colours[0].amounts:
        query = replace(query, colours=_needs(told.before, told.now))
    return with_yarns(query, told.now, told.reading)


def _with_stash(query: Query, told: _Told) -> Query:
    """What she has now: told outright, or a bare number where that is spoken of."""
    reading = told.reading
    of_skeins = reading.bare_count is not None and reading.beside_a_thing is None and not reading.cues & NOT_OF_HERS
    counted = of_skeins and reading.cues & {"have.before", "have.after", "have.gone", "have.given"}
    few = bool(told.before.stash) or (reading.bare_count or 0) <= MOST_SKEINS
    added = not reading.cues & {"gauge.does"} and adds_to_the_stash(told.before, reading)
    bare = (counted or added) and few and not told.now.slots() - {"want"}
    if told.before.stash and not told.now.stash and hers_is_another(told.before, told.now):
        return replace(query, stash=())  # and in sport? what she has is not of it
    return replace(query, stash=stash_told(told.before, told.now, reading)) if told.now.stash or bare else query


def _with_taken_over(query: Query, told: _Told) -> Query:
    """The slots that a later text takes over whole, and the spares."""
    laid_over = [name for name, slot in slots_told().items() if slot.taken_over]
    values = {name: value for name in laid_over if (value := getattr(told.now, name))}
    spares = told.before.spares if told.now.spares is None else told.now.spares
    return replace(query, **values, spares=spares)


def _with_rows(query: Query, told: _Told) -> Query:
    """Other rows of the same work: of so many in all, or so many done of those before."""
    before, now = told.before.progress, told.now.progress
    alone = "progress" in told.now.slots() <= {"progress", "used"}  # now I'm at row 200 and used 260 g
    asked_again = alone or talk_of(told.before).carries in told.reading.cues
    if before and asked_again and query.progress and query.progress.rows_done and query.progress.rows_total is None:
        told_rows = query.progress.rows_done
        cues = told.reading.cues
        in_all = "progress.whole" in cues and "progress.weak" not in cues  # what if I make it 240 rows long?
        rows = replace(before, rows_total=told_rows) if in_all else replace(before, rows_done=told_rows)
        query = replace(query, progress=rows)
    if before and now and now.rows_total and now.rows_done is None:
        query = replace(query, progress=replace(before, rows_total=now.rows_total))
    shaped = any(cue.startswith("shape.") for cue in told.reading.cues)
    if before and query.progress and query.progress.shape != before.shape and not shaped:
        query = replace(query, progress=replace(query.progress, shape=before.shape))
    return query


def _with_conversion(query: Query, told: _Told) -> Query:
    """What is converted now; an amount of it is no need and no stash."""
    before, now = told.before.measured, told.now.measured
    if before is None and (needle := another_needle(told.before, told.now)):
        return replace(query, pattern=replace(query.pattern, needle=needle), measured=None)
    if before is None:
        return replace(query, measured=now) if now and amount_told(now) else query
    measured = converted_otherwise(before, told.now, told.reading)
    if measured == before:
        return query
    query = replace(query, measured=measured, colours=told.before.colours, stash=told.before.stash)
    return replace(query, pattern=told.before.pattern, yarns=told.before.yarns)


def _with_part(query: Query, told: _Told) -> Query:
    """One colour of it, another mass of the swatch, or a lone number in the place of one before."""
    query = replace(query, **of_one_colour(told.before, told.now, told.reading))
    query = replace(query, **_swatch_weighed(told.before, told.now))
    return with_lone_number(query, told.before, told.reading)


def _with_piece_and_size(query: Query, told: _Told) -> Query:
    """The piece in other measures, the size picked, another chest."""
    before, now, reading = told.before, told.now, told.reading
    if before.piece and not before.piece.measures and now.colours:
        query = replace(query, piece=None)  # how much for a scarf? the pattern takes 700 m
    elif before.piece and now.piece is None:
        query = replace(query, piece=other_piece(before.piece, reading))
    if not now.pick:
        query = replace(query, pick=other_pick(before, reading))
    elif _of_one_size(before, now):
        query = replace(query, pick=None)
    if before.grading and reading.small:
        query = replace(query, grading=replace(before.grading, chests=(reading.small,), lengths=()))
    return query


def _of_one_size(before: Query, now: Query) -> bool:
    """``and the XL, 1420 yards?``: the size is told with what it takes, and no list is there to pick it from."""
    listed = before.sizes or any(len(series.values) > 1 for series in (*before.amounts, *now.amounts))
    return bool(now.amounts) and not listed


_STEPS = (
    _with_need_and_yarns,
    _with_stash,
    _with_taken_over,
    _with_rows,
    _with_conversion,
    _with_part,
    _with_piece_and_size,
)
"""Each lays some slots of the text over the question before: a later step may change what an earlier one laid."""


def _swatch_weighed(before: Query, now: Query) -> dict[str, Any]:
    """``and if it weighed 10 g?``, after a swatch and no amount: another mass of it."""
    series = now.amounts
    mass = series[0].first() if len(series) == 1 and len(series[0].values) == 1 else None
    if before.swatch is None or before.colours or mass is None or mass.unit not in MASSES:
        return {}
    return {"swatch": replace(before.swatch, mass=mass), "colours": ()}


def _now(before: Query, reading: Reading) -> Query:
    """What this text says, its amount read in the light of the question before: a skein's length, or the stash."""
    if (another := length_is_another_need(before, reading)) is not reading.query:
        return another
    firm = reading.firm_need or "follow.colour" in reading.cues
    now = mass_is_the_amount(before, reading.query if firm else small_length_is_put_up(before, reading))
    if not before.stash or now.stash or not of_the_stash(before, now, reading):
        return now
    told = now.colours[0].amounts[0]
    alike = [held for held in before.stash if held.unit == told.unit]
    meant = alike[0] if len(alike) == 1 else before.stash[0]
    changed = replace(meant, amount=told.values[0], unit=told.unit)
    stash = before.stash if len(alike) == 1 else (meant,)  # 30 g of another: what if it's only 10 g?
    return replace(now, colours=(), stash=tuple(changed if held is meant else held for held in stash))


def counted_over_as_before(before: Query, now: Query) -> Query:
    """``and 15 sts``, after ``26 sts to 10 cm``: counted over the same, where only one length was told."""
    over = {yarn.gauge.over for yarn in before.both_sides if yarn.gauge}
    if len(over) != 1:
        return now
    [length] = over
    pattern, *yarns = (
        replace(yarn, gauge=replace(yarn.gauge, over=length)) if yarn.gauge else yarn for yarn in now.both_sides
    )
    return replace(now, pattern=pattern, yarns=tuple(yarns))


def in_unit(query: Query, unit: str) -> Query:
    """The same question with the pattern's lengths given in another unit, so that the answer is too."""
    colours = tuple(
        replace(colour, amounts=tuple(_converted(series, unit) for series in colour.amounts))
        for colour in query.colours
    )
    pattern = query.pattern
    counted = any(series.unit == "skein" for series in query.amounts)
    if counted and pattern.put_up and pattern.put_up.length:
        pattern = replace(pattern, put_up=replace(pattern.put_up, length=pattern.put_up.length.to(unit)))
    return replace(query, colours=colours, pattern=pattern)


def _converted(series: Series, unit: str) -> Series:
    if series.unit not in LENGTHS:
        return series
    values = tuple(amount.to(unit).value for amount in series.quantities())
    low = None if series.low is None else Quantity(series.low, series.unit).to(unit).value
    return Series(values, unit, low)


def _needs(before: Query, now: Query) -> tuple[Colour, ...]:
    """The need put right: of one colour where it is named or is the only one."""
    named = {colour.name.casefold(): colour for colour in now.colours if colour.name}
    if len(before.colours) > 1 and named and all(name in {c.name.casefold() for c in before.colours} for name in named):
        return tuple(named.get(colour.name.casefold(), colour) for colour in before.colours)
    return now.colours
