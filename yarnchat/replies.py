"""A text read as the reply to what was asked back: the put-up that was missing, and of which yarn."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace

from yarnchat.answers import Answer
from yarnchat.language.reading import Reading
from yarnchat.language.skein_limits import HANK_M, MOST_STITCHES
from yarnchat.quantity import LENGTHS, Quantity
from yarnchat.queries import PutUp, Query, Yarn
from yarnchat.refusals import unclear

_OF_A_LABEL = frozenset({"yarn", "yarn.put_up", "pattern.put_up", "need", "need.length", "want"})
LEAST_ON_A_SKEIN = 20
"""A number without a unit from here on may be the length of a skein (common practice, no source)."""


def replied(before: Query, missing: str, reading: Reading, *, asked: bool) -> Query | None:
    """The question asked back about, with the put-up of ``missing`` that this text tells and nothing else; or None.

    ``missing``: "pattern.put_up", "yarn.put_up", "stash.put_up", "stash.left" or, where
    one yarn was told as two, "yarn.weight_class", as the refusal that asked named it;
    ``asked``: whether one did, and it is not just what the answer before could have used.
    """
    if missing == "stash.left":
        return _with_what_it_was(before, reading)
    if missing == "yarn.weight_class":
        return _of_the_weight_meant(before, reading)
    if missing == "yarn.put_up" and (whole := _with_the_patterns_weight(before, reading)):
        return whole
    told = _label_told(before, reading)
    a_gauge = not asked and reading.bare_count is not None and reading.bare_count <= MOST_STITCHES
    if told is None or a_gauge or "follow.no" in reading.cues:
        return None
    if missing == "pattern.put_up":
        return replace(before, pattern=replace(before.pattern, put_up=told))
    if missing == "yarn.put_up" and not before.yarns and before.pattern.price and not before.pattern.put_up:
        return replace(before, pattern=replace(before.pattern, put_up=told))  # of aran at £6 a ball
    if missing == "yarn.put_up":
        first, *others = before.yarns or (Yarn(),)
        return replace(before, yarns=(replace(first, put_up=told), *others))
    if missing == "stash.put_up":
        return _with_stash_of(before, told)
    return None


def _with_what_it_was(before: Query, reading: Reading) -> Query | None:
    """The question with what she has told as what is left, or as all there was: ``250 g in all``."""
    amounts = [value for series in reading.query.amounts for value in series.values]
    amounts += [held.amount for held in reading.query.stash]
    left, whole = bool(reading.cues & _SAY_LEFT), bool(reading.cues & _SAY_IN_ALL)
    if left == whole or amounts != [held.amount for held in before.stash]:
        return None
    stash = tuple(replace(held, left=left, presumed=False) for held in before.stash)
    return replace(before, stash=stash)


def _of_the_weight_meant(before: Query, reading: Reading) -> Query | None:
    """``it's DK``, of a yarn that was told as DK and as bulky: with what else was told of the one yarn."""
    [*told] = (yarn for yarn in reading.query.both_sides if yarn != Yarn())
    if len(told) != 1 or not told[0].only_a_weight:
        return None
    meant = [yarn for yarn in before.yarns if yarn.weight_class == told[0].weight_class]
    if len(meant) != 1:
        return None
    others = (yarn for yarn in before.yarns if yarn is not meant[0])
    whole = meant[0]
    for other in others:
        whole = whole.filled_from(replace(other, weight_class=None, class_as_said=None))
    return replace(before, yarns=(whole,))


def _with_the_patterns_weight(before: Query, reading: Reading) -> Query | None:
    """``85 m, and the pattern is in DK``, of aran to knit with: its put-up, and the pattern's weight beside."""
    [*told] = (yarn for yarn in reading.query.both_sides if yarn != Yarn())
    lengths = [series.first() for series in reading.query.amounts if len(series.values) == 1]
    if len(told) != 1 or not before.yarns or reading.cues.isdisjoint({"pattern.noun", "pattern.in"}):
        return None
    weight, put_up = replace(told[0], put_up=None), told[0].put_up
    hers = before.yarns[0].weight_class
    if not weight.only_a_weight or hers in (None, weight.weight_class) or len(reading.query.amounts) != len(lengths):
        return None
    lengths += [put_up.length] if put_up and put_up.length else []
    if len(lengths) != 1 or not _short_enough(lengths[0], before) or _told_as_needed(reading):
        return None
    yarn = replace(before.yarns[0], put_up=put_up or PutUp(length=lengths[0]))
    return replace(before, pattern=weight.filled_from(before.pattern), yarns=(yarn, *before.yarns[1:]))


