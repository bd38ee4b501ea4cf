"""Tags and stickers on label sheets, and one tag on a page of its own: layout, then ink.

The text of a label is drawn as one text object (real, searchable text); see layout and sticker for where it stands and
codes for the QR code.
"""

from collections.abc import Sequence
from functools import partial

from benchapp.paper.content import PaperKind, StickerContent, TagContent
from benchapp.paper.problems import PaperProblem
from benchapp.paper.tags.label_pages import label_pages, one_label
from benchapp.paper.tags.labels import LEAST_HEIGHT, LEAST_WIDTH, LabelSheet, size_words
from benchapp.paper.tags.layout import lay_out_tag
from benchapp.paper.tags.sticker import lay_out_sticker
from benchapp.words import say


def tag_sheet(
    tags: Sequence[TagContent], sheet: LabelSheet, *, start_at: int = 1, shift: tuple[float, float] = (0.0, 0.0)
) -> bytes:
    """The tags of a lot on as many pages as they need (see `label_pages`).

    Raises PaperProblem for a tag that does not fit, for no tags at all, and for a label that the sheet does not have.
    """
    if not tags:
        raise PaperProblem(say("There are no tags to print. Choose at least one unit."))
    if not sheet.holds_tags:
        raise PaperProblem(
            say(
                "The labels of “{title}” are {size}: too small for a tag, which needs at least {width:.0f} mm × "
                "{height:.0f} mm. Take a larger sheet; these are for stickers.",
                title=sheet.title,
                size=size_words(sheet),
                width=LEAST_WIDTH,
                height=LEAST_HEIGHT,
            )
        )
    labels = [partial(lay_out_tag, tag) for tag in tags]
    title = _title("Tag", [tag.shelf_mark for tag in tags])
    return label_pages(labels, sheet, kind=PaperKind.TAGS, title=title, start_at=start_at, shift=shift)


def single_tag(tag: TagContent, sheet: LabelSheet) -> bytes:
    """One tag on a page that is the label itself."""
    return one_label(partial(lay_out_tag, tag), sheet, kind=PaperKind.TAGS, title=_title("Tag", [tag.shelf_mark]))


def sticker_sheet(
    stickers: Sequence[StickerContent], sheet: LabelSheet, *, start_at: int = 1, shift: tuple[float, float] = (0.0, 0.0)
) -> bytes:
    """The stickers of units on as many pages as they need (see `label_pages`).

    Raises PaperProblem for a shelf mark that does not fit, for no stickers at all, and for a label that the sheet does
    not have.
    """
    if not stickers:
        raise PaperProblem(say("There are no stickers to print. Choose at least one unit."))
    labels = [partial(lay_out_sticker, sticker) for sticker in stickers]
    title = _title("Sticker", [sticker.shelf_mark for sticker in stickers])
    return label_pages(labels, sheet, kind=PaperKind.STICKERS, title=title, start_at=start_at, shift=shift)


def _title(what: str, marks: Sequence[str]) -> str:
    return f"{what} {marks[0]}" if len(marks) == 1 else f"{what}s {marks[0]} to {marks[-1]}"
