"""One size that was knitted and others asked for: chests, garment lengths, or the sides of a flat piece."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

from yarnchat.language.builders import place_told
from yarnchat.language.lexicon import load, shape_cue, word_list
from yarnchat.language.phrases import Phrase, Taken
from yarnchat.language.pieces import shape_said
from yarnchat.language.sample_size import named, sample_named
from yarnchat.language.sentence import Sentence
from yarnchat.quantity import Quantity
from yarnchat.queries import Grading, Query, Series

_AMOUNTS = ("length", "count", "mass")
TIMES_THE_SWATCH = 25
"""A piece so many times smaller than another is a swatch of it (common practice, no source)."""
_MEASURES = ("measure.height", "measure.length", "measure.chest")


def pieces_scaled(sentence: Sentence, query: Query, phrases: Taken) -> tuple[Query, Taken]:
    """``a blanket 60 x 80 cm took 310 m, how much for 90 x 120``: the two sides of pieces of one kind."""
    amounts = [phrase for phrase in phrases if phrase.kind in _AMOUNTS]
    plain = len(amounts) == 1 and len(amounts[0].value.values) == 1
    took = plain and (
        sentence.said("used.before")
        or _resized(sentence, phrases)
        or any(_took(sentence, dim, amounts[0], []) for dim in _dims(phrases))
    )
    if not took or sentence.said("ask.swatch", "ask.check"):
        return query, []
    if any(phrase.kind in ("rows", "percent") for phrase in phrases):
        return query, []
    dims = _dims(phrases)
    if sentence.said("measure.chest"):
        return query, []
    if len(dims) == 1:
        dims += _sides_without_a_unit(sentence, phrases, dims[0].value[1].unit)
    if len(dims) < 2:
        return query, []
    sample = min(dims, key=lambda dim: (_wanted(sentence, dim), -_took(sentence, dim, amounts[0], dims), dim.first))
    width, height = sample.value
    others = [phrase.value for phrase in dims if phrase is not sample]
    areas = [side.to("cm").value * other.to("cm").value for side, other in (phrase.value for phrase in dims)]
    if min(areas) <= 0 or max(areas) > TIMES_THE_SWATCH * min(areas):
        return query, []
    grading = Grading(
        width, tuple(side for side, _ in others), height, tuple(side for _, side in others), _piece(sentence)
    )
    return replace(query, grading=grading), dims


def _dims(phrases: Taken) -> Taken:
    return [phrase for phrase in phrases if phrase.kind == "dim"]


def _sides_without_a_unit(sentence: Sentence, phrases: Taken, unit: str) -> Taken:
    """``90 x 120``: two sides in the unit of the piece before them."""
    found: Taken = []
    for one, two in pairwise(phrases):
        lone = one.kind == two.kind == "num" and len(one.value.values) == len(two.value.values) == 1
        if lone and [sentence.kind_at(at) for at in range(one.last, two.first)] in (["X"], ["BY"]):
            sides = (Quantity(one.value.values[0], unit), Quantity(two.value.values[0], unit))
            one.kind, one.value, one.last = "dim", sides, two.last
            sentence.phrases.remove(two)
            found.append(one)
    return found


def _piece(sentence: Sentence) -> str:
    """The shape that is scaled, or "piece" where none is said."""
    return shape_said(sentence) or "piece"


def graded(sentence: Sentence, query: Query, phrases: Taken) -> tuple[Query, Taken]:
    """One size knitted, others asked for: chests, and lengths where they are said."""
    if query.swatch or query.grading or sentence.said("ask.check"):
        return query, []
    _chests_without_a_unit(sentence, phrases)
    if not _asked(sentence, phrases):
        return query, []
    amounts = [phrase for phrase in phrases if phrase.kind in _AMOUNTS]
    if sentence.said("measure.chest") and not sentence.said("ask.swatch"):
        first = next((phrase for phrase in phrases if phrase.kind == "small"), None)
        if first and sentence.said("measure.length", "measure.height"):
            _sides_without_a_unit(sentence, phrases, first.value.unit)  # chest 96 cm, length 58 cm; 104 x 60?
            phrases = [phrase for phrase in phrases if phrase in sentence.phrases]
        phrases = [part for phrase in phrases for part in _chest_and_length(sentence, phrase)]
    smalls = [phrase for phrase in phrases if phrase.kind in ("small", "smalls")]
    if not amounts or any(len(phrase.value.values) > 1 for phrase in amounts) or not smalls:
        return query, []
    if smalls[0].kind == "small":
        smalls += _led_by_a_measure(sentence, phrases, smalls[0].value.unit)
    if len(smalls) == 1 and smalls[0].kind == "small":
        smalls += _other_chests(sentence, phrases, smalls[0].value)
    smalls.sort(key=lambda phrase: phrase.first)
    lengths = [phrase for phrase in smalls if _is_length(sentence, phrase, smalls[0])]
    chests = [phrase for phrase in smalls if phrase not in lengths]
    around = _all_round(sentence, smalls)
    piece = _piece(sentence) if around or _flat(sentence) else ""
    if piece:
        chests, lengths = around or _sides(sentence, smalls)
    knitted, told = _one_of_the_list(phrases, chests, paired=bool(lengths))
    by_name = sample_named(sentence, phrases, chests, amounts[0])
    if by_name is not None:
        knitted, told = by_name, [phrase for phrase in phrases if phrase.kind == "size"]
    grading = _from_sample(sentence, chests, lengths, amounts[0], knitted)
    if grading is None:
        return query, []
    numbered = [phrase for phrase in phrases if phrase.kind == "size" and place_told(phrase.value) is not None]
    several = [found for found in (numbered, named(phrases)) if len(found) == len(grading.chests) + 1]
    told += several[0] if several else _numbered_beside(sentence, phrases, chests)
    return replace(query, grading=replace(grading, piece=piece)), [*smalls, *told]


def _chests_without_a_unit(sentence: Sentence, phrases: Taken) -> None:
    """``chest 34 used 620 yds, how many for chest 40?``, ``size 40 took 1300 yds; … the 44 (chest inches)``: chests.

    In the unit told beside the word for them, else in inches or centimetres by how many they are.
    """
    if any(phrase.kind in ("small", "smalls", "dim") for phrase in phrases) or not sentence.said("used.before"):
        return
    cues = [cue for cue in sentence.cues if cue.kind == "measure.chest"]
    units = {token.value for cue in cues for token in sentence.tokens[cue.last : cue.last + 1] if token.kind == "SHORT"}
    led = [p for p in phrases if p.kind == "num" and any(cue.last == p.first for cue in cues)]
    if units and len(cues) == 1:
        led = [p for p in phrases if p.kind == "size" and p.value.isdigit()][:1]
        led += [p for p in phrases if p.kind == "num" and sentence.kind_at(p.first - 1) in ("THE", "SIZE", "ARTICLE")]
    told = [float(p.value) if p.kind == "size" else p.value.values[0] for p in led]
    if len(set(told)) < 2 or (not units and min(told) <= _CHESTS_IN_INCHES < max(told)):
        return
    unit = str(next(iter(units))) if units else "in" if max(told) <= _CHESTS_IN_INCHES else "cm"
    if min(told) < _LEAST_CHEST.get(unit, 0):
        return  # size 12, size 14
    for phrase, chest in zip(led, told, strict=True):
        phrase.kind, phrase.value = "small", Quantity(chest, unit)


_LEAST_CHEST = {"in": 16, "cm": 40}
"""A number under this is that of a size, and no chest (common practice, no source)."""
_CHESTS_IN_INCHES = 64
"""Chests told without a unit are in inches up to this, and above it in centimetres (common practice, no source)."""


def _numbered_beside(sentence: Sentence, phrases: Taken, chests: Taken) -> Taken:
    """``size 3 (106 cm)``: the number of a size, right before the brackets that hold its chest."""
    begins = {phrase.first - 1 for phrase in chests if sentence.kind_at(phrase.first - 1) == "LPAR"}
    sized = (p for p in phrases if p.kind in ("num", "size") and p.last in begins)
    return [p for p in sized if "SIZE" in (sentence.kind_at(p.first), sentence.kind_at(p.first - 1))]


def _chest_and_length(sentence: Sentence, phrase: Phrase) -> Taken:
    """``44 in x 25 in``, ``44"/26" and 48"/27"``, beside a chest told: the chest and the length of each size."""
    numbers = [at for at in range(phrase.first, phrase.last) if sentence.kind_at(at) == "NUM"]
    measures = phrase.value if phrase.kind == "dim" else _slashed(sentence, phrase, numbers)
    if not measures:
        return [phrase]
    ends = [*numbers[1:], phrase.last]
    parts = [
        Phrase("small", begin, end, measure, flags=frozenset({("chest", "length")[at % 2]}))
        for at, (begin, end, measure) in enumerate(zip(numbers, ends, measures, strict=True))
    ]
    at = sentence.phrases.index(phrase)
    sentence.phrases[at : at + 1] = parts
    return parts


def _slashed(sentence: Sentence, phrase: Phrase, numbers: list[int]) -> list[Quantity]:
    """The measures of a phrase in which every two stand with a slash between, where lengths are spoken of."""
    if phrase.kind != "smalls" or len(numbers) % 2 or not sentence.said("measure.length"):
        return []
    gaps = [{sentence.kind_at(at) for at in range(one, two)} for one, two in pairwise(numbers)]
    paired = all(("SLASH" in gap) == (at % 2 == 0) for at, gap in enumerate(gaps))
    return _values(phrase) if paired and len(numbers) == len(phrase.value.values) else []


def _one_of_the_list(phrases: Taken, chests: Taken, *, paired: bool) -> tuple[int | None, Taken]:
    """``34 (38, 42) in, … for the 42``: which of a single list of sizes was knitted, and the phrase that says so.

    ``paired``: whether lengths are told beside the chests, so that a chest told apart is one of the list.
    """
    lists = [phrase for phrase in chests if len(_values(phrase)) > 1]
    others = [phrase for phrase in chests if phrase not in lists]
    if len(lists) != 1 or len(others) > paired:
        return None, []
    values = list(lists[0].value.values)
    if others:  # the 100 cm of 92 (100, 108) cm
        same = others[0].value.unit == lists[0].value.unit and others[0].value.value in values
        return (values.index(others[0].value.value) if same else None), []
    for phrase in phrases:
        place = place_told(phrase.value) if phrase.kind == "size" else None
        if place is not None and 1 <= place <= len(values):
            return place - 1, [phrase]
        if phrase.kind == "num" and phrase.value.values[0] in values and len(phrase.value.values) == 1:
            return values.index(phrase.value.values[0]), [phrase]
    return None, []


def _from_sample(
    sentence: Sentence, chests: Taken, lengths: Taken, amount: Phrase, knitted: int | None
) -> Grading | None:
    """The size the amount is told of, and the others; lengths only where each of them has one.

    ``knitted``: the place of that size, where all stand in one list, or where its name is told.
    """
    flat = [(value, phrase) for phrase in chests for value in _values(phrase)]
    if len(flat) < 2:
        return None
    if knitted is not None and len(chests) < len(flat):
        values = next(_values(phrase) for phrase in chests if len(_values(phrase)) > 1)
        long = _values(lengths[0]) if len(lengths) == 1 else []
        if len(long) != len(values):
            return Grading(values.pop(knitted), tuple(values))
        return Grading(values.pop(knitted), tuple(values), long.pop(knitted), tuple(long))
    first_wanted = min((phrase.first for phrase in chests if _wanted(sentence, phrase)), default=len(sentence.tokens))
    later = {id(p) for p in chests if p.first > first_wanted and not first_wanted < amount.first < p.first}
    sample = min(
        chests if knitted is None else [chests[knitted]],
        key=lambda phrase: (
            len(_values(phrase)) > 1,
            not _of_the_sample(sentence, phrase),
            _wanted(sentence, phrase),
            -_took(sentence, phrase, amount, chests),
            id(phrase) in later,
            sentence.parted(min(phrase.last, amount.last), max(phrase.first, amount.first)),
            phrase.first > amount.first,
            _distance(sentence, phrase, amount),
        ),
    )
    if len(lengths) == len(chests):
        long_of_sample: Phrase | None = lengths[chests.index(sample)]
    else:
        long_of_sample = min(lengths, key=lambda phrase: abs(phrase.first - sample.first), default=None)
    wanted = tuple(value for value, phrase in flat if phrase is not sample)
    long_wanted = tuple(value for phrase in lengths if phrase is not long_of_sample for value in _values(phrase))
    if not long_of_sample or len(long_wanted) != len(wanted):
        return Grading(_values(sample)[0], wanted)
    return Grading(_values(sample)[0], wanted, _values(long_of_sample)[0], long_wanted)


def _took(sentence: Sentence, phrase: Phrase, amount: Phrase, sizes: Taken) -> int:
    """How surely an amount is said of a size: 2 ``the 36 in (1000 yd)``, 1 ``used 1000 yd for the 36 in``, or 0.

    1 as well where nothing but its other measures stand between them: ``chest 36 in, length 22 in, 1000 yd``.
    """
    left, right = min(phrase.last, amount.last), max(phrase.first, amount.first)
    if sentence.parted(left, right) or any(left <= size.first < right for size in sizes):
        return 0
    between = range(left, right)
    if amount.first < phrase.first:
        return int({sentence.lower_at(at) for at in between} <= _FOR_THE and bool(between))
    verbs = {cue.first for cue in sentence.cues if cue.kind in ("used.before", "pattern.verb")}
    said = sentence.kind_at(amount.first - 1) in ("LPAR", "EQ", "COLON") or not verbs.isdisjoint(between)
    words = [at for at in between if at not in _of_measures(sentence) and sentence.kind_at(at) not in ("COMMA", "AND")]
    return 2 if said and len(words) <= _A_CLAUSE else int(not words)


def _of_measures(sentence: Sentence) -> set[int]:
    """The tokens of measures and of the words that say what they are of."""
    spans = [(p.first, p.last) for p in sentence.phrases if p.kind in ("small", "smalls", "dim")]
    spans += [(cue.first, cue.last) for cue in sentence.cues if cue.kind in _MEASURES]
    return {at for first, last in spans for at in range(first, last)}


def _of_the_sample(sentence: Sentence, phrase: Phrase) -> bool:
    """``only the 96 cm sample exists``, ``sample: 96 cm``: whether a size is called that of the sample."""
    near = (phrase.first - 1, phrase.first - 2, phrase.last)
    return any(sentence.lower_at(at) in word_list("samples") for at in near)


_FOR_THE = frozenset({"for", "on", "in", "the", "a", "an", "size", "my", "her"})
_A_CLAUSE = 6
"""How many words may stand between a size and what it took."""


def _wanted(sentence: Sentence, phrase: Phrase) -> bool:
    """Whether a size is said to be wanted: ``need 108 cm``, ``what would the 42 in take``, ``the 44 is what I want``.

    Not where it is the other one: ``how much do I need if the 36 in took 1000 yd``, ``instead of the 36 in``.
    """
    lead = range(max(0, phrase.first - 3), phrase.first)
    after = [sentence.lower_at(at) for at in range(phrase.last, phrase.last + _A_CLAUSE)]
    if "what" in after and {"want", "wanted", "need"} & set(after[after.index("what") :]):
        return True
    ends = [at for at in lead if sentence.lower_at(at) in ("if", "of") or sentence.kind_at(at) == "COLON"]
    lead = range(ends[-1] + 1, phrase.first) if ends else lead
    if sentence.kind_at(phrase.first - 1) == "TO" and "from" in (
        sentence.lower_at(at - 1) for at in (p.first for p in sentence.phrases) if at < phrase.first
    ):
        return True  # from 38" to 42"
    asked = (cue for cue in sentence.cues if cue.kind == "ask.how_many")
    if any(0 < phrase.first - cue.last <= 2 and sentence.kind_at(cue.last) == "FOR" for cue in asked):
        return True  # how much for a 44 in chest
    return any(
        sentence.lower_at(at) in word_list("wanting_a_size") and not sentence.parted(at, phrase.first) for at in lead
    )


def _asked(sentence: Sentence, phrases: Taken) -> bool:
    """Whether other sizes are asked for."""
    said = sentence.said("ask.grade", "ask.per_size") or _resized(sentence, phrases)
    took = _one_took(sentence, phrases) or _one_listed_took(sentence, phrases) or _two_chests(sentence, phrases)
    return said or _garment_sizes(phrases) or took or _sizes_alone(sentence, phrases)


def _sizes_alone(sentence: Sentence, phrases: Taken) -> bool:
    """``my 96 cm chest jumper took 8 balls. What about 104 and 112 cm?``: a last sentence of sizes and nothing else."""
    smalls = [phrase for phrase in phrases if phrase.kind in ("small", "smalls")]
    if len(smalls) < 2 or not sentence.said("measure.chest") or not sentence.text.rstrip().endswith("?"):
        return False
    begin = max((at for at in range(smalls[-1].first) if sentence.kind_at(at) == "STOP"), default=0)
    told = {at for phrase in smalls for at in range(phrase.first, phrase.last)}
    told |= {at for cue in sentence.cues if cue.kind in _SAYS_WHICH for at in range(cue.first, cue.last)}
    asked = [at for at in range(begin, len(sentence.tokens)) if at not in told]
    before = [phrase for phrase in phrases if phrase.last <= begin]
    chests = [phrase for phrase in smalls if phrase in before]
    sample = bool(chests) and any(phrase.kind in _AMOUNTS for phrase in before)
    sample = sample and len(chests) <= len(smalls) - len(chests)  # 96 cm chest, 58 cm long: which is 60 cm?
    return sample and all(sentence.kind_at(at) in _BESIDE_SIZES for at in asked)


_SAYS_WHICH = ("follow.again", *_MEASURES)
_BESIDE_SIZES = frozenset({"AND", "COMMA", "THE", "FOR", "ARTICLE", "OR", "STOP", "LPAR", "RPAR"})


def _two_chests(sentence: Sentence, phrases: Taken) -> bool:
    """``38 inch chest ate 1050 yds. How many skeins for a 42 inch chest?``: not what a body and a garment measure."""
    cues = [cue for cue in sentence.cues if cue.kind == "measure.chest"]
    beside = {at for cue in cues for at in (cue.first, cue.first - 1, cue.last, cue.last + 1)}
    long = {cue.first for cue in sentence.cues if cue.kind in ("measure.height", "measure.length")}
    measured = [p for p in phrases if p.kind == "dim" or (p.kind == "small" and p.last not in long)]
    chests = [phrase for phrase in measured if not beside.isdisjoint((phrase.first, phrase.last))]
    one_size = not word_list("of_one_size").isdisjoint(token.lower for token in sentence.tokens)
    listed = any(phrase.kind in ("smalls", "sizes", "sizenames") for phrase in phrases)
    near = {sentence.lower_at(at) for chest in chests for at in range(chest.first - 3, chest.last + 2)}
    hers = not near.isdisjoint(word_list("of_a_body"))
    headed = (p for p in phrases if p.kind in _AMOUNTS and sentence.kind_at(p.first - 1) == "COLON")
    took = sentence.said("used.before") or any(headed)
    return took and len({_chest_of(p) for p in chests}) == 2 and len(cues) > 1 and not (one_size or listed or hers)


def _chest_of(phrase: Phrase) -> Quantity:
    """The chest of ``100 cm`` and of ``100 x 60 cm``."""
    told: Quantity = phrase.value[0] if phrase.kind == "dim" else phrase.value
    return told


def _one_listed_took(sentence: Sentence, phrases: Taken) -> bool:
    """``Chest 92 (100, 108) cm. Sample in the 100 took 1150 m``: one of the chests of a list, and what it took."""
    chests = {value.value for phrase in phrases if phrase.kind == "smalls" for value in _values(phrase)}
    took = {cue.first for cue in sentence.cues if cue.kind == "used.before"}
    named = (p for p in phrases if p.kind == "num" and p.last in took and sentence.kind_at(p.first - 1) == "THE")
    return sentence.said("measure.chest") and any(phrase.value.values[0] in chests for phrase in named)


def _resized(sentence: Sentence, phrases: Taken) -> bool:
    """``the scarf is 60" long but I want 72"``, ``blanket 40x50 inch …; I want 50x60``: another size wanted."""
    sizes = [phrase for phrase in phrases if phrase.kind in ("small", "dim") or _opens_two_sides(sentence, phrase)]
    if len(sizes) != 2 or sentence.said("ask.swatch", "ask.enough"):
        return False
    lead = [sentence.lower_at(at) for at in range(max(sizes[0].last, sizes[1].first - _A_LEAD), sizes[1].first)]
    mine = {"i", "i'd", "mine", "we"} & set(lead)
    return bool(mine and set(lead) & word_list("wanting_a_size")) or lead[-2:] == ["make", "it"]


def _opens_two_sides(sentence: Sentence, phrase: Phrase) -> bool:
    """Whether a number without a unit is the first of two sides: the 50 of ``I want 50x60``."""
    return phrase.kind == "num" and sentence.kind_at(phrase.last) in ("X", "BY")


_A_LEAD = 4


def _one_took(sentence: Sentence, phrases: Taken) -> bool:
    """``the 40" took 520 g. 48"?``: a size that took so much, and another that ends the question."""
    smalls = [phrase for phrase in phrases if phrase.kind in ("small", "smalls")]
    took = {cue.first for cue in sentence.cues if cue.kind == "used.before"}
    named = [p for p in smalls if p.last in took and sentence.kind_at(p.first - 1) == "THE"]
    last = smalls[-1] if len(smalls) > 1 else None
    return bool(named and last) and last is not named[0] and sentence.text.rstrip().endswith("?")


def _flat(sentence: Sentence) -> bool:
    """Whether a flat piece is spoken of, one with a width or a diameter, or a shawl, and no chest."""
    sides = {"width", "diameter"}
    flat = (shape_cue(shape) for shape, taken in load("shapes.toml").items() if sides & set(taken["in_order"]))
    shawl = any(token.lower in word_list("shawls") for token in sentence.tokens)
    return (shawl or sentence.said(*flat)) and not sentence.said("measure.chest", "shape.sweater")


def _all_round(sentence: Sentence, smalls: Taken) -> tuple[Taken, Taken] | None:
    """``a cowl 60 cm round and 20 cm high``: how far round and how high two pieces are, where both are told of each."""
    shapes = (shape_cue(shape) for shape, taken in load("shapes.toml").items() if "circumference" in taken["in_order"])
    if not sentence.said(*shapes) or sentence.said("measure.chest", "shape.sweater"):
        return None
    ends = {
        kind: {cue.first for cue in sentence.cues if cue.kind == kind} for kind in ("measure.circumference", *_MEASURES)
    }
    rounds = [phrase for phrase in smalls if phrase.last in ends["measure.circumference"]]
    heights = [phrase for phrase in smalls if phrase.last in ends["measure.height"] | ends["measure.length"]]
    return (rounds, heights) if len(rounds) == len(heights) > 1 and len(smalls) == 2 * len(rounds) else None


def _sides(sentence: Sentence, smalls: Taken) -> tuple[Taken, Taken]:
    """Widths and lengths of flat pieces, or the one side that differs: ``20 cm wide, 150 cm long, … 200 cm long``."""
    wide = [cue for cue in sentence.cues if cue.kind == "measure.width"]
    widths = [p for p in smalls if any(p.last == cue.first or p.first == cue.last for cue in wide)]
    lengths = [phrase for phrase in smalls if phrase not in widths]
    if len(widths) > 1 and len(lengths) > 1:
        return widths, lengths
    one_sided = (shape_cue(shape) for shape, taken in load("shapes.toml").items() if len(taken["in_order"]) == 1)
    if len(widths) == len(lengths) == 1 and sentence.said(*one_sided):
        return smalls, []  # 100 cm across, and a 120 cm one
    return (widths, []) if len(widths) > 1 else (lengths, [])


def _led_by_a_measure(sentence: Sentence, phrases: Taken, unit: str) -> Taken:
    """``chest 92 length 58``, ``a 42 chest``: numbers beside the word for what they measure, in the sample's unit."""
    ends = {cue.last for cue in sentence.cues if cue.kind in _MEASURES}
    starts = {cue.first for cue in sentence.cues if cue.kind in _MEASURES}
    found = [phrase for phrase in phrases if phrase.kind == "num" and (phrase.first in ends or phrase.last in starts)]
    found += [one for one, two in pairwise(phrases) if one.kind == "num" and _of_its_measure(sentence, one, two)]
    sized = [p for p in phrases if p.kind == "size" and p.value.isdigit() and p.last in starts]
    for phrase in found:
        phrase.kind, phrase.value = "smalls", replace(phrase.value, unit=unit)
    for phrase in sized:
        phrase.kind, phrase.value = "small", Quantity(float(phrase.value), unit)
    return [*found, *sized]


