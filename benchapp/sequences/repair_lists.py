"""What has to be done to mend a fault? A list of actions from the part's kind, its mode and where it sits.

The lists are data (resources/repairs). What an action opens reaches the interlock with the repair, whether or not
anybody ticks it: the list never opens less than the part's place asks for.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cache
from typing import Annotated

from pydantic import AfterValidator, Field

from benchapp.files import FileModel, build_model, read_document, shipped_folder
from benchapp.sequences.entries import Opening
from benchapp.sequences.planned import FactValue, Plan
from benchapp.sequences.retest import opened_by, pins_named
from benchapp.wiring.circuit import PartKind
from benchapp.wiring.defects import Mode

WAYS_TO_FAIL = (
    *(mode.value for mode in Mode),
    "low resistance",
    "wrong value",
    "wrong rating",
    "wrong part",
    "damaged",
    "missing",
)
"""How a part can be wrong, in the trade's words: what a search can find, and what only eyes can."""
_PLACEHOLDERS = {"part": "", "place": "", "unit": ""}
_ORDER = (Opening.enclosure, Opening.cord, Opening.plug)
"""the order in which things are opened; they are closed the other way round"""


def _known_ways(modes: tuple[str, ...]) -> tuple[str, ...]:
    strange = [mode for mode in modes if mode not in WAYS_TO_FAIL]
    if strange:
        raise ValueError(f"“{strange[0]}” is no way to fail; there are {', '.join(WAYS_TO_FAIL)}")
    return modes


def _fillable(words: str) -> str:
    try:
        words.format(**_PLACEHOLDERS)
    except (KeyError, IndexError, ValueError):
        raise ValueError(f"“{words}”: braces may only hold {', '.join(_PLACEHOLDERS)}") from None
    return words


Words = Annotated[str, AfterValidator(_fillable)]


class Fits(FileModel):
    """Which faults an entry is for; what is left out does not matter. `pins` is a pair of pins of a connector."""

    parts: tuple[PartKind, ...] = ()
    modes: Annotated[tuple[str, ...], AfterValidator(_known_ways)] = ()
    sits: tuple[Opening, ...] = ()
    pins: bool = False
    facts: Mapping[str, FactValue] = Field(default_factory=dict)


class Work(FileModel):
    """What is done about such a fault, what it opens, and the cautions that go with it."""

    fits: Fits
    do: Annotated[tuple[Words, ...], Field(min_length=1)]
    opens: tuple[Opening, ...] = ()
    cautions: tuple[str, ...] = ()


class OpenAndClose(FileModel):
    """The words for opening something and for closing it again."""

    open: Words
    close: Words


class BySupply(FileModel):
    """Lines for equipment that takes mains, and for the rest."""

    mains: tuple[Words, ...]
    no_mains: tuple[Words, ...]


class UsualRepairs(FileModel):
    """A file of action lists: what always comes first, how things are opened and closed, the work itself."""

    repairs: str
    title: str
    source: str
    status: str
    first: BySupply
    opening: Mapping[Opening, OpenAndClose]
    cautions: BySupply
    work: Annotated[tuple[Work, ...], Field(min_length=1)]


@cache
def shipped_repairs() -> UsualRepairs:
    """The lists that come with the program."""
    return build_model(read_document(shipped_folder("resources") / "repairs" / "usual-repairs.yaml"), UsualRepairs)


@dataclass(frozen=True, slots=True, kw_only=True)
class RepairAction:
    """One line to carry out and tick; `opens` is what it opens, `work` whether it is the mending itself."""

    words: str
    opens: Opening | None = None
    work: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class RepairList:
    """The actions in order, everything that they open, and the ids of the cautions that go with them."""

    actions: tuple[RepairAction, ...]
    opens: tuple[Opening, ...]
    cautions: tuple[str, ...]


def repair_list(
    plan: Plan, facts: Mapping[str, FactValue], part: str, mode: str, lists: UsualRepairs | None = None
) -> RepairList:
    """What mending this part of this unit consists of; a part that the circuit does not know gets the plainest list."""
    lists = lists or shipped_repairs()
    implied = opened_by(plan, part, ())
    work = next((one for one in lists.work if _fits(one.fits, plan, facts, part, mode, implied)), lists.work[-1])
    opens = tuple(one for one in _ORDER if one in work.opens or one.value in implied)
    said = {"part": part_words(plan, part), "place": _place(plan, part), "unit": plan.equipment.title}
    first = lists.first.mains if plan.mains_fed else lists.first.no_mains
    always = lists.cautions.mains if plan.mains_fed else lists.cautions.no_mains
    actions = (
        *(RepairAction(words=line.format(**said)) for line in first),
        *(RepairAction(words=lists.opening[one].open.format(**said), opens=one) for one in opens),
        *(RepairAction(words=line.format(**said), work=True) for line in work.do),
        *(RepairAction(words=lists.opening[one].close.format(**said)) for one in reversed(opens)),
    )
    cautions = tuple(dict.fromkeys((*always, *work.cautions)))
    return RepairList(actions=actions, opens=opens, cautions=cautions)


def part_words(plan: Plan, part: str) -> str:
    """The part as a technician would say it; a pair of pins by both."""
    pins = pins_named(plan, part)
    if pins:
        return " and ".join(plan.circuit.say(pin) for pin in pins)
    return str(plan.circuit.part_names.get(part, part)) or "what is wrong"


def _place(plan: Plan, part: str) -> str:
    """The connector at which the part sits, in its own words; the unit where it sits at none."""
    ends = pins_named(plan, part) or tuple(
        end for branch in plan.circuit.branches if branch.part == part for end in (branch.a, branch.b)
    )
    homes = [plan.circuit.connectors[end.partition(".")[0]] for end in ends if _is_pin(plan, end)]
    return homes[0].title if homes else plan.equipment.title


def _is_pin(plan: Plan, node: str) -> bool:
    return node.partition(".")[0] in plan.circuit.connectors and node in plan.circuit.terminals


def _fits(fits: Fits, plan: Plan, facts: Mapping[str, FactValue], part: str, mode: str, implied: Iterable[str]) -> bool:
    kind = plan.circuit.parts.get(part)
    return (
        (not fits.parts or kind in fits.parts)
        and (not fits.pins or bool(pins_named(plan, part)))
        and (not fits.modes or mode in fits.modes)
        and (not fits.sits or any(one.value in implied for one in fits.sits))
        and all(facts.get(name) == value for name, value in fits.facts.items())
    )
