"""A question read against the last one: what it changes, and what is kept from before."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from math import log
from typing import Any

from yarnchat.choosing import asking, talk_of
from yarnchat.knowledge.classes import ambiguous_names
from yarnchat.language.conversions import yarn_number
from yarnchat.language.counts import MOST_SKEINS
from yarnchat.language.lexicon import shape_cue
from yarnchat.language.names import class_hint
from yarnchat.language.pieces import called_in, sides_in_order
from yarnchat.language.reading import Reading
from yarnchat.language.skein_limits import MOST_STITCHES, SKEIN_M
from yarnchat.language.yarns import merge_yarns, merged_put_up
from yarnchat.quantity import LENGTHS, MASSES, Quantity
from yarnchat.queries import Colour, Gauge, Holding, Measured, Needle, Piece, PutUp, Query, Series, Yarn, slots_told

_OF_ITS_OWN = frozenset({"yarn", "pattern.weight_class", "pattern.put_up", "pattern.gauge", "stash", "used"})
"""What a text with a need tells besides where it is a question of its own."""


def follows(before: Query, reading: Reading) -> bool:
    """Whether a text leans on the one before.

    It does where it tells no need and no thing of its own to work out, where what looks like its need is a skein's
    length, where it puts something right, or where it tells a need and nothing of the yarn.
    """
    query = reading.query
    slots = query.slots()
    if to_remember(before, query):
        return True
    if slots & {"note", "swatch", "piece", "grading"} or _converts_another(before, slots):
        return False
    leads = {"follow.again", "follow.no"}
    if before.piece and shape_cue(before.piece.shape) in reading.cues:
        leads |= {"follow.same_thing"}
    if before.piece and "pattern.thing" in reading.cues and not reading.cues & leads:
        return bool(reading.small or reading.dim)
    if _asks_of_what_she_has(before, reading) or _tells_what_hers_is_for(before, query):
        return True
    if "need" not in slots or (not reading.firm_need and _small_length_is_put_up(before, reading) is not query):
        return True
    return _puts_right(before, reading) or not slots & (_OF_ITS_OWN | {"several_colours"})


def _converts_another(before: Query, slots: frozenset[str]) -> bool:
    """Whether what was converted before leaves nothing for what is told now to change."""
    if before.measured is None:
        return False
    measured = before.measured
    of_mass = measured.into in MASSES and measured.amount and measured.amount.unit in MASSES
    if of_mass and {"yarn.put_up", "yarn.weight_class"} <= slots:
        return True  # 6 oz in grams has no yarn that could be another
    if slots & {"pattern.weight_class", "yarn.weight_class", "pattern.wpi", "yarn.wpi"}:
        return True  # US 7 in mm, and then: what's 4 ply
    return not measured.gauge and bool(slots & {"pattern.gauge", "yarn.gauge"})


def _asks_of_what_she_has(before: Query, reading: Reading) -> bool:
    """``and is it enough for a 900 m jumper?``, where what she has of the yarn was told before."""
    slots = reading.query.slots()
    if not before.stash or slots & {"stash", "yarn", "used"}:
        return False
    return (reading.it_is_said and "need" in slots) or bool(reading.cues & asking("of_stash"))


def _tells_what_hers_is_for(before: Query, now: Query) -> bool:
    """``my pattern needs 650 m of DK``, after what she has of another yarn: told alone, it is what that may be for."""
    return bool(before.stash) and another_need(now) and "pattern.weight_class" in now.slots()


def another_need(now: Query) -> bool:
    """``900 yds of bulky``: whether a text tells what another pattern takes, and nothing besides."""
    slots = now.slots()
    return "need.length" in slots and slots <= {"want", "need", "need.length", "pattern.weight_class"}


def _puts_right(before: Query, reading: Reading) -> bool:
    """``no, 1300 yd``, and ``1300 yd of the same weight again``: another need for the yarns told before."""
    query = reading.query
    slots = query.slots()
    if "yarn" in slots:
        return False
    alike = query.pattern.weight_class == before.pattern.weight_class and "pattern.put_up" not in slots
    again = alike and "follow.again" in reading.cues and bool(before.yarns)
    return "follow.no" in reading.cues or again


def piece_of_the_swatch(before: Query, now: Query) -> Query | None:
    """``how much for a blanket of 90 x 120 cm?``, after a swatch: in the swatch's yarn, where no other is told."""
    yarns = [yarn for yarn in now.both_sides if yarn.weight_class or yarn.gauge or yarn.name]
    if before.swatch is None or now.piece is None or now.swatch or now.colours or yarns:
        return None
    return replace(before, piece=now.piece, yarns=now.yarns or before.yarns, spares=now.spares, want=now.want)


def merged(before: Query, reading: Reading) -> Query:
    """The last query with what this text says put in its place, slot by slot in the order of ``_STEPS``."""
    if to_remember(before, reading.query):
        return Query(
            note=reading.query.note, swatch=before.swatch, stash=before.stash, yarns=tuple(_named_yarns(before))
        )
    before = _as_hers(before, reading)
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
    return now.want or (before.want if measured else None)


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
    return _with_yarns(query, told.now, told.reading)


def _with_stash(query: Query, told: _Told) -> Query:
    """What she has now: told outright, or a bare number where that is spoken of."""
    reading = told.reading
    of_skeins = reading.bare_count is not None and reading.beside_a_thing is None and not reading.cues & _NOT_OF_HERS
    counted = of_skeins and reading.cues & {"have.before", "have.after", "have.gone", "have.given"}
    few = bool(told.before.stash) or (reading.bare_count or 0) <= MOST_SKEINS
    added = not reading.cues & {"gauge.does"} and _adds_to_the_stash(told.before, reading)
    bare = (counted or added) and few and not told.now.slots() - {"want"}
    if told.before.stash and not told.now.stash and _hers_is_another(told.before, told.now):
        return replace(query, stash=())  # and in sport? what she has is not of it
    return replace(query, stash=_stash(told.before, told.now, reading)) if told.now.stash or bare else query


