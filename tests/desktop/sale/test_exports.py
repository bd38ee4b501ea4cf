"""Papers as files from the window: nothing is replaced unasked, and what is not ours never."""

import pytest
from pypdf import PdfReader
from PySide6.QtWidgets import QDialog, QPushButton

from demo.technician import Technician


def dialog_of(technician: Technician) -> QDialog | None:
    found = [one for one in technician.window.findChildren(QDialog, "save-dialog") if one.isVisible()]
    return found[0] if found else None


@pytest.fixture
def at_tags(technician, tmp_path):
    """At the dialog for the tags of the lot."""
    technician.strike("F2", "Ctrl+E")
    technician.retype(str(tmp_path / "out.pdf"))
    return technician


def again(technician, tmp_path):
    technician.strike("F2", "Ctrl+E")
    technician.retype(str(tmp_path / "out.pdf"))
    technician.strike("Enter")


@pytest.mark.parametrize("by", ["key", "mouse"])
def test_an_earlier_paper_of_ours_is_replaced_only_when_that_is_asked_for(at_tags, tmp_path, by):
    at_tags.strike("Enter")
    out = tmp_path / "out.pdf"
    before = out.stat()
    again(at_tags, tmp_path)
    assert at_tags.reads("save-complaint") == "There is a file out.pdf already. Replace it, or type another name."
    at_tags.strike("Enter", "Enter")  # a second Enter asks again
    assert (out.stat().st_ino, out.stat().st_mtime_ns) == (before.st_ino, before.st_mtime_ns)
    dialog = dialog_of(at_tags)
    if by == "key":
        at_tags.strike("Alt+R")
    else:
        dialog.findChild(QPushButton, "save-replace").click()
        at_tags.settle()
    assert dialog_of(at_tags) is None
    assert out.stat().st_ino != before.st_ino
    assert len(PdfReader(out).pages) == 1


def test_another_name_takes_the_question_away(at_tags, tmp_path):
    at_tags.strike("Enter")
    again(at_tags, tmp_path)
    assert dialog_of(at_tags).replace.isVisible()
    at_tags.retype(str(tmp_path / "other.pdf"))
    assert not dialog_of(at_tags).replace.isVisible()
    at_tags.strike("Alt+R")  # nothing is asked, so nothing is replaced
    assert dialog_of(at_tags) is not None
    at_tags.strike("Enter")
    assert (tmp_path / "other.pdf").exists()


@pytest.mark.parametrize("name", ["letter.pdf", "tarnbeck.workbook"])
def test_a_file_that_is_not_ours_cannot_be_replaced_at_all(at_tags, tmp_path, path, name):
    (tmp_path / "letter.pdf").write_text("dear diary")
    before = (tmp_path / name).read_bytes() if name != path.name else b""
    at_tags.retype(str(tmp_path / name))
    at_tags.strike("Enter")
    assert not dialog_of(at_tags).replace.isVisible()
    assert at_tags.reads("save-complaint")
    if name != path.name:
        assert (tmp_path / name).read_bytes() == before
    at_tags.strike("Esc")
    assert len(at_tags.window.context.bench.units()) == 3


def test_the_dialog_at_twice_the_size_cuts_no_text_off(at_tags, tmp_path):
    at_tags.strike("Enter")
    at_tags.window.look.set_percent(200)
    again(at_tags, tmp_path)
    dialog = dialog_of(at_tags)
    complaint = dialog.complaint
    assert complaint.height() >= complaint.heightForWidth(complaint.width())
    assert dialog.replace.width() >= dialog.replace.sizeHint().width()
    at_tags.strike("Esc")
