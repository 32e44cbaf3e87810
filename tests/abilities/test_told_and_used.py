"""What is remembered in words is read back, and the next answer goes by it; export and import in words."""

from __future__ import annotations

from pathlib import Path

import pytest

from yarnchat import Answer, Assistant
from yarnchat.answers import Amount, Item

SOCK = "remember Cobbler Sock, fingering, 50 g/210 m, 75% wool 25% nylon, £7.50 a ball"


@pytest.fixture
def knitter() -> Assistant:
    return Assistant(":memory:")


def told(assistant: Assistant, text: str) -> str:
    """What the notebook says back."""
    answer = assistant.ask(text)
    assert (answer.status, answer.ability) == ("answered", "notebook"), answer.headline
    return answer.headline


def value(answer: Answer, name: str) -> float:
    found = answer.figures[name]
    assert isinstance(found, Amount)
    return found.value


def facts(answer: Answer) -> list[str]:
    found = answer.figures["items"]
    assert isinstance(found, list)
    return [item.text for item in found if isinstance(item, Item)]


def test_class_put_up_and_price(knitter: Assistant) -> None:
    said = told(knitter, SOCK)
    assert "fingering, 210 m/50 g, £7.50 a skein, 75 % wool, 25 % nylon" in said
    answer = knitter.ask("900 m of DK in Cobbler Sock")
    # 900 x 29.5/22.5 = 1180 m; /210 = 5.62 -> 6; (6 + 1) x 7.50 = 52.50
    assert value(answer, "length") == pytest.approx(1180)
    assert (answer.figures["skeins"], answer.figures["spare"]) == (6, 1)
    assert value(answer, "cost") == pytest.approx(52.50)


def test_fibre_is_shown(knitter: Assistant) -> None:
    told(knitter, SOCK)
    assert "75 % wool, 25 % nylon" in facts(knitter.ask("show Cobbler Sock"))[0]


@pytest.mark.parametrize(
    ("said", "kept"),
    [("pure wool", "pure wool"), ("superwash merino", "superwash merino"), ("Wool and silk", "wool and silk")],
)
def test_a_fibre_without_its_percents(said: str, kept: str, knitter: Assistant) -> None:
    assert told(knitter, f"remember Cobbler Sock, {said}, 50 g/210 m").endswith(f"210 m/50 g, {kept}.")


@pytest.mark.parametrize("percents", ["20% off", "40% wool"])
def test_percents_that_are_no_blend_are_no_fibre(percents: str, knitter: Assistant) -> None:
    assert "%" not in told(knitter, f"remember Cobbler Sock, fingering, 50 g/210 m, {percents}")


def test_gauge(knitter: Assistant) -> None:
    assert "28 sts to 4 in" in told(knitter, "remember Cobbler Sock, 50 g/210 m, 28 sts to 4 in")
    # 28/18
    answer = knitter.ask("pattern takes 900 m at 18 sts to 4 in, in Cobbler Sock")
    assert value(answer, "length") == pytest.approx(900 * 28 / 18)


def test_stash_in_skeins_and_what_is_left_of_one(knitter: Assistant) -> None:
    told(knitter, SOCK)
    # 3 x 50 g + 35 g
    assert "185 g" in told(knitter, "remember I have 3 skeins of Cobbler Sock and 35 g left over")
    assert facts(knitter.ask("what's in my stash"))[0].startswith("185 g of Cobbler Sock, fingering")


def test_stash_of_an_unknown_skein_is_asked_about(knitter: Assistant) -> None:
    answer = knitter.ask("remember I have 3 skeins of Teasel Tweed and 35 g left over")
    assert answer.status == "unclear"
    assert "weigh" in answer.headline


@pytest.mark.parametrize(
    ("said", "unit", "length"),
    [("set units to metres", "m", 1097.28), ("always answer in metres", "m", 1097.28), ("set units to yd", "yd", 1200)],
)
def test_units(said: str, unit: str, length: float, knitter: Assistant) -> None:
    # 1200 yd x 0.9144
    assert f"in {unit}." in told(knitter, said)
    figure = knitter.ask("1200 yd worsted pattern, same gauge, 200 yd a skein").figures["length"]
    assert isinstance(figure, Amount)
    assert figure.value == pytest.approx(length)
    assert figure.unit == unit


