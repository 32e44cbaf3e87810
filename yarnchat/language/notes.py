"""What is asked of the notebook: the verb that opens the sentence, of what kind of thing, and its name."""

from __future__ import annotations

import re
from dataclasses import replace

from yarnchat.language.lexicon import load, word_list
from yarnchat.language.phrases import Phrase
from yarnchat.language.sentence import Cue, Sentence
from yarnchat.language.tokens import Token
from yarnchat.queries import MORE, PART, Note

_LEADS = frozenset(
    {
        "please",
        "pls",
        "can",
        "could",
        "you",
        "and",
        "also",
        "ok",
        "okay",
        "now",
        "hi",
        "hello",
        "hey",
        "so",
        "then",
        "just",
        "i",
        "want",
        "would",
        "like",
        "to",
        "let's",
        "lets",
        "right",
        "for",
        "me",
        "kindly",
        ",",
        "this",
        "one",
        "well",
        "as",
        "thanks",
        "thank",
        "ta",
        "cheers",
    }
)
_CALLED = re.compile(
    r"\b(?:call(?:ed)?(?: it)?|named?|as|rename .*? to|rename .*? as)\s+"
    r"[\"“]?(?P<name>[A-Z0-9][^\",;.:\n]{1,60}?)[\"”]?\s*(?:[,;.:\n]|$)"
)
_SETTING = re.compile(
    r"\b(?:"
    r"(?:units?|spares?|scale)\b[^,;.]*\b(?P<unset>default)"
    r"|(?P<as_asked>units?\s+(?:of|as\s+in)\s+(?:the|each|my|a)\s+(?:questions?|patterns?))"
    r"|(?P<unit>metres|meters|yards|metric)"
    r"|units?\s+(?:to\s+|are\s+)?(?P<short>m|yds?)"
    r"|(?P<spares>\d+|no|one|two|three|zero)\s+spares?(?:\s+(?:skeins?|balls?))?"
    r"|spares?(?:\s+(?:skeins?|balls?))?\s*(?:to|is|are|=|:)?\s*(?P<count>\d+|none|one|two|three|zero)"
    r"|scale\D{0,30}?(?P<step>[0-9]*\.?[0-9]+)\s*(?:grams?|g)"
    r"|scale\b[^,;.0-9]{0,30}?(?P<whole>whole grams?|nearest gram|to the gram|to a gram)"
    r")\b",
    re.IGNORECASE,
)
_STANDING = re.compile(r"\b(?:always|from now on|by default|default|as a rule|remember|set)\b", re.IGNORECASE)
_COUNTS = {"no": "0", "none": "0", "zero": "0", "one": "1", "two": "2", "three": "3"}
_POLITE = r"(?:(?:please|pls|can you|could you|now|and|ok|okay)[\s,]+)*"
_EXPORT = re.compile(
    rf"^\s*{_POLITE}(?:export|(?:save|back\s*-?up|write)(?=\s+(?:my|the)?\s*(?:whole\s+)?notebook))\b"
    r"(?:\s+(?:my|the))?(?:\s+(?:whole\s+)?notebook|\s+everything)?(?:\s+(?:to|as|into|in))?"
    r"(?:\s+(?:the|a)\s+file)?(?:\s+(?:called|named))?(?P<file>.*)$",
    re.IGNORECASE | re.DOTALL,
)
_IMPORT = re.compile(
    rf"^\s*(?P<first>yes[\s,:;]+)?{_POLITE}(?:import|(?:load|restore)(?=\s+(?:my|the)?\s*notebook))\b"
    r"(?:\s+(?:my|the))?(?:\s+notebook)?(?:\s+from)?(?:\s+the\s+file)?"
    r"(?P<file>.*?)(?P<last>[\s,:;]+(?:yes|yes\s+please))?\s*[.!]?\s*$",
    re.IGNORECASE | re.DOTALL,
)
_A_FILE = re.compile(r"\bnotebook\b|\bfile\b|\bfrom\b|\"|(?<!\w)'|/|\.\w+$", re.IGNORECASE)
"""What says that a file is named, and not something else told of the import."""
_QUOTED = re.compile(r"^(?P<quote>[\"'])(?P<path>[^\"']+)(?P=quote)$")
_RENAME = re.compile(
    r"rename\s+(?:my\s+)?(?:the\s+)?(?P<old>.+?)\s+(?:to|as|into)\s+(?P<new>.+?)\s*(?:,?\s*\b(?:please|pls))?[.!]?$",
    re.IGNORECASE,
)
_FORGET = re.compile(
    r"\b(?:forget|delete|remove|drop)\s+(?:about\s+)?(?P<name>.+?)\s*[.!?]*$",
    re.IGNORECASE,
)
_FIBRE = re.compile(r"(?P<percent>\d{1,3})\s*%\s*(?P<fibre>[a-z][a-z '-]*?)\s*(?=[,;/&.\n\d]|and\b|$)", re.IGNORECASE)


