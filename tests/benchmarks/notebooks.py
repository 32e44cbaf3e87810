"""Notebooks: a question asked with ten thousand swatches and two thousand yarns remembered, and with none."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path

from yarnchat import Assistant
from yarnchat.notebook import Notebook
from yarnchat.quantity import Quantity
from yarnchat.queries import PutUp, Swatch, Yarn

from .measuring import Figure, beside, calls, folder

YARNS, SWATCHES = 2_000, 10_000
KNOWN = Yarn("Dunnock DK", "dk", "DK", PutUp(Quantity(225, "m"), Quantity(100, "g")))
SQUARE = Swatch(KNOWN, Quantity(10.8, "g"), 0.1, Quantity(15, "cm"), Quantity(15, "cm"))
NAMES = {
    "a remembered yarn": "1200 yd worsted pattern in Dunnock DK, 225 m per 100 g?",
    "no remembered yarn": "1200 yd worsted pattern in 420 yd/100 g fingering?",
}


def figures() -> Iterator[Figure]:
    """The same question asked of both notebooks in turn."""
    with folder() as place:
        full, empty = Assistant(_filled(place)), Assistant(place / "none.sqlite")
        for name, question in NAMES.items():
            times = calls({"full": lambda ask=question: full.ask(ask), "empty": lambda ask=question: empty.ask(ask)}, 5)  # type: ignore[misc]
            yield beside(f"a question naming {name}", times["full"], times["empty"], 1.5)


def _filled(place: Path) -> Path:
    """A notebook of many yarns and swatches, imported from a file as one change."""
    one = Notebook(place / "one.sqlite")
    one.remember_yarn(KNOWN)
    one.remember_swatch(SQUARE)
    one.export(place / "one.json")
    one.close()
    data = json.loads((place / "one.json").read_text(encoding="utf-8"))
    yarn, swatch = data["yarns"][0], data["swatches"][0]
    for number in range(1, YARNS):
        name = f"Sedge {number}"
        data["yarns"].append({**yarn, "id": 10 + number, "name": name, "yarn": {**yarn["yarn"], "name": name}})
    for number in range(1, SWATCHES):
        of = data["yarns"][number % YARNS]["yarn"]
        entry = {"id": 10 + YARNS + number, "name": f"Square {number}", "swatch": {**swatch["swatch"], "yarn": of}}
        data["swatches"].append({**swatch, **entry})
    (place / "many.json").write_text(json.dumps(data), encoding="utf-8")
    book = Notebook(place / "full.sqlite")
    book.import_(place / "many.json")
    book.close()
    return place / "full.sqlite"
