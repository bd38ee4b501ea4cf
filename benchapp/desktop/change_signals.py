"""The signals by which every screen hears that something has changed."""

from PySide6.QtCore import QObject, Signal


class ChangeSignals(QObject):
    """`changed` carries a `benchapp.actions.ChangeSet`; `said` a sentence for the foot of the window."""

    changed = Signal(object)
    said = Signal(object)
