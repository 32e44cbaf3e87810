"""Identify: the weight classes a yarn may be, from its gauge, length per mass, wraps per inch and needle."""

from __future__ import annotations

import re
from collections.abc import Iterable

from yarnchat.abilities import agreement
from yarnchat.abilities.base import EVERYTHING, Ability, Context, Draft, Frame, Talk
from yarnchat.abilities.clues import clues_of, fitting, known, metres_per_100_g, stitches_to_4_in, whole_question
from yarnchat.abilities.sanity import sane
from yarnchat.answers import Amount
from yarnchat.fabric import grist, loops, strands
from yarnchat.knowledge.classes import WeightClass, name_caution, weight_class
from yarnchat.quantity import number
from yarnchat.queries import Gauge, Query, Yarn
from yarnchat.refusals import unclear

PER_4_IN = "sts to 4 in"
SIDES = ("yarn", "pattern", "stash")
CLUES = ("gauge", "put_up", "wpi", "needle")
FEEL = {"open": "loose and see-through", "dense": "firm and stiff"}


def answer(query: Query, _context: Context) -> Draft:
    """The classes that fit every clue; where no class does, those that fit most, with a caution."""
    sane(query)
    yarn = known(query)
    _one_needle(yarn)
    clues = clues_of(yarn)
    if (yarn.strands or 1) > 1 and not (yarn.gauge or yarn.wpi or yarn.needle):
        raise unclear(
            f"One strand, or {yarn.strands} held together? "
            "Type for example: two strands of 400 m/100 g together: what do they make?"
        )
    if not clues:
        return _class_named(query)
    keys, agreed = fitting(clues)
    labels = [weight_class(key).label for key in keys]
    nearest = weight_class(keys[0])
    draft = Draft(f"{_headline(labels, agreed)}, by {_listed(clue.said for clue in clues)}.")
    draft.figures["weight_class"] = labels
    draft.figures["gauge"] = _gauge(yarn.gauge, nearest)
    draft.working = [
        f"{clue.said}: {candidate.reason}"
        for clue in clues
        for candidate in clue.candidates
        if candidate.weight_class.key in keys
    ][:6]
    if not yarn.needle:
        needles = f"needles for {nearest.label}: {_needles(nearest)}"
        draft.headline += f" Usual {needles}."
        draft.working.append(f"usual {needles} ({nearest.needle_source})")
    if not agreed:
        each = "; ".join(f"{clue.said}: {_listed(_labels(clue.keys), 'or')}" for clue in clues)
        draft.cautions.append(f"The clues do not agree ({each}): check them, the gauge you get counts most.")
    elif len(keys) > 1:
        draft.cautions.append("The published ranges overlap here: knit a swatch to choose between them.")
    if "lace" in keys:
        draft.cautions.append(weight_class("lace").caution or "")
    _tightness(yarn, draft)
    return draft


def _one_needle(yarn: Yarn) -> None:
    """A Refusal where a needle is told in two systems that no table has as one."""
    report = agreement.Report()
    if yarn.needle and yarn.other_needle:
        agreement.same_needle(yarn.needle, yarn.other_needle, report)
    for finding in report.findings:
        raise unclear(f"{finding.text} Which is it?", str(yarn.needle), str(yarn.other_needle))


def _headline(labels: list[str], agreed: bool) -> str:
    if len(labels) == 1:
        return f"{labels[0]} weight" if agreed else f"Probably {labels[0]} weight"
    return f"{'both ' if len(labels) == 2 and agreed else ''}{_listed(labels, 'and' if agreed else 'or')}"


def _listed(words: Iterable[str], last: str = "and") -> str:
    """Words in a row: a, b and c."""
    *others, final = words
    return f"{', '.join(others)} {last} {final}" if others else final


def _labels(keys: list[str]) -> list[str]:
    return [weight_class(key).label for key in keys]


def _gauge(given: Gauge | None, named: WeightClass) -> Amount:
    """The gauge given, or the class's with its range."""
    if given:
        return Amount(value=stitches_to_4_in(given), unit=PER_4_IN)
    return Amount(value=named.mid_gauge, unit=PER_4_IN, low=named.gauge_low, high=named.gauge_high)


def _tightness(yarn: Yarn, draft: Draft) -> None:
    """How dense the fabric is, where gauge and grist are both known."""
    metres = metres_per_100_g(yarn.put_up)
    if not yarn.gauge or not metres:
        return
    over = yarn.gauge.over.to("cm").value
    rows = yarn.gauge.rows / over if yarn.gauge.rows else None
    loop = loops.loop_length(loops.stitch_density(yarn.gauge.stitches / over, rows))
    tex = grist.tex_of(metres, 100)
    factor = strands.tightness(tex, loop)
    word = strands.tightness_word(factor)
    draft.figures["tightness"] = word
    low, high = strands.USUAL_TIGHTNESS
    draft.working.append(
        f"tightness √{number(tex)} tex / {number(loop)} cm a stitch = {factor:.2f}: {word} "
        f"(hand-knits {low:g} to {high:g}, common practice)"
    )
    if word != "usual":
        draft.cautions.append(f"At that gauge the fabric will be {word}: {FEEL[word]}.")


