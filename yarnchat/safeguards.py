"""What must not be lost, or left unasked, where a text is laid over the question before."""

from __future__ import annotations

import re
from dataclasses import replace

from yarnchat.answers import Amount, Answer
from yarnchat.choosing import asking, talk_of
from yarnchat.language.clean import printable
from yarnchat.language.counts import MOST_SKEINS
from yarnchat.language.reading import Reading
from yarnchat.quantity import LENGTHS, MASSES, Quantity
from yarnchat.queries import Query, Yarn, one_size
from yarnchat.refusals import Refusal, unclear

_NUMBER = re.compile(r"\d(?:[\d,]*\d)?(?:\.\d+)?")
_RANKS = frozenset({"first", "middle", "last"})
"""What may be said of other things than sizes: ``last one: worsted``."""


def something_changed(reading: Reading, before: Query, together: Query) -> None:
    """A Refusal where a text changes nothing and asks another thing, or leaves several numbers of its own aside."""
    pieces = [piece for piece in reading.aside if not piece.startswith("not ") and not piece.endswith("%")]
    if len(pieces) > 1:
        said = " and ".join(f"“{printable(piece)}”" for piece in pieces[:2])
        raise unclear(
            f"I can't tell what {said} change in the question before. Ask it whole, with everything.", *pieces
        )
    listed = any(len(series.values) > 1 for series in together.amounts) or together.sizes
    pick = reading.query.pick
    told = bool(reading.query.amounts)
    ranked = pick in _RANKS and reading.query.slots() != {"pick"}
    if pick and not ranked and not before.pick and together.colours and not listed and not told:
        raise unclear(f"I read one amount, not one for each size. How much does {one_size(pick)} take?")
    if before.stash and together.stash == before.stash and "have.one_less" in reading.cues:
        raise unclear("How many skeins are left then? Type for example: I have 4 skeins.")
    sides = [[yarn.weight_class for yarn in query.both_sides] for query in (before, together)]
    if "follow.turned" in reading.cues and sides[0] == sides[1]:
        raise unclear(
            "Which weight is the pattern's then, and which is yours? Type for example: worsted pattern in DK."
        )
    same = together == replace(before, want=together.want)
    numbered = bool(_NUMBER.search(str(reading.query))) or reading.bare_count is not None
    if same and numbered and "follow.no" in reading.cues:
        raise unclear("I can't tell what that puts right in the question before. Ask it whole, with everything.")
    anew = same and reading.cues & asking("anew")
    of_the_answer = together.want in ("mass", *MASSES)  # what would the wool for it weigh?
    if anew and not of_the_answer and not talk_of(before).again:
        raise unclear("I can't tell what that asks of the question before. Ask it whole, with everything.")


def unit_put_right(reading: Reading, before: Query, unit: str) -> None:
    """``oh wait, it's in metres``: a Refusal that asks whether it is that many metres, or to be converted."""
    told = [series for series in before.amounts if series.unit in LENGTHS and series.unit != unit]
    if told and reading.cues >= {"follow.no", "follow.of_weight"}:
        [amount, *_] = told[0].quantities()
        meant = Quantity(amount.value, unit)
        raise unclear(f"Is the length {meant}, or shall I give {amount} in {unit}? Type for example: no, {meant}.")


def each_of_what(reading: Reading, together: Query) -> None:
    """A Refusal where so many of each are asked for and only one thing is told."""
    one = len(together.amounts) == 1 and len(together.amounts[0].values) == 1 and len(together.yarns) < 2
    named = one and together.colours[0].name
    if named and "follow.each" in reading.cues and not together.sizes:
        told = f"{named} {together.amounts[0]}"
        raise unclear(
            f"Of each what? I have {told} and nothing beside it. Tell them in one text: {told}, and the next."
        )


def nothing_besides(before: Query, reading: Reading) -> None:
    """A Refusal where a text tells what another thing takes as well: ``and the hat as well, 90 yds``."""
    besides = "pattern.thing" in reading.cues and "same.class" in reading.cues
    if besides and before.amounts and reading.query.slots() - {"want"} == {"need", "need.length"}:
        raise unclear("Is that besides what you told before, or in its place? Ask with the length of all of it.")


def skeins_of_hers(before: Query, together: Query) -> Refusal | None:
    """``the pattern wants 650 m``, after ``I'm using 6 balls of DK, 115 m``: asks whether she has those skeins.

    A Refusal where skeins of which yarn was not said give way to a length; None where none do.
    """
    counts = [series for series in before.amounts if series.unit == "skein"]
    labelled = len(before.yarns) == 1 and before.yarns[0].put_up is not None
    if len(counts) != 1 or before.pattern != Yarn() or not labelled or before.stash or together.stash:
        return None
    lengths = [series for series in together.amounts if series.unit in LENGTHS]
    if not lengths or counts[0] in together.amounts:
        return None
    return unclear(
        f"Are the {counts[0]} told before what you have? Then type: I have {counts[0]}, is that enough? "
        f"Else ask it whole, with {lengths[0]}."
    )


