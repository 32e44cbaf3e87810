"""Colours of a pattern: the labels in a text and which amounts stand under each."""

from __future__ import annotations

import itertools
import re
from bisect import bisect_left, bisect_right
from dataclasses import dataclass, replace
from functools import lru_cache

from yarnchat.language.counts import MOST_SKEINS
from yarnchat.language.labels import LABEL, numbers_a_shade
from yarnchat.language.lexicon import load, word_list
from yarnchat.language.made import asked_of_each, things_listed
from yarnchat.language.phrases import Phrase
from yarnchat.language.sentence import Sentence
from yarnchat.quantity import LENGTHS, MASSES
from yarnchat.queries import Colour, PutUp, Series

_OF = re.compile(r"[0-9][ ]?[a-z]+[ ]of[ ](?P<name>[a-z]+)\b", re.IGNORECASE)
_LETTER = re.compile(r"[A-E](?<!\w.)\b(?=[ ]?[:=-]?[ ]?[0-9])")
_CAPITAL = re.compile(
    r"(?:(?<=^)|(?<=\n)|(?<=[,;/&.!] )|(?<=[,;/&]))[ ]*"
    r"(?P<name>[A-Z][\w']+(?:[ ][A-Z][\w']+){0,2}(?:[ ][0-9]{1,5})?)(?=[ ]?[:=-]|[ ][0-9(])"
)


@dataclass(frozen=True, slots=True)
class Label:
    """A colour's label and where it stands, in characters."""

    name: str
    start: int
    end: int
    certain: bool


def certain_labels(sentence: Sentence) -> list[Label]:
    """The colour labels of a text that are so by their form."""
    return [] if _lettered(sentence) else _certain(sentence.text)


def _lettered(sentence: Sentence) -> bool:
    """Whether letters name the yarns to choose from, and so no colours."""
    return any("letter" in phrase.flags for phrase in sentence.phrases)


def _labels(sentence: Sentence) -> list[Label]:
    """The colour labels of a text; plain colour names only where several stand beside amounts."""
    if _lettered(sentence):
        return []
    certain, named = _certain(sentence.text), colour_words(sentence.text)
    behind = _shades_behind(sentence)
    if len(behind) > max(len(certain), len(named), 1):
        return behind
    if certain or named or any(token.lower in word_list("of_colours") for token in sentence.tokens):
        listed = _listed(sentence)
        if len(listed) > max(len(certain), len(named), 1):
            return listed
    if not certain and asked_of_each(sentence):
        things = [sentence.tokens[at] for _, at in things_listed(sentence)]
        if len({thing.lower for thing in things}) == len(things) > 1:
            return [Label(thing.text, thing.start, thing.end, False) for thing in things]
    if len(certain) == 1:
        beside = named or [label for label in _parts_listed(sentence) if label.start >= certain[0].end]
        return sorted([*certain, *beside], key=lambda label: label.start)  # main 690 m, blue 85 m; border 240 yds
    return certain or _behind_counts(sentence) or _plain(sentence.text)


def _behind_counts(sentence: Sentence) -> list[Label]:
    """``4 balls Slate (main)``, ``400-450 g colour no 07, oat``: what names a shade behind each amount of a list."""
    told = [phrase for phrase in sentence.phrases if phrase.kind in ("count", "times", "mass", "length")]
    listed = [phrase for phrase in told if _opens_a_line(sentence, phrase.first)]
    named = [label for phrase in listed if (label := _shade_behind(sentence, phrase))]
    return named if len(named) > 1 and len(named) == len(listed) else []


def _shade_behind(sentence: Sentence, amount: Phrase) -> Label | None:
    """The shade right behind an amount: its name, behind its number where that is told, else the number."""
    at = _past_its_number(sentence, amount.last)
    numbered = sentence.tokens[amount.last : at]
    at += sentence.kind_at(at) == "COMMA" and bool(numbered)
    word = sentence.tokens[at] if at < len(sentence.tokens) else None
    plain = word is not None and word.kind == "WORD" and word.lower not in load("openers.toml")["openers"]
    if word and plain and (numbered or (amount.kind in ("count", "times") and word.text[0].isupper())):
        return Label(word.text, word.start, word.end, False)
    if not numbered:
        return None
    return Label(" ".join(token.text for token in numbered), numbered[0].start, numbered[-1].end, False)


