"""Ratios: how much of one weight replaces another, by the standard's classes and by her own swatches."""

from __future__ import annotations

from itertools import permutations

from yarnchat.abilities import sanity
from yarnchat.abilities.base import Ability, Context, Draft, Frame, Talk
from yarnchat.abilities.conversion_ratio import conversion
from yarnchat.abilities.known_densities import called, class_density, measure, offsets, swatches_of
from yarnchat.abilities.remembered import Memory, memory
from yarnchat.answers import Ratio, RatioRow
from yarnchat.fabric.densities import beside_swatch, density_of_class
from yarnchat.fabric.ratios import SAME_GAUGE, ratio
from yarnchat.knowledge.classes import classes, name_caution, pair_caution, weight_class
from yarnchat.quantity import to_figures
from yarnchat.queries import Query, Yarn
from yarnchat.refusals import unclear

WIDE = "Each range is about 95 % (k = 2): knit, wash and block a swatch to narrow it."
HERS = "Your own ratios, from your swatches, stand below the default of the same pair."


def answer(query: Query, context: Context) -> Draft:
    """The table of ratios, a row of it, or one pair; hers below the default once two classes are swatched."""
    sanity.sane(query)
    known = memory(context)
    said = [known.complete(yarn) for yarn in query.both_sides if yarn != Yarn()]
    if len(said) > 2:
        raise unclear("Which two yarns? Type for example: ratio from DK to worsted.")
    if len(said) == 2 and (query.same_gauge or any(yarn.gauge for yarn in said)):
        return _of_gauges(said[0], said[1], query.same_gauge, known)
    keys = [yarn.weight_class for yarn in said if yarn.weight_class]
    if len(keys) < len(said):
        raise unclear("Which weight is it? Type for example: ratio from DK to worsted.")
    draft = _of_classes(keys, known)
    words = [yarn.class_as_said for yarn in said if yarn.class_as_said]
    cautions = [name_caution(word) for word in words]
    cautions += [pair_caution(words[0], words[1])] if len(words) == 2 else []
    cautions += [weight_class(key).caution for key in keys if len(set(keys)) == len(keys)]
    draft.cautions += [text for text in cautions if text]
    if known.trouble:
        draft.cautions.append(known.trouble)
    return draft


def rows_of(source: str, target: str, known: Memory) -> list[RatioRow]:
    """The default row of a pair of classes and, where her swatches say something of it, hers below."""
    rows = [_row(source, target, _default(source, target))]
    hers = _hers(source, target, known)
    if hers:
        rows.append(_row(source, target, hers, _behind(source, target, known)))
    return rows


def _behind(source: str, target: str, known: Memory) -> list[str]:
    """The swatches a ratio of hers rests on: those of both classes, or where one was never swatched, all of hers."""
    sides = [[row.name for row in swatches_of(key, known)] for key in (source, target)]
    if all(sides):
        return [name for names in sides for name in names]
    return [
        row.name
        for row in known.swatches
        if known.complete(row.swatch.yarn).weight_class and measure(row.swatch, known)
    ]


def _default(source: str, target: str) -> Ratio:
    if source == target:
        return SAME_GAUGE
    return ratio(density_of_class(source), density_of_class(target))


def _hers(source: str, target: str, known: Memory) -> Ratio | None:
    """Her ratio, from at least two classes she has swatched of which one is in the pair."""
    shifts = offsets(known)
    theirs, hers = class_density(source, known), class_density(target, known)
    if source == target or len(shifts) < 2 or not theirs or not hers:
        return None
    if theirs.basis == "swatch" and hers.basis == "default":
        theirs, hers = beside_swatch(theirs, shifts, hers)
    elif theirs.basis == "default" and hers.basis == "swatch":
        hers, theirs = beside_swatch(hers, shifts, theirs)
    found = ratio(theirs, hers)
    return found if found.basis == "swatch" else None


