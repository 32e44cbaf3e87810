"""Which class a yarn may be, from its gauge, wraps per inch, grist or needle."""

from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st

from yarnchat.fabric.identify import Candidate, by_gauge, by_grist, by_needle, by_wpi
from yarnchat.knowledge.classes import classes


def _labels(found: list[Candidate]) -> list[str]:
    return [candidate.weight_class.label for candidate in found]


# Craft Yarn Council; 18, 22, 25 and 30 are its check values. 24 lies in two ranges, nearest middle first.
@pytest.mark.parametrize(
    ("stitches", "labels"),
    [
        (18, ["worsted"]),
        (22, ["DK"]),
        (25, ["sport"]),
        (30, ["fingering"]),
        (36, ["lace"]),
        (14, ["bulky"]),
        (9, ["super bulky"]),
        (5, ["jumbo"]),
        (2, ["jumbo"]),
        (24, ["sport", "DK"]),
        (23, ["DK", "sport"]),
    ],
)
def test_by_gauge(stitches: float, labels: list[str]) -> None:
    found = by_gauge(stitches)
    assert _labels(found) == labels
    assert all(candidate.inside for candidate in found)


# The Council's whole numbers leave gaps: to the nearest limit, a tie lists both; beyond them the end class.
@pytest.mark.parametrize(
    ("stitches", "labels"),
    [
        (20.32, ["worsted"]),  # 20 to 10 cm
        (20.5, ["DK", "worsted"]),
        (20.7, ["DK"]),
        (26.416, ["sport"]),  # 26 to 10 cm
        (26.5, ["fingering", "sport"]),
        (15.24, ["bulky"]),  # 15 to 10 cm
        (11.5, ["bulky", "super bulky"]),
        (6.5, ["jumbo", "super bulky"]),
        (45, ["lace"]),
    ],
)
def test_gauge_in_a_gap(stitches: float, labels: list[str]) -> None:
    found = by_gauge(stitches)
    assert sorted(_labels(found)) == sorted(labels)
    assert all(not candidate.inside and "outside every range" in candidate.reason for candidate in found)


# Spin-Off's table and the Council's (from memory): a class in both first, then the nearest middle, by hand.
@pytest.mark.parametrize(
    ("wraps", "labels"),
    [
        (10, ["worsted"]),
        (12, ["DK", "worsted", "sport"]),
        (14, ["sport", "DK", "fingering"]),
        (8, ["bulky"]),
        (3, ["jumbo", "super bulky"]),
        (17, ["fingering", "sport"]),
        (18, ["fingering", "lace", "sport"]),  # in both tables, then 18 and more, then 12–18
        (40, ["lace"]),
    ],
)
def test_by_wraps(wraps: float, labels: list[str]) -> None:
    assert _labels(by_wpi(wraps)) == labels


# Spin-Off's table and the encyclopaedia's, in m/100 g, ordered by hand in the same way.
@pytest.mark.parametrize(
    ("grist", "labels"),
    [
        (420, ["fingering"]),
        (400, ["fingering", "sport"]),
        (225, ["DK", "worsted"]),
        (200, ["DK", "worsted"]),
        (150, ["worsted"]),
        (110, ["bulky"]),
        (50, ["super bulky"]),
        (700, ["lace"]),
    ],
)
def test_by_grist(grist: float, labels: list[str]) -> None:
    assert _labels(by_grist(grist)) == labels


# Craft Yarn Council. 4.5 mm is a limit of two classes; their middles are 4.125 and 5.
@pytest.mark.parametrize(
    ("mm", "labels"),
    [
        (6, ["bulky"]),
        (4, ["DK"]),
        (4.5, ["DK", "worsted"]),
        (5, ["worsted"]),
        (2, ["lace"]),
        (20, ["jumbo"]),
        (1, ["lace"]),
    ],
)
def test_by_needle(mm: float, labels: list[str]) -> None:
    assert _labels(by_needle(mm)) == labels


def test_reason_names_the_range_and_its_source() -> None:
    assert by_gauge(18)[0].reason == "worsted is 16–20 sts to 4 in (Craft Yarn Council)"
    assert "Spin-Off" in by_wpi(10)[0].reason
    assert "from memory" in by_wpi(10)[0].reason


ALL = [by_gauge, by_wpi, by_grist, by_needle]


@pytest.mark.parametrize("identify", ALL)
@given(value=st.floats(0.01, 5000))
def test_always_a_class_and_none_twice(identify: Callable[[float], list[Candidate]], value: float) -> None:
    labels = _labels(identify(value))
    assert labels
    assert len(set(labels)) == len(labels)


@given(st.floats(1, 60), st.floats(1, 60))
def test_a_finer_gauge_is_never_a_heavier_class(a: float, b: float) -> None:
    coarse, fine = sorted((a, b))
    heaviest = max(candidate.weight_class.number for candidate in by_gauge(fine))
    assert heaviest <= max(candidate.weight_class.number for candidate in by_gauge(coarse))


@pytest.mark.parametrize("found", classes(), ids=lambda found: found.key)
def test_the_middle_of_a_class_is_that_class(found: object) -> None:
    [row] = [row for row in classes() if row == found]
    assert _labels(by_gauge(row.mid_gauge))[0] == row.label


@pytest.mark.parametrize("identify", ALL)
@pytest.mark.parametrize("value", [0, -3, float("nan")])
def test_value_must_be_above_zero(identify: Callable[[float], list[Candidate]], value: float) -> None:
    with pytest.raises(ValueError, match="above zero"):
        identify(value)
