"""What is asked of the notebook: the verb that opens the sentence, of what kind of thing, and its name."""

from __future__ import annotations

import re

from yarnchat.language.sentence import Sentence
from yarnchat.queries import Note

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
        "now,",
        ",",
        "this",
        "one",
        "well",
        "as",
    }
)
_CALLED = re.compile(
    r"\b(?:call(?:ed)?(?: it)?|named?|as|rename .*? to|rename .*? as)\s+"
    r"[\"“]?(?P<name>[A-Z0-9][^\",;.:\n]{1,60}?)[\"”]?\s*(?:[,;.:\n]|$)"
)
_SETTING = re.compile(
    r"\b(?:(?P<unit>metres|meters|yards|metric)\b|(?P<spares>\d+|no|one|two|three|zero)\s+spares?\b|scale\D{0,30}?(?P<step>[0-9]*\.?[0-9]+)\s*g)",
    re.IGNORECASE,
)


def note_of(sentence: Sentence) -> Note | None:
    """A request to the notebook, or None."""
    verb = _verb(sentence)
    if verb is None:
        return None
    text = sentence.text.strip()
    kind = _kind(sentence)
    if verb == "rename":
        found = re.search(
            r"rename\s+(?:my\s+)?(?:the\s+)?(?P<old>.+?)\s+(?:to|as|into)\s+(?P<new>.+?)\s*[.!]?$",
            text,
            re.IGNORECASE,
        )
        return Note("rename", kind, _bare(found.group("old")), _bare(found.group("new"))) if found else None
    if verb == "set":
        setting = _SETTING.search(text)
        if not setting:
            return None
        if setting.group("unit"):
            return Note(
                "set",
                "setting",
                setting="units",
                value="yd" if setting.group("unit").lower() == "yards" else "m",
            )
        if setting.group("spares"):
            words = {"no": "0", "zero": "0", "one": "1", "two": "2", "three": "3"}
            return Note(
                "set",
                "setting",
                setting="spares",
                value=words.get(setting.group("spares").lower(), setting.group("spares")),
            )
        return Note("set", "setting", setting="scale_step", value=setting.group("step"))
    if verb in ("forget", "correct"):
        found = re.search(
            r"\b(?:forget|delete|remove|drop|correct|change)\s+(?:about\s+)?(?P<name>.+?)\s*[.!?]*$",
            text,
            re.IGNORECASE,
        )
        return Note(verb, kind, _bare(found.group("name")) if found else None)
    called = _CALLED.search(text)
    if verb == "remember" and not called and not any(token.kind == "NAME" for token in sentence.tokens):
        return Note(verb, kind, _first_words(sentence))
    return Note(verb, kind, _bare(called.group("name")) if called and verb == "remember" else None)


_NO_NAME = frozenset(
    {
        "a",
        "an",
        "my",
        "the",
        "this",
        "that",
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
        r"^(?:(?:my|the|that|this|about|it|from|swatch(?:es)?|yarns?|stash|of|for|called|named|all|about)\s+)+",
        "",
        name.strip(" \"'“”.,!?"),
        flags=re.IGNORECASE,
    )
    return re.sub(
        r"\s+(?:swatch(?:es)?|yarn|stash|from my notebook|from the notebook|again|please|pls|from my stash)$",
        "",
        name,
        flags=re.IGNORECASE,
    ).strip(" \"'“”.,!?")


def _verb(sentence: Sentence) -> str | None:
    """The notebook verb, where it opens the text or follows only polite words."""
    for cue in sorted(
        (cue for cue in sentence.cues if cue.kind.startswith("verb.")), key=lambda cue: (cue.first, -cue.last)
    ):
        kind = cue.kind.removeprefix("verb.")
        if kind in ("swatch", "stash", "yarn", "setting"):
            continue
        lead = [sentence.lower_at(i) for i in range(cue.first) if sentence.kind_at(i) not in ("COMMA", "STOP", "DASH")]
        if any(word not in _LEADS for word in lead):
            continue
        if kind == "remember" and not sentence.phrases and not sentence.said("ask.swatch"):
            continue
        if kind in ("set", "correct") and not (kind == "set" and _SETTING.search(sentence.text)):
            continue
        return kind
    for cue in sentence.cues:
        if (
            cue.kind == "verb.remember"
            and sentence.lower_at(cue.first) in ("remember", "save", "note", "store")
            and not sentence.said("ask.how_many")
        ):
            return "remember"
    return None


def _kind(sentence: Sentence) -> str | None:
    for kind in ("swatch", "stash", "setting", "yarn"):
        if sentence.said(f"verb.{kind}"):
            return kind
    return None
