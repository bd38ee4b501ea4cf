"""Where to write a file: a path that can be typed, or looked for with the system's own dialog.

A complaint stays in it. A file that stands there is replaced only when that is asked for by a key of its own.
"""

from collections.abc import Callable
from pathlib import Path

from PySide6.QtWidgets import QDialogButtonBox, QFileDialog, QHBoxLayout, QLineEdit, QPushButton, QWidget

from benchapp.desktop.keys import KEYS, add_action, with_key
from benchapp.desktop.widgets.asking_dialog import AskingDialog
from benchapp.desktop.widgets.texts import label
from benchapp.desktop.words import tr
from benchapp.errors import BenchError


class SaveDialog(AskingDialog):
    """Asks for a path and hands it to `save`; stays open with a sentence until the file is written.

    `stands_there` says whether a file of ours stands at a path, to be replaced when the person says so; it raises
    BenchError for a file that is left alone. Without it `save` itself refuses what it must.
    """

    def __init__(
        self,
        parent: QWidget,
        title: str,
        suggested: Path,
        save: Callable[["SaveDialog", Path], None],
        kinds: str = "",
        *,
        stands_there: Callable[[Path], bool] | None = None,
        why: str = "",
    ) -> None:
        super().__init__(parent, "save", title, QDialogButtonBox.StandardButton.Save)
        self._save, self._stands_there = save, stands_there
        self._kinds = kinds or tr("PDF files (*.pdf)")
        self.why = label("save-why", "", why)
        self.why.setVisible(bool(why))
        suggested = suggested.absolute()
        self._folder = suggested.parent  # of a name typed alone: nobody sees from which folder the program was begun
        self.path = QLineEdit(str(suggested))
        self.path.setObjectName("save-path")
        self.path.setAccessibleName(tr("File"))
        browse = QPushButton(tr("Look for a place …"))
        browse.setObjectName("save-browse")
        browse.setAutoDefault(False)
        self.replace = QPushButton(with_key("replace", tr(KEYS["replace"].words)))
        self.replace.setObjectName("save-replace")
        self.replace.setAutoDefault(False)
        self.replace.hide()
        row = QHBoxLayout()
        row.addWidget(self.path, 1)
        row.addWidget(browse)
        self.lay_out(self.why, row, self.replace, wide=40)
        browse.clicked.connect(self._browse)
        self.replace.clicked.connect(self._replace)
        self.path.textChanged.connect(lambda _text: self._ask_no_more())
        add_action(self, "replace", self._replace)

    def go(self) -> None:
        if not self.path.text().strip():
            self.complain(tr("Type where the file is to be written."))
            return
        path = self._chosen()
        try:
            stands = self._stands_there is not None and self._stands_there(path)
        except BenchError as problem:
            self.complain(problem.sentence)
            return
        if stands:
            self.complain(
                tr("There is a file {name} already. Replace it, or type another name.").format(name=path.name)
            )
            self.replace.show()
        else:
            self._write(path)

    def _replace(self) -> None:
        if self.replace.isVisible():
            self._write(self._chosen())

    def _write(self, path: Path) -> None:
        self._ask_no_more()
        self.wait()
        self._save(self, path)

    def _ask_no_more(self) -> None:
        self.complain("")
        self.replace.hide()

    def _chosen(self) -> Path:
        return self._folder / Path(self.path.text().strip()).expanduser()

    def _browse(self) -> None:
        path, _kind = QFileDialog.getSaveFileName(
            self,
            self.windowTitle(),
            self.path.text(),
            self._kinds,
            options=QFileDialog.Option.DontConfirmOverwrite,  # asked here, once
        )
        if path:
            self.path.setText(path)
