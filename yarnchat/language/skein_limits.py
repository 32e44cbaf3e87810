"""How long and how heavy a skein may be, where a text leaves open what is one skein's (common practice, no source)."""

from __future__ import annotations

from yarnchat.knowledge.classes import weight_class
from yarnchat.quantity import Quantity

BALL_M = 500
"""Most of the balls in a shop are no longer than this, in m."""
HANK_M = 700
"""Nor a hank than this, where only the words beside it speak for a skein."""
SKEIN_M = 1000
"""Nor any skein than this, where more than the words speaks for it."""
LACE_M = 1500
"""Nor a skein of lace of a usual mass than this."""
SHORTEST_M = 10
"""Nor any skein shorter than this."""
MOST_STITCHES = 45
"""Up to here a bare number may be a gauge to 4 in or 10 cm, and no skein's length, where that was not asked for."""
BALL_FROM_M = 20
"""Beside a usual mass with no word between, a length is a skein's from here on."""
BALL_G = 250
"""A ball weighs no more than this."""
CONE_G = 200
"""What weighs so much may be a cone."""
CONE_M_PER_G = 7.5
"""A cone is no longer than this for each gram."""
WELL_UNDER = 0.8
"""A yarn's own length is less than this share of the longest told, which is the need."""
WELL_OVER = 1.5
"""A need is at least so many times a skein's length told with it."""
GRIST_M = (25, 900)
"""Between these, in m per 100 g, a mass and a length may be those of one skein."""
_USUAL_MASSES = {
    "g": frozenset({20.0, 25.0, 40.0, 50.0, 100.0, 115.0, 150.0, 200.0}),
    "oz": frozenset({1.0, 1.75, 2.0, 3.5, 4.0, 5.0, 6.0, 8.0}),
}
"""Masses that skeins usually have."""


HEAVIEST_G = 250
"""Where only its place in the text makes a length a skein's, that skein weighs no more than this."""


def may_be_a_skeins(length: Quantity, weight: str | None, longest: float) -> bool:
    """Whether a length may be one skein's of a weight class: no longer than ``longest``, in m, nor too heavy."""
    grists = [span.high for span in weight_class(weight).grist if span.high] if weight else []
    heaviest = max(grists) * HEAVIEST_G / 100 if grists else longest
    return length.to("m").value <= min(longest, heaviest)


def ball(metres: float, grams: float) -> bool:
    """Whether so many metres may be on a ball of so many grams."""
    return grams > 0 and GRIST_M[0] <= 100 * metres / grams <= GRIST_M[1] and metres <= BALL_M


def usual_mass(mass: Quantity) -> bool:
    """Whether skeins of that mass are usual."""
    return mass.value in _USUAL_MASSES.get(mass.unit, ())
