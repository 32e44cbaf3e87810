"""Her swatches end to end: which yarn per area each ability goes by, as swatches come and go.

D by hand: Dunnock 10.8 g x 225 m/100 g over 15 x 15 cm: 10.8 cm/cm²; Marram 6.4 g x 400 m/100 g over 12 x 14 cm:
15.238095; Furze 12.6 g x 240 m/100 g over 16 x 16 cm: 11.8125. Defaults 5.5 x sts/cm (Craft Yarn Council, middles):
DK 12.180118, fingering 15.969488, worsted 9.744094.
"""

from __future__ import annotations

import pytest

from yarnchat import Answer, Assistant
from yarnchat.answers import Amount, Part, Ratio

DUNNOCK = "remember swatch: Dunnock DK, 225 m/100 g, 15 by 15 cm, 10.8 g"
MARRAM = "remember swatch: Marram Fingering, 400 m/100 g, 12 by 14 cm, 6.4 g"
FURZE = "remember swatch: Furze, DK, 240 m/100 g, 16 by 16 cm, 12.6 g"
SWAP = "900 m of DK in fingering, 400 m a skein"
SHIFT = (10.8 / 12.180118 * 15.238095 / 15.969488) ** 0.5
"""How she knits, by both classes she has swatched: 0.9198266."""


def after(*said: str) -> Assistant:
    """A conversation in which all that was said was answered."""
    assistant = Assistant(":memory:")
    for text in said:
        assert assistant.ask(text).status == "answered", text
    return assistant


def ratio(part: Answer | Part) -> Ratio:
    found = part.figures["ratio"]
    assert isinstance(found, Ratio)
    return found


def amount(part: Answer | Part, name: str) -> float:
    found = part.figures[name]
    assert isinstance(found, Amount)
    return found.value


CASES = [
    # no swatch, then one class: 29.5/22.5
    ((), SWAP, 1.311111, "default"),
    ((DUNNOCK,), SWAP, 1.311111, "default"),
    # both classes: 15.238095/10.8 = 1.410935
    ((DUNNOCK, MARRAM), SWAP, 1.410935, "swatch"),
    # two of a class: the mean of 10.8 and 11.8125
    ((DUNNOCK, FURZE, MARRAM), SWAP, 1.347758, "swatch"),
    # that very yarn goes before its class: 15.238095/11.8125
    ((DUNNOCK, FURZE, MARRAM), "900 m of Furze in fingering, 400 m a skein", 1.289998, "swatch"),
    # a default beside a swatch, shifted by how she knits
    ((DUNNOCK, MARRAM), "900 m of DK in worsted, 200 m a skein", 9.744094 * SHIFT / 10.8, "swatch"),
    # a gauge goes before a swatch: 28/22
    ((DUNNOCK, MARRAM), "900 m pattern at 22 sts to 10 cm; mine gets 28 sts to 10 cm, 400 m a skein", 28 / 22, "gauge"),
]


@pytest.mark.parametrize(("said", "question", "value", "basis"), CASES)
def test_substitute(said: tuple[str, ...], question: str, value: float, basis: str) -> None:
    found = ratio(after(*said).ask(question))
    assert found.value == pytest.approx(value, rel=1e-5)
    assert found.basis == basis


def test_two_swatches_narrow_the_range_and_undo_restores_it() -> None:
    assistant = after(DUNNOCK)
    before = ratio(assistant.ask(SWAP))
    assistant.ask(MARRAM)
    hers = ratio(assistant.ask(SWAP))
    assert (hers.high - hers.low) / hers.value < (before.high - before.low) / before.value / 2
    assert assistant.ask("undo").status == "answered"
    assert ratio(assistant.ask(SWAP)) == before


@pytest.mark.parametrize(("said", "value"), [((DUNNOCK,), 1.311111), ((DUNNOCK, MARRAM), 1.410935)])
def test_enough(said: tuple[str, ...], value: float) -> None:
    answer = after(*said).ask("I have 6 skeins of fingering, 400 m each: enough for 900 m of DK?")
    assert amount(answer, "need") == pytest.approx(900 * value, rel=1e-5)


@pytest.mark.parametrize(
    ("said", "values"),
    [((DUNNOCK,), (1.311111, 0.8)), ((DUNNOCK, MARRAM), (1.410935, 9.744094 * SHIFT / 10.8))],
)
def test_compare(said: tuple[str, ...], values: tuple[float, float]) -> None:
    answer = after(*said).ask("900 m of DK: compare fingering at 400 m a skein and worsted at 200 m a skein")
    assert [amount(yarn, "length") / 900 for yarn in answer.yarns] == pytest.approx(values, rel=1e-5)


@pytest.mark.parametrize(("said", "density"), [((), 12.180118), ((DUNNOCK,), 10.8), ((DUNNOCK, FURZE), 11.30625)])
def test_piece(said: tuple[str, ...], density: float) -> None:
    # 20 x 150 cm = 3,000 cm²; cm of yarn per cm² / 100 are m per cm²
    answer = after(*said).ask("a 20 cm by 150 cm scarf in DK, 225 m a skein")
    assert amount(answer, "length") == pytest.approx(3000 * density / 100, rel=1e-5)


