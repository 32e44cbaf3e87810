"""Several programs and one notebook: killed at any moment, writing at once, waiting for one another."""

from __future__ import annotations

import sqlite3
import threading
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path

import pytest
from programs import DAY, DUNNOCK, MARRAM, notebook, run, start

from yarnchat.notebook import Notebook, NotebookError
from yarnchat.queries import Yarn

TALK = """
book = Notebook(where)
print("ready", flush=True)
for count in range(100_000):
    book.remember_yarn(Yarn(f"Wren {count}"))
    print(count, flush=True)
"""


def sound(path: Path) -> None:
    """The file passes SQLite's own check."""
    with closing(sqlite3.connect(path)) as connection:
        assert connection.execute("PRAGMA integrity_check").fetchall() == [("ok",)]


@pytest.mark.parametrize("changes", [1, 2, 3, 5, 8, 13, 21, 34])
def test_killed_after_any_change_every_change_told_is_there(tmp_path: Path, changes: int) -> None:
    path = tmp_path / "n.sqlite"
    program = start(TALK, path)
    assert program.stdout is not None
    told = [program.stdout.readline() for _ in range(changes + 1)]
    program.kill()
    rest, _ = program.communicate()
    assert program.returncode == -9
    acknowledged = len(told) - 1 + rest.count("\n")
    names = [stored.name for stored in notebook(path).yarns()]
    assert len(names) - acknowledged in (0, 1)
    assert names == [f"Wren {count}" for count in range(len(names))]
    assert notebook(path).undo().sentence.startswith(f"Undone: Remembered the yarn “{names[-1]}”")
    sound(path)


def test_killed_again_and_again_over_one_file(tmp_path: Path) -> None:
    path = tmp_path / "n.sqlite"
    told: set[str] = set()
    for turn in range(6):
        code = TALK.replace("Wren", f"Wren {turn}")
        program = start(code, path)
        assert program.stdout is not None
        lines = [program.stdout.readline() for _ in range(2 + turn)]
        program.kill()
        rest, _ = program.communicate()
        whole = [line for line in "".join([*lines[1:], rest]).splitlines(keepends=True) if line.endswith("\n")]
        told |= {f"Wren {turn} {line.strip()}" for line in whole}
        names = {stored.name for stored in notebook(path).yarns()}
        assert told <= names
        assert len(names - told) <= turn + 1
    sound(path)


IMPORT = """
from yarnchat.notebook import journal
put = journal.Ledger.put
puts = 0
def counted(*given):
    global puts
    puts += 1
    if puts == AT:
        die()
    return put(*given)
journal.Ledger.put = counted
Notebook(where).import_(where + ".json")
"""


@pytest.mark.parametrize("moment", [1, 2, 150, 300])
def test_killed_inside_an_import_none_of_it_is_there(tmp_path: Path, moment: int) -> None:
    path = tmp_path / "n.sqlite"
    many = notebook(":memory:")
    for count in range(300):
        many.remember_yarn(Yarn(f"Marram {count}", fibre="wool " * 20))
    many.export(f"{path}.json")
    notebook(path).remember_yarn(DUNNOCK)
    assert run(IMPORT.replace("AT", str(moment)), path)[0] == -9
    assert [stored.yarn for stored in notebook(path).yarns()] == [DUNNOCK]
    assert len(notebook(path).import_(f"{path}.json").entries) == 300
    sound(path)


@pytest.mark.parametrize(
    "trap",
    [
        "from yarnchat.notebook import store\nstore._fresh = die",
        "os.link = die",
        "link = os.link\nos.link = lambda *given: (link(*given), die())",
        "from pathlib import Path\nPath.mkdir = die",
    ],
)
def test_killed_while_the_file_is_made_the_next_one_makes_it(tmp_path: Path, trap: str) -> None:
    path = tmp_path / "deep" / "n.sqlite"
    assert run(f"{trap}\nNotebook(where).remember_yarn(Yarn('Wren'))", path)[0] == -9
    assert notebook(path).yarns() == ()
    notebook(path).remember_yarn(MARRAM)
    assert [stored.yarn for stored in notebook(path).yarns()] == [MARRAM]


