"""Tokens to phrases: the one file that knows lark. Each grammar rule is tried at a token; the longest piece is kept."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from functools import cache
from importlib.util import find_spec
from pathlib import Path
from typing import Any

from yarnchat.language import builders, parse_table
from yarnchat.language.kept import kept
from yarnchat.language.lexicon import grammar_file
from yarnchat.language.parse_table import DROP, END, KEEP, SPLICE, ParseTable, Rule
from yarnchat.language.tokens import Token

STARTS = (
    "chain", "span", "repeated", "boxed", "skeins", "multiplied", "counted", "gauge", "bare", "crossgauge", "rowgauge",
    "rows", "dimension", "needle", "strands", "wpi", "weight", "sized", "doubles", "sizenames", "sizenumbers", "named",
    "price", "percent", "grist", "smalls", "feet", "pounds", "small", "listed", "fraction",
)  # fmt: skip
MAX_TOKENS = 64


@dataclass(slots=True, eq=False)
class Phrase:
    """A piece of the question: what kind it is, which tokens it spans, what it says.

    Each kind with the type of its value:

    ==========================================  ==============================================
    length, mass, count, num, nums, smalls      Series
    dual (one amount in two units)              tuple[Series, Series]
    named (an amount for each size)             tuple[tuple[str, ...], Series]
    times (so many skeins of a put-up)          tuple[Series, PutUp]
    putup                                       PutUp
    small (cm, in)                              Quantity
    dim (two sides)                             tuple[Quantity, Quantity]
    gauge                                       Gauge
    rowgauge (stitches or rows of it alone)     tuple[float, Quantity]
    rows (done; in all)                         tuple[float, float | None]
    needle                                      Needle
    price                                       Price
    weight (keys of its classes; as said)       tuple[tuple[str, ...], str]
    name, size                                  str
    sizes                                       tuple[str, ...]
    strands                                     int
    percent, fraction, wpi                      float
    grist (a yarn number; its system)           tuple[float, str]
    made (how many are made)                    Series
    one (one skein: it counts in another)       Series | PutUp
    spares (so many to be bought besides)       Series
    cost (of what is no yarn)                   Price
    open (what it is of is open: asked about)   Series | Price
    not_meant (taken back, or denied)           Series | PutUp | Gauge | Price | int | str | tuple[tuple[str, ...], str]
    ==========================================  ==============================================

    Where the questions of a make of their own are read, a gauge may become "stitches": a count of the work.
    """

    kind: str
    first: int
    last: int
    """One past the last token."""
    value: Any
    notes: tuple[str, ...] = ()
    flags: frozenset[str] = field(default=frozenset())


Taken = list[Phrase]
"""Phrases that a step has used, out of the way of the steps after it."""


def first_of(phrases: list[Phrase], kind: str) -> Phrase | None:
    """The first phrase of a kind."""
    return next((phrase for phrase in phrases if phrase.kind == kind), None)


@cache
def _table() -> ParseTable:
    """The parse table of the grammar: lark makes it, and need not again while grammar, lark and this code stay."""
    sources = (grammar_file("phrases.lark"), _lark_itself(), Path(__file__), Path(parse_table.__file__))
    made_from = b"\0".join(path.read_bytes() for path in sources)
    return parse_table.from_json(kept("phrases.table", made_from, made_by_lark))


def _lark_itself() -> Path:
    """The file that holds lark's version."""
    spec = find_spec("lark")
    if spec is None or spec.origin is None:
        raise ModuleNotFoundError("lark is not installed", name="lark")
    return Path(spec.origin)


def made_by_lark() -> str:
    """The parse table of the grammar as JSON: about half a second's work."""
    import lark
    from lark.lexer import Lexer
    from lark.parsers.lalr_analysis import Reduce

    class NoLexer(Lexer):
        """Tokens come from our scanner."""

        def __init__(self, lexer_conf: object) -> None:
            del lexer_conf

        def lex(self, lexer_state: object, parser_state: object) -> Iterator[lark.Token]:
            del lexer_state, parser_state
            return iter(())

    text = grammar_file("phrases.lark").read_text(encoding="utf-8")
    grammar = lark.Lark(text, parser="lalr", lexer=NoLexer, start=list(STARTS), maybe_placeholders=False)
    made = grammar.parse_interactive("", start=STARTS[0]).parser_state.parse_conf.parse_table
    numbers = {rule: ~number for number, rule in enumerate(grammar.rules)}
    states = [
        {symbol: numbers[argument] if action is Reduce else argument for symbol, (action, argument) in row.items()}
        for _, row in sorted(made.states.items())
    ]
    return ParseTable(states, made.start_states, made.end_states, [_rule(rule) for rule in grammar.rules]).to_json()


def _rule(rule: Any) -> Rule:
    """What a parse needs of a rule of lark's, its tree shaped as lark would (``?rule``, ``_rule``)."""
    shape = "".join(
        (DROP if symbol.filter_out and not rule.options.keep_all_tokens else KEEP)
        if symbol.is_term
        else (SPLICE if symbol.name.startswith("_") else KEEP)
        for symbol in rule.expansion
    )
    origin = str(rule.origin.name)
    return Rule(origin, rule.alias or origin, shape, lone=rule.options.expand1 and not rule.alias)


def phrases(tokens: Sequence[Token]) -> list[Phrase]:
    """The phrases of a question, in order, none overlapping; tokens in none are left to the roles."""
    kinds = [token.kind for token in tokens]
    first_kinds = _table().first_kinds
    found: list[Phrase] = []
    at = 0
    while at < len(tokens):
        phrase = _longest(tokens, kinds, at) if kinds[at] in first_kinds else None
        if phrase:
            found.append(phrase)
            at = phrase.last
        else:
            at += 1
    return found


def _longest(tokens: Sequence[Token], kinds: Sequence[str], at: int) -> Phrase | None:
    """The longest piece from a token on that a rule takes and a value is made of; of one length, the first rule's."""
    table = _table()
    first, then, third = (*kinds[at : at + 3], END, END)[:3]
    rules = table.openings(first, then, third)
    if not rules:
        return None
    ahead = kinds[at : at + MAX_TOKENS]
    pieces = [(count, -order, rule) for order, rule in enumerate(rules) for count in table.stops(rule, ahead)]
    for count, _, rule in sorted(pieces, reverse=True):
        tree = table.parse(rule, ahead[:count], at)
        if tree is None:
            continue
        built = builders.build(rule, tree, tokens, at, at + count)
        if built:
            return Phrase(built.kind, at, at + count, built.value, built.notes, built.flags)
    return None
