"""Prints the shares of the corpus: ``python -m tests.corpus.report [GROUP…] [--misses] [--update]``."""

from __future__ import annotations

import argparse

from .dialogues import KNOWN_MISSES, groups, outcomes
from .shares import lines

HEADING = "# Seen dialogues that still fail: the tests hold each of them to failing. Take out what passes.\n"


def main() -> None:
    """Run the dialogues and print; of unseen ones only shares are ever shown."""
    parser = argparse.ArgumentParser(prog="python -m tests.corpus.report", description=__doc__)
    parser.add_argument("groups", nargs="*", metavar="GROUP", help="only these groups")
    parser.add_argument("--misses", action="store_true", help="show what misses, of the seen dialogues")
    parser.add_argument("--update", action="store_true", help=f"write {KNOWN_MISSES.name} anew")
    asked = parser.parse_args()
    for kind in ("seen", "unseen"):
        names = [group for group in groups(kind) if not asked.groups or group in asked.groups]
        print("\n".join(lines(kind, {group: outcomes(kind, group) for group in names})))
    missed = [outcome for group in groups("seen") for outcome in outcomes("seen", group) if not outcome.passed]
    if asked.misses:
        shown = [outcome for outcome in missed if not asked.groups or _group(outcome.name) in asked.groups]
        print("\n".join(str(outcome) for outcome in shown))
    if asked.update:
        KNOWN_MISSES.write_text(HEADING + "".join(f"{outcome.name}\n" for outcome in missed), encoding="utf-8")


def _group(name: str) -> str:
    return name.rpartition("-")[0]


if __name__ == "__main__":
    main()