def _shades_behind(sentence: Sentence) -> list[Label]:
    """``140 yds teal and 70 yds lemon``, ``210 m of the main and 120 m of the contrast``: a word behind each amount.

    One of them must be a word for a colour, or what each takes be asked.
    """
    told = [p for p in sentence.phrases if p.kind in ("length", "count", "mass")]
    named = [word for phrase in told if (word := _word_behind(sentence, phrase))]
    of_colours = word_list("colours") | word_list("which_colours") | word_list("main_colours")
    coloured = any(word.name.lower() in of_colours for word in named)
    alike = len({word.name for word in named}) == len(named) == len(told) and len({p.kind for p in told}) == 1
    return named if alike and len(named) > 1 and (coloured or asked_of_each(sentence)) else []


def _word_behind(sentence: Sentence, amount: Phrase) -> Label | None:
    """The plain word that ends what is told of an amount: the lemon of ``70 yds lemon,``, ``70 yds of lemon yarn``."""
    at = amount.last + (sentence.kind_at(amount.last) == "OF")
    at += sentence.kind_at(at) == "THE" or sentence.lower_at(at) in word_list("whose")
    asking = {on for cue in sentence.cues if cue.kind.split(".")[0] in _NO_COLOUR for on in range(cue.first, cue.last)}
    plain = sentence.kind_at(at) == "WORD" and at not in asking and sentence.lower_at(at) not in _no_shades()
    end = at + 1 + (sentence.lower_at(at + 1) in word_list("yarn_nouns") | word_list("colour_nouns"))
    if not plain or sentence.kind_at(end) not in _ENDS_AN_ITEM:
        return None
    word = sentence.tokens[at]
    return Label(word.text, word.start, word.end, False)


def _no_shades() -> frozenset[str]:
    """Words beside an amount that tell of it something else than a colour."""
    others = frozenset(load("openers.toml")["openers"]) | word_list("more_or_less")
    return others - word_list("main_colours") - word_list("which_colours")


_ENDS_AN_ITEM = frozenset({"", "COMMA", "SEMI", "AND", "NEWLINE", "STOP", "RPAR"})


def _past_its_number(sentence: Sentence, at: int) -> int:
    """Where the name of a shade would stand: behind ``shade 12``, ``colour no 07``, where that is told."""
    number = at + 1 + (sentence.kind_at(at + 1) == "HASH")
    numbered = sentence.lower_at(at) in word_list("shades") and sentence.kind_at(number) == "NUM"
    return number + 1 if numbered else at


def _opens_a_line(sentence: Sentence, at: int) -> bool:
    return sentence.kind_at(at - 1) in ("", "NEWLINE", "COMMA", "SEMI", "COLON", "AND")


_OPENS_AN_ITEM = frozenset({"", "COMMA", "COLON", "SEMI", "AND", "NEWLINE", "STOP", "LPAR", "DASH", "OF"})


def _listed(sentence: Sentence) -> list[Label]:
    """``ground 740 m, flower 160 m, leaf 95 m``: the word before each amount of a list, whatever it is."""
    asking = {at for cue in sentence.cues if cue.kind.split(".")[0] in _NO_COLOUR for at in range(cue.first, cue.last)}
    found = []
    for phrase in sentence.phrases:
        at = _past_its_role(sentence, phrase.first - 1)
        if phrase.kind not in ("length", "count", "mass") or at < 0 or at in asking:
            continue
        called = sentence.lower_at(at) in word_list("colour_nouns") and sentence.kind_at(at - 1) == "WORD"
        at -= called  # body colour 610 m
        token, last = sentence.tokens[at], sentence.tokens[phrase.first - 1]
        lettered = token.text == "A" and sentence.lower_at(phrase.last + 1) == "b"  # A 60 m, B 45 m
        named = token.kind == "WORD" and (called or token.lower not in _no_shades())
        opens = sentence.kind_at(at - 1) in _OPENS_AN_ITEM or sentence.lower_at(at - 1) in word_list("comes_next")
        if (named or lettered) and opens:
            found.append(Label(sentence.text[token.start : last.end], token.start, last.end, False))
    return found


