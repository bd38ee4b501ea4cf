"""The language of the window: Qt's translations laid over all our words, those of the engine and the papers too.

Sentences with values use `tr("... {name} ...").format(name=...)`: the translator sees the whole sentence.
A translation is a file benchapp_LANGUAGE.qm in resources/translations, or wherever BENCHAPP_TRANSLATIONS says.
"""

import os
from pathlib import Path

from PySide6.QtCore import QCoreApplication, QLibraryInfo, QLocale, QTranslator

from benchapp import words
from benchapp.words import tr as tr

_NO_CONTEXT = ""
"""where lupdate files the words of functions that belong to no class of Qt"""


def look_up(sentence: str, count: int = -1) -> str:
    """The sentence by the translators that the application has now, in the form for a count; as it stands where none
    knows it."""
    return QCoreApplication.translate(_NO_CONTEXT, sentence, None, count)


def speak_language(application: QCoreApplication, folder: Path, locale: QLocale | None = None) -> list[QTranslator]:
    """Install what there is for the language of the locale (the system's): Qt's own words, then ours over them."""
    words.speak(look_up)
    wanted = locale or QLocale()
    own = os.environ.get("BENCHAPP_TRANSLATIONS")
    installed = []
    for name, place in (
        ("qtbase", Path(QLibraryInfo.path(QLibraryInfo.LibraryPath.TranslationsPath))),
        ("benchapp", Path(own) if own else folder),
    ):
        translator = QTranslator(application)
        if translator.load(wanted, name, "_", str(place)):
            application.installTranslator(translator)
            installed.append(translator)
    return installed
