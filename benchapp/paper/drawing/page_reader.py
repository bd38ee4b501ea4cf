"""Reads the pages of a finished PDF back as marks, so that a printer is handed the very document that a file holds.

Nothing is made into dots here: what is a line, a letter or a curve in the document stays one (pypdfium2).
"""

import ctypes
import unicodedata
from collections.abc import Iterator
from typing import Any

import pypdfium2
import pypdfium2.raw as pdfium

from benchapp.paper.drawing.marks import DrawnPage, Mark, Move, Outline, Picture, Words
from benchapp.paper.drawing.pictures import POINTS_PER_INCH, opened, png_of
from benchapp.paper.drawing.style import Ink
from benchapp.paper.problems import PaperProblem
from benchapp.words import say

Matrix = tuple[float, float, float, float, float, float]  # a, b, c, d, e, f of ISO 32000-1, 8.3.3
DOTS_PER_INCH = 600
"""of words that are handed over as a picture: as fine as most office printers print (own choice)"""
_KINDS = {pdfium.FPDF_SEGMENT_MOVETO: "move", pdfium.FPDF_SEGMENT_LINETO: "line"}


def drawn_pages(pdf: bytes) -> tuple[DrawnPage, ...]:
    """Every page of a PDF of this program; raises PaperProblem for what none of its documents holds."""
    with opened(pdf) as document:
        return tuple(_page(page) for page in document)


def _page(page: pypdfium2.PdfPage) -> DrawnPage:
    width, height = page.get_size()
    upside_down: Matrix = (1.0, 0.0, 0.0, -1.0, 0.0, height)
    texts = pdfium.FPDFText_LoadPage(page.raw)
    try:
        objects = [pdfium.FPDFPage_GetObject(page.raw, n) for n in range(pdfium.FPDFPage_CountObjects(page.raw))]
        marks = tuple(mark for one in objects for mark in _marks(one, upside_down, texts, page))
    finally:
        pdfium.FPDFText_ClosePage(texts)
    return DrawnPage(width, height, marks)


def _marks(one: Any, outer: Matrix, texts: Any, page: pypdfium2.PdfPage) -> Iterator[Mark]:  # noqa: ANN401 (C handles)
    """The marks of one object of a page; `outer` leads from where it stands to points from the page's upper left."""
    kind = pdfium.FPDFPageObj_GetType(one)
    matrix = _after(_matrix(one), outer)
    if kind == pdfium.FPDF_PAGEOBJ_PATH:
        yield _outline(one, matrix)
    elif kind == pdfium.FPDF_PAGEOBJ_TEXT:
        yield _lettering(one, matrix, texts, page)
    elif kind == pdfium.FPDF_PAGEOBJ_IMAGE:
        yield _picture(one, matrix, page)
    elif kind == pdfium.FPDF_PAGEOBJ_FORM:
        for number in range(pdfium.FPDFFormObj_CountObjects(one)):
            yield from _marks(pdfium.FPDFFormObj_GetObject(one, number), matrix, texts, page)
    else:
        raise PaperProblem(say("The page holds shading, which is not drawn on a printer. Write it as PDF instead."))


def _matrix(one: Any) -> Matrix:  # noqa: ANN401
    found = pdfium.FS_MATRIX()
    pdfium.FPDFPageObj_GetMatrix(one, found)
    return found.a, found.b, found.c, found.d, found.e, found.f


def _after(first: Matrix, then: Matrix) -> Matrix:
    """One matrix that does the first, then the other."""
    a, b, c, d, e, f = first
    a2, b2, c2, d2, e2, f2 = then
    return (
        *(a * a2 + b * c2, a * b2 + b * d2),
        *(c * a2 + d * c2, c * b2 + d * d2),
        *(e * a2 + f * c2 + e2, e * b2 + f * d2 + f2),
    )


def _point(matrix: Matrix, x: float, y: float) -> tuple[float, float]:
    a, b, c, d, e, f = matrix
    return a * x + c * y + e, b * x + d * y + f


