"""Make the small workbook of today's format that every later program has to open.

    python3 -m tests.workbook.formats.make

Run it when the format changes before the first release; from then on a file of a released format is never made again.
"""

import os
import shutil
from pathlib import Path
from tempfile import TemporaryDirectory

from tests.actions.conftest import Clock
from tests.campaign.worked import make_workbook

KEPT = Path(__file__).parent


def make() -> Path:
    """The file of today's format, beside this one."""
    from benchapp.workbook.opened.opening import HEAD

    with TemporaryDirectory() as folder:
        os.environ["BENCHAPP_DATA"] = str(Path(folder) / "data")
        path = make_workbook(Path(folder) / f"{HEAD}.workbook", Clock())
        return Path(shutil.move(path, KEPT / path.name))


if __name__ == "__main__":
    print(make())