_SAY_LEFT = frozenset({"have.after", "since.now_after"})
_SAY_IN_ALL = frozenset({"pattern.verb", "since.start_before", "since.start_after"})


def _with_stash_of(query: Query, label: PutUp) -> Query:
    """The question with what she has told of this label, where it had none."""
    stash = (held if held.yarn.put_up else replace(held, yarn=replace(held.yarn, put_up=label)) for held in query.stash)
    return replace(query, stash=tuple(stash))


def _label_told(before: Query, reading: Reading) -> PutUp | None:
    """What is on one skein, where a text tells that alone: ``50 g/85 m``, ``210 yds``, ``210``."""
    query = reading.query
    slots = query.slots()
    if not slots <= _OF_A_LABEL or len(query.yarns) > 1:
        return None
    if not slots - {"want"}:
        return _bare_length(before, reading)
    lengths = query.amounts
    labels = [yarn.put_up for yarn in query.both_sides if yarn.put_up]
    if len(labels) == 1 and not lengths:
        return labels[0]
    if labels or len(lengths) != 1 or len(lengths[0].values) != 1:
        return None
    told = lengths[0].values[0] if lengths[0].low is None else lengths[0].low
    length = Quantity(told, lengths[0].unit)  # of 70-80 m the shorter, as a label's range is read
    return PutUp(length=length) if _on_a_skein(length, before, reading) else None


def _on_a_skein(length: Quantity, before: Query, reading: Reading) -> bool:
    """Whether a length may be that of one skein: short enough, and not told as the pattern's."""
    return _short_enough(length, before) and "pattern.noun" not in reading.cues and not _told_as_needed(reading)


def _short_enough(length: Quantity, before: Query) -> bool:
    """Whether a length is no more than one skein holds, and well under the need."""
    needs = [series for series in before.amounts if series.unit in LENGTHS]
    whole = max((series.largest().to("m").value for series in needs), default=None)
    metres = length.to("m").value
    return metres <= HANK_M and (whole is None or metres <= whole / 2)


def _told_as_needed(reading: Reading) -> bool:
    """Whether a length is told as what is needed: ``the pattern wants 650 m``, ``I need 650 m``."""
    return reading.firm_need or bool(reading.cues & {"pattern.verb", "pattern.after"})


def _bare_length(before: Query, reading: Reading) -> PutUp | None:
    """A lone number in the unit of the lengths told before, where it can be that of a skein."""
    number = reading.bare_count
    told = [series.unit for series in before.amounts]
    told += [yarn.put_up.length.unit for yarn in before.both_sides if yarn.put_up and yarn.put_up.length]
    units = {unit for unit in told if unit in LENGTHS}
    if number is None or number < LEAST_ON_A_SKEIN or len(units) != 1 or len(reading.unknown) > 1:
        return None
    length = Quantity(number, units.pop())
    return PutUp(length=length) if _on_a_skein(length, before, reading) else None


def with_its_unit(text: str, unused: list[str], unit: str) -> str | None:
    """``1200 yards of worsted``, of ``1200 of worsted`` and ``yards, sorry``: the text with a unit behind its number.

    ``unused``: what of the text was not read; None where that is no lone number, or stands there twice.
    """
    if len(unused) != 1 or not _PLAIN_NUMBER.fullmatch(unused[0]) or not unit:
        return None
    told = re.compile(rf"(?<![\d.,]){re.escape(unused[0])}(?![\d.,]*\d)")
    return told.sub(f"{unused[0]} {unit}", text) if len(told.findall(text)) == 1 else None


_PLAIN_NUMBER = re.compile(r"\d[\d,]*(?:\.\d+)?")


MOST_PARTS = 4
MOST_CHARACTERS = 600
"""What is told piece by piece is short; a long text is a question of its own."""