def note_of(sentence: Sentence) -> Note | None:
    """A request to the notebook, or None. The words of a setting or of a file's name are taken out of the sentence."""
    if told := _file(sentence) or _stash_told(sentence) or _stash_asked(sentence):
        return told
    verb = _verb(sentence)
    if verb is None:
        return None
    if verb in ("rename", "forget"):
        note = _renamed(sentence) if verb == "rename" else _forgotten(sentence)
        _take(sentence, 0, len(sentence.text))
        return note
    if verb in ("undo", "set"):
        return _undone(sentence) if verb == "undo" else _set(sentence)
    named = [token.text for token in sentence.tokens if token.kind == "NAME"]
    kind = _kind(sentence)
    if verb == "show" or (verb == "list" and len(named) == 1 and not _told(sentence)):
        _take(sentence, 0, len(sentence.text))
        return Note("show", kind, named[0])
    if verb == "correct":
        return Note(verb, kind, _corrected(sentence), value=_which(sentence))
    return _remembered(sentence, kind, named) if verb == "remember" else Note(verb, kind)


def _stash_asked(sentence: Sentence) -> Note | None:
    """``how much Otter DK have I got?``: what is in the stash of one yarn, and nothing else asked."""
    held = [token.text for token in sentence.tokens if token.kind == "NAME"] or _capitals_asked_of(sentence)
    if len(held) != 1 or not {p.kind for p in sentence.phrases} <= {"name", "weight"}:
        return None
    if not _asks_of_the_stash(sentence):
        return None
    _take(sentence, 0, len(sentence.text))
    return Note("show", None, held[0])


def _remembered(sentence: Sentence, kind: str | None, named: list[str]) -> Note:
    """``remember Otter DK, 50 g/120 m``: what is to be kept, by which name, and of which fibres."""
    text = sentence.text.strip()
    called = _CALLED.search(text)
    if called and any(phrase.kind in _FACTS and _within(sentence, phrase, called) for phrase in sentence.phrases):
        called = None  # remember Plover DK as 225 m per 100 g
    if not called and not named:
        return Note("remember", kind, _first_words(sentence), fibre=_fibre(text))
    if kind is None and any(phrase.kind == "count" for phrase in sentence.phrases):
        kind = "stash"  # add 2 more balls of Otter DK
    besides = kind == "stash" and _besides(sentence)
    name = _bare(called.group("name")) if called else None
    return Note("remember", kind, name, value=MORE if besides else None, fibre=_fibre(text))


_AMOUNTS = frozenset({"count", "mass", "length", "times"})


def _within(sentence: Sentence, phrase: Phrase, called: re.Match[str]) -> bool:
    """Whether a phrase begins what was taken for a name."""
    blanks = len(sentence.text) - len(sentence.text.lstrip())
    return sentence.tokens[phrase.first].start == called.start("name") + blanks