def test_ratios_name_every_swatch_a_figure_rests_on() -> None:
    # DK to worsted: worsted was never swatched, so it is shifted by both classes that were
    rows = after(DUNNOCK, MARRAM).ask("ratio from DK to worsted").model_dump(mode="json")["figures"]["rows"]
    assert [row["basis"] for row in rows] == ["default", "swatch"]
    assert rows[1]["swatches"] == ["Dunnock DK swatch", "Marram Fingering swatch"]


def test_a_swatch_counted_in_stitches_and_rows_is_as_good() -> None:
    # 33 sts and 45 rows at 22 and 30 to 10 cm are 15 x 15 cm
    counted = "remember swatch: Dunnock DK, 225 m/100 g, 33 sts by 45 rows at 22 sts and 30 rows to 10 cm, 10.8 g"
    assert ratio(after(counted, MARRAM).ask(SWAP)).value == pytest.approx(1.410935, rel=1e-5)


def test_two_masses_of_a_swatch_are_asked_about() -> None:
    answer = after().ask("swatch 10 x 10 cm, 50 g, 43 g, 225 m/100 g")
    assert answer.status == "unclear"
    assert "43 g" in answer.unused


@pytest.mark.parametrize(
    "weighed",
    [
        "weighed 115 g before and 104.7 g after",
        "skein went from 115 to 104.7 g",
        "my ball went from 115 g to 104.7 g",
        "down from 115 g to 104.7",
    ],
)
def test_what_a_skein_lost_is_the_swatch(weighed: str) -> None:
    # (115 - 104.7) g x 400 m/100 g = 41.2 m
    assistant = after("remember Marram Fingering, 400 m/100 g")
    assert amount(assistant.ask(f"swatch Marram Fingering: 15 x 15 cm, {weighed}"), "length") == pytest.approx(41.2)
    answer = assistant.ask(f"remember swatch Marram Fingering: 15 x 15 cm, {weighed}")
    assert "10.3 g" in answer.headline
    assert not answer.cautions


@pytest.mark.parametrize(
    ("measures", "says"),
    [
        # 104.7 g x 400 m/100 g over 225 cm²: 186.13 cm/cm² / 15.969488 = 11.66
        ("15 x 15 cm, 104.7 g", "That is 11.7 times what fingering takes"),
        # 1 g: 1.7778 / 15.969488 = 11 %
        ("15 x 15 cm, 1 g", "That is 11 % of what fingering takes"),
        # 22 g: 39.1111² / (3.0 x 4.0) = 127
        ("15 x 15 cm, 22 g, 30 sts and 40 rows to 10 cm", "ks = 127 is outside 15–30"),
    ],
)
def test_what_cannot_be_is_said_when_it_is_kept_too(measures: str, says: str) -> None:
    assistant = after("remember Marram Fingering, 400 m/100 g")
    asked = assistant.ask(f"my swatch of Marram Fingering: {measures}").cautions
    kept = assistant.ask(f"remember swatch of Marram Fingering: {measures}").cautions
    assert kept == asked[: len(kept)]
    assert kept[0].startswith(says)


@pytest.mark.parametrize(
    ("told", "reads"),
    [
        # 26.55 m over 15 x 15.3 cm: D 11.5686; 33 x 46 over all of it: 6.6144/cm², ks 20.2; to 4 in: ks 9.10
        ("33 sts by 46 rows, 15 x 15.3 cm, 11.8 g", "taken over the whole 15 cm × 15.3 cm (ks = 20.2;"),
        # over 5.25 x 5.75 in: ks 16.2; to 4 in: 8.56
        ('40 sts and 56 rows, measures 5.25" x 5.75", 11.8 g', "taken over the whole 5.25 in × 5.75 in (ks = 16.2;"),
        # D 12 cm/cm²; 22 x 30 to 4 in: 6.3938/cm², ks 22.5; over 15 x 15 cm: ks 49.1
        ("22 sts 30 rows, 15 x 15 cm, 12 g", "22 sts and 30 rows to 4 in"),
    ],
)
def test_counts_beside_a_size_are_of_what_gives_plain_fabric(told: str, reads: str) -> None:
    assistant = after("remember Quillfeather DK, 225 m/100 g")
    for text in (f"swatch for Quillfeather DK: {told}", f"remember swatch of Quillfeather DK: {told}"):
        assert reads in assistant.ask(text).reading


def test_counts_to_four_inches_stay_so() -> None:
    # 14.322 yd over 19.125 in²; 22 x 30 to 4 in: ks 17.6, so that it stays
    said = "swatch 4 1/4 x 4½ in weighs 6.2 g, Saltmarsh DK 231 yd/100 g, 22 sts 30 rows, US 6"
    assert "22 sts and 30 rows to 4 in" in after().ask(said).reading
