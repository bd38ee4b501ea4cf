"""The Lots by keys: a new lot, the board, the ways on from it."""

import shutil
from pathlib import Path

import pytest
from PySide6.QtWidgets import QPushButton

from benchapp.desktop.lots.lot_hazards import LotHazards
from benchapp.files.shipped import shipped_folder
from tests.desktop.widgets.test_caps import click_cap
from tests.desktop.widgets.test_hints import click_hint
from tests.desktop.windows import make_workbook, take_in, window_on

ATTIC = Path(__file__).parents[2] / "cli" / "attic"


@pytest.fixture
def empty(look, bench):
    with window_on(look, bench, initials="") as before_it:
        yield before_it


def take_in_by_keys(technician, **changes):
    wanted = {"name": "Shelf nine", "equipment": "tb-mu1", "count": 12, "first": "TB-001", "initials": "AB"} | changes
    technician.take_in(**wanted)


def test_an_empty_workbook_says_how_to_begin(empty):
    assert empty.reads("lots-empty") == "No lot yet. Ctrl+N takes in the first one."
    assert not empty.window.lots.board.isVisible()


def test_a_lot_is_taken_in_by_keys_alone(empty):
    take_in_by_keys(empty)
    bench = empty.window.context.bench
    assert [unit.mark for unit in bench.units("Shelf nine")][::11] == ["TB-001", "TB-012"]
    assert {unit.disposition for unit in bench.units()} == {"quarantine"}
    assert empty.window.lots.lot() == "Shelf nine"
    assert empty.at_keyboard().objectName() == "board"
    assert empty.reads("initials") == "AB"


@pytest.mark.parametrize(
    ("changes", "sentence"),
    [
        ({"name": " "}, "Give the lot a name."),
        ({"first": " "}, "Type the first shelf mark, such as TB-001: the others count up from it."),
        ({"initials": " "}, "Type your initials: they stand under what you record."),
        ({"count": ""}, "Say how many units there are."),
    ],
    ids=lambda value: next(iter(value)) if isinstance(value, dict) else "",
)
def test_what_is_missing_is_said_in_the_dialog(empty, changes, sentence):
    take_in_by_keys(empty, **changes)
    assert empty.reads("new-lot-complaint") == sentence
    assert empty.window.context.bench.lots() == ()
    empty.strike("Esc")


def test_what_was_missing_is_complained_of_until_it_is_typed(empty):
    take_in_by_keys(empty, first=" ")
    assert empty.reads("new-lot-complaint").startswith("Type the first shelf mark")
    empty.tab_to("new-lot-first")
    empty.retype("TB-001")
    assert empty.reads("new-lot-complaint") == ""
    empty.strike("Esc")


def test_shelf_marks_are_shown_before_they_are_given(empty):
    empty.strike("Ctrl+N")
    empty.tab_to("new-lot-count")
    empty.retype("12")
    empty.tab_to("new-lot-first")
    empty.type("TB-007")
    assert empty.reads("new-lot-marks") == "TB-007 to TB-018"
    empty.strike("Esc")


def test_a_name_that_is_taken_is_refused_and_what_was_typed_stays(empty):
    take_in_by_keys(empty)
    take_in_by_keys(empty, first="TB-101")
    assert "Shelf nine" in empty.reads("new-lot-complaint")
    assert empty.reads("new-lot-first") == "TB-101"
    empty.strike("Esc")


def test_only_routes_that_fit_the_equipment_are_offered(empty):
    empty.strike("Ctrl+N")
    dialog = empty.window.findChild(object, "new-lot-dialog")
    dialog.equipment.setCurrentIndex(dialog.equipment.findData("tb-ls1"))
    routes = [dialog.route.itemData(number) for number in range(dialog.route.count())]
    assert routes == ["loudspeaker"]
    empty.strike("Esc")


@pytest.fixture
def author(empty):
    """Files of the author's own beside the workbook that the window is on."""
    folder = empty.window.context.bench.path.parent
    for kind in ("equipment", "connectors"):
        shutil.copytree(ATTIC / kind, folder / kind)
    return folder


