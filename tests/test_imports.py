"""Imports point down only: which part may import which, and where each heavy library may appear."""

from __future__ import annotations

import ast
import re
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

import yarnchat.quantity

PACKAGE = Path(yarnchat.quantity.__file__).parent

_FLOOR = {"quantity"}
_SAID = _FLOOR | {"queries", "answers", "refusals"}
_KNOWN = _SAID | {"fabric", "knowledge", "notebook"}
_CONVERSING = _KNOWN | {
    "language",
    "abilities",
    "choosing",
    "corrections",
    "followups",
    "replies",
    "safeguards",
    "suggesting",
}
_DOORS = _CONVERSING | {"assistant", "views", "completing", "live", "script"}

# Each part (a folder or a file of the package) and what it may import, itself aside: parts, or one file of a part.
MAY_IMPORT: dict[str, set[str]] = {
    "quantity": set(),
    "queries": _FLOOR,
    "answers": _FLOOR | {"queries"},
    "refusals": _FLOOR | {"queries", "answers"},
    "knowledge": _SAID,
    "fabric": _FLOOR | {"queries", "answers", "knowledge"},
    "notebook": _SAID | {"knowledge"},
    "language": _SAID | {"knowledge"},
    "abilities": _KNOWN,
    "choosing": {"queries", "abilities"},
    "followups": _SAID | {"knowledge", "language", "choosing"},
    "replies": _SAID | {"language"},
    "corrections": _SAID,
    "safeguards": _SAID | {"language", "choosing"},
    "suggesting": _SAID | {"knowledge", "language", "choosing"},
    "assistant": _CONVERSING,
    "live": _SAID | {"notebook", "language", "abilities", "choosing"},
    "completing": {"knowledge", "language", "abilities"},
    "views": _SAID | {"language.clean"},
    "script": set(),
    "chat": _DOORS,
    "cli": _DOORS | {"chat"},
    "__init__": _DOORS,
    "__main__": {"cli"},
}

# Each heavy library and the one place that may import it.
ONE_PLACE = {
    "lark": ("language/phrases.py",),
    "sqlite3": ("notebook/",),
    "prompt_toolkit": ("chat.py",),
    "pydantic": ("answers.py", "notebook/transfer.py"),
    "rapidfuzz": ("language/repair.py", "notebook/book.py"),
}


def imported(source: str, path: str) -> Iterator[str]:
    """The full names of all modules that the file at a path of the package imports, wherever in the file."""
    folder = path.split("/")[:-1]
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.Import):
            yield from (name.name for name in node.names)
        elif isinstance(node, ast.ImportFrom):
            above = folder[: len(folder) + 1 - node.level] if node.level else []
            module = ".".join(filter(None, ["yarnchat" if node.level else "", *above, node.module or ""]))
            if module == "yarnchat":
                yield from (f"yarnchat.{name.name}" for name in node.names if not name.name.startswith("__"))
            else:
                yield module


def part_of(path: str) -> str:
    """The part a file belongs to: its folder, or its own name at the top."""
    return path.split("/")[0].removesuffix(".py")


def upward(path: str, source: str) -> list[str]:
    """The parts a file imports though it may not."""
    part = part_of(path)
    names = [name if name != "yarnchat" else "yarnchat.__init__" for name in imported(source, path)]
    ours = [name.split(".")[1:3] for name in names if name.startswith("yarnchat.")]
    may = MAY_IMPORT[part] | {part}
    return sorted({name[0] for name in ours if name[0] not in may and ".".join(name) not in may})


def misplaced(path: str, source: str) -> list[str]:
    """The heavy libraries a file imports though another place is theirs."""
    roots = {name.split(".")[0] for name in imported(source, path)}
    return [name for name, places in ONE_PLACE.items() if name in roots and not path.startswith(places)]


def told_to_developers() -> dict[str, set[str]]:
    """The table of DEVELOPERS.md: each part and what it may import, the groups written out."""
    page = (Path(__file__).parent.parent / "DEVELOPERS.md").read_text(encoding="utf-8")
    groups: dict[str, set[str]] = {}
    parts: dict[str, set[str]] = {}
    table = page.split("Imports point down")[1].split("tests/test_imports.py")[0]
    for mark, name, cell in re.findall(r"^\| ([*`])(\w+)[*`] \|(.*?)\|", table, re.MULTILINE):
        below = set(re.findall(r"`([\w.]+)`", cell)).union(*(groups[group] for group in re.findall(r"\*(\w+)\*", cell)))
        (groups if mark == "*" else parts)[name] = below
    return parts


