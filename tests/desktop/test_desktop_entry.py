"""What a desktop reads of the program: its entry, the type of its files, its icon."""

import configparser
import tomllib
from pathlib import Path
from xml.etree import ElementTree as ET

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QImage, QPainter
from PySide6.QtSvg import QSvgRenderer

from benchapp.files.shipped import shipped_folder
from tests.desktop.windows import make_workbook

ROOT = Path(__file__).resolve().parents[2]
RESOURCES = shipped_folder("resources")
NAMESPACE = {"mime": "http://www.freedesktop.org/standards/shared-mime-info"}
"""of the shared MIME-info database specification"""


@pytest.fixture
def entry():
    """The desktop entry, its keys as they are written (Desktop Entry specification)."""
    parser = configparser.RawConfigParser(delimiters="=")
    parser.optionxform = str
    parser.read(RESOURCES / "desktop-entry" / "benchapp.desktop", encoding="utf-8")
    return parser["Desktop Entry"]


@pytest.fixture
def mime_type():
    tree = ET.parse(RESOURCES / "desktop-entry" / "benchapp-workbook.xml")
    return tree.find("mime:mime-type", NAMESPACE)


def test_the_entry_starts_the_installed_command_with_the_file_that_was_opened(entry):
    scripts = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]["scripts"]
    command, sub_command, *rest = entry["Exec"].split()
    assert command in scripts
    assert [sub_command, *rest] == ["window", "%f"]
    assert (entry["Type"], entry["Terminal"]) == ("Application", "false")


def test_the_entry_opens_the_type_that_is_described(entry, mime_type):
    assert entry["MimeType"] == mime_type.get("type") + ";"


def test_a_real_workbook_is_known_by_its_first_bytes_and_its_name(mime_type, tmp_path):
    content = make_workbook(tmp_path / "tarnbeck.workbook").read_bytes()
    outer = mime_type.find("mime:magic/mime:match", NAMESPACE)
    inner = outer.find("mime:match", NAMESPACE)
    assert content.startswith(outer.get("value").replace("\\0", "\0").encode())
    place = int(inner.get("offset"))
    assert content[place : place + 4] == int(inner.get("value"), 16).to_bytes(4, "big")
    assert mime_type.find("mime:glob", NAMESPACE).get("pattern") == "*.workbook"


def test_the_icon_that_is_named_is_there(entry, mime_type):
    assert entry["Icon"] == mime_type.find("mime:icon", NAMESPACE).get("name") == "benchapp"
    assert (RESOURCES / "icons" / "benchapp.svg").is_file()


@pytest.mark.parametrize("size", [48, 128])
def test_the_small_pictures_show_the_drawing_as_it_is_now(qapp, size):
    drawn = QImage(size, size, QImage.Format.Format_ARGB32)
    drawn.fill(Qt.GlobalColor.white)
    kept = QImage(drawn)
    painter = QPainter(drawn)
    QSvgRenderer(str(RESOURCES / "icons" / "benchapp.svg")).render(painter)
    painter.end()
    painter = QPainter(kept)
    painter.drawImage(0, 0, QImage(str(RESOURCES / "icons" / f"benchapp-{size}.png")))
    painter.end()
    apart = [
        abs(drawn.pixelColor(x, y).lightness() - kept.pixelColor(x, y).lightness())
        for x in range(size)
        for y in range(size)
    ]
    assert sum(apart) / len(apart) < 2  # of 255: only edges are smoothed otherwise
    assert min(drawn.pixelColor(x, size // 2).lightness() for x in range(size)) < 100
