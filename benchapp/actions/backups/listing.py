"""Which backups of a workbook there are, and what each holds."""

from pathlib import Path

from benchapp.actions.backups.counting import holds_words
from benchapp.actions.backups.settings import usable_folder
from benchapp.workbook.backup.holdings import read_holdings
from benchapp.workbook.backup.problems import BackupProblem
from benchapp.workbook.backup.receipts import examined, list_backups
from benchapp.workbook.backup.values import Backup
from benchapp.workbook.file.sqlite import Cancel
from benchapp.workbook.model.problems import WorkbookProblem


def backups_of(workbook: Path, *, folder: Path | None = None) -> tuple[Backup, ...]:
    """The backups of a workbook in the named folder or another, newest first, as their receipts say.

    Where the workbook cannot be read any more, those that were made of the file of that name. Raises BackupProblem.
    """
    where = folder or usable_folder()
    try:
        return list_backups(where, workbook=read_holdings(workbook).workbook)
    except BackupProblem:
        raise
    except WorkbookProblem:
        return tuple(one for one in list_backups(where) if _is_of(one, workbook))


def examine(backup: Backup, *, cancelled: Cancel | None = None) -> Backup:
    """The same backup, its bytes read again: sound means that they are those that were checked. Raises CheckStopped."""
    return examined(backup, cancelled=cancelled)


def newest_sound(workbook: Path) -> Backup | None:
    """The newest backup that is sound, its bytes read again; None where there is none that can be reached."""
    try:
        found = backups_of(workbook)
    except WorkbookProblem:
        return None
    return next((one for one in map(examine, found) if one.sound), None)


def words_of(backup: Backup) -> str:
    """What it holds, in a few words: "40 entries of 12 units"."""
    receipt = backup.receipt
    if receipt is None:
        return ""
    return holds_words(receipt.entries, receipt.units)


def _is_of(backup: Backup, workbook: Path) -> bool:
    if backup.receipt is not None:
        return backup.receipt.source == str(workbook.absolute())
    return backup.path.name.startswith(f"{workbook.stem} ")
