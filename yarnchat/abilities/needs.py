"""What the pattern needs: a length for each colour and size, with its range, in the pattern's own unit."""

from __future__ import annotations

from collections.abc import Container, Sequence
from dataclasses import dataclass, replace
from math import isclose

from yarnchat.abilities import sanity
from yarnchat.answers import Amount
from yarnchat.fabric.identify import by_grist
from yarnchat.knowledge.classes import weight_class
from yarnchat.quantity import MASSES, Quantity, factor, is_length, number
from yarnchat.queries import Colour, PutUp, Query, Series, Yarn, picks, size_list
from yarnchat.refusals import refused, unclear

AGREE = 0.03
"""Two amounts for one colour may differ by this share before the question is unclear (common practice, no source)."""
MOST_EXTRA = 200.0
"""More percent than this on top of a pattern's amount is taken for a slip (common practice, no source)."""
LONGEST_SKEIN_M = 800.0
"""A skein of a usual yarn is no longer than this, in m (common practice, no source)."""
ROUNDED_UP = ", at most: the pattern had rounded up"


@dataclass(frozen=True, slots=True)
class Estimate:
    """A value with its range, all in one unit."""

    value: float
    low: float
    high: float

    def times(self, value: float, low: float | None = None, high: float | None = None) -> Estimate:
        """Multiplied by a factor, and its ends by the ends of that factor's range."""
        least = value if low is None else low
        most = value if high is None else high
        return Estimate(self.value * value, self.low * least, self.high * most)

    def plus(self, other: Estimate) -> Estimate:
        """The sum, its ends those of both."""
        return Estimate(self.value + other.value, self.low + other.low, self.high + other.high)

    @property
    def exact(self) -> bool:
        """Whether there is no range."""
        return isclose(self.low, self.high, rel_tol=1e-9)

    def figure(self, unit: str) -> Amount:
        """As a figure; the range is left out where there is none."""
        if self.exact:
            return Amount(value=self.value, unit=unit)
        return Amount(value=self.value, unit=unit, low=self.low, high=self.high)

    def said(self, unit: str) -> str:
        """In words: ``about 1,967 yd, range 1,520–2,414 yd``."""
        if self.exact:
            return f"{number(self.value)} {unit}"
        return f"about {number(self.value)} {unit}, range {number(self.low)}–{number(self.high)} {unit}"


def exactly(value: float) -> Estimate:
    """A value that is no estimate."""
    return Estimate(value, value, value)


@dataclass(frozen=True, slots=True)
class Need:
    """What one colour needs, one estimate a size."""

    name: str
    sizes: tuple[Estimate, ...]


@dataclass(frozen=True, slots=True)
class Needs:
    """What a pattern needs, every colour with the same sizes; ``sizes`` is empty where there is one only."""

    unit: str
    sizes: tuple[str, ...]
    colours: tuple[Need, ...]
    working: tuple[str, ...] = ()

    @property
    def single(self) -> Estimate | None:
        """The one need where there is one colour and one size."""
        return self.colours[0].sizes[0] if len(self.colours) == 1 and not self.sizes else None


def needs(query: Query) -> Needs:
    """Lengths of the pattern's own yarn, all strands together; a Refusal where they cannot be known."""
    colours = _asked_for(query)
    if not colours:
        raise unclear("How much does the pattern take? Type for example: the pattern takes 1200 yd of worsted.")
    label = query.pattern.put_up
    unit = _unit(colours, query.pattern)
    names, picked = _sizes(query, colours)
    read = [_lengths(colour, query.pattern, unit) for colour in colours]
    count = max(len(row.values) for row in read)
    if picked is not None:
        read = [row.picked(picked) for row in read]
    count = count if picked is None else len(picked)
    found = [Need(row.name, row.spread(count)) for row in read]
    working = [f"size {at + 1} of {len(names)}: {names[at]}" for at in picked or () if query.sizes]
    working += _steps(read, label, unit)
    if query.extra is not None:
        found, step = _with_extra(found, query.extra)
        working.append(step)
    for need in found:
        for size in need.sizes:
            sanity.total(Quantity(size.value, unit))
    return Needs(unit, _several(names, picked, count), _named(found), tuple(working))


