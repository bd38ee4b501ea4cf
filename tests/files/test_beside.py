"""An author's own files are found beside the file at hand, in its folder and in folders of one kind."""

from pathlib import Path

import pytest

from benchapp.files.beside import KEYS, files_by_id, own_files, own_folder
from benchapp.files.shipped import shipped_folder
from benchapp.sequences.planning.catalogue import MODELS


@pytest.fixture
def attic(tmp_path: Path) -> Path:
    for name, text in {
        "equipment/lamp.yaml": "# a lamp\nequipment: attic-lamp   # its id\ntitle: Lamp\nconnectors: {out: eight}\n",
        "connectors/eight.yml": 'connector: "eight"\ntitle: Eight\n',
        "sequences/look.yaml": "sequence: look\ntitle: Look\n",
        "sequences/routes/whole.yaml": "equipment: [attic-lamp]\nroute: whole\n",
        "resources/meters/m.yaml": "meter: attic-m\n",
        "stray.yaml": "services: {web: {}}\n",
        "notes.txt": "equipment: none\n",
        "photos/old.yaml": "equipment: deep-below\n",
    }.items():
        file = tmp_path / name
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_text(text)
    return tmp_path


def test_own_files_lie_in_the_folder_and_in_its_folders_of_one_kind(attic):
    names = {path.relative_to(attic).as_posix() for path in own_files(attic)}
    assert names == {
        "equipment/lamp.yaml",
        "connectors/eight.yml",
        "sequences/look.yaml",
        "sequences/routes/whole.yaml",
        "resources/meters/m.yaml",
    }


@pytest.mark.parametrize("file", ["equipment/lamp.yaml", "sequences/routes/whole.yaml", "resources/meters/m.yaml", "x"])
def test_a_folder_of_one_kind_belongs_to_the_one_above(attic, file):
    assert own_folder(attic / file) == attic


def test_files_are_known_by_the_id_inside_not_by_their_name(attic):
    assert files_by_id("equipment", [attic])["attic-lamp"] == attic / "equipment/lamp.yaml"
    assert files_by_id("connector", [attic])["eight"] == attic / "connectors/eight.yml"
    assert files_by_id("route", [attic]) == {"whole": attic / "sequences/routes/whole.yaml"}


@pytest.mark.parametrize(
    ("kind", "folder"), [("meter", "meters"), ("limits", "limits"), ("label sheet", "labels"), ("repairs", "repairs")]
)
def test_the_shipped_files_of_a_kind_are_those_of_its_folder(kind, folder):
    found = files_by_id(kind)
    assert {path.parent.name for path in found.values()} == {folder}
    assert len(found) == len(list((shipped_folder("resources") / folder).glob("*.yaml")))


def test_an_own_file_takes_the_place_of_the_shipped_one_with_its_id(attic):
    (attic / "mine.yaml").write_text("meter: tb-m1\n")
    assert files_by_id("meter", [attic])["tb-m1"] == attic / "mine.yaml"
    assert len(files_by_id("meter", [attic])) == len(files_by_id("meter")) + 1


def test_a_file_is_taken_for_the_same_kind_by_its_text_as_by_its_data():
    assert tuple(MODELS) == KEYS[: len(MODELS)]