def _stash_told(sentence: Sentence) -> Note | None:
    """``add 2 skeins of Dunnock DK to my stash``, ``one of them 62 g``: one yarn, so much of it, and nothing asked."""
    asked = {cue.kind for cue in sentence.cues if cue.kind.startswith("ask.")} - {"ask.in_stash", "ask.more_stash"}
    named = [token for token in sentence.tokens if token.kind == "NAME"]
    told = any(phrase.kind in _AMOUNTS for phrase in sentence.phrases)
    opens = sentence.lower_at(0) == "stash" and sentence.kind_at(1) == "NUM"  # stash 6 skeins Oldfold Worsted
    if asked or "?" in sentence.text or not told or len(named) != 1 or not (opens or sentence.said("ask.in_stash")):
        return None
    if not opens and not sentence.said("have.part", "ask.more_stash"):
        return None
    return Note("remember", "stash", value=PART if sentence.said("have.part") else MORE if _besides(sentence) else None)


def _besides(sentence: Sentence) -> bool:
    """Whether what is told is there besides: ``another``, ``put``; not the ``put`` of ``put aside``."""
    after = [(cue.first, cue.last) for cue in sentence.cues if cue.kind == "have.after"]
    more = [(cue.first, cue.last) for cue in sentence.cues if cue.kind == "ask.more_stash"]
    return any(not any(a <= first and last < b for a, b in after) for first, last in more)


def _capitals_asked_of(sentence: Sentence) -> list[str]:
    """``how much Oldfold do I have?``: words with a capital, where no whole name is told."""
    asked = [at for cue in sentence.cues if cue.kind == "verb.have" for at in range(cue.first + 1, cue.last)]
    words = [sentence.tokens[at] for at in asked]
    return [word.text for word in words if word.kind == "WORD" and word.text[0].isupper() and len(word.text) > 1]


def _asks_of_the_stash(sentence: Sentence) -> bool:
    """``how much Plover DK do I have?``, and not ``how much do I have to buy?``."""
    return any(cue.kind == "verb.have" and sentence.kind_at(cue.last) != "TO" for cue in sentence.cues)


def _told(sentence: Sentence) -> bool:
    """Whether an amount or a fact is said, and not only a name."""
    return any(phrase.kind in _AMOUNTS | _FACTS - {"weight"} for phrase in sentence.phrases)


def _undone(sentence: Sentence) -> Note:
    """``undo``, ``undo undo`` or ``undo 2``: how many changes are taken back."""
    said = sum(cue.kind == "verb.undo" for cue in sentence.cues)
    counts = [phrase.value.values[0] for phrase in sentence.phrases if phrase.kind == "num"]
    count = int(counts[0]) if len(counts) == 1 else said
    _take(sentence, 0, len(sentence.text))
    return Note("undo", value=str(count) if count > 1 else None)


def _renamed(sentence: Sentence) -> Note | None:
    """``rename my Dunnock DK swatch to first try``: what is renamed is of the kind said with the old name."""
    found = _RENAME.search(sentence.text.strip())
    if not found:
        return None
    old, new = _without_which(sentence, found.group("old")), found.group("new").strip(" \"'“”.,!?")
    return Note("rename", _kind_of(found.group("old")), _bare(old), new, value=_which(sentence))


def _forgotten(sentence: Sentence) -> Note:
    """``forget the first Dunnock DK swatch``."""
    found = _FORGET.search(sentence.text.strip())
    name = _bare(_without_which(sentence, found.group("name"))) if found else None
    told = [token for token in sentence.tokens if token.kind == "NAME"]
    if name and len(told) == 1 and name.startswith(str(told[0].value)) and "," in name:
        name = str(told[0].value)  # forget Ashlar Lace, we dropped it
    nothing_named = name is not None and name.lower() in {*load("cues.toml")["verb"]["all"], *_KINDS}
    return Note("forget", _kind(sentence), None if nothing_named else name, value=_which(sentence))


def _which(sentence: Sentence) -> str | None:
    """``the second Dunnock DK swatch``: which of several, as a number."""
    token = _ordinal(sentence)
    return f"{token.value}" if token else None


def _without_which(sentence: Sentence, name: str) -> str:
    token = _ordinal(sentence)
    return re.sub(rf"\b{re.escape(token.text)}\s+", "", name, count=1) if token else name


def _ordinal(sentence: Sentence) -> Token | None:
    """The word that counts, right before the name of something remembered or spoken of."""
    follows = zip(sentence.tokens, sentence.tokens[1:], strict=False)
    return next((one for one, two in follows if (one.kind, two.kind) == ("ORDINAL", "NAME")), None)


