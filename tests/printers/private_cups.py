"""A CUPS server of one's own (CUPS is not part of this project): its socket, queues and paper trays in one folder.

Its printers are trays: a folder each. A tray takes a job as a PDF file when a file `paper` lies in it, and says until
then that it is out of paper, in the words of a CUPS backend. The job has come through CUPS's own PDF filter by then.
"""

import os
import shutil
import signal
import subprocess
import tempfile
import time
from pathlib import Path

SERVER_FILES = Path("/usr/lib/cups")
PROGRAM = next((path for path in ("/usr/sbin/cupsd", "/usr/bin/cupsd") if Path(path).exists()), None)
IS_THERE = PROGRAM is not None and shutil.which("lp") is not None and (SERVER_FILES / "filter" / "pdftopdf").exists()
MISSING = "the journey to a CUPS queue: CUPS is not on this computer (Debian: cups-daemon, cups-client, cups-filters)"
HERE = Path(__file__).parent
PATIENCE = 20.0

_CONF = """Listen {folder}/socket
WebInterface No
Browsing No
DefaultAuthType None
PreserveJobHistory Yes
LogLevel info
<Location />
  Order allow,deny
  Allow all
</Location>
<Policy default>
  JobPrivateAccess all
  JobPrivateValues none
  <Limit All>
    Order allow,deny
    Allow all
  </Limit>
</Policy>
"""
_FILES = """Printcap {folder}/root/printcap
ServerBin {folder}/programs
ServerRoot {folder}/root
RequestRoot {folder}/root/spool
CacheDir {folder}/root/cache
StateDir {folder}/root/state
TempDir {folder}/root/spool
AccessLog {folder}/root/access
ErrorLog {folder}/root/error
PageLog {folder}/root/page
"""
_TRAY = """#!/bin/sh
[ $# = 0 ] && { echo 'direct tray "Tray" "Tray"'; exit 0; }
folder=${DEVICE_URI#tray:}
if [ ! -e "$folder/paper" ]; then
  echo 'STATE: +media-empty-error' >&2
  while [ ! -e "$folder/paper" ]; do sleep 0.1; done
  echo 'STATE: -media-empty-error' >&2
fi
cat "${6:--}" > "$folder/part" && mv "$folder/part" "$folder/job-$1.pdf"
"""


class PrivateCups:
    """The server; `with` starts and stops it."""

    def __init__(self) -> None:
        self.folder = Path(tempfile.mkdtemp(prefix="cups-"))
        self.folder.chmod(0o755)

    @property
    def environment(self) -> dict[str, str]:
        """What a program needs so that it asks this server."""
        return {
            **os.environ,
            "CUPS_SERVER": str(self.folder / "socket"),
            "LC_ALL": "C.UTF-8",
            "TMPDIR": str(self.folder),
        }

    def __enter__(self) -> "PrivateCups":
        programs = self.folder / "programs"
        (programs / "backend").mkdir(parents=True)
        for name in ("daemon", "driver", "filter", "monitor", "notifier"):
            (programs / name).symlink_to(SERVER_FILES / name)
        tray = programs / "backend" / "tray"
        tray.write_text(_TRAY)
        tray.chmod(0o755)
        for name in ("spool", "cache", "state", "ppd", "ssl"):
            (self.folder / "root" / name).mkdir(parents=True)
        as_root = "User lp\nGroup lp\n" if os.geteuid() == 0 else ""
        (self.folder / "cupsd.conf").write_text(_CONF.format(folder=self.folder))
        (self.folder / "cups-files.conf").write_text(_FILES.format(folder=self.folder) + as_root)
        if as_root:
            subprocess.run(["chown", "-R", "lp:lp", str(self.folder / "root")], check=True)
        words = [str(PROGRAM), "-f", "-c", str(self.folder / "cupsd.conf"), "-s", str(self.folder / "cups-files.conf")]
        with (self.folder / "said").open("w") as said:
            self._server = subprocess.Popen(words, stdout=said, stderr=said)
        self._wait_for(lambda: self.run("lpstat", "-r").startswith("scheduler is running"))
        return self

    def __exit__(self, *_: object) -> None:
        self._server.send_signal(signal.SIGTERM)
        self._server.wait(PATIENCE)
        shutil.rmtree(self.folder, ignore_errors=True)

    def run(self, *words: str) -> str:
        """One of CUPS's own commands; what it said."""
        path = {**self.environment, "PATH": f"{os.environ['PATH']}:/usr/sbin"}
        done = subprocess.run(words, env=path, capture_output=True, text=True, check=False)
        return done.stdout + done.stderr

    def add_printer(self, name: str, *, paper: bool = True) -> Path:
        """A queue with the driver file of that name beside this module; returns its tray."""
        tray = self.folder / f"tray-{name}"
        tray.mkdir()
        tray.chmod(0o777)
        if paper:
            (tray / "paper").touch()
        self.run("lpadmin", "-p", name, "-E", "-v", f"tray:{tray}", "-P", str(HERE / f"{name}.ppd"))
        self._wait_for(lambda: name in self.run("lpstat", "-e"))
        return tray

    def _wait_for(self, there) -> None:
        until = time.monotonic() + PATIENCE
        while not there():
            assert time.monotonic() < until, (self.folder / "said").read_text() + self._log()
            time.sleep(0.1)

    def _log(self) -> str:
        log = self.folder / "root" / "error"
        return log.read_text(errors="replace")[-2000:] if log.exists() else ""
