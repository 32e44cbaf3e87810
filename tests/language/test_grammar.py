"""The language's data held together: no silent conflicts, no cue nobody wrote down, no spelling of two kinds."""

from __future__ import annotations

import ast
from collections import defaultdict
from collections.abc import Iterator
from dataclasses import fields, replace
from itertools import combinations
from pathlib import Path

import pytest
from lark import Lark, Token
from lark.exceptions import GrammarError
from lark.lexer import Lexer

import yarnchat.language
from yarnchat.abilities import abilities
from yarnchat.abilities.base import Ability, Frame
from yarnchat.choosing import condition
from yarnchat.knowledge.classes import ambiguous_names, classes
from yarnchat.language.lexicon import grammar_file, load, split_words
from yarnchat.language.phrases import STARTS
from yarnchat.language.reader import read
from yarnchat.language.sentence import lay_out
from yarnchat.quantity import Quantity
from yarnchat.queries import (
    Colour,
    Gauge,
    Grading,
    Holding,
    Measured,
    Needle,
    Note,
    Piece,
    Price,
    Progress,
    PutUp,
    Query,
    Series,
    Swatch,
    Twice,
    Yarn,
)

CUES = {f"{section}.{name}" for section, rows in load("cues.toml").items() for name in rows}
FRAMES = [(ability, frame) for ability in abilities().values() for frame in ability.frames]


class _NoLexer(Lexer):
    """The grammar is only analysed: there is nothing to scan."""

    def __init__(self, lexer_conf: object) -> None:
        pass

    def lex(self, lexer_state: object, parser_state: object) -> Iterator[Token]:
        del lexer_state, parser_state
        return iter(())


def analysed(grammar: str, start: str) -> Lark:
    """The grammar built strictly: GrammarError where lark would settle a shift/reduce conflict by itself."""
    return Lark(grammar, parser="lalr", lexer=_NoLexer, start=start, strict=True)


@pytest.mark.parametrize("start", STARTS)
def test_no_shift_reduce_conflict(start: str) -> None:
    analysed(grammar_file("phrases.lark").read_text(encoding="utf-8"), start)


def test_a_conflict_would_be_seen() -> None:
    dangling = "start: start PLUS start | NUM\n%declare PLUS NUM"
    with pytest.raises(GrammarError, match="Shift/Reduce conflict"):
        analysed(dangling, "start")


# cues ----------------------------------------------------------------------------------------------------------------


def test_no_spelling_stands_twice_in_one_row() -> None:
    rows = {f"{section}.{name}": says for section, rows in load("cues.toml").items() for name, says in rows.items()}
    rows |= {"openers": load("openers.toml")["openers"], "never": load("repair.toml")["never"]}
    assert [(name, say) for name, says in rows.items() for say in says if says.count(say) > 1] == []


def test_every_cue_of_the_roles_is_written_down() -> None:
    assert set(load("roles.toml")["cues"]) <= CUES


@pytest.mark.parametrize(("ability", "frame"), FRAMES)
def test_every_cue_of_a_frame_is_written_down(ability: Ability, frame: Frame) -> None:
    del ability
    ruled_out = {word for word in frame.without if word not in every_slot()}
    assert {cue if "." in cue else f"ask.{cue}" for cue in (*frame.cues, *ruled_out)} <= CUES


@pytest.mark.parametrize(("ability", "frame"), FRAMES)
def test_every_slot_of_a_frame_can_be_filled(ability: Ability, frame: Frame) -> None:
    del ability
    assert {slot for either in frame.slots for slot in either.split("|")} <= every_slot()


def test_every_cue_the_reader_looks_for_is_written_down() -> None:
    asked = {cue for path in Path(yarnchat.language.__path__[0]).glob("*.py") for cue in _looked_for(path)}
    assert asked, "no call of Sentence.said was found"
    assert asked <= CUES


