"""How a materials line labels its colours: MC, CC 1, main colour, contrast A, letters before a colon, shade 24."""

from __future__ import annotations

import re

from yarnchat.language.lexicon import word_list
from yarnchat.language.sentence import Sentence

LABEL = re.compile(
    r"\b(?=[A-FLMPSTY1-4])(?:(?:MC|CC)[0-9A-D]?\b|C[0-9]\b|(?:MC|CC)[ ][0-9A-D](?=[ ]?[:=-])"
    r"|(?:main|contrast(?:ing)?|background|accent|first|second|third|1st|2nd|3rd|4th)[ ]+(?:colou?r|shade|yarn)\b"
    r"(?:[ ][A-D]\b|[ ][1-9](?=[ ]?[:=-]|[ ][1-9][0-9]))?"
    r"|(?:first|second|third|fourth|1st|2nd|3rd|4th|light|dark|mid|pale|deep|bright)[ ]contrast\b"
    r"|contrast\b(?:[ ][A-D]\b|[ ][1-9](?=[ ]?[:=-]|[ ]\([A-Z]|[ ](?:is|are|needs|takes|uses|wants)\b|[ ][1-9][0-9]))?"
    r"|(?:colou?r|col|yarn|shade)[ ](?:[A-E]\b|[1-9](?=[ ]?[:=(-])|[0-9]{2,5}(?=[ ]?[:=]))"
    r"|(?<=\[)[A-F](?=\])"
    r"|(?:the[ ])?main\b(?=[ ]?[:,0-9-])"
    r"|(?:(?<=^)|(?<=\n))background\b(?=[ ]?[:=-]|[ ]\([A-Z])"
    r"|(?:(?<=^)|(?<=\n)|(?<=[,;(/.!?:][ ]))[A-F]\b(?=[ ]?[:=-]|[ ]\([^()\n]{2,24}\)[ ]?[:=-]"
    r"|(?-i:[ ]+[A-Z][a-z]+)[ ]?[:=-]?[ ]+[0-9]))",
    re.IGNORECASE,
)


def numbers_a_shade(sentence: Sentence, at: int) -> bool:
    """``shade 24``, ``no. 56``, ``#1004``, ``grey (04)``: a number after a word for one, and not ``of #4``."""
    bracketed = sentence.kind_at(at - 1) == "LPAR" and sentence.kind_at(at + 1) == "RPAR"
    if bracketed and sentence.tokens[at].text.startswith("0") and sentence.kind_at(at - 2) == "WORD":
        return True  # grey (04)
    shortened = sentence.lower_at(at - 1) == "." and sentence.lower_at(at - 2) in ("col", "no", "nr")
    before = at - 2 if shortened else at - 1
    lead = sentence.lower_at(before).removesuffix(".")
    if lead == "#" and sentence.lower_at(before - 1) in word_list("leads_to_yarn"):
        return False
    return lead in ("#", "no", "nr", *word_list("shades"))


def names_a_shade(sentence: Sentence, at: int) -> bool:
    """``in shade 214 (120 m per 50 g)``: a number after a word that nothing but a shade is told with."""
    return sentence.lower_at(at - 1) in word_list("shades")
