"""Piece: area by the shape, yarn by the gauge, the swatch allowance, and the reverse."""

from __future__ import annotations

from dataclasses import replace
from math import pi

import pytest

from yarnchat.abilities.piece import ABILITY
from yarnchat.answers import Amount
from yarnchat.quantity import Quantity
from yarnchat.queries import Gauge, Holding, Piece, PutUp, Query, Swatch, Yarn
from yarnchat.refusals import Refusal

from .asking import ask, plain

# 22 sts and 30 rows to 10 cm: S = 6.6 to 1 cm²; D = sqrt(23.1 x 6.6) = 12.347469 cm of yarn per cm²
YARN = Yarn(gauge=Gauge(22, Quantity(10, "cm"), 30), put_up=PutUp(Quantity(225, "m"), Quantity(100, "g")))
D = 12.347469


def cm(**measures: float) -> tuple[tuple[str, Quantity], ...]:
    return tuple((name, Quantity(value, "cm")) for name, value in measures.items())


AREAS = [
    ("rectangle", cm(width=20, height=150), 3000.0),
    ("square", cm(width=80), 6400.0),
    ("triangle", cm(width=150, height=70), 5250.0),
    ("circle", cm(diameter=100), pi * 2500),
    ("circle", cm(radius=50), pi * 2500),
    ("circle", cm(circumference=pi * 100), pi * 2500),
    ("half circle", cm(diameter=100), pi * 1250),
    ("tube", cm(circumference=60, height=25), 1500.0),
    ("hat", cm(circumference=50, height=22), 1100.0),
    # 100 x 60 + 2 x 45 x (34 + 20) / 2 = 6000 + 2430
    ("sweater", cm(chest=100, length=60, sleeve_length=45, upper_arm=34, wrist=20), 8430.0),
]


@pytest.mark.parametrize(("shape", "measures", "area"), AREAS)
def test_area_and_length(shape: str, measures: tuple[tuple[str, Quantity], ...], area: float) -> None:
    figures = ask(ABILITY, Query(yarns=(YARN,), piece=Piece(shape, measures))).figures
    assert plain(figures["area"]) == (pytest.approx(area), "cm^2")
    length = area * D / 100
    assert plain(figures["length"]) == (pytest.approx(length, rel=1e-4), "m")


def test_by_the_swatch_told_with_it() -> None:
    # 11 g of 200 m to 100 g is 22 m on 225 cm²; 90 x 120 cm is 48 times as much: 1056 m; with 103.2 cm² more for the
    # 4 x 4 in, 1066.1 m: / 200 = 5.33
    label = PutUp(Quantity(200, "m"), Quantity(100, "g"))
    swatch = Swatch(Yarn(put_up=label), Quantity(11, "g"), 1.0, Quantity(15, "cm"), Quantity(15, "cm"))
    blanket = Query(piece=Piece("rectangle", cm(width=90, height=120)), swatch=swatch)
    figures = ask(ABILITY, blanket).figures
    assert plain(figures["length"]) == (pytest.approx(1056), "m")
    assert figures["skeins"] == 6
    # held double or not, the swatch was knit so: its mass is that of all its strands
    doubled = replace(blanket, yarns=(Yarn(strands=2),))
    assert plain(ask(ABILITY, doubled).figures["length"]) == (pytest.approx(1056), "m")
    with pytest.raises(Refusal, match="both sides, the mass"):
        ask(ABILITY, replace(blanket, swatch=replace(swatch, mass=None)))


def test_by_the_mass_of_the_swatch_alone() -> None:
    # 8 g on 225 cm²; 120 x 150 cm is 80 times as much: 640 g; with 103.2256 cm² x 8 / 225 = 3.67 g more for the
    # 4 x 4 in, 643.67 g: / 50 = 12.87
    swatch = Swatch(Yarn(), Quantity(8, "g"), 1.0, Quantity(15, "cm"), Quantity(15, "cm"))
    blanket = Query(piece=Piece("rectangle", cm(width=120, height=150)), swatch=swatch)
    figures = ask(ABILITY, blanket).figures
    assert plain(figures["mass"]) == (pytest.approx(640), "g")
    assert "skeins" not in figures
    by_the_ball = replace(blanket, yarns=(Yarn(put_up=PutUp(mass=Quantity(50, "g"))),))
    assert ask(ABILITY, by_the_ball).figures["skeins"] == 13
    with pytest.raises(Refusal, match="length per mass"):
        ask(ABILITY, replace(blanket, want="m"))


def test_by_the_yarn_measured_in_the_swatch() -> None:
    # 14 yd on 16 in²; 48 x 60 in is 180 times as much: 2520 yd
    side = Quantity(4, "in")
    swatch = Swatch(Yarn(), width=side, height=side, length=Quantity(14, "yd"))
    measures = (("width", Quantity(48, "in")), ("height", Quantity(60, "in")))
    figures = ask(ABILITY, Query(piece=Piece("rectangle", measures), swatch=swatch)).figures
    assert plain(figures["length"]) == (pytest.approx(2520), "yd")


