"""Questions of another make than pattern and yarn: swatches, shapes, work under way, sizes, conversions."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

from yarnchat.language.checking import said_twice
from yarnchat.language.grading import graded, pieces_scaled
from yarnchat.language.lexicon import load, units_asked_for, word_list
from yarnchat.language.names import class_hint
from yarnchat.language.notes import note_of
from yarnchat.language.phrases import Phrase
from yarnchat.language.sentence import Sentence
from yarnchat.quantity import LENGTHS, Quantity
from yarnchat.queries import Measured, Needle, Piece, Progress, PutUp, Query, Swatch, Yarn

Taken = list[Phrase]


def special(sentence: Sentence) -> tuple[Query, Taken]:
    """The slots such a question fills, and the phrases they took."""
    query = Query()
    taken: Taken = []
    note = note_of(sentence)
    if note:
        query = replace(query, note=note)
    taken += _wanted_rate(sentence, sentence.phrases)
    for step in (_gauges, said_twice, pieces_scaled, _swatch, _length_done, graded, _piece, _progress, _measured):
        query, more = step(sentence, query, [phrase for phrase in sentence.phrases if phrase not in taken])
        taken += more
    return query, taken


def _first(phrases: list[Phrase], kind: str) -> Phrase | None:
    return next((phrase for phrase in phrases if phrase.kind == kind), None)


def _gauges(_sentence: Sentence, query: Query, phrases: list[Phrase]) -> tuple[Query, Taken]:
    """Rows said apart from the stitches belong to the gauge beside them."""
    taken: Taken = []
    for rows in [phrase for phrase in phrases if phrase.kind == "rowgauge"]:
        gauge = next((p for p in phrases if p.kind == "gauge" and p.value.rows is None), None)
        count, over = rows.value
        if gauge and over.value:
            per = gauge.value.over.to(over.unit).value / over.value
            gauge.value = replace(gauge.value, rows=count * per)
            taken.append(rows)
    return query, taken


# swatches ------------------------------------------------------------------------------------------------------


def _swatch(sentence: Sentence, query: Query, phrases: list[Phrase]) -> tuple[Query, Taken]:
    """A measured square and its mass: ``15 by 15 cm, 10.8 g``."""
    dim = _first(phrases, "dim") or _two_sides(sentence, phrases)
    masses = [phrase for phrase in phrases if phrase.kind == "mass" and len(phrase.value.values) == 1]
    counted = _stitches_by_rows(phrases)
    if query.note and query.note.verb == "correct" and (dim or masses or query.note.kind == "swatch"):
        return _swatch_put_right(sentence, query, phrases)
    if (
        not masses
        or not (dim or (counted and sentence.said("ask.swatch")))
        or any(p.kind in ("length", "count") for p in phrases)
    ):
        return query, []
    if not (sentence.said("ask.swatch") or _first(phrases, "putup") or _first(phrases, "name")):
        return query, []
    mass, step, weighed = _mass(sentence, masses, phrases)
    taken = weighed + ([dim] if dim else []) + ([counted] if counted and not dim else [])
    width, height = dim.value if dim else (None, None)
    stitches, rows = (counted.value.stitches, counted.value.rows) if counted else (None, None)
    yarn, more = _whole_yarn(phrases, [*taken])
    swatch = Swatch(yarn, mass, step, width, height, stitches, rows)
    return replace(query, swatch=swatch), taken + more


def _swatch_put_right(sentence: Sentence, query: Query, phrases: list[Phrase]) -> tuple[Query, Taken]:
    """``correct the Thistle swatch: 6.3 g``: what is said of it anew, be it one measure only."""
    dim = _first(phrases, "dim")
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
    mass = Quantity(first.value.values[0], first.value.unit)
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


# shapes --------------------------------------------------------------------------------------------------------

_BESIDE_TWO_SIDES = frozenset({"dim", "gauge", "weight", "name", "putup", "needle", "strands", "wpi", "price"})
"""What may stand beside two sides that are a rectangle's without a word for one: what tells of the yarn."""