def _several(names: tuple[str, ...], picked: tuple[int, ...] | None, count: int) -> tuple[str, ...]:
    """The names of the sizes asked for; none where that is one."""
    asked = names if picked is None else tuple(names[place] for place in picked)
    return asked if count > 1 else ()


def _asked_for(query: Query) -> list[Colour]:
    """The colours that have an amount, or the one of them that is asked for."""
    return [colour for colour in query.colours if colour.amounts and query.only in (None, colour.name)]


def masses(query: Query) -> Needs | None:
    """Masses as the pattern gives them, where every amount is a mass; else None."""
    return _as_told(query, MASSES)


def counts(query: Query) -> Needs | None:
    """Skeins as the pattern counts them, where every amount is a number of them; else None."""
    found = _as_told(query, ("skein",))
    if found is None:
        return None
    read = tuple(Need(need.name, tuple(_skeins(size.value, 1) for size in need.sizes)) for need in found.colours)
    return replace(found, colours=read)


def _as_told(query: Query, units: Container[str]) -> Needs | None:
    """The amounts as the pattern gives them, where every one of them is told in one of these units; else None."""
    colours = _asked_for(query)
    series = [colour.amounts[0] for colour in colours]
    if not colours or any(len(colour.amounts) > 1 for colour in colours):
        return None
    if any(row.unit not in units for row in series):
        return None
    names, picked = _sizes(query, colours)
    unit = series[0].unit
    count = max(len(row.values) for row in series)
    found: list[Need] = []
    for colour, row in zip(colours, series, strict=True):
        scale = 1.0 if row.unit == unit else factor(row.unit, unit)
        values = tuple(exactly(value * scale) for value in row.values)
        every = values * count if len(values) == 1 else values
        found.append(Need(colour.name, every if picked is None else tuple(every[place] for place in picked)))
    working: list[str] = []
    if query.extra is not None:
        found, step = _with_extra(found, query.extra)
        working.append(step)
    return Needs(unit, _several(names, picked, len(found[0].sizes)), _named(found), tuple(working))


def _with_extra(found: list[Need], percent: float) -> tuple[list[Need], str]:
    """Every need with so many percent added, and the step in words; a Refusal where that cannot be meant."""
    if not 0 <= percent <= MOST_EXTRA:
        raise refused(f"{number(percent)} % more cannot be meant: up to {MOST_EXTRA:g} % is added.")
    grown = [replace(need, sizes=tuple(size.times(1 + percent / 100) for size in need.sizes)) for need in found]
    return grown, f"{number(percent)} % more, as you say: × {1 + percent / 100:g}"


def _named(found: Sequence[Need]) -> tuple[Need, ...]:
    """Every colour with a name where there are several."""
    if len(found) == 1:
        return tuple(found)
    return tuple(Need(need.name or f"colour {place}", need.sizes) for place, need in enumerate(found, 1))


def _unit(colours: Sequence[Colour], pattern: Yarn) -> str:
    """The unit of the pattern's length: as said, else its put-up's first."""
    said = [series.unit for colour in colours for series in colour.amounts if series.unit != "skein"]
    lengths = [unit for unit in said if is_length(unit)]
    if lengths:
        return lengths[0]
    if pattern.put_up and pattern.put_up.length and (not said or pattern.put_up.mass):
        return pattern.put_up.length.unit
    whose = f"of {pattern.name}" if pattern.name else "of the pattern's yarn"
    if said:
        raise unclear(
            f"How long is so much {whose}? Its put-up is missing. Type for example: its yarn is 50 g/120 m.",
            missing="pattern.put_up",
        )
    raise unclear(
        f"How much is on one skein {whose}? Its put-up is missing. "
        "Type for example: its yarn is 50 g/120 m, or: 210 yd a skein.",
        missing="pattern.put_up",
    )


