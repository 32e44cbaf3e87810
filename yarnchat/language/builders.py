"""What a parsed phrase says: one builder a grammar rule. A builder gives None where the piece makes no sense."""

from __future__ import annotations

import itertools
import math
import re
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from yarnchat.knowledge.classes import class_by_number, classes_named
from yarnchat.language.lexicon import word_list
from yarnchat.language.parse_table import Leaf, Tree
from yarnchat.language.skein_limits import GRIST_M, MOST_STITCHES
from yarnchat.language.tokens import Token
from yarnchat.quantity import LENGTHS, Quantity
from yarnchat.queries import Gauge, Needle, Price, PutUp, Series

Node = Tree

COHERENT = 20.0
"""In a list over sizes no value is more than this many times another."""
GRIST_LIMITS = (2.0, 3000.0)
"""Metres per 100 g between which a length and a mass can be one put-up."""


@dataclass(frozen=True, slots=True)
class Built:
    """A phrase made: its kind, its value, what is worth saying of how it was read."""

    kind: str
    value: Any
    notes: tuple[str, ...] = ()
    flags: frozenset[str] = frozenset()


@dataclass(slots=True)
class Parsed:
    """A parse to build from, with the tokens it was made of."""

    tree: Node
    tokens: Sequence[Token]
    first: int
    last: int

    def leaves(self, kind: str, node: Node | None = None) -> list[Token]:
        """The scanned tokens of a kind, in order: of the whole piece, or of one node of its parse."""
        if node is None:
            return [token for token in self.tokens[self.first : self.last] if token.kind == kind]
        return [self.tokens[leaf.start_pos] for leaf in _leaves(node) if leaf.type == kind]

    def has(self, *kinds: str) -> bool:
        """Whether a token of one of the kinds stands directly in the piece."""
        return any(token.kind in kinds for token in self.tokens[self.first : self.last])

    def next_kind(self) -> str:
        """The kind of the token that follows, or "" at the end."""
        return self.tokens[self.last].kind if self.last < len(self.tokens) else ""


def _in_order(node: Node) -> Iterator[Node]:
    """A tree and its branches, from left to right."""
    yield node
    for child in node.children:
        if isinstance(child, Tree):
            yield from _in_order(child)


def _leaves(node: Node) -> Iterator[Leaf]:
    """The leaves of a tree, from left to right."""
    for child in node.children:
        if isinstance(child, Leaf):
            yield child
        else:
            yield from _leaves(child)


def build(rule: str, tree: Node, tokens: Sequence[Token], first: int, last: int) -> Built | None:
    """The phrase a parse of this rule says, or None where it says nothing sensible."""
    return _BUILDERS[rule](Parsed(tree, tokens, first, last))


# numbers --------------------------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Numbers:
    """A number, a range or a list as read, with what to say of it."""

    values: tuple[float, ...]
    low: float | None = None
    notes: tuple[str, ...] = ()


def number_of(token: Token, unit: str = "") -> tuple[float, tuple[str, ...]]:
    """One number in its surest reading for the unit (1.200 m is twelve hundred, 1.200 kg is not), and notes."""
    value = token.readings[0][0]
    whole = token.text
    if len(token.readings) == 2 and "." in whole and "," not in whole and unit in ("yd", "m", "skein", "g"):
        value = token.readings[1][0]
        return value, (f"read {whole} {unit} as {value:.0f} {unit}: the dot taken as parting thousands",)
    if 0 < whole.find(".") < whole.find(","):
        said = f"read {whole} {unit} as {value:g} {unit}: the dot taken as parting thousands"
        return value, (said.replace("  ", " "),)
    if "," in whole and value < 1000:
        return value, (f"read {whole} {unit} as {value:g} {unit}: the comma taken as decimal".replace("  ", " "),)
    return value, ()


