"""What stands where on paper, in millimetres from its upper left corner: measured in a printed PDF, as it is seen."""

from dataclasses import dataclass
from itertools import pairwise
from pathlib import Path

import numpy as np
import pypdfium2
import pypdfium2.raw as pdfium

MM = 25.4 / 72
DOTS = 12
"""dots to a millimetre when a page is looked at"""
APART = 0.5
"""millimetres of other colour between two things"""


@dataclass(frozen=True)
class Box:
    """Where one thing stands."""

    left: float
    top: float
    width: float
    height: float


def paper_sizes(pdf: Path) -> list[tuple[float, float]]:
    """Width and height of each page."""
    with pypdfium2.PdfDocument(pdf) as document:
        return [(round(page.get_width() * MM, 2), round(page.get_height() * MM, 2)) for page in document]


def pictures_in(pdf: Path) -> int:
    """How many pictures of dots stand on its pages, forms included."""
    with pypdfium2.PdfDocument(pdf) as document:
        return sum(len(list(page.get_objects(filter=[pdfium.FPDF_PAGEOBJ_IMAGE], max_depth=15))) for page in document)


def bands(pdf: Path, page: int = 0) -> list[Box]:
    """The dark red boxes that say “Not tested, do not plug in”, one on each such tag: row by row."""
    seen = _seen(pdf, page)
    return sorted(_boxes((seen[:, :, 0] > 140) & (seen[:, :, 1] < 60)), key=lambda box: (round(box.top), box.left))


def upright_lines(pdf: Path, page: int = 0) -> list[Box]:
    """Black lines that run down at least half of the paper."""
    seen = _seen(pdf, page)
    black = (seen < 60).all(axis=2)
    long = black & (black.sum(axis=0) > black.shape[0] / 2)
    return _boxes(long)


def _seen(pdf: Path, page: int) -> np.ndarray:
    with pypdfium2.PdfDocument(pdf) as document:
        return document[page].render(scale=DOTS * MM, rev_byteorder=True).to_numpy()


def _boxes(mask: np.ndarray) -> list[Box]:
    """Things apart from each other across and down."""
    found = []
    for left, right in _runs(mask.any(axis=0)):
        for top, bottom in _runs(mask[:, left:right].any(axis=1)):
            found.append(Box(left / DOTS, top / DOTS, (right - left) / DOTS, (bottom - top) / DOTS))
    return found


def _runs(there: np.ndarray) -> list[tuple[int, int]]:
    """Where a row of truths begins and ends; gaps that are narrower than `APART` do not part it."""
    at = np.flatnonzero(there)
    if not len(at):
        return []
    cuts = [(a, b) for a, b in pairwise(at.tolist()) if b - a > APART * DOTS]
    return list(zip([at[0], *(b for _, b in cuts)], [*(a + 1 for a, _ in cuts), at[-1] + 1], strict=True))
