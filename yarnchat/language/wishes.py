"""What is asked for besides: sizes, spares, a blend to check, the figure or the topic wanted."""

from __future__ import annotations

import re
from bisect import bisect_left
from collections.abc import Iterator
from functools import cache
from itertools import pairwise

from yarnchat.language.builders import ordinal
from yarnchat.language.colours import certain_labels, colour_words
from yarnchat.language.lexicon import load, word_list
from yarnchat.language.number_words import A_FEW_WORDS
from yarnchat.language.phrases import Phrase
from yarnchat.language.sentence import Sentence
from yarnchat.queries import AND_SIZE, Colour


def size_names(sentence: Sentence, used: list[Phrase]) -> tuple[str, ...]:
    for phrase in sentence.phrases:
        if phrase.kind == "named":
            return tuple(phrase.value[0])
        if phrase.kind == "sizes":
            used.append(phrase)
            return tuple(phrase.value)
    return ()


_SIZE_WORD = re.compile(
    r"\b(?:i'?m|i am|i take|i wear|she's|she is|he's|he is|for|just|only|make|knit|want)\s+(?:a|an|the)\s+"
    r"(?P<size>(?:extra\s+)?(?:small|large)|medium)\b(?!\s+(?:ball|skein|hank|weight|yarn|project|amount|quantity|one|shawl|blanket))",
    re.IGNORECASE,
)


def sizes_picked(sentence: Sentence, parted: list[Colour], used: list[Phrase]) -> str | None:
    """``sizes 2 and 3``, ``the 2nd and 4th sizes``: some of more, or None; what says them is added to ``used``."""
    said = next((found for form in _SEVERAL_SIZES if (found := form.search(sentence.text))), None)
    if said and _of_a_needle(sentence, said):
        return None
    if said:
        names = _EACH_SIZE.findall(said.group("sizes"))
        inside = [p for p in sentence.phrases if said.start() <= sentence.tokens[p.first].start < said.end()]
    else:
        inside = sizes_meant(sentence)
        names = [str(phrase.value) for phrase in inside]
        gaps = [sentence.kind_at(at) for one, two in pairwise(inside) for at in range(one.last, two.first)]
        if "AND" not in gaps or not set(gaps) <= {"AND", "COMMA"}:
            return None
    listed = max((len(series.values) for colour in parted for series in colour.amounts), default=0)
    if 0 < listed <= len(names) or len(set(names)) < len(names):
        return None
    used += [phrase for phrase in inside if phrase not in used]
    return AND_SIZE.join(name.upper() if name[-1:].lower() in "sml" else name.lower() for name in names)


def _of_a_needle(sentence: Sentence, said: re.Match[str]) -> bool:
    """``needles in sizes 3 and 4 mm``, ``hooks sizes 2 and 3``: whether sizes are those of needles."""
    starts = [token.start for token in sentence.tokens]
    first, last = bisect_left(starts, said.start()), bisect_left(starts, said.end())
    near = (*range(first - _A_NEEDLE_OFF, first), last)
    kinds = {sentence.kind_at(at) for at in near if not sentence.parted(min(at, first), first)}
    words = {sentence.lower_at(at) for at in near}
    return bool(kinds & {"NEEDLE", "US", "UK"}) or not words.isdisjoint(("mm", "hook", "hooks", "needle", "needles"))


_A_NEEDLE_OFF = 4
"""How far before their sizes needles may be named, in words."""


_A_SIZE = r"(?:[1-9][0-9]?(?:st|nd|rd|th)|[1-9][0-9]?|[2-5]?x{0,3}[sl]|m)"
_SEVERAL_SIZES = (
    re.compile(
        rf"\bsizes[ ]+(?P<sizes>{_A_SIZE}(?:[ ]?,[ ]?{_A_SIZE})*[ ]?,?[ ]?(?:and|&)[ ]{_A_SIZE})(?![\w(/])",
        re.IGNORECASE,
    ),
    re.compile(
        r"\bthe[ ]+(?P<sizes>[1-9](?:st|nd|rd|th)(?:[ ]?,[ ]?[1-9](?:st|nd|rd|th))*"
        r"[ ]?,?[ ]?(?:and|&)[ ](?:the[ ])?[1-9](?:st|nd|rd|th))[ ]+sizes?\b",
        re.IGNORECASE,
    ),
)
_EACH_SIZE = re.compile(rf"\b{_A_SIZE}\b", re.IGNORECASE)


