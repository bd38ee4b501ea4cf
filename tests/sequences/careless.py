"""Careless hands: every way to do wrong to a unit, with the oracle looking on. Shared by the tests of the interlock."""

import math
from collections.abc import Callable, Iterator
from functools import cache
from typing import Any

from benchapp.quantities.entry import seconds_of
from benchapp.sequences.answering.tester_settings import set_up_of
from benchapp.sequences.language.vocabulary import StepKind
from benchapp.sequences.planning.catalogue import catalogue_from_texts
from benchapp.sequences.planning.entries import AskAnswer, Entry, EntryKind, InspectAnswer, ReadingAnswer, StepAnswer
from benchapp.sequences.planning.plan import make_plan
from benchapp.sequences.planning.planned import Plan, PlannedStep, Workshop
from tests.sequences.bench import METERS, SETTLED, START, Refused, Unit, catalogue, plan_of
from tests.sequences.oracle import OUTPUT_SIDE, SUPPLY_SIDE, Oracle

EDITS = {
    "as shipped": (),
    "no visual role": (("visual-inspection", "    shows: [visual]\n", ""),),
    "no plug role": (("plug-rewire", "    shows: [plug]\n", ""),),
    "no polarity role": (("continuity", "[polarity]", "[]"), ("continuity", ", polarity]", "]")),
    "no earth role": (("continuity", "    shows: [earth continuity]\n", ""),),
    "no insulation role": (("insulation", "    shows: [insulation]\n", ""),),
    "no limited power role": (("first-power", "    shows: [limited power]\n", ""),),
    "no leads role": (
        ("continuity", "    shows: [leads proved]\n", ""),
        ("insulation", "    shows: [leads proved]\n", ""),
    ),
    "no order": tuple(
        (name, "needs before", "# needs before") for name in ("insulation", "first-power", "live-voltage")
    ),
    "no cautions": tuple((name, "cautions", "# cautions") for name in ("first-power", "live-voltage", "insulation")),
    "any earth will do": (("continuity", "accept: limit earth-continuity", "accept: at most 5 kohm"),),
    "any set-up will do": (("insulation", "    set up: [switch on, fuse in, L and N joined]\n", ""),),
    "full mains at once": (("first-power", "supply: limited", "supply: full"),),
    "limited for ever": (("live-voltage", "supply: full", "supply: limited"),),
    "live called dead": (("live-voltage", "supply: full", "supply: none"),),
    "no proof that it is low": (("make-safe", "    shows: [voltage low]\n", ""),),
    "no unplugging": (("make-safe", "    shows: [plug out]\n", ""),),
    "no way back": (("routes/mains-unit", "way back: make-safe\n", ""),),
    "earth for nobody": (
        ("continuity", "when: {class: I}\n    at: [supply.E, case]", "when: {class: III}\n    at: [supply.E, case]"),
    ),
    "a wait for the charge": (
        ("make-safe", "  - work: discharge\n", "  - wait: discharge\n    time: 30 s\n"),
        ("make-safe", "    do:\n      - Insulation tester or leads off, joined pins apart.\n", ""),
        ("make-safe", "      - Half a minute waited, or the output bridged by a resistor.\n", ""),
    ),
    "a wait before signs": (
        ("first-power", "  - ask: signs\n", "  - wait: rest\n    time: 2 min\n    say: Wait.\n  - ask: signs\n"),
    ),
    "a thinner cord": (("resources/equipment/tb-mu1", "area: 0.75 mm²", "area: 0.5 mm²"),),
    "a lower insulation limit": (("resources/limits/gb", "    I:\n      value: 1.0\n", "    I:\n      value: 0.01\n"),),
}


@cache
def edited(name: str, *, tester: bool = True) -> Plan:
    """The plan of the shipped files after an edit, made without asking whether they still fit each other."""
    texts = dict(catalogue().texts)
    for file, old, new in EDITS[name]:
        path = f"{file}.yaml" if file.startswith("resources/") else f"sequences/{file}.yaml"
        assert old in texts[path], (name, old)
        texts[path] = texts[path].replace(old, new)
    return make_plan(catalogue_from_texts(texts), "mains-unit", "tb-mu1", Workshop(insulation_tester=tester))


@cache
def beginnings() -> tuple[tuple[Entry, ...], ...]:
    """Histories to begin from, so that the deep states are reached often."""
    found = [()]
    for address in ("continuity.leads-after", "first-power.plug-in", "first-power.current", "live-voltage.mains"):
        unit = Unit(plan_of())
        unit.go_to(address)
        found.append(tuple(unit.entries))
    unit = Unit(plan_of())
    unit.finish()
    return (*found, tuple(unit.entries))


