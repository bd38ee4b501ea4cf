"""What is of one operating system, held by what each system's documentation says."""

import os
import sqlite3
import subprocess
import sys
from contextlib import closing
from pathlib import Path, PurePosixPath, PureWindowsPath

import pytest

from benchapp import operating_system
from benchapp.operating_system import (
    data_folder,
    database_uri,
    mounts_of_linux,
    mounts_of_macos,
    network_place,
    network_word,
    plain_windows_path,
    printing_library,
)

MOUNTS = rb"""22 27 0:21 / /proc rw,relatime - proc proc rw
27 1 254:0 / / rw,relatime - ext4 /dev/vda rw,discard
40 27 0:33 / /srv/share rw,relatime shared:7 master:1 - cifs //host/archive rw,vers=3.0
41 27 0:34 / /srv/our\040archive rw,relatime shared:8 - nfs4 host:/archive rw,vers=4.2
42 40 8:17 / /srv/share/stick rw - vfat /dev/sdb1 rw
43 27 0:35 / /mnt/twice rw - nfs host:/twice rw
44 43 8:18 / /mnt/twice rw - ext4 /dev/sdc1 rw
torn line"""


def test_linux_and_macos_print_by_cups():
    assert [printing_library(system=system) for system in ("linux", "darwin", "win32")] == [
        "libcups.so.2",
        "/usr/lib/libcups.2.dylib",
        None,
    ]


def test_the_data_folder_is_where_the_variable_says(tmp_path):
    assert data_folder({"BENCHAPP_DATA": str(tmp_path), "XDG_DATA_HOME": "/elsewhere"}) == tmp_path


def test_the_data_folder_of_linux_follows_xdg():
    assert data_folder({"XDG_DATA_HOME": "/data"}, system="linux") == Path("/data/benchapp")
    assert data_folder({"XDG_DATA_HOME": "data"}, system="linux") == Path.home() / ".local/share/benchapp"
    assert data_folder({}, system="linux") == Path.home() / ".local/share/benchapp"


def test_the_data_folder_of_the_other_systems_is_the_usual_one():
    assert data_folder({}, system="darwin") == Path.home() / "Library/Application Support/benchapp"
    assert data_folder({"LOCALAPPDATA": "/users/one/local"}, system="win32") == Path("/users/one/local/benchapp")
    assert data_folder({}, system="win32") == Path.home() / "AppData/Local/benchapp"


def test_tests_and_the_processes_they_start_have_a_data_folder_of_their_own():
    command = [sys.executable, "-c", "from benchapp.operating_system import data_folder; print(data_folder())"]
    surroundings = os.environ | {"PYTHONPATH": str(Path(__file__).parents[2])}
    printed = subprocess.run(command, capture_output=True, text=True, check=True, env=surroundings).stdout.strip()
    assert Path(printed) == data_folder() == Path(os.environ["BENCHAPP_DATA"])
    assert not data_folder().is_relative_to(Path.home() / ".local")


@pytest.mark.parametrize("turn", [1, 2])
def test_no_test_finds_the_data_of_another(turn):
    assert not data_folder().exists()
    data_folder().mkdir(parents=True)


@pytest.mark.parametrize(
    ("place", "word"),
    [
        ("/home/one/bench.workbook", ""),
        ("/srv/share/bench.workbook", "SMB"),
        ("/srv/shared/bench.workbook", ""),
        ("/srv/our archive/bench.workbook", "NFS"),
        ("/srv/share/stick/bench.workbook", ""),
        ("/mnt/twice/bench.workbook", ""),
    ],
)
def test_a_network_place_is_told_by_the_mount_table_of_linux(place, word):
    assert network_word(PurePosixPath(place), mounts_of_linux(MOUNTS)) == word


def test_a_network_place_is_told_by_the_mounts_that_macos_lists():
    listed = "/dev/disk3s1 on / (apfs, local, journaled)\n//one@host/our%20share on /Volumes/our share (smbfs, nodev)\n"
    mounts = mounts_of_macos(listed)
    assert network_word(PurePosixPath("/Volumes/our share/bench.workbook"), mounts) == "SMB"
    assert network_word(PurePosixPath("/Users/one/bench.workbook"), mounts) == ""


def test_this_machines_own_folders_are_local(tmp_path):
    assert network_place(tmp_path / "bench.workbook") == ""
    assert network_place(Path("/no/such/place")) == ""


def test_a_mount_table_that_cannot_be_read_makes_no_error(monkeypatch):
    monkeypatch.setattr(operating_system.Path, "read_bytes", lambda _path: (_ for _ in ()).throw(PermissionError()))
    assert network_place(Path("/anywhere")) == ""


@pytest.mark.parametrize(
    ("path", "uri"),
    [
        (r"\\server\share\the bench.workbook", "file:////server/share/the%20bench.workbook"),
        (r"\\?\UNC\server\share\bench.workbook", "file:////server/share/bench.workbook"),
        (r"C:\Users\one\100%\bench.workbook", "file:///C:/Users/one/100%25/bench.workbook"),
        (r"\\?\C:\long\bench.workbook", "file:///C:/long/bench.workbook"),
    ],
)
def test_a_windows_path_becomes_a_uri_without_a_host(path, uri):
    assert database_uri(PureWindowsPath(path)) == uri


def test_sqlite_takes_a_share_without_a_host_and_refuses_one_with():
    """SQLite's own parser: what names a host is refused before any file is looked for."""
    with pytest.raises(sqlite3.OperationalError, match="authority"):
        sqlite3.connect(PureWindowsPath(r"\\server\share\x.workbook").as_uri(), uri=True)
    with pytest.raises(sqlite3.OperationalError, match="unable to open"):
        sqlite3.connect(database_uri(PureWindowsPath(r"\\server\share\x.workbook")) + "?mode=rw", uri=True)


def test_a_drive_without_a_long_name_stays_as_it_is():
    assert plain_windows_path(PureWindowsPath(r"D:\bench")) == PureWindowsPath(r"D:\bench")


@pytest.mark.parametrize("name", ["plain", "a ? and # and %41", "Prüfplatz Ω", os.fsdecode(b"not utf-8 \xff")])
def test_sqlite_opens_the_very_file_that_a_path_names(tmp_path, name):
    path = tmp_path / name
    with closing(sqlite3.connect(database_uri(path) + "?mode=rwc", uri=True)) as connection:
        connection.execute("CREATE TABLE t (x)")
    assert [found.name for found in tmp_path.iterdir()] == [name]


def test_error_numbers_are_told_apart():
    assert operating_system.is_disk_full(OSError(28, "full"))
    assert operating_system.is_read_only(OSError(30, "read-only"))
    assert not operating_system.is_disk_full(OSError(5, "input/output"))


def test_the_module_needs_the_standard_library_alone():
    code = (
        "import sys; before = set(sys.modules); import benchapp.operating_system; "
        "print(sorted({n.split('.')[0] for n in set(sys.modules) - before} - set(sys.stdlib_module_names)))"
    )
    surroundings = os.environ | {"PYTHONPATH": str(Path(__file__).parents[2])}
    printed = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True, env=surroundings)
    assert printed.stdout.strip() == "['benchapp']"
