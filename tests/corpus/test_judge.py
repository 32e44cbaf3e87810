"""The judge itself: what it lets pass and what it does not, on answers made by hand."""

from __future__ import annotations

from typing import Any

import pytest

from .judge import misses, raw_controls

ANSWER: dict[str, Any] = {
    "asked": "\x1b?",
    "status": "answered",
    "ability": "substitute",
    "reading": "pattern: 1,200 yd of worsted",
    "figures": {
        "length": {"value": 914.4, "unit": "m"},
        "ratio": {"value": 1.64, "low": 1.3, "high": 2.0, "basis": "default"},
        "skeins": 5,
        "enough": True,
        "weight_class": ["sport", "DK"],
    },
    "sizes": [{"name": "S", "figures": {"skeins": 4}}],
    "findings": [{"level": "doubt", "text": "…"}],
    "unused": ["12"],
    "asks": None,
}


@pytest.mark.parametrize(
    "expected",
    [
        {"status": "answered", "ability": ["skeins", "substitute"]},
        {"figures": {"length": {"value": 1000, "unit": "yd", "tol": 1e-9}}},  # 1000 x 0.9144 m
        {"figures": {"length": {"value": 930}}},  # within 2 %
        {"figures": {"ratio": {"value": 1.64, "basis": "default"}, "skeins": 5, "enough": True}},
        {"figures": {"weight_class": ["dk"]}},
        {"sizes": [{"name": "s", "figures": {"skeins": 4}}]},
        {"any_of": [{"status": "refused"}, {"figures": {"skeins": 5}}]},
        {"unused_any": ["12"], "mentions": ["1,200 YD"], "findings_level": "doubt"},
    ],
)
def test_met(expected: dict[str, Any]) -> None:
    assert misses(expected, ANSWER) == []


@pytest.mark.parametrize(
    "expected",
    [
        {"status": ["unclear", "refused"]},
        {"ability": "skeins"},
        {"figures": {"length": {"value": 900, "unit": "yd"}}},
        {"figures": {"length": {"value": 914.4, "unit": "g"}}},
        {"figures": {"ratio": {"value": 1.64, "basis": "gauge"}}},
        {"figures": {"skeins": 6}},
        {"figures": {"skeins": True}},
        {"figures": {"enough": False}},
        {"figures": {"mass": {"value": 1, "unit": "g"}}},
        {"figures": {"weight_class": ["worsted"]}},
        {"sizes": [{"figures": {"skeins": 5}}]},
        {"sizes": [{"name": "M"}]},
        {"sizes": []},
        {"any_of": [{"status": "refused"}, {"figures": {"skeins": 6}}]},
        {"unused_any": ["13"]},
        {"asks": True},
        {"mentions": ["aran"]},
        {"findings_level": "none"},
        {"findings_level": "error"},
    ],
)
def test_missed(expected: dict[str, Any]) -> None:
    assert misses(expected, ANSWER) != []


def test_controls_are_seen_wherever_they_stand() -> None:
    assert misses({}, ANSWER | {"reading": "a\x07b"}) != []
    assert misses({}, ANSWER | {"sizes": [{"name": "\u202eS", "figures": {}}]}) != []
    assert raw_controls("plain\n\x9b\u2066") == ["\n", "\x9b", "\u2066"]
    assert raw_controls("22 sts – 4″") == []
