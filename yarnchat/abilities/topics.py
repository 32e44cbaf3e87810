"""What help says beside the abilities: how sizes are written, where values come from, how sure they are."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Topic:
    """One subject of help: the words that name it, the sentence that answers, and the lines below it."""

    names: tuple[str, ...]
    headline: str
    lines: tuple[str, ...]


TOPICS = (
    Topic(
        ("sizes", "size", "several sizes", "how do i write sizes"),
        "Write sizes as a pattern does: 1000 (1100, 1250, 1400) yd, with one unit after the list.",
        (
            "brackets, slashes or commas: 5 (6, 7, 8) skeins, 1000/1100/1250 m, 900 [1000, 1100] yd",
            "names: S (M, L, XL), then a list with as many numbers",
            "one size only: size 3, or only L; some of them: sizes 2 and 4; counted from 1 where sizes have no names",
            "several colours: MC 860 yd and CC 190 yd, each may be a list of sizes",
        ),
    ),
    Topic(
        ("sources", "source", "where do the numbers come from", "data"),
        "Every value comes from your question, a published source, or is marked as common practice.",
        (
            "weight classes, gauges, needles: Craft Yarn Council, Standard Yarn Weight System",
            "plain fabric: kc 5.5, kw 4.2 (GATE Textile 2015), after Munden, J. Textile Inst. 50 (1959)",
            "wraps per inch and length per mass: three tables, which disagree",
            "ranges: JCGM 100:2008 (GUM), two standard uncertainties, about 95 %",
            "yarn numbers: ISO 2947, ASTM D2260; yard and inch: 1959 agreement; ounce: NIST SP 811",
            "common practice, no source: one spare skein, whole skeins, 1.5 % for the rounding of labels",
        ),
    ),
    Topic(
        ("why", "ratio", "how", "working", "method"),
        "A finer yarn has more stitches to an area and takes more length: length × ratio, then skeins.",
        (
            "ratio = yarn per area in yours / in the pattern's; without rows, the ratio of the stitch gauges",
            "each side: the gauge you give, else your own swatches, else the middle of the weight class",
            "same gauge: same length, whatever the yarn weighs",
            "skeins are rounded up, never converted skein for skein: put-ups differ inside one class",
        ),
    ),
    Topic(
        ("sure", "uncertainty", "range", "how sure", "accuracy"),
        "The range shown holds the true figure about 19 times in 20, if the yarns are what you said.",
        (
            "two weight classes and no gauge: ±19 % (sport and DK) to ±33 % (worsted and super bulky)",
            "a gauge for both yarns: narrower; rows as well: narrower still",
            "a blocked swatch of each, weighed to 0.1 g: narrowest",
        ),
    ),
    Topic(
        ("units", "unit"),
        "Lengths in yd or m, masses in g or oz, gauges over 4 in or 10 cm, needles as mm, US or UK.",
        (
            "the answer keeps the unit of the pattern's length and the label's mass",
            "4 in is 10.16 cm: the two are not mixed silently",
            "a needle number needs its system: US 8 is 5 mm, old UK 8 is 4 mm",
        ),
    ),
    Topic(
        ("spare", "dye lot", "spares"),
        "Buy one spare skein of the same dye lot: the next lot may be another colour.",
        (
            "skeins in an answer never count the spare; the cost does",
            "a contrast colour has a spare only where rounding up leaves too little",
            "say no spare, or keep another number in your notebook",
        ),
    ),
)
