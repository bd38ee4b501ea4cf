"""Whether Qt can show a window here, found out before Qt tries: what it cannot load, it answers with an abort.

Qt-free until it is sure that Qt can be imported.
"""

import os
from collections.abc import Mapping, Sequence
from pathlib import Path

from benchapp.errors import BenchError
from benchapp.operating_system import is_linux
from benchapp.words import say


def be_sure_of_a_platform(qt: Path | None = None) -> None:
    """Load the plugin of the platform that Qt will choose; raises EnvironmentProblem where none can be used.

    `qt` is the folder of Qt, by itself the one that is imported. What is loaded stays so, and costs Qt no time again.
    """
    if not is_linux():
        return
    from PySide6.QtCore import QLibraryInfo, QPluginLoader

    folder = qt / "plugins" if qt is not None else Path(QLibraryInfo.path(QLibraryInfo.LibraryPath.PluginsPath))
    reason, answered = "", True
    for name in platforms_wanted(os.environ):
        file = folder / "platforms" / f"libq{name}.so"
        plugin = QPluginLoader(str(file))
        if not file.exists():  # one from elsewhere is Qt's own affair
            return
        if not plugin.load():
            reason = plugin.errorString()
        elif name == "xcb" and not _display_answers():
            answered = False
        else:
            return
    raise problem_of(reason, qt) if answered else _no_answer(os.environ.get("DISPLAY", ""))


def _display_answers() -> bool:
    """Whether an X server takes a connection, asked through the library that Qt's plugin for X11 has just loaded."""
    import ctypes

    library = ctypes.CDLL("libxcb.so.1")
    library.xcb_connect.restype = ctypes.c_void_p
    library.xcb_connection_has_error.argtypes = library.xcb_disconnect.argtypes = (ctypes.c_void_p,)
    connection = library.xcb_connect(None, None)
    failed = library.xcb_connection_has_error(connection)
    library.xcb_disconnect(connection)
    return not failed


def _no_answer(display: str) -> BenchError:
    from benchapp.environment import EnvironmentProblem

    if display:
        named = say("The display {display} does not answer.", display=display)
    else:
        named = say("No display is named in DISPLAY.")
    return EnvironmentProblem(named + " " + say("Run benchapp on a desktop, or use a sub-command (benchapp --help)."))


def platforms_wanted(variables: Mapping[str, str]) -> Sequence[str]:
    """The platforms that Qt tries for a window, in its order; the first that it can load is enough.

    As in Qt 6 on Linux, from memory: QT_QPA_PLATFORM where it is set ("xcb;wayland", each with ":options"), else what
    the session has.
    """
    if told := variables.get("QT_QPA_PLATFORM"):
        return [name.split(":")[0] for name in told.split(";")]
    in_wayland = variables.get("XDG_SESSION_TYPE") == "wayland" or "WAYLAND_DISPLAY" in variables
    return ["wayland", "xcb"] if in_wayland else ["xcb"]


def problem_of(reason: str, qt: Path | None = None) -> BenchError:
    """Why Qt could not be loaded, as a sentence that names what to install; `reason` is what the loader said."""
    from benchapp.environment import EnvironmentProblem, installed_qt, libraries_sentence, missing_system_libraries

    missing = missing_system_libraries(qt or installed_qt(), platforms_wanted(os.environ))
    if missing:
        return EnvironmentProblem(libraries_sentence(missing))
    return EnvironmentProblem(
        say(
            "The window needs a library that is not to be had here ({reason}). Install the program again.",
            reason=reason,
        )
    )
