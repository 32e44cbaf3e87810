"""The answer as text: expected lines written by hand, widths, and nothing that steers a terminal."""

from __future__ import annotations

import unicodedata

import pytest
from samples import ALL, CHECKED, COLOURS, HOSTILE, NOTEBOOK, ONE_SIZE, RATIOS, SIZES, UNCLEAR, YARNS

from yarnchat.answers import Amount, Answer, Basis, Ratio, RatioRow
from yarnchat.views.bars import Span, bars
from yarnchat.views.figures import said
from yarnchat.views.plain import cells, register_fallback, wrap
from yarnchat.views.report import Asked, Heading
from yarnchat.views.text import render, render_report


def test_one_size() -> None:
    assert render(ONE_SIZE).split("\n") == [
        "Buy 5 skeins and 1 spare: about 1,967 yd of fingering.",
        "I read: 1,200 yd in worsted, to be knit in fingering, 420 yd/100 g",
        "Figures: skeins 5; spare 1; length about 1,967 yd (1,560–2,373); mass about 468",
        "         g; cost £72.50; ratio 1.64 (1.3–1.98), from the weight classes",
        "",
        "Working:",
        "  worsted: 18 sts to 4 in, middle of 16–20 (Craft Yarn Council)",
        "  fingering: 29.5 sts to 4 in, middle of 27–32 (Craft Yarn Council)",
        "  ratio: 29.5 / 18 = 1.64",
        "",
        "Mind:",
        "  One dye lot for all of it, the spare too.",
    ]


def test_sizes_have_a_table_with_bars_where_there_is_room() -> None:
    # The bars have 80 - 48 - 2 = 30 columns, so 3,840 yd stands at column 29, 1,280 at 9.67, 1,600 at 12.08.
    assert render(SIZES).split("\n")[2:] == [
        "  size  skeins  spare  length (yd)  length range  length, from 0",
        "  S          4      1        1,600   1,280–1,920            --o--",
        "  M          5      1        2,000   1,600–2,400              ---o---",
        "  L          8      1        3,200   2,560–3,840                     -----o-----",
        "  Numbers are rounded; skeins are counted before rounding.",
    ]


def test_a_figure_all_sizes_share_is_said_once_and_the_usual_table_fits_80_columns() -> None:
    ratio = Ratio(value=1.25, low=0.98, high=1.52, basis="default")
    mass = Amount(value=489.13, unit="g", low=382, high=596.3)
    sizes = [size.model_copy(update={"figures": size.figures | {"ratio": ratio, "mass": mass}}) for size in SIZES.sizes]
    answer = SIZES.model_copy(update={"figures": {"ratio": ratio}, "sizes": sizes})
    assert render(answer).split("\n")[1:5] == [
        "Figures: ratio 1.25 (0.98–1.52), from the weight classes",
        "",
        "  size  skeins  spare  length (yd)  length range  mass (g)  mass range",
        "  S          4      1        1,600   1,280–1,920       489     382–596",
    ]


def test_a_narrow_terminal_gets_a_block_a_row() -> None:
    assert render(SIZES, 40).split("\n")[:8] == [
        "Buy 4 (5, 8) skeins, each with 1 spare.",
        "",
        "  S",
        "    skeins: 4",
        "    spare: 1",
        "    length (yd): 1,600",
        "    length range: 1,280–1,920",
        "  M",
    ]


def test_colours_carry_their_sizes() -> None:
    # Bars: 80 - 37 - 2 = 41 columns of room, at most 40; 990 yd fills them, 860 is 34.7, 190 is 7.7.
    assert render(COLOURS).split("\n")[2:] == [
        "  colour  size  skeins  length (yd)  length, from 0",
        "  MC      S          5          860  " + "#" * 35,
        "          M          6          990  " + "#" * 40,
        "  CC      S          2          190  " + "#" * 8,
    ]


def test_candidates_are_compared_by_cost() -> None:
    assert render(YARNS).split("\n")[2:] == [
        "  yarn          skeins    cost  cost, from 0",
        "  Wrenfold DK        4  £20.00  " + "#" * 20,
        "  Saltmarsh DK       5  £40.00  " + "#" * 40,
    ]


