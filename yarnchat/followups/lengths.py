"""A length told next that is a skein's, and no need."""

from __future__ import annotations

from dataclasses import replace
from math import inf, log

from yarnchat.choosing import talk_of
from yarnchat.language.reading import Reading
from yarnchat.language.skein_limits import SKEIN_M, may_be_a_skeins
from yarnchat.quantity import LENGTHS, MASSES, Quantity
from yarnchat.queries import Colour, PutUp, Query, Series, Yarn


def small_length_is_put_up(before: Query, reading: Reading) -> Query:
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
    if both_sides and len(lengths) == 1 and asked and (other := _in_place_of_hers(before, reading, lengths[0])):
        return other
    if len(lengths) != 1 or now.colours[0].name or (yarn and yarn.put_up) or not asked or both_sides:
        return now
    if "pattern.noun" in reading.cues and now.pattern.weight_class:
        return now  # 500 yd worsted pattern
    if yarn is None and _offered_smaller(before, reading, lengths[0]):
        told = Yarn(put_up=PutUp(lengths[0].first()))
        if "pattern.in" in reading.cues and before.pattern.put_up and before.yarns:
            return replace(now, colours=(), pattern=told)  # and if the pattern's were 200 yds?
        return replace(now, colours=(), yarns=(told,))
    priced = yarn is not None and yarn.price is not None  # 200 yds, $12 a skein
    if yarn is None or not (yarn.weight_class or yarn.name or priced):
        return now
    own = lengths[0].first()
    needed = {value for series in before.amounts for value in series.values}
    a_skeins = may_be_a_skeins(own, yarn.weight_class, SKEIN_M) and not _for_what_she_has(before, reading, own)
    if own.value in needed or not a_skeins:
        return now
    told = replace(yarn, put_up=PutUp(length=own), price=yarn.price or now.pattern.price)
    return replace(now, colours=(), yarns=(told,), pattern=Yarn())


def _for_what_she_has(before: Query, reading: Reading, length: Quantity) -> bool:
    """``what about an aran one, 500 m``, after ``my 6 balls of 115 m, for 650 m of DK``: another thing to knit."""
    to_knit_with = reading.query.yarns or reading.cues & _TO_KNIT_WITH
    return bool(before.stash) and not to_knit_with and _nearer_a_need(before, length)


_TO_KNIT_WITH = frozenset({"yarn.in", "yarn.with", "yarn.have", "yarn.here"})


def _nearer_a_need(before: Query, length: Quantity) -> bool:
    """Whether a length is nearer to what was needed than to what was on a skein."""
    needs = [series.largest() for series in before.amounts if series.unit in LENGTHS]
    wound = [yarn.put_up.length for yarn in before.both_sides if yarn.put_up and yarn.put_up.length]
    metres = [[one.to("m").value for one in told] for told in (needs, wound)]
    if not all(metres) or min(length.value, *metres[0], *metres[1]) <= 0:
        return False
    to_need, to_skein = (min(abs(log(length.to("m").value / one)) for one in told) for told in metres)
    return to_need < to_skein


def mass_is_the_amount(before: Query, now: Query) -> Query:
    """``and a 60 g one?``, after how long 45 g are: a mass told as one skein's is the amount again.

    ``if the cone weighs 600 g?``, after ``I have a 1 kg cone, 105 m/100 g``, is what she has.
    """
    sides = [yarn for yarn in now.both_sides if yarn != Yarn()]
    label = sides[0].put_up if len(sides) == 1 else None
    weighed = bool(before.amounts) and all(series.unit in MASSES for series in before.amounts)
    if label is None or label.mass is None or label.length or sides != [Yarn(put_up=label)]:
        return now
    if now.colours:
        return now
    if len(before.stash) == 1 and before.stash[0].unit in MASSES and before.stash[0].yarn.put_up:
        held = replace(before.stash[0], amount=label.mass.value, unit=label.mass.unit)
        return replace(now, stash=(held,), pattern=Yarn(), yarns=())
    if not weighed or not talk_of(before).of_lengths:
        return now
    if not any(yarn.put_up and yarn.put_up.length and yarn.put_up.mass for yarn in before.both_sides):
        return now
    amount = Series((label.mass.value,), label.mass.unit)
    return replace(now, colours=(Colour(amounts=(amount,)),), pattern=Yarn(), yarns=())


def length_is_another_need(before: Query, reading: Reading) -> Query:
    """``what about a 150 m one?``, after ``is that enough for a 130 m hat``: what another hat takes, and no skein.

    Where she has skeins, and the length is no nearer to what the hat takes than to what is on one, it stays a skein's.
    """
    now = reading.query
    yarn = now.yarns[0] if len(now.yarns) == 1 else now.pattern
    length = yarn.put_up.length if yarn.put_up and yarn == Yarn(put_up=PutUp(length=yarn.put_up.length)) else None
    needs = [series.first() for series in before.amounts if series.unit in LENGTHS and len(series.values) == 1]
    if "follow.one" not in reading.cues or not before.stash or length is None or len(needs) != 1 or now.colours:
        return now
    counted = any(held.unit == "skein" for held in before.stash)
    labels = [told.put_up for told in (*(held.yarn for held in before.stash), *before.both_sides) if told.put_up]
    wound = [label.length for label in labels if label.length] if counted else []
    far = abs(log(length.to(needs[0].unit).value / needs[0].value)) if length.value * needs[0].value > 0 else inf
    if any(abs(log(length.to(skein.unit).value / skein.value)) <= far for skein in wound if skein.value > 0):
        return now
    return replace(now, colours=(Colour(amounts=(Series((length.value,), length.unit),)),), pattern=Yarn(), yarns=())


def _in_place_of_hers(before: Query, reading: Reading, length: Series) -> Query | None:
    """``sport at 300 yd instead of the DK?``: another yarn with its skein's length, for the one she had in mind."""
    now, own = reading.query, length.first()
    [yarn, *more] = now.yarns
    if reading.cues & _OF_THE_PATTERN:
        return None  # a DK pattern of 420 yds in fingering
    hers = {other.weight_class for other in before.yarns}
    needed = {value for series in before.amounts for value in series.values}
    if more or now.pattern.weight_class not in hers or yarn.weight_class in hers or yarn.put_up:
        return None
    if own.value in needed or not may_be_a_skeins(own, yarn.weight_class, SKEIN_M):
        return None
    return replace(now, colours=(), pattern=Yarn(), yarns=(replace(yarn, put_up=PutUp(length=own)),))


_OF_THE_PATTERN = frozenset({"pattern.noun", "pattern.in"})


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