def _past_its_role(sentence: Sentence, at: int) -> int:
    """The place of the name before an amount; before the brackets of ``navy (main colour) 1300 m``."""
    if sentence.kind_at(at) != "RPAR":
        return at
    opens = next((on for on in range(at - 1, at - _A_ROLE, -1) if sentence.kind_at(on) == "LPAR"), at)
    said = {sentence.lower_at(on) for on in range(opens + 1, at)}
    return opens - 1 if said & word_list("colour_roles") else at


_A_ROLE = 5


def _parts_listed(sentence: Sentence) -> list[Label]:
    """``main colour 900 yds, border 240 yds``: parts of a garment right before the amounts of a list."""
    words = [
        sentence.tokens[p.first - 1] for p in sentence.phrases if p.kind in ("length", "count", "mass") and p.first
    ]
    return [Label(word.text, word.start, word.end, False) for word in words if word.lower in word_list("garment_parts")]


_NO_COLOUR = frozenset({"need", "pattern", "yarn", "have", "used", "ask", "progress", "shape"})
"""The sections of cues whose words name no colour."""


@lru_cache(maxsize=64)
def _certain(text: str) -> list[Label]:
    """Labels by their form: MC, CC 1, main colour, contrast A, else letters before amounts from A on."""
    formed = [m for m in LABEL.finditer(text) if _really(m) and not _may_be_a_thousand(m, text)]
    certain = [_with_its_name(m, text, _OWN_NAME) for m in formed]
    if len({label.name for label in certain}) < len(certain):
        certain = [_with_its_name(m, text, _PLAIN_NAME) for m in formed]  # contrast rust: 260 m, contrast cream: 45 m
    if {"A", "B"} <= {label.name.split()[0] for label in certain}:
        third = re.search(r"\bC\b(?=[ ]?[:=-]|[ ]\([^()\n]{2,24}\)[ ]?[:=-]|[ ][A-Z][a-z]+[ ]?[:=-]?[ ][0-9])", text)
        certain += [_with_its_name(third, text, _OWN_NAME)] if third else []
        certain.sort(key=lambda label: label.start)
    letters = [Label(m.group(), m.start(), m.end(), True) for m in _LETTER.finditer(text)]
    from_a = bool(letters) and letters[0].name == "A"
    if from_a and certain and not any(label.name[0] in "ABCDE" for label in certain):
        return sorted([*certain, *letters], key=lambda label: label.start)  # MC 780 m, A 150 m, B 90 m
    return certain or (letters if from_a and len({label.name for label in letters}) > 1 else [])


def _may_be_a_thousand(found: re.Match[str], text: str) -> bool:
    """``contrast 1 200 m`` alone: the first contrast, or 1,200 m; beside ``contrast 2 85 m`` it is the first."""
    numbers = {m.group()[-1] for m in LABEL.finditer(text) if m.group()[-1].isdigit()}
    return found.group()[-1] in numbers and len(numbers) == 1 and bool(_THREE_DIGITS.match(text, found.end()))


_THREE_DIGITS = re.compile(r"[ ][0-9]{3}\b")
_OWN_NAME = re.compile(
    r"\]?[ ]?[:–-]?[ ]?(?P<open>\()?(?P<own>[A-Z][a-z']+(?:[ ][A-Z][a-z']+)?)"
    r"(?(open)\)(?=[ ]?[:=,–-])|(?=[ ]?[:=,–-]|[ ][0-9(]))"
)


_PLAIN_NAME = re.compile(
    r"[ ]?[:,–-]?[ ]?(?P<open>\()?(?P<own>[^\W\d_]+(?:[ ][^\W\d_]+)?)(?(open)\)(?=[ ]?[:=,–-])|(?=[ ]?[:=–-]))"
)


def _with_its_name(found: re.Match[str], text: str, naming: re.Pattern[str]) -> Label:
    """A label, and the name of the colour where one stands between it and the amount: ``MC: Peat – 4 balls``."""
    label = found.group().strip(" :-")
    own = naming.match(text, found.end())
    if own is None or own.group("own").split()[0].lower() in load("openers.toml")["openers"]:
        return Label(label, found.start(), found.end(), True)
    return Label(f"{label} {own.group('own')}", found.start(), own.end(), True)


