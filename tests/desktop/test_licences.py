"""Everything that the program ships or rests on is named with its licence."""

import re
import struct
import tomllib
from pathlib import Path

import pytest

from benchapp.desktop.licences import all_works, needed_packages, normalised, shipped_works
from benchapp.files.shipped import shipped_folder

ROOT = Path(__file__).resolve().parents[2]
RESOURCES = shipped_folder("resources")
LICENCES = RESOURCES / "licences"
LISTED = tomllib.loads((LICENCES / "licences.toml").read_text(encoding="utf-8"))["works"]
FONTS = sorted((RESOURCES / "fonts").glob("*.ttf"))
NEEDED = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]["dependencies"]
LICENCE_DESCRIPTION = 13
"""the name record "License Description" (OpenType specification, table `name`)"""
OPEN_DATA = re.compile(r"open data|CC[ -]BY|CC0|ODbL|PDDL", re.IGNORECASE)


def entry_of(file):
    """The entry of the list that names a file of resources."""
    name = file.relative_to(RESOURCES).as_posix()
    return next((entry for entry in LISTED if name in entry.get("files", ())), None)


def carried_licence(font):
    """What a font file says of its licence in its own name table, read as the OpenType specification lays it out."""
    data = font.read_bytes()
    tables = struct.unpack_from(">H", data, 4)[0]
    records = [struct.unpack_from(">4sLLL", data, 12 + 16 * row) for row in range(tables)]
    start = next(offset for tag, _sum, offset, _length in records if tag == b"name")
    _format, names, texts = struct.unpack_from(">3H", data, start)
    for row in range(names):
        platform, _coding, _language, kind, length, offset = struct.unpack_from(">6H", data, start + 6 + 12 * row)
        if platform == 3 and kind == LICENCE_DESCRIPTION:
            place = start + texts + offset
            return data[place : place + length].decode("utf-16-be")
    raise AssertionError(f"{font.name} does not say under which licence it is")


def words(text):
    return " ".join(text.split())


@pytest.mark.parametrize("font", FONTS, ids=lambda font: font.name)
def test_each_font_comes_with_the_licence_that_its_own_file_states(font):
    entry = entry_of(font)
    assert entry is not None, f"{font.name} is not in licences.toml"
    text = " ".join(words((LICENCES / name).read_text(encoding="utf-8")) for name in entry["texts"])
    assert words(carried_licence(font)) in text


def test_there_are_fonts_to_speak_of():
    assert len(FONTS) == 3


def test_a_table_derived_from_open_data_names_its_licence():
    derived = [file for file in RESOURCES.rglob("*.yaml") if OPEN_DATA.search(file.read_text(encoding="utf-8"))]
    assert [file.name for file in derived if entry_of(file) is None] == []


def test_the_list_names_every_text_of_the_folder_and_no_other():
    named = {name for entry in LISTED for name in entry["texts"]}
    assert named == {file.name for file in LICENCES.iterdir()} - {"licences.toml"}


def test_the_list_names_no_file_that_is_not_there():
    assert [name for entry in LISTED for name in entry.get("files", ()) if not (RESOURCES / name).exists()] == []


def test_our_own_licence_is_the_one_that_pyproject_states():
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    assert project["license"] == "MIT" == shipped_works()[0].licence
    assert "Permission is hereby granted, free of charge" in shipped_works()[0].text


@pytest.mark.parametrize("requirement", NEEDED, ids=lambda line: re.split("[<>=]", line)[0])
def test_each_package_that_the_program_needs_is_named_with_its_licence(requirement):
    name = normalised(re.split("[<>=]", requirement)[0])
    works = [work for work in all_works() if name in work.packages]
    assert len(works) == 1
    assert re.search("MIT|BSD|LGPL|Apache|HPND|PSF|MPL", works[0].licence)
    assert len(words(works[0].text)) > 500


def test_what_the_needed_packages_need_is_named_too_and_what_the_tests_need_is_not():
    found = needed_packages()
    assert {"mako", "shiboken6", "typing-extensions"} <= set(found)
    assert not {"pytest", "ruff", "hypothesis"} & set(found)


def test_the_licence_of_qt_is_whole_and_says_that_qt_may_be_replaced():
    qt = next(work for work in all_works() if "pyside6-essentials" in work.packages)
    assert qt.licence == "LGPL-3.0-only"
    assert "GNU LESSER GENERAL PUBLIC LICENSE" in qt.text
    assert "END OF TERMS AND CONDITIONS" in qt.text
    assert "replace" in qt.text.split("GNU LESSER")[0]
    assert "shiboken6" in qt.packages
