"""Help: what can be asked, how it is written, and where the values come from."""

from __future__ import annotations

from yarnchat.abilities import abilities
from yarnchat.abilities.base import Ability, Context, Draft, Frame, Talk
from yarnchat.abilities.topics import TOPICS, Topic
from yarnchat.queries import Query
from yarnchat.refusals import unclear


def answer(query: Query, _context: Context) -> Draft:
    """The topic asked for, or what each ability is for with a question to try."""
    asked = _plain(query.topic or (query.want if query.want in ("why", "sure") else None) or "")
    if not asked:
        return _everything()
    ability = abilities().get(asked)
    if ability:
        return Draft(ability.summary, working=[f"try: {example}" for example in ability.examples])
    topic = next((topic for topic in TOPICS if asked in topic.names), None)
    if topic:
        return Draft(topic.headline, working=list(topic.lines))
    raise unclear(f"There is no help about {asked!r}. Topics: {', '.join(_topics())}. Type for example: help sizes.")


def _of_nothing_else(query: Query, _cues: frozenset[str]) -> bool:
    """Whether nothing is said beside it: ``can you help, what about DK?`` is of the question before."""
    return query.slots() <= {"topic"}


def _plain(topic: str) -> str:
    return " ".join(topic.casefold().strip(" ?!.").split())


def _first(topic: Topic) -> str:
    return topic.names[0]


def _topics() -> list[str]:
    return [*abilities(), *map(_first, TOPICS)]


def _everything() -> Draft:
    """A line with an example for each ability but help itself, in the order of their names, and the other topics."""
    working = [f"{ability.name}: {ability.examples[0]}" for ability in abilities().values() if ability is not ABILITY]
    return Draft(
        "Ask how much yarn to buy when you swap the yarn of a pattern, or anything like the questions below.",
        working=[*working, f"more: help and one of those words, or one of {', '.join(map(_first, TOPICS))}"],
    )


ABILITY = Ability(
    name="help",
    summary="Say what can be asked, how to write it, and where the values come from.",
    examples=("what can I ask?", "help sizes", "where do your numbers come from?"),
    frames=(
        Frame(29, cues=("help",), without=("need", "stash")),
        Frame(29, cues=("help_please",), without=("need", "stash", "yarn", "pattern.gauge", "pattern.put_up")),
        Frame(10, cues=("why", "sure")),
        Frame(96, slots=("topic",)),
    ),
    uses=frozenset({"topic", "want"}),
    answer=answer,
    talk=Talk(off_thread=True, alone=_of_nothing_else, heeds=frozenset()),
)
