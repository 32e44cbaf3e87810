"""What a question turned out to say: a query without its ability, and what is to be said of how it was read."""

from __future__ import annotations

from dataclasses import dataclass, field

from yarnchat.quantity import Quantity
from yarnchat.queries import Query
from yarnchat.refusals import Refusal


@dataclass(slots=True)
class Reading:
    """The slots a text fills, the cues it holds, and what of it was not used."""

    query: Query
    cues: frozenset[str]
    notes: list[str] = field(default_factory=list)
    unused: list[str] = field(default_factory=list)
    """Numbers that found no place, as typed."""
    aside: list[str] = field(default_factory=list)
    """Numbers that say nothing of the yarn, with what they count: said back, and counted no further."""
    measures_aside: list[str] = field(default_factory=list)
    """The measures of a garment that are left aside: ``chest 104 cm``, ``18 x 20 cm``."""
    refusal: Refusal | None = None
    """Where the text contradicts itself, names two things at once or speaks of something else."""
    unknown: list[str] = field(default_factory=list)
    """Words that are in no vocabulary, as typed."""
    of_yarn: bool = True
    """Whether any word of the trade stands in the text."""
    firm_need: bool = False
    """Whether a length is plainly what is needed: ``1000 yds of bulky``, ``I need 900 m``."""
    it_is_said: bool = False
    """Whether ``it`` or ``that`` stands for a yarn spoken of before: ``95 yd balls of it``."""
    small: Quantity | None = None
    """A lone measure in inches or centimetres, such as ``and the 116 cm?``."""
    instead: tuple[float, float] | None = None
    """A number and the one it is to be in the place of: ``150 rows, not 140``."""
    not_weights: tuple[str, ...] = ()
    """The weights that are said not to be meant: ``not worsted, aran``."""
    not_lengths: tuple[Quantity, ...] = ()
    """The lengths that are said not to be so: ``85 m to the ball, not 75 m``."""
    bare_gauge: bool = False
    """Whether a gauge is told and not over what it was counted: ``and 15 sts?``."""
    measured: tuple[tuple[str, Quantity], ...] = ()
    """Measures of a piece, each by the name it is told with: ``180 cm wide, 80 cm deep``."""
    many: int | None = None
    """How many things are told of: ``and forty squares``."""
    dim: tuple[Quantity, Quantity] | None = None
    """Two sides, such as ``and if it was 48 x 60 inches?``."""
    lone_unit: str = ""
    """A unit told with no number at all, as typed: ``metres, silly me``."""
    every_size: bool = False
    """Whether every size is asked for: ``and for all sizes?``."""
    bare_count: float | None = None
    """A lone number with nothing said of it, such as ``what if I only had 6``."""
    beside_a_thing: float | None = None
    """A lone number of what is no yarn: ``for 20 years``, which may yet name a size."""
    colour: str = ""
    """The one colour label in the text: ``and the contrast colour?``, ``CC 250``."""
    bare_said: str = ""
    """That number as typed."""

    @property
    def measures_named(self) -> frozenset[str]:
        """The measures of a piece that are spoken of: width, radius, …"""
        return frozenset(cue.removeprefix("measure.") for cue in self.cues if cue.startswith("measure."))