def numbers(node: Node, piece: Parsed, unit: str) -> Numbers | None:
    """The values of a ``values`` node: one, a range or a coherent list."""
    tokens = piece.leaves("NUM", node)
    if node.data in ("one", "count") or (
        node.data != "range" and len(tokens) == 1 and len(tokens[0].readings[0]) == 1 and node.data != "series"
    ):
        value, notes = number_of(tokens[0], unit)
        if len(tokens[0].readings[0]) > 1:
            return _list(tokens)
        return Numbers((value,), notes=notes)
    if node.data in ("range", "countrange"):
        low, high = (number_of(token, unit)[0] for token in tokens)
        spaced = tokens[1].start - tokens[0].end > 2 and piece.tokens[piece.first + 1].kind == "DASH"
        if spaced and unit in ("skein", ""):  # Brick 02 - 4 balls
            return None
        return Numbers((high,), low=low) if 0 < low < high <= 4 * low else None
    if unit in LENGTHS and all(len(token.readings) == 2 and _DOTTED.fullmatch(token.text) for token in tokens):
        said = " ".join(token.text for token in tokens)
        whole = tuple(token.readings[1][0] for token in tokens)
        return Numbers(whole, notes=(f"read {said} {unit} with dots that part thousands",))
    last, brackets = node.children[-1], [child for child in node.children if isinstance(child, Tree)]
    nordic = isinstance(last, Leaf) and last.type == "NUM" and bool(brackets)
    if nordic and any(len(piece.leaves("NUM", bracket)) > 1 for bracket in brackets):
        return None  # 10 (11, 12, 13) 50 g balls: what follows is of the balls
    if any(piece.leaves("DASH", bracket) and piece.leaves("COMMA", bracket) for bracket in brackets):
        return None  # 32 (36-38, 40-42): a range for each size
    return _list(tokens, nordic=nordic)


_DOTTED = re.compile(r"[0-9]{1,3}\.[0-9]{3}")


def _list(tokens: Sequence[Token], nordic: bool = False) -> Numbers | None:
    choices = [_list_readings(token) for token in tokens]
    for combination in itertools.islice(itertools.product(*choices), 256):
        values = tuple(itertools.chain.from_iterable(combination))
        if len(values) > 2 and nordic and values[-1] > 5 * max(values[:-1]):
            return None  # 5 (6:6:7) 100 g balls
        if len(values) == 1 and values[0] > 100_000:  # (850,950) is two sizes
            continue
        positive = [value for value in values if value > 0]
        if positive and max(positive) <= COHERENT * min(positive):
            return Numbers(values)
    return None


def _list_readings(token: Token) -> tuple[tuple[float, ...], ...]:
    """The readings of one number of a list: a comma there is not decimal where it can part two sizes."""
    several = [reading for reading in token.readings if len(reading) > 1]
    if several and re.fullmatch(r"[0-9]+,[0-9]{1,2}", token.text):
        return tuple(several)
    return token.readings[:4]


def _series(node: Node, piece: Parsed) -> tuple[Series, tuple[str, ...]] | None:
    """A ``length`` or ``mass`` node as a series in its unit."""
    unit_token = (piece.leaves("LEN", node) or piece.leaves("MASS", node))[-1]
    unit = str(unit_token.value)
    inner = node.children[0]
    if not isinstance(inner, Tree):
        return None
    read = numbers(inner, piece, unit)
    if read is None:
        return None
    plain = {"km": "m", "kg": "g"}.get(unit)
    if plain:
        thousand = tuple(value * 1000 for value in read.values)
        return Series(thousand, plain, read.low * 1000 if read.low is not None else None), read.notes
    return Series(read.values, unit, read.low), read.notes


# lengths, masses, put-ups ---------------------------------------------------------------------------------------------


def _amounts(piece: Parsed) -> tuple[list[Series], tuple[str, ...]] | None:
    found: list[Series] = []
    notes: tuple[str, ...] = ()
    for node in _in_order(piece.tree):
        if node.data in ("length", "mass"):
            series = _series(node, piece)
            if series is None:
                return None
            found.append(series[0])
            notes += series[1]
    return found, notes


def _chain(piece: Parsed) -> Built | None:
    """Lengths and masses joined to each other: one amount, one amount in two units, or what is on a skein."""
    read = _amounts(piece)
    if read is None:
        return None
    amounts, notes = read
    each = next((node for node in _in_order(piece.tree) if node.data == "each"), None)
    lengths = [amount for amount in amounts if amount.unit in LENGTHS]
    masses = [amount for amount in amounts if amount.unit not in LENGTHS]
    if each is not None and (per := piece.leaves("MASS", each)):
        masses.append(Series((1.0,), str(per[0].value)))
    if len(amounts) == 1 and each is None:
        return _single(amounts[0], piece, notes)
    if not masses and len(lengths) == 2 and each is None:
        return _two_lengths(lengths, piece, notes)
    if not lengths and len(masses) == 2 and each is None:
        return _two_masses(masses, notes)
    if each is not None and not masses and _each_of_several(piece, each):
        return _single(amounts[0], piece, notes) if len(amounts) == 1 else None
    return _put_up(lengths, masses, piece, notes, each is not None)


