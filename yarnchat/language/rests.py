"""A skein in use: so much of it used or left, where the rest of it is asked for."""

from __future__ import annotations

from dataclasses import replace

from yarnchat.language.lexicon import word_list
from yarnchat.language.phrases import Phrase, Taken
from yarnchat.language.sentence import Sentence
from yarnchat.quantity import Quantity
from yarnchat.queries import NOTHING_TOLD, PutUp, Query, Series

_TOLD = {"used": ("used.before", "used.after"), "left": ("have.after", "since.now_before", "since.now_after")}


def rest_asked(sentence: Sentence, query: Query, phrases: list[Phrase]) -> tuple[Query, Taken]:
    """``used 63 g of a 100 g skein, what's left?``: the amount told is used or left, and the other is asked for."""
    asked = [part for part in _TOLD if sentence.said(f"rest.{part}")]
    if len(asked) != 1 or query != NOTHING_TOLD or sentence.said("pair.second"):
        return query, []
    wound = [phrase for phrase in phrases if phrase.kind == "putup"]
    amounts = [phrase for phrase in phrases if phrase.kind in ("mass", "length", "count", "rows", "percent")]
    if len(wound) != 1 or len(amounts) != 1:
        return query, []
    [part], [amount], [label] = asked, amounts, wound
    told = "used" if part == "left" else "left"
    so_much = _of_one_skein(amount, label.value)
    behind = label.last if 0 < label.first - amount.last <= _OF_A else amount.last
    said = _said(sentence, amount.first, amount.last, told) or _said(sentence, amount.first, behind, told)
    if so_much is None or not said:
        return query, []
    amount.kind, amount.value, amount.flags = *so_much, frozenset({told})
    return replace(query, rest=part), []


_OF_A = 2


def rest_of_so_many(sentence: Sentence, query: Query, phrases: list[Phrase]) -> tuple[Query, Taken]:
    """``8 balls of 50 g/120 m and 1.5 left: how many metres did I use?``: those that are not left, or not used."""
    counts = [phrase for phrase in phrases if phrase.kind in ("count", "num") and len(phrase.value.values) == 1]
    labels = [phrase for phrase in phrases if phrase.kind == "putup"]
    asked = [part for part in _TOLD if sentence.said(f"rest.{part}")]
    if len(asked) != 1 or query != NOTHING_TOLD or len(counts) != 2 or len(labels) != 1:
        return query, []
    [part] = asked
    told = "used" if part == "left" else "left"
    some = [phrase for phrase in counts if _so_many(sentence, phrase, told)]
    whole = next((phrase for phrase in counts if phrase not in some and phrase.kind == "count"), None)
    if len(some) != 1 or whole is None or some[0].value.values[0] > whole.value.values[0]:
        return query, []
    [off] = some
    had, less = whole.value.values[0], off.value.values[0]
    whole.value, whole.flags, off.kind = Series((had - less,), "skein"), frozenset({"in all"}), "one"
    whole.notes = (*whole.notes, f"{had:g} less {less:g} {told}: {had - less:g} skeins {part}")
    sentence.mark("ask.measure")
    return query, []


def _so_many(sentence: Sentence, number: Phrase, told: str) -> bool:
    """``1.5 left``, ``only use 6.5``: whether a number of skeins is said to be left, or used, right beside it."""
    if told == "used" and sentence.lower_at(number.first - 1) in word_list("using"):
        return True
    beside = (cue.first - number.last for cue in sentence.cues if cue.kind in _TOLD[told])
    asked = {at for cue in sentence.cues if cue.kind.startswith("rest.") for at in range(cue.first, cue.last)}
    return number.last not in asked and any(0 <= gap < _NEAR for gap in beside)


def _of_one_skein(amount: Phrase, label: PutUp) -> tuple[str, Series] | None:
    """The part of one skein told, as a mass or a length; ``1/3 of a 437 yd skein`` by what is on a whole one."""
    whole = {"mass": label.mass, "length": label.length}.get(amount.kind)
    if whole and len(amount.value.values) == 1:
        return amount.kind, amount.value
    whole = label.mass or label.length
    if amount.kind != "count" or not whole or not 0 < amount.value.values[0] < 1:
        return None
    return "mass" if label.mass else "length", Series((amount.value.values[0] * whole.value,), whole.unit)


