"""What the program needs from the machine: a virtual environment and the system libraries of Qt.

Standard library alone, since both start commands (demo/start.py, tests/start.py) run it before anything is installed;
an installed program asks here when Qt cannot be loaded.
"""

import hashlib
import importlib.util
import os
import shutil
import subprocess
import sys
from collections.abc import Iterable, Sequence
from pathlib import Path

from benchapp.errors import BenchError
from benchapp.operating_system import interpreter_within, is_administrator, is_linux

ROOT = Path(__file__).resolve().parents[1]
ENVIRONMENT = ROOT / ".venv"
CONSTRAINTS = ROOT / ".constraints.txt"
OLDEST_PYTHON = (3, 11)

# Shared object that Qt asks for -> Debian package that carries it.
DEBIAN_PACKAGES = {
    "libEGL.so.1": "libegl1",
    "libGL.so.1": "libgl1",
    "libGLX.so.0": "libglx0",
    "libOpenGL.so.0": "libopengl0",
    "libdbus-1.so.3": "libdbus-1-3",
    "libfontconfig.so.1": "libfontconfig1",
    "libfreetype.so.6": "libfreetype6",
    "libglib-2.0.so.0": "libglib2.0-0",
    "libgthread-2.0.so.0": "libglib2.0-0",
    "libwayland-client.so.0": "libwayland-client0",
    "libwayland-cursor.so.0": "libwayland-cursor0",
    "libwayland-egl.so.1": "libwayland-egl1",
    "libX11-xcb.so.1": "libx11-xcb1",
    "libX11.so.6": "libx11-6",
    "libxcb-cursor.so.0": "libxcb-cursor0",
    "libxcb-icccm.so.4": "libxcb-icccm4",
    "libxcb-image.so.0": "libxcb-image0",
    "libxcb-keysyms.so.1": "libxcb-keysyms1",
    "libxcb-randr.so.0": "libxcb-randr0",
    "libxcb-render-util.so.0": "libxcb-render-util0",
    "libxcb-render.so.0": "libxcb-render0",
    "libxcb-shape.so.0": "libxcb-shape0",
    "libxcb-shm.so.0": "libxcb-shm0",
    "libxcb-sync.so.1": "libxcb-sync1",
    "libxcb-util.so.1": "libxcb-util1",
    "libxcb-xfixes.so.0": "libxcb-xfixes0",
    "libxcb-xkb.so.1": "libxcb-xkb1",
    "libxcb.so.1": "libxcb1",
    "libxkbcommon-x11.so.0": "libxkbcommon-x11-0",
    "libxkbcommon.so.0": "libxkbcommon0",
    "libz.so.1": "zlib1g",
    "libzstd.so.1": "libzstd1",
}


class EnvironmentProblem(BenchError):
    """The machine lacks something; the sentence says what to run."""


def prepare(*, extras: Sequence[str] = ()) -> Path:
    """Make `.venv` with this package, its pinned dependencies and `extras`; return its Python.

    Quick when nothing changed since the last time. Raises EnvironmentProblem with what to do.
    """
    _check_python(sys.version_info[:2])
    python = interpreter_within(ENVIRONMENT)
    stamp = ENVIRONMENT / f"installed-{'-'.join(extras) or 'plain'}"
    wanted = _fingerprint(extras)
    if not (python.exists() and stamp.exists() and stamp.read_text(encoding="utf-8") == wanted):
        _make_environment(python)
        _install(python, extras)
        stamp.write_text(wanted, encoding="utf-8")
    provide_system_libraries(missing_system_libraries(_qt_in(ENVIRONMENT), ("offscreen", "xcb")))
    return python


def _check_python(version: tuple[int, ...]) -> None:
    if version < OLDEST_PYTHON:
        found, oldest = (".".join(map(str, numbers)) for numbers in (version, OLDEST_PYTHON))
        message = f"This is Python {found}; Python {oldest} or newer is needed. Start the command with a newer python3."
        raise EnvironmentProblem(message)


def _fingerprint(extras: Sequence[str]) -> str:
    """Changes whenever the dependencies, the extras, the interpreter or the place of the clone do."""
    parts = [(ROOT / "pyproject.toml").read_bytes(), CONSTRAINTS.read_bytes()]
    parts += [" ".join(extras).encode(), sys.version.encode(), str(ROOT).encode()]
    return hashlib.sha256(b"\0".join(parts)).hexdigest()


def _make_environment(python: Path) -> None:
    if python.exists():
        return
    print(f"Making the environment {ENVIRONMENT} ...", flush=True)
    made = _run([sys.executable, "-m", "venv", "--clear", str(ENVIRONMENT)])
    if made.returncode:
        raise EnvironmentProblem(
            f"Python could not make the environment {ENVIRONMENT}: {_last_line(made)} "
            "On Debian-like systems run: sudo apt-get install python3-venv"
        )


