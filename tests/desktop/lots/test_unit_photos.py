"""Photos of units at intake and from the lots: from files, the clipboard, a drag and the phone's folder."""

import pytest
from PySide6.QtCore import QMimeData, QPoint, QPointF, Qt, QUrl
from PySide6.QtGui import QDropEvent, QGuiApplication, QImage
from PySide6.QtWidgets import QFileDialog, QPushButton, QWidget

from benchapp.actions.audit.verifying import verify_workbook
from benchapp.actions.entries.photos import attach_photos, photos_of
from tests.desktop.windows import window_on
from tests.photos import tiny_photo


@pytest.fixture
def empty(look, bench):
    with window_on(look, bench, initials="AB") as before_it:
        yield before_it


@pytest.fixture
def pictures(tmp_path):
    paths = [tmp_path / "front.png", tmp_path / "back.png"]
    for number, path in enumerate(paths):
        path.write_bytes(tiny_photo(number, width=6, height=4))
    return paths


def found(technician, name):
    technician.settle()
    return technician.window.findChild(QWidget, f"{name}-dialog")


def photos_dialog(technician):
    technician.strike("F2", "Ctrl+Shift+G")
    return found(technician, "unit-photos")


def kept(technician, mark):
    return photos_of(technician.window.context.bench, mark)


def test_photos_are_attached_to_a_unit_from_the_lots_without_the_bench(technician, pictures, monkeypatch):
    monkeypatch.setattr(QFileDialog, "getOpenFileNames", lambda *_asked: ([str(path) for path in pictures], ""))
    dialog = photos_dialog(technician)
    assert dialog.mark() == "TB-001"
    technician.strike("Ctrl+Shift+O")
    technician.tab_to("unit-photos-note")
    technician.type("as it came")
    assert kept(technician, "TB-001") == ()
    technician.strike("Enter")
    assert [one.note for one in kept(technician, "TB-001")] == ["as it came"] * 2
    assert technician.reads("unit-photos-on-record") == "2 photos on the record of TB-001."
    assert dialog.kept.count() == 2
    assert dialog.chooser.list.count() == 0
    assert verify_workbook(technician.window.context.bench.path) == ()


def test_a_picture_is_pasted_for_the_next_unit(technician):
    dialog = photos_dialog(technician)
    technician.strike("Alt+N")
    assert dialog.mark() == "TB-002"
    QGuiApplication.clipboard().setImage(QImage.fromData(tiny_photo(7, width=3, height=2)))
    technician.strike("Ctrl+V", "Enter")
    assert (len(kept(technician, "TB-001")), len(kept(technician, "TB-002"))) == (0, 1)


def test_files_are_dropped_and_recorded_by_mouse(technician, pictures, qtbot):
    dialog = photos_dialog(technician)
    files = QMimeData()
    files.setUrls([QUrl.fromLocalFile(str(path)) for path in pictures])
    none = Qt.KeyboardModifier.NoModifier
    place, copied = QPointF(QPoint(9, 9)), Qt.DropAction.CopyAction
    dialog.dropEvent(QDropEvent(place, copied, files, Qt.MouseButton.LeftButton, none))
    technician.settle()
    qtbot.mouseClick(dialog.findChild(QPushButton, "unit-photos-record"), Qt.MouseButton.LeftButton)
    technician.settle()
    assert len(kept(technician, "TB-001")) == 2


def test_a_new_picture_of_the_phone_is_offered_for_the_unit_at_hand(technician, tmp_path, monkeypatch):
    phone = tmp_path / "phone"
    phone.mkdir()
    monkeypatch.setattr(QFileDialog, "getExistingDirectory", lambda *_asked: str(phone))
    dialog = photos_dialog(technician)
    technician.strike("Ctrl+Shift+W")
    (phone / "new.png").write_bytes(tiny_photo(2, width=4, height=3))
    dialog.chooser.offer.look()
    dialog.chooser.offer.look()
    assert technician.reads("photo-offer") == "new.png is new. Attach it to TB-001?"
    technician.strike("Ctrl+Shift+A", "Enter")
    assert len(kept(technician, "TB-001")) == 1


def test_what_was_chosen_for_a_unit_stays_with_it(technician, pictures):
    dialog = photos_dialog(technician)
    dialog.chooser.add(pictures[:1])
    technician.settle()
    technician.strike("Alt+N")
    assert dialog.chooser.list.count() == 0
    dialog.unit.setCurrentIndex(0)
    assert dialog.chooser.list.count() == 1


def test_nothing_chosen_is_a_sentence_and_no_entry(technician):
    dialog = photos_dialog(technician)
    technician.strike("Enter")
    assert dialog.complaint.text() == "No photo is chosen. Choose one, then record it."
    assert technician.window.context.bench.entries("TB-001") == ()


def test_photos_follow_at_once_on_a_lot_that_is_taken_in(empty, pictures):
    empty.strike("F2", "Ctrl+N")
    intake = found(empty, "new-lot")
    intake.equipment.setCurrentIndex(intake.equipment.findData("unknown-mains-item"))
    for name, text in (("name", "Van"), ("count", "2"), ("first", "TB-001")):
        empty.tab_to(f"new-lot-{name}")
        empty.retype(text)
    empty.strike("Alt+H")
    dialog = found(empty, "unit-photos")
    assert [dialog.unit.itemData(row) for row in range(dialog.unit.count())] == ["TB-001", "TB-002"]
    dialog.chooser.add(pictures)
    empty.settle()
    empty.strike("Enter")
    assert len(kept(empty, "TB-001")) == 2
    assert verify_workbook(empty.window.context.bench.path) == ()


def test_the_units_of_the_lot_lead_to_the_photos_of_the_marked_one(technician):
    technician.strike("F2", "Ctrl+Shift+D")
    units = found(technician, "lot-units")
    units.rows.setCurrentRow(2)
    technician.strike("Alt+H")
    assert found(technician, "unit-photos").mark() == "TB-003"


def test_the_record_of_the_unit_shows_them_and_they_are_taken_back_from_there(technician):
    bench = technician.window.context.bench
    attach_photos(bench, "TB-001", [tiny_photo(1, width=6, height=4)], by="AB", note="as it came")
    technician.take_unit("TB-001")
    technician.strike("Ctrl+L")
    technician.settle()
    page = technician.page
    assert page.photos.isVisible()
    assert page.photos.count() == 1
    words = [row.words for row in page.list.rows()]
    assert words[-2:] == ["Photos of the unit", "as it came"]
    page.list.go_to(len(words) - 1)
    technician.strike("Backspace")
    assert found(technician, "take-back") is not None
    technician.strike("Enter")
    technician.settle()
    assert photos_of(bench, "TB-001") == ()
