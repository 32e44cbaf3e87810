"""The walks over the parse table give what lark itself gives: the same ends, the same trees."""

from __future__ import annotations

import random

import pytest
from lark import Lark, Token, Tree
from lark.exceptions import UnexpectedInput

from yarnchat.language import parse_table, phrases
from yarnchat.language.lexicon import grammar_file
from yarnchat.language.parse_table import END, Leaf
from yarnchat.language.scan import scan

from .test_grammar import _NoLexer
from .test_phrases import rows

LARK = Lark(
    grammar_file("phrases.lark").read_text(encoding="utf-8"),
    parser="lalr",
    lexer=_NoLexer,
    start=list(phrases.STARTS),
    maybe_placeholders=False,
)
TABLE = parse_table.from_json(phrases.made_by_lark())


def by_lark(rule: str, kinds: list[str]) -> str | None:
    """The parse of all these kinds of token as lark has it, written out."""
    parser = LARK.parse_interactive("", start=rule)
    try:
        for place, kind in enumerate(kinds):
            parser.feed_token(Token(kind, "", start_pos=place))
        tree = parser.feed_eof()  # type: ignore[no-untyped-call]
    except UnexpectedInput:
        return None
    return written(tree if isinstance(tree, Tree) else Tree(rule, [tree]))


def written(tree: object) -> str:
    """A tree of lark's or ours as text: rules with their parts, tokens with their places."""
    if isinstance(tree, Token | Leaf):
        return f"{tree.type}@{tree.start_pos}"
    assert isinstance(tree, Tree | parse_table.Tree)
    return f"{tree.data}({' '.join(written(child) for child in tree.children)})"


def ours(rule: str, kinds: list[str]) -> str | None:
    """The same parse as the table has it."""
    tree = TABLE.parse(rule, kinds, 0)
    return None if tree is None else written(tree)


def agreed(rule: str, kinds: list[str]) -> int:
    """How many beginnings of these kinds of token lark parses as this rule; each must be parsed alike by the table."""
    trees = {count: by_lark(rule, kinds[:count]) for count in range(1, len(kinds) + 1)}
    whole = {count for count, tree in trees.items() if tree is not None}
    stops = TABLE.stops(rule, kinds)
    assert whole <= set(stops)
    assert {count: ours(rule, kinds[:count]) for count in stops} == {count: trees[count] for count in stops}
    assert not whole or rule in TABLE.openings(*(*kinds, END, END)[:3])
    return len(whole)


def walk(rule: str, chance: random.Random) -> list[str]:
    """Kinds of token that can follow one another in a piece of this rule, up to sixteen."""
    parser = LARK.parse_interactive("", start=rule)
    kinds: list[str] = []
    while len(kinds) < 16:
        following = sorted(parser.accepts() - {END})  # type: ignore[no-untyped-call]
        if not following:
            break
        kinds.append(chance.choice(following))
        parser.feed_token(Token(kinds[-1], ""))
    return kinds


@pytest.mark.parametrize("rule", phrases.STARTS)
def test_pieces_are_parsed_as_by_lark(rule: str) -> None:
    chance = random.Random(rule)
    assert sum(agreed(rule, walk(rule, chance)) for _ in range(40)) >= 10


def test_snippets_are_parsed_as_by_lark() -> None:
    found = 0
    for text, _ in rows():
        kinds = [token.kind for token in scan(text)]
        found += sum(agreed(rule, kinds[at : at + 16]) for rule in phrases.STARTS for at in range(len(kinds)))
    assert found > 500


def test_a_table_reads_back_as_it_was_written() -> None:
    assert parse_table.from_json(TABLE.to_json()) == TABLE
