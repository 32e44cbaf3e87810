"""How a materials line labels its colours: MC, CC 1, main colour, contrast A, and letters before a colon."""

from __future__ import annotations

import re

LABEL = re.compile(
    r"\b(?=[A-FMSTY])(?:(?:MC|CC)[0-9A-D]?\b|C[0-9]\b|(?:MC|CC)[ ][0-9A-D](?=[ ]?[:=-])"
    r"|(?:main|contrast(?:ing)?|background|accent|first|second|third)[ ]+(?:colou?r|shade|yarn)\b"
    r"(?:[ ][A-D]\b|[ ][1-9](?=[ ]?[:=-]))?|(?:first|second|third|fourth)[ ]contrast\b"
    r"|contrast\b(?:[ ][A-D]\b|[ ][1-9](?=[ ]?[:=-]|[ ](?:is|are|needs|takes|uses|wants)\b))?"
    r"|(?:colou?r|col|yarn|shade)[ ](?:[A-E]\b|[1-9](?=[ ]?[:=(-]))"
    r"|(?<=\[)[A-F](?=\])"
    r"|(?:the[ ])?main\b(?=[ ]?[:,0-9-])"
    r"|(?:(?<=^)|(?<=\n)|(?<=[,;(/.][ ]))[A-F]\b(?=[ ]?[:=-]|(?-i:[ ][A-Z][a-z]+)[ ]?[:=-]?[ ][0-9]))",
    re.IGNORECASE,
)
