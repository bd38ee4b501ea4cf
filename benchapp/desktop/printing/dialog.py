"""Printing: what, on which printer and sheet, from which label, how often; the page beside it; a test print.

A printer is asked for the sheet's own paper and no other. What it has taken stands in the workbook as printed.
"""

from collections.abc import Callable, Sequence
from functools import partial
from typing import TYPE_CHECKING, Any

from PySide6.QtCore import Qt, QTimer
from PySide6.QtWidgets import QDialogButtonBox, QHBoxLayout, QPushButton, QVBoxLayout, QWidget

from benchapp.actions.papers.pictures import page_picture, pages_in
from benchapp.actions.papers.print_jobs import Paper, PrintJob, Sheet, Wish, alignment_job, print_jobs
from benchapp.actions.papers.printer_settings import keep_printer_settings, read_printer_settings
from benchapp.desktop.keys import KEYS, add_action, with_key
from benchapp.desktop.printing.choices import PrintChoices
from benchapp.desktop.printing.paper_fit import what_to_put_in, wrong_paper
from benchapp.desktop.printing.preview import PagePreview
from benchapp.desktop.printing.run import PrintRun
from benchapp.desktop.widgets.asking_dialog import AskingDialog
from benchapp.desktop.widgets.room import give_room
from benchapp.desktop.widgets.split import Split
from benchapp.desktop.widgets.texts import button, label
from benchapp.desktop.words import tr
from benchapp.printers.values import Parcel, Printer

if TYPE_CHECKING:
    from benchapp.desktop.app_context import AppContext

PREVIEW_DPI = 110
_WAIT = 150
"""milliseconds without another change before the page is drawn again"""
_NARROW = 44
_WIDE, _HIGH = 58, 36


