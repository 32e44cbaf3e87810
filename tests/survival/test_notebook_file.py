"""The notebook's file: made late, brought up to date with a copy kept, and never lost when it is damaged."""

from __future__ import annotations

import random
import sqlite3
import subprocess
import sys
from collections.abc import Callable
from contextlib import closing
from datetime import date
from pathlib import Path

import pytest
from programs import DUNNOCK, MARRAM, ROOT, SQUARE, mounted, notebook, own_mounts, run

from yarnchat.notebook import Notebook, NotebookError, Settings
from yarnchat.notebook.schema import VERSION
from yarnchat.quantity import Quantity
from yarnchat.queries import Price, PutUp, Swatch, Yarn

WRITE = """
try:
    print(Notebook(where).remember_yarn(Yarn("Plover")).sentence)
except NotebookError as error:
    print("NotebookError:", error.sentence)
"""
READ = """
try:
    print(*(stored.name for stored in Notebook(where).yarns()))
except NotebookError as error:
    print("NotebookError:", error.sentence)
"""


def filled(path: Path) -> Path:
    """A notebook file of some pages, closed."""
    book = notebook(path)
    book.remember_yarn(DUNNOCK)
    book.remember_swatch(SQUARE)
    for count in range(60):
        book.remember_yarn(Yarn(f"Marram {count}", "fingering", fibre="wool " * 20))
    book.close()
    return path


def everything(folder: Path) -> dict[str, bytes]:
    """Every file of a folder."""
    return {path.name: path.read_bytes() for path in folder.iterdir() if path.is_file()}


def test_reading_makes_no_file_and_loads_no_database(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv("COVERAGE_PROCESS_CONFIG", raising=False)  # coverage keeps its data with sqlite3
    where = tmp_path / "deep" / "n.sqlite"
    code = """
book = Notebook(where)
assert not {"sqlite3", "platformdirs", "rapidfuzz", "pydantic"} & sys.modules.keys(), sorted(sys.modules)
print(book.yarns(), book.swatches(), book.stash(), book.find("x"), book.near("x"), book.names())
print(book.settings())
"""
    ended, said, errors = run(code, where)
    assert (ended, errors) == (0, "")
    assert said == ["() () () [] [] ()", "Settings(units=None, spares=1, scale_step=None)"]
    assert not where.parent.exists()


def test_the_place_is_the_users_own_unless_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("YARNCHAT_NOTEBOOK", str(tmp_path / "told.sqlite"))
    assert Notebook().where == str(tmp_path / "told.sqlite")
    assert Notebook(tmp_path / "argument.sqlite").where == str(tmp_path / "argument.sqlite")
    monkeypatch.delenv("YARNCHAT_NOTEBOOK")
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))
    path = Path(Notebook().where)
    assert path.name == "notebook.sqlite"
    assert "yarnchat" in path.parts


def test_what_is_kept_is_there_next_time(tmp_path: Path) -> None:
    path = filled(tmp_path / "n ?#%.sqlite")
    again = notebook(path)
    assert again.find("Dunnock DK")[0] == again.yarns()[0]
    assert again.yarns()[0].yarn == DUNNOCK
    again.close()
    assert list(everything(tmp_path)) == ["n ?#%.sqlite"]
    assert again.undo().sentence.startswith("Undone: Remembered the yarn “Marram 59”")


def test_the_file_is_kept_in_a_write_ahead_log(tmp_path: Path) -> None:
    path = filled(tmp_path / "n.sqlite")
    with closing(sqlite3.connect(path)) as connection:
        assert connection.execute("PRAGMA journal_mode").fetchone() == ("wal",)
        assert connection.execute("PRAGMA user_version").fetchone() == (VERSION,)


def test_a_file_put_in_place_of_ours_is_the_one_read_and_written(tmp_path: Path) -> None:
    book = notebook(filled(tmp_path / "n.sqlite"))
    assert len(book.yarns()) == 61
    (tmp_path / "n.sqlite").rename(tmp_path / "old.sqlite")
    assert book.yarns() == ()
    book.remember_yarn(MARRAM)
    assert [stored.yarn for stored in notebook(tmp_path / "n.sqlite").yarns()] == [MARRAM]
    assert len(notebook(tmp_path / "old.sqlite").yarns()) == 61


def old_file(path: Path) -> Path:
    """A file of the first version, from its SQL."""
    with closing(sqlite3.connect(path)) as connection:
        connection.executescript((ROOT / "fixtures/notebooks/v1.sql").read_text("utf-8"))
    return path


