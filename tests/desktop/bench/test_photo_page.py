"""The photo page in a real window: real picture files, the clipboard, keys and mouse; nothing recorded before Enter."""

import sqlite3
from io import BytesIO

import pytest
from PIL import Image
from PySide6.QtCore import QMimeData, QPoint, QPointF, Qt, QUrl
from PySide6.QtGui import QDropEvent, QGuiApplication, QImage, QImageReader
from PySide6.QtWidgets import QApplication, QFileDialog, QLabel

from benchapp.desktop.bench.photo_files import read_photos
from benchapp.workbook.record.photos import read_photo
from tests.desktop.bench.test_pages import go_to, last
from tests.photos import claiming, tiny_photo

TURNED = 6
"""orientation: the camera was held upright (Exif 2.32, tag 0x0112)"""


def picture(path, colour, *, size=(40, 30), **more):
    """A picture file by another program's hand."""
    Image.new("RGB", size, colour).save(path, **more)
    return path


@pytest.fixture
def pictures(tmp_path):
    return [picture(tmp_path / "front.jpg", "red"), picture(tmp_path / "back.webp", "blue")]


@pytest.fixture
def before(every_step):
    go_to(every_step, "photo")
    return every_step


@pytest.fixture
def chosen_in_dialog(monkeypatch):
    """What the system's own dialog gives back."""
    given = []
    monkeypatch.setattr(QFileDialog, "getOpenFileNames", lambda *_asked: ([str(path) for path in given], ""))
    return given


def photos_in(technician):
    path = technician.window.context.bench.path
    with sqlite3.connect(path) as connection:
        return connection.execute("SELECT count(*) FROM photos").fetchone()[0]


def test_photos_are_chosen_by_key_shown_and_recorded_with_enter(before, chosen_in_dialog, pictures):
    chosen_in_dialog += pictures
    before.strike("Ctrl+Shift+O")
    assert [before.page.list.item(row).text() for row in range(2)] == ["front.jpg", "back.webp"]
    assert "2 chosen" in before.reads("photo-head")
    assert photos_in(before) == 0
    before.strike("Enter")
    bench = before.window.context.bench
    photos = last(before).content.photos
    kept = [Image.open(BytesIO(read_photo(bench.workbook.store, link))) for link in photos]
    assert [(one.format, one.size) for one in kept] == [("JPEG", (40, 30))] * 2
    assert [max(range(3), key=one.getpixel((20, 15)).__getitem__) for one in kept] == [0, 2]  # red, blue


def test_the_same_by_mouse(before, chosen_in_dialog, pictures, qtbot):
    chosen_in_dialog += pictures
    qtbot.mouseClick(before.page.choose, Qt.MouseButton.LeftButton)
    before.settle()
    qtbot.mouseClick(before.page.take_away, Qt.MouseButton.LeftButton)
    qtbot.mouseClick(before.page.record, Qt.MouseButton.LeftButton)
    before.settle()
    assert len(last(before).content.photos) == photos_in(before) == 1


def test_the_marked_photo_is_taken_away_before_recording(before, pictures):
    before.page.add(pictures)
    before.settle()
    before.strike("Home", "Backspace")
    assert [before.page.list.item(row).text() for row in range(before.page.list.count())] == ["back.webp"]
    before.strike("Backspace")
    assert before.page.list.count() == 0
    assert not before.page.take_away.isEnabled()
    before.strike("Enter")
    assert "Choose photos first (Ctrl+Shift+O)" in before.complaint
    assert photos_in(before) == 0


def test_a_picture_is_pasted_and_files_too(before, pictures):
    clipboard = QGuiApplication.clipboard()
    clipboard.setImage(QImage.fromData(tiny_photo(7, width=3, height=2)))
    before.strike("Ctrl+V")
    files = QMimeData()
    files.setUrls([QUrl.fromLocalFile(str(path)) for path in pictures])
    clipboard.setMimeData(files)
    before.strike("Ctrl+V")
    assert before.page.list.count() == 3
    clipboard.setText("no picture")
    before.strike("Ctrl+V")
    assert "no picture to paste" in before.complaint
    assert before.page.list.count() == 3


def test_files_are_dropped(before, pictures):
    files = QMimeData()
    files.setUrls([QUrl.fromLocalFile(str(path)) for path in pictures])
    none = Qt.KeyboardModifier.NoModifier
    event = QDropEvent(QPointF(QPoint(9, 9)), Qt.DropAction.CopyAction, files, Qt.MouseButton.LeftButton, none)
    before.page.dropEvent(event)
    before.settle()
    assert before.page.list.count() == 2


