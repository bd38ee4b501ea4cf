"""The record sheet: the printed proof behind a tag, for one unit, on A4 or Letter.

Head and disposition as on the tag, facts, every stage with its readings and the reasons of their bands, faults and
repairs, what was not tested, cautions, meters, sign-offs, the hashes that tie the sheet to the workbook, and the
unit's photos.
"""

from reportlab.platypus import CondPageBreak, Flowable, KeepTogether, Spacer

from benchapp.paper.content import Fact, PaperKind, RecordSheet, TagContent
from benchapp.paper.drawing.fonts import Faces, faces
from benchapp.paper.drawing.style import HEADING, MM, RECORD_HEAD, TEXT, WHY
from benchapp.paper.sheets.flowables import Lines, UnitHead
from benchapp.paper.sheets.pages import flowing_document
from benchapp.paper.sheets.photos import photos_table
from benchapp.paper.sheets.tables import (
    budgets_table,
    facts_table,
    faults_table,
    list_table,
    repairs_table,
    section_table,
    signatures_table,
)
from benchapp.words import say

SECTION_GAP = 4 * MM
ROOM_TO_START = 28 * MM  # a stage begins on this page only where its heads and a row or two have room

HOW_TO_READ = (
    "Band: the limits that applied. U: the reading's expanded uncertainty, coverage about 95 %. "
    "⚠ beside a meter: see the cautions. ✓ inside, ◐ conditional (closer to the limit than the uncertainty allows to "
    "tell), ✗ outside, – not judged."
)
HOW_UNCERTAIN = (
    "Value: half-width (±), or standard uncertainty of a normal or t distribution; contribution: standard uncertainty "
    "times sensitivity; share: of the variance. u: standard, U: expanded, k: coverage factor (JCGM 100:2008)."
)
WHAT_IT_SAYS = (
    "This sheet says what was tested, and how, on the dates shown. It promises nothing for later and does not "
    "replace the checks that local rules ask for; work on mains equipment belongs to people who are competent and, "
    "where the law says so, licensed."
)


def record_sheet(content: RecordSheet, page: str = "A4") -> bytes:
    """The record of one unit as PDF bytes. Raises PaperProblem where something cannot be printed."""
    fonts = faces()
    printed = f", printed {content.printed}" if content.printed else ""
    return flowing_document(
        kind=PaperKind.RECORD,
        title=say("Record of {shelf_mark}", shelf_mark=content.shelf_mark),
        running=f"{content.shelf_mark}  ·  {content.equipment}  ·  {content.disposition_words}",
        foot=say(
            "Record of {shelf_mark}, lot {lot}{printed}",
            shelf_mark=content.shelf_mark,
            lot=content.lot,
            printed=printed,
        ),
        story=lambda width: _story(content, width, fonts),
        page=page,
    )


def _story(content: RecordSheet, width: float, fonts: Faces) -> list[Flowable]:
    story: list[Flowable] = [UnitHead(_as_tag(content, fonts), RECORD_HEAD, fonts), Spacer(0, SECTION_GAP)]
    if content.facts:
        story += [facts_table(content.facts, width, fonts), Spacer(0, SECTION_GAP)]
    story += _list(say("FAILED"), content.failed, "", fonts, mark="✗")
    story += _list(say("Cautions"), content.cautions, "", fonts, mark="⚠")
    story += _told(say("Hazards of old equipment"), content.hazards, width, fonts)
    story += _list(say("This workshop's own texts and figures"), content.own_texts, "", fonts)
    story += _list(say("NOT tested"), content.not_tested, say("Nothing is recorded as left untested."), fonts)
    for section in content.sections:
        story += [CondPageBreak(ROOM_TO_START), section_table(section, width, fonts), Spacer(0, SECTION_GAP)]
    if content.sections:
        story += [Lines(HOW_TO_READ, WHY, fonts), Spacer(0, SECTION_GAP)]
    story += _faults_and_repairs(content, width, fonts)
    if content.budgets:
        story += _titled(say("Uncertainty of the readings"), budgets_table(content.budgets, width, fonts), fonts)
        story += [Lines(HOW_UNCERTAIN, WHY, fonts), Spacer(0, SECTION_GAP)]
    story += _told(say("Cautions of this work, and who read them"), content.cautions_read, width, fonts)
    if content.meters:
        story += _titled(say("Meters used"), list_table(content.meters, width, fonts), fonts)
    closing: list[Flowable] = [Lines(WHAT_IT_SAYS, TEXT, fonts)]
    if content.signatures:
        closing.append(signatures_table(content.signatures, width, fonts))
    story += [KeepTogether(closing), Spacer(0, SECTION_GAP)]
    if content.hashes:
        story += _titled(say("What this sheet rests on (SHA-256)"), list_table(content.hashes, width, fonts), fonts)
    if content.photos:
        story += _titled(say("Photos"), photos_table(content.photos, width, fonts), fonts)
    return story


def _faults_and_repairs(content: RecordSheet, width: float, fonts: Faces) -> list[Flowable]:
    if not content.faults and not content.repairs:
        return _list(say("Faults and repairs"), (), say("No fault and no repair is recorded."), fonts)
    story: list[Flowable] = []
    if content.faults:
        story += _titled(say("Faults"), faults_table(content.faults, width, fonts), fonts)
    if content.repairs:
        story += _titled(say("Repairs and openings"), repairs_table(content.repairs, width, fonts), fonts)
    return story


def _titled(title: str, table: Flowable, fonts: Faces) -> list[Flowable]:
    return [CondPageBreak(ROOM_TO_START), Lines(title, HEADING, fonts), Spacer(0, MM), table, Spacer(0, SECTION_GAP)]


def _told(title: str, facts: tuple[Fact, ...], width: float, fonts: Faces) -> list[Flowable]:
    """A titled table of sentences by their names; nothing at all where there are none."""
    return _titled(title, list_table(facts, width, fonts, prose=True), fonts) if facts else []


def _list(title: str, items: tuple[str, ...], none: str, fonts: Faces, *, mark: str = "•") -> list[Flowable]:
    """A titled list; with no items the sentence that says so, or nothing at all."""
    if not items and not none:
        return []
    lines = [Lines(item, TEXT, fonts, lead=mark) for item in items] or [Lines(none, TEXT, fonts)]
    return [CondPageBreak(ROOM_TO_START / 2), Lines(title, HEADING, fonts), *lines, Spacer(0, SECTION_GAP)]


def _as_tag(content: RecordSheet, fonts: Faces) -> TagContent:
    """What the head of the sheet shares with the unit's tag."""
    return TagContent(
        shelf_mark=fonts.bold.printable(content.shelf_mark),
        title=fonts.regular.printable(content.equipment),
        disposition_words=fonts.bold.printable(content.disposition_words),
        tone=content.tone,
        code=content.code or content.shelf_mark,
    )