def _piece(sentence: Sentence, query: Query, phrases: list[Phrase]) -> tuple[Query, Taken]:
    """A shape with its measures: ``a scarf 8 in wide and 60 in long``."""
    dim = _first(phrases, "dim")
    smalls = [phrase for phrase in phrases if phrase.kind == "small"]
    smalls = [*_in_the_same_unit(sentence, phrases, smalls), *smalls]  # 60 in shawl, 30 deep: the 30 is named
    shape = _shape(sentence) or ("rectangle" if dim and _two_sides_alone(sentence, phrases) else None)
    if query.swatch or query.grading or not shape or not (dim or smalls) or sentence.said("ask.check"):
        return query, []
    _skein_of_a_piece(sentence, phrases, len(smalls) + (2 if dim else 0))
    amounts = any(phrase.kind in ("length", "count", "dual", "times", "named") for phrase in phrases)
    if amounts and not sentence.said("ask.piece"):
        return query, []
    measures, taken = _measures(sentence, shape, dim, smalls)
    if not measures:
        return query, []
    if shape == "rectangle" and sentence.said("shape.triangle"):
        shape = "triangle"
    texture = "1x1" if sentence.said("texture.one") else "2x1" if sentence.said("texture.two") else None
    percent = extra_percent(sentence, phrases)
    piece = Piece(shape, tuple(measures.items()), texture, percent.value if percent else None)
    return replace(query, piece=piece), [*taken, *([percent] if percent else [])]


def extra_percent(sentence: Sentence, phrases: Sequence[Phrase]) -> Phrase | None:
    """``10 % more``, ``plus 10 % for the cables``: a percent added to what is needed, not one of fibre."""
    for phrase in phrases:
        after = sentence.lower_at(phrase.last)
        if phrase.kind != "percent" or after in word_list("fibres"):
            continue
        if after in word_list("extra_after") or sentence.lower_at(phrase.first - 1) in word_list("extra_before"):
            return phrase
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
        measures.update(zip(names if len(names) == 2 else ("width", "height"), dim.value, strict=True))
        taken.append(dim)
    for small in smalls:
        name = _measure_name(sentence, small, shape, measures)
        if name and name not in measures:
            measures[name] = small.value
            taken.append(small)
    return measures, taken


def _skein_of_a_piece(sentence: Sentence, phrases: list[Phrase], measures: int) -> None:
    """``a hat 50 cm round and 22 cm tall, worsted 220 yd``: a lone length beside the yarn is one skein's."""
    lengths = [phrase for phrase in phrases if phrase.kind in ("length", "count", "dual", "times", "named", "putup")]
    told = sentence.said("pattern.verb", "have.before", "have.after", "ask.enough")
    if measures < 2 or len(lengths) != 1 or told or sentence.kind_at(lengths[0].last) == "OF":
        return
    [lone] = lengths
    if lone.kind == "length" and len(lone.value.values) == 1 and any(p.kind == "weight" for p in phrases):
        lone.kind, lone.value = "putup", PutUp(length=Quantity(lone.value.values[0], lone.value.unit))


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
    said = {cue.kind.removeprefix("shape.").replace("_", " ") for cue in sentence.cues if cue.kind.startswith("shape.")}
    oblong = any(p.kind == "dim" and len({side.value for side in p.value}) > 1 for p in sentence.phrases)
    if "square" in said and oblong:
        return "rectangle"
    if said and said <= {"triangle", "rectangle"} and "shawl" in sentence.text.lower() and "triangle" in said:
        return "triangle"
    return next((shape for shape in load("shapes.toml") if shape in said), None)


def _measure_name(sentence: Sentence, small: Phrase, shape: str, have: dict[str, Quantity]) -> str | None:
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


# work under way ------------------------------------------------------------------------------------------------


def _progress(sentence: Sentence, query: Query, phrases: list[Phrase]) -> tuple[Query, Taken]:
    """How far along: ``row 60 of 140``, ``40 % done``, ``half way``; not where a percent and a fraction differ."""
    rows = [phrase for phrase in phrases if phrase.kind == "rows"]
    if (
        query.progress
        or query.swatch
        or query.grading
        or query.piece
        or not (rows or sentence.said("ask.progress", "progress.weak"))
    ):
        return query, []
    percent = next((p for p in phrases if p.kind == "percent" and _says_done(sentence, p)), None)
    percent = percent or _to_go(sentence, phrases)
    spoken = _spoken_fraction(sentence)
    if percent and spoken is not None and abs(percent.value / 100 - spoken) > 0.02:
        return query, []
    progress, taken = _by_rows(sentence, rows, phrases) if rows else _by_fraction(sentence, phrases, percent, spoken)
    if progress == Progress():
        return query, []
    return replace(query, progress=replace(progress, shape=_growing(sentence))), taken


_OF_THE_WHOLE = frozenset({"of", "out", "into", "the", "a", "an", "my", "its", "total", "whole", "full", "planned"})


