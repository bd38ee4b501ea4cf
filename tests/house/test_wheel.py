"""What the wheel carries: the package, its sequences and resources, licences, and what a desktop asks for."""

import os
import subprocess
import sys
import zipfile
from email import message_from_bytes
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]


@pytest.fixture(scope="module")
def wheel(tmp_path_factory):
    """The wheel of this tree, built with the packages at hand."""
    folder = tmp_path_factory.mktemp("wheel")
    command = [sys.executable, "-m", "hatchling", "build", "--target", "wheel", "--directory", str(folder)]
    subprocess.run(command, cwd=ROOT, check=True, capture_output=True)
    with zipfile.ZipFile(next(folder.glob("*.whl"))) as opened:
        yield opened


@pytest.fixture
def run_installed(wheel, tmp_path):
    """Run Python words with the package as the wheel installs it, away from the tree."""
    place = tmp_path / "installed"
    pip = [sys.executable, "-m", "pip", "--disable-pip-version-check", "install", "--quiet", "--no-deps", "--no-index"]
    subprocess.run([*pip, "--target", str(place), wheel.filename], check=True, capture_output=True)

    def run(*words):
        surroundings = {**os.environ, "PYTHONPATH": str(place)}
        command = [sys.executable, *words]
        return subprocess.run(command, cwd=tmp_path, env=surroundings, capture_output=True, text=True, check=False)

    return run


@pytest.fixture(scope="module")
def names(wheel):
    return frozenset(wheel.namelist())


@pytest.fixture(scope="module")
def metadata(wheel, names):
    return message_from_bytes(wheel.read(next(name for name in names if name.endswith(".dist-info/METADATA"))))


def tracked(*folders):
    done = subprocess.run(["git", "ls-files", *folders], cwd=ROOT, capture_output=True, text=True, check=True)
    return done.stdout.splitlines()


def test_the_wheel_has_every_module_of_the_package(names):
    modules = [name for name in tracked("benchapp") if name.endswith(".py")]
    assert len(modules) > 300
    assert [name for name in modules if name not in names] == []


def test_the_wheel_has_every_sequence_and_every_resource_where_the_program_looks_for_them(names):
    data = tracked("sequences", "resources")
    assert len(data) > 60
    assert [name for name in data if f"benchapp/_shipped/{name}" not in names] == []


def test_the_wheel_has_nothing_of_the_tests_and_the_demo(names):
    inside = {name.split("/")[0] for name in names}
    assert {name for name in inside if not name.startswith("benchapp-")} == {"benchapp"}


def test_the_wheel_states_its_licence_and_carries_every_text(wheel, names, metadata):
    assert metadata["License-Expression"] == "MIT"
    texts = tracked("resources/licences")
    assert len(texts) > 4
    assert sorted(metadata.get_all("License-File")) == sorted(texts)
    for text in texts:
        name = next(name for name in names if name.endswith(f".dist-info/licenses/{text}"))
        assert wheel.read(name) == (ROOT / text).read_bytes()


def test_the_wheel_brings_the_command_and_what_a_desktop_shows_of_it(wheel, names):
    entry_points = wheel.read(next(name for name in names if name.endswith("entry_points.txt"))).decode()
    assert "benchapp = benchapp.__main__:main" in entry_points
    shared = {name.split(".data/data/")[1] for name in names if ".data/data/" in name}
    assert shared == {
        "share/applications/benchapp.desktop",
        "share/icons/hicolor/48x48/apps/benchapp.png",
        "share/icons/hicolor/128x128/apps/benchapp.png",
        "share/icons/hicolor/scalable/apps/benchapp.svg",
        "share/mime/packages/benchapp-workbook.xml",
    }


def test_installed_away_from_the_tree_it_finds_its_files_and_they_hold(run_installed):
    where = run_installed(
        "-c", "import benchapp; from benchapp.files.shipped import shipped_folder as f; print(f('resources'))"
    )
    assert "installed" in where.stdout
    assert "_shipped" in where.stdout
    checked = run_installed("-m", "benchapp", "check")
    assert checked.returncode == 0, checked.stdout + checked.stderr
