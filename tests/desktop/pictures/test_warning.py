"""Each caution stands beside its warning sign; a click that says it was read is worth the key."""

import pytest

from benchapp.desktop.pictures.drawings import read_table
from benchapp.desktop.pictures.view import PictureView
from benchapp.desktop.pictures.warning import SIGNS, WarningPicture
from benchapp.files.shipped import shipped_folder
from tests.desktop.walks import unit_of, work_until


def test_every_shipped_caution_has_a_sign_that_can_be_painted():
    signs = read_table("pictures")["cautions"]
    shipped = {path.stem for path in (shipped_folder("resources") / "cautions").glob("*.yaml")}
    assert set(signs) == shipped
    assert set(signs.values()) <= set(SIGNS)


@pytest.mark.parametrize("dark", [False, True])
def test_no_two_signs_look_alike(look, qtbot, dark):
    look.set_dark(dark)
    seen = []
    for sign in SIGNS:
        view = PictureView(look)
        qtbot.addWidget(view)
        view.resize(300, 300)
        view.show_picture(WarningPicture(words="a sign", sign=sign, title="Caution"))
        seen.append(view.grab().toImage())
    assert all(one != other for number, one in enumerate(seen) for other in seen[number + 1 :])


def test_a_caution_is_taken_as_read_by_a_click_too(technician):
    technician.take_unit("TB-001")
    work_until(technician, unit_of(), lambda: technician.page.name == "caution")
    page, read = technician.page, technician.view.state.due.subject
    assert isinstance(page.picture.picture(), WarningPicture)
    page.understood.click()
    technician.settle()
    assert (technician.page.name, technician.view.state.due.subject) != ("caution", read)