def _length_done(sentence: Sentence, query: Query, phrases: list[Phrase]) -> tuple[Query, Taken]:
    """``knit 55 cm of a 160 cm scarf``: how far along by length; a shape that widens goes with the square of it."""
    if query != Query() or not sentence.said("ask.progress", "progress.weak", "used.before", "used.after"):
        return query, []
    for done, whole in pairwise(phrases):
        between = {sentence.lower_at(at) for at in range(done.last, whole.first)}
        if {done.kind, whole.kind} != {"small"} or not {"of", "into"} & between or not between <= _OF_THE_WHOLE:
            continue
        if sentence.lower_at(whole.last) in word_list("garment_parts"):
            continue  # a sleeve is not the whole of it
        part = done.value.to(whole.value.unit).value / whole.value.value if whole.value.value else 0.0
        if 0 < part <= 1:
            return replace(query, progress=Progress(part if _growing(sentence) == "straight" else part**2)), [
                done,
                whole,
            ]
    return query, []


def _by_rows(sentence: Sentence, rows: list[Phrase], phrases: list[Phrase]) -> tuple[Progress, Taken]:
    """``row 60 of 140``, ``60 rows, 80 to go``: the rows done and those in all, where the larger number is all."""
    done: float | None = None
    total: float | None = None
    to_go = 0.0
    ordered = False
    taken: Taken = []
    for phrase in rows:
        count, of = phrase.value
        if of is None and _says_more(sentence, phrase):
            to_go += count
        elif done is not None and total is not None:
            continue
        elif of:
            done, total, ordered = count, of, True
        elif done is None and not _says_total(sentence, phrase):
            done = count
        else:
            total = count
        taken.append(phrase)
    if done is not None and total is None:
        bare = [p for p in phrases if p.kind == "num" and len(p.value.values) == 1 and p.value.values[0] > 4]
        if to_go:
            total = done + to_go
        elif bare:
            total = bare[0].value.values[0]
            taken.append(bare[0])
    if done and total and done > total and not ordered:
        done, total = total, done
    return Progress(rows_done=done, rows_total=total), taken


def _by_fraction(
    sentence: Sentence, phrases: list[Phrase], percent: Phrase | None, spoken: float | None
) -> tuple[Progress, Taken]:
    """The part done: of a percent, of words (``half way``), or of ``2/3 of the shawl``, in that order."""
    if percent and 0 < percent.value <= 100:
        return Progress(percent.value / 100), [percent]
    if spoken is not None:
        return Progress(spoken), []
    for phrase in phrases:
        of_the_way = sentence.lower_at(phrase.last) == "of" and sentence.lower_at(phrase.last + 2) == "way"
        if phrase.kind == "num" and 0 < phrase.value.values[0] < 1 and (of_the_way or _part_made(sentence, phrase)):
            return Progress(phrase.value.values[0]), [phrase]
    fraction = _first(phrases, "fraction")
    return (Progress(fraction.value), [fraction]) if fraction else (Progress(), [])


def _growing(sentence: Sentence) -> str:
    """How the piece grows as it is knitted: evenly, or with the square of its rows."""
    if sentence.said("shape.triangle"):
        return "triangle"
    return "circle" if sentence.said("shape.circle", "shape.half_circle", "shape.crescent") else "straight"


def _to_go(sentence: Sentence, phrases: list[Phrase]) -> Phrase | None:
    """``30% to go``, ``a percent left``: what is done is the rest."""
    for phrase in phrases:
        after = [sentence.lower_at(phrase.last), sentence.lower_at(phrase.last + 1)]
        if phrase.kind == "percent" and (after == ["to", "go"] or after[0] in ("left", "remaining")):
            phrase.value = 100 - phrase.value
            return phrase
    return None


def _says_done(sentence: Sentence, phrase: Phrase) -> bool:
    """``60 % done``, ``40% of the blanket done``: a percent of the work, not of the fibre."""
    near = range(phrase.last, phrase.last + 6)
    around = {sentence.lower_at(i) for i in near if not sentence.parted(phrase.last, i)}
    return bool(around & word_list("done")) or _part_made(sentence, phrase)


def _part_made(sentence: Sentence, phrase: Phrase) -> bool:
    """``knit 2/3 of the shawl``, ``done 45% of it``: a part of the work, after a word for working it."""
    lead = {sentence.lower_at(i) for i in range(max(0, phrase.first - 2), phrase.first)}
    of_it = sentence.kind_at(phrase.last) == "OF" and sentence.lower_at(phrase.last + 1) in word_list("the_work")
    return of_it and bool(lead & (word_list("done") | word_list("working")))


