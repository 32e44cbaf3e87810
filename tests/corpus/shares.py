"""The share of dialogues that pass, group by group, as lines to print."""

from __future__ import annotations

import textwrap
from collections.abc import Mapping, Sequence

from .dialogues import Outcome

WIDTH = 100


def lines(kind: str, by_group: Mapping[str, Sequence[Outcome]]) -> list[str]:
    """What passed of each group, then of all, with how many were answered wrong and how many crashed."""
    groups = [f"{group}\u00a0{_passed(went)}/{len(went)}" for group, went in by_group.items()]
    rows = textwrap.wrap(", ".join(groups), WIDTH, break_on_hyphens=False)
    every = [outcome for outcomes in by_group.values() for outcome in outcomes]
    share = _passed(every) / len(every) if every else 0.0
    wrong = sum(outcome.wrong for outcome in every)
    crashed = sum(outcome.crash is not None for outcome in every)
    total = (
        f"{kind}: {_passed(every)} of {len(every)} dialogues whole ({share:.1%}), "
        f"{wrong} answered wrong, {crashed} crashed"
    )
    return [*(row.replace("\u00a0", " ") for row in rows), total]


def _passed(outcomes: Sequence[Outcome]) -> int:
    return sum(outcome.passed for outcome in outcomes)
