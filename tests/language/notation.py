"""Phrases written the way fixtures/phrases.tsv writes them: ``len:420yd``, ``putup:218yd|199m/3.5oz``.

``python -m tests.language.notation "text"`` shows how a text is read; with several texts, the last of them,
alone and after the others.
"""

from __future__ import annotations

import sys
from collections.abc import Iterator
from contextlib import ExitStack
from typing import Any
from unittest.mock import patch

from yarnchat import Assistant
from yarnchat.abilities import abilities
from yarnchat.choosing import condition
from yarnchat.followups.leaning import follows
from yarnchat.language import reader
from yarnchat.language.names import mark_names
from yarnchat.language.phrases import Phrase
from yarnchat.language.sentence import Sentence, lay_out
from yarnchat.language.sides import Sides
from yarnchat.language.sides import assign as _assign
from yarnchat.quantity import Quantity
from yarnchat.queries import Gauge, Needle, PutUp, Series

OURS = {
    "weight:4ply": "weight:fingering",
    "weight:cat4": "weight:worsted",
    "weight:superbulky": "weight:super_bulky",
    "weight:lightfingering": "weight:lace|fingering",
    "weight:heavyworsted": "weight:worsted",
    "len:1.2km": "len:1200m",
}
"""Values the snippets write otherwise than the program: weights by its class keys, kilometres as metres."""


def expected(written: str) -> str:
    """A row's phrases as the program would write them."""
    return " ".join(OURS.get(phrase, phrase) for phrase in written.split())


def found(text: str) -> str:
    """The phrases the program finds in a text, and units that stand alone."""
    sentence = lay_out(text)
    mark_names(sentence)
    pieces = [(phrase.first, _written(phrase, sentence)) for phrase in sentence.phrases]
    covered = {at for phrase in sentence.phrases for at in range(phrase.first, phrase.last)}
    pieces += [(at, f"unit:{unit}") for at, unit in _lone_units(sentence) if at not in covered]
    return " ".join(piece for _, piece in sorted(pieces))


def _lone_units(sentence: Sentence) -> list[tuple[int, object]]:
    return [(at, token.value) for at, token in enumerate(sentence.tokens) if token.kind == "SHORT"]


def _written(phrase: Phrase, sentence: Sentence) -> str:
    value = phrase.value
    if phrase.kind in ("num", "nums", "fraction"):
        tokens = sentence.tokens[phrase.first : phrase.last]
        return " ".join(f"num:{token.readings[0][0]:g}" for token in tokens if token.kind == "NUM")
    match phrase.kind, value:
        case "length" | "mass" | "count" | "smalls" as kind, Series():
            return f"{_KINDS[kind]}:{_series(value)}{value.unit}"
        case "small", Quantity():
            return f"len:{_quantity(value)}"
        case "putup", PutUp():
            return f"putup:{_put_up(value)}"
        case "gauge", Gauge():
            return f"gauge:{_gauge(value, bare='bare' in phrase.flags)}"
        case "dim", (Quantity() as width, Quantity() as height):
            return f"dim:{_quantity(width)}x{_quantity(height)}"
        case "weight", (keys, _):
            return f"weight:{'|'.join(keys)}"
        case "needle", Needle():
            return f"needle:{_needle(value)}"
        case "wpi", _:
            return f"wpi:{value:g}wpi"
        case kind, _:
            said = str(value).replace(" ", "_")
            return f"{kind}:{said.lower() if kind == 'size' else said}"


_KINDS = {"length": "len", "mass": "mass", "count": "cnt", "smalls": "len"}


def _figure(value: float) -> str:
    return f"{round(value, 4):.12g}"


def _quantity(quantity: Quantity) -> str:
    return f"{_figure(quantity.value)}{quantity.unit}"


def _series(series: Series) -> str:
    if series.low is not None:
        return f"{_figure(series.low)}..{_figure(series.values[0])}"
    figures = [_figure(value) for value in series.values]
    return figures[0] if len(figures) == 1 else f"[{','.join(figures)}]"


def _put_up(put_up: PutUp) -> str:
    lengths = [_quantity(one) for one in (put_up.length, put_up.other_length) if one]
    masses = [_quantity(one) for one in (put_up.mass, put_up.other_mass) if one]
    return f"{'|'.join(lengths)}/{'|'.join(masses) or 'skein'}"