def _row(source: str, target: str, found: Ratio, swatches: list[str] | None = None) -> RatioRow:
    return RatioRow(
        from_=weight_class(source).label,
        to=weight_class(target).label,
        value=found.value,
        low=found.low,
        high=found.high,
        basis=found.basis,
        swatches=swatches or [],
    )


def _of_classes(keys: list[str], known: Memory) -> Draft:
    """The rows of the ratios asked: of two classes, of one against all others, or of every pair."""
    every = [row.key for row in classes()]
    if len(keys) == 2:
        pairs = [(keys[0], keys[1])]
    elif keys:
        pairs = [(keys[0], key) for key in every if key != keys[0]]
    else:
        pairs = list(permutations(every, 2))
    rows = [row for source, target in pairs for row in rows_of(source, target, known)]
    draft = Draft(cautions=[WIDE], figures={"rows": rows})
    if any(row.swatches for row in rows):
        draft.cautions.append(HERS)
    if len(keys) == 2:
        best = rows[-1]
        draft.figures["ratio"] = Ratio(value=best.value, low=best.low, high=best.high, basis=best.basis)
        draft.headline = _said(best)
        draft.working = [_step(row) for row in rows]
        draft.working[:0] = _sources(keys)
    else:
        whole = f"from {weight_class(keys[0]).label} to every other weight" if keys else "between all weights"
        draft.headline = f"Ratios of length {whole}: multiply the pattern's length by the ratio."
        draft.working = ["ratio: stitches to 4 in of the new weight / of the pattern's, at the middle of each class"]
    return draft


def _said(row: RatioRow) -> str:
    sure = "" if row.basis == "same gauge" else f" (range {row.low:.2f}–{row.high:.2f})"
    return f"1 yd of {row.from_} becomes {to_figures(row.value)} yd of {row.to}{sure}."


def _step(row: RatioRow) -> str:
    """One row as a line, with what it rests on."""
    source = f"your swatches ({', '.join(row.swatches)})" if row.swatches else "the classes' middle gauges"
    return f"{row.from_} to {row.to}: {to_figures(row.value)} ({row.low:.2f}–{row.high:.2f}), from {source}"


def _sources(keys: list[str]) -> list[str]:
    return [density_of_class(key).source for key in dict.fromkeys(keys)]


def _of_gauges(pattern: Yarn, yarn: Yarn, same_gauge: bool, known: Memory) -> Draft:
    """The one ratio between two yarns of which a gauge was given."""
    found = conversion(pattern, yarn, same_gauge, known)
    names = [str(side.gauge) if side.gauge else called(side) or "yarn" for side in (pattern, yarn)]
    value = found.ratio
    row = RatioRow(from_=names[0], to=names[1], value=value.value, low=value.low, high=value.high, basis=value.basis)
    return Draft(
        _said(row),
        {"rows": [row], "ratio": value},
        working=list(found.working),
        cautions=[WIDE, *found.cautions],
    )


ABILITY = Ability(
    name="ratios",
    summary="Show how much of one weight replaces another, by the standard and by your own swatches.",
    examples=(
        "what's the ratio from DK to worsted?",
        "show me the table of ratios",
        "how much more fingering than worsted does a project need?",
    ),
    frames=(
        Frame(
            66,
            slots=("pattern.weight_class", "yarn.weight_class"),
            cues=("ratios", "how_many"),
            without=("need", "stash", "piece", "yarn.put_up", "used", "strands"),
        ),
        Frame(39, cues=("ratios",), without=("need", "stash")),
        Frame(16, slots=("both_gauges",), without=("need", "stash", "used", "piece", "swatch", "note")),
        Frame(25, cues=("ratios",)),
    ),
    uses=frozenset(
        {
            *("pattern.name", "pattern.weight_class", "pattern.gauge"),
            *("yarn.name", "yarn.weight_class", "yarn.gauge", "same_gauge", "want"),
        }
    ),
    answer=answer,
    talk=Talk(
        off_thread=True,
        alone=lambda _, cues: "ask.ratios" in cues,
        carries="ask.ratios",
        counts=False,
        starts=True,
        anew=True,
    ),
)