def size_picked(sentence: Sentence, used: list[Phrase]) -> str | None:
    """The one size asked for, or None; the phrase that says it is added to ``used``.

    A size told by its place is that with its ending, as in "4th".
    """
    named = sizes_meant(sentence)
    used += [phrase for phrase in sentence.phrases if phrase.kind == "size" and phrase not in named]
    if named:
        used += [phrase for phrase in named if phrase.value == named[0].value]
        return str(named[0].value)
    listed = {at for phrase in sentence.phrases if phrase.kind == "named" for at in range(phrase.first, phrase.last)}
    for at, token in enumerate(sentence.tokens):
        if (
            token.kind == "ORDINAL"
            and isinstance(token.value, int)
            and at not in listed
            and (
                (sentence.lower_at(at + 1) in ("one", "size") and sentence.kind_at(at - 1) != "ARTICLE")
                or (sentence.lower_at(at - 1) == "the" and token.text[0].isdigit())
                or (sentence.lower_at(at - 1) == "the" and _of_sizes(sentence) and _ends(sentence, at + 1))
                or (
                    sentence.lower_at(at - 1) == "the"
                    and "size" in (sentence.lower_at(at - 3), sentence.lower_at(at - 4))
                )
            )
        ):
            return ordinal(token.value)
    if sentence.said("size.which"):
        return None
    if sentence.said("size.middle"):
        return "middle"
    sized = any(token.lower in ("small", "large", "medium") for token in sentence.tokens)
    if sized and (worded := _outside_a_list(sentence, _SIZE_WORD)):
        return str(load("words.toml")["size_words"][" ".join(worded.group("size").lower().split())])
    if sentence.said("size.last"):
        return "last"
    return "first" if sentence.said("size.first") else None


def sizes_meant(sentence: Sentence) -> list[Phrase]:
    """The sizes named that may be asked for: not one that is denied, or that a model wears."""
    return [
        phrase
        for phrase in sentence.phrases
        if phrase.kind == "size" and not _denied(sentence, phrase) and not _worn(sentence, phrase)
    ]


def _denied(sentence: Sentence, phrase: Phrase) -> bool:
    """``not size M, size L``."""
    before = [sentence.lower_at(at) for at in (phrase.first - 2, phrase.first - 1)]
    return before[1] == "not" or (before[0] == "not" and before[1] in ("a", "an", "the"))


def _worn(sentence: Sentence, phrase: Phrase) -> bool:
    """``Model wears size M``, ``shown in size 38``: the size of a picture."""
    lead = {
        sentence.lower_at(at) for at in range(phrase.first - 3, phrase.first) if not sentence.parted(at, phrase.first)
    }
    return bool(lead & word_list("pictured"))


def names_a_size(text: str, name: str) -> bool:
    """Whether a text names one of the sizes told before: led by a word for it, or set off: ``medium in DK``.

    The L may be called so or large.
    """
    words = [word for word, short in load("words.toml")["size_words"].items() if short == name]
    said = rf"(?<![\w/])(?:{'|'.join(map(re.escape, [name, *words]))})(?![\w/])"
    led = rf"\b(?:{_any_of('before_a_size')})\s+{said}(?!\s+(?:{_any_of('of_no_size')}))"
    lead = rf"^\W*(?:(?:{_any_of('before_a_size_alone')})\s+)?"
    opens = rf"{lead}{said}(?=\s*(?:,|\?|$)|\s+(?:{_any_of('behind_a_size')})\b)"
    flags = re.IGNORECASE if len(name) > 1 else 0
    text = text if flags else _in_lower_case(words, text)
    return bool(re.search(led, text, flags) or re.search(opens, text, flags))


def _in_lower_case(words: list[str], text: str) -> str:
    """A text with these words of it in lower case, however they are typed: ``Large?``."""
    for word in words:
        text = re.sub(rf"\b{re.escape(word)}\b", word, text, flags=re.IGNORECASE)
    return text


