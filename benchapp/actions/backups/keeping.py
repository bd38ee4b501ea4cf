"""Making backups, and saying how long ago the last one was."""

from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from benchapp.actions.backups.counting import entries_words, holds_words
from benchapp.actions.backups.settings import LastBackup, missing, read_settings, remember, usable_folder
from benchapp.words import say
from benchapp.workbook.backup.backups import drop_backups, remove_left_drafts, write_backup
from benchapp.workbook.backup.holdings import Holdings, read_holdings
from benchapp.workbook.backup.problems import BackupProblem
from benchapp.workbook.backup.receipts import check_backup, list_backups
from benchapp.workbook.backup.values import Receipt
from benchapp.workbook.file.sqlite import Cancel, Progress
from benchapp.workbook.model.problems import DamagedWorkbook, WorkbookProblem

DAY = 24 * 3600.0
GROWN_OLD = 1.5 * DAY
"""seconds after which a last backup is a worry where something was recorded since (own choice)"""


@dataclass(frozen=True, slots=True, kw_only=True)
class BackupDone:
    """What came of backing up: the file (None where nothing was recorded since the last), whether it is sound, a
    sentence."""

    words: str
    path: Path | None = None
    sound: bool = True
    faults: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class BackupState:
    """How a workbook is backed up on this computer, as a sentence; `worry` where a person should do something."""

    words: str
    worry: bool
    folder: str = ""
    there: bool = False
    """whether the folder can be used now"""


def back_up(
    workbook: Path,
    *,
    at: str,
    to: Path | None = None,
    anew: bool = True,
    progress: Progress | None = None,
    cancelled: Cancel | None = None,
) -> BackupDone:
    """Make and verify a backup in that folder, or in the one that was named; then drop what the ladder no longer keeps.

    Not `anew`: only where something was recorded since the last sound one. `at` is the time, ISO 8601 in UTC. Raises
    WorkbookProblem, CopyStopped and CheckStopped among them.
    """
    folder = _named(to) if to is not None else usable_folder()
    _check_unchecked(workbook, folder, at=at, cancelled=cancelled)
    if not anew and _is_kept(workbook, folder):
        return BackupDone(words="Nothing was recorded since the last backup.")
    path = _written(workbook, folder, at=at, progress=progress, cancelled=cancelled)
    receipt = check_backup(path, source=workbook.absolute(), at=at, progress=progress, cancelled=cancelled)
    if receipt.faults:
        words = say(
            "The backup {name} does not hold, so it does not count as one. {faults}",
            name=path.name,
            faults=receipt.faults[0],
        )
        return BackupDone(words=words, path=path, sound=False, faults=receipt.faults)
    _remember(receipt, path)
    if str(folder) == read_settings().folder:
        drop_backups(folder, workbook=receipt.workbook, now=at)
        remove_left_drafts(folder)
    return BackupDone(
        words=say(
            "Backed up and verified: {path}, {holds}.", path=path, holds=holds_words(receipt.entries, receipt.units)
        ),
        path=path,
    )


def _written(workbook: Path, folder: Path, *, at: str, progress: Progress | None, cancelled: Cancel | None) -> Path:
    try:
        return write_backup(workbook, folder, at=at, progress=progress, cancelled=cancelled)
    except DamagedWorkbook as damage:
        raise BackupProblem(
            say(
                "{name} itself is damaged ({found}), so no backup was made of it. Keep the file, and "
                "restore its newest sound backup to a new one.",
                name=workbook.name,
                found=damage.found,
            )
        ) from damage


def back_up_before_migration(workbook: Path, *, at: str) -> str:
    """A backup of an older file, where a folder for backups is there; it is checked when the next one is made.

    Returns what kept it from being made, as a sentence: the migration keeps a copy beside the file in any case.
    """
    try:
        if read_settings().folder:
            write_backup(workbook, usable_folder(), at=at)
    except WorkbookProblem as problem:
        return problem.sentence
    return ""


def backup_state(workbook: Path, *, now: str) -> BackupState:
    """How long ago the last sound backup was and what was recorded since, or what stands in the way of one.

    Reads the heads of the workbook and asks the disk: not for the window's own thread.
    """
    settings = read_settings()
    gone = missing(settings)
    holdings = _holdings(workbook)
    last = settings.last.get(holdings.workbook) if holdings else None
    when = f"Last backup {_ago(last.at, now)}{_since(holdings, last)}." if last else "Never backed up."
    old = last is None or (_seconds(last.at, now) > GROWN_OLD and _moved(holdings, last))
    if not settings.folder:
        words = say("{when} No folder for backups is named on this computer.", when=when)
        return BackupState(words=words, worry=True)
    words = f"{when} {gone}" if gone else when
    return BackupState(words=words, worry=bool(gone) or old, folder=settings.folder, there=not gone)


def _named(folder: Path) -> Path:
    if not folder.is_dir():
        raise BackupProblem(
            say(
                "There is no folder {folder}. Make it first, or look whether the disk or stick is there.", folder=folder
            )
        )
    return folder.absolute()


def _is_kept(workbook: Path, folder: Path) -> bool:
    """Whether the newest sound backup in the folder holds all that the workbook does."""
    now = read_holdings(workbook)
    newest = next((one for one in list_backups(folder, workbook=now.workbook) if one.sound), None)
    return newest is not None and newest.receipt is not None and newest.receipt.recorded == now.recorded


def _check_unchecked(workbook: Path, folder: Path, *, at: str, cancelled: Cancel | None) -> None:
    """Check what an earlier window was closed on before it was checked."""
    try:
        itself = read_holdings(workbook).workbook
    except WorkbookProblem:
        return
    for one in list_backups(folder, workbook=itself):
        if one.receipt is None:
            receipt = check_backup(one.path, source=workbook.absolute(), at=at, cancelled=cancelled)
            if not receipt.faults:
                _remember(receipt, one.path)


def _remember(receipt: Receipt, path: Path) -> None:
    known = read_settings().last.get(receipt.workbook)
    if known is None or known.at <= receipt.made:
        last = LastBackup(
            at=receipt.made, folder=str(path.parent), name=path.name, entries=receipt.entries, recorded=receipt.recorded
        )
        remember(receipt.workbook, last)


def _holdings(workbook: Path) -> Holdings | None:
    try:
        return read_holdings(workbook)
    except WorkbookProblem:
        return None


def _moved(holdings: Holdings | None, last: LastBackup) -> bool:
    return holdings is None or holdings.recorded != last.recorded


def _since(holdings: Holdings | None, last: LastBackup) -> str:
    if holdings is None or holdings.entries <= last.entries:
        return ""
    return say(", {entries} since", entries=entries_words(holdings.entries - last.entries))


def _ago(at: str, now: str) -> str:
    when, today = (datetime.fromisoformat(text).astimezone() for text in (at, now))
    days = (today.date() - when.date()).days
    if days <= 0:
        return f"today at {when:%H:%M}"
    return f"yesterday at {when:%H:%M}" if days == 1 else f"{days} days ago"


def _seconds(at: str, now: str) -> float:
    return (datetime.fromisoformat(now) - datetime.fromisoformat(at)).total_seconds()
