"""The size picked and the piece, told otherwise."""

from __future__ import annotations

from dataclasses import replace

from yarnchat.language.pieces import called_in, sides_in_order
from yarnchat.language.reading import Reading
from yarnchat.quantity import Quantity
from yarnchat.queries import Piece, Query


def other_pick(before: Query, reading: Reading) -> str | None:
    """The size a lone number names, or the one picked before; none where every size is asked for after one was."""
    if before.pick and reading.every_size:
        return None
    told = (reading.small and reading.small.value, reading.bare_count, reading.beside_a_thing)
    lone = [f"{value:g}" for value in told if value is not None]
    named = next((name for name in lone if name in before.sizes), None)
    return named or before.pick


def other_piece(piece: Piece, reading: Reading) -> Piece:
    """The piece before with a measure, or several, in another size, or so many of it."""
    if reading.many and not (reading.small or reading.dim):
        return replace(piece, count=reading.many)
    if len(reading.measured) > 1:
        told = {called_in(piece.shape, name): size for name, size in reading.measured}
        if len(told) == len(reading.measured) and told.keys() <= {name for name, _ in piece.measures}:
            return replace(piece, measures=tuple((name, told.get(name, old)) for name, old in piece.measures))
    if reading.small or (reading.measures_named and reading.bare_count and piece.measures):
        size = reading.small or Quantity(reading.bare_count or 0, piece.measures[0][1].unit)
        return _resized(piece, size, reading)
    names = [name for name, _ in piece.measures][:2] or list(sides_in_order(piece.shape))
    if reading.dim and len(names) == 2:
        return replace(piece, measures=tuple(zip(names, reading.dim, strict=True)))
    return piece


def _resized(piece: Piece, size: Quantity, reading: Reading) -> Piece:
    """``make it 10 in wide``: the measure named in another size, or the only one there is."""
    names = [name for name, _ in piece.measures]
    meant = [name for name in names if name in reading.measures_named] or (names if len(names) == 1 else [])
    if len(meant) != 1:
        return piece
    return replace(piece, measures=tuple((name, size if name == meant[0] else old) for name, old in piece.measures))