def _plain(text: str) -> list[Label]:
    """Names of colours where there are several, else words with a capital before an amount."""
    made_of = [found for found in _OF.finditer(text) if found.group("name").lower() not in _no_shades()]
    if len(made_of) > 1:
        of_colours = [m.group("name").lower() in word_list("colours") for m in made_of]
        if any(of_colours):  # 640 yds of navy plus 310 yds of chalk
            return [Label(m.group("name"), m.start("name"), m.end("name"), False) for m in made_of]
    named = colour_words(text)
    capitals = [
        Label(m.group("name"), m.start("name"), m.end("name"), False)
        for m in _CAPITAL.finditer(text)
        if m.group("name").split()[0].lower() not in load("openers.toml")["openers"]
    ]
    return named if len(named) > 1 and len(named) >= len(capitals) else capitals


def colour_words(text: str) -> list[Label]:
    """Names of colours, wherever they stand."""
    colours = word_list("colours")
    words = (found for found in _WORD.finditer(text) if found.group().lower() in colours)
    return [Label(found.group(), found.start(), found.end(), False) for found in words]


_WORD = re.compile(r"[^\W\d_]+")


def _really(found: re.Match[str]) -> bool:
    label = found.group()
    if len(label) <= 2 and label.islower() and label not in ("mc", "cc"):
        return False
    return label.upper() != "C"


_KINDS = {"skein": "count", **dict.fromkeys(LENGTHS, "length"), **dict.fromkeys(MASSES, "mass")}


def _skeins_by_line(sentence: Sentence) -> None:
    """Lines of a colour's name and numbers alone, under a put-up: ``Heather 7 (8, 9)``, ``Chalk 2 (2, 3)`` skeins."""
    if not any(phrase.kind == "putup" for phrase in sentence.phrases):
        return
    if any(phrase.kind in ("length", "count", "mass", "times") for phrase in sentence.phrases):
        return
    rows = [
        phrase
        for phrase in sentence.phrases
        if phrase.kind in ("num", "nums")
        and max(phrase.value.values) <= MOST_SKEINS
        and sentence.kind_at(phrase.last) in ("", "NEWLINE")
        and _led_by_a_shade(sentence, phrase)
    ]
    if len(rows) > 1 and len({len(row.value.values) for row in rows}) == 1:
        for row in rows:
            row.kind, row.value = "count", replace(row.value, unit="skein")


def _led_by_a_shade(sentence: Sentence, phrase: Phrase) -> bool:
    """``Heather 7 (8, 9)``, ``Shade 101: 5``, ``A – Flint 3``: whether a line holds a shade and a list alone."""
    begin = sentence.line_of(phrase.first)
    lead = range(begin, phrase.first)
    kinds = {at: sentence.kind_at(at) for at in lead}
    told = all(kind in _IN_A_SHADE or (kind == "NUM" and numbers_a_shade(sentence, at)) for at, kind in kinds.items())
    others = word_list("measure_lines") | word_list("notions_headings") | word_list("quantity")
    things = {at for cue in sentence.cues if cue.kind == "harmless.noun" for at in range(cue.first, cue.last)}
    of_else = not things.isdisjoint(lead) or any(sentence.lower_at(at) in others for at in lead)
    return told and 0 < len(lead) <= _A_SHADE and sentence.tokens[begin].text[0].isupper() and not of_else


_IN_A_SHADE = frozenset({"WORD", "NAME", "ARTICLE", "DASH", "COLON", "EQ", "HASH", "X"})
_A_SHADE = 6
"""No more pieces than this name a shade before its number of skeins."""


def share_the_unit(sentence: Sentence) -> None:
    """``MC 5 (6, 7), CC 1 (2, 2) skeins``, ``Skeins: MC 5, CC 2``: a unit said once, for every colour of the line."""
    _skeins_by_line(sentence)
    ends = {label.end for label in certain_labels(sentence)}
    if not ends:
        return
    led = [phrase for phrase in sentence.phrases if _after_one_of(sentence, phrase, ends)]
    bare = [phrase for phrase in led if phrase.kind in ("num", "nums")]
    for phrase in bare:
        start = sentence.tokens[phrase.first].start
        later = [p for p in led if p.first > phrase.first and p.kind in _KINDS.values()]
        said = [p.value.unit for p in later if "\n" not in sentence.text[start : sentence.tokens[p.first].start]]
        unit = said[0] if said else _unit_of_the_line(sentence, start)
        if unit:
            phrase.kind, phrase.value = _KINDS[unit], replace(phrase.value, unit=unit)


