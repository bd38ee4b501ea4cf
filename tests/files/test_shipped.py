"""The files that come with the program."""

import pytest

from benchapp.files import shipped_folder


@pytest.mark.parametrize("name", ["sequences", "resources"])
def test_the_shipped_folder_is_there(name):
    assert shipped_folder(name).is_dir()
    assert shipped_folder(name).name == name
