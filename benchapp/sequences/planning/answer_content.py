"""What an answer carries: what every answer has, and what every answer with a value has besides.

A kind of step adds what is its own in a class of its own, in its own file.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from math import inf
from typing import TypeGuard

from benchapp.judgement.meters.corrections import Waveform
from benchapp.judgement.meters.functions import Function
from benchapp.judgement.statements.band import DerivationStep
from benchapp.judgement.statements.statements import Judgement, Rule
from benchapp.judgement.uncertainty.uncertainty import Contribution, Uncertainty
from benchapp.quantities.dimensions import Kind
from benchapp.quantities.quantity import Bound
from benchapp.sequences.language.vocabulary import FactValue, ReadingSource, Supply
from benchapp.sequences.planning.content import Content
from benchapp.sequences.planning.entries import Entry
from benchapp.sequences.planning.entry_contents import FaultContent


@dataclass(frozen=True, slots=True, kw_only=True)
class AnswerContent(Content):
    """What was found at a step, of whatever kind, and what it is worth."""

    step: str
    """the kind of step"""
    step_digest: str = ""
    """of the step as it was asked"""
    supply: Supply = Supply.none
    energises: bool = False
    judgement: Judgement
    sentence: str = ""
    to_judge: bool = True
    """false where there was nothing to hold it against"""
    faults: tuple[FaultContent, ...] = ()
    facts: Mapping[str, FactValue] = field(default_factory=dict)
    """facts of the unit that the answer settles"""
    event: str = ""
    """what befell the unit by what was answered (`Event`); empty for nothing"""
    note: str = ""

    @property
    def words(self) -> str:
        """The answer itself in a few words, as paper carries it."""
        return self.step

    def at(self, name: str) -> str:
        """What was done at the step of that name, as a person would say it."""
        return f"{self.words} at {name}"

    @property
    def lines(self) -> int:
        """How many lines were confirmed or marked, one by one."""
        return 1

    @property
    def waited(self) -> float:
        """Seconds that the answer says were waited."""
        return 0.0

    @property
    def compared(self) -> str | None:
        """What the `when` of a later step is compared with; None where it can be compared with nothing."""
        return None


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadingContent(AnswerContent):
    """A value, how it was read and what it was held against; numbers in SI units.

    `value` is None over the range. What is None or empty of the rest does not apply, or was not known.
    """

    typed: str
    source: ReadingSource = ReadingSource.keys
    sent: str = ""
    """the line that the meter sent, or the row that its tester kept; empty where a person typed it"""
    why: str = ""
    """why it was read again, where the reading before had failed"""
    kept: str = ""
    """which of several readings is judged, where it is not the first"""
    repeats: tuple[str, ...] = ()
    value: float | None
    bound: Bound
    kind: Kind
    unit: str = ""
    flickers: bool = False
    rules_version: str

    meter: str = ""
    function: Function | None = None
    range: str = ""
    """as it was named with the reading"""
    range_shown: str = ""
    range_before: str = ""
    over_range_at: float | None = None
    lead_resistance: float | None = None
    of_leads: bool = False
    source_resistance: float | None = None
    frequency: float | None = None
    waveform: Waveform | None = None
    temperature: float | None = None
    test_voltage: float | None = None
    mains: float | None = None
    """the mains reading on which the band rests"""
    siblings: tuple[float, ...] = ()
    """what sound units of the lot drew through the same limiter (A), where that narrows the band"""
    meter_cautions: tuple[str, ...] = ()

    lower: float | None = None
    upper: float | None = None
    rule: Rule | None = None
    """None where it was held against no band"""
    safety: bool = False
    expected: float | None = None
    derivation: tuple[DerivationStep, ...] = ()
    cautions: tuple[str, ...] = ()
    guard_band: float | None = None
    conformance_probability: float | None = None
    capable: bool | None = None

    corrections: tuple[DerivationStep, ...] = ()
    standard_uncertainty: float | None = None
    expanded_uncertainty: float | None = None
    coverage: float | None = None
    """None where no budget is kept"""
    degrees_of_freedom: float = inf
    dominant_half_width: float | None = None
    others_standard_uncertainty: float | None = None
    budget: tuple[Contribution, ...] = ()

    @property
    def uncertainty(self) -> Uncertainty | None:
        """The uncertainty with its budget; None where none is kept."""
        if self.coverage is None or self.standard_uncertainty is None or self.expanded_uncertainty is None:
            return None
        return Uncertainty(
            standard=self.standard_uncertainty,
            degrees_of_freedom=self.degrees_of_freedom,
            coverage=self.coverage,
            expanded=self.expanded_uncertainty,
            budget=self.budget,
            dominant=self.dominant_half_width or 0.0,
            others=self.others_standard_uncertainty or 0.0,
        )


def is_answer(entry: Entry) -> TypeGuard[Entry[AnswerContent]]:
    """Whether the entry is an answer."""
    return isinstance(entry.content, AnswerContent)


def meter_of(content: AnswerContent) -> str:
    """The meter that took the reading; empty where none did."""
    return content.meter if isinstance(content, ReadingContent) else ""


def is_reading(entry: Entry) -> TypeGuard[Entry[ReadingContent]]:
    """Whether the entry is an answer with a value."""
    return isinstance(entry.content, ReadingContent)
