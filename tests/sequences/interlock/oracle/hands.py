"""What hands, ohms, a wait and a sale must rest on: the way back, time that has passed, and all that was shown."""

import re
from collections.abc import Iterator

from tests.sequences.interlock.oracle.files import WAY_BACK, Step, alike
from tests.sequences.interlock.oracle.hazards import OldHazards
from tests.sequences.interlock.oracle.history import DISTURBED, LATELY, LEFT, History, happened, is_same_day, seconds
from tests.sequences.interlock.oracle.live import SHOWN_BEFORE_MAINS, Live
from tests.sequences.interlock.oracle.paths import pairs
from tests.sequences.interlock.oracle.typed import BAD, Told, is_far_off, unmetered, worth

WITHOUT_HANDS = ("wait", "compute")
"""Kinds of step at which nobody touches the unit; every other is by hand."""
WORKED = ("answer", "set-up", "repair", "opened", "event", "hazard")
LIMITERS = ("limiter", "limiter lamp", "limiter volts")
READ_BACK = ("live to what can be touched", "across outputs", "across reservoirs", "live to neutral past the switch")
"""what a way back reads wherever a design has it, beside the two pins of the plug"""
LIVE_SEARCH = 15 * 60.0
LEAST_WAIT = 30.0
"""seconds for any charge to go"""
A_TICK = 0.5
"""seconds by which two clocks may differ"""
CASE_CLOSED = ("feet", "finish", "handle", "knob", "rating plate")
"""parts at which nobody reaches into the case; of any other that no drawing shows, nobody can say so"""
PLUG_PINS = re.compile(r"(plug\.\w+, \S+)|(\S+, plug\.\w+)")
SPAN = re.compile(r"([0-9.]+) (s|min|h)")