_NOT_OF_HERS = frozenset({"gauge.does", "used.before"})
"""What says of a lone number that it counts no skeins that she has: ``swatched and got 18``, ``used 1 of them``."""


def _hers_is_another(before: Query, now: Query) -> bool:
    """Whether the one yarn told now is of another weight than all that she has."""
    told = [yarn for yarn in now.both_sides if yarn.weight_class]
    had = {held.yarn.weight_class for held in before.stash}
    labelled = len(told) == 1 and told[0].put_up is not None  # of one without a label she may have as much
    return labelled and None not in had and told[0].weight_class not in had and not now.colours


def _with_taken_over(query: Query, told: _Told) -> Query:
    """The slots that a later text takes over whole, and the spares."""
    laid_over = [name for name, slot in slots_told().items() if slot.taken_over]
    values = {name: value for name in laid_over if (value := getattr(told.now, name))}
    spares = told.before.spares if told.now.spares is None else told.now.spares
    return replace(query, **values, spares=spares)


def _with_rows(query: Query, told: _Told) -> Query:
    """Other rows of the same work: of so many in all, or so many done of those before."""
    before, now = told.before.progress, told.now.progress
    alone = told.now.slots() == {"progress"}
    asked_again = alone or talk_of(told.before).carries in told.reading.cues
    if before and asked_again and query.progress and query.progress.rows_done and query.progress.rows_total is None:
        query = replace(query, progress=replace(before, rows_done=query.progress.rows_done))
    if before and now and now.rows_total and now.rows_done is None:
        query = replace(query, progress=replace(before, rows_total=now.rows_total))
    shaped = any(cue.startswith("shape.") for cue in told.reading.cues)
    if before and query.progress and query.progress.shape != before.shape and not shaped:
        query = replace(query, progress=replace(query.progress, shape=before.shape))
    return query


def _with_conversion(query: Query, told: _Told) -> Query:
    """What is converted now; an amount of it is no need and no stash."""
    before, now = told.before.measured, told.now.measured
    if before is None and (needle := _another_needle(told.before, told.now)):
        return replace(query, pattern=replace(query.pattern, needle=needle), measured=None)
    if before is None:
        return replace(query, measured=now) if now and _amount_told(now) else query
    measured = _measured(before, told.now, told.reading)
    if measured == before:
        return query
    query = replace(query, measured=measured, colours=told.before.colours, stash=told.before.stash)
    return replace(query, pattern=told.before.pattern, yarns=told.before.yarns)


def _another_needle(before: Query, now: Query) -> Needle | None:
    """``and 6 mm?``, after ``what weight goes on 4 mm needles?``: another needle, where nothing but one was told."""
    amount = now.measured.amount if now.measured else None
    if before.slots() - {"want"} != {"pattern.needle"} or now.slots() != {"measured"}:
        return None
    return Needle(f"{amount.value:g}", "mm") if amount and amount.unit == "mm" else None


def _with_part(query: Query, told: _Told) -> Query:
    """One colour of it, another mass of the swatch, or a lone number in the place of one before."""
    query = replace(query, **_of_one_colour(told.before, told.now, told.reading))
    query = replace(query, **_swatch_weighed(told.before, told.now))
    return _with_lone_number(query, told.before, told.reading)


def _with_piece_and_size(query: Query, told: _Told) -> Query:
    """The piece in other measures, the size picked, another chest."""
    before, now, reading = told.before, told.now, told.reading
    if before.piece and not before.piece.measures and now.colours:
        query = replace(query, piece=None)  # how much for a scarf? the pattern takes 700 m
    elif before.piece and now.piece is None:
        query = replace(query, piece=_other_piece(before.piece, reading))
    if not now.pick:
        query = replace(query, pick=_other_pick(before, reading))
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


def _with_lone_number(query: Query, before: Query, reading: Reading) -> Query:
    """The question with a number of which nothing is said in the place of the one before that it is near."""
    if query.stash != before.stash:
        return query  # I've got 12, is that enough? of skeins, and of nothing else
    if need := _other_need(before, reading):
        query = replace(query, colours=need)
    elif _other_gauge(before, reading) and reading.cues & _HER_GAUGE and before.pattern.gauge and not before.yarns:
        hers = replace(before.pattern.gauge, stitches=reading.bare_count or 0.0, rows=None)
        query = replace(query, yarns=(Yarn(gauge=hers),))  # the pattern's gauge is 20 sts; I'm getting 18
    elif _other_gauge(before, reading) and reading.cues & _PATTERNS_GAUGE:
        query = replace(query, pattern=_at_gauge(_gauged_like(before), reading), ability="")
    elif _other_gauge(before, reading) and before.yarns:
        query = replace(query, yarns=(_at_gauge(before.yarns[0], reading), *before.yarns[1:]))
    elif _other_gauge(before, reading):
        query = replace(query, pattern=_at_gauge(before.pattern, reading))
    if wound := _other_put_up(before, reading):
        query = replace(query, yarns=(wound, *before.yarns[1:]))
    return query


def _gauged_like(before: Query) -> Yarn:
    """The pattern's yarn, whose gauge, where none was told, is counted over what hers is."""
    hers = before.yarns[0].gauge if before.yarns else None
    return before.pattern if before.pattern.gauge else replace(before.pattern, gauge=hers)