@cache
def _any_of(words: str) -> str:
    """The words of a list, for any of them to be found."""
    return "|".join(map(re.escape, sorted(word_list(words))))


def _of_sizes(sentence: Sentence) -> bool:
    """Whether an amount is told for every size, or nothing but which is asked: ``and the third?``."""
    return _over_sizes(sentence) or (len(sentence.tokens) <= A_FEW_WORDS and not sentence.phrases)


def _over_sizes(sentence: Sentence) -> bool:
    """Whether an amount is told for every size."""
    amounts = (phrase for phrase in sentence.phrases if phrase.kind in ("length", "mass", "count"))
    return any(len(phrase.value.values) > 1 for phrase in amounts)


def _ends(sentence: Sentence, at: int) -> bool:
    return sentence.kind_at(at) in ("", "STOP", "COMMA", "NEWLINE")


def spares(sentence: Sentence, used: list[Phrase]) -> int | None:
    """The spares asked for: ``no spare``, ``2 spares``; None where nothing is said of them."""
    counted = next((phrase for phrase in sentence.phrases if phrase.kind == "spares"), None)
    if counted:
        used.append(counted)
        return int(counted.value.values[0])
    text = sentence.text.lower()
    numbers = "|".join(load("words.toml")["numbers"])
    skeins = "|".join(word_list("skeins_bought"))
    extra = re.search(rf"\b({numbers}) (?:extra|spare) (?:{skeins})\b", text)
    if extra and not sentence.said("have.before", "ask.enough"):
        return int(load("words.toml")["numbers"][extra.group(1)])
    if "spare" not in text:
        return None
    if any(re.search(rf"\b{re.escape(said)}\b", text) for said in load("words.toml")["spares"]["none"]):
        return 0
    if any(re.search(rf"\b{re.escape(said)}\b", text) for said in load("words.toml")["spares"]["one"]):
        return 1
    for phrase in sentence.phrases:
        beside = {sentence.lower_at(phrase.last), sentence.lower_at(phrase.first - 1)} & {"spare", "spares"}
        if phrase.kind == "num" and beside and len(phrase.value.values) == 1:
            used.append(phrase)
            return int(phrase.value.values[0])
    if re.search(r"\b(?:plus|and|with|including|incl) (?:a|the) spare\b(?! (?:room|moment|time))", text):
        return 1
    worded = re.search(rf"\b({numbers}) (?:(?:as|for) )?spares?\b", text)
    return int(load("words.toml")["numbers"][worded.group(1)]) if worded else None


_TOPIC = re.compile(
    r"^\W*(?:help(?: me)?(?: with| about| on)?|how (?:do|can|should) (?:i|you) "
    r"(?:write|type|ask(?: for| about)?|enter|say))"
    r"\s+(?:a |an |the |my )?(?P<topic>[a-z]+)\W*$",
    re.IGNORECASE,
)


def one_label(sentence: Sentence) -> str:
    """The colour label of a text that holds one and no other."""
    names = {label.name for label in certain_labels(sentence) or colour_words(sentence.text)}
    return names.pop() if len(names) == 1 else ""


def blend(sentence: Sentence, used: list[Phrase]) -> tuple[float, ...]:
    """``60% wool, 40% silk``: all percents, where one of them stands beside a fibre."""
    fibres = word_list("fibres") | word_list("fibre_words")
    parts = [phrase for phrase in sentence.phrases if phrase.kind == "percent"]
    if not any({sentence.lower_at(p.last), sentence.lower_at(p.first - 1)} & fibres for p in parts):
        return ()
    used += parts
    return tuple(part.value for part in parts)


def topic(sentence: Sentence) -> str | None:
    """What help is asked about: ``help sizes``, ``how do I write a gauge``, ``sources``."""
    found = _TOPIC.search(sentence.text)
    if found:
        return found.group("topic").lower()
    return "sources" if sentence.said("ask.sources") else None


