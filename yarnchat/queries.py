"""What can be asked: frozen models of yarns, amounts and questions; str(...) says each in plain words."""

from __future__ import annotations

from dataclasses import dataclass, field

from yarnchat.quantity import Quantity, number


@dataclass(frozen=True, slots=True)
class PutUp:
    """How a yarn is wound: length and mass of one skein; either may be unsaid, and a label may give each twice."""

    length: Quantity | None = None
    mass: Quantity | None = None
    other_length: Quantity | None = None
    other_mass: Quantity | None = None
    per_skein: bool = True
    """False where the label gives a rate only, such as 1800 yd per lb."""

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
        return f"{self.sign}{self.value:.2f}" if len(self.sign) == 1 else f"{self.value:.2f} {self.sign}"


@dataclass(frozen=True, slots=True)
class Yarn:
    """All that was said of one yarn; None where nothing was."""

    name: str | None = None
    weight_class: str | None = None
    """Key of the class in knowledge/, for example "worsted"."""
    class_as_said: str | None = None
    """The word used, for example "aran"."""
    put_up: PutUp | None = None
    gauge: Gauge | None = None
    needle: Needle | None = None
    wpi: float | None = None
    strands: int | None = None
    price: Price | None = None
    fibre: str | None = None

    def __str__(self) -> str:
        parts = [self.name, self.class_as_said or self.weight_class, self.put_up, self.gauge, self.needle]
        said = [str(part) for part in parts if part]
        if self.wpi:
            said.append(f"{number(self.wpi)} wpi")
        if self.strands and self.strands > 1:
            said.append(f"{self.strands} strands held together")
        if self.price:
            said.append(f"{self.price} a skein")
        return ", ".join(said)


@dataclass(frozen=True, slots=True)
class Swatch:
    """A blocked swatch as measured; ``mass_step`` is the last digit given (0.1 for 6.2 g, 1 for 6 g)."""

    yarn: Yarn
    mass: Quantity | None = None
    mass_step: float = 1.0
    width: Quantity | None = None
    height: Quantity | None = None
    stitches: float | None = None
    rows: float | None = None


@dataclass(frozen=True, slots=True)
class Series:
    """One value, or one for every size, in one unit; the unit "skein" counts whole put-ups."""

    values: tuple[float, ...]
    unit: str

    def __str__(self) -> str:
        return f"{size_list(self.values)} {self.unit}"


def size_list(values: tuple[float, ...]) -> str:
    """Values in trade notation: ``980 (1,080, 1,200)``."""
    first, *others = [number(value) for value in values]
    return f"{first} ({', '.join(others)})" if others else first


@dataclass(frozen=True, slots=True)
class Colour:
    """What the pattern needs in one colour; several series where it says the same thing twice."""

    name: str = ""
    amounts: tuple[Series, ...] = field(default=())
