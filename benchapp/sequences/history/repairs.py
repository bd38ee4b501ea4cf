"""The actions that mend a fault, from the part's kind, its mode and where it sits.

The lists are data: the shipped one (resources/repairs) and a workshop's own, as the run pinned them. What an action
opens reaches the interlock with the repair, whether or not anybody ticks it: no list opens less than the part's place
asks for, and a workshop's own never less, nor with fewer cautions, than the shipped one.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from benchapp.errors import BenchError
from benchapp.sequences.history.retest import opened_by, pins_named
from benchapp.sequences.language.repairs import SHIPPED, BySupply, Fits, OpenAndClose, UsualRepairs, Work
from benchapp.sequences.language.vocabulary import FactValue, Opening, Role
from benchapp.sequences.planning.planned import Plan
from benchapp.wiring.model.mains_place import mains_place

_ORDER = (Opening.enclosure, Opening.cord, Opening.plug)
"""the order in which things are opened; they are closed the other way round"""


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


def repair_list(plan: Plan, facts: Mapping[str, FactValue], part: str, mode: str) -> RepairList:
    """What mending this part of this unit consists of; a part that the circuit does not know gets the plainest list.

    The lists are those that the run pinned.
    """
    shipped, own = _lists(plan)
    implied = opened_by(plan, part, ())

    def fitting(lists: Iterable[UsualRepairs]) -> Work | None:
        works = (work for one in lists for work in one.work)
        return next((one for one in works if _fits(one.fits, plan, facts, part, mode, implied)), None)

    usual, chosen = fitting([shipped]) or shipped.work[-1], fitting(own)
    works = (usual, chosen) if chosen is not None else (usual,)
    every = (shipped, *own)
    opens = tuple(one for one in _ORDER if one.value in implied or any(one in work.opens for work in works))
    said = {"part": part_words(plan, part), "place": _place(plan, part), "unit": plan.equipment.title}
    closing = [
        _closing(plan, what, one.opening[what]) for what in reversed(opens) for one in every if what in one.opening
    ]
    lines = (
        *(RepairAction(words=line) for one in every for line in _by_supply(one.first, plan)),
        *(
            RepairAction(words=one.opening[what].open, opens=what)
            for what in opens
            for one in every
            if what in one.opening
        ),
        *(RepairAction(words=line, work=True) for work in works for line in work.safety),
        *(RepairAction(words=line, work=True) for line in works[-1].do),
        *(RepairAction(words=line) for line in closing),
    )
    cautions = (
        *(caution for one in every for caution in _by_supply(one.cautions, plan)),
        *(caution for work in works for caution in work.cautions),
    )
    return RepairList(actions=tuple(_once(lines, said)), opens=opens, cautions=tuple(dict.fromkeys(cautions)))


def _closing(plan: Plan, what: Opening, words: OpenAndClose) -> str:
    """How it is closed; the plug is not, where its inspection follows and closes it: it would be opened twice."""
    follows = what is Opening.plug and any(step.kind == "work" and Role.plug in step.shows for step in plan.steps)
    return words.stays if follows and words.stays else words.close


def _lists(plan: Plan) -> tuple[UsualRepairs, tuple[UsualRepairs, ...]]:
    """The shipped list, and the workshop's own in the order in which they are looked at."""
    shipped = next((one for one in plan.repairs if one.repairs == SHIPPED), None)
    if shipped is None:
        raise BenchError("This run pinned no list of repairs. Begin a new run of the unit.")
    return shipped, tuple(one for one in plan.repairs if one.repairs != SHIPPED)


def _by_supply(lines: BySupply, plan: Plan) -> tuple[str, ...]:
    return lines.mains if plan.mains_fed else lines.no_mains


def _once(lines: Iterable[RepairAction], said: Mapping[str, str]) -> Iterator[RepairAction]:
    """Each line in this unit's words, and no line twice: it is ticked by its words."""
    known: set[str] = set()
    for line in lines:
        words = line.words.format(**said)
        if words not in known:
            known.add(words)
            yield RepairAction(words=words, opens=line.opens, work=line.work)


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
        (not fits.parts or (kind is not None and kind.name in fits.parts))
        and (not fits.pins or bool(pins_named(plan, part)))
        and (not fits.modes or mode in fits.modes)
        and (not fits.lies or mains_place(plan.circuit, part) in fits.lies)
        and (not fits.sits or any(one.value in implied for one in fits.sits))
        and all(facts.get(name) == value for name, value in fits.facts.items())
    )
