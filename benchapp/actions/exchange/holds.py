"""What stands in a workbook that a person has to settle: marks that several bear, records that fork, units lent."""

from pathlib import Path

from benchapp.actions.workbench.bench import Bench
from benchapp.sequences.planning.entries import Entry
from benchapp.words import say
from benchapp.workbook.opened.workbook import Workbook
from benchapp.workbook.record.chains import UNIT
from benchapp.workbook.record.forks import read_forks, read_sides

_TELLING = ("sentence", "words", "note", "why", "reason", "done", "disposition", "event", "hazard", "meter", "caution")
"""what of an entry's content tells most, the first that it has"""


def told_of(workbook: Workbook) -> tuple[str, ...]:
    """A sentence for each unit that is on hold by itself, each other record that forks, and each unit that is lent."""
    units, benches = workbook.units(), workbook.benches()
    held = [
        say("{mark} is on hold: {held} Do not use it.", mark=unit.mark, held=unit.held) for unit in units if unit.held
    ]
    forks = [fork.words for fork in read_forks(workbook.store) if fork.kind != UNIT]
    lent = [
        say(
            "{mark} is lent to {benches}: it alone may record on it.",
            mark=unit.mark,
            benches=benches.get(unit.lent_to, unit.lent_to),
        )
        for unit in units
        if unit.lent_to
    ]
    return (*held, *forks, *lent)


def told_of_file(path: Path) -> tuple[str, ...]:
    """The same of a workbook file; changes nothing. Raises WorkbookProblem."""
    workbook = Workbook.look_at(path)
    try:
        return told_of(workbook)
    finally:
        workbook.close()


def sides_of(bench: Bench, mark: str) -> tuple[tuple[str, ...], ...]:
    """Where a unit's record forks: what each side says from there on, a line an entry; nothing where it does not."""
    return tuple(tuple(map(_line, side)) for side in read_sides(bench.workbook.store, mark))


def _line(entry: Entry) -> str:
    at = entry.at[:16].replace("T", " ")
    said = (str(getattr(entry.content, name, "") or "") for name in _TELLING)
    words = (f"entry {entry.number}", at, entry.by, str(entry.kind), entry.address, next(filter(None, said), ""))
    return "   ".join(filter(None, words))