@dataclass(frozen=True, slots=True)
class Parts:
    """Texts told one after another of which none asks anything alone: ``a cardigan in aran``, ``it takes 950 m``."""

    texts: tuple[str, ...] = ()
    slots: frozenset[str] = frozenset()
    """What they tell that can be told once."""

    def with_text(self, text: str, reading: Reading) -> Parts:
        """These and one more; only the one where it is too many, or tells again what they told."""
        told = reading.query.slots() & _WHOLE_OF_IT
        if told & self.slots or len(self.texts) >= MOST_PARTS:
            return Parts((text,), told)
        return Parts((*self.texts, text), self.slots | told)

    def joined(self, text: str, reading: Reading) -> str | None:
        """All of them with one more as one text; None where that one does not go on, or tells a number again."""
        anew = reading.cues & {"follow.no", "follow.afresh"} or reading.query.slots() & _WHOLE_OF_IT & self.slots
        again = {number for part in self.texts for number in _NUMBER.findall(part)}.intersection(_NUMBER.findall(text))
        if not self.texts or anew or again or not (reading.unused or reading.query.slots() - {"want"}):
            return None
        parts = [part.rstrip() for part in (*self.texts, text)]
        if sum(map(len, parts)) > MOST_CHARACTERS:
            return None
        return " ".join(part if part[-1:] in _ENDS_A_SENTENCE else f"{part}." for part in parts)


_NUMBER = re.compile(r"\d+")
_ENDS_A_SENTENCE = frozenset(".?!;:")
_WHOLE_OF_IT = frozenset({"need", "stash", "used", "piece", "progress", "swatch", "grading", "measured", "note"})


def completes(last: Query, reading: Reading) -> bool:
    """Whether a text tells what a question asked back about still lacks: ``437 yds on each hank, a 1200 yd shawl``."""
    told, known = reading.query.slots() & _WHOLE_OF_IT, last.slots() & _WHOLE_OF_IT
    lacking = {"need", "stash"} - known
    return len(known & {"need", "stash"}) == 1 and told == lacking and "follow.afresh" not in reading.cues


WHICH_IS_WRITTEN_FOR = "pattern.weight_class"
"""What is missing where either of two weights may be the pattern's: telling more in parts does not settle that."""


def for_the_pattern_told(last: Query, reading: Reading) -> Query | None:
    """``it takes 1300 yds, and the yarn is a DK``, after ``I have a worsted pattern``: that is what is knitted.

    A Refusal where the pattern may as well be told otherwise: ``1300 yds of DK``.
    """
    now, pattern = reading.query, last.pattern
    told = [yarn for yarn in now.both_sides if yarn != Yarn()]
    if last.slots() - {"want"} != {"pattern.weight_class"} or len(told) != 1 or "need" not in now.slots():
        return None
    if told[0].weight_class in (None, pattern.weight_class) or reading.cues & _TOLD_ANEW:
        return None
    if not now.yarns and "pattern.label" not in reading.cues:
        knit = replace(told[0], put_up=None, price=None)
        raise unclear(
            f"Is the pattern written for {pattern}, as you said, and knitted in {knit}? "
            f"Type for example: {now.amounts[0]} of {pattern} in {told[0]}.",
            missing=WHICH_IS_WRITTEN_FOR,
        )
    return replace(now, pattern=pattern, yarns=(told[0],), ability="")


_TOLD_ANEW = frozenset({"pattern.noun", "pattern.in", "follow.no", "follow.afresh"})


def of_the_one_told(together: Query, told: Query) -> Query:
    """What she has, of the one label that was told with what was lacking."""
    labels = [yarn.put_up for yarn in (told.pattern, *told.yarns) if yarn.put_up]
    return _with_stash_of(together, labels[0]) if len(labels) == 1 else together


def unsaid(query: Query, answer: Answer) -> str:
    """The slot that would have given skeins: the put-up of the one yarn, where the answer is a length alone."""
    wanted = len(query.yarns) == 1 and query.yarns[0].put_up is None and not query.stash
    return "yarn.put_up" if wanted and "length" in answer.figures and "skeins" not in answer.figures else ""
