"""What can be asked: frozen models of yarns, amounts and questions; str(...) says each in plain words."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, fields, replace
from functools import cache
from operator import attrgetter

from yarnchat.quantity import Quantity, number


@dataclass(frozen=True, slots=True)
class Slot:
    """What a conversation has to know of a slot."""

    called: str
    """What a person calls it."""
    numbered: bool
    """Whether its numbers may not go unnoticed by the ability that answers."""
    taken_over: bool
    """Whether a later text that fills it takes it over whole."""
    leant_on: bool
    """Whether a later text may lean on a question that fills it, though it was not answered."""


def told(called: str, *, numbered: bool = False, taken_over: bool = False, leant_on: bool = False) -> dict[str, Slot]:
    """What is to be known of a field as a slot, for its metadata."""
    return {"slot": Slot(called, numbered, taken_over, leant_on)}


@dataclass(frozen=True, slots=True)
class PutUp:
    """How a yarn is wound: length and mass of one skein; either may be unsaid, and a label may give each twice."""

    length: Quantity | None = None
    mass: Quantity | None = None
    other_length: Quantity | None = None
    other_mass: Quantity | None = None
    per_skein: bool = True
    """False where the label gives a rate only, such as 1800 yd per lb."""

    def told_in(self, unit: str) -> PutUp:
        """The label with the length it gives in this unit, where it gives it in two: 300 m, of 328 yd / 300 m."""
        if self.length is None or self.other_length is None or self.other_length.unit != unit:
            return self
        return replace(self, length=self.other_length, other_length=self.length)

    def wound_in(self, skeins: PutUp) -> PutUp | None:
        """The same yarn in skeins of which only the mass is told; None where either does not say enough for it."""
        length, mass, other = self.length, self.mass, skeins.mass
        if length is None or mass is None or other is None or not mass.value or skeins != PutUp(mass=other):
            return None
        return PutUp(Quantity(length.value * other.to(mass.unit).value / mass.value, length.unit), other)

    def __str__(self) -> str:
        if self.length is None:
            return f"{self.mass} skeins"
        return f"{self.length}/{self.mass}" if self.mass else f"{self.length} a skein"


@dataclass(frozen=True, slots=True)
class Gauge:
    """Stitches (and rows) counted over a length; ``spread`` is the half-width of a range such as 18-20."""

    stitches: float
    over: Quantity
    rows: float | None = None
    spread: float = 0.0
    rows_spread: float = 0.0
    other_over: Quantity | None = None
    """The same length in the other unit, where a label says both: 4 in / 10 cm."""

    def __str__(self) -> str:
        rows = f" and {number(self.rows)} rows" if self.rows else ""
        return f"{number(self.stitches)} sts{rows} to {self.over}"


@dataclass(frozen=True, slots=True)
class Needle:
    """A needle size in a system: "us", "uk", "mm", or "" where nobody said which."""

    size: str
    system: str = ""

    def __str__(self) -> str:
        if self.system == "mm":
            return f"{self.size} mm needle"
        return f"{self.system.upper()} {self.size} needle".strip()


@dataclass(frozen=True, slots=True)
class Price:
    """What one skein costs, with the currency sign as typed."""

    value: float
    sign: str

    def __str__(self) -> str:
        return f"{self.sign}{self.value:.2f}" if len(self.sign) == 1 else f"{self.value:.2f} {self.sign}".strip()


@dataclass(frozen=True, slots=True)
class Yarn:
    """All that was said of one yarn; None where nothing was."""

    name: str | None = None
    weight_class: str | None = None
    """Key of the class in knowledge/, for example "worsted"."""
    class_as_said: str | None = None
    """The word used, for example "aran"."""
    put_up: PutUp | None = None
    gauge: Gauge | None = field(default=None, metadata=told("the gauge", numbered=True))
    needle: Needle | None = None
    wpi: float | None = field(default=None, metadata=told("the wraps per inch", numbered=True))
    strands: int | None = None
    price: Price | None = field(default=None, metadata=told("the price", numbered=True))
    fibre: str | None = None
    other_gauge: Gauge | None = None
    """The same gauge said a second time over another length, as in 22 sts = 4 in (21.5 sts = 10 cm)."""
    other_needle: Needle | None = None
    """The same needle said in a second system, as in US 8 (5 mm)."""

    @property
    def only_a_weight(self) -> bool:
        """Whether nothing but its weight is told."""
        return self == Yarn(weight_class=self.weight_class, class_as_said=self.class_as_said)

    def filled_from(self, other: Yarn) -> Yarn:
        """This yarn, with what is told of another that is the same wherever nothing is of this one.

        What is said a second time of a gauge or a needle goes with that gauge or needle only.
        """
        gaps = [slot for slot in _ALL_OF_YARN if getattr(self, slot) is None and getattr(other, slot) is not None]
        taken = {
            slot: getattr(other, slot)
            for slot in gaps
            if slot not in _SAID_AGAIN or getattr(self, _SAID_AGAIN[slot]) in (None, getattr(other, _SAID_AGAIN[slot]))
        }
        return replace(self, **taken) if taken else self

    def __str__(self) -> str:
        told = self.class_as_said or self.weight_class or ""
        named = self.name is not None and told.replace("_", " ").casefold() in self.name.casefold()
        parts = [self.name, None if named else told.replace("_", " "), self.put_up, self.gauge, self.needle]
        said = [str(part) for part in (*parts, self.other_needle) if part]
        if self.wpi:
            said.append(f"{number(self.wpi)} wpi")
        if self.strands and self.strands > 1:
            said.append(f"{self.strands} strands held together")
        if self.price:
            said.append(f"{self.price} a skein")
        return ", ".join(said)


_ALL_OF_YARN = tuple(slot.name for slot in fields(Yarn))
_SAID_AGAIN = {"other_gauge": "gauge", "other_needle": "needle"}


@dataclass(frozen=True, slots=True)
class Swatch:
    """A blocked swatch as measured; ``mass_step`` is the last digit of what it took (0.1 for 6.2 g, 1 for 6 g)."""

    yarn: Yarn
    mass: Quantity | None = None
    mass_step: float = 1.0
    width: Quantity | None = None
    height: Quantity | None = None
    stitches: float | None = None
    rows: float | None = None
    length: Quantity | None = None
    """The yarn in it, where that was measured and not weighed."""


@dataclass(frozen=True, slots=True)
class Series:
    """One value, or one for every size, in one unit; the unit "skein" counts whole put-ups."""

    values: tuple[float, ...]
    unit: str
    low: float | None = None
    """Of a range such as 600-700 yd: the low end; ``values`` holds the high one, which is what one buys for."""

    def first(self) -> Quantity:
        """The first amount with its unit: the only one where there is one, else that of the first size."""
        return Quantity(self.values[0], self.unit)

    def largest(self) -> Quantity:
        """The largest amount with its unit: that of the size which takes most."""
        return Quantity(max(self.values), self.unit)

    def quantities(self) -> tuple[Quantity, ...]:
        """Each amount with its unit, in the order of the sizes."""
        return tuple(Quantity(value, self.unit) for value in self.values)

    def __str__(self) -> str:
        unit = self.unit if self.unit != "skein" else "skein" if self.values == (1.0,) else "skeins"
        low = f"{number(self.low)} to " if self.low is not None else ""
        return f"{low}{size_list(self.values)} {unit}"


def size_list(values: tuple[float, ...]) -> str:
    """Values in trade notation: ``980 (1,080, 1,200)``."""
    first, *others = [number(value) for value in values]
    return f"{first} ({', '.join(others)})" if others else first


@dataclass(frozen=True, slots=True)
class Colour:
    """What the pattern needs in one colour; several series where it says the same thing twice."""

    name: str = ""
    amounts: tuple[Series, ...] = field(default=())
    put_up: PutUp | None = None
    """One skein of this colour, where a line to be checked tells it colour by colour."""


@dataclass(frozen=True, slots=True)
class Holding:
    """Something she has, or has used: so much of a yarn. ``unit`` is skein, g, oz, yd or m."""

    amount: float
    unit: str
    yarn: Yarn = Yarn()
    left: bool = False
    """True where it is what remains after what was used, False where it is all there was."""
    presumed: bool = False
    """Whether which of the two it is was not said."""

    def __str__(self) -> str:
        unit = "skeins" if self.unit == "skein" and self.amount != 1 else self.unit
        of = f" of {self.yarn}" if str(self.yarn) else ""
        return f"{number(self.amount)} {unit}{of}{' left' if self.left else ''}"


@dataclass(frozen=True, slots=True)
class Piece:
    """A shape to knit. ``measures`` by name: width, height, diameter, circumference, chest, length, …"""

    shape: str
    measures: tuple[tuple[str, Quantity], ...] = ()
    texture: str | None = None
    """A rib with a published factor, "1x1" or "2x1"."""
    extra_percent: float | None = None
    """What the knitter says her texture takes more, in percent."""
    count: int = 1
    """How many are knitted alike."""


EVENLY = "straight"
"""How a piece grows of which every row is as long as the last."""

NARROWING = "narrowing to a point"
"""How a piece grows whose rows get shorter evenly, to nothing: a triangle from its long edge."""

FROM_ITS_CENTRE = "piece from its centre"
"""How a piece grows that is worked in rounds from its centre, whatever its outline."""


@dataclass(frozen=True, slots=True)
class Progress:
    """How far along: rows done of rows in all, or a fraction done; ``shape`` where rows are not all as long."""

    fraction: float | None = None
    rows_done: float | None = None
    rows_total: float | None = None
    shape: str = EVENLY


@dataclass(frozen=True, slots=True)
class Grading:
    """The size that was knitted and the sizes asked for: chests and, where said, lengths, in one unit."""

    sample_chest: Quantity | None = None
    chests: tuple[Quantity, ...] = ()
    sample_length: Quantity | None = None
    lengths: tuple[Quantity, ...] = ()
    piece: str = ""
    """The shape of a flat piece whose width, or only measure, ``sample_chest`` and ``chests`` are; "" for a garment."""


@dataclass(frozen=True, slots=True)
class Measured:
    """Something to convert: a number in a unit or yarn-number system, or a needle, or a gauge."""

    amount: Quantity | None = None
    count: tuple[float, str] | None = None
    """A yarn number: value and system, such as (30, "tex") or (220, "m/100 g")."""
    needle: Needle | None = None
    gauge: Gauge | None = None
    into: str | None = None
    """Unit or system wanted: "m", "g", "mm", "us", "uk", "yd/lb", "tex", or a length such as "10 cm"."""


MORE = "more"
"""The value of a note that tells of yarn which is there besides what is kept."""

PART = "part"
"""The value of a note that tells of skeins of which one is no longer whole."""


@dataclass(frozen=True, slots=True)
class Twice:
    """What a line to be checked says twice of one thing, or says of stitches on the needle."""

    measures: tuple[tuple[Series, Series], ...] = ()
    """One measure, or one for every size, in centimetres and in inches."""
    classes: tuple[tuple[str, str], ...] = ()
    """The weights one yarn is said to be: the key of each class, and the word used."""
    needles: tuple[tuple[Needle, Needle], ...] = ()
    """Needles each told in two systems: US 4 (3.5 mm), US 6 (4 mm)."""
    cast_on: float | None = None
    """Stitches cast on."""
    width: Quantity | None = None
    """What they are said to measure."""

    def __str__(self) -> str:
        said = [f"{one} / {two}" for one, two in self.measures]
        if self.classes:
            said.append(" = ".join(word for _, word in self.classes))
        said += [f"{one} ({other})" for one, other in self.needles]
        if self.cast_on:
            said.append(f"cast on {number(self.cast_on)} sts{f', {self.width} wide' if self.width else ''}")
        return "; ".join(said)


@dataclass(frozen=True, slots=True)
class Note:
    """A request to the notebook: what to do with what."""

    verb: str
    """remember, list, show, rename, correct, forget, undo, set, export, import."""
    kind: str | None = None
    """yarn, swatch, stash, setting."""
    name: str | None = None
    new_name: str | None = None
    setting: str | None = None
    value: str | None = None
    fibre: str | None = None
    """What the yarn to be remembered is made of, as said."""


@dataclass(frozen=True, slots=True)
class Query:
    """One question: who plays what. Empty slots were not said."""

    ability: str = ""
    colours: tuple[Colour, ...] = field(default=(), metadata=told("the pattern's amount"))
    only: str | None = None
    """The name of the one colour asked for."""
    pattern: Yarn = field(default=Yarn(), metadata=told("the pattern's yarn"))
    yarns: tuple[Yarn, ...] = field(default=(), metadata=told("the yarn"))
    """The yarn wanted, or several candidates."""
    stash: tuple[Holding, ...] = field(default=(), metadata=told("what you have", numbered=True, leant_on=True))
    used: tuple[Holding, ...] = field(
        default=(), metadata=told("what you used", numbered=True, taken_over=True, leant_on=True)
    )
    sizes: tuple[str, ...] = field(default=(), metadata=told("the sizes", taken_over=True))
    pick: str | None = field(default=None, metadata=told("the size", taken_over=True))
    """The size asked for: a name of ``sizes``, or a number counted from 1, "last" or "first"."""
    same_gauge: bool = False
    swatch: Swatch | None = field(default=None, metadata=told("the swatch", numbered=True, leant_on=True))
    piece: Piece | None = field(default=None, metadata=told("the piece", numbered=True, taken_over=True, leant_on=True))
    progress: Progress | None = field(
        default=None, metadata=told("how far you are", numbered=True, taken_over=True, leant_on=True)
    )
    grading: Grading | None = field(
        default=None, metadata=told("the garment", numbered=True, taken_over=True, leant_on=True)
    )
    measured: Measured | None = field(default=None, metadata=told("what to convert", numbered=True, leant_on=True))
    note: Note | None = None
    spares: int | None = field(default=None, metadata=told("the spares", numbered=True))
    blend: tuple[float, ...] = field(default=(), metadata=told("the blend", numbered=True))
    """The percents of fibres a materials line gives, where it is to be checked."""
    twice: Twice | None = None
    """What a line says twice, where it is to be checked."""
    extra: float | None = field(default=None, metadata=told("the percent", numbered=True, taken_over=True))
    """Percent to be added to what the pattern takes."""
    rest: str = ""
    """"left" or "used": what is asked for of the one skein whose other part was told."""
    want: str | None = None
    """The figure or unit asked for: mass, length, cost, ratio, yd, m, g, oz, why, sure, …"""
    topic: str | None = None
    _slots: frozenset[str] | None = field(default=None, init=False, repr=False, compare=False)
    """What ``slots`` found, once it was asked."""

    def __str__(self) -> str:
        """The question as a plain sentence, in the program's words."""
        return "; ".join(part for part in _told(self) if part) or "nothing I can use"

    def slots(self) -> frozenset[str]:
        """The names of the slots that hold something: ``need``, ``pattern.put_up``, ``yarn.gauge``, ``stash``, …"""
        if self._slots is None:
            object.__setattr__(self, "_slots", self._filled_slots())
        return self._slots or frozenset()

    def asked_of(self, ability: str) -> Query:
        """The same question with its ability, which fills no slot."""
        query = replace(self, ability=ability)
        object.__setattr__(query, "_slots", self._slots)
        return query

    def _filled_slots(self) -> frozenset[str]:
        """The names of all that is told: fields by their own name, those of a yarn after its side."""
        names = {f"pattern.{slot}" for slot in _filled(self.pattern)}
        names |= {f"yarn.{slot}" for yarn in self.yarns for slot in _filled(yarn)}
        names |= {f"stash.{slot}" for held in self.stash for slot in _filled(held.yarn)}
        kinds = {_KIND[series.unit] for series in self.amounts}
        names |= {f"need.{kind}" for kind in kinds} | ({"need"} if kinds else set())
        if any(len(series.values) > 1 for series in self.amounts):
            names.add("several_sizes")
        names |= {name for name, value in zip(_OF_QUERY, _values_of_query(self), strict=True) if value}
        if "need.mass" in names and any(yarn.put_up and not yarn.put_up.length for yarn in self.both_sides):
            names.add("by_mass")
        if self.spares is not None:
            names.add("spares")
        if self.piece and len(self.piece.measures) > 1:
            names.add("piece.sized")
        if self.yarns:
            names.add("yarn")
        if len(self.yarns) > 1:
            names.add("several_yarns")
        if {"pattern.gauge", "yarn.gauge"} <= names:
            names.add("both_gauges")
        if {"pattern.weight_class", "yarn.weight_class"} <= names:
            names.add("both_weights")
        if len(self.colours) > 1:
            names.add("several_colours")
        return frozenset(names)

    @property
    def amounts(self) -> tuple[Series, ...]:
        """Every amount the pattern needs, over all its colours."""
        return tuple(series for colour in self.colours for series in colour.amounts)

    @property
    def both_sides(self) -> tuple[Yarn, ...]:
        """The pattern's yarn, and after it those to knit with."""
        return (self.pattern, *self.yarns)