_HER_GAUGE = frozenset({"yarn.have", "gauge.does"})
_PATTERNS_GAUGE = frozenset({"pattern.after", "pattern.in", "pattern.noun"})


def _other_put_up(before: Query, reading: Reading) -> Yarn | None:
    """``actually it's 240``, after ``dk, 230 yards a skein``: a lone number near what is on a skein and no need."""
    bare = reading.bare_count
    wound = before.yarns[0].put_up if before.yarns else None
    if bare is None or not wound or not wound.length or reading.query.slots() or len(reading.unknown) > 2:
        return None
    if f"{bare:g}" in before.sizes:
        return None  # and the 80?
    near = wound.length.value / 2 <= bare <= 2 * wound.length.value
    of_a_piece = bool(reading.measures_named) and before.piece is not None
    if not near or reading.colour or of_a_piece or bare <= MOST_STITCHES or not _nearer_the_skein(before, bare):
        return None
    return replace(before.yarns[0], put_up=replace(wound, length=replace(wound.length, value=bare), other_length=None))


def _nearer_the_skein(before: Query, number: float) -> bool:
    """Whether a bare number is nearer to what is on a skein than to what is needed."""
    lengths = [yarn.put_up.length.value for yarn in before.yarns if yarn.put_up and yarn.put_up.length]
    needs = [value for series in before.amounts for value in series.values if value > 0]
    if not lengths or number <= 0 or min(lengths) <= 0:
        return False
    skein = min(abs(log(number / length)) for length in lengths)
    return all(skein < abs(log(number / need)) for need in needs)


def _adds_to_the_stash(before: Query, reading: Reading) -> bool:
    """``and one more?``, ``with six``: skeins, where a number of them was told before."""
    counted = bool(before.stash) and before.stash[0].unit == "skein"
    if reading.beside_a_thing is not None:
        return False  # four hats?
    lone = reading.bare_count is not None and 0 < reading.bare_count <= MOST_SKEINS and len(reading.unknown) <= 1
    asked = reading.cues & asking("of_stash")
    given = reading.bare_count is not None and "have.given" in reading.cues
    return (counted and ("have.more" in reading.cues or given or lone)) or (
        reading.bare_count is not None and bool(asked)
    )


def _of_one_colour(before: Query, now: Query, reading: Reading) -> dict[str, Any]:
    """``and the contrast colour?``, ``CC 250``: the one colour asked for, or its amount put right, in its unit."""
    if len(before.colours) > 1 and len(now.colours) == 1 and not now.colours[0].name:
        return _other_colour(before, now, reading)
    if now.colours or len(before.colours) < 2:
        return {"only": None} if now.colours else {}
    meant = [
        colour for colour in before.colours if reading.colour and _plainly(colour.name) == _plainly(reading.colour)
    ]
    if len(meant) != 1:
        return {}
    [colour] = meant
    amounts = colour.amounts
    other_yarn = bool(now.yarns) or now.pattern != Yarn()
    if other_yarn or reading.bare_count is None or len(amounts) != 1 or len(amounts[0].values) != 1:
        return {"only": colour.name}
    told = replace(colour, amounts=(replace(amounts[0], values=(reading.bare_count,), low=None),))
    return {"colours": tuple(told if other is colour else other for other in before.colours), "only": None}


def _other_colour(before: Query, now: Query, reading: Reading) -> dict[str, Any]:
    """``what if red were 450 yds``: the amount of one of the colours told before, put in its place."""
    said = _plainly(reading.colour) if reading.colour else None
    amounts = now.colours[0].amounts
    if said is None or all(_plainly(colour.name) != said for colour in before.colours):
        return {"only": None}
    told = (replace(colour, amounts=amounts) if _plainly(colour.name) == said else colour for colour in before.colours)
    return {"colours": tuple(told), "only": None}


def _plainly(label: str) -> str:
    """A colour's label without the many ways to write it: ``the contrast colour`` is CC, ``main shade`` is MC."""
    said = re.sub(r"\b(?:the|colou?r|shade|yarn|col)\b|[^a-z0-9]", "", label.lower())
    return re.sub(r"^(?:contrasting|contrast)", "cc", re.sub(r"^main", "mc", said))


def _now(before: Query, reading: Reading) -> Query:
    """What this text says, its amount read in the light of the question before: a skein's length, or the stash."""
    firm = reading.firm_need or "follow.colour" in reading.cues
    now = reading.query if firm else _small_length_is_put_up(before, reading)
    if not before.stash or now.stash or not _of_the_stash(before, now, reading):
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


def _amount_told(measured: Measured) -> bool:
    """Whether it says what to convert, and not only into what."""
    return bool(measured.amount or measured.needle or measured.gauge or measured.count)


def _other_pick(before: Query, reading: Reading) -> str | None:
    """The size a lone number names, or the one picked before; none where every size is asked for after one was."""
    if before.pick and reading.every_size:
        return None
    told = (reading.small and reading.small.value, reading.bare_count, reading.beside_a_thing)
    lone = [f"{value:g}" for value in told if value is not None]
    named = next((name for name in lone if name in before.sizes), None)
    return named or before.pick


def _other_piece(piece: Piece, reading: Reading) -> Piece:
    """The piece before with a measure, or several, in another size, or so many of it."""
    if reading.many and not (reading.small or reading.dim):
        return replace(piece, count=reading.many)
    if len(reading.measured) > 1:
        told = {called_in(piece.shape, name): size for name, size in reading.measured}
        if len(told) == len(reading.measured) and told.keys() <= {name for name, _ in piece.measures}:
            return replace(piece, measures=tuple((name, told.get(name, old)) for name, old in piece.measures))
    if reading.small or (reading.measures_named and reading.bare_count and piece.measures):
        size = reading.small or Quantity(reading.bare_count or 0, piece.measures[0][1].unit)
        return _resized(piece, size, reading)
    names = [name for name, _ in piece.measures][:2] or list(sides_in_order(piece.shape))
    if reading.dim and len(names) == 2:
        return replace(piece, measures=tuple(zip(names, reading.dim, strict=True)))
    return piece


