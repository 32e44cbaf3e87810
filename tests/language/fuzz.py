"""Texts sought by the branches they take: ``python -m tests.language.fuzz [SECONDS]`` (needs the extra ``fuzz``).

A child process, with the program's branches counted, changes what the seen dialogues say, and keeps each text that goes
a way none went before; what raises, or gets an answer that is not safe, ends it. Every text kept is then asked here,
without the counting, and timed. One turn a line: each is asked in the conversation of the lines before it.
"""

from __future__ import annotations

import importlib
import json
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from .texts import NAMES, STRAYS, WHOLES, spellings

SEEN = Path(__file__).parents[2] / "fixtures" / "corpus" / "seen"
LONGEST = 2000
"""Characters of a text, the length for which the goal of an answer's time stands."""
ROUNDS = 3
"""The best of so many is an answer's time."""
SLOW = 0.050
"""Seconds."""


def main(seconds: int) -> int:
    """Seek for so many seconds, then print what was found; 1 where a text failed."""
    with tempfile.TemporaryDirectory() as name:
        kept, failed = Path(name, "kept"), Path(name, "failed")
        kept.mkdir()
        failed.mkdir()
        seeds = _seeds(kept)
        words = Path(name, "words")
        words.write_text("".join(f'"{_escaped(word)}"\n' for word in (*spellings(), *NAMES, *WHOLES, *STRAYS)))
        options = [f"-max_total_time={seconds}", f"-max_len={LONGEST}", f"-artifact_prefix={failed}/", f"-dict={words}"]
        child = [sys.executable, "-m", "tests.language.fuzz", "--child", str(kept), *options]
        run = subprocess.run(child, stderr=subprocess.PIPE, text=True, errors="replace")
        done = [line for line in run.stderr.splitlines() if line.startswith("Done")]
        print(f"{seeds} seeds, {len(list(kept.iterdir()))} texts kept; {done[-1] if done else run.stderr[-2000:]}")
        for path in failed.iterdir():
            print(f"FAILED: {_text(path.read_bytes())!r}")
        times = sorted(((_seconds(_text(path.read_bytes())), path) for path in kept.iterdir()), reverse=True)
        slow = [seconds for seconds, _ in times if seconds > SLOW]
        print(f"{len(slow)} of {len(times)} took over {1000 * SLOW:.0f} ms; the slowest:")
        for taken, path in times[:5]:
            print(f"  {1000 * taken:.1f} ms: {_text(path.read_bytes())[:200]!r}")
        return 1 if slow or any(failed.iterdir()) else 0


def _seeds(folder: Path) -> int:
    """What the seen dialogues say, one file each; how many."""
    lines = [line for path in SEEN.glob("*.jsonl") for line in path.read_text(encoding="utf-8").splitlines()]
    told = [json.loads(line)["turns"] for line in filter(str.strip, lines)]
    texts = {"\n".join(turn["say"].replace("\n", " ") for turn in turns if "say" in turn) for turns in told}
    for number, text in enumerate(sorted(texts)):
        (folder / f"{number:05}").write_bytes(text.encode("utf-8", "surrogatepass")[:LONGEST])
    return len(texts)


def _escaped(word: str) -> str:
    """As the fuzzer's dictionary has it."""
    return "".join(f"\\x{byte:02x}" for byte in f" {word} ".encode("utf-8", "surrogatepass"))


def _text(data: bytes) -> str:
    return data.decode("utf-8", "surrogateescape")[:LONGEST]


def _seconds(text: str) -> float:
    """The longest answer of a conversation."""
    from yarnchat import Assistant

    longest = 0.0
    for number in range(len(turns := text.split("\n"))):
        best = float("inf")
        for _ in range(ROUNDS):
            assistant = Assistant(notebook=":memory:")
            for turn in turns[:number]:
                assistant.ask(turn)
            start = time.perf_counter()
            assistant.ask(turns[number])
            best = min(best, time.perf_counter() - start)
        longest = max(longest, best)
    return longest


def _child(options: list[str]) -> None:
    atheris = importlib.import_module("atheris")
    with atheris.instrument_imports(include=["yarnchat"]):
        from yarnchat import Assistant

        Assistant(notebook=":memory:").ask("1200 yd worsted pattern in 420 yd/100 g fingering?")
    from .test_hostile import hold

    def one(data: bytes) -> None:
        assistant = Assistant(notebook=":memory:")
        for turn in _text(data).split("\n"):
            hold(assistant.ask(turn), turn)

    atheris.Setup([sys.argv[0], *options], one)
    atheris.Fuzz()


if __name__ == "__main__":
    if sys.argv[1:2] == ["--child"]:
        _child(sys.argv[2:])
    else:
        sys.exit(main(int(sys.argv[1]) if sys.argv[1:] else 60))