@pytest.mark.parametrize(
    ("said", "spares"),
    [
        ("I always buy 2 spares", 2),
        ("2 spares from now on", 2),
        ("set spares to 3", 3),
        ("remember two spares", 2),
        ("no spares from now on", 0),
    ],
)
def test_spares(said: str, spares: int, knitter: Assistant) -> None:
    assert told(knitter, said) == f"Spare skeins: {spares}."
    assert knitter.ask("how many 210 yd skeins for 1200 yd?").figures["spare"] == spares
    told(knitter, "set spares to default")
    assert knitter.ask("how many 210 yd skeins for 1200 yd?").figures["spare"] == 1


@pytest.mark.parametrize(("said", "step"), [("my scale reads to 0.1 g", 0.1), ("my scale reads whole grams", 1)])
def test_scale(said: str, step: float, knitter: Assistant) -> None:
    assert f"{step:g} g" in told(knitter, said)
    found = knitter.ask("my swatch of 225 m/100 g DK is 15 by 15 cm and weighs 9 g").figures["length"]
    assert isinstance(found, Amount)
    assert found.high is not None
    # 9 g x 2.25 = 20.25 m; half a digit / sqrt 3, doubled
    assert found.high == pytest.approx(20.25 * (1 + step / 3**0.5 / 9))


def test_what_a_scale_shows_is_no_setting(knitter: Assistant) -> None:
    assert knitter.ask("my scale says 40 g left of 210 yards/100 g DK").ability != "notebook"


@pytest.mark.parametrize("name", ["swatches-2024.json", "two words.json"])
def test_export_and_import(name: str, knitter: Assistant, tmp_path: Path) -> None:
    told(knitter, SOCK)
    file = tmp_path / name
    assert told(knitter, f'export my notebook to "{file}"').startswith(f"Exported to {file}")
    other = Assistant(":memory:")
    preview = other.ask(f'import my notebook from "{file}"')
    assert preview.headline.startswith("Nothing is changed yet.")
    assert any(line.startswith("Adds the yarn “Cobbler Sock”") for line in preview.working)
    assert "no yarns" in told(other, "list my yarns")
    assert "1 added" in told(other, preview.headline.split("or: ")[1])
    assert "1 yarn" in told(other, "list my yarns")
    assert told(other, f'import my notebook from "{file}"').startswith("Nothing in")


def test_a_plain_yes_takes_the_import_in_once(knitter: Assistant, tmp_path: Path) -> None:
    told(knitter, SOCK)
    file = tmp_path / "worstead.json"  # a slip anywhere else, here the name of a file
    told(knitter, f"export my notebook to {file}")
    assert file.exists()
    other = Assistant(":memory:")
    told(other, f"import my notebook from {file}")
    assert "1 added" in told(other, "yes please")
    assert other.ask("yes").status == "not_understood"


def test_a_yes_to_nothing_imports_nothing(knitter: Assistant, tmp_path: Path) -> None:
    told(knitter, SOCK)
    file = tmp_path / "mine.json"
    told(knitter, f"export my notebook to {file}")
    other = Assistant(":memory:")
    told(other, f"import my notebook from {file}")
    told(other, "list my yarns")
    assert other.ask("yes").status == "not_understood"
    assert "no yarns" in told(other, "list my yarns")


@pytest.mark.parametrize(
    ("said", "says"),
    [
        ("correct Cobbler Sock: 400 m/100 g", "400 m/100 g"),
        ("correct the gauge of Cobbler Sock to 27 sts to 10 cm", "27 sts to 10 cm"),
        ("change the price of cobbler sock to £15", "£15.00 a skein"),
        ("fix my Cobbler Sock, it's £16 a skein", "£16.00 a skein"),
        ("update Cobbler Sock: US 2 needle", "US 2 needle"),
    ],
)
def test_a_fact_is_put_right(said: str, says: str, knitter: Assistant) -> None:
    told(knitter, SOCK)
    changed = told(knitter, said)
    assert changed.startswith("Updated the yarn “Cobbler Sock”")
    assert says in changed.split("Before, it was")[0]


@pytest.mark.parametrize(
    "said", ["is this correct: Cobbler Sock, 400 m/100 g?", "Cobbler Sock is 400 m/100 g, correct?"]
)
def test_asking_whether_it_is_correct_changes_nothing(said: str, knitter: Assistant) -> None:
    told(knitter, SOCK)
    assert knitter.ask(said).ability != "notebook"