def _each_of_several(piece: Parsed, each: Node) -> bool:
    """``two colours of 480 yards each``: each of the colours, not of the skeins."""
    before = {token.lower for token in piece.tokens[max(0, piece.first - 4) : piece.first]}
    return not piece.leaves("SKEIN", each) and bool(
        before & {"colours", "colors", "sleeves", "pairs", "sides", "socks", "squares"}
    )


def _single(amount: Series, piece: Parsed, notes: tuple[str, ...]) -> Built | None:
    if piece.next_kind() == "GRIST":
        return None
    return Built("length" if amount.unit in LENGTHS else "mass", amount, notes)


def _two_lengths(lengths: list[Series], piece: Parsed, notes: tuple[str, ...]) -> Built | None:
    """Two lengths: the same one in yards and metres, or a range in one unit."""
    first, second = lengths
    if first.unit == second.unit:
        ranged = piece.has("DASH", "TO") and len(first.values) == len(second.values) == 1
        if ranged and 0 < first.values[0] < second.values[0] <= 4 * first.values[0]:
            return Built("length", Series(second.values, second.unit, first.values[0]), notes)
        return None
    if piece.has("IN", "AT", "FOR", "COLON", "ARTICLE") or len(first.values) != len(second.values):
        return None
    return Built("dual", (first, second), notes) if _nearly(first, second) else None


def _nearly(first: Series, second: Series) -> bool:
    """Whether two series could be the same amounts in two units, if one of them may be mistaken."""
    pairs = zip(first.quantities(), second.values, strict=True)
    most = 2.2 if {first.unit, second.unit} == {"oz", "g"} else 2  # 1.75 oz / 100 g; 8 oz and 1 lb are two amounts
    return all(b > 0 and 1 / most < a.to(second.unit).value / b < most for a, b in pairs)


def _two_masses(masses: list[Series], notes: tuple[str, ...]) -> Built | None:
    first, second = masses
    if first.unit == second.unit or len(first.values) != 1 or len(second.values) != 1:
        return None
    return Built("dual", (first, second), notes) if _nearly(first, second) else None


def _put_up(
    lengths: list[Series], masses: list[Series], piece: Parsed, notes: tuple[str, ...], each: bool = False
) -> Built | None:
    """One skein of a length, a mass or both, each said at most twice; None where no skein can be so, or another thing
    is told. ``each`` where it is said to be of each skein."""
    if not _said_of_one(lengths, masses) or not _can_be_wound(lengths, masses, piece) or _goes_on(piece, each):
        return None
    length, other_length = (*[series.first() for series in lengths], None, None)[:2]
    mass, other_mass = (*[series.first() for series in masses], None, None)[:2]
    if mass and not length and (price := _in_pounds(mass, piece)):
        return price
    flags = {"range"} if any(series.low is not None for series in (*lengths, *masses)) else set()
    low = next((series for series in lengths if series.low is not None), None)
    if low and low.low is not None:
        notes += (f"the put-up is a range: read as the shorter, {low.low:g} {low.unit}",)
        length = Quantity(low.low, low.unit)
    rate = piece.has("PER", "SLASH") and not piece.has("SKEIN") and mass is not None
    rate = rate and mass is not None and (mass.unit in ("lb", "kg") or mass.value == 1)
    return Built("putup", PutUp(length, mass, other_length, other_mass, per_skein=not rate), notes, frozenset(flags))


def _said_of_one(lengths: list[Series], masses: list[Series]) -> bool:
    """Whether a length and a mass are each said of one skein: once, or twice in two units."""
    single = all(len(series.values) == 1 for series in (*lengths, *masses))
    in_two_units = all(len({series.unit for series in twice}) == len(twice) for twice in (lengths, masses))
    alike = single and in_two_units and all(_nearly(*twice) for twice in (lengths, masses) if len(twice) == 2)
    return alike and len(lengths) <= 2 and len(masses) <= 2


def _can_be_wound(lengths: list[Series], masses: list[Series], piece: Parsed) -> bool:
    """Whether a yarn may be so long for its mass; where little joins the two, only a usual one."""
    length, mass = (series[0].first() if series else None for series in (lengths, masses))
    if not (length and mass and length.value > 0 and mass.value > 0):
        return True
    grist = length.to("m").value / mass.to("g").value * 100
    spaced = piece.has("DASH", "IN", "FOR", "AT", "COLON")
    spaced = spaced and not piece.has("SLASH", "PER", "EQ", "SKEIN", "LPAR", "ARTICLE")
    return GRIST_LIMITS[0] < grist < (GRIST_M[1] if spaced else GRIST_LIMITS[1])