ADDRESSES = tuple(plan_of().by_address)
LIVE = tuple(step.address for step in plan_of().steps if step.supply.value != "none")
PARTS = (*sorted(SUPPLY_SIDE | OUTPUT_SIDE), "cord", "plug", "case", "thingummy")
OPENED: tuple[tuple[str, ...], ...] = ((), ("cord",), ("plug",), ("enclosure",), ("plug", "enclosure"))
FACTS = (
    {"class": "I"},
    {"class": "II"},
    {"class": "unknown"},
    {"live chassis": "yes"},
    {"cord cores": "2"},
    {"cord cores": "3"},
    {"plug": "moulded"},
    {"plug": "rewirable"},
    {"bare metal": "no"},
    {"bare metal": "yes"},
    {"voltage selector": "yes"},
    {"internal fuse": "yes"},
    {"surge suppressor": "yes"},
    {"heating": "yes"},
    {"plug fuse": "no"},
    {"mains fed": "no"},
    {"cord length": "20 m", "cord area": "0.5 mm²"},
    {"power": "3 kW"},
    {"live chasis": "yes"},
    {"cord area": math.nan},
    {"cord length": -1.0},
    {"plug fuse rating": 1e9},
)
IMPOSSIBLE = {
    "live chasis": ("yes",),
    "cord area": (math.nan,),
    "cord length": (-1.0,),
    "plug fuse rating": (1e9,),
    "surge suppressor": ("yes",),
    "heating": ("yes",),
    "power": ("3 kW",),
}
PROBE = {"a": "outlet.1", "b": "outlet.2", "typed": "1.3", "value": 1.3, "bound": "exact", "meter": "tb-m1"}
HAPPENINGS: tuple[tuple[EntryKind, str, dict[str, Any]], ...] = (
    *((EntryKind.opened, "", {"opened": list(opened), "why": "to look"}) for opened in OPENED[1:]),
    *((EntryKind.event, "", {"event": event}) for event in ("fall", "damp", "wet cleaning")),
    *((EntryKind.hazard, "", {"hazard": hazard}) for hazard in ("smoke", "smell", "hum", "heat")),
    *(
        (EntryKind.fault, address, {"part": part, "mode": "", "words": "bad", "grave": grave})
        for part in PARTS
        for grave in ("mend", "do not use")
        for address in ("", "continuity.earth", "first-power.current")
    ),
    *((EntryKind.fact, "", {"facts": facts}) for facts in FACTS),
    *(
        (EntryKind.disposition, "", {"disposition": word})
        for word in ("quarantine", "hold", "for sale", "scrap", "keep", "spares or repair")
    ),
    (EntryKind.supervisor_opening, "", {"reason": "known design"}),
    (EntryKind.note, "", {"words": "Probed.", "probed": dict(PROBE)}),
    (EntryKind.note, "", {"words": "Probed live.", "probed": {**PROBE, "supply": "full", "mains": 240.0}}),
    (EntryKind.plug_destroyed, "", {}),
)
"""All that may befall a unit or be said of it, between one step and the next."""