def test_what_was_spoken_of_is_remembered(knitter: Assistant) -> None:
    knitter.ask("my swatch in Heron Aran, 166 m/100 g, is 15 x 15 cm and weighs 13 g")
    assert told(knitter, "remember it").startswith("Remembered the swatch “Heron Aran swatch”")
    knitter.ask("how many skeins of Tern DK, 230 yd/100 g, for 900 yd of worsted?")
    assert told(knitter, "remember that yarn").startswith("Remembered the yarn “Tern DK”: Tern DK, 230 yd/100 g.")


@pytest.mark.parametrize("said", ["coblr sock", "coblers sock", "cobbler sok"])
def test_a_name_with_a_slip_is_asked_about_and_a_yes_is_enough(said: str, knitter: Assistant) -> None:
    told(knitter, SOCK)
    asked = knitter.ask(f"how many skeins of {said} for 1000 m of worsted?")
    assert asked.status == "unclear"
    assert asked.headline.endswith("Did you mean Cobbler Sock?")
    assert knitter.ask("yes").figures == knitter.ask("how many skeins of Cobbler Sock for 1000 m of worsted?").figures


@pytest.mark.parametrize(
    ("said", "status", "says"),
    [
        ("export my notebook", "unclear", "Which file?"),
        ("export my notebook somewhere safe", "unclear", "Which file?"),
        ("import my notebook, yes", "unclear", "Which file?"),
        ("import my notebook from nowhere/at/all.json", "refused", "cannot be read"),
        ("import my notebook from README.md", "refused", "is not a whole JSON file"),
        ("export my notebook to README.md", "refused", "is already there and is no notebook export"),
    ],
)
def test_a_file_that_cannot_be_used_is_a_plain_sentence(
    said: str, status: str, says: str, knitter: Assistant, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "README.md").write_text("# Wool")
    answer = knitter.ask(said)
    assert (answer.status, says in answer.headline) == (status, True)
    assert (tmp_path / "README.md").read_text() == "# Wool"


def test_nothing_is_kept_of_what_is_asked_about(knitter: Assistant) -> None:
    answer = knitter.ask("I have 3 skeins of Saltmarsh Sock in my stash, one of them 62 g")
    assert answer.status == "unclear"
    assert answer.headline.startswith("What does one skein of Saltmarsh Sock weigh")
    assert "Is 62 g a part of" in knitter.ask("I have 3 skeins of Saltmarsh Sock in my stash, 62 g").headline
    assert "no stash" in told(knitter, "list my stash")


def test_one_skein_that_is_not_whole(knitter: Assistant) -> None:
    # 2 x 50 g + 32 g
    kept(knitter, SOCK, "I have 3 skeins of Cobbler Sock in my stash, one of them 32 g")
    assert facts(knitter.ask("what's in my stash"))[0].startswith("132 g of Cobbler Sock")
    assert knitter.ask("I have 3 skeins of Cobbler Sock in my stash, one of them 62 g").status == "unclear"


def test_two_yarns_added_to_the_stash_at_once(knitter: Assistant) -> None:
    kept(knitter, "I have 2 skeins of Tern DK in my stash")
    answer = knitter.ask("add 100 g of Hobbin Aran and 2 skeins of Tern DK to my stash")
    assert answer.status == "unclear"
    assert "2 skeins of Tern DK" in facts(knitter.ask("what's in my stash"))[0]


def test_a_label_that_was_spoken_of_is_kept_with_the_stash(knitter: Assistant) -> None:
    assert knitter.ask("900 m of DK in Hobbin Aran, 166 m/100 g").status == "answered"
    assert "166 m/100 g" in told(knitter, "I have 2 skeins of Hobbin Aran in my stash")


def test_several_yarns_remembered_at_once_are_undone_at_once(knitter: Assistant) -> None:
    told(knitter, "remember two yarns: Teasel DK, 200 m/100 g; Teal Aran, 150 m/100 g")
    assert "2 entries are no longer in the notebook" in told(knitter, "undo")
    assert "no yarns" in told(knitter, "list my yarns")


OF_A_STASH = [
    ("I have 250 g of Hobbin Aran in my stash", "250 g"),
    ("I have 2 skeins of Hobbin Aran in my stash", "2 skeins"),
    ("I have another 100 g of Hobbin Aran in my stash", "100 g"),
    ("I have 2 skeins Hobbin Aran in stash", "2 skeins"),
    ("add 2 skeins of Hobbin Aran to my stash", "2 skeins"),
    ("put 3 balls of Hobbin Aran in my stash", "3 skeins"),
]
BEFORE_IT = [
    (),
    ("remember Hobbin Aran, 166 m/100 g, 18 sts to 4 in",),
    ("900 m of DK in Hobbin Aran, 166 m/100 g",),
    ("remember Hobbin Aran, 166 m/100 g, 18 sts to 4 in", "900 m of DK in Hobbin Aran"),
    ("my swatch of Hobbin Aran, 166 m/100 g, is 15 by 15 cm and weighs 12.4 g",),
]