def _goes_on(piece: Parsed, each: bool) -> bool:
    """``6 oz at 1250 yd | per pound``, ``1200 yd per | size``: what is not told of one skein alone."""
    if not each and piece.next_kind() in ("PER", "SLASH") and piece.has("SKEIN", "AT"):
        return True
    return each and piece.tokens[piece.last - 1].kind == "PER" and piece.next_kind() not in _ENDS


def _in_pounds(mass: Quantity, piece: Parsed) -> Built | None:
    """``5 pounds a ball``: money, where it is said of a skein."""
    pounds = mass.unit == "lb" and piece.leaves("MASS")[0].lower.startswith("pound") and piece.has("SKEIN")
    return Built("price", Price(mass.value, "£")) if pounds else None


_ENDS = frozenset({"", "STOP", "COMMA", "SEMI", "RPAR", "NEWLINE"})


def _boxed(piece: Parsed) -> Built | None:
    built = _chain(piece)
    return built if built and built.kind == "putup" else None


def _span(piece: Parsed) -> Built | None:
    inner = piece.tree.children[0]
    if not isinstance(inner, Tree):
        return None
    first = _series(inner, piece)
    tokens = piece.leaves("NUM")
    read = _list(tokens)
    if not first or not read or len(read.values) < 3 or len(first[0].values) != 1:
        return None
    return Built("length", Series(read.values, first[0].unit))


def _repeated(piece: Parsed) -> Built | None:
    """``400 g (450 g, 500 g)``, ``8 balls [9 balls: 10 balls]``: a list over sizes, its unit said with each."""
    units = {
        "skein" if token.kind == "SKEIN" else str(token.value)
        for token in piece.tokens[piece.first : piece.last]
        if token.kind in ("LEN", "MASS", "SKEIN")
    }
    read = _list(piece.leaves("NUM"))
    if not read or len(units) != 1 or units & {"km", "kg"} or piece.next_kind() == "GRIST":
        return None
    unit = units.pop()
    kind = "count" if unit == "skein" else "length" if unit in LENGTHS else "mass"
    return Built(kind, Series(read.values, unit), read.notes)


def _skeins(piece: Parsed) -> Built | None:
    read = _amounts(piece)
    if read is None:
        return None
    lengths = [amount for amount in read[0] if amount.unit in LENGTHS]
    masses = [amount for amount in read[0] if amount.unit not in LENGTHS]
    return _put_up(lengths, masses, piece, read[1]) if len(read[0]) == 1 or (lengths and masses) else None


def _counted(piece: Parsed) -> Built | None:
    inner = piece.tree.children[0]
    read = numbers(inner, piece, "skein") if isinstance(inner, Tree) else None
    return Built("count", Series(read.values, "skein", read.low), read.notes) if read else None


def _multiplied(piece: Parsed) -> Built | None:
    """``6 x 50 g`` and ``50 g x 6``."""
    inner, *_, final = [child for child in piece.tree.children if isinstance(child, Tree)]
    inner = final if inner.data in ("length", "mass") else inner
    counted = numbers(inner, piece, "skein")
    read = _amounts(piece)
    if read is None or counted is None or any(len(amount.values) != 1 for amount in read[0]):
        return None
    lengths = [amount.first() for amount in read[0] if amount.unit in LENGTHS]
    masses = [amount.first() for amount in read[0] if amount.unit not in LENGTHS]
    if len(lengths) > 1 or len(masses) > 1:
        return None
    put_up = PutUp(length=lengths[0] if lengths else None, mass=masses[0] if masses else None)
    return Built("times", (Series(counted.values, "skein"), put_up), counted.notes + read[1])


def _listed(piece: Parsed) -> Built | None:
    inner = piece.tree.children[0]
    read = numbers(inner, piece, "") if isinstance(inner, Tree) else None
    if read is None:
        return None
    return Built("nums" if len(read.values) > 1 else "num", Series(read.values, "", read.low), read.notes)


# gauges ---------------------------------------------------------------------------------------------------------------


def _count_of(node: Node | Leaf, piece: Parsed) -> tuple[float, float]:
    """A stitch or row count and the half-width of its range."""
    if isinstance(node, Leaf):
        return number_of(piece.tokens[node.start_pos])[0], 0.0
    low, high = (number_of(token)[0] for token in piece.leaves("NUM", node))
    return (low + high) / 2, (high - low) / 2


