"""Tokens to phrases: the one file that knows lark. Each grammar rule is tried at a token; the longest piece is kept."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from functools import cache
from typing import Any

from lark import Lark, Token, Tree
from lark.exceptions import UnexpectedInput
from lark.lexer import Lexer

from yarnchat.language import builders
from yarnchat.language.lexicon import grammar_file
from yarnchat.language.scan import Token as Scanned

STARTS = (
    "chain", "span", "boxed", "skeins", "multiplied", "counted", "gauge", "bare", "crossgauge", "rowgauge", "rows", "dimension",
    "needle", "strands", "wpi", "weight", "sized", "sizenames", "sizenumbers", "named", "price", "percent", "grist",
    "smalls", "feet", "pounds", "small", "listed", "fraction",
)  # fmt: skip
MAX_TOKENS = 64


@dataclass(slots=True)
class Phrase:
    """A piece of the question: what kind it is, which tokens it spans, what it says."""

    kind: str
    first: int
    last: int
    """One past the last token."""
    value: Any
    notes: tuple[str, ...] = ()
    flags: frozenset[str] = field(default=frozenset())


class _NoLexer(Lexer):
    """Tokens come from our scanner; lark is fed one at a time."""

    def __init__(self, lexer_conf: object) -> None:
        pass

    def lex(self, lexer_state: object, parser_state: object) -> Iterator[Token]:
        return iter(())


@cache
def _grammar() -> Lark:
    text = grammar_file("phrases.lark").read_text(encoding="utf-8")
    return Lark(text, parser="lalr", lexer=_NoLexer, start=list(STARTS), maybe_placeholders=False)


@cache
def _openings() -> dict[str, tuple[str, ...]]:
    """Which rules can begin with a token of a kind."""
    openings: dict[str, list[str]] = {}
    for rule in STARTS:
        for kind in _grammar().parse_interactive("", start=rule).choices():
            openings.setdefault(kind, []).append(rule)
    return {kind: tuple(rules) for kind, rules in openings.items()}


def phrases(tokens: Sequence[Scanned]) -> list[Phrase]:
    """The phrases of a question, in order, none overlapping; tokens in none are left to the roles."""
    found: list[Phrase] = []
    at = 0
    while at < len(tokens):
        phrase = _longest(tokens, at)
        if phrase:
            found.append(phrase)
            at = phrase.last
        else:
            at += 1
    return found


def _longest(tokens: Sequence[Scanned], at: int) -> Phrase | None:
    rules = _openings().get(tokens[at].kind, ())
    pieces = [(stop, -order, rule) for order, rule in enumerate(rules) for stop in _stops(rule, tokens, at)]
    for stop, _, rule in sorted(pieces, reverse=True):
        tree = _parse(rule, tokens, at, stop)
        if tree is None:
            continue
        built = builders.build(rule, tree, tokens, at, stop)
        if built:
            return Phrase(built.kind, at, stop, built.value, built.notes, built.flags)
    return None


def _stops(rule: str, tokens: Sequence[Scanned], at: int) -> list[int]:
    """Where a piece of this rule may end (needs confirming: a state may look complete and not be)."""
    parser = _grammar().parse_interactive("", start=rule)
    stops = []
    for end in range(at, min(at + MAX_TOKENS, len(tokens))):
        if tokens[end].kind not in parser.choices():
            break
        try:
            parser.feed_token(Token(tokens[end].kind, tokens[end].text, start_pos=end))
        except UnexpectedInput:
            break
        if "$END" in parser.choices():
            stops.append(end + 1)
    return stops


def _parse(rule: str, tokens: Sequence[Scanned], at: int, stop: int) -> Tree[Token] | None:
    parser = _grammar().parse_interactive("", start=rule)
    try:
        for index in range(at, stop):
            parser.feed_token(Token(tokens[index].kind, tokens[index].text, start_pos=index))
        tree = parser.feed_eof()
    except UnexpectedInput:
        return None
    return tree if isinstance(tree, Tree) else Tree(rule, [tree])
