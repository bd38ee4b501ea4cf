"""The workshop's settings asked again: each could be, and was made by who may make it, with the reason it needs."""

from collections.abc import Iterator

from benchapp.actions.workbench.plans import workshop_from
from benchapp.errors import BenchError
from benchapp.sequences.planning.chain_contents import SettingsContent
from benchapp.sequences.planning.entries import Entry, EntryKind, is_of
from benchapp.sequences.planning.workshop_rules import refuse_change, refuse_workshop
from benchapp.workbook.model.values import Difference
from benchapp.workbook.opened.workbook import Workbook
from benchapp.workbook.record.days import settings_before
from benchapp.workbook.record.sealing import canonical

FORGED = (ArithmeticError, AttributeError, LookupError, TypeError, ValueError)
"""what comes of settings that no program recorded"""


def settings_differ(workbook: Workbook) -> Iterator[Difference]:
    """What of the workshop's settings would have been refused, entry by entry."""
    for entry in workbook.entries_of_kinds(EntryKind.settings):
        if not is_of(entry, SettingsContent):
            continue
        try:
            refused = _refused(workbook, entry)
        except BenchError as problem:
            refused = problem.sentence
        except FORGED as problem:
            refused = f"it holds what no settings can hold ({problem})"
        if refused:
            words = f"Entry {entry.number} of the workshop (settings): it would have been refused: {refused}"
            yield Difference(unit="", entry=entry.number, words=words)


def _refused(workbook: Workbook, entry: Entry[SettingsContent]) -> str | None:
    after = workshop_from(canonical(entry.content.settings))
    with workbook.store.looking() as connection:
        before = settings_before(connection, entry)
    if refused := refuse_workshop(after):
        return refused
    if before is None:
        return None
    was = workshop_from(canonical(before.content.settings))
    return refuse_change(was, after, by=entry.by, at=entry.at, reason=entry.content.reason)
