"""Notebook: what is said back is what was stored, and what cannot be done is said."""

from __future__ import annotations

from pathlib import Path

import pytest

from yarnchat.abilities.base import Context, Draft
from yarnchat.abilities.notebook import ABILITY
from yarnchat.answers import Item
from yarnchat.quantity import Quantity
from yarnchat.queries import Gauge, Holding, Note, PutUp, Query, Swatch, Yarn
from yarnchat.refusals import Refusal

from .asking import context

DK = Yarn(
    name="Dunnock DK",
    weight_class="dk",
    put_up=PutUp(Quantity(225, "m"), Quantity(100, "g")),
    gauge=Gauge(22, Quantity(10, "cm")),
)
SIDE = Quantity(15, "cm")


@pytest.fixture
def known() -> Context:
    return context()


def do(known: Context, query: Query) -> Draft:
    return ABILITY.answer(query, known)


def remember(known: Context, yarn: Yarn = DK) -> Draft:
    return do(known, Query(yarns=(yarn,), note=Note("remember", "yarn")))


def items(draft: Draft) -> list[Item]:
    found = draft.figures["items"]
    assert isinstance(found, list)
    return [item for item in found if isinstance(item, Item)]


def test_a_yarn_is_remembered_and_read_back(known: Context) -> None:
    draft = remember(known)
    assert [stored.yarn for stored in known.notebook.yarns()] == [DK]
    assert items(draft)[0].name == "Dunnock DK"
    assert "225 m/100 g" in draft.headline


def test_the_name_may_be_said_apart(known: Context) -> None:
    plain = Yarn(weight_class="dk", put_up=DK.put_up)
    do(known, Query(yarns=(plain,), note=Note("remember", "yarn", name="Harbour")))
    assert known.notebook.yarns()[0].name == "Harbour"


def test_a_swatch_takes_its_put_up_from_the_yarn(known: Context) -> None:
    remember(known)
    swatch = Swatch(Yarn(name="Dunnock DK"), Quantity(10.8, "g"), 0.1, SIDE, SIDE)
    do(known, Query(swatch=swatch, note=Note("remember", "swatch")))
    [stored] = known.notebook.swatches()
    assert stored.swatch.yarn.put_up == DK.put_up
    assert stored.swatch.mass == Quantity(10.8, "g")


@pytest.mark.parametrize(
    ("holding", "amount", "unit"),
    [
        (Holding(6, "skein", DK), 6, "skein"),
        (Holding(250, "g", DK), 250, "g"),
        (Holding(4, "oz", DK), 113.398, "g"),  # 4 x 28.3495
        (Holding(450, "m", DK), 2, "skein"),  # 450 / 225
    ],
)
def test_stash_is_kept_in_skeins_or_grams(known: Context, holding: Holding, amount: float, unit: str) -> None:
    do(known, Query(stash=(holding,), note=Note("remember", "stash")))
    [stored] = known.notebook.stash()
    assert stored.amount == pytest.approx(amount, abs=1e-3)
    assert stored.unit == unit


def test_listing_has_every_kind(known: Context) -> None:
    remember(known)
    do(known, Query(stash=(Holding(6, "skein", DK),), note=Note("remember", "stash")))
    draft = do(known, Query(note=Note("list")))
    assert [item.kind for item in items(draft)] == ["yarn", "stash", "setting", "setting", "setting"]
    assert "1 yarn, 1 stash yarn" in draft.headline
    assert [item.kind for item in items(do(known, Query(note=Note("list", "yarn"))))] == ["yarn"]


def test_an_empty_notebook_says_so(known: Context) -> None:
    draft = do(known, Query(note=Note("list", "yarn")))
    assert draft.headline == "Your notebook has no yarns yet."
    assert items(draft) == []


def test_show_rename_forget_undo(known: Context) -> None:
    remember(known)
    assert items(do(known, Query(note=Note("show", name="dunnock dk"))))[0].kind == "yarn"
    do(known, Query(note=Note("rename", name="Dunnock DK", new_name="Dunnock")))
    assert [stored.name for stored in known.notebook.yarns()] == ["Dunnock"]
    do(known, Query(note=Note("forget", name="Dunnock")))
    assert known.notebook.yarns() == ()
    do(known, Query(note=Note("undo")))
    do(known, Query(note=Note("undo")))
    assert [stored.name for stored in known.notebook.yarns()] == ["Dunnock DK"]


