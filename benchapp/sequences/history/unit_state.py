"""The unit as its whole history leaves it: the values that the fold gives to answers, screens, paper and the gate."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from benchapp.sequences.language.vocabulary import FactValue, Supply
from benchapp.sequences.planning.state import Condition, Due, FaultState, StageState, StepState

if TYPE_CHECKING:
    from benchapp.sequences.history.step_evaluation import StepEvaluation
    from benchapp.sequences.planning.answer_content import AnswerContent, ReadingContent
    from benchapp.sequences.planning.entries import Entry
    from benchapp.sequences.planning.entry_contents import AcceptanceContent, MeterContent


@dataclass(frozen=True, slots=True, kw_only=True)
class AnsweringState:
    """What of the unit an answer at the time `at` is judged by."""

    at: str
    facts: Mapping[str, FactValue] = field(default_factory=dict)
    readings: Mapping[str, "Entry[ReadingContent]"] = field(default_factory=dict)
    """by address: the reading that stands, good or bad (never one withdrawn)"""
    meters: Mapping[str, "Entry[MeterContent]"] = field(default_factory=dict)
    """by meter id: the entry that last took it in hand"""
    set_up: tuple[str, ...] = ()
    """the set-up in force"""
    last_entry: int = 0
    evaluation: "StepEvaluation | None" = field(default=None, repr=False, compare=False)
    """how each step stands, which the gate asks its questions of; no part of the value"""


@dataclass(frozen=True, slots=True, kw_only=True)
class UnitState(AnsweringState):
    """The unit as its whole history leaves it at the time `at`."""

    steps: Mapping[str, StepState]
    stages: tuple[StageState, ...]
    due: Due
    faults: tuple[FaultState, ...] = ()
    energised: bool = False
    """a live or insulation step was answered and the way back has not been gone since"""
    on_mains: bool = False
    """something live was recorded and the plug was not seen out since"""
    interlock: Mapping[Supply, tuple[Condition, ...]] = field(default_factory=dict)
    """the conditions for limited and for full supply"""
    disposition: str = "quarantine"
    held: bool = False
    finished: bool = False
    """nothing is left to do: its disposition is settled"""
    complete: bool = False
    """every step that applies holds, no fault is open"""
    may_sell: str = ""
    """why the unit may not be offered for sale; empty when it may"""
    not_tested: tuple[str, ...] = ()
    """titles of what was not tested, for the tag"""
    history: Mapping[str, tuple["Entry[AnswerContent]", ...]] = field(default_factory=dict)
    """by address: every answer ever given there, withdrawn ones too"""
    withdrawn: frozenset[int] = frozenset()
    set_up_stage: str = ""
    """the stage whose set-up is in force"""
    openings: int = 0
    destroyed: bool = False
    """the mains plug is cut off and destroyed"""
    put_right: tuple[tuple[str, str, str], ...] = ()
    """what was said of the unit and put right later: words with both reasons, when and by whom"""
    acceptances: tuple["Entry[AcceptanceContent]", ...] = ()
    """what a supervisor accepted of the unit that is otherwise refused, and stands"""