def test_an_old_file_is_brought_up_to_date_and_a_copy_is_kept(tmp_path: Path) -> None:
    path = old_file(tmp_path / "n.sqlite")
    former = path.read_bytes()
    book = notebook(path)
    (yarn,) = book.yarns()
    expected = Yarn("Dunnock DK", "dk", "DK", PutUp(Quantity(225, "m"), Quantity(100, "g")))
    assert (yarn.id, yarn.since, yarn.yarn) == (1, date(2025, 1, 4), expected)
    square = Quantity(15, "cm")
    assert book.swatches()[0].swatch == Swatch(Yarn("Dunnock DK"), Quantity(10.8, "g"), 0.1, square, square)
    assert book.settings() == Settings("m")
    book.remember_yarn(Yarn("Dunnock DK", price=Price(6.5, "£"), fibre="wool"))
    assert book.yarns()[0].yarn.price == Price(6.5, "£")
    book.undo()
    assert "“Marram Fingering” is again" in book.undo().sentence
    assert [(stored.id, stored.yarn) for stored in book.yarns()][1] == (
        3,
        Yarn("Marram Fingering", "fingering"),
    )
    book.close()
    copy = tmp_path / "n.sqlite.version-1-1"
    with closing(sqlite3.connect(copy)) as old, closing(sqlite3.connect(":memory:")) as then:
        then.deserialize(former)
        assert list(old.iterdump()) == list(then.iterdump())
        assert old.execute("PRAGMA user_version").fetchone() == (1,)


@pytest.mark.parametrize("moment", ["_copy", "_step"])
def test_killed_while_brought_up_to_date_the_old_file_stands(tmp_path: Path, moment: str) -> None:
    path = old_file(tmp_path / "n.sqlite")
    code = f"""
from yarnchat.notebook import store
do = store.{moment}
store.{moment} = lambda *given: (do(*given), die())
Notebook(where).yarns()
"""
    assert run(code, path)[0] == -9
    with closing(sqlite3.connect(path)) as connection:
        assert connection.execute("PRAGMA user_version").fetchone() == (1,)
        assert len(connection.execute("SELECT * FROM entry").fetchall()) == 2
    assert [stored.name for stored in notebook(path).yarns()] == ["Dunnock DK"]


def test_a_newer_file_is_left_alone(tmp_path: Path) -> None:
    path = filled(tmp_path / "n.sqlite")
    with closing(sqlite3.connect(path)) as connection:
        connection.execute("PRAGMA user_version = 99")
    former = path.read_bytes()
    book = notebook(path)
    for attempt in (book.yarns, lambda: book.remember_yarn(MARRAM), book.undo):
        with pytest.raises(NotebookError, match=r"newer yarnchat \(its version is 99.*update yarnchat"):
            attempt()
    book.close()
    assert path.read_bytes() == former


def test_a_file_made_newer_while_we_hold_it_is_not_written(tmp_path: Path) -> None:
    book = notebook(filled(tmp_path / "n.sqlite"))
    before = book.yarns()
    with closing(sqlite3.connect(tmp_path / "n.sqlite")) as other:
        other.execute("PRAGMA user_version = 99")
        for attempt in (book.yarns, lambda: book.remember_yarn(MARRAM)):
            with pytest.raises(NotebookError, match="newer"):
                attempt()
        other.execute(f"PRAGMA user_version = {VERSION}")
    assert book.yarns() == before


def test_another_programs_database_is_left_alone(tmp_path: Path) -> None:
    path = tmp_path / "recipes.db"
    with closing(sqlite3.connect(path)) as connection:
        connection.execute("CREATE TABLE recipe (name TEXT)")
    former = everything(tmp_path)
    for attempt in (notebook(path).yarns, lambda: notebook(path).remember_yarn(MARRAM)):
        with pytest.raises(NotebookError, match="not a yarnchat notebook"):
            attempt()
    assert everything(tmp_path) == former


def _noise(count: int) -> bytes:
    return random.Random(7).randbytes(count)


