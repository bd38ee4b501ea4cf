"""Where everything on a tag stands. From the top: shelf mark and title beside the code; the disposition with its sign;
readings, what was tested, what was not, cautions; a foot with fuse, date, initials and price.

Type shrinks before anything gives way; then the last readings give way to a line that says how many; cautions, what
was not tested and the disposition never do. What still does not fit is a PaperProblem. Room to spare goes to the
disposition.
"""

from bisect import bisect_left
from dataclasses import replace
from functools import cache

from benchapp.paper.content import TagContent, TagReading
from benchapp.paper.drawing.fonts import Face, Faces
from benchapp.paper.drawing.placed import LabelLayout, Part
from benchapp.paper.drawing.style import MM
from benchapp.paper.problems import PaperProblem
from benchapp.paper.tags.body import Body, lay_out_body
from benchapp.paper.tags.foot import lay_out_foot
from benchapp.paper.tags.frame import lay_out_band, lay_out_head
from benchapp.words import say

PADDING = 3 * MM
GAP = 1.2 * MM
HEAD_GAP = 1.5  # the code's own quiet zone keeps the rest of the distance
BODY_SIZES = tuple(9.0 - 0.25 * step for step in range(15))  # down to 5.5
COMFORTABLE = 8.0  # body size on a label as long as its content
LEAST_BAND = 18.0
BAND_SHARE = 0.34  # the most of the label's height that the disposition takes when there is room to spare


def lay_out_tag(tag: TagContent, width: float, height: float | None, faces: Faces) -> LabelLayout:
    """Place a tag on a label of `width` x `height` points; with no height, on one as long as the content needs.

    Raises PaperProblem when the label is too small for what must stand on it.
    """
    tag = _printable(tag, faces)
    inner = width - 2 * PADDING
    head, head_height = lay_out_head(tag, inner, height or 1.5 * width, faces)
    foot, foot_height = lay_out_foot(tag, inner, faces)
    used = 2 * PADDING + head_height + foot_height + HEAD_GAP + 2 * GAP
    if height is None:
        body = lay_out_body(tag, inner, COMFORTABLE, faces, readings=len(tag.readings))
        band_height = inner * 0.2
        height = used + band_height + body.height
    else:
        room = height - used - LEAST_BAND
        body = _fitted_body(tag, inner, room, faces)
        band_height = min(LEAST_BAND + room - body.height, max(LEAST_BAND, height * BAND_SHARE))
    band: Part = lay_out_band(tag, inner, band_height, faces)
    top = PADDING + head_height + HEAD_GAP
    return LabelLayout(
        width,
        height,
        (
            (PADDING, PADDING, head),
            (PADDING, top, band[0]),
            (PADDING, top + band_height + GAP, body.items),
            (PADDING, height - PADDING - foot_height, foot),
        ),
    )


def _fitted_body(tag: TagContent, width: float, room: float, faces: Faces) -> Body:
    """The body at the largest size that fits; at the smallest, with as many readings as fit."""
    whole = cache(lambda size: lay_out_body(tag, width, size, faces, readings=len(tag.readings)))
    first = bisect_left(BODY_SIZES, True, key=lambda size: whole(size).height <= room)
    if first < len(BODY_SIZES):
        return whole(BODY_SIZES[first])
    body = whole(BODY_SIZES[-1])
    for readings in range(len(tag.readings) - 1, -1, -1):
        body = lay_out_body(tag, width, BODY_SIZES[-1], faces, readings=readings)
        if body.height <= room:
            return body
    raise PaperProblem(
        say(
            "The tag of {shelf_mark} does not fit its label: what was tested, what was not and the "
            "cautions need {value:.0f} mm in the smallest type and have {value_2:.0f} mm. Print it on a "
            "larger label, or shorten the cautions.",
            shelf_mark=tag.shelf_mark,
            value=body.height / MM,
            value_2=max(room, 0.0) / MM,
        )
    )


def _printable(tag: TagContent, faces: Faces) -> TagContent:
    """The same tag with every text as the fonts can print it."""
    regular, bold = faces.regular.printable, faces.bold.printable
    return replace(
        tag,
        shelf_mark=bold(tag.shelf_mark),
        title=regular(tag.title),
        disposition_words=bold(tag.disposition_words),
        tested=_each(tag.tested, faces.regular),
        readings=tuple(
            TagReading(what=regular(r.what), value=bold(r.value), band=regular(r.band)) for r in tag.readings
        ),
        fuse=bold(tag.fuse),
        date=bold(tag.date),
        initials=bold(tag.initials),
        price=bold(tag.price),
        failed=_each(tag.failed, faces.regular),
        repaired=_each(tag.repaired, faces.regular),
        cautions=_each(tag.cautions, faces.regular),
        not_tested=_each(tag.not_tested, faces.regular),
    )


def _each(texts: tuple[str, ...], face: Face) -> tuple[str, ...]:
    return tuple(face.printable(text) for text in texts)
