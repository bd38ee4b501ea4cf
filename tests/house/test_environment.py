"""The start commands' preparation: pure decisions without a network."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

from benchapp import environment
from benchapp.environment import EnvironmentProblem

LISTING = """
	linux-vdso.so.1 (0x00007ffd)
	libEGL.so.1 => not found
	libxcb-cursor.so.0 => not found
	libEGL.so.1 => not found
	libc.so.6 => /lib/libc.so.6 (0x00007f)
"""


def test_missing_libraries_are_named_once_each():
    assert environment.missing_in([LISTING, LISTING]) == ("libEGL.so.1", "libxcb-cursor.so.0")


def test_nothing_missing_asks_for_nothing():
    environment.provide_system_libraries(())


def test_a_person_without_root_is_given_the_one_line_to_run(monkeypatch):
    monkeypatch.setattr(os, "geteuid", lambda: 1000)
    monkeypatch.setattr(environment.shutil, "which", lambda _name: "/usr/bin/apt-get")
    with pytest.raises(EnvironmentProblem, match=r"Run: sudo apt-get install libegl1 libxcb-cursor0$"):
        environment.provide_system_libraries(("libEGL.so.1", "libxcb-cursor.so.0"))


def test_a_system_without_apt_is_told_the_names_of_the_libraries(monkeypatch):
    monkeypatch.setattr(environment.shutil, "which", lambda _name: None)
    with pytest.raises(EnvironmentProblem, match=r"libEGL\.so\.1, libxcb-cursor\.so\.0"):
        environment.provide_system_libraries(("libEGL.so.1", "libxcb-cursor.so.0"))


def test_a_library_whose_package_is_not_known_is_named_beside_the_line_to_run(monkeypatch):
    monkeypatch.setattr(environment.shutil, "which", lambda _name: "/usr/bin/apt-get")
    sentence = environment.libraries_sentence(("libEGL.so.1", "libnew.so.7"))
    assert sentence.endswith("Install libnew.so.7 too. Run: sudo apt-get install libegl1")


def test_an_old_python_is_told_which_is_needed():
    with pytest.raises(EnvironmentProblem, match=r"This is Python 3\.10; Python 3\.11 or newer is needed"):
        environment._check_python((3, 10))


def test_the_start_commands_use_the_standard_library_alone():
    code = (
        "import sys; sys.path.insert(0, sys.argv[1]); before = set(sys.modules); import benchapp.environment; "
        "print(*{m.split('.')[0] for m in set(sys.modules) - before} - set(sys.stdlib_module_names))"
    )
    root = str(Path(environment.__file__).parents[1])
    done = subprocess.run([sys.executable, "-I", "-S", "-c", code, root], capture_output=True, text=True, check=True)
    assert done.stdout.split() == ["benchapp"]
