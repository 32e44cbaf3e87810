"""Swatches: two sides or a gauge, a mass, and of which yarn."""

from __future__ import annotations

import re
from dataclasses import replace

from yarnchat.language.names import class_hint
from yarnchat.language.phrases import Phrase, Taken, first_of
from yarnchat.language.sentence import Sentence
from yarnchat.quantity import Quantity
from yarnchat.queries import Query, Swatch, Yarn


def swatch_told(sentence: Sentence, query: Query, phrases: list[Phrase]) -> tuple[Query, Taken]:
    """A measured square and its mass: ``15 by 15 cm, 10.8 g``."""
    dim = _smallest(phrases) or _two_sides(sentence, phrases)
    masses = [phrase for phrase in phrases if phrase.kind == "mass" and len(phrase.value.values) == 1]
    counted = _stitches_by_rows(phrases)
    if query.note and query.note.verb == "correct" and (dim or masses or query.note.kind == "swatch"):
        return _swatch_put_right(sentence, query, phrases)
    if dim and not masses and not query.note and (length := _yarn_measured(sentence, phrases)):
        yarn, more = _whole_yarn(phrases, [dim, length])
        width, height = dim.value
        swatch = Swatch(yarn, None, _step(sentence, length), width, height, length=length.value.first())
        return replace(query, swatch=swatch), [dim, length, *more]
    if (
        not masses
        or not (dim or (counted and sentence.said("ask.swatch")))
        or any(p.kind in ("length", "count") for p in phrases)
    ):
        return query, []
    of_a_yarn = first_of(phrases, "putup") or first_of(phrases, "name")
    if not sentence.said("ask.swatch") and (not of_a_yarn or _of_a_piece(sentence, dim)):
        return query, []
    mass, step, weighed = _mass(sentence, masses, phrases)
    taken = weighed + ([dim] if dim else []) + ([counted] if counted and not dim else [])
    width, height = dim.value if dim else (None, None)
    stitches, rows = (counted.value.stitches, counted.value.rows) if counted else (None, None)
    yarn, more = _whole_yarn(phrases, [*taken])
    swatch = Swatch(yarn, mass, step, width, height, stitches, rows)
    return replace(query, swatch=swatch), taken + more


def _yarn_measured(sentence: Sentence, phrases: list[Phrase]) -> Phrase | None:
    """``my 4 x 4 in swatch used 14 yards``, beside the sides of a piece: the yarn in it, where it was not weighed."""
    lengths = [phrase for phrase in phrases if phrase.kind == "length" and len(phrase.value.values) == 1]
    pieces = [phrase for phrase in phrases if phrase.kind == "dim"]
    others = any(phrase.kind in ("count", "times", "mass") for phrase in phrases)
    took = sentence.said("ask.swatch") and sentence.said("used.before", "used.after")
    return lengths[0] if took and len(lengths) == 1 and len(pieces) == 2 and not others else None


def _of_a_piece(sentence: Sentence, dim: Phrase | None) -> bool:
    """``600 g of bulky: enough for a 100 x 120 cm blanket?``: sides of what is to be knitted, of more than a swatch."""
    large = dim is not None and max(side.to("cm").value for side in dim.value) > _LARGEST_SWATCH_CM
    return large or sentence.said("ask.enough")


_LARGEST_SWATCH_CM = 40
"""What is longer is hardly a swatch where nothing calls it one (common practice, no source)."""


def _smallest(phrases: list[Phrase]) -> Phrase | None:
    """Of two pieces with their sides the swatch is the smaller."""
    dims = [phrase for phrase in phrases if phrase.kind == "dim"]
    return min(dims, key=lambda dim: dim.value[0].to("cm").value * dim.value[1].to("cm").value, default=None)