def names_a_file(text: str) -> bool:
    """Whether a text exports or imports: what it names is a file's."""
    return bool(_EXPORT.match(text.strip()) or _import(text.strip()))


def _import(text: str) -> re.Match[str] | None:
    """``import box.json``, ``import my notebook``; not ``import yarn just came in, 200 m``."""
    found = _IMPORT.match(text)
    words = len(found.group("file").split()) if found else 0
    return found if words <= 1 or _A_FILE.search(text) else None


def _file(sentence: Sentence) -> Note | None:
    """``export my notebook to FILE``, ``import my notebook from FILE``, with a yes where it is to be done."""
    text = sentence.text.strip()
    if found := _EXPORT.match(text):
        note = Note("export", name=_path(found.group("file")))
    elif found := _import(text):
        agreed = found.group("first") or found.group("last")
        note = Note("import", name=_path(found.group("file")), value="yes" if agreed else None)
    else:
        return None
    _take(sentence, 0, len(sentence.text))
    return note


def _path(said: str) -> str | None:
    """A file's name as typed, quoted or not; None for words that name no file."""
    said = re.sub(r"[\s,]*\b(?:please|pls)?\s*[?!]*$", "", said.strip(), flags=re.IGNORECASE)
    if quoted := _QUOTED.match(said):
        return quoted.group("path")
    one = not re.search(r"\s", said) or "/" in said or re.search(r"\.\w+$", said)
    return said if said and one else None


def _set(sentence: Sentence) -> Note | None:
    """A standing wish: the unit of lengths, spare skeins, the last digit of the scale."""
    found = _SETTING.search(sentence.text)
    if not found:
        return None
    setting, value = _setting(found)
    _take(sentence, found.start(), found.end())
    return Note("set", "setting", setting=setting, value=value)


def _setting(found: re.Match[str]) -> tuple[str, str]:
    """The setting a match of ``_SETTING`` names, and the value it gives."""
    said = {name: value.lower() for name, value in found.groupdict().items() if value}
    if "unset" in said:
        word = found.group()[:2].lower()
        return {"un": "units", "sp": "spares", "sc": "scale_step"}[word], "default"
    if "as_asked" in said:
        return "units", "default"
    if unit := said.get("unit") or said.get("short"):
        return "units", "yd" if unit.startswith("y") else "m"
    if count := said.get("spares") or said.get("count"):
        return "spares", _COUNTS.get(count, count)
    return "scale_step", said.get("step", "1")


def _is_setting(sentence: Sentence) -> bool:
    """Whether a setting is named and nothing else is: an amount or a yarn beside it makes it a question."""
    found = _SETTING.search(sentence.text)
    if not found:
        return False
    tokens = sentence.tokens
    return all(
        found.start() <= tokens[phrase.first].start and tokens[phrase.last - 1].end <= found.end()
        for phrase in sentence.phrases
    )


def _fibre(text: str) -> str | None:
    """``75% wool, 25% nylon``: parts of a blend, which add up to a hundred; or ``merino wool`` between two commas."""
    for part in re.split(r"[,;:.\n]", text.lower()):
        words = part.split()
        if set(words) & word_list("fibres") and set(words) <= word_list("fibres") | word_list("fibre_words"):
            return " ".join(words)
    found = list(_FIBRE.finditer(text))
    if sum(int(part.group("percent")) for part in found) != 100:
        return None
    return ", ".join(f"{part.group('percent')} % {part.group('fibre')}" for part in found)


def _take(sentence: Sentence, start: int, end: int) -> None:
    """Make plain words of the tokens between two places of the text; phrases and cues there are gone."""
    inside = {at for at, token in enumerate(sentence.tokens) if start <= token.start < end}
    for at in inside:
        sentence.tokens[at] = replace(sentence.tokens[at], kind="WORD", value=None, readings=(), note=None)
    sentence.phrases[:] = [p for p in sentence.phrases if not inside & set(range(p.first, p.last))]
    sentence.unmark(inside)
    sentence.find_lines()


