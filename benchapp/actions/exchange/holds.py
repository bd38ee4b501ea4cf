"""What stands in a workbook that a person has to settle: marks that several bear, records that fork, units lent."""

from pathlib import Path

from benchapp.workbook.chains import UNIT
from benchapp.workbook.forks import read_forks
from benchapp.workbook.workbook import Workbook


def told_of(workbook: Workbook) -> tuple[str, ...]:
    """A sentence for each unit that is on hold by itself, each other record that forks, and each unit that is lent."""
    units, benches = workbook.units(), workbook.benches()
    held = [f"{unit.mark} is on hold: {unit.held} Do not use it." for unit in units if unit.held]
    forks = [fork.words for fork in read_forks(workbook.store) if fork.kind != UNIT]
    lent = [
        f"{unit.mark} is lent to {benches.get(unit.lent_to, unit.lent_to)}: it alone may record on it."
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
