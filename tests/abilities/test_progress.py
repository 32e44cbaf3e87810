"""Progress: total = used / fraction done, by hand, and what cannot be."""

from __future__ import annotations

import pytest

from yarnchat.abilities.progress import ABILITY
from yarnchat.quantity import Quantity
from yarnchat.queries import NARROWING, Colour, Holding, Progress, PutUp, Query, Series, Yarn
from yarnchat.refusals import Refusal

from .asking import ask, plain

YD_210 = Yarn(put_up=PutUp(Quantity(210, "yd")))
M_115 = Yarn(put_up=PutUp(Quantity(115, "m"), Quantity(50, "g")))


def left(amount: float, unit: str) -> Holding:
    return Holding(amount, unit, left=True)


ROWS = [
    pytest.param(
        Query(used=(Holding(3, "skein", YD_210),), stash=(left(2, "skein"),), progress=Progress(fraction=0.6)),
        # 630 / 0.6 = 1050, still 420 and left 420
        {"fraction": 0.6, "used": (630, "yd"), "need": (1050, "yd"), "enough": True, "left_over": (0, "yd")},
        id="3 x 210 = 630, 630 / 0.6 = 1050, 2 x 210 = 420 left",
    ),
    pytest.param(
        Query(
            used=(Holding(3, "skein", YD_210),),
            stash=(Holding(5, "skein"),),
            progress=Progress(rows_done=120, rows_total=240),
        ),
        # 630 / 0.5 = 1260; 1050 less 630 = 420 left, 630 still: 210 short, 1 skein; half at row 120
        {
            "fraction": 0.5,
            "used": (630, "yd"),
            "need": (1260, "yd"),
            "enough": False,
            "short": (210, "yd"),
            "skeins": 1,
            "half_way_row": 120,
        },
        id="630 / 0.5 = 1260, 1050 owned: 210 short",
    ),
    pytest.param(
        Query(used=(Holding(150, "g"),), stash=(left(90, "g"),), progress=Progress(fraction=0.6)),
        # 150 / 0.6 = 250, still 100, left 90
        {"fraction": 0.6, "used": (150, "g"), "need": (250, "g"), "enough": False, "short": (10, "g")},
        id="150 g / 0.6 = 250 g, 100 g still, 90 g left",
    ),
    pytest.param(
        Query(
            used=(Holding(110, "m"),),
            stash=(left(300, "m"),),
            progress=Progress(rows_done=100, rows_total=200, shape="triangle"),
        ),
        # 0.25 done; 110 / 0.25 = 440; still 330, left 300: 30 short; half at 200 x sqrt(0.5) = 141.42
        {
            "fraction": 0.25,
            "used": (110, "m"),
            "need": (440, "m"),
            "enough": False,
            "short": (30, "m"),
            "half_way_row": pytest.approx(141.421356),
        },
        id="(100 / 200)² = 0.25, 110 m / 0.25 = 440 m",
    ),
    pytest.param(
        Query(
            used=(Holding(120, "g"),),
            stash=(left(50, "g"),),
            progress=Progress(rows_done=50, rows_total=100, shape=NARROWING),
        ),
        # 1 - 0.5² = 0.75 done; 120 / 0.75 = 160; still 40, left 50; half at 100 x (1 - sqrt(0.5)) = 29.29
        {
            "fraction": 0.75,
            "used": (120, "g"),
            "need": (160, "g"),
            "enough": True,
            "left_over": (10, "g"),
            "half_way_row": pytest.approx(29.289322),
        },
        id="1 - (50 / 100)² = 0.75, 120 g / 0.75 = 160 g",
    ),
    pytest.param(
        Query(used=(Holding(4, "skein"),), stash=(left(2, "skein"),), progress=Progress(fraction=0.5)),
        # 8 in all, 4 still, 2 left
        {
            "fraction": 0.5,
            "used": (4, "skein"),
            "need": (8, "skein"),
            "enough": False,
            "short": (2, "skein"),
            "skeins": 2,
        },
        id="skeins of unknown length stay skeins",
    ),
    pytest.param(
        Query(stash=(Holding(6, "skein", M_115), left(100, "g")), progress=Progress(fraction=0.5)),
        # 6 x 50 = 300 g had, 100 left: 200 used, 400 in all, 200 still: 100 g short, 2 skeins of 50 g
        {
            "fraction": 0.5,
            "used": (200, "g"),
            "need": (400, "g"),
            "enough": False,
            "short": (100, "g"),
            "skeins": 2,
        },
        id="had less left is used",
    ),
    pytest.param(
        Query(
            pattern=M_115,
            colours=(Colour("", (Series((1200,), "m"),)),),
            stash=(left(5, "skein"),),
            progress=Progress(fraction=0.5),
        ),
        # 600 used by the pattern, 600 still; 5 x 115 = 575 left: 25 short
        {
            "fraction": 0.5,
            "used": (600, "m"),
            "need": (1200, "m"),
            "enough": False,
            "short": (25, "m"),
            "skeins": 1,
        },
        id="nothing weighed: the pattern's need",
    ),
    pytest.param(
        Query(used=(Holding(3, "skein", YD_210),), progress=Progress(fraction=0.5)),
        # 1260 in all, 630 still: 3 skeins
        {"fraction": 0.5, "used": (630, "yd"), "need": (1260, "yd"), "skeins": 3},
        id="nothing said of what is left",
    ),
    pytest.param(
        Query(used=(Holding(210, "yd", YD_210),), stash=(left(192.024, "m"),), progress=Progress(fraction=0.5)),
        # 192.024 m = 210 yd left, 210 still
        {"fraction": 0.5, "used": (210, "yd"), "need": (420, "yd"), "enough": True, "left_over": (0, "yd")},
        id="metres left of yards used",
    ),
]


