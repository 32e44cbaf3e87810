"""Sayings of one yarn put together: two labels made one, features made a yarn, two tellings of it merged."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from yarnchat.queries import PutUp, Yarn


def compatible(kind: str, old: Any, new: Any) -> bool:
    """Whether two sayings of one feature may be of one yarn."""
    if kind == "weight":
        return bool(set(old[0]) & set(new[0]))
    if kind == "putup":
        return merged_put_up(old, new) is not None
    return bool(old == new)


def merge_feature(kind: str, old: Any, new: Any) -> Any:
    """Two sayings of one feature made one."""
    if kind == "putup":
        return merged_put_up(old, new) or old
    if kind == "weight":
        both = tuple(key for key in old[0] if key in new[0])
        return (both or old[0], old[1])
    return old


def merged_put_up(one: PutUp, two: PutUp) -> PutUp | None:
    """A mass and a length said apart made one put-up; None where both say the same thing differently."""
    if one == two:
        return one
    length = one.length or two.length
    mass = one.mass or two.mass
    facts = ("length", "mass", "other_length", "other_mass")
    told = ((getattr(one, fact), getattr(two, fact)) for fact in facts)
    if any(this and that and this != that for this, that in told):
        return None
    return PutUp(
        length,
        mass,
        one.other_length or two.other_length,
        one.other_mass or two.other_mass,
        (one if one.length is None else two).per_skein if bool(one.length) != bool(two.length) else one.per_skein,
    )


def yarn_of(features: dict[str, Any]) -> Yarn:
    """The features of a group as a yarn."""
    weight: tuple[tuple[str, ...], str | None] = features.get("weight") or ((), None)
    keys, said = weight
    return Yarn(
        name=features.get("name"),
        weight_class=keys[0] if len(keys) == 1 else None,
        class_as_said=said,
        put_up=features.get("putup"),
        gauge=features.get("gauge"),
        needle=features.get("needle"),
        other_needle=features.get("other_needle"),
        wpi=features.get("wpi"),
        strands=features.get("strands"),
        price=features.get("price"),
    )


def merge_yarns(one: Yarn, two: Yarn) -> Yarn | None:
    """Two tellings of one yarn put together, or None where they contradict each other."""
    if one.weight_class and two.weight_class and one.weight_class != two.weight_class:
        return None
    if one.name and two.name and one.name.casefold() != two.name.casefold():
        return None
    put_up = one.put_up or two.put_up
    if one.put_up and two.put_up:
        put_up = merged_put_up(one.put_up, two.put_up)
        if put_up is None:
            return None
    for slot in ("gauge", "price", "strands", "wpi"):
        if getattr(one, slot) and getattr(two, slot) and getattr(one, slot) != getattr(two, slot):
            return None
    return replace(one.filled_from(two), put_up=put_up)
