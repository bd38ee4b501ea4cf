"""The printers that a window can print on, and the way to them: CUPS where it is, else the toolkit's own painter."""

from collections.abc import Callable
from typing import TYPE_CHECKING, Any, Protocol

from PySide6.QtCore import QSizeF
from PySide6.QtGui import QPageLayout, QPageSize

from benchapp.printers import cups
from benchapp.printers.problems import NOTHING_RECORDED
from benchapp.printers.values import OwnSizes, PaperSize, Parcel, Printer, Progress, Stage
from benchapp.words import say

if TYPE_CHECKING:
    from PySide6.QtPrintSupport import QPrinter, QPrinterInfo

_MILLIMETRES = QPageSize.Unit.Millimeter


class PrintingSystem(Protocol):
    """What the dialog asks of the printers; all but `printers` is called off the window's thread."""

    def printers(self) -> tuple[Printer, ...]:
        """Those there are, with the paper that each takes."""

    def send(self, parcel: Parcel) -> Any:  # noqa: ANN401 (a system's own ticket)
        """Hand a document over; what is returned names it from then on. Raises BenchError where it is not taken."""

    def progress(self, parcel: Parcel, ticket: Any) -> Progress:  # noqa: ANN401
        """How far it has come."""

    def take_back(self, parcel: Parcel, ticket: Any) -> None:  # noqa: ANN401
        """Print no more of it."""


class CupsPrinters:
    """The queues of CUPS, which is handed the document itself."""

    def printers(self) -> tuple[Printer, ...]:
        """Those that the computer knows."""
        return installed_printers()

    def send(self, parcel: Parcel) -> int:
        """Hand it over; returns the job's number."""
        return cups.send(parcel)

    def progress(self, parcel: Parcel, ticket: int) -> Progress:
        """What CUPS says of the job and of the printer."""
        return cups.progress(parcel, ticket)

    def take_back(self, parcel: Parcel, ticket: int) -> None:
        """Cancel it."""
        cups.take_back(parcel, ticket)


class PaintedPrinters:
    """Printers that are painted on: where there is no CUPS (Windows). Taken means: the system has the whole job."""

    def __init__(
        self,
        device: "Callable[[Printer], QPrinter] | None" = None,
        printers: Callable[[], tuple[Printer, ...]] | None = None,
    ) -> None:
        self._device = device or _device_of
        self._printers = printers or installed_printers

    def printers(self) -> tuple[Printer, ...]:
        """Those that the computer knows."""
        return self._printers()

    def send(self, parcel: Parcel) -> Progress:
        """Paint it; the answer is known at once."""
        from PySide6.QtPrintSupport import QPrinter

        from benchapp.actions.papers.print_jobs import pages_of
        from benchapp.desktop.printing.painting import paint_pages

        printer = self._device(parcel.printer)
        printer.setDocName(parcel.title)
        printer.setPageSize(_page_size(parcel.paper))
        printer.setPageOrientation(QPageLayout.Orientation.Portrait)
        printer.setCopyCount(parcel.copies)
        paint_pages(printer, pages_of(parcel.pdf))
        if printer.printerState() in (QPrinter.PrinterState.Error, QPrinter.PrinterState.Aborted):
            words = say(
                "{printer} gave it up. Look at the printer, then print again. {NOTHING_RECORDED}",
                printer=parcel.printer.title,
                NOTHING_RECORDED=NOTHING_RECORDED,
            )
            return Progress(stage=Stage.FAILED, words=words)
        return Progress(stage=Stage.DONE)

    def progress(self, _parcel: Parcel, ticket: Progress) -> Progress:
        """What came of the painting."""
        return ticket

    def take_back(self, _parcel: Parcel, _ticket: Progress) -> None:
        """What the system has taken is its own."""


class Printing:
    """The printing system of a window."""

    def __init__(self) -> None:
        self.system: PrintingSystem = CupsPrinters() if cups.is_there() else PaintedPrinters()


def installed_printers() -> tuple[Printer, ...]:
    """The printers that the computer knows, the usual one first."""
    from PySide6.QtPrintSupport import QPrinterInfo

    found = [_as_printer(info) for info in QPrinterInfo.availablePrinters() if not info.isNull()]
    return tuple(sorted(found, key=lambda printer: (not printer.is_usual, printer.title.casefold())))


def _as_printer(info: "QPrinterInfo") -> Printer:
    papers = tuple(_as_paper(size) for size in info.supportedPageSizes() if size.isValid())
    least, most = (
        size.size(_MILLIMETRES).toTuple() for size in (info.minimumPhysicalPageSize(), info.maximumPhysicalPageSize())
    )
    return Printer(
        name=info.printerName(),
        title=info.description() or info.printerName(),
        papers=papers,
        usual_paper=info.defaultPageSize().key(),
        own_sizes=OwnSizes(least=least, most=most) if info.supportsCustomPageSizes() else None,
        is_usual=info.isDefault(),
    )


def _as_paper(size: QPageSize) -> PaperSize:
    width, height = size.size(_MILLIMETRES).toTuple()
    return PaperSize(key=size.key(), name=size.name(), width=width, height=height)


def _device_of(printer: Printer) -> "QPrinter":
    from PySide6.QtPrintSupport import QPrinter, QPrinterInfo

    return QPrinter(QPrinterInfo.printerInfo(printer.name), QPrinter.PrinterMode.HighResolution)


def _page_size(paper: PaperSize) -> QPageSize:
    """The toolkit's own size where it knows one so large, so that the printer is asked for it by name."""
    size = QSizeF(paper.width, paper.height)
    known = QPageSize.id(size, _MILLIMETRES, QPageSize.SizeMatchPolicy.FuzzyMatch)
    custom = QPageSize.PageSizeId.Custom
    return QPageSize(size, _MILLIMETRES, paper.name) if known == custom else QPageSize(known)