def _extent(piece: Parsed) -> tuple[Quantity, Quantity | None] | None:
    node = next((node for node in _in_order(piece.tree) if node.data == "extent"), None)
    if node is None:
        return None
    units = [str(token.value) for token in piece.leaves("SHORT", node)]
    found = [number_of(token)[0] for token in piece.leaves("NUM", node)]
    if not found:
        return Quantity(1, units[0]), None
    first = Quantity(found[0], units[0])
    other = Quantity(found[1], units[1]) if len(found) == 2 and len(units) == 2 and units[0] != units[1] else None
    return first, other


def _gauge(piece: Parsed) -> Built | None:
    """Stitches and rows over a length; over 4 in, and flagged "bare", where none is told."""
    begins, before = piece.tokens[piece.first], piece.tokens[piece.first - 1] if piece.first else None
    if begins.kind == "GAUGE" and piece.next_kind() in ("STS", "ROWS", "SPI", "DASH", "X", "TO"):
        return None
    if begins.kind == "GAUGE" and before and before.kind == "ROWS":
        return _of_rows(piece)
    if begins.kind == "SHORT" and (_asked_over(piece) or (before and before.lower == "many")):
        return None  # how many inches is 100 sts
    said = _stitches_and_rows(piece)
    extent = (Quantity(1, "in"), None) if "SPI" in said else _extent(piece)
    stitches, spread = said.get("STS") or said.get("SPI") or (0.0, 0.0)
    rows, rows_spread = said.get("ROWS", (None, 0.0))
    over, other = extent or (Quantity(4, "in"), None)
    flags = frozenset() if extent else frozenset({"bare"})
    if not extent and piece.tokens[piece.last - 1].lower == "stitch" and piece.next_kind() == "WORD":
        return None
    if extent and over.to("cm").value < NARROWEST_CM:
        return None  # 22 sts 30 rows 4 mm
    if not extent and "STS" in said and not piece.leaves("STS") and stitches > MOST_STITCHES:
        return None  # same gauge, 240 yds
    gauge = Gauge(stitches, over, rows, spread, rows_spread, other_over=other)
    return Built("gauge", gauge, flags=flags)


def _stitches_and_rows(piece: Parsed) -> dict[str, tuple[float, float]]:
    """The counts of a gauge with their half-widths, by what is counted: STS, ROWS, SPI; a bare one is of stitches."""
    counts: list[tuple[str, tuple[float, float]]] = []
    pending: tuple[float, float] | None = None
    for child in piece.tree.children:
        if isinstance(child, Leaf) and child.type in ("STS", "ROWS", "SPI"):
            if pending is not None:
                counts.append((str(child.type), pending))
            pending = None
        elif (isinstance(child, Leaf) and child.type == "NUM") or (
            isinstance(child, Tree) and child.data == "countrange"
        ):
            pending = _count_of(child, piece)
    if pending is not None:
        counts.append(("STS", pending))
    return dict(counts)


NARROWEST_CM = 1.5
"""No gauge is counted over less, in cm (common practice, no source)."""


def _of_rows(piece: Parsed) -> Built | None:
    """``row gauge 30 per 4 in``, ``24 rows to 4 in``: rows over a length."""
    extent = _extent(piece)
    return Built("rowgauge", (number_of(piece.leaves("NUM")[0])[0], extent[0])) if extent else None


def _asked_over(piece: Parsed) -> bool:
    """``how many stitches to the | inch is 20 sts in 4 in``: a length that stitches are asked over, not told."""
    before = [token.kind for token in piece.tokens[max(0, piece.first - 3) : piece.first]]
    return "STS" in before and before[-1] in ("THE", "ARTICLE", "TO", "PER", "IN", "OVER")


LEAST_BEFORE_A_SLASH = 8
"""``22/10 cm`` is a gauge, ``3/4 in`` a fraction: so many stitches at least stand before a slash."""


def _bare(piece: Parsed) -> Built | None:
    """``and I get 25 to 10 cm``: a gauge where stitches are spoken of elsewhere, or where it can be nothing else."""
    extent = _extent(piece)
    count = number_of(piece.leaves("NUM")[0])[0]
    spoken = any(token.kind in ("STS", "GAUGE", "SPI") for token in piece.tokens)
    spoken = spoken or (extent is not None and _as_gauges_are(piece, count, extent[0]))
    if piece.first and piece.tokens[piece.first - 1].kind in ("STS", "ROWS"):
        return None
    if not spoken or extent is None or extent[0].to("cm").value > 15 or count < 2:
        return None
    if piece.tokens[piece.first + 1].kind == "SLASH" and count < LEAST_BEFORE_A_SLASH:
        return None  # 3/4 in
    return Built("gauge", Gauge(count, extent[0], other_over=extent[1]))