@pytest.mark.parametrize("before", BEFORE_IT)
@pytest.mark.parametrize(("said", "kept"), OF_A_STASH)
def test_told_of_the_stash_at_any_time(said: str, kept: str, before: tuple[str, ...], knitter: Assistant) -> None:
    for text in before:
        assert knitter.ask(text).status == "answered"
    told(knitter, said)
    [item] = facts(knitter.ask("what's in my stash"))
    assert item.startswith(f"{kept} of Hobbin Aran")


THISTLE = "remember Thistle Aran, 166 m/100 g"
SWATCHED = "remember swatch of Thistle Aran, 15 x 15 cm, 12.4 g"
AGAIN = "remember swatch of Thistle Aran, 15 x 15 cm, 12.9 g"


def swatches(assistant: Assistant) -> dict[str, str]:
    found = assistant.ask("list my swatches").figures["items"]
    assert isinstance(found, list)
    return {item.name or "": item.text for item in found if isinstance(item, Item)}


def kept(assistant: Assistant, *said: str) -> None:
    for text in said:
        told(assistant, text)


def test_a_swatch_is_renamed_and_not_its_yarn(knitter: Assistant) -> None:
    kept(knitter, THISTLE, SWATCHED, "rename the Thistle Aran swatch to first try")
    assert list(swatches(knitter)) == ["first try"]
    assert "Thistle Aran" in facts(knitter.ask("list my yarns"))[0]
    assert "11.2 g" in told(knitter, "correct the swatch first try: 11.2 g").split("Before, it was")[0]
    assert "11.2 g" in swatches(knitter)["first try"]


@pytest.mark.parametrize(
    ("said", "says"),
    [
        ("correct the Thistle Aran swatch: 11.3 g", "15 cm × 15 cm, 11.3 g"),
        ("correct my Thistle Aran swatch, 15 x 16 cm", "15 cm × 16 cm, 12.4 g"),
        ("fix the Thistle Aran swatch: 50 g before and 38 g after", "15 cm × 15 cm, 12 g"),
        ("correct the gauge of my Thistle Aran swatch to 18 sts to 10 cm", "18 sts to 10 cm, 15 cm × 15 cm, 12.4 g"),
    ],
)
def test_a_swatch_is_put_right(said: str, says: str, knitter: Assistant) -> None:
    kept(knitter, THISTLE, SWATCHED, said)
    assert says in swatches(knitter)["Thistle Aran swatch"]
    assert "18 sts" not in facts(knitter.ask("list my yarns"))[0]


@pytest.mark.parametrize(
    ("said", "left"),
    [
        ("forget Thistle Aran swatch", ["Thistle Aran swatch 2"]),
        ("forget the first Thistle Aran swatch", ["Thistle Aran swatch 2"]),
        ("forget my second Thistle Aran swatch", ["Thistle Aran swatch"]),
        ("delete Thistle Aran swatch 2", ["Thistle Aran swatch"]),
    ],
)
def test_a_swatch_is_forgotten_and_not_its_yarn(said: str, left: list[str], knitter: Assistant) -> None:
    kept(knitter, THISTLE, SWATCHED, AGAIN, said)
    assert list(swatches(knitter)) == left
    assert len(facts(knitter.ask("list my yarns"))) == 1


def test_the_second_swatch_is_put_right_and_one_of_its_own_name(knitter: Assistant) -> None:
    kept(knitter, THISTLE, SWATCHED, AGAIN, "correct the second Thistle Aran swatch: 12.6 g")
    assert "12.6 g" in swatches(knitter)["Thistle Aran swatch 2"]
    kept(knitter, "rename the second Thistle Aran swatch to Spring", "correct Spring: 12.7 g")
    assert "12.7 g" in swatches(knitter)["Spring"]
    assert knitter.ask("correct Marram Aran: 12.8 g").headline.startswith("Your notebook has no swatch called")
    assert "12.7 g" in told(knitter, "correct Spring, 15 x 16 cm")


