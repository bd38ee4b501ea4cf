"""What spoils one condition of a unit on which all else is good, and what mends it."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime, timedelta

from benchapp.sequences.kinds.ask import AskAnswer
from benchapp.sequences.language.vocabulary import ReadingSource
from tests.sequences.interlock.edits import EDITS
from tests.sequences.interlock.walking import (
    CLASS_ONE,
    FULL,
    LIMITED,
    ROUTES,
    SELECTOR,
    go_back,
    make_ready,
    place_of,
    prepare,
    retake,
    take,
    try_to,
    withdraw,
)
from tests.sequences.interlock.watched import METERS, EntryKind, ReadingAnswer, Watched

Act = Callable[[Watched], object]


def nothing(_unit: Watched) -> None:
    """There is nothing to do beforehand: doing what is due mends it."""


def never(_unit: Watched) -> None:
    """Nothing mends it."""


@dataclass(frozen=True, kw_only=True)
class Slip:
    """What spoils one condition of a unit that is ready, and what mends it beside doing what is due."""

    condition: str
    spoil: Act
    mend: Act = nothing
    target: str = LIMITED
    routes: tuple[str, ...] = (CLASS_ONE,)
    tester: bool = True


def mended(unit: Watched) -> None:
    """Mend each fault that is open, with the cover off, and go on."""
    if unit.state.energised:
        go_back(unit)
    for fault in [one for one in unit.state.faults if one.status.value == "open"]:
        part = fault.part or "primary"
        unit.record(EntryKind.repair, part=part, done="mended", opened=["enclosure"], fault=fault.entry)


def record(kind: EntryKind, by: str = "MH", **content: object) -> Act:
    return lambda unit: unit.record(kind, "", by, **content)


def moved(edit: str) -> Act:
    return lambda unit: unit.move_to(place_of(CLASS_ONE, EDITS[edit]))


def back_to_the_shipped_files(unit: Watched) -> None:
    unit.move_to(place_of(CLASS_ONE))


def in_turn(*acts: Act) -> Act:
    def all_of_them(unit: Watched) -> None:
        for act in acts:
            act(unit)

    return all_of_them


def wait(**span: float) -> Act:
    return lambda unit: unit.wait(**span)


def at_once(seconds: float) -> Act:
    """So little passes after the last thing that was done."""

    def spoil(unit: Watched) -> None:
        unit.now = datetime.fromisoformat(unit.entries[-1].at) + timedelta(seconds=seconds)

    return spoil


def hold(meter: str = "tb-pm1", **said: object) -> Act:
    return lambda unit: unit.hold(meter, **said)


def yesterday(unit: Watched) -> str:
    return (unit.now - timedelta(hours=15)).isoformat()


def say(**facts: str) -> Act:
    named = {name.replace("_", " "): value for name, value in facts.items()}
    return record(EntryKind.fact, facts=named)


def recalled_taken_back(unit: Watched) -> None:
    unit.withdraw(unit.answer("visual-inspection.recall", AskAnswer(answer="it is on a list")))


def recall_looked_up(unit: Watched) -> None:
    take(unit, "visual-inspection.recall")


def put_back(unit: Watched) -> None:
    """The plug is on after all; what rests on it is taken again."""
    unit.record(EntryKind.plug_kept, "", "MH", why="it was the next unit's")


def fault(part: str, severity: str = "mend", address: str = "") -> Act:
    said = {"part": part, "mode": "open", "words": "bad", "severity": severity}
    return lambda unit: unit.record(EntryKind.fault, address, **said)


def again(address: str, typed: str) -> Act:
    """Take an insulation reading again in another way than it should be, as far as the program lets it be taken."""

    def spoil(unit: Watched) -> None:
        withdraw(unit, address)
        try_to(lambda: unit.reads(address, typed, "tb-it1"))

    return spoil


def by_another_meter(unit: Watched) -> None:
    withdraw(unit, "insulation.live-to-case")
    unit.hold("tb-m1")
    try_to(lambda: unit.reads("insulation.live-to-case", ">20 Mohm", "tb-m1"))


def copied(address: str) -> Act:
    """Its reading is no more than what a tester kept."""

    def spoil(unit: Watched) -> None:
        step = unit.plan.step(address)
        withdraw(unit, address)
        prepare(unit, address)
        typed = unit.good_reading(step)
        unit.answer(
            address,
            ReadingAnswer(
                typed=typed, meter=METERS[step.function], source=ReadingSource.transcribed, sent=f"7;{typed}"
            ),
        )

    return spoil


def primary_after_insulation(unit: Watched) -> None:
    take(unit, "continuity.primary")


def leads_of_another_meter(unit: Watched) -> None:
    """The leads after are proved again with a meter that read nothing."""
    withdraw(unit, "continuity.leads-after")
    unit.hold("tb-m2")
    unit.reads("continuity.leads-after", "0.1 ohm", "tb-m2")


def bad_leads(unit: Watched) -> None:
    withdraw(unit, "continuity.leads-after")
    take(unit, "continuity.leads-after", "3 ohm")


def bad_leads_made_good(unit: Watched) -> None:
    """A check that failed, taken back and taken again well: what was read through them before is in doubt."""
    bad_leads(unit)
    withdraw(unit, "continuity.leads-after")
    take(unit, "continuity.leads-after")


def leads_after_a_night(unit: Watched) -> None:
    withdraw(unit, "continuity.leads-after")
    unit.wait(hours=15)
    take(unit, "continuity.leads-after")
    make_ready(unit)


def in_hands_of(who: str) -> Act:
    return lambda unit: setattr(unit, "hand", who)


def reads_the_caution(unit: Watched) -> None:
    unit.record(EntryKind.caution, caution="mains-live")


def everything_again(unit: Watched) -> None:
    """Every dead test, the caution and the meters: only what was said of the unit is left."""
    retake(unit)
    make_ready(unit)


LOWER, OTHER_FREQUENCY = "a 220 V rating on 230 V mains", "iron for 60 Hz on 50 Hz mains"


def accepted(what: str) -> Act:
    return record(EntryKind.acceptance, what=what, reason="run watched")


def selector_at(position: str) -> Act:
    return lambda unit: unit.answer("visual-inspection.selector", AskAnswer(answer=position))


def all_but_the_selector(unit: Watched) -> None:
    retake(unit, but=["visual-inspection.selector"])
    make_ready(unit)


def hazard(unit: Watched, but: str) -> None:
    """Smoke, the way back, the repair, and everything taken again but one step."""
    entry = unit.record(EntryKind.hazard, "", "MH", hazard="smoke", note="")
    go_back(unit)
    unit.record(EntryKind.repair, part="primary", done="new", opened=["enclosure"], fault=entry.number)
    retake(unit, but=[but])
    make_ready(unit)


def hazard_mended_after_the_retest(unit: Watched) -> None:
    """All was taken again before the repair, and after it all but a question that shows nothing by itself."""
    entry = unit.record(EntryKind.hazard, "", "MH", hazard="heat", note="")
    go_back(unit)
    retake(unit)
    unit.record(EntryKind.repair, part="primary", done="new", opened=["enclosure"], fault=entry.number)
    retake(unit, but=["visual-inspection.plug"])
    make_ready(unit)


def caution_before_the_repair(unit: Watched) -> None:
    unit.record(EntryKind.event, "", "MH", event="fall", note="")
    retake(unit)
    unit.hold("tb-pm1")


def hazard_without_repair(unit: Watched) -> None:
    unit.record(EntryKind.hazard, "", "MH", hazard="smell", note="")
    go_back(unit)
    retake(unit)
    make_ready(unit)


def limited_again(typed: str) -> Act:
    return lambda unit: take(unit, "first-power.current", typed)


def another_lamp(unit: Watched) -> None:
    """Other watts are told after the current was read through the first ones."""
    unit.answer("first-power.lamp-watts", AskAnswer(answer="60 W"))


def too_much_and_something_else_mended(unit: Watched) -> None:
    """It drew too much; what was mended is no part that could draw any, and every dead test was taken again."""
    entry = take(unit, "first-power.current", "0.2 A")
    something_else_mended(unit, entry.number)


def tripped_and_something_else_mended(unit: Watched) -> None:
    entry = unit.record(EntryKind.hazard, "", "MH", hazard="RCD or fuse tripped", note="")
    something_else_mended(unit, entry.number)


def something_else_mended(unit: Watched, fault: int) -> None:
    unit.go(lambda due: due.kind.value == "repair")
    unit.record(EntryKind.repair, part="knob", done="tightened", opened=[], fault=fault)
    retake(unit)
    make_ready(unit)


def primary_mended(unit: Watched) -> None:
    go_back(unit)
    unit.record(EntryKind.repair, part="primary", done="rewound", opened=["enclosure"], fault=None)


def everything_dead_again(unit: Watched) -> None:
    go_back(unit)
    retake(unit)
    make_ready(unit)


def mend_an_output(unit: Watched) -> None:
    go_back(unit)
    unit.record(EntryKind.repair, part="low", done="resoldered", opened=[], fault=None)
    retake(unit)
    make_ready(unit)


def dead_aged(unit: Watched) -> None:
    """First power is of twenty days and more ago, the dead tests of today."""
    go_back(unit)
    unit.wait(days=20)
    retake(unit)
    unit.wait(days=10, hours=1)
    make_ready(unit)


def hazards_never_looked_for(unit: Watched) -> None:
    """The step is there and was answered, but looks for nothing of old equipment."""
    moved("hazards never looked for")(unit)
    take(unit, "visual-inspection.old-hazards")
    make_ready(unit)


def hazard_that_a_repair_does_not_lift(unit: Watched) -> None:
    """PCB oil, of which a technician says that it was mended."""
    said = {"part": "", "mode": "", "words": "It may be filled with PCB oil.", "severity": "do not use"}
    found = unit.record(EntryKind.fault, **said, old_hazard="pcb-capacitor")
    unit.record(EntryKind.repair, part="thingummy", done="wiped", opened=[], fault=found.number)
    unit.record(EntryKind.fact, facts={"room temperature": "21"})


def cleared(unit: Watched) -> None:
    """A supervisor says how it left, and what was disturbed by that is taken again."""
    fault = next(one for one in unit.state.faults if one.old_hazard)
    said = {"hazard": fault.old_hazard, "fault": fault.entry, "reason": "taken out by the waste firm, part and wipes"}
    unit.record(EntryKind.hazard_cleared, "", "MH", **said)


ANYWHERE = tuple(ROUTES)


def slips() -> dict[str, Slip]:
    found = {
        "a live chassis": Slip(
            condition="chassis",
            spoil=in_turn(say(live_chassis="yes"), everything_again),
            mend=say(live_chassis="no"),
            routes=ANYWHERE,
        ),
        "a cord of two cores on bare metal": Slip(
            condition="cord",
            spoil=in_turn(say(cord_cores="2"), everything_again),
            mend=say(cord_cores="3"),
            routes=(CLASS_ONE, SELECTOR, "isolating"),
        ),
        "the plug was destroyed": Slip(
            condition="plug there", spoil=record(EntryKind.plug_destroyed, note="worn"), mend=put_back, routes=ANYWHERE
        ),
        "set aside on hold": Slip(
            condition="held",
            spoil=record(EntryKind.disposition, disposition="hold", note=""),
            mend=record(EntryKind.disposition, disposition="quarantine", note="looked at"),
            routes=ANYWHERE,
        ),
        "insulation without its set-up": Slip(
            condition="insulation", spoil=again("insulation.live-to-case", ">200 Mohm")
        ),
        "insulation by a meter without the function": Slip(condition="insulation", spoil=by_another_meter),
        "insulation before the primary": Slip(condition="insulation", spoil=primary_after_insulation, routes=ANYWHERE),
        "leads not proved before OL": Slip(
            condition="polarity", spoil=lambda unit: withdraw(unit, "continuity.leads-before"), routes=ANYWHERE
        ),
        "leads not proved after OL": Slip(
            condition="polarity", spoil=lambda unit: withdraw(unit, "continuity.leads-after"), routes=ANYWHERE
        ),
        "leads bad after OL": Slip(condition="polarity", spoil=bad_leads, mend=retake),
        "leads bad after OL, and that taken back": Slip(
            condition="polarity", spoil=in_turn(bad_leads, lambda u: withdraw(u, "continuity.leads-after")), mend=retake
        ),
        "leads bad after OL, taken back, and then good": Slip(
            condition="polarity", spoil=bad_leads_made_good, mend=retake
        ),
        "leads proved a night after OL": Slip(condition="polarity", spoil=leads_after_a_night),
        "leads of the tester not proved after": Slip(
            condition="insulation", spoil=lambda unit: withdraw(unit, "insulation.leads-after"), routes=ANYWHERE
        ),
        "leads of the tester not proved before": Slip(
            condition="insulation", spoil=lambda unit: withdraw(unit, "insulation.leads-before")
        ),
        "leads of another meter": Slip(condition="polarity", spoil=leads_of_another_meter),
        "a caution of yesterday": Slip(condition="caution", spoil=in_turn(wait(hours=15), hold()), routes=ANYWHERE),
        "a caution from before a fall": Slip(condition="caution", spoil=caution_before_the_repair, routes=ANYWHERE),
        "a caution that somebody else has read": Slip(
            condition="caution", spoil=in_hands_of("AB"), mend=reads_the_caution, routes=ANYWHERE
        ),
        "hands that may do dead work alone": Slip(
            condition="hands", spoil=in_turn(in_hands_of("N.H."), reads_the_caution), mend=in_hands_of("KT")
        ),
        "hands that are not on the list": Slip(
            condition="hands", spoil=in_turn(in_hands_of("ZZ"), reads_the_caution), mend=in_hands_of("KT")
        ),
        "hands whose rights have ended": Slip(
            condition="hands", spoil=in_turn(in_hands_of("OR"), reads_the_caution), mend=in_hands_of("KT")
        ),
        "a hazard mended after the retest": Slip(condition="retest", spoil=hazard_mended_after_the_retest),
        "a design that nobody knows": Slip(
            condition="design",
            spoil=in_turn(moved("a design that nobody knows"), everything_again),
            mend=back_to_the_shipped_files,
        ),
        "hazards of old equipment never looked for": Slip(
            condition="hazards asked", spoil=hazards_never_looked_for, mend=back_to_the_shipped_files
        ),
        "a hazard that a repair does not lift": Slip(
            condition="old hazard", spoil=in_turn(hazard_that_a_repair_does_not_lift, everything_again), mend=cleared
        ),
        "cores of the lead not read": Slip(
            condition="polarity",
            spoil=lambda unit: withdraw(unit, "continuity.lead/plug.L-inlet.L"),
            routes=(SELECTOR,),
        ),
        "a meter of yesterday": Slip(
            condition="meter", spoil=in_turn(wait(hours=15), reads_the_caution), routes=ANYWHERE
        ),
        "a meter that was not proved": Slip(condition="meter", spoil=hold(proved=False), mend=hold(), routes=ANYWHERE),
        "a meter that was proved yesterday": Slip(
            condition="meter",
            spoil=lambda unit: unit.record(
                EntryKind.meter, meter="tb-pm1", proved=yesterday(unit), overdue_accepted=False, lead_resistance=0.0
            ),
            mend=hold(),
        ),
        "a plate for 120 V": Slip(
            condition="setting",
            spoil=in_turn(moved("a plate for 120 V"), everything_again),
            mend=back_to_the_shipped_files,
        ),
        "a plate for 120 V that somebody accepts": Slip(
            condition="setting",
            spoil=in_turn(accepted(LOWER), moved("a plate for 120 V"), everything_again),
            mend=back_to_the_shipped_files,
        ),
        "a plate for 60 Hz": Slip(
            condition="frequency",
            spoil=in_turn(accepted(LOWER), moved("a plate for 60 Hz"), everything_again),
            mend=accepted(OTHER_FREQUENCY),
        ),
        "a selector at 220 V that nobody accepts": Slip(
            condition="setting",
            spoil=in_turn(accepted(OTHER_FREQUENCY), selector_at("220 V"), all_but_the_selector),
            mend=accepted(LOWER),
            routes=(SELECTOR,),
        ),
        "a selector at 220 V": Slip(
            condition="setting",
            spoil=in_turn(selector_at("220 V"), all_but_the_selector),
            mend=in_turn(selector_at("240 V"), all_but_the_selector),
            routes=(SELECTOR,),
        ),
        "an overdue meter that nobody accepted": Slip(
            condition="meter", spoil=moved("a plug-in meter that is overdue"), mend=hold(overdue_accepted=True)
        ),
        "a meter that is not rated": Slip(
            condition="meter", spoil=moved("a plug-in meter for low mains"), mend=back_to_the_shipped_files
        ),
        "no supervisor": Slip(
            condition="insulation",
            spoil=in_turn(record(EntryKind.event, event="fall", note=""), lambda u: retake(u), lambda u: make_ready(u)),
            mend=record(EntryKind.supervisor_opening, reason="known"),
            tester=False,
        ),
        "a supervisor of yesterday": Slip(
            condition="insulation",
            spoil=in_turn(wait(hours=15), lambda u: make_ready(u)),
            mend=record(EntryKind.supervisor_opening, reason="known"),
            tester=False,
        ),
        "a supervisor before the last dead test": Slip(
            condition="insulation",
            spoil=in_turn(lambda u: take(u, "continuity.earth"), lambda u: make_ready(u)),
            mend=record(EntryKind.supervisor_opening, reason="known"),
            tester=False,
        ),
        "an earth path that a tester kept": Slip(
            condition="earth continuity",
            spoil=copied("continuity.earth"),
            mend=lambda unit: take(unit, "continuity.earth"),
        ),
        "insulation that a tester kept": Slip(
            condition="insulation",
            spoil=in_turn(copied("insulation.live-to-case"), go_back),
            mend=accepted("readings that a tester kept"),
        ),
        "what a tester kept since a supervisor accepted such readings": Slip(
            condition="earth continuity",
            spoil=in_turn(accepted("readings that a tester kept"), copied("continuity.earth")),
            mend=lambda unit: take(unit, "continuity.earth"),
        ),
        "a trip after which nobody found the part": Slip(
            condition="cause", spoil=tripped_and_something_else_mended, mend=primary_mended
        ),
        "a danger whose answer was taken back": Slip(
            condition="faults", spoil=recalled_taken_back, mend=recall_looked_up
        ),
        "a hazard that nobody mended": Slip(condition="faults", spoil=hazard_without_repair, mend=never),
    }
    for name in ("unknown", "0", "III"):
        found[f"class {name}"] = Slip(
            condition="class",
            spoil=record(EntryKind.fact, facts={"class": name}),
            mend=record(EntryKind.fact, facts={"class": "II"}),
            routes=("class II",),
        )
    for part in ("cord-live", "case-bond", "primary", "mains-to-earth", "plug-fuse", "thingummy"):
        found[f"a fault of {part}"] = Slip(condition="faults", spoil=fault(part), mend=mended)
    found["a fault of an output that says do not use"] = Slip(
        condition="faults", spoil=fault("low-a-twin", "do not use"), mend=mended
    )
    for address in ("visual-inspection.plug", "plug-rewire.inside", "insulation.dry"):
        found[f"after a hazard without {address}"] = Slip(
            condition="retest", spoil=lambda unit, address=address: hazard(unit, address)
        )
    return found | full_slips() | hasty_slips()


def hasty_slips() -> dict[str, Slip]:
    quick, later = at_once(0.9), wait(seconds=5)
    return {
        "plugged in by a held key": Slip(condition="haste", spoil=quick, mend=later, routes=ANYWHERE),
        "a live reading at once": Slip(condition="haste", spoil=at_once(1.2), mend=later, target="first-power.current"),
        "nothing smelt at once": Slip(condition="haste", spoil=at_once(1.2), mend=later, target="first-power.signs"),
        "full mains by a held key": Slip(condition="haste", spoil=quick, mend=later, target=FULL),
    }


def full_slips() -> dict[str, Slip]:
    taken_back = lambda unit: withdraw(unit, "first-power.current")  # noqa: E731
    return {
        "no limited supply before full": Slip(
            condition="limited power", spoil=taken_back, target=FULL, routes=ANYWHERE
        ),
        "a current read through another lamp": Slip(condition="limited power", spoil=another_lamp, target=FULL),
        "no current at all on limited supply": Slip(
            condition="limited power",
            spoil=limited_again("0 A"),
            target=FULL,
            mend=lambda unit: withdraw(unit, "first-power.current"),
        ),
        "too much current, and the part was not found": Slip(
            condition="cause", spoil=too_much_and_something_else_mended, target=LIMITED, mend=primary_mended
        ),
        "limited supply too many days ago": Slip(condition="limited power", spoil=dead_aged, target=FULL),
        "limited supply before the last repair": Slip(condition="limited power", spoil=mend_an_output, target=FULL),
    }


SLIPS = slips()
