"""Convert: lengths, masses, needles, a gauge over another length, stitches for a width, and yarn numbers."""

from __future__ import annotations

import re

from yarnchat.abilities.base import EVERYTHING, Ability, Context, Draft, Frame, Talk
from yarnchat.abilities.clues import whole_question
from yarnchat.abilities.sanity import gauge as sane_gauge
from yarnchat.abilities.sanity import positive
from yarnchat.answers import Amount, Figure
from yarnchat.fabric import grist
from yarnchat.knowledge import needles
from yarnchat.knowledge.conversions import systems
from yarnchat.quantity import IMPERIAL, LENGTHS, MASSES, Quantity, factor, is_length, number, to_figures
from yarnchat.queries import Gauge, Measured, Needle, PutUp, Query
from yarnchat.refusals import unclear

TWINS = {"yd": "m", "m": "yd", "ft": "m", "km": "yd", "in": "cm", "cm": "in", "mm": "in"}
TWINS |= {"g": "oz", "oz": "g", "lb": "kg", "kg": "lb"}
"""The other unit of the trade, where nobody said which is wanted."""

COUNT_TWIN = {"m/100 g": "yd/100 g"}
"""Likewise for yarn numbers; every other system goes to m/100 g."""

NEEDLE_SYSTEMS = ("mm", "us", "uk")
TRADE = {"in": Quantity(4, "in"), "cm": Quantity(10, "cm")}
"""The lengths a gauge is counted on in the trade."""

PER_UNIT = {"in": Quantity(1, "in"), "cm": Quantity(10, "cm")}
"""What a gauge is given over where only a unit was asked for: so many to an inch, or to 10 cm."""

EXACT = "1 yd = 0.9144 m and 1 in = 2.54 cm exactly (1959 agreement)"
EXACT_MASS = "1 oz = 28.349523125 g exactly (NIST SP 811)"
TEX = "1 tex is 1 g a km, ASTM D2260"


def answer(query: Query, _context: Context) -> Draft:
    """Whatever was measured, in the unit asked for or in the trade's other unit."""
    measured = query.measured or Measured()
    needle = measured.needle or _needle_beside(query, measured)
    if needle and measured.needle and measured.amount and measured.amount.unit != "mm":
        raise unclear(f"The {needle} or {measured.amount}? Ask for one at a time, for example: US 8 in mm.")
    if needle:
        return _needle(needle, measured.into)
    gauge = measured.gauge or _gauge_beside(query)
    if gauge and (measured.amount or measured.count):
        return _across(gauge, measured)
    if measured.amount and measured.amount.unit == measured.into:
        raise unclear(
            f"{measured.amount} is in {measured.into} already. In which other unit? Type for example: 250 yd in m."
        )
    if measured.amount:
        return _amount(measured.amount, measured.into)
    count = measured.count or _count_of(_put_up_beside(query))
    if count:
        return _count(count, measured.into)
    if gauge:
        return _gauge(gauge, measured.into)
    raise unclear("What should be converted? Type for example: 250 yd in m, or US 8 in mm.")


def _needle_beside(query: Query, measured: Measured) -> Needle | None:
    """A needle said as a yarn's, or as a length in mm that is a needle's or has a needle system asked for."""
    if measured.amount and is_length(measured.amount.unit):
        millimetres = measured.amount.to("mm").value
        sold = measured.into is None and measured.amount.unit == "mm" and needles.by_mm(millimetres)
        if sold or measured.into in ("us", "uk"):
            return Needle(f"{millimetres:g}", "mm")
    if measured.amount or measured.count or measured.gauge:
        return None
    if measured.into in (None, *NEEDLE_SYSTEMS):
        return next((yarn.needle for yarn in (*query.yarns, query.pattern) if yarn.needle), None)
    return None


def _gauge_beside(query: Query) -> Gauge | None:
    return next((yarn.gauge for yarn in (*query.yarns, query.pattern) if yarn.gauge), None)


def _put_up_beside(query: Query) -> PutUp | None:
    return next((yarn.put_up for yarn in (*query.yarns, query.pattern) if yarn.put_up), None)


def _count_of(put_up: PutUp | None) -> tuple[float, str] | None:
    """A label's length per 100 g, in the label's own length."""
    if not put_up or not put_up.length or not put_up.mass:
        return None
    positive(put_up.length.value, put_up.length.unit)
    positive(put_up.mass.value, put_up.mass.unit)
    unit = "yd" if put_up.length.unit in ("yd", "ft", "in") else "m"
    return put_up.length.to(unit).value * 100 / put_up.mass.to("g").value, f"{unit}/100 g"


def _plain(value: float, unit: str, was: str, working: list[str]) -> Draft:
    said = f"{number(value)} {unit}"
    return Draft(f"{was} is {said}.", {"value": value, "unit": unit}, working=working)