class Hands:
    """The guard of whoever lays hands on the unit."""

    def __init__(self, history: History) -> None:
        self.history, self.files, self.now = history, history.files, history.now

    # The way back --------------------------------------------------------------------------------------------------

    def answer_complaints(self, step: Step) -> Iterator[str]:
        """Of an answer at a dead step: by hand, or an insulation test."""
        if step.way_back:
            yield from self._in_order(step)
            left = set(step.set_up) - set(self.history.set_up(self.now))
            yield from (f"set-up: {one}" for one in sorted(left))
            if step.function and not self.history.is_on_volts(self.now):
                yield "set-up: the meter was not turned to volts with its leads off"
            yield from self._cautioned(step)
            if step.function and not Live(self.history).meter_is_fit(self.now.said.get("meter", ""), step.function):
                yield "meter: low is proved by no meter that was proved"
        elif step.function == "insulation":
            if self.fed() and not self.was_gone_once(self.fed()):
                yield f"way back: an insulation test after entry {self.fed()}"
        elif step.kind not in WITHOUT_HANDS:
            yield from self.touch_complaints()
        if not step.way_back:
            yield from self.read_away(step)
        if not step.way_back and step.function and not self._is_in_hand(step):
            yield "meter: not in hand"

    def read_away(self, step: Step) -> Iterator[str]:
        """A failed reading of safety was a finding: who reads it again says why, or has it mended first."""
        given = self.history.answer(step.address)
        safety = {"earth continuity", "insulation", "polarity"} & step.shows
        if not safety or given is None or given.number in self.history.withdrawn:
            return
        facts = self.history.facts(given.number)
        failed = worth(given, given.files, facts) == BAD and is_far_off(given, given.files, facts)
        if failed and self.history.last(*DISTURBED) < given.number and not self.now.said.get("why", "").strip():
            yield f"why: {step.address} failed in entry {given.number}"

    def taken_back(self) -> Iterator[str]:
        """Nor is it taken back without a reason, nor anything that another person answered."""
        target = next((o for o in self.history.before if o.number == self.now.said["number"]), None)
        step = target.step if target is not None and target.kind == "answer" else None
        if target is None or step is None or self.now.said.get("why", "").strip():
            return
        if target.who != self.now.who:
            yield f"why: entry {target.number} is another person's"
        facts = self.history.facts(target.number)
        failed = worth(target, target.files, facts) == BAD and is_far_off(target, target.files, facts)
        if failed and {"earth continuity", "insulation", "polarity"} & step.shows:
            yield f"why: entry {target.number} is taken back without a reason"

    def _cautioned(self, step: Step) -> Iterator[str]:
        """Whatever comes after the plug is out has its caution read that day."""
        if "plug out" in step.shows:
            return
        for caution in self.files.sequences[step.stage].get("cautions", ()):
            read = [one for one in self.history.before if one.kind == "caution" and one.said["caution"] == caution]
            if not any(is_same_day(one.at, self.now.at) for one in read):
                yield f"caution: {caution}"

    def touch_complaints(self) -> Iterator[str]:
        """Of every way to lay hands on a unit: an answer by hand, a repair, an opening, a cut through its cord."""
        since = max(self.fed(), self.charged(), self._still_high())
        if since and not self.was_gone(since):
            yield f"way back: hands after entry {since}"
        opened = [one for one in self.history.before if one.kind == "opened" and "enclosure" in one.said["opened"]]
        looks = self.now.kind == "opened" or not opened or opened[-1].number < since
        if not looks:
            yield from self.reservoir_complaints()

    def reservoir_complaints(self) -> Iterator[str]:
        """What may hold charge in the case reads low since power was last on, before hands go in."""
        since = max(self.fed(), self.charged(), self._still_high())
        for step in self.files.way_back:
            given = self.history.answer(step.address)
            inside = step.written.get("path") == "across reservoirs"
            if inside and (given is None or given.number < since or not self.history.done(given)):
                yield f"way back: {step.address} was not read"

    def repair_complaints(self) -> Iterator[str]:
        """Of a repair: as of every touch, and of what it reaches into."""
        yield from self.touch_complaints()
        part = str(self.now.said.get("part", ""))
        opened = {*self.now.said.get("opened", ()), *self.files.home(part)}
        outside = part.strip() in CASE_CLOSED or bool(PLUG_PINS.fullmatch(part))
        if "enclosure" in opened or not (opened or outside):
            yield from self.reservoir_complaints()

    def mains_complaints(self) -> Iterator[str]:
        """Pins that an insulation test joined, and what it charged, never meet a socket."""
        since = max(self.charged(), self._still_high())
        if since and not self.was_gone_once(since):
            yield f"way back: mains after the charge of entry {since}"

    def search_complaints(self) -> Iterator[str]:
        """Live readings beside the route go on for a quarter of an hour, then the plug comes out."""
        out = [self.history.answer(step.address) for step in self.files.way_back if "plug out" in step.shows]
        ended = max((one.number for one in out if one is not None and self.history.good(one)), default=0)
        probes = [one for one in self.history.before if one.kind == "note" and self._feeds(one) and one.number > ended]
        if probes and not 0 <= seconds(probes[0].at, self.now.at) <= LIVE_SEARCH:
            yield "search: mains was on for a quarter of an hour of it"

    def fed(self) -> int:
        """The last thing after which mains was on it, withdrawn or not."""
        return max((one.number for one in self.history.before if self._feeds(one)), default=0)

    def _feeds(self, told: Told) -> bool:
        probed = told.said.get("probed", {})
        if happened(told) == LEFT:
            return True
        if told.kind == "hazard":
            return bool(self.files.facts["mains fed"])
        if told.kind == "note":
            return probed.get("supply", "none") != "none"
        if told.kind == "answer" and told.step is not None and told.step.written.get("fact") in LIMITERS:
            return False  # asked before anything is plugged in
        return told.kind in ("answer", "set-up") and told.step is not None and told.step.live

    def charged(self) -> int:
        """The last insulation test, withdrawn or not, and the last word that it was under power lately."""
        tests = [one for one in self.history.before if one.kind == "answer" and one.step is not None]
        numbers = [one.number for one in tests if one.step.function == "insulation"]
        return max([*numbers, *(one.number for one in self.history.before if happened(one) == LATELY)], default=0)

    def _still_high(self) -> int:
        """The last voltage of a way back that was not low, withdrawn or not."""
        back = [o for o in self.history.before if o.kind == "answer" and o.step is not None and o.step.way_back]
        return max((one.number for one in back if one.step.function and self.history.was_bad(one)), default=0)

    def _path(self) -> list[Step]:
        """The steps back that this unit has; what its design asks for is not talked away."""
        designed = self.files.facts
        left_out = self.history.is_left_out
        back = [step for step in self.files.way_back if step.written.get("path") != "across reservoirs"]
        return [step for step in back if not left_out(step) or not left_out(step, dict(designed))]

    def _is_whole(self) -> bool:
        """Whether the file has a step for each role and each place that this design is read at, and ends with work."""
        back = self.files.way_back
        walked = {step.written.get("path") for step in back if "when" not in step.written}
        asked = {path for path in READ_BACK if pairs(self.files, path)}
        proved = bool(back) and back[-1].kind == "work"
        return proved and asked <= walked and all(self.files.showing(role) for role in WAY_BACK)

    def was_gone(self, since: int) -> bool:
        """Whether every step back was done well since then, one after the other."""
        for step in self._path():
            given = self.history.answer(step.address)
            if given is None or given.number < since or not self.history.done(given):
                return False
            since = given.number
        return self._is_whole()

    def was_gone_once(self, since: int) -> bool:
        """Whether it was gone at any time since then, whatever was begun later."""
        for step in self._path():
            good = [o.number for o in self.history.answers(step.address) if o.number > since and self.history.done(o)]
            if not good:
                return False
            since = good[0]
        return self._is_whole()

    def _in_order(self, step: Step) -> Iterator[str]:
        since = max(self.fed(), self.charged(), self._still_high())
        for before in self._path():
            if before.address == step.address:
                return
            given = self.history.answer(before.address)
            if given is None or given.number < since or not self.history.done(given):
                yield f"way back: {before.address} comes first"
                return

    def _is_in_hand(self, step: Step) -> bool:
        name = self.now.said.get("meter", "")
        taken = [one for one in self.history.before if one.kind == "meter" and one.said["meter"] == name]
        has_it = step.function in self.files.meters.get(name, {}).get("functions", {})
        return has_it and bool(taken) and is_same_day(taken[-1].at, self.now.at)

    # A wait, and a farewell ----------------------------------------------------------------------------------------

    def wait_complaints(self, step: Step) -> Iterator[str]:
        """Measured between entries: since the last thing done to the unit, whatever a clock on a page said."""
        if step.written["time"] == "from wiring":
            yield from self._waited(LEAST_WAIT)
            return
        number, unit = SPAN.fullmatch(step.written["time"]).groups()
        yield from self._waited(float(number) * {"s": 1, "min": 60, "h": 3600}[unit])

    def _waited(self, needed: float) -> Iterator[str]:
        mine = ("answer", self.now.address)
        worked = [one for one in self.history.before if one.kind in WORKED and (one.kind, one.address) != mine]
        since = (worked or self.history.before[:1])[-1:]
        if not since or seconds(since[0].at, self.now.at) < needed - A_TICK:
            yield "wait: too short"

    def sale_complaints(self) -> Iterator[str]:
        """Nothing mains-fed leaves half tested, with a fault open, or live."""
        live = Live(self.history)
        yield from live.construction()
        yield from live.faults(for_sale=True)
        yield from (f"sale: entry {number} found {one['hazard']}" for number, one in OldHazards(self.history).open())
        if not self.files.tester and self.files.facts["mains fed"]:
            yield "sale: no insulation test"
        for role in SHOWN_BEFORE_MAINS if self.files.facts["mains fed"] else ():
            for step in self.files.showing(role):
                if not self.history.is_left_out(step) and not self.history.done(self.history.answer(step.address)):
                    yield f"sale: {step.address} is not good"
        for step in self.files.steps:
            untaken = step.live and step.kind != "probe" and self.history.answer(step.address) is None
            if untaken and not self.history.is_left_out(step) and not unmetered(self.files, step):
                yield f"sale: {step.address} was never done"
        yield from self.touch_complaints()


