"""What became of every number of a sentence: it is in the query, it counts nothing of the yarn, or it is left over.

A number that is none of these would be a silent misread: an answer that takes no notice of something that was typed.
"""

from __future__ import annotations

import dataclasses
import re
from collections.abc import Iterator

import pytest
from hypothesis import assume, given

from yarnchat import Assistant
from yarnchat.language.accounting import _harmless
from yarnchat.language.phrases import Phrase
from yarnchat.language.reader import prepared, read
from yarnchat.language.reading import Reading
from yarnchat.language.sentence import Sentence
from yarnchat.quantity import Quantity
from yarnchat.queries import Needle, PutUp, Query, Yarn

from .texts import questions, sentences

NUMBERS = ("NUM", "LONGNUM", "ODDNUM", "NAN")


Told = tuple[float, str]
"""A number, and its unit or the field it stands in; "" where nothing says what it is."""


def figures(value: object, of: str = "") -> Iterator[Told]:
    """Every number in a query or a part of one with what it is, those that are kept as text included."""
    if isinstance(value, bool) or value is None:
        return
    if isinstance(value, int | float):
        yield float(value), of
    elif isinstance(value, str):
        words = [re.sub(r"(?<=\d),(?=\d{3})", "", word) for word in value.split()]
        for word, after in zip(words, [*words, ""][1:], strict=True):
            if re.fullmatch(r"\d+(?:\.\d+)?(?:e\+\d+)?", word):
                yield float(word), after if after in ("cm", "in") else of
    elif isinstance(value, tuple) and len(value) == 2 and (rate := _RATE.fullmatch(str(value[1]))):
        yield float(value[0]), rate["of"]
        yield float(rate["per"]), rate["unit"]
    elif isinstance(value, tuple | list):
        for one in value:
            yield from figures(one, of)
    elif dataclasses.is_dataclass(value):
        unit = getattr(value, "unit", None)
        for field in dataclasses.fields(value):
            yield from figures(getattr(value, field.name), field.name if unit is None else unit)


_RATE = re.compile(r"(?P<of>yd|m)/(?P<per>\d+) (?P<unit>g|oz|lb)")
"""How much yarn a number of it is, as conversions hold it: 420 of ``yd/100 g``."""


def unaccounted(text: str) -> list[str]:
    """The numbers of a text that nothing became of."""
    sentence, reading = prepared(text)[0], read(text)
    query = reading.query
    measured = bool(query.piece or query.swatch or query.grading or query.measured)
    harmless = _harmless(sentence, sentence.phrases, measured=measured)
    return [
        sentence.tokens[at].text
        for at, token in enumerate(sentence.tokens)
        if token.kind in NUMBERS and at not in harmless and not _kept(sentence, at, reading)
    ]


def _kept(sentence: Sentence, at: int, reading: Reading) -> bool:
    phrase = _phrase_at(sentence, at)
    piece = sentence.words(phrase) if phrase else sentence.tokens[at].text
    aside = {word for said in reading.aside for word in said.split()}
    if {piece, piece[:40], sentence.tokens[at].text} & {*reading.unused, *aside}:
        return True
    progress = reading.query.progress
    if phrase and phrase.kind == "percent" and progress and progress.fraction is not None:
        return round(abs(progress.fraction), 9) in (round(phrase.value / 100, 9), round(1 - phrase.value / 100, 9))
    note = reading.query.note
    if note and note.name and sentence.tokens[at].text in note.name:
        return True  # forget 0 $: it is in the name
    told_aside = [note for note in reading.notes if note.endswith("left aside")]
    if phrase and phrase.kind in ("price", "cost") and any(str(phrase.value) in note for note in told_aside):
        return True  # £9.00 a skein is not paid: left aside
    if phrase and phrase.kind == "one":  # 2 skeins, 60 g and 60 g: as many masses as it says
        masses = [other for other in sentence.phrases if other.kind == "mass" and other.first >= phrase.last]
        return phrase.value.values[0] <= len(masses) and all(_kept(sentence, other.first, reading) for other in masses)
    said = set(figures(phrase.value)) if phrase else set()
    held = set(figures(reading.query))
    if reading.bare_count is not None:
        held.add((reading.bare_count, ""))
    return bool(said) and all(_holds(held, number, of) for number, of in said)


def _holds(held: set[Told], number: float, of: str) -> bool:
    """Whether the number stands among these as what it is; one with nothing said of it may stand anywhere."""
    return (number, of) in held or (not of and number in {value for value, _ in held})


def _phrase_at(sentence: Sentence, at: int) -> Phrase | None:
    return next((phrase for phrase in sentence.phrases if phrase.first <= at < phrase.last), None)


def test_a_number_is_kept_as_what_it_is() -> None:
    """``420 m`` is not kept by a label of 420 yd, nor 22 stitches by a needle of 22."""
    held = set(figures(Query(yarns=(Yarn(put_up=PutUp(Quantity(420, "yd")), needle=Needle("22", "mm")),))))
    assert held == {(420.0, "yd"), (22.0, "size")}
    assert _holds(held, 420, "yd")
    assert _holds(held, 420, "")
    assert not _holds(held, 420, "m")
    assert not _holds(held, 22, "stitches")