def _looked_for(path: Path) -> Iterator[str]:
    """The cues given as text to ``said(…)`` in a file."""
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute) and node.func.attr == "said":
            for argument in node.args:
                if isinstance(argument, ast.Constant) and isinstance(argument.value, str):
                    yield argument.value


def every_slot() -> frozenset[str]:
    """The slots of a query in which everything was said."""
    return everything().slots()


def everything() -> Query:
    """A query in which every field is filled."""
    metre = Quantity(1, "m")
    label = PutUp(metre, Quantity(1, "g"))
    needle, gauge = Needle("8", "us"), Gauge(22, Quantity(4, "in"))
    yarn = Yarn("Name", "dk", "DK", label, gauge, needle, wpi=11, strands=2, price=Price(1, "£"))
    colour = Colour("MC", tuple(Series((1.0, 2.0), unit) for unit in ("yd", "g", "skein")))
    holding = Holding(1, "skein", yarn)
    return Query(
        ability="substitute",
        pattern=yarn,
        colours=(colour, colour),
        sizes=("S",),
        pick="S",
        yarns=(yarn, replace(yarn, put_up=PutUp(mass=Quantity(1, "g")))),
        stash=(holding,),
        used=(holding,),
        same_gauge=True,
        swatch=Swatch(yarn),
        piece=Piece("rectangle", (("width", metre), ("height", metre))),
        progress=Progress(0.5),
        grading=Grading(metre),
        measured=Measured(metre),
        note=Note("list"),
        spares=1,
        twice=Twice(),
        rest="left",
        want="mass",
        topic="sources",
        only="MC",
        extra=10,
        blend=(60, 40),
    )


def test_everything_was_said() -> None:
    said, nothing = everything(), Query()
    assert [f.name for f in fields(Query) if f.init and getattr(said, f.name) == getattr(nothing, f.name)] == []


UNSAID = {
    "ability": "which ability answers is no part of what was asked",
    "want": "which figure is asked for is nothing that was told",
}
"""The fields of a query that its sentence leaves out, each with the reason."""

NO_SLOT = {
    "ability": "filled by the assistant, not by her",
    "only": "no number: the name of a colour that was told",
    "same_gauge": "no number, and once said it holds while the weight does",
    "note": "a request to the notebook is no part of the question after it",
    "twice": "only a line to be checked tells it, and what is found twice is said of it",
    "rest": "no number: each text asks anew for what is left or used",
    "want": "each text asks for a figure of its own",
    "topic": "help is no part of the question after it",
}
"""The fields of a query of which a conversation has to know nothing, each with the reason."""

NO_SLOT_OF_A_YARN = {
    "name": "no number",
    "weight_class": "no number",
    "class_as_said": "no number",
    "fibre": "no number",
    "put_up": "a label is told of a yarn whether or not the question turns on it",
    "needle": "a needle is told beside a gauge, and no length is worked from it",
    "strands": "how she holds the yarn is told whether or not the question turns on it",
    "other_gauge": "the gauge once more",
    "other_needle": "the needle once more",
}
"""The fields of a yarn whose numbers may go unnoticed, each with the reason."""

FIELDS = [row.name for row in fields(Query) if row.init]


@pytest.mark.parametrize("name", FIELDS)
def test_every_field_is_in_the_sentence_or_left_out_for_a_reason(name: str) -> None:
    alone = Query(**{name: getattr(everything(), name)})
    assert (str(alone) == str(Query())) == (name in UNSAID)


@pytest.mark.parametrize("name", FIELDS)
def test_every_field_is_told_to_a_conversation_or_not_for_a_reason(name: str) -> None:
    [metadata] = [row.metadata for row in fields(Query) if row.name == name]
    assert ("slot" in metadata) == (name not in NO_SLOT)