def _says_more(sentence: Sentence, phrase: Phrase) -> bool:
    """``50 rows to go``, ``10 rows more``: rows still to knit."""
    after = [sentence.lower_at(i) for i in range(phrase.last, phrase.last + 2)]
    if after == ["to", "go"] or sentence.lower_at(phrase.first - 1) == "another":
        return True
    return after[0] in ("left", "more", "remaining", "still")


def _says_total(sentence: Sentence, phrase: Phrase) -> bool:
    around = {
        sentence.lower_at(i) for i in (*range(phrase.first - 4, phrase.first), *range(phrase.last, phrase.last + 3))
    }
    if "out" in (sentence.lower_at(i) for i in range(phrase.last, phrase.last + 2)):
        return False  # 90 rows done out of 240
    return bool(around & {"total", "all", "altogether", "out", "has", "whole", "full"})


_HALFWAY = frozenset({"half way", "halfway", "half done", "midway", "mid way"})
_SPOKEN = {
    **dict.fromkeys(_HALFWAY, 0.5),
    "half": 0.5,
    "third": 1 / 3,
    "quarter": 0.25,
    "fifth": 0.2,
    "quarters": 0.25,
    "thirds": 1 / 3,
    "fifths": 0.2,
    "tenths": 0.1,
}
_MANIFOLD = frozenset({"twice", "thrice"})
_HOW_MUCH = frozenset({"amount", "length", "yardage", "meterage", "metreage", "quantity", "number"})
_TOPS = {"a": 1, "one": 1, "two": 2, "three": 3, "four": 4}


_MULTIPLES = frozenset({"double the", "triple the", "double", "triple"})
_PARTS = _MANIFOLD | _MULTIPLES | set(_SPOKEN)


def spoken_part(sentence: Sentence) -> str | None:
    """A part in words that no amount took, as in ``the sleeves take a quarter of it``; None where there is none."""
    covered = {index for phrase in sentence.phrases for index in range(phrase.first, phrase.last)}
    for at, token in enumerate(sentence.tokens):
        if token.lower not in _PARTS:
            continue
        after, later = sentence.lower_at(at + 1), sentence.lower_at(at + 2)
        times = token.lower in _MANIFOLD and after in ("as", "the", "that", "what", "this")
        many = token.lower in _MULTIPLES and {after, later} & _HOW_MUCH
        if (times and later not in ("price", "cost")) or many:
            return f"{token.text} {after}"
        if at in covered or token.lower not in _SPOKEN or token.lower in _HALFWAY:
            continue
        ends = token.lower != "half" and sentence.kind_at(at + 1) in ("COMMA", "")
        nth = [sentence.kind_at(i) for i in range(at - 3, at)] == ["MASS", "OF", "ARTICLE"]  # 35 g of a third
        if (
            not nth
            and (after in ("of", "as", "the", "it") or ends)
            and later not in ("term", "hour", "price", "time", "way")
        ):
            return " ".join(t.text for t in sentence.tokens[max(0, at - 1) : at + 2])
    return None


def _spoken_fraction(sentence: Sentence) -> float | None:
    """A fraction in words that no amount took: ``two thirds done``, ``half way``, ``three quarters through``."""
    covered = {index for phrase in sentence.phrases for index in range(phrase.first, phrase.last)}
    for at, token in enumerate(sentence.tokens):
        if at in covered or token.lower not in _SPOKEN or sentence.lower_at(at + 1) in ("circle", "as", "round"):
            continue
        if sentence.lower_at(at - 1) in word_list("garment_parts"):
            continue  # body half done
        before = sentence.lower_at(at - 1) if sentence.kind_at(at - 1) != "DASH" else sentence.lower_at(at - 2)
        return _TOPS.get(before, 1) * _SPOKEN[token.lower]
    return None


# conversions ---------------------------------------------------------------------------------------------------

