"""The label sheets that tags and stickers are printed on: page, rows, columns, margins and gaps, all in millimetres.

A label's own size is what the page leaves, so a file cannot contradict itself. Sheets are data (resources/labels/).
"""

from functools import cached_property
from pathlib import Path
from typing import Self

from pydantic import Field, model_validator

from benchapp.files.beside import files_by_id
from benchapp.files.models import FileModel, read_model
from benchapp.files.spelling import nearest
from benchapp.paper.problems import PaperProblem
from benchapp.words import say

LEAST_WIDTH, LEAST_HEIGHT = 40.0, 40.0  # mm: what a tag needs that says no more than not to plug in
LEAST_STICKER_WIDTH, LEAST_STICKER_HEIGHT = 25.0, 24.0  # mm: what a code and a mark need


class Page(FileModel):
    """The paper as it is fed."""

    width: float = Field(gt=0, le=1000)
    """Width in millimetres."""
    height: float | None = Field(default=None, gt=0, le=1500)
    """Height in millimetres; left out for a continuous roll, where each label is as long as it needs."""


class Margins(FileModel):
    """What is left free at the edges of the page, in millimetres."""

    top: float = Field(default=0, ge=0)
    """Above the first row."""
    bottom: float = Field(default=0, ge=0)
    """Below the last row."""
    left: float = Field(default=0, ge=0)
    """Left of the first column."""
    right: float = Field(default=0, ge=0)
    """Right of the last column."""


class Gaps(FileModel):
    """What lies between two labels, in millimetres."""

    across: float = Field(default=0, ge=0)
    """Between columns."""
    down: float = Field(default=0, ge=0)
    """Between rows."""


class LabelSheet(FileModel):
    """One kind of label sheet."""

    label_sheet: str
    """The name the sheet is asked for by."""
    title: str
    """What it says on the list to choose from."""
    page: Page
    """The paper."""
    columns: int = Field(default=1, ge=1, le=20)
    """Labels across."""
    rows: int = Field(default=1, ge=1, le=40)
    """Labels down."""
    margins: Margins = Margins()
    """Free edges of the page."""
    gaps: Gaps = Gaps()
    """Distances between labels."""
    cut_lines: bool = False
    """Print a thin line around each label, for plain paper that is cut by hand."""

    @property
    def continuous(self) -> bool:
        """Whether this is a roll without an end."""
        return self.page.height is None

    @cached_property
    def label_width(self) -> float:
        """Width of one label in millimetres."""
        free = self.page.width - self.margins.left - self.margins.right - (self.columns - 1) * self.gaps.across
        return free / self.columns

    @cached_property
    def label_height(self) -> float | None:
        """Height of one label in millimetres; None on a continuous roll."""
        if self.page.height is None:
            return None
        free = self.page.height - self.margins.top - self.margins.bottom - (self.rows - 1) * self.gaps.down
        return free / self.rows

    @property
    def holds_tags(self) -> bool:
        """Whether a label is large enough for a tag; a smaller one is for stickers alone."""
        return self.label_width >= LEAST_WIDTH and (self.label_height or LEAST_HEIGHT) >= LEAST_HEIGHT

    @property
    def per_page(self) -> int:
        """How many labels a page holds."""
        return self.rows * self.columns

    def place(self, position: int) -> tuple[float, float]:
        """Left and top of a label in millimetres from the page's upper left corner; 0 is the first, along rows."""
        row, column = divmod(position, self.columns)
        left = self.margins.left + column * (self.label_width + self.gaps.across)
        return left, self.margins.top + row * ((self.label_height or 0.0) + self.gaps.down)

    @model_validator(mode="after")
    def _labels_are_large_enough(self) -> Self:
        if self.continuous and self.per_page > 1:
            raise PaperProblem("a roll without a page height has one row and one column")
        height = self.label_height or LEAST_STICKER_HEIGHT
        if self.label_width < LEAST_STICKER_WIDTH or height < LEAST_STICKER_HEIGHT:
            raise PaperProblem(
                say(
                    "margins and gaps leave {size} for each label, and a sticker needs at least "
                    "{width:.0f} mm × {height:.0f} mm: check page, rows, columns, margins "
                    "and gaps",
                    size=size_words(self),
                    width=LEAST_STICKER_WIDTH,
                    height=LEAST_STICKER_HEIGHT,
                )
            )
        return self


def size_words(sheet: LabelSheet) -> str:
    """How large its labels are: "99.1 mm × 67.7 mm"; of a roll the width alone."""
    height = sheet.label_height
    return f"{sheet.label_width:.1f} mm" + (f" × {height:.1f} mm" if height is not None else "")


def read_label_sheet(name: str | Path) -> LabelSheet:
    """A label sheet by its shipped name, or from a file. Raises FileProblems or PaperProblem with a sentence."""
    if isinstance(name, Path):
        return read_model(name, LabelSheet)
    shipped = files_by_id("label sheet")
    if name not in shipped:
        guess = nearest(name, shipped)
        raise PaperProblem(
            say("There is no label sheet “{name}”. ", name=name)
            + (say("Did you mean “{guess}”? ", guess=guess) if guess else "")
            + say("Known are: {listed}.", listed=", ".join(shipped))
        )
    return read_model(shipped[name], LabelSheet)
