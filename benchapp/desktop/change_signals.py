"""The one place from which screens hear that something has changed."""

from PySide6.QtCore import QObject, Signal


class ChangeSignals(QObject):
    """`changed` carries a `benchapp.actions.ChangeSet`; `said` a sentence for the foot of the window."""

    changed = Signal(object)
    said = Signal(str)
