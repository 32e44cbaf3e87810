"""Export and import: the way round is exact, strange files are refused, and a half import never happens."""

from __future__ import annotations

import json
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given
from hypothesis import settings as tried
from hypothesis import strategies as st
from programs import DUNNOCK, MARRAM, SQUARE, notebook

from yarnchat.notebook import Notebook, NotebookError
from yarnchat.quantity import LENGTHS, MASSES, Quantity
from yarnchat.queries import Gauge, Needle, Price, PutUp, Swatch, Yarn

NUMBERS = st.floats(-1e15, 1e15) | st.integers(0, 10**9).map(float)
WORDS = st.text(st.characters(codec="utf-8"), max_size=20)
NAMES = st.text(st.characters(codec="utf-8", categories=["L", "N", "P", "Zs", "Cc"]), max_size=30).map("n".__add__)
LENGTH = st.builds(Quantity, NUMBERS, st.sampled_from(LENGTHS))
MASS = st.builds(Quantity, NUMBERS, st.sampled_from(MASSES))
GAUGE = st.builds(Gauge, NUMBERS, LENGTH, st.none() | NUMBERS, NUMBERS, NUMBERS, st.none() | LENGTH)
NEEDLE = st.builds(Needle, WORDS, st.sampled_from(["us", "uk", "mm", ""]))
YARN = st.builds(
    Yarn,
    name=NAMES,
    weight_class=st.none() | WORDS,
    class_as_said=st.none() | WORDS,
    put_up=st.none()
    | st.builds(PutUp, st.none() | LENGTH, st.none() | MASS, st.none() | LENGTH, st.none() | MASS, st.booleans()),
    gauge=st.none() | GAUGE,
    needle=st.none() | NEEDLE,
    wpi=st.none() | NUMBERS,
    strands=st.none() | st.integers(1, 99),
    price=st.none() | st.builds(Price, NUMBERS, WORDS),
    fibre=st.none() | WORDS,
    other_gauge=st.none() | GAUGE,
    other_needle=st.none() | NEEDLE,
)
SWATCH = st.builds(
    Swatch,
    YARN,
    st.none() | MASS,
    NUMBERS,
    st.none() | LENGTH,
    st.none() | LENGTH,
    st.none() | NUMBERS,
    st.none() | NUMBERS,
)


def state(book: Notebook) -> tuple[object, ...]:
    return book.yarns(), book.swatches(), book.stash(), book.settings()


@pytest.fixture
def full(tmp_path: Path) -> tuple[Notebook, Path]:
    """A notebook of a little of everything, and its export."""
    book = notebook(":memory:")
    book.remember_yarn(DUNNOCK)
    book.remember_yarn(Yarn("gone"))
    book.forget("gone")
    book.remember_yarn(MARRAM)
    book.remember_swatch(SQUARE)
    book.stash_yarn("Dunnock DK", None, 140, None)
    book.set("units", "m")
    book.export(tmp_path / "out.json")
    return book, tmp_path / "out.json"


