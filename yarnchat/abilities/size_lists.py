"""Whether the sizes of a line agree: lists as long as each other, rising, and a measure told in two units."""

from __future__ import annotations

import re
from itertools import pairwise

from yarnchat.abilities.agreement import LABEL_ROUNDS, Report, percent
from yarnchat.quantity import Quantity, number
from yarnchat.queries import Colour, Gauge, Twice

HALF_INCH = Quantity(0.5, "in")
"""Measures of a garment are printed to the half inch or the whole centimetre (common practice, no source)."""
_LETTERS = re.compile(r"(?:(?P<times>[1-9])(?=x)|(?P<more>x+)(?=[sl]))?x?(?P<end>[sml]|(?<=[1-9]x))", re.IGNORECASE)
"""A size in letters: S, XL, 2XL, 3X."""
_NUMBER = re.compile(r"[0-9]+(?:\.[0-9]+)?")


def lists(colours: tuple[Colour, ...], sizes: tuple[str, ...], chests: int, report: Report) -> bool:
    """Whether every list counts as many sizes as every other; an error finding where not."""
    counted = [(str(series), len(series.values)) for colour in colours for series in colour.amounts]
    counted += [(f"sizes {', '.join(sizes)}", len(sizes)), ("the chests", chests)]
    several = [(what, count) for what, count in counted if count > 1]
    if len(several) < 2:
        return True
    report.compared.append("how many sizes each list has")
    if len({count for _, count in several}) == 1:
        return True
    said = "; ".join(f"{what}: {count}" for what, count in several)
    report.found("error", f"The lists do not have the same number of sizes: {said}.")
    return False


def rising(what: str, values: tuple[float, ...], unit: str, sizes: tuple[str, ...], report: Report) -> None:
    """A larger size that needs less than the one before it."""
    if len(values) < 2:
        return
    report.compared.append("each size against the size before")
    names = sizes if len(sizes) == len(values) else tuple(f"size {place}" for place in range(1, len(values) + 1))
    for (before, less), (after, more) in pairwise(zip(names, values, strict=True)):
        if more < less:
            report.found(
                "doubt",
                f"{what}{after} has {number(more)} {unit} but {before}, the smaller, {number(less)} {unit}.",
            )


def names_rise(sizes: tuple[str, ...], report: Report) -> None:
    """Sizes that are numbers, or letters, stand in order."""
    found = [None if _LETTERS.fullmatch(size) else _NUMBER.match(size) for size in sizes]
    values = [float(match.group()) for match in found if match]
    if not any(found):
        values = [place for size in sizes if (place := _place_of_letters(size)) is not None]
    if len(sizes) < 2 or len(values) < len(sizes):
        return
    report.compared.append("the sizes against their order")
    for (before, less), (after, more) in pairwise(zip(sizes, values, strict=True)):
        if more < less:
            report.found("doubt", f"Size {after} stands after {before}: sizes rise.")


def _place_of_letters(size: str) -> float | None:
    """Where a size in letters stands among them, M in the middle: S is −1, XL and 1X are 2; None of other names."""
    found = _LETTERS.fullmatch(size)
    if found is None:
        return None
    more = int(found["times"]) if found["times"] else len(found["more"] or "")
    return {"m": 0.0, "s": -1.0 - more}.get(found["end"].lower(), 1.0 + more)


def measures(twice: Twice, report: Report) -> None:
    """A measure, or a list of them, in centimetres against the same in inches."""
    for one, other in twice.measures:
        report.compared.append("centimetres against inches")
        if len(one.values) != len(other.values):
            report.found(
                "error",
                f"The lists do not have the same number of sizes: {one}: {len(one.values)}; "
                f"{other}: {len(other.values)}.",
            )
            continue
        for first, second in zip(one.quantities(), other.quantities(), strict=True):
            _measure(first, second, report)


def _measure(first: Quantity, second: Quantity, report: Report) -> None:
    expected = first.to(second.unit)
    apart = abs(expected.value - second.value)
    share = apart / second.value if second.value > 0 else 1.0
    if share <= LABEL_ROUNDS or apart <= HALF_INCH.to(second.unit).value:
        return
    report.found(
        "error",
        f"{first} / {second}: {first} is {expected}, not {second} "
        f"({percent(share)} apart; half an inch or {percent(LABEL_ROUNDS)} passes).",
    )


def cast_on(twice: Twice, gauge: Gauge | None, report: Report) -> None:
    """Stitches cast on against the width they are said to make; a note of the width where none is said."""
    if twice.cast_on is None or gauge is None:
        return
    made = Quantity(twice.cast_on / gauge.stitches * gauge.over.value, gauge.over.unit)
    said = f"{number(twice.cast_on)} sts at {number(gauge.stitches)} sts to {gauge.over} are {made} wide"
    if twice.width is None:
        report.remarks.append(f"{said}.")
        report.missed.append("stitches cast on against the width (no width)")
        return
    report.compared.append("stitches cast on against the width")
    wide = made.to(twice.width.unit)
    if abs(wide.value - twice.width.value) > HALF_INCH.to(twice.width.unit).value:
        in_its_unit = "" if wide.unit == made.unit else f" ({wide})"
        report.found("doubt", f"{said}{in_its_unit}, not {twice.width} (half an inch passes).")
