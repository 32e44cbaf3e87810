"""A question laid out: its tokens, phrases, cues and breaks, and what stands between two places."""

from __future__ import annotations

import bisect
from collections.abc import Callable
from dataclasses import dataclass, field
from functools import cache
from operator import itemgetter

from yarnchat.language.clean import clean
from yarnchat.language.lexicon import Branch, Entry, cues, split_words, word_list
from yarnchat.language.phrases import Phrase, phrases
from yarnchat.language.scan import NO_NAMES, Names, scan
from yarnchat.language.tokens import Token, kind_at, lower_at


@dataclass(frozen=True, slots=True)
class Cue:
    """A wording that says something: ``section.name`` of grammar/cues.toml, and which tokens it spans."""

    kind: str
    first: int
    last: int


@dataclass(slots=True)
class Sentence:
    """Everything the roles need to see of one question. Positions are token numbers."""

    text: str
    tokens: list[Token]
    phrases: list[Phrase]
    cues: list[Cue]
    stops: list[int] = field(default_factory=list)
    """Tokens that end a sentence."""
    commas: list[int] = field(default_factory=list)
    kinds: set[str] = field(init=False)
    """The kinds of the cues; ``mark`` and ``unmark`` keep it true."""
    lines: list[int] = field(init=False)
    """The first token of every line."""

    def __post_init__(self) -> None:
        self.kinds = {cue.kind for cue in self.cues}
        self.find_lines()

    def find_lines(self) -> None:
        """Where the lines begin: again, where tokens were made plain words and a line break was one of them."""
        self.lines = [0, *(at + 1 for at, token in enumerate(self.tokens) if token.kind == "NEWLINE")]

    def said(self, *kinds: str) -> bool:
        """Whether a cue of one of these kinds was said."""
        return not self.kinds.isdisjoint(kinds)

    def mark(self, kind: str, first: int = 0, last: int = 0) -> None:
        """A cue that follows from the rest; where no tokens are given it stands nowhere in the text."""
        self.cues.append(Cue(kind, first, last))
        self.kinds.add(kind)

    def unmark(self, inside: set[int]) -> None:
        """Take away the cues that hold one of these tokens."""
        self.cues[:] = [cue for cue in self.cues if not inside & set(range(cue.first, cue.last))]
        self.kinds = {cue.kind for cue in self.cues}

    def unsay(self, kind: str) -> None:
        """Take away the cues of one kind, where the rest says that they are none."""
        self.cues[:] = [cue for cue in self.cues if cue.kind != kind]
        self.kinds.discard(kind)

    def unsay_where(self, wrong: Callable[[Cue], bool]) -> None:
        """Take away the cues that are none, one by one."""
        self.cues[:] = [cue for cue in self.cues if not wrong(cue)]
        self.kinds = {cue.kind for cue in self.cues}

    def cue_kinds(self) -> frozenset[str]:
        """The kinds of all cues said."""
        return frozenset(self.kinds)

    def parted(self, left: int, right: int) -> bool:
        """Whether a sentence ends between two tokens."""
        at = bisect.bisect_left(self.stops, left)
        return at < len(self.stops) and self.stops[at] < right

    def stops_between(self, left: int, right: int) -> int:
        """How many sentences end between two tokens."""
        return bisect.bisect_left(self.stops, right) - bisect.bisect_left(self.stops, left)

    def commas_between(self, left: int, right: int) -> int:
        """How many commas stand between two tokens."""
        return bisect.bisect_left(self.commas, right) - bisect.bisect_left(self.commas, left)

    def needle_systems(self, *, told: bool = False) -> set[str]:
        """The needle systems named, ``us`` and ``uk``; where ``told``, not those right after ``which`` or ``what``."""
        asks = {at + 1 for at, token in enumerate(self.tokens) if told and token.lower in ("which", "what")}
        named = {at: token.kind for at, token in enumerate(self.tokens) if token.kind in ("US", "UK")}
        return {kind.lower() for at, kind in named.items() if at not in asks}

    def line_of(self, at: int) -> int:
        """The first token of the line a token stands in."""
        return self.lines[bisect.bisect_right(self.lines, at) - 1]

    def last_before(self, at: int, *kinds: str) -> Phrase | None:
        """The last phrase of these kinds that ends before a token."""
        return next((phrase for phrase in reversed(self.phrases) if phrase.kind in kinds and phrase.last <= at), None)

    def sentence_of(self, at: int) -> int:
        """The number of the sentence a token stands in."""
        return bisect.bisect_right(self.stops, at)

    def words(self, phrase: Phrase) -> str:
        """A phrase as it was typed."""
        return self.text[self.tokens[phrase.first].start : self.tokens[phrase.last - 1].end]

    def kind_at(self, at: int) -> str:
        """The kind of a token, or "" outside the text."""
        tokens = self.tokens
        return tokens[at].kind if 0 <= at < len(tokens) else ""

    def lower_at(self, at: int) -> str:
        """A token's text in lower case, or "" outside the text."""
        tokens = self.tokens
        return tokens[at].lower if 0 <= at < len(tokens) else ""


