"""Strands held together, and how tight a yarn is knitted."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from yarnchat.fabric import grist, loops, strands
from yarnchat.knowledge.classes import weight_class

# grists of the strands and of all together: 1 / Σ(1 / grist), by hand
TOGETHER = [
    ([800, 800], 400),
    ([420, 420, 420], 140),
    ([400, 300], 171.428571),
    ([225], 225),
]


@pytest.mark.parametrize(("grists", "together"), TOGETHER)
def test_combined_grist(grists: list[float], together: float) -> None:
    assert strands.combined_grist(grists) == pytest.approx(together, abs=5e-7)


@given(st.lists(st.floats(20, 2000), min_size=1, max_size=6))
def test_their_tex_add_up(grists: list[float]) -> None:
    # ISO 2947: tex is mass per length, so that of a bundle is the sum.
    tex = sum(grist.to_tex(one, "m/100 g") for one in grists)
    assert grist.from_tex(tex, "m/100 g") == pytest.approx(strands.combined_grist(grists), rel=1e-9)


def test_tightness_of_machine_plain() -> None:
    # Machine plain is 1.3-1.5 √tex/mm, 13-15 per cm, tighter than hand-knits. 20 tex at l 0.32 cm: √20 /
    # 0.32 = 13.975.
    k = strands.tightness(20, 0.32)
    assert k == pytest.approx(13.975, abs=0.0005)
    assert 13 <= k <= 15
    assert strands.tightness_word(k) == "dense"


# Class mid-gauges come out at 0.86-1.22 √tex/mm by hand (no published source), here with the middle of
# Spin-Off's grist; the two end classes of that table are open and have no middle.
@pytest.mark.parametrize("key", ["fingering", "sport", "dk", "worsted", "bulky"])
def test_tightness_of_the_class_middles(key: str) -> None:
    found = weight_class(key)
    length = loops.loop_length(loops.stitch_density(found.mid_gauge / 10.16))
    k = strands.tightness(grist.to_tex(found.grist[0].middle, "m/100 g"), length)
    assert 8.6 <= k <= 12.2


# Hand-knits lie around 9 to 12: common practice, no source.
@pytest.mark.parametrize(("k", "word"), [(8.9, "open"), (9, "usual"), (10.5, "usual"), (12, "usual"), (12.1, "dense")])
def test_tightness_in_a_word(k: float, word: str) -> None:
    assert strands.tightness_word(k) == word
