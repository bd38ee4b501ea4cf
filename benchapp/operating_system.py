"""What is of one operating system: where a user's data lies, network drives, paths as SQLite takes them, error numbers.

Standard library alone. Windows and macOS are written from their documentation and from memory; tests run on Linux.
"""

import errno
import os
import re
import subprocess
import sys
from collections.abc import Mapping
from pathlib import Path, PurePath, PureWindowsPath
from urllib.parse import quote

PROGRAM = "benchapp"
DATA_VARIABLE = "BENCHAPP_DATA"
"""environment variable that names another folder for the user's data"""

NETWORK_FILE_SYSTEMS = {
    "nfs": "NFS",
    "nfs4": "NFS",
    "cifs": "SMB",
    "smb3": "SMB",
    "smbfs": "SMB",
    "ncpfs": "NCP",
    "afpfs": "AFP",
    "afs": "AFS",
    "coda": "Coda",
    "ceph": "Ceph",
    "lustre": "Lustre",
    "9p": "9P",
    "webdav": "WebDAV",
    "davfs": "WebDAV",
    "fuse.sshfs": "SSHFS",
    "fuse.davfs": "WebDAV",
    "fuse.rclone": "rclone",
    "fuse.glusterfs": "GlusterFS",
    "fuse.ceph-fuse": "Ceph",
    "fuse.gvfsd-fuse": "GVfs",
    "fuse.vmhgfs-fuse": "a virtual machine's shared folder",
    "vboxsf": "a virtual machine's shared folder",
    "virtiofs": "a virtual machine's shared folder",
    "ocfs2": "OCFS2",
    "gfs2": "GFS2",
}
"""name of a file system in the mount table -> word for it; those that more than one computer can write (from memory)"""

_PRINTING = {"linux": "libcups.so.2", "darwin": "/usr/lib/libcups.2.dylib"}
"""system -> the library of CUPS 2, the printing system of both"""
_DISK_FULL = {errno.ENOSPC, errno.EDQUOT, errno.EFBIG}
_READ_ONLY = {errno.EACCES, errno.EPERM, errno.EROFS}
_REMOTE_DRIVE = 4
"""what GetDriveTypeW of Windows answers for a network drive"""


def printing_library(*, system: str = sys.platform) -> str | None:
    """Where the system looks for the library of CUPS; None where it has none (Windows)."""
    return _PRINTING.get(system)


def data_folder(variables: Mapping[str, str] = os.environ, *, system: str = sys.platform) -> Path:
    """The user's own folder for this program's data; it need not be there yet.

    BENCHAPP_DATA names another. Linux: XDG_DATA_HOME (XDG Base Directory Specification: a relative path is ignored),
    else ~/.local/share. macOS: ~/Library/Application Support. Windows: LOCALAPPDATA, which stays on this computer.
    """
    if told := variables.get(DATA_VARIABLE):
        return Path(told).expanduser().absolute()
    if system == "win32":
        base = variables.get("LOCALAPPDATA")
        return (Path(base) if base else Path.home() / "AppData" / "Local") / PROGRAM
    if system == "darwin":
        return Path.home() / "Library" / "Application Support" / PROGRAM
    base = variables.get("XDG_DATA_HOME", "")
    return (Path(base) if base.startswith("/") else Path.home() / ".local" / "share") / PROGRAM


def network_place(path: Path) -> str:
    """A word for the network file system that holds the path ("NFS"); empty when the place is on this computer.

    A place that cannot be asked counts as local.
    """
    try:
        if sys.platform == "win32":
            return _windows_network_place(path)
        place = path.resolve()
        if sys.platform == "darwin":
            listed = subprocess.run(["/sbin/mount"], capture_output=True, text=True, check=False).stdout
            return network_word(place, mounts_of_macos(listed))
        return network_word(place, mounts_of_linux(Path("/proc/self/mountinfo").read_bytes()))
    except OSError:
        return ""


def network_word(place: PurePath, mounts: list[tuple[str, str]]) -> str:
    """The word for the file system of a place, from (mount point, file system); the last mount on a point counts."""
    holding = [(len(point), kind) for point, kind in mounts if place.is_relative_to(point)]
    longest = max((length for length, _ in holding), default=0)
    kind = next((kind for length, kind in reversed(holding) if length == longest), "")
    return NETWORK_FILE_SYSTEMS.get(kind, "")