_PUNCTUATION = frozenset({"LPAR", "RPAR", "COMMA", "SEMI", "STOP", "NEWLINE"})


def lay_out(text: str, names: Names = NO_NAMES) -> Sentence:
    """A typed question, cleaned, scanned, its phrases found and its cues marked."""
    plain = clean(text)
    tokens = scan(plain, names)
    found = phrases(tokens)
    covered = {index for phrase in found for index in range(phrase.first, phrase.last)}
    opening = {phrase.first for phrase in found}
    sentence = Sentence(plain, tokens, found, _cues(tokens, covered, covered - opening))
    depth = 0
    for at, token in enumerate(tokens):
        if token.kind not in _PUNCTUATION:
            continue
        depth = 0 if token.kind == "NEWLINE" else depth + (token.kind == "LPAR") - (token.kind == "RPAR" and depth > 0)
        if at in covered:
            continue
        if token.kind == "SEMI" and (depth or _headed(sentence, at)):
            sentence.commas.append(at)
        elif token.kind in ("STOP", "SEMI", "NEWLINE") and not _abbreviation(tokens, at):
            sentence.stops.append(at)
        elif token.kind == "COMMA":
            sentence.commas.append(at)
    return sentence


def _headed(sentence: Sentence, at: int) -> bool:
    """Whether a line opens with a heading: there a semicolon parts the pieces of one label."""
    start = sentence.line_of(at)
    return any(token.kind == "COLON" for token in sentence.tokens[start + 1 : start + 4])


_OPENING = frozenset({"WORD", "THE", "HOLD"})
"""The kinds of words that open a sentence, in small letters, sooner than they go on behind a unit."""
_UNITS = frozenset({"LEN", "MASS", "SHORT", "STS", "SKEIN", "ROWS"})


def _abbreviation(tokens: list[Token], at: int) -> bool:
    """Whether a full stop only shortens a word: ``100 gr. skeins``, ``approx. 125 m``, ``No. 56``."""
    if tokens[at].text != "." or not at or at + 1 >= len(tokens):
        return False
    before, after = tokens[at - 1], tokens[at + 1]
    if before.end != tokens[at].start:
        return False
    small = after.text[0].islower() or (before.text.isupper() and after.text.isupper())
    counts_on = after.kind == "NUM" and not after.text[0].isupper()  # 100 yds. Two strands
    goes_on = counts_on or small or after.kind in ("LPAR", "SLASH", "RPAR", "COMMA", "EQ")
    if before.lower in ("approx", "abt", "no", "nr", "art", "ca", "incl", "col", "vs", "min", "max"):
        return goes_on
    short = before.kind in _UNITS and before.lower not in word_list("written_out")
    anew = after.kind in _OPENING and after.lower not in word_list("behind_a_unit")  # 1200 m. other sizes are …
    if after.kind == "IN":
        anew = lower_at(tokens, at + 2) not in word_list("measured_in")
    if after.kind == "ARTICLE":
        anew = kind_at(tokens, at + 2) != "SKEIN"
    return goes_on and short and not anew


