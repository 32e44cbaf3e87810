"""Pieces of a shape: which shape, its measures, and a percentage more."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

from yarnchat.language.lexicon import load, made_several, shape_cue, word_list
from yarnchat.language.phrases import Phrase, Taken, first_of
from yarnchat.language.sentence import Sentence
from yarnchat.language.skein_limits import HANK_M
from yarnchat.quantity import Quantity
from yarnchat.queries import Piece, PutUp, Query, Series

_BESIDE_TWO_SIDES = frozenset({"dim", "gauge", "weight", "name", "putup", "needle", "strands", "wpi", "price"})
"""What may stand beside two sides that are a rectangle's without a word for one: what tells of the yarn."""


LEAST_AROUND_CM = 40
"""``A hat 20 by 22 cm`` is asked about: less may be the width it has lying flat (common practice, no source)."""


def piece_told(sentence: Sentence, query: Query, phrases: list[Phrase]) -> tuple[Query, Taken]:
    """A shape with its measures: ``a scarf 8 in wide and 60 in long``."""
    dim = first_of(phrases, "dim")
    smalls = [phrase for phrase in phrases if phrase.kind == "small"]
    smalls = [*_in_the_same_unit(sentence, phrases, smalls), *smalls]  # 60 in shawl, 30 deep: the 30 is named
    if query == Query() and (alone := _shape_alone(sentence, phrases) or _out_of_what_there_is(sentence, phrases)):
        return replace(query, piece=Piece(alone, ())), []
    if query.grading or not (dim or smalls) or sentence.said("ask.check"):
        return query, []
    if query.swatch and not (dim and _shape(sentence)):
        return query, []
    shape = _shape(sentence) or ("rectangle" if dim and _two_sides_alone(sentence, phrases) else None)
    if not shape:
        return query, []
    _skein_of_a_piece(sentence, phrases, len(smalls) + (2 if dim else 0))
    amounts = [phrase for phrase in phrases if phrase.kind in ("length", "count", "dual", "times", "named")]
    asked = sentence.said("ask.piece", "ask.how_big")
    if not all(_owned(sentence, phrase) for phrase in amounts) and not asked:
        return query, []
    measures, taken = _measures(sentence, shape, dim, smalls)
    if not measures:
        return query, []
    texture = "1x1" if sentence.said("texture.one") else "2x1" if sentence.said("texture.two") else None
    percent = extra_percent(sentence, phrases)
    _number_things(sentence)
    many = _many(sentence, phrases)
    count = int(many.value.values[0]) if many else 1
    piece = Piece(shape, tuple(measures.items()), texture, percent.value if percent else None, count)
    return replace(query, piece=piece), [*taken, *(phrase for phrase in (percent, many) if phrase)]


def _owned(sentence: Sentence, phrase: Phrase) -> bool:
    """``I have 3 balls``: skeins that she has."""
    has = any(cue.kind == "have.before" and 0 <= phrase.first - cue.last <= 1 for cue in sentence.cues)
    return has and phrase.kind in ("count", "times")


def _shape_alone(sentence: Sentence, phrases: Sequence[Phrase]) -> str | None:
    """``how much yarn for a scarf?``: a shape whose measures are still to be told."""
    plain = all(phrase.kind in ("weight", "name", "putup", "price") for phrase in phrases)
    asked = (
        sentence.said("ask.piece") and sentence.said("ask.how_many") and not sentence.said("ask.swatch", "ask.check")
    )
    shape = _shape(sentence) if plain and asked else None
    return shape if shape and load("shapes.toml")[shape]["in_order"] else None


def _out_of_what_there_is(sentence: Sentence, phrases: Sequence[Phrase]) -> str | None:
    """``how big a square from 640 yds of worsted?``: a shape of which nothing is told but what there is for it."""
    if not sentence.said("ask.how_big", "size.which") or sentence.said("ask.check"):
        return None
    amounts = [phrase for phrase in phrases if phrase.kind in ("length", "count", "mass", "times", "named", "dual")]
    lone = len(amounts) == 1 and amounts[0].kind in ("length", "count", "mass") and len(amounts[0].value.values) == 1
    sized = any(phrase.kind in ("small", "smalls", "dim", "size", "sizes") for phrase in phrases)
    return _shape(sentence) if lone and not sized else None


