"""The way back: a backup made into a workbook file of its own, never over a file that is there."""

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from benchapp.actions.backups.counting import entries_words, holds_words, more_words
from benchapp.words import say
from benchapp.workbook.backup.holdings import Further, further_in, read_holdings
from benchapp.workbook.backup.problems import BackupProblem
from benchapp.workbook.backup.receipts import examined, list_backups, read_receipt, read_whole
from benchapp.workbook.backup.values import Receipt
from benchapp.workbook.file.sqlite import Cancel, copy_database
from benchapp.workbook.file.store import Store
from benchapp.workbook.model.problems import NoSuchWorkbook, WorkbookProblem
from benchapp.workbook.record.bench_identity import this_bench
from benchapp.workbook.record.known_heads import remember_heads

NAMED = 8
"""units that a sentence names; the rest is counted"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Restored:
    """The file made, what the workbook from which the backup was made has beyond it, and a sentence."""

    path: Path
    words: str
    further: tuple[Further, ...] = ()


def restore(backup: Path, to: Path, *, at: str, cancelled: Cancel | None = None) -> Restored:
    """Verify the backup, then make a workbook of it under a new name; `at` is the time, ISO 8601 in UTC.

    Raises BackupProblem where a file of that name is there (and says what that has beyond the backup), where there is
    no such folder, or where the backup does not hold; CheckStopped.
    """
    if not backup.is_file():
        raise NoSuchWorkbook(str(backup))
    if to.exists():
        raise BackupProblem(_taken(backup, to))
    receipt = read_whole(backup, source=backup, at=at, cancelled=cancelled)
    if receipt.faults:
        raise BackupProblem(
            say(
                "{name} does not hold, so nothing was restored. {faults} {instead}",
                name=backup.name,
                faults=receipt.faults[0],
                instead=_instead(backup),
            ).rstrip()
        )
    copy_database(backup, to, cancelled=cancelled)
    _accept(to)
    further = _further_in_source(backup)
    words = say("{to} holds what was backed up on {day}: {held}.", to=to, day=_day(receipt), held=_held(receipt))
    return Restored(path=to, words=words + _beyond(backup, further), further=further)


def _accept(restored: Path) -> None:
    """What is restored knowingly is no file set back in secret: it counts as known on this computer."""
    store = Store(restored, look_only=True)
    try:
        remember_heads(store, this_bench(), anew=True)
    finally:
        store.close()


def further_than(backup: Path, file: Path) -> str:
    """What a workbook file has that the backup has not, as a sentence; empty where it has nothing beyond it.

    Raises WorkbookProblem where one of them cannot be read.
    """
    mine, other = read_holdings(backup), read_holdings(file)
    if mine.workbook != other.workbook:
        return f"{file.name} is another workbook."
    return listed(file.name, further_in(other, mine))


def _taken(backup: Path, to: Path) -> str:
    words = say("There is a file {to} already, and a backup never takes the place of one. Choose another name.", to=to)
    try:
        return f"{words} {further_than(backup, to)}".rstrip()
    except WorkbookProblem:
        return words


def _instead(backup: Path) -> str:
    """The newest sound backup beside one that is not."""
    known, itself = read_receipt(backup), backup.absolute()
    if known is None or not known.workbook:
        return ""
    try:
        others = (one for one in list_backups(itself.parent, workbook=known.workbook) if one.path != itself)
    except WorkbookProblem:
        return ""
    sound = next((one for one in map(examined, others) if one.sound), None)
    return say("The newest sound backup beside it is {name}.", name=sound.path.name) if sound is not None else ""


def _further_in_source(backup: Path) -> tuple[Further, ...]:
    source = source_of(backup)
    if source is None:
        return ()
    try:
        mine, now = read_holdings(backup), read_holdings(source)
    except WorkbookProblem:
        return ()
    return further_in(now, mine) if mine.workbook == now.workbook else ()


def source_of(backup: Path) -> Path | None:
    """The workbook file from which a backup was made, where it is still there."""
    receipt = read_receipt(backup)
    source = Path(receipt.source) if receipt is not None and receipt.source else None
    return source if source is not None and source.is_file() else None


def _beyond(backup: Path, further: Sequence[Further]) -> str:
    source = source_of(backup)
    return f" {listed(str(source), further)}" if source is not None and further else ""


def listed(name: str, further: Sequence[Further], *, than: str = "the backup") -> str:
    """What a file has that another has not, as a sentence that names the units."""
    if not further:
        return say("{name} has nothing that {than} has not.", name=name, than=than)
    entries = entries_words(sum(one.entries for one in further))
    named = ", ".join(map(_unit_words, further[:NAMED]))
    more = more_words(len(further) - NAMED)
    return say(
        "{name} has {entries} that {than} has not: {named}{more}.",
        name=name,
        entries=entries,
        than=than,
        named=named,
        more=more,
    )


def _unit_words(one: Further) -> str:
    if one.fork:
        return f"{one.unit} (another entry {one.last})"
    if one.last == 0:
        return f"{one.unit} (taken in)"
    return f"{one.unit} ({one.first})" if one.first == one.last else f"{one.unit} ({one.first} to {one.last})"


def _day(receipt: Receipt) -> str:
    return receipt.made[:16].replace("T", " at ") + " UTC"


def _held(receipt: Receipt) -> str:
    words = holds_words(receipt.entries, receipt.units)
    last = receipt.last_at[:16].replace("T", " ")
    return say("{words}, the last of {last} UTC", words=words, last=last) if last else words
