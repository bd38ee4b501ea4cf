"""The tables of record sheet and pin card: facts, one stage with its readings, faults, repairs, signatures, pins."""

from collections.abc import Sequence
from dataclasses import astuple
from typing import Any

from reportlab.lib.colors import Color
from reportlab.platypus import Flowable, Table

from benchapp.judgement.statements.band import DerivationStep
from benchapp.paper.content import (
    Budget,
    Fact,
    FaultLine,
    Finding,
    PinReading,
    RecordRow,
    RecordSection,
    RepairLine,
    Signature,
)
from benchapp.paper.drawing.fonts import Faces
from benchapp.paper.drawing.style import (
    CELL,
    CELL_BAD,
    CELL_BOLD,
    CELL_FADED,
    CELL_PAD,
    COLUMN_HEAD,
    GREY,
    HAIRLINE,
    HASH,
    HEADING,
    MM,
    NAME,
    PALE,
    WHY,
    Ink,
)
from benchapp.paper.sheets.flowables import Lines
from benchapp.words import say

FINDING_SIGN = {Finding.GOOD: "✓", Finding.CONDITIONAL: "◐", Finding.BAD: "✗", Finding.NOT_JUDGED: "–"}
READING_COLUMNS = (say("Step"), say("Reading"), say("Band"), say("U"), say("Meter"), say("When, by"), say("Judgement"))
READING_SHARES = (0.20, 0.115, 0.185, 0.09, 0.085, 0.185, 0.14)
INDENT = 4 * CELL_PAD
TALLEST_CELL = 60 * MM  # a taller cell goes on in a further row, so that every row fits a page
REPAIR_COLUMNS = (
    say("When, by"),
    say("Part"),
    say("What was done"),
    say("Opened"),
    say("Parts used"),
    say("Measurement again after it"),
)
REPAIR_SHARES = (0.14, 0.14, 0.28, 0.12, 0.14, 0.18)
FAULT_COLUMNS = (say("When, by"), say("Part"), say("What was wrong"), say("How it stands"))
FAULT_SHARES = (0.14, 0.18, 0.44, 0.24)
BUDGET_COLUMNS = (
    say("Source"),
    say("Value"),
    say("Distribution"),
    say("Sensitivity"),
    say("Contribution"),
    say("Share"),
)
BUDGET_SHARES = (0.40, 0.13, 0.13, 0.11, 0.13, 0.10)
MOST_TOGETHER = 3  # reasons and cautions that stay on the page of their reading; of more, cut to pieces, the first
BUDGET_PADS = (0.4, 1.4)  # above and below a line of a budget
PIN_COLUMNS = (say("Between"), say("What"), say("Expected"), say("Band"), say("Note"))
PIN_SHARES = (0.20, 0.22, 0.14, 0.22, 0.22)

Command = tuple[Any, ...]
Cell = Flowable | str


def facts_table(facts: Sequence[Fact], width: float, fonts: Faces) -> Table:
    """Names and values in two pairs of columns, read downwards."""
    half = (len(facts) + 1) // 2
    shares = (0.15, 0.35, 0.15, 0.35)
    rows: list[list[Cell]] = []
    for number in range(half):
        row: list[Lines] = []
        for fact in facts[number::half]:
            row += [Lines(fact.name, NAME, fonts), Lines(fact.value or "–", CELL, fonts)]
        row += [Lines("", CELL, fonts) for _ in range(4 - len(row))]
        rows += _cut(row, shares, width)
    return _table(rows, shares, width, [("LINEBELOW", (0, 0), (-1, -1), HAIRLINE, _ink(PALE))])


def list_table(facts: Sequence[Fact], width: float, fonts: Faces, *, prose: bool = False) -> Table:
    """Names with long values (hashes, meters, or `prose`: cautions), one below the other."""
    shares, value = ((0.22, 0.78), CELL) if prose else ((0.36, 0.64), HASH)
    rows: list[list[Cell]] = []
    for fact in facts:
        rows += _cut([Lines(fact.name, NAME, fonts), Lines(fact.value or "–", value, fonts)], shares, width)
    return _table(rows, shares, width, [])


