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
    answer = after().ask("my ball went from 50 g to 43 g, swatch 10 x 10 cm, 225 m/100 g")
    assert answer.status == "unclear"
    assert "43 g" in answer.unused