def _as_gauges_are(piece: Parsed, count: float, over: Quantity) -> bool:
    """``5 per inch``, ``22 to 4 in``: over a length that gauges are told over; not the range of ``2 to 4 in``."""
    inches = over.to("in").value
    trade = over in (Quantity(1, "in"), Quantity(4, "in"), Quantity(10, "cm"))
    joined = piece.tokens[piece.first + 1].kind
    ranged = joined == "TO" and inches > 1 and count <= over.value
    before = {piece.tokens[at].lower for at in range(max(0, piece.first - _A_FEW_WORDS), piece.first)}
    knitted = before <= {"and", "or", "at"} or bool((word_list("knits_at") | word_list("theirs")) & before)
    told = trade and joined in ("PER", "TO", "OVER") and not ranged and count * 4 / inches <= MOST_STITCHES
    return told and knitted and not word_list("wraps") & before


_A_FEW_WORDS = 2
"""So many words before a count may say that it is a gauge: ``I get 5 per inch``."""


def _crossgauge(piece: Parsed) -> Built | None:
    extent = _extent(piece)
    counted = [number_of(token)[0] for token in piece.leaves("NUM")[:2]]
    if extent is None or len(counted) != 2 or not counted[0] or not 0.5 < counted[1] / counted[0] < 2.5:
        return None
    return Built("gauge", Gauge(counted[0], extent[0], counted[1]))


def _rows(piece: Parsed) -> Built | None:
    opens = piece.tokens[piece.first].kind == "ROWS"
    measured = piece.first and piece.tokens[piece.first - 1].kind == "SHORT"
    if opens and (measured or piece.next_kind() == "SHORT"):
        return None  # 56 cm round, 22 cm tall
    if piece.next_kind() == "STS":
        return None  # 200 rows of 150 stitches
    found = [number_of(token)[0] for token in piece.leaves("NUM")]
    return Built("rows", (found[0], found[1] if len(found) > 1 else None))


def _dimension(piece: Parsed) -> Built | None:
    units = [str(token.value) for token in piece.leaves("SHORT")]
    found = [number_of(token)[0] for token in piece.leaves("NUM")]
    if piece.has("LEN"):
        return _in_metres(piece, found)
    if piece.has("SQUARE") and len(found) == 1:
        found *= 2
    if not units or len(found) != 2:
        return None
    return Built("dim", (Quantity(found[0], units[0]), Quantity(found[1], units[-1])))


def _in_metres(piece: Parsed, sides: Sequence[float]) -> Built | None:
    """``1,20 m x 1,60 m``: the two sides of a blanket, in cm."""
    if {str(token.value) for token in piece.leaves("LEN")} != {"m"} or max(sides) > _MOST_METRES:
        return None
    across, along = (Quantity(100 * side, "cm") for side in sides)
    return Built("dim", (across, along))


_MOST_METRES = 5
"""No blanket is wider or longer, in m (common practice, no source)."""


def _small(piece: Parsed) -> Built | None:
    return Built("small", Quantity(number_of(piece.leaves("NUM")[0])[0], str(piece.leaves("SHORT")[0].value)))


def _feet(piece: Parsed) -> Built | None:
    units = [str(token.value) for token in piece.leaves("SHORT")]
    feet, inches = (number_of(token)[0] for token in piece.leaves("NUM"))
    return Built("small", Quantity(12 * feet + inches, "in")) if units == ["ft", "in"] and inches < 12 else None


def _pounds(piece: Parsed) -> Built | None:
    units = [str(token.value) for token in piece.leaves("MASS")]
    pounds, ounces = (number_of(token)[0] for token in piece.leaves("NUM"))
    return Built("mass", Series((16 * pounds + ounces,), "oz")) if units == ["lb", "oz"] and ounces < 16 else None


def _smalls(piece: Parsed) -> Built | None:
    if piece.leaves("DASH") and piece.leaves("COMMA"):
        return None  # 32-34 (36-38, 40-42) in: a range for each size
    if len(piece.leaves("SLASH")) == 1 and len(piece.leaves("SHORT")) > 2:
        return None  # 36"/24" and 44"/26": a chest and a length for each
    units = {str(token.value) for token in piece.leaves("SHORT")}
    read = _list(piece.leaves("NUM"))
    if not read or len(units) != 1 or len(read.values) < 2:
        return None
    return Built("smalls", Series(read.values, units.pop()))


# needles, strands, weights --------------------------------------------------------------------------------------------

_UNIT_AFTER = frozenset({"SKEIN", "LEN", "MASS", "STS", "ROWS", "STRAND", "PLY", "SHORT", "X", "WPI"})