def _gauge(gauge: Gauge, *, bare: bool) -> str:
    stitches = _spread(gauge.stitches, gauge.spread)
    rows = f",{_spread(gauge.rows, gauge.rows_spread)}row" if gauge.rows is not None else ""
    return f"{stitches}st{rows}" + ("" if bare else f"/{_quantity(gauge.over)}")


def _spread(count: float, half: float) -> str:
    return f"{_figure(count - half)}..{_figure(count + half)}" if half else _figure(count)


def _needle(needle: Needle) -> str:
    if needle.system == "mm":
        return f"{needle.size}mm"
    return f"{needle.system or 'size'}{needle.size}"


# how a text is read ----------------------------------------------------------------------------------------------


def explained(text: str) -> Iterator[str]:
    """What each step of the reader makes of a text, a line each; a cue that no word says is at 0..0."""
    sentence, notes, _ = reader.prepared(text)
    yield "tokens   " + " ".join(f"{at}:{token.text!r}:{token.kind}" for at, token in enumerate(sentence.tokens))
    phrases = [f"{_place(phrase)} {_shown(phrase, sentence)}" for phrase in sentence.phrases]
    yield "phrases  " + ", ".join(phrases)
    yield "cues     " + ", ".join(f"{_place(cue)} {cue.kind}" for cue in sentence.cues)
    found: list[Sides] = []

    def assign(*given: Any, **named: Any) -> Sides:
        found.append(_assign(*given, **named))
        return found[-1]

    with patch.object(reader, "assign", assign):
        reading = reader.read(text)
    for sides in found:
        for group, side in zip(sides.groups, sides.sides, strict=True):
            words = " ".join(token.text for token in sentence.tokens[group.first : group.last])
            yield f"group    {_place(group)} {side}: {words}"
        yield f"margin   {sides.margin:.2f}"
    yield f"said     {', '.join(sorted(reading.cues))}"
    yield f"query    {reading.query}"
    yield f"slots    {', '.join(sorted(reading.query.slots()))}"
    asked = {cue.removeprefix("ask.") for cue in reading.cues}
    meant = [
        (frame.rank, ability.name)
        for ability in abilities().values()
        for frame in ability.frames
        if condition(frame).holds(reading.query.slots(), asked)
    ]
    yield "frames   " + ", ".join(f"{name} {rank}" for rank, name in sorted(meant, reverse=True))
    yield f"notes    {'; '.join([*notes, *(note for note in reading.notes if note not in notes)])}"
    yield f"unused   {', '.join(reading.unused)}"
    yield f"refusal  {reading.refusal or ''}"


def _shown(phrase: Phrase, sentence: Sentence) -> str:
    """A phrase under the name of its kind, where the snippets write ``len:`` of several."""
    values = [piece.partition(":")[2] for piece in _written(phrase, sentence).split()]
    return ":".join([phrase.kind, *([" ".join(values)] if values else [])])


def _place(thing: Any) -> str:
    return f"{thing.first}..{thing.last}"


_TAKEN_BY = ("_again", "_supplied", "_meant", "_told_in_parts")
"""The steps of ``assistant.py`` that may take a text in a conversation, in their order."""


def leaning(before: list[str], text: str) -> Iterator[str]:
    """What became of a text that was typed after others: which steps were tried, and the question they made of it."""
    assistant = Assistant(notebook=":memory:")
    for turn in before:
        assistant.ask(turn)
    yield f"before   {assistant.last or ''}"
    reading = reader.read(text)
    yield f"leans    {bool(assistant.last and follows(assistant.last, reading))}"
    tried: list[str] = []

    def noted(name: str) -> Any:
        step = getattr(assistant, name)

        def run(*given: Any) -> Any:
            tried.append(name)
            return step(*given)

        return run

    with ExitStack() as patched:
        for name in _TAKEN_BY:
            patched.enter_context(patch.object(assistant, name, noted(name)))
        answer = assistant.ask(text)
    yield f"tried    {', '.join(tried)}"
    yield f"read     {answer.status}: {answer.reading}{f' ({answer.asks})' if answer.asks else ''}"


def main(*turns: str) -> None:
    """Print how the last of these texts is read, alone and after the others."""
    *before, text = turns
    for line in (*explained(text), *(leaning(before, text) if before else ())):
        print(line.rstrip())


if __name__ == "__main__":
    main(*sys.argv[1:])
