"""What a live answer must rest on: every condition of DESIGN, section 6, worked out from files and plain words.

Each complaint begins with the condition that it is about: "visual: ...".
"""

import re
from collections.abc import Iterator, Mapping
from datetime import date

from tests.sequences.interlock.oracle.files import Step
from tests.sequences.interlock.oracle.hazards import OldHazards
from tests.sequences.interlock.oracle.history import DISTURBED, History, befell, is_same_day, seconds
from tests.sequences.interlock.oracle.substance import unmet
from tests.sequences.interlock.oracle.supervised import supervised
from tests.sequences.interlock.oracle.typed import BAD, Told, is_far_above, is_far_off, quantity, unmetered, worth

SHOWN_BEFORE_MAINS = ("visual", "plug", "polarity", "earth continuity", "primary continuity", "insulation")
CATEGORY = re.compile(r"CAT (?P<number>I+V?) (?P<volts>[0-9]+) V")
EXTRA_LOW = 25.0
"""V for a hand"""
AT_THE_PLUG = ("mains voltage", "AC current", "power", "frequency")


class Live:
    """The conditions of a live step over one history."""

    def __init__(self, history: History) -> None:
        self.history, self.files, self.now = history, history.files, history.now

    def complaints(self, supply: str, *, prepared: bool = True) -> Iterator[str]:
        """Why nothing may be done on that supply now; `prepared` asks for the caution and the meters too."""
        yield from self.construction()
        for role in self._roles():
            if role == "insulation" and not self.files.tester:
                yield from supervised(self.history, supply, SHOWN_BEFORE_MAINS)
            else:
                yield from (f"{role}: {why}" for why in self._shown(role))
        if supply == "full":
            yield from self._limited_first()
        yield from self.faults()
        yield from self._cause_found()
        yield from OldHazards(self.history).unasked()
        yield from OldHazards(self.history).complaints("mains")
        yield from self._retested()
        yield from self._set_aside()
        yield from self._hands()
        if prepared:
            yield from self._cautioned()
            yield from self._metered(supply)

    def _roles(self) -> Iterator[str]:
        facts = self.history.facts()
        yield from (role for role in SHOWN_BEFORE_MAINS if role != "earth continuity" or self.history.is_class_one())
        if facts["voltage selector"]:
            yield "selector"
        if facts["internal fuse"]:
            yield "internal fuse"
        if any(befell(one) not in ("", "fall") for one in self.history.before):
            yield "dry"

    def construction(self) -> Iterator[str]:
        facts = self.history.facts()
        if facts["class"] not in ("I", "II"):
            yield f"class: {facts['class']}"
        if str(self.files.design.get("design known", "true")) == "false":
            yield "design: nobody knows it"
        if facts["live chassis"] or self.files.touched_by_mains:
            yield "chassis: live"
        cores = str(facts.get("cord cores", 3))
        if cores == "2" and self.history.is_class_one():
            yield "cord: two cores on bare metal"
        yield from self._of_this_place(facts)
        if self.plugless():
            yield "plug there: cut off and destroyed"

    def _of_this_place(self, facts: Mapping[str, object]) -> Iterator[str]:
        """Mains here is neither too much nor too little for its plate or its setting; iron is for this frequency."""
        supply = self.files.design.get("supply")
        if supply is None:
            return
        stands_at = str(facts.get("selector setting", next(iter(self.files.positions), supply["voltage"])))
        lower, other_frequency = (self._accepted(one) for one in ("a 220 V rating", "iron for 60 Hz"))
        if (wrong := self.files.bears(stands_at)) and (self.files.burns(stands_at) or not lower):
            yield f"setting: {stands_at} is {wrong}"
        here, plate = self.files.limits["mains"]["frequency"]["value"], supply.get("frequency", "50 Hz")
        iron = any(kind == "winding" for kind, _ in self.files.parts.values())
        if float(here) < 0.98 * quantity(plate) and iron and not other_frequency:
            yield f"frequency: its plate says {plate}"

    def _accepted(self, what: str) -> bool:
        """Whether a supervisor accepted it of this unit, in words that begin so."""
        return any(one.kind == "acceptance" and one.said["what"].startswith(what) for one in self.history.before)

    def plugless(self) -> bool:
        """Whether its plug was destroyed, and nobody has put that right since."""
        return self.history.last("plug-destroyed") > self.history.last("plug-kept")

    # What was shown dead -------------------------------------------------------------------------------------------

    def _shown(self, role: str) -> Iterator[str]:
        steps = [step for step in self.files.showing(role) if not self.history.is_left_out(step)]
        if not steps:
            yield "nothing is fit to show it"
        for step in steps:
            if not self.history.waits_for_an_answer(step):
                yield from (f"{step.address}: {why}" for why in self._stands(step, role))
        yield from unmet(self.history, role, steps)
        if role == "polarity":
            yield from self._lead_by_itself()

    def _stands(self, step: Step, role: str) -> Iterator[str]:
        given = self.history.answer(step.address)
        if given is None or not self.history.good(given):
            yield "no good answer"
            return
        since = self.history.moved(step, role)
        if given.number < since:
            yield f"older than entry {since}"
        if self._is_copied(given):
            yield "copied from what a tester kept"
        if self._is_aged(given):
            yield "too many days ago"
        yield from self.history.leads_complaints(given)
        if role in ("insulation", "primary continuity"):
            left = set(step.set_up) - set(self.history.set_up(given))
            yield from (f"not set up: {one}" for one in sorted(left))
        if role == "insulation":
            yield from self._tested_well(given)

    def _is_copied(self, given: Told) -> bool:
        """Whether nobody read it here, and no supervisor has accepted since that nobody did."""
        accepted = [one for one in self.history.before if one.kind == "acceptance"]
        of_testers = [one.number for one in accepted if one.said["what"] == "readings that a tester kept"]
        return given.said.get("source") == "transcribed" and max(of_testers, default=0) < given.number

    def _is_aged(self, given: Told) -> bool:
        return not 0 <= seconds(given.at, self.now.at) <= self.files.days * 86400

    def _tested_well(self, given: Told) -> Iterator[str]:
        if f"tester at {self.history.test_voltage():g} V" not in self.history.set_up(given):
            yield "not at its test voltage"
        primary = [self.history.answer(one.address) for one in self.files.showing("primary continuity")]
        shown = [one for one in primary if one is not None and self.history.good(one) and not self._is_copied(one)]
        if not any(one.number < given.number for one in shown):
            yield "the primary was not shown before it"

    def _lead_by_itself(self) -> Iterator[str]:
        """Cores crossed in a lead that comes off are seen by no reading through a transformer."""
        asked = [step for step in self.files.steps if "lead" in step.written.get("what", ())]
        if not asked or not self.files.facts["detachable lead"]:
            return
        for letter in "LNE":
            pins = f"{asked[0].address}/plug.{letter}-inlet.{letter}"
            if not self.history.done(self.history.answer(pins)):
                yield f"{pins}: not read"

    def mains_here(self, step: Step) -> Iterator[str]:
        """What is read behind a mains that is out of range says nothing of the unit."""
        if not step.function or "mains" in step.shows:
            return
        for one in self.files.showing("mains"):
            given = self.history.answer(one.address) if one.stage == step.stage else None
            before = [other.address for other in self.files.steps]
            comes_first = one.address in before and step.address in before[before.index(one.address) :]
            if given is not None and comes_first and given.number not in self.history.withdrawn:
                yield from ["mains here: out of range"] if self.history.was_bad(given) else []

    def bare_probes(self, step: Step) -> Iterator[str]:
        """An output above extra-low voltage is read through shrouded leads that were put on with the item off."""
        rated = [part["rated"] for kind, part in self.files.parts.values() if kind == "winding"]
        wound = [one.split(" at ")[0].split(" off ")[0] for one in rated if " supply" not in one]
        highest = max((quantity(one) for one in wound), default=0.0)
        shrouded = any("shrouded leads" in one for one in self.history.set_up(self.now))
        if step.kind == "probe" and highest > EXTRA_LOW and not shrouded:
            yield "bare probes: its outputs may be no extra-low voltage"
        probed = step.kind == "probe" or bool(step.at)
        if probed and step.function in ("AC voltage", "DC voltage") and not self.history.is_on_volts(self.now):
            yield "set-up: the meter was not turned to volts with its leads off"

    # Limited before full -------------------------------------------------------------------------------------------

    def _limited_first(self) -> Iterator[str]:
        given = [self.history.answer(step.address) for step in self.files.showing("limited power")]
        kind = self.files.design["supply"].get("kind of load", "") if "supply" in self.files.design else ""
        if not given and kind in ("heater", "universal motor"):
            yield from self._element(kind)
        elif not given:
            yield "limited power: nothing is fit to show it"
        disturbed = self.history.last_disturbance()
        for one in given:
            if one is None or not self.history.good(one):
                yield "limited power: no good first power"
            elif one.number < disturbed:
                yield "limited power: before the last repair or mishap"
            elif self._is_aged(one):
                yield "limited power: too many days ago"
            elif self._limited_by(self.now.number) != self._limited_by(one.number):
                yield "limited power: through another limiter"

    def _element(self, kind: str) -> Iterator[str]:
        """What no lamp can judge goes on mains by what its element reads: a heater's plate within a fifth."""
        supply = self.files.design["supply"]
        read = [self.history.answer(step.address) for step in self.files.showing("primary continuity")]
        for one in read if kind == "heater" else ():
            ohms = quantity(one.said["typed"]) if one is not None else 0.0
            if not ohms or not 0.79 <= quantity(supply["voltage"]) ** 2 / ohms / quantity(supply["power"]) <= 1.16:
                yield "element: it is not that of its plate"

    def unlimited(self, step: Step) -> Iterator[str]:
        """Nothing is plugged in on limited supply before it is said what limits."""
        facts = self.history.facts()
        sort, watts, volts = (str(facts.get(name) or "") for name in ("limiter", "limiter lamp", "limiter volts"))
        named = (sort == "lamp" and watts) or (sort == "variable transformer" and volts)
        asked = any(one.written.get("fact") == "limiter" for one in self.files.steps)
        if (
            step.supply == "limited"
            and asked
            and not named
            and not str(step.written.get("fact", "")).startswith("limiter")
        ):
            yield "limiter: nobody said what limits"

    def _limited_by(self, until: int) -> list[object]:
        """What was said of the limiter before that entry."""
        facts = self.history.facts(until)
        return [facts.get(name) for name in ("limiter", "limiter lamp", "limiter volts")]

    # Faults --------------------------------------------------------------------------------------------------------

    def faults(self, *, for_sale: bool = False) -> Iterator[str]:
        """Those that keep mains away, or also those that wait for mains to be looked at again."""
        repairs = [one for one in self.history.before if one.kind == "repair"]
        for number, part, address, grave in self._found():
            if not for_sale and self._waits_under_power(number, address):
                continue
            after = [one for one in repairs if one.number > number]
            mended = [one for one in after if self._mends(one, number, part)]
            if any(one.kind == "hazard-cleared" and one.said["fault"] == number for one in self.history.before):
                continue  # what is left of it, hazards.py says
            if not self._keeps_mains_away(part, grave):
                continue
            if not mended:
                yield f"faults: entry {number} is open"
            elif not self._seen_again(address, mended[0].number):
                yield f"faults: {address} was not taken again since its repair"

    def unmended(self) -> Iterator[tuple[int, str, str, str]]:
        """Every fault after which no repair or clearing came: number, part, address, how grave."""
        ended = [one for one in self.history.before if one.kind in ("repair", "hazard-cleared")]
        for number, part, address, grave in self._found():
            by = [one for one in ended if one.number > number]
            if not any(one.kind == "hazard-cleared" or self._mends(one, number, part) for one in by):
                yield number, part, address, grave

    def _found(self) -> Iterator[tuple[int, str, str, str]]:
        """Every fault that was told of, and every one that an answer names: number, part, address, how grave."""
        for told in self.history.before:
            if told.kind == "hazard" and told.number not in self.history.false_alarms:
                yield told.number, "", "", "do not use"
            elif told.number in self._drew_too_much():
                yield told.number, "primary", told.address, "do not use"
            elif told.kind == "fault":
                yield told.number, told.said.get("part", ""), told.address, told.said.get("severity", "mend")
            elif told.kind == "answer":
                for part, grave in _named(told, self.history):
                    if self._still_counts(told, grave):
                        yield told.number, part, told.address, grave

    def _waits_under_power(self, number: int, address: str) -> bool:
        """Whether it was read under power and taken back: only power can show that it was a slip."""
        step = self.files.step(address)
        slip = number in self.history.withdrawn and number not in self._drew_too_much()
        read = any("typed" in one.said for one in self.history.before if one.number == number)
        return slip and read and step is not None and step.live

    def _still_counts(self, told: Told, grave: str) -> bool:
        """A second look closes it, or taking it back where it is no danger; smelt or seen under power it stays."""
        step = told.step
        if step is not None and step.live and "typed" not in told.said:
            return True
        later = [one for one in self.history.answers(told.address) if one.number > told.number]
        gone = told.number in self.history.withdrawn and grave != "do not use"
        return not gone and all(one.number in self.history.withdrawn for one in later)

    @staticmethod
    def _mends(repair: Told, number: int, part: str) -> bool:
        named = repair.said.get("fault")
        return named == number if named is not None else bool(part) and repair.said.get("part") == part

    def _keeps_mains_away(self, part: str, grave: str) -> bool:
        return grave == "do not use" or part not in self.files.parts or part in self.files.on_the_mains_side

    def _seen_again(self, address: str, since: int) -> bool:
        step = self.files.step(address)
        if step is None or step.live or self.history.is_left_out(step):
            return True
        given = self.history.answers(address)
        return any(one.number > since and self.history.done(one) for one in given)

    def _drew_too_much(self) -> list[int]:
        """Readings under power far above what a sound one draws, taken back or not."""
        found = []
        for told in self.history.before:
            step = told.step if told.kind == "answer" else None
            drawn = step is not None and step.live and step.function in ("AC current", "power")
            if drawn and is_far_above(told, told.files, self.history.facts(told.number)):
                found.append(told.number)
        return found

    def _cause_found(self) -> Iterator[str]:
        """After too much current or a trip a part that is in its circuit was mended, before it gets power again."""
        tripped = [o.number for o in self.history.before if o.kind == "hazard" and "tripped" in o.said["hazard"]]
        since = max([0, *tripped, *self._drew_too_much()])
        mended = [o for o in self.history.before if o.kind == "repair" and o.number > since]
        if since and not any(self._is_in_its_circuit(str(one.said.get("part", ""))) for one in mended):
            yield f"cause: nobody has found why of entry {since}"

    def _is_in_its_circuit(self, part: str) -> bool:
        return part in self.files.parts or "," in part

    def _retested(self) -> Iterator[str]:
        """After a hazard, and again after its repair, every dead step that comes before mains is taken again."""
        noticed = {one.number for one in self.history.before if one.kind == "hazard"}
        hazards = (noticed - self.history.false_alarms) | set(self._drew_too_much())
        repairs = [o.number for o in self.history.before if o.kind == "repair" and o.said.get("fault") in hazards]
        since = max([0, *hazards, *repairs])
        first_live = next((place for place, step in enumerate(self.files.steps) if step.live), len(self.files.steps))
        for step in self.files.steps[:first_live] if since else ():
            no_tester = step.function == "insulation" and not self.files.tester
            if no_tester or step.kind == "probe" or self.history.is_left_out(step):
                continue
            given = self.history.answer(step.address)
            late = given is not None and given.number > since and given.number not in self.history.withdrawn
            if not late and not self.history.waits_for_an_answer(step):
                yield f"retest: {step.address} was not taken again"

    def _set_aside(self) -> Iterator[str]:
        dispositions = [one.said["disposition"] for one in self.history.before if one.kind == "disposition"]
        if dispositions and dispositions[-1] in ("hold", "scrap", "spares or repair"):
            yield f"held: set aside as {dispositions[-1]}"

    def _hands(self) -> Iterator[str]:
        if not self.files.may(self.now.who, "live work", self.now.at[:10]):
            yield f"hands: {self.now.who} does no live work"

    # The caution and the meters ------------------------------------------------------------------------------------

    def _cautioned(self) -> Iterator[str]:
        disturbed = self.history.last(*DISTURBED)
        read = [o for o in self.history.before if o.kind == "caution" and o.said["caution"] == "mains-live"]
        mine = [one for one in read if one.who == self.now.who]
        if not any(one.number > disturbed and is_same_day(one.at, self.now.at) for one in mine):
            yield "caution: not read"

    def _metered(self, supply: str) -> Iterator[str]:
        """Every function that is read on this supply has a meter in hand before mains comes on."""
        read = (step for step in self.files.steps if step.supply == supply and step.function)
        for function in sorted({step.function for step in read if not unmetered(self.files, step)}):
            able = [name for name, one in self.files.meters.items() if function in one["functions"]]
            if not any(self.meter_is_fit(name, function) for name in able):
                yield f"meter: none is ready for {function}"
        name, step = self.now.said.get("meter"), self.now.step
        if name and step is not None and step.function and not self.meter_is_fit(name, step.function):
            yield f"meter: {name} is not fit"

    def meter_is_fit(self, name: str, function: str) -> bool:
        """In hand today, proved, rated for the circuit, in calibration or accepted; at the plug, a plug-in meter."""
        taken = [one for one in self.history.before if one.kind == "meter" and one.said["meter"] == name]
        if not taken or not is_same_day(taken[-1].at, self.now.at) or name not in self.files.meters:
            return False
        record, said = self.files.meters[name], taken[-1].said
        overdue = date.fromisoformat(self.now.at[:10]) > date.fromisoformat(record["due"])
        at_plug = function not in AT_THE_PLUG or "mains voltage" in record["functions"]
        proved = is_same_day(said.get("proved", ""), self.now.at)
        return (
            proved and at_plug and _is_rated(record["category"]) and (not overdue or bool(said.get("overdue_accepted")))
        )


def _is_rated(categories: list[str]) -> bool:
    """CAT II or better, at 300 V to earth at least."""
    found = [match for one in categories if (match := CATEGORY.fullmatch(one))]
    return any(match["number"] != "I" and float(match["volts"]) >= 300 for match in found)


def _named(told: Told, history: History) -> Iterator[tuple[str, str]]:
    """The part and gravity of each fault that an answer names by being bad, at the step as it was asked."""
    step = told.step
    facts = history.facts(told.number)
    if step is None or worth(told, told.files, facts) != BAD:
        return
    if "typed" in told.said and not is_far_off(told, told.files, facts):
        return
    marks = told.said.get("marks", {})
    bad = [point for point in step.written.get("checkpoints", ()) if marks.get(point["check"]) == "bad"]
    said = str(told.said.get("answer", "")).casefold()
    bad += [one for one in step.written.get("answers", ()) if one["answer"].casefold() == said]
    bad += [step.written] if "fault" in step.written and not bad else []
    for one in bad:
        if one.get("grave") != "note" and ("fault" in one or step.kind != "measure"):
            yield one.get("fault", {}).get("part", ""), one.get("grave", "mend")