NOTHING_TOLD = Query()
"""The question that says nothing."""

_NAMED_APART = ("ability", "pattern", "colours", "only", "yarns", "spares")
_OF_QUERY = tuple(slot.name for slot in fields(Query) if slot.init and slot.name not in _NAMED_APART)
"""The slots that are named as they are and hold something where they are true."""
_values_of_query = attrgetter(*_OF_QUERY)

_KIND = {
    "skein": "count",
    "yd": "length",
    "m": "length",
    "g": "mass",
    "oz": "mass",
    "lb": "mass",
    "kg": "mass",
}


_OF_YARN = ("name", "weight_class", "put_up", "gauge", "needle", "wpi", "strands", "price")
_values_of_yarn = attrgetter(*_OF_YARN)


def _filled(yarn: Yarn) -> list[str]:
    return [slot for slot, value in zip(_OF_YARN, _values_of_yarn(yarn), strict=True) if value is not None]


def _told(query: Query) -> list[str]:
    """What a query says, one clause a part: who plays what."""
    return [
        _need_told(query),
        _wanted_told(query),
        f"you have {_listed(query.stash)}" if query.stash else "",
        f"used so far {_listed(query.used)}" if query.used else "",
        f"asked for: what is {query.rest} of a skein" if query.rest else "",
        f"{number(query.extra)} % more than that" if query.extra else "",
        "" if query.spares is None else f"{query.spares or 'no'} spare{'' if query.spares == 1 else 's'}",
        f"fibres {', '.join(f'{number(part)} %' for part in query.blend)}" if query.blend else "",
        f"said twice: {query.twice}" if query.twice else "",
        "knit to the pattern's gauge" if query.same_gauge else "",
        f"{query.only} only" if query.only else "",
        _size_told(query),
        _piece_told(query.piece) if query.piece else "",
        _progress_told(query.progress) if query.progress else "",
        _grading_told(query.grading) if query.grading else "",
        _swatch_told(query.swatch) if query.swatch else "",
        _measured_told(query.measured) if query.measured else "",
        _note_told(query.note) if query.note else "",
        f"help about {query.topic}" if query.topic else "",
    ]


