"""What a run is going to ask of one unit: stages and steps in order, as plain values made from the pinned files."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from benchapp.judgement.meters.functions import OF_LEAKAGE, Function
from benchapp.sequences.language.vocabulary import FactValue, Role, Supply
from benchapp.sequences.planning.people import ListedPerson

if TYPE_CHECKING:
    from benchapp.judgement.acceptance.acceptance import KnownQuantity
    from benchapp.judgement.limits.profiles import LimitProfile
    from benchapp.judgement.meters.records import MeterRecord
    from benchapp.judgement.statements.band import Band
    from benchapp.sequences.language.hazards import OldHazard
    from benchapp.sequences.language.models import Caution, Step
    from benchapp.sequences.language.repairs import UsualRepairs
    from benchapp.wiring.model.circuit import Circuit, Load, Toleranced
    from benchapp.wiring.model.circuit import State as CircuitState
    from benchapp.wiring.model.connectors import Connector
    from benchapp.wiring.model.equipment import Equipment
    from benchapp.wiring.probing.probes import Probe


@dataclass(frozen=True, slots=True, kw_only=True)
class Workshop:
    """What a workshop has settled for itself; kept in the workbook, handed to every plan."""

    region: str = "gb"
    mains: str = ""
    """title of one of the region's other mains, where the workshop is on that; empty: the region's usual one"""
    dead_tests_last_days: int = 30
    insulation_tester: bool = True
    mains_fresh_for: float = 600.0
    """seconds that a mains reading serves the output readings after it (common practice, no source)"""
    guard_factor: float = 1.0
    """r of the guard band w = r·U (ILAC-G8)"""
    largest_lamp: float = 150.0
    """watts of the largest lamp for the lamp limiter that this workshop has (own choice)"""
    currency: str = ""
    """what stands before a price that is typed as a bare number, such as "£"; empty: a price stands as it was typed"""
    dates: str = ""
    """how papers write dates, such as "day/month/year"; empty: ISO 8601"""
    people: tuple[ListedPerson, ...] = ()
    """who works here, and what each may do"""
    demo: bool = False
    """whether the workbook is a demo's: the shipped examples, equipment and meters that nobody has, are offered"""


@dataclass(frozen=True, slots=True, kw_only=True)
class PlannedStep:
    """One step of a run. `address` is "sequence.step", with "/probe" behind it for one probe of a probe step."""

    address: str
    stage: str
    kind: str
    model: "Step"
    say: str
    position: int = 0
    when: Mapping[str, tuple[FactValue, ...]] = field(default_factory=dict)
    """facts and earlier answers that the step waits for, its sequence's included"""
    waits_for: frozenset[str] = frozenset()
    """their names, and those of what the step itself asks about"""
    settles: str = ""
    """the fact of the unit that an answer settles"""
    supply: Supply = Supply.none
    probe: "Probe | None" = None
    terminals: tuple[str, ...] = ()
    function: "Function | None" = None
    """meter function of a measure or probe step"""
    unit: str = ""
    """what a bare number means there"""
    accept: str = ""
    """what its author accepts, as written; "from wiring" for a probe"""
    set_up: tuple[str, ...] = ()
    circuit_state: "CircuitState | None" = None
    at_fault: str = ""
    """the part that is at fault where the author leaves that to the wiring; empty where the wiring knows none"""
    loads: tuple["Load", ...] = ()
    """resistors across outputs while it is read"""
    band: "Band | None" = None
    """the band where it is the same for every unit: probes and dead readings from the wiring"""
    shows: frozenset[Role] = frozenset()
    """only the roles that the step qualifies for"""
    way_back: bool = False
    energises: bool = False
    """live, or an insulation test, which leaves charge behind"""
    inside: bool = False
    """a reading with the cover off, before hands go in"""
    by_hand: bool
    """hands or an ohmmeter on the unit: never before the way back"""
    lasts: float | None = None
    """seconds that must have passed, by the entries, before it is answered; None where time is no matter"""
    fresh_for: float = 0.0
    """seconds that a mains reading serves the readings after it"""
    opens: tuple[str, ...] = ()
    """what is opened to do it (cord, plug, enclosure): dead tests taken before it are stale"""
    moved_by: frozenset[str] = frozenset()
    """parts of the circuit whose repair makes this step's answer stale"""
    overdue_refused: bool = False
    """whether its author takes no reading of a meter that is overdue, knowingly accepted or not"""
    digest: str = ""
    """of everything that an answer here rests on; an answer given at a step with another digest is stale"""

    @property
    def read_on(self) -> "Function":
        """The meter function of a step at which a reading is taken; only those have one."""
        assert self.function is not None, f"no meter reads anything at {self.address}"
        return self.function


@dataclass(frozen=True, slots=True, kw_only=True)
class Stage:
    """One sequence of the route: a column of the board."""

    id: str
    title: str
    supply: Supply
    steps: tuple[PlannedStep, ...]
    cautions: tuple[str, ...] = ()
    needs_before: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanIndex:
    """What was asked of a plan's steps before, by role, by name of a fact or answer, by address."""

    by_role: dict[Role, tuple[PlannedStep, ...]] = field(default_factory=dict)
    waiting: dict[str, tuple[str, ...]] = field(default_factory=dict)
    beside: dict[str, tuple[str, ...]] = field(default_factory=dict)
    looking: dict[str, frozenset[str]] = field(default_factory=dict)
    """by address: which hazards the step looks for"""