def chest_sizes(sentence: Sentence, parted: list[Colour], used: list[Phrase]) -> tuple[str, ...]:
    """The chests of the sizes, as names, where there are as many as sizes of the need.

    In a line to be checked, those headed ``Sizes:`` as well where there are more or fewer.
    """
    count = max((len(series.values) for colour in parted for series in colour.amounts), default=0)
    if count < 2:
        return ()
    for phrase in sentence.phrases:
        heading = {sentence.kind_at(at) for at in (phrase.first, phrase.first - 2)}
        headed = sentence.said("ask.check") and "SIZES" in heading
        if phrase.kind in ("smalls", "nums") and (headed or len(phrase.value.values) == count):
            lead = (*range(max(0, phrase.first - 5), phrase.first), phrase.last, phrase.last + 1)
            if headed or any(
                sentence.kind_at(i) == "CHEST" or sentence.lower_at(i) in ("fit", "bust", "chest", "size", "sizes")
                for i in lead
            ):
                used.append(phrase)
                return tuple(f"{value:g}" for value in phrase.value.values)
        if (
            phrase.kind == "nums"
            and len(phrase.value.values) == count
            and sentence.lower_at(phrase.last) in word_list("ages")
        ):
            used.append(phrase)
            return tuple(f"{value:g}" for value in phrase.value.values)
    return ()


def pick_by_name(sentence: Sentence, names: tuple[str, ...], used: list[Phrase]) -> str | None:
    """``I'm making the 42 in``, ``she's a 14``, ``12 years in DK``: a size by its name or its chest."""
    for phrase, name in (*_numbers_that_name(sentence, names, used), *_chests_that_name(sentence, names, used)):
        of_age = sentence.lower_at(phrase.last) in word_list("ages")
        lead = sentence.kind_at(phrase.first - 1)
        lead = sentence.kind_at(phrase.first - 2) if lead == "HOLD" else lead  # my bust's 42, her chest is 96
        if lead in _LEAD_TO_A_SIZE or (of_age and _sized_by_age(sentence)):
            used.append(phrase)
            return name
    return _worded(sentence, names)


_LEAD_TO_A_SIZE = frozenset({"CHEST", "THE", "ARTICLE", "SIZE", "WORD", "FOR", "IN"})


def _sized_by_age(sentence: Sentence) -> bool:
    """``size 8, 10, 12 years``: whether the sizes are ages."""
    sizes = (phrase for phrase in sentence.phrases if phrase.kind in ("sizes", "nums"))
    return any(sentence.lower_at(phrase.last) in word_list("ages") for phrase in sizes)


def _chests_that_name(sentence: Sentence, names: tuple[str, ...], used: list[Phrase]) -> Iterator[tuple[Phrase, str]]:
    """The lone measures that are one of the chests listed beside as many sizes, each with the name of its size."""
    chests = [p for p in sentence.phrases if p.kind == "smalls" and len(p.value.values) == len(names)]
    chests = [p for p in chests if any(sentence.kind_at(at) == "CHEST" for at in range(p.first - 4, p.first))]
    for phrase in sentence.phrases if len(chests) == 1 else ():
        if phrase in used or phrase.kind not in ("small", "num"):
            continue
        value = phrase.value.value if phrase.kind == "small" else phrase.value.values[0]
        if chests[0].value.values.count(value) == 1:
            yield phrase, names[chests[0].value.values.index(value)]


def double_named(sentence: Sentence, names: tuple[str, ...], used: list[Phrase]) -> str | None:
    """``for L/XL``, ``3-4 years in 4 ply``: a size of which the name is two in one, told outside their list."""
    listed = {at for phrase in used if phrase.kind == "sizes" for at in range(phrase.first, phrase.last)}
    doubles = {name.casefold(): name for name in names if "/" in name or "-" in name}
    for at in range(len(sentence.tokens) - 2):
        name = doubles.get("".join(sentence.lower_at(i) for i in range(at, at + 3)))
        if name and at not in listed:
            used += [p for p in sentence.phrases if p.first < at + 3 and at < p.last and p not in used]
            return name
    return None


def _worded(sentence: Sentence, names: tuple[str, ...]) -> str | None:
    """``Sizes S (M, L) … Medium in DK?``, ``Large only``: a size in words, of sizes told before, that opens a
    clause or is said to be wanted."""
    said = _outside_a_list(sentence, _SIZE_OPENS) if names else None
    size = load("words.toml")["size_words"][" ".join(said.group("size").lower().split())] if said else None
    return size if size in names or size in {name[:1].upper() for name in names} else None


