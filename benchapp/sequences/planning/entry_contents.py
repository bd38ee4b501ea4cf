"""What an entry carries, one class for each kind of entry; an answer's is in answer_content.py.

What a person says (an event, what was opened) is text here: the gate says what can be recorded. What the program works
out has its type.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from benchapp.quantities.dimensions import Kind
from benchapp.quantities.quantity import Bound
from benchapp.sequences.language.vocabulary import FactValue, ReadingSource, Supply
from benchapp.sequences.planning.content import Content


@dataclass(frozen=True, slots=True, kw_only=True)
class WithdrawalContent(Content):
    """`number` of the answer that is taken back."""

    number: int
    why: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class MeterContent(Content):
    """A meter taken in hand, with what the bench opening found of it; `lead_resistance` in ohm, None: not measured."""

    meter: str
    proved: str = ""
    """the time at which the bench opening proved it; empty: not proved"""
    overdue_accepted: bool = False
    lead_resistance: float | None = None
    nulled: bool = False

    @property
    def leads(self) -> float | None:
        """Resistance of its leads in ohm: 0 when nulled, None when nobody looked."""
        return 0.0 if self.lead_resistance is None and self.nulled else self.lead_resistance


@dataclass(frozen=True, slots=True, kw_only=True)
class CautionContent(Content):
    """A caution that was read and acknowledged."""

    caution: str


@dataclass(frozen=True, slots=True, kw_only=True)
class SetUpContent(Content):
    """What was confirmed of the set-up of the step at the entry's address, in its words."""

    items: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class FaultContent(Content):
    """A fault; the entry's address is the step that showed it."""

    part: str = ""
    mode: str = ""
    words: str = ""
    severity: str = "mend"
    old_hazard: str = ""
    """id of the hazard of old equipment that it is; empty for any other fault"""
    found_for: int = 0
    """the entry of the open fault of which this is what was found; 0 for a fault by itself"""


@dataclass(frozen=True, slots=True, kw_only=True)
class PartUsed:
    """A part that was used up, how many of it, what it says on it and what it cost."""

    part: str
    number: int = 0
    value: str = ""
    price: str = ""

    @property
    def words(self) -> str:
        """In a few words: "2 solder tag M4"."""
        return " ".join(str(said) for said in (self.number, self.part, self.value) if said)


@dataclass(frozen=True, slots=True, kw_only=True)
class RepairContent(Content):
    """What was done about a fault (`fault`: number of its entry; None: none of the record), and what was opened."""

    fault: int | None
    part: str
    done: str
    opened: tuple[str, ...] = ()
    parts_used: tuple[PartUsed, ...] = ()
    actions: tuple[str, ...] = ()
    """lines of the repair's list that were ticked"""
    mode: str = ""
    """how the part proved to be wrong, where the fault had it otherwise"""


@dataclass(frozen=True, slots=True, kw_only=True)
class OpenedContent(Content):
    """What was opened without a repair: cord, plug, enclosure."""

    opened: tuple[str, ...]
    why: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class EventContent(Content):
    """What befell the unit (`Event`)."""

    event: str
    note: str = ""
    with_it: str = ""
    """who stays beside a unit that was left and may be live"""


@dataclass(frozen=True, slots=True, kw_only=True)
class HazardContent(Content):
    """What sent a hand to the wall switch (`Hazard`)."""

    hazard: str
    note: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class FalseAlarmContent(Content):
    """`hazard`: number of the entry that was none; how the key came to be struck, and what was looked at since."""

    hazard: int
    reason: str
    looked: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class HazardClearedContent(Content):
    """Why a hazard of old equipment (its id, and the number of the entry that found it) is not in the unit."""

    hazard: str
    fault: int
    reason: str


@dataclass(frozen=True, slots=True, kw_only=True)
class SupervisorOpeningContent(Content):
    """Why the supervisor who made the entry, and tested nothing of the unit, opens limited supply."""

    reason: str


@dataclass(frozen=True, slots=True, kw_only=True)
class AcceptanceContent(Content):
    """What the supervisor who made the entry accepts of this unit (`Accepted`), and why."""

    what: str
    reason: str


@dataclass(frozen=True, slots=True, kw_only=True)
class DispositionContent(Content):
    """What is to become of the unit (`Disposition`).

    `takes_back`: number of the disposition that it takes back, by saying again what stood before that one.
    """

    disposition: str
    grade: str = ""
    price: str = ""
    note: str = ""
    takes_back: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class PlugDestroyedContent(Content):
    """The mains plug is cut off and destroyed."""

    note: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class PlugKeptContent(Content):
    """The entry that its plug was destroyed was wrong: why, in words."""

    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class FactContent(Content):
    """Facts of this unit, by name."""

    facts: Mapping[str, FactValue]


@dataclass(frozen=True, slots=True, kw_only=True)
class ProbedReading:
    """A reading beside the route, between terminals `a` and `b`; numbers in ohm or V.

    A live one has the supply and the mains voltage that it was taken at. `sent` is the line of a meter on a wire.
    """

    a: str
    b: str
    typed: str
    kind: Kind = Kind.resistance
    value: float | None
    """None over the range"""
    bound: Bound
    standard_uncertainty: float
    meter: str
    set_up: tuple[str, ...] = ()
    supply: Supply = Supply.none
    mains: float | None = None
    source: ReadingSource = ReadingSource.keys
    sent: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class NoteContent(Content):
    """A remark, or a reading beside the route in words and numbers."""

    words: str
    probed: ProbedReading | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class UnitPhotosContent(Content):
    """Photos of the unit that belong to no step, by the SHA-256 under which the workbook keeps them."""

    photos: tuple[str, ...]
    note: str = ""
    """what they show"""