def _install(python: Path, extras: Sequence[str]) -> None:
    print("Installing the pinned packages (a minute or two the first time) ...", flush=True)
    package = f"{ROOT}[{','.join(extras)}]" if extras else str(ROOT)
    command = [str(python), "-m", "pip", "install", "--disable-pip-version-check", "--quiet"]
    done = _run([*command, "--constraint", str(CONSTRAINTS), "--editable", package])
    if done.returncode:
        raise EnvironmentProblem(
            f"The packages could not be installed: {_last_line(done)} "
            "Check the connection to the package index and the free disk space, then run the command again."
        )


def missing_system_libraries(qt: Path | None, platforms: Sequence[str]) -> tuple[str, ...]:
    """Names of the shared objects that Qt's plugins for these platforms ask for and the system lacks.

    `qt` is the folder of Qt in the PySide6 package; nothing is missed where there is none.
    """
    linker = shutil.which("ldd")
    if not is_linux() or linker is None or qt is None:
        return ()
    plugins = [qt / "plugins/platforms" / f"libq{name}.so" for name in platforms]
    listed = [_run([linker, str(plugin)]).stdout for plugin in plugins if plugin.exists()]
    return missing_in(listed)


def _qt_in(environment: Path) -> Path | None:
    return next(environment.glob("lib/python*/site-packages/PySide6/Qt"), None)


def installed_qt() -> Path | None:
    """The folder of Qt in the package that this interpreter would import; None where PySide6 is not installed."""
    found = importlib.util.find_spec("PySide6")
    places = found.submodule_search_locations if found is not None else None
    return Path(next(iter(places))) / "Qt" if places else None


def missing_in(listings: Iterable[str]) -> tuple[str, ...]:
    """The names that `ldd` could not find, each once, in alphabetical order."""
    lines = (line.split() for listing in listings for line in listing.splitlines() if "not found" in line)
    return tuple(sorted({words[0] for words in lines if words}))


def provide_system_libraries(missing: Sequence[str]) -> None:
    """Install what is missing where we may, else raise EnvironmentProblem with the one line to run."""
    if not missing:
        return
    packages, installer = _packages_of(missing), shutil.which("apt-get")
    if installer is None or not packages or not is_administrator():
        raise EnvironmentProblem(libraries_sentence(missing))
    print(f"Installing system libraries for Qt: {' '.join(packages)} ...", flush=True)
    _run([installer, "update"])
    done = _run([installer, "install", "--yes", "--no-install-recommends", *packages])
    if done.returncode:
        problem = f"The system libraries could not be installed: {_last_line(done)}"
        raise EnvironmentProblem(f"{problem} Run: {_install_line(packages)}")


def libraries_sentence(missing: Sequence[str]) -> str:
    """What to install for these shared objects: the line to run where all packages are known, else the names too."""
    packages, unknown = _packages_of(missing), [name for name in missing if name not in DEBIAN_PACKAGES]
    if not packages or shutil.which("apt-get") is None:
        return f"Qt needs these system libraries: {', '.join(missing)}. Install them and run the command again."
    also = f"Install {', '.join(unknown)} too. " if unknown else ""
    return f"Qt needs system libraries that are missing. {also}Run: {_install_line(packages)}"


def _packages_of(missing: Sequence[str]) -> list[str]:
    return sorted({DEBIAN_PACKAGES[name] for name in missing if name in DEBIAN_PACKAGES})


def _install_line(packages: Sequence[str]) -> str:
    return f"sudo apt-get install {' '.join(packages)}"


def provide_tool(program: str, *, what_for: str, install: bool, package: str = "") -> str:
    """A sentence on where a program is that some tests use; installed only when told to, and said.

    `package` is its Debian package, where that has another name. Without it nothing fails: the tests say that they were
    skipped.
    """
    package = package or program
    line = f"sudo apt-get install {package}"
    found, installer = shutil.which(program), shutil.which("apt-get")
    if found is None and install and installer is not None and is_administrator():
        print(f"Installing {program} for {what_for} ...", flush=True)
        _run([installer, "update"])
        _run([installer, "install", "--yes", "--no-install-recommends", package])
        found = shutil.which(program)
    if found is None:
        return f"{program} is not installed, so {what_for} is skipped. To have it: {line}"
    return f"{program}: {found}, for {what_for}"


def _run(command: Sequence[str]) -> "subprocess.CompletedProcess[str]":
    environment = {**os.environ, "DEBIAN_FRONTEND": "noninteractive"}
    return subprocess.run(command, capture_output=True, text=True, check=False, env=environment)  # noqa: S603 - our own words


def _last_line(done: "subprocess.CompletedProcess[str]") -> str:
    lines = [line for line in (done.stderr + done.stdout).splitlines() if line.strip()]
    errors = [line for line in lines if "error" in line.lower()]
    return (errors or lines or ["it gave no reason."])[-1].strip()