def to_remember(before: Query, now: Query) -> bool:
    """``remember it``: what was spoken of is to be kept, and nothing new is told of it."""
    wanted = now.note is not None and now.note.verb == "remember" and not now.slots() - {"note", "want"}
    return wanted and bool(before.swatch or before.stash or _named_yarns(before))


def _named_yarns(query: Query) -> list[Yarn]:
    return [yarn for yarn in (*query.yarns, query.pattern) if yarn.name]


def _other_need(before: Query, reading: Reading) -> tuple[Colour, ...] | None:
    """``what about 1500?``: a lone number of the need's own size, in its unit."""
    value = reading.bare_count
    if value is None or value < 100 or reading.query.slots() or len(reading.unknown) > 2 or len(before.colours) != 1:
        return None
    amounts = before.colours[0].amounts
    if len(amounts) != 1 or amounts[0].unit not in LENGTHS or len(amounts[0].values) != 1:
        return None
    if not amounts[0].values[0] / 4 < value < 4 * amounts[0].values[0] or _nearer_the_skein(before, value):
        return None
    return (replace(before.colours[0], amounts=(Series((value,), amounts[0].unit),)),)


def _resized(piece: Piece, size: Quantity, reading: Reading) -> Piece:
    """``make it 10 in wide``: the measure named in another size, or the only one there is."""
    names = [name for name, _ in piece.measures]
    meant = [name for name in names if name in reading.measures_named] or (names if len(names) == 1 else [])
    if len(meant) != 1:
        return piece
    return replace(piece, measures=tuple((name, size if name == meant[0] else old) for name, old in piece.measures))


def _at_gauge(yarn: Yarn, reading: Reading) -> Yarn:
    """The yarn at the lone number of stitches, or of rows where those are spoken of."""
    count = reading.bare_count
    if not yarn.gauge or not count:
        return yarn
    if "gauge.rows" in reading.cues and yarn.gauge.rows is not None:
        return replace(yarn, gauge=replace(yarn.gauge, rows=count))
    return replace(yarn, gauge=replace(yarn.gauge, stitches=count))


def _other_gauge(before: Query, reading: Reading) -> bool:
    """``and at 23?``: a lone number where her gauge was the last thing told."""
    lone = reading.bare_count is not None and not reading.query.slots()
    lone = lone and reading.cues.isdisjoint(("have.after", "yarn.would"))  # 3 are on my shelf; would 5 be ok?
    lone = lone and (len(reading.unknown) <= 2 or "gauge.does" in reading.cues)
    gauged = (before.yarns[0] if before.yarns else before.pattern).gauge
    count = reading.bare_count or 0
    if not lone or gauged is None or not 3 <= count <= 45:
        return False
    owned = "have.before" in reading.cues  # I have 4, where the gauge was 18 sts
    return not owned or gauged.stitches / 2 < count < 2 * gauged.stitches


_NEEDED_FOR = frozenset({"pattern.noun", "pattern.thing", "size.named"})
"""What skeins told beside it are for: ``what about the medium, 10 balls?``."""


def _of_the_stash(before: Query, now: Query, reading: Reading) -> bool:
    """``what if there's only 65 g?``, ``and 9 balls?``: an amount told as the stash was, and not said to be needed."""
    said = now.amounts
    label = before.stash[0].yarn.put_up
    weighed = Yarn(put_up=PutUp(mass=label.mass)) if label and label.mass else Yarn()  # 7 x 50 g balls
    if len(said) != 1 or len(said[0].values) != 1 or now.yarns or now.pattern not in (Yarn(), weighed):
        return False
    need = {series.unit for series in before.amounts}
    if not need and said[0].unit in MASSES and before.stash[0].unit in MASSES:
        return True  # 60 g left: how many metres? and 2 ounces?
    skeins = said[0].unit == "skein" and reading.cues.isdisjoint(_NEEDED_FOR)
    held = {held.unit for held in before.stash}
    return said[0].unit in held and (skeins or said[0].unit not in need)


def _measured(before: Measured, now: Query, reading: Reading) -> Measured:
    """The same conversion of another thing: ``and 1.75 oz?``, ``and 4``, ``and 18 sts?``."""
    if not now.slots() and (alone := _of_a_lone_number(before, reading)):
        return alone
    if now.measured and (over := _counted_over(before, now.measured)):
        return over
    if now.measured and not _amount_told(now.measured):
        return replace(before, into=now.measured.into)  # and in old UK?
    if now.measured:
        kinds = ("needle", "gauge", "count")
        alike = all(bool(getattr(now.measured, what)) == bool(getattr(before, what)) for what in kinds)
        into = now.measured.into or (before.into if alike else None)
        return replace(now.measured, into=into, gauge=_as_before(now.measured.gauge, before))
    amount = _other_amount(before, now)
    return replace(before, amount=amount) if amount else _of_a_yarn(before, now)


def _counted_over(before: Measured, now: Measured) -> Measured | None:
    """``and over 10 cm?``, after stitches over 4 in: the same gauge over another length."""
    over_another = before.gauge and before.into and before.into[0].isdigit()
    length = now.amount if now.amount and now.amount.unit in ("cm", "in") and not now.into else None
    return replace(before, into=str(length)) if over_another and length else None


