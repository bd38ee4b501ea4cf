"""The folder that a phone fills: what is new in it and whole is offered for the unit at hand, and only that."""

import shutil

import pytest
from PySide6.QtCore import QSettings, Qt
from PySide6.QtWidgets import QFileDialog

from benchapp.desktop.photo_folder import PhotoFolder
from tests.desktop.bench.test_pages import go_to
from tests.desktop.bench.test_small_screen import area_of
from tests.photos import claiming, tiny_photo


@pytest.fixture
def phone(tmp_path):
    folder = tmp_path / "phone"
    folder.mkdir()
    (folder / "old.png").write_bytes(tiny_photo(1))
    return folder


@pytest.fixture
def settings(tmp_path):
    return QSettings(str(tmp_path / "settings.ini"), QSettings.Format.IniFormat)


@pytest.fixture
def before(every_step, phone, monkeypatch):
    """At a photo step, the folder chosen by its key in the system's own dialog."""
    go_to(every_step, "photo")
    monkeypatch.setattr(QFileDialog, "getExistingDirectory", lambda *_asked: str(phone))
    every_step.strike("Ctrl+Shift+W")
    return every_step


def come(technician, phone, name="new.png", image=None):
    """A picture comes into the folder, and two looks see it alike."""
    (phone / name).write_bytes(image or tiny_photo(2, width=4, height=3))
    technician.page.offer.look()
    technician.page.offer.look()


def test_a_picture_is_told_of_once_two_looks_saw_it_alike(phone):
    folder = PhotoFolder()
    folder.choose(phone)
    assert folder.look() is None
    whole = tiny_photo(3, width=90, height=90)
    (phone / "new.png").write_bytes(whole[:60])
    assert folder.look() is None
    (phone / "new.png").write_bytes(whole)
    assert folder.look() is None
    assert folder.look() == phone / "new.png"
    folder.pass_over(phone / "new.png")
    assert folder.look() is None


@pytest.mark.parametrize("name", ["new.txt", "new.png.part", "new.gif"])
def test_what_is_no_picture_by_its_name_is_not_told_of(phone, name):
    folder = PhotoFolder()
    folder.choose(phone)
    (phone / name).write_bytes(tiny_photo(2))
    assert (folder.look(), folder.look()) == (None, None)


def test_what_states_no_size_is_not_told_of(phone):
    folder = PhotoFolder()
    folder.choose(phone)
    (phone / "new.jpg").write_bytes(b"\xff\xd8\xff\xe0 half")
    assert (folder.look(), folder.look()) == (None, None)


def test_the_folder_is_kept_with_the_settings_and_its_pictures_of_before_are_old(phone, settings):
    PhotoFolder(settings).choose(phone)
    again = PhotoFolder(settings)
    assert again.path == phone
    assert (again.look(), again.look()) == (None, None)


def test_a_folder_that_went_away_holds_nothing(phone, settings):
    PhotoFolder(settings).choose(phone)
    shutil.rmtree(phone)
    assert PhotoFolder(settings).look() is None


def test_a_new_picture_is_offered_by_the_mark_and_taken_by_key_not_recorded(before, phone):
    come(before, phone)
    assert before.reads("photo-offer") == "new.png is new. Attach it to TB-001?"
    assert before.page.list.count() == 0
    before.strike("Ctrl+Shift+A")
    assert [before.page.list.item(row).text() for row in range(before.page.list.count())] == ["new.png"]
    assert "None is recorded yet" in before.reads("photo-head")
    assert before.reads("photo-offer") == "New pictures in phone are offered here."


def test_the_same_by_mouse_and_one_is_left(before, phone, qtbot):
    come(before, phone)
    qtbot.mouseClick(before.page.offer.leave, Qt.MouseButton.LeftButton)
    assert before.page.list.count() == 0
    come(before, phone, "second.png", tiny_photo(9))
    qtbot.mouseClick(before.page.offer.attach, Qt.MouseButton.LeftButton)
    before.settle()
    assert before.page.list.count() == 1


def test_a_bomb_that_came_is_refused_with_a_sentence(before, phone):
    come(before, phone, "bomb.png", claiming(60_000, 60_000))
    before.strike("Ctrl+Shift+A")
    assert before.page.list.count() == 0
    assert "bomb.png has 3 600 megapixels" in before.complaint


def test_enter_attaches_nothing_that_is_only_offered(before, phone):
    come(before, phone)
    before.strike("Enter")
    assert before.page.list.count() == 0
    assert "Choose photos first" in before.complaint


@pytest.mark.parametrize("percent", [100, 200])
def test_on_a_small_screen_nothing_of_the_page_stands_beside_the_edge(before, phone, percent):
    before.window.look.set_percent(percent)
    before.window.resize(1024, 700)
    come(before, phone)
    for _ in range(3):
        before.settle()
    area = area_of(before.page.record)
    assert before.page.minimumSizeHint().width() <= area.viewport().width()
    if percent == 100:
        button = before.page.record
        assert area.viewport().rect().contains(button.mapTo(area.viewport(), button.rect().bottomRight()))
