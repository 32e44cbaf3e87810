"""Ratios: the standard's middle gauges against each other, and hers beside them, by hand.

D of a class default is 5.5 × stitches per cm (√(ks × kc/kw) = kc): DK 5.5 × 22.5/10.16 = 12.180118,
fingering 15.969488, worsted 9.744094 cm of yarn per cm².
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from yarnchat.abilities.base import Context, Draft
from yarnchat.abilities.ratios import ABILITY
from yarnchat.abilities.substitute import ABILITY as SUBSTITUTE
from yarnchat.answers import Ratio, RatioRow
from yarnchat.notebook import Notebook, NotebookError
from yarnchat.quantity import Quantity
from yarnchat.queries import Query, Swatch, Yarn

from .asking import ask
from .yarns import ARAN, DK, FINGERING, WORSTED, declined, everything, hold, need, sts, wound

DUNNOCK = Swatch(
    Yarn(name="Dunnock", weight_class="dk", put_up=wound("225 m", "100 g")),
    Quantity(10.8, "g"),
    0.1,
    Quantity(15, "cm"),
    Quantity(15, "cm"),
)
"""10.8 g x 2.25 = 24.3 m; 2430 / 225 = 10.8 cm per cm²."""
MARRAM = Swatch(
    Yarn(name="Marram", weight_class="fingering", put_up=wound("400 m", "100 g")),
    Quantity(6.4, "g"),
    0.1,
    Quantity(12, "cm"),
    Quantity(14, "cm"),
)
"""6.4 g x 4 = 25.6 m; 2560 / 168 = 15.238095 cm per cm²."""
FURZE = Swatch(
    Yarn(name="Furze", weight_class="dk", put_up=wound("240 m", "100 g")),
    Quantity(12.6, "g"),
    0.1,
    Quantity(16, "cm"),
    Quantity(16, "cm"),
)
"""12.6 g x 2.4 = 30.24 m; 3024 / 256 = 11.8125 cm per cm²."""


def knitter(*swatches: Swatch) -> Context:
    book = Notebook(":memory:")
    for swatch in swatches:
        book.remember_swatch(swatch)
    return Context(lambda: book)


def rows(draft: Draft) -> list[RatioRow]:
    found = draft.figures["rows"]
    assert isinstance(found, list)
    return [row for row in found if isinstance(row, RatioRow)]


def ratio_of(draft: Draft) -> Ratio:
    found = draft.figures["ratio"]
    assert isinstance(found, Ratio)
    return found


PAIRS = [
    # Craft Yarn Council: middles 29.5, 18, 22.5, 13.5
    (DK, WORSTED, 0.8),
    (WORSTED, FINGERING, 1.638889),
    (FINGERING, DK, 0.762712),
    (WORSTED, ARAN, 1.0),
]


@pytest.mark.parametrize(("pattern", "yarn", "value"), PAIRS)
def test_pair(pattern: Yarn, yarn: Yarn, value: float) -> None:
    for query in (Query(pattern=pattern, yarns=(yarn,)), Query(yarns=(pattern, yarn))):
        draft = ask(ABILITY, query)
        assert ratio_of(draft).value == pytest.approx(value, rel=1e-6)
        assert [row.value for row in rows(draft)] == pytest.approx([value], rel=1e-6)


def test_range_of_a_pair() -> None:
    # u: 2/√3/18 = 6.415 %, 1.5/√3/22.5 = 3.849 %, model 8 %: twice the root of their squares is 21.9059 %
    found = ratio_of(ask(ABILITY, Query(pattern=DK, yarns=(WORSTED,))))
    assert (found.low, found.high) == pytest.approx((0.8 * 0.780941, 0.8 * 1.219059), rel=1e-5)
    assert found.basis == "default"


def test_whole_table_has_every_ordered_pair() -> None:
    found = rows(ask(ABILITY, Query()))
    assert len({(row.from_, row.to) for row in found}) == len(found) == 8 * 7


def test_row_of_one_class() -> None:
    found = rows(ask(ABILITY, Query(pattern=DK)))
    assert {row.from_ for row in found} == {"DK"}
    assert [row.to for row in found] == [
        "lace",
        "fingering",
        "sport",
        "worsted",
        "bulky",
        "super bulky",
        "jumbo",
    ]


def test_gauges() -> None:
    query = Query(pattern=Yarn(gauge=sts(20)), yarns=(Yarn(gauge=sts(25)),))
    draft = ask(ABILITY, query)
    assert ratio_of(draft).value == pytest.approx(25 / 20)
    assert ratio_of(draft).basis == "gauge"


def test_hers_stands_beside_the_default() -> None:
    draft = ABILITY.answer(Query(pattern=DK, yarns=(FINGERING,)), knitter(DUNNOCK, MARRAM))
    default, hers = rows(draft)
    assert (default.basis, hers.basis) == ("default", "swatch")
    # 29.5/22.5; 15.238095/10.8
    assert (default.value, hers.value) == pytest.approx((1.311111, 1.410935), rel=1e-6)
    assert len(hers.swatches) == 2
    assert default.swatches == []
    assert ratio_of(draft).value == hers.value


def test_one_swatched_class_changes_no_ratio() -> None:
    context = knitter(DUNNOCK)
    assert [row.basis for row in rows(ABILITY.answer(Query(pattern=DK, yarns=(WORSTED,)), context))] == ["default"]
    query = Query(pattern=DK, colours=(need(1300, unit="m"),), yarns=(FINGERING,))
    figures = SUBSTITUTE.answer(query, context).figures
    hold(figures, {"ratio": 1.311111, "length": (1704.4444, "m")})


def test_default_side_is_shifted_by_how_she_knits() -> None:
    # shift √(10.8/12.180118 x 15.238095/15.969488) = 0.9198266; 9.744094 x 0.9198266 / 10.8 = 0.829896
    found = rows(ABILITY.answer(Query(pattern=DK, yarns=(WORSTED,)), knitter(DUNNOCK, MARRAM)))
    assert found[1].value == pytest.approx(0.829896, rel=1e-5)
    assert found[1].basis == "swatch"
    back = rows(ABILITY.answer(Query(pattern=WORSTED, yarns=(DK,)), knitter(DUNNOCK, MARRAM)))
    assert back[1].value == pytest.approx(1 / 0.829896, rel=1e-5)


def test_substitute_goes_by_her_swatches() -> None:
    query = Query(
        pattern=DK,
        colours=(need(1300, unit="m"),),
        yarns=(replace(FINGERING, put_up=wound("400 m", "100 g")),),
    )
    draft = SUBSTITUTE.answer(query, knitter(DUNNOCK, MARRAM))
    # 1300 x 1.410935 = 1834.215; /400 = 4.59 -> 5
    hold(draft.figures, {"ratio": 1.410935, "length": (1834.2152, "m"), "skeins": 5, "spare": 1})
    assert ratio_of(draft).basis == "swatch"
    # u of the DK swatch: 0.05/√3/10.8 = 0.267 %, 0.3/√3/15 = 1.155 % twice: 1.655 %, doubled 3.3 %
    assert "±3%" in everything(draft)


def test_two_swatches_of_a_class_go_by_their_mean() -> None:
    query = Query(pattern=DK, colours=(need(1000, unit="m"),), yarns=(FINGERING,))
    draft = SUBSTITUTE.answer(query, knitter(DUNNOCK, FURZE, MARRAM))
    # (10.8 + 11.8125)/2 = 11.30625; 15.238095/11.30625 = 1.347758
    hold(draft.figures, {"ratio": 1.347758})


def test_the_very_yarn_goes_before_its_class() -> None:
    query = Query(pattern=replace(DK, name="furze"), colours=(need(1000, unit="m"),), yarns=(FINGERING,))
    draft = SUBSTITUTE.answer(query, knitter(DUNNOCK, FURZE, MARRAM))
    # 15.238095/11.8125 = 1.289998
    hold(draft.figures, {"ratio": 1.289998})


def test_gauge_goes_before_a_swatch() -> None:
    query = Query(
        pattern=replace(DK, gauge=sts(22)),
        colours=(need(1000, unit="m"),),
        yarns=(replace(FINGERING, gauge=sts(28)),),
    )
    # 28/22
    hold(SUBSTITUTE.answer(query, knitter(DUNNOCK, MARRAM)).figures, {"ratio": 28 / 22})


def test_one_class_is_one_gauge_whatever_was_swatched() -> None:
    query = Query(pattern=DK, colours=(need(1000, unit="m"),), yarns=(replace(DK, name="Furze"),))
    hold(SUBSTITUTE.answer(query, knitter(DUNNOCK, FURZE, MARRAM)).figures, {"ratio": 1.0})


def test_remembered_yarn_lends_its_label() -> None:
    book = Notebook(":memory:")
    book.remember_yarn(Yarn(name="Tarn Sock", weight_class="fingering", put_up=wound("420 m", "100 g")))
    book.set("spares", "2")
    query = Query(pattern=DK, colours=(need(900, unit="m"),), yarns=(Yarn(name="tarn  sock"),))
    draft = SUBSTITUTE.answer(query, Context(lambda: book))
    # 900 x 29.5/22.5 = 1180; /420 = 2.81 -> 3, two spares as set
    hold(draft.figures, {"length": (1180, "m"), "skeins": 3, "spare": 2})


def test_unreadable_notebook_is_said_and_not_used() -> None:
    def closed() -> Notebook:
        raise NotebookError("The notebook is damaged.")

    query = Query(pattern=DK, colours=(need(900, unit="m"),), yarns=(ARAN,))
    draft = SUBSTITUTE.answer(query, Context(closed))
    hold(draft.figures, {"length": (720, "m")})
    assert "The notebook is damaged." in everything(draft)


def test_lace_and_disputed_names_are_cautioned() -> None:
    four_ply = replace(FINGERING, class_as_said="4 ply")
    assert "Tables disagree about 4 ply" in everything(ask(ABILITY, Query(pattern=four_ply, yarns=(DK,))))
    lace = Yarn(weight_class="lace", class_as_said="lace")
    assert "looser" in everything(ask(ABILITY, Query(pattern=lace, yarns=(DK,))))
    assert "looser" not in everything(ask(ABILITY, Query(pattern=WORSTED, yarns=(DK,))))


@pytest.mark.parametrize(
    "query",
    [Query(pattern=DK, yarns=(WORSTED, FINGERING)), Query(pattern=Yarn(name="Peatmoor"), yarns=(DK,))],
)
def test_what_is_missing_is_asked_for(query: Query) -> None:
    assert declined(ABILITY, query).status == "unclear"