def test_equipment_described_beside_the_workbook_is_taken_in_and_tested(empty, author):
    take_in_by_keys(empty, equipment="tb-sb1", count=2, name="Boxes")
    bench = empty.window.context.bench
    assert {unit.equipment for unit in bench.units("Boxes")} == {"tb-sb1"}
    assert [stage.id for stage in bench.plan("TB-001").stages] == ["visual-inspection", "continuity", "clean"]
    empty.take_unit("TB-001")
    assert empty.reads("unit") == "TB-001"


def test_a_wrong_file_beside_the_workbook_is_named_and_the_rest_offered(empty, author):
    file = author / "equipment" / "tb-sb1.yaml"
    file.write_text(file.read_text().replace("class:", "clas:"))
    empty.strike("Ctrl+N")
    dialog = empty.window.findChild(object, "new-lot-dialog")
    assert dialog.equipment.findData("tb-lp1") >= 0
    assert dialog.equipment.findData("tb-sb1") == -1
    assert f"{file}:4:1:" in empty.reads("new-lot-left-out")
    empty.strike("Esc")


def test_own_texts_and_every_looser_file_beside_the_workbook_are_named(empty):
    folder, shipped = empty.window.context.bench.path.parent, shipped_folder("resources")
    limits = (shipped / "limits" / "gb.yaml").read_text(encoding="utf-8")
    for name, value in (("ours.yaml", "0.08"), ("milder.yaml", "50")):
        (folder / name).write_text(limits.replace("    value: 0.1\n", f"    value: {value}\n", 1), encoding="utf-8")
    face = (shipped / "connectors" / "gb-13a-plug.yaml").read_text(encoding="utf-8")
    (folder / "plug.yaml").write_text(face.replace("x: -11.1", "x: 0").replace("x: 11.1", "x: -11.1"), encoding="utf-8")
    (folder / "milder.yaml").rename(folder / "zz.yaml")
    empty.strike("Ctrl+N")
    left_out = empty.reads("new-lot-left-out")
    assert "plug.yaml:" in left_out
    assert "zz.yaml:" in left_out
    (folder / "zz.yaml").unlink()
    empty.strike("Esc", "Ctrl+N")
    assert "earth continuity, base: 0.08 ohm in place of 0.1 ohm" in empty.reads("new-lot-own-texts")
    assert "zz.yaml" not in empty.reads("new-lot-left-out")
    empty.strike("Esc")


def test_enter_on_a_row_takes_the_unit(technician):
    technician.take_unit("TB-002")
    assert technician.reads("unit") == "TB-002"


def test_the_arrow_up_from_the_first_row_comes_to_the_column_heads(technician):
    technician.strike("F2", "Ctrl+Home", "Up")
    board = technician.window.lots.board
    assert board.board.stage_at(board.heads.at_hand)[1] == "Visual inspection"
    technician.strike("Right")
    assert board.board.stage_at(board.heads.at_hand)[1] == "Mains plug"
    technician.strike("Down")
    assert board.heads.at_hand == -1
    assert board.mark() == "TB-001"


def test_the_board_shows_what_was_just_recorded(technician):
    technician.take_unit("TB-001")
    technician.strike("y")
    technician.mark_rows({})
    technician.strike("F2")
    board = technician.window.lots.board.board
    assert board.index(0, 2).data() == "begun 1/5"


def test_two_lots_are_told_apart_in_the_list(look, path, clock):
    from benchapp.actions.entries.intake import take_in_lot
    from benchapp.actions.workbench.bench import Bench

    make_workbook(path, clock=clock)
    bench = Bench.open(path, clock=clock)
    take_in(bench)
    take_in_lot(bench, name="Crate two", equipment="tb-ls1", route="loudspeaker", marks=("LS-1", "LS-2"), by="AB")
    with window_on(look, bench) as technician:
        technician.strike("Alt+L")
        names = [technician.window.lots.chooser.itemText(number).split(":")[0] for number in range(2)]
        assert sorted(names) == ["Crate two", "Shelf nine"]
        technician.strike("Down")
        assert technician.window.lots.lot() == names[1]


def test_tags_of_a_lot_are_written_where_the_person_says(technician, tmp_path):
    technician.strike("F2", "Ctrl+E")
    technician.retype(str(tmp_path / "out.pdf"))
    technician.strike("Enter")
    assert (tmp_path / "out.pdf").read_bytes().startswith(b"%PDF")


