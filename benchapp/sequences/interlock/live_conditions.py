"""The conditions that keep a live step shut, one row for each, whatever the files say.

A live step on mains equipment stays shut until, since the last repair, everything below holds. An
author can add conditions (more steps that show a role: all of them must hold), nobody can remove one.
"""

from collections.abc import Iterator, Mapping
from functools import cache

from benchapp.judgement.statements.statements import opens_fault_search
from benchapp.sequences.answering.instruments import meters_for
from benchapp.sequences.history.faults import open_faults, shuts_mains, waits_for_live_retest
from benchapp.sequences.history.on_demand import OnDemand
from benchapp.sequences.history.retest import SAFETY
from benchapp.sequences.history.step_evaluation import StepEvaluation
from benchapp.sequences.interlock.first_power_conditions import cause_found, element_fits
from benchapp.sequences.interlock.mains_conditions import mains_rows
from benchapp.sequences.interlock.old_hazards import old_hazards
from benchapp.sequences.interlock.role_substance import TRANSCRIBED, lacking, why_not_holding
from benchapp.sequences.language.vocabulary import Role, Supply
from benchapp.sequences.planning.entries import Accepted, Entry, person
from benchapp.sequences.planning.entry_times import is_todays
from benchapp.sequences.planning.limiters import goes_by_resistance
from benchapp.sequences.planning.said import said_caution
from benchapp.sequences.planning.state import Condition, StepStatus
from benchapp.words import say

MAINS_CAUTION = "mains-live"
"""The caution that every live stage has, named in its file or not."""
AT_HAND = frozenset({"caution", "meter"})
"""Conditions that the technician settles on the way; they do not mark a step as shut."""
WORKABLE = ("I", "II")
"""Classes (IEC 61140) of mains equipment that this tool takes to mains."""

EARTHED_CORES = 3
"""live, neutral and earth"""

_ROLE_WORDS = {
    Role.visual: "the visual inspection holds",
    Role.plug: "the plug was inspected or rewired, and its fuse is right",
    Role.polarity: "live and neutral are neither crossed nor shorted",
    Role.earth: "the earth path is good",
    Role.primary: "the primary is whole",
    Role.insulation: "the insulation is good",
    Role.selector: "the voltage selector was confirmed",
    Role.internal_fuse: "the internal fuse was confirmed",
    Role.dry: "it is dry again",
    Role.limited_power: "first power on limited supply was good",
}


def interlock(evaluation: StepEvaluation) -> Mapping[Supply, tuple[Condition, ...]]:
    """The rows for limited and for full supply, worked out when they are asked for."""
    alike = cache(lambda: (tuple(_of_the_unit(evaluation)), tuple(_of_what_befell_it(evaluation))))

    def rows_for(supply: Supply) -> tuple[Condition, ...]:
        of_the_unit, of_what_befell_it = alike()
        rows = (*of_the_unit, _insulation(evaluation, supply), *of_what_befell_it)
        rows += (_caution(evaluation, supply), _meter(evaluation, supply))
        return rows if supply is Supply.limited else (*rows, _first_power(evaluation))

    return OnDemand((Supply.limited, Supply.full), rows_for)


def _of_the_unit(evaluation: StepEvaluation) -> Iterator[Condition]:
    """What it is and what was shown of it, insulation apart: the same before either supply."""
    yield _mains_fed(evaluation)
    if looser := evaluation.plan.looser:
        words = "its limits and texts are no looser than those that this program ships"
        yield Condition(id="texts", words=words, holds=False, why=looser)
    yield from _construction(evaluation)
    yield from mains_rows(evaluation)
    yield _plug_there(evaluation)
    for role in roles_needed(evaluation):
        yield _substance(evaluation, role) or role_shown(evaluation, role)


def _of_what_befell_it(evaluation: StepEvaluation) -> Iterator[Condition]:
    """Faults, hazards and what became of it: the same before either supply."""
    yield _faults(evaluation)
    yield from old_hazards(evaluation)
    yield cause_found(evaluation)
    yield _retested(evaluation)
    yield _not_held(evaluation)


def _first_power(evaluation: StepEvaluation) -> Condition:
    """Limited supply before full; what no lamp can judge may go by its element's resistance instead."""
    if goes_by_resistance(evaluation.plan):
        return element_fits(evaluation)
    return role_shown(evaluation, Role.limited_power)


def roles_needed(evaluation: StepEvaluation) -> Iterator[Role]:
    """What has to be shown of this unit before mains, insulation apart."""
    facts = evaluation.facts
    yield from (Role.visual, Role.plug, Role.polarity)
    if facts.get("class") != "II":
        yield Role.earth
    yield Role.primary
    if facts.get("voltage selector", True):
        yield Role.selector
    if facts.get("internal fuse", True):
        yield Role.internal_fuse
    if evaluation.ledger.damp:
        yield Role.dry


