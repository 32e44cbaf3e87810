"""Reports as Markdown, CSV, JSON and a page, read back by programs that are not ours where there is one."""

from __future__ import annotations

import csv
import io
import json
import unicodedata
from collections.abc import Callable, Iterable, Iterator
from html.parser import HTMLParser

import pytest
from samples import ALL, CHECKED, COLOURS, HOSTILE, NOTEBOOK, ONE_SIZE, RATIOS, SIZES, UNCLEAR

from yarnchat.answers import Answer, Part, RatioRow
from yarnchat.views import markdown, page, records, tables
from yarnchat.views.report import Asked, Entry, Heading
from yarnchat.views.text import render_report

RENDERERS = [render_report, markdown.render, tables.render, records.render, page.render]
EVERY: list[Entry] = [Heading("Socks"), *map(Asked, ALL)]


def whole(render: Callable[[Iterable[Entry]], Iterator[str]], *entries: Entry | Answer) -> str:
    return "".join(render(Asked(entry) if isinstance(entry, Answer) else entry for entry in entries))


@pytest.mark.parametrize("render", RENDERERS)
def test_entries_are_taken_one_at_a_time(render: Callable[[Iterable[Entry]], Iterator[str]]) -> None:
    taken = 0

    def endless() -> Iterator[Entry]:
        nonlocal taken
        while True:
            taken += 1
            yield Asked(ONE_SIZE)

    pieces = render(endless())
    for piece in pieces:
        if "worsted pattern" in piece:
            break
    assert taken == 1


@pytest.mark.parametrize("render", RENDERERS)
def test_nothing_in_a_report_steers_a_terminal(render: Callable[[Iterable[Entry]], Iterator[str]]) -> None:
    text = whole(render, Heading("\x1b[1mA\x9b\u202e"), HOSTILE).replace("\n", "").replace("\r", "")
    assert not {unicodedata.category(char) for char in text} & {"Cc", "Cf", "Cs"}


def test_markdown() -> None:
    assert whole(markdown.render, Heading("Socks"), SIZES).split("\n") == [
        "# Socks",
        "",
        "## sizes S (M, L)",
        "",
        "**Buy 4 (5, 8) skeins, each with 1 spare.**",
        "",
        "| size | skeins | spare | length (yd) | length range |",
        "| --- | ---: | ---: | ---: | ---: |",
        "| S | 4 | 1 | 1,600 | 1,280–1,920 |",
        "| M | 5 | 1 | 2,000 | 1,600–2,400 |",
        "| L | 8 | 1 | 3,200 | 2,560–3,840 |",
        "",
        "Numbers are rounded; skeins are counted before rounding.",
        "",
    ]


def test_markdown_of_a_question_back() -> None:
    assert whole(markdown.render, UNCLEAR).split("\n") == [
        "## 500 yd baby wool in worsted, 17",
        "",
        "**Is that baby wool fingering or sport?**",
        "",
        "I read: 500 yd in baby",
        "",
        "Not used: 17",
        "",
        "You could ask:",
        "",
        "- 500 yd sport pattern in 190 yd worsted?",
        "",
    ]


@pytest.mark.parametrize(
    ("said", "written"),
    [
        ("<script>", r"\<script\>"),
        ("a | b", r"a \| b"),
        ("*x* _y_ `z`", r"\*x\* \_y\_ \`z\`"),
        ("1. one", r"1\. one"),
        ("- one", r"\- one"),
        ("# one", r"\# one"),
        ("[a](b)", r"\[a\](b)"),
        ("a & b", r"a \& b"),
        ("3.5 mm", "3.5 mm"),
    ],
)
def test_markdown_marks_are_text(said: str, written: str) -> None:
    assert whole(markdown.render, Answer(asked=said, status="answered", headline="")).split("\n")[0] == f"## {written}"


def _rows(*entries: Entry | Answer) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(whole(tables.render, *entries))))


def test_csv_has_one_figure_a_row_unrounded() -> None:
    rows = _rows(Heading("Socks"), ONE_SIZE, COLOURS, UNCLEAR)
    shown = [(row["question"], row["colour"], row["size"], row["figure"], row["value"], row["unit"]) for row in rows]
    assert shown == [
        ("1", "", "", "ratio", "1.63889", ""),
        ("1", "", "", "length", "1966.66667", "yd"),
        ("1", "", "", "skeins", "5", ""),
        ("1", "", "", "spare", "1", ""),
        ("1", "", "", "mass", "468.254", "g"),
        ("1", "", "", "cost", "72.5", "£"),
        ("2", "MC", "S", "length", "860.0", "yd"),
        ("2", "MC", "S", "skeins", "5", ""),
        ("2", "MC", "M", "length", "990.0", "yd"),
        ("2", "MC", "M", "skeins", "6", ""),
        ("2", "CC", "S", "length", "190.0", "yd"),
        ("2", "CC", "S", "skeins", "2", ""),
        ("3", "", "", "sentence", "Is that baby wool fingering or sport?", ""),
    ]
    assert {row["heading"] for row in rows} == {"Socks"}
    assert (rows[1]["low"], rows[1]["high"], rows[0]["basis"]) == ("1560.2", "2373.4", "default")


