"""The eight weight classes: the Craft Yarn Council's table, the names knitters use, words in dispute."""

import pytest

from yarnchat.knowledge.classes import (
    ambiguous_names,
    class_by_number,
    classes,
    classes_named,
    name_caution,
    pair_caution,
    weight_class,
)

# Craft Yarn Council, Standard Yarn Weight System. Classes 0-5 seen in a reproduced chart, 6-7 from memory.
COUNCIL = [
    (0, "lace", (33, 40), (1.5, 2.25), "000–1"),
    (1, "fingering", (27, 32), (2.25, 3.25), "1–3"),
    (2, "sport", (23, 26), (3.25, 3.75), "3–5"),
    (3, "DK", (21, 24), (3.75, 4.5), "5–7"),
    (4, "worsted", (16, 20), (4.5, 5.5), "7–9"),
    (5, "bulky", (12, 15), (5.5, 8), "9–11"),
    (6, "super bulky", (7, 11), (8, 12.75), "11–17"),
    (7, "jumbo", (4, 6), (12.75, None), "17 and up"),
]


@pytest.mark.parametrize(("number", "label", "gauge", "needle", "us"), COUNCIL)
def test_class_is_as_the_council_prints_it(
    number: int, label: str, gauge: tuple[int, int], needle: tuple[float, float | None], us: str
) -> None:
    found = class_by_number(number)
    assert found.label == label
    assert (found.gauge_low, found.gauge_high) == gauge
    assert (found.needle_mm_low, found.needle_mm_high) == needle
    assert found.needle_us == us


# "Yarn Standards", Spin-Off magazine (seen in yd/lb); then a general encyclopaedia.
GRIST = [
    ("lace", [(484, None), (600, 800)]),
    ("fingering", [(383, 484), (400, 480)]),
    ("sport", [(242, 383), (300, 400)]),
    ("dk", [(182, 242), (240, 300)]),
    ("worsted", [(121, 181), (120, 240)]),
    ("bulky", [(81, 121), (100, 130)]),
    ("super_bulky", [(None, 81), (None, 100)]),
    ("jumbo", []),
]


@pytest.mark.parametrize(("key", "spans"), GRIST)
def test_grist_of_both_tables(key: str, spans: list[tuple[float | None, float | None]]) -> None:
    assert [(span.low, span.high) for span in weight_class(key).grist] == spans


# The Council's wraps per inch (from memory); then "Yarn Standards", Spin-Off magazine.
WRAPS = [
    ("lace", [(30, None), (18, None)]),
    ("fingering", [(14, 30), (16, 18)]),
    ("sport", [(12, 18), (14, 15)]),
    ("dk", [(11, 15), (12, 13)]),
    ("worsted", [(9, 12), (10, 11)]),
    ("bulky", [(6, 9), (8, 9)]),
    ("super_bulky", [(5, 6), (None, 7)]),
    ("jumbo", [(1, 4)]),
]


@pytest.mark.parametrize(("key", "spans"), WRAPS)
def test_wraps_of_both_tables(key: str, spans: list[tuple[float | None, float | None]]) -> None:
    assert [(span.low, span.high) for span in weight_class(key).wpi] == spans


def test_wpi_limits_are_the_councils() -> None:
    assert (weight_class("lace").wpi[0].low, weight_class("lace").wpi[0].high) == (30, None)
    assert (weight_class("worsted").wpi[0].low, weight_class("worsted").wpi[0].high) == (9, 12)


# The middle of the Council's range, by hand.
@pytest.mark.parametrize(
    ("key", "middle"), [("fingering", 29.5), ("dk", 22.5), ("worsted", 18), ("bulky", 13.5), ("jumbo", 5)]
)
def test_middle_of_the_gauge(key: str, middle: float) -> None:
    assert weight_class(key).mid_gauge == middle


def test_ranges_read_as_the_standard_prints_them() -> None:
    assert str(weight_class("worsted").gauge) == "16–20"
    assert str(weight_class("jumbo").gauge) == "6 and fewer"
    assert str(weight_class("jumbo").needle) == "12.75 and more"


# Craft Yarn Council chart; ply names from published tables; the last group common practice, no source.
NAMES = [
    ("lace", ["lace", "cobweb", "thread", "1 ply", "2 ply"]),
    ("fingering", ["fingering", "super fine", "superfine", "sock", "3 ply", "4 ply", "4-ply", "4ply"]),
    ("sport", ["sport", "fine", "5 ply", "sportweight"]),
    ("dk", ["DK", "light", "light worsted", "8 ply", "double knitting"]),
    ("worsted", ["worsted", "medium", "aran", "afghan", "10 ply", "Aran", " 10  PLY "]),
    ("bulky", ["bulky", "chunky", "craft", "rug", "12 ply"]),
    ("super_bulky", ["super bulky", "superbulky", "super-bulky", "super chunky", "roving", "14 ply"]),
    ("jumbo", ["jumbo"]),
]


@pytest.mark.parametrize(("key", "name"), [(key, name) for key, names in NAMES for name in names])
def test_name_means_one_class(key: str, name: str) -> None:
    assert [found.key for found in classes_named(name)] == [key]


def test_baby_names_two_classes_of_the_standard() -> None:
    assert [found.key for found in classes_named("baby")] == ["fingering", "sport"]


def test_unknown_name_means_no_class() -> None:
    assert classes_named("wosted") == ()


def test_no_ambiguous_name_is_also_a_plain_one() -> None:
    plain = {name for found in classes() for name in found.names}
    assert not plain & set(ambiguous_names())


def test_every_name_can_be_looked_up_as_written() -> None:
    for found in classes():
        assert all(classes_named(name) == (found,) for name in found.names)


# Published tables of ply names disagree on 4, 5, 12 and 14 ply; 8 and 10 ply are alike in every
# table seen.
@pytest.mark.parametrize("name", ["4 ply", "4-ply", "4ply", "5 ply", "12 ply", "14ply"])
def test_disputed_ply_carries_a_caution(name: str) -> None:
    assert "disagree" in (name_caution(name) or "")


@pytest.mark.parametrize("name", ["8 ply", "10 ply", "fingering", "aran"])
def test_undisputed_name_carries_none(name: str) -> None:
    assert name_caution(name) is None


def test_worsted_and_aran_are_one_class_and_it_is_said() -> None:
    assert "one class" in (pair_caution("Aran", "worsted") or "")
    assert pair_caution("worsted", "aran") == pair_caution("aran", "worsted")
    assert pair_caution("worsted", "worsted") is None
    assert pair_caution("dk", "worsted") is None


def test_lace_alone_carries_a_class_caution() -> None:
    assert [found.key for found in classes() if found.caution] == ["lace"]


def test_no_such_class() -> None:
    with pytest.raises(KeyError):
        weight_class("heavy")
    with pytest.raises(KeyError):
        class_by_number(8)