_NO_NAME = frozenset(
    {
        "a",
        "an",
        "my",
        "the",
        "this",
        "that",
        "it",
        "them",
        "yarn",
        "swatch",
        "as",
        "well",
        "one",
        "please",
        "stash",
        "of",
        "for",
        "me",
        "in",
        "too",
        "new",
        "i",
        "have",
        "got",
        "needle",
        "needles",
        "gauge",
        "tension",
        "is",
    }
)


def _first_words(sentence: Sentence) -> str | None:
    """A name typed without capitals: the words after the verb, up to the first comma, colon or known phrase."""
    verb = next((cue for cue in sentence.cues if cue.kind == "verb.remember"), None)
    if verb is None:
        return None
    starts = {phrase.first for phrase in sentence.phrases}
    words: list[str] = []
    for at in range(verb.last, len(sentence.tokens)):
        token = sentence.tokens[at]
        if at in starts or token.kind in ("COMMA", "COLON", "STOP", "NUM", "NEWLINE", "LPAR", "HOLD"):
            if words or token.kind in ("NUM", "STOP", "NEWLINE") or at in starts:
                break
            continue
        if token.lower not in _NO_NAME or words:
            words.append(token.text)
    return " ".join(words) or None


def _bare(name: str) -> str:
    """A name without the words around it: ``my Dunnock DK swatch`` is Dunnock DK."""
    name = re.sub(
        r"^(?:(?:my|the|that|this|about|it|from|swatch(?:es)?|yarns?|stash|of|for|called|named|all)\s+)+",
        "",
        name.strip(" \"'“”.,!?"),
        flags=re.IGNORECASE,
    )
    return re.sub(
        r"\s+(?:swatch(?:es)?|yarn|stash|from (?:my|the) notebook|from my stash|again|please|pls|now|any ?more)$",
        "",
        name,
        flags=re.IGNORECASE,
    ).strip(" \"'“”.,!?")


_FACTS = frozenset({"putup", "gauge", "price", "weight", "needle", "grist", "wpi"})
_MEASURES = frozenset({"mass", "dim"})
_BEFORE_A_NAME = frozenset(["my", "swatch", "the", "a", "of", "for", "gauge", "put", "up", "yarn", "label", "price"])


_ACTS = frozenset({"remember", "forget", "undo", "list", "rename", "correct", "set"})


_TO_KEEP = frozenset({"remember", "save", "note", "store", "down"})


def _a_lot_told(sentence: Sentence) -> bool:
    """``What's in my drawer: 8 skeins, 98 yds each``: so much of a yarn, told with its label, and not asked for."""
    kinds = {phrase.kind for phrase in sentence.phrases}
    return "putup" in kinds and not kinds.isdisjoint(("count", "mass", "length"))


def _of_herself(sentence: Sentence, cue: Cue) -> bool:
    """``I do remember that it ran to 365 m``: what she does herself, and asks of nobody."""
    at = cue.first - 1
    while sentence.lower_at(at) in word_list("of_doing_so"):
        at -= 1
    return cue.kind == "verb.remember" and sentence.lower_at(at) in ("i", "we")


def _verb(sentence: Sentence) -> str | None:
    """The notebook verb, where it opens the text or follows only polite words."""
    if "spare" in sentence.text.lower() and _is_setting(sentence) and _STANDING.search(sentence.text):
        return "set"
    if _shown(sentence):
        return "show"
    for cue in sorted(
        (cue for cue in sentence.cues if cue.kind.startswith("verb.")), key=lambda cue: (cue.first, -cue.last)
    ):
        kind = cue.kind.removeprefix("verb.")
        if kind not in _ACTS:
            continue
        lead = [sentence.lower_at(i) for i in range(cue.first) if sentence.kind_at(i) not in ("COMMA", "STOP", "DASH")]
        if any(word not in _LEADS for word in lead) or _of_herself(sentence, cue):
            continue
        if kind == "remember" and not sentence.phrases and not sentence.said("ask.swatch"):
            continue
        if kind == "list" and (sentence.said("ask.ratios") or _a_lot_told(sentence)):
            continue
        if sentence.lower_at(cue.first) == "add" and _adds_to_the_need(sentence, cue):
            continue
        if kind == "set" and not _is_setting(sentence):
            continue
        if kind == "forget" and sentence.said("follow.afresh"):
            continue  # forget that one, new pattern: …
        if kind in ("forget", "undo") and _goes_on(sentence):
            continue
        if kind == "correct" and not _corrected(sentence):
            continue
        return kind
    for cue in sentence.cues:
        if (
            cue.kind == "verb.remember"
            and {sentence.lower_at(at) for at in range(cue.first, cue.last)} & _TO_KEEP
            and sentence.lower_at(cue.first - 1) not in word_list("not_asked")
            and not _of_herself(sentence, cue)
            and not _a_shop(sentence, cue)
            and not sentence.said("ask.how_many")
        ):
            return "remember"
    return None