def _listed(things: Sequence[object]) -> str:
    return " and ".join(str(thing) for thing in things)


def _need_told(query: Query) -> str:
    pattern = str(query.pattern)
    if not query.colours:
        return f"pattern: {pattern}" if pattern else ""
    amounts = ", ".join(_colour_told(colour) for colour in query.colours)
    return f"pattern: {amounts}" + (f" of {pattern}" if pattern else "")


def _colour_told(colour: Colour) -> str:
    of = f" of {colour.put_up}" if colour.put_up else ""
    return f"{colour.name} {_listed(colour.amounts)}{of}".strip()


def _wanted_told(query: Query) -> str:
    yarns = [str(yarn) for yarn in query.yarns]
    if len(yarns) > 1:
        return "yarns: " + "; or ".join(yarns)
    return f"yarn: {yarns[0]}" if yarns else ""


def _size_told(query: Query) -> str:
    sizes = f"sizes {', '.join(query.sizes)}" if query.sizes else ""
    pick = f"{one_size(query.pick)} only" if query.pick else ""
    return "; ".join(part for part in (sizes, pick) if part)


AND_SIZE = " and "
"""Between the sizes of a pick of several."""


def picks(pick: str) -> list[str]:
    """The sizes picked, one or several: ``3``, ``2nd and 4th``."""
    return pick.split(AND_SIZE)