DAMAGE: dict[str, Callable[[bytes], bytes]] = {
    "half of it": lambda whole: whole[: len(whole) // 2],
    "all but its end": lambda whole: whole[:-100],
    "one page": lambda whole: whole[:4096],
    "its first bytes": lambda whole: whole[:50],
    "nothing": lambda _: b"",
    "noise": lambda whole: _noise(len(whole)),
    "noise at the head": lambda whole: _noise(64) + whole[64:],
    "a page of noise": lambda whole: whole[:4096] + _noise(4096) + whole[8192:],
    "zeros after the first page": lambda whole: whole[:4096] + bytes(len(whole) - 4096),
    "text": lambda _: b"Dear knitter, this is no notebook.\n" * 100,
}


@pytest.mark.parametrize("kind", DAMAGE)
def test_a_damaged_file_is_kept_untouched(tmp_path: Path, kind: str) -> None:
    path = filled(tmp_path / "n.sqlite")
    damaged = DAMAGE[kind](path.read_bytes())
    path.write_bytes(damaged)
    book = notebook(path)
    with pytest.raises(NotebookError, match="is damaged") as caught:
        book.yarns()
    assert str(path) in caught.value.sentence
    assert path.read_bytes() == damaged
    with pytest.raises(NotebookError, match="was damaged") as caught:
        book.remember_yarn(MARRAM)
    kept = tmp_path / "n.sqlite.damaged-1"
    assert str(kept) in caught.value.sentence
    assert kept.read_bytes() == damaged
    book.remember_yarn(MARRAM)
    assert [stored.yarn for stored in book.yarns()] == [MARRAM]
    assert kept.read_bytes() == damaged


def test_a_damaged_file_keeps_its_log_too(tmp_path: Path) -> None:
    path, log = filled(tmp_path / "n.sqlite"), tmp_path / "n.sqlite-wal"
    assert run('book = Notebook(where)\nbook.remember_yarn(Yarn("Wren"))\ndie()', path)[0] == -9
    whole = path.read_bytes()
    damaged = whole[: len(whole) // 2] + _noise(len(whole) - len(whole) // 2)
    path.write_bytes(damaged)
    logged = log.read_bytes()
    assert logged
    _, said, errors = run(READ, path)
    assert "damaged" in said[0], errors
    assert (path.read_bytes(), log.read_bytes()) == (damaged, logged)
    _, said, errors = run(WRITE, path)
    assert "The damaged file is kept" in said[0], errors
    kept = tmp_path / "n.sqlite.damaged-1"
    assert (kept.read_bytes(), kept.with_name(f"{kept.name}-wal").read_bytes()) == (damaged, logged)


def test_damage_met_while_open_loses_nothing_either(tmp_path: Path) -> None:
    path = filled(tmp_path / "n.sqlite")
    book = notebook(path)
    book.find("Dunnock DK")
    damaged = path.read_bytes()[:4096] + _noise(len(path.read_bytes()) - 4096)
    path.write_bytes(damaged)
    with pytest.raises(NotebookError, match="damaged"):
        book.yarns()
    assert path.read_bytes() == damaged


def test_a_second_damaged_file_does_not_cover_the_first(tmp_path: Path) -> None:
    path = tmp_path / "n.sqlite"
    for count in (1, 2):
        path.write_bytes(b"no notebook" * count)
        with pytest.raises(NotebookError, match="damaged"):
            notebook(path).remember_yarn(MARRAM)
    assert everything(tmp_path) == {
        "n.sqlite.damaged-1": b"no notebook",
        "n.sqlite.damaged-2": b"no notebook" * 2,
    }


def test_a_file_of_another_kind_by_its_name_is_not_moved(tmp_path: Path) -> None:
    (tmp_path / "jumper.jpg").write_bytes(b"a picture")
    with pytest.raises(NotebookError, match="damaged"):
        notebook(tmp_path / "jumper.jpg").remember_yarn(MARRAM)
    assert everything(tmp_path) == {"jumper.jpg": b"a picture"}


def test_a_row_that_makes_no_sense_is_damage(tmp_path: Path) -> None:
    path = filled(tmp_path / "n.sqlite")
    with closing(sqlite3.connect(path)) as connection:
        connection.execute("UPDATE entry SET mass_unit = 'ell' WHERE id = 1")
        connection.commit()
    with pytest.raises(NotebookError, match="ell is no unit"):
        notebook(path).yarns()


def test_a_stray_log_is_never_played_into_a_new_notebook(tmp_path: Path) -> None:
    path = tmp_path / "n.sqlite"
    code = 'book = Notebook(where)\nbook.remember_yarn(Yarn("From another file"))\ndie()'
    assert run(code, path)[0] == -9
    log = tmp_path / "n.sqlite-wal"
    logged = log.read_bytes()
    assert logged
    path.unlink()
    book = notebook(path)
    book.remember_yarn(MARRAM)
    assert [stored.yarn for stored in book.yarns()] == [MARRAM]
    assert (tmp_path / "n.sqlite.stray-wal-1").read_bytes() == logged


def test_a_file_where_a_folder_is_needed(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("x")
    book = notebook(tmp_path / "file" / "n.sqlite")
    for attempt in (book.yarns, lambda: book.remember_yarn(MARRAM)):
        with pytest.raises(NotebookError, match="cannot be opened or written"):
            attempt()
    with pytest.raises(NotebookError, match="cannot be opened or written"):
        notebook(tmp_path).remember_yarn(MARRAM)


@pytest.mark.parametrize("left_open", [False, True], ids=["closed", "killed"])
def test_a_read_only_folder_can_be_read_and_says_why_not_written(tmp_path: Path, left_open: bool) -> None:
    if not own_mounts():
        pytest.skip("needs a mount of its own: not Linux, or not allowed to")
    path = filled(tmp_path / "n.sqlite")
    if left_open:
        assert run('book = Notebook(where)\nbook.remember_yarn(Yarn("Wren"))\ndie()', path)[0] == -9
    former = everything(tmp_path)
    locked = mounted('mount --bind "$folder" "$folder"; mount -o remount,ro,bind "$folder"', tmp_path)
    _, said, errors = run(WRITE, path, locked)
    assert said[0].startswith("NotebookError: The notebook "), errors
    assert "cannot be opened or written" in said[0]
    _, said, errors = run(READ, path, locked)
    assert said[0].startswith("Dunnock DK Marram 0"), (said, errors)
    assert said[0].endswith("Wren" if left_open else "Marram 59")
    _, said, errors = run(WRITE, tmp_path / "new.sqlite", locked)
    assert "cannot be opened or written" in said[0], errors
    assert everything(tmp_path) == former
    old_file(tmp_path / "old.sqlite")
    _, said, errors = run(READ, tmp_path / "old.sqlite", locked)
    assert "cannot be opened or written" in said[0], (said, errors)


FILL = """
book = Notebook(where)
kept = 0
try:
    while kept < 5000:
        book.remember_yarn(Yarn(f"Wren {kept}", fibre="wool " * 20))
        kept += 1
except NotebookError as error:
    print("NotebookError:", error.sentence)
try:
    print(kept, sum(stored.name.startswith("Wren") for stored in book.yarns()))
    book.close()
    print(kept, sum(stored.name.startswith("Wren") for stored in Notebook(where).yarns()))
except NotebookError as error:
    print("NotebookError:", error.sentence)
"""


def check_full(said: list[str], errors: str) -> None:
    """The change that did not fit was refused in words; every one before it is there."""
    assert said[0].startswith("NotebookError: The notebook"), (said, errors)
    assert "the disk is full or a size limit was met" in said[0]
    for line in said[1:]:
        kept, found = line.split()
        assert kept == found != "0"
    assert len(said) == 3


def test_a_full_disk_loses_nothing(tmp_path: Path) -> None:
    if not own_mounts():
        pytest.skip("needs a mount of its own: not Linux, or not allowed to")
    small = mounted('mount -t tmpfs -o size=400k none "$folder"', tmp_path)
    _, said, errors = run(FILL, tmp_path / "n.sqlite", small)
    check_full(said, errors)


def test_no_room_even_to_begin(tmp_path: Path) -> None:
    if not own_mounts():
        pytest.skip("needs a mount of its own: not Linux, or not allowed to")
    small = mounted('mount -t tmpfs -o size=16k none "$folder"', tmp_path)
    _, said, errors = run(WRITE, tmp_path / "n.sqlite", small)
    assert "the disk is full or a size limit was met" in said[0], (said, errors)


def test_a_limit_on_file_size_loses_nothing(tmp_path: Path) -> None:
    pytest.importorskip("resource", reason="no limits on file size here")
    limit = "import resource\nresource.setrlimit(resource.RLIMIT_FSIZE, (150_000, 150_000))\n"
    _, said, errors = run(limit + FILL, tmp_path / "n.sqlite")
    check_full(said, errors)
    assert len(notebook(tmp_path / "n.sqlite").yarns()) == int(said[1].split()[0])


def test_a_file_system_without_links_will_do(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def no_links(*_: object) -> None:
        raise OSError(95, "Operation not supported")

    monkeypatch.setattr("os.link", no_links)
    notebook(tmp_path / "n.sqlite").remember_yarn(MARRAM)
    assert [stored.yarn for stored in notebook(tmp_path / "n.sqlite").yarns()] == [MARRAM]
    assert list(everything(tmp_path)) == ["n.sqlite"]


def test_only_one_module_knows_the_database() -> None:
    found = [path.name for path in (ROOT / "yarnchat").rglob("*.py") if "import sqlite3" in path.read_text("utf-8")]
    assert found == ["store.py"]


def test_nothing_is_left_open_at_exit(tmp_path: Path) -> None:
    code = "from yarnchat.notebook import Notebook\nfrom yarnchat.queries import Yarn\n"
    code += f"Notebook({str(tmp_path / 'n.sqlite')!r}).remember_yarn(Yarn('Wren'))\n"
    command = [sys.executable, "-X", "dev", "-W", "error", "-c", code]
    done = subprocess.run(command, capture_output=True, text=True, cwd=ROOT, check=False)
    assert (done.returncode, done.stderr) == (0, "")
    assert list(everything(tmp_path)) == ["n.sqlite"]
