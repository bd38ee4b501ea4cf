"""The one door by which the contents of entries are read and written.

| kind of entry | class |
| --- | --- |
| answer | the one of its kind of step (`PlannedKind.content_of`), on `AnswerContent` |
| beginning | the one of its chain, in `BEGINNINGS` |
| any other | `CONTENTS` |
"""

from collections.abc import Mapping
from typing import Any

from benchapp.sequences.planning.chain_contents import (
    BEGINNINGS,
    AnchorContent,
    ClosingContent,
    ImportedContent,
    LentContent,
    LotContent,
    MovedContent,
    NamedContent,
    OpeningContent,
    RunContent,
    SettingsContent,
    ShelfMarkContent,
    TagsPrintedContent,
)
from benchapp.sequences.planning.content import Content
from benchapp.sequences.planning.content_fields import ContentProblem, fields_json, read_fields
from benchapp.sequences.planning.entries import EntryKind
from benchapp.sequences.planning.entry_contents import (
    AcceptanceContent,
    CautionContent,
    DispositionContent,
    EventContent,
    FactContent,
    FalseAlarmContent,
    FaultContent,
    HazardClearedContent,
    HazardContent,
    MeterContent,
    NoteContent,
    OpenedContent,
    PlugDestroyedContent,
    PlugKeptContent,
    RepairContent,
    SetUpContent,
    SupervisorOpeningContent,
    UnitPhotosContent,
    WithdrawalContent,
)
from benchapp.sequences.planning.planned_kind import PlannedKind
from benchapp.words import say

CONTENTS: Mapping[str, type[Content]] = {
    EntryKind.withdrawal: WithdrawalContent,
    EntryKind.meter: MeterContent,
    EntryKind.caution: CautionContent,
    EntryKind.set_up: SetUpContent,
    EntryKind.fault: FaultContent,
    EntryKind.repair: RepairContent,
    EntryKind.opened: OpenedContent,
    EntryKind.event: EventContent,
    EntryKind.hazard: HazardContent,
    EntryKind.false_alarm: FalseAlarmContent,
    EntryKind.hazard_cleared: HazardClearedContent,
    EntryKind.supervisor_opening: SupervisorOpeningContent,
    EntryKind.acceptance: AcceptanceContent,
    EntryKind.disposition: DispositionContent,
    EntryKind.plug_destroyed: PlugDestroyedContent,
    EntryKind.plug_kept: PlugKeptContent,
    EntryKind.fact: FactContent,
    EntryKind.note: NoteContent,
    EntryKind.photos: UnitPhotosContent,
    EntryKind.run: RunContent,
    EntryKind.shelf_mark: ShelfMarkContent,
    EntryKind.lent: LentContent,
    EntryKind.moved: MovedContent,
    EntryKind.named: NamedContent,
    EntryKind.opening: OpeningContent,
    EntryKind.closing: ClosingContent,
    EntryKind.anchor: AnchorContent,
    EntryKind.tags_printed: TagsPrintedContent,
    EntryKind.imported: ImportedContent,
    EntryKind.settings: SettingsContent,
    EntryKind.lot: LotContent,
}
"""The class of each kind of entry; an answer's follows from its kind of step, a beginning's from its chain."""


def read_content(kind: str, mapping: Mapping[str, Any]) -> Content:
    """The content of an entry of that kind from its JSON.

    Raises ContentProblem for a kind, a key or a type that this program does not know there, KindProblem for an answer
    at a kind of step that it does not know.
    """
    of = CONTENTS.get(kind)
    if of is not None:
        return read_fields(of, mapping, f"A {kind} entry")
    if kind == EntryKind.beginning:
        chains = [one for key, one in BEGINNINGS.items() if key in mapping] or [*BEGINNINGS.values()]
        return read_fields(chains[0], mapping, "A chain's beginning")
    if kind != EntryKind.answer:
        raise ContentProblem(say("There is no entry of the kind “{kind}”.", kind=kind))
    content = PlannedKind.named(str(mapping.get("step", ""))).content_of(mapping)
    return read_fields(content, mapping, "An answer")


def content_json(content: Content) -> dict[str, Any]:
    """The content as JSON: plain lists, objects, texts and numbers."""
    return fields_json(content)
