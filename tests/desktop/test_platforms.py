"""What is said where the system lacks a library of Qt, before Qt itself would abort."""

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from benchapp import environment
from benchapp.desktop.platforms import be_sure_of_a_platform, platforms_wanted, problem_of
from benchapp.environment import EnvironmentProblem, installed_qt

ROOT = Path(__file__).resolve().parents[2]
CURSOR, HIDDEN = b"libxcb-cursor.so.0", b"libxcb-cursor.so.9"
"""a library that Qt's X11 plugin asks for, and one that no system has"""


@pytest.fixture
def qt_lacking_a_library(tmp_path):
    """The installed Qt, but that its X11 plugin asks for a library that is not there."""
    real = installed_qt()
    (tmp_path / "lib").symlink_to(real / "lib")
    folder = tmp_path / "plugins" / "platforms"
    folder.mkdir(parents=True)
    plugin = (real / "plugins" / "platforms" / "libqxcb.so").read_bytes()
    assert CURSOR in plugin
    (folder / "libqxcb.so").write_bytes(plugin.replace(CURSOR, HIDDEN))
    shutil.copy(real / "plugins" / "platforms" / "libqoffscreen.so", folder)
    return tmp_path


@pytest.mark.parametrize(
    ("variables", "wanted"),
    [
        ({"DISPLAY": ":0"}, ["xcb"]),
        ({"DISPLAY": ":0", "WAYLAND_DISPLAY": "wayland-0"}, ["wayland", "xcb"]),
        ({"XDG_SESSION_TYPE": "wayland"}, ["wayland", "xcb"]),
        ({"DISPLAY": ":0", "QT_QPA_PLATFORM": "offscreen"}, ["offscreen"]),
        ({"QT_QPA_PLATFORM": "wayland;xcb:scale=2"}, ["wayland", "xcb"]),
    ],
)
def test_the_platform_is_the_session_s_unless_one_is_named(variables, wanted):
    assert list(platforms_wanted(variables)) == wanted


def test_the_library_that_the_window_lacks_is_named_with_what_to_install(qt_lacking_a_library, monkeypatch):
    monkeypatch.setenv("QT_QPA_PLATFORM", "xcb")
    with pytest.raises(EnvironmentProblem, match=r"Qt needs these system libraries: libxcb-cursor\.so\.9\. Install"):
        be_sure_of_a_platform(qt_lacking_a_library)
    monkeypatch.setitem(environment.DEBIAN_PACKAGES, HIDDEN.decode(), "libxcb-cursor0")
    monkeypatch.setattr(environment.shutil, "which", {"ldd": "/usr/bin/ldd", "apt-get": "/usr/bin/apt-get"}.get)
    with pytest.raises(EnvironmentProblem, match=r"missing\. Run: sudo apt-get install libxcb-cursor0$"):
        be_sure_of_a_platform(qt_lacking_a_library)


def test_one_platform_that_can_be_loaded_is_enough(qt_lacking_a_library, monkeypatch):
    monkeypatch.setenv("QT_QPA_PLATFORM", "xcb;offscreen")
    be_sure_of_a_platform(qt_lacking_a_library)


@pytest.mark.parametrize(
    ("display", "said"), [(":2999", "The display :2999 does not answer."), ("", "No display is named in DISPLAY.")]
)
def test_a_display_that_does_not_answer_ends_the_command_with_a_sentence(display, said):
    surroundings = {**os.environ, "QT_QPA_PLATFORM": "xcb", "DISPLAY": display}
    command = [sys.executable, "-m", "benchapp"]
    done = subprocess.run(command, cwd=ROOT, env=surroundings, capture_output=True, text=True, check=False)
    assert done.returncode == 2
    assert done.stderr.startswith(f"benchapp: {said}")
    assert len(done.stderr.splitlines()) == 1


def test_where_no_display_answers_the_next_platform_that_is_named_is_enough(monkeypatch):
    monkeypatch.setenv("QT_QPA_PLATFORM", "xcb;offscreen")
    monkeypatch.setenv("DISPLAY", ":2999")
    be_sure_of_a_platform()


def test_the_installed_qt_can_show_a_window(monkeypatch):
    monkeypatch.setenv("QT_QPA_PLATFORM", "offscreen")
    be_sure_of_a_platform()


def test_a_qt_that_fails_for_another_reason_is_installed_again(monkeypatch):
    monkeypatch.setenv("QT_QPA_PLATFORM", "offscreen")
    problem = problem_of("No module named 'PySide6.QtWidgets'")
    assert isinstance(problem, EnvironmentProblem)
    assert problem.sentence.startswith("The window needs a library that is not to be had here (No module named")


def test_the_qt_that_would_be_imported_is_found_without_importing_it():
    assert (installed_qt() / "plugins" / "platforms").is_dir()
    assert Path(installed_qt()).parent.name == "PySide6"
