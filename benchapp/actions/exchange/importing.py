"""Day files in: what they hold is checked, added, and shown as the engine folds it."""

from collections.abc import Mapping, Sequence
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from benchapp.actions.workbench.bench import Bench
from benchapp.actions.workbench.change_set import ChangeSet
from benchapp.actions.workbench.plans import Plans, workshop_from
from benchapp.actions.workbench.problems import Refused
from benchapp.actions.workbench.unit_summary import summary_after
from benchapp.errors import BenchError
from benchapp.sequences.planning.chain_contents import LentContent
from benchapp.sequences.planning.entries import is_of
from benchapp.words import say
from benchapp.workbook.exchange.day_file import MOST_BYTES, DayFileProblem, read_day_file
from benchapp.workbook.file.whole_files import read_regular
from benchapp.workbook.model.values import Run, UnitSummary

if TYPE_CHECKING:
    from benchapp.workbook.exchange.merging import Merged, UnitRecord


def import_day_file(bench: Bench, path: Path, *, by: str) -> ChangeSet:
    """Bring a day file into the workbook; nothing is added twice, and of a file that does not hold nothing at all.

    A unit that this bench had lent and that came back is nobody's again. Raises Refused for a file that cannot be
    read, DayFileProblem with what is wrong, WorkbookProblem for the disk.
    """
    file = read_day_file(_content(path), path.name)
    before = {unit.uuid: unit.mark for unit in bench.units()}
    folding = _Folding(path.name)
    work = partial(bench.workbook.merge, file, path.name, at=bench.clock(), by=by, summarise=folding.summarise)
    merged = bench.write(work)
    bench.forget_all()
    if not merged.entries:
        return ChangeSet(words=say("{name} holds nothing that is not here already.", name=path.name))
    units = {unit.uuid: unit for unit in bench.units()}
    _take_back(bench, merged, by=by)
    words = [say("{count} entr(y|ies) of {name} (is|are) added.", count=merged.entries, name=path.name)]
    words += [
        say("{mark}: {held} Do not use it.", mark=unit.mark, held=unit.held)
        for unit in units.values()
        if _is_news(unit.held, merged)
    ]
    renamed = {was: units[uuid].mark for uuid, was in before.items() if units[uuid].mark != was}
    return ChangeSet(
        lots=frozenset(lot.name for lot in bench.lots()),
        units=frozenset({*before.values(), *(unit.mark for unit in units.values())}),
        words=" ".join(words),
        renamed=renamed,
    )


def import_day_files(bench: Bench, paths: Sequence[Path], *, by: str) -> ChangeSet:
    """The same for some files, in any order; one that does not hold is told and keeps no other from being taken over.

    Raises what is wrong with the first where none was taken over.
    """
    said, problems, done = [], [], []
    for path in paths:
        try:
            done.append(import_day_file(bench, path, by=by))
            said.append(done[-1].words)
        except BenchError as problem:
            problems.append(problem)
            said.append(problem.sentence)
    if problems and not done:
        raise problems[0]
    return ChangeSet(
        lots=frozenset().union(*(one.lots for one in done)),
        units=frozenset().union(*(one.units for one in done)),
        words=" ".join(said),
        renamed=_renamed(done),
    )


def _renamed(done: Sequence[ChangeSet]) -> dict[str, str]:
    """What units are called after all of these, by what they were called before the first."""
    renamed: dict[str, str] = {}
    for one in done:
        renamed = {was: one.renamed.get(now, now) for was, now in renamed.items()}
        renamed |= {was: now for was, now in one.renamed.items() if was not in renamed}
    return renamed


def _content(path: Path) -> bytes:
    try:
        if path.stat().st_size > MOST_BYTES:
            raise DayFileProblem(path.name, "it is larger than any day's record")
        return read_regular(path)
    except OSError as error:
        found = error.strerror or str(error)
        raise Refused(
            say("{path} cannot be read ({found}). Check the name, and whether the stick is in.", path=path, found=found)
        ) from error


def _is_news(held: str, merged: "Merged") -> bool:
    return bool(held) and bool(merged.new_units or merged.forked)


def _take_back(bench: Bench, merged: "Merged", *, by: str) -> None:
    """Units that came home from a loan: every bench of this workbook may record on them again."""
    lent = [unit for unit in bench.units() if unit.lent_to == bench.workbook.bench.uuid and not unit.held]
    for unit in lent:
        if unit.uuid in merged.units and _is_home(bench, unit.mark):
            at = bench.now(bench.history(unit.mark))
            bench.write(partial(bench.workbook.lend, unit.mark, "", at=at, by=by, why="back from its loan"))


def _is_home(bench: Bench, mark: str) -> bool:
    """Whether each bench that lent the unit on has it back from the one that it lent it to."""
    lenders: list[str] = []
    for entry in bench.entries(mark):
        if is_of(entry, LentContent):
            to = entry.content.to
            if not to:
                lenders.clear()
            elif lenders and lenders[-1] == to:
                lenders.pop()
            else:
                lenders.append(entry.bench)
    return not lenders


class _Folding:
    """Folds units of a file; those of a lot share their plan."""

    def __init__(self, name: str) -> None:
        self._name = name
        self._texts: Mapping[str, str] = {}
        self._plans = Plans(self)

    def pinned_texts(self, _run: Run) -> Mapping[str, str]:
        """The texts of the unit at hand: they are not in the file yet."""
        return self._texts

    def summarise(self, record: "UnitRecord") -> UnitSummary:
        """What is shown of a unit after its last entry; raises DayFileProblem for what the engine cannot follow."""
        from benchapp.sequences.interlock.fold import fold

        self._texts = record.texts
        at = record.entries[-1].at if record.entries else record.begun
        try:
            state = fold(self._plans.of(record.run, workshop_from(record.workshop), again=True), record.entries, at=at)
        except BenchError as problem:
            why = f"the record of {record.run.unit} cannot be followed: {problem.sentence.rstrip('.')}"
            raise DayFileProblem(self._name, why) from problem
        return summary_after(record.run.unit, state, record.entries)
