"""The page in a real browser: no sideways scroll on a telephone, one sheet when printed. Skipped without one."""

from __future__ import annotations

import re
import shutil
import subprocess
from collections.abc import Callable
from html import escape
from pathlib import Path

import pytest
from samples import COLOURS, ONE_SIZE, SIZES

from yarnchat.assistant import Assistant
from yarnchat.script import lines
from yarnchat.views.page import render
from yarnchat.views.report import Asked, Heading

MILL = Path(__file__).parent.parent.parent / "fixtures" / "mill" / "shopping.yarn"
BROWSER = shutil.which("chromium") or shutil.which("chromium-browser") or shutil.which("google-chrome")

pytestmark = pytest.mark.skipif(BROWSER is None, reason="no Chromium here to show the page in")

FLAGS = (
    "--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-sync",
    "--disable-background-networking", "--disable-component-update", "--disable-dev-shm-usage",
)  # fmt: skip
_MEASURE = """<!doctype html><body><iframe width={width} height=800 style="border: 0" srcdoc="{page}"></iframe>
<p></p><script>
addEventListener("load", () => {{
  const inside = document.querySelector("iframe").contentDocument.documentElement;
  document.querySelector("p").textContent = `${{inside.clientWidth}} seen of ${{inside.scrollWidth}} wide`;
}});
</script>"""


def browse(folder: Path, *arguments: str) -> str:
    """What the browser writes on stdout."""
    assert BROWSER
    command = [BROWSER, *FLAGS, f"--user-data-dir={folder / 'profile'}", *arguments]
    return subprocess.run(command, capture_output=True, encoding="utf-8", timeout=60, check=True).stdout


def shopping() -> str:
    """The page of the mill's script."""
    assistant = Assistant(notebook=":memory:")
    said = lines(MILL.read_text("utf-8"))
    return "".join(render(Heading(line.text) if line.is_heading else Asked(assistant.ask(line.text)) for line in said))


def hostile() -> str:
    """Answers of every shape, with names nobody would give."""
    long = "W" * 120
    colours = [part.model_copy(update={"name": long}) for part in COLOURS.colours]
    named = COLOURS.model_copy(update={"asked": long, "headline": long, "colours": colours})
    return "".join(render([Heading(long), Asked(named), Asked(SIZES), Asked(ONE_SIZE)]))


@pytest.mark.parametrize("width", [320, 390, 640])
@pytest.mark.parametrize("page", [shopping, hostile])
def test_nothing_scrolls_sideways(page: Callable[[], str], width: int, tmp_path: Path) -> None:
    frame = tmp_path / "frame.html"
    frame.write_text(_MEASURE.format(width=width, page=escape(page())), encoding="utf-8")
    shown = browse(tmp_path, "--virtual-time-budget=5000", "--dump-dom", frame.as_uri())
    found = re.search(r"(\d+) seen of (\d+) wide", shown)
    assert found, "the browser did not measure the page"
    assert width - 20 <= int(found[1]) <= width
    assert found[1] == found[2]


def test_the_shopping_list_prints_on_one_sheet(tmp_path: Path) -> None:
    (tmp_path / "page.html").write_text(shopping(), encoding="utf-8")
    sheet = tmp_path / "page.pdf"
    browse(tmp_path, f"--print-to-pdf={sheet}", "--no-pdf-header-footer", (tmp_path / "page.html").as_uri())
    assert len(re.findall(rb"/Type\s*/Page\b", sheet.read_bytes())) == 1
