"""The whole day in a window that nobody sees: lots, bench, sale table, papers, account."""

import sys
from collections import Counter

from PySide6.QtCore import QMessageLogContext, QtMsgType, qInstallMessageHandler
from PySide6.QtWidgets import QApplication

from benchapp.actions.entries.intake import shelf_marks
from benchapp.actions.papers.printing import export_record_sheets, export_tags
from benchapp.actions.workbench.bench import Bench
from benchapp.desktop.person import Person
from benchapp.desktop.theme.look import Look
from benchapp.desktop.window import Window
from benchapp.sequences.planning.answer_content import is_answer
from benchapp.sequences.planning.planned import Workshop
from demo.album import Album
from demo.clock import PlayedClock
from demo.keep import Keep
from demo.playing import Player
from demo.scenario import Day, LotOfTheDay
from demo.simulated_bench import SimulatedUnit
from demo.technician import Technician

WIDTH = 32
"""signs of the progress bar"""


def played_day(keep: Keep, day: Day) -> str:
    """Play the day; returns the account in a few lines."""
    qInstallMessageHandler(_tell)
    application = QApplication.instance() or QApplication(["demo"])
    assert isinstance(application, QApplication)
    bench = Bench.create(keep.workbook(), clock=PlayedClock(), workshop=Workshop(people=day.people, demo=True))
    window = Window(Look(application, dark=False), Person(day.technician))
    window.tasks.bug.connect(_stop_at)
    window.open_bench(bench)
    window.show()
    album = Album(window, keep.folder / "screens")
    technician = Technician(window)
    bar = Bar(sum(lot.count for lot in day.lots))
    dispositions: Counter[str] = Counter()
    for number, lot in enumerate(day.lots):
        _take_in(technician, lot, day, album)
        for unit in [SimulatedUnit(day, lot, mark) for mark in shelf_marks(lot.first, lot.count)]:
            if number == 0 and not bench.opening():
                _open_bench(technician, unit, day, album)
            dispositions[Player(technician, album.see).work(unit)] += 1
            bar.step(unit.mark)
        technician.strike("F2")
        album.see("board")
    technician.strike("F11")
    album.see("sale-table")
    _back_up(technician, keep, album)
    bar.close()
    account = _papers_and_account(bench, keep, dispositions)
    keep.claim(*album.written)
    window.close()
    return account


def _back_up(technician: Technician, keep: Keep, album: Album) -> None:
    """Name a folder for backups; the first backup follows."""
    folder = keep.folder / "backups"
    technician.strike("Ctrl+S", "Ctrl+Shift+F")
    technician.retype(str(folder))
    technician.strike("Enter")
    album.see("backups")
    keep.claim(*folder.iterdir())


def _take_in(technician: Technician, lot: LotOfTheDay, day: Day, album: Album) -> None:
    technician.strike("F2")
    album.see("no-lot-yet")
    technician.take_in(name=lot.lot, equipment=lot.equipment, count=lot.count, first=lot.first, initials=day.technician)
    album.see("lot-taken-in")


def _open_bench(technician: Technician, unit: SimulatedUnit, day: Day, album: Album) -> None:
    technician.take_unit(unit.mark)
    technician.strike("F8")
    album.see("bench-opening")
    technician.strike("Esc")
    technician.open_the_bench(day.leads)


def _papers_and_account(bench: Bench, keep: Keep, dispositions: Counter[str]) -> str:
    tags, records = keep.folder / "tags.pdf", keep.folder / "records"
    records.mkdir(exist_ok=True)
    written = export_tags(bench, out=tags, by="").files
    for lot in bench.lots():
        written += export_record_sheets(bench, lot=lot.name, folder=records).files
    keep.claim(*written)
    units = bench.units()
    judgements = Counter(
        entry.content.judgement.value for unit in units for entry in bench.entries(unit.mark) if is_answer(entry)
    )
    lines = [
        f"Units done: {len(units)} (" + ", ".join(f"{count} {words}" for words, count in dispositions.items()) + ")",
        "Judgements: " + ", ".join(f"{count} {words}" for words, count in judgements.most_common()),
        f"Tags: {len(units)} in {tags}",
    ]
    return "\n".join(lines)


class Bar:
    """A progress bar of one line on a terminal, a line now and then elsewhere."""

    def __init__(self, of: int) -> None:
        self._of = of
        self._done = 0
        self.step("", 0)

    def step(self, words: str, by: int = 1) -> None:
        """One more unit is done."""
        self._done += by
        full = WIDTH * self._done // self._of
        line = f"[{'#' * full}{'.' * (WIDTH - full)}] {self._done} of {self._of} {words}"
        sys.stdout.write(f"\r{line:<64}" if sys.stdout.isatty() else f"{line}\n")
        sys.stdout.flush()

    def close(self) -> None:
        """End the line."""
        if sys.stdout.isatty():
            sys.stdout.write("\n")


def _tell(_kind: QtMsgType, _context: QMessageLogContext, words: str) -> None:
    """Pass on what Qt says, but for the offscreen platform's own line about sizes."""
    if "propagateSizeHints" not in words:
        print(words, file=sys.stderr)


def _stop_at(problem: BaseException) -> None:
    """A mistake of the program ends the demo with its details."""
    import traceback

    traceback.print_exception(problem)
    raise SystemExit(1)
