"""From checked files to the plan of a run: stages, steps, probes and bands from the wiring, roles that qualify."""

from collections.abc import Iterator, Mapping
from dataclasses import replace
from functools import lru_cache
from types import MappingProxyType
from typing import TYPE_CHECKING, TypeVar

from benchapp.errors import BenchError
from benchapp.judgement.meters.functions import BARE_UNITS, OF_THE_MAINS, PROBED_VOLTAGES, Function
from benchapp.quantities.entry import seconds_of
from benchapp.sequences.language.models import SequenceFile, Step, id_of
from benchapp.sequences.language.vocabulary import FactValue, Opening, Role, Supply
from benchapp.sequences.planning.applying import applies, same
from benchapp.sequences.planning.catalogue import Catalogue
from benchapp.sequences.planning.facts import WINDING_TEMPERATURE
from benchapp.sequences.planning.hazards import hazards_asked, hazards_presumed
from benchapp.sequences.planning.live_voltage import HANDS_OFF, is_live_voltage, shrouded_set_up
from benchapp.sequences.planning.own_texts import own_texts
from benchapp.sequences.planning.paths import FROM_WIRING
from benchapp.sequences.planning.place_words import in_words_of
from benchapp.sequences.planning.planned import Plan, PlannedStep, Stage, Workshop
from benchapp.sequences.planning.planned_kind import PlannedKind, SingleStep
from benchapp.sequences.planning.role_eligibility import why_not
from benchapp.sequences.planning.step_digest import Grounds, digest_of, grounds_of
from benchapp.sequences.planning.terminals import TerminalProblem, circuit_state, loads_of
from benchapp.sequences.planning.whole_way_back import left_out
from benchapp.wiring.assembly.lead import LEAD_OFF
from benchapp.wiring.checks.compile import compile_circuit
from benchapp.wiring.expected.dead import expected_resistance
from benchapp.wiring.expected.influence import parts_behind
from benchapp.wiring.kinds.fuse import FusePart
from benchapp.wiring.model.circuit import Circuit
from benchapp.wiring.model.groups import groups_of
from benchapp.wiring.model.mains_on_metal import on_the_mains
from benchapp.wiring.model.remembered import remembered
from benchapp.words import say

if TYPE_CHECKING:
    from benchapp.judgement.limits.profiles import LimitProfile
    from benchapp.judgement.statements.band import Band
    from benchapp.sequences.language.hazards import OldHazard
    from benchapp.wiring.model.circuit import State as CircuitState
    from benchapp.wiring.model.equipment import Equipment

PAIR = 2
NOTHING_MORE: Mapping[str, FactValue] = MappingProxyType({})


class SequenceProblem(BenchError):
    """A route, its sequences and an equipment that do not fit together."""


def make_plan(
    catalogue: Catalogue, route_id: str, equipment_id: str, workshop: Workshop, *, pinned: bool = False
) -> Plan:
    """The plan of a route over one piece of equipment; raises SequenceProblem when they do not fit.

    What a run has `pinned` was checked when it began, and is not refused by what a later program checks besides.
    """
    return _made(catalogue, route_id, equipment_id, workshop, pinned)


@lru_cache(maxsize=32)
def _made(catalogue: Catalogue, route_id: str, equipment_id: str, workshop: Workshop, pinned: bool) -> Plan:
    route = _found(catalogue.routes, route_id, "route")
    equipment = _found(catalogue.equipment, equipment_id, "equipment")
    profile = _found(catalogue.limits, workshop.region, "limits profile").supplied_by(workshop.mains)
    circuit = compile_circuit(equipment, catalogue.connectors, accepted=pinned)
    facts = facts_of(equipment, profile)
    asked = hazards_asked(equipment, facts, catalogue.hazards)
    maker = _Maker(circuit, facts, workshop, profile, grounds_of(equipment, profile), asked)
    stages = [maker.stage(_found(catalogue.sequences, name, "sequence")) for name in route.sequences]
    back = (
        maker.stage(_found(catalogue.sequences, route.way_back, "sequence"), way_back=True) if route.way_back else None
    )
    steps = tuple(step for stage in stages for step in stage.steps)
    way_back = back.steps if back else ()
    return Plan(
        route=route.route,
        title=route.title,
        equipment_id=equipment_id,
        equipment=equipment,
        circuit=circuit,
        connectors={name: catalogue.connectors[kind] for name, kind in equipment.connectors.items()},
        profile=profile,
        meters=catalogue.meters,
        cautions=catalogue.cautions,
        repairs=tuple(catalogue.repairs.values()),
        hazards=catalogue.hazards,
        hazards_asked=asked,
        hazards_presumed=hazards_presumed(equipment, facts, catalogue.hazards),
        workshop=workshop,
        stages=tuple(stages),
        steps=steps,
        way_back=way_back,
        back=back,
        way_back_leaves_out=left_out(circuit, way_back),
        mains_fed=equipment.supply is not None,
        facts=facts,
        supply_parts=_supply_parts(circuit),
        joined_to_mains=_joined_to_mains(circuit),
        not_tested=route.not_tested,
        by_address={step.address: step for step in (*steps, *way_back)},
        own_texts=tuple(one for one in own_texts(catalogue) if one.kind != "limits" or one.ident == profile.limits),
        asks_winding_temperature=any(step.settles == WINDING_TEMPERATURE for step in steps),
    )