def _needle(piece: Parsed) -> Built | None:
    if piece.next_kind() in _UNIT_AFTER:
        return None
    token = piece.leaves("NUM")[0]
    if piece.leaves("SHORT"):
        if str(piece.leaves("SHORT")[0].value) != "mm":
            return None
        return Built("needle", Needle(f"{number_of(token)[0]:g}", "mm"))
    system = "us" if piece.leaves("US") else "uk" if piece.leaves("UK") else ""
    size = token.text if token.text.isdigit() else f"{number_of(token)[0]:g}"
    if len(size) > 4:
        return None
    return Built("needle", Needle(size, system))


def _strands(piece: Parsed) -> Built | None:
    if (said := piece.leaves("STRANDED")) and isinstance(said[0].value, int):
        pointed = piece.first and piece.tokens[piece.first - 1].kind == "THE" and "together" in said[0].lower
        return None if pointed else Built("strands", said[0].value)  # what do the two together make: two yarns
    count = number_of(piece.leaves("NUM")[0])[0]
    return Built("strands", int(count)) if count == int(count) else None


def _wpi(piece: Parsed) -> Built | None:
    found = [number_of(token)[0] for token in piece.leaves("NUM")]
    return Built("wpi", sum(found) / len(found))


_PLIED = re.compile(r"\d+[ -]?ply")
"""How many plies a yarn has, before the weight it is of: ``3-ply DK``."""


def _weight(piece: Parsed) -> Built | None:
    """A weight class by a name, a ply or its number: the keys it may be, and the word it was called."""
    said = " ".join(
        token.text for token in piece.tokens[piece.first : piece.last] if token.kind not in ("WEIGHT", "DASH")
    )
    named = piece.leaves("CLASS")
    if len(named) == 2 and not _PLIED.fullmatch(named[0].lower):
        return None
    if named:
        value = named[-1].value
        keys = (
            (str(value),)
            if isinstance(value, str)
            else tuple(str(key) for key in value)
            if isinstance(value, tuple)
            else ()
        )
        flags = frozenset({"modified"}) if piece.has("MODIFIER") else frozenset()
        return Built("weight", (keys, said), flags=flags)
    count = number_of(piece.leaves("NUM")[0])[0]
    if piece.has("PLY"):
        found_ply = classes_named(f"{count:g} ply")
        return Built("weight", (tuple(row.key for row in found_ply), f"{count:g} ply")) if found_ply else None
    found = class_by_number(int(count)) if count == int(count) and 0 <= count <= 7 else None
    return Built("weight", ((found.key,), f"class {count:g}")) if found else None


# sizes ----------------------------------------------------------------------------------------------------------------


def ordinal(place: int) -> str:
    """The number of a place with its ending: "2nd"."""
    ending = {1: "st", 2: "nd", 3: "rd"}.get(place % 10, "th")
    return f"{place}{'th' if 10 < place % 100 < 20 else ending}"


def place_told(size: str) -> int | None:
    """The number of a size told as one, or by its place: 2 of "2" and of "2nd"; None of a name."""
    digits = size[:-2] if size[-2:] in ("st", "nd", "rd", "th") else size
    return int(digits) if digits.isascii() and digits.isdigit() else None


def _sized(piece: Parsed) -> Built | None:
    if piece.next_kind() in _UNIT_AFTER or (piece.next_kind() == "LPAR" and piece.leaves("NUM")):
        return None
    if told := piece.leaves("ORDINAL"):
        return Built("size", ordinal(int(str(told[0].value))))
    if number := piece.leaves("NUM"):
        return Built("size", f"{number_of(number[0])[0]:g}")
    alone = piece.last - piece.first == 1
    if alone and piece.next_kind() in ("NUM", "COLON", "DASH", "EQ", "LPAR"):
        return None
    return Built("size", piece.leaves("SZ")[0].text)


def _sizenames(piece: Parsed) -> Built | None:
    names = tuple(token.text for token in piece.leaves("SZ"))
    return Built("sizes", names) if len(names) > 1 and len(set(names)) == len(names) else None