_ASKED = re.compile(
    r"\b(?:in|into|to|as|how many|wants|what(?:'s| is)? (?:that|it|this) in|over|per)\s+(?:the\s+)?(?P<unit>"
    r"(?:m|metres|meters|yds?|yards)\s*(?:/|per|in)\s*(?:100\s*g\b|100\s*grams|50\s*g\b|lb\b|pound|kg\b)"
    r"|yards? to the pound|ypp\b|"
    + "|".join(sorted(units_asked_for(), key=len, reverse=True))
    + r")\b(?!\s*(?:pattern|yarn|weight))",
    re.IGNORECASE,
)
_SYSTEM = re.compile(
    r"\b(?P<unit>mm|us|uk)\b\s*(?:size|sizes|needle|needles|number|equivalent)?\s*(?:\?|$|please|pls|for|is|would)",
    re.IGNORECASE,
)
_WHAT_SYSTEM = re.compile(r"\b(?:what|which)\s+(?P<unit>mm|us|uk)\b", re.IGNORECASE)
_GRIST_WANTED = re.compile(
    r"(?P<length>m|yd|yard)\w*\s*(?:/|per|to the|in)\s*(?P<mass>100\s*g|50\s*g|lb|pound|kg)", re.IGNORECASE
)


Conversion = tuple[Measured, Taken]


def _measured(sentence: Sentence, query: Query, phrases: list[Phrase]) -> tuple[Query, Taken]:
    """Something to convert, where nothing else is asked: one amount, needle, gauge or yarn number."""
    if query != Query() or sentence.said("ask.strands"):
        return query, []
    into = _into(sentence, phrases)
    if not phrases:
        return (replace(query, measured=Measured(into=into)) if into else query), []
    wanted = _wanted_rate(sentence, phrases)
    found = _to_convert(sentence, [phrase for phrase in phrases if phrase not in wanted], wanted, into)
    return (replace(query, measured=found[0]), found[1]) if found else (query, [])


def _to_convert(sentence: Sentence, phrases: list[Phrase], wanted: Taken, into: str | None) -> Conversion | None:
    kinds = {phrase.kind for phrase in phrases}
    if grist := _first(phrases, "grist"):
        return Measured(count=grist.value, into=into), [grist]
    if needle := _needle_to_convert(sentence, phrases, into):
        return needle
    if not sentence.said("ask.convert", "ask.grams", "ask.measure", "ask.how_many") and into is None:
        return None
    rated = _rated(phrases)
    plain = not kinds & {"length", "count", "mass", "weight", "times"}
    if rated and into and ("/" in into or into in _SYSTEMS) and plain:
        return Measured(count=_yarn_number(rated), into=into), [rated, *wanted]
    gauge = _first(phrases, "gauge")
    if gauge and not kinds & {"length", "mass", "count", "putup", "weight"}:
        return _gauge_to_convert(sentence, gauge, phrases, into)
    return _amount_to_convert(sentence, phrases, into)


def _needle_to_convert(sentence: Sentence, phrases: list[Phrase], into: str | None) -> Conversion | None:
    """The last needle, where no yarn is spoken of."""
    needles = [phrase for phrase in phrases if phrase.kind == "needle"]
    others = {phrase.kind for phrase in phrases} & {"length", "mass", "count", "putup", "weight", "name", "times"}
    asked = (into or sentence.said("ask.convert")) and not sentence.said("ask.identify")
    if not needles or others or not asked:
        return None
    small = _first(phrases, "small")
    return Measured(needle=needles[-1].value, into=into), [needles[-1], *([small] if small else [])]


def _gauge_to_convert(sentence: Sentence, gauge: Phrase, phrases: list[Phrase], into: str | None) -> Conversion | None:
    """A gauge over another length, or the stitches of a width at it."""
    smalls = [phrase for phrase in phrases if phrase.kind == "small"]
    leads = ("over", "to", "per", "in", "into")
    over = next((f"{p.value.value:g} {p.value.unit}" for p in smalls if sentence.lower_at(p.first - 1) in leads), None)
    if smalls and not over:
        return Measured(amount=smalls[0].value, gauge=gauge.value), [gauge, smalls[0]]
    if over or into in ("cm", "in") or (sentence.said("ask.convert") and not sentence.said("ask.identify")):
        return Measured(gauge=gauge.value, into=over or into), [gauge, *smalls]
    return None


