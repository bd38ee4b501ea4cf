"""A dialog that asks for something: its title, what is asked, a complaint that stays in it, and its buttons."""

from PySide6.QtWidgets import QDialog, QDialogButtonBox, QLayout, QVBoxLayout, QWidget

from benchapp.desktop.widgets.texts import label


class AskingDialog(QDialog):
    """Base of the dialogs that are filled in; `name` begins the object names of all that is in it."""

    def __init__(self, parent: QWidget, name: str, title: str, accept: QDialogButtonBox.StandardButton) -> None:
        super().__init__(parent)
        self.setObjectName(f"{name}-dialog")
        self.setWindowTitle(title)
        self.complaint = label(f"{name}-complaint", "complaint")
        self.complaint.hide()
        self.buttons = QDialogButtonBox(accept | QDialogButtonBox.StandardButton.Cancel)
        self.buttons.accepted.connect(self.go)
        self.buttons.rejected.connect(self.reject)
        self._title = label(f"{name}-title", "title", title)

    def lay_out(self, *parts: QWidget | QLayout, wide: int) -> None:
        """Put the parts below the title, the complaint and the buttons below them, so many heights of a line wide."""
        layout = QVBoxLayout(self)
        for part in (self._title, *parts, self.complaint, self.buttons):
            layout.addWidget(part) if isinstance(part, QWidget) else layout.addLayout(part)
        width = self.fontMetrics().height() * wide
        self.resize(
            width, layout.totalHeightForWidth(width) if layout.hasHeightForWidth() else self.sizeHint().height()
        )

    def go(self) -> None:
        """Do what was asked for, or complain."""

    def complain(self, sentence: str) -> None:
        """Say why it cannot be done, and stay; an empty sentence takes the complaint away."""
        self.complaint.setText(sentence)
        self.complaint.setVisible(bool(sentence))