def test_what_is_no_photo_is_a_sentence_beside_those_that_are(before, tmp_path, pictures):
    text = tmp_path / "list.jpg"
    text.write_text("no picture")
    cut = tmp_path / "cut.png"
    cut.write_bytes(tiny_photo(width=50, height=50)[:50])
    before.page.add([pictures[0], text, cut, tmp_path / "gone.png", pictures[0]])
    before.settle()
    assert before.page.list.count() == 1
    assert "list.jpg is no JPEG, PNG or WebP picture" in before.complaint
    assert "cut.png is damaged" in before.complaint
    assert "There is no file gone.png" in before.complaint
    assert "front.jpg is there already" in before.complaint


def test_too_many_are_a_sentence_and_none_of_them_is_read(before, pictures):
    before.page.add(pictures * 11)
    assert "22 photos, at most 20" in before.complaint
    assert before.page.list.count() == 0


def test_what_was_chosen_is_there_again_after_moving_away(before, pictures):
    before.page.add(pictures)
    before.settle()
    before.strike("F2", "F4")
    assert before.page.list.count() == 2
    before.take_unit("TB-002")
    before.take_unit("TB-001")
    assert before.page.list.count() == 2


def test_a_large_photo_is_made_smaller_turned_and_loses_what_the_camera_noted(tmp_path):
    noted = Image.Exif()
    noted[0x0112], noted[0x010E] = TURNED, "the workshop's street"
    path = picture(tmp_path / "large.jpg", "green", size=(4000, 3000), exif=noted)
    (photo,) = read_photos([path]).photos
    made = Image.open(BytesIO(photo.jpeg))
    assert (made.format, made.size, dict(made.getexif())) == ("JPEG", (1200, 1600), {})
    assert b"street" not in photo.jpeg
    assert max(photo.thumbnail.width(), photo.thumbnail.height()) == 320


def test_what_can_be_seen_through_lies_on_white(tmp_path):
    Image.new("RGBA", (8, 8), (0, 0, 0, 0)).save(tmp_path / "clear.png")
    (photo,) = read_photos([tmp_path / "clear.png"]).photos
    assert min(Image.open(BytesIO(photo.jpeg)).getpixel((4, 4))) > 250


def test_a_bomb_and_a_picture_of_two_hundred_megapixels_are_refused_by_their_headers(before, tmp_path, monkeypatch):
    (tmp_path / "bomb.png").write_bytes(claiming(60_000, 60_000))
    (tmp_path / "phone.png").write_bytes(claiming(16_320, 12_240))
    monkeypatch.setattr("benchapp.desktop.bench.photo_files.QImageReader", None)  # none is made: nothing is decoded
    before.page.add([tmp_path / "bomb.png", tmp_path / "phone.png"])
    before.settle()
    assert before.page.list.count() == 0
    assert "bomb.png has 3 600 megapixels; at most 64 are read" in before.complaint
    assert "phone.png has 199.8 megapixels" in before.complaint


def test_a_picture_whose_header_is_not_understood_has_a_hard_limit_too(tmp_path):
    read_photos([picture(tmp_path / "one.png", "red")])
    assert QImageReader.allocationLimit() == 245


def test_closing_with_a_photo_chosen_and_not_recorded_asks_and_enter_stays(before, pictures):
    before.page.add(pictures)
    before.settle()
    before.window.close()
    before.settle()
    asked = QApplication.activeModalWidget()
    assert asked.objectName() == "unrecorded-dialog"
    assert "2 photos of TB-001 are chosen and not recorded" in asked.findChild(QLabel, "unrecorded-words").text()
    before.strike("Enter")
    assert before.window.isVisible()
    assert before.page.list.count() == 2


def test_closing_without_the_chosen_photos_is_a_click_and_loses_only_them(before, pictures):
    before.page.add(pictures[:1])
    before.settle()
    before.window.close()
    before.settle()
    asked = QApplication.activeModalWidget()
    assert "1 photo of TB-001 is chosen and not recorded" in asked.findChild(QLabel, "unrecorded-words").text()
    asked.go_on.click()
    before.settle()
    assert not before.window.isVisible()


def test_closing_after_the_photos_were_recorded_does_not_ask(before, pictures):
    before.page.add(pictures)
    before.settle()
    before.strike("Enter")
    before.window.close()
    before.settle()
    assert not before.window.isVisible()