class PrintDialog(AskingDialog):
    """Asks what to print and how, prints it, and stays open with a sentence until the printer has taken it."""

    def __init__(
        self,
        context: "AppContext",
        parent: QWidget,
        papers: Sequence[Paper],
        units: Sequence[str],
        export: Callable[[Wish], object],
    ) -> None:
        super().__init__(parent, "print", tr("Print"), QDialogButtonBox.StandardButton.Ok)
        self._context, self._export = context, export
        self._run: PrintRun | None = None
        self._page, self._pages = 0, 1
        self._drawing = 0
        self._closed = False
        self.finished.connect(self._close)
        self.choices = PrintChoices(papers, units, read_printer_settings())
        self.preview = PagePreview(context.look)
        self.note = label("print-note", "quiet")
        self.state = label("print-state", "say")
        self.state.hide()
        self.fitting = _small("print-fitting", "")
        self.fitting.hide()
        self.test = _small("print-test", with_key("test print", tr(KEYS["test print"].words)))
        self.pdf = _small("print-pdf", with_key("as pdf", tr(KEYS["as pdf"].words)))
        self.back = _small("print-back", with_key("page back", ""))
        self.on = _small("print-on", with_key("page on", ""))
        self.number = label("print-page", "quiet", wrap=False)
        self._later = QTimer(self)
        self._later.setSingleShot(True)
        self._later.setInterval(_WAIT)
        self._put_together()
        self._connect()

    def _put_together(self) -> None:
        left, right = QWidget(), QWidget()
        left.setObjectName("print-form")
        column = QVBoxLayout(left)
        column.setContentsMargins(0, 0, 0, 0)
        row = QHBoxLayout()
        row.addWidget(self.test)
        row.addWidget(self.pdf)
        row.addStretch(1)
        column.addWidget(self.choices)
        column.addLayout(row)
        column.addWidget(self.note)
        column.addStretch(1)
        turning = QHBoxLayout()
        turning.addStretch(1)
        for widget in (self.back, self.number, self.on):
            turning.addWidget(widget)
        turning.addStretch(1)
        page = QVBoxLayout(right)
        page.setContentsMargins(0, 0, 0, 0)
        page.addWidget(self.preview, 1)
        page.addLayout(turning)
        body = Split(self._context.look, left, right, shares=(5, 4), narrow=_NARROW)
        self._print = self.buttons.button(QDialogButtonBox.StandardButton.Ok)
        self._print.setText(tr("Print"))
        self._print.setObjectName("print-go")
        self._cancel = self.buttons.button(QDialogButtonBox.StandardButton.Cancel)
        self._cancel.setObjectName("print-cancel")
        self.lay_out(body, wide=_WIDE)
        layout = self.layout()
        assert isinstance(layout, QVBoxLayout)
        for widget in (self.state, self.fitting):  # always in sight; what fits, below the complaint that it answers
            layout.insertWidget(layout.indexOf(self.buttons), widget)

    def _connect(self) -> None:
        self.choices.changed.connect(self._renew)
        self._later.timeout.connect(self._draw)
        self.preview.label_chosen.connect(self._take_label)
        for widget, one, work in (
            (self.test, "test print", self.print_test),
            (self.pdf, "as pdf", self.write_pdf),
            (self.fitting, "fitting sheet", self._take_fitting),
            (self.back, "page back", partial(self._turn, -1)),
            (self.on, "page on", partial(self._turn, 1)),
        ):
            widget.clicked.connect(lambda _checked=False, work=work: work())
            add_action(self, one, partial(_if_enabled, widget, work))

    def fit(self) -> None:
        """Stay as large as the page beside the form needs, whatever is complained of."""
        give_room(self, wide=_WIDE, high=_HIGH)

    def begin(self) -> None:
        """Ask the computer for its printers, and show the first page."""
        self.note.setText(tr("Looking for printers …"))
        for widget in (self.back, self.on):
            widget.hide()
        QTimer.singleShot(0, self, self._find_printers)

    def go(self) -> None:
        """Print what is chosen."""
        if self._run is None and self._is_possible():
            self._make(partial(print_jobs, self._context.bench, self.choices.wish()), self._printed)

    def print_test(self) -> None:
        """Print a page to measure; nothing is recorded of it."""
        if self._run is None and self._is_possible():
            sheet, offset = self.choices.chosen_sheet().id, self.choices.offset()
            self._make(lambda: (alignment_job(sheet, offset),), self._tested)

    def write_pdf(self) -> None:
        """Write the same document as a file in place of printing it."""
        wish = self.choices.wish()
        self.reject()
        self._export(wish)

    def reject(self) -> None:
        """Close; while it prints, take back what is not out yet."""
        if self._run is not None:
            self._run.stop()
            self._run = None
            words = tr("Taken back from the printer. What was not out is not recorded as printed.")
            self._context.change_signals.said.emit(words)
        super().reject()

    # what is possible
    def _find_printers(self) -> None:
        self.choices.offer_printers(self._context.printing.system.printers())

    def _renew(self) -> None:
        """Something else is chosen: say what stands in the way, and draw the page anew."""
        self._page = 0
        self._is_possible()
        self._later.start()

    def _is_possible(self) -> bool:
        """Whether the printer can be asked for this; says so, and offers the sheet that fits where one does."""
        printer, sheet = self.choices.chosen_printer(), self.choices.chosen_sheet()
        self.fitting.hide()
        self.note.setText("")
        if printer is None:
            words = tr(
                "This computer has no printer set up. Set one up in its settings, or write the page as a PDF file and "
                "print that elsewhere, at 100 % and without fitting it to the paper."
            )
        else:
            words = self.choices.wrong() or self._wrong_paper(printer, sheet)
            self.note.setText("" if words else what_to_put_in(printer, sheet))
        self.complain(words)
        for widget in (self._print, self.test):
            widget.setEnabled(not words)
        self.test.setVisible(self.choices.chosen_paper().on_labels)
        self.pdf.setEnabled(not self.choices.wrong())
        return not words

    def _wrong_paper(self, printer: Printer, sheet: Sheet) -> str:
        """What is wrong with the paper; the sheet that would fit is offered beside."""
        words, fitting = wrong_paper(printer, sheet, self.choices.sheets())
        if fitting is not None:
            offer = tr("Take “{sheet}”, which fits").format(sheet=fitting.title)
            self.fitting.setText(with_key("fitting sheet", offer))
            self.fitting.setProperty("sheet", fitting.id)
        self.fitting.setVisible(fitting is not None)
        return words

    def _take_fitting(self) -> None:
        self.choices.take_sheet(str(self.fitting.property("sheet")))

    def _take_label(self, number: int) -> None:
        if self._page == 0 and self._run is None:
            self.choices.take_label(number)

    # the page
    def _turn(self, by: int) -> None:
        self._page = min(max(self._page + by, 0), self._pages - 1)
        self._draw()

    def _draw(self) -> None:
        """Draw the page off the window's thread; of several that were asked for, the last one counts."""
        if self.choices.wrong():
            return
        self._drawing += 1
        self.number.setText(tr("Drawing the page …"))
        wish, page, asked, bench = self.choices.wish(), self._page, self._drawing, self._context.bench

        def work() -> tuple[int, PrintJob, int, int, bytes]:
            jobs = print_jobs(bench, wish)
            pages = [(job, number) for job in jobs for number in range(pages_in(job.pdf))]
            job, number = pages[min(page, len(pages) - 1)]
            return asked, job, min(page, len(pages) - 1), len(pages), page_picture(job.pdf, number, dpi=PREVIEW_DPI)

        self._read(work, self._show, self._refuse)

    def _show(self, drawn: tuple[int, PrintJob, int, int, bytes]) -> None:
        asked, job, self._page, self._pages, picture = drawn
        if asked != self._drawing:
            return
        sheet, wish = self.choices.chosen_sheet(), self.choices.wish()
        used = wish.start_at - 1 if self._page == 0 and sheet.labels else 0
        words = tr("Page {page} of {pages}").format(page=self._page + 1, pages=self._pages)
        self.number.setText(words)
        self.back.setEnabled(self._page > 0)
        self.on.setEnabled(self._page < self._pages - 1)
        for widget in (self.back, self.on):
            widget.setVisible(self._pages > 1)
        said = tr("{page}, {title}, on “{sheet}”, {width:.0f} × {height:.0f} mm").format(
            page=words, title=job.title, sheet=sheet.title, width=job.width, height=job.height
        )
        self.preview.show_page(picture, (job.width, job.height), sheet, used=used, words=said)

    def _refuse(self, sentence: str) -> None:
        self.preview.show_nothing()
        self.complain(sentence)
        for widget in (self._print, self.pdf):
            widget.setEnabled(False)

    def _read(self, work: Callable[[], Any], then: Callable[[Any], None], refused: Callable[[str], None]) -> None:
        """Work off the window's thread; what comes when the dialog has closed is dropped."""

        def while_open(hear: Callable[[Any], None]) -> Callable[[Any], None]:
            return lambda answer: None if self._closed else hear(answer)

        self._context.tasks.read(work, then=while_open(then), refused=while_open(refused))

    def _close(self, _result: int) -> None:
        self._closed = True

    # printing
    def _make(self, work: Callable[[], tuple[PrintJob, ...]], ended: Callable[[Printer, str], None]) -> None:
        """Make the documents as the records stand now, and hand them to the printer."""
        printer = self.choices.chosen_printer()
        assert printer is not None
        self._busy(tr("Making the pages …"))
        self._read(work, partial(self._print_all, printer, ended), self._fail)

    def _print_all(self, printer: Printer, ended: Callable[[Printer, str], None], jobs: tuple[PrintJob, ...]) -> None:
        parcels = []
        for job in jobs:
            paper = printer.paper(job.width, job.height)
            if paper is None:
                words = tr("{printer} cannot take paper of {width:.0f} × {height:.0f} mm, which {title} needs.")
                self._fail(words.format(printer=printer.title, width=job.width, height=job.height, title=job.title))
                return
            parcel = Parcel(title=job.title, pdf=job.pdf, printer=printer, paper=paper, copies=job.copies)
            parcels.append((job, parcel))
        self._run = PrintRun(self._context, parcels)
        self._run.said.connect(self._busy)
        self._run.ended.connect(partial(ended, printer))
        self._run.begin()

    def _printed(self, printer: Printer, problem: str) -> None:
        """The printer has taken all of it, or a sentence says why not."""
        self._run = None
        if problem:
            self._fail(problem)
            return
        self._keep(free=True)
        wish = self.choices.wish()
        words = tr("Printed on {printer}: {paper} of {units}.")
        units = wish.units[0] if len(wish.units) == 1 else f"{wish.units[0]} … {wish.units[-1]}"
        self._context.change_signals.said.emit(words.format(printer=printer.title, paper=tr(wish.paper), units=units))
        self.accept()

    def _tested(self, _printer: Printer, problem: str) -> None:
        self._run = None
        self._keep(free=False)
        self._busy("")
        if problem:
            self._fail(problem)
            return
        words = tr("The test print is out. Measure it with a ruler, type how far the ink has to move, and print again.")
        self.note.setText(words)
        self.choices.right.setFocus(Qt.FocusReason.OtherFocusReason)
        self.choices.right.selectAll()

    def _keep(self, *, free: bool) -> None:
        """Keep what was chosen for the next time."""
        wish, sheet, printer = self.choices.wish(), self.choices.chosen_sheet(), self.choices.chosen_printer()
        settings = self.choices.kept
        if printer is not None:
            offset = wish.shift if wish.paper.on_labels else settings.offset(printer.name)
            settings = settings.with_choice(printer.name, str(wish.paper), sheet.id, offset)
        if free and sheet.labels:
            settings = settings.with_free(sheet.id, self._next_free(wish, len(sheet.labels)))
        self.choices.kept = settings
        keep_printer_settings(settings)

    def _next_free(self, wish: Wish, labels: int) -> int:
        units = [self._context.bench.unit(mark) for mark in wish.units]
        printed = [unit for unit in units if wish.paper is Paper.STICKERS or not unit.held]
        return (wish.start_at - 1 + len(printed) * wish.copies) % labels + 1

    def _busy(self, words: str) -> None:
        """Say how it stands; nothing else can be chosen meanwhile."""
        self.complain("")
        self.state.setText(words)
        self.state.setVisible(bool(words))
        for widget in (self.choices, self._print, self.test, self.pdf):
            widget.setEnabled(not words)
        self._cancel.setText(tr("Take it back") if words else tr("Cancel"))

    def _fail(self, sentence: str) -> None:
        self._run = None
        self._busy("")
        self.complain(sentence)


def _small(name: str, words: str) -> QPushButton:
    made = button(name, words)
    made.setAutoDefault(False)
    return made


def _if_enabled(widget: QPushButton, work: Callable[[], object]) -> None:
    if widget.isVisible() and widget.isEnabled():
        work()