def _sizes(query: Query, colours: Sequence[Colour]) -> tuple[tuple[str, ...], tuple[int, ...] | None]:
    """Names of the sizes and the places of those picked; a Refusal where the lists do not match."""
    counts = {len(series.values) for colour in colours for series in colour.amounts} - {1}
    if len(counts) > 1:
        lists = " and ".join(str(series) for colour in colours for series in colour.amounts if len(series.values) > 1)
        raise unclear(f"The lists have different numbers of sizes: {lists}. Which size is which?")
    count = counts.pop() if counts else 1
    names = query.sizes
    if names and len(names) != count:
        if count > 1 or (query.pick is None and len(names) > 1):
            raise unclear(
                f"{len(names)} sizes ({', '.join(names)}) but {count} amount{'s' if count > 1 else ''}: "
                "which amount is for which size?"
            )
        names = ()
    if not names:
        names = tuple(f"size {place}" for place in range(1, count + 1))
    if query.pick is None or count == 1:
        return names, None
    return names, tuple(place_of(pick, query.sizes, count) for pick in picks(query.pick))


def place_of(pick: str, sizes: Sequence[str], count: int) -> int:
    """The place, from 0, of a size picked by its name, by its number from 1, or as first, middle or last."""
    wanted = pick.casefold().strip()
    names = [name.casefold().strip() for name in sizes]
    place = wanted[:-2] if wanted[-2:] in ("st", "nd", "rd", "th") else ""
    if place.isascii() and place.isdigit():
        wanted, names = place, []  # the 4th size, of 2 (4, 6, 8)
    if wanted in names:
        return names.index(wanted)
    if [_lettered(name) for name in names].count(_lettered(wanted)) == 1:
        return [_lettered(name) for name in names].index(_lettered(wanted))
    words = {"first": 0, "smallest": 0, "last": count - 1, "largest": count - 1, "biggest": count - 1}
    if count % 2:
        words["middle"] = count // 2
    if wanted in words:
        return words[wanted]
    if wanted.isascii() and wanted.isdigit() and 1 <= int(wanted) <= count:
        return int(wanted) - 1
    choice = f"The sizes are {', '.join(sizes)}" if sizes else f"There are {count} sizes"
    raise unclear(f"Which size is {pick}? {choice}. Type for example: size {count} only.", pick)


def _lettered(size: str) -> str:
    """A size told in words by its letters: ``extra large`` is ``xl``."""
    *more, word = size.split() or [""]
    if word not in ("small", "medium", "large"):
        return size
    return "x" * more.count("extra") + word[0]


@dataclass(frozen=True, slots=True)
class _Read:
    """One colour's lengths, the amount they were read from, and an amount that could not be used."""

    name: str
    series: Series
    values: tuple[Estimate, ...]
    left_out: Series | None = None

    def spread(self, count: int) -> tuple[Estimate, ...]:
        """One value a size, the same for all where one was said."""
        return self.values * count if len(self.values) == 1 else self.values

    def picked(self, places: Sequence[int]) -> _Read:
        """The sizes at those places."""
        if len(self.values) == 1:
            return self
        series = Series(tuple(self.series.values[place] for place in places), self.series.unit)
        return _Read(self.name, series, tuple(self.values[place] for place in places), self.left_out)


def _lengths(colour: Colour, yarn: Yarn, unit: str) -> _Read:
    """One colour's lengths: as said, else by mass, else by skeins; a second amount must agree."""
    label = yarn.put_up
    by_trust = sorted(colour.amounts, key=_trust)
    read = [(series, _series(series, label, unit)) for series in by_trust]
    known = [(series, values) for series, values in read if values]
    unknown = [series for series, values in read if not values]
    if not known:
        of = f" of {colour.name}" if colour.name else ""
        raise unclear(
            f"What length is {_count(by_trust[0])}{of}? The put-up of the pattern's yarn is missing. "
            "Type for example: its yarn is 50 g/120 m."
        )
    first, values = known[0]
    for series in unknown:
        _ask_if_it_tells(series, first, values, unit, yarn)
    for other, others in known[1:]:
        _agree(first, values, other, others, unit)
    return _Read(colour.name, first, values, unknown[0] if unknown else None)