DROPPED = re.compile(r"[0-9] x [0-9]+")
"""A number times a mass may work a label over; test_a_label_of_another_mass_is_said has the reading say so."""

HEEDLESS = {"help"}
"""Help takes no notice of numbers: it works nothing out."""


@given(sentences() | questions())
def test_every_number_is_accounted_for(text: str) -> None:
    assume(not DROPPED.search(text))
    if read(text).refusal is None:
        assert unaccounted(text) == []


@given(questions())
def test_no_answer_passes_a_number_over(text: str) -> None:
    assume(not DROPPED.search(text))
    answer = Assistant(notebook=":memory:").ask(text)
    if answer.status == "answered" and answer.ability not in HEEDLESS:
        assert (read(text).unused, unaccounted(text)) == ([], [])


@pytest.mark.parametrize(
    "text",
    [
        "4 x 100 g of DK and 2 x 50 g of DK, in aran at 160 m/100 g",
        "pattern needs 1200 yd, I have 1050 (1150, 1270) yd, is it enough?",
        "pattern needs 1000 yd, used 400 (500, 600) yd so far, 40% done",
        "row 120 of 240, row 40 of 100, used 300 m",
        "60 g 60 g 61 yd/100 g 2 x 2 in",
        "301 yd pattern in check 2 skeins 301 yd 2 skeins 300 yd",
        "check: 2 skeins, 301 yd a skein, 2 skeins, 300 yd a skein, 600 yd",
        "check: DK, gauge 22 sts to 4 in, gauge 20 sts to 4 in",
        "check: DK, 11 wpi, 14 wpi",
        "1200 yd of worsted in fingering, abc420 yd/100 g",
        "300 yd 2 sts to 4 in 3 sts to 4 in check 300 yd",
        "US 8 and US 9 in mm",
        "US 8 in mm, 4.5 in",
        "22 sts to 4 in over 10 cm, 5 in",
        "check: worsted, US 7 needles, US 9 needles",
        "check: worsted, £4 a skein, £5 a skein, 6 skeins",
    ],
)
def test_nothing_is_dropped(text: str) -> None:
    """Wordings of which a number once went missing: each is accounted for, or asked about."""
    assert read(text).refusal is not None or unaccounted(text) == []
    assert unaccounted(text) == [] or Assistant(notebook=":memory:").ask(text).status == "unclear"


@pytest.mark.parametrize(
    ("text", "left"),
    [
        ("1200 yd worsted pattern in 420 yd/100 g fingering, 7", ["7"]),
        ("900 m DK in aran, 50 g/80 m, 33 44", ["33", "44"]),
        ("1200 yd of DK in fingering, 400 yd a skein, page 12, 3 buttons", []),
    ],
)
def test_what_is_left_over(text: str, left: list[str]) -> None:
    """A page and buttons count nothing of the yarn; a number with nothing said of it does not go unsaid."""
    assert read(text).unused == left
    assert Assistant(notebook=":memory:").ask(text).status == ("unclear" if left else "answered")


@pytest.mark.parametrize(
    "text",
    [
        "remember Harbour Lamp Tweed, DK, 230 yd/100 g, 7",
        "check: 5 skeins of 220 yd, 1,100 yd in all, 17",
        "14 wpi or 9 wpi, what weight?",
        # a ridge of garter stitch is two rows: to read it as one would halve what is done
        "60 of 120 ridges done, 200 m used, 300 m left, will it last?",
        "22 sts and 22 ridges to 4 in, what weight?",
    ],
)
def test_no_ability_is_heedless(text: str) -> None:
    assert Assistant(notebook=":memory:").ask(text).status == "unclear"


def test_a_label_of_another_mass_is_said() -> None:
    # 50 g of a yarn of 230 m/100 g: 230 * 50 / 100 = 115 m; six of them 690 m
    answer = Assistant(notebook=":memory:").ask("6 x 50 g of a DK that is 230 m/100 g, in fingering, 400 m/100 g")
    assert "50 g at 230 m/100 g is 115 m" in answer.reading


@pytest.mark.parametrize(
    ("text", "aside"),
    [
        ("1200 yd of worsted in DK, 230 yd a skein, 80% wool, 7 buttons", "left aside: 80%, 7 buttons"),
        ("a cardi, bust 40 takes 1200 yd of worsted, in DK, 230 yd a skein", "left aside: bust 40"),
        ("page 34: 1200 yd of worsted in DK, 230 yd a skein", "left aside: page 34"),
        ("not 1000 yd but 1200 yd of worsted, in DK of 230 yd a skein", "left aside: not 1000 yd"),
    ],
)
def test_what_is_left_aside_is_said(text: str, aside: str) -> None:
    answer = Assistant(notebook=":memory:").ask(text)
    assert answer.figures["skeins"] == 7  # 1200 yd x 1.25 = 1500 yd; 1500 / 230 = 6.52
    assert aside in answer.reading
