"""What a printer of the toolkit puts on paper is what the document holds: as large, in the same place, as lines."""

import numpy as np
import pypdfium2
import pytest
from PySide6.QtCore import QSizeF
from PySide6.QtGui import QPageSize
from PySide6.QtPrintSupport import QPrinter

from benchapp.desktop.printing.painting import paint_pages
from benchapp.errors import BenchError
from benchapp.paper.content import RecordPhoto
from benchapp.paper.drawing.page_reader import drawn_pages
from benchapp.paper.sheets.record import record_sheet
from benchapp.paper.tags.labels import read_label_sheet
from benchapp.paper.tags.sheets import tag_sheet
from tests.paper.making import make_record, make_tag
from tests.paper.tags.test_sheets import SHEETS
from tests.photos import tiny_photo
from tests.printers.measuring import pictures_in

DPI = 150


def printer_to(path, width, height):
    printer = QPrinter(QPrinter.PrinterMode.HighResolution)
    printer.setOutputFormat(QPrinter.OutputFormat.PdfFormat)
    printer.setOutputFileName(str(path))
    printer.setPageSize(QPageSize(QSizeF(width, height), QPageSize.Unit.Point))
    return printer


def painted(pdf, path, paper=None):
    """The document, painted on a printer with its own paper, or with another."""
    pages = drawn_pages(pdf)
    paint_pages(printer_to(path, *(paper or (pages[0].width, pages[0].height))), pages)
    return path


def seen(pdf, page=0):
    with pypdfium2.PdfDocument(pdf) as document:
        return document[page].render(scale=DPI / 72, grayscale=True).to_numpy().astype(int)


def differs(a, b):
    """The share of dots that are dark on one and light on the other."""
    high, wide = min(a.shape[0], b.shape[0]), min(a.shape[1], b.shape[1])
    return float(np.mean(abs(a[:high, :wide] - b[:high, :wide]) > 128))


@pytest.mark.parametrize("name", SHEETS)
def test_a_painted_page_looks_as_its_document_does(qapp, tmp_path, name):
    pdf = tag_sheet([make_tag(), make_tag(shelf_mark="TB-015", title="日本語 é ⚠")], read_label_sheet(name))
    path = painted(pdf, tmp_path / "painted.pdf")
    dark = float(np.mean(seen(pdf) < 128))
    assert differs(seen(pdf), seen(path)) < dark / 5
    assert differs(np.roll(seen(pdf), 4, axis=0), seen(path)) > dark / 3, "0.7 mm further down would be seen"
    assert pictures_in(path) == 0


def test_paper_of_another_size_moves_and_stretches_nothing(qapp, tmp_path):
    """The painter measures from the paper's corner: on Letter the A4 sheet stands as it does on A4, and is cut off."""
    pdf = tag_sheet([make_tag()], read_label_sheet("a4-2-by-4"))
    path = painted(pdf, tmp_path / "painted.pdf", paper=(612, 792))
    assert differs(seen(pdf), seen(path)) < float(np.mean(seen(pdf) < 128)) / 5


def test_a_record_with_a_photo_and_words_from_right_to_left(qapp, tmp_path):
    photos = (RecordPhoto(words="3: שלום", image=tiny_photo(width=40, height=20)),)
    pdf = record_sheet(make_record(photos=photos, equipment="Mains unit שלום"))
    path = painted(pdf, tmp_path / "painted.pdf")
    for page in range(len(drawn_pages(pdf))):
        assert differs(seen(pdf, page), seen(path, page)) < float(np.mean(seen(pdf, page) < 128)) / 5


@pytest.mark.qt_log_ignore("QPainter::begin")
def test_a_printer_that_cannot_be_started_is_a_sentence(qapp, tmp_path):
    pages = drawn_pages(tag_sheet([make_tag()], read_label_sheet("a4-2-by-4")))
    with pytest.raises(BenchError, match=r"could not be started.*Nothing was recorded"):
        paint_pages(printer_to(tmp_path / "no such folder" / "x.pdf", 595, 842), pages)
