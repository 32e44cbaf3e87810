"""A small mill and one knitter: her script runs as it stands, and the figures are the ones worked out by hand."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from yarnchat.assistant import Assistant
from yarnchat.knowledge.classes import classes

ROOT = Path(__file__).parent.parent
MILL = ROOT / "fixtures" / "mill"
LABELS = (MILL / "labels.txt").read_text("utf-8").splitlines()
PATTERNS = {block.split("\n")[0]: block.strip() for block in (MILL / "patterns.txt").read_text("utf-8").split("\n\n")}

# Her swatches: 19.2 g x 225 m / 100 g = 43.2 m on 400 cm2, 10.8 cm of yarn to a cm2 of the DK;
# 20.4 g x 170 m / 100 g = 34.68 m on 400 cm2, 8.67 of the aran. DK to aran 8.67/10.8 = 0.80278, back 1.24567.
CARDIGAN = {
    "MC": {"S": (722.5, 5), "M": (802.8, 5), "L": (883.1, 6), "XL": (963.3, 6)},  # 900 m x 0.80278; / 170 m = 4.25
    "CC": {"S": (144.5, 1), "M": (160.6, 1), "L": (176.6, 2), "XL": (192.7, 2)},  # 180 m x 0.80278; / 170 m = 0.85
}
JUMPER = {  # 960 m x 1.24567 = 1195.8 m; / 225 m = 5.31
    "XS": (1195.8, 6), "S": (1258.1, 6), "M": (1395.2, 7), "L": (1507.3, 7), "XL": (1594.5, 8),
}  # fmt: skip
HAT = {
    "MC": {"S": 1, "L": 2},
    "CC": {"S": 1, "L": 1},
}  # 120 (150) and 40 (50) m x 13.5/18 = 90 (112.5) and 30 (37.5) m; / 110 m


@pytest.fixture(scope="module")
def report(tmp_path_factory: pytest.TempPathFactory) -> list[dict[str, Any]]:
    """Her script as the command answers it, in JSON, with a notebook of its own."""
    notebook = tmp_path_factory.mktemp("mill") / "notebook"
    command = [sys.executable, "-m", "yarnchat", "--notebook", str(notebook), "run", str(MILL / "shopping.yarn")]
    env = os.environ | {"PYTHONPATH": str(ROOT)}
    ran = subprocess.run([*command, "--as", "json"], env=env, capture_output=True, encoding="utf-8", check=False)
    assert (ran.returncode, ran.stderr) == (0, "")
    entries: list[dict[str, Any]] = json.loads(ran.stdout)
    return entries


def under(report: list[dict[str, Any]], heading: str) -> list[dict[str, Any]]:
    """The answers below a heading."""
    at = next(index for index, entry in enumerate(report) if entry.get("heading") == heading) + 1
    found = []
    for entry in report[at:]:
        if "heading" in entry:
            break
        found.append(entry)
    return found


def bought(parts: list[dict[str, Any]]) -> dict[str, tuple[float, int]]:
    """Length and skeins by the name of the size."""
    return {part["name"]: (part["figures"]["length"]["value"], part["figures"]["skeins"]) for part in parts}


def same(found: dict[str, tuple[float, int]], worked: dict[str, tuple[float, int]]) -> None:
    """Skeins exactly, lengths to the tenth of a metre they are worked out to."""
    assert {size: skeins for size, (_, skeins) in found.items()} == {s: n for s, (_, n) in worked.items()}
    for size, (length, _) in worked.items():
        assert found[size][0] == pytest.approx(length, abs=0.1)


def test_the_cardigan_in_the_aran_of_another_mill(report: list[dict[str, Any]]) -> None:
    (answer,) = under(report, "Hurdle Cardigan")
    for colour in answer["colours"]:
        same(bought(colour["sizes"]), CARDIGAN[colour["name"]])
    main = answer["colours"][0]["sizes"][0]["figures"]
    assert main["cost"] == {"value": 57.0, "unit": "£"}  # 5 skeins and 1 spare x £9.50


def test_the_jumper_from_one_swatch_to_the_other(report: list[dict[str, Any]]) -> None:
    _, answer = under(report, "Weir Jumper")
    same(bought(answer["sizes"]), JUMPER)


def test_the_hat(report: list[dict[str, Any]]) -> None:
    _, answer = under(report, "Sluice Hat")
    for colour in answer["colours"]:
        assert {size["name"]: size["figures"]["skeins"] for size in colour["sizes"]} == HAT[colour["name"]]


def test_what_is_left_from_the_winter(report: list[dict[str, Any]]) -> None:
    enough, measured = under(report, "Left from the winter")
    assert enough["figures"]["left_over"]["value"] == pytest.approx(200)  # 3 x 400 m - 1000 m
    assert measured["figures"]["length"] == {"value": pytest.approx(296), "unit": "m"}  # 37 g x 400 m / 50 g


def test_the_mill_spins_five_classes() -> None:
    asked = [Assistant(notebook=":memory:").ask(f"what weight is {label}?") for label in LABELS]
    spun = [answer.figures["weight_class"] for answer in asked]
    assert spun == [["lace"], ["fingering"], ["DK"], ["worsted"], ["bulky"]]
    assert len(classes()) > len(spun)


@pytest.mark.parametrize("label", LABELS)
def test_every_label_agrees_with_itself(label: str) -> None:
    answer = Assistant(notebook=":memory:").ask(f"check this: {label}")
    assert answer.status == "answered"
    assert [found for found in answer.findings if found.level != "note"] == []


@pytest.mark.parametrize(
    ("pattern", "sizes", "skeins"),
    [
        # 22 sts to 10 cm is 22.35 to 4 in; 900 m x 18/22.35 = 724.8 m; / 170 m = 4.26, and so on
        ("Hurdle Cardigan", ["S", "M", "L", "XL"], [[5, 5, 6, 6], [1, 1, 2, 2]]),
        ("Weir Jumper", ["XS", "S", "M", "L", "XL"], [[6, 6, 7, 7, 8]]),  # 960 m x 18/18.29 = 945 m; / 170 m = 5.56
        ("Sluice Hat", ["S", "L"], [[1, 1], [1, 1]]),
    ],
)
def test_a_pattern_pasted_whole(pattern: str, sizes: list[str], skeins: list[list[int]]) -> None:
    answer = Assistant(notebook=":memory:").ask(f"{PATTERNS[pattern]}\nin aran, 170 m per 100 g?")
    assert answer.status == "answered"
    rows = [colour.sizes for colour in answer.colours] or [answer.sizes]
    assert [[size.figures["skeins"] for size in row] for row in rows] == skeins
    assert [size.name for size in rows[0]] == sizes
