"""The repair page: its list by keys, what it opens, what is taken again before anybody agrees."""

import pytest
from PySide6.QtCore import QCoreApplication, QEvent, Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QLabel

from benchapp.desktop.bench.repair_words import retest_words
from demo.scenario import Hidden
from tests.desktop.bench.test_screen import last
from tests.desktop.test_held_keys import hold
from tests.desktop.walks import AT_PINS, Place, unit_of, work_until

WRONG_FUSE = Hidden(answers={"plug-rewire.fuse-rating": "13 A"})


@pytest.fixture
def mending(walked_to):
    """TB-001 with the wrong fuse in its plug, its repair due."""
    return walked_to(Place(page="repair", hidden=WRONG_FUSE))


def recorded(walked_to, part, mode):
    """A fault of the circuit at the first pair of the outlet that is read."""
    technician = walked_to(AT_PINS)
    technician.type("OL")
    technician.strike("Enter")
    technician.tab_to("fault-part")
    technician.retype(part)
    technician.tab_to("fault-mode")
    technician.retype(mode)
    technician.strike("Enter")
    assert technician.page.name == "repair"
    return technician


def boxes(technician):
    return {key: (box.isChecked(), box.isEnabled()) for key, box in technician.page.opened.items()}


def stages(technician):
    return [row.words.partition(":")[0] for row in technician.page.scope.rows()]


def test_the_keyboard_begins_on_the_list_and_one_key_ticks_a_line(mending):
    assert mending.at_keyboard().objectName() == "repair-list"
    mending.strike("Enter", "3", "Space")
    marks = [mending.page.marks.get(name) for name in mending.page.names]
    assert marks[:4] == ["done", "does not apply", "done", None]


def test_what_the_list_opens_is_ticked_and_cannot_be_unticked(mending):
    assert boxes(mending) == {"cord": (False, True), "plug": (True, False), "enclosure": (False, True)}
    assert "Visual inspection" in stages(mending)


def test_more_may_be_ticked_than_the_list_opens(mending):
    mending.tick("repair-opened-enclosure")
    assert mending.page._opened() == ("plug", "enclosure")


def test_the_cautions_stand_above_the_list(walked_to):
    technician = recorded(walked_to, "low-a", "open")
    said = f"{technician.reads('repair-cautions')} {technician.reads('repair-caution-words')}"
    for words in ("Unplugged, and in sight", "can hold charge", "Hot iron", "solder splashes", "Before hands go in"):
        assert words in said
    assert said.count("Follow your local codes") == 1


def test_one_caution_stands_there_and_none_of_live_work_beside_plug_out(walked_to):
    technician = walked_to(Place(at="first-power.current", page="reading"))
    assert "Mind: Mains can kill" in technician.reads("position")
    technician.type("300 mA")
    technician.strike("Enter")
    work_until(technician, unit_of(), lambda: technician.page.name == "repair")
    assert technician.reads("supply") == "Plug out, in sight"
    assert "Mains can kill" not in technician.reads("position")
    bold = [one for one in technician.page.findChildren(QLabel) if one.property("kind") == "complaint"]
    assert [one.objectName() for one in bold if one.isVisible()] == ["repair-cautions"]


def test_nothing_is_recorded_before_what_is_taken_again_was_in_sight(mending):
    before = last(mending).number
    for _ in mending.page.names:
        mending.strike("Enter")
    assert last(mending).number == before
    assert mending.at_keyboard().objectName() == "repair-record"
    assert "Agreed: record the repair" in mending.reads("repair-record")
    assert not mending.page.scope.visibleRegion().isEmpty()
    mending.strike("Enter")
    entry = last(mending)
    assert entry.kind == "repair"
    assert entry.content.opened == ("plug",)
    assert entry.content.actions[0].startswith("Plug out of the socket")
    assert "Put in a fuse link of the rating" in entry.content.done
    assert "Plug out" not in entry.content.done


def test_lines_that_are_not_ticked_are_named_before_anything_is_recorded(mending):
    before = last(mending).number
    mending.strike("Enter")
    mending.tab_to("repair-done")
    mending.strike("Enter")
    assert mending.complaint.startswith("6 of 7 lines are not ticked")
    assert mending.at_keyboard().objectName() == "repair-list"
    assert last(mending).number == before


def test_a_line_of_ones_own_stands_in_place_of_the_list(mending):
    mending.tab_to("repair-done")
    mending.type("fuse changed by the workshop next door")
    mending.strike("Enter", "Enter")
    entry = last(mending)
    assert (entry.kind, entry.content.done) == ("repair", "fuse changed by the workshop next door")
    assert entry.content.actions == ()
    assert entry.content.opened == ("plug",)


def test_another_part_brings_another_list_and_keeps_the_ticks_they_share(mending):
    mending.strike("Enter", "Enter")
    shared = dict(mending.page.marks)
    mending.tab_to("repair-part")
    mending.retype("low-a-twin")
    assert any("the joint at pin 4" in name for name in mending.page.names)
    assert mending.page.marks == shared
    assert mending.page._opened() == ("enclosure",)


