"""Heads of chains outside of the file: printed ones held against it, and those that this computer has kept."""

import re
from pathlib import Path

from benchapp.errors import BenchError
from benchapp.words import say
from benchapp.workbook.model.values import Difference
from benchapp.workbook.opened.workbook import Workbook
from benchapp.workbook.record.bench_identity import this_bench
from benchapp.workbook.record.heads import UNIT, ChainHead, find_entries, read_broken_heads, read_heads
from benchapp.workbook.record.known_heads import KnownHead, knows_heads, lacking_heads, remember_heads, why_unreadable

FEWEST_DIGITS = 8
"""of a hash, to look for an entry by (own choice): two entries alike in so many are one in four thousand million"""


class NoHead(BenchError):
    """What was given is no start of a hash."""


def heads_of(path: Path) -> tuple[ChainHead, ...]:
    """The newest entry of every chain of a workbook file. Raises WorkbookProblem."""
    workbook = Workbook.look_at(path)
    try:
        return read_heads(workbook.store)
    finally:
        workbook.close()


def compare_head(path: Path, typed: str) -> tuple[bool, tuple[str, ...]]:
    """Whether an entry stands in the file whose hash begins as typed, and where, in sentences.

    Raises NoHead for what is no start of a hash, WorkbookProblem.
    """
    start = re.sub(r"[\s.…:-]", "", typed).lower()
    if not re.fullmatch(r"[0-9a-f]{8,64}", start):
        raise NoHead(
            say(
                "{typed!r} is no start of a hash. Type at least {fewest_digits} of the digits 0-9 and "
                "a-f that stand on the tag or the record sheet.",
                typed=typed,
                fewest_digits=FEWEST_DIGITS,
            )
        )
    workbook = Workbook.look_at(path)
    try:
        found = find_entries(workbook.store, start)
    finally:
        workbook.close()
    if not found:
        words = say(
            "No entry of {name} has a hash that begins with {start}: what was printed is not in this file.",
            name=path.name,
            start=start,
        )
        return False, (words,)
    return True, tuple(_where(one) for one in found)


def _where(one: ChainHead) -> str:
    last = "It is the last." if one.is_last else "There are later ones."
    return say(
        "{sha256} is entry {number} of {name}, recorded at {at}. {last}",
        sha256=one.sha256[:12],
        number=one.number,
        name=one.name,
        at=one.at,
        last=last,
    )


def set_back(workbook: Workbook) -> str:
    """That the file lacks what this computer has seen in it, as a sentence; empty where it lacks nothing."""
    lacking = lacking_heads(workbook.store)
    if not lacking:
        return ""
    seen = " and ".join(map(_seen, lacking))
    return say(
        "{name} lacks what this computer has seen in it: {seen}. It was set back, restored from "
        "a backup, or is not the workbook that it says it is. Where a backup was restored "
        "knowingly, accept it (benchapp verify FILE --accept-older); else look for the newer "
        "file.",
        name=workbook.store.name,
        seen=seen,
    )


def _seen(head: KnownHead) -> str:
    return f"entry {head.number} of the {head.kind}'s record ({head.sha256[:12]})"


def broken_heads(workbook: Workbook) -> tuple[Difference, ...]:
    """The chains of which the newest entry is not the one that it is said to be: quick, for the opening."""
    words = "The record of {name} does not end as it is said to end. Do not use what it says."
    found = read_broken_heads(workbook.store)
    return tuple(
        Difference(unit=name if kind == UNIT else "", entry=None, words=words.format(name=name)) for kind, name in found
    )


def accept_open(workbook: Workbook) -> None:
    """The opened file counts as the newest on this computer from here on, knowingly."""
    workbook.remember_heads(anew=True)


def accept_as_it_is(path: Path) -> str:
    """From here on the file counts as the newest on this computer, knowingly; a sentence. Raises WorkbookProblem."""
    workbook = Workbook.look_at(path)
    try:
        remember_heads(workbook.store, this_bench(), anew=True)
    finally:
        workbook.close()
    return say("{name} counts as the newest on this computer from here on.", name=path.name)


def heads_differ(workbook: Workbook) -> tuple[Difference, ...]:
    """The same as a difference."""
    words = set_back(workbook)
    return (Difference(unit="", entry=None, words=words),) if words else ()


def not_promised(path: Path) -> tuple[str, ...]:
    """What holding does not prove of this file on this computer, as sentences. Raises WorkbookProblem."""
    workbook = Workbook.look_at(path)
    try:
        return tuple(_exceptions(workbook))
    finally:
        workbook.close()


def _exceptions(workbook: Workbook) -> list[str]:
    said = [
        "Not proved: that a reading was taken as it was typed, and by whom; the record keeps what it was told.",
        "Not proved: that nobody made the whole file anew. Printed heads prove it: verify --head compares one.",
    ]
    if unreadable := why_unreadable():
        said.append(unreadable)
    elif not knows_heads(workbook.store):
        said.append("This computer has not worked with this workbook: a file set back as a whole would not be noticed.")
    loose = workbook.unanchored()
    if loose:
        named = f"{', '.join(loose[:5])} and {len(loose) - 5} more" if len(loose) > 5 else ", ".join(loose)
        said.append(
            say(
                "Not anchored yet: the newest entries of {named}. Until an anchor names them (bench "
                "opened or closed, tags printed, day file imported, workbook closed; those of a bench: "
                "at another bench) their end could be cut unseen.",
                named=named,
            )
        )
    return said
