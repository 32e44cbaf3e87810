"""Whether a text leans on the question before it."""

from __future__ import annotations

from dataclasses import replace

from yarnchat.choosing import asking
from yarnchat.followups.conversions import needed_as_converted
from yarnchat.followups.lengths import small_length_is_put_up
from yarnchat.language.lexicon import shape_cue
from yarnchat.language.reading import Reading
from yarnchat.quantity import MASSES
from yarnchat.queries import Query, Yarn

_OF_ITS_OWN = frozenset({"yarn", "pattern.weight_class", "pattern.put_up", "pattern.gauge", "stash", "used"})
"""What a text with a need tells besides where it is a question of its own."""


def follows(before: Query, reading: Reading) -> bool:
    """Whether a text leans on the one before.

    It does where it tells no need and no thing of its own to work out, where what looks like its need is a skein's
    length, where it puts something right, or where it tells a need and nothing of the yarn.
    """
    query = reading.query
    slots = query.slots()
    if to_remember(before, query) or (needed_as_converted(before, reading) and not reading.cues & asking("anew")):
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
    if "need" not in slots or (not reading.firm_need and small_length_is_put_up(before, reading) is not query):
        return True
    return _puts_right(before, reading) or not slots & (_OF_ITS_OWN | {"several_colours"})


def further_on(before: Query, now: Query) -> bool:
    """``168 of 240 rows now, 262 g used``, after ``96 of 240 rows … I had 400 g at the start``: the same work."""
    if before.progress is None or now.progress is None or now.stash or not before.stash:
        return False
    total = now.progress.rows_total
    return total is not None and total == before.progress.rows_total and not any(held.left for held in before.stash)


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


def turned_round(before: Query, reading: Reading) -> Query | None:
    """``no, the other way round``, after ``DK to 4 ply, 960 m``: the two weights, each in the other's place."""
    told = reading.query.slots() - {"want"} or reading.unused or reading.unknown or reading.bare_count is not None
    if "follow.turned" not in reading.cues or told or len(before.yarns) != 1 or not before.colours or before.stash:
        return None
    [hers], pattern = before.yarns, before.pattern
    in_skeins = any(series.unit == "skein" for series in before.amounts)
    if in_skeins or not hers.weight_class or not pattern.weight_class:
        return None
    return replace(before, pattern=replace(hers, price=None), yarns=(pattern,), ability="")


def to_remember(before: Query, now: Query) -> bool:
    """``remember it``: what was spoken of is to be kept, and nothing new is told of it."""
    wanted = now.note is not None and now.note.verb == "remember" and not now.slots() - {"note", "want"}
    return wanted and bool(before.swatch or before.stash or named_yarns(before))


def named_yarns(query: Query) -> list[Yarn]:
    return [yarn for yarn in (*query.yarns, query.pattern) if yarn.name]
