"""A parse table as plain data, and the two walks over it: how far a rule reaches, and the parse of a piece."""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import asdict, dataclass, field

END = "$END"
KEEP, SPLICE, DROP = "ksd"


@dataclass(frozen=True, slots=True)
class Rule:
    """One production of the grammar, as far as a parse needs it."""

    origin: str
    """The symbol it makes."""
    name: str
    """What its tree is called."""
    shape: str
    """A letter for each symbol: its piece is kept, its children take its place, or it is dropped."""
    lone: bool
    """Whether a single child stands for the tree."""


@dataclass(slots=True)
class Leaf:
    """One token of a parse: its kind, and its place among the tokens."""

    type: str
    start_pos: int


@dataclass(slots=True)
class Tree:
    """A piece of a parse: the name of its rule, and its parts in order."""

    data: str
    children: list[Tree | Leaf]


@dataclass(slots=True)
class ParseTable:
    """An LALR(1) table. ``states``: symbol → the next state, or ``~rule`` for a reduction by that rule."""

    states: list[dict[str, int]]
    starts: dict[str, int]
    ends: dict[str, int]
    rules: list[Rule]
    first_kinds: frozenset[str] = field(init=False, compare=False)
    """The kinds of token a piece can begin with."""
    reductions: list[tuple[int, str]] = field(init=False, compare=False)
    """Of each rule, how many symbols it takes and the one it makes of them."""
    _openings: dict[tuple[str, str, str], tuple[str, ...]] = field(default_factory=dict, init=False, compare=False)

    def __post_init__(self) -> None:
        kinds = {kind for start in self.starts.values() for kind in self.states[start]}
        self.first_kinds = frozenset(kinds)
        self.reductions = [(len(rule.shape), rule.origin) for rule in self.rules]

    def openings(self, kind: str, then: str, third: str) -> tuple[str, ...]:
        """The start rules a piece can be of that begins with these kinds of token, or is the first or two of them."""
        rules = self._openings.get((kind, then, third))
        if rules is None:
            rules = tuple(rule for rule in self.starts if self._opens(rule, (kind, then, third)))
            self._openings[kind, then, third] = rules
        return rules

    def _opens(self, rule: str, kinds: Sequence[str]) -> bool:
        stack = [self.starts[rule]]
        for kind in kinds:
            if not self._feed(stack, kind):
                return False
            if END in self.states[stack[-1]]:
                return True
        return True

    def stops(self, rule: str, kinds: Sequence[str]) -> list[int]:
        """How many tokens a piece of this rule may have, shortest first (``parse`` is the proof of each)."""
        states, stack = self.states, [self.starts[rule]]
        stops = []
        for count, kind in enumerate(kinds, 1):
            if not self._feed(stack, kind):
                break
            if END in states[stack[-1]]:
                stops.append(count)
        return stops

    def _feed(self, stack: list[int], kind: str) -> bool:
        """Move a stack of states past one token; False where the token cannot stand there."""
        states = self.states
        while (action := states[stack[-1]].get(kind)) is not None:
            if action >= 0:
                stack.append(action)
                return True
            size, origin = self.reductions[~action]
            del stack[len(stack) - size :]
            stack.append(states[stack[-1]][origin])
        return False

    def parse(self, start: str, kinds: Sequence[str], first: int) -> Tree | None:
        """The parse of all these kinds of token as one piece, or None. ``first``: the place of the first."""
        states, end = self.states, self.ends[start]
        stack, parts = [self.starts[start]], list[Tree | Leaf]()
        for place, kind in enumerate((*kinds, END), first):
            while (action := states[stack[-1]].get(kind)) is not None and action < 0:
                rule = self.rules[~action]
                bottom = len(parts) - len(rule.shape)
                parts[bottom:] = [_tree(rule, parts[bottom:])]
                del stack[bottom + 1 :]
                stack.append(states[stack[-1]][rule.origin])
                if kind == END and stack[-1] == end:
                    whole = parts[-1]
                    return whole if isinstance(whole, Tree) else Tree(start, [whole])
            if action is None:
                return None
            stack.append(action)
            parts.append(Leaf(kind, place))
        return None

    def to_json(self) -> str:
        """The table as text that ``from_json`` reads."""
        rules = [asdict(rule) for rule in self.rules]
        return json.dumps({"states": self.states, "starts": self.starts, "ends": self.ends, "rules": rules})


def from_json(text: str) -> ParseTable:
    """The table ``to_json`` wrote."""
    table = json.loads(text)
    rules = [Rule(**rule) for rule in table.pop("rules")]
    return ParseTable(**table, rules=rules)


def _tree(rule: Rule, pieces: list[Tree | Leaf]) -> Tree | Leaf:
    parts: list[Tree | Leaf] = []
    for letter, piece in zip(rule.shape, pieces, strict=True):
        if letter == SPLICE and isinstance(piece, Tree):
            parts += piece.children
        elif letter != DROP:
            parts.append(piece)
    return parts[0] if rule.lone and len(parts) == 1 else Tree(rule.name, parts)
