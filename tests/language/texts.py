"""Hypothesis strategies for what people type: words of our vocabulary, numbers, names, marks and stray characters."""

from __future__ import annotations

from functools import cache

from hypothesis import strategies as st

from yarnchat.language.lexicon import cues, load, vocabulary

SEPARATORS = (" ", " ", " ", ", ", ". ", "\n", "; ", "/", "-", " (", ") ", ": ", "? ", "")
NAMES = ("Harbour Lamp Tweed", '"Moth Lane"', "Bulky Bear 12", "Ravel & Rook")
WHOLES = ("420 yd/100 g", "1,050 (1,150, 1,270) yd", "22 sts to 4 in", "US 8", "6 x 50 g", "½", "4½ in", "12'6\"")
STRAYS = (
    "\x00",
    "\x07",
    "\x1b[31m",
    "\x9b",
    "\u202e",
    "\u2066",
    "\u200b",
    "\ufeff",
    "\u0301",
    "\ud800",
    "🧶",
    "×",
    "′",
)


@cache
def spellings() -> tuple[str, ...]:
    """Every spelling of a token kind, and every word of a cue."""
    said = {" ".join(entry.words) for rows in vocabulary().values() for entry in rows}
    branches = [cues()]
    for branch in branches:
        branches += [*branch.after.values(), *([branch.gap] if branch.gap else [])]
        said |= {" ".join(entry.words) for entry in branch.ends}
    return tuple(sorted(said | set(load("words.toml")["numbers"])))


def numerals() -> st.SearchStrategy[str]:
    """Numbers as people write them: whole, decimal, with commas, far too long, zero."""
    return st.one_of(
        st.integers(0, 3000).map(str),
        st.decimals(0, 100, places=1).map(str),
        st.integers(1000, 99_999).map(lambda value: f"{value:,}"),
        st.from_regex(r"[0-9]{1,20}(?:[.,/'][0-9]{1,4}){0,2}", fullmatch=True),
    )


def pieces() -> st.SearchStrategy[str]:
    """A word, number, name or whole phrase."""
    return st.one_of(st.sampled_from(spellings()), numerals(), st.sampled_from((*NAMES, *WHOLES)))


def sentences(most: int = 16) -> st.SearchStrategy[str]:
    """Pieces put together any way at all."""
    pairs = st.tuples(pieces(), st.sampled_from(SEPARATORS))
    return st.lists(pairs, max_size=most).map(lambda parts: "".join(piece + gap for piece, gap in parts))


def broken() -> st.SearchStrategy[str]:
    """A sentence with control, direction and other stray characters anywhere in it."""
    part = st.one_of(pieces(), st.sampled_from(STRAYS), st.text(st.characters(), max_size=3))
    return st.lists(part, max_size=16).map(" ".join)


def told() -> st.SearchStrategy[str]:
    """A whole phrase about a yarn, a pattern or a piece, with numbers of its own."""
    many, few, skein = st.integers(300, 2999), st.integers(2, 29), st.integers(60, 299)
    return st.one_of(
        st.builds("{} yd".format, many),
        st.builds("{} m of DK".format, many),
        st.builds("{} skeins".format, few),
        st.builds("{} g".format, skein),
        st.builds("{} yd/100 g".format, skein),
        st.builds("{} m a ball".format, skein),
        st.builds("{} sts to 4 in".format, few),
        st.builds("{} ({}, {}) yd".format, many, many, many),
        st.builds("{} x {} g".format, few, skein),
        st.builds("US {} needles".format, st.integers(1, 11)),
        st.builds("size {}".format, st.integers(1, 5)),
        st.builds("£{} a skein".format, few),
        st.builds("{} strands".format, st.integers(2, 4)),
        st.builds("{} wpi".format, few),
        st.builds("{} of {} rows".format, few, skein),
        st.builds("{} x {} in".format, few, few),
        st.builds("{}%".format, few),
        st.builds("{}".format, many),
    )


LINKS = (
    "pattern in", "pattern", "calls for", "in", "into", "instead of", "I have", "my", "how many", "is it enough",
    "used", "left", "swatch", "so far", "fingering", "worsted", "DK", "aran", "held double", "and", "or", "MC", "CC",
    "for a scarf", "compare", "check", "remember", "what weight is", "how long is", "Harbour Lamp Tweed",
    ",", ".", ";", "(", ")",
)  # fmt: skip


def questions(most: int = 9) -> st.SearchStrategy[str]:
    """Phrases and the words that link them, in any order: near enough to questions to be read as such."""
    part = told() | st.sampled_from(LINKS)
    return st.lists(part, min_size=1, max_size=most).map(" ".join)