def _of_its_measure(sentence: Sentence, number: Phrase, measured: Phrase) -> bool:
    """``a 96 and a 104 cm chest``: a number in the unit of the measure it is joined to."""
    between = [sentence.kind_at(at) for at in range(number.last, measured.first)]
    return measured.kind == "small" and between in (["AND", "ARTICLE"], ["OR", "ARTICLE"], ["AND", "THE"])


def _other_chests(sentence: Sentence, phrases: Taken, sample: Quantity) -> Taken:
    """``the 38 in took 1100 yd; what will the 42 and 46 take``: sizes told in the sample's unit without saying so."""
    found: Taken = []
    for phrase in phrases:
        if phrase.kind == "sizes" and sentence.said("ask.grade") and all(_is_number(name) for name in phrase.value):
            phrase.kind, phrase.value = "smalls", Series(tuple(float(name) for name in phrase.value), sample.unit)
            found.append(phrase)
            continue
        sized = phrase.kind in ("num", "nums") and all(
            sample.value < 2 * value < 4 * sample.value for value in phrase.value.values
        )
        led = sentence.kind_at(phrase.first - 1) in ("THE", "AND", "COMMA", "SIZE", "FOR", "ARTICLE")
        if sized and (led or sentence.lower_at(phrase.first - 1) in word_list("wanting_a_size")):
            phrase.kind, phrase.value = "smalls", replace(phrase.value, unit=sample.unit)
            found.append(phrase)
    return found