def role_shown(evaluation: StepEvaluation, role: Role) -> Condition:
    """Whether every step of this unit that shows the role holds, and at least one does show it."""
    words = _ROLE_WORDS[role]
    is_shown = False
    for step in evaluation.plan.showing(role):
        if evaluation.holding(step):
            is_shown = True
        elif evaluation.status(step) is not StepStatus.skipped:
            why = why_not_holding(evaluation, step)
            accepts = Accepted.transcribed.value if why == TRANSCRIBED else ""
            return Condition(id=role.value, words=words, holds=False, go_to=step.address, why=why, accepts=accepts)
    why = "" if is_shown else "no step of this route shows it"
    return Condition(id=role.value, words=words, holds=is_shown, why=why)


def _insulation(evaluation: StepEvaluation, supply: Supply) -> Condition:
    condition = role_shown(evaluation, Role.insulation)
    if evaluation.plan.workshop.insulation_tester:
        return _substance(evaluation, Role.insulation) or condition
    if (failed := _failed_insulation(evaluation)) is not None:
        return failed
    words = "the insulation is good, or a supervisor has opened limited supply for this unit"
    if supply is Supply.full:
        why = "no insulation tester here: full mains stays shut"
        return Condition(id="insulation", words=_ROLE_WORDS[Role.insulation], holds=False, why=why)
    why = _why_not_opened(evaluation)
    return Condition(id="insulation", words=words, holds=not why, why=why)


def _failed_insulation(evaluation: StepEvaluation) -> Condition | None:
    """A reading that failed is known, whatever the settings say since, and whether or not it was taken back."""
    for step in evaluation.plan.showing(Role.insulation):
        latest = evaluation.ledger.latest(step.address)
        if latest is not None and opens_fault_search(latest.content.judgement):
            why = say("a reading found it bad: only a good one with a tester opens this again")
            words = _ROLE_WORDS[Role.insulation]
            return Condition(id="insulation", words=words, holds=False, go_to=step.address, why=why)
    return None


def _why_not_opened(evaluation: StepEvaluation) -> str:
    """Why no supervisor's opening is in force: of today, by another person, after the last dead test and repair."""
    opened = evaluation.ledger.supervised
    if opened is None or opened.number < evaluation.ledger.disturbed:
        return "no insulation tester here: a named supervisor opens it, unit by unit"
    if not is_todays(opened.at, evaluation.at):
        return "the supervisor's opening was for another day"
    if person(opened.by) in testers(evaluation):
        return say("{by} tested this unit: another person opens it", by=opened.by)
    if stranger := tested_by_a_stranger(evaluation):
        return stranger
    if any(entry.number > opened.number for entry in _dead_tests(evaluation)):
        return "dead tests were taken since the supervisor opened it"
    return ""


def tested_by_a_stranger(evaluation: StepEvaluation) -> str:
    """Why nobody can say that another person tested it: initials on no list may be anybody's; empty where one can."""
    known = {person(one.initials) for one in evaluation.plan.workshop.people}
    by = min(testers(evaluation) - known, default="").upper()
    return by and say("{by} tested this unit and is not on the list of people: put them on it, or test it again", by=by)


def testers(evaluation: StepEvaluation) -> frozenset[str]:
    """Whoever took a dead test of this unit, withdrawn or not."""
    return frozenset(person(entry.by) for entry in _dead_tests(evaluation))


def _dead_tests(evaluation: StepEvaluation) -> Iterator[Entry]:
    for step in evaluation.plan.steps:
        if step.supply is Supply.none and step.shows & SAFETY:
            yield from evaluation.ledger.answers.get(step.address, ())


def _substance(evaluation: StepEvaluation, role: Role) -> Condition | None:
    """What a role needs beside the steps that show it, where it is missing."""
    found = lacking(evaluation, role)
    if found is None:
        return None
    return Condition(id=role.value, words=_ROLE_WORDS[role], holds=False, go_to=found.go_to, why=found.why)


def _mains_fed(evaluation: StepEvaluation) -> Condition:
    fed = bool(evaluation.facts.get("mains fed", evaluation.plan.mains_fed))
    why = "" if fed else "it takes no mains: it is never plugged in"
    return Condition(id="mains fed", words="the unit is made for mains", holds=fed, why=why)


