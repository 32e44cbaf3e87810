"""How a script is told apart into headings and questions, and what cannot be one."""

from __future__ import annotations

from pathlib import Path

import pytest

from yarnchat.script import Line, ScriptError, decode, lines, read, write_whole


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("one\ntwo\n", [Line(1, "one"), Line(2, "two")]),
        ("one\n  more\n\tand more\ntwo", [Line(1, "one\nmore\nand more"), Line(4, "two")]),
        ("one\n\n  indented", [Line(1, "one"), Line(3, "indented")]),
        ("# a comment\none\n  # inside\n  more", [Line(2, "one\nmore")]),
        ("#4 weight, 300 yd", [Line(1, "#4 weight, 300 yd")]),
        ("= Socks\none", [Line(1, "Socks", is_heading=True), Line(2, "one")]),
        ("= Socks\n  one", [Line(1, "Socks", is_heading=True), Line(2, "one")]),
        ("one\n= Socks", [Line(1, "one"), Line(2, "Socks", is_heading=True)]),
        ("=5 sts", [Line(1, "=5 sts")]),
        ("one\r\n  more\rtwo", [Line(1, "one\nmore"), Line(3, "two")]),
        ("   \n\t\n", []),
        ("", []),
    ],
)
def test_lines(text: str, expected: list[Line]) -> None:
    assert list(lines(text)) == expected


def test_a_byte_order_mark_is_no_part_of_the_question() -> None:
    assert decode(b"\xef\xbb\xbf500 yd", "x") == "500 yd"


@pytest.mark.parametrize(
    ("data", "sentence"),
    [
        (b"one\ntwo \xff", "x, line 2, is not UTF-8 text; save it as UTF-8."),
        (b"one\0", "x is not a text file; questions are plain text in UTF-8."),
        ("one".encode("utf-16"), "x is not a text file; questions are plain text in UTF-8."),
    ],
)
def test_what_is_no_text(data: bytes, sentence: str) -> None:
    with pytest.raises(ScriptError) as error:
        decode(data, "x")
    assert str(error.value) == sentence


def test_a_folder_and_a_missing_file(tmp_path: Path) -> None:
    with pytest.raises(ScriptError, match="is a folder; name a file of questions"):
        read(tmp_path)
    with pytest.raises(ScriptError, match="There is no file"):
        read(tmp_path / "none.txt")


def _failing() -> list[str]:
    raise RuntimeError("half way")


def test_a_report_is_written_whole_or_not_at_all(tmp_path: Path) -> None:
    target = tmp_path / "report.txt"
    target.write_text("before")
    target.chmod(0o640)
    write_whole(target, ["one ", "two"], script=tmp_path / "script")
    assert target.read_text() == "one two"
    assert target.stat().st_mode & 0o777 == 0o640

    def broken() -> object:
        yield "half"
        yield from _failing()

    with pytest.raises(RuntimeError, match="half way"):
        write_whole(target, broken(), script=tmp_path / "script")  # type: ignore[arg-type]
    assert target.read_text() == "one two"
    assert [entry.name for entry in tmp_path.iterdir()] == ["report.txt"]


def test_a_link_keeps_pointing(tmp_path: Path) -> None:
    (tmp_path / "real").write_text("before")
    (tmp_path / "link").symlink_to("real")
    write_whole(tmp_path / "link", ["after"], script=tmp_path / "script")
    assert (tmp_path / "link").is_symlink()
    assert (tmp_path / "real").read_text() == "after"


def test_where_no_report_can_go(tmp_path: Path) -> None:
    script = tmp_path / "script"
    script.write_text("one")
    with pytest.raises(ScriptError, match="is not an ordinary file"):
        write_whole(tmp_path, ["x"], script)
    with pytest.raises(ScriptError, match="is not an ordinary file"):
        write_whole(Path("/dev/null"), ["x"], script)
    with pytest.raises(ScriptError, match="is the script itself"):
        write_whole(script, ["x"], script)
    with pytest.raises(ScriptError, match=r"could not be written to .*none"):
        write_whole(tmp_path / "none" / "report", ["x"], script)
    assert script.read_text() == "one"