def one_size(pick: str) -> str:
    """One size of several, or some of them, as it is said back."""
    if AND_SIZE in pick:
        placed = picks(pick)[0][-2:] in ("st", "nd", "rd", "th")
        return f"the {pick} sizes" if placed else f"sizes {pick}"
    placed = pick in ("first", "middle", "last") or (pick[:1].isdigit() and pick[-2:] in ("st", "nd", "rd", "th"))
    return f"the {pick} size" if placed else f"size {pick}"


def _piece_told(piece: Piece) -> str:
    measures = ", ".join(f"{name.replace('_', ' ')} {size}" for name, size in piece.measures)
    rib = f", {piece.texture} rib" if piece.texture else ""
    extra = f", texture takes {number(piece.extra_percent)} % more" if piece.extra_percent else ""
    many = f"{piece.count} times " if piece.count > 1 else ""
    return f"{many}{piece.shape}{': ' if measures else ''}{measures}{rib}{extra}"


def _progress_told(progress: Progress) -> str:
    if progress.rows_done is not None and progress.rows_total is not None:
        done = f"row {number(progress.rows_done)} of {number(progress.rows_total)}"
    elif progress.fraction is not None:
        done = f"{number(100 * progress.fraction)} % done"
    elif progress.rows_total is not None:
        done = f"{number(progress.rows_total)} rows in all"
    else:
        done = f"row {number(progress.rows_done or 0)}"
    return done + (f", {progress.shape}" if progress.shape != EVENLY else "")