def _of_a_lone_number(before: Measured, reading: Reading) -> Measured | None:
    """A number of which nothing is said, as the needle or the amount that was converted before."""
    if reading.small and before.needle and reading.small.unit == "mm":
        return replace(before, needle=Needle(f"{reading.small.value:g}", "mm"))
    if reading.small and before.amount and before.into:
        return replace(before, amount=reading.small)
    if reading.small and before.gauge and before.into and before.into[0].isdigit():
        return replace(before, into=str(reading.small))  # 23 sts over 10 cm, over 84 cm: and over 92 cm?
    bare = reading.bare_count
    if bare is None:
        return None
    if before.needle:
        return replace(before, needle=replace(before.needle, size=f"{bare:g}"))
    if before.gauge and before.amount is None:
        return replace(before, gauge=replace(before.gauge, stitches=bare, rows=None))
    return replace(before, amount=Quantity(bare, before.amount.unit)) if before.amount else None


def _other_amount(before: Measured, now: Query) -> Quantity | None:
    """The length or mass told now, whether it was read as needed, as owned or as a skein's mass."""
    series = [series for series in now.amounts if len(series.values) == 1 and series.unit != "skein"]
    held = [held for held in now.stash if held.unit != "skein"]
    if series:
        return series[0].first()
    if held:
        return Quantity(held[0].amount, held[0].unit)
    yarn = now.yarns[0] if now.yarns else now.pattern
    label = yarn.put_up
    if label is None or before.amount is None or yarn != Yarn(put_up=label):
        return None
    if label == PutUp(mass=label.mass) and before.amount.unit in MASSES:
        return label.mass  # and an 85 gram one
    return (
        label.length if label == PutUp(label.length) and before.amount.unit in LENGTHS else None
    )  # and a ball of 85 m


def _of_a_yarn(before: Measured, now: Query) -> Measured:
    """The needle, the gauge or the length per mass told now in the place of the one before."""
    yarn = now.yarns[0] if now.yarns else now.pattern
    metric = before.amount is not None and before.amount.unit == "mm"
    if yarn.needle and (before.needle or metric):
        into = None if before.into == yarn.needle.system else before.into
        return replace(before, needle=yarn.needle, amount=None, into=into)
    if yarn.gauge and before.gauge:
        return replace(before, gauge=_as_before(yarn.gauge, before))
    rated = yarn.put_up and yarn.put_up.length and yarn.put_up.mass and yarn.put_up.mass.value
    return replace(before, count=yarn_number(yarn.put_up)) if rated and yarn.put_up and before.count else before


def _as_before(gauge: Gauge | None, before: Measured) -> Gauge | None:
    """``and 18 sts?``: over what the ones before were counted, where they would be over what is asked for already."""
    if gauge and before.gauge and str(gauge.over) == before.into:
        return replace(gauge, over=before.gauge.over)
    return gauge


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


def _small_length_is_put_up(before: Query, reading: Reading) -> Query:
    """``the sport over there, 328 yds``: beside a yarn, a length well under the need is one skein's worth."""
    now = reading.query
    lengths = [
        series
        for colour in now.colours
        for series in colour.amounts
        if series.unit in LENGTHS and len(series.values) == 1
    ]
    yarn = now.yarns[0] if len(now.yarns) == 1 else now.pattern if not now.yarns and now.pattern != Yarn() else None
    both_sides = bool(now.yarns) and now.pattern.weight_class is not None
    asked = bool(before.colours or before.piece)
    if both_sides and len(lengths) == 1 and asked and (other := _in_place_of_hers(before, now, lengths[0])):
        return other
    if len(lengths) != 1 or now.colours[0].name or (yarn and yarn.put_up) or not asked or both_sides:
        return now
    if "pattern.noun" in reading.cues and now.pattern.weight_class:
        return now  # 500 yd worsted pattern
    if yarn is None and _offered_smaller(before, reading, lengths[0]):
        return replace(now, colours=(), yarns=(Yarn(put_up=PutUp(lengths[0].first())),))
    priced = yarn is not None and yarn.price is not None  # 200 yds, $12 a skein
    if yarn is None or not (yarn.weight_class or yarn.name or priced):
        return now
    own = lengths[0].first()
    needed = {value for series in before.amounts for value in series.values}
    if own.to("m").value > SKEIN_M or own.value in needed:
        return now
    told = replace(yarn, put_up=PutUp(length=own), price=yarn.price or now.pattern.price)
    return replace(now, colours=(), yarns=(told,), pattern=Yarn())


def _in_place_of_hers(before: Query, now: Query, length: Series) -> Query | None:
    """``sport at 300 yd instead of the DK?``: another yarn with its skein's length, for the one she had in mind."""
    [yarn, *more], own = now.yarns, length.first()
    hers = {other.weight_class for other in before.yarns}
    needed = {value for series in before.amounts for value in series.values}
    if more or now.pattern.weight_class not in hers or yarn.weight_class in hers or yarn.put_up:
        return None
    if own.to("m").value > SKEIN_M or own.value in needed:
        return None
    return replace(now, colours=(), pattern=Yarn(), yarns=(replace(yarn, put_up=PutUp(length=own)),))