@pytest.mark.parametrize("name", [row.name for row in fields(Yarn)])
def test_every_number_of_a_yarn_is_noticed_or_not_for_a_reason(name: str) -> None:
    [metadata] = [row.metadata for row in fields(Yarn) if row.name == name]
    assert ("slot" in metadata and metadata["slot"].numbered) == (name not in NO_SLOT_OF_A_YARN)


# words and frames ----------------------------------------------------------------------------------------------------


def spellings() -> dict[tuple[str, ...], set[str]]:
    """The kinds of token each spelling of words.toml makes."""
    words = load("words.toml")
    kinds: dict[tuple[str, ...], set[str]] = defaultdict(set)
    for kind, says in words["words"].items():
        for say in says:
            kinds[split_words(say)].add(kind)
    tables = {**words["units"], "STRANDED": words["strands"], "CUR": words["currency"]}
    for kind, values in tables.items():
        for value, says in values.items():
            for say in says:
                kinds[split_words(say)].add(f"{kind} {value}")
    return kinds


def test_no_spelling_is_of_two_kinds() -> None:
    assert {say: kinds for say, kinds in spellings().items() if len(kinds) > 1} == {}


AMOUNTS = {"LEN": "250 m", "SHORT": "250 cm", "MASS": "250 g", "GRIST": "420 m/100 g"}
UNITS = [
    (AMOUNTS[kind], say, unit)
    for kind, units in load("words.toml")["units"].items()
    for unit, says in units.items()
    for say in says
]


@pytest.mark.parametrize(("amount", "say", "unit"), UNITS)
def test_every_spelling_of_a_unit_may_be_asked_for(amount: str, say: str, unit: str) -> None:
    measured = read(f"{amount} in {say}").query.measured
    assert measured is not None
    assert measured.into == unit


def test_no_two_frames_have_the_same_conditions() -> None:
    """Of two abilities with equal conditions one would never be meant."""
    owners: dict[tuple[frozenset[str], ...], list[str]] = defaultdict(list)
    for ability, frame in FRAMES:
        conditions = (frozenset(frame.slots), frozenset(frame.cues), frozenset(frame.without))
        owners[conditions].append(ability.name)
    assert [names for names in owners.values() if len(names) > 1] == []


def apart(one: Frame, two: Frame) -> bool:
    """Whether no question can fit both: what one asks for rules the other out."""
    mine, theirs = condition(one), condition(two)
    return any(
        all(slot in there.without or slot.split(".")[0] in there.without for slot in either)
        for here, there in ((mine, theirs), (theirs, mine))
        for either in (*here.slots, here.cues)
        if either
    )


ALIKE = [
    (of, one, other, two)
    for (of, one), (other, two) in combinations(FRAMES, 2)
    if one.rank == two.rank and of.name != other.name
]


def test_no_frames_of_two_abilities_have_one_rank_and_fit_one_question() -> None:
    """Or the first of them by the alphabet would be meant."""
    assert [(of.name, other.name, one.rank) for of, one, other, two in ALIKE if not apart(one, two)] == []
    assert ALIKE != []


NAMES: list[tuple[str, tuple[str, ...]]] = [(name, (kind.key,)) for kind in classes() for name in kind.names]
NAMES += [(name, tuple(keys)) for name, keys in ambiguous_names().items()]
EVERYDAY = set(load("words.toml")["everyday"]["names"])
"""Names that are everyday words: a weight only before weight, yarn or wool."""


@pytest.mark.parametrize(("name", "keys"), NAMES)
def test_every_class_name_is_read_as_its_weight(name: str, keys: tuple[str, ...]) -> None:
    sentence = lay_out(f"{name} weight" if name in EVERYDAY else name)
    assert [(phrase.kind, phrase.value[0]) for phrase in sentence.phrases] == [("weight", keys)]
    assert sentence.phrases[0].last == len(sentence.tokens)
    by_ply = [token.kind for token in sentence.tokens] == ["NUM", "PLY"]
    assert by_ply or sentence.tokens[0].kind == "CLASS"
