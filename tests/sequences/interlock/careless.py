"""Careless hands: every way to do wrong to a unit, with the oracle looking on at all that is let through."""

import math
from collections.abc import Callable
from datetime import timedelta
from functools import cache
from typing import Any

from benchapp.sequences.planning.false_alarms import LOOKS
from tests.sequences.interlock.edits import EDITS
from tests.sequences.interlock.watched import (
    METERS,
    SETTLED,
    START,
    AskAnswer,
    EntryKind,
    InspectAnswer,
    PlannedStep,
    ReadingAnswer,
    Refused,
    StepAnswer,
    Watched,
    Workplace,
    make_workplace,
    told_again,
)

DESIGNS = (("mains-unit", "tb-mu1"), ("mains-unit", "tb-mu2"), ("recorder", "tb-rec1"))
STOPS = ("continuity.leads-after", "first-power.plug-in", "first-power.current", "live-voltage.mains", "")
READY = 2
"""the beginning at which every dead test is good and mains may come"""
STARTS = range(len(STOPS) + 1)


def place(name: str = "as shipped", *, tester: bool = True, of: int = 0) -> Workplace:
    """The shipped files after an edit; edits are made for the first design."""
    return make_workplace(*DESIGNS[of], EDITS[name], tester=tester)


@cache
def beginnings(of: int = 0) -> tuple[Watched, ...]:
    """Units to begin from, so that the deep states are reached often."""
    found = [Watched.of(place(of=of))]
    for stop in STOPS:
        unit = Watched.of(place(of=of))
        unit.go_to(stop) if stop else unit.finish()
        found.append(unit)
    return tuple(found)


ADDRESSES = tuple(place().plan.by_address)
LIVE = tuple(step.address for step in place().plan.steps if place().files.step(step.address).live)
PARTS = (*sorted(place().files.parts), "cord", "plug", "case", "thingummy")
OPENED: tuple[tuple[str, ...], ...] = ((), ("cord",), ("plug",), ("enclosure",), ("plug", "enclosure"))
FACTS = (
    {"class": "I"},
    {"class": "II"},
    {"class": "unknown"},
    {"class": "0"},
    {"class": "III"},
    {"live chassis": "yes"},
    {"cord cores": "2"},
    {"cord cores": "3"},
    {"plug": "moulded"},
    {"plug": "rewirable"},
    {"bare metal": "no"},
    {"bare metal": "yes"},
    {"voltage selector": "yes"},
    {"internal fuse": "yes"},
    {"internal fuse": "no"},
    {"surge suppressor": "yes"},
    {"heating": "yes"},
    {"plug fuse": "no"},
    {"mains fed": "no"},
    {"cord length": "20 m", "cord area": "0.5 mm²"},
    {"cord length": "0.5 m"},
    {"power": "3 kW"},
    {"live chasis": "yes"},
    {"cord area": math.nan},
    {"cord length": -1.0},
    {"plug fuse rating": 1e9},
)
PROBE = {
    "a": "outlet.1",
    "b": "outlet.2",
    "typed": "1.3",
    "value": 1.3,
    "bound": "exact",
    "standard_uncertainty": 0.0,
    "meter": "tb-m1",
}
Happening = tuple[EntryKind, str, dict[str, Any]]
HAPPENINGS: tuple[Happening, ...] = (
    *((EntryKind.opened, "", {"opened": list(opened), "why": "to look"}) for opened in OPENED[1:]),
    *((EntryKind.event, "", {"event": event}) for event in ("fall", "damp", "wet cleaning", "under power lately")),
    (EntryKind.event, "", {"event": "left, may be live", "note": "a fire alarm", "with_it": "Nell Hay"}),
    *(
        (EntryKind.hazard, "", {"hazard": hazard})
        for hazard in ("smoke", "smell", "hum", "heat", "RCD or fuse tripped")
    ),
    *(
        (EntryKind.fault, address, {"part": part, "mode": "", "words": "bad", "severity": severity})
        for part in PARTS
        for severity in ("mend", "do not use")
        for address in ("", "continuity.earth", "first-power.current")[: 3 if part in ("primary", "low") else 1]
    ),
    *((EntryKind.fact, "", {"facts": facts}) for facts in FACTS),
    *(
        (EntryKind.disposition, "", {"disposition": word, "note": "seen"})
        for word in ("quarantine", "hold", "for sale", "scrap", "keep", "spares or repair")
    ),
    (EntryKind.supervisor_opening, "", {"reason": "known design"}),
    (EntryKind.acceptance, "", {"what": "a live chassis that is kept", "reason": "known design"}),
    (EntryKind.note, "", {"words": "Probed.", "probed": dict(PROBE)}),
    (EntryKind.note, "", {"words": "Probed live.", "probed": {**PROBE, "supply": "full", "mains": 240.0}}),
    (EntryKind.disposition, "", {"disposition": "scrap"}),
    (EntryKind.plug_destroyed, "", {"note": "past mending"}),
    (EntryKind.plug_destroyed, "", {}),
    (EntryKind.plug_kept, "", {"why": "wrong unit"}),
    (EntryKind.plug_kept, "", {"why": " "}),
)
"""All that may befall a unit or be said of it, between one step and the next."""
HOW = ("good", "hasty", "bad", "near", "OL", "zero")