def test_the_developers_are_told_the_same() -> None:
    assert told_to_developers() == MAY_IMPORT


FILES = sorted(path.relative_to(PACKAGE).as_posix() for path in PACKAGE.rglob("*.py"))


@pytest.mark.parametrize("path", FILES)
def test_imports_point_down(path: str) -> None:
    assert part_of(path) in MAY_IMPORT, "say in MAY_IMPORT where this part belongs"
    assert upward(path, (PACKAGE / path).read_text(encoding="utf-8")) == []


@pytest.mark.parametrize("path", FILES)
def test_heavy_libraries_have_one_place(path: str) -> None:
    assert misplaced(path, (PACKAGE / path).read_text(encoding="utf-8")) == []


@pytest.mark.parametrize(
    ("path", "line", "parts"),
    [
        ("fabric/loops.py", "from yarnchat.abilities.base import Draft", ["abilities"]),
        ("fabric/loops.py", "def late():\n    import yarnchat.notebook", ["notebook"]),
        ("language/sides.py", "from yarnchat import abilities", ["abilities"]),
        ("language/sides.py", "import yarnchat", ["__init__"]),
        ("language/sides.py", "from yarnchat.fabric import loops", ["fabric"]),
        ("language/names.py", "from yarnchat.notebook import Notebook", ["notebook"]),
        ("views/text.py", "from yarnchat.abilities.base import Draft", ["abilities"]),
        ("views/text.py", "from yarnchat.language.reader import read", ["language"]),
        ("views/text.py", "from yarnchat.language.clean import printable", []),
        ("abilities/help.py", "from yarnchat.language import clean", ["language"]),
        ("quantity.py", "from yarnchat.queries import Query", ["queries"]),
        ("views/text.py", "from yarnchat import cli", ["cli"]),
        ("knowledge/classes.py", "from yarnchat.knowledge.tables import read", []),
        ("knowledge/classes.py", "from .tables import read", []),
        ("knowledge/classes.py", "from ..fabric import loops", ["fabric"]),
        ("abilities/swatch.py", "from yarnchat.fabric import swatches", []),
        ("queries.py", "from .cli import main", ["cli"]),
        ("queries.py", "from . import cli", ["cli"]),
        ("language/sides.py", "from ..fabric import loops", ["fabric"]),
        ("language/sides.py", "from .names import class_hint", []),
        ("abilities/piece.py", "def answer():\n    from yarnchat.language import reader", ["language"]),
        ("views/text.py", "from yarnchat import assistant", ["assistant"]),
    ],
)
def test_the_check_sees_an_import_that_points_up(path: str, line: str, parts: list[str]) -> None:
    assert upward(path, line) == parts


@pytest.mark.parametrize(
    ("path", "line", "libraries"),
    [
        ("language/sides.py", "from lark import Lark", ["lark"]),
        ("language/phrases.py", "from lark import Lark", []),
        ("abilities/base.py", "import sqlite3.dbapi2", ["sqlite3"]),
        ("chat.py", "def late():\n    import prompt_toolkit", []),
        ("assistant.py", "import sqlite3", ["sqlite3"]),
        ("notebook/store.py", "import sqlite3", []),
        ("cli.py", "from prompt_toolkit.shortcuts import prompt", ["prompt_toolkit"]),
    ],
)
def test_the_check_sees_a_misplaced_library(path: str, line: str, libraries: list[str]) -> None:
    assert misplaced(path, line) == libraries


LIGHT = [
    *sorted(path for path in FILES if path.startswith("knowledge/")),
    *sorted(path for path in FILES if path.startswith("fabric/") and path != "fabric/ratios.py"),
]


def test_knowledge_and_fabric_start_without_the_heavy_libraries(monkeypatch: pytest.MonkeyPatch) -> None:
    """Only fabric/ratios.py, which makes a piece of an answer, loads pydantic."""
    monkeypatch.delenv("COVERAGE_PROCESS_CONFIG", raising=False)  # coverage keeps its data with sqlite3
    names = [path.removesuffix("/__init__.py").removesuffix(".py").replace("/", ".") for path in LIGHT]
    heavy = ["pydantic", "lark", "sqlite3", "prompt_toolkit"]
    script = f"""
import importlib, sys
for name in {names!r}:
    importlib.import_module("yarnchat." + name)
print([name for name in {heavy!r} if name in sys.modules])
"""
    run = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, check=True)
    assert run.stdout.strip() == "[]"
