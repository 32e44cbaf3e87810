"""Every knowledge file is checked alone: a wrong row ends in a plain sentence that names it."""

import re
from collections.abc import Callable
from pathlib import Path

import pytest

from yarnchat import knowledge
from yarnchat.knowledge.classes import class_table
from yarnchat.knowledge.conversions import system_table
from yarnchat.knowledge.needles import needle_table
from yarnchat.knowledge.ribs import rib_table
from yarnchat.knowledge.tables import KnowledgeError, Row, parse

FOLDER = Path(knowledge.__file__).parent
LOADERS: dict[str, Callable[[Row], object]] = {
    "classes.toml": class_table,
    "conversions.toml": system_table,
    "needles.toml": needle_table,
    "ribs.toml": rib_table,
}
_SOURCE = re.compile(r',? ?(?<![\w"])source = "\w+"')


def _text(file: str) -> str:
    return (FOLDER / file).read_text(encoding="utf-8")


def test_every_file_has_a_loader() -> None:
    assert {path.name for path in FOLDER.glob("*.toml")} == set(LOADERS)


@pytest.mark.parametrize("file", LOADERS)
def test_file_is_sound(file: str) -> None:
    LOADERS[file](parse(_text(file), file))


def _places(file: str) -> list[tuple[str, int, int]]:
    return [(file, *found.span()) for found in _SOURCE.finditer(_text(file))]


@pytest.mark.parametrize(("file", "start", "end"), [place for file in LOADERS for place in _places(file)])
def test_no_value_goes_without_its_source(file: str, start: int, end: int) -> None:
    text = _text(file)
    with pytest.raises(KnowledgeError, match="source is missing"):
        LOADERS[file](parse(text[:start] + text[end:], file))


@pytest.mark.parametrize("file", LOADERS)
def test_every_source_of_a_file_is_used(file: str) -> None:
    text = _text(file)
    used = set(re.findall(r'\bsource = "(\w+)"', text))
    assert set(parse(text, file).sources) == used


# file, the text to replace (its first occurrence), by what, and the sentence that must come
FAULTS = [
    (
        "classes.toml",
        "number = 4",
        "number = 5",
        "classes.toml: the classes should be numbered 0 to 7, in that order.",
    ),
    (
        "classes.toml",
        "number = 4",
        "number = 9",
        "classes.toml, class 5: number should be one of 0 to 7, not 9.",
    ),
    (
        "classes.toml",
        "low = 16, high = 20",
        "low = 26, high = 20",
        "class 5, gauge: low should be below high.",
    ),
    (
        "classes.toml",
        'gauge = { low = 16, high = 20, source = "council" }',
        "gauge = 16",
        "class 5: gauge should be a table, not 16.",
    ),
    ("classes.toml", "low = 16, high = 20", "low = 16", "class 5, gauge: high is missing."),
    (
        "classes.toml",
        "low = 16, high = 20",
        "low = true, high = 20",
        "class 5, gauge: low should be a number above zero, not True.",
    ),
    (
        "classes.toml",
        "low = 16, high = 20",
        "low = nan, high = 20",
        "class 5, gauge: low should be a number above zero, not nan.",
    ),
    (
        "classes.toml",
        "low = 16, high = 20",
        "low = -1, high = 20",
        "class 5, gauge: low should be a number above zero, not -1.",
    ),
    (
        "classes.toml",
        "mm_low = 4.5",
        'mm_low = "4.5"',
        "class 5, needle: mm_low should be a number above zero, not '4.5'.",
    ),
    (
        "classes.toml",
        "{ low = 9, high = 12,",
        "{ low = 12, high = 9,",
        "class 5, wpi 1: low should be below high.",
    ),
    ("classes.toml", "{ low = 9, high = 12, ", "{ ", "class 5, wpi 1: a range needs a low or a high."),
    ("classes.toml", 'label = "worsted"', 'label = ""', "class 5: label should be a text, not ''."),
    (
        "classes.toml",
        'label = "worsted"',
        'label = "worsted"\nlabels = 1',
        "class 5: nothing reads 'labels'.",
    ),
    ("classes.toml", '["10 ply"]', '["10 ply", "8 ply"]', "'8 ply' names both dk and worsted."),
    ("classes.toml", '["10 ply"]', '["10 ply", "10 ply"]', "class 5, names 2: words holds a text twice."),
    ("classes.toml", '["10 ply"]', "[10]", "class 5, names 2: words should be a list of texts, not [10]."),
    ("classes.toml", '["fingering", "sport"]', '["fingering", "sprot"]', "there is no class 'sprot'."),
    (
        "classes.toml",
        'source = "practice"',
        'source = "hearsay"',
        "the source 'hearsay' is not among the file's sources.",
    ),
    ("classes.toml", "[[pair]]", "[pair]", "classes.toml: pair should be a list of tables"),
    ("classes.toml", "[sources]", "[sauces]", "classes.toml: sources is missing."),
    ("classes.toml", "[sources]", "[sources", "classes.toml is not TOML"),
    ("needles.toml", 'us = "6"', 'us = "5"', "needles.toml: US 5 has two diameters, none disputed."),
    ("needles.toml", 'uk = "14"', 'uk = "13"', "needles.toml: UK 13 has two diameters, none disputed."),
    ("needles.toml", 'us = "4"\n', "", "a needle needs a US or a UK size."),
    ("needles.toml", "[old_numbers]", "[numbers]", "needles.toml: nothing reads 'numbers'."),
    (
        "conversions.toml",
        'kind = "direct"',
        'kind = "both"',
        "system 1: kind should be direct or indirect, not 'both'.",
    ),
    ("conversions.toml", 'key = "denier"', 'key = "tex"', "system 2: 'tex' is there twice."),
    ("ribs.toml", "factor = 1.36", "factor = 0", "rib 1: factor should be a number above zero, not 0."),
    ("ribs.toml", 'key = "2x1"', 'key = "1x1"', "rib 2: '1x1' is there twice."),
]


@pytest.mark.parametrize(("file", "old", "new", "sentence"), FAULTS)
def test_fault_is_named_in_a_plain_sentence(file: str, old: str, new: str, sentence: str) -> None:
    text = _text(file)
    assert old in text
    with pytest.raises(KnowledgeError) as caught:
        LOADERS[file](parse(text.replace(old, new, 1), file))
    said = str(caught.value)
    assert sentence in said
    assert said.startswith(file)
    assert said.endswith(".")
