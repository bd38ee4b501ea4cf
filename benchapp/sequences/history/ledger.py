"""What has happened to a unit, as far as the rules ask for it; `bookkeeping` keeps it, entry by entry."""

from collections.abc import Iterable
from dataclasses import dataclass, field
from itertools import takewhile

from benchapp.judgement.meters.functions import OL_NEEDS_LEADS
from benchapp.judgement.statements.statements import completes_step
from benchapp.quantities.quantity import Bound
from benchapp.sequences.language.vocabulary import FactValue
from benchapp.sequences.planning.answer_content import AnswerContent, ReadingContent, is_reading
from benchapp.sequences.planning.entries import Entry, EntryKind
from benchapp.sequences.planning.entry_contents import (
    AcceptanceContent,
    CautionContent,
    DispositionContent,
    MeterContent,
    PlugKeptContent,
    SupervisorOpeningContent,
)
from benchapp.sequences.planning.fact_rules import stricter_facts
from benchapp.sequences.planning.planned import Plan

_ANSWER = EntryKind.answer
WORKED = frozenset({_ANSWER, EntryKind.set_up, EntryKind.repair, EntryKind.opened, EntryKind.event, EntryKind.hazard})
"""Entries by which something was done to the unit; what is only said of it starts no wait anew."""


@dataclass(slots=True, kw_only=True)
class Fault:
    """A fault on its way through the history."""

    entry: int
    part: str
    mode: str
    words: str
    address: str = ""
    severity: str = "mend"
    by_answer: bool = False
    hazard: bool = False
    lasting: bool = False
    """seen with mains on: neither a second look nor a withdrawal makes it unseen, only a repair"""
    repair: int | None = None
    false_alarm: int | None = None
    """the entry that says that a hazard was none"""
    old_hazard: str = ""
    """id of the hazard of old equipment that it is"""
    cleared: int | None = None
    """the entry by which a supervisor says that this hazard is not in the unit"""


@dataclass(slots=True, kw_only=True)
class Stale:
    """Since which entry an address is stale, and why in words."""

    number: int
    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Setting:
    """A fact of the unit as an entry said it, and who did."""

    number: int
    value: FactValue
    by: str


def is_open_reading(content: AnswerContent) -> bool:
    """Whether the answer says "over the range" where a broken lead would say the same."""
    if not isinstance(content, ReadingContent):
        return False
    return content.bound is Bound.above and content.function in OL_NEEDS_LEADS


