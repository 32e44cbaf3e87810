"""A number of which nothing is said, in the place of the one before that it is near."""

from __future__ import annotations

from dataclasses import replace
from math import log

from yarnchat.language.reading import Reading
from yarnchat.language.skein_limits import MOST_STITCHES
from yarnchat.quantity import LENGTHS
from yarnchat.queries import Colour, Query, Series, Yarn


def with_lone_number(query: Query, before: Query, reading: Reading) -> Query:
    """The question with a number of which nothing is said in the place of the one before that it is near."""
    if query.stash != before.stash:
        return query  # I've got 12, is that enough? of skeins, and of nothing else
    if need := _other_need(before, reading):
        query = replace(query, colours=need)
    elif _other_gauge(before, reading) and reading.cues & HER_GAUGE and before.pattern.gauge and not before.yarns:
        hers = replace(before.pattern.gauge, stitches=reading.bare_count or 0.0, rows=None)
        query = replace(query, yarns=(Yarn(gauge=hers),))  # the pattern's gauge is 20 sts; I'm getting 18
    elif _other_gauge(before, reading) and reading.cues & _PATTERNS_GAUGE:
        query = replace(query, pattern=_at_gauge(_gauged_like(before), reading), ability="")
    elif _other_gauge(before, reading) and before.yarns:
        query = replace(query, yarns=(_at_gauge(before.yarns[0], reading), *before.yarns[1:]))
    elif _other_gauge(before, reading):
        query = replace(query, pattern=_at_gauge(before.pattern, reading))
    if (wound := _other_put_up(before, reading)) and before.yarns:
        query = replace(query, yarns=(wound, *before.yarns[1:]))
    elif wound:
        query = replace(query, pattern=wound)
    return query


def _gauged_like(before: Query) -> Yarn:
    """The pattern's yarn, whose gauge, where none was told, is counted over what hers is."""
    hers = before.yarns[0].gauge if before.yarns else None
    return before.pattern if before.pattern.gauge else replace(before.pattern, gauge=hers)


HER_GAUGE = frozenset({"yarn.have", "gauge.does"})


_PATTERNS_GAUGE = frozenset({"pattern.after", "pattern.in", "pattern.noun"})


def _other_put_up(before: Query, reading: Reading) -> Yarn | None:
    """``actually it's 240``, after ``dk, 230 yards a skein``: a lone number near what is on a skein and no need."""
    bare = reading.bare_count
    one = before.yarns[0] if before.yarns else before.pattern
    wound = one.put_up
    if not before.yarns and any(series.unit == "skein" for series in before.amounts):
        return None  # 8 hanks of 210 yd: I found one with 230 in it
    if bare is None or not wound or not wound.length or reading.query.slots() or len(reading.unknown) > 2:
        return None
    if f"{bare:g}" in before.sizes:
        return None  # and the 80?
    if not before.yarns and reading.cues & {"have.before", "have.after"}:
        return None  # I found one with 230 in it
    near = wound.length.value / 2 <= bare <= 2 * wound.length.value
    of_a_piece = bool(reading.measures_named) and before.piece is not None
    if not near or reading.colour or of_a_piece or bare <= MOST_STITCHES or not _nearer_the_skein(before, bare):
        return None
    return replace(one, put_up=replace(wound, length=replace(wound.length, value=bare), other_length=None))


def _nearer_the_skein(before: Query, number: float) -> bool:
    """Whether a bare number is nearer to what is on a skein than to what is needed."""
    told = before.yarns or (before.pattern,)
    lengths = [yarn.put_up.length.value for yarn in told if yarn.put_up and yarn.put_up.length]
    needs = [value for series in before.amounts for value in series.values if value > 0]
    if not lengths or number <= 0 or min(lengths) <= 0:
        return False
    skein = min(abs(log(number / length)) for length in lengths)
    return all(skein < abs(log(number / need)) for need in needs)


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
