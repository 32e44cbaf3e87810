"""Whole questions that would be read, made from what was read of one that could not be answered."""

from __future__ import annotations

from dataclasses import replace

from yarnchat.choosing import choose
from yarnchat.knowledge.classes import classes_named
from yarnchat.language.lexicon import load
from yarnchat.language.reader import read
from yarnchat.queries import Query, Series, size_list

MOST = 3


def suggestions(query: Query) -> tuple[str, ...]:
    """Up to three questions that say what was read and what was missing; each is read again before it is offered."""
    tried = (question for question in _questions(query) if _is_read(question))
    return tuple(dict.fromkeys(tried))[:MOST]


def _questions(query: Query) -> list[str]:
    """Whole questions that would be read, made from what was read, the likeliest first."""
    data = load("suggestions.toml")
    series = query.amounts
    pattern = query.pattern.weight_class
    wanted = query.yarns[0].weight_class if query.yarns else None
    out: list[str] = []
    if series and pattern:
        other = _name(wanted) if wanted else data["next"].get(pattern)
        keys = [row.key for row in classes_named(other or "")]
        if keys and keys[0] in data["put_ups"]:
            out.append(f"{_said(series[0])} of {_name(pattern)} in {other}, {data['put_ups'][keys[0]]}?")
        wound = data["put_ups"].get(pattern, "210 yd/100 g")
        out.append(f"how many skeins for {_said(series[0])} of {_name(pattern)}, {wound}?")
    elif series:
        out.append(f"how many 210 yd skeins for {_said(replace(series[0], values=series[0].values[:1]))}?")
    if not series and (wanted or pattern):
        key = wanted or pattern or ""
        out.append(f"1200 yd worsted pattern in {_name(key)}, {data['put_ups'].get(key, '420 yd/100 g')}?")
    return out


def _name(key: str) -> str:
    found = classes_named(key.replace("_", " "))
    return found[0].label if found else key


def _said(series: Series) -> str:
    plain = size_list(series.values)
    return f"{plain} {'skeins of 210 yd' if series.unit == 'skein' else series.unit}"


def _is_read(question: str) -> bool:
    reading = read(question)
    return reading.refusal is None and not reading.unused and choose(reading.query, reading.cues) is not None
