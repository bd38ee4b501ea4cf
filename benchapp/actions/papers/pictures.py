"""Paper on screen: a tag as it will be printed, and the pages of a document, as PNG bytes."""

from typing import TYPE_CHECKING

from benchapp.actions.papers.printing import preview_tag
from benchapp.files.shipped import shipped_folder

if TYPE_CHECKING:
    from benchapp.actions.workbench.bench import Bench

PREVIEW_SHEET = "a4-2-by-4"
"""The label that a tag is shown on before a sheet has been chosen."""


def tag_picture(bench: "Bench", unit: str, *, sheet: str = PREVIEW_SHEET, dpi: float = 150) -> bytes:
    """The unit's tag as its record stands now, drawn by the same code that prints it; PNG."""
    from benchapp.paper.drawing.pictures import page_image
    from benchapp.paper.tags.labels import read_label_sheet
    from benchapp.paper.tags.sheets import single_tag

    label = read_label_sheet(shipped_folder("resources") / "labels" / f"{sheet}.yaml")
    return page_image(single_tag(preview_tag(bench, unit), label), dpi=dpi)


def page_picture(pdf: bytes, page: int, *, dpi: float) -> bytes:
    """One page (0 is the first) of a document as PNG."""
    from benchapp.paper.drawing.pictures import page_image

    return page_image(pdf, page, dpi)


def pages_in(pdf: bytes) -> int:
    """How many pages a document has."""
    from benchapp.paper.drawing.pictures import page_count

    return page_count(pdf)