class Hands:
    """One unit in careless hands. What the gate lets through is held against the oracle at once."""

    def __init__(self, start: int = 0, *, tester: bool = True) -> None:
        self.file = "as shipped"
        plan = edited(self.file, tester=tester)
        self.unit = Unit(plan, list(beginnings()[start]))
        if self.unit.entries:
            self.unit.now = START.fromisoformat(self.unit.entries[-1].at)
        self.lives = {e.number for e in self.unit.entries if e.content.get("supply", "none") != "none"}
        self.live_accepted = 0
        self.plans: dict[int, Plan] = {entry.number: plan for entry in self.unit.entries}
        self.by = "KT"

    def edit(self, name: str) -> None:
        """From here on the unit is worked by edited files."""
        self.file = name
        self.unit.plan = edited(name, tester=self.unit.plan.workshop.insulation_tester)

    def change_settings(self, *, tester: bool) -> None:
        """Another window says that there is an insulation tester, or none."""
        self.unit.plan = edited(self.file, tester=tester)

    def do(self, act: Callable[[], Any]) -> None:
        """Try something; a refusal leaves nothing behind, and what is recorded must be allowed."""
        before = len(self.unit.entries)
        try:
            act()
        except Refused:
            assert len(self.unit.entries) == before
        for entry in self.unit.entries[before:]:
            self.judge(entry)

    def judge(self, entry: Entry) -> None:
        """Hold a recorded entry against the oracle."""
        step = self.unit.plan.by_address.get(entry.address)
        live = step is not None and step.supply.value != "none"
        self.plans[entry.number] = self.unit.plan
        oracle = Oracle(self.unit.plan, self.unit.entries, entry, frozenset(self.lives), self.plans)
        complaints = [*self.complaints_about(entry, step, oracle)]
        assert complaints == [], (entry.kind, entry.address, complaints)
        self.live_accepted += live and entry.kind is EntryKind.answer
        if entry.kind is EntryKind.hazard or (live and entry.kind in (EntryKind.answer, EntryKind.set_up)):
            self.lives.add(entry.number)
        if entry.content.get("probed", {}).get("supply", "none") != "none":
            self.lives.add(entry.number)

    def complaints_about(self, entry: Entry, step: PlannedStep | None, oracle: Oracle) -> Iterator[str]:
        """What the oracle has against an entry of that kind."""
        live = step is not None and step.supply.value != "none"
        if entry.kind is EntryKind.answer:
            yield from oracle.live_complaints() if live else oracle.hand_complaints()
            if step is not None and step.kind is StepKind.wait:
                yield from oracle.wait_complaints(seconds_of(step.model.time))
        if entry.kind in (EntryKind.repair, EntryKind.opened, EntryKind.plug_destroyed):
            yield from oracle.touch_complaints()
        if entry.kind is EntryKind.note and "probed" in entry.content:
            with_mains_on = entry.content["probed"].get("supply", "none") != "none"
            yield from oracle.live_complaints("full") if with_mains_on else oracle.touch_complaints()
        if entry.kind is EntryKind.disposition and entry.content["disposition"] == "for sale":
            yield from oracle.sale_complaints()
        for name, said in entry.content.get("facts", {}).items():
            if name in IMPOSSIBLE and said in IMPOSSIBLE[name]:
                yield f"{name} cannot be {said}"

    def go_on(self, steps: int) -> None:
        """Do what is due, well."""
        for _ in range(steps):
            due = self.unit.due
            if due.kind not in SETTLED or (due.kind.value == "way-back" and not due.address):
                return
            self.do(lambda due=due: self.unit.settle(due))

    def jump(self, address: str, how: str = "good") -> None:
        """Answer any step, whatever is due, with all that is asked for on the way."""
        step = self.unit.plan.by_address.get(address)
        if step is None:
            return
        cautions = () if step.way_back else self.unit.plan.stage(step.stage).cautions
        for caution in {*cautions, *(("mains-live",) if step.supply.value != "none" else ())}:
            self.do(lambda caution=caution: self.unit.record(EntryKind.caution, caution=caution))
        if step.function:
            self.do(lambda: self.unit.hold(METERS[step.function]))
        asked = set_up_of(self.unit.plan, self.unit.state.facts, step)
        if asked:
            self.do(lambda: self.unit.record(EntryKind.set_up, address, items=list(asked)))
        if step.kind is StepKind.wait and how == "good":
            self.unit.wait(seconds=seconds_of(step.model.time))
        self.do(lambda: self.unit.answer(address, self.answer_to(step, how)))

    def try_mains(self) -> None:
        """Whatever was just done: see whether mains opens now."""
        for address in ("first-power.plug-in", "live-voltage.plug-in"):
            self.jump(address)

    def mend(self, part: str, opened: tuple[str, ...]) -> None:
        """Mend the first open fault, or a part that nobody complained about."""
        faults = [one for one in self.unit.state.faults if one.status.value == "open"]
        number = faults[0].entry if faults else None
        part = (faults[0].part or part) if faults else part
        said = {"part": part, "done": "mended", "opened": list(opened), "fault": number}
        self.do(lambda: self.unit.record(EntryKind.repair, **said))

    def happen(self, what: tuple[EntryKind, str, dict[str, Any]], by: str = "MH") -> None:
        """Let one of HAPPENINGS happen."""
        kind, address, content = what
        self.do(lambda: self.unit.record(kind, address, by, **content))

    def answer_to(self, step: PlannedStep, how: str) -> StepAnswer:
        """A good answer (hasty: without the wait that it says), a bad one, "OL", or nothing at all."""
        reading = step.kind in (StepKind.measure, StepKind.probe)
        if how in ("good", "hasty") or not (reading or step.kind in (StepKind.inspect, StepKind.ask)):
            return self.unit.good(step)
        if step.kind is StepKind.inspect:
            marks = dict(self.unit.good(step).marks)
            return InspectAnswer(marks={**marks, next(iter(marks)): "bad"})
        if step.kind is StepKind.ask:
            other = 1 if step.address == "visual-inspection.plug" and how == "OL" else -1  # moulded
            return AskAnswer(answer="13 A" if step.model.value else step.model.answers[other].answer)
        typed = {"OL": "OL", "zero": f"0 {step.unit}", "bad": f"17 {step.unit}"}[how]
        return ReadingAnswer(typed=typed, meter=METERS[step.function])