def _is_number(name: str) -> bool:
    return name.replace(".", "", 1).isdecimal()


def _garment_sizes(phrases: Taken) -> bool:
    """Two or more measures of a garment's size, and no yarn to buy."""
    sizes = [value for phrase in phrases if phrase.kind in ("small", "smalls") for value in _values(phrase)]
    big = [value for value in sizes if value.to("cm").value >= 50]
    return len(big) >= 2 and not any(phrase.kind in ("weight", "putup", "name", "needle", "dim") for phrase in phrases)


def _values(phrase: Phrase) -> list[Quantity]:
    if phrase.kind == "small":
        return [phrase.value]
    return list(phrase.value.quantities())


def _distance(sentence: Sentence, one: Phrase, two: Phrase) -> float:
    left, right = min(one.last, two.last), max(one.first, two.first)
    return right - left + 8 * sentence.commas_between(left, right) + 60 * sentence.stops_between(left, right)


def _is_length(sentence: Sentence, phrase: Phrase, first: Phrase) -> bool:
    """Whether a measure is the garment's length and not its chest: by the nearest word, on the side of the first."""
    if phrase.flags & {"length", "chest"}:
        return "length" in phrase.flags
    near = [cue for cue in sentence.cues if cue.kind in _MEASURES and abs(cue.first - phrase.first) < 9]
    near = [cue for cue in near if not sentence.parted(min(cue.first, phrase.first), max(cue.first, phrase.first))]
    if not near:
        return False
    leads = any(cue.last == first.first for cue in sentence.cues if cue.kind in _MEASURES)
    behind, ahead = (0.0, 0.5) if leads else (0.5, 0.0)
    closest = min(
        near,
        key=lambda cue: (
            cue.first - phrase.last + ahead if cue.first >= phrase.last else phrase.first - cue.last + behind
        ),
    )
    return closest.kind != "measure.chest"