Thing = TypeVar("Thing")


def _found(things: Mapping[str, Thing], name: str, what: str) -> Thing:
    if name in things:
        return things[name]
    raise SequenceProblem(
        say(
            "There is no {what} “{name}”; there are {listed}.",
            what=what,
            name=name,
            listed=", ".join(sorted(things)) or "none",
        )
    )


def facts_of(equipment: "Equipment", profile: "LimitProfile") -> dict[str, FactValue]:
    """What is known of every unit of the design; whether its plug holds a fuse is a matter of the region."""
    facts: dict[str, FactValue] = dict(equipment.facts())
    facts["design"] = equipment.equipment
    facts["plug fuse"] = profile.fuses is not None and equipment.plug != "none"
    rating = next((p.rating for p in equipment.circuit if isinstance(p, FusePart) and p.place == "plug"), None)
    if rating is not None:
        facts["plug fuse rating"] = rating
    return facts


class _Maker:
    """Makes the steps of one plan, counting their positions."""

    def __init__(
        self,
        circuit: Circuit,
        facts: Mapping[str, FactValue],
        workshop: Workshop,
        profile: "LimitProfile",
        grounds: Grounds,
        asked: tuple["OldHazard", ...],
    ) -> None:
        self.circuit = circuit
        self.profile = profile
        self.facts = facts
        self.workshop = workshop
        self.grounds = grounds
        self.asked = asked
        self.position = 0

    def stage(self, sequence: SequenceFile, *, way_back: bool = False) -> Stage:
        steps = tuple(step for model in sequence.steps for step in self._steps(sequence, model, way_back=way_back))
        return Stage(
            id=sequence.sequence,
            title=sequence.title,
            supply=sequence.supply,
            steps=steps,
            cautions=sequence.cautions,
            needs_before=sequence.needs_before,
        )

    def _steps(self, sequence: SequenceFile, written: Step, *, way_back: bool) -> Iterator[PlannedStep]:
        kind = PlannedKind.of(written)
        model = kind.for_hazards(written, self.asked)
        if model is None:
            return
        shows = frozenset(role for role in model.shows if not why_not(sequence, model, role))
        model = in_words_of(kind.at_place(model, self.circuit, self.profile), self.profile)
        try:
            for single in kind.plan(self.circuit, model):
                yield self._step(sequence, model, single, shows, way_back=way_back)
                self.position += 1
        except TerminalProblem:
            # A step that this design has no use for may name terminals that it does not have.
            if applies(_merged(sequence, model), self.facts)[0] is not False:
                raise

    def _step(
        self, sequence: SequenceFile, model: Step, single: SingleStep, shows: frozenset[Role], *, way_back: bool
    ) -> PlannedStep:
        kind, function, circuit = PlannedKind.of(model), single.function, single.circuit
        set_up = (LEAD_OFF, *model.set_up) if single.off and LEAD_OFF not in model.set_up else model.set_up
        state = circuit_state(circuit, set_up)
        supply = sequence.supply if way_back else self._supply_of(sequence, single)
        live = supply is not Supply.none
        when = _merged(sequence, model, single.when)
        loads = loads_of(circuit, model.set_up)
        shrouds = shrouded_set_up(circuit, single, state, loads, self.profile) if live else ()
        step = PlannedStep(
            address=f"{sequence.sequence}.{id_of(model)}{single.id and '/' + single.id}",
            stage=sequence.sequence,
            kind=kind.name,
            model=model,
            say=" ".join(filter(None, (model.say, single.say, HANDS_OFF if shrouds else ""))),
            position=self.position,
            when=when,
            waits_for=kind.waits_for(model) | when.keys(),
            settles=kind.settles(model),
            supply=supply,
            probe=single.probe,
            terminals=single.terminals,
            at_fault=single.at_fault,
            function=function,
            unit=BARE_UNITS[function] if function else "",
            accept=single.accept,
            set_up=(*set_up, *shrouds),
            circuit_state=state,
            loads=loads,
            band=single.band or self._dead_band(single, state, live=live),
            shows=shows,
            way_back=way_back,
            energises=not way_back and (live or function is Function.insulation),
            inside=single.inside and way_back,
            by_hand=kind.by_hand or function is not None or bool(model.opens),
            lasts=single.lasts,
            opens=tuple(dict.fromkeys((*model.opens, *((Opening.cord.value,) if LEAD_OFF in set_up else ())))),
            fresh_for=self._fresh_for(single, shows),
            moved_by=frozenset()
            if way_back or single.inside
            else _moved_by(circuit, function, single.terminals, state, live=live),
            overdue_refused=bool(function) and sequence.overdue_meters == "refused",
        )
        return replace(step, digest=digest_of(step, self.grounds))

    def _supply_of(self, sequence: SequenceFile, single: SingleStep) -> Supply:
        """The supply that the sequence states; what only mains can give is read on full mains, whatever it states.

        So is every AC voltage, and DC above the extra-low limit, whatever equipment it is read on.
        """
        fed, low = self.circuit.supply is not None, float(self.profile.voltage_low.exact)
        volts = is_live_voltage(single.function, single.accept, mains_fed=fed, extra_low=low)
        needs_mains = single.function in OF_THE_MAINS or volts
        return Supply.full if needs_mains and sequence.supply is Supply.none else sequence.supply

    def _dead_band(self, single: SingleStep, state: "CircuitState", *, live: bool) -> "Band | None":
        """A dead reading from the wiring is the same for every unit: its band is worked out once."""
        dead = not live and single.function not in PROBED_VOLTAGES
        if not dead or single.accept != FROM_WIRING or len(single.terminals) < PAIR:
            return None
        return _band_of_every_unit(self.circuit, *single.terminals, state=state)

    def _fresh_for(self, single: SingleStep, shows: frozenset[Role]) -> float:
        if Role.mains not in shows:
            return 0.0
        own = seconds_of(single.fresh_for) if single.fresh_for else self.workshop.mains_fresh_for
        return min(own, self.workshop.mains_fresh_for)


