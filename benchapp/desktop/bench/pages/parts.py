"""The choice of a part: those of the unit's circuit by the words of its equipment's file; others may be typed."""

from PySide6.QtWidgets import QComboBox

from benchapp.desktop.bench.unit_view import UnitView
from benchapp.desktop.widgets.texts import hold_narrow

IN_NO_CIRCUIT = ("plug", "cord", "enclosure")


class PartBox(QComboBox):
    """Shows parts by their words and gives their names."""

    def __init__(self) -> None:
        super().__init__()
        self.setEditable(True)
        hold_narrow(self)

    def offer(self, view: UnitView, part: str) -> None:
        """Offer the parts of this unit with one of them chosen."""
        self.blockSignals(True)
        self.clear()
        for name, words in part_words(view).items():
            self.addItem(words, name)
        self.show_part(part)
        self.blockSignals(False)

    def show_part(self, part: str) -> None:
        """Choose a part by its name, or show a name that is in no circuit."""
        number = self.findData(part)
        self.setCurrentIndex(number)
        if number < 0:
            self.setEditText(part)
        edit = self.lineEdit()
        if edit is not None:
            edit.setCursorPosition(0)  # a long name is read from its beginning

    def part(self) -> str:
        """The name of the part chosen, or what was typed."""
        typed = self.currentText().strip()
        number = self.findText(typed)
        return str(self.itemData(number)) if typed and number >= 0 else typed


def part_words(view: UnitView) -> dict[str, str]:
    """The parts of the unit's circuit, and what is in no circuit: name to words."""
    said = {name: str(view.plan.circuit.part_names.get(name, name)) for name in view.plan.circuit.parts}
    words = {name: words if words == name else f"{words} ({name})" for name, words in said.items()}
    return {**words, **{name: name for name in IN_NO_CIRCUIT if name not in words}}