def test_the_only_swatch_of_a_yarn_goes_by_its_name(known: Context) -> None:
    do(known, Query(swatch=Swatch(DK, Quantity(10.8, "g"), 0.1, SIDE, SIDE), note=Note("remember", "swatch")))
    do(known, Query(note=Note("forget", name="Dunnock DK")))
    assert known.notebook.swatches() == ()


def test_correcting_changes_what_is_known(known: Context) -> None:
    remember(known)
    do(
        known,
        Query(yarns=(Yarn(name="Dunnock DK", gauge=Gauge(21, Quantity(10, "cm"))),), note=Note("correct")),
    )
    [stored] = known.notebook.yarns()
    assert stored.yarn.gauge == Gauge(21, Quantity(10, "cm"))
    assert stored.yarn.put_up == DK.put_up


def test_settings(known: Context) -> None:
    do(known, Query(note=Note("set", setting="spares", value="2")))
    assert known.notebook.settings().spares == 2
    do(known, Query(note=Note("forget", setting="spares")))
    assert known.notebook.settings().spares == 1


def test_an_import_shows_its_changes_before_it_is_done(known: Context, tmp_path: Path) -> None:
    remember(known)
    file = str(tmp_path / "mine.json")
    do(known, Query(note=Note("export", name=file)))
    other = context()
    preview = do(other, Query(note=Note("import", name=file)))
    assert other.notebook.yarns() == ()
    assert any("Dunnock DK" in line for line in preview.working)
    do(other, Query(note=Note("import", name=file, value="yes")))
    assert [stored.yarn for stored in other.notebook.yarns()] == [DK]


def test_a_near_name_is_suggested(known: Context) -> None:
    remember(known)
    with pytest.raises(Refusal) as refusal:
        do(known, Query(note=Note("forget", name="Dunnok DK")))
    assert refusal.value.suggestions == ("forget Dunnock DK",)
    assert len(known.notebook.yarns()) == 1


@pytest.mark.parametrize(
    ("query", "status", "says"),
    [
        (Query(note=Note("remember")), "unclear", "What should be remembered?"),
        (Query(note=Note("remember"), yarns=(Yarn(weight_class="dk"),)), "unclear", "called"),
        (Query(note=Note("remember"), swatch=Swatch(DK, None, 1.0, SIDE, SIDE)), "unclear", "mass"),
        (
            Query(note=Note("remember"), swatch=Swatch(DK, Quantity(0, "g"), 1.0, SIDE, SIDE)),
            "refused",
            "more than zero",
        ),
        (
            Query(note=Note("remember"), swatch=Swatch(Yarn(), Quantity(9, "g"), 1.0, SIDE, SIDE)),
            "unclear",
            "Whose",
        ),
        (
            Query(note=Note("remember"), swatch=Swatch(Yarn(name="Teal"), Quantity(9, "g"), 1.0, SIDE, SIDE)),
            "unclear",
            "put-up",
        ),
        (Query(note=Note("remember"), stash=(Holding(3, "skein"),)), "unclear", "Of which yarn?"),
        (Query(note=Note("remember"), stash=(Holding(300, "m", Yarn(name="Teal")),)), "unclear", "one skein"),
        (Query(note=Note("remember", "swatch"), yarns=(DK,)), "unclear", "Which swatch?"),
        (Query(note=Note("remember", "stash"), yarns=(DK,)), "unclear", "stash"),
        (Query(note=Note("forget")), "unclear", "Forget what?"),
        (Query(note=Note("rename", name="Teal")), "unclear", "Rename what"),
        (Query(note=Note("show", name="Teal")), "unclear", "nothing called Teal"),
        (Query(note=Note("undo")), "refused", "nothing to undo"),
        (Query(note=Note("set")), "unclear", "Set what?"),
        (Query(note=Note("set", setting="spares", value="lots")), "refused", "Spares"),
        (Query(note=Note("import")), "unclear", "Which file?"),
        (Query(note=Note("import", name="/nowhere/at/all.json")), "refused", "all.json"),
        (Query(note=Note("juggle")), "unclear", "cannot juggle"),
    ],
)
def test_what_cannot_be_done_is_said(known: Context, query: Query, status: str, says: str) -> None:
    with pytest.raises(Refusal) as refusal:
        do(known, query)
    assert refusal.value.status == status
    assert says in refusal.value.sentence
    assert known.notebook.names() == ()