def test_ticks_and_words_outlive_a_look_elsewhere(mending):
    mending.strike("Enter", "Enter")
    mending.tab_to("repair-parts")
    mending.type("3 A fuse 1")
    mending.strike("F9", "Esc")
    assert mending.page.name == "repair"
    assert sum(mark == "done" for mark in mending.page.marks.values()) == 2
    assert mending.page.parts.text() == "3 A fuse 1"


def test_a_crossed_pair_opens_the_case_and_leaves_the_plug_alone(walked_to):
    technician = recorded(walked_to, "outlet.2, outlet.3", "crossed")
    assert technician.page._opened() == ("enclosure",)
    assert any("pin 2 of the outlet and pin 3 of the outlet" in name for name in technician.page.names)
    assert "Mains plug" not in stages(technician)
    assert {"Visual inspection", "Continuity"} <= set(stages(technician))


def test_the_search_goes_on_from_the_repair_and_its_find_is_what_is_mended(walked_to):
    """The fault was recorded as one part; the search finds another, and the repair follows it."""
    technician = walked_to(Place(page="fault", hidden=Hidden(defect={"part": "low-a-twin", "mode": "open"})))
    technician.tab_to("fault-part")
    technician.retype("low-a")
    technician.tab_to("fault-mode")
    technician.retype("open")
    technician.strike("Enter")
    assert "F10" in [hint.key for hint in technician.window.bench.hints.hints()]
    technician.strike("F10")
    assert technician.page.name == "search"
    technician.strike("Ctrl+Enter")
    assert technician.page.name == "repair"
    assert technician.page.part.part() == "low-a-twin"
    for _ in technician.page.names:
        technician.strike("Enter")
    technician.strike("Enter")
    entry = last(technician)
    assert (entry.kind, entry.content.part) == ("repair", "low-a-twin")
    mended = technician.view.state.faults[0]
    assert (mended.part, mended.mode, mended.repair) == ("low-a-twin", "open", entry.number)


def test_the_steps_that_are_taken_again_are_named_stage_by_stage(walked_to):
    """A joint at pin 1 moves what pin 1 reads; opening the enclosure, what the safety of the case rests on."""
    technician = recorded(walked_to, "low-a", "open")
    rows = {row.words.partition(":")[0]: row for row in technician.page.scope.rows()}
    named = rows["Continuity"].detail.split(", ")
    assert {"earth continuity", "outlet 1 to 2"} <= set(named)
    assert rows["Visual inspection"].detail == "old hazards, outside, cord closely"
    counted = sum(int(row.words.rpartition(": ")[2].split()[0]) for row in rows.values())
    assert technician.reads("repair-scope-head") == f"{counted} steps are to be taken again."
    assert f"{counted} steps" in technician.page.record.accessibleName()
    technician.window.look.set_percent(200)
    technician.settle()
    assert not any(row.detail for row in technician.page.scope.rows())


def test_what_was_due_already_is_said_beside_what_is_taken_again():
    assert retest_words(12, 0) == "12 steps are to be taken again."
    assert retest_words(12, 8) == "12 steps are to be taken again. 8 of them were due already."
    assert retest_words(1, 1) == "1 step is to be taken again. 1 of them was due already."


def enter_at(technician, when):
    """Strike Enter at that time of the keyboard (ms) where the keyboard is."""
    for kind, at in ((QEvent.Type.KeyPress, when), (QEvent.Type.KeyRelease, when + 40)):
        event = QKeyEvent(kind, Qt.Key.Key_Return, Qt.KeyboardModifier.NoModifier, "\r")
        event.setTimestamp(at)
        QCoreApplication.sendEvent(technician.at_keyboard(), event)
        technician.settle()


def test_a_doubled_enter_on_the_last_line_does_not_agree_and_a_later_one_does(mending):
    before = last(mending).number
    mending.strike(*["Enter"] * (len(mending.page.names) - 1))
    enter_at(mending, 5000)
    assert mending.at_keyboard().objectName() == "repair-record"
    enter_at(mending, 5200)
    assert last(mending).number == before
    enter_at(mending, 6000)
    assert last(mending).kind == "repair"


def test_an_enter_that_is_held_on_the_last_line_does_not_agree(mending):
    before = last(mending).number
    mending.strike(*["Enter"] * (len(mending.page.names) - 1))
    hold(mending, Qt.Key.Key_Return, "\r")
    assert mending.at_keyboard().objectName() == "repair-record"
    assert last(mending).number == before


def test_tab_leads_from_the_agreement_round_to_the_list_and_the_fields_of_the_page(mending):
    mending.strike(*["Enter"] * len(mending.page.names))
    assert mending.at_keyboard().objectName() == "repair-record"
    mending.strike("Tab")
    assert mending.at_keyboard().objectName() == "repair-list"
    mending.strike("Tab")
    assert mending.at_keyboard().objectName() == "repair-part"
    mending.tab_to("repair-record")
    mending.tab_to("repair-list")