def second_of_a_pair(sentence: Sentence, query: Query, phrases: list[Phrase]) -> tuple[Query, Taken]:
    """``the first sock took 47 g of a 100 g skein, will the second fit``: one takes as much as the other."""
    if not sentence.said("pair.second") or query != NOTHING_TOLD:
        return query, []
    one_of_two = any(word in word_list("of_a_pair") for token in sentence.tokens for word in token.lower.split())
    masses = [phrase for phrase in phrases if _mass_of(phrase)]
    others = any(phrase.kind in ("length", "count", "times", "rows", "percent", "num") for phrase in phrases)
    if not one_of_two or len(masses) != 2 or others:
        return query, []
    taken = {cue.last for cue in sentence.cues if cue.kind == "used.before"}
    first, ball = sorted(masses, key=lambda phrase: phrase.first not in taken)  # a 100 g ball, the first sock took 43 g
    took, there = _mass_of(first), _mass_of(ball)
    if took is None or there is None or took.unit != there.unit:
        return query, []
    near = {sentence.lower_at(at) for at in range(ball.first - 4, ball.last + 4)}
    left = near & word_list("still_there") or "still" in near or sentence.lower_at(first.first - 1) == "left"
    rest = there.values[0] if left else there.values[0] - took.values[0]
    if rest < 0:
        return query, []
    first.kind, first.value, first.flags = "mass", took, frozenset({"needed"})
    ball.kind, ball.value, ball.flags = "mass", Series((rest,), there.unit), frozenset({"left"})
    ball.notes = () if left else (f"{there.first()} less {took.first()}: {ball.value.first()} left",)
    sentence.mark("ask.enough")
    return query, []


def used_of_hers(sentence: Sentence, query: Query, phrases: list[Phrase]) -> tuple[Query, Taken]:
    """``a 100 g skein of 400 m, 45 g of it used: enough for 200 m?``: what she has is the rest of it."""
    wound = [phrase for phrase in phrases if phrase.kind == "putup" and phrase.value.mass and phrase.value.length]
    labels = [phrase.last for phrase in wound]
    used = [p for p in phrases if p.kind == "mass" and (_used_of_it(sentence, p) or _less_so_much(sentence, p, labels))]
    needed = [phrase for phrase in phrases if phrase.kind in ("length", "mass") and phrase not in used]
    counts = [phrase for phrase in phrases if phrase.kind == "count"]
    asked = sentence.said("ask.enough") and query == NOTHING_TOLD
    if not asked or len(wound) != 1 or len(used) != 1 or not needed or len(counts) > 1:
        return query, []
    many = counts[0].value.values[0] if counts else 1.0
    [label], [gone] = wound, used
    told = Quantity(abs(gone.value.values[0]), gone.value.unit)
    rest = many * label.value.mass.to(told.unit).value - told.value
    if rest < 0:
        return query, []
    gone.value, gone.flags = Series((rest,), told.unit), frozenset({"left"})
    gone.notes = (*gone.notes, f"{_times(many)}{label.value.mass} less {told} used: {gone.value}")
    for count in counts:
        count.kind = "one"
    return query, []


def _times(many: float) -> str:
    return f"{many:g} × " if many != 1 else ""


def _used_of_it(sentence: Sentence, amount: Phrase) -> bool:
    """``used 45 g of it``, ``25 g gone from my skein``: a mass said to be used, and of a skein spoken of."""
    if len(amount.value.values) != 1 or not _said(sentence, amount.first, amount.last, "used"):
        return False
    links = [at for at in range(amount.last, amount.last + _NEAR) if sentence.lower_at(at) in ("of", "from", "off")]
    return any({sentence.lower_at(at + 1), sentence.kind_at(at + 2)} & _THAT_ONE for at in links)


def _less_so_much(sentence: Sentence, amount: Phrase, labels: list[int]) -> bool:
    """``3 skeins of 220 m/100 g, less 40 g for a swatch``: a mass taken off the skeins told right before it."""
    off = sentence.lower_at(amount.first - 1) in word_list("taking_off")
    minus = off or (len(amount.value.values) == 1 and amount.value.values[0] < 0)
    begin = amount.first - off
    return minus and any(0 <= begin - end <= _OF_A and not sentence.parted(end, begin) for end in labels)


_THAT_ONE = frozenset({"it", "my", "the", "this", "that", "a", "one", "them", "SKEIN"})


def _mass_of(phrase: Phrase) -> Series | None:
    """The one mass that a phrase tells without a length, on a skein or not."""
    if phrase.kind == "mass" and len(phrase.value.values) == 1:
        found: Series = phrase.value
        return found
    if phrase.kind == "putup" and phrase.value.mass and phrase.value.length is None:
        return Series((phrase.value.mass.value,), phrase.value.mass.unit)
    return None


def _said(sentence: Sentence, first: int, last: int, told: str) -> bool:
    """Whether the words beside an amount say that so much is used, or is left; what a garment weighs is neither."""
    of_a_thing = sentence.said("pattern.thing")
    lead = [sentence.lower_at(at) for at in range(first - _LEAD, first)]
    if told == "used" and lead[-1] == "(" and "after" in lead:
        return True  # after the hat (72 g)
    for cue in sentence.cues:
        behind = 0 <= cue.first - last < _NEAR
        beside = behind or (0 <= first - cue.last <= 1 and cue.kind != "used.after")  # down to 22 g
        weighed = cue.kind == "since.now_before" and of_a_thing
        glued = sentence.kind_at(cue.first - 1) == "DASH"  # the half-used cake
        if beside and cue.kind in _TOLD[told] and not (weighed or glued or _asks(sentence, cue.first)):
            return True
    return False


_NEAR = 3
_LEAD = 5


def _asks(sentence: Sentence, at: int) -> bool:
    """Whether a word stands in the wording that asks for the rest."""
    return any(cue.kind.startswith("rest.") and cue.first <= at < cue.last for cue in sentence.cues)