def test_killed_while_exporting_the_former_export_stands(tmp_path: Path) -> None:
    path, export = tmp_path / "n.sqlite", tmp_path / "n.sqlite.json"
    book = notebook(path)
    book.remember_yarn(DUNNOCK)
    book.export(export)
    former = export.read_bytes()
    book.remember_yarn(MARRAM)
    assert run("os.fsync = die\nNotebook(where).export(where + '.json')", path)[0] == -9
    assert export.read_bytes() == former
    assert len(notebook(":memory:").import_(export).entries) == 1


WRITER = """
book = Notebook(where)
for count in range(30):
    book.remember_yarn(Yarn(f"NAME {count}"))
    book.remember_yarn(Yarn("shared", fibre=f"NAME {count}"))
"""


def test_two_programs_begin_one_notebook_and_write_at_once(tmp_path: Path) -> None:
    path = tmp_path / "n.sqlite"
    programs = [start(WRITER.replace("NAME", name), path) for name in ("Wren", "Plover")]
    for program in programs:
        assert program.communicate(timeout=120)[1] == ""
    stored = notebook(path).yarns()
    expected = {f"{name} {count}" for name in ("Wren", "Plover") for count in range(30)} | {"shared"}
    assert {yarn.name for yarn in stored} == expected
    assert len({yarn.id for yarn in stored}) == len(stored) == 61
    book = notebook(path)
    for _ in range(120):
        book.undo()
    assert book.yarns() == ()
    sound(path)


def test_one_program_undoes_what_another_did(tmp_path: Path) -> None:
    path = tmp_path / "n.sqlite"
    book = notebook(path)
    book.remember_yarn(DUNNOCK)
    assert run("Notebook(where).forget('dunnock dk')", path)[0] == 0
    assert book.yarns() == ()
    assert run("print(Notebook(where).undo().sentence)", path)[1][0].startswith("Undone: Forgot the yarn")
    assert [stored.yarn for stored in book.yarns()] == [DUNNOCK]


@contextmanager
def held(path: Path) -> Iterator[sqlite3.Connection]:
    """Another program in the middle of a change."""
    with closing(sqlite3.connect(path, isolation_level=None, check_same_thread=False)) as other:
        other.execute("BEGIN IMMEDIATE")
        yield other
        if other.in_transaction:
            other.execute("ROLLBACK")


def test_a_busy_notebook_can_be_read_and_says_it_is_busy(tmp_path: Path) -> None:
    path = tmp_path / "n.sqlite"
    notebook(path).remember_yarn(DUNNOCK)
    hasty = Notebook(path, lambda: DAY, patience=0.01)
    with held(path):
        with pytest.raises(NotebookError, match="Another program is busy"):
            hasty.remember_yarn(MARRAM)
        assert [stored.yarn for stored in hasty.yarns()] == [DUNNOCK]
    hasty.remember_yarn(MARRAM)
    assert len(hasty.yarns()) == 2


def test_a_short_wait_is_waited_out(tmp_path: Path) -> None:
    path = tmp_path / "n.sqlite"
    book = notebook(path)
    book.remember_yarn(DUNNOCK)
    with held(path) as other:
        later = threading.Timer(0.2, other.execute, ["COMMIT"])
        later.start()
        book.remember_yarn(MARRAM)
        later.join()
    assert len(book.yarns()) == 2


def test_one_notebook_serves_several_threads(tmp_path: Path) -> None:
    book = notebook(tmp_path / "n.sqlite")

    def work(name: str) -> None:
        for count in range(20):
            book.remember_yarn(Yarn(f"{name} {count}"))
            assert book.find(f"{name} {count}")

    threads = [threading.Thread(target=work, args=(name,)) for name in ("Wren", "Plover", "Knot")]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert len(book.yarns()) == 60


def test_an_error_halfway_takes_the_whole_change_back(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    book = notebook(tmp_path / "n.sqlite")
    book.remember_yarn(DUNNOCK)
    before = book.yarns()
    with monkeypatch.context() as patched:
        patched.setattr("yarnchat.notebook.book._rename_yarn", lambda *_: 1 / 0)
        with pytest.raises(ZeroDivisionError):
            book.rename("Dunnock DK", "Wren")
    assert book.yarns() == before
    assert book.undo().sentence.startswith("Undone: Remembered the yarn “Dunnock DK”")