@dataclass(slots=True, kw_only=True)
class Ledger:
    """Numbers are those of entries; 0 means never."""

    answers: dict[str, list[Entry[AnswerContent]]] = field(default_factory=dict)
    by_number: dict[int, Entry] = field(default_factory=dict)
    withdrawn: set[int] = field(default_factory=set)
    readings: dict[str, Entry[ReadingContent]] = field(default_factory=dict)
    """by address: the last answer there, where it holds a value and was not withdrawn"""
    open_readings: set[str] = field(default_factory=set)
    """addresses whose last answer says "over the range" where a broken lead would say the same, withdrawn or not"""
    outdated: set[int] = field(default_factory=set)
    """answers given at a step that has changed since: their good is gone, their danger stays"""
    stale: dict[str, Stale] = field(default_factory=dict)
    energised: int = 0
    energised_live: int = 0
    charged: int = 0
    """last insulation reading: its joined pins and its charge never meet a plug in a socket"""
    read_high: int = 0
    """last voltage on the way back that was not low, withdrawn or not"""
    disturbed: int = 0
    """last repair, opening, event or hazard"""
    opened_inside: int = 0
    """last time that the enclosure was opened to look"""
    damp: int = 0
    hazard: int = 0
    """last hazard, or the repair that followed it"""
    overdrawn: int = 0
    """last time that it drew too much, smoked, smelt or tripped something under power, withdrawn or not"""
    cause_found: int = 0
    """last repair of a part of its circuit"""
    openings: int = 0
    supervised: Entry[SupervisorOpeningContent] | None = None
    """the last opening of limited supply by a supervisor"""
    acceptances: dict[str, Entry[AcceptanceContent]] = field(default_factory=dict)
    """by what a supervisor accepts: the last entry that says so"""
    destroyed: int = 0
    kept: list[Entry[PlugKeptContent]] = field(default_factory=list)
    """entries by which a plug that was said to be destroyed is on after all"""
    dispositions: list[Entry[DispositionContent]] = field(default_factory=list)
    last: Entry | None = None
    meters: dict[str, Entry[MeterContent]] = field(default_factory=dict)
    cautions: dict[tuple[str, str], Entry[CautionContent]] = field(default_factory=dict)
    """by caution and person: when they read it last"""
    set_up: tuple[str, ...] = ()
    set_up_stage: str = ""
    settings: dict[str, list[Setting]] = field(default_factory=dict)
    faults: list[Fault] = field(default_factory=list)
    touched: set[str] = field(default_factory=set)
    """addresses that may stand otherwise than before; whoever keeps how steps stand looks, and empties it"""
    stale_before: dict[int, dict[str, Stale]] = field(default_factory=dict)
    """by the entry of a hazard: what was stale when it was noticed"""
    known_facts: dict[str, FactValue] | None = None
    """what `facts` found last; None once something else was said"""

    def facts(self, plan: Plan) -> dict[str, FactValue]:
        """The design's facts with this unit's own over them, where these ask for no less care."""
        if self.known_facts is None:
            self.known_facts = self._stricter_facts(plan)
        return self.known_facts

    def facts_answered_with(self, plan: Plan, address: str) -> dict[str, FactValue]:
        """The same as they were when the last answer there was given, but for what was taken back since."""
        latest = self.latest(address)
        return self.facts(plan) if latest is None else self._stricter_facts(plan, until=latest.number)

    def _stricter_facts(self, plan: Plan, until: int | None = None) -> dict[str, FactValue]:
        said_then = {
            name: [one for one in said if until is None or one.number <= until] for name, said in self.settings.items()
        }
        own = {name: said[-1].value for name, said in said_then.items() if said}
        agreed = frozenset(name for name in own if self._is_agreed(name))
        return stricter_facts(plan.facts, own, agreed=agreed, plug_gone=bool(self.destroyed))

    def _is_agreed(self, name: str) -> bool:
        """Whether two people have said what was said last."""
        said = self.settings[name]
        alike = takewhile(lambda one: one.value == said[-1].value, reversed(said))
        return len({one.by for one in alike}) > 1

    @property
    def disposition(self) -> Entry[DispositionContent] | None:
        """What is to become of the unit, as it was said last."""
        return self.dispositions[-1] if self.dispositions else None

    def note_reading(self, entry: Entry[AnswerContent]) -> None:
        """Keep what the last answer at its step has read."""
        self.readings.pop(entry.address, None)
        self.open_readings.discard(entry.address)
        if is_reading(entry):
            self.readings[entry.address] = entry
        if is_open_reading(entry.content):
            self.open_readings.add(entry.address)

    def good(self, entry: Entry[AnswerContent]) -> bool:
        """Whether the answer passed and still counts."""
        gone = entry.number in self.withdrawn or entry.number in self.outdated
        return not gone and completes_step(entry.content.judgement)

    def latest(self, address: str) -> Entry[AnswerContent] | None:
        """The last answer given there, withdrawn or not."""
        given = self.answers.get(address)
        return given[-1] if given else None

    def worked_before(self, address: str) -> Entry | None:
        """The last entry by which something was done to the unit, answers at that address apart; else its first."""
        latest_first = reversed(self.by_number.values())
        done = (e for e in latest_first if e.kind in WORKED and (e.kind, e.address) != (_ANSWER, address))
        return next(done, self.by_number.get(1))

    def is_stale(self, address: str, number: int) -> bool:
        """Whether something since that entry has made an answer there stale."""
        mark = self.stale.get(address)
        return mark is not None and mark.number > number

    def take_back_hazard(self, number: int) -> None:
        """What only that hazard made stale stands as it did; what has become stale since stays so."""
        before = self.stale_before.pop(number)
        for marks in (self.stale, *self.stale_before.values()):
            for address in [address for address, mark in marks.items() if mark.number == number]:
                del marks[address]
                marks.update({address: before[address]} if address in before else {})
                self.touched.add(address)

    def mark_stale(self, addresses: Iterable[str], number: int, why: str) -> None:
        """Make all answers there up to now stale."""
        for address in addresses:
            self.stale[address] = Stale(number=number, why=why)
            self.touched.add(address)