def _offered_smaller(before: Query, reading: Reading, length: Series) -> bool:
    """``they have a smaller one, 170 yards``: a length nearer to a skein's than to the need."""
    labelled = bool(reading.cues & {"yarn.have", "yarn.here"}) or _near_the_skein(before, length)
    if talk_of(before).of_lengths or reading.firm_need or ("follow.no" in reading.cues and not labelled):
        return False
    need = [s for s in before.amounts if s.unit in LENGTHS]
    wound = next((y.put_up.length for y in (*before.yarns, before.pattern) if y.put_up and y.put_up.length), None)
    if not need and labelled and reading.cues & {"follow.no", "follow.again"}:
        return True  # 8 balls of DK, aran at 85 m, oh wait it's 90 m
    if not need or wound is None or not (length.values[0] > 0 and wound.value > 0 and max(need[0].values) > 0):
        return False
    own = length.first()
    to_need = own.value / need[0].largest().to(own.unit).value
    to_skein = own.value / wound.to(own.unit).value
    offered = bool(reading.cues & {"yarn.have", "yarn.here"}) and 0 < to_need <= 1 / 2  # on cones too, 560 yards
    return offered or (to_need > 0 and to_skein > 0 and abs(log(to_skein)) < abs(log(to_need)))


def _near_the_skein(before: Query, length: Series) -> bool:
    """``oops, 85 m``: a length that puts the skein's right, and not the need's."""
    wound = next((y.put_up.length for y in before.yarns if y.put_up and y.put_up.length), None)
    needs = [series for series in before.amounts if series.unit in LENGTHS]
    own = length.first()
    near_a_need = any(v / 2 <= own.to(s.unit).value <= 2 * v for s in needs for v in s.values)
    return wound is not None and not near_a_need and wound.value / 2 <= own.to(wound.unit).value <= 2 * wound.value


def _needs(before: Query, now: Query) -> tuple[Colour, ...]:
    """The need put right: of one colour where it is named or is the only one."""
    named = {colour.name.casefold(): colour for colour in now.colours if colour.name}
    if len(before.colours) > 1 and named and all(name in {c.name.casefold() for c in before.colours} for name in named):
        return tuple(named.get(colour.name.casefold(), colour) for colour in before.colours)
    return now.colours


def _with_yarns(query: Query, now: Query, reading: Reading) -> Query:
    """The query with the yarns told now: the pattern's where that is meant, else the ones to knit with."""
    if settled := _which_was_meant(query, now):
        return settled
    if held := _held_otherwise(query, now, reading):
        return held
    told_pattern = now.pattern != Yarn()
    if told_pattern and not now.yarns:
        if now.colours and now.pattern.weight_class == query.pattern.weight_class:
            return query
        if _labelled_as_hers(query, now, reading):
            return replace(query, yarns=(now.pattern,))
        if _means_the_pattern(query, now, reading):
            return replace(query, pattern=_changed(query.pattern, now.pattern))
    if _each_its_own(now, reading):
        if not query.yarns and now.yarns[0].weight_class == query.pattern.weight_class:
            hers = now.yarns[0].filled_from(query.pattern)  # both were dk: no, the pattern is 4 ply; mine stays dk
            return replace(query, pattern=now.pattern, yarns=(hers,))
        query = replace(query, pattern=_changed(query.pattern, now.pattern))
        told_pattern = False
    wanted = _joined([*([now.pattern] if told_pattern else []), *now.yarns])
    if len(wanted) == 1 and "follow.patterns" in reading.cues and not wanted[0].weight_class:
        own = Yarn(weight_class=query.pattern.weight_class, class_as_said=query.pattern.class_as_said)
        wanted = [wanted[0].filled_from(replace(own, name=query.pattern.name))]
    if len(wanted) > 1:
        wanted = [_as_labelled_before(yarn, query.yarns) for yarn in wanted]
    if len(wanted) == 1:
        return _with_yarn(query, _with_bare_length(query, wanted[0], reading), now, reading)
    return replace(query, yarns=tuple(wanted)) if wanted else query


def _held_otherwise(query: Query, now: Query, reading: Reading) -> Query | None:
    """``and held double?``, where only the pattern's yarn was told: so many strands of it where there was one."""
    told = [yarn for yarn in now.both_sides if yarn != Yarn()]
    strands = told[0].strands if len(told) == 1 else None
    if (strands or 1) < 2 or told != [Yarn(strands=strands)] or now.colours or reading.cues & _PATTERN_TOLD:
        return None
    if query.yarns or not query.pattern.put_up or query.pattern.strands or not query.amounts:
        return None
    return replace(query, yarns=(replace(query.pattern, strands=strands),), ability="")


_PATTERN_TOLD = frozenset({"pattern.noun", "pattern.label", "pattern.in", "pattern.verb"})


def _as_labelled_before(yarn: Yarn, before: tuple[Yarn, ...]) -> Yarn:
    """``two strands of the lace and one of the fingering``: of the one yarn told before that is of that weight."""
    alike = [old for old in before if yarn.weight_class in (old.weight_class, class_hint(old.name or ""))]
    bare = not (yarn.put_up or yarn.name or yarn.gauge)
    return yarn.filled_from(alike[0]) if bare and len(alike) == 1 and yarn.weight_class else yarn


def _which_was_meant(query: Query, now: Query) -> Query | None:
    """``sport``, where ``baby`` was asked about: one of the classes that name is used of, for the yarn called so."""
    told = [yarn for yarn in now.both_sides if yarn != Yarn()]
    if len(told) != 1 or told[0] != Yarn(weight_class=told[0].weight_class, class_as_said=told[0].class_as_said):
        return None
    meant = told[0]
    for yarn in query.both_sides:
        if yarn.weight_class or meant.weight_class not in ambiguous_names().get((yarn.class_as_said or "").lower(), ()):
            continue
        clear = replace(yarn, weight_class=meant.weight_class, class_as_said=meant.class_as_said)
        yarns = tuple(clear if other is yarn else other for other in query.yarns)
        return replace(query, pattern=clear if query.pattern is yarn else query.pattern, yarns=yarns)
    return None


