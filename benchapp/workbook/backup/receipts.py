"""Receipts of backups: what each was found to hold when it was read again, and how it stands now.

The receipt is JSON beside the backup, of the same name. A backup counts when its receipt names no fault and the file
still is, byte for byte, what was checked.
"""

import json
import re
import tempfile
from dataclasses import asdict, replace
from datetime import UTC, datetime
from hashlib import sha256
from itertools import chain, islice
from pathlib import Path
from typing import Any

from benchapp.errors import Cancelled
from benchapp.words import say
from benchapp.workbook.backup.holdings import Holdings, read_holdings
from benchapp.workbook.backup.problems import CheckStopped, file_problem
from benchapp.workbook.backup.values import SOUND, UNCHECKED, UNSOUND, Backup, Receipt
from benchapp.workbook.file.sqlite import Cancel, Progress, copy_database
from benchapp.workbook.file.whole_files import read_json, write_whole
from benchapp.workbook.model.problems import CopyStopped, WorkbookProblem
from benchapp.workbook.opened.opening import HEAD, bring_up_to_date, revision_of

FAULTS_KEPT = 20
"""faults that a receipt lists: the first say enough"""
NAME = re.compile(r"(?P<stem>.+) (?P<at>\d{4}-\d\d-\d\d \d{6})Z( \d+)?\.workbook")
TIME = "%Y-%m-%d %H%M%S"
_BLOCK = 1 << 20


def check_backup(
    path: Path, *, source: Path, at: str, progress: Progress | None = None, cancelled: Cancel | None = None
) -> Receipt:
    """Read a backup again, check it whole and leave the receipt beside it.

    Raises CheckStopped, or BackupProblem where the receipt cannot be written.
    """
    receipt = read_whole(path, source=source, at=at, progress=progress, cancelled=cancelled)
    try:
        write_whole(receipt_of(path), json.dumps(asdict(receipt), indent=1, ensure_ascii=False).encode())
    except OSError as error:
        raise file_problem(path.parent, error) from error
    return receipt


def read_whole(
    path: Path, *, source: Path, at: str, progress: Progress | None = None, cancelled: Cancel | None = None
) -> Receipt:
    """What checking the whole file finds; nothing is written. `progress` counts entries. Raises CheckStopped."""
    faults: list[str] = []
    holdings = Holdings(workbook="", units={}, last_at="", recorded="")
    try:
        faults = _faults(path, progress, cancelled)
        holdings = read_holdings(path)
    except (Cancelled, CheckStopped, CopyStopped) as stopped:
        raise CheckStopped(path.name) from stopped
    except WorkbookProblem as problem:
        faults.append(problem.sentence)
    match = NAME.fullmatch(path.name)
    return Receipt(
        workbook=holdings.workbook,
        source=str(source),
        made=time_of(match["at"]).isoformat().replace("+00:00", "Z") if match else at,
        checked=at,
        bytes=path.stat().st_size,
        sha256=file_hash(path, cancelled),
        entries=holdings.entries,
        units=len(holdings.units),
        last_at=holdings.last_at,
        recorded=holdings.recorded,
        faults=tuple(faults[:FAULTS_KEPT]),
    )


def _faults(path: Path, progress: Progress | None, cancelled: Cancel | None) -> list[str]:
    if revision_of(path, look_only=True) == HEAD:
        return _differences(path, progress, cancelled)
    with tempfile.TemporaryDirectory() as folder:  # an older format is checked as what it becomes
        copy = Path(folder) / path.name
        copy_database(path, copy, cancelled=cancelled)
        bring_up_to_date(copy)
        return _differences(copy, progress, cancelled)


def _differences(path: Path, progress: Progress | None, cancelled: Cancel | None) -> list[str]:
    from benchapp.workbook.checks.checking import check_records
    from benchapp.workbook.checks.projections import check_projections
    from benchapp.workbook.file.store import Store

    store = Store(path, look_only=True)
    try:
        found = chain(check_records(store, progress=progress, cancelled=cancelled), check_projections(store))
        words = [difference.words for difference in islice(found, FAULTS_KEPT)]
        stop_if(path, cancelled)
        return words
    finally:
        store.close()


def file_hash(path: Path, cancelled: Cancel | None = None) -> str:
    """SHA-256 of a file's bytes, read in blocks."""
    running = sha256()
    with path.open("rb") as file:
        while block := file.read(_BLOCK):
            stop_if(path, cancelled)
            running.update(block)
    return running.hexdigest()


def stop_if(path: Path, cancelled: Cancel | None) -> None:
    """Raise CheckStopped once it is wanted."""
    if cancelled is not None and cancelled():
        raise CheckStopped(path.name)


def list_backups(folder: Path, *, workbook: str = "") -> tuple[Backup, ...]:
    """The backups in a folder, newest first, as their receipts say; of one workbook where its UUID is given.

    Raises WorkbookProblem where the folder cannot be read.
    """
    try:
        names = sorted(folder.iterdir())
    except OSError as error:
        raise file_problem(folder, error) from error
    found = [_described(path, match["at"]) for path in names if (match := NAME.fullmatch(path.name))]
    of_it = [one for one in found if not workbook or _workbook_of(one) == workbook]
    return tuple(sorted(of_it, key=lambda one: (one.at, one.path.name), reverse=True))


def _described(path: Path, at: str) -> Backup:
    receipt = read_receipt(path)
    backup = Backup(path=path, at=time_of(at), state=UNCHECKED, receipt=receipt, words="It has not been checked yet.")
    if receipt is None:
        return backup
    if receipt.faults:
        return replace(backup, state=UNSOUND, words=receipt.faults[0])
    try:
        size = path.stat().st_size
    except OSError as error:
        return replace(backup, state=UNSOUND, words=say("It cannot be read ({strerror}).", strerror=error.strerror))
    if size != receipt.bytes:
        return replace(
            backup,
            state=UNSOUND,
            words=say("It has {size} bytes; {bytes} were written and checked.", size=size, bytes=receipt.bytes),
        )
    return replace(backup, state=SOUND, words="")


def examined(backup: Backup, *, cancelled: Cancel | None = None) -> Backup:
    """The same, its bytes read again: sound means that they are those that were checked. Raises CheckStopped."""
    if backup.state != SOUND or backup.receipt is None:
        return backup
    try:
        same = file_hash(backup.path, cancelled) == backup.receipt.sha256
    except OSError as error:
        return replace(backup, state=UNSOUND, words=say("It cannot be read ({strerror}).", strerror=error.strerror))
    words = "Its bytes are no longer those that were checked: it was changed or its medium is failing."
    return backup if same else replace(backup, state=UNSOUND, words=words)


def read_receipt(backup: Path) -> Receipt | None:
    """The receipt of a backup; None where there is none, or none that can be read."""
    try:
        fields: dict[str, Any] = read_json(receipt_of(backup))
        return Receipt(**(fields | {"faults": tuple(fields["faults"])}))
    except (OSError, ValueError, TypeError, KeyError):
        return None


def receipt_of(backup: Path) -> Path:
    """Where the receipt of a backup lies."""
    return backup.with_suffix(".receipt.json")


def _workbook_of(backup: Backup) -> str:
    if backup.receipt is not None:
        return backup.receipt.workbook
    try:
        return read_holdings(backup.path).workbook
    except WorkbookProblem:
        return ""


def time_of(text: str) -> datetime:
    """The time in a backup's name, in UTC; the oldest of all where somebody has named a file so."""
    try:
        return datetime.strptime(text, TIME).replace(tzinfo=UTC)
    except ValueError:
        return datetime.min.replace(tzinfo=UTC)