def _number_things(sentence: Sentence) -> None:
    """``three gussets``, ``two square blankets``: a number in words before things, known or not, that was not counted
    is a number all the same, and asked about."""
    numbers: dict[str, float] = load("words.toml")["numbers"]
    shapes = [cue for cue in sentence.cues if cue.kind.startswith("shape.")]
    begin = {cue.first for cue in shapes}
    begin |= {cue.first - 1 for cue in shapes if sentence.lower_at(cue.last - 1).endswith("s")}  # two striped hats
    for at, (token, thing) in enumerate(pairwise(sentence.tokens)):
        things = at + 1 in begin or (thing.kind == "WORD" and thing.lower.endswith("s"))
        alone = numbers.get(token.lower, 0) > 1 and _set_apart(sentence, at)  # covers 40 x 40 cm, two, in DK
        if token.kind == "WORD" and (things or alone) and numbers.get(token.lower, 0) > 1:
            token.kind = "NUM"


def _many(sentence: Sentence, phrases: Sequence[Phrase]) -> Phrase | None:
    """The ``two`` of ``two scarves``, ``a pair of leg warmers``: how many are knitted alike."""
    for at, token in enumerate(sentence.tokens):
        words = [token.lower, *(sentence.lower_at(i) for i in range(at + 1, at + 3))]
        pair = token.lower == "pair of" and words[1] != "us"
        pair = pair or (token.lower in ("pair", "a pair") and _set_apart(sentence, at))
        if pair or words[:2] == ["both", "sides"] or words in _BOTH_FACES:
            return Phrase("num", at, at + 1, Series((2.0,), ""))
    return next(
        (p for p in phrases if p.kind == "num" and _of_things(sentence, p) and p.value.values[0] % 1 == 0), None
    )


def _set_apart(sentence: Sentence, at: int) -> bool:
    """``…, pair, in DK``, ``a pair.``: whether a word, an article aside, stands between two stops or commas."""
    before = at - 1 - (sentence.kind_at(at - 1) == "ARTICLE")
    edges = ("", "COMMA", "STOP", "SEMI", "LPAR", "RPAR")
    return sentence.kind_at(before) in edges and sentence.kind_at(at + 1) in edges


def how_many(sentence: Sentence) -> int | None:
    """The number of things alike that a text tells of, if it tells one."""
    told = next((p for p in sentence.phrases if p.kind == "num" and _of_things(sentence, p)), None)
    return int(told.value.values[0]) if told and told.value.values[0] % 1 == 0 else None


_BOTH_FACES = (["front", "and", "back"], ["back", "and", "front"])


def _of_things(sentence: Sentence, phrase: Phrase) -> bool:
    """``two scarves``, ``eighteen of them``."""
    ahead = [sentence.lower_at(at) for at in range(phrase.last, phrase.last + 3)]
    if ahead[:2] == ["of", "them"] or ahead == ["of", "'", "em"]:
        return len(phrase.value.values) == 1
    things = (sentence.lower_at(phrase.last), sentence.lower_at(phrase.last + 1))
    whole = len(phrase.value.values) == 1 and phrase.value.values[0] % 1 == 0
    return whole and not made_several().isdisjoint(things)


def extra_percent(sentence: Sentence, phrases: Sequence[Phrase]) -> Phrase | None:
    """``10 % more``, ``plus 10 % for the cables``: a percent added to what is needed, not one of fibre."""
    for phrase in phrases:
        after = sentence.lower_at(phrase.last)
        ahead = {sentence.lower_at(at) for at in range(phrase.last, phrase.last + 3)}
        if phrase.kind != "percent" or after in word_list("fibres") or ahead & word_list("taxes"):
            continue
        behind = {sentence.lower_at(at) for at in range(phrase.first - 4, phrase.first)}
        if (behind | {sentence.lower_at(at) for at in range(phrase.last, phrase.last + 4)}) & word_list(
            "in_it_already"
        ):
            continue  # yardage already includes a 10% margin
        if after in word_list("extra_after") or sentence.lower_at(phrase.first - 1) in word_list("extra_before"):
            return phrase
        if sentence.kind_at(phrase.first - 1) == "OF" and sentence.lower_at(phrase.first - 2) in word_list(
            "extra_after"
        ):
            return phrase  # a margin of 15%
    return None


def _two_sides_alone(sentence: Sentence, phrases: list[Phrase]) -> bool:
    """``48 x 60 inches, how much DK?``: whether two sides are those of a piece, though no shape is named."""
    asked = sentence.said("ask.how_many", "ask.measure", "ask.piece") and not sentence.said("ask.swatch")
    return asked and {phrase.kind for phrase in phrases} <= _BESIDE_TWO_SIDES