def _each_its_own(now: Query, reading: Reading) -> bool:
    """Whether both sides are told anew: a gauge of each, or ``the pattern is dk and my yarn is sport``."""
    if len(now.yarns) != 1:
        return False
    weights = bool(now.pattern.weight_class and now.yarns[0].weight_class)
    named = bool(reading.cues & {"pattern.in", "pattern.noun", "pattern.label", "pattern.after", "exchange.to"})
    return bool(now.pattern.gauge and now.yarns[0].gauge) or (weights and named)


def _labelled_as_hers(query: Query, now: Query, reading: Reading) -> bool:
    """``Yarn: DK, 230 yd a skein``, where a worsted pattern was told and nothing answered: what it is to be knit in."""
    others = reading.cues & {"pattern.noun", "pattern.in", "pattern.after", "follow.no"}
    another = query.pattern.weight_class and now.pattern.weight_class not in (None, query.pattern.weight_class)
    open_still = not query.yarns and not query.pattern.put_up and not now.colours
    return bool(another and now.pattern.put_up and open_still and not others)


_OF_THE_PATTERN = frozenset({"pattern.noun", "pattern.verb"})


def _means_the_pattern(query: Query, now: Query, reading: Reading) -> bool:
    """Whether a yarn told alone is the pattern's; what is paid for is the yarn that is bought."""
    cues = {"pattern.noun", "pattern.label", "pattern.in", "pattern.over", "pattern.after"}
    if "follow.no" in reading.cues:
        cues.add("pattern.thing")
    first_need = bool(now.colours and query.stash)  # and a cardi that needs 900 m of aran?
    only_price = now.pattern == Yarn(price=now.pattern.price)
    wound = query.yarns[0].put_up if query.yarns else None
    only_label = now.pattern == Yarn(put_up=now.pattern.put_up)
    if only_label and wound and not query.pattern.put_up and "pattern.in" not in reading.cues:
        return bool(_OF_THE_PATTERN & reading.cues)
    if now.same_gauge and now.pattern == Yarn(strands=now.pattern.strands):
        return False  # held double and at the pattern gauge
    denied = query.pattern.weight_class in reading.not_weights
    denied = denied and not any(yarn.weight_class in reading.not_weights for yarn in query.yarns)
    return not only_price and (first_need or denied or bool(reading.cues & cues))


def _with_yarn(query: Query, yarn: Yarn, now: Query, reading: Reading) -> Query:
    """The query with the one yarn told now: compared with the others, in the stash, to knit with, or the pattern's."""
    talk = talk_of(query)
    if talk.of_other_yarns and "follow.other" in reading.cues and not query.colours:
        return replace(query, pattern=Yarn(), yarns=(yarn,))
    if _gauges_of_both(query, yarn, reading):
        return replace(query, pattern=query.both_sides[0], yarns=(yarn,), ability="")
    if talk.of_candidates and (chosen := _candidate(query.yarns, yarn)):
        return replace(query, yarns=(chosen,))
    if talk.of_candidates and (marked := _candidate_changed(query.yarns, yarn)):
        return replace(query, yarns=marked)
    if talk.of_candidates and query.yarns and _one_more(query.yarns, yarn, reading):
        return replace(query, yarns=(*query.yarns, yarn))
    if yarn.put_up and not (yarn.weight_class or yarn.name or now.stash) and any(h.yarn.put_up for h in query.stash):
        query = replace(query, stash=tuple(replace(held, yarn=_changed(held.yarn, yarn)) for held in query.stash))
        if not query.yarns or not query.yarns[0].put_up:
            return replace(query, pattern=_changed(query.pattern, yarn)) if query.pattern.put_up else query
    if query.yarns:
        return _with_first_yarn(query, yarn, reading)
    if query.pattern == Yarn():
        return replace(query, yarns=(yarn,))
    in_skeins = any(series.unit == "skein" for series in query.amounts)
    if in_skeins and query.pattern.put_up and yarn.put_up and "yarn.have" in reading.cues:
        return replace(query, yarns=(yarn,))  # 5 skeins of 210 yards; my skeins are 180 yards
    if query.colours and not (talk.of_one_yarn and not (yarn.weight_class or yarn.name or yarn.gauge)):
        return replace(query, yarns=(yarn,))
    if talk.of_other_yarns and not query.colours:
        return replace(query, pattern=yarn)
    return replace(query, pattern=_changed(query.pattern, yarn))


def _gauges_of_both(query: Query, yarn: Yarn, reading: Reading) -> bool:
    """``the pattern's tension is 18 sts to 10 cm``, and then ``I get 20``: the gauge told before was the pattern's."""
    alone = query.pattern == Yarn(gauge=query.pattern.gauge) and not query.yarns
    return bool(alone and query.pattern.gauge and yarn.gauge and reading.cues & _HER_GAUGE)


def _with_first_yarn(query: Query, yarn: Yarn, reading: Reading) -> Query:
    """The query with its yarn changed; a gauge said to be kept was that of the yarn before."""
    first, *others = query.yarns
    changed = _changed(first, yarn, correcting="follow.no" in reading.cues)
    if "follow.same_balls" in reading.cues and changed.put_up is None:
        changed = replace(changed, put_up=first.put_up)
    alone = not query.ability and first == Yarn(weight_class=first.weight_class, class_as_said=first.class_as_said)
    corrected = "follow.no" in reading.cues and "yarn.here" not in reading.cues  # no, I mean super chunky
    if (talk_of(query).of_one_yarn or alone) and not corrected and _of_another_weight(query, first, yarn):
        query = replace(query, pattern=replace(first, price=None))
    same_gauge = query.same_gauge and changed.weight_class == first.weight_class
    return replace(query, yarns=(changed, *others), same_gauge=same_gauge)


