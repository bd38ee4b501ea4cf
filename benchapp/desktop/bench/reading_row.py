"""The row in which a reading is typed: where text is large the digits have the room, and the foot says the keys."""

from PySide6.QtWidgets import QHBoxLayout, QLabel, QLineEdit, QPushButton

from benchapp.desktop.theme.look import Look


def reading_row(look: Look, head: QLabel, field: QLineEdit, *buttons: QPushButton) -> QHBoxLayout:
    """The head, the field and its buttons beside each other."""
    row = QHBoxLayout()
    head.setBuddy(field)
    row.addWidget(head)
    row.addWidget(field, 1)
    for one in buttons:
        row.addWidget(one)

    def spare() -> None:
        for one in (head, *buttons):
            one.setVisible(not look.cramped)

    look.changed.connect(spare)
    if look.cramped:  # what stands in no window yet would be shown as one
        spare()
    return row
