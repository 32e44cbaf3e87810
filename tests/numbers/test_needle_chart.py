"""The needle chart against published ones, and both readings where they differ."""

import pytest

from yarnchat.knowledge.needles import by_mm, by_uk, by_us, needles, old_numbers

# Two published charts, agreeing: mm, US, old UK.
AGREED = [
    (2.0, "0", "14"),
    (2.25, "1", "13"),
    (2.75, "2", "12"),
    (3.25, "3", "10"),
    (3.5, "4", None),
    (3.75, "5", "9"),
    (4.0, "6", "8"),
    (4.5, "7", "7"),
    (5.0, "8", "6"),
    (5.5, "9", "5"),
    (6.0, "10", "4"),
    (6.5, "10.5", "3"),
    (7.0, None, "2"),
    (7.5, None, "1"),
    (8.0, "11", "0"),
    (9.0, "13", "00"),
    (10.0, "15", "000"),
]


@pytest.mark.parametrize(("mm", "us", "uk"), AGREED)
def test_agreed_row(mm: float, us: str | None, uk: str | None) -> None:
    [row] = by_mm(mm)
    assert (row.mm, row.us, row.uk, row.disputed) == (mm, us, uk, None)
    if us:
        assert by_us(us) == [row]
    if uk:
        assert by_uk(uk) == [row]


# Published charts that differ: (US, diameters); the Council's own table has US 17 as 12.75 mm (from memory).
@pytest.mark.parametrize(
    ("us", "diameters"),
    [("17", [12.75, 12]), ("19", [15, 16]), ("35", [19, 20]), ("36", [19, 20]), ("50", [25])],
)
def test_disputed_size_gives_every_reading(us: str, diameters: list[float]) -> None:
    rows = by_us(us)
    assert [row.mm for row in rows] == diameters
    assert all(row.disputed for row in rows)


@pytest.mark.parametrize(("mm", "us"), [(2.5, ["1.5"]), (3.0, ["2.5"]), (19, ["35", "36"]), (25, ["50"])])
def test_disputed_diameter_says_so(mm: float, us: list[str]) -> None:
    rows = by_mm(mm)
    assert [row.us for row in rows] == us
    assert all("charts differ" in (row.disputed or "") for row in rows)


def test_zeros_are_three_needles() -> None:
    # Craft Yarn Council: class 0 starts at 1.5 mm, US 000. US 00 from memory. UK zeros: two charts, agreeing.
    assert [by_us(size)[0].mm for size in ("0", "00", "000")] == [2.0, 1.75, 1.5]
    assert [by_uk(size)[0].mm for size in ("0", "00", "000")] == [8, 9, 10]


@pytest.mark.parametrize("size", ["10.5", "10½", "10 1/2", " 10.5 "])
def test_half_sizes_as_written(size: str) -> None:
    assert [row.mm for row in by_us(size)] == [6.5]


def test_what_is_not_sold_is_not_found() -> None:
    assert by_us("4.5") == []
    assert by_uk("20") == []
    assert by_mm(4.3) == []


def test_every_row_names_its_source() -> None:
    assert all(row.source for row in needles())


def test_old_patterns_are_warned_about() -> None:
    # A 1918 pattern: English 8 was US 5.
    assert "1945" in old_numbers()
    assert by_uk("8") != by_us("5")