def section_table(section: RecordSection, width: float, fonts: Faces) -> Table:
    """One stage: its title and column heads repeat on every page; a row and its reasons stay together."""
    title = f"{section.title} – {section.status}" if section.status else section.title
    supply = f"supply: {section.supply}" if section.supply else ""
    last = len(READING_COLUMNS) - 1
    rows: list[list[Cell]] = [
        [Lines(title, HEADING, fonts), *[""] * (last - 3), Lines(supply, NAME, fonts, right=True), "", ""],
        [Lines(name, COLUMN_HEAD, fonts) for name in READING_COLUMNS],
    ]
    commands: list[Command] = [
        ("SPAN", (0, 0), (last - 3, 0)),
        ("SPAN", (last - 2, 0), (last, 0)),
        ("RIGHTPADDING", (last - 2, 0), (last, 0), 0),
        *_head(1),
    ]
    for row in section.rows:
        commands.append(("LINEABOVE", (0, len(rows)), (-1, len(rows)), HAIRLINE, _ink(GREY)))
        rows += _cut(_reading_cells(row, fonts), READING_SHARES, width)
        reading = len(rows) - 1
        for (piece,) in _reasons(row, width, fonts):
            at = len(rows)
            rows.append([piece, *[""] * last])
            commands += [
                ("SPAN", (0, at), (last, at)),
                ("TOPPADDING", (0, at), (-1, at), 0),
                ("LEFTPADDING", (0, at), (-1, at), INDENT),
            ]
        few = len(rows) - 1 - reading <= MOST_TOGETHER
        commands.append(("NOSPLIT", (0, reading), (-1, len(rows) - 1 if few else reading + 1)))
    return _table(rows, READING_SHARES, width, commands, repeat=2)


def faults_table(faults: Sequence[FaultLine], width: float, fonts: Faces) -> Table:
    """Every fault that was found, also those since repaired."""
    rows = [(_when(f.when, f.by), f.part, f.words, f.state) for f in faults]
    return _plain_table(FAULT_COLUMNS, rows, FAULT_SHARES, width, fonts)


def budgets_table(budgets: Sequence[Budget], width: float, fonts: Faces) -> Table:
    """What the uncertainty of each reading is made of, largest part first; the head of a budget says what it gives."""
    last = len(BUDGET_COLUMNS) - 1
    rows: list[list[Cell]] = [[Lines(name, COLUMN_HEAD, fonts) for name in BUDGET_COLUMNS]]
    commands: list[Command] = _head(0)
    for budget in budgets:
        at = len(rows)
        for (piece,) in _cut([Lines(_budget_head(budget), COLUMN_HEAD, fonts)], (1.0,), width):
            commands.append(("SPAN", (0, len(rows)), (last, len(rows))))
            rows.append([piece, *[""] * last])
        for row in budget.rows:
            rows += _cut([Lines(text, WHY, fonts) for text in astuple(row)], BUDGET_SHARES, width)
        commands += [
            ("LINEABOVE", (0, at), (-1, at), HAIRLINE, _ink(GREY)),
            ("NOSPLIT", (0, at), (-1, min(at + 1, len(rows) - 1))),
        ]
    above, below = BUDGET_PADS
    close = [("TOPPADDING", (0, 1), (-1, -1), above), ("BOTTOMPADDING", (0, 1), (-1, -1), below)]
    return _table(rows, BUDGET_SHARES, width, [*commands, *close], repeat=1)


def _budget_head(budget: Budget) -> str:
    what = say("Reading") if len(budget.numbers) == 1 else say("Readings")
    return f"{what} {', '.join(budget.numbers)} ({budget.taken_with}): {budget.combined}"


def repairs_table(repairs: Sequence[RepairLine], width: float, fonts: Faces) -> Table:
    """Every repair, what it opened and what was taken again after it."""
    rows = [(_when(r.when, r.by), r.part, r.words, r.opened, r.parts_used, r.retested) for r in repairs]
    return _plain_table(REPAIR_COLUMNS, rows, REPAIR_SHARES, width, fonts)


def readings_table(readings: Sequence[PinReading], width: float, fonts: Faces) -> Table:
    """What should be read between two pins."""
    rows = [(r.between, r.what, r.expected, r.band, r.note) for r in readings]
    if any(r.note for r in readings):
        return _plain_table(PIN_COLUMNS, rows, PIN_SHARES, width, fonts)
    shares = tuple(share / sum(PIN_SHARES[:-1]) for share in PIN_SHARES[:-1])
    return _plain_table(PIN_COLUMNS[:-1], [row[:-1] for row in rows], shares, width, fonts)


