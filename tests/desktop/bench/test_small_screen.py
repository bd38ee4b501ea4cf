"""On a screen of 1024 by 700, with text at twice its size, what is needed stands in sight and nothing is cut off."""

import pytest
from PySide6.QtCore import QPoint
from PySide6.QtWidgets import QScrollArea

from benchapp.actions.entries.intake import shelf_marks, take_in_lot
from benchapp.actions.workbench.bench import Bench
from tests.desktop.windows import prove_meters, take_in, window_on
from tests.journeys.shift import Shift
from tests.people import staffed


def area_of(widget):
    above = widget.parentWidget()
    while not isinstance(above, QScrollArea):
        above = above.parentWidget()
    return above


def assert_in_sight(technician):
    """Every lit pin with its ring lies inside what is seen of the page, and the window is no larger than the screen."""
    window, page = technician.window, technician.page
    window.look.set_percent(200)
    window.resize(1024, 700)
    for _ in range(3):
        technician.settle()
    page.take_focus()  # as when the page is turned to
    technician.settle()
    assert window.width() <= 1024
    assert window.height() <= 700
    area = area_of(page.face)
    seen = area.viewport().rect()
    pins = page.face.lit()
    assert len(pins) == 2
    offset = page.face.mapTo(area.viewport(), QPoint(0, 0))
    for pin in pins:
        assert seen.contains(pin.translated(offset).toAlignedRect()), (pin, offset, seen)
    assert seen.contains(page.field.mapTo(area.viewport(), page.field.rect().bottomLeft()))


@pytest.mark.parametrize("page", ["reading", "search"])
def test_a_dead_pair_is_lit_in_sight(look, bench, page):
    with window_on(look, bench, initials="", size=(1024, 700)) as technician:
        shift = Shift(technician, "TB-001", defect={"part": "outlet.2, outlet.3", "mode": "crossed"})
        shift.take_in(count=1)
        shift.work_until_page("fault")
        technician.strike("F10" if page == "search" else "F3")
        assert technician.page.name == page
        assert_in_sight(technician)


@pytest.mark.parametrize("page", ["reading", "search"])
def test_a_live_pair_is_lit_in_sight_above_the_large_key(look, bench, page):
    with window_on(look, bench, initials="", size=(1024, 700)) as technician:
        shift = Shift(technician, "TB-001")
        shift.take_in(count=1)
        shift.work_until(lambda: technician.address.startswith("live-voltage.outputs") and technician.due == "step")
        technician.type("8.72 V")
        if page == "search":
            technician.strike("F10")
        assert technician.page.name == page
        assert technician.window.bench.off.isVisible()
        assert_in_sight(technician)


def test_the_line_that_leads_the_way_back_stands_in_sight_above_the_field(look, bench):
    """An output without any voltage is told on by ohms, and ohms wait for the way back."""
    with window_on(look, bench, initials="", size=(1024, 700)) as technician:
        look.set_percent(200)
        shift = Shift(technician, "TB-001")
        shift.take_in(count=1)
        shift.work_until(lambda: technician.address.startswith("live-voltage.outputs") and technician.due == "step")
        technician.type("0.0 V")
        technician.strike("F10")
        for _ in range(6):
            if technician.page._waits_for_way_back():
                break
            technician.type("0.0 V")
            technician.strike("Enter")
        assert technician.page._waits_for_way_back()
        page = technician.page
        assert page.probe.text().startswith("Read dead: the way back first")
        area = area_of(page.probe)
        assert area.viewport().rect().contains(page.probe.mapTo(area.viewport(), page.probe.rect().bottomLeft()))


LONG = "the very long flexible wire from the left screw to the terminal block"


@pytest.fixture
def long_names(look, path, clock, tmp_path):
    """An item whose part has a name of seventy letters and that is read at bare screws; its first reading failed."""
    bench = Bench.create(path, clock=clock, folders=(write_long_names(tmp_path / "own"),), workshop=staffed())
    take_in(bench, count=2, equipment="patch-box", route="patch-check")
    prove_meters(bench)
    with window_on(look, bench, size=(1024, 700)) as technician:
        look.set_percent(200)
        technician.take_unit("TB-001")
        technician.strike("1")
        technician.type("0.12")
        technician.strike("Enter")
        technician.type("OL")
        yield technician


