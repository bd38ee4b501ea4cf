"""The record of the unit on screen: the rows of its record sheet, and behind each reading why it was judged so."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from benchapp.desktop.app_context import AppContext
from benchapp.desktop.bench.gauge_view import derivation_line
from benchapp.desktop.bench.pages.rows import RowsPage
from benchapp.desktop.bench.photo_chooser import PhotoList
from benchapp.desktop.bench.photo_files import small_picture
from benchapp.desktop.bench.unit_view import UnitView
from benchapp.desktop.keys import add_action, with_key
from benchapp.desktop.take_back_dialog import TakeBackDialog
from benchapp.desktop.theme.signs import JUDGEMENTS, Shape, Sign, Tone, sign_for
from benchapp.desktop.widgets.choices import Row
from benchapp.desktop.widgets.hints import Hint, hint
from benchapp.desktop.widgets.texts import button
from benchapp.desktop.words import tr

if TYPE_CHECKING:
    from benchapp.actions.entries.taking_back import TakingBack
    from benchapp.paper.content import Budget, RecordPhoto, RecordRow, RecordSheet

NOTED = Sign(shape=Shape.dash, word="noted", tone=Tone.quiet)


@dataclass(frozen=True, slots=True)
class PhotosRow:
    """Photos of the unit that belong to no step: the number of their entry, and what is said of them."""

    number: str
    words: str


@dataclass(frozen=True, slots=True)
class SideRow:
    """An entry on one side of a record of which there are two."""

    words: str


class RecordPage(RowsPage):
    """Every answer of the unit; Enter opens what it rests on; each can be taken back, or answered again."""

    name = "record"
    title = "Record"
    numbered = False
    of_a_step = False

    def __init__(self, context: AppContext) -> None:
        super().__init__(context)
        self.back = button("record-take-back", with_key("take this back", tr("Take this one back, or answer it again")))
        self.back.clicked.connect(self._ask_back)
        self.photos = PhotoList(context.look, "record-photos", tr("Photos"))
        self.photos.hide()
        self.body.addWidget(self.photos)
        self.body.addWidget(self.back)
        self.body.addStretch(1)
        add_action(self.list, "take this back", self._ask_back)
        self._rows: list[RecordRow | PhotosRow | SideRow | str] = []
        self._open: set[int] = set()
        self._budgets: dict[str, Budget] = {}

    def fill(self, view: UnitView) -> None:
        self.say.setText(tr("Drawing up the record of {unit} …").format(unit=view.mark))
        self._rows, self._open = [], set()
        self.list.set_rows(())
        self.photos.hide()
        bench = self.context.bench

        def draw_up() -> "tuple[UnitView, RecordSheet, tuple[tuple[str, ...], ...]]":
            from benchapp.actions.exchange.holds import sides_of
            from benchapp.actions.papers.record_content import record_content

            return view, record_content(bench, view.mark), sides_of(bench, view.mark)

        self.context.tasks.read(draw_up, then=self._show, refused=self.say.setText)

    def _show(self, drawn_up: "tuple[UnitView, RecordSheet, tuple[tuple[str, ...], ...]]") -> None:
        view, sheet, sides = drawn_up
        if view is not self.view:
            return
        self.say.setText(tr("{unit}: {words}").format(unit=view.mark, words=sheet.disposition_words))
        self._budgets = {number: budget for budget in sheet.budgets for number in budget.numbers}
        for section in sheet.sections:
            self._rows += [section.title, *section.rows]
        for fault in sheet.faults:
            self._rows.append(
                tr("Fault of {when}: {part}, {words} ({state})").format(
                    when=fault.when, part=fault.part, words=fault.words, state=fault.state
                )
            )
        for repair in sheet.repairs:
            self._rows.append(
                tr("Repair of {when}: {part}, {words}").format(when=repair.when, part=repair.part, words=repair.words)
            )
        self._show_photos(sheet.photos)
        for number, side in enumerate(sides, 1):
            self._rows.append(tr("Two records: side {number} of {of}").format(number=number, of=len(sides)))
            self._rows += [SideRow(words) for words in side]
        self._paint()

    def _show_photos(self, photos: "Sequence[RecordPhoto]") -> None:
        """All photos small below the rows; of those that belong to no step a row each entry, to be taken back by."""
        rows = dict.fromkeys(PhotosRow(one.of_unit, one.words.partition(": ")[2]) for one in photos if one.of_unit)
        self._rows += [tr("Photos of the unit"), *rows] if rows else []
        self.photos.show_pictures([(one.words, small_picture(one.image)) for one in photos], 0)
        self.photos.setVisible(bool(photos))

    def _paint(self) -> None:
        self.list.set_rows([self._row(number, row) for number, row in enumerate(self._rows)])

    def _row(self, number: int, row: "RecordRow | PhotosRow | SideRow | str") -> Row:
        if isinstance(row, str):
            return Row(words=row, head=True)
        if isinstance(row, SideRow | PhotosRow):
            return Row(words=row.words, sign=NOTED)
        facts = (row.band, row.uncertainty, row.meter, row.when, row.by, row.note, row.lapse.upper())
        detail = "   ".join(fact for fact in facts if fact)
        if number in self._open:
            detail = "\n".join([detail, *reasons_of(row, self._budgets.get(row.number))])
        sign = sign_for(row.judgement) if row.judgement in JUDGEMENTS else NOTED
        return Row(words=f"{row.step}:   {row.reading}", detail=detail, sign=sign)

    def choose(self, number: int) -> None:
        if 0 <= number < len(self._rows) and not isinstance(self._rows[number], str | SideRow | PhotosRow):
            self._open ^= {number}
            self._paint()

    def _ask_back(self) -> None:
        """Name the row at hand and what taking it back makes due again, and ask."""
        from benchapp.actions.entries.taking_back import foresee

        at_hand = self.list.row_at_hand()
        row = self._rows[at_hand] if 0 <= at_hand < len(self._rows) else None
        if row is None or isinstance(row, str | SideRow) or not row.number:
            self.complained.emit(tr("Go to an answer first: a finding, a repair or a title is not taken back."))
            return
        bench, mark, by = self.context.bench, self.unit.mark, self.context.person.initials
        number = int(row.number)
        self.context.tasks.read(
            lambda: foresee(bench, mark, number, by=by), then=self._show_back, refused=self.complained.emit
        )

    def _show_back(self, seen: "TakingBack") -> None:
        if self.view is None or seen.unit != self.view.mark:
            return
        dialog = TakeBackDialog(self, seen, lambda why: self.taking_back.emit(seen.number, why))
        if seen.address in self.unit.plan.by_address and not seen.refused:
            dialog.offer_again(lambda: self.going.emit(seen.address))
        dialog.finished.connect(dialog.deleteLater)
        dialog.open()

    def hints(self) -> Sequence[Hint]:
        return (
            hint("rows"),
            hint("enter", tr("why it was judged so")),
            hint("take this back"),
            hint("sheet"),
            hint("back"),
        )


def reasons_of(row: "RecordRow", budget: "Budget | None") -> list[str]:
    """What a row of the record rests on: corrections, band, cautions, siblings, uncertainty source by source."""
    lines = [
        *(derivation_line(one.what, one.value, one.source) for one in (*row.corrections, *row.derivation)),
        *row.cautions,
        *row.siblings,
    ]
    if budget is not None:
        lines.append(budget.combined)
        lines += [f"   {one.source}: {one.value} {one.distribution}, {one.share}" for one in budget.rows]
    return lines