@pytest.mark.parametrize(("query", "figures"), ROWS)
def test_figures(query: Query, figures: dict[str, object]) -> None:
    draft = ask(ABILITY, query)
    got = {name: plain(figure) for name, figure in draft.figures.items()}
    assert got.keys() == figures.keys()
    for name, figure in figures.items():
        if isinstance(figure, tuple):
            value, unit = figure
            assert got[name] == (pytest.approx(value, abs=1e-9), unit), name
        else:
            assert got[name] == figure, name


def test_the_headline_says_whether_it_will_do() -> None:
    enough = Query(used=(Holding(100, "g"),), stash=(left(150, "g"),), progress=Progress(fraction=0.5))
    assert ask(ABILITY, enough).headline.startswith("It should be enough: 50 % done, about 50 g left over")
    short = Query(used=(Holding(100, "g"),), stash=(left(50, "g"),), progress=Progress(fraction=0.5))
    assert ask(ABILITY, short).headline.startswith("It will not be enough: 50 % done, about 50 g short")


@pytest.mark.parametrize(
    ("query", "status", "says"),
    [
        (Query(used=(Holding(3, "skein"),)), "unclear", "How far along"),
        (Query(progress=Progress(fraction=0.5)), "unclear", "used so far"),
        (
            Query(colours=(Colour("", (Series((380,), "yd"),)),), progress=Progress(fraction=0.5)),
            "unclear",
            "Is 380 yd what is used so far",
        ),
        (Query(used=(Holding(3, "g"),), progress=Progress(fraction=0.0)), "refused", "more than 0"),
        (Query(used=(Holding(3, "g"),), progress=Progress(fraction=1.2)), "refused", "120 %"),
        (
            Query(used=(Holding(3, "g"),), progress=Progress(rows_done=50, rows_total=40)),
            "refused",
            "50 of 40",
        ),
        (Query(used=(Holding(3, "g"),), progress=Progress(rows_done=50)), "unclear", "of how many"),
        (
            Query(used=(Holding(3, "skein"),), stash=(left(90, "g"),), progress=Progress(fraction=0.5)),
            "unclear",
            "What does one skein hold",
        ),
        (
            Query(used=(Holding(150, "g"),), stash=(Holding(90, "g"),), progress=Progress(fraction=0.6)),
            "unclear",
            "what you had, or what is left",
        ),
        (
            Query(
                used=(Holding(3, "skein"),),
                stash=(Holding(6, "skein"), left(1, "skein")),
                progress=Progress(fraction=0.6),
            ),
            "unclear",
            "Which is right?",
        ),
    ],
)
def test_what_is_missing_or_cannot_be(query: Query, status: str, says: str) -> None:
    with pytest.raises(Refusal) as refusal:
        ask(ABILITY, query)
    assert refusal.value.status == status
    assert says in refusal.value.sentence
