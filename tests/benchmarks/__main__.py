"""Run the benchmarks named, or all, and print each figure beside its goal."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator

from . import lengths, notebooks, reading, scripts, starts
from .measuring import Figure

PARTS: dict[str, Callable[[], Iterator[Figure]]] = {
    "starts": starts.figures,
    "reading": reading.figures,
    "scripts": scripts.figures,
    "lengths": lengths.figures,
    "notebooks": notebooks.figures,
}

unknown = [name for name in sys.argv[1:] if name not in PARTS]
if unknown:
    sys.exit(f"no benchmark {unknown[0]}; there are {', '.join(PARTS)}")
for name in sys.argv[1:] or PARTS:
    print(f"{name}:")
    for figure in PARTS[name]():
        print(f"  {figure}", flush=True)
