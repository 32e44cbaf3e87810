"""The yarns that a later text tells: another, one more, or more of the one before."""

from __future__ import annotations

from dataclasses import replace

from yarnchat.choosing import talk_of
from yarnchat.followups.lone_numbers import HER_GAUGE
from yarnchat.knowledge.classes import ambiguous_names
from yarnchat.language.names import class_hint
from yarnchat.language.reading import Reading
from yarnchat.language.yarns import merge_yarns, merged_put_up
from yarnchat.quantity import Quantity
from yarnchat.queries import PutUp, Query, Yarn
from yarnchat.refusals import unclear


def with_yarns(query: Query, now: Query, reading: Reading) -> Query:
    """The query with the yarns told now: the pattern's where that is meant, else the ones to knit with."""
    if settled := _which_was_meant(query, now):
        return settled
    if held := _held_otherwise(query, now, reading) or _held_with_another(query, now, reading):
        return held
    if now.both_sides == query.both_sides:
        return query
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
    if len(wanted) > 1 and "follow.gone" in reading.cues:
        wanted = _still_there(query, wanted)
    if len(wanted) > 1:
        wanted = [_as_labelled_before(yarn, query.yarns) for yarn in wanted]
    if len(wanted) == 1 and _puts_the_pattern_right(query, wanted[0], reading):
        return replace(query, pattern=_changed(query.pattern, wanted[0], correcting=True))
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


def _held_with_another(query: Query, now: Query, reading: Reading) -> Query | None:
    """``lace and sport?``, ``sport instead of the DK?``, after lace and DK held together: the two that are held now.

    A Refusal where one is told, and not in the place of which: ``and with a sport?``
    """
    told = [yarn for yarn in now.both_sides if yarn.weight_class]
    together = len(query.yarns) > 1 and all(yarn.strands for yarn in query.yarns) and not query.colours
    if not together or now.colours or not told or not all(replace(yarn, strands=None).only_a_weight for yarn in told):
        return None
    if now.want:
        return replace(query, pattern=now.pattern, yarns=now.yarns)  # how many strands of lace make a worsted?
    held = tuple(replace(yarn, strands=yarn.strands or 1) for yarn in told)
    old, new = told[0].weight_class, held[-1]
    if (len(told) == 1 or "pattern.over" in reading.cues) and old in {yarn.weight_class for yarn in query.yarns}:
        held = tuple(new if yarn.weight_class == old else yarn for yarn in query.yarns)
    elif len(told) == 1:
        named = [str(replace(yarn, strands=None)) for yarn in query.yarns]
        raise unclear(
            f"Held with which: {' or '.join(named)}, or with {'both' if len(named) == 2 else 'all of them'}? "
            f"Type for example: {told[0]} held together with {named[0]}."
        )
    return replace(query, pattern=Yarn(), yarns=held)


_PATTERN_TOLD = frozenset({"pattern.noun", "pattern.label", "pattern.in", "pattern.verb"})


def _as_labelled_before(yarn: Yarn, before: tuple[Yarn, ...]) -> Yarn:
    """``two strands of the lace and one of the fingering``: of the one yarn told before that is of that weight."""
    alike = [old for old in before if yarn.weight_class in (old.weight_class, class_hint(old.name or ""))]
    bare = not (yarn.put_up or yarn.name or yarn.gauge)
    return yarn.filled_from(alike[0]) if bare and len(alike) == 1 and yarn.weight_class else yarn


def _which_was_meant(query: Query, now: Query) -> Query | None:
    """``sport``, where ``baby`` was asked about: one of the classes that name is used of, for the yarn called so."""
    told = [yarn for yarn in now.both_sides if yarn != Yarn()]
    if len(told) != 1 or not told[0].only_a_weight:
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


def _still_there(query: Query, wanted: list[Yarn]) -> list[Yarn]:
    """``the aran's finished. she's got chunky, 105 m``, after aran: the yarns told but for the one that is no more."""
    before = {yarn.weight_class for yarn in query.yarns}
    others = [yarn for yarn in wanted if yarn.weight_class not in before or yarn.put_up]
    return others or wanted