def _of_another_weight(query: Query, first: Yarn, yarn: Yarn) -> bool:
    """``and in a worsted instead?``, where the amount was told of one yarn: that one was the pattern's."""
    unsaid = query.pattern.class_as_said is None and query.pattern.name is None and query.pattern.gauge is None
    other = yarn.weight_class is not None and first.weight_class not in (None, yarn.weight_class)
    return unsaid and other and bool(query.colours)


def _with_bare_length(before: Query, yarn: Yarn, reading: Reading) -> Yarn:
    """``and in aran at 150?``: a lone number near the last skein's length is this yarn's, in its unit."""
    labels = [old.put_up for old in (before.yarns or (before.pattern,)) if old.put_up]
    wound = next((label.length for label in labels if label.length), None)
    bare = reading.bare_count
    other = yarn.weight_class or yarn.name
    if not (wound and bare and other) or yarn.put_up or not wound.value / 4 <= bare <= wound.value * 4:
        return yarn
    return replace(yarn, put_up=PutUp(length=Quantity(bare, wound.unit)))


def _candidate(compared: tuple[Yarn, ...], yarn: Yarn) -> Yarn | None:
    """The one of those compared that a yarn told without a label is."""
    alike = [y for y in compared if (y.weight_class, y.name) == (yarn.weight_class, yarn.name)]
    bare = not (yarn.put_up or yarn.gauge or yarn.price)
    return alike[0] if bare and len(alike) == 1 and len(compared) > 1 else None


def _candidate_changed(compared: tuple[Yarn, ...], yarn: Yarn) -> tuple[Yarn, ...] | None:
    """Those compared, with what is told anew of the one that is named: ``Fernlaw DK is marked down to £3.20``."""
    alike = [other for other in compared if yarn.name and other.name == yarn.name]
    if len(alike) != 1 or len(compared) < 2:
        return None
    return tuple(_changed(other, yarn) if other is alike[0] else other for other in compared)


def _one_more(compared: tuple[Yarn, ...], yarn: Yarn, reading: Reading) -> bool:
    """``and DK, 250 yd a skein?``: a yarn with its own put-up that is none of those compared."""
    known = {(other.class_as_said, other.name) for other in compared}
    return bool(yarn.put_up) and (yarn.class_as_said, yarn.name) not in known and "follow.no" not in reading.cues


def _joined(yarns: list[Yarn]) -> list[Yarn]:
    """Yarns told in pieces (``DK. 50 g, 125 m``) put together where they do not contradict each other."""
    out: list[Yarn] = []
    for yarn in yarns:
        both = merge_yarns(out[-1], yarn) if out else None
        if both:
            out[-1] = both
        else:
            out.append(yarn)
    return out


def _changed(old: Yarn, new: Yarn, *, correcting: bool = False) -> Yarn:
    """Another yarn where its class or name differs, else the old one with what was said of it now."""
    other = (new.weight_class and new.weight_class != old.weight_class) or (new.name and new.name != old.name)
    if other and (old.weight_class or old.name):
        kept = replace(new, strands=new.strands or old.strands, put_up=new.put_up or old.put_up)
        return kept if correcting else new
    if new.class_as_said and new.weight_class is None:
        return new
    if new.put_up and old.put_up and (both := merged_put_up(old.put_up, new.put_up)):
        new = replace(new, put_up=both)
    elif new.put_up and old.put_up and correcting and new.put_up.mass is None and new.put_up.length:
        new = replace(new, put_up=replace(old.put_up, length=new.put_up.length, other_length=None))
    return new.filled_from(old)


def _less(before: Query, now: Query, reading: Reading) -> float | None:
    """How many of the skeins she has are not there: ``one ball is only half``, ``2 of them are promised``."""
    told = [held.amount for held in now.stash if held.unit == "skein"]
    some = told[0] if len(told) == 1 else reading.bare_count
    if some is None or len(before.stash) != 1 or before.stash[0].unit != "skein":
        return None
    if "have.part" in reading.cues and some == 1:
        return 0.5
    return some if reading.cues & {"have.gone", "have.given"} and some < before.stash[0].amount else None


def _stash(before: Query, now: Query, reading: Reading) -> tuple[Holding, ...]:
    """What she has now: a count without a yarn is of the yarn spoken of."""
    less = _less(before, now, reading)
    if less is not None:
        return (replace(before.stash[0], amount=before.stash[0].amount - less), *before.stash[1:])
    if not now.stash and before.stash and "have.more" in reading.cues:
        more = 1.0 if reading.bare_count is None else reading.bare_count
        return (*before.stash, Holding(more, "skein", before.stash[0].yarn))
    if not now.stash and reading.bare_count is not None:
        if before.stash:
            return (replace(before.stash[0], amount=reading.bare_count),)
        return (Holding(reading.bare_count, "skein", before.yarns[0] if before.yarns else before.pattern),)
    one_of_several = "follow.this" in reading.cues or (not before.colours and talk_of(before).of_hers)
    if before.stash and "have.more" in reading.cues and not one_of_several and not now.colours:
        return (
            *before.stash,
            *(
                replace(held, yarn=before.stash[0].yarn)
                for held in now.stash
                if held.yarn in (Yarn(), before.stash[0].yarn)
            ),
        )
    own = now.yarns[0] if now.yarns else Yarn()
    known = before.stash[0].yarn if before.stash else Yarn() if before.yarns else before.pattern
    remains = bool(before.stash and before.stash[0].left)
    return tuple(
        replace(
            held,
            yarn=held.yarn if held.yarn != Yarn() else own if own != Yarn() else known,
            left=held.left or (held.presumed and remains),
        )
        for held in now.stash
    )
