"""A mixed lot of twenty from the van to its tags, in a window on a real X server: by keys, by mouse, by scanner.

`python3 -m tests.journeys.twenty WORKBOOK [short]` on a display plays it and prints one line of JSON: what became of
each unit, how many keys, clicks and scans that took, and the file to which the tags were printed.
"""

import json
import sys
import time
from pathlib import Path
from typing import Any

import yaml
from PySide6.QtPrintSupport import QPrinter
from PySide6.QtWidgets import QApplication

from benchapp.actions.workbench.bench import Bench
from benchapp.desktop.person import Person
from benchapp.desktop.printing.dialog import PrintDialog
from benchapp.desktop.printing.systems import PaintedPrinters
from benchapp.desktop.theme.look import Look
from benchapp.desktop.window import Window
from benchapp.printers.values import PaperSize, Printer
from demo.playing import Player
from demo.scenario import Hidden, LotOfTheDay, read_day
from demo.simulated_bench import SimulatedUnit
from tests.desktop.windows import Clock
from tests.journeys.real_hands import MouseAlone, RealHands, ScannerInHand
from tests.people import staffed

SAID = Path(__file__).with_name("twenty.yaml")
A4 = PaperSize(key="A4", name="A4", width=210, height=297)
HANDS = {"keys": RealHands, "mouse": MouseAlone, "scanner": ScannerInHand}
PATIENCE = 60.0
"""seconds in which a window that should come or go has done so"""


class Twenty:
    """The lot, the window and the three who work it."""

    def __init__(self, path: Path, *, short: bool) -> None:
        self.said: dict[str, Any] = yaml.safe_load(SAID.read_text(encoding="utf-8"))
        self.path, self.day = path, read_day()
        wanted = self.said["short"] if short else [mark for marks in self.said["by"].values() for mark in marks]
        self.work = {who: [mark for mark in marks if mark in wanted] for who, marks in self.said["by"].items()}
        self.bench = Bench.create(path, clock=Clock(), workshop=staffed())
        self.window = Window(Look(QApplication.instance(), dark=False), Person("AB"))  # type: ignore[arg-type]
        self.window.open_bench(self.bench)
        self.window.resize(1366, 740)
        self.window.show()
        self.keys = RealHands(self.window)
        self._until(self.window.isActiveWindow)

    def play(self) -> dict[str, Any]:
        """Intake, the bench opening, every unit, the tags on paper."""
        self._take_in()
        taken = dict(self.keys.done)
        self.keys.take_unit(self.said["by"]["keys"][0])
        self.keys.open_the_bench(self.day.leads)
        became, done = {}, {"intake": taken}
        for who, marks in self.work.items():
            hands = HANDS[who](self.window)
            for mark in marks:
                before = hands.done.copy()
                became[mark] = Player(hands, lambda _page: None).work(self._unit(mark))
                done[f"{mark} by {who}"] = dict(hands.done - before)
                print(mark, who, became[mark], dict(hands.done - before), file=sys.stderr, flush=True)
        return {"became": became, "done": done, "printed": str(self._print())}

    def _take_in(self) -> None:
        """Group after group in the dialog of a new lot."""
        self.keys.strike("F2", "Ctrl+N")
        self.keys.type(self.said["name"])
        *rest, last = self.said["groups"]
        for group in (*rest, last):
            self._choose(group["equipment"])
            self.keys.tab_to("new-lot-count")
            self.keys.retype(str(group["count"]))
            self.keys.tab_to("new-lot-first")
            self.keys.retype(group["first"])
            if group is not last:
                self.keys.tab_to("new-lot-add")
                self.keys.strike("Space")
        self.keys.strike("Enter")
        self._until(lambda: len(self.bench.units()) == sum(group["count"] for group in self.said["groups"]))

    def _choose(self, equipment: str) -> None:
        self.keys.tab_to("new-lot-equipment")
        box: Any = self.keys.at_keyboard()
        self.keys.strike("Home")
        while box.currentData() != equipment:
            self.keys.strike("Down")

    def _unit(self, mark: str) -> SimulatedUnit:
        group = next(one for one in self.said["groups"] if one["first"][:4] == mark[:4])
        hidden = {mark: Hidden(**self.said["hidden"][mark])} if mark in self.said["hidden"] else {}
        answers = self.said["answers"][group["equipment"]]
        lot = LotOfTheDay(
            lot=self.said["name"],
            equipment=group["equipment"],
            first=group["first"],
            count=group["count"],
            grade="B",
            price="12.00",
            answers=answers,
            hidden=hidden,
        )
        return SimulatedUnit(self.day, lot, mark)

    def _print(self) -> Path:
        """The tags of the lot, on a printer of the toolkit that writes PDF."""
        job = self.path.with_name("tags.pdf")

        def device(_printer: Printer) -> QPrinter:
            printer = QPrinter(QPrinter.PrinterMode.HighResolution)
            printer.setOutputFormat(QPrinter.OutputFormat.PdfFormat)
            printer.setOutputFileName(str(job))
            return printer

        shown = (Printer(name="pdf", title="the PDF printer", papers=(A4,), usual_paper="A4"),)
        context = self.window.context
        assert context is not None
        context.printing.system = PaintedPrinters(device, lambda: shown)
        self.keys.strike("F2", "Ctrl+P")
        self._until(lambda: self.window.findChild(PrintDialog, "print-dialog") is not None)
        dialog = self.window.findChild(PrintDialog, "print-dialog")
        self._until(lambda: dialog.preview.accessibleDescription() != "")
        gone: list[int] = []
        dialog.finished.connect(gone.append)
        self.keys.strike("Enter")
        self._until(lambda: bool(gone))
        return job

    def _until(self, holds) -> None:
        until = time.monotonic() + PATIENCE
        while not holds():
            self.keys.settle()
            time.sleep(0.02)
            assert time.monotonic() < until, "it never comes"


if __name__ == "__main__":
    application = QApplication(["benchapp"])
    journey = Twenty(Path(sys.argv[1]), short="short" in sys.argv[2:])
    try:
        print(json.dumps(journey.play()), flush=True)
    except BaseException:
        journey.window.screen().grabWindow(0).save(str(journey.path.with_name("stopped.png")))
        raise
    journey.window.close()