def _grading_told(grading: Grading) -> str:
    lengths = f", length {grading.sample_length}" if grading.sample_length else ""
    others = ", ".join(str(chest) for chest in grading.chests)
    long = f", lengths {', '.join(str(length) for length in grading.lengths)}" if grading.lengths else ""
    if grading.piece:
        return _pieces_told(grading)
    if grading.sample_chest is None:
        return f"chest {others}{long}"
    return f"knitted: chest {grading.sample_chest}{lengths}; asked for: chest {others}{long}"


def _pieces_told(grading: Grading) -> str:
    sides = [str(side) for side in (grading.sample_chest, *grading.chests)]
    if grading.lengths:
        long = (grading.sample_length, *grading.lengths)
        sides = [f"{side} × {other}" for side, other in zip(sides, long, strict=False)]
    return f"knitted: {grading.piece} {sides[0]}; asked for: {', '.join(sides[1:])}"


def _swatch_told(swatch: Swatch) -> str:
    side = f"{swatch.width} by {swatch.height}" if swatch.width else ""
    counted = f"{number(swatch.stitches)} sts by {number(swatch.rows)} rows" if swatch.stitches and swatch.rows else ""
    return ", ".join(
        part
        for part in (
            f"swatch: {swatch.yarn}" if str(swatch.yarn) else "swatch",
            side,
            counted,
            str(swatch.mass or swatch.length or ""),
        )
        if part
    )


def _measured_told(measured: Measured) -> str:
    things = [measured.amount, measured.needle, measured.gauge]
    said = [str(thing) for thing in things if thing]
    if measured.count:
        said.append(f"{number(measured.count[0])} {measured.count[1]}")
    return "convert " + " and ".join(said) + (f" into {measured.into}" if measured.into else "")


def _note_told(note: Note) -> str:
    words = (
        note.verb,
        note.kind,
        note.name,
        f"to {note.new_name}" if note.new_name else None,
        note.setting,
        note.value,
        note.fibre,
    )
    return "notebook: " + " ".join(word for word in words if word)


@cache
def slots_told() -> dict[str, Slot]:
    """What is known of each slot of a query and of a yarn, by its name."""
    return {row.name: row.metadata["slot"] for of in (Query, Yarn) for row in fields(of) if "slot" in row.metadata}