def _doubles(piece: Parsed) -> Built | None:
    """``S/M (L/XL)``, ``1-2 (3-4, 5-6) years``: sizes of which some are two in one, each named as it is typed.

    Those told in numbers are headed as sizes, or ages stand behind them; each goes up.
    """
    items = [node for node in _in_order(piece.tree) if node.data in ("szitem", "numitem")]
    names = tuple("".join(piece.tokens[leaf.start_pos].text for leaf in _leaves(item)) for item in items)
    numbered = [[number_of(token)[0] for token in piece.leaves("NUM", item)] for item in items]
    double = any(len(list(_leaves(item))) > 1 for item in items)
    rising = all(low < high for low, *rest in filter(None, numbered) for high in rest)
    if not double or not rising or len(set(names)) < len(names):
        return None
    after = piece.tokens[piece.last].lower if piece.last < len(piece.tokens) else ""
    if piece.leaves("NUM") and not (piece.has("SIZE", "SIZES") or after in word_list("ages")):
        return None
    return Built("sizes", names) if piece.next_kind() not in _UNIT_AFTER else None


def _sizenumbers(piece: Parsed) -> Built | None:
    read = _list(piece.leaves("NUM"))
    if read and len(read.values) == 2 and piece.has("DASH", "TO"):
        first, last = (int(value) for value in read.values)
        return Built("sizes", tuple(str(n) for n in range(first, last + 1))) if 0 < last - first < 12 else None
    if not read or len(read.values) < 2 or piece.next_kind() in (_UNIT_AFTER - {"SHORT"}):
        return None
    if piece.next_kind() == "SHORT":
        return Built("smalls", Series(read.values, str(piece.tokens[piece.last].value)))
    if max(read.values) > LARGEST_SIZE:
        return None  # 4 sizes: 1000, 1120, 1240 yds
    return Built("sizes", tuple(f"{value:g}" for value in read.values))


LARGEST_SIZE = 200
"""No number of a size, nor a chest in cm, is larger (common practice, no source)."""


def _named(piece: Parsed) -> Built | None:
    names = tuple(token.text for token in piece.leaves("SZ"))
    tokens = piece.leaves("NUM")
    units = {
        str(token.value) if token.kind != "SKEIN" else "skein"
        for kind in ("LEN", "MASS", "SKEIN")
        for token in piece.leaves(kind)
    }
    read = _list(tokens)
    if not read or len(read.values) != len(names) or len(units) != 1:
        return None
    return Built("named", (names, Series(read.values, units.pop())))


PENCE_IN_A_POUND = 100
_CENTS = re.compile(r"[.,][0-9]{2}$")


def _price(piece: Parsed) -> Built | None:
    value = number_of(piece.leaves("NUM")[0])[0]
    if any(node.data == "per_mass" for node in _in_order(piece.tree)):
        return None
    sign = piece.leaves("CUR")
    if not sign and not piece.leaves("PRICE") and not _CENTS.search(piece.leaves("NUM")[0].text):
        return None  # 14.50 each
    if not sign and piece.next_kind() in ("LEN", "MASS", "STS", "SHORT", "PLY", "X", "CUR", "PERCENT"):
        return None
    if sign and sign[0].value == "p":
        return Built("price", Price(value / PENCE_IN_A_POUND, "£"))
    if not sign and piece.next_kind() == "SKEIN" and piece.tokens[piece.first + 1].kind == "OF":
        return None  # the cost of 6 skeins
    return Built("price", Price(value, str(sign[0].value) if sign else ""))


def _percent(piece: Parsed) -> Built | None:
    return Built("percent", number_of(piece.leaves("NUM")[0])[0])


def _grist(piece: Parsed) -> Built | None:
    number = piece.leaves("NUM")[0]
    if "/" in number.text:
        return None  # Nm 2/16 names strands beside the number
    return Built("grist", (number_of(number)[0], str(piece.leaves("GRIST")[0].value)))


def _fraction(piece: Parsed) -> Built | None:
    top, bottom = (number_of(token)[0] for token in piece.leaves("NUM"))
    return Built("fraction", top / bottom) if bottom and math.isfinite(top / bottom) else None


_BUILDERS: dict[str, Callable[[Parsed], Built | None]] = {
    "chain": _chain,
    "span": _span,
    "repeated": _repeated,
    "boxed": _boxed,
    "skeins": _skeins,
    "counted": _counted,
    "multiplied": _multiplied,
    "listed": _listed,
    "gauge": _gauge,
    "bare": _bare,
    "feet": _feet,
    "pounds": _pounds,
    "crossgauge": _crossgauge,
    "rowgauge": _of_rows,
    "rows": _rows,
    "dimension": _dimension,
    "small": _small,
    "smalls": _smalls,
    "needle": _needle,
    "strands": _strands,
    "wpi": _wpi,
    "weight": _weight,
    "sized": _sized,
    "sizenames": _sizenames,
    "doubles": _doubles,
    "sizenumbers": _sizenumbers,
    "named": _named,
    "price": _price,
    "percent": _percent,
    "grist": _grist,
    "fraction": _fraction,
}