A_LOOK = timedelta(seconds=30)
"""that anybody takes before the next thing is done"""


class Hands:
    """One unit in careless hands. What the gate lets through is held against the oracle at once."""

    def __init__(self, start: int = 0, *, tester: bool = True, of: int = 0) -> None:
        self.design, self.file = of, "as shipped"
        self.unit = beginnings(of)[start].copy()
        if not tester:
            self.unit = told_again(self.unit, place(tester=False, of=of))
        if self.unit.entries:
            self.unit.now = START.fromisoformat(self.unit.entries[-1].at) + A_LOOK

    def edit(self, name: str) -> None:
        """From here on the unit is worked by edited files; edits are of the files of the first design."""
        if self.design == 0:
            self.file = name
            self.unit.move_to(place(name, tester=self.unit.files.tester))

    def change_settings(self, *, tester: bool) -> None:
        """Another window says that there is an insulation tester, or none."""
        self.unit.move_to(place(self.file, tester=tester, of=self.design))

    def fall_silent(self, *, silent: bool) -> None:
        """From here on a failed reading is read again without a word, or with a reason."""
        self.unit.silent = silent

    def hand_over(self, who: str) -> None:
        """Another person takes the unit."""
        self.unit.hand = who

    def do(self, act: Callable[[], Any]) -> None:
        """Try something; a refusal leaves nothing behind."""
        before = len(self.unit.entries)
        try:
            act()
        except Refused:
            assert len(self.unit.entries) == before

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
        cautions = () if address == "make-safe.unplug" else self.unit.plan.stage(step.stage).cautions
        for caution in {*cautions, *(("mains-live",) if step.supply.value != "none" else ())}:
            if not self.unit.has_read(caution):
                self.do(lambda caution=caution: self.unit.record(EntryKind.caution, caution=caution))
        if step.function and not self.unit.holds(METERS[step.function]):
            self.do(lambda: self.unit.hold(METERS[step.function]))
        asked = self.unit.set_up_for(address)
        if asked:
            self.do(lambda: self.unit.record(EntryKind.set_up, address, items=list(asked)))
        if step.kind == "wait" and how == "good":
            self.unit.wait(seconds=step.lasts)
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

    def happen(self, what: Happening, by: str = "MH") -> None:
        """Let one of HAPPENINGS happen."""
        kind, address, content = what
        self.do(lambda: self.unit.record(kind, address, by, **content))

    def call_it_a_false_alarm(self, looks: int = len(LOOKS), reason: str = "The key was struck by mistake.") -> None:
        """Of the last smoke, smell, hum or heat, after so many looks."""
        noticed = [entry.number for entry in self.unit.entries if entry.kind is EntryKind.hazard]
        said = {"hazard": noticed[-1] if noticed else 1, "reason": reason, "looked": list(LOOKS[:looks])}
        self.do(lambda: self.unit.record(EntryKind.false_alarm, "", "MH", **said))

    def answer_to(self, step: PlannedStep, how: str) -> StepAnswer:
        """A good answer (hasty: without the wait that it says), a bad one, one near its limit, "OL", or nothing."""
        reading = step.kind in ("measure", "probe")
        if how in ("good", "hasty") or not (reading or step.kind in ("inspect", "ask")):
            return self.unit.good(step)
        if step.kind == "inspect":
            marks = dict(self.unit.good(step).marks)
            return InspectAnswer(marks={**marks, next(iter(marks)): "bad"})
        if step.kind == "ask":
            other = 1 if step.address == "visual-inspection.plug" and how == "OL" else -1  # moulded
            return AskAnswer(answer="13 A" if step.model.value else step.model.answers[other].answer)
        typed = {"OL": "OL", "zero": f"0 {step.unit}", "bad": f"17 {step.unit}", "near": NEAR.get(step.address, "1")}
        return ReadingAnswer(typed=typed[how], meter=METERS[step.function])


NEAR = {
    "continuity.leads-before": "0.99 ohm",
    "continuity.leads-after": "0.99 ohm",
    "continuity.earth": "0.15 ohm",
    "continuity.live-earth": "1.002 Mohm",
    "continuity.neutral-earth": "1.002 Mohm",
    "continuity.primary": "559.2 ohm",
    "insulation.live-to-case": "0.98 Mohm",
    "insulation.live-to-outputs": "0.98 Mohm",
    "first-power.current": "0.023 A",
    "make-safe.low": "-25.2 V",
    "make-safe.low-to-touched/case": "26 V",
    "make-safe.low-to-touched/outlet.1": "26 V",
    "make-safe.low-outputs": "25.1 V",
}
"""Readings so near a limit that only the meter's doubt, or a hair, decides; just outside a published limit."""