def _after_one_of(sentence: Sentence, phrase: Phrase, ends: set[int]) -> bool:
    """Whether a phrase stands right after a label: nothing but a colon, a dash or space between."""
    start = sentence.tokens[phrase.first].start
    return any(end <= start and not sentence.text[end:start].strip(" :=-") for end in ends)


def _unit_of_the_line(sentence: Sentence, at: int) -> str | None:
    """The unit that opens the line before a place, with a colon: ``Skeins: MC 5``."""
    begin = sentence.text.rfind("\n", 0, at) + 1
    first = next((i for i, token in enumerate(sentence.tokens) if token.start >= begin), 0)
    token = sentence.tokens[first]
    if sentence.kind_at(first + 1) != "COLON" or token.kind not in ("SKEIN", "LEN", "MASS"):
        return None
    return "skein" if token.kind == "SKEIN" else str(token.value)


def colours(sentence: Sentence, needs: list[Phrase], series: dict[int, tuple[Series, ...]]) -> list[Colour]:
    """The needs parted by colour: each amount goes to the label before it in its sentence, else to the one after it.

    ``series``: what each amount says, by the identity of its phrase. One colour without a name where no labels stand,
    or where fewer than two of them have an amount.
    """
    if not needs:
        return []
    found = _labels(sentence)
    given: dict[str, list[Phrase]] = {}
    lonely: list[Phrase] = []
    place = itertools.count(1)
    for phrase, label in zip(needs, _labels_of(sentence, found, needs), strict=True):
        if "alike" in phrase.flags:
            given[f"{_called_alike(sentence, phrase)} {next(place)}"] = [phrase]
        elif label is None:
            lonely.append(phrase)
        else:
            given.setdefault(label.name, []).append(phrase)
    if len(given) > 1 and sentence.said("ask.check"):
        lonely = [phrase for phrase in lonely if not _under_a_label(sentence, phrase, found, given)]
    if len(lonely) == len(needs) == 1 and (asked := _asked_about(sentence, found)):
        given, lonely = {asked.name: needs}, []
    certain = bool(found) and found[0].certain
    if len(given) < 2 or (lonely and not certain):
        name = next(iter(given), "") if certain and len(given) == 1 and not lonely else ""
        given, lonely = {name: needs} if needs else {}, []
    if lonely:
        given[""] = lonely
    given = _shared(sentence, found, given)
    wound = _wound(sentence, found) if sentence.said("ask.check") else {}
    return [
        Colour(name, tuple(s for phrase in under for s in series[id(phrase)]), wound.get(name))
        for name, under in given.items()
    ]


def _shared(sentence: Sentence, found: list[Label], given: dict[str, list[Phrase]]) -> dict[str, list[Phrase]]:
    """``CC1 and CC2 2 balls each``: so much of every one of the colours joined before an amount that is of each."""
    out: dict[str, list[Phrase]] = {}
    for label in found:
        under = given.get(label.name, []) if label.name not in out else []
        each = any(sentence.kind_at(at) == "EACH" for p in under for at in range(p.first - 1, p.last + 1))
        alike = [other.name for other in joined_before(sentence, label, found) if other.name not in given]
        for name in [*(alike if each else []), *([label.name] if under else [])]:
            out.setdefault(name, under)
    return out | {name: under for name, under in given.items() if name not in out}


def joined_before(sentence: Sentence, label: Label, found: list[Label]) -> list[Label]:
    """The labels that stand before one and are joined to it, with nothing told between: ``CC1 and CC2``."""
    joined = [label]
    for before in reversed(found[: found.index(label)]):
        if sentence.text[before.end : joined[0].start].strip().lower() not in _JOINS:
            break
        joined.insert(0, before)
    return joined[:-1]


def joined_behind(sentence: Sentence, label: Label, found: list[Label]) -> list[Label]:
    """The labels that stand behind one and are joined to it, nothing told between: ``each of CC1, CC2, CC3``."""
    joined = [label]
    for after in found[found.index(label) + 1 :]:
        if sentence.text[joined[-1].end : after.start].strip().lower() not in _JOINS:
            break
        joined.append(after)
    return joined[1:]