@remembered
def _band_of_every_unit(circuit: Circuit, a: str, b: str, *, state: "CircuitState") -> "Band":
    return expected_resistance(circuit, a, b, state=state)


def _moved_by(
    circuit: Circuit, function: Function | None, terminals: tuple[str, ...], state: "CircuitState", *, live: bool
) -> frozenset[str]:
    """Parts whose repair makes the answer stale: those behind its terminals; all, where it has none of its own."""
    if not function:
        return frozenset()
    if len(terminals) < PAIR:
        return frozenset(circuit.parts) if live else frozenset()
    return parts_behind(circuit, terminals[0], terminals[1], live=live, state=state)


def _merged(
    sequence: SequenceFile, model: Step, of_units: Mapping[str, FactValue] = NOTHING_MORE
) -> dict[str, tuple[FactValue, ...]]:
    """What the whole sequence fits, what the step itself waits for, and of which units its reading is asked alone."""
    merged: dict[str, tuple[FactValue, ...]] = dict(sequence.fits)
    for wants in (model.when, {name: (value,) for name, value in of_units.items()}):
        for name, wanted in wants.items():
            before = merged.get(name, wanted)
            merged[name] = tuple(one for one in wanted if any(same(one, other) for other in before))
    return merged


def _joined_to_mains(circuit: Circuit) -> str:
    """A terminal that can be touched and hangs together with live or neutral, in spoken words; empty when none does."""
    joined = on_the_mains(circuit)
    return circuit.say(joined) if joined else ""


def _supply_parts(circuit: Circuit) -> frozenset[str]:
    """Parts on the mains side: joined to live or neutral without a transformer between, barriers there, every earth."""
    if circuit.supply is None:
        return frozenset(circuit.parts)
    group = groups_of(circuit)
    mains = {group[circuit.supply.live], group[circuit.supply.neutral]}
    parts = {branch.part for branch in circuit.branches if group[branch.a] in mains or branch.kind.protects}
    for barrier in circuit.barriers:
        if mains & {group[node] for node in barrier.side_a | barrier.side_b}:
            parts.add(barrier.part)
    return frozenset(parts)