def test_skeins_spare_and_mass() -> None:
    # 3000 cm² x 12.347469 / 100 = 370.42 m, with the swatch 383.17 m: 383.17 / 225 = 1.70, 2 skeins
    # 370.42 × 100 / 225 = 164.63 g
    draft = ask(ABILITY, Query(yarns=(YARN,), piece=Piece("rectangle", cm(width=20, height=150))))
    assert draft.figures["skeins"] == 2
    assert draft.figures["spare"] == 1
    assert plain(draft.figures["mass"]) == (pytest.approx(164.63, abs=0.01), "g")
    # the headline and the figure say one length, the piece's; the swatch beside it is told apart
    assert "370 m, range " in draft.headline
    assert ", for the piece, and 12.7 m for a swatch" in draft.headline
    assert plain(draft.figures["length"]) == (pytest.approx(370.42, abs=0.01), "m")
    assert any("swatch allowance 4 × 4 in: 12.7 m, with the piece 383 m" in step for step in draft.working)


def test_the_range_has_the_gauge_and_the_model() -> None:
    # 0.5 / 22 / sqrt 3 / 2 = 0.6561 %, 0.5 / 30 / sqrt 3 / 2 = 0.4811 %, model 5 %: 5.0658 %, ± 10.1316 %
    figure = ask(ABILITY, Query(yarns=(YARN,), piece=Piece("rectangle", cm(width=20, height=150)))).figures["length"]
    assert isinstance(figure, Amount)
    assert figure.high == pytest.approx(figure.value * 1.101316, rel=1e-5)
    assert figure.low == pytest.approx(figure.value * 0.898684, rel=1e-5)


def test_inches_and_a_class() -> None:
    # worsted 18 sts to 4 in: w = 18 / 10.16 = 1.771654 to 1 cm; D = kc w = 5.5 w = 9.744094 cm per cm²
    # 8 x 70 = 560 in² = 3612.90 cm²: x 9.744094 / 100 = 352.04 m = 385.00 yd; the swatch is a line of its own
    yarn = Yarn(weight_class="worsted")
    piece = Piece("rectangle", (("width", Quantity(8, "in")), ("height", Quantity(70, "in"))))
    figures = ask(ABILITY, Query(yarns=(yarn,), piece=piece)).figures
    assert plain(figures["area"]) == (pytest.approx(560), "in^2")
    assert plain(figures["length"]) == (pytest.approx(385.0, abs=0.01), "yd")
    assert "skeins" not in figures


@pytest.mark.parametrize(
    ("piece", "factor"),
    [
        # 1x1 rib 1.36, 2x1 rib 1.57: industry rule for finished cotton
        (Piece("rectangle", cm(width=20, height=150), texture="1x1"), 1.36),
        (Piece("rectangle", cm(width=20, height=150), texture="2x1"), 1.57),
        (Piece("rectangle", cm(width=20, height=150), extra_percent=20), 1.20),
    ],
)
def test_textures_take_more(piece: Piece, factor: float) -> None:
    figures = ask(ABILITY, Query(yarns=(YARN,), piece=piece)).figures
    assert plain(figures["length"]) == (pytest.approx(370.424 * factor, rel=1e-4), "m")


def test_two_strands_take_twice() -> None:
    yarn = Yarn(gauge=YARN.gauge, put_up=YARN.put_up, strands=2)
    figures = ask(ABILITY, Query(yarns=(yarn,), piece=Piece("rectangle", cm(width=20, height=150)))).figures
    assert plain(figures["length"]) == (pytest.approx(2 * 370.424, rel=1e-4), "m")


def test_how_long_a_scarf_gets() -> None:
    # 400 m less a swatch of 12.746 m = 387.254 m; x 100 / (12.347469 x 20) = 156.82 cm
    query = Query(yarns=(YARN,), piece=Piece("rectangle", cm(width=20)), stash=(Holding(400, "m"),))
    figures = ask(ABILITY, query).figures
    assert plain(figures["reach"]) == (pytest.approx(156.82, abs=0.02), "cm")
    assert plain(figures["length"]) == (400, "m")


def test_how_long_a_scarf_gets_from_skeins() -> None:
    # 2 x 225 = 450 m less 12.746 = 437.254 m: 177.06 cm
    query = Query(yarns=(YARN,), piece=Piece("rectangle", cm(width=20)), stash=(Holding(2, "skein"),))
    assert plain(ask(ABILITY, query).figures["reach"]) == (pytest.approx(177.06, abs=0.02), "cm")


@pytest.mark.parametrize(
    ("query", "status", "says"),
    [
        (Query(yarns=(YARN,)), "unclear", "shape and size"),
        (Query(yarns=(YARN,), piece=Piece("dodecahedron", cm(width=3))), "unclear", "What shape"),
        (Query(yarns=(YARN,), piece=Piece("rectangle", cm(width=20))), "unclear", "height"),
        (Query(yarns=(YARN,), piece=Piece("sweater", cm(chest=100, length=60))), "unclear", "sleeve length"),
        (Query(piece=Piece("square", cm(width=20))), "unclear", "weight or gauge"),
        (Query(yarns=(YARN,), piece=Piece("square", cm(width=0))), "refused", "more than zero"),
        (Query(yarns=(YARN,), piece=Piece("square", cm(width=20000))), "refused", "cannot be"),
        (Query(yarns=(YARN,), piece=Piece("square", cm(width=20), texture="cables")), "unclear", "cables"),
        (
            Query(yarns=(YARN,), piece=Piece("rectangle", cm(width=20)), stash=(Holding(10, "m"),)),
            "refused",
            "no more than a swatch",
        ),
    ],
)
def test_what_is_missing_or_cannot_be(query: Query, status: str, says: str) -> None:
    with pytest.raises(Refusal) as refusal:
        ask(ABILITY, query)
    assert refusal.value.status == status
    assert says in refusal.value.sentence