def test_csv_of_lists() -> None:
    shown = [(row["figure"], row["value"]) for row in _rows(CHECKED, RATIOS, NOTEBOOK)]
    assert shown == [
        ("error", "5,000 yd in 100 g is no aran."),
        ("note", "No gauge is given."),
        ("ratio from worsted to DK", "1.25"),
        ("yarn Wrenfold DK", "225 m/100 g"),
    ]


@pytest.mark.parametrize("said", ["=1+1", "+1", "-1", "@SUM(1)"])
def test_csv_holds_no_formula(said: str) -> None:
    rows = _rows(Heading(said), Answer(asked=said, status="answered", headline=said))
    assert [rows[0][column] for column in ("heading", "asked", "value")] == [f"'{said}"] * 3


def test_json_is_one_array_and_reads_back_as_the_answers() -> None:
    found = json.loads(whole(records.render, *EVERY))
    assert found[0] == {"heading": "Socks"}
    for record, answer in zip(found[1:], ALL, strict=True):
        assert record == answer.model_dump(mode="json")
    assert json.loads(whole(records.render)) == []


class _Page(HTMLParser):
    """What a page holds: its tags, attributes and texts; tags must close in order."""

    def __init__(self) -> None:
        super().__init__()
        self.open: list[str] = []
        self.tags: list[str] = []
        self.names: set[str] = set()
        self.texts: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append(tag)
        self.names |= {name for name, _ in attrs}
        if tag != "meta":
            self.open.append(tag)

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag

    def handle_data(self, data: str) -> None:
        if self.open[-1:] not in (["style"], ["title"]) and data.strip():
            self.texts.append(data.strip())


def _page(*entries: Entry | Answer) -> _Page:
    read = _Page()
    read.feed(whole(page.render, *entries))
    read.close()
    assert read.open == []
    return read


def test_the_page_is_self_contained_and_escaped() -> None:
    read = _page(*EVERY)
    assert not set(read.tags) & {"script", "img", "link", "iframe", "a", "i", "b", "object", "form"}
    assert not read.names & {"src", "href", "style", "onclick", "onload"}
    assert "<script>alert(1)</script>=1+1 | *x*" in " ".join(read.texts)
    source = whole(page.render, *EVERY)
    assert not {"http:", "https:", "url(", "@import"} & {
        mark for mark in ("http:", "https:", "url(", "@import") if mark in source
    }


def test_the_page_says_what_to_buy_first_and_folds_the_working() -> None:
    assert _page(ONE_SIZE).texts[:6] == [
        "Buy 5 skeins and 1 spare: about 1,967 yd of fingering.",
        "Asked: 1200 yd worsted pattern in 420 yd/100 g fingering?",
        "I read: 1,200 yd in worsted, to be knit in fingering, 420 yd/100 g",
        "skeins",
        "5",
        "spare",
    ]
    source = whole(page.render, ONE_SIZE)
    assert source.index("<details><summary>Working</summary>") < source.index("<li>ratio: 29.5 / 18 = 1.64</li>")
    assert "<details open" not in source


def test_every_cell_of_the_page_names_its_column_for_a_narrow_screen() -> None:
    source = whole(page.render, COLOURS)
    assert '<th scope="row">CC</th><th scope="row">S</th><td data-of="skeins" class="n">2</td>' in source
    assert '<td data-of="length (yd)" class="n">190</td>' in source


@pytest.mark.parametrize(
    "rule", ["prefers-color-scheme: dark", "@media print", "max-width: 40rem", "width=device-width"]
)
def test_the_page_minds_dark_rooms_paper_and_phones(rule: str) -> None:
    assert rule in whole(page.render)


def test_whether_it_is_enough_stands_with_each_size() -> None:
    sizes = [Part(name="S", figures={"enough": True}), Part(name="M", figures={"enough": False, "skeins": 2})]
    answer = Answer(asked="enough?", status="answered", headline="Enough for S.", sizes=sizes)
    text = whole(markdown.render, answer)
    assert "| S | yes |  |" in text
    assert "| M | no | 2 |" in text
    rows = list(csv.DictReader(io.StringIO(whole(tables.render, answer))))
    assert [row["value"] for row in rows if row["figure"] == "enough"] == ["yes", "no"]


@pytest.mark.parametrize("render", [markdown.render, page.render])
def test_the_swatches_of_a_ratio_are_named_below_the_table(render: Callable[[Iterable[Entry]], Iterator[str]]) -> None:
    row = RatioRow(from_="DK", to="aran", value=0.8, low=0.7, high=0.9, basis="swatch", swatches=["Moss swatch"])
    answer = Answer(asked="ratios", status="answered", headline="Ratios.", figures={"ratios": [row]})
    assert "Swatches: 1 Moss swatch" in whole(render, answer)


@pytest.mark.parametrize("render", [markdown.render, page.render])
def test_a_question_back_that_is_not_the_headline_is_shown(render: Callable[[Iterable[Entry]], Iterator[str]]) -> None:
    answer = Answer(asked="DK", status="unclear", headline="I read DK.", asks="How much of it?")
    assert "How much of it?" in whole(render, answer)
