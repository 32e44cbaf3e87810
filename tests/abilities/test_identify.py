"""Identify: classes of the standard's own table, overlaps, gaps, and several clues at once."""

from __future__ import annotations

import pytest

from yarnchat.abilities.identify import ABILITY
from yarnchat.answers import Amount
from yarnchat.quantity import Quantity
from yarnchat.queries import Gauge, Holding, Measured, Needle, PutUp, Query, Swatch, Yarn
from yarnchat.refusals import Refusal

from .asking import ask

IN_4, CM_10 = Quantity(4, "in"), Quantity(10, "cm")


def per_100_g(metres: float) -> PutUp:
    return PutUp(Quantity(metres, "m"), Quantity(100, "g"))


# Gauge and needle ranges: Craft Yarn Council; wraps and grist: the tables named in knowledge/classes.toml.
ROWS = [
    (Yarn(gauge=Gauge(18, IN_4)), ["worsted"], "18 is class 4 (Craft Yarn Council)"),
    (Yarn(gauge=Gauge(22, IN_4)), ["DK"], "22 is class 3 (Craft Yarn Council)"),
    (Yarn(gauge=Gauge(25, IN_4)), ["sport"], "25 is class 2 (Craft Yarn Council)"),
    (Yarn(gauge=Gauge(30, IN_4)), ["fingering"], "30 is class 1 (Craft Yarn Council)"),
    (Yarn(gauge=Gauge(5.5, Quantity(1, "in"))), ["DK"], "5.5 to 1 in is 22 to 4 in"),
    (Yarn(gauge=Gauge(22, CM_10)), ["DK"], "22.35 to 4 in, 22 whole"),
    (Yarn(gauge=Gauge(20, CM_10)), ["worsted"], "20.32 to 4 in, 20 whole"),
    (Yarn(gauge=Gauge(20.5, IN_4)), ["DK", "worsted"], "20.5 is half a stitch from 20 and from 21"),
    (Yarn(gauge=Gauge(26.4, IN_4)), ["sport"], "26.4 is nearer 26 than 27"),
    (Yarn(gauge=Gauge(5, IN_4)), ["jumbo"], "6 and fewer"),
    (Yarn(needle=Needle("10", "us")), ["bulky"], "6 mm in 5.5-8"),
    (Yarn(needle=Needle("4", "mm")), ["DK"], "4 mm in 3.75-4.5"),
    (Yarn(needle=Needle("8", "uk")), ["DK"], "old UK 8 is 4 mm"),
    (Yarn(needle=Needle("9", "us")), ["worsted", "bulky"], "5.5 mm ends 4.5-5.5 and begins 5.5-8"),
    (Yarn(wpi=8), ["bulky"], "8 in 6-9 and in 8-9"),
    (Yarn(put_up=per_100_g(350)), ["sport"], "350 in 242-383 and 300-400"),
    (Yarn(put_up=per_100_g(225)), ["DK", "worsted"], "225 in 182-242 and in 120-240"),
    (
        Yarn(gauge=Gauge(20, IN_4), put_up=per_100_g(225)),
        ["worsted"],
        "20 is worsted; 225 allows DK, worsted",
    ),
    (Yarn(gauge=Gauge(22, IN_4), needle=Needle("7", "us")), ["DK"], "22 is DK; 4.5 mm allows DK, worsted"),
]


@pytest.mark.parametrize(("yarn", "labels", "why"), ROWS, ids=[row[2] for row in ROWS])
def test_classes(yarn: Yarn, labels: list[str], why: str) -> None:
    found = ask(ABILITY, Query(yarns=(yarn,))).figures["weight_class"]
    assert isinstance(found, list)
    assert sorted(map(str, found)) == sorted(labels), why


def test_an_overlap_is_both_and_says_so() -> None:
    draft = ask(ABILITY, Query(pattern=Yarn(gauge=Gauge(24, IN_4))))
    assert set(draft.figures["weight_class"]) == {"sport", "DK"}  # type: ignore[arg-type]
    assert "overlap" in " ".join(draft.cautions)


def test_nearest_class_comes_first() -> None:
    # 24 is 0.5 from 24.5, the middle of sport, and 1.5 from 22.5, the middle of DK
    assert ask(ABILITY, Query(yarns=(Yarn(gauge=Gauge(24, IN_4)),))).figures["weight_class"] == [
        "sport",
        "DK",
    ]


