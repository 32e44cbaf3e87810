"""What she has, told again: other skeins, more of them, some that are not there."""

from __future__ import annotations

from dataclasses import replace

from yarnchat.choosing import asking, talk_of
from yarnchat.language.counts import MOST_SKEINS
from yarnchat.language.reading import Reading
from yarnchat.quantity import MASSES
from yarnchat.queries import Holding, PutUp, Query, Yarn
from yarnchat.refusals import unclear

NOT_OF_HERS = frozenset({"gauge.does", "used.before"})
"""What says of a lone number that it counts no skeins that she has: ``swatched and got 18``, ``used 1 of them``."""


def hers_is_another(before: Query, now: Query) -> bool:
    """Whether the one yarn told now is of another weight than all that she has."""
    told = [yarn for yarn in now.both_sides if yarn.weight_class]
    had = {held.yarn.weight_class for held in before.stash}
    labelled = len(told) == 1 and told[0].put_up is not None  # of one without a label she may have as much
    return labelled and None not in had and told[0].weight_class not in had and not now.colours


def adds_to_the_stash(before: Query, reading: Reading) -> bool:
    """``and one more?``, ``with six``: skeins, where a number of them was told before."""
    counted = bool(before.stash) and before.stash[0].unit == "skein"
    if counted and "have.one_less" in reading.cues:
        return sum(held.amount for held in before.stash) > 1  # what if I lose a skein
    if reading.beside_a_thing is not None:
        return False  # four hats?
    lone = reading.bare_count is not None and 0 < reading.bare_count <= MOST_SKEINS and len(reading.unknown) <= 1
    asked = reading.cues & asking("of_stash")
    given = reading.bare_count is not None and "have.given" in reading.cues
    return (counted and ("have.more" in reading.cues or given or lone)) or (
        reading.bare_count is not None and bool(asked)
    )


_NEEDED_FOR = frozenset({"pattern.noun", "pattern.thing", "size.named"})
"""What skeins told beside it are for: ``what about the medium, 10 balls?``."""


def of_the_stash(before: Query, now: Query, reading: Reading) -> bool:
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


def _less(before: Query, now: Query, reading: Reading) -> float | None:
    """How many of the skeins she has are not there: ``one ball is only half``, ``2 of them are promised``."""
    told = [held.amount for held in now.stash if held.unit == "skein"]
    told = [1.0] if not told and reading.bare_count is None and "have.one_less" in reading.cues else told
    some = told[0] if len(told) == 1 else reading.bare_count
    counted = before.stash and all(held.unit == "skein" for held in before.stash)
    if some is None or not counted or len({held.yarn for held in before.stash}) > 1:
        return None
    if "have.part" in reading.cues and some == 1:
        return 0.5
    return some if reading.cues & SOME_ARE_AWAY and some < sum(held.amount for held in before.stash) else None


SOME_ARE_AWAY = frozenset({"have.gone", "have.given", "have.one_less"})
"""What says that some of the skeins told before are not there."""


def _taken_off(stash: tuple[Holding, ...], less: float) -> tuple[Holding, ...]:
    """The skeins of one yarn but for so many, taken off what was told last."""
    kept: list[Holding] = []
    for held in reversed(stash):
        off = min(less, held.amount)
        less -= off
        kept += [replace(held, amount=held.amount - off)] if off < held.amount else []
    return tuple(reversed(kept))


def _besides_those_before(stash: tuple[Holding, ...], more: float) -> None:
    """``what about just 1 more``, after ``would 2 more do it?``: a Refusal, as it may be besides them or instead."""
    alike = [held for held in stash if held.unit == "skein" and held.yarn in (Yarn(), stash[0].yarn)]
    if len(alike) < 2 or len(alike) < len(stash):
        return
    first, last = alike[0].amount, alike[-1].amount
    had = sum(held.amount for held in alike)
    raise unclear(
        f"{more:g} more besides the {last:g} told before, or in their place? "
        f"Type for example: I have {had + more:g} skeins, or: I have {first + more:g} skeins."
    )


def stash_told(before: Query, now: Query, reading: Reading) -> tuple[Holding, ...]:
    """What she has now: a count without a yarn is of the yarn spoken of."""
    less = _less(before, now, reading)
    if less is not None:
        return _taken_off(before.stash, less)
    if not now.stash and before.stash and "have.more" in reading.cues:
        more = 1.0 if reading.bare_count is None else reading.bare_count
        if reading.bare_count is not None:  # not: and another?
            _besides_those_before(before.stash, more)
        return (*before.stash, Holding(more, "skein", before.stash[0].yarn))
    if not now.stash and reading.bare_count is not None:
        if before.stash:
            return (replace(before.stash[0], amount=reading.bare_count),)
        besides = bool(before.used) and "have.more" in reading.cues  # 8 balls used, and I've 7 more
        yarn = before.yarns[0] if before.yarns else before.pattern
        return (Holding(reading.bare_count, "skein", yarn, left=besides),)
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
