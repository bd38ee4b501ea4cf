"""A damaged workbook: what can be read of it, its newest sound backup, and what each has that the other has not."""

from collections.abc import Iterator, Mapping, Sequence, Set
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path

from benchapp.actions.backups.counting import holds_words, more_words
from benchapp.actions.backups.listing import newest_sound, words_of
from benchapp.actions.backups.restoring import listed
from benchapp.errors import BenchError
from benchapp.words import say
from benchapp.workbook.backup.holdings import Further, Holdings, read_holdings
from benchapp.workbook.backup.values import Backup
from benchapp.workbook.model.problems import DamagedWorkbook, NotAWorkbook, StorageTrouble, WorkbookProblem

LARGEST = 1 << 30
"""bytes of a file beyond which it is not read into memory to be looked through (own choice)"""
NAMED = 12
"""units that a sentence names; the rest is counted"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Damage:
    """What is known of a damaged workbook file; the file itself is never changed."""

    path: Path
    readable: Path | None
    """a workbook made of what can be read, for looking; None where nothing can"""
    backup: Backup | None
    sentences: tuple[str, ...]


def is_damage(problem: BenchError) -> bool:
    """Whether a file that gives this problem may be a damaged workbook."""
    return isinstance(problem, DamagedWorkbook | NotAWorkbook | StorageTrouble)


def damage_of(path: Path, problem: BenchError, folder: Path) -> Damage | None:
    """Look at a workbook that did not open; None where the problem is another one than damage.

    `folder` is an empty one, for what can be read: it may be taken away once nobody looks any more.
    """
    if not is_damage(problem) or not path.is_file() or path.stat().st_size > LARGEST:
        return None
    readable = _salvaged(path, folder / f"{path.stem} as far as it can be read.workbook")
    if readable is None and isinstance(problem, NotAWorkbook):
        return None
    backup = newest_sound(path if readable is None else readable) or newest_sound(path)
    return Damage(path=path, readable=readable, backup=backup, sentences=tuple(_told(path, problem, readable, backup)))


def damage_beside(path: Path, backup: Path, folder: Path) -> tuple[str, ...]:
    """The same in sentences, held against that backup; none where the file can be read, or is no workbook."""
    try:
        read_holdings(path)
    except WorkbookProblem as problem:
        damage = damage_of(path, problem, folder)
    else:
        return ()
    kept = _holdings(backup)
    if damage is None or damage.readable is None or kept is None:
        return ()
    return (*damage.sentences[:2], listed("The damaged file", _beyond(_entries_in(damage.readable), kept)))


def _salvaged(path: Path, to: Path) -> Path | None:
    from benchapp.workbook.salvage.salvage import salvage

    try:
        return salvage(path, to).path
    except (WorkbookProblem, OSError):
        return None


def _told(path: Path, problem: BenchError, readable: Path | None, backup: Backup | None) -> list[str]:
    found = "its beginning is not that of a workbook"
    if isinstance(problem, DamagedWorkbook):
        found = problem.found
    elif isinstance(problem, StorageTrouble):
        found = str(problem.__cause__ or "it cannot be read")
    told = [
        say(
            "{name} is damaged ({found}). It stays as it is, and nothing is recorded in it.",
            name=path.name,
            found=found,
        )
    ]
    there = _entries_in(readable) if readable else {}
    told.append(_readable(there, _broken_units(readable)) if readable else "Nothing of it can be read.")
    kept = _holdings(backup.path) if backup else None
    if backup is None or kept is None:
        told.append("No sound backup of it can be found in the folder for backups of this computer.")
        return told
    made = f"{backup.at:%Y-%m-%d %H:%M} UTC"
    told.append(
        say(
            "The newest sound backup is of {made} ({words_of}): {path}.",
            made=made,
            words_of=words_of(backup),
            path=backup.path,
        )
    )
    if readable:
        told.append(listed("The damaged file", _beyond(there, kept)))
        lost = _lost(there, kept)
        all_there = "All that the backup holds can still be read of the damaged file."
        told.append(listed("The backup", lost, than="what can be read") if lost else all_there)
    return told


def _readable(there: Mapping[str, frozenset[int]], broken: Sequence[str]) -> str:
    words = say("{held} can still be read.", held=holds_words(sum(map(len, there.values())), len(there)))
    if not broken:
        return words
    named, more = ", ".join(broken[:NAMED]), more_words(len(broken) - NAMED)
    return say("{words} Not whole: {named}{more}.", words=words, named=named, more=more)


def _broken_units(readable: Path) -> Sequence[str]:
    """Units whose record does not hold in what could be read, by name."""
    from benchapp.workbook.checks.checking import check_records
    from benchapp.workbook.file.store import Store

    store = Store(readable, look_only=True)
    found = set[str]()
    try:
        with suppress(BenchError):  # rubbish that reads as an entry of no kind ends the check, not the looking
            found.update(difference.unit for difference in check_records(store) if difference.unit)
    finally:
        store.close()
    return sorted(found)


def _entries_in(readable: Path) -> dict[str, frozenset[int]]:
    """The numbers of the entries of each unit that are there, whatever is said of them elsewhere."""
    from benchapp.workbook.file.store import Store

    store = Store(readable, look_only=True)
    try:
        with store.looking() as connection:
            found: dict[str, set[int]] = {}
            for mark, number in connection.execute(_ENTRIES):
                found.setdefault(str(mark), set()).add(int(number))
        return {mark: frozenset(numbers - {0}) for mark, numbers in found.items()}
    finally:
        store.close()


_ENTRIES = """
SELECT units.mark, coalesce(entries.number, 0) FROM units LEFT JOIN entries ON entries.chain_id = units.chain_id
"""


def _holdings(backup: Path) -> Holdings | None:
    try:
        return read_holdings(backup)
    except WorkbookProblem:
        return None


def _beyond(there: Mapping[str, frozenset[int]], kept: Holdings) -> list[Further]:
    """What can be read of the file and is not in the backup."""
    found: list[Further] = []
    known = {head.mark: head.number for head in kept.units.values()}
    for unit, numbers in sorted(there.items()):
        last = known.get(unit, 0)
        found += _spans(unit, {number for number in numbers if number > last})
        if unit not in known and not numbers:
            found.append(Further(unit=unit, first=1, last=0))
    return found


def _lost(there: Mapping[str, frozenset[int]], kept: Holdings) -> list[Further]:
    """What is in the backup and cannot be read of the file."""
    found: list[Further] = []
    for unit, last, _ in sorted(kept.units.values()):
        found += _spans(unit, set(range(1, last + 1)) - there.get(unit, frozenset()))
        if unit not in there and not last:
            found.append(Further(unit=unit, first=1, last=0))
    return found


def _spans(unit: str, numbers: Set[int]) -> Iterator[Further]:
    """The numbers as spans without a gap."""
    rest = sorted(numbers)
    while rest:
        length = next((at for at, number in enumerate(rest) if number != rest[0] + at), len(rest))
        yield Further(unit=unit, first=rest[0], last=rest[length - 1])
        rest = rest[length:]