@dataclass(frozen=True, slots=True, kw_only=True)
class OwnText:
    """One text or figure of a workshop's own: what it is, its id, its file's name, and a line that says it whole."""

    kind: str
    ident: str
    file: str
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Plan:
    """Everything a run of one route over one piece of equipment rests on; two units of a lot share it."""

    route: str
    title: str
    equipment_id: str
    equipment: "Equipment"
    circuit: "Circuit"
    connectors: Mapping[str, "Connector"]
    profile: "LimitProfile"
    meters: Mapping[str, "MeterRecord"]
    cautions: Mapping[str, "Caution"]
    repairs: tuple["UsualRepairs", ...]
    """lists of repairs as the run pinned them"""
    hazards: Mapping[str, "OldHazard"]
    """hazards of old equipment by their ids, as the run pinned them"""
    hazards_asked: tuple["OldHazard", ...]
    """those that are looked for on each unit"""
    hazards_presumed: tuple["OldHazard", ...]
    """those that are taken to be in each"""
    workshop: Workshop
    stages: tuple[Stage, ...]
    steps: tuple[PlannedStep, ...]
    """the steps of all stages, in order"""
    way_back: tuple[PlannedStep, ...]
    back: Stage | None = None
    """the sequence that they are of"""
    way_back_leaves_out: str = ""
    """what the way back does not do on this design, for a sentence; empty where it does it all"""
    mains_fed: bool = True
    facts: Mapping[str, FactValue] = field(default_factory=dict)
    """what the design says; the unit's own facts override it"""
    supply_parts: frozenset[str] = frozenset()
    """parts on the mains side: an open fault of one keeps live steps shut"""
    joined_to_mains: str = ""
    """a touchable terminal that hangs together with live or neutral; empty when none does"""
    not_tested: tuple[str, ...] = ()
    """what the route leaves untested"""
    by_address: Mapping[str, PlannedStep] = field(default_factory=dict)
    """ordinary and way-back steps"""
    own_texts: tuple[OwnText, ...] = ()
    """safety texts and figures that are the workshop's own"""
    looser: str = ""
    """in which its texts are looser than what this program ships, in a sentence: new work on them is shut"""
    asks_winding_temperature: bool = False
    """whether a step asks how warm the windings are; without one they are taken to be at room temperature"""

    live_bands: dict[tuple[str, "KnownQuantity | None"], "Band"] = field(
        default_factory=dict, repr=False, compare=False
    )
    """bands of live readings already worked out, by address and mains reading"""
    sources: dict[tuple[str, float], "Toleranced | None"] = field(default_factory=dict, repr=False, compare=False)
    """source resistances already worked out, by address and the meter's input impedance"""
    warm_bands: dict[tuple[str, float], "Band"] = field(default_factory=dict, repr=False, compare=False)
    """bands of dead readings already worked out, by address and winding temperature"""
    index: PlanIndex = field(default_factory=PlanIndex, init=False, repr=False, compare=False)

    def showing(self, role: Role) -> tuple[PlannedStep, ...]:
        """The steps that show the role, those of the way back last."""
        found = self.index.by_role.get(role)
        if found is None:
            found = tuple(step for step in (*self.steps, *self.way_back) if role in step.shows)
            self.index.by_role[role] = found
        return found

    def waiting_for(self, name: str) -> tuple[str, ...]:
        """Addresses of the steps that a fact or an earlier answer of that name may keep from this unit."""
        found = self.index.waiting.get(name)
        if found is None:
            found = tuple(step.address for step in self.by_address.values() if name in step.when)
            self.index.waiting[name] = found
        return found

    def judged_with(self, address: str) -> tuple[str, ...]:
        """Addresses of the steps whose standing may rest on that step's: its stage, and of the primary insulation's."""
        found = self.index.beside.get(address)
        if found is None:
            step = self.by_address.get(address)
            primary = step is not None and Role.primary in step.shows
            stages = {step.stage} if step is not None else set()
            stages |= {one.stage for one in self.showing(Role.insulation)} if primary else set()
            found = tuple(one.address for one in self.by_address.values() if one.stage in stages)
            self.index.beside[address] = found
        return found

    def step(self, address: str) -> PlannedStep:
        """The step with that address; raises KeyError."""
        return self.by_address[address]

    def cannot_read(self, step: PlannedStep) -> str:
        """Why no current of leakage is read here: no meter of the workshop has it, or the region states no limit."""
        if step.function not in OF_LEAKAGE:
            return ""
        if not any(step.function in meter.functions for meter in self.meters.values()):
            return f"this workshop has no meter for {step.function}"
        limits = {
            Function.touch_current: self.profile.touch_current,
            Function.protective_conductor_current: self.profile.protective_conductor_current,
        }
        return "" if limits[step.function] is not None else f"the limits here state no {step.function}"

    def stage(self, stage_id: str) -> Stage:
        """The stage with that id; raises KeyError."""
        for stage in self.stages:
            if stage.id == stage_id:
                return stage
        if self.back is not None and self.back.id == stage_id:
            return self.back
        raise KeyError(stage_id)
