"""Opens the workbook of the first word as the program does and takes a unit once the window is at rest.

Says the seconds from choosing the unit to its page on the screen.
"""

import sys
import time
from pathlib import Path

from PySide6.QtCore import QEventLoop
from PySide6.QtWidgets import QApplication

from benchapp.desktop.start import Opening

REST = 1.0
"""seconds after the opening, and until nothing is under way: nobody chooses a unit sooner"""


def main() -> None:
    application = QApplication([])
    opening = Opening(application, Path(sys.argv[1]))
    opening.begin()
    window, loop = opening.window, QEventLoop()
    while window.context is None:
        application.processEvents()
    rests = time.monotonic() + REST
    while time.monotonic() < rests or window.tasks.under_way:
        application.processEvents()
        time.sleep(0.005)  # lets the threads that work have the interpreter
    begun = time.perf_counter()
    window.take_unit("TB-002")
    window.bench.turned.connect(loop.quit)
    if window.bench.page is None:
        loop.exec()
    application.processEvents()
    print(time.perf_counter() - begun, flush=True)
    window.close()


main()