def signatures_table(signatures: Sequence[Signature], width: float, fonts: Faces) -> Table:
    """A line to sign for each role; a sign-off already given stands on it."""
    rows: list[list[Cell]] = [
        [Lines(s.role, NAME, fonts), Lines(s.name, CELL_BOLD, fonts), Lines(s.when, CELL, fonts)] for s in signatures
    ]
    commands: list[Command] = [
        ("LINEBELOW", (1, 0), (-1, -1), HAIRLINE, _ink(GREY)),
        ("TOPPADDING", (0, 0), (-1, -1), 9),
        ("VALIGN", (0, 0), (-1, -1), "BOTTOM"),
    ]
    return _table(rows, (0.22, 0.48, 0.30), width, commands)


def _reading_cells(row: RecordRow, fonts: Faces) -> list[Lines]:
    style = CELL_FADED if row.lapse else CELL
    judgement = f"{FINDING_SIGN[row.finding]} {row.judgement}" if row.judgement else "–"
    verdict = Lines(judgement, CELL_BAD if row.finding is Finding.BAD else CELL_BOLD, fonts)
    if row.lapse:
        verdict = Lines(f"{judgement}, {row.lapse}", CELL_FADED, fonts)
    step = f"{row.number}. {row.step}" if row.number else row.step
    texts = (step, row.reading, row.band, row.uncertainty, row.meter, _when(row.when, row.by))
    return [*(Lines(text or "–", style, fonts) for text in texts), verdict]


def _reasons(row: RecordRow, width: float, fonts: Faces) -> list[list[Cell]]:
    """Why the band is what it is, and the note, in small type below the row; one cell each, cut where very long."""
    found = [
        Lines(_said(reasons), WHY, fonts, lead=lead)
        for lead, reasons in ((say("Why this value:"), row.corrections), (say("Why this band:"), row.derivation))
        if reasons
    ]
    found += [Lines(words, WHY, fonts, lead=say("Caution:")) for words in row.cautions]
    found += [Lines(words, WHY, fonts, lead=say("Siblings:")) for words in row.siblings]
    if row.note:
        found.append(Lines(row.note, WHY, fonts, lead=say("Note:")))
    return [piece for lines in found for piece in _cut([lines], (1.0,), width - INDENT)]


def _said(reasons: Sequence[DerivationStep]) -> str:
    return "; ".join(f"{r.what} {r.value}" + (f" ({r.source})" if r.source else "") for r in reasons) + "."


def _cut(cells: Sequence[Lines], shares: Sequence[float], width: float) -> list[list[Cell]]:
    """One row of a table, or several where a cell is so tall that a page might not hold it."""
    rows: list[list[Cell]] = []
    rest: list[Lines | None] = list(cells)
    while any(rest):
        row: list[Cell] = []
        for number, (cell, share) in enumerate(zip(rest, shares, strict=True)):
            upper, rest[number] = cell.cut(share * width - 2 * CELL_PAD, TALLEST_CELL) if cell else ("", None)
            row.append(upper)
        rows.append(row)
    return rows


def _when(when: str, by: str) -> str:
    return ", ".join(part for part in (when, by) if part)


def _plain_table(
    names: Sequence[str], rows: Sequence[Sequence[str]], shares: Sequence[float], width: float, fonts: Faces
) -> Table:
    cells: list[list[Cell]] = [[Lines(name, COLUMN_HEAD, fonts) for name in names]]
    for row in rows:
        cells += _cut([Lines(text or "–", CELL, fonts) for text in row], shares, width)
    commands: list[Command] = [*_head(0), ("LINEABOVE", (0, 1), (-1, -1), HAIRLINE, _ink(GREY))]
    return _table(cells, shares, width, commands, repeat=1)


def _head(row: int) -> list[Command]:
    return [("BACKGROUND", (0, row), (-1, row), _ink(PALE))]


def _ink(ink: Ink) -> Color:
    return Color(*ink)


def _table(
    rows: list[list[Cell]], shares: Sequence[float], width: float, commands: Sequence[Command], *, repeat: int = 0
) -> Table:
    base: list[Command] = [
        ("VALIGN", (0, 0), (-1, -1), "TOP"),
        ("LEFTPADDING", (0, 0), (-1, -1), 0),
        ("RIGHTPADDING", (0, 0), (-1, -1), 2 * CELL_PAD),
        ("TOPPADDING", (0, 0), (-1, -1), CELL_PAD),
        ("BOTTOMPADDING", (0, 0), (-1, -1), CELL_PAD),
    ]
    columns = [share * width for share in shares]
    return Table(rows, columns, repeatRows=repeat, hAlign="LEFT", style=[*base, *commands])