def _amount(amount: Quantity, into: str | None) -> Draft:
    unit = into or TWINS[amount.unit]
    if unit not in (*LENGTHS, *MASSES):
        raise unclear(f"{amount} cannot be put in {unit}. Type for example: {amount} in {TWINS[amount.unit]}.")
    if is_length(unit) != is_length(amount.unit):
        raise unclear(
            f"{amount} in {unit} depends on the yarn: its length and mass are missing. "
            f"Type for example: {amount} of a 200 m/100 g yarn in {unit}."
        )
    positive(amount.value, amount.unit)
    rate = factor(amount.unit, unit)
    source = EXACT if is_length(unit) else EXACT_MASS
    step = f"{amount} × {to_figures(rate, 7)} = {to_figures(amount.value * rate, 7)} {unit} ({source})"
    return _plain(amount.value * rate, unit, str(amount), [step])


def _count(count: tuple[float, str], into: str | None) -> Draft:
    value, system = count
    wanted = into or COUNT_TWIN.get(system, "m/100 g")
    positive(value, system)
    said = f"{number(value)} {system}"
    if _key(system) not in systems() or _key(wanted) not in systems():
        raise unclear(f"{said} cannot be put in {wanted}. Type for example: 30 tex in Nm, or 420 yd/100 g in tex.")
    tex = grist.to_tex(value, _key(system))
    result = grist.from_tex(tex, _key(wanted))
    through = f" = {number(tex)} tex" if "tex" not in (system, wanted) else ""
    return _plain(result, wanted, said, [f"{said}{through} = {number(result)} {wanted} ({TEX})"])


def _key(system: str) -> str:
    """The key of a yarn-number system: "worsted count" is said of the system worsted."""
    return system.removesuffix(" count")


def _length_asked(into: str | None, said: Quantity) -> Quantity:
    """The length a gauge is wanted over: as asked, else the trade's other one."""
    if into is None:
        return TRADE["cm" if said.unit in IMPERIAL else "in"]
    found = re.fullmatch(r"([0-9]+(?:\.[0-9]+)?)? *(in|cm|mm|m|yd|ft)", into)
    if not found:
        raise unclear(f"A gauge over {into}? Type for example: 22 sts to 4 in over 10 cm.")
    if found[1]:
        return Quantity(float(found[1]), found[2])
    return PER_UNIT.get(found[2], Quantity(1, found[2]))


def _gauge(gauge: Gauge, into: str | None) -> Draft:
    """A gauge over another length: 5.5 sts to the inch is 22 to 4 in."""
    sane_gauge(gauge)
    over = _length_asked(into, gauge.over)
    rate = over.to(gauge.over.unit).value / gauge.over.value
    stitches = gauge.stitches * rate
    draft = _plain(stitches, f"sts to {over}", str(gauge), [])
    draft.working.append(
        f"{number(gauge.stitches)} sts × {over} / {gauge.over} = {to_figures(stitches, 4)} sts ({EXACT})"
    )
    if gauge.rows:
        rows = gauge.rows * rate
        draft.figures["rows"] = rows
        draft.headline = f"{gauge} is {number(stitches)} sts and {number(rows)} rows to {over}."
        draft.working.append(f"{number(gauge.rows)} rows × {over} / {gauge.over} = {to_figures(rows, 4)} rows")
    if {over, gauge.over} == set(TRADE.values()):
        draft.cautions.append("4 in is 10.16 cm: a label that gives one gauge for both is out by 1.6 %.")
    return draft


def _across(gauge: Gauge, measured: Measured) -> Draft:
    """Stitches (and rows) for a width, or the width of so many stitches."""
    sane_gauge(gauge)
    if measured.count:
        return _width(gauge, *measured.count, measured.into)
    width = measured.amount
    assert width is not None
    if not is_length(width.unit):
        raise unclear(f"Stitches for {width}? Give a width. Type for example: 22 sts to 10 cm over 40 cm.")
    positive(width.value, width.unit)
    share = width.to(gauge.over.unit).value / gauge.over.value
    stitches = gauge.stitches * share
    step = f"{number(gauge.stitches)} sts × {width} / {gauge.over} = {to_figures(stitches, 4)} sts"
    draft = _plain(stitches, "sts", f"{width} at {gauge}", [step])
    draft.cautions.append("Add the edge stitches and fit the count to the pattern's repeat.")
    return draft


