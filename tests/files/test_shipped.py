"""The files that come with the program."""

import pytest

import benchapp
from benchapp.errors import BenchError
from benchapp.files.shipped import shipped_folder


def test_an_installation_that_lost_its_files_is_told_so(tmp_path, monkeypatch):
    monkeypatch.setattr(benchapp, "__file__", str(tmp_path / "benchapp" / "__init__.py"))
    with pytest.raises(BenchError, match="The folder resources that comes with the program is missing beside"):
        shipped_folder("resources")


@pytest.mark.parametrize("name", ["sequences", "resources"])
def test_the_shipped_folder_is_there(name):
    assert shipped_folder(name).is_dir()
    assert shipped_folder(name).name == name