def test_a_question_back() -> None:
    assert render(UNCLEAR).split("\n") == [
        "Is that baby wool fingering or sport?",
        "I read: 500 yd in baby",
        "Not used: 17",
        "",
        "You could ask:",
        "  500 yd sport pattern in 190 yd worsted?",
    ]


def test_findings_ratios_and_notebook() -> None:
    assert render(CHECKED).split("\n")[2:] == [
        "Found:",
        "  error: 5,000 yd in 100 g is no aran.",
        "  note: No gauge is given.",
    ]
    assert render(RATIOS).split("\n")[2:] == [
        "  from     to  ratio      range  basis",
        "  worsted  DK   1.25  1.02–1.48  class",
    ]
    assert render(NOTEBOOK).split("\n")[2:] == [
        "  kind  name         facts",
        "  yarn  Wrenfold DK  225 m/100 g",
    ]


def ratio_row(to: str, value: float, swatches: list[str]) -> RatioRow:
    basis: Basis = "swatch" if swatches else "default"
    return RatioRow(from_="DK", to=to, value=value, low=value - 0.1, high=value + 0.1, basis=basis, swatches=swatches)


PERSONAL = RATIOS.model_copy(
    update={
        "figures": {
            "rows": [
                ratio_row("worsted", 0.8, []),
                ratio_row("worsted", 0.83, ["Dunnock", "Larkspur"]),
                ratio_row("super bulky", 0.41, ["Dunnock", "Larkspur", "Marram", "Teasel"]),
            ]
        }
    }
)


def test_a_ratio_table_names_the_swatches_behind_each_figure() -> None:
    assert render(PERSONAL).split("\n")[2:] == [
        "  from  to           ratio      range  basis   swatches",
        "  DK    worsted       0.80  0.70–0.90  class",
        "  DK    worsted       0.83  0.73–0.93  swatch  1, 2",
        "  DK    super bulky   0.41  0.31–0.51  swatch  1–4",
        "  Swatches: 1 Dunnock, 2 Larkspur, 3 Marram, 4 Teasel",
    ]


def test_a_ratio_table_on_a_narrow_terminal_is_grouped() -> None:
    assert render(PERSONAL, 40).split("\n")[2:] == [
        " to          ratio     range basis",
        "from DK",
        " worsted      0.80 0.70–0.90 class",
        " worsted      0.83 0.73–0.93 swatch 1, 2",
        " super bulky  0.41 0.31–0.51 swatch 1–4",
        "  Swatches: 1 Dunnock, 2 Larkspur, 3",
        "    Marram, 4 Teasel",
    ]


def test_lines_of_the_reading_stay_lines() -> None:
    answer = ONE_SIZE.model_copy(update={"reading": "1,200 yd in worsted\nspelling: wosted read as worsted"})
    assert render(answer).split("\n")[1:3] == [
        "I read: 1,200 yd in worsted",
        "        spelling: wosted read as worsted",
    ]


def test_a_full_answer_of_one_size_fits_24_rows() -> None:
    step = "worsted: 18 sts to 4 in, middle of 16–20 (Craft Yarn Council), as it was said"
    assert cells(step) <= 78
    answer = ONE_SIZE.model_copy(
        update={
            "headline": "Buy 5 skeins and 1 spare of one dye lot: about 1,967 yd (1,560–2,373) of fingering.",
            "reading": "1,200 yd in worsted, to be knit in Ferny Bank fingering, 420 yd\nfrom before: x",
            "working": [step] * 7,
            "cautions": ["A caution as long as a line of the terminal lets it be without another line"] * 3,
        }
    )
    assert len(render(answer).split("\n")) <= 24


@pytest.mark.parametrize("answer", ALL, ids=[str(number) for number in range(len(ALL))])
def test_no_line_is_wider_than_the_terminal(answer: Answer) -> None:
    for width in range(40, 201):
        assert max(cells(line) for line in render(answer, width).split("\n")) <= width