def _width(gauge: Gauge, count: float, system: str, into: str | None) -> Draft:
    """How wide so many stitches are, or how long so many rows, in the unit of the gauge or the length asked for."""
    per = {"sts": gauge.stitches, "rows": gauge.rows}.get(system)
    if not per:
        raise unclear(f"How wide is {number(count)} {system}? Type for example: 88 sts at 22 sts to 10 cm.")
    positive(count, system)
    across = Quantity(count / per * gauge.over.value, gauge.over.unit)
    width = across.to(into) if into in LENGTHS else across
    made = f"{to_figures(across.value, 4)} {across.unit}"
    step = f"{number(count)} {system} / {number(per)} {system} × {gauge.over} = {made}"
    draft = _plain(width.value, width.unit, f"{number(count)} {system} at {gauge}", [step])
    if width != across:
        draft.working.append(f"{across} = {width} ({EXACT})")
    return draft


def _needle(needle: Needle, into: str | None) -> Draft:
    """The same needle in mm, US and old UK sizes, and what published tables disagree about."""
    if not needle.system:
        raise unclear(_which_system(needle.size))
    first, *others = _rows(needle)
    sizes = _sizes(first)
    figures: dict[str, Figure] = {"mm": Amount(value=first.mm, unit="mm")}
    figures |= {system: size for system, size in (("us", first.us), ("uk", first.uk)) if size}
    named = [size for system, size in sizes.items() if system != needle.system]
    headline = f"{_name(needle)} is {', '.join(named)}." if named else f"{_name(needle)} is in no other table."
    if into in NEEDLE_SYSTEMS and into not in sizes:
        headline = f"{_name(needle)} has no {into.upper()} number; it is {', '.join(sizes.values())}."
    draft = Draft(headline, figures, working=[f"{' = '.join(sizes.values())} ({first.source})"])
    if first.disputed:
        rivals = f": also {'; '.join(' = '.join(_sizes(row).values()) for row in others)}" if others else ""
        draft.cautions.append(f"{first.disputed[0].upper()}{first.disputed[1:]}{rivals}.")
    if "uk" in (needle.system, into):
        draft.cautions.append(needles.old_numbers())
    return draft


def _name(needle: Needle) -> str:
    return {"mm": f"{needle.size} mm", "us": f"US {needle.size}", "uk": f"old UK {needle.size}"}[needle.system]


def _sizes(row: needles.Needle) -> dict[str, str]:
    """A table row in words, by system."""
    said = {"mm": f"{row.mm:g} mm"}
    if row.us:
        said["us"] = f"US {row.us}"
    if row.uk:
        said["uk"] = f"old UK {row.uk}"
    return said


def _rows(needle: Needle) -> list[needles.Needle]:
    """The table rows of a needle, the first the one most tables have; a Refusal where no table has it."""
    if needle.system == "mm":
        millimetres = float(needle.size)
        positive(millimetres, "mm")
        rows = needles.by_mm(millimetres)
    else:
        rows = needles.by_us(needle.size) if needle.system == "us" else needles.by_uk(needle.size)
    if rows:
        return list(rows)
    raise unclear(f"No needle table has {_name(needle)}{_nearest(needle)}. Type for example: US 8 in mm.")


def _nearest(needle: Needle) -> str:
    """The neighbours of a size in mm that no table has."""
    if needle.system != "mm":
        return ""
    nearest = sorted(needles.needles(), key=lambda row: abs(row.mm - float(needle.size)))[:2]
    return "; the nearest are " + " and ".join(" = ".join(_sizes(row).values()) for row in nearest)


def _which_system(size: str) -> str:
    readings = [(f"US {size}", needles.by_us(size)), (f"old UK {size}", needles.by_uk(size))]
    known = [f"{name} is {rows[0].mm:g} mm" for name, rows in readings if rows]
    meanings = f": {', '.join(known)}" if known else ""
    return f"Is size {size} a US or an old UK needle{meanings}? Type for example: US {size} in mm."


ABILITY = Ability(
    name="convert",
    summary="Turn lengths, masses, needle sizes, gauges and yarn numbers into other units.",
    examples=(
        "250 yd in m",
        "old UK 8 in mm",
        "22 sts to 4 in over 10 cm",
        "how many stitches is 40 cm at 22 sts to 10 cm",
        "30 tex in Nm",
    ),
    frames=(
        Frame(42, slots=("measured",), without=("need", "yarn.put_up", "pattern.put_up", "yarn.wpi", "pattern.wpi")),
        Frame(30, slots=("measured",)),
        Frame(30, slots=("yarn.needle|pattern.needle|yarn.gauge|pattern.gauge",), cues=("convert",)),
        Frame(30, slots=("yarn.put_up|pattern.put_up",), cues=("convert",), without=("need", "stash")),
    ),
    uses=frozenset({"measured", "yarn", "pattern"}),
    answer=answer,
    talk=Talk(
        alone=whole_question,
        carries="ask.convert",
        of_one_yarn=True,
        heeds=EVERYTHING - {"doubt"},
        in_passing=True,
    ),
)