def _outline(one: Any, matrix: Matrix) -> Outline:  # noqa: ANN401
    rule, stroked, line = ctypes.c_int(), ctypes.c_int(), ctypes.c_float()
    pdfium.FPDFPath_GetDrawMode(one, rule, stroked)
    pdfium.FPDFPageObj_GetStrokeWidth(one, line)
    a, b, c, d, _, _ = matrix
    return Outline(
        moves=tuple(_moves(one, matrix)),
        fill=_ink(one, pdfium.FPDFPageObj_GetFillColor) if rule.value != pdfium.FPDF_FILLMODE_NONE else None,
        stroke=_ink(one, pdfium.FPDFPageObj_GetStrokeColor) if stroked.value else None,
        line=line.value * abs(a * d - b * c) ** 0.5,
        even_odd=rule.value == pdfium.FPDF_FILLMODE_ALTERNATE,
    )


def _moves(path: Any, matrix: Matrix) -> Iterator[Move]:  # noqa: ANN401
    bends: list[float] = []
    for number in range(pdfium.FPDFPath_CountSegments(path)):
        segment = pdfium.FPDFPath_GetPathSegment(path, number)
        x, y = ctypes.c_float(), ctypes.c_float()
        pdfium.FPDFPathSegment_GetPoint(segment, x, y)
        point = _point(matrix, x.value, y.value)
        kind = _KINDS.get(pdfium.FPDFPathSegment_GetType(segment))
        if kind is not None:
            yield kind, point
        else:
            bends += point
            if len(bends) == 6:
                yield "curve", tuple(bends)
                bends.clear()
        if pdfium.FPDFPathSegment_GetClose(segment):
            yield "close", ()


def _lettering(one: Any, matrix: Matrix, texts: Any, page: pypdfium2.PdfPage) -> Words | Picture:  # noqa: ANN401
    """The words of a text object; a picture of them where they run from right to left.

    The renderer gives such words in the order of reading and with plain letters for joined ones: what was drawn
    cannot be told from them.
    """
    size = ctypes.c_float()
    pdfium.FPDFTextObj_GetFontSize(one, size)
    length = pdfium.FPDFTextObj_GetText(one, texts, None, 0)
    found = ctypes.create_string_buffer(max(length, 2))
    pdfium.FPDFTextObj_GetText(one, texts, ctypes.cast(found, ctypes.POINTER(pdfium.FPDF_WCHAR)), length)
    text = found.raw.decode("utf-16-le").rstrip("\0").rstrip(" ")
    if any(unicodedata.bidirectional(letter) in ("R", "AL") for letter in text):
        return _dots(one, page)
    x, y = _point(matrix, 0.0, 0.0)
    ink = _ink(one, pdfium.FPDFPageObj_GetFillColor)
    return Words(text=text, x=x, y=y, size=size.value * matrix[0], font=_font(one), ink=ink)


def _dots(one: Any, page: pypdfium2.PdfPage) -> Picture:  # noqa: ANN401
    """A text object as a picture on the page's own white."""
    edges = [ctypes.c_float() for _ in range(4)]
    pdfium.FPDFPageObj_GetBounds(one, *edges)
    left, bottom, right, top = (edge.value for edge in edges)
    raw = pdfium.FPDFTextObj_GetRenderedBitmap(page.pdf.raw, page.raw, one, DOTS_PER_INCH / POINTS_PER_INCH)
    pixels = pypdfium2.PdfBitmap.from_raw(raw).to_numpy()
    return Picture(left, page.get_height() - top, right - left, top - bottom, png_of(pixels))


def _font(one: Any) -> str:  # noqa: ANN401
    """The font's PostScript name; a subset's six letters and plus sign are left out (ISO 32000-1, 9.6.4)."""
    found = ctypes.create_string_buffer(200)
    pdfium.FPDFFont_GetBaseFontName(pdfium.FPDFTextObj_GetFont(one), found, len(found))
    return found.value.decode("utf-8", errors="replace").rpartition("+")[2]


def _picture(one: Any, matrix: Matrix, page: pypdfium2.PdfPage) -> Picture:  # noqa: ANN401
    """An image fills the unit square of its matrix (ISO 32000-1, 8.9.4)."""
    pixels = pypdfium2.PdfImage(one, page=page, pdf=page.pdf).get_bitmap().to_numpy()
    left, bottom = _point(matrix, 0.0, 0.0)
    right, top = _point(matrix, 1.0, 1.0)
    return Picture(left, top, right - left, bottom - top, png_of(pixels))


def _ink(one: Any, ask: Any) -> Ink:  # noqa: ANN401
    red, green, blue, cover = (ctypes.c_uint() for _ in range(4))
    ask(one, red, green, blue, cover)
    return red.value / 255, green.value / 255, blue.value / 255