def test_wrapping_loses_no_word() -> None:
    assert render(ONE_SIZE, 40).split() == render(ONE_SIZE, 200).split()


@pytest.mark.parametrize(("asked", "given"), [(0, 40), (-5, 40), (10_000, 200)])
def test_absurd_widths_are_held_to_40_and_200(asked: int, given: int) -> None:
    assert render(ONE_SIZE, asked) == render(ONE_SIZE, given)


def test_nothing_steers_the_terminal() -> None:
    text = render(HOSTILE) + "".join(render_report([Heading("\x1b[1mA\x9b\u202e"), Asked(HOSTILE)]))
    kinds = {unicodedata.category(char) for char in text.replace("\n", "")}
    assert not kinds & {"Cc", "Cf", "Cs"}


def test_report_names_headings_and_questions() -> None:
    assert "".join(render_report([Heading("Socks"), Asked(UNCLEAR)])).split("\n")[:5] == [
        "Socks",
        "=====",
        "",
        "Asked: 500 yd baby wool in worsted, 17",
        "Is that baby wool fingering or sport?",
    ]


@pytest.mark.parametrize(
    ("name", "figure", "words"),
    [
        ("length", Amount(value=1200, unit="yd"), "1,200 yd"),
        ("length", Amount(value=1200.4, unit="yd"), "about 1,200 yd"),
        ("length", Amount(value=1200, unit="yd", low=1000, high=1400), "about 1,200 yd (1,000–1,400)"),
        ("mass", Amount(value=49.6117, unit="g"), "about 49.6 g"),
        ("cost", Amount(value=72.5, unit="£"), "£72.50"),
        ("cost", Amount(value=72.504, unit="£"), "about £72.50"),
        ("cost", Amount(value=1072.5, unit="EUR"), "1,072.50 EUR"),
        ("fraction", 0.55, "55 %"),
        ("fraction", 1 / 3, "about 33.3 %"),
        ("enough", True, "yes"),
        ("enough", False, "no"),
        ("skeins", 1200, "1,200"),
        ("weight_class", ["DK", "sport"], "DK, sport"),
        ("us", "10½", "10½"),
        ("mm", 4.5, "4.5"),
    ],
)
def test_one_figure_in_words(name: str, figure: Amount | float | list[str], words: str) -> None:
    assert said(name, figure) == words


def test_a_conversion_takes_its_unit_along() -> None:
    answer = Answer(
        asked="4 oz",
        status="answered",
        headline="4 oz is about 113 g.",
        figures={"value": 113.398, "unit": "g"},
    )
    assert render(answer).split("\n")[1] == "Figures: value about 113 g"


def test_a_needle_in_three_systems() -> None:
    answer = Answer(
        asked="us 4",
        status="answered",
        headline="US 4 is 3.5 mm.",
        figures={"uk": "9 or 10", "mm": Amount(value=3.5, unit="mm"), "us": "4"},
    )
    assert render(answer).split("\n")[1] == "Figures: needle 3.5 mm; US 4; UK 9 or 10"


def test_bars() -> None:
    assert bars([Span(5, 5, 5), Span(10, 10, 10)], 10) == ["#####", "##########"]
    assert bars([Span(0, 5, 10)], 11) == ["-----o-----"]
    assert bars([Span(0, 0, 0)], 10) == [""]
    assert bars([Span(1, float("inf"), float("inf")), Span(1, 1, 1)], 10) == ["", ""]
    assert bars([], 10) == []


def test_wrap_cuts_long_words_and_counts_wide_signs_twice() -> None:
    assert wrap("abcdef gh", 4) == ["abcd", "ef", "gh"]
    assert wrap("毛糸毛糸", 4, "", "") == ["毛糸", "毛糸"]
    assert wrap("a b", 10, "- ", "  ") == ["- a b"]


def test_signs_an_encoding_lacks_are_spelt_plainly() -> None:
    assert "½ × 2–3 é 毛".encode("ascii", register_fallback()) == b"1/2 x 2-3 e ?"
