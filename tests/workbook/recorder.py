"""Run as a process of its own: records entries on a unit, and says each number once it is on disk."""

import sys
from pathlib import Path
from uuid import uuid4

from benchapp.sequences.planning.entries import Entry, EntryKind
from benchapp.sequences.planning.entry_contents import NoteContent
from benchapp.workbook.model.problems import Overtaken
from benchapp.workbook.model.values import UnitSummary
from benchapp.workbook.opened.workbook import Workbook


def main(path: str, unit: str, count: str, by: str) -> None:
    workbook = Workbook.open(Path(path))
    recorded = 0
    while recorded < int(count):
        number = workbook.unit(unit).last_entry + 1
        entry = Entry(
            number=number,
            uuid=str(uuid4()),
            kind=EntryKind.note,
            at="2026-05-04T09:00:00Z",
            by=by,
            content=NoteContent(words=f"{by} {recorded}"),
            run=workbook.current_run(unit).uuid,
            cites=workbook.grounds().cites,
        )
        try:
            workbook.append(unit, entry, UnitSummary(disposition="quarantine", due=""))
        except Overtaken:
            continue
        recorded += 1
        print(entry.uuid, flush=True)
    workbook.close()


if __name__ == "__main__":
    main(*sys.argv[1:])
