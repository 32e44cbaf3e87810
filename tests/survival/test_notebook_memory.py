"""What the notebook remembers, and takes back: names, updates, undo, settings, looking up."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest
from programs import DAY, DUNNOCK, MARRAM, SQUARE, notebook

from yarnchat.notebook import Change, Notebook, NotebookError, Settings, lookup
from yarnchat.quantity import Quantity
from yarnchat.queries import Gauge, Needle, Price, PutUp, Swatch, Yarn


@pytest.fixture
def book() -> Notebook:
    return notebook(":memory:")


def test_a_yarn_comes_back_as_it_was_said(book: Notebook) -> None:
    whole = Yarn(
        name="Hob Lane Sport",
        weight_class="sport",
        class_as_said="5 ply",
        put_up=PutUp(Quantity(310, "yd"), Quantity(100, "g"), Quantity(283, "m"), Quantity(3.5, "oz"), False),
        gauge=Gauge(24, Quantity(4, "in"), 32, 1, 0.5, Quantity(10, "cm")),
        needle=Needle("4", "us"),
        wpi=14,
        strands=2,
        price=Price(7.5, "£"),
        fibre="wool and nettle",
        other_gauge=Gauge(23.6, Quantity(10, "cm")),
        other_needle=Needle("3.5", "mm"),
    )
    book.remember_yarn(whole)
    (stored,) = book.yarns()
    assert stored.yarn == whole
    assert (stored.name, stored.since) == ("Hob Lane Sport", DAY)


def test_the_sentence_tells_what_is_stored_and_not_what_was_passed(book: Notebook) -> None:
    book.remember_yarn(Yarn("Sallow", put_up=PutUp(Quantity(225, "m"), Quantity(100, "g")), fibre="wool"))
    change = book.remember_yarn(Yarn("SALLOW \t", wpi=12))
    assert change.sentence == (
        "Updated the yarn “Sallow”: Sallow, 225 m/100 g, 12 wpi, wool. Before, it was: Sallow, 225 m/100 g, wool."
    )
    assert change.entries == book.yarns()


def test_an_update_keeps_id_date_and_what_was_not_said_again(book: Notebook) -> None:
    book.remember_yarn(DUNNOCK)
    (first,) = book.yarns()
    book.remember_yarn(Yarn("dunnock dk", put_up=PutUp(Quantity(210, "m"), Quantity(100, "g"))))
    (second,) = book.yarns()
    assert (second.id, second.since, second.yarn.fibre) == (first.id, first.since, "wool")
    assert second.yarn.put_up == PutUp(Quantity(210, "m"), Quantity(100, "g"))


def test_a_new_class_does_not_keep_the_old_ones_word(book: Notebook) -> None:
    book.remember_yarn(Yarn("Sallow", "worsted", "aran"))
    book.remember_yarn(Yarn("Sallow", "bulky"))
    assert book.yarns()[0].yarn == Yarn("Sallow", "bulky")


def test_swatches_of_one_yarn_are_numbered(book: Notebook) -> None:
    for _ in range(3):
        book.remember_swatch(SQUARE)
    assert [row.name for row in book.swatches()] == ["Dunnock DK swatch", "Dunnock DK swatch 2", "Dunnock DK swatch 3"]
    book.forget("Dunnock DK swatch 2")
    book.remember_swatch(SQUARE)
    assert len({row.name for row in book.swatches()}) == 3
    book.remember_swatch(Swatch(Yarn(weight_class="worsted")))
    book.remember_swatch(Swatch(Yarn()))
    assert book.names()[-2:] == ("worsted swatch", "swatch")
    assert [stored.swatch for stored in book.swatches("DUNNOCK dk")] == [SQUARE] * 3


def test_the_yarn_of_a_swatch_is_a_name_too(book: Notebook) -> None:
    book.remember_swatch(SQUARE)
    assert book.names() == ("Dunnock DK swatch", "Dunnock DK")


@pytest.mark.parametrize(
    ("text", "unknown", "slip"),
    [
        ("how many skeins of Dunock DK for 900 yd", ["Dunock"], ("dunock dk", "Dunnock DK")),
        ("and in dunnock kd?", ["dunnock", "kd"], ("dunnock kd", "Dunnock DK")),
        ("a dunk in the sea", ["dunk", "sea"], None),
        ("how many skeins of Dunock DK for 900 yd", [], None),
        ("", [""], None),
    ],
)
def test_words_that_are_nearly_a_name(
    book: Notebook, text: str, unknown: list[str], slip: tuple[str, str] | None
) -> None:
    assert book.slip(text, unknown) is None
    book.remember_yarn(DUNNOCK)
    assert book.slip(text, unknown) == slip


def test_a_swatch_of_a_very_long_yarn_name_still_has_a_name(book: Notebook) -> None:
    for _ in range(2):
        book.remember_swatch(Swatch(Yarn("x" * 120)))
    first, second = (row.name for row in book.swatches())
    assert first.endswith("x swatch")
    assert second == f"{first} 2"
    assert len(second) <= 120


def test_stash_takes_skeins_or_grams_and_finds_its_yarn(book: Notebook) -> None:
    book.stash_yarn("Dunnock DK", 3, None, None)
    assert str(book.stash()[0]) == "3 skeins of Dunnock DK"
    book.remember_yarn(DUNNOCK)
    (held,) = book.stash()
    assert (held.amount, held.unit, held.yarn) == (3, "skein", DUNNOCK)
    book.stash_yarn("dunnock DK", None, 140, None)
    (held,) = book.stash()
    assert (held.amount, held.unit) == (140, "g")
    for skeins, grams in ((None, None), (1, 50)):
        with pytest.raises(NotebookError, match="either in skeins or in grams"):
            book.stash_yarn("Dunnock DK", skeins, grams, None)
    assert book.stash() == (held,)


@pytest.mark.parametrize("amount", [float("nan"), float("inf"), 1e300])
def test_no_number_that_cannot_be_kept(book: Notebook, amount: float) -> None:
    with pytest.raises(NotebookError, match="number"):
        book.stash_yarn("Dunnock DK", amount, None, None)
    assert book.stash() == ()


def test_names_are_cleaned_and_compared_without_case(book: Notebook) -> None:
    book.remember_yarn(Yarn("  Straße\t\x00\u202eGarn  "))
    assert book.names() == ("Straße Garn",)
    assert [stored.name for stored in book.find("STRASSE  garn")] == ["Straße Garn"]
    for bad in ("", " \x07 ", "\u200d", "y" * 121, None):
        with pytest.raises(NotebookError, match="name"):
            book.remember_yarn(Yarn(bad))
    book.remember_yarn(Yarn("y" * 120))


def test_one_name_may_be_of_several_kinds(book: Notebook) -> None:
    book.remember_yarn(DUNNOCK)
    book.stash_yarn("Dunnock DK", 2, None, None)
    assert {stored.kind for stored in book.find("dunnock dk")} == {"yarn", "stash"}
    with pytest.raises(NotebookError, match="say which"):
        book.forget("Dunnock DK")
    assert "The yarn “Dunnock DK” stays." in book.forget("Dunnock DK", "stash").sentence
    assert [stored.kind for stored in book.find("dunnock dk")] == ["yarn"]


def test_a_renamed_yarn_takes_its_swatches_and_stash_along(book: Notebook) -> None:
    book.remember_yarn(DUNNOCK)
    book.remember_swatch(SQUARE)
    book.stash_yarn("Dunnock DK", 2, None, None)
    before = (book.yarns(), book.swatches(), book.stash())
    book.rename("dunnock dk", "Wren DK")
    assert book.find("Dunnock DK") == []
    assert book.swatches("Wren DK")[0].swatch == replace(SQUARE, yarn=replace(DUNNOCK, name="Wren DK"))
    assert book.stash()[0].yarn == replace(DUNNOCK, name="Wren DK")
    book.undo()
    assert (book.yarns(), book.swatches(), book.stash()) == before


def test_a_swatch_numbered_after_its_yarn_is_called_after_the_new_name(book: Notebook) -> None:
    book.remember_yarn(DUNNOCK)
    for name in (None, None, "Dunnock DK first"):
        book.remember_swatch(SQUARE, name)
    book.remember_swatch(Swatch(MARRAM), "Wren DK swatch 2")
    change = book.rename("Dunnock DK", "Wren DK")
    assert change.sentence.endswith("With it: the swatch “Wren DK swatch”.")
    names = [stored.name for stored in book.swatches("Wren DK")]
    assert names == ["Wren DK swatch", "Dunnock DK swatch 2", "Dunnock DK first"]


def test_changes_made_together_are_one_or_none(book: Notebook) -> None:
    said = book.together([lambda: book.remember_yarn(DUNNOCK), lambda: book.remember_swatch(SQUARE)])
    assert [change.sentence.split(":")[0] for change in said] == [
        "Remembered the yarn “Dunnock DK”",
        "Remembered the swatch “Dunnock DK swatch”",
    ]
    with pytest.raises(NotebookError, match="nothing called “Plover”"):
        book.together([lambda: book.remember_yarn(MARRAM), lambda: book.forget("Plover")])
    assert [stored.name for stored in book.yarns()] == ["Dunnock DK"]
    assert book.undo().sentence.startswith(f"Undone: {said[0].sentence} {said[1].sentence}")
    assert (book.yarns(), book.swatches()) == ((), ())
    book.remember_yarn(MARRAM)
    assert book.together([lambda: book.remember_yarn(MARRAM)])[0].sentence.startswith("Already remembered")


def test_a_label_put_right_is_put_right_in_swatches_and_stash(book: Notebook) -> None:
    other = PutUp(Quantity(210, "m"), Quantity(100, "g"))
    book.remember_yarn(DUNNOCK)
    book.remember_swatch(SQUARE)
    book.remember_swatch(replace(SQUARE, yarn=replace(DUNNOCK, put_up=other)))
    book.stash_yarn("Dunnock DK", 2, None, DUNNOCK)
    new = PutUp(Quantity(220, "m"), Quantity(100, "g"))
    book.remember_yarn(Yarn("Dunnock DK", put_up=new))
    assert [stored.swatch.yarn.put_up for stored in book.swatches()] == [new, other]
    assert book.stash()[0].yarn.put_up == new
    book.undo()
    assert [stored.swatch.yarn.put_up for stored in book.swatches()] == [DUNNOCK.put_up, other]
    assert book.stash()[0].yarn.put_up == DUNNOCK.put_up


def test_a_rename_never_covers_another(book: Notebook) -> None:
    book.remember_yarn(DUNNOCK)
    book.remember_yarn(MARRAM)
    before = book.yarns()
    with pytest.raises(NotebookError, match="already the yarn “marram fingering”"):
        book.rename("Dunnock DK", "marram fingering")
    with pytest.raises(NotebookError, match="nothing called “Plover”"):
        book.rename("Plover", "Wren")
    assert book.yarns() == before
    book.rename("Dunnock DK", "DUNNOCK dk")
    assert book.names() == ("DUNNOCK dk", "Marram Fingering")


def test_undo_goes_back_to_the_start_one_change_at_a_time(book: Notebook) -> None:
    def state() -> object:
        return book.yarns(), book.swatches(), book.stash(), book.settings()

    states = [state()]
    changes: tuple[Callable[[], Change], ...] = (
        lambda: book.remember_yarn(DUNNOCK),
        lambda: book.remember_yarn(Yarn("Dunnock DK", wpi=12)),
        lambda: book.remember_swatch(SQUARE, "blocked"),
        lambda: book.remember_swatch(replace(SQUARE, stitches=33), "blocked"),
        lambda: book.stash_yarn("Dunnock DK", 4, None, MARRAM),
        lambda: book.set("units", "m"),
        lambda: book.set("units", "yd"),
        lambda: book.set("units", "default"),
        lambda: book.rename("Dunnock DK", "Wren"),
        lambda: book.forget("blocked"),
    )
    for change in changes:
        change()
        states.append(state())
    for former in reversed(states[:-1]):
        book.undo()
        assert state() == former
    with pytest.raises(NotebookError, match="nothing to undo"):
        book.undo()


def test_a_change_that_changes_nothing_needs_no_undo(book: Notebook) -> None:
    book.remember_yarn(DUNNOCK)
    assert book.remember_yarn(DUNNOCK).sentence.startswith("Already remembered the yarn")
    assert book.set("units", "default").sentence.startswith("Already so")
    book.undo()
    assert book.yarns() == ()


def test_settings_are_checked_and_read_back(book: Notebook) -> None:
    assert book.settings() == Settings(None, 1, None)
    assert book.set("units", "M").sentence == "Lengths are shown in m."
    assert book.set("spares", "02").sentence == "Spare skeins: 2."
    assert book.set("scale_step", "0.1").sentence == "Your scale reads to 0.1 g."
    assert book.settings() == Settings("m", 2, 0.1)
    for setting, value in (
        ("units", "cubits"),
        ("spares", "-1"),
        ("spares", "1.5"),
        ("spares", "²"),
        ("scale_step", "nan"),
        ("scale_step", "0"),
        ("colour", "red"),
    ):
        with pytest.raises(NotebookError):
            book.set(setting, value)
    assert book.settings() == Settings("m", 2, 0.1)


def test_near_names_are_offered(book: Notebook) -> None:
    for yarn in (DUNNOCK, MARRAM, Yarn("Tidewrack")):
        book.remember_yarn(yarn)
    assert book.near("dunock dk")[0] == "Dunnock DK"
    assert book.near("Tidewrack") == []
    assert book.near("qqqq") == []


@pytest.mark.parametrize(("query", "index"), [(lookup.FIND, "sqlite_autoindex"), (lookup.OF_YARN, "entry_yarn")])
def test_a_look_by_name_is_an_index_hit(tmp_path: Path, query: str, index: str) -> None:
    path = tmp_path / "n.sqlite"
    notebook(path).remember_yarn(DUNNOCK)
    connection = sqlite3.connect(path)
    (step,) = connection.execute(f"EXPLAIN QUERY PLAN {query}", ("x",) * query.count("?")).fetchall()[:1]
    connection.close()
    assert "SEARCH entry USING INDEX" in step[3]
    assert index in step[3]


def test_names_are_read_again_only_after_a_change(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    ours, theirs = notebook(tmp_path / "n.sqlite"), notebook(tmp_path / "n.sqlite")
    ours.remember_yarn(DUNNOCK)
    loads = []
    load = lookup.names

    def counted(connection: sqlite3.Connection) -> dict[str, str]:
        loads.append(connection)
        return load(connection)

    monkeypatch.setattr(lookup, "names", counted)
    assert ours.names() == ours.names() == ("Dunnock DK",)
    assert len(loads) == 1
    theirs.remember_yarn(MARRAM)
    assert ours.names() == ("Dunnock DK", "Marram Fingering")
    ours.remember_yarn(Yarn("Wren"))
    assert ours.names()[-1] == "Wren"
    assert len(loads) == 3