def _needles(found: WeightClass) -> str:
    """The needles the standard gives for a class."""
    return f"{found.needle} mm, US {found.needle_us}"


def _squeezed(name: str) -> str:
    """A name without the marks that other spellings of it differ by."""
    return re.sub(r"[\W_]", "", name.casefold())


def _class_named(query: Query) -> Draft:
    """What the standard says of a class that was only named."""
    yarns = [*query.both_sides, *(held.yarn for held in query.stash)]
    named = [yarn for yarn in yarns if yarn.weight_class]
    if not named:
        raise unclear(
            "What is known of the yarn? A gauge, wraps per inch, length per mass or needle would do. "
            "Type for example: what weight is 22 sts to 4 in?"
        )
    classes = list({yarn.weight_class: yarn for yarn in reversed(named)}.values())[::-1]
    return _of_a_class(classes[0]) if len(classes) == 1 else _side_by_side(classes)


def _side_by_side(classes: list[Yarn]) -> Draft:
    """``the difference between DK and worsted``: what the standard says of each."""
    each = [_of_a_class(yarn) for yarn in classes]
    draft = Draft(" ".join(one.headline for one in each))
    draft.figures["weight_class"] = [weight_class(yarn.weight_class or "").label for yarn in classes]
    draft.working = [
        f"{yarn.class_as_said}: {step}" for yarn, one in zip(classes, each, strict=True) for step in one.working
    ]
    draft.cautions = list(dict.fromkeys(caution for one in each for caution in one.cautions))
    return draft


def _of_a_class(yarn: Yarn) -> Draft:
    """What the standard says of the class a yarn is called by."""
    found = weight_class(yarn.weight_class or "")
    said = yarn.class_as_said or found.label
    told = f"{found.gauge} {PER_4_IN} on needles of {_needles(found)}"
    draft = Draft(f"{said} is class {found.number} of the standard, {found.label}: {told}.")
    draft.figures["weight_class"] = [found.label]
    draft.figures["gauge"] = _gauge(None, found)
    spelled = {_squeezed(name): name for name in reversed(found.names)}
    own = (_squeezed(said), _squeezed(found.label))
    others = [name for plain, name in reversed(spelled.items()) if plain not in own]
    draft.working = [
        *([f"also called {', '.join(others)}"] if others else []),
        f"gauge {found.gauge} {PER_4_IN} ({found.gauge_source})",
        f"needle {_needles(found)} ({found.needle_source})",
        *(f"{span} wraps per inch ({span.source})" for span in found.wpi),
        *(f"{span} m/100 g ({span.source})" for span in found.grist),
    ]
    draft.cautions = [caution for caution in (found.caution, name_caution(said)) if caution]
    return draft


ABILITY = Ability(
    name="identify",
    summary="Say what weight class a yarn is, from its gauge, length per mass, wraps per inch or needle.",
    examples=(
        "what weight is 22 sts to 4 in?",
        "no label: 11 wraps per inch, 200 m per 100 g, what is it?",
        "which weight goes with US 10 needles?",
        "what gauge is aran?",
    ),
    frames=(
        Frame(35, slots=("|".join(f"{side}.{clue}" for side in SIDES for clue in CLUES),), cues=("identify",)),
        Frame(46, slots=("measured",), cues=("identify",), without=("convert", "need", "stash")),
        Frame(35, slots=("measured",), cues=("identify",)),
        Frame(
            34,
            slots=("yarn.weight_class|pattern.weight_class|stash.weight_class",),
            cues=("identify",),
            without=("yarn.strands", "pattern.strands"),
        ),
        Frame(33, slots=("yarn.wpi|pattern.wpi|stash.wpi",), without=("need",)),
        Frame(
            14,
            slots=("yarn.gauge|pattern.gauge|yarn.needle|pattern.needle",),
            without=("need", "convert", "both_gauges", "piece", "how_many", "pattern.in"),
        ),
        Frame(
            13,
            slots=("yarn.weight_class|pattern.weight_class",),
            cues=("convert",),
            without=("need", "stash", "both_weights", "piece"),
        ),
        Frame(12, cues=("identify",)),
    ),
    uses=frozenset({"yarn", "pattern", "stash", "used", "swatch", "measured"}),
    answer=answer,
    talk=Talk(
        alone=whole_question,
        carries="ask.identify",
        of_one_yarn=True,
        of_other_yarns=True,
        heeds=EVERYTHING - {"doubt"},
        counts=False,
    ),
)