def _outside_a_list(sentence: Sentence, wording: re.Pattern[str]) -> re.Match[str] | None:
    """The first size so worded that is not one of ``900 m for the small, 1000 m for the large``, told one by one."""
    listed = [
        (sentence.tokens[p.first].start, sentence.tokens[p.last - 1].end) for p in sentence.phrases if p.kind == "named"
    ]
    told = wording.finditer(sentence.text)
    return next((said for said in told if not any(a <= said.start("size") < b for a, b in listed)), None)


_SIZE_OPENS = re.compile(
    r"(?:^|[.?!\n;,:]\s*|\b(?:need|want|take|knit|making|knitting|doing|for)\s+)(?:(?:and|so|now|then)\s+)?(?:the\s+)?(?P<size>(?:extra\s+)?(?:small|large)|medium)"
    r"(?=\s*(?:[?.!,;\n]|$|\b(?:in|only|please|for|at|with|using|size)\b))",
    re.IGNORECASE,
)


def picked_again(sentence: Sentence, names: tuple[str, ...], pick: str | None, used: list[Phrase]) -> str | None:
    """The size picked; ``a 44, so the third size``: its name, told as well, is added to ``used``."""
    place = _PLACE.match(pick) if pick else None
    at = int(place.group()) - 1 if place else -1
    for phrase, name in _numbers_that_name(sentence, names, used):
        if pick == name or names[at : at + 1] == (name,):
            used.append(phrase)
    return pick


_PLACE = re.compile(r"[1-9][0-9]?(?=st|nd|rd|th)")


def _numbers_that_name(sentence: Sentence, names: tuple[str, ...], used: list[Phrase]) -> Iterator[tuple[Phrase, str]]:
    """The lone numbers and measures not used yet that are names of sizes, each with the name."""
    for phrase in sentence.phrases:
        if phrase in used or phrase.kind not in ("small", "num"):
            continue
        name = f"{phrase.value.value if phrase.kind == 'small' else phrase.value.values[0]:g}"
        if name in names:
            yield phrase, name


_WANTS = (
    ("ask.strand_count", "strands"),
    ("ask.why", "why"),
    ("ask.sure", "sure"),
    ("ask.cost", "cost"),
    ("ask.grams", "mass"),
    ("ask.skeins", "skeins"),
    ("ask.total", "length"),
)


def figure_wanted(sentence: Sentence) -> str | None:
    priced = any(phrase.kind == "price" for phrase in sentence.phrases)
    said = [want for cue, want in _WANTS if sentence.said(cue)]
    if "cost" in said and not priced and len(said) > 1:
        said.remove("cost")
    if said and said[0] != "mass":
        return said[0]
    return _unit_asked(sentence) or (said[0] if said else None)


def _unit_asked(sentence: Sentence) -> str | None:
    """The unit of ``how many metres``, ``… to yards?``, ``total metres?``, ``metres?``, ``how many feet of yarn``."""
    for at, token in enumerate(sentence.tokens):
        of_yarn = token.kind == "SHORT" and sentence.kind_at(at + 1) == "OF" and sentence.lower_at(at + 2) in _YARN
        if token.kind not in ("LEN", "MASS") and not of_yarn:
            continue
        further = sentence.lower_at(at - 1) == "more"  # how many more grams
        before = [sentence.lower_at(at - 2 - further), sentence.lower_at(at - 1 - further)]
        ends = sentence.kind_at(at + 1) in ("STOP", "") or sentence.lower_at(at + 1) == "please"
        summed = before[1] == "total" and token.kind == "LEN"
        alone = sentence.kind_at(at - 1) in ("", "STOP", "NEWLINE", "COMMA") and sentence.lower_at(at + 1) != "."
        turned = before[1] == "into" or (before[1] == "need" and sentence.lower_at(at + 1) in word_list("rather_than"))
        if before == ["how", "many"] or turned or (ends and (before[1] in _INTO or summed or alone)):
            return str(token.value)
    return None


_YARN = frozenset({"yarn", "wool", "it", "this", "that"})

_INTO = frozenset({"to", "into", "in", "as"})
