"""Substitute: how much of another yarn a pattern takes, and what to buy of it."""

from __future__ import annotations

from yarnchat.abilities import buying, plans, sanity
from yarnchat.abilities.base import Ability, Context, Draft, Frame
from yarnchat.abilities.conversion_ratio import ask_pattern
from yarnchat.abilities.enough import enough_of
from yarnchat.abilities.needs import needs
from yarnchat.abilities.remembered import memory
from yarnchat.queries import Query, Yarn
from yarnchat.refusals import unclear

EITHER_SIDE = "pattern.weight_class|pattern.gauge|pattern.put_up|pattern.strands|pattern.name"
NEW_YARN = "yarn.weight_class|yarn.gauge|yarn.strands|yarn.name|same_gauge"


def answer(query: Query, context: Context) -> Draft:
    """The pattern's length in the yarn wanted, whole skeins and a spare of it, its mass and its cost."""
    sanity.sane(query)
    if len(query.yarns) > 1:
        raise unclear(
            "Which yarn is it to be? Several were named. "
            "Type for example: compare DK at 230 yd with sport at 325 yd for 1200 yd of worsted."
        )
    yarn = query.yarns[0] if query.yarns else _in_the_stash(query)
    need = needs(query)
    known = memory(context)
    _ask_for_pattern(known.complete(query.pattern), known.complete(yarn), query.same_gauge)
    made = plans.plan(query, yarn, need, known)
    buying.ask_for_put_up(made.yarn, query.want, made.unit)
    draft = Draft()
    plans.fill(draft, made, with_ratio=True)
    if query.want == "length":
        plans.add_up(draft, made)
    if query.stash and made.single:
        more = enough_of(query, context).headline
        draft.headline = f"{draft.headline} {more}"
    return draft


def _in_the_stash(query: Query) -> Yarn:
    """The one yarn she has, where none was named as wanted."""
    if query.stash:
        return query.stash[0].yarn
    raise unclear(
        "Which yarn would you knit it in? "
        "Type for example: in DK, 230 yd a skein, or: mine has 20 sts to 4 in and 210 yd a skein."
    )


def _ask_for_pattern(pattern: Yarn, yarn: Yarn, same_gauge: bool) -> None:
    """A Refusal where the new yarn's weight is known and the pattern's is not."""
    if same_gauge or pattern.weight_class or pattern.gauge or (yarn.strands or pattern.strands or 1) > 1:
        return
    if yarn.weight_class or yarn.gauge:
        raise unclear(ask_pattern(pattern))


ABILITY = Ability(
    name="substitute",
    summary="Turn a pattern's yarn into another: length, whole skeins, a spare, mass and cost.",
    examples=(
        "1200 yd worsted pattern in 420 yd/100 g fingering?",
        "swap 900 m of DK for aran, 50 g/80 m balls at £4.50",
        "6 (7, 8) skeins of sport, 300 yd each, in DK at 230 yd a skein",
        "pattern 1,050 yd at 18 sts to 4 in; mine knits to 20 sts and has 210 yd a skein",
        "hold fingering double for a 900 m aran pattern, same gauge, 400 m a skein",
    ),
    frames=(
        Frame(50, slots=("need", "yarn", EITHER_SIDE, NEW_YARN)),
        Frame(50, slots=("need.count", "yarn.put_up", "pattern.put_up")),
        Frame(50, slots=("need", "yarn.strands")),
        Frame(50, slots=("need", "yarn.put_up", "pattern.weight_class|pattern.gauge"), cues=("yarn.use", "yarn.have")),
    ),
    uses=frozenset(
        {
            *(f"pattern.{slot}" for slot in ("name", "weight_class", "put_up", "gauge", "strands", "needle")),
            *(f"yarn.{slot}" for slot in ("name", "weight_class", "put_up", "gauge", "strands", "needle", "price")),
            *("need", "sizes", "pick", "stash", "same_gauge", "spares", "extra", "want"),
        }
    ),
    answer=answer,
)
