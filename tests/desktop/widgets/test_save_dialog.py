"""Where a file is written that was typed in the dialog for saving."""

from pathlib import Path

import pytest
from PySide6.QtWidgets import QWidget

from benchapp.desktop.widgets.save_dialog import SaveDialog


@pytest.mark.parametrize(
    ("typed", "written"),
    [("tag.pdf", "shop/tag.pdf"), ("tags/one.pdf", "shop/tags/one.pdf"), ("{here}/one.pdf", "one.pdf")],
)
def test_a_name_without_its_folder_lies_beside_the_name_that_was_offered(qtbot, tmp_path, typed, written):
    saved: list[Path] = []
    parent = QWidget()
    qtbot.addWidget(parent)
    dialog = SaveDialog(parent, "Tags", tmp_path / "shop" / "tags TB-001.pdf", lambda _dialog, path: saved.append(path))
    dialog.path.setText(typed.format(here=tmp_path))
    dialog.go()
    assert saved == [tmp_path / written]
