"""Whether a workbook is what it says: integrity, hash chains, anchors, and every judgement computed again."""

from collections.abc import Callable, Iterator
from pathlib import Path

from benchapp.actions.audit.pinned import looser_pins
from benchapp.actions.audit.reverify import reverify, step_differs, what_differs
from benchapp.actions.workbench.plans import Plans
from benchapp.errors import BenchError, Cancelled
from benchapp.judgement.statements.statements import KNOWN_RULES
from benchapp.sequences.planning.answer_content import is_answer
from benchapp.workbook.checking import check_records
from benchapp.workbook.projections import check_projections
from benchapp.workbook.values import Difference
from benchapp.workbook.workbook import Workbook


def verify_workbook(
    path: Path, *, progress: Callable[[int, int], None] | None = None, cancelled: Callable[[], bool] | None = None
) -> tuple[Difference, ...]:
    """Differences found, the first first; nothing when the workbook holds. Changes nothing.

    Judgements are only computed again when the records themselves hold. Raises WorkbookProblem, Cancelled.
    """
    workbook = Workbook.look_at(path)
    try:
        found = (*check_records(workbook.store), *check_projections(workbook.store))
        return found or (*_check_judgements(workbook, progress, cancelled), *looser_pins(workbook))
    finally:
        workbook.close()


def _check_judgements(
    workbook: Workbook, progress: Callable[[int, int], None] | None, cancelled: Callable[[], bool] | None
) -> Iterator[Difference]:
    plans, units = Plans(workbook), workbook.units()
    for number, unit in enumerate(units):
        if cancelled is not None and cancelled():
            raise Cancelled("Verifying")
        yield from _check_unit(workbook, plans, unit.mark)
        if progress is not None:
            progress(number + 1, len(units))


def _check_unit(workbook: Workbook, plans: Plans, mark: str) -> Iterator[Difference]:
    entries = workbook.entries(mark)
    runs = {run.uuid: run for run in workbook.runs(mark)}
    for location, entry in enumerate(entries):
        if not is_answer(entry):
            continue
        if entry.rules not in KNOWN_RULES:
            own = ", ".join(sorted(KNOWN_RULES))
            words = f"was judged by rules {entry.rules}; this program has rules {own} and cannot say."
            yield Difference(unit=mark, entry=entry.number, words=f"Entry {entry.number} of {mark} {words}")
            continue
        try:
            plan = plans.of(runs[entry.run])
            again = reverify(plan, entries, location)
            wrong = [*step_differs(plan, entry), *what_differs(entry.content, again)]
        except BenchError as problem:
            wrong = [f"it cannot be judged again: {problem.sentence}"]
        if wrong:
            words = f"Entry {entry.number} of {mark} ({entry.address}): {'; '.join(wrong)}."
            yield Difference(unit=mark, entry=entry.number, words=words)