def _amount_to_convert(sentence: Sentence, phrases: list[Phrase], into: str | None) -> Conversion | None:
    """The one length or mass there is; a size in mm asked for in needle sizes is a needle."""
    single = [phrase for phrase in phrases if phrase.kind in ("length", "mass", "small", "putup")]
    if len(single) == 2 and single[0].kind == single[1].kind and single[0].value == single[1].value:
        return Measured(amount=_amount_of(single[0]), into=into), single
    if len(single) != 1:
        return None
    phrase = single[0]
    kinds = {other.kind for other in phrases}
    if phrase.kind == "putup":
        return _wound_to_convert(phrase, kinds, into)
    asked = bool(into) or sentence.said("ask.convert")
    if not asked or kinds & {"weight", "count", "times", "gauge", "name", "price", "needle", "dim"}:
        return None
    if phrase.kind == "small" and into in ("us", "uk") and phrase.value.unit == "mm":
        return Measured(needle=Needle(f"{phrase.value.value:g}", "mm"), into=into), [phrase]
    if phrase.kind != "small" and (len(phrase.value.values) != 1 or phrase.value.low is not None):
        return None
    return Measured(amount=_amount_of(phrase), into=into), [phrase]


def _wound_to_convert(phrase: Phrase, kinds: set[str], into: str | None) -> Conversion | None:
    """A skein's length, or its mass, into a unit of the same."""
    wound = phrase.value
    if wound.length and not wound.mass and into in LENGTHS and not kinds & {"weight", "count", "name"}:
        return Measured(amount=wound.length, into=into), [phrase]
    if wound.mass and not wound.length and into in ("g", "oz", "kg", "lb"):
        return Measured(amount=wound.mass, into=into), [phrase]
    return None


def _amount_of(phrase: Phrase) -> Quantity | None:
    if phrase.kind == "small":
        return phrase.value  # type: ignore[no-any-return]
    return Quantity(phrase.value.values[0], phrase.value.unit) if phrase.kind in ("length", "mass") else None


def _wanted_rate(sentence: Sentence, phrases: list[Phrase]) -> Taken:
    """The ``100 g`` of ``in metres per 100 g``: part of the unit asked for, no mass."""
    return [
        phrase
        for phrase in phrases
        if phrase.kind == "mass"
        and phrase.value.values[0] in (50.0, 100.0)
        and _RATE_LEAD.search(
            sentence.text[max(0, sentence.tokens[phrase.first].start - 28) : sentence.tokens[phrase.first].start]
        )
    ]


_RATE_LEAD = re.compile(
    r"(?:how many|in|into|to|as)\s+(?:m|metres|meters|yds?|yards)\s*(?:/|per|in|to the|to)\s*$", re.IGNORECASE
)
_SYSTEMS = frozenset({"tex", "denier", "Nm", "NeC", "worsted"})


def _rated(phrases: list[Phrase]) -> Phrase | None:
    return next(
        (p for p in phrases if p.kind == "putup" and p.value.length and p.value.mass and p.value.mass.value), None
    )


def _yarn_number(phrase: Phrase) -> tuple[float, str]:
    put_up = phrase.value
    if put_up.mass.unit == "lb":
        return put_up.length.to("yd").value / put_up.mass.value, "yd/lb"
    unit = put_up.length.unit if put_up.length.unit in ("yd", "m") else "m"
    return put_up.length.to(unit).value / put_up.mass.to("g").value * 100, f"{unit}/100 g"


def _into(sentence: Sentence, phrases: list[Phrase]) -> str | None:
    """The unit asked for, outside every phrase; that of the only amount told only where no other is said."""
    spans = [(sentence.tokens[p.first].start, sentence.tokens[p.last - 1].end) for p in phrases]
    found = [
        unit
        for pattern in (_ASKED, _SYSTEM, _WHAT_SYSTEM)
        for match in pattern.finditer(sentence.text)
        if (unit := _unit_of(match, spans))
    ]
    told = {p.value.unit for p in phrases if p.kind in ("length", "mass", "small")}
    found = [unit for unit in found if unit not in told] or found
    return next((unit for unit in found if "/" in unit), found[0] if found else None)


def _unit_of(found: re.Match[str], spans: list[tuple[int, int]]) -> str | None:
    """The unit one wording asks for; None where it stands inside a phrase."""
    start = found.start("unit")
    unit = found.group("unit").lower()
    rate = _GRIST_WANTED.match(unit)
    if any(left <= start < right and (not rate or left + 6 < start) for left, right in spans):
        return None
    if rate:
        length = "yd" if unit.startswith("y") else "m"
        mass = rate.group("mass").replace(" ", "").lower()
        return f"{length}/" + {"lb": "lb", "pound": "lb", "100g": "100 g", "50g": "50 g"}.get(mass, "kg")
    if (unit.startswith("yard") and "pound" in unit) or unit == "ypp":
        return "yd/lb"
    return units_asked_for().get(unit)