def test_which_of_several_swatches_is_asked(knitter: Assistant) -> None:
    kept(knitter, THISTLE, SWATCHED, AGAIN, "rename the Thistle Aran swatch to first try")
    kept(knitter, "rename Thistle Aran swatch 2 to Second")
    assert "first try and Second" in knitter.ask("forget the Thistle Aran swatch").headline
    assert knitter.ask("forget the Marram swatch").status == "unclear"


def test_a_new_name_may_hold_a_weight_and_swatches_go_with_it(knitter: Assistant) -> None:
    kept(knitter, THISTLE, SWATCHED)
    answer = knitter.ask("rename Thistle Aran to Thistle Worsted")
    assert "With it: the swatch “Thistle Worsted swatch”." in answer.headline
    assert answer.reading == "notebook: rename Thistle Aran to Thistle Worsted"
    assert list(swatches(knitter)) == ["Thistle Worsted swatch"]
    kept(knitter, "undo")
    assert list(swatches(knitter)) == ["Thistle Aran swatch"]


@pytest.mark.parametrize("said", ["forget everything", "forget all of it", "delete my notebook", "forget my swatches"])
def test_everything_is_never_forgotten_at_once(said: str, knitter: Assistant) -> None:
    kept(knitter, THISTLE, SWATCHED)
    assert knitter.ask(said).headline.startswith("Forget what?")
    assert len(facts(knitter.ask("list"))) == 2 + 3


def test_a_label_put_right_is_that_of_its_swatches_and_stash(knitter: Assistant) -> None:
    kept(knitter, "remember Thistle Sport, 155 m/50 g", "I have 3 skeins of Thistle Sport, 155 m/50 g in my stash")
    kept(
        knitter, "remember swatch of Thistle Sport, 155 m/50 g, 15 x 15 cm, 9.0 g", "correct Thistle Sport: 150 m/50 g"
    )
    assert "150 m/50 g" in swatches(knitter)["Thistle Sport swatch"]
    # 3 x 150 m
    assert value(knitter.ask("do I have enough Thistle Sport for 440 m of sport?"), "have") == pytest.approx(450)
    kept(knitter, "undo")
    assert "155 m/50 g" in swatches(knitter)["Thistle Sport swatch"]
    assert value(knitter.ask("do I have enough Thistle Sport for 440 m of sport?"), "have") == pytest.approx(465)


def test_what_a_stash_says_otherwise_stays(knitter: Assistant) -> None:
    # 2 old skeins of 140 m, whatever the label says now
    kept(knitter, "remember Thistle Sport, 155 m/50 g", "I have 2 skeins of Thistle Sport, 140 m/50 g in my stash")
    kept(knitter, "correct Thistle Sport: 150 m/50 g, £7 a skein")
    assert "2 skeins of Thistle Sport, 140 m/50 g, £7.00 a skein" in facts(knitter.ask("list my stash"))[0]


@pytest.mark.parametrize(
    ("said", "says"),
    [
        ("Marsh Fog is actually 430 yards per 115g", "430 yd/115 g"),
        ("Marsh Fog actually has 430 yards per 115 g", "430 yd/115 g"),
        ("Marsh Fog is actually DK", "Marsh Fog, DK, 420 yd/115 g"),
        ("sorry, Marsh Fog should be 430 yd/115 g", "430 yd/115 g"),
    ],
)
def test_a_remembered_yarn_that_is_actually_otherwise(said: str, says: str, knitter: Assistant) -> None:
    kept(knitter, "remember Marsh Fog, 420 yd/115 g")
    assert says in told(knitter, said)
    assert says in facts(knitter.ask("list my yarns"))[0]


def test_a_yarn_that_is_only_spoken_of_is_not_remembered_by_actually(knitter: Assistant) -> None:
    kept(knitter, "remember Marsh Fog, 420 yd/115 g")
    knitter.ask("900 m of worsted in Tern DK, 230 yd/100 g")
    assert knitter.ask("Tern DK is actually 240 yd/100 g").ability != "notebook"
    assert knitter.ask("is Marsh Fog actually enough for 900 m?").ability != "notebook"
    assert knitter.ask("actually use Marsh Fog, 430 yd/115 g").ability != "notebook"
    assert "420 yd/115 g" in facts(knitter.ask("list my yarns"))[0]


@pytest.mark.parametrize("said", ["backup my notebook as", "back up my notebook to", "back-up the notebook as"])
def test_a_backup_is_an_export(said: str, knitter: Assistant, tmp_path: Path) -> None:
    kept(knitter, THISTLE)
    assert told(knitter, f"{said} {tmp_path / 'mine.json'}").startswith("Exported to")


