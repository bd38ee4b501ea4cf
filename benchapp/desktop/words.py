"""Text for people: every sentence of the screens passes through `tr`, so that a translation can be laid over it.

Sentences with values use `tr("... {name} ...").format(name=...)`: the translator sees the whole sentence.
"""

from PySide6.QtCore import QCoreApplication


def tr(sentence: str) -> str:
    """The sentence in the language of the window; English when no translation is installed."""
    return QCoreApplication.translate("benchapp", sentence)
