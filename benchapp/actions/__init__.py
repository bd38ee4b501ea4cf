"""One function per thing a person does; each returns what it changed (`Changes`).

Every name below is imported on first use, so that a window opens without what it does not show yet.
"""

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from benchapp.actions.against_siblings import BesideSiblings as BesideSiblings
    from benchapp.actions.against_siblings import beside_siblings as beside_siblings
    from benchapp.actions.against_siblings import sibling_sentences as sibling_sentences
    from benchapp.actions.answers import record_answer as record_answer
    from benchapp.actions.answers import withdraw_answer as withdraw_answer
    from benchapp.actions.bench import Bench as Bench
    from benchapp.actions.changes import Changes as Changes
    from benchapp.actions.checking import FileReport as FileReport
    from benchapp.actions.checking import check_files as check_files
    from benchapp.actions.circuits import ConnectorPlan as ConnectorPlan
    from benchapp.actions.circuits import ExpectedReading as ExpectedReading
    from benchapp.actions.circuits import as_unit as as_unit
    from benchapp.actions.circuits import confirmed_repairs as confirmed_repairs
    from benchapp.actions.circuits import expected_readings as expected_readings
    from benchapp.actions.circuits import hidden_from_probes as hidden_from_probes
    from benchapp.actions.circuits import locate_fault as locate_fault
    from benchapp.actions.circuits import plan_probes as plan_probes
    from benchapp.actions.circuits import read_circuit as read_circuit
    from benchapp.actions.conditions import record_caution as record_caution
    from benchapp.actions.conditions import record_fact as record_fact
    from benchapp.actions.conditions import record_meter as record_meter
    from benchapp.actions.conditions import record_set_up as record_set_up
    from benchapp.actions.days import change_workshop as change_workshop
    from benchapp.actions.days import close_bench as close_bench
    from benchapp.actions.days import open_bench as open_bench
    from benchapp.actions.faults import record_event as record_event
    from benchapp.actions.faults import record_fault as record_fault
    from benchapp.actions.faults import record_hazard as record_hazard
    from benchapp.actions.faults import record_note as record_note
    from benchapp.actions.faults import record_opened as record_opened
    from benchapp.actions.faults import record_repair as record_repair
    from benchapp.actions.following import NothingToFollow as NothingToFollow
    from benchapp.actions.following import follow_readings as follow_readings
    from benchapp.actions.intake import shelf_marks as shelf_marks
    from benchapp.actions.intake import start_run as start_run
    from benchapp.actions.intake import take_in_lot as take_in_lot
    from benchapp.actions.judging import JudgedText as JudgedText
    from benchapp.actions.judging import judge_text as judge_text
    from benchapp.actions.outcome import destroy_plug as destroy_plug
    from benchapp.actions.outcome import open_supervised as open_supervised
    from benchapp.actions.outcome import set_disposition as set_disposition
    from benchapp.actions.pictures import page_pictures as page_pictures
    from benchapp.actions.pictures import tag_picture as tag_picture
    from benchapp.actions.pin_cards import export_pin_card as export_pin_card
    from benchapp.actions.pin_cards import export_pin_card_of_unit as export_pin_card_of_unit
    from benchapp.actions.printing import export_record_sheet as export_record_sheet
    from benchapp.actions.printing import export_record_sheets as export_record_sheets
    from benchapp.actions.printing import export_tags as export_tags
    from benchapp.actions.printing import preview_tag as preview_tag
    from benchapp.actions.problems import Cancelled as Cancelled
    from benchapp.actions.problems import ExportProblem as ExportProblem
    from benchapp.actions.problems import IntakeProblem as IntakeProblem
    from benchapp.actions.problems import Refused as Refused
    from benchapp.actions.rejudging import Rejudged as Rejudged
    from benchapp.actions.rejudging import Rejudging as Rejudging
    from benchapp.actions.rejudging import rejudge_workbook as rejudge_workbook
    from benchapp.actions.schemas import file_schema as file_schema
    from benchapp.actions.schemas import file_schemas as file_schemas
    from benchapp.actions.searching import Search as Search
    from benchapp.actions.searching import record_probe as record_probe
    from benchapp.actions.searching import search_fault as search_fault
    from benchapp.actions.verifying import verify_workbook as verify_workbook
    from benchapp.lots import Board as Board
    from benchapp.paper.content import Budget as Budget
    from benchapp.paper.content import BudgetRow as BudgetRow
    from benchapp.paper.content import Reason as Reason
    from benchapp.paper.content import RecordRow as RecordRow
    from benchapp.paper.content import RecordSheet as RecordSheet
    from benchapp.workbook.values import BenchOpening as BenchOpening
    from benchapp.workbook.values import Difference as Difference
    from benchapp.workbook.values import Lot as Lot
    from benchapp.workbook.values import MeterProof as MeterProof
    from benchapp.workbook.values import SiblingRow as SiblingRow
    from benchapp.workbook.values import StageRow as StageRow
    from benchapp.workbook.values import Unit as Unit

_HOMES = {
    "actions.against_siblings": ("BesideSiblings", "beside_siblings", "sibling_sentences"),
    "actions.answers": ("record_answer", "withdraw_answer"),
    "actions.bench": ("Bench",),
    "actions.changes": ("Changes",),
    "actions.checking": ("FileReport", "check_files"),
    "actions.circuits": (
        "ConnectorPlan",
        "ExpectedReading",
        "as_unit",
        "confirmed_repairs",
        "expected_readings",
        "hidden_from_probes",
        "locate_fault",
        "plan_probes",
        "read_circuit",
    ),
    "actions.conditions": ("record_caution", "record_fact", "record_meter", "record_set_up"),
    "actions.days": ("change_workshop", "close_bench", "open_bench"),
    "actions.faults": (
        "record_event",
        "record_fault",
        "record_hazard",
        "record_note",
        "record_opened",
        "record_repair",
    ),
    "actions.following": ("NothingToFollow", "follow_readings"),
    "actions.intake": ("shelf_marks", "start_run", "take_in_lot"),
    "actions.judging": ("JudgedText", "judge_text"),
    "actions.outcome": ("destroy_plug", "open_supervised", "set_disposition"),
    "actions.pictures": ("page_pictures", "tag_picture"),
    "actions.pin_cards": ("export_pin_card", "export_pin_card_of_unit"),
    "actions.printing": ("export_record_sheet", "export_record_sheets", "export_tags", "preview_tag"),
    "actions.problems": ("Cancelled", "ExportProblem", "IntakeProblem", "Refused"),
    "actions.rejudging": ("Rejudged", "Rejudging", "rejudge_workbook"),
    "actions.schemas": ("file_schema", "file_schemas"),
    "actions.searching": ("Search", "record_probe", "search_fault"),
    "actions.verifying": ("verify_workbook",),
    "lots": ("Board",),
    "paper.content": ("Budget", "BudgetRow", "Reason", "RecordRow", "RecordSheet"),
    "workbook.values": ("BenchOpening", "Difference", "Lot", "MeterProof", "SiblingRow", "StageRow", "Unit"),
}
_HOME_OF = {name: home for home, names in _HOMES.items() for name in names}

__all__ = sorted(_HOME_OF)


def __getattr__(name: str) -> Any:  # noqa: ANN401
    if name not in _HOME_OF:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    return getattr(import_module(f"benchapp.{_HOME_OF[name]}"), name)
