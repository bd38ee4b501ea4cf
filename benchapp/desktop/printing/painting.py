"""Paints the pages of a document on a printer at true size, as the lines, letters and curves that it holds.

The painter's unit is made one point of the document whatever the printer's resolution, measured from the paper's own
corner: nothing here asks how large the paper is, so nothing can be stretched to it.
"""

from collections.abc import Sequence
from functools import lru_cache
from typing import TYPE_CHECKING

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFont, QGlyphRun, QImage, QPainter, QPainterPath, QPen, QRawFont

from benchapp.errors import BenchError
from benchapp.files.shipped import shipped_folder
from benchapp.paper.drawing.marks import DrawnPage, Outline, Picture, Words
from benchapp.words import say

if TYPE_CHECKING:
    from PySide6.QtPrintSupport import QPrinter

POINTS_PER_INCH = 72
FINE = 1000.0
"""pixels to a type size at which a font's advances are asked: fine enough that no printer shows the rest"""


def paint_pages(printer: "QPrinter", pages: Sequence[DrawnPage]) -> None:
    """Paint every page on a sheet of its own. Raises BenchError where the printer cannot be begun."""
    printer.setFullPage(True)  # from the paper's corner, not from that of its printable part
    painter = QPainter()
    if not painter.begin(printer):
        raise BenchError(
            say(
                "The printer {printer} could not be started. See that it is switched on and connected, then print "
                "again. Nothing was recorded as printed.",
                printer=printer.printerName(),
            )
        )
    fonts = _Fonts()
    try:
        for number, page in enumerate(pages):
            if number:
                printer.newPage()
            painter.resetTransform()
            painter.scale(printer.logicalDpiX() / POINTS_PER_INCH, printer.logicalDpiY() / POINTS_PER_INCH)
            for mark in page.marks:
                match mark:
                    case Outline():
                        _paint_outline(painter, mark)
                    case Words():
                        fonts.paint(painter, mark)
                    case Picture():
                        box = QRectF(mark.x, mark.y, mark.width, mark.height)
                        painter.drawImage(box, QImage.fromData(mark.png))
    finally:
        painter.end()


def _paint_outline(painter: QPainter, outline: Outline) -> None:
    path = QPainterPath()
    path.setFillRule(Qt.FillRule.OddEvenFill if outline.even_odd else Qt.FillRule.WindingFill)
    for kind, at in outline.moves:
        if kind == "move":
            path.moveTo(at[0], at[1])
        elif kind == "line":
            path.lineTo(at[0], at[1])
        elif kind == "curve":
            path.cubicTo(*at)
        else:
            path.closeSubpath()
    pen = QPen(Qt.PenStyle.NoPen)
    if outline.stroke is not None:
        pen = QPen(QColor.fromRgbF(*outline.stroke), outline.line)
        pen.setCapStyle(Qt.PenCapStyle.FlatCap)
        pen.setJoinStyle(Qt.PenJoinStyle.SvgMiterJoin)
        pen.setMiterLimit(10)  # as a document has it where it says nothing (ISO 32000-1, table 52)
    painter.setPen(pen)
    painter.setBrush(QColor.fromRgbF(*outline.fill) if outline.fill is not None else Qt.BrushStyle.NoBrush)
    painter.drawPath(path)


class _Fonts:
    """The bundled fonts by their names, for one document: each letter stands where the document has it."""

    def __init__(self) -> None:
        self._sized = lru_cache(64)(self._load)

    def paint(self, painter: QPainter, words: Words) -> None:
        """Draw words from their baseline."""
        exact = self._sized(words.font, FINE)
        glyphs = exact.glyphIndexesForString(words.text)
        x, places = 0.0, []
        for advance in exact.advancesForGlyphIndexes(glyphs):
            places.append(QPointF(x, 0.0))
            x += advance.x() * words.size / FINE
        run = QGlyphRun()
        run.setRawFont(self._sized(words.font, words.size))
        run.setGlyphIndexes(glyphs)
        run.setPositions(places)
        painter.setPen(QColor.fromRgbF(*words.ink))
        painter.drawGlyphRun(QPointF(words.x, words.y), run)

    def _load(self, name: str, size: float) -> QRawFont:
        path = shipped_folder("resources") / "fonts" / f"{name}.ttf"
        font = QRawFont(str(path), size, QFont.HintingPreference.PreferNoHinting)
        if not font.isValid():
            raise BenchError(
                say(
                    "Nothing can be printed: the font file {file} cannot be read in {folder}. Put it back there, or "
                    "install benchapp again; the workbook and its records are untouched.",
                    file=path.name,
                    folder=path.parent,
                )
            )
        return font
