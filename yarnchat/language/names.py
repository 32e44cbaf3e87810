"""Names of yarns: marked as phrases, and the weight class their words hint at."""

from __future__ import annotations

import re
from functools import lru_cache

from yarnchat.language.labels import LABEL
from yarnchat.language.lexicon import vocabulary, word_list
from yarnchat.language.phrases import Phrase
from yarnchat.language.scan import match, scan
from yarnchat.language.sentence import Sentence


def mark_names(sentence: Sentence) -> None:
    """The names of a question made phrases."""
    for at, token in enumerate(sentence.tokens):
        if token.kind != "NAME" or _title(str(token.value)):
            continue
        if class_hint(str(token.value)) or not _after_label(sentence, at):
            sentence.phrases.append(Phrase("name", at, at + 1, str(token.value)))
    _told_again(sentence)
    sentence.phrases.sort(key=lambda phrase: phrase.first)


def _told_again(sentence: Sentence) -> None:
    """``"Old Aran Road" … how many of Old Aran Road``: a name whose first word was left out the second time."""
    names = [phrase for phrase in sentence.phrases if phrase.kind == "name"]
    for name in names:
        whole = next((other.value for other in names if str(other.value).endswith(f" {name.value}")), None)
        lead = str(whole).removesuffix(f" {name.value}").lower() if whole else ""
        if lead and sentence.lower_at(name.first - 1) == lead:
            name.first, name.value = name.first - 1, whole
        begun = next((other.value for other in names if str(other.value).startswith(f"{name.value} ")), None)
        if begun and _adds_a_class(str(begun), str(name.value)):
            name.value = begun  # Tansy Hill Aran … in the Tansy Hill


def _adds_a_class(whole: str, begun: str) -> bool:
    """Whether what a longer name adds is a weight class, so that the shorter one is the same yarn."""
    return class_hint(whole) is not None and class_hint(begun) is None


def _title(name: str) -> bool:
    """Whether a name is a pattern's title: ``Ridgeline Throw``."""
    return name.split()[-1].lower() in word_list("garments")


def _after_label(sentence: Sentence, at: int) -> bool:
    """Whether a name only tells a colour: ``Contrast A: Sea Glass 14``."""
    begin = sentence.tokens[at].start
    line = sentence.text.rfind("\n", 0, begin) + 1
    if re.search(r"\b(?:colou?r|shade|colou?rway|col\.?)\s*$", sentence.text[line:begin], re.IGNORECASE):
        return True
    return bool(LABEL.search(sentence.text[line:begin]) and re.search(r"[:–-]\s*$|\bin\s*$", sentence.text[line:begin]))


@lru_cache(maxsize=512)
def class_hint(name: str) -> str | None:
    """The weight class a yarn's name holds a word of, or None: ``Harbour DK Tweed``, ``Thistle Lace DK`` hint at DK."""
    tokens = scan(name.lower())
    for at in range(len(tokens) - 1, 0, -1):  # not the first word: Sport of Kings, Aran Isle Dreams
        token = tokens[at]
        if token.kind == "CLASS" and isinstance(token.value, str):
            return token.value
        found = match(tokens, at, vocabulary())
        if found and found[0].kind == "CLASS" and isinstance(found[0].value, str):
            return found[0].value
    return None