def _measures(
    sentence: Sentence, shape: str, dim: Phrase | None, smalls: list[Phrase]
) -> tuple[dict[str, Quantity], Taken]:
    """The measures of a shape by name, from its two sides and the measures said apart, and what they took."""
    measures: dict[str, Quantity] = {}
    taken: Taken = []
    if dim:
        names = load("shapes.toml")[shape]["in_order"]
        flat = names[:1] == ["circumference"] and dim.value[0].to("cm").value < LEAST_AROUND_CM
        measures.update(zip(names if len(names) == 2 and not flat else ("width", "height"), dim.value, strict=True))
        taken.append(dim)
    for small in smalls:
        name = _measure_name(sentence, small, shape, measures)
        if name and name not in measures:
            measures[name] = small.value
            taken.append(small)
    return measures, taken


def sides_in_order(shape: str) -> tuple[str, ...]:
    """What the two sides of ``20 by 150 cm`` are called for a shape."""
    names = load("shapes.toml")[shape]["in_order"]
    return tuple(names) if len(names) == 2 else ("width", "height")


def _skein_of_a_piece(sentence: Sentence, phrases: list[Phrase], measures: int) -> None:
    """``a hat 50 cm round and 22 cm tall, worsted 220 yd``: a lone length beside the yarn is one skein's."""
    lengths = [phrase for phrase in phrases if phrase.kind in ("length", "count", "dual", "times", "named", "putup")]
    told = sentence.said("pattern.verb", "have.before", "have.after", "ask.enough")
    if measures < 2 or len(lengths) != 1 or told or sentence.kind_at(lengths[0].last) == "OF":
        return
    [lone] = lengths
    short = lone.kind == "length" and lone.value.largest().to("m").value <= HANK_M
    if short and len(lone.value.values) == 1 and any(p.kind == "weight" for p in phrases):
        lone.kind, lone.value = "putup", PutUp(length=lone.value.first())


def _in_the_same_unit(sentence: Sentence, phrases: list[Phrase], smalls: list[Phrase]) -> list[Phrase]:
    """``60 cm around and 25 high``: a number right before a measure's word, in the unit of the measure before."""
    if not smalls:
        return []
    words = {cue.first for cue in sentence.cues if cue.kind.startswith("measure.")}
    return [
        replace(phrase, kind="small", value=Quantity(phrase.value.values[0], smalls[0].value.unit))
        for phrase in phrases
        if phrase.kind == "num" and phrase.last in words and len(phrase.value.values) == 1
    ]


def _shape(sentence: Sentence) -> str | None:
    oblong = any(p.kind == "dim" and len({side.value for side in p.value}) > 1 for p in sentence.phrases)
    return "rectangle" if sentence.said(shape_cue("square")) and oblong else shape_said(sentence)


def shape_said(sentence: Sentence) -> str | None:
    """The shape a text names, of several the first of shapes.toml, or None."""
    return next((shape for shape in load("shapes.toml") if sentence.said(shape_cue(shape))), None)


def called_in(shape: str, measure: str) -> str:
    """What a measure's word names of a shape: the depth of a square is its width."""
    named: dict[str, str] = load("shapes.toml")[shape]["stands_for"]
    return named.get(measure, measure)


def measures_named(sentence: Sentence) -> tuple[tuple[str, Quantity], ...]:
    """``180 cm wide, 80 cm deep``: measures each with its word right beside it, by the names of cues.toml."""
    cues = [cue for cue in sentence.cues if cue.kind.startswith("measure.")]
    return tuple(
        (cue.kind.removeprefix("measure."), small.value)
        for small in sentence.phrases
        if small.kind == "small"
        for cue in cues
        if small.last == cue.first or cue.last == small.first
    )


def _measure_name(sentence: Sentence, small: Phrase, shape: str, have: dict[str, Quantity]) -> str | None:
    """The measure of the shape that the nearest word for one says a size is; else the first, in order, not yet told."""
    near: list[tuple[float, str]] = []
    ranked = list(load("cues.toml")["measure"])
    for cue in sentence.cues:
        if not cue.kind.startswith("measure."):
            continue
        name = cue.kind.removeprefix("measure.")
        gap = cue.first - small.last if cue.first >= small.last else small.first - cue.last + 0.6
        between = range(min(small.last, cue.last), max(small.first, cue.first))
        blocked = any(sentence.kind_at(i) in ("COMMA", "AND", "STOP", "NUM") for i in between)
        if gap < 5:
            near.append((gap + (4 if blocked else 0) + ranked.index(name) / 100, name))
    taken_as = load("shapes.toml")[shape]
    for _, name in sorted(near):
        fitted = taken_as["stands_for"].get(name, name)
        if fitted not in have:
            return str(fitted)
    return next((name for name in taken_as["in_order"] if name not in have), None)