def _swatch_put_right(sentence: Sentence, query: Query, phrases: list[Phrase]) -> tuple[Query, Taken]:
    """``correct the Thistle swatch: 6.3 g``: what is said of it anew, be it one measure only."""
    dim = first_of(phrases, "dim")
    masses = [phrase for phrase in phrases if phrase.kind == "mass" and len(phrase.value.values) == 1]
    mass, step, taken = _mass(sentence, masses, phrases) if masses else (None, 1.0, [])
    taken += [dim] if dim else []
    width, height = dim.value if dim else (None, None)
    yarn, more = _whole_yarn(phrases, taken)
    return replace(query, swatch=Swatch(yarn, mass, step, width, height)), taken + more


def _two_sides(sentence: Sentence, phrases: list[Phrase]) -> Phrase | None:
    """``14 cm wide, 13 cm high``: the two sides of a swatch said apart."""
    smalls = [phrase for phrase in phrases if phrase.kind == "small"]
    if len(smalls) != 2 or not sentence.said("ask.swatch"):
        return None
    first, second = smalls
    first.kind, first.value, first.last = "dim", (first.value, second.value), second.last
    phrases.remove(second)
    sentence.phrases.remove(second)
    return first


def _mass(sentence: Sentence, masses: list[Phrase], phrases: list[Phrase]) -> tuple[Quantity, float, Taken]:
    """A swatch's mass and its last digit: ``7 g``, ``50 g before and 43 g after``, ``from 115 to 104.7 g``."""
    first = masses[0]
    mass = first.value.first()
    other = masses[1] if len(masses) == 2 else None
    if other and not (_BEFORE_AFTER.search(sentence.text) or sentence.kind_at(other.first - 1) == "TO"):
        other = None
    if other is None:
        beside = [p for p in phrases if p.kind == "num" and len(p.value.values) == 1]
        other = next((p for p in beside if _goes_to(sentence, p, first) or _goes_to(sentence, first, p)), None)
    if other is None:
        return mass, _step(sentence, first), [first]
    value, unit = other.value.values[0], other.value.unit or mass.unit
    used = Quantity(abs(mass.value - Quantity(value, unit).to(mass.unit).value), mass.unit)
    return used, min(_step(sentence, first), _step(sentence, other)), [first, other]


def _goes_to(sentence: Sentence, one: Phrase, two: Phrase) -> bool:
    """``115 to 104.7``: two numbers with nothing but a *to* between them, the smaller last."""
    falls = one.value.values[0] > two.value.values[0]
    return falls and one.last + 1 == two.first and sentence.kind_at(one.last) == "TO"


_BEFORE_AFTER = re.compile(r"\b(?:before|after|afterwards|started|to begin with|now weighs|left)\b", re.IGNORECASE)


def _stitches_by_rows(phrases: list[Phrase]) -> Phrase | None:
    return next((p for p in phrases if p.kind == "gauge" and "bare" in p.flags and p.value.rows), None)


def _step(sentence: Sentence, mass: Phrase) -> float:
    text = sentence.words(mass)
    decimals = re.search(r"[0-9][.,]([0-9]+)", text)
    return float(10.0 ** -len(decimals.group(1))) if decimals else 1.0


def _whole_yarn(phrases: list[Phrase], taken: Taken) -> tuple[Yarn, Taken]:
    """All that is said of the one yarn there is."""
    said: dict[str, Phrase] = {}
    for phrase in phrases:
        if phrase in taken or phrase.kind not in ("name", "weight", "putup", "gauge", "needle", "wpi"):
            continue
        said.setdefault(phrase.kind, phrase)
    weight: tuple[tuple[str, ...], str | None] = said["weight"].value if "weight" in said else ((), None)
    values = {kind: phrase.value for kind, phrase in said.items()}
    name = values.get("name")
    hint = class_hint(name) if name and not weight[0] else None
    yarn = Yarn(
        name=name,
        weight_class=weight[0][0] if len(weight[0]) == 1 else hint,
        class_as_said=weight[1],
        put_up=values.get("putup"),
        gauge=values.get("gauge"),
        needle=values.get("needle"),
        wpi=values.get("wpi"),
    )
    return yarn, list(said.values())