def _adds_to_the_need(sentence: Sentence, cue: Cue) -> bool:
    """``add a safety margin of 15%``, ``add a tenth to 1000 yards``, ``add a ball for luck``: more of it to buy."""
    if any(phrase.kind == "percent" for phrase in sentence.phrases):
        return True
    kept = sentence.said("ask.in_stash", "ask.swatch") or any(phrase.kind == "name" for phrase in sentence.phrases)
    ordinal = sentence.kind_at(cue.last + 1) == "ORDINAL" or sentence.lower_at(cue.last + 1) in word_list(
        "parts_of_one"
    )
    return (
        not kept and sentence.kind_at(cue.last) == "ARTICLE" and (ordinal or sentence.kind_at(cue.last + 1) == "SKEIN")
    )


def _a_shop(sentence: Sentence, cue: Cue) -> bool:
    """``from a thrift store``: a place to buy, where no word leads to a command."""
    before = sentence.lower_at(cue.first - 1)
    led = not before or before in word_list("before_a_command") or sentence.kind_at(cue.first - 1) != "WORD"
    return sentence.lower_at(cue.first) == "store" and not led


def _goes_on(sentence: Sentence) -> bool:
    """``forget that, what about DK, 250 yds``: what was said is let go, and another thing asked."""
    let_go = (cue.last for cue in sentence.cues if cue.kind == "follow.no" and sentence.lower_at(cue.last - 1) in _IT)
    told = [phrase for phrase in sentence.phrases if phrase.kind != "name"]
    return any(end <= phrase.first for end in let_go for phrase in told)


_IT = frozenset({"that", "it"})


def _corrected(sentence: Sentence) -> str | None:
    """The one name right after ``correct``, ``correct my`` or ``correct the gauge of``, with what is put right."""
    tokens = sentence.tokens
    verb = next((cue for cue in sentence.cues if cue.kind == "verb.correct"), None)
    names = [at for at, token in enumerate(tokens) if token.kind == "NAME"]
    told = any(phrase.kind in _FACTS | _MEASURES for phrase in sentence.phrases)
    if verb is None or len(names) != 1 or not told or sentence.said("ask.how_many"):
        return None
    [named] = names
    between = {token.lower for token in tokens[verb.last : named] if token.kind != "ORDINAL"}
    return _bare(tokens[named].text) if between <= _BEFORE_A_NAME else None


def _shown(sentence: Sentence) -> bool:
    """``show Dunnock DK``: a name after show, and nothing else but of what kind it is."""
    words = [token for token in sentence.tokens if token.kind != "STOP" and token.lower not in _LEADS]
    if len(words) < 2 or words[0].lower != "show":
        return False
    named = [token for token in words[1:] if token.kind == "NAME"]
    others = [token.lower for token in words[1:] if token.kind != "NAME"]
    return len(named) == 1 and set(others) <= {"my", "the", "yarn", "swatch", "stash"}


def _kind_of(name: str) -> str | None:
    """The kind of thing a name says it is: ``Dunnock DK swatch``."""
    words = name.lower().split()
    forms = load("cues.toml")["verb"]
    return next((kind for kind in _KINDS if set(words) & set(forms[kind])), None)


_KINDS = ("swatch", "stash", "setting", "yarn")


def _kind(sentence: Sentence) -> str | None:
    for kind in _KINDS:
        if sentence.said(f"verb.{kind}"):
            return kind
    return None
