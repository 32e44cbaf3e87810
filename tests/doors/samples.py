"""Answers made by hand for the views; yarns and numbers are invented."""

from __future__ import annotations

from yarnchat.answers import Amount, Answer, Finding, Item, Part, Ratio, RatioRow


def yards(value: float, low: float | None = None, high: float | None = None) -> Amount:
    return Amount(value=value, unit="yd", low=low, high=high)


ONE_SIZE = Answer(
    asked="1200 yd worsted pattern in 420 yd/100 g fingering?",
    status="answered",
    ability="substitute",
    headline="Buy 5 skeins and 1 spare: about 1,967 yd of fingering.",
    reading="1,200 yd in worsted, to be knit in fingering, 420 yd/100 g",
    figures={
        "ratio": Ratio(value=1.63889, low=1.3, high=1.98, basis="default"),
        "length": yards(1966.66667, 1560.2, 2373.4),
        "skeins": 5,
        "spare": 1,
        "mass": Amount(value=468.254, unit="g"),
        "cost": Amount(value=72.5, unit="£"),
    },
    working=[
        "worsted: 18 sts to 4 in, middle of 16–20 (Craft Yarn Council)",
        "fingering: 29.5 sts to 4 in, middle of 27–32 (Craft Yarn Council)",
        "ratio: 29.5 / 18 = 1.64",
    ],
    cautions=["One dye lot for all of it, the spare too."],
)

SIZES = Answer(
    asked="sizes S (M, L)",
    status="answered",
    ability="substitute",
    headline="Buy 4 (5, 8) skeins, each with 1 spare.",
    sizes=[
        Part(name="S", figures={"length": yards(1600, 1280, 1920), "skeins": 4, "spare": 1}),
        Part(name="M", figures={"length": yards(2000, 1600, 2400), "skeins": 5, "spare": 1}),
        Part(name="L", figures={"length": yards(3200.4, 2560, 3840), "skeins": 8, "spare": 1}),
    ],
)

COLOURS = Answer(
    asked="MC and CC",
    status="answered",
    ability="skeins",
    headline="Buy for each colour as below.",
    colours=[
        Part(
            name="MC",
            sizes=[
                Part(name="S", figures={"length": yards(860), "skeins": 5}),
                Part(name="M", figures={"length": yards(990), "skeins": 6}),
            ],
        ),
        Part(name="CC", sizes=[Part(name="S", figures={"length": yards(190), "skeins": 2})]),
    ],
)

YARNS = Answer(
    asked="which is cheapest?",
    status="answered",
    ability="compare",
    headline="Wrenfold DK is the cheaper.",
    yarns=[
        Part(name="Wrenfold DK", figures={"skeins": 4, "cost": Amount(value=20, unit="£")}),
        Part(name="Saltmarsh DK", figures={"skeins": 5, "cost": Amount(value=40, unit="£")}),
    ],
)

UNCLEAR = Answer(
    asked="500 yd baby wool in worsted, 17",
    status="unclear",
    reading="500 yd in baby",
    headline="",
    asks="Is that baby wool fingering or sport?",
    unused=["17"],
    suggestions=["500 yd sport pattern in 190 yd worsted?"],
)

CHECKED = Answer(
    asked="check: 100 g / 5000 yd aran",
    status="answered",
    ability="check",
    headline="One thing cannot be true.",
    findings=[
        Finding(level="error", text="5,000 yd in 100 g is no aran."),
        Finding(level="note", text="No gauge is given."),
    ],
)

RATIOS = Answer(
    asked="ratios",
    status="answered",
    ability="ratios",
    headline="Lengths convert by these.",
    figures={
        "rows": [RatioRow(from_="worsted", to="DK", value=1.25, low=1.02, high=1.48, basis="default", swatches=[])]
    },
)

NOTEBOOK = Answer(
    asked="list",
    status="answered",
    ability="notebook",
    headline="Your notebook holds 1 yarn.",
    figures={"items": [Item(kind="yarn", name="Wrenfold DK", text="225 m/100 g")]},
)

HOSTILE = Answer(
    asked="\x1b[31m<script>alert(1)</script>\x07\u202e=1+1 | *x*",
    status="answered",
    ability="substitute",
    headline="\x1b]0;title\x07Buy <b>5</b> | 6",
    reading="a\x00b",
    figures={"length": Amount(value=1, unit="<i>\x1b[0m")},
    sizes=[
        Part(name="=HYPERLINK(1)", figures={"skeins": 1}),
        Part(name="\u2066M\x9b1m", figures={"skeins": 2}),
    ],
    working=["<img src=x>\x1b[2J"],
    cautions=["\x08\x7f& caution"],
    unused=["\x1b[A"],
    suggestions=["<a href='x'>"],
)

ALL = (ONE_SIZE, SIZES, COLOURS, YARNS, UNCLEAR, CHECKED, RATIOS, NOTEBOOK, HOSTILE)