def write_long_names(folder):
    folder.mkdir()
    (folder / "box.yaml").write_text(
        "equipment: patch-box\ntitle: Patch box\nclass: none\nconnectors: {input: binding-posts-2}\n"
        "points: {left: the left screw terminal, right: the right screw terminal}\ncircuit:\n"
        "  - {link: red-wire, between: [input.red, left], say: the red wire}\n"
        "  - {link: black-wire, between: [input.black, right], say: the black wire}\n"
        f'  - {{link: left-wire, between: [left, a], say: "{LONG}"}}\n'
        "  - {link: right-wire, between: [right, a], say: the other wire}\n",
        encoding="utf-8",
    )
    (folder / "pair.yaml").write_text(
        "sequence: patch-pair\ntitle: A pair\nsay: Unplugged.\nsteps:\n"
        "  - {measure: leads, say: Touch the tips., function: resistance, accept: at most 1 ohm, "
        "shows: [leads proved]}\n"
        "  - {measure: pair, say: Left to right., at: [left, right], function: resistance, accept: from wiring}\n",
        encoding="utf-8",
    )
    (folder / "route.yaml").write_text(
        "route: patch-check\ntitle: A pair\nequipment: [patch-box]\nsequences: [patch-pair]\n", encoding="utf-8"
    )
    return folder


def assert_no_wider_than_the_screen(technician):
    technician.settle()
    assert technician.window.width() <= 1024
    assert technician.window.height() <= 700
    area = area_of(technician.page.say)
    assert area.horizontalScrollBar().maximum() == 0, technician.page.name


def test_long_names_of_parts_make_no_page_of_the_search_wider_than_the_screen(long_names):
    technician = long_names
    assert_no_wider_than_the_screen(technician)
    technician.strike("F10")
    assert technician.page.name == "search"
    assert_no_wider_than_the_screen(technician)
    while technician.page.marked().words != f"{LONG} is open":
        technician.strike("Down")
    technician.strike("Ctrl+Enter")
    assert technician.page.name == "fault"
    assert LONG in technician.page.part.currentText()
    assert_no_wider_than_the_screen(technician)
    technician.strike("Enter")
    assert technician.page.name == "repair"
    assert_no_wider_than_the_screen(technician)


def test_the_bench_opening_is_no_wider_than_the_screen(long_names):
    long_names.strike("F8")
    assert long_names.page.name == "opening"
    assert_no_wider_than_the_screen(long_names)


def test_long_names_of_lots_make_no_place_wider_or_higher_than_the_screen(look, bench):
    marks = shelf_marks("TB-001", 2)
    name = "Mains units from the stage store of the village hall, second shelf"
    take_in_lot(bench, name=name, equipment="tb-mu1", route="mains-unit", marks=marks, by="AB")
    with window_on(look, bench, size=(1024, 700)) as technician:
        look.set_percent(200)
        for key in ("F2", "F11"):
            technician.strike(key)
            technician.settle()
            assert (technician.window.width(), technician.window.height()) <= (1024, 700)
            assert technician.window.minimumSizeHint().width() <= 1024
            assert technician.window.minimumSizeHint().height() <= 700


def test_larger_text_shortens_the_cautions_of_a_repair_at_once(look, bench):
    with window_on(look, bench, initials="", size=(1024, 700)) as technician:
        shift = Shift(technician, "TB-001", defect={"part": "low-a-twin", "mode": "open"})
        shift.take_in(count=1)
        shift.work_until_page("repair")
        full = technician.page.cautions.text()
        look.set_percent(200)
        technician.settle()
        assert len(technician.page.cautions.text()) < len(full)
        assert not technician.page.caution_words.isVisible()
        assert technician.page.cautions.text().partition("\n")[0].endswith("Follow your local codes.")
        assert not technician.page.reason.isVisible()
        area = area_of(technician.page.list)
        technician.page.take_focus()
        first = technician.page.list.visualRect(technician.page.list.currentIndex())
        at = technician.page.list.viewport().mapTo(area.viewport(), first.bottomLeft())
        assert area.viewport().rect().contains(at)


def test_a_caution_is_taken_as_read_only_when_its_end_was_in_sight(look, bench):
    look.set_percent(200)
    take_in(bench)
    with window_on(look, bench, size=(1024, 700)) as technician:
        technician.take_unit("TB-001")
        assert technician.page.name == "caution"
        assert technician.reads("position") == "1/5 Visual inspection"
        words, area = technician.page.words, area_of(technician.page.words)
        pages = 0
        while technician.page.name == "caution":
            in_sight = words.mapTo(area.viewport(), words.rect().bottomLeft()).y() <= area.viewport().height()
            technician.strike("y")
            pages += 1
            assert (technician.page.name == "caution") != in_sight
        assert pages > 1
        assert area.verticalScrollBar().value() > 0
        technician.give_initials("SV")  # reads it too, from its top
        assert technician.page.name == "caution"
        assert area.verticalScrollBar().value() == 0


@pytest.mark.parametrize("size", [(1366, 740), (1024, 700)])
def test_the_button_that_opens_the_bench_is_in_sight(look, bench, size):
    take_in(bench)
    with window_on(look, bench, size=size) as technician:
        technician.strike("F8")
        technician.settle()
        button, area = technician.page.button, area_of(technician.page.button)
        seen = area.viewport().rect()
        assert seen.contains(button.mapTo(area.viewport(), button.rect().bottomRight()))