def _ask_if_it_tells(series: Series, first: Series, values: tuple[Estimate, ...], unit: str, yarn: Yarn) -> None:
    """A Refusal where an amount without a put-up may make the length beside it mean something else."""
    metres = [size.value * factor(unit, "m") for size in values]
    if series.unit == "skein":
        if len(series.values) == len(metres) and min(metres) > LONGEST_SKEIN_M:
            return
        raise unclear(
            f"Is {first} the length of one skein, or of all {_count(series)}? "
            f"Type for example: {_count(series)} of 200 {unit} each."
        )
    if not _makes_the_class(metres, [value * factor(series.unit, "g") for value in series.values], yarn):
        raise unclear(f"What are the {series} beside {first}? Leave one out, or give the yarn's put-up.")


def _makes_the_class(metres: Sequence[float], grams: Sequence[float], yarn: Yarn) -> bool:
    """Whether lengths and masses together are a yarn of about the class that was said."""
    if yarn.weight_class is None or len(metres) != len(grams):
        return False
    said = weight_class(yarn.weight_class).number
    likely = [by_grist(length * 100 / mass)[0].weight_class for length, mass in zip(metres, grams, strict=True)]
    return all(abs(row.number - said) <= 1 for row in likely)


def _trust(series: Series) -> int:
    """Lengths first, then masses, then skeins."""
    if series.unit == "skein":
        return 2
    return 0 if is_length(series.unit) else 1


def _steps(read: Sequence[_Read], label: PutUp | None, unit: str) -> list[str]:
    """How amounts became lengths: one line for all colours, none where the pattern gives lengths."""
    parts: list[str] = []
    for row in read:
        name = f"{row.name} " if row.name else ""
        if row.series.unit == "skein":
            parts.append(f"{name}{_count(row.series)} × {label and label.length} = {_listed(row.values, unit)}")
        elif not is_length(row.series.unit):
            parts.append(f"{name}{row.series} × {label} = {_listed(row.values, unit)}")
        elif row.left_out:
            parts.append(f"{name}{row.series} counts, not {_count(row.left_out)}: its put-up was not said")
    if not parts:
        return []
    rounded_up = any(not size.exact for row in read for size in row.values)
    return [f"pattern: {'; '.join(parts)}{ROUNDED_UP if rounded_up else ''}"]


def _series(series: Series, label: PutUp | None, unit: str) -> tuple[Estimate, ...]:
    """The lengths a series comes to, or none where the label does not say enough."""
    if series.unit == "skein":
        if not label or not label.length:
            return ()
        each = label.length.to(unit).value
        return tuple(_skeins(count, each) for count in series.values)
    if is_length(series.unit):
        return tuple(exactly(value * factor(series.unit, unit)) for value in series.values)
    if not label or not label.length or not label.mass:
        return ()
    rate = label.length.to(unit).value / label.mass.to(series.unit).value
    return tuple(exactly(value * rate) for value in series.values)


def _skeins(count: float, each: float) -> Estimate:
    """A pattern's skeins as length: it had rounded up, so that the low end is one skein lower."""
    whole = isclose(count, round(count), abs_tol=1e-9)
    return Estimate(count * each, (count - 1 if whole else count) * each, count * each)


def _agree(first: Series, values: tuple[Estimate, ...], other: Series, others: tuple[Estimate, ...], unit: str) -> None:
    """A Refusal where two amounts for one colour differ; skeins may be the length rounded up."""
    if len(values) != len(others):
        raise unclear(f"{_count(first)} and {_count(other)} have different numbers of sizes. Which size is which?")
    for one, two in zip(values, others, strict=True):
        close = isclose(one.value, two.value, rel_tol=AGREE)
        rounded_up = other.unit == "skein" and two.low < one.value <= two.high
        if not close and not rounded_up:
            same_kind = other.unit != "skein" and is_length(other.unit) == is_length(first.unit)
            why = "" if same_kind else f": {_count(other)} is {_listed(others, unit)}"
            raise unclear(f"{_count(first)} and {_count(other)} do not agree{why}. Which is right?")


def _count(series: Series) -> str:
    if series.unit != "skein":
        return str(series)
    return f"{size_list(series.values)} {'skein' if series.values == (1,) else 'skeins'}"


def _listed(values: tuple[Estimate, ...], unit: str) -> str:
    return f"{size_list(tuple(size.value for size in values))} {unit}"