def _construction(evaluation: StepEvaluation) -> Iterator[Condition]:
    facts = evaluation.facts
    kind = str(facts.get("class", "unknown"))
    known = kind in WORKABLE
    why = {
        "0": "class 0 has no protection at a fault: not for sale; keep it unplugged, or scrap it",
        "III": "class III takes extra-low voltage only: feed it from its own safety supply, never from mains",
    }.get(kind, "class unknown: find the mark, or have a competent person treat it as class I")
    yield Condition(id="class", words="the class is known: I or II", holds=known, why="" if known else why)
    joined = evaluation.plan.joined_to_mains
    known = bool(facts.get("design known", True))
    why = "" if known else "nobody knows what is inside it: dead tests, then its do-not-use tag, spares or scrap"
    yield Condition(id="design", words="its design is known", holds=known, why=why)
    live_chassis = bool(facts.get("live chassis", False)) or bool(joined)
    tied = say("{joined} hangs together with", joined=joined) if joined else "its chassis is tied to"
    why = (
        say("{tied} the mains: isolating transformer and a specialist, not this bench", tied=tied)
        if live_chassis
        else ""
    )
    yield Condition(id="chassis", words="the chassis is not live", holds=not live_chassis, why=why)
    cores = facts.get("cord cores")
    unearthed = cores not in (None, EARTHED_CORES) and kind == "I"
    why = "two cores cannot earth bare metal: fit a three-core cord and bond the case, or keep it unplugged"
    words = "bare metal has an earth core"
    yield Condition(id="cord", words=words, holds=not unearthed, why=why if unearthed else "")


def _plug_there(evaluation: StepEvaluation) -> Condition:
    destroyed = bool(evaluation.ledger.destroyed)
    why = "the plug was cut off and destroyed" if destroyed else ""
    return Condition(id="plug there", words="it still has its plug", holds=not destroyed, why=why)


def _faults(evaluation: StepEvaluation) -> Condition:
    words = "no fault on the supply side is open"
    for fault in open_faults(evaluation):
        if shuts_mains(evaluation.plan, fault) and not waits_for_live_retest(evaluation, fault):
            why = fault.words or fault.part
            return Condition(id="faults", words=words, holds=False, go_to=fault.address or None, why=why)
    return Condition(id="faults", words=words, holds=True)


def _retested(evaluation: StepEvaluation) -> Condition:
    """After smoke, smell, hum or heat every dead step of the route is taken again."""
    hazard = evaluation.ledger.hazard
    words = "after smoke, smell, hum or heat every dead step was taken again"
    for step in evaluation.plan.steps if hazard else ():
        state = evaluation.steps[step.address]
        if step.supply is not Supply.none or state.status in (StepStatus.skipped, StepStatus.shut):
            continue
        before_live = step.position < _first_live(evaluation)
        if before_live and (not state.holds or (state.entry or 0) < hazard):
            return Condition(id="retest", words=words, holds=False, go_to=step.address, why="not taken again yet")
    return Condition(id="retest", words=words, holds=True)


def _first_live(evaluation: StepEvaluation) -> int:
    live = (step.position for step in evaluation.plan.steps if step.supply is not Supply.none)
    return next(live, len(evaluation.plan.steps))


def _not_held(evaluation: StepEvaluation) -> Condition:
    disposition = evaluation.ledger.disposition
    word = disposition.content.disposition if disposition else ""
    held = word in ("hold", "scrap", "spares or repair")
    why = say("it is set aside: {word}", word=word) if held else ""
    return Condition(id="held", words="the unit is not set aside", holds=not held, why=why)


def _caution(evaluation: StepEvaluation, supply: Supply) -> Condition:
    words = "the caution was read today, since the last repair"
    for stage in evaluation.plan.stages:
        if stage.supply is not supply:
            continue
        for caution in cautions_of(stage.cautions, supply):
            if not acknowledged(evaluation, caution):
                return Condition(
                    id="caution",
                    words=words,
                    holds=False,
                    go_to=caution,
                    why=say("{caution} is not read", caution=said_caution(evaluation.plan, caution)),
                )
    return Condition(id="caution", words=words, holds=True)


def cautions_of(cautions: tuple[str, ...], supply: Supply) -> tuple[str, ...]:
    """The cautions of a stage; a live one always has the engine's own."""
    if supply is Supply.none or MAINS_CAUTION in cautions:
        return cautions
    return (*cautions, MAINS_CAUTION)


def acknowledged(evaluation: StepEvaluation, caution: str) -> bool:
    """Whether whose hands are meant have read the caution today, and since the unit was last repaired or opened."""
    return any(
        name == caution
        and evaluation.by in ("", who)
        and is_todays(entry.at, evaluation.at)
        and entry.number > evaluation.ledger.disturbed
        for (name, who), entry in evaluation.ledger.cautions.items()
    )


def _meter(evaluation: StepEvaluation, supply: Supply) -> Condition:
    words = "a meter is in hand that is rated, proved today and in calibration"
    for step in evaluation.plan.steps:
        asked = step.supply is supply and step.function and evaluation.status(step) is not StepStatus.skipped
        if asked and not meters_for(evaluation, step):
            why = say("no meter for {function} is ready", function=step.function)
            return Condition(id="meter", words=words, holds=False, go_to=step.function, why=why)
    return Condition(id="meter", words=words, holds=True)
