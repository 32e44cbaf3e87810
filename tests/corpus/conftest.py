"""Prints the shares of the corpus that passed after the tests that ran it."""

from __future__ import annotations

import pytest

from .dialogues import Outcome
from .shares import lines

RUN = pytest.StashKey[dict[str, dict[str, tuple[Outcome, ...]]]]()


def pytest_configure(config: pytest.Config) -> None:
    """Begin with nothing run."""
    config.stash[RUN] = {}


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter, config: pytest.Config) -> None:
    """The share of each group that was run, and the whole share."""
    ran = config.stash.get(RUN, {})
    if ran:
        terminalreporter.section("corpus")
    for kind, by_group in sorted(ran.items()):
        for line in lines(kind, by_group):
            terminalreporter.write_line(line)
