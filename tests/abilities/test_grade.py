"""Grade: other sizes from one, each expected length worked out in its row."""

from __future__ import annotations

import pytest

from yarnchat import Assistant
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


def cm(value: float) -> Quantity:
    return Quantity(value, "cm")


@pytest.mark.parametrize(
    ("grading", "name", "metres"),
    [
        # 310 x 90 x 120 / (60 x 80) = 697.5
        (Grading(cm(60), (cm(90),), cm(80), (cm(120),), "rectangle"), "90 × 120 cm", 697.5),
        # 310 x 200 / 150 = 413.33, the width being the same
        (Grading(cm(150), (cm(200),), piece="rectangle"), "200 cm", 413.333),
        # 310 x (120 / 100)² = 446.4
        (Grading(cm(100), (cm(120),), piece="square"), "120 cm", 446.4),
    ],
)
def test_a_flat_piece_goes_by_its_area(grading: Grading, name: str, metres: float) -> None:
    [part] = ask(ABILITY, Query(colours=(Colour("", (Series((310,), "m"),)),), grading=grading)).sizes
    assert part.name == name
    assert plain(part.figures["length"]) == (pytest.approx(metres, abs=0.001), "m")


def test_one_side_of_the_other_piece_is_not_enough() -> None:
    grading = Grading(cm(60), (cm(90),), cm(80), piece="rectangle")
    with pytest.raises(Refusal, match="both sides"):
        ask(ABILITY, Query(colours=(yards(310),), grading=grading))


ASKED = [
    # 1050 x (34/38)^1.5, (42/38)^1.5, (46/38)^1.5
    ('the 38" chest took 1050 yd, how much for 34, 42 and 46?', {"34 in": 888.65, "42 in": 1220.08, "46 in": 1398.46}),
    # 950 x (32/36)^1.5 = 796.15 … (44/36)^1.5 = 1283.66
    (
        "grade 950 m for a 36 inch sample to sizes 32 (34, 36, 38, 40, 44)",
        {"32 in": 796.15, "34 in": 871.94, "36 in": 950, "38 in": 1030.26, "40 in": 1112.65, "44 in": 1283.66},
    ),
    # 520 g x 210 / 100 = 1092 m; x (48/40)^1.5 = 1.314534: 1435.47
    ('the 40" took 520 g of a 100g/210m yarn. 48"?', {"48 in": 1435.47}),
    # 310 x 10800 / 4800
    ("baby blanket 60 x 80 cm took 310 m. How much for 90 x 120?", {"90 × 120 cm": 697.5}),
    # 300 x 200 / 150
    ("a scarf 20 x 150 cm took 300 m. How much for 20 x 200 cm?", {"20 × 200 cm": 400}),
    ("a scarf 20 cm wide and 150 cm long took 300 m, how much for 200 cm long?", {"200 cm": 400}),
    # 1150 x 92 x 58 / 6000 = 1022.73; 108 x 62 / 6000 = 1.116; 116 x 63 / 6000 = 1.218
    (
        (
            "Sample size: chest 100 cm, length 60 cm, 1150 m. Other sizes are chest 92 length 58, chest 108 length 62 "
            "and chest 116 length 63 cm. yarn amounts?"
        ),
        {"92 cm": 1022.73, "108 cm": 1283.4, "116 cm": 1400.7},
    ),
]


@pytest.mark.parametrize(("text", "expected"), ASKED)
def test_sizes_as_typed(text: str, expected: dict[str, float]) -> None:
    answer = Assistant(notebook=":memory:").ask(text)
    assert (answer.status, answer.ability) == ("answered", "grade")
    figures = {part.name: part.figures["length"] for part in answer.sizes}
    lengths = {name: figure.value for name, figure in figures.items() if isinstance(figure, Amount)}
    assert lengths == pytest.approx(expected, abs=0.01)