@tried(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(
    st.lists(YARN, max_size=4),
    st.lists(SWATCH, max_size=4),
    st.lists(st.tuples(NAMES, NUMBERS, st.booleans(), st.none() | YARN), max_size=3),
    st.dates(),
)
def test_the_way_round_is_exact(
    tmp_path_factory: pytest.TempPathFactory,
    yarns: list[Yarn],
    swatches: list[Swatch],
    held: list[tuple[str, float, bool, Yarn | None]],
    day: date,
) -> None:
    folder = tmp_path_factory.mktemp("round")
    first, second = Notebook(":memory:", lambda: day), notebook(":memory:")
    for yarn in yarns:
        first.remember_yarn(yarn)
    for swatch in swatches:
        first.remember_swatch(swatch)
    for name, amount, in_grams, of in held:
        first.stash_yarn(name, None if in_grams else amount, amount if in_grams else None, of)
    first.export(folder / "a.json")
    second.import_(folder / "a.json")
    assert state(second) == state(first)
    second.export(folder / "b.json")
    assert (folder / "b.json").read_bytes() == (folder / "a.json").read_bytes()
    assert len(first.swatches()) == len(swatches)


def test_a_file_of_ids_dates_and_facts_is_readable(full: tuple[Notebook, Path]) -> None:
    found = json.loads(full[1].read_text("utf-8"))
    assert found["format"] == "yarnchat notebook"
    assert found["yarns"][0]["since"] == "2026-03-01"
    assert found["yarns"][0]["yarn"]["put_up"]["length"] == {"value": 225, "unit": "m"}
    assert found["stash"][0]["unit"] == "g"


def test_import_adds_changes_and_leaves_and_the_preview_says_so_first(full: tuple[Notebook, Path]) -> None:
    book = notebook(":memory:")
    book.remember_yarn(Yarn("MARRAM fingering", wpi=20))
    book.remember_yarn(Yarn("Hers alone"))
    before = state(book)
    said, _ = book.preview_import(full[1])
    assert state(book) == before
    assert [line.split()[0] for line in said] == ["Adds", "Adds", "Adds", "Changes", "Sets:"]
    assert "from: MARRAM fingering, 20 wpi; to the yarn “Marram Fingering”: Marram Fingering" in said[3]
    assert book.import_(full[1]).sentence.endswith("3 added, 1 changed, 0 unchanged. Lengths are shown in m.")
    assert {stored.name for stored in book.yarns()} == {"Dunnock DK", "Marram Fingering", "Hers alone"}
    assert book.find("Marram Fingering")[0].id == 1
    assert book.preview_import(full[1]) == ([], [])
    book.undo()
    assert state(book) == before


def test_a_preview_makes_no_file(full: tuple[Notebook, Path], tmp_path: Path) -> None:
    where = tmp_path / "new" / "n.sqlite"
    assert len(notebook(where).preview_import(full[1])[0]) == 5
    assert not where.parent.exists()


def broken(change: str) -> Any:
    """A change to make in a good export, by name."""

    def edit(found: dict[str, Any]) -> None:
        first = found["yarns"][0]
        if change == "unknown field":
            first["yarn"]["colour"] = "red"
        elif change == "unknown unit":
            found["stash"][0]["unit"] = "ell"
        elif change == "unknown length":
            first["yarn"]["put_up"]["length"]["unit"] = "g"
        elif change == "text for a number":
            first["yarn"]["put_up"]["length"]["value"] = "225"
        elif change == "no name":
            first["name"] = " "
        elif change == "not finite":
            first["yarn"]["wpi"] = float("nan")
        elif change == "huge":
            first["yarn"]["strands"] = 10**30
        elif change == "twice":
            found["yarns"].append({**first, "name": "DUNNOCK DK"})
        elif change == "no date":
            first["since"] = "yesterday"
        elif change == "bad setting":
            found["settings"]["spares"] = -2
        elif change == "newer":
            found["version"] = 99
        elif change == "other format":
            found["format"] = "shopping list"

    return edit


@pytest.mark.parametrize(
    "change",
    [
        "unknown field",
        "unknown unit",
        "unknown length",
        "text for a number",
        "no name",
        "not finite",
        "huge",
        "twice",
        "no date",
        "bad setting",
        "newer",
        "other format",
    ],
)
def test_a_bad_entry_anywhere_and_nothing_is_imported(full: tuple[Notebook, Path], change: str) -> None:
    book, path = full
    found = json.loads(path.read_text("utf-8"))
    broken(change)(found)
    found["yarns"].insert(0, {**found["yarns"][1], "name": "Good and new"})
    path.write_text(json.dumps(found), "utf-8")
    before = state(book)
    for attempt in (book.preview_import, book.import_):
        with pytest.raises(NotebookError) as caught:
            attempt(path)
        assert caught.value.sentence.endswith(".")
    assert state(book) == before


@pytest.mark.parametrize(
    "content",
    [
        b"",
        b"{",
        b"[]",
        b"\xff\xfe\x00",
        b"[" * 100_000,
        b'{"format": "yarnchat notebook"',
        b'{"format": "yarnchat notebook", "format": "yarnchat notebook"}',
    ],
)
def test_what_is_no_export_is_refused(tmp_path: Path, content: bytes) -> None:
    (tmp_path / "x.json").write_bytes(content)
    with pytest.raises(NotebookError, match=r"x\.json"):
        notebook(":memory:").import_(tmp_path / "x.json")


def test_missing_files_and_folders_are_named(tmp_path: Path) -> None:
    for path in (tmp_path, tmp_path / "none.json"):
        with pytest.raises(NotebookError, match="cannot be read"):
            notebook(":memory:").import_(path)
    with pytest.raises(NotebookError, match="could not be written"):
        notebook(":memory:").export(tmp_path / "none" / "x.json")


def test_export_replaces_an_export_and_nothing_else(full: tuple[Notebook, Path], tmp_path: Path) -> None:
    book, path = full
    book.forget("Marram Fingering")
    book.export(path)
    assert [stored["name"] for stored in json.loads(path.read_text("utf-8"))["yarns"]] == ["Dunnock DK"]
    (tmp_path / "letter.txt").write_text("Dear knitter")
    with pytest.raises(NotebookError, match="already there"):
        book.export(tmp_path / "letter.txt")
    assert (tmp_path / "letter.txt").read_text() == "Dear knitter"
    assert sorted(path.name for path in tmp_path.iterdir()) == ["letter.txt", "out.json"]
