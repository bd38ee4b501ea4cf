"""Readings that a tester kept, brought in by a described table: each judged as any other, marked as transcribed."""

from pathlib import Path
from typing import TYPE_CHECKING
from uuid import NAMESPACE_URL, uuid5

from benchapp.actions.entries.answers import record_answer
from benchapp.actions.workbench.bench import Bench
from benchapp.actions.workbench.change_set import ChangeSet
from benchapp.actions.workbench.problems import Refused
from benchapp.errors import BenchError
from benchapp.words import say

if TYPE_CHECKING:
    from benchapp.meters.stored import StoredReading
    from benchapp.sequences.answering.readings import ReadingAnswer

TOLD = 12
"""refusals that are told one by one (own choice)"""


def import_stored(bench: Bench, description: Path, table: Path, *, by: str) -> ChangeSet:
    """Record the readings of a tester's table; a row that came before is not recorded again.

    Every row passes the same gate as a typed reading; the answer names those that were refused, with the reason. Raises
    Refused where nothing of it can be read.
    """
    from benchapp.files.locations import FileProblems
    from benchapp.files.models import read_model
    from benchapp.files.text import read_text
    from benchapp.meters.stored import StoredReadings, read_table

    if not by.strip():
        raise Refused(say("Nobody's initials are given. Enter yours, then import it again."))
    try:
        described = read_model(description, StoredReadings)
        found = read_table(read_text(table), described)
    except FileProblems as problems:
        raise Refused(
            say("The description cannot be used. {complaints}.", complaints=problems.complaints[0])
        ) from problems
    units = {unit.shelf_mark.casefold(): unit for unit in bench.units()}
    told, recorded, before = list(found.passed_over), set(), 0
    for one in found.readings:
        unit = units.get(one.unit.casefold())
        if unit is None:
            told.append(
                say("Line {line}: there is no unit {unit} in this workbook.", line=one.line, unit=one.unit[:40])
            )
            continue
        uuid = str(uuid5(NAMESPACE_URL, f"{described.stored_readings} {unit.mark} {one.address} {one.row}"))
        if any(entry.uuid == uuid for entry in bench.entries(unit.mark)):
            before += 1
            continue
        try:
            record_answer(bench, unit.mark, one.address, _answer(one, described.taken_with), by=by, uuid=uuid)
        except BenchError as problem:
            told.append(f"Line {one.line}, {unit.mark}: {problem.sentence}")
            continue
        recorded.add((unit.lot, unit.mark, one.line))
    return ChangeSet(
        lots=frozenset(lot for lot, _, _ in recorded),
        units=frozenset(mark for _, mark, _ in recorded),
        words=_words(len(recorded), before, told),
    )


def _answer(one: "StoredReading", taken_with: str) -> "ReadingAnswer":
    from benchapp.sequences.answering.readings import ReadingAnswer
    from benchapp.sequences.language.vocabulary import ReadingSource

    return ReadingAnswer(
        typed=one.typed,
        meter=taken_with,
        note=say("kept at {time}", time=one.time) if one.time else "",
        source=ReadingSource.transcribed,
        sent=one.row,
    )


def _words(recorded: int, before: int, told: list[str]) -> str:
    words = [
        say(
            "{recorded} {value} recorded as transcribed.",
            recorded=recorded,
            value="reading is" if recorded == 1 else "readings are",
        )
    ]
    if before:
        words.append(say("{before} came before.", before=before))
    if told:
        words.append(
            say("{count} of its lines {value} not taken:", count=len(told), value="was" if len(told) == 1 else "were")
        )
    rest = [f"And {len(told) - TOLD} more."] if len(told) > TOLD else []
    return "\n".join((" ".join(words), *told[:TOLD], *rest))
