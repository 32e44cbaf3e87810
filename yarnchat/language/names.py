"""Names of yarns: marked as phrases, and the weight class their words hint at."""

from __future__ import annotations

import re
from functools import lru_cache

from yarnchat.language.labels import LABEL
from yarnchat.language.lexicon import vocabulary, word_list
from yarnchat.language.phrases import Phrase
from yarnchat.language.scan import match, scan
from yarnchat.language.sentence import Sentence
from yarnchat.language.tokens import Token


def mark_names(sentence: Sentence) -> None:
    """The names of a question made phrases."""
    for at, token in enumerate(sentence.tokens):
        if token.kind != "NAME" or _title(str(token.value)) or _makes_it(sentence, at):
            continue
        if class_hint(str(token.value)) or not _after_label(sentence, at):
            sentence.phrases.append(Phrase("name", at, at + 1, str(token.value)))
    _told_again(sentence)
    _called_by_the_first_word(sentence)
    sentence.phrases.sort(key=lambda phrase: phrase.first)


def _makes_it(sentence: Sentence, at: int) -> bool:
    """``Wick DK by Larkholm Mill``: the maker of a yarn that is named right before."""
    return sentence.kind_at(at - 1) == "BY" and sentence.kind_at(at - 2) in ("NAME", "CLASS")


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


def _called_by_the_first_word(sentence: Sentence) -> None:
    """``Harebell Aran or Clover DK? The pattern's in the Clover``: a yarn called by the first word of its name."""
    names = {str(phrase.value) for phrase in sentence.phrases if phrase.kind == "name"}
    begun = [name.split()[0].lower() for name in names]
    whole = {name.split()[0].lower(): name for name in names if len(name.split()) > 1 and class_hint(name)}
    for at, token in enumerate(sentence.tokens):
        name = whole.get(token.lower) if token.kind == "WORD" and token.text[:1].isupper() else None
        other = sentence.kind_at(at + 1) == "CLASS"  # Teasel Aran in the place of Teasel 4 ply
        if name and begun.count(token.lower) == 1 and token.lower not in vocabulary() and not other:
            sentence.phrases.append(Phrase("name", at, at + 1, name))


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
    """The weight class a yarn's name holds a word of, or None: ``Harbour DK Tweed`` hints at DK.

    Of several the last that is no word for what is knitted counts: ``Heath Sock DK`` is a DK, ``Silk Lace DK`` too.
    """
    tokens = scan(name.lower())
    said = [(tokens[at].lower, _class_at(tokens, at)) for at in range(1, len(tokens))]  # not the first: Sport of Kings
    hints = [(word, key) for word, key in said if key]
    plain = [key for word, key in hints if word not in word_list("knitted_of_it")]
    return plain[-1] if plain else next((key for _, key in hints), None)


def _class_at(tokens: list[Token], at: int) -> str | None:
    """The weight class that a word of a name says."""
    if tokens[at].kind == "CLASS" and isinstance(tokens[at].value, str):
        return str(tokens[at].value)
    found = match(tokens, at, vocabulary())
    return found[0].value if found and found[0].kind == "CLASS" and isinstance(found[0].value, str) else None
