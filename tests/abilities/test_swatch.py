"""Swatch: area, length and yarn per area by hand, their ranges, and measurements that cannot be."""

from __future__ import annotations

import pytest

from yarnchat.abilities.swatch import ABILITY
from yarnchat.answers import Amount
from yarnchat.quantity import Quantity
from yarnchat.queries import Gauge, PutUp, Query, Swatch, Yarn
from yarnchat.refusals import Refusal

from .asking import ask, context, plain

DK = Yarn(name="Dunnock DK", weight_class="dk", put_up=PutUp(Quantity(225, "m"), Quantity(100, "g")))
METRIC = Swatch(DK, Quantity(10.8, "g"), 0.1, Quantity(15, "cm"), Quantity(15, "cm"))


def amount(figure: object) -> Amount:
    assert isinstance(figure, Amount)
    return figure


def test_a_metric_swatch() -> None:
    # 15 x 15 = 225 cm²; 10.8 g x 2.25 m/g = 24.3 m; 24.3 m / 0.0225 m² = 1080 m/m²
    figures = ask(ABILITY, Query(swatch=METRIC)).figures
    assert plain(figures["area"]) == (pytest.approx(225), "cm^2")
    assert plain(figures["length"]) == (pytest.approx(24.3), "m")
    assert plain(figures["length_per_area"]) == (pytest.approx(1080), "m/m^2")
    assert plain(figures["mass"]) == (10.8, "g")
    assert "length_per_stitch" not in figures


def test_an_inch_swatch() -> None:
    # 6 x 6 = 36 in²; 9 g of 420 yd/100 g = 37.8 yd; 37.8 / 36 = 1.05 yd/in²
    yarn = Yarn(put_up=PutUp(Quantity(420, "yd"), Quantity(100, "g")))
    swatch = Swatch(yarn, Quantity(9, "g"), 1.0, Quantity(6, "in"), Quantity(6, "in"))
    figures = ask(ABILITY, Query(swatch=swatch)).figures
    assert plain(figures["area"]) == (pytest.approx(36), "in^2")
    assert plain(figures["length"]) == (pytest.approx(37.8), "yd")
    assert plain(figures["length_per_area"]) == (pytest.approx(1.05), "yd/in^2")


def test_ounces_and_their_last_digit() -> None:
    # 0.4 oz = 11.3398092 g of 2.25 m/g = 25.5146 m
    swatch = Swatch(DK, Quantity(0.4, "oz"), 0.1, Quantity(15, "cm"), Quantity(15, "cm"))
    figure = amount(ask(ABILITY, Query(swatch=swatch)).figures["length"])
    assert figure.value == pytest.approx(25.51457, rel=1e-6)
    # half of 0.1 oz is an eighth of 0.4 oz: u = 0.125 / sqrt 3 = 7.217 %, range ± 14.43 %
    assert figure.high == pytest.approx(25.51457 * 1.14434, rel=1e-4)


def test_the_range_is_two_standard_uncertainties() -> None:
    # scale 0.05 / 10.8 / sqrt 3 = 0.2673 %; a side 0.3 / 15 / sqrt 3 = 1.1547 %, twice
    # sqrt(0.2673² + 2 x 1.1547²) = 1.6548 %; ± 3.3097 % of 1080 = 35.74
    figure = amount(ask(ABILITY, Query(swatch=METRIC)).figures["length_per_area"])
    assert figure.low == pytest.approx(1080 - 35.74, abs=0.01)
    assert figure.high == pytest.approx(1080 + 35.74, abs=0.01)


@pytest.mark.parametrize(
    ("grams", "step", "width", "advice"),
    [
        (10.8, 0.1, 15.0, "measure a"),
        (6, 1.0, 15.0, "weigh a larger swatch"),
        (10.8, 0.1, 6.0, "measure a wider swatch"),
    ],
)
def test_what_would_narrow_it_most(grams: float, step: float, width: float, advice: str) -> None:
    swatch = Swatch(DK, Quantity(grams, "g"), step, Quantity(width, "cm"), Quantity(15, "cm"))
    assert any(advice in caution for caution in ask(ABILITY, Query(swatch=swatch)).cautions)


def test_yarn_in_a_stitch() -> None:
    # 22 sts and 30 rows to 10 cm: S = 6.6 to 1 cm²; D = 10.8 cm per cm²; l = 10.8 / 6.6 = 1.63636 cm
    yarn = Yarn(put_up=DK.put_up, gauge=Gauge(22, Quantity(10, "cm"), 30))
    swatch = Swatch(yarn, METRIC.mass, 0.1, METRIC.width, METRIC.height)
    draft = ask(ABILITY, Query(swatch=swatch))
    assert plain(draft.figures["length_per_stitch"]) == (pytest.approx(1.636364, rel=1e-6), "cm")
    # ks = 10.8² / 6.6 = 17.67, inside 15 to 30
    assert not any("ks" in caution for caution in draft.cautions)


def test_stitches_counted_over_the_whole_swatch() -> None:
    # 33 sts and 45 rows over 15 x 15 cm are the same 22 and 30 to 10 cm
    swatch = Swatch(DK, METRIC.mass, 0.1, METRIC.width, METRIC.height, 33, 45)
    figures = ask(ABILITY, Query(swatch=swatch)).figures
    assert plain(figures["length_per_stitch"]) == (pytest.approx(1.636364, rel=1e-6), "cm")


def test_a_measurement_that_is_off_is_named() -> None:
    # 21.6 g in 225 cm²: D = 21.6, S = 6.6, ks = 21.6² / 6.6 = 70.7
    yarn = Yarn(put_up=DK.put_up, gauge=Gauge(22, Quantity(10, "cm"), 30))
    swatch = Swatch(yarn, Quantity(21.6, "g"), 1.0, METRIC.width, METRIC.height)
    cautions = " ".join(ask(ABILITY, Query(swatch=swatch)).cautions)
    assert "ks = 70.7 is outside 15–30" in cautions
    assert "likeliest the mass" in cautions


def test_a_named_yarn_takes_its_put_up_from_the_notebook() -> None:
    known = context()
    known.notebook.remember_yarn(DK)
    swatch = Swatch(Yarn(name="dunnock dk"), METRIC.mass, 0.1, METRIC.width, METRIC.height)
    draft = ABILITY.answer(Query(swatch=swatch), known)
    assert plain(draft.figures["length_per_area"]) == (pytest.approx(1080), "m/m^2")


@pytest.mark.parametrize(
    ("swatch", "status", "says"),
    [
        (Swatch(DK, None, 1.0, METRIC.width, METRIC.height), "unclear", "mass"),
        (Swatch(DK, METRIC.mass, 1.0, METRIC.width), "unclear", "height"),
        (Swatch(Yarn(weight_class="dk"), METRIC.mass, 1.0, METRIC.width, METRIC.height), "unclear", "put-up"),
        (Swatch(DK, Quantity(0, "g"), 1.0, METRIC.width, METRIC.height), "refused", "more than zero"),
        (Swatch(DK, METRIC.mass, 1.0, Quantity(-3, "cm"), METRIC.height), "refused", "more than zero"),
    ],
)
def test_what_is_missing_or_cannot_be(swatch: Swatch, status: str, says: str) -> None:
    with pytest.raises(Refusal) as refusal:
        ask(ABILITY, Query(swatch=swatch))
    assert refusal.value.status == status
    assert says in refusal.value.sentence