_JOINS = frozenset({",", "and", "&", "+", ", and"})
"""What may stand between two colours of which so much of each is told."""


def _called_alike(sentence: Sentence, phrase: Phrase) -> str:
    """What colours of which so much each is told are called: ``contrast`` or ``colour``, with a number behind it."""
    lead = {sentence.lower_at(at) for at in range(max(0, phrase.first - 5), phrase.first)}
    return "contrast" if lead & {"contrast", "contrasting", "contrasts", "ccs", "accent"} else "colour"


def _under_a_label(sentence: Sentence, phrase: Phrase, found: list[Label], given: dict[str, list[Phrase]]) -> bool:
    """``MC 3 skeins, 560 m``: in a line to be checked, a second amount is of the label before it, and given to it."""
    start = sentence.tokens[phrase.first].start
    row = [label for label in found if label.end <= start and _same_line(sentence, label.end, start)]
    if row:
        given.setdefault(row[-1].name, []).append(phrase)
    return bool(row)


def _wound(sentence: Sentence, found: list[Label]) -> dict[str, PutUp]:
    """The put-up said after each label, where there is one after more than one of them."""
    wound: dict[str, PutUp] = {}
    for phrase in sentence.phrases:
        start = sentence.tokens[phrase.first].start
        row = [label for label in found if label.end <= start and _same_line(sentence, label.end, start)]
        if phrase.kind in ("putup", "times") and row:
            wound.setdefault(row[-1].name, phrase.value if phrase.kind == "putup" else phrase.value[1])
    return wound if len(wound) > 1 else {}


def _asked_about(sentence: Sentence, found: list[Label]) -> Label | None:
    """``and the contrast colour? it's 150 yds``: the only label, where a question ends with it."""
    asked = len(found) == 1 and found[0].certain and sentence.text[found[0].end :].lstrip().startswith("?")
    return found[0] if asked else None


def _labels_of(sentence: Sentence, found: list[Label], needs: list[Phrase]) -> list[Label | None]:
    """The label of each amount: labels stand before their amounts or after, whichever is nearer over them all."""
    starts = [sentence.tokens[need.first].start for need in needs]
    ahead = [_label_before(sentence, start, found, starts) for start in starts]
    behind = [_label_behind(sentence, sentence.tokens[need.last - 1].end, found, starts) for need in needs]
    rows = (ahead, behind)
    reached = [sum(label is not None for label in row) for row in rows]
    far = [sum(_gap(sentence, n, label) for n, label in zip(needs, row, strict=True) if label) for row in rows]
    trailing = reached[1] > reached[0] or (reached[1] == reached[0] and far[1] < far[0])
    return behind if trailing else ahead


def _gap(sentence: Sentence, need: Phrase, label: Label) -> int:
    start, end = sentence.tokens[need.first].start, sentence.tokens[need.last - 1].end
    return label.start - end if label.start >= end else start - label.end


def _label_before(sentence: Sentence, start: int, found: list[Label], needs: list[int]) -> Label | None:
    """The nearest label before an amount, in its line, with no other amount between; ``needs``: where each starts."""
    at = bisect_right(found, start, key=lambda label: label.end)
    label = found[at - 1] if at else None
    return label if label and _next_to(sentence, label.end, start, needs) else None


def _label_behind(sentence: Sentence, end: int, found: list[Label], needs: list[int]) -> Label | None:
    """The nearest label a little behind an amount, in its line and with no other amount between."""
    at = bisect_left(found, end, key=lambda label: label.start)
    label = found[at] if at < len(found) and found[at].start - end < _BEHIND else None
    return label if label and _next_to(sentence, end, label.start, needs) else None


_BEHIND = 24
"""So many characters behind an amount its label may begin."""


def _next_to(sentence: Sentence, start: int, end: int, needs: list[int]) -> bool:
    """Whether two places stand in one line, with no amount that starts between them."""
    return bisect_left(needs, start) == bisect_left(needs, end) and _same_line(sentence, start, end)


def _same_line(sentence: Sentence, start: int, end: int) -> bool:
    return not re.search(r"\n|(?<!\bno)[.;?!](?:\s|$)", sentence.text[start:end])