def test_a_folder_that_cannot_be_written_is_said_in_the_dialog(technician, tmp_path):
    technician.strike("F2", "Ctrl+E")
    technician.retype(str(tmp_path / "no such folder" / "out.pdf"))
    technician.strike("Enter")
    assert "no such folder" in technician.reads("save-complaint")
    technician.strike("Esc")


def test_a_design_for_other_mains_says_so_as_soon_as_it_is_chosen(empty):
    folder = empty.window.context.bench.path.parent
    design = (shipped_folder("resources") / "equipment" / "tb-mu2.yaml").read_text(encoding="utf-8")
    imported = (
        design.replace("equipment: tb-mu2", "equipment: tb-mu9").replace("240 V", "120 V").replace("310 ohm", "78 ohm")
    )
    (folder / "tb-mu9.yaml").write_text(imported, encoding="utf-8")
    empty.strike("Ctrl+N")
    dialog = empty.window.findChild(object, "new-lot-dialog")
    dialog.equipment.setCurrentIndex(dialog.equipment.findData("tb-mu1"))
    assert not dialog.group.mains.isVisible()
    dialog.equipment.setCurrentIndex(dialog.equipment.findData("tb-mu9"))
    assert empty.reads("new-lot-mains").startswith("It is made for 120 V, and mains here is 230 V")
    empty.strike("Esc")


def test_hazards_of_the_design_are_asked_at_intake_by_one_key_each(empty):
    """The whole lot has perished cords: every unit bears it from intake on."""
    empty.strike("F2", "Ctrl+N")
    empty.type("Shelf ten")
    empty.tab_to("new-lot-equipment")
    box = empty.at_keyboard()
    while box.currentData() != "tb-mu1":
        empty.strike("Down")
    empty.tab_to("new-lot-count")
    empty.retype("2")
    empty.tab_to("new-lot-first")
    empty.type("TB-001")
    empty.tab_to("new-lot-initials")
    empty.retype("AB")
    empty.tab_to("new-lot-hazards")
    asked = empty.at_keyboard()
    assert [row.words for row in asked.rows()] == ["Asbestos", "Perished rubber or fabric cord", "Bridged thermal link"]
    empty.strike("1", "2", "1")
    assert asked.in_all == ("perished-cord",)
    empty.tab_to("new-lot-take-in")
    empty.strike("Space")
    bench = empty.window.context.bench
    found = {(unit.mark, one.old_hazard) for unit in bench.units() for one in bench.state(unit.mark).faults}
    assert found == {("TB-001", "perished-cord"), ("TB-002", "perished-cord")}


def test_a_click_on_a_cap_says_that_all_units_have_the_hazard_and_another_takes_it_back(look, shown, bench):
    asked = shown(LotHazards(look), 900, 400)
    asked.offer(list(bench.catalogue.hazards.values())[:2])
    second = asked.rows()[1].words
    click_cap(asked, 1, 1)
    assert len(asked.in_all) == 1
    assert [row.detail.split(":")[0] for row in asked.rows()] == ["look at each", "all have it"]
    click_cap(asked, 1, 0)
    assert asked.in_all == ()
    assert asked.rows()[1].words == second


def test_the_foot_of_the_lots_is_clicked_as_its_keys_are_struck(technician):
    foot = technician.window.lots.hints
    click_hint(foot, "enter")  # it acts on a row, and the list has its own click for it
    technician.settle()
    assert technician.window.lots.isVisible()
    click_hint(foot, "opening")
    technician.settle()
    assert technician.page.name == "opening"


def test_on_the_first_day_a_small_window_with_large_text_stays_as_small(look, bench):
    """The five steps stood in one column that made the window 937 pixels high."""
    look.set_percent(200)
    with window_on(look, bench, size=(1024, 700)) as technician:
        assert technician.window.lots.empty.isVisible()
        assert (technician.window.width(), technician.window.height()) == (1024, 700)
        step = technician.window.findChild(QPushButton, "first-day-opening")
        step.setFocus()
        technician.settle()
        assert step.visibleRegion().contains(step.rect().center())