QUICK = {"caution": 3, "live": 2, "charge": 30}
"""seconds that reading a caution, anything with mains on, and letting a charge go take at least; a line takes one"""


def haste_complaints(history: History) -> Iterator[str]:
    """Of whatever comes sooner after the entry before than a person looks and does."""
    now, step = history.now, history.now.step
    if not history.before or (now.kind == "answer" and step is not None and step.kind == "wait"):
        return
    probed = now.said.get("probed", {}).get("supply", "none") if now.kind == "note" else "none"
    fed = probed != "none" or (now.kind in ("answer", "set-up") and step is not None and step.live)
    needed = QUICK["live"] if fed else 0
    if now.kind == "caution":
        needed = QUICK["caution"]
    elif now.kind == "false-alarm":
        needed = len(now.said["looked"])
    elif now.kind == "set-up":
        needed = max(needed, len(now.said["items"]))
    elif now.kind == "answer":
        lines = len(now.said.get("done") or now.said.get("marks") or "1")
        charge = step is not None and "discharged" in step.shows
        needed = max(needed, lines, QUICK["charge"] if charge else 0)
    if 0 <= seconds(history.before[-1].at, now.at) < needed - A_TICK:
        yield f"haste: {needed} s are needed"


IMPOSSIBLE = ("cord area", "cord length", "plug fuse rating")


def fact_complaints(history: History) -> Iterator[str]:
    """Of facts that can be of no unit, or that would ask for less care than its design does."""
    for name, said in history.now.said.get("facts", {}).items():
        number = said if isinstance(said, float) else 1.0
        if name in IMPOSSIBLE and not 0 < number < 1e3:
            yield f"fact: {name} cannot be {said}"
        designed = history.files.facts.get(name)
        if name in ("surge suppressor", "heating") and alike(said, True) and not designed:
            yield f"fact: {name} would ask for less"