def mounts_of_linux(mountinfo: bytes) -> list[tuple[str, str]]:
    """(mount point, file system) of a line of /proc/self/mountinfo (proc(5): octal escapes, options up to a dash)."""
    mounts = []
    for line in mountinfo.splitlines():
        fields = line.split(b" ")
        dash = fields.index(b"-") if b"-" in fields else len(fields)
        if len(fields) > max(4, dash + 1):
            point = re.sub(rb"\\([0-7]{3})", lambda found: bytes([int(found[1], 8)]), fields[4])
            mounts.append((os.fsdecode(point), os.fsdecode(fields[dash + 1])))
    return mounts


def mounts_of_macos(listed: str) -> list[tuple[str, str]]:
    """(mount point, file system) of each line that `mount` of macOS prints: `//a@b/c on /Volumes/c (smbfs, nodev)`."""
    found = (re.fullmatch(r".* on (/.*) \(([^,)]+).*\)", line) for line in listed.splitlines())
    return [(match[1], match[2]) for match in found if match]


def _windows_network_place(path: Path) -> str:
    import ctypes

    drive = plain_windows_path(PureWindowsPath(path.absolute())).drive
    if drive.startswith("\\\\"):
        return "a network share"
    kernel = getattr(ctypes, "windll").kernel32  # noqa: B009 - the name is there on Windows alone
    return "a network drive" if kernel.GetDriveTypeW(drive + "\\") == _REMOTE_DRIVE else ""


def plain_windows_path(path: PureWindowsPath) -> PureWindowsPath:
    r"""The path without the prefix \\?\ of long names: C:\... or \\server\share\... ."""
    text = str(path)
    if text.upper().startswith("\\\\?\\UNC\\"):
        return PureWindowsPath("\\\\" + text[8:])
    return PureWindowsPath(text.removeprefix("\\\\?\\"))


def database_uri(path: PurePath) -> str:
    """An absolute path as the URI filename that SQLite takes, without a query.

    SQLite's "Uniform Resource Identifiers" asks for an empty authority. So a Windows share is file:////server/share/...
    here, where the usual form file://server/share/... names a host and is refused.
    """
    if isinstance(path, PureWindowsPath):
        plain = plain_windows_path(path).as_posix()
        if re.match("[A-Za-z]:", plain):
            return f"file:///{plain[:2]}{quote(plain[2:])}"
        return "file://" + quote(plain)
    return "file://" + quote(os.fsencode(path))


def is_disk_full(error: OSError) -> bool:
    """Whether no room is left: on the disk, in a quota, or in the largest file that is allowed."""
    return error.errno in _DISK_FULL


def is_read_only(error: OSError) -> bool:
    """Whether the place may not be written."""
    return error.errno in _READ_ONLY


def may_write(path: Path) -> bool:
    """Whether a file, and what a program keeps beside it, may be written here. Windows tells of the file alone."""
    return os.access(path, os.W_OK) and os.access(path.resolve().parent, os.W_OK)


def sync_folder(folder: Path) -> None:
    """See that a name given in the folder is on disk: a file's own sync does not do so (fsync(2)). Not on Windows."""
    if sys.platform == "win32":
        return
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    except OSError as error:
        if error.errno not in {errno.EINVAL, errno.ENOTSUP}:  # a file system that has no such thing
            raise
    finally:
        os.close(handle)


def is_linux() -> bool:
    """Whether this is Linux, where Qt needs system libraries and a display server."""
    return sys.platform.startswith("linux")


def has_display(variables: Mapping[str, str] = os.environ) -> bool:
    """Whether there is a display for a window: on Linux one of X11 or Wayland is named, other systems have one."""
    return not is_linux() or bool(variables.get("DISPLAY") or variables.get("WAYLAND_DISPLAY"))


def interpreter_within(environment: Path) -> Path:
    """Where a virtual environment keeps its interpreter on this system."""
    return environment / ("Scripts/python.exe" if os.name == "nt" else "bin/python")


def is_administrator() -> bool:
    """Whether this process may install system packages."""
    return hasattr(os, "geteuid") and os.geteuid() == 0
