"""The pin card: a connector's face at true size with the readings that belong there, to lay under a breakout lead."""

from reportlab.platypus import Flowable, Spacer

from benchapp.paper.content import PaperKind, PinCard
from benchapp.paper.drawing.faces import FaceViews, ScaleBar
from benchapp.paper.drawing.fonts import Faces, faces
from benchapp.paper.drawing.style import HEADING, MM, TEXT, TITLE
from benchapp.paper.sheets.flowables import Lines
from benchapp.paper.sheets.pages import flowing_document
from benchapp.paper.sheets.tables import readings_table
from benchapp.words import say

GAP = 4 * MM


def pin_card(content: PinCard, page: str = "A4") -> bytes:
    """The card as PDF bytes. Raises PaperProblem where the face is larger than the paper."""
    fonts = faces()
    title = say("Pin card: {equipment}, {title}", equipment=content.equipment, title=content.face.title)
    printed = f", printed {content.printed}" if content.printed else ""
    return flowing_document(
        kind=PaperKind.PIN_CARD,
        title=title,
        running=title,
        foot=say("Pin card of {equipment}{printed}", equipment=content.equipment, printed=printed),
        story=lambda width: _story(content, width, fonts),
        page=page,
    )


def _story(content: PinCard, width: float, fonts: Faces) -> list[Flowable]:
    face = content.face
    story: list[Flowable] = [
        Lines(content.equipment, TITLE, fonts),
        Lines(f"{face.title}, seen {face.view}", HEADING, fonts),
        Spacer(0, GAP),
        *(Lines(caution, TEXT, fonts, lead="⚠") for caution in content.cautions),
        Spacer(0, GAP),
        FaceViews(face, fonts),
        Spacer(0, GAP),
        ScaleBar(fonts),
        Spacer(0, GAP),
    ]
    if content.groups:
        story += [
            Lines(say("Joined inside"), HEADING, fonts),
            *(Lines(g, TEXT, fonts, lead="•") for g in content.groups),
        ]
        story.append(Spacer(0, GAP))
    if content.readings:
        story += [Lines(say("What should be read"), HEADING, fonts), Spacer(0, MM)]
        story += [readings_table(content.readings, width, fonts), Spacer(0, GAP)]
    return [*story, *(Lines(words, TEXT, fonts) for words in content.conditions)]