def test_a_needle_is_no_name(knitter: Assistant) -> None:
    assert knitter.ask("remember my needle is 4 mm").headline.startswith("What is the yarn called")


@pytest.mark.parametrize("said", ["undo undo", "undo 2", "undo the last 2", "undo, undo"])
def test_undo_as_often_as_said(said: str, knitter: Assistant) -> None:
    kept(knitter, THISTLE, SWATCHED, AGAIN)
    assert told(knitter, said).count("Undone:") == 2
    assert facts(knitter.ask("list"))[0].startswith("Thistle Aran, worsted, 166 m/100 g")
    assert knitter.ask("undo 2").cautions == ["There is nothing to undo: the notebook is as it was at the start."]


@pytest.mark.parametrize("said", ["what are my settings", "what are my settings?", "show my settings", "show settings"])
def test_settings_are_listed(said: str, knitter: Assistant) -> None:
    assert told(knitter, said) == "These are your settings."


@pytest.mark.parametrize("said", ["answer in the units of the question", "use the units of the pattern"])
def test_units_of_the_question(said: str, knitter: Assistant) -> None:
    kept(knitter, "set units to m")
    assert told(knitter, said) == "Lengths are shown in the units of the question."


def test_ratios_are_no_list(knitter: Assistant) -> None:
    kept(knitter, THISTLE)
    assert knitter.ask("show my ratios").ability == "ratios"


@pytest.mark.parametrize(
    "said",
    ["what do you know about Thistle Aran", "what do you remember about thistle aran?", "show Thistle Aran"],
)
def test_all_that_is_known_of_a_yarn(said: str, knitter: Assistant) -> None:
    kept(knitter, THISTLE, "remember Tern DK, 240 m/100 g", SWATCHED, "I have 3 skeins of Thistle Aran in my stash")
    assert told(knitter, said) == "Your notebook has 1 yarn, 1 swatch, 1 stash yarn of Thistle Aran."


def test_an_import_says_what_becomes_of_settings(knitter: Assistant, tmp_path: Path) -> None:
    file = tmp_path / "mine.json"
    kept(knitter, THISTLE, "set spares to 2", f"export my notebook to {file}", "set units to m", "set spares to 3")
    seen = knitter.ask(f"import my notebook from {file}").working
    assert seen[0] == "Sets: Spare skeins: 2."
    assert seen[-1] == "Your own stays, the file has the usual: Lengths are shown in m."
    assert told(knitter, "yes").endswith("0 added, 0 changed, 1 unchanged. Spare skeins: 2.")
    again = knitter.ask(f"import my notebook from {file}")
    assert again.headline.startswith("Nothing in")
    assert again.working == seen[-1:]


@pytest.mark.parametrize(
    ("measures", "says"),
    [
        # 12.4 g x 166 m/100 g over 225 cm²: 9.1484 cm/cm²
        ("15 x 15 cm, 12.4 g, 18 sts to 4 in", "18 sts to 4 in, 15 cm × 15 cm, 12.4 g, 915 m/m² ("),
        # over 36 in²: 22.5109 yd / 36; 30 and 39 over 6 in are 20 and 26 to 4 in
        ("6 x 6 in, 12.4 g, 30 sts and 39 rows", "12.4 g, 30 sts, 39 rows, 0.63 yd/in², 20 sts and 26 rows to 4 in ("),
    ],
)
def test_swatches_are_listed_with_what_their_fabric_takes(measures: str, says: str, knitter: Assistant) -> None:
    kept(knitter, THISTLE, f"remember swatch of Thistle Aran: {measures}")
    assert says in swatches(knitter)["Thistle Aran swatch"]


def test_two_spares_are_spares(knitter: Assistant) -> None:
    kept(knitter, "I always buy 2 spares")
    # 1200 / 210 = 5.71
    answer = knitter.ask("how many 210 yd skeins for 1200 yd?")
    assert answer.headline.startswith("Buy 6 skeins and 2 spares")
    assert any(step.endswith("6 skeins, and 2 spares") for step in answer.working)


def test_other_crafts_are_told_in_plain_words(knitter: Assistant) -> None:
    assert knitter.ask("I weave, how much yarn for a scarf?").headline.startswith(
        "I only know hand-knitting. By “I weave” you speak of another fabric"
    )
