"""An author's own files are found beside the file at hand, in its folder and in folders of one kind."""

from pathlib import Path

import pytest

from benchapp.files.beside import own_by_id, own_files, own_folder


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


def test_own_files_are_known_by_the_id_inside_not_by_their_name(attic):
    assert own_by_id("equipment", [attic]) == {"attic-lamp": attic / "equipment/lamp.yaml"}
    assert own_by_id("connector", [attic]) == {"eight": attic / "connectors/eight.yml"}
    assert own_by_id("route", [attic]) == {"whole": attic / "sequences/routes/whole.yaml"}
    assert own_by_id("caution", [attic]) == {}
