"""What is kept in the cache folder is used only while it is what would be made now; without the folder all goes on."""

from __future__ import annotations

from pathlib import Path

import pytest

from yarnchat.language.kept import kept


class Maker:
    """Makes one text, and counts how often."""

    def __init__(self, text: str) -> None:
        self.text = text
        self.times = 0

    def __call__(self) -> str:
        self.times += 1
        return self.text


@pytest.fixture(autouse=True)
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A cache folder that is not there yet."""
    monkeypatch.setenv("YARNCHAT_CACHE", str(tmp_path / "of" / "ours"))
    return tmp_path / "of" / "ours"


def test_made_once(folder: Path) -> None:
    make = Maker("½ table\nof two lines\n")
    assert [kept("name", b"a", make) for _ in range(3)] == [make.text] * 3
    assert make.times == 1
    assert [path.name for path in folder.iterdir()] == ["name"]


def test_made_again_when_what_it_is_made_from_changes() -> None:
    assert kept("name", b"a", Maker("old")) == "old"
    assert kept("name", b"b", Maker("new")) == "new"


@pytest.mark.parametrize("damaged", [b"", b"\xff\xfe", b"no stamp", b"0\nold", None])
def test_made_again_when_the_file_is_damaged(folder: Path, damaged: bytes | None) -> None:
    kept("name", b"a", Maker("whole text"))
    path, again = folder / "name", Maker("whole text")
    path.write_bytes(path.read_bytes()[:-1] if damaged is None else damaged)
    assert kept("name", b"a", again) == "whole text"
    assert again.times == 1
    kept("name", b"a", again)
    assert again.times == 1


def test_no_folder_can_be_made(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "file").touch()
    monkeypatch.setenv("YARNCHAT_CACHE", str(tmp_path / "file" / "below"))
    make = Maker("text")
    assert [kept("name", b"a", make), kept("name", b"a", make)] == ["text", "text"]
    assert make.times == 2


def test_the_place_of_the_file_is_taken(folder: Path) -> None:
    (folder / "name").mkdir(parents=True)
    assert kept("name", b"a", Maker("text")) == "text"
    assert [path.name for path in folder.iterdir()] == ["name"]