def skein_or_need(reading: Reading, before: Query, together: Query) -> None:
    """``85 m of DK``, where 1100 m were told and what is on a skein was asked for: a Refusal, as it may be either."""
    if reading.cues & {"pattern.noun", "pattern.verb", "pattern.after", "pattern.thing"}:
        return
    wound = not before.yarns or before.yarns[0].put_up
    old, new = ([one for one in query.amounts if one.unit in LENGTHS] for query in (before, together))
    if wound or old == new or len(old) != 1 or len(new) != 1:
        return
    if new[0].largest().to("m").value <= old[0].largest().to("m").value / 4:
        raise unclear(
            f"Is {new[0]} what is on one skein, or all that is needed? Type for example: {new[0].first()} a skein.",
            str(new[0]),
        )


def nothing_lost(told: Query, together: Query) -> None:
    """A Refusal where a number this text tells is not in the question it was laid over."""
    held = set(_NUMBER.findall(str(together)))
    held.add("1")  # of one skein, which is said of any
    if lost := [number for number in _NUMBER.findall(str(told)) if number not in held]:
        raise unclear(
            f"I can't tell what “{lost[0]}” changes in the question before. Ask it whole, with everything.", lost[0]
        )


def account_for(reading: Reading, before: Query, together: Query) -> None:
    """Numbers that found their place in the question before, taken out of those left over and left aside."""
    if reading.bare_count is not None and together != before and _stands_in(reading.bare_count, together):
        reading.unused = [piece for piece in reading.unused if piece != reading.bare_said]
        reading.aside = [piece for piece in reading.aside if reading.bare_said not in piece.split()]
    sizes = [*(reading.dim or ()), *([reading.small] if reading.small else []), *(size for _, size in reading.measured)]
    sized = [(query.piece, query.grading, query.measured, query.pick) for query in (before, together)]
    if not sizes or sized[0] == sized[1]:
        return
    known = {f"{size.value:g}" for size in sizes}
    reading.unused = _other_than(known, reading.unused)
    reading.aside = _other_than(known, reading.aside)


def _other_than(numbers: set[str], pieces: list[str]) -> list[str]:
    """The pieces of a text that hold another number than these."""
    return [piece for piece in pieces if not set(re.findall(r"[\d.]+", piece)) <= numbers]


def _stands_in(number: float, query: Query) -> bool:
    """Whether the number is said back in the query's own sentence."""
    return bool(re.search(rf"(?<![\d.]){re.escape(f'{number:g}')}(?![\d.]*\d)", str(query).replace(",", "")))


def one_of_them(last: Query, told: Query) -> None:
    """A Refusal where a price or a label is told of one of several yarns compared, and not of which."""
    yarns = [yarn for yarn in (told.pattern, *told.yarns) if yarn != Yarn()]
    if not talk_of(last).of_candidates or len(last.yarns) < 2 or len(yarns) != 1:
        return
    if yarns[0] in (Yarn(price=yarns[0].price), Yarn(put_up=yarns[0].put_up, price=yarns[0].price)):
        either = " or ".join(str(yarn) for yarn in last.yarns)
        raise unclear(f"Of which yarn is {yarns[0]}: {either}? Ask with its weight or its name.", str(yarns[0]))


def all_or_the_rest(answer: Answer | None, reading: Reading, *, asked: bool) -> None:
    """``is that enough for a 120 yd hat?``, after 100 yd left over was the answer: a Refusal that asks which is meant.

    ``asked``: whether what is left over was asked for, so that *that* may be it.
    """
    over = answer.figures.get("left_over") if answer else None
    meant = "rest.rest" in reading.cues or (asked and reading.it_is_said)
    told = reading.query
    if isinstance(over, Amount) and meant and told.colours and not told.stash and reading.cues & asking("of_stash"):
        rest = Quantity(over.value, over.unit)
        raise unclear(
            f"Is it the {rest} left over, or all that you have? "
            f"Type for example: I have {rest} left and need {told.amounts[0]}: enough?"
        )


def lists_left(reading: Reading) -> tuple[str, ...]:
    """What was left over of a text that may be an amount over sizes, a gauge, or an amount without its unit."""
    return tuple(piece for piece in reading.unused if _counts_by_size(piece) or may_be_an_amount(piece))


def may_be_an_amount(piece: str) -> bool:
    """Whether a piece left over is one number as large as a need: the 1200 of ``1200 of worsted in DK 230 yd``."""
    return bool(_NUMBER.fullmatch(piece)) and float(piece.replace(",", "")) >= LEAST_NEEDED


LEAST_NEEDED = 100
"""A number without a unit from here on may be what is needed (common practice, no source)."""


def _counts_by_size(piece: str) -> bool:
    """Whether a piece left over lists numbers that may be of skeins, one for each size: ``4 (4, 5, 6)``."""
    numbers = [float(number.replace(",", "")) for number in _NUMBER.findall(piece)]
    return len(numbers) > 1 and max(numbers) <= MOST_SKEINS