def test_the_gauge_figure_is_to_4_in() -> None:
    # 22 x 10.16 / 10 = 22.352
    figure = ask(ABILITY, Query(yarns=(Yarn(gauge=Gauge(22, CM_10)),))).figures["gauge"]
    assert isinstance(figure, Amount)
    assert figure.value == pytest.approx(22.352)
    assert figure.unit == "sts to 4 in"


def test_without_a_gauge_the_class_range_is_the_figure() -> None:
    figure = ask(ABILITY, Query(yarns=(Yarn(needle=Needle("4", "mm")),))).figures["gauge"]
    assert figure == Amount(value=22.5, unit="sts to 4 in", low=21, high=24)


def test_clues_that_disagree_are_named() -> None:
    draft = ask(ABILITY, Query(yarns=(Yarn(gauge=Gauge(13, IN_4), put_up=per_100_g(420)),)))
    assert set(draft.figures["weight_class"]) == {"bulky", "fingering"}  # type: ignore[arg-type]
    assert draft.headline.startswith("bulky or fingering")
    assert "do not agree" in " ".join(draft.cautions)


@pytest.mark.parametrize(
    ("stitches", "metres", "word"),
    [
        # DK 22 sts to 10 cm: S = 2.2 x 2.2 x 5.5 / 4.2 = 6.338, l = sqrt(23.1 / 6.338) = 1.909 cm;
        # 225 m/100 g is 444.4 tex, K = 21.08 / 1.909 = 11.04: usual
        (22, 225, "usual"),
        # the same yarn at 30 sts: l = 1.909 x 22 / 30 = 1.400, K = 15.06: dense
        (30, 225, "dense"),
        # and at 16 sts: l = 1.909 x 22 / 16 = 2.625, K = 8.03: open
        (16, 225, "open"),
    ],
)
def test_tightness(stitches: float, metres: float, word: str) -> None:
    yarn = Yarn(gauge=Gauge(stitches, CM_10), put_up=per_100_g(metres))
    assert ask(ABILITY, Query(yarns=(yarn,))).figures["tightness"] == word


def test_a_yarn_in_the_stash_is_identified_too() -> None:
    query = Query(stash=(Holding(3, "skein", Yarn(put_up=per_100_g(350))),))
    assert ask(ABILITY, query).figures["weight_class"] == ["sport"]


def test_a_yarn_number_is_a_clue() -> None:
    # 250 tex is 100,000 / 250 = 400 m/100 g: in 383-484 and 400-480, and the 300-400 of sport
    found = ask(ABILITY, Query(measured=Measured(count=(250, "tex")))).figures["weight_class"]
    assert isinstance(found, list)
    assert found[0] == "fingering"


def test_a_class_that_was_named_is_read_out() -> None:
    draft = ask(ABILITY, Query(yarns=(Yarn(weight_class="worsted", class_as_said="aran"),)))
    assert draft.figures["weight_class"] == ["worsted"]
    assert "16–20" in draft.headline


def test_stitches_counted_on_a_swatch_are_a_gauge() -> None:
    # 33 sts to 6 in is 22 to 4 in
    swatch = Swatch(Yarn(), width=Quantity(6, "in"), stitches=33)
    assert ask(ABILITY, Query(swatch=swatch)).figures["weight_class"] == ["DK"]


@pytest.mark.parametrize(
    ("query", "status"),
    [
        (Query(), "unclear"),
        (Query(measured=Measured(amount=Quantity(200, "m"))), "unclear"),
        (Query(yarns=(Yarn(needle=Needle("8")),)), "unclear"),
        (Query(yarns=(Yarn(needle=Needle("99", "us")),)), "unclear"),
        (Query(yarns=(Yarn(gauge=Gauge(0, IN_4)),)), "refused"),
        (Query(yarns=(Yarn(wpi=-3),)), "refused"),
        (Query(yarns=(Yarn(put_up=per_100_g(0)),)), "refused"),
    ],
)
def test_what_cannot_be_identified(query: Query, status: str) -> None:
    with pytest.raises(Refusal) as refusal:
        ask(ABILITY, query)
    assert refusal.value.status == status
