"""Grade: other sizes from one, each expected length worked out in its row."""

from __future__ import annotations

import pytest

from yarnchat.abilities.grade import ABILITY
from yarnchat.answers import Amount
from yarnchat.quantity import Quantity
from yarnchat.queries import Colour, Grading, Holding, PutUp, Query, Series, Yarn
from yarnchat.refusals import Refusal

from .asking import ask, plain


def inches(*values: float) -> tuple[Quantity, ...]:
    return tuple(Quantity(value, "in") for value in values)


def yards(value: float, name: str = "") -> Colour:
    return Colour(name, (Series((value,), "yd"),))


CHESTS = Grading(Quantity(38, "in"), inches(34, 42, 46))


def test_chests_alone() -> None:
    draft = ask(ABILITY, Query(colours=(yards(1050),), grading=CHESTS))
    # c = 34/38 = 0.894737: c^1.5 = 0.846334, c² = 0.800554; 42/38 = 1.105263: 1.161984, 1.221607;
    # 46/38 = 1.210526: 1.331869, 1.465374
    expected = [
        ("34 in", 888.65, 840.58, 939.47),
        ("42 in", 1220.08, 1160.53, 1282.69),
        ("46 in", 1398.46, 1271.05, 1538.64),
    ]
    for part, (name, value, low, high) in zip(draft.sizes, expected, strict=True):
        figure = part.figures["length"]
        assert isinstance(figure, Amount)
        assert part.name == name
        assert figure.unit == "yd"
        assert figure.value == pytest.approx(value, abs=0.01)
        assert figure.low == pytest.approx(low, abs=0.01)
        assert figure.high == pytest.approx(high, abs=0.01)


def test_chest_and_length_of_both() -> None:
    grading = Grading(Quantity(92, "cm"), (Quantity(100, "cm"),), Quantity(60, "cm"), (Quantity(63, "cm"),))
    [part] = ask(ABILITY, Query(colours=(Colour("", (Series((900,), "m"),)),), grading=grading)).sizes
    # 100 x 63 / (92 x 60) = 1.141304; x 900 = 1027.17
    assert plain(part.figures["length"]) == (pytest.approx(1027.1739, rel=1e-6), "m")


def test_skeins_for_each_size() -> None:
    yarn = Yarn(put_up=PutUp(Quantity(200, "yd"), Quantity(100, "g")))
    draft = ask(ABILITY, Query(pattern=yarn, colours=(yards(1050),), grading=CHESTS))
    # 888.65 / 200 = 4.44: 5; 1220.08 / 200 = 6.10: 7; 1398.46 / 200 = 6.99: 7
    assert [part.figures["skeins"] for part in draft.sizes] == [5, 7, 7]
    assert {part.figures["spare"] for part in draft.sizes} == {1}


def test_mass_without_a_put_up_stays_mass() -> None:
    grading = Grading(Quantity(40, "in"), inches(40))
    [part] = ask(ABILITY, Query(colours=(Colour("", (Series((450,), "g"),)),), grading=grading)).sizes
    assert part.figures == {"mass": Amount(value=450, unit="g")}


def test_what_was_used_is_what_the_sample_took() -> None:
    query = Query(used=(Holding(1050, "yd"),), grading=CHESTS)
    assert plain(ask(ABILITY, query).sizes[0].figures["length"]) == (pytest.approx(888.65, abs=0.01), "yd")


def test_colours_each_have_their_sizes() -> None:
    draft = ask(
        ABILITY,
        Query(colours=(yards(1000, "MC"), yards(200, "CC")), grading=Grading(Quantity(40, "in"), inches(40))),
    )
    assert [part.name for part in draft.colours] == ["MC", "CC"]
    assert draft.colours[1].sizes[0].figures["length"] == Amount(value=200, unit="yd")


def test_centimetres_beside_inches() -> None:
    grading = Grading(Quantity(40, "in"), (Quantity(101.6, "cm"),))
    [part] = ask(ABILITY, Query(colours=(yards(1000),), grading=grading)).sizes
    assert plain(part.figures["length"]) == (pytest.approx(1000), "yd")


@pytest.mark.parametrize(
    ("query", "status", "says"),
    [
        (Query(colours=(yards(1000),)), "unclear", "chests are missing"),
        (Query(colours=(yards(1000),), grading=Grading(None, inches(34))), "unclear", "that is known"),
        (Query(grading=CHESTS), "unclear", "How much"),
        (Query(colours=(Colour("", (Series((900, 1000), "yd"),)),), grading=CHESTS), "unclear", "Which one"),
        (
            Query(colours=(yards(1000),), grading=Grading(Quantity(38, "in"), inches(0))),
            "refused",
            "more than zero",
        ),
        (
            Query(colours=(yards(1000),), grading=Grading(Quantity(38, "in"), inches(380))),
            "refused",
            "380 in",
        ),
        (
            Query(
                colours=(yards(1000),),
                grading=Grading(Quantity(38, "in"), inches(34, 42), None, inches(24, 25)),
            ),
            "unclear",
            "length of every size",
        ),
    ],
)
def test_what_is_missing_or_cannot_be(query: Query, status: str, says: str) -> None:
    with pytest.raises(Refusal) as refusal:
        ask(ABILITY, query)
    assert refusal.value.status == status
    assert says in refusal.value.sentence