def _puts_the_pattern_right(query: Query, yarn: Yarn, reading: Reading) -> bool:
    """``the DK is 240 m a ball, not 260``, after DK to be knit in sport: what is put right is of the pattern's yarn.

    It is too where what it is not is what was on the pattern's skeins, and on no others.
    """
    wound = [other.put_up and other.put_up.length for other in query.both_sides]
    if wound[0] in reading.not_lengths and not set(wound[1:]) & set(reading.not_lengths):
        alike = yarn.weight_class in (None, query.pattern.weight_class)
        return alike and yarn.put_up is not None and bool(query.yarns)
    hers = {other.weight_class for other in query.yarns}
    its_own = yarn.weight_class is not None and yarn.weight_class == query.pattern.weight_class
    told = bool(yarn.put_up or yarn.gauge) and bool(query.pattern.put_up or query.pattern.gauge)
    return its_own and told and bool(hers) and yarn.weight_class not in hers and "follow.no" in reading.cues


_OF_THE_PATTERN = frozenset({"pattern.noun", "pattern.verb"})


def _means_the_pattern(query: Query, now: Query, reading: Reading) -> bool:
    """Whether a yarn told alone is the pattern's; what is paid for is the yarn that is bought."""
    cues = {"pattern.noun", "pattern.label", "pattern.in", "pattern.over", "pattern.after"}
    if "follow.no" in reading.cues:
        cues.add("pattern.thing")
    first_need = bool(query.stash) and bool(now.colours or "pattern.thing" in reading.cues)  # if the cardi was chunky?
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
    if talk.of_one_yarn and not in_skeins and "yarn.have" in reading.cues and query.pattern.put_up:
        _whose_put_up(query.pattern, yarn)
    if in_skeins and query.pattern.put_up and yarn.put_up and "yarn.have" in reading.cues:
        return replace(query, yarns=(yarn,))  # 5 skeins of 210 yards; my skeins are 180 yards
    if query.colours and not (talk.of_one_yarn and not (yarn.weight_class or yarn.name or yarn.gauge)):
        return replace(query, pattern=replace(query.pattern, price=None), yarns=(yarn,))  # what is bought is paid for
    if talk.of_other_yarns and not query.colours:
        return replace(query, pattern=yarn)
    return replace(query, pattern=_changed(query.pattern, yarn))


def _whose_put_up(pattern: Yarn, hers: Yarn) -> None:
    """``and mine's super bulky``, after ``630 m of bulky, the balls are 90 m``: a Refusal, as either may be so."""
    if hers.only_a_weight and pattern.weight_class not in (None, hers.weight_class):
        raise unclear(
            f"{pattern.put_up}: is that the {hers}, or the pattern's {pattern.class_as_said}? "
            f"Type for example: in {hers}, {pattern.put_up}."
        )


def _gauges_of_both(query: Query, yarn: Yarn, reading: Reading) -> bool:
    """``the pattern's tension is 18 sts to 10 cm``, and then ``I get 20``: the gauge told before was the pattern's."""
    alone = query.pattern == Yarn(gauge=query.pattern.gauge) and not query.yarns
    return bool(alone and query.pattern.gauge and yarn.gauge and reading.cues & HER_GAUGE)


def _with_first_yarn(query: Query, yarn: Yarn, reading: Reading) -> Query:
    """The query with its yarn changed; a gauge said to be kept was that of the yarn before."""
    first, *others = query.yarns
    changed = _changed(first, yarn, correcting="follow.no" in reading.cues)
    if "follow.same_balls" in reading.cues and changed.put_up is None:
        changed = replace(changed, put_up=first.put_up)
    alone = not query.ability and first.only_a_weight
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
    elif new.put_up and old.put_up and (wound := old.put_up.wound_in(new.put_up)):
        new = replace(new, put_up=wound)  # how many 50 g balls is that?
    elif new.put_up and old.put_up and correcting and new.put_up.mass is None and new.put_up.length:
        new = replace(new, put_up=replace(old.put_up, length=new.put_up.length, other_length=None))
    return new.filled_from(old)