def _cues(tokens: list[Token], covered: set[int], inside: set[int]) -> list[Cue]:
    """The cues of a text; a length told asks for none: ``1430 metres in total``."""
    placed = [(word, index) for index, token in enumerate(tokens) for word in _words(token)]
    words, places = [word for word, _ in placed], [index for _, index in placed]
    opens = cues().after
    starts = [at for at, word in enumerate(words) if word in opens]
    found = [(entry, at, end) for at in starts for entry, end in _said_from(words, at)]
    reach: dict[str, int] = {}
    out: list[Cue] = []
    for entry, at, end in found:
        section, rivals = _rivals(entry.kind)
        if reach.get(rivals, -1) > at:
            continue
        first, last = places[at], places[end - 1] + 1
        if section != "texture" and covered.issuperset(range(first, last)):
            continue
        if entry.kind in ("ask.measure", "ask.identify") and first in inside:
            continue
        reach[rivals] = end
        out.append(Cue(entry.kind, first, last))
    return _without_those_inside(out)


def _without_those_inside(found: list[Cue]) -> list[Cue]:
    """``what I own is 350 g``, ``checking my budget``: of two wordings that say different things, the longer counts."""
    longer = [cue for cue in found if cue.kind in _OVERRULES and cue.last - cue.first > 1]
    return [cue for cue in found if not any(_holds(one, cue) for one in longer)]


_OVERRULES = {
    "need.before": {"have.before"},
    "have.before": {"need.before"},
    "have.must": {"have.before"},
    "ask.cost": {"ask.check"},
    "ask.enough": {"ask.ratios"},
    "ask.strands": {"ask.check"},
    "ask.swatch": {"shape.square"},
    "pattern.in": {"have.before"},
    "since.start_after": {"ask.convert"},
    "harmless.any": {"ask.enough", "ask.check", "ask.cost", "pattern.over", "yarn.have", "have.before", "have.after"},
    "yarn.in": {"exchange.in_for"},
    "yarn.use": {"used.before", "used.after", "progress.weak", "ask.progress"},
}


def _holds(one: Cue, cue: Cue) -> bool:
    """Whether a cue is a part of a longer one that says something else."""
    inside = one.first <= cue.first and cue.last <= one.last and cue.last - cue.first < one.last - one.first
    return inside and cue.kind in _OVERRULES[one.kind]


@cache
def _rivals(kind: str) -> tuple[str, str]:
    """A cue's section, and what it competes with for the same words: the longest wording wins."""
    section = kind.split(".", 1)[0]
    return section, "side" if section in ("pattern", "yarn") else section if section == "same" else kind


_MOST_BETWEEN = 3
"""How many words a ``*`` of a cue may stand for, one at least."""


def _said_from(words: list[str], at: int) -> list[tuple[Entry, int]]:
    """The cues whose words stand here, each with where it ends, the longest first."""
    said = _going_on(cues(), words, at)
    return sorted(said, key=itemgetter(1), reverse=True) if len(said) > 1 else said


def _going_on(branch: Branch, words: list[str], at: int) -> list[tuple[Entry, int]]:
    """The cues of a branch that go on with the words from here."""
    said: list[tuple[Entry, int]] = []
    while at < len(words) and (onward := branch.after.get(words[at])):
        branch, at = onward, at + 1
        said += [(entry, at) for entry in branch.ends]
        if branch.gap:
            for over in range(at + 1, at + 1 + _MOST_BETWEEN):
                said += _going_on(branch.gap, words, over)
    return said


def _words(token: Token) -> tuple[str, ...]:
    if token.kind in ("DASH",):
        return ()
    if token.kind == "ARROW":
        return ("\u2192",)
    return split_words(token.text)
